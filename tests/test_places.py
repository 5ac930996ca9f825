"""Counted places keep their numbers, and swatches keep their marks."""

from dataclasses import replace

from hypothesis import given
from hypothesis import strategies as st

from tests.factory import pullover, readings, swatch
from workshop import saves
from workshop.core.cloth.swatch_plan import marks
from workshop.core.plan import plan
from workshop.project import Project, Reading, Swatch
from workshop.questions.gauge import COUNT
from workshop.questions.places import reading
from workshop.questions.steps import fields
from workshop.questions.swatch import add_swatches, remove_swatch


def place(number: int, along: str = "stitches"):
    return reading(COUNT, Swatch("A"), "off needles", along, number, spare=False)  # type: ignore[arg-type]


def counts(project: Project) -> dict[int, float]:
    return {n: r.count for n, r in project.swatch[0].places("off needles", "stitches").items()}


EMPTY = pullover(swatch=(replace(swatch(), reading=()),))


def test_a_count_typed_in_the_second_place_stays_in_the_second_place():
    one = place(2).answered(EMPTY, "22")
    again = place(2).answered(one, "22")  # leaving the field says it a second time

    assert place(1).shown(again) == ""
    assert place(2).shown(again) == "22 over 10 cm"
    assert len(again.swatch[0].reading) == 1


def test_emptying_one_place_takes_out_that_reading_only():
    project = pullover(swatch=(replace(swatch(), reading=readings("off needles", "stitches", 20, 21, 22)),))
    without = place(1).answered(project, "")
    again = place(1).answered(without, "")

    assert counts(again) == {2: 21.0, 3: 22.0}
    assert counts(place(1).answered(again, "19")) == {1: 19.0, 2: 21.0, 3: 22.0}


def test_places_with_a_gap_come_back_from_the_file(tmp_path):
    project = place(3).answered(place(1).answered(EMPTY, "20"), "22")
    saves.save(project, tmp_path / "a.toml")

    assert saves.load(tmp_path / "a.toml") == project
    assert counts(saves.load(tmp_path / "a.toml")) == {1: 20.0, 3: 22.0}


def test_a_file_without_place_numbers_is_read_in_its_order():
    old = replace(swatch(), reading=(Reading("washed", "rows", 28, 10), *readings("off needles", "stitches", 20, 21)))

    assert [old.places("off needles", "stitches")[n].count for n in (1, 2)] == [20, 21]


@given(st.lists(st.tuples(st.integers(1, 9), st.one_of(st.none(), st.integers(10, 40))), max_size=25))
def test_any_order_of_answers_leaves_in_each_place_what_was_last_typed_there(entries):
    project, wanted = EMPTY, {}
    for number, typed in entries:
        project = place(number).answered(project, "" if typed is None else str(typed))
        project = place(2, "rows").answered(project, "30")
        wanted[number] = typed
    wanted = {n: float(c) for n, c in wanted.items() if c is not None}

    assert counts(project) == wanted
    shown = {f.key for f in fields("gauge", project)}
    assert {f"reading.A.off needles.stitches.{n}" for n in wanted} <= shown


def test_marks_are_in_the_cloth_so_they_stay_with_their_swatch():
    project = add_swatches(pullover(swatch=()), "a", (3.75, 4.0, 4.5))
    before = {k.plan.swatch.id: k.plan.mark for k in plan(project).swatches}
    after = {k.plan.swatch.id: k.plan.mark for k in plan(remove_swatch(project, "B")).swatches}

    assert before == {"A": 1, "B": 2, "C": 3}
    assert after == {"A": 1, "C": 3}


@given(st.lists(st.sampled_from([*"ABCDEZ", "S1", "S2", "left", "right", "a"]), unique=True))
def test_no_two_swatches_have_the_same_mark(ids):
    found = marks([Swatch(i) for i in ids])

    assert len(set(found.values())) == len(ids)
    assert min(found.values(), default=1) >= 1
