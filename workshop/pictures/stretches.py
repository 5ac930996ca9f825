"""Bands and stripes of a piece as they lie in its drawing, from its lower edge up."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Piece, Row
from workshop.core.making.roles import BODY, CAP, SHOULDER, SLEEVE_TOP, YOKES
from workshop.pictures.outline import Stretch


def stretches(piece: Piece, pieces: Sequence[Piece], cloth: Cloth, *, whole: bool = False) -> tuple[Stretch, ...]:
    """The bands and stripes of a drawn piece; ``whole``: of body and yoke, which are drawn as one."""
    order = list(dict.fromkeys(at.colour for p in pieces for at in p.stripes.values()))
    y, found = 0.0, []
    rows = [(cloth.rows_cm([row]), _kind(part, row)) for part, row in _upwards(piece, pieces, whole)]
    for (number, colour), run in groupby(rows, key=lambda one: one[1]):
        top = y + sum(height for height, _ in run)
        if number:
            found.append(Stretch(y, top, f"band {number}"))
        elif colour:
            found.append(Stretch(y, top, shade=order.index(colour)))
        y = top
    return tuple(found)


def _kind(piece: Piece, row: Row) -> tuple[int, str]:
    """The number of a row's band, and the colour of its stripe."""
    at = piece.stripes.get(row.row)
    return row.band, at.colour if at else ""


def _upwards(piece: Piece, pieces: Sequence[Piece], whole: bool) -> Iterator[tuple[Piece, Row]]:
    """The rows of a drawing from its lower edge up; none of those that lie inside a piece."""
    yokes = [p for p in pieces if p.role in YOKES]
    from_neck = next(iter(piece.lineage())).role in YOKES
    if whole:
        chain = [*yokes, piece] if from_neck else [piece, *yokes]
    elif from_neck:
        chain = [piece]
    else:
        over = next((p for p in pieces if p.parent is piece and p.role in (SHOULDER, CAP, SLEEVE_TOP)), None)
        chain = [*piece.lineage(), *([over] if over else [])]
    rows = [(part, row) for part in chain for row in part.rows_at_the_side()]
    return reversed(rows) if from_neck else iter(rows)


def body_of(pieces: Sequence[Piece]) -> Piece | None:
    """The body in one piece, where there is one."""
    return next((p for p in pieces if p.role is BODY), None)
