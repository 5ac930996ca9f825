"""Two windows on one project: nothing of either is lost, and only what both answered otherwise is a question."""

import random
from dataclasses import replace

import pytest
from hypothesis import given

from tests.core.test_garments import projects
from tests.factory import pullover, readings
from workshop.merging import changed_keys, merged
from workshop.project import MOST_PLACES, KnittedPiece, LogEntry, Project, WorkedRows
from workshop.questions.fibre import add_yarn, remove_yarn
from workshop.questions.steps import fields
from workshop.questions.swatch import add_swatch, remove_swatch
from workshop.units import NotUnderstood

BASE = pullover()
STEPS = ("fibre", "swatch", "gauge", "wash", "measure", "shape")


def answered(project: Project, key: str, text: str) -> Project:
    field = next(f for step in STEPS for f in fields(step, project) if f.key == key)
    return field.answered(project, text)


def test_different_answers_are_both_kept():
    mine, theirs = answered(BASE, "body.waist_cm", "76"), answered(BASE, "garment.length_cm", "66")

    assert merged(BASE, mine, theirs).project == answered(mine, "garment.length_cm", "66")
    assert merged(BASE, mine, theirs).contested == ()


def test_the_same_answer_on_both_sides_is_no_question():
    mine = answered(BASE, "body.waist_cm", "76")

    assert merged(BASE, mine, mine) == merged(BASE, mine, BASE) == merged(BASE, BASE, mine)
    assert merged(BASE, mine, mine).contested == ()


def test_two_answers_to_one_question_are_told_and_mine_stands():
    both = merged(BASE, answered(BASE, "body.waist_cm", "76"), answered(BASE, "body.waist_cm", "80"))

    assert both.contested == ("body.waist_cm",)
    assert both.project.body.waist_cm == 76.0


def test_counts_of_one_swatch_in_two_windows():
    base = pullover(swatch=(replace(BASE.swatch[0], reading=readings("washed", "rows", 28)),))
    mine = answered(base, "reading.A.washed.rows.2", "28.5 over 10")
    theirs = answered(base, "reading.A.washed.rows.3", "27.5 over 10")
    both = merged(base, mine, theirs)

    assert both.contested == ()
    assert [r.count for r in both.project.swatch[0].readings("washed", "rows")] == [28, 28.5, 27.5]
    again = merged(base, mine, answered(base, "reading.A.washed.rows.2", "27 over 10"))
    assert again.contested == ("reading.A.washed.rows.2",)


def test_a_swatch_taken_out_here_and_counted_there():
    theirs = answered(BASE, "reading.A.washed.rows.2", "27 over 10")

    assert merged(BASE, remove_swatch(BASE, "A"), theirs).contested == ("swatch.A",)
    assert merged(BASE, remove_swatch(BASE, "A"), BASE).project.swatch == ()
    assert merged(BASE, BASE, remove_swatch(BASE, "A")).project.swatch == ()


def test_a_new_yarn_here_and_a_new_swatch_there():
    both = merged(BASE, add_yarn(BASE), add_swatch(BASE))

    assert ([y.id for y in both.project.yarn], [s.id for s in both.project.swatch]) == (["a", "b"], ["A", "B"])
    assert both.contested == ()
    assert merged(BASE, BASE, remove_yarn(BASE, "a")).project.yarn == ()


def test_where_one_is_and_what_is_agreed_is_never_a_question():
    mine = replace(BASE, last_step="wash", agreed=("a",), steps={"wash": "x=1"}, drafts={"body.chest_cm": "x"})
    theirs = replace(BASE, last_step="shape", agreed=("b",), steps={"wash": "x=2"}, drafts={"body.chest_cm": "y"})

    assert merged(BASE, mine, theirs).contested == ()
    assert merged(BASE, mine, theirs).project == mine


def wander(project: Project, chance: random.Random, answers: int) -> Project:
    """The project with some answers given anew or taken back."""
    for _ in range(answers):
        field = chance.choice([f for step in STEPS for f in fields(step, project)])
        text = chance.choice(("", field.question.kind.example(project).split(" / ")[0]))
        try:
            project = field.answered(project, text)
        except NotUnderstood:
            continue
    return project


@pytest.mark.parametrize("seed", range(60))
def test_what_only_one_of_them_changed_is_always_there(seed):
    chance = random.Random(seed)
    mine, theirs = wander(BASE, chance, 3), wander(BASE, chance, 3)
    both = merged(BASE, mine, theirs)
    for mover, other in ((mine, theirs), (theirs, mine)):
        only = set(changed_keys(BASE, mover)) - set(changed_keys(BASE, other))
        left = set(changed_keys(mover, both.project))
        assert not only & left
    if not both.contested:
        assert changed_keys(merged(BASE, theirs, mine).project, both.project) == ()


@given(projects())
def test_nothing_changed_is_nothing_merged(project):
    assert merged(project, project, project).project == project
    assert changed_keys(project, project) == ()


def test_many_places_keep_their_numbers():
    counts = tuple(replace(r, place=MOST_PLACES - i) for i, r in enumerate(readings("washed", "rows", 27, 28)))
    base = pullover(swatch=(replace(BASE.swatch[0], reading=counts),))

    assert merged(base, answered(base, "body.waist_cm", "76"), base).project.swatch[0].places("washed", "rows") == {
        r.place: r for r in counts
    }


def knitting(project, *, rows, log=(), piece="back"):
    """The project with rows of a piece, and lines of its log."""
    kept = tuple(k for k in project.knitting if k.piece != piece)
    worked = (WorkedRows(rows, "stockinette"),)
    return replace(project, knitting=(*kept, KnittedPiece(piece, rows, 100, worked=worked)), log=(*project.log, *log))


def test_rows_of_two_windows_are_never_added_and_mine_said_last_wins():
    base = knitting(pullover(), rows=10)
    both = merged(base, knitting(base, rows=12), knitting(base, rows=20))

    assert both.contested == ()
    assert [(k.piece, k.rows) for k in both.project.knitting] == [("back", 12)]


def test_what_is_knitted_beside_answers_goes_together():
    base = knitting(pullover(), rows=10)
    mine = knitting(base, rows=5, piece="front", log=(LogEntry("2026-03-01", "front", 5),))
    theirs = replace(knitting(base, rows=14, log=(LogEntry("2026-03-01", "back", 14),)), title="Theirs")

    both = merged(base, mine, theirs)

    assert both.project.title == "Theirs"
    assert {k.piece: k.rows for k in both.project.knitting} == {"back": 14, "front": 5}
    assert {(e.piece, e.row) for e in both.project.log} == {("back", 14), ("front", 5)}


def test_rows_are_no_answers_so_that_they_make_no_earlier_version():
    assert changed_keys(pullover(), knitting(pullover(), rows=10)) == ()
