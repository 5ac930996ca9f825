"""Only what is asked for counts: every question with a condition, there and back."""

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.core.test_garments import projects
from tests.factory import pullover, swatch
from workshop.planned import plan
from workshop.progress import changed_since, confirm, progress
from workshop.project import STEPS, Body, Project
from workshop.questions import always
from workshop.questions.colours import Bands
from workshop.questions.kinds import Choice, Length
from workshop.questions.places import in_table
from workshop.questions.steps import all_questions, as_asked, asked_as, conditional, faults, fields, not_asked_now

TURNS = {
    "body.source": ("own", "table", "garment", None),
    "body.table": ("women", "men", None),
    "body.high_bust_cm": (80.0, None),
    "garment.hem": ("rib-2x2", "none"),
    "garment.sleeve": ("long", "none"),
    "garment.neckline": ("crew", "boat"),
    "garment.construction": ("drop-shoulder", "raglan-from-hem", "round-yoke"),
    "garment.waist": ("straight", "shaped"),
    "garment.fabric": ("seed", None),
}
"""Answers that open questions and close them."""

CONDITIONAL = [q for q, _ in conditional()]


def with_answer(project: Project, key: str, value: object) -> Project:
    table, name = key.split(".")
    return replace(project, **{table: replace(getattr(project, table), **{name: value})})


BARE = (
    pullover(body=Body(source="own", table="women", chest_cm=92.0)),
    pullover(body=Body()),
)


def paths(key: str):
    """Ways to a question and back again: the project before, and the turn that opens it."""
    question, field = next((q, f) for q, f in conditional() if q.key == key)
    for bare, (turn, values) in product(BARE, TURNS.items()):
        for shut, opened in product(values, values) if turn != key else ():
            before = field.put(with_answer(bare, turn, shut), None)
            there = with_answer(before, turn, opened)
            if not question.when(before) and question.when(there):
                yield before, there, turn, shut


@pytest.mark.parametrize("key", [q.key for q in CONDITIONAL])
def test_an_answer_whose_question_is_not_asked_any_more_changes_nothing(key):
    field = next(f for q, f in conditional() if q.key == key)
    walked = 0
    for before, there, turn, shut in paths(key):
        kind = field.question.kind
        for value in _answers(kind, there):
            back = with_answer(field.put(there, value), turn, shut)
            if field.question.when(back):  # asked for wherever it is given
                continue
            walked += 1
            assert field.get(back) == value, "the file keeps it"
            assert plan(back) == plan(before)
            assert progress(plan(back)) == progress(plan(before))
    assert walked or key in SHOW_THEMSELVES, f"{key} was never walked"


SHOW_THEMSELVES = ("body.table", "body.chest_cm")
"""Where one of them is given, it says where the measurements come from, and is asked for."""


def _answers(kind, project):
    if isinstance(kind, Choice):
        return [o.value for o in kind.options(project)]
    if isinstance(kind, Bands):
        return [kind.read(kind.example(project), project)]
    assert isinstance(kind, Length)
    return [kind.low, kind.high]


def test_the_garment_that_fits_is_forgotten_with_a_tape_in_hand():
    project = pullover(body=Body(source="own", table="women", chest_cm=92.0))
    measured = with_answer(with_answer(project, "body.source", "garment"), "reference_garment.chest_width_cm", 60.0)

    assert plan(measured).targets.get("chest") == 120.0
    assert plan(with_answer(measured, "body.source", "own")).targets.get("chest") == plan(project).targets.get("chest")


def test_a_hidden_answer_does_not_make_a_later_step_look_again():
    project = pullover(body=Body(source="own", table="women", chest_cm=92.0))
    done = project
    for step in STEPS:
        done = confirm(step, done)
    hidden = with_answer(done, "reference_garment.chest_width_cm", 60.0)

    assert not any(changed_since(step, hidden) for step in STEPS)


