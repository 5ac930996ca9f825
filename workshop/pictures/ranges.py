"""A finished measurement with its range, drawn against the body that it is for."""

from collections.abc import Callable
from math import ceil, floor
from textwrap import wrap

from workshop.pictures.blocks import ascii_only, strokes
from workshop.records import record

Show = Callable[[float], str]

LABEL = 10
"""Columns for the names at the left."""


@record
class SizeRange:
    """A measurement around the body and of the finished garment, with its range, in cm. ``wanted_cm``: as wished."""

    what: str
    body_cm: float
    low_cm: float
    likely_cm: float
    high_cm: float
    wanted_cm: float | None = None
    ease_cm: tuple[float, float, float] | None = None
    """Least, likely and most ease, with the doubt of the tape around the body; else as far apart as the garment's."""

    @property
    def ease(self) -> tuple[float, float, float]:
        """Least, likely and most ease in cm."""
        least, likely, most = (cm - self.body_cm for cm in (self.low_cm, self.likely_cm, self.high_cm))
        return self.ease_cm or (least, likely, most)


def range_text(
    size: SizeRange, show: Show, *, unit_cm: float = 1.0, columns: int = 60, plain: bool = False
) -> tuple[str, ...]:
    """Body, finished garment with its range, and the ease between them, over one scale.

    ``unit_cm`` is the length of a step of the scale: 1, or 2.54 for inches.
    """
    scale = _Scale.of(size, unit_cm, columns - LABEL - 6)
    marks = strokes(plain)
    point, body = ("+", "^") if plain else ("◆", "▲")
    say: Show = (lambda cm: ascii_only(show(cm))) if plain else show
    low, likely, high = (scale.at(cm) for cm in (size.low_cm, size.likely_cm, size.high_cm))
    at_body = scale.at(size.body_cm)
    rows = [
        ("body", [(at_body, body)], say(size.body_cm)),
        ("finished", [*_bar(low, high, marks.left, marks.line, marks.right), (likely, point)], say(size.likely_cm)),
    ]
    if size.wanted_cm is not None:
        rows.insert(1, ("wanted", [(scale.at(size.wanted_cm), "x" if plain else "×")], say(size.wanted_cm)))
    ease = _bar(min(at_body, likely), max(at_body, likely), marks.left, marks.line, marks.right)
    rows.append(("ease", ease, say(size.ease[1])))
    lines = [size.what.capitalize(), *(_row(name, cells, words, scale.width, columns) for name, cells, words in rows)]
    lines += scale.lines(say, plain)
    least, most = say(size.low_cm), say(size.high_cm)
    lines += wrap(f"Finished: likely {least} to {most}.", columns)
    eased = f"Ease: likely {say(size.ease[0])} to {say(size.ease[2])}."
    lines += wrap(eased, columns)
    return tuple(ascii_only(line) for line in lines) if plain else tuple(lines)


@record
class _Scale:
    """A scale in whole steps from ``first`` to ``last``, a tick every ``every`` of them."""

    first: int
    last: int
    every: int
    unit_cm: float
    width: int

    @classmethod
    def of(cls, size: SizeRange, unit_cm: float, width: int) -> "_Scale":
        ends = [size.body_cm, size.low_cm, size.high_cm, *([size.wanted_cm] if size.wanted_cm is not None else [])]
        low, high = min(ends) / unit_cm, max(ends) / unit_cm
        span = max(high - low, 1.0)
        every = next((e for e in (1, 2, 5, 10, 20, 50, 100) if span / e <= 6), ceil(span))
        return cls(
            floor(low / every) * every, max(ceil(high / every), floor(low / every) + 1) * every, every, unit_cm, width
        )

    def at(self, cm: float) -> int:
        """Column of a length."""
        return round((cm / self.unit_cm - self.first) / (self.last - self.first) * (self.width - 1))

    def lines(self, show: Show, plain: bool) -> list[str]:
        """The scale with its figures; the last one with its unit."""
        marks = strokes(plain)
        ticks = [" "] * self.width
        figures = [" "] * (self.width + 12)
        for step in range(self.first, self.last + 1, self.every):
            at = self.at(step * self.unit_cm)
            text = show(step * self.unit_cm) if step == self.last else str(step)
            start = max(0, min(at - len(str(step)) // 2, self.width + 6 - len(text)))
            figures[start : start + len(text)] = text
            ticks[at] = marks.bottom
        line = "".join(marks.line if c == " " else c for c in ticks)
        return [" " * LABEL + line, (" " * LABEL + "".join(figures)).rstrip()]


def _bar(first: int, last: int, left: str, line: str, right: str) -> list[tuple[int, str]]:
    """A bar from one column to another."""
    if last <= first:
        return [(first, left)]
    return [(first, left), *((i, line) for i in range(first + 1, last)), (last, right)]


def _row(name: str, cells: list[tuple[int, str]], words: str, width: int, columns: int) -> str:
    """A row of the picture; its words right of what it shows, or left where there is no room."""
    line = [" "] * width
    for at, character in cells:
        line[min(width - 1, max(0, at))] = character
    drawn = "".join(line).rstrip()
    if LABEL + len(drawn) + 1 + len(words) <= columns:
        return f"{name:<{LABEL}}{drawn} {words}"
    first = len(drawn) - len(drawn.lstrip())
    if len(words) + 1 <= first:
        return f"{name:<{LABEL}}" + words.rjust(first - 1) + " " + drawn.lstrip()
    return f"{name:<{LABEL}}{drawn}"
