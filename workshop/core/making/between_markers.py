"""How many stitches fronts, back and sleeves have between their markers, row by row."""

from typing import TypeVar

from workshop.core.making.centre_panels import is_of_panel, line_of
from workshop.core.making.ledger import ADDS, Event, Mark, Piece
from workshop.core.making.raglan_lines import PER_SHAPING, added_along_lines
from workshop.core.making.roles import LEFT_FRONT, RIGHT_FRONT, SLEEVE, Section

Stitches = TypeVar("Stitches", int, float)


def parts_before(row: int, piece: Piece) -> dict[Section, int]:
    """Stitches of each part before a row, in the order of a right-side row: as they were marked, and shaped since."""
    marked = _last_marked(row, piece)
    if marked is None:
        return {}
    parts = dict(marked.counts)
    for done in (r for p in piece.lineage() for r in p.rows):
        if marked.after_row < done.row < row:
            for event in done.events:
                shape(parts, event)
    return parts


def to_the_side(yoke: Piece) -> int:
    """Stitches from the beginning of the rounds of a yoke from the neck to the middle of the left underarm."""
    row = yoke.rows[-1]
    first, count = next(iter(parts_before(row.row, yoke).items()))
    under = sum(e.stitches for e in row.events if e.do == "cast-on") // 2
    return (0 if first.role is SLEEVE else count) + under // 2


def _last_marked(row: int, piece: Piece) -> Mark | None:
    marks = [m for p in piece.lineage() for m in p.marks if m.what == "markers" and m.after_row < row]
    return marks[-1] if marks else None


def shape(parts: dict[Section, Stitches], event: Event) -> None:
    """Change the parts by one event: in a panel, at raglan lines, at a neck edge, or where a neck closes."""
    sign = ADDS.get(event.do, 0)
    if is_of_panel(event):
        for part in parts:
            parts[part] += event.change if line_of(part) == event.line else 0
    elif event.line in PER_SHAPING:
        for part in parts:
            parts[part] += added_along_lines(event, part)
    elif event.where in ("neck-left", "neck-right") and LEFT_FRONT in parts:
        parts[LEFT_FRONT if event.where == "neck-left" else RIGHT_FRONT] += sign * event.stitches
    elif event.where == "centre" and RIGHT_FRONT in parts:  # cast on after it, at the end of the round
        parts[RIGHT_FRONT] += sign * event.stitches
