"""Formulas on paper: each once, with a row for each thing that it works out and a column for each figure.

Where every figure stands in a formula once, the heads of the columns, read across, are the formula.
"""

import re
from collections.abc import Iterable
from dataclasses import replace
from itertools import pairwise

from workshop.core.calculation import Calculation
from workshop.core.sums import Figure
from workshop.project import Units
from workshop.records import record
from workshop.words.calculations.in_inches import working_in


@record
class Formula:
    """One formula, and all that it works out. ``names`` are its figures in cm, ``shown`` as the knitter reads them."""

    formula: str
    names: tuple[str, ...]
    shown: tuple[str, ...]
    workings: tuple[Calculation, ...]


def formulas(workings: Iterable[Calculation], units: Units) -> list[Formula]:
    """The formulas of workings in their order, each once."""
    found: dict[str, list[Calculation]] = {}
    for working in workings:
        found.setdefault(general(working.formula), []).append(working)
    out = []
    for formula, alike in found.items():
        names = _in_order(formula, alike[0])
        shown = working_in(_generalised(alike[0], formula, names), units)
        out.append(Formula(shown.formula, names, tuple(f.name for f in shown.figures), tuple(alike)))
    return out


LENGTH_OF_ITS_OWN = re.compile(r"^(?P<own>[a-z ]+)(?P<by> × (?P<along>rows|stitches) per 10 cm ÷ (10|4))$")


def general(formula: str) -> str:
    """A formula for any blend and any piece."""
    return _general(formula)[0]


def _general(formula: str) -> tuple[str, str]:
    """A formula for any blend and any piece, and the figure that had a name of its own."""
    formula = re.sub(r"(share|sizes) (\d) \([^)]*\)", r"\1 \2", formula)
    own = LENGTH_OF_ITS_OWN.match(formula)
    if own is None:
        return formula, ""
    side = "its length" if own["along"] == "rows" else "its width"
    return side + own["by"], own["own"]


def in_general(figure: str, formula: str) -> str:
    """The name of a figure of a formula in that formula for any blend and any piece."""
    found, own = _general(formula)
    return found.split(" × ", maxsplit=1)[0] if own and figure == own else _general(figure)[0]


def _in_order(formula: str, working: Calculation) -> tuple[str, ...]:
    """The figures of a formula in its order, under their general names."""
    names = [in_general(f.name, working.formula) for f in working.figures]
    return tuple(dict.fromkeys(names_of(names).findall(formula)))


def _generalised(working: Calculation, formula: str, names: Iterable[str]) -> Calculation:
    """A working with the general formula and figures, to be said in the units of a knitter."""
    units = {in_general(f.name, working.formula): f.unit for f in working.figures}
    figures = tuple(Figure(n, 0.0, units.get(n, "cm")) for n in names)
    return replace(working, formula=formula, formula_in_inches=general(working.formula_in_inches), figures=figures)


def names_of(figures: Iterable[str]) -> re.Pattern[str]:
    """Finds the names of figures in a formula; a longer name comes before one that it contains."""
    names = sorted(figures, key=len, reverse=True)
    return re.compile("|".join(rf"(?<!\w){re.escape(n)}(?!\w)" for n in names))


def put_in(formula: str, figures: dict[str, str]) -> str:
    """A formula with the names of its figures replaced; a longer name comes before one that it contains."""
    if not figures:
        return formula
    return names_of(figures).sub(lambda m: figures[m[0]], formula)


def read_across(formula: str, names: tuple[str, ...]) -> tuple[str, ...]:
    """The formula cut into a head for each figure: "finished chest", "÷ 2 × stitches per 10 cm", ...

    Just the names where a figure stands in it twice, or where none does.
    """
    found = list(names_of(names).finditer(formula)) if names else []
    if [m[0] for m in found] != list(names):
        return names
    cuts = [0]
    for before, after in pairwise(found):
        closed = re.match(r"\)*", formula[before.end() : after.start()])
        cuts.append(before.end() + (closed.end() if closed else 0))
    cuts.append(len(formula))
    return tuple(formula[a:b].strip() for a, b in pairwise(cuts))


def is_read_across(formula: Formula, heads: tuple[str, ...]) -> bool:
    """Whether heads, read across, are the formula."""
    return " ".join(heads) == formula.formula
