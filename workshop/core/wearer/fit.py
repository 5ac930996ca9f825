"""From the body and the fit wanted to finished measurements, part by part.

A garment that fits wins over body and ease: its flat widths are doubled. Ease by fit from the table
"proportions" (inside the published bands, table "ease"); own figures win.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from workshop.core.wearer.body import Wearer, curve_working
from workshop.core.working import Working, Workings, worked
from workshop.project import Garment, Project, Shoulder
from workshop.tables.practice import ease_by_fit, fabric_thickness_cm, rule

EASED = ("chest", "upper_arm", "wrist", "armhole_depth", "waist", "hip")
"""Parts that are finished as body plus ease."""

SCOOP_WIDER, SCOOP_DEEPER = 1.15, 1.8
"""A scoop neck against a crew neck (printed: 8-10 in wide, 4-7 in deep; common practice)."""

V_ABOVE_UNDERARM_CM = 2.0
"""Where a V begins by default, above the underarm (printed: 6-9 in deep for adults)."""


@dataclass(frozen=True, slots=True)
class Targets:
    """Finished measurements wanted, in cm, before any rounding to stitches."""

    finished: Mapping[str, float]
    ease: Mapping[str, float]

    def get(self, part: str) -> float | None:
        """One finished measurement, or None."""
        return self.finished.get(part)


def targets(project: Project, wearer: Wearer, workings: Workings) -> Targets:
    """All finished measurements that can be said from what is known."""
    finished: dict[str, float] = {}
    ease: dict[str, float] = {}
    for part in EASED:
        figure = _from_garment(project, part) or _eased(project, wearer, part)
        if figure is None:
            continue
        finished[part] = workings.note(figure).value
        body = wearer.cm(part)
        if body is not None:
            ease[part] = finished[part] - body
    chest = wearer.cm("chest") or finished.get("chest")
    boat = project.garment.neckline == "boat"
    if chest is not None:
        across = _eased(project, wearer, "cross_back") or curve_working("cross_back", "target.cross_back", chest)
        finished["cross_back"] = workings.note(across).value
        finished["shoulder_drop"] = workings.note(_proportioned(project, "shoulder_drop", chest)).value
    if boat and chest is not None:
        finished["neck_width"] = workings.note(_boat_width(project, wearer, chest)).value
    elif chest is not None:
        finished["neck_width"] = workings.note(_neck_width(project, wearer, chest)).value
        finished["back_neck_drop"] = workings.note(_proportioned(project, "back_neck_drop", chest)).value
        depth = _neck_depth(project, chest, finished.get("armhole_depth"), finished["shoulder_drop"])
        finished["front_neck_depth"] = workings.note(depth).value
    _lengths(project, wearer, finished, workings)
    return Targets(finished, ease)


def _from_garment(project: Project, part: str) -> Working | None:
    garment = project.fitting_garment
    flat = {
        "chest": garment.chest_width_cm,
        "upper_arm": garment.upper_arm_width_cm,
        "wrist": garment.cuff_width_cm,
    }.get(part)
    if flat is not None:
        return worked(
            f"target.{part}",
            f"{_name(part)} wanted",
            "flat width × 2",
            {"flat width": (flat, "cm")},
            2 * flat,
            "cm",
            source="a garment laid flat: twice its width",
        )
    if part == "armhole_depth" and garment.armhole_depth_cm is not None:
        depth = garment.armhole_depth_cm
        return worked(
            "target.armhole_depth",
            "Armhole depth wanted",
            "armhole depth of the garment that fits",
            {"armhole depth of the garment that fits": (depth, "cm")},
            depth,
            "cm",
        )
    return None


def _eased(project: Project, wearer: Wearer, part: str) -> Working | None:
    body = wearer.cm(part)
    own = getattr(project.fit, f"{part}_ease_cm", None)
    if body is None or (own is None and project.fit.ease is None):
        return None
    key, label = f"target.{part}", f"{_name(part)} wanted"
    if own is not None:
        figures = {"body": (body, "cm"), "ease": (own, "cm")}
        return worked(key, label, "body + ease", figures, body + own, "cm", source="ease as you gave it")
    assert project.fit.ease is not None
    ease = ease_by_fit(f"{part}_ease", project.fit.ease, wearer.child, project.garment.construction, body)
    source = f"ease for a {project.fit.ease} fit, from memory (workshop tables proportions)"
    thick = _thickness_cm(project) if part in AROUND else 0.0
    if not thick:
        figures = {"body": (body, "cm"), "ease": (ease, "cm")}
        return worked(key, label, "body + ease", figures, body + ease, "cm", source=source)
    return worked(
        key,
        label,
        "body + ease + 6.2832 × thickness of the cloth",
        {"body": (body, "cm"), "ease": (ease, "cm"), "thickness of the cloth": (thick, "cm")},
        body + ease + 6.2832 * thick,
        "cm",
        source=source + "; thick cloth takes room on its inside, 2π × its thickness (derived)",
    )


AROUND = ("chest", "waist", "hip", "upper_arm", "wrist")
"""Parts that go round the body, and lose room to thick cloth."""


def _thickness_cm(project: Project) -> float:
    """Thickness of the cloth where the yarn is thicker than medium; else none is added."""
    yarn = project.design_yarn
    return fabric_thickness_cm(yarn.weight) if yarn is not None and yarn.weight is not None else 0.0


def _proportioned(project: Project, part: str, chest_cm: float) -> Working:
    return curve_working(part, f"target.{part}", chest_cm)


CREW_ROUND: Mapping[str, float] = {"raglan-from-hem": 2.9, "raglan-from-neck": 2.7, "round-yoke": 2.7}
CREW_ROUND_SEAMED = 2.5
"""Round of a crew neck as a multiple of its width (worked out from the shapes of crew necks here)."""

HEAD_SPARE_CM = 2.0
"""What a stretched neck goes round a head by, before it is rounded to stitches (common practice, no source)."""

OPEN_FOR_BABY, BABY_CHEST_CM = 0.85, 55.0
"""Neck of a baby's open front against that of a pullover, which is wide for the head (published cardigans for babies:
two fifths of the back; tests/published/garments.toml), and the chest up to which one is a baby."""

WIDEST_FOR_HEAD = 1.2
"""So much wider than usual a crew neck is made for a head; one that wants more is buttoned (common practice)."""


def head_opening_cm(garment: Garment, wearer: Wearer) -> float:
    """Round of a relaxed neck that a head passes, in cm: of a pullover whose wearer's head is known, else 0."""
    head = wearer.cm("head")
    if head is None or garment.front == "open":
        return 0.0
    ribbed = garment.hem in (None, "rib-1x1", "rib-2x2")
    return head / float(rule("rib_stretch")["rib" if ribbed else "plain"]) + HEAD_SPARE_CM


