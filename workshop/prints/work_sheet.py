"""Work sheets: every question and every formula, filled with the knitter's figures or left to be filled.

A sheet is made from the questions and from the workings of a plan, so that it cannot differ from them.
"""

import re
from collections.abc import Sequence

from workshop.core.plan import Plan
from workshop.core.working import Working
from workshop.prints.document import Items, Paragraph
from workshop.prints.sheet import RULED, Grid, Sheet, SheetBlock, SheetSection
from workshop.project import STEPS, Project
from workshop.questions import Field, Group
from workshop.questions.kinds import Choice, Whole
from workshop.questions.steps import groups, step
from workshop.words.answers import step_of_working
from workshop.words.inches import working_in
from workshop.words.phrase import in_terms, rounding_words, valued, worded, working_lines

LEFT_TO_THE_WORKSHOP = (
    "How sure each number is (give or take) takes roots and a table of Student's t: the workshop works it out and "
    "shows how."
)


def filled_sheet(plan: Plan) -> Sheet:
    """Every question with its answer, and every formula with the knitter's figures in it."""
    project = plan.project
    sections = []
    for name in STEPS:
        blocks: list[SheetBlock] = list(_questions(name, project, blank=False))
        for working in plan.workings:
            if step_of_working(working.key) == name:
                blocks += _worked(working, project)
        sections.append(_section(name, blocks, project, fresh=False))
    title = project.title or "A jumper without a name yet"
    return Sheet(f"Work sheet: {title}", tuple(s for s in sections if s.blocks))


def blank_sheet(model: Plan, layout: Project) -> Sheet:
    """A sheet for a class: the questions that ``layout`` is asked, and the formulas of ``model`` to be filled in.

    Units, terms and needle names are those of ``layout``.
    """
    sections = []
    told: set[tuple[str, str]] = set()
    for name in STEPS:
        blocks: list[SheetBlock] = list(_questions(name, layout, blank=True))
        for working in (working_in(w, layout.units) for w in model.workings):
            label, formula = _nameless(working.label), _nameless(working.formula)
            wanted = step_of_working(working.key) == name and not working.key.startswith(REPEATS)
            if not wanted or "√" in formula or (label, formula) in told:
                continue
            told.add((label, formula))
            blocks += _to_fill_in(working, label, formula, layout)
        if name == "gauge":
            blocks.append(Paragraph(LEFT_TO_THE_WORKSHOP))
        sections.append(_section(name, blocks, layout, fresh=name != STEPS[0]))
    return Sheet("Work sheet", tuple(s for s in sections if s.blocks))


REPEATS = ("gauge.",)
"""Workings that are those of the chosen swatch once more."""


def _section(name: str, blocks: list[SheetBlock], project: Project, *, fresh: bool) -> SheetSection:
    about = step(name)
    if blocks:
        blocks = [Paragraph(in_terms(about.what, project.terms)), *blocks]
    return SheetSection(f"{about.number}. {about.title}", tuple(blocks), fresh=fresh)


# ── questions ────────────────────────────────────────────────────────────────────────────────────────


def _questions(name: str, project: Project, *, blank: bool) -> list[SheetBlock]:
    """The questions of a step; groups of one kind (swatch by swatch) stand side by side."""
    kinds: dict[str, list[Group]] = {}
    for group in groups(name, project):
        kinds.setdefault(group.name.split(".")[0], []).append(group)
    grids = (_grid(alike, project, blank=blank) for alike in kinds.values())
    return [grid for grid in grids if grid.rows]


def _grid(alike: Sequence[Group], project: Project, *, blank: bool) -> Grid:
    """One row for each question; a sheet that is filled leaves out what was not answered."""
    asked = {f.label: f for group in alike for f in group.fields}
    rows = []
    for label, field in asked.items():
        found = [next((f for f in group.fields if f.label == label), None) for group in alike]
        answers = tuple("" if blank or f is None else f.shown(project) for f in found)
        if blank or any(answers):
            rows.append((_asked(field, project, blank=blank, alone=len(alike) == 1), *answers))
    titles = [in_terms(g.title, project.terms) for g in alike]
    head = (titles[0], "") if len(alike) == 1 else ("", *titles)
    return Grid(head, tuple(rows))


def _asked(field: Field, project: Project, *, blank: bool, alone: bool) -> str:
    """The wording of a question; on a blank sheet with its choices or, where there is room, how to find the answer."""
    label, kind = in_terms(field.label, project.terms), field.question.kind
    if not blank:
        return label
    told = worded(field.question.hint, project) if alone else ""
    if isinstance(kind, Whole) and kind.high <= SCALE:
        told = f"{kind.low} to {kind.high}"
    if isinstance(kind, Choice):
        ready = [in_terms(o.label, project.terms) for o in kind.options(project) if o.ready]
        choices = " / ".join(ready)
        told = choices if len(ready) > 1 and len(choices) <= LONGEST_CHOICES else told
    return f"{label} ({told})" if told else label


SCALE = 5
"""Whole numbers up to this are marks for how something is liked."""

LONGEST_CHOICES = 130
"""Characters of a list of answers that a cell has room for."""


# ── formulas ─────────────────────────────────────────────────────────────────────────────────────────


def _worked(working: Working, project: Project) -> list[SheetBlock]:
    """A number, its formula in words, and the formula with the figures in it."""
    first, formula, _, *rest = working_lines(working, project)
    working = working_in(working, project.units)
    figures = {f.name: valued(f.value, f.unit) for f in working.figures}
    lines = [formula.strip(), f"= {put_in(working.formula, figures)}", *(line.strip() for line in rest)]
    return [Paragraph(first, "head"), Items(tuple(lines), bare=True)]


def _to_fill_in(working: Working, label: str, formula: str, project: Project) -> list[SheetBlock]:
    """The same without any figure."""
    name = in_terms(label, project.terms)
    spaces = {f.name: RULED for f in working.figures}
    line = f"= {put_in(working.formula, spaces)} = {RULED}"
    if working.rounding:
        line += f", taken {rounding_words(working.rounded_to)}: {RULED}"
    told = working.unit and working.unit.split()[0] not in name.casefold()
    head = f"{name} ({working.unit})" if told else name
    return [Paragraph(head, "head"), Items((f"= {in_terms(formula, project.terms)}", line), bare=True)]


def put_in(formula: str, figures: dict[str, str]) -> str:
    """A formula with the names of its figures replaced; a longer name comes before one that it contains."""
    if not figures:
        return formula
    names = sorted(figures, key=len, reverse=True)
    pattern = "|".join(rf"(?<!\w){re.escape(n)}(?!\w)" for n in names)
    return re.sub(pattern, lambda m: figures[m[0]], formula)


def _nameless(text: str) -> str:
    """A label of one swatch for any swatch, a formula of one blend for any blend."""
    return re.sub(r"(share|sizes) (\d) \([^)]*\)", r"\1 \2", re.sub(r"\b([Ss]watch) [A-Z]\w*\b", r"\1 ___", text))
