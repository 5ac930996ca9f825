"""The rest of a garment, planned anew from what is on the needle: what is knitted stays, and the rest still comes out.

Properties over designs of all constructions, flat and round, up and down, at any row and another row gauge.
"""

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.core.test_centre_panels import with_cable
from tests.core.test_fabric import cables
from tests.factory import pullover, shaped, swatch
from workshop import saves
from workshop.core.constructions import CONSTRUCTIONS
from workshop.core.knitting import shoulders
from workshop.core.knitting.facts import noted
from workshop.core.making.roles import BOTH_EDGES, PANELS, YOKE
from workshop.core.plan import plan
from workshop.project import Panel, Stripe, TakenWay
from workshop.words.before import before_knitting

NEW = {"knitted-beyond", "knitting-has-no-room", "knitted-not-planned"}


def design(draw):
    """A complete project of any construction."""
    stitches = draw(st.sampled_from([14.0, 18.0, 20.0, 24.0, 28.0]))
    base = pullover(swatch=(swatch(stitches, round(stitches * draw(st.floats(1.25, 1.5)), 1)),))
    choices = {
        "construction": draw(st.sampled_from(sorted(CONSTRUCTIONS))),
        "worked": draw(st.sampled_from(["flat", "round"])),
        "front": draw(st.sampled_from(["closed", "open"])),
        "neckline": draw(st.sampled_from(["crew", "v", "scoop"])),
        "waist": draw(st.sampled_from(["straight", "shaped"])),
    }
    return replace(base, garment=replace(base.garment, **choices))


@st.composite
def begun(draw):
    """A project, the name of a piece of it, and rows knitted of that: some, but not all."""
    project = design(draw)
    made = plan(project).made
    assume(made.pieces)
    piece = draw(st.sampled_from([p for p in made.pieces if len(p.rows) > 2 and p.parent is None and not p.role.band]))
    return project, piece, draw(st.integers(1, len(piece.rows) - 1))


def of(made, name):
    return next(p for p in made.pieces if p.name == name)


def with_rows(project, piece, rows, factor=1.0):
    """The project with rows of a piece knitted, and another row gauge taken from what was counted on it."""
    gauge = plan(project).gauge
    assert gauge is not None
    way = TakenWay("rows-anew", piece.name, rows, rows_per_10cm=gauge.rows.per_10cm * factor)
    return replace(project, knitting=(noted(piece, rows),), taken=(way,) if factor != 1 else ())


def is_sound(piece):
    """Rows follow each other, by number and by stitches, and the events of each are its change."""
    stitches = piece.cast_on
    for number, row in enumerate(piece.rows, (piece.parent.last_row if piece.parent else 0) + 1):
        assert row.row == number
        assert row.before == stitches
        assert row.after == stitches + sum(e.change for e in row.events) >= 0
        if piece.worked == "flat":
            assert row.side == ("RS" if number % 2 else "WS")
        stitches = row.after
    assert piece.bound_off == stitches


TOPS = ("cap", "top")


def rows_to_fit(piece, in_top):
    """Rows that must come out: all of a piece, and of a sleeve whose top is begun those that are sewn to an armhole."""
    return piece.last_row - (next(m.after_row for m in piece.marks if m.what in TOPS) if in_top else 0)


@given(begun())
def test_planned_anew_at_the_gauge_of_the_plan_nothing_changes(case):
    project, piece, rows = case

    assert plan(with_rows(project, piece, rows)).made == plan(project).made


@pytest.mark.parametrize(
    ("row_gauge", "factor", "rows", "neck"),
    [
        *((25.3, 0.9375, rows, {}) for rows in (43, 45, 47)),
        *((34.0, 0.92, rows, {"neck_depth_cm": 22.0, "neck_width_cm": 12.0}) for rows in (65, 66, 68)),  # every 8th row
    ],
)
def test_a_v_that_is_still_being_shaped_is_closed_with_all_its_stitches(row_gauge, factor, rows, neck):
    """The plan made anew would have closed it by now; what is missing follows at once."""
    v = shaped(pullover(swatch=(swatch(18.0, row_gauge),)), construction="raglan-from-neck", neckline="v", **neck)
    top = of(plan(v).made, "yoke, top")
    found = of(plan(with_rows(v, top, rows, factor)).made, "yoke, top")
    both = [sum(e.stitches for r in found.rows for e in r.events if e.where == f"neck-{side}") for side in BOTH_EDGES]

    assert both == [sum(e.stitches for r in top.rows for e in r.events if e.where == "neck-left")] * 2


