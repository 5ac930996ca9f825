"""Raglan counts and rates: four lines of shaping shared by body and sleeves.

Both sides of a line have the same rows, not the same slope: body and sleeve go each at the rate that brings it
from the underarm to the neck in those rows (a compound raglan). Eight stitches change on a shaping row where both
go at one rate. Published counts: a top-down raglan in six sizes, three sizes of a vintage slipover, 18 events in
50 rows, 36 in 60 (tests/published).
"""

from itertools import accumulate

from workshop.core.making.ledger import ADDS, CannotBeKnitted, Event
from workshop.core.making.roles import HALVES, SLEEVE, Section
from workshop.core.making.spacing import nearest, split_evenly
from workshop.records import record

LINES = 4
"""Raglan lines of a yoke."""

BODY_SIDE, SLEEVE_SIDE, BOTH_SIDES = "body side", "sleeve side", "all lines"
"""The ``line`` of an event that shapes along all of them: on one side of each, or on both."""

ONE_SIDE = (BODY_SIDE, SLEEVE_SIDE)

PER_SHAPING = {BOTH_SIDES: 2 * LINES, BODY_SIDE: LINES, SLEEVE_SIDE: LINES}
"""Stitches that one shaping along all of them changes, by the ``line`` of its event."""


def at_each_end(event: Event, part: Section) -> int:
    """Stitches that shaping along the lines changes at each end of a part that lies at one; 0 for any other event."""
    other_side = BODY_SIDE if part.role is SLEEVE else SLEEVE_SIDE
    shapes = event.line in PER_SHAPING and event.line != other_side
    return event.stitches // PER_SHAPING[event.line] if shapes else 0


def added_along_lines(event: Event, part: Section) -> int:
    """Stitches that shaping along the lines adds to a part (or takes, if negative); half a front has one line."""
    return ADDS.get(event.do, 0) * at_each_end(event, part) * (1 if part in HALVES else 2)


@record
class RaglanShape:
    """Visible stitches of a raglan. ``rows`` are the rows of the lines, from the first event on; even."""

    back: int
    sleeve: int
    underarm: int
    """Set aside at each underarm of the body, and as many of each sleeve; even."""
    back_neck: int
    sleeve_top: int
    rows: int

    @property
    def body_events(self) -> int:
        """Shaping rows on the body side of each line."""
        return (self.back - self.underarm - self.back_neck) // 2

    @property
    def sleeve_events(self) -> int:
        """Shaping rows on the sleeve side of each line."""
        return (self.sleeve - self.underarm - self.sleeve_top) // 2

    @property
    def fits(self) -> bool:
        """Whether all shaping rows are there and find a row each."""
        fewest, most = sorted((self.body_events, self.sleeve_events))
        return fewest >= 0 and most <= self.rows

    @property
    def body_rows(self) -> tuple[int, ...]:
        """Rows, counted from the underarm, on which the body side of each line is decreased in one piece."""
        return _in_step(self.rows, self.body_events, self.sleeve_events)

    @property
    def sleeve_rows(self) -> tuple[int, ...]:
        """Rows, counted from the underarm, on which the sleeve side of each line is decreased in one piece."""
        return _in_step(self.rows, self.sleeve_events, self.body_events)


def _in_step(rows: int, events: int, across: int) -> tuple[int, ...]:
    """Rows of one side of a line: its own rate, but kept to the shaping rows of a busier side ``across`` the line.

    So there are no more shaping rows than the busier side has, and none for the other side alone (common practice, no
    source: compound raglans leave out some decreases of one side).
    """
    own = line_rows(rows, events)
    return own if events >= across else tuple(nearest(line_rows(rows, across), own))


def line_rows(rows: int, events: int) -> tuple[int, ...]:
    """Rows, counted from the underarm, on which one side of a raglan line is decreased.

    On right-side rows (odd ones) where there are two rows or more to an event: at two neighbouring rates, the
    quicker one at both ends and the slower in the middle. With fewer rows, on every row near the underarm and on
    every second row above. Raises ValueError where there are fewer rows than events.
    """
    if events > rows:
        raise CannotBeKnitted(f"{events} shaping rows don't fit in {rows} rows")
    if not events:
        return ()
    if rows >= 2 * events:
        pairs = split_evenly(rows // 2, events, "short-first")
        quick, slow = [p for p in pairs if p == pairs[0]], [p for p in pairs if p != pairs[0]]
        below = len(quick) - len(quick) // 2
        gaps = [2 * p for p in (*quick[:below], *slow, *quick[below:])]
        return tuple(accumulate(gaps[:-1], initial=1))
    every = 2 * events - rows
    return (*range(1, every + 1), *range(every + 1, rows + 1, 2))


def from_the_neck(event_rows: tuple[int, ...], rows: int) -> tuple[int, ...]:
    """The same rows counted from the neck down: odd rows stay odd where ``rows`` is even."""
    return tuple(sorted(rows - row if row < rows else rows for row in event_rows))
