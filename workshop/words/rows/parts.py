"""The rows that are worked part by part, from marker to marker."""

from workshop.core.making.between_markers import parts_before, shape
from workshop.core.making.ledger import Piece, Row
from workshop.core.making.roles import SLEEVE, THE_FRONT
from workshop.words.rows.row_actions import is_kept, stitches


def opening(row: int, piece: Piece) -> int:
    """Stitches of the front on each side of a neck that opens in this round, its own decreases made."""
    parts = parts_before(row, piece)
    events = next((r.events for r in piece.rows if r.row == row), ())
    for event in events:
        shape(parts, event)
    front = sum(count for part, count in parts.items() if part.role is THE_FRONT.role)
    return (front - sum(e.stitches for e in events if e.where == "centre")) // 2


def joining(row: Row, piece: Piece) -> str:
    """The row that takes body and sleeves onto one needle, in the order in which it is worked."""
    under = next(e for e in row.events if e.do == "hold").stitches // 2
    parts = next((m.counts for m in piece.marks if m.what == "markers" and m.after_row == row.row), ())
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
    return f"divide, removing the markers as you come to them: {', '.join(steps)}. {stitches(row.after)}."
