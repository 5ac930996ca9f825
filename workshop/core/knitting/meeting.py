"""Edges that meet: what is sewn or joined to a piece that is knitted takes its rows and stitches, not the plan's.

A front is made as long as the back became, row for row; the second sleeve as the first; a yoke begins with the
stitches that the sleeves really have.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from workshop.core.garments import Garment
from workshop.core.making.centre_panels import is_of_panel, line_of
from workshop.core.making.ledger import Event, Mark, Piece, Row
from workshop.core.making.roles import CAP, FRONT, PANELS, SHOULDER, SLEEVE, SLEEVE_TOP, Edge, Section
from workshop.project import Project, Where
from workshop.records import record

UNDERARMS = ("underarm", "cap", "top")
"""Landmarks at which the sides end and the armhole begins."""

ALIKE_WITHIN = 0.06
"""A second sleeve that the plan has this much longer, shorter, wider or narrower than the first was asked for so; what
is less comes from another gauge (common practice, no source)."""

ROUNDING = 4
"""Rows or stitches that rounding to pairs of rows and to ribs makes beside that."""


@record
class Levels:
    """Rows of a panel or a sleeve, with what goes on from it: up to the underarm, and in all."""

    underarm: int
    top: int

    def __sub__(self, other: "Levels") -> "Levels":
        return Levels(self.underarm - other.underarm, self.top - other.top)

    def __add__(self, other: "Levels") -> "Levels":
        return Levels(self.underarm + other.underarm, self.top + other.top)


def underarm_row(base: Piece) -> int:
    """The row of a panel or a sleeve at which its armhole begins; the one before its first where it has none."""
    first = base.parent.last_row if base.parent else 0
    return next((m.after_row for m in base.marks if m.what in UNDERARMS), first)


def underarm_knitted(project: Project, base: Piece) -> int | None:
    """The row at which the armhole of a panel or a sleeve was begun; None while that is still to come."""
    known, row = project.knitted(base.name), base.parent.last_row if base.parent else 0
    for run in known.worked if known else ():
        row += run.rows
        if run.mark in UNDERARMS:
            return row
    return None


def levels(chain: Sequence[Piece]) -> Levels:
    """The levels of a piece and of all that goes on from it."""
    first, underarm = chain[0].parent.last_row if chain[0].parent else 0, underarm_row(chain[0])
    inner = [row for p in chain for row in p.inner_rows]  # of darts: they don't lengthen the edges
    below = sum(row <= underarm for row in inner)
    return Levels(underarm - below, max((p.last_row for p in chain), default=first) - len(inner))


def above_underarm(chain: Sequence[Piece]) -> int:
    """Rows of an armhole edge."""
    at = levels(chain)
    return at.top - at.underarm


def panels_at(made: Garment, side: Edge | None) -> list[Piece]:
    """The panels, back and front, that have an edge at a side."""
    return [p for p in made.pieces if p.role in PANELS and side in p.outer and base_of(p) is p]


def chain_of(made: Garment, base: Piece) -> list[Piece]:
    """A piece, and what goes on from it."""
    return [base, *made.growing_from(base)]


def reached(project: Project, chain: Sequence[Piece]) -> int:
    """Rows that are knitted of it."""
    rows = [known.rows if (known := project.knitted(p.name)) else 0 for p in chain]
    return rows[0] + max(rows[1:], default=0)


def base_of(piece: Piece) -> Piece | None:
    """The panel or the sleeve that a piece is part of; None where it is part of neither."""
    if piece.role in (SHOULDER, CAP, SLEEVE_TOP):
        return piece.parent
    return piece if piece.role in PANELS or (piece.role is SLEEVE and piece.parent is None) else None


def leader(project: Project, made: Garment, base: Piece) -> Piece | None:
    """The piece that this one is made to fit: the one beside it of which most is knitted; None where none is ahead.

    Half a front that mirrors the other leads nobody: the other does.
    """
    kin = PANELS if base.role in PANELS else (SLEEVE,)
    others = [p for p in made.pieces if p.role in kin and p is not base and base_of(p) is p]
    others = [p for p in others if half_to_mirror(project, made, p) is None]
    reach = {id(p): reached(project, chain_of(made, p)) for p in (base, *others)}
    first = max(others, key=lambda p: reach[id(p)], default=None)
    return first if first is not None and reach[id(first)] > reach[id(base)] else None


def leader_of_raglans(project: Project, made: Garment, base: Piece) -> Piece | None:
    """The piece that this one's raglan edges must fit, of which most is knitted above the underarm; None without."""
    first, above = _above_underarms(project, made)
    return first if first is not None and above[first.name] > above[base.name] else None


def leads_raglans(project: Project, made: Garment, base: Piece) -> bool:
    """Whether the raglan edges of the other pieces must fit this one's, so that it fits nobody's itself."""
    first, above = _above_underarms(project, made)
    return first is not None and above[base.name] == above[first.name] >= 0


