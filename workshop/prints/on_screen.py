"""A block as lines of text, for the terminal and the app: only tables with room for their columns are theirs to lay."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import zip_longest

from workshop.prints.blocks import Block, Drawing, Items, Paragraph, Table
from workshop.records import record
from workshop.words.lines import wrapped


@record
class Look:
    """How blocks look in one place. ``marks``: what stands before a paragraph of a kind, and its style."""

    marks: Mapping[str, tuple[str, str]]
    box: str
    hang: int
    """How far lines of a cell that stands under its name are indented after the first."""


def in_columns(table: Table, width: int, *, wraps: bool = False) -> list[str] | None:
    """A table in columns as wide as they need, its head first; None where there is no room for them.

    ``wraps``: where there isn't, the widest columns get narrower, as far as no word is broken.
    """
    from rich.cells import cell_len

    columns = tuple(zip(table.head, *table.rows, strict=True))
    widths = [max(map(cell_len, column)) for column in columns]
    room = width - 2 * (len(widths) - 1)
    if wraps and sum(widths) > room:
        least = [max(cell_len(word) for cell in column for word in cell.split() or [""]) for column in columns]
        widths = _narrowed(widths, least, room)
    if sum(widths) > room:
        return None
    return [line for row in (table.head, *table.rows) for line in _in_widths(row, widths)]


def _narrowed(widths: Sequence[int], least: Sequence[int], room: int) -> list[int]:
    """Columns of the same tables with the widest of them narrower, until there is room for all or no way on."""
    found = list(widths)
    while sum(found) > room and found != list(least):
        widest = max((w, at) for at, w in enumerate(found) if w > least[at])[1]
        found[widest] -= 1
    return found


def _in_widths(row: Sequence[str], widths: Sequence[int]) -> Iterator[str]:
    from rich.cells import cell_len, set_cell_size

    cells = [[c] if cell_len(c) <= w else wrapped(c, w) for c, w in zip(row, widths, strict=True)]
    for line in zip_longest(*cells, fillvalue=""):
        yield "  ".join(set_cell_size(c, w) for c, w in zip(line, widths, strict=True)).rstrip()


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
