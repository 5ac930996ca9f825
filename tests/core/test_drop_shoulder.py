"""The drop shoulder, row by row, over random bodies and gauges."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.factory import pullover, shaped, swatch
from workshop.core.making.counts import edging_rule
from workshop.core.making.ledger import ADDS
from workshop.core.plan import plan
from workshop.project import Body, Fit
from workshop.tables import bodies

TABLES = ("women", "men", "youth", "children", "babies")
SIZES = [(table, size) for table in TABLES for size in bodies.sizes(table)]


@st.composite
def projects(draw):
    """A pullover for some body of the tables, in some gauge and shape."""
    table, size = draw(st.sampled_from(SIZES))
    stitches = draw(st.integers(40, 136)) / 4
    rows = round(stitches * draw(st.floats(1.2, 1.6)) * 4) / 4
    washed = round(rows * draw(st.floats(0.9, 1.1)) * 4) / 4
    base = pullover(
        swatch=(swatch(stitches, rows, washed_rows=washed),),
        body=Body(source="table", table=table, size=size),
        fit=Fit(draw(st.sampled_from(["close", "standard", "loose"]))),
    )
    child = table in ("children", "babies")
    return shaped(
        base,
        worked=draw(st.sampled_from(["flat", "round"])),
        neckline=draw(st.sampled_from(["crew", "boat"])),
        sleeve=draw(st.sampled_from(["long", "short"])),
        hem=draw(st.sampled_from(["rib-1x1", "rib-2x2", "garter", "none"])),
        length_cm=draw(st.floats(24, 46) if child else st.floats(50, 80)),
        hem_cm=draw(st.floats(1, 6)),
        cuff_cm=draw(st.floats(1, 6)),
    )


def made_of(project):
    now = plan(project)
    assert now.made is not None
    return now, now.made


@given(projects())
def test_every_row_adds_up_and_every_piece_ends_on_its_count(project):
    _, made = made_of(project)

    assert made.pieces or any(c.level == "stop" for c in made.checks)
    for piece in made.pieces:
        stitches = piece.cast_on
        for i, row in enumerate(piece.rows):
            assert row.before == stitches
            change = sum(ADDS[e.do] * e.stitches * (2 if e.where == "both" else 1) for e in row.events)
            assert row.after == row.before + change >= 0
            assert row.row == piece.rows[0].row + i
            if piece.worked == "flat":
                assert row.side == ("RS" if row.row % 2 else "WS")
            stitches = row.after
        assert stitches == piece.bound_off


@given(projects())
def test_pieces_go_on_with_the_stitches_that_their_parents_left(project):
    _, made = made_of(project)

    for piece in made.pieces:
        parts = [p for p in made.pieces if p.came_from == piece.name]
        if not parts:
            continue
        held = sum(e.stitches for e in piece.rows[-1].events if e.do == "hold")
        assert sum(p.cast_on for p in parts) == (held or piece.bound_off)
        assert all(p.rows[0].row == piece.last_row + 1 for p in parts)


@given(projects())
def test_ribs_are_legal_and_key_counts_share_a_parity(project):
    now, made = made_of(project)
    hem = now.project.garment.hem

    for piece in made.pieces:
        if piece.cast_on and not piece.came_from:
            assert edging_rule(hem, piece.worked).legal(piece.cast_on)
        if piece.name in ("front", "back"):
            assert (piece.key_counts["chest"] - piece.key_counts["neck"]) % 2 == 0
            assert 2 * piece.key_counts["shoulder"] + piece.key_counts["neck"] == piece.key_counts["chest"]
        if piece.name.endswith("sleeve"):
            assert (piece.key_counts["cuff"] - piece.key_counts["upper_arm"]) % 2 == 0


@given(projects())
def test_finished_measurements_are_what_was_asked_for_within_the_rounding(project):
    now, made = made_of(project)
    if not made.pieces:
        return
    g = now.gauge
    stitch, row = 10 / g.stitches.per_10cm, 10 / g.rows.per_10cm

    assert made.finished_cm["chest"] == pytest.approx(now.wanted.get("chest"), abs=2 * stitch + 1e-9)
    assert made.finished_cm["neck_width"] == pytest.approx(now.wanted.get("neck_width"), abs=stitch + 1e-9)
    assert made.finished_cm["length"] == pytest.approx(now.wanted.get("length"), abs=row + 1e-9)
    assert made.finished_cm["armhole_depth"] == pytest.approx(now.wanted.get("armhole_depth"), abs=row + 1e-9)
    assert made.finished_cm["upper_arm"] == pytest.approx(2 * now.wanted.get("armhole_depth"), abs=stitch + 1e-9)
    for reach in now.ranges.values():
        assert reach.low < reach.likely < reach.high


@given(projects())
def test_edges_that_meet_agree(project):
    now, made = made_of(project)
    if not made.pieces:
        return
    stitch, row = 10 / now.gauge.stitches.per_10cm, 10 / now.gauge.rows.per_10cm

    for seam in made.seams:
        if seam.a_rows is not None:
            assert seam.a_rows == seam.b_rows
        else:
            assert seam.a_cm == pytest.approx(seam.b_cm, abs=stitch + 2 * row + 1e-9)
    fronts = [p for p in made.pieces if p.name in ("front", "back")]
    ends = {p.last_row for p in made.pieces if "shoulder" in p.name} or {p.last_row for p in fronts}
    assert len(ends) == 1


@given(projects())
def test_sleeve_increases_stand_on_right_side_rows_and_stop_before_the_top(project):
    _, made = made_of(project)

    for piece in made.pieces:
        if not piece.name.endswith("sleeve"):
            continue
        shaped_rows = [r for r in piece.rows if any(e.where == "both" for e in r.events)]
        assert all(r.fabric == "stocking" for r in shaped_rows)
        assert all(r.side in ("RS", "round") for r in shaped_rows)
        assert not shaped_rows or shaped_rows[-1].row <= piece.last_row


def test_both_sleeves_are_alike_in_every_row():
    left = plan(pullover()).made.piece("left sleeve")
    right = plan(pullover()).made.piece("right sleeve")

    assert left.rows == right.rows


def test_a_seam_takes_one_stitch_from_each_edge_of_a_flat_piece_and_none_in_the_round():
    flat = plan(pullover()).made
    ring = plan(shaped(pullover(), worked="round")).made

    assert flat.piece("front").key_counts["chest"] == 102  # 100 cm at 20 stitches: 100 visible and 2 edges
    assert ring.piece("body").key_counts["chest"] == 200
    assert flat.finished_cm["chest"] == ring.finished_cm["chest"] == pytest.approx(100.0)


def test_the_sleeve_begins_where_the_body_ends_published_case_80_less_half_of_62():
    project = pullover(body=Body(source="own", chest_cm=116.0, neck_to_cuff_cm=80.0, upper_arm_cm=36.0, wrist_cm=18.0,
                                 armhole_depth_cm=22.0, sleeve_underarm_cm=46.0), fit=Fit(chest_ease_cm=8.0, ease="standard"))  # fmt: skip
    working = plan(project).working("sleeve.length")

    assert working.value == pytest.approx(49.0)  # body 62 cm wide: 80 − 62 / 2


def test_a_transition_row_makes_up_what_rib_and_body_differ_by():
    project = shaped(pullover(fit=Fit("standard", chest_ease_cm=9.0)), hem="rib-2x2")
    front = plan(project).made.piece("front")
    first_plain = next(r for r in front.rows if r.fabric == "stocking")

    assert (front.cast_on, front.key_counts["chest"]) == (102, 104)
    assert [(e.do, e.where, e.stitches) for e in first_plain.events] == [("increase", "across", 2)]


@pytest.mark.parametrize(
    ("changes", "code", "level"),
    [
        ({"length_cm": 26.0}, "body-too-short", "stop"),
        ({"neck_width_cm": 45.0}, "shoulder-narrow", "look"),
        ({"neck_depth_cm": 30.0, "worked": "round"}, "neck-below-underarm", "stop"),
        ({"neck_width_cm": 8.0, "neck_depth_cm": 2.0}, "head-does-not-pass", "look"),
        ({"sleeve_cm": 5.0}, "sleeve-too-short", "stop"),
        ({"construction": "set-in"}, "shape-not-yet", "stop"),
        ({"neckline": "v"}, "shape-not-yet", "stop"),
    ],
)
def test_what_cannot_be_or_would_not_be_worn_is_said(changes, code, level):
    now = plan(shaped(pullover(), **changes))

    assert (code, level) in {(c.code, c.level) for c in now.checks}
    if level == "stop":
        assert now.made is None or not now.made.pieces


def test_a_neck_as_wide_as_the_front_is_stopped():
    project = shaped(
        pullover(body=Body(source="table", table="babies", size="3 months")), neck_width_cm=45.0, length_cm=30.0
    )

    assert "no-shoulder" in {c.code for c in plan(project).checks}


def test_a_tight_armhole_is_asked_about():
    project = pullover(body=Body(source="own", table="women", size="M", chest_cm=92.0, upper_arm_cm=44.0))

    assert "armhole-tight" in {c.code for c in plan(project).checks}


def test_a_steep_sleeve_increases_at_once_after_the_cuff_and_says_so():
    project = shaped(pullover(swatch=(swatch(20.0, 22.0),)), sleeve_cm=15.0, cuff_cm=5.0)
    now = plan(project)
    sleeve = now.made.piece("left sleeve")

    assert "sleeve-steep" in {c.code for c in now.checks}
    assert any(e.do == "increase" and e.where == "across" for r in sleeve.rows for e in r.events)
    assert sleeve.bound_off == sleeve.key_counts["upper_arm"]


def test_sizes_of_all_tables_are_planned_without_a_stop():
    """Every published size at its own proportions, at three gauges."""
    for table, size in SIZES:
        for stitches in (12.0, 20.0, 30.0):
            base = pullover(
                swatch=(swatch(stitches, stitches * 1.35),), body=Body(source="table", table=table, size=size)
            )
            length = plan(base).offers["garment.length_cm"]
            project = shaped(base, length_cm=length, hem_cm=3.0, cuff_cm=3.0)
            now = plan(project)
            assert not [c.code for c in now.checks if c.level == "stop"], (table, size, stitches)
            assert now.made.pieces


def test_the_plan_does_not_depend_on_what_is_shown():
    cm, inches = pullover(), replace(pullover(), units="in", needle_names="us", terms="uk")

    assert plan(cm).made == plan(inches).made
