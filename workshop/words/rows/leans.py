"""Which decrease and which increase: at edges, at markers and at raglan lines, and how a wrong-side row has them.

A wrong-side row begins where right-side rows end, so it begins with the one that leans as theirs does there.
"""

from collections.abc import Callable, Iterator, Mapping

from workshop.core.making.ledger import Event, Piece, Row
from workshop.core.making.raglan_lines import BOTH_SIDES, ONE_SIDE, PER_SHAPING
from workshop.core.making.roles import BODY
from workshop.core.plan import Plan
from workshop.words.rows.row_actions import AT_LINES, increases_above_cast_on, single_at_edge
from workshop.words.texts import texts

AT_EDGES = ("left", "right", "both", "neck-left", "neck-right")


def shaping_notes(plan: Plan) -> Iterator[str]:
    """How to decrease and increase, of what the ledger holds."""
    rows = [(p, row, e) for p in plan.made.pieces for row in p.rows for e in row.events]
    said = texts("leans")
    for name, applies in SHAPED.items():
        found = [(piece, row, event) for piece, row, event in rows if applies(event)]
        if found:
            told = said[name].format(**_inside_of(found))
            told += said[f"{name}_ws"] if any(row.side == "WS" for _, row, _ in found) else ""
            if name == "decreases" and any(e.stitches == 2 and e.where != "both" for _, _, e in found):
                told += said["double"]
            yield told


def _inside_of(found: list[tuple[Piece, Row, Event]]) -> Mapping[str, str]:
    """What shaping is worked one stitch inside of, in words: edges, markers, or both where it is at both."""
    places = {"edges" if _at_ends(event, piece, row) else "markers" for piece, row, event in found}
    return texts(f"leans at {' and '.join(sorted(places))}")


SHAPED: Mapping[str, Callable[[Event], bool]] = {
    "decreases": lambda e: e.where in AT_EDGES and (e.do == "decrease" or single_at_edge(e)),
    "increases": lambda e: e.where in AT_EDGES and e.do == "increase",
    "line_decreases": lambda e: e.line in AT_LINES and e.do == "decrease",
    "line_increases": lambda e: e.line in AT_LINES and e.do == "increase",
}
"""Which decrease and which increase is meant, by the name of its sentence."""


def how_worked(piece: Piece, row: Row) -> str:
    """Where in a row its shaping lies, which decrease or increase it is there, and how stitches are cast on."""
    said = texts("how")
    at_places = [e for e in row.events if not e.across]  # what goes evenly across is at no marker
    at_markers = [_pair(e, row) for e in at_places if _each_once(e, piece) and not _at_ends(e, piece, row)]
    told = [said["markers"].format(begins=begins, ends=ends) for begins, ends in dict.fromkeys(at_markers)]
    told += [_on_one_side(e, row) for e in row.events if e.line in ONE_SIDE and e.stitches == PER_SHAPING[e.line]]
    told += filter(None, [no_bar(piece, row)])
    places = dict(sorted(place for e in row.events for place in _places(e, piece, row)))
    if all(places.values()) and len(places) == 2:
        told += [said["both_edges"].format(**places)]
    else:
        told += [said["one_edge" if how else "place"].format(place=place, how=how) for place, how in places.items()]
    told += [said["cast_on"]] if any(e.do == "cast-on" for e in row.events) else []
    return " ".join(told)


def no_bar(piece: Piece, row: Row) -> str:
    """How stitches are made right above a cast-on, where there's nothing to lift; else empty."""
    return texts("leans")["no_bar"] if increases_above_cast_on(piece, row) else ""


def ends_of_rows(piece: Piece) -> str:
    """At which edge the rows of half a front or of a shoulder begin, where one of them is shaped; else empty."""
    if len(piece.outer) != 1 or not any(place for r in piece.rows for e in r.events for place in _places(e, piece, r)):
        return ""
    return texts("how")["outer_first" if piece.begins in piece.outer else "neck_first"]


def _pair(event: Event, row: Row) -> tuple[str, str]:
    """A decrease or an increase at the beginning of a row or after a marker, and that at the end or before one."""
    do = "decrease" if single_at_edge(event) else event.do
    name = f"{do}_{'WS' if row.side == 'WS' else 'RS'}"
    return texts("how")[f"{name}_beginning"], texts("how")[f"{name}_end"]


def _on_one_side(event: Event, row: Row) -> str:
    """Which parts are shaped at the markers, and how, where the others are not."""
    begins, ends = _pair(event, row)
    return texts("how")[event.line].format(begins=begins, ends=ends)


def _each_once(event: Event, piece: Piece) -> bool:
    """Whether each place is shaped by one stitch, as a decrease or an increase does it."""
    times = PER_SHAPING[BOTH_SIDES] if event.line else 2 if event.where == "both" and piece.role is BODY else 1
    shaped = event.do in ("decrease", "increase") and event.line in ("", BOTH_SIDES)
    return (shaped or single_at_edge(event)) and event.stitches == times


def _at_ends(event: Event, piece: Piece, row: Row) -> bool:
    """Whether it lies at one end of a flat row or at both."""
    both = event.where == "both" and row.side != "round" and piece.role is not BODY
    return both or single_at_edge(event) or piece.at_beginning(event, row) is not None


def _places(event: Event, piece: Piece, row: Row) -> Iterator[tuple[str, str]]:
    """Ends of the row at which something happens, each with how; "" where the words of the row say that."""
    shaped = event.do in ("increase", "decrease", "cast-on") or single_at_edge(event)
    if not shaped or not _at_ends(event, piece, row):
        return
    begins, ends = _pair(event, row) if _each_once(event, piece) else ("", "")
    at = True if single_at_edge(event) else piece.at_beginning(event, row)
    if at is not False:
        yield "beginning", begins
    if not at:
        yield "end", ends
