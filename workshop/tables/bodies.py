"""Body measurements by size, and head sizes."""

from functools import cache

from workshop.project import BodyTable
from workshop.records import record
from workshop.tables import read
from workshop.tables.yarn_weights import INCH_CM


@record
class Cell:
    """One printed range in cm, and how it is known."""

    low_cm: float
    high_cm: float
    how: str
    inches: tuple[float, float] = (0.0, 0.0)
    """The same range as printed in inches."""

    @property
    def middle_cm(self) -> float:
        """Middle of the printed range, in cm."""
        return (self.low_cm + self.high_cm) / 2


MEASURES = (
    "chest",
    "waist",
    "hip",
    "cross_back",
    "back_waist",
    "upper_arm",
    "armhole_depth",
    "sleeve_underarm",
    "neck_to_cuff",
)
"""Measures that the published tables hold."""


@cache
def sizes(table: BodyTable) -> tuple[str, ...]:
    """Sizes of a table, smallest first."""
    return tuple(read(f"body_{table}")["sizes"])


def called(table: BodyTable) -> str:
    """The table by its title and by the command that shows it, for the source of a figure."""
    return f"table '{read(f'body_{table}')['title']}' (workshop tables body_{table})"


def find_size(table: BodyTable, typed: str) -> str | None:
    """The size that was meant, whatever its capitals; None where the table has no such size."""
    wanted = typed.casefold().strip()
    return next((s for s in sizes(table) if s.casefold() == wanted), None)


@cache
def cells(table: BodyTable, measure: str) -> dict[str, Cell]:
    """All sizes of one measure; empty where the table does not hold it."""
    rows = read(f"body_{table}")["measure"].get(measure, {})
    return {s: Cell(c["cm"][0], c["cm"][1], c["how_cm"], tuple(c["inches"])) for s, c in rows.items()}


@cache
def heads(table: BodyTable) -> tuple[tuple[str | None, Cell], ...]:
    """Head circumferences of a table: by size, or one entry for all sizes (size None)."""
    return tuple(
        (h.get("size"), Cell(h["inches"][0] * INCH_CM, h["inches"][1] * INCH_CM, h["how"]))
        for h in read("heads")["head"]
        if h["table"] == table
    )
