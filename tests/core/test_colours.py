"""Colours: stripes that go on and meet, yarn of each that adds up to the whole, floats as a scan of the fabric finds them."""

import itertools
import re
from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from tests.core.test_garments import projects
from tests.factory import pullover, shaped, swatch, worked_in
from tests.test_reader import check
from workshop.core.edgings import STOCKINETTE
from workshop.core.fabric.colours import floats, floats_of, long_floats, palette, shares_of
from workshop.core.fabric.keeping import landmark
from workshop.core.fabric.patterns import Pattern
from workshop.core.making import roles
from workshop.core.plan import plan
from workshop.pictures.chart import Chart, chart_svg
from workshop.pictures.schematic import outlines
from workshop.pictures.text import schematic_text
from workshop.prints.machine import summary_data
from workshop.prints.paper import markdown
from workshop.prints.plan_sheet import plan_sheet
from workshop.project import Band, Body, Colour, Fit, Panel, StitchPattern, Stripe
from workshop.words.answers.yarn_to_buy import yarn_lines
from workshop.words.at_needles import row_text
from workshop.words.before import before_knitting
from workshop.words.charts import colour_charts
from workshop.words.instructions import instructions

WAVES = ("aaaaabaaaa", "aaaabbbaaa", "aaabbabbaa", "aabbaaabba", "abbaaaaabb")
STARS = ("abaaac", "abbbbb", "aacccb", "abaaac")


def in_bands(**changes):
    """A yoke with two stranded bands, of two and of three colours."""
    own = (
        StitchPattern("waves", "waves", 10, 1, chart=WAVES, stranded=True),
        StitchPattern("stars", "little stars", 6, 1, chart=STARS, stranded=True),
    )
    colours = (Colour("a", "chalk white"), Colour("b", "sea blue"), Colour("c", "rust"))
    project = shaped(pullover(stitch_pattern=own), construction="round-yoke", worked="round", colour=colours)
    return shaped(project, **{"band": (Band("waves"), Band("stars")), **changes})


@st.composite
def striped(draw):
    stripes = draw(st.lists(st.tuples(st.integers(1, 9), st.sampled_from("abc")), min_size=1, max_size=4))
    return shaped(draw(projects()), stripe=tuple(Stripe(rows, colour) for rows, colour in stripes))


def round_yoke_in_one_colour():
    """The yoke of a V neck is two rounds high until its neck opens: both are in A, and what follows begins in B."""
    body, one = Body(source="table", table="women", size="1X"), pullover().swatch[0]
    counted = tuple(replace(r, count=15.0) if r.along == "rows" else r for r in one.reading)
    project = pullover(body=body, swatch=(replace(one, reading=counted),), fit=Fit(ease="close"))
    wishes = {"neckline": "v", "length_cm": 55.0, "hem": "rib-1x1", "hem_cm": 1.0, "cuff_cm": 1.0}
    stripes = (Stripe(2, "a"), Stripe(1, "b"))
    return shaped(project, construction="raglan-from-hem", worked="round", stripe=stripes, **wishes)


@given(striped())
@example(round_yoke_in_one_colour())
def test_stripes_go_on_from_row_to_row_and_their_words_are_their_rows(project):
    assume(plan(project).made.pieces)
    check(project)
    found = plan(project).made
    wanted = [s.colour for s in project.garment.stripe for _ in range(s.rows)]
    for piece in found.pieces:
        told = list(piece.stripes.items())
        assert all(at.colour == wanted[at.row - 1] for _, at in told)
        before = [at for row, at in piece.parent.stripes.items() if worked_in(piece, row)] if piece.parent else []
        numbers = [at.row for at in before[-1:]] + [at.row for _, at in told]
        assert all(b == a % len(wanted) + 1 for a, b in itertools.pairwise(numbers))
        plain = {r.row for r in piece.rows if r.fabric == STOCKINETTE} - piece.inner_rows
        assert {row for row, _ in told} == (set() if piece.role.band else plain)


