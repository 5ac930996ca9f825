"""The garment as it is knitted: what is done of each piece, and the rest as the plan has it now."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from workshop.core.calculation import EVEN
from workshop.core.garments import Garment
from workshop.core.knitting import meeting, shoulders
from workshop.core.knitting.facts import done_of, first_marks
from workshop.core.knitting.needle_changes import Older, rows_more, rows_were_planned_since
from workshop.core.knitting.rest import Done, How, going_on, joined_in_first, rows_at_once, with_more
from workshop.core.knitting.seams import seams_of
from workshop.core.knitting.yoke_lines import shaped_along_lines
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import CannotBeKnitted, Piece, Row
from workshop.core.making.roles import PANELS, SHOULDER, SLEEVE, Edge
from workshop.core.notes import Notes
from workshop.core.remarks import Amount
from workshop.project import KnittedPiece, Project, Where

BandsAlong = Callable[[Sequence[Piece], int], Mapping[str, Piece]]
"""The bands along pieces as they are knitted, by name, and along an armhole that has so many rows more; without those
that are as they were planned."""

NO_OLDER: Older = {}
NO_LEVELS = meeting.Levels(0, 0)


def as_knitted(
    project: Project,
    made: Garment,
    cloth: Cloth,
    notes: Notes,
    kept: Mapping[str, Garment],
    bands: BandsAlong,
    older: Older = NO_OLDER,
) -> Garment:
    """The garment with every knitted row as it was worked; a check says where the plan and the needles part.

    ``kept`` are pieces that go on as another plan has them, by name; ``older`` is what other needles have knitted.
    """
    older = older if rows_were_planned_since(project) else NO_OLDER
    standing = _Standing(project, made, notes, kept, bands, older, cloth.rows_per_10cm)
    pieces = tuple(standing.piece(piece) for piece in made.pieces)
    names = {piece.name for piece in made.pieces}
    for known in project.knitting:
        if known.rows and known.piece not in names:
            notes.check("knitted-not-planned", piece=known.piece, rows=Amount(known.rows, "rows"))
    seams = seams_of(made, pieces, cloth)
    unlike = next((s.stitches for s in seams if s.stitches), None)
    if unlike is not None:
        front, back = (Amount(n, "stitches") for n in unlike)
        notes.check("edges-differ", front=front, back=back, more=Amount(abs(unlike[0] - unlike[1]), "stitches"))
    return replace(made, pieces=pieces, seams=seams)


@dataclass(slots=True)
class _Standing:
    """The pieces as they are knitted, each found once: after what it grows from, and after what it must fit."""

    project: Project
    made: Garment
    notes: Notes
    kept: Mapping[str, Garment]
    bands: BandsAlong
    older: Older
    rows_per_10cm: float
    found: dict[int, Piece] = field(default_factory=dict)
    picked_up: Mapping[str, Piece] | None = None
    """The bands, once they are asked for."""

    def piece(self, piece: Piece) -> Piece:
        """A piece of the plan as it is knitted, and its rest."""
        if id(piece) not in self.found:
            parent = self.piece(piece.parent) if piece.parent else None
            now = self._continued(self._fitted(piece, self._wanted(piece), parent), piece, parent)
            self.found[id(piece)] = now.grown_from(parent)
        return self.found[id(piece)]

    def _wanted(self, piece: Piece) -> Piece:
        """What is wanted of a piece: by the plan, or as it was before the others were planned otherwise."""
        return next((p for p in self._wanted_garment(piece).pieces if p.name == piece.name), piece)

    def _wanted_garment(self, piece: Piece) -> Garment:
        """The garment that a piece is wanted from: the plan's, or the one from before the way that keeps it."""
        base = meeting.base_of(piece) or piece
        known = self.project.knitted(base.name) if base.role in PANELS else None
        made = self.kept.get(base.name) if known is not None and known.rows else None
        return made if made is not None and base.name in {p.name for p in made.pieces} else self.made

    def _chain(self, base: Piece) -> list[Piece]:
        return [self.piece(p) for p in meeting.chain_of(self.made, base)]

    def _fitted(self, piece: Piece, wanted: Piece, parent: Piece | None) -> Piece:
        """What is wanted of a piece of the plan, with the rows of those that it meets and that are further on."""
        base = meeting.base_of(piece)
        if piece.role.band and piece.parent is None:
            return self._band(piece)
        if base is None:
            return meeting.longer(wanted, self._older_rows(piece).top)
        leads = meeting.leads_raglans(self.project, self.made, base)
        twin = self._twin(piece) if piece is base and not leads else None
        if twin is not None:
            mirror = meeting.mirrored(piece, self.piece(twin))
            if mirror is not piece and self._is_begun_as(mirror):
                return mirror
        beside = shoulders.side_ahead(self.project, self.made, piece) or self._first_side(piece)
        if beside is not None:
            other_side = shoulders.as_other_side(piece, self.piece(beside))
            if other_side is not None and self._is_begun_as(other_side):
                return other_side
            more = self.piece(beside).last_row - self._wanted(beside).last_row
            return meeting.longer(wanted, more - _begun_later(wanted, parent))
        in_steps = self._in_steps(piece, wanted, parent)
        if in_steps is not None:
            return in_steps
        first = meeting.leader(self.project, self.made, base) if not leads else None
        if first is not None and first.role is SLEEVE:
            return self._as_first_sleeve(piece, base, first) or self._levelled(piece, base, None, wanted, parent)
        return self._levelled(piece, base, first, wanted, parent)

    def _twin(self, front: Piece) -> Piece | None:
        """The half front that this one mirrors: the one that leads, or the left where both become otherwise."""
        twin = meeting.twin_of(self.made, front)
        if twin is None or twin.side == "right" or any(self.project.knitted(p.name) for p in (twin, front)):
            return meeting.half_to_mirror(self.project, self.made, front)
        return twin if self.piece(twin).rows != twin.rows else None

    def _first_side(self, side: Piece) -> Piece | None:
        """The side of a neck that is knitted first, while neither is begun, where it becomes otherwise than planned."""
        sides = [p for p in self.made.pieces if p.role is SHOULDER is side.role and p.parent is side.parent]
        if not sides or sides[0] is side or meeting.reached(self.project, sides):
            return None
        return sides[0] if self.piece(sides[0]).rows != sides[0].rows else None

    def _is_begun_as(self, wanted: Piece) -> bool:
        """Whether all that is knitted of a piece is as it is wanted; nothing knitted is."""
        known = self.project.knitted(wanted.name)
        return known is None or done_of(known, wanted, wanted.rows[0].row - 1).rows == wanted.rows[: known.rows]

    def _band(self, piece: Piece) -> Piece:
        """A band along the pieces as they are knitted."""
        if self.picked_up is None:
            pieces = [self.piece(p) for p in self.made.pieces if not p.role.band]
            self.picked_up = self.bands(pieces, self._armhole_edge_off("left"))
        return self.picked_up.get(piece.name, piece)

    def _as_first_sleeve(self, piece: Piece, base: Piece, first: Piece) -> Piece | None:
        """A sleeve, or its cap, as the first one became; None where it was asked for otherwise."""
        own, its = meeting.chain_of(self.made, base), self._chain(first)
        at = next(i for i, p in enumerate(own) if p is piece)
        return meeting.as_its_pair(piece, its[at]) if meeting.alike(own, its) else None

    def _levelled(self, piece: Piece, base: Piece, first: Piece | None, wanted: Piece, parent: Piece | None) -> Piece:
        """What is wanted of a piece, with its underarm and its top where those that it meets have theirs."""
        along = meeting.leader_of_raglans(self.project, self.made, base)
        own, steps = self._underarm_off(base), self._steps(base)
        if first is None and along is None and not own and not steps and base.name not in self.older:
            return self._into_armhole(wanted, base) if base.role is SLEEVE else wanted
        older = self._older_rows(base)
        off = older + (self._off(first) - self._older_rows(first) if first is not None else NO_LEVELS)
        if own is not None:  # the top of a sleeve is as deep as it must be, wherever it begins
            off = meeting.Levels(own, own + older.top - older.underarm if base.role is SLEEVE else off.top)
        if along is not None:
            other = self._off(along) - self._older_rows(along)
            off = meeting.Levels(off.underarm, off.underarm + other.top - other.underarm)
        off += self._kept_off(base)
        planned = shoulders.first_step(meeting.chain_of(self._wanted_garment(base), self._wanted(base))) if steps else 0
        if steps and planned:
            off = meeting.Levels(off.underarm, min(r.row for r in steps) - planned)
        begun = _begun_later(wanted, parent)
        if piece is base:
            fitted = meeting.refitted(wanted, off - meeting.Levels(begun, begun))
        else:
            fitted = meeting.longer(wanted, off.top - begun)
        return self._into_armhole(fitted, base) if base.role is SLEEVE else fitted

    def _underarm_off(self, base: Piece) -> int | None:
        """How much higher than planned its underarm is, where it was knitted, or is knitted past; None before."""
        if base.parent is not None:  # a body in one piece has ended where it has
            return _begun_later(self._wanted(base), self.piece(base.parent)) or None
        known = self.project.knitted(base.name)
        if known is None:
            return None
        begun = _kept(done_of(known, base, base.parent.last_row if base.parent else 0), base)
        planned = meeting.levels([base]).underarm
        if meeting.underarm_knitted(self.project, base) is not None:
            return meeting.levels([begun]).underarm - planned
        past = meeting.levels([begun]).top - planned
        keeps_its_top = base.role in PANELS and any(m.what in meeting.UNDERARMS for m in base.marks)
        return past + past % rows_at_once(base) if keeps_its_top and past > 0 else None

    def _steps(self, base: Piece) -> Sequence[Row]:
        """The rows of a panel and its shoulders in which steps of these are worked."""
        known = self.project.knitted(base.name)
        if known is None or base.role not in PANELS:
            return ()
        begin = self.piece(base.parent).last_row if base.parent else 0
        done = done_of(known, base, begin)
        at = begin if base.parent else next((m.after_row for m in done.marks if m.what in meeting.UNDERARMS), None)
        rows = list(done.rows)
        for side in meeting.chain_of(self.made, base)[1:]:
            part = self.project.knitted(side.name)
            rows += done_of(part, side, done.last_row).rows if part is not None else ()
        chain = meeting.chain_of(self._wanted_garment(base), self._wanted(base))
        return shoulders.steps_knitted(rows, at, chain) if at is not None else ()

    def _in_steps(self, piece: Piece, wanted: Piece, parent: Piece | None) -> Piece | None:
        """A side of a neck whose shoulders are begun, with the steps of these; None before that."""
        steps = self._steps(piece.parent) if piece.role is SHOULDER and piece.parent else ()
        if not steps or parent is None:
            return None
        known = self.project.knitted(piece.name)
        cast_on = known.cast_on if known and known.rows else _left_by(parent, piece, self._siblings(piece))
        return shoulders.in_steps(wanted, parent, cast_on, steps)

    def _into_armhole(self, piece: Piece, sleeve: Piece) -> Piece:
        """A sleeve or its cap as long at its top as the armhole, front and back, that is knitted for it."""
        if not any(seam.kind == "armhole" for seam in self.made.seams):
            return piece
        panels = meeting.panels_at(self.made, sleeve.side)
        planned = sum(meeting.above_underarm(meeting.chain_of(self.made, p)) for p in panels)
        off = self._armhole_longer(sleeve.side)
        if not off:
            return piece
        if any(m.what == "cap" for m in sleeve.marks):
            return meeting.longer_above(piece, off // 2)
        try:
            return with_more(piece, EVEN(sleeve.widest * off / planned)) if piece.parent is None else piece
        except CannotBeKnitted:  # a sleeve too short for them is eased in
            return piece

    def _armhole_off(self, side: Edge | None) -> int:
        """How many rows more than planned an armhole has, back and front together."""
        panels = meeting.panels_at(self.made, side)
        planned = sum(meeting.above_underarm(meeting.chain_of(self.made, p)) for p in panels)
        return sum(meeting.above_underarm(self._chain(p)) for p in panels) - planned

    def _armhole_edge_off(self, side: Edge | None) -> int:
        """The same up to the steps of the shoulders, which an edge without a sleeve ends at."""
        panels = meeting.panels_at(self.made, side)
        planned = sum(shoulders.rows_to_steps(meeting.chain_of(self.made, p)) for p in panels)
        return sum(shoulders.rows_to_steps(self._chain(p)) for p in panels) - planned

    def _armhole_longer(self, side: Edge | None) -> int:
        """How many rows longer than planned an armhole is, in rows of the needle in use."""
        older = [self._older_rows(p) for p in meeting.panels_at(self.made, side)]
        return self._armhole_off(side) - sum(at.top - at.underarm for at in older)

    def _older_rows(self, base: Piece) -> meeting.Levels:
        """How many rows more a piece has up to its levels because another needle has knitted some of them."""
        chain = meeting.chain_of(self.made, base) if meeting.base_of(base) is base else [base]
        if not any(p.name in self.older for p in chain):
            return NO_LEVELS
        at = meeting.underarm_knitted(self.project, base)
        has_underarm = any(m.what in meeting.UNDERARMS for m in base.marks)
        begin, below, above = self.piece(base.parent).last_row if base.parent else 0, 0.0, [0.0]
        for piece in chain:
            known = self.project.knitted(piece.name)
            rows = done_of(known, piece, begin).rows if known else ()
            beneath = [r for r in rows if piece is base and has_underarm and (at is None or r.row <= at)]
            older = self.older.get(piece.name, ())
            below += rows_more(beneath, older, self.rows_per_10cm)
            above.append(rows_more(rows[len(beneath) :], older, self.rows_per_10cm))
            begin += len(rows) if piece is base else 0
        step = 2 if self._goes_on_flat(base) else rows_at_once(base)  # what goes on begins on its side
        whole = below + above[1] + max(above[2:], default=0.0)
        return meeting.Levels(step * round(below / step), step * round(whole / step))

    def _off(self, base: Piece) -> meeting.Levels:
        """How much higher or lower the levels of a panel or sleeve are than planned."""
        return meeting.levels(self._chain(base)) - meeting.levels(meeting.chain_of(self.made, base))

    def _kept_off(self, base: Piece) -> meeting.Levels:
        """How much higher or lower the plan has the levels of a panel than the garment that it is kept from."""
        kept, planned = self._wanted(base), meeting.levels(meeting.chain_of(self.made, base))
        return planned - meeting.levels(meeting.chain_of(self._wanted_garment(base), kept))

    def _continued(self, piece: Piece, of_plan: Piece, parent: Piece | None) -> Piece:
        """A piece from what is knitted of it, on to what is wanted: ``piece``, made from ``of_plan``."""
        known, base = self.project.knitted(of_plan.name), parent.last_row if parent else 0
        joins, ahead = self._joined(of_plan), _ahead(of_plan.parent, parent)
        if joins or (joined_in_first(of_plan) and parent is not None):
            ahead = self._ahead_of_lines(of_plan, parent, joins)
        turns = piece.worked == "round" and self._goes_on_flat(of_plan)
        if known is not None and known.rows:
            done = replace(done_of(known, piece, base, ahead), joins=joins, parent=parent, keeps_side=turns)
        elif joins or (parent is not None and parent is not of_plan.parent):
            begun = _left_by(parent, of_plan, self._siblings(of_plan)) if parent else piece.cast_on
            marks = first_marks(piece, base, begun)
            joins = {**joins, **_underarm(of_plan, parent)}
            done = Done(begun, base, marks=marks, ahead=ahead, joins=joins, parent=parent, keeps_side=turns)
        else:
            return piece
        try:
            rest = going_on(done, piece, known.planned_at if known else 0, _how(self.project, of_plan))
        except CannotBeKnitted as error:
            row = Amount(done.last_row, "")
            self.notes.check("knitting-has-no-room", piece=of_plan.name, row=row, reason=str(error))
            return _kept(done, piece) if done.rows else piece
        if known is not None and known.rows and not known.finished:
            _check_length(known, piece, rest, self.notes)
        return rest

    def _goes_on_flat(self, piece: Piece) -> bool:
        """Whether something that grows from a piece, at once or later, is worked back and forth."""
        return any(p.worked == "flat" and any(q is piece for q in p.lineage()) for p in self.made.pieces)

    def _siblings(self, piece: Piece) -> Sequence[tuple[Piece, int | None]]:
        """The parts that a piece divides into, each with the stitches that it was begun with."""
        parts = [p for p in self.made.pieces if p.parent is piece.parent] if piece.parent else []
        begun = {p.name: k.cast_on for p in parts if (k := self.project.knitted(p.name)) is not None and k.rows}
        twins = {p.name: meeting.half_to_mirror(self.project, self.made, p) for p in parts}
        mirrors = {name: begun.get(twin.name) for name, twin in twins.items() if twin is not None}
        if len(begun | mirrors) < len(parts):  # else the last of them has what is left
            return [(p, begun.get(p.name, mirrors.get(p.name))) for p in parts]
        return [(p, begun.get(p.name)) for p in parts]

    def _joined(self, piece: Piece) -> Mapping[Where, int]:
        """Stitches of the sleeves that it is joined with, where they are not those of the plan."""
        if not joined_in_first(piece):
            return {}
        return meeting.joined_with(self.made, piece, [self.piece(p) for p in self.made.pieces if p.role is SLEEVE])

    def _ahead_of_lines(self, piece: Piece, parent: Piece | None, joins: Mapping[Where, int]) -> tuple[int, int]:
        """Stitches that body and sleeves have fewer than planned: so many less are to be shaped along the lines."""
        fewer = piece.cast_on - parent.bound_off if parent else 0
        wanted = {e.where: e.stitches for e in piece.rows[0].events if e.do == "join"}
        return fewer, sum(wanted[where] - there for where, there in joins.items())


def _begun_later(wanted: Piece, parent: Piece | None) -> int:
    """Rows by which a piece begins later than is wanted, for what it grows from became longer."""
    return parent.last_row - wanted.parent.last_row if parent and wanted.parent else 0


def _check_length(known: KnittedPiece, piece: Piece, rest: Piece, notes: Notes) -> None:
    """Where the piece comes out longer than the plan, for what it still has to do does not end sooner."""
    more = len(rest.rows) - len(piece.rows)
    if more > 0:
        notes.check("knitted-beyond", piece=known.piece, rows=Amount(known.rows, ""), more=Amount(more, "rows"))


def _kept(done: Done, piece: Piece) -> Piece:
    """The rows that are knitted, where nothing can be said of the rest."""
    return replace(piece, cast_on=done.cast_on, rows=done.rows, bound_off=done.stitches, marks=done.marks, schedules=())


def _ahead(planned: Piece | None, parent: Piece | None) -> tuple[int, int]:
    """What a parent has shaped along raglan lines more than planned, on their body and sleeve sides."""
    if planned is None or parent is None:
        return 0, 0
    wanted, did = (shaped_along_lines(r for p in one.lineage() for r in p.rows) for one in (planned, parent))
    return did[0] - wanted[0], did[1] - wanted[1]


def _underarm(piece: Piece, parent: Piece | None) -> Mapping[Where, int]:
    """Stitches that a sleeve from the neck picks up along its underarm: as many as were cast on there."""
    first, last = piece.rows[:1], parent.rows[-1:] if parent else ()
    if not any(e.do == "pick-up" and e.where == "underarm" for row in first for e in row.events):
        return {}
    return {e.where: e.stitches // 2 for row in last for e in row.events if (e.do, e.where) == ("cast-on", "underarm")}


def _left_by(parent: Piece, child: Piece, siblings: Sequence[tuple[Piece, int | None]]) -> int:
    """Stitches that a piece begins with: those which its parent holds for it, or has left on the needle.

    What divides into parts gives each of them its share of what those leave that are begun; ``siblings`` come with the
    stitches that they were begun with.
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
    return _share(child, there, siblings) if sum(p.cast_on for p, _ in siblings) == was else child.cast_on


def _share(child: Piece, there: int, siblings: Sequence[tuple[Piece, int | None]]) -> int:
    """What one of the parts gets of the stitches that are there, by what those leave that are begun."""
    begun = {id(p): n for p, n in siblings if n is not None}
    parts = {id(p): p.cast_on for p, n in siblings if n is None}
    left, planned = there - sum(begun.values()), sum(parts.values())
    if id(child) in begun or left == planned:
        return begun.get(id(child), child.cast_on)
    before = sum(list(parts.values())[: list(parts).index(id(child))])
    return round((before + child.cast_on) * left / planned) - round(before * left / planned)


def _how(project: Project, piece: Piece) -> How:
    """Where the stitches go that the plan has more or fewer of: as the way says that was taken last."""
    way = next((t.way for t in reversed(project.taken) if t.piece == piece.name), "sides")
    return "across" if way == "above-edging" else "sides"
