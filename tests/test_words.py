"""Words: what is said is what the ledger holds, in the terms and units of the knitter."""

import re
from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.core.test_garments import SIZES, projects
from tests.factory import piece_of, pullover, readings, shaped, swatch
from workshop import saves
from workshop.cli import main
from workshop.core.making.ledger import Event
from workshop.core.making.roles import NECKBAND, THE_FRONT, YOKE
from workshop.core.plan import Plan, plan
from workshop.core.remarks import Amount, Remark
from workshop.prints.blocks import Table
from workshop.prints.dated import spelled
from workshop.prints.document import measurements, shapes_of, summary
from workshop.prints.drawings import step_drawing
from workshop.prints.paper import markdown
from workshop.prints.plan_sheet import plan_sheet
from workshop.project import STEPS, Body, Design, FibrePart, Fit, Project
from workshop.questions.fibre import WEIGHT
from workshop.questions.steps import all_questions
from workshop.tables import names, read
from workshop.tables.glossary import abbreviations_in
from workshop.units import difference_shown, show_length, show_range
from workshop.words.answers.of_cloth import wash_verdict
from workshop.words.answers.of_garment import budget_lines
from workshop.words.answers.of_steps import ANSWERS, answers
from workshop.words.answers.yarn_to_buy import whole_percents, yarn_lines
from workshop.words.before import before_knitting, circulars_for
from workshop.words.calculations.by_step import item_workings, step_of_working, step_workings
from workshop.words.choices import choice_lines
from workshop.words.drawn import neck_stretch, schematic_notes
from workshop.words.instructions import before_row, finishing, instructions, ordinal
from workshop.words.phrase import counted, in_terms, say, say_check, working_lines
from workshop.words.rows.instruction_lines import line as line_of_rows
from workshop.words.rows.row_actions import deeds

RUNS = re.compile(r"^(?:Rows|Rounds|Short rows) (\d+) to (\d+)|^(?:Row|Round|Short row) (\d+)")


def rows_named(lines: tuple[str, ...]) -> list[int]:
    """Row numbers that instruction lines cover, in their order."""
    covered: list[int] = []
    for line in lines:
        found = RUNS.search(line)
        if found and found[1]:
            covered += range(int(found[1]), int(found[2]) + 1)
        elif found:
            covered.append(int(found[3]))
    return covered


@given(projects())
def test_the_lines_of_a_piece_cover_each_of_its_rows_once(project):
    now = plan(project)
    pieces = {p.name.capitalize(): p for p in now.made.pieces}
    for title, name in (
        ("Sleeves", "Left sleeve"),
        ("Sleeve caps", "Left sleeve, cap"),
        ("Sleeve tops", "Left sleeve, top"),
        ("Armhole bands", "Left armhole band"),
    ):
        pieces[f"{title} (make two alike)"] = pieces.get(name)

    for words in instructions(now):
        piece = pieces[words.title]
        assert rows_named(words.lines) == [r.row for r in piece.rows]


def test_stitch_counts_are_given_after_shaping():
    sleeve = next(w for w in instructions(plan(pullover())) if w.title.startswith("Sleeves"))

    assert "90 stitches" in " ".join(sleeve.lines)
    assert sleeve.lines[-1] == "Bind off all 90 stitches."


@pytest.mark.parametrize("hem", ["rib-1x1", "rib-2x2"])
def test_a_flat_rib_says_what_its_wrong_side_rows_are(hem):
    for piece in instructions(plan(shaped(pullover(), hem=hem))):
        for line in piece.lines:
            if " rib" in line and " rows)" in line:
                assert "knitting the knits and purling the purls on wrong-side rows" in line


def test_flat_garter_stitch_is_knit_every_row():
    back = instructions(plan(shaped(pullover(), hem="garter")))[0]

    assert "garter stitch (knit every row)" in back.lines[1]


def test_uk_terms_are_used_throughout():
    us = plan(pullover())
    uk = plan(replace(us.project, terms="uk"))
    text = " ".join(line for w in instructions(uk) for line in w.lines) + " ".join(finishing(uk))

    assert "cast off" in text
    assert "Cast off all" in text
    assert "stocking stitch" in text
    for word in ("bind off", "Bind off", "stockinette", "gauge"):
        assert word not in text
        assert word in " ".join(line for w in instructions(us) for line in w.lines) or word == "gauge"


def test_terms_keep_their_capital_and_leave_the_us_alone():
    assert in_terms("Binding off in stockinette; gauge", "uk") == "Casting off in stocking stitch; tension"
    assert in_terms("Bind off", "us") == "Bind off"


def test_user_text_is_neither_markup_nor_a_term():
    remark = Remark("The gauge of {name}.", {"name": "[K2] gauge {x}"})

    assert say(remark, Project(terms="uk")) == "The tension of [K2] gauge {x}."


def test_figures_are_shown_in_the_units_in_use():
    remark = Remark(
        "{a} {b} {c} {d} {e} {f}",
        {
            "a": Amount(101.6, "cm"), "b": Amount(4.0, "mm"), "c": Amount(1, "stitches"), "d": Amount(2.5, "%"),
            "e": Amount(91.44, "m"), "f": (Amount(3.75, "mm"), Amount(2, "sizes")),
        },
    )  # fmt: skip

    assert say(remark, Project()) == "101.6 cm 4 mm 1 stitch 2.5% 91 m 3.75 mm and 2 sizes"
    assert (
        say(remark, Project(units="in", needle_names="us"))
        == "40 in US 6 (4 mm) 1 stitch 2.5% 100 yd US 5 (3.75 mm) and 2 sizes"
    )


def test_washed_and_as_knit_lengths_are_both_said():
    now = plan(pullover(swatch=(swatch(20.0, 28.0, washed_rows=26.0),)))
    back = " ".join(next(w for w in instructions(now) if w.title == "Back").lines)

    assert "after washing" in back
    assert re.search(r"From cast-on: [\d.]+ cm now, [\d.]+ cm after washing", back)


def test_without_an_unwashed_gauge_rows_are_to_be_counted():
    wet = replace(swatch(), reading=tuple(r for r in swatch().reading if r.state == "washed"))
    back = " ".join(next(w for w in instructions(plan(pullover(swatch=(wet,)))) if w.title == "Back").lines)

    assert "Count rows" in back
    assert " now, " not in back
    said = " ".join(line.text for name in STEPS for line in answers(name, plan(pullover())))
    assert " tex" not in said  # what nobody can do anything with is told with the workings
    assert "ightness" not in said


def test_a_hung_plan_says_what_it_measures_flat():
    hung = replace(swatch(), reading=(*swatch().reading, *readings("hung", "rows", 26, 26, 26)))
    now = plan(pullover(swatch=(hung,), design=Design("A", "hung")))

    assert "When worn" in instructions(now)[0].measures
    assert any("Laid flat, the body is" in line for line in finishing(now))
    said = " ".join(line.text for line in answers("wash", now))
    assert re.search(r"Lying flat, the washed garment measures .* for every 10 cm of length when it's worn", said)
    sagging = plan(pullover(swatch=(swatch(washed_rows=26.0),)))
    told = " ".join(line.text for line in answers("wash", sagging))
    assert re.search(r"A length of .* cm on the needles will measure 10 cm when finished", told)


@pytest.mark.parametrize("step", list(ANSWERS))
def test_every_step_answers_something_for_an_empty_and_for_a_full_project(step):
    assert answers(step, plan(Project()))
    assert answers(step, plan(pullover()))


def test_answers_point_to_workings_that_exist():
    now = plan(pullover())
    keys = {w.key for w in now.workings}

    for step in ANSWERS:
        for line in answers(step, now):
            assert not line.working or line.working in keys, line
    assert all(line.working in keys for line in yarn_lines(now) if line.working)


