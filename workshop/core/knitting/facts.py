"""Rows that are knitted, as the save keeps them and as the ledger has them.

They are kept as they were worked, in runs of plain rows that end with a row in which something happens, and never
derived again from the answers.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import accumulate, islice

from workshop.core.edgings import Fabric
from workshop.core.fabric.patterns import PanelRow, PatternRow, StripeRow
from workshop.core.knitting.rest import Done, as_many
from workshop.core.making.centre_panels import is_of_panel
from workshop.core.making.ledger import Counts, Event, Mark, Piece, Row
from workshop.core.making.roles import SLEEVE
from workshop.project import Do, FabricBegun, FabricKind, KnittedPiece, Side, Where, WorkedEvent, WorkedRows


def noted(piece: Piece, rows: int, before: KnittedPiece | None = None) -> KnittedPiece:
    """A piece of the plan with its first rows knitted, for the save; counts on it are kept."""
    known = before or KnittedPiece(piece.name)
    taken = tuple(_as_known(piece.rows[:rows], known))
    marks = {m.after_row: m for m in piece.marks if taken}
    first = marks.get(taken[0].row - 1) if taken else None
    return replace(
        known,
        piece=piece.name,
        rows=len(taken),
        cast_on=piece.cast_on,
        finished=len(taken) == len(piece.rows),
        stitches=known.stitches if known.rows == len(taken) else None,
        planned_at=min(piece.planned_at, len(taken)),
        parts=_parts(first),
        begun=_begun(piece, len(taken), known),
        worked=tuple(_runs(taken, marks, piece.worked == "round")),
    )


def _as_known(rows: Sequence[Row], known: KnittedPiece) -> Iterator[Row]:
    """Rows as they are planned; what was knitted for a panel is told of it though the plan has the panel no more."""
    ends = accumulate(run.rows for run in known.worked)
    was = {end: [_event(e, {}) for e in run.event] for end, run in zip(ends, known.worked, strict=True)}
    for number, row in enumerate(rows, 1):
        events, now = was.get(number, []), [e for e in row.events if e.stitches]
        ground = _of_ground(events)
        panelled = any(is_of_panel(e) for e in events) and _of_ground(now)[: len(ground)] == ground
        yield replace(row, events=(*events, *now[len(ground) :])) if panelled else row


def _of_ground(events: Iterable[Event]) -> list[Event]:
    """Events without what they were for; a panel that brings no stitch leaves none."""
    return [replace(e, line="", along=()) for e in events if e.stitches]


def _begun(piece: Piece, rows: int, known: KnittedPiece) -> tuple[FabricBegun, ...]:
    """What a sleeve has begun in its first rows: as it is known, whatever the plan has by now, and what is new."""
    kept = tuple(b for b in known.begun if b.row <= rows)
    kinds = {b.kind for b in kept}
    return (*kept, *(b for b in _fabric_begun(piece, rows) if b.kind not in kinds))


def _fabric_begun(piece: Piece, rows: int) -> Iterator[FabricBegun]:
    """What a sleeve has begun in its first rows; bodies need no record, for theirs begins right above the edging."""
    if piece.role is not SLEEVE or piece.parent is not None:
        return
    starts: Mapping[FabricKind, Iterable[tuple[int, StripeRow | PatternRow | PanelRow]]] = {
        "stripes": islice(piece.stripes.items(), 1),
        "pattern": piece.pattern.rows[:1] if piece.pattern else (),
        "panel": (first for panel in piece.panels for first in panel.rows[:1]),
    }
    yield from (FabricBegun(kind, row, at.row) for kind, found in starts.items() for row, at in found if row <= rows)


def done_of(knitted: KnittedPiece, target: Piece, base: int = 0, ahead: tuple[int, int] = (0, 0)) -> Done:
    """What is knitted, as rows of the ledger; ``base`` is the number of the row before the first, ``ahead`` as there.

    A count on the needle that is not the one of the plan happened in the last row.
    """
    rows: list[Row] = []
    marks = [*first_marks(target, base, knitted.cast_on, knitted.parts)]
    known = {m.what: m for m in target.marks}
    along = {(e.do, e.where, e.stitches): e for row in target.rows for e in row.events if e.along}
    stitches = knitted.cast_on
    for run in knitted.worked:
        for n in range(run.rows):
            events = tuple(_event(e, along) for e in run.event) if n == run.rows - 1 else ()
            number = base + len(rows) + 1
            after = stitches + sum(e.change for e in events)
            side = run.side or _side(number, in_round=target.worked == "round")
            rows.append(Row(number, side, stitches, after, Fabric(run.fabric), events))
            stitches = after
        mark = known.get(run.mark)
        if mark is not None:
            # what is held at an underarm is decided when the yoke is begun
            parts = mark.counts if run.mark == "join" else _counts(run.parts, mark) or mark.counts
            marks.append(Mark(base + len(rows), run.mark, parts))
    off = knitted.stitches - stitches if knitted.stitches is not None else 0
    if rows and off and not knitted.finished:
        slip = Event("increase" if off > 0 else "decrease", "across", abs(off))
        rows[-1] = replace(rows[-1], after=rows[-1].after + off, events=(*rows[-1].events, slip))
    return Done(knitted.cast_on, base, tuple(rows), tuple(marks), finished=knitted.finished, ahead=ahead)


def first_marks(target: Piece, base: int, cast_on: int, parts: Sequence[int] = ()) -> tuple[Mark, ...]:
    """What is done before the first row, after row ``base``: markers between as many stitches as there are."""
    before = target.rows[0].row - 1 if target.rows else 0
    found = (replace(m, counts=_counts(parts, m)) if parts else m for m in target.marks if m.after_row == before)
    return tuple(replace(m, after_row=base, counts=as_many(m.counts, target.cast_on, cast_on)) for m in found)


def _parts(mark: Mark | None) -> tuple[int, ...]:
    return tuple(count for _, count in mark.counts) if mark else ()


def _counts(parts: Sequence[int], like: Mark | None) -> Counts:
    """Stitches between markers as they were placed, each of the part that the plan has there."""
    if like is None or len(parts) != len(like.counts) or min(parts, default=0) < 0:
        return ()
    return tuple((part, count) for (part, _), count in zip(like.counts, parts, strict=True))


def _event(event: WorkedEvent, along: Mapping[tuple[Do, Where, int], Event]) -> Event:
    """An event of the save; how stitches are picked up along an edge is the plan's, where that is as it was."""
    known = along.get((event.do, event.where, event.stitches))
    return known or Event(event.do, event.where, event.stitches, event.line, gaps=event.gaps)


def _side(number: int, *, in_round: bool) -> Side:
    if in_round:
        return "round"
    return "RS" if number % 2 else "WS"


def _odd_side(row: Row, *, in_round: bool) -> Side | None:
    """The side of a row that its number does not tell."""
    return row.side if row.side != _side(row.row, in_round=in_round) else None


def _runs(rows: Sequence[Row], marks: Mapping[int, Mark], in_round: bool) -> Iterator[WorkedRows]:
    many = 0
    for i, row in enumerate(rows):
        many += 1
        following = rows[i + 1] if i + 1 < len(rows) else None
        odd = _odd_side(row, in_round=in_round)
        same = following and (following.fabric, _odd_side(following, in_round=in_round)) == (row.fabric, odd)
        if row.events or row.row in marks or not same:
            events = tuple(WorkedEvent(e.do, e.where, e.stitches, e.line, e.gaps) for e in row.events)
            mark = marks.get(row.row)
            yield WorkedRows(many, row.fabric, odd, events, mark.what if mark else "", _parts(mark))
            many = 0
