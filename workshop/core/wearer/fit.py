"""From the body and the fit wanted to finished measurements, part by part.

A garment that fits wins over body and ease: its flat widths are doubled. Ease by fit from the table
"proportions" (inside the published bands, table "ease"); own figures win.
"""

from collections.abc import Mapping

from workshop.core.calculation import Calculation, calculate
from workshop.core.constructions import construction
from workshop.core.edgings import edging
from workshop.core.necklines import Neckline, neckline
from workshop.core.notes import Notes
from workshop.core.sums import Sum, figure, larger_of, smaller_of
from workshop.core.wearer.body import Wearer, curve_working
from workshop.project import GarmentChoices, Project, Shoulder
from workshop.records import record
from workshop.tables.trade_rules import ease_by_fit, fabric_thickness_cm, rule

EASED = ("chest", "upper_arm", "wrist", "armhole_depth", "waist", "hip")
"""Parts that are finished as body plus ease."""


@record
class Targets:
    """Finished measurements wanted, in cm, before any rounding to stitches."""

    finished: Mapping[str, float]
    ease: Mapping[str, float]

    def get(self, part: str) -> float | None:
        """One finished measurement, or None."""
        return self.finished.get(part)

    def figure(self, part: str) -> Sum:
        """One finished measurement as a figure of a sum, under the name of its part."""
        return figure(part.replace("_", " "), self.finished[part], "cm")


def target_measurements(project: Project, wearer: Wearer, notes: Notes) -> Targets:
    """All finished measurements that can be said from what is known."""
    finished: dict[str, float] = {}
    ease: dict[str, float] = {}
    for part in EASED:
        figure = _from_garment(project, part) or _eased(project, wearer, part)
        if figure is None:
            continue
        finished[part] = notes.record(figure).value
        body = wearer.cm(part)
        if body is not None:
            ease[part] = finished[part] - body
    chest = wearer.cm("chest") or finished.get("chest")
    if chest is not None:
        across = _eased(project, wearer, "cross_back") or curve_working("cross_back", "target.cross_back", chest)
        finished["cross_back"] = notes.record(across).value
        finished["shoulder_drop"] = notes.record(_proportioned("shoulder_drop", chest)).value
        finished["neck_width"] = notes.record(_neck_width(project, wearer, chest)).value
    if chest is not None and neckline(project.garment.neckline).divides:
        finished["back_neck_drop"] = notes.record(_proportioned("back_neck_drop", chest)).value
        depth = _neck_depth(project, chest, finished.get("armhole_depth"), finished["shoulder_drop"])
        finished["front_neck_depth"] = notes.record(depth).value
    _lengths(project, wearer, finished)
    return Targets(finished, ease)


def _from_garment(project: Project, part: str) -> Calculation | None:
    garment = project.reference_garment
    flat = {
        "chest": garment.chest_width_cm,
        "upper_arm": garment.upper_arm_width_cm,
        "wrist": garment.cuff_width_cm,
    }.get(part)
    if flat is not None:
        return calculate(
            f"target.{part}",
            f"{_name(part)} you want",
            figure("flat width", flat, "cm") * 2,
            "cm",
            source="a garment laid flat: twice its width",
        )
    if part == "armhole_depth" and garment.armhole_depth_cm is not None:
        depth = figure("armhole depth of the garment that fits", garment.armhole_depth_cm, "cm")
        return calculate("target.armhole_depth", "Armhole depth you want", depth, "cm")
    return None