def test_every_working_belongs_to_a_step_and_is_shown_there():
    now = plan(pullover())

    for working in now.workings:
        assert working_lines(working, now.project)[0] in step_workings(step_of_working(working.key), now)
        assert working_lines(working, now.project)[0] in step_workings("summary", now)


def test_a_working_spells_out_formula_figures_rounding_and_source():
    now = plan(pullover(body=replace(pullover().body, chest_cm=92.4)))
    text = "\n".join(working_lines(now.working("body.stitches"), now.project))

    assert "= finished chest ÷ 2 × stitches per 10 cm ÷ 10" in text
    assert "finished chest = 100.4 cm" in text
    assert "rounded to the nearest even number: 0.2 cm narrower" in text
    assert "source:" in text


def test_a_rounding_and_a_single_unit_are_said_as_people_say_them():
    now = plan(pullover())
    balls = "\n".join(working_lines(now.working("yarn.balls"), now.project))
    sizes = "\n".join(working_lines(plan(pullover(tension="tight")).working("yarns.a.sizes_moved"), now.project))

    assert "rounded up to the next whole number" in balls
    assert "1 size" in sizes
    assert "1 sizes" not in sizes


@pytest.mark.parametrize("stem", ["harbour-pullover", "first-frost-jumper", "lemon-grove-top"])
def test_sources_read_as_sources(stem):
    """No file of the project, and nothing that only its makers understand."""
    now = plan(saves.load(saves.demo_folder() / f"{stem}.toml"))
    told = [w.source for w in now.workings]
    for name in names():
        told += [f"{s['title']}; {s['publisher']}; {s['address']}" for s in read(name)["sources"].values()]

    for source in told:
        assert not re.search(r"tests/|\.md\b|\.py\b|stored cop|this file|read for the case", source), source


def test_filled_measures_are_marked_in_the_answers():
    lines = [line.text for line in answers("measure", plan(pullover(body=Body(table="women", size="M"))))]

    assert "Upper arm: 28 cm, from the table *" in lines
    assert "Wrist: 15.9 cm, estimated from the chest *" in lines


@pytest.mark.parametrize(("construction", "part", "why"), [
    ("round-yoke", "Upper arm", "Sleeves that are part of a yoke need more room than other sleeves."),
    ("set-in", "Armhole depth", "The armhole of a set-in sleeve sits closer to the body than other armholes."),
])  # fmt: skip
def test_a_measurement_that_a_shape_changed_has_the_reason_beside_it(construction, part, why):
    """In Measure the reason alone; in Shape all of it, and only there."""
    now = plan(shaped(pullover(), construction=construction))
    before = plan(shaped(pullover(), construction="square-armhole"))
    for step in ("measure", "shape"):
        told = [line.text for line in answers(step, now)]
        at = next(i for i, text in enumerate(told) if text.startswith(part))
        assert told[at + 1].startswith(why), step
        assert sum(why in text for text in told) == 1, step
        assert not any(why in line.text for line in answers(step, before)), step
    assert why in [line.text for line in answers("measure", now)]


def test_boat_and_round_garments_are_finished_their_own_way():
    boat = " ".join(finishing(plan(shaped(pullover(), neckline="boat", worked="round"))))

    assert "Leave the middle open" in boat
    assert "side and sleeve seams" not in boat
    assert finishing(plan(Project())) == ()
    assert instructions(plan(Project())) == ()


def test_numbers_and_nouns():
    assert [ordinal(n) for n in (1, 2, 3, 4, 11, 12, 13, 21, 22, 101)] == [
        "1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "22nd", "101st",
    ]  # fmt: skip
    assert counted(1, "row") == "1 row"
    assert counted(2, "stitch", "stitches") == "2 stitches"


def test_before_the_first_row_only_what_the_ledger_holds_is_explained():
    plain = " ".join(before_knitting(plan(shaped(pullover(), neckline="boat", sleeve="none", hem="none"))))
    raglan = " ".join(before_knitting(plan(shaped(pullover(), construction="raglan-from-neck", worked="round"))))
    shaped_v = " ".join(before_knitting(plan(shaped(pullover(), construction="set-in", neckline="v"))))

    assert "ssk" not in plain
    assert "raglan line" not in plain
    assert "m1r, k1 before the marker" in raglan
    assert "leans to the left" in shaped_v
    assert "at the point" not in shaped_v  # that is said where the band is worked
    assert before_knitting(plan(Project())) == ()


@pytest.mark.parametrize(
    ("wishes", "begins"),
    [
        (
            {"worked": "flat"},
            "wearer's left and right. Right-side rows begin at the wearer's right on the back, and at the wearer's left on the front.",
        ),
        ({"construction": "round-yoke"}, "wearer's left and right."),
        (
            {"construction": "raglan-from-neck", "front": "open"},
            "wearer's left and right. Where both fronts are in one piece with the back, right-side rows begin at the left front.",
        ),
        (
            {"construction": "raglan-from-hem", "worked": "round"},
            "wearer's left and right. Where both fronts are in one piece with the back, right-side rows begin at the right front.",
        ),
    ],
)
def test_where_right_side_rows_begin_is_told_of_the_pieces_that_there_are(wishes, begins):
    told = before_knitting(plan(shaped(pullover(), **wishes)))

    assert f"Left and right are always the {begins}" in told


def test_answers_that_are_words_of_the_trade_are_explained_where_they_first_stand():
    question = next(q for q in all_questions() if q.key == "garment.construction")
    labels = [o.label for o in question.kind.options(Project())]
    lines = choice_lines(labels)

    assert [line.partition(":")[0] for line in lines] == labels
    assert all(":" in line for line in lines if line != "raglan from the neck down")
    assert "slanting lines from the underarm to the neck" in lines[3]


def test_a_wash_that_changes_nothing_is_said_once_and_not_in_every_line():
    now = plan(pullover())

    assert sum("your tape may show a little more or a little less" in line for line in before_knitting(now)) == 1
    assert not any("tape" in line for piece in instructions(now) for line in piece.lines)


def test_swatches_stand_side_by_side_the_cloth_that_is_liked_best_first():
    two = (
        replace(swatch(name="A"), needle_mm=3.75, fabric_rating=2, knitting_rating=5, notes="stiff [b]"),
        replace(swatch(name="B"), needle_mm=4.5, fabric_rating=5, knitting_rating=3),
    )
    for step in ("gauge", "wash"):
        said = [line.text for line in answers(step, plan(pullover(swatch=two)))]
        at = said.index("The swatches side by side, the fabric you like best first")
        assert said[at + 1].startswith("B: 4.5 mm, fabric rated 5 out of 5, knitting rated 3 out of 5, ")
        assert said[at + 2].startswith("A: 3.75 mm, fabric rated 2 out of 5, knitting rated 5 out of 5, ")
        assert said[at + 2].endswith("; “stiff [b]”")
    assert not any("Side by side" in line.text for line in answers("gauge", plan(pullover())))


@given(st.lists(st.floats(0.01, 1.0), min_size=1, max_size=12))
def test_shares_in_whole_per_cent_add_up_to_a_hundred(shares):
    found = whole_percents(shares)

    assert sum(found) == 100
    assert all(abs(whole - 100 * share / sum(shares)) < 1 for whole, share in zip(found, shares, strict=True))


