"""Filled shapes in characters: quarter blocks, or plain ASCII; and what all text pictures share."""

import re
import unicodedata
from bisect import bisect_right
from collections.abc import Iterable, Sequence

from workshop.pictures.outline import Outline, Point
from workshop.records import record

BLOCKS = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
"""Quarter blocks by which quarters are filled: 1 upper left, 2 upper right, 4 lower left, 8 lower right."""

HALVES = (0.25, 0.75)
"""The middles of the quarters of a cell, across and down."""

CELL_ASPECT = 2.0
"""A character cell is about twice as high as wide."""


@record
class Strokes:
    """Characters of lines and fillings."""

    cloth: str
    edging: str
    band: str
    stripes: str
    """One for each colour of the stripes, the first as the cloth."""
    left: str
    right: str
    line: str
    top: str
    side: str
    bottom: str
    dash: str
    panel: str


UNICODE = Strokes("█", "▒", "▚", "█▓░╬", "├", "┤", "─", "┬", "│", "┴", "╌", "▓")
ASCII = Strokes("#", "=", "x", "#%:o", "|", "|", "-", "+", "|", "+", "-", ":")


def strokes(plain: bool) -> Strokes:
    """The characters for a terminal: plain ASCII or not."""
    return ASCII if plain else UNICODE


def ascii_only(text: str) -> str:
    """Text in ASCII: ``19⅞ in`` becomes ``19 7/8 in``; what has no ASCII becomes a question mark."""
    spaced = re.sub(r"(\d)([¼½¾⅐-⅞])", r"\1 \2", text).replace("−", "-").replace("×", "x").replace("±", "+/-")
    flat = unicodedata.normalize("NFKD", spaced).replace("⁄", "/")
    return "".join(c for c in flat if not unicodedata.combining(c)).encode("ascii", "replace").decode()


def dimension(label: str, width: int, marks: Strokes) -> str:
    """A dimension line of so many characters with its label in it, or without where there is no room."""
    if width < 2:
        return marks.left[:width]
    room = width - 2
    middle = f" {label} ".center(room, marks.line) if label and len(label) + 2 <= room else marks.line * room
    return marks.left + middle + marks.right


def packed(items: Iterable[str], width: int) -> list[str]:
    """Items one after another, with commas, broken between items so that lines keep to a width where they can."""
    lines: list[str] = []
    for item in items:
        if lines and len(lines[-1]) + 2 + len(item) <= width:
            lines[-1] += f", {item}"
        else:
            lines.append(item)
    return lines


def crossings(y: float, polygon: Sequence[Point]) -> list[float]:
    """Where a level line crosses a polygon, from left to right: between every other two it is inside."""
    sides = zip(polygon, [*polygon[1:], polygon[0]], strict=True)
    return sorted(x1 + (y - y1) * (x2 - x1) / (y2 - y1) for (x1, y1), (x2, y2) in sides if (y1 > y) != (y2 > y))


def within(x: float, crossed: Sequence[float]) -> bool:
    """Whether a place on a level line lies in the polygon that the line crosses there (even-odd rule)."""
    return bisect_right(crossed, x) % 2 == 1


@record
class Grid:
    """An outline in character cells, as large as the cells that it fills."""

    outline: Outline
    columns: int
    rows: int

    @classmethod
    def of(cls, outline: Outline, cm_per_cell: float) -> "Grid":
        """The grid with ``cm_per_cell`` as the width of one character."""
        columns = max(1, round(outline.width / cm_per_cell))
        return cls(outline, columns, max(1, round(outline.height / cm_per_cell / CELL_ASPECT)))

    @property
    def cell(self) -> tuple[float, float]:
        """Width and height of a cell in cm."""
        return self.outline.width / self.columns, self.outline.height / self.rows

    def column(self, x: float) -> int:
        """Boundary between characters nearest to ``x``."""
        return round((x - self.outline.box[0]) / self.cell[0])

    def row(self, y: float) -> int:
        """Boundary between rows nearest to ``y``, counted from the top."""
        return round((self.outline.box[3] - y) / self.cell[1])

    def filled(self, *, plain: bool = False) -> list[str]:
        """Rows of characters that fill the outline; the edging in a lighter one."""
        marks = strokes(plain)
        left, bottom, right, top = self.outline.box
        across, down = self.cell
        places = [left + (column + dx) * across for column in range(self.columns) for dx in HALVES]
        # an edge that meets a quarter's middle counts at both sides
        places = [x + ((left + right) / 2 - x) * 1e-6 for x in places]
        lines = []
        for row in range(self.rows):
            edging = top - (row + 0.5) * down < bottom + self.outline.edging_cm
            line = ""
            upper, lower = (crossings(top - (row + dy) * down, self.outline.points) for dy in HALVES)
            above, below = ([within(x, crossed) for x in places] for crossed in (upper, lower))
            for at in range(0, len(places), 2):
                quarters = above[at] | above[at + 1] << 1 | below[at] << 2 | below[at + 1] << 3
                most = quarters.bit_count() >= 2
                if plain or (edging and most):
                    line += (marks.edging if edging else marks.cloth) if most else " "
                else:
                    line += BLOCKS[quarters]
            lines.append(line)
        return lines
