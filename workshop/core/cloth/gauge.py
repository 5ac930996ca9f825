"""Gauge as a measurement: total count over total length, and how sure that is.

In the terms of JCGM 100:2008 (GUM): the measurand is the gauge of the whole cloth. The spread of the
places is evaluated by statistics (Type A), how finely the knitter reads from the step of the counts
(Type B). The same eye repeats its error in every place, so the Type B part is not divided by the number
of places. The expanded uncertainty ``u95`` joins both at 95 %: Student's t on the Type A part, the normal
quantile on the Type B part. Derived and simulated (tests/core/test_coverage.py); t checked against scipy.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import fsum, hypot, inf, sqrt
from statistics import median

from workshop.core.calculation import Calculation, calculate
from workshop.core.sums import GAUGE_CM, constant, figure, root_of
from workshop.project import Along, Reading, State, Swatch
from workshop.records import record
from workshop.tables.trade_rules import rule

WHEN_COUNTED: Mapping[State, str] = {
    "off needles": "before washing",
    "washed": "after washing",
    "hung": "after hanging",
}
"""When a swatch was counted, in words."""

T_95 = (
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228,
    2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086,
)  # fmt: skip
"""Student's t, two-sided 95 %, for 1, 2, 3 … degrees of freedom."""

NORMAL_95 = 1.96
"""The normal quantile that belongs to 95 % two-sided."""

RESOLUTION_SD = {1.0: 0.289, 0.5: 0.144, 0.25: 0.072}
"""Standard deviation (stitches) of a count read to the nearest whole, half or quarter: step / √12."""

EDGES_TO_A_QUARTER_SD = 0.25 / sqrt(1.5)
"""Standard deviation of a count (stitches) whose two edges are each judged within a quarter of a stitch: 0.20."""

PRIOR_FREEDOM = 4
"""Degrees of freedom that the assumed unevenness of knitting counts for where two places were read."""

TWO_LIKE_THREE = 2 * (1 + PRIOR_FREEDOM) / 3 * (T_95[1] / T_95[PRIOR_FREEDOM]) ** 2
"""The scatter of two places times this: as wide a range as three places of that scatter have."""

TWO_LIKE_ONE = 2 * (1 + PRIOR_FREEDOM) * (NORMAL_95 / T_95[PRIOR_FREEDOM]) ** 2
"""The unevenness assumed of one place times this, taken for a scatter of two: as wide a range as that one has."""

ODD_ONE_OUT = 0.03
"""A reading that lies further than this from the rest is asked about (method: 3 %)."""


def t_95(degrees_of_freedom: int) -> float:
    """Student's t for a two-sided 95 % range; for more degrees than the table holds, its last value."""
    return T_95[min(degrees_of_freedom, len(T_95)) - 1]


@record
class Spread:
    """The Type A part: what the places say of the cloth between them. All per cm."""

    sum_of_squares: float
    """Sum over the places of length × (gauge there − gauge of all)²; assumed unevenness included."""
    degrees_of_freedom: float
    """Degrees of freedom; infinite where the unevenness is assumed altogether."""
    total_cm: float

    @property
    def factor(self) -> float:
        """Coverage factor for 95 %: Student's t."""
        return NORMAL_95 if self.degrees_of_freedom == inf else t_95(int(self.degrees_of_freedom))

    @property
    def standard_uncertainty(self) -> float:
        """Standard uncertainty of the gauge (GUM, Type A)."""
        per_freedom = (
            self.sum_of_squares if self.degrees_of_freedom == inf else self.sum_of_squares / self.degrees_of_freedom
        )
        return sqrt(per_freedom / self.total_cm)


