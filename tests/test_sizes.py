"""Every size of one design: each is the plan of its body, and what follows from that across a table."""

import itertools
from dataclasses import replace

import pytest

from tests.factory import pullover, swatch
from workshop import saves
from workshop.cli import main
from workshop.core.constructions import CONSTRUCTIONS
from workshop.planned import plan
from workshop.prints.blocks import Drawing, Items
from workshop.prints.sizes import DERIVED, document, rule_lines, sheet
from workshop.project import Body, Fit, Grading, GradingBody, ReferenceGarment
from workshop.sizes import LEAST_CM, NoSuchSize, nearest_table, sizes_of
from workshop.tables import bodies
from workshop.words.texts import texts


def design(**garment):
    base = pullover(swatch=(swatch(20.0, 28.0),), body=Body(source="table", table="women", size="M"))
    return replace(base, garment=replace(base.garment, **garment))


@pytest.mark.parametrize("construction", sorted(CONSTRUCTIONS))
def test_a_column_is_the_plan_of_its_body_to_the_stitch(construction):
    project = design(construction=construction)
    found = sizes_of(project)

    assert [one.size for one in found.sizes] == list(bodies.sizes("women"))
    assert found.base_size == "M"
    base = next(one for one in found.sizes if one.size == "M")
    assert base.plan.made == plan(project).made
    for one in found.sizes:
        assert one.plan.made == plan(one.project).made


@pytest.mark.parametrize("construction", sorted(CONSTRUCTIONS))
@pytest.mark.parametrize("table", ["women", "children"])
def test_girths_and_lengths_do_not_fall_from_a_size_to_the_next(construction, table):
    """Where the target before rounding does not fall either; derived measures may (method: sizes)."""
    found = [one for one in sizes_of(design(construction=construction), table).sizes if one.plan.made.pieces]
    for smaller, larger in itertools.pairwise(found):
        for part in ("chest", "upper_arm", "wrist", "length"):
            targets = (one.plan.targets.get(part) for one in (smaller, larger))
            if None in (known := tuple(targets)) or known[0] > known[1]:
                continue
            before, after = (one.plan.made.finished_cm.get(part, 0.0) for one in (smaller, larger))
            assert after >= before - 1e-6, (smaller.size, larger.size, part)


def test_lengths_that_were_given_keep_their_relation_to_the_body():
    found = sizes_of(design(length_cm=64.0, neck_width_cm=20.0, sleeve_cm=44.0))
    by_size = {one.size: one for one in found.sizes}
    small, base = by_size["S"], by_size["M"]

    assert base.project.garment.length_cm == 64.0
    back = [one.plan.wearer.cm("back_waist") + one.plan.targets.finished["shoulder_drop"] for one in (small, base)]
    assert small.project.garment.length_cm == pytest.approx(64.0 + back[0] - back[1])
    arm = [one.plan.wearer.cm("sleeve_underarm") for one in (small, base)]
    assert small.project.garment.sleeve_cm == pytest.approx(44.0 * arm[0] / arm[1])
    assert {r.length: r.rule for r in found.rules}["neck_width_cm"] == "same difference"
    assert small.project.garment.hem_cm == base.project.garment.hem_cm


def test_a_rule_by_hand_counts_for_one_size_and_another_rule_for_all():
    given = design(length_cm=64.0, sleeve_cm=44.0)
    found = sizes_of(replace(given, grading=Grading(rule={"length_cm.S": "60", "sleeve_cm": "the same"})))
    by_size = {one.size: one.project.garment for one in found.sizes}

    assert by_size["S"].length_cm == 60.0
    assert by_size["L"].length_cm != 64.0
    assert {by_size[size].sleeve_cm for size in by_size} == {44.0}


def test_own_bodies_and_a_garment_that_fits():
    ease = replace(
        design(),
        fit=Fit(),
        body=Body(source="garment", table="women", size="M"),
        reference_garment=ReferenceGarment(chest_width_cm=52.0, length_cm=60.0),
    )
    own = replace(
        design(), grading=Grading(body=(GradingBody(name="Ann", chest_cm=88.0), GradingBody(name="Bo", chest_cm=112.0)))
    )

    assert [one.size for one in sizes_of(own).sizes] == ["Ann", "Bo"]
    assert sizes_of(own).table is None
    eases = {round(one.plan.targets.ease["chest"], 6) for one in sizes_of(ease).sizes}
    assert len(eases) == 1


