"""The outline of a back, a front or a half of an open front from its ledger."""

from collections.abc import Sequence
from dataclasses import replace

from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Event, Piece
from workshop.core.making.roles import BOTH_EDGES, FRONT, Edge, other
from workshop.pictures.edgeline import EdgeLine
from workshop.pictures.outline import Outline, Point, closed, worth_drawing
from workshop.pictures.panel_measures import panel_measures
from workshop.pictures.rows import (
    AT_NECK,
    AT_ONCE,
    edging_cm,
    levels,
    outward,
    short_rows,
    shoulders_of,
)
from workshop.pictures.shape import Shape, even_out, visible


def panel(piece: Piece, pieces: Sequence[Piece], cloth: Cloth) -> Outline:
    """Outline of a back, a front or a half of an open front, from the hem to the shoulders."""
    shape = Shape(piece, cloth, piece.outer)
    body = piece.parent
    start = visible(piece, piece.cast_on or piece.widest, len(shape.outer))
    if body is None:
        shape.begin(start)
    else:
        _body(shape, body, pieces, start)
    parts = shoulders_of(piece, pieces)
    walk(shape, piece, ends_here=not parts)
    sides = {edge: _part(shape, edge, part) for edge, part in parts.items()}
    necks = {edge: neck for edge, (neck, _) in sides.items()}
    if len(shape.outer) == 2:
        even_out(shape.lines, piece.begins)
        even_out(necks, piece.begins)
    top = max((y for _, y in sides.values()), default=shape.y)
    points = _around(shape, necks, top)
    return Outline(
        piece.name,
        closed(points),
        worth_drawing(panel_measures(shape, necks, top)),
        edging_cm=edging_cm(shape.rows, cloth),
        darts=_dart_lines(shape),
    )


def _body(shape: Shape, body: Piece, pieces: Sequence[Piece], start: float) -> None:
    """The part of a body in one piece that lies below a panel. Its widths are reckoned down from the panel."""
    panels = [p for p in pieces if p.parent is body]
    share = shape.piece.cast_on / max(1, sum(p.cast_on for p in panels))
    moves: list[tuple[float, Edge, float, Event]] = []
    for level in levels(body, 0.0, shape.cloth):
        if shape.piece.role is FRONT:
            shape.darts += [(level.y, e) for e in short_rows(level.row) if e.line == "dart"]
        for event in level.row.events:
            moves += [(level.y, e, s, event) for e in shape.outer if (s := _body_move(event, e, share, shape.outer))]
            moves += [(level.y, e, s, event) for e in BOTH_EDGES if e not in shape.outer and (s := _at_front(event, e))]
        shape.y = level.y + level.height
    height, shape.y = shape.y, 0.0
    edges = shape.piece.edge_stitches * len(shape.outer)
    shape.begin(start + edges - sum(stitches for _, _, stitches, _ in moves))
    for y, edge, stitches, event in moves:
        shape.move(edge, stitches, y, bound=event.do in AT_ONCE, sharp=event.where in ("across", "underarm"))
    for level in levels(body, 0.0, shape.cloth) if body.panels else ():
        shape.widen(body, level.row.row, level.y, level.height, shape.piece.name)
    shape.y = height
    shape.rows += body.rows
    shape.underarm = height
    for edge in shape.outer:
        shape.move(edge, -shape.piece.edge_stitches, height, sharp=True)


def _body_move(event: Event, edge: Edge, share: float, outer: tuple[Edge, ...]) -> float:
    """Stitches that one side of a panel moves by where the whole body has an event.

    At a side marker one half of the stitches is the front's and one the back's; an underarm is divided among
    four edges.
    """
    if event.do == "short-row" or event.where in AT_NECK:
        return 0.0
    if event.where in ("both", edge):
        return outward(event) * event.stitches / 2
    if event.where == "underarm":
        return outward(event) * event.stitches / 4
    return outward(event) * event.stitches * share / len(outer) if event.where == "across" else 0.0


def _at_front(event: Event, edge: Edge) -> float:
    """Stitches that the centre-front edge of a half moves by; ``edge`` is the one that is not its side."""
    mine = "neck-right" if edge == "left" else "neck-left"
    return outward(event) * event.stitches if event.where == mine and event.do != "short-row" else 0.0


