"""The finished plan as a document: headings, paragraphs, tables and drawings, in no format yet."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import combinations

from workshop.core.cloth.wash import DesignGauge
from workshop.core.constructions import construction
from workshop.core.making.ledger import Piece
from workshop.core.making.roles import NECKBAND, SHOULDER, WHOLE_BAND
from workshop.core.plan import Plan
from workshop.core.plan_mark import plan_mark
from workshop.pictures.chart import Chart
from workshop.pictures.outline import Outline
from workshop.pictures.schematic import outlines
from workshop.pictures.text import schematic_text
from workshop.prints.blocks import Block, Document, Drawing, Items, Paragraph, Section, Table
from workshop.progress import next_step, progress
from workshop.project import Project, Terms
from workshop.questions.steps import asked_as
from workshop.steps import step
from workshop.tables.glossary import abbreviations_in, words, words_in
from workshop.tables.trade_rules import CautionText
from workshop.tables.yarn_weights import weight_called
from workshop.units import (
    difference_shown,
    show_gauge,
    show_length,
    show_mass,
    show_range,
    show_yarn_length,
)
from workshop.words.answers.of_garment import budget_lines, finished_name
from workshop.words.answers.of_steps import answers
from workshop.words.answers.yarn_to_buy import yarn_lines
from workshop.words.before import before_knitting
from workshop.words.charts import chart_key, charts, colour_charts
from workshop.words.drawn import hem_is_above_edging, neck_stretch, schematic_notes
from workshop.words.instructions import PieceWords, finishing, instructions, whence
from workshop.words.phrase import (
    counted,
    in_terms,
    in_terms_of,
    likely_gauge,
    needle_to_knit_with,
    say_check,
    working_lines,
)
from workshop.words.rows.row_actions import all_rows

SCHEMATIC_COLUMNS = 76
"""Room for the schematic in a terminal of 80 columns."""


def shapes_of(plan: Plan) -> tuple[Outline, ...]:
    """Outlines of the pieces, if there are any."""
    if plan.gauge is None:
        return ()
    called = construction(plan.project.garment.construction).drawn
    return tuple(
        replace(s, measures=tuple(replace(m, what=called.get(m.what, m.what)) for m in s.measures))
        for s in outlines(plan.made.pieces, plan.gauge.cloth)
    )


def summary(plan: Plan, *, workings: bool = False, plain: bool = False, columns: int = SCHEMATIC_COLUMNS) -> Document:
    """The final summary. ``workings`` adds every number's working, ``plain`` draws without block characters.

    ``columns`` is the room for drawings.
    """
    sections = [progress_section(plan)]
    if plan.made.pieces:
        told = instructions(plan)
        sections += [
            measurements(plan),
            worth_knowing(plan),
            _fabric(plan),
            _schematic(plan, plain, columns),
            yarn_section(plan),
            _pieces(plan),
            abbreviations_section(plan, told),
            *_instructions(plan, told, plain),
            finishing_section(plan),
        ]
    else:
        sections += _so_far(plan)
    if plan.cautions:
        sections.append(cautions_section(plan))
    if workings and plan.workings:
        sections.append(_workings(plan))
    return Document(title_of(plan), tuple(s for s in sections if s.blocks), mark=plan_mark(plan) or "")


def title_of(plan: Plan) -> str:
    """The name of the project, or words for one that has none yet."""
    return plan.project.title or in_terms("A sweater without a name yet", plan.project.terms)


def progress_section(plan: Plan) -> Section:
    """What is done, what is still to answer, what comes next, all questions of the checks, and the mark of the plan."""
    steps = progress(plan)
    upcoming = next_step(steps)
    blocks: list[Block] = []
    titles = {s.name: in_terms(step(s.name).title, plan.project.terms) for s in steps}
    done = [titles[s.name] for s in steps if s.state == "done"]
    if len(done) == len(steps):
        blocks.append(Paragraph("All steps are done: this is the plan to knit from."))
    else:
        if done:
            blocks.append(Paragraph(f"Done: {', '.join(done)}."))
        rows = [
            (titles[s.name], s.state, shortened(_open(s.missing, plan.project) or s.because))
            for s in steps
            if s.state != "done"
        ]
        blocks.append(Table(("Step", "State", "Still to do"), tuple(rows)))
        upcoming_step = step(upcoming.name)
        text = f"Next: {upcoming_step.title}. {upcoming_step.what}"
        blocks.append(Paragraph(in_terms_of(text, plan.project)))
    for check in plan.checks:
        if check.level in ("stop", "look"):
            blocks.append(Paragraph(say_check(check, plan.project), check.level))
    mark = plan_mark(plan)
    if mark is not None:
        blocks.append(Paragraph(f"Plan mark {mark}. A printout with a different mark shows an older plan."))
    return Section("Progress", tuple(blocks))


MOST_IN_A_CELL = 60
"""Characters of a text of any length that a table has room for."""


def shortened(text: str) -> str:
    """A text that would fill line after line of a narrow cell, cut at a word where there is one."""
    if len(text) <= MOST_IN_A_CELL:
        return text
    cut = text[: MOST_IN_A_CELL - 1]
    return f"{cut.rsplit(' ', 1)[0] if ' ' in cut[MOST_IN_A_CELL // 2 :] else cut} …"


def worth_knowing(plan: Plan) -> Section:
    """What the workshop noticed about body and shape, and what the knitter has confirmed."""
    told = [say_check(c, plan.project) for c in plan.checks if c.level == "note" and c.step in ("measure", "shape")]
    told += filter(None, [neck_stretch(plan)])
    return Section("Worth knowing", (Items(tuple(told)),) if told else ())


def _open(keys: tuple[str, ...], project: Project) -> str:
    """Names of missing answers, for people."""
    words = [asked_as(k, project) for k in keys]
    return "; ".join(words[:4]) + (" …" if len(words) > 4 else "")


BODY_OF = {"sleeve": "sleeve_underarm"}
"""The measure of the body that a finished one goes by, where they have other names."""


def _compared(part: str, plan: Plan) -> bool:
    """Whether a finished measurement has a measure of the body beside it: a dropped shoulder covers part of the arm."""
    if part == "sleeve":
        at_the_arm = "neck_to_cuff" not in plan.finished_cm  # that says more, where it is
        return plan.project.garment.sleeve == "long" and at_the_arm
    return part in plan.ease or part in ("cross_back", "armhole_depth", "neck_to_cuff")


def measurements(plan: Plan) -> Section:
    """Finished measurements with their ranges, beside the body."""
    units = plan.project.units
    rows = []
    for part, size in plan.finished_cm.items():
        reach, body = plan.ranges[part], plan.wearer.measures.get(part)
        body = body or plan.wearer.measures.get(BODY_OF.get(part, "")) if _compared(part, plan) else None
        shown_body = ""
        if body is not None:
            shown_body = show_length(body.value_cm, units) + ("" if body.origin == "own" else f" ({body.origin})")
        rows.append(
            (
                finished_name(part, plan)
                + (", above its edging" if part == "hip" and hem_is_above_edging(plan) else ""),
                show_length(size, units),
                show_range(reach.low, reach.high, units),
                shown_body,
                show_length(difference_shown(size, body.value_cm, units), units) if body else "",
            )
        )
    hung = plan.gauge is not None and plan.gauge.state == "hung"
    text = (
        f"Finished means washed, dry and {'hanging' if hung else 'lying flat'}. 19 times in 20 the real size falls "
        "within the likely range. The range allows for uneven knitting, for errors in reading the ruler, and for your "
        "gauge changing over the weeks."
    )
    if (plan.made.first(NECKBAND) or plan.made.first(WHOLE_BAND)) and {
        "neck_width",
        "front_neck_depth",
    } & plan.finished_cm.keys():
        text += " The neck is measured without its band."
    if plan.finished_cm.get("front_neck_depth", 0.0) > plan.finished_cm.get("armhole_depth", float("inf")):
        text += (
            " A neck is measured from the top of the shoulder, and an armhole from the lower, outer end of the "
            "shoulder slope."
        )
    head = ("Measurement", "Finished", "Likely range", "Body", "Ease")
    blocks: list[Block] = [Table(head, tuple(rows))]
    if plan.project.knitting:  # what is said at the needles is read only there
        from workshop.words.at_needles import comes_out_lines

        blocks += [Paragraph(t) for t in comes_out_lines(plan)]
    blocks += [Paragraph(in_terms(text, plan.project.terms))]
    return Section("Finished measurements", (*blocks, *(Paragraph(t) for t in budget_lines(plan))))


def _of_swatch(plan: Plan, name: str) -> list[str]:
    """What the wash step says of the chosen swatch, each state by name; nothing of the others."""
    lines, state, mine = [], "", False
    for line in answers("wash", plan):
        if line.kind == "heading":
            mine = line.text.startswith((f"Swatch {name},", "Planned"))
            state = line.text.split(", ")[1].split(" (")[0].capitalize() if line.text.startswith("Swatch") else ""
        elif mine and line.kind in ("figure", "text"):
            lines.append(f"{state}: {line.text}" if state and line.working.endswith("_per_10cm") else line.text)
    return lines


def _fabric(plan: Plan) -> Section:
    assert plan.gauge is not None
    swatch = plan.gauge.swatch
    lines = _of_swatch(plan, swatch.id)
    yarn = plan.project.yarn_of(swatch)
    named = yarn.name if yarn and yarn.name else "the yarn"
    needle = needle_to_knit_with(swatch.needle_mm, plan.project) if swatch.needle_mm else "a needle you didn't note"
    material = f" ({swatch.needle_material})" if swatch.needle_material else ""
    worked = "in the round" if swatch.worked == "round" else "flat"
    head = f"Swatch {swatch.id}: {named} on {needle}{material}, knitted {worked}."
    return Section(
        "The fabric", (Paragraph(head), gauges_table(plan.gauge, plan.project), Items(tuple(dict.fromkeys(lines))))
    )


def gauges_table(gauge: DesignGauge, project: Project) -> Table:
    """Both gauges side by side: the one that everything is counted from, and the one on the needles."""
    rows = []
    for name, known, unwashed in (
        ("Stitches", gauge.stitches, gauge.unwashed_stitches),
        ("Rows", gauge.rows, gauge.unwashed_rows),
    ):
        now = likely_gauge(unwashed, project.units, named=False) if unwashed else "not counted"
        rows.append((name, f"{show_gauge(known.per_10cm, project.units)}, {known.state}", now))
    head = ("Gauge", "The plan uses", "While you knit, unwashed")
    return Table(tuple(in_terms(h, project.terms) for h in head), tuple(rows))


def _schematic(plan: Plan, plain: bool, columns: int) -> Section:
    shapes = shapes_of(plan)
    lines = schematic_lines(shapes, plan.project, columns=min(columns, SCHEMATIC_COLUMNS), plain=plain)
    return Section("Schematic", (Drawing(lines, shapes), *(Paragraph(text) for text in schematic_notes(plan))))


def schematic_lines(
    shapes: tuple[Outline, ...], project: Project, *, columns: int = SCHEMATIC_COLUMNS, plain: bool = False
) -> tuple[str, ...]:
    """All pieces to one scale with their measurements, in the knitter's unit."""
    return schematic_text(shapes, lambda cm: show_length(cm, project.units), columns=columns, plain=plain)


