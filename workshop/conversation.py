"""What the app and the plain mode say and ask alike, without a screen: where a step begins, what it still needs,
what is offered, and what wants another look.
"""

from collections.abc import Collection, Sequence

from workshop.core.key_figures import moved
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
from workshop.project import STEPS
from workshop.questions import Field
from workshop.questions.actions import Sizes
from workshop.questions.steps import fields, groups
from workshop.steps import step
from workshop.words.phrase import Line, in_terms, show

OTHER_CLOTH = "Another yarn or needle makes another cloth: knit, wash and count it anew."
HOLD = "F6 says that the counts hold."

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
    """Checks of a step that want another look."""
    return tuple(c for c in plan.checks if c.step == name and c.level == "look")


def sizes(plan: Plan) -> Sizes:
    """For each yarn the needles that the workshop would swatch it on, in mm."""
    return {view.yarn.id: view.swatch_mm for view in plan.yarns}


def standing(name: str, plan: Plan, *, back_again: bool) -> tuple[Line, ...]:
    """Where the knitter stands in a step: back from a break, what changed, what is still needed."""
    project, lines = plan.project, []
    if back_again:
        upcoming = next_step(progress(plan)).name
        begins = "Now" if upcoming in (name, STEPS[-1]) else f"Now, in the step {step(upcoming).title}"
        lines.append(Line("good", in_terms(f"Welcome back. {begins}: {at_hand(plan)}", project.terms)))
    changed, cloth = changed_since(name, project), cloth_changed(name, project)
    if cloth:
        text = f"changed since the swatches were counted: {', '.join(cloth)}. {OTHER_CLOTH} {HOLD}"
        lines.append(Line("look", text))
    elif changed:
        text = f"changed since you were here: {', '.join(changed)}. Look this step through; ctrl+n says it is right."
        lines.append(Line("look", text))
    wanted, take = _wanted(name, plan)
    if wanted:
        more = f" and {len(wanted) - MOST_MISSING} more" if len(wanted) > MOST_MISSING else ""
        text = f"Still needed here: {', '.join(wanted[:MOST_MISSING])}{more}."
        lines.append(Line("note", in_terms(text, project.terms)))
    if take:
        text = f"Offered here, for you to take or change: {', '.join(take[:MOST_MISSING])}."
        lines.append(Line("note", in_terms(text, project.terms)))
    return tuple(lines)


def before_and_now(before: Plan, now: Plan) -> Line | None:
    """What an answer has changed of a finished plan, in one line; None where its key figures are as they were."""
    project = now.project
    told = [(m.what, show(m.before, project), show(m.now, project)) for m in moved(before, now)]
    changed = "; ".join(f"{what} {was}, now {is_now}" for what, was, is_now in told if was != is_now)
    return Line("good", in_terms(f"Your answer changed the plan: {changed}.", project.terms)) if changed else None


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
                named = f"{field.label} ({group.title})" if several and "." in group.name else field.label
                found[bool(offer_to(field, plan))].append(named)
    return found


def with_way_out(lines: Sequence[Line]) -> tuple[Line, ...]:
    """After the checks that ask something: the key that answers them."""
    last = max((i for i, line in enumerate(lines) if line.kind == "look"), default=None)
    if last is None:
        return tuple(lines)
    out = Line("text", "Mend the answer, or press F6 to say that it is right as it is.")
    return (*lines[: last + 1], out, *lines[last + 1 :])
