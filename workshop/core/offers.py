"""What open questions go by: first answers that may be offered, never taken silently, and figures in use meanwhile."""

from dataclasses import replace

from workshop.core.cloth.fibre import YarnView
from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.constructions import CONSTRUCTIONS, construction
from workshop.core.edgings import asked_edgings, of_pattern
from workshop.core.fabric.patterns import PLAIN, UNTOLD
from workshop.core.garments import Garment
from workshop.core.necklines import asked_necklines
from workshop.core.wearer.agreement import hip_length_cm
from workshop.core.wearer.body import Wearer
from workshop.core.wearer.fit import Targets, shoulder_of
from workshop.project import Construction, Project
from workshop.tables.trade_rules import rounded_cm


def offers(
    project: Project, yarns: tuple[YarnView, ...], swatches: tuple[MeasuredSwatch, ...], wearer: Wearer
) -> dict[str, object]:
    """Offers by question key."""
    found: dict[str, object] = {"tension": "average", "fit.ease": "standard"}
    for view in yarns:
        found[f"yarn.{view.yarn.id}.care"] = _care(view)
    found |= _needles_to_try(project, yarns)
    for known in swatches:
        if known.plan.cast_on is not None and known.plan.rows is not None:
            found[f"swatch.{known.swatch.id}.cast_on"] = known.plan.cast_on.count
            found[f"swatch.{known.swatch.id}.rows"] = known.plan.total_rows
    if project.body.source is None and (project.body.table or project.body.chest_cm):
        found["body.source"] = "table" if project.body.table else "own"
    return {**found, **usual_shape(project, wearer), **_cloth(project, yarns)}


def usual_shape(project: Project, wearer: Wearer) -> dict[str, object]:
    """The plainest jumper, its lengths round in the units of the knitter."""
    garment, units = project.garment, project.units
    lengths = {
        "length_cm": hip_length_cm(wearer),
        "hem_cm": 3.0 if wearer.child else 6.0,
        "cuff_cm": _cuff_cm(project, child=wearer.child),
        "band_cm": usual_band_cm(child=wearer.child),
    }
    easiest = next(iter(CONSTRUCTIONS))
    taken = garment if garment.construction else replace(garment, construction=Construction(easiest))
    found = {
        "construction": easiest,
        "worked": "round" if construction(garment.construction).in_one_piece else "flat",
        "front": "closed",
        "neckline": asked_necklines()[0].name,
        "sleeve": "long",
        "waist": "straight",
        "shoulder": shoulder_of(replace(taken, shoulder=None)),
        "bust_darts": "yes",
        "hem": asked_edgings()[0].name,
        **{key: rounded_cm(length, units) for key, length in lengths.items() if length is not None},
    }
    return {f"garment.{key}": value for key, value in found.items()}


def _cloth(project: Project, yarns: tuple[YarnView, ...]) -> dict[str, object]:
    """The swatch to plan from, the state to plan from, and the garment worked as its swatch was."""
    liked = _liked_best(project)
    found: dict[str, object] = {} if liked is None else {"design.swatch": liked}
    chosen = next((s for s in project.swatch if s.id == (project.design.swatch or liked)), None)
    if chosen is None:
        return found
    if chosen.stitch not in (PLAIN, UNTOLD):
        found["garment.fabric"] = chosen.stitch
    knitted = next((v for v in yarns if v.yarn.id == chosen.yarn), None)
    if chosen.reading and not construction(project.garment.construction).in_one_piece:
        found["garment.worked"] = chosen.worked
    if knitted is not None:
        found["design.state"] = "hung" if knitted.hang_test else "washed"
    return found


def _liked_best(project: Project) -> str | None:
    """The only swatch; else the washed one that could be planned from, of several the one whose cloth is liked best."""
    if len(project.swatch) == 1:
        return project.swatch[0].id
    plain = [s for s in project.swatch if of_pattern(s.stitch) is None]
    washed = [s for s in plain if s.readings("washed", "stitches") and s.readings("washed", "rows")]
    liking = [(s.fabric_rating or 0, s.knitting_rating or 0) for s in washed]
    if not washed or liking.count(max(liking)) > 1:
        return None
    return washed[liking.index(max(liking))].id


def _needles_to_try(project: Project, yarns: tuple[YarnView, ...]) -> dict[str, object]:
    """For a swatch without a needle the size to start from, or the next that its yarn was not swatched on yet."""
    found: dict[str, object] = {}
    taken = {(s.yarn, s.needle_mm) for s in project.swatch}
    for swatch in project.swatch:
        view = next((v for v in yarns if v.yarn.id == swatch.yarn), None)
        if swatch.needle_mm is None and view is not None and view.start_mm is not None:
            sizes = (view.start_mm, *view.swatch_mm)
            found[f"swatch.{swatch.id}.needle_mm"] = next((m for m in sizes if (swatch.yarn, m) not in taken), sizes[0])
    return found


def usual_band_cm(*, child: bool) -> float:
    """Usual depth of a neckband in cm (common practice, no source)."""
    return 2.0 if child else 2.5


def _cuff_cm(project: Project, *, child: bool) -> float:
    """Usual depth of a cuff (common practice, no source): of a short sleeve no more than an edge."""
    if project.garment.sleeve in ("short", "elbow"):
        return 2.0 if child else 2.5
    return 3.0 if child else 6.0


def _care(view: YarnView) -> str:
    return "machine wash cool, dry flat" if view.has("machine_washable", 70) else "hand wash cool, dry flat"


def left_open(
    project: Project,
    swatches: tuple[MeasuredSwatch, ...],
    wearer: Wearer,
    targets: Targets,
    made: Garment,
) -> dict[str, float]:
    """The lengths that the plan goes by while their questions stay open, in cm, by question key.

    These are no offers: nothing is taken from them, and they follow what other answers say.
    """
    found: dict[str, float] = {}
    for known in swatches:
        if known.swatch.width_cm is None:
            found[f"swatch.{known.swatch.id}.width_cm"] = known.plan.width_cm
    for measure in wearer.measures.values():
        if measure.origin != "own":
            found[f"body.{measure.id}_cm"] = measure.value_cm
    for part, ease in targets.ease.items():
        if getattr(project.fit, f"{part}_ease_cm", ease) is None:
            found[f"fit.{part}_ease_cm"] = ease
    garment = project.garment
    for part, key in (("neck_width", "neck_width_cm"), ("front_neck_depth", "neck_depth_cm")):
        if getattr(garment, key) is None and part in targets.finished:
            found[f"garment.{key}"] = targets.finished[part]
    if garment.sleeve_cm is None and "sleeve" in made.finished_cm:
        found["garment.sleeve_cm"] = made.finished_cm["sleeve"]
    return found
