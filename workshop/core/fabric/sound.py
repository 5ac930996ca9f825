"""Patterns of the knitter's own: whether their rows, chart, repeat and number of rows go together.

What does not is asked about, with its row; nothing of it stops a garment.
"""

from collections.abc import Iterator, Sequence
from functools import lru_cache
from typing import Literal

from workshop.core.constructions import construction
from workshop.core.fabric.patterns import Pattern, pattern_of, typed_cells
from workshop.core.fabric.row_heads import in_rounds
from workshop.core.fabric.written import REPEATS, DoesNotFit, NotRead, groups_of, leaves, row_of
from workshop.core.notes import Notes
from workshop.core.remarks import Amount
from workshop.project import Project, StitchPattern
from workshop.records import record

Width = tuple[int, int]
"""Stitches of so many repeats, and of one repeat more."""


@record
class RowFault:
    """The first row that does not go with its pattern."""

    kind: Literal["unread", "stitches", "ends", "grows"]
    row: int
    found: tuple[int, int] = (0, 0)
    """Multiple and plus that the row is written for, or that it leaves; for ``ends`` the last stitches, as stated and
    as they are worked."""
    wanted: tuple[int, int] = (0, 0)
    """Multiple and plus before the row."""


def check_patterns(project: Project, notes: Notes) -> None:
    """Ask about what does not go together in the knitter's own patterns."""
    for told in project.stitch_pattern:
        pattern = pattern_of(project, told.id)
        if pattern is not None:
            _check_chart(told, pattern, notes)
            _check_lines(told, pattern, notes, ground=project.garment.fabric == told.id)
            if told.multiple > 1 and told.plus >= 2 * told.multiple:
                notes.check(
                    "pattern-plus-wide",
                    id=told.id,
                    pattern=pattern.name,
                    multiple=_st(told.multiple),
                    plus=_st(told.plus),
                )
    for name in _worn(project):
        own = next((p for p in project.stitch_pattern if p.id == name), None)
        if own is not None and not (own.rows or own.lines or own.chart):
            notes.check("pattern-rows-unknown", id=own.id, pattern=own.name or own.id)
    _check_bands(project, notes)


def _worn(project: Project) -> Iterator[str]:
    """The patterns of the garment, each once."""
    garment = project.garment
    ids = [garment.fabric, *(p.id for p in garment.panel), *(b.id for b in garment.band)]
    yield from dict.fromkeys(name for name in ids if name)


def _check_bands(project: Project, notes: Notes) -> None:
    if not construction(project.garment.construction).in_rings:
        return
    for number, band in enumerate(project.garment.band, 1):
        pattern = pattern_of(project, band.id)
        if pattern is not None and not pattern.chart and not pattern.lines:
            notes.check("band-without-chart", id=pattern.id, pattern=pattern.name, number=Amount(number, ""))


def _check_chart(told: StitchPattern, pattern: Pattern, notes: Notes) -> None:
    """A chart that is not as wide or as high as the pattern says; in colors the chart is what counts."""
    cells, followed = typed_cells(told), bool(pattern.chart)
    row = next((n for n, line in enumerate(cells, 1) if len(line) != told.multiple), None)
    if row is not None:
        notes.check(
            "pattern-chart-width.followed" if followed else "pattern-chart-width",
            id=told.id,
            pattern=pattern.name,
            row=Amount(row, ""),
            found=_st(len(cells[row - 1])),
            multiple=_st(told.multiple),
        )
    if cells and told.rows not in (None, len(cells)):
        notes.check(
            "pattern-chart-rows.followed" if followed else "pattern-chart-rows",
            id=told.id,
            pattern=pattern.name,
            found=Amount(len(cells), "rows"),
            rows=Amount(told.rows, "rows"),
        )


def _check_lines(told: StitchPattern, pattern: Pattern, notes: Notes, *, ground: bool) -> None:
    written, rows = len(told.lines), told.rows or len(pattern.chart) or len(told.lines)
    if not written:
        return
    if written != rows:
        found, wanted = Amount(written, "rows"), Amount(rows, "rows")
        notes.check("pattern-lines-count", id=told.id, pattern=pattern.name, found=found, rows=wanted)
    fault = row_fault(told.lines, pattern.multiple, pattern.plus, whole=written == rows)
    if fault is None or (fault.kind == "unread" and not (ground and written == rows)):
        return
    _tell(fault, told, pattern, notes)


def _tell(fault: RowFault, told: StitchPattern, pattern: Pattern, notes: Notes) -> None:
    row, grows = Amount(fault.row, ""), fault.kind == "grows"
    if fault.kind == "unread":
        if groups_of(pattern) is None:
            notes.check("pattern-row-unread", id=told.id, pattern=pattern.name, row=row)
    elif fault.kind == "ends":
        last, found = map(_st, fault.found)
        notes.check("pattern-row-stitches.ends", id=told.id, pattern=pattern.name, row=row, last=last, found=found)
    else:
        notes.check(
            "pattern-row-grows" if grows else "pattern-row-stitches",
            id=told.id,
            pattern=pattern.name,
            row=row,
            found=_multiple(*fault.found),
            wanted=_multiple(*fault.wanted),
        )


def _st(stitches: int) -> Amount:
    return Amount(stitches, "stitches")


def _multiple(multiple: int, plus: int) -> str:
    """As a knitter says it: 8, 8 plus 2."""
    return f"{multiple}{f' plus {plus}' if plus > 0 else f' minus {-plus}' if plus else ''}"


@lru_cache(maxsize=32)
def row_fault(lines: tuple[str, ...], multiple: int, plus: int, *, whole: bool = True) -> RowFault | None:
    """The first row that is not read, that takes other stitches than there are, or that leaves too many or too few.

    Rows may leave other stitches than they take, as long as a later row makes up for it; not so where the rows that are
    written are not the whole pattern. Followed over two widths, which differ by one repeat.
    """
    over = 0 if in_rounds(lines) else plus
    start = now = (REPEATS * multiple + over, (REPEATS + 1) * multiple + over)
    changed: RowFault | None = None
    for number, text in enumerate(lines, 1):
        try:
            after = _after(text, number, now)
        except DoesNotFit as error:
            return changed or _misfit(error, number, now)
        except NotRead:
            return RowFault("unread", number)
        if after != now and changed is None:
            changed = RowFault("grows", number, _as_multiple(after), _as_multiple(now))
        changed, now = (None if after == start else changed), after
    return changed if whole else None


def _after(text: str, number: int, now: Width) -> Width:
    """The stitches after a row. Raises NotRead."""
    narrow, wide = (leaves(row_of(text, number).over(stitches)) for stitches in now)
    return narrow, wide


def _misfit(error: DoesNotFit, number: int, now: Width) -> RowFault:
    multiple, plus = _as_multiple(now)
    if error.ends is not None:
        return RowFault("ends", number, error.ends)
    if not error.repeat and error.extra == multiple + plus:
        return RowFault("unread", number)  # one repeat with its balance: which stitches are the repeat is not said
    found = (error.repeat, error.extra) if error.repeat else (error.extra, 0)
    return RowFault("stitches", number, found, (multiple, plus))


def _as_multiple(width: Sequence[int]) -> tuple[int, int]:
    """Multiple and plus of stitches over so many repeats."""
    multiple = width[1] - width[0]
    return multiple, width[0] - REPEATS * multiple
