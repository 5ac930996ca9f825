"""Is the piece on the needle the swatch's gauge, and what will it be after the wash?

Fresh fabric is held against the **unwashed** swatch. With u the swatch's gauge, w that of the swatch after
its wash and v the piece's, the piece comes out of the wash at w × (v ÷ u)^b: b is 1 where the difference is
real, else the part of it that is more likely true than counted. Derived and simulated
(tests/core/test_knitting_simulated.py).
"""

from collections.abc import Mapping, Sequence
from math import ceil, exp, log
from statistics import variance

from workshop.core.cloth.gauge import Gauge, gauge_of
from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.cloth.wash import DesignGauge
from workshop.core.knitting.doubt import Doubt, Term, doubt_of, doubt_of_places, resolution_of
from workshop.core.making.ledger import Piece
from workshop.core.making.roles import BODY, YOKES
from workshop.project import Along, KnittedPiece, PieceCount, Project, Reading, State
from workshop.records import record
from workshop.tables.trade_rules import rule

ENOUGH_PLACES = 3
"""With fewer places on either side a difference only "looks like" one (simulated: 12 to 17 % false alarms)."""


@record
class Comparison:
    """The gauge of a piece beside that of the swatch, both fresh from the needles, in one direction."""

    along: Along
    swatch: Gauge
    piece: Gauge
    washed: Gauge
    """The swatch after its wash: what the garment was planned from."""
    doubt: Doubt
    """Of the logarithm of piece ÷ swatch."""
    wash: Doubt
    """Of the logarithm of washed ÷ unwashed, where the difference is real."""
    of_piece: Doubt
    """Of the piece's own gauge."""

    @property
    def log_ratio(self) -> float:
        """ln(piece ÷ swatch)."""
        return log(self.piece.per_10cm / self.swatch.per_10cm)

    @property
    def difference_percent(self) -> float:
        """How many per cent more stitches (or rows) to 10 cm the piece has than the swatch."""
        return 100 * (exp(self.log_ratio) - 1)

    @property
    def range_percent(self) -> tuple[float, float]:
        """95 % range of :attr:`difference_percent`."""
        half = self.doubt.half_95
        return 100 * (exp(self.log_ratio - half) - 1), 100 * (exp(self.log_ratio + half) - 1)

    @property
    def outside(self) -> bool:
        """Whether the difference is larger than the counts explain."""
        return abs(self.log_ratio) > self.doubt.half_95

    @property
    def places_are_enough(self) -> bool:
        """Whether both sides were counted in places enough to be sure."""
        return min(len(self.swatch.readings), len(self.piece.readings)) >= ENOUGH_PLACES

    @property
    def real(self) -> bool:
        """Whether the knitting really differs from the swatch."""
        return self.outside and self.places_are_enough

    @property
    def believed(self) -> float:
        """Part b of the difference that the gauge after the wash goes by."""
        if self.real:
            return 1.0
        drift = rule("drift") ** 2
        return drift / (drift + self.doubt.variance)

    @property
    def after_per_10cm(self) -> float:
        """Gauge of the piece after the wash, per 10 cm."""
        return self.washed.per_10cm * exp(self.believed * self.log_ratio)

    @property
    def after(self) -> Doubt:
        """How sure :attr:`after_per_10cm` is."""
        if self.real:
            return self.of_piece + self.wash
        drift = doubt_of(rule("drift") ** 2)
        return doubt_of_places(self.washed) + self.doubt.times(self.believed) + drift.times(1 - self.believed)


def compare(
    swatch: Gauge, washed: Gauge, piece: Gauge, *, marked: bool = False, one_stretch: bool = False
) -> Comparison:
    """Hold a piece against its swatch.

    ``marked``: the places of the swatch were marked, and counted again after the wash. ``one_stretch``: those of the
    piece lie side by side in one stretch and were counted on from one to the next.
    """
    of_piece = doubt_of_places(piece, one_stretch=one_stretch)
    doubt = doubt_of_places(swatch) + of_piece
    wash = _of_wash(swatch, washed, marked=marked)
    return Comparison(piece.along, swatch, piece, washed, doubt, wash, of_piece)


ENOUGH_CM = 10.0
"""Of the garment's own fabric above the edging, before a count is worth its while (common practice, no source)."""


def count_from(piece: Piece, gauge: DesignGauge) -> int | None:
    """The row of a piece from which a count on it is one of the fabric; None for a band, which is all edging.

    By the rows as planned: no way that is taken afterwards makes an early count of a good one.
    """
    begun = next(piece.lineage())
    if piece.role.band:
        return None
    first = begun.rows[0].row if begun.rows else 1
    planned = gauge.planned or gauge
    return first - 1 + begun.edging_rows + ceil(ENOUGH_CM / 10 * planned.rows.per_10cm)