@pytest.mark.parametrize("worked", ["flat", "round"])
def test_the_yarn_of_both_sleeves_and_of_their_caps_is_told_together(worked):
    """In the round the caps are pieces of their own; whoever looks for a left sleeve would look for a right one."""
    shares = [line.text for line in yarn_lines(plan(shaped(pullover(), construction="set-in", worked=worked)))][-1]

    assert "left" not in shares
    assert "right" not in shares
    assert shares.count("sleeves ") == 1
    assert shares.count("sleeve caps ") == (worked == "round")


def figures_of(text: str) -> list[float]:
    """Lengths in a text, in cm or in inches with eighths."""
    told = re.findall(r"([\d.]*)([⅛¼⅜½⅝¾⅞]?) (?:cm|in)\b", text)
    return [float(whole or 0) + (("⅛¼⅜½⅝¾⅞".index(part) + 1) / 8 if part else 0) for whole, part in told]


@pytest.mark.parametrize("units", ["cm", "in"])
def test_finished_is_body_and_ease_as_printed(units):
    for table, size in SIZES:
        for fit in ("close", "standard", "oversized"):
            project = pullover(units=units, body=Body(source="table", table=table, size=size), fit=Fit(fit))
            told = [line.text for line in answers("measure", plan(project)) if " = the wearer's " in line.text]
            assert told
            for text in told:
                whole, body, ease = figures_of(text)
                assert whole == pytest.approx(body + (-ease if "−" in text else ease), abs=1e-9), text


def test_buttons_are_among_what_to_buy():
    now = plan(shaped(pullover(), front="open"))
    holes = next(p.key_counts["buttonholes"] for p in now.made.pieces if "buttonholes" in p.key_counts)

    (told,) = (line.text for line in yarn_lines(now) if f"{holes} buttons" in line.text)
    assert told.endswith("Choose buttons about 1.5 cm across.")  # 5/8 in for 5 stitches to the inch (common practice)
    assert not any("button" in line.text for line in yarn_lines(plan(pullover())))


@pytest.mark.parametrize(("hem", "ribbed"), [("rib-1x1", True), ("garter", False)])
def test_what_a_rib_does_is_said_of_ribs_only_and_over_the_hips_only_what_is_closed_goes(hem, ribbed):
    """A round yoke's neckband stands on its 84 or 98 stitches: in garter stitch it is as wide as these."""
    yoke = " ".join(schematic_notes(plan(shaped(pullover(), construction="round-yoke", worked="round", hem=hem))))
    assert ("Ribbing draws in" in yoke) is ribbed
    assert ("The ribbing of the neckband draws in the neck edge" in yoke) is ribbed
    assert "widens" not in yoke
    body = replace(pullover().body, hip_cm=98.0)
    for front in ("closed", "open"):
        told = " ".join(schematic_notes(plan(shaped(pullover(body=body), hem=hem, front=front))))
        assert ("the hem fits closely" in told) is ribbed
        assert ("but still goes over them" in told) is (ribbed and front == "closed")


def test_picture_and_summary_give_the_same_range_of_ease():
    now = plan(pullover())
    told = "\n".join(step_drawing("measure", now))

    assert (
        f"Ease: likely {show_length(now.ease['chest'].low, 'cm')} to {show_length(now.ease['chest'].high, 'cm')}"
        in told
    )
    assert show_range(now.ease["chest"].low, now.ease["chest"].high, "cm") in " ".join(budget_lines(now))


def test_workings_of_one_question_are_those_of_its_swatch_and_state_or_its_part_of_the_body():
    now = plan(pullover(swatch=(swatch(), swatch(name="B"))))

    for key, within in (("swatch.B.needle_mm", "B"), ("reading.B.washed.stitches.1", "B")):
        labels = [line for line in item_workings(key, now) if line and not line.startswith(" ")]
        assert labels
        assert all(f"watch {within}" in label or "to count in each place" in label for label in labels)
    assert len(item_workings("reading.B.washed.stitches.1", now)) < len(item_workings("swatch.B.cast_on", now))
    assert [line for line in item_workings("body.wrist_cm", now) if line.startswith("Wrist you want")]
    assert item_workings("garment.hem", now) == ()


@pytest.mark.parametrize(
    ("construction", "piece", "where"),
    [
        ("raglan-from-hem", "yoke", "The round begins at the left side, between the left sleeve and the front."),
        (
            "round-yoke",
            "yoke",
            "Mark the beginning of the round. The round begins at the left side, between the left sleeve and the front.",
        ),
        (
            "raglan-from-neck",
            "body",
            "Slip 44 stitches without knitting them, to the middle of the left underarm.",
        ),
        ("set-in", "body", ". The round begins at the left side."),
    ],
)
def test_where_rounds_begin_is_said_again_where_it_has_moved(construction, piece, where):
    """A yoke from the neck begins its rounds at the neck edge, its body at the side."""
    found = instructions(plan(shaped(pullover(), construction=construction, worked="round")))
    lines = next(w.lines for w in found if w.piece.name == piece)

    assert [line for line in lines if where in line]


@pytest.mark.parametrize(
    ("have", "said"),
    [(None, "Buy 7 balls of the same dye lot"), (4, "You have 4. Buy 3 more"), (9, "You have 9, which is enough")],
)
def test_balls_at_home_are_taken_off_what_is_to_be_bought(have, said):
    now = plan(pullover(yarn=(replace(pullover().yarn[0], balls=have),)))

    assert now.yarn.balls == 7  # 617 g at most, in balls of 100 g
    assert said in " ".join(line.text for line in yarn_lines(now))


def test_stitches_cast_on_at_a_neck_edge_say_where_in_the_row():
    from_neck = plan(shaped(pullover(), construction="raglan-from-neck", worked="round"))

    assert [
        line
        for line in before_knitting(from_neck)
        if "To cast on at a neck edge, first work to the end of a row that finishes there. Then put backward loops on the right needle"
        in line
    ]
    assert not [line for line in before_knitting(plan(pullover())) if "To cast on at a neck edge" in line]
    band = next(w.lines for w in instructions(from_neck) if w.piece.name == "neckband")
    row = next(i for i, line in enumerate(band) if "pick up and knit" in line)
    edges = ("across the left sleeve", "around the front", "across the right sleeve", "across the back")
    assert "edge by edge, as in the next 4 lines" in band[row]
    for line, edge in zip(band[row + 1 :], edges, strict=False):
        assert re.match(rf"\d+ {edge}: ", line)


@pytest.mark.parametrize("neckline", ["crew", "v"])
@pytest.mark.parametrize("construction", ["drop-shoulder", "square-armhole", "set-in", "raglan-from-hem"])
def test_a_shoulder_that_begins_wider_says_how_wide_it_ends_as_the_drawing_does(construction, neckline):
    """A raglan's halves end in a point: there is no shoulder to measure."""
    now = plan(shaped(pullover(), construction=construction, neckline=neckline))
    drawn = {round(m.value_cm, 1) for s in shapes_of(now) for m in s.measures if m.what == "shoulder"}
    halves = [w.measures for w in instructions(now) if "shoulder" in w.piece.name]
    told = [
        re.match(r"\d+ rows\. After washing: ([\d.]+) cm wide at the start.*?, ([\d.]+) cm at the shoulder", one)
        for one in halves
    ]
    assert halves
    if construction == "raglan-from-hem":
        assert not any("at the shoulder" in one for one in halves)
        return
    assert len(drawn) == 1
    assert all({float(one[2])} == drawn and float(one[1]) > float(one[2]) for one in told)


def test_a_range_of_one_figure_is_one_figure():
    assert show_range(5.7, 5.75, "in") == "2¼ in"
    assert show_range(97.2, 103.0, "cm") == "97.2 to 103 cm"


# ── what open questions go by ────────────────────────────────────────────────────────────────────────


