"""Typed text of any length is read in a moment: no pattern goes over it again and again."""

from collections.abc import Callable, Iterable
from datetime import date
from functools import cache
from time import process_time

import pytest

from tests.factory import pullover
from workshop.at_needles import MOST_NOTED, NotKnitted
from workshop.core.plan import Plan
from workshop.of_class.yarn_order import lot_of, yarn_name
from workshop.planned import plan
from workshop.project import LogEntry, Project, Yarn
from workshop.questions.bodies import number_of, said_of_body
from workshop.questions.steps import all_questions, fields
from workshop.spoken import order, unquoted
from workshop.tables.glossary import find, look_up, word_at, words_in
from workshop.telling import SAYINGS, going_on, heard, meant
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


def in_a_moment(hear: Callable[[str], object], texts: Iterable[str] = LONG) -> None:
    """Each text is heard or refused in one short line, all of them in a moment."""
    began = process_time()
    for text in texts:
        try:
            hear(text)
        except (NotUnderstood, NotKnitted) as error:
            assert len(str(error)) < 600
            assert "\n" not in str(error)
    assert process_time() - began < 2


@pytest.mark.parametrize("name", KINDS)
def test_a_text_of_any_length_is_read_in_a_moment(name):
    in_a_moment(lambda text: KINDS[name].read(text, Project()))


AT_THE_NEEDLES = (
    *LONG,
    *("1" + " " * 20_000 + end for end in ("x", "%%", ", 1", "g pieces", "over")),
    "1," + " " * 20_000 + "x",
    "1 and " * 20_000,
    "chest" + " " * 20_000 + "x",
    "chest " * 20_000 + "x",
    "nose" + " " * 20_000,
)


@cache
def knitted_from() -> Plan:
    """A plan that can be knitted from."""
    return plan(pullover())


@pytest.mark.parametrize("word", SAYINGS)
def test_so_is_a_sentence_at_the_needles(word):
    day = date(2026, 3, 1)
    in_a_moment(lambda text: heard(knitted_from(), f"{word} {text}", day), AT_THE_NEEDLES)


def test_a_note_is_kept_whole_up_to_its_length():
    note = ("long " * MOST_NOTED)[: MOST_NOTED - 1] + "!"
    told = heard(knitted_from(), f"note {note}", date(2026, 3, 1)).project.log[-1].text

    assert told == note
    with pytest.raises(NotKnitted, match="too long"):
        heard(knitted_from(), f"note {'long ' * MOST_NOTED}", date(2026, 3, 1))


BODIES = (
    "a: " * 6_666,
    "Nell: " + "chest 96, " * 10_000,
    "Nell: " + "chest " * 20_000,
    "Nell: chest" + " " * 50_000 + "x",
)


def test_so_is_a_body_typed_in_one_line():
    in_a_moment(lambda text: said_of_body(pullover(), text), (*LONG, *BODIES))
    in_a_moment(lambda text: number_of(pullover(), text))
    whole = "chest 96 centimetres; " * 13
    assert said_of_body(pullover(), f"Nell: {whole}").grading.body[0].chest_cm == 96


def test_so_is_a_length_that_is_typed_for_one_size():
    lengths = [f for f in fields("shape", pullover()) if f.key in ("garment.length_cm", "garment.sleeve_cm")]
    for asked in lengths:
        in_a_moment(lambda text, kind=asked.question.kind: kind.read(text, pullover()))
    assert len(lengths) == 2


LOTS = (
    *LONG,
    "x" + " " * 50_000 + "x",
    "lot " * 20_000,
    "lot-" * 20_000,
    "dye " * 20_000,
    "," * 50_000,
    "lot" + " " * 50_000,
)


def test_so_are_yarns_and_balls_of_a_class_looked_through_for_their_lots():
    in_a_moment(lambda text: yarn_name(Yarn("a", text)), LOTS)
    in_a_moment(lambda text: lot_of(Yarn("a"), Project(log=(LogEntry("", text=f"new ball {text}"),))), LOTS)


@pytest.mark.parametrize(
    "hear",
    [order, unquoted, look_up, find, words_in, lambda text: word_at(text, len(text) // 2)],
)
def test_so_are_orders_and_words_that_are_looked_up(hear):
    in_a_moment(hear)
    in_a_moment(lambda text: (meant("r", "rows ", text), going_on(text, "cm")))


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
