"""The rest of a piece, planned anew from what is on the needle.

The rows that are knitted are facts: they stay as they are, whatever the plan says now. What the plan wants of the
rest is held against what has been done: shaping still owed is spread from where the last of it stands, landmarks keep
their rows, and stitches that the plan has more or fewer of are put in at the sides or across the next row.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import accumulate, pairwise
from typing import Literal

from workshop.core.fabric.patterns import SetBand
from workshop.core.knitting.yoke_lines import (
    Lines,
    both_sides_in_one,
    is_from_neck,
    marked,
    parts_at_end,
    sides_of,
)
from workshop.core.making.between_markers import parts_before
from workshop.core.making.buttonholes import gaps_on
from workshop.core.making.centre_panels import is_of_panel
from workshop.core.making.ledger import CannotBeKnitted, Counts, Event, Mark, Piece, Row
from workshop.core.making.raglan_lines import ONE_SIDE
from workshop.core.making.roles import BODY, SHOULDER, SLEEVE, YOKES
from workshop.core.making.spacing import nearest
from workshop.project import Do, Side, Where
from workshop.records import record

How = Literal["sides", "across"]
"""Where stitches go that the plan has more or fewer than the needle."""

Stream = tuple[str, str, str]
"""What is done, where, and along which line: shaping that belongs together."""


@record
class Done:
    """What is knitted of a piece: its rows, and the landmarks that they have passed."""

    cast_on: int
    base: int = 0
    """Number of the row before its first."""
    rows: tuple[Row, ...] = ()
    marks: tuple[Mark, ...] = ()
    finished: bool = False
    ahead: tuple[int, int] = (0, 0)
    """Stitches that what it grew out of has shaped along raglan lines more than the plan has, body and sleeve sides."""
    joins: Mapping[Where, int] = field(default_factory=dict)
    """Stitches of what is joined in its first row, where they are not those of the plan."""
    parent: Piece | None = None
    """What it grows out of, as it is."""
    keeps_side: bool = False
    """Whether what goes on from its rounds is worked back and forth, and begins on the side that is planned."""

    def up_to(self, rows: int) -> "Done":
        """What was knitted when there were so many rows."""
        marks = _up_to(self.marks, self.base + rows)
        return replace(self, rows=self.rows[:rows], marks=marks, finished=False) if rows < self.many else self

    @property
    def last_row(self) -> int:
        """Number of the row worked last."""
        return self.base + len(self.rows)

    @property
    def stitches(self) -> int:
        """Stitches on the needle."""
        return self.rows[-1].after if self.rows else self.cast_on

    @property
    def many(self) -> int:
        """Rows knitted."""
        return len(self.rows)


def knitted(piece: Piece, rows: int) -> Done:
    """The first rows of a piece, as they are knitted when the plan is followed."""
    first = _base(piece)
    marks = tuple(m for m in piece.marks if m.after_row - first <= rows and rows)
    return Done(piece.cast_on, first, piece.rows[:rows], marks, finished=rows >= len(piece.rows))


def going_on(done: Done, target: Piece, planned_at: int, how: How = "sides") -> Piece:
    """The piece as it was planned anew after ``planned_at`` rows, as long as it is what has been knitted since.

    So a plan stays as it is while it is followed; where the knitting or the answers part from it, it is planned anew
    from the row that is on the needle. Raises CannotBeKnitted like :func:`rest_of`.
    """
    since = rest_of(done.up_to(planned_at), target, how)
    ends = not (done.finished and len(since.rows) > done.many)
    if since.rows[: done.many] == done.rows and ends and _passes_alike(done, since):
        return replace(since, planned_at=planned_at)
    return replace(rest_of(done, target, how), planned_at=done.many)


def rest_of(done: Done, target: Piece, how: How = "sides") -> Piece:
    """The piece as it is and as it goes on: ``done``, then what ``target`` wants of the rest.

    Raises CannotBeKnitted where the rows left have no room for what is owed.
    """
    same = (done.base, done.cast_on) == (_base(target), target.cast_on) and done.rows == target.rows[: done.many]
    goes_on = not done.finished or done.many == len(target.rows)
    if same and goes_on and _passes_alike(done, target) and not done.joins and _begins_alike(done, target):
        return target
    return _Joined(done, target, how).piece()


def with_more(piece: Piece, stitches: int) -> Piece:
    """A piece with so many stitches more (or fewer) where its shaping ends, put in at its sides.

    Raises CannotBeKnitted where it has no room for them.
    """
    wanted = replace(piece, rows=tuple(replace(row, after=row.after + stitches) for row in piece.rows))
    begun = Done(piece.cast_on, _base(piece), marks=tuple(m for m in piece.marks if m.after_row == _base(piece)))
    return replace(_Joined(begun, wanted, "sides").piece(), planned_at=0)


def _begins_alike(done: Done, target: Piece) -> bool:
    """Whether it begins with what the plan has there, between the markers of a yoke and in its panels."""
    if done.parent is target.parent:
        return True
    first, here = done.base + 1, target.grown_from(done.parent)
    if target.role in YOKES and parts_before(first, target) != parts_before(first, here):
        return False
    return _of_panels(target.parent) == _of_panels(done.parent)


def _passes_alike(done: Done, target: Piece) -> bool:
    """Whether the plan has the landmarks that are passed in the rows in which they were."""
    passed, planned = (
        [(m.what, m.after_row) for m in _up_to(marks, done.last_row)] for marks in (done.marks, target.marks)
    )
    return passed == planned


def _of_panels(parent: Piece | None) -> dict[str, list[Event]]:
    """What has been done for each panel up to the end of a piece, by the names of their lines."""
    found: dict[str, list[Event]] = {}
    for event in (e for p in (parent.lineage() if parent else ()) for r in p.rows for e in r.events if is_of_panel(e)):
        found.setdefault(event.line, []).append(event)
    return found


def joined_in_first(piece: Piece) -> bool:
    """Whether other pieces are joined in its first row."""
    return bool(piece.rows) and any(e.do == "join" for e in piece.rows[0].events)


def moved_up(bands: Iterable[SetBand], rows: int) -> tuple[SetBand, ...]:
    """Bands so many rows later, where what they grow from has more."""
    return tuple(replace(b, from_row=b.from_row + rows) for b in bands)


def _up_to(marks: Iterable[Mark], row: int) -> tuple[Mark, ...]:
    return tuple(m for m in marks if m.after_row <= row)


def rows_at_once(piece: Piece) -> int:
    """Rows are added in pairs where both sides of the fabric are worked in turn."""
    return 1 if piece.worked == "round" else 2


def _base(piece: Piece) -> int:
    return piece.rows[0].row - 1 if piece.rows else 0


def _side(piece: Piece, number: int, events: Iterable[Event]) -> Side:
    """Which side faces in a row; in a round only where it turns to make a wedge."""
    if piece.worked == "round":
        turn = next((e for e in events if _is_inner(e)), None)
        return "round" if turn is None else "WS" if turn.where == piece.begins else "RS"
    return "RS" if number % 2 else "WS"


def stream_of(event: Event) -> Stream:
    """Increases and decreases at one place follow each other; what is bound off, held or cast on there goes apart."""
    return "shape" if event.do in ("increase", "decrease") else event.do, event.where, event.line


NECK_EDGES: tuple[Where, Where] = ("neck-left", "neck-right")

MOST_ROWS_MORE = 4
"""A yoke is knitted so many rows longer rather than shaped on its wrong side (common practice, no source)."""

ALIKE = {"increase": "cast-on", "cast-on": "increase", "decrease": "bind-off", "bind-off": "decrease"}
"""Ways to shape an edge that give it as many stitches, one by one or several in a row."""


def _is_across(event: Event) -> bool:
    """Whether it is done evenly across a whole row."""
    return event.across and event.do in ("increase", "decrease")


def _is_hole(event: Event) -> bool:
    """Whether it opens or closes the buttonholes of a band."""
    return event.across and event.do in ("bind-off", "cast-on")


def _is_inner(event: Event) -> bool:
    """Whether a row that turns is one of a wedge inside the piece: a dart, a raised back."""
    return event.do == "short-row" and bool(event.line)


def _is_alike(do: str, stream: Stream, other: Stream, events: Sequence[tuple[int, Event]]) -> bool:
    """Whether another stream shapes the same edge in the other way; buttonholes, across a row, shape none."""
    edge = other != stream and other[1:] == stream[1:] and stream[1] != "across"
    return edge and all(e.do == ALIKE.get(do) for _, e in events)


@dataclass(slots=True)
class _Joined:
    """One piece being put together; rows are counted from 1 at its cast-on here.

    Its section is what lies between the landmark that the knitting has passed last and the one that comes next.
    """

    done: Done
    target: Piece
    how: How
    happens: dict[int, list[Event]] = field(default_factory=dict)
    """Events of the section that are still to come, by row."""
    owes: bool = False
    """Whether the section has no row in which stitches could be put right: the next one has."""

    def piece(self) -> Piece:
        """The whole piece."""
        if self.done.finished or self._is_through():
            return self._whole(self.done.rows, self.done.marks)
        ends = self._place(self._owed())
        if self.target.role in YOKES:
            lines = self._lines(ends)
            lines.even()
            self._right_slip(lines.slip, ends)
        ends = self._even_out(ends)
        rows = self._rows(ends)
        begun = rows[:ends]
        marks = (*self.done.marks, *self._marks(ends, rows))
        marks_so_far = _up_to(marks, self.done.base + ends)
        through = replace(self.done, rows=begun, marks=marks_so_far, finished=False)
        unlike = ends != self._section()[1] or self.owes or self._parts_differ(begun) or self._panels_differ(begun)
        # a landmark was late, or comes with other stitches
        if unlike and len(through.marks) > len(self.done.marks):
            return rest_of(through, self.target, self.how)
        return self._whole(rows, marks)

    def _parts_differ(self, rows: Sequence[Row]) -> bool:
        """Whether a yoke from the neck has other stitches between its markers after the section than is wanted."""
        wanted = replace(self.target, rows=self.target.rows[: self._section()[1]])
        return is_from_neck(self.target) and parts_at_end(self._as_far_as(rows)) != parts_at_end(wanted)

    def _panels_differ(self, rows: Sequence[Row]) -> bool:
        """Whether a panel that goes out after the section came in with other stitches than the plan's."""
        end = self._section()[1]
        wanted, there = replace(self.target, rows=self.target.rows[:end]), self._as_far_as(rows)
        to_come = any(is_of_panel(e) for row in self.target.rows[end:] for e in row.events)
        return to_come and _of_panels(there) != _of_panels(wanted)

    def _whole(self, rows: tuple[Row, ...], marks: tuple[Mark, ...]) -> Piece:
        return replace(
            self.target,
            cast_on=self.done.cast_on,
            bound_off=rows[-1].after,
            marks=marks,
            bands=moved_up(self.target.bands, self.done.base - _base(self.target)),
        ).with_rows(rows)

    def _is_through(self) -> bool:
        """Whether the mark is passed that ends the piece."""
        ends = [m for m in self.target.marks if m.after_row - _base(self.target) == len(self.target.rows)]
        return any(m.what == end.what for m in self.done.marks for end in ends)

    @property
    def step(self) -> int:
        return rows_at_once(self.target)

    # ── where one is ─────────────────────────────────────────────────────────────────────────────────

    def _landmarks(self) -> list[int]:
        """Rows of the target after which something else begins; the last ends it."""
        rows = {m.after_row - _base(self.target) for m in self.target.marks} - {0}
        return sorted(rows | {len(self.target.rows)})

    def _section(self) -> tuple[int, int]:
        """Rows of the target before the section, and its last row."""
        landmarks = self._landmarks()
        passed = min(len({m.after_row for m in self.done.marks} - {self.done.base}), len(landmarks) - 1)
        return [0, *landmarks][passed], landmarks[passed]

    def _lines(self, ends: int) -> Lines:
        """The raglan lines of the section."""
        begun = self._as_far_as(self.done.rows)
        wanted = replace(self.target, rows=self.target.rows[: self._section()[1]])
        return Lines(wanted, begun, self.happens, ends, self.step, self.done.ahead, is_from_neck(self.target))

    def _as_far_as(self, rows: Sequence[Row]) -> Piece:
        """The piece up to one of its rows, in its family."""
        done = self.done
        return replace(self.target, cast_on=done.cast_on, rows=tuple(rows), marks=done.marks, parent=done.parent)

    def _own_begin(self) -> int:
        """Rows knitted before the section."""
        begin, _ = self._section()
        return max((m.after_row - self.done.base for m in self.done.marks), default=0) if begin else 0

    # ── what is owed ─────────────────────────────────────────────────────────────────────────────────

    def _owed(self) -> dict[Stream, list[tuple[int, Event]]]:
        """What the target has in the section, without what has been done of it.

        Its rows are counted from the landmark as it was knitted: an armhole goes on from where it was begun.
        """
        begin, end = self._section()
        wanted: dict[Stream, list[tuple[int, Event]]] = {}
        for number, row in enumerate(self.target.rows[begin:end], self._own_begin() + 1):
            for event in row.events:
                if self.done.many and row is self.target.rows[0] and event.do in ("join", "hold", "pick-up"):
                    continue  # what was joined or set aside in its first row is what was there then
                joined = event.do in ("join", "pick-up") and event.where in self.done.joins
                for one in sides_of(replace(event, stitches=self.done.joins[event.where]) if joined else event):
                    wanted.setdefault(stream_of(one), []).append((number, one))
        late = [e for e in self._neck_to_match() if not self._is_owed_next(e, wanted)]
        did = self._did(wanted, late)
        left = {s: _without(events, did.get(s, 0)) for s, events in wanted.items()}
        left = self._without_finished_neck(left, wanted)
        for event in late:
            left[stream_of(event)] = [(self.done.many + 1, event), *left.get(stream_of(event), [])]
        left |= {s: self._of_panel(s[2], events) for s, events in wanted.items() if is_of_panel(events[0][1])}
        return self._closed(self._wedge(left))

    def _closed(self, owed: dict[Stream, list[tuple[int, Event]]]) -> dict[Stream, list[tuple[int, Event]]]:
        """Buttonholes of a band that are begun are only closed, over as many stitches as were bound off."""
        did = [e for row in self.done.rows for e in row.events if self.target.role.band and _is_hole(e)]
        if not did:
            return owed
        left = {s: events for s, events in owed.items() if not any(_is_hole(e) for _, e in events)}
        missing = -sum(e.change for e in did)
        over = [(self.done.many + 1, Event("cast-on", "across", missing))] if missing > 0 else []
        return left | {stream_of(e): [(row, e)] for row, e in over}

    def _without_finished_neck(
        self, left: dict[Stream, list[tuple[int, Event]]], wanted: Mapping[Stream, Sequence[tuple[int, Event]]]
    ) -> dict[Stream, list[tuple[int, Event]]]:
        """Neck edges that have been finished for some rows stay as they are, where both lack as many stitches."""
        edges = [s for s in left if s[1] in NECK_EDGES and is_from_neck(self.target)]
        lacks = [sum(e.stitches for s in edges if s[1] == edge for _, e in left[s]) for edge in NECK_EDGES]
        shaped = [n for n, row in enumerate(self.done.rows, 1) if any(e.where in NECK_EDGES for e in row.events)]
        still = len(shaped) > 1 and self.done.many < shaped[-1] + max(2, shaped[-1] - shaped[-2])
        past = not still and all(row + 2 <= self.done.many for s in edges for row, _ in wanted[s])
        return left | {s: [] for s in edges} if past and len(set(lacks)) == 1 else left

    def _of_panel(self, line: str, events: list[tuple[int, Event]]) -> list[tuple[int, Event]]:
        """What is owed to a panel: once it is set up, it only goes out, with the stitches that came in for it."""
        did = _of_panels(self._as_far_as(self.done.rows)).get(line)
        if not did:
            return events
        there = sum(e.change for e in did)
        if not there and len(did) > 1:
            return []  # it has gone out
        out: Do = "decrease" if there > 0 or (not there and did[0].do == "increase") else "increase"
        comes_in = next(iter(_of_panels(self.target).get(line, ())), None)
        return [(row, replace(e, do=out, stitches=abs(there))) for row, e in events if e is not comes_in]

    def _neck_to_match(self) -> list[Event]:
        """What was cast on last at one edge of a neck from the neck down, and is due at the other in the next row."""
        if not is_from_neck(self.target) or self.step == 1 or not self.done.rows:
            return []
        shaped = [e for row in self.done.rows for e in row.events if e.where in NECK_EDGES]
        one, other = (sum(e.stitches for e in shaped if e.where == edge) for edge in NECK_EDGES)
        last = [e for e in self.done.rows[-1].events if e.where == NECK_EDGES[one < other]]
        if len(last) != 1 or last[0].do != "cast-on" or last[0].stitches != abs(one - other):
            return []
        return [replace(last[0], where=NECK_EDGES[one > other])]

    def _is_owed_next(self, event: Event, wanted: Mapping[Stream, Sequence[tuple[int, Event]]]) -> bool:
        """Whether it is the next that the target has at its edge."""
        did, edge = self._did(wanted), [s for s in wanted if s[1] == event.where]
        owed = sorted(((row, e) for s in edge for row, e in _without(wanted[s], did.get(s, 0))), key=lambda at: at[0])
        return bool(owed) and (owed[0][1].do, owed[0][1].stitches) == (event.do, event.stitches)

    def _did(
        self, wanted: Mapping[Stream, Sequence[tuple[int, Event]]], late: Sequence[Event] = ()
    ) -> dict[Stream, int]:
        """Stitches (of turns: turns) that are done of each stream in the section, with those of ``late``."""
        did: dict[Stream, int] = {}
        kinds: dict[Stream, str] = {}
        for events in (*(row.events for row in self.done.rows[self._own_begin() :]), late):
            for event in (one for both in events for one in sides_of(both)):
                stream = stream_of(event)
                did[stream] = did.get(stream, 0) + (1 if event.do == "short-row" else event.stitches)
                kinds[stream] = event.do
        for stream, do in kinds.items():
            # more than was wanted so: cast on, it was wanted as increases, or the other way
            more = did[stream] - sum(e.stitches for _, e in wanted.get(stream, ()))
            other = next((s for s in wanted if _is_alike(do, stream, s, wanted[s])), None)
            if more > 0 and other is not None:
                did[other] = did.get(other, 0) + more
        return did

    def _wedge(self, owed: dict[Stream, list[tuple[int, Event]]]) -> dict[Stream, list[tuple[int, Event]]]:
        """Rows that turn to make a wedge go on at once where it is begun; one that is closed stays as it is."""
        worked = [n for n, row in enumerate(self.done.rows, 1) if any(_is_inner(e) for e in row.events)]
        lines = {s: events for s, events in owed.items() if any(_is_inner(e) for _, e in events)}
        if not worked or not lines:
            return owed
        r, first = self.done.many, min(row for events in lines.values() for row, _ in events)
        if r - worked[-1] >= (2 if len(self.target.outer) == 1 else 1):
            return {s: [] if s in lines else events for s, events in owed.items()}
        begin = r + 1 + (first - r - 1) % self.step
        moved = {s: [(row - first + begin, e) for row, e in events] for s, events in lines.items()}
        return owed | moved

    def _end(self, owed: Mapping[Stream, Sequence[tuple[int, Event]]]) -> int:
        """The row in which the section is to end: the target's, but for rows of wedges, which don't reach the sides."""
        _, end = self._section()
        wanted = sum(any(map(_is_inner, row.events)) for row in self.target.rows[:end])
        did = sum(any(map(_is_inner, row.events)) for row in self.done.rows)
        to_come = len({row for events in owed.values() for row, event in events if _is_inner(event)})
        return end + (did + to_come - wanted) * (2 if len(self.target.outer) == 1 else 1)

    def _place(self, wanted: Mapping[Stream, Sequence[tuple[int, Event]]]) -> int:
        """Put what is owed into rows; the row in which the section ends: the target's, or as soon after as can be."""
        r, planned = self.done.many, self._last()
        last = planned + max(0, r - planned + (r - planned) % self.step)
        wanted = {s: [(last if row == planned else row, e) for row, e in events] for s, events in wanted.items()}
        to_come = sorted({row for events in wanted.values() for row, _ in events if row > r} | {last})
        overdue = {s: [e for e in events if e[0] <= r] for s, events in wanted.items()}
        least = max((self._least(s, late, wanted[s]) for s, late in overdue.items()), default=0)
        late = max(0, r + least - last)
        above = self.target.role is SHOULDER and not r  # its neck is shaped from the first row on
        at = _retimed(r, to_come, max(self._end(wanted), last + late + late % self.step), self.step, above=above)
        if odd := self._is_on_other_side(at[to_come[-1]]):
            at = _retimed(r, to_come, at[to_come[-1]] + odd, self.step)
        ends = at[to_come[-1]]
        for stream, events in wanted.items():
            rows = [at.get(row, row) for row, _ in events]
            if overdue[stream]:
                rows = self._spread(stream, rows, ends, closed=rows[-1] == ends)
            for row, (_, event) in zip(rows, events, strict=True):
                self.happens.setdefault(row, []).append(event)
        for there in self.happens.values():
            both_sides_in_one(there)
        return ends

    def _is_on_other_side(self, ends: int) -> int:
        """Rounds (one or none) that are missing for what goes on back and forth to begin on its right side."""
        _, end = self._section()
        if not self.done.keeps_side or end < len(self.target.rows):
            return 0
        return (self.done.base + ends - _base(self.target) - end) % 2

    def _least(self, stream: Stream, late: Sequence[tuple[int, Event]], events: Sequence[tuple[int, Event]]) -> int:
        """Rows that a stream needs of which some events are late; what is at one end of a row has every second one."""
        if late and stream[2] in ONE_SIDE and len({row % self.step for row, _ in events}) == 1:
            least = self.step * len(events)  # lines that are shaped in right-side rows go on so, if the yoke has room
            if self.done.many + least <= self._last() + MOST_ROWS_MORE:
                return least
        if not late or not self._at_one_end(stream):
            return self.step * len(late)
        first = next(row for row in (self.done.many + 1, self.done.many + 2) if row % 2 == events[0][0] % 2)
        return first - self.done.many + 2 * (len(events) - 1)

    def _at_one_end(self, stream: Stream) -> bool:
        """Whether it can be done only where a row begins or ends: casting on, binding off, turning."""
        do, where, _ = stream
        return self.step == 2 and do in ("cast-on", "bind-off", "short-row") and where.endswith(("left", "right"))

    def _last(self) -> int:
        """The row that ends the section, counted as :meth:`_owed` counts."""
        begin, end = self._section()
        return self._own_begin() + end - begin

    def _spread(self, stream: Stream, rows: Sequence[int], ends: int, *, closed: bool) -> list[int]:
        """Rows for events of which some are overdue: from the last that was worked to where they end."""
        r, many = self.done.many, len(rows)
        did = [{stream_of(one) for e in row.events for one in sides_of(e)} for row in self.done.rows]
        begin = max((n for n, streams in enumerate(did, 1) if stream in streams), default=r)
        odd = {row % 2 for row in rows} if self.step == 2 else {0, 1}
        if self._at_one_end(stream):
            odd, closed = {rows[0] % 2}, False
        free = [row for row in range(r + 1, ends + 1) if row % 2 in odd or (closed and row == ends)]
        if len(free) < many and not self._at_one_end(stream):
            free = list(range(r + 1, ends + 1))
        if len(free) < many:
            what, left = stream[0], ends - r
            shaping = f"{many} more {what}{'s' if many > 1 else ''}"
            raise CannotBeKnitted(f"there {'is 1 row' if left == 1 else f'are {left} rows'} left for {shaping}")
        last = max(rows[-1], free[many - 1])
        return nearest(free, [begin + (last - begin) * (i + 1) / many for i in range(many)])

    def _even_out(self, ends: int) -> int:
        """Put in stitches that the target has more or fewer of at the end of the section; gives the row it ends in."""
        _, end = self._section()
        to_come = sum(e.change for events in self.happens.values() for e in events)
        off = self.target.rows[end - 1].after - self.done.stitches - to_come
        if not off:
            return ends
        if self.target.role in YOKES:
            off = self._lines(ends).put_in(off)
            if not off:
                return ends
            if is_from_neck(self.target):
                self.owes = True
                return ends
        if ends == self.done.many:  # it is all knitted but for these
            ends += 2 if self.done.keeps_side else self.step
        if all(self._is_joined(row) for row in range(self.done.many + 1, ends + 1)):
            self.owes = True
            return ends
        self._put_in(off, ends)
        return ends

    def _right_slip(self, missing: int, ends: int) -> None:
        """Make up in the next row for stitches that a slip has dropped from a yoke, or made: they are no part's."""
        quiet = [row for row in range(self.done.many + 1, ends) if self._is_free(row) and not self.happens.get(row)]
        if missing and quiet:
            self._put_across(quiet[0], missing)

    def _put_in(self, off: int, ends: int) -> None:
        """Put in so many stitches (or take them out) up to a row: at the sides where that goes, the others across."""
        off = self._spared(off)
        do: Literal["increase", "decrease"] = "increase" if off > 0 else "decrease"
        at_sides = self._at_sides(do)
        free = self._in_this_fabric([row for row in range(self.done.many + 1, ends) if self._is_free(row)])
        each, rest = divmod(abs(off), abs(at_sides.change)) if at_sides else (0, abs(off))
        if at_sides is None or not 0 < each <= len(free):
            each, rest = 0, abs(off)
        begin, last = self.done.many, max(ends - 4, self.done.many + 1)
        if at_sides is not None and each:
            for row in nearest(free, [begin + (last - begin) * (i + 1) / each for i in range(each)]):
                self.happens.setdefault(row, []).append(at_sides)
        if rest:
            self._put_across(self._row_across(free, ends), rest if off > 0 else -rest)

    def _spared(self, off: int) -> int:
        """Leave out the next shaping at the sides that goes the other way, as far as that helps; gives what is left."""
        for row in sorted(self.happens):
            for event in [e for e in self.happens[row] if e.do in ("increase", "decrease") and e.where == "both"]:
                if not event.line and event.change * off < 0 and abs(event.change) <= abs(off):
                    self.happens[row].remove(event)
                    off += event.change
        return off

    def _in_this_fabric(self, rows: Sequence[int]) -> list[int]:
        """Those in the fabric of the next row, where there are some: a cuff stays as it is if that can be."""
        like = self.target.rows
        now = like[min(self.done.many, len(like) - 1)].fabric
        return [row for row in rows if like[min(row, len(like)) - 1].fabric == now] or list(rows)

    def _row_across(self, free: Sequence[int], ends: int) -> int:
        """The row for stitches across: in a yoke the next of its rings, or one in which nothing else is done."""
        if self.target.role not in YOKES:
            rest = [row for row in range(self.done.many + 1, ends + 1) if not self.happens.get(row)]
            return next(iter(free or rest), self.done.many + 1)
        rings = [row for row in sorted(self.happens) if any(map(_is_across, self.happens[row]))]
        quiet = [row for row in free if not self.happens.get(row)]
        plain = [row for row in range(self.done.many + 1, ends) if not self.happens.get(row)]
        return next(iter(rings or quiet or plain or free), self.done.many + 1)

    def _put_across(self, row: int, more: int) -> None:
        """So many stitches more (or fewer) across a row, together with what goes across it anyway."""
        events = self.happens.setdefault(row, [])
        there = [e for e in events if _is_across(e)]
        more += sum(e.change for e in there)
        events[:] = [e for e in events if e not in there]
        if more:
            events.insert(0, Event("increase" if more > 0 else "decrease", "across", abs(more)))

    def _at_sides(self, do: Literal["increase", "decrease"]) -> Event | None:
        """One shaping at the sides of a piece; None where it has none, or stitches are to go across."""
        role, outer = self.target.role, self.target.outer
        if self.how != "sides" or role in YOKES or role.band:
            return None
        return Event(do, "both" if len(outer) == 2 else outer[0], 2 if role is BODY else 1)

    def _is_joined(self, row: int) -> bool:
        """Whether pieces are joined or parted in a row: nothing else is done in it."""
        return any(e.do in ("join", "hold", "pick-up") for e in self.happens.get(row, ()))

    def _is_free(self, row: int) -> bool:
        """Whether nothing happens at the edges in a row that is worked from the right side."""
        at_edges = any(e.where in ("both", "left", "right") for e in self.happens.get(row, ()))
        of_panel = any(is_of_panel(e) for e in self.happens.get(row, ()))
        of_holes = any(map(_is_hole, self.happens.get(row, ())))
        return (
            not at_edges
            and not of_panel
            and not of_holes
            and not self._is_joined(row)
            and (self.step == 1 or (self.done.base + row) % 2 == 1)
        )

    # ── rows ─────────────────────────────────────────────────────────────────────────────────────────

    def _rows(self, ends: int) -> tuple[Row, ...]:
        _, end = self._section()
        rows = list(self.done.rows)
        for number in range(self.done.many + 1, ends + 1):
            like = self.target.rows[min(number, end) - 1]
            rows.append(self._row(rows, like, self.happens.get(number, ())))
        for like in self.target.rows[end:]:
            rows.append(self._row(rows, like, like.events))
        return tuple(rows)

    def _row(self, rows: Sequence[Row], like: Row, events: Iterable[Event]) -> Row:
        """The next row after these."""
        number = self.done.base + len(rows) + 1
        before = rows[-1].after if rows else self.done.cast_on
        events = tuple(
            replace(e, gaps=gaps_on(e.gaps, before - e.stitches, like.fabric)) if e.gaps and e.do == "bind-off" else e
            for e in events
        )
        after = before + sum(e.change for e in events)
        if after < 0:
            raise CannotBeKnitted(f"{self.target.name}, row {number}: {before} stitches are too few")
        across = sum(e.change for e in events if e.across)
        if not -before <= 2 * across <= 2 * before:
            raise CannotBeKnitted(f"{self.target.name}, row {number}: {before} stitches can't become {before + across}")
        return Row(number, _side(self.target, number, events), before, after, like.fabric, events)

    def _marks(self, ends: int, rows: Sequence[Row]) -> list[Mark]:
        """The landmarks that are still to come, each after its row, between as many stitches as there are."""
        begin, end = self._section()
        found = []
        for mark in self.target.marks:
            at = mark.after_row - _base(self.target)
            if at > begin:
                now = at + ends - end
                found.append(Mark(self.done.base + now, mark.what, self._counts_at(mark, at, rows[:now])))
        return found

    def _counts_at(self, mark: Mark, at: int, rows: Sequence[Row]) -> Counts:
        """Stitches between the markers that are placed after these rows, in the target after row ``at``."""
        if mark.counts and is_from_neck(self.target):
            return marked(mark, self._as_far_as(rows))
        counts, planned = self._with_joined(mark, self.target.rows[at - 1].after)
        return as_many(counts, planned, rows[-1].after)

    def _with_joined(self, mark: Mark, planned: int) -> tuple[Counts, int]:
        """Stitches between the markers that are placed where sleeves are joined, with those that the sleeves have."""
        joins = self.done.joins if mark.after_row == _base(self.target) + 1 else {}
        now = tuple(
            (part, joins.get(part.side, n) if part.role is SLEEVE and part.side else n) for part, n in mark.counts
        )
        return now, planned + sum(n for _, n in now) - sum(n for _, n in mark.counts)


