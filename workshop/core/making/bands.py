"""Bands picked up along an edge: how many stitches, buttonholes, and whether a head goes through.

Stitches to pick up = length of the edge × gauge of the band, rounded to what the rib allows. Along rows that
is three of four rows or so, derived from the two gauges and the slope of the edge (``edges.edge_cm``; agrees with
published rates, tests/published); along bound-off stitches one for each.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from workshop.core.making.counts import Edging, edging_rule
from workshop.core.making.edges import Cloth, edge_cm, neck_edge_moves
from workshop.core.making.ledger import Edge, Event, Fabric, Ledger, Piece
from workshop.core.making.spacing import split_evenly
from workshop.core.remarks import Check, check, cm
from workshop.core.working import WHOLE, Rounding, Workings, worked
from workshop.tables.practice import rule

BUTTON_EVERY_CM = 8.5
"""Distance of buttons on an adult's front (common practice, no source)."""

BUTTON_FROM_END_CM = 1.5
"""Distance of the first and the last button from the ends of the band (common practice, no source)."""

BUTTONHOLE_STITCHES = 2

WHOLE_BAND = "front and neck band"
"""Name of the band that goes round both fronts and the neck of a V."""

LEAST_FRONT_EDGE = 8
"""Fewest stitches of a front band: two buttonholes, and something round each."""


@dataclass(frozen=True, slots=True)
class NeckEdge:
    """The edge that a neckband is picked up along: bound-off stitches, and shaped sides in cm.

    Of it ``back`` stitches' width belongs to the back and ``sleeve`` to the top of each sleeve.
    """

    straight: int
    sides_cm: float
    back: float = 0.0
    sleeve: int = 0

    def stitches(self, cloth: Cloth) -> float:
        """How many stitches of the cloth are as long as the edge."""
        return self.straight + self.sides_cm * cloth.stitches_per_10cm / 10


@dataclass(frozen=True, slots=True)
class Across:
    """Stitches of a yoke that lie across the top of the neck: of the back, of each sleeve, of the fronts together."""

    back: int
    sleeve: int
    fronts: int

    @property
    def all(self) -> int:
        """All of them."""
        return self.back + 2 * self.sleeve + self.fronts


NO_YOKE = Across(0, 0, 0)


def neck_edge(pieces: Iterable[Piece], cloth: Cloth, live: Across = NO_YOKE) -> NeckEdge:
    """The neck edge of pieces that divide at the neck or begin there; ``live`` more stitches lie across the top."""
    pieces = tuple(pieces)
    whole = NeckEdge(_centre(pieces) + live.all, edge_cm(cloth, neck_edge_moves(pieces)))
    backs = [p for p in pieces if p.name.startswith("back")]
    own = NeckEdge(_centre(backs), edge_cm(cloth, neck_edge_moves(backs)))
    return replace(whole, back=live.back + own.stitches(cloth), sleeve=live.sleeve)


def _centre(pieces: Iterable[Piece]) -> int:
    """Stitches bound off, or cast on, in the middle of a neck."""
    return sum(
        e.stitches
        for p in pieces
        for r in p.rows
        for e in r.events
        if e.do in ("bind-off", "cast-on") and e.where == "centre"
    )


def along_the_neck(
    count: int, edge: NeckEdge, cloth: Cloth, *, opened: bool, pointed: bool, front: int = 0
) -> tuple[tuple[str, int], ...]:
    """How the stitches of a neckband lie along its edges, in the order in which they are picked up.

    They add up to ``count``; left and right have the same, and the back takes what rounding leaves. From the left
    shoulder round, or from the right front where that is open; ``front`` more go up each open front below the neck.
    """
    scale = (count - 2 * front) / edge.stitches(cloth)
    sleeve = WHOLE(edge.sleeve * scale)
    fronts = (edge.stitches(cloth) - edge.back - 2 * edge.sleeve) * scale
    half = WHOLE(fronts / 2) + front
    parted = opened or pointed
    both = 2 * half if parted else WHOLE(fronts)
    right = (("right sleeve", sleeve),) if sleeve else ()
    left = (("left sleeve", sleeve),) if sleeve else ()
    back = (("back", count - both - 2 * sleeve),)
    if opened:
        return (("right front", half), *right, *back, *left, ("left front", half))
    middle = (("left front", half), ("right front", half)) if pointed else (("front", both),)
    return (*left, *middle, *right, *back)


def stitches_to_the_point(pieces: Iterable[Piece], cloth: Cloth) -> int | None:
    """Stitches of a V's band from the left shoulder to its point; None where the front has no shoulder of its own."""
    left = next((p for p in pieces if p.name == "front, left shoulder"), None)
    if left is None:
        return None
    return WHOLE(edge_cm(cloth, neck_edge_moves([left])) * cloth.stitches_per_10cm / 10)


