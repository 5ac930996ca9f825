"""Sleeve caps: a row schedule whose edge is as long as the armhole that it is sewn into.

The cap binds off at the underarm what the armhole does, so that the two lie on each other; then single
decreases at two neighbouring rates, quick at both ends and slow in the middle; then small bind-offs and a
straight top. Of all even heights the one is taken whose edge fits best; nothing is solved for that the row
ledger does not hold. A published bell-shaped cap in three sizes ends on the same 13 stitches (tests/published).
"""

from bisect import bisect_left
from collections.abc import Iterator
from functools import lru_cache
from itertools import accumulate
from math import inf

from workshop.core.calculation import Rounding
from workshop.core.making.cloth import Cloth
from workshop.core.making.edges import edge_cm, shaped_edge
from workshop.core.making.ledger import Schedules
from workshop.core.making.panels import alike, bound_off_at_both
from workshop.core.making.roles import Edge
from workshop.core.making.spacing import two_rates
from workshop.records import record

LEAST_EASE, MOST_EASE, BEST_EASE = -0.01, 0.05, 0.02
"""Cap edge over armhole edge: from 1 % shorter to 5 % longer, best a little longer (method: cap matching)."""

SHORTER = 5.0
"""How much a cap that is shorter than its armhole is shunned: only where no longer one is of a usual height."""

USUAL_HEIGHT = (0.60, 0.70)
"""Height of a cap as part of the armhole's depth (a rule in print, armhole less half the top and 1 1/2 in, gives 63 to
65 %; common practice 60 to 70)."""

TOP_CM = (7.5, 6.5, 8.5, 5.5, 9.5, 4.5, 11.0, 3.5)
"""Straight tops to try, the usual three inches first (printed: 2 to 4 in)."""

WIDEST_USUAL_TOP_CM = 8.5
"""A top wider than this is taken only where the cap would else be of an unusual height (common practice, no source)."""


CORNER = 0.03
"""How much a cap is shunned whose sides run straight into its top, as a part of the armhole's edge: its corners show
(printed: two to four rows of bind-offs of 1/2 in before the top)."""


@record
class Cap:
    """A cap: bind-offs at the underarm, decrease rows, bind-offs near the top, and the straight top.

    Rows count from 1 at the first row of the cap, a right-side row.
    """

    bind_offs: tuple[int, ...]
    decrease_rows: tuple[int, ...]
    decreased_over: int
    """Rows of the part with the decreases."""
    top_steps: tuple[int, ...]
    top: int

    @property
    def rows(self) -> int:
        """Height in rows."""
        return 2 * len(self.bind_offs) + self.decreased_over + 2 * len(self.top_steps)

    def outer(self, begins: Edge, after_row: int) -> Schedules:
        """Both edges of a sleeve whose cap begins after ``after_row``."""
        low = bound_off_at_both(begins, after_row + 1, self.bind_offs)
        first = after_row + 2 * len(self.bind_offs) + self.decreased_over + 1
        top = bound_off_at_both(begins, first, self.top_steps)
        return low + alike(after_row + r for r in self.decrease_rows) + top

    def moves(self) -> list[tuple[float, float]]:
        """One side of the edge and half the top, as (stitches sideways, rows up)."""
        low = shaped_edge(self.bind_offs, self.decrease_rows, 2 * len(self.bind_offs) + self.decreased_over)
        return [*low, *((s, 2) for s in self.top_steps), (self.top / 2, 0)]

    def edge_cm(self, cloth: Cloth) -> float:
        """Length of one side of the edge with half of the top, in washed cm."""
        return edge_cm(cloth, self.moves())


