"""The work sheet, filled: every question with its answer, every formula with the knitter's figures.

A sheet is made from the questions and from the workings of a plan, so that it cannot differ from them.
"""

from collections.abc import Iterator, Sequence

from workshop.core.calculation import Calculation
from workshop.core.plan import Plan
from workshop.core.plan_mark import plan_mark
from workshop.prints.blocks import RULED, Block, Document, Grid, Items, Paragraph, Section, Sums
from workshop.prints.document import title_of
from workshop.prints.formulas import Formula, formulas, in_general, is_read_across, put_in, read_across
from workshop.project import STEPS, Project
from workshop.questions import Field, Group
from workshop.questions.fibre import TERMS
from workshop.questions.kinds import Choice, CountOver, Whole
from workshop.questions.steps import groups
from workshop.steps import step
from workshop.units import plain_number, show_small
from workshop.words.calculations.by_step import step_of_working
from workshop.words.calculations.in_inches import working_in
from workshop.words.phrase import LEAST_TOLD_CM, figured, in_terms, in_terms_of, rounding_words, valued, worded


def filled_sheet(plan: Plan) -> Document:
    """Every question with its answer, and every formula with the knitter's figures in it."""
    project = plan.project
    sections = []
    for name in STEPS:
        blocks: list[Block] = list(questions(name, project, blank=False))
        by_hand = (w for w in plan.workings if step_of_working(w.key) == name and not not_for_a_pencil(w))
        blocks += [_worked(f, project) for f in formulas(by_hand, project.units)]
        sections.append(section(name, blocks, project))
    sure: list[Block] = [Paragraph(HOW_SURE)]
    for one in formulas(filter(not_for_a_pencil, plan.workings), project.units):
        sure += _how_sure(one, project)
    sections.append(Section("How sure the numbers are", tuple(sure) if len(sure) > 1 else ()))
    kept = tuple(s for s in sections if s.blocks)
    return Document(f"Work sheet: {title_of(plan)}", kept, mark=plan_mark(plan) or "", in_columns=True)


HOW_SURE = (
    "These sums need square roots and a table of Student's t. You can skip these pages: nothing else here needs them."
)


def not_for_a_pencil(working: Calculation) -> bool:
    """Whether a formula has a root, or a figure that comes of one: how sure a number is."""
    return any(word in working.formula for word in ("√", "margin of error"))


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
    asked = {f.label: f for group in alike for f in group.fields if f.question not in NOT_ON_PAPER}
    rows: list[tuple[str, ...]] = []
    told: set[str] = set()
    for label, field in asked.items():
        found = [next((f for f in group.fields if f.label == label), None) for group in alike]
        answers = tuple(_room(f, project) if blank else f.shown(project) if f else "" for f in found)
        if blank or any(answers):
            words = _asked(field, project, blank=blank, alone=len(alike) == 1)
            rows.append((_once(words, told), *answers))
    titles = [in_terms_of(g.title, project) for g in alike]
    head = (titles[0], "") if len(alike) == 1 else ("", *titles)
    return Grid(head, tuple(rows))


NOT_ON_PAPER = (TERMS,)
"""A sheet is in one country's words already, and does not show the other's."""


def _once(words: str, told: set[str]) -> str:
    """A question without the help in brackets that one above it has given."""
    question, _, help_in_brackets = words.partition(" (")
    if len(help_in_brackets) > SHORT and help_in_brackets in told:
        return question
    told.add(help_in_brackets)
    return words


SHORT = 20
"""Characters of a help that is said again with every question: "1 to 5"."""


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


