"""What the app and the plain mode say and ask alike, without a screen: where a step begins, what it still needs,
what is offered, and what needs another look.
"""

from collections.abc import Collection, Sequence

from workshop.core.plan import Plan
from workshop.core.remarks import Check
from workshop.progress import (
    asked_for,
    at_hand,
    changed_since,
    cloth_changed,
    going_on,
    missing_answers,
    next_step,
    offer_text,
    progress,
)
from workshop.project import STEPS, Project
from workshop.questions import Field
from workshop.questions.actions import Sizes
from workshop.questions.steps import MODULES, asked_as, fields, groups, named
from workshop.words.changed import changed_figures
from workshop.words.phrase import Line, in_terms_of
from workshop.words.titles import title_of

OTHER_FABRIC = "A different yarn or needle gives a different fabric. Knit, wash and count it again"
HOLD = ", or press F6 to keep the counts."

MOST_MISSING = 4
"""Missing answers that are named; more are counted."""


def offer_to(field: Field, plan: Plan) -> str:
    """The answer that is offered for a question that has none yet; empty where nothing is."""
    return "" if field.shown(plan.project) else offer_text(field, plan)


def offered(name: str, plan: Plan) -> tuple[str, ...]:
    """Keys of the questions of a step that have an offer and no answer."""
    return tuple(f.key for f in fields(name, plan.project) if offer_to(f, plan))


def begins_at(name: str, plan: Plan) -> Collection[str]:
    """Keys of the questions at which a step may begin: where an answer is wanted, in a step that is not done also
    where one is only offered. The first of them in the order of the step is the one.
    """
    asked = fields(name, plan.project)
    refused = [f.key for f in asked if f.key in plan.project.drafts]
    missing = missing_answers(name, plan)
    if not missing:
        return refused
    begun = any(f.shown(plan.project) for f in asked)
    left = going_on(name, plan) if begun else None
    return (*refused, *missing, *offered(name, plan), *([left] if left else ()))


def asking(name: str, plan: Plan) -> tuple[Check, ...]:
    """Checks of a step that have a question for the knitter."""
    return tuple(c for c in plan.checks if c.step == name and c.level == "look")


def sizes(plan: Plan) -> Sizes:
    """For each yarn the needles that the workshop would swatch it on, in mm."""
    return {view.yarn.id: view.swatch_mm for view in plan.yarns}


def standing(name: str, plan: Plan, *, back_again: bool) -> tuple[Line, ...]:
    """Where the knitter stands in a step: back from a break, what changed, what is still needed."""
    project, lines = plan.project, []
    if back_again:
        upcoming = next_step(progress(plan)).name
        elsewhere = "" if upcoming in (name, STEPS[-1]) else f" The next step is {title_of(upcoming, project.terms)}."
        lines.append(Line("good", f"Welcome back.{elsewhere} {in_terms_of(at_hand(plan), project)}"))
    changed, fabric = changed_since(name, project), cloth_changed(name, project)
    if fabric:
        text = f"changed since you counted the swatches: {', '.join(fabric)}. {OTHER_FABRIC}{HOLD}"
        lines.append(Line("look", in_terms_of(text, project)))
    elif changed:
        text = f"changed since you were here: {', '.join(changed)}. Check this step, then press Ctrl+N to confirm it."
        lines.append(Line("look", in_terms_of(text, project)))
    wanted, take = _wanted(name, plan)
    if wanted:
        more = f" and {len(wanted) - MOST_MISSING} more" if len(wanted) > MOST_MISSING else ""
        text = f"Still needed here: {'; '.join(wanted[:MOST_MISSING])}{more}."
        lines.append(Line("note", in_terms_of(text, project)))
    if take:
        text = f"Suggested here, for you to accept or change: {'; '.join(take[:MOST_MISSING])}."
        lines.append(Line("note", in_terms_of(text, project)))
    return tuple(lines)


def asked_elsewhere(key: str, project: Project) -> str:
    """Where the answer is given that something in another step is about; empty where no step asks it."""
    found = ((name, f) for name in MODULES for f in fields(name, project) if f.key == key)
    for name, field in found:
        text = f"You can change this in the {title_of(name, project.terms)} step: {named(field)}. F4 lists the steps."
        return in_terms_of(text, project)
    return ""


def before_and_now(before: Plan, now: Plan) -> Line | None:
    """What an answer has changed of a finished plan, in one line; None where its key figures are as they were."""
    changed = changed_figures(before, now)
    return Line("good", f"Your answer changed the plan: {changed}.") if changed else None


def _wanted(name: str, plan: Plan) -> tuple[list[str], list[str]]:
    """Questions of a step that the plan still needs, each with its swatch or yarn where there are several: those with
    no answer, and those for which one is offered.
    """
    missing, asked = missing_answers(name, plan), groups(name, plan.project)
    several = sum(1 for g in asked if "." in g.name) > 1
    found: tuple[list[str], list[str]] = ([], [])
    for group in asked:
        for field in group.fields:
            if asked_for(field.key, missing):
                label = named(field)
                told = f"{label} ({group.title})" if several and "." in group.name else label
                found[bool(offer_to(field, plan))].append(told)
    return found


def with_way_out(lines: Sequence[Line]) -> tuple[Line, ...]:
    """After the checks that have a question: the key that answers them."""
    last = max((i for i, line in enumerate(lines) if line.kind == "look"), default=None)
    if last is None:
        return tuple(lines)
    out = Line("text", "Change the answer, or press F6 to confirm it.")
    return (*lines[: last + 1], out, *lines[last + 1 :])


# ── answers that differ ──────────────────────────────────────────────────────────────────────────────

MOST_CHANGED = 3
"""Changed answers that are named; more are counted."""


def _answer_at(key: str, project: Project) -> str:
    """The answer behind a key of the save file; empty where there is none."""
    return next((f.shown(project) for name in MODULES for f in fields(name, project) if f.key == key), "")


def _named(key: str, *projects: Project) -> str:
    """The question behind a key, by the first of the projects that asks it."""
    asks = next((p for p in projects for name in MODULES if key in (f.key for f in fields(name, p))), projects[0])
    return in_terms_of(asked_as(key, asks), projects[0])


def both_answered(keys: Collection[str], mine: Project, theirs: Project) -> tuple[str, ...]:
    """A line for each question that two windows answered otherwise: "Waist: yours 76 cm, theirs 80 cm"."""
    return tuple(
        f"{_named(key, mine, theirs)}: yours {_answer_at(key, mine) or 'open'}, "
        f"theirs {_answer_at(key, theirs) or 'open'}"
        for key in keys
    )


def what_changed(keys: Collection[str], before: Project, after: Project) -> str:
    """What was done between two states of a project: "before Waist went from 80 cm to 76 cm"."""
    told = list(dict.fromkeys(_change(key, before, after) for key in keys))
    more = f" and {len(told) - MOST_CHANGED} more" if len(told) > MOST_CHANGED else ""
    return f"before {'; '.join(told[:MOST_CHANGED])}{more}" if told else "only the layout of the file has changed since"


def _change(key: str, before: Project, after: Project) -> str:
    name, was, now = _named(key, before, after), _answer_at(key, before), _answer_at(key, after)
    if was and now:
        return f"{name} went from {was} to {now}"
    if was or now:
        return f"{name} was answered ({now})" if now else f"{name} was cleared ({was})"
    return f"{name} changed"
