"""What of a stitch pattern is not worked at an edge: crossings that lack a stitch, yarn overs without their decrease.

A row is a stretch of stitches that the pattern runs over, or several where it divides or markers part it, less what
shaping in that row uses. A group of stitches (``written.py``) that such a stretch cuts is worked plain. So is what
lies outside the whole repeats of a piece that has plain sides. Derived; held by knitting it stitch by stitch from the
words (tests/test_cells.py).
"""

from collections.abc import Iterator, Sequence

from workshop.core.fabric.keeping import right_edge
from workshop.core.fabric.parts import ends_shaped, run_on
from workshop.core.fabric.patterns import PatternPart, SetPattern
from workshop.core.fabric.written import Group, groups_of
from workshop.core.making import roles
from workshop.core.making.ledger import Event, Piece, Row
from workshop.records import record

NO_MOTIF = 2
"""Stitches of a repeat up to which nobody sees where its middle is, or counts repeats (common practice, no source)."""


@record
class Plain:
    """Stitches that are worked plain at the beginning and at the end of a stretch, as the row is worked."""

    first: int
    last: int
    part: roles.Section | None = None
    """The part between markers that the stretch is; None where no marker parts the row."""
    whole: bool = False
    """Whether that is all of it: no whole repeat has room."""


@record
class _Stretch:
    """Stitches next to each other, as the right side shows them; the first of them is ``column`` of the repeat."""

    column: int
    stitches: int
    part: roles.Section | None = None


def plain_rows(piece: Piece, rows: Sequence[Row]) -> dict[int, tuple[Plain, ...]]:
    """Those of some rows in which something is worked plain, stretch by stretch; {} where it is not known what."""
    found = piece.pattern
    groups = groups_of(found.pattern, found.repeat_rows) if found else None
    if found is None or found.plain_sides or groups is None or not known_edges(piece):
        return {}
    told = {}
    for row in rows:
        where = found.at(row.row)
        of_row = groups[(where.row - 1) % len(groups)] if where else ()
        if where and of_row:
            plain = _plain(piece, found, of_row, row, where.first_stitch - 1)
            if any(p.first or p.last for p in plain):
                told[row.row] = plain
    return told


def plain_sides(piece: Piece, rows: Sequence[Row]) -> dict[int, tuple[Plain, ...]]:
    """Those of some rows from which other columns are plain beside whole repeats; {} without plain sides.

    They hold for rows from both sides, so they're told as a right-side row comes to them.
    """
    found = piece.pattern
    if found is None or not found.plain_sides or not known_edges(piece):
        return {}
    told: dict[int, tuple[Plain, ...]] = {}
    before: list[_Repeats] | None = None
    for row, ends, plain in _beside_repeats(piece, found, rows[-1].row):
        if ends != before and row.row >= rows[0].row:
            once = len(plain) > 1 and plain[0].part is None  # where a neck divides it: no other row goes on like that
            told[row.row] = tuple(map(_turned, reversed(plain))) if once and row.side == "WS" else tuple(plain)
        before = ends
    return told


_Repeats = tuple[int, int]
"""The column with which whole repeats begin, and that after their last; the same where none has room."""


