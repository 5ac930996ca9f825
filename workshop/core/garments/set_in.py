"""Set-in sleeve: a shaped armhole, and a cap whose edge is as long as the armhole's.

The cap is found by search over row schedules (``making.caps``). What three rules of thumb in print say about its
height stands beside it.
"""

from typing import NoReturn

from workshop.core.calculation import WHOLE, Calculation, calculate
from workshop.core.garments import Garment, GarmentSpec
from workshop.core.garments.body_counts import Levels, arm_cm, sleeve_wish
from workshop.core.garments.seamed import Armholes, Frame, Sleeves, build_seamed
from workshop.core.garments.square_armhole import between_armholes_cm, note_taken, stop_without_room
from workshop.core.making.armholes import set_in_armhole
from workshop.core.making.below_underarm import BodyBelowUnderarm
from workshop.core.making.caps import Cap, armholes_that_fit, beyond_usual_height, fitting_cap
from workshop.core.making.cloth import Cloth
from workshop.core.making.sleeves import arm_length, check_length, plan_sleeve
from workshop.core.notes import Notes
from workshop.core.remarks import Value, cm
from workshop.core.sums import figure, larger_of, smaller_of
from workshop.core.wearer.fit import roomier_cm

CLOSER_CM = 0.5
"""Ease at the armhole less than that of other constructions that is told of (common practice, no source)."""

MOST_OF_DEPTH = 0.65
"""Widest an armhole is shaped, as part of its depth; beyond it the back stays wider (common practice)."""


def build(spec: GarmentSpec) -> Garment:
    """Knit it: all pieces, seams and finished measurements. Raises Stopped."""
    less_cm = -roomier_cm("armhole_depth", spec.project, spec.wearer)
    if less_cm > CLOSER_CM:
        spec.notes.check("set-in-armhole-ease", less=cm(less_cm))
    return build_seamed(spec, _armhole, _sleeves)


def _armhole(spec: GarmentSpec, lower: BodyBelowUnderarm, rows: Levels) -> Armholes:
    cloth, want = spec.cloth, spec.targets.finished
    narrowest = cloth.across_cm(lower.back) - 2 * MOST_OF_DEPTH * want["armhole_depth"]
    between = between_armholes_cm(spec)
    across = max(between, narrowest)
    taken = note_taken(spec, lower, across, "Stitches decreased for the armhole at each side")
    most = taken + lower.fuller // 2
    back, front = (set_in_armhole(stitches, rows.armhole_rows, cloth) for stitches in (taken, most))
    if taken < 1:
        stop_without_room(spec, lower)
    if back is None or front is None:
        _stop_without_rows(spec, most, rows.armhole_rows)
    if narrowest > between + 0.5:
        spec.notes.check("cross-back-wide", want=cm(between), across=cm(across), more=cm(across - between))
    return Armholes(back, front)


def _stop_without_rows(spec: GarmentSpec, taken: int, rows: int) -> NoReturn:
    """Stop at an armhole that has to take more than its rows can. Raises Stopped."""
    cloth = spec.cloth
    wanted = next(r for r in range(max(2, rows), 1000, 2) if set_in_armhole(taken, r, cloth) is not None)
    spec.notes.stop(
        "armhole-too-short",
        depth=cm(spec.targets.finished["armhole_depth"]),
        taken=cm(cloth.across_cm(taken)),
        more=cm(cloth.along_cm(wanted - rows)),
    )


def _sleeves(spec: GarmentSpec, frame: Frame) -> Sleeves:
    fitted = _fitted(spec, frame)
    if fitted is None:
        _stop_without_cap(spec, frame)
    top_cm, cap = fitted
    length = _length_cm(spec, frame, cap)
    check_length(length, spec.cuff_cm, spec.notes)
    wish = sleeve_wish(spec, top_cm, length)
    plan = plan_sleeve(wish, spec.cloth, spec.notes)
    _note_cap(spec, frame, cap)
    _check_width(spec, top_cm)
    above = spec.cloth.across_cm(frame.across) / 2 + spec.cloth.along_cm(cap.rows)
    _check_reach(spec, above, plan.length_cm(spec.cloth, wish.fabric), length)
    return Sleeves(plan, wish, cap)


def _fitted(spec: GarmentSpec, frame: Frame) -> tuple[float, Cap] | None:
    """Width of the sleeve and the cap on it: as wished, or a little wider where that would make the cap too tall.

    A width of the knitter's own is kept as long as any cap fits; only then is another tried.
    """
    cloth, wanted = spec.cloth, spec.targets.finished["upper_arm"]
    depth = cloth.along_cm(frame.rows.armhole_rows)
    found: list[tuple[float, float, Cap]] = []
    for change in (0.0,) if spec.own_arm else (0.0, *WIDER_FOR_CAP):
        cap = _cap(spec, frame, wanted + change)
        if cap is not None:
            found.append((round(beyond_usual_height(cap, depth, cloth), 2), wanted + change, cap))
            if not found[-1][0]:
                break
    if found:
        _, top_cm, cap = min(found, key=lambda one: one[:2])
        return top_cm, cap
    tries = ((wanted + change, _cap(spec, frame, wanted + change)) for change in OTHER_WIDTHS)
    return next(((top_cm, cap) for top_cm, cap in tries if cap is not None), None)


