"""Lessons: sound files, one for each step, that a teacher can replace."""

import re
from statistics import median
from textwrap import wrap

import pytest

from tests.formula import work_out
from tests.lesson_project import YARN, examples, lesson_plan
from workshop import lessons
from workshop.project import STEPS
from workshop.words.instructions import instructions
from workshop.words.phrase import in_terms

PARTS = ("Why it matters", "How to do it", "What goes wrong", "Try it", "A small sum", "Next")


@pytest.mark.parametrize("step", STEPS)
def test_every_step_has_a_lesson_with_all_its_parts_in_order(step):
    lesson = lessons.lesson(step)

    assert lesson.title
    assert tuple(re.findall(r"^## (.*)$", lesson.text, re.MULTILINE)) == PARTS
    assert re.search(r"[=×÷]", lesson.text.split("## A small sum")[1])


def drawings(text: str) -> tuple[str, ...]:
    """The drawings of a lesson, as plain lines."""
    return tuple(re.findall(r"^``` *drawing[^\n]*\n(.*?)\n*^```", text, re.MULTILINE | re.DOTALL))


def shown(step: str, units: str = "cm") -> str:
    """The text of a lesson for one who works in these units."""
    return lessons.in_units(lessons.lesson(step).text, units)


@pytest.mark.parametrize("units", ["cm", "in"])
@pytest.mark.parametrize("step", STEPS)
def test_lessons_are_short_enough_for_two_screens_of_80_by_24_or_three_with_a_drawing(step, units):
    text = shown(step, units)
    lines = sum(max(1, len(wrap(line, 76))) for line in text.split("\n"))

    assert lines <= 22 * (3 if drawings(text) else 2)  # a screen without its bars


COLUMNS = 36
"""What the lesson's column is wide in a window of 80 columns, and in one of 120."""


@pytest.mark.parametrize("terms", ["us", "uk"])
@pytest.mark.parametrize("step", STEPS)
def test_drawings_fit_beside_a_form_and_their_frames_close_in_the_terms_of_both_countries(step, terms):
    drawn = drawings(in_terms(shown(step), terms))
    in_inches = drawings(in_terms(shown(step, "in"), terms))

    assert drawn
    assert len(drawn) == len(in_inches)
    for drawing in (*drawn, *in_inches):
        lines = drawing.split("\n")
        assert max(map(len, lines)) <= COLUMNS
        if step != "shape":  # what begins a line there is a sleeve, not a frame
            assert len({len(line) for line in lines if line[0] in "┌│└"}) == 1


@pytest.mark.parametrize("step", STEPS)
def test_lessons_are_in_short_sentences(step):
    """The voice of the house: median of 14 words or fewer, none over 30."""
    prose = re.sub(r"^(#.*|- |\d\. )", "", lessons.aloud(lessons.lesson(step).text), flags=re.MULTILINE)
    words = [len(s.split()) for s in re.split(r"(?<=[.!?:])\s+|\n+", prose) if s.strip()]

    assert median(words) <= 14
    assert max(words) <= 30


def test_the_ball_band_and_the_plan_that_are_drawn_are_those_of_the_one_sweater():
    band, now = drawings(lessons.lesson("fibre").text)[0], lesson_plan()
    fibres = ", ".join(f"{part.percent:g}% {part.fibre}" for part in YARN.fibres)
    back = next(" ".join(told.lines) for told in instructions(now) if told.piece.name == "back")
    drawn = drawings(lessons.lesson("summary").text)[0]

    assert fibres in band
    assert f"{YARN.ball_g:g} g = {YARN.ball_m:g} m, {YARN.weight}" in band
    assert f"needle {now.yarns[0].weight.start_needle_mm:g} mm" in band
    for figure in re.findall(r"Cast on \d+|Rows \d+ to \d+|[\d.]+ cm", drawn):
        assert figure in back

    in_inches = next(" ".join(told.lines) for told in instructions(lesson_plan("in")) if told.piece.name == "back")
    for figure in re.findall(r"Cast on \d+|Rows \d+ to \d+|\S+ in(?=[ ,])", drawings(shown("summary", "in"))[0]):
        assert figure in in_inches
    assert f"{YARN.ball_m / 0.9144:.0f} yd" in drawings(shown("fibre", "in"))[0]


def example_of(step: str, units: str = "cm") -> str:
    """The fenced example of a lesson."""
    text = shown(step, units)
    blocks = re.findall(r"```text\n(.*?)\n```", text, re.DOTALL)
    assert len(blocks) == 1, step
    assert lessons.example(text) == blocks[0]
    return blocks[0]


@pytest.mark.parametrize("units", ["cm", "in"])
@pytest.mark.parametrize("step", STEPS)
def test_the_worked_example_is_what_the_core_works_out(step, units):
    """One sweater goes through all lessons; tests/lesson_project.py plans it. A difference shows the line to write."""
    assert example_of(step, units) == examples(units).get(step, example_of(step))


def test_who_works_in_inches_meets_no_centimeters_in_a_drawing_or_an_example():
    for step in STEPS:
        text = shown(step, "in")
        assert not re.search(r"\bcm\b", "".join((*drawings(text), lessons.example(text)))), step
    assert "```inches" not in shown("wash") + shown("wash", "in")


