"""An edging is one record: a fourth stitch for hem and bands, unknown to the workshop, goes all the way."""

import re
from dataclasses import replace

import pytest

import tests.reader
from tests.factory import piece_of, pullover, readings, shaped, swatch
from tests.reader import read
from tests.test_reader import differences
from workshop import saves
from workshop.core.edgings import EDGINGS, Edging, Fabric
from workshop.core.making.bands import first_rib
from workshop.core.making.roles import BODY
from workshop.core.plan import plan
from workshop.pictures.outline import Outline
from workshop.prints.document import shapes_of
from workshop.prints.paper import markdown
from workshop.prints.plan_sheet import plan_sheet
from workshop.project import Body
from workshop.questions.shape import HEM
from workshop.questions.swatch import STITCH
from workshop.words.instructions import instructions

WIDE = Edging(
    "rib-3x3", "rib, k3 p3", "k3, p3 rib", Fabric("rib-3x3"), Fabric("rib-3x3"),
    knits=3, purls=3, pattern="k3-p3-rib", pattern_label="k3 p3 rib",
)  # fmt: skip


@pytest.fixture
def fourth(monkeypatch):
    """One record, and nothing else; the reader learns its words from those of k2, p2 rib."""
    monkeypatch.setitem(EDGINGS, WIDE.name, WIDE)
    for words in [words for words, fabric in tests.reader.FABRICS.items() if fabric == "rib-2x2"]:
        monkeypatch.setitem(tests.reader.FABRICS, words.replace("2", "3"), WIDE.name)
    return shaped(pullover(), hem=WIDE.name)


def with_its_swatch(project):
    counted = (*readings("off needles", "rows", 36), *readings("washed", "rows", 32))
    own = replace(swatch(name="R"), stitch=WIDE.pattern, reading=counted)
    return replace(project, swatch=(*project.swatch, own))


def test_it_is_asked_for_saved_and_read_again(fourth, tmp_path):
    path, project = tmp_path / "wide.toml", with_its_swatch(fourth)
    saves.save(project, path)

    assert HEM.kind.read("rib, k3 p3", project) == WIDE.name
    assert [o.value for o in HEM.kind.options(project)] == ["rib-2x2", "rib-1x1", "garter", WIDE.name, "none"]
    assert STITCH.kind.read("k3 p3 rib", project) == WIDE.pattern
    assert saves.load(path) == project


@pytest.mark.parametrize(
    ("changed", "known"),
    [
        (shaped(pullover(), hem="rib-3x3"), "rib-1x1, rib-2x2, garter, none"),
        (with_its_swatch(pullover()), "stockinette, k1-p1-rib, k2-p2-rib, garter, reverse-stockinette, "),
    ],
)
def test_a_save_of_an_edging_that_nobody_knows_is_refused(changed, known, tmp_path):
    path = tmp_path / "wide.toml"
    saves.save(changed, path)

    with pytest.raises(saves.BadSave, match=f"It should be one of {known}"):
        saves.load(path)


@pytest.mark.parametrize("worked", ["flat", "round"])
@pytest.mark.parametrize("front", ["closed", "open"])
@pytest.mark.parametrize("construction", ["drop-shoulder", "raglan-from-neck"])
def test_it_is_planned_and_its_words_are_read_back(fourth, construction, front, worked):
    now = plan(shaped(fourth, construction=construction, front=front, worked=worked))

    assert [c.code for c in now.checks if c.level == "stop"] == []
    assert {r.fabric for p in now.made.pieces for r in p.rows} == {"stockinette", WIDE.name}
    assert differences(read(instructions(now)), now.made.pieces) == []


def test_its_columns_meet_at_seams_in_rounds_and_at_the_point_of_a_v(fourth):
    flat, whole = plan(fourth).made, plan(shaped(fourth, worked="round", neckline="v")).made
    band = piece_of(whole, "neckband")
    steps = first_rib(band)
    middle = steps.index("s2kp")

    assert piece_of(flat, "back").cast_on % 6 == 3
    assert piece_of(whole, "body").cast_on % 6 == 0
    assert band.key_counts["neck"] % 6 == 0
    assert steps[middle - 1 : middle + 2] == ("p3", "s2kp", "p3")


def test_its_rows_are_those_of_its_own_swatch(fourth):
    now = plan(with_its_swatch(fourth))

    assert now.gauge.edging.swatch.id == "R"
    assert now.gauge.cloth.rows_in(WIDE.fabric) == 32


def test_it_is_drawn_and_printed(fourth):
    now = plan(fourth)

    assert all(isinstance(shape, Outline) and shape.edging_cm for shape in shapes_of(now))
    assert WIDE.words in markdown(plan_sheet(now))


@pytest.mark.parametrize("construction", ["drop-shoulder", "raglan-from-hem", "raglan-from-neck"])
@pytest.mark.parametrize("chest_cm", [88.0, 90.0, 92.0, 94.0])
def test_a_rib_in_the_round_is_centred_under_the_front_as_it_is_flat(construction, chest_cm):
    """The columns left of the middle of the front mirror those right of it; the round closes (common practice)."""
    base = pullover(body=Body(source="own", table="women", chest_cm=chest_cm))
    now = plan(shaped(base, construction=construction, worked="round", hem="rib-2x2", waist="straight"))
    body = next(p for p in now.made.pieces if p.role is BODY)
    line = next(
        text
        for piece in instructions(now)
        for text in piece.lines
        if "rib all around" in text and "Body" in piece.title
    )
    told = re.search(
        r"centered on the front: (?:k1, \[p2, k2\] to the last 3 stitches, p2, k1|\[k2, p2\] to the end)", line
    )
    begins = 1 if "k1," in told[0] else 2
    row = next(r for r in body.rows if r.fabric == "rib-2x2")
    letters = ("kkpp" * row.before)[2 - begins :][: row.before]
    front = letters[: row.before // 2]  # rounds begin at the left side, and go over the front first

    assert front == front[::-1]
    assert letters[-1] == ("k" if begins == 1 else "p")
