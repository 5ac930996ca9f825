"""Panels up the middle: their width, their place, their rows, and the words that say so."""

import re
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.core.test_garments import projects
from tests.core.test_workings import check_workings
from tests.factory import pullover, shaped
from tests.reader import read
from tests.test_inches import check_printed
from tests.test_reader import changed_numbers, check, differences
from workshop.core.edgings import STOCKINETTE
from workshop.core.fabric.keeping import landmark
from workshop.core.finished import FABRICS_DIFFER
from workshop.core.knitting.facts import noted
from workshop.core.making import roles
from workshop.core.making.ledger import ADDS
from workshop.core.making.panel_stitches import without_panels
from workshop.core.plan import plan
from workshop.pictures.schematic import outlines
from workshop.prints.machine import summary_data
from workshop.prints.plan_sheet import plan_sheet
from workshop.project import Body, Panel, StitchPattern, TakenWay
from workshop.questions.actions import actions
from workshop.questions.patterns import remove_pattern
from workshop.questions.steps import fields
from workshop.words.before import before_knitting
from workshop.words.charts import charts
from workshop.words.fabric import panel_rows_written
from workshop.words.instructions import instructions

PARTS = {"front": ("front",), "back": ("back",), "both": ("front", "back"), "sleeves": ("left sleeve", "right sleeve")}


@st.composite
def panelled(draw):
    """A garment with one or two panels, swatched or not, in a ground that is plain or not."""
    project = draw(projects())
    own = StitchPattern("own", "big cable", draw(st.integers(4, 24)), draw(st.integers(0, 4)), draw(st.integers(1, 24)))
    swatched = (project.swatch[0],)
    if draw(st.booleans()):
        swatched = (*swatched, in_cable(project, draw(st.floats(0.85, 1.5)), draw(st.sampled_from([1.0, 1.1]))))
    name = draw(st.sampled_from(["own", "own", "seed", "basket"]))
    panels = [Panel(name, draw(st.integers(1, 3)), draw(st.sampled_from(["front", "back", "both", "sleeves"])))]
    if draw(st.booleans()):
        panels.append(Panel("own", draw(st.integers(1, 2)), draw(st.sampled_from(["front", "sleeves"]))))
    fabric = draw(st.sampled_from([None, None, "waffle", "k2-p2-rib"]))
    garment = replace(project.garment, panel=tuple(panels), fabric=fabric)
    return replace(project, swatch=swatched, stitch_pattern=(own,), garment=garment)


def in_cable(project, stitches, rows=1.0):
    """A swatch in the knitter's own pattern, with so many times the stitches and rows of the first."""
    plain = project.swatch[0]
    counts = (replace(r, count=r.count * (stitches if r.along == "stitches" else rows)) for r in plain.reading)
    return replace(plain, id="C", stitch="own", reading=tuple(counts))


def with_cable(base=None, *, wider=1.3, rows=1.0, repeats=1, on="front", multiple=24, plus=0, swatched=True, **wishes):
    """A pullover with a panel of the knitter's own pattern."""
    project = base or pullover()
    own = StitchPattern("own", "rope cable", multiple, plus, 8)
    swatches = (project.swatch[0], *([in_cable(project, wider, rows)] if swatched else []))
    project = replace(project, swatch=swatches, stitch_pattern=(own,))
    return shaped(project, panel=(Panel("own", repeats, on),), **wishes)


def codes(found):
    return [c.code for c in found.checks if "panel" in c.code]


@given(panelled())
def test_the_words_of_a_garment_with_panels_are_its_ledger(project):
    check(project)


@given(panelled())
def test_panels_lie_in_the_rows_as_they_should(project):
    """Five properties of one plan, which is what costs."""
    made = plan(project).made
    for holds in (
        every_row_adds_up_and_pieces_go_on_with_what_their_parents_left,
        without_its_panels_it_is_the_same_garment_in_the_stitches_of_its_ground,
        rows_of_a_panel_go_on_by_one_from_piece_to_piece_and_their_first_is_a_right_side_row,
        a_panel_stays_in_the_middle_of_its_part,
        in_a_piece_of_several_parts_a_panel_is_in_the_middle_of_its_own,
    ):
        holds(made)


