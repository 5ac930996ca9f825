"""Kinds of answers: how typed text becomes a value, how a value is shown, and what the limits are.

A kind knows nothing of a screen. Its ``read`` raises :class:`~workshop.units.NotUnderstood` with one clear
line; its ``show`` gives text that ``read`` takes back.
"""

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from typing import Any, Protocol

from workshop.project import FibrePart, Project, Reading, Units
from workshop.records import record
from workshop.tables.fibres import by_name, nearest
from workshop.units import (
    A_COUNT,
    GAUGE_OVER_CM,
    NotUnderstood,
    convert,
    eighths,
    plain_number,
    read_count,
    read_length,
    read_mass,
    read_needle,
    read_number,
    show_exactly,
    show_length,
    show_limits,
    show_mass,
    show_needle,
    show_typed,
    show_yarn_length,
    shown,
    tidy,
)

CHOOSE = "Choose "
"""Before the list of choices, at the end of an error."""


class Kind(Protocol):
    """What every kind of answer can do."""

    def read(self, text: str, project: Project) -> object:
        """The value of typed text. Raises NotUnderstood."""

    def show(self, value: Any, project: Project) -> str:
        """A value as text that ``read`` would take back."""

    def example(self, project: Project) -> str:
        """An example of an answer, for hints and work sheets."""


@record
class Option:
    """One answer of a choice. An option that is not ``ready`` is listed and cannot be chosen yet."""

    value: object
    label: str
    ready: bool = True
    also: tuple[str, ...] = ()
    """Other names that the trade has for it; taken as typed, in small letters or large."""

    @property
    def names(self) -> tuple[str, ...]:
        """What it may be called: its value, its label and its other names, small and run together."""
        return tuple(_run_together(name) for name in (str(self.value), self.label, *self.also))


@record
class Choice:
    """One of a list. ``options`` may depend on the project (sizes of a table, yarns entered)."""

    options: Callable[[Project], tuple[Option, ...]]

    def read(self, text: str, project: Project) -> object:
        """By value, label, name of the trade, first letters, a word of the label, or the number in the list."""
        found = self._meant(text, project)
        if not found.ready:
            raise NotUnderstood(f"'{found.value}' can't be chosen yet. " + self._known(project))
        return found.value

    def _meant(self, text: str, project: Project) -> Option:
        wanted = " ".join(tidy(text).split()).casefold()
        if not _run_together(wanted):
            raise NotUnderstood("nothing was chosen. " + self._known(project))
        exact, begins, numbered, holds = self._found(wanted, project)
        if not exact and not numbered and max(len(begins), len(holds)) > 1:
            several = "; ".join(o.label for o in self.options(project) if o in (*begins, *holds))
            raise NotUnderstood(f"'{shown(text)}' could be any of these: {several}")
        one_begins = begins if len(begins) == 1 else []
        if found := exact or one_begins or numbered or holds:
            return found[0]
        raise NotUnderstood(f"'{shown(text)}' isn't one of the choices. " + self._known(project))

    def _found(self, wanted: str, project: Project) -> tuple[list[Option], list[Option], list[Option], list[Option]]:
        """What is called so, what begins so, what has that number, and what has the word in its label."""
        options, name = self.options(project), _run_together(wanted)
        return (
            [o for o in options if name in o.names],
            [o for o in options if any(n.startswith(name) for n in o.names[:2])],
            [options[int(wanted) - 1]] if self.by_number(project) and _is_index(wanted, len(options)) else [],
            [o for o in options if _holds(o.label, wanted)],
        )

    def by_number(self, project: Project) -> bool:
        """Whether an answer may be given as its number in the list: not where the answers are numbers themselves."""
        return not any(name[:1].isdigit() for o in self.options(project) for name in (o.label, *o.also[:1]))

    def show(self, value: object, project: Project) -> str:
        """The label of a value."""
        return next((o.label for o in self.options(project) if o.value == value), str(value))

    def example(self, project: Project) -> str:
        """The list of answers."""
        return " / ".join(str(o.value) for o in self.options(project))

    def _known(self, project: Project) -> str:
        return CHOOSE + "; ".join(self.listed(project))

    def listed(self, project: Project) -> list[str]:
        """The answers that can be chosen, with their numbers where a number is taken."""
        numbered = enumerate(self.options(project), 1)
        return [f"{i} {o.label}" if self.by_number(project) else o.label for i, o in numbered if o.ready]