def yarn_section(plan: Plan) -> Section:
    """Yarn to buy."""
    return Section("Yarn", (Items(tuple(line.text for line in yarn_lines(plan))),))


def _pieces(plan: Plan) -> Section:
    project = plan.project
    rows = [
        (
            piece.name.capitalize(),
            in_terms(_begins_with(piece), plan.project.terms),
            str(piece.widest_whole),
            str(piece.bound_off) if piece.bound_off else _split(piece, plan),
            all_rows(piece),
        )
        for piece in plan.made.pieces
    ]
    seams = tuple(
        f"{s.a} to {s.b}: "
        + (
            _both(counted(s.a_rows, "row"), counted(s.b_rows or 0, "row"))
            if s.a_rows is not None
            else _both(show_length(s.a_cm or 0, project.units), show_length(s.b_cm or 0, project.units))
        )
        + _eased(s.difference_percent)
        for s in plan.made.seams
    )
    table = Table(("Piece", "Cast on", "Widest", "Ends with", "Length"), tuple(rows))
    met: tuple[Block, ...] = (Paragraph("Edges that you sew or join:"), Items(seams)) if seams else ()
    return Section("Pieces and joins", (table, *_about_halves(plan), *met))


def _both(one: str, other: str) -> str:
    """What two edges measure, once where that is the same."""
    return f"{one} each" if one == other else f"{one} and {other}"


