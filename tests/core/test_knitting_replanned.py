"""Garments that were planned anew on the needle, as they are printed: words, rows, seams and paper agree."""

import random
from collections import Counter
from dataclasses import replace
from datetime import date

import pytest

from tests.core.test_centre_panels import with_cable
from tests.core.test_knitting_rest import with_rows
from tests.factory import pullover, readings, shaped, swatch
from tests.reader import read
from tests.test_reader import differences
from workshop.core.constructions import CONSTRUCTIONS
from workshop.core.knitting.facts import noted
from workshop.core.knitting.needles import at_the_needles
from workshop.core.knitting.rest import MOST_ROWS_MORE
from workshop.core.making.between_markers import parts_before
from workshop.core.making.buttonholes import BUTTONHOLE_STITCHES
from workshop.core.making.centre_panels import is_of_panel
from workshop.core.making.roles import SLEEVE, YOKE, YOKE_TOP
from workshop.core.plan import plan
from workshop.planned import plan as planned
from workshop.prints.paper import html, markdown
from workshop.prints.plan_sheet import plan_sheet
from workshop.project import Body, LogEntry, TakenWay
from workshop.telling import heard
from workshop.words.instructions import instructions


def replanned(construction, worked, front, seed):
    """A garment in the middle of its first piece, when its rows turned out otherwise; None where it has no plan."""
    chance = random.Random(seed)
    base = pullover(swatch=(swatch(chance.choice([16.0, 20.0, 24.0]), 28.0),))
    base = replace(base, garment=replace(base.garment, construction=construction, worked=worked, front=front))
    now = plan(base)
    if not now.made.pieces:
        return None
    piece = next(p for p in now.made.pieces if p.parent is None and not p.role.band)
    rows = chance.randint(2, len(piece.rows) - 1)
    per_10cm = now.gauge.rows.per_10cm * chance.choice([0.95, 1.04])
    way = TakenWay("rows-anew", piece.name, rows, rows_per_10cm=per_10cm)
    return plan(replace(base, knitting=(noted(piece, rows),), taken=(way,)))


@pytest.mark.parametrize("front", ["closed", "open"])
@pytest.mark.parametrize("worked", ["flat", "round"])
@pytest.mark.parametrize("construction", sorted(CONSTRUCTIONS))
def test_the_words_of_a_garment_planned_anew_are_its_ledger(construction, worked, front):
    for seed in range(4):
        now = replanned(construction, worked, front, seed)
        if now is None or "knitting-has-no-room" in {c.code for c in now.checks}:
            continue
        assert differences(read(instructions(now)), now.made.pieces) == [], (construction, worked, front, seed)


@pytest.mark.parametrize(
    ("construction", "worked", "front"),
    [("round-yoke", "flat", "open"), ("raglan-from-hem", "round", "closed"), ("drop-shoulder", "round", "open")],
)
def test_what_goes_on_from_a_knitted_body_takes_the_stitches_that_it_left(construction, worked, front):
    """The sleeves turn out otherwise; the body is knitted, and the yoke or the fronts begin with what it has."""
    base = pullover()
    base = replace(base, garment=replace(base.garment, construction=construction, worked=worked, front=front))
    now = plan(base)
    knitted = [noted(p, len(p.rows)) for p in now.made.pieces if p.name == "body"]
    per_10cm = (now.gauge.stitches.per_10cm * 1.045, now.gauge.rows.per_10cm * 1.02)
    way = TakenWay("other-pieces", "left sleeve", 16, *per_10cm)

    anew = plan(replace(base, knitting=tuple(knitted), taken=(way,)))
    body = next(p for p in anew.made.pieces if p.name == "body")
    assert body.rows == next(p for p in now.made.pieces if p.name == "body").rows
    assert differences(read(instructions(anew)), anew.made.pieces) == []
    assert sum(p.cast_on for p in anew.made.growing_from(body)) == body.bound_off


def test_a_sleeve_that_was_knitted_before_the_plan_changed_is_written_apart():
    base = pullover()
    left = next(p for p in plan(base).made.pieces if p.name == "left sleeve")
    assert any("two alike" in w.title for w in instructions(plan(base)))

    knitted = replace(base, knitting=(noted(left, len(left.rows)),), garment=replace(base.garment, sleeve_cm=40.0))
    titles = [w.title for w in instructions(plan(knitted))]
    assert titles.count("Left sleeve") == titles.count("Right sleeve") == 1
    assert not any("two alike" in title for title in titles)