def _above_underarms(project: Project, made: Garment) -> tuple[Piece | None, Mapping[str, int]]:
    """The piece of which most is knitted above its underarm, where raglan edges are sewn; rows there of each piece."""
    if not any(seam.kind == "raglan back" for seam in made.seams):
        return None, {}
    bases = [p for p in made.pieces if base_of(p) is p]
    above = {
        p.name: reached(project, chain_of(made, p)) - at if at is not None else -1
        for p in bases
        for at in [underarm_knitted(project, p) if half_to_mirror(project, made, p) is None else None]
    }
    return max(bases, key=lambda p: above[p.name]), above


def half_to_mirror(project: Project, made: Garment, front: Piece) -> Piece | None:
    """The half front that this one mirrors: more of it is knitted, or a way says how it goes on; None without.

    A half for which a way was taken goes on by that, and mirrors nobody.
    """
    twin, by_a_way = twin_of(made, front), {t.piece for t in project.taken if t.stitches_per_10cm}
    if twin is None or front.name in by_a_way:
        return None
    its, own = project.knitted(twin.name), project.knitted(front.name)
    ahead = its is not None and (its.rows > (own.rows if own else 0) or twin.name in by_a_way)
    return twin if ahead else None


def twin_of(made: Garment, front: Piece) -> Piece | None:
    """The other half of a front; None without."""
    if front.role is not FRONT or front.side is None:
        return None
    return next((p for p in made.pieces if p.role is FRONT and p.side and p.side != front.side), None)


MIRRORED: Mapping[Where, Where] = {
    "left": "right",
    "right": "left",
    "neck-left": "neck-right",
    "neck-right": "neck-left",
}


def mirrored(piece: Piece, first: Piece) -> Piece:
    """Half a front as the mirror of the one that was begun first.

    What is done where a row begins or ends comes a row later on the right front; a turn in a dart, a row earlier.
    """
    later = 1 if first.side == "left" else -1
    happens: dict[int, list[Event]] = {row.row: [] for row in first.rows}
    for row in first.rows:
        for event in row.events:
            at_end = event.do in ("bind-off", "cast-on", "short-row") and event.where in MIRRORED
            to = row.row + (0 if not at_end else -later if event.line else later)
            happens.setdefault(to, []).append(replace(event, where=MIRRORED.get(event.where, event.where)))
    found = replace(first, side=piece.side, begins=piece.begins, parent=piece.parent, planned_at=0)
    rows = [replace(row, events=tuple(happens[row.row])) for row in first.rows]
    if len(happens) > len(rows):  # it would begin before its first row
        return piece
    found = numbered(found, rows, first.marks, rows[0].row)
    return piece if shapes(found) == shapes(piece) else found


def shapes(piece: Piece) -> list[tuple[int, set[Event]]]:
    """Stitches and events of every row, whatever the order of these."""
    return [(row.after, set(row.events)) for row in piece.rows]


def alike(one: Sequence[Piece], other: Sequence[Piece]) -> bool:
    """Whether two sleeves differ by no more than another gauge makes them."""
    pairs = [
        (sum(len(p.rows) for p in one), sum(len(p.rows) for p in other)),
        *((a.cast_on, b.cast_on) for a, b in zip(one, other, strict=True)),
        *((a.widest, b.widest) for a, b in zip(one, other, strict=True)),
    ]
    return all(abs(a - b) <= ALIKE_WITHIN * b + ROUNDING for a, b in pairs)


def as_its_pair(piece: Piece, first: Piece) -> Piece:
    """A sleeve (or its cap) as the first of the two became."""
    rows = tuple(_on_side(row, piece.side) for row in first.rows)
    if [(r.after, r.events) for r in rows] == [(r.after, r.events) for r in piece.rows]:
        return piece
    marks = tuple(
        replace(m, counts=tuple((Section(part.role, piece.side if part.side else None), n) for part, n in m.counts))
        for m in first.marks
    )
    return replace(first, side=piece.side, parent=piece.parent, planned_at=0, marks=marks).with_rows(rows)


def _on_side(row: Row, side: Edge | None) -> Row:
    """A row of one sleeve as one of the other: its panel is the other's."""
    line = line_of(Section(SLEEVE, side))
    return replace(row, events=tuple(replace(e, line=line) if is_of_panel(e) else e for e in row.events))


def refitted(piece: Piece, off: Levels) -> Piece:
    """A panel with its underarm so many rows higher or lower, and its top.

    Rows are put in or left out where nothing happens, and the row that divides it goes with the top.
    """
    base = piece.parent.last_row if piece.parent else 0
    at = underarm_row(piece) - base
    found = _longer(piece, 0, at, off.underarm) if at and off.underarm else piece
    more = len(found.rows) - len(piece.rows)
    return _longer(found, at + more, len(found.rows), off.top - more)


