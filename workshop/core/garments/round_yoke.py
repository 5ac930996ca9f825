"""Round yoke: body and sleeves joined, and a yoke that closes in rings about the neck.

The counts follow the percentage rules in print, with the corrections that bodies ask for: depth and neck do not
grow with the chest without end, so both are taken from the body where that gives less. Short rows raise the back
of the neck.
"""

from dataclasses import replace
from typing import NoReturn

from workshop.core.calculation import EVEN, WHOLE, calculate
from workshop.core.edgings import STOCKINETTE
from workshop.core.garments import Garment, GarmentSpec, joined_yoke
from workshop.core.garments.banded import ends_of, rows_with, with_bands
from workshop.core.garments.body_counts import check_opening
from workshop.core.garments.joined_yoke import Base
from workshop.core.making import roles
from workshop.core.making.counts import edging_rule, in_rows, in_stitches, rows_of, stitches_of
from workshop.core.making.ledger import Event, Ledger, Piece, later, scheduled
from workshop.core.making.roles import Edge
from workshop.core.making.yoke_bands import PlacedBand, set_band
from workshop.core.making.yoke_percentages import YokeRound, decrease_rounds
from workshop.core.remarks import Amount, cm
from workshop.core.sums import Sum, figure, larger_of, smaller_of
from workshop.core.wearer.body import curve_working
from workshop.core.wearer.fit import head_opening_cm
from workshop.project import Side
from workshop.records import record

LEAST_ROWS = 8
"""Fewest rows of a yoke (common practice, no source)."""

RAISED_CM, RAISED_CHILD_CM = 2.5, 1.5
"""How much higher the back of the neck is made by short rows (printed: about an inch, 4 to 8 rows)."""

NECK_ROUND_OF_WIDTH = 2.7
"""Round of a crew neck as a multiple of its width (worked out from the shapes of crew necks here)."""

LEAST_ROUND_OF_WIDTH = 2.25
"""The least round of a neck, open or closed, as a multiple of its usual width: what seamed necks here come to with
their bands. A part of the body alone would be too tight on children."""

DEEP_CM = 21.0
"""Depth, up to the front of the neck, from which a yoke grows by half of what its armhole has more (a published ladder
of nine sizes stops at 25 cm at the back, which is raised)."""

RAISED_OVER = 0.12
"""How far the last turns of a raised back lie beyond the front, as part of the round (common practice, no source)."""


@record
class _Yoke:
    """Counts of a round yoke."""

    start: int
    neck: int
    rows: int
    """From the joining row on, short rows not counted."""
    rounds: tuple[YokeRound, ...]
    raised: int
    """Short rows at the back."""
    raised_from: int
    """Row, counted from the joining one, before which they lie; 0 without them."""
    bands: tuple[PlacedBand, ...] = ()

    @property
    def even_rows(self) -> float:
        """Rows of its own gauge that are as long as all of them, those of the bands in theirs."""
        return self.rows + sum(b.wish.rows * (1 / b.wish.along - 1) for b in self.bands)


def build(spec: GarmentSpec) -> Garment:
    """Knit it: all pieces, seams and finished measurements. Raises Stopped."""
    spec = _not_too_deep(joined_yoke.in_one_piece(spec))
    base = joined_yoke.plan_stitches(spec)
    yoke = _plan(spec, base)
    drop = spec.cloth.along_cm(yoke.raised) + spec.targets.finished["back_neck_drop"]
    base = joined_yoke.below_yoke(spec, base, spec.cloth.along_cm(yoke.even_rows) + drop)
    body, sleeves = joined_yoke.knit_to_underarm(base)
    pieces = [body, *sleeves, _knit(base, body, yoke)]
    _bands(spec, base, yoke, pieces)
    top = base.lower.rows + yoke.even_rows
    above = "raised back and back neck drop" if yoke.raised else "back neck drop"
    beyond, along = (above, drop), {"yoke_depth": yoke.even_rows}
    finished = joined_yoke.note_finished_yoked(spec, base, top, {"neck": float(yoke.neck)}, along, beyond)
    seams = (joined_yoke.underarm_seam(side, spec.cloth.across_cm(base.underarm)) for side in roles.BOTH_EDGES)
    return Garment(tuple(pieces), tuple(seams), finished)


def _raised_rows(spec: GarmentSpec) -> int:
    """Short rows that raise the back, an even number."""
    raised_cm = RAISED_CHILD_CM if spec.wearer.child else RAISED_CM
    return max(2, EVEN(raised_cm * spec.cloth.rows_per_10cm / 10))


