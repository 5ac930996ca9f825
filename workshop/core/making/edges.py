"""Edges: how long they are in the washed cloth, and how many stitches a band picks up along them.

Along rows an edge that moves k stitches sideways in a row is sqrt((k/g)² + (1/h)²) long, so a band of
gauge g_band picks up g_band × that many stitches per row: on a straight edge g/h, three of four rows in
common fabrics. Derived; agrees with the published rates (tests/published: 20/26, slopes).
"""

from collections.abc import Iterable, Sequence
from fractions import Fraction
from math import floor, hypot

from workshop.core.edgings import of_fabric
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Event, Piece
from workshop.core.making.roles import BOTH_EDGES, SHOULDER, UPPER_YOKE, YOKE, Edge
from workshop.core.notes import Notes
from workshop.core.remarks import cm
from workshop.records import record


def check_garter(pieces: Iterable[Piece], cloth: Cloth, notes: Notes) -> None:
    """A word about garter stitch whose rows nobody counted."""
    for fabric in sorted({r.fabric for p in pieces for r in p.rows}):
        if of_fabric(fabric).garter and not cloth.knows(fabric):
            notes.check("garter-rows-assumed", eight=cm(cloth.along_cm(16, fabric)))


def shaped_edge(bind_offs: Sequence[int], decrease_rows: Sequence[int], rows: int) -> list[tuple[float, float]]:
    """An edge bound off in steps, then decreased in some of its ``rows``: stitches sideways and rows up, one by one."""
    found: list[tuple[float, float]] = [(b, 2 if i else 0) for i, b in enumerate(bind_offs)]
    at = max(0, 2 * len(bind_offs) - 2)
    for row in decrease_rows:
        found.append((1, row - at))
        at = row
    return [*found, (0, rows - at)]


def edge_cm(cloth: Cloth, moves: Iterable[tuple[float, float]]) -> float:
    """Length in cm of an edge given as (stitches sideways, rows up), one pair for each stretch."""
    stretches = tuple(moves)  # most of them are alike, and a cap is looked for among hundreds of edges
    lengths = {(s, r): hypot(cloth.across_cm(s), cloth.along_cm(r)) for s, r in set(stretches)}
    return sum(map(lengths.__getitem__, stretches))


USUAL_GROUP, LARGEST_GROUP = 6, 10
"""Rows that one counts off as a group while stitches are picked up, and the most that the fingers can (method: the best
fraction of at most six rows; common practice, no source)."""

MOST_BESIDE = 2
"""Stitches that a rate may miss where no other comes nearer without a large group: some are told for all sizes without
them, and a knitter evens two out as she goes (common practice, no source)."""

HALF = Fraction(1, 2)


def rate_along(stitches: int, rows: float) -> Fraction:
    """The rate of stitches to rows that leads nearest to a count when it is followed to the letter, of few rows.

    Of at most 6 where it misses no more than a stitch, of at most 10 where it misses none, or of 6 again where
    it misses no more than two; and 1 from each where only one row has none. What it misses is told with it
    (``beyond_rate``). Rows may be half of those of both sides of an edge.
    """
    if stitches < 1:
        return Fraction(0)
    if rows - stitches == 1:
        return Fraction(1)
    nearest = (Fraction(stitches / rows).limit_denominator(group) for group in range(1, LARGEST_GROUP + 1))
    some = [rate for rate in nearest if rate] or [Fraction(1, round(rows / stitches))]

    def clumsy(rate: Fraction) -> tuple[int, int, int]:
        beyond, small = abs(beyond_rate(rate, stitches, rows)), rate.denominator <= USUAL_GROUP
        ways = small and beyond <= 1, not beyond, small and abs(stitches - rate * Fraction(rows)) <= MOST_BESIDE
        return (*ways, True).index(True), beyond, rate.denominator

    return min(some, key=clumsy)


def beyond_rate(rate: Fraction, stitches: int, rows: float) -> int:
    """Stitches that come to those of a rate along so many rows; below nought those that it leads to too many.

    A half is one too many, but where one side of the edge has a row more: there it is that row's.
    """
    missed = stitches - rate * Fraction(rows)
    whole = floor(abs(missed) + HALF)
    if rows % 1 and abs(missed) == HALF:
        whole = 0
    return whole if missed > 0 else -whole


@record
class NeckSide:
    """One neck edge of a piece: stitches that lie across, and the slope as (stitches sideways, rows up)."""

    side: Edge
    level: int
    slope: tuple[tuple[float, float], ...]
    steps: int = 0
    """Stitches of the slope that are bound off or cast on in steps."""
    step_rows: int = 0
    """Rows of the slope that lie beside these."""

    @property
    def rows(self) -> int:
        """Rows of the slope."""
        return int(sum(rows for _, rows in self.slope))


def neck_sides(pieces: Iterable[Piece]) -> list[NeckSide]:
    """The neck edges of pieces, as worn.

    A shoulder has its neck edge from its first row; half of an open front from the row where its neck begins; a piece
    from the neck down until it stops growing.
    """
    found: list[NeckSide] = []
    for piece in (p for p in pieces if p.rows):
        divided = piece.role is SHOULDER
        for side in BOTH_EDGES:
            own = [(r.row, e) for r in piece.rows for e in r.events if e.where == f"neck-{side}"]
            if own and own[0][1].change > 0:
                found.append(_grown(piece, side, own))
            elif own:
                found.append(_narrowed(piece, side, own, from_the_start=divided or piece.role is UPPER_YOKE))
            elif divided and side == piece.side:
                found.append(NeckSide(side, 0, ((0, piece.last_row - piece.rows[0].row + 1),)))
    return found


def _narrowed(piece: Piece, side: Edge, own: list[tuple[int, Event]], *, from_the_start: bool) -> NeckSide:
    first, begins = own[0]
    after_middle = first + 1 if begins.do == "bind-off" else first  # a row that only decreases is one of the slope
    at, level = (piece.rows[0].row if from_the_start else after_middle) - 1, 0
    slope: list[tuple[float, float]] = []
    step_rows = 0
    for row, event in own:
        if event.do == "bind-off" and row == at:  # the half of the middle, where an open front begins its neck
            level += event.stitches
        else:
            slope.append((event.stitches, max(0, row - at)))
            step_rows = sum(int(rows) for _, rows in slope) if event.do == "bind-off" else step_rows
        at = row
    return NeckSide(side, level, (*slope, (0, piece.last_row - at)), _in_steps(own) - level, step_rows)


def _in_steps(own: Iterable[tuple[int, Event]]) -> int:
    return sum(event.stitches for _, event in own if event.do in ("bind-off", "cast-on"))


def _grown(piece: Piece, side: Edge, own: list[tuple[int, Event]]) -> NeckSide:
    at, level = 0, 0
    slope: list[tuple[float, float]] = []
    for row, event in own:
        slope.append((event.stitches, row - at))
        at = row
    if own[-1][1].do == "cast-on" and piece.role is YOKE:  # the half of the middle, where the fronts never meet
        level, (_, rows) = own[-1][1].stitches, slope.pop()
        slope.append((0, rows))
    elif piece.role is not YOKE:  # up to where the fronts meet
        slope.append((0, piece.last_row - at))
    steps, rows = _in_steps(own) - level, int(sum(rows for _, rows in slope))
    above = next((row for row, event in own if event.do == "cast-on"), rows) if steps else rows  # hangs down when worn
    return NeckSide(side, level, tuple(slope), steps, rows - above)
