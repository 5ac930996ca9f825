"""Bands picked up along an edge: how many stitches, buttonholes, and whether a head goes through.

Stitches to pick up = length of the edge × gauge of the band, rounded to what the rib allows. One for each stitch
that lies across; along rows a rate of each edge's own, from the count that it gets and the rows that it has
(``edges.rate_along``; the lengths agree with published rates, tests/published).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby, pairwise
from typing import Literal

from workshop.core.making import roles
from workshop.core.making.counts import Edging, edging_rule, in_stitches, stitches_of
from workshop.core.making.edges import Cloth, edge_cm, neck_sides, rate_along
from workshop.core.making.ledger import Event, Fabric, Ledger, PickedUp, Piece
from workshop.core.remarks import Check, check, cm
from workshop.core.sums import figure
from workshop.core.working import EVEN, WHOLE, Rounding, Workings, worked
from workshop.tables.practice import rule

BUTTON_EVERY_CM = 8.5
"""Distance of buttons on an adult's front (common practice, no source)."""

BUTTON_FROM_END_CM = 1.5
"""Distance of the first and the last button from the ends of the band (common practice, no source)."""

BUTTONHOLE_STITCHES = 2

LEAST_FRONT_EDGE = 8
"""Fewest stitches of a front band: two buttonholes, and something round each."""


LEAST_ROWS_WITH_HOLES = 5
"""Rows of a band with buttonholes: one before the two rows of the holes beside the row that is picked up, one after."""


@dataclass(frozen=True, slots=True)
class EdgePart:
    """One edge that stitches are picked up along: stitches that lie across, and a slope of so many rows and cm."""

    name: str
    level: int = 0
    slope_cm: float = 0.0
    rows: int = 0
    sides: int = 1
    steps: int = 0
    """Stitches bound off or cast on in steps along the slope, of all sides together."""


@dataclass(frozen=True, slots=True)
class NeckEdge:
    """The edge that a neckband is picked up along; ``centre`` is bound off or cast on in the middle of the front."""

    back: EdgePart
    left: EdgePart
    right: EdgePart
    centre: int = 0
    sleeve: int = 0

    def parts(self, *, opened: bool = False, pointed: bool = False, single: bool = True) -> tuple[EdgePart, ...]:
        """Its edges in the order in which they are picked up: from the left shoulder, or from the right front.

        ``pointed`` for a closed V: its ``single`` stitch at the point stands for itself, a pair is in the two fronts.
        """
        sleeves = [[EdgePart(f"{side} sleeve", self.sleeve)] if self.sleeve else [] for side in ("left", "right")]
        left, right = self.left, self.right
        if opened:
            return (right, *sleeves[1], self.back, *sleeves[0], left)
        if pointed:
            point = [EdgePart("point", 1)] if single else []
            beside = max(0, self.centre - len(point)) // 2
            left, right = (replace(part, level=part.level + beside) for part in (left, right))
            return (*sleeves[0], left, *point, right, *sleeves[1], self.back)
        across = self.centre + left.level + right.level
        slopes_cm, steps = left.slope_cm + right.slope_cm, left.steps + right.steps
        front = EdgePart("front", across, slopes_cm, left.rows + right.rows, sides=2, steps=steps)
        return (*sleeves[0], front, *sleeves[1], self.back)


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
    backs = [piece for piece in pieces if any(p.role is roles.BACK for p in piece.lineage())]
    fronts = [piece for piece in pieces if piece not in backs]
    of_back, of_front = neck_sides(backs), neck_sides(fronts)
    half_cm = sum(edge_cm(cloth, side.slope) for side in of_front) / 2  # alike, whichever is worked a row later
    halves = {}
    for name in ("left", "right"):
        own = [side for side in of_front if side.side == name]
        level = live.fronts // 2 + sum(side.level for side in own)
        rows, steps = sum(side.rows for side in own), sum(side.steps for side in own)
        halves[name] = EdgePart(f"{name} front", level, half_cm, rows, steps=steps)
    back_cm = sum(edge_cm(cloth, side.slope) for side in of_back)
    across = live.back + _centre(backs) + sum(side.level for side in of_back)
    rows, steps = sum(side.rows for side in of_back), sum(side.steps for side in of_back)
    back = EdgePart("back", across, back_cm, rows, sides=2, steps=steps)
    return NeckEdge(back, halves["left"], halves["right"], _centre(fronts), live.sleeve)


def _centre(pieces: Iterable[Piece]) -> int:
    """Stitches bound off, or cast on, in the middle of a neck."""
    return sum(
        e.stitches
        for p in pieces
        for r in p.rows
        for e in r.events
        if e.do in ("bind-off", "cast-on") and e.where == "centre"
    )


