"""Whether the finished garment and the body agree: what is asked about before anything is knitted."""

from workshop.core.cloth.fibre import YarnView
from workshop.core.notes import Notes
from workshop.core.remarks import cm, percent
from workshop.core.wearer.body import Wearer
from workshop.core.wearer.fit import Targets
from workshop.project import Project
from workshop.tables.yarn_weights import INCH_CM

HIP_BELOW_WAIST_CM = {"women": 15.0, "men": 20.0, "youth": 8.0, "children": 5.0, "babies": 5.0}
"""Hem of a hip-length garment below the waist (women and children: tables; the others common practice)."""

SHOULDER_ABOVE_NECK_CM = 2.0
"""High shoulder point above the bone at the back of the neck (common practice, no source)."""


def hip_length_cm(wearer: Wearer) -> float | None:
    """From the high shoulder to the hip, in whole cm; None while the back waist is not known."""
    waist = wearer.cm("back_waist")
    if waist is None:
        return None
    below = HIP_BELOW_WAIST_CM.get(wearer.table or ("children" if wearer.child else "women"), 15.0)
    return float(round(waist + SHOULDER_ABOVE_NECK_CM + below))


LONGEST, SHORTEST = 1.7, 0.5
"""Lengths, in lengths to the hip, beyond which one is asked about: to the knees, above the waist (no source)."""


def _check_length(project: Project, wearer: Wearer, notes: Notes) -> None:
    """A length that would be a coat or a yoke on this body: often the other unit, or the measurement of another."""
    length, usual = project.garment.length_cm, hip_length_cm(wearer)
    if length is None or usual is None or SHORTEST <= length / usual <= LONGEST:
        return
    reach = "below the knees" if length > usual else "well above the waist"
    slipped = length * INCH_CM if length < usual else length / INCH_CM
    notes.check(
        "length-odd.slip" if SHORTEST < slipped / usual < LONGEST else "length-odd",
        length=cm(length),
        usual=cm(usual),
        reach=reach,
    )


LESS_AT_HIP_CM = 2.0
"""So much less around the hips than wished is told, and than they are is asked about (common practice, no source)."""

BELOW_WAIST_CM = 8.0
"""A hem so far below the waist lies on the hips (common practice, no source)."""


NECK_OF_BACK = 0.65
"""A neck wider than this part of the cross back leaves hardly a shoulder (common practice, no source)."""


def check_fit(project: Project, wearer: Wearer, targets: Targets, yarns: tuple[YarnView, ...], notes: Notes) -> None:
    """Where the finished garment and the body do not agree."""
    neck, across = project.garment.neck_width_cm, wearer.cm("cross_back")
    if neck is not None and across is not None and neck > NECK_OF_BACK * across:
        notes.check("neck-wide", neck=cm(neck), across=cm(across))
    chest, hip = targets.get("chest"), wearer.cm("hip")
    length, waist = targets.get("length"), wearer.cm("back_waist")
    if chest is not None and hip is not None and length is not None and waist is not None:
        below = length - waist
        straight = project.garment.waist != "shaped"  # shaped sides are looked at when they are counted
        if straight and below > BELOW_WAIST_CM and chest < hip - LESS_AT_HIP_CM:
            notes.check("hip-wider-than-garment", below=cm(below), hip=cm(hip), chest=cm(chest))
    _check_length(project, wearer, notes)
    _check_stretch(project, wearer, targets, yarns, notes)


def _check_stretch(
    project: Project, wearer: Wearer, targets: Targets, yarns: tuple[YarnView, ...], notes: Notes
) -> None:
    """A garment smaller than the body must stretch: how far depends on the fibre."""
    ease, body = targets.ease.get("chest"), wearer.cm("chest")
    if ease is None or body is None or ease >= 0:
        return
    view = next((v for v in yarns if v.yarn == project.design_yarn), None)
    limit = view.gives_percent if view is not None else USUAL_STRETCH_PERCENT
    if -ease > body * limit / 100:
        share = percent(-100 * ease / body)
        notes.check("ease-very-negative", ease=cm(ease), less=cm(-ease), share=share, limit=percent(limit))


USUAL_STRETCH_PERCENT = 10.0
"""How far knitted wool may be stretched in wear (from memory)."""