def test_what_stands_in_for_an_open_question_is_the_figure_that_is_planned_with():
    project = pullover()
    now = plan(project)

    assert now.left_open["fit.chest_ease_cm"] == pytest.approx(now.targets.finished["chest"] - project.body.chest_cm)
    assert now.left_open["garment.neck_width_cm"] == now.targets.finished["neck_width"]
    assert now.left_open["body.wrist_cm"] == now.wearer.cm("wrist")
    assert "body.chest_cm" not in now.left_open
    given = replace(project, fit=replace(project.fit, chest_ease_cm=12.0))
    assert "fit.chest_ease_cm" not in plan(given).left_open
    taken = shaped(project, neck_width_cm=now.left_open["garment.neck_width_cm"])
    assert plan(taken).made == now.made  # the same figure, typed: not one stitch moves


@given(projects())
def test_a_piece_that_divides_says_how_long_it_is_in_all(project):
    """Within the half of a tenth that lengths are printed with; of a raglan the sleeve makes up the rest at the top."""
    now = plan(project)
    seamed = project.garment.construction in ("drop-shoulder", "square-armhole", "set-in")
    for piece in instructions(now):
        whole = re.search(r"; ([\d.]+) cm to the top of the shoulder(?: along the side)?$", piece.measures)
        divides = any("shoulder" in p.name for p in now.made.growing_from(piece.piece))
        assert bool(whole) == divides
        if whole and seamed:
            assert float(whole[1]) == pytest.approx(now.made.finished_cm["length"], abs=0.051)
        elif whole:
            assert float(whole[1]) < now.made.finished_cm["length"]


# ── the wash, swatch by swatch ───────────────────────────────────────────────────────────────────────


def test_what_the_wash_did_is_said_of_every_swatch_before_one_is_chosen():
    swatches = (swatch(20.0, 28.0, washed_rows=26.0), swatch(18.0, 26.0, name="B"))
    project = pullover(swatch=swatches, design=Design())
    said = [line.text for line in answers("wash", plan(project))]
    a, b = (next(i for i, text in enumerate(said) if text.startswith(f"Swatch {x}, after washing")) for x in "AB")

    assert any(text.startswith("The swatch grew by 7.7% in length") for text in said[a:b])
    assert any(text.startswith("No clear change in length") for text in said[b:])
    key = "swatches.A.washed.length_change_percent"
    assert plan(project).working(key).value == pytest.approx(100 * (28 / 26 - 1))
    chosen = plan(replace(project, design=Design("A", "washed")))
    assert chosen.working(key) is None  # it is said as the change that the garment is planned with
    assert chosen.working("wash.length_change_percent").value == pytest.approx(100 * (28 / 26 - 1))


def test_the_swatch_that_is_asked_for_first_is_named_with_the_reason():
    unwashed = [
        replace(s, fabric_rating=liking, reading=tuple(r for r in s.reading if r.state == "off needles"))
        for s, liking in ((swatch(20.0), 3), (swatch(18.0, name="B"), 5))
    ]
    said = " ".join(line.text for line in answers("wash", plan(pullover(swatch=tuple(unwashed), design=Design()))))

    assert "Start with swatch B, whose fabric you like best." in said


def test_a_swatch_without_a_liking_stands_side_by_side_with_the_others_and_says_so():
    swatches = (replace(swatch(20.0), fabric_rating=4), swatch(18.0, name="B"))
    said = [line.text for line in answers("gauge", plan(pullover(swatch=swatches)))]

    assert any(text.startswith("B: ") and text.endswith("not rated yet") for text in said)


# ── inches as a tape has them ────────────────────────────────────────────────────────────────────────


def test_in_inches_costs_and_tapes_are_said_in_eighths():
    project = pullover(units="in", swatch=(swatch(20.0, 28.0, washed_rows=26.0),))
    said = [line.text for step in ("wash", "shape") for line in answers(step, plan(project))]

    assert "A length of 18⅝ in on the needles will measure 20 in when finished." in said  # 20 × 26 ÷ 28 = 18.57
    costs = [text for text in said if re.search(r" in (wider|narrower|longer|shorter) than planned$", text)]
    assert costs
    assert not any(re.search(r"\d\.\d+ in", text) for text in costs)


def test_quick_waist_shaping_is_told_of_and_gentle_shaping_is_not():
    low = plan(shaped(pullover(), construction="set-in", waist="shaped", length_cm=60.0))
    high = plan(shaped(pullover(), construction="set-in", waist="shaped", length_cm=72.0))

    assert "waist-quick" in {c.code for c in low.checks}
    assert "waist-quick" not in {c.code for c in high.checks}


# ── needles, shoulders, decreases and increases ──────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("needle_mm", "said", "at_a_glance"),
    [
        (2.0, "2 mm, as for swatch A, throughout", "2 mm (wood) throughout"),
        (2.25, "For the hem, cuffs and bands, use 2 mm needles, one size smaller, so", "2.25 mm (wood); 2 mm for hem"),
        (4.0, "For the hem, cuffs and bands, use 3.5 mm needles, two sizes smaller, so", "4 mm (wood); 3.5 mm for hem"),
    ],
)
def test_a_second_needle_is_named_only_where_there_is_a_finer_one(needle_mm, said, at_a_glance):
    """The table of needles begins at 2 mm."""
    now = plan(pullover(swatch=(replace(swatch(28.0, 40.0), needle_mm=needle_mm),)))
    needles = next(line for line in before_knitting(now) if line.startswith("Needles: "))
    paper = markdown(plan_sheet(now), now)

    assert said in needles
    assert f"| Needles | {at_a_glance}" in paper
    assert ("smaller, so that the edges draw in" in needles) == (needle_mm > 2.0)
    assert paper.count("smaller, so that the edges draw in") == needles.count("smaller, so that the edges draw in")


@pytest.mark.parametrize(
    ("shape", "edges", "edged"),
    [
        ({}, "neckband", "Hem and cuffs roll, with no edging. Neckband in garter stitch."),
        ({"sleeve": "none"}, "bands", "Hem rolls, with no edging. Bands in garter stitch."),
        ({"construction": "raglan-from-neck", "worked": "round"}, "neckband", "Hem and cuffs roll, with no edging."),
        ({"neckline": "boat"}, "", "Hem and cuffs roll, with no edging."),
    ],
)
def test_without_an_edging_only_the_bands_take_the_finer_needle(shape, edges, edged):
    now = plan(shaped(pullover(), hem="none", **shape))
    paper = markdown(plan_sheet(now), now)

    assert edged in paper
    assert (f"4 mm (wood); 3.5 mm for {edges}" if edges else "4 mm (wood) throughout") in paper
    assert (f"For the {edges}, use 3.5 mm" if edges else "as for swatch A, throughout") in paper
    assert "in both needle sizes" not in paper


@pytest.mark.parametrize(("neckline", "said"), [("v", True), ("crew", False)])
def test_a_neck_that_reads_deeper_than_its_armhole_says_where_both_are_measured(neckline, said):
    """The shoulder slopes between them, so the neck still ends above the underarm."""
    now = plan(shaped(pullover(), construction="set-in", neckline=neckline))
    back_of_it = now.finished_cm["front_neck_depth"] > now.finished_cm["armhole_depth"]

    assert back_of_it is said
    assert ("outer end of the shoulder slope" in markdown(plan_sheet(now), now)) is said