def as_many(counts: Counts, planned: int, there: int) -> Counts:
    """Stitches between markers where there are more or fewer than planned: sleeves as they are, the others by share."""
    body = sum(n for part, n in counts if part.role is not SLEEVE)
    if planned == there or sum(n for _, n in counts) != planned or not body:
        return counts
    share, upto, found = (body + there - planned) / body, 0, []
    for part, n in counts:
        if part.role is SLEEVE:
            found.append((part, n))
        else:
            found.append((part, round((upto + n) * share) - round(upto * share)))
            upto += n
    return tuple(found)


def _without(events: Sequence[tuple[int, Event]], stitches: int) -> list[tuple[int, Event]]:
    """Events of one stream without the first so many stitches of them."""
    left: list[tuple[int, Event]] = []
    if any(event.do == "short-row" for _, event in events):  # each says how far from the edge it turns
        return list(events[stitches:])
    for row, event in events:
        taken = min(stitches, event.stitches)
        stitches -= taken
        if taken < event.stitches:
            left.append((row, replace(event, stitches=event.stitches - taken) if taken else event))
    return left


def _retimed(r: int, rows: Sequence[int], ends: int, step: int, *, above: bool = False) -> dict[int, int]:
    """Where rows to come are worked if the last of them is to be ``ends``, or as soon after it as can be.

    Rows are left out of the longest stretch in which nothing happens, pair by pair, and put into it: what follows
    closely goes on doing so. ``above``: they are put in after the first row to come, as late as can be.
    """
    gaps = [b - a for a, b in pairwise([r, *rows])]
    change = ends - rows[-1]
    change -= (change % step) if change > 0 else -(-change % step)
    if change > 0 and above and len(gaps) > 1:
        gaps[max(range(1, len(gaps)), key=lambda i: (gaps[i], i))] += change
    elif change > 0:
        gaps[gaps.index(max(gaps))] += change
    while change < 0 and max(gaps) > step:
        gaps[gaps.index(max(gaps))] -= step
        change += step
    return dict(zip(rows, (r + gone for gone in accumulate(gaps)), strict=True))
