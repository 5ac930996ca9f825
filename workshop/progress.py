"""How far a project has come: the state of each step, and what is missing.

A step is to do, under way, done, or needs another look: because a check has a question, or because an
earlier answer has changed since the step was done. For that each step done keeps short marks of the
earlier answers that it was done with (``steps`` in the save file), so that it can say which one changed.
"""

import hashlib
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from typing import Literal

from workshop.core.plan import Plan
from workshop.project import STEPS, Along, Project, State, Swatch
from workshop.questions import Field
from workshop.questions.measure import source_of
from workshop.questions.steps import as_asked, asked_as, fields
from workshop.records import record
from workshop.units import difference_shown, show_length, show_needle, shown

StepState = Literal["to do", "under way", "done", "look again"]


@record
class Progress:
    """One step: its state, the keys of missing answers, and why it needs another look."""

    name: str
    state: StepState
    missing: tuple[str, ...]
    because: str = ""


def progress(plan: Plan) -> tuple[Progress, ...]:
    """All steps of a plan."""
    done = [_step(name, plan) for name in STEPS[:-1]]
    return (*done, _summary(plan, done))


def at_hand(plan: Plan, upcoming: str | None = None) -> str:
    """What to do with one's hands now, away from the screen: one or two sentences. ``upcoming``: the next step, where
    it is known already.
    """
    upcoming = upcoming or next_step(progress(plan)).name
    if upcoming == "summary" and any(known.rows for known in plan.project.knitting):
        return _on_the_needles(plan)
    return {"gauge": _off_the_needles, "wash": _at_the_basin}.get(upcoming, lambda _: AT_HAND[upcoming])(plan)


def _on_the_needles(plan: Plan) -> str:
    """Which piece is at hand, and where that is."""
    from workshop.core.knitting.needles import in_hand  # what is said at the needles is read only there

    hand = in_hand(plan)
    if hand is None:
        return "All pieces are knitted. The plan says how to finish them."
    name, what = hand.piece.name, "round" if hand.piece.worked == "round" else "row"
    if not hand.rows_knitted:
        return f"The next piece is the {name}."
    return f"You're knitting the {name}. You've knitted {what} {hand.row} of {hand.piece.last_row}."


AT_HAND = {
    "fibre": "Find the ball band. You need the fiber content, the yarn weight, and the length and weight of a ball.",
    "swatch": "Find needles in three sizes. You'll plan the swatches in the Swatch step.",
    "measure": "Get a tape measure and someone to hold it, or a sweater that fits.",
    "shape": "Choose the shape. It helps to look at sweaters you like to wear.",
    "summary": "Your plan is ready. Print the plan, buy the yarn from one dye lot, and cast on.",
}


def _off_the_needles(plan: Plan) -> str:
    """What the counts before the wash need: swatches to knit, or to say that there was no count."""
    project = plan.project
    uncounted = [s for s in project.swatch if not s.readings("off needles", "stitches") and s.before_wash is None]
    washed = [s.id for s in uncounted if not _open_ways(s)]
    to_knit = [_named(s, project) for s in uncounted if s.id not in washed]
    if washed:
        named, it, _ = _swatches(washed)
        named = f"{named[0].upper()}{named[1:]} {'has' if it == 'it' else 'have'}"
        return f"{named} no counts from before washing. If nobody counted {it} then, say so in the Gauge step."
    if to_knit:
        named, it, _ = _swatches(to_knit)
        return f"Knit {named}, let {it} rest off the needles, and count {it} before washing."
    return "Count the swatches again where a count is missing or looks odd."


def _at_the_basin(plan: Plan) -> str:
    """What the wash step needs next: a swatch to wash or to hang, a count, or a choice."""
    project, chosen = plan.project, plan.swatch(plan.project.design.swatch)
    if plan.gauge is not None:
        return "There's nothing to wash now, but there's a question for you in the Wash step."
    if project.design.state == "hung" and chosen is not None and not _open_ways(chosen.swatch):
        weight = chosen.hang_weight
        clipped = f" with {weight.value:.0f} g clipped along its lower edge" if weight else ""
        return f"Hang swatch {chosen.swatch.id} for a day{clipped}. Then count its rows."
    return _to_count(plan)