def _eased(project: Project, wearer: Wearer, part: str) -> Calculation | None:
    body = wearer.cm(part)
    own = getattr(project.fit, f"{part}_ease_cm", None)
    if body is None or (own is None and project.fit.ease is None):
        return None
    key, label, of_body = f"target.{part}", f"{_name(part)} you want", figure("body", body, "cm")
    if own is not None:
        return calculate(key, label, of_body + figure("ease", own, "cm"), "cm", source="ease as you gave it")
    assert project.fit.ease is not None
    ease = ease_by_fit(
        f"{part}_ease", project.fit.ease, wearer.child, construction(project.garment.construction).ease, body
    )
    finished = of_body + figure("ease", ease, "cm")
    source = f"ease for a {project.fit.ease} fit, from memory (workshop tables proportions)"
    thick = _thickness_cm(project) if part in AROUND else 0.0
    if thick:
        finished += 6.2832 * figure("thickness of the fabric", thick, "cm")
        source += "; thick fabric takes room on its inside, 2π × its thickness (derived)"
    return calculate(key, label, finished, "cm", source=source)


def roomier_cm(part: str, project: Project, wearer: Wearer) -> float:
    """Ease in cm by which the fit gives a construction more at a part than it gives others.

    0 where the knitter said how much she wants there, or has a garment that fits.
    """
    fit, body = project.fit, wearer.cm(part)
    own = getattr(fit, f"{part}_ease_cm", None) is not None or _from_garment(project, part) is not None
    if own or fit.ease is None or body is None:
        return 0.0
    kind = construction(project.garment.construction).ease
    given, usual = (ease_by_fit(f"{part}_ease", fit.ease, wearer.child, of, body) for of in (kind, ""))
    return given - usual


AROUND = ("chest", "waist", "hip", "upper_arm", "wrist")
"""Parts that go around the body, and lose room to thick cloth."""


def _thickness_cm(project: Project) -> float:
    """Thickness of the cloth where the yarn is thicker than medium; else none is added."""
    yarn = project.design_yarn
    return fabric_thickness_cm(yarn.weight) if yarn is not None and yarn.weight is not None else 0.0


def _proportioned(part: str, chest_cm: float) -> Calculation:
    return curve_working(part, f"target.{part}", chest_cm)


HEAD_SPARE_CM = 2.0
"""What a stretched neck goes around a head by, before it is rounded to stitches (common practice, no source)."""

OPEN_FOR_BABY, BABY_CHEST_CM = 0.85, 55.0
"""Neck of a baby's open front against that of a pullover, which is wide for the head (published cardigans for babies:
two fifths of the back; tests/published/garments.toml), and the chest up to which one is a baby."""

WIDEST_FOR_HEAD = 1.2
"""So much wider than usual a crew neck is made for a head; one that wants more is buttoned (common practice)."""


def head_opening_cm(garment: GarmentChoices, wearer: Wearer) -> float:
    """Round of a relaxed neck that a head passes, in cm: of a pullover whose wearer's head is known, else 0."""
    head = wearer.cm("head")
    if head is None or garment.front == "open":
        return 0.0
    return head / rule("rib_stretch", "rib" if edging(garment.hem).rib else "plain") + HEAD_SPARE_CM


def _neck_width(project: Project, wearer: Wearer, chest_cm: float) -> Calculation:
    """Width of the neck: as given; else from the chest, a crew neck so wide that the head passes."""
    garment, key, label = project.garment, "target.neck_width", "Neck width you want"
    wanted = neckline(garment.neckline)
    if garment.neck_width_cm is not None:
        return _as_given(key, label, garment.neck_width_cm)
    if wanted.of_cross_back:
        return _straight_width(wanted, wearer, chest_cm)
    crew = curve_working("neck_width", key, chest_cm)
    if wanted.wider != 1:
        return _times(key, label, crew.value, wanted.wider, wanted.source)
    if garment.front == "open" and chest_cm < BABY_CHEST_CM:
        return _times(key, label, crew.value, OPEN_FOR_BABY, "common practice, no source")
    usual = curve_working("front_neck_depth", key, chest_cm).value
    deeper = 0.0 if garment.neck_depth_cm is None else garment.neck_depth_cm - usual
    around = construction(garment.construction).crew_round * crew.value + 2 * deeper
    opening = head_opening_cm(garment, wearer)
    if wanted.deep or opening <= around:
        return crew
    usual_width = figure("crew neck", crew.value, "cm")
    short = figure("opening for the head", opening, "cm") - figure("distance around the crew neck", around, "cm")
    width = smaller_of(usual_width + short / 2, usual_width * figure("most", WIDEST_FOR_HEAD))
    source = "the neck has to go over the head: the stretched opening is compared with it (common practice, no source)"
    return calculate(key, label, width, "cm", source=source)


