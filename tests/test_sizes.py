"""Every size of one design: each is the plan of its body, and what follows from that across a table."""

import itertools
import json
import os
import re
from dataclasses import replace
from functools import cache

import pytest

from tests.factory import pullover, readings, swatch
from workshop import saves
from workshop.cli import main
from workshop.core.constructions import CONSTRUCTIONS
from workshop.core.edgings import of_fabric
from workshop.core.necklines import NECKLINES
from workshop.planned import plan
from workshop.prints.blocks import Drawing, Items
from workshop.prints.document import shapes_of
from workshop.prints.paper import markdown
from workshop.prints.sizes import document, reason, rule_lines, sheet
from workshop.project import Body, Fit, Grading, GradingBody, ReferenceGarment
from workshop.sizes import LEAST_CM, NoSuchSize, nearest_table, sizes_of
from workshop.tables import bodies
from workshop.words.answers.of_garment import finished_name
from workshop.words.texts import texts

TABLES = ("women", "men", "youth", "children", "babies")


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
    listed = listed_in_schematic(design(), found)

    for shape in drawing.shapes:
        for measure in shape.measures:
            told = next(item for item in listed if item.startswith(f"{measure.what}: "))
            assert str(round(measure.value_cm, 1)).removesuffix(".0") in told  # of the base size, as it is drawn
            assert any(measure.what in line for line in drawing.lines)
    assert any(item.startswith("a: ") and "(" in item for item in listed)


@pytest.mark.parametrize(("construction", "base"), [("set-in", "M"), ("set-in", "S"), ("round-yoke", "M")])
def test_hem_and_chest_are_listed_for_every_size_however_they_are_drawn(construction, base):
    """Where they are alike in one size they are one measurement there, also where that is the size that is drawn."""
    project = replace(design(construction=construction, waist="shaped"), body=Body("table", "women", base))
    found = sizes_of(project).made
    lines = listed_in_schematic(project, sizes_of(project))
    at_piece = [line.partition(": ")[2] for line in lines[: next(i for i, x in enumerate(lines) if "to underarm" in x)]]

    for what in ("hem", "chest"):
        told = next((line for line in at_piece if line.startswith(f"{what} ")), "")
        assert told, (what, at_piece)
        assert "–" not in told
        assert told.count(",") == len(found) - 2


def test_a_waist_that_the_drawn_size_has_not_is_listed_too():
    project = replace(design(waist="shaped", length_cm=42.0), body=Body("table", "children", "6"))
    found = sizes_of(project)
    drawn = [[m.what for m in shapes_of(one.plan)[0].measures] for one in found.made]
    straight = [one.size for one, measures in zip(found.made, drawn, strict=True) if "waist" not in measures]
    assert straight == ["2"]
    at_two = replace(project, body=Body("table", "children", "2"), garment=project.garment)
    assert any(re.match(r"waist (\S+) \(.*\) cm", line) for line in listed_in_schematic(at_two, sizes_of(at_two)))


def listed_in_schematic(project, found):
    """The measurements below the drawing, in their order."""
    schematic = next(s for s in sheet(project, found).sections if s.heading == "Schematic")
    return [item for block in schematic.blocks if isinstance(block, Items) for item in block.items]


def test_tables_are_named_as_people_name_them():
    said = {table: document(design(), sizes_of(design(), table)).lead.partition(". ")[0] for table in TABLES}
    assert said == {
        "women": "From the women's table",
        "men": "From the men's table",
        "youth": "From the youth table",
        "children": "From the children's table",
        "babies": "From the babies' table",
    }


def falls_of(project, found):
    """What is told of measurements that are smaller in a larger size."""
    told = document(project, found).sections
    return [item for s in told if s.heading == "Smaller in a larger size" for item in s.blocks[0].items]


