"""Lengths and the rows of a repeat: where the pattern stands at underarm and top, and lengths that end on a whole one.

Nothing is moved without being asked: lengths are offered, at most half a repeat away. A sleeve that would have to begin
on a row of crossings or decreases begins with plain rows.
"""

from collections.abc import Mapping

from workshop.core.fabric.keeping import landmark
from workshop.core.fabric.patterns import Pattern, SetPattern
from workshop.core.fabric.written import groups_of
from workshop.core.garments import Garment
from workshop.core.making import roles
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Piece
from workshop.core.notes import Notes
from workshop.core.remarks import Amount, Value, cm

NOT_SEEN = 2
"""Rows of a repeat up to which nobody sees where it ends (common practice, no source)."""

WORTH_CM = 1.0
"""Change of a length below which a whole repeat is offered (common practice, no source)."""


def plain_before(pattern: Pattern, first_row: int) -> int:
    """Plain rows to work first where a piece would begin with a later row of a pattern that crosses or decreases."""
    groups = groups_of(pattern)
    if groups is None or first_row == 1:
        return 0
    return next((n for n in range(len(groups)) if not groups[(first_row - 1 + n) % len(groups)]), 0)


def to_whole(rows: int, repeat: int) -> int | None:
    """Rows more (or fewer, if negative) to the nearest whole repeat; in pairs, so that sides stay. None for no such."""
    rest = rows % repeat
    nearest = min((-rest, repeat - rest), key=abs)
    return nearest if nearest % 2 == 0 else None


def check_rows(made: Garment, found: Mapping[str, SetPattern], cloth: Cloth, notes: Notes) -> None:
    """Say which row of the pattern comes last at the underarm and at the top, and which lengths end it there."""
    first = made.first(roles.BODY) or made.first(roles.BACK)
    body = next(first.lineage()) if first is not None else None
    after = landmark(body) if body is not None else None
    if body is None or after is None or body.name not in found or body.role in roles.YOKES:
        return
    repeat, top = found[body.name].repeat_rows, _top(made, body)
    if repeat <= NOT_SEEN or top.name not in found:
        return
    values: dict[str, Value] = {"pattern": found[body.name].pattern.name, "rows": Amount(repeat, "")}
    for name, piece, last in (("underarm", body, after), ("top", top, top.last_row)):
        done = [at.row for number, at in found[piece.name].rows if number <= last]
        if not done:
            return
        values[name] = Amount(done[-1], "")
        more = to_whole(done[-1], repeat)
        if more and abs(cloth.along_cm(more)) < WORTH_CM:
            values[f"{name}_length"] = cm(made.finished_cm["length"] + cloth.along_cm(more))
    offered = {"underarm_length", "top_length"} & values.keys()
    notes.check("pattern-rows.offered" if offered else "pattern-rows", **values)


def _top(made: Garment, body: Piece) -> Piece:
    """The last piece that grows from a body, up to a shoulder or a neck."""
    piece = body
    while growing := [p for p in made.growing_from(piece) if not p.role.band]:
        piece = growing[0]
    return piece


def check_sleeve(sleeve: Piece, pattern: Pattern, first_row: int, cloth: Cloth, made: Garment, notes: Notes) -> int:
    """The plain rows that a sleeve begins with; if it has any, why, and a length with which it begins on row 1."""
    plain = plain_before(pattern, first_row)
    if plain and sleeve.side != "right":
        repeat = pattern.rows_in(sleeve.worked)
        more = min(first_row - 1, first_row - 1 - repeat, key=abs)
        length = made.finished_cm["sleeve"] + cloth.along_cm(more)
        figures: dict[str, Value] = {
            "row": Amount(first_row, ""),
            "rows": Amount(repeat, ""),
            "plain": Amount(plain, "rows"),
        }
        notes.check("pattern-begins-within", pattern=pattern.name, length=cm(length), **figures)
    return plain
