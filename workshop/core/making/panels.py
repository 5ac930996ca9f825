"""Panels: front and back from some row up to the shoulder, with both outer edges and the neck.

What happens at an outer edge is a mapping from row number to :class:`Happens`; the two edges and the neck are
planned apart and meet only here, row by row, so that armhole, raglan, neck and shoulder may overlap as they
like. A panel that divides at the neck goes on as two parts, each with its own outer edge.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from workshop.core.making.ledger import Do, Event, Fabric, Ledger, Piece, Where
from workshop.core.making.necklines import NeckShaping, Take
from workshop.core.making.roles import SHOULDER, Edge
from workshop.core.making.spacing import split_evenly


@dataclass(frozen=True, slots=True)
class Happens:
    """One thing at one edge in one row."""

    do: Do
    stitches: int

    @property
    def change(self) -> int:
        """Stitches that it adds (or takes, if negative)."""
        return Event(self.do, "left", self.stitches).change


EdgeRows = Mapping[int, Happens]
"""What happens at one edge, by row."""


@dataclass(frozen=True, slots=True)
class Outer:
    """Both outer edges, as worn."""

    left: EdgeRows = field(default_factory=dict)
    right: EdgeRows = field(default_factory=dict)

    def at(self, edge: Edge) -> EdgeRows:
        """The rows of one edge."""
        return self.left if edge == "left" else self.right

    def events(self, row: int) -> tuple[Event, ...]:
        """What happens at the outer edges of an undivided panel in a row."""
        left, right = self.left.get(row), self.right.get(row)
        if left is not None and left == right:
            return (Event(left.do, "both", left.stitches),)
        edges: tuple[tuple[Edge, Happens | None], ...] = (("left", left), ("right", right))
        return tuple(Event(h.do, edge, h.stitches) for edge, h in edges if h is not None)

    def with_rows(self, other: "Outer") -> "Outer":
        """Both together; they must not meet in a row."""
        return Outer({**self.left, **other.left}, {**self.right, **other.right})


def other(edge: Edge) -> Edge:
    """The other edge."""
    return "left" if edge == "right" else "right"


def bind_off_row(edge: Edge, begins: Edge, row: int) -> int:
    """Where stitches of an edge can be bound off in the pair that begins with right-side row ``row``."""
    return row if edge == begins else row + 1


def bound_off_at_both(begins: Edge, first_row: int, steps: Iterable[int]) -> Outer:
    """Bind-offs at both edges, one step in each pair of rows from right-side row ``first_row`` on."""
    found: dict[Edge, dict[int, Happens]] = {"left": {}, "right": {}}
    for i, step in enumerate(steps):
        for edge, rows in found.items():
            if step:
                rows[bind_off_row(edge, begins, first_row + 2 * i)] = Happens("bind-off", step)
    return Outer(found["left"], found["right"])


def alike(rows: Iterable[int], what: Happens) -> Outer:
    """The same at both edges on the same rows."""
    each = dict.fromkeys(rows, what)
    return Outer(each, dict(each))


def work_to(ledger: Ledger, last_row: int, outer: Outer, fabric: Fabric = "stocking") -> None:
    """Work an undivided panel up to ``last_row``."""
    while ledger.next_row <= last_row:
        ledger.shape(fabric, *outer.events(ledger.next_row))


def work_panel(
    ledger: Ledger, outer: Outer, neck: NeckShaping | None, neck_rows: int, last_row: int, keys: Mapping[str, int]
) -> list[Piece]:
    """Work a panel to ``last_row``; the neck begins ``neck_rows`` rows below its end, on a right-side row."""
    if neck is None:
        work_to(ledger, last_row, outer)
        return [ledger.piece(**keys)]
    work_to(ledger, last_row - neck_rows, outer)
    return _divide(ledger, outer, neck, last_row, keys)


def _divide(ledger: Ledger, outer: Outer, neck: NeckShaping, last_row: int, keys: Mapping[str, int]) -> list[Piece]:
    """Divide in the next row, a right-side row, and work both sides to the end.

    The side worked last in the dividing row goes on at once; its neck edge begins right-side rows. The other
    one waits, is joined at the neck edge with the wrong side facing, and binds off on wrong-side rows: the two
    are one row apart, which is accepted practice.
    """
    row, first = ledger.next_row, ledger.begins
    last = other(first)
    half = (ledger.stitches - neck.centre) // 2
    sides = {edge: half + (h.change if (h := outer.at(edge).get(row)) else 0) for edge in (first, last)}
    events = [*outer.events(row), Event("hold", first, sides[first])]
    if neck.centre:
        events.append(Event("bind-off", "centre", neck.centre))
    ledger.shape("stocking", *events, Event("hold", last, sides[last]))
    whole = ledger.piece(**keys)
    return [whole, *(_side(whole, edge, sides[edge], outer, neck, last_row) for edge in (last, first))]


def _side(whole: Piece, edge: Edge, stitches: int, outer: Outer, neck: NeckShaping, last_row: int) -> Piece:
    part = Ledger(SHOULDER, "flat", stitches, edge, whole, whole.begins, whole.edge_stitches)
    work_side(part, outer.at(edge), neck.takes, whole.last_row, last_row)
    return part.piece(shoulder=part.stitches)


def work_side(part: Ledger, outer: EdgeRows, takes: Iterable[Take], dividing_row: int, last_row: int) -> None:
    """Work one side of a divided panel, or one half of an open front, up to ``last_row``."""
    neck, (edge,) = neck_takes(part, takes, dividing_row), part.outer
    where: Where = "neck-left" if edge == "left" else "neck-right"
    while part.next_row <= last_row:
        events = []
        if (at_edge := outer.get(part.next_row)) is not None:
            events.append(Event(at_edge.do, edge, at_edge.stitches))
        if (take := neck.get(part.next_row)) is not None:
            events.append(Event("decrease" if take.decreased else "bind-off", where, take.stitches))
        part.shape("stocking", *events)


def neck_takes(part: Ledger, takes: Iterable[Take], dividing_row: int) -> dict[int, Take]:
    """The takes of a part with one outer edge, by their rows."""
    (edge,) = part.outer
    return {neck_row(take, edge, part.begins, dividing_row): take for take in takes}


def neck_row(take: Take, edge: Edge, begins: Edge, dividing_row: int) -> int:
    """Row of a take: bind-offs at the beginning of a row, decreases on the right side.

    At the edge where right-side rows begin, the *neck* edge begins wrong-side rows.
    """
    row = dividing_row + 2 * take.pair
    return row - 1 if edge == begins and not take.decreased else row


EDGE = 1
"""Stitch left between a decrease and its edge (common practice, no source)."""


def has_room(left: int, outer: EdgeRows, takes: Mapping[int, Take]) -> bool:
    """Whether what lies beside a neck has the stitches for its outer edge and for the neck, in every row.

    ``left`` are its stitches at the top, edge stitches included; ``takes`` the rows of the neck. A decrease works two
    stitches and leaves one beside it, a bind-off leaves one on the needle.
    """
    shaped = {row: h for row, h in outer.items() if row >= min(takes, default=0) and h.change}
    stitches = left - sum(h.change for h in shaped.values()) + sum(take.stitches for take in takes.values())
    for row in sorted({*shaped, *takes}):
        at_edge, take = shaped.get(row), takes.get(row)
        needs = at_edge.stitches + 1 + EDGE * (at_edge.do == "decrease") if at_edge else 0
        needs += take.stitches + 1 + EDGE * take.decreased if take else 0
        if needs > stitches:
            return False
        stitches += (at_edge.change if at_edge else 0) - (take.stitches if take else 0)
    return True


def neck_has_room(left: int, begins: Edge, outer: Outer, neck: NeckShaping, dividing_row: int) -> bool:
    """Whether both sides of a neck that begins in ``dividing_row`` have room for all takes."""
    return all(
        has_room(left, outer.at(edge), {neck_row(t, edge, begins, dividing_row): t for t in neck.takes})
        for edge in (begins, other(begins))
    )


def shoulder_steps(stitches: int, slope_rows: int) -> tuple[int, ...]:
    """Steps of a sloped shoulder: one more than pairs of rows, as the last one ends it; the larger first."""
    steps = max(1, min(slope_rows // 2 + 1, stitches // 2))
    return split_evenly(stitches, steps)


def sloped(begins: Edge, first_row: int, steps: tuple[int, ...], *, short_rows: bool = False) -> Outer:
    """Shoulders in steps from right-side row ``first_row`` on: all but the last step, which ends the piece.

    Bound off at the beginnings of rows, or left unworked at the ends of the rows before (short rows): then
    the stitches stay in work, and a last row over all of them closes the steps.
    """
    if not short_rows:
        return bound_off_at_both(begins, first_row, steps[:-1])
    found: dict[Edge, dict[int, Happens]] = {"left": {}, "right": {}}
    waiting = 0
    for i, step in enumerate(steps[:-1]):
        waiting += step
        for edge, rows in found.items():
            row = bind_off_row(edge, begins, first_row + 2 * i) - 1
            rows[row] = Happens("short-row", waiting)
    return Outer(found["left"], found["right"])
