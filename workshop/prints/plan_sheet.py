"""The finished plan on paper: what to knit from at the kitchen table, with a box for every row."""

import re
from collections.abc import Sequence
from dataclasses import replace

from workshop.core.constructions import construction
from workshop.core.edgings import edging
from workshop.core.fabric.colours import palette
from workshop.core.knitting.needles import at_the_needles
from workshop.core.making.centre_panels import CentrePanel
from workshop.core.making.ledger import Piece
from workshop.core.making.roles import SLEEVE
from workshop.core.necklines import neckline
from workshop.core.plan import Plan
from workshop.core.plan_mark import plan_mark
from workshop.prints.blocks import Block, Document, Drawing, Grid, Items, Paragraph, RowBoxes, Section, Table
from workshop.prints.dated import today
from workshop.prints.document import (
    abbreviations_section,
    band_sections,
    cautions_section,
    chest_ease_cm,
    finishing_section,
    gauges_table,
    measurements,
    pattern_section,
    progress_section,
    shapes_of,
    summary,
    title_of,
    worth_knowing,
    yarn_named,
    yarn_section,
)
from workshop.progress import progress
from workshop.project import Project
from workshop.units import show_length, show_range
from workshop.words.at_needles import told
from workshop.words.before import before_knitting
from workshop.words.colours import bands_of, by_its_letter
from workshop.words.drawn import schematic_notes
from workshop.words.instructions import PieceWords, instructions
from workshop.words.log import log_rows
from workshop.words.needle_sizes import edges_of, finer_needle, needle_in_use
from workshop.words.phrase import capitalised, counted, in_terms, in_terms_of, joined, needle_to_knit_with
from workshop.words.rows.row_actions import back_and_forth, deeds, noun

ROWS = re.compile(r"(?:Row|Round|Short row)s? (\d+)(?: to (\d+))?\b")
"""How an instruction begins that covers rows."""

FROM_ROW = re.compile(r"From (?:row|round) (\d+) on\b")
"""How an instruction begins that tells of a change in the middle of the rows that follow."""

TOGETHER = re.compile(r"(?:shaped as|with the shaping in) the next (\d+) lines")
"""How an instruction ends whose rows are shaped in several ways at once."""

ITS_ROW = re.compile(r" on (?:row|round) \d+$")

ROW_NOTE = (
    "Each small box stands for a row or round. Cross out each box when you've knitted its row. Bold boxes mark "
    "shaping rows."
)


def plan_sheet(plan: Plan) -> Document:
    """The finished plan; for a project under way, what is known and what is still to answer."""
    if not plan.made.pieces:
        return summary(plan)
    still_open, told = _open(plan), instructions(plan)
    notes = map(Paragraph, schematic_notes(plan))
    schematic = Section(
        "Schematic", (Drawing((), shapes_of(plan)), *notes)
    )  # it does not break: it stands where it fits
    yarn = (replace(yarn_section(plan), whole=True), Section("Care", (Paragraph(_care(plan)),), whole=True))
    sections = [
        *still_open,
        *_knitting(plan),
        _at_a_glance(plan),
        *((*yarn, schematic, measurements(plan)) if still_open else (schematic, measurements(plan), *yarn)),
        worth_knowing(plan),
        abbreviations_section(plan, told),
        Section("Before the first row", (Items(before_knitting(plan)),)),
        pattern_section(plan),
        *band_sections(plan),
    ]
    for number, piece in enumerate(told):
        sections.append(_piece(piece, plan, first=number == 0))
    sections.append(finishing_section(plan))
    if plan.cautions:
        sections.append(cautions_section(plan))
    sections += _log(plan)
    sections.append(
        Section("My notes", (Grid(("Date", "What I changed, and what I saw"), (("", ""),) * 5),), whole=True)
    )
    return Document(title_of(plan), tuple(s for s in sections if s.blocks), mark=plan_mark(plan) or "")


def _open(plan: Plan) -> list[Section]:
    """What is still to do, before anything else; nothing where all is done. The mark stands at the head of a print."""
    if all(s.state == "done" for s in progress(plan)):
        return []
    told = progress_section(plan)
    return [replace(told, blocks=told.blocks[:-1])]


