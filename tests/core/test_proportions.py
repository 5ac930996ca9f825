"""What a technical editor sent back, each as a garment that shows it: making that cannot be sewn, and proportions.

Bounds without a named source are common practice, no source.
"""

from dataclasses import replace
from itertools import pairwise
from math import hypot

import pytest

from tests.capacity import edge_faults
from tests.core.test_garments import SIZES
from tests.factory import piece_of, pullover, shaped, swatch
from tests.proportions import proportion_faults
from workshop.core.making.roles import THE_FRONT
from workshop.core.plan import plan
from workshop.prints.machine import summary_data
from workshop.project import Body, Fit


def worn_by(table, size, *, gauge=(20.0, 28.0), **wishes):
    """A finished plan for a published size, as long as is offered."""
    base = pullover(swatch=(swatch(*gauge),), body=Body(source="table", table=table, size=size))
    length = float(plan(base).offers["garment.length_cm"])
    return plan(shaped(base, **{"length_cm": length, **wishes}))


# ── making ───────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("front", ["closed", "open"])
def test_a_raglan_from_the_neck_holds_its_sleeves_and_casts_on_its_underarms_in_one_row(front):
    """Cast on a row later they would hang as a pouch below a strand."""
    data = summary_data(plan(shaped(pullover(), construction="raglan-from-neck", worked="round", front=front)))
    pieces = {p["name"]: p for p in data["pieces"]}
    last = pieces["yoke"]["rows"][-1]

    assert [(e["do"], e["where"]) for e in last["events"]] == [
        ("hold", "left"), ("hold", "right"), ("cast-on", "underarm"),
    ]  # fmt: skip
    assert not [e for r in pieces["body"]["rows"] for e in r["events"] if e["do"] == "cast-on"]
    assert pieces["body"]["cast_on"] == last["after"]


def test_a_square_armhole_in_the_round_leaves_the_sleeve_an_edge_for_its_underarm():
    now = worn_by("women", "M", construction="square-armhole", worked="round")
    sleeve, top = piece_of(now.made, "left sleeve"), piece_of(now.made, "left sleeve, top")
    bound = next(e.stitches for r in piece_of(now.made, "back").rows for e in r.events if e.do == "bind-off")

    assert (sleeve.worked, top.worked) == ("round", "flat")
    assert len(top.rows) / 2.8 == pytest.approx(bound / 2.0, abs=2 / 2.8)
    assert top.cast_on == top.bound_off == sleeve.bound_off


@pytest.mark.parametrize("worked", ["flat", "round"])
@pytest.mark.parametrize("neckline", ["crew", "v", "scoop"])
@pytest.mark.parametrize("front", ["closed", "open"])
def test_no_front_of_a_raglan_is_shaped_by_more_stitches_than_it_has(worked, neckline, front):
    for construction in ("raglan-from-hem", "raglan-from-neck"):
        for gauge in ((12.0, 17.0), (20.0, 28.0)):
            now = worn_by(
                "women", "M", gauge=gauge, construction=construction, worked=worked, neckline=neckline, front=front
            )
            assert list(edge_faults(now.made.pieces)) == []


