"""Sums as they are printed: one expression is the text of a formula, its figures and its value.

``figure("finished width", 50.0, "cm") * figure("stitches per 10 cm", 20.0, "stitches") / 10`` reads
"finished width × stitches per 10 cm ÷ 10" and comes to 100.0. The value is what Python makes of the very same
expression. Brackets are written only where a reader needs them: a − (b + c) reads "a − b − c".

A few constants belong to cm and are others in inches. They are marked ``{10|4}`` in the text until
:func:`in_cm` or :func:`in_inches` takes the side that is wanted.
"""

import re
from collections.abc import Iterable
from dataclasses import replace
from enum import IntEnum
from functools import lru_cache, reduce
from math import sqrt
from operator import add

from workshop.records import record


@record
class Figure:
    """One number that goes into a formula, under the name that the formula uses."""

    name: str
    value: float
    unit: str = ""


class Binds(IntEnum):
    """What a text is when it becomes part of a longer one: the looser it binds, the sooner it wants brackets."""

    TERMS = 1
    FACTORS = 2
    WHOLE = 3


@record
class Sum:
    """An expression, made of figures, of numbers and of other sums."""

    value: float
    text: str
    figures: tuple[Figure, ...] = ()
    """In the order of the text, or as :meth:`listing` has them."""
    binds: Binds = Binds.WHOLE
    turned: str = ""
    """The text behind a minus where it has several terms: each sign is turned round."""

    def __add__(self, other: "Sum | float") -> "Sum":
        b = constant(other)
        text, taken = f"{self.text} + {b.text}", f"{self._taken} − {b._taken}"
        return Sum(self.value + b.value, text, _figures(self, b), Binds.TERMS, taken)

    def __radd__(self, other: float) -> "Sum":
        return constant(other) + self

    def __sub__(self, other: "Sum | float") -> "Sum":
        b = constant(other)
        text, taken = f"{self.text} − {b._taken}", f"{self._taken} + {b.text}"
        return Sum(self.value - b.value, text, _figures(self, b), Binds.TERMS, taken)

    def __rsub__(self, other: float) -> "Sum":
        return constant(other) - self

    def __mul__(self, other: "Sum | float") -> "Sum":
        b = constant(other)
        text = f"{self._part(Binds.FACTORS)} × {b._part(Binds.FACTORS)}"
        return Sum(self.value * b.value, text, _figures(self, b), Binds.FACTORS)

    def __rmul__(self, other: float) -> "Sum":
        return constant(other) * self

    def __truediv__(self, other: "Sum | float") -> "Sum":
        b = constant(other)
        text = f"{self._part(Binds.FACTORS)} ÷ {b._part(Binds.WHOLE)}"
        return Sum(self.value / b.value, text, _figures(self, b), Binds.FACTORS)

    def __rtruediv__(self, other: float) -> "Sum":
        return constant(other) / self

    def __pow__(self, power: float) -> "Sum":
        """A whole power reads as a product, "a × a"; a power of a half as :func:`root_of` does."""
        value = float(self.value**power)
        if power == 0.5:
            return Sum(value, f"√({self.text})", self.figures)
        return Sum(value, " × ".join([self._part(Binds.WHOLE)] * int(power)), self.figures, Binds.FACTORS)

    def listing(self, *first: "Sum") -> "Sum":
        """The same sum with the figures of these listed before its others."""
        return replace(self, figures=_figures(*first, self))

    @property
    def _taken(self) -> str:
        return self.turned or self.text

    def _part(self, at_least: Binds) -> str:
        return self.text if self.binds >= at_least else f"({self.text})"


def figure(name: str, value: float, unit: str = "") -> Sum:
    """A number under the name that it is printed with."""
    return Sum(value, name, (Figure(name, float(value), unit),))


def constant(value: Sum | float, *, inches: float | None = None) -> Sum:
    """A number written as it is; ``inches``: the one in its place for a knitter who measures in inches."""
    if isinstance(value, Sum):
        return value
    text = repr(value).removesuffix(".0")
    return Sum(value, text if inches is None else f"{{{text}|{inches}}}")


GAUGE_CM = constant(10, inches=4)
"""The cm that a gauge is told over (per 10 cm, per 4 in)."""

GAUGE_MM = constant(100, inches=101.6)
"""The same in mm."""

METRE_CM = constant(100, inches=36)
"""Centimetres in a metre, inches in a yard."""


def added(terms: Iterable[Sum]) -> Sum:
    """Any number of terms added up; one alone is bracketed like several."""
    return replace(reduce(add, terms), binds=Binds.TERMS)


def root_of(a: Sum) -> Sum:
    """The square root. It may differ from ``a ** 0.5`` in the last digit, as in Python."""
    return Sum(sqrt(a.value), f"√({a.text})", a.figures)


def larger_of(a: Sum | float, b: Sum | float) -> Sum:
    """The larger of two."""
    a, b = constant(a), constant(b)
    return Sum(max(a.value, b.value), f"larger of ({a.text}, {b.text})", _figures(a, b))


def smaller_of(a: Sum | float, b: Sum | float) -> Sum:
    """The smaller of two."""
    a, b = constant(a), constant(b)
    return Sum(min(a.value, b.value), f"smaller of ({a.text}, {b.text})", _figures(a, b))


@lru_cache(maxsize=2048)  # a plan has some hundred formulas, and the next one most of them again
def in_cm(text: str) -> str:
    """A text of a sum with the constants of cm."""
    return MARK.sub(r"\1", text) if "|" in text else text


@lru_cache(maxsize=2048)
def in_inches(text: str) -> str:
    """A text of a sum with the constants of inches; a division by one is left out."""
    return MARK.sub(r"\2", BY_ONE.sub("", text)) if "|" in text else text


MARK, BY_ONE = re.compile(r"\{([^{}|]*)\|([^{}|]*)\}"), re.compile(r" ÷ \{[^{}|]*\|1\}")


def _figures(*of: Sum) -> tuple[Figure, ...]:
    """The figures of several sums, each once. Raises ValueError for one name with two values."""
    having = [part.figures for part in of if part.figures]
    if len(having) < 2:  # most often: a sum and a number
        return having[0] if having else ()
    found = {one.name: one for one in having[0]}
    for figures in having[1:]:
        for one in figures:
            known = found.setdefault(one.name, one)
            if known is not one and known != one:
                raise ValueError(f"two figures of one sum are named {one.name!r}")
    return tuple(found.values())
