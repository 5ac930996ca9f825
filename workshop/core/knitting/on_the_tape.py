"""What the tape shows of rows on the needle, and what they are when worn, by what was counted on them."""

from collections.abc import Iterable, Sequence
from itertools import accumulate
from math import exp

from workshop.core.cloth.wash import DesignGauge
from workshop.core.edgings import STOCKINETTE
from workshop.core.knitting.compared import Comparison
from workshop.core.knitting.doubt import doubt_of_places
from workshop.core.making.ledger import Row


def on_the_tape_cm(rows: Iterable[Row], gauge: DesignGauge, counted: Comparison | None) -> float | None:
    """What rows measure fresh from the needles, in cm; None where nobody counted that.

    Rows of the needle in use go by the count on the knitting, as far as that is believed; others are as planned.
    """
    plain, others = _apart(rows, counted)
    as_knit = gauge.as_knit_of(others)
    return None if as_knit is None else as_knit + (10 * plain / _fresh_per_10cm(counted) if counted else 0.0)


def worn_cm(rows: Iterable[Row], gauge: DesignGauge, counted: Comparison | None) -> float:
    """What rows measure after the wash, in cm."""
    plain, others = _apart(rows, counted)
    return gauge.cloth.rows_cm(others) + (10 * plain / counted.after_per_10cm if counted else 0.0)


def row_at(
    rows: Sequence[Row], length_cm: float, gauge: DesignGauge, counted: Comparison | None
) -> tuple[int, int, int] | None:
    """Fewest, likely and most of the rows that the tape shows as so long (95 %); None where it can't tell."""
    fresh = counted.piece if counted else gauge.unwashed_rows
    heights = [on_the_tape_cm([row], gauge, counted) for row in rows]
    if fresh is None or any(height is None for height in heights):
        return None
    reached, half = list(accumulate(h or 0.0 for h in heights)), doubt_of_places(fresh).half_95
    low, high = (sum(cm <= length_cm * exp(side) for cm in reached) for side in (-half, half))
    likely = min(range(len(reached)), key=lambda i: abs(reached[i] - length_cm)) + 1
    return low, likely, min(high + 1, len(rows))


def _apart(rows: Iterable[Row], counted: Comparison | None) -> tuple[int, list[Row]]:
    """How many rows are of the gauge that was counted, and the others."""
    listed = list(rows)
    others = [r for r in listed if counted is None or r.fabric != STOCKINETTE or r.band or r.own_gauge]
    return len(listed) - len(others), others


def _fresh_per_10cm(counted: Comparison) -> float:
    return counted.swatch.per_10cm * exp(counted.believed * counted.log_ratio)
