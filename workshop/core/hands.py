"""The same yarn and needle in different hands: how far apart the knitters are, and whether counting explains it.

Each knitter's gauge has a range of its own. Whether the knitters differ by more than that is asked with Cochran's Q:
the squared distances from the weighted mean, each by its own variance, against chi-squared at 95 %. A range of few
places is wide by Student's t, so the test rather misses a difference than makes one up.
"""

from collections.abc import Sequence
from math import fsum, sqrt
from statistics import median

from workshop.core.cloth.gauge import NORMAL_95, Gauge
from workshop.records import record

CHI_SQUARED_95 = (3.841, 5.991, 7.815, 9.488, 11.070, 12.592, 14.067, 15.507, 16.919, 18.307)
"""Chi-squared, 95 % quantile, for 1, 2, 3 … degrees of freedom."""

ONE_SIDED_95 = 1.645
"""The normal quantile that 95 % lie below."""


def chi_squared_95(degrees_of_freedom: int) -> float:
    """The 95 % quantile of chi-squared; beyond the table by Wilson and Hilferty (1931)."""
    if degrees_of_freedom <= len(CHI_SQUARED_95):
        return CHI_SQUARED_95[degrees_of_freedom - 1]
    part = 2 / (9 * degrees_of_freedom)
    return degrees_of_freedom * float((1 - part + ONE_SIDED_95 * sqrt(part)) ** 3)


@record
class Apart:
    """Gauges of two or more knitters in the same yarn on the same needle. All per 10 cm."""

    loosest: float
    middle: float
    """Half of the knitters are looser, half tighter."""
    tightest: float
    by_counting: float
    """How far apart two counts of one fabric can be in these ranges, 19 times in 20."""
    real: bool
    """Whether the knitters differ by more than counting explains."""

    @property
    def percent(self) -> float:
        """From the loosest to the tightest, in per cent of the middle."""
        return 100 * (self.tightest - self.loosest) / self.middle

    def widths_cm(self, wanted_cm: float) -> tuple[float, float]:
        """How wide the tightest and the loosest knit the stitches that make ``wanted_cm`` in middle hands."""
        return wanted_cm * self.middle / self.tightest, wanted_cm * self.middle / self.loosest


def apart(gauges: Sequence[Gauge]) -> Apart | None:
    """How far apart several knitters are; None for fewer than two."""
    if len(gauges) < 2:
        return None
    found = [g.per_10cm for g in gauges]
    weights = [(NORMAL_95 / g.u95) ** 2 for g in gauges]
    mean = fsum(w * x for w, x in zip(weights, found, strict=True)) / fsum(weights)
    q = fsum(w * (x - mean) ** 2 for w, x in zip(weights, found, strict=True))
    by_counting = sqrt(2 * fsum(g.u95**2 for g in gauges) / len(gauges))
    return Apart(min(found), median(found), max(found), by_counting, q > chi_squared_95(len(gauges) - 1))
