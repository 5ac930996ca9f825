"""A document in the terminal, with Rich; text of the knitter's is never markup."""

import os
import sys
from typing import IO

from rich import box
from rich.cells import cell_len
from rich.console import Console
from rich.padding import Padding
from rich.rule import Rule
from rich.table import Table as RichTable
from rich.text import Text

from workshop.prints.document import Block, Document, Drawing, Items, Paragraph, Section, Table
from workshop.words.lines import wrapped

MARKS = {"look": "look again: ", "stop": "stop: "}


class PipedConsole(Console):
    """A console that leaves a reader who has gone to the front door."""

    def on_broken_pipe(self) -> None:
        """Tell the caller, instead of leaving with a fault."""
        raise BrokenPipeError


def console_for(file: IO[str] | None = None) -> Console:
    """A console that honours NO_COLOR, TERM=dumb, COLUMNS and pipes."""
    stream = file or sys.stdout
    width = None if os.environ.get("COLUMNS", "").isdigit() or stream.isatty() else 80
    return PipedConsole(file=stream, highlight=False, markup=False, emoji=False, width=width, soft_wrap=False)


def only_ascii(file: IO[str] | None = None) -> bool:
    """Whether the terminal cannot show block characters."""
    encoding = (getattr(file or sys.stdout, "encoding", None) or "ascii").lower()
    return os.environ.get("TERM") == "dumb" or not encoding.startswith("utf")


def print_document(document: Document, console: Console, *, aloud: bool = False) -> None:
    """Print a document; ``aloud``: to be read out, with no drawing, no rules, and every cell under its name."""
    console.print(Text(document.title, "bold"))
    for section in document.sections:
        if aloud:
            _read_out(section, console)
            continue
        console.print()
        console.print(
            Rule(Text(section.heading, "bold"), align="left", characters="-" if only_ascii(console.file) else "─")
        )
        for block in section.blocks:
            _print(block, console)


def _read_out(section: Section, console: Console) -> None:
    blocks = [b for b in section.blocks if not isinstance(b, Drawing)]
    if not blocks:
        return
    console.print()
    console.print(Text(f"{section.heading}:", "bold"))
    for block in blocks:
        if isinstance(block, Table):
            _print_records(block.head, block.rows, console)
        else:
            _print(block, console)


def _print(block: Block, console: Console) -> None:
    match block:
        case Paragraph(text, kind):
            style = {"look": "bold", "stop": "bold reverse"}.get(kind, "")
            _print_wrapped(MARKS.get(kind, "") + text, console, style=style)
        case Items(items, ticked, bare):
            bullet = "[ ] " if ticked else "  " if bare else "- "
            for item in items:
                _print_wrapped(bullet + item, console, hang=len(bullet))
        case Table(head, rows):
            if _least_width(head, rows) > console.width:
                _print_records(head, rows, console)
            else:
                console.print(_table(head, rows, console))
        case Drawing(lines):
            for line in lines:
                console.print(Padding(Text(line, no_wrap=True, overflow="crop"), (0, 0, 0, 2)))


def _print_wrapped(text: str, console: Console, *, hang: int = 0, style: str = "") -> None:
    """Text in lines; those after the first begin ``hang`` characters in, and figures keep their units."""
    console.print(Text("\n".join(wrapped(text, console.width, hang)), style))


def _least_width(head: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> int:
    """Columns that a table needs so that no word of it is broken."""
    columns = zip(*(head, *rows), strict=True)
    return sum(2 + max(cell_len(word) for text in column for word in (text.split() or [""])) for column in columns) + 1


def _print_records(head: tuple[str, ...], rows: tuple[tuple[str, ...], ...], console: Console) -> None:
    """A table without room for its columns: each row on lines of its own."""
    for first, *others in rows:
        console.print(Text(first, "bold"))
        for name, cell in zip(head[1:], others, strict=True):
            if cell:
                _print_wrapped(f"  {name}: {cell}", console, hang=2)


def _table(head: tuple[str, ...], rows: tuple[tuple[str, ...], ...], console: Console) -> RichTable:
    table = RichTable(box=box.ASCII if only_ascii(console.file) else box.SIMPLE_HEAD, pad_edge=False)
    for name in head:
        table.add_column(Text(name), overflow="fold")
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    return table
