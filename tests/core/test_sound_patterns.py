"""What a knitter types of her own pattern is held together: rows, chart, repeat and number of rows. Nothing is lost silently."""

from dataclasses import replace
from time import process_time

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.factory import pullover, shaped
from workshop.core.fabric.patterns import Pattern
from workshop.core.fabric.written import Group, groups_of
from workshop.core.plan import plan
from workshop.project import Band, Colour, Panel, StitchPattern
from workshop.questions.patterns import LINES
from workshop.words.before import before_knitting
from workshop.words.instructions import instructions
from workshop.words.phrase import say_check

HEARTS = ("aababa", "ababab", "abbbbb", "aabbba", "aaabaa")
CABLE = (
    "*p2, k6; repeat from *, p2",
    "k2, *p6, k2; repeat from *",
    "*p2, c6f; repeat from *, p2",
    "k2, *p6, k2; rep from *",
)


def own(**told):
    return StitchPattern("x", "hazel", **told)


def said(pattern, **garment):
    """What is asked about a pattern that the whole garment is in, and what is only told."""
    project = replace(shaped(pullover(), fabric="x", **garment), stitch_pattern=(pattern,))
    found = plan(project)
    assert found.made.pieces  # never a stop
    return [(c.code, c.level, say_check(c, project)) for c in found.checks if c.question.startswith("stitch_pattern.")]


