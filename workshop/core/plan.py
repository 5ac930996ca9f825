"""The one door into the core: ``plan(project)`` gives everything that can be said from what is known.

It never raises for what a knitter can enter: what is missing is None, what does not agree is a check.
"""

from collections.abc import Mapping, Sequence
from dataclasses import fields, replace
from functools import partial

from workshop.core.bounds import beyond_knitting, within
from workshop.core.calculation import Calculation
from workshop.core.cloth.fibre import YarnView, check_needle, check_yarn, view_yarn
from workshop.core.cloth.known import MeasuredSwatch, check_balls_for_swatches, check_mass, check_weight, evaluate
from workshop.core.cloth.readings import SLIPS, check_against_needles, check_readings
from workshop.core.cloth.swatch_plan import check_swatch, check_ways, marks, plan_swatch
from workshop.core.cloth.wash import (
    DesignGauge,
    EdgingGauge,
    check_wash,
    design_gauge,
    edging_gauge,
    note_changes,
    note_workings,
)
from workshop.core.cloth.yarn import YarnNeed, check_balls, yarn_need
from workshop.core.constructions import construction
from workshop.core.edgings import of_pattern
from workshop.core.fabric.bands import band_wishes, gauges_of_bands
from workshop.core.fabric.colours import stranded_patterns, yarn_of_colours
from workshop.core.fabric.of_garment import in_fabric
from workshop.core.fabric.own_gauge import gauge_in, gauge_of_fabric, stockinette_per_10cm
from workshop.core.fabric.panels import built, with_panels
from workshop.core.fabric.patterns import pattern_of
from workshop.core.fabric.sound import check_patterns
from workshop.core.fabric.widths import fitted
from workshop.core.finished import Range, finished_ease, finished_ranges
from workshop.core.garments import Garment, GarmentSpec, build
from workshop.core.garments.bands_along import bands_along
from workshop.core.garments.body_counts import back_rule
from workshop.core.garments.wishes import check_wishes
from workshop.core.knitting.measures import as_it_comes_out
from workshop.core.knitting.needle_changes import older_rows, with_older_gauges
from workshop.core.knitting.still_helps import still_helps
from workshop.core.knitting.straight_across import straight_across
from workshop.core.knitting.taken import as_taken
from workshop.core.making.edges import check_garter
from workshop.core.making.ledger import CannotBeKnitted, Piece
from workshop.core.necklines import neckline, straight_neckline
from workshop.core.notes import Notes, Stopped
from workshop.core.offers import left_open, offers, usual_band_cm
from workshop.core.remarks import Amount, Check, cm
from workshop.core.wearer.agreement import check_fit
from workshop.core.wearer.body import Wearer, check_body, resolve
from workshop.core.wearer.cautions import cautions_for
from workshop.core.wearer.fit import Targets, shoulder_of, target_measurements
from workshop.project import GarmentChoices, Neckline, Project, Worked
from workshop.records import record
from workshop.tables import Entry
from workshop.tables.trade_rules import CautionText

NO_GARMENT = Garment((), (), {})

WORKED_WORDS = {"flat": "flat", "round": "in the round"}


@record
class Plan:
    """Everything that the project says, worked out. Lengths cm, masses g, counts whole."""

    project: Project
    yarns: tuple[YarnView, ...]
    swatches: tuple[MeasuredSwatch, ...]
    gauge: DesignGauge | None
    wearer: Wearer
    targets: Targets
    made: Garment
    """The garment; without pieces while something for it is missing or stops it."""
    finished_cm: Mapping[str, float]
    """Finished measurements: those of the plan, or as they will come out of what is being knitted."""
    counts: Mapping[str, float]
    """Stitches or rows that each of them is."""
    ranges: Mapping[str, Range]
    ease: Mapping[str, Range]
    """Ease of the finished garment over the body, with its range."""
    yarn: YarnNeed | None
    checks: tuple[Check, ...]
    cautions: tuple[CautionText, ...]
    workings: tuple[Calculation, ...]
    offers: Mapping[str, object]
    """First answers that may be offered for unanswered questions, by question key; never taken silently."""
    left_open: Mapping[str, float]
    """Lengths in cm that stand in for questions left open, by question key."""

    def working(self, key: str) -> Calculation | None:
        """The working of a number by its address, or None."""
        return next((w for w in self.workings if w.key == key), None)

    @property
    def liked_best(self) -> MeasuredSwatch | None:
        """The knitted swatch whose cloth is liked best, the first of them where several are; None if none is."""
        counted = [s for s in self.swatches if ("off needles", "stitches") in s.gauges or s.swatch.washed_first]
        return max(counted, key=lambda s: s.swatch.fabric_rating or 0, default=None)

    @property
    def spare_swatches(self) -> tuple[MeasuredSwatch, ...]:
        """Knitted swatches that nothing is planned from: their counts after the wash may stay blank."""
        planned = self.gauge or self.liked_best
        if planned is None:
            return ()
        return tuple(s for s in self.swatches if s.swatch.knitted and s.swatch.id != planned.swatch.id)

    def swatch(self, name: str | None) -> MeasuredSwatch | None:
        """A swatch by its id, or None."""
        return next((s for s in self.swatches if s.plan.swatch.id == name), None)