def _at_a_glance(plan: Plan) -> Section:
    """The numbers that one looks for: yarn, needles, gauge, size."""
    assert plan.gauge is not None
    project = plan.project
    rows = [("Yarn", yarn_named(project)), ("Buy", _to_buy(plan)), ("Needles", _needles(plan)), *_size(plan)]
    rows.append(("Shape", _shape(plan)))
    pattern = next((p.pattern.pattern for p in plan.made.pieces if p.pattern), None)
    rows.append(("Fabric", pattern.name if pattern else ""))
    rows.append(("Panel", "; ".join(_panels(plan.made.panels, project))))
    rows.append(("Colors", "; ".join(by_its_letter(c) for c in palette(project, plan.made))))
    bands = list(dict.fromkeys(b.pattern.name for b in bands_of(plan)))
    rows.append(("Bands", f"{joined(bands)}, around the yoke" if bands else ""))
    shown = tuple((in_terms(name, project.terms), in_terms_of(text, project)) for name, text in rows if text)
    return Section("At a glance", (Table(("", ""), shown), gauges_table(plan.gauge, project)))


def _panels(panels: Sequence[CentrePanel], project: Project) -> list[str]:
    """What each panel is, and where; those that are alike together."""
    alike: dict[str, list[str]] = {}
    for panel in panels:
        wide = show_length(panel.width_cm, project.units)
        what = f"{panel.pattern.name}, {counted(panel.stitches, 'stitch', 'stitches')}, {wide}"
        alike.setdefault(what, []).append("the sleeves" if panel.on == "sleeve" else f"the {panel.on}")
    return [f"{what}, up {joined(where)}" for what, where in alike.items()]


SLEEVES = {"long": "long sleeves", "elbow": "sleeves to the elbow", "short": "short sleeves"}
SIDES = {"straight": "straight sides", "shaped": "sides shaped at the waist"}


def _shape(plan: Plan) -> str:
    """The answers to the shape in two or three sentences."""
    chosen = plan.project.garment
    made = construction(chosen.construction)
    opened = chosen.front == "open"
    if made.in_one_piece:
        worked = "in one piece" + (", back and forth" if opened else ", in the round")
    elif chosen.worked == "round":
        worked = "in one piece to the underarm, back and forth" if opened else "in the round"
    else:
        worked = "flat, in pieces to sew"
    if opened and any(p.role is SLEEVE and p.worked == "round" for p in plan.made.pieces):
        worked += ", sleeves in the round"
    neck = f"{neckline(chosen.neckline).label.split(',')[0]} neck"
    bare = chosen.sleeve == "none"
    details = [neck, *([] if bare else [SLEEVES[chosen.sleeve or "long"]]), SIDES[chosen.waist or "straight"]]
    edged = [f"{'Hem rolls' if bare else 'Hem and cuffs roll'}, with no edging."] if chosen.hem == "none" else []
    if edges_of(plan):
        edged.append(f"{capitalised(edges_of(plan))} in {edging(edging(chosen.hem).bands).words}.")
    garment = "Cardigan" if opened else "Pullover"
    what = (
        f"Sleeveless {garment.lower()} with {made.with_it.replace('sleeves', 'armholes')}"
        if bare
        else f"{garment} with {made.with_it}"
    )
    return f"{what}, knitted {worked}. {capitalised(joined(details))}. {' '.join(edged)}"


def _to_buy(plan: Plan) -> str:
    if plan.yarn is None or plan.yarn.balls is None:
        return ""
    have = (plan.project.design_yarn.balls if plan.project.design_yarn else None) or 0
    more = plan.yarn.balls - have
    colours = [f"{counted(c.balls, 'ball')} {c.colour.upper()}" for c in plan.yarn.per_colour if c.balls]
    if len(colours) > 1 and not have:
        return f"{', '.join(colours)}, each color from one dye lot"
    buy = f"{counted(more, 'more ball' if have else 'ball')} from one dye lot" if more > 0 else "nothing more"
    return f"{buy} ({counted(plan.yarn.balls, 'ball')} in all; you have {have})" if have else buy


def _needles(plan: Plan) -> str:
    project = plan.project
    swatch = plan.gauge.swatch if plan.gauge else None
    if swatch is None or swatch.needle_mm is None:
        return ""
    finer_mm = finer_needle(plan, swatch.needle_mm)
    material = f" ({swatch.needle_material})" if swatch.needle_material else ""
    told = f"{needle_to_knit_with(swatch.needle_mm, project)}{material}"
    told += " throughout" if finer_mm is None else f"; {needle_to_knit_with(finer_mm, project)} for {edges_of(plan)}"
    now_mm = needle_in_use(plan)
    if now_mm is None or now_mm == swatch.needle_mm:
        return told
    return f"{told}; {needle_to_knit_with(now_mm, project)} since the change"


def _size(plan: Plan) -> list[tuple[str, str]]:
    units, finished = plan.project.units, plan.finished_cm
    reach, ease_cm = plan.ranges["chest"], chest_ease_cm(plan)
    chest = f"{show_length(finished['chest'], units)}, likely range {show_range(reach.low, reach.high, units)}"
    chest += f", ease {show_length(ease_cm, units)}" if ease_cm is not None else ""
    return [("Finished chest", chest), ("Finished length", show_length(finished["length"], units))]