def walk(shape: Shape, piece: Piece, ends_here: bool) -> None:
    """Walk an undivided piece; where it divides, its last row only moves the outer edges."""
    marks = [m.after_row for m in piece.marks if m.what in ("underarm", "cap")]
    for level in levels(piece, shape.y, shape.cloth):
        divides = not ends_here and level.row is piece.rows[-1]
        for event in level.row.events:
            if event.do == "short-row":
                _end_short(shape, event, level.y + level.height)
            elif not (divides and (event.do == "hold" or event.where == "centre")):
                _happen(shape, event, level.y)
        if piece.panels and len(shape.outer) == 2:
            shape.widen(piece, level.row.row, level.y, level.height)
        shape.y = level.y + level.height
        if level.row.row in marks:
            shape.underarm = shape.y
    shape.rows += piece.rows


def _end_short(shape: Shape, event: Event, y: float) -> None:
    """Stitches left unworked by a row that ends at height ``y``: a step of a shoulder as if bound off in the next row.

    In a dart they are a turn.
    """
    if event.line:
        shape.darts += [(y, event)] if event.line == "dart" else []
        return
    for edge in BOTH_EDGES:
        if event.where in (edge, "both") and event.stitches > shape.waiting[edge]:
            shape.move(edge, shape.waiting[edge] - event.stitches, y, bound=True)
            shape.waiting[edge] = event.stitches


def _happen(shape: Shape, event: Event, y: float) -> None:
    """Move the edges by what one event of the piece itself does."""
    sign, bound = outward(event), event.do in AT_ONCE
    if event.where in ("left", "right", "both"):
        for edge in BOTH_EDGES:
            if event.where in (edge, "both"):
                shape.move(edge, sign * event.stitches, y, bound=bound)
    elif len(shape.outer) == 1:
        edge = other(shape.outer[0]) if event.where in AT_NECK else shape.outer[0]
        shape.move(edge, sign * event.stitches, y, bound=bound, sharp=event.where == "across")
    elif event.where in ("across", "underarm"):
        for edge in BOTH_EDGES:
            shape.move(edge, sign * event.stitches / 2, y, bound=bound, sharp=True)


def _part(shape: Shape, edge: Edge, part: Piece) -> tuple[EdgeLine, float]:
    """Walk one side above the dividing row: its outer edge goes on, its neck edge is new."""
    base = shape.y - shape.cloth.along_cm(1)
    stitches = visible(part, part.cast_on, 1) - shape.waiting[edge]
    inner = shape.lines[edge].x - shape.sign(edge) * shape.cloth.across_cm(stitches)
    neck = shape.line((inner, base), corner=True)
    side = replace(shape, piece=part, outer=part.outer, lines={edge: shape.lines[edge], other(edge): neck}, rows=[])
    walk(side, part, ends_here=True)
    return neck, side.y


def _around(shape: Shape, necks: dict[Edge, EdgeLine], top: float) -> list[Point]:
    """Up the picture's right edge, down into the neck and up again, and down the left edge."""
    right: Edge = shape.piece.begins
    left = other(right)
    ends: dict[Edge, float | None] = {e: necks[e].x if necks else None for e in BOTH_EDGES}
    if len(shape.outer) == 1:
        ends[shape.outer[0]] = shape.lines[other(shape.outer[0])].x
    points = shape.lines[right].points(top, ends[right])
    if necks and abs(necks[right].x - necks[left].x) > shape.cloth.across_cm(0.5):
        points += [*reversed(necks[right].points(top)), *necks[left].points(top)]
    return [*points, *reversed(shape.lines[left].points(top, ends[left]))]


def _dart_lines(shape: Shape) -> tuple[tuple[Point, Point], ...]:
    """A line for each bust dart, from its outermost turn to its innermost."""
    found = []
    for edge in BOTH_EDGES:
        turns = [(y, e.stitches) for y, e in shape.darts if e.where in (edge, "both")]
        if turns:
            y, x = turns[0][0], shape.lines[edge].at(turns[0][0])
            inwards = -shape.sign(edge) * shape.cloth.across_cm(1)
            counts = [stitches for _, stitches in turns]
            found.append(((x + inwards * min(counts), y), (x + inwards * max(counts), y)))
    return tuple(found)
