"""Set-in sleeve: a shaped armhole, and a cap whose edge is as long as the armhole's.

The cap is found by search over row schedules (``making.caps``). What three rules of thumb in print say about its
height stands beside it.
"""

from workshop.core.garments import Brief, Made, fabric_of, stopped
from workshop.core.garments.body import Levels
from workshop.core.garments.seamed import Frame, Sleeves, finish, frame_of
from workshop.core.garments.square_armhole import no_room, note_taken
from workshop.core.making.armholes import Armhole, set_in_armhole
from workshop.core.making.caps import Cap, armholes_that_fit, fitting_cap
from workshop.core.making.lower import Lower
from workshop.core.making.sleeves import SleeveWish, arm_length, edge_wanted_cm, plan_sleeve, too_short
from workshop.core.remarks import Check, check, cm
from workshop.core.working import WHOLE, Workings, worked

MOST_OF_DEPTH = 0.45
"""Widest an armhole is shaped, as part of its depth; beyond it the back stays wider (common practice)."""


def build(brief: Brief, workings: Workings) -> Made:
    """Knit it: all pieces, seams and finished measurements, or checks that say what stops it."""
    frame, checks = frame_of(brief, workings, _armhole)
    if frame is None or stopped(checks):
        return Made((), (), {}, tuple(checks))
    sleeves = None
    if brief.sleeve != "none":
        sleeves, found = _sleeves(brief, frame, workings)
        checks += found
        if stopped(checks):
            return Made((), (), {}, tuple(checks))
    return finish(brief, frame, sleeves, checks, workings)


def _armhole(brief: Brief, lower: Lower, rows: Levels, workings: Workings) -> tuple[Armhole | None, list[Check]]:
    cloth, want = brief.cloth, brief.wanted.finished
    narrowest = cloth.across_cm(lower.back) - 2 * MOST_OF_DEPTH * want["armhole_depth"]
    across = max(want["cross_back"], narrowest)
    taken = note_taken(brief, lower, across, "Stitches that the armhole takes from each side", workings)
    found: list[Check] = []
    if narrowest > want["cross_back"] + 0.5:
        text = (
            "To come down to a cross back of {want} the armhole would have to be shaped more than its depth allows; "
            "the back is {across} wide between the armholes, {more} wider. Less ease at the chest, a deeper armhole, "
            "or a size by the high bust with darts brings it closer."
        )
        figures = {"want": cm(want["cross_back"]), "across": cm(across), "more": cm(across - want["cross_back"])}
        key, about = "fit.chest_ease_cm", f"{across:.0f}"
        found.append(check("cross-back-wide", "look", "shape", key, text, about, **figures))
    armhole = set_in_armhole(taken, rows.armhole_rows, cloth)
    if armhole is None:
        return None, [no_room(brief, lower) if taken < 1 else _too_few_rows(brief, taken, rows.armhole_rows)]
    return armhole, found


def _too_few_rows(brief: Brief, taken: int, rows: int) -> Check:
    """The stop check for an armhole that has to take more than its rows can."""
    cloth = brief.cloth
    wanted = next(r for r in range(max(2, rows), 1000, 2) if set_in_armhole(taken, r, cloth) is not None)
    text = (
        "An armhole {depth} deep has too few rows to take {taken} from each side. Make it at least {more} deeper, or "
        "choose less ease at the chest."
    )
    figures = {
        "depth": cm(brief.wanted.finished["armhole_depth"]),
        "taken": cm(cloth.across_cm(taken)),
        "more": cm(cloth.along_cm(wanted - rows)),
    }
    return check("armhole-too-short", "stop", "shape", "body.armhole_depth_cm", text, "", **figures)


