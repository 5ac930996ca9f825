"""What a schematic and the table of finished measurements measure differently, in words."""

from workshop.core.constructions import construction
from workshop.core.edgings import edging
from workshop.core.making.bands import stretched_cm
from workshop.core.making.roles import NECKBAND
from workshop.core.plan import Plan
from workshop.units import difference_shown, show_length
from workshop.words.phrase import counted
from workshop.words.texts import texts


def schematic_notes(plan: Plan) -> tuple[str, ...]:
    """Sentences to go with the schematic: where its measurements are not those of the table, and why."""
    if not plan.made.pieces:
        return ()
    notes = []
    if hem_is_above_edging(plan):
        draws_in = texts("hem")["draws_in"] if _ribbed(plan) else ""
        notes.append(texts("hem")["above_edging"] + draws_in + _over_the_hips(plan))
    for name, text in texts("drawn").items():
        more = _figure("finished.length", name, plan)
        if more is not None:
            figures = _above_the_neck(more, plan)
            notes.append(text.format(**{n: show_length(v, plan.project.units) for n, v in figures.items()}))
    if plan.made.first(NECKBAND) and "neck" in plan.finished_cm and _ribbed(plan):
        notes.append(texts("hem")["neckband"])  # it stands on the stitches of the yoke
    if any(p.stripes for p in plan.made.pieces):
        notes.append("In a drawing made of characters, each stripe is one line high, so it looks wider than it is.")
    band = _figure("finished.chest", "front band", plan)
    if band is not None:
        notes.append(_with_band(band, plan))
    return tuple(notes)


SNUG_CM = 4.0
"""A ribbed hem with less ease than this lies close to the hips (common practice, no source)."""


def _over_the_hips(plan: Plan) -> str:
    """That a hem which is hardly wider than the hips fits over them; empty where it is wider, or narrower."""
    hem, hips, units = plan.finished_cm.get("hip"), plan.wearer.cm("hip"), plan.project.units
    if hem is None or hips is None or not _ribbed(plan):
        return ""
    ease = difference_shown(hem, hips, units)
    said = texts("hem")["snug" if plan.project.garment.front == "open" else "snug_closed"]
    return said.format(ease=show_length(ease, units)) if 0 < ease < SNUG_CM else ""


def _ribbed(plan: Plan) -> bool:
    """Whether hem and bands are in rib."""
    return edging(plan.project.garment.hem).rib


def _above_the_neck(more_cm: float, plan: Plan) -> dict[str, float]:
    """What is above hem to neck in a finished length, in figures that add up to it as they are shown."""
    done, units = plan.finished_cm, plan.project.units
    raised = more_cm - plan.targets.finished.get("back_neck_drop", more_cm)
    more = difference_shown(done["length"], done["length"] - more_cm, units)
    return {
        "more": more,
        "raised": raised,
        "drop": difference_shown(more, raised, units),
        "length": done["length"],
        "depth": done.get("front_neck_depth", 0.0),
    }


def _with_band(band_cm: float, plan: Plan) -> str:
    """How back, fronts and one band come to the finished chest."""
    units, chest = plan.project.units, plan.finished_cm["chest"]
    stitches = _figure("finished.chest", "stitches", plan)  # none with a panel, which has another gauge
    around = f" ({counted(stitches, 'stitch', 'stitches')})" if stitches else ""
    fabric, band, whole = (show_length(cm, units) for cm in (difference_shown(chest, band_cm, units), band_cm, chest))
    return (
        "The fronts are drawn without their bands. The stitches for the band are picked up along the edge stitch of "
        "each front. Not counting the two edge stitches and the seams, the body is "
        f"{fabric} around{around}. With one band, which is {band} wide, the chest is {whole}."
    )


def neck_stretch(plan: Plan) -> str:
    """Why a neckband that is smaller than the head goes over it, and how far a yoke's is from a neck that was measured.

    Empty where nothing is to be said, or where the front opens.
    """
    band, head, units = plan.made.first(NECKBAND), plan.wearer.cm("head"), plan.project.units
    if band is None or plan.gauge is None or band.worked == "flat":
        return ""
    around, told = plan.gauge.cloth.across_cm(band.bound_off), []  # its tightest round
    stretched = stretched_cm(around, edging(plan.project.garment.hem).rib)
    if head is not None and around < head <= stretched:
        opening, most, over = (show_length(cm, units) for cm in (around, stretched, head))
        told.append(f"The neckband is {opening} around, and stretches to about {most}, enough for a head of {over}.")
    neck = plan.wearer.measures.get("neck")
    if neck is not None and neck.origin == "own" and construction(plan.project.garment.construction).yoke:
        larger, smaller = max(around, neck.value_cm), min(around, neck.value_cm)
        off, base = difference_shown(larger, smaller, units), show_length(neck.value_cm, units)
        by = f"{show_length(off, units)} {'more' if around > neck.value_cm else 'less'} than" if off else "as wide as"
        told.append(f"The neckband is {by} the base of the wearer's neck, which is {base} around.")
    return " ".join(told)


def _figure(working: str, name: str, plan: Plan) -> float | None:
    """A figure of a working, in cm, or None where it has none of that name."""
    found = plan.working(working)
    return next((f.value for f in found.figures if f.name == name), None) if found else None


def hem_is_above_edging(plan: Plan) -> bool:
    """Whether the body has an edging below the hem that is measured."""
    return plan.project.garment.hem not in (None, "none")
