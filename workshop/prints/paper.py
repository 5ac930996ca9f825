"""A document as Markdown and as one self-contained HTML file that prints on A4 and Letter in black and white."""

import re
from collections.abc import Callable, Iterator, Sequence
from html import escape
from itertools import groupby

from workshop.core.plan import Plan
from workshop.core.plan_mark import plan_mark
from workshop.pictures.chart import chart_svg
from workshop.pictures.svg import MOST_HEIGHT, schematic_svg
from workshop.prints.blocks import (
    RULED,
    Block,
    Document,
    Drawing,
    Grid,
    Items,
    Paragraph,
    RowBoxes,
    Section,
    Sums,
    Table,
)
from workshop.prints.dated import spelled, today
from workshop.prints.document import schematic_lines, shapes_of
from workshop.units import show_length


def markdown(document: Document, plan: Plan | None = None) -> str:
    """Markdown; characters that would be markup are escaped in all text."""
    lines = [f"# {_md(document.title)}", "", _md(f"{_printed(document, plan)}."), ""]
    lines += [_md(document.lead), ""] if document.lead else []
    for section in document.sections:
        lines += [f"## {_md(section.heading)}", ""]
        for block in section.blocks:
            lines += [*_md_block(block, plan), ""]
    return "\n".join(lines).rstrip() + "\n"


def _md(text: str) -> str:
    flat = re.sub(r"([\\`*_\[\]<>|#~])", r"\\\1", " ".join(text.split()))
    return re.sub(r"^(\d+)([.)]\s)", r"\1\\\2", re.sub(r"^([-+=])", r"\\\1", flat))


def _md_block(block: Block, plan: Plan | None) -> list[str]:
    match block:
        case Paragraph(text, kind):
            mark = {"look": "**Look again:** ", "stop": "**Stop:** "}.get(kind, "")
            return [f"**{_md(text)}**" if kind == "head" else mark + _md(text)]
        case Items():
            return [*_md_items(block)]
        case Table(head, rows):
            out = ["| " + " | ".join(map(_md, head)) + " |", "|" + " --- |" * len(head)]
            return out + ["| " + " | ".join(map(_md, row)) + " |" for row in rows]
        case Sums(formula, told, grid, name):
            told = ". ".join(filter(None, (name, told)))
            return [f"**{_md(f'= {formula}')}**", "", *([_md(told), ""] if told else []), *_md_block(grid, plan)]
        case RowBoxes(label=label):
            return ["  " + (f"{label}: " if label else "") + " ".join(_md_boxes(block))]
        case Drawing(lines, shapes):
            if not lines and shapes and plan is not None:
                lines = schematic_lines(shapes, plan.project)
            fence = "`" * max(3, 1 + max((len(r) for line in lines for r in re.findall("`+", line)), default=0))
            return [fence + "text", *lines, fence]


def _md_items(block: Items) -> Iterator[str]:
    """A list; what is done has its box ticked and is struck out."""
    box = ("[x] " if block.done else "[ ] ") if block.ticked else ""
    for item in block.items:
        yield f"- {box}~~{_md(item)}~~" if block.done else f"- {box}{_md(item)}"


def _md_boxes(block: RowBoxes) -> Iterator[str]:
    for row in block.rows:
        sign = "☒" if row <= block.knitted else "☐"
        yield f"{sign} **{row}**" if row in block.marked else f"{sign} {row}"