def _sleeves(brief: Brief, frame: Frame, workings: Workings) -> tuple[Sleeves | None, list[Check]]:
    want, own = brief.wanted.finished, brief.sleeve_cm
    arm = brief.wearer.cm("sleeve_underarm") or 0.6 * want.get("neck_to_cuff", 0.0)
    length = arm_length(brief.sleeve, arm, brief.cuff_cm, own, workings)
    short = too_short(length, brief.cuff_cm, None, 0.0, own is not None)
    if short:
        return None, [short]
    armhole_cm = frame.armhole.edge_cm(brief.cloth)
    for top_cm in _tries(want["upper_arm"]):
        wish = SleeveWish(
            edge_cm=edge_wanted_cm(brief.sleeve, want.get("wrist", top_cm), top_cm),
            top_cm=top_cm,
            length_cm=length,
            cuff_cm=brief.cuff_cm,
            edging=brief.hem,
            fabric=fabric_of(brief.hem),
            worked=brief.worked,
        )
        plan, found = plan_sleeve(wish, brief.cloth, Workings())
        cap = fitting_cap(plan.top - 2 * plan.edge, frame.armhole.bind_offs, armhole_cm, brief.cloth)
        if cap is not None:
            plan_sleeve(wish, brief.cloth, workings)
            _note_cap(brief, frame, cap, workings)
            reach = brief.cloth.across_cm(frame.across) / 2 + length + brief.cloth.along_cm(cap.rows)
            found += _cap_checks(brief, want["upper_arm"], top_cm) + _reach_check(brief, reach)
            return Sleeves(plan, wish, cap), found
    return None, [_no_cap(brief, frame, armhole_cm)]


REACH_OFF_CM = 6.0
"""Beyond this the two measures are asked about (common practice, no source): in the table of women the sleeve to the
underarm with its cap reaches up to 5 cm further than the reach from the neck."""


def _reach_check(brief: Brief, reach_cm: float) -> list[Check]:
    """Where two measures of the same arm lead to different cuffs: the sleeve goes by the one to the underarm."""
    to_cuff, under = (brief.wearer.measures.get(m) for m in ("neck_to_cuff", "sleeve_underarm"))
    if to_cuff is None or under is None or brief.sleeve != "long" or brief.sleeve_cm is not None:
        return []
    more = reach_cm - to_cuff.value_cm
    if "own" not in (to_cuff.origin, under.origin) or abs(more) <= REACH_OFF_CM:
        return []
    text = (
        "From the middle of the back to the cuff the jumper reaches {reach}, the wearer {body}: {more} "
        + ("more" if more > 0 else "less")
        + ". The sleeve is planned from the length to the underarm, {under}. Measure both once more, or give the "
        "length of the sleeve yourself."
    )
    figures = {"reach": cm(reach_cm), "body": cm(to_cuff.value_cm), "more": cm(abs(more)), "under": cm(under.value_cm)}
    return [check("sleeve-reach", "look", "shape", "garment.sleeve_cm", text, f"{reach_cm:.0f}", **figures)]


def _no_cap(brief: Brief, frame: Frame, armhole_cm: float) -> Check:
    """The stop check where no cap fits: by how much armhole or sleeve must change for one that does."""
    arm = brief.wanted.finished["upper_arm"]

    def armholes(sleeve_cm: float) -> tuple[float, float] | None:
        stitches = WHOLE(sleeve_cm * brief.cloth.stitches_per_10cm / 10)
        return armholes_that_fit(stitches, frame.armhole.bind_offs, brief.cloth) if stitches > 2 else None

    def fits(sleeve_cm: float) -> bool:
        edges = armholes(sleeve_cm)
        return edges is not None and edges[0] <= armhole_cm <= edges[1]

    steps, edges = range(1, MOST_CHANGED_CM + 1), armholes(arm)
    changes = {
        "an armhole {more} deeper": edges[0] - armhole_cm if edges and edges[0] > armhole_cm else None,
        "an armhole {more} less deep": armhole_cm - edges[1] if edges and edges[1] < armhole_cm else None,
        "a sleeve {more} narrower": next((s for s in steps if fits(arm - s)), None),
        "a sleeve {more} wider": next((s for s in steps if fits(arm + s)), None),
    }
    ways = {words: change for words, change in changes.items() if change is not None}
    figures = {"arm": cm(arm), "depth": cm(brief.wanted.finished["armhole_depth"])}
    text = "No cap for a sleeve {arm} round fits into an armhole {depth} deep. "
    if not ways:
        text += "They are too far apart for any cap: choose another ease for both, or a square armhole."
    else:
        told = []
        for i, (words, change) in enumerate(ways.items()):
            told.append(words.replace("{more}", f"{{more{i}}}"))
            figures[f"more{i}"] = cm(change)
        text += f"It takes {', or '.join(told)}."
    return check("cap-does-not-fit", "stop", "shape", "fit.upper_arm_ease_cm", text, "", **figures)


