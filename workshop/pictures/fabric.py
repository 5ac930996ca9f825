"""A swatch as its answers make it, and the same stitches before and after the wash, to one scale."""

from math import ceil

from workshop.pictures.canvas import Canvas, Picture, Texture, garter, knit
from workshop.pictures.wash import Washed
from workshop.records import record


@record
class Sample:
    """A swatch in stitches and rows, with its borders; shares of the size it will have in cm."""

    wide_cm: float
    high_cm: float
    stitches: int
    rows: int
    border_stitches: int
    border_rows: int
    bumps: int
    """Purl bumps that mark it."""
    on_needle: bool = False
    """Whether it is still to be knitted: then the needle is drawn above it."""


def swatch_picture(sample: Sample, columns: int, rows: int) -> Picture:
    """The swatch as large as there is room for, edged in garter where it has such edges; cast-on at the bottom."""
    needle = 1 if sample.on_needle else 0
    size = max(sample.wide_cm / (columns - 4), sample.high_cm / (2 * (rows - needle)))
    wide, high = max(8, round(sample.wide_cm / size)), max(6, round(sample.high_cm / size))
    high += high % 2
    canvas = Canvas(wide + 4, high // 2 + needle)
    top, left = 2 * needle, 2
    canvas.box(left, top, wide, high, knit())
    side = _part(sample.border_stitches, sample.stitches, wide)
    edge = _part(sample.border_rows, sample.rows, high)
    for x, y, w, h in (
        (0, 0, wide, edge), (0, high - edge, wide, edge), (0, 0, side, high), (wide - side, 0, side, high),
    ):  # fmt: skip
        canvas.box(left + x, top + y, w, h, _from(garter(), y))
    for i in range(sample.bumps):
        at = left + side + 2 + 3 * i
        if at < left + wide - side - 1:
            canvas.dot(at, top + high - edge - 2, "mark")
            canvas.dot(at + 1, top + high - edge - 2, "mark")
    if needle:
        canvas.box(0, 1, wide + 4, 1, lambda _x, _y: "wood")
    return canvas.lines()


def _from(texture: Texture, y0: int) -> Texture:
    """A texture that goes on from a row."""
    return lambda x, y: texture(x, y + y0)


def _part(part: int, whole: int, dots: int) -> int:
    return min(dots // 3, max(2, round(part / whole * dots))) if part and whole else 0


def wash_picture(cloth: Washed, columns: int, rows: int, before: str, after: str) -> Picture:
    """Before on the left, after on the right; a quiet edge stands where the cloth was, or where it has grown to."""
    room = (columns - 3) // 2
    widest, highest = max(cloth.width_before, cloth.width_after), max(cloth.height_before, cloth.height_after)
    size = max(widest / room, highest / (2 * (rows - 1)))
    rows = min(rows, ceil(round(highest / size) / 2) + 1)
    canvas = Canvas(columns, rows)
    floor = 2 * (rows - 1)
    was = round(cloth.width_before / size), round(cloth.height_before / size)
    now = round(cloth.width_after / size), round(cloth.height_after / size)
    second = max(was[0], now[0]) + 3
    for left, (wide, high) in ((0, was), (second, now)):
        canvas.box(left, floor - high, wide, high, knit())
    for x in range(was[0]):
        canvas.dot(second + x, floor - was[1], "mark")
    for y in range(was[1]):
        canvas.dot(second + was[0] - 1, floor - 1 - y, "mark")
    canvas.text(0, rows - 1, before, "quiet")
    canvas.text(second, rows - 1, after, "quiet")
    return canvas.lines()
