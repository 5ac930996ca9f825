"""Workings for a knitter who measures in inches: figures, formula and names, so that the sum still comes out.

The core works in cm, and its formulas hold a few constants that belong to cm ("per 10 cm ÷ 10"); the core says
what they are in inches (``core/sums.py``). Here figures and names are turned; a test works every formula out again
after the change, so that a formula with a new constant cannot be forgotten.
"""

import re
from dataclasses import replace

from workshop.core.calculation import Calculation
from workshop.core.sums import Figure
from workshop.project import Units
from workshop.tables.yarn_weights import INCH_CM, YARD_M

"""Metres in a yard, exact (international yard, 1959)."""

METRIC = {"tex": "tex is by definition grams in 1000 m"}
"""Units of results that stay metric, each with its reason."""

SCALES = {
    "per 10 cm": (4 * INCH_CM / 10, "per 4 in"),
    "per square cm": (INCH_CM**2, "per square inch"),
    "per cm": (INCH_CM, "per inch"),
    "cm": (1 / INCH_CM, "in"),
    "m": (1 / YARD_M, "yd"),
}
"""What a figure is multiplied by whose unit or name ends so, and how it ends then."""

NAMES = (
    ("per 10 cm", "per 4 in"),
    ("per square cm", "per square inch"),
    ("per cm", "per inch"),
    ("centimeters", "inches"),
    ("meters", "yards"),
)
"""Words in labels, formulas and names of figures that tell a unit."""


def working_in(working: Calculation, units: Units) -> Calculation:
    """A working in the units of a project. ``difference_cm`` stays in cm: it is shown as any length is."""
    if units == "cm" or working.unit in METRIC:
        return working
    factor, unit = _scale(working.unit)
    return replace(
        working,
        label=_renamed(working.label),
        formula=_renamed(working.formula_in_inches),
        figures=tuple(_figure(f) for f in working.figures),
        exact=working.exact * factor,
        value=working.value * factor,
        unit=unit,
    )


def _figure(figure: Figure) -> Figure:
    factor, unit = _scale(figure.unit)
    if unit == figure.unit:  # a count: what it is counted over stands in its name
        factor, _ = _scale(figure.name)
    return Figure(_renamed(figure.name), figure.value * factor, unit)


def _scale(ending: str) -> tuple[float, str]:
    for metric, (factor, inches) in SCALES.items():
        if ending == metric or ending.endswith(f" {metric}"):
            return factor, ending.removesuffix(metric) + inches
    return 1.0, ending


def _renamed(text: str) -> str:
    for metric, inches in NAMES:
        text = re.sub(rf"\b{metric}\b", inches, text)
    return text
