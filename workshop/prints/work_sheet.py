"""The work sheet, filled: every question with its answer, every formula with the knitter's figures.

A sheet is made from the questions and from the workings of a plan, so that it cannot differ from them.
"""

import re
from collections.abc import Iterable, Iterator, Sequence

from workshop.core.calculation import Calculation
from workshop.core.plan import Plan
from workshop.prints.blocks import RULED, Block, Document, Grid, Items, Paragraph, Section
from workshop.project import STEPS, Project
from workshop.questions import Field, Group
from workshop.questions.kinds import Choice, CountOver, Whole
from workshop.questions.steps import groups
from workshop.steps import step
from workshop.words.calculations.by_step import step_of_working
from workshop.words.calculations.in_inches import working_in
from workshop.words.phrase import figured, in_terms, in_terms_of, worded, working_lines


def filled_sheet(plan: Plan) -> Document:
    """Every question with its answer, and every formula with the knitter's figures in it."""
    project = plan.project
    sections = []
    for name in STEPS:
        blocks: list[Block] = list(questions(name, project, blank=False))
        for working in plan.workings:
            if step_of_working(working.key) == name and not not_for_a_pencil(working):
                blocks += _worked(working, project)
        sections.append(section(name, blocks, project))
    sure: list[Block] = [Paragraph(HOW_SURE)]
    for working in plan.workings:
        if not_for_a_pencil(working):
            sure += _worked(working, project)
    sections.append(Section("How sure the numbers are", tuple(sure) if len(sure) > 1 else ()))
    title = project.title or "A jumper without a name yet"
    return Document(f"Work sheet: {title}", tuple(s for s in sections if s.blocks))


HOW_SURE = (
    "Give or take, worked out with roots and a table of Student's t. These pages can be left out: every other sum of "
    "the sheet is done without them."
)


def not_for_a_pencil(working: Calculation) -> bool:
    """Whether a formula has a root, or a figure that comes of one: how sure a number is."""
    return any(word in working.formula for word in ("√", "give or take"))


def section(name: str, blocks: list[Block], project: Project) -> Section:
    """A step of a sheet, with what it is for."""
    about = step(name)
    if blocks:
        blocks = [Paragraph(in_terms(about.what, project.terms)), *blocks]
    return Section(f"{about.number}. {in_terms(about.title, project.terms)}", tuple(blocks))


# ── questions ────────────────────────────────────────────────────────────────────────────────────────


def questions(name: str, project: Project, *, blank: bool) -> list[Block]:
    """The questions of a step; groups of one kind (swatch by swatch) stand side by side."""
    kinds: dict[str, list[Group]] = {}
    for group in groups(name, project):
        kinds.setdefault(group.name.split(".")[0], []).append(group)
    blocks: list[Block] = []
    for alike in kinds.values():
        grid = _grid(alike, project, blank=blank)
        if grid.rows:
            blocks += [Paragraph(told) for told in (_counting(alike, project) if blank else ())]
            blocks.append(grid)
    return blocks


def _counting(alike: Sequence[Group], project: Project) -> Iterator[str]:
    """How counts are taken that are asked for in several places."""
    told = {f.question.key: f.question for g in alike for f in g.fields if isinstance(f.question.kind, CountOver)}
    for question in told.values():
        hint = worded(question.told(project), project)
        yield f"{in_terms(question.asks, project.terms)}: {hint}."


def _grid(alike: Sequence[Group], project: Project, *, blank: bool) -> Grid:
    """One row for each question; a sheet that is filled leaves out what was not answered."""
    asked = {f.label: f for group in alike for f in group.fields}
    rows = []
    for label, field in asked.items():
        found = [next((f for f in group.fields if f.label == label), None) for group in alike]
        answers = tuple(_room(f, project) if blank else f.shown(project) if f else "" for f in found)
        if blank or any(answers):
            rows.append((_asked(field, project, blank=blank, alone=len(alike) == 1), *answers))
    titles = [in_terms_of(g.title, project) for g in alike]
    head = (titles[0], "") if len(alike) == 1 else ("", *titles)
    return Grid(head, tuple(rows))


def _room(field: Field | None, project: Project) -> str:
    """What stands in an empty cell: for a count the place of its distance."""
    return f"over {RULED} {project.units}" if field and isinstance(field.question.kind, CountOver) else ""


def _asked(field: Field, project: Project, *, blank: bool, alone: bool) -> str:
    """The wording of a question; on a blank sheet with its choices or, where there is room, how to find the answer."""
    label, kind = in_terms_of(field.label, project), field.question.kind
    if not blank:
        return label
    told = worded(field.question.told(project), project) if alone else ""
    if isinstance(kind, Whole) and kind.high <= SCALE:
        told = f"{kind.low} to {kind.high}"
    if isinstance(kind, Choice):
        of_swatches = field.key == "design.swatch"
        ready = [str(o.value) if of_swatches else o.label for o in kind.options(project) if o.ready]
        choices = " / ".join(ready)
        told = choices if len(ready) > 1 and len(choices) <= LONGEST_CHOICES else told
    return f"{label} ({told})" if told else label


SCALE = 5
"""Whole numbers up to this are marks for how something is liked."""

LONGEST_CHOICES = 130
"""Characters of a list of answers that a cell has room for."""


# ── formulas ─────────────────────────────────────────────────────────────────────────────────────────


def _worked(working: Calculation, project: Project) -> list[Block]:
    """A number, its formula in words, and the formula with the figures in it."""
    first, formula, _, *rest = working_lines(working, project)
    working = working_in(working, project.units)
    figures = {f.name: figured(f) for f in working.figures}
    lines = [formula.strip(), f"= {put_in(working.formula, figures)}", *(line.strip() for line in rest)]
    return [Paragraph(first, "head"), Items(tuple(lines), bare=True)]


def put_in(formula: str, figures: dict[str, str]) -> str:
    """A formula with the names of its figures replaced; a longer name comes before one that it contains."""
    if not figures:
        return formula
    return names_of(figures).sub(lambda m: figures[m[0]], formula)


def names_of(figures: Iterable[str]) -> re.Pattern[str]:
    """Finds the names of figures in a formula; a longer name comes before one that it contains."""
    names = sorted(figures, key=len, reverse=True)
    return re.compile("|".join(rf"(?<!\w){re.escape(n)}(?!\w)" for n in names))