def test_short_rows_of_a_round_yoke_begin_and_end_at_the_beginning_of_the_round():
    yoke = piece_of(worn_by("women", "M", construction="round-yoke", worked="round").made, "yoke")
    short = [(r.side, r.events[0]) for r in yoke.rows if any(e.line == "raised back" for e in r.events)]
    front = dict(next(m.counts for m in yoke.marks if m.what == "raise"))[THE_FRONT]

    assert [side for side, _ in short] == ["WS", "RS"] * (len(short) // 2)  # the round ends on its left side
    assert short[-1][1].stitches == 0  # and there it begins again
    left, right = ([e.stitches for side, e in short if side == s] for s in ("RS", "WS"))
    assert right == sorted(set(right))  # each turn further from the front than the last
    assert [0, *left[:-1]] == right  # and at both sides alike: the first row begins at the front
    assert 2 * front < yoke.rows[-1].before + 2 * max(right)


def test_short_rows_of_an_open_yoke_leave_both_fronts_as_long():
    """Right-side rows begin at the right front: what goes on over the left one after the turns must not go back twice."""
    yoke = piece_of(worn_by("babies", "12 months", construction="round-yoke", front="open").made, "yoke")
    turned = [
        (r.row, r.side, r.events[0].stitches) for r in yoke.rows if any(e.line == "raised back" for e in r.events)
    ]

    assert [side for _, side, _ in turned] == ["RS", "WS"] * (len(turned) // 2)
    assert all(a[2] == b[2] > 0 for a, b in zip(turned[::2], turned[1::2], strict=True))
    after = [r for r in yoke.rows if r.row > turned[-1][0]]
    assert [r.side for r in after[:2]] == ["RS", "WS"]  # worked over all stitches, from turn to edge and back
    assert not after[0].events
    assert not after[1].events


@pytest.mark.parametrize("worked", ["flat", "round"])
def test_the_length_of_a_set_in_sleeve_includes_its_cap(worked):
    data = summary_data(worn_by("women", "M", construction="set-in", worked=worked))
    sleeve = next(p for p in data["pieces"] if p["name"] == "left sleeve")
    done = data["finished_cm"]

    assert sleeve["length_cm"] == pytest.approx(done["sleeve"] + done["cap_height"], abs=0.01)


# ── proportions ──────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(("table", "size"), [s for s in SIZES if s[0] != "babies"])
@pytest.mark.parametrize("gauge", [(10.0, 14.0), (20.0, 28.0), (28.0, 40.0)])
def test_a_set_in_sleeve_reaches_the_wrist_of_every_published_size(table, size, gauge):
    now = worn_by(table, size, gauge=gauge, construction="set-in")

    assert list(proportion_faults(now, now.made)) == []
    assert "sleeve-reach" not in {c.code for c in now.checks}


def test_a_set_in_armhole_is_not_as_deep_as_a_dropped_one():
    """A man's M between 24 and 26 cm, where a dropped shoulder has 27."""
    set_in = worn_by("men", "M", construction="set-in").made.finished_cm
    dropped = worn_by("men", "M", construction="drop-shoulder").made.finished_cm

    assert 24.0 <= set_in["armhole_depth"] <= 26.0 < dropped["armhole_depth"]
    assert 0.60 <= set_in["cap_height"] / set_in["armhole_depth"] <= 0.70
    assert 36.0 <= set_in["upper_arm"] <= 43.0


def test_a_sleeve_is_a_little_wider_for_its_cap_unless_its_width_is_the_knitters_own():
    body = Body(source="table", table="men", size="2X")
    project = shaped(pullover(body=body), construction="set-in", length_cm=69.0)
    own = replace(project, fit=Fit("standard", upper_arm_ease_cm=5.0))
    arms = [plan(p).made.finished_cm["upper_arm"] for p in (project, own)]

    assert arms[0] > arms[1] == pytest.approx(48.0, abs=0.5)
    assert "sleeve-wider-for-cap" in {c.code for c in plan(project).checks}


@pytest.mark.parametrize(("size", "least"), [("2", 28.0), ("4", 28.0), ("6", 29.0)])
def test_the_neck_of_an_open_round_yoke_is_not_tighter_than_a_childs_neck(size, least):
    """A neck at four years is about 28 cm round (from memory)."""
    now = worn_by("children", size, construction="round-yoke", front="open", hem_cm=3.0, cuff_cm=3.0)

    assert now.made.finished_cm["neck"] >= least


def test_eight_ridges_of_garter_stitch_are_four_centimetres_and_that_is_said():
    """Garter stitch is near to square: a ridge is as tall as a stitch is wide (common practice, no source)."""
    now = worn_by("women", "M", hem="garter", hem_cm=4.0)
    back = piece_of(now.made, "back")

    assert sum(r.fabric == "garter" for r in back.rows) == 16
    assert "garter-rows-assumed" in {c.code for c in now.checks}
    assert "garter-rows-assumed" not in {c.code for c in worn_by("women", "M").checks}


def test_an_edge_of_garter_stitch_along_a_boat_neck_keeps_the_length():
    now = worn_by("women", "M", hem="garter", neckline="boat")

    assert now.made.finished_cm["length"] == pytest.approx(now.targets.finished["length"], abs=0.5)
    back = piece_of(now.made, "back")
    assert now.gauge.cloth.rows_cm(back.rows) == pytest.approx(now.made.finished_cm["length"])


@pytest.mark.parametrize("size", ["3X", "4X", "5X"])
def test_plus_sizes_are_shaped_down_to_the_cross_back(size):
    done = (now := worn_by("women", size, construction="set-in")).made.finished_cm

    assert done["cross_back"] == pytest.approx(now.targets.finished["cross_back"], abs=1.0)
    assert done["shoulder"] <= 15.0


def test_a_full_bust_is_all_in_the_front_and_the_back_follows_the_frame():
    """Method: the size by the high bust, the front wider, with darts."""
    body = Body(source="table", table="women", chest_cm=140.0, high_bust_cm=122.0)
    project = shaped(pullover(body=body), construction="set-in", bust_darts="yes", length_cm=64.0)
    now = plan(project)
    back, front = (piece_of(now.made, name).key_counts for name in ("back", "front"))
    wider = (front["chest"] - back["chest"]) / 2.0

    assert wider == pytest.approx(140 - 122 - 5, abs=1.0)
    assert front["shoulder"] == back["shoulder"]
    assert front["cross_back"] == back["cross_back"]
    assert now.made.finished_cm["chest"] == pytest.approx(148.0, abs=1.0)
    waisted = plan(shaped(replace(project, body=replace(body, chest_cm=108.0, high_bust_cm=95.0)), waist="shaped"))
    hems = [piece_of(waisted.made, name).cast_on for name in ("back", "front")]
    assert hems[0] == hems[1]  # shaped sides let the front out from the waist, where the bust is
    darted = replace(project, garment=replace(project.garment, bust_darts="no"))
    alike = [piece_of(plan(darted).made, name).key_counts["chest"] for name in ("back", "front")]
    assert alike[0] == alike[1]


@pytest.mark.parametrize("construction", ["set-in", "square-armhole"])
def test_bands_of_sleeveless_armholes_lie_inside_the_cross_back(construction):
    now = worn_by("men", "L", construction=construction, sleeve="none")
    band = piece_of(now.made, "left armhole band")
    worn = now.made.finished_cm["cross_back"] + 2 * now.gauge.cloth.rows_cm(band.rows)

    assert worn == pytest.approx(now.targets.finished["cross_back"], abs=1.5)


def test_an_armhole_band_has_one_stitch_for_each_bound_off_stitch_and_follows_the_rest_of_the_edge():
    now = worn_by("men", "L", construction="set-in", sleeve="none", worked="flat")
    band = piece_of(now.made, "left armhole band").key_counts["armhole"]
    wanted, at = 0.0, 0
    back = piece_of(now.made, "back")
    underarm = next(m.after_row for m in back.marks if m.what == "underarm")
    rows = round(now.made.finished_cm["armhole_depth"] * 2.8)
    for row in back.rows[underarm : underarm + rows]:
        for event in row.events:
            if event.do == "bind-off":
                wanted += event.stitches * (event.where == "right")
            elif event.where == "both":
                wanted, at = wanted + hypot(event.stitches, (row.row - underarm - at) / 1.4), row.row - underarm

    assert band == pytest.approx(2 * (wanted + (rows - at) / 1.4), rel=0.04)


@pytest.mark.parametrize("worked", ["flat", "round"])
@pytest.mark.parametrize("construction", ["set-in", "drop-shoulder", "raglan-from-hem"])
@pytest.mark.parametrize("gauge", [(14.0, 20.0), (20.0, 28.0), (26.0, 36.0)])
def test_sleeves_widen_quickly_first_and_do_not_flare_at_the_top(worked, construction, gauge):
    sleeve = piece_of(worn_by("women", "L", gauge=gauge, construction=construction, worked=worked).made, "left sleeve")
    rows = [r.row for r in sleeve.rows if any(e.do == "increase" and e.where == "both" for e in r.events)]
    gaps = [b - a for a, b in pairwise(rows)]

    assert gaps == sorted(gaps)


@pytest.mark.parametrize(("construction", "shoulder"), [("set-in", None), ("drop-shoulder", "straight")])
def test_a_v_begins_two_centimetres_above_the_underarm_on_sloped_shoulders_too(construction, shoulder):
    now = worn_by("women", "M", construction=construction, neckline="v", shoulder=shoulder)
    front = piece_of(now.made, "front")
    underarm = next(m.after_row for m in front.marks if m.what == "underarm")

    assert (front.last_row - 1 - underarm) / 2.8 == pytest.approx(2.0, abs=0.8)