@given(begun(), st.floats(0.92, 1.08))
def test_what_is_knitted_stays_and_the_rest_comes_out_whole(case, factor):
    project, piece, rows = case
    anew = plan(replace(with_rows(project, piece, rows, factor), knitting=()))
    assume(anew.made.pieces)

    found = plan(with_rows(project, piece, rows, factor))
    assume("knitting-has-no-room" not in {c.code for c in found.checks})
    mine, wanted = of(found.made, piece.name), of(anew.made, piece.name)

    assert mine.rows[:rows] == piece.rows[:rows]
    assert mine.bound_off == wanted.bound_off
    for one in found.made.pieces:
        if one.parent is None or one.parent is mine:
            is_sound(one)
    if "knitted-beyond" not in {c.code for c in found.checks}:
        step = shoulders.first_step([piece]) if piece.role in PANELS else None
        in_top = any(run.mark in TOPS for run in noted(piece, rows).worked)
        begun = step is not None and step <= rows  # a shoulder ends in the row for which it was begun
        assert rows_to_fit(mine, in_top) == rows_to_fit(piece if begun else wanted, in_top)


@given(begun(), st.floats(0.92, 1.08), st.integers(0, 20))
def test_a_second_time_with_the_same_counts_changes_nothing(case, factor, more):
    project, piece, rows = case
    once = plan(with_rows(project, piece, rows, factor))
    assume(once.made.pieces and "knitting-has-no-room" not in {c.code for c in once.checks})
    mine = of(once.made, piece.name)
    later = min(rows + more, len(mine.rows))

    again = replace(once.project, knitting=(noted(mine, later, once.project.knitting[0]),))

    assert of(plan(again).made, piece.name).rows == mine.rows


@given(begun(), st.floats(0.92, 1.08))
def test_no_answer_changes_a_row_that_is_knitted(case, factor):
    """Whatever is answered later: another swatch, another construction, another length."""
    project, piece, rows = case
    knitted = with_rows(project, piece, rows)
    other = plan(replace(knitted, garment=replace(knitted.garment, length_cm=70 * factor, neckline="boat")))
    kept = [p for p in other.made.pieces if p.name == piece.name]

    if kept:
        assert kept[0].rows[:rows] == piece.rows[:rows]
    else:
        assert not other.made.pieces or "knitted-not-planned" in {c.code for c in other.checks}


FABRICS = {
    "stripes": {"stripe": (Stripe(4, "b"), Stripe(6, "c"))},
    "pattern": {"fabric": "waffle"},
    "crossing": {"fabric": "cable"},
    "panel": {"panel": (Panel("own", 1, "front"), Panel("own", 1, "sleeves"))},
}


def fabric_of(piece, rows):
    """Colour, row of the pattern and row of the panel of the first rows of a piece."""
    panels = [panel.at(n) for n in range(1, rows + 1) for panel in piece.panels]
    patterned = [piece.pattern.at(n) if piece.pattern else None for n in range(1, rows + 1)]
    return (
        [piece.stripes.get(n) for n in range(1, rows + 1)],
        [at and at.row for at in patterned],
        [at and at.row for at in panels],
    )


@pytest.mark.parametrize("kind", FABRICS)
@pytest.mark.parametrize(("construction", "worked"), [("raglan-from-hem", "flat"), ("round-yoke", "round")])
def test_a_sleeve_that_is_knitted_keeps_its_fabric_whatever_the_body_becomes(construction, worked, kind, tmp_path):
    """It was begun so that it met a body of that day. The other sleeve is its pair, and is begun like it."""
    base = with_cable(multiple=12, construction=construction, worked=worked)
    base = replace(base, stitch_pattern=(*base.stitch_pattern, *cables(base).stitch_pattern))
    base = shaped(base, panel=())
    base = shaped(base, **FABRICS[kind], length_cm=59.0)
    left = of(plan(base).made, "left sleeve")
    lengths_cm = (57.0, 58.0, 60.0)
    others = [of(plan(shaped(base, length_cm=cm)).made, "left sleeve") for cm in lengths_cm]
    assert any(fabric_of(other, 26) != fabric_of(left, 26) for other in others), "the body asks for no other rows"
    for knitted in (26, len(left.rows)):
        saves.save(replace(base, knitting=(noted(left, knitted),)), tmp_path / "begun.toml")
        project = saves.load(tmp_path / "begun.toml")
        for length_cm in lengths_cm:
            now = plan(shaped(project, length_cm=length_cm))
            for name in ("left sleeve", "right sleeve"):
                assert fabric_of(of(now.made, name), knitted) == fabric_of(left, knitted), (knitted, length_cm, name)
            yokes = [y for y in now.made.pieces if y.role is YOKE]
            together = [{at.row for p in y.panels if (at := p.at(r.row))} for y in yokes for r in y.rows]
            parted = any("different pattern rows" in note for note in before_knitting(now))
            assert parted == any(len(rows) > 1 for rows in together)