def _beside_repeats(
    piece: Piece, found: SetPattern, last_row: int
) -> Iterator[tuple[Row, list[_Repeats], list[Plain]]]:
    """Of each row up to ``last_row`` the whole repeats between plain sides, and what is plain, from the right.

    A repeat that has gone comes back where it stays for all its rows, not between two decreases.
    """
    rows, room, column = [], [], found.first_stitch - 1
    for row in piece.rows:
        if row.row > last_row + found.repeat_rows:
            break
        if found.at(row.row) is not None:
            rows.append((row, _stretches(piece, row, column)))
            cuts = ((s, _cut(s, found, (), written=False)) for s in rows[-1][1])
            room.append([(0, 0) if p.whole else (s.column + p.first, s.column + s.stitches - p.last) for s, p in cuts])
            column += _lost(piece, row) - sum(e.stitches // 2 for e in row.events if e.do == "pick-up")
    before: list[_Repeats] = []
    for at, (row, stretches) in enumerate(rows):
        if row.row > last_row:
            return
        coming = [ends for ends in room[at : at + found.repeat_rows] if len(ends) == len(stretches)]
        if len(before) == len(stretches):
            before = [_come_back(was, [ends[n] for ends in coming], found) for n, was in enumerate(before)]
        else:
            before = room[at]
        yield row, before, [_beside(s, *ends) for s, ends in zip(stretches, before, strict=True)]


def _come_back(was: _Repeats, coming: Sequence[_Repeats], found: SetPattern) -> _Repeats:
    """Whole repeats in a row after one that had ``was``; ``coming``: those with room in it and in the rows after it."""
    first, last = coming[0]
    none = 0, 0
    staying = max(ends[0] for ends in coming), min(ends[1] for ends in coming)
    stays = all(begin < end for begin, end in coming) and staying[0] < staying[1]
    worked = [ends for ends in (was, staying if stays else was) if ends[0] < ends[1]]
    if first >= last or not worked:
        return none
    begin, end = max(first, min(e[0] for e in worked)), min(last, max(e[1] for e in worked))
    return (begin, end) if end - begin >= found.pattern.multiple + found.pattern.plus else none


def _beside(stretch: _Stretch, begin: int, end: int) -> Plain:
    if begin >= end:
        return Plain(max(0, stretch.stitches), 0, stretch.part, whole=True)
    return Plain(begin - stretch.column, stretch.column + stretch.stitches - end, stretch.part)


def whole_repeats(piece: Piece, rows: Sequence[Row]) -> list[tuple[int, int]]:
    """Those of some rows that have another number of whole repeats than the row of the pattern before; with it.

    None where markers part the pattern.
    """
    found = piece.pattern
    if found is None or found.pattern.multiple <= NO_MOTIF or not counts_repeats(piece):
        return []
    told, before, multiple = [], -1, found.pattern.multiple
    between = _beside_repeats(piece, found, rows[-1].row) if found.plain_sides else ()
    beside = {row.row: ends for row, ends, _ in between}
    for row in piece.rows:
        if row.row > rows[-1].row:
            break
        where = found.at(row.row)
        if where is None:
            continue
        many = (
            sum(max(0, end - begin - found.pattern.plus) // multiple for begin, end in beside[row.row])
            if found.plain_sides
            else _whole_in(piece, found, row, where.first_stitch - 1)
        )
        if many != before and row.row >= rows[0].row:
            told.append((row.row, many))
        before = many
    return told


def _whole_in(piece: Piece, found: SetPattern, row: Row, column: int) -> int:
    """Whole repeats in a row; of a round that closes, also the one over its beginning."""
    multiple = found.pattern.multiple
    if row.before % multiple == 0 and _goes_around(piece) and not _cut_by_the_round(found, column):
        return row.before // multiple
    return max(0, (_inside(piece, row.before) - -column % multiple) // multiple)


def _goes_around(piece: Piece) -> bool:
    """Whether the last stitch of a round and the first of the next stay neighbors: nothing is shaped between them."""
    return piece.worked == "round" and not any(e.where == "both" for row in piece.rows for e in row.events)


def _cut_by_the_round(found: SetPattern, column: int) -> bool:
    """Whether something lies over the beginning of a round that closes, so that it is worked plain there."""
    multiple = found.pattern.multiple
    groups = (group for row in groups_of(found.pattern, found.repeat_rows) or () for group in row)
    return any(0 < (column - group.start) % multiple < group.width for group in groups)


def parts_begin(piece: Piece, rows: Sequence[Row]) -> tuple[int, tuple[PatternPart, ...]] | None:
    """The row, of some, in which parts begin that the pattern does not run on over, and those parts; else None."""
    found = piece.pattern
    number = next((n for n in found.parts), None) if found else None
    if found is None or number is None or counts_repeats(piece) or not rows[0].row <= number <= rows[-1].row:
        return None
    if piece.parent is None and piece.role is roles.BODY:  # side by side, until its sides are shaped
        return None
    return number, found.parts[number]


def known_edges(piece: Piece) -> bool:
    """Whether it is known where each stretch of the pattern begins and ends; a panel parts it in two."""
    return (
        piece.pattern is not None and not piece.panels and (piece.role not in roles.YOKES or bool(piece.pattern.parts))
    )


def counts_repeats(piece: Piece) -> bool:
    """Whether the pattern runs on all across each row of a piece, so that its whole repeats can be counted."""
    found = piece.pattern
    return found is not None and known_edges(piece) and not any(_parted(piece, row) for row in piece.rows)


def begins_with(piece: Piece, row: Row) -> int | None:
    """Stitch of the repeat, from 1, that is worked first in a row, after plain sides; None where there is none.

    On the wrong side that is the last of the row as the right side shows it. The shaping of the row comes after.
    """
    found = piece.pattern
    where = found.at(row.row) if found else None
    if found is None or where is None:
        return None
    multiple, wrong, column = found.pattern.multiple, row.side == "WS", where.first_stitch - 1
    if found.plain_sides and known_edges(piece):
        return None if plain_before(piece, row) is None else (found.pattern.plus - 1 if wrong else 0) % multiple + 1
    if _parted(piece, row):
        parts = found.parts[row.row]
        column = parts[-1].column + parts[-1].stitches - 1 if wrong else parts[0].column
    elif wrong:
        of_panels = sum(panel.extra for panel in piece.panels if panel.lies_in(row.row))
        column += _inside(piece, row.before - of_panels) - 1
    return column % multiple + 1


def begins_apart(piece: Piece) -> bool:
    """Whether a piece that is begun flat begins its rows elsewhere in the repeat than the pattern's written rows do."""
    found = piece.pattern
    if found is None or piece.parent is not None or piece.worked == "round":
        return False
    if found.pattern.multiple == 1 or found.plain_sides:
        return False
    row = next(row for row in piece.rows if row.row == found.rows[0][0])
    over = _inside(piece, row.before - sum(p.extra for p in piece.panels if p.lies_in(row.row))) - found.pattern.plus
    return found.first_stitch != 1 or over % found.pattern.multiple != 0


def plain_before(piece: Piece, row: Row) -> int | None:
    """Plain stitches before the first whole repeat of a row, as it is worked; None where no repeat has room."""
    found = piece.pattern
    where = found.at(row.row) if found else None
    if found is None or where is None or not found.plain_sides or not known_edges(piece):
        return 0
    ends, before = next(plain for at, _, plain in _beside_repeats(piece, found, row.row) if at.row == row.row), 0
    for end in map(_turned, reversed(ends)) if row.side == "WS" else ends:
        before += end.first
        if not end.whole:
            return before
    return None


def _inside(piece: Piece, stitches: int) -> int:
    """Stitches of a row that are inside edge stitches which are plain."""
    in_pattern = piece.pattern is not None and piece.pattern.pattern.edge_in_pattern
    return stitches - (0 if in_pattern else piece.edge_stitches * len(piece.outer))


def _plain(piece: Piece, found: SetPattern, groups: Sequence[Group], row: Row, column: int) -> tuple[Plain, ...]:
    ends = [_cut(s, found, groups, written=piece.worked == "flat") for s in _stretches(piece, row, column)]
    return tuple(map(_turned, reversed(ends))) if row.side == "WS" else tuple(ends)


def _turned(plain: Plain) -> Plain:
    return plain if plain.whole else Plain(plain.last, plain.first, plain.part)


def _parted(piece: Piece, row: Row) -> bool:
    """Whether markers part the pattern in a row: it does not run on over them, or is shaped beside them."""
    parts = piece.pattern.parts.get(row.row, ()) if piece.pattern else ()
    if not parts or piece.pattern is None:
        return False
    shaped = piece.role in roles.YOKES or any(e.where == "both" for e in row.events)
    return shaped or not run_on(parts, piece.pattern.pattern.multiple)


def _stretches(piece: Piece, row: Row, column: int) -> list[_Stretch]:
    if _parted(piece, row):
        return _of_parts(piece.pattern.parts[row.row], row) if piece.pattern else []
    right, left = right_edge(piece), _left_edge(piece)
    edge = 0 if piece.pattern is None or piece.pattern.pattern.edge_in_pattern else piece.edge_stitches
    edges = {name: edge if name in piece.outer else 0 for name in (right, left)}
    used = {name: sum(_used(e, edges[name]) for e in row.events if e.where in ("both", name)) for name in edges}
    inside = row.before - sum(edges.values())
    held = {e.where: e.stitches for e in row.events if e.do == "hold"}
    if right not in held or left not in held:
        return [_Stretch(column + used[right], inside - sum(used.values()))]
    gone = sum(e.stitches for e in row.events if e.where == "centre")
    first = held[right] + _lost(piece, row) - edges[right]
    second = inside - first - gone
    return [
        _Stretch(column + used[right], first - used[right]),
        _Stretch(column + first + gone, second - used[left]),
    ]


def _of_parts(parts: tuple[PatternPart, ...], row: Row) -> list[_Stretch]:
    """A stretch for each part that is worked in a row; two of a front that opens in its middle."""
    found: list[_Stretch] = []
    away = any(e.do == "hold" and e.where in roles.BOTH_EDGES for e in row.events)
    gone = next((e.stitches for e in row.events if e.where == "centre" and e.do == "bind-off"), 0)
    for at, part in enumerate(parts):
        right, left = (sum(_used(e, 0) for e in _at_ends(parts, at, row, end)) for end in (0, 1))
        if part.section.role is roles.SLEEVE and away:
            continue
        whole = _Stretch(part.column + right, part.stitches - right - left, part.section)
        if gone and part.section == roles.THE_FRONT:
            half = (part.stitches - gone) // 2
            found += [
                _Stretch(whole.column, half - right, part.section),
                _Stretch(part.column + half + gone, part.stitches - half - gone - left, part.section),
            ]
        else:
            found.append(whole)
    return found


def _at_ends(parts: tuple[PatternPart, ...], at: int, row: Row, end: int) -> list[Event]:
    """What is done at one end of a part, with its own stitches there."""
    shaped = [(e, ends_shaped(parts, at, e)[end]) for e in row.events]
    return [Event(e.do, e.where, many) for e, many in shaped if many]


def _lost(piece: Piece, row: Row) -> int:
    """Stitches that shaping takes away at the right-hand edge."""
    right = [e for e in row.events if e.where in ("both", right_edge(piece)) and e.do != "hold"]
    return sum(-e.change // (2 if e.where == "both" else 1) for e in right)


def _left_edge(piece: Piece) -> str:
    """The edge at which right-side rows end, as events name it."""
    if piece.role.one_sided and piece.side:
        return piece.side if piece.side != piece.begins else f"neck-{piece.side}"
    return roles.other(piece.begins)


def _used(event: Event, edge: int) -> int:
    """Stitches inside a plain edge that shaping there uses: a decrease, or an increase, lies one stitch in."""
    if event.do == "bind-off" and event.stitches > 1:
        return event.stitches
    if event.do in ("decrease", "bind-off"):
        return 2 * event.stitches + 1 - edge
    return 1 - edge if event.do == "increase" else 0


def _cut(stretch: _Stretch, found: SetPattern, groups: Sequence[Group], *, written: bool) -> Plain:
    """Stitches at the right and at the left end of a stretch that are worked plain.

    A stretch that begins or ends where a ``written`` row does, begins or ends as that is written.
    """
    multiple, plus, many = found.pattern.multiple, found.pattern.plus, max(0, stretch.stitches)
    column = stretch.column % multiple
    if found.plain_sides:
        first = -column % multiple
        repeats = (many - first - plus) // multiple
        last = many - first - plus - repeats * multiple
        return Plain(first, last, stretch.part) if repeats > 0 else Plain(many, 0, stretch.part, whole=True)
    starts, ends = [0], [0]
    for group in groups:
        at = (group.start - column) % multiple - multiple * (1 + group.width // multiple)
        while at < many:
            if at < 0 < at + group.width and not (written and column == 0):
                starts.append(at + group.width)
            if at < many < at + group.width and not (written and (column + many - plus) % multiple == 0):
                ends.append(many - at)
            at += multiple
    first = min(max(starts), many)
    return Plain(first, min(max(ends), many - first), stretch.part)
