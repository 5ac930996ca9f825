"""How far a project has come: the state of each step, and what is missing.

A step is to do, under way, done, or wants another look: because a check asks something, or because an
earlier answer has changed since the step was done. For that each step done keeps a short fingerprint of
the earlier answers that it was done with (``steps`` in the save file).
"""

import hashlib
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from workshop.core.plan import Plan
from workshop.project import STEPS, Project, State
from workshop.questions.measure import source_of
from workshop.questions.steps import fields

StepState = Literal["to do", "under way", "done", "look again"]


@dataclass(frozen=True, slots=True)
class Progress:
    """One step: its state, the keys of missing answers, and why it wants another look."""

    name: str
    state: StepState
    missing: tuple[str, ...]
    because: str = ""


def progress(plan: Plan) -> tuple[Progress, ...]:
    """All steps of a plan."""
    done = [_step(name, plan) for name in STEPS[:-1]]
    return (*done, _summary(plan, done))


def next_step(steps: Sequence[Progress]) -> Progress:
    """The first step that is not done; the summary when all are."""
    return next((s for s in steps if s.state != "done"), steps[-1])


def _step(name: str, plan: Plan) -> Progress:
    project = plan.project
    missing = missing_answers(name, plan)
    touched = any(f.get(project) not in (None, "", ()) for f in fields(name, project))
    if name == "fibre":
        touched = bool(project.yarn) or project.tension is not None
    if not touched:
        return Progress(name, "to do", missing)
    asking = [c for c in plan.checks if c.step == name and c.level in ("look", "stop")]
    if asking:
        return Progress(name, "look again", missing, "a check asks something")
    if missing:
        return Progress(name, "under way", missing)
    seen = project.steps.get(name)
    if seen is not None and seen != fingerprint(name, project):
        return Progress(name, "look again", (), "an earlier answer has changed since")
    return Progress(name, "done", ())


def _summary(plan: Plan, others: Sequence[Progress]) -> Progress:
    if plan.made is None or not plan.made.pieces:
        return Progress("summary", "to do", ())
    if any(s.state == "look again" for s in others):
        return Progress("summary", "look again", (), "a step before it wants another look")
    return Progress("summary", "done" if all(s.state == "done" for s in others) else "under way", ())


def missing_answers(name: str, plan: Plan) -> tuple[str, ...]:
    """Keys of the answers that a step still needs."""
    project = plan.project
    special = {
        "gauge": _missing_gauge,
        "wash": _missing_wash,
        "measure": _missing_measures,
    }.get(name)
    empty = {"fibre": ("yarn",) if not project.yarn else (), "swatch": ("swatch",) if not project.swatch else ()}
    asked = tuple(f.key for f in fields(name, project) if f.needed and f.get(project) in (None, "", ()))
    if source_of(project) is not None:  # the answers show it, also where the question was never put
        asked = tuple(key for key in asked if key != "body.source")
    return empty.get(name, ()) + asked + (special(plan) if special else ())


def _missing_gauge(plan: Plan) -> tuple[str, ...]:
    """At least one swatch counted both ways; and no swatch counted one way only."""
    counted = {s.plan.swatch.id: {along for state, along in s.gauges if state == "off needles"} for s in plan.swatches}
    if not counted:
        return ("swatch",)
    started = {name: ways for name, ways in counted.items() if ways}
    if not started:
        first = next(iter(counted))
        return (f"reading.{first}.off needles.stitches", f"reading.{first}.off needles.rows")
    return tuple(
        f"reading.{name}.off needles.{along}"
        for name, ways in started.items()
        for along in ("stitches", "rows")
        if along not in ways
    )


def _missing_wash(plan: Plan) -> tuple[str, ...]:
    """The chosen swatch counted both ways in the chosen state."""
    project = plan.project
    if not project.swatch:
        return ("swatch", "design.swatch", "design.state")
    known = plan.swatch(project.design.swatch)
    state = project.design.state or "washed"
    if known is None or plan.gauge is not None:
        return ()
    ways = {along for s, along in known.gauges if s == state}
    return tuple(f"reading.{known.plan.swatch.id}.{state}.{a}" for a in ("stitches", "rows") if a not in ways)


NEEDED_OF_BODY = ("chest", "upper_arm", "wrist", "armhole_depth", "neck_to_cuff")


def _missing_measures(plan: Plan) -> tuple[str, ...]:
    """What the finished measurements need, from whichever source is used."""
    project = plan.project
    source = source_of(project)
    if source is None:
        return ()
    if source == "garment":
        pattern = project.fitting_garment
        asked = {
            "chest_width_cm": "chest",
            "armhole_depth_cm": "armhole_depth",
            "upper_arm_width_cm": "upper_arm",
            "cuff_width_cm": "wrist",
            "centre_to_cuff_cm": "neck_to_cuff",
        }
        return tuple(
            f"fitting_garment.{key}"
            for key, part in asked.items()
            if getattr(pattern, key) is None and plan.wanted.get(part) is None
        )
    missing = tuple(f"body.{m}_cm" for m in NEEDED_OF_BODY if plan.wearer.cm(m) is None)
    if source == "table" and missing:
        missing = tuple(k for k, v in (("body.table", project.body.table), ("body.size", plan.wearer.size)) if not v)
    if project.fit.ease is None and project.fit.chest_ease_cm is None:
        missing += ("fit.ease",)
    return missing


# ── what a step was done with ────────────────────────────────────────────────────────────────────────


def fingerprint(name: str, project: Project) -> str:
    """A short mark of the earlier answers that a step's own answers were given in view of."""
    seen: tuple[object, ...] = ()
    match name:
        case "swatch":
            seen = (project.tension, _yarns(project))
        case "gauge":
            seen = (_yarns(project), _swatches(project))
        case "wash":
            seen = (_yarns(project), _swatches(project), _care(project), _counts(project, "off needles"))
        case "measure":
            seen = (project.design_yarn.weight if project.design_yarn else None,)
        case "shape":
            counts = (_counts(project, "washed"), _counts(project, "hung"))
            seen = (project.design, *counts, project.body, project.fit, project.fitting_garment)
    return hashlib.sha256(repr(seen).encode()).hexdigest()[:12]


def _yarns(project: Project) -> tuple[object, ...]:
    return tuple((y.id, y.weight, y.fibres) for y in project.yarn)


def _care(project: Project) -> tuple[str, ...]:
    return tuple(y.care for y in project.yarn)


def _swatches(project: Project) -> tuple[object, ...]:
    return tuple((s.id, s.yarn, s.needle_mm, s.needle_material, s.worked) for s in project.swatch)


def _counts(project: Project, state: State) -> tuple[object, ...]:
    return tuple((s.id, tuple(r for r in s.reading if r.state == state)) for s in project.swatch)


def confirm(name: str, project: Project) -> Project:
    """The project with a step marked as agreeing with the earlier answers as they are now."""
    if name not in STEPS[:-1]:
        return project
    return replace(project, steps={**project.steps, name: fingerprint(name, project)})


def keep_in_step(before: Project, after: Project) -> Project:
    """After an answer: steps that agreed before and whose earlier answers did not change still agree.

    A step whose mark is missing gets one as soon as it has an answer of its own, so that later changes
    before it are noticed.
    """
    marks = dict(after.steps)
    for name in STEPS[:-1]:
        answered = any(f.get(after) not in (None, "", ()) for f in fields(name, after))
        own_change = any(f.get(after) != f.get(before) for f in fields(name, after))
        if answered and (name not in marks or (own_change and marks[name] == fingerprint(name, before))):
            marks[name] = fingerprint(name, after)
    return replace(after, steps=marks)
