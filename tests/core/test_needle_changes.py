"""Another needle from a row on: what the one before has knitted keeps its own gauge, and every piece names its needle."""

import re
from dataclasses import replace
from datetime import date

import pytest

from tests.factory import pullover, shaped
from tests.reader import read
from tests.test_reader import differences
from workshop import saves
from workshop.core.constructions import CONSTRUCTIONS
from workshop.core.knitting.needles import at_the_needles
from workshop.planned import plan as planned
from workshop.prints.paper import markdown
from workshop.prints.plan_sheet import plan_sheet
from workshop.telling import heard
from workshop.words.at_needles import told
from workshop.words.before import before_knitting
from workshop.words.instructions import instructions

DAY = date(2026, 3, 1)
SWATCH_ST, SWATCH_ROWS = 20.0, 28.0
CLOSER, LOOSER = 1.06, 0.96
"""Rows of the piece against those of the swatch: with its needle, and with a larger one (invented)."""


def after(project, *sentences):
    for text in sentences:
        project = heard(planned(project), text, DAY).project
    return project


def counts(what, per_10cm):
    return f"{what} " + ", ".join(f"{1.2 * per_10cm + d:.2f} over 12" for d in (0, 0.1, 0.05))


def changed(base=None, at="60", then="100", *, take=("rows-anew",)):
    """A back 4 % closer than its swatch: a larger needle from row 60, counted again at row 100, the rest planned."""
    with_old = (counts("count", 1.04 * SWATCH_ST), counts("rows", CLOSER * SWATCH_ROWS))
    with_new = (counts("count", SWATCH_ST), counts("rows", LOOSER * SWATCH_ROWS))
    taken = [f"take {way}" for way in take]
    return after(base or pullover(), at, *with_old, "take other-needle", then, *with_new, *taken)


def height_cm(pieces, edging=16, change=60):
    """A column of rows, each at the gauge that was counted where it was knitted; a rib as the swatch (by hand)."""
    rows = sum(len(p.rows) for p in pieces)
    return 10 * (
        edging / SWATCH_ROWS + (change - edging) / (CLOSER * SWATCH_ROWS) + (rows - change) / (LOOSER * SWATCH_ROWS)
    )


def test_the_rest_makes_the_length_with_the_rows_of_the_first_needle_as_they_are():
    """Half a row at the new gauge is 1.9 mm; rows go in by pairs. The counts of three places are off by 3 in 1,000."""
    now = planned(changed())
    back, shoulder, *_ = now.made.pieces
    assert height_cm([back, shoulder]) == pytest.approx(60.0, abs=0.4)
    assert now.finished_cm["length"] == pytest.approx(height_cm([back, shoulder]), abs=0.15)


def test_before_anything_is_planned_anew_the_measurements_know_which_needle_knitted_what():
    now = planned(changed(take=()))
    back, shoulder, *_ = now.made.pieces
    assert [len(p.rows) for p in (back, shoulder)] == [len(p.rows) for p in planned(pullover()).made.pieces[:2]]
    assert now.finished_cm["length"] == pytest.approx(height_cm([back, shoulder]), abs=0.4)  # the rib is as the fabric
    assert at_the_needles(now, DAY).length_cm[1] == pytest.approx(now.finished_cm["length"])
    assert now.finished_cm["hip"] == pytest.approx(now.finished_cm["chest"] / 1.04, rel=0.003)


def test_the_front_is_as_long_as_the_back_though_it_has_fewer_rows():
    now = planned(changed())
    back, front = (next(p for p in now.made.pieces if p.name == name) for name in ("back", "front"))
    at = [next(m.after_row for m in p.marks if m.what == "underarm") for p in (back, front)]
    edge_cm = [now.gauge.cloth.rows_cm(p.rows[:n]) for p, n in zip((back, front), at, strict=True)]
    assert at[1] < at[0]
    assert edge_cm[1] == pytest.approx(edge_cm[0], abs=0.4)  # a pair of rows is 7.4 mm


def test_each_piece_names_the_needle_that_knits_it():
    project = changed()
    now = planned(project)
    words = {w.piece.name: w.lines for w in instructions(now)}
    assert "From row 61 on, use 4.5 mm needles." in words["back"]
    assert "Cast on 102 stitches with 3.5 mm needles." in words["back"]
    assert not any(" 4 mm" in line or "3.5 mm" in line for name in ("front", "left sleeve") for line in words[name])
    assert "Change to 4.5 mm needles." in words["front"]
    assert "From row 61 of the back on, use 4.5 mm needles." in before_knitting(now)[0]
    assert any("on, use 4.5 mm" in line and "~~" in line for line in markdown(plan_sheet(now), now).splitlines())

    at_60 = after(project, "60")
    assert not any("use 4.5" in ln and "~~" in ln for ln in markdown(plan_sheet(planned(at_60)), now).splitlines())