def _neck_width(project: Project, wearer: Wearer, chest_cm: float) -> Working:
    """Width of the neck: as given; else from the chest, a crew neck so wide that the head passes."""
    garment, key, label = project.garment, "target.neck_width", "Neck width wanted"
    if garment.neck_width_cm is not None:
        return _as_given(key, label, garment.neck_width_cm)
    crew = curve_working("neck_width", key, chest_cm)
    if garment.neckline == "scoop":
        return _times(key, label, "crew neck", crew.value, SCOOP_WIDER)
    if garment.front == "open" and chest_cm < BABY_CHEST_CM:
        return _times(key, label, "crew neck", crew.value, OPEN_FOR_BABY)
    usual = curve_working("front_neck_depth", key, chest_cm).value
    deeper = 0.0 if garment.neck_depth_cm is None else garment.neck_depth_cm - usual
    around = CREW_ROUND.get(garment.construction or "", CREW_ROUND_SEAMED) * crew.value + 2 * deeper
    wanted = head_opening_cm(garment, wearer)
    if garment.neckline == "v" or wanted <= around:
        return crew
    return worked(
        key,
        label,
        "smaller of (crew neck + (opening for the head − round of the crew neck) ÷ 2, crew neck × most)",
        {
            "crew neck": (crew.value, "cm"),
            "opening for the head": (wanted, "cm"),
            "round of the crew neck": (around, "cm"),
            "most": (WIDEST_FOR_HEAD, ""),
        },
        min(crew.value + (wanted - around) / 2, crew.value * WIDEST_FOR_HEAD),
        "cm",
        source="it must pass the head: its round, stretched, against the head (common practice, no source)",
    )