@given(projects(), st.sampled_from(["own", "table", "garment", None]))
def test_what_counts_is_what_is_shown(project, source):
    project = with_answer(project, "body.source", source)
    counting = as_asked(project)
    shown = [f.key for step in STEPS for f in fields(step, counting)]

    assert shown == [f.key for step in STEPS for f in fields(step, project)]
    for question in all_questions():
        if question.key.split(".")[0] in ("body", "fit", "reference_garment", "garment", "design"):
            answered = in_table(question).get(counting) not in (None, "", ())
            assert not answered or question.key in shown
    assert as_asked(counting) is counting


def test_counts_before_the_wash_count_only_where_there_were_any():
    washed = pullover(swatch=(replace(swatch(), before_wash="not-counted"),))
    counting = as_asked(washed)
    back = replace(washed, swatch=(replace(washed.swatch[0], before_wash="counted"),))

    assert {r.state for r in counting.swatch[0].reading} == {"washed"}
    assert as_asked(counting) is counting
    assert {f.key.rpartition(".")[0] for f in not_asked_now(washed)} == {
        "reading.A.off needles.stitches", "reading.A.off needles.rows",
    }  # fmt: skip
    assert plan(back).gauge.rows == plan(pullover()).gauge.rows
    assert plan(back).gauge.unwashed_rows == plan(pullover()).gauge.unwashed_rows


def test_whether_a_swatch_was_counted_unwashed_is_asked_only_where_its_counts_do_not_say_so():
    """Whoever just types counts never meets it; the hint says what none means."""
    one = swatch()
    washed = tuple(r for r in one.reading if r.state == "washed")
    alike = tuple(replace(r, state="off needles") for r in washed) + washed
    asked = {
        name: fields("gauge", pullover(swatch=(replace(one, **changes),)))[-1].key == "swatch.A.before_wash"
        for name, changes in {
            "counted": {}, "not yet": {"reading": ()}, "washed only": {"reading": washed},
            "washed first": {"before_wash": "not-counted"}, "the same twice": {"reading": alike},
            "counted and said so": {"before_wash": "counted"},
        }.items()
    }  # fmt: skip
    said = pullover(swatch=(replace(one, before_wash="counted"),))

    assert asked == {
        "counted": False, "not yet": True, "washed only": True, "washed first": True, "the same twice": True,
        "counted and said so": False,
    }  # fmt: skip
    assert [f.key for f in not_asked_now(said)] == ["swatch.A.before_wash"]
    assert plan(said) == plan(pullover())
    assert said.swatch[0].before_wash == "counted", "the file keeps it"


def test_only_questions_of_tables_have_conditions():
    """A yarn or a swatch is asked by what it is; a new condition there needs its way into ``as_asked``."""
    with_condition = {q.key.split(".")[0] for q in all_questions() if q.when is not always}

    assert with_condition <= {"body", "fit", "reference_garment", "garment", "reading"}


@pytest.mark.parametrize("value", [99999.0, -5.0, 1e6])
def test_figures_of_questions_that_are_not_asked_now_are_checked_all_the_same(value):
    project = pullover(body=Body(source="own", table="women", chest_cm=92.0))
    for key in ("reference_garment.centre_to_cuff_cm", "fit.waist_ease_cm"):
        hidden = with_answer(project, key, value if value != -5.0 else -500.0)

        assert [f.key for f in not_asked_now(hidden)] == [key]
        assert [k for k, _ in faults(hidden)] == [key]


@pytest.mark.parametrize(
    ("key", "said"),
    [
        ("reading.A.hung", "counts of swatch A, hung"),
        ("reading.A.off needles.rows.2", "rows of swatch A, before washing"),
        ("reading.A.b.washed.stitches", "stitches of swatch A.b, washed"),
    ],
)
def test_counts_are_named_whole(key, said):
    assert asked_as(key, pullover()) == said


def test_a_size_without_a_table_is_no_fault():
    assert faults(pullover(body=Body(source="own", size="M", chest_cm=92.0))) == ()
