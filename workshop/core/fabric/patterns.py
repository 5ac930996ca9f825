"""Stitch patterns: those that come with the workshop, and the knitter's own.

A pattern has a multiple (stitches of one repeat), a plus (stitches that balance it: a row is multiple × repeats +
plus) and rows. The chart, where there is one, is as the right side shows it. Light, so that questions and saves can
look here without the rest of the core.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import field
from pathlib import Path
from typing import Literal

from workshop.core.edgings import EDGINGS, of_pattern
from workshop.core.fabric.row_heads import sides_of
from workshop.core.making.roles import Section
from workshop.project import Project, StitchPattern, Terms
from workshop.records import record

PLAIN = "stockinette"
"""The fabric of a garment for which no other is chosen."""


@record
class Pattern:
    """One stitch pattern, for planning."""

    id: str
    name: str
    multiple: int = 1
    plus: int = 0
    rows: int = 2
    chart: tuple[str, ...] = ()
    """Cells of one repeat, row by row, in the order in which a right-side row is worked."""
    lines: tuple[str, ...] = ()
    """Its rows as the knitter's own source has them, where it is hers."""
    alike: bool = False
    """Whether both sides look alike."""
    uk: str = ""
    """What it is called in UK words, where that is another name."""
    edge_in_pattern: bool = False
    """Whether the edge stitch is one of the pattern's, eaten by the seam, and not a plain one outside it."""
    stranded: bool = False
    """Whether the letters of its chart are colours."""

    def in_terms(self, terms: Terms) -> str:
        """Its name in the words of a country."""
        return self.uk if terms == "uk" and self.uk else self.name

    @property
    def as_typed(self) -> bool:
        """Whether its rows are told as they were typed: its chart, if any, is not k and p alone."""
        cells = set("".join(self.chart))
        if not self.lines or (self.stranded and cells):
            return False
        return not cells or (len(self.lines) == self.rows and bool(cells - {"k", "p"}))

    @property
    def begins_on(self) -> Literal["RS", "WS"]:
        """The side that its first row is worked from, where it is worked flat."""
        wrong = self.lines and not self.stranded and sides_of(self.lines)[0] == "WS"
        return "WS" if wrong else "RS"

    def rows_in(self, worked: str) -> int:
        """Rows after which it begins again on the same side of the fabric.

        An odd number of rows, worked flat in a pattern whose faces differ, takes twice as many. Stranded
        colours always have their floats on one face.
        """
        faces = not self.alike or self.stranded
        return 2 * self.rows if worked == "flat" and self.rows % 2 and faces else self.rows

    def cell(self, row: int, stitch: int) -> str:
        """What the right side shows of a stitch of the repeat (both count from 1); "" where there is no chart."""
        return self.chart[(row - 1) % len(self.chart)][(stitch - 1) % self.multiple] if self.chart else ""

    def balance(self, cells: str) -> str:
        """The cells after the last whole repeat of a row of the chart, as a right-side row comes to them."""
        return (cells * (self.plus // self.multiple + 1))[: self.plus]


def _built_in() -> dict[str, Pattern]:
    data = tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8"))
    return {
        name: Pattern(
            name,
            record["name"],
            len(record["chart"][0]),
            record.get("plus", 0),
            len(record["chart"]),
            tuple(record["chart"]),
            alike=record.get("alike", False),
            uk=record.get("uk", ""),
            edge_in_pattern=record.get("edge_in_pattern", False),
        )
        for name, record in data.items()
    }


BUILT_IN = _built_in()
"""By id; these ids are reserved."""

PLAIN_PATTERN = Pattern(PLAIN, PLAIN, chart=("k", "k"), uk="stocking stitch")
"""Stockinette as a pattern, for a panel of it in another fabric."""

UNTOLD = "own-pattern"
"""What a swatch is in whose pattern is not described, or not any more."""


def coming_along() -> list[str]:
    """Ids of the patterns that come with the workshop, stockinette and those of edgings first; they are reserved."""
    edgings = (e.pattern for e in EDGINGS.values() if e.pattern)
    return list(dict.fromkeys((PLAIN, *edgings, *BUILT_IN)))


def pattern_of(project: Project, name: str | None) -> Pattern | None:
    """A pattern by its id; None for plain fabric and for one that there is not."""
    if name is None or name == PLAIN:
        return None
    own = next((p for p in project.stitch_pattern if p.id == name), None)
    return _own(own) if own is not None else known_pattern(name)


def known_pattern(name: str) -> Pattern | None:
    """A pattern that comes with the workshop, also as that of an edging."""
    edging = of_pattern(name)
    if name in BUILT_IN or edging is None:
        return BUILT_IN.get(name)
    return Pattern(name, edging.pattern_label, edging.repeat, edging.knits, 2, alike=True)


def _own(pattern: StitchPattern) -> Pattern:
    chart = sound_chart(pattern)
    rows = len(chart) or pattern.rows or len(pattern.lines) or len(pattern.chart) or 1
    return Pattern(
        pattern.id,
        pattern.name or pattern.id,
        len(chart[0]) if chart else pattern.multiple,
        pattern.plus,
        rows,
        chart,
        pattern.lines,
        pattern.alike,
        stranded=pattern.stranded,
    )


def typed_cells(pattern: StitchPattern) -> tuple[str, ...]:
    """The rows of a chart as they were typed."""
    return tuple(row.replace(" ", "") for row in pattern.chart)


def sound_chart(pattern: StitchPattern) -> tuple[str, ...]:
    """The chart of a pattern, where it has the rows of the pattern and each is as wide as the repeat; else none.

    One in colors counts as it is, whatever is said of its repeat and rows: a garment without it would be another.
    """
    rows = typed_cells(pattern)
    if pattern.stranded and len({len(row) for row in rows}) == 1 and rows[0]:
        return rows
    fits = all(len(row) == pattern.multiple for row in rows) and pattern.rows in (None, len(rows))
    return rows if fits else ()


def known_patterns(project: Project) -> list[str]:
    """Ids of all fabrics that a swatch or a garment can be in."""
    return [*coming_along(), *(p.id for p in project.stitch_pattern), UNTOLD]


@record
class PatternRow:
    """Where one row of a piece stands in the pattern; both count from 1."""

    row: int
    first_stitch: int
    """Stitch of the repeat that is the first as the right side shows it, inside an edge stitch that is plain."""


@record
class PatternPart:
    """A part of a row between markers, and the column of the pattern that it begins with."""

    section: Section
    stitches: int
    column: int
    """Stitch of the repeat, from 0; it goes on counting over several repeats."""


@record
class SetPattern:
    """A pattern as it is set on one piece."""

    pattern: Pattern
    repeat_rows: int
    """Rows after which it begins again in this piece."""
    rows: tuple[tuple[int, PatternRow], ...]
    """For each row of the piece that is one of the pattern: its number, and where it stands."""
    on_centre: bool = True
    """Whether the middle of the piece is one of the pattern; False: half a stitch beside it."""
    plain_sides: bool = False
    """Whether it is worked in whole repeats only, and stockinette beside them."""
    parts: Mapping[int, tuple[PatternPart, ...]] = field(default_factory=dict)
    """By the number of a row, where markers divide it: its parts, in the order of a right-side row."""

    @property
    def first_row(self) -> int:
        """Row of the pattern that the piece begins it with."""
        return self.rows[0][1].row

    @property
    def first_stitch(self) -> int:
        """Stitch of the repeat that its first row begins with."""
        return self.rows[0][1].first_stitch

    def at(self, row: int) -> PatternRow | None:
        """Where a row stands; None for one that is none of the pattern's."""
        first = self.rows[0][0]
        near = self.rows[row - first] if 0 <= row - first < len(self.rows) else None
        if near is not None and near[0] == row:
            return near[1]
        return next((where for number, where in self.rows if number == row), None)


@record
class PanelRow:
    """Where one row of a piece stands in a panel; both count from 1."""

    row: int
    """Row of the panel's pattern."""
    from_stitch: int
    """Stitch of the row that is the panel's first, of all on the needle in the order of a right-side row."""


@record
class SetPanel:
    """A panel as it is set on one piece, up its rows."""

    pattern: Pattern
    part: str
    """The part of the garment that it is the middle of: front, back, left sleeve, right sleeve."""
    stitches: int
    extra: int
    """Stitches that it has more than the ground it stands on."""
    rows: tuple[tuple[int, PanelRow], ...]
    """For each row of the piece that is one of the panel: its number, and where it stands."""
    repeat_rows: int
    """Rows after which it begins again in this garment."""
    set_up: int | None = None
    """Number of the row in which its stitches come in, where that is one of this piece."""
    goes_out: int | None = None
    """Number of the row in which they go out, where that is one of this piece."""
    set_up_after: int = 0
    """Stitches before it, in the order of a right-side row, after the row in which it is set up."""
    across_cm: float = 0.0
    """How wide it is."""
    wider_cm: float = 0.0
    """How much wider it is than the stitches of the ground that it stands on."""

    @property
    def from_stitch(self) -> int:
        """Stitch of its first row here that it begins with, in the order of a right-side row."""
        return self.rows[0][1].from_stitch if self.rows else 0

    @property
    def first_row(self) -> int:
        """Row of its pattern that the piece begins it with."""
        return self.rows[0][1].row if self.rows else 0

    def at(self, row: int) -> PanelRow | None:
        """Where a row stands; None for one that is none of the panel's."""
        return next((where for number, where in self.rows if number == row), None)

    def lies_in(self, row: int, *, after: bool = False) -> bool:
        """Whether its stitches are on the needle before a row of the piece, or after it."""
        first = self.set_up is None or (row >= self.set_up if after else row > self.set_up)
        return first and (self.goes_out is None or (row < self.goes_out if after else row <= self.goes_out))


@record
class StripeRow:
    """Where one row of a piece stands in the stripes."""

    row: int
    """Of their sequence, from 1."""
    colour: str
    """Its letter."""


@record
class SetBand:
    """A band as it is set in a yoke: the rows of its chart once, in whole repeats."""

    number: int
    """From 1, from the join up."""
    pattern: Pattern
    from_row: int
    """Number of the row of the piece in which it begins."""
    rows: int
    repeats: int
    plus: int = 0
    """Stitches that balance the repeats, where it is worked back and forth."""
    edge: int = 0
    """Plain stitches at each end of its rows."""
    first_stitch: int = 1
    """Stitch of the repeat that its first row begins with, as the right side shows it."""

    @property
    def stitches(self) -> int:
        """Stitches of each of its rows."""
        return self.pattern.multiple * self.repeats + self.plus + 2 * self.edge

    @property
    def last_row(self) -> int:
        """Number of its last row."""
        return self.from_row + self.rows - 1

    def row_of(self, row: int) -> int | None:
        """Row of its chart, from 1, that a row of the piece is; None for one outside it."""
        return row - self.from_row + 1 if self.from_row <= row <= self.last_row else None