@pytest.mark.parametrize(
    "wishes",
    [
        {},
        {"fabric": "basket"},
        {"stripe": (Stripe(3, "a"), Stripe(1, "b"))},
        {"stripe": (Stripe(1, "b"), Stripe(2, "c")), "panel": (Panel("rib-3x3", 1, "front"),)},
    ],
    ids=["plain", "basket", "stripes", "stripes and a panel"],
)
def test_no_stitch_has_a_row_more_where_rounds_begin_elsewhere(wishes):
    """Between two rounds nothing is knitted: the yarn is cut and joined where the next round begins, in its color."""
    project = shaped(pullover(), construction="raglan-from-neck", worked="round", **wishes)
    found = [w for w in instructions(plan(project)) if w.piece.name in ("yoke", "body")]
    between = [line for w in found for line in w.lines if not re.match(r"(Row|Round|Short)s? \d", line)]

    assert not [line for line in between if re.search(r"\b([Kk]nit|[Ww]ork) (\d+ stitch|on\b)", line)]
    (moved,) = [line for line in between if "middle of the left underarm" in line]
    body = found[-1].piece
    colour = body.stripes[body.rows[0].row].colour.upper() if body.stripes else ""
    assert f"place a marker and join {f'color {colour}' if colour else 'the yarn'}." in moved
    assert check(project)


@pytest.mark.parametrize(
    ("construction", "where"),
    [("raglan-from-neck", "the first row, at the neck"), ("raglan-from-hem", "the row above the edging")],
)
def test_it_is_said_where_the_stripes_begin(construction, where):
    now = plan(shaped(pullover(), construction=construction, stripe=(Stripe(5, "a"), Stripe(3, "b"))))
    first = next(p for p in now.made.pieces if p.parent is None and p.role is not roles.SLEEVE)

    assert next(iter(first.stripes)) == (1 if "neck" in where else first.edging_rows + 1)
    assert f"Stripes begin in {where}: 5 rows A, 3 rows B." in " ".join(before_knitting(now))


def test_a_letter_that_is_none_of_the_colours_is_named():
    """Elsewhere it would only be one more color without a name, beside one that takes no yarn."""
    named = (Colour("a", "white"), Colour("b", "blue"))
    for stripes, strange in (("ab", None), ("az", "Z"), ("qz", "Q, Z")):
        stripe = tuple(Stripe(2, letter) for letter in stripes)
        for colours in (named, ()):
            found = [
                c for c in plan(shaped(pullover(), stripe=stripe, colour=colours)).checks if c.code == "colour-unnamed"
            ]
            assert [c.about for c in found] == ([strange] if strange and colours else [])
    with_band = in_bands(colour=named)
    assert [c.about for c in plan(with_band).checks if c.code == "colour-unnamed"] == ["C"]


@given(striped())
def test_where_sleeve_and_body_join_their_stripes_meet(project):
    if project.garment.construction in ("drop-shoulder", "square-armhole", "raglan-from-neck"):
        return
    made = plan(project).made
    body = next((p for p in made.pieces if p.role in (roles.BODY, roles.BACK) and not p.parent and landmark(p)), None)
    sleeves = [p for p in made.pieces if p.role is roles.SLEEVE and landmark(p)]
    if body is None or not all(any(row <= landmark(p) for row in p.stripes) for p in (body, *sleeves)):
        return
    last = {p.name: [at for row, at in p.stripes.items() if row <= landmark(p)][-1] for p in (body, *sleeves)}

    assert len({at.row for at in last.values()}) <= 1


@pytest.mark.parametrize("front", ["closed", "open"])
def test_stripes_go_on_in_a_yoke_below_and_above_its_bands(front):
    """Bands keep their own colors, and between two of them the ground is the main color (common practice, no source)."""
    stripes = (Stripe(3, "b"), Stripe(2, "c"))
    project = in_bands(stripe=stripes, front=front, worked="round" if front == "closed" else "flat")
    check(project)
    yoke = plan(project).made.first(roles.YOKE)
    low, high = yoke.bands[0].from_row, yoke.bands[-1].last_row
    outside = [r.row for r in yoke.rows if not low <= r.row <= high and r.row not in yoke.inner_rows]
    between = [r for r in yoke.rows if low <= r.row <= high and not yoke.band_at(r.row)]

    assert outside[0] < low < high < outside[-1]
    assert between
    assert list(yoke.stripes) == outside
    numbers = [at.row for at in (*yoke.parent.stripes.values(), *yoke.stripes.values())]
    assert all(b == a % 5 + 1 for a, b in itertools.pairwise(numbers))
    assert {shares_of(yoke, row, "a").keys() == {"a"} for row in between} == {True}
    assert all(
        shares_of(yoke, r, "a") == {yoke.stripes[r.row].colour: max(r.before, r.after)}
        for r in yoke.rows
        if r.row in yoke.stripes
    )
    notes = " ".join(before_knitting(plan(project)))
    assert "up to the first band, and again above the last" in notes


