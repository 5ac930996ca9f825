"""A piece of cloth before and after the wash, to the same scale."""

from collections.abc import Callable
from math import ceil

from workshop.pictures.blocks import CELL_ASPECT, ascii_only, dimension, strokes
from workshop.records import record

Show = Callable[[float], str]

GAP = 4

PARTS_ACROSS = " ▏▎▍▌▋▊▉█"
PARTS_UP = " ▁▂▃▄▅▆▇█"
"""A cell filled by eighths, from the left and from the bottom."""

GHOST = "·"
"""Where cloth was before the wash and is no longer."""


@record
class Washed:
    """Width and height in cm of the same stitches and rows before and after the wash."""

    width_before: float
    height_before: float
    width_after: float
    height_after: float


def wash_text(
    cloth: Washed,
    show: Show,
    *,
    columns: int = 60,
    rows: int = 12,
    plain: bool = False,
    after: str = "After washing",
) -> tuple[str, ...]:
    """Before and after side by side; dots stand where cloth was before and is no longer."""
    if min(cloth.width_before, cloth.height_before, cloth.width_after, cloth.height_after) <= 0:
        return ()
    say: Show = (lambda cm: ascii_only(show(cm))) if plain else show
    room = (columns - GAP) / 2 - 2
    widest, highest = max(cloth.width_before, cloth.width_after), max(cloth.height_before, cloth.height_after)
    cm = max(widest / room, highest / rows / CELL_ASPECT)
    sizes = [
        (cloth.width_before / cm, cloth.height_before / cm / CELL_ASPECT),
        (cloth.width_after / cm, cloth.height_after / cm / CELL_ASPECT),
    ]
    wide, high = (max(1, ceil(max(side) - 1e-9)) for side in zip(*sizes, strict=True))
    was, now = (_rectangle(w, h, wide, high, plain=plain) for w, h in sizes)
    now = _with_ghost(now, was, plain)
    words = [
        (say(cloth.width_before), say(cloth.height_before)),
        (say(cloth.width_after), say(cloth.height_after)),
    ]
    left = _labelled("Before washing", was, sizes[0], words[0], plain)
    right = _labelled(after, now, sizes[1], words[1], plain)
    first = max(map(len, left))
    lines = [f"{a:<{first}}{' ' * GAP}{b}".rstrip() for a, b in zip(left, right, strict=True)]
    dot = "." if plain else GHOST
    if any(dot in line for line in now):
        lines.append(f"{dot * 3} where the fabric was before washing")
    return tuple(lines)


def _rectangle(width: float, height: float, columns: int, rows: int, *, plain: bool) -> list[str]:
    """A filled rectangle, standing at the lower left of its room, to an eighth of a cell."""
    lines = []
    for line in range(rows):
        up = min(1.0, max(0.0, height - (rows - 1 - line)))
        if plain:
            lines.append(("#" * round(width) if up >= 0.5 else "").ljust(columns))
            continue
        whole, part = int(width), round(width % 1 * 8)
        if up >= 1.0:
            text = "█" * whole + (PARTS_ACROSS[part] if part else "")
        else:
            text = PARTS_UP[round(up * 8)] * (whole + (1 if part >= 4 else 0))
        lines.append(text.ljust(columns)[:columns])
    return lines


def _with_ghost(after: list[str], before: list[str], plain: bool) -> list[str]:
    ghost = "." if plain else GHOST
    return [
        "".join(ghost if b == " " and a != " " else b for a, b in zip(old, new, strict=True))
        for old, new in zip(before, after, strict=True)
    ]


def _labelled(
    title: str, drawn: list[str], size: tuple[float, float], words: tuple[str, str], plain: bool
) -> list[str]:
    """Title above, a bracket of the height beside, the width below, and the height in words."""
    marks = strokes(plain)
    top, bottom = len(drawn) - max(1, round(size[1])), len(drawn) - 1
    lines = [title]
    for i, line in enumerate(drawn):
        bracket = marks.top if i == top else marks.bottom if i == bottom else marks.side if i > top else ""
        lines.append(f"{line} {bracket}")
    wide, high = words
    line = dimension(wide, max(2, round(size[0])), marks)
    return [*lines, line, f"{wide} wide, {high} high"]
