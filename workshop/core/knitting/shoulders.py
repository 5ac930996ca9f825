"""Shoulders: two of a kind, each sewn to one of the other panel, so all of them are shaped alike.

Their steps follow each other to the last row. Once one of them is knitted, the others keep its rhythm, whatever the
plan wants of the length since.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import accumulate, pairwise

from workshop.core.garments import Garment
from workshop.core.knitting.meeting import MIRRORED, is_step, levels, numbered, reached, shapes, underarm_row
from workshop.core.knitting.rest import stream_of
from workshop.core.making.ledger import Event, Piece, Row
from workshop.core.making.roles import BOTH_EDGES, SHOULDER, Edge
from workshop.core.making.spacing import split_evenly
from workshop.project import Project


def side_ahead(project: Project, made: Garment, side: Piece) -> Piece | None:
    """The other side of a neck, of which more is knitted: both end in the same row; None where none is ahead."""
    others = [p for p in made.pieces if p.role is SHOULDER is side.role and p is not side and p.parent is side.parent]
    return next((p for p in others if reached(project, [p]) > reached(project, [side])), None)


def _steps_begin(chain: Sequence[Piece]) -> int:
    """The row above which what is bound off at the outer edges is the shoulder's: half the height of the armhole."""
    at = underarm_row(chain[0])
    return at + (max((p.last_row for p in chain), default=at) - at) // 2


def first_step(chain: Sequence[Piece]) -> int | None:
    """The row of the first step of the shoulders of a panel; None where these have no steps, or end in one."""
    begin = _steps_begin(chain)
    return min((r.row for p in chain for r in p.rows if r.row > begin and any(map(is_step, r.events))), default=None)


def rows_to_steps(chain: Sequence[Piece]) -> int:
    """Rows of an armhole up to the first step of its shoulder, or to its end."""
    at, step = levels(chain), first_step(chain)
    return (at.top if step is None else step) - at.underarm


def steps_knitted(rows: Sequence[Row], underarm: int, chain: Sequence[Piece]) -> list[Row]:
    """The rows of steps that are worked, of all that is knitted of a panel.

    ``chain`` is what the panel and its shoulders are wanted as: it says how high an armhole is.
    """
    begin = underarm + _steps_begin(chain) - underarm_row(chain[0])
    return [r for r in rows if r.row > begin and any(map(is_step, r.events))]


def in_steps(piece: Piece, parent: Piece, cast_on: int, steps: Sequence[Row]) -> Piece | None:
    """One side of a neck, begun with so many stitches, with its shoulder in steps as large as the first of those that
    are worked; None where it can't be. Its neck is that of ``piece``, which is wanted.
    """
    if not steps or piece.side is None or not piece.rows:
        return None
    begin = parent.last_row
    neck = [(r.row - _before(piece) + begin, e) for r in piece.rows for e in r.events if e.where not in BOTH_EDGES]
    last, outer = _steps_of_side(piece, begin, cast_on + sum(e.change for _, e in neck), steps)
    neck = _before_the_end(neck, last)
    happens: dict[int, list[Event]] = {n: [] for n in range(begin + 1, last + 1)}
    for number, event in [*outer, *neck]:
        happens.setdefault(number, []).append(event)
    done = sum(e.change for events in happens.values() for e in events)
    if len(happens) != max(0, last - begin) or not happens or cast_on + done <= 0:
        return None
    like = piece.rows[-1]
    made = replace(piece, cast_on=cast_on, bound_off=cast_on + done, parent=parent, planned_at=0)
    found = [replace(like, row=n, events=tuple(events)) for n, events in happens.items()]
    return numbered(made, found, piece.marks, begin + 1)


def _before_the_end(neck: Sequence[tuple[int, Event]], last: int) -> list[tuple[int, Event]]:
    """The shaping of a neck whose side ends with row ``last``: what would come later is done with the last before."""
    found = [(row, e) for row, e in neck if row <= last]
    for row, event in (late for late in neck if late[0] > last):
        at = next((i for i in reversed(range(len(found))) if stream_of(found[i][1]) == stream_of(event)), None)
        if at is None:
            found.append((row, event))  # there is no room for it
        else:
            to, there = found[at]
            found[at] = to, replace(there, stitches=there.stitches + event.stitches)
    return found