def test_a_size_that_cannot_be_knitted_does_not_stop_the_rest():
    found = sizes_of(design(construction="set-in", length_cm=30.0))
    refused = [one for one in found.sizes if not one.plan.made.pieces]

    assert refused
    assert all(one.refused for one in refused)


def test_sizes_that_there_are_not_are_named():
    with pytest.raises(NoSuchSize, match="XS, S, M"):
        sizes_of(design(), None, ["S", "giant"])
    assert nearest_table(replace(design(), body=Body(source="own", chest_cm=60.0))) == "children"


# ── printed ──────────────────────────────────────────────────────────────────────────────────────────


def test_sizes_on_paper_by_command(tmp_path, capsys):
    demo = tmp_path / "demo.toml"
    demo.write_bytes((saves.demo_folder() / "harbour-pullover.toml").read_bytes())
    page, text = tmp_path / "sizes.html", tmp_path / "sizes.md"

    assert main(["sizes", str(demo), "--sizes", "S,M,L", "--to", str(page)]) == 0
    assert main(["sizes", str(demo), "--sizes", "S,M,L", "--to", str(text)]) == 0
    assert "Sizes: S (M, L)." in page.read_text("utf-8")
    assert "<svg" in page.read_text("utf-8")
    assert "Cast on 98 (106, 118) stitches" in text.read_text("utf-8")
    before = text.read_bytes()
    assert main(["sizes", str(demo), "--to", str(text)]) == 1
    assert "--replace" in capsys.readouterr().err
    assert text.read_bytes() == before
    assert main(["sizes", str(demo), "--to", str(demo.with_suffix(".svg"))]) == 1
    assert main(["sizes", str(demo), "--sizes", "M", "--to", str(text), "--replace"]) == 0
    assert text.read_bytes() != before


def test_a_print_of_sizes_is_never_written_over_a_save(tmp_path):
    demo = tmp_path / "demo.toml"
    demo.write_bytes((saves.demo_folder() / "harbour-pullover.toml").read_bytes())
    (tmp_path / "save.md").symlink_to(demo)

    assert main(["sizes", str(demo), "--to", str(tmp_path / "save.md"), "--replace"]) == 1
    assert demo.read_bytes() == (saves.demo_folder() / "harbour-pullover.toml").read_bytes()


def test_the_schematic_gives_each_measurement_of_all_sizes_under_its_letter():
    found = sizes_of(design(construction="set-in"), "women", ["S", "M", "L"])
    schematic = next(s for s in sheet(design(), found).sections if s.heading == "Schematic")
    drawing = next(b for b in schematic.blocks if isinstance(b, Drawing))
    listed = [item for block in schematic.blocks if isinstance(block, Items) for item in block.items]

    for shape in drawing.shapes:
        for measure in shape.measures:
            told = next(item for item in listed if item.startswith(f"{measure.what}: "))
            assert str(round(measure.value_cm, 1)).removesuffix(".0") in told  # of the base size, as it is drawn
            assert any(measure.what in line for line in drawing.lines)
    assert any(item.startswith("a: ") and "(" in item for item in listed)


def test_what_falls_from_a_size_to_the_next_has_its_reason():
    assert set(texts("falls")) == set(DERIVED)
    told = document(design(), sizes_of(design(construction="drop-shoulder", sleeve_cm=None)))
    falls = [s for s in told.sections if s.heading == "Smaller in a larger size"]
    assert "Sleeve" in falls[0].blocks[0].items[0]


def test_a_difference_that_would_leave_nothing_is_held_and_said():
    found = sizes_of(replace(design(neck_depth_cm=1.2), body=Body(source="table", table="women", size="5X")))
    held = [one.size for one in found.sizes if one.project.garment.neck_depth_cm == LEAST_CM]
    assert held
    assert any("which holds in" in line and held[0] in line for line in rule_lines(design(), found))