def laid_along(count: int, parts: Sequence[EdgePart]) -> tuple[PickedUp, ...]:
    """How ``count`` stitches lie along the edges: one in each level stitch, the others shared by length of slope.

    They add up. Left and right have the same; what rounding leaves goes to the fronts, and a last stitch to the back.
    """
    slack, whole = count - sum(part.level for part in parts), sum(part.slope_cm for part in parts)
    slopes = {p.name: (EVEN if p.sides == 2 else WHOLE)(slack * p.slope_cm / (whole or 1.0)) for p in parts}
    ends = [name for name in slopes if name in ("front", "left front", "right front")] or [parts[0].name]
    each, one = divmod(slack - sum(slopes.values()), len(ends))
    for name in ends:
        slopes[name] += each
    slopes["back" if one else ends[0]] += one
    return tuple(_picked(part, slopes[part.name]) for part in parts)


def _picked(part: EdgePart, slope: int) -> PickedUp:
    steps = max(0, min(part.steps, slope))
    rate = rate_along((slope - steps) / part.sides, part.rows / part.sides) if part.rows else Fraction(0)
    level = part.level + min(0, slope)  # an edge without rows has one fewer where the rib asks for that
    return PickedUp(part.name, part.level + slope, level, part.rows, rate, part.sides, steps)


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

    Mitred (a V neck): two stitches decreased at the middle of the front on every second round, in garter stitch on
    the rounds that are knitted.
    """
    fabric = band_fabric(edging)
    parts = edge.parts(opened=worked_as == "flat", pointed=mitred, single=fabric != "rib-2x2")
    count = _picked_up("neckband", "round the neck", parts, cloth, edging, worked_as, workings)
    ledger = Ledger(roles.NECKBAND, worked_as, 0)
    ledger.shape(fabric, Event("pick-up", "across", count, along=laid_along(count, parts)))
    for row in range(2, band_rows(band_cm, cloth, fabric) + 1):
        mitre = mitred and row % 2 == (1 if fabric == "garter" else 0) and ledger.stitches > 8
        ledger.shape(fabric, *((Event("decrease", "centre", 2),) if mitre else ()))
    return ledger.piece(neck=count)


def first_rib(piece: Piece) -> tuple[str, ...]:
    """The steps of the row after a pick-up row, which sets the rib: "k2", "p2" and so on; of other rows none.

    Flat, right-side rows begin and end with knit stitches. In the round the rib begins with them, or so that the
    point of a V is a knit stitch of k1, p1 or the two of k2, p2; a decrease there is in the steps.
    """
    picked = piece.picked_up
    if picked is None or not piece.rows[1].fabric.startswith("rib"):
        return ()
    row = piece.rows[1]
    wide = 2 if row.fabric == "rib-2x2" else 1
    knit, purl = ("p", "k") if row.side == "WS" else ("k", "p")
    point = _point(picked)
    letters = [knit if (i - (point or 0)) % (2 * wide) < wide else purl for i in range(row.before)]
    if point is not None and any(e.where == "centre" for e in row.events):
        letters[point - 1 : point + wide + 1] = ["k2tog", "ssk"] if wide == 2 else ["s2kp"]
    runs = ((letter, len(list(run))) for letter, run in groupby(letters))
    return tuple(letter if len(letter) > 1 else f"{letter}{times}" for letter, times in runs)


def _point(picked: Event) -> int | None:
    """Stitches of a band before the one at the point of a V, or before the first of the two."""
    before = 0
    for part, following in pairwise(picked.along):
        before += part.stitches
        if following.edge == "point":
            return before
        if (part.edge, following.edge) == ("left front", "right front"):
            return before - 1
    return None


def armhole_bands(armhole: EdgePart, cloth: Cloth, edging: Edging, band_cm: float, workings: Workings) -> list[Piece]:
    """Bands round both armholes of a garment without sleeves."""
    count = _picked_up("armhole_band", "round each armhole", (armhole,), cloth, edging, "round", workings)
    fabric, bands = band_fabric(edging), []
    for side in roles.BOTH_EDGES:
        ledger = Ledger(roles.ARMHOLE_BAND, "round", 0, side)
        ledger.shape(fabric, Event("pick-up", "across", count, along=laid_along(count, (armhole,))))
        ledger.work(band_rows(band_cm, cloth, fabric) - 1, fabric)
        bands.append(ledger.piece(armhole=count))
    return bands


def front_edge(rows: int, hem_rows: int, cloth: Cloth, edging: Edging, band_cm: float = 0.0) -> EdgePart:
    """The straight edge of an open front: so many rows from the cast-on, and those of a neckband above them."""
    hem: Fabric = "stocking" if edging == "none" else edging
    length_cm = cloth.along_cm(hem_rows, hem) + cloth.along_cm(rows - hem_rows)
    if not band_cm:
        return EdgePart("front edge", slope_cm=length_cm, rows=rows)
    fabric = band_fabric(edging)
    above = band_rows(band_cm, cloth, fabric)
    return EdgePart("front edge", slope_cm=length_cm + cloth.along_cm(above, fabric), rows=rows + above)


def front_edge_fits(length_cm: float, cloth: Cloth, edging: Edging) -> bool:
    """Whether an edge has room for a band with two buttons."""
    return edging_rule(edging, "flat")(length_cm * cloth.stitches_per_10cm / 10) >= LEAST_FRONT_EDGE


def front_bands(
    edge: EdgePart, cloth: Cloth, edging: Edging, band_cm: float, holes_on: str, workings: Workings, child: bool
) -> list[Piece]:
    """Both front bands, from the hem to the top of the neckband; one of them with buttonholes."""
    count = _picked_up("front_band", "along each front", (edge,), cloth, edging, "flat", workings)
    buttons = _buttons(edge.slope_cm, count, workings, child=child)
    gaps = buttonhole_gaps(count, buttons, cloth.stitches_per_10cm, band_fabric(edging))
    buttons = _note_holes(gaps, workings)
    rows, along = front_band_rows(band_cm, cloth, edging), laid_along(count, (edge,))
    found = []
    for side in roles.BOTH_EDGES:
        holed, empty = side == holes_on, Ledger(roles.FRONT_BAND, "flat", 0, side, begins="left")
        ledger = _with_holes(empty, along, rows, band_fabric(edging), gaps if holed else ())
        found.append(ledger.piece(front_edge=count, **({"buttonholes": buttons} if holed else {})))
    return found


def whole_band(
    edge: NeckEdge,
    front: EdgePart,
    cloth: Cloth,
    edging: Edging,
    band_cm: float,
    holes_on: str,
    workings: Workings,
    *,
    child: bool,
) -> Piece:
    """One band up the right front, round the neck and down the left: at the corner of a V nothing is to be fitted.

    ``front`` is the straight edge of each front, which has the buttons; they end where the V begins.
    """
    ends = [replace(front, name=f"{side} front edge") for side in ("right", "left")]
    parts = (ends[0], *edge.parts(opened=True), ends[1])
    count = _picked_up("front_band", "along both fronts and round the neck", parts, cloth, edging, "flat", workings)
    along = laid_along(count, parts)
    straight = along[0].stitches
    buttons = _buttons(front.slope_cm, straight, workings, child=child)
    first = 0 if holes_on == "right" else count - straight
    fabric = band_fabric(edging)
    gaps = buttonhole_gaps(straight, buttons, cloth.stitches_per_10cm, fabric, first, count - straight - first)
    buttons = _note_holes(gaps, workings)
    ledger = _with_holes(
        Ledger(roles.WHOLE_BAND, "flat", 0), along, front_band_rows(band_cm, cloth, edging), fabric, gaps
    )
    return ledger.piece(neck=count - 2 * straight, front_edge=straight, buttonholes=buttons)


def front_band_rows(band_cm: float, cloth: Cloth, edging: Edging) -> int:
    """Rows of a front band: at least as many as leave a row at both sides of its buttonholes."""
    return max(LEAST_ROWS_WITH_HOLES, band_rows(band_cm, cloth, band_fabric(edging)))


def front_band_cm(band_cm: float, cloth: Cloth, edging: Edging) -> float:
    """Width in cm of a front band as it is knitted."""
    return cloth.along_cm(front_band_rows(band_cm, cloth, edging), band_fabric(edging))


def _buttons(length_cm: float, stitches: int, workings: Workings, *, child: bool) -> int:
    every = BUTTON_EVERY_CM * (0.75 if child else 1.0)
    between = figure("front edge", length_cm, "cm") - 2 * figure("end", BUTTON_FROM_END_CM, "cm")
    number, source = between / figure("distance of buttons", every, "cm") + 1, "common practice, no source"
    working = worked("front_band.buttons", "Buttons wanted", number, "buttons", rounding=WHOLE, source=source)
    buttons = workings.note(working).count
    return max(2, min(buttons, (stitches - 4) // 4))


def _note_holes(gaps: tuple[int, ...], workings: Workings) -> int:
    """How many buttons there are, with the distance of their holes: all the same, and in the purl stitches of a rib."""
    if len(gaps) < 3:
        return len(gaps) - 1
    between = gaps[1] + BUTTONHOLE_STITCHES
    whole = figure("from the first hole to the last", between * (len(gaps) - 2), "stitches")
    number = whole / figure("from hole to hole", between, "stitches") + 1
    label = "Buttons, their holes as far apart as each other"
    source = "whole repeats of the rib from hole to hole, so that each lies in its purl stitches"
    return workings.note(worked("front_band.holes", label, number, "buttons", source=source)).count


def _with_holes(
    ledger: Ledger, along: tuple[PickedUp, ...], rows: int, fabric: Fabric, gaps: tuple[int, ...]
) -> Ledger:
    """A band picked up and worked back and forth, with buttonholes between ``gaps`` in the middle of its depth."""
    ledger.shape(fabric, Event("pick-up", "across", sum(part.stitches for part in along), along=along))
    middle = rows // 2 + (rows // 2 + 1) % 2  # the buttonhole row is a right-side row
    holes = (len(gaps) - 1) * BUTTONHOLE_STITCHES
    for row in range(2, rows + 1):
        events: tuple[Event, ...] = ()
        if gaps and row == middle:
            events = (Event("bind-off", "across", holes, gaps=gaps),)
        elif gaps and row == middle + 1:
            events = (Event("cast-on", "across", holes),)
        ledger.shape(fabric, *events)
    return ledger


HOLE_IN_REPEAT: dict[Fabric, tuple[int, int]] = {"rib-2x2": (4, 2), "rib-1x1": (2, 1)}
"""Stitches of a rib's repeat, and how many of them lie before its purl stitches on the right side."""


