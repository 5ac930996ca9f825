"""The finished plan on paper: what to knit from at the kitchen table, with a box for every row."""

import re

from workshop.core.plan import Plan
from workshop.prints.blocks import Block, Document, Drawing, Grid, Items, Paragraph, RowBoxes, Section, Table
from workshop.prints.document import (
    abbreviations_section,
    cautions_section,
    gauges_table,
    measurements,
    shapes_of,
    summary,
    where_it_stands,
    worth_knowing,
    yarn_section,
)
from workshop.progress import progress
from workshop.project import Project
from workshop.questions.steps import fields
from workshop.units import show_length, show_needle, show_range
from workshop.words.before import before_knitting, finer_needle
from workshop.words.instructions import PieceWords, finishing, instructions
from workshop.words.phrase import counted, in_terms_of
from workshop.words.rows.row_actions import deeds

ROWS = re.compile(r"(?:Row|Round|Short row)s? (\d+)(?: to (\d+))?\b")
"""How an instruction begins that covers rows."""

TOGETHER = re.compile(r"with the shaping in the next (\d+) lines")
"""How an instruction ends whose rows are shaped in several ways at once."""

ITS_ROW = re.compile(r" on (?:row|round) \d+$")

ROW_NOTE = "Each small box is a row: cross it out when it is knitted. In a row with a heavy box something happens."
SHAPE_KEYS = ("construction", "worked", "front", "neckline", "sleeve", "waist", "hem")


def plan_sheet(plan: Plan) -> Document:
    """The finished plan; for a project under way, what is known and what is still open."""
    if not plan.made.pieces:
        return summary(plan)
    sections = [
        *_open(plan),
        _at_a_glance(plan),
        measurements(plan),
        yarn_section(plan),
        Section("Care", (Paragraph(_care(plan)),)),
        worth_knowing(plan),
        abbreviations_section(plan),
        Section("Before the first row", (Items(before_knitting(plan)),)),
        Section("Schematic", (Drawing((), shapes_of(plan)),)),  # it does not break: text fills pages before it
    ]
    for number, piece in enumerate(instructions(plan)):
        sections.append(_piece(piece, plan, first=number == 0))
    sections.append(Section("Making up", (Items(finishing(plan), ticked=True),)))
    if plan.cautions:
        sections.append(cautions_section(plan))
    sections.append(Section("My notes", (Grid(("Date", "What I changed, and what I saw"), (("", ""),) * 5),)))
    return Document(plan.project.title or "A jumper without a name yet", tuple(s for s in sections if s.blocks))


def _open(plan: Plan) -> list[Section]:
    """What is still open, before anything else; nothing where all is done."""
    if all(s.state == "done" for s in progress(plan)):
        return []
    told = where_it_stands(plan)
    blocks = (_undone(b) if isinstance(b, Table) else b for b in told.blocks)
    return [Section(told.heading, tuple(blocks))]


def _undone(steps: Table) -> Table:
    """The table of steps without those that are done."""
    return Table(steps.head, tuple(row for row in steps.rows if row[1] != "done"))


def _at_a_glance(plan: Plan) -> Section:
    """The numbers that one looks for: yarn, needles, gauge, size."""
    assert plan.gauge is not None
    project = plan.project
    rows = [("Yarn", _yarn(project)), ("Buy", _to_buy(plan)), ("Needles", _needles(plan)), *_size(plan)]
    asked = {f.key: f for f in fields("shape", project)}
    chosen = [asked[f"garment.{k}"].shown(project) for k in SHAPE_KEYS if f"garment.{k}" in asked]
    rows.append(("Shape", "; ".join(filter(None, chosen))))
    shown = tuple((name, in_terms_of(text, project)) for name, text in rows if text or name == "Shape")
    return Section("At a glance", (Table(("", ""), shown), gauges_table(plan.gauge, project)))


