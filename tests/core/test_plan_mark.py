"""The mark of a plan: another as soon as one count, row or length is, and by nothing else."""

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.core.test_garments import projects
from tests.factory import pullover, shaped, swatch
from workshop.core.making.ledger import Piece
from workshop.core.plan import Plan, plan
from workshop.core.plan_mark import SIGNS, plan_mark
from workshop.project import Project


def test_a_mark_is_short_and_of_signs_that_no_one_confuses():
    first, second = (plan_mark(plan(pullover())) or "").split("-")

    assert {len(first), len(second)} == {3}
    assert set(first + second) <= set(SIGNS)
    assert not set(SIGNS) & set("01ILOU")


def test_there_is_no_mark_before_there_is_a_garment():
    assert plan_mark(plan(Project())) is None


@given(projects())
def test_it_is_the_same_in_every_unit_and_term_and_under_any_name(project):
    known = replace(project, swatch=tuple(replace(s, width_cm=15.0) for s in project.swatch))
    mark = plan_mark(plan(known))

    assert plan_mark(plan(replace(known, units="in", terms="uk", needle_names="us", title="Other", notes="x"))) == mark


def with_piece(made: Plan, place: int, piece: Piece) -> Plan:
    pieces = tuple(piece if i == place else p for i, p in enumerate(made.made.pieces))
    return replace(made, made=replace(made.made, pieces=pieces))


@given(projects(), st.data())
def test_it_is_another_as_soon_as_one_count_one_row_or_one_length_is(project, data):
    now = plan(project)
    assume(now.made.pieces)
    mark = plan_mark(now)
    place = data.draw(st.integers(0, len(now.made.pieces) - 1))
    piece = now.made.pieces[place]
    number = data.draw(st.integers(0, len(piece.rows) - 1))
    row = piece.rows[number]
    more = replace(row, after=row.after + 1)
    part = data.draw(st.sampled_from(sorted(now.made.finished_cm)))
    longer = {**now.made.finished_cm, part: now.made.finished_cm[part] + 0.1}

    for other in (
        with_piece(now, place, replace(piece, cast_on=piece.cast_on + 1)),
        with_piece(now, place, replace(piece, rows=(*piece.rows[:number], more, *piece.rows[number + 1 :]))),
        with_piece(now, place, replace(piece, rows=piece.rows[:-1])),
        replace(now, made=replace(now.made, finished_cm=longer)),
    ):
        assert plan_mark(other) != mark


@pytest.mark.parametrize(
    "other",
    [
        pytest.param(shaped(pullover(), length_cm=61.0), id="a centimetre longer"),
        pytest.param(pullover(swatch=(swatch(20.1),)), id="another gauge"),
        pytest.param(pullover(swatch=(swatch(washed_rows=27.0),)), id="another change in the wash"),
        pytest.param(shaped(pullover(), neckline="v"), id="another neck"),
    ],
)
def test_other_answers_make_another_mark(other):
    assert plan_mark(plan(other)) != plan_mark(plan(pullover()))


@pytest.mark.parametrize(
    ("gauge", "choices", "mark"),
    [
        ((20, 28), {}, "PAW-QBW"),
        ((20, 28), {"front": "open"}, "GVC-M3M"),
        ((17, 23), {}, "Z6N-D4H"),
        ((17, 23), {"construction": "set-in", "neckline": "v"}, "5KD-HEV"),
        ((20, 28), {"construction": "raglan-from-hem", "worked": "round"}, "QAA-NTF"),
        ((26, 35), {"construction": "raglan-from-neck", "worked": "round", "neckline": "scoop"}, "4TK-KSD"),
    ],
)
def test_prints_of_november_2026_are_still_recognised(gauge, choices, mark):
    """The mark of the same plan as the workshop made it then: another count of rows beside the steps is no other plan."""
    assert plan_mark(plan(shaped(pullover(swatch=(swatch(*gauge),)), **choices))) == mark


def test_another_stitch_of_the_pattern_in_the_middle_is_another_mark():
    marks = [
        plan_mark(plan(shaped(pullover(), fabric="basket", fabric_fit="centred", fabric_centre=centre)))
        for centre in ("motif", "between", None)
    ]

    assert marks[0] != marks[1]
    assert marks[0] == marks[2]
