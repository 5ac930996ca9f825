"""Square armhole (modified drop shoulder): a straight piece is bound off at each underarm, the sleeve set into it.

The sleeve is straight at the top; its last rows, as long as the bound-off stitches are wide, stay plain and are
sewn to them.
"""

from typing import NoReturn

from workshop.core.calculation import EVEN, Rounding, calculate
from workshop.core.garments import Garment, GarmentSpec
from workshop.core.garments.body_counts import GAUGE_SOURCE, Levels, back_rule
from workshop.core.garments.drop_shoulder import straight_sleeves
from workshop.core.garments.seamed import Armholes, Frame, Sleeves, build_seamed
from workshop.core.making.armholes import square_armhole
from workshop.core.making.below_underarm import BodyBelowUnderarm
from workshop.core.making.counts import in_stitches, rows_for, stitches_of
from workshop.core.remarks import Amount, cm
from workshop.core.sums import figure, larger_of, smaller_of
from workshop.core.wearer.fit import LEAST_STRAP_CM

MOST_CM = 8.0
"""More than three inches bound off at each side wants a shaped armhole (printed: 1 1/2 to 3 in)."""

MOST_TAKEN_CM = 12.0
"""What is bound off at each side at most; the back stays wider (a published ladder of nine sizes stops at 12 to 13)."""


def build(spec: GarmentSpec) -> Garment:
    """Knit it: all pieces, seams and finished measurements. Raises Stopped."""
    return build_seamed(spec, _armhole, _sleeves)


def _sleeves(spec: GarmentSpec, frame: Frame) -> Sleeves:
    cloth = spec.cloth
    across, taken_cm = cloth.across_cm(frame.across), cloth.across_cm(frame.armholes.back.taken)
    label, name = "Plain rows at the top of the sleeve", "width bound off at the underarm"
    working = rows_for("sleeve.plain_rows", label, taken_cm, cloth.rows_per_10cm, EVEN, length_name=name)
    plain = spec.notes.record(working).count
    sleeves = straight_sleeves(spec, frame, across, across / 2, plain)
    more = cloth.along_cm(plain - sleeves.plan.top_rows)
    if more > 0:
        spec.notes.stop("sleeve-too-short.plain", plain=Amount(plain, "rows"), more=cm(more))
    return sleeves


def _armhole(spec: GarmentSpec, lower: BodyBelowUnderarm, rows: Levels) -> Armholes:
    cloth = spec.cloth
    label = "Stitches bound off at each underarm"
    across = max(between_armholes_cm(spec), cloth.across_cm(lower.back) - 2 * MOST_TAKEN_CM)
    taken = note_taken(spec, lower, across, label)
    if taken < 1:
        stop_without_room(spec, lower)
    width = cloth.across_cm(taken)
    if width > MOST_CM:
        spec.notes.check("square-deep", width=cm(width))
    edge = square_armhole(taken, rows.armhole_rows)
    return Armholes(edge, edge)


def between_armholes_cm(spec: GarmentSpec) -> float:
    """Width wanted between the armholes: the cross back; without sleeves their bands are part of it.

    A shoulder is left whatever the bands take, where the cross back has room for one.
    """
    if spec.sleeve != "none":
        return spec.targets.finished["cross_back"]
    across = spec.targets.figure("cross_back")
    inside = across - 2 * figure("depth of the band", spec.band_cm, "cm")
    strap = spec.targets.figure("neck_width") + 2 * figure("least shoulder", LEAST_STRAP_CM, "cm")
    return spec.notes.record(
        calculate(
            "target.between_armholes",
            "Width you want between the armholes",
            larger_of(inside, smaller_of(across, strap)),
            "cm",
            source="the armhole bands sit on the shoulder, inside the cross back (common practice, no source)",
        )
    ).value


def note_taken(spec: GarmentSpec, lower: BodyBelowUnderarm, across_cm: float, label: str) -> int:
    """Stitches that an armhole takes from each side, down to a width between the armholes."""
    per_10cm = spec.cloth.stitches_per_10cm
    left = stitches_of(figure("width between the armholes", across_cm, "cm"), per_10cm)
    taken = (figure("stitches of the back", lower.back, "stitches") - left) / 2
    return spec.notes.record(in_stitches("armhole.taken", label, taken, per_10cm, source=GAUGE_SOURCE)).count


def stop_without_room(spec: GarmentSpec, lower: BodyBelowUnderarm) -> NoReturn:
    """Stop at a back that is not wider than the wearer's cross back. Raises Stopped."""
    cloth, want = spec.cloth, spec.targets.finished
    back, across = cloth.across_cm(lower.back), want["cross_back"]

    def taken(more: float) -> int:
        wide = back_rule(spec)((want["chest"] + more) / 2 * cloth.stitches_per_10cm / 10)
        return Rounding()((wide - across * cloth.stitches_per_10cm / 10) / 2)

    stitch = cloth.across_cm(1)
    more = next(n * stitch for n in range(1, 1000) if taken(n * stitch) >= 1)
    spec.notes.stop("no-armhole", back=cm(back), across=cm(across), more=cm(more))
