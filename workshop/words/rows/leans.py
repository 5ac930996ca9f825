"""Which decrease and which increase: at edges, at markers and at raglan lines, and how a wrong-side row has them.

A wrong-side row begins where right-side rows end, so it begins with the one that leans as theirs does there.
"""

from collections.abc import Callable, Iterator, Mapping

from workshop.core.making.ledger import Event
from workshop.core.plan import Plan
from workshop.words.rows.row_actions import AT_LINES, single_at_edge
from workshop.words.texts import texts

AT_EDGES = ("left", "right", "both", "neck-left", "neck-right")


def shaping_notes(plan: Plan) -> Iterator[str]:
    """How to decrease and increase, of what the ledger holds."""
    rows = [(row, e) for p in plan.made.pieces for row in p.rows for e in row.events]
    said = texts("leans")
    for name, applies in SHAPED.items():
        found = [(row, event) for row, event in rows if applies(event)]
        if found:
            told = said[name] + (said[f"{name}_ws"] if any(row.side == "WS" for row, _ in found) else "")
            if name == "decreases" and any(e.stitches == 2 and e.where != "both" for _, e in found):
                told += said["double"]
            yield told + (said["no_bar"] if name == "line_increases" else "")


SHAPED: Mapping[str, Callable[[Event], bool]] = {
    "decreases": lambda e: e.where in AT_EDGES and (e.do == "decrease" or single_at_edge(e)),
    "increases": lambda e: e.where in AT_EDGES and e.do == "increase",
    "line_decreases": lambda e: e.line in AT_LINES and e.do == "decrease",
    "line_increases": lambda e: e.line in AT_LINES and e.do == "increase",
}
"""Which decrease and which increase is meant, by the name of its sentence."""
