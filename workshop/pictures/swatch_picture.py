"""Pictures of a swatch: what to knit, with borders and mark; and a ruler laid on it for counting."""

from math import ceil
from typing import Literal

from workshop.pictures.blocks import CELL_ASPECT, ascii_only, dimension, strokes
from workshop.records import record

Mark = Literal["purl bumps", "eyelets"]

KNIT = "v"
MARKS = {False: {"purl bumps": "●", "eyelets": "○"}, True: {"purl bumps": "-", "eyelets": "o"}}
"""How a mark is drawn: in Unicode, and in ASCII."""


@record
class SwatchToKnit:
    """A swatch in counts: all stitches and rows, of them the garter borders, and the mark that tells it apart."""

    name: str
    stitches: int
    rows: int
    border_stitches: int
    border_rows: int
    marks: int
    mark: Mark = "purl bumps"
    rows_to_stitch: float = 1.3
    """How many rows are as high as a stitch is wide, for the picture's proportions."""
    knitted: bool = False
    """Whether the counts are those of the swatch in the hand, and not of the one to knit."""
    stitch: str = "stockinette"
    """What it is knitted in between its borders, in words."""

    @property
    def plain_stitches(self) -> int:
        """Stitches between the borders."""
        return max(0, self.stitches - 2 * self.border_stitches)

    @property
    def plain_rows(self) -> int:
        """Rows between the borders."""
        return max(0, self.rows - 2 * self.border_rows)


def swatch_text(swatch: SwatchToKnit, *, columns: int = 60, rows: int = 14, plain: bool = False) -> tuple[str, ...]:
    """The swatch as it is knitted, cast-on at the bottom, with the counts of its parts beside and below it.

    ``rows`` is the most lines for the cloth itself; name and counts take three more.
    """
    if swatch.stitches < 1 or swatch.rows < 1:
        return ()
    marks = strokes(plain)
    labels = _row_labels(swatch)
    mark = f"{counted(swatch.marks, swatch.mark)} to mark it" if swatch.marks else ""
    most_wide = columns - 4 - max(len(text) for text in (mark, *(text for _, _, text in labels)))
    per_line = CELL_ASPECT * swatch.rows_to_stitch  # rows to a line where a stitch is one character
    shrink = max(1.0, swatch.stitches / most_wide, swatch.rows / per_line / max(6, rows))
    wide = max(8, round(swatch.stitches / shrink))
    high = max(5, round(swatch.rows / per_line / shrink))
    side = _share(swatch.border_stitches, swatch.stitches, wide)
    edge = _share(swatch.border_rows, swatch.rows, high)
    lines = []
    for line in range(high):
        from_bottom = high - 1 - line
        garter = line < edge or from_bottom < edge
        cloth = marks.edging * wide if garter else marks.edging * side + KNIT * (wide - 2 * side) + marks.edging * side
        if from_bottom == edge and not garter:
            cloth = _marked(cloth, side, swatch, plain)
        lines.append(f"{cloth}  ")
    spans = ((0, edge), (edge, high - edge), (high - edge, high))
    for (first, last), (_, _, text) in zip(spans, labels, strict=True):
        if last > first:
            _bracket(lines, first, last, text, plain)
    if edge < high - edge - 1 and mark:
        lines[high - edge - 1] += f" {mark}"
    below = dimension(f"{swatch.stitches} stitches", wide, marks)
    inner = f"{swatch.border_stitches} garter + {swatch.plain_stitches} + {swatch.border_stitches} garter"
    heading = f"Swatch {swatch.name}".rstrip() + (", as you knitted it" if swatch.knitted else "")
    found = [heading, *lines, below, inner if swatch.border_stitches else "no garter edge"]
    return tuple(ascii_only(line) for line in found) if plain else tuple(found)


def counted(number: int, plural: str) -> str:
    """A number of things: ``1 eyelet``, ``2 purl bumps``."""
    return f"{number} {plural.removesuffix('s') if number == 1 else plural}"


