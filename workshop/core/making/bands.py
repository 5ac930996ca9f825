"""Bands picked up along an edge: how many stitches, and whether a head goes through."""

from math import hypot

from workshop.core.making.counts import Edging, edging_rule
from workshop.core.making.edges import Cloth, neck_edge_moves
from workshop.core.making.ledger import Event, Fabric, Ledger, Piece
from workshop.core.remarks import Check, check, cm
from workshop.core.working import Workings, worked
from workshop.tables.practice import rule


def neck_edge_cm(pieces: list[Piece], cloth: Cloth) -> tuple[float, float]:
    """Length of the neck edge in cm: bound off in the middle, and along the shaped sides."""
    centre = sum(
        e.stitches for p in pieces for r in p.rows for e in r.events if e.do == "bind-off" and e.where == "centre"
    )
    shoulders = [p for p in pieces if p.name.endswith("shoulder")]
    sides = sum(hypot(cloth.across_cm(s), cloth.along_cm(r)) for s, r in neck_edge_moves(shoulders))
    return cloth.across_cm(centre), sides


def neckband(pieces: list[Piece], cloth: Cloth, edging: Edging, band_cm: float, workings: Workings) -> Piece:
    """A band in the round, picked up along the neck edge once the shoulders are joined."""
    centre, sides = neck_edge_cm(pieces, cloth)
    count = workings.note(
        worked(
            "neckband.stitches",
            "Stitches to pick up round the neck",
            "(bound-off edge + shaped edges) × stitches per 10 cm ÷ 10",
            {
                "bound-off edge": (centre, "cm"),
                "shaped edges": (sides, "cm"),
                "stitches per 10 cm": (cloth.stitches_per_10cm, "stitches"),
            },
            (centre + sides) * cloth.stitches_per_10cm / 10,
            "stitches",
            rounding=edging_rule(edging, "round"),
            per_cm=cloth.stitches_per_10cm / 10,
            source="edge length × band gauge (derived; agrees with published pick-up rates)",
        )
    ).count
    fabric: Fabric = "garter" if edging == "none" else edging
    ledger = Ledger("neckband", "round", 0)
    ledger.shape(fabric, Event("pick-up", "across", count))
    ledger.work(max(1, round(band_cm * cloth.rows_per_10cm / 10) - 1), fabric)
    return ledger.piece(neck=count)


def head_check(opening_cm: float, ribbed: bool, head_cm: float) -> Check | None:
    """Whether a neck opening, stretched, passes the head; None where it does."""
    stretched = opening_cm * float(rule("rib_stretch")["rib" if ribbed else "plain"])
    if stretched >= head_cm:
        return None
    return check(
        "head-does-not-pass",
        "look",
        "shape",
        "garment.neck_width_cm",
        "The neck opening is {opening} round and stretches to about {stretched}; a head of {head} will not "
        "pass. Make the neck wider or deeper, or leave one shoulder open with buttons.",
        f"{opening_cm:.0f}/{head_cm:.0f}",
        opening=cm(opening_cm),
        stretched=cm(stretched),
        head=cm(head_cm),
    )
