"""A short mark of a plan, by which a print older than the plan is recognised.

It is made from counts, rows and lengths only, so names, units, terms and dates leave it as it is.
"""

from collections.abc import Iterator
from fractions import Fraction
from hashlib import sha256
from itertools import count

from workshop.core.edgings import KNOWN_AS
from workshop.core.making.centre_panels import width_cm
from workshop.core.making.ledger import PickedUp, Piece
from workshop.core.plan import Plan

SIGNS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
"""Digits and letters that no pencil makes alike: without 0, 1, I, L, O and U."""

GROUPS, IN_A_GROUP = 2, 3
"""Six signs of thirty: two plans in 700 million have the same mark by chance."""

PLACES = 2
"""Lengths count to a tenth of a millimetre: finer than any print shows them."""


def plan_mark(plan: Plan) -> str | None:
    """The mark of a plan, such as "K4T-9PW"; None while there is no garment."""
    if not plan.made.pieces:
        return None
    number = int.from_bytes(sha256("\n".join(_facts(plan)).encode()).digest())
    signs = []
    for _ in range(GROUPS * IN_A_GROUP):
        number, sign = divmod(number, len(SIGNS))
        signs.append(SIGNS[sign])
    return "-".join("".join(signs[i : i + IN_A_GROUP]) for i in range(0, len(signs), IN_A_GROUP))


def _facts(plan: Plan) -> Iterator[str]:
    """Counts, rows and lengths of a plan, each in a line."""
    for part, size in sorted(plan.made.finished_cm.items()):
        yield f"{part} {_length(size)}"
    for piece in plan.made.pieces:
        yield from _of_piece(piece, plan)
    for seam in plan.made.seams:
        yield f"seam {seam.a_rows} {seam.b_rows} {_length(seam.a_cm)} {_length(seam.b_cm)}"


def _of_piece(piece: Piece, plan: Plan) -> Iterator[str]:
    parent = f"{piece.parent.role.word} {piece.parent.side}" if piece.parent else ""
    yield f"{piece.role.word} {piece.side} {parent} {piece.worked} {piece.begins}"
    yield f"{piece.cast_on} {piece.bound_off} {piece.edge_stitches} {piece.neck_rows}"
    for row in piece.rows:
        events = "; ".join(
            f"{e.do} {e.where} {e.stitches} {e.line} {e.gaps} "
            f"{[(a.stitches, a.level, a.rows, str(_rate(a)), a.sides, a.steps) for a in e.along]}"
            for e in row.events
        )
        yield f"{row.row} {row.side} {row.before} {row.after} {KNOWN_AS.get(row.fabric, row.fabric)} {events}"
    if piece.pattern is not None:
        yield f"pattern {[(number, at.row, at.first_stitch) for number, at in piece.pattern.rows]}"
    for mark in piece.marks:
        yield f"marker {mark.after_row} {[count for _, count in mark.counts]}"
    if plan.gauge is not None:
        width = width_cm(piece, plan.gauge.cloth)
        worn, on_the_needles = plan.gauge.cloth.rows_cm(piece.rows), plan.gauge.as_knit_of(piece.rows)
        yield f"{_length(width)} {_length(worn)} {_length(on_the_needles)}"


def _rate(picked: PickedUp) -> Fraction:
    """The rate of a pick-up over all its rows, to within a stitch: so the prints that are still recognised have it."""
    if not picked.rows:
        return Fraction(0)
    stitches, rows = picked.slope / picked.sides, picked.rows / picked.sides
    rates = (Fraction(stitches / rows).limit_denominator(largest) for largest in count(1))
    return next(rate for rate in rates if abs(rate * rows - stitches) <= max(1.0, 0.03 * stitches))


def _length(cm: float | None) -> str:
    """A length that is the same however it was added up; a nought has no sign."""
    return "" if cm is None else f"{round(cm, PLACES) + 0.0:.{PLACES}f}"
