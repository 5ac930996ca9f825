"""The sweater that the lessons' worked examples are about, from its yarn to its balls; of our own invention."""

from dataclasses import replace

from tests.factory import pullover, readings
from workshop.core.cloth.gauge import Gauge
from workshop.core.cloth.swatch_plan import plan_swatch
from workshop.core.cloth.wash import change_of
from workshop.core.fabric.patterns import Pattern
from workshop.core.making.counts import SEAM_STITCHES, edging_rule, length_of, rows_for
from workshop.core.plan import Plan, plan
from workshop.project import FibrePart, Swatch, Yarn
from workshop.units import eighths, plain_number

YARN = Yarn(
    "a", "Kettle worsted", "medium", (FibrePart("superwash wool", 80), FibrePart("nylon", 20)), 100, 200, "cool"
)
SWATCH = Swatch(
    "A", yarn="a", needle_mm=4.0, edge_stitches=3, cast_on=36, rows=48, grams=16.0,
    reading=(
        *readings("off needles", "stitches", 20.5, 20.25, 20.5), *readings("off needles", "rows", 28, 28.25, 27.75),
        *readings("washed", "stitches", 20, 19.75, 20), *readings("washed", "rows", 26, 26, 26),
    ),
)  # fmt: skip


def lesson_plan() -> Plan:
    """The plan of that sweater: chest 92 cm, a standard fit, worked flat with a k2 p2 rib."""
    return plan(pullover(title="Kettle pullover", yarn=(YARN,), swatch=(SWATCH,)))


def examples() -> dict[str, str]:
    """The worked example of every step, with its figures from the core."""
    now = lesson_plan()
    found = {
        "fibre": _fibre, "swatch": _swatch, "gauge": _gauge, "wash": _wash, "measure": _measure, "shape": _shape,
        "summary": _summary,
    }  # fmt: skip
    return {step: write(now) for step, write in found.items()}


def _n(value: float, places: int = 2) -> str:
    return plain_number(value, places)


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
        f"so {-moved.count} needle sizes finer than {view.weight.start_needle_mm:g} mm:\n"
        f"start on {view.start_mm:g} mm,\nswatch on {', '.join(tried[:-1])} and {tried[-1]} mm"
    )


def _swatch(now: Plan) -> str:
    plain = now.swatch("A").plan.cast_on
    figures = _figures(now, plain.key)
    inside = plain.exact - figures["edge stitches"]
    edges, wide = f"{figures['edge stitches']:g}", f"{figures['planned width']:g}"
    repeat = plan_swatch(SWATCH, YARN, 1, pattern=Pattern("lace", "lace", 8, 1)).cast_on.count
    return (
        f"{wide} ÷ 2.54 × {figures['stitches per inch']:g} = {_n(inside, 1)} stitches\n"
        f"{SWATCH.edge_stitches} garter stitches at each edge:\n"
        f"{_n(inside, 1)} + {edges} = {_n(plain.exact, 1)}, so cast on {plain.count}\n"
        "with a repeat of 8 plus 1 instead:\n"
        f"{(repeat - 1 - 6) // 8} × 8 + 1 + {edges} = {repeat}, so cast on {repeat}"
    )


def _gauge(now: Plan) -> str:
    known = now.swatch("A")
    gauge, doubt = known.gauges["off needles", "stitches"], known.on_chest["off needles"]
    figures = _figures(now, "swatches.A.off needles.stitches_per_10cm")
    counts = [eighths(r.count) for r in gauge.readings]
    return (
        f"{', '.join(counts[:-1])} and {counts[-1]} stitches\n"
        f"{_n(figures['all counted'])} ÷ {_n(figures['all centimeters'])} × 10 = {_n(gauge.per_10cm)} in 10 cm\n"
        f"give or take {_n(gauge.u95_percent, 1)}%: on a chest\n"
        f"of {_n(_figures(now, doubt.key)['chest'])} cm that is {_n(doubt.value, 1)} cm"
    )


def _wash(now: Plan) -> str:
    """What grew is that sweater; what shrank are its counts the other way around."""
    before, after = now.gauge.unwashed_rows, now.gauge.rows
    shrunk = replace(after, readings=before.readings, per_10cm=before.per_10cm)
    return f"grew: {_washed(before, after, 'longer')}\nshrank: {_washed(after, shrunk, 'shorter')}"


def _washed(before: Gauge, after: Gauge, became: str) -> str:
    was, now = _n(before.per_10cm), _n(after.per_10cm)
    rows = rows_for("", "", 40.0, after.per_10cm)
    tape = length_of("", "", rows.count, before.per_10cm)
    change = change_of(before, after)
    assert (change.percent > 0) is (became == "longer")
    return (
        f"{was} rows in 10 cm, now {now}\n"
        f"{was} ÷ {now} = {_n(change.factor, 3)}: {_n(abs(change.percent), 1)}% {became}\n"
        f"for 40 cm: 40 × {now} ÷ 10 = {rows.count} rows\n"
        f"unwashed: {rows.count} ÷ {was} × 10 = {_n(tape.value, 1)} cm"
    )


def _measure(now: Plan) -> str:
    body, ease, wanted = now.wearer.cm("chest"), now.targets.ease["chest"], now.targets.get("chest")
    chest, reach = now.ranges["chest"], now.ease["chest"]
    return (
        f"chest {_n(body)} cm, a standard fit\n{_n(body)} + {_n(ease)} = {_n(wanted)} cm finished\n"
        f"in whole stitches {_n(now.made.finished_cm['chest'], 1)} cm:\nlikely {_n(chest.low, 1)} to {_n(chest.high, 1)} cm\n"
        f"the ease is then {_n(reach.low, 1)} to {_n(reach.high, 1)} cm"
    )


def _shape(now: Plan) -> str:
    across = now.working("body.stitches")
    figures = _figures(now, across.key)
    per = _n(figures["stitches per 10 cm"])
    cast_on = next(p for p in now.made.pieces if p.name == "back").cast_on
    rule = edging_rule("rib-2x2", "flat")
    assert cast_on == across.count + 2 * SEAM_STITCHES
    assert rule(cast_on) == cast_on
    return (
        f"{_n(figures['finished chest'])} cm, {per} stitches in 10 cm\n"
        f"{_n(figures['finished chest'])} ÷ 2 × {per} ÷ 10 = {_n(across.exact, 1)}\n"
        f"{across.rounded_to}: {across.count}\n{SEAM_STITCHES} edge stitch at each side: {cast_on}\n"
        f"k2 p2 rib: {(cast_on - 2) // 4} × 4 + 2 = {cast_on}\n"
        f"rounding made the piece {_n(across.difference_cm, 1)} cm wider"
    )


def _summary(now: Plan) -> str:
    _, likely, high = (f"{g:.0f}" for g in now.yarn.grams)
    ball = f"{YARN.ball_g:g}"
    return (
        f"likely {likely} g, at most {high} g\n"
        f"{likely} ÷ {ball} = {_n(int(likely) / 100)}: {now.yarn.balls_likely} may be enough\n"
        f"{high} ÷ {ball} = {_n(int(high) / 100)}: so buy {now.yarn.balls}"
    )
