"""Counts of the body that every construction begins with: width, hem, waist, dart, and where the rows go."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from workshop.core.calculation import EVEN, Calculation, Rounding, calculate
from workshop.core.constructions import construction
from workshop.core.edgings import GARTER, edging
from workshop.core.garments import GarmentSpec, Seam, of_rows
from workshop.core.making import bands, counts
from workshop.core.making.below_underarm import BodyBelowUnderarm, How
from workshop.core.making.centre_panels import CentrePanel, Place
from workshop.core.making.darts import Dart, plan_dart, wanted_length_cm
from workshop.core.making.ledger import Schedules
from workshop.core.making.panels import alike
from workshop.core.making.roles import Edge
from workshop.core.making.sleeves import SleevePlan, SleeveWish, edge_wanted_cm
from workshop.core.making.spacing import DoesNotFit, Order, on_right_side
from workshop.core.notes import Notes
from workshop.core.remarks import Amount, cm
from workshop.core.sums import Sum, figure, larger_of, smaller_of
from workshop.core.wearer.agreement import BELOW_WAIST_CM, LESS_AT_HIP_CM
from workshop.core.wearer.body import FULL_OVER_HIGH_CM
from workshop.records import record

WAIST_PLAIN_CM = 2.5
"""Plain stretch at the waist itself, and below the underarm (printed: about 1 in)."""

DART_BELOW_UNDERARM_CM = 5.0
"""Where a bust dart lies, below the underarm (printed: 1-3 in)."""

APEX_OF_CHEST = 0.1
"""Half the distance between the points of the bust, as part of the chest (from memory)."""

WAIST_ABOVE_CM = 2.0
"""High shoulder point above the bone that the length to the waist is measured from (common practice, no source)."""


@record
class Levels:
    """Rows of the body from the hem: where it divides and ends. Even throughout."""

    hem_rows: int
    underarm: int
    shoulder: int
    """Row after which the shoulder slope begins."""
    top: int
    edge: int = 0
    """Rows of the garter edge along the top of a boat neck; they are the last of all."""
    instead: int = 0
    """Plain rows that are as high as that edge."""

    @property
    def armhole_rows(self) -> int:
        """From the underarm to the beginning of the shoulder, in plain rows."""
        return self.shoulder - self.underarm - self.edge + self.instead

    @property
    def plain_top(self) -> int:
        """Where the top would be, were all rows above the hem plain."""
        return self.top - self.edge + self.instead


def levels(spec: GarmentSpec, slope_cm: float) -> Levels:
    """Rows of the hem, to the underarm, of the armhole and of the shoulder slope."""
    cloth, want, fabric = spec.cloth, spec.targets.finished, counts.fabric_of(spec.hem)
    hem_rows = _hem_rows(spec)
    edge = 2 * round(spec.band_cm * cloth.rows_in(GARTER) / 20) if not spec.neckline.divides else 0
    edge_cm = cloth.along_cm(edge, GARTER)
    edging_cm = cloth.along_cm(hem_rows, fabric) + edge_cm
    label = f"{'Rows above the edging, up' if hem_rows else 'Rows from the cast-on'} to the top of the shoulder"
    plain = counts.rows_above_edging("body.rows", label, want["length"], edging_cm, cloth.rows_per_10cm)
    top = hem_rows + spec.notes.record(plain).count
    armhole = counts.rows_for(
        "body.armhole_rows",
        "Armhole rows",
        want["armhole_depth"] - edge_cm,
        cloth.rows_per_10cm,
        length_name="armhole depth without its garter edge" if edge else "armhole depth",
    )
    armhole_rows, slope = spec.notes.record(armhole).count, 0
    if slope_cm:
        label, name = "Shoulder slope rows", "shoulder drop"
        drop = counts.rows_for("body.shoulder_rows", label, slope_cm, cloth.rows_per_10cm, length_name=name)
        slope = spec.notes.record(drop).count
    instead = round(edge_cm * cloth.rows_per_10cm / 10)
    return Levels(hem_rows, top - slope - armhole_rows, top - slope + edge, top + edge, edge, instead)


def levels_below_yoke(spec: GarmentSpec, yoke_cm: float) -> Levels:
    """Rows of the hem and up to the underarm of a garment with a yoke that comes out so deep, rounded once.

    Shoulder and top stand where the wearer's are.
    """
    cloth, want, fabric = spec.cloth, spec.targets.finished, counts.fabric_of(spec.hem)
    hem_rows = _hem_rows(spec)
    hem, yoke = (
        figure("hem as knitted", cloth.along_cm(hem_rows, fabric), "cm"),
        figure("yoke as knitted", yoke_cm, "cm"),
    )
    above = counts.rows_of(figure("finished length", want["length"], "cm") - hem - yoke, cloth.rows_per_10cm)
    label = f"{'Rows above the edging, up' if hem_rows else 'Rows from the cast-on'} to the underarm"
    working = counts.in_rows("body.rows", label, above, cloth.rows_per_10cm, source=GAUGE_SOURCE)
    underarm = hem_rows + spec.notes.record(working).count
    depth = spec.targets.figure("armhole_depth") + spec.targets.figure("shoulder_drop")
    top = underarm + EVEN(counts.rows_of(depth, cloth.rows_per_10cm).value)
    return Levels(hem_rows, underarm, top, top)


def _hem_rows(spec: GarmentSpec) -> int:
    if spec.hem == "none":
        return 0
    per_10cm = spec.cloth.rows_in(counts.fabric_of(spec.hem))
    hem = counts.rows_for("body.hem_rows", "Hem rows", spec.hem_cm, per_10cm, length_name="depth of the hem")
    return max(2, spec.notes.record(hem).count)


def how_worked(spec: GarmentSpec) -> How:
    """In pieces, in one piece, or in the round: an open front cannot be knitted in rounds."""
    if spec.worked == "flat":
        return "flat"
    return "one" if spec.front == "open" else "round"


def stitches_at_underarm(spec: GarmentSpec) -> BodyBelowUnderarm:
    """Stitches of the body at the underarm; rows and shaping come with ``plan_lower``."""
    how = how_worked(spec)
    fuller = _fuller(spec, how)
    back = _back(spec, fuller)
    half = _half(spec, back + fuller) if spec.front == "open" else None
    edge = counts.SEAM_STITCHES if how == "flat" else 0
    return BodyBelowUnderarm(how, back, half, edge, spec.hem, counts.fabric_of(spec.hem), fuller=fuller)


def plan_lower(spec: GarmentSpec, rows: Levels, stitches: BodyBelowUnderarm | None = None) -> BodyBelowUnderarm:
    """Counts and shaping up to the underarm, from its stitches there where they are known."""
    lower = stitches or stitches_at_underarm(spec)
    dart = _dart(spec, rows, lower.how, lower.front)
    room = dart.after_row if dart else rows.underarm
    sides, front_sides = _waist(spec, lower.back, lower.fuller, rows, room)
    lower = replace(lower, hem_rows=rows.hem_rows, rows=rows.underarm, sides=sides, dart=dart, front_sides=front_sides)
    _check_hips(spec, lower)
    return lower


def back_rule(spec: GarmentSpec) -> Rounding:
    """What the stitches of the back are rounded to."""
    if spec.back_repeat is not None:
        return spec.back_repeat
    return Rounding(2) if spec.worked == "round" else counts.parity_rule(spec.hem, "flat")


def across_back_plain(spec: GarmentSpec) -> tuple[float, int]:
    """Stitches across the back as the finished chest asks for them, not rounded; and those the front has more."""
    fuller = _fuller(spec, how_worked(spec))
    return _across_back("finished chest", spec.targets.finished["chest"], fuller, spec).value, fuller


MOST_OF_FRONT = 3.0
"""What both armholes can take of a front, as twice its part of the armhole depth: three quarters of it at each side
(common practice, no source)."""


def _fuller(spec: GarmentSpec, how: How) -> int:
    """Stitches that the front of a set-in garment has more than its back, where a full bust is fitted by darts.

    The back then follows the frame that sizes go by (high bust and 5 cm); what the bust has more is all in front.
    """
    full, high = spec.wearer.cm("chest"), spec.wearer.cm("high_bust")
    fuller = spec.bust_darts == "yes" and construction(spec.construction).fuller_front and how != "one"
    if not fuller or full is None or high is None:
        return 0
    if not wanted_length_cm(full, high):
        return 0
    per_10cm, targets = spec.cloth.stitches_per_10cm, spec.targets
    usual = figure("usual difference", FULL_OVER_HIGH_CM, "cm")
    fullness = figure("full bust", full, "cm") - figure("high bust", high, "cm") - usual
    most = figure("most", MOST_OF_FRONT) * targets.figure("armhole_depth") + 2 * targets.figure("cross_back")
    room = most - figure("finished chest", targets.finished["chest"], "cm")
    more = counts.stitches_of(larger_of(0.0, smaller_of(fullness, room)), per_10cm)
    label = "Extra stitches across the front"
    source = "the back goes by the high bust, so that the shoulders and armholes fit (method: high bust)"
    return spec.notes.record(counts.in_stitches("front.fuller_stitches", label, more, per_10cm, EVEN, source)).count


def _across_back(finished: str, girth_cm: float, fuller: int, spec: GarmentSpec) -> Sum:
    """Stitches across the back for a finished girth: half of what is not the bust's."""
    half = counts.stitches_of(figure(finished, girth_cm, "cm") / 2, spec.cloth.stitches_per_10cm)
    more = sum(p.wider(spec.cloth) for p in spec.panels if p.on != "sleeve")
    half = half - figure("extra panel stitches", more, "stitches") / 2 if more else half
    return half - figure("extra front stitches", fuller, "stitches") / 2 if fuller else half


