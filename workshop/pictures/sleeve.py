"""Sleeves: outline and measurements, cuff at the bottom whichever way they were knitted."""

from collections.abc import Sequence

from workshop.core.making.centre_panels import wider_cm
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Piece
from workshop.core.making.roles import BOTH_EDGES, YOKES, other
from workshop.pictures.edgeline import EdgeLine, edge_at
from workshop.pictures.outline import Measure, Outline, across, along, closed, worth_drawing
from workshop.pictures.panel import walk
from workshop.pictures.rows import edging_cm
from workshop.pictures.shape import Shape, even_out, visible

BELOW_CAP_CM = 0.8
"""The line of the upper arm stands so far below the cap, where it can be told from the edge."""


def sleeve(piece: Piece, pieces: Sequence[Piece], cloth: Cloth) -> Outline:
    """Outline of a sleeve with its cap, laid open: widths are the whole way around."""
    if piece.parent:
        return _from_the_top(piece, cloth)
    above = [p for p in pieces if p.parent is piece]  # its cap or straight top, worked back and forth
    joined = any(p.role in YOKES for p in pieces)
    shape = Shape(piece, cloth, BOTH_EDGES)
    shape.begin(visible(piece, piece.cast_on or piece.widest, 2))
    walk(shape, piece, ends_here=not above and not joined)
    for part in above:
        walk(shape, part, ends_here=True)
    begins = [y for line in shape.lines.values() if (y := _cap_begins(line)) is not None]
    underarm = min(begins, default=None) if shape.underarm is None else shape.underarm
    even_out(shape.lines, piece.begins)
    right, left = shape.lines[piece.begins], shape.lines[other(piece.begins)]
    return Outline(
        piece.name,
        closed([*right.points(shape.y), *reversed(left.points(shape.y))]),
        worth_drawing(_measures(left, right, underarm, shape.y, cloth, "to underarm" if joined else "length")),
        edging_cm=edging_cm(piece.rows, cloth),
    )


def _cap_begins(line: EdgeLine) -> float | None:
    """Height of the first step inwards after the last one outwards; None where the top is straight."""
    begins = None
    for step in line.steps:
        if abs(step.after) > abs(step.before):
            begins = None
        elif begins is None and (step.bound or not step.sharp):
            begins = step.y
    return begins


def _measures(
    left: EdgeLine, right: EdgeLine, underarm: float | None, top: float, cloth: Cloth, whole: str
) -> list[Measure]:
    """Cuff, upper arm, lengths; with a cap also its height and its top."""
    found = [across("cuff", left.start, right.start, "below")]
    widest = max(abs(line.at(0.0)) for line in (left, right))
    widest = max(widest, *(abs(s.after) for line in (left, right) for s in line.steps), widest)
    if underarm is None:
        arm = across("upper arm", (left.x, top), (right.x, top), "above")
        return [*found, arm, along(whole, widest, 0.0, top, "right")]
    below, shown = underarm - cloth.along_cm(0.5), max(0.0, underarm - BELOW_CAP_CM)
    return [
        *found,
        across("upper arm", (left.at(below), shown), (right.at(below), shown), "inside"),
        across("top of the cap", (left.x, top), (right.x, top), "above"),
        along("to underarm", widest, 0.0, underarm, "right"),
        along("cap", widest, underarm, top, "right"),
        along("length", -widest, 0.0, top, "left"),
    ]


def _from_the_top(piece: Piece, cloth: Cloth) -> Outline:
    """A sleeve that grew downwards from a yoke, turned the right way up."""
    rows = piece.rows[::-1]
    widths = [cloth.across_cm(visible(piece, r.after, 2)) + wider_cm(piece, r.row) for r in rows]
    halves = [(width / 2, cloth.along_cm(1, r.fabric)) for width, r in zip(widths, rows, strict=True)]
    right = edge_at((halves[0][0], 0.0), cloth)
    top, left = right.through(halves), right.mirrored()
    return Outline(
        piece.name,
        closed([*right.points(top), *reversed(left.points(top))]),
        worth_drawing(_measures(left, right, None, top, cloth, "to underarm")),
        edging_cm=edging_cm(rows, cloth),
    )
