"""Neck shaping: what is bound off in the middle, and what is taken at each neck edge, row by row.

A take stands on a pair of rows counted from the dividing row (0 is the dividing row and the one after it).
Bound-off stitches need the beginning of a row, so the two sides take them one row apart; decreases stand on
the same right-side row at both sides. Crew front and back reproduce a printed reference (neck of 32 and 37
stitches), the V a published one of 30 (tests/published).
"""

from collections.abc import Sequence
from itertools import accumulate

from workshop.core.calculation import Rounding
from workshop.core.making.ledger import CannotBeKnitted
from workshop.core.making.spacing import split_evenly
from workshop.records import record


@record
class NeckDecrease:
    """Stitches taken at one neck edge in one pair of rows: decreased, or bound off."""

    pair: int
    stitches: int
    decreased: bool


@record
class NeckShaping:
    """``centre`` stitches bound off at once, then ``takes`` at each side."""

    centre: int
    decreases: tuple[NeckDecrease, ...]


def crew_front(width: int, pairs: int) -> NeckShaping:
    """A round front neck: about four tenths in the middle, then 3, 2, 2 and single stitches.

    ``pairs`` is how many takes there are rows for; with fewer than the shape wants, stitches are taken in
    larger steps, and what still does not fit goes into the middle.
    """
    _check(width)
    centre = max(Rounding(2, width % 2)(0.4 * width), width % 2)
    return _one_a_pair(width, _round_steps((width - centre) // 2), pairs)


def crew_back(width: int, pairs: int) -> NeckShaping:
    """A shallow back neck: 4 and 2 stitches at each side of the middle; less for a narrow neck."""
    _check(width)
    steps = [4, 2] if width >= 24 else [2, 1] if width >= 12 else [1] if width >= 6 else []
    return _one_a_pair(width, steps, pairs)


def scoop_front(width: int, pairs: int) -> NeckShaping:
    """A deep round neck: like a crew at the bottom, its single stitches spread over all the rows above.

    The stretch of singles goes every second row first and every fourth row towards the shoulder.
    """
    _check(width)
    crew = crew_front(width, pairs)
    singles = sum(1 for t in crew.decreases if t.stitches == 1)
    first = len(crew.decreases) - singles
    room = pairs - first
    if singles < 2 or room <= singles:
        return crew
    slow = min(singles - 1, room - singles)
    gaps = [1] * (singles - slow) + [2] * slow
    at, decreases = first, list(crew.decreases[:first])
    for gap in gaps:
        at += gap
        decreases.append(NeckDecrease(at, 1, decreased=True))
    return NeckShaping(crew.centre, tuple(decreases))


def v_front(width: int, pairs: int, plain_pairs: int = 0) -> NeckShaping:
    """A V: one stitch in the middle of an odd neck, none of an even one, and single decreases up both sides.

    Every second row at the bottom, every fourth row above as the rows allow; ``plain_pairs`` at the top
    stay plain where there is room. A neck too wide for single decreases begins with double ones.
    """
    _check(width)
    centre = width % 2
    side = (width - centre) // 2
    if not side:
        return NeckShaping(centre, ())
    pairs = max(1, pairs)
    events = min(side, pairs)
    room = max(events, pairs - plain_pairs)
    doubles = side - events
    if doubles > events:  # steeper than double decreases: the rest opens at once
        centre += 2 * (doubles - events)
        doubles = events
    gaps = sorted(split_evenly(room, events)) if room < 2 * events else list(split_evenly(room, events, "short-first"))
    at = accumulate(gaps[:-1], initial=1)
    return NeckShaping(
        centre, tuple(NeckDecrease(p, 2 if i < doubles else 1, decreased=True) for i, p in enumerate(at))
    )


def _check(width: int) -> None:
    if width < 1:
        raise CannotBeKnitted(f"a neck of {width} stitches can't be shaped")


def _round_steps(side: int) -> list[int]:
    """Steps for one side: steep at the middle, single stitches towards the shoulder."""
    first = [3, 2, 2] if side >= 10 else [3, 2] if side >= 7 else [2, 2] if side >= 6 else [2] if side >= 4 else []
    return first + [1] * (side - sum(first))


def _one_a_pair(width: int, steps: Sequence[int], pairs: int) -> NeckShaping:
    """Make the steps fit the rows: join the smallest ones, and move the first into the middle at last."""
    steps = sorted(steps, reverse=True)
    while len(steps) > pairs and steps:
        if steps[0] < 5 and len(steps) >= 2:
            joined = steps.pop() + steps.pop()
            steps = sorted([*steps, joined], reverse=True)
        else:
            steps.pop(0)
    decreases = tuple(NeckDecrease(i, step, decreased=step == 1) for i, step in enumerate(steps, 1))
    return NeckShaping(width - 2 * sum(steps), decreases)
