"""A stitch pattern kept through every piece: rows that go on, columns that stay, the same row where sleeve and body meet."""

import itertools
import re
from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.core.test_garments import CONSTRUCTIONS, projects
from tests.factory import pullover, shaped, swatch, worked_in
from tests.reader import read
from tests.test_reader import changed_numbers, check, differences
from workshop.core.edgings import STOCKINETTE
from workshop.core.fabric.at_edges import whole_repeats
from workshop.core.fabric.charting import BadChart, read_chart, show_chart
from workshop.core.fabric.keeping import first_stitch, landmark, meeting_row, runs_on
from workshop.core.fabric.patterns import BUILT_IN, Pattern
from workshop.core.making import roles
from workshop.core.plan import plan
from workshop.prints.machine import summary_data
from workshop.project import Band, Body, Panel, StitchPattern, Stripe
from workshop.words.before import before_knitting
from workshop.words.charts import chart_key, charts, colour_charts
from workshop.words.fabric import row_at_hand, turned_rows, written_rows
from workshop.words.instructions import instructions

patterns = st.one_of(
    st.sampled_from(sorted(BUILT_IN)),
    st.builds(
        lambda m, p, q: StitchPattern("own", "own motif", m, p, q),
        st.integers(1, 24),
        st.integers(0, 12),
        st.integers(1, 30),
    ),
)


@st.composite
def patterned(draw):
    """A garment in a pattern all over."""
    project, pattern = draw(projects()), draw(patterns)
    own = (pattern,) if isinstance(pattern, StitchPattern) else ()
    name = pattern.id if isinstance(pattern, StitchPattern) else pattern
    centre = draw(st.sampled_from([None, "motif", "between"]))
    garment = replace(project.garment, fabric=name, fabric_centre=centre)
    return replace(project, stitch_pattern=own, garment=garment)


def set_pieces(project):
    found = plan(project)
    assume(found.made.pieces)
    return [p for p in found.made.pieces if p.pattern is not None]


@given(patterned())
def test_paper_and_needles_name_the_stitch_that_is_worked_first(project):
    """On the wrong side that is the last of the row as the right side shows it, and where sleeves join it is held over."""
    now = plan(project)
    assume(now.made.pieces)
    text = {w.piece.name: "\n".join(w.lines) for w in instructions(now)}
    for piece in (p for p in now.made.pieces if p.pattern and p.name in text):
        found, m = piece.pattern, piece.pattern.pattern.multiple
        number = found.rows[0][0]
        row, parts = next(r for r in piece.rows if r.row == number), found.parts.get(number)
        stitches = [c % m + 1 for p in parts or () for c in range(p.column, p.column + p.stitches)]
        if not parts:
            inside = row.before - (0 if found.pattern.edge_in_pattern else piece.edge_stitches * len(piece.outer))
            stitches = [(found.first_stitch - 1 + n) % m + 1 for n in range(inside)]
        shown = re.search(r" and stitch (\d+) of \d+(?P<beside> after the plain stitches)?", text[piece.name])
        if not found.plain_sides:
            assert int(shown[1]) == stitches[-1 if row.side == "WS" else 0]
        hand = re.search(r"begins .*with stitch (\d+) of the repeat", row_at_hand(piece, row))
        assert hand is None or hand[1] == shown[1]
        told = next(
            r for p in summary_data(now)["pieces"] if p["name"] == piece.name for r in p["rows"] if r["row"] == number
        )
        assert told["first_stitch"] == stitches[0]


@pytest.mark.parametrize("centre", ["motif", "between"])
@pytest.mark.parametrize(("multiple", "plus"), [(3, 1), (5, 0), (6, 1), (8, 3), (10, 1), (12, 5), (20, 0)])
def test_whole_repeats_go_on_around_a_body_from_the_neck_and_both_middles_stay(multiple, plus, centre):
    """What they cost buys something: below the underarms the pattern runs on over both sides."""
    own = StitchPattern("own", "own motif", multiple, plus, 4)
    wishes = {"construction": "raglan-from-neck", "fabric": "own", "fabric_centre": centre}
    for size in ("S", "L", "2X"):
        body = Body(source="table", table="women", size=size)
        whole, cut = (
            plan(shaped(pullover(stitch_pattern=(own,), body=body), fabric_fit=fit, **wishes))
            for fit in ("whole-repeats", "centred")
        )
        around = whole.made.first(roles.BODY)
        assert whole.made.fit == "whole-repeats"
        parts = next(iter(around.pattern.parts.values()))
        assert sum(part.stitches for part in parts) % multiple == 0
        for one, other in zip(parts, (*parts[1:], parts[0]), strict=True):
            assert (one.column + one.stitches - other.column) % multiple == 0, (one, other)
        for part in parts:  # the middle of a motif or the line between two; half a stitch off where it must be
            assert (2 * part.column + part.stitches - plus) % multiple in (0, 1, multiple - 1)
        assert dict(whole_repeats(around, around.rows)).popitem()[1] == around.rows[0].before // multiple
        broken = cut.made.first(roles.BODY)
        told = next(c.remark.text for c in cut.checks if c.code == "pattern-ways")
        assert "at both sides" in told
        both = [c.remark.text for c in cut.checks if c.code == "pattern-not-round"]
        assert bool(both) == (broken.rows[0].before % multiple > 0)
        assert all("interrupted at both sides" in text for text in both)


@pytest.mark.parametrize("centre", ["motif", "between"])
@pytest.mark.parametrize(("multiple", "plus"), [(2, 1), (6, 1), (5, 3), (10, 1), (7, 0)])
@pytest.mark.parametrize("construction", ["set-in", "raglan-from-hem", "raglan-from-neck"])
def test_whole_repeats_of_a_cardigan_in_one_piece_begin_and_end_at_its_bands(construction, multiple, plus, centre):
    """They are paid for in width, so they're seen: from band to band, without the stitch that each band takes up.

    Where these make whole repeats too, as in seed stitch, rows begin as they are written.
    """
    own = StitchPattern("own", "own motif", multiple, plus, 4)
    wishes = {"fabric": "own", "fabric_fit": "whole-repeats", "fabric_centre": centre}
    project = pullover(stitch_pattern=(own,))
    made = plan(shaped(project, construction=construction, front="open", worked="round", **wishes)).made
    body = made.first(roles.BODY)
    row, parts = next((r, body.pattern.parts[r.row]) for r in body.rows if r.row in body.pattern.parts)
    run = [column % multiple for p in parts for column in range(p.column, p.column + p.stitches)]

    assert made.fit == "whole-repeats"
    assert len(run) == row.before
    assert (row.before - 2 - plus) % multiple == 0
    taken_up = 0 if multiple == 2 else 1
    assert run[taken_up : len(run) - taken_up] == [n % multiple for n in range(row.before - 2 * taken_up)]


@given(patterned())
def test_the_rows_of_the_pattern_go_on_by_one_and_edgings_have_none(project):
    for piece in set_pieces(project):
        told = piece.pattern
        numbers = [where.row for _, where in told.rows]
        before = piece.parent.pattern if piece.parent else None
        over = [where.row for row, where in before.rows if worked_in(piece, row)] if before else []
        expected = over[-1] if over else told.first_row - 1
        for number in numbers:
            expected = expected % told.repeat_rows + 1
            assert number == expected
        fabrics = {row.row: row.fabric for row in piece.rows}
        assert all(fabrics[row] == STOCKINETTE for row, _ in told.rows)
        assert all(1 <= where.first_stitch <= told.pattern.multiple for _, where in told.rows)
        right_side_rows_of_the_pattern_are_worked_on_the_right_side(piece)


