"""Typed rows as they are worked: those for knitting back and forth turned for the round, and rounds turned for rows.

In the round each row is worked from the right side, so a wrong-side row is read backwards, with knit for purl and purl
for knit. A fabric all over also loses the stitches that balance its repeats. Rounds that are worked back and forth gain
them, and every second one is turned. Rows with a step that has no known other face are not turned, and that is said.
"""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import groupby
from typing import Literal

from workshop.core.fabric.patterns import Pattern
from workshop.core.fabric.row_heads import sides_of
from workshop.core.fabric.written import REPEATS, NotRead, Step, WrittenRow, leaves, row_of, uses
from workshop.core.making.ledger import Piece
from workshop.core.notes import Notes
from workshop.records import record

OTHER_FACE = {
    **{"k#": "p#", "p#": "k#", "k# tbl": "p# tbl", "p# tbl": "k# tbl"},
    **{"k2tog": "p2tog", "p2tog": "k2tog", "k3tog": "p3tog", "p3tog": "k3tog"},
    **{"ssk": "ssp", "ssp": "ssk", "skp": "ssp", "skpo": "ssp", "p2tog tbl": "ssk", "k2tog tbl": "ssp"},
    **{"sssk": "sssp", "sssp": "sssk", "p3tog tbl": "sssk", "k3tog tbl": "sssp", "kfb": "pfb", "pfb": "kfb"},
    **{"m1": "m1p", "m1p": "m1", "m1l": "m1p", "m1r": "m1p", "knit": "purl", "purl": "knit", "k": "purl", "p": "knit"},
    **{"sl# wyif": "sl# wyib", "sl# wyib": "sl# wyif"},
    **{"sl# purlwise wyif": "sl# purlwise wyib", "sl# purlwise wyib": "sl# purlwise wyif"},
    **{"yfwd": "yrn", "yf": "yrn", "yrn": "yfwd"},
    **{name: name for name in ("sl#", "sl# purlwise", "yo", "yo2", "yo twice", "yon", "yfrn", "yarn over")},
}
"""What a step on the wrong side is on the right side; "#" is a number of stitches (common practice, no source).

A yarn over is named after the stitches at its sides in UK words: between two knits yfwd, between two purls yrn.
"""

AS_THEY_LIE = r"(?i)(?:knit|k) (?:the |all )?knits?.*"
"""The stitches are worked as they face the knitter, so the words are the same for both sides."""

Worked = Literal["flat", "round"]


@record
class WorkedRow:
    """A row as it is worked: the steps of its repeat, and those before and after all repeats."""

    cells: tuple[Step, ...]
    before: tuple[Step, ...] = ()
    after: tuple[Step, ...] = ()
    whole: str = ""
    """What a row says that is the same in every stitch, instead of steps."""
    begins: int = 0
    """Stitches after the first of the repeat (before it, if negative) with which a round begins."""


def as_worked(
    pattern: Pattern, worked: Worked, rows: int, stitches: int = 0, plus: int | None = None
) -> tuple[WorkedRow, ...] | None:
    """The typed rows of a pattern as they are worked, so many; None where one of them can't be turned.

    ``stitches`` are those between the markers of a panel; 0: the whole fabric, in the round in whole repeats, and back
    and forth with ``plus`` stitches that balance them (None: those of the pattern).
    """
    if len(pattern.lines) != pattern.rows:
        return None
    over = pattern.plus if plus is None else plus
    try:
        if worked == "flat":
            return tuple(_row(pattern, number, stitches, over) for number in range(1, rows + 1))
        return tuple(_round(pattern, number, stitches) for number in range(1, rows + 1))
    except NotRead:
        return None


def to_be_turned(pattern: Pattern, worked: str = "round") -> bool:
    """Whether a pattern is told in typed rows that are written for the other way of knitting."""
    sides = sides_of(pattern.lines)
    return (pattern.as_typed or not pattern.chart) and ("WS" if worked == "round" else "round") in sides


def check_turned(pieces: Iterable[Piece], notes: Notes) -> None:
    """Say which patterns are knitted in the round, or in rows, although their typed rows can't be turned for it."""
    told: dict[tuple[str, str], None] = {}
    for piece in pieces:
        for pattern, stitches, plus in _worn(piece):
            turned = to_be_turned(pattern, piece.worked)
            if turned and as_worked(pattern, piece.worked, pattern.rows, stitches, plus) is None:
                told[pattern.name, piece.worked] = None
    for name, worked in sorted(told):
        flat = worked == "flat"
        notes.check("rows-not-turned.flat" if flat else "rows-not-turned", pattern=name)


def _worn(piece: Piece) -> list[tuple[Pattern, int, int]]:
    """The patterns of a piece, with the stitches of a panel and those that balance the repeats."""
    found = [(band.pattern, 0, band.plus) for band in piece.bands]
    found += [(piece.pattern.pattern, 0, piece.pattern.pattern.plus)] if piece.pattern else []
    return found + [(panel.pattern, panel.stitches, 0) for panel in piece.panels]