def meant(options: Sequence[Option], typed: str) -> int | None:
    """Which of these answers is being typed: one that is called so, begins so, or has a word that begins so.

    A number is looked for in names only: the label of another answer may hold it by chance ("16-20 sts").
    """
    wanted, words = _run_together(typed), " ".join(typed.split()).casefold()
    if not wanted:
        return None
    ways: tuple[Callable[[Option], bool], ...] = (
        lambda o: wanted in o.names,
        lambda o: _run_together(o.label).startswith(wanted),
        lambda o: any(name.startswith(wanted) for name in o.names),
        lambda o: not wanted[0].isdigit() and re.search(rf"(?<!\w){re.escape(words)}", o.label.casefold()) is not None,
    )
    return next((i for way in ways for i, option in enumerate(options) if way(option)), None)


def _run_together(name: str) -> str:
    """A name without its spaces and hyphens, small: "4 ply", "4-ply" and "4ply" are one."""
    return re.sub(r"[\s\-‐-–]+", "", name.casefold())


def _holds(label: str, words: str) -> bool:
    """Whether a label holds these words whole: "yoke" is in "round yoke", "a" is not enough."""
    return len(words) > 2 and re.search(rf"(?<!\w){re.escape(words)}(?!\w)", label.casefold()) is not None


def _is_index(text: str, length: int) -> bool:
    return text.isascii() and text.isdigit() and len(text) < 4 and 1 <= int(text) <= length


def fixed(*options: Option) -> Choice:
    """A choice whose options never change."""
    return Choice(lambda _project: options)


def on_one_line(text: str) -> str:
    """A text as it is kept on one line: what no printer shows is a space, and no two spaces come together."""
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())


@record
class Words:
    """Free text, kept as typed but for the spaces at its ends. ``such_as`` is an answer, where words are wanted."""

    longest: int = 80
    such_as: str = ""

    def read(self, text: str, project: Project) -> str:
        """Any text on one line, up to ``longest`` characters."""
        line = on_one_line(text)
        if len(line) > self.longest:
            raise NotUnderstood(f"that's {len(line)} characters. Use at most {self.longest}")
        if line and self.such_as and not any(c.isalpha() for c in line):
            raise NotUnderstood(f"'{shown(line)}' has no words. Type something like {self.such_as}")
        return line

    def show(self, value: str, project: Project) -> str:
        """The text itself."""
        return value

    def example(self, project: Project) -> str:
        """An answer, or that any words will do."""
        return self.such_as or "any words"


SHOWN_TO_CM = 0.013
"""Half a hundredth of an inch: a limit that is shown so and typed again is still that limit."""


@record
class Length:
    """A length in cm, between ``low`` and ``high`` cm."""

    low: float
    high: float

    def read(self, text: str, project: Project) -> float:
        """Typed length in cm; a bare number is in the unit in use."""
        read = read_length(text, project.units)
        value = min(max(read.value, self.low), self.high)
        if abs(value - read.value) > SHOWN_TO_CM:
            raise NotUnderstood(self._outside(text, read.value, read.named, project))
        return round(value, 4)

    def _outside(self, text: str, value: float, named: bool, project: Project) -> str:
        low, high = show_limits(self.low, self.high, project.units)
        other = "in" if project.units == "cm" else "cm"
        line = f"{shown(text)} looks wrong: it should be {low} to {high}"
        if not named and self.low <= convert(convert(value, "cm", project.units), other, "cm") <= self.high:
            line += f". Did you mean {shown(text)} {other}? If so, type the unit too"
        return line

    def show(self, value: float, project: Project) -> str:
        """The length with its unit; in inches to the nearest eighth where that is exact enough."""
        return show_exactly(value, project.units)

    def example(self, project: Project) -> str:
        """A length in the middle of the limits."""
        return self.like(self.low + (self.high - self.low) * 0.4, project)

    def like(self, middle: float, project: Project) -> str:
        """An example of about so many cm."""
        return f"{round(middle)} cm" if project.units == "cm" else f"{round(convert(middle, 'cm', 'in'))} in"


