"""Raglan from the hem and from the neck.

Half of each sleeve's top folds over to the back, so the lines are half a sleeve top shorter than the yoke is
deep (published case 5.5 + 4/2 = 7.5). Body and sleeve are shaped each at its own rate over the same rows. From
the neck is the same garment the other way up: what is decreased upwards is increased downwards.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import NoReturn

from workshop.core.calculation import Calculation, calculate
from workshop.core.garments import Garment, GarmentSpec, Seam, joined_yoke, of_rows
from workshop.core.garments.body_counts import (
    check_front,
    check_front_edge,
    half_of_front,
    side_seam,
    sleeve_seam,
)
from workshop.core.garments.joined_yoke import Base
from workshop.core.garments.seamed import front_shaping, half_takes, in_pairs
from workshop.core.making import panels, roles
from workshop.core.making.bands import Across
from workshop.core.making.below_underarm import work_lower_flat
from workshop.core.making.counts import in_rows, rows_of
from workshop.core.making.ledger import CannotBeKnitted, Event, Ledger, Piece, Schedule, Schedules, later, scheduled
from workshop.core.making.necklines import NeckDecrease, NeckShaping
from workshop.core.making.raglan_lines import RaglanShape, line_rows
from workshop.core.making.roles import BACK, BOTH_EDGES, UPPER_YOKE, Edge
from workshop.core.making.sleeves import knit_sleeve
from workshop.core.notes import Notes
from workshop.core.remarks import Amount, cm
from workshop.core.sums import figure
from workshop.records import record

SLEEVE_TOP_OF_NECK = 0.3
"""Top of a sleeve as part of the neck width (printed: 1/2 to 4 in; 2 in beside a neck of 7)."""


@record
class Raglan:
    """All counts of a raglan."""

    base: Base
    shape: RaglanShape
    yoke_rows: int
    """Rows from the underarm to the top of the lines: two plain or bound-off ones, then the lines."""
    neck_rows: int
    neck: NeckShaping
    """The front neck; of an open front that of each half."""

    @property
    def seam(self) -> int:
        """Seam stitches at each edge: one in pieces, none in one piece."""
        return self.base.lower.edge

    @property
    def kept(self) -> int:
        """Visible stitches of each front that are left at the top, beside the neck: two, one of them in a seam."""
        return 2 - self.seam

    @property
    def yoke(self) -> int:
        """Stitches of the whole yoke at the underarm."""
        return self.base.body_left + 2 * self.base.sleeve_left

    @property
    def top(self) -> int:
        """Row at which the lines end."""
        return self.base.lower.rows + self.yoke_rows

    @property
    def body_rows(self) -> tuple[int, ...]:
        """Rows of the body's shaping, from the hem. In pieces body and sleeves go each at their own rate."""
        first, sewn = self.top - self.shape.rows, self.base.lower.how == "flat"
        at = line_rows(self.shape.rows, self.shape.body_events) if sewn else self.shape.body_rows
        return tuple(first + r for r in at)

    @property
    def sleeve_rows(self) -> tuple[int, ...]:
        """Rows of the sleeves' shaping, from the underarm."""
        first, sewn = self.yoke_rows - self.shape.rows, self.base.lower.how == "flat"
        at = line_rows(self.shape.rows, self.shape.sleeve_events) if sewn else self.shape.sleeve_rows
        return tuple(first + r for r in at)

    @property
    def neck_width(self) -> int:
        """Stitches that the neck takes from a closed front, or from each half of an open one."""
        lower, shape = self.base.lower, self.shape
        if lower.half is None:
            return shape.back_neck - 2 * self.kept
        return lower.half + lower.front_edge - shape.underarm // 2 - shape.body_events - self.kept

    @property
    def neck_rows_worked(self) -> int:
        """Rows of the front neck: in the round the one that opens or closes it in the middle is one more."""
        return self.neck_rows + (1 if self.base.lower.how == "round" and self.neck.centre else 0)


