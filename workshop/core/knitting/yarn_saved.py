"""What can be done where the yarn is short, and what each of it saves, by the grams that a stitch has taken so far."""

from collections.abc import Iterator, Sequence
from typing import Literal

from workshop.core.edgings import GARTER, STOCKINETTE, of_fabric
from workshop.core.knitting.needles import Needles, PieceStanding
from workshop.core.knitting.yarn_left import YarnLeft
from workshop.core.making.roles import SLEEVE, YOKES
from workshop.core.making.sleeves import SHORT_OF_ARM
from workshop.core.plan import Plan
from workshop.records import record
from workshop.tables.trade_rules import rule

LEAST_SHORTER_CM = 0.5
"""Less than this is not worth saying."""

MOST_SHORTER_CM = 12.0
"""Sleeves or body that would have to be shorter than this are another garment (common practice, no source)."""


@record
class Saving:
    """One way to need less yarn."""

    way: Literal["sleeves shorter", "body shorter", "sleeves to the elbow", "sleeves first", "edgings", "bands"]
    """``sleeves first`` saves nothing: only the length of the body is open then. ``edgings`` are hem and cuffs, and
    ``bands``, in another yarn; with ``whole`` both."""
    grams: float = 0.0
    cm: float = 0.0
    """How much shorter."""
    whole: bool = False
    """Whether it is enough; of edgings, whether bands are among them."""


def savings(needles: Needles, left: YarnLeft, plan: Plan) -> Iterator[Saving]:
    """The ways to need less yarn, the mildest first."""
    per_stitch = left.used_g / left.done
    to_come = [p for p in needles.pieces if not p.finished]
    sleeves = [p for p in to_come if p.piece.role.word == "sleeve"]
    panels = [p for p in to_come if p.piece.role.drawn in ("panel", "whole") and p.piece.role not in YOKES]
    yield from _shorter("sleeves shorter", sleeves, per_stitch, left.short_g[1], plan)
    yield from _shorter("body shorter", panels, per_stitch, left.short_g[1], plan)
    yield from _to_the_elbow(needles, left, per_stitch, plan)
    if sleeves and any(not p.rows_knitted for p in panels):
        yield Saving("sleeves first")
    yield from _edgings(to_come, per_stitch)


def _shorter(
    way: Literal["sleeves shorter", "body shorter"],
    pieces: Sequence[PieceStanding],
    per_stitch: float,
    short_g: float,
    plan: Plan,
) -> Iterator[Saving]:
    """What it saves to make pieces shorter, and by how much they would make up for what is missing."""
    if not pieces or plan.gauge is None:
        return
    row = sum(p.piece.stitches_worked / len(p.piece.rows) for p in pieces)  # what goes is of middling width
    per_cm = row * plan.gauge.rows.per_10cm / 10 * per_stitch
    left_cm = min(_rows_left(p) for p in pieces) / plan.gauge.rows.per_10cm * 10
    enough_cm, least_cm = short_g / per_cm, min(2.0, left_cm)
    if least_cm >= LEAST_SHORTER_CM:
        enough = 0 < enough_cm <= min(MOST_SHORTER_CM, left_cm)
        cm = enough_cm if enough else least_cm
        yield Saving(way, cm * per_cm, cm, whole=enough)


def _rows_left(standing: PieceStanding) -> int:
    """Plain rows still to come of a piece, which it could do without."""
    rows = standing.piece.rows[standing.rows_knitted :]
    return sum(r.fabric == STOCKINETTE and not r.events for r in rows)


def _to_the_elbow(needles: Needles, left: YarnLeft, per_stitch: float, plan: Plan) -> Iterator[Saving]:
    """What sleeves to the elbow save, where they are to be long and it is not too late."""
    arm_cm = plan.wearer.cm("sleeve_underarm")
    sleeves = [p for p in needles.pieces if p.piece.role is SLEEVE]
    if plan.project.garment.sleeve != "long" or arm_cm is None or plan.gauge is None or not sleeves:
        return
    rows, stitches = round(SHORT_OF_ARM["elbow"] * arm_cm * plan.gauge.rows.per_10cm / 10), 0
    for sleeve in sleeves:
        from_cuff = [r for r in sleeve.piece.rows if r.fabric == STOCKINETTE]
        if sleeve.piece.parent is None and sleeve.rows_knitted:
            return  # its cuff is for the wrist
        if sleeve.piece.parent is not None:  # from the underarm down: what is left out lies at its end
            from_cuff.reverse()
            if sleeve.rows_knitted > len(from_cuff) - rows:
                return
        left_out = [max(r.before, r.after) for r in from_cuff[:rows]]
        wider_cuff = (left_out[-1] - left_out[0]) * (len(sleeve.piece.rows) - len(from_cuff)) if left_out else 0
        stitches += sum(left_out) - wider_cuff
    saved = stitches * per_stitch * (1 + rule("seams_and_ends"))
    yield Saving("sleeves to the elbow", saved, whole=saved >= left.short_g[1])


def _edgings(to_come: Sequence[PieceStanding], per_stitch: float) -> Iterator[Saving]:
    """What it saves to knit the edgings that are still to come in another yarn."""
    bands = [p for p in to_come if p.piece.role.band and not p.rows_knitted]
    others = [p for p in to_come if not p.piece.role.band]
    rows = [r for p in others for r in p.piece.rows[p.rows_knitted :] if of_fabric(r.fabric).rib or r.fabric == GARTER]
    of_bands = sum(p.piece.stitches_worked for p in bands) * per_stitch
    of_edges = sum(max(r.before, r.after) for r in rows) * per_stitch
    if of_edges >= 1:
        yield Saving("edgings", of_bands + of_edges, whole=bool(bands))
    elif bands:
        yield Saving("bands", of_bands)