@lru_cache(maxsize=256)
def fitting_cap(
    sleeve: int, bind_offs: tuple[int, ...], armhole_cm: float, depth_cm: float, cloth: Cloth
) -> Cap | None:
    """The cap for a sleeve of so many stitches that suits an armhole best, or None where none fits its edge.

    ``armhole_cm`` is the length of one side of the armhole's edge, ``depth_cm`` its depth. Of the caps whose edge fits,
    one of the usual height is taken, or the nearest to it.
    """
    best, least = None, inf
    for shape in _shapes(sleeve, bind_offs, cloth):
        for cap in _about(shape, armhole_cm, depth_cm, cloth):
            ease = cap.edge_cm(cloth) / armhole_cm - 1
            miss = abs(ease - BEST_EASE) + SHORTER * max(0.0, -ease)
            wide = max(0.0, cloth.across_cm(cap.top) - WIDEST_USUAL_TOP_CM)
            cost = 10 * beyond_usual_height(cap, depth_cm, cloth) + miss + 0.15 * wide
            cost += 0.0 if cap.top_steps else CORNER
            if cost < least:
                best, least = cap, cost
        if least < 0.01:
            break
    return best


def beyond_usual_height(cap: Cap, depth_cm: float, cloth: Cloth) -> float:
    """How far a cap is lower or taller than usual, as part of the armhole's depth; 0 within the usual heights."""
    part = cloth.along_cm(cap.rows) / depth_cm
    return max(0.0, USUAL_HEIGHT[0] - part, part - USUAL_HEIGHT[1])


def _about(shape: "_Shape", armhole_cm: float, depth_cm: float, cloth: Cloth) -> Iterator[Cap]:
    """Caps of one shape whose edge fits: the best eased, and from there on towards the usual height."""
    heights = shape.heights

    def ease(rows: int) -> float:
        return shape.cap(rows).edge_cm(cloth) / armhole_cm - 1

    at = bisect_left(heights, BEST_EASE, key=ease)
    for way in (range(at, len(heights)), range(at - 1, -1, -1)):
        for i in way:
            if not LEAST_EASE <= ease(heights[i]) <= MOST_EASE:
                break
            cap = shape.cap(heights[i])
            yield cap
            if not beyond_usual_height(cap, depth_cm, cloth):
                break


@lru_cache(maxsize=256)
def armholes_that_fit(sleeve: int, bind_offs: tuple[int, ...], cloth: Cloth) -> tuple[float, float] | None:
    """Shortest and longest armhole edge, in cm, that some cap for a sleeve of so many stitches fits; None: no cap."""
    edges = [s.cap(s.heights[end]).edge_cm(cloth) for s in _shapes(sleeve, bind_offs, cloth) for end in (0, -1)]
    return (min(edges) / (1 + MOST_EASE), max(edges) / (1 + LEAST_EASE)) if edges else None


@record
class _Shape:
    """A cap but for its height: what is bound off below and above, the straight top, and the decreases of a side."""

    bind_offs: tuple[int, ...]
    top_steps: tuple[int, ...]
    top: int
    side: int

    @property
    def heights(self) -> range:
        """Rows that the decreases can be spread over: even, from one in every row to one in every fourth."""
        return range(self.side + self.side % 2, 4 * self.side + 1, 2)

    def cap(self, rows: int) -> Cap:
        """The cap whose decreases take so many rows."""
        bell = _bell(2 * len(self.bind_offs), self.side, rows)
        return Cap(self.bind_offs, bell, rows, self.top_steps, self.top)


def _shapes(sleeve: int, bind_offs: tuple[int, ...], cloth: Cloth) -> Iterator[_Shape]:
    """All shapes for a sleeve of so many stitches, the usual top first."""
    step = max(1, Rounding()(cloth.stitches_per_10cm * 1.2 / 10))
    for top_cm in TOP_CM:
        top = max(2 + sleeve % 2, Rounding(2, sleeve % 2)(cloth.stitches_per_10cm * top_cm / 10))
        for steps in ((step, step), (step,), ()):
            side = (sleeve - top) // 2 - sum(bind_offs) - sum(steps)
            if side >= 0:
                yield _Shape(bind_offs, steps, top, side)


def _bell(after: int, events: int, rows: int) -> tuple[int, ...]:
    """Decrease rows that fill ``rows`` rows: quick below and above, slow in the middle."""
    if not events:
        return ()
    (slow_gap, slow), (quick_gap, quick) = two_rates(rows, events)
    below = quick - quick // 2 if quick_gap > 1 else (quick // 2 + 1) // 2 * 2
    gaps = [quick_gap] * below + [slow_gap] * slow + [quick_gap] * (quick - below)
    return tuple(after + 1 + at for at in accumulate(gaps[:-1], initial=0))