def every_row_adds_up_and_pieces_go_on_with_what_their_parents_left(made):
    for piece in made.pieces:
        stitches = piece.cast_on
        for row in piece.rows:
            assert row.before == stitches
            stitches += sum(ADDS.get(e.do, 0) * e.stitches * (2 if e.where == "both" else 1) for e in row.events)
            assert row.after == stitches >= 0
        assert stitches == piece.bound_off
        if parts := made.growing_from(piece):
            held = sum(e.stitches for e in piece.rows[-1].events if e.do == "hold")
            assert sum(p.cast_on for p in parts) == held + piece.bound_off


def without_its_panels_it_is_the_same_garment_in_the_stitches_of_its_ground(made):
    """Rows, shaping, seams and necks are those of the garment that has no panel, on as many stitches."""
    for piece, ground in zip(made.pieces, without_panels(made.pieces), strict=True):
        assert [r.row for r in ground.rows] == [r.row for r in piece.rows]
        assert not any(e.line.endswith("panel") for r in ground.rows for e in r.events)
        for row, under in zip(piece.rows, ground.rows, strict=True):
            if any(e.do in ("join", "hold") for e in row.events):
                continue  # sleeves come and go
            assert row.before - under.before == sum(p.extra for p in piece.panels if p.lies_in(row.row))
            assert row.after - under.after == sum(p.extra for p in piece.panels if p.lies_in(row.row, after=True))
        if not piece.panels:
            assert piece.rows == ground.rows


def rows_of_a_panel_go_on_by_one_from_piece_to_piece_and_their_first_is_a_right_side_row(made):
    begun = {}
    for piece in made.pieces:
        fabrics, sides = ({r.row: getattr(r, name) for r in piece.rows} for name in ("fabric", "side"))
        for panel in piece.panels:
            for number, at in panel.rows:
                before = begun.get(panel.part, 0)
                assert at.row == before % panel.repeat_rows + 1
                assert fabrics[number] == STOCKINETTE
                assert panel.repeat_rows % 2 or sides[number] == "round" or (sides[number] == "RS") == (at.row % 2 == 1)
                begun[panel.part] = at.row
            assert panel.pattern.rows in (panel.repeat_rows, panel.repeat_rows / 2)


def a_panel_stays_in_the_middle_of_its_part(made):
    """As many stitches at its right as at its left, bind-offs at one edge alone put right a row later."""
    for piece in made.pieces:
        rows = {r.row: r for r in piece.rows}
        if piece.role not in (roles.FRONT, roles.BACK, roles.SLEEVE):
            continue
        for panel in piece.panels:
            for number, at in panel.rows:
                gone = [
                    e.stitches * (1 if e.where == piece.begins else -1)
                    for r in piece.rows
                    if r.row < number
                    for e in r.events
                    if e.do == "bind-off" and e.where in ("left", "right")
                ]
                right = at.from_stitch - 1
                left = rows[number].before - right - panel.stitches
                assert left - right == sum(gone)


def in_a_piece_of_several_parts_a_panel_is_in_the_middle_of_its_own(made):
    """Right after markers are placed: what lies before its part, and half of what the part has beside it."""
    for piece in made.pieces:
        for mark in (m for m in piece.marks if m.what == "markers"):
            at = {panel.part: (panel, panel.at(mark.after_row + 1)) for panel in piece.panels}
            before = 0
            for part, stitches in mark.counts:
                panel, where = at.get(part.name, (None, None))
                if where is not None:
                    assert 2 * (where.from_stitch - 1 - before) == stitches - panel.stitches
                before += stitches


@given(
    st.floats(16, 30),
    st.floats(0.8, 1.6),
    st.integers(6, 30),
    st.integers(0, 4),
    st.sampled_from(["front", "both"]),
    st.sampled_from(["drop-shoulder", "square-armhole", "set-in", "raglan-from-hem", "round-yoke"]),
    st.sampled_from(["flat", "round"]),
)
def test_the_width_is_that_of_its_panels_and_of_its_plain_stitches(per_10cm, wider, multiple, plus, on, name, worked):
    """W = n / g_panel + (N - n) / g, reckoned here from the gauges and the wish alone: the nearest even plain stitches."""
    base = pullover()
    counts = tuple(replace(r, count=per_10cm) if r.along == "stitches" else r for r in base.swatch[0].reading)
    base = replace(base, swatch=(replace(base.swatch[0], reading=counts),))
    project = with_cable(
        base, wider=wider, multiple=multiple, plus=plus, on=on, construction=name, worked=worked, hem="garter"
    )
    found = plan(project)
    assume(found.made.pieces and not codes(found))
    n, ground, panel = multiple + plus, found.gauge.stitches.per_10cm, per_10cm * wider
    across = 2 if on == "both" else 1
    plain_cm = found.targets.finished["chest"] - across * n / panel * 10
    in_all = plain_cm * ground / 10
    edges = 2 if worked == "flat" and name not in ("round-yoke",) else 0
    body, front = found.made.first(roles.BODY), found.made.first(roles.FRONT)
    if body is not None:
        at_chest = next(r.before for r in body.rows if r.row == body.last_row)
    else:
        back = found.made.first(roles.BACK)
        at_chest = sum(next(r.before for r in p.rows if r.row == 60) - edges for p in (front, back))
    plain = at_chest - across * n

    assert abs(plain - in_all) <= 2 + 1e-6  # front and back each even or odd, so in all to the next four
    assert found.made.finished_cm["chest"] == pytest.approx(plain / ground * 10 + across * n / panel * 10)