def plan(project: Project) -> Plan:
    """Work out a project.

    A panel that is finished straight across stays so: then the neck is planned as that one's, and a check says so.
    """
    found = _planned(project)
    across = straight_across(found.project, found.made) if project.knitting else None
    if across is None:
        return found
    straight, begun = straight_neckline(), tuple(k for k in project.knitting if k.piece != across.name)
    anew = next(p for p in _planned(replace(project, knitting=begun)).made.pieces if p.name == across.name)
    row = Amount(anew.last_row - 1, "")  # the last one before it divides
    notes = Notes()
    notes.check("neck-is-knitted", piece=across.name, row=row, neck=straight.called)
    now = _planned(replace(project, garment=replace(project.garment, neckline=Neckline(straight.name))))
    return replace(now, checks=(*now.checks, *(_with_agreement(c, project) for c in notes.checks)))


def _planned(project: Project) -> Plan:
    notes = Notes()
    project = within(project, notes)
    yarns = tuple(view_yarn(y, project.tension) for y in project.yarn)
    for view in yarns:
        for working in view.workings:
            notes.record(working)
        check_yarn(view, notes)
    wearer = resolve(project.body, notes)
    check_body(project.body, wearer, project.units, notes)
    targets = target_measurements(project, wearer, notes)
    check_fit(project, wearer, targets, yarns, notes)
    swatches = _swatches(project, yarns, targets, notes)
    check_patterns(project, notes)
    gauge = as_taken(project, _design(project, swatches, yarns, notes))
    planned, spec = _make(project, gauge, wearer, targets, swatches, notes)
    kept = _made_before(project, swatches, yarns, wearer, targets)
    made, older = planned, older_rows(project, gauge, swatches, planned.pieces)
    if spec is not None and any(known.rows for known in project.knitting):
        from workshop.core.knitting.seams import check_armholes
        from workshop.core.knitting.standing import as_knitted  # who has knitted nothing yet need not read it
        from workshop.core.knitting.worked import as_worked

        project = as_worked(project, planned, notes)
        bands = partial(_bands_along, spec, planned)
        made = as_knitted(project, planned, spec.cloth, notes, kept, bands, older)
        check_armholes(made, planned, wearer.cm("upper_arm"), notes)
    made = in_fabric(project, made, gauge.cloth, notes) if gauge else made
    made = with_older_gauges(made, older)
    of_panels = _panel_gauges(project, gauge, made, swatches)
    ranges = finished_ranges(made, gauge, notes, of_panels, project.garment.construction or "")
    comes_out = as_it_comes_out(project, gauge, swatches, planned, made, ranges, notes)
    ranges = comes_out.ranges
    need = _yarn(project, gauge, made, swatches, of_panels, notes)
    ease = finished_ease(ranges, wearer, notes)
    check_balls(project.design_yarn, need, notes)
    return Plan(
        project=project,
        yarns=yarns,
        swatches=swatches,
        gauge=gauge,
        wearer=wearer,
        targets=targets,
        made=made,
        finished_cm=comes_out.finished_cm,
        counts=comes_out.counts,
        ranges=ranges,
        ease=ease,
        yarn=need,
        checks=tuple(_with_agreement(c, project) for c in notes.checks if still_helps(c, project, made)),
        cautions=cautions_for(wearer, yarns, bool(project.swatch), stranded=bool(stranded_patterns(made))),
        workings=tuple(notes.workings),
        offers=offers(project, yarns, swatches, wearer),
        left_open=left_open(project, swatches, wearer, targets, made),
    )