@pytest.mark.parametrize(
    ("pattern", "code", "names"),
    [
        (own(multiple=6, lines=("*k2, p2; repeat from *", "purl")), "pattern-row-stitches", ["Row 1 of hazel", "of 4", "of 6"]),
        (own(multiple=4, plus=1, lines=("*k2, p2; repeat from *, k2", "purl")), "pattern-row-stitches", ["4 plus 2", "4 plus 1"]),
        (own(multiple=8, plus=2, lines=("*p2, k6; rep from * to last 3 sts, p2", "purl")), "pattern-row-stitches", ["Row 1", "last 3", "2 stitches"]),
        (own(multiple=4, lines=("*yo, k4; repeat from *", "purl")), "pattern-row-grows", ["Row 1 of hazel", "of 4", "of 5"]),
        (own(multiple=4, lines=("knit", "*k2tog, k2; repeat from *")), "pattern-row-grows", ["Row 2 of hazel", "of 4", "of 3"]),
        (own(multiple=4, rows=4, lines=("*k2, p2; repeat from *", "purl")), "pattern-lines-count", ["2", "4 rows"]),
        (own(multiple=6, chart=("kkpp", "ppkk")), "pattern-chart-width", ["Row 1", "4 stitches", "6"]),
        (own(multiple=4, rows=3, chart=("kkpp", "ppkk")), "pattern-chart-rows", ["2 rows", "3"]),
        (own(multiple=8, plus=1, chart=HEARTS, stranded=True), "pattern-chart-width", ["Row 1", "6 stitches", "8"]),
        (own(multiple=6, rows=4, chart=HEARTS, stranded=True), "pattern-chart-rows", ["5 rows", "4"]),
        (own(multiple=4, plus=9, rows=2), "pattern-plus-wide", ["9", "4"]),
        (own(multiple=4), "pattern-rows-unknown", ["how many rows"]),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_named_with_its_row_and_what_would_be_right(pattern, code, names):
    """Facts of the trade: a row is worked on a multiple of stitches plus some, and a yarn over needs its decrease."""
    (found,) = said(pattern)

    assert found[:2] == (code, "look")
    assert all(name in found[2] for name in names), found[2]


@pytest.mark.parametrize(
    "pattern",
    [
        own(multiple=8, plus=2, lines=CABLE),
        own(multiple=8, plus=2, rows=4, lines=CABLE, chart=("ppkkkkkk",) * 4),
        own(multiple=6, chart=HEARTS, stranded=True, plus=1),
        own(multiple=12, plus=3, rows=8),
        own(multiple=6, plus=7, rows=8),
        # Stitches that come in one row and go in another (common practice, no source).
        own(multiple=4, lines=("*yo, k4; repeat from *", "purl", "*k2tog, k3; repeat from *", "purl")),
        own(multiple=4, plus=2, lines=("Round 1: *k2, p2; repeat from *", "Round 2: purl")),
        own(multiple=8, lines=("k4, p4", "p4, k4")),
    ],
)
def test_nothing_is_asked_of_a_pattern_that_fits(pattern):
    assert [found for found in said(pattern) if found[1] != "note"] == []


REPEATS = st.lists(
    st.sampled_from(["k1", "p1", "k2", "p2", "k3", "c4f", "c4b", "k2tog, yo", "yo, ssk"]), min_size=1, max_size=6
)


@given(REPEATS, st.integers(0, 5), st.integers(-3, 3), st.integers(0, 3))
def test_a_row_fits_its_multiple_or_is_named(cells, plus, off_multiple, off_plus):
    """Whatever a row is made of: it is named exactly where no number of repeats gives the stitches of the pattern."""
    many = sum(int(c[1:]) if c[0] in "kp" and c[1:].isdigit() else 4 if c[0] == "c" else 2 for c in cells)
    multiple, extra = max(1, many + off_multiple), plus + off_plus
    text = f"*{', '.join(cells)}; repeat from *" + (f", k{plus}" if plus else "")
    project = replace(pullover(), stitch_pattern=(own(multiple=multiple, plus=extra, rows=2, lines=(text, "purl")),))
    found = [c.code for c in plan(project).checks if c.code.startswith("pattern-row-")]

    fits = multiple % many == 0 and (extra - plus) % many == 0
    assert found == ([] if fits else ["pattern-row-stitches"])


@pytest.mark.parametrize("told", [{"multiple": 8}, {"multiple": 6, "rows": 4}])
def test_no_color_vanishes_where_a_chart_and_its_repeat_differ(told):
    """The chart is what she sees: its colors are knitted and bought, and what differs is asked."""
    colours = (Colour("a", "white"), Colour("b", "blue"))
    pattern = own(chart=HEARTS, stranded=True, **told)
    base = replace(pullover(), stitch_pattern=(pattern,))
    worn = plan(shaped(base, construction="set-in", worked="round", fabric="x", colour=colours))
    yoke = plan(
        shaped(base, construction="round-yoke", worked="round", neckline="crew", band=(Band("x"),), colour=colours)
    )

    for found in (worn, yoke):
        assert found.yarn is not None
        assert all(balls.percent > 1 for balls in found.yarn.per_colour), found.yarn.per_colour
    (band,) = next(p for p in yoke.made.pieces if p.bands).bands
    assert (band.rows, band.pattern.multiple) == (5, 6)


def test_a_band_without_chart_and_rows_is_named():
    project = replace(pullover(), stitch_pattern=(own(multiple=6, plus=1, rows=5),))
    project = shaped(project, construction="round-yoke", worked="round", neckline="crew", band=(Band("x"),))
    planned = plan(project)
    (found,) = [c for c in planned.checks if c.code == "band-without-chart"]
    told = " ".join([*before_knitting(planned), *(line for p in instructions(planned) for line in p.lines)])

    assert found.level == "look"
    assert "hazel, which has no chart" in say_check(found, project)
    assert "from its chart" not in told
    assert "band 1 from its rows" in told


def test_a_row_that_is_not_read_is_told_once_where_an_edge_may_cut_it():
    """Of the garment's own fabric; a panel has no edges, and a chart of k and p says all."""
    unread = own(
        multiple=4, lines=("*k2, p2; repeat from *", "*k1, twist the next three; repeat from *", "*wrap; rep from *")
    )
    (told,) = said(unread)
    panel = replace(shaped(pullover(), panel=(Panel("x"),)), stitch_pattern=(unread,))

    assert told[:2] == ("pattern-row-unread", "note")
    assert "row 2 of hazel" in told[2]
    assert "pattern-row-unread" not in {c.code for c in plan(panel).checks}
    assert said(replace(unread, chart=("kkpp", "kkpp", "kkpp"))) == []


@pytest.mark.parametrize(
    "row",
    [
        "[[[k1] 80 times] 80 times] 80 times",
        "k" + "9" * 5000,
        "[k1] " + "9" * 5000 + " times",
        "*k4; rep from * to last " + "9" * 5000 + " sts, k4",
    ],
)
def test_a_row_that_nobody_could_knit_is_not_read_and_holds_nothing_up(row):
    begun = process_time()
    plan(shaped(pullover(stitch_pattern=(own(multiple=4, rows=2, lines=(row, "purl")),)), fabric="x"))
    assert process_time() - begun < 2


def test_stitches_that_are_counted_are_counted_to_the_last():
    told = said(own(multiple=4, lines=("*k150, p2; repeat from *", "purl")))
    assert any("of 152" in text for _, _, text in told), told


@pytest.mark.parametrize(
    "rows",
    [
        ("Row 1 (RS): *p2, 2/2 RC, p2; rep from *", "purl"),
        ("*p1, 2/1 LPC, 1/1/1 RPC; rep from *", "*3/3 LC, p2; rep from *", "*1/1 RT; rep from *"),
        ("k2 p2", "p2 k2"),
    ],
)
@pytest.mark.parametrize("between", [" / ", "/", "\n"])
def test_the_slash_of_a_crossing_parts_no_rows(rows, between):
    """Stitches that cross are written 2/2 RC (common practice, no source), and rows are typed with / between them."""
    project = pullover()
    assert LINES.kind.read(between.join(rows), project) == rows
    assert LINES.kind.read(LINES.kind.show(rows, project), project) == rows
    assert groups_of(Pattern("x", "x", 8, 0, 1, lines=("*p2, 2/2 RC, p2; rep from *",))) == ((Group(2, 4),),)
