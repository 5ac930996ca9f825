"""Figures from the ends of what every question takes: nobody's jumper, and still no fault, only a reason."""

import random
from dataclasses import replace

import pytest

from tests.factory import pullover, shaped, swatch
from workshop.core.plan import plan
from workshop.project import Body, Fit, Project
from workshop.questions.kinds import Choice, Length
from workshop.questions.steps import fields
from workshop.tables import bodies
from workshop.words.answers.of_steps import answers
from workshop.words.instructions import instructions

SEEDS = range(8)
DESIGNS = 50
FITS = ("very-close", "close", "standard", "loose", "oversized")
CHOSEN = ("body.source", "body.table", "body.size", "fit.ease")


def wild(chance: random.Random) -> Project:
    """Any choice, and lengths at the ends of their limits as often as between them."""
    stitches, table = (
        chance.choice((6, 8, 14, 20, 28, 40)),
        chance.choice(("women", "men", "youth", "children", "babies")),
    )
    project = pullover(
        units=chance.choice(("cm", "in")),
        swatch=(swatch(stitches, round(stitches * chance.uniform(1, 1.6) * 4) / 4),),
        body=Body(source=chance.choice(("own", "table")), table=table, size=chance.choice(bodies.sizes(table))),
        fit=Fit(chance.choice(FITS)),
    )
    for asked in (*fields("measure", project), *fields("shape", project)):
        kind = asked.question.kind
        if asked.key in CHOSEN:
            continue
        if isinstance(kind, Choice):
            project = asked.put(project, chance.choice(kind.options(project)).value)
        elif isinstance(kind, Length) and (asked.needed or chance.random() < 0.2):
            middle = chance.uniform(kind.low, kind.high)
            project = asked.put(project, chance.choice((kind.low, kind.high, middle, middle)))
    return project


@pytest.mark.parametrize("seed", SEEDS)
def test_whatever_can_be_entered_is_planned_or_refused_with_a_reason(seed):
    chance = random.Random(seed)
    for _ in range(DESIGNS):
        now = plan(wild(chance))
        if now.made is None or not now.made.pieces:
            assert any(c.level == "stop" for c in now.checks), now.project
        else:
            assert instructions(now)
        for step in ("measure", "shape"):
            assert answers(step, now)


@pytest.mark.parametrize("construction", ["raglan-from-hem", "raglan-from-neck", "round-yoke"])
@pytest.mark.parametrize("neckline", ["crew", "v", "scoop"])
def test_a_chest_of_nothing_has_not_stitches_enough(construction, neckline):
    small = pullover(body=Body(source="own", table="children", size="4", chest_cm=30.0), fit=Fit("close", -25.0))
    now = plan(shaped(replace(small), construction=construction, neckline=neckline, worked="round", length_cm=30.0))

    stops = [c for c in now.checks if c.level == "stop"]
    assert stops
    assert now.made is None or not now.made.pieces
