"""Lessons: sound files, one for each step, that a teacher can replace."""

import re

import pytest

from tests.formula import work_out
from tests.lesson_project import examples
from workshop import lessons
from workshop.project import STEPS


@pytest.mark.parametrize("step", STEPS)
def test_every_step_has_a_lesson_with_all_its_parts(step):
    lesson = lessons.lesson(step)

    assert lesson.title
    for part in ("Why it matters", "How to do it", "What goes wrong", "A small sum"):
        assert f"## {part}" in lesson.text
    assert re.search(r"[=×÷]", lesson.text.split("## A small sum")[1])


@pytest.mark.parametrize("step", STEPS)
def test_lessons_are_short_enough_for_two_screens_of_80_by_24(step):
    from textwrap import wrap

    lines = sum(max(1, len(wrap(line, 76))) for line in lessons.lesson(step).text.split("\n"))

    assert lines <= 44  # two screens without their bars


def example_of(step: str) -> str:
    """The fenced example of a lesson."""
    blocks = re.findall(r"```text\n(.*?)\n```", lessons.lesson(step).text, re.DOTALL)
    assert len(blocks) == 1, step
    return blocks[0]


@pytest.mark.parametrize("step", STEPS)
def test_the_worked_example_is_what_the_core_works_out(step):
    """One jumper goes through all lessons; tests/lesson_project.py plans it. A difference shows the line to write."""
    assert example_of(step) == examples()[step]


@pytest.mark.parametrize("step", STEPS)
def test_every_sum_in_a_lesson_is_right_to_its_last_digit(step):
    """Read as a pupil would, with nothing but the four kinds of arithmetic."""
    sums = re.findall(r"^(?:[a-z].*: )?([(\d][-\d.()+×÷ ]*[\d)]) = (-?\d+(?:\.(\d+))?)", example_of(step), re.MULTILINE)

    assert sums
    for formula, said, decimals in sums:
        assert abs(work_out(formula, {}) - float(said)) <= 0.500001 * 10 ** -len(decimals), (formula, said)


@pytest.mark.parametrize("step", STEPS)
def test_an_example_fits_the_panel_beside_a_form(step):
    assert max(map(len, example_of(step).split("\n"))) <= 42


def test_a_teachers_folder_comes_first_file_by_file(tmp_path, monkeypatch):
    (tmp_path / "gauge.md").write_text('+++\nstep = "gauge"\ntitle = "Our way"\n+++\n\nCount with us.\n')
    monkeypatch.setenv("WORKSHOP_LESSONS", str(tmp_path))

    assert lessons.lesson("gauge").text == "Count with us.\n"
    assert lessons.lesson("wash").title == "Wash, count again, choose"
    assert [lessons.lesson(step).step for step in STEPS] == list(STEPS)


@pytest.mark.parametrize(
    ("content", "says"),
    [
        ("Count.", "has no front matter"),
        ('+++\nstep = "gauge"\n+++\n\nx', "title: is missing"),
        ('+++\nstep = "wash"\ntitle = "x"\n+++\n\nx', "step: is 'wash'; a file gauge.md is the lesson of 'gauge'"),
        ("+++\nstep = \n+++\n\nx", "front matter is not sound TOML"),
        (b"\xff", "is not UTF-8 text"),
        ("x" * 200_001, "far too large"),
    ],
)
def test_a_wrong_lesson_is_told_in_one_line(tmp_path, monkeypatch, content, says):
    path = tmp_path / "gauge.md"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    monkeypatch.setenv("WORKSHOP_LESSONS", str(tmp_path))

    with pytest.raises(lessons.BadLesson, match=re.escape(says)) as told:
        lessons.lesson("gauge")
    assert str(path) in str(told.value)


def test_a_step_without_any_lesson_says_so():
    with pytest.raises(lessons.BadLesson, match="there is no such lesson"):
        lessons.lesson("knitting")


def test_a_lesson_that_cannot_be_used_gives_way_to_the_workshops_own_and_says_so(tmp_path, monkeypatch):
    (tmp_path / "gauge.md").write_text('+++\nstep = "gauge"\ntitle = "Broken\nmore = 1\n+++\ntext\n', encoding="utf-8")
    monkeypatch.setenv("WORKSHOP_LESSONS", str(tmp_path))
    told = lessons.lesson_told("gauge")

    assert told.title == "Count before the wash"
    assert told.text.startswith("*Not the lesson of your class, which cannot be used: ")
    assert "a text in quotes is not closed (at line 3, " in told.text.splitlines()[0].casefold()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            '+++\nstep = "gauge"\ntitle = "T"\nauthor = "me"\n+++\ntext\n',
            "author: is no key of a lesson; it has step and title",
        ),
        ('+++\nstep = "gauge"\ntitle = "T"\n+++\n\n', "there is no text below the front matter"),
    ],
)
def test_a_lesson_with_a_strange_key_or_no_text_is_told(tmp_path, text, says):
    (tmp_path / "gauge.md").write_text(text, encoding="utf-8")

    assert any(says in line for line in lessons.faults_in(tmp_path))