def _back(spec: GarmentSpec, fuller: int) -> int:
    stitches = _across_back("finished chest", spec.targets.finished["chest"], fuller, spec)
    label, per_10cm = "Stitches across the back, without edge stitches", spec.cloth.stitches_per_10cm
    return spec.notes.record(
        counts.in_stitches("body.stitches", label, stitches, per_10cm, back_rule(spec), GAUGE_SOURCE)
    ).count


GAUGE_SOURCE = "gauge arithmetic: width × gauge, rounded once"


def half_of_open(spec: GarmentSpec, front: int) -> int:
    """Stitches of each half of an open front, without edge stitches, where a closed one had so many."""
    return _half(replace(spec, notes=Notes()), front)


def around_open(spec: GarmentSpec, back: int, front: int) -> float:
    """Stitches round the chest with an open front, where a closed one had so many: its bands count as they lie."""
    band = spec.cloth.stitches_per_10cm * _band_width_cm(spec) / 10
    return back + 2 * half_of_open(spec, front) + band


def _half(spec: GarmentSpec, front: int) -> int:
    per_10cm = spec.cloth.stitches_per_10cm
    band = counts.stitches_of(figure("depth of the band", _band_width_cm(spec), "cm"), per_10cm)
    half = (figure("stitches of a closed front", front, "stitches") - band) / 2
    label = "Stitches across each front, without edge stitches"
    source = "the two bands overlap and fill the middle of the front"
    return spec.notes.record(counts.in_stitches("front.half_stitches", label, half, per_10cm, source=source)).count


