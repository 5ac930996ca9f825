"""A construction is one module and one record: a seventh, which the workshop has never heard of, goes all the way."""

import sys
from dataclasses import replace
from importlib import import_module
from types import ModuleType

import pytest
from shapely.geometry import Polygon

from tests.factory import pullover, shaped
from tests.knitted import knitted_cm2
from tests.reader import read
from tests.test_reader import changed_numbers, differences
from workshop import saves
from workshop.core.constructions import CONSTRUCTIONS, Construction, construction
from workshop.core.garments import Garment, GarmentSpec, Seam
from workshop.core.making import roles
from workshop.core.making.counts import (
    edging_rule,
    fabric_of,
    length_of_both,
    rows_above_edging,
    rows_for,
    stitches_for,
    width_of,
)
from workshop.core.making.ledger import Ledger, Piece, later
from workshop.core.making.panels import alike
from workshop.core.making.spacing import on_right_side
from workshop.core.plan import plan
from workshop.pictures.outline import Outline
from workshop.prints.document import shapes_of, summary
from workshop.prints.machine import summary_data
from workshop.prints.paper import html, markdown, svg
from workshop.prints.plan_sheet import plan_sheet
from workshop.project import GarmentChoices
from workshop.questions.shape import CONSTRUCTION
from workshop.words.instructions import finishing, instructions

PONCHO_PANEL = roles.Role("poncho panel", alike="poncho panels", drawn="panel")
"""One of two strips that are sewn short edge to long edge; it narrows towards the end that lies over the shoulder."""

PANEL_CM, NARROWER = 48.0, 7