@record
class Gauge:
    """Stitches (or rows) per 10 cm in one state, with the half width of its 95 % range."""

    state: State
    along: Along
    per_10cm: float
    spread: Spread
    step: float
    """How finely the counts were read: whole, half or quarter stitches."""
    readings: tuple[Reading, ...]

    @property
    def repeatability(self) -> float:
        """Part of ``u95`` that comes from the places differing, per 10 cm."""
        return 10 * self.spread.factor * self.spread.standard_uncertainty

    @property
    def resolution(self) -> float:
        """Part of ``u95`` that comes from how finely the counts were read, per 10 cm."""
        return 10 * NORMAL_95 * RESOLUTION_SD[self.step] / self.window_cm

    @property
    def u95(self) -> float:
        """Half width of the 95 % range, per 10 cm (GUM: expanded uncertainty)."""
        return hypot(self.repeatability, self.resolution)

    @property
    def u95_percent(self) -> float:
        """Half width of the 95 % range in per cent of the gauge."""
        return 100 * self.u95 / self.per_10cm

    @property
    def likely(self) -> tuple[float, float]:
        """The ends of the 95 % range, per 10 cm."""
        return self.per_10cm - self.u95, self.per_10cm + self.u95

    def u95_percent_with(self, more: int) -> float:
        """What ``u95_percent`` would be with so many places more, no further apart than those counted."""
        many = len(self.readings)
        spread, share = self.spread, (many + more) / many
        if spread.degrees_of_freedom != inf:
            degrees_of_freedom = spread.degrees_of_freedom + more
            spread = Spread(
                spread.sum_of_squares * degrees_of_freedom / spread.degrees_of_freedom,
                degrees_of_freedom,
                spread.total_cm * share,
            )
        else:
            spread = Spread(spread.sum_of_squares, inf, spread.total_cm * share)
        return replace(self, spread=spread).u95_percent

    @property
    def standard_uncertainty(self) -> float:
        """Combined standard uncertainty, per 10 cm (GUM)."""
        return 10 * hypot(self.spread.standard_uncertainty, RESOLUTION_SD[self.step] / self.window_cm)

    @property
    def total_count(self) -> float:
        """All counts together."""
        return sum(r.count for r in self.readings)

    @property
    def total_cm(self) -> float:
        """All lengths together, in cm."""
        return sum(r.over_cm for r in self.readings)

    @property
    def window_cm(self) -> float:
        """Mean length counted over, in cm."""
        return self.total_cm / len(self.readings)


def gauge_of(readings: Sequence[Reading]) -> Gauge | None:
    """The gauge of readings of one state and direction; None where there are none."""
    if not readings:
        return None
    total_cm = sum(r.over_cm for r in readings)
    per_cm = sum(r.count for r in readings) / total_cm
    return Gauge(
        state=readings[0].state,
        along=readings[0].along,
        per_10cm=10 * per_cm,
        spread=_spread(readings, per_cm, total_cm),
        step=reading_step(readings),
        readings=tuple(readings),
    )


def reading_step(readings: Sequence[Reading]) -> float:
    """How finely the counts were read: 1, 0.5 or 0.25 stitches, the coarsest that all of them fit."""
    for step in (1.0, 0.5):
        if all(abs(r.count / step - round(r.count / step)) < 1e-9 for r in readings):
            return step
    return 0.25


def _spread(readings: Sequence[Reading], per_cm: float, total_cm: float) -> Spread:
    """What the readings say of the spread of the cloth.

    Windows of unequal length weigh by their length. From three places on it is plain Student's t. One place has
    no scatter: the unevenness of an uneven knitter is assumed. With two, Student's t alone would answer ±12.7
    standard errors, so the usual unevenness is pooled in as if it had been seen PRIOR_FREEDOM times; two look no
    surer than three of the same scatter, while one would be no surer than they.
    """
    many, uneven = len(readings), rule("stitch_unevenness", "at_most") ** 2 * per_cm
    if many == 1:
        return Spread(uneven, inf, total_cm)
    sum_of_squares = sum(r.over_cm * (r.count / r.over_cm - per_cm) ** 2 for r in readings)
    if many > 2:
        return Spread(sum_of_squares, many - 1, total_cm)
    pooled = sum_of_squares + PRIOR_FREEDOM * unevenness() ** 2 * per_cm
    least = min(TWO_LIKE_THREE * sum_of_squares, TWO_LIKE_ONE * uneven)
    return Spread(max(pooled, least), 1 + PRIOR_FREEDOM, total_cm)


def unevenness() -> float:
    """Assumed standard deviation of the width of one stitch, as part of it (table "trade", derived)."""
    return rule("stitch_unevenness")


