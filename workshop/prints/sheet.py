"""What only paper has: boxes for rows, and grids to write in."""

from dataclasses import dataclass

from workshop.prints.document import Block, Document, Table

RULED = "______"
"""A place to write a number in."""


@dataclass(frozen=True, slots=True)
class RowBoxes:
    """A box to tick for every row from ``first`` to ``last``; in ``marked`` rows something happens."""

    first: int
    last: int
    marked: frozenset[int] = frozenset()
    label: str = ""

    @property
    def rows(self) -> tuple[int, ...]:
        """The rows, in order."""
        return tuple(range(self.first, self.last + 1))


@dataclass(frozen=True, slots=True)
class Grid:
    """A table with room to write in its empty cells; the first column names the row."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]

    @property
    def table(self) -> Table:
        """The same without the room."""
        return Table(self.head, self.rows)


@dataclass(frozen=True, slots=True)
class Sums:
    """A formula to be worked out by hand: a row for each result, a column for each figure."""

    formula: str
    told: str
    """Where the figures are to be found; empty where their names say it."""
    grid: Grid


SheetBlock = Block | RowBoxes | Grid | Sums


@dataclass(frozen=True, slots=True)
class SheetSection:
    """A heading and what stands under it."""

    heading: str
    blocks: tuple[SheetBlock, ...]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A whole document for paper."""

    title: str
    sections: tuple[SheetSection, ...]
    lead: str = ""
    """A line under the title."""


def as_sheet(document: Document) -> Sheet:
    """A document for any medium, for paper."""
    return Sheet(document.title, tuple(SheetSection(s.heading, s.blocks) for s in document.sections))