def _neck_depth(project: Project, chest_cm: float, armhole_cm: float | None, drop_cm: float) -> Working:
    """Depth of the front neck: as given; else by the neckline, a V down to just above the underarm.

    It is measured from beside the neck, so that a V on sloped shoulders is as much deeper as they slope.
    """
    key, label, own = "target.front_neck_depth", "Front neck depth wanted", project.garment.neck_depth_cm
    if own is not None:
        return _as_given(key, label, own)
    crew = curve_working("front_neck_depth", key, chest_cm)
    if project.garment.neckline == "scoop":
        return _times(key, label, "crew neck", crew.value, SCOOP_DEEPER)
    if project.garment.neckline != "v":
        return crew
    depth, drop = armhole_cm or 2.4 * crew.value, drop_cm if shoulder_of(project.garment) != "straight" else 0.0
    figures = {
        "armhole depth": (depth, "cm"),
        "shoulder drop": (drop, "cm"),
        "above the underarm": (V_ABOVE_UNDERARM_CM, "cm"),
    }
    formula, value = "armhole depth + shoulder drop − above the underarm", depth + drop - V_ABOVE_UNDERARM_CM
    source = "printed: a V of 6-9 in for adults; it begins just above the underarm"
    return worked(key, label, formula, figures, value, "cm", source=source)


def shoulder_of(garment: Garment) -> Shoulder:
    """How the shoulder is shaped: as answered; else in steps, and straight where it is dropped."""
    return garment.shoulder or ("straight" if garment.construction == "drop-shoulder" else "steps")


def _times(key: str, label: str, name: str, value: float, factor: float) -> Working:
    figures = {name: (value, "cm"), "times": (factor, "")}
    return worked(key, label, f"{name} × times", figures, value * factor, "cm", source="common practice, no source")


def _as_given(key: str, label: str, value: float) -> Working:
    return worked(key, label, "as you gave it", {"as you gave it": (value, "cm")}, value, "cm")


BOAT_OF_CROSS_BACK = 0.6
"""Width of a boat neck as part of the cross back (printed: 9-11 in for adults; common practice)."""

LEAST_STRAP_CM = 2.5
"""Least shoulder that a boat neck leaves; where a head then does not pass, a shoulder is buttoned."""

BOAT_STRETCH = 1.2
"""How far a plain edge stretches over the head (table "trade", from memory)."""


BOAT_SPARE_CM = 1.0
"""What the stretched edge goes round the head by, more than the head (common practice, no source)."""


def _boat_width(project: Project, wearer: Wearer, chest_cm: float) -> Working:
    label, key = "Neck width wanted", "target.neck_width"
    own = project.garment.neck_width_cm
    if own is not None:
        return _as_given(key, label, own)
    across = wearer.cm("cross_back") or 0.44 * chest_cm
    head = wearer.cm("head") or 0.0
    width = min(
        max(BOAT_OF_CROSS_BACK * across, (head / BOAT_STRETCH + BOAT_SPARE_CM) / 2), across - 2 * LEAST_STRAP_CM
    )
    return worked(
        key,
        label,
        "smaller of (larger of (cross back × part of it, (head ÷ stretch + to spare) ÷ 2), "
        "cross back − 2 × least shoulder)",
        {
            "cross back": (across, "cm"),
            "part of it": (BOAT_OF_CROSS_BACK, ""),
            "head": (head, "cm"),
            "stretch": (BOAT_STRETCH, ""),
            "to spare": (BOAT_SPARE_CM, "cm"),
            "least shoulder": (LEAST_STRAP_CM, "cm"),
        },
        width,
        "cm",
        source="printed range 9-11 in for adults; must pass the head (common practice)",
    )


def _lengths(project: Project, wearer: Wearer, finished: dict[str, float], workings: Workings) -> None:
    garment, pattern = project.garment, project.fitting_garment
    length = garment.length_cm if garment.length_cm is not None else pattern.length_cm
    if length is not None:
        finished["length"] = length
    reach = pattern.centre_to_cuff_cm if pattern.centre_to_cuff_cm is not None else wearer.cm("neck_to_cuff")
    if reach is not None:
        finished["neck_to_cuff"] = reach


def _name(part: str) -> str:
    return part.replace("_", " ").capitalize()
