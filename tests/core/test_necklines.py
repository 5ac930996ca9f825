"""A neckline is one record, and one function for its front: a fifth, unknown to the workshop, goes all the way."""

import pytest

from tests.factory import piece_of, pullover, shaped
from tests.reader import read
from tests.test_reader import differences
from workshop import saves
from workshop.core.making import necklines
from workshop.core.making.necklines import NeckShaping
from workshop.core.making.roles import WHOLE_BAND
from workshop.core.necklines import NECKLINES, Neckline
from workshop.core.plan import plan
from workshop.pictures.outline import Outline
from workshop.prints.document import shapes_of
from workshop.prints.paper import markdown
from workshop.prints.plan_sheet import plan_sheet
from workshop.questions.shape import NECKLINE
from workshop.words.instructions import instructions

SQUARE = Neckline("square", "square, as a window", "square", front="square_front", deeper=1.2)


def square_front(width: int, pairs: int) -> NeckShaping:
    """All of the neck bound off at once, and straight up from there."""
    return NeckShaping(width, ())


@pytest.fixture
def fifth(monkeypatch):
    """One record and one function, and nothing else."""
    monkeypatch.setitem(NECKLINES, SQUARE.name, SQUARE)
    monkeypatch.setattr(necklines, "square_front", square_front, raising=False)
    return shaped(pullover(), neckline="square")


def test_it_is_asked_for_saved_and_read_again(fifth, tmp_path):
    path = tmp_path / "square.toml"
    saves.save(fifth, path)

    assert NECKLINE.kind.read("square", fifth) == "square"
    assert [o.value for o in NECKLINE.kind.options(fifth)] == ["crew", "boat", "v", "scoop", "square"]
    assert saves.load(path) == fifth


def test_a_save_of_a_neckline_that_nobody_knows_is_refused(tmp_path):
    path = tmp_path / "square.toml"
    saves.save(shaped(pullover(), neckline="square"), path)

    with pytest.raises(saves.BadSave, match=r"is 'square'. It should be one of crew, v, scoop, boat$"):
        saves.load(path)


@pytest.mark.parametrize("front", ["closed", "open"])
@pytest.mark.parametrize("construction", ["drop-shoulder", "set-in", "raglan-from-hem"])
def test_it_is_planned_and_its_words_are_read_back(fifth, construction, front):
    now = plan(shaped(fifth, construction=construction, front=front))

    assert [c.code for c in now.checks if c.level == "stop"] == []
    assert differences(read(instructions(now)), now.made.pieces) == []


def test_its_front_has_its_shape_and_its_depth(fifth):
    now, crew = plan(fifth), plan(shaped(fifth, neckline="crew"))
    half = piece_of(now.made, "front, left shoulder")
    row_cm = 10 / now.gauge.rows.per_10cm

    assert not [e for r in half.rows for e in r.events if e.where.startswith("neck")]
    depth = SQUARE.deeper * crew.targets.finished["front_neck_depth"]
    assert now.made.finished_cm["front_neck_depth"] == pytest.approx(depth, abs=row_cm)


def test_it_is_drawn_and_printed(fifth):
    now = plan(fifth)

    assert all(isinstance(shape, Outline) for shape in shapes_of(now))
    assert "Square neck" in markdown(plan_sheet(now))


@pytest.mark.parametrize("construction", ["drop-shoulder", "set-in", "raglan-from-hem"])
def test_the_rows_along_which_a_band_is_picked_up_are_all_those_of_the_front(construction):
    """Straight up to the V and along its slope: with the paper in hand both add up to the rows of the front."""
    made = plan(shaped(pullover(), construction=construction, front="open", neckline="v")).made
    [band] = [p for p in made.pieces if p.role is WHOLE_BAND]
    rows = {part.edge: part.rows for part in band.rows[0].events[0].along}
    front = piece_of(made, "right front")
    top = next((p for p in made.pieces if p.parent is front), front)
    assert rows["right front edge"] + rows["right front"] == top.last_row
