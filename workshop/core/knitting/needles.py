"""At the needles: where each piece is, what comes next, what the counts on it say. Worked out when it is asked for."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from workshop.core.knitting.compared import Comparison, compared_of, count_from, counted_last, of_fabric, predicted_cm
from workshop.core.knitting.needle_changes import counts_since, needle_of, since_change
from workshop.core.knitting.outcomes import as_planned, way_taken
from workshop.core.knitting.pace import Pace, pace
from workshop.core.knitting.ways import Standing, Three, Way, hem_is_narrow, needle_slope, ways
from workshop.core.knitting.weighings import yarn_found
from workshop.core.knitting.yarn_left import Basis, YarnLeft
from workshop.core.making.ledger import Piece, Row
from workshop.core.making.roles import YOKES
from workshop.core.plan import Plan
from workshop.project import Along, KnittedPiece, PieceCount
from workshop.records import record
from workshop.tables import needles as needle_table
from workshop.tables.trade_rules import ease_band


@record
class PieceStanding:
    """One piece of the plan, and how far it is knitted."""

    piece: Piece
    rows_knitted: int
    finished: bool

    @property
    def first_row(self) -> int:
        """Number of its first row."""
        return self.piece.rows[0].row if self.piece.rows else 1

    @property
    def row(self) -> int:
        """Number of the row worked last; the one before the first where none is."""
        return self.first_row - 1 + self.rows_knitted

    @property
    def stitches(self) -> int:
        """Stitches on the needle."""
        return self.piece.rows[self.rows_knitted - 1].after if self.rows_knitted else self.piece.cast_on

    @property
    def next_row(self) -> Row | None:
        """The row to knit now; None where the piece is finished."""
        return (
            None if self.finished or self.rows_knitted >= len(self.piece.rows) else self.piece.rows[self.rows_knitted]
        )

    @property
    def stitches_knitted(self) -> int:
        """Stitches in the rows that are knitted."""
        return sum(max(r.before, r.after) for r in self.piece.rows[: self.rows_knitted])


@dataclass(frozen=True)
class Needles:
    """All that can be said at the needles."""

    pieces: tuple[PieceStanding, ...]
    at_hand: PieceStanding | None
    """The piece that was knitted last and is not finished; else the next of the plan."""
    stitches: Comparison | None
    rows: Comparison | None
    chest_cm: Three | None
    length_cm: Three | None
    find_ways: Callable[[], tuple[Way, ...]] = field(repr=False, compare=False)
    """The ways on, each planned: that takes as long as planning does, so only who asks for ``ways`` waits for it."""
    yarn: YarnLeft | None
    yarn_basis: Basis | None
    pace: Pace | None
    count_from: int | None = None
    """The row from which a count on the piece at hand says something; None where it is knitted that far."""
    counted_at: tuple[str, int] | None = None
    """The piece and the row of the counts that are gone by."""
    tight_hips_cm: float | None = None
    """Hips that a hem was planned to pass, and comes out narrower than; None without."""
    is_fresh: bool = False
    """Whether the piece at hand was counted at the row where it is now; only then a way can be taken."""

    @cached_property
    def ways(self) -> tuple[Way, ...]:
        """The ways on."""
        return self.find_ways()

    @property
    def is_early(self) -> bool:
        """Whether a count on the piece at hand, where it is now, is none of the fabric: of a band, or too near to the
        edging.
        """
        return self.at_hand is not None and (self.at_hand.piece.role.band or self.count_from is not None)

    @property
    def share_done(self) -> float:
        """Part of all stitches that is knitted, 0 to 1."""
        return share_done(self.pieces)

    def piece(self, name: str) -> PieceStanding | None:
        """A piece by its name."""
        return next((p for p in self.pieces if p.piece.name == name), None)


def share_done(pieces: Sequence[PieceStanding]) -> float:
    """Part of all stitches of the garment that is knitted."""
    in_all = sum(p.piece.stitches_worked for p in pieces)
    return sum(p.stitches_knitted for p in pieces) / in_all if in_all else 0.0


BOTH_WAYS: tuple[Along, Along] = ("stitches", "rows")


def at_the_needles(plan: Plan, today: date) -> Needles:
    """Where the knitting of a plan is."""
    pieces = tuple(_standing(p, plan.project.knitted(p.name)) for p in plan.made.pieces)
    hand = _at_hand(plan, pieces)
    standing = _where(plan, pieces, hand) if hand else None
    counted_on, all_counts = _counts_of_fabric(plan, hand)
    counts = since_change(plan.project, counted_on, all_counts, plan.gauge) if plan.gauge else ()
    across, along = (compared_of(plan.gauge, plan.swatches, counts, one) for one in BOTH_WAYS)
    known = plan.project.knitted(hand.piece.name) if hand else None
    counted_here = bool(hand and known and known.count and known.count[-1].row == hand.row)
    done, in_all = sum(p.stitches_knitted for p in pieces), sum(p.piece.stitches_worked for p in pieces)
    weighed = yarn_found(plan, done, in_all)
    return Needles(
        pieces=pieces,
        at_hand=hand,
        stitches=across,
        rows=along,
        chest_cm=predicted_cm(standing.chest_stitches, across) if standing and across else None,
        length_cm=predicted_cm(standing.length_rows, along) if standing and along else None,
        find_ways=lambda: _ways_on(plan, hand, standing, across, along, counted_here),
        yarn=weighed[0] if weighed else None,
        yarn_basis=weighed[1] if weighed else None,
        pace=pace(_by_day(plan, pieces), _to_come(pieces), today),
        count_from=_still_to_knit(plan, hand),
        counted_at=(counted_on, counts[-1].row or 0) if counts else None,
        tight_hips_cm=_tight_hips_cm(plan, across, standing),
        is_fresh=counted_here,
    )


def in_hand(plan: Plan) -> PieceStanding | None:
    """The piece that was knitted last and is not finished; else the next of the plan; None once all are knitted."""
    return _at_hand(plan, [_standing(p, plan.project.knitted(p.name)) for p in plan.made.pieces])


def _still_to_knit(plan: Plan, hand: PieceStanding | None) -> int | None:
    """The row from which a count on a piece is one of its fabric, while that is still to come."""
    enough = count_from(hand.piece, plan.gauge) if hand and plan.gauge else None
    if hand is not None and plan.gauge is not None and enough is not None:
        enough = max(enough, counts_since(plan.project, hand.piece.name, plan.gauge))
    return enough if hand is not None and enough is not None and hand.row < enough else None


def _ways_on(
    plan: Plan,
    hand: PieceStanding | None,
    standing: Standing | None,
    across: Comparison | None,
    along: Comparison | None,
    fresh: bool,
) -> tuple[Way, ...]:
    """The ways on by the counts that are gone by; after one that is early, and no other, there is only to knit on.

    Those of a fresh count can be taken: they are planned. The others are worked out from the counts alone.
    """
    if hand is None or standing is None:
        return ()
    piece, row = hand.piece, hand.row
    known = plan.project.knitted(piece.name)
    if not (across or along or (known and known.count)):
        return ()
    if not fresh:
        return ways(across, along, standing)
    return ways(
        across, along, standing, lambda way: as_planned(plan, piece, way, way_taken(way, piece, row, across, along))
    )


def _counts_of_fabric(plan: Plan, hand: PieceStanding | None) -> tuple[str, Sequence[PieceCount]]:
    """The counts to go by, and their piece: on the one at hand, else on the one that was counted last."""
    if plan.gauge is None:
        return "", ()
    known = plan.project.knitted(hand.piece.name) if hand else None
    mine = of_fabric(known, hand.piece, plan.gauge) if hand and known else ()
    if hand is not None and mine:
        return hand.piece.name, mine
    return counted_last(plan.project, plan.made.pieces, plan.gauge)


def _standing(piece: Piece, known: KnittedPiece | None) -> PieceStanding:
    rows = min(known.rows, len(piece.rows)) if known else 0
    return PieceStanding(piece, rows, bool(known and (known.finished or (rows and rows == len(piece.rows)))))


def _at_hand(plan: Plan, pieces: Sequence[PieceStanding]) -> PieceStanding | None:
    by_name = {p.piece.name: p for p in pieces}
    last = next((e.piece for e in reversed(plan.project.log) if e.row is not None and e.piece in by_name), "")
    if last and not by_name[last].finished:
        return by_name[last]
    begun = next((p for p in pieces if p.rows_knitted and not p.finished), None)
    return begun or next((p for p in pieces if not p.finished), None)


def _to_come(pieces: Sequence[PieceStanding]) -> int:
    return sum(p.piece.stitches_worked - p.stitches_knitted for p in pieces if not p.finished)


# ── counts on the piece ──────────────────────────────────────────────────────────────────────────────


def _where(plan: Plan, pieces: Sequence[PieceStanding], hand: PieceStanding) -> Standing | None:
    made, gauge, targets = plan.made, plan.gauge, plan.targets.finished
    chest, length = made.finished_cm.get("chest"), made.finished_cm.get("length")
    if gauge is None or not chest or not length:
        return None
    low, high = _ease_class(plan)
    body = plan.wearer.cm("chest") or 0.0
    return Standing(
        chest_cm=targets.get("chest", chest),
        chest_stitches=plan.counts["chest"],
        length_cm=targets.get("length", length),
        length_rows=plan.counts["length"],
        rows_worked=hand.rows_knitted,
        edging_rows=hand.piece.edging_rows,
        rows_to_underarm=max(0, _underarm(hand.piece) - hand.rows_knitted),
        share_done=share_done(pieces),
        stitches_of_piece=min(hand.piece.widest - hand.piece.seam_stitches, plan.counts["chest"]),
        ease_low_cm=body + low if low is not None and body else None,
        ease_high_cm=body + high if high is not None and body else None,
        hips_cm=_over_the_hips(plan, chest),
        along_lines=_is_from_neck(hand.piece),
        others_to_come=_others_to_come(pieces, hand),
        needle_slope=_own_slope(plan),
        needle_mm=needle_of(plan.project, gauge.swatch.needle_mm, hand.piece.name, hand.row + 1),
    )


def _over_the_hips(plan: Plan, chest_cm: float) -> float | None:
    """The finished chest at which a hem that was planned wider than the hips is as wide as they are, if it was."""
    hem, hips = plan.made.finished_cm.get("hip"), plan.wearer.cm("hip")
    return hips * chest_cm / hem if hem and hips and hem >= hips else None


def _tight_hips_cm(plan: Plan, stitches: Comparison | None, at: Standing | None) -> float | None:
    return plan.wearer.cm("hip") if at is not None and hem_is_narrow(stitches, at) else None


def _underarm(piece: Piece) -> int:
    """Rows of a piece up to the armholes, from its cast-on; 0 where it has none above it."""
    if not piece.rows or (piece.parent is not None and not _is_from_neck(piece)):
        return 0
    marks = [m.after_row for m in piece.marks if m.what in ("underarm", "divide", "join", DIVIDES)]
    return max(marks, default=0) - piece.rows[0].row + 1


DIVIDES = "divide from neck"


def _is_from_neck(piece: Piece) -> bool:
    """Whether it is a yoke that grows from the neck along raglan lines."""
    return piece.role in YOKES and any(m.what == DIVIDES for m in piece.marks)


def _others_to_come(pieces: Sequence[PieceStanding], hand: PieceStanding) -> bool:
    """Whether a piece that makes up the chest has not been begun, beside the one at hand."""
    panels = [p for p in pieces if p.piece.role.drawn == "panel" and p.piece.parent is None]
    return hand in panels and any(not p.rows_knitted for p in panels if p is not hand)


def _ease_class(plan: Plan) -> tuple[float | None, float | None]:
    ease = plan.project.fit.ease
    return ease_band(ease) if ease is not None else (None, None)


def _own_slope(plan: Plan) -> float | None:
    """What a size of needle does to the gauge in the knitter's own hands, from swatches in the same yarn and stitch."""
    gauge = plan.gauge
    assert gauge is not None
    counted: list[tuple[float, float, int]] = []
    sizes = needle_table.ladder()
    for known in plan.swatches:
        one, mm = known.gauges.get(("off needles", "stitches")), known.swatch.needle_mm
        alike = (known.swatch.yarn, known.swatch.stitch) == (gauge.swatch.yarn, gauge.swatch.stitch)
        if alike and one is not None and mm is not None and mm in sizes:
            counted.append((mm, one.per_10cm, sizes.index(mm)))
    return needle_slope(counted)


# ── days ────────────────────────────────────────────────────────────────────────────────────


def _by_day(plan: Plan, pieces: Sequence[PieceStanding]) -> Mapping[date, int]:
    """Stitches knitted on each day, from the log; rows of a day that went back count as none."""
    by_name = {p.piece.name: p.piece for p in pieces}
    reached: dict[str, int] = {}
    found: dict[date, int] = {}
    for entry in plan.project.log:
        piece = by_name.get(entry.piece)
        if piece is None or entry.row is None or not piece.rows:
            continue
        before = reached.get(entry.piece, piece.rows[0].row - 1)
        rows = [r for r in piece.rows if before < r.row <= entry.row]
        reached[entry.piece] = entry.row
        try:
            day = date.fromisoformat(entry.on[:10])
        except ValueError:
            continue
        found[day] = found.get(day, 0) + sum(max(r.before, r.after) for r in rows)
    return found