@pytest.mark.parametrize(("neck_cm", "way"), [(36.0, "more"), (60.0, "less")])
def test_a_yoke_says_how_its_neckband_stands_to_the_neck_that_was_measured(neck_cm, way):
    """Measure asks for it for that."""
    body = Body(source="own", table="women", size="M", chest_cm=92.0, neck_cm=neck_cm)
    now = plan(shaped(pullover(body=body), construction="raglan-from-neck", worked="round"))
    around = now.gauge.cloth.across_cm(now.made.first(NECKBAND).key_counts["neck"])

    assert f"The neckband is {abs(around - neck_cm):g} cm {way} than the base of the wearer's neck" in neck_stretch(now)
    assert "wearer's neck" not in neck_stretch(plan(shaped(now.project, construction="set-in")))
    alike = plan(replace(now.project, body=replace(body, neck_cm=around)))
    assert "The neckband is as wide as the base of the wearer's neck" in neck_stretch(alike)


def test_two_sides_of_a_neck_have_one_widest_width_in_the_table_of_pieces():
    now = plan(shaped(pullover(), construction="set-in", shoulder="steps"))
    table = next(s for s in summary(now).sections if s.heading == "Pieces and joins").blocks[0]
    widest = {row[0]: row[2] for row in table.rows}
    measures = {w.piece.name: w.measures.split(",")[0].split(" wide")[0] for w in instructions(now)}

    assert piece_of(now.made, "back, left shoulder").cast_on != piece_of(now.made, "back, right shoulder").cast_on
    for panel in ("back", "front"):
        assert widest[f"{panel}, left shoulder".capitalize()] == widest[f"{panel}, right shoulder".capitalize()]
        assert measures[f"{panel}, left shoulder"] == measures[f"{panel}, right shoulder"]


def large_and_bulky(**wishes: object) -> Plan:
    """A body of size 3X in thick yarn: so few rows that caps and lines are shaped on wrong-side rows too."""
    body = Body(source="table", table="women", size="3X")
    return plan(shaped(pullover(swatch=(swatch(12.0, 16.0),), body=body), length_cm=60.0, **wishes))


def test_decreases_of_a_wrong_side_row_lean_as_those_of_the_right_side_at_the_same_edge():
    """Wrong-side rows begin where right-side rows end: there k2tog and p2tog, at the other edge ssk and ssp.

    Common practice, no source.
    """
    both = " ".join(before_knitting(large_and_bulky(construction="raglan-from-hem")))
    right_side_only = " ".join(before_knitting(plan(shaped(pullover(), construction="raglan-from-hem"))))

    assert "At the beginning of a right-side row: k1, ssk (leans to the left)" in both
    assert "At the end of the row: k2tog (leans to the right), k1" in both
    assert "On a wrong-side row, work p1, p2tog at the beginning, and ssp, p1 at the end" in both
    assert "ssk" in right_side_only
    assert "p2tog" not in right_side_only
    assert "ssp" not in right_side_only


def test_increases_at_two_edges_are_mirrored():
    sleeves = " ".join(before_knitting(plan(pullover())))
    yoke = " ".join(before_knitting(large_and_bulky(construction="raglan-from-neck", worked="round", neckline="v")))

    assert "k1, m1l" in sleeves
    assert "m1r, k1" in sleeves
    assert "At each raglan line, work m1r, k1 before the marker. After the marker, work k1, m1l" in yoke
    assert "On a wrong-side row, purl the increases: m1l, p1 before the marker. After the marker, work p1, m1r" in yoke


def test_raglan_lines_shaped_on_wrong_side_rows_say_how():
    now = large_and_bulky(construction="raglan-from-hem", worked="round", neckline="v")

    assert "On a wrong-side row, work ssp, p1 before the marker. After the marker, work p1, p2tog" in " ".join(
        before_knitting(now)
    )
    used = abbreviations_in("\n".join(before_knitting(now)))
    assert {"k2tog", "p2tog", "ssk", "ssp"} <= {w.short for w in used}


def test_one_stitch_taken_at_an_edge_is_a_decrease_in_words():
    now = plan(shaped(pullover(swatch=(swatch(12.0, 16.0),)), construction="set-in"))
    cap = piece_of(now.made, "left sleeve")
    single = next(r for r in cap.rows if any(e.do == "bind-off" and e.stitches == 1 for e in r.events))
    lines = [line for w in instructions(now) for line in w.lines]

    assert not [line for line in lines if "ind off 1 stitch at" in line]
    assert [line for line in lines if f"decrease 1 stitch at the beginning of rows {single.row}" in line]


def test_shoulders_in_short_rows_stay_live_and_are_joined_in_one_bind_off():
    us = plan(shaped(pullover(), construction="set-in", shoulder="short-rows"))
    stepped = plan(shaped(pullover(), construction="set-in", shoulder="steps"))
    shoulders = [w for w in instructions(us) if "shoulder" in w.piece.name]

    assert len(shoulders) == 4
    for words in shoulders:
        number = words.piece.bound_off
        assert words.lines[-1] == f"Leave the {number} stitches on a holder for the shoulder seam, and break the yarn."
    assert "three-needle bind-off" in " ".join(finishing(us))
    assert "three-needle cast-off" in " ".join(finishing(plan(replace(us.project, terms="uk"))))
    assert "three-needle" not in " ".join(finishing(stepped))
    assert all(w.lines[-1].startswith("Bind off") for w in instructions(stepped) if "shoulder" in w.piece.name)


# ── where the yarn is ────────────────────────────────────────────────────────────────────────────────


def told(now: Plan, name: str) -> str:
    """All that is said of one piece."""
    return " ".join(next(w.lines for w in instructions(now) if w.piece.name == name))


def test_a_yoke_from_the_neck_parts_in_the_round_in_the_order_of_its_stitches():
    """Sleeves are held and the underarms cast on in one round: a later cast-on would hang below a tight strand."""
    now = plan(shaped(pullover(), construction="raglan-from-neck", worked="round"))
    yoke = piece_of(now.made, "yoke")
    last = next(line for line in instructions(now)[1].lines if f"Round {yoke.last_row}" in line)
    found = re.search(
        r"divide, removing the markers as you come to them: knit (\d+) \(front\), put (\d+) \(left sleeve\) on a "
        r"holder, cast on (\d+), knit (\d+) \(back\), "
        r"put (\d+) \(right sleeve\) on a holder, cast on (\d+), knit (\d+) \(front\)\. (\d+) stitches\.",
        last,
    )
    first, left, under, back, right, again, rest, body = map(int, found.groups())

    assert (left, under) == (right, again)
    assert first + rest == back  # the round begins at the left edge of the neck, within the front
    assert first + under + back + again + rest == body == piece_of(now.made, "body").cast_on
    assert first + left + back + right + rest == yoke.rows[-1].before
    assert "cast on" not in told(now, "body")


def test_a_yoke_from_the_neck_parts_on_the_wrong_side_where_the_front_is_open():
    now = plan(shaped(pullover(), construction="raglan-from-neck", front="open"))
    said = told(now, "yoke")

    assert re.search(
        r"\(WS\): divide, removing the markers as you come to them: purl \d+ \(right front\), put \d+ \(right sleeve\) on a holder, cast on",
        said,
    )
    assert re.search(r"cast on \d+, purl \d+ \(left front\)\. \d+ stitches\.", said)


