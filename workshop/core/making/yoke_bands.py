"""Bands of stitch patterns round a yoke, between its decrease rounds: counts that hold whole repeats, by search.

A band needs a count that its repeat divides (an open front: repeats and the stitches that balance them, between the
plain edges). Rounding each count by itself breaks the limit of the decreases now and then, so chains of counts are
searched, over two repeats either way. Join and neck keep their counts: a plain round adjusts what lies between.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from itertools import pairwise
from math import exp, log

from workshop.core.calculation import WHOLE
from workshop.core.fabric.patterns import Pattern, SetBand
from workshop.core.making.yoke_percentages import LEAST_KEEP, YokeRound, decrease_rounds, straight_rounds
from workshop.records import record

REPEATS_EITHER_WAY = 2
"""So many repeats more and fewer than the nearest are tried."""

PLAIN_BESIDE = 2
"""Plain rounds between a band and a decrease round, where there is room (common practice, no source)."""

MOST_MORE = 1.2
"""Up to how much of its stitches the round that adjusts the join may make of them."""

MOST_ROUNDS_MORE = 3
"""Decrease rounds above the bands beyond those of a plain yoke, where the neck asks for them."""


@record
class BandWish:
    """A band as it is wished for."""

    number: int
    """From 1, from the join up."""
    pattern: Pattern
    across: float = 1.0
    """Its stitches to one of the yoke in the same width: more than 1 where it is the tighter fabric."""
    along: float = 1.0
    """Its rows to one of the yoke in the same length."""

    @property
    def rows(self) -> int:
        """Rounds of its chart, worked once."""
        return self.pattern.rows


@record
class Ends:
    """How the rounds of a yoke begin and end: closed in the round, or at two fronts with plain edge stitches."""

    flat: bool = False
    edge: int = 0
    """Plain stitches at each front edge."""

    def beyond(self, pattern: Pattern) -> int:
        """Stitches of a row beyond whole repeats."""
        return pattern.plus + 2 * self.edge if self.flat else 0

    def fits(self, stitches: int, pattern: Pattern) -> bool:
        """Whether a count holds whole repeats, at least one."""
        inside = stitches - self.beyond(pattern)
        return inside >= pattern.multiple and inside % pattern.multiple == 0

    def up(self, row: int) -> int:
        """The next row, from this one on, in which there may be decreases: back and forth a right-side row."""
        return row + 1 if self.flat and row % 2 == 0 else row

    def down(self, row: int) -> int:
        """The same downwards."""
        return row - 1 if self.flat and row % 2 == 0 else row


@record
class PlacedBand:
    """A band of a yoke: its first row, counted from the joining one, its stitches, and how many there would be else."""

    wish: BandWish
    first: int
    stitches: int
    usual: float
    """Stitches that a plain yoke has at that height, in the gauge of the band."""
    beyond: int
    """Stitches beyond whole repeats."""

    @property
    def repeats(self) -> int:
        """How often its pattern stands in a row."""
        return (self.stitches - self.beyond) // self.wish.pattern.multiple

    @property
    def last(self) -> int:
        """Its last row."""
        return self.first + self.wish.rows - 1

    @property
    def off(self) -> float:
        """Stitches that it has more than usual, as part of them."""
        return self.stitches / self.usual - 1


@record
class BandedYoke:
    """Rounds in which a yoke with bands changes its stitches, and its bands between them."""

    rounds: tuple[YokeRound, ...]
    bands: tuple[PlacedBand, ...]

    @property
    def worst(self) -> float:
        """How far the band that fits worst is off the usual count, as part of it."""
        return max((abs(b.off) for b in self.bands), default=0.0)


@lru_cache(maxsize=32)
def banded_yoke(start: int, neck: int, rows: int, wishes: tuple[BandWish, ...], ends: Ends) -> BandedYoke | None:
    """A yoke of ``start`` stitches that comes to ``neck`` in ``rows`` rows, with these bands; None where none can be.

    First with the decrease rounds that a plain yoke has above the bands; then with more of them; then with fewer.
    """
    plain = _plain_rounds(start, neck, rows, len(wishes))
    if len(plain) < len(wishes):  # so close to the neck that nothing is taken away
        return None
    usual = max(1, len(plain) - len(wishes) + 1)
    for final in (*range(usual, usual + MOST_ROUNDS_MORE + 1), *range(usual - 1, 0, -1)):
        at = _decrease_rows(plain, rows, wishes, final, ends)
        found = _counted(start, neck, plain, wishes, at, ends) if at else None
        if found is not None:
            return found
    return None


def has_room(start: int, neck: int, rows: int, wishes: Sequence[BandWish], ends: Ends) -> bool:
    """Whether the rows of the bands find room, whatever their repeats are."""
    plain = _plain_rounds(start, neck, rows, len(wishes))
    return len(plain) >= len(wishes) and _decrease_rows(plain, rows, wishes, 1, ends) is not None


def _plain_rounds(start: int, neck: int, rows: int, bands: int) -> tuple[YokeRound, ...]:
    """The decrease rounds of a yoke without bands, at least one for each band."""
    found = decrease_rounds(start, neck, rows)
    return found if len(found) >= bands else straight_rounds(start, neck, rows, bands)


def _decrease_rows(
    plain: Sequence[YokeRound], rows: int, wishes: Sequence[BandWish], final: int, ends: Ends
) -> list[int] | None:
    """Rows of the decrease rounds, one after each band and ``final`` after the last; None where there is no room.

    They stay where a plain yoke has them, or move as far as the bands need.
    """
    bands = len(wishes)
    above = [r.row for r in plain[bands - 1 :]]
    if final != len(above):
        above = [above[0] + WHOLE((rows - above[0]) * i / max(1, final - 1)) for i in range(final)]
        above[-1] = rows
    wanted = [*(r.row for r in plain[: bands - 1]), *above]
    steps = [_from_round(w.rows, ends) for w in wishes[1:]] + [2 if ends.flat else 1] * (final - 1)
    latest = [ends.down(rows)]
    for step in reversed(steps):
        latest.append(latest[-1] - step)
    latest.reverse()
    earliest = _first_possible(wishes[0].rows, ends)
    if earliest > latest[0]:
        return None
    found: list[int] = []
    for want, most, least in zip(wanted, latest, [0, *steps], strict=True):
        found.append(min(most, max(ends.down(want), found[-1] + least if found else earliest)))
    return found


def _first_possible(rows: int, ends: Ends) -> int:
    """The first row in which there may be decreases above the lowest band: join, adjusting round, band, decreases."""
    return ends.up(_lowest(ends) + rows)


def _lowest(ends: Ends) -> int:
    """The lowest row of a band, above the joining row and a round that adjusts the stitches."""
    return 5 if ends.flat else 3


def _from_round(rows: int, ends: Ends) -> int:
    """Rows from a decrease round to the next, at least, with a band of so many rows between them."""
    first = ends.up(2)  # of the band, where the decreases are in row 1
    return ends.up(first + rows) - 1


def _counted(
    start: int, neck: int, plain: Sequence[YokeRound], wishes: Sequence[BandWish], at: Sequence[int], ends: Ends
) -> BandedYoke | None:
    """The yoke with its decrease rounds in these rows; None where no chain of counts keeps to the limit."""
    final = len(at) - len(wishes) + 1
    usual = _usual(start, neck, plain, at)
    wanted = [usual[i] * wish.across for i, wish in enumerate(wishes)]
    for chain in _chains(start, neck, wishes, wanted, final, ends):
        above = _down_to(neck, chain[-1], [start, *(r.left for r in plain)][len(wishes) - 1 :], final)
        if above is not None:
            return _put_together(start, chain, above, wishes, wanted, at, ends)
    return None


def _usual(start: int, neck: int, plain: Sequence[YokeRound], at: Sequence[int]) -> list[float]:
    """Stitches that a plain yoke has, on the whole, between these decrease rounds: below each of them.

    Between the middles of its own stretches its stitches change evenly; so a yoke whose rounds are not moved has the
    counts of the plain one.
    """
    rows = [1, *(r.row for r in plain)]
    stitches = [start, *(r.left for r in plain)]
    points = [((a + b) / 2, float(s)) for (a, b), s in zip(pairwise(rows), stitches, strict=False)]
    points.append((float(max(rows[-1], at[-1])), float(neck)))
    return [_between(points, (a + b) / 2) for a, b in pairwise([1, *at])]


def _between(points: Sequence[tuple[float, float]], x: float) -> float:
    if x <= points[0][0]:
        return points[0][1]
    for (x1, y1), (x2, y2) in pairwise(points):
        if x <= x2:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1) if x2 > x1 else y2
    return points[-1][1]


def _chains(
    start: int, neck: int, wishes: Sequence[BandWish], wanted: Sequence[float], final: int, ends: Ends
) -> Iterator[tuple[int, ...]]:
    """Chains of counts that keep to the limit, the cheapest first: for each last count the best that leads there."""
    best: dict[int, tuple[float, tuple[int, ...]]] = {start: (0.0, ())}
    for i, (wish, want) in enumerate(zip(wishes, wanted, strict=True)):
        reached: dict[int, tuple[float, tuple[int, ...]]] = {}
        for count in _candidates(wish.pattern, want, ends):
            cost = (count / want - 1) ** 2
            ways = [
                (before_cost + cost, (*chain, count))
                for before, (before_cost, chain) in best.items()
                if _keeps(before, count) and count <= (before * MOST_MORE if i == 0 else before)
            ]
            if ways:
                reached[count] = min(ways)
        best = reached
    least = LEAST_KEEP**final
    ended = [found for count, found in best.items() if neck <= count and neck >= least * count]
    yield from (chain for _, chain in sorted(ended))


def _candidates(pattern: Pattern, want: float, ends: Ends) -> Iterator[int]:
    beyond = ends.beyond(pattern)
    nearest = round((want - beyond) / pattern.multiple)
    for times in range(nearest - REPEATS_EITHER_WAY, nearest + REPEATS_EITHER_WAY + 1):
        if times >= 1:
            yield times * pattern.multiple + beyond


def _keeps(before: int, after: int) -> bool:
    return after >= LEAST_KEEP * before


def _down_to(neck: int, begin: int, plain: Sequence[int], final: int) -> list[int] | None:
    """Counts after each round above the bands, down to the neck: in the shares of a plain yoke, else in even ones."""
    if begin == neck:
        return []
    shares = [log(after / before) for before, after in pairwise(plain)]
    for weights in (shares if len(shares) == final else [], [1.0] * final):
        done, counts = 0.0, [begin]
        for weight in weights:
            done += weight / sum(weights)
            counts.append(max(neck, WHOLE(begin * exp(log(neck / begin) * done))))
        if weights and all(_keeps(a, b) and b <= a for a, b in pairwise(counts)):
            return counts[1:]
    return None


def _put_together(
    start: int,
    chain: Sequence[int],
    above: Sequence[int],
    wishes: Sequence[BandWish],
    wanted: Sequence[float],
    at: Sequence[int],
    ends: Ends,
) -> BandedYoke:
    """Bands between the decrease rounds, near them; the round that adjusts the join below the first."""
    places: list[PlacedBand] = []
    for i, (wish, count, want) in enumerate(zip(wishes, chain, wanted, strict=True)):
        if i == 0:
            free = at[0] - _first_possible(wish.rows, ends)
            first = ends.down(at[0] - wish.rows - min(PLAIN_BESIDE, free // 2))
        else:
            free = at[i] - at[i - 1] - _from_round(wish.rows, ends)
            first = ends.down(ends.up(at[i - 1] + 1) + min(PLAIN_BESIDE, free // 2))
        places.append(PlacedBand(wish, first, count, want, ends.beyond(wish.pattern)))
    adjusts = places[0].first - (2 if ends.flat else 1)  # right below it: its stitches may be narrower than plain ones
    rounds = [YokeRound(adjusts, chain[0])] + [
        YokeRound(row, left) for row, left in zip(at, [*chain[1:], *above], strict=False)
    ]
    befores = [start, *(r.left for r in rounds)]
    changing = tuple(r for r, before in zip(rounds, befores, strict=False) if r.left != before)
    return BandedYoke(changing, tuple(places))


def set_band(band: PlacedBand, below: int, ends: Ends) -> SetBand:
    """A band in the rows of its piece, of which ``below`` come before the joining row."""
    pattern = band.wish.pattern
    plus = pattern.plus if ends.flat else 0
    return SetBand(band.wish.number, pattern, below + band.first, band.wish.rows, band.repeats, plus, ends.edge)


MOST_OTHER = 6
"""Stitches by which another repeat may differ that is offered."""

WIDEST_REPEAT = 60
"""Stitches of the widest repeat that can be typed."""


def fitting_repeat(
    start: int, neck: int, rows: int, wishes: Sequence[BandWish], ends: Ends, band: PlacedBand, most: float
) -> int | None:
    """The repeat nearest to that of a band with which every band is off by no more than ``most``; None without one."""
    multiple = band.wish.pattern.multiple
    near = sorted(range(2, min(multiple + MOST_OTHER, WIDEST_REPEAT) + 1), key=lambda m: (abs(m - multiple), m))
    for other in (m for m in near if 0 < abs(m - multiple) <= MOST_OTHER):
        tried = [replace(w, pattern=replace(w.pattern, multiple=other)) if w == band.wish else w for w in wishes]
        found = banded_yoke(start, neck, rows, tuple(tried), ends)
        if found is not None and len(found.bands) == len(wishes) and found.worst <= most:
            return other
    return None
