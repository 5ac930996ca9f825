"""The sweater that the lessons' worked examples are about, from its yarn to its balls; of our own invention.

In inches it is one of much the same size, with round figures of its own.
"""

from dataclasses import replace

from tests.factory import pullover, readings, shaped
from workshop.core.cloth.gauge import Gauge
from workshop.core.cloth.swatch_plan import plan_swatch
from workshop.core.cloth.wash import change_of
from workshop.core.fabric.patterns import Pattern
from workshop.core.making.counts import SEAM_STITCHES, edging_rule, length_of, rows_for
from workshop.core.plan import Plan, plan
from workshop.project import FibrePart, Swatch, Units, Yarn
from workshop.units import eighths, plain_number

YARN = Yarn(
    "a", "Kettle worsted", "medium", (FibrePart("superwash wool", 80), FibrePart("nylon", 20)), 100, 200, "cool"
)
OVER: dict[Units, int] = {"cm": 10, "in": 4}
"""What is counted over, in the unit."""


def lesson_swatch(units: Units) -> Swatch:
    """Its swatch, counted over 10 cm or 4 in."""
    over = OVER[units] * ONE[units]
    counts = {
        ("off needles", "stitches"): (20.5, 20.25, 20.5), ("off needles", "rows"): (28, 28.25, 27.75),
        ("washed", "stitches"): (20, 19.75, 20), ("washed", "rows"): (26, 26, 26),
    }  # fmt: skip
    reading = [one for way, counted in counts.items() for one in readings(*way, *counted, over_cm=over)]
    return Swatch(
        "A", yarn="a", needle_mm=4.0, edge_stitches=3, cast_on=36, rows=48, grams=16.0, reading=tuple(reading)
    )


ONE: dict[Units, float] = {"cm": 1.0, "in": 2.54}
"""One of a unit in cm."""


def lesson_plan(units: Units = "cm") -> Plan:
    """The plan of that sweater: chest 92 cm or 37 in, a standard fit, worked flat with a k2 p2 rib."""
    base = pullover(title="Kettle pullover", yarn=(YARN,), swatch=(lesson_swatch(units),), units=units)
    if units == "in":
        lengths = {"length_cm": 24 * 2.54, "hem_cm": 2.5 * 2.54, "cuff_cm": 2.5 * 2.54}
        body, fit = replace(base.body, chest_cm=37 * 2.54), replace(base.fit, chest_ease_cm=3 * 2.54)
        base = shaped(replace(base, body=body, fit=fit), **lengths)
    return plan(base)


def examples(units: Units = "cm") -> dict[str, str]:
    """The worked example of every step, with its figures from the core; in inches of those with a length in it."""
    now = lesson_plan(units)
    found = {
        "fibre": _fibre, "swatch": _swatch, "gauge": _gauge, "wash": _wash, "measure": _measure, "shape": _shape,
        "summary": _summary,
    }  # fmt: skip
    return {step: write(now) for step, write in found.items() if units == "cm" or step not in ("fibre", "summary")}


def _n(value: float, places: int = 2) -> str:
    return plain_number(value, places)


def _shown(now: Plan, cm: float, places: int = 2) -> str:
    """A length in the unit of the plan."""
    return _n(cm / ONE[now.project.units], places)


def _per(now: Plan, per_10cm: float) -> str:
    """A gauge over 10 cm or 4 in."""
    return _n(per_10cm * OVER[now.project.units] * ONE[now.project.units] / 10)


def _figures(now: Plan, key: str) -> dict[str, float]:
    working = now.working(key)
    assert working is not None, key
    return {f.name: f.value for f in working.figures}


def _fibre(now: Plan) -> str:
    view, moved = now.yarns[0], now.working("yarns.a.sizes_moved")
    sizes = [f.value for f in moved.figures if f.name.startswith("sizes ") and "tension" not in f.name]
    one, two = (p.percent for p in view.yarn.fibres)
    tried = [f"{mm:g}" for mm in view.swatch_mm]
    return (
        f"{one:g}% superwash wool, {two:g}% nylon,\nmedium yarn, an average hand\n"
        f"({one:g} × {sizes[0]:g} + {two:g} × {sizes[1]:g}) ÷ 100 = {_n(moved.exact)}\n"
        f"so {-moved.count} needle sizes smaller than {view.weight.start_needle_mm:g} mm:\n"
        f"start on {view.start_mm:g} mm,\nswatch on {', '.join(tried[:-1])} and {tried[-1]} mm"
    )


def _swatch(now: Plan) -> str:
    plain = now.swatch("A").plan.cast_on
    figures = _figures(now, plain.key)
    inside, units = plain.exact - figures["edge stitches"], now.project.units
    edges, wide = f"{figures['edge stitches']:g}", _shown(now, figures["planned width"])
    lace = Pattern("lace", "lace", 8, 1)
    repeat = plan_swatch(lesson_swatch(units), YARN, 1, units, pattern=lace).cast_on.count
    in_inches = f"{wide} ÷ 2.54" if units == "cm" else wide
    return (
        f"{in_inches} × {figures['stitches per inch']:g} = {_n(inside, 1)} stitches\n"
        f"{lesson_swatch(units).edge_stitches} garter stitches at each edge:\n"
        f"{_n(inside, 1)} + {edges} = {_n(plain.exact, 1)}, so cast on {plain.count}\n"
        "with a repeat of 8 plus 1 instead:\n"
        f"{(repeat - 1 - 6) // 8} × 8 + 1 + {edges} = {repeat}, so cast on {repeat}"
    )