@record
class Mass:
    """A mass in g, between ``low`` and ``high`` g."""

    low: float
    high: float

    def read(self, text: str, project: Project) -> float:
        """Typed mass in g; a bare number is grams."""
        read = read_mass(text)
        value = read.value
        if not self.low <= value <= self.high:
            line = f"{shown(text)} looks wrong: it should be {self.low:g} to {self.high:g} g"
            if project.units == "in" and not read.named:
                line += ". For ounces, type oz after the number"
            raise NotUnderstood(line)
        return round(value, 4)

    def show(self, value: float, project: Project) -> str:
        """The mass in grams, or in ounces where it was typed in those."""
        return show_mass(value, project.units)

    def example(self, project: Project) -> str:
        """A ball's mass."""
        return "50 g"


@record
class YarnLength:
    """Length of yarn in m; a bare number is metres, or yards where inches are used."""

    low: float
    high: float

    def read(self, text: str, project: Project) -> float:
        """Typed length of yarn in metres."""
        read = read_length(text, "yd" if project.units == "in" else "m", "m")
        if not self.low <= read.value <= self.high:
            low, high = (show_yarn_length(m, project.units) for m in (self.low, self.high))
            raise NotUnderstood(f"{shown(text)} looks wrong: a ball has {low} to {high}")
        return round(read.value, 4)

    def show(self, value: float, project: Project) -> str:
        """Metres, or yards where inches are used."""
        if project.units == "in":
            return f"{plain_number(convert(value, 'm', 'yd'), 1)} yd"
        return f"{plain_number(value, 1)} m"

    def example(self, project: Project) -> str:
        """A ball's length."""
        return "220 yd" if project.units == "in" else "200 m"


@record
class Whole:
    """A whole number between ``low`` and ``high``."""

    low: int
    high: int
    what: str = ""
    """What is counted, in the singular: it may be typed behind the number."""

    def read(self, text: str, project: Project) -> int:
        """Typed whole number."""
        text = tidy(text)
        if self.what:
            text = re.sub(rf"(?i)\s*{self.what}s?\.?$", "", text)
        value = read_number(text)
        if value != int(value):
            raise NotUnderstood(f"{shown(text)} isn't a whole number")
        if not self.low <= value <= self.high:
            raise NotUnderstood(f"{shown(text)} looks wrong: it should be {self.low} to {self.high}")
        return int(value)

    def show(self, value: int, project: Project) -> str:
        """The number."""
        return str(value)

    def example(self, project: Project) -> str:
        """A number inside the limits."""
        return str(min(self.high, max(self.low, 3)))


@record
class Needle:
    """A needle size that is sold, in mm."""

    def read(self, text: str, project: Project) -> float:
        """Typed size in mm; a bare number is in the naming in use."""
        return read_needle(text, project.needle_names)

    def show(self, value: float, project: Project) -> str:
        """The size in the naming in use."""
        return show_needle(value, project.needle_names) if project.needle_names == "mm" else _label(value, project)

    def example(self, project: Project) -> str:
        """A common size."""
        return {"mm": "4 mm", "us": "US 6", "uk": "UK 8"}[project.needle_names]


def _label(mm: float, project: Project) -> str:
    return show_needle(mm, project.needle_names).split(" (")[0]


def _blend_pieces(text: str) -> list[str]:
    """The shares of a blend, also where only the numbers part them: "80% wool 20% nylon", "wool 75 nylon 25"."""
    pieces = [p.strip() for p in re.split(r"[;+\n]|,(?!\d)|\band\b|/(?=\s*\d)", text) if p.strip()]
    if len(pieces) != 1:
        return pieces
    if re.match(r"\d", pieces[0]):
        return [p.strip() for p in re.split(r"(?<=[^\d.,%\s])\s+(?=\d)", pieces[0])]
    return [p.strip() for p in re.split(r"(?<=[\d%])\s+(?=[^\d\s%])", pieces[0])]


