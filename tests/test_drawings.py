"""Pictures of the steps, from whole plans."""

import pytest

from tests.factory import pullover, swatch
from workshop.core.plan import plan
from workshop.prints.drawings import DRAWN, NOTHING_YET, step_drawing
from workshop.project import GarmentChoices, Project


@pytest.mark.parametrize("name", list(DRAWN))
@pytest.mark.parametrize("columns", [48, 54, 70])
@pytest.mark.parametrize("plain", [True, False])
def test_every_step_is_drawn_within_its_columns(name, columns, plain):
    lines = step_drawing(name, plan(pullover()), columns=columns, plain=plain)

    assert lines != NOTHING_YET
    assert max(map(len, lines)) <= columns
    if plain:
        assert "\n".join(lines).isascii()


@pytest.mark.parametrize("name", list(DRAWN))
def test_nothing_known_is_said_not_drawn(name):
    assert step_drawing(name, plan(Project())) == NOTHING_YET


def test_the_ruler_lies_on_what_was_counted_and_the_wash_keeps_its_scale():
    now = plan(pullover(swatch=(swatch(20.0, 28.0, washed_rows=25.0),)))
    counted, washed = "\n".join(step_drawing("gauge", now)), "\n".join(step_drawing("wash", now))

    assert "20 stitches in 10 cm" in counted
    assert "28 rows in 10 cm" in counted
    assert "10 cm wide, 11.2 cm high" in washed  # 28 rows that were 10 cm are 28 ÷ 25 × 10 after it


def test_before_there_is_a_garment_the_chest_is_as_sure_as_the_gauge():
    lines = "\n".join(step_drawing("measure", plan(pullover(garment=GarmentChoices()))))

    assert "Chest" in lines
    assert "Finished: likely" in lines