@pytest.mark.parametrize("front", ["closed", "open"])
def test_a_sleeve_from_the_neck_goes_on_with_the_row_in_which_it_was_put_aside(front):
    """Body and sleeves part in one row, which isn't worked over the sleeves; no row of theirs is left out."""
    wishes = {"construction": "raglan-from-neck", "front": front, "fabric": "basket"}
    stripes = tuple(Stripe(1, letter) for letter in "abc")
    made = plan(shaped(pullover(), stripe=stripes, panel=(Panel("waffle", 2, "sleeves"),), **wishes)).made
    sleeves = [p for p in made.pieces if p.role is roles.SLEEVE]
    body = made.first(roles.BODY)
    assert len(sleeves) == 2
    for sleeve in sleeves:
        yoke, first, parts = sleeve.parent, sleeve.rows[0].row, sleeve.parent.last_row
        assert first == parts + 1
        assert sleeve.pattern.at(first).row == yoke.pattern.at(parts).row
        assert body.pattern.at(first).row == yoke.pattern.at(parts).row % 8 + 1
        assert sleeve.stripes[first] == yoke.stripes[parts]
        [mine] = sleeve.panels
        [above] = [panel for panel in yoke.panels if panel.part == mine.part]
        assert above.at(parts) is None
        assert mine.at(first).row == above.at(parts - 1).row % mine.repeat_rows + 1


def right_side_rows_of_the_pattern_are_worked_on_the_right_side(piece):
    """Its odd rows, as its source writes them, wherever a piece is worked back and forth, also above rounds."""
    sides = {row.row: row.side for row in piece.rows}
    for row, where in piece.pattern.rows:
        if piece.pattern.repeat_rows % 2 == 0 and sides[row] != "round":
            assert (sides[row] == "RS") == (where.row % 2 == 1), (piece.name, row)


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_right_side_rows_stay_right_side_rows_where_rounds_go_over_to_rows(construction):
    """Also where stitches are made up above the hem, so that the pattern begins a round later."""
    lace = ("k1, *yo, k2, sl1, k2tog, psso, k2, yo, k1; rep from * to the end", "purl") * 2
    own = (*cables(pullover()).stitch_pattern, StitchPattern("lace", "waves", 8, 1, 4, lines=lace))
    project = pullover(swatch=(swatch(21, 31),), stitch_pattern=own)
    for fabric, hem in itertools.product((*BUILT_IN, "cable", "lace"), ("rib-2x2", "garter")):
        made = plan(shaped(project, construction=construction, worked="round", fabric=fabric, hem=hem)).made
        seen = set()
        for piece in (p for p in made.pieces if p.pattern):
            right_side_rows_of_the_pattern_are_worked_on_the_right_side(piece)
            seen |= {row.side for row in piece.rows if piece.pattern.at(row.row)}
            assert piece.parent or piece.role is roles.SLEEVE or piece.pattern.first_row == 1
        assert seen == ({"round"} if construction == "round-yoke" else {"RS", "WS", "round"})


def columns(piece, row, where):
    """Stitch of the repeat under each stitch before a row, from the wearer's left to her right; None at plain edges."""
    pattern, edge = piece.pattern.pattern, 0 if piece.pattern.pattern.edge_in_pattern else piece.edge_stitches
    edges = {name: edge if name in piece.outer else 0 for name in roles.BOTH_EDGES}
    inside = row.before - sum(edges.values())
    run = [(where.first_stitch - 1 + n) % pattern.multiple for n in range(inside)]
    if piece.begins == "right":
        run.reverse()
    return [None] * edges["left"] + run + [None] * edges["right"]


