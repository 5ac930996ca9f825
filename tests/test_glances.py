"""What a step shows before it tells: pictures as text, in the room that a panel has, made from what the core plans."""

import re
from dataclasses import replace
from datetime import date

import pytest

from tests.factory import pullover, swatch
from workshop.core.constructions import CONSTRUCTIONS
from workshop.core.edgings import EDGINGS
from workshop.core.necklines import NECKLINES
from workshop.core.usual import usual
from workshop.core.wearer.body import MEASURES
from workshop.pictures.bars import Bar, bars_picture
from workshop.pictures.canvas import DIGITS, LARGE_LINES, STITCH, Canvas, knit, large, plain, width_of
from workshop.pictures.fabric import Sample, swatch_picture, wash_picture
from workshop.pictures.stitches import HIGH, WIDE, counting_picture
from workshop.pictures.tape import TAPES, figure_picture
from workshop.pictures.wash import Washed
from workshop.pictures.worn import worn_picture
from workshop.planned import plan
from workshop.prints.glance import laid_out, summary_head, worn_of
from workshop.prints.step_glances import DRAPE, OF_STEPS, SPRING, glance
from workshop.project import Body, Design, Project
from workshop.questions.steps import fields
from workshop.tables.fibres import all_fibres
from workshop.telling import heard

PANELS = {"80x24": (37, 17), "60x20": (57, 7), "120x40": (37, 33)}
"""Columns and rows of the panel in each window."""

CHOOSING = (27, 14)
"""The same in a window of 60 by 20 while a list of shapes is open."""

DONE = plan(pullover())


FOUND = {}


def drawn(project: Project):
    """The first of the usual projects from which something can be made; each is planned once."""
    if repr(project) not in FOUND:
        FOUND[repr(project)] = next((p for p in map(plan, usual(project)) if p.made.pieces), None)
    return FOUND[repr(project)]


def wishing(**wishes: object) -> Project:
    """A project of which nothing is known but what is wished for."""
    project = Project()
    return replace(project, garment=replace(project.garment, **wishes))


def looks(size: tuple[int, int], **wishes: object) -> str:
    return "\n".join(plain(worn_picture(worn_of(drawn(wishing(**wishes))), *size)))


# ── the garment ──────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("size", [*PANELS.values(), CHOOSING], ids=[*PANELS, "choosing"])
def test_each_answer_of_a_list_of_shapes_has_a_look_of_its_own(size):
    """One chooses by looking: what looks alike cannot be told apart."""
    for question, answers in {
        "construction": tuple(CONSTRUCTIONS),
        "sleeve": ("long", "elbow", "short", "none"),
        "front": ("closed", "open"),
    }.items():
        shown = {answer: looks(size, **{question: answer}) for answer in answers}
        assert len(set(shown.values())) == len(answers), question
    assert len({looks(size, construction="set-in", neckline=name) for name in NECKLINES}) == len(NECKLINES)


def test_every_combination_that_can_be_knitted_is_drawn_before_anything_is_known():
    """What wishes exclude stands in ``core/garments/wishes.py``: a boat neck with yokes and fronts, a deep one in rings."""
    excluded = {
        (c.name, n, front)
        for c in CONSTRUCTIONS.values()
        for n in NECKLINES
        for front in ("closed", "open")
        if (n == "boat" and (front == "open" or c.yoke)) or (c.in_rings and NECKLINES[n].deep)
    }
    for construction in CONSTRUCTIONS:
        for neckline in NECKLINES:
            for front in ("closed", "open"):
                found = drawn(wishing(construction=construction, neckline=neckline, front=front))
                if found is None:
                    assert (construction, neckline, front) in excluded
                    continue
                picture = worn_picture(worn_of(found), 37, 14)
                assert width_of(picture) <= 37, (construction, neckline, front)
                assert 5 <= len(picture) <= 14, (construction, neckline, front)


@pytest.mark.parametrize("table", ["women", "men", "youth", "children", "babies"])
def test_a_chosen_table_is_drawn_in_its_middle_size(table):
    found = drawn(Project(body=Body(source="table", table=table)))

    assert found.made.pieces
    assert found.project.body.table == table


def test_what_cannot_be_made_says_why_where_it_would_be_drawn():
    refused = plan(next(usual(wishing(construction="round-yoke", neckline="v"))))
    said = " ".join(plain(laid_out(glance("shape", plan(Project()), drawn=refused, called="V"), 37, 17)))

    assert not refused.made.pieces
    assert said.startswith("V ")
    assert "neck" in said


def test_nothing_that_was_answered_is_drawn_otherwise():
    """What a knitter has said stays; only what is open is filled in."""
    project = pullover()
    first = next(usual(project))

    assert first.body == project.body
    assert first.fit == project.fit
    for key in ("construction", "worked", "neckline", "sleeve", "hem", "length_cm", "hem_cm", "cuff_cm"):
        assert getattr(first.garment, key) == getattr(project.garment, key)
    assert plan(first).made.finished_cm == DONE.made.finished_cm


