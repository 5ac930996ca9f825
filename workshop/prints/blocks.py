"""What a document is made of, in no format yet: the terminal, the app, Markdown and HTML render it."""

from typing import Literal

from workshop.pictures.chart import Chart
from workshop.pictures.outline import Outline
from workshop.project import Terms
from workshop.records import record

RULED = "______"
"""A place to write a number in."""


@record
class Paragraph:
    """Running text."""

    text: str
    kind: Literal["plain", "head", "look", "stop"] = "plain"
    """``head``: what follows belongs to it; ``look`` and ``stop``: as the checks."""


@record
class Items:
    """A list; ``ticked`` items get a box to tick, ``bare`` ones stand indented without any mark.

    On paper ``fine`` ones, to look things up in, stand in columns and smaller letters.
    """

    items: tuple[str, ...]
    ticked: bool = False
    bare: bool = False
    fine: bool = False
    done: bool = False
    """Struck out: it is knitted. Paper only."""


@record
class Table:
    """A table; the first column names the row."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


@record
class Grid(Table):
    """A table with room to write in its empty cells."""


@record
class Drawing:
    """Lines of characters that must stay as they are, and the outlines or the chart for renderers that can draw."""

    lines: tuple[str, ...]
    shapes: tuple[Outline, ...] = ()
    svg: str = ""
    """The same drawn already, for paper."""
    chart: Chart | None = None


@record
class RowBoxes:
    """A box to tick for every row from ``first`` to ``last``; in ``marked`` rows something happens. Paper only."""

    first: int
    last: int
    marked: frozenset[int] = frozenset()
    label: str = ""
    knitted: int = 0
    """Up to this row they are crossed out."""

    @property
    def rows(self) -> tuple[int, ...]:
        """The rows, in order."""
        return tuple(range(self.first, self.last + 1))


@record
class Sums:
    """A formula to be worked out by hand: a row for each result, a column for each figure. Paper only."""

    formula: str
    told: str
    """Where the figures are to be found, or who says so; empty where their names say it."""
    grid: Grid
    name: str = ""
    """What it works out, where the rows only say of which swatch."""
    spelled: bool = False
    """Whether the heads of the grid, read across, are the formula."""


Block = Paragraph | Items | Table | Drawing | RowBoxes | Sums


@record
class Section:
    """A heading and what stands under it."""

    heading: str
    blocks: tuple[Block, ...]
    whole: bool = False
    """Whether it stays on one page."""


@record
class Document:
    """A whole document, of the sections that hold anything."""

    title: str
    sections: tuple[Section, ...]
    lead: str = ""
    """A line under the title."""
    mark: str = ""
    """The mark of the plan that it shows (core/plan_mark.py); empty where there is none."""
    lying: bool = False
    """Whether its pages lie on their long side: it has wide tables."""
    in_columns: bool = False
    """Whether it is a sheet to fill in or to check sums by: on paper in columns and smaller letters."""
    terms: Terms = "us"
    """How its day is written, where it is not of one plan."""
