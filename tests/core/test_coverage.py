"""The stated 95 % range holds the truth in 93 to 99 of 100 simulated knitters, and is not idly wide.

A seeded simulation of a class of knitters: fabrics from bulky to super-fine, stitches uneven by 3 to 7 %,
places of 8 to 15 cm, counts kept to quarters or to halves. Half of the knitters judge edges freshly each
time, half have an eye that errs the same way in every place, by up to half a step. Referee: numpy and
scipy make the cloth. The shares are printed (``pytest -s tests/core/test_coverage.py``).
"""

import numpy as np
import pytest
from scipy import stats

from workshop.core.cloth.gauge import NORMAL_95, RESOLUTION_SD, Gauge, gauge_of
from workshop.project import Reading

KNITTERS = 5000


def class_of(places: int, step: float | None, seed: int) -> list[tuple[float, Gauge]]:
    """Knitters of a seeded class: the true gauge per 10 cm of each, and the gauge worked out from their counts."""
    rng = np.random.default_rng(seed)
    per_cm = rng.uniform(1.2, 3.2, (KNITTERS, 1))
    uneven = rng.uniform(0.03, 0.07, (KNITTERS, 1))
    fineness = np.full((KNITTERS, 1), step) if step else rng.choice((0.25, 0.5), (KNITTERS, 1))
    window = rng.integers(8, 16, (KNITTERS, 1)).astype(float)
    expected = per_cm * window
    counts = stats.norm(expected, uneven * expected**0.5).rvs((KNITTERS, places), random_state=rng)
    eye = rng.uniform(-fineness / 2, fineness / 2) * (rng.random((KNITTERS, 1)) < 0.5)
    read = np.round((counts + eye) / fineness) * fineness
    found = []
    for true, wide, row in zip(10 * per_cm[:, 0], window[:, 0], read, strict=True):
        gauge = gauge_of([Reading("washed", "stitches", float(c), float(wide)) for c in row])
        assert gauge is not None
        found.append((float(true), gauge))
    return found


def held(knitters: list[tuple[float, Gauge]]) -> float:
    """Share of knitters whose range holds the truth."""
    return float(np.mean([abs(g.per_10cm - true) <= g.u95 for true, g in knitters]))


@pytest.mark.parametrize("step", [0.25, 0.5, None], ids=["quarters", "halves", "both"])
@pytest.mark.parametrize("places", [3, 4, 5, 6])
def test_three_and_more_places_hold_the_truth_in_93_to_99_of_100(places, step):
    share = held(class_of(places, step, seed=100 * places))
    print(f"{places} places, step {step or 'mixed'}: {share:.3f}")

    assert 0.93 <= share <= 0.99


@pytest.mark.parametrize("places", [1, 2])
def test_one_and_two_places_lean_on_the_assumed_unevenness_and_hold_it_too(places):
    share = held(class_of(places, None, seed=7))
    print(f"{places} places: {share:.3f}")

    assert 0.93 <= share <= 0.99


@pytest.mark.parametrize("places", [3, 5])
def test_the_range_is_not_idly_wide(places):
    """Against a knitter who knew the true unevenness: never more than the price of estimating it (Student's t)."""
    ratio = []
    for _, gauge in class_of(places, 0.25, seed=3):
        known = 0.05 * (gauge.per_10cm / 10 / gauge.total_cm) ** 0.5
        ratio.append(gauge.u95 / 10 / NORMAL_95 / np.hypot(known, RESOLUTION_SD[0.25] / gauge.window_cm))
    price = stats.t.ppf(0.975, places - 1) / NORMAL_95

    assert np.median(ratio) <= price
