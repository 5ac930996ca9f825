"""A published case as it is read: its figures, its roundings, and small projects to plan with its figures."""

import re
from typing import Any, NamedTuple

from tests.factory import pullover, shaped
from workshop.core.calculation import EVEN, WHOLE, Rounding
from workshop.core.plan import Plan, plan
from workshop.project import Body, Fit, Reading, ReferenceGarment, Swatch

INCH = 2.54


class NotThePlanners(Exception):
    """The planner does not do what the case does. ``str()`` is the reason, as the skipped test shows it."""


class Figures(dict[str, Any]):
    """Figures of a case by name. One that is missing fails in words; ``looked`` are the names asked for and found."""

    def __init__(self, of: str, figures: dict[str, Any]) -> None:
        super().__init__(figures)
        self.of = of
        self.looked: set[str] = set()

    def __missing__(self, name: str) -> Any:
        raise AssertionError(f"{self.of} lacks {name!r}")

    def __getitem__(self, name: str) -> Any:
        value = super().__getitem__(name)
        self.looked.add(name)
        return value


ROUNDINGS = {
    "nearest": WHOLE,
    "even-nearest": EVEN,
    "even-down": Rounding(2, 0, "down"),
    "even-up": Rounding(2, 0, "up"),
    "down": Rounding(direction="down"),
    "up": Rounding(direction="up"),
    "none": None,
}


def rounding(words: str) -> Rounding | None:
    """A rounding as the case file writes it."""
    if words in ROUNDINGS:
        return ROUNDINGS[words]
    found = re.fullmatch(r"mod (\d+)=(\d+) (down|nearest)", words)
    assert found, f"no rounding is called {words!r}"
    return Rounding(int(found[1]), int(found[2]), found[3])


class Item(NamedTuple):
    """One expression of a case: the numbers that stand in it, in their order, and its rounding."""

    numbers: tuple[float, ...]
    rule: Rounding | None


def item(text: str, words: str = "none") -> Item:
    """An expression as printed. Only its numbers are taken from it: what is done with them is the planner's."""
    return Item(tuple(float(n) for n in re.findall(r"\d+(?:\.\d+)?", text)), rounding(words))


def counted(along: str, unwashed: float, washed: float) -> tuple[Reading, ...]:
    """Counts per cm before and after the wash, over lengths so great that no change is too small to be seen."""
    states = (("off needles", unwashed), ("washed", washed))
    return tuple(Reading(state, along, 100 * count, 100.0) for state, count in states)


def washed(unwashed: tuple[float, float], after: tuple[float, float]) -> Plan:
    """A plan from cloth of so many stitches and rows to the cm (or to any other unit), before and after its wash."""
    reading = tuple(
        r for along, *counts in zip(("stitches", "rows"), unwashed, after, strict=True) for r in counted(along, *counts)
    )
    return plan(pullover(swatch=(Swatch("A", yarn="a", reading=reading),)))


STANDARD = Fit("standard")


def planned(
    stitches: float, rows: float, garment: ReferenceGarment, body: Body, fit: Fit = STANDARD, **shape: object
) -> Plan:
    """A plan at so many stitches and rows per 10 cm, for a garment of measurements given flat, in cm."""
    reading = (*counted("stitches", stitches / 10, stitches / 10), *counted("rows", rows / 10, rows / 10))
    swatch = Swatch("A", yarn="a", reading=reading)
    project = pullover(swatch=(swatch,), body=body, fit=fit, reference_garment=garment)
    return plan(shaped(project, **{"hem": "none", "length_cm": garment.length_cm, **shape}))