def knit(stitches, row, piece):
    """Stitches after a row, as it takes them away and adds them at the wearer's edges."""
    left, right = [], []
    for event in row.events:
        at = {"neck-left": "right", "neck-right": "left"}.get(event.where, event.where)  # the inner end of a half
        for edge, gone in (("left", left), ("right", right)):
            if at in (edge, "both"):
                gone.append(event.change // (2 if at == "both" else 1))
    out = list(stitches)
    for change in left:
        out = ["new"] * change + out if change > 0 else out[-change:]
    for change in right:
        out = out + ["new"] * change if change > 0 else out[: len(out) + change]
    return out


@given(patterned())
def test_the_columns_stay_where_they_are_through_all_shaping_at_edges(project):
    """Replayed stitch by stitch, in the wearer's left and right."""
    for piece in set_pieces(project):
        if piece.worked == "round" or piece.role in roles.YOKES:
            continue
        at = dict(piece.pattern.rows)
        for row, following in zip(piece.rows, piece.rows[1:], strict=False):
            simple = all(e.where not in ("across", "centre", "underarm") and not e.line for e in row.events)
            if piece.role is roles.BODY and any(e.where == "both" for e in row.events):
                continue  # at the side markers
            if row.row not in at or following.row not in at or not simple or (len(piece.outer) == 2 and _necked(row)):
                continue
            before, after = columns(piece, row, at[row.row]), columns(piece, following, at[following.row])
            kept = knit(before, row, piece)
            assert len(kept) == len(after)
            for was, now in zip(kept, after, strict=True):
                assert "new" in (was, now) or None in (was, now) or was == now


def _necked(row):
    return any(e.where.startswith("neck-") for e in row.events)


@given(st.integers(1, 40), st.integers(0, 20), st.integers(1, 400), st.sampled_from(["motif", "between"]))
def test_a_centred_row_reads_the_same_from_both_ends(multiple, plus, stitches, centre):
    """A symmetrical repeat (the row of m × k + plus is a palindrome): so is every row that is centred in it."""
    pattern = Pattern("x", "x", multiple, plus, 2)
    first, exact = first_stitch(pattern, stitches, centre)
    run = [(first - 1 + n) % multiple for n in range(stitches)]
    mirrored = [(plus - 1 - column) % multiple for column in run]

    assert 1 <= first <= multiple
    assert (mirrored[::-1] == run) is exact or multiple == 1
    assert exact or (multiple % 2 == 0 and (plus - stitches) % 2)


@given(patterned())
def test_sleeves_meet_the_body_on_the_same_row(project):
    """Where rows of the sleeve go on in those of the body, and both have whole pairs of rows."""
    name = project.garment.construction
    pieces = set_pieces(project)
    body = next((p for p in pieces if p.role in (roles.BODY, roles.BACK) and landmark(p)), None)
    if name in ("drop-shoulder", "square-armhole", "raglan-from-neck") or body is None:
        return
    meets = meeting_row(body.pattern, landmark(body))
    for sleeve in (p for p in pieces if p.role is roles.SLEEVE and p.parent is None and landmark(p)):
        if sleeve.worked == "flat" and sleeve.pattern.repeat_rows % 2:
            continue
        if sleeve.worked == body.worked:
            assert meeting_row(sleeve.pattern, landmark(sleeve)) == meets


def test_sleeves_meet_a_body_whose_pattern_begins_after_the_underarm():
    """So short that all below the armhole is ribbing: row by row, the cap shows what the armhole beside it shows."""
    base = pullover(swatch=(swatch(10, 15, washed_rows=14),), body=Body(source="table", table="children", size="10"))
    fabric = {"fabric": "basket", "length_cm": 24.0, "hem": "rib-2x2", "hem_cm": 4.0, "cuff_cm": 1.0}
    found = plan(shaped(base, construction="set-in", worked="flat", **fabric))
    back, sleeve = found.made.first(roles.BACK), found.made.first(roles.SLEEVE)
    beside, cap = ({row - landmark(p): where.row for row, where in p.pattern.rows} for p in (back, sleeve))
    both = [n for n in beside if n in cap]

    assert min(beside) > 0 > min(cap)
    assert both
    assert [beside[n] for n in both] == [cap[n] for n in both]


def in_lace(**changes):
    """A pullover in a lace of 10 + 1 by 4 rows, with a swatch of it on the needle of the first."""
    project = pullover()
    plain = project.swatch[0]
    loose = tuple(replace(r, count=r.count * 0.9) for r in plain.reading)
    lace = replace(plain, **{"id": "L", "stitch": "lace", "reading": loose, **changes})
    own = StitchPattern("lace", "waves", 10, 1, 4)
    garment = replace(project.garment, fabric="lace")
    return replace(project, swatch=(plain, lace), stitch_pattern=(own,), garment=garment)


def test_the_gauge_is_that_of_the_swatch_in_the_fabric_of_the_same_yarn():
    found, plain = plan(in_lace()), plan(pullover())

    assert found.gauge.swatch.id == "L"
    assert found.gauge.stitches.per_10cm == pytest.approx(0.9 * plain.gauge.stitches.per_10cm)
    assert found.made.finished_cm["chest"] == pytest.approx(plain.made.finished_cm["chest"], abs=6)
    assert (found.swatch("L").plan.cast_on.count - 2 * found.swatch("L").swatch.edge_stitches) % 10 == 1
    assert "fabric-unswatched" not in {c.code for c in found.checks}


def test_of_several_swatches_in_a_fabric_the_pattern_names_one():
    project = in_lace()
    other = replace(project.swatch[1], id="M", needle_mm=5.0)
    both = replace(project, swatch=(project.swatch[0], other, project.swatch[1]))
    named = replace(both, stitch_pattern=(replace(project.stitch_pattern[0], swatch="M"),))

    assert plan(both).gauge.swatch.id == "L"  # on the needle of the chosen one
    assert plan(named).gauge.swatch.id == "M"


@pytest.mark.parametrize("changes", [{"yarn": "b"}, {"reading": ()}, {"stitch": "seed"}])
def test_a_fabric_that_is_not_swatched_is_named_and_makes_the_ranges_wider(changes):
    found, sure = plan(in_lace(**changes)), plan(in_lace())

    assert [c.code for c in found.checks if c.code == "fabric-unswatched"] == ["fabric-unswatched"]
    assert found.gauge.swatch.id == "A"
    wide, narrow = (p.ranges["chest"] for p in (found, sure))
    assert wide.high - wide.likely > 0.1 * wide.likely > narrow.high - narrow.likely


@pytest.mark.parametrize(
    ("typed", "cells"),
    [
        ("k2 p2 / p2 k2", ("kkpp", "ppkk")),
        ("kkpp\nppkk", ("kkpp", "ppkk")),
        ("K1, P1", ("kp",)),
        ("a3b / a.c-", ("aaab", "a.c-")),
        ("c6 f / c4 b3", ("ccccccf", "ccccbbb")),
        ("aws / ksl", ("aws", "ksl")),
    ],
)
def test_a_chart_is_typed_in_letters_or_as_k_and_p(typed, cells):
    assert read_chart(typed) == cells
    assert read_chart(show_chart(cells)) == cells


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("k2 p2 / k3", "row 2 has 3 stitches and row 1 has 4. Every row needs the same number"),
        ("k2tog k1", "row 1: each letter stands for one stitch, so 'k2tog' needs a letter of its own"),
        ("k61", "row 1 has 61 stitches. A chart can have 1 to 60"),
        ("k999999", "row 1"),
        ("k2 *", "row 1: '*' isn't a stitch. Type letters, or k2 p2"),
        ("/".join(["k"] * 61), "that's 61 rows. A chart can have at most 60"),
        (" ", "nothing was typed"),
        ("knit / purl", "row 1: 'knit' isn't a stitch. Type k or p, or type the row under 'Rows in words'"),
        ("RS k2 p2 / WS p2 k2", "row 1: 'RS' isn't a stitch"),
        ("C6F p2", "'C6F' needs a letter of its own. For single stitches, type C6 F"),
        ("k2 t4b", "'t4b' needs a letter of its own"),
        ("kkpp rep from", "'rep' isn't a stitch"),
        ("k2 sl1", "'sl1' needs a letter of its own"),
    ],
)
def test_what_is_no_chart_is_told_in_a_line(typed, says):
    with pytest.raises(BadChart, match=re.escape(says)):
        read_chart(typed)


def test_hostile_patterns_do_not_reach_the_core():
    huge = StitchPattern("lace", "x", 10**6, -5, 10**7, ("k",) * 10**4, ("k" * 10**4,) * 100)
    found = plan(replace(in_lace(), stitch_pattern=(huge,)))

    assert {c.question for c in found.checks if c.code == "out-of-bounds"} >= {
        f"stitch_pattern.lace.{key}" for key in ("multiple", "plus", "rows", "chart", "lines")
    }


def visible(piece):
    """Stitches of the first pattern row that a seam does not take."""
    return next(r.before for r in piece.rows if r.row == piece.pattern.rows[0][0]) - 2 * piece.edge_stitches


@given(patterned(), st.sampled_from([None, "whole-repeats", "plain-sides", "centred"]))
def test_the_width_is_in_whole_repeats_where_that_is_wished_for_and_its_cost_is_said(project, fit):
    """Derived: of even and of odd counts at least one has whole repeats within a repeat of any width, flat."""
    found = plan(replace(project, garment=replace(project.garment, fabric_fit=fit)))
    told = next((c for c in found.checks if c.code == "pattern-ways"), None)
    back = next((p for p in found.made.pieces if p.role in (roles.BODY, roles.BACK) and not p.parent), None)
    assume(back is not None and back.pattern and "pattern-not-fitted" not in {c.code for c in found.checks})
    pattern, wide = back.pattern.pattern, visible(back)

    assert told is not None
    taken, said = told.remark.values["taken"], told.remark.values["stitches"].value
    if fit == "whole-repeats":
        assert taken == "whole repeats" or "No stitch count" in told.remark.text
    shaped = back.pattern.rows[0][1], said
    if back.role is roles.BACK and project.garment.waist != "shaped":
        assert said == wide, shaped
        if taken == "whole repeats":
            assert (wide + 2 * pattern.edge_in_pattern - pattern.plus) % pattern.multiple == 0
            assert back.pattern.first_stitch == 1
    if back.worked == "round" and taken == "whole repeats":
        assert back.key_counts["chest"] % pattern.multiple == 0


