"""plan() takes any figures at all: it gives a check, never an exception, and never takes long."""

import random
from dataclasses import fields, replace
from time import perf_counter

import pytest

from tests.factory import pullover
from workshop.core.bounds import BOUNDS, within
from workshop.core.notes import Notes
from workshop.core.plan import plan
from workshop.project import Body, FibrePart, Fit, Project, Reading, ReferenceGarment
from workshop.questions.kinds import Length, Mass, Whole, YarnLength
from workshop.questions.steps import all_questions
from workshop.words.answers.of_steps import answers
from workshop.words.phrase import say_check

ODD = (0, -1, -0.0, 1e-12, 0.25, 1, 7, 1e3, 1e6, 1e9, 1e30, 1e308, float("inf"), float("-inf"), float("nan"), 10**400)


def numbers(item) -> list[str]:
    return [f.name for f in fields(item) if f.name in BOUNDS[type(item)]]


def with_odd(project: Project, chance: random.Random) -> Project:
    """One figure of a project that is nobody's."""
    table = chance.choice(("yarn", "swatch", "reading", "fibres", "body", "reference_garment", "fit", "garment"))
    odd = chance.choice(ODD)
    if table == "yarn":
        yarn = project.yarn[0]
        return replace(project, yarn=(replace(yarn, **{chance.choice(numbers(yarn)): odd}),))
    if table == "fibres":
        return replace(project, yarn=(replace(project.yarn[0], fibres=(FibrePart("wool", odd),)),))
    if table == "swatch":
        swatch = project.swatch[0]
        return replace(project, swatch=(replace(swatch, **{chance.choice(numbers(swatch)): odd}),))
    if table == "reading":
        swatch = project.swatch[0]
        at = chance.randrange(len(swatch.reading))
        new = replace(swatch.reading[at], **{chance.choice(("count", "over_cm")): odd})
        return replace(
            project, swatch=(replace(swatch, reading=(*swatch.reading[:at], new, *swatch.reading[at + 1 :])),)
        )
    item = getattr(project, table)
    return replace(project, **{table: replace(item, **{chance.choice(numbers(item)): odd})})


def bases() -> list[Project]:
    body = Body(source="own", chest_cm=92.0, waist_cm=76.0, hip_cm=98.0, neck_to_cuff_cm=75.0, head_cm=56.0)
    garment = ReferenceGarment(50.0, 18.0, 10.0, 60.0, 20.0, 75.0)
    found = []
    for construction in (
        "drop-shoulder",
        "square-armhole",
        "set-in",
        "raglan-from-hem",
        "raglan-from-neck",
        "round-yoke",
    ):
        base = pullover()
        shape = replace(base.garment, construction=construction, waist="shaped")
        found.append(replace(base, garment=shape, body=replace(body, table="women"), fit=Fit("standard")))
        found.append(replace(base, garment=shape, body=Body(source="garment"), reference_garment=garment, fit=Fit()))
    return found


@pytest.mark.parametrize("seed", range(4))
def test_no_figure_ends_in_an_exception(seed):
    chance, all_of_them = random.Random(seed), bases()
    for _ in range(60):
        project = chance.choice(all_of_them)
        for _ in range(chance.choice((1, 1, 2, 5))):
            project = with_odd(project, chance)
        began = perf_counter()
        now = plan(project)
        assert perf_counter() - began < 5, project  # a second on a machine that does nothing else
        for check in now.checks:
            assert say_check(check, now.project)
        for step in ("fibre", "swatch", "gauge", "wash", "measure", "shape"):
            answers(step, now)


@pytest.mark.parametrize("length", [199.0, 130.0])
@pytest.mark.parametrize("count", [400.0, 100.0])
def test_a_garment_of_ten_thousand_rows_is_refused_with_a_reason(length, count):
    base = pullover()
    counts = tuple(Reading(r.state, r.along, count, 10.0) for r in base.swatch[0].reading)
    huge = replace(base, swatch=(replace(base.swatch[0], reading=counts),))
    now = plan(replace(huge, garment=replace(huge.garment, length_cm=length)))

    if count == 400.0:
        told = next(c for c in now.checks if c.code == "beyond-knitting")
        assert "stitches around the body" in say_check(told, now.project)
        assert told.level == "stop"
    assert all(len(p.rows) < 3000 for p in now.made.pieces)


def test_a_figure_out_of_bounds_is_named_and_left_out():
    base = pullover()
    wrong = replace(base, garment=replace(base.garment, length_cm=1e6))
    now = plan(wrong)
    told = next(c for c in now.checks if c.code == "out-of-bounds")

    assert (told.level, told.question) == ("stop", "garment.length_cm")
    assert now.project.garment.length_cm is None
    assert "should be 0.1 cm to 200 cm" in say_check(told, now.project)


def test_what_is_in_bounds_stays_the_same_object():
    project = pullover()

    assert within(project, notes := Notes()) is project
    assert notes.checks == []


def test_the_core_takes_what_every_question_takes():
    tables = {cls.__name__.removesuffix("Choices").casefold(): bounds for cls, bounds in BOUNDS.items()}
    asked = 0
    for question in all_questions():
        table, _, name = question.key.partition(".")
        if isinstance(question.kind, Length | Mass | Whole | YarnLength):
            low, high = tables[table.replace("_", "")][name]
            assert low <= question.kind.low, question.key
            assert question.kind.high <= high, question.key
            asked += 1
    assert asked > 40