def _to_count(plan: Plan) -> str:
    """Which swatches are to be washed and counted, before one of them can be planned from."""
    project = plan.project
    washed = [s.id for s in project.swatch if s.washed_first and not s.reading]
    dry = [s.id for s in project.swatch if s.readings("off needles", "stitches")]
    begun = [s.id for s in project.swatch if len(_open_ways(s)) < len(WAYS)]
    ready = [s.id for s in project.swatch if not _open_ways(s)]
    if ready and project.design.swatch is None:
        first = "Wash and count the other swatches too, or choose" if {*dry}.difference(ready) else "Choose"
        return f"{first} the swatch to plan from (counted: {', '.join(ready)})."
    if begun and plan.gauge is None and project.design.state != "hung":
        named, _, is_dry = _swatches(begun)
        return f"Finish counting {named} once {is_dry} washed and dry. Then choose the fabric you like best."
    if washed:
        named, it, is_dry = _swatches(washed)
        rested = "has" if it == "it" else "have"
        return f"Count the washed {named} once {is_dry} dry and {rested} rested for a day."
    named, it, _ = _swatches(dry)
    return f"Wash and dry {named} the way you'll wash the sweater. Let {it} rest for a day, then count again."


def _swatches(called: Sequence[str]) -> tuple[str, str, str]:
    """One swatch or several by their letters, what they're called after that, and what they are."""
    if len(called) == 1:
        return f"swatch {called[0]}", "it", "it's"
    named = f"swatches {', '.join(called[:-1])} and {called[-1]}" if called else "the swatches"
    return named, "them", "they're"


def _named(swatch: Swatch, project: Project) -> str:
    size = f" on {show_needle(swatch.needle_mm, project.needle_names)}" if swatch.needle_mm else ""
    return f"{swatch.id}{size}"


def next_step(steps: Sequence[Progress]) -> Progress:
    """The first step that is not done; the summary when all are."""
    return next((s for s in steps if s.state != "done"), steps[-1])


def going_on_at(plan: Plan) -> str:
    """Where one goes on who comes back: the step that one left while it is open, else the first that is not done."""
    steps = progress(plan)
    left = next((s for s in steps if s.name == plan.project.last_step and s.state != "done"), None)
    return (left or next_step(steps)).name


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
        return Progress(name, "look again", missing, "there's a question for you")
    if missing:
        return Progress(name, "under way", missing)
    changed = changed_since(name, project)
    if changed:
        return Progress(name, "look again", (), f"changed since: {', '.join(changed)}")
    refused = refused_answers(name, project)
    if refused:
        return Progress(name, "look again", (), f"not understood: {', '.join(refused)}")
    return Progress(name, "done", ())


def refused_answers(name: str, project: Project) -> tuple[str, ...]:
    """What was typed in a step and not understood, with its question; the answer before it counts meanwhile."""
    if not project.drafts:
        return ()
    return tuple(
        f"{asked_as(f.key, project)} '{shown(project.drafts[f.key])}'"
        for f in fields(name, project)
        if f.key in project.drafts
    )


def _summary(plan: Plan, others: Sequence[Progress]) -> Progress:
    if not plan.made.pieces:
        return Progress("summary", "to do", ())
    if any(s.state == "look again" for s in others):
        return Progress("summary", "look again", (), "an earlier step needs another look")
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


def asked_for(key: str, missing: Collection[str]) -> bool:
    """Whether a question is among the missing ones; a missing count is asked for in its first place."""
    return key in missing or (key.endswith(".1") and key.removesuffix(".1") in missing)


def offer_text(field: Field, plan: Plan) -> str:
    """The offered answer of a question as it would be typed; empty where none is offered."""
    value = plan.offers.get(field.key)
    return "" if value is None else field.question.kind.show(value, plan.project)


def open_text(field: Field, plan: Plan) -> str:
    """The length that the plan goes by while a question is open; empty where there is none."""
    value, units = plan.left_open.get(field.key), plan.project.units
    if value is None:
        return ""
    part = field.key.removeprefix("fit.").removesuffix("_ease_cm")
    body, size = plan.wearer.cm(part), plan.targets.get(part)
    if field.key.startswith("fit.") and body is not None and size is not None:
        value = difference_shown(size, body, units)  # as in the sum beside it
    return show_length(value, units)


def may_stay_blank(field: Field, plan: Plan) -> bool:
    """Whether an open count is one more than is asked for, or of a washed swatch that nothing is planned from."""
    spare = tuple(f"reading.{known.swatch.id}." for known in plan.spare_swatches)
    return field.spare or (field.question.step == "wash" and field.key.startswith(spare))


