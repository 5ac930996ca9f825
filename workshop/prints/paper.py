"""A document as Markdown and as one self-contained HTML file that prints on A4 and Letter in black and white."""

import re
from collections.abc import Callable
from html import escape

from workshop.core.plan import Plan
from workshop.pictures.svg import schematic_svg
from workshop.prints.document import Block, Document, Drawing, Items, Paragraph, Table, shapes_of
from workshop.units import show_length


def markdown(document: Document) -> str:
    """Markdown; characters that would be markup are escaped in all text."""
    lines = [f"# {_md(document.title)}", ""]
    for section in document.sections:
        lines += [f"## {_md(section.heading)}", ""]
        for block in section.blocks:
            lines += [*_md_block(block), ""]
    return "\n".join(lines).rstrip() + "\n"


def _md(text: str) -> str:
    flat = re.sub(r"([\\`*_\[\]<>|#~])", r"\\\1", " ".join(text.split()))
    return re.sub(r"^(\d+)([.)]\s)", r"\1\\\2", re.sub(r"^([-+=])", r"\\\1", flat))


def _md_block(block: Block) -> list[str]:
    match block:
        case Paragraph(text, kind):
            return [{"look": "**Look again:** ", "stop": "**Stop:** "}.get(kind, "") + _md(text)]
        case Items(items, ticked):
            return [f"- {'[ ] ' if ticked else ''}{_md(item)}" for item in items]
        case Table(head, rows):
            out = ["| " + " | ".join(map(_md, head)) + " |", "|" + " --- |" * len(head)]
            return out + ["| " + " | ".join(map(_md, row)) + " |" for row in rows]
        case Drawing(lines):
            fence = "`" * max(3, 1 + max((len(r) for line in lines for r in re.findall("`+", line)), default=0))
            return [fence + "text", *lines, fence]


STYLE = """
@page { margin: 16mm; }
body { font: 11pt/1.45 Georgia, 'Times New Roman', serif; color: #000; background: #fff;
  max-width: 46em; margin: 1em auto; padding: 0 1em; }
h1 { font-size: 1.7em; margin-bottom: .2em; }
h2 { font-size: 1.15em; border-bottom: 1px solid #000; margin-top: 1.4em; break-after: avoid; }
table { border-collapse: collapse; width: 100%; margin: .6em 0; }
th, td { border-bottom: 1px solid #999; text-align: left; padding: .2em .5em .2em 0; vertical-align: top; }
ul.ticked { list-style: none; padding-left: 0; }
ul.ticked li { padding-left: 1.7em; text-indent: -1.7em; break-inside: avoid; margin: .25em 0; }
.box { display: inline-block; width: .8em; height: .8em; border: 1px solid #000; margin-right: .7em; }
.look, .stop { border-left: 4px solid #000; padding-left: .6em; font-weight: bold; }
pre { font: 9pt/1.2 monospace; white-space: pre-wrap; }
svg { max-width: 100%; height: auto; }
@media print { body { max-width: none; margin: 0; padding: 0; } }
"""


def html(document: Document, plan: Plan) -> str:
    """One HTML file without any outside link."""
    parts = []
    for section in document.sections:
        blocks = "\n".join(_html_block(b, plan) for b in section.blocks)
        parts.append(f"<section>\n<h2>{escape(section.heading)}</h2>\n{blocks}\n</section>")
    body = "\n".join(parts)
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(document.title)}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n"
        f"<h1>{escape(document.title)}</h1>\n{body}\n</body>\n</html>\n"
    )


def _html_block(block: Block, plan: Plan) -> str:
    match block:
        case Paragraph(text, kind):
            label = {"look": "Look again: ", "stop": "Stop: "}.get(kind, "")
            return f'<p class="{kind}">{label}{escape(text)}</p>'
        case Items(items, ticked):
            box = '<span class="box"></span>' if ticked else ""
            listed = "\n".join(f"<li>{box}{escape(item)}</li>" for item in items)
            return f'<ul class="{"ticked" if ticked else "plain"}">\n{listed}\n</ul>'
        case Table(head, rows):
            top = "".join(f"<th>{escape(h)}</th>" for h in head)
            body = "\n".join("<tr>" + "".join(f"<td>{escape(c)}</td>" for c in row) + "</tr>" for row in rows)
            return f"<table>\n<thead><tr>{top}</tr></thead>\n<tbody>\n{body}\n</tbody>\n</table>"
        case Drawing(lines, shapes):
            if shapes:
                return svg(plan)
            return f"<pre>{escape(chr(10).join(lines))}</pre>"


def svg(plan: Plan) -> str:
    """The schematic of a plan as SVG."""
    show: Callable[[float], str] = lambda cm: show_length(cm, plan.project.units)  # noqa: E731
    return schematic_svg(shapes_of(plan), plan.project.title or "schematic", show)
