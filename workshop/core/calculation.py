"""A figure with its working: formula in words, the figures in it, the rounding and what that cost.

The formula is written with the names of its figures and + − × ÷ √( ) ( ), ``larger of (a, b)`` and
``smaller of (a, b)``, so that it can be read by a knitter and worked out again by a program: a test reads
the formula of every working of whole plans and must arrive at ``exact``. Nobody types it: it is the text of
a :class:`~workshop.core.sums.Sum`, and ``exact`` its value.
"""

from typing import Literal

from workshop.core.sums import Figure, Sum, in_cm, in_inches
from workshop.records import record

Direction = Literal["nearest", "up", "down"]


@record
class Rounding:
    """To which whole number a count is rounded: those that leave ``remainder`` when divided by ``multiple``.

    Two equally near: the larger, or with ``ties="away"`` the one further from zero.
    An amount within a billionth of a legal number counts as that number,
    so that 20 × 1.0 is not rounded up to 21.
    """

    multiple: int = 1
    remainder: int = 0
    direction: Direction = "nearest"
    ties: Literal["up", "away"] = "up"

    def __post_init__(self) -> None:
        if self.multiple < 1:
            raise ValueError(f"a multiple of {self.multiple} cannot be rounded to")

    def __call__(self, amount: float) -> int:
        """The whole number for an amount. Raises ValueError or OverflowError for nan and infinity."""
        if self.ties == "away" and amount < 0:
            return -Rounding(self.multiple, self.remainder, self.direction)(-amount)
        steps = round((amount - self.remainder) / self.multiple, 9)
        lower = int(steps // 1)
        if self.direction == "down" or steps == lower:
            taken = lower
        elif self.direction == "up":
            taken = lower + 1
        else:
            taken = lower if steps - lower < 0.5 else lower + 1
        return taken * self.multiple + self.remainder

    @property
    def words(self) -> str:
        """The rule as it is printed beside a number."""
        if self.multiple == 1:
            kind = "whole number"
        elif self.multiple == 2:
            kind = "odd number" if self.remainder % 2 else "even number"
        elif self.remainder:
            kind = f"multiple of {self.multiple} plus {self.remainder}"
        else:
            kind = f"multiple of {self.multiple}"
        return f"nearest {kind}" if self.direction == "nearest" else f"{self.direction} to the next {kind}"


WHOLE = Rounding()
EVEN = Rounding(2)


@record
class Calculation:
    """A number of the plan and how it came about.

    ``key`` is its address in the plan (``front.cast_on``), ``exact`` the result of the formula, ``value``
    what is used after ``rounding``. ``difference_cm`` is what the rounding changed, in cm of cloth: above
    zero, the piece comes out larger than asked for. ``source`` names where the formula comes from.
    """

    key: str
    label: str
    formula: str
    formula_in_inches: str
    """The formula with the constants of inches; names of figures are those of ``formula``."""
    figures: tuple[Figure, ...]
    exact: float
    value: float
    unit: str
    rounding: Rounding | None = None
    difference_cm: float | None = None
    source: str = ""

    @property
    def count(self) -> int:
        """The value as a whole number, for stitches and rows."""
        return int(self.value)

    @property
    def rounded_to(self) -> str:
        """The rounding in words; empty where nothing was rounded."""
        return self.rounding.words if self.rounding else ""


def calculate(
    key: str,
    label: str,
    formula: Sum,
    unit: str,
    *,
    rounding: Rounding | None = None,
    per_cm: float | None = None,
    source: str = "",
    exact: float | None = None,
) -> Calculation:
    """Put a working together. ``per_cm`` (stitches or rows per cm) turns the rounding into cm.

    ``exact`` is for a number that something in the plan has of its own (a range, a gauge) and that the formula only
    explains; the tests hold the two together.
    """
    exact = formula.value if exact is None else exact
    value = float(rounding(exact)) if rounding else exact
    difference = (value - exact) / per_cm if rounding and per_cm else None
    return Calculation(
        key=key,
        label=label,
        formula=in_cm(formula.text),
        formula_in_inches=in_inches(formula.text),
        figures=formula.figures,
        exact=exact,
        value=value,
        unit=unit,
        rounding=rounding,
        difference_cm=difference,
        source=source,
    )
