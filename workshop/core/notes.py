"""What is found on the way through a plan, in the order in which it comes: workings and checks."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NoReturn

from workshop.core.calculation import Calculation
from workshop.core.remarks import Check, Remark, Value
from workshop.tables.checks import check_text


class Stopped(Exception):
    """A garment that cannot be made: the checks that stop it stand in the notes."""


@dataclass(slots=True)
class Notes:
    """The workings and checks of one plan, passed to whoever finds some."""

    workings: list[Calculation] = field(default_factory=list)
    checks: list[Check] = field(default_factory=list)

    def record(self, working: Calculation) -> Calculation:
        """Keep a working and hand it back, so that a value can be noted where it is used."""
        self.workings.append(working)
        return working

    def check(self, name: str, /, **values: Value) -> None:
        """Raise the check of that name in the table "checks", with the figures that it has places for."""
        self.checks.append(check_of(name, values))

    def stop(self, name: str, /, **values: Value) -> NoReturn:
        """Raise a check beyond which nothing can be counted. Raises Stopped."""
        self.check(name, **values)
        raise Stopped

    def end_if_stopped(self) -> None:
        """Raise Stopped where one of the checks so far says that the wish cannot be knitted."""
        if any(c.level == "stop" for c in self.checks):
            raise Stopped


def check_of(name: str, values: Mapping[str, Value]) -> Check:
    """A check of the table "checks" with its figures. Raises KeyError for a name or a place that has none."""
    told = check_text(name)
    parts = (told.step, told.question, told.about, told.place)
    step, question, about, place = (part.format_map(values) for part in parts)
    ways = [way for way in told.ways if values.keys() >= set(re.findall(r"\{(\w+)\}", way))]
    text = told.whole.replace("{ways}", ", or ".join(ways))
    return Check(
        name.partition(".")[0],
        told.level,
        step,
        question,
        Remark(text, values),
        about,
        told.teacher,
        place,
        till=told.till,
    )