def _gauge(now: Plan) -> str:
    known = now.swatch("A")
    gauge, doubt = known.gauges["off needles", "stitches"], known.on_chest["off needles"]
    figures = _figures(now, "swatches.A.off needles.stitches_per_10cm")
    counts = [eighths(r.count) for r in gauge.readings]
    units, over = now.project.units, OVER[now.project.units]
    return (
        f"{', '.join(counts[:-1])} and {counts[-1]} stitches\n"
        f"{_n(figures['all counted'])} ÷ {_shown(now, figures['all centimeters'])} × {over} = {_per(now, gauge.per_10cm)} "
        f"in {over} {units}\ngive or take {_n(gauge.u95_percent, 1)}%: on a chest\n"
        f"of {_shown(now, _figures(now, doubt.key)['chest'])} {units} that is {_shown(now, doubt.value, 1)} {units}"
    )


def _wash(now: Plan) -> str:
    """What grew is that sweater; what shrank are its counts the other way around."""
    before, after = now.gauge.unwashed_rows, now.gauge.rows
    shrunk = replace(after, readings=before.readings, per_10cm=before.per_10cm)
    return f"grew: {_washed(now, before, after, 'longer')}\nshrank: {_washed(now, after, shrunk, 'shorter')}"


def _washed(plan: Plan, before: Gauge, after: Gauge, became: str) -> str:
    was, now = _per(plan, before.per_10cm), _per(plan, after.per_10cm)
    units, over = plan.project.units, OVER[plan.project.units]
    rows = rows_for("", "", 4 * over * ONE[units], after.per_10cm)
    tape = length_of("", "", rows.count, before.per_10cm)
    change = change_of(before, after)
    assert (change.percent > 0) is (became == "longer")
    return (
        f"{was} rows in {over} {units}, now {now}\n"
        f"{was} ÷ {now} = {_n(change.factor, 3)}: {_n(abs(change.percent), 1)}% {became}\n"
        f"for {4 * over} {units}: {4 * over} × {now} ÷ {over} = {rows.count} rows\n"
        f"unwashed: {rows.count} ÷ {was} × {over} = {_shown(plan, tape.value, 1)} {units}"
    )


def _measure(now: Plan) -> str:
    body, ease, wanted = now.wearer.cm("chest"), now.targets.ease["chest"], now.targets.get("chest")
    chest, reach = now.ranges["chest"], now.ease["chest"]
    units, made = now.project.units, now.made.finished_cm["chest"]
    one, more, whole = (_shown(now, cm) for cm in (body, ease, wanted))
    return (
        f"chest {one} {units}, a standard fit\n{one} + {more} = {whole} {units} finished\n"
        f"in whole stitches {_shown(now, made, 1)} {units}:\n"
        f"likely {_shown(now, chest.low, 1)} to {_shown(now, chest.high, 1)} {units}\n"
        f"the ease is then {_shown(now, reach.low, 1)} to {_shown(now, reach.high, 1)} {units}"
    )


def _shape(now: Plan) -> str:
    across = now.working("body.stitches")
    figures = _figures(now, across.key)
    units, over = now.project.units, OVER[now.project.units]
    per, chest = _per(now, figures["stitches per 10 cm"]), _shown(now, figures["finished chest"])
    cast_on = next(p for p in now.made.pieces if p.name == "back").cast_on
    rule = edging_rule("rib-2x2", "flat")
    assert cast_on == across.count + 2 * SEAM_STITCHES
    assert rule(cast_on) == cast_on
    return (
        f"{chest} {units}, {per} stitches in {over} {units}\n"
        f"{chest} ÷ 2 × {per} ÷ {over} = {_n(across.exact, 1)}\n"
        f"{across.rounded_to}: {across.count}\n{SEAM_STITCHES} edge stitch at each side: {cast_on}\n"
        f"k2 p2 rib: {(cast_on - 2) // 4} × 4 + 2 = {cast_on}\n"
        f"rounding made the piece {_shown(now, across.difference_cm, 1)} {units} wider"
    )


def _summary(now: Plan) -> str:
    _, likely, high = (f"{g:.0f}" for g in now.yarn.grams)
    ball = f"{YARN.ball_g:g}"
    return (
        f"likely {likely} g, at most {high} g\n"
        f"{likely} ÷ {ball} = {_n(int(likely) / 100)}: {now.yarn.balls_likely} may be enough\n"
        f"{high} ÷ {ball} = {_n(int(high) / 100)}: so buy {now.yarn.balls}"
    )
