"""Gauge as a measurement. Referees: scipy for t quantiles; the derived tables of reading errors."""

from math import hypot, inf, sqrt
from statistics import stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from tests.factory import readings
from workshop.core.cloth.gauge import (
    EDGES_TO_A_QUARTER_SD,
    RESOLUTION_SD,
    T_95,
    gauge_of,
    odd_ones_out,
    reading_step,
    really_differ,
    t_95,
    width_for_accuracy,
)
from workshop.project import Reading


def washed(*counts: float, over_cm: float = 10.0):
    return gauge_of(readings("washed", "stitches", *counts, over_cm=over_cm))


def test_t_values_against_scipy():
    for degrees_of_freedom, value in enumerate(T_95, 1):
        assert value == pytest.approx(stats.t.ppf(0.975, degrees_of_freedom), abs=0.0006)
    assert t_95(500) == T_95[-1]


def test_reading_errors_are_uniform_within_a_step_and_triangular_over_two_edges():
    for step, sd in RESOLUTION_SD.items():
        assert sd == pytest.approx(stats.uniform(-step / 2, step).std(), abs=0.0005)
    assert pytest.approx(sqrt(2) * stats.uniform(-0.25, 0.5).std()) == EDGES_TO_A_QUARTER_SD


def test_gauge_is_total_count_over_total_length_not_the_mean_of_gauges():
    unequal = (Reading("washed", "stitches", 20, 10), Reading("washed", "stitches", 42, 20))

    assert gauge_of(unequal).per_10cm == pytest.approx(62 / 30 * 10)
    assert gauge_of(unequal).per_10cm != pytest.approx((20 + 21) / 2)


def test_worked_example_of_five_places():
    """5, 5 1/8, 4 7/8, 5, 5 1/8 per inch over 4 in: mean 5.025, t·s/√5 = 0.130 (derived example)."""
    over = 4 * 2.54
    gauge = washed(20, 20.5, 19.5, 20, 20.5, over_cm=over)
    per_inch = 2.54 / 10

    assert gauge.per_10cm * per_inch == pytest.approx(5.025)
    assert gauge.repeatability * per_inch == pytest.approx(0.130, abs=0.0006)
    assert gauge.u95 * per_inch == pytest.approx(0.148, abs=0.0006)
    assert gauge.u95_percent == pytest.approx(2.9, abs=0.05)


def test_equal_readings_still_leave_a_range():
    gauge = washed(20, 20, 20, 20)

    assert gauge.repeatability == 0
    assert gauge.u95 == pytest.approx(1.96 * 0.289 / 10 * 10)


def test_one_reading_takes_the_unevenness_of_an_uneven_hand_and_two_never_know_less_than_one():
    one, two, three = washed(22), washed(22, 22.5), washed(22, 22.5, 22.25)

    assert one.repeatability == pytest.approx(10 * 1.96 * 2.2 * 0.07 / sqrt(22))
    assert two.u95 < one.u95
    assert 0 < three.u95 < 2 * one.u95


@given(st.floats(12, 34), st.floats(0, 1), st.floats(8, 15))
def test_fewer_places_never_look_surer_than_more_that_are_alike(count, share, window):
    """One, two and three places with one scatter between them, up to that which the trade table takes for usual."""
    sd = share * 0.05 * sqrt(count)  # of a count: five per cent of a stitch's width, stitch by stitch
    one, two, three = (
        gauge_of([Reading("washed", "stitches", count + sd * off, window) for off in places])
        for places in ((0.0,), (-sqrt(0.5), sqrt(0.5)), (-1.0, 0.0, 1.0))
    )

    assert one.repeatability > two.repeatability >= three.repeatability - 1e-9
    assert three.repeatability == pytest.approx(10 * stats.t.ppf(0.975, 2) * sd / window / sqrt(3), rel=1e-3)


