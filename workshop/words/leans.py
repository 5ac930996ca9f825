"""Which decrease and which increase: at edges, at markers and at raglan lines, and how a wrong-side row has them.

A wrong-side row begins where right-side rows end, so it begins with the one that leans as theirs does there.
"""

from collections.abc import Iterator

from workshop.core.making.ledger import Do, Event, Row
from workshop.core.plan import Plan
from workshop.words.deeds import LINES, single_at_edge

AT_EDGES = ("left", "right", "both", "neck-left", "neck-right")

DECREASES = (
    "Decreases stand one stitch in from the edge or the marker. At the beginning of a right-side row, or after a "
    "marker: k1, ssk, which leans to the left. At its end, or before a marker: k2tog, k1, which leans to the right."
)
DECREASES_WS = (
    " On a wrong-side row p1, p2tog at the beginning, and ssp, p1 at the end: seen from the right side they lean alike."
)
DOUBLE = " Where 2 stitches are decreased at one edge, make the decrease twice, side by side."
INCREASES = (
    "Increases stand one stitch in from the edge or the marker. At the beginning of a right-side row, or after a "
    "marker: k1, m1l. At its end, or before a marker: m1r, k1."
)
INCREASES_WS = " On a wrong-side row purl them: p1, m1r at the beginning, and m1l, p1 at the end."
LINE_DECREASES = "At a raglan line: k2tog, k1 before the marker, k1, ssk after it."
LINE_DECREASES_WS = " On a wrong-side row ssp, p1 before the marker, p1, p2tog after it."
LINE_INCREASES = "At a raglan line: m1r, k1 before the marker, k1, m1l after it."
LINE_INCREASES_WS = " On a wrong-side row purl them: m1l, p1 before the marker, p1, m1r after it."
NO_BAR = " Right after the cast-on there is no bar to lift yet: put a loop on the right needle instead."
"""How the pairs lean: common practice, no source."""


def shaping_notes(plan: Plan) -> Iterator[str]:
    """How to decrease and increase, of what the ledger holds."""
    rows = [(row, e) for p in plan.made.pieces for row in p.rows for e in row.events]
    decreased = [(row, e) for row, e in rows if e.where in AT_EDGES and _decrease(e)]
    if decreased:
        yield (
            DECREASES
            + (DECREASES_WS if _wrong_side(decreased) else "")
            + (DOUBLE if any(e.stitches == 2 and e.where != "both" for _, e in decreased) else "")
        )
    increased = [(row, e) for row, e in rows if e.where in AT_EDGES and e.do == "increase"]
    if increased:
        yield INCREASES + (INCREASES_WS if _wrong_side(increased) else "")
    at_lines = _at_lines(rows, "decrease")
    if at_lines:
        yield LINE_DECREASES + (LINE_DECREASES_WS if _wrong_side(at_lines) else "")
    at_lines = _at_lines(rows, "increase")
    if at_lines:
        yield LINE_INCREASES + (LINE_INCREASES_WS if _wrong_side(at_lines) else "") + NO_BAR


def _decrease(event: Event) -> bool:
    return event.do == "decrease" or single_at_edge(event)


def _at_lines(rows: list[tuple[Row, Event]], do: Do) -> list[tuple[Row, Event]]:
    return [(row, e) for row, e in rows if e.line in LINES and e.do == do]


def _wrong_side(shaped: list[tuple[Row, Event]]) -> bool:
    return any(row.side == "WS" for row, _ in shaped)
