"""Counts: rounding rules, parity, rib multiples. Facts marked [practice] are common practice, no source."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop.core.calculation import EVEN, WHOLE, Rounding
from workshop.core.making.counts import (
    edging_count,
    edging_rule,
    length_of,
    parity_rule,
    rib_count,
    rows_for,
    stitches_for,
    width_of,
)

amounts = st.floats(0.1, 2000)
rules = st.builds(
    lambda m, r, d: Rounding(m, r % m, d),
    st.integers(1, 30),
    st.integers(0, 29),
    st.sampled_from(["nearest", "up", "down"]),
)


@given(amount=amounts, rule=rules)
def test_a_rounded_count_is_legal_and_the_nearest_in_its_direction(amount, rule):
    count = rule(amount)

    assert count % rule.multiple == rule.remainder
    if rule.direction == "nearest":
        assert abs(count - amount) <= rule.multiple / 2 + 1e-6
    elif rule.direction == "up":
        assert -1e-6 <= count - amount < rule.multiple + 1e-6
    else:
        assert -1e-6 <= amount - count < rule.multiple + 1e-6


@given(count=st.integers(0, 3000), rule=rules)
def test_a_legal_count_stays_as_it_is_even_after_a_detour_through_floats(count, rule):
    legal = Rounding(rule.multiple, rule.remainder, "down")(count)

    assert rule(legal * 0.1 * 10) == legal


@pytest.mark.parametrize(
    ("rule", "amount", "count"),
    [
        (WHOLE, 20.5, 21),  # ties go up, said in the rule's words
        (EVEN, 101.0, 102),
        (EVEN, 100.99, 100),
        (Rounding(2, 1), 100.0, 101),
        (Rounding(2, 0, "up"), 5.25, 6),
        (Rounding(2, 0, "down"), 38.75, 38),
        (Rounding(4, 2), 100.0, 102),
        (Rounding(4, 2, "down"), 100.0, 98),
        (Rounding(4), 189.0, 188),
        (Rounding(ties="away"), -1.5, -2),
        (Rounding(ties="away"), 1.5, 2),
        (Rounding(), -1.5, -1),
    ],
)
def test_rounding(rule, amount, count):
    assert rule(amount) == count


def test_rules_say_what_they_do():
    up, odd = Rounding(2, 0, "up"), Rounding(2, 1)
    assert [r.words for r in (WHOLE, EVEN, odd, up, Rounding(4), Rounding(4, 2, "down"))] == [
        "nearest whole number",
        "nearest even number",
        "nearest odd number",
        "up to the next even number",
        "nearest multiple of 4",
        "down to the next multiple of 4 plus 2",
    ]


def test_no_count_is_rounded_to_a_multiple_below_one():
    with pytest.raises(ValueError, match="multiple of 0"):
        Rounding(0)


def test_stitches_are_rounded_once_from_the_width_and_say_what_that_cost():
    working = stitches_for("front", "Front", 50.0, 20.3, EVEN)

    assert working.exact == pytest.approx(101.5)
    assert working.count == 102
    assert working.difference_cm == pytest.approx(0.5 / 2.03)  # half a stitch wider


def test_rows_are_even_by_default_so_that_work_ends_after_a_wrong_side_row():
    assert rows_for("body", "Body", 60.0, 27.5).count == 166
    assert rows_for("body", "Body", 60.0, 27.5, WHOLE).count == 165


@given(st.integers(1, 900), st.floats(8, 60))
def test_width_and_length_turn_counts_back_into_cm(count, per_10cm):
    assert width_of("w", "w", count, per_10cm).value * per_10cm / 10 == pytest.approx(count)
    assert length_of("l", "l", count, per_10cm).value * per_10cm / 10 == pytest.approx(count)


@pytest.mark.parametrize(
    ("edging", "worked", "legal", "illegal"),
    [
        ("rib-2x2", "flat", [102, 98, 6], [100, 101, 104]),  # begins and ends k2: 4n + 2 [practice]
        ("rib-2x2", "round", [100, 188], [190, 102]),  # 190 is no 2x2 count, though one text allows it
        ("rib-1x1", "flat", [101, 7], [100]),  # mirrored ends [practice]
        ("rib-1x1", "round", [100], [101]),
        ("garter", "flat", [100], []),
        ("none", "round", [100], []),
    ],
)
def test_ribs_take_only_counts_that_their_repeat_divides(edging, worked, legal, illegal):
    rule = edging_rule(edging, worked)

    assert all(rule(n) == n for n in legal)
    assert not any(rule(n) == n for n in illegal)


@given(st.integers(6, 600), st.sampled_from(["rib-2x2", "rib-1x1", "garter"]), st.sampled_from(["flat", "round"]))
def test_body_and_rib_differ_by_a_few_stitches_at_most(stitches, edging, worked):
    body = parity_rule(edging, worked)(stitches)
    rule = edging_rule(edging, worked)
    rib = rib_count(body, rule)

    assert rule(rib) == rib
    assert abs(rib - body) <= 2
    assert (rib - body) % 2 == 0


def test_of_two_equally_near_rib_counts_the_smaller_is_taken():
    assert rib_count(100, Rounding(4, 2)) == 98


@pytest.mark.parametrize("stitches", [70, 71])
@pytest.mark.parametrize("worked", ["flat", "round"])
def test_an_edging_without_a_repeat_has_the_stitches_of_its_piece(stitches, worked):
    """Garter stitch needs no multiple, so no row above it adds or takes a stitch (common practice, no source)."""
    assert edging_count(stitches, "garter", worked) == edging_count(stitches, "none", worked) == stitches
    assert edging_count(stitches, "rib-2x2", "flat") == 70
