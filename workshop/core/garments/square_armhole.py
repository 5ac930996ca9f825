"""Square armhole (modified drop shoulder): a straight piece is bound off at each underarm, the sleeve set into it.

The sleeve is straight at the top; its last rows, as long as the bound-off stitches are wide, stay plain and are
sewn to them.
"""

from workshop.core.garments import Brief, Made
from workshop.core.garments.body import GAUGE_SOURCE, Levels, back_rule
from workshop.core.garments.drop_shoulder import straight_sleeves
from workshop.core.garments.seamed import Armholes, Frame, Sleeves, build_seamed
from workshop.core.making.armholes import square_armhole
from workshop.core.making.counts import in_stitches, rows_for, stitches_of
from workshop.core.making.lower import Lower
from workshop.core.remarks import Amount, Check, check, cm
from workshop.core.sums import figure, larger_of, smaller_of
from workshop.core.wearer.fit import LEAST_STRAP_CM
from workshop.core.working import EVEN, Rounding, Workings, worked

MOST_CM = 8.0
"""More than three inches bound off at each side wants a shaped armhole (printed: 1 1/2 to 3 in)."""

MOST_TAKEN_CM = 12.0
"""What is bound off at each side at most; the back stays wider (a published ladder of nine sizes stops at 12 to 13)."""


def build(brief: Brief, workings: Workings) -> Made:
    """Knit it: all pieces, seams and finished measurements, or checks that say what stops it."""
    return build_seamed(brief, workings, _armhole, _sleeves)


def _sleeves(brief: Brief, frame: Frame, workings: Workings) -> tuple[Sleeves | None, list[Check]]:
    cloth = brief.cloth
    across, taken_cm = cloth.across_cm(frame.across), cloth.across_cm(frame.armholes.back.taken)
    label, name = "Plain rows at the top of the sleeve", "width bound off at the underarm"
    working = rows_for("sleeve.plain_rows", label, taken_cm, cloth.rows_per_10cm, EVEN, length_name=name)
    plain = workings.note(working).count
    sleeves, found = straight_sleeves(brief, across, across / 2, plain, workings)
    if sleeves is not None and sleeves.plan.top_rows < plain:
        text = (
            "The sleeve is too short for the {plain} at its top that are sewn to the stitches bound off at the "
            "underarm. Make it at least {more} longer, or choose a dropped shoulder."
        )
        figures = {"plain": Amount(plain, "rows"), "more": cm(cloth.along_cm(plain - sleeves.plan.top_rows))}
        found.append(check("sleeve-too-short", "stop", "shape", "garment.sleeve_cm", text, "", **figures))
    return sleeves, found


def _armhole(brief: Brief, lower: Lower, rows: Levels, workings: Workings) -> tuple[Armholes | None, list[Check]]:
    cloth = brief.cloth
    label = "Stitches bound off at each underarm"
    across = max(between_armholes_cm(brief, workings), cloth.across_cm(lower.back) - 2 * MOST_TAKEN_CM)
    taken = note_taken(brief, lower, across, label, workings)
    if taken < 1:
        return None, [no_room(brief, lower)]
    found = []
    width = cloth.across_cm(taken)
    if width > MOST_CM:
        text = (
            "{width} are bound off at each underarm: more than a square armhole wears well ({8 cm}). Less ease, or a "
            "set-in sleeve, fits better."
        )
        found.append(
            check("square-deep", "look", "shape", "garment.construction", text, f"{width:.1f}", width=cm(width))
        )
    edge = square_armhole(taken, rows.armhole_rows)
    return Armholes(edge, edge), found


def between_armholes_cm(brief: Brief, workings: Workings) -> float:
    """Width wanted between the armholes: the cross back; without sleeves their bands are part of it.

    A shoulder is left whatever the bands take, where the cross back has room for one.
    """
    if brief.sleeve != "none":
        return brief.wanted.finished["cross_back"]
    across = brief.wanted.figure("cross_back")
    inside = across - 2 * figure("depth of the band", brief.band_cm, "cm")
    strap = brief.wanted.figure("neck_width") + 2 * figure("least shoulder", LEAST_STRAP_CM, "cm")
    return workings.note(
        worked(
            "target.between_armholes",
            "Width between the armholes wanted",
            larger_of(inside, smaller_of(across, strap)),
            "cm",
            source="the armhole bands lie on the shoulder, inside the cross back (common practice, no source)",
        )
    ).value


def note_taken(brief: Brief, lower: Lower, across_cm: float, label: str, workings: Workings) -> int:
    """Stitches that an armhole takes from each side, down to a width between the armholes."""
    per_10cm = brief.cloth.stitches_per_10cm
    left = stitches_of(figure("width between the armholes", across_cm, "cm"), per_10cm)
    taken = (figure("stitches of the back", lower.back, "stitches") - left) / 2
    return workings.note(in_stitches("armhole.taken", label, taken, per_10cm, source=GAUGE_SOURCE)).count


def no_room(brief: Brief, lower: Lower) -> Check:
    """The stop check for a back that is not wider than the wearer's cross back."""
    text = (
        "An armhole is shaped from the width of the back, {back}, to the cross back, {across}: there is nothing to "
        "shape. At least {more} more ease at the chest, or a dropped shoulder, or a narrower cross back."
    )
    cloth, want = brief.cloth, brief.wanted.finished
    back, across = cloth.across_cm(lower.back), want["cross_back"]

    def taken(more: float) -> int:
        wide = back_rule(brief)((want["chest"] + more) / 2 * cloth.stitches_per_10cm / 10)
        return Rounding()((wide - across * cloth.stitches_per_10cm / 10) / 2)

    stitch = cloth.across_cm(1)
    more = cm(next(n * stitch for n in range(1, 1000) if taken(n * stitch) >= 1))
    return check(
        "no-armhole", "stop", "shape", "garment.construction", text, back=cm(back), across=cm(across), more=more
    )
