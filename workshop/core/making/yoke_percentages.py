"""Round yokes by percentages of the body: a family of rules in print since the 1970s, with its built-in check.

Body K; sleeve about a third of it; 8 per cent of K left at each underarm of body and of sleeve; the yoke
then has K + 2 sleeves − 4 underarms stitches, and rounds that keep a fraction of them lead to a neck of
about 40 per cent (tests/published).
"""

from collections.abc import Sequence
from fractions import Fraction
from math import log

from workshop.core.calculation import WHOLE
from workshop.core.making.ledger import CannotBeKnitted
from workshop.records import record

LEAST_KEEP = Fraction(3, 5)
"""A round that keeps less of its stitches puckers (printed: the strongest decreases two of five)."""

LEAST_BY_SHARES = 0.28
"""Neck as part of the yoke down to which the three rounds in print do: a little under their three tenths."""

SHARES = (Fraction(3, 4), Fraction(2, 3), Fraction(3, 5))
"""What the three rounds at a half, three quarters and the whole depth keep: to three tenths together (published)."""


@record
class YokeRound:
    """A decrease round: its row from the first row of the yoke, and the stitches left after it."""

    row: int
    left: int


def decrease_rounds(start: int, neck: int, rows: int) -> tuple[YokeRound, ...]:
    """Decrease rounds of a yoke from ``start`` stitches to exactly ``neck`` in ``rows`` rounds.

    Three rounds at a half, three quarters and the end, in the proportions in print, where the neck is about three
    tenths of the yoke or more. Where it is less, more rounds from 45 % of the depth on, even in stitches: a straight
    line in circumference, as the general method has it. No round keeps less than three fifths.
    """
    fraction = neck / start
    if fraction >= LEAST_BY_SHARES:
        power = log(fraction) / log(float(SHARES[0] * SHARES[1] * SHARES[2])) if fraction < 1 else 0.0
        left = [start * float(SHARES[0]) ** power, start * float(SHARES[0] * SHARES[1]) ** power, float(neck)]
        at = [rows * 0.5, rows * 0.75, float(rows)]
    else:
        count = next((n for n in range(4, 30) if _keeps_enough(start, neck, n)), None)
        if count is None:
            raise CannotBeKnitted(f"a yoke of {start} stitches can't come down to {neck} at the neck")
        return straight_rounds(start, neck, rows, count)
    return _in_whole_rows(start, neck, rows, at, left)


def straight_rounds(start: int, neck: int, rows: int, count: int) -> tuple[YokeRound, ...]:
    """So many decrease rounds, even in stitches, from 45 % of the depth on; one at the end where there is one."""
    left = [start - (start - neck) * (i + 1) / count for i in range(count)]
    at = [rows * (0.45 + 0.55 * i / (count - 1)) if count > 1 else float(rows) for i in range(count)]
    return _in_whole_rows(start, neck, rows, at, left)


def _in_whole_rows(
    start: int, neck: int, rows: int, at: Sequence[float], left: Sequence[float]
) -> tuple[YokeRound, ...]:
    """Rounds in whole rows, one after the other, with whole stitches; without those that take nothing away."""
    found: list[YokeRound] = []
    for row, stitches in zip(at, left, strict=True):
        before = found[-1].row if found else 0
        found.append(YokeRound(max(before + 1, min(rows, WHOLE(row))), max(neck, WHOLE(stitches))))
    return tuple(r for r, previous in zip(found, [start, *(f.left for f in found)], strict=False) if r.left < previous)


def _keeps_enough(start: int, neck: int, rounds: int) -> bool:
    """Whether the last of so many even rounds, the steepest, keeps enough of its stitches."""
    before = neck + (start - neck) / rounds
    return neck / before >= float(LEAST_KEEP)
