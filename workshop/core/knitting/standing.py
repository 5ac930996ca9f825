"""The garment as it is knitted: what is done of each piece, and the rest as the plan has it now."""

from collections.abc import Sequence
from dataclasses import replace

from workshop.core.garments import Garment
from workshop.core.knitting.facts import done_of, first_marks
from workshop.core.knitting.rest import Done, How, going_on, shaped_along_lines
from workshop.core.making.ledger import CannotBeKnitted, Piece
from workshop.core.notes import Notes
from workshop.core.remarks import Amount
from workshop.project import KnittedPiece, Project


def as_knitted(project: Project, made: Garment, notes: Notes) -> Garment:
    """The garment with every knitted row as it was worked; a check says where the plan and the needles part."""
    if not project.knitting:
        return made
    found: dict[int, Piece] = {}
    for piece in made.pieces:
        parent = found[id(piece.parent)] if piece.parent else None
        siblings = [p for p in made.pieces if p.parent is piece.parent] if parent else []
        found[id(piece)] = _with_parent(_continued(project, piece, parent, siblings, notes), parent)
    names = {piece.name for piece in made.pieces}
    for known in project.knitting:
        if known.rows and known.piece not in names:
            notes.check("knitted-not-planned", piece=known.piece, rows=Amount(known.rows, "rows"))
    return replace(made, pieces=tuple(found[id(piece)] for piece in made.pieces))


def _continued(project: Project, piece: Piece, parent: Piece | None, siblings: Sequence[Piece], notes: Notes) -> Piece:
    known, base = project.knitted(piece.name), parent.last_row if parent else 0
    ahead = _ahead(piece.parent, parent)
    if known is not None and known.rows:
        done = done_of(known, piece, base, ahead)
    elif parent is not None and parent is not piece.parent:
        begun = _left_by(parent, piece, siblings)
        done = Done(begun, base, marks=first_marks(piece, base, begun), ahead=ahead)
    else:
        return piece
    try:
        rest = going_on(done, piece, known.planned_at if known else 0, _how(project, piece))
    except CannotBeKnitted as error:
        notes.check("knitting-has-no-room", piece=piece.name, row=Amount(done.last_row, ""), reason=str(error))
        return _kept(done, piece)
    if known is not None and known.rows and not known.finished:
        _check_length(known, piece, rest, notes)
    return rest


def _check_length(known: KnittedPiece, piece: Piece, rest: Piece, notes: Notes) -> None:
    """Where the piece comes out longer than the plan, for what it still has to do does not end sooner."""
    more = len(rest.rows) - len(piece.rows)
    if more > 0:
        notes.check("knitted-beyond", piece=known.piece, rows=Amount(known.rows, ""), more=Amount(more, "rows"))


def _kept(done: Done, piece: Piece) -> Piece:
    """The rows that are knitted, where nothing can be said of the rest."""
    return replace(piece, cast_on=done.cast_on, rows=done.rows, bound_off=done.stitches, marks=done.marks, schedules=())


def _with_parent(piece: Piece, parent: Piece | None) -> Piece:
    return piece if piece.parent is parent else replace(piece, parent=parent)


def _ahead(planned: Piece | None, parent: Piece | None) -> tuple[int, int]:
    """What a parent has shaped along raglan lines more than planned, on their body and sleeve sides."""
    if planned is None or parent is None:
        return 0, 0
    wanted, did = (shaped_along_lines(r for p in one.lineage() for r in p.rows) for one in (planned, parent))
    return did[0] - wanted[0], did[1] - wanted[1]


def _left_by(parent: Piece, child: Piece, siblings: Sequence[Piece]) -> int:
    """Stitches that a piece begins with: those which its parent holds for it, or has left on the needle.

    What divides into parts gives each of them its share.
    """
    planned = child.parent
    assert planned is not None
    holds = [e for e in planned.rows[-1].events if e.do == "hold"] if planned.rows else []
    now = {(e.where, e.line): e.stitches for e in parent.rows[-1].events if e.do == "hold"} if parent.rows else {}
    for event in holds:
        if event.stitches == child.cast_on and (child.side is None or event.where == child.side):
            return now.get((event.where, event.line), child.cast_on)
    if not planned.rows or not parent.rows:
        return child.cast_on
    was, there = planned.rows[-1].after, parent.rows[-1].after
    if was == child.cast_on:
        return there
    parts = [p.cast_on for p in siblings]
    if sum(parts) != was or was == there:
        return child.cast_on
    at = next(i for i, p in enumerate(siblings) if p is child)
    return round(sum(parts[: at + 1]) * there / was) - round(sum(parts[:at]) * there / was)


def _how(project: Project, piece: Piece) -> How:
    """Where the stitches go that the plan has more or fewer of: as the way says that was taken last."""
    way = next((t.way for t in reversed(project.taken) if t.piece == piece.name), "sides")
    return "across" if way == "above-edging" else "sides"