WIDER_FOR_CAP = (1.0, 2.0, 3.0, 4.0)
"""How much wider, in cm, a sleeve may be for a cap of the usual height: its ease stays within 1 to 4 in (published)."""

OTHER_WIDTHS = (-1.0, 1.0, -2.0, 2.0, -3.0, 3.0, -4.0, 4.0, 5.0, 6.0)
"""Changes of the sleeve's width, in cm, that are tried where no cap fits on the one that was wished."""


def _cap(spec: GarmentSpec, frame: Frame, top_cm: float) -> Cap | None:
    """The cap that suits a sleeve so wide; it may be a little longer than the armhole, never a gap."""
    plan = plan_sleeve(sleeve_wish(spec, top_cm, 1.0), spec.cloth, Notes())
    depth = spec.cloth.along_cm(frame.rows.armhole_rows)
    half = frame.armholes.edge_cm(spec.cloth) / 2
    return fitting_cap(plan.top - 2 * plan.edge, frame.armholes.back.bind_offs, half, depth, spec.cloth)


REACH_LESS_CM, REACH_MORE_CM = 0.2, 2.5
"""How much less or more than the wearer's own reach a sleeve may come to, before rows are rounded (common practice: 2
to 3 cm of slack, so that the arm can bend)."""


def _length_cm(spec: GarmentSpec, frame: Frame, cap: Cap) -> float:
    """Length of the sleeve up to its cap, in cm.

    Hers where the knitter measured it; else from the armpit, less what the armhole lies lower, as far as the reach from
    the middle of the back agrees.
    """
    reach, under = spec.targets.finished.get("neck_to_cuff"), spec.wearer.measures.get("sleeve_underarm")
    arm = arm_cm(spec)
    if spec.sleeve != "long" or spec.sleeve_cm is not None or reach is None or (under and under.origin == "own"):
        return arm_length(spec.sleeve, arm, spec.cuff_cm, spec.sleeve_cm, spec.notes)
    left = figure("left for the sleeve", spec.notes.record(_left_by_reach(reach, frame, cap, spec.cloth)).value, "cm")
    of_garment = reach != spec.wearer.cm("neck_to_cuff")
    less, more = (0.0, 0.0) if of_garment else (REACH_LESS_CM, REACH_MORE_CM)
    lower = figure("armhole ease", spec.targets.ease.get("armhole_depth", 0.0), "cm")
    most = smaller_of(left + figure("slack", more, "cm"), figure("arm", arm, "cm") - lower)
    return spec.notes.record(
        calculate(
            "sleeve.length",
            "Sleeve length up to the cap",
            larger_of(left - figure("a little", less, "cm"), most),
            "cm",
            source="from the armpit, above the garment's underarm; kept to the reach from the middle of the back",
        )
    ).value


def _left_by_reach(reach_cm: float, frame: Frame, cap: Cap, cloth: Cloth) -> Calculation:
    """What half the back and the cap leave of the reach, in cm."""
    across = figure("width between the armholes", cloth.across_cm(frame.across), "cm")
    height = figure("height of the cap", cloth.along_cm(cap.rows), "cm")
    return calculate(
        "sleeve.left_by_reach",
        "What's left for the sleeve, after the back and the cap",
        figure("center back to cuff", reach_cm, "cm") - across / 2 - height,
        "cm",
        source="half the back, the cap and the sleeve together reach from the middle of the back to the wrist",
    )


REACH_OFF_CM = 3.0
"""Beyond this the two measures of an arm are asked about (common practice: 2 to 3 cm of slack)."""


def _check_reach(spec: GarmentSpec, above_cm: float, knitted_cm: float, sleeve_cm: float) -> None:
    """Where the length of the sleeve, in whole rows, leads to another wrist than the reach from the middle of the back.

    ``above_cm`` are half the back and the cap; the sleeve was wished for ``sleeve_cm``.
    """
    to_cuff, reach_cm = spec.wearer.cm("neck_to_cuff"), above_cm + knitted_cm
    if to_cuff is None or spec.sleeve != "long" or abs(above_cm + sleeve_cm - to_cuff) <= REACH_OFF_CM:
        return
    more_cm, right_cm = abs(reach_cm - to_cuff), to_cuff - above_cm
    told: dict[str, Value] = {"reach": cm(reach_cm), "body": cm(to_cuff), "more": cm(more_cm), "under": cm(sleeve_cm)}
    if right_cm <= sleeve_cm / 2:  # one of them is a slip
        spec.notes.check("sleeve-reach.far", **told)
    else:
        spec.notes.check("sleeve-reach.longer" if right_cm < sleeve_cm else "sleeve-reach", **told, right=cm(right_cm))


