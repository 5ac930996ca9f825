"""Typed text of any length is read in a moment: no pattern goes over it again and again."""

from time import process_time

import pytest

from workshop.project import Project
from workshop.questions.steps import all_questions
from workshop.units import LONGEST_ANSWER, NotUnderstood

KINDS = {type(q.kind).__name__: q.kind for q in all_questions()}

LONG = (
    "1" + " " * 160 + "%%",
    "1" + " " * 200 + "%%",
    "1" + " " * 10_000 + "x",
    " " * 100_000,
    "1" * 100_000,
    "1 " * 50_000,
    "1%" * 50_000,
    "80 wool, " * 20_000,
    "1." * 50_000,
    "-" * 100_000,
    "1 over " * 20_000,
    "½" * 50_000,
    "1/" * 50_000,
    "\n" * 100_000,
    "a-" * 50_000,
    "1 st" + " " * 50_000,
    "1" + " " * 90_000 + "balls.x",
    "us " * 30_000,
    "80" + " " * 50_000 + "wool" + " " * 50_000,
)


@pytest.mark.parametrize("name", KINDS)
def test_a_text_of_any_length_is_read_in_a_moment(name):
    began = process_time()
    for text in LONG:
        try:
            KINDS[name].read(text, Project())
        except NotUnderstood as error:
            assert len(str(error)) < 600
            assert "\n" not in str(error)
    assert process_time() - began < 2


def test_spaces_do_not_make_an_answer_too_long():
    blend = KINDS["Blend"]

    assert blend.read("80" + " " * 5000 + "wool,\n\n20   nylon", Project()) == blend.read(
        "80 wool, 20 nylon", Project()
    )
    with pytest.raises(NotUnderstood, match=f"at most {LONGEST_ANSWER} characters"):
        blend.read("80 wool, 20 nylon and " + "n" * 400, Project())


def test_a_control_character_that_was_typed_or_kept_is_told_as_what_it_is():
    with pytest.raises(NotUnderstood) as told:
        KINDS["Needle"].read("\x1b[2J\u202e4", Project())

    assert "<U+001B>[2J<U+202E>4" in str(told.value)
