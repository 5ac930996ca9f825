"""Propagation of doubt. Referee: the package uncertainties, which differentiates where the core has formulas.

Half widths of 95 % ranges are handed to it in place of standard deviations: both add as squares.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pint import get_application_registry
from uncertainties import ufloat

from tests.factory import pullover, readings, swatch
from workshop.core.cloth.density import LinearDensity
from workshop.core.cloth.gauge import NORMAL_95
from workshop.core.plan import plan
from workshop.project import Swatch
from workshop.tables.trade_rules import rule

UNITS = get_application_registry()

COUNTS = st.lists(st.integers(70, 90), min_size=3, max_size=6).map(lambda c: [n / 4 for n in c])


def counted(stitches, rows, washed_stitches, washed_rows):
    plain = swatch()
    return Swatch(
        "A",
        "a",
        4.0,
        "wood",
        reading=(
            *readings("off needles", "stitches", *stitches),
            *readings("off needles", "rows", *rows),
            *readings("washed", "stitches", *washed_stitches),
            *readings("washed", "rows", *washed_rows),
        ),
        grams=plain.grams,
        cast_on=36,
        rows=48,
    )


@given(COUNTS, COUNTS, COUNTS, COUNTS)
def test_finished_widths_ease_and_wash_are_as_unsure_as_the_referee_says(stitches, rows, washed_stitches, washed_rows):
    now = plan(pullover(swatch=(counted(stitches, rows, washed_stitches, washed_rows),)))
    gauge, chest = now.gauge, now.ranges["chest"]
    drift = ufloat(1.0, NORMAL_95 * rule("drift"))
    around = next(w for w in now.workings if w.key == "finished.chest")
    number = next(f.value for f in around.figures if f.name == "stitches")
    g = ufloat(gauge.stitches.per_10cm, gauge.stitches.u95)

    finished = number / g * 10 * drift
    assert chest.likely == pytest.approx(finished.nominal_value)
    assert chest.high - chest.likely == pytest.approx(finished.std_dev, rel=1e-6)

    ease = finished - ufloat(now.wearer.cm("chest"), now.ease["chest"].measuring)
    assert now.ease["chest"].likely == pytest.approx(ease.nominal_value)
    assert now.ease["chest"].high - now.ease["chest"].likely == pytest.approx(ease.std_dev, rel=1e-6)

    for change, before, after in (
        (gauge.width, gauge.unwashed_stitches, gauge.stitches),
        (gauge.length, gauge.unwashed_rows, gauge.rows),
    ):
        referee = 100 * (ufloat(before.per_10cm, before.u95) / ufloat(after.per_10cm, after.u95) - 1)
        assert change.percent == pytest.approx(referee.nominal_value, abs=1e-9)
        assert change.u95_percent == pytest.approx(referee.std_dev, rel=1e-6)


@given(st.floats(20, 4000))
def test_a_linear_density_agrees_with_pint(m_per_100g):
    """tex by definition, in pint's registry."""
    length, mass = UNITS.Quantity(m_per_100g, "m"), UNITS.Quantity(100, "g")

    assert LinearDensity(m_per_100g).tex == pytest.approx((mass / length).to("g/km").magnitude)