def _stop_without_cap(spec: GarmentSpec, frame: Frame) -> NoReturn:
    """Stop where no cap fits: by how much armhole or sleeve must change for one that does. Raises Stopped."""
    arm, armhole_cm = spec.targets.finished["upper_arm"], frame.armholes.edge_cm(spec.cloth) / 2

    def armholes(sleeve_cm: float) -> tuple[float, float] | None:
        stitches = WHOLE(sleeve_cm * spec.cloth.stitches_per_10cm / 10)
        return armholes_that_fit(stitches, frame.armholes.back.bind_offs, spec.cloth) if stitches > 2 else None

    def fits(sleeve_cm: float) -> bool:
        edges = armholes(sleeve_cm)
        return edges is not None and edges[0] <= armhole_cm <= edges[1]

    steps, edges = range(1, MOST_CHANGED_CM + 1), armholes(arm)
    changes = {
        "deeper": edges[0] - armhole_cm if edges and edges[0] > armhole_cm else None,
        "shallower": armhole_cm - edges[1] if edges and edges[1] < armhole_cm else None,
        "narrower": next((s for s in steps if fits(arm - s)), None),
        "wider": next((s for s in steps if fits(arm + s)), None),
    }
    ways = {way: cm(change) for way, change in changes.items() if change is not None}
    depth = cm(spec.targets.finished["armhole_depth"])
    spec.notes.stop("cap-does-not-fit" if ways else "cap-does-not-fit.never", arm=cm(arm), depth=depth, **ways)


MOST_CHANGED_CM = 20
"""Largest change of a sleeve that is offered where no cap fits."""


def _check_width(spec: GarmentSpec, taken_cm: float) -> None:
    """Where the sleeve is of another width than wanted, for its cap."""
    wanted_cm = spec.targets.finished["upper_arm"]
    if wanted_cm == taken_cm:
        return
    if not spec.own_arm and wanted_cm < taken_cm <= wanted_cm + WIDER_FOR_CAP[-1]:
        spec.notes.check("sleeve-wider-for-cap", taken=cm(taken_cm), more=cm(taken_cm - wanted_cm))
    else:
        spec.notes.check("sleeve-width-for-cap", want=cm(wanted_cm), taken=cm(taken_cm))


def _note_forward(spec: GarmentSpec, frame: Frame) -> None:
    """How far in front of the shoulder a cap's middle lies where the armhole of a wider front is longer."""
    cloth = spec.cloth
    front = figure("front armhole", frame.armholes.front.edge_cm(cloth), "cm")
    back = figure("back armhole", frame.armholes.back.edge_cm(cloth), "cm")
    label, source = (
        "How far the middle of the cap is in front of the shoulder seam",
        "both halves of the cap are equally long",
    )
    spec.notes.record(calculate("cap.forward", label, (front - back) / 2, "cm", source=source))


def _note_cap(spec: GarmentSpec, frame: Frame, cap: Cap) -> None:
    """The cap's edge against the armhole's, and its height against the rules of thumb in print."""
    cloth, depth = spec.cloth, figure("armhole depth", spec.cloth.along_cm(frame.rows.armhole_rows), "cm")
    armhole = figure("armhole edge", frame.armholes.edge_cm(cloth), "cm")
    edge = figure("cap edge", 2 * cap.edge_cm(cloth), "cm")
    spec.notes.record(
        calculate(
            "cap.ease_percent",
            "Cap edge compared with the armhole edge",
            100 * (edge / armhole - 1),
            "%",
            source="edges measured along every event of the row ledger; from 1% less to 5% more is usual",
        )
    )
    if frame.lower.fuller:
        _note_forward(spec, frame)
    less = 5.0 if spec.targets.finished["chest"] <= 76 else 7.5 if spec.targets.finished["chest"] <= 122 else 10.0
    top = figure("top", cloth.across_cm(cap.top), "cm")
    for key, label, height, source in (
        (
            "cap.height_rule_1",
            "Cap height by one rule: the armhole less a fixed length",
            depth - figure("fixed length", less, "cm"),
            "trade practice in print: 2 in less up to a chest of 30 in, 3 up to 48, 4 above",
        ),
        (
            "cap.height_rule_2",
            "Cap height by a second rule: the armhole less half the top and a little",
            depth - figure("a little", 3.8, "cm") - top / 2,
            "a rule in print: the armhole less 1 1/2 in and half the top",
        ),
        (
            "cap.height_rule_3",
            "Cap height by a third rule: two thirds of the armhole",
            depth * 2 / 3,
            "from memory: 60 to 75% of the armhole depth",
        ),
    ):
        spec.notes.record(calculate(key, label, height, "cm", source=source))