def test_the_garment_is_drawn_to_scale():
    """Its body is as many dots wide for its height as the finished measurements say, to a dot or two."""
    made = DONE.made.finished_cm
    picture = plain(worn_picture(replace(worn_of(DONE), sleeve=(), cuff=()), 60, 24))

    wide, high = max(map(len, picture)), 2 * len(picture)
    assert wide / high == pytest.approx(made["chest"] / 2 / made["length"], abs=2.5 / high)


def test_edgings_are_drawn_as_what_they_are():
    """Ribs stand up, ridges lie down, and what has no edging has none."""
    feet = {}
    for hem in EDGINGS:
        found = drawn(wishing(construction="drop-shoulder", sleeve="none", hem=hem))
        picture = glance("shape", found).draw(37, 12)
        feet[hem] = {dot for _, ink in picture[-1] for dot in ink.split("/")}, plain(picture)[-1].strip()
    rib, garter, plain_edge = feet["rib-2x2"], feet["garter"], feet["none"]
    assert set(re.findall("█+", rib[1])) == {"█", "██"}
    assert set(garter[1]) == {"▀"}
    assert rib[0] | garter[0] == {"", "edging", "edging-shade"}
    assert not plain_edge[0] & {"edging", "edging-shade"}


# ── what a panel shows ───────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("project", [pullover(), pullover(units="in", terms="uk"), Project()], ids=["cm", "in", "new"])
def test_at_every_question_all_that_is_shown_has_room(project):
    now = plan(project)
    for step in OF_STEPS:
        for at in {f.key.replace(".2", ".1"): "" for f in fields(step, project)} or {"": ""}:
            seen = glance(step, now, at=at, drawn=drawn(project))
            for columns, rows in PANELS.values():
                picture = laid_out(seen, columns, rows)
                assert width_of(picture) <= columns, (step, at)
                assert len(picture) <= max(rows, 12), (step, at, columns)
    for columns, rows in (*PANELS.values(), CHOOSING):
        picture = laid_out(
            glance("shape", now, drawn=drawn(project), called="raglan from the neck down"), columns, rows
        )
        assert width_of(picture) <= columns
        assert len(picture) <= rows + 1
    assert width_of(summary_head(now, 56)) <= 56


def test_a_step_opens_with_its_figure():
    """Worked out elsewhere (tests of the core); here only that it is this one."""
    chest = DONE.made.finished_cm["chest"]
    assert glance("shape", DONE).figure == f"{chest:.1f} cm".replace(".0 ", " ")
    assert glance("measure", DONE, at="body.chest_cm").figure == f"{DONE.targets.get('chest'):g} cm"
    assert glance("gauge", DONE, at="reading.A.off needles.rows.1").about.startswith("rows per 10 cm")
    for step in OF_STEPS:
        assert len(glance(step, DONE).lines) <= 3, step


def test_large_figures_are_ours_and_all_different():
    assert all(len(rows) == 2 * LARGE_LINES for rows in DIGITS.values())
    assert all(len({len(row) for row in rows}) == 1 for rows in DIGITS.values())
    assert len(set(DIGITS.values())) == len(DIGITS)
    assert plain(large("7 cm"))[-1].endswith(" cm")
    assert plain(large("-1.5 %")) == plain(large("−1.5 %"))


# ── hands on ─────────────────────────────────────────────────────────────────────────────────────────


def test_every_measure_of_the_body_has_its_way_of_the_tape():
    assert set(TAPES) == set(MEASURES)
    for measure, (side, _) in TAPES.items():
        for columns, rows in ((37, 11), (27, 7), (20, 9)):
            picture = figure_picture(measure, columns, rows)
            inks = {ink for line in picture for _, ink in line}
            assert any("body-tape" in ink for ink in inks), (measure, columns)
            assert side in plain(picture)[-1], (measure, columns)
            assert width_of(picture) <= columns, (measure, columns)