STYLE = """
@page { margin: 13mm 14mm 16mm; }
* { box-sizing: border-box; }
body { font: 10.5pt/1.4 Georgia, 'Times New Roman', serif; color: #000; background: #fff;
  max-width: 46em; margin: 1em auto; padding: 0 1em; }
h1 { font-size: 1.7em; line-height: 1.2; margin: 0 0 .1em; }
p.printed { margin: 0 0 .8em; font-size: .92em; }
h2 { font-size: 1.2em; border-bottom: 1.5px solid #000; margin: 1.2em 0 .4em; break-after: avoid; }
p { margin: .45em 0; orphans: 3; widows: 3; }
p:not(.rows):has(+ ul), p:has(+ table) { break-after: avoid; }
h2 + p:not(:last-child) { break-after: avoid; }
li { break-inside: avoid; }
ul.plain > li:first-child, ul.plain > li:nth-last-child(2) { break-after: avoid; }
table { border-collapse: collapse; width: 100%; margin: .5em 0; }
th, td { border-bottom: 1px solid #777; text-align: left; padding: .2em .6em .2em 0; vertical-align: top; }
thead th { border-bottom: 1.5px solid #000; font-size: .92em; }
tbody th { font-weight: normal; }
table.plain tbody th { white-space: nowrap; }
tr { break-inside: avoid; }
table.grid th, table.grid td { border: 1px solid #555; padding: .25em .5em; vertical-align: middle; }
table.grid tbody th { width: 46%; }
table.grid { break-inside: avoid; }
table.grid:has(tr:nth-child(13)) { break-inside: auto; }
table.grid.wide tbody th { width: 30%; }
table.grid.notes tbody th { width: 16%; }
table.grid td { height: 2.3em; }
table.grid td.filled { text-align: right; white-space: nowrap; }
ul { margin: .4em 0; padding-left: 1.2em; }
ul.ticked, ul.bare { list-style: none; padding-left: 0; }
ul.bare { padding-left: 1.2em; margin-top: .1em; break-inside: avoid; }
ul.fine { columns: 2; column-gap: 6mm; font-size: 9.5pt; line-height: 1.25; }
section > ul.ticked:last-child, p.rows { break-before: avoid; }
section > ul.ticked:first-of-type { break-after: avoid; }
p.rows { break-inside: avoid; }
section.whole { break-inside: avoid; }
table.plain { break-inside: avoid; }
ul.ticked li { padding-left: 1.7em; text-indent: -1.7em; margin: .3em 0; }
.box { display: inline-block; width: .85em; height: .85em; border: 1px solid #000; margin-right: .75em;
  vertical-align: -.05em; font: .95em/.8em Arial, Helvetica, sans-serif; text-align: center; text-indent: 0; }
s { color: #555; }
p.rows s { text-decoration: line-through solid 1.5px; }
p.rows { margin: .1em 0 .5em 1.7em; line-height: 0; }
p.rows b, p.rows span { display: inline-block; width: 2.9em; height: 2em; margin: 0 .25em .3em 0;
  border: .5px solid #777; font: 7pt/2em Arial, Helvetica, sans-serif; text-align: center; }
p.rows b { border: 1.6px solid #000; font-weight: bold; }
p.rows i { display: inline-block; font: italic 9pt/1.6 Georgia, serif; margin-right: .6em; width: 2em; }
p.head { font-weight: bold; margin: .9em 0 .1em; break-after: avoid; break-inside: avoid; }
p.lead { margin: 0 0 .8em; white-space: pre-wrap; }
.look, .stop { border-left: 4px solid #000; padding-left: .6em; font-weight: bold; }
pre { font: 9pt/1.2 monospace; white-space: pre-wrap; }
svg { display: block; max-width: 100%; height: auto; max-height: 135mm; margin: 0 auto; break-inside: avoid; }
@media print {
  body { max-width: none; margin: 0; padding: 0; }
}
"""

LYING = """
@page { size: landscape; margin: 11mm 13mm 14mm; }
body { max-width: 76em; font-size: 10pt; line-height: 1.3; }
table.plain { break-inside: auto; }
table.plain th, table.plain td { font-size: 9.3pt; line-height: 1.2; padding-top: .1em; padding-bottom: .12em; }
ul.ticked li { margin: .15em 0; }
svg { max-height: 150mm; }
"""
"""What pages on their long side have otherwise."""

