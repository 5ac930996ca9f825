"""What the core has to say: sentences with places for figures, so that a view can show them in any unit.

A text names its figures in braces: ``"{chest} is less than {hip}"``. Views fill them in (``workshop.words``);
the core never formats a length. Texts are in US terms; views translate for the UK. Those of checks stand in the
table "checks".
"""

from collections.abc import Mapping
from dataclasses import field
from typing import Literal

from workshop.records import record
from workshop.tables.checks import ForTeacher, Level

Unit = Literal["cm", "cm exactly", "mm", "g", "m", "%", "stitches", "rows", "sizes", "balls", "per 10 cm", ""]


@record
class Amount:
    """A figure for a sentence. ``cm exactly`` is not shown in eighths where that is too coarse.

    ``mm`` is a needle size; ``per 10 cm`` a gauge.
    """

    value: float
    unit: Unit

    def __format__(self, spec: str) -> str:
        return format(self.value, spec)


Value = Amount | str | tuple[Amount, ...]


@record
class Remark:
    """One sentence. A text value may be the knitter's own and is never read as markup."""

    text: str
    values: Mapping[str, Value] = field(default_factory=dict)


@record
class Check:
    """Something that stops the plan, needs another look, or is worth knowing.

    ``question`` is the key of the answer to change; ``about`` the figures it was raised for, so that an
    answer of "it is right as it is" holds until they change.
    """

    code: str
    level: Level
    step: str
    question: str
    remark: Remark
    about: str = ""
    teacher: ForTeacher = ""
    """What it is to the teacher of a class, whatever its level."""
    place: str = ""
    """The key of the very field, where the question has several and one of them is meant."""
    till: str = ""
    """What is knitted once nothing can be done about it any more."""
    agreed: bool = False
    """The knitter has said that it is right as it is."""

    @property
    def name(self) -> str:
        """What an agreement is remembered under."""
        return f"{self.code} {self.question} {self.about}".strip()


def cm(value: float) -> Amount:
    """A length."""
    return Amount(value, "cm")


def percent(value: float) -> Amount:
    """A percentage."""
    return Amount(value, "%")


def needle(mm: float) -> Amount:
    """A needle size."""
    return Amount(mm, "mm")