def band_fabric(edging: Edging) -> Fabric:
    """Neck, armhole and front bands match the hem; with a plain hem they are garter stitch."""
    return "garter" if edging == "none" else edging


def band_rows(band_cm: float, cloth: Cloth, fabric: Fabric) -> int:
    """Rows of a band: at least two."""
    return max(2, WHOLE(band_cm * cloth.rows_in(fabric) / 10))


def neckband(
    edge: NeckEdge,
    cloth: Cloth,
    edging: Edging,
    band_cm: float,
    workings: Workings,
    *,
    worked_as: Literal["flat", "round"] = "round",
    mitred: bool = False,
) -> Piece:
    """The band of a neck: in the round, or back and forth where the front is open.

    Mitred (a V neck): two stitches decreased at the middle of the front on every second round.
    """
    count = _picked_up("neckband", "round the neck", edge, cloth, edging, worked_as, workings)
    fabric = band_fabric(edging)
    ledger = Ledger("neckband", worked_as, 0, begins="right")
    along = along_the_neck(count, edge, cloth, opened=worked_as == "flat", pointed=mitred)
    ledger.shape(fabric, Event("pick-up", "across", count, along=along))
    for row in range(2, band_rows(band_cm, cloth, fabric) + 1):
        mitre = mitred and row % 2 == 0 and ledger.stitches > 8
        ledger.shape(fabric, *((Event("decrease", "centre", 2),) if mitre else ()))
    return ledger.piece(neck=count)


def armhole_bands(
    straight: int, sides_cm: float, cloth: Cloth, edging: Edging, band_cm: float, workings: Workings
) -> list[Piece]:
    """Bands round both armholes of a garment without sleeves."""
    edge = NeckEdge(straight, sides_cm)
    count = _picked_up("armhole_band", "round each armhole", edge, cloth, edging, "round", workings)
    fabric, bands = band_fabric(edging), []
    for side in ("left", "right"):
        ledger = Ledger(f"{side} armhole band", "round", 0)
        ledger.shape(fabric, Event("pick-up", "across", count))
        ledger.work(band_rows(band_cm, cloth, fabric) - 1, fabric)
        bands.append(ledger.piece(armhole=count))
    return bands


def straight_front_cm(rows: int, hem_rows: int, cloth: Cloth, edging: Edging) -> float:
    """Length of the straight edge of an open front in cm, from the cast-on to where its neck begins."""
    hem: Fabric = "stocking" if edging == "none" else edging
    return cloth.along_cm(hem_rows, hem) + cloth.along_cm(rows - hem_rows)


def front_edge_cm(rows: int, hem_rows: int, cloth: Cloth, edging: Edging, band_cm: float) -> float:
    """Length of the edge of an open front in cm: so many rows from the cast-on, and the neckband above them."""
    fabric = band_fabric(edging)
    band = cloth.along_cm(band_rows(band_cm, cloth, fabric), fabric)
    return straight_front_cm(rows, hem_rows, cloth, edging) + band


def front_edge_fits(length_cm: float, cloth: Cloth, edging: Edging) -> bool:
    """Whether an edge has room for a band with two buttons."""
    return edging_rule(edging, "flat")(length_cm * cloth.stitches_per_10cm / 10) >= LEAST_FRONT_EDGE


def front_bands(
    length_cm: float, cloth: Cloth, edging: Edging, band_cm: float, holes_on: str, workings: Workings, child: bool
) -> list[Piece]:
    """Both front bands, from the hem to the top of the neckband; one of them with buttonholes."""
    count = _picked_up("front_band", "along each front", NeckEdge(0, length_cm), cloth, edging, "flat", workings)
    buttons = _buttons(length_cm, count, workings, child=child)
    rows, fabric = _rows_with_holes(band_cm, cloth, edging), band_fabric(edging)
    found = []
    for side in ("left", "right"):
        holes = buttons if side == holes_on else 0
        ledger = _with_holes(f"{side} front band", "left", count, rows, fabric, holes)
        found.append(ledger.piece(front_edge=count, **({"buttonholes": buttons} if holes else {})))
    return found


