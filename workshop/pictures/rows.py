"""What a ledger's row does to the edges of a drawing: moves in stitches, heights, darts, unworked stitches."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from workshop.core.making.edges import Cloth
from workshop.core.making.ledger import Edge, Event, Piece, Row

AT_NECK = ("neck-left", "neck-right", "centre")
AT_ONCE = ("bind-off", "cast-on", "hold", "join", "pick-up")

HALF_FRONTS = ("left front", "right front")


@dataclass(frozen=True, slots=True)
class Level:
    """A row with the height at which it begins, and how high it is (0: it does not lengthen the edges)."""

    row: Row
    y: float
    height: float


def other(edge: Edge) -> Edge:
    """The other edge."""
    return "left" if edge == "right" else "right"


def parent_of(piece: Piece, pieces: Sequence[Piece]) -> Piece | None:
    """The piece that it grew out of."""
    return next((p for p in pieces if p.name == piece.came_from), None)


def shoulders_of(piece: Piece, pieces: Sequence[Piece]) -> dict[Edge, Piece]:
    """The parts into which a piece divides at the neck, by their outer edge as worn."""
    found: dict[Edge, Piece] = {}
    for part in pieces:
        if part.came_from == piece.name and "," in part.name:
            edge = part.name.split(", ")[-1].split()[0]
            if edge == "left":
                found["left"] = part
            elif edge == "right":
                found["right"] = part
    return found if len(found) == 2 else {}


def short_rows(row: Row) -> tuple[Event, ...]:
    """The short-row events of a row."""
    return tuple(e for e in row.events if e.do == "short-row")


def inner_rows(piece: Piece) -> frozenset[int]:
    """Numbers of the short rows that lie inside a piece (darts): they add nothing to the length of its edges.

    In half of an open front only every second row of a dart ends short; its fellow goes to the middle and back.
    """
    inner = {r.row for r in piece.rows if any(e.line for e in short_rows(r))}
    if piece.name in HALF_FRONTS:
        inner |= {row + 1 if row % 2 else row - 1 for row in inner}
    return frozenset(inner)


def levels(piece: Piece, y: float, cloth: Cloth) -> Iterator[Level]:
    """The rows of a piece from height ``y`` on."""
    inner = inner_rows(piece)
    for row in piece.rows:
        height = 0.0 if row.row in inner else cloth.along_cm(1, row.fabric)
        yield Level(row, y, height)
        y += height


def outward(event: Event) -> int:
    """1 where an event moves an edge outwards, -1 inwards."""
    return 1 if event.change >= 0 else -1


def edging_cm(rows: Iterable[Row], cloth: Cloth) -> float:
    """Depth of the edging at the beginning of some rows."""
    depth = 0.0
    for row in rows:
        if row.fabric == "stocking":
            return depth
        depth += cloth.along_cm(1, row.fabric)
    return 0.0
