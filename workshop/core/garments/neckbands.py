"""A neckband along the neck as it is knitted, where that is not the plan's any more."""

from collections.abc import Sequence
from dataclasses import replace

from workshop.core.constructions import construction
from workshop.core.garments import GarmentSpec
from workshop.core.making import bands, roles
from workshop.core.making.bands import NO_YOKE, Across
from workshop.core.making.ledger import Piece
from workshop.core.notes import Notes


def neckband_along(spec: GarmentSpec, pieces: Sequence[Piece]) -> Piece | None:
    """The band that is picked up along the necks of these pieces; None where none is picked up from them alone."""
    record = construction(spec.construction)
    opened, pointed = spec.front == "open", spec.neckline.pointed
    if not spec.neckline.divides or record.in_rings or (opened and pointed):
        return None
    live = NO_YOKE
    if record.yoke:
        top = next((p for p in pieces if p.parent is None and p.role in roles.YOKES), None)
        if top is None or not top.marks:
            return None
        live = _across_the_top(top)
    quiet = Notes()
    edge = bands.neck_edge(bands.neck_pieces(pieces), spec.cloth, live)
    if replace(edge.left, name="") != replace(edge.right, name=""):
        return None  # one half was knitted before the plan changed: no band has two sides of its own
    band = replace(spec, notes=quiet).bands.neck(edge, opened=opened, mitred=pointed)
    now = {working.key: working for working in quiet.workings}
    spec.notes.workings[:] = [now.get(working.key, working) for working in spec.notes.workings]
    return band


def _across_the_top(yoke: Piece) -> Across:
    """What lies across the top of a yoke that was cast on at the neck."""
    parts = {part.role: count for part, count in yoke.marks[0].counts}
    fronts = sum(count for part, count in yoke.marks[0].counts if part.role is roles.FRONT)
    return Across(parts[roles.BACK], parts[roles.SLEEVE], fronts)
