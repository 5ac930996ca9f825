"""A block as lines of text, for the terminal and the app: only tables with room for their columns are theirs to lay."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from workshop.prints.blocks import Block, Drawing, Items, Paragraph, Table
from workshop.words.lines import wrapped


@dataclass(frozen=True, slots=True)
class Look:
    """How blocks look in one place. ``marks``: what stands before a paragraph of a kind, and its style."""

    marks: Mapping[str, tuple[str, str]]
    box: str
    hang: int
    """How far lines of a cell that stands under its name are indented after the first."""


def in_columns(table: Table, width: int) -> list[str] | None:
    """A table in columns as wide as they need, its head first; None where there is no room for them."""
    from rich.cells import cell_len, set_cell_size

    widths = [max(map(cell_len, column)) for column in zip(table.head, *table.rows, strict=True)]
    if sum(widths) + 2 * (len(widths) - 1) > width:
        return None
    every = ((set_cell_size(c, w) for c, w in zip(r, widths, strict=True)) for r in (table.head, *table.rows))
    return ["  ".join(cells).rstrip() for cells in every]


def lines_of(block: Block, width: int, look: Look) -> Iterator[tuple[str, str]]:
    """Lines of a width, each with its style; a table has each row on lines of its own."""
    match block:
        case Paragraph(text, kind):
            mark, style = look.marks.get(kind, ("", ""))
            yield from ((line, style) for line in wrapped(mark + text, width))
        case Items(items, ticked, bare):
            bullet = look.box if ticked else "  " if bare else "- "
            yield from ((line, "") for item in items for line in wrapped(bullet + item, width, hang=len(bullet)))
        case Table(head, rows):
            for first, *others in rows:
                yield first, "bold"
                told = (f"  {name}: {cell}" for name, cell in zip(head[1:], others, strict=True) if cell)
                yield from ((line, "") for text in told for line in wrapped(text, width, hang=look.hang))
        case Drawing(lines):
            yield from ((line, "") for line in lines)