def plan_raglan(spec: GarmentSpec) -> Raglan:
    """Counts of the raglan. Raises Stopped."""
    base = joined_yoke.plan_stitches(spec)
    want, cloth, notes = spec.targets.finished, spec.cloth, spec.notes
    wished = _shape(spec, base)
    base = joined_yoke.below_yoke(spec, base, cloth.along_cm(wished.rows + 2) + cloth.across_cm(wished.sleeve_top) / 2)
    shape = _fitted(spec, wished, base)
    yoke_rows = shape.rows + 2
    most = yoke_rows - 2
    fold = cloth.across_cm(shape.sleeve_top) / 2
    wanted_rows = (want["front_neck_depth"] - fold) * cloth.rows_per_10cm / 10
    neck_rows = joined_yoke.neck_rows_of(spec, cloth.across_cm(shape.sleeve_top), most)
    if wanted_rows > most + 2:
        less = cloth.along_cm(wanted_rows - most)
        notes.stop("neck-below-underarm.yoke", neck=cm(want["front_neck_depth"]), less=cm(less))
    raglan = Raglan(replace(base, underarm=shape.underarm), shape, yoke_rows, neck_rows, NeckShaping(0, ()))
    if base.lower.open and raglan.neck_width < 1:
        check_front(spec, 1 - raglan.neck_width)
        notes.end_if_stopped()
    raglan = replace(raglan, neck=_neck(spec, raglan))
    if base.lower.open:
        check_front_edge(spec, raglan.top - raglan.neck_rows, base.lower.hem_rows)
        notes.end_if_stopped()
    return raglan


def _top_wanted(neck_cm: float) -> Calculation:
    """Width of the top of a sleeve, in cm."""
    return calculate(
        "target.sleeve_top",
        "Width of the sleeve's top",
        figure("neck width", neck_cm, "cm") * figure("part of it", SLEEVE_TOP_OF_NECK),
        "cm",
        source="printed: ½ to 4 in; 2 in beside a neck of 7",
    )


def _shape(spec: GarmentSpec, base: Base) -> RaglanShape:
    """The shape as it is wished, whether its lines fit or not; two rows of the yoke lie below them."""
    want, cloth = spec.targets.finished, spec.cloth
    back, arm = base.lower.back, base.sleeve.top - 2 * base.sleeve.edge
    neck = joined_yoke.note_neck(spec, "neck.stitches", "Back neck stitches", want["neck_width"], back)
    top_cm = spec.notes.record(_top_wanted(want["neck_width"])).value
    top = joined_yoke.note_neck(spec, "sleeve.top_stitches", "Sleeve top stitches", top_cm, arm)
    neck = min(neck, back - base.underarm - 2)
    least = 4 - 2 * base.lower.edge + arm % 2  # two decreases and what stands beside them
    top = min(max(top, least), arm - base.underarm)
    depth = spec.targets.figure("armhole_depth") + spec.targets.figure("shoulder_drop")
    rows = rows_of(depth - figure("sleeve top", cloth.across_cm(top), "cm") / 2, cloth.rows_per_10cm)
    source = "published: lines of 5.5 and half a sleeve top of 4 make a yoke of 7.5"
    yoke_rows = spec.notes.record(in_rows("yoke.rows", "Yoke rows", rows, cloth.rows_per_10cm, source=source)).count
    return RaglanShape(back, arm, base.underarm, neck, top, yoke_rows - 2)


def _neck(spec: GarmentSpec, raglan: Raglan) -> NeckShaping:
    """The front neck, done while there are stitches beside it for the raglan lines as well.

    It has all its rows where the fronts have room; else it takes its stitches in fewer, and the edge runs straight
    above.
    """
    width, rows = raglan.neck_width, raglan.neck_rows
    if width < 1:
        raise CannotBeKnitted(f"a neck of {width} stitches can't be shaped")
    for pairs in in_pairs(rows):
        if raglan.base.lower.open:
            neck = NeckShaping(0, half_takes(spec, width, rows, pairs))
        else:
            neck = front_shaping(spec, width, rows, pairs)
        if _has_room(raglan, neck):
            return neck
    return (
        NeckShaping(0, (NeckDecrease(0, width, decreased=False),)) if raglan.base.lower.open else NeckShaping(width, ())
    )