def test_paper_strikes_out_what_is_knitted_and_prints_the_log():
    base = pullover()
    back, left = (next(p for p in plan(base).made.pieces if p.name == n) for n in ("back", "left sleeve"))
    log = (LogEntry("2026-03-14", "back", 20), LogEntry("2026-03-15", "back", None, "row 20: new ball, lot 4711"))
    now = plan(replace(base, knitting=(noted(back, 20), noted(left, 4)), log=log))

    text = markdown(plan_sheet(now), now)
    piece = text.partition("\n## Back\n")[2].partition("\n## ")[0]
    assert piece.count("☒") == 20
    assert "☒ 20 ☐ 21" in piece.replace("**", "")
    assert "- [x] ~~Cast on" in piece
    assert "## Where you are" in text
    assert "new ball, lot 4711" in text.partition("## The log")[2]
    sleeves = text.partition("## Sleeves")[2].partition("\n## ")[0]
    assert sleeves.count("☒") == 4
    assert sleeves.index("☒") < sleeves.index("2nd:")

    page = html(plan_sheet(now), now)
    assert page.count("<s>") == page.count("</s>") == 24 + piece.count("~~") // 2
    assert "☒" not in markdown(plan_sheet(plan(base)), plan(base))


def assert_parts_add_up(now):
    """Fronts, back and sleeves between the markers are all the stitches of each row of a yoke: who divides counts so."""
    for piece in now.made.pieces:
        for row in piece.rows if piece.role in (YOKE, YOKE_TOP) else ():
            parts = parts_before(row.row, piece)
            assert not parts or sum(parts.values()) == row.before, (piece.name, row.row, parts)


def test_a_yoke_from_the_neck_takes_what_is_missing_along_its_lines():
    """4 % closer than the swatch, 36 rows from the neck: nothing is ripped, and the body has its width at the underarm."""
    base = pullover(garment=replace(pullover().garment, construction="raglan-from-neck", worked="round"))
    now = planned(base)
    first, yoke = now.made.pieces[:2]
    knitted = replace(base, knitting=(noted(first, len(first.rows)), noted(yoke, 22)), log=(LogEntry("", "yoke", 36),))
    stitches = now.gauge.stitches.per_10cm * 1.2 * 1.04
    counts = "count " + ", ".join(f"{stitches + d:.2f} over 12" for d in (0, 0.1, 0.05))
    counted = heard(planned(knitted), counts, date(2026, 3, 1)).project

    ways = at_the_needles(planned(counted), date(2026, 3, 1)).ways
    best = next(way for way in ways if way.recommended)
    assert (best.code, best.rows_ripped) == ("sides", 0)
    anew = planned(heard(planned(counted), "take sides", date(2026, 3, 1)).project)
    assert anew.finished_cm["chest"] == pytest.approx(best.chest_cm[1], abs=0.6)
    assert anew.made.pieces[1].rows[:22] == yoke.rows[:22]
    assert not any(e.where == "across" and not e.line for r in anew.made.pieces[1].rows for e in r.events)
    assert differences(read(instructions(anew)), anew.made.pieces) == []
    assert_parts_add_up(anew)


@pytest.mark.parametrize("factor", [0.96, 1.04])
def test_a_hem_that_is_knitted_keeps_its_stitches_in_the_measurements_too(factor):
    """Planned anew from a third of the way up: the chest gets other stitches there, the hem has those that it has."""
    base = pullover(garment=replace(pullover().garment, construction="round-yoke", worked="round"))
    now = planned(base)
    body = now.made.pieces[0]
    way = TakenWay("sides", body.name, 48, now.gauge.stitches.per_10cm * factor, now.gauge.rows.per_10cm)
    anew = planned(replace(base, knitting=(noted(body, 48),), taken=(way,)))

    hem, chest = body.rows[body.edging_rows].after, anew.made.pieces[0].rows[-1].before
    assert (hem > chest) == (factor < 1)
    assert anew.counts["hip"] / anew.counts["chest"] == pytest.approx(hem / chest)
    assert anew.finished_cm["hip"] / anew.finished_cm["chest"] == pytest.approx(hem / chest)


