"""Workings sorted by the step and by the question that they belong to."""

from workshop.core.plan import Plan
from workshop.core.wearer.body import MEASURES
from workshop.words.phrase import working_lines

STEP_OF_WORKING = {
    "yarns": "fibre",
    "gauge": "wash",
    "wash": "wash",
    "target": "measure",
    "body": "shape",
    "neck": "shape",
    "front": "shape",
    "back": "shape",
    "sleeve": "shape",
    "neckband": "shape",
    "finished": "shape",
    "range": "shape",
    "ease": "shape",
    "yarn": "summary",
}


def step_of_working(key: str) -> str:
    """The step that a working belongs to, from its address."""
    first, *rest = key.split(".")
    if first == "swatches":
        if rest[-1] in ("cast_on", "rows", "metres", "grams", "place"):
            return "swatch"
        return "gauge" if "off needles" in rest else "wash"
    if first == "body" and rest and rest[0] in MEASURES:
        return "measure"
    return STEP_OF_WORKING.get(first, "shape")


def step_workings(step: str, plan: Plan) -> tuple[str, ...]:
    """All workings of a step spelled out, a blank line between; the summary shows all of them."""
    lines: list[str] = []
    for working in plan.workings:
        if step in (step_of_working(working.key), "summary"):
            lines += [*working_lines(working, plan.project), ""]
    return tuple(lines)


def item_workings(key: str, plan: Plan) -> tuple[str, ...]:
    """Workings that belong to one question: of its yarn, its swatch and state, or its part of the body."""
    table, *rest = key.split(".")
    begins: tuple[str, ...] = ()
    if table == "yarn" and rest:
        begins = (f"yarns.{rest[0]}.",)
    elif table == "swatch" and rest:
        begins = (f"swatches.{rest[0]}.",)
    elif table == "reading" and len(rest) > 1:
        begins = (f"swatches.{rest[0]}.{rest[1]}.",)
    elif table == "body" and rest:
        part = rest[0].removesuffix("_cm")
        begins = (f"body.{part}", f"target.{part}")
    elif table == "fit" and rest:
        part = rest[0].removesuffix("_ease_cm")
        begins = (f"target.{part}",) if part != "ease" else ("target.chest", "ease.chest")
    lines: list[str] = []
    for working in plan.workings:
        if begins and working.key.startswith(begins):
            lines += [*working_lines(working, plan.project), ""]
    return tuple(lines)