@given(st.lists(st.integers(60, 130), min_size=3, max_size=9), st.floats(5, 30))
def test_wider_windows_make_reading_errors_smaller(quarters, window):
    counts = [q / 4 for q in quarters]
    narrow = washed(*counts, over_cm=window)
    wide = washed(*(2 * c for c in counts), over_cm=2 * window)

    assert narrow.per_10cm == pytest.approx(wide.per_10cm)
    assert wide.resolution <= narrow.resolution / 2 * 4 + 1e-9  # the step may have changed, by four at most
    assert narrow.u95 >= narrow.resolution > 0
    assert 0 < narrow.u95 < inf


@pytest.mark.parametrize(
    ("counts", "step"), [((20, 21), 1.0), ((20, 20.5), 0.5), ((20.25, 20.5), 0.25), ((20.1, 20.3), 0.25)]
)
def test_the_coarsest_step_that_all_readings_fit_is_how_finely_they_were_read(counts, step):
    assert reading_step(readings("washed", "stitches", *counts)) == step


def test_no_readings_no_gauge():
    assert gauge_of(()) is None


def test_two_gauges_differ_only_beyond_their_joint_range():
    assert not really_differ(washed(20, 20.25, 20), washed(20.25, 20, 20.25))
    assert really_differ(washed(20, 20.25, 20), washed(23, 23.25, 23))


def test_a_reading_three_per_cent_off_its_fellows_is_named_not_dropped():
    found = readings("washed", "stitches", 20, 20, 21)

    assert odd_ones_out(found) == (found[2],)
    assert gauge_of(found).per_10cm == pytest.approx(61 / 3)
    assert odd_ones_out(readings("washed", "stitches", 20, 25)) == ()


@pytest.mark.parametrize(
    ("per_inch", "places", "sd", "inches"),
    [
        # derived table: finished bust 40 in within 1 in, 95 %, unevenness 5 %
        (5, 1, 2 * EDGES_TO_A_QUARTER_SD, 8.1),
        (5, 3, 2 * EDGES_TO_A_QUARTER_SD, 4.2),
        (5, 1, EDGES_TO_A_QUARTER_SD, 5.1),
        (5, 3, EDGES_TO_A_QUARTER_SD, 2.4),
        (4, 1, 2 * EDGES_TO_A_QUARTER_SD, 10.1),
        (8, 3, EDGES_TO_A_QUARTER_SD, 1.5),
    ],
)
def test_how_wide_a_swatch_must_be(per_inch, places, sd, inches):
    wide = width_for_accuracy("k", per_inch / 2.54 * 10, 101.6, 2.54, places=places, reading_sd=sd).value

    assert wide / 2.54 == pytest.approx(inches, abs=0.11)


@given(
    st.lists(st.integers(64, 120), min_size=3, max_size=6, unique=True),
    st.integers(1, 4),
)
def test_more_places_no_further_apart_make_a_gauge_surer(quarters, more):
    """Foretold from the spread of the places: as if each new one lay as far from the middle as those do on average."""
    gauge = gauge_of(readings("washed", "stitches", *(q / 4 for q in quarters)))

    foretold = gauge.u95_percent_with(more)
    assert foretold < gauge.u95_percent
    sd = stdev(q / 4 for q in quarters)
    many = len(quarters) + more
    by_scipy = hypot(stats.t.ppf(0.975, many - 1) * sd / sqrt(many), gauge.resolution)
    assert foretold == pytest.approx(100 * by_scipy / gauge.per_10cm, rel=1e-3)


def test_the_same_places_counted_again_keep_what_was_foretold():
    three = gauge_of(readings("washed", "stitches", 17.0, 17.5, 17.0))
    six = gauge_of(readings("washed", "stitches", 17.0, 17.5, 17.0, 17.0, 17.5, 17.0))

    assert three.u95_percent_with(3) == pytest.approx(six.u95_percent, rel=0.15)
    assert six.u95_percent < 0.55 * three.u95_percent
