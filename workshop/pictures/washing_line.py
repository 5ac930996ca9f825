"""A class as sweaters on a washing line: a peg for every step, and under it the sweaters that are there."""

from collections.abc import Sequence
from typing import Literal

from workshop.pictures.elements import document, text
from workshop.records import record

Look = Literal["begun", "ready", "knitting", "closed"]
"""How a sweater is drawn: an outline, one with its stitches planned, half knitted, or one that cannot be seen."""


@record
class Peg:
    """A step, and whose sweaters hang there."""

    name: str
    who: tuple[str, ...]
    look: Look = "begun"


COLUMNS = 76
"""How wide the lines of text are."""


def line_text(pegs: Sequence[Peg]) -> tuple[str, ...]:
    """A line of text for each step with somebody in it, with a dot for each sweater."""
    there = [p for p in pegs if p.who]
    label = max((len(p.name) for p in there), default=0) + 2
    lines: list[str] = []
    dots = min(max((len(p.who) for p in there), default=0), 12)
    for peg in there:
        count = "●" * len(peg.who) if len(peg.who) <= dots else str(len(peg.who))
        begin = f"{peg.name:<{label}}{count:<{dots}}  "
        lines += _listed(begin, peg.who)
    return tuple(lines)


def _listed(begin: str, names: Sequence[str]) -> list[str]:
    """Names after the beginning of a line, going on under one another; none is parted."""
    lines, line = [], begin
    for i, name in enumerate(names):
        text = f"{name}{',' if i + 1 < len(names) else ''} "
        if len(line) > len(begin) and len(line) + len(text) > COLUMNS:
            lines.append(line.rstrip())
            line = " " * len(begin)
        line += text
    return [*lines, line.rstrip()]


# ── on paper ─────────────────────────────────────────────────────────────────────────────────────────

WIDE, TOP, ROW, LETTER = 266.0, 17.0, 13.5, 2.7
"""Millimetres: the drawing, where sweaters begin, one of them with its name, and a letter's height."""

MOST_UNDER_A_PEG = 10
"""Sweaters that hang below one another; more of them are a page of their own."""

SWEATER = "M-1.5-3.4Q0-2.2 1.5-3.4L2.6-3.1L5-.2L3.5 1.1L2.4-.1V3.6H-2.4V-.1L-3.5 1.1L-5-.2L-2.6-3.1Z"
KNITTED = "M-2.4.4H2.4V3.6H-2.4Z"
DASHES = {"closed": ' stroke-dasharray="1 .8"'}


def line_svg(pegs: Sequence[Peg], title: str) -> str:
    """The same drawn, in black on white; empty where more hang under a peg than a page is high."""
    there = [p for p in pegs if p.who]
    high = max((len(p.who) for p in there), default=0)
    if not there or high > MOST_UNDER_A_PEG:
        return ""
    step, height = WIDE / len(there), TOP + ROW * high + 1
    body = [f'<path d="M0 3Q{WIDE / 2} 11 {WIDE} 3" fill="none" stroke="black" stroke-width=".5"/>']
    for i, peg in enumerate(there):
        x = step * (i + 0.5)
        y = 3 + 16 * (x / WIDE) * (1 - x / WIDE)  # on the line
        body.append(f'<rect x="{x - 0.8:.2f}" y="{y - 2:.2f}" width="1.6" height="5" rx=".5" fill="black"/>')
        body.append(text(x, y + 7, peg.name, "3.4", bold=True))
        for n, name in enumerate(peg.who):
            body += _sweater(x, TOP + ROW * n + 4, name, peg.look, step)
    return document(f"{WIDE:.0f}", f"{height:.0f}", title, body, box=f"{WIDE:.0f} {height:.1f}")


FILLS = {"begun": "white", "ready": "#bbb", "knitting": "white", "closed": "white"}


def _sweater(x: float, y: float, name: str, look: Look, room: float) -> list[str]:
    """One sweater with its name below it; half knitted, its lower half is dark."""
    at = f'transform="translate({x:.2f} {y:.2f})"'
    drawn = [
        f'<path {at} d="{SWEATER}" fill="{FILLS[look]}" stroke="black" stroke-width=".35" '
        f'stroke-linejoin="round"{DASHES.get(look, "")}/>'
    ]
    if look == "knitting":
        drawn.append(f'<path {at} d="{KNITTED}" fill="black"/>')
    most = max(4, int(room / (0.5 * LETTER)))
    short = name if len(name) <= most else f"{name[: most - 1].rstrip()}…"
    return [*drawn, text(x, y + 7, short, f"{LETTER}")]
