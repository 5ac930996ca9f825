"""Fronts, back and sleeves between their markers, and the rows that are worked part by part."""

from workshop.core.making.centre_panels import is_of_panel, line_of
from workshop.core.making.ledger import ADDS, Event, Mark, Piece, Row
from workshop.core.making.raglan_lines import PER_SHAPING, added_along_lines
from workshop.core.making.roles import LEFT_FRONT, RIGHT_FRONT, SLEEVE, THE_FRONT, Section
from workshop.words.rows.row_actions import is_kept, stitches


def parts_before(row: int, piece: Piece) -> dict[Section, int]:
    """Stitches of each part before a row, in the order of a right-side row: as they were marked, and shaped since."""
    marked = _last_marked(row, piece)
    if marked is None:
        return {}
    parts = dict(marked.counts)
    for done in (r for p in piece.lineage() for r in p.rows):
        if marked.after_row < done.row < row:
            for event in done.events:
                _shape(parts, event)
    return parts


def _last_marked(row: int, piece: Piece) -> Mark | None:
    marks = [m for p in piece.lineage() for m in p.marks if m.what == "markers" and m.after_row < row]
    return marks[-1] if marks else None


def _shape(parts: dict[Section, int], event: Event) -> None:
    """What one event does to the parts: in a panel, at raglan lines, at a neck edge, or where a neck closes."""
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


def opening(row: int, piece: Piece) -> int:
    """Stitches of the front on each side of a neck that opens in this round, its own decreases made."""
    parts = parts_before(row, piece)
    events = next((r.events for r in piece.rows if r.row == row), ())
    for event in events:
        _shape(parts, event)
    return (parts[THE_FRONT] - sum(e.stitches for e in events if e.where == "centre")) // 2


def joining(row: Row, piece: Piece) -> str:
    """The row that takes body and sleeves onto one needle, in the order in which it is worked."""
    under = next(e for e in row.events if e.do == "hold").stitches // 2
    parts = next(m for m in piece.marks if m.what == "markers" and m.after_row == row.row).counts
    steps = []
    if piece.worked == "round":
        steps.append(f"put the {stitches(under // 2)} on each side of the left marker on a holder")
    for part, count in parts:
        if part.role is SLEEVE and part != parts[-1][0]:  # a round ends with the left sleeve: its underarm is held
            steps.append(f"put {under} (body) on a holder")
        steps.append(f"{'work' if is_kept(piece, row) else 'knit'} {count} ({part.name})")
    return f"join body and sleeves on one needle: {', '.join(steps)}. {stitches(row.after)}."


def parting(row: Row, piece: Piece) -> str:
    """The row that parts a yoke from the neck: sleeves go on holders, and the body closes below them."""
    cast_on = sum(e.stitches for e in row.events if e.do == "cast-on") // 2
    parts = list(parts_before(row.row, piece).items())
    verb = "work" if is_kept(piece, row) else "purl" if row.side == "WS" else "knit"
    steps = []
    for part, count in reversed(parts) if row.side == "WS" else parts:
        if part.role is SLEEVE:
            steps.append(f"put {count} ({part.name}) on a holder, cast on {cast_on}")
        else:
            steps.append(f"{verb} {count} ({part.role.word if piece.worked == 'round' else part.name})")
    return f"divide, and take off the markers as you come to them: {', '.join(steps)}. {stitches(row.after)}."
