"""A document as Markdown and as one self-contained HTML file that prints on A4 and Letter in black and white."""

import re
from collections.abc import Callable
from html import escape

from workshop.core.plan import Plan
from workshop.pictures.svg import schematic_svg
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
from workshop.prints.document import schematic_lines, shapes_of
from workshop.units import show_length


def markdown(document: Document, plan: Plan | None = None) -> str:
    """Markdown; characters that would be markup are escaped in all text."""
    lines = [f"# {_md(document.title)}", "", *([_md(document.lead), ""] if document.lead else [])]
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
        case Items(items, ticked):
            return [f"- {'[ ] ' if ticked else ''}{_md(item)}" for item in items]
        case Table(head, rows):
            out = ["| " + " | ".join(map(_md, head)) + " |", "|" + " --- |" * len(head)]
            return out + ["| " + " | ".join(map(_md, row)) + " |" for row in rows]
        case Sums(formula, told, grid):
            return [f"**{_md(formula)}**", "", *([_md(told), ""] if told else []), *_md_block(grid, plan)]
        case RowBoxes(label=label):
            boxes = [f"☐ **{r}**" if r in block.marked else f"☐ {r}" for r in block.rows]
            return ["  " + (f"{label}: " if label else "") + " ".join(boxes)]
        case Drawing(lines, shapes):
            if not lines and shapes and plan is not None:
                lines = schematic_lines(shapes, plan.project)
            fence = "`" * max(3, 1 + max((len(r) for line in lines for r in re.findall("`+", line)), default=0))
            return [fence + "text", *lines, fence]


STYLE = """
@page { margin: 15mm; }
* { box-sizing: border-box; }
body { font: 10.5pt/1.4 Georgia, 'Times New Roman', serif; color: #000; background: #fff;
  max-width: 46em; margin: 1em auto; padding: 0 1em; }
h1 { font-size: 1.7em; line-height: 1.2; margin: 0 0 .3em; }
h2 { font-size: 1.2em; border-bottom: 1.5px solid #000; margin: 1.3em 0 .5em; break-after: avoid; }
p { margin: .45em 0; orphans: 3; widows: 3; }
h2 + p:not(:last-child), p:has(+ table.wide) { break-after: avoid; }
li { break-inside: avoid; }
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
div.sums { break-inside: avoid; margin: .9em 0; }
div.sums p { margin: 0 0 .1em; }
p.told { font-size: .88em; line-height: 1.25; }
table.sums { table-layout: fixed; margin: .2em 0 0; }
table.grid.sums th { font-size: .88em; font-weight: normal; line-height: 1.2; }
table.grid.sums th:first-child { width: 28%; }
ul { margin: .4em 0; padding-left: 1.2em; }
ul.ticked, ul.bare { list-style: none; padding-left: 0; }
ul.bare { padding-left: 1.2em; margin-top: .1em; break-inside: avoid; }
section > ul.ticked:last-child, p.rows { break-before: avoid; }
section > ul.ticked:first-of-type { break-after: avoid; }
p.rows { break-inside: avoid; }
section > p:has(+ ul.ticked) { break-after: avoid; }
table.plain { break-inside: avoid; }
ul.ticked li { padding-left: 1.7em; text-indent: -1.7em; margin: .3em 0; }
.box { display: inline-block; width: .85em; height: .85em; border: 1px solid #000; margin-right: .75em;
  vertical-align: -.05em; }
p.rows { margin: .1em 0 .5em 1.7em; line-height: 0; }
p.rows b, p.rows span { display: inline-block; width: 2.9em; height: 2em; margin: 0 .25em .3em 0;
  border: .5px solid #777; font: 7pt/2em Arial, Helvetica, sans-serif; text-align: center; }
p.rows b { border: 1.6px solid #000; font-weight: bold; }
p.rows i { display: inline-block; font: italic 9pt/1.6 Georgia, serif; margin-right: .6em; width: 2em; }
p.head { font-weight: bold; margin: .9em 0 .1em; break-after: avoid; }
p.lead { margin: 0 0 .8em; white-space: pre-wrap; }
.look, .stop { border-left: 4px solid #000; padding-left: .6em; font-weight: bold; }
pre { font: 9pt/1.2 monospace; white-space: pre-wrap; }
svg { display: block; max-width: 100%; height: auto; max-height: 205mm; margin: 0 auto; break-inside: avoid; }
@media print {
  body { max-width: none; margin: 0; padding: 0; }
}
"""


def html(document: Document, plan: Plan) -> str:
    """One HTML file without any outside link."""
    body = "\n".join(_html_section(s, plan) for s in document.sections)
    lead = f'<p class="lead">{escape(document.lead)}</p>\n' if document.lead else ""
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(document.title)}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n"
        f"<h1>{escape(document.title)}</h1>\n{lead}{body}\n</body>\n</html>\n"
    )


def _html_section(section: Section, plan: Plan) -> str:
    blocks = "\n".join(_html_block(b, plan) for b in section.blocks)
    return f"<section>\n<h2>{escape(section.heading)}</h2>\n{blocks}\n</section>"


def _html_block(block: Block, plan: Plan) -> str:
    match block:
        case Paragraph(text, kind):
            label = {"look": "Look again: ", "stop": "Stop: "}.get(kind, "")
            return f'<p class="{kind}">{label}{escape(text)}</p>'
        case Items(items, ticked, bare):
            box = '<span class="box"></span>' if ticked else ""
            listed = "\n".join(f"<li>{box}{escape(item)}</li>" for item in items)
            return f'<ul class="{"ticked" if ticked else "bare" if bare else "plain"}">\n{listed}\n</ul>'
        case Grid(head, rows):
            notes = not any(first for first, *_ in rows)
            of = "notes" if notes else "wide" if len(head) > 2 else ""
            return _html_table(f"grid {of}".strip(), head, rows)
        case Table(head, rows):
            return _html_table("plain", head, rows)
        case Sums(formula, told, grid):
            where = f'<p class="told">{escape(told)}</p>\n' if told else ""
            table = _html_table("grid sums", grid.head, grid.rows)
            return f'<div class="sums">\n<p class="head">{escape(formula)}</p>\n{where}{table}\n</div>'
        case RowBoxes(label=label):
            boxes = "".join(f"<b>{r}</b>" if r in block.marked else f"<span>{r}</span>" for r in block.rows)
            return f'<p class="rows">{f"<i>{escape(label)}</i>" if label else ""}{boxes}</p>'
        case Drawing(lines, shapes):
            if shapes:
                return svg(plan)
            return f"<pre>{escape(chr(10).join(lines))}</pre>"


FILLED = ' class="filled"'
"""A cell in which a part stands already: at its right end, with room to write before it."""


def _html_table(kind: str, head: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> str:
    top = "".join(f'<th scope="col">{escape(h)}</th>' for h in head)
    top = f"<thead><tr>{top}</tr></thead>\n" if any(head) else ""
    body = "\n".join(f'<tr><th scope="row">{escape(first)}</th>{_cells(others)}</tr>' for first, *others in rows)
    return f'<table class="{kind}">\n{top}<tbody>\n{body}\n</tbody>\n</table>'


def _cells(texts: list[str]) -> str:
    return "".join(f"<td{FILLED if RULED in text else ''}>{escape(text)}</td>" for text in texts)


def svg(plan: Plan) -> str:
    """The schematic of a plan as SVG."""
    show: Callable[[float], str] = lambda cm: show_length(cm, plan.project.units)  # noqa: E731
    return schematic_svg(shapes_of(plan), plan.project.title or "schematic", show)