def whole_band(
    edge: NeckEdge,
    front_cm: float,
    cloth: Cloth,
    edging: Edging,
    band_cm: float,
    holes_on: str,
    workings: Workings,
    *,
    child: bool,
) -> Piece:
    """One band up the right front, round the neck and down the left: at the corner of a V nothing is to be fitted.

    ``front_cm`` is the straight edge of each front, which has the buttons; they end where the V begins.
    """
    around = replace(edge, sides_cm=edge.sides_cm + 2 * front_cm)
    count = _picked_up("front_band", "along both fronts and round the neck", around, cloth, edging, "flat", workings)
    along = WHOLE(front_cm * cloth.stitches_per_10cm / 10)
    buttons = _buttons(front_cm, along, workings, child=child)
    rows = _rows_with_holes(band_cm, cloth, edging)
    lies = along_the_neck(count, edge, cloth, opened=True, pointed=True, front=along)
    ledger = _with_holes(WHOLE_BAND, "right", count, rows, band_fabric(edging), buttons, lies)
    keys = {"front_edge": along, "buttonholes": buttons, "holes_first": int(holes_on == "right")}
    return ledger.piece(neck=count - 2 * along, **keys)


def _rows_with_holes(band_cm: float, cloth: Cloth, edging: Edging) -> int:
    return max(4, band_rows(band_cm, cloth, band_fabric(edging)))


def _buttons(length_cm: float, stitches: int, workings: Workings, *, child: bool) -> int:
    every = BUTTON_EVERY_CM * (0.75 if child else 1.0)
    buttons = workings.note(
        worked(
            "front_band.buttons",
            "Buttons",
            "(front edge − 2 × end) ÷ distance of buttons + 1",
            {
                "front edge": (length_cm, "cm"),
                "end": (BUTTON_FROM_END_CM, "cm"),
                "distance of buttons": (every, "cm"),
            },
            (length_cm - 2 * BUTTON_FROM_END_CM) / every + 1,
            "buttons",
            rounding=Rounding(),
            source="common practice, no source",
        )
    ).count
    return max(2, min(buttons, (stitches - 4) // 4))


def _with_holes(
    name: str,
    begins: Edge,
    count: int,
    rows: int,
    fabric: Fabric,
    buttons: int,
    along: tuple[tuple[str, int], ...] = (),
) -> Ledger:
    """A band picked up and worked back and forth, with so many buttonholes in the middle of its depth."""
    ledger = Ledger(name, "flat", 0, begins=begins)
    ledger.shape(fabric, Event("pick-up", "across", count, along=along))
    middle = rows // 2 + (rows // 2 + 1) % 2  # the buttonhole row is a right-side row
    for row in range(2, rows + 1):
        events: tuple[Event, ...] = ()
        if buttons and row == middle:
            events = (Event("bind-off", "across", buttons * BUTTONHOLE_STITCHES),)
        elif buttons and row == middle + 1:
            events = (Event("cast-on", "across", buttons * BUTTONHOLE_STITCHES),)
        ledger.shape(fabric, *events)
    return ledger


def buttonhole_gaps(stitches: int, buttons: int, stitches_per_10cm: float) -> tuple[int, ...]:
    """Stitches before the first buttonhole, between buttonholes, and after the last one.

    The ends stay as near to the usual distance as equal gaps allow (spacing over stitches, as over rows).
    """
    end = max(1, min(WHOLE(BUTTON_FROM_END_CM * stitches_per_10cm / 10), (stitches - 3 * buttons) // 2))
    between = stitches - 2 * end - buttons * BUTTONHOLE_STITCHES
    if buttons == 1:
        return end, stitches - end - BUTTONHOLE_STITCHES
    return (end, *split_evenly(between, buttons - 1, "even"), end)


def _picked_up(
    key: str, where: str, edge: NeckEdge, cloth: Cloth, edging: Edging, how: Literal["flat", "round"], ws: Workings
) -> int:
    rule = edging_rule(edging, how)
    least = rule.multiple + rule.remainder
    return max(
        least,
        ws.note(
            worked(
                f"{key}.stitches",
                f"Stitches to pick up {where}",
                "level stitches + shaped edges × stitches per 10 cm ÷ 10",
                {
                    "level stitches": (edge.straight, "stitches"),
                    "shaped edges": (edge.sides_cm, "cm"),
                    "stitches per 10 cm": (cloth.stitches_per_10cm, "stitches"),
                },
                edge.straight + edge.sides_cm * cloth.stitches_per_10cm / 10,
                "stitches",
                rounding=rule,
                per_cm=cloth.stitches_per_10cm / 10,
                source="edge length × band gauge (derived; agrees with published pick-up rates)",
            )
        ).count,
    )


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
        f"pass. Make the neck wider or deeper, {'' if ribbed else 'choose a rib, which stretches further, '}or leave "
        "one shoulder open with buttons.",
        f"{opening_cm:.0f}/{head_cm:.0f}",
        opening=cm(opening_cm),
        stretched=cm(stretched),
        head=cm(head_cm),
    )


def neck_pieces(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The pieces that have a neck edge."""
    return tuple(p for p in pieces if not p.name.endswith("band"))
