"""Garments whose sleeves grow into a yoke: what raglans and round yokes share.

In one piece the body and both sleeves are knitted to the underarm (or from it), the underarm stitches of all
three wait to be joined, and the yoke is knitted over the rest. Counts are visible stitches.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from workshop.core.calculation import EVEN, Rounding
from workshop.core.edgings import STOCKINETTE
from workshop.core.garments import GarmentSpec, Seam, of_cm
from workshop.core.garments.body_counts import (
    Beyond,
    arm_cm,
    body_across,
    check_opening,
    levels_below_yoke,
    note_finished,
    plan_lower,
    sleeve_wish,
    stitches_at_underarm,
)
from workshop.core.garments.seamed import neck_bands
from workshop.core.making import bands, roles
from workshop.core.making.below_underarm import BodyBelowUnderarm, lower_keys, work_lower_whole
from workshop.core.making.counts import fabric_of, in_rows, in_stitches, rows_of, stitches_for
from workshop.core.making.ledger import Counts, Event, Ledger, Piece, Schedules, scheduled
from workshop.core.making.raglan_lines import BOTH_SIDES, ONE_SIDE, PER_SHAPING
from workshop.core.making.roles import Edge, Section
from workshop.core.making.sleeves import (
    SleevePlan,
    SleeveWish,
    arm_length,
    check_length,
    knit_sleeve,
    plan_sleeve,
)
from workshop.core.remarks import cm
from workshop.core.sums import figure, larger_of, smaller_of
from workshop.core.wearer.fit import roomier_cm
from workshop.project import Do
from workshop.records import record

UNDERARM_PART = 0.08
"""Underarm stitches of each side as part of the whole body (printed: 8 %, from 6 to 12)."""


@record
class Base:
    """Body and sleeves up to the underarm."""

    lower: BodyBelowUnderarm
    sleeve: SleevePlan
    wish: SleeveWish
    underarm: int

    @property
    def body_left(self) -> int:
        """Stitches of the body that go into the yoke, front edge stitches included."""
        return self.lower.around + 2 * self.lower.front_edge - 2 * self.underarm

    @property
    def sleeve_left(self) -> int:
        """Visible stitches of each sleeve that go into the yoke."""
        return self.sleeve.top - 2 * self.sleeve.edge - self.underarm


def in_one_piece(spec: GarmentSpec) -> GarmentSpec:
    """A yoke that has no seams is knitted in one piece, whatever was asked."""
    if spec.worked != "round":
        opened = spec.front == "open"
        how = "back and forth to the underarm, sleeves in the round" if opened else "in the round"
        spec.notes.check("one-piece", how=how)
    return replace(spec, worked="round")


def plan_stitches(spec: GarmentSpec) -> Base:
    """Sleeves, and the stitches of body and underarm; the body's rows come with the yoke. Raises Stopped."""
    notes, lower = spec.notes, stitches_at_underarm(spec)
    length = arm_length(spec.sleeve, arm_cm(spec), spec.cuff_cm, spec.sleeve_cm, notes)
    check_length(length, spec.cuff_cm, notes)
    _note_arm_ease(spec)
    wish = sleeve_wish(spec, spec.targets.finished["upper_arm"], length)
    sleeve = plan_sleeve(wish, spec.cloth, notes)
    return Base(lower, sleeve, wish, _underarm(spec, lower, sleeve))


def below_yoke(spec: GarmentSpec, base: Base, yoke_cm: float) -> Base:
    """The same with the rows of the body, which makes up what the whole rows of the yoke are off. Raises Stopped."""
    rows = levels_below_yoke(spec, yoke_cm)
    base = replace(base, lower=plan_lower(spec, rows, base.lower))
    if rows.underarm < rows.hem_rows + 2:
        more = cm(spec.cloth.along_cm(rows.hem_rows + 2 - rows.underarm))
        length, hem, yoke = cm(spec.targets.finished["length"]), cm(spec.hem_cm), cm(yoke_cm)
        spec.notes.stop("body-too-short.yoke", length=length, hem=hem, yoke=yoke, more=more)
    return base


ROOMIER_CM = 1.0
"""Ease at the upper arm beyond that of other sleeves that is told of (common practice, no source)."""


def _note_arm_ease(spec: GarmentSpec) -> None:
    """A word where the fit gives these sleeves more room than the step Measure showed before they were chosen."""
    if roomier_cm("upper_arm", spec.project, spec.wearer) > ROOMIER_CM:
        spec.notes.check("yoke-arm-ease")


def _underarm(spec: GarmentSpec, lower: BodyBelowUnderarm, sleeve: SleevePlan) -> int:
    """Stitches of each underarm: a part of the body, and at most a quarter of the sleeve."""
    part = figure("stitches around the body", 2 * lower.back, "stitches") * figure("underarm part", UNDERARM_PART)
    arm = figure("stitches of the sleeve", sleeve.top - 2 * sleeve.edge, "stitches")
    label, per_10cm = "Stitches of each underarm", spec.cloth.stitches_per_10cm
    source = "printed: about 8% of the body, which is 6 to 12 stitches there"
    working = in_stitches("underarm.stitches", label, smaller_of(part, arm / 4), per_10cm, EVEN, source)
    return max(2, spec.notes.record(working).count)


