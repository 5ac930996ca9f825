"""What each step answers at once, as plain lines: the app, the line-by-line mode and prints share them."""

from collections.abc import Callable
from dataclasses import replace

from workshop.core.plan import Plan
from workshop.words.answers import of_cloth, of_garment, of_yarn
from workshop.words.phrase import Line, check_line, in_terms_of


def answers(step: str, plan: Plan) -> tuple[Line, ...]:
    """The answers of a step, its checks first, its notes last where they don't stand beside their figure."""
    checks = [check_line(c, plan.project) for c in plan.checks if c.step == step and c.level != "note"]
    notes = [check_line(c, plan.project) for c in plan.checks if c.step == step and c.level == "note"]
    told = ANSWERS[step](plan) if step in ANSWERS else []
    body = [replace(line, text=in_terms_of(line.text, plan.project)) for line in told]
    return (*checks, *body, *(note for note in notes if note not in body))


ANSWERS: dict[str, Callable[[Plan], list[Line]]] = {
    "fibre": of_yarn.fibre,
    "swatch": of_yarn.swatch,
    "gauge": of_cloth.gauge,
    "wash": of_cloth.wash,
    "measure": of_garment.measure,
    "shape": of_garment.shape,
}
