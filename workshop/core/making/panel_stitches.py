"""The stitches that panels bring: counted into the rows of a garment, out of them again, and where they lie in them."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from workshop.core.fabric.patterns import PanelRow, SetPanel
from workshop.core.making import roles
from workshop.core.making.centre_panels import ALL_SECTIONS, SECTIONS, CentrePanel, is_of_panel, line_of
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Event, Mark, Piece, Row, each_changed
from workshop.core.making.panel_course import Amounts, At, Station, chain, course
from workshop.core.making.roles import Section


def _extras(pieces: Sequence[Piece], section: Section) -> Amounts:
    """What a panel has more than the ground, before and after each row of the pieces that its part runs through."""
    found, now, line = {}, 0, line_of(section)
    for i in chain(pieces, section):
        for n, row in enumerate(pieces[i].rows):
            before = now
            now += sum(e.change for e in row.events if e.line == line)
            found[i, n] = before, now
    return found


def _lines(pieces: Sequence[Piece]) -> set[str]:
    return {e.line for p in pieces for r in p.rows for e in r.events if is_of_panel(e)}


def _counted(pieces: Sequence[Piece], extras: Mapping[Section, Amounts], sign: int) -> tuple[Piece, ...]:
    """The pieces with the stitches of panels counted in (``sign`` 1) or out (-1)."""
    return each_changed(pieces, (_counted_piece(piece, i, extras, sign) for i, piece in enumerate(pieces)))


def _counted_piece(piece: Piece, index: int, extras: Mapping[Section, Amounts], sign: int) -> Piece:
    rows = [_counted_row(row, (index, n), extras, sign) for n, row in enumerate(piece.rows)]
    if rows == list(piece.rows):
        return piece
    return replace(
        piece,
        cast_on=rows[0].before,
        bound_off=rows[-1].after,
        marks=tuple(_counted_mark(m, index, piece, extras, sign) for m in piece.marks),
        key_counts=_counted_keys(piece, index, extras, sign),
    ).with_rows(rows)


def _counted_row(row: Row, at: At, extras: Mapping[Section, Amounts], sign: int) -> Row:
    before = after = 0
    events = row.events
    for section, amounts in extras.items():
        if at not in amounts:
            continue
        had, has = amounts[at]
        moved = section.role is roles.SLEEVE and any(_moves(e, section) for e in events)
        before += 0 if moved and _joins(row) else had
        after += 0 if moved and not _joins(row) else has
        if moved:
            events = tuple(replace(e, stitches=e.stitches + sign * has) if _moves(e, section) else e for e in events)
    if sign < 0:
        events = tuple(e for e in events if not is_of_panel(e))
    if not before and not after and events == row.events:
        return row
    return replace(row, before=row.before + sign * before, after=row.after + sign * after, events=events)


def _moves(event: Event, sleeve: Section) -> bool:
    """Whether a sleeve is joined to a yoke, or parted from it."""
    return event.do in ("join", "hold") and event.where == sleeve.side


def _joins(row: Row) -> bool:
    return any(e.do == "join" for e in row.events)


def _counted_mark(mark: Mark, index: int, piece: Piece, extras: Mapping[Section, Amounts], sign: int) -> Mark:
    if mark.what != "markers":
        return mark
    n = mark.after_row - piece.rows[0].row
    more = {
        section: amounts[index, max(n, 0)][0 if n < 0 else 1]
        for section, amounts in extras.items()
        if (index, max(n, 0)) in amounts
    }
    return replace(mark, counts=tuple((part, count + sign * more.get(part, 0)) for part, count in mark.counts))


WITH_PANEL = ("chest", "hip", "cross_back", "upper_arm", "yoke")
"""Key counts of rows in which panels are."""


def _counted_keys(piece: Piece, index: int, extras: Mapping[Section, Amounts], sign: int) -> Mapping[str, int]:
    most = sum(
        max((max(pair) for at, pair in amounts.items() if at[0] == index), key=abs, default=0)
        for amounts in extras.values()
    )
    return {key: n + sign * most if key in WITH_PANEL else n for key, n in piece.key_counts.items()}


def without_panels(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The pieces in the stitches of their ground alone, as they are measured; in the same order."""
    lines = _lines(pieces)
    if not lines:
        return tuple(pieces)
    extras = {section: _extras(pieces, section) for section in ALL_SECTIONS if line_of(section) in lines}
    return _counted(pieces, extras, -1)


def put_in(pieces: Sequence[Piece], spans: Mapping[Section, tuple[At, At, int]]) -> tuple[Piece, ...]:
    """The pieces with panels: for each part the rows in which its panel comes in and goes out, and what it brings."""
    told: dict[At, list[Event]] = {}
    for section, (first, last, extra) in spans.items():
        for at, change in ((first, extra), (last, -extra)):
            more = change > 0 or (at == first and not change)
            event = Event("increase" if more else "decrease", "across", abs(change), line_of(section))
            told.setdefault(at, []).append(event)
    rows = (
        [replace(r, events=(*r.events, *told.get((i, n), ()))) for n, r in enumerate(p.rows)]
        for i, p in enumerate(pieces)
    )
    with_events = each_changed(pieces, (p.with_rows(own) for p, own in zip(pieces, rows, strict=True)))
    return _counted(with_events, {section: _extras(with_events, section) for section in spans}, 1)


