"""Whether the finished garment and the body agree: what is asked about before anything is knitted."""

from workshop.core.cloth.fibre import YarnView
from workshop.core.remarks import Check, check, cm, percent
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


def _length_check(project: Project, wearer: Wearer) -> list[Check]:
    """A length that would be a coat or a yoke on this body: often the other unit, or the measurement of another."""
    length, usual = project.garment.length_cm, hip_length_cm(wearer)
    if length is None or usual is None or SHORTEST <= length / usual <= LONGEST:
        return []
    reach = "below the knees" if length > usual else "well above the waist"
    text = "From shoulder to hem {length} reach " + reach + " of this wearer; to the hip it is about {usual}."
    slipped = length * INCH_CM if length < usual else length / INCH_CM
    if SHORTEST < slipped / usual < LONGEST:
        text += " Was it measured in the other unit, or on another body?"
    return [
        check(
            "length-odd",
            "look",
            "shape",
            "garment.length_cm",
            text + " If it is meant so, say so.",
            f"{length:.0f}/{usual:.0f}",
            length=cm(length),
            usual=cm(usual),
        )
    ]


LESS_AT_HIP_CM = 2.0
"""So much less round the hips than wished is told, and than they are is asked about (common practice, no source)."""

BELOW_WAIST_CM = 8.0
"""A hem so far below the waist lies on the hips (common practice, no source)."""


NECK_OF_BACK = 0.65
"""A neck wider than this part of the cross back leaves hardly a shoulder (common practice, no source)."""


def _neck_check(project: Project, wearer: Wearer) -> list[Check]:
    """A neck of one's own that would slip off the shoulders."""
    neck, across = project.garment.neck_width_cm, wearer.cm("cross_back")
    if neck is None or across is None or neck <= NECK_OF_BACK * across:
        return []
    text = (
        "A neck {neck} wide on a back of {across} leaves hardly a shoulder. The width is measured straight across, not "
        "round; was another measurement typed? If it is meant so, say so."
    )
    about = f"{neck:.0f}/{across:.0f}"
    return [check("neck-wide", "look", "shape", "garment.neck_width_cm", text, about, neck=cm(neck), across=cm(across))]


def fit_checks(project: Project, wearer: Wearer, wanted: Targets, yarns: tuple[YarnView, ...]) -> list[Check]:
    """Where the finished garment and the body do not agree."""
    found: list[Check] = [*_neck_check(project, wearer)]
    chest, hip = wanted.get("chest"), wearer.cm("hip")
    length, waist = wanted.get("length"), wearer.cm("back_waist")
    if chest is not None and hip is not None and length is not None and waist is not None:
        below_waist = length - waist
        straight = project.garment.waist != "shaped"  # shaped sides are looked at when they are counted
        if straight and below_waist > BELOW_WAIST_CM and chest < hip - LESS_AT_HIP_CM:
            found.append(
                check(
                    "hip-wider-than-garment",
                    "look",
                    "measure",
                    "fit.chest_ease_cm",
                    "The hem will lie {below} below the waist, where the hips are {hip} round; the garment "
                    "is {chest}, {less} less. It will ride up. More ease, shaped sides, a shorter body or vents help.",
                    f"{chest:.0f}/{hip:.0f}",
                    below=cm(below_waist),
                    hip=cm(hip),
                    chest=cm(chest),
                    less=cm(hip - chest),
                )
            )
    return [*found, *_length_check(project, wearer), *_stretch_check(project, wearer, wanted, yarns)]


def _stretch_check(project: Project, wearer: Wearer, wanted: Targets, yarns: tuple[YarnView, ...]) -> list[Check]:
    """A garment smaller than the body must stretch: how far depends on the fibre."""
    ease, body = wanted.ease.get("chest"), wearer.cm("chest")
    if ease is None or body is None or ease >= 0:
        return []
    view = next((v for v in yarns if v.yarn == project.design_yarn), None)
    limit = view.gives_percent if view is not None else USUAL_STRETCH_PERCENT
    if -ease <= body * limit / 100:
        return []
    return [
        check(
            "ease-very-negative",
            "look",
            "measure",
            "fit.chest_ease_cm",
            "The garment is {less} smaller than the chest: {share} of it. This cloth stretches by about {limit} and "
            "stays pretty; beyond that it strains.",
            f"{ease:.0f}",
            less=cm(-ease),
            share=percent(-100 * ease / body),
            limit=percent(limit),
        )
    ]


USUAL_STRETCH_PERCENT = 10.0
"""How far knitted wool may be stretched in wear (from memory)."""