IN_COLUMNS = """
@page { margin: 9mm 11mm 12mm; }
body { font: 10pt/1.13 'Times New Roman', 'Liberation Serif', Times, serif; max-width: 190mm; }
h1 { font-size: 15pt; display: inline; }
p.printed, p.lead { display: inline; margin: 0 0 0 1em; }
h2 { font: bold 11.5pt/1.2 Arial, 'Liberation Sans', Helvetica, sans-serif; margin: 2.5mm 0 1mm; }
h2 small { font: 10pt 'Times New Roman', 'Liberation Serif', Times, serif; margin-left: 1em; }
p { margin: .6mm 0 1mm; orphans: 2; widows: 2; }
p.head { margin: 1mm 0 .3mm; }
small, p.told { font-size: 9pt; line-height: 1.07; }
div.columns { columns: 2; column-gap: 5mm; }
ul { padding-left: 4mm; margin: .5mm 0 1.5mm; }
ul.bare { padding-left: 0; break-inside: auto; }
li { margin: .4mm 0; }
table { margin: 0 0 2mm; }
th, td { padding: .3mm 1.5mm .3mm 0; }
thead th { font-size: 9pt; line-height: 1.05; }
table.plain th, table.plain td { font-size: 9.5pt; border-bottom-width: .5px; padding-top: .1mm; padding-bottom: .1mm; }
table.plain tbody th { padding-right: 3mm; }
table.grid th, table.grid td { padding: .3mm 1.2mm; border-width: .6px; }
table.grid td { height: 6.3mm; }
table.grid tbody th { width: 68%; line-height: 1.03; }
th small { line-height: 1; }
table.grid.wide tbody th { width: 24%; }
table.grid td.filled { text-align: right; }
table.grid.done td { height: auto; }
table.grid { break-inside: auto; }
table.wide:not(:has(tbody tr:nth-child(9))) { break-inside: avoid; }
table.wide:not(.sums) tr:first-child, table.wide:not(.sums) tr:nth-last-child(2) { break-after: avoid; }
div.sums { break-inside: avoid; margin: 0; }
div.sums:has(tbody tr:nth-child(6)), div.sums:has(tbody tr:nth-child(6)) table { break-inside: auto; }
div.sums p { break-after: avoid; }
div.sums p { margin: 0 0 .3mm; }
table.sums { table-layout: fixed; }
table.grid.sums thead th { font-weight: normal; vertical-align: bottom; padding: .3mm .8mm; }
table.grid.sums tbody th { line-height: 1.05; }
table.grid.of2 th:first-child { width: 50%; }
table.grid.of3 th:first-child { width: 42%; }
table.grid.of4 th:first-child { width: 37%; }
table.grid.of5 th:first-child { width: 30%; }
table.grid.letter th:first-child { width: 9%; }
"""
"""What a sheet in columns has otherwise. Letters of one width everywhere, so that it takes as many pages everywhere."""


def html(document: Document, plan: Plan | None = None) -> str:
    """One HTML file without any outside link; it bears the day of printing and the mark of its plan, if it has one."""
    body = "\n".join(_html_section(s, plan, document) for s in document.sections)
    lead = f'<p class="lead">{escape(document.lead)}</p>\n' if document.lead else ""
    style = STYLE + (IN_COLUMNS if document.in_columns else "") + (LYING if document.lying else "")
    style += _margins(document, plan)
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(document.title)}</title>\n<style>{style}</style>\n</head>\n<body>\n"
        f'<h1>{escape(document.title)}</h1>\n<p class="printed">{_printed(document, plan)}</p>\n{lead}{body}\n'
        "</body>\n</html>\n"
    )


def _printed(document: Document, plan: Plan | None) -> str:
    """When it was printed, and of which plan."""
    day = spelled(today(), plan.project.terms if plan else document.terms)
    return ". ".join(filter(None, (f"Printed {day}", document.mark and f"Plan mark {document.mark}")))


def _margins(document: Document, plan: Plan | None) -> str:
    """What stands in the margin of every page: title, day and mark, and the number of the page.

    Browsers that know no margin boxes print a line of their own there.
    """
    font = "font: 8pt Arial, 'Liberation Sans', Helvetica, sans-serif; vertical-align: top; padding-top: 2mm;"
    left = _css(" · ".join((document.title[:LONGEST_TITLE], _printed(document, plan))))
    return (
        f"@page {{\n  @bottom-left {{ content: {left}; {font} white-space: nowrap; }}\n"
        f'  @bottom-right {{ content: "Page " counter(page) " of " counter(pages); {font} }}\n}}\n'
    )


