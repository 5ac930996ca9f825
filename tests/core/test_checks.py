"""The table of checks and the core that raises them: each knows the other, and every place has its figure."""

import ast
import re
import tomllib
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from tests.core.test_texts import ODD
from tests.factory import pullover, shaped
from workshop import tables
from workshop.core.knitting.facts import noted
from workshop.core.plan import plan
from workshop.core.wearer.body import PROPORTIONS
from workshop.project import STEPS, Body, ReferenceGarment
from workshop.tables.checks import check_text
from workshop.words import texts

CORE = Path(__file__).resolve().parents[2] / "workshop" / "core"
RAISE = {"check", "stop"}


def names():
    """Every name under which the table has a check."""
    for code, entry in tables.read("checks").items():
        yield code
        yield from (f"{code}.{variant}" for variant, told in entry.items() if isinstance(told, dict))


@cache
def raised():
    """Names that the core raises, each with the figures given where they are all written out."""
    return tuple(_raised())


def _raised():
    for path in sorted(CORE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and (getattr(node.func, "attr", getattr(node.func, "id", "")) in RAISE):
                given = {k.arg for k in node.keywords}
                first = ast.walk(node.args[0]) if len(node.args) == 1 else ()
                found = [n.value for n in first if isinstance(n, ast.Constant) and isinstance(n.value, str)]
                yield from ((name, given) for name in found)
    yield from ((name, {"asked", "a", "b"}) for name, *_ in PROPORTIONS)


def placed(text):
    return set(re.findall(r"\{(\w+)(?::[^}]*)?\}", text)) - {"ways"}


def places(name):
    """Places of a check for figures; ways out have some of their own, of which any may be missing."""
    told = check_text(name)
    return placed(f"{told.step} {told.question} {told.about} {told.place} {told.whole}")


def says(name, text):
    """Whether a text is that of a check, with some of its ways out or none to choose from."""
    before, _, after = check_text(name).whole.partition("{ways}")
    between = text.removeprefix(before).removesuffix(after)
    return f"{before}{between}{after}" == text and set(between.split(", or ")) <= {"", *check_text(name).ways}


def test_the_core_raises_what_stands_in_the_table_and_nothing_else():
    assert {name for name, _ in raised()} == set(names())


@pytest.mark.parametrize("name", tuple(names()))
def test_a_check_is_whole_and_has_a_figure_for_each_place(name):
    told = check_text(name)

    assert told.level in ("stop", "look", "note")
    assert told.step in STEPS or told.step == "{step}"
    assert told.text.endswith((".", "?"))
    for given in (given for code, given in raised() if code == name and None not in given):
        assert given == places(name)


@pytest.mark.parametrize("project", tuple(ODD.values()), ids=tuple(ODD))
def test_what_is_raised_has_exactly_the_figures_of_its_text(project):
    for check in plan(project).checks:
        variants = [n for n in names() if n.partition(".")[0] == check.code and says(n, check.remark.text)]

        assert set(check.remark.values) in [places(n) | placed(check.remark.text) for n in variants]
        assert not {"{", "}"} & set(check.name)


@pytest.mark.parametrize("file", [*tables.FOLDER.glob("*.toml"), Path(texts.__file__).with_suffix(".toml")])
def test_a_file_that_is_read_by_its_keys_is_the_whole_file(file):
    whole, parts = tomllib.loads(file.read_text("utf-8")), tables.Parts(file)
    assert list(parts) == list(whole)
    assert dict(parts) == whole
    with pytest.raises(KeyError):
        parts["level"]


def test_the_table_of_our_own_sentences_is_no_published_table():
    assert "checks" not in tables.names()
    assert {"fibres", "trade"} <= set(tables.names())


@pytest.mark.parametrize("asked_cm", [None, 22.0])
def test_the_top_of_a_straight_sleeve_is_told_as_it_comes_out_and_beside_the_arm_or_what_was_asked(asked_cm):
    project = replace(
        pullover(),
        body=Body(source="table", table="men", size="L"),
        reference_garment=ReferenceGarment(upper_arm_width_cm=asked_cm),
    )
    found = plan(project)
    told = next(c.remark for c in found.checks if c.code == "sleeve-top-wide")
    figures = {name: amount.value for name, amount in told.values.items()}

    assert figures["top"] == found.finished_cm["upper_arm"]
    if asked_cm is None:
        assert figures["top"] - figures["more"] == pytest.approx(found.wearer.cm("upper_arm"))
        assert figures["fit"] == pytest.approx(5)  # usual ease of a standard fit at the arm
    else:
        assert figures["asked"] == figures["top"] - figures["more"] == pytest.approx(2 * asked_cm)


def test_a_figure_that_changes_is_asked_about_anew():
    wide, wider = (replace(pullover().garment, neck_width_cm=cm) for cm in (40.0, 42.0))
    asked = [
        next(c for c in plan(replace(pullover(), garment=g)).checks if c.code == "neck-wide") for g in (wide, wider)
    ]

    assert asked[0].question == asked[1].question
    assert asked[0].name != asked[1].name


TILLS = {"", "body", "sleeves", "yoke", "body begun", "sleeves begun", "yoke begun", "band begun"}


def test_what_a_check_holds_till_is_something_that_is_knitted():
    assert {check_text(name).till for name in names()} <= TILLS


@pytest.mark.parametrize(
    ("construction", "code", "still", "over"),
    [
        ("drop-shoulder", "sleeve-top-wide", ("left sleeve",), ("left sleeve", "right sleeve")),
        ("set-in", "set-in-armhole-ease", ("back", "left sleeve"), ("back", "back, ", "front", "front, ")),
        ("raglan-from-neck", "yoke-arm-ease", ("yoke", "body"), ("yoke", "left sleeve", "right sleeve")),
    ],
)
def test_nobody_is_told_of_what_is_knitted_and_can_not_be_changed(construction, code, still, over):
    base = shaped(pullover(), construction=construction)
    pieces = plan(base).made.pieces

    def codes(*begins):
        there = [p for p in pieces if any(p.name == b or (b.endswith(", ") and p.name.startswith(b)) for b in begins)]
        return {c.code for c in plan(replace(base, knitting=tuple(noted(p, len(p.rows)) for p in there))).checks}

    assert code in codes(*still)
    assert code not in codes(*over)
