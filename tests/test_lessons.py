"""Lessons: sound files, one for each step, that a teacher can replace."""

import re

import pytest

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

    assert lines <= 2 * 24


def test_a_teachers_folder_comes_first_file_by_file(tmp_path, monkeypatch):
    (tmp_path / "gauge.md").write_text('+++\nstep = "gauge"\ntitle = "Our way"\n+++\n\nCount with us.\n')
    monkeypatch.setenv("WORKSHOP_LESSONS", str(tmp_path))

    assert lessons.lesson("gauge").text == "Count with us.\n"
    assert lessons.lesson("wash").title == "Wash, count again, choose"
    assert [x.step for x in lessons.all_lessons()] == list(STEPS)


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
