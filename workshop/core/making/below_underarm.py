"""From the hem to the underarm: what front and back of every construction have in common.

Counts are visible stitches; seam stitches are added when a piece is cast on. Rows count from the hem. In
pieces ("flat"), in one piece back and forth ("one", for an open front), or in the round ("round").
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Literal

from workshop.core.edgings import Fabric
from workshop.core.making import roles
from workshop.core.making.counts import edging_count
from workshop.core.making.darts import Dart, work_dart
from workshop.core.making.ledger import Counts, Event, Ledger, Piece, Schedule, Schedules, later
from workshop.core.making.panels import at_edge
from workshop.core.making.roles import Edge, Role
from workshop.project import Edging
from workshop.records import record

How = Literal["flat", "one", "round"]

BEGINS: dict[Role, Edge] = {roles.BACK: "right", roles.FRONT: "left"}
"""The edge of a panel, as worn, at which its right-side rows begin."""


@record
class BodyBelowUnderarm:
    """The body below the underarm."""

    how: How
    back: int
    """Visible stitches of the back at the underarm."""
    half: int | None
    """Visible stitches of each front where the front is open."""
    edge: int
    """Stitches that the side seam takes from each edge: one in pieces, none in one piece."""
    hem: Edging
    fabric: Fabric
    hem_rows: int = 0
    rows: int = 0
    """Rows from the cast-on to the underarm; none yet while a yoke above it is planned."""
    sides: Schedules = ()
    """Shaping at the waist, at both side edges of a panel; above the hem."""
    dart: Dart | None = None
    fuller: int = 0
    """Visible stitches that the front has more than the back, for a full bust; even."""
    front_sides: Schedules | None = None
    """Shaping at the side edges of a front of its own, in pieces; None: as at the back."""

    @property
    def open(self) -> bool:
        """Whether the front is in two halves."""
        return self.half is not None

    @property
    def front_edge(self) -> int:
        """The stitch at the edge of an open front that the band is picked up through."""
        return 1 if self.open else 0

    @property
    def at_hip(self) -> int:
        """Stitches that a panel has more above the hem than at the underarm, at each side edge."""
        return -sum(s.change for s in self.sides) // 2

    def sides_of(self, role: Role) -> Schedules:
        """Shaping at the side edges of a panel."""
        return self.sides if role is roles.BACK or self.front_sides is None else self.front_sides

    def front_shift(self, role: Role) -> int:
        """Rows that the dart adds to a front (or to a body in the round)."""
        return self.dart.rows if self.dart and role is not roles.BACK else 0

    @property
    def around(self) -> int:
        """Visible stitches of the whole body at the underarm, without the band of an open front."""
        return self.back + (2 * self.half if self.half is not None else self.front)

    @property
    def front(self) -> int:
        """Visible stitches of a closed front at the underarm."""
        return self.back + self.fuller

    def panel(self, role: Role) -> int:
        """Stitches of a panel at the underarm, edge stitches included."""
        if role is roles.FRONT and self.half is not None:
            return self.half + self.edge + self.front_edge
        return (self.front if role is roles.FRONT else self.back) + 2 * self.edge

    @property
    def panels(self) -> tuple[tuple[Role, Edge | None], ...]:
        """Back and front, or its two halves, in the order in which they are knitted."""
        return ((roles.BACK, None), *((roles.FRONT, side) for side in (roles.BOTH_EDGES if self.open else (None,))))


def work_lower_flat(lower: BodyBelowUnderarm) -> list[Ledger]:
    """Back and front in pieces, up to the underarm; the ledgers go on from there."""
    return [_panel(lower, role, side) for role, side in lower.panels]


def _panel(lower: BodyBelowUnderarm, role: Role, side: Edge | None) -> Ledger:
    shaping = at_edge(lower.sides_of(role), side) if side else lower.sides_of(role)
    after = lower.panel(role) - sum(s.change for s in shaping)
    cast_on = edging_count(after, lower.hem, "flat")
    ledger = Ledger(role, "flat", cast_on, side, begins=BEGINS[role], edge_stitches=lower.edge)
    _work(ledger, lower, after, shaping)
    ledger.mark("underarm")
    return ledger


def _work(ledger: Ledger, lower: BodyBelowUnderarm, after_hem: int, sides: Schedules) -> None:
    """Hem, the stitches that rib and cloth differ by, and the rows up to the underarm."""
    ledger.work(lower.hem_rows, lower.fabric)
    shift, first = lower.front_shift(ledger.role), lower.hem_rows + 1
    changed = transition(after_hem - ledger.cast_on, first)
    if ledger.role is roles.BODY:
        ledger.follow(first, changed + sides)
        mark_sides(ledger, lower)
    if shift and lower.dart:
        ledger.follow(lower.dart.after_row, changed + sides)
        work_dart(ledger, lower.dart)
        sides = later(sides, shift)
    ledger.follow(lower.rows + shift, changed + sides)


def transition(difference: int, row: int) -> Schedules:
    """The row between rib and cloth: as many stitches more or fewer as the other needs."""
    event = Event("increase" if difference > 0 else "decrease", "across", abs(difference))
    return (Schedule(event, (row,)),) if difference else ()


def doubled(sides: Schedules) -> Schedules:
    """Shaping at both side edges of a panel as shaping at the side markers of a whole body."""
    return tuple(Schedule(replace(s.event, stitches=2 * s.event.stitches), s.rows) for s in sides)


def work_lower_whole(lower: BodyBelowUnderarm) -> Ledger:
    """The body in one piece up to the underarm: in the round, or back and forth where the front is open."""
    flat = lower.how == "one"
    around = lower.around + 2 * lower.front_edge
    after = around + 4 * lower.at_hip
    cast_on = edging_count(after, lower.hem, "flat" if flat else "round")
    ledger = Ledger(roles.BODY, "flat" if flat else "round", cast_on, begins="right" if flat else "left")
    _work(ledger, lower, after, doubled(lower.sides))
    return ledger


def sections(lower: BodyBelowUnderarm, wider: int = 0) -> Counts:
    """Fronts and back of a body in one piece as they are worked from the hem, with so many stitches more at each edge.

    In the round the front comes first, after the left side; an open body begins at the edge of the right front.
    """
    back = lower.back + 2 * wider
    if lower.half is None:
        return (roles.THE_FRONT, lower.front + 2 * wider), (roles.THE_BACK, back)
    front = lower.half + lower.front_edge + wider
    return (roles.RIGHT_FRONT, front), (roles.THE_BACK, back), (roles.LEFT_FRONT, front)


def mark_sides(ledger: Ledger, lower: BodyBelowUnderarm, *, downwards: bool = False) -> None:
    """Side markers in a body in one piece, for the stitches that are on the needle now.

    Left out where they do not part evenly: only in a body so short that hem and underarm share a row.
    """
    wider, odd = divmod(ledger.stitches - sum(stitches for _, stitches in sections(lower)), 4)
    if not odd:
        parts = sections(lower, wider)
        ledger.mark("markers", *(reversed(parts) if downwards else parts))


def divided(lower: BodyBelowUnderarm, body: Ledger) -> tuple[Piece, list[Ledger]]:
    """The body as a piece, and the ledgers of back and front that go on from it."""
    body.mark("divide")
    whole = body.piece(**lower_keys(lower))
    return whole, [
        Ledger(role, "flat", lower.panel(role), side, whole, begins=BEGINS[role]) for role, side in lower.panels
    ]


def lower_keys(lower: BodyBelowUnderarm) -> Mapping[str, int]:
    """Key counts of a body in one piece."""
    whole = lower.around + 2 * lower.front_edge
    return {"chest": whole, "hip": whole + 4 * lower.at_hip}
