"""A raglan from the neck down: the yoke, then body and sleeves from the underarm to their edges.

Every row of the garment from the hem has its counterpart: what is decreased there is increased here, what is bound
off is cast on. Rows count from the neck.
"""

from collections.abc import Mapping

from workshop.core.garments.raglan import Raglan
from workshop.core.garments.yoked import lines
from workshop.core.making.counts import edging_rule, rib_count
from workshop.core.making.darts import Dart, work_dart
from workshop.core.making.ledger import Counts, Event, Ledger, Piece
from workshop.core.making.lower import lower_keys, mark_sides
from workshop.core.making.necklines import Take
from workshop.core.making.raglans import from_the_neck, line_rows
from workshop.core.making.roles import (
    BODY,
    BOTH_EDGES,
    LEFT_FRONT,
    LEFT_SLEEVE,
    RIGHT_FRONT,
    RIGHT_SLEEVE,
    SLEEVE,
    THE_BACK,
    YOKE,
    YOKE_TOP,
    Edge,
)


def knit_downwards(raglan: Raglan) -> list[Piece]:
    """All pieces but the bands."""
    shape = raglan.shape
    keys = {"yoke": raglan.yoke, "back_neck": shape.back_neck, "sleeve_top": shape.sleeve_top}
    *above, ledger = _yoke(raglan, keys)
    sleeve = shape.sleeve - shape.underarm
    held = Event("hold", "left", sleeve), Event("hold", "right", sleeve)
    ledger.shape("stocking", *held, Event("cast-on", "underarm", 2 * shape.underarm))
    ledger.mark("divide from neck")
    yoke = ledger.piece(**keys)
    return [*above, yoke, _body(raglan, yoke), *(_sleeve(side, raglan, yoke) for side in BOTH_EDGES)]


def _yoke(raglan: Raglan, keys: Mapping[str, int]) -> tuple[Piece, Ledger] | tuple[Ledger]:
    """The yoke up to one row before the underarm: the lines, then a plain row, then the row that divides."""
    shape, neck_rows, lower = raglan.shape, raglan.neck_rows, raglan.base.lower
    at_body = set(from_the_neck(line_rows(shape.rows, shape.body_events), shape.rows))
    at_sleeve = set(from_the_neck(line_rows(shape.rows, shape.sleeve_events), shape.rows))
    cast_on = shape.back_neck + 2 * shape.sleeve_top + 2 * raglan.kept
    last_row = raglan.yoke_rows - 1
    if lower.open:
        yoke = Ledger(YOKE, "flat", cast_on, begins="left", neck_rows=neck_rows)
        yoke.mark("markers", *_at_the_neck(raglan))
        _work(yoke, at_body, at_sleeve, _grown(raglan.neck.takes, neck_rows - 2), last_row)
        return (yoke,)
    centre = raglan.neck.centre
    top = Ledger(YOKE_TOP, "flat", cast_on, begins="left")
    top.mark("markers", *_at_the_neck(raglan))
    _work(top, at_body, at_sleeve, _grown(raglan.neck.takes, neck_rows), neck_rows)
    top.mark("join neck")
    above = top.piece(**keys)
    yoke = Ledger(YOKE, "round", top.stitches, parent=above, begins="left", neck_rows=raglan.neck_rows_worked)
    closing = {yoke.next_row: [Event("cast-on", "centre", centre)]} if centre else {}
    _work(yoke, at_body, at_sleeve, closing, last_row)
    return above, yoke


def _at_the_neck(raglan: Raglan) -> Counts:
    """Fronts, sleeves and back at the cast-on, in the order of a right-side row."""
    sleeve, back = raglan.shape.sleeve_top, raglan.shape.back_neck
    middle = (LEFT_SLEEVE, sleeve), (THE_BACK, back), (RIGHT_SLEEVE, sleeve)
    return (LEFT_FRONT, raglan.kept), *middle, (RIGHT_FRONT, raglan.kept)


def _grown(takes: tuple[Take, ...], neck_rows: int) -> dict[int, list[Event]]:
    """Neck edges from the top: singles increased on right-side rows, more stitches cast on at the ends of rows.

    Right-side rows begin at the left front, so they end at the right one. The lowest step of the neck, in the first
    pair after the middle, is the last one here.
    """
    found: dict[int, list[Event]] = {}
    pairs = neck_rows // 2
    for take in takes:
        row = 2 * max(0, pairs - take.pair) + 1
        do, second = ("increase", row) if take.decreased else ("cast-on", row + 1)
        found.setdefault(row, []).append(Event(do, "neck-right", take.stitches))  # type: ignore[arg-type]
        found.setdefault(second, []).append(Event(do, "neck-left", take.stitches))  # type: ignore[arg-type]
    return found


def _work(ledger: Ledger, at_body: set[int], at_sleeve: set[int], neck: dict[int, list[Event]], last: int) -> None:
    while ledger.next_row <= last:
        row = ledger.next_row
        ledger.shape("stocking", *lines(row, at_body, at_sleeve, "increase"), *neck.get(row, ()))


def _body(raglan: Raglan, yoke: Piece) -> Piece:
    """From the underarm to the hem."""
    lower = raglan.base.lower
    # upside down, right-side rows begin at the left front; those of a dart over the front at the wearer's right
    begins: Edge = "left" if yoke.worked == "flat" else "right"
    body = Ledger(BODY, yoke.worked, yoke.bound_off, parent=yoke, begins=begins)
    above = lower.rows - lower.hem_rows
    dart_at = lower.rows - lower.dart.after_row if lower.dart else None
    after_hem = lower.around + 2 * lower.front_edge + 4 * lower.at_hip
    how = "flat" if lower.how == "one" else "round"
    hem = rib_count(after_hem, edging_rule(lower.hem, how))  # type: ignore[arg-type]
    mark_sides(body, lower, downwards=True)
    evens = above - 1 if yoke.worked == "flat" and above % 2 == 0 else above  # on a right-side row
    for row in range(1, above + 1):
        events: list[Event] = []
        mirrored = lower.sides.get(lower.rows - row)
        if mirrored is not None:
            do = "increase" if mirrored.do == "decrease" else "decrease"
            events.append(Event(do, "both", 2 * mirrored.stitches))  # type: ignore[arg-type]
        if row == evens and hem != after_hem:
            events.append(Event("increase" if hem > after_hem else "decrease", "across", abs(hem - after_hem)))
        body.shape("stocking", *events)
        if row == dart_at and lower.dart is not None:
            work_dart(body, Dart(row, tuple(reversed(lower.dart.turns))))
    body.work(lower.hem_rows, lower.fabric)
    return body.piece(**lower_keys(lower))


def _sleeve(side: Edge, raglan: Raglan, yoke: Piece) -> Piece:
    """From the underarm to the cuff: the sleeve from the hem, upside down."""
    plan, wish, under = raglan.base.sleeve, raglan.base.wish, raglan.shape.underarm
    sleeve = Ledger(SLEEVE, "round", plan.top - under, side, yoke)
    above = plan.rows - plan.cuff_rows
    shaped = {plan.shaped_rows - row + 1 + plan.top_rows for row in plan.event_rows}
    for row in range(1, above + 1):
        events: list[Event] = []
        if row == 1:
            events.append(Event("pick-up", "underarm", under))
        if row in shaped:
            events.append(Event("decrease", "both", 1))
        if row == above and plan.start > plan.cuff:
            events.append(Event("decrease", "across", plan.start - plan.cuff))
        sleeve.shape("stocking", *events)
    sleeve.work(plan.cuff_rows, wish.fabric)
    return sleeve.piece(cuff=plan.cuff, upper_arm=plan.top)
