"""A stitch pattern kept through a garment: which of its rows each row is, and with which of its stitches it begins.

Row r is the next of the pattern after row r - 1; edgings, short rows and plain rows have none. The first stitch moves
by what is taken away (less what is added) at the right-hand edge as the right side shows it: at the beginning of
right-side rows. After a division each part has its own. Derived; held by a replay (tests/core/test_fabric.py).
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from workshop.core.edgings import STOCKINETTE
from workshop.core.fabric.parts import (
    Parts,
    after_row,
    below_the_underarm,
    from_the_neck,
    joined,
    opened,
    side_by_side,
)
from workshop.core.fabric.patterns import Pattern, PatternRow, SetPattern
from workshop.core.making import roles
from workshop.core.making.ledger import ADDS, Event, Piece, Row
from workshop.project import Centre, FabricFit


def first_stitch(pattern: Pattern, stitches: int, centre: Centre, before: int = 0) -> tuple[int, bool]:
    """The stitch of the repeat (from 1) that begins a row so that it is centred; False where it is half a stitch off.

    The stitches of the plus balance the pattern, so that they lie between two motifs: the row m × k + p reads alike
    from both ends. ``before`` are stitches before those which are to be centred. With j from 0 and the axis at
    c: 2j + stitches - 1 = 2c (mod 2m), and 2c = p - 1 between two motifs, m more in the middle of one.
    """
    m = pattern.multiple
    wanted = pattern.plus - stitches - 2 * before + (m if centre == "motif" else 0)
    for modulus in (2 * m, m):  # the axis that is wished for, else the other one
        found = next((j for j in range(m) if (2 * j - wanted) % modulus == 0), None)
        if found is not None:
            return found + 1, True
    return (wanted // 2) % m + 1, False


LAST_ROWS = 3
"""Fewer rows than these between a row that makes up stitches and an edging are plain."""


def pattern_rows(piece: Piece, pattern: Pattern) -> list[Row]:
    """The rows of a piece in which a pattern can be kept: of the fabric, whole, with nothing spread across them.

    The first is worked from the side from which the first row of the pattern is.
    """
    found: list[Row] = []
    inner = piece.inner_rows
    for row in piece.rows:
        if any(e.do == "short-row" and not e.line for e in row.events):
            break  # the slope of a shoulder, to its end
        if found and _spread(row) and sum(r.row > row.row and r.fabric == STOCKINETTE for r in piece.rows) < LAST_ROWS:
            break  # an edging is next
        if row.row not in inner and _takes_a_pattern(row, piece):
            found.append(row)
    if piece.parent is None and found and found[0].side not in ("round", pattern.begins_on):
        del found[0]
    return found


def out_of_step(piece: Piece, pattern: Pattern, later: Sequence[Piece], first_row: int = 1) -> bool:
    """Whether right-side rows of the pattern would be wrong-side rows where a piece in the round goes over to rows.

    ``first_row`` is the row of the pattern that it would begin with; ``later`` are the pieces that take the pattern.
    """
    for child in later:
        line = list(child.lineage())
        if line[0].name != piece.name:
            continue
        sides = [row.side for p in line for row in pattern_rows(p, pattern)]
        turned = next((n for n, side in enumerate(sides) if side != "round"), None)
        if turned is not None:
            return (sides[turned] == pattern.begins_on) != ((first_row + turned) % 2 == 1)
    return False


def _spread(row: Row) -> bool:
    """Whether stitches are added or taken all across a row, as between two fabrics."""
    return any(e.across for e in row.events)


def _takes_a_pattern(row: Row, piece: Piece) -> bool:
    turned = any(e.do == "short-row" for e in row.events)
    as_its_piece = (row.side == "round") == (piece.worked == "round")
    return row.fabric == STOCKINETTE and not _spread(row) and not turned and as_its_piece


@dataclass(slots=True)
class Keeper:
    """Sets one pattern on one piece after the other, in the order of the garment."""

    pattern: Pattern
    repeat_rows: int
    """Rows after which it begins again; the same in all pieces, flat or in the round."""
    centre: Centre
    whole: bool
    """Whether a piece that has whole repeats begins and ends with them, whatever that puts in its middle."""
    fit: FabricFit | None
    """How the repeats come out on the width of the body."""
    pieces: tuple[Piece, ...]
    """All of the garment."""
    done: dict[str, SetPattern] = field(default_factory=dict)
    """By the name of the piece."""
    ends: dict[str, tuple[int, Parts]] = field(default_factory=dict)
    """The column after the last row of a piece, and its parts then."""

    def set_on(self, piece: Piece, first_row: int = 1, plain: int = 0) -> SetPattern | None:
        """The pattern on a piece, from ``first_row`` of it where it goes on from no parent; None if it has no row.

        So many of the first rows are ``plain`` instead.
        """
        kept = pattern_rows(piece, self.pattern)[plain:]
        if not kept:
            return None
        repeat = self.repeat_rows
        before = self.done.get(piece.parent.name) if piece.parent else None
        number = _next_number(piece, before) if before else first_row + plain
        begin, exact = self._begin(piece, kept[0], before)
        wanted = {row.row for row in kept}
        rows: list[tuple[int, PatternRow]] = []
        divided: dict[int, Parts] = {}
        at, parts = begin, self._parts_at_start(piece)
        for row in piece.rows:
            at = parts[0].column if parts else at
            parts = self._parts_placed(piece, row, at) or parts
            if row.row in wanted:
                rows.append((row.row, PatternRow((number - 1) % repeat + 1, at % self.pattern.multiple + 1)))
                divided |= {row.row: parts} if parts else {}
                number += 1
            if row.row >= kept[0].row:
                at = self._after(piece, row, at)
            parts = after_row(parts, row)
        found = SetPattern(self.pattern, repeat, tuple(rows), exact, self.fit == "plain-sides", divided)
        self.done[piece.name], self.ends[piece.name] = found, (at, parts)
        return found

    def _parts_at_start(self, piece: Piece) -> Parts:
        """The parts that a piece takes over from the one before, or begins with at the neck; () for none yet."""
        parent = piece.parent
        if parent is None:
            return self._parts_at_the_neck(piece)
        parts = self.ends.get(parent.name, (0, ()))[1]
        if piece.role is roles.UPPER_YOKE and parts:
            return opened(parts, parent.rows[-1])
        if piece.role is roles.BODY and parts:
            return below_the_underarm(piece, parts, parent.rows[-1])
        return parts if piece.role is roles.YOKE and parent.role is roles.YOKE_TOP else ()

    def _parts_at_the_neck(self, piece: Piece) -> Parts:
        marked = next((m for m in piece.marks if m.what == "markers" and m.after_row < piece.rows[0].row), None)
        if marked is None or piece.role not in roles.YOKES:
            return ()
        lower = [p for p in self.pieces if p.role in roles.YOKES]
        at_neck = sum(e.change for p in lower for r in p.rows for e in r.events if _at_the_neck(e))
        centred = from_the_neck(marked, at_neck, lambda n: first_stitch(self.pattern, n, self.centre)[0] - 1)
        return self._to_run_on(centred) if self.whole else centred

    def _to_run_on(self, at_neck: Parts) -> Parts:
        """Parts at the neck moved so that whole repeats go on around the body, below the underarms.

        They stay centred: over an odd number of repeats, the back has the other line in its middle. With an open front
        the first repeat begins at its edge.
        """
        body = next((p for p in self.pieces if p.role is roles.BODY and p.parent is not None), None)
        if body is None or body.parent is None:
            return at_neck
        parts = at_neck
        for row in (row for p in body.parent.lineage() for row in p.rows):
            parts = after_row(parts, row)
        below = below_the_underarm(body, parts, body.parent.rows[-1])
        around, band, is_open = sum(part.stitches for part in below), self._at_the_band(body), body.worked == "flat"
        over = around - 2 * band - self.pattern.plus if is_open else around
        if not below or over % self.pattern.multiple:
            return at_neck
        column = -band if is_open else below[-1].column + below[-1].stitches  # the front comes last, seen first
        moved: dict[roles.Section, int] = {}
        for part in below:
            moved[part.section] = (column - part.column) % self.pattern.multiple
            column += part.stitches
        return tuple(replace(p, column=p.column + moved.get(p.section, 0)) for p in at_neck)

    def _parts_placed(self, piece: Piece, row: Row, column: int) -> Parts:
        """The parts that markers or a row which joins body and sleeves make; () where neither is."""
        if any(e.do == "join" for e in row.events) and piece.parent is not None:
            ends = {p.side: self.ends[p.name][0] for p in self.pieces if p.role is roles.SLEEVE and p.name in self.ends}
            body = self.ends.get(piece.parent.name, (0, ()))[1]
            return joined(piece, row, body, {side: end for side, end in ends.items() if side})
        marked = next((m for m in piece.marks if m.what == "markers" and m.after_row == row.row - 1), None)
        placed = marked is not None and piece.role is roles.BODY and piece.parent is None
        return side_by_side(marked, column) if marked is not None and placed else ()

    def _edge(self, piece: Piece) -> int:
        return 0 if self.pattern.edge_in_pattern else piece.edge_stitches

    def _at_the_band(self, piece: Piece) -> int:
        """Stitches outside the whole repeats at each front edge of a body in one piece: its bands take them up.

        None where they make whole repeats with the others: its rows then begin as they are written.
        """
        taken_up = piece.role is roles.BODY and piece.worked == "flat" and not self.pattern.edge_in_pattern
        return 1 if taken_up and 2 % self.pattern.multiple else 0

    def _begin(self, piece: Piece, row: Row, before: SetPattern | None) -> tuple[int, bool]:
        """Stitch of the repeat, from 0, at the right-hand edge of the first row; and whether the middle is met."""
        parent = piece.parent
        if before is not None and parent is not None and parent.rows:
            end, parts = self.ends[parent.name]
            mine = next((p for p in parts if (p.section.role, p.section.side) == (piece.role, piece.side)), None)
            if mine is not None:
                return mine.column, before.on_centre
            if piece.role is roles.SLEEVE:
                return end, before.on_centre
            at = before.rows[-1][1].first_stitch - 1
            last = parent.rows[-1]
            if before.rows[-1][0] == last.row:
                at = self._after(parent, last, at, ends=True)
            return at + _to_the_right(parent, piece, self._edge(parent)), before.on_centre
        edge = self._edge(piece)
        if piece.role is roles.BODY and piece.worked == "round":  # the front comes first, and is looked at first
            marked = next((m for m in piece.marks if m.what == "markers"), None)
            front = marked.counts[0][1] if marked and marked.counts else row.before // 2
            first, exact = first_stitch(self.pattern, front, self.centre)
            return first - 1, exact
        sides = 1 if piece.role.one_sided and piece.side else 2
        inside = row.before - sides * edge
        band = self._at_the_band(piece)
        if self.whole and (inside - 2 * band - self.pattern.plus) % self.pattern.multiple == 0:
            return -band, True
        first, exact = first_stitch(self.pattern, inside, self._centre_of(piece, inside))
        return first - 1, exact

    def _centre_of(self, piece: Piece, stitches: int) -> Centre:
        """What is in the middle of a piece: of a front with half a repeat over the other line, for the seams."""
        visible = stitches - (2 * piece.edge_stitches if self.pattern.edge_in_pattern else 0)
        if self.fit == "runs-on" and piece.role is roles.FRONT and visible % self.pattern.multiple:
            return "between" if self.centre == "motif" else "motif"
        return self.centre

    def _after(self, piece: Piece, row: Row, at: int, *, ends: bool = False) -> int:
        """Stitch of the repeat at the right-hand edge after a row."""
        if _spread(row) and not ends:
            return first_stitch(self.pattern, row.after - 2 * self._edge(piece), self.centre)[0] - 1
        return at + sum(_at_the_right(piece, e) for e in row.events if not ends or e.do != "hold")


def _next_number(piece: Piece, before: SetPattern) -> int:
    """Row of the pattern after the last that was worked over the stitches of a piece in what it goes on from."""
    last, at = before.rows[-1]
    unworked = piece.held_unworked and piece.parent is not None and last == piece.parent.last_row
    return at.row if unworked else at.row % before.repeat_rows + 1


def _at_the_neck(event: Event) -> bool:
    return event.where in ("neck-left", "neck-right") or (event.where, event.do) == ("centre", "cast-on")


def _at_the_right(piece: Piece, event: Event) -> int:
    """Stitches that an event takes away at the right-hand edge, as the right side shows it; added ones count less."""
    sign = -ADDS.get(event.do, 0)
    if event.where == "underarm" and event.do == "pick-up":  # half of them at the beginning of a round
        return -(event.stitches // 2)
    if event.where == "both" and piece.role is roles.BODY:  # beside both side markers, where a round begins
        return sign * event.stitches // 2 if piece.worked == "round" else 0
    right = right_edge(piece)
    return sign * event.stitches if event.where in ("both", right) else 0


def right_edge(piece: Piece) -> str:
    """The edge at which right-side rows begin, as events name it."""
    if piece.role.one_sided and piece.side and piece.side != piece.begins:
        return f"neck-{piece.side}"
    return piece.begins


def _to_the_right(parent: Piece, child: Piece, edge: int) -> int:
    """Stitches of a parent, inside its plain edge, that lie to the right of a piece which goes on from it."""
    last = parent.rows[-1]
    held = [e for e in last.events if e.do == "hold"]
    if child.role is roles.SHOULDER:
        if child.side == parent.begins:
            return 0
        gone = sum(e.stitches for e in last.events if e.where == "centre" and e.do == "bind-off")
        return gone + sum(e.stitches for e in held if e.where == parent.begins) - edge  # its own begins at the neck
    return max(0, last.after - child.cast_on) // 2


def runs_on(front: Piece, back: Piece) -> bool:
    """Whether a pattern runs on over both side seams of a front and a back that are knitted flat, below all shaping."""
    one, other = front.pattern, back.pattern
    if one is None or other is None:
        return False
    visible = [
        next(r.before for r in piece.rows if r.row == found.rows[0][0]) - 2 * piece.edge_stitches
        for piece, found in ((front, one), (back, other))
    ]
    edge = 1 if one.pattern.edge_in_pattern else 0  # the seam takes the edge stitch, so what shows begins one further
    multiple = one.pattern.multiple
    meets = one.first_stitch + edge + visible[0] - other.first_stitch - edge
    return meets % multiple == 0 and sum(visible) % multiple == 0


def landmark(piece: Piece) -> int | None:
    """The row after which a body or a sleeve meets the other, where there is one."""
    return next((m.after_row for m in piece.marks if m.what in ("underarm", "divide", "join", "cap")), None)


def meeting_row(found: SetPattern, after_row: int) -> int:
    """Row of the pattern that comes next after a landmark, or would where the pattern begins later."""
    numbers = [number for number, _ in found.rows]
    return (found.rows[0][1].row - 1 + _kept_until(numbers, after_row)) % found.repeat_rows + 1


def first_row_to_meet(pattern: Pattern, repeat_rows: int, piece: Piece, after_row: int, meets: int) -> int:
    """Row of the pattern to begin a piece with so that it comes to ``meets`` after a landmark."""
    numbers = [row.row for row in pattern_rows(piece, pattern)]
    return (meets - 1 - _kept_until(numbers, after_row)) % repeat_rows + 1


def _kept_until(numbers: Sequence[int], after_row: int) -> int:
    """Rows of a pattern up to a landmark; below 0 where it begins later: as many as are wanting between."""
    if numbers and numbers[0] > after_row:
        return after_row + 1 - numbers[0]
    return sum(number <= after_row for number in numbers)


def pieces_in_order(pieces: tuple[Piece, ...]) -> list[Piece]:
    """Bodies, then sleeves, which meet the rows that the body has come to, then yokes, which take both over."""

    def place(piece: Piece) -> int:
        line = list(piece.lineage())
        joins = any(e.do == "join" for p in line for r in p.rows[:1] for e in r.events)
        return 2 if joins else 1 if line[0].role is roles.SLEEVE else 0

    return sorted((p for p in pieces if not p.role.band), key=place)
