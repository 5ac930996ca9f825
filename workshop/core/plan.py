"""The one door into the core: ``plan(project)`` gives everything that can be said from what is known.

It never raises for what a knitter can enter: what is missing is None, what does not agree is a check.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from workshop.core.cloth.fibre import YarnView, view_yarn
from workshop.core.cloth.gauge import Gauge, gauges
from workshop.core.cloth.readings import reading_checks
from workshop.core.cloth.swatch import SwatchPlan, plan_swatch, swatch_checks
from workshop.core.cloth.wash import DesignGauge, design_gauge, note_gauges, note_workings, wash_checks
from workshop.core.cloth.yarn import YarnNeed, yarn_need
from workshop.core.finished import Range, finished_ranges
from workshop.core.garments import Brief, Made, drop_shoulder
from workshop.core.making.edges import Cloth
from workshop.core.offers import offers
from workshop.core.remarks import Amount, Check, check
from workshop.core.wearer.body import Wearer, body_checks, resolve
from workshop.core.wearer.cautions import cautions_for
from workshop.core.wearer.fit import Targets, fit_checks, targets
from workshop.core.working import Working, Workings
from workshop.project import Along, Project, State
from workshop.tables import needles
from workshop.tables.practice import CautionText, rule

BUILDERS = {"drop-shoulder": drop_shoulder.build}
"""Constructions that can be planned, by their name in the save file."""

NECKLINES = ("crew", "boat")
SLEEVES = ("long", "short")
"""What the constructions above can do so far."""

BAND_CM = 2.5
"""Depth of a neckband where none is given (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class KnownSwatch:
    """A swatch with its plan and all gauges counted on it."""

    plan: SwatchPlan
    gauges: Mapping[tuple[State, Along], Gauge]


@dataclass(frozen=True, slots=True)
class Plan:
    """Everything that the project says, worked out. Lengths cm, masses g, counts whole."""

    project: Project
    yarns: tuple[YarnView, ...]
    swatches: tuple[KnownSwatch, ...]
    gauge: DesignGauge | None
    wearer: Wearer
    wanted: Targets
    made: Made | None
    ranges: Mapping[str, Range]
    hem_needle_mm: float | None
    yarn: YarnNeed | None
    checks: tuple[Check, ...]
    cautions: tuple[CautionText, ...]
    workings: tuple[Working, ...]
    offers: Mapping[str, object]
    """First answers that may be offered for unanswered questions, by question key; never taken silently."""

    def working(self, key: str) -> Working | None:
        """The working of a number by its address, or None."""
        return next((w for w in self.workings if w.key == key), None)

    def swatch(self, name: str | None) -> KnownSwatch | None:
        """A swatch by its id, or None."""
        return next((s for s in self.swatches if s.plan.swatch.id == name), None)


def plan(project: Project) -> Plan:
    """Work out a project."""
    workings = Workings()
    checks: list[Check] = []
    yarns = tuple(view_yarn(y, project.tension) for y in project.yarn)
    checks += _yarn_checks(yarns)
    swatches = _swatches(project, yarns, checks)
    gauge = _design(project, swatches, yarns, checks, workings)
    wearer = resolve(project.body)
    checks += body_checks(project.body, wearer)
    wanted = targets(project, wearer, workings)
    checks += fit_checks(project, wearer, wanted)
    made = _make(project, gauge, wearer, wanted, checks, workings)
    need = None
    if made and made.pieces and gauge:
        need = yarn_need(made.pieces, gauge.swatch, project.design_yarn, gauge.stitches.per_10cm, workings)
    for view in yarns:
        if view.sizes_moved:
            workings.note(view.sizes_moved)
    for swatch in swatches:
        for working in (swatch.plan.cast_on, swatch.plan.rows):
            if working:
                workings.note(working)
        note_gauges(swatch.plan.swatch, swatch.gauges, workings)
    return Plan(
        project=project,
        yarns=yarns,
        swatches=swatches,
        gauge=gauge,
        wearer=wearer,
        wanted=wanted,
        made=made,
        ranges=finished_ranges(made, gauge),
        hem_needle_mm=_hem_needle(gauge),
        yarn=need,
        checks=tuple(_with_agreement(c, project) for c in checks),
        cautions=cautions_for(wearer, yarns, bool(project.swatch)),
        workings=tuple(workings),
        offers=offers(project, yarns, wearer, wanted),
    )


def _with_agreement(found: Check, project: Project) -> Check:
    """A question that the knitter has answered with "it is right" is a note from then on."""
    if found.level == "look" and found.name in project.agreed:
        return replace(found, level="note", agreed=True)
    return found


def _yarn_checks(yarns: tuple[YarnView, ...]) -> list[Check]:
    found = []
    for view in yarns:
        name = view.yarn.name or f"yarn {view.yarn.id}"
        if view.shares and abs(view.percent_total - 100) > 0.5:
            found.append(
                check(
                    "blend-not-100",
                    "look",
                    "fibre",
                    f"yarn.{view.yarn.id}.fibres",
                    "The blend of {name} comes to {total}; it must come to 100 %.",
                    f"{view.percent_total:g}",
                    name=name,
                    total=Amount(view.percent_total, "%"),
                )
            )
        for share in view.shares:
            if share.fibre.id == "other" and share.typed.casefold() not in ("other", "another fibre"):
                found.append(
                    check(
                        "fibre-unknown",
                        "note",
                        "fibre",
                        f"yarn.{view.yarn.id}.fibres",
                        "Nothing is known here of {fibre}: the swatch must tell.",
                        fibre=share.typed,
                    )
                )
    return found


def _swatches(project: Project, yarns: tuple[YarnView, ...], checks: list[Check]) -> tuple[KnownSwatch, ...]:
    by_id = {v.yarn.id: v for v in yarns}
    known = []
    for i, swatch in enumerate(project.swatch, 1):
        yarn = project.yarn_of(swatch)
        item = KnownSwatch(plan_swatch(swatch, yarn, i), gauges(swatch))
        known.append(item)
        checks += swatch_checks(item.plan, item.gauges.get(("off needles", "stitches")))
        view = by_id.get(swatch.yarn or "")
        checks += reading_checks(swatch, view.weight if view else None, item.gauges)
        squeaks = view is not None and view.has("squeaks_on_plastic")
        if squeaks and swatch.needle_material == "plastic":
            checks.append(
                check(
                    "squeaks-on-plastic",
                    "note",
                    "swatch",
                    f"swatch.{swatch.id}.needle_material",
                    "This yarn can squeak on plastic needles; wood or metal is quieter, and may give another gauge.",
                )
            )
    return tuple(known)


def _design(
    project: Project,
    swatches: tuple[KnownSwatch, ...],
    yarns: tuple[YarnView, ...],
    checks: list[Check],
    workings: Workings,
) -> DesignGauge | None:
    hang = {v.yarn.id: v.hang_test for v in yarns}
    chosen = None
    for known in swatches:
        swatch = known.plan.swatch
        found = None
        if swatch.id == project.design.swatch:
            found = chosen = design_gauge(project.design, swatch, known.gauges)
        if project.design.swatch in (None, swatch.id):  # once a cloth is chosen, the others need no wash
            checks += wash_checks(found, swatch, known.gauges, hang.get(swatch.yarn or "", False))
    name = project.design.swatch
    if name and all(k.plan.swatch.id != name for k in swatches):
        checks.append(
            check(
                "design-swatch-missing",
                "look",
                "wash",
                "design.swatch",
                "The garment is planned from swatch {name}, and there is no swatch of that name.",
                name=name,
            )
        )
    if chosen is not None:
        note_workings(chosen, workings)
    return chosen


def _make(
    project: Project,
    gauge: DesignGauge | None,
    wearer: Wearer,
    wanted: Targets,
    checks: list[Check],
    workings: Workings,
) -> Made | None:
    """The garment, once all that it needs is known; None before."""
    brief = _brief(project, gauge, wearer, wanted, checks)
    if brief is None or project.garment.construction is None:
        return None
    made = BUILDERS[project.garment.construction](brief, workings)
    checks += made.checks
    return made


def _brief(
    project: Project, gauge: DesignGauge | None, wearer: Wearer, wanted: Targets, checks: list[Check]
) -> Brief | None:
    shape = project.garment
    if not _can_be_planned(project, checks):
        return None
    needed = ["chest", "length", "armhole_depth", "neck_width"]
    if shape.sleeve_cm is None:
        needed.append("neck_to_cuff")
    needed.append("wrist" if shape.sleeve == "long" else "upper_arm")
    if gauge is None or any(part not in wanted.finished for part in needed):
        return None
    if shape.worked is None or shape.neckline is None or shape.sleeve is None or shape.hem is None:
        return None
    if shape.hem != "none" and (shape.hem_cm is None or shape.cuff_cm is None):
        return None
    return Brief(
        cloth=Cloth(gauge.stitches.per_10cm, gauge.rows.per_10cm),
        wanted=wanted,
        wearer=wearer,
        worked=shape.worked,
        neckline=shape.neckline,
        sleeve=shape.sleeve,
        hem=shape.hem,
        hem_cm=shape.hem_cm or 0.0,
        cuff_cm=shape.cuff_cm or 0.0,
        band_cm=shape.band_cm if shape.band_cm is not None else BAND_CM,
        sleeve_cm=shape.sleeve_cm,
    )


def _can_be_planned(project: Project, checks: list[Check]) -> bool:
    """Refuse shapes that this workshop cannot plan yet, by name."""
    shape = project.garment
    wishes = (
        ("construction", shape.construction, tuple(BUILDERS)),
        ("neckline", shape.neckline, NECKLINES),
        ("sleeve", shape.sleeve, SLEEVES),
        ("front", shape.front, ("closed",)),
        ("waist", shape.waist, ("straight",)),
    )
    fine = True
    for key, wish, known in wishes:
        if wish is not None and wish not in known:
            fine = False
            checks.append(
                check(
                    "shape-not-yet",
                    "stop",
                    "shape",
                    f"garment.{key}",
                    "{wish} cannot be planned yet; so far: {known}.",
                    wish=wish,
                    known=", ".join(known),
                )
            )
    return fine


def _hem_needle(gauge: DesignGauge | None) -> float | None:
    if gauge is None or gauge.swatch.needle_mm is None:
        return None
    return needles.steps_from(gauge.swatch.needle_mm, -int(rule("rib_needle")["sizes"]))