@given(striped())
def test_the_yarn_of_all_colours_is_the_yarn_of_the_garment(project):
    need = plan(project).yarn
    assume(need is not None)
    for of_all, of_each in ((need.grams, "grams"), (need.metres, "metres")):
        for which in range(3) if of_all else ():
            assert sum(getattr(c, of_each)[which] for c in need.per_colour) == pytest.approx(of_all[which])
    assert sum(c.percent for c in need.per_colour) == pytest.approx(100)
    assert need.balls == sum(c.balls for c in need.per_colour)
    whole = plan(shaped(project, stripe=())).yarn
    assert need.grams == pytest.approx(whole.grams)


def test_each_colour_of_a_band_takes_its_share_of_the_cells():
    """Counted cell by cell, one repeat after the other round the yoke; floats beyond that are in the weight."""
    found = plan(in_bands())
    yoke = found.made.first(roles.YOKE)
    counted = Counter()
    for row in yoke.rows:
        band = yoke.band_at(row.row)
        cells = "a" * max(row.before, row.after)
        if band is not None:
            at = band.first_stitch - 1
            line = (WAVES, STARS)[band.number - 1][row.row - band.from_row]
            cells = "".join(line[(at + n) % len(line)] for n in range(row.before))
        counted.update(cells)
    told = Counter()
    for row in yoke.rows:
        told.update(shares_of(yoke, row, "a"))

    assert told == counted
    assert [c.id for c in palette(found.project, found.made)] == ["a", "b", "c"]


def test_a_balance_of_several_repeats_is_counted_and_written_whole():
    """Multiple of 2 plus 7, as a pattern of two colours may be written: three repeats and a stitch balance it."""
    checks = StitchPattern("checks", "checks", 2, 7, chart=("ab", "ba"), stranded=True)
    project = in_bands(band=(Band("checks"),), front="open")
    found = plan(replace(project, stitch_pattern=(checks,)))
    yoke = next(p for p in found.made.pieces if p.bands)
    in_band = [row for row in yoke.rows if row.band]
    (told,) = colour_charts(found)

    assert yoke.bands[0].plus == 7
    assert in_band
    assert all(sum(shares_of(yoke, row, "a").values()) == row.before for row in in_band)
    assert told.rows == (
        "Row 1 (RS): *k1 A, k1 B; repeat from *, k1 A, k1 B, k1 A, k1 B, k1 A, k1 B, k1 A.",
        "Row 2 (WS): p1 B, p1 A, p1 B, p1 A, p1 B, p1 A, p1 B, *p1 A, p1 B; repeat from *.",
    )


def test_a_weighed_swatch_of_the_band_has_its_floats_in_its_weight():
    """Twice as heavy, the band takes twice the yarn; unweighed, its floats are as long as the stitches are wide.

    A stitch has 4.2 times its width in yarn (kw of GATE 2015 textile question 54, read).
    """
    project = in_bands()
    heavy = [
        replace(swatch(20, 28, name=name), stitch=stitch, worked="round", grams=36.0, cast_on=36, rows=48)
        for name, stitch in (("B", "waves"), ("C", "stars"))
    ]
    plain, weighed = plan(shaped(project, band=())), plan(replace(project, swatch=(*project.swatch, *heavy)))
    reckoned = plan(project)
    swatches = weighed.yarn.swatch_metres - plain.yarn.swatch_metres
    in_rows = sum(r.before for p in weighed.made.pieces for r in p.rows if r.band)
    per_stitch = 18 / (36 * 48) * 1.05

    assert weighed.made.pieces == reckoned.made.pieces
    assert reckoned.yarn.grams[1] - plain.yarn.grams[1] == pytest.approx(passed_in_bands() * per_stitch / 4.2, rel=0.01)
    beyond = weighed.yarn.grams[1] - swatches / 2 - per_stitch * stitches_of(weighed) - plain.yarn.swatch_metres / 2
    assert beyond == pytest.approx(in_rows * per_stitch, rel=0.1)


def passed_in_bands():
    """Stitches behind which the other colours of a row pass, in both bands of the yoke."""
    yoke = plan(in_bands()).made.first(roles.YOKE)
    return sum(
        row.before * (len(set(cells)) - 1)
        for band, chart in zip(yoke.bands, (WAVES, STARS), strict=True)
        for row, cells in zip([r for r in yoke.rows if r.band == band.number], chart, strict=True)
    )


def stitches_of(found):
    return sum(p.stitches_worked for p in found.made.pieces)


