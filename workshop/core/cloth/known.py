"""A swatch that has been counted: its gauges, what they mean for the garment, and what the cloth is like."""

from collections.abc import Mapping, Sequence
from math import ceil

from workshop.core.calculation import Calculation, calculate
from workshop.core.cloth.density import tightness_words, weights_by_gauge
from workshop.core.cloth.fibre import YarnView
from workshop.core.cloth.gauge import WHEN_COUNTED, Gauge, gauges, width_for_accuracy
from workshop.core.cloth.swatch_plan import SwatchPlan
from workshop.core.cloth.wash import Change, change_of, gauge_key, note_gauges
from workshop.core.cloth.yarn import loop_length_cm
from workshop.core.notes import Notes
from workshop.core.remarks import Amount
from workshop.core.sums import GAUGE_MM, figure
from workshop.project import Along, Reading, State, Swatch, Units, Yarn
from workshop.records import record
from workshop.tables.trade_rules import USUAL_BODY_CM, USUAL_CHEST_CM, k_value, rows_to_stitch
from workshop.tables.yarn_weights import INCH_CM

ACCURACY_CM = 2.54
"""Accuracy of the finished chest that a swatch is planned for: an inch."""


def proposed_cm(least_cm: float, units: Units) -> float:
    """A width for counted places that is round in these units and no narrower than needed: half cm, quarter inches."""
    step = INCH_CM / 4 if units == "in" else 0.5
    return ceil(round(least_cm / step, 6)) * step


@record
class MeasuredSwatch:
    """A swatch with its plan, the gauges counted on it, and what follows from them."""

    plan: SwatchPlan
    gauges: Mapping[tuple[State, Along], Gauge]
    place: Calculation | None
    """How wide each counted place should be."""
    on_chest: Mapping[State, Calculation]
    """What the doubt in the stitch gauge is on the chest, in cm either way."""
    tightness: Mapping[State, Calculation]
    """Tightness factor in each state, where the yarn's thickness is known."""
    hang_weight: Calculation | None
    """Grams to clip to the swatch so that it carries what the garment's cloth carries on average."""
    for_example: bool = False
    """Whether the chest is a usual one, because the garment's is not known yet."""

    @property
    def swatch(self) -> Swatch:
        """The swatch as the knitter entered it."""
        return self.plan.swatch

    @property
    def gauge(self) -> Gauge | None:
        """Its stitch gauge, washed where it was washed."""
        return self.gauges.get(("washed", "stitches")) or self.gauges.get(("off needles", "stitches"))

    def tightness_words(self, state: State) -> str:
        """What the tightness means for the cloth; empty where it is not known."""
        return tightness_words(self.tightness[state].value) if state in self.tightness else ""

    @property
    def metres(self) -> float | None:
        """Yarn that is in it: by its weight where it was weighed and the band is known, else as planned."""
        yarn = self.plan.yarn
        if self.swatch.grams and yarn and yarn.ball_g and yarn.ball_m:
            return self.swatch.grams * yarn.ball_m / yarn.ball_g
        return self.plan.metres.value if self.plan.metres else None

    def change(self, state: State, along: Along) -> Change | None:
        """What became of its width (``stitches``) or length (``rows``) from the needles to a later state."""
        return change_of(self.gauges.get(("off needles", along)), self.gauges.get((state, along)))


def evaluate(
    plan: SwatchPlan,
    view: YarnView | None,
    chest_cm: float | None,
    length_cm: float | None,
    notes: Notes,
    units: Units = "cm",
) -> MeasuredSwatch:
    """All that can be said of a swatch; for a usual garment, round in these units, while its own size is not known."""
    found = gauges(plan.swatch)
    for working in plan.workings:
        notes.record(working)
    note_gauges(plan.swatch, found, notes)
    chest = chest_cm or USUAL_CHEST_CM[units]
    on_chest, tight = {}, {}
    for (state, along), gauge in found.items():
        if along == "stitches":
            on_chest[state] = notes.record(_on_chest(plan.swatch, gauge, chest))
            if view is not None and view.density is not None and plan.swatch.stitch == "stockinette":
                tight[state] = notes.record(_tightness(plan.swatch, gauge, view.density.tex))
    place = None
    if view is not None and view.weight is not None:
        key = f"swatches.{plan.swatch.id}.place"
        place = notes.record(width_for_accuracy(key, view.weight.stitches_high, chest, ACCURACY_CM))
    hang = None
    washed = found.get(("washed", "stitches"))
    if view is not None and view.hang_test and washed is not None:
        hang = _hang_weight(plan, view, washed, length_cm or USUAL_BODY_CM[units])
        if hang is not None:
            notes.record(hang)
    return MeasuredSwatch(plan, found, place, on_chest, tight, hang, for_example=not chest_cm)


def _on_chest(swatch: Swatch, gauge: Gauge, chest_cm: float) -> Calculation:
    return calculate(
        f"{gauge_key(swatch.id, gauge)}_on_chest",
        f"Swatch {swatch.id}, {WHEN_COUNTED[gauge.state]}: what that could mean on the chest",
        figure("chest", chest_cm, "cm") * figure("margin of error", gauge.u95_percent, "%") / 100,
        "cm",
        source="a width is only as certain as the gauge: ΔF ÷ F = Δg ÷ g",
    )