def test_a_repeat_that_is_wider_than_the_piece_is_the_only_stop():
    project = pullover()
    own = StitchPattern("own", "leaves", 60, 0, 20)
    small = replace(project, stitch_pattern=(own,), garment=replace(project.garment, fabric="own"))
    fine = plan(small)
    coarse = tuple(replace(r, count=r.count / 4) for r in project.swatch[0].reading)
    stopped = plan(replace(small, swatch=(replace(project.swatch[0], reading=coarse),)))

    assert fine.made.pieces
    assert [c.code for c in stopped.checks if c.level == "stop"] == ["pattern-too-wide"]


def test_whole_repeats_and_running_on_over_the_seams_exclude_each_other_unless_nothing_is_added():
    """Two that begin alike: only where nothing is added; of k2, p2 rib the seam eats what is, a stitch of each edge."""
    for pattern, runs in (("k2-p2-rib", True), ("k1-p1-rib", False), ("ridges", True), ("waffle", False)):
        project = pullover()
        garment = replace(project.garment, fabric=pattern, fabric_fit="whole-repeats")
        made = plan(replace(project, garment=garment)).made

        assert runs_on(made.first(roles.FRONT), made.first(roles.BACK)) is runs


@given(patterned())
def test_the_words_of_a_garment_in_pattern_are_its_ledger(project):
    """Read back from the words alone: rows of the pattern, the stitch each piece begins with, and every stitch."""
    check(project)


@given(patterned())
def test_both_sides_of_a_neck_keep_the_columns_of_the_front_that_divided(project):
    """Replayed stitch by stitch over the dividing row: the half that is held and the half on the needle."""
    for piece in set_pieces(project):
        parent = piece.parent
        if piece.role is not roles.SHOULDER or parent is None or parent.pattern is None:
            continue
        last, at = parent.rows[-1], dict(parent.pattern.rows)
        first = piece.rows[0]
        if last.row not in at or piece.pattern.at(first.row) is None or last.side != "RS":
            continue
        outer = [e for e in last.events if e.do not in ("hold",) and e.where != "centre"]
        kept = knit(columns(parent, last, at[last.row]), replace(last, events=tuple(outer)), parent)
        mine = kept[: piece.cast_on] if piece.side == "left" else kept[-piece.cast_on :]
        now = columns(piece, first, piece.pattern.at(first.row))
        assert len(now) == len(mine) == first.before
        for was, is_now in zip(mine, now, strict=True):
            assert "new" in (was, is_now) or None in (was, is_now) or was == is_now


@given(patterned())
def test_front_and_back_of_one_body_keep_its_columns(project):
    """A body in the round or in one piece that divides at the underarm: side by side as they lay in its last row."""
    pieces = set_pieces(project)
    for piece in pieces:
        body = piece.parent
        if piece.role not in roles.PANELS or body is None or body.role is not roles.BODY or body.pattern is None:
            continue
        marked = next(m for m in reversed(body.marks) if m.what == "markers")
        if body.pattern.rows[-1][0] != body.rows[-1].row or body.rows[-1].events:
            continue
        if piece.pattern.rows[0][0] != piece.rows[0].row or body.parent is not None:
            continue
        before = 0
        for section, stitches in marked.counts:
            if section.role is piece.role and section.side in (None, piece.side):
                halves = {None: 2, "left": 1, "right": 0}[section.side]  # a right front is shaped at its other edge
                lost = (stitches - piece.cast_on) // halves if halves else 0
                expected = (body.pattern.first_stitch - 1 + before + lost) % body.pattern.pattern.multiple
                assert piece.pattern.first_stitch - 1 == expected
            before += stitches