def longer(piece: Piece, rows: int) -> Piece:
    """A piece with so many rows more (or fewer), where nothing happens in them.

    One side of a neck is shaped at once: it has more below the steps of its shoulder.
    """
    if piece.role is not SHOULDER or rows < 0:
        return _longer(piece, 0, len(piece.rows), rows)
    end = next((i for i, r in enumerate(piece.rows) if any(map(is_step, r.events))), len(piece.rows))
    neck = [i + 1 for i, r in enumerate(piece.rows[:end]) if any(e.where.startswith("neck") for e in r.events)]
    return _longer(piece, neck[-1] if neck else 0, end, rows)


def is_step(event: Event) -> bool:
    """Whether an outer edge is bound off, or left unworked, where a row begins or ends."""
    return event.do in ("bind-off", "short-row") and event.where in ("left", "right", "both") and not event.line


def longer_above(piece: Piece, rows: int) -> Piece:
    """A sleeve, or its cap alone, with so many rows more (or fewer) in the cap."""
    base = piece.parent.last_row if piece.parent else 0
    begin = next((m.after_row - base for m in piece.marks if m.what == "cap"), 0)
    return _longer(piece, begin, len(piece.rows), rows) if begin < len(piece.rows) else piece


def _longer(piece: Piece, begin: int, end: int, more: int) -> Piece:
    """The rows between two of them with so many more or fewer: pairs, where both sides are worked in turn."""
    step = 2 if any(r.side != "round" for r in piece.rows) else 1
    if abs(more) < step:
        return piece
    rows, first = list(piece.rows), piece.rows[0].row if piece.rows else 1
    marks = list(piece.marks)
    shift = step if more > 0 else -step
    for _ in range(abs(more) // step):
        at, many = _longest_rest(rows[begin:end])
        place = begin + at + (many // 2 // step * step if many >= step else many)
        closer = _closer(rows, begin, end) if more < 0 and many <= step else None
        if more < 0 and (begin == end or (many <= step and closer is None)):
            break
        if more > 0:  # before all shaping, where no row of it is plain
            rows[place:place] = [replace(rows[min(begin + at, len(rows) - 1)], events=())] * step
        elif closer is not None:
            place = closer
            del rows[place + 2], rows[place]
        else:
            del rows[place : place + step]
        end += shift
        marks = [replace(m, after_row=m.after_row + shift) if m.after_row >= first + place else m for m in marks]
    return numbered(piece, rows, marks, first)


def _closer(rows: Sequence[Row], begin: int, end: int) -> int | None:
    """A plain row, of those nearest the middle, after which edges are decreased, and then comes a plain one: without
    these two rows the shaping follows the one before at once.
    """
    fits = [
        i
        for i in range(begin, end - 2)
        if not rows[i].events and not rows[i + 2].events and rows[i + 1].events
        if all(e.do == "decrease" for e in rows[i + 1].events)
    ]
    return min(fits, key=lambda i: abs(i - (begin + end) / 2), default=None)


def _longest_rest(rows: Sequence[Row]) -> tuple[int, int]:
    """Where the longest stretch begins in which nothing happens, in the fabric of the last row, and its rows."""
    best, begin = (0, 0), 0
    for i, row in enumerate(rows):
        if row.events or row.fabric != rows[-1].fabric:
            begin = i + 1
        elif i + 1 - begin > best[1]:
            best = begin, i + 1 - begin
    return best


def numbered(piece: Piece, rows: Sequence[Row], marks: Sequence[Mark], first: int) -> Piece:
    """A piece with these rows, numbered from ``first``, each with the stitches that its events leave."""
    found, stitches = [], piece.cast_on
    for number, row in enumerate(rows, first):
        side = row.side if piece.worked == "round" else ("RS" if number % 2 else "WS")
        after = stitches + sum(e.change for e in row.events)
        found.append(replace(row, row=number, side=side, before=stitches, after=after))
        stitches = after
    return replace(piece, marks=tuple(marks)).with_rows(found)


def joined_with(made: Garment, yoke: Piece, found: Sequence[Piece]) -> dict[Where, int]:
    """Stitches of each sleeve that are joined in the first row of a yoke, by the sleeves as they are knitted.

    Empty where they are those of the plan.
    """
    joins = [e for e in yoke.rows[0].events if e.do == "join"] if yoke.rows else []
    sleeves = {p.side: p for p in made.pieces if p.role is SLEEVE and p.parent is None}
    now = {p.side: p for p in found if p.role is SLEEVE and p.parent is None}
    off = {e.where: now[s].bound_off - sleeves[s].bound_off for e in joins for s in sleeves if s == e.where}
    return {e.where: e.stitches + off[e.where] for e in joins if e.where in off} if any(off.values()) else {}
