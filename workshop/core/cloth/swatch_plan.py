"""The swatch plan: how many stitches to cast on, how many rows, and what to do with each swatch.

Cast-on from the upper gauge of the yarn's weight, in whole stitches per inch, for six inches (common
practice, no source: 48, 42, 36, 30, 24 from super-fine to bulky), rounded up to the stitch pattern.
"""

import re
from collections.abc import Sequence
from itertools import count
from math import ceil, log

from workshop.core.calculation import Calculation, Rounding, calculate
from workshop.core.cloth.gauge import Gauge
from workshop.core.cloth.yarn import loop_length_cm
from workshop.core.fabric.patterns import Pattern
from workshop.core.notes import Notes
from workshop.core.remarks import Amount, cm, needle
from workshop.core.sums import GAUGE_CM, METRE_CM, constant, figure
from workshop.project import Swatch, Units, Yarn
from workshop.records import record
from workshop.tables import needles
from workshop.tables.trade_rules import rounded_cm, rows_to_stitch, rule
from workshop.tables.yarn_weights import INCH_CM, YarnWeight, weight


@record
class SwatchPlan:
    """How to knit one swatch. Counts are None until the weight of its yarn is known."""

    swatch: Swatch
    yarn: Yarn | None
    mark: int
    """Purl bumps that mark this swatch in the cloth; they stay its own, see :func:`marks`."""
    width_cm: float
    border_rows: int
    border_stitches: int
    cast_on: Calculation | None
    rows: Calculation | None
    metres: Calculation | None
    grams: Calculation | None

    @property
    def workings(self) -> tuple[Calculation, ...]:
        """All numbers of the plan."""
        return tuple(w for w in (self.cast_on, self.rows, self.metres, self.grams) if w is not None)

    @property
    def total_rows(self) -> int | None:
        """Rows with both garter borders."""
        return self.rows.count + 2 * self.border_rows if self.rows else None

    @property
    def stitches_cast_on(self) -> int | None:
        """Stitches on the needle: as knitted where noted, else as planned."""
        return self.swatch.cast_on or (self.cast_on.count if self.cast_on else None)


def marks(swatches: Sequence[Swatch]) -> dict[str, int]:
    """How many purl bumps mark each swatch, by its id: A has one, B two, whatever else is planned or taken out.

    Bumps are knitted into cloth, so they follow the letter, not the place in the list. An id that is no letter
    gets the first numbers that no letter has.
    """
    found: dict[str, int] = {}
    for swatch in swatches:
        number = _number_of(swatch.id)
        if number is not None and number not in found.values():
            found[swatch.id] = number
    free = (n for n in count(1) if n not in found.values())
    for swatch in swatches:
        if swatch.id not in found:
            found[swatch.id] = next(free)
    return found


def _number_of(swatch_id: str) -> int | None:
    """A is 1, Z is 26; the workshop names what comes after Z S1, S2 and so on."""
    if len(swatch_id) == 1 and "A" <= swatch_id <= "Z":
        return ord(swatch_id) - ord("A") + 1
    later = re.fullmatch(r"S([1-9]\d{0,2})", swatch_id)
    return 26 + int(later[1]) if later else None


def plan_swatch(
    swatch: Swatch, yarn: Yarn | None, mark: int, units: Units = "cm", pattern: Pattern | None = None
) -> SwatchPlan:
    """The plan for one swatch in a pattern, or plain; a width left open is the usual one, round in these units."""
    width_cm = swatch.width_cm or rounded_cm(rule("swatch_width", "width_cm"), units)
    borders = int(rule("swatch_border", "rows")), int(rule("swatch_border", "stitches"))
    category = weight(yarn.weight) if yarn and yarn.weight else None
    cast_on = _cast_on(swatch, category, width_cm, pattern) if category else None
    rows = _rows(swatch, category, width_cm) if category else None
    metres = grams = None
    if category and cast_on and rows:
        metres = _metres(swatch, cast_on.count, rows.count + 2 * borders[0], _usual_stitches(category))
        if yarn and yarn.ball_g and yarn.ball_m:
            grams = _grams(swatch, metres, yarn.ball_g, yarn.ball_m)
    return SwatchPlan(swatch, yarn, mark, width_cm, *borders, cast_on, rows, metres, grams)


def _metres(swatch: Swatch, stitches: int, rows: int, usual: float) -> Calculation:
    all_stitches = figure("stitches", stitches, "stitches") * figure("rows", rows, "rows")
    return calculate(
        f"swatches.{swatch.id}.metres",
        f"Yarn for swatch {swatch.id}",
        all_stitches * figure("length of a stitch", loop_length_cm(usual), "cm") / METRE_CM,
        "m",
        source="Munden's constant for fully relaxed plain knit in wool (workshop tables textile)",
    )


def _grams(swatch: Swatch, metres: Calculation, ball_g: float, ball_m: float) -> Calculation:
    long, heavy = figure("meters of a ball", ball_m, "m"), figure("grams of a ball", ball_g, "g")
    grams = (figure("meters", metres.value, "m") * heavy / long).listing(long, heavy)
    return calculate(f"swatches.{swatch.id}.grams", f"Yarn for swatch {swatch.id}, by weight", grams, "g")


