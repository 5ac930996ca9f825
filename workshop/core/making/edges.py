"""Edges: how long they are in the washed cloth, and how many stitches a band picks up along them.

Along rows an edge that moves k stitches sideways in a row is sqrt((k/g)² + (1/h)²) long, so a band of
gauge g_band picks up g_band × that many stitches per row: on a straight edge g/h, three of four rows in
common fabrics. Derived; agrees with the published rates (tests/published: 20/26, slopes).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import hypot

from workshop.core.making.ledger import Piece


@dataclass(frozen=True, slots=True)
class Cloth:
    """Washed gauge of the cloth, per 10 cm."""

    stitches_per_10cm: float
    rows_per_10cm: float

    def across_cm(self, stitches: float) -> float:
        """Width in cm of so many stitches."""
        return stitches / self.stitches_per_10cm * 10

    def along_cm(self, rows: float) -> float:
        """Length in cm of so many rows."""
        return rows / self.rows_per_10cm * 10


def edge_cm(cloth: Cloth, moves: Iterable[tuple[float, float]]) -> float:
    """Length in cm of an edge given as (stitches sideways, rows up), one pair for each stretch."""
    return sum(hypot(cloth.across_cm(s), cloth.along_cm(r)) for s, r in moves)


def pick_up_rate(cloth: Cloth, stitches_per_event: float = 0, rows_per_event: float = 1) -> float:
    """Stitches to pick up for one row of an edge that moves ``stitches_per_event`` every ``rows_per_event``.

    Band and cloth in the same stitch; for a straight edge leave the last two out.
    """
    sideways = stitches_per_event / rows_per_event
    return hypot(cloth.across_cm(sideways), cloth.along_cm(1)) * cloth.stitches_per_10cm / 10


def as_fraction(rate: float, largest: int = 6) -> Fraction:
    """A rate as "so many of so many rows" with a small denominator, for the fingers."""
    return Fraction(rate).limit_denominator(largest)


def neck_edge_moves(parts: Iterable[Piece]) -> list[tuple[float, float]]:
    """The neck edge of shoulder parts as (stitches sideways, rows up), one pair a row."""
    moves: list[tuple[float, float]] = []
    for part in parts:
        for row in part.rows:
            sideways = sum(e.stitches for e in row.events if e.where in ("neck-left", "neck-right"))
            moves.append((sideways, 1))
    return moves
