"""The row ledger: every row of a piece, with its stitches before and after and what happens in it.

Nothing is printed that is not in the ledger, and a piece that cannot be knitted cannot be built: a row
that would leave a negative stitch count raises. ``where`` names edges as worn: ``left`` is the wearer's
left. Events at ``both`` edges count their stitches once for each edge.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import pairwise
from typing import Literal

from workshop.core.edgings import STOCKINETTE, Fabric
from workshop.core.fabric.patterns import SetBand, SetPanel, SetPattern, StripeRow
from workshop.core.making.roles import BOTH_EDGES, SHOULDER, SLEEVE, Edge, Role, Section
from workshop.core.making.spacing import run_lengths
from workshop.project import Do, Side, Where
from workshop.records import record

ADDS = {"increase": 1, "cast-on": 1, "join": 1, "pick-up": 1, "decrease": -1, "bind-off": -1, "hold": -1}


class CannotBeKnitted(ValueError):
    """A row, a neck or a line would need stitches that are not there."""


@record
class PickedUp:
    """Stitches picked up along one edge, and how the fingers get there."""

    edge: str
    stitches: int
    level: int
    """One of them in each stitch that lies across: bound off, cast on or held."""
    rows: int = 0
    """Rows of the edge beside those, of all its sides together."""
    rate: Fraction = Fraction(0)
    """Stitches to a row above its steps: a small fraction that leads to the count."""
    sides: int = 1
    """Two where the rows lie at both sides of the level stitches."""
    steps: int = 0
    """One in each stitch that was bound off or cast on in steps along the rows, of all sides together."""
    middle: int = 0
    """Those of the level stitches that are in the middle of the neck; the others are at its ends."""
    step_rows: int = 0
    """Those of the rows that lie beside the steps."""

    @property
    def rows_above(self) -> int:
        """Its rows above the steps, as worn, along which the other stitches are picked up; all where it has none."""
        return self.rows - self.step_rows

    @property
    def slope(self) -> int:
        """Stitches picked up along its rows."""
        return self.stitches - self.level - self.steps


@record
class Event:
    """One thing that happens in a row, at one place."""

    do: Do
    where: Where
    stitches: int
    line: str = ""
    """For shaping along raglan lines in one piece on which sides of them (named in ``raglan_lines``); for short rows
    that lie inside a piece what they are for, "dart" or "raised back"."""
    along: tuple[PickedUp, ...] = ()
    """Of stitches picked up: how they lie along each edge, in the order of the row; they add up."""
    gaps: tuple[int, ...] = ()
    """Of buttonholes: stitches worked before each of them, and after the last."""

    @property
    def change(self) -> int:
        """Stitches that it adds (or takes, if negative)."""
        return ADDS.get(self.do, 0) * self.stitches * (2 if self.where == "both" else 1)

    @property
    def across(self) -> bool:
        """Whether it is done across the whole row, not along a line or in a panel."""
        return self.where == "across" and not self.line


def rhythm(rows: Sequence[int]) -> tuple[tuple[int, int], ...]:
    """Rows from one time to the next, and how often: ((6, 4), (8, 2)) is every 6th row 4 times, every 8th twice."""
    return run_lengths([b - a for a, b in pairwise(rows)])


@record
class Schedule:
    """One thing that is done at one place on some rows: what the planner wanted, before it is knitted row by row."""

    event: Event
    rows: tuple[int, ...]

    @property
    def rhythm(self) -> tuple[tuple[int, int], ...]:
        """Every how many rows, and how often."""
        return rhythm(self.rows)

    @property
    def change(self) -> int:
        """Stitches that it adds in all (or takes, if negative)."""
        return self.event.change * len(self.rows)


Schedules = tuple[Schedule, ...]


def scheduled(happens: Iterable[tuple[int, Event]]) -> Schedules:
    """Events with their rows as schedules, one for each different event."""
    found: dict[Event, list[int]] = {}
    for row, event in happens:
        found.setdefault(event, []).append(row)
    return tuple(Schedule(event, tuple(sorted(rows))) for event, rows in found.items())


def later(schedules: Iterable[Schedule], rows: int) -> Schedules:
    """The same so many rows later."""
    return tuple(Schedule(s.event, tuple(row + rows for row in s.rows)) for s in schedules)


def by_row(schedules: Iterable[Schedule]) -> dict[int, list[Schedule]]:
    """What is due in each row, in the order of the schedules."""
    due: dict[int, list[Schedule]] = {}
    for schedule in schedules:
        for row in schedule.rows:
            due.setdefault(row, []).append(schedule)
    return due


@record
class Row:
    """One row or round. ``before`` and ``after`` count all stitches in work."""

    row: int
    side: Side
    before: int
    after: int
    fabric: Fabric
    events: tuple[Event, ...] = ()
    band: int = field(default=0, compare=False)
    """The number of the band that it is a row of, which has a gauge of its own; 0: none."""
    own_gauge: tuple[float, float] | None = field(default=None, compare=False)
    """Stitches and rows per 10 cm after the wash, where a needle knitted it that was changed since."""


Counts = tuple[tuple[Section, int], ...]
"""Stitches of each part of a piece between markers."""


@record
class Mark:
    """Something to do after a row that changes no stitch: a marker at the underarm, a try-on."""

    after_row: int
    what: str
    counts: Counts = ()
    """Stitches between markers that are placed here, in the order in which they are worked."""


@record
class Piece:
    """One piece of knitting, or the part of one that goes on where its ``parent`` ends."""

    role: Role
    worked: Literal["flat", "round"]
    cast_on: int
    rows: tuple[Row, ...]
    bound_off: int
    key_counts: Mapping[str, int]
    side: Edge | None = None
    """Left or right as worn, where there are two of its role."""
    parent: "Piece | None" = None
    """What it grew out of."""
    begins: Edge = "right"
    """Edge, as worn, at which right-side rows begin."""
    edge_stitches: int = 0
    """Stitches at each edge that the seam takes; they are in the counts and not in the widths."""
    marks: tuple[Mark, ...] = ()
    neck_rows: int = 0
    """Rows of the front neck, where no row divides the piece: half of an open front, a yoke."""
    schedules: Schedules = ()
    """All that happens in its rows, as it was planned; together they are the events of the rows."""
    planned_at: int = 0
    """Rows that were knitted when the rest was planned as it is; 0 where the plan is followed from the cast-on."""
    pattern: SetPattern | None = None
    """The stitch pattern of its fabric, where that is not plain."""
    panels: tuple[SetPanel, ...] = ()
    """Panels of other patterns up its middle."""
    bands: tuple[SetBand, ...] = ()
    """Bands of other patterns round it, from its first row up."""
    stripes: Mapping[int, StripeRow] = field(default_factory=dict)
    """For each row that is one of the stripes: which row of their sequence, and its colour."""

    def band_at(self, row: int) -> SetBand | None:
        """The band that a row belongs to; None for one of no band."""
        return next((b for b in self.bands if b.row_of(row) is not None), None)

    @property
    def name(self) -> str:
        """Its name, for showing."""
        return self.role.name(self.side, self.parent.name if self.parent else "")

    @property
    def told(self) -> str:
        """Its name within a sentence: "left shoulder of the back"."""
        return self.role.told_as(self.side, self.parent.told if self.parent else "")

    @property
    def outer(self) -> tuple[Edge, ...]:
        """Its outer edges as worn: one of a shoulder or half a front."""
        return self.role.outer(self.side)

    @property
    def last_row(self) -> int:
        """Number of the last row, counted from the cast-on of the piece that it came from."""
        return self.rows[-1].row if self.rows else 0

    @property
    def picked_up(self) -> Event | None:
        """How the stitches of a band are picked up; None for a piece that begins otherwise."""
        events = self.rows[0].events if self.rows else ()
        return next((e for e in events if e.do == "pick-up" and e.where == "across"), None)

    @property
    def held_unworked(self) -> bool:
        """Whether the last row of its parent put its stitches aside without working them, as one that parts sleeves."""
        last = self.parent.rows[-1:] if self.parent else ()
        return self.role is SLEEVE and any(puts_aside(row, self.side) for row in last)

    @property
    def stitches_worked(self) -> int:
        """Stitches knitted in all rows: what the yarn is for."""
        return sum(max(r.before, r.after) for r in self.rows)

    @property
    def widest(self) -> int:
        """Most stitches in work in any row."""
        return max((max(r.before, r.after) for r in self.rows), default=self.cast_on)

    @property
    def widest_of_fabric(self) -> int:
        """Most stitches in work above the edging, which may have some more for its repeat."""
        above = [r.after for r in self.rows[self.edging_rows :]]
        return max(above) if self.edging_rows and above else self.widest

    @property
    def widest_whole(self) -> int:
        """Most stitches of the piece in any row, with those bound off at its edge in the row that divides.

        One side of a neck may lose stitches at its outer edge in that very row: they are its own too, as the other
        side, one row later, still has them on the needle.
        """
        if self.parent is None or self.role is not SHOULDER:
            return self.widest
        bound = sum(e.stitches for e in self.parent.rows[-1].events if e.do == "bind-off" and e.where == self.side)
        return max(self.widest, self.cast_on + bound)

    @property
    def seam_stitches(self) -> int:
        """Stitches of the widest row that lie in seams."""
        return self.edge_stitches * len(self.outer)

    @property
    def edging_rows(self) -> int:
        """Rows of the edging that it begins with; 0 for one that begins without, as from the neck."""
        return len(edging_first(self.rows))

    @property
    def inner_rows(self) -> frozenset[int]:
        """Numbers of the short rows that lie inside it (darts, a raised back): they do not lengthen its edges.

        Where it has one outer edge, only every second row of a dart ends short; its fellow goes to the middle and back.
        """
        at_the_side = self.rows_at_the_side()
        if len(at_the_side) == len(self.rows):
            return frozenset()
        return frozenset(r.row for r in self.rows) - {r.row for r in at_the_side}

    def rows_at_the_side(self, last_row: int | None = None) -> tuple[Row, ...]:
        """Its rows, to ``last_row`` or to its end, without those that lie inside it."""
        rows = self.rows if last_row is None else tuple(r for r in self.rows if r.row <= last_row)
        inner = {r.row for r in rows for e in r.events if e.do == "short-row" and e.line}
        if not inner:
            return rows
        if len(self.outer) == 1:
            inner |= {row + 1 if row % 2 else row - 1 for row in inner}
        return tuple(r for r in rows if r.row not in inner)

    def at_beginning(self, event: Event, row: Row) -> bool | None:
        """Whether what happens at one edge happens where the row begins; None for what is elsewhere, or in a round."""
        at_neck, edge = event.where.startswith("neck-"), event.where.removeprefix("neck-")
        if self.role.band or row.side == "round" or edge not in BOTH_EDGES:
            return None
        turned = at_neck and len(self.outer) == 1  # the neck of a left front is at its right edge
        return ((edge == self.begins) is not turned) == (row.side == "RS")

    def lineage(self) -> "Iterator[Piece]":
        """All that it grew out of, from the cast-on, and itself."""
        if self.parent:
            yield from self.parent.lineage()
        yield self

    def with_rows(self, rows: Iterable[Row]) -> "Piece":
        """It with other rows, and the schedules that these follow."""
        rows = tuple(rows)
        if rows == self.rows:
            return self
        return replace(self, rows=rows, schedules=scheduled((r.row, e) for r in rows for e in r.events))

    def grown_from(self, parent: "Piece | None") -> "Piece":
        """It as the same piece of another parent."""
        return self if self.parent is parent else replace(self, parent=parent)


def puts_aside(row: Row, side: Edge | None) -> bool:
    """Whether a row puts a sleeve aside, without working its stitches."""
    return any(e.do == "hold" and e.where == side for e in row.events)


def edging_first(rows: Sequence[Row]) -> Sequence[Row]:
    """The rows of an edging that some rows begin with; none where they are all of it, as in a band."""
    return rows[: next((i for i, row in enumerate(rows) if row.fabric == STOCKINETTE), 0)]


def each_changed(pieces: Iterable[Piece], changed: Iterable[Piece]) -> tuple[Piece, ...]:
    """The pieces of a family as they were ``changed``, in the same order, each grown from its parent as that is now."""
    new: dict[int, Piece] = {}
    for piece, now in zip(pieces, changed, strict=True):
        new[id(piece)] = now.grown_from(new[id(piece.parent)] if piece.parent else None)
    return tuple(new.values())


@dataclass(slots=True)
class Ledger:
    """Builds a piece row by row; its rows go on from those of its ``parent``."""

    role: Role
    worked: Literal["flat", "round"]
    cast_on: int
    side: Edge | None = None
    parent: Piece | None = None
    begins: Edge = "right"
    edge_stitches: int = 0
    neck_rows: int = 0
    rows: list[Row] = field(default_factory=list)
    marks: list[Mark] = field(default_factory=list)
    followed: dict[Schedule, list[int]] = field(default_factory=dict)
    """The rows worked so far of each schedule."""
    stitches: int = field(init=False)

    def __post_init__(self) -> None:
        self.stitches = self.cast_on

    @property
    def outer(self) -> tuple[Edge, ...]:
        """The outer edges of the piece as worn."""
        return self.role.outer(self.side)

    @property
    def next_row(self) -> int:
        """Number of the row that comes next."""
        return (self.parent.last_row if self.parent else 0) + len(self.rows) + 1

    def _side_of(self, row: int) -> Side:
        """Back and forth odd rows are right-side rows."""
        if self.worked == "round":
            return "round"
        return "RS" if row % 2 else "WS"

    def work(self, rows: int, fabric: Fabric) -> None:
        """Work plain rows."""
        self.follow(self.next_row + rows - 1, (), fabric)

    def follow(self, last_row: int, schedules: Schedules, fabric: Fabric = STOCKINETTE) -> None:
        """Work up to ``last_row``; what is due in a row happens in it, in the order of the schedules.

        Raises CannotBeKnitted when an event has no stitches to work on.
        """
        rows, due = range(self.next_row, last_row + 1), by_row(schedules)
        for row in rows:
            happens = due.get(row)
            self._add(row, fabric, tuple(schedule.event for schedule in happens) if happens else ())
        for schedule in schedules:
            self.followed.setdefault(schedule, []).extend(row for row in schedule.rows if row in rows)

    def shape(self, fabric: Fabric, *events: Event, side: Side | None = None) -> None:
        """Work one row with its events. ``side`` is for short rows back and forth within a round.

        Raises CannotBeKnitted when an event has no stitches to work on.
        """
        for event in events:
            self.followed[Schedule(event, (self.next_row,))] = [self.next_row]
        self._add(self.next_row, fabric, events, side)

    def _add(self, row: int, fabric: Fabric, events: tuple[Event, ...], side: Side | None = None) -> None:
        before = after = self.stitches
        wrong = False
        for event in events:
            after += event.change
            wrong |= event.stitches < 0
        if wrong or after < 0:
            where = f"{self.piece().name}, row {row}"
            less = next((event.stitches for event in events if event.stitches < 0), None)
            few = f"{before} stitches are too few for its shaping"
            raise CannotBeKnitted(f"{where}: {few if less is None else f'{less} stitches'}")
        self.rows.append(Row(row, side or self._side_of(row), before, after, fabric, events))
        self.stitches = after

    def mark(self, what: str, *counts: tuple[Section, int]) -> None:
        """Note something to do after the row just worked (or at the cast-on)."""
        self.marks.append(Mark(self.next_row - 1, what, counts))

    def piece(self, **key_counts: int) -> Piece:
        """The finished piece; stitches still in work are bound off."""
        return Piece(
            role=self.role,
            worked=self.worked,
            cast_on=self.cast_on,
            rows=tuple(self.rows),
            bound_off=self.stitches,
            key_counts=dict(key_counts),
            side=self.side,
            parent=self.parent,
            begins=self.begins,
            edge_stitches=self.edge_stitches,
            marks=tuple(self.marks),
            neck_rows=self.neck_rows,
            schedules=tuple(Schedule(s.event, tuple(rows)) for s, rows in self.followed.items() if rows),
        )