@record
class Blend:
    """A blend of fibres in per cent: "80 wool, 20 nylon"."""

    def read(self, text: str, project: Project) -> tuple[FibrePart, ...]:
        """The parts; they must come to 100 per cent. A known fibre alone is 100 per cent of itself.

        A fibre that the table does not know is taken with its share, so that a word that is no fibre asks first.
        """
        pieces = _blend_pieces(tidy(text))
        if not pieces:
            raise NotUnderstood("nothing was typed. Copy the blend from the ball band, for example 80 wool, 20 nylon")
        if len(pieces) > 8:
            raise NotUnderstood(f"that's {len(pieces)} parts. A blend can have at most 8")
        parts = tuple(self._part(p, alone=len(pieces) == 1) for p in pieces)
        total = sum(p.percent for p in parts)
        if abs(total - 100) > 0.5:
            off = f"{plain_number(abs(100 - total))}% is {'missing' if total < 100 else 'too much'}"
            raise NotUnderstood(f"the blend adds up to {plain_number(total)}%, not 100%. {off}")
        return parts

    def _part(self, text: str, *, alone: bool) -> FibrePart:
        found = re.fullmatch(r"(?P<n>\d+(?:[.,]\d+)?)?\s*%?\s*(?P<name>[^\d%]+?)\s*(?P<m>\d+(?:[.,]\d+)?)?\s*%?", text)
        if not found:
            raise NotUnderstood(f"'{shown(text)}' isn't a percentage and a name. Type something like 80 wool, 20 nylon")
        typed = found["n"] or found["m"]
        if typed is None and not alone:
            raise NotUnderstood(f"'{shown(text)}' has no percentage. Type something like 80 wool, 20 nylon")
        percent = read_number(typed) if typed else 100.0
        if not 0 < percent <= 100:
            raise NotUnderstood(f"{plain_number(percent)}% {shown(found['name'])} looks wrong: it should be 1 to 100%")
        name = " ".join(found["name"].split())[:40]
        known = by_name().get(name.casefold())
        if known is None and typed is None:
            meant = nearest(name)
            if_right = f"If the ball band says so, type the name with its percentage: 100 {shown(name)}"
            raise NotUnderstood(
                f"'{shown(name)}' isn't in the list. " + (f"Did you mean {meant}?" if meant else if_right)
            )
        return FibrePart(known.id if known and known.id != "other" else name, percent)

    def show(self, value: tuple[FibrePart, ...], project: Project) -> str:
        """The blend as it is typed."""
        return ", ".join(f"{plain_number(p.percent)} {p.fibre}" for p in value)

    def example(self, project: Project) -> str:
        """A blend."""
        return "80 wool, 20 nylon"


@record
class CountOver:
    """A count of stitches or rows over a distance: "27½ over 15 cm". Gives (count, cm).

    Quarters are as fine as anyone can count. Without a distance, 10 cm (or 4 in) is meant. Also as the trade says it:
    "22 per 10 cm", "22 sts to 10 cm", "4½ to the inch".
    """

    def read(self, text: str, project: Project) -> tuple[float, float]:
        """Typed count and distance."""
        return _read_count(text, project.units)

    def show(self, value: Reading, project: Project) -> str:
        """Count and distance as they are typed; a distance that is round in the other unit only is shown in that."""
        return _shown_count(value.count, value.over_cm, project.units)

    def example(self, project: Project) -> str:
        """A count over the usual distance."""
        return A_COUNT[project.units]


@lru_cache(maxsize=4096)  # a class of projects has the same counts over and over
def _read_count(text: str, units: Units) -> tuple[float, float]:
    count, over_cm = read_count(text, units)
    window = GAUGE_OVER_CM[units] if over_cm is None else over_cm
    if not 1 <= count <= 400:
        raise NotUnderstood(f"a count of {plain_number(count)} looks wrong: it should be 1 to 400")
    if abs(count * 4 - round(count * 4)) > 0.01:
        raise NotUnderstood(
            f"{plain_number(count, 3)} is finer than you can count. Round it to quarters, "
            f"for example {eighths(round(count * 4) / 4)}"
        )
    if not 2 <= window <= 80:
        raise NotUnderstood(
            f"a distance of {show_exactly(window, units)} looks wrong: it should be "
            f"{show_length(2, units)} to {show_length(80, units)}"
        )
    if not 0.2 <= count / window <= 20:
        raise NotUnderstood(
            f"{plain_number(count)} over {show_exactly(window, units)} can't be right. Check both numbers"
        )
    return round(count * 4) / 4, round(window, 4)


@lru_cache(maxsize=4096)
def _shown_count(count: float, over_cm: float, units: Units) -> str:
    return f"{eighths(count)} over {show_typed(over_cm, units)}"
