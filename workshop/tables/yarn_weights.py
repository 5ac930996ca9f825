"""Standard yarn weights: gauge and needles of each category."""

from functools import cache

from workshop.project import Terms, Weight
from workshop.records import record
from workshop.tables import read

INCH_CM = 2.54
YARD_M = 36 * INCH_CM / 100
"""Centimetres in an inch, exact by definition (international yard, 1959)."""

LONGEST_NAMES = 16
"""Characters of other names in a list; a form of 80 columns has no room for more."""


@record
class YarnWeight:
    """One category. ``stitches_low`` to ``stitches_high`` is printed "over 4 in (10 cm)"."""

    id: Weight
    number: int
    name: str
    yarns: str
    known_as: str
    """Names that the trade uses for it in the US and the UK (common practice, no source); each names one category."""
    uk: str
    """What a ball band in the UK calls it (common practice, no source)."""
    stitches_low: float
    stitches_high: float
    needle_mm_low: float
    needle_mm_high: float | None
    start_needle_mm: float
    """Where an average knitter starts with plain wool (common practice, no source)."""
    how: str

    def called(self, terms: Terms) -> str:
        """Its name in a country."""
        return self.uk if terms == "uk" else self.id

    def label(self, terms: Terms) -> str:
        """Name, number, stitches to expect and other names, for lists: where room is short, names are cut."""
        name = self.called(terms)
        others = [n for n in (self.id, *self.known_as.split(", ")) if n != name]
        often = ", ".join(others[:2])
        often = often if len(often) <= LONGEST_NAMES else often.split(", ")[0]
        stitches = (
            f"{self.stitches_low:g}-{self.stitches_high:g} sts"
            if self.id != "jumbo"
            else f"{self.stitches_high:g} sts or fewer"
        )
        return f"{name} ({self.number}), {stitches}: {often}"

    @property
    def also(self) -> tuple[str, ...]:
        """Every other name in small letters, and the number on the ball band."""
        return (str(self.number), *(n.strip().casefold() for n in self.known_as.split(",")))


@cache
def all_weights() -> tuple[YarnWeight, ...]:
    """All categories from the finest to the thickest."""
    starts = {s["id"]: s for s in read("yarn_weights")["start"]}
    return tuple(
        YarnWeight(
            id=c["id"],
            number=c["number"],
            name=c["name"],
            yarns=c["yarns"],
            known_as=starts[c["id"]]["known_as"],
            uk=starts[c["id"]]["uk"],
            stitches_low=c.get("stitches_low", c["stitches_high"] / 2),
            stitches_high=c["stitches_high"],
            needle_mm_low=c["needle_mm_low"],
            needle_mm_high=c.get("needle_mm_high"),
            start_needle_mm=starts[c["id"]]["needle_mm"],
            how=c["how"],
        )
        for c in read("yarn_weights")["category"]
    )


def weight_called(name: str, terms: Terms) -> str:
    """What a category is called in a country; another word stays as it is."""
    return next((w.called(terms) for w in all_weights() if w.id == name), name)


@record
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