def _written(pattern: Pattern, number: int) -> WrittenRow:
    """The row that a row of a pattern is; after the last comes the first again. Raises NotRead."""
    at = (number - 1) % pattern.rows + 1
    return row_of(pattern.lines[at - 1], at)


def _round(pattern: Pattern, number: int, stitches: int) -> WorkedRow:
    """One row of a pattern as a round; a second time through an odd number of rows it is worked from the other side."""
    row = _written(pattern, number)
    side = sides_of(pattern.lines)[(number - 1) % pattern.rows]
    backwards = (side == "WS") != (side != "round" and (number - 1) // pattern.rows % 2 == 1)
    if row.whole:
        return WorkedRow((), whole=_whole(row.whole, turned=backwards))
    _held(row, stitches or REPEATS * pattern.multiple + (0 if side == "round" else pattern.plus))
    cells, before, after = row.cells, row.before, row.after
    if backwards:
        cells, before, after = _turned(cells), _turned(after), _turned(before)
    return WorkedRow(cells, before, after) if stitches else _from_first(cells, before, pattern.multiple)


def _row(pattern: Pattern, number: int, stitches: int, plus: int) -> WorkedRow:
    """One round of a pattern as a row. Raises NotRead."""
    row, backwards = _written(pattern, number), number % 2 == 0
    if row.whole:
        return WorkedRow((), whole=_whole(row.whole, turned=backwards))
    if stitches and _fits(row, stitches):
        told = WorkedRow(row.cells, row.before, row.after)
    else:
        _held(row, REPEATS * pattern.multiple)
        told = _from_first(row.cells, row.before, pattern.multiple)
        if told.begins:
            raise NotRead
        told = replace(told, after=_first(told.cells, (stitches or plus) % uses(told.cells)))
    if backwards:
        told = WorkedRow(_turned(told.cells), _turned(told.after), _turned(told.before))
    return told


def _whole(text: str, *, turned: bool) -> str:
    """What a row says that is the same in every stitch."""
    if re.fullmatch(AS_THEY_LIE, text):
        return text
    name = re.split(r"\s", text.casefold())[0]
    return {"k": "knit", "p": "purl"}[(OTHER_FACE[name] if turned else name)[0]]


def _fits(row: WrittenRow, wide: int) -> bool:
    """Whether a row takes so many stitches and leaves as many, in its repeats and beside them."""
    sides = (*row.before, *row.after)
    fits = uses(row.cells) > 0 and (wide - uses(sides)) % uses(row.cells) == 0
    return fits and uses(row.cells) == leaves(row.cells) and uses(sides) == leaves(sides)


def _held(row: WrittenRow, wide: int) -> None:
    if not _fits(row, wide):
        raise NotRead


def _turned(steps: Sequence[Step]) -> tuple[Step, ...]:
    """Steps as the other face has them. Raises NotRead for one that has no known other face."""
    names = [OTHER_FACE.get(step.name) for step in reversed(steps)]
    if None in names:
        raise NotRead
    return tuple(Step(name or "", s.uses, s.leaves) for name, s in zip(names, reversed(steps), strict=True))


def _from_first(cells: tuple[Step, ...], before: Sequence[Step], multiple: int) -> WorkedRow:
    """The repeat of a row from its first stitch on, or from the next place at which nothing is cut. Raises NotRead.

    A repeat that has shifted by its decreases lies over the first stitch; after it that stitch is the first again.
    """
    repeat = uses(cells)
    if multiple % repeat:
        raise NotRead
    found = []
    for at in range(len(cells)):
        done = (*before, *cells[:at])
        used, left = ((n + repeat // 2) % repeat - repeat // 2 for n in (uses(done), leaves(done)))
        if left in (0, used):
            found.append((abs(used), abs(left), used > 0, used, at))
    if not found:
        raise NotRead
    *_, begins, at = min(found)
    return WorkedRow(cells[at:] + cells[:at], begins=begins)


def _first(cells: Sequence[Step], stitches: int) -> tuple[Step, ...]:
    """The steps over the first stitches of a repeat. Raises NotRead where that would cut what belongs together."""
    for at in range(len(cells) + 1):
        if uses(cells[:at]) == leaves(cells[:at]) == stitches:
            return tuple(cells[:at])
    raise NotRead


def steps_told(steps: Iterable[Step]) -> str:
    """Steps as they are written, those alike counted: k3, yo."""
    told: list[str] = []
    for name, alike in groupby(step.written or step.name for step in steps):
        many = len(list(alike))
        told += [name.replace("#", str(many))] if "#" in name else [name] * many
    return ", ".join(told)