def _neck_depth(project: Project, chest_cm: float, armhole_cm: float | None, drop_cm: float) -> Calculation:
    """Depth of the front neck: as given; else by the neckline, a V down to just above the underarm.

    It is measured from beside the neck, so that a V on sloped shoulders is as much deeper as they slope.
    """
    key, label, own = "target.front_neck_depth", "Front neck depth you want", project.garment.neck_depth_cm
    if own is not None:
        return _as_given(key, label, own)
    crew = curve_working("front_neck_depth", key, chest_cm)
    wanted = neckline(project.garment.neckline)
    if wanted.deeper != 1:
        return _times(key, label, crew.value, wanted.deeper, wanted.source)
    if wanted.above_underarm_cm is None:
        return crew
    armhole = figure("armhole depth", armhole_cm or 2.4 * crew.value, "cm")
    drop = figure("shoulder drop", drop_cm if shoulder_of(project.garment) != "straight" else 0.0, "cm")
    depth = armhole + drop - figure("height above the underarm", wanted.above_underarm_cm, "cm")
    return calculate(key, label, depth, "cm", source=wanted.source)


def shoulder_of(garment: GarmentChoices) -> Shoulder:
    """How the shoulder is shaped: as answered; else in steps, and straight where it is dropped."""
    return garment.shoulder or ("straight" if construction(garment.construction).straight_shoulders else "steps")


def _times(key: str, label: str, crew_cm: float, factor: float, source: str) -> Calculation:
    more = figure("crew neck", crew_cm, "cm") * figure("times", factor)
    return calculate(key, label, more, "cm", source=source)


def _as_given(key: str, label: str, value: float) -> Calculation:
    return calculate(key, label, figure("as you gave it", value, "cm"), "cm")


LEAST_STRAP_CM = 2.5
"""Least shoulder that a boat neck leaves; where a head then does not pass, a shoulder is buttoned."""

BOAT_STRETCH = 1.2
"""How far a plain edge stretches over the head (table "trade", from memory)."""


BOAT_SPARE_CM = 1.0
"""What the stretched edge goes around the head by, more than the head (common practice, no source)."""


def _straight_width(wanted: Neckline, wearer: Wearer, chest_cm: float) -> Calculation:
    """Width of a neck that lies across the shoulders: by the cross back, and so that its plain edge passes the head."""
    across = figure("cross back", wearer.cm("cross_back") or 0.44 * chest_cm, "cm")
    head = figure("head", wearer.cm("head") or 0.0, "cm") / figure("stretch", BOAT_STRETCH)
    passes = (head + figure("to spare", BOAT_SPARE_CM, "cm")) / 2
    most = across - 2 * figure("least shoulder", LEAST_STRAP_CM, "cm")
    width = smaller_of(larger_of(across * figure("part of it", wanted.of_cross_back), passes), most)
    return calculate("target.neck_width", "Neck width you want", width, "cm", source=wanted.source)


def _lengths(project: Project, wearer: Wearer, finished: dict[str, float]) -> None:
    garment, pattern = project.garment, project.reference_garment
    length = garment.length_cm if garment.length_cm is not None else pattern.length_cm
    if length is not None:
        finished["length"] = length
    reach = pattern.centre_to_cuff_cm if pattern.centre_to_cuff_cm is not None else wearer.cm("neck_to_cuff")
    if reach is not None:
        finished["neck_to_cuff"] = reach


def _name(part: str) -> str:
    return part.replace("_", " ").capitalize()