@pytest.mark.parametrize("units", ["cm", "in"])
@pytest.mark.parametrize("step", STEPS)
def test_every_sum_in_a_lesson_is_right_to_its_last_digit(step, units):
    """Read as a pupil would, with nothing but the four kinds of arithmetic."""
    example = example_of(step, units)
    sums = re.findall(r"^(?:[a-z].*: )?([(\d][-\d.()+×÷ ]*[\d)]) = (-?\d+(?:\.(\d+))?)", example, re.MULTILINE)

    assert sums
    for formula, said, decimals in sums:
        assert abs(work_out(formula, {}) - float(said)) <= 0.500001 * 10 ** -len(decimals), (formula, said)


@pytest.mark.parametrize("units", ["cm", "in"])
@pytest.mark.parametrize("step", STEPS)
def test_an_example_fits_the_panel_beside_a_form(step, units):
    assert max(map(len, example_of(step, units).split("\n"))) <= COLUMNS


def test_a_teachers_folder_comes_first_file_by_file(tmp_path, monkeypatch):
    (tmp_path / "gauge.md").write_text("# Our way\n\nCount with us.\n")
    monkeypatch.setenv("WORKSHOP_LESSONS", str(tmp_path))

    assert lessons.lesson("gauge") == lessons.Lesson("gauge", "Our way", "Count with us.\n", tmp_path / "gauge.md")
    assert lessons.lesson("wash").title == "Wash, count again, choose"
    assert [lessons.lesson(step).step for step in STEPS] == list(STEPS)


@pytest.mark.parametrize(
    ("content", "title", "text"),
    [
        ("\n## Our way ##\nCount.", "Our way", "Count.\n"),
        ("Welcome.\n\n# Our way\n\nCount.", "Our way", "Welcome.\n\n# Our way\n\nCount.\n"),
        ("```text\n# 3 stitches\n```\n## After it", "After it", "```text\n# 3 stitches\n```\n## After it\n"),
        ("Count.", "Gauge", "Count.\n"),
        ("#1 rule: count.", "Gauge", "#1 rule: count.\n"),
        ('+++\nstep = "gauge"\ntitle = "Older"\n+++\n\n# Kept\n\nCount.\n', "Older", "# Kept\n\nCount.\n"),
    ],
)
def test_the_first_heading_is_the_title_and_older_files_say_theirs_between_plus_signs(tmp_path, content, title, text):
    path = tmp_path / "gauge.md"
    path.write_text(content, encoding="utf-8")

    assert lessons.read(path, "gauge") == lessons.Lesson("gauge", title, text, path)
    assert lessons.faults_in(tmp_path) == ()


def test_read_aloud_a_drawing_is_named_and_an_example_keeps_its_lines():
    text = "## *Count*\nThe first line\ngoes on.\n\n```drawing two pins\n│V│\n```\n\n```text\n1 + 1 = 2\nso two\n```\n- a\n- b\n"

    assert (
        lessons.aloud(text)
        == "Count\n\nThe first line goes on.\n\n(Drawing: two pins.)\n\n1 + 1 = 2\nso two\n\n- a\n- b"
    )


@pytest.mark.parametrize(
    ("content", "says"),
    [
        ('+++\nstep = "gauge"\nCount.', "its front matter isn't closed. It begins and ends with a line of +++"),
        (" \n", "there's no text below the title"),
        ("# Our way\n", "there's no text below the title"),
        ('+++\nstep = "gauge"\n+++\n\nx', "title: is missing"),
        ('+++\nstep = "wash"\ntitle = "x"\n+++\n\nx', "step: is 'wash', but gauge.md is the lesson of 'gauge'"),
        ("+++\nstep = \n+++\n\nx", "its front matter isn't valid TOML"),
        (b"\xff", "isn't UTF-8 text"),
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
    with pytest.raises(lessons.BadLesson, match="there's no such lesson"):
        lessons.lesson("knitting")


def test_a_lesson_that_cannot_be_used_gives_way_to_the_workshops_own_and_says_so(tmp_path, monkeypatch):
    (tmp_path / "gauge.md").write_text('+++\nstep = "gauge"\ntitle = "Broken\nmore = 1\n+++\ntext\n', encoding="utf-8")
    monkeypatch.setenv("WORKSHOP_LESSONS", str(tmp_path))
    told = lessons.lesson_told("gauge")

    assert told.title == "Count before the wash"
    assert told.text.startswith("*This isn't your class's own lesson, which can't be used: ")
    assert "a text in quotes is not closed (at line 3, " in told.text.splitlines()[0].casefold()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            '+++\nstep = "gauge"\ntitle = "T"\nauthor = "me"\n+++\ntext\n',
            "author: isn't a key of a lesson. The keys are step and title",
        ),
        ('+++\nstep = "gauge"\ntitle = "T"\n+++\n\n', "there's no text below the title"),
    ],
)
def test_a_lesson_with_a_strange_key_or_no_text_is_told(tmp_path, text, says):
    (tmp_path / "gauge.md").write_text(text, encoding="utf-8")

    assert any(says in line for line in lessons.faults_in(tmp_path))