charts = st.integers(1, 20).flatmap(
    lambda wide: st.lists(st.text("abc", min_size=wide, max_size=wide), min_size=1, max_size=6)
)


@given(charts)
def test_floats_are_those_that_a_scan_of_the_fabric_finds(chart):
    """Stitch by stitch over three repeats: how many stitches lie between one of a colour and the next of it."""
    pattern = Pattern("x", "x", len(chart[0]), 0, len(chart), tuple(chart), stranded=True)
    scanned = set()
    for number, cells in enumerate(chart, 1):
        last = {}
        for at, colour in enumerate(cells * 3):
            if colour in last and at - last[colour] > 1:
                scanned.add((number, colour, at - last[colour] - 1))
            last[colour] = at

    assert {(f.row, f.colour, f.stitches) for f in floats(pattern)} == scanned
    for f in long_floats(pattern, 20.0):
        assert f.stitches > 5  # 2.5 cm at 20 stitches to 10 cm
        assert f.stitches == max(n for row, colour, n in scanned if (row, colour) == (f.row, f.colour))
    for f in long_floats(pattern, 12.0):
        assert f.stitches > 3


def test_long_floats_are_named_with_row_colour_and_length():
    (waves, _) = colour_charts(plan(in_bands()))

    assert "In round 1 of the chart, color B floats behind 9 stitches (4.5 cm)." in waves.key
    assert "In round 2 of the chart, color B floats behind 7 stitches (3.5 cm)." in waves.key
    assert any(line.startswith("Catch a float") for line in waves.key)
    assert not any("color A floats" in line for line in waves.key)


@pytest.mark.parametrize(("table", "size", "shown"), [("babies", "12 months", True), ("women", "M", False)])
def test_loops_inside_are_a_caution_for_babies(table, size, shown):
    """Fingers and toes (doctors quoted in the press on loose threads inside knitting for babies)."""
    body = Body(source="table", table=table, size=size)
    baby = {"length_cm": 30.0, "hem_cm": 2.0, "cuff_cm": 2.0} if shown else {}
    stranded, plain = (plan(replace(shaped(p, **baby), body=body)) for p in (in_bands(), in_bands(band=())))

    assert ("baby-floats" in {c.id for c in stranded.cautions}) is shown
    assert "baby-floats" not in {c.id for c in plain.cautions}


def test_a_chart_is_read_by_its_letters_and_its_shades_alike():
    (waves, stars) = colour_charts(plan(in_bands()))

    for found, chart in ((waves, WAVES), (stars, STARS)):
        rows = [line[line.index("|") + 1 : line.rindex("|")].split("|") for line in found.lines if "|" in line]
        assert ["".join(cell[0] for cell in reversed(row)) for row in reversed(rows)] == list(chart)
        shades = {cell[0]: cell[1] for row in rows for cell in row}
        assert len(set(shades.values())) == len(shades)


def test_each_row_says_its_colours_to_a_program():
    data = summary_data(plan(in_bands()))
    yoke = next(p for p in data["pieces"] if p["role"] == "yoke")
    body = next(p for p in data["pieces"] if p["role"] == "body")
    waves = yoke["bands"][0]
    rows = {r["row"]: r["colours"] for r in yoke["rows"]}

    assert rows[waves["from_row"]] == ["a", "b"]
    assert all(r["colours"] == ["a"] for r in body["rows"])
    assert [c["name"] for c in data["colours"]] == ["chalk white", "sea blue", "rust"]
    assert {"id": "waves", "row": 1, "colour": "b", "stitches": 9} in data["floats"]
    assert sum(c["percent"] for c in data["yarn"]["per_colour"]) == pytest.approx(100, abs=0.01)
    plain = summary_data(plan(pullover()))
    assert plain["colours"] == plain["floats"] == plain["yarn"]["per_colour"] == []
    assert all("colours" not in r for p in plain["pieces"] for r in p["rows"])


def test_floats_go_by_the_gauge_of_the_band():
    found = plan(in_bands())

    assert next((p.id, [f.stitches for f in many]) for p, many in floats_of(found.made, found.gauge)) == (
        "waves",
        [9, 7],
    )


def test_a_row_of_a_band_is_told_in_words_at_the_needles():
    found = plan(in_bands())
    yoke = found.made.first(roles.YOKE)
    row = next(r for r in yoke.rows if r.band)

    assert row_text(yoke, row, found.project).endswith("*k5 A, k1 B, k4 A; repeat from *.")