def _not_too_deep(spec: GarmentSpec) -> GarmentSpec:
    """The same wish with an armhole that the yoke reaches down to: of a deep one only half of what is beyond usual."""
    want, beyond = spec.targets.finished, larger_of(0.0, _by_armhole(spec) - figure("usual depth", DEEP_CM, "cm"))
    working = calculate(
        "yoke.armhole_depth",
        "Armhole depth of the yoke",
        spec.targets.figure("armhole_depth") - beyond / 2,
        "cm",
        source="a limit on how far yokes grow with the armhole, as in published sizes",
    )
    finished = {**want, "armhole_depth": spec.notes.record(working).value}
    return replace(spec, targets=replace(spec.targets, finished=finished))


def _by_armhole(spec: GarmentSpec) -> Sum:
    """From the underarm to the front of the neck, beside the raised back, in cm."""
    want, raised = spec.targets, figure("raised", spec.cloth.along_cm(_raised_rows(spec)), "cm")
    return want.figure("armhole_depth") + want.figure("shoulder_drop") - want.figure("back_neck_drop") - raised


def _plan(spec: GarmentSpec, base: Base) -> _Yoke:
    want, cloth = spec.targets.finished, spec.cloth
    start = base.body_left + 2 * base.sleeve_left
    neck = min(_neck(spec, base), start)
    raised, quarter = _raised_rows(spec), figure("finished chest", want["chest"], "cm") / 4
    deep = rows_of(smaller_of(quarter, _by_armhole(spec)), cloth.rows_per_10cm)
    source = "printed: a quarter of the body; corrected by the armhole, since depth does not grow with the chest"
    rows = spec.notes.record(in_rows("yoke.rows", "Yoke rows", deep, cloth.rows_per_10cm, source=source)).count
    rounds = _rounds(spec, start, neck, rows)
    if rounds is None:
        _stop_too_shallow(spec, start, neck, rows)
    banded = with_bands(spec, ends_of(base, flat=spec.front == "open"), start, neck, rows)
    if banded is not None:
        rows, rounds = rows_with([b.wish for b in banded.bands], rows), banded.rounds
    bands = banded.bands if banded else ()
    place = _raised_from(rounds, bands)
    return _Yoke(start, neck, rows, rounds, raised if place else 0, place, bands)


def _rounds(spec: GarmentSpec, start: int, neck: int, rows: int) -> tuple[YokeRound, ...] | None:
    """The decrease rounds, or None where the yoke has too few rows for them."""
    rounds = decrease_rounds(start, neck, rows)
    if spec.front == "open":
        rounds = _on_right_side(rounds)
    return None if rows < LEAST_ROWS or any(not 2 <= r.row <= rows for r in rounds) else rounds


def _stop_too_shallow(spec: GarmentSpec, start: int, neck: int, rows: int) -> NoReturn:
    """Stop at a yoke without room for its decrease rounds: how many rows it wants, and where they are."""
    want = spec.targets.finished
    wanted = next(r for r in range(max(rows, 2), 1000, 2) if _rounds(spec, start, neck, r) is not None)
    more = spec.cloth.along_cm(wanted - rows)
    by_chest = want["chest"] / 4 < want["armhole_depth"]
    spec.notes.stop(
        "yoke-shallow.chest" if by_chest else "yoke-shallow",
        rows=Amount(rows, "rows"),
        wanted=Amount(wanted, "rows"),
        more=cm(4 * more if by_chest else more),
    )


def _neck(spec: GarmentSpec, base: Base) -> int:
    """Stitches at the neck: of the width given; else by the percentage in print, with a floor by neck and head."""
    per_10cm, rule = spec.cloth.stitches_per_10cm, edging_rule(spec.hem, "flat" if spec.front == "open" else "round")
    stitches = stitches_of(spec.targets.figure("neck_width") * figure("girth factor", NECK_ROUND_OF_WIDTH), per_10cm)
    if not spec.own_neck:
        by_width, head = (
            stitches,
            figure("opening for the head", head_opening_cm(spec.project.garment, spec.wearer), "cm"),
        )
        part = figure("part", 0.45 if spec.wearer.table == "babies" else 0.4)
        by_body = figure("stitches around the body", 2 * base.lower.back, "stitches") * part
        chest = spec.wearer.cm("chest") or spec.targets.finished["chest"]
        usual = figure("usual neck", curve_working("neck_width", "usual", chest).value, "cm")
        least = larger_of(head, usual * figure("least girth factor", LEAST_ROUND_OF_WIDTH))
        stitches = larger_of(smaller_of(by_body, by_width), stitches_of(least, per_10cm)).listing(by_width)
        rule = replace(rule, direction="up") if stitches.value == stitches_of(head, per_10cm).value else rule
    source = (
        "printed: 40% of the body, 45% for infants; no more than the neck width you want, and no less than the neck "
        "and the head need (common practice)"
    )
    label = "Stitches at the top of the yoke"
    return spec.notes.record(in_stitches("neck.stitches", label, stitches, per_10cm, rule, source)).count


