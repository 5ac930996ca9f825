"""Panels: front and back from some row up to the shoulder, with both outer edges and the neck.

What happens at the outer edges and what happens at the neck are schedules that are planned apart; they meet only
here, row by row, so that armhole, raglan, neck and shoulder may overlap as they like. A panel that divides at the
neck goes on as two parts, each with its own outer edge.
"""

from collections.abc import Iterable, Mapping
from itertools import accumulate

from workshop.core.making.ledger import Event, Ledger, Piece, Schedule, Schedules, by_row, scheduled
from workshop.core.making.necklines import NeckDecrease, NeckShaping
from workshop.core.making.roles import BOTH_EDGES, SHOULDER, Edge, other
from workshop.core.making.spacing import split_evenly
from workshop.project import Do, Where


def at_edge(outer: Iterable[Schedule], edge: Edge) -> Schedules:
    """What happens at one of the outer edges."""
    mine = (s for s in outer if s.event.where in (edge, "both"))
    return tuple(Schedule(Event(s.event.do, edge, s.event.stitches), s.rows) for s in mine)


def bind_off_row(edge: Edge, begins: Edge, row: int) -> int:
    """Where stitches of an edge can be bound off in the pair that begins with right-side row ``row``."""
    return row if edge == begins else row + 1


def bound_off_at_both(begins: Edge, first_row: int, steps: Iterable[int]) -> Schedules:
    """Bind-offs at both edges, one step in each pair of rows from right-side row ``first_row`` on."""
    return scheduled(
        (bind_off_row(edge, begins, first_row + 2 * i), Event("bind-off", edge, step))
        for i, step in enumerate(steps)
        for edge in BOTH_EDGES
        if step
    )


def alike(rows: Iterable[int], do: Do = "decrease", stitches: int = 1) -> Schedules:
    """The same at both edges on the same rows."""
    return scheduled((row, Event(do, "both", stitches)) for row in rows)


def work_panel(
    ledger: Ledger, outer: Schedules, neck: NeckShaping | None, neck_rows: int, last_row: int, keys: Mapping[str, int]
) -> list[Piece]:
    """Work a panel to ``last_row``; the neck begins ``neck_rows`` rows below its end, on a right-side row."""
    ledger.follow(last_row - (neck_rows if neck else 0), outer)
    return _divide(ledger, outer, neck, last_row, keys) if neck else [ledger.piece(**keys)]


def _divide(ledger: Ledger, outer: Schedules, neck: NeckShaping, last_row: int, keys: Mapping[str, int]) -> list[Piece]:
    """Divide in the next row, a right-side row, and work both sides to the end.

    The side worked last in the dividing row goes on at once; its neck edge begins right-side rows. The other
    one waits, is joined at the neck edge with the wrong side facing, and binds off on wrong-side rows: the two
    are one row apart, which is accepted practice.
    """
    row, first = ledger.next_row, ledger.begins
    last = other(first)
    half = (ledger.stitches - neck.centre) // 2
    sides = {e: half + sum(s.event.change for s in at_edge(outer, e) if row in s.rows) for e in (first, last)}
    middle = [Event("bind-off", "centre", neck.centre)] if neck.centre else []
    events = (Event("hold", first, sides[first]), *middle, Event("hold", last, sides[last]))
    ledger.follow(row, (*outer, *(Schedule(event, (row,)) for event in events)))
    whole = ledger.piece(**keys)
    return [whole, *(_side(whole, edge, sides[edge], outer, neck, last_row) for edge in (last, first))]


def _side(whole: Piece, edge: Edge, stitches: int, outer: Schedules, neck: NeckShaping, last_row: int) -> Piece:
    part = Ledger(SHOULDER, "flat", stitches, edge, whole, whole.begins, whole.edge_stitches)
    part.follow(last_row, (*at_edge(outer, edge), *neck_edge(edge, whole.begins, neck.decreases, whole.last_row)))
    return part.piece(shoulder=part.stitches)


