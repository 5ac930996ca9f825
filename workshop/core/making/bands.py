"""Bands picked up along an edge: how many stitches, buttonholes, and whether a head goes through.

Stitches to pick up = length of the edge × gauge of the band, rounded to what the rib allows. One for each stitch
that lies across; along rows a rate of each edge's own, from the count that it gets and the rows that it has
(``edges.rate_along``; the lengths agree with published rates, tests/published).
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field, replace
from fractions import Fraction
from itertools import groupby, pairwise
from math import ceil
from typing import Literal

from workshop.core.calculation import EVEN, WHOLE, calculate
from workshop.core.edgings import Fabric, edging, of_fabric
from workshop.core.making import roles
from workshop.core.making.buttonholes import (
    BUTTON_EVERY_CM,
    BUTTON_FROM_END_CM,
    BUTTONHOLE_STITCHES,
    buttonhole_gaps,
    mirrored,
)
from workshop.core.making.cloth import Cloth
from workshop.core.making.counts import edging_rule, fabric_of, in_stitches, stitches_of
from workshop.core.making.edges import NeckSide, edge_cm, neck_sides, rate_along
from workshop.core.making.ledger import Event, Ledger, PickedUp, Piece, Row, scheduled
from workshop.core.making.roles import BODY, Edge
from workshop.core.notes import Notes
from workshop.core.remarks import cm
from workshop.core.sums import figure
from workshop.project import Edging
from workshop.records import record
from workshop.tables.trade_rules import rule

FEWEST_OF_FRONT, MOST_OF_FRONT = 0.95, 1.03
"""Stitches of a rib over those that its edge asks for, between which it lies flat (method: a total is adjusted to the
repeat by up to 3 %; ribs are picked up on 85 to 95 % too)."""

LEAST_FRONT_EDGE = 8
"""Fewest stitches of a front band: two buttonholes, and something around each."""


LEAST_ROWS_WITH_HOLES = 5
"""Rows of a band with buttonholes: one before the two rows of the holes beside the row that is picked up, one after."""


@record
class EdgePart:
    """One edge that stitches are picked up along: stitches that lie across, and a slope of so many rows and cm."""

    name: str
    level: int = 0
    slope_cm: float = 0.0
    rows: int = 0
    sides: int = 1
    steps: int = 0
    """Stitches bound off or cast on in steps along the slope, of all sides together."""
    middle: int = 0
    """Those of the level stitches that are in the middle of the neck; the others are at its ends."""
    step_rows: int = 0
    """Those of the rows that lie beside the steps."""


@record
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
            left, right = (
                replace(part, level=part.level + beside, middle=part.middle + beside) for part in (left, right)
            )
            return (*sleeves[0], left, *point, right, *sleeves[1], self.back)
        across = self.centre + left.level + right.level
        slopes_cm, steps = left.slope_cm + right.slope_cm, left.steps + right.steps
        middle = self.centre + left.middle + right.middle
        rows, step_rows = left.rows + right.rows, left.step_rows + right.step_rows
        front = EdgePart("front", across, slopes_cm, rows, 2, steps, middle, step_rows)
        return (*sleeves[0], front, *sleeves[1], self.back)


@record
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
        middle = sum(side.level for side in own)
        halves[name] = _sloped(f"{name} front", own, half_cm, live.fronts // 2 + middle, middle)
    back_cm = sum(edge_cm(cloth, side.slope) for side in of_back)
    across = live.back + _centre(backs) + sum(side.level for side in of_back)
    back = replace(_sloped("back", of_back, back_cm, across, across), sides=2)
    return NeckEdge(back, halves["left"], halves["right"], _centre(fronts), live.sleeve)


def _sloped(name: str, sides: Sequence[NeckSide], slope_cm: float, level: int, middle: int) -> EdgePart:
    """An edge of one neck side, or of both, whose slopes are so many cm long."""
    rows, steps, beside = (sum(getattr(side, of) for side in sides) for of in ("rows", "steps", "step_rows"))
    return EdgePart(name, level, slope_cm, rows, steps=steps, middle=middle, step_rows=beside)


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
    beside, rows = ceil((slope - steps) / part.sides), (part.rows - part.step_rows) / part.sides
    rate = rate_along(beside, rows) if rows else Fraction(0)
    level = part.level + min(0, slope)  # an edge without rows has one fewer where the rib asks for that
    return PickedUp(
        edge=part.name,
        stitches=part.level + slope,
        level=level,
        rows=part.rows,
        rate=rate,
        sides=part.sides,
        steps=steps,
        middle=max(0, part.middle + min(0, slope)),
        step_rows=part.step_rows,
    )


STITCHES_OF_FRONTS = "front_band.stitches"
"""Address of the working of what is picked up for the bands along fronts that are alike, or for one along both."""

STITCHES_OF_ONE_FRONT: Mapping[Edge, str] = {side: f"front_band.{side}.stitches" for side in roles.BOTH_EDGES}
"""The same where the fronts are unlike, by side."""


@record
class Bands:
    """The bands of a garment, all of one edging and depth in cm; what is counted for them is noted."""

    cloth: Cloth
    edging: Edging
    depth_cm: float
    child: bool = False
    holes_on: Edge = "right"
    """The front with the buttonholes."""
    notes: Notes = field(default_factory=Notes)
    head_cm: float = 0.0
    """What must pass a neck in the round; 0 where nothing must, or nobody knows."""

    @property
    def fabric(self) -> Fabric:
        """Their fabric: they match the hem; with a plain hem they are garter stitch."""
        return edging(self.edging).bands

    @property
    def rows(self) -> int:
        """Rows of a band: at least two."""
        return max(2, WHOLE(self.depth_cm * self.cloth.rows_in(self.fabric) / 10))

    @property
    def front_rows(self) -> int:
        """Rows of a front band: at least as many as leave a row at both sides of its buttonholes."""
        return max(LEAST_ROWS_WITH_HOLES, self.rows)

    @property
    def front_cm(self) -> float:
        """Width in cm of a front band as it is knitted."""
        return self.cloth.along_cm(self.front_rows, self.fabric)

    def front_edge(self, rows: int, hem_rows: int, *, with_neckband: bool = True) -> EdgePart:
        """The straight edge of an open front: so many rows from the cast-on, and those of a neckband above them."""
        above = self.rows if with_neckband else 0
        length_cm = self.cloth.along_cm(hem_rows, fabric_of(self.edging)) + self.cloth.along_cm(rows - hem_rows)
        return EdgePart("front edge", 0, length_cm + self.cloth.along_cm(above, self.fabric), rows + above)

    def fits(self, edge: EdgePart) -> bool:
        """Whether the edge of a front has room for a band with two buttons."""
        return edging_rule(self.edging, "flat")(edge.slope_cm * self.cloth.stitches_per_10cm / 10) >= LEAST_FRONT_EDGE

    def neck(self, edge: NeckEdge, *, opened: bool = False, mitred: bool = False) -> Piece:
        """The band of a neck: in the round, or back and forth where the front is open.

        Mitred (a V neck): two stitches decreased at the middle of the front, in a rib on every round; on every second
        along a V that is wider than steep, where a head would not pass else, and in garter stitch, on knitted ones.
        """
        ledger = Ledger(roles.NECKBAND, "flat" if opened else "round", 0)
        worked = of_fabric(self.fabric)
        parts = edge.parts(opened=opened, pointed=mitred, single=not worked.paired)
        count = self._pick_up(ledger, parts, self._count("neckband.stitches", "around the neck", parts, ledger.worked))
        most = max(0, count - 7) // 2 if mitred else 0
        first, every = (3, 2) if worked.garter else (2, 1 if self._steep(edge.left) else 2)
        at = range(first, self.rows + 1, every)[:most]
        if not self._passes_head(count - 2 * len(at)):
            at = range(first, self.rows + 1, 2)[:most]
        ledger.follow(self.rows, scheduled((row, Event("decrease", "centre", 2)) for row in at), self.fabric)
        return ledger.piece(neck=count)

    def _steep(self, side: EdgePart) -> bool:
        """Whether a side of a V goes up more than across.

        A mitre lies flat where each side of the point loses g/h · up/across stitches on a round, g and h being stitches
        and rows of the band (derived): well over a half where the V is steep. Decreasing on every round is common
        practice then, on every second one else (no source).
        """
        up_cm = self.cloth.along_cm(side.rows)
        return 2 * up_cm**2 > side.slope_cm**2

    def _passes_head(self, stitches: int) -> bool:
        return stretched_cm(self.cloth.across_cm(stitches), of_fabric(self.fabric).rib) >= self.head_cm

    def armholes(self, armhole: EdgePart) -> list[Piece]:
        """Bands around both armholes of a garment without sleeves."""
        count = self._count("armhole_band.stitches", "around each armhole", (armhole,), "round")
        ledgers = [Ledger(roles.ARMHOLE_BAND, "round", 0, side) for side in roles.BOTH_EDGES]
        for ledger in ledgers:
            self._pick_up(ledger, (armhole,), count)
            ledger.follow(self.rows, (), self.fabric)
        return [ledger.piece(armhole=count) for ledger in ledgers]

    def fronts(self, edge: EdgePart) -> list[Piece]:
        """Both front bands, from the hem to the top of the neckband; one of them with buttonholes."""
        count = self._front_count(STITCHES_OF_FRONTS, "along each front", edge)
        gaps = self._gaps(edge, count)
        return [self._front(edge, side, count, gaps if side == self.holes_on else ()) for side in roles.BOTH_EDGES]

    def front(self, edge: EdgePart, side: Edge) -> Piece:
        """The band of one front, whose edge is another than that of the other front."""
        count = self._front_count(STITCHES_OF_ONE_FRONT[side], f"along the {side} front", edge)
        return self._front(edge, side, count, self._gaps(edge, count) if side == self.holes_on else ())

    def _front(self, edge: EdgePart, side: Edge, count: int, gaps: tuple[int, ...]) -> Piece:
        ledger = Ledger(roles.FRONT_BAND, "flat", 0, side, begins="left")
        self._pick_up(ledger, (edge,), count)
        self._work_front(ledger, gaps)
        return ledger.piece(front_edge=count, **({"buttonholes": len(gaps) - 1} if gaps else {}))

    def whole(self, edge: NeckEdge, front: EdgePart) -> Piece:
        """One band up the right front, around the neck and down the left: at the corner of a V nothing is to be fitted.

        ``front`` is the straight edge of each front, which has the buttons; they end where the V begins.
        """
        right, left = (replace(front, name=f"{side} front edge") for side in ("right", "left"))
        parts, ledger = (right, *edge.parts(opened=True), left), Ledger(roles.WHOLE_BAND, "flat", 0)
        where = "along both fronts and around the neck"
        count = self._pick_up(ledger, parts, self._count(STITCHES_OF_FRONTS, where, parts, "flat"))
        straight = ledger.rows[0].events[0].along[0].stitches
        first = 0 if self.holes_on == "right" else count - straight
        gaps = self._gaps(front, straight, first, count - straight - first)
        self._work_front(ledger, gaps)
        return ledger.piece(neck=count - 2 * straight, front_edge=straight, buttonholes=len(gaps) - 1)

    def _front_count(self, key: str, where: str, edge: EdgePart) -> int:
        """Stitches along a front: of a wide rib a repeat more or fewer, where only so its buttonholes mirror."""
        seen, repeat = replace(self, notes=Notes()), of_fabric(self.fabric).repeat
        usual = seen._count(key, where, (edge,), "flat")
        exact = edge.slope_cm * self.cloth.stitches_per_10cm / 10
        tried = [more for more in (repeat, -repeat) if FEWEST_OF_FRONT <= (usual + more) / exact <= MOST_OF_FRONT]
        if repeat <= BUTTONHOLE_STITCHES or mirrored(seen._gaps(edge, usual)):
            tried = []
        more = next((more for more in tried if mirrored(seen._gaps(edge, usual + more))), 0)
        return self._count(key, where, (edge,), "flat", more)

    def _count(
        self, key: str, where: str, parts: Sequence[EdgePart], how: Literal["flat", "round"], more: int = 0
    ) -> int:
        rule = edging_rule(self.edging, how)
        level = figure("level stitches", sum(part.level for part in parts), "stitches")
        slopes = figure("shaped edges", sum(part.slope_cm for part in parts), "cm")
        per_10cm, label = self.cloth.stitches_per_10cm, f"Stitches to pick up {where}"
        source = "edge length × band gauge (derived; agrees with published pick-up rates)"
        stitches = level + stitches_of(slopes, per_10cm)
        if more:
            moved = figure("a repeat of the rib", abs(more), "stitches")
            stitches = stitches + moved if more > 0 else stitches - moved
            source += "; buttonholes mirror at both ends (common practice, no source)"
        working = in_stitches(key, label, stitches, per_10cm, rule, source)
        return max(rule.multiple + rule.remainder, self.notes.record(working).count)

    def _pick_up(self, ledger: Ledger, parts: Sequence[EdgePart], count: int) -> int:
        ledger.shape(self.fabric, Event("pick-up", "across", count, along=laid_along(count, parts)))
        return count

    def _gaps(self, edge: EdgePart, stitches: int, before: int = 0, after: int = 0) -> tuple[int, ...]:
        """Stitches before, between and after the buttonholes of a front's straight edge."""
        every = BUTTON_EVERY_CM * (0.75 if self.child else 1.0)
        between = figure("front edge", edge.slope_cm, "cm") - 2 * figure("end", BUTTON_FROM_END_CM, "cm")
        number, source = between / figure("distance between buttons", every, "cm") + 1, "common practice, no source"
        working = calculate("front_band.buttons", "Buttons you want", number, "buttons", rounding=WHOLE, source=source)
        buttons = max(2, min(self.notes.record(working).count, (stitches - 4) // 4))
        per_10cm, hem_first = self.cloth.stitches_per_10cm, self.holes_on == "right"
        gaps = buttonhole_gaps(stitches, buttons, per_10cm, self.fabric, before, after, hem_first=hem_first)
        _note_holes(gaps, self.notes)
        return gaps

    def _work_front(self, ledger: Ledger, gaps: tuple[int, ...]) -> None:
        """A band worked back and forth, with buttonholes between ``gaps`` in the middle of its depth."""
        rows, holes = self.front_rows, (len(gaps) - 1) * BUTTONHOLE_STITCHES
        middle = rows // 2 + (rows // 2 + 1) % 2  # the buttonhole row is a right-side row
        opened = (
            (middle, Event("bind-off", "across", holes, gaps=gaps)),
            (middle + 1, Event("cast-on", "across", holes)),
        )
        ledger.follow(rows, scheduled(opened if gaps else ()), self.fabric)


def first_rib(piece: Piece) -> tuple[str, ...]:
    """The steps of the row after a pick-up row, which sets the rib: "k2", "p2" and so on; of other rows none.

    Flat, right-side rows begin and end with knit stitches. In the round the rib begins with them, or so that the
    point of a V is in the middle of a knit column, one stitch of it or two; a decrease there is in the steps.
    """
    picked = piece.picked_up
    if picked is None or not of_fabric(piece.rows[1].fabric).rib:
        return ()
    row, rib = piece.rows[1], of_fabric(piece.rows[1].fabric)
    wide = 2 if rib.paired else 1
    knit, purl = ("p", "k") if row.side == "WS" else ("k", "p")
    point = _point(picked)
    first = point - (rib.knits - 1) // 2 if point else 0
    letters = [knit if (i - first) % rib.repeat < rib.knits else purl for i in range(row.before)]
    if point is not None and any(e.where == "centre" for e in row.events):
        letters[point - 1 : point + wide + 1] = ["k2tog", "ssk"] if wide == 2 else ["s2kp"]
    runs = ((letter, len(list(run))) for letter, run in groupby(letters))
    return tuple(letter if len(letter) > 1 else f"{letter}{times}" for letter, times in runs)


def rib_begins_with(piece: Piece, row: Row) -> int | None:
    """Knit stitches with which the rounds of a rib around a body begin, so that it is alike at both sides of the middle
    of the front, as it is flat; None where no way to begin does that. Rounds begin with the front, at its left side.
    """
    rib = of_fabric(row.fabric)
    if piece.role is not BODY or piece.worked != "round" or not rib.rib:
        return None
    for begins in range(rib.knits, 0, -1):
        knit = [(i - begins) % rib.repeat >= rib.purls for i in range(row.before // 2)]
        if knit == knit[::-1]:
            return begins
    return None


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


def _note_holes(gaps: tuple[int, ...], notes: Notes) -> None:
    """How many buttons there are, with the distance of their holes: all the same, and in the purl stitches of a rib."""
    if len(gaps) < 3:
        return
    between = gaps[1] + BUTTONHOLE_STITCHES
    whole = figure("from the first hole to the last", between * (len(gaps) - 2), "stitches")
    number = whole / figure("from hole to hole", between, "stitches") + 1
    label = "Buttons, evenly spaced"
    source = "whole repeats of the rib from hole to hole, so that each hole falls in its purl stitches"
    notes.record(calculate("front_band.holes", label, number, "buttons", source=source))


def stretched_cm(opening_cm: float, ribbed: bool) -> float:
    """How far around an opening stretches."""
    return opening_cm * rule("rib_stretch", "rib" if ribbed else "plain")


def check_head(opening_cm: float, ribbed: bool, head_cm: float, notes: Notes) -> None:
    """Whether a neck opening, stretched, passes the head."""
    stretched = stretched_cm(opening_cm, ribbed)
    if stretched < head_cm:
        notes.check(
            "head-does-not-pass" if ribbed else "head-does-not-pass.plain",
            opening=cm(opening_cm),
            stretched=cm(stretched),
            head=cm(head_cm),
        )


def neck_pieces(pieces: Sequence[Piece]) -> tuple[Piece, ...]:
    """The pieces that have a neck edge."""
    return tuple(p for p in pieces if not p.role.band)