def test_neck_and_shoulders_are_those_of_the_garment_without_a_panel():
    """All that a panel brings goes out on the row before the bind-off of the neck: 14 plain stitches are left for it."""
    project = with_cable(construction="set-in", worked="flat")
    made, plain = plan(project).made, plan(shaped(project, panel=())).made
    front = made.first(roles.FRONT)
    last, before = front.rows[-1], front.rows[-2]

    assert [(e.do, e.line) for e in before.events] == [("decrease", "front panel")]
    assert before.side == "WS"
    assert next(e.stitches for e in last.events if e.where == "centre") > 1
    for part in ("neck_width", "shoulder", "front_neck_depth", "armhole_depth", "sleeve"):
        assert made.finished_cm[part] == pytest.approx(plain.finished_cm[part], abs=0.51), part
    halves = [p for p in made.pieces if p.role is roles.SHOULDER and p.parent is front]
    assert len({p.bound_off for p in halves}) == 1


@pytest.mark.parametrize("worked", ["flat", "round"])
@pytest.mark.parametrize(
    "name", ["drop-shoulder", "square-armhole", "set-in", "raglan-from-hem", "raglan-from-neck", "round-yoke"]
)
def test_every_construction_has_a_panel_up_front_back_and_sleeves(name, worked):
    project = with_cable(on="both", construction=name, worked=worked, multiple=12)
    project = shaped(project, panel=(*project.garment.panel, Panel("own", 1, "sleeves")))
    made = plan(project).made
    panels = [(piece, panel) for piece in made.pieces for panel in piece.panels if panel.rows]
    heights = {}
    for _, panel in panels:
        heights[panel.part] = heights.get(panel.part, 0) + len(panel.rows)

    assert set(heights) == {"front", "back", "left sleeve", "right sleeve"}
    assert heights["left sleeve"] == heights["right sleeve"]
    assert min(heights.values()) > 60
    assert check(project)


@pytest.mark.parametrize("worked", ["flat", "round"])
@pytest.mark.parametrize("name", ["raglan-from-hem", "round-yoke"])
@pytest.mark.parametrize("length_cm", [57.0, 58.0, 60.0])
def test_sleeve_panels_come_to_the_row_of_the_body_s_where_they_join(name, worked, length_cm):
    """One row of the pattern to be read in the yoke, not two; sewn raglan edges meet row to row."""
    project = with_cable(on="front", construction=name, worked=worked, multiple=12, length_cm=length_cm)
    project = shaped(project, panel=(*project.garment.panel, Panel("own", 1, "sleeves")))
    now = plan(project)
    meets = {}
    for piece in now.made.pieces:
        at_join = landmark(piece)
        for panel in piece.panels if at_join is not None and piece.parent is None else ():
            last = [at.row for row, at in panel.rows if row <= at_join][-1]
            meets[panel.part] = (last, panel.rows[0][0] - panel.set_up)
    together = [
        {panel.at(row.row).row for panel in piece.panels if panel.at(row.row)}
        for piece in now.made.pieces
        if piece.role is roles.YOKE
        for row in piece.rows
    ]

    assert set(meets) == {"front", "left sleeve", "right sleeve"}
    assert len({row for row, _ in meets.values()}) == 1
    assert all(len(rows) < 2 for rows in together)
    assert meets["front"][1] < 3
    said = any("begin a few rows after they're set up" in note for note in before_knitting(now))
    assert said == (meets["left sleeve"][1] > 2)
    assert check(project)


def test_panels_of_a_yoke_from_the_neck_say_that_they_are_on_other_rows():
    project = with_cable(on="front", construction="raglan-from-neck", worked="round", multiple=12)
    project = shaped(project, panel=(*project.garment.panel, Panel("own", 1, "sleeves")))

    assert any("on different pattern rows" in note for note in before_knitting(plan(project)))