def _split(piece: Piece, plan: Plan) -> str:
    """How a piece ends that leaves no stitches to bind off: others go on with them."""
    return "neck split" if any(p.role is SHOULDER for p in plan.made.growing_from(piece)) else "divided"


def _begins_with(piece: Piece) -> str:
    """Stitches that a piece begins with, and whence they come where they are not cast on."""
    if piece.picked_up is not None:
        return f"{piece.widest} picked up"
    if piece.parent is None:
        return str(piece.cast_on)
    already = piece.widest_whole - piece.widest
    return f"{piece.cast_on} ({already} already bound off)" if already else f"{piece.cast_on} {whence(piece)}"


ALIKE_PERCENT = 0.5
"""Edges that differ by less are sewn as they are: a row in two hundred."""


def _eased(percent: float) -> str:
    """How two edges that are not alike are sewn: nothing where they are."""
    if abs(percent) < ALIKE_PERCENT:
        return ""
    longer = "longer: ease it in" if percent > 0 else "shorter: stretch it a little"
    return f" (the first is {abs(percent):.1f}% {longer} as you sew)"


def _about_halves(plan: Plan) -> tuple[Paragraph, ...]:
    """Why one side of a neck begins with fewer stitches than its mirror image, where it does."""
    shoulders = [p for p in plan.made.pieces if p.role is SHOULDER]
    if all(a.cast_on == b.cast_on for a, b in combinations(shoulders, 2) if a.parent is b.parent):
        return ()
    text = (
        "The two shoulders mirror each other, one row apart. If one shoulder begins with fewer stitches, its first "
        "step was bound off in the row of the neck split."
    )
    return (Paragraph(in_terms_of(text, plan.project)),)