def _tightness(swatch: Swatch, gauge: Gauge, tex: float) -> Calculation:
    kw = figure("constant kw", k_value("kw"))
    stitch_mm = kw / figure("stitches per 10 cm", gauge.per_10cm, "stitches") * GAUGE_MM
    return calculate(
        f"swatches.{swatch.id}.{gauge.state}.tightness",
        f"Swatch {swatch.id}, {WHEN_COUNTED[gauge.state]}: firmness (tightness factor)",
        figure("tex", tex, "tex") ** 0.5 / stitch_mm,
        "√tex per mm",
        source="tightness factor √tex ÷ stitch length in mm (Texcoms handbook, read); wool's constant kw",
    )


def _hang_weight(plan: SwatchPlan, view: YarnView, gauge: Gauge, length_cm: float) -> Calculation | None:
    """Half of what the cloth at the shoulder carries: width × mass per area × length ÷ 2 (derived, linear)."""
    if view.density is None or plan.stitches_cast_on is None:
        return None
    width = figure("width of the swatch", plan.stitches_cast_on / gauge.per_10cm * 10, "cm")
    loop = loop_length_cm(gauge.per_10cm)
    per_cm = gauge.per_10cm / 10
    mass = per_cm * per_cm * rows_to_stitch() * loop / 100 * view.density.tex / 1000
    weight = width * figure("grams per square cm", mass, "g") * figure("length of the body", length_cm, "cm") / 2
    return calculate(
        f"swatches.{plan.swatch.id}.hang_weight",
        f"Weight to hang on swatch {plan.swatch.id}",
        weight,
        "g",
        source="half the load at the shoulder is the mean load of a hanging body (derived, linear model); the weight "
        "of the fabric comes from the gauge, the length of a stitch and the thickness of the yarn",
    )


MASS_OFF = 1.6
"""A swatch that weighs so many times what its stitches take is asked about (common practice, no source)."""


MASS_APART = 1.25
"""From here on it is told of: well beyond what the size of a stitch can be off (common practice, no source)."""


def check_mass(known: MeasuredSwatch, notes: Notes) -> None:
    """Where the scale says another weight than the stitches of the swatch can have."""
    swatch, yarn, gauge = known.swatch, known.plan.yarn, known.gauge
    if swatch.grams is None or swatch.cast_on is None or swatch.rows is None or gauge is None or yarn is None:
        return
    if not yarn.ball_g or not yarn.ball_m:
        return
    metres = swatch.cast_on * swatch.rows * loop_length_cm(gauge.per_10cm) / 100
    expected = metres * yarn.ball_g / yarn.ball_m
    off = max(swatch.grams / expected, expected / swatch.grams)
    if off <= MASS_APART:
        return
    notes.check(
        "swatch-mass-odd.far" if off > MASS_OFF else "swatch-mass-odd",
        id=swatch.id,
        likely=_likely_slip(swatch.cast_on, swatch.rows, swatch.reading),
        grams=Amount(swatch.grams, "g"),
        stitches=Amount(swatch.cast_on, "stitches"),
        rows=Amount(swatch.rows, "rows"),
        expected=Amount(expected, "g"),
    )


def _likely_slip(cast_on: int, rows: int, readings: Sequence[Reading]) -> str:
    """The answer that is likely wrong where weight, stitches and rows don't agree: a swatch has no fewer rows or
    stitches than were counted on it.
    """

    def counted(along: Along) -> float:
        return max((r.count for r in readings if r.along == along), default=0.0)

    return "rows" if rows < counted("rows") else "cast_on" if cast_on < counted("stitches") else "grams"


def check_weight(known: MeasuredSwatch, view: YarnView | None, notes: Notes) -> None:
    """Where the gauge speaks of another yarn weight than the band."""
    if known.gauge is None or view is None or view.weight is None or known.swatch.stitch != "stockinette":
        return
    fitting, called = weights_by_gauge(known.gauge.per_10cm), view.weight.id
    if called not in fitting:
        found = " or ".join(fitting)
        notes.check("weight-by-gauge", yarn=view.yarn.id, id=known.swatch.id, found=found, weight=called)


def taken_by_cards(swatches: Sequence[MeasuredSwatch]) -> tuple[float, float]:
    """Meters and grams of yarn that swatches take together, as their cards say; 0 where no card says it."""
    metres = sum(known.plan.metres.value for known in swatches if known.plan.metres)
    grams = sum(known.plan.grams.value for known in swatches if known.plan.grams)
    return metres, grams


def check_balls_for_swatches(yarn: Yarn, swatches: Sequence[MeasuredSwatch], notes: Notes) -> None:
    """Whether the balls at home are enough for the swatches of a yarn, while one is still to be knitted."""
    if yarn.balls is None or yarn.ball_m is None or all(known.swatch.knitted for known in swatches):
        return
    metres, _ = taken_by_cards(swatches)
    if metres > yarn.balls * yarn.ball_m:
        notes.check("swatches-take-more", yarn=yarn.id, all=Amount(metres, "m"), have=Amount(yarn.balls, "balls"))