def test_a_panel_that_is_not_swatched_is_counted_at_the_gauge_beside_it_and_said():
    found, sure = plan(with_cable(swatched=False)), plan(with_cable(wider=1.0))

    assert [c.code for c in found.checks if c.code == "fabric-unswatched"] == ["fabric-unswatched"]
    assert found.made.finished_cm["chest"] == pytest.approx(sure.made.finished_cm["chest"])
    assert found.ranges["chest"].fabric == pytest.approx(24 / 20 * 10 * FABRICS_DIFFER)
    assert found.ranges["shoulder"].fabric == 0
    assert found.ranges["chest"].high > sure.ranges["chest"].high


@pytest.mark.parametrize("on", ["both", "sleeves"])
def test_every_working_with_a_panel_comes_out_as_it_is_printed(on):
    project = with_cable(wider=1.237, on=on, construction="set-in", worked="flat")

    check_workings(project)
    check_printed(replace(project, units="in"))


def test_yarn_of_a_weighed_panel_is_by_its_own_swatch():
    light, heavy = with_cable(), with_cable()
    heavy = replace(heavy, swatch=(heavy.swatch[0], replace(heavy.swatch[1], grams=36.0)))
    one, other = plan(light), plan(heavy)
    stitches = sum(p.stitches * sum(p.lies_in(r.row) for r in x.rows) for x in one.made.pieces for p in x.panels)

    assert one.yarn.basis == other.yarn.basis == "weighed swatch"
    more = 1.05 * stitches * 18.0 / (36 * 48)
    assert other.working("yarn.garment").value - one.working("yarn.garment").value == pytest.approx(more)


@pytest.mark.parametrize(
    ("project", "code"),
    [
        (with_cable(construction="set-in", worked="flat", front="open"), "panel-open-front"),
        (with_cable(on="sleeves", sleeve="none"), "panel-no-sleeves"),
        (with_cable(repeats=9), "panel-repeats"),
        (with_cable(rows=1.05), "panel-puckers"),
        (with_cable(construction="round-yoke", worked="round"), "panel-plain-yoke"),
        (with_cable(construction="raglan-from-hem", worked="flat", repeats=2, on="back"), "panel-ends"),
    ],
)
def test_a_panel_that_cannot_be_kept_is_said_and_the_garment_planned(project, code):
    found = plan(project)

    assert code in codes(found)
    assert all(c.level == "look" for c in found.checks if c.code == code)
    assert found.made.pieces
    assert check(project)


def test_rows_that_differ_by_three_per_cent_or_less_are_not_asked_about():
    """Method: over 3 % puckers."""
    assert "panel-puckers" not in codes(plan(with_cable(rows=1.029)))
    assert "panel-puckers" in codes(plan(with_cable(rows=0.96)))


def test_of_two_panels_on_one_part_the_first_is_planned():
    project = with_cable()
    project = shaped(project, panel=(*project.garment.panel, Panel("seed", 5, "both")))
    found = plan(project)

    assert codes(found) == ["panel-twice"]
    assert {(p.part, p.pattern.id) for x in found.made.pieces for p in x.panels} == {("front", "own"), ("back", "seed")}


def test_only_a_repeat_that_is_wider_than_the_piece_stops():
    baby = pullover(body=Body(source="table", table="babies", size="3 months"))
    found = plan(with_cable(baby, wider=0.5, multiple=60, construction="drop-shoulder", length_cm=26.0))

    assert [c.code for c in found.checks if c.level == "stop"] == ["pattern-too-wide"]