def first_count(pieces: Sequence[Piece], gauge: DesignGauge) -> tuple[Piece, int] | None:
    """The first piece that reaches the row from which a count on it is one of the fabric, and that row, if any."""
    rows = ((piece, count_from(piece, gauge)) for piece in pieces)
    return next(((piece, row) for piece, row in rows if row is not None and row <= piece.last_row), None)


LEAST_BETWEEN_COUNTS = 15
"""Rows between two counts; closer together, the second says what the first has said (common practice, no source)."""


def second_count(pieces: Sequence[Piece], first: tuple[Piece, int]) -> tuple[Piece, int] | None:
    """Halfway through what is left to the underarm of the piece that carries the chest, and its row there; of a yoke
    from the neck, halfway down the body. None where that is soon after the first count.
    """
    piece, counted = first
    if piece.role in YOKES:
        body = next((p for p in pieces if p.role is BODY), piece)
        piece, row = body, body.rows[0].row - 1 + ceil(len(body.rows) / 2)
    else:
        underarm = next((m.after_row for m in piece.marks if m.what.startswith("underarm")), piece.last_row)
        row = counted + (underarm - counted) // 2
    return (piece, row) if row - counted >= LEAST_BETWEEN_COUNTS else None


def of_fabric(known: KnittedPiece, piece: Piece, gauge: DesignGauge) -> tuple[PieceCount, ...]:
    """The counts on a piece that are of its fabric. The others stay in the log and change nothing: the edging has
    another gauge, and close above it the fabric is drawn in.
    """
    enough = count_from(piece, gauge)
    return tuple(c for c in known.count if enough is not None and (c.row is None or c.row >= enough))


def counted_last(project: Project, pieces: Sequence[Piece], gauge: DesignGauge) -> tuple[str, tuple[PieceCount, ...]]:
    """The piece whose fabric was counted last, by its name, and the counts; "" and none where none was."""
    by_name = {p.name: p for p in pieces}
    counted = [
        (k.piece, of_fabric(k, by_name[k.piece], gauge) if k.piece in by_name else k.count) for k in project.knitting
    ]
    return max((found for found in counted if found[1]), key=lambda found: found[1][-1].on, default=("", ()))


def compared_of(
    gauge: DesignGauge | None, swatches: Sequence[MeasuredSwatch], counts: Sequence[PieceCount], along: Along
) -> Comparison | None:
    """The latest counts of one direction beside the swatch; None where either is missing."""
    latest = [c for c in counts if c.along == along]
    known = next((s for s in swatches if gauge is not None and s.swatch.id == gauge.swatch.id), None)
    if gauge is None or known is None or not latest:
        return None
    same = [c for c in latest if (c.row, c.on) == (latest[-1].row, latest[-1].on)]
    state: State = (gauge.stitches if along == "stitches" else gauge.rows).state
    before, washed = known.gauges.get(("off needles", along)), known.gauges.get((state, along))
    piece = gauge_of([Reading("off needles", along, c.count, c.over_cm) for c in same])
    if before is None or washed is None or piece is None:
        return None
    marked = all(r.place is not None for r in (*before.readings, *washed.readings))  # she has told which is which
    return compare(before, washed, piece, marked=marked, one_stretch=same[-1].one_stretch)


def _of_wash(swatch: Gauge, washed: Gauge, *, marked: bool) -> Doubt:
    """Doubt of what the wash did: from the pairs of marked places, else both states' own doubts together."""
    pairs = _pairs(swatch.readings, washed.readings) if marked else []
    if len(pairs) < 2:
        return doubt_of_places(washed) + doubt_of_places(swatch)
    changes = [log(after / before) for before, after in pairs]
    floor = resolution_of(swatch) + resolution_of(washed)
    return Doubt((Term(max(variance(changes) / len(changes), floor), len(changes) - 1),))


def _pairs(before: tuple[Reading, ...], after: tuple[Reading, ...]) -> list[tuple[float, float]]:
    """Gauges per cm of the places that were counted in both states."""
    one, other = _by_place(before), _by_place(after)
    return [(one[place], other[place]) for place in one if place in other]


def _by_place(readings: tuple[Reading, ...]) -> Mapping[int, float]:
    return {r.place or number: r.count / r.over_cm for number, r in enumerate(readings, 1)}


def likely(value: float, doubt: Doubt) -> tuple[float, float, float]:
    """Low, likely and high of a length that is as unsure as the gauge it follows from."""
    half = doubt.half_95
    return value * exp(-half), value, value * exp(half)


def predicted_cm(counted: float, comparison: Comparison) -> tuple[float, float, float]:
    """Low, likely and high cm of so many stitches or rows of the piece, after its wash."""
    return likely(counted / comparison.after_per_10cm * 10, comparison.after)
