"""The row ledger: it adds up, or it cannot be built."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from workshop.core.making.ledger import CannotBeKnitted, Event, Ledger
from workshop.core.making.necklines import crew_back, crew_front, straight
from workshop.core.making.shoulders import divide_at_neck


def test_sides_alternate_flat_and_rounds_have_none():
    flat, ring = Ledger("a", "flat", 10), Ledger("b", "round", 10)
    flat.work(3, "stocking")
    ring.work(2, "stocking")

    assert [r.side for r in flat.rows] == ["RS", "WS", "RS"]
    assert [r.side for r in ring.rows] == ["round", "round"]


def test_both_edges_count_their_stitches_once_each():
    ledger = Ledger("a", "flat", 10)
    ledger.shape("stocking", Event("decrease", "both", 1))
    ledger.shape("stocking", Event("increase", "both", 2), Event("cast-on", "left", 3))

    assert [(r.before, r.after) for r in ledger.rows] == [(10, 8), (8, 15)]


def test_a_row_cannot_use_stitches_that_are_not_there():
    ledger = Ledger("back", "flat", 5)

    with pytest.raises(CannotBeKnitted, match="back, row 1: 5 stitches are too few"):
        ledger.shape("stocking", Event("bind-off", "both", 3))
    with pytest.raises(CannotBeKnitted, match="-1 stitches"):
        ledger.shape("stocking", Event("increase", "left", -1))


def test_a_schedule_puts_events_on_its_rows_only():
    ledger = Ledger("sleeve", "flat", 40)
    ledger.work(2, "garter")
    ledger.work_schedule((1, 5), 6, "stocking", Event("increase", "both", 1))
    piece = ledger.piece(top=ledger.stitches)

    assert [r.row for r in piece.rows if r.events] == [3, 7]
    assert piece.bound_off == 44
    assert piece.key_counts == {"top": 44}
    assert piece.rows_of("garter") == 2
    assert piece.widest == 44


@given(width=st.integers(1, 120), rows=st.one_of(st.none(), st.integers(0, 60)))
def test_neck_steps_add_up_to_the_neck_and_never_grow_outwards(width, rows):
    for shape in (crew_front(width, rows), crew_back(width, rows)):
        assert shape.centre + 2 * sum(shape.steps) == width == shape.width
        assert list(shape.steps) == sorted(shape.steps, reverse=True)
        assert shape.centre >= 0
        assert all(1 <= step <= 8 for step in shape.steps)
        if rows is not None:
            assert len(shape.steps) <= rows


@given(width=st.integers(15, 120))
def test_a_crew_neck_binds_off_about_a_third_to_a_half_at_once(width):
    assert width / 3 - 1 <= crew_front(width).centre <= width / 2


def test_a_neck_of_no_stitches_is_refused():
    with pytest.raises(ValueError, match="0 stitches"):
        straight(0)


@given(
    shoulder=st.integers(2, 60),
    width=st.integers(6, 60),
    pairs=st.integers(2, 30),
    begins=st.sampled_from(["left", "right"]),
)
def test_both_shoulders_of_a_divided_piece_end_alike_on_the_same_row(shoulder, width, pairs, begins):
    rows = 2 * pairs
    shape = crew_front(width, pairs - 1)
    ledger = Ledger("front", "flat", 2 * shoulder + width, begins=begins)
    ledger.work(10, "stocking")
    whole, first, second = divide_at_neck(ledger, shape, rows, {})

    assert whole.rows[-1].side == "RS"
    assert whole.bound_off == 0
    assert {first.name, second.name} == {"front, left shoulder", "front, right shoulder"}
    for part in (first, second):
        assert part.bound_off == shoulder
        assert part.came_from == "front"
        assert part.rows[0].row == whole.last_row + 1
        assert part.last_row == 10 + rows
    # one shoulder has its steps on right-side rows, the one that waited on wrong-side rows
    sides = [{r.side for r in part.rows if r.events} for part in (first, second)]
    assert sides in ([{"RS"}, {"WS"}], [set(), set()])
