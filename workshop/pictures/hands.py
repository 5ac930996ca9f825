"""One yarn in many hands: every knitter's gauge on each needle as a point with its range, over one scale."""

from collections.abc import Callable, Sequence
from math import ceil, floor

from workshop.pictures.blocks import Strokes, ascii_only, strokes
from workshop.pictures.elements import document, line, text
from workshop.records import record

LONGEST_NAME = 22
"""Characters of a name that a line has room for."""


@record
class Point:
    """One knitter's gauge after the wash with its likely range, and before the wash; None where not counted."""

    name: str
    low: float | None = None
    likely: float | None = None
    high: float | None = None
    before: float | None = None
    note: str = ""
    """What is said where nothing is drawn."""

    @property
    def all(self) -> tuple[float, ...]:
        """Everything that is drawn of it."""
        return tuple(v for v in (self.low, self.likely, self.high, self.before) if v is not None)


Needles = Sequence[tuple[str, Sequence[Point]]]
"""The points on each needle, under its name."""


@record
class Scale:
    """Whole stitches from ``first`` to ``last``."""

    first: int
    last: int

    @classmethod
    def of(cls, needles: Needles) -> "Scale":
        """The scale on which all points have room."""
        drawn = [v for _, points in needles for p in points for v in p.all]
        first = floor(min(drawn))
        return cls(first, max(ceil(max(drawn)), first + 1))

    def share(self, value: float) -> float:
        """Where a value is, from 0 at the first to 1 at the last stitch."""
        return (value - self.first) / (self.last - self.first)

    def ticks(self, room: int) -> range:
        """The stitches that get a figure, where there is room for so many of them."""
        every = next((e for e in (1, 2, 5, 10) if (self.last - self.first) / e <= max(1, room)), 20)
        return range(self.first, self.last + 1, every)


# ── in a terminal ────────────────────────────────────────────────────────────────────────────────────


def hands_text(needles: Needles, over: str, *, columns: int = 60, plain: bool = False) -> tuple[str, ...]:
    """The points as lines of text, one for each knitter. ``over``: what the stitches are counted over ("10 cm")."""
    scale, marks = Scale.of(needles), strokes(plain)
    longest = LONGEST_NAME if columns > 70 else 16
    label = max(len(_short(p.name, longest)) for _, points in needles for p in points) + 2
    width = max(10, min(columns, 90) - label - 2)
    after, before = ("*", "o") if plain else ("◆", "○")
    lines = []
    for needle, points in needles:
        lines += [needle, *(_row(p, scale, width, label, longest, marks, (before, after)) for p in points)]
    lines += [" " * label + line for line in _axis(scale, width, marks)]
    lines.append(" " * label + f"{'looser':<{max(7, width - 7)}}tighter")
    lines.append(f"Stitches in {over}. {after} washed, with its likely range. {before} before the wash.")
    return tuple(ascii_only(line) if plain else line for line in lines)


def _row(
    point: Point, scale: Scale, width: int, label: int, longest: int, marks: Strokes, signs: tuple[str, str]
) -> str:
    line = [" "] * width
    if point.low is not None and point.high is not None:
        first, last = (round(scale.share(v) * (width - 1)) for v in (point.low, point.high))
        line[first : last + 1] = marks.line * (last - first + 1)
        line[first], line[last] = marks.left, marks.right
    for value, sign in zip((point.before, point.likely), signs, strict=True):
        if value is not None:
            line[round(scale.share(value) * (width - 1))] = sign
    line[: len(point.note)] = point.note
    return f"{_short(point.name, longest):<{label}}{''.join(line)}".rstrip()


def _axis(scale: Scale, width: int, marks: Strokes) -> list[str]:
    drawn, figures = [marks.line] * width, [" "] * (width + 3)
    for stitch in scale.ticks(width // 6):
        at = round(scale.share(stitch) * (width - 1))
        drawn[at] = marks.bottom
        figures[at : at + len(str(stitch))] = str(stitch)
    return ["".join(drawn), "".join(figures).rstrip()]


def _short(name: str, longest: int = LONGEST_NAME) -> str:
    return name if len(name) <= longest else f"{name[: longest - 1].rstrip()}…"


# ── on paper ─────────────────────────────────────────────────────────────────────────────────────────

WIDE, LABEL, ROW = 200.0, 44.0, 5.6
"""Millimetres: the drawing, the names at its left, and a knitter's line."""


def hands_svg(needles: Needles, title: str, over: str) -> str:
    """The same as SVG, in black on white."""
    scale, room = Scale.of(needles), WIDE - LABEL - 6
    bottom = ROW * sum(len(points) + 1.2 for _, points in needles) + 2

    def at(value: float) -> float:
        return LABEL + scale.share(value) * room

    body = []
    for stitch in scale.ticks(14):
        body.append(line((at(stitch), 0), (at(stitch), bottom), 0.15, ink="#999"))
        body.append(_text(at(stitch), bottom + 4, str(stitch), anchor="middle"))
    y = 0.0
    for needle, points in needles:
        y += 1.2 * ROW
        body.append(_text(0, y - 1.5, needle, bold=True))
        for point in points:
            y += ROW
            body += [_text(0, y - 1.5, _short(point.name)), _text(LABEL + 1, y - 1.5, point.note)]
            body += [*_drawn(point, at, y - 0.5 * ROW)]
    body.append(line((LABEL, bottom), (LABEL + room, bottom), 0.35))
    below = bottom + 8.5
    body.append(_text(LABEL, below, "← looser: larger stitches"))
    body.append(_text(LABEL + room, below, "tighter: smaller stitches →", anchor="end"))
    body.append(_text(LABEL + room / 2, below, f"stitches to {over}", anchor="middle"))
    key = bottom + 13.5
    body += [*_drawn(Point("", 0, 3, 6), lambda v: LABEL + v * 1.2, key - 1.2)]
    body += [_text(LABEL + 9, key, "washed, with its likely range"), _circle(LABEL + 66, key - 1.2)]
    body.append(_text(LABEL + 69, key, "before the wash"))
    return document(f"{WIDE:.0f}", f"{key + 1:.0f}", title, body, box=f"{WIDE:.0f} {key + 1:.1f}")


def _drawn(point: Point, at: Callable[[float], float], y: float) -> list[str]:
    body = []
    if point.low is not None and point.high is not None:
        body.append(line((at(point.low), y), (at(point.high), y), 0.9))
        body += [line((at(v), y - 1.3), (at(v), y + 1.3), 0.5) for v in (point.low, point.high)]
    if point.before is not None:
        body.append(_circle(at(point.before), y))
    if point.likely is not None:
        body.append(f'<path d="M{at(point.likely):.2f} {y - 2:.2f}l2 2l-2 2l-2 -2z" fill="black"/>')
    return body


def _circle(x: float, y: float) -> str:
    return f'<circle cx="{x:.2f}" cy="{y:.2f}" r="1.3" fill="white" stroke="black" stroke-width="0.4"/>'


def _text(x: float, y: float, words: str, *, anchor: str = "start", bold: bool = False) -> str:
    return text(x, y, words, "3.3", anchor=anchor, bold=bold)
