"""The row ledger: it adds up, or it cannot be built."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop.core.making import roles
from workshop.core.making.ledger import CannotBeKnitted, Event, Ledger
from workshop.core.making.necklines import crew_back, crew_front, scoop_front, v_front
from workshop.core.making.panels import alike, at_edge, bound_off_at_both, sloped, work_panel


def test_sides_alternate_flat_and_rounds_have_none():
    flat, ring = Ledger(roles.BACK, "flat", 10), Ledger(roles.BODY, "round", 10)
    flat.work(3, "stockinette")
    ring.work(2, "stockinette")

    assert [r.side for r in flat.rows] == ["RS", "WS", "RS"]
    assert [r.side for r in ring.rows] == ["round", "round"]


def test_both_edges_count_their_stitches_once_each():
    ledger = Ledger(roles.BACK, "flat", 10)
    ledger.shape("stockinette", Event("decrease", "both", 1))
    ledger.shape("stockinette", Event("increase", "both", 2), Event("cast-on", "left", 3))

    assert [(r.before, r.after) for r in ledger.rows] == [(10, 8), (8, 15)]


def test_a_row_cannot_use_stitches_that_are_not_there():
    ledger = Ledger(roles.BACK, "flat", 5)

    with pytest.raises(CannotBeKnitted, match="back, row 1: 5 stitches are too few"):
        ledger.shape("stockinette", Event("bind-off", "both", 3))
    with pytest.raises(CannotBeKnitted, match="-1 stitches"):
        ledger.shape("stockinette", Event("increase", "left", -1))


def test_a_panel_has_its_events_on_their_rows_only():
    ledger = Ledger(roles.SLEEVE, "flat", 40)
    ledger.work(2, "garter")
    ledger.follow(8, alike((3, 7), "increase"))
    piece = ledger.piece(top=ledger.stitches)

    assert [r.row for r in piece.rows if r.events] == [3, 7]
    assert piece.bound_off == 44
    assert piece.key_counts == {"top": 44}
    assert [r.fabric for r in piece.rows] == ["garter"] * 2 + ["stockinette"] * 6
    assert piece.widest == 44


@given(width=st.integers(1, 120), pairs=st.integers(0, 60))
def test_neck_steps_add_up_to_the_neck_and_never_grow_outwards(width, pairs):
    for shape in (crew_front(width, pairs), crew_back(width, pairs)):
        steps = [t.stitches for t in shape.decreases]
        assert shape.centre + 2 * sum(steps) == width
        assert steps == sorted(steps, reverse=True)
        assert shape.centre >= 0
        assert all(1 <= step <= 8 for step in steps)
        assert len(steps) <= pairs


@given(width=st.integers(15, 120))
def test_a_crew_neck_binds_off_about_a_third_to_a_half_at_once(width):
    assert width / 3 - 1 <= crew_front(width, width).centre <= width / 2


def test_a_neck_of_no_stitches_is_refused():
    with pytest.raises(ValueError, match="0 stitches"):
        crew_front(0, 4)


@given(
    shoulder=st.integers(2, 60),
    width=st.integers(6, 60),
    pairs=st.integers(2, 30),
    begins=st.sampled_from(["left", "right"]),
)
def test_both_shoulders_of_a_divided_piece_end_alike_on_the_same_row(shoulder, width, pairs, begins):
    rows = 2 * pairs
    shape = crew_front(width, pairs - 1)
    ledger = Ledger(roles.FRONT, "flat", 2 * shoulder + width, begins=begins)
    ledger.work(10, "stockinette")
    whole, first, second = work_panel(ledger, (), shape, rows, 10 + rows, {})

    assert whole.rows[-1].side == "RS"
    assert whole.bound_off == 0
    assert {first.name, second.name} == {"front, left shoulder", "front, right shoulder"}
    for part in (first, second):
        assert part.bound_off == shoulder
        assert part.parent.name == "front"
        assert part.rows[0].row == whole.last_row + 1
        assert part.last_row == 10 + rows
    # one shoulder binds off on right-side rows, the one that waited on wrong-side rows; both decrease on the right side
    bound = [{r.side for r in p.rows if any(e.do == "bind-off" for e in r.events)} for p in (first, second)]
    assert bound in ([{"RS"}, {"WS"}], [set(), set()])
    single = {r.side for p in (first, second) for r in p.rows if any(e.do == "decrease" for e in r.events)}
    assert single <= {"RS"}


@given(width=st.integers(1, 120), pairs=st.integers(1, 60), plain=st.integers(0, 4))
def test_a_v_and_a_scoop_add_up_inside_their_rows(width, pairs, plain):
    for shape in (v_front(width, pairs, plain), scoop_front(width, pairs)):
        assert shape.centre + 2 * sum(t.stitches for t in shape.decreases) == width
        at = [t.pair for t in shape.decreases]
        assert at == sorted(set(at))
        assert not at or 1 <= at[0] <= at[-1] <= pairs
    v = v_front(width, pairs, plain)
    assert all(t.decreased for t in v.decreases)
    assert v.centre % 2 == width % 2


def test_bind_offs_stand_where_rows_begin_and_short_rows_where_they_end():
    bound = bound_off_at_both("left", 11, (5, 2))
    turned = sloped("left", 11, (4, 4, 3), short_rows=True)

    assert [s.rows for s in at_edge(bound, "left")] == [(11,), (13,)]  # right-side rows begin at the left
    assert [s.rows for s in at_edge(bound, "right")] == [(12,), (14,)]
    assert [s.rows for s in at_edge(turned, "left")] == [(10,), (12,)]  # wrong-side rows end there
    assert [s.event.stitches for s in at_edge(turned, "right")] == [4, 8]


def test_a_schedule_says_its_rhythm():
    (sleeve,) = alike((7, 13, 19, 25, 33, 41), "increase")

    assert sleeve.rhythm == ((6, 3), (8, 2))
    assert sleeve.change == 12


def test_a_piece_keeps_its_schedules_as_far_as_they_were_knitted():
    """What goes on above the row that divides belongs to the part that it happens in."""
    ledger = Ledger(roles.FRONT, "flat", 60, begins="left")
    outer = alike((3, 5, 7, 9, 11))
    whole, *parts = work_panel(ledger, outer, v_front(20, 9), 20, 24, {})

    assert outer[0].event == whole.schedules[0].event
    assert whole.schedules[0].rows == (3, 5)
    for part in parts:
        assert next(s.rows for s in part.schedules if s.event.where == part.side) == (7, 9, 11)


def test_armhole_neck_and_shoulder_may_overlap():
    ledger = Ledger(roles.FRONT, "flat", 60, begins="left")
    outer = bound_off_at_both("left", 1, (4,)) + alike((3, 5, 7, 9, 11))
    parts = work_panel(ledger, outer, v_front(20, 9), 20, 24, {})

    assert parts[0].rows[-1].row == 5
    assert [p.bound_off for p in parts] == [0, 11, 11]