def _care(plan: Plan) -> str:
    yarn = plan.project.design_yarn
    if yarn is None or not yarn.care:
        return (
            "Wash the garment the way you washed the swatch. Write the care advice from the ball band here, and keep "
            "the band."
        )
    told = capitalised(yarn.care).rstrip(".")
    return f"{told}, the way you washed the swatch. If you wash the garment differently, the size may change."


def _piece(piece: PieceWords, plan: Plan, *, first: bool) -> Section:
    """One piece: each instruction with its box, and below it the boxes of its rows; what is knitted is struck out."""
    marked = frozenset(r.row for r in piece.piece.rows if r.events)
    pair = _pair(piece, plan)
    at = [_row_of(p, plan) for p in pair]
    times = ("1st", "2nd") if len(pair) > 1 else ("",)
    blocks: list[Block] = [Paragraph(piece.measures + ".")]
    if first:
        blocks.append(Paragraph(ROW_NOTE))
    still_to_tell, merged = 0, None
    for line, done in zip(piece.lines, _struck(piece, min(at)), strict=True):
        blocks.append(Items((line,), ticked=True, done=done))
        found = ROWS.match(line)
        if found:
            begin, end = int(found[1]), int(found[2] or found[1])
            here = frozenset(r for r in marked if begin <= r <= end)
            blocks += [RowBoxes(begin, end, here, label, row) for label, row in zip(times, at, strict=True)]
            together = TOGETHER.search(line)
            if together:
                still_to_tell, merged = int(together[1]), _row_by_row(piece, (begin, end), plan)
        elif merged and line.startswith("At the same time"):
            still_to_tell -= 1
            if not still_to_tell:
                blocks.append(merged)
                merged = None
    return Section(piece.title, tuple(blocks), whole=len(blocks) <= SHORT)


SHORT = 8
"""Blocks of a piece that is so short that it stays on one page: a shoulder, a band."""


def _pair(piece: PieceWords, plan: Plan) -> tuple[Piece, ...]:
    """The piece; of two that are made alike and written once, both."""
    if "two alike" not in piece.title:
        return (piece.piece,)
    other = (p for p in plan.made.pieces if p.role is piece.piece.role and p is not piece.piece)
    return (piece.piece, *other)


def _row_of(piece: Piece, plan: Plan) -> int:
    """The row that was knitted last, by its number; 0 where none is."""
    known = plan.project.knitted(piece.name)
    return piece.rows[0].row - 1 + known.rows if known and known.rows and piece.rows else 0


def _struck(piece: PieceWords, row: int) -> list[bool]:
    """For each line whether it is done with ``row`` knitted: its rows are, or those of the line that follows."""
    done: list[bool] = []
    follows = row >= piece.piece.last_row
    for line in reversed(piece.lines):
        found = ROWS.match(line)
        from_row = FROM_ROW.match(line)
        if from_row:
            done.append(row >= int(from_row[1]))
        elif found:
            done.append(row >= int(found[2] or found[1]))
            follows = row >= int(found[1])
        elif line.startswith("'"):  # it explains words of rows to come
            done.append(row >= piece.piece.last_row)
        else:
            done.append(follows)
    done.reverse()
    for i, line in enumerate(piece.lines):  # what happens in the same rows is done with them
        if line.startswith("At the same time") and i:
            done[i] = done[i - 1]
    return done


def _knitting(plan: Plan) -> list[Section]:
    """Where the knitting is; nothing before it has begun."""
    if not any(known.rows for known in plan.project.knitting):
        return []
    now = told(at_the_needles(plan, today()), plan)
    return [Section("Where you are", (Items(now.lines, bare=True),))]


def _log(plan: Plan) -> list[Section]:
    """The log, where anything stands in it."""
    rows = log_rows(plan)
    return [Section("The log", (Table(("Date", "Piece", "What"), rows),))] if rows else []


def _row_by_row(piece: PieceWords, span: tuple[int, int], plan: Plan) -> Table:
    """What happens at the same time, merged: one line for each row in which anything does."""
    known = piece.piece
    rows = [r for r in known.rows if r.events and span[0] <= r.row <= span[1]]
    told = [(str(r.row), "; ".join(ITS_ROW.sub("", deed) for deed in deeds(known, [r])), str(r.after)) for r in rows]
    shown = tuple((row, in_terms_of(text, plan.project), after) for row, text, after in told)
    unit = "row" if rows and back_and_forth(rows[0], known) else noun(known)
    return Table((unit.capitalize(), f"The same, {unit} by {unit}", "Stitches after"), shown)
