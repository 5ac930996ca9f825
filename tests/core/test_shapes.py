"""Armholes, caps, raglan lines, yokes, darts and buttonholes: each by itself, against figures in print."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop.core.making.armholes import Armhole, set_in_armhole
from workshop.core.making.bands import Bands, EdgePart
from workshop.core.making.buttonholes import buttonhole_gaps
from workshop.core.making.caps import fitting_cap
from workshop.core.making.cloth import Cloth
from workshop.core.making.darts import plan_dart, wanted_length_cm
from workshop.core.making.panels import shoulder_steps
from workshop.core.making.raglan_lines import RaglanShape, from_the_neck, line_rows
from workshop.core.making.spacing import run_lengths
from workshop.core.making.yoke_percentages import decrease_rounds

INCHES = Cloth(50 / 2.54, 70 / 2.54)
"""5 stitches and 7 rows to the inch."""


def gaps(rows):
    return run_lengths([b - a for a, b in pairwise(rows)])


# ── raglan lines ─────────────────────────────────────────────────────────────────────────────────────


def test_36_events_in_60_rows_go_every_row_and_every_2nd_row():
    """Derived: every row 12 times, every 2nd row 24 times."""
    assert gaps((*line_rows(60, 36), 61)) == ((1, 12), (2, 24))


def test_a_raglan_of_forty_inches():
    """Derived example: back neck 36, sleeve top 10, underarm 12, 54 rows end on a back of 100 and a sleeve of 66."""
    shape = RaglanShape(back=100, sleeve=66, underarm=12, back_neck=36, sleeve_top=10, rows=54)

    assert (shape.body_events, shape.sleeve_events) == (26, 22)
    assert shape.fits


@given(rows=st.integers(1, 60).map(lambda n: 2 * n), events=st.integers(0, 120))
def test_lines_hold_their_events_on_right_side_rows_where_they_can(rows, events):
    if events > rows:
        with pytest.raises(ValueError, match="don't fit"):
            line_rows(rows, events)
        return
    found = line_rows(rows, events)

    assert len(set(found)) == events
    assert list(found) == sorted(found)
    assert not found or 1 <= found[0] <= found[-1] <= rows
    if rows >= 2 * events:
        assert all(row % 2 for row in found)
        assert all(row % 2 for row in from_the_neck(found, rows))


@given(
    rows=st.integers(1, 60).map(lambda n: 2 * n), body=st.integers(0, 60), sleeve=st.integers(0, 60), up=st.booleans()
)
def test_body_and_sleeves_are_shaped_in_the_same_rows(rows, body, sleeve, up):
    """One of them leaves rows out; none has a shaping row of its own between those of the other (common practice, no
    source: so compound raglans are written, as decreases of one side that are left out)."""
    shape = RaglanShape(back=2 * body, sleeve=2 * sleeve, underarm=0, back_neck=0, sleeve_top=0, rows=rows)
    if not shape.fits:
        return
    both = shape.body_rows, shape.sleeve_rows
    fewer, more = sorted((from_the_neck(at, rows) for at in both) if up else both, key=len)

    assert [len(at) for at in both] == [body, sleeve]
    assert set(fewer) <= set(more)
    assert list(fewer) == sorted(fewer)


# ── armhole and cap ──────────────────────────────────────────────────────────────────────────────────


def test_the_edge_of_a_worked_armhole():
    """Worked by hand at 5 x 7: bind off 5 and 2, four single decreases, 56 rows: 9.17 in for the 54 rows above the
    first bind-off; the two rows beside it are counted here too, 2/7 in more."""
    armhole = Armhole((5, 2), (5, 7, 9, 11), 56)

    assert armhole.edge_cm(INCHES) / 2.54 == pytest.approx(9.17 + 2 / 7, abs=0.02)
    assert armhole.taken == 11
    assert armhole.shaped_rows == 11


def test_a_cap_for_the_worked_armhole_is_about_as_high_as_three_rules_say():
    """Upper arm 66 at 5 x 7: 5.43 in by hand; armhole less 3 in is 5.0, two thirds of it 5.3 in."""
    armhole = Armhole((5, 2), (5, 7, 9, 11), 56)
    cap = fitting_cap(66, armhole.bind_offs, armhole.edge_cm(INCHES), 8.0 * 2.54, INCHES)

    assert 5.0 <= cap.rows / 7 <= 6.3
    assert -0.01 <= cap.edge_cm(INCHES) / armhole.edge_cm(INCHES) - 1 <= 0.05
    taken = sum(cap.bind_offs) + len(cap.decrease_rows) + sum(cap.top_steps)
    assert 2 * taken + cap.top == 66


@given(st.integers(1, 60), st.integers(10, 60).map(lambda n: 2 * n), st.integers(10, 34))
def test_an_armhole_takes_what_it_is_asked_within_two_thirds_of_its_rows(taken, rows, gauge):
    armhole = set_in_armhole(taken, rows, Cloth(gauge, gauge * 1.4))
    if armhole is None:
        return
    assert armhole.taken == taken
    assert armhole.shaped_rows <= rows * 2 / 3
    assert list(armhole.decrease_rows) == sorted(set(armhole.decrease_rows))
    assert list(armhole.bind_offs[1:]) == sorted(armhole.bind_offs[1:], reverse=True)


def test_nothing_to_take_is_no_armhole():
    assert set_in_armhole(0, 50, INCHES) is None


def test_shoulders_of_21_in_four_steps():
    """Printed: 21 stitches over 4 steps are 6, 5, 5, 5."""
    assert shoulder_steps(21, 6) == (6, 5, 5, 5)
    assert shoulder_steps(3, 20) == (3,)


# ── round yoke ───────────────────────────────────────────────────────────────────────────────────────


def test_a_yoke_of_268_comes_to_80_by_three_quarters_two_thirds_and_three_fifths():
    """Published percentages: 134 per cent of a body of 200, kept by 3/4, 2/3 and 3/5, is a neck of 40 per cent."""
    assert [r.left for r in decrease_rounds(268, 80, 60)] == [201, 134, 80]
    assert [r.row for r in decrease_rounds(268, 80, 60)] == [30, 45, 60]


@given(start=st.integers(60, 700), part=st.floats(0.12, 0.95), rows=st.integers(30, 90))
def test_a_yoke_ends_on_its_neck_and_never_puckers(start, part, rows):
    neck = max(8, round(start * part))
    rounds = decrease_rounds(start, neck, rows)
    left = [start, *(r.left for r in rounds)]

    assert left[-1] == neck
    for before, after in pairwise(left):
        assert after < before
        assert after / before >= 3 / 5 - 0.06  # the set in print, also down to 28 of 100
    at = [r.row for r in rounds]
    assert at == sorted(set(at))
    assert at[-1] <= rows


# ── darts and buttonholes ────────────────────────────────────────────────────────────────────────────


def test_a_millimetre_is_no_dart():
    assert plan_dart(0.1, 20.0, 40, 30.0, 42.0) is None


def test_darts_begin_with_a_c_cup_and_stop_at_three_inches():
    """Rule of thumb in print: 3/4 to 1 in from a C cup, as much for each further size."""
    assert wanted_length_cm(97.0, 90.0) == 0.0
    assert wanted_length_cm(97.5, 90.0) == pytest.approx(2.0)
    assert wanted_length_cm(100.0, 90.0) == pytest.approx(4.0)
    assert wanted_length_cm(150.0, 90.0) == 7.5


@given(
    stitches=st.integers(30, 200),
    buttons=st.integers(1, 12),
    gauge=st.integers(10, 34),
    fabric=st.sampled_from([("garter", 1, 0), ("rib-1x1", 2, 1), ("rib-2x2", 4, 2)]),
    beside=st.tuples(st.integers(0, 90), st.integers(0, 90)),
)
def test_buttonholes_use_up_the_band_and_stand_evenly(stitches, buttons, gauge, fabric, beside):
    """All as far apart, each with its purl stitches; one button more or fewer; other stitches may lie beside them."""
    if buttons > (stitches - 4) // 4:
        return
    name, repeat, purls = fabric
    found = buttonhole_gaps(stitches, buttons, gauge, name, *beside)

    holes = len(found) - 1
    assert sum(found) + 2 * holes == stitches + sum(beside)
    assert abs(holes - buttons) <= 1
    assert found[0] % repeat == purls % repeat
    assert all((gap + 2) % repeat == 0 and gap >= 1 for gap in found[1:-1])
    assert found[0] > beside[0]
    assert found[-1] > beside[1]
    assert len(set(found[1:-1])) <= 1


@pytest.mark.parametrize(("side", "other"), [("right", "left"), ("left", "right")])
def test_one_front_band_has_the_buttonholes(side, other):
    edge = EdgePart("front edge", slope_cm=55.0, rows=160)
    bands = {b.name: b for b in Bands(INCHES, "rib-2x2", 2.5, holes_on=side).fronts(edge)}
    holed, plain = bands[f"{side} front band"], bands[f"{other} front band"]
    events = [e for r in holed.rows for e in r.events[-1:]]

    assert [e.do for e in events] == ["pick-up", "bind-off", "cast-on"]
    assert events[1].stitches == 2 * holed.key_counts["buttonholes"] == events[2].stitches
    assert holed.bound_off == plain.bound_off
    assert [r.side for r in holed.rows if r.events][1] == "RS"