def going_on(name: str, plan: Plan) -> str | None:
    """The key of the question at which one goes on who comes back to a step; None where it needs nothing.

    The first that is missing, or the place to count that comes after the last one counted.
    """
    missing = missing_answers(name, plan)
    if not missing:
        return None
    asked = [f for f in fields(name, plan.project) if not f.spare or f.shown(plan.project)]
    given = [bool(f.shown(plan.project)) for f in asked]
    first = next((i for i, f in enumerate(asked) if not given[i] and asked_for(f.key, missing)), len(asked))
    after_last = max((i + 1 for i, there in enumerate(given) if there), default=0)
    if after_last < first and asked[after_last].key.startswith("reading."):
        first = after_last
    return asked[first].key if first < len(asked) else None


def _missing_gauge(plan: Plan) -> tuple[str, ...]:
    """At least one swatch counted both ways, or not before its wash; and no swatch counted one way only."""
    counted = {s.plan.swatch.id: {along for state, along in s.gauges if state == "off needles"} for s in plan.swatches}
    if not counted:
        return ("swatch",)
    started = {name: ways for name, ways in counted.items() if ways}
    if not started and any(s.swatch.washed_first for s in plan.swatches):
        return ()
    if not started:
        first = next(iter(counted))
        return (f"reading.{first}.off needles.stitches", f"reading.{first}.off needles.rows")
    return tuple(
        f"reading.{name}.off needles.{along}"
        for name, ways in started.items()
        for along in ("stitches", "rows")
        if along not in ways
    )


WAYS: tuple[Along, ...] = ("stitches", "rows")


def _open_ways(swatch: Swatch) -> list[Along]:
    """The ways in which a swatch was not counted washed."""
    return [along for along in WAYS if not swatch.readings("washed", along)]


def _missing_wash(plan: Plan) -> tuple[str, ...]:
    """The chosen swatch counted both ways in the chosen state."""
    project = plan.project
    if not project.swatch:
        return ("swatch", "design.swatch", "design.state")
    known = plan.swatch(project.design.swatch)
    if known is None:
        begun = {s.id: left for s in project.swatch if len(left := _open_ways(s)) < len(WAYS)}
        if not begun:
            liked = plan.liked_best  # one of them is enough
            begun = {(liked.swatch if liked else project.swatch[0]).id: list(WAYS)}
        none_both = all(begun.values())  # once one is counted both ways, a choice is all that is wanted
        return tuple(f"reading.{i}.washed.{a}" for i, left in begun.items() for a in left) if none_both else ()
    if plan.gauge is not None:
        return ()
    state = project.design.state or "washed"
    ways = {along for s, along in known.gauges if s == state}
    if state == "hung" and ("washed", "stitches") in known.gauges:  # a hung cloth is as wide as it lies
        ways.add("stitches")
    return tuple(f"reading.{known.swatch.id}.{state}.{a}" for a in WAYS if a not in ways)


NEEDED_OF_BODY = ("chest", "upper_arm", "wrist", "armhole_depth", "neck_to_cuff")


def _missing_measures(plan: Plan) -> tuple[str, ...]:
    """What the finished measurements need, from whichever source is used."""
    project = plan.project
    source = source_of(project)
    if source is None:
        return ()
    if source == "garment":
        pattern = project.reference_garment
        asked = {
            "chest_width_cm": "chest",
            "armhole_depth_cm": "armhole_depth",
            "upper_arm_width_cm": "upper_arm",
            "cuff_width_cm": "wrist",
            "centre_to_cuff_cm": "neck_to_cuff",
        }
        return tuple(
            f"reference_garment.{key}"
            for key, part in asked.items()
            if getattr(pattern, key) is None and plan.targets.get(part) is None
        )
    missing = tuple(f"body.{m}_cm" for m in NEEDED_OF_BODY if plan.wearer.cm(m) is None)
    if source == "table" and missing:
        missing = tuple(k for k, v in (("body.table", project.body.table), ("body.size", plan.wearer.size)) if not v)
    if project.fit.ease is None and project.fit.chest_ease_cm is None:
        missing += ("fit.ease",)
    return missing


# ── what a step was done with ────────────────────────────────────────────────────────────────────────


def fingerprint(name: str, project: Project) -> str:
    """Short marks of the earlier answers that a step's own answers were given in view of: ``part=mark part=mark``."""
    return " ".join(f"{part}={_mark(seen)}" for part, seen in _seen(name, as_asked(project)).items())


def changed_since(name: str, project: Project) -> tuple[str, ...]:
    """The earlier answers that have changed since a step was done, in words; none where it was not done yet."""
    return tuple(_called(part, project) for part in _changed(name, project))