def _worked(sums: Formula, project: Project) -> Sums:
    """A formula with the knitter's figures in it: a row for each result, and who says so."""
    across = read_across(sums.formula, sums.shown)
    shown = [working_in(w, project.units) for w in sums.workings]
    columns = [_figures(name, sums, shown) for name in sums.names]
    rules, units = list(dict.fromkeys(w.rounded_to for w in sums.workings)), {w.unit for w in shown}
    unit = units.pop() if len(units) == 1 else ""
    heads = (_with_unit(in_terms(n, project.terms), c) for n, c in zip(across, columns, strict=True))
    head = ("", *heads, f"= {unit}".rstrip(), *(["rounded"] if any(rules) else []))
    rows = tuple(
        (_labelled(working, project, rules), *(cells[i] for cells, _ in columns), *_results(known, unit))
        for i, (working, known) in enumerate(zip(sums.workings, shown, strict=True))
    )
    grid = Grid(head, tuple((*row, "")[: len(head)] for row in rows))
    told = _told(rules, sums, project)
    return Sums(in_terms(sums.formula, project.terms), told, grid, spelled=is_read_across(sums, across))


def _results(known: Calculation, unit: str) -> tuple[str, ...]:
    """What a formula comes to, and what that was rounded to; without the unit that the head says."""
    value = valued(known.value, known.unit).removesuffix(f" {unit}" if unit else "")
    return (plain_number(known.exact, 3), value) if known.rounding else (value,)


def _told(rules: Sequence[str], sums: Formula, project: Project) -> str:
    """How all results were rounded, where they are alike in that, and who says so."""
    told = [f"rounded {rounding_words(rules[0])}"] if len(rules) == 1 and rules[0] else []
    sources = dict.fromkeys(in_terms(w.source, project.terms) for w in sums.workings if w.source)
    told += [f"source: {'; '.join(sources)}"] if sources else []
    return "; ".join(told)


Column = tuple[list[str], str]
"""Cells of a figure, and the unit of them all; empty where they have none or not the same."""


def _figures(name: str, sums: Formula, shown: Sequence[Calculation]) -> Column:
    """A figure of a formula in all its workings, as the knitter reads it."""
    found = []
    for working, known in zip(sums.workings, shown, strict=True):
        names = [in_general(f.name, working.formula) for f in working.figures]
        found.append(known.figures[names.index(name)] if name in names else None)
    units = {f.unit for f in found if f}
    unit = units.pop() if len(units) == 1 else ""
    return [(figured(f).removesuffix(f" {unit}") if unit else figured(f)) if f else "" for f in found], unit


def _with_unit(name: str, column: Column) -> str:
    """The head of a column: a figure with its unit, where its name does not say that."""
    unit = column[1]
    return f"{name} ({unit})" if unit and unit not in name.replace("(", " ").split() else name


def _labelled(working: Calculation, project: Project, rules: Sequence[str]) -> str:
    """What is worked out, how it was rounded where that differs in the table, and what rounding cost."""
    told = [f"rounded {rounding_words(working.rounded_to)}"] if len(rules) > 1 and working.rounded_to else []
    told += filter(None, [_cost(working, project)])
    label = in_terms(working_in(working, project.units).label, project.terms)
    return f"{label} ({'; '.join(told)})" if told else label


def _cost(working: Calculation, project: Project) -> str:
    """What rounding cost in length; nothing where it would be printed as nought."""
    cost_cm = working.difference_cm
    if cost_cm is None or abs(cost_cm) < LEAST_TOLD_CM[project.units]:
        return ""
    return f"{show_small(abs(cost_cm), project.units)} {'more' if cost_cm > 0 else 'less'}"


def _how_sure(sums: Formula, project: Project) -> list[Block]:
    """A formula that has no columns, for its figures stand in it more than once; then each result with its figures."""
    lines = []
    for working in sums.workings:
        shown = working_in(working, project.units)
        figures = {f.name: figured(f) for f in shown.figures}
        label = in_terms(shown.label, project.terms)
        lines.append(f"{label}: {put_in(shown.formula, figures)} = {valued(shown.value, shown.unit)}")
    sources = dict.fromkeys(in_terms(w.source, project.terms) for w in sums.workings if w.source)
    told = (Items((f"source: {'; '.join(sources)}",), bare=True),) if sources else ()
    return [Paragraph(f"= {in_terms(sums.formula, project.terms)}", "head"), *told, Items(tuple(lines))]