def without_strange(pieces: Sequence[Piece], panels: Sequence[CentrePanel]) -> tuple[Piece, ...]:
    """The pieces in which stitches are of the ground that were knitted for a panel which is not wished for any more."""
    strange = _lines(pieces) - {line_of(section) for panel in panels for section in SECTIONS[panel.on]}
    if not strange:
        return tuple(pieces)
    of_ground = (p.with_rows(replace(r, events=_of_ground(r.events, strange)) for r in p.rows) for p in pieces)
    return each_changed(pieces, of_ground)


def _of_ground(events: Sequence[Event], strange: set[str]) -> tuple[Event, ...]:
    told = (replace(e, line="") if e.line in strange else e for e in events if e.stitches or e.line not in strange)
    return tuple(told)


# ── as it is set ─────────────────────────────────────────────────────────────────────────────────────


def set_on(pieces: Sequence[Piece], panels: Sequence[CentrePanel], cloth: Cloth) -> tuple[Piece, ...]:
    """The pieces with what each row of them is of each panel, found from the rows as they are."""
    lines = _lines(pieces)
    if not lines:
        return tuple(pieces)
    grounds = without_panels(pieces)
    found: dict[int, list[SetPanel]] = {}
    wished = {section: panel for panel in panels for section in SECTIONS[panel.on]}
    for section, panel in wished.items():
        if line_of(section) in lines:
            for index, one in _set(pieces, grounds, section, panel, cloth):
                found.setdefault(index, []).append(one)
    mine = (tuple(sorted(found.get(i, ()), key=lambda p: p.from_stitch)) for i in range(len(pieces)))
    return each_changed(pieces, (replace(p, panels=own) for p, own in zip(pieces, mine, strict=True)))


def _set(
    pieces: Sequence[Piece], grounds: Sequence[Piece], section: Section, panel: CentrePanel, cloth: Cloth
) -> Iterator[tuple[int, SetPanel]]:
    """A panel on each of the pieces that it runs through."""
    line, extras = line_of(section), _extras(pieces, section)
    happens = [at for at in extras if any(e.line == line for e in pieces[at[0]].rows[at[1]].events)]
    if len(happens) < 2:
        return
    first, last = happens[0], happens[-1]
    through = list(extras)[list(extras).index(first) : list(extras).index(last) + 1]
    flat = any(pieces[i].worked == "flat" for i, _ in through)
    stations = {s.at: s for s in course(grounds, section)}
    others = {s: _extras(pieces, s) for s in ALL_SECTIONS if s is not section and line_of(s) in _lines(pieces)}
    extra = extras[first][1]  # as it was knitted, where the plan would have another number now
    before = round(stations[first].right_after - (panel.stitches - extra) / 2) if first in stations else 0
    before += _to_the_right(others, first, section, pieces[first[0]], after=True)
    whole = SetPanel(
        panel.pattern,
        section.name,
        panel.stitches,
        extra,
        (),
        panel.pattern.rows_in("flat" if flat else "round"),
        across_cm=panel.width_cm,
        wider_cm=cloth.across_cm(panel.wider(cloth)),
    )
    rows: dict[int, list[tuple[int, PanelRow]]] = {i: [] for i, _ in through}
    for number, at in enumerate(_rows_of(through, stations, pieces, panel.pattern.begins_on)):
        begins = stations[at].right - (panel.stitches - extras[at][0]) / 2
        begins += _to_the_right(others, at, section, pieces[at[0]])
        where = PanelRow(number % whole.repeat_rows + 1, round(begins) + 1)
        rows[at[0]].append((pieces[at[0]].rows[at[1]].row, where))
    for index, told in rows.items():
        comes_in, goes_out = (pieces[index].rows[at[1]].row if at[0] == index else None for at in (first, last))
        after = 0 if comes_in is None else before
        yield index, replace(whole, rows=tuple(told), set_up=comes_in, goes_out=goes_out, set_up_after=after)


def _rows_of(through: Sequence[At], stations: Mapping[At, Station], pieces: Sequence[Piece], side: str) -> list[At]:
    """The rows between the first and the last of a panel that are worked over it, from the side of its first row on."""
    found: list[At] = []
    for at in through[1:-1]:
        if at in stations and (found or pieces[at[0]].rows[at[1]].row % 2 == (side == "RS")):
            found.append(at)
    return found


def _to_the_right(
    others: Mapping[Section, Amounts], at: At, section: Section, piece: Piece, *, after: bool = False
) -> int:
    """Stitches that panels of other parts bring before a part, in the order of a right-side row."""
    if piece.role not in (roles.BODY, *roles.YOKES):
        return 0
    row = piece.rows[at[1]]
    marked = [
        m
        for p in piece.lineage()
        for m in p.marks
        if m.what == "markers" and m.counts and m.after_row < row.row + (after or _joins(row))
    ]
    order = [part for part, _ in marked[-1].counts] if marked else []
    if piece.role is roles.UPPER_YOKE:
        order = [roles.RIGHT_SLEEVE, roles.THE_BACK, roles.LEFT_SLEEVE]
    before = order[: order.index(section)] if section in order else []
    return sum(amounts[at][1 if after else 0] for part, amounts in others.items() if part in before and at in amounts)