@pytest.mark.parametrize("stitches", [16.0, 20.0, 21.0, 24.0])
@pytest.mark.parametrize("size", ["S", "M", "2X"])
def test_the_round_that_opens_a_neck_leaves_as_many_stitches_on_both_sides_of_it(stitches, size):
    """Rounds of a yoke begin with the front: what is knitted before the bind-off is what the front has left of it."""
    body = Body(source="table", table="women", size=size)
    project = pullover(swatch=(swatch(stitches, 1.4 * stitches),), body=body)
    now = plan(shaped(project, construction="raglan-from-hem", worked="round"))
    yoke, upper = piece_of(now.made, "yoke"), piece_of(now.made, "yoke, upper")
    found = re.search(
        r"knit (\d+)( \(counted after the decrease\))?, bind off the next (\d+) for the neck", told(now, "yoke")
    )
    first, centre = int(found[1]), int(found[3])
    shaped_rows = [e.line for r in yoke.rows for e in r.events if e.line in ("all lines", "body side")]
    front = dict(next(m.counts for m in yoke.marks if m.what == "markers"))[THE_FRONT] - 2 * len(shaped_rows)

    assert 2 * first + centre == front
    assert bool(found[2]) == any(e.line in ("all lines", "body side") for e in yoke.rows[-1].events)
    assert "knit to the end of the round" in told(now, "yoke")
    assert f"Slip the first {first} stitches of the round, the left front, to the other needle." in told(now, "yoke")
    assert "Join the yarn at the right neck edge, right side facing." in told(now, "yoke")
    assert upper.begins == "right"


def test_a_neck_that_opens_in_a_round_with_decreases_counts_them():
    """The front has lost one stitch at each of its lines before it is counted."""
    now = plan(shaped(pullover(), construction="raglan-from-hem", worked="round"))
    yoke = piece_of(now.made, "yoke")
    last = yoke.rows[-1]
    both = replace(last, events=(Event("decrease", "across", 8, "all lines"), *last.events))
    changed = replace(yoke, rows=(*yoke.rows[:-1], both))
    plain, decreased = (line_of_rows(p, [p.rows[-1]]) for p in (yoke, changed))
    first = int(re.search(r"knit (\d+), bind off the next", plain)[1])

    assert f"knit {first - 1} (counted after the decrease), bind off the next" in decreased


@pytest.mark.parametrize(
    ("front", "breaks", "joins"),
    [
        (
            "closed",
            "Break the yarn at the left side. Put the front stitches on a holder.",
            {"back": "at the right underarm", "front": "at the left underarm"},
        ),
        (
            "open",
            "Break the yarn at the edge of the right front. Put the stitches of both fronts on holders.",
            {
                "back": "at the right underarm",
                "left front": "at the left underarm",
                "right front": "at the front edge",
            },
        ),
    ],
)
@pytest.mark.parametrize("construction", ["drop-shoulder", "square-armhole", "set-in"])
def test_a_body_that_divides_says_where_to_break_the_yarn_and_where_to_join_it(construction, front, breaks, joins):
    """Rounds end at the left side; right-side rows of the back begin at the right underarm, of a front at its left edge."""
    now = plan(shaped(pullover(), construction=construction, worked="round", front=front))

    assert breaks in told(now, "body")
    for name, where in joins.items():
        assert f"Join the yarn {where}, right side facing" in told(now, name)


def test_the_held_side_of_a_neck_is_joined_where_its_row_begins():
    now = plan(shaped(pullover(), construction="set-in"))

    for name, held in (("back, right shoulder", True), ("back, left shoulder", False), ("front, left shoulder", True)):
        joined = bool(
            re.search(
                r"Return the \d+ held stitches to the needle. Join the yarn at the neck edge, wrong side facing",
                told(now, name),
            )
        )
        assert joined == held, name
    assert "on a holder, keep the last" in told(now, "back")


@pytest.mark.parametrize("construction", ["raglan-from-hem", "round-yoke"])
def test_body_and_sleeves_stop_where_the_yoke_begins_and_the_underarms_can_be_held(construction):
    now = plan(shaped(pullover(), construction=construction, worked="round"))
    held = next(e.stitches for e in piece_of(now.made, "yoke").rows[0].events if e.do == "hold") // 2
    sleeve = piece_of(now.made, "left sleeve").bound_off
    past = f"Underarm: knit {held // 2} more stitches, past the marker"

    assert f"{past}, and leave the yarn there for the yoke." in told(now, "body")
    assert f"{past}. Put the last {held} stitches on a holder, half from each side of the marker." in told(
        now, "left sleeve"
    )
    assert f"Leave the other {sleeve - held} stitches on a spare needle." in told(now, "left sleeve")
    assert f"put the {held // 2} stitches on each side of the left marker on a holder, knit" in told(now, "yoke")

    moss = plan(shaped(pullover(), construction=construction, worked="round", fabric="seed"))
    for name in ("body", "left sleeve"):
        assert re.search(r"Underarm: work \d+ more stitch(es)? in pattern, past the marker", told(moss, name))


def test_a_sleeve_from_the_neck_says_where_its_yarn_is_joined():
    now = plan(shaped(pullover(), construction="raglan-from-neck", worked="round"))

    assert "Join new yarn in the middle of the stitches cast on at the underarm, right side facing" in told(
        now, "left sleeve"
    )


@pytest.mark.parametrize(
    ("part", "construction", "underarm"),
    [
        ("cap", "set-in", "Sleeve underarm: the marker is at the middle of the underarm."),
        ("top", "square-armhole", "From here on, work the sleeve back and forth, turning at the marker"),
    ],
)
def test_a_cap_or_top_worked_back_and_forth_above_a_sleeve_in_the_round_goes_on_with_its_yarn(
    part, construction, underarm
):
    """A square armhole's sleeve in the round has a flat top as a set-in one has a cap."""
    pieces = instructions(plan(shaped(pullover(), construction=construction, worked="round")))
    above = [w for w in pieces if w.piece.name.endswith(f", {part}")]

    assert [w.title for w in above] == [f"Sleeve {part}s (make two alike)"]
    assert "Begin at the marker, where the yarn is, with row" in above[0].lines[0]
    assert any(line.startswith(underarm) for w in pieces if w.piece.name == "left sleeve" for line in w.lines)


def test_short_rows_in_the_round_are_left_from_the_last_turn_and_come_out_alike_at_both_sides():
    """Knitted as it is said, both side edges of the front have as many rows: the way back is the next round."""
    body = Body(source="table", table="women", size="M", high_bust_cm=88.0, chest_cm=100.0)
    wishes = {"construction": "set-in", "worked": "round", "bust_darts": "yes"}
    now = plan(shaped(pullover(body=body), **wishes))
    whole = piece_of(now.made, "body")
    front = dict(next(m.counts for m in whole.marks if m.what == "markers"))[THE_FRONT]
    worked, at = [0] * front, 0  # the round begins with the front
    for turn in (e for r in whole.rows for e in r.events if e.do == "short-row"):
        until = front - turn.stitches if turn.where == "right" else turn.stitches
        for stitch in range(min(at, until), max(at, until)):
            worked[stitch] += 1
        at = until
    for stitch in range(at, front):
        worked[stitch] += 1

    assert worked == worked[::-1]
    assert max(worked) > min(worked) == 1
    said = "After the last turn, knit to the beginning of the round. That counts as the next round."
    assert said in " ".join(before_knitting(now))
    assert said not in " ".join(
        before_knitting(plan(shaped(pullover(), construction="round-yoke")))
    )  # its last comes back
    assert said not in " ".join(before_knitting(plan(shaped(pullover(), construction="set-in", shoulder="short-rows"))))


def test_stitches_cast_on_at_an_underarm_say_how():
    from_neck = shaped(pullover(), construction="raglan-from-neck", worked="round", neckline="v")

    assert "To cast on at an underarm" in " ".join(before_knitting(plan(from_neck)))
    assert "To cast on at an underarm" not in " ".join(
        before_knitting(plan(shaped(from_neck, construction="raglan-from-hem")))
    )


