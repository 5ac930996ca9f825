"""Drop shoulder: straight to the shoulder, the sleeve sewn to the straight edge.

The armhole is a length marked at the side, not a shape; the sleeve is a trapezium whose top is twice the
armhole depth. Sleeve length from the middle of the back, published case 80 − 62/2 = 49.
"""

from dataclasses import replace

from workshop.core.garments import Garment, GarmentSpec
from workshop.core.garments.body_counts import Levels, arm_cm, sleeve_wish
from workshop.core.garments.seamed import Armholes, Frame, Sleeves, build_seamed
from workshop.core.making.armholes import no_armhole
from workshop.core.making.below_underarm import BodyBelowUnderarm
from workshop.core.making.sleeves import check_length, dropped_length, plan_sleeve
from workshop.core.remarks import cm


def build(spec: GarmentSpec) -> Garment:
    """Knit it: all pieces, seams and finished measurements. Raises Stopped."""
    return build_seamed(spec, _armhole, _sleeves)


def _armhole(spec: GarmentSpec, lower: BodyBelowUnderarm, rows: Levels) -> Armholes:
    edge = no_armhole(rows.armhole_rows)
    return Armholes(edge, edge)


def _sleeves(spec: GarmentSpec, frame: Frame) -> Sleeves:
    chest = spec.targets.finished["chest"]
    return straight_sleeves(spec, frame, chest / 2, chest / 4, 0)


def _tell_which_arm(spec: GarmentSpec) -> None:
    """A word where the knitter measured her arm to the underarm, which a long sleeve with a straight top has no use
    for.
    """
    known, reach = spec.wearer.measures, spec.targets.finished.get("neck_to_cuff")
    arm, to_cuff = known.get("sleeve_underarm"), known.get("neck_to_cuff")
    own_length = spec.sleeve != "long" or spec.sleeve_cm is not None
    if own_length or reach is None or arm is None or arm.origin != "own":
        return
    if spec.project.reference_garment.centre_to_cuff_cm is not None or (to_cuff and to_cuff.origin == "own"):
        spec.notes.check("sleeve-from-neck", reach=cm(reach), arm=cm(arm.value_cm))
    else:
        spec.notes.check("sleeve-from-neck.filled", reach=cm(reach), arm=cm(arm.value_cm))


WIDER_TOP_CM = 2.0
"""A sleeve that its armhole makes wider by this than the fit asks is told of (common practice, no source)."""


def straight_sleeves(spec: GarmentSpec, frame: Frame, width_cm: float, half_cm: float, plain_rows: int) -> Sleeves:
    """Sleeves with a straight top, for a body that is ``width_cm`` wide where they begin. Raises Stopped."""
    want, own, notes = spec.targets.finished, spec.sleeve_cm, spec.notes
    reach, arm = want.get("neck_to_cuff"), arm_cm(spec)
    length = dropped_length(spec.sleeve, reach or 0.0, width_cm, arm, spec.cuff_cm, own, notes)
    check_length(length, spec.cuff_cm, notes, reach_cm=reach if own is None else None, half_cm=half_cm)
    _tell_which_arm(spec)
    wish = replace(sleeve_wish(spec, want["upper_arm"], length, plain_rows), top_cm=2 * frame.armhole_cm)
    planned = plan_sleeve(wish, spec.cloth, notes)
    _tell_of_a_wide_top(spec, spec.cloth.across_cm(planned.top - 2 * planned.edge))
    return Sleeves(planned, wish)


def _tell_of_a_wide_top(spec: GarmentSpec, top_cm: float) -> None:
    """Why the finished top is wider than the fit or an own width asks, where it is."""
    wanted, arm = spec.targets.finished["upper_arm"], spec.wearer.cm("upper_arm")
    if top_cm - wanted <= WIDER_TOP_CM:
        return
    if arm is None or wanted <= arm or spec.project.reference_garment.upper_arm_width_cm is not None:
        spec.notes.check("sleeve-top-wide.asked", top=cm(top_cm), more=cm(top_cm - wanted), asked=cm(wanted))
    else:
        spec.notes.check("sleeve-top-wide", top=cm(top_cm), more=cm(top_cm - arm), fit=cm(wanted - arm))
