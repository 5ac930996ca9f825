"""A figure with the tape where a measure is taken, from the front or from the back.

The figure is stored, in hundredths of its height from the thighs up; it is nobody's in particular.
"""

from itertools import pairwise

from workshop.pictures.canvas import Canvas, Picture, fill, flat
from workshop.pictures.outline import Point

HEAD: tuple[Point, ...] = ((0, 102), (5.5, 101.5), (8, 98), (8, 91), (6.5, 87), (4, 84), (0, 83))
TRUNK: tuple[Point, ...] = (
    (0, 84), (3.6, 84), (3.8, 80), (8, 78), (15.5, 75.5), (18, 72), (17, 66), (15, 60), (12.6, 50), (13.5, 42),
    (16.5, 32), (16.8, 22), (15.5, 4), (2, 4), (1, 19), (0, 20),
)  # fmt: skip
ARM: tuple[Point, ...] = (
    (15.5, 75.5), (19.5, 72.5), (22, 64), (24, 52), (27, 36), (28.5, 27), (25, 25.5), (23.5, 34), (20.5, 50),
    (17.5, 63), (16, 68),
)  # fmt: skip
"""Halves of it, on the right in the picture."""

HALF, HIGH, WAIST, THIGHS = 29.0, 102.0, 42.0, 20.0
"""Half its width, its top, and where it ends: at the waist for what is measured above it."""

GAP, BOTH_FROM = 3, 26
"""Columns between front and back, and those from which both are drawn."""

NECK_BONE: Point = (0, 79)

TAPES: dict[str, tuple[str, tuple[Point, ...]]] = {
    "chest": ("front", ((-17, 63), (17, 63))),
    "high_bust": ("front", ((-17.5, 68.5), (17.5, 68.5))),
    "waist": ("front", ((-13, 49), (13, 49))),
    "hip": ("front", ((-17, 28), (17, 28))),
    "upper_arm": ("front", ((17, 61.5), (23, 63))),
    "wrist": ("front", ((23, 34), (28, 35))),
    "sleeve_underarm": ("front", ((16.5, 66), (20.5, 50), (24, 34))),
    "neck": ("front", ((-4, 81.5), (4, 81.5))),
    "head": ("front", ((-7, 95), (7, 95))),
    "cross_back": ("back", ((-16, 71), (16, 71))),
    "back_waist": ("back", (NECK_BONE, (0, 49))),
    "armhole_depth": ("back", (NECK_BONE, (0, 66), (-16, 66), (16, 66))),
    "neck_to_cuff": ("back", (NECK_BONE, (8, 78), (17.5, 74.5), (22, 55), (26.5, 34))),
}
"""For each measure the side on which it is seen, and the way of the tape."""

SIDES = ("front", "back")


def figure_picture(measure: str, columns: int, rows: int) -> Picture:
    """Front and back, with the tape at one measure; without any where none is known by that name.

    Where there is no room for both, the side with the tape.
    """
    side, way = TAPES.get(measure, ("", ()))
    low = WAIST if way and min(y for _, y in way) > WAIST else THIGHS
    shown = SIDES if columns >= BOTH_FROM else (side or "front",)
    size = max((HIGH - low) / (2 * rows - 2), 2 * HALF * len(shown) / (columns - GAP))
    wide = round(2 * HALF / size)
    rows = min(rows, round((HIGH - low) / size) // 2 + 1)
    canvas = Canvas((wide + GAP) * len(shown) - GAP, rows)
    for i, name in enumerate(shown):
        middle = i * (wide + GAP) + wide / 2
        for part in (HEAD, TRUNK, ARM):
            for sign in (1, -1):
                fill(canvas, [(middle + sign * x / size, (HIGH - y) / size) for x, y in part], flat("body"))
        if name == side:
            points = [(middle + x / size, (HIGH - y) / size) for x, y in way]
            for a, b in pairwise(points):
                canvas.line(a, b, "body-tape")
        for x in range(int(middle - wide / 2), int(middle + wide / 2) + 1):
            canvas.dot(x, 2 * rows - 2, "")
            canvas.dot(x, 2 * rows - 1, "")
        canvas.text(round(middle - len(name) / 2), rows - 1, name, "quiet")
    return canvas.lines()