def buttonhole_gaps(
    stitches: int, buttons: int, stitches_per_10cm: float, fabric: Fabric = "garter", before: int = 0, after: int = 0
) -> tuple[int, ...]:
    """Stitches before the first buttonhole of a right-side row, between buttonholes, and after the last one.

    They stand on ``stitches``, with more of the row ``before`` and ``after``. In a rib each hole begins with a purl
    stitch, in k2, p2 it takes both. All holes are as far apart as each other: the ends stay as near to the usual
    distance as that allows, and one button more or fewer is taken where it lets them.
    """
    repeat, purls = HOLE_IN_REPEAT.get(fabric, (1, 0))
    end = max(1, WHOLE(BUTTON_FROM_END_CM * stitches_per_10cm / 10))
    closest = Rounding(repeat, 0, "up")(BUTTONHOLE_STITCHES + 1)
    least = Rounding(repeat, purls, "up")(before + 1)
    best: tuple[float, int, int, int] | None = None
    for number in {max(1, buttons - 1), buttons, buttons + 1}:
        for first in range(least, before + stitches - BUTTONHOLE_STITCHES, repeat):
            room = before + stitches - 1 - BUTTONHOLE_STITCHES - first
            for apart in range(closest, room // (number - 1) + 1, repeat) if number > 1 else (0,):
                last = room + 1 - apart * (number - 1)  # stitches of the band after the last hole
                off = abs(first - before - end) + abs(last - end) + abs(first - before - last)
                off += 10 * max(0, end // 2 - min(first - before, last))  # too near the end of the band
                found = (off + end * abs(number - buttons), number, first, apart)
                best = found if best is None or found < best else best
    assert best is not None, f"{stitches} stitches have no room for a buttonhole"
    _, number, first, apart = best
    between = (apart - BUTTONHOLE_STITCHES,) * (number - 1)
    return (first, *between, before + stitches + after - first - sum(between) - number * BUTTONHOLE_STITCHES)


def _picked_up(
    key: str,
    where: str,
    parts: Sequence[EdgePart],
    cloth: Cloth,
    edging: Edging,
    how: Literal["flat", "round"],
    ws: Workings,
) -> int:
    rule = edging_rule(edging, how)
    least = rule.multiple + rule.remainder
    level = figure("level stitches", sum(part.level for part in parts), "stitches")
    slopes = figure("shaped edges", sum(part.slope_cm for part in parts), "cm")
    per_10cm, label = cloth.stitches_per_10cm, f"Stitches to pick up {where}"
    source = "edge length × band gauge (derived; agrees with published pick-up rates)"
    working = in_stitches(f"{key}.stitches", label, level + stitches_of(slopes, per_10cm), per_10cm, rule, source)
    return max(least, ws.note(working).count)


def head_check(opening_cm: float, ribbed: bool, head_cm: float) -> Check | None:
    """Whether a neck opening, stretched, passes the head; None where it does."""
    stretched = opening_cm * rule("rib_stretch", "rib" if ribbed else "plain")
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
    return tuple(p for p in pieces if not p.role.band)