LONGEST_TITLE = 60
"""Characters of a title that the margin of a page has room for."""


def _css(text: str) -> str:
    """A text as a string of CSS: every sign that could end it, or the style, by its number."""
    return '"' + "".join(c if (c.isascii() and c.isalnum()) or c == " " else f"\\{ord(c):x} " for c in text) + '"'


def _html_section(section: Section, plan: Plan | None, document: Document) -> str:
    whole, heading, blocks = ' class="whole"' if section.whole else "", escape(section.heading), section.blocks
    if not document.in_columns:
        told = "\n".join(_html_block(b, plan) for b in blocks)
    else:
        if isinstance(blocks[0], Paragraph):  # what a step is for, beside its name
            heading, blocks = f"{heading} <small>{escape(blocks[0].text)}</small>", blocks[1:]
        told = "\n".join(_in_columns(blocks, plan))
    return f"<section{whole}>\n<h2>{heading}</h2>\n{told}\n</section>"


def _in_columns(blocks: Sequence[Block], plan: Plan | None) -> Iterator[str]:
    """Blocks of a sheet: narrow ones side by side, wide ones across the page."""
    for narrow, alike in groupby(blocks, key=lambda b: not _is_wide(b)):
        told = "\n".join(_html_block(b, plan) for b in alike)
        yield f'<div class="columns">\n{told}\n</div>' if narrow else told


WIDE = 6
"""Columns with which a formula wants the whole page."""


LONG = 70
"""Characters of a cell that would fill a column line after line."""


def _is_wide(block: Block) -> bool:
    match block:
        case Grid(head):
            return len(head) > 2
        case Table(head, rows):
            return len(head) > 3 or any(len(cell) > LONG for row in rows for cell in row)
        case Sums(grid=grid):
            return _to_write_in(grid.rows) or len(grid.head) - (len(grid.rows) == 1) > WIDE
        case Paragraph(kind=kind):
            return kind == "plain"
        case _:
            return False


def _html_block(block: Block, plan: Plan | None) -> str:
    match block:
        case Paragraph(text, kind):
            label = {"look": "Look again: ", "stop": "Stop: "}.get(kind, "")
            return f'<p class="{kind}">{label}{escape(text)}</p>'
        case Items():
            return _html_items(block)
        case Grid(head, rows):
            notes = not any(first for first, *_ in rows)
            of = " notes" if notes else " wide" if len(head) > 2 else ""
            return _html_table(f"grid{of}{_done(rows)}", head, rows)
        case Table(head, rows):
            return _html_table("plain", head, rows)
        case Sums():
            return _html_sums(block)
        case RowBoxes(label=label):
            boxes = "".join(_row_box(r, block) for r in block.rows)
            return f'<p class="rows">{f"<i>{escape(label)}</i>" if label else ""}{boxes}</p>'
        case Drawing(lines, shapes, drawn, chart):
            if drawn:
                return drawn
            if shapes and plan is not None:
                return _schematic(plan)
            if chart is not None:
                return chart_svg(chart, "chart")
            return f"<pre>{escape(chr(10).join(lines))}</pre>"


def _html_items(listed: Items) -> str:
    kind = "ticked" if listed.ticked else "bare" if listed.bare else "plain fine" if listed.fine else "plain"
    box = f'<span class="box">{"×" if listed.done else ""}</span>' if listed.ticked else ""
    told = "\n".join(f"<li>{box}{_struck(escape(item), listed.done)}</li>" for item in listed.items)
    return f'<ul class="{kind}">\n{told}\n</ul>'