@pytest.mark.parametrize("suffix", [".md", ".html", ".json"])
def test_what_the_knitter_wrote_is_never_reworded(tmp_path, suffix, capsys):
    own = "my gauge bind off loosely"
    project = pullover(title=f"T {own}", terms="uk")
    yarn = replace(project.yarn[0], name=f"N {own}", care=f"C {own}", fibres=(FibrePart(f"F {own}", 100.0),))
    path = tmp_path / "own.toml"
    path.write_text(saves.dumps(replace(project, yarn=(yarn, replace(yarn, id="b", name=f"B {own}", weight=None)))))
    for extra in ([], ["--sheet", "filled"]) if suffix != ".json" else ([],):
        out = tmp_path / f"out{len(extra)}{suffix}"
        assert main(["print", str(path), "--to", str(out), *extra]) == 0
        main(["check", str(path)])
        main(["summary", "--workings", str(path)])
        said = out.read_text("utf-8") + capsys.readouterr().out
        assert own in said
        assert not re.search(r"\b[TNCFB] my tension", said)
        assert "cast off" in out.read_text("utf-8") or extra or suffix == ".json"


# ── what beginners asked about ───────────────────────────────────────────────────────────────────────


def test_a_date_is_read_in_the_order_of_the_country():
    assert spelled(date(2026, 11, 27), "us") == "November 27, 2026"
    assert spelled(date(2026, 11, 27), "uk") == "27 November 2026"


@pytest.mark.parametrize(("terms", "called"), [("us", "light"), ("uk", "DK")])
def test_yarns_are_called_as_on_a_ball_band_of_the_country(terms, called):
    project = pullover(terms=terms)
    options = WEIGHT.kind.options(project)
    label = next(o.label for o in options if o.value == "light")
    counted_finer = replace(project, swatch=(swatch(22.0, 30.0),))
    check = next(c for c in plan(counted_finer).checks if c.code == "weight-by-gauge")

    assert label.startswith(f"{called} (3)")
    assert f"closer to {called} than" in say_check(check, counted_finer)
    assert {WEIGHT.kind.read(name, project) for name in ("DK", "light", "3", "8 ply")} == {"light"}


@pytest.mark.parametrize(
    ("rows", "says"),
    [
        (26.0, "After the wash, swatch A is 7.7% longer, with no clear change in width."),
        (28.25, "After the wash, swatch A shows no clear change in width or length."),
    ],
)
def test_what_the_wash_did_is_one_sentence(rows, says):
    known = plan(pullover(swatch=(swatch(20.0, 28.0, washed_rows=rows),))).swatch("A")

    assert wash_verdict(known, "washed") == says
    assert wash_verdict(known, "hung") == ""


def test_a_neckband_smaller_than_the_head_says_that_it_stretches():
    now = plan(pullover())
    head, band = now.wearer.cm("head"), now.made.first(NECKBAND)
    around = now.gauge.cloth.across_cm(band.key_counts["neck"])

    assert around < head
    assert f"enough for a head of {show_length(head, 'cm')}" in neck_stretch(now)
    assert neck_stretch(now) in [line.text for line in answers("shape", now)]
    assert neck_stretch(plan(shaped(pullover(), front="open"))) == ""


def test_swatches_on_several_needles_say_why_they_have_the_same_cast_on():
    two = tuple(replace(swatch(name=name), needle_mm=mm) for name, mm in (("A", 4.0), ("B", 4.5)))
    said = [" ".join(line.text for line in answers("swatch", plan(pullover(swatch=s)))) for s in (two, two[:1])]

    assert ["same number of stitches" in text for text in said] == [True, False]


@pytest.mark.parametrize(("table", "side"), [("women", "right"), ("children", "right"), ("men", "left")])
def test_the_side_of_the_buttonholes_is_said_where_it_is_planned(table, side):
    size = {"children": "8"}.get(table, "M")
    project = shaped(pullover(body=Body(source="table", table=table, size=size)), front="open")
    now = plan(project)
    holed = next(p for p in now.made.pieces if p.key_counts.get("buttonholes"))

    assert f"The buttonholes are along the {side} front" in " ".join(before_knitting(now))
    assert holed.side == side


def test_what_is_bound_off_where_a_row_begins_is_said_before_a_decrease_at_its_end():
    child = replace(pullover(swatch=(swatch(20.0, 34.0),)), body=Body(source="table", table="children", size="6"))
    cardigan = plan(shaped(child, construction="raglan-from-hem", front="open", hem="garter", length_cm=40.0))
    told = ["; ".join(deeds(piece, [row])) for piece in cardigan.made.pieces for row in piece.rows if row.events]
    both = [line for line in told if "decrease" in line and "bind off" in line]
    assert both, "no row of this cardigan has both"
    for line in both:
        assert line.index("bind off") < line.index("decrease"), line


@pytest.mark.parametrize(
    ("wishes", "told"),
    [
        (
            {"construction": "set-in", "front": "open", "neckline": "v"},
            ["For the front and neck band, you'll also need"],
        ),
        ({"construction": "raglan-from-hem", "worked": "round"}, ["cast-on edge isn't twisted"]),
        ({"construction": "set-in", "front": "open", "worked": "round"}, ["won't fit", "cast-on edge isn't twisted"]),
        ({"construction": "set-in"}, []),
    ],
)
def test_a_long_needle_and_a_straight_cast_on_are_told_of_before_they_are_needed(wishes, told):
    """A band of 200 stitches has no room on straight needles, and a twisted round can't be mended."""
    said = " ".join(before_knitting(plan(shaped(pullover(), **wishes))))
    found = re.findall(r"For the front and neck band, you'll also need|won't fit|cast-on edge isn't twisted", said)
    assert found == told


def test_how_a_garter_band_is_bound_off_is_explained():
    for construction in ("set-in", "round-yoke"):
        wishes = {"construction": construction, "worked": "round", "hem": "garter"}
        sheet = markdown(plan_sheet(plan(shaped(pullover(), **wishes))))
        used = [word for word in ("knitwise", "purlwise") if f"loosely {word}" in sheet]
        assert used
        assert all(f"- {word}: as if to" in sheet for word in used)


def test_short_rows_of_a_round_yoke_are_told_row_by_row_as_rows():
    sheet = markdown(plan_sheet(plan(shaped(pullover(), construction="round-yoke", worked="round"))))
    assert "turn at the second marker" in sheet
    assert "| Row | The same, row by row |" in sheet
    assert "| Round | The same, round by round |" not in sheet


# ── bands, markers and needles where they are needed ─────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("changes", "band", "after"),
    [
        ({}, "neckband", "the shoulders are joined"),
        (
            {"construction": "set-in", "front": "open", "neckline": "v"},
            "front and neck band",
            "the sleeves are sewn in",
        ),
        ({"construction": "set-in", "sleeve": "none"}, "left armhole band", "the side seams are sewn"),
        ({"construction": "raglan-from-hem"}, "neckband", "the raglan edges are sewn"),
        ({"construction": "raglan-from-neck"}, "neckband", ""),
    ],
)
def test_a_band_says_when_it_is_worked_as_the_finishing_does(changes, band, after):
    """The page has it before the finishing, where the pieces are neither washed nor sewn; at the needles it's the same."""
    now = plan(shaped(pullover(), **changes))
    begins = next(w.lines[0] for w in instructions(now) if w.piece.name == band)
    steps = " ".join(finishing(now))

    assert begins.startswith(
        f"Work this band during finishing, once the pieces are washed and {after}. " if after else "Pick up"
    )
    assert ("Now work the" in steps) == bool(after)
    piece = piece_of(now.made, band)
    assert piece is not None
    assert before_row(piece, piece.rows[0], now)[0] == begins