def _with_agreement(found: Check, project: Project) -> Check:
    """A question that the knitter has answered with "it is right" is a note from then on."""
    if found.level == "look" and found.name in project.agreed:
        return replace(found, level="note", agreed=True)
    return found


def _swatches(
    project: Project, yarns: tuple[YarnView, ...], targets: Targets, notes: Notes
) -> tuple[MeasuredSwatch, ...]:
    by_id = {v.yarn.id: v for v in yarns}
    found, sound = [], []
    bumps = marks(project.swatch)
    for swatch in project.swatch:
        view = by_id.get(swatch.yarn or "")
        pattern = pattern_of(project, swatch.stitch)
        planned = plan_swatch(swatch, project.yarn_of(swatch), bumps[swatch.id], project.units, pattern)
        known = evaluate(planned, view, targets.get("chest"), targets.get("length"), notes, project.units)
        before = len(notes.checks)
        check_readings(swatch, view.weight if view else None, known.gauges, notes)
        slipped = any(c.code in SLIPS and c.name not in project.agreed for c in notes.checks[before:])
        check_swatch(planned, None if slipped else known.gauges.get(("off needles", "stitches")), notes)
        if not slipped:
            check_weight(known, view, notes)
            check_mass(known, notes)
            sound.append((swatch, known.gauges))
        check_needle(swatch, view, notes)
        found.append(known)
    check_against_needles(sound, notes)
    check_ways(project.swatch, notes)
    for yarn in project.yarn:
        check_balls_for_swatches(yarn, [k for k in found if k.swatch.yarn == yarn.id], notes)
    return tuple(found)


def _design(
    project: Project, swatches: tuple[MeasuredSwatch, ...], yarns: tuple[YarnView, ...], notes: Notes
) -> DesignGauge | None:
    hang = {v.yarn.id: v.hang_test for v in yarns}
    name, chosen = project.design.swatch, None
    for known in swatches:
        swatch, found = known.swatch, None
        if swatch.id == name:
            found = chosen = _chosen(project, known, swatches, notes)
        if found is None:
            note_changes(swatch, known.gauges, notes)
        if name in (None, swatch.id):  # once a cloth is chosen, the others need no wash
            hung = hang.get(swatch.yarn or "", False)
            check_wash(found, swatch, known.gauges, hung, notes, chosen=name == swatch.id)
    if name and all(k.swatch.id != name for k in swatches):
        notes.check("design-swatch-missing", name=name)
    if chosen is not None:
        note_workings(chosen, notes)
    return chosen


def _chosen(
    project: Project, known: MeasuredSwatch, swatches: tuple[MeasuredSwatch, ...], notes: Notes
) -> DesignGauge | None:
    """The gauge that the garment's fabric has, by the chosen swatch or one in that fabric; with that of the edging."""
    chosen = design_gauge(project.design, known.swatch, known.gauges)
    if chosen is None:
        return None
    bands = gauges_of_bands(project, chosen, swatches, notes)
    found = gauge_of_fabric(project, chosen, swatches, notes)
    return replace(found, edging=_edging(project, swatches), bands=bands)


def _edging(project: Project, swatches: tuple[MeasuredSwatch, ...]) -> EdgingGauge | None:
    """The rows of the edging wanted, from a swatch of it in the yarn of the garment."""
    yarn, state = project.design_yarn, project.design.state or "washed"
    for known in swatches:
        same_yarn = yarn is not None and known.swatch.yarn == yarn.id
        edging = of_pattern(known.swatch.stitch)
        if same_yarn and edging is not None and edging.name == project.garment.hem:
            found = edging_gauge(known.swatch, edging.fabric, known.gauges, state)
            if found is not None:
                return found
    return None