def _html_sums(sums: Sums) -> str:
    """A formula as a table; above it what it works out, and itself where the heads of the table do not say it.

    The only result of a formula gives the table its name: so its figures have more room.
    """
    head, rows = sums.grid.head, sums.grid.rows
    alone = len(rows) == 1
    name = ": ".join(filter(None, (rows[0][0] if alone else sums.name, "" if sums.spelled else sums.formula)))
    told = ". ".join(filter(None, (name and f"<b>{escape(name)}</b>", escape(sums.told))))
    where = f'<p class="told">{told}</p>\n' if told else ""
    kind = f"grid sums {_room(sums)}{_done(rows)}"
    table = _html_table(kind, head[1:], (rows[0][1:],), named=False) if alone else _html_table(kind, head, rows)
    return f'<div class="sums">\n{where}{table}\n</div>'


def _room(sums: Sums) -> str:
    """The class by which a table of a formula shares its width between names and figures."""
    if len(sums.grid.rows) == 1:
        return "one"
    if _to_write_in(sums.grid.rows):  # a sum in every cell
        return "wide"
    return "letter" if sums.name else f"of{min(len(sums.grid.head) - 1, MOST_SHARED)}"


def _to_write_in(rows: Sequence[Sequence[str]]) -> bool:
    """Whether a part of an answer stands in a cell, with room for the rest."""
    return any(RULED in cell for row in rows for cell in row)


def _done(rows: Sequence[Sequence[str]]) -> str:
    """The class of a table in which every row is answered: it needs no room for a pencil."""
    return " done" if all(any(row[1:]) for row in rows) and not _to_write_in(rows) else ""


MOST_SHARED = 5
"""From so many columns of figures on, the names of results have as little room as they can."""


def _struck(text: str, done: bool) -> str:
    return f"<s>{text}</s>" if done else text


def _row_box(row: int, block: RowBoxes) -> str:
    tag = "b" if row in block.marked else "span"
    return f"<{tag}>{_struck(str(row), row <= block.knitted)}</{tag}>"


FILLED = ' class="filled"'
"""A cell in which a part stands already: at its right end, with room to write before it."""

IN_BRACKETS = re.compile(r"^([^(]+) (\(.+\))$", re.DOTALL)
"""A question with what helps to answer it."""


def _html_table(kind: str, head: tuple[str, ...], rows: tuple[tuple[str, ...], ...], *, named: bool = True) -> str:
    """A table; ``named`` where the first cell of a row is its name."""
    top = "".join(f'<th scope="col">{escape(_unparted(h))}</th>' for h in head)
    top = f"<thead><tr>{top}</tr></thead>\n" if any(head) else ""
    body = "\n".join(f"<tr>{_first(row[0], named=named)}{_cells(row[1:])}</tr>" for row in rows)
    return f'<table class="{kind}">\n{top}<tbody>\n{body}\n</tbody>\n</table>'


def _unparted(text: str) -> str:
    """A head whose signs of arithmetic stay with what follows them."""
    return re.sub(r"([×÷+−]) (?=\S)", "\\1\N{NO-BREAK SPACE}", text)


def _first(text: str, *, named: bool) -> str:
    return f'<th scope="row">{_smaller(text)}</th>' if named else _cells((text,))


def _smaller(text: str) -> str:
    """What stands in brackets after a name in smaller letters."""
    found = IN_BRACKETS.match(text)
    return f"{escape(found[1])} <small>{escape(found[2])}</small>" if found else escape(text)


def _cells(texts: Sequence[str]) -> str:
    return "".join(f"<td{FILLED if RULED in text else ''}>{escape(text)}</td>" for text in texts)


def svg(plan: Plan) -> str:
    """The schematic of a plan as SVG, with the day of printing and the mark of the plan."""
    mark = plan_mark(plan)
    day = spelled(today(), plan.project.terms)
    note = f"{day}, plan mark {mark}" if mark else day
    return _schematic(plan, note)


def _schematic(plan: Plan, note: str = "") -> str:
    show: Callable[[float], str] = lambda cm: show_length(cm, plan.project.units)  # noqa: E731
    title, high = plan.project.title or "schematic", MOST_HEIGHT if note else HIGH_IN_A_PLAN
    return schematic_svg(shapes_of(plan), title, show, note, high=high, headed=bool(note))


HIGH_IN_A_PLAN = 128.0
"""Millimetres of the first page of a plan that a schematic has, below what one looks for first."""