def test_a_chart_on_paper_has_the_letter_of_each_stitch_in_its_place():
    svg = chart_svg(Chart(STARS, ("a", "b", "c"), flat=False), "stars")
    letters = re.findall(r'<text x="([\d.]+)" y="([\d.]+)"[^>]*text-anchor="middle">([abc])</text>', svg)
    by_row = {}
    for x, y, letter in letters:
        by_row.setdefault(float(y), []).append((float(x), letter))

    rows = [by_row[y] for y in sorted(by_row, reverse=True)]  # the first at the foot
    assert ["".join(letter for _, letter in sorted(row, reverse=True)) for row in rows] == list(STARS)


@pytest.mark.parametrize("worked", ["flat", "round"])
def test_a_stranded_fabric_all_over_is_told_by_its_colours(worked):
    """Each row that is written, knitted over two repeats and their balance, shows the chart (common practice)."""
    project = shaped(in_bands(band=(), construction="set-in"), worked=worked, fabric="waves")
    found = plan(project)
    (told,) = colour_charts(found)
    rows = told.rows

    assert check(project)
    assert {c for p in found.made.pieces for r in p.rows for c in shares_of(p, r, "a")} == {"a", "b"}
    assert len(rows) >= len(WAVES)
    for number, line in enumerate(rows):
        wrong = "(WS)" in line
        repeat = re.search(r"\*(.+?); repeat from \*", line)[1]
        cells = "".join(m[2].lower() * int(m[1]) for m in re.finditer(r"[kp](\d+) ([A-C])", repeat))
        assert cells[:: -1 if wrong else 1] == WAVES[number % len(WAVES)]
        balance = re.search(r"^.*?: p1 A, " if wrong else r", k1 A\.$", line)
        assert (balance is not None) == line.startswith("Row")


def test_colours_and_bands_are_named_at_a_glance_and_what_is_drawn_alike_is_told_once():
    """The balls to buy are told by their letters in the same table."""
    now = plan(in_bands())
    text = markdown(plan_sheet(now))
    at_a_glance = text[: text.index("## Schematic")]
    assert "| Colors | A, chalk white; B, sea blue; C, rust |" in at_a_glance
    assert "| Bands | waves and little stars, around the yoke |" in at_a_glance
    assert "- float: " in text
    drawing = "\n".join(schematic_text(outlines(now.made.pieces, now.gauge.cloth), lambda cm: f"{cm:.0f} cm"))
    assert "▚▚ band 1, band 2" in drawing


@pytest.mark.parametrize(
    ("stripe", "told"),
    [
        ((Stripe(2, "a"),), "Color B isn't used in this plan, so there's none to buy."),
        ((Stripe(60, "a"), Stripe(1, "b")), r"Color B: 1 ball \(about \d+ g, \d+ m\)\."),
    ],
)
def test_a_color_of_which_nothing_is_needed_is_not_sold_by_the_ball(stripe, told):
    project = shaped(pullover(), stripe=stripe, colour=(Colour("a"), Colour("b")))
    lines = [line.text for line in yarn_lines(plan(project))]

    assert [line for line in lines if re.fullmatch(told, line)], lines
    assert not [line for line in lines if "0 ball" in line or "about 0" in line]


def test_a_few_stitches_of_a_color_are_less_than_a_gram_and_still_take_a_ball():
    """Nobody sells less than a ball (common practice, no source)."""
    dot = StitchPattern("dot", "dot", 60, 0, 1, chart=("a" * 59 + "b",), stranded=True)
    project = pullover(stitch_pattern=(dot,), body=Body(source="table", table="children", size="4"))
    project = shaped(project, construction="round-yoke", worked="round", band=(Band("dot"),), length_cm=36.0)
    lines = [line.text for line in yarn_lines(plan(project))]

    assert any(line.startswith("Color B: 1 ball (less than 1 g, ") for line in lines), lines


def test_a_stranded_fabric_that_is_drawn_twice_names_the_floats_of_both_times_and_no_crossings():
    """Five rows worked flat come from both sides, so the float of row 1 is that of row 6 too."""
    rings = StitchPattern("rings", "rings", 8, 1, 5, chart=("aaaabaaa", *("abbbabbb",) * 4), stranded=True)
    found = plan(shaped(pullover(stitch_pattern=(rings,)), construction="drop-shoulder", worked="flat", fabric="rings"))
    [chart] = colour_charts(found)

    assert any(line.startswith("In rows 1 and 6 of the chart, color B floats behind 7 stitches") for line in chart.key)
    assert not [line for line in before_knitting(found) if "crossing" in line or "yarn over" in line]