def _has_room(raglan: Raglan, neck: NeckShaping) -> bool:
    """Whether both fronts have the stitches for neck and line in every row: bind-offs may stand one row apart."""
    lower = raglan.base.lower
    row_0 = raglan.top - raglan.neck_rows + 1 - (2 if lower.how == "round" else 0)

    def edge(later: int) -> Schedules:
        rows = (row_0 + 2 * t.pair + (0 if t.decreased else later) for t in neck.decreases)
        return scheduled((row, panels.taken(t, "neck-left")) for row, t in zip(rows, neck.decreases, strict=True))

    line = (Schedule(Event("decrease", "left", 1), raglan.body_rows),)
    return all(panels.has_room(raglan.kept + raglan.seam, line, edge(later)) for later in (-1, 0, 1))


def _fitted(spec: GarmentSpec, first: RaglanShape, base: Base) -> RaglanShape:
    """The shape with as many underarm stitches as the rows ask for. Raises Stopped where none fits."""
    shape = _widened(first)
    if not shape.fits:
        _stop_too_steep(spec, base, shape)
    if shape.underarm != first.underarm:
        more = spec.cloth.across_cm(shape.underarm - first.underarm) / 2
        many, few = Amount(shape.underarm, "stitches"), Amount(first.underarm, "stitches")
        spec.notes.check("raglan-underarm", many=many, few=few, more=cm(more))
    return shape


def _widened(shape: RaglanShape) -> RaglanShape:
    """More stitches at the underarm while the lines lack rows, up to an eighth of the body (printed: 12 %)."""
    while not shape.fits and max(shape.body_events, shape.sleeve_events) > shape.rows:
        wider = replace(shape, underarm=shape.underarm + 2)
        if wider.underarm > 0.12 * 2 * shape.back or wider.sleeve_events < 0:
            break
        shape = wider
    return shape


MOST_CHANGED_CM = 30
"""Largest change that is offered where the lines do not fit."""


def _stop_too_steep(spec: GarmentSpec, base: Base, shape: RaglanShape) -> NoReturn:
    """Stop at lines with too few rows: how much deeper, or wider at the neck, they would fit. Raises Stopped."""

    def least(part: str, step: float) -> float | None:
        for n in range(1, int(MOST_CHANGED_CM / step) + 1):
            finished = {**spec.targets.finished, part: spec.targets.finished[part] + n * step}
            changed = replace(spec, targets=replace(spec.targets, finished=finished), notes=Notes())
            if _widened(_shape(changed, base)).fits:
                return n * step
        return None

    changes = {
        "depth": least("armhole_depth", spec.cloth.along_cm(1)),
        "width": least("neck_width", spec.cloth.across_cm(1)),
    }
    events, rows = Amount(max(shape.body_events, shape.sleeve_events), "stitches"), Amount(shape.rows, "rows")
    ways = {way: cm(change) for way, change in changes.items() if change is not None}
    spec.notes.stop("raglan-steep", events=events, rows=rows, **ways)


def build(spec: GarmentSpec) -> Garment:
    """Raglan from the hem: in pieces, or body and sleeves joined into a yoke. Raises Stopped."""
    raglan = plan_raglan(spec)
    return finish(spec, raglan, _in_pieces(raglan) if spec.worked == "flat" else _in_one(raglan))