def test_what_falls_from_a_size_to_the_next_has_its_reason():
    """Whatever a plan measures: nobody has to think of a measurement for its falls to be listed."""
    met = set()
    babies = replace(design(construction="raglan-from-hem", length_cm=28.0), body=Body("table", "babies", "6 months"))
    for found in (*designs(), sizes_of(design(construction="square-armhole")), sizes_of(babies)):
        told = falls_of(found.made[0].project, found)
        for part in {part for one in found.made for part in one.plan.finished_cm}:
            for a, b in itertools.pairwise(found.made):
                was, now = (one.plan.finished_cm.get(part) for one in (a, b))
                if None not in (was, now) and now < was - 0.05:
                    met.add(part)
                    name = finished_name(part, a.plan)
                    lines = [line for line in told if line.startswith(f"{name}, from ")]
                    assert any(re.search(rf"\b{a.size} to {b.size}\b", line) for line in lines), (part, told)
    assert met >= {"neck_to_cuff", "front_neck_depth", "shoulder", "sleeve"}
    measured = {part for found in designs() for one in found.made for part in one.plan.finished_cm}
    assert measured <= set(texts("falls"))  # each has a reason of its own


def test_of_own_bodies_only_a_larger_one_is_said_to_have_something_smaller():
    nell, ann = GradingBody(name="Nell", chest_cm=97.0), GradingBody(name="Ann", chest_cm=86.0)
    twins = (replace(ann, name="Una", hip_cm=98.0), replace(ann, name="Ida", hip_cm=88.0))
    zoe = GradingBody(name="Zoe", chest_cm=122.0)
    project = replace(design(construction="drop-shoulder"), grading=Grading(body=(zoe, nell, ann, *twins)))
    chest = {"Nell": 97.0, "Ann": 86.0, "Una": 86.0, "Ida": 86.0, "Zoe": 122.0}

    told = falls_of(project, sizes_of(project))
    pairs = [pair for line in told for pair in re.findall(r"(\w+) to (\w+)(?=[,:])", line)]
    assert pairs
    assert all(chest[b] > chest[a] for a, b in pairs), told


def test_a_body_that_is_larger_but_narrower_somewhere_is_the_reason():
    slim = GradingBody(name="Slim", chest_cm=104.0, hip_cm=92.0, upper_arm_cm=27.0)
    full = GradingBody(name="Full", chest_cm=96.0, hip_cm=112.0, upper_arm_cm=35.0)
    project = replace(design(construction="raglan-from-hem"), grading=Grading(body=(slim, full)))

    told = falls_of(project, sizes_of(project))
    assert "Upper arm, from Full to Slim: the larger body measures less there." in told


def test_lengths_are_told_for_the_sizes_that_can_be_made_as_all_else_is():
    own = (GradingBody(name="Ann", chest_cm=88.0), GradingBody(name="Bo"), GradingBody(name="Cy", chest_cm=112.0))
    project = replace(design(length_cm=58.0, sleeve_cm=44.0), grading=Grading(body=own))
    found = sizes_of(project)
    assert [one.size for one in found.made] == ["Ann", "Cy"]

    brackets = [line.partition(", before")[0] for line in rule_lines(project, found) if ", before rounding" in line]
    assert brackets
    assert all(line.count(",") == 0 for line in (b.partition("(")[2] for b in brackets)), brackets
    none_made = sizes_of(replace(project, grading=Grading(body=own[1:2])))
    assert not any("before rounding" in line for line in rule_lines(project, none_made))


def test_the_base_size_is_the_one_that_was_planned_or_the_nearest_to_it():
    planned = replace(design(length_cm=58.0), grading=Grading(body=(GradingBody(name="Bo", chest_cm=112.0),)))

    def said(table):
        found = sizes_of(planned, table)
        return document(planned, found).lead, next(
            line for line in rule_lines(planned, found) if "you gave" in line.casefold()
        )

    lead, rule = said("women")
    assert "Base size, the one you planned: M." in lead
    assert "For size M, you gave 58 cm." in rule
    for table, nearest in (("men", "M"), (None, "Bo"), ("babies", "24 months")):
        lead, rule = said(table)
        assert f"Base size, the nearest to the body you planned: {nearest}." in lead
        assert f"You gave 58 cm, which is used for size {nearest}." in rule
    unknown = replace(design(), body=Body())
    assert "planned" not in document(unknown, sizes_of(unknown, "women")).lead