@pytest.mark.parametrize("fabric", ["basket", "waffle", "k2-p2-rib"])
def test_one_wrong_number_in_a_row_of_the_pattern_is_noticed(fabric):
    project = pullover()
    now = plan(replace(project, garment=replace(project.garment, construction="set-in", fabric=fabric)))
    printed = instructions(now)
    tried = 0
    for p, piece in enumerate(printed[:2]):
        for n, line in enumerate(piece.lines):
            if not re.search(r" (?:row|round) \d+ of \d", line):
                continue
            wrongs = list(changed_numbers(line))
            for wrong in wrongs[:: max(1, len(wrongs) // 3)]:
                tried += 1
                slip = replace(piece, lines=(*piece.lines[:n], wrong, *piece.lines[n + 1 :]))
                try:
                    noticed = bool(differences(read((*printed[:p], slip, *printed[p + 1 :])), now.made.pieces))
                except AssertionError:
                    noticed = True
                assert noticed, f"{line}\nread as\n{wrong}"
    assert tried > 10


@pytest.mark.parametrize(
    ("pattern", "worked", "rows"),
    [
        ("seed", "flat", ("Row 1 (RS): *k1, p1; repeat from * to the last stitch, k1.", "Row 2 (WS): k1, *p1, k1; repeat from * to the end.")),
        ("seed", "round", ("Round 1: *k1, p1; repeat from * to the end.", "Round 2: *p1, k1; repeat from * to the end.")),
        ("garter", "flat", ("Row 1 (RS): knit.", "Row 2 (WS): knit.")),
        ("garter", "round", ("Round 1: knit.", "Round 2: purl.")),
        ("k2-p2-rib", "flat", ("Row 1 (RS): *k2, p2; repeat from * to the last 2 stitches, k2.", "Row 2 (WS): p2, *k2, p2; repeat from * to the end.")),
    ],
)  # fmt: skip
def test_the_rows_of_well_known_fabrics_are_written_as_the_trade_writes_them(pattern, worked, rows):
    """Common practice, no source."""
    assert written_rows(BUILT_IN[pattern], worked, 2) == rows


@given(patterned())
def test_a_written_row_makes_the_chart(project):
    """Each written row, knitted over two repeats and their balance, shows on the right side what the chart shows."""
    name = project.garment.fabric
    assume(name in BUILT_IN)
    pattern = BUILT_IN[name]
    wide = 2 * pattern.multiple + pattern.plus
    for row, text in enumerate(written_rows(pattern, "flat", pattern.rows), 1):
        cells = knit_row(text.partition(": ")[2].removesuffix("."), wide)
        if "(WS)" in text:
            cells = cells[::-1].translate(str.maketrans("kp", "pk"))
        assert cells == (pattern.chart[row - 1] * 3)[:wide]


def knit_row(text, wide):
    """The stitches of a written row over so many."""

    def plain(part):
        return "".join(s[0] * int(s[1:]) for s in part.split(", ") if s)

    if text in ("knit", "purl"):
        return text[0] * wide
    before, _, rest = text.partition("*")
    repeat, _, end = rest.partition("; repeat from * to the ")
    last = plain(end.partition(", ")[2])
    first = plain(before.removesuffix(", "))
    times, over = divmod(wide - len(first) - len(last), len(plain(repeat)))
    assert not over
    return first + plain(repeat) * times + last


SHOWN = {name: BUILT_IN[name].chart for name in ("seed", "basket", "waffle", "ridges")}
SHOWN["bumps"] = ("kkkp", "kkkk", "kppp", "kppp", "pppp", "kkkp")


@pytest.mark.parametrize("name", SHOWN)
@pytest.mark.parametrize("fit", ["centred", "whole-repeats"])
def test_where_rows_do_not_begin_as_they_are_written_it_is_said_with_which_stitch(name, fit):
    """Knitted by that sentence, each row shows what it should above the same stitches; three rows come from both sides."""
    bumps = StitchPattern("bumps", "bumps", 4, 0, 3, lines=("*k3, p1; rep from *", "purl", "*k1, p3; rep from *"))
    found = plan(shaped(pullover(stitch_pattern=(bumps,)), construction="set-in", fabric=name, fabric_fit=fit))
    told = [line.replace("rep from *.", "repeat from * to the end.") for line in before_knitting(found)]
    rows = [line.partition(": ")[2].removesuffix(".") for line in told if re.match(r"Row \d", line)]
    as_written = True
    for piece in (p for p in found.made.pieces if p.pattern and p.parent is None):
        pattern, number = piece.pattern.pattern, piece.pattern.rows[0][0]
        plain = 0 if pattern.edge_in_pattern else 2 * piece.edge_stitches
        many = next(r.before for r in piece.rows if r.row == number) - plain
        first, last = piece.pattern.first_stitch, piece.pattern.first_stitch + many - 1
        wide = pattern.multiple * (last // pattern.multiple + 1) + pattern.plus
        for n, (text, cells) in enumerate(zip(rows, SHOWN[name], strict=True), 1):
            written = knit_row(text, wide)
            if n % 2:  # its first stitch is stitch 1
                shown = written[first - 1 : last]
            else:  # its last stitch is stitch 1, and the row before ended with the stitch ``last``
                shown = written[wide - last : wide - first + 1][::-1].translate(str.maketrans("kp", "pk"))
            assert shown == (cells * (wide + 1))[first - 1 : last]
            as_written &= written[:many] == (shown if n % 2 else shown[::-1].translate(str.maketrans("kp", "pk")))
    assert any("row before it ended with" in line for line in told) is not as_written


ODD = {
    "rib": StitchPattern("rib", "own rib", 4, 2, chart=("kkpp",), alike=True),
    "three": StitchPattern("three", "own ridges", 4, 2, chart=("kkpp", "kkpp", "pppp"), alike=True),
    "other": StitchPattern("other", "own bumps", 4, 2, chart=("kkkk", "kkpp", "pppp")),
    "hearts": StitchPattern("hearts", "hearts", 4, 1, chart=("abab", "aaba", "bbbb"), stranded=True),
}


@pytest.mark.parametrize("name", [*ODD, "basket", "seed"])
def test_every_row_that_is_worked_flat_stands_on_the_sheet_with_its_side(name):
    """An odd number of rows comes to each of its rows from both sides: what shows on the right side is the chart."""
    project = pullover(stitch_pattern=tuple(ODD.values()))
    now = plan(shaped(project, fabric=name, construction="set-in", worked="flat"))
    back = now.made.first(roles.BACK)
    pattern = back.pattern.pattern
    [stranded] = colour_charts(now) or [None]
    told, drawing = (stranded.rows, stranded.lines) if stranded else (before_knitting(now), charts(now)[0].lines)
    sides = {row.row: row.side for row in back.rows}
    worked = {(where.row, sides[row]) for row, where in back.pattern.rows}

    assert len(worked) == len(pattern.chart) * (1 + len(pattern.chart) % 2)
    for row, side in worked:
        cells = pattern.chart[(row - 1) % len(pattern.chart)]
        [text] = [line for line in told if line.startswith(f"Row {row} ({side}): ")]
        row_of_letters = (rf"\s*{row} \|.*\|$", rf"\s*\|.*\| +{row}$")[side == "RS"]
        [drawn] = [line for line in drawing if re.match(row_of_letters, line)]
        assert re.sub(r"[^a-z]", "", drawn) == cells[::-1]
        if not stranded:
            shown = knit_row(text.partition(": ")[2].removesuffix("."), wide := 2 * pattern.multiple + pattern.plus)
            shown = shown if side == "RS" else shown[::-1].translate(str.maketrans("kp", "pk"))
            assert shown == (cells * 3)[:wide]


@st.composite
def typed(draw):
    """A pattern of knits and purls as its cells show it, and its rows as a source has them for knitting flat."""
    multiple, plus, rows = draw(st.integers(1, 9)), draw(st.integers(0, 8)), 2 * draw(st.integers(1, 4))
    chart = [draw(st.text("kp", min_size=multiple, max_size=multiple)) for _ in range(rows)]
    lines = []
    for number, cells in enumerate(chart, 1):
        before = draw(st.integers(0, plus))  # of the stitches that balance; the others come after the repeats
        first, one, last = (
            [cells[n % multiple] for n in numbers]
            for numbers in (range(before), range(before, before + multiple), range(before, plus))
        )
        if number % 2 == 0:
            turned = {"k": "p", "p": "k"}
            first, one, last = ([turned[c] for c in reversed(part)] for part in (last, one, first))
        first, one, last = (
            ", ".join(f"{c}{len(list(run))}" for c, run in itertools.groupby(p)) for p in (first, one, last)
        )
        lines.append(f"{first}{', ' * bool(first)}*{one}; repeat from *{', ' * bool(last)}{last}")
    return StitchPattern("own", "own motif", multiple, plus, rows, lines=tuple(lines)), chart


@given(typed(), st.sampled_from(["drop-shoulder", "raglan-from-hem", "raglan-from-neck"]))
def test_typed_rows_are_turned_for_the_round_so_that_the_right_side_shows_the_same(pattern, construction):
    own, chart = pattern
    project = pullover(stitch_pattern=(own,))
    told = before_knitting(plan(shaped(project, construction=construction, worked="round", fabric="own")))
    rounds = [line for line in told if line.startswith("Round ")]

    for number, cells in enumerate(chart, 1):
        [text] = [line for line in rounds if line.startswith(f"Round {number}: ")]
        assert knit_row(text.partition(": ")[2].removesuffix("."), 3 * own.multiple) == cells * 3


@given(
    st.integers(1, 9).flatmap(
        lambda wide: st.lists(st.text("kp", min_size=wide, max_size=wide), min_size=1, max_size=5)
    ),
    st.integers(0, 12),
)
def test_rounds_are_turned_for_rows_so_that_the_right_side_shows_the_same(chart, plus):
    """Also where an odd number of them comes a second time from the other side."""
    multiple = len(chart[0])
    told = (", ".join(f"{c}{len(list(run))}" for c, run in itertools.groupby(cells)) for cells in chart)
    lines = tuple(f"Round {n}: *{text}; rep from *" for n, text in enumerate(told, 1))
    rows = turned_rows(Pattern("own", "own", multiple, plus, len(chart), lines=lines), "flat", 2 * len(chart))

    for number, text in enumerate(rows, 1):
        cells = knit_row(text.partition(": ")[2].removesuffix("."), wide := 3 * multiple + plus)
        shown = cells if number % 2 else cells[::-1].translate(str.maketrans("kp", "pk"))
        assert shown == (chart[(number - 1) % len(chart)] * (4 + plus))[:wide]
    assert len(rows) == 2 * len(chart)


LACE = ("Row 1 (RS): k1, *yo, k3, sl1, k2tog, psso, k3, yo, k1; rep from * to the end", "Row 2 (WS): purl")
CABLE = ("*p4, C4F; rep from * to the last 4 sts, p4", "k4, *p4, k4; rep from * to the end")
BRAID = ("*p2, k10; repeat from *, p2", "k2, *p10, k2; repeat from *")


@pytest.mark.parametrize(
    ("multiple", "plus", "lines", "rounds"),
    [
        (10, 1, LACE, ("*k1, yo, k3, sl1, k2tog, psso, k3, yo; repeat from * to the end", "knit")),
        (8, 4, CABLE, ("*p4, C4F; repeat from * to the end", "*p4, k4; repeat from * to the end")),
        (4, 0, ("*k2tog, yo, k2; rep from *", "*p2, yo, ssp; rep from *"), ("*k2tog, yo, k2; repeat from * to the end", "*ssk, yo, k2; repeat from * to the end")),
        (2, 0, ("knit", "*sl 1 wyif, p1; rep from *"), ("knit", "*k1, sl1 wyib; repeat from * to the end")),
        (3, 0, ("*[k1, p1] twice, k2; rep from *", "K the knits and p the purls"), None),
        (3, 0, ("*k2, p1; rep from *", "K the knits and p the purls"), ("*k2, p1; repeat from * to the end", "K the knits and p the purls")),
        (4, 0, ("RS: [k2 p2] to end", "WS: [k2 p2] to end"), ("*k2, p2; repeat from * to the end",) * 2),
        (3, 0, ("*k2, yf, sl1; rep from *", "purl"), None),
        (4, 0, ("Round 1: *k2, p2; rep from *", "Round 2: *p2, k2; rep from *"), ()),
        (4, 0, ("*k2, p2; rep from *", "*wrap 2, p2; rep from *"), None),
        (5, 0, ("knit", "*p2, MB, p2; rep from *"), None),
        (4, 0, ("knit", "*p2, yrn, p2tog; rep from *"), ("knit", "*k2tog, yfwd, k2; repeat from * to the end")),
        (4, 0, ("knit", "*Sl 1, k1, psso, p2, yfrn; rep from *"), ("knit", "*yfrn, k2, ssp; repeat from * to the end")),
        (5, 0, ("knit", "*p3tog tbl, yo, p2, yo; rep from *"), ("knit", "*yo, k2, yo, sssk; repeat from * to the end")),
        # A repeat that its decreases have shifted: after the round the first stitch is the first again.
        (6, 1, ("k1, *yo, ssk, k1, k2tog, yo, k1; rep from *", "purl", "k2tog, *yo, k3, yo, s2kp; rep from * to last 5 sts, yo, k3, yo, ssk", "purl"),
         ("*k1, yo, ssk, k1, k2tog, yo; repeat from * to the end", "knit", (1, "*s2kp, yo, k3, yo; repeat from * to the end"), "knit")),
        (6, 0, ("k2tog, *yo, k4, k2tog; rep from * to last 4 sts, yo, k4", "purl"), ("*k2tog, yo, k4; repeat from * to the end", "knit")),
        (4, 0, ("Row 1 (WS): *k2, p2; rep from *", "*p1, k3; rep from *"), ("*k2, p2; repeat from * to the end", "*p1, k3; repeat from * to the end")),
    ],
)  # fmt: skip
def test_rows_for_knitting_flat_are_told_as_rounds_or_it_is_said_that_they_need_turning(multiple, plus, lines, rounds):
    """What a step on the wrong side is on the right side: common practice, no source. None: it can't be turned."""
    own = StitchPattern("own", "own motif", multiple, plus, len(lines), lines=lines)
    found = plan(shaped(pullover(stitch_pattern=(own,)), construction="drop-shoulder", worked="round", fabric="own"))
    told = before_knitting(found)
    expected = [
        ("", text) if isinstance(text, str) else (", starting 1 stitch before stitch 1 of the repeat", text[1])
        for text in rounds or ()
    ]

    assert [line for line in told if line.startswith("Round ") and not line.endswith("*.")] == [
        f"Round {number}{where}: {text}." for number, (where, text) in enumerate(expected, 1)
    ]
    assert ("rows-not-turned" in {c.code for c in found.checks}) is (rounds is None)
    assert any("read it backwards" in line for line in told) is (rounds is None)
    assert all(any(text in line for line in told) for text in lines)


@pytest.mark.parametrize(
    ("plus", "lines", "rows"),
    [
        (2, ("Round 1: *k2, p2; rep from *", "Round 2: knit"), ("*k2, p2; repeat from * to the last 2 stitches, k2", "purl")),
        (1, ("1st round: *k1, p3; rep from *", "2nd round: *p1, k3; rep from *"), ("*k1, p3; repeat from * to the last stitch, k1", "k1, *p3, k1; repeat from * to the end")),
        (0, ("Rnd 1: *k2tog, yo, k2; rep from *", "Rnd 2: *ssk, yo, p2; rep from *"), ("*k2tog, yo, k2; repeat from * to the end", "*k2, yo, ssp; repeat from * to the end")),
        (2, ("Round 1: knit", "Round 2: *c4f; rep from *"), None),
        (1, ("Round 1: *k2tog, yo, k2; rep from *", "Round 2: knit"), None),
        (2, ("Round 1: *p2, k2; rep from *",) , ("*p2, k2; repeat from * to the last 2 stitches, p2", "k2, *p2, k2; repeat from * to the end")),
    ],
)  # fmt: skip
def test_rounds_are_told_as_rows_with_the_stitches_that_balance_them_or_it_is_said_that_they_need_turning(
    plus, lines, rows
):
    """What a step on the wrong side is on the right side: common practice, no source. None: it can't be turned."""
    own = StitchPattern("own", "own motif", 4, plus, len(lines), lines=lines)
    found = plan(shaped(pullover(stitch_pattern=(own,)), construction="set-in", worked="flat", fabric="own"))
    told = before_knitting(found)

    assert [line for line in told if re.match(r"Row \d", line)] == [
        f"Row {number} ({side}): {text}."
        for number, (text, side) in enumerate(zip(rows or (), ("RS", "WS"), strict=False), 1)
    ]
    asked = [c.remark.text for c in found.checks if c.code == "rows-not-turned"]
    assert ["written for knitting in the round" in text for text in asked] == ([] if rows else [True])
    assert any("read its round backwards" in line for line in told) is (rows is None)
    assert all(any(text in line for line in told) for text in lines)


def test_rounds_go_over_to_rows_where_a_body_divides_and_a_panel_and_a_band_have_them_too():
    own = StitchPattern("own", "braid", 8, 4, 2, lines=("Round 1: *p4, k4; rep from *", "Round 2: *p4, k4; rep from *"))
    project = pullover(stitch_pattern=(own,))
    rows = (
        "Row 1 (RS): *p4, k4; repeat from * to the last 4 stitches, p4.",
        "Row 2 (WS): k4, *p4, k4; repeat from * to the end.",
    )
    divides = list(before_knitting(plan(shaped(project, construction="set-in", worked="round", fabric="own"))))
    at = divides.index("Worked back and forth:")
    assert tuple(divides[at + 1 : at + 3]) == rows
    assert divides[at - 2] == "Round 1: *p4, k4; rep from *."
    panelled = before_knitting(plan(shaped(project, construction="set-in", panel=(Panel("own", 1),))))
    assert [line for line in panelled if line.startswith("Row ")] == [
        "Row 1 (RS): p4, k4, p4.",
        "Row 2 (WS): k4, p4, k4.",
    ]
    wishes = {"construction": "round-yoke", "front": "open", "worked": "flat", "band": (Band("own"),)}
    [band] = colour_charts(plan(shaped(project, **wishes)))
    assert band.rows == rows


WRONG_FIRST = ("Row 1 (WS): purl", "*p2, c4f, p2; rep from *", "purl", "*p2, k4, p2; rep from *")


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
@pytest.mark.parametrize("worked", ["flat", "round"])
def test_a_pattern_whose_first_row_is_a_wrong_side_row_has_it_on_the_wrong_side(construction, worked):
    """A cable crosses on the right side (common practice, no source), so a right-side row comes before its first."""
    own = StitchPattern("own", "ropes", 8, 0, 4, lines=WRONG_FIRST)
    project = shaped(pullover(stitch_pattern=(own,)), construction=construction, worked=worked)
    for wishes in ({"fabric": "own"}, {"panel": (Panel("own", 1),)}):
        for hem in ("rib-2x2", "garter"):
            now = plan(shaped(project, hem=hem, **wishes))
            for piece in now.made.pieces:
                sides = {row.row: row.side for row in piece.rows}
                set_rows = [piece.pattern.rows] if piece.pattern else [panel.rows for panel in piece.panels]
                for row, where in (pair for rows in set_rows for pair in rows):
                    assert sides[row] == "round" or (sides[row] == "WS") == (where.row % 2 == 1), (piece.name, row)
            told = " ".join(before_knitting(now))
            assert "Row 1 (WS): purl" in told
            assert "which is a right-side row" not in told
            assert worked == "flat" or "which is a wrong-side row" not in told


def test_the_chart_of_a_pattern_whose_first_row_is_a_wrong_side_row_is_numbered_so():
    lines = ("Row 1 (WS): *k1, p2; rep from *", "Row 2: *k2, p1; rep from *")
    own = StitchPattern("own", "ridges", 3, 0, 2, lines=lines, chart=("kkp", "kkp"))
    now = plan(shaped(pullover(stitch_pattern=(own,)), construction="set-in", fabric="own"))
    first, second = charts(now)[0].lines[::-1][:2]

    assert first.startswith("1 |")
    assert second.endswith("| 2")
    assert "Row 1 (WS): *k1, p2; repeat from * to the end." in before_knitting(now)


def test_a_row_that_says_its_number_has_no_other():
    lines = ("1st row (RS): *k2, p2; rep from *", "2nd row: purl", "Row 3 *k4", "4. purl")
    own = StitchPattern("own", "own motif", 4, 0, 4, lines=lines)
    told = before_knitting(plan(shaped(pullover(stitch_pattern=(own,)), fabric="own")))

    assert [line for line in told if re.match(r"(Row )?\d", line)] == [f"{text}." for text in lines]


def test_a_body_in_the_round_that_divides_has_its_typed_rows_both_ways_and_a_band_only_as_rounds():
    own = StitchPattern("own", "braid", 8, 4, 2, lines=CABLE)
    project = pullover(stitch_pattern=(own,))
    divides = list(before_knitting(plan(shaped(project, construction="set-in", worked="round", fabric="own"))))
    at = divides.index("Worked back and forth:")
    assert divides[at + 1 : at + 6] == [
        f"Row 1: {CABLE[0]}.",
        f"Row 2: {CABLE[1]}.",
        "Worked in the round, where every round is read from the right side:",
        "Round 1: *p4, C4F; repeat from * to the end.",
        "Round 2: *p4, k4; repeat from * to the end.",
    ]
    wishes = {"construction": "round-yoke", "worked": "round", "band": (Band("own"),)}
    [band] = colour_charts(plan(shaped(project, **wishes)))
    assert list(band.rows) == divides[at + 4 : at + 6]


def test_the_rows_of_a_panel_are_turned_with_the_stitches_that_balance_them():
    own = StitchPattern("own", "braid", 12, 2, 2, lines=BRAID)
    for repeats, rounds in (
        (1, ("p2, k10, p2.",) * 2),
        (2, ("*p2, k10; repeat from * to the last 2 stitches, p2.",) * 2),
    ):
        project = pullover(stitch_pattern=(own,))
        wishes = {"construction": "raglan-from-hem", "worked": "round", "panel": (Panel("own", repeats),)}
        told = before_knitting(plan(shaped(project, **wishes)))
        assert [line.partition(": ")[2] for line in told if line.startswith("Round ")] == list(rounds)


def test_an_odd_number_of_typed_rows_is_worked_again_from_the_other_side():
    """As its source means it: after row 3 comes row 1, whichever side it is on (common practice, no source)."""
    own = StitchPattern(
        "own", "own bumps", 4, 0, 3, lines=("Row 1 (RS): knit", "*k2, p2; repeat from *", "Row 3: purl")
    )
    told = before_knitting(plan(shaped(pullover(stitch_pattern=(own,)), worked="flat", fabric="own")))
    rows = [line.partition(": ")[2] for line in told if re.match(r"Row \d", line)]

    assert rows == ["knit.", "*k2, p2; repeat from *.", "purl."] * 2
    assert [line for line in told if line.startswith("Row 4")] == ["Row 4: knit."]


def cables(project, **wishes):
    """A project in cables that cross on row 5 of 8."""
    rows = ["*p4, k4; rep from * to the last 4 stitches, p4", "k4, *p4, k4; rep from * to the end"] * 4
    rows[4] = "*p4, C4F; rep from * to the last 4 stitches, p4"
    own = StitchPattern("cable", "cable 2/2", 8, 4, 8, lines=tuple(rows))
    return shaped(replace(project, stitch_pattern=(own,)), **{"fabric": "cable", **wishes})


def test_a_length_that_is_offered_brings_the_body_to_a_whole_repeat():
    """At the underarm, at the shoulder, or both; it costs less than a centimetre and is said, never taken."""
    offered = 0
    for hundredths in range(5500, 6100, 97):
        project = cables(pullover(), construction="set-in", length_cm=hundredths / 100)
        found = plan(project)
        told = next(c for c in found.checks if c.code == "pattern-rows")
        back = found.made.first(roles.BACK)
        assert told.remark.values["underarm"].value == (meeting_row(back.pattern, landmark(back)) - 2) % 8 + 1
        for where in ("underarm", "top"):
            if f"{where}_length" not in told.remark.values:
                continue
            offered += 1
            length = told.remark.values[f"{where}_length"].value
            assert 0 < abs(length - found.made.finished_cm["length"]) < 1
            again = plan(shaped(project, length_cm=length))
            rows = next(c for c in again.checks if c.code == "pattern-rows").remark.values
            assert rows[where].value == 8
    assert offered > 3


def test_sleeves_that_would_begin_on_a_crossing_begin_plain_and_a_length_is_offered():
    """Row 5 crosses: no first row above a cuff. The sleeve still meets the body on the same row."""
    seen = 0
    for millimetres in range(420, 480, 7):
        project = cables(pullover(), construction="set-in", sleeve_cm=millimetres / 10)
        found = plan(project)
        body, sleeve = found.made.first(roles.BACK), found.made.first(roles.SLEEVE)
        assert meeting_row(sleeve.pattern, landmark(sleeve)) == meeting_row(body.pattern, landmark(body))
        assert sleeve.pattern.first_row != 5
        told = next((c for c in found.checks if c.code == "pattern-begins-within"), None)
        if told is None:
            continue
        seen += 1
        assert told.remark.values["row"].value == 5
        above = next(row for row in sleeve.rows if row.fabric == STOCKINETTE)
        assert sleeve.pattern.at(above.row) is None
        again = plan(shaped(project, sleeve_cm=told.remark.values["length"].value))
        assert again.made.first(roles.SLEEVE).pattern.first_row == 1
    assert seen


@pytest.mark.parametrize("pattern", ["basket", "waffle", "k3-p2-rib", "broken-rib", "seed", "k2-p2-rib"])
@pytest.mark.parametrize("centre", ["motif", "between"])
def test_a_pattern_that_is_to_run_on_over_the_side_seams_does_and_is_centred_in_both_pieces(pattern, centre):
    """At both seams the next stitch of the repeat comes next, whatever the plus."""
    for chest_cm in (88.0, 93.0, 101.0):
        project = pullover(body=Body(source="table", table="women", size="M", chest_cm=chest_cm))
        found = plan(shaped(project, fabric=pattern, fabric_fit="runs-on", fabric_centre=centre, construction="set-in"))
        front, back = found.made.first(roles.FRONT), found.made.first(roles.BACK)
        told = next(c for c in found.checks if c.code == "pattern-ways")

        assert runs_on(front, back)
        assert told.remark.values["taken"] == "continuing across the side seams"
        assert front.pattern.on_centre is back.pattern.on_centre
        assert "seams" in told.remark.values
        edge = 0 if front.pattern.pattern.edge_in_pattern else 1
        for piece in (front, back):
            first, many = piece.pattern.first_stitch - 1, visible(piece) + 2 * (1 - edge)
            axis = (2 * first + many - 1) % piece.pattern.pattern.multiple
            assert (
                not piece.pattern.on_centre or axis == (piece.pattern.pattern.plus - 1) % piece.pattern.pattern.multiple
            )


def test_the_words_say_from_which_row_the_sides_break_off():
    for waist in ("straight", "shaped"):
        found = plan(shaped(pullover(), fabric="basket", fabric_fit="runs-on", construction="set-in", waist=waist))
        told = next(line for line in before_knitting(found) if "across both side seams" in line)
        back = found.made.first(roles.BACK)
        shaping = next(row.row for row in back.rows if any(e.where in ("both", "left", "right") for e in row.events))

        assert ("up to the armholes" in told) is (waist == "straight")
        assert (f"row {shaping}" in told) is (waist == "shaped")


@pytest.mark.parametrize(
    ("wishes", "told"),
    [
        ({"fabric": "cable", "worked": "flat"}, "above the same columns of the rib, and both are centered."),
        ({"fabric": "cable", "worked": "round"}, "each repeat sits above the same columns of the rib."),
        ({"fabric": "waffle"}, "the rib and the pattern are both centered. Their columns line up only in the middle"),
        ({"fabric": "basket"}, "don't continue into the pattern, because the row between"),
    ],
)
def test_how_a_rib_runs_into_the_pattern_is_said_as_its_stitches_are(wishes, told):
    """Column by column, from the words' own rib (k at both ends of right-side rows) and what is set above it."""
    found = plan(cables(pullover(), construction="set-in", **wishes))
    lines = [line for line in before_knitting(found) if line.startswith("Above ") and "hem" in line]
    assert any(told in line for line in lines), lines
    body = found.made.first(roles.BODY) or found.made.first(roles.BACK)
    known = body.pattern
    wide = int(wishes.get("hem", "rib-2x2")[-1])
    begin = next(r for r in body.rows if r.row == known.rows[0][0])
    edge = 0 if known.pattern.edge_in_pattern else body.edge_stitches
    multiple = known.pattern.multiple
    rib = ["k" if n % (2 * wide) < wide else "p" for n in range(begin.before)]
    starts = range(edge + (1 - known.first_stitch) % multiple, begin.before - multiple + 1, multiple)
    under = {"".join(rib[s : s + multiple]) for s in starts}
    spread = any(e.change for r in body.rows if r.row < begin.row for e in r.events)

    assert (not spread and len(under) == 1) is ("each repeat sits" in lines[0])
    assert spread is ("continue into" in lines[0])
    if "centered" in lines[0]:
        assert rib == rib[::-1]


@pytest.mark.parametrize("worked", ["flat", "round"])
@pytest.mark.parametrize("front", ["closed", "open"])
@pytest.mark.parametrize("fabric", ["seed", "basket", "k2-p2-rib"])
def test_the_chest_that_is_said_beside_the_ways_is_the_one_that_is_finished(worked, front, fabric):
    """Half fronts round to stitches of their own, and the bands lie between them."""
    for chest_cm in (88.0, 91.0, 96.5):
        project = pullover(body=Body(source="table", table="women", size="M", chest_cm=chest_cm))
        found = plan(shaped(project, construction="raglan-from-hem", worked=worked, front=front, fabric=fabric))
        told = next(c for c in found.checks if c.code == "pattern-ways").remark.values

        assert told["chest"].value == pytest.approx(found.made.finished_cm["chest"], abs=0.01)


def test_what_is_told_first_of_a_garment_in_seed_stitch_is_about_seed_stitch():
    """Nothing of it is plain, and nobody counts repeats of two stitches."""
    seed, basket, plain = (
        " ".join(
            before_knitting(
                plan(shaped(pullover(), construction="set-in", fabric=name, hem="rib-1x1", neckline="crew")),
                counted_anew=True,  # the text for all sizes names no row of a first count
            )
        )
        for name in ("seed", "basket", None)
    )

    assert "after the first 10 cm of seed stitch" in seed
    assert "Count whole repeats" not in seed
    assert "Count whole repeats" in basket
    assert "after the first 10 cm of plain knitting" in plain
    assert "For stockinette" in plain


@pytest.mark.parametrize("hem", ["garter", "none"])
@pytest.mark.parametrize("front", ["closed", "open"])
def test_a_hem_that_needs_no_multiple_is_cast_on_for_the_pattern_above_it(hem, front):
    """As a designer would: nothing is increased above garter stitch, and the pattern begins in the next row."""
    made = plan(shaped(pullover(), construction="raglan-from-hem", front=front, hem=hem, fabric="seed")).made
    assert made.pieces
    for piece in (p for p in made.pieces if p.pattern and not p.parent):
        edging = [row for row in piece.rows if row.fabric == "garter"]
        first, _ = piece.pattern.rows[0]
        assert first == len(edging) + 1, piece.name
        assert not any(e.where == "across" for row in piece.rows for e in row.events), piece.name


def test_a_chart_of_one_repeat_is_read_as_the_written_rows_are():
    """With a stitch beyond the repeats a wrong-side row does not begin where the chart does."""
    seed = plan(shaped(pullover(), fabric="seed"))
    key, pattern = chart_key(charts(seed)), BUILT_IN["seed"]
    assert "Begin a wrong-side row with the stitch of the chart that the row before it ended with." in key
    stitches = 5  # two repeats and the one beyond them
    columns = [i % pattern.multiple for i in range(stitches)][::-1]  # from the last stitch of the row before
    as_read = "".join({"k": "p", "p": "k"}[pattern.chart[1][column]] for column in columns)
    assert as_read == "kpkpk"
    assert "Row 2 (WS): k1, *p1, k1; repeat from * to the end." in before_knitting(seed)

    one_stitch = plan(shaped(pullover(), fabric="ridges"))
    in_the_round = plan(shaped(pullover(), fabric="seed", worked="round", construction="round-yoke"))
    for other in (one_stitch, in_the_round):
        assert not [line for line in chart_key(charts(other)) if "wrong-side row with" in line]
