"""Spacing: the fourteen properties of even spreading, by hypothesis, and its infeasible cases."""

from itertools import accumulate, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop.core.making.spacing import (
    DoesNotFit,
    evenly,
    gentlest_shaping,
    in_blocks,
    on_right_side,
    over_rows,
    run_lengths,
    split_evenly,
    two_rates,
)


def pairs(rows_for_events, least=1):
    """Pairs (rows, events) in which the events fit."""
    return st.tuples(st.integers(least, 100), st.integers(0, 300)).map(lambda t: (rows_for_events(t[0]) + t[1], t[0]))


fitting = pairs(lambda n: n, least=2)
fitting_right_side = pairs(lambda n: 2 * n, least=2)
too_many = st.tuples(st.integers(1, 200), st.integers(1, 100)).map(lambda t: (t[0], t[0] + t[1]))
orders = st.sampled_from(["long-first", "short-first", "even"])


@given(fitting)
def test_gaps_fill_the_rows_exactly_and_are_neighbours(fit):
    r, n = fit
    schedule = over_rows(r, n)

    assert sum(schedule.gaps) == r  # property 1
    assert len(schedule.gaps) == n  # 2
    assert set(schedule.gaps) <= {r // n, r // n + 1}  # 3
    assert min(schedule.gaps) >= 1  # 4
    assert schedule.event_rows[-1] == r
    assert list(schedule.event_rows) == list(accumulate(schedule.gaps))


@given(fitting_right_side, orders)
def test_right_side_rows_only(fit, order):
    r, n = fit
    schedule = on_right_side(r, n, order=order)

    assert all(row % 2 == 1 for row in schedule.event_rows)  # 5: row 1 is a right-side row
    assert all(gap % 2 == 0 and gap >= 2 for gap in schedule.gaps)  # 3, 4
    assert max(schedule.gaps) - min(schedule.gaps) in (0, 2)
    assert schedule.event_rows[-1] < r  # 5: a wrong-side row follows the last event
    assert len(set(schedule.event_rows)) == n
    assert r - sum(schedule.gaps) == r % 2  # 6


@given(fitting, st.integers(1, 5))
def test_interleaved_gaps_repeat_when_everything_is_multiplied(fit, c):
    r, n = fit

    assert split_evenly(c * r, c * n, "even") == split_evenly(r, n, "even") * c  # 8


@given(fitting)
def test_long_first_read_backwards_is_short_first(fit):
    r, n = fit

    assert split_evenly(r, n) == split_evenly(r, n, "short-first")[::-1]  # 9


@given(st.tuples(st.integers(1, 40), st.integers(0, 80)))
def test_interleaved_gaps_are_balanced(fit):
    n, r = fit[0], fit[0] + fit[1]
    gaps = split_evenly(r, n, "even")

    for width in range(1, len(gaps) + 1):
        sums = [sum(gaps[i : i + width]) for i in range(len(gaps) - width + 1)]
        assert max(sums) - min(sums) <= 1  # 10


@given(fitting)
def test_one_more_row_lengthens_one_gap_by_one(fit):
    r, n = fit
    before, after = sorted(over_rows(r, n).gaps), sorted(over_rows(r + 1, n).gaps)

    assert sum(after) - sum(before) == 1
    assert sum(a != b for a, b in zip(before, after, strict=True)) == 1  # 11


@given(fitting_right_side)
def test_two_more_rows_lengthen_one_right_side_gap_by_two(fit):
    r, n = fit
    before, after = sorted(on_right_side(r, n).gaps), sorted(on_right_side(r + 2, n).gaps)

    assert sorted(b - a for a, b in zip(before, after, strict=True))[-1] == 2  # 11
    assert sum(after) - sum(before) == 2


@given(too_many)
def test_more_events_than_rows_raise_instead_of_gaps_of_nothing(fit):
    r, n = fit

    with pytest.raises(DoesNotFit):
        over_rows(r, n)  # 14
    with pytest.raises(DoesNotFit):
        on_right_side(r, n)


def test_right_side_rows_refuse_what_any_row_would_take():
    with pytest.raises(DoesNotFit, match="11 shaping rows don't fit in 20 rows: there's room for 10"):
        on_right_side(20, 11)
    assert len(over_rows(20, 11).gaps) == 11


def test_no_event_is_plain_work_and_one_event_stands_in_the_middle():
    assert over_rows(20, 0).event_rows == ()
    assert on_right_side(20, 0).gaps == ()
    assert over_rows(20, 1).event_rows == (10,)
    assert over_rows(1, 1).event_rows == (1,)
    assert on_right_side(20, 1).event_rows == (9,)
    assert on_right_side(2, 1).event_rows == (1,)


@pytest.mark.parametrize("call", [lambda: over_rows(-1, 1), lambda: on_right_side(4, -1)])
def test_counts_below_zero_are_refused(call):
    with pytest.raises(ValueError, match="zero or more"):
        call()


@given(st.integers(1, 80).flatmap(lambda n: st.tuples(st.just(n), st.integers(n, 4 * n))))
def test_two_rates_fill_the_rows_exactly(fit):
    n, r = fit
    r -= r % 2 if r >= 2 * n else 0
    (slow, many), (quick, few) = two_rates(r, n)

    assert slow * many + quick * few == r
    assert many + few == n
    assert many >= 0
    assert few >= 0


@pytest.mark.parametrize(("r", "n"), [(5, 6), (25, 6), (13, 6), (5, 0)])
def test_two_rates_refuse_what_no_two_neighbouring_rates_can_do(r, n):
    with pytest.raises(DoesNotFit):
        two_rates(r, n)


def test_splitting_into_no_parts_is_refused():
    with pytest.raises(ValueError, match="into 0 parts"):
        split_evenly(4, 0)


@given(
    st.integers(1, 60), st.integers(0, 300), st.sampled_from(["m1", "kfb", "k2tog"]), st.sampled_from(["flat", "round"])
)
def test_what_the_fingers_count_adds_up_to_the_row_for_every_technique(events, extra, technique, worked):
    used = {"m1": 0, "kfb": 1, "k2tog": 2}[technique]
    stitches = events * used + extra
    gaps = evenly(stitches, events, technique, worked)

    assert len(gaps) == events + 1
    assert sum(gaps) + events * used == stitches
    assert min(gaps) >= 0
    between = gaps[1:-1] if worked == "flat" else gaps[:-1]
    assert not between or max(between) - min(between) <= 1
    if worked == "flat":
        assert abs(gaps[0] - gaps[-1]) <= 1  # half a gap at both edges
    else:
        assert gaps[-1] == 0


def test_more_decreases_than_stitches_are_refused():
    with pytest.raises(DoesNotFit, match="there's no room to work k2tog 30 times across 55 stitches"):
        evenly(55, 30, "k2tog", "flat")
    with pytest.raises(DoesNotFit):
        evenly(55, 0, "m1", "flat")


def test_run_lengths_are_what_is_printed():
    assert run_lengths([6, 6, 4, 4, 4]) == ((6, 2), (4, 3))
    assert run_lengths(over_rows(10, 4).gaps) == ((2, 2), (3, 2))


@given(st.integers(0, 120), st.integers(0, 260))
def test_an_expert_shapes_the_gentlest_way_that_fits(rows, events):
    """The infeasible cases of the method: right side, then every row, then several stitches at once."""
    if events > 4 * (rows // 2) and events > rows:
        with pytest.raises(DoesNotFit):
            gentlest_shaping(rows, events)
        return
    found = gentlest_shaping(rows, events)
    at = found.schedule.event_rows

    assert sum(found.stitches) == events
    assert len(at) == len(found.stitches) == len(set(at))
    assert all(1 <= row <= rows for row in at)
    assert found.way == (
        "nothing"
        if not events
        else "right side"
        if events <= rows // 2
        else "every row"
        if events <= rows
        else "several at once"
    )
    if found.way == "right side":
        assert all(row % 2 for row in at)
    if found.way == "every row":  # a wrong-side row is the last resort: all right-side rows are taken
        assert set(range(1, rows + 1, 2)) <= set(at)
        assert sorted(found.schedule.gaps) == [1] * (2 * events - rows) + [2] * (rows - events)
    if found.way == "several at once":
        assert max(found.stitches) - min(found.stitches) <= 1


def test_36_events_in_60_rows_stand_on_every_row_12_times_and_on_every_second_24_times():
    """x = 2n − r every row, y = r − n every second row (method, worked out)."""
    assert run_lengths(gentlest_shaping(60, 36).schedule.gaps) == ((1, 12), (2, 24))


@given(st.lists(st.sampled_from([3, 4]), min_size=1, max_size=200))
def test_gaps_put_in_blocks_are_the_same_gaps_and_as_even(gaps):
    blocks = in_blocks(gaps)
    again = [gap for block, times in blocks for gap in block * times]

    assert sorted(again) == sorted(gaps)
    assert len(blocks) <= 2
    rare = min((3, 4), key=gaps.count)
    if gaps.count(rare):
        apart = [b - a for a, b in pairwise(i for i, gap in enumerate(again) if gap == rare)]
        assert not apart or max(apart) - min(apart) <= 1