def _in_pieces(raglan: Raglan) -> list[Piece]:
    """Front, back and sleeves flat, with raglan edges that are sewn."""
    pieces: list[Piece] = []
    base, shape = raglan.base, raglan.shape
    for ledger in work_lower_flat(base.lower):
        shift = base.lower.front_shift(ledger.role)
        outer = _edges(ledger.begins, base.lower.rows + shift, shape.underarm // 2)
        outer += panels.alike(r + shift for r in raglan.body_rows)
        keys = {"chest": ledger.stitches, "underarm": shape.underarm}
        top = raglan.top + shift
        if ledger.role is BACK:
            keys["neck"] = shape.back_neck + 2 * raglan.seam
            pieces += panels.work_panel(ledger, outer, None, 0, top, keys)
        elif not ledger.side:
            pieces += panels.work_panel(ledger, outer, raglan.neck, raglan.neck_rows, top, keys)
        else:
            ledger.neck_rows = raglan.neck_rows
            dividing = top - raglan.neck_rows + 1
            neck = panels.neck_edge(ledger.side, ledger.begins, raglan.neck.decreases, dividing)
            ledger.follow(top, panels.at_edge(outer, ledger.side) + neck)
            pieces.append(ledger.piece(**keys))
    for side in BOTH_EDGES:
        ledger = knit_sleeve(side, base.sleeve, base.wish)
        ledger.mark("cap")
        after = ledger.next_row - 1
        outer = _edges(ledger.begins, after, shape.underarm // 2)
        outer += panels.alike(after + r for r in raglan.sleeve_rows)
        ledger.follow(after + raglan.yoke_rows, outer)
        pieces.append(ledger.piece(cuff=base.sleeve.cuff, upper_arm=base.sleeve.top))
    return pieces


def _edges(begins: Edge, after_row: int, stitches: int) -> Schedules:
    return panels.bound_off_at_both(begins, after_row + 1, (stitches,))


def _in_one(raglan: Raglan) -> list[Piece]:
    """Body and sleeves joined: a yoke in rounds up to the front neck, then back and forth."""
    base = raglan.base
    body, sleeves = joined_yoke.knit_to_underarm(base)
    yoke = joined_yoke.joined_yoke(base, body)
    shift = base.lower.front_shift(body.role)
    top = raglan.top + shift
    at_sleeve = tuple(base.lower.rows + r for r in raglan.sleeve_rows)
    at_lines = later(joined_yoke.lines(raglan.body_rows, at_sleeve, "decrease"), shift)
    keys = {"yoke": yoke.stitches, "back_neck": raglan.shape.back_neck, "sleeve_top": raglan.shape.sleeve_top}
    first_neck = top - raglan.neck_rows + 1
    if base.lower.open:
        yoke.neck_rows = raglan.neck_rows
        yoke.follow(top, at_lines + _neck_of_yoke(raglan, first_neck))
        return [body, *sleeves, yoke.piece(**keys)]
    centre, yoke.neck_rows = raglan.neck.centre, raglan.neck_rows_worked
    opening = [(first_neck - 1, Event("bind-off", "centre", centre))] if centre else []
    yoke.follow(first_neck - 1, at_lines + scheduled(opening))
    yoke.mark("open neck")
    lower = yoke.piece(**keys)
    upper = Ledger(UPPER_YOKE, "flat", yoke.stitches, parent=lower)
    upper.follow(top, at_lines + _neck_of_yoke(raglan, first_neck - 2))
    return [body, *sleeves, lower, upper.piece(**keys)]


def _neck_of_yoke(raglan: Raglan, first_row: int) -> Schedules:
    return panels.both_neck_edges((first_row + 2 * take.pair, take) for take in raglan.neck.decreases)


def finish(spec: GarmentSpec, raglan: Raglan, pieces: list[Piece]) -> Garment:
    """Bands, seams and finished measurements."""
    base, shape, cloth = raglan.base, raglan.shape, spec.cloth
    live = Across(shape.back_neck, shape.sleeve_top, 2 * raglan.kept)
    front_rows = raglan.top - raglan.neck_rows
    joined_yoke.add_bands(spec, base, pieces, live, front_rows)
    along = {"yoke_depth": raglan.yoke_rows, "front_neck_depth": raglan.neck_rows_worked}
    fold = ("half of the sleeve's top", cloth.across_cm(shape.sleeve_top) / 2)
    across = {"neck_width": float(shape.back_neck)}
    finished = joined_yoke.note_finished_yoked(spec, base, raglan.top, across, along, fold)
    return Garment(tuple(pieces), tuple(_seams(spec, raglan)), finished)


def _seams(spec: GarmentSpec, raglan: Raglan) -> Iterator[Seam]:
    lower, rows = raglan.base.lower, raglan.yoke_rows
    for side in roles.BOTH_EDGES:
        yield joined_yoke.underarm_seam(side, spec.cloth.across_cm(raglan.shape.underarm))
        if spec.worked == "flat":
            yield of_rows(
                f"{half_of_front(lower, side)} raglan", f"{side} sleeve, front raglan", rows, "raglan front", side
            )
            yield of_rows(f"back, {side} raglan", f"{side} sleeve, back raglan", rows, "raglan back", side)
            yield side_seam(lower, side)
            yield sleeve_seam(side, raglan.base.sleeve)
