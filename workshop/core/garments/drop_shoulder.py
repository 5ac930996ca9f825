"""Drop shoulder: straight to the shoulder, the sleeve sewn to the straight edge.

The armhole is a length marked at the side, not a shape; the sleeve is a trapezium whose top is twice the
armhole depth. Sleeve length from the middle of the back, published case 80 − 62/2 = 49.
"""

from workshop.core.garments import Brief, Made, fabric_of, stopped
from workshop.core.garments.body import Levels
from workshop.core.garments.seamed import Armholes, Sleeves, finish, frame_of
from workshop.core.making.armholes import no_armhole
from workshop.core.making.lower import Lower
from workshop.core.making.sleeves import SleeveWish, dropped_length, edge_wanted_cm, plan_sleeve, too_short
from workshop.core.remarks import Check
from workshop.core.working import Workings


def build(brief: Brief, workings: Workings) -> Made:
    """Knit it: all pieces, seams and finished measurements, or checks that say what stops it."""
    frame, checks = frame_of(brief, workings, _armhole)
    if frame is None or stopped(checks):
        return Made((), (), {}, tuple(checks))
    sleeves, found = _sleeves(brief, workings)
    checks += found
    if stopped(checks):
        return Made((), (), {}, tuple(checks))
    return finish(brief, frame, sleeves, checks, workings)


def _armhole(brief: Brief, lower: Lower, rows: Levels, workings: Workings) -> tuple[Armholes, list[Check]]:
    edge = no_armhole(rows.armhole_rows)
    return Armholes(edge, edge), []


def _sleeves(brief: Brief, workings: Workings) -> tuple[Sleeves | None, list[Check]]:
    if brief.sleeve == "none":
        return None, []
    want = brief.wanted.finished
    half = want["chest"] / 4
    return straight_sleeves(brief, want["chest"] / 2, half, 0, workings)


def straight_sleeves(
    brief: Brief, width_cm: float, half_cm: float, plain_rows: int, workings: Workings
) -> tuple[Sleeves | None, list[Check]]:
    """Sleeves with a straight top, for a body that is ``width_cm`` wide where they begin."""
    want, own = brief.wanted.finished, brief.sleeve_cm
    arm = brief.wearer.cm("sleeve_underarm") or 0.6 * want["neck_to_cuff"]
    length = dropped_length(brief.sleeve, want.get("neck_to_cuff", 0.0), width_cm, arm, brief.cuff_cm, own, workings)
    short = too_short(length, brief.cuff_cm, want.get("neck_to_cuff"), half_cm, own is not None)
    if short:
        return None, [short]
    wish = SleeveWish(
        edge_cm=edge_wanted_cm(brief.sleeve, want.get("wrist", want["upper_arm"]), want["upper_arm"]),
        top_cm=2 * want["armhole_depth"],
        length_cm=length,
        cuff_cm=brief.cuff_cm,
        edging=brief.hem,
        fabric=fabric_of(brief.hem),
        worked=brief.worked,
        plain_rows=plain_rows,
    )
    plan, found = plan_sleeve(wish, brief.cloth, workings)
    return Sleeves(plan, wish), found