@pytest.mark.parametrize("factor", [0.95, 1.05])
def test_a_cap_and_the_reach_to_the_cuff_follow_the_rows_that_are_planned_anew(factor):
    """The cap is as high as its rows; half the back, cap and sleeve make the reach (common practice, no source)."""
    base = shaped(pullover(), construction="set-in")
    now = planned(base)
    back = now.made.pieces[0]
    worked = len(back.rows)  # its armhole has its rows: the cap is made for those
    way = TakenWay("rows-anew", back.name, worked, None, now.gauge.rows.per_10cm * factor)
    anew = planned(replace(base, knitting=(noted(back, worked),), taken=(way,)))

    sleeve = anew.made.first(SLEEVE)
    cap = sleeve.last_row - next(m.after_row for m in sleeve.marks if m.what == "cap")
    per_cm = anew.gauge.rows.per_10cm / 10
    assert anew.finished_cm["cap_height"] == pytest.approx(cap / per_cm, abs=1.01 / per_cm)
    parts = anew.finished_cm["cross_back"] / 2 + anew.finished_cm["sleeve"] + anew.finished_cm["cap_height"]
    assert anew.finished_cm["neck_to_cuff"] == pytest.approx(parts)


def test_what_lies_flat_and_what_hangs_keep_their_ratio_when_rows_are_planned_anew():
    """One swatch has one: 30 rows lying flat hang as 29 (invented)."""
    counts = (
        reading
        for state, rows in (("off needles", 30), ("washed", 30), ("hung", 29))
        for along, n in (("stitches", 22), ("rows", rows))
        for reading in readings(state, along, n, n, n)
    )
    base = pullover(swatch=(replace(swatch(), reading=tuple(counts)),))
    base = replace(base, design=replace(base.design, state="hung"))
    now = planned(base)
    back = now.made.pieces[0]
    way = TakenWay("rows-anew", back.name, 60, None, now.gauge.rows.per_10cm * 1.05)
    anew = planned(replace(base, knitting=(noted(back, 60),), taken=(way,)))

    assert now.gauge.flat_cm(60.0) == pytest.approx(58.0)
    assert anew.gauge.flat_cm(60.0) == pytest.approx(58.0)


