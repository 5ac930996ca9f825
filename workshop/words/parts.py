"""Fronts, back and sleeves between their markers, and the rows that are worked part by part."""

from collections.abc import Sequence

from workshop.core.making.ledger import ADDS, Event, Mark, Piece, Row, rows_from_cast_on
from workshop.words.deeds import LINES, stitches

ONE_LINE = ("left front", "right front")
"""Parts with a raglan line at one end only; all others have one at both."""


def parts_before(row: int, piece: Piece, pieces: Sequence[Piece]) -> dict[str, int]:
    """Stitches of each part before a row, in the order of a right-side row: as they were marked, and shaped since."""
    marked = _last_marked(row, piece, pieces)
    if marked is None:
        return {}
    parts = dict(marked.counts)
    for done in rows_from_cast_on(pieces, piece):
        if marked.after_row < done.row < row:
            for event in done.events:
                _shape(parts, event)
    return parts


def _last_marked(row: int, piece: Piece, pieces: Sequence[Piece]) -> Mark | None:
    marks = [m for m in piece.marks if m.what == "markers" and m.after_row < row]
    parent = next((p for p in pieces if p.name == piece.came_from), None)
    return marks[-1] if marks else _last_marked(row, parent, pieces) if parent else None


def _shape(parts: dict[str, int], event: Event) -> None:
    """What one event does to the parts: at raglan lines, at a neck edge, or where a neck closes."""
    sign = ADDS.get(event.do, 0)
    if event.line in LINES:
        each = sign * event.stitches // LINES[event.line][1]
        for name in parts:
            if event.line != ("body side" if "sleeve" in name else "sleeve side"):
                parts[name] += each * (1 if name in ONE_LINE else 2)
    elif event.where in ("neck-left", "neck-right") and ONE_LINE[0] in parts:
        parts[f"{event.where.removeprefix('neck-')} front"] += sign * event.stitches
    elif event.where == "centre" and "right front" in parts:  # cast on after it, at the end of the round
        parts["right front"] += sign * event.stitches


def opening(row: int, piece: Piece, pieces: Sequence[Piece]) -> int:
    """Stitches of the front on each side of a neck that opens in this round, its own decreases made."""
    parts = parts_before(row, piece, pieces)
    events = next((r.events for r in piece.rows if r.row == row), ())
    for event in events:
        _shape(parts, event)
    return (parts["front"] - sum(e.stitches for e in events if e.where == "centre")) // 2


def joining(row: Row, piece: Piece) -> str:
    """The row that takes body and sleeves onto one needle, in the order in which it is worked."""
    under = next(e for e in row.events if e.do == "hold").stitches // 2
    parts = next(m for m in piece.marks if m.what == "markers" and m.after_row == row.row).counts
    steps = []
    if piece.worked == "round":
        steps.append(f"put the {stitches(under // 2)} on each side of the left marker on a holder")
    for name, count in parts:
        if "sleeve" in name and name != parts[-1][0]:  # a round ends with the left sleeve: its underarm is held already
            steps.append(f"put {under} (body) on a holder")
        steps.append(f"knit {count} ({name})")
    return f"join body and sleeves on one needle: {', '.join(steps)}. {stitches(row.after)}."


def parting(row: Row, piece: Piece, pieces: Sequence[Piece]) -> str:
    """The row that parts a yoke from the neck: sleeves go on holders, and the body closes below them."""
    cast_on = sum(e.stitches for e in row.events if e.do == "cast-on") // 2
    parts = list(parts_before(row.row, piece, pieces).items())
    verb = "purl" if row.side == "WS" else "knit"
    steps = []
    for name, count in reversed(parts) if row.side == "WS" else parts:
        if "sleeve" in name:
            steps.append(f"put {count} ({name}) on a holder, cast on {cast_on}")
        else:
            steps.append(f"{verb} {count} ({name.split()[-1] if piece.worked == 'round' else name})")
    return f"divide: {', '.join(steps)}. {stitches(row.after)}."
