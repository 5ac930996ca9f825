"""The glossary: every trade word that the workshop uses is explained, and found under any of its names."""

import re
from collections import Counter

import pytest

from workshop import lessons
from workshop.project import STEPS
from workshop.questions.steps import all_questions
from workshop.tables import read
from workshop.tables.glossary import abbreviations_in, find, look_up, word_at, words, words_in
from workshop.words.phrase import in_terms


def test_every_word_is_found_under_each_of_its_names_and_no_name_twice():
    names = [n if len(n) == 1 else n.casefold() for w in words() for n in w.names]

    assert [n for n, times in Counter(names).items() if times > 1] == []
    for word in words():
        for name in word.names:
            assert look_up(name) == word


@pytest.mark.parametrize(
    ("typed", "us"),
    [
        ("tension", "gauge"),
        ("Cast off", "bind off"),
        ("STOCKINETTE STITCH", "stockinette"),
        ("k2tog", "knit two together"),
        ("swatches", "swatch"),
        (" dye  lots. ", "dye lot"),
        ("raglans", "raglan"),
        ("RS", "right side"),
        ("jumper", "sweater"),
        ("k", "knit stitch"),
        ("backward loops", "backward loop"),
        ("long-tail", "long-tail cast-on"),
        ("step", "stepped edge"),
        ("steps", "stepped edge"),
    ],
)
def test_a_word_is_found_as_a_knitter_types_it(typed, us):
    """Names in the US and the UK: common practice, no source."""
    assert look_up(typed).us == us


@pytest.mark.parametrize("typed", ["", "?", "s", "hydraulics", "[K2]", "x" * 200])
def test_what_is_no_word_of_the_trade_is_none(typed):
    assert look_up(typed) is None


def test_part_of_a_word_finds_it_by_any_name_before_what_is_explained_with_it():
    assert [w.us for w in find("gau")] == ["gauge", "swatch", "ball band"]
    assert find("TENSION sq")[0].us == "swatch"
    assert find("k")[0].us == "knit stitch"
    assert find("knit")[:2] == (look_up("knit stitch"), look_up("knit two together"))
    assert "eyelet" in {w.us for w in find("hole")}
    assert find("xyz") == ()
    assert find("  ") == words()


@pytest.mark.parametrize(
    ("text", "place", "us"),
    [
        ("80 superwash wool", 5, "superwash"),
        ("a three-needle bind-off here", 8, "three-needle bind-off"),
        ("set-in sleeve", 0, "set-in sleeve"),
        ("in a round yoke", 12, "round yoke"),
        ("crew, round and close", 4, "crew neck"),
    ],
)
def test_the_word_under_the_cursor_is_the_longest_that_reaches_over_it(text, place, us):
    assert word_at(text, place) == look_up(us)


@pytest.mark.parametrize(("text", "place"), [("", 0), ("27½ over", 0), ("rib  ", 5), ("Harbour pullover", 3)])
def test_where_no_word_of_the_trade_is_there_is_none(text, place):
    assert word_at(text, place) is None


def test_words_of_a_text_come_in_its_order_and_the_longer_wins():
    found = [w.us for w in words_in("Swatch in garter stitch, then rib; the neckband and the swatch again. Ribald!")]

    assert found == ["swatch", "garter stitch", "rib", "neckband"]


def test_a_step_that_is_no_edge_is_not_explained_as_one():
    """What is typed alone may be meant; in a text a step is mostly one of the seven."""
    assert words_in("The Measure step is one of the seven steps.") == ()


def test_abbreviations_are_found_as_patterns_write_them():
    text = "Row 3 (RS): k2, p2 rib; m1, k27 at the rows' WS. Pick up, back"

    assert [w.short for w in abbreviations_in(text)] == ["k", "m1", "p", "RS", "WS"]
    assert abbreviations_in("knit and purl to the end of the row") == ()


def test_meanings_are_short_plain_and_say_something_else_than_the_word():
    for word in words():
        assert 15 <= len(word.means) <= 150, word.us
        assert word.means[0].islower() or word.means[:2] in ("k1",)
        assert not word.means.endswith(".")
        assert word.how == "practice"


def test_countries_agree_with_the_terms_that_texts_are_turned_into():
    for term in read("terms")["term"]:
        word = look_up(term["us"])
        assert word is not None, term
        assert look_up(term["uk"]) == word
        if term["us"] == word.us:
            assert word.uk == term["uk"]


def test_a_meaning_can_be_told_in_the_terms_of_a_country():
    word = look_up("garter stitch")

    assert "stocking stitch" in in_terms(word.means, "uk")
    assert look_up("hank") == look_up("skein")
    assert look_up("aran") != look_up("worsted")  # common practice, no source: aran is often the thicker
    assert look_up("gauge").called("uk") == "tension"


def test_the_trade_words_of_questions_and_lessons_are_in_it():
    """No list can be complete; this one holds what a beginner stumbled over."""
    texts = " ".join(f"{q.asks} {q.hint} {q.why}" for q in all_questions())
    texts += " ".join(lessons.lesson(s).text for s in STEPS)
    told = {n.casefold() for w in words_in(texts.replace("-", " ")) for n in w.names}

    for word in (
        "superwash",
        "dye lot",
        "purl bump",
        "ease",
        "cross back",
        "high bust",
        "drop shoulder",
        "rib",
        "multiple",
    ):
        assert word in told
    for abbreviation in set(re.findall(r"\b(?:k2tog|ssk|m1|RS|WS|sts)\b", texts)) | {
        "m1",
        "k2tog",
        "RS",
        "WS",
        "st",
        "k",
        "p",
    }:
        assert look_up(abbreviation), abbreviation
