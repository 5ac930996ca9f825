"""A document in the terminal, with Rich; text of the knitter's is never markup."""

import os
import sys
from collections.abc import Sequence
from typing import IO

from rich import box
from rich.cells import cell_len
from rich.console import Console
from rich.padding import Padding
from rich.rule import Rule
from rich.table import Table as RichTable
from rich.text import Text

from workshop.prints.blocks import Block, Document, Drawing, Section, Table
from workshop.prints.on_screen import Look, in_columns, lines_of
from workshop.visible import only_ascii

LOOK = Look({"look": ("look again: ", "bold"), "stop": ("stop: ", "bold reverse")}, box="[ ] ", hang=2)


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


def print_document(document: Document, console: Console, *, aloud: bool = False) -> None:
    """Print a document; ``aloud``: to be read out, with no drawing, no rules, and every cell under its name."""
    console.print(Text(document.title, "bold"))
    if document.lead:
        console.print(Text(document.lead))
    if aloud:
        for section in document.sections:
            _read_out(section, console)
    else:
        print_sections(document.sections, console)


def print_sections(sections: Sequence[Section], console: Console) -> None:
    """Parts of a document, each under its heading."""
    for section in sections:
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
        _print_lines(block, console)


LONG = 40
"""Rows of a table from which on it is laid out at once: ruled lines take a second for some hundred rows."""


def _print(block: Block, console: Console) -> None:
    match block:
        case Table(rows=rows) if len(rows) > LONG and (columns := in_columns(block, console.width, wraps=True)):
            console.print(Text("\n".join(columns)))
        case Table(head, rows) if _least_width(head, rows) <= console.width:
            console.print(_table(head, rows, console))
        case Drawing(lines):
            console.print(Padding(Text("\n".join(lines), no_wrap=True, overflow="crop"), (0, 0, 0, 2)))
        case _:
            _print_lines(block, console)


def _print_lines(block: Block, console: Console) -> None:
    for line, style in lines_of(block, console.width, LOOK):
        console.print(Text(line, style))


def _least_width(head: tuple[str, ...], rows: tuple[tuple[str, ...], ...]) -> int:
    """Columns that a table needs so that no word of it is broken."""
    columns = zip(*(head, *rows), strict=True)
    return sum(2 + max(cell_len(word) for text in column for word in (text.split() or [""])) for column in columns) + 1


def _table(head: tuple[str, ...], rows: tuple[tuple[str, ...], ...], console: Console) -> RichTable:
    table = RichTable(box=box.ASCII if only_ascii(console.file) else box.SIMPLE_HEAD, pad_edge=False)
    for column in zip(head, *rows, strict=True):
        longest = max(cell_len(word) for text in column for word in (text.split() or [""]))
        table.add_column(Text(column[0]), overflow="fold", min_width=longest)  # no word is broken
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    return table
