"""Gauge as a measurement: total count over total length, and how sure that is.

The half width of the 95 % range joins two things: how much the places differ from one another (Student's
t on the spread of the readings) and how finely the knitter reads (the same eye repeats its error, so that
part is not divided by the number of places). Derived and simulated; the t values are checked against
scipy in the tests.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

from workshop.project import Along, Reading, State, Swatch
from workshop.tables.practice import rule

T_95 = (
    12.706, 4.303, 3.182, 2.776, 2.571, 2.447, 2.365, 2.306, 2.262, 2.228,
    2.201, 2.179, 2.160, 2.145, 2.131, 2.120, 2.110, 2.101, 2.093, 2.086,
)  # fmt: skip
"""Student's t, two-sided 95 %, for 1, 2, 3 … degrees of freedom."""

NORMAL_95 = 1.96
"""The normal quantile that belongs to 95 % two-sided."""

RESOLUTION_SD = {1.0: 0.289, 0.5: 0.144, 0.25: 0.072}
"""Standard deviation (stitches) of a count read to the nearest whole, half or quarter: step / √12."""

EDGES_TO_A_HALF_SD = 0.5 / sqrt(1.5)
"""Standard deviation of a count (stitches) whose two edges are each judged within half a stitch: 0.41."""

EDGES_TO_A_QUARTER_SD = 0.25 / sqrt(1.5)
"""The same within a quarter of a stitch: 0.20."""

PRIOR_FREEDOM = 3
"""Degrees of freedom that the assumed unevenness of knitting counts for where two places were read."""

ODD_ONE_OUT = 0.03
"""A reading that lies further than this from the rest is asked about (method: 3 %)."""


def t_95(freedom: int) -> float:
    """Student's t for a two-sided 95 % range; for more degrees than the table holds, its last value."""
    return T_95[min(freedom, len(T_95)) - 1]


@dataclass(frozen=True, slots=True)
class Gauge:
    """Stitches (or rows) per 10 cm in one state, with the half width of its 95 % range."""

    state: State
    along: Along
    per_10cm: float
    u95: float
    repeatability: float
    """Part of ``u95`` that comes from the places differing, per 10 cm."""
    resolution: float
    """Part of ``u95`` that comes from how finely the counts were read, per 10 cm."""
    readings: tuple[Reading, ...]

    @property
    def u95_percent(self) -> float:
        """Half width of the 95 % range in per cent of the gauge."""
        return 100 * self.u95 / self.per_10cm

    @property
    def total_count(self) -> float:
        """All counts together."""
        return sum(r.count for r in self.readings)

    @property
    def total_cm(self) -> float:
        """All lengths together, in cm."""
        return sum(r.over_cm for r in self.readings)


def gauge_of(readings: Sequence[Reading]) -> Gauge | None:
    """The gauge of readings of one state and direction; None where there are none."""
    if not readings:
        return None
    total_cm = sum(r.over_cm for r in readings)
    per_cm = sum(r.count for r in readings) / total_cm
    window_cm = total_cm / len(readings)
    repeat = _repeatability(readings, per_cm, total_cm)
    read = NORMAL_95 * RESOLUTION_SD[reading_step(readings)] / window_cm
    return Gauge(
        state=readings[0].state,
        along=readings[0].along,
        per_10cm=10 * per_cm,
        u95=10 * sqrt(repeat**2 + read**2),
        repeatability=10 * repeat,
        resolution=10 * read,
        readings=tuple(readings),
    )


def reading_step(readings: Sequence[Reading]) -> float:
    """How finely the counts were read: 1, 0.5 or 0.25 stitches, the coarsest that all of them fit."""
    for step in (1.0, 0.5):
        if all(abs(r.count / step - round(r.count / step)) < 1e-9 for r in readings):
            return step
    return 0.25


def _repeatability(readings: Sequence[Reading], per_cm: float, total_cm: float) -> float:
    """Half width (per cm) from the spread of the readings.

    Windows of unequal length weigh by their length. One reading has no spread, so that the unevenness
    of knitting is assumed; with two, Student's t alone would answer ±12.7 standard errors, more than with
    one, so the assumption is pooled in as if it had been seen PRIOR_FREEDOM times.
    """
    many = len(readings)
    unevenness = float(rule("stitch_unevenness")["fraction"])
    assumed = unevenness**2 * per_cm
    if many == 1:
        return NORMAL_95 * sqrt(assumed / total_cm)
    spread = sum(r.over_cm * (r.count / r.over_cm - per_cm) ** 2 for r in readings)
    freedom = many - 1
    if many == 2:
        spread += PRIOR_FREEDOM * assumed
        freedom += PRIOR_FREEDOM
    return t_95(freedom) * sqrt(spread / freedom / total_cm)


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
    """Readings more than 3 % off all the others together; at least three readings are needed to tell."""
    if len(readings) < 3:
        return ()
    odd = []
    for i, reading in enumerate(readings):
        rest = [r for j, r in enumerate(readings) if j != i]
        fellows = sum(r.count for r in rest) / sum(r.over_cm for r in rest)
        if abs(reading.count / reading.over_cm / fellows - 1) > ODD_ONE_OUT:
            odd.append(reading)
    return tuple(odd)


def width_for_accuracy(
    stitches_per_10cm: float,
    finished_cm: float,
    within_cm: float,
    *,
    places: int = 3,
    reading_sd: float = EDGES_TO_A_QUARTER_SD,
    unevenness: float = 0.05,
) -> float:
    """How wide (cm) each counted window must be so that the finished width is right within ``within_cm``.

    95 %. ``reading_sd`` is the standard deviation of one count in stitches.
    Solves 1.96 × F × sqrt(((sd/(g·w))² + c²/(g·w)) / places) = T for w.
    """
    per_cm = stitches_per_10cm / 10
    wanted = (within_cm / (NORMAL_95 * finished_cm)) ** 2 * places
    # a quadratic in 1 / (stitches counted): sd² y² + c² y − wanted = 0
    y = (-(unevenness**2) + sqrt(unevenness**4 + 4 * reading_sd**2 * wanted)) / (2 * reading_sd**2)
    return 1 / (y * per_cm)
