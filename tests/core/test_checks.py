"""The table of checks and the core that raises them: each knows the other, and every place has its figure."""

import ast
import re
from dataclasses import replace
from pathlib import Path

import pytest

from tests.core.test_texts import ODD
from tests.factory import pullover
from workshop import tables
from workshop.core.plan import plan
from workshop.core.wearer.body import PROPORTIONS
from workshop.project import STEPS
from workshop.tables.checks import check_text

CORE = Path(__file__).resolve().parents[2] / "workshop" / "core"
RAISE = {"check", "Stopped"}


def names():
    """Every name under which the table has a check."""
    for code, entry in tables.read("checks").items():
        yield code
        yield from (f"{code}.{variant}" for variant, told in entry.items() if isinstance(told, dict))


def raised():
    """Names that the core raises, each with the figures given where they are all written out."""
    for path in sorted(CORE.rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Call) and (getattr(node.func, "attr", getattr(node.func, "id", "")) in RAISE):
                given = {k.arg for k in node.keywords}
                first = ast.walk(node.args[0]) if len(node.args) == 1 else ()
                found = [n.value for n in first if isinstance(n, ast.Constant) and isinstance(n.value, str)]
                yield from ((name, given) for name in found)
    yield from ((name, {"asked", "a", "b"}) for name, *_ in PROPORTIONS)


def places(name):
    told = check_text(name)
    return set(re.findall(r"\{(\w+)(?::[^}]*)?\}", f"{told.step} {told.question} {told.about} {told.text}"))


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
    codes = set(tables.read("checks"))
    for check in (c for c in plan(project).checks if c.code in codes):
        variants = [n for n in names() if n.partition(".")[0] == check.code and check_text(n).text == check.remark.text]

        assert set(check.remark.values) in [places(n) for n in variants]
        assert not {"{", "}"} & set(check.name)


def test_the_table_of_our_own_sentences_is_no_published_table():
    assert "checks" not in tables.names()
    assert {"fibres", "trade"} <= set(tables.names())


def test_a_figure_that_changes_is_asked_about_anew():
    wide, wider = (replace(pullover().garment, neck_width_cm=cm) for cm in (40.0, 42.0))
    asked = [
        next(c for c in plan(replace(pullover(), garment=g)).checks if c.code == "neck-wide") for g in (wide, wider)
    ]

    assert asked[0].question == asked[1].question
    assert asked[0].name != asked[1].name
