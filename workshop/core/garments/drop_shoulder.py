"""Drop shoulder: straight to the shoulder, the sleeve sewn to the straight edge.

The armhole is a length marked at the side, not a shape; the sleeve is a trapezium whose top is twice the
armhole depth. Sleeve length from the middle of the back, published case 80 − 62/2 = 49.
"""

from dataclasses import replace

from workshop.core.garments import Brief, Made
from workshop.core.garments.body import Levels, arm_cm, sleeve_wish
from workshop.core.garments.seamed import Armholes, Frame, Sleeves, build_seamed
from workshop.core.making.armholes import no_armhole
from workshop.core.making.lower import Lower
from workshop.core.making.sleeves import dropped_length, plan_sleeve, too_short
from workshop.core.remarks import Check
from workshop.core.working import Workings


def build(brief: Brief, workings: Workings) -> Made:
    """Knit it: all pieces, seams and finished measurements, or checks that say what stops it."""
    return build_seamed(brief, workings, _armhole, _sleeves)


def _armhole(brief: Brief, lower: Lower, rows: Levels, workings: Workings) -> tuple[Armholes, list[Check]]:
    edge = no_armhole(rows.armhole_rows)
    return Armholes(edge, edge), []


def _sleeves(brief: Brief, frame: Frame, workings: Workings) -> tuple[Sleeves | None, list[Check]]:
    chest = brief.wanted.finished["chest"]
    return straight_sleeves(brief, chest / 2, chest / 4, 0, workings)


def straight_sleeves(
    brief: Brief, width_cm: float, half_cm: float, plain_rows: int, workings: Workings
) -> tuple[Sleeves | None, list[Check]]:
    """Sleeves with a straight top, for a body that is ``width_cm`` wide where they begin."""
    want, own = brief.wanted.finished, brief.sleeve_cm
    reach, arm = want.get("neck_to_cuff"), arm_cm(brief)
    length = dropped_length(brief.sleeve, reach or 0.0, width_cm, arm, brief.cuff_cm, own, workings)
    short = too_short(length, brief.cuff_cm, reach, half_cm, own is not None)
    if short:
        return None, [short]
    wish = replace(sleeve_wish(brief, want["upper_arm"], length, plain_rows), top_cm=2 * want["armhole_depth"])
    plan, found = plan_sleeve(wish, brief.cloth, workings)
    return Sleeves(plan, wish), found