def test_a_stitch_is_one_v_and_half_a_stitch_one_leg():
    """Common practice: half stitches at the end of the tape count."""
    found = counting_picture("stitches", 1, 40, 8)
    marked = "".join(text for line in found for text, ink in line if ink.startswith("mark"))

    assert plain(found)[-1].split() == ["1", "2", "3", "3½"]
    assert len(marked) == (3 * WIDE + WIDE // 2) * HIGH // 2


def test_rows_are_counted_upwards():
    numbers = [
        next(c for c in line if c.isdigit())
        for line in plain(counting_picture("rows", 2, 40, 7))
        if any(map(str.isdigit, line))
    ]

    assert numbers == ["3", "2", "1"]


def test_other_places_are_counted_elsewhere():
    assert counting_picture("stitches", 1, 40, 9) != counting_picture("stitches", 2, 40, 9)
    assert counting_picture("rows", 1, 40, 9) != counting_picture("rows", 2, 40, 9)


def test_fabric_is_made_of_stitches():
    canvas = Canvas(12, 3)
    canvas.box(0, 0, 12, 6, knit())

    assert ["".join("X" if d == "cloth" else "." for d in row) for row in canvas.dots[:3]] == [
        row * 2 for row in STITCH
    ]
    assert plain(canvas.lines())[0] == "▄▀██▀▄▄▀██▀▄"


def test_a_swatch_grows_with_its_answers():
    small = Sample(10, 10, 22, 30, 0, 0, 0)
    edged = replace(small, border_stitches=3, border_rows=4)

    def inks(sample):
        seen = {ink for line in swatch_picture(sample, 37, 11) for _, ink in line}
        return {part.partition("-")[0] for ink in seen for part in ink.split("/")} - {""}

    assert inks(small) == {"cloth"}
    assert inks(edged) == {"cloth", "edging"}
    assert inks(replace(edged, bumps=1)) == {"cloth", "edging", "mark"}
    assert inks(replace(edged, on_needle=True)) == {"cloth", "edging", "wood"}
    wider = swatch_picture(replace(small, wide_cm=20), 37, 11)
    assert width_of(wider) / len(wider) > width_of(swatch_picture(small, 37, 11)) / 11


def test_the_wash_is_drawn_to_scale():
    """What has shrunk to half its height is half as high, beside the same before, whose edge is marked above it."""
    lines = wash_picture(Washed(10, 10, 10, 5), 43, 11, "before", "washed")
    cloth = [
        "".join(
            "#" * len(t) if ink.startswith("cloth") else "-" * len(t) if "mark" in ink else " " * len(t)
            for t, ink in line
        )
        for line in lines
    ]

    assert [line[:20].count("#") for line in cloth[:-1]] == [20] * 10
    assert [line[23:42].count("#") for line in cloth[:-1]] == [0] * 5 + [19] * 5
    assert "-" * 10 in cloth[0][20:]
    assert plain(lines)[-1].split() == ["before", "washed"]


def test_every_fibre_says_how_it_springs_back_and_falls():
    for fibre in all_fibres():
        assert fibre.memory in SPRING, fibre.id
        assert fibre.drape in DRAPE, fibre.id
    by_id = {f.id: f for f in all_fibres()}
    assert by_id["silk"].drape == by_id["alpaca"].drape == "much"  # common practice, no source
    assert by_id["wool"].drape == "little"


def test_bars_are_as_long_as_they_say():
    lines = plain(bars_picture([Bar("springs back", 1.0, "well"), Bar("drapes", 0.5, "some")], 37))

    assert lines[0].count("▆") == 2 * lines[1].count("▆")
    assert lines[1].endswith(" some")


def test_the_summary_names_the_chest_of_the_plan_beside_the_one_that_will_come_out():
    """Counted on the piece otherwise: the large figure goes by the count, a print of before by the plan."""
    base = pullover()
    assert not any("chest planned" in text for line in summary_head(plan(base), 80) for text, _ in line)
    now = plan(base)
    for said in ("60", "count 22.5 over 12, 22.5 over 12, 22.25 over 12"):
        now = plan(heard(now, said, date(2026, 3, 1)).project)
    head = ["".join(text for text, _ in line) for line in summary_head(now, 80)]
    assert now.finished_cm["chest"] > now.made.finished_cm["chest"]
    assert any(re.search(r"chest planned +100(\.\d)? cm", line) for line in head)


def test_at_the_question_of_the_swatch_to_plan_from_the_offered_one_is_shown():
    two = tuple(swatch(name=n) for n in ("A", "B"))
    two = (replace(two[0], fabric_rating=3), replace(two[1], fabric_rating=5))
    now = plan(pullover(swatch=two, design=Design()))
    assert now.offers["design.swatch"] == "B"
    shown = glance("wash", now, at="design.swatch")
    assert "swatch B" in f"{shown.about} {' '.join(shown.lines)}"


def test_which_swatch_to_wash_and_count_first_is_said_as_something_to_do():
    """The form lists them by their letters, whichever is liked."""
    unwashed = tuple(r for r in swatch().reading if r.state == "off needles")
    two = tuple(replace(swatch(name=n), reading=unwashed, fabric_rating=r) for n, r in (("A", 3), ("B", 5)))
    now = plan(pullover(swatch=two, design=Design()))

    said = glance("wash", now, at="reading.B.washed.stitches.1").lines
    assert said[-1] == "You like the fabric of swatch B best, so start with swatch B."