def test_a_difference_that_would_leave_nothing_is_held_and_said():
    found = sizes_of(replace(design(neck_depth_cm=1.2), body=Body(source="table", table="women", size="5X")))
    held = [one.size for one in found.sizes if one.project.garment.neck_depth_cm == LEAST_CM]
    assert held
    assert any("the length in" in line and held[0] in line for line in rule_lines(design(), found))


# ── what holds from a size to the next (method: sizes, section 2) ────────────────────────────────────

DEEP = os.environ.get("HYPOTHESIS_PROFILE") == "deep"
ALL = [
    (table, construction, neckline, gauge, worked)
    for table in TABLES
    for construction in sorted(CONSTRUCTIONS)
    for neckline in sorted(NECKLINES)
    for gauge in (14.0, 22.0, 30.0)
    for worked in ("flat", "round")
]
SAMPLED = ALL if DEEP else ALL[::17]
"""All 720 designs in all sizes of their tables, or one of seventeen: through all tables, shapes, necks and gauges."""

FITTED = {"set-in", "drop-shoulder", "square-armhole"}
"""Their upper arm goes by the armhole: a cap may want a wider sleeve, a straight top is as wide as its armhole is deep."""


@cache
def designs():
    """Designs in all sizes of their tables."""
    found = []
    for table, construction, neckline, gauge, worked in SAMPLED:
        middle = bodies.sizes(table)[len(bodies.sizes(table)) // 2]
        base = pullover(
            swatch=(swatch(gauge, round(gauge * 5.6) / 4),), body=Body(source="table", table=table, size=middle)
        )
        wishes = {"construction": construction, "neckline": neckline, "worked": worked, "hem_cm": 4.0, "cuff_cm": 4.0}
        length = float(plan(base).offers["garment.length_cm"])
        project = replace(base, garment=replace(base.garment, length_cm=length, **wishes))
        found += [sizes] if (sizes := sizes_of(project, table)).made else []
    return found


def neighbours():
    """Each size that can be knitted and the next one."""
    return [pair for found in designs() for pair in itertools.pairwise(found.made)]


def parts_of(smaller, larger, parts):
    """Targets and finished measurements of both, of the parts that have them; a wider sleeve for its cap is no rule."""
    derived = {"upper_arm"} if smaller.project.garment.construction in FITTED else set()
    for part in parts:
        wanted = [one.plan.targets.get(part) for one in (smaller, larger)]
        made = [one.plan.made.finished_cm.get(part) for one in (smaller, larger)]
        if part not in derived and None not in (*wanted, *made):
            yield part, wanted, made


def test_nothing_that_has_a_target_falls_where_the_target_does_not():
    tried = set()
    for smaller, larger in neighbours():
        for part, wanted, made in parts_of(
            smaller, larger, ("chest", "upper_arm", "wrist", "length", "armhole_depth", "yoke_depth")
        ):
            tried.add(part)
            if wanted[1] >= wanted[0] - 1e-9:
                assert made[1] >= made[0] - 1e-6, (smaller.project.garment, smaller.size, part)
    assert tried >= {"chest", "upper_arm", "wrist", "length", "armhole_depth"}


@pytest.mark.parametrize("construction", ["raglan-from-hem", "raglan-from-neck", "round-yoke"])
@pytest.mark.parametrize("table", TABLES)
def test_a_sweater_with_a_yoke_is_as_long_as_it_is_to_be_within_a_row(table, construction):
    """Yoke and body have whole rows each; the body makes up what the yoke lacks or has more.

    So a size can be shorter than the one before only where the two are to be less than two rows apart.
    """
    middle = bodies.sizes(table)[len(bodies.sizes(table)) // 2]
    for stitches, rows in ((12.0, 16.75), (26.0, 36.5)):
        base = pullover(swatch=(swatch(stitches, rows),), body=Body(source="table", table=table, size=middle))
        length = float(plan(base).offers["garment.length_cm"])
        wishes = {
            "construction": construction,
            "neckline": "crew",
            "length_cm": length,
            "hem_cm": 4.0,
            "cuff_cm": 4.0,
        }
        made = sizes_of(replace(base, garment=replace(base.garment, **wishes)), table).made
        assert made
        for one in made:
            off = one.plan.made.finished_cm["length"] - one.plan.targets.finished["length"]
            assert abs(off) <= one.plan.gauge.cloth.along_cm(1) + 1e-6, (one.size, stitches, rows)


MULTIPLE = {"chest": 4, "upper_arm": 2, "wrist": 4}
"""Stitches in which they go round: two even halves, an even sleeve, a repeat of rib; twice that where seams are taken off."""


def test_a_step_of_a_count_is_the_step_of_its_target_but_for_rounding():
    for smaller, larger in neighbours():
        cloth, flat = smaller.plan.gauge.cloth, smaller.project.garment.worked == "flat"
        for part, wanted, made in parts_of(smaller, larger, MULTIPLE):
            off = abs((made[1] - made[0]) - (wanted[1] - wanted[0])) / cloth.across_cm(1)
            assert off < MULTIPLE[part] * (2 if flat else 1) + 1e-6, (smaller.project.garment, smaller.size, part)
        for part, wanted, made in parts_of(smaller, larger, ("armhole_depth", "length")):
            off = abs((made[1] - made[0]) - (wanted[1] - wanted[0])) / cloth.along_cm(1)
            assert off < 4.0 + 1e-6, (smaller.project.garment, smaller.size, part)


def test_every_count_keeps_its_multiple_and_residue_across_the_sizes():
    for smaller, larger in neighbours():
        theirs = {piece.name: piece for piece in larger.plan.made.pieces}
        for piece in smaller.plan.made.pieces:
            other = theirs.get(piece.name)
            if other is None or piece.parent is not None or not piece.cast_on:
                continue
            repeat = of_fabric(piece.rows[0].fabric).repeat if of_fabric(piece.rows[0].fabric).rib else 2
            assert piece.cast_on % repeat == other.cast_on % repeat, (smaller.size, piece.name)
            chest = [one.key_counts.get("chest") for one in (piece, other)]
            if None not in chest:
                assert chest[0] % 2 == chest[1] % 2, (smaller.size, piece.name)


def test_ease_stays_as_it_is_or_in_its_class():
    for smaller, larger in neighbours():
        before, after = (one.plan.targets.ease["chest"] for one in (smaller, larger))
        assert before == pytest.approx(after), (smaller.size, larger.size)  # of one class in one table


def test_the_table_says_what_each_size_has_more_than_its_body_and_which_yarn_it_is_of():
    """Rounding to whole stitches makes the ease of each size another: a reader subtracts the two rows above."""
    made = document(pullover(), sizes_of(pullover(), "women"))
    sizes = next(s for s in made.sections if s.heading == "Sizes")
    rows = {row[0]: row[1:] for row in sizes.blocks[1].rows}
    body, chest, ease = (map(float, rows[name]) for name in ("To fit chest", "Finished chest", "Ease at the chest"))
    assert [round(c - b, 1) for b, c in zip(body, chest, strict=True)] == list(ease)
    assert sizes.blocks[2].text == "Yarn: Test yarn, medium, 100% wool, 100 g to the ball (200 m)."


def test_two_swatches_to_count_again_are_both_named():
    """They have the same check: each with its own swatch."""
    counts = (*readings("off needles", "stitches", 20.0, 24.0, 18.0), *readings("off needles", "rows", 28.0))
    odd = [replace(swatch(name=name), needle_mm=4.5, reading=counts) for name in ("B", "C")]
    project = replace(design(), swatch=(swatch(20.0, 28.0), *odd))
    sections = document(project, sizes_of(project, None, ["S", "M"])).sections
    told = next(s for s in sections if s.heading == "To look at again").blocks[0].items
    assert [line[:30] for line in told if "differ by more than" in line] == [
        "All sizes: Swatch B, stitches ",
        "All sizes: Swatch C, stitches ",
    ]


def test_an_answer_that_a_plan_still_needs_is_named():
    base = pullover()
    open_still = replace(base, garment=replace(base.garment, length_cm=None))
    told = reason(sizes_of(open_still, "women").sizes[0])
    assert told == "Not answered yet: Length, shoulder to hem."


def sized_by_command(tmp_path, capsys, project, *options):
    """What the command says of a project in a file, as data; and how it ends."""
    path = tmp_path / "design.toml"
    saves.save(project, path)
    ended = main(["sizes", str(path), "--json", *options])
    return ended, json.loads(capsys.readouterr().out)


@pytest.mark.parametrize("garment", [{}, {"construction": "raglan-from-neck", "worked": "round"}])
def test_a_size_that_cannot_be_made_has_no_figures_and_its_true_reason(tmp_path, capsys, garment):
    """Without a length nothing can be counted. That the swatch was worked flat is another matter, and stops nothing."""
    ended, data = sized_by_command(tmp_path, capsys, design(length_cm=None, **garment))
    assert ended == 1
    for one in data["sizes"]:
        assert (one["finished_cm"], one["finished_range_cm"], one["yarn"]) == (None, None, None), one["size"]
        assert one["refused"] == "Not answered yet: Length, shoulder to hem."


def test_ease_is_what_the_garment_has_more_than_the_body_on_the_page_and_for_programs(tmp_path, capsys):
    """Also where that is less: the hem of a straight body does not know the hips."""
    project = design(construction="set-in", length_cm=30.0)
    _, data = sized_by_command(tmp_path, capsys, project)
    rows = {row[0]: row[1:] for row in document(project, sizes_of(project)).sections[0].blocks[1].rows}
    made = [one for one in data["sizes"] if one["refused"] is None]
    assert made
    assert len(made) < len(data["sizes"])
    for one in made:
        for part, ease in one["ease_cm"].items():
            body, finished = one["body_cm"].get(part), one["finished_cm"].get(part)
            assert (ease is None) == (None in (body, finished)), part
            assert ease is None or ease == pytest.approx(finished - body, abs=2e-4), part
    assert {round(one["ease_cm"]["hip"], 4) for one in made} != {6.0}
    assert [float(cell) for cell in rows["Ease at the chest"]] == pytest.approx(
        [one["ease_cm"]["chest"] for one in made], abs=0.11
    )
    assert all(set(one["ease_cm"].values()) == {None} for one in data["sizes"] if one["refused"])


# ── lengths by hand ──────────────────────────────────────────────────────────────────────────────────


def ruled(rule, **garment):
    return replace(design(**garment), grading=Grading(rule=rule))


def told_of_rules(project, *sizes):
    """What the page says of how lengths follow the size."""
    sections = document(project, sizes_of(project, None, sizes)).sections
    return next(s for s in sections if s.heading == "How lengths follow the size").blocks[0].items


@pytest.mark.parametrize(("rule", "others"), [("by the body", "changes with the body"), ("the same", "is the same in")])
def test_the_rule_that_the_others_follow_is_said_beside_the_sizes_by_hand(tmp_path, capsys, rule, others):
    project = ruled({"length_cm": rule, "length_cm.L": "66", "length_cm.S": "58"})
    _, data = sized_by_command(tmp_path, capsys, project)
    found = next(r for r in data["rules"] if r["length"] == "length_cm")
    assert (found["rule"], found["others"], found["given"]) == ("by hand", rule, 60.0)
    assert found["by_hand"] == {"S": 58.0, "L": 66.0}
    line = next(line for line in told_of_rules(project) if line.startswith("Length"))
    assert f"The length is what you typed for S and L. Otherwise it {others}" in line
    alone = told_of_rules(project, "M", "1X")
    assert f"The length {others}" in next(line for line in alone if line.startswith("Length"))
    assert next(r for r in data["rules"] if r["length"] == "hem_cm")["others"] == "the same"


def test_what_the_rules_of_a_file_name_and_there_is_not_is_told_each_in_a_line(tmp_path, capsys):
    rules = {"length_cm.xs": "50", "length_cm.7X": "60", "lenght_cm": "the same", "hem_cm": "by the body",
             "length_cm.M": "wide"}  # fmt: skip
    project = ruled(rules)
    lines = told_of_rules(project)
    for key, what in (
        ("length_cm.xs", "no size here is called xs"),
        ("length_cm.7X", "no size here is called 7X"),
        ("lenght_cm", "no length is called lenght_cm"),
        ("hem_cm", "'by the body'. That isn't a rule"),
        ("length_cm.M", "'wide'. That isn't a rule or a length"),
    ):
        assert sum(line.startswith("In the file, ") and f" {key}" in line and what in line for line in lines) == 1, (
            key,
            lines,
        )
    assert "The length changes with the body" in next(line for line in lines if line.startswith("Length"))
    _, data = sized_by_command(tmp_path, capsys, project)
    assert {odd["key"] for odd in data["not_used"]} == set(rules)
    assert not any("In the file" in line for line in told_of_rules(ruled({"length_cm.XS": "58"}), "M"))


def test_a_length_that_was_not_typed_can_be_given_for_one_size(tmp_path, capsys):
    project = ruled({"sleeve_cm.XS": "42"})
    assert project.garment.sleeve_cm is None
    by_size = {one.size: one for one in sizes_of(project).sizes}
    assert by_size["XS"].project.garment.sleeve_cm == 42.0
    assert by_size["XS"].plan.finished_cm["sleeve"] == pytest.approx(42.0, abs=1.0)
    assert by_size["S"].project.garment.sleeve_cm is None
    told = "Length of the sleeve: 42 cm in XS. You typed no such length for the other sizes."
    assert told in told_of_rules(project)
    _, data = sized_by_command(tmp_path, capsys, project)
    found = next(r for r in data["rules"] if r["length"] == "sleeve_cm")
    assert found == {"length": "sleeve_cm", "rule": "by hand", "given": None, "others": None, "by_hand": {"XS": 42.0}}


@pytest.mark.parametrize("typed", ["nan", "inf", "-inf", "-5", "0", "1e9", "1e400", "-5 cm"])
def test_a_length_for_one_size_is_held_to_its_bounds_at_the_door(tmp_path, capsys, typed):
    path = tmp_path / "design.toml"
    saves.save(ruled({"length_cm.M": "60", "length_cm.S": typed}), path)
    line = next(n for n, text in enumerate(path.read_text("utf-8").split("\n"), 1) if text.startswith('"length_cm.S"'))
    assert main(["sizes", str(path)]) == 1
    err = capsys.readouterr().err
    assert f"line {line}: grading.rule.length_cm.S: " in err
    assert len(err.splitlines()) == 1


def test_a_name_with_commas_can_be_asked_for(tmp_path, capsys):
    names = ("Ann", "Ann, the tall", "Bo")
    own = Grading(body=tuple(GradingBody(name=name, chest_cm=86.0 + 4 * n) for n, name in enumerate(names)))
    for said, found in (
        ("Ann, the tall", ["Ann, the tall"]),
        ("bo,ann, the tall", ["Ann, the tall", "Bo"]),
        ("Ann,Bo", ["Ann", "Bo"]),
    ):
        _, data = sized_by_command(tmp_path, capsys, replace(design(), grading=own), "--sizes", said)
        assert [one["size"] for one in data["sizes"]] == found


def test_the_sheet_of_mother_and_child_has_the_cautions_of_both_and_the_date_of_its_words():
    """Cords at a child's neck are told of wherever one of the sizes is a child's, also where the base size isn't."""
    own = (GradingBody(name="Ann", chest_cm=92.0), GradingBody(name="Tim", chest_cm=58.0, table="children"))
    project = replace(design(construction="raglan-from-neck", length_cm=56.0), terms="uk", grading=Grading(body=own))
    page = sheet(project, sizes_of(project))

    cautions = next(section for section in page.sections if section.heading == "Cautions").blocks[0].items
    assert any("cord" in line for line in cautions)
    assert len(set(cautions)) == len(cautions)
    assert re.search(r"Printed \d+ [A-Z][a-z]+ \d{4}\.", markdown(page))
