"""Edges: how long they are in the washed cloth, and how many stitches a band picks up along them.

Along rows an edge that moves k stitches sideways in a row is sqrt((k/g)² + (1/h)²) long, so a band of
gauge g_band picks up g_band × that many stitches per row: on a straight edge g/h, three of four rows in
common fabrics. Derived; agrees with the published rates (tests/published: 20/26, slopes).
"""

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import hypot

from workshop.core.making.ledger import Event, Fabric, Piece, Row
from workshop.core.remarks import Check, check, cm


@dataclass(frozen=True, slots=True)
class Cloth:
    """Washed gauge of the cloth, per 10 cm; the edging has rows of its own where it was swatched."""

    stitches_per_10cm: float
    rows_per_10cm: float
    edging_rows_per_10cm: float | None = None
    edging: Fabric | None = None
    """The edging that was swatched; None: whichever the garment has."""

    def across_cm(self, stitches: float) -> float:
        """Width in cm of so many stitches."""
        return stitches / self.stitches_per_10cm * 10

    def rows_in(self, fabric: Fabric) -> float:
        """Rows per 10 cm of a fabric: the edging's own where known; else a rib's are those of the cloth.

        Garter stitch that was not swatched: a ridge, two rows, is as tall as a stitch is wide (common practice, no
        source; garter is near to square).
        """
        if fabric == "stocking":
            return self.rows_per_10cm
        if self.knows(fabric):
            assert self.edging_rows_per_10cm is not None
            return self.edging_rows_per_10cm
        return 2 * self.stitches_per_10cm if fabric == "garter" else self.rows_per_10cm

    def knows(self, fabric: Fabric) -> bool:
        """Whether the rows of an edging were counted."""
        return self.edging_rows_per_10cm is not None and self.edging in (None, fabric)

    def along_cm(self, rows: float, fabric: Fabric = "stocking") -> float:
        """Length in cm of so many rows of a fabric."""
        return rows / self.rows_in(fabric) * 10

    def rows_cm(self, rows: Iterable[Row]) -> float:
        """Length in cm of rows, each in its own fabric."""
        return sum(self.along_cm(1, row.fabric) for row in rows)


def garter_checks(pieces: Iterable[Piece], cloth: Cloth) -> list[Check]:
    """A word about garter stitch whose rows nobody counted."""
    if cloth.knows("garter") or not any(r.fabric == "garter" for p in pieces for r in p.rows):
        return []
    text = (
        "Nobody has counted your garter stitch yet. So one ridge (two rows) is taken to be as tall as one stitch is "
        "wide: eight ridges come to about {eight}. A small swatch in garter stitch, counted in Gauge, makes it sure."
    )
    eight = cm(cloth.along_cm(16, "garter"))
    return [check("garter-rows-assumed", "note", "shape", "garment.hem", text, "", eight=eight)]


def edge_cm(cloth: Cloth, moves: Iterable[tuple[float, float]]) -> float:
    """Length in cm of an edge given as (stitches sideways, rows up), one pair for each stretch."""
    return sum(hypot(cloth.across_cm(s), cloth.along_cm(r)) for s, r in moves)


def pick_up_rate(cloth: Cloth) -> float:
    """Stitches to pick up for one row of a straight edge; band and cloth in the same stitch."""
    return cloth.along_cm(1) * cloth.stitches_per_10cm / 10


def as_fraction(rate: float, largest: int = 6) -> Fraction:
    """A rate as "so many of so many rows" with a small denominator, for the fingers."""
    return Fraction(rate).limit_denominator(largest)


def neck_edge_moves(pieces: Iterable[Piece]) -> list[tuple[float, float]]:
    """The neck edges of pieces as (stitches sideways, rows up): one pair for each event and the rest above it.

    A shoulder has its neck edge from its first row; half of an open front from the row where its neck begins.
    """
    moves: list[tuple[float, float]] = []
    for piece in pieces:
        events = [(r.row, e) for r in piece.rows for e in r.events if e.where in ("neck-left", "neck-right")]
        divided = piece.came_from is not None and "shoulder" in piece.name
        if not divided and not events:
            continue
        if events and events[0][1].change > 0:  # from the neck down: the edge ends where it stops growing
            moves += _grown(events)
            continue
        for where in ("neck-left", "neck-right"):
            own = [(row, e) for row, e in events if e.where == where]
            if not own:
                continue
            from_the_start = divided or piece.name == "yoke, upper"  # an open front has its neck further up
            at = piece.rows[0].row - 1 if from_the_start else own[0][0]
            for row, event in own:
                moves.append((event.stitches, max(0, row - at)))
                at = row
            moves.append((0, piece.last_row - at))
        if divided and not events:
            moves.append((0, piece.last_row - piece.rows[0].row + 1))
    return moves


def _grown(events: list[tuple[int, Event]]) -> list[tuple[float, float]]:
    """Both neck edges of a piece that begins at the neck."""
    moves: list[tuple[float, float]] = []
    for where in ("neck-left", "neck-right"):
        at = 0
        for row, event in events:
            if event.where == where:
                moves.append((event.stitches, row - at))
                at = row
    return moves