def note_neck(spec: GarmentSpec, key: str, label: str, width_cm: float, parity: int) -> int:
    """Stitches across a part of the neck."""
    rule, per_10cm = Rounding(2, parity % 2), spec.cloth.stitches_per_10cm
    working = stitches_for(key, label, width_cm, per_10cm, rule, width_name="width")
    return max(2 + parity % 2, spec.notes.record(working).count)


def knit_to_underarm(base: Base) -> tuple[Piece, list[Piece]]:
    """The body in one piece and both sleeves, waiting at the underarm."""
    body = work_lower_whole(base.lower)
    body.mark("join", (Section(roles.BODY), base.underarm))
    sleeves = []
    for side in roles.BOTH_EDGES:
        ledger = knit_sleeve(side, base.sleeve, base.wish)
        ledger.mark("join", (Section(roles.SLEEVE, side), base.underarm))
        sleeves.append(ledger.piece(cuff=base.sleeve.cuff, upper_arm=base.sleeve.top))
    return body.piece(**lower_keys(base.lower)), sleeves


def joined_yoke(base: Base, body: Piece) -> Ledger:
    """The yoke after its first row, which joins both sleeves and leaves the underarms waiting."""
    flat = body.worked == "flat"
    yoke = Ledger(roles.YOKE, body.worked, body.bound_off, parent=body)
    yoke.shape(
        STOCKINETTE,
        Event("hold", "underarm", 2 * base.underarm),
        Event("join", "left", base.sleeve_left),
        Event("join", "right", base.sleeve_left),
    )
    assert not flat or yoke.next_row % 2 == 0
    yoke.mark("markers", *yoke_sections(base))
    return yoke


def yoke_sections(base: Base) -> Counts:
    """Fronts, sleeves and back of a yoke as they are worked after the underarms are set aside."""
    lower, half, sleeve = base.lower, base.underarm // 2, base.sleeve_left
    behind = (roles.RIGHT_SLEEVE, sleeve), (roles.THE_BACK, lower.back - base.underarm), (roles.LEFT_SLEEVE, sleeve)
    if lower.half is None:
        return (roles.THE_FRONT, lower.back - base.underarm), *behind
    front = lower.half + lower.front_edge - half
    return (roles.RIGHT_FRONT, front), *behind, (roles.LEFT_FRONT, front)


def lines(body: Sequence[int], sleeve: Sequence[int], do: Do) -> Schedules:
    """Shaping at all four raglan lines: on both sides of each, or in a row of its own on the side that needs it."""
    both = set(body) & set(sleeve)
    found = [(row, Event(do, "across", PER_SHAPING[BOTH_SIDES], BOTH_SIDES)) for row in body if row in both]
    for name, rows in zip(ONE_SIDE, (body, sleeve), strict=True):
        found += [(row, Event(do, "across", PER_SHAPING[name], name)) for row in rows if row not in both]
    return scheduled(found)


def neck_rows_of(spec: GarmentSpec, sleeve_top_cm: float, most: int) -> int:
    """Even rows of the front neck of a yoke, at least four; half a sleeve's top lies over the shoulder, above them."""
    below = spec.targets.figure("front_neck_depth") - figure("sleeve top", sleeve_top_cm, "cm") / 2
    per_10cm = spec.cloth.rows_per_10cm
    rows, source = rows_of(larger_of(0.0, below), per_10cm), "gauge arithmetic, rounded once"
    working = in_rows("front.neck_rows", "Front neck rows", rows, per_10cm, source=source)
    return max(4, min(spec.notes.record(working).count, most // 2 * 2))


def underarm_seam(side: Edge, width_cm: float) -> Seam:
    """The stitches of sleeve and body that meet under the arm."""
    return of_cm(f"{side} sleeve, underarm", f"body, {side} underarm", width_cm, "underarm", side)


def note_finished_yoked(
    spec: GarmentSpec,
    base: Base,
    top: float,
    across: Mapping[str, float],
    along: Mapping[str, float],
    beyond: Beyond,
) -> dict[str, float]:
    """Measurements of body, sleeves and yoke; what is measured across and along the yoke is given."""
    across = body_across(base.lower) | {"upper_arm": float(base.sleeve.top - 2 * base.sleeve.edge), **across}
    finished = note_finished(spec, top, base.lower.hem_rows, across, along, beyond)
    return finished | base.sleeve.finished(spec.cloth, fabric_of(spec.hem), spec.sleeve == "long", spec.notes)


def add_bands(spec: GarmentSpec, base: Base, pieces: list[Piece], live: bands.Across, front_rows: int) -> None:
    """Neckband and front bands; whether a head passes."""
    edge = bands.neck_edge(bands.neck_pieces(pieces), spec.cloth, live)
    front_rows += base.lower.front_shift(roles.FRONT) if spec.front == "open" else 0
    pieces += neck_bands(spec, edge, front_rows, base.lower.hem_rows)
    check_opening(spec, pieces[-1].bound_off)  # fewer than were picked up where the point of a V is mitred
    if spec.front == "open" and not spec.neckline.pointed:
        pieces += spec.bands.fronts(spec.bands.front_edge(front_rows, base.lower.hem_rows))
