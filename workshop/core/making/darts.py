"""Bust darts in short rows: a front that is longer over the bust than at its side seams.

Rows come in pairs, and every turn is a little further from the side. Published: 1 cm more at 4.2 rows to the
cm is 4 rows (tests/published). How much more: an inch scant from a C cup on and as much for each further size
(rule of thumb in print).
"""

from workshop.core.calculation import EVEN, WHOLE
from workshop.core.edgings import STOCKINETTE
from workshop.core.making.ledger import Event, Ledger
from workshop.core.making.roles import Edge, other
from workshop.project import Side
from workshop.records import record
from workshop.tables.trade_rules import DART_FROM_CM

CM_PER_CUP = 2.0
"""Length that each cup size wants, and the girth of a cup size is 2.5 cm (printed: 3/4-1 in)."""

MOST_CM = 7.5
"""A wedge of more than three inches is better split in two (method: bust short rows)."""


@record
class Dart:
    """A wedge of short rows. ``turns`` are the stitches left unworked at a side at each turn, widest row first."""

    after_row: int
    turns: tuple[int, ...]

    @property
    def rows(self) -> int:
        """Rows of the wedge: two for each turn."""
        return 2 * len(self.turns)


def wanted_length_cm(full_bust_cm: float, high_bust_cm: float) -> float:
    """How much longer the front should be, in cm; 0 below a C cup."""
    over = full_bust_cm - high_bust_cm
    if over < DART_FROM_CM:
        return 0.0
    return min(MOST_CM, CM_PER_CUP * (1 + (over - DART_FROM_CM) / 2.5))


def plan_dart(
    extra_cm: float, side_to_apex_cm: float, after_row: int, stitches_per_10cm: float, rows_per_10cm: float
) -> Dart | None:
    """A wedge for so much more length; turns from an inch inside the side to an inch short of the apex.

    Fewer turns where they would lie closer than two stitches. None where there is nothing to shape.
    """
    rows = EVEN(extra_cm * rows_per_10cm / 10)
    first = WHOLE(2.5 * stitches_per_10cm / 10)
    last = WHOLE((side_to_apex_cm - 2.5) * stitches_per_10cm / 10)
    if rows < 2 or last <= first:
        return None
    turns = max(1, min(rows // 2, (last - first) // 2 + 1))
    if turns == 1:
        return Dart(after_row, (first,))
    return Dart(after_row, tuple(first + WHOLE(i * (last - first) / (turns - 1)) for i in range(turns)))


def work_dart(ledger: Ledger, dart: Dart) -> None:
    """Work the wedge on a front: every row ends short at the edge that it goes towards.

    On half of an open front only the rows that go to the side end short, at the side.
    """
    for turn in dart.turns:
        for is_right_side in (True, False):
            towards: Edge = other(ledger.begins) if is_right_side else ledger.begins
            side: Side = "RS" if is_right_side else "WS"
            events = (Event("short-row", towards, turn, "dart"),) if towards in ledger.outer else ()
            ledger.shape(STOCKINETTE, *events, side=None if ledger.worked == "flat" else side)