def pattern_section(plan: Plan) -> Section:
    """The charts of the fabric and its panels, where they have one, with what their letters mean, once."""
    found = charts(plan)
    if not found:
        return Section("Chart", ())
    blocks: list[Block] = []
    for chart in found:
        blocks += [Paragraph(in_terms_of(chart.name, plan.project), "head")] if plan.made.panels else []
        blocks.append(Drawing(chart.lines))
    key = Items(tuple(in_terms_of(text, plan.project) for text in chart_key(found)))
    return Section("Charts" if len(found) > 1 else "Chart", (*blocks, key))


def band_sections(plan: Plan, *, plain: bool = False) -> list[Section]:
    """The charts of a stranded fabric and of bands, each with its key and its rows in words."""
    found = []
    for one in colour_charts(plan, plain=plain):
        title, key, rows = (
            tuple(in_terms_of(t, plan.project) for t in texts) for texts in ((one.title,), one.key, one.rows)
        )
        picture = Chart(one.cells, one.order, one.flat) if one.cells else None
        drawn: tuple[Block, ...] = (Drawing(one.lines, chart=picture),) if one.lines else ()
        found.append(Section(title[0], (*drawn, *((Items(key),) if key else ()), Items(rows, ticked=True))))
    return found


def _instructions(plan: Plan, told: Sequence[PieceWords], plain: bool) -> list[Section]:
    before = before_knitting(plan)
    found = [Section("Before the first row", (Items(before),))] if before else []
    if charts(plan):
        found.append(pattern_section(plan))
    found += band_sections(plan, plain=plain)
    for piece in told:
        found.append(Section(piece.title, (Paragraph(piece.measures + "."), Items(piece.lines, ticked=True))))
    return found


def finishing_section(plan: Plan) -> Section:
    """Sewing up, washing and the ends: one short list that stays on one page."""
    return Section(in_terms("Finishing", plan.project.terms), (Items(finishing(plan), ticked=True),), whole=True)


