"""A raglan from the neck down: the yoke, then body and sleeves from the underarm to their edges.

Every row of the garment from the hem has its counterpart: what is decreased there is increased here, what is bound
off is cast on. Rows count from the neck.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from workshop.core.edgings import STOCKINETTE
from workshop.core.fabric.patterns import PLAIN
from workshop.core.garments import Garment, GarmentSpec
from workshop.core.garments.joined_yoke import in_one_piece, lines
from workshop.core.garments.raglan import Raglan, finish, plan_raglan
from workshop.core.making import roles
from workshop.core.making.below_underarm import BodyBelowUnderarm, doubled, lower_keys, mark_sides, transition
from workshop.core.making.counts import edging_count
from workshop.core.making.darts import work_dart
from workshop.core.making.ledger import Counts, Event, Ledger, Piece, Schedule, Schedules, later, scheduled
from workshop.core.making.panels import both_neck_edges
from workshop.core.making.raglan_lines import from_the_neck
from workshop.core.making.roles import Edge


def build(spec: GarmentSpec) -> Garment:
    """Knit it in one piece: all pieces and finished measurements. Raises Stopped."""
    spec = in_one_piece(spec)
    raglan = plan_raglan(spec)
    return finish(spec, raglan, _knitted(raglan, panel=_rounds_from_line(spec)))


def _rounds_from_line(spec: GarmentSpec) -> bool:
    """Whether rounds begin at the left front's raglan line: a panel up the front would part where they begin.

    A pattern all over goes by the stitch that its rounds begin with, so it keeps them where they are.
    """
    plain = spec.project.garment.fabric in (None, PLAIN)
    return plain and any(panel.on == "front" for panel in spec.panels)


def _knitted(raglan: Raglan, *, panel: bool) -> list[Piece]:
    """All pieces but the bands."""
    shape = raglan.shape
    keys = {"yoke": raglan.yoke, "back_neck": shape.back_neck, "sleeve_top": shape.sleeve_top}
    *above, ledger = _yoke(raglan, keys, panel=panel)
    sleeve = shape.sleeve - shape.underarm
    held = Event("hold", "left", sleeve), Event("hold", "right", sleeve)
    ledger.shape(STOCKINETTE, *held, Event("cast-on", "underarm", 2 * shape.underarm))
    ledger.mark("divide from neck")
    yoke = ledger.piece(**keys)
    return [*above, yoke, _body(raglan, yoke), *(_sleeve(side, raglan, yoke) for side in roles.BOTH_EDGES)]


def _yoke(raglan: Raglan, keys: Mapping[str, int], *, panel: bool) -> tuple[Piece, Ledger] | tuple[Ledger]:
    """The yoke up to one row before the underarm: the lines, then a plain row, then the row that divides."""
    shape, neck_rows, lower = raglan.shape, raglan.neck_rows, raglan.base.lower
    at_body, at_sleeve = (from_the_neck(rows, shape.rows) for rows in (shape.body_rows, shape.sleeve_rows))
    at_lines = lines(at_body, at_sleeve, "increase")
    cast_on = shape.back_neck + 2 * shape.sleeve_top + 2 * raglan.kept
    last_row = raglan.yoke_rows - 1
    if lower.open:
        yoke = Ledger(roles.YOKE, "flat", cast_on, begins="left", neck_rows=neck_rows)
        yoke.mark("markers", *_at_the_neck(raglan))
        yoke.follow(last_row, at_lines + _grown(raglan, neck_rows - 2))
        return (yoke,)
    centre = raglan.neck.centre
    top = Ledger(roles.YOKE_TOP, "flat", cast_on, begins="left")
    top.mark("markers", *_at_the_neck(raglan))
    top.follow(neck_rows, at_lines + _grown(raglan, neck_rows))
    top.mark("join neck to line" if panel else "join neck")
    above = top.piece(**keys)
    yoke = Ledger(roles.YOKE, "round", top.stitches, parent=above, begins="left", neck_rows=raglan.neck_rows_worked)
    closing = [(yoke.next_row, Event("cast-on", "centre", centre))] if centre else []
    happens = at_lines + scheduled(closing)
    if panel:
        yoke.follow(yoke.next_row, happens)
        yoke.mark("markers", *_from_line(raglan, yoke.stitches, at_body, at_sleeve, yoke.next_row - 1))
    yoke.follow(last_row, happens)
    return above, yoke


def _from_line(raglan: Raglan, stitches: int, at_body: Sequence[int], at_sleeve: Sequence[int], row: int) -> Counts:
    """The parts of a yoke after a row, in the order of rounds that begin at the raglan line of the left front."""
    sleeve = raglan.shape.sleeve_top + 2 * sum(r <= row for r in at_sleeve)
    back = raglan.shape.back_neck + 2 * sum(r <= row for r in at_body)
    front = stitches - back - 2 * sleeve
    return (roles.LEFT_SLEEVE, sleeve), (roles.THE_BACK, back), (roles.RIGHT_SLEEVE, sleeve), (roles.THE_FRONT, front)


def _at_the_neck(raglan: Raglan) -> Counts:
    """Fronts, sleeves and back at the cast-on, in the order of a right-side row."""
    sleeve, back = raglan.shape.sleeve_top, raglan.shape.back_neck
    middle = (roles.LEFT_SLEEVE, sleeve), (roles.THE_BACK, back), (roles.RIGHT_SLEEVE, sleeve)
    return (roles.LEFT_FRONT, raglan.kept), *middle, (roles.RIGHT_FRONT, raglan.kept)


def _grown(raglan: Raglan, neck_rows: int) -> Schedules:
    """Neck edges from the top: singles increased on right-side rows, more stitches cast on at the ends of rows.

    Right-side rows begin at the left front, so they end at the right one. The lowest step of the neck, in the first
    pair after the middle, is the last one here.
    """
    decreases = ((2 * max(0, neck_rows // 2 - take.pair) + 1, take) for take in raglan.neck.decreases)
    return both_neck_edges(decreases, "increase", "cast-on")


def _body(raglan: Raglan, yoke: Piece) -> Piece:
    """From the underarm to the hem."""
    lower = raglan.base.lower
    # upside down, right-side rows begin at the left front; those of a dart over the front at the wearer's right
    begins: Edge = "left" if yoke.worked == "flat" else "right"
    body = Ledger(roles.BODY, yoke.worked, yoke.bound_off, parent=yoke, begins=begins)
    above = lower.rows - lower.hem_rows
    after_hem = lower.around + 2 * lower.front_edge + 4 * lower.at_hip
    how = "flat" if lower.how == "one" else "round"
    hem = edging_count(after_hem, lower.hem, how)  # type: ignore[arg-type]
    mark_sides(body, lower, downwards=True)
    evens = above - 1 if yoke.worked == "flat" and above % 2 == 0 else above  # on a right-side row
    schedules = later(_turned_over(lower) + transition(hem - after_hem, evens), yoke.last_row)
    last = yoke.last_row + above
    if lower.dart:
        body.follow(yoke.last_row + lower.rows - lower.dart.after_row, schedules)
        work_dart(body, replace(lower.dart, turns=lower.dart.turns[::-1]))
        schedules, last = later(schedules, lower.dart.rows), last + lower.dart.rows
    body.follow(last, schedules)
    body.work(lower.hem_rows, lower.fabric)
    return body.piece(**lower_keys(lower))


def _turned_over(lower: BodyBelowUnderarm) -> Schedules:
    """The shaping of the sides from the underarm down."""
    return tuple(
        Schedule(
            replace(s.event, do="increase" if s.event.do == "decrease" else "decrease"),
            tuple(lower.rows - row for row in s.rows[::-1]),
        )
        for s in doubled(lower.sides)
    )


def _sleeve(side: Edge, raglan: Raglan, yoke: Piece) -> Piece:
    """From the underarm to the cuff: the sleeve from the hem, upside down."""
    plan, wish, under = raglan.base.sleeve, raglan.base.wish, raglan.shape.underarm
    sleeve = Ledger(roles.SLEEVE, "round", plan.top - under, side, yoke)
    above = plan.rows - plan.cuff_rows
    shaped = (plan.shaped_rows - row + 1 + plan.top_rows for row in plan.event_rows)
    happens = [(1, Event("pick-up", "underarm", under)), *((row, Event("decrease", "both", 1)) for row in shaped)]
    if plan.start > plan.cuff:
        happens.append((above, Event("decrease", "across", plan.start - plan.cuff)))
    sleeve.follow(yoke.last_row + above, later(scheduled(happens), yoke.last_row))
    sleeve.work(plan.cuff_rows, wish.fabric)
    return sleeve.piece(cuff=plan.cuff, upper_arm=plan.top)
