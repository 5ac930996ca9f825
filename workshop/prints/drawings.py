"""Pictures of each step, from the plan: a swatch to knit, a ruler on it, before and after the wash, sizes, pieces."""

from collections.abc import Callable

from workshop.core.cloth.gauge import WHEN_COUNTED
from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.finished import Range, ease_of, expected
from workshop.core.plan import Plan
from workshop.pictures.blocks import ascii_only
from workshop.pictures.ranges import SizeRange, range_text
from workshop.pictures.swatch_picture import SwatchToKnit, Window, swatch_text, window_text
from workshop.pictures.wash import Washed, wash_text
from workshop.prints.document import schematic_lines, shapes_of
from workshop.project import Along, State
from workshop.tables.trade_rules import window_cm
from workshop.tables.yarn_weights import INCH_CM
from workshop.units import difference_shown, show_length
from workshop.words.drawn import schematic_notes
from workshop.words.lines import wrapped
from workshop.words.phrase import in_terms, stitch_words

NOTHING_YET = (
    "There's nothing to draw here yet. Pictures appear once there are swatches, counts, measurements or a shape.",
)

ROUND = ("chest", "waist", "hip", "upper_arm", "wrist")
"""Finished measurements that are drawn against the body."""


def step_drawing(name: str, plan: Plan, *, columns: int = 60, plain: bool = False) -> tuple[str, ...]:
    """The picture of a step as lines of at most so many characters; one line that says so where there is none."""
    draw = DRAWN.get(name)
    found = draw(plan, columns, plain) if draw else ()
    return found or NOTHING_YET


def _of_yarns(plan: Plan, columns: int, plain: bool) -> tuple[str, ...]:
    """What the yarns are knitted into first."""
    drawn = _swatches(plan, columns, plain)
    return ("The swatches planned in these yarns:", "", *drawn) if drawn else ()


def _swatches(plan: Plan, columns: int, plain: bool) -> tuple[str, ...]:
    lines: list[str] = []
    for known in plan.swatches:
        planned, swatch = known.plan, known.plan.swatch
        if planned.cast_on is None or not planned.total_rows:
            continue
        to_knit = SwatchToKnit(
            swatch.id,
            swatch.cast_on or planned.cast_on.count,
            swatch.rows or planned.total_rows,
            planned.border_stitches,
            planned.border_rows,
            planned.mark,
            knitted=swatch.cast_on is not None or swatch.rows is not None,
            stitch=in_terms(stitch_words(swatch), plan.project.terms),
        )
        lines += [*swatch_text(to_knit, columns=columns, plain=plain), ""]
    return tuple(lines[:-1])


def _counts(plan: Plan, columns: int, plain: bool) -> tuple[str, ...]:
    return _windows(plan, "off needles", columns, plain)


def _windows(plan: Plan, state: State, columns: int, plain: bool) -> tuple[str, ...]:
    """A ruler on every swatch that was counted."""
    units = plan.project.units
    lines: list[str] = []
    for known in plan.swatches:
        for along in ("stitches", "rows"):
            gauge = known.gauges.get((state, along))
            if gauge is None:
                continue
            count = gauge.per_10cm * window_cm(units) / 10
            window = Window(round(count * 4) / 4, 4 if units == "in" else 10, units, along)
            lines += [
                f"Swatch {known.swatch.id}, {along}, {WHEN_COUNTED[state]}",
                *window_text(window, columns=columns, plain=plain),
                "",
            ]
    return tuple(lines[:-1])


def _washed(plan: Plan, columns: int, plain: bool) -> tuple[str, ...]:
    """10 cm, or 4 in, of every swatch before the wash, and what they are after it."""
    lines: list[str] = []
    for known in plan.swatches:
        cloth = cloth_of(known, window_cm(plan.project.units))
        if cloth is not None:
            drawn = wash_text(cloth, _show(plan), columns=columns, plain=plain)
            lines += [f"Swatch {known.swatch.id}: the same stitches and rows", *drawn, ""]
            hung = cloth_of(known, window_cm(plan.project.units), hung=True)
            if hung is not None:
                hanging = wash_text(hung, _show(plan), columns=columns, plain=plain, after="Hung for a day")
                lines += [f"Swatch {known.swatch.id}, washed and hung", *hanging, ""]
    return tuple(lines[:-1])


def cloth_of(known: MeasuredSwatch, side_cm: float, *, hung: bool = False) -> Washed | None:
    """The cloth after the wash, or hanging: its rows then, and its stitches where they were counted so too."""
    sizes = []
    if hung and ("hung", "rows") not in known.gauges:
        return None
    directions: tuple[Along, ...] = ("stitches", "rows")
    for along in directions:
        before, after = known.gauges.get(("off needles", along)), known.gauges.get(("washed", along))
        after = known.gauges.get(("hung", along), after) if hung else after
        if before is None or after is None:
            return None
        sizes.append(side_cm * before.per_10cm / after.per_10cm)
    return Washed(side_cm, side_cm, sizes[0], sizes[1])


def _sizes(plan: Plan, columns: int, plain: bool) -> tuple[str, ...]:
    """Finished measurements with their ranges against the body."""
    unit = INCH_CM if plan.project.units == "in" else 1.0
    lines: list[str] = []
    for part in ROUND:
        body, reach, wanted = plan.wearer.cm(part), _reach(part, plan), plan.targets.get(part)
        if body is None or reach is None:
            continue
        eased = plan.ease.get(part) or ease_of(part, reach, body)
        ease = eased.low, difference_shown(reach.likely, body, plan.project.units), eased.high
        sizes = reach.low, reach.likely, reach.high
        size = SizeRange(part.replace("_", " "), body, *sizes, wanted if plan.ranges else None, ease)
        lines += [*range_text(size, _show(plan), unit_cm=unit, columns=columns, plain=plain), ""]
    return tuple(lines[:-1])


def _reach(part: str, plan: Plan) -> Range | None:
    """Range of a finished measurement; before there is a garment, what the gauge lets one expect."""
    found, wanted = plan.ranges.get(part), plan.targets.get(part)
    if found is not None:
        return found
    if plan.ranges or wanted is None or plan.gauge is None:
        return None
    return expected(part, wanted, plan.gauge)


def _pieces(plan: Plan, columns: int, plain: bool) -> tuple[str, ...]:
    if not plan.made.pieces:
        return ()
    drawn = schematic_lines(shapes_of(plan), plan.project, columns=columns, plain=plain)
    told = [line for text in schematic_notes(plan) for line in wrapped(text, columns)]
    return (*drawn, "", *(map(ascii_only, told) if plain else told)) if told else drawn


def _show(plan: Plan) -> Callable[[float], str]:
    return lambda cm: show_length(cm, plan.project.units)


DRAWN = {
    "fibre": _of_yarns,
    "swatch": _swatches,
    "gauge": _counts,
    "wash": _washed,
    "measure": _sizes,
    "shape": _pieces,
    "summary": _pieces,
}
