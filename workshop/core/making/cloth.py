"""The washed cloth: its gauge, and what so many stitches or rows of it measure."""

from collections.abc import Iterable
from dataclasses import dataclass

from workshop.core.edgings import STOCKINETTE, Fabric, of_fabric
from workshop.core.making.ledger import Row


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

        Garter stitch that was not swatched has rows by its stitches.
        """
        if fabric == STOCKINETTE:
            return self.rows_per_10cm
        if self.knows(fabric):
            assert self.edging_rows_per_10cm is not None
            return self.edging_rows_per_10cm
        return 2 * self.stitches_per_10cm if of_fabric(fabric).garter else self.rows_per_10cm

    def knows(self, fabric: Fabric) -> bool:
        """Whether the rows of an edging were counted."""
        return self.edging_rows_per_10cm is not None and self.edging in (None, fabric)

    def along_cm(self, rows: float, fabric: Fabric = STOCKINETTE) -> float:
        """Length in cm of so many rows of a fabric."""
        return rows / self.rows_in(fabric) * 10

    def rows_cm(self, rows: Iterable[Row]) -> float:
        """Length in cm of rows, each in its own fabric."""
        fabrics = [row.fabric for row in rows]
        tall = {fabric: self.along_cm(1, fabric) for fabric in set(fabrics)}
        return sum(tall[fabric] for fabric in fabrics)
