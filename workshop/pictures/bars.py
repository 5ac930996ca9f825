"""Bars with words: how much of something there is, on a scale of a few parts."""

from collections.abc import Sequence

from workshop.pictures.canvas import Picture, Span
from workshop.records import record


@record
class Bar:
    """One bar: what it is of, how much from 0 to 1, and that in a word or two."""

    of: str
    much: float
    word: str


APART_FROM = 6
"""Rows from which bars stand apart."""


def bars_picture(bars: Sequence[Bar], columns: int, rows: int = 0) -> Picture:
    """Bars below one another, apart where there is room; their words behind them, or below where there is none."""
    if not bars:
        return ()
    name = max(len(b.of) for b in bars) + 2
    word = max(len(b.word) for b in bars)
    long = min(16, columns - name - word - 1)
    below = long < 6
    long = min(20, columns - name) if below else long
    lines: list[tuple[Span, ...]] = []
    for bar in bars:
        full = round(bar.much * long)
        drawn: tuple[Span, ...] = (
            (bar.of.ljust(name), "quiet"),
            ("▆" * full, "accent"),
            ("▁" * (long - full), "quiet"),
        )
        if lines and rows >= APART_FROM:
            lines.append(())
        lines.append(drawn if below else (*drawn, (f" {bar.word}", "")))
        if below:
            lines.append(((" " * name + bar.word, ""),))
    return tuple(lines)


def scale_picture(parts: Sequence[tuple[str, float, str]], columns: int, show: Sequence[str]) -> Picture:
    """Lengths to one scale, each with its name, its ink and what is to be read behind it."""
    name = max(len(n) for n, _, _ in parts) + 1
    room = max(6, columns - name - max(map(len, show)) - 1)
    most = max(size for _, size, _ in parts)
    return tuple(
        ((n.ljust(name), "quiet"), ("▄" * max(1, round(size / most * room)), ink), (f" {text}", ""))
        for (n, size, ink), text in zip(parts, show, strict=True)
    )