def _dart(spec: GarmentSpec, rows: Levels, how: How, front: int) -> Dart | None:
    full, high = spec.wearer.cm("chest"), spec.wearer.cm("high_bust")
    if spec.bust_darts != "yes" or full is None or high is None:
        return None
    extra = wanted_length_cm(full, high)
    if how == "one":
        spec.notes.check("dart-left-out")
        return None
    cloth = spec.cloth
    below = 2 * round(cloth.rows_per_10cm * DART_BELOW_UNDERARM_CM / 20)
    after = rows.underarm - below
    apex = cloth.across_cm(front) / 2 - APEX_OF_CHEST * full
    dart = plan_dart(extra, apex, after, cloth.stitches_per_10cm, cloth.rows_per_10cm)
    if dart is None or after < rows.hem_rows + 2:
        return None
    spec.notes.check("bust-dart", more=cm(cloth.along_cm(dart.rows)), rows=Amount(dart.rows, "rows"))
    return dart


def _waist(spec: GarmentSpec, back: int, fuller: int, rows: Levels, room: int) -> tuple[Schedules, Schedules | None]:
    """Decreases from the hip to the waist and increases to the chest, at each side edge of the back and of the front.

    A front that is wider over the bust is as wide as the back at hem and waist, where its rows have room for that.
    """
    want = spec.targets.finished
    waist, back_waist = want.get("waist"), spec.wearer.cm("back_waist")
    if spec.waist != "shaped" or waist is None or back_waist is None:
        return (), None
    cloth = spec.cloth
    hem_cm = spec.notes.record(_hem_width(want, waist, back_waist)).value
    front, same = back + fuller, _alike_at_the_waist(spec, back, fuller, rows, room)
    fuller = 0 if same else fuller
    at_waist = spec.notes.record(_panel_stitches("waist", waist, fuller, Rounding(2, back % 2), spec))
    at_hem = spec.notes.record(_panel_stitches("hem", hem_cm, fuller, _hem_rule(spec, back), spec))
    narrow = min(back, at_waist.count)
    wide = max(narrow, at_hem.count)
    level, plain = _waist_level(spec, back_waist, rows, room)
    below, above = max(0, level - plain // 2 // 2 * 2 - rows.hem_rows), max(0, room - plain - level)
    fewer, more = (wide - narrow) // 2, (back - narrow) // 2
    fits_below, fits_above = min(fewer, max(0, below - 2) // 2), min(more, max(0, above - 2) // 2)
    if fits_below < fewer or fits_above < more:
        spec.notes.check("waist-steep", lost=cm(cloth.across_cm(4 * max(fewer - fits_below, more - fits_above))))
        given_up = max(fewer - fits_below, more - fits_above)
        fits_below, fits_above = max(0, fewer - given_up), max(0, more - given_up)
    above_hem = back - 2 * fits_above + 2 * fits_below
    if fits_below and _hem_rule(spec, back)(above_hem) != above_hem:
        fits_below -= 1
    _check_quick(spec, fits_below, below)
    first_below, first_above = (
        rows.hem_rows + first_shaping_row_offset(rows.hem_rows),
        level + first_shaping_row_offset(level),
    )
    room_below, room_above = (
        max(0, below - first_shaping_row_offset(rows.hem_rows) + 1),
        max(0, above - first_shaping_row_offset(level) + 1),
    )
    drawn_in = alike(_spread(first_below, room_below, fits_below, "long-first"))

    def let_out(stitches: int) -> Schedules:
        return alike(_spread(first_above, room_above, stitches, "long-first"), "increase")

    sides = drawn_in + let_out(fits_above)
    return sides, drawn_in + let_out(fits_above + (front - back) // 2) if same else None


def _waist_level(spec: GarmentSpec, back_waist: float, rows: Levels, room: int) -> tuple[int, int]:
    """Row of the waist, from the hem, and plain rows at it and below the underarm."""
    per_10cm = spec.cloth.rows_per_10cm
    level = rows.plain_top - 2 * round((back_waist + WAIST_ABOVE_CM) * per_10cm / 20)
    return max(rows.hem_rows, min(level, room)), 2 * round(WAIST_PLAIN_CM * per_10cm / 20)


def _alike_at_the_waist(spec: GarmentSpec, back: int, fuller: int, rows: Levels, room: int) -> bool:
    """Whether a wider front, in pieces, has the rows to be let out from the waist that the back has."""
    waist, back_waist = spec.targets.finished["waist"], spec.wearer.cm("back_waist")
    if not fuller or how_worked(spec) != "flat" or spec.front == "open" or back_waist is None:
        return False
    level, plain = _waist_level(spec, back_waist, rows, room)
    narrow = min(back, _panel_stitches("waist", waist, 0, Rounding(2, back % 2), spec).count)
    return (back + fuller - narrow) // 2 <= max(0, room - plain - level - 2) // 2


QUICK = 0.5
"""Inwards for upwards at a side edge from which a slope is told of (common practice, no source); at 1 cloth puckers."""


def _hem_rule(spec: GarmentSpec, back: int) -> Rounding:
    """What the back at a shaped hem is rounded to: in pieces the rib fits it, so that no row after the rib adds
    stitches which the sides take away at once.
    """
    if how_worked(spec) != "flat":
        return Rounding(2, back % 2)
    rib = counts.edging_rule(spec.hem, "flat")
    return Rounding(rib.multiple, (rib.remainder - 2 * counts.SEAM_STITCHES) % rib.multiple)


def _check_quick(spec: GarmentSpec, decreases: int, rows: int) -> None:
    """What a knitter will wonder about who meets a decrease on every right-side row just above the hem."""
    inwards, upwards = spec.cloth.across_cm(decreases), spec.cloth.along_cm(rows)
    if decreases and inwards > QUICK * upwards:
        spec.notes.check("waist-quick", upwards=cm(upwards), inwards=cm(inwards))


HIP_BELOW = 0.45
"""Level of the hip below the waist, as part of the length from nape to waist (from memory: 18-20 cm for adults)."""


def _hem_width(want: Mapping[str, float], waist: float, back_waist: float) -> Calculation:
    """Girth at the hem, in cm: of the hip, or between waist and hip where the garment ends above it."""
    narrow, wide = figure("waist", waist, "cm"), figure("hip", max(want.get("hip", want["chest"]), waist), "cm")
    below = figure("length", want["length"], "cm") - figure("waist level", back_waist + WAIST_ABOVE_CM, "cm")
    hip_below = figure("hip below waist", HIP_BELOW * back_waist, "cm")
    return calculate(
        "body.hem_width",
        "Around the hem",
        narrow + (wide - narrow) * smaller_of(1.0, larger_of(0.0, below) / hip_below),
        "cm",
        source="a straight line between waist and hip; the level of the hip from memory",
    )


def check_front(spec: GarmentSpec, missing: int) -> None:
    """Stop at bands so wide that each half of an open front lacks so many stitches for the neck."""
    a_row_cm = spec.cloth.along_cm(1, spec.bands.fabric)  # bands are of whole rows
    less = spec.cloth.across_cm(2 * missing) + a_row_cm
    band, neck = _band_width_cm(spec), spec.targets.finished["neck_width"]
    spec.notes.check("no-front", band=cm(band), neck=cm(neck), less=cm(less))


def check_front_edge(spec: GarmentSpec, rows: int, hem_rows: int) -> None:
    """Whether the edge of an open front, so many rows long, has room for a band with two buttons; a stop if not."""

    def edge(more: int) -> bands.EdgePart:
        return spec.bands.front_edge(rows + more, hem_rows)

    if spec.bands.fits(edge(0)):
        return
    more = next(n for n in range(2, 1000, 2) if spec.bands.fits(edge(n)))
    spec.notes.check("front-edge-short", edge=cm(edge(0).slope_cm), less=cm(spec.cloth.along_cm(more)))


def _check_hips(spec: GarmentSpec, lower: BodyBelowUnderarm) -> None:
    """Whether the hem has the room that was wished for where it lies: at the hips, or between waist and hips.

    A straight garment smaller than the hips themselves is asked about already (``check_fit``).
    """
    want, hip, back_waist = spec.targets.finished, spec.wearer.cm("hip"), spec.wearer.cm("back_waist")
    if hip is None or back_waist is None or "hip" not in want:
        return
    asked = want["chest"] < hip - LESS_AT_HIP_CM and want["length"] - back_waist > BELOW_WAIST_CM
    if spec.waist == "straight" and asked:
        return
    wished, hip_level = want["hip"], back_waist + WAIST_ABOVE_CM + HIP_BELOW * back_waist
    if want["length"] < hip_level:
        if "waist" not in want:
            return
        wished = _hem_width(want, want["waist"], back_waist).value
    finished = spec.cloth.across_cm(body_across(lower)["hip"]) + _band_width_cm(spec)
    if finished >= wished - LESS_AT_HIP_CM:
        _check_above_hips(spec, finished, hip, hip_level)
        return
    far = finished < min(hip, wished) - LESS_AT_HIP_CM
    sides = "the body shape 'shaped at the waist', " if spec.waist == "straight" and "waist" in want else ""
    spec.notes.check(
        "hip-less-ease.far" if far else "hip-less-ease",
        finished=cm(finished),
        hip=cm(hip),
        wished=cm(wished),
        less=cm(wished - finished),
        sides=sides,
    )


def _check_above_hips(spec: GarmentSpec, finished: float, hip: float, level: float) -> None:
    """A hem that follows the body where it ends, above the widest part of the hips, and is narrower than they are."""
    above = level - spec.targets.finished["length"]
    if finished < hip and above > 0:
        spec.notes.check("hem-above-hips", above=cm(max(1.0, round(above))), finished=cm(finished), hip=cm(hip))


def first_shaping_row_offset(row: int) -> int:
    """From an even row to the second right-side row after it: the first makes up what rib and cloth differ by."""
    return 3 if row % 2 == 0 else 2


def _spread(first: int, length: int, count: int, order: Order) -> list[int]:
    """Right-side rows for so many events, from right-side row ``first`` on; slow near the waist."""
    try:
        return [first - 1 + r for r in on_right_side(length - length % 2, count, order=order).event_rows]
    except DoesNotFit:
        return [first + 2 * i for i in range(min(count, length // 2))]


def _panel_stitches(part: str, size_cm: float, fuller: int, rule: Rounding, spec: GarmentSpec) -> Calculation:
    stitches = _across_back(f"finished {part}", size_cm, fuller, spec)
    label, per_10cm = f"Stitches across the back at the {part}, without edge stitches", spec.cloth.stitches_per_10cm
    return counts.in_stitches(f"body.{part}_stitches", label, stitches, per_10cm, rule, GAUGE_SOURCE)


def check_opening(spec: GarmentSpec, opening: int) -> None:
    """Whether a head passes the neck of a pullover, so many stitches round."""
    head = spec.wearer.cm("head")
    if head is not None and spec.front != "open":
        ribbed = spec.neckline.divides and edging(spec.hem).rib
        bands.check_head(spec.cloth.across_cm(opening), ribbed, head, spec.notes)


def arm_cm(spec: GarmentSpec) -> float:
    """Length of the arm from the armpit to the wrist, in cm."""
    return spec.wearer.cm("sleeve_underarm") or 0.6 * spec.targets.finished.get("neck_to_cuff", 0.0)


def half_of_front(lower: BodyBelowUnderarm, side: Edge) -> str:
    """What seams call the front at one side."""
    return f"{side} front" if lower.open else f"front, {side}"


def side_seam(lower: BodyBelowUnderarm, side: Edge) -> Seam:
    """Front and back sewn up to the underarm; a dart's rows do not reach there."""
    return of_rows(f"{half_of_front(lower, side)} side", f"back, {side} side", lower.rows, "side", side)


def sleeve_seam(side: Edge, sleeve: SleevePlan) -> Seam:
    """Both edges of a sleeve that is worked flat."""
    return of_rows(f"{side} sleeve, front edge", f"{side} sleeve, back edge", sleeve.rows, "sleeve", side)


def sleeve_wish(spec: GarmentSpec, top_cm: float, length_cm: float, plain_rows: int = 0) -> SleeveWish:
    """A sleeve so wide at its top and so long as it is wished for."""
    top_cm -= sum(spec.cloth.across_cm(p.wider(spec.cloth)) for p in spec.panels if p.on == "sleeve")
    edge_cm = edge_wanted_cm(spec.sleeve, spec.targets.finished.get("wrist", top_cm), top_cm)
    return SleeveWish(edge_cm, top_cm, length_cm, spec.cuff_cm, spec.hem, spec.worked, plain_rows)


Beyond = tuple[str, float]
"""What lies above the last row of the body, by name and in cm."""


def note_finished(
    spec: GarmentSpec,
    top: float,
    hem_rows: int,
    across: Mapping[str, float],
    along: Mapping[str, float],
    beyond: Beyond | None = None,
) -> dict[str, float]:
    """Measurements of the garment as its counts make it, each with its working, in their usual order."""
    cloth, fabric = spec.cloth, counts.fabric_of(spec.hem)
    band = _band_width_cm(spec)
    finished = {}
    for part, stitches in across.items():
        label, extra = f"Finished {part.replace('_', ' ')}", band if part in AROUND else 0.0
        over = crossed(spec.panels, part, spec.construction)
        working = counts.width_of(f"finished.{part}", label, stitches, cloth.stitches_per_10cm, extra, over)
        finished[part] = spec.notes.record(working).value
    label = "Finished length"
    working = counts.length_of_both("finished.length", label, hem_rows, top - hem_rows, cloth, fabric, beyond)
    finished["length"] = spec.notes.record(working).value
    for part, count in along.items():
        label, key = f"Finished {part.replace('_', ' ')}", f"finished.{part}"
        above = beyond if part in ("front_neck_depth", "armhole_depth") else None
        working = counts.length_of_both(key, label, 0, count, cloth, fabric, above)
        finished[part] = spec.notes.record(working).value
    return {part: finished[part] for part in ORDER if part in finished}


AROUND = ("chest", "waist", "hip")

CROSSED_BY: Mapping[str, tuple[Place, ...]] = {
    **dict.fromkeys(AROUND, ("front", "back")),
    "cross_back": ("back",),
    "upper_arm": ("sleeve",),
}
"""The panels that a measurement goes across."""


def crossed(panels: Sequence[CentrePanel], part: str, name: str) -> tuple[CentrePanel, ...]:
    """The panels that a measurement goes across in a construction: a straight sleeve has none any more at its top."""
    straight = part == "upper_arm" and construction(name).straight_sleeves
    return tuple(p for p in panels if p.on in CROSSED_BY.get(part, ()) and not straight)


def _band_width_cm(spec: GarmentSpec) -> float:
    return spec.bands.front_cm if spec.front == "open" else 0.0


def body_across(lower: BodyBelowUnderarm) -> dict[str, float]:
    """Stitches around the body at chest, waist and hip."""
    around = lower.around
    if lower.front_sides is not None:  # let out from the back's own hem and waist
        around = 2 * lower.back
    lowest = lower.at_hip + min([0, *(s.change // 2 for s in lower.sides)])
    found = {"chest": float(lower.around), "hip": float(around + 4 * lower.at_hip)}
    if lower.sides:
        found["waist"] = float(around + 4 * lowest)
    return found


ORDER = (
    "chest", "waist", "hip", "length", "cross_back", "armhole_depth", "upper_arm", "sleeve", "wrist", "sleeve_edge",
    "cap_height", "yoke_depth", "neck_width", "front_neck_depth", "back_neck_drop", "neck", "shoulder",
)  # fmt: skip
"""Finished measurements in the order in which they are shown."""
