"""How sure a gauge is, as terms that can be added up: each a relative variance with its degrees of freedom.

In the terms of JCGM 100:2008 (GUM): terms of several sources add as variances, and the degrees of freedom of
their sum follow from Welch and Satterthwaite. They are never cut to a whole number: that costs power.
"""

from math import inf, sqrt

from workshop.core.cloth.gauge import NORMAL_95, PRIOR_FREEDOM, RESOLUTION_SD, T_95, Gauge, unevenness
from workshop.records import record


@record
class Term:
    """One source of doubt: the variance of a ratio (no unit), and the degrees of freedom it is known with."""

    variance: float
    degrees_of_freedom: float = inf

    def times(self, weight: float) -> "Term":
        """The term of something that this source goes into with a weight."""
        return Term(weight**2 * self.variance, self.degrees_of_freedom)


@record
class Doubt:
    """Several terms together."""

    terms: tuple[Term, ...]

    def __add__(self, other: "Doubt") -> "Doubt":
        return Doubt(self.terms + other.terms)

    def times(self, weight: float) -> "Doubt":
        """The doubt of something that all of this goes into with a weight."""
        return Doubt(tuple(term.times(weight) for term in self.terms))

    @property
    def variance(self) -> float:
        """Relative variance."""
        return sum(term.variance for term in self.terms)

    @property
    def standard_uncertainty(self) -> float:
        """Relative standard uncertainty."""
        return sqrt(self.variance)

    @property
    def degrees_of_freedom(self) -> float:
        """Effective degrees of freedom (Welch and Satterthwaite; JCGM 100, G.4.1)."""
        below = sum(t.variance**2 / t.degrees_of_freedom for t in self.terms)
        return self.variance**2 / below if below else inf

    @property
    def half_95(self) -> float:
        """Half width of the 95 % range, as part of the value."""
        return t_975(self.degrees_of_freedom) * self.standard_uncertainty


def doubt_of(variance: float) -> Doubt:
    """A doubt that is known as it is."""
    return Doubt((Term(variance),))


def t_975(degrees_of_freedom: float) -> float:
    """Student's t for a two-sided 95 % range at any degrees of freedom from 1 on; between the table's in 1 ÷ f."""
    known = len(T_95)
    lower = min(int(degrees_of_freedom), known) if degrees_of_freedom != inf else known
    if lower == known:  # from the last of the table to the normal quantile
        return NORMAL_95 + (T_95[known - 1] - NORMAL_95) * known / degrees_of_freedom
    share = (1 / lower - 1 / degrees_of_freedom) / (1 / lower - 1 / (lower + 1))
    return T_95[lower - 1] + share * (T_95[lower] - T_95[lower - 1])


def doubt_of_places(gauge: Gauge, *, one_stretch: bool = False) -> Doubt:
    """What the places of a gauge leave open of it, with the usual unevenness of knitting pooled in.

    The step of the counts is a term of its own: the same eye reads every place. ``one_stretch``: the places lie
    side by side and were counted on from one to the next, so that only the whole stretch was read.
    """
    per_cm, places = gauge.per_10cm / 10, len(gauge.readings)
    assumed = unevenness() ** 2 * per_cm
    if places == 1:
        between = Term(assumed / gauge.total_cm / per_cm**2)
    else:
        scatter = sum(r.over_cm * (r.count / r.over_cm - per_cm) ** 2 for r in gauge.readings)
        freedom = places - 1 + PRIOR_FREEDOM
        between = Term((scatter + PRIOR_FREEDOM * assumed) / freedom / gauge.total_cm / per_cm**2, freedom)
    return Doubt((between, Term(resolution_of(gauge, one_stretch=one_stretch))))


def resolution_of(gauge: Gauge, *, one_stretch: bool = False) -> float:
    """Relative variance that comes from the step of the counts."""
    window_cm = gauge.total_cm if one_stretch else gauge.window_cm
    return (RESOLUTION_SD[gauge.step] / window_cm / (gauge.per_10cm / 10)) ** 2