def build(spec: GarmentSpec) -> Garment:
    """Two panels, alike: an edging, plain cloth, and decreases at both edges over the last third."""
    cloth, fabric, notes = spec.cloth, fabric_of(spec.hem), spec.notes
    across = notes.record(
        stitches_for(
            "panel.stitches", "Stitches of a panel", PANEL_CM, cloth.stitches_per_10cm, edging_rule(spec.hem, "flat")
        )
    ).count
    edging = notes.record(rows_for("panel.edging_rows", "Rows of its edging", spec.hem_cm, cloth.rows_in(fabric))).count
    length, edging_cm = spec.targets.finished["length"], cloth.along_cm(edging, fabric)
    above = notes.record(
        rows_above_edging("panel.rows", "Rows of a panel", length, edging_cm, cloth.rows_per_10cm)
    ).count
    shaped = 2 * (above // 6)
    pieces = [_panel(side, across, edging, above, shaped, spec) for side in roles.BOTH_EDGES]
    short = cloth.across_cm(pieces[0].bound_off - 2)
    seams = [
        Seam(f"{s} panel, short edge", f"{o} panel, long edge", a_cm=short, b_cm=short)
        for s, o in (("left", "right"), ("right", "left"))
    ]
    chest = width_of("finished.chest", "Finished chest", 2 * (across - 2), cloth.stitches_per_10cm)
    long = length_of_both("finished.length", "Finished length", edging, above, cloth, fabric)
    finished = {"chest": notes.record(chest).value, "length": notes.record(long).value}
    return Garment(tuple(pieces), tuple(seams), finished)


def _panel(side: roles.Edge, across: int, edging: int, above: int, shaped: int, spec: GarmentSpec) -> Piece:
    ledger = Ledger(PONCHO_PANEL, "flat", across, side, edge_stitches=1)
    ledger.work(edging, fabric_of(spec.hem))
    narrowing = on_right_side(shaped, NARROWER, order="short-first").event_rows
    ledger.follow(edging + above, later(alike(narrowing), edging + above - shaped))
    return ledger.piece(across=across)


RECORD = Construction(
    "poncho",
    "poncho of two panels",
    "two panels",
    "poncho",
    joined_first="panels",
    sewn="Sew the narrow end of each panel to the long edge of the other, beginning at its edging.",
)


@pytest.fixture
def seventh(monkeypatch):
    """One module and one record, and nothing else."""
    module = ModuleType("workshop.core.garments.poncho")
    module.build = build
    monkeypatch.setitem(sys.modules, module.__name__, module)
    monkeypatch.setitem(CONSTRUCTIONS, RECORD.name, RECORD)
    return plan(shaped(pullover(), construction="poncho", sleeve="none"))


def test_no_construction_here_has_its_role():
    known = {p.role for name in CONSTRUCTIONS for p in plan(shaped(pullover(), construction=name)).made.pieces}

    assert PONCHO_PANEL not in known


def test_it_is_asked_for_saved_and_read_again(seventh, tmp_path):
    options = {o.value: o.label for o in CONSTRUCTION.kind.options(seventh.project)}
    path = tmp_path / "poncho.toml"
    saves.save(seventh.project, path)

    assert list(options) == list(CONSTRUCTIONS)
    assert options["poncho"] == "poncho of two panels"
    assert saves.load(path) == seventh.project


def test_a_save_of_a_construction_that_nobody_knows_is_refused(tmp_path):
    path = tmp_path / "poncho.toml"
    saves.save(shaped(pullover(), construction="poncho"), path)

    with pytest.raises(saves.BadSave, match=r"'poncho'\. It should be one of drop-shoulder, square-armhole, "):
        saves.load(path)


def test_it_is_planned(seventh):
    left, right = seventh.made.pieces

    assert [c.code for c in seventh.checks if c.level == "stop"] == []
    assert left.rows == right.rows
    assert left.bound_off == left.cast_on - 2 * NARROWER
    assert [s.rhythm for s in left.schedules] == [((6, 2), (8, NARROWER - 3))]
    assert seventh.made.finished_cm["chest"] == pytest.approx(2 * PANEL_CM, abs=4)
    assert seventh.yarn.metres[1] > 0


def test_its_words_are_read_back(seventh):
    words = instructions(seventh)

    assert [w.title for w in words] == ["Poncho panels (make two alike)"]
    assert differences(read(words), seventh.made.pieces) == []
    at = next(i for i, line in enumerate(words[0].lines) if "decrease" in line)
    for wrong in changed_numbers(words[0].lines[at]):
        lines = (*words[0].lines[:at], wrong, *words[0].lines[at + 1 :])
        with pytest.raises(AssertionError):
            assert differences(read([replace(words[0], lines=lines)]), seventh.made.pieces) == []


def test_it_is_joined_as_its_record_says(seventh):
    told = " ".join(finishing(seventh))

    assert RECORD.sewn in told
    assert "side" not in told
    assert "sleeve" not in told


def test_it_is_drawn(seventh):
    (shape,) = shapes_of(seventh)
    (piece, _), cloth = seventh.made.pieces, seventh.gauge.cloth

    assert isinstance(shape, Outline)
    assert shape.caption == "poncho panel (make two)"
    assert Polygon(shape.points).area == pytest.approx(knitted_cm2(piece, seventh.made.pieces, cloth), rel=0.006)


def test_it_is_printed(seventh):
    data = summary_data(seventh)
    printed = [markdown(summary(seventh)), html(summary(seventh), seventh), markdown(plan_sheet(seventh)), svg(seventh)]

    assert [(p["role"], p["side"], p["parent"]) for p in data["pieces"]] == [
        ("poncho panel", "left", None),
        ("poncho panel", "right", None),
    ]
    assert [w["piece"] for w in data["instructions"]] == ["Poncho panels (make two alike)"]
    for text in printed:
        assert "oncho panel" in text


@pytest.mark.parametrize("record", CONSTRUCTIONS.values(), ids=CONSTRUCTIONS)
def test_each_record_has_a_module_that_builds_it(record):
    assert callable(import_module(f"workshop.core.garments.{record.module}").build)


def test_shoulder_seams_are_taken_for_granted_until_a_construction_is_chosen():
    assert construction(None).shoulder_seams


def test_what_is_offered_for_a_shape_stays_offered_once_its_construction_is_taken():
    """Who takes all offers at once gets what stood there: a drop shoulder that is offered has straight shoulders."""
    bare = replace(pullover(), garment=GarmentChoices())
    before = plan(bare).offers
    after = plan(shaped(bare, construction=before["garment.construction"])).offers
    assert {k: v for k, v in before.items() if k.startswith("garment.")} == {
        k: v for k, v in after.items() if k.startswith("garment.")
    }