def _steps_of_side(
    piece: Piece, begin: int, stitches: int, steps: Sequence[Row]
) -> tuple[int, Sequence[tuple[int, Event]]]:
    """The last row of a side of a neck, and the steps that it has itself, after row ``begin``; from ``stitches``."""
    first = min(steps, key=lambda r: r.row)
    step, side = next(e for e in first.events if is_step(e)), piece.side
    assert side is not None
    own = _at_side(steps, side)
    row = own[0][0] if own else first.row + (1 if step.where == piece.begins else -1)
    row += 2 * (not own and row <= begin)  # it has not been worked where it would have been
    left = stitches - sum(e.change for number, e in own if number <= begin)
    planned = _many_steps(piece, sum(number <= begin for number, _ in own))
    widths = _widths(left, [e.stitches for _, e in own], step, planned)
    waiting = list(accumulate(widths)) if step.do == "short-row" else widths
    found = [(row + 2 * i, replace(step, where=side, stitches=many)) for i, many in enumerate(waiting[:-1])]
    last = row + 2 * (len(widths) - 1) + (step.do == "short-row") - (1 if side == piece.begins else 2)
    return last, [(number, event) for number, event in found if number > begin]


def _at_side(steps: Sequence[Row], side: Edge) -> list[tuple[int, Event]]:
    """The steps of one shoulder, each with its row."""
    return [(r.row, e) for r in steps for e in r.events if is_step(e) and e.where == side]


def _many_steps(side: Piece, before: int) -> int:
    """The steps of a shoulder of which so many come before its neck, with the stitches that are left after them."""
    return before + sum(is_step(e) for r in side.rows for e in r.events) + 1


def _before(piece: Piece) -> int:
    return piece.rows[0].row - 1


def _widths(stitches: int, done: Sequence[int], first: Event, planned: int) -> list[int]:
    """The steps of a shoulder of so many stitches, ``planned`` of them: those that are worked, and the others that even
    steps begin with; else others about as wide as the first.
    """
    if first.do == "short-row":  # each says how many stitches are left unworked in all
        done = [b - a for a, b in pairwise([0, *done])]
    left = stitches - sum(done)
    for steps in (planned, *range(len(done) + 1, stitches + 1)) if done and planned > len(done) else ():
        even = split_evenly(stitches, steps)
        if [*even[: len(done)]] == [*done]:
            return [*even]
    return [*done, *split_evenly(left, max(1, round(left / max(1, first.stitches))))] if left > 0 else [*done]


def as_other_side(piece: Piece, first: Piece) -> Piece | None:
    """One side of a neck as the mirror of the other as that became; None where it can't be."""
    happens = _mirrored(piece, first)
    if happens is None or len(happens) > len(first.rows):  # it would end later
        return None
    done = sum(e.change for events in happens.values() for e in events)
    made = replace(
        first,
        side=piece.side,
        begins=piece.begins,
        parent=piece.parent,
        planned_at=0,
        cast_on=first.bound_off - done,
    )
    rows = [replace(r, events=_in_order(happens, r.row)) for r in first.rows]
    made = numbered(made, rows, first.marks, rows[0].row)
    return piece if shapes(made) == shapes(piece) else made


def _mirrored(piece: Piece, first: Piece) -> Mapping[int, Sequence[Event]] | None:
    """What happens in the rows of one side of a neck as the mirror of the other; None if it should have begun before.

    What is done where a row begins or ends comes a row earlier on the side at which right-side rows begin.
    """
    divided = first.parent.rows[-1:] if first.parent else ()
    if not first.rows or not divided:
        return None
    later, begin = (-1 if piece.side == piece.begins else 1), first.rows[0].row
    happens: dict[int, list[Event]] = {r.row: [] for r in first.rows}
    before = [(begin - 1, e) for e in divided[0].events if is_step(e) and e.where == first.side]
    for row, event in [*before, *((r.row, e) for r in first.rows for e in r.events)]:
        at_end = event.do in ("bind-off", "cast-on", "short-row") and event.where in MIRRORED
        to, there = row + later * at_end, replace(event, where=MIRRORED.get(event.where, event.where))
        if to >= begin:
            happens.setdefault(to, []).append(there)
        elif there not in divided[0].events:
            return None
    return happens


def _in_order(happens: Mapping[int, Sequence[Event]], row: int) -> tuple[Event, ...]:
    """What happens in a row, in the order in which each of it is first done, as in a piece that is planned anew."""
    streams = dict.fromkeys(stream_of(e) for number in sorted(happens) for e in happens[number])
    return tuple(sorted(happens[row], key=lambda e: list(streams).index(stream_of(e))))


def shoulder_stitches(chain: Sequence[Piece], side: Edge) -> int:
    """Stitches of one shoulder: bound off at its outer edge in steps, with all that are left."""
    parts = [p for p in chain if p.role is SHOULDER and p.side == side] or [chain[0]]
    begin = _steps_begin(chain)
    rows = [r for p in (*([chain[0]] if parts[0] is not chain[0] else []), parts[0]) for r in p.rows if r.row > begin]
    steps = sum(e.stitches for r in rows for e in r.events if e.do == "bind-off" and e.where in (side, "both"))
    return steps + parts[0].bound_off
