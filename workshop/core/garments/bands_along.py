"""Bands along edges as they are knitted, where those are not the plan's any more."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from workshop.core.calculation import Calculation
from workshop.core.constructions import construction
from workshop.core.edgings import STOCKINETTE
from workshop.core.garments import Garment, GarmentSpec
from workshop.core.making import bands, roles
from workshop.core.making.bands import NO_YOKE, Across, EdgePart, NeckEdge
from workshop.core.making.between_markers import parts_before
from workshop.core.making.counts import fabric_of
from workshop.core.making.edges import neck_sides
from workshop.core.making.ledger import Piece
from workshop.core.making.roles import Edge
from workshop.core.notes import Notes
from workshop.core.remarks import Amount, cm

EACH_FRONT = dict.fromkeys(bands.STITCHES_OF_ONE_FRONT.values(), bands.STITCHES_OF_FRONTS)
"""Workings of fronts that are unlike, by address, and the one of the plan whose place they take."""


def bands_along(
    spec: GarmentSpec, pieces: Sequence[Piece], armhole: EdgePart | None = None, more_rows: int = 0
) -> Mapping[str, Piece]:
    """The bands along the edges of these pieces, by name; without those that stay as planned.

    ``armhole`` is the planned edge of one without a sleeve, which has ``more_rows`` now, back and front together.
    """
    own = Notes(checks=spec.notes.checks)
    beside = replace(spec, notes=own)
    found = [*_neckband(beside, _neck_edge(beside, pieces), pieces), *_fronts(beside, pieces)]
    if armhole is not None and more_rows:
        longer_cm = armhole.slope_cm + spec.cloth.along_cm(more_rows)
        found += beside.bands.armholes(replace(armhole, slope_cm=longer_cm, rows=armhole.rows + more_rows))
    now: dict[str, list[Calculation]] = {}
    for working in own.workings:
        now.setdefault(EACH_FRONT.get(working.key, working.key), []).append(working)
    spec.notes.workings[:] = [told for was in spec.notes.workings for told in now.get(was.key, [was])]
    return {band.name: band for band in found}


def picked_up_along(band: Piece, made: Garment) -> tuple[Piece, ...]:
    """The pieces along whose edges a band is picked up, with what these grew out of; none for any other piece.

    A band that goes on from held stitches has a parent instead.
    """
    if not band.role.band or band.parent is not None:
        return ()
    along = {id(p) for end in made.pieces if _has_edge_for(band, end, made) for p in end.lineage()}
    return tuple(p for p in made.pieces if id(p) in along)


def _has_edge_for(band: Piece, piece: Piece, made: Garment) -> bool:
    """Whether an edge that a band is picked up along ends with this piece."""
    if piece.role.band:
        return piece.role is roles.NECKBAND and band.role is roles.FRONT_BAND
    if band.role is roles.ARMHOLE_BAND:
        return piece.role in (*roles.PANELS, roles.SHOULDER) and band.side in piece.outer
    if band.role is roles.FRONT_BAND:
        return band.side is not None and _ends_front(piece, band.side, made.pieces)
    is_front = band.role is roles.WHOLE_BAND and any(_ends_front(piece, s, made.pieces) for s in roles.BOTH_EDGES)
    return is_front or _is_at_neck(piece, made)


def _is_at_neck(piece: Piece, made: Garment) -> bool:
    """Whether it has a part of the neck edge: shaped there, or the top of a back or sleeve sewn along raglan lines."""
    sewn = any(seam.kind == "raglan front" for seam in made.seams)
    return bool(neck_sides([piece])) or (sewn and piece.role in (roles.BACK, roles.SLEEVE))


# ── the neck ─────────────────────────────────────────────────────────────────────────────────────────


def _neck_edge(spec: GarmentSpec, pieces: Sequence[Piece]) -> NeckEdge | None:
    """The edge of the neck; None where no band is picked up along it alone, or its halves differ: that is said."""
    record = construction(spec.construction)
    if not spec.neckline.divides or record.in_rings:
        return None
    live = _across_the_top(pieces) if record.yoke else NO_YOKE
    if live is None or live.fronts < 0:
        return None
    edge = bands.neck_edge(bands.neck_pieces(pieces), spec.cloth, live)
    if _alike(edge.left, edge.right):
        return edge
    across = [Amount(part.level + part.steps, "stitches") for part in (edge.left, edge.right)]
    left, right = (Amount(part.rows, "rows") for part in (edge.left, edge.right))
    spec.notes.check("band-as-planned", left=left, right=right, left_stitches=across[0], right_stitches=across[1])
    return None


def _alike(left: EdgePart, right: EdgePart) -> bool:
    """Whether both halves are as planned, one of them a row later; no band has two sides of its own."""
    return (left.level, left.steps) == (right.level, right.steps) and abs(left.rows - right.rows) <= 1


def _across_the_top(pieces: Sequence[Piece]) -> Across | None:
    """What lies across the top of a raglan: cast on there, or left where its lines end.

    None where stitches went in all across the yoke: how many of them each part has is not known.
    """
    yoke = next((p for p in pieces[::-1] if p.role in roles.YOKES), None)
    if yoke is None:
        left = {p.role: p.bound_off - p.seam_stitches for p in pieces}
        fronts = sum(p.bound_off - p.seam_stitches for p in pieces if not p.role.band and _is_front(p, pieces))
        return Across(left[roles.BACK], left[roles.SLEEVE], fronts)
    first = next(yoke.lineage())
    if first.role in roles.YOKES:
        parts, there = dict(first.marks[0].counts), first.cast_on
    elif any(e.across for p in yoke.lineage() if p.role in roles.YOKES for r in p.rows for e in r.events):
        return None
    else:
        parts, there = parts_before(yoke.last_row + 1, yoke), yoke.bound_off
    back, sleeve = parts[roles.THE_BACK], parts[roles.LEFT_SLEEVE]
    return Across(back, sleeve, there - back - 2 * sleeve)


def _is_front(piece: Piece, pieces: Sequence[Piece]) -> bool:
    """Whether it is a front, or a side of one, that ends at the top."""
    return any(p.role is roles.FRONT for p in piece.lineage()) and all(p.parent is not piece for p in pieces)


def _neckband(spec: GarmentSpec, edge: NeckEdge | None, pieces: Sequence[Piece]) -> list[Piece]:
    """The band of the neck; that of an open V goes up and down the fronts as well."""
    opened, pointed = spec.front == "open", spec.neckline.pointed
    if edge is None:
        return []
    if not (opened and pointed):
        return [spec.bands.neck(edge, opened=opened, mitred=pointed)]
    left, right = (_front_edge(spec, pieces, side, with_neckband=False) for side in roles.BOTH_EDGES)
    if left != right:
        spec.notes.check("band-as-planned.fronts", left=Amount(left.rows, "rows"), right=Amount(right.rows, "rows"))
        return []
    return [spec.bands.whole(edge, left)] if _fits(spec, left) else []


# ── the fronts ───────────────────────────────────────────────────────────────────────────────────────


def _fronts(spec: GarmentSpec, pieces: Sequence[Piece]) -> list[Piece]:
    """The bands of an open front, each along its own edge; none where one has become too short for buttons."""
    if spec.front != "open" or spec.neckline.pointed:
        return []
    edges = {side: _front_edge(spec, pieces, side) for side in roles.BOTH_EDGES}
    shortest = min(edges.values(), key=lambda edge: edge.slope_cm)
    if not _fits(spec, shortest):
        return []
    if all(edge == shortest for edge in edges.values()):
        return spec.bands.fronts(shortest)
    return [spec.bands.front(edge, side) for side, edge in edges.items()]


def _fits(spec: GarmentSpec, edge: EdgePart) -> bool:
    """Whether the edge of a front still has room for a band with two buttons; if not, that is said."""
    fits = spec.bands.fits(edge)
    if not fits:
        spec.notes.check("band-as-planned.short", edge=cm(edge.slope_cm))
    return fits


def _front_edge(spec: GarmentSpec, pieces: Sequence[Piece], side: Edge, *, with_neckband: bool = True) -> EdgePart:
    last = next(p for p in pieces if _ends_front(p, side, pieces))
    rows, hem = [r for p in last.lineage() for r in p.rows], fabric_of(spec.hem)
    in_hem = sum(r.fabric == hem for r in rows) if hem != STOCKINETTE else 0
    return spec.bands.front_edge(_rows_to_the_neck(last, side), in_hem, with_neckband=with_neckband)


def _ends_front(piece: Piece, side: Edge, pieces: Sequence[Piece]) -> bool:
    """Whether the edge of an open front ends with this piece, be it knitted up or down."""
    is_half = piece.role is roles.FRONT and piece.side == side
    goes_on = any(p.parent is piece and (p.role is roles.FRONT or p.role is roles.BODY) for p in pieces)
    return is_half or (piece.role in (roles.BODY, *roles.YOKES) and not goes_on and not _joined_above(piece, pieces))


def _joined_above(piece: Piece, pieces: Sequence[Piece]) -> bool:
    return any(p.parent is piece and p.role in roles.YOKES for p in pieces)


def _rows_to_the_neck(last: Piece, side: Edge) -> int:
    """Rows of the straight edge of a front, from the hem to the neck: pairs of rows, one at each side."""
    rows = [r for p in last.lineage() for r in p.rows]
    neck = [r.row for r in rows if any(e.where == f"neck-{side}" for e in r.events)]
    if last.role is roles.BODY:  # from the neck down
        return last.last_row - (max(neck) + 1) // 2 * 2 if neck else last.last_row
    if neck:  # the left half of a front begins its neck a row before the right one
        return (min(neck) - (0 if last.role is roles.FRONT else 1)) // 2 * 2
    raised = sum(any(e.do == "short-row" and e.line == "raised back" for e in r.events) for r in rows)
    return last.last_row - raised
