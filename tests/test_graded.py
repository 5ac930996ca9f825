"""One text for all sizes: a knitter of each size reads her own rows in it."""

import os
import re
from dataclasses import replace
from itertools import pairwise

import pytest

from tests.factory import pullover, shaped, swatch
from tests.graded_reader import BRACKET, ONLY, read_lines, read_size
from tests.reader import read
from workshop.core.constructions import CONSTRUCTIONS
from workshop.planned import plan
from workshop.prints.blocks import Items, Paragraph
from workshop.prints.sizes import sheet
from workshop.project import Body, Colour, Panel, Stripe
from workshop.sizes import sizes_of
from workshop.tables import bodies
from workshop.words.before import before_knitting
from workshop.words.drawn import schematic_notes
from workshop.words.graded.only import called
from workshop.words.graded.pieces import graded, notes_before
from workshop.words.instructions import finishing, instructions
from workshop.words.texts import texts


def sizes_of_design(table, names=(), *, gauge=22.0, **garment):
    """A design, and its sizes."""
    middle = bodies.sizes(table)[len(bodies.sizes(table)) // 2]
    base = pullover(
        swatch=(swatch(gauge, round(gauge * 5.6) / 4),), body=Body(source="table", table=table, size=middle)
    )
    length = float(plan(base).offers["garment.length_cm"])
    design = shaped(base, **{"length_cm": length, "hem_cm": 4.0, "cuff_cm": 4.0, **garment})
    return design, sizes_of(design, table, names)


def planned(table, names=(), **garment):
    """The sizes of a design that can be knitted, and their plans."""
    made = sizes_of_design(table, names, **garment)[1].made
    return [one.size for one in made], [one.plan for one in made]


def text_of(table, names=(), **garment):
    """The one text, the sizes in it, and their plans."""
    sizes, plans = planned(table, names, **garment)
    return graded(plans, sizes), sizes, plans


def said(rows):
    """Rows counted from 1 with their events in no order; raglan lines by their sides; one stitch bound off is a decrease."""
    found = []
    for number, row in enumerate(rows, 1):
        events = []
        for e in row.events:
            one = e.do == "bind-off" and e.stitches == 1 and e.where not in ("across", "centre")
            if e.line.endswith(" panel"):  # what a panel takes or brings beside what rib and fabric differ by
                events += [(e.do, e.where, e.stitches, "")] if e.stitches else []
            elif e.line == "all lines":
                events += [(e.do, e.where, e.stitches // 2, line) for line in ("body side", "sleeve side")]
            else:
                events.append(("decrease" if one else e.do, e.where, e.stitches, e.line))
        found.append((number, row.side, row.before, row.after, row.fabric, sorted(events)))
    return found


def differences(read_pieces, planned):
    """What a size reads otherwise than it was planned."""
    mine, theirs = ({p.name: p for p in pieces} for pieces in (read_pieces, planned))
    found = [f"read {sorted(mine)}, planned {sorted(theirs)}"] if mine.keys() != theirs.keys() else []
    for name in mine.keys() & theirs.keys():
        a, b = mine[name], theirs[name]
        if a.came_from != (b.parent.name if b.parent else None):
            found.append(f"{name}: read as grown from {a.came_from}")
        for what in ("worked", "cast_on", "bound_off"):
            if getattr(a, what) != getattr(b, what):
                found.append(f"{name}: {what} read {getattr(a, what)}, planned {getattr(b, what)}")
        if len(a.rows) != len(b.rows):
            found.append(f"{name}: {len(a.rows)} rows read, {len(b.rows)} planned")
        if [*a.stripes.values()] != [(at.row, at.colour.upper()) for at in b.stripes.values()]:
            found.append(f"{name}: stripes read {a.stripes}, planned {b.stripes}")
        panels = {p.part: [at.row for _, at in p.rows] for p in b.panels if p.rows}
        if {part: [*at.values()] for part, at in a.panels.items()} != panels:
            found.append(f"{name}: rows of panels read {a.panels}, planned {panels}")
        bands = [
            (s.number, row - s.from_row + 1, s.repeats, s.first_stitch)
            for s in b.bands
            for row in range(s.from_row, s.last_row + 1)
        ]
        if [*a.bands.values()] != bands:
            found.append(f"{name}: bands read {a.bands}, planned {b.bands}")
        pairs = zip(said(a.rows), said(b.rows), strict=False)
        found += [f"{name}: read {one}, planned {other}" for one, other in pairs if one != other]
        first = b.rows[0].row
        kept = [at.row for _, at in b.pattern.rows] if b.pattern else []
        if list(a.pattern.values()) != kept:
            found.append(f"{name}: rows of the pattern read {a.pattern}, planned {kept} from {first}")
    return found


EVERY = 1 if os.environ.get("HYPOTHESIS_PROFILE") == "deep" else 5
"""How many of the texts are read: all of them, or one of so many."""

TABLES = ("women", "men", "youth", "children", "babies")


def all_designs(construction, first=0, every=1):
    """Designs in turn through tables, necklines, fronts, edgings and gauges: each of them several times."""
    turn = sorted(CONSTRUCTIONS).index(construction)
    for at, (table, neckline) in enumerate((t, n) for n in ("crew", "v", "scoop", "boat") for t in TABLES):
        if (at - first) % every:
            continue
        at += turn
        yield planned(
            table,
            gauge=(14.0, 22.0, 30.0)[at % 3],
            construction=construction,
            neckline=neckline,
            worked=("flat", "round")[at // 3 % 2],
            front=("closed", "closed", "open")[at % 3],
            waist=("straight", "shaped")[at % 2],
            sleeve=("long", "elbow", "short", "none")[at // 2 % 4],
            hem=("rib-2x2", "garter", "rib-1x1", "none")[at % 4],
            shoulder=(None, "short-rows", "straight")[at // 2 % 3],
        )


@pytest.mark.parametrize("construction", sorted(CONSTRUCTIONS))
def test_a_knitter_of_each_size_reads_its_ledger(construction):
    tried = 0
    for names, plans in all_designs(construction, 0, EVERY):
        text = graded(plans, names) if plans else ()
        for place, one in enumerate(plans):
            tried += 1
            assert differences(read_size(text, names, place), one.made.pieces) == [], (names[place], one.project)
    assert tried > 3


def lines_for_some(text):
    """Lines that name the sizes that they are for, and all lines."""
    lines = [(piece, line) for piece in text for line in piece.lines]
    return [line for piece, line in lines if ONLY.match(line) or " only)" in piece.title], lines


def test_lines_for_some_sizes_are_few_where_neighbours_share_a_text():
    for construction in sorted(CONSTRUCTIONS):
        for names, plans in all_designs(construction, 1, 4 * EVERY):
            for smaller, larger in pairwise(range(len(plans))):
                text = graded([plans[smaller], plans[larger]], [names[smaller], names[larger]])
                some, lines = lines_for_some(text)
                assert len(some) <= len(lines) / 3, (construction, names[smaller], some)


def test_the_round_that_joins_a_yoke_is_one_line_for_all_sizes():
    """Sizes that shape both sides of the raglan lines there, and sizes that shape one side, have a dash for the other."""
    for sizes in (("2", "4"), ("4", "6", "8"), ("2", "4", "6", "8", "10")):
        text, names, plans = text_of(
            "children", sizes, construction="raglan-from-neck", worked="round", waist="straight"
        )
        lines = [line for piece in text for line in piece.lines if "join into a round" in line]
        assert len(lines) == 1, lines
        for place, one in enumerate(plans):
            assert differences(read_size(text, names, place), one.made.pieces) == [], names[place]
    assert "increase – (1, –, –, 1) stitch on the body side" in lines[0]


@pytest.mark.parametrize("table", ["women", "children"])
def test_the_round_that_sets_the_rib_of_a_v_is_one_line_for_all_sizes(table):
    text, names, plans = text_of(table, construction="set-in", neckline="v", hem="rib-2x2")
    lines = [line for piece in text for line in piece.lines if "k2tog, ssk, p1" in line]
    assert len(lines) == 1, lines
    assert not re.search(r"[kp]–(?: \((?:–, )*–\))?[,.]", lines[0]), "a step that no size does"
    for place, one in enumerate(plans):
        assert differences(read_size(text, names, place), one.made.pieces) == [], names[place]


def test_a_front_band_is_picked_up_in_one_line_for_all_sizes():
    """What comes to a rate differs from size to size: each has its count, and the rate alone beside it."""
    text, _, _ = text_of("women", gauge=20.0, construction="set-in", front="open")
    for band in (piece for piece in text if "front band" in piece.title):
        assert len([line for line in band.lines if "pick up and knit" in line]) == 1, band.lines


def test_steps_at_a_shoulder_share_a_line_whatever_was_bound_off_at_the_armhole():
    """A size that binds off the same count at both would else tell its shoulder before its armhole's second step."""
    text, _, _ = text_of("women", construction="set-in", neckline="v", waist="shaped", length_cm=60.0)
    back = next(piece.lines for piece in text if piece.title == "Back")
    begins = [m[1] for line in back if (m := re.search(r"at the beginning of rows? (.*)", line))]
    firsts = [min(int(n) for n in re.findall(r"\d+", rows)) for rows in begins]
    assert firsts == sorted(set(firsts)), begins


def test_how_stitches_are_counted_at_a_neck_is_said_to_all_sizes_as_soon_as_one_needs_it():
    """Else a size that decreases at the ends of that row would knit two stitches too many before its neck."""
    counted = r" \((?:including the one left, )?counted after the decrease\)"
    for table, garment, neck in (
        ("women", {"construction": "raglan-from-hem", "neckline": "crew"}, "bind off the next .* for the neck"),
        ("children", {"construction": "set-in", "neckline": "v"}, "divide for the neck here"),
    ):
        text, _, _ = text_of(table, gauge=18.0 if table == "women" else 22.0, worked="flat", **garment)
        line = next(line for piece in text for line in piece.lines if "at both ends; knit" in line)
        assert "–" in line  # in some size nothing is decreased there
        assert re.search(rf"; knit .*?{counted}, {neck}, knit the last .*?{counted}", line), line


def test_halves_of_an_open_v_that_begins_with_one_stitch_are_picked_up_alike():
    """One stitch in the middle of each half is decreased in the same row at both edges, as all those above it are."""
    wishes = {
        "construction": "square-armhole",
        "neckline": "v",
        "front": "open",
        "sleeve": "none",
        "neck_depth_cm": 9.0,
    }
    text, names, plans = text_of("women", ["M"], gauge=16.5, worked="round", hem="garter", shoulder="steps", **wishes)

    assert differences(read(instructions(plans[0])), plans[0].made.pieces) == []
    assert differences(read_size(text, names, 0), plans[0].made.pieces) == []
    picked = next(row.events[0].along for p in plans[0].made.pieces if "neck band" in p.name for row in p.rows[:1])
    straight, left, right = (
        [(part.stitches, part.rows) for part in picked if part.edge in edges]
        for edges in (("left front edge", "right front edge"), ("left front",), ("right front",))
    )
    assert left == right
    front = next(piece for piece in plans[0].made.pieces if piece.name == "left front")
    assert {rows + left[0][1] for _, rows in straight} == {front.last_row}


NOT_ROWS = re.compile(r"[\d.–]+ (?:\([^)]*\) )?(?:cm|mm)\b")
"""Lengths."""


def swapped(line):
    """The line with two figures of one bracket changed for each other, for each bracket that has two."""
    if line.startswith("Raise the back of the neck"):
        return  # where a marker hangs changes no stitch
    stay = [range(*m.span()) for m in NOT_ROWS.finditer(line)]
    for found in BRACKET.finditer(line):
        figures = [found[1], *found[2].split(", ")]
        different = next(((a, b) for a, b in pairwise(range(len(figures))) if figures[a] != figures[b]), None)
        if different is None or any(found.start() in span for span in stay):
            continue
        a, b = different
        figures[a], figures[b] = figures[b], figures[a]
        yield f"{line[: found.start()]}{figures[0]} ({', '.join(figures[1:])}){line[found.end() :]}", a


def is_noticed(text, names, place, plans, before):
    """Whether a size cannot read a text, or reads another garment in it."""
    try:
        return bool(differences(read_size(text, names, place, before), plans[place].made.pieces))
    except AssertionError:
        return True


@pytest.mark.parametrize("construction", sorted(CONSTRUCTIONS))
def test_two_counts_swapped_in_a_bracket_are_noticed(construction):
    """The reader would be worth little if it did not see what is wrong; every bracket of rows and stitches is tried."""
    wishes = {"round-yoke": STRIPED, "set-in": {"panel": (Panel("basket", 2, "front"),)}}.get(construction, {})
    text, names, plans = text_of("women", ("M", "L", "1X"), construction=construction, neckline="crew", **wishes)
    before, tried = notes_before(plans, names), 0
    for p, piece in enumerate(text):
        for n, line in enumerate(piece.lines):
            for wrong, place in swapped(line):
                tried += 1
                slip = replace(piece, lines=(*piece.lines[:n], wrong, *piece.lines[n + 1 :]))
                slipped = (*text[:p], slip, *text[p + 1 :])
                noticed = any(is_noticed(slipped, names, at, plans, before) for at in (place, place + 1))
                assert noticed, f"{line}\nread as\n{wrong}"
    assert tried > 40


def test_a_count_that_is_the_same_for_all_is_written_once():
    text, _, _ = text_of("women", ("S", "M", "L"), construction="set-in", neckline="v")
    for found in (m for piece in text for line in piece.lines for m in BRACKET.finditer(line)):
        assert len({found[1], *found[2].split(", ")}) > 1, found[0]


def test_a_text_for_one_size_has_no_brackets():
    text, names, plans = text_of("women", ("M",), construction="raglan-from-hem")
    assert differences(read_size(text, names, 0), plans[0].made.pieces) == []
    assert not any(BRACKET.search(line) for piece in text for line in piece.lines)


@pytest.mark.parametrize("fabric", ["seed", "basket"])
def test_a_pattern_goes_on_in_all_sizes(fabric):
    text, names, plans = text_of(
        "women", ("S", "M", "L"), construction="set-in", fabric=fabric, fabric_fit="plain-sides"
    )
    assert any(piece.pattern for piece in plans[0].made.pieces)
    assert any("Whole repeats" in line or "Plain" in line for piece in text for line in piece.lines)
    for place, one in enumerate(plans):
        found = read_size(text, names, place)
        assert differences(found, one.made.pieces) == [], names[place]
        alone = read(instructions(one))  # what is plain at the edges, in the text for that size only
        assert [what_is_plain(piece) for piece in found] == [what_is_plain(piece) for piece in alone], names[place]


STRIPED = {"colour": (Colour("a", "blue"), Colour("b", "red")), "stripe": (Stripe(4, "a"), Stripe(7, "b"))}


@pytest.mark.parametrize(
    ("table", "garment"),
    [
        ("women", {"construction": "round-yoke", "worked": "round"}),
        ("children", {"construction": "raglan-from-hem", "worked": "round", "neckline": "scoop"}),
        ("youth", {"construction": "set-in"}),
    ],
)
def test_stripes_go_on_in_all_sizes(table, garment):
    """Which row of them comes first, and which color is joined for the rest of a yoke, may differ from size to size."""
    text, names, plans = text_of(table, gauge=16.0, **garment, **STRIPED)
    before = notes_before(plans, names)
    for place, one in enumerate(plans):
        assert all(piece.stripes for piece in one.made.pieces if piece.name in ("back", "body", "yoke", "yoke, upper"))
        assert differences(read_size(text, names, place, before), one.made.pieces) == [], names[place]


@pytest.mark.parametrize("hem", ["rib-2x2", "none"])
def test_a_panel_goes_up_the_front_of_all_sizes(hem):
    wishes = {"construction": "set-in", "panel": (Panel("basket", 2, "front"),), "hem": hem}
    text, names, plans = text_of("women", ("S", "M", "L"), **wishes)
    everyone = [text, *map(instructions, plans)]
    set_up = [line for read in everyone for piece in read for line in piece.lines if "set up the panel" in line]
    assert len(set_up) >= len(everyone)
    for line in set_up:  # a bar is told of only where one is wanted
        assert ("m1" in line and hem == "none") == ("With no bar to lift yet" in line), line
    for place, one in enumerate(plans):
        assert differences(read_size(text, names, place), one.made.pieces) == [], names[place]


def what_is_plain(piece):
    """Stitches that are plain in the rows of a pattern, and whole repeats, in the order of the rows."""
    plain = [piece.plain[row] for row in sorted(piece.plain)]
    return piece.name, plain, list(piece.plain_sides.values()), list(piece.repeats.values())


def test_bodies_whose_names_could_be_misread_go_by_their_numbers():
    assert called(["S", "3 months", "Ann"]) == ["S", "3 months", "Ann"]
    assert called(["Ann and Bo", "Cy"]) == ["1", "2"]
    assert called(["Ann", "Bo (tall)"]) == ["1", "2"]
    assert called(["Ann", "ann"]) == ["1", "2"]


@pytest.mark.parametrize("terms", ["us", "uk"])
def test_rows_that_are_counted_anew_are_not_said_to_go_on(terms):
    names, plans = planned("children", construction="raglan-from-neck", worked="round")
    plans = [replace(one, project=replace(one.project, terms=terms)) for one in plans]
    assert any("its row numbers continue too" in line for line in before_knitting(plans[0]))
    assert not any("its row numbers continue too" in line for line in notes_before(plans, names))


def notes_on_paper(sheet, place, names):
    """The sentences beside the pieces of the one text, as a knitter of one size reads them."""
    page = {section.heading: section.blocks for section in sheet.sections}
    told = [block.text for block in page["Schematic"] if isinstance(block, Paragraph) and block.kind != "head"]
    told += [line for name in ("Before the first row", "Finishing") for line in listed(page[name])]
    general = {*texts("graded").values(), texts("leans")["one_side"]}
    return [one for line in read_lines(told, names, place) if line not in general for one in sentences(line)]


def listed(blocks):
    return [item for block in blocks if isinstance(block, Items) for item in block.items]


def sentences(text):
    return re.split(r"(?<=[.:]) (?=[A-Z])", text)


@pytest.mark.parametrize(
    ("table", "garment"),
    [
        ("women", {"construction": "drop-shoulder", "hem": "rib-1x1"}),
        ("women", {"construction": "set-in", "hem": "rib-2x2"}),
        ("women", {"construction": "set-in", "neckline": "v", "hem": "rib-1x1"}),
        ("women", {"construction": "raglan-from-hem", "neckline": "v", "front": "open", "hem": "garter"}),
        ("women", {"construction": "raglan-from-neck", "neckline": "v", "front": "open", "worked": "round"}),
        ("youth", {"construction": "drop-shoulder", "hem": "rib-2x2"}),
        ("babies", {"construction": "raglan-from-hem", "front": "open"}),
    ],
)
def test_a_knitter_of_each_size_reads_the_notes_of_her_own_plan(table, garment):
    """What is said of ease, caps, needles and slants in one size may be wrong in another, and so may its figures."""
    for gauge in (16.0, 20.0, 28.5):
        project, found = sizes_of_design(table, gauge=gauge, **garment)
        names, paper = called([one.size for one in found.made]), sheet(project, found)
        for place, one in enumerate(found.made):
            own = [*schematic_notes(one.plan), *before_knitting(one.plan, counted_anew=True), *finishing(one.plan)]
            wanted = [one for line in own for one in sentences(line)]
            assert notes_on_paper(paper, place, names) == wanted, names[place]