def test_the_needle_of_a_band_along_both_fronts_is_named_with_its_length():
    """300 stitches in 3.5 mm: no straight needle holds them."""
    project = shaped(pullover(), construction="set-in", front="open", neckline="v")
    for units, size, length in (("cm", "3.5 mm", "100 to 120 cm"), ("in", "US 4 (3.5 mm)", "40 to 47 in")):
        told = next(t for t in before_knitting(plan(replace(project, units=units))) if "You'll also need" in t)
        assert told.endswith(f"For the front and neck band, you'll also need a {size} circular needle, {length} long.")
    told = next(t for t in before_knitting(plan(pullover())) if "You'll also need" in t)
    assert told.endswith("you'll also need a 3.5 mm circular needle, 40 cm long, or double-pointed needles.")


@pytest.mark.parametrize(("hem", "why"), [("garter", "spread"), ("none", "spread"), ("rib-1x1", "draw in")])
def test_why_edges_are_on_a_finer_needle_is_said_of_their_own_stitch(hem, why):
    """A rib draws in; garter stitch is wider than stockinette on the same needle, and a hem of it flares (common practice,
    no source: a smaller needle, or fewer stitches)."""
    (needles,) = (line for line in before_knitting(plan(shaped(pullover(), hem=hem))) if line.startswith("Needles: "))
    assert "3.5 mm needles, two sizes smaller" in needles
    assert [word for word in ("spread", "draw in") if word in needles] == [why]


NEEDLES_IN_PRINT = {
    ("us", "in", "mm"): ("US 6 (4 mm)", "US 4 (3.5 mm)"),
    ("us", "cm", "mm"): ("4 mm", "3.5 mm"),
    ("uk", "in", "mm"): ("4 mm", "3.5 mm"),
    ("uk", "cm", "uk"): ("UK 8 (4 mm)", "3.5 mm"),
}
"""Needle conversions read in three tables (reference: needles): 4 mm is US 6 and UK 8; 3.5 mm is US 4 and no UK size."""


@pytest.mark.parametrize("shown", NEEDLES_IN_PRINT)
def test_a_pattern_in_us_words_and_inches_names_us_sizes_first(shown):
    """Common practice, no source; typed in mm too. With other words or cm, sizes are named as they were typed."""
    terms, units, names = shown
    now = plan(replace(pullover(), terms=terms, units=units, needle_names=names))
    large, small = NEEDLES_IN_PRINT[shown]
    lines = [line for words in instructions(now) for line in words.lines]

    assert f"Needles: {large}, as for swatch A." in before_knitting(now)[0]
    assert f"Change to {large} needles." in lines
    assert f"Cast on 102 stitches with {small} needles." in lines


def test_a_circular_needle_is_no_longer_than_the_body_is_around():
    """The two longest of those sold that go around it with no stitch stretched (common practice, no source)."""
    for chest_cm, cm, inches in (
        (60.0, "40 or 60 cm", "16 or 24 in"),
        (95.0, "80 or 100 cm", "32 or 40 in"),
        (130.0, "100 or 120 cm", "40 or 47 in"),
    ):
        body = replace(pullover().body, chest_cm=chest_cm)
        for units, length in (("cm", cm), ("in", inches)):
            now = plan(shaped(pullover(body=body, units=units), worked="round"))
            assert any(f" A circular needle of {length} suits a body of this size" in t for t in before_knitting(now))
    assert circulars_for(61.0, "cm") == "40 or 60 cm"
    assert circulars_for(60.0, "cm") == "40 cm"
    assert circulars_for(39.0, "in") == ""
    waist = plan(shaped(pullover(body=replace(pullover().body, chest_cm=95.0)), worked="round", waist="shaped"))
    assert any(" A circular needle of 60 or 80 cm suits" in told for told in before_knitting(waist))


def test_the_sides_of_a_raglan_line_are_told_once_before_the_first_row_that_has_one():
    """Going around from the left front: leaving front or back, the body is before the marker."""
    for construction, pair in (
        ("raglan-from-neck", "m1r, k1 before the marker"),
        ("raglan-from-hem", "k2tog, k1 before the marker"),
    ):
        now = plan(shaped(pullover(), construction=construction, worked="round"))
        lines = [line for words in instructions(now) for line in words.lines]
        told = [i for i, line in enumerate(lines) if line.startswith("'On the body side' means that you shape")]
        first = next(i for i, line in enumerate(lines) if "side of each raglan line on" in line)

        assert len(told) == 1
        assert told[0] < first
        assert lines[told[0]].endswith("Shape each side just as you do when you shape both sides.")
        assert any(f"At each raglan line, work {pair}" in line for line in before_knitting(now))


# ── one figure for one thing ─────────────────────────────────────────────────────────────────────────


def test_a_front_is_as_wide_in_its_heading_as_in_the_schematic_where_the_rib_has_more_stitches():
    """A rib of k2, p2 takes whole repeats: the row above it leaves out what is too much."""
    wider = 0
    for chest_cm in range(84, 110, 2):
        base = pullover(swatch=(swatch(14.0, 18.4),), body=Body(source="own", table="women", chest_cm=float(chest_cm)))
        now = plan(shaped(base, construction="set-in", front="open"))
        half = next(words for words in instructions(now) if words.piece.name == "left front")
        drawn = {m.what: m.value_cm for s in shapes_of(now) if "front" in s.name.lower() for m in s.measures}
        assert f". After washing: {show_length(drawn['chest and hem'], 'cm')} wide, " in half.measures
        wider += half.piece.cast_on > half.piece.widest_of_fabric
    assert wider


@pytest.mark.parametrize("units", ["cm", "in"])
def test_a_yoke_is_as_deep_in_its_heading_as_in_the_schematic(units):
    """Short rows make the back longer than the front; both are said, and which rows are short."""
    now = plan(replace(shaped(pullover(), construction="round-yoke", worked="round"), units=units))
    drawn = {m.what: m.value_cm for shape in shapes_of(now) for m in shape.measures}
    yoke = next(words for words in instructions(now) if words.piece.role is YOKE)
    short = sum(row.side != "round" for row in yoke.piece.rows)
    front, back = drawn["yoke depth"], drawn["yoke depth"] + drawn["back raised"]

    assert f"{len(yoke.piece.rows) - short} rounds and {short} short rows" in yoke.measures
    told = f"{show_length(front, units)} long at the front and {show_length(back, units)} at the back"
    assert told in yoke.measures


@pytest.mark.parametrize("hem", ["rib-2x2", "none"])
@pytest.mark.parametrize("construction", ["set-in", "raglan-from-hem"])
def test_rows_to_the_shoulder_are_all_there_are_or_are_said_to_be_above_the_edging(construction, hem):
    """A body of fewer rows to the shoulder than to the neck cannot be knitted."""
    now = plan(shaped(pullover(), construction=construction, worked="flat", hem=hem))
    working, back = now.working("body.rows"), piece_of(now.made, "back")
    top = max(p.last_row for p in now.made.pieces if back in p.lineage()) if construction == "set-in" else 0
    top = top or next(mark.after_row for mark in back.marks if mark.what == "underarm")
    beside = "Rows above the edging" if hem == "rib-2x2" else "Rows from the cast-on"

    assert working.label.startswith(beside)
    assert working.count == top - (back.edging_rows if hem == "rib-2x2" else 0)


def test_an_armhole_stands_beside_the_body_it_was_planned_for():
    now = plan(shaped(pullover(), construction="set-in"))
    rows = next(block.rows for block in measurements(now).blocks if isinstance(block, Table))
    body, size = now.wearer.cm("armhole_depth"), now.finished_cm["armhole_depth"]
    shown = next(row for row in rows if row[0] == "Armhole depth")

    assert shown[3].startswith(show_length(body, "cm"))
    assert shown[4] == show_length(difference_shown(size, body, "cm"), "cm")
