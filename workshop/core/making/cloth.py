"""The washed cloth: its gauge, and what so many stitches or rows of it measure."""

from collections.abc import Iterable

from workshop.core.edgings import STOCKINETTE, Fabric, of_fabric
from workshop.core.making.ledger import Row
from workshop.records import record


@record
class Cloth:
    """Washed gauge of the cloth, per 10 cm; the edging has rows of its own where it was swatched."""

    stitches_per_10cm: float
    rows_per_10cm: float
    edging_rows_per_10cm: float | None = None
    edging: Fabric | None = None
    """The edging that was swatched; None: whichever the garment has."""
    bands: tuple[tuple[float, float] | None, ...] = ()
    """Stitches and rows per 10 cm of each band of a yoke, where it was swatched."""
    planned: "Cloth | None" = None
    """The same cloth as it was planned, where a way on was taken since; None: it is still as planned."""

    def across_cm(self, stitches: float) -> float:
        """Width in cm of so many stitches."""
        return stitches / self.stitches_per_10cm * 10

    def rows_in(self, fabric: Fabric) -> float:
        """Rows per 10 cm of a fabric: the edging's own where known; else a rib's are those of the cloth.

        Garter stitch that was not swatched has rows by its stitches. What was counted on a piece since is of the fabric
        above its edging: one that nobody counted stays as planned, so that pieces to come have as many rows of it.
        """
        if fabric == STOCKINETTE:
            return self.rows_per_10cm
        if self.knows(fabric):
            assert self.edging_rows_per_10cm is not None
            return self.edging_rows_per_10cm
        planned = self.planned or self
        return 2 * planned.stitches_per_10cm if of_fabric(fabric).garter else planned.rows_per_10cm

    def knows(self, fabric: Fabric) -> bool:
        """Whether the rows of an edging were counted."""
        return self.edging_rows_per_10cm is not None and self.edging in (None, fabric)

    def along_cm(self, rows: float, fabric: Fabric = STOCKINETTE) -> float:
        """Length in cm of so many rows of a fabric."""
        return rows / self.rows_in(fabric) * 10

    def rows_cm(self, rows: Iterable[Row]) -> float:
        """Length in cm of rows, each in its own fabric."""
        kinds = [(row.fabric, row.band, row.own_gauge) for row in rows]
        tall = {kind: self._tall_cm(*kind) for kind in set(kinds)}
        return sum(tall[kind] for kind in kinds)

    def _of_band(self, band: int) -> tuple[float, float] | None:
        return self.bands[band - 1] if 0 < band <= len(self.bands) else None

    def _tall_cm(self, fabric: Fabric, band: int, own: tuple[float, float] | None) -> float:
        own = self._of_band(band) or (own if fabric == STOCKINETTE else None)
        return 10 / own[1] if own else self.along_cm(1, fabric)

    def row_cm(self, row: Row, stitches: float) -> float:
        """Width in cm of so many stitches of a row, in its own gauge where it is of a band, or of another needle."""
        own = self._of_band(row.band) or row.own_gauge
        return stitches / own[0] * 10 if own else self.across_cm(stitches)
