"""Counting for practice: the same arithmetic as a real swatch."""

import re
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.factory import pullover
from workshop.core.counting_practice import Practice, fresh, judge, refused
from workshop.pictures.swatch_picture import Window, window_text
from workshop.words.phrase import say


@given(st.integers(0, 10_000))
def test_a_fresh_swatch_is_one_that_hands_knit(seed):
    one = fresh(Random(seed))

    assert (13 <= one.count <= 22) if one.along == "stitches" else (18 <= one.count <= 30)
    assert one.count * 4 == int(one.count * 4)


def test_swatches_differ_from_time_to_time():
    assert len({fresh(Random(seed)).count for seed in range(40)}) > 10


@pytest.mark.parametrize(
    ("practice", "counted", "said"),
    [
        (Practice("stitches", 20.0), 20.0, "Your count is exactly right."),
        (
            Practice("stitches", 20.0),
            21.0,
            "5% more stitches than there are. A 100 cm chest would have come out 5 cm too wide.",
        ),
        (
            Practice("stitches", 20.0),
            19.75,
            "Close! You counted 1.2% fewer stitches than there are. A 100 cm chest would",
        ),
        (
            Practice("rows", 25.0),
            24.0,
            "4% fewer rows than there are. A 60 cm body would have come out 2.4 cm too short.",
        ),
    ],
)
def test_what_a_miscount_does_to_a_jumper(practice, counted, said):
    """100 cm at 21 instead of 20 stitches is 210 stitches, and 210 stitches at 20 to 10 cm are 105 cm."""
    text = say(judge(practice, counted), pullover())

    assert text.startswith(f"There are {practice.count:g} {practice.along} between the pins.")
    assert said in text


@pytest.mark.parametrize(
    ("practice", "counted", "said"),
    [
        (
            Practice("stitches", 20.0),
            21.0,
            "5% more stitches than there are. A 40 in chest would have come out 2 in too wide.",
        ),
        (
            Practice("rows", 25.0),
            24.0,
            "4% fewer rows than there are. A 24 in body would have come out 1 in too short.",
        ),
    ],
)
def test_in_inches_it_is_a_jumper_in_inches(practice, counted, said):
    """40 in at 21 instead of 20 stitches in 4 in are 42 in; 24 in less 4 per cent lack 0.96 in."""
    assert said in say(judge(practice, counted, "in"), pullover(units="in"))


@pytest.mark.parametrize("counted", [-3, 0, 0.5, 60.5, 500, 1e9])
def test_a_count_that_nobody_can_have_made_is_refused(counted):
    assert "should be between 1 and 60" in refused(Practice("stitches", 20.0), counted)


@pytest.mark.parametrize("counted", [5, 9.5, 41, 60])
def test_a_count_of_less_than_half_or_more_than_twice_is_no_miscount(counted):
    assert "far from what's between the pins" in refused(Practice("stitches", 20.0), counted)


@given(st.integers(0, 1000), st.floats(0.51, 1.99))
def test_a_count_that_is_only_wrong_is_judged(seed, times):
    one = fresh(Random(seed))
    assert refused(one, one.count * times) == ""


def test_in_a_pattern_repeats_are_counted_and_the_stitches_over():
    """Of 4 stitches: five repeats are 20, and a stitch and a half are over."""
    practice = Practice("stitches", 21.5, repeat=4)

    assert say(judge(practice, 21.5), pullover()).endswith(
        "5 repeats of 4 stitches and 1.5 more. Your count is exactly right."
    )
    assert "You're off by a whole repeat." in say(judge(practice, 17.5), pullover())
    assert "You're off by a whole repeat." in say(judge(practice, 25.5), pullover())
    assert "repeat." not in say(judge(practice, 20.5), pullover())
    assert "repeat" not in say(judge(Practice("stitches", 21.5), 17.5), pullover())


def test_some_swatches_to_count_are_in_a_pattern_whose_repeats_can_be_seen():
    """The last stitch of each repeat is a purl: as many dashes between the pins as there are whole repeats."""
    seen = [one for seed in range(60) if (one := fresh(Random(seed))).repeat]

    assert 5 < len(seen) < 40
    for one in seen:
        assert one.along == "stitches"
        row = window_text(Window(one.count, 10, repeat=one.repeat), columns=70, tell=False)[0]
        half = one.count % one.repeat > one.repeat - 1  # of the next purl stitch, at the right pin
        assert len(re.findall("-+", row)) == int(one.count // one.repeat) + half