@pytest.mark.parametrize("construction", ["set-in", "raglan-from-hem"])
def test_one_wrong_number_in_a_row_of_a_panel_is_noticed(construction):
    project = with_cable(on="both", construction=construction, worked="round")
    now = plan(project)
    printed, tried = instructions(now), 0
    for p, piece in enumerate(printed):
        for n, line in enumerate(piece.lines):
            if "panel" not in line:
                continue
            wrongs = list(changed_numbers(line))
            for wrong in wrongs[:: max(1, len(wrongs) // 4)]:
                tried += 1
                slip = replace(piece, lines=(*piece.lines[:n], wrong, *piece.lines[n + 1 :]))
                try:
                    noticed = bool(differences(read((*printed[:p], slip, *printed[p + 1 :])), now.made.pieces))
                except AssertionError:
                    noticed = True
                assert noticed, f"{line}\nread as\n{wrong}"
    assert tried > 20


def test_the_machine_readable_summary_has_panels_beside_the_ground():
    data = summary_data(plan(with_cable(construction="set-in", worked="flat")))
    front = next(p for p in data["pieces"] if p["name"] == "front")
    told = front["panels"][0]

    assert front["pattern"] is None
    assert (told["id"], told["stitches"], told["from_stitch"], told["first_row"]) == ("own", 24, 43, 1)
    assert [row["panels"] for row in front["rows"] if row["row"] == told["from_row"] + 9] == [
        [{"part": "front", "row": 2, "from_stitch": 43}]
    ]
    assert "panels" not in front["rows"][0]
    assert next(p for p in data["pieces"] if p["name"] == "back")["panels"] == []


def test_the_schematic_shows_the_panel_and_its_widths_are_the_finished_ones():
    found = plan(with_cable(wider=1.237, on="both", construction="set-in", worked="flat"))
    cloth = found.gauge.cloth
    front = next(s for s in outlines(found.made.pieces, cloth) if s.name == "front")

    assert front.strip.width == pytest.approx(24 / (20 * 1.237) * 10)
    assert 2 * front.measure("chest and hem").value_cm == pytest.approx(found.made.finished_cm["chest"])
    assert front.measure("neck").value_cm == pytest.approx(found.made.finished_cm["neck_width"])
    assert front.strip.bottom == pytest.approx(front.edging_cm)
    assert front.strip.top == pytest.approx(
        front.measure("length").value_cm - found.made.finished_cm["front_neck_depth"]
    )


def test_the_rows_of_a_panel_are_written_between_its_markers_and_its_chart_stands_once():
    chart = ("pkkkp", "pkkkp", "pcccp", "pkkkp")
    project = with_cable(on="both", construction="set-in", worked="flat", multiple=5)
    own = replace(project.stitch_pattern[0], rows=4, chart=chart)
    one = plan(replace(project, stitch_pattern=(own,)))
    two = plan(shaped(replace(project, stitch_pattern=(own,)), panel=(Panel("own", 2),)))
    panels = [next(p for x in found.made.pieces for p in x.panels) for found in (one, two)]

    assert panel_rows_written(panels[0], "flat", 4)[1:3] == ("Row 2 (WS): k1, p3, k1.", "Row 3 (RS): p1, c3, p1.")
    assert panel_rows_written(panels[1], "flat", 4)[0] == "Row 1 (RS): *p1, k3, p1; repeat from * to the marker."
    assert [len(charts(found)) for found in (one, two)] == [1, 1]
    assert charts(one)[0].lines[0] == "4 |p|k|k|k|p|"


TYPED = ("p2, *k4, p2; repeat from * to end.", "k2, *p4, k2; repeat from * to end.")


@pytest.mark.parametrize("head", ["", "Row {} (RS): ", "rnd {}: ", "ROUND {} - ", "{} (WS): ", "{}. "])
def test_a_row_that_was_typed_with_its_number_is_printed_with_one(head):
    lines = tuple(f"{head.format(n)}{text}" for n, text in enumerate(TYPED, 1))
    told = before_knitting(plan(with_rows(lines)))

    rows = [line for line in told if any(text in line for text in TYPED)]
    assert rows == (list(lines) if head else [f"Row {n}: {text}" for n, text in enumerate(TYPED, 1)])


def test_a_row_that_was_typed_with_another_number_is_printed_with_the_one_that_the_lines_name():
    told = before_knitting(plan(with_rows(tuple(f"Row {n}: {text}" for n, text in enumerate(TYPED, 5)))))

    assert f"Row 1: Row 5: {TYPED[0]}" in told


@pytest.mark.parametrize(
    ("row", "needed"),
    [
        ("p1, C4B, p1", True), ("p1, c6f, p1", True), ("k2, T3B, p1", True), ("p1, 2/2 RC, p1", True),
        ("k1, 1/2 LPC, k2", True), ("sl 2 to a cable needle, k2, k2 from it", True), ("k2, p2, k2tog, yo", False),
    ],
)  # fmt: skip
def test_a_cable_needle_is_on_the_list_where_a_row_crosses_stitches(row, needed):
    """Abbreviations of crossings: common practice, no source."""
    also = next(line for line in before_knitting(plan(with_rows((row, "purl")))) if line.startswith("You'll also"))

    assert ("a cable needle" in also) == needed


def test_the_end_of_a_typed_row_of_a_panel_is_its_second_marker():
    said = "In these rows, 'end' means the panel's second marker."

    assert said in " ".join(before_knitting(plan(with_rows(TYPED))))
    assert said not in " ".join(before_knitting(plan(with_rows(("p2, k4, p2", "k2, p4, k2")))))


def test_a_panel_in_several_places_is_one_phrase_at_a_glance():
    def told(project):
        glance = next(s for s in plan_sheet(plan(project)).sections if s.heading == "At a glance")
        return dict(glance.blocks[0].rows)["Panel"]

    both = with_cable(on="both", multiple=12)
    everywhere = shaped(both, panel=(*both.garment.panel, Panel("own", 1, "sleeves")))

    assert told(both).endswith("up the front and the back")
    assert told(everywhere).endswith("up the front, the back and the sleeves")
    assert told(everywhere).count("rope cable") == 1


def test_what_stands_only_in_own_rows_is_said_to_be_explained_in_their_source():
    own, ours = before_knitting(plan(with_rows(TYPED))), before_knitting(plan(shaped(pullover(), fabric="basket")))
    said = "Abbreviations that are only in your own rows are explained in your source."

    assert own.count(said) == 1
    assert said not in ours


def with_rows(lines):
    """A pullover with a panel whose rows were typed."""
    project = with_cable(swatched=False)
    return replace(project, stitch_pattern=(replace(project.stitch_pattern[0], rows=len(lines), lines=lines),))


def test_uk_words_have_the_panel_too():
    project = replace(with_cable(construction="set-in", worked="flat"), terms="uk")
    lines = [line for piece in instructions(plan(project)) for line in piece.lines]

    assert any(
        re.match(r"Row 17 \(RS\): stocking stitch; set up the panel: k\d+, place marker", line) for line in lines
    )
    assert any("cast off the next" in line for line in lines)


@pytest.mark.parametrize("rows", [8, 40, 120])
def test_a_panel_that_is_on_the_needle_goes_on_in_a_plan_made_anew(rows):
    """Knitted before it begins, in its middle, and above the underarm; with other rows to the length, or without it."""
    project = with_cable(construction="set-in", worked="flat")
    now = plan(project)
    front = now.made.first(roles.FRONT)
    knitted = replace(project, knitting=(noted(front, rows),))
    per_10cm = now.gauge.rows.per_10cm * 1.04
    anew = replace(knitted, taken=(TakenWay("rows-anew", "front", rows, rows_per_10cm=per_10cm),))

    assert plan(knitted).made.pieces == now.made.pieces
    with_it, without = plan(anew), plan(shaped(knitted, panel=()))
    assert with_it.made.first(roles.FRONT).rows[: rows - 1] == front.rows[: rows - 1]
    assert as_worked(without.made.first(roles.FRONT))[:rows] == as_worked(front)[:rows]
    assert with_it.made.first(roles.FRONT).panels[0].stitches == 24
    for found in (with_it, without):
        assert differences(read(instructions(found)), found.made.pieces) == []


def as_worked(piece):
    """What the needles did in each row, whatever it was for."""
    return [(r.side, r.before, r.after, [(e.do, e.where, e.stitches) for e in r.events]) for r in piece.rows]


def test_panels_are_added_and_removed_one_by_one():
    plain = shaped(with_cable(), panel=())
    one = act(plain, "add panel")
    two = act(one, "add panel")

    assert one.garment.panel == (Panel("own"),)
    assert two.garment.panel == (Panel("own"), Panel("own", on="sleeves"))
    assert [f.key for f in fields("shape", one) if f.key.startswith("panel")] == [
        "panel.1.id",
        "panel.1.repeats",
        "panel.1.on",
    ]
    assert act(two, "remove panel 1").garment.panel == (Panel("own", on="sleeves"),)
    assert remove_pattern(two, "own").garment.panel == ()


def act(project, name):
    return next(a for a in actions("shape", project, {}) if a.name == name).do(project)


@pytest.mark.parametrize(("swatched", "told"), [(True, "that of swatch C: 26 stitches per 10 cm"), (False, "swatch A")])
def test_the_gauge_of_a_panel_is_told_with_its_rows(swatched, told):
    """Who takes another yarn has to match both fabrics (common practice, no source)."""
    [about] = [line for line in before_knitting(plan(with_cable(swatched=swatched))) if "panel up" in line]
    assert told in about
    assert "gauge" in about
