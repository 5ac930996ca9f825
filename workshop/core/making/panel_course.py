"""Where the parts of a garment lie in its rows, and from which row to which a panel up the middle of one has room.

Pieces are looked at without any panel. A part runs through several: a front through the body that it is one half of,
a sleeve into the yoke.
"""

from collections.abc import Iterator, Mapping, Sequence

from workshop.core.edgings import STOCKINETTE
from workshop.core.making import roles
from workshop.core.making.between_markers import shape
from workshop.core.making.centre_panels import CentrePanel
from workshop.core.making.ledger import ADDS, Piece, Row, puts_aside
from workshop.core.making.roles import Section
from workshop.records import record

BESIDE = 2
"""Stitches of the ground that stay at each side of a panel where a piece is shaped (common practice, no source)."""

LEAST_ROWS = 8
"""A panel shorter than this is none (common practice, no source)."""

MOST_TO_MAKE_UP = 6
"""Stitches by which rib and fabric may differ for the panel to make them up in its own first row."""


At = tuple[int, int]
"""A piece and a row of it, by their places in the garment and in the piece."""

Amounts = Mapping[At, tuple[int, int]]
"""Stitches before and after rows."""


def chain(pieces: Sequence[Piece], section: Section) -> list[int]:
    """The pieces that a part runs through, in the order in which they are knitted."""
    own = (section.role, roles.CAP, roles.SLEEVE_TOP) if section.role is roles.SLEEVE else (section.role,)
    whole = roles.YOKES if section.role is roles.SLEEVE else (roles.BODY, *roles.YOKES)
    return [i for i, p in enumerate(pieces) if (p.role in own and p.side == section.side) or p.role in whole]


@record
class Station:
    """One row that a part is worked in; the stitches are of the ground."""

    at: At
    row: Row
    right: float
    """Stitches from the beginning of a right-side row to the middle of the part, before the row."""
    right_after: float
    """The same after the row."""
    room: float
    """Stitches from its middle to its nearer edge, before and after the row."""
    passes: bool
    """Whether a panel can go on through the row."""

    @property
    def begins(self) -> bool:
        """Whether a panel may be set up in the row: nothing else is done in it but what evens out rib and fabric."""
        return self.row.fabric == STOCKINETTE and _made_up(self.row) is not None

    @property
    def ends(self) -> bool:
        """Whether a panel may go out in the row."""
        busy = any(e.do in ("join", "hold", "pick-up", "short-row") or e.where == "centre" for e in self.row.events)
        spread = any(e.across for e in self.row.events)
        return not busy and (not spread or _made_up(self.row) is not None)


def _made_up(row: Row) -> int | None:
    """Stitches that a row evens out between rib and fabric; None where anything else happens in it."""
    if any(not e.across or e.stitches > MOST_TO_MAKE_UP for e in row.events):
        return None
    return sum(e.change for e in row.events)


def course(pieces: Sequence[Piece], section: Section) -> list[Station]:
    """The rows that a part is worked in, from its first to where it divides or ends; no panel may be in the pieces."""
    found: list[Station] = []
    parts: dict[Section, float] = {}
    for i in chain(pieces, section):
        piece = pieces[i]
        if piece.role in (roles.BODY, *roles.YOKES):
            parts, here = _of_whole(piece, i, section, parts)
            found += here
        else:
            found += _of_own(piece, i)
    return found


def _of_own(piece: Piece, index: int) -> Iterator[Station]:
    """Rows of a piece that is the part itself."""
    edges = dict.fromkeys(roles.BOTH_EDGES, piece.cast_on / 2)
    for n, row in enumerate(piece.rows):
        if any(e.do == "hold" or e.where == "centre" for e in row.events):
            return
        if any(e.do == "short-row" and not e.line for e in row.events):
            return
        before = dict(edges)
        for event in row.events:
            for edge in roles.BOTH_EDGES:
                if event.where in (edge, "both"):
                    edges[edge] += ADDS.get(event.do, 0) * event.stitches
                elif event.where in ("across", "underarm"):
                    edges[edge] += event.change / 2
        passes = row.fabric == STOCKINETTE
        room = min(*before.values(), *edges.values())
        yield Station((index, n), row, before[piece.begins], edges[piece.begins], room, passes)