def from_the_neck(worked, front, neckline, chance):
    """A raglan that is knitted to any row of its yoke, counted up to 8 % off, and planned by that from there on."""
    base = pullover(swatch=(swatch(chance.choice([14.0, 20.0, 26.0]), 32.0),))
    choices = {"construction": "raglan-from-neck", "worked": worked, "front": front, "neckline": neckline}
    base = replace(base, garment=replace(base.garment, **choices))
    now = plan(base)
    first, yoke = (now.made.pieces[0], next(p for p in now.made.pieces if p.role is YOKE))
    above = () if first is yoke else (noted(first, len(first.rows)),)
    rows = chance.choice([1, 2, len(yoke.rows) // 3, chance.randrange(1, len(yoke.rows)), len(yoke.rows) - 2])
    gauge = now.gauge
    per_10cm = (g.per_10cm * chance.uniform(0.92, 1.08) for g in (gauge.stitches, gauge.rows))
    way = TakenWay("sides", yoke.name, yoke.rows[rows - 1].row, *per_10cm)
    return plan(replace(base, knitting=(*above, noted(yoke, rows)), taken=(way,)))


@pytest.mark.parametrize("neckline", ["crew", "v", "scoop"])
@pytest.mark.parametrize(("worked", "front"), [("flat", "closed"), ("round", "open")])
def test_who_divides_body_and_sleeves_finds_in_each_part_what_she_is_told(worked, front, neckline):
    """What goes on holders, what is worked and what is cast on are the stitches that there are between the markers."""
    chance = random.Random(f"{worked} {neckline}")
    for now in (from_the_neck(worked, front, neckline, chance) for _ in range(5)):
        yoke = next(p for p in now.made.pieces if p.role is YOKE)
        parts, last = parts_before(yoke.last_row, yoke), yoke.rows[-1]
        held = {e.where: e.stitches for e in last.events if e.do == "hold"}
        assert held == {part.side: n for part, n in parts.items() if part.role is SLEEVE}
        under = next(e.stitches for e in last.events if e.do == "cast-on")
        sleeves = [p for p in now.made.pieces if p.role is SLEEVE]
        assert [(p.cast_on, 2 * p.rows[0].events[0].stitches) for p in sleeves] == [
            (held[p.side], under) for p in sleeves
        ]
        assert_parts_add_up(now)
        assert differences(read(instructions(now)), now.made.pieces) == []


def test_a_flat_raglan_from_the_neck_goes_on_as_raglans_do():
    """A neck that is finished stays so, and lines go on being shaped from the right side (common practice, no source)."""
    chance = random.Random("goes on as raglans do")
    for now in (from_the_neck("flat", front, "crew", chance) for front in ("open", "closed") for _ in range(12)):
        from_the_start = plan(replace(now.project, knitting=()))  # a steep line has shaping on wrong-side rows too
        yoke, wanted = (next(p for p in p.made.pieces if p.role is YOKE) for p in (now, from_the_start))
        knitted = now.project.knitting[-1].rows
        rest = yoke.rows[knitted:]
        sides, planned = ({r.side for r in rows if any(e.line for e in r.events)} for rows in (rest, wanted.rows))
        assert sides <= planned
        neck = [r.row for r in yoke.rows[:knitted] if any(e.where.startswith("neck") for e in r.events)]
        shaped_on = [r.row for r in rest if any(e.where.startswith("neck") for e in r.events)]
        assert not shaped_on or not neck or shaped_on[0] <= neck[-1] + 2


@pytest.mark.parametrize("rows", range(4, 13))
def test_a_neck_that_is_shaped_downwards_stays_alike_at_both_edges_whenever_it_is_planned_anew(rows):
    """What a right-side row casts on at one edge is cast on at the other in the row after (common practice, no source)."""
    base = shaped(pullover(swatch=(swatch(18.0, 26.4),)), construction="raglan-from-neck", front="open", hem="garter")
    yoke = plan(base).made.first(YOKE)
    way = TakenWay("other-pieces", "yoke", rows, 17.39, 27.93)
    now = plan(replace(base, knitting=(noted(yoke, rows),), taken=(way,))).made.first(YOKE)
    edges = [
        [(r.row, e.do, e.stitches) for r in now.rows for e in r.events if e.where == f"neck-{edge}"]
        for edge in ("right", "left")
    ]
    assert [(row + (do == "cast-on"), do, n) for row, do, n in edges[0]] == edges[1]


@pytest.mark.parametrize("rows", [20, 30, 39, 46])
def test_a_steep_yoke_is_not_knitted_much_longer_for_its_lines(rows):
    """Where a yoke has fewer right-side rows than shapings, some stay on the wrong side, as they were planned."""
    body = Body(source="table", table="women", size="3X")
    base = shaped(pullover(swatch=(swatch(20.0, 24.0),), body=body), construction="raglan-from-neck", front="open")
    yoke = next(p for p in plan(base).made.pieces if p.role is YOKE)
    way = TakenWay("rows-anew", yoke.name, rows, rows_per_10cm=22.3)
    fresh = next(p for p in plan(replace(base, taken=(way,))).made.pieces if p.role is YOKE)
    now = plan(replace(base, knitting=(noted(yoke, rows),), taken=(way,)))
    assert len(next(p for p in now.made.pieces if p.role is YOKE).rows) <= len(fresh.rows) + MOST_ROWS_MORE


@pytest.mark.parametrize("on", ["back", "sleeves"])
@pytest.mark.parametrize(("construction", "front"), [("raglan-from-neck", "open"), ("set-in", "closed")])
def test_a_panel_that_is_set_up_keeps_its_stitches_and_goes_out_with_all_of_them(construction, front, on):
    """What it stands on is another count now: the stitches beside it make up for that, never the panel."""
    base = with_cable(on=on, wider=1.37, construction=construction, worked="round", front=front)
    now = plan(base)
    piece = next(p for p in now.made.pieces if any(is_of_panel(e) for r in p.rows for e in r.events))
    first = next(n for n, r in enumerate(piece.rows, 1) if any(is_of_panel(e) for e in r.events))
    knitted = tuple(noted(p, len(p.rows) if p is not piece else first + 2) for p in piece.lineage())
    for factor in (0.93, 1.07):
        per_10cm = now.gauge.stitches.per_10cm * factor
        way = TakenWay("sides", piece.name, first + 2, per_10cm, now.gauge.rows.per_10cm)
        anew = plan(replace(base, knitting=knitted, taken=(way,)))
        told = Counter()
        for row in (r for p in anew.made.pieces for r in p.rows):
            told.update({(e.line, e.do): e.stitches for e in row.events if is_of_panel(e)})
        assert told
        lines = {line for line, _ in told}
        assert all(told[line, "increase"] == told[line, "decrease"] > 0 for line in lines)
        assert differences(read(instructions(anew)), anew.made.pieces) == []


@pytest.mark.parametrize("construction", ["set-in", "raglan-from-hem"])
@pytest.mark.parametrize("wider", [1.0, 1.04])
def test_a_panel_on_the_body_goes_out_above_with_what_it_came_in_with_though_it_would_stand_on_more_now(
    construction, wider
):
    """It came in with none or one, and at the other gauge the plan has one more or one fewer than the ground."""
    base = with_cable(on="front", wider=wider, construction=construction, worked="round")
    now = plan(base)
    body = next(p for p in now.made.pieces if p.name == "body")
    first = next(r.row for r in body.rows if any(is_of_panel(e) for e in r.events))
    for factor in (0.93, 1.07):
        way = TakenWay("sides", "body", first + 2, now.gauge.stitches.per_10cm * factor, now.gauge.rows.per_10cm)
        anew = plan(replace(base, knitting=(noted(body, first + 2),), taken=(way,)))
        assert anew.made.panels[0].extra != now.made.panels[0].extra
        told = [e for p in anew.made.pieces for r in p.rows for e in r.events if is_of_panel(e)]
        assert [(e.do, e.stitches) for e in told] == [(do, now.made.panels[0].extra) for do in ("increase", "decrease")]
        assert differences(read(instructions(anew)), anew.made.pieces) == []


@pytest.mark.parametrize("construction", sorted(CONSTRUCTIONS))
def test_every_way_on_keeps_its_rows_reads_as_its_ledger_and_is_undone_by_one_word(construction):
    """A piece 4 % closer than its swatch, 44 rows up: far enough above the edging, or from the neck, to be counted."""

    def after(project, *sentences):
        for text in sentences:
            project = heard(planned(project), text, date(2026, 3, 1)).project
        return project

    base = pullover()
    base = replace(base, garment=replace(base.garment, construction=construction, worked="round"))
    now = planned(base)
    at, row = next((i, 44) for i, p in enumerate(now.made.pieces) if p.last_row > 44)
    piece = now.made.pieces[at]
    stitches, rows = ((g.per_10cm * 1.2 * 1.04) for g in (now.gauge.stitches, now.gauge.rows))
    counts = (
        f"{what} " + ", ".join(f"{n + d:.2f} over 12" for d in (0, 0.1, 0.05))
        for what, n in (("count", stitches), ("rows", rows))
    )
    counted = after(base, *(str(p.last_row) for p in now.made.pieces[:at]), str(row), *counts)

    ways = at_the_needles(planned(counted), date(2026, 3, 1)).ways
    assert {"go-on", "rows-anew", "begin-again", "other-needle"} <= {way.code for way in ways}
    assert sum(way.recommended for way in ways) == 1
    for way in ways:
        taken = after(counted, f"take {way.code}")
        anew = planned(taken)
        kept = [r for r in piece.rows if r.row <= row - way.rows_ripped]
        assert taken.knitted(piece.name).rows == len(kept)
        assert [*anew.made.pieces[at].rows[: len(kept)]] == kept
        assert differences(read(instructions(anew)), anew.made.pieces) == []
        if "raglan" in construction:
            assert_parts_add_up(anew)
        if way.stitches:
            assert anew.made.finished_cm["chest"] == pytest.approx(way.chest_cm[1], abs=0.6)
        assert planned(after(taken, "undo")).made == planned(counted).made


@pytest.mark.parametrize("neckline", ["crew", "v"])
@pytest.mark.parametrize("hem", ["rib-2x2", "rib-1x1", "garter"])
def test_buttonholes_of_a_band_that_was_begun_are_opened_and_closed_whole(hem, neckline):
    """Whatever the fronts are planned as since: as many stitches are cast on as were bound off, each hole of two."""
    cardigan = shaped(pullover(), front="open", neckline=neckline, hem=hem)
    made = plan(cardigan).made
    band = next(p for p in made.pieces if "buttonholes" in p.key_counts)
    for rows in range(1, len(band.rows)):
        for factor in (0.94, 1.06):
            found = plan(with_rows(cardigan, band, rows, factor))
            piece = next(p for p in found.made.pieces if p.name == band.name)
            opened = [(r, e) for r in piece.rows for e in r.events if e.gaps]
            assert len(opened) == 1
            row, holes = opened[0]
            closed = sum(e.stitches for r in piece.rows for e in r.events if e.across and e.do == "cast-on")
            assert row.events == (holes,)
            assert holes.stitches == closed == BUTTONHOLE_STITCHES * (len(holes.gaps) - 1)
            assert sum(holes.gaps) + holes.stitches == row.before
            assert min(holes.gaps[0], holes.gaps[-1]) >= 1
            assert differences(read(instructions(found)), found.made.pieces) == []


def test_a_slip_in_picking_up_a_neckband_is_made_up_for_in_words():
    """Two stitches too few on the needle after round 1: the round that sets the rib says that two are made."""
    project = pullover()
    band = next(p for p in plan(project).made.pieces if p.role.band)
    found = plan(replace(project, knitting=(replace(noted(band, 1), stitches=band.rows[0].after - 2),)))
    words = next(w for w in instructions(found) if w.piece.name == band.name)
    assert any("increase 2 stitches evenly across" in line for line in words.lines), words.lines