@pytest.mark.parametrize("kind", ["stripes", "crossing", "panel"])
def test_where_a_sleeve_began_its_fabric_is_known_though_it_was_taken_out_of_the_answers_for_a_while(kind):
    plain = with_cable(multiple=12, construction="round-yoke", worked="round", length_cm=59.0)
    plain = replace(plain, stitch_pattern=(*plain.stitch_pattern, *cables(plain).stitch_pattern))
    plain = shaped(plain, panel=(), fabric="")
    left = of(plan(shaped(plain, **FABRICS[kind])).made, "left sleeve")
    longer = shaped(plain, **FABRICS[kind], length_cm=57.0)
    assert fabric_of(of(plan(longer).made, "left sleeve"), 40) != fabric_of(left, 40)
    known = noted(left, 40)
    assert known.begun

    now = of(plan(replace(plain, knitting=(known,))).made, "left sleeve")
    known = noted(now, 42, known)

    again = of(plan(replace(longer, knitting=(known,))).made, "left sleeve")
    assert fabric_of(again, 40) == fabric_of(left, 40)
    assert again.rows[:40] == left.rows[:40]
    assert noted(again, 42, noted(again, 12, known)).begun == known.begun
    assert not noted(again, 12, known).begun


def test_a_sleeve_follows_the_body_until_its_fabric_is_begun():
    base = with_cable(multiple=12, construction="round-yoke", worked="round", length_cm=59.0)
    base = shaped(base, **FABRICS["panel"])
    left = of(plan(base).made, "left sleeve")
    edging = replace(base, knitting=(noted(left, 12),))

    first = {cm: of(plan(shaped(edging, length_cm=cm)).made, "left sleeve").panels[0].rows[0][0] for cm in (58.0, 59.0)}
    assert first[58.0] != first[59.0] == left.panels[0].rows[0][0]


def test_a_count_on_the_needle_that_is_not_the_plans_is_put_right_in_the_next_rows():
    project = pullover()
    back = of(plan(project).made, "back")
    row = next(r.row for r in back.rows if r.row > 40)
    short = replace(noted(back, row), stitches=back.rows[row - 1].after - 1)

    mine = of(plan(replace(project, knitting=(short,))).made, "back")

    assert mine.rows[row - 1].after == back.rows[row - 1].after - 1
    assert mine.bound_off == back.bound_off
    assert [(e.do, e.stitches) for r in mine.rows[row : row + 2] for e in r.events] == [("increase", 1)]


@pytest.mark.parametrize("construction", sorted(CONSTRUCTIONS))
def test_facts_are_kept_in_few_lines(construction):
    """A whole back or body is kept in runs: fewer than rows, and all of them come back."""
    base = pullover()
    made = plan(replace(base, garment=replace(base.garment, construction=construction))).made
    for piece in made.pieces:
        kept = noted(piece, len(piece.rows))
        assert sum(run.rows for run in kept.worked) == len(piece.rows)
        assert kept.finished