def _panel_gauges(
    project: Project, gauge: DesignGauge | None, made: Garment, swatches: Sequence[MeasuredSwatch]
) -> Mapping[str, DesignGauge | None]:
    """The gauges of the panels, by their patterns; None for those that were not swatched."""
    if gauge is None:
        return {}
    return {p.pattern.id: gauge_in(project, p.pattern.id, gauge, swatches) for p in made.panels}


def _yarn(
    project: Project,
    gauge: DesignGauge | None,
    made: Garment,
    swatches: tuple[MeasuredSwatch, ...],
    of_panels: Mapping[str, DesignGauge | None],
    notes: Notes,
) -> YarnNeed | None:
    """Yarn to buy for the garment and for the swatches knitted in its yarn; None until there is a garment.

    Once a cloth is chosen, a swatch that was only planned takes none.
    """
    if not made.pieces or gauge is None:
        return None
    yarn = project.design_yarn
    knitted = [k for k in swatches if yarn is not None and k.swatch.yarn == yarn.id and k.swatch.knitted]
    metres = sum(k.metres or 0.0 for k in knitted)
    own = next((t.yarn_factor for t in reversed(project.taken) if t.yarn_factor), 1.0)
    panels = {name: found.swatch for name, found in of_panels.items() if found is not None}
    colours = yarn_of_colours(project, made, gauge)
    return yarn_need(made.pieces, gauge.swatch, yarn, gauge.stitches.per_10cm, metres, notes, own, panels, colours)


def _make(
    project: Project,
    gauge: DesignGauge | None,
    wearer: Wearer,
    targets: Targets,
    swatches: Sequence[MeasuredSwatch],
    notes: Notes,
) -> tuple[Garment, GarmentSpec | None]:
    """The garment, once all that it needs is known, and what it was made from."""
    _check_ways(project, gauge, notes)
    before, of_garment, made, spec = len(notes.workings), Notes(notes.workings), NO_GARMENT, None
    try:
        spec = _brief(project, gauge, wearer, targets, of_garment)
        if spec is not None:
            assert gauge is not None
            made = _built(spec, gauge, swatches)
            check_garter(made.pieces, spec.cloth, of_garment)
    except Stopped:
        pass  # its checks say why
    except CannotBeKnitted as error:  # no real body and ease lead there
        del notes.workings[before:], of_garment.checks[:]  # of a garment that there is not
        notes.check("too-small-to-shape", chest=cm(targets.finished["chest"]), reason=str(error))
    notes.checks += of_garment.checks
    return made, replace(spec, notes=notes) if spec else None


def _bands_along(spec: GarmentSpec, planned: Garment, pieces: Sequence[Piece], more: int) -> Mapping[str, Piece]:
    """The bands along pieces, with so many rows more along an armhole."""
    return bands_along(spec, pieces, planned.armhole, more)


def _made_before(
    project: Project,
    swatches: tuple[MeasuredSwatch, ...],
    yarns: tuple[YarnView, ...],
    wearer: Wearer,
    targets: Targets,
) -> Mapping[str, Garment]:
    """For each piece that was kept as it is, while the others are planned from what was counted on it: the garment with
    the stitches of before.
    """
    found: dict[str, Garment] = {}
    for i, way in enumerate(project.taken):
        if way.way == "other-pieces" and way.stitches_per_10cm:
            taken = [replace(t, stitches_per_10cm=None) if n >= i else t for n, t in enumerate(project.taken)]
            before = replace(project, taken=tuple(taken))
            gauge = as_taken(before, _design(before, swatches, yarns, Notes()))
            found[way.piece] = _make(before, gauge, wearer, targets, swatches, Notes())[0]
    return found


def _built(spec: GarmentSpec, gauge: DesignGauge, swatches: Sequence[MeasuredSwatch]) -> Garment:
    """The garment with its panels, in whole repeats of its fabric where that is wished for and stops nothing."""
    project = spec.project
    pattern = pattern_of(project, project.garment.fabric)
    if pattern is None:
        return _panelled(spec, gauge, swatches)
    fitting = fitted(spec, pattern, stockinette_per_10cm(project, swatches))
    recorded, checked = len(spec.notes.workings), len(spec.notes.checks)
    try:
        return replace(_panelled(fitting, gauge, swatches), fit=fitting.fit)
    except (Stopped, CannotBeKnitted):  # a pattern stops no garment that can be knitted otherwise
        del spec.notes.workings[recorded:], spec.notes.checks[checked - 1 :]
        spec.notes.check("pattern-not-fitted", pattern=pattern.name)
        return _panelled(spec, gauge, swatches)


