"""The lessons as a sheet for paper, for a class whose teacher writes them."""

import re
from collections.abc import Iterator, Sequence

from workshop.prints.blocks import Block, Document, Drawing, Items, Paragraph, Section
from workshop.project import Terms
from workshop.words.phrase import in_terms


def lesson_sheet(lessons: Sequence[tuple[str, str]], terms: Terms) -> Document:
    """Lessons, each by its title and its Markdown, as one document."""
    told = ((in_terms(title, terms), in_terms(text, terms)) for title, text in lessons)
    return Document("Lessons", tuple(Section(title, tuple(_blocks(text))) for title, text in told), terms=terms)


def _blocks(text: str) -> Iterator[Block]:
    """Headings, paragraphs, lists and drawings; other signs of Markdown are left out."""
    for i, part in enumerate(re.split(r"^```[^\n]*\n(.*?)^```[ \t]*(?:\n|\Z)", text, flags=re.MULTILINE | re.DOTALL)):
        if i % 2:
            yield Drawing(tuple(part.rstrip("\n").split("\n")))
            continue
        for paragraph in re.split(r"\n\s*\n|(?<=\n)(?=#)", part.strip()):
            yield from _paragraph(paragraph.strip())


def _paragraph(text: str) -> Iterator[Block]:
    heading = re.match(r"#+[ \t]+([^\n]*)\n?", text)
    if heading:
        yield Paragraph(_plain(heading[1]), "head")
        text = text[heading.end() :].strip()
    if re.match(r"[-*+] ", text):
        yield Items(tuple(_plain(item) for item in re.split(r"(?:^|\n)[-*+] ", text) if item.strip()))
    elif text:
        yield Paragraph(_plain(text))


def _plain(text: str) -> str:
    return " ".join(re.sub(r"(?<!\w)[*_`]+|[*_`]+(?!\w)", "", text).split())