def gauges(swatch: Swatch) -> dict[tuple[State, Along], Gauge]:
    """All gauges of a swatch, by state and direction."""
    found: dict[tuple[State, Along], Gauge] = {}
    for reading in swatch.reading:
        key = (reading.state, reading.along)
        if key not in found:
            gauge = gauge_of(swatch.readings(*key))
            if gauge is not None:
                found[key] = gauge
    return found


def really_differ(one: Gauge, other: Gauge) -> bool:
    """Whether two gauges differ by more than their ranges explain."""
    return abs(one.per_10cm - other.per_10cm) > sqrt(one.u95**2 + other.u95**2)


def odd_ones_out(readings: Sequence[Reading]) -> tuple[Reading, ...]:
    """Readings more than 3 % off all the others together; at least three readings are needed to tell.

    One odd count pulls the others' fellows with it, so a reading near the middle one is never named.
    """
    if len(readings) < 3:
        return ()
    middle = median(r.count / r.over_cm for r in readings)
    counts, cm = (fsum(getattr(r, name) for r in readings) for name in ("count", "over_cm"))
    odd = []
    for reading in readings:
        fellows = (counts - reading.count) / (cm - reading.over_cm)
        own = reading.count / reading.over_cm
        if abs(own / fellows - 1) > ODD_ONE_OUT and abs(own / middle - 1) > ODD_ONE_OUT:
            odd.append(reading)
    return tuple(odd)


def width_for_accuracy(
    key: str,
    stitches_per_10cm: float,
    finished_cm: float,
    within_cm: float,
    *,
    places: int = 3,
    reading_sd: float = EDGES_TO_A_QUARTER_SD,
) -> Calculation:
    """How wide (cm) each counted window must be so that the finished width is right within ``within_cm``.

    95 %. ``reading_sd`` is the standard deviation of one count in stitches, c that of the width of one stitch.
    Solves 1.96 × F × sqrt(((sd/n)² + c²/n) / places) = T for the n stitches to count.
    """
    sd, c = figure("reading sd", reading_sd, "stitches"), figure("unevenness", unevenness())
    relative = figure("accuracy", within_cm, "cm") / (NORMAL_95 * figure("finished width", finished_cm, "cm"))
    wanted = figure("places", places) * relative**2
    # a quadratic in 1 / n: sd² y² + c² y − wanted = 0
    root = root_of(c**4 + 4 * sd**2 * wanted)
    return calculate(
        key,
        "Least width to count in each place",
        2 * sd**2 / ((root - c**2) * figure("stitches per cm", stitches_per_10cm / 10, "stitches")),
        "cm",
        source="reading errors and unevenness propagated (derived, not published)",
    )


# ── workings ─────────────────────────────────────────────────────────────────────────────────────────


def gauge_working(key: str, label: str, gauge: Gauge) -> Calculation:
    """How a gauge was worked out."""
    per_cm = figure("all counted", gauge.total_count, gauge.along) / figure("all centimeters", gauge.total_cm, "cm")
    source = "all stitches over all lengths, never the mean of several gauges"
    return calculate(key, label, per_cm * GAUGE_CM, f"{gauge.along} per 10 cm", source=source)


def range_working(key: str, label: str, gauge: Gauge) -> Calculation:
    """How the 95 % range of a gauge was worked out, in per cent."""
    spread = gauge.spread
    degrees_of_freedom = figure("freedom", 1.0 if spread.degrees_of_freedom == inf else spread.degrees_of_freedom)
    between = (
        figure("scatter", spread.sum_of_squares, "per cm")
        / degrees_of_freedom
        / figure("all centimeters", spread.total_cm, "cm")
    )
    sd, window = figure("reading sd", RESOLUTION_SD[gauge.step], gauge.along), figure("window", gauge.window_cm, "cm")
    per_cm = root_of(figure("t", spread.factor) ** 2 * between + constant(NORMAL_95) ** 2 * sd**2 / window / window)
    return calculate(
        key,
        label,
        per_cm * GAUGE_CM / figure("gauge", gauge.per_10cm, f"{gauge.along} per 10 cm") * 100,
        "%",
        exact=gauge.u95_percent,
        source="expanded uncertainty, 95% (JCGM 100, GUM): Student's t on the spread of the places, "
        "the normal quantile on the step of the readings",
    )
