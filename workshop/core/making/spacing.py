"""Spreading shaping rows over rows, and increases or decreases over the stitches of one row.

Three conventions are in print, and mixing them is the commonest off-by-one. Here there are as many gaps as events, and
the last gap ends with the section; ``rows`` is what is left after plain zones are taken off. Method: equal division
with the remainder spread as gaps one (or one pair of rows) longer; published cases 36 in 140, 28 in 120 and others in
tests/published.
"""

from collections.abc import Sequence
from itertools import accumulate, groupby, pairwise
from typing import Literal

from workshop.records import record

Order = Literal["long-first", "short-first", "even"]


class DoesNotFit(ValueError):
    """More events than fit in these rows or stitches. The message says how many would."""


@record
class Spread:
    """Which rows of a section are shaping rows.

    ``gaps`` are what a knitter reads ("every 6th row"), in their order; ``event_rows`` count from 1 at the
    first row of the section.
    """

    gaps: tuple[int, ...]
    event_rows: tuple[int, ...]


def run_lengths(values: Sequence[int]) -> tuple[tuple[int, int], ...]:
    """Neighbouring equal values as (value, times)."""
    return tuple((value, len(list(run))) for value, run in groupby(values))


def split_evenly(total: int, parts: int, order: Order = "long-first") -> tuple[int, ...]:
    """``total`` in ``parts`` whole parts that differ by at most one.

    ``even`` interleaves them as a line drawn on squared paper would: any two runs of equally many
    neighbouring parts differ in sum by at most one.
    """
    if parts < 1:
        raise ValueError(f"cannot split {total} into {parts} parts")
    if order == "even":
        marks = [i * total // parts for i in range(parts + 1)]
        return tuple(b - a for a, b in pairwise(marks))
    small, longer = divmod(total, parts)
    shorts, longs = (small,) * (parts - longer), (small + 1,) * longer
    return longs + shorts if order == "long-first" else shorts + longs


def over_rows(rows: int, events: int) -> Spread:
    """Spread ``events`` shaping rows over ``rows``; any row may be one (in the round), the quicker rate first.

    Raises DoesNotFit when there are more events than rows to put them on.
    """
    _check_counts(rows, events)
    if events == 0:
        return Spread((), ())
    if events > rows:
        raise DoesNotFit(_too_many(rows, events, rows))
    if events == 1:
        middle = (rows + 1) // 2
        return Spread((middle,), (middle,))
    gaps = split_evenly(rows, events, "short-first")
    return Spread(gaps, tuple(accumulate(gaps)))


def on_right_side(rows: int, events: int, *, order: Order = "long-first") -> Spread:
    """Spread events over right-side rows only; row 1 of the section is a right-side row.

    Works in pairs of rows. The event stands on the first row of its pair, so event rows are odd and a
    wrong-side row follows the last one.

    Raises DoesNotFit when there are fewer pairs of rows than events.
    """
    _check_counts(rows, events)
    if events == 0:
        return Spread((), ())
    pairs = rows // 2
    if events > pairs:
        raise DoesNotFit(_too_many(rows, events, pairs))
    if events == 1:
        middle = (pairs + 1) // 2
        return Spread((2 * middle,), (2 * middle - 1,))
    in_pairs = split_evenly(pairs, events, order)
    return Spread(tuple(2 * gap for gap in in_pairs), tuple(2 * at - 1 for at in accumulate(in_pairs)))


def two_rates(rows: int, events: int) -> tuple[tuple[int, int], tuple[int, int]]:
    """How many events at each of two neighbouring rates fill exactly ``rows`` rows.

    Every 4th and every 2nd row where there is room, every 2nd and every row where there is not: the
    plain and the quick raglan. Result ((gap, times), (gap, times)), longer gap first.

    Raises DoesNotFit below one row or above four rows to an event, and for an odd number of rows where
    only pairs of rows fit.
    """
    if events < 1 or rows < events or rows > 4 * events:
        raise DoesNotFit(f"{events} shaping rows need {events} to {4 * events} rows, and there are {rows}")
    if rows >= 2 * events:
        if rows % 2:
            raise DoesNotFit(f"{rows} rows is odd: gaps of 2 and 4 rows need an even number")
        slow = (rows - 2 * events) // 2
        return (4, slow), (2, events - slow)
    quick = 2 * events - rows
    return (2, events - quick), (1, quick)


Way = Literal["nothing", "right side", "every row", "several at once"]


@record
class Shaping:
    """How shaping events fit into rows: the way, the rows, and the stitches of each event."""

    way: Way
    schedule: Spread
    stitches: tuple[int, ...]


def gentlest_shaping(rows: int, events: int) -> Shaping:
    """Shape ``events`` stitches at one edge in ``rows`` rows of flat knitting, the gentlest way that fits.

    On right-side rows where there is a pair of rows for each, the quicker rate first, so that a sleeve does not flare
    at its top; else on all right-side rows and on as many wrong-side rows as it takes, every row first and every second
    row after; with more stitches than rows several at once, at the beginning of every second row (bound off or cast
    on). Raises DoesNotFit where even that would take more than four at a time.
    """
    _check_counts(rows, events)
    if events == 0:
        return Shaping("nothing", Spread((), ()), ())
    if events <= rows // 2:
        return Shaping("right side", on_right_side(rows, events, order="short-first"), (1,) * events)
    if events <= rows:
        slow, quick = rows - events, 2 * events - rows
        last = rows % 2  # of an odd number of rows the last is a right-side row, and the slow ones must not miss it
        gaps = (1,) * (quick - last) + (2,) * slow + (1,) * last
        return Shaping("every row", Spread(gaps, tuple(accumulate(gaps[:-1], initial=1))), (1,) * events)
    pairs = rows // 2
    if pairs < 1 or events > 4 * pairs:
        raise DoesNotFit(_too_many(rows, events, 4 * pairs))
    at = tuple(2 * i + 1 for i in range(pairs))
    return Shaping("several at once", Spread((2,) * pairs, at), split_evenly(events, pairs))


Technique = Literal["m1", "kfb", "k2tog"]
"""Increase between stitches; increase out of a stitch; decrease of two into one."""

STITCHES_USED = {"m1": 0, "kfb": 1, "k2tog": 2}
"""Stitches of the row before that one event uses up."""


def evenly(stitches: int, events: int, technique: Technique, worked: Literal["flat", "round"]) -> tuple[int, ...]:
    """Plain stitches before each of ``events`` events in one row, and after the last: what the fingers count.

    "Every 4th stitch" means another thing for each technique: m1 comes after 4 plain stitches, kfb is the
    4th itself, k2tog uses the 3rd and 4th. Flat, half a gap stays at both edges; in the round the last
    number is nought.

    Raises DoesNotFit where the events would need more stitches than there are.
    """
    plain = stitches - events * STITCHES_USED[technique]
    if events < 1 or plain < 0:
        raise DoesNotFit(f"there's no room to work {technique} {events} times across {stitches} stitches")
    if worked == "round":
        marks = [-(-i * plain // events) for i in range(1, events + 1)]
    else:
        marks = [((2 * i - 1) * plain + events) // (2 * events) for i in range(1, events + 1)]
        if plain > 1 and (not marks[0] or marks[-1] == plain):  # no decrease in the stitch of an edge
            marks = [1 + ((2 * i - 1) * (plain - 2) + events) // (2 * events) for i in range(1, events + 1)]
    gaps = [b - a for a, b in pairwise([0, *marks])]
    return (*gaps, plain - marks[-1])


def in_blocks(gaps: Sequence[int]) -> list[tuple[tuple[int, ...], int]]:
    """Gaps of two sizes in another order that is as even and can be counted: at most two blocks, each so many times.

    Each gap of the rarer size is followed by as many of the other as come to it, or one more. Gaps of one size are one
    block; of more than two sizes each run is its own.
    """
    sizes = sorted(set(gaps), key=list(gaps).count)
    if len(sizes) != 2:
        return [((size,), times) for size, times in run_lengths(gaps)]
    rare, usual = sizes
    many = list(gaps).count(rare)
    each, more = divmod(len(gaps) - many, many)
    blocks = [((rare, *(usual,) * each), many - more), ((rare, *(usual,) * (each + 1)), more)]
    return [(block, times) for block, times in blocks if times]


def nearest(free: Sequence[int], ideal: Sequence[float]) -> list[int]:
    """A row for each ideal place, in order, each another one, as near as the rows that are free allow."""
    rows, first = [], 0
    for i, place in enumerate(ideal):
        last = len(free) - (len(ideal) - i)
        at = min(range(first, last + 1), key=lambda n: abs(free[n] - place))
        rows.append(free[at])
        first = at + 1
    return rows


def _check_counts(rows: int, events: int) -> None:
    if rows < 0 or events < 0:
        raise ValueError(f"{events} events over {rows} rows: both must be zero or more")


def _too_many(rows: int, events: int, room: int) -> str:
    return f"{events} shaping rows don't fit in {rows} rows: there's room for {room}"