def _yarn(project: Project) -> str:
    yarn = project.design_yarn
    if yarn is None:
        return ""
    blend = ", ".join(f"{p.percent:g} % {p.fibre}" for p in yarn.fibres)
    return ", ".join(filter(None, (yarn.name, yarn.weight, blend)))


def _to_buy(plan: Plan) -> str:
    if plan.yarn is None or plan.yarn.balls is None:
        return ""
    have = (plan.project.design_yarn.balls if plan.project.design_yarn else None) or 0
    more = plan.yarn.balls - have
    buy = f"{counted(more, 'ball')} {'more ' if have else ''}of one dye lot" if more > 0 else "nothing more"
    return f"{buy} ({counted(plan.yarn.balls, 'ball')} in all; you have {have})" if have else buy


def _needles(plan: Plan) -> str:
    project = plan.project
    swatch = plan.gauge.swatch if plan.gauge else None
    if swatch is None or swatch.needle_mm is None:
        return ""
    finer_mm, names = finer_needle(plan), project.needle_names
    told = [f"{show_needle(swatch.needle_mm, names)} {'throughout' if finer_mm is None else 'for the plain cloth'}"]
    if finer_mm is not None and project.garment.hem != "none":
        told.append(f"{show_needle(finer_mm, names)} for hem, cuffs and band")
    return "; ".join(filter(None, (*told, swatch.needle_material)))


def _size(plan: Plan) -> list[tuple[str, str]]:
    units, finished = plan.project.units, plan.made.finished_cm
    reach, ease = plan.ranges["chest"], plan.ease.get("chest")
    chest = f"{show_length(finished['chest'], units)}, likely {show_range(reach.low, reach.high, units)}"
    chest += f"; ease {show_length(ease.likely, units)}" if ease else ""
    return [("Finished chest", chest), ("Finished length", show_length(finished["length"], units))]


def _care(plan: Plan) -> str:
    yarn = plan.project.design_yarn
    if yarn is None or not yarn.care:
        return "Wash the garment as the swatch was washed; write the ball band's advice here and keep the band."
    return f"{yarn.care[0].upper()}{yarn.care[1:]}: as the swatch was washed, or its numbers are for another garment."


def _piece(piece: PieceWords, plan: Plan, *, first: bool) -> Section:
    """One piece: each instruction with its box, and below it the boxes of its rows."""
    marked = frozenset(r.row for r in piece.piece.rows if r.events)
    times = ("1st", "2nd") if "two alike" in piece.title else ("",)
    blocks: list[Block] = [Paragraph(piece.measures + ".")]
    if first:
        blocks.append(Paragraph(ROW_NOTE))
    waiting, merged = 0, None
    for line in piece.lines:
        blocks.append(Items((line,), ticked=True))
        found = ROWS.match(line)
        if found:
            begin, end = int(found[1]), int(found[2] or found[1])
            here = frozenset(r for r in marked if begin <= r <= end)
            blocks += [RowBoxes(begin, end, here, label) for label in times]
            together = TOGETHER.search(line)
            if together:
                waiting, merged = int(together[1]), _row_by_row(piece, (begin, end), plan)
        elif merged and line.startswith("At the same time"):
            waiting -= 1
            if not waiting:
                blocks.append(merged)
                merged = None
    return Section(piece.title, tuple(blocks))


def _row_by_row(piece: PieceWords, span: tuple[int, int], plan: Plan) -> Table:
    """What happens at the same time, merged: one line for each row in which anything does."""
    known = piece.piece
    rows = [r for r in known.rows if r.events and span[0] <= r.row <= span[1]]
    told = [(str(r.row), "; ".join(ITS_ROW.sub("", deed) for deed in deeds(known, [r])), str(r.after)) for r in rows]
    shown = tuple((row, in_terms_of(text, plan.project), after) for row, text, after in told)
    return Table(("Round" if known.worked == "round" else "Row", "The same, row by row", "Stitches then"), shown)