def neck_edge(edge: Edge, begins: Edge, decreases: Iterable[NeckDecrease], dividing_row: int) -> Schedules:
    """The neck edge of one side of a divided panel, or of one half of an open front."""
    where: Where = "neck-left" if edge == "left" else "neck-right"
    return scheduled((neck_row(t, edge, begins, dividing_row), taken(t, where)) for t in decreases)


def taken(take: NeckDecrease, where: Where) -> Event:
    """What is taken at a neck edge as an event."""
    return Event("decrease" if take.decreased else "bind-off", where, take.stitches)


def both_neck_edges(
    decreases: Iterable[tuple[int, NeckDecrease]], one: Do = "decrease", several: Do = "bind-off"
) -> Schedules:
    """Takes, with their rows, at both ends of a piece whose right-side rows begin at the right front.

    With other deeds the same of a piece that grows from the neck: its right-side rows end there.
    """
    found: list[tuple[int, Event]] = []
    for row, take in decreases:
        do, second = (one, row) if take.decreased else (several, row + 1)
        found += [(row, Event(do, "neck-right", take.stitches)), (second, Event(do, "neck-left", take.stitches))]
    return scheduled(found)


def neck_row(take: NeckDecrease, edge: Edge, begins: Edge, dividing_row: int) -> int:
    """Row of a take: bind-offs at the beginning of a row, decreases on the right side.

    At the edge where right-side rows begin, the *neck* edge begins wrong-side rows.
    """
    row = dividing_row + 2 * take.pair
    return row - 1 if edge == begins and not take.decreased else row


EDGE = 1
"""Stitch left between a decrease and its edge (common practice, no source)."""


def has_room(left: int, outer: Schedules, neck: Schedules) -> bool:
    """Whether what lies beside a neck has the stitches for its outer edge and for the neck, in every row.

    ``left`` are its stitches at the top, edge stitches included. A decrease works two stitches and leaves one beside
    it, a bind-off leaves one on the needle.
    """
    begins = min((row for s in neck for row in s.rows), default=0)
    shaped = {row: [s.event for s in due if s.event.change] for row, due in by_row((*outer, *neck)).items()}
    shaped = {row: events for row, events in shaped.items() if row >= begins}
    stitches = left - sum(e.change for events in shaped.values() for e in events)
    for row in sorted(shaped):
        if sum(e.stitches + 1 + EDGE * (e.do == "decrease") for e in shaped[row]) > stitches:
            return False
        stitches += sum(e.change for e in shaped[row])
    return True


def neck_has_room(left: int, begins: Edge, outer: Schedules, neck: NeckShaping, dividing_row: int) -> bool:
    """Whether both sides of a neck that begins in ``dividing_row`` have room for all takes."""
    return all(
        has_room(left, at_edge(outer, edge), neck_edge(edge, begins, neck.decreases, dividing_row))
        for edge in BOTH_EDGES
    )


def shoulder_steps(stitches: int, slope_rows: int) -> tuple[int, ...]:
    """Steps of a sloped shoulder: one more than pairs of rows, as the last one ends it; the larger first."""
    steps = max(1, min(slope_rows // 2 + 1, stitches // 2))
    return split_evenly(stitches, steps)


def sloped(begins: Edge, first_row: int, steps: tuple[int, ...], *, short_rows: bool = False) -> Schedules:
    """Shoulders in steps from right-side row ``first_row`` on: all but the last step, which ends the piece.

    Bound off at the beginnings of rows, or left unworked at the ends of the rows before (short rows): then
    the stitches stay in work, and a last row over all of them closes the steps.
    """
    if not short_rows:
        return bound_off_at_both(begins, first_row, steps[:-1])
    return scheduled(
        (bind_off_row(edge, begins, first_row + 2 * i) - 1, Event("short-row", edge, waiting))
        for i, waiting in enumerate(accumulate(steps[:-1]))
        for edge in BOTH_EDGES
    )