def test_the_row_that_begins_with_another_needle_says_so():
    closer = (counts("count", 1.04 * SWATCH_ST), counts("rows", CLOSER * SWATCH_ROWS))
    before = after(pullover(), "60", *closer)
    taken = heard(planned(before), "take other-needle", DAY).project
    assert "Change to 4.5 mm needles." in told(at_the_needles(planned(taken), DAY), planned(taken)).before
    assert planned(after(taken, "undo")).made == planned(before).made


def test_a_count_too_near_to_the_change_is_none_of_the_new_needle():
    """10 cm of the new fabric are wanted (common practice, no source): at row 70 there are 10 rows."""
    early = changed(then="70", take=())
    now = planned(early)
    needles = at_the_needles(now, DAY)
    assert needles.is_early
    assert needles.stitches is None
    assert needles.count_from == 60 + 28
    assert "It's too early to count." in told(needles, now).checked[0]
    before = planned(replace(early, knitting=tuple(replace(k, count=k.count[:6]) for k in early.knitting)))
    assert now.finished_cm == before.finished_cm


def test_what_the_first_needle_has_knitted_is_kept_in_the_save(tmp_path):
    """Also of the pieces beside the one that was counted: a sleeve of 70 rows."""
    closer = (counts("count", 1.04 * SWATCH_ST), counts("rows", CLOSER * SWATCH_ROWS))
    project = after(pullover(), "piece left sleeve", "70", "piece back", "60", *closer, "take other-needle")
    saves.save(project, tmp_path / "a.toml")
    again = saves.load(tmp_path / "a.toml")
    assert again == project
    left, right = (
        next(w for w in instructions(planned(again)) if w.piece.name == f"{s} sleeve") for s in ("left", "right")
    )
    assert "From row 71 on, use 4.5 mm needles." in left.lines
    assert "Change to 4.5 mm needles." in right.lines


def test_what_is_ripped_back_below_the_change_is_knitted_again_with_the_new_needle():
    """Ripped back to the edging at row 100, for stitches that were still too many (invented)."""
    base = pullover()
    project = after(changed(base, take=()), counts("count", 1.05 * SWATCH_ST), "take above-edging")
    back = next(w for w in instructions(planned(project)) if w.piece.name == "back")
    assert project.knitted("back").rows == 16
    assert "Change to 4.5 mm needles." in back.lines
    assert not any("on, use" in line for line in back.lines)
    assert not any(row.own_gauge for row in planned(project).made.pieces[0].rows)


@pytest.mark.parametrize("worked", ["flat", "round"])
@pytest.mark.parametrize("construction", sorted(CONSTRUCTIONS))
def test_in_every_construction_the_rest_reads_as_its_rows_and_comes_out_as_long(construction, worked):
    base = shaped(pullover(), construction=construction, worked=worked)
    first = next(p for p in planned(base).made.pieces if p.last_row > 100)
    start = [str(p.last_row) for p in planned(base).made.pieces[: planned(base).made.pieces.index(first)]]
    at = first.rows[0].row + (49 if first.edging_rows else 20)  # far enough above an edging, and below an end
    now = planned(changed(after(base, *start), str(at), str(at + 30)))
    plain = replace(now.project, knitting=(), taken=tuple(t for t in now.project.taken if t.way != "other-needle"))
    assert differences(read(instructions(now)), now.made.pieces) == []
    wanted = planned(plain)
    cm = {}
    for one in (now, wanted):
        piece = next(p for p in one.made.pieces if p.name == first.name)
        cm[one is now] = one.gauge.cloth.rows_cm(piece.rows)
    assert cm[True] == pytest.approx(cm[False], abs=0.8)


def test_the_tape_and_a_lost_row_go_by_what_was_counted_with_each_needle():
    """What is shown of row 90 is found again as row 90, and is the column of rows by hand; a rib is as the swatch's."""
    project = after(changed(take=("go-on",)), "90")
    lines = told(at_the_needles(planned(project), DAY), planned(project)).then
    shown = next(line for line in lines if line.startswith("On the tape"))
    fresh = float(re.search(r"now: ([\d.]+) cm", shown)[1])
    by_hand = 16 / SWATCH_ROWS + 44 / (CLOSER * SWATCH_ROWS) + 30 / (LOOSER * SWATCH_ROWS)
    assert fresh == pytest.approx(10 * by_hand, abs=0.3)
    lost = heard(planned(project), f"lost {fresh} cm", DAY).answer[0]
    assert lost.startswith("By the tape, from the cast-on, you're at about row 90,")