def _share(part: int, whole: int, cells: int) -> int:
    """Cells for a border: at least one where there is one, and never more than a third."""
    return min(cells // 3, max(1, round(part / whole * cells))) if part else 0


def _row_labels(swatch: SwatchToKnit) -> tuple[tuple[int, int, str], ...]:
    """From the top: rows of a part, and what to write beside it."""
    border = (swatch.border_rows, swatch.border_rows, f"{swatch.border_rows} rows garter")
    return (border, (swatch.border_rows, swatch.plain_rows, f"{swatch.plain_rows} rows {swatch.stitch}"), border)


def _marked(cloth: str, side: int, swatch: SwatchToKnit, plain: bool) -> str:
    """The first plain row with its marks, every second stitch from the third on."""
    sign = MARKS[plain][swatch.mark]
    cells = list(cloth)
    for i in range(swatch.marks):
        at = side + 2 + 2 * i
        if at < len(cells) - side:
            cells[at] = sign
    return "".join(cells)


def _bracket(lines: list[str], first: int, last: int, text: str, plain: bool) -> None:
    marks = strokes(plain)
    for line in range(first, last):
        ends = marks.top if line == first else marks.bottom if line == last - 1 else marks.side
        lines[line] += marks.side if last - first == 1 else ends
    lines[(first + last - 1) // 2] += f" {text}"


@record
class Window:
    """A ruler laid on washed cloth: how many stitches (or rows) lie under so many cm or inches of it.

    ``starts_at`` is how much of the first one is left of the ruler's nought, 0 to below 1.
    """

    count: float
    over: int
    unit: Literal["cm", "in"] = "cm"
    along: Literal["stitches", "rows"] = "stitches"
    starts_at: float = 0.0
    repeat: int = 0
    """Stitches after which a purl one comes, in a pattern of knit columns; 0 for plain cloth."""


def window_text(
    window: Window, *, columns: int = 60, lines: int = 4, plain: bool = False, tell: bool = True
) -> tuple[str, ...]:
    """The cloth between two pins with the ruler below it; for rows the cloth lies on its side.

    ``tell`` writes the count below; without it the picture is one to count by oneself. A stitch is two to four
    characters wide where there is room, so that halves can be seen.
    """
    if window.count <= 0 or window.over < 1:
        return ()
    room = columns - 4 - len(window.unit)  # the unit stands behind the last figure of the ruler
    per_one = min(4, int(room / window.count))
    if per_one < 1:  # there is no room for all of them, and fewer would be a lie
        return ()
    wide = max(2, min(room, ceil(window.count * per_one - 0.5)))
    cell = _cell(window.along, per_one)
    skip = round(window.starts_at * per_one) % per_one
    cells = [cell] * (wide // per_one + 3)
    if window.repeat:
        purl = "-" * max(1, per_one - 1) + " " * (per_one > 1)
        cells = [purl if n % window.repeat == window.repeat - 1 else cell for n in range(len(cells))]
    strip = "".join(cells)[skip : skip + wide]
    if per_one == 1 and 0.25 <= window.count % 1 <= 0.5:  # the half that is left over
        strip = strip[: room - 1] + "\\"
        wide = len(strip)
    pin = strokes(plain).side
    found = [f" {pin}{strip}{pin}" for _ in range(lines)] + _ruler(window, wide, plain)
    if tell:
        found.append(_told(window))
    return tuple(ascii_only(line) for line in found) if plain else tuple(found)


def _cell(along: str, width: int) -> str:
    """One stitch, or one row of cloth that lies on its side, in so many characters."""
    if along == "rows":
        return "<" if width == 1 else "<" + " " * (width - 1)
    return {1: "v", 2: "\\/", 3: "\\/ ", 4: "\\  /"}[width]


def _ruler(window: Window, wide: int, plain: bool) -> list[str]:
    """The ruler from pin to pin: a tick for each cm or inch, with as many figures as there is room for."""
    marks = strokes(plain)
    ticks = [round(i * (wide + 1) / window.over) for i in range(window.over + 1)]
    scale = [marks.line] * (wide + 2)
    last = str(window.over)
    figures = " " * (wide + 2 - len(last)) + last
    every = next((e for e in (1, 2, 5, 10, 20, 50) if e * wide / window.over >= 4), window.over)
    for i, at in enumerate(ticks):
        scale[at] = marks.top
        end = at + len(str(i))
        if i % every == 0 and not figures[at : end + 1].strip():
            figures = figures[:at] + str(i) + figures[end:]
    return [" " + "".join(scale), f" {figures} {window.unit}"]


def _told(window: Window) -> str:
    """The count in quarters, as it can be counted."""
    quarters = round(window.count * 4)
    whole, part = divmod(quarters, 4)
    shown = f"{whole or ''}{('', '¼', '½', '¾')[part]}" or "0"
    lies = ", turned sideways" if window.along == "rows" else ""
    return f" {shown} {window.along} in {window.over} {window.unit}{lies}"