def _knit(base: Base, body: Piece, plan: _Yoke) -> Piece:
    """The yoke: plain, its decrease rounds, and the short rows that raise the back before one of the last."""
    yoke = joined_yoke.joined_yoke(base, body)
    counts = [plan.start, *(r.left for r in plan.rounds)]
    rounds = scheduled(
        (body.last_row + one.row, _spread(before, one.left)) for before, one in zip(counts, plan.rounds, strict=False)
    )
    last = body.last_row + plan.rows
    if plan.raised_from:
        yoke.follow(body.last_row + plan.raised_from - 1, rounds)
        _raise_back(yoke, plan.raised, _front_part(base) / plan.start)
        rounds, last = later(rounds, plan.raised), last + plan.raised
    yoke.follow(last, rounds)
    ends = ends_of(base, flat=body.worked == "flat")
    higher = {b.wish.number: plan.raised for b in plan.bands if 0 < plan.raised_from <= b.first}
    bands = (set_band(b, body.last_row + higher.get(b.wish.number, 0), ends) for b in plan.bands)
    return replace(yoke.piece(yoke=plan.start, neck=plan.neck), bands=tuple(bands))


def _spread(before: int, left: int) -> Event:
    """What is done across a round to come from one count to another."""
    return Event("decrease" if left < before else "increase", "across", abs(before - left))


def _raised_from(rounds: tuple[YokeRound, ...], bands: tuple[PlacedBand, ...]) -> int:
    """Row before which the back is raised: two plain rows before the latest decreases, or band, with room for it.

    The two rows take up the stitches left at the turns, so that decreases all across meet all of them. 0: no room.
    """
    taken = sorted([(1, 1), *((r.row, r.row) for r in rounds), *((b.first, b.last) for b in bands)])
    pairs = zip(reversed(taken[:-1]), reversed(taken[1:]), strict=True)
    return next((first - 2 for (_, earlier), (first, _) in pairs if first - 2 > earlier), 0)


def _on_right_side(rounds: tuple[YokeRound, ...]) -> tuple[YokeRound, ...]:
    """Decreases of a yoke worked back and forth: on right-side rows, which are odd."""
    found: list[YokeRound] = []
    for one in rounds:
        row = one.row - 1 + one.row % 2
        found.append(YokeRound(max(row, found[-1].row + 2 if found else 3), one.left))
    return tuple(found)


def _front_part(base: Base) -> float:
    """Stitches of the front, or of each half of an open one, when the yoke begins."""
    return next(count for part, count in joined_yoke.yoke_sections(base) if part.role is roles.FRONT)


def _raise_back(yoke: Ledger, rows: int, front_share: float) -> None:
    """Short rows over back and sleeves, between two markers at the ends of the front.

    In the round they begin with a wrong-side row at the beginning of the round, which lies at one end of the front, and
    the last one comes back to it; back and forth the row after them goes on to the front edge. Each turn lies a little
    further from its marker than the one before, at both sides alike; the event tells how far.
    """
    front, pairs, in_round = WHOLE(yoke.stitches * front_share), rows // 2, yoke.worked == "round"
    step = max(1, WHOLE(yoke.stitches * RAISED_OVER / pairs))
    yoke.mark(
        "raise", *((roles.THE_FRONT, front),) if in_round else ((roles.RIGHT_FRONT, front), (roles.LEFT_FRONT, front))
    )
    right = [step * (i + (0 if in_round else 1)) for i in range(pairs)]
    left = [step * (i + 1) for i in range(pairs)]
    if in_round:
        left[-1] = 0
    for at_left, at_right in zip(left, right, strict=True):
        turns: list[tuple[Side, Edge, int]] = [("RS", "left", at_left), ("WS", "right", at_right)]
        for side, where, stitches in reversed(turns) if in_round else turns:
            event = Event("short-row", where, stitches, "raised back")
            yoke.shape(STOCKINETTE, event, side=side if in_round else None)


def _bands(spec: GarmentSpec, base: Base, yoke: _Yoke, pieces: list[Piece]) -> None:
    """The neckband goes on with the stitches of the yoke; front bands are picked up."""
    last = pieces[-1]
    band = Ledger(roles.NECKBAND, last.worked, yoke.neck, parent=last)
    band.work(spec.bands.rows, spec.bands.fabric)
    pieces.append(band.piece(neck=yoke.neck))
    if spec.front == "open":
        edge = spec.bands.front_edge(base.lower.rows + yoke.rows, base.lower.hem_rows)
        pieces += spec.bands.fronts(edge)
    check_opening(spec, yoke.neck)
