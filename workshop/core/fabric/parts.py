"""A stitch pattern where markers divide the stitches: front, back and sleeves, each with columns of its own.

Below the underarm the parts of a body lie side by side. A yoke from the hem takes them over, with those of the sleeves
that join. One from the neck begins with every part centred, both halves of a front as one. From then on each part
gains and loses stitches at its own two ends.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from workshop.core.fabric.patterns import PatternPart
from workshop.core.making import roles
from workshop.core.making.ledger import ADDS, Event, Mark, Piece, Row
from workshop.core.making.raglan_lines import PER_SHAPING, at_each_end

Parts = tuple[PatternPart, ...]


def ends_shaped(parts: Parts, at: int, event: Event) -> tuple[int, int]:
    """Stitches that an event shapes at the right-hand and at the left-hand end of a part, seen from the right side."""
    part = parts[at]
    half, first = part.section in roles.HALVES, at == 0
    along_lines = event.line in PER_SHAPING
    if along_lines or event.where == "both":  # beside both side markers
        many = at_each_end(event, part.section) if along_lines else event.stitches // 2
        return (0 if half and first else many), (0 if half and not first else many)
    if half and event.where == f"neck-{part.section.side}":
        return (event.stitches, 0) if first else (0, event.stitches)
    if event.where == "centre" and event.do == "cast-on" and at == len(parts) - 1:
        return 0, event.stitches
    return 0, 0


def after_row(parts: Parts, row: Row) -> Parts:
    """The parts after a row that shapes them."""
    found = list(parts)
    for event in row.events:
        sign = ADDS.get(event.do, 0)
        for at, part in enumerate(found):
            right, left = ends_shaped(parts, at, event)
            more = sign * (right + left)
            found[at] = replace(part, stitches=part.stitches + more, column=part.column - sign * right)
    return tuple(found)


def side_by_side(marked: Mark, column: int) -> Parts:
    """Parts between markers in one row, of which the first begins with a column."""
    found: list[PatternPart] = []
    for section, stitches in marked.counts:
        found.append(PatternPart(section, stitches, column))
        column += stitches
    return tuple(found)


def joined(piece: Piece, row: Row, body: Parts, sleeves: Mapping[str, int]) -> Parts:
    """Body and sleeves on one needle, without the stitches that are held at the underarms.

    ``sleeves``: the column that each sleeve would begin its next round with, by side.
    """
    counts = next((m.counts for m in piece.marks if m.what == "markers" and m.after_row == row.row), ())
    held = next(e.stitches for e in row.events if e.do == "hold") // 4
    columns = {
        part.section: part.column + (0 if at == 0 and part.section in roles.HALVES else held)
        for at, part in enumerate(body)
    }
    columns |= {roles.Section(roles.SLEEVE, side): column + held for side, column in sleeves.items()}  # type: ignore[arg-type]
    if any(section not in columns for section, _ in counts):
        return ()
    return tuple(PatternPart(section, stitches, columns[section]) for section, stitches in counts)


def from_the_neck(marked: Mark, at_neck: int, centred: Callable[[int], int]) -> Parts:
    """Parts at a neck that is cast on: each is centred, and both halves of the front are one with what comes between.

    ``at_neck``: stitches that the neck edges add until the front closes. ``centred`` gives the column of a whole part.
    """
    counts = dict(marked.counts)
    left, right = (counts.get(half, 0) for half in roles.HALVES)
    front = centred(left + at_neck + right)
    begins = {roles.RIGHT_FRONT: front, roles.LEFT_FRONT: front + right + at_neck}
    return tuple(
        PatternPart(section, n, begins[section] if section in begins else centred(n)) for section, n in marked.counts
    )


def opened(parts: Parts, last: Row) -> Parts:
    """The parts once the front has parted in its middle, from its right half on."""
    front = next(p for p in parts if p.section == roles.THE_FRONT)
    gone = sum(e.stitches for e in last.events if e.where == "centre" and e.do == "bind-off")
    half = (front.stitches - gone) // 2
    left = PatternPart(roles.LEFT_FRONT, half, front.column)
    right = PatternPart(roles.RIGHT_FRONT, half, front.column + half + gone)
    return (right, *(p for p in parts if p is not front), left)


def below_the_underarm(piece: Piece, parts: Parts, last: Row) -> Parts:
    """The parts of a body that goes on from a yoke: without the sleeves, and half of each underarm at their sides."""
    marked = next((m for m in piece.marks if m.what == "markers" and m.after_row < piece.rows[0].row), None)
    new = sum(e.stitches for e in last.events if e.do == "cast-on" and e.where == "underarm") // 4
    columns = {
        p.section: p.column - (0 if at == 0 and p.section in roles.HALVES else new) for at, p in enumerate(parts)
    }
    if roles.THE_FRONT not in columns and roles.RIGHT_FRONT in columns:
        columns[roles.THE_FRONT] = columns[roles.RIGHT_FRONT]
    if marked is None or any(section not in columns for section, _ in marked.counts):
        return ()
    return tuple(PatternPart(section, n, columns[section]) for section, n in marked.counts)


def run_on(parts: Sequence[PatternPart], multiple: int) -> bool:
    """Whether the pattern runs on from each part into the next."""
    return all((a.column + a.stitches - b.column) % multiple == 0 for a, b in pairwise(parts))