def _of_whole(
    piece: Piece, index: int, section: Section, parts: dict[Section, float]
) -> tuple[dict[Section, float], list[Station]]:
    """Rows of a piece in which several parts are worked side by side; with its parts at the end."""
    marked = {m.after_row: dict(m.counts) for m in piece.marks if m.what == "markers" and m.counts}
    first = piece.rows[0].row
    parts = {s: float(n) for s, n in marked[first - 1].items()} if first - 1 in marked else _taken_over(piece, parts)
    found = []
    for n, row in enumerate(piece.rows):
        before, parts = parts, _shaped(parts, row, piece)
        if row.row in marked:
            parts = {s: float(count) for s, count in marked[row.row].items()}
        seen = [p for p in (before, parts) if section in p]
        if not seen or not _is_worked(row, section, piece):
            continue
        right, after = (_middle(seen[k], section) for k in (0, -1))
        room = min(p[section] for p in seen) / 2
        passes = row.fabric == STOCKINETTE and not _across_all(row, piece)
        found.append(Station((index, n), row, right, after, room, passes))
    return parts, found


def _middle(parts: Mapping[Section, float], section: Section) -> float:
    """Stitches from the beginning of a right-side row to the middle of a part."""
    order = list(parts)
    return sum(parts[s] for s in order[: order.index(section)]) + parts[section] / 2


def _taken_over(piece: Piece, parts: Mapping[Section, float]) -> dict[Section, float]:
    """Parts of a yoke that goes on from another. Where its front has opened, right-side rows begin at its right."""
    if piece.role is not roles.UPPER_YOKE or roles.THE_FRONT not in parts:
        return dict(parts) if piece.role in roles.YOKES and piece.parent and piece.parent.role in roles.YOKES else {}
    half, middle = parts[roles.THE_FRONT] / 2, (roles.RIGHT_SLEEVE, roles.THE_BACK, roles.LEFT_SLEEVE)
    return {roles.RIGHT_FRONT: half, **{s: parts[s] for s in middle}, roles.LEFT_FRONT: half}


def _is_worked(row: Row, section: Section, piece: Piece) -> bool:
    """Whether a row is worked over a part: short rows in a round are those of a dart, over the front.

    The row that parts the sleeves puts them aside.
    """
    if section.role is roles.SLEEVE and puts_aside(row, section.side):
        return False
    return piece.worked == "flat" or row.side == "round" or section is roles.THE_FRONT


def _across_all(row: Row, piece: Piece) -> bool:
    """Whether stitches are taken all across a yoke, as a round one does it."""
    return piece.role in roles.YOKES and any(e.across for e in row.events)


def _shaped(parts: Mapping[Section, float], row: Row, piece: Piece) -> dict[Section, float]:
    """The parts after a row."""
    now = dict(parts)
    for event in row.events:
        shape(now, event)
        if event.where == "centre" and roles.THE_FRONT in now:
            now[roles.THE_FRONT] += event.change
        elif event.where == "both" and piece.role is roles.BODY:
            for part in now:
                now[part] += event.change / 4 * (1 if part.side else 2)
        elif event.across and row.before:
            now = {part: n * (1 + event.change / row.before) for part, n in now.items()}
    return now


# ── from where to where ──────────────────────────────────────────────────────────────────────────────


@record
class Span:
    """Where a panel is set up and where it goes out, by the places of the rows in their course."""

    first: int
    last: int
    room: bool
    """Whether it goes out for want of room, not where its part ends."""


def span_of(stations: Sequence[Station], panel: CentrePanel) -> Span | None:
    """The first stretch of rows in which a panel has room; None where there is none worth it."""
    need = panel.instead / 2 + BESIDE
    fits = [s.passes and s.room >= need for s in stations]
    for first, station in enumerate(stations):
        if not fits[first] or not station.begins or not can_change(panel, _made_up(station.row) or 0):
            continue
        end = next((i for i in range(first, len(stations)) if not fits[i]), len(stations))
        room = end < len(stations) and stations[end].passes
        last = next((i for i in range(end - 1, first, -1) if _can_go_out(stations[i], panel)), first)
        if last - first >= LEAST_ROWS:
            return Span(first, last, room)
    return None


def _can_go_out(station: Station, panel: CentrePanel) -> bool:
    """Whether a panel can go out in a row, with what the row evens out before an edging."""
    spread = sum(e.change for e in station.row.events if e.across)
    return station.ends and _spreads(panel.stitches, spread - panel.extra)


def can_change(panel: CentrePanel, more: int) -> bool:
    """Whether the panel's stitches can be made in one row from those it stands on, and taken back."""
    base = panel.stitches - panel.extra - more
    return base > 0 and _spreads(base, panel.extra + more) and _spreads(panel.stitches, -panel.extra)


def _spreads(stitches: int, change: int) -> bool:
    """Whether so many increases or decreases have room side by side."""
    return change <= stitches if change >= 0 else -2 * change <= stitches
