"""Standard yarn weights: gauge and needles of each category."""

from dataclasses import dataclass
from functools import cache

from workshop.project import Weight
from workshop.tables import read

INCH_CM = 2.54
"""Centimetres in an inch, exact by definition (international yard, 1959)."""


@dataclass(frozen=True, slots=True)
class YarnWeight:
    """One category. ``stitches_low`` to ``stitches_high`` is printed "over 4 in (10 cm)"."""

    id: Weight
    number: int
    name: str
    yarns: str
    stitches_low: float
    stitches_high: float
    needle_mm_low: float
    needle_mm_high: float | None
    start_needle_mm: float
    """Where an average knitter starts with plain wool (common practice, no source)."""
    how: str

    @property
    def label(self) -> str:
        """Name, stitches per 10 cm and the yarns that it covers, for lists: names overlap, numbers do not."""
        least = f"{self.stitches_low:g}-" if self.needle_mm_high is not None else "up to "
        return f"{self.id}, {least}{self.stitches_high:g} st: {self.yarns}"


@cache
def all_weights() -> tuple[YarnWeight, ...]:
    """All categories from the finest to the thickest."""
    starts = {s["id"]: s["needle_mm"] for s in read("yarn_weights")["start"]}
    return tuple(
        YarnWeight(
            id=c["id"],
            number=c["number"],
            name=c["name"],
            yarns=c["yarns"],
            stitches_low=c.get("stitches_low", c["stitches_high"] / 2),
            stitches_high=c["stitches_high"],
            needle_mm_low=c["needle_mm_low"],
            needle_mm_high=c.get("needle_mm_high"),
            start_needle_mm=starts[c["id"]],
            how=c["how"],
        )
        for c in read("yarn_weights")["category"]
    )


@dataclass(frozen=True, slots=True)
class LengthRow:
    """One row of a published chart of metres in 100 g; open ends are zero and infinity."""

    id: Weight
    name: str
    low: float
    high: float
    source: str
    how: str


@cache
def lengths() -> tuple[LengthRow, ...]:
    """All rows of all charts; they disagree with one another."""
    return tuple(
        LengthRow(
            id=r["id"],
            name=r["name"],
            low=r.get("m_per_100g_low", 0.0),
            high=r.get("m_per_100g_high", float("inf")),
            source=r["source"][0],
            how=r["how"],
        )
        for r in read("yarn_weights")["length"]
    )


def weight(name: Weight) -> YarnWeight:
    """The category of that name. Raises KeyError for a name that is none."""
    for w in all_weights():
        if w.id == name:
            return w
    raise KeyError(name)