TECHNIQUES = (
    *("stockinette", "garter stitch", "rib", "cast on", "backward loop", "long-tail cast-on", "bind off"),
    *("work even", "increase", "decrease", "short rows"),
    *("pick up and knit", "three-needle bind-off", "yarn over", "purl bump", "edge stitch", "stitch marker"),
    *("stitch holder", "neck split", "stepped edge", "buttonhole", "bust dart", "graft", "blocking"),
    *("float", "knitwise", "purlwise"),
)
"""Words of the trade, as the US says them, that a plan explains where it uses them: what one does with the needles."""


def abbreviations_section(plan: Plan, told: Sequence[PieceWords]) -> Section:
    """The abbreviations and the words of the trade that the plan and its instructions use, spelled out."""
    lines = [*before_knitting(plan), *(line for piece in told for line in piece.lines), *finishing(plan)]
    return abbreviations_of(lines, plan.project.terms)


def abbreviations_of(lines: Iterable[str], terms: Terms) -> Section:
    """The abbreviations and the words of the trade in some lines, spelled out."""
    text = "\n".join(lines)
    short = abbreviations_in(text)
    told = [f"{w.short}: {w.called(terms)}; {in_terms(w.means, terms)}" for w in short]
    meant = [w.means for w in words_in(text) if w.us in TECHNIQUES]
    used = words_in("\n".join([text, *meant]))
    told += [f"{w.called(terms)}: {in_terms(w.means, terms)}" for w in words() if w.us in TECHNIQUES and w in used]
    return Section("Abbreviations and terms", (Items(tuple(told), fine=True),) if told else ())


def _so_far(plan: Plan) -> list[Section]:
    """What the answers so far already say."""
    sections = []
    for name in ("fibre", "swatch", "gauge", "wash", "measure"):
        blocks: list[Block] = []
        for line in answers(name, plan):
            if line.kind == "heading":
                blocks.append(Paragraph(line.text, "head"))
            elif line.kind in ("figure", "text", "note"):
                last = blocks.pop().items if blocks and isinstance(blocks[-1], Items) else ()  # type: ignore[union-attr]
                blocks.append(Items((*last, line.text)))
        if blocks:
            sections.append(Section(in_terms(step(name).title, plan.project.terms), tuple(blocks)))
    return sections


def cautions_section(*plans: Plan) -> Section:
    """Cautions, with who says so: each once, whichever of the plans it is for."""
    told = dict.fromkeys(in_terms(_cautioned(c), plan.project.terms) for plan in plans for c in plan.cautions)
    return Section("Cautions", (Items(tuple(told)),) if told else ())


def _cautioned(caution: CautionText) -> str:
    """A caution with its source, said once."""
    said = caution.authority.replace("common practice, no source", "common practice")
    return f"{caution.text} (Source: {said.replace(' (', ', ').replace(')', '')}.)"


def _workings(plan: Plan) -> Section:
    blocks: list[Block] = []
    for working in plan.workings:
        first, *rest = working_lines(working, plan.project)
        blocks += [Paragraph(first, "head"), Items(tuple(line.strip() for line in rest), bare=True)]
    return Section(in_terms("How every number was worked out", plan.project.terms), tuple(blocks))


def chest_ease_cm(plan: Plan) -> float | None:
    """What the finished chest has more than the body's, as both are shown; None where one of them is not known."""
    body, finished = plan.wearer.cm("chest"), plan.finished_cm.get("chest")
    return None if body is None or finished is None else difference_shown(finished, body, plan.project.units)


def yarn_named(project: Project) -> str:
    """The yarn of a plan: name, weight, blend, and how it is sold; empty where none is chosen."""
    yarn = project.design_yarn
    if yarn is None:
        return ""
    blend = ", ".join(f"{p.percent:g}% {p.fibre}" for p in yarn.fibres)
    ball = yarn.ball_g and f"{show_mass(yarn.ball_g, project.units)} to the ball"
    long = yarn.ball_m and show_yarn_length(yarn.ball_m, project.units)
    sold = f"{ball} ({long})" if ball and long else ball or ""
    return ", ".join(filter(None, (yarn.name, weight_called(yarn.weight or "", project.terms), blend, sold)))