MOST_CHANGED_CM = 20
"""Largest change of a sleeve that is offered where no cap fits."""


def _tries(upper_arm_cm: float) -> list[float]:
    """Widths of the sleeve to try: as wished first, then narrower and wider by turns up to 6 cm."""
    return [upper_arm_cm + d for d in (0.0, -1.0, 1.0, -2.0, 2.0, -3.0, 3.0, -4.0, 4.0, 5.0, 6.0)]


def _cap_checks(brief: Brief, wanted_cm: float, taken_cm: float) -> list[Check]:
    if wanted_cm == taken_cm:
        return []
    text = (
        "With a sleeve of {want} round no cap fits the armhole; with {taken} one does, so the sleeve is that wide. "
        "A deeper armhole would keep your figure."
    )
    figures = {"want": cm(wanted_cm), "taken": cm(taken_cm)}
    about = f"{taken_cm:.1f}"
    return [check("sleeve-width-for-cap", "look", "shape", "fit.upper_arm_ease_cm", text, about, **figures)]


def _note_cap(brief: Brief, frame: Frame, cap: Cap, workings: Workings) -> None:
    """The cap's edge against the armhole's, and its height against the rules of thumb in print."""
    cloth, depth = brief.cloth, brief.cloth.along_cm(frame.rows.armhole_rows)
    armhole, edge = frame.armhole.edge_cm(cloth), cap.edge_cm(cloth)
    workings.note(
        worked(
            "cap.ease_percent",
            "Cap edge over armhole edge",
            "100 × (cap edge ÷ armhole edge − 1)",
            {"cap edge": (edge, "cm"), "armhole edge": (armhole, "cm")},
            100 * (edge / armhole - 1),
            "%",
            source="edges measured along every event of the row ledger; from 1 % less to 5 % more is usual",
        )
    )
    less = 5.0 if brief.wanted.finished["chest"] <= 76 else 7.5 if brief.wanted.finished["chest"] <= 122 else 10.0
    for key, label, formula, figures, value, source in (
        (
            "cap.height_rule_1",
            "Cap height by the rule of the armhole less a fixed length",
            "armhole depth − less",
            {"armhole depth": (depth, "cm"), "less": (less, "cm")},
            depth - less,
            "trade practice in print: 2 in less up to a chest of 30 in, 3 up to 48, 4 above",
        ),
        (
            "cap.height_rule_2",
            "Cap height by the rule of the armhole less half the top and a little",
            "armhole depth − a little − top ÷ 2",
            {"armhole depth": (depth, "cm"), "a little": (3.8, "cm"), "top": (cloth.across_cm(cap.top), "cm")},
            depth - 3.8 - cloth.across_cm(cap.top) / 2,
            "a rule in print: less 1 1/2 in and half the top",
        ),
        (
            "cap.height_rule_3",
            "Cap height by the rule of two thirds",
            "armhole depth × 2 ÷ 3",
            {"armhole depth": (depth, "cm")},
            depth * 2 / 3,
            "from memory: 60 to 75 % of the armhole depth",
        ),
    ):
        workings.note(worked(key, label, formula, figures, value, "cm", source=source))