def _changed(name: str, project: Project) -> tuple[str, ...]:
    before = project.steps.get(name)
    if before is None or "=" not in before:  # the marks of an older file do not say what they stand for
        return ()
    old = dict(part.rpartition("=")[::2] for part in before.split(" "))
    now = dict(part.rpartition("=")[::2] for part in fingerprint(name, project).split(" "))
    changed = [p for p in sorted({*old, *now}) if old.get(p) != now.get(p) and not _was_blank(p, old)]
    counted = {_word(s.id) for s in project.swatch if s.reading}
    known = [p for p in changed if p.partition(".")[0] in _calls("", "")]  # a file may have been edited by hand
    return tuple(p for p in known if p.partition(".")[0] not in OF_A_SWATCH or p.partition(".")[2] in counted)


def _was_blank(part: str, old: Mapping[str, str]) -> bool:
    """Whether it says how a yarn is washed, and was not answered: that is often said after the swatch is counted."""
    return part.startswith("care.") and old.get(part) == _mark("")


OF_A_SWATCH = ("swatch", "counts")
"""Parts that say nothing once their swatch was taken out, or while it has not been counted."""


OF_THE_CLOTH = ("yarn", "care", "swatch")
"""What counts belong to: changed, they are counts of another cloth."""


def cloth_changed(name: str, project: Project) -> tuple[str, ...]:
    """What has changed since a swatch was counted in this step, so that the counts may be of another cloth; in words.

    Going on to the next step does not settle that: the knitter counts again, or says that the counts hold.
    """
    counted = {"gauge": ("off needles",), "wash": ("washed", "hung")}.get(name, ())
    if not any(r.state in counted for s in project.swatch for r in s.reading):
        return ()
    return tuple(_called(part, project) for part in _changed(name, project) if part.partition(".")[0] in OF_THE_CLOTH)


def _mark(seen: object) -> str:
    text = repr(seen).replace("ReferenceGarment(", "FittingGarment(")  # as in the marks of older files
    return hashlib.sha256(text.encode()).hexdigest()[:8]


def _called(part: str, project: Project) -> str:
    """A part of the earlier answers in words."""
    kind, _, item = part.partition(".")
    yarn = next((y.name for y in project.yarn if _word(y.id) == item and y.name), f"yarn {item}")
    return _calls(item, yarn)[kind]


def _calls(item: str, yarn: str) -> dict[str, str]:
    """What each kind of part is called."""
    return {
        "tension": "how tightly you knit",
        "yarn": f"weight or blend of {yarn}",
        "swatch": f"the plan of swatch {item}",
        "care": f"how you wash {yarn}",
        "counts": f"the counts of swatch {item}",
        "weight": "the weight of the yarn",
        "design": "the swatch you chose",
        "body": "the measurements",
        "fit": "the fit",
        "garment": "the garment that fits",
    }


def _seen(name: str, project: Project) -> dict[str, object]:
    """What a step was answered in view of, part by part."""
    yarns: dict[str, object] = {f"yarn.{_word(y.id)}": (y.weight, y.fibres) for y in project.yarn}
    swatches: dict[str, object] = {
        f"swatch.{_word(s.id)}": (s.yarn, s.needle_mm, s.needle_material, s.worked) for s in project.swatch
    }
    match name:
        case "swatch":
            return {"tension": project.tension, **yarns}
        case "gauge":
            return {**yarns, **swatches}
        case "wash":
            care = {f"care.{_word(y.id)}": y.care for y in project.yarn}
            return {**yarns, **swatches, **care, **_counts(project, "off needles")}
        case "measure":
            return {"weight": project.design_yarn.weight if project.design_yarn else None}
        case "shape":
            seen = {"design": project.design, "body": project.body, "fit": project.fit}
            return {**seen, "garment": project.reference_garment, **_counts(project, "washed", "hung")}
    return {"tension": None}


def _word(name: str) -> str:
    """An id without the blanks that would part a mark."""
    return name.replace(" ", "_")


def _counts(project: Project, *states: State) -> dict[str, object]:
    return {f"counts.{_word(s.id)}": tuple(r for r in s.reading if r.state in states) for s in project.swatch}


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
        if answered and name not in marks:
            marks[name] = fingerprint(name, after if own_change else before)
        elif answered and own_change and marks[name] == fingerprint(name, before):
            marks[name] = fingerprint(name, after)
    return replace(after, steps=marks)