def _panelled(spec: GarmentSpec, gauge: DesignGauge, swatches: Sequence[MeasuredSwatch]) -> Garment:
    """The garment with its panels, on as many stitches as those ask for; on its usual ones where that stops it."""
    counted = with_panels(spec, gauge, swatches)
    recorded, checked = len(spec.notes.workings), len(spec.notes.checks)
    try:
        return built(counted, build)
    except (Stopped, CannotBeKnitted):
        if counted.back_repeat == spec.back_repeat:
            raise
        del spec.notes.workings[recorded:], spec.notes.checks[checked:]
        usual = with_panels(replace(spec, back_repeat=back_rule(spec), notes=Notes()), gauge, swatches)
        return built(replace(usual, back_repeat=None, notes=spec.notes), build)


def _brief(
    project: Project, gauge: DesignGauge | None, wearer: Wearer, targets: Targets, notes: Notes
) -> GarmentSpec | None:
    shape = project.garment
    check_wishes(shape, notes)
    if gauge is None or _open(shape) or any(part not in targets.finished for part in _needed(shape)):
        return None
    if beyond_knitting(gauge.cloth, targets, shape.sleeve_cm, notes):
        return None
    usual = {"front": "closed", "waist": "straight", "hem_cm": 0.0, "cuff_cm": 0.0, "shoulder": shoulder_of(shape)}
    answers: Entry = {
        **usual,
        "band_cm": usual_band_cm(child=wearer.child),
        **{key: getattr(shape, key) for key in GOES_BY if getattr(shape, key) is not None},
        "neckline": neckline(shape.neckline),
        "yoke_bands": band_wishes(project, gauge),
    }
    return GarmentSpec(project=project, cloth=gauge.cloth, targets=targets, wearer=wearer, notes=notes, **answers)


GOES_BY = {f.name for f in fields(GarmentSpec)} & {f.name for f in fields(GarmentChoices)}
"""Answers that a garment is made by."""


def _open(shape: GarmentChoices) -> bool:
    """Whether an answer is open without which nothing can be made."""
    edged = shape.hem != "none"
    asked = ["construction", "worked", "neckline", "sleeve", "hem", *(["hem_cm"] if edged else [])]
    asked += ["cuff_cm"] if edged and shape.sleeve != "none" else []
    return any(getattr(shape, key) is None for key in asked)


def _needed(shape: GarmentChoices) -> list[str]:
    """Finished measurements without which nothing can be counted."""
    needed = ["chest", "length", "armhole_depth", "neck_width", "cross_back", "shoulder_drop"]
    if shape.sleeve == "none":
        return needed
    if shape.sleeve_cm is None and construction(shape.construction).straight_sleeves:
        needed.append("neck_to_cuff")
    return [*needed, "upper_arm", *(["wrist"] if shape.sleeve == "long" else [])]


def _check_ways(project: Project, gauge: DesignGauge | None, notes: Notes) -> None:
    """Whether the garment is worked as its swatch was; an open front is worked back and forth either way, but its
    sleeves may not be. One in rounds with shoulder seams is worked back and forth above the underarm.
    """
    shape, record = project.garment, construction(project.garment.construction)
    if gauge is None or shape.worked is None or (shape.front is None and shape.neckline is None):
        return
    in_rounds, swatched = shape.worked == "round" or record.in_one_piece, gauge.swatch.worked
    asked: Worked = "round" if in_rounds and shape.front != "open" else "flat"
    if swatched != asked:
        notes.check(
            "swatch-worked-otherwise",
            id=gauge.swatch.id,
            knitted=swatched,
            asked=asked,
            garment=WORKED_WORDS[asked],
            swatch=WORKED_WORDS[swatched],
        )
    elif asked == "round" and record.shoulder_seams:
        notes.check("flat-above-underarm", id=gauge.swatch.id)
    elif asked == "flat" and in_rounds and shape.sleeve not in (None, "none"):
        notes.check("sleeves-in-the-round", id=gauge.swatch.id)