@pytest.mark.parametrize(("worked", "front"), [("flat", "closed"), ("flat", "open"), ("round", "closed")])
def test_a_bust_dart_that_is_begun_is_finished_at_once_and_one_that_is_closed_stays(worked, front):
    """Each of its turns is so far from the edge: nothing of a longer dart is owed once it is closed."""
    base = pullover(body=replace(pullover().body, size=None, chest_cm=100.0, high_bust_cm=90.0))
    shape = {"construction": "set-in", "worked": worked, "front": front, "bust_darts": "yes"}
    base = replace(base, garment=replace(base.garment, **shape))
    pieces = plan(base).made.pieces
    piece = next(p for p in pieces if p.inner_rows)
    first, last = min(piece.inner_rows), max(piece.inner_rows)
    for rows in (last, last + 9, first + 1):
        made = plan(with_rows(base, piece, rows, 1.08)).made
        mine = of(made, piece.name)
        assert mine.rows[:rows] == piece.rows[:rows]
        dart = sorted(mine.inner_rows)
        assert dart == list(range(first, dart[-1] + 1))
        assert rows < last or dart[-1] == last
        is_sound(mine)
        sides = [s for s in made.seams if s.kind == "side"]
        assert [s.a_rows for s in sides] == [s.b_rows for s in sides]


FOLLOWED = [
    # shoulders whose steps are not all as wide as the first: 5, 5, 4, 4, 4 of 22
    (24.0, 31.6, {"construction": "set-in", "worked": "round"}),
    (28.0, 38.0, {"construction": "square-armhole", "neckline": "scoop"}),
    (28.0, 41.0, {"construction": "set-in", "sleeve": "none", "hem": "garter"}),  # 5, 4, 4, 4, 4, 4 begins as 5, 5 does
    (24.0, 31.6, {"construction": "set-in", "shoulder": "short-rows"}),
    (20.0, 28.0, {"construction": "drop-shoulder", "front": "open", "neckline": "v"}),
    (18.0, 25.0, {"construction": "raglan-from-hem"}),
    (20.0, 28.0, {"construction": "raglan-from-hem", "worked": "round", "neckline": "scoop"}),
    (20.0, 28.0, {"construction": "raglan-from-neck"}),
    (24.0, 33.0, {"construction": "round-yoke", "front": "open"}),
]


@pytest.mark.parametrize(("stitches", "rows", "shape"), FOLLOWED)
def test_who_follows_the_plan_to_its_last_row_finds_it_unchanged_at_every_stop(stitches, rows, shape):
    """Each piece in its order: after its first row, in its middle, and finished."""
    project = shaped(pullover(swatch=(swatch(stitches, rows),)), **shape)
    made = plan(project).made
    known = ()
    for piece in made.pieces:
        for upto in sorted({1, len(piece.rows) // 2, len(piece.rows)}):
            now = plan(replace(project, knitting=(*known, noted(piece, upto)))).made
            assert [(p.name, p.rows) for p in now.pieces] == [(p.name, p.rows) for p in made.pieces], (piece.name, upto)
        known = (*known, noted(piece, len(piece.rows)))


def assert_alike(sides, divided_at):
    neck = [[(r.row, e.stitches) for r in p.rows for e in r.events if e.where.startswith("neck")] for p in sides]
    assert abs(sides[0].last_row - sides[1].last_row) <= 1
    assert [n for _, n in neck[0]] == [n for _, n in neck[1]]
    assert all(abs(a - b) <= 1 for (a, _), (b, _) in zip(*neck, strict=True))
    assert max(n for n, _ in (neck[0][0], neck[1][0])) <= divided_at + 2, "a neck is shaped at once"


@pytest.mark.parametrize("more_cm", [-2.0, 2.0, 4.0])
@pytest.mark.parametrize("construction", ["raglan-from-hem", "set-in", "drop-shoulder"])
def test_both_sides_of_a_neck_are_alike_where_the_length_is_changed_once_the_front_is_divided(construction, more_cm):
    """An edge that a row ends with is shaped a row later or earlier, no more (common practice, no source)."""
    project = shaped(pullover(swatch=(swatch(28.0, 38.0),)), construction=construction)
    front = of(plan(project).made, "front")
    longer = shaped(project, length_cm=60.0 + more_cm)
    now = plan(replace(longer, knitting=(noted(front, len(front.rows)),))).made
    sides = [p for p in now.pieces if p.parent is not None and p.parent.name == "front"]
    assert_alike(sides, len(front.rows))

    for first in sides:  # whichever is knitted first
        half = plan(replace(longer, knitting=(noted(front, len(front.rows)), noted(first, 5)))).made
        assert_alike([of(half, p.name) for p in sides], len(front.rows))
        if first is sides[0]:
            assert [(p.name, [(r.after, set(r.events)) for r in p.rows]) for p in half.pieces] == [
                (p.name, [(r.after, set(r.events)) for r in p.rows]) for p in now.pieces
            ]
