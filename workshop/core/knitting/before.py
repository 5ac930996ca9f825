"""What a finished jumper says of the knitter's own hands: how far it was from its swatch, and the yarn that it took."""

from collections.abc import Sequence
from datetime import date
from math import exp, log
from statistics import fmean

from workshop.core.knitting.needles import Needles, at_the_needles
from workshop.core.knitting.weighings import in_swatches_g, labels_g
from workshop.core.plan import Plan
from workshop.project import Along, State
from workshop.records import record

TELLS = 0.01
"""A difference from the swatch, or from the yarn planned, that is worth planning by: the usual drift (derived)."""

MOST = 0.15
"""More than this is another thing than the knitter's hands: a slip, or another wash (common practice, no source)."""


@record
class Before:
    """The hands of before, from one or more finished jumpers. Factors: 1.03 is 3 % more than swatch or plan said."""

    titles: tuple[str, ...]
    stitches: float | None = None
    """Stitches to a length, against the swatch after its wash."""
    rows: float | None = None
    yarn: float | None = None
    """Grams used, against those that were planned."""


def told_by(plan: Plan, today: date) -> Before | None:
    """What one finished jumper tells; None where it is not finished or nothing was measured on it."""
    needles = at_the_needles(plan, today)
    if plan.gauge is None or not needles.pieces or not all(p.finished for p in needles.pieces):
        return None
    measured = {one.what: one.cm for one in plan.project.measured}
    counted = {"stitches": needles.stitches, "rows": needles.rows}
    found: dict[str, float | None] = {}
    for what, along in (("chest", "stitches"), ("length", "rows")):
        compared, swatch = counted[along], _washed(plan, "stitches" if along == "stitches" else "rows")
        if what in measured and swatch is not None and plan.counts.get(what):
            found[along] = plan.counts[what] / measured[what] * 10 / swatch
        else:
            found[along] = exp(compared.log_ratio) if compared is not None and compared.real else None
    yarn = _yarn(plan, needles)
    factors = [f for f in (found["stitches"], found["rows"], yarn) if f is not None]
    return Before((plan.project.title,), found["stitches"], found["rows"], yarn) if factors else None


def _washed(plan: Plan, along: Along) -> float | None:
    """The washed gauge of the swatch that it was planned from."""
    gauge = plan.gauge
    known = plan.swatch(gauge.swatch.id) if gauge else None
    state: State | None = gauge.stitches.state if gauge else None
    one = known.gauges.get((state, along)) if known and state else None
    return one.per_10cm if one is not None else None


def _yarn(plan: Plan, needles: Needles) -> float | None:
    """Grams used against those planned, by the last weighing once all was knitted."""
    last, need, start = plan.project.weighing[-1:], plan.yarn, labels_g(plan)
    in_all = sum(p.stitches_worked for p in plan.made.pieces)
    if not last or need is None or need.grams is None or (last[0].stitches or 0) < in_all:
        return None
    if needles.yarn is not None and needles.yarn_basis != "labels":
        beside = in_swatches_g(plan) if needles.yarn_basis == "difference" else 0.0  # the plan has bought them too
        used: float | None = needles.yarn.used_g + beside
    else:
        used = start - last[0].left_g if start else None
    return used / need.grams[1] if used else None


def together(found: Sequence[Before]) -> Before | None:
    """What several jumpers tell: the mean of each, where it is enough to be worth planning by; None without."""
    factors = {
        name: _mean([f for one in found if (f := getattr(one, name)) is not None])
        for name in ("stitches", "rows", "yarn")
    }
    if all(f is None for f in factors.values()):
        return None
    return Before(tuple(one.titles[0] for one in found), **factors)


def _mean(factors: Sequence[float]) -> float | None:
    logs = [log(f) for f in factors if f > 0 and abs(log(f)) <= MOST]
    middle = fmean(logs) if logs else 0.0
    return exp(middle) if abs(middle) >= TELLS else None
