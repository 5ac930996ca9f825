"""Pictures in half blocks: two square dots to a character, each in one of a few inks, and text among them.

An ink is a name; what colour it has is the theme's matter. One with a dash in its name (``cloth-shade``) is drawn as
the ground behind the other, so that a picture can be read without any colour too: it is left blank there.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field

from workshop.pictures.blocks import crossings, within
from workshop.pictures.outline import Point

Span = tuple[str, str]
"""Text, and its ink: one name, or two with a stroke between them where one is the ground (``cloth/cloth-shade``)."""

Picture = tuple[tuple[Span, ...], ...]
"""Lines of spans."""

INKS = ("cloth", "edging", "mark", "body", "wood", "button", "accent", "quiet", "strong")
"""Inks by themselves; text may stand in any of them."""

GROUNDS = ("cloth-shade", "cloth-seam", "cloth-inside", "edging-shade", "mark-shade", "body-tape")
"""Inks that are a ground, each behind the one that its name begins with."""

Texture = Callable[[int, int], str]
"""The ink of a dot by its column and row."""

STITCH = (".XXXX.", "X.XX.X", "XX..XX")
"""A knit stitch: the V that its two legs make, six dots wide and three high."""


def knit(main: str = "cloth") -> Texture:
    """Stockinette, right side."""
    return lambda x, y: main if STITCH[y % 3][x % 6] == "X" else f"{main}-shade"


def rib(main: str = "edging") -> Texture:
    """Columns of knit that stand before columns of purl."""
    return lambda x, _y: main if x % 3 < 2 else f"{main}-shade"


def garter(main: str = "edging") -> Texture:
    """Ridges."""
    return lambda _x, y: main if y % 2 == 0 else f"{main}-shade"


def flat(ink: str) -> Texture:
    """One ink."""
    return lambda _x, _y: ink


@dataclass(slots=True)
class Canvas:
    """Dots, twice as many rows of them as lines of text. Nothing that is drawn beyond the edges is kept."""

    columns: int
    rows: int
    dots: list[list[str]] = field(init=False)
    texts: dict[tuple[int, int], Span] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self.dots = [[""] * self.columns for _ in range(2 * self.rows)]

    def dot(self, x: int, y: int, ink: str) -> None:
        """One dot."""
        if 0 <= x < self.columns and 0 <= y < 2 * self.rows:
            self.dots[y][x] = ink

    def box(self, x: int, y: int, wide: int, high: int, texture: Texture) -> None:
        """A filled rectangle; its texture begins at its own corner."""
        for dy in range(high):
            for dx in range(wide):
                self.dot(x + dx, y + dy, texture(dx, dy))

    def line(self, start: Point, end: Point, ink: str, *, within_ink: bool = False) -> None:
        """A straight line between the middles of two dots; with ``within_ink`` only where something is drawn."""
        steps = max(1, round(max(abs(end[0] - start[0]), abs(end[1] - start[1]))))
        for i in range(steps + 1):
            x = int(start[0] + (end[0] - start[0]) * i / steps)
            y = int(start[1] + (end[1] - start[1]) * i / steps)
            if not within_ink or (0 <= x < self.columns and 0 <= y < 2 * self.rows and self.dots[y][x]):
                self.dot(x, y, ink)

    def text(self, column: int, line: int, text: str, ink: str = "") -> None:
        """Text over the dots, one character to a cell."""
        for i, char in enumerate(text):
            if 0 <= column + i < self.columns and 0 <= line < self.rows:
                self.texts[column + i, line] = (char, ink)

    def lines(self) -> Picture:
        """The picture as lines; blank ends are cut."""
        return tuple(self._line(y) for y in range(self.rows))

    def _line(self, y: int) -> tuple[Span, ...]:
        above, below = self.dots[2 * y], self.dots[2 * y + 1]
        cells = [self.texts.get((x, y)) or cell(above[x], below[x]) for x in range(self.columns)]
        while cells and cells[-1] == BLANK:
            cells.pop()
        return joined(cells)


BLANK: Span = (" ", "")


def cell(above: str, below: str) -> Span:
    """Two dots as one character."""
    if not above and not below:
        return BLANK
    if not above or not below:
        return ("▀", above) if above else ("▄", below)
    a, b = above.partition("-")[0], below.partition("-")[0]
    if above == below:
        return (" ", f"{a}/{above}") if above != a else ("█", f"{a}/{a}-shade" if f"{a}-shade" in GROUNDS else a)
    if above == b:
        return ("▀", f"{above}/{below}")
    if below == a:
        return ("▄", f"{below}/{above}")
    return ("▄", f"{below}/{above}") if "-" in above else ("▀", f"{above}/{below}")


def joined(cells: Iterable[Span]) -> tuple[Span, ...]:
    """Cells of one ink as one span."""
    found: list[Span] = []
    for char, ink in cells:
        if found and found[-1][1] == ink:
            found[-1] = (found[-1][0] + char, ink)
        else:
            found.append((char, ink))
    return tuple(found)


def plain(picture: Picture) -> tuple[str, ...]:
    """A picture as text."""
    return tuple("".join(text for text, _ in line).rstrip() for line in picture)


def width_of(picture: Picture) -> int:
    """Columns that a picture takes; every character of ours is one wide."""
    return max((sum(len(text) for text, _ in line) for line in picture), default=0)


def beside(left: Picture, right: Picture, gap: int = 2, at: int = 0) -> Picture:
    """Two pictures side by side; the second begins at column ``at`` at least."""
    start = max(width_of(left) + gap, at)
    high = max(len(left), len(right))
    lines = []
    for i in range(high):
        one, other = left[i] if i < len(left) else (), right[i] if i < len(right) else ()
        space = start - sum(len(text) for text, _ in one)
        lines.append((*one, (" " * space, ""), *other) if other else one)
    return tuple(lines)


def shifted(picture: Picture, by: int) -> Picture:
    """A picture so many columns further right."""
    return tuple(((" " * by, ""), *line) if line else line for line in picture) if by > 0 else picture


def centred(picture: Picture, columns: int) -> Picture:
    """A picture in the middle of so many columns."""
    return shifted(picture, (columns - width_of(picture)) // 2)


def fill(canvas: Canvas, polygon: Sequence[Point], texture: Texture) -> None:
    """Fill a polygon that is given in dots, its y downwards."""
    top, bottom = min(y for _, y in polygon), max(y for _, y in polygon)
    for y in range(max(0, int(top)), min(2 * canvas.rows, int(bottom) + 1)):
        crossed = crossings(y + 0.5, polygon)
        for x in range(canvas.columns):
            if within(x + 0.5, crossed):
                canvas.dots[y][x] = texture(x, y)


# ── large figures ────────────────────────────────────────────────────────────────────────────────────

DIGITS = {
    "0": (".XX.", "X..X", "X..X", "X..X", "X..X", ".XX."),
    "1": (".X.", "XX.", ".X.", ".X.", ".X.", "XXX"),
    "2": (".XX.", "X..X", "...X", "..X.", ".X..", "XXXX"),
    "3": ("XXX.", "...X", ".XX.", "...X", "...X", "XXX."),
    "4": ("X..X", "X..X", "X..X", "XXXX", "...X", "...X"),
    "5": ("XXXX", "X...", "XXX.", "...X", "...X", "XXX."),
    "6": (".XX.", "X...", "XXX.", "X..X", "X..X", ".XX."),
    "7": ("XXXX", "...X", "..X.", "..X.", ".X..", ".X.."),
    "8": (".XX.", "X..X", ".XX.", "X..X", "X..X", ".XX."),
    "9": (".XX.", "X..X", "X..X", ".XXX", "...X", ".XX."),
    ".": (".", ".", ".", ".", ".", "X"),
    "+": ("...", "...", ".X.", "XXX", ".X.", "..."),
    "−": ("...", "...", "...", "XXX", "...", "..."),
}
"""Our own figures, six dots high."""

LARGE_LINES = 3
"""Lines that they take."""


def large(text: str, ink: str = "strong") -> Picture:
    """A figure in large digits, and what is no digit behind them in small: its unit, a fraction."""
    text = text.replace("-", "−")
    head = len(text) - len(text.lstrip("".join(DIGITS)))
    digits, rest = text[:head], text[head:]
    width = sum(len(DIGITS[c][0]) + 1 for c in digits)
    canvas = Canvas(width + len(rest) + 1, LARGE_LINES)
    x = 0
    for char in digits:
        for y, row in enumerate(DIGITS[char]):
            for dx, dot in enumerate(row):
                if dot == "X":
                    canvas.dot(x + dx, y, ink)
        x += len(DIGITS[char][0]) + 1
    canvas.text(x, LARGE_LINES - 1, rest.strip() if rest.startswith(" ") else rest, ink)
    return canvas.lines()
