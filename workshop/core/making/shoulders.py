"""A piece divides at the neck: two shoulders go on as pieces of their own."""

from collections.abc import Sequence

from workshop.core.making.ledger import Edge, Event, Ledger, Piece
from workshop.core.making.necklines import NeckShaping


def short_row_lengths(steps_from_edge: Sequence[int], centre: int) -> tuple[int, ...]:
    """Stitches worked in each row of a short-row shoulder from the top: both shoulders grow outwards in steps.

    The first row runs from one edge over the middle, the second back over the middle and one step; then
    each row takes one step more, at either side in turn, the steps nearest the neck first. Published: steps
    of 7, 8, 8 beside 29 stitches give 52, 37, 45, 53, 61, 68, 75.
    """
    worked, lengths = centre, [sum(steps_from_edge) + centre]
    for step in reversed(steps_from_edge):
        for _side in ("one", "other"):
            worked += step
            lengths.append(worked)
    return tuple(lengths)


def divide_at_neck(ledger: Ledger, shaping: NeckShaping, rows: int, keys: dict[str, int]) -> list[Piece]:
    """Divide ``ledger`` in its next row, a right-side row, and work both shoulders to the end.

    ``rows`` is the depth of the neck with the dividing row. The shoulder worked last in the dividing row
    goes on at once; its neck edge begins right-side rows, so its steps are on those. The other one waits,
    is joined at the neck edge with the wrong side facing, and has its steps on wrong-side rows: the two
    are one row apart, which is accepted practice.
    """
    shoulder = (ledger.stitches - shaping.width) // 2
    side = shoulder + sum(shaping.steps)
    first: Edge = ledger.begins
    last: Edge = "left" if first == "right" else "right"
    ledger.shape(
        "stocking",
        Event("hold", first, side),
        Event("bind-off", "centre", shaping.centre),
        Event("hold", last, side),
    )
    parts = [
        _shoulder(ledger, last, side, shaping, rows - 1, first_step=2),
        _shoulder(ledger, first, side, shaping, rows - 1, first_step=1),
    ]
    return [ledger.piece(**keys), *parts]


def _shoulder(parent: Ledger, edge: Edge, stitches: int, shaping: NeckShaping, rows: int, *, first_step: int) -> Piece:
    """One shoulder of ``rows`` rows, stepping at the neck on every second row from ``first_step`` on."""
    part = Ledger(
        f"{parent.name}, {edge} shoulder",
        "flat",
        stitches,
        came_from=parent.name,
        begins=parent.begins,
        edge_stitches=parent.edge_stitches,
        first_row=parent.next_row,
    )
    for row in range(1, rows + 1):
        step, between = divmod(row - first_step, 2)
        events: tuple[Event, ...] = ()
        if not between and 0 <= step < len(shaping.steps):
            events = (Event("bind-off", "neck-left" if edge == "left" else "neck-right", shaping.steps[step]),)
        part.shape("stocking", *events)
    return part.piece(shoulder=part.stitches)