def _usual_stitches(category: YarnWeight) -> float:
    """Middle of the category's gauge, stitches per 10 cm."""
    return (category.stitches_low + category.stitches_high) / 2


def _cast_on(swatch: Swatch, category: YarnWeight, width_cm: float, pattern: Pattern | None) -> Calculation:
    per_inch = ceil(category.stitches_high / 4 - 1e-9)
    multiple, plus = (pattern.multiple, pattern.plus) if pattern else (1, 0)
    edges = 2 * swatch.edge_stitches
    inches = figure("planned width", width_cm, "cm") / constant(INCH_CM, inches=1)
    across = inches * figure("stitches per inch", per_inch, "stitches")
    return calculate(
        f"swatches.{swatch.id}.cast_on",
        f"Cast-on for swatch {swatch.id}",
        across + figure("edge stitches", edges, "stitches"),
        "stitches",
        rounding=Rounding(multiple, (plus + edges) % multiple, "up"),
        per_cm=per_inch / INCH_CM,
        source="common practice, no source: upper gauge of the weight, in whole stitches per inch",
    )


def _rows(swatch: Swatch, category: YarnWeight, width_cm: float) -> Calculation:
    usual = _usual_stitches(category)
    ratio = rows_to_stitch()
    per_10cm = figure("usual stitches per 10 cm", usual, "stitches")
    return calculate(
        f"swatches.{swatch.id}.rows",
        f"Rows of swatch {swatch.id} between its borders",
        figure("planned width", width_cm, "cm") * per_10cm / GAUGE_CM * figure("rows to a stitch", ratio),
        "rows",
        rounding=Rounding(2, 0, "up"),
        per_cm=usual / 10 * ratio,
        source="Munden 1959: rows over stitches in the same length, 1.3 (workshop tables textile)",
    )


def sizes_to_change(actual_cm: float, planned_cm: float) -> int:
    """Needle sizes to go up (or down, if negative) to bring a width back to plan.

    One size changes the gauge by about a twentieth (common practice, no source).
    """
    step = log(1 + rule("size_step"))
    return -round(log(actual_cm / planned_cm) / step)


def check_swatch(plan: SwatchPlan, gauge: Gauge | None, notes: Notes) -> None:
    """What to say of a swatch as planned and, once counted, of how wide it came out."""
    swatch = plan.swatch
    if plan.yarn is None:
        notes.check("swatch-without-yarn", id=swatch.id)
    if swatch.needle_mm is not None and needles.find(swatch.needle_mm) is None:
        near = needles.nearest(swatch.needle_mm)
        notes.check("needle-not-sold", id=swatch.id, size=needle(swatch.needle_mm), near=needle(near.mm))
    if gauge is not None:
        _check_width(plan, gauge, notes)


def _usual(plan: SwatchPlan, gauge: Gauge) -> bool:
    """Whether a gauge is one that yarn of this weight is knitted at: then no other needle is called for."""
    named = plan.yarn.weight if plan.yarn else None
    if named is None:
        return False
    usual = weight(named)
    return usual.stitches_low <= gauge.per_10cm <= usual.stitches_high


def check_ways(swatches: Sequence[Swatch], notes: Notes) -> None:
    """Swatches that cannot be compared: some are flat and some in the round."""
    flat = [s.id for s in swatches if s.worked == "flat"]
    in_rounds = [s.id for s in swatches if s.worked == "round"]
    if flat and in_rounds:
        notes.check("swatches-worked-apart", id=flat[-1], flat=", ".join(flat), round=", ".join(in_rounds))


def _nearest_usual(usual: YarnWeight, gauge: Gauge) -> float:
    """The usual gauge of a weight that is nearest to one outside it: no further than that need a needle lead."""
    return min((usual.stitches_low, usual.stitches_high), key=lambda edge: abs(edge - gauge.per_10cm))


def _check_width(plan: SwatchPlan, gauge: Gauge, notes: Notes) -> None:
    swatch, stitches = plan.swatch, plan.stitches_cast_on
    if swatch.stitch != "stockinette" or stitches is None or plan.cast_on is None or swatch.needle_mm is None:
        return
    edges = 2 * swatch.edge_stitches
    inside, asked = stitches - edges, plan.cast_on.count - edges
    if inside < 1 or asked < 1 or _usual(plan, gauge):
        return
    planned = plan.width_cm * inside / asked
    actual = inside / gauge.per_10cm * 10
    if abs(actual / planned - 1) <= rule("swatch_off_plan"):
        return
    usual = weight(plan.yarn.weight) if plan.yarn and plan.yarn.weight else None
    edge = _nearest_usual(usual, gauge) if usual else inside / planned * 10
    sizes = sizes_to_change(10 / gauge.per_10cm, 10 / edge) or (1 if actual < planned else -1)
    notes.check(
        "swatch-off-plan",
        id=swatch.id,
        actual=cm(actual),
        planned=cm(planned),
        off="wider" if actual > planned else "narrower",
        way="up" if sizes > 0 else "down",
        sizes=Amount(abs(sizes), "sizes"),
        size=needle(needles.steps_from(swatch.needle_mm, sizes)),
    )
