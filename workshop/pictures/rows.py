"""What a ledger's row does to the edges of a drawing: moves in stitches, heights, darts, unworked stitches."""

from collections.abc import Iterator, Sequence

from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Event, Piece, Row, edging_first
from workshop.core.making.roles import SHOULDER, Edge
from workshop.records import record

AT_NECK = ("neck-left", "neck-right", "centre")
AT_ONCE = ("bind-off", "cast-on", "hold", "join", "pick-up")


@record
class Level:
    """A row with the height at which it begins, and how high it is (0: it does not lengthen the edges)."""

    row: Row
    y: float
    height: float


def shoulders_of(piece: Piece, pieces: Sequence[Piece]) -> dict[Edge, Piece]:
    """The parts into which a piece divides at the neck, by their outer edge as worn."""
    return {p.side: p for p in pieces if p.parent is piece and p.role is SHOULDER and p.side}


def short_rows(row: Row) -> tuple[Event, ...]:
    """The short-row events of a row."""
    return tuple(e for e in row.events if e.do == "short-row")


def levels(piece: Piece, y: float, cloth: Cloth) -> Iterator[Level]:
    """The rows of a piece from height ``y`` on."""
    inner = piece.inner_rows
    for row in piece.rows:
        height = (
            0.0
            if row.row in inner
            else cloth.rows_cm([row])
            if row.band or row.own_gauge
            else cloth.along_cm(1, row.fabric)
        )
        yield Level(row, y, height)
        y += height


def outward(event: Event) -> int:
    """1 where an event moves an edge outwards, -1 inwards."""
    return 1 if event.change >= 0 else -1


def edging_cm(rows: Sequence[Row], cloth: Cloth) -> float:
    """Depth of the edging at the beginning of some rows."""
    return sum(cloth.along_cm(1, row.fabric) for row in edging_first(rows))
