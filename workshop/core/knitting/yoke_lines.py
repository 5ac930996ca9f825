"""The raglan lines of a yoke that goes on from what is knitted: shaped until each part has its stitches.

In a yoke from the neck, what fronts, back and sleeves have between their markers always adds up to the row: who
divides body and sleeves there counts so.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from workshop.core.making.between_markers import parts_before, shape
from workshop.core.making.ledger import Counts, Event, Mark, Piece, Row
from workshop.core.making.raglan_lines import BODY_SIDE, BOTH_SIDES, LINES, ONE_SIDE, SLEEVE_SIDE
from workshop.core.making.roles import HALVES, LEFT_SLEEVE, SLEEVE, THE_BACK, THE_FRONT, YOKE_TOP, Section
from workshop.core.making.spacing import nearest


def shaped_along_lines(rows: Iterable[Row]) -> tuple[int, int]:
    """Stitches that are shaped along the raglan lines of these rows, on their body and on their sleeve sides."""
    return _along_lines(e for row in rows for e in row.events)


def _along_lines(events: Iterable[Event]) -> tuple[int, int]:
    found = {BOTH_SIDES: 0, BODY_SIDE: 0, SLEEVE_SIDE: 0}
    for event in events:
        if event.line in found:
            found[event.line] += event.stitches
    half = found[BOTH_SIDES] // 2
    return half + found[BODY_SIDE], half + found[SLEEVE_SIDE]


def sides_of(event: Event) -> tuple[Event, ...]:
    """Shaping on both sides of all lines as one event for each side; any other event as it is."""
    if event.line != BOTH_SIDES:
        return (event,)
    return tuple(replace(event, stitches=event.stitches // 2, line=side) for side in ONE_SIDE)


def both_sides_in_one(events: list[Event]) -> None:
    """Put the two sides of all lines, where both are shaped in one row, into one event, in place."""
    sides = [e for e in events if e.line in ONE_SIDE]
    if len(sides) == 2 and len({e.line for e in sides}) == 2 and len({(e.do, e.stitches) for e in sides}) == 1:
        events[:] = [e for e in events if e not in sides]
        events.insert(0, replace(sides[0], stitches=2 * sides[0].stitches, line=BOTH_SIDES))


def is_from_neck(yoke: Piece) -> bool:
    """Whether a yoke grows from the neck, so that its last row parts body and sleeves."""
    return yoke.role is YOKE_TOP or any(map(_divides, yoke.rows[-1:]))


def _divides(row: Row) -> bool:
    return any(e.do == "cast-on" and e.where == "underarm" for e in row.events)


def parts_at_end(piece: Piece) -> dict[Section, int]:
    """Stitches between the markers after its last row."""
    return parts_before(piece.last_row + 1, piece)


def marked(mark: Mark, so_far: Piece) -> Counts:
    """The stitches between markers that are placed in a yoke from the neck, by those that are there."""
    parts = parts_at_end(so_far)
    parts[THE_FRONT] = so_far.rows[-1].after - sum(n for part, n in parts.items() if part not in HALVES)
    return tuple((part, parts[part]) for part, _ in mark.counts)


@dataclass(slots=True)
class Lines:
    """The lines of one section of a yoke; rows are counted from 1 at its cast-on here."""

    target: Piece
    """The piece as it is wanted, up to the end of the section."""
    knitted: Piece
    """What is knitted of it."""
    happens: dict[int, list[Event]]
    """Events of the section that are still to come, by row."""
    ends: int
    step: int
    ahead: tuple[int, int]
    """Stitches that what it grew out of has shaped more than is wanted, on body and sleeve sides."""
    from_neck: bool
    """Whether it grows from the neck: the parts between its markers are what counts."""

    def even(self) -> None:
        """Shape each side of the lines as often as is wanted by the end of the section; then hold what sleeves have."""
        for side, other, times in zip(ONE_SIDE, ONE_SIDE[::-1], self._owed(), strict=True):
            if times > 0:
                self._add(side, times)
            elif times < 0:
                self._leave_out(side, other, -times)
        if self.from_neck:
            self._hold()

    def put_in(self, off: int) -> int:
        """Put stitches in (or leave them out) at the body sides of the lines, else at underarms; gives what is left."""
        before, like = self._to_come(), self._like((BOTH_SIDES, BODY_SIDE))
        if like is not None and (like.do == "increase") == (off > 0):
            self._add(BODY_SIDE, abs(off) // LINES)
        elif like is not None:
            self._leave_out(BODY_SIDE, SLEEVE_SIDE, abs(off) // LINES)
        off -= self._to_come() - before
        for events in self.happens.values():
            for i, event in enumerate(events):
                if event.do == "cast-on" and event.where == "underarm" and not off % 2 and event.stitches + off > 0:
                    events[i], off = replace(event, stitches=event.stitches + off), 0
        return off

    def parts(self) -> dict[Section, int]:
        """Stitches between the markers at the end of the section, by what happens up to there."""
        found = self._parts_now()
        for events in self.happens.values():
            for event in events:
                shape(found, event)
        return found

    @property
    def slip(self) -> int:
        """Stitches that parts have and the needle has not, dropped by a slip; below 0 for those that it made."""
        if not self.from_neck:
            return 0
        there = self.knitted.rows[-1].after if self.knitted.rows else self.knitted.cast_on
        return sum(self._parts_now().values()) - there

    def _parts_now(self) -> dict[Section, int]:
        return parts_before(self._base + self._many + 1, self.knitted)

    @property
    def _base(self) -> int:
        """Number of the row before its first."""
        return self.knitted.parent.last_row if self.knitted.parent else 0

    @property
    def _many(self) -> int:
        return len(self.knitted.rows)

    def _to_come(self) -> int:
        return sum(e.change for events in self.happens.values() for e in events)

    def _owed(self) -> tuple[int, int]:
        """How often the lines are shaped less than is wanted, on their body and on their sleeve sides."""
        if self.from_neck:
            parts, there = parts_at_end(self.target), self.parts()
            back, sleeve = (parts[part] - there[part] for part in (THE_BACK, LEFT_SLEEVE))
            return int(back / 2), int(sleeve / 2)
        wanted, did = shaped_along_lines(self.target.rows), shaped_along_lines(self.knitted.rows)
        to_come = _along_lines(e for events in self.happens.values() for e in events)
        body, sleeves = (w - d - c - a for w, d, c, a in zip(wanted, did, to_come, self.ahead, strict=True))
        return body // LINES, sleeves // LINES

    def _like(self, lines: Sequence[str]) -> Event | None:
        """A shaping of the lines; None where there are none, as in a yoke that is shaped all round."""
        return next((e for r in self.target.rows for e in r.events if e.line in lines), None)

    def _add(self, side: str, times: int) -> None:
        """Shape one side of all lines so often more, in rows where that side rests."""
        lines = (BOTH_SIDES, side)
        like = self._like(lines)
        free = [
            row
            for row in range(self._many + 1, self.ends)
            if (self.step == 1 or (self._base + row) % 2 == 1)
            and not any(e.line in lines for e in self.happens.get(row, ()))
        ]
        if like is None:
            return
        begin, room, times = self._many, self.ends - self._many, min(times, len(free))
        for row in nearest(free, [begin + room * (i + 1) / (times + 1) for i in range(times)]):
            self.happens.setdefault(row, []).insert(0, replace(like, stitches=LINES, line=side))

    def _leave_out(self, side: str, other: str, times: int) -> None:
        """Shape one side of all lines so often less, spread over the rows to come."""
        rows = sorted(r for r, events in self.happens.items() if any(e.line in (BOTH_SIDES, side) for e in events))
        many = min(times, len(rows))
        for row in {rows[int((i + 0.5) * len(rows) / many)] for i in range(many)}:
            events = self.happens[row]
            at = next(i for i, e in enumerate(events) if e.line in (BOTH_SIDES, side))
            one = events[at]
            left = [replace(one, stitches=one.stitches // 2, line=other)] if one.line == BOTH_SIDES else []
            events[at : at + 1] = left

    def _hold(self) -> None:
        """Put on holders what the sleeves have in the row that parts them from the body."""
        parts = self.parts()
        held = {part.side: n for part, n in parts.items() if part.role is SLEEVE}
        for events in self.happens.values():
            for i, event in enumerate(events):
                if event.do == "hold" and event.where in ("left", "right"):
                    events[i] = replace(event, stitches=held[event.where])
