"""Bands: how many stitches lie along which edge, the rate that leads there, buttonholes, and the first row of a rib."""

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from itertools import cycle, islice, pairwise
from math import ceil

import pytest

from tests.core.test_garments import CONSTRUCTIONS, SIZES
from tests.core.test_sweep import designs, offered_lengths
from tests.factory import piece_of, pullover, shaped, swatch
from tests.reader import steps_in, stitches_of
from workshop.core.garments.bands_along import picked_up_along
from workshop.core.making.bands import first_rib
from workshop.core.making.buttonholes import buttonhole_gaps
from workshop.core.making.edges import HALF, beyond_rate, rate_along
from workshop.core.making.ledger import PickedUp, Piece
from workshop.core.plan import Plan, plan
from workshop.project import Body, Project
from workshop.words.at_needles import row_text
from workshop.words.instructions import instructions

RIBS = ("rib-2x2", "rib-1x1")
EDGINGS = (*RIBS, "garter", "none")


def picked(now: Plan) -> Iterator[tuple[Piece, tuple[PickedUp, ...]]]:
    """Bands that are picked up, and how they lie along their edges."""
    for piece in now.made.pieces if now.made else ():
        if piece.picked_up is not None:
            yield piece, piece.picked_up.along


def band_lines(project: Project, name: str) -> tuple[str, ...]:
    return next(words.lines for words in instructions(plan(project)) if words.piece.name == name)


# ── picking up ───────────────────────────────────────────────────────────────────────────────────────


def test_a_rate_is_a_simple_one_that_leads_to_its_stitches():
    """Necks and bands of technical editors: three for every four of 59 rows are 44, four for every five of 63 are 50.

    Groups of up to six rows, as they are in print (3 of 4, 4 of 5, 5 of 6), and one stitch more or fewer.
    """
    told = {(49, 63): (Fraction(4, 5), -1), (60, 77): (Fraction(7, 9), 0), (5, 12): (Fraction(2, 5), 0)}
    told |= {(50, 59): (Fraction(5, 6), 1), (61, 82): (Fraction(3, 4), -1), (105, 150): (Fraction(7, 10), 0)}
    told |= {(60, 78): (Fraction(3, 4), 2)}
    told |= {(10, 10): (Fraction(1), 0), (9, 10): (Fraction(1), -1), (37, 37.5): (Fraction(1), 0)}
    assert {n: (rate_along(*n), beyond_rate(rate_along(*n), *n)) for n in told} == told


def test_a_rate_followed_to_the_letter_comes_out_at_the_very_count():
    """A larger group than six rows only where none of these comes to one stitch, and hardly with a stitch more or fewer:
    the fingers count no further with ease (common practice, no source)."""
    for rows, stitches in ((r, n) for r in range(2, 131) for n in range(1, r + 10)):
        rate = rate_along(stitches, rows)
        more = beyond_rate(rate, stitches, rows)
        assert abs(rate * rows + more - stitches) < HALF or (more and abs(rate * rows + more - stitches) == HALF)
        if rate.denominator > 6:
            groups = [Fraction(round(stitches * b / rows), b) for b in range(1, 7)]
            assert not any(abs(group * rows - stitches) < 1 for group in groups if group), (stitches, rows)
            assert not more or not any(abs(group * rows - stitches) <= 2 for group in groups if group), (stitches, rows)


def test_a_neck_is_picked_up_in_the_order_of_walking_along_it():
    """From the sleeve down one side, across the middle and up again; an open front begins or ends in its middle."""
    band = band_lines(shaped(pullover(), construction="raglan-from-neck", worked="round"), "neckband")
    front = next(line for line in band if " around the front: " in line)
    assert re.fullmatch(
        r"\d+ around the front: (\d+) across, (\d+) along the rows between the raglan line and the steps "
        r"\(\d+ rows on one side, \d+ on the other; about .+?\), (\d+) along the steps, "
        r"\d+ across the middle, then \3, \2 and \1 along the other side\.",
        front,
    )
    band = band_lines(shaped(pullover(), front="open"), "neckband")
    ways = [re.findall(r"across|rows|along the steps", line) for line in band if "front: " in line]
    assert ways == [["across", "along the steps", "rows"], ["rows", "along the steps", "across"]]


def test_the_rate_of_each_edge_leads_to_its_stitches_and_they_add_up():
    """One for each stitch that lies across, the rate for each row, to half a stitch."""
    seen = set()
    for project, hem in zip(islice(designs(), 0, None, 17), cycle(EDGINGS)):
        for piece, along in picked(plan(shaped(project, hem=hem))):
            assert along, piece.name
            assert sum(part.stitches for part in along) == piece.rows[0].after, (piece.name, project)
            by_edge = {part.edge: part for part in along}
            assert len(by_edge) == len(along)
            for part in along:
                each, rows = ceil(part.slope / part.sides), part.rows_above / part.sides
                leads = part.rate * Fraction(rows) + beyond_rate(part.rate, each, rows)
                assert not part.rows_above or abs(leads - each) <= HALF, (part, project)
                assert part.rate.denominator <= 10, part
                other = by_edge.get(part.edge.replace("left", "right"), part)
                assert part.stitches == other.stitches, (part, other)
                seen.add(part.edge)
    assert seen == {
        "armhole", "back", "front", "front edge", "left front", "left front edge", "left sleeve", "point",
        "right front", "right front edge", "right sleeve",
    }  # fmt: skip


@pytest.mark.parametrize("neckline", ["crew", "v", "scoop"])
@pytest.mark.parametrize("hem", EDGINGS)
def test_edges_have_the_rows_and_stitches_of_the_pieces(neckline, hem):
    now = plan(shaped(pullover(), neckline=neckline, hem=hem))
    along = {part.edge: part for part in piece_of(now.made, "neckband").picked_up.along}
    shoulder = piece_of(now.made, "front, left shoulder")
    middle = sum(e.stitches for e in piece_of(now.made, "front").rows[-1].events if e.where == "centre")
    back = sum(e.stitches for e in piece_of(now.made, "back").rows[-1].events if e.where == "centre")

    assert along["back"].level == back
    if neckline == "v":
        assert along["left front"].rows == along["right front"].rows == len(shoulder.rows)
        assert along["left front"].level == 0
    else:
        assert along["front"].rows == 2 * len(shoulder.rows)
        assert along["front"].level == middle


def test_a_rate_is_along_rows_that_the_steps_leave_and_too_few_of_them_are_not_named():
    """Counted by hand: one stitch is in each step, so the rows beside the steps have no others."""
    project = shaped(pullover(), construction="set-in", neckline="crew")
    now, band = plan(project), band_lines(project, "neckband")
    sides = (piece_of(now.made, f"front, {side} shoulder").rows for side in ("left", "right"))
    stepped = ([any(e.do == "bind-off" and "neck" in e.where for e in r.events) for r in rows] for rows in sides)
    least, most = sorted(rows[::-1].index(True) for rows in stepped)

    front, back = (next(line for line in band if where in line) for where in ("around the front", "across the back"))
    assert (
        f"along the rows between the shoulder and the steps ({least} rows on one side, {most} on the other; about "
        in front
    )
    steps = [e.stitches for r in piece_of(now.made, "back, left shoulder").rows for e in r.events if "neck" in e.where]
    whole, stepped, beside = map(
        int, re.search(r"(\d+) along the curve \((\d+) from .+ steps, (\d+) from the rows", back).groups()
    )
    assert (stepped, stepped + beside) == (sum(steps), whole)
    assert not re.search(r"\d rows?", back)


def test_the_top_of_a_raglan_sleeve_gives_one_stitch_for_each_of_its_own():
    now = plan(shaped(pullover(), construction="raglan-from-hem"))
    along = {part.edge: part for part in piece_of(now.made, "neckband").picked_up.along}
    sleeve = piece_of(now.made, "left sleeve").bound_off - 2  # a stitch at each edge is in the seam

    assert along["left sleeve"] == PickedUp("left sleeve", sleeve, sleeve)
    assert along["back"].stitches == along["back"].level == piece_of(now.made, "back").bound_off - 2


@pytest.mark.parametrize("darts", [None, "yes"])
def test_a_front_band_goes_along_every_row_of_the_front_and_the_neckband(darts):
    """A bust dart turns at the side: at the front edge its rows are there, and the band needs stitches for them."""
    body = Body(source="table", table="women", size="M", high_bust_cm=88.0, chest_cm=100.0)
    now = plan(shaped(pullover(body=body), construction="set-in", front="open", bust_darts=darts))
    front, band = piece_of(now.made, "right front"), piece_of(now.made, "right front band")
    neck = next(r.row for r in front.rows if any(e.where == "neck-right" for e in r.events))
    (edge,) = band.picked_up.along

    assert edge.rows == neck - 1 + len(piece_of(now.made, "neckband").rows)
    assert 0.95 <= edge.stitches / (edge.rows / 28 * 20) <= 1.03  # method: to the repeat, ribs rather fewer


def test_an_armhole_band_is_as_long_as_its_armhole():
    """Decreases of an armhole are in the length of its slope: they are not picked up once more."""
    now = plan(shaped(pullover(), construction="set-in", sleeve="none"))
    cloth, (along,) = now.gauge.cloth, piece_of(now.made, "left armhole band").picked_up.along
    back = piece_of(now.made, "back")
    underarm = next(e.stitches for r in back.rows for e in r.events if e.do == "bind-off" and e.where == "left")
    straight_cm = 2 * now.made.finished_cm["armhole_depth"] + cloth.across_cm(2 * underarm)

    assert along.level == 2 * underarm - 2  # one of each piece is in the side seam
    assert straight_cm < cloth.across_cm(along.stitches) < 1.08 * straight_cm


@pytest.mark.parametrize(
    ("wishes", "band", "along"),
    [
        ({"construction": "raglan-from-hem", "worked": "flat"}, "neckband", {"back", "front", "front, left shoulder", "front, right shoulder", "left sleeve", "right sleeve"}),
        ({"construction": "raglan-from-hem", "worked": "flat", "front": "open"}, "left front band", {"left front", "neckband"}),
        ({"construction": "raglan-from-neck", "worked": "round"}, "neckband", {"yoke, top"}),
        ({"construction": "raglan-from-neck", "front": "open", "neckline": "v"}, "front and neck band", {"yoke", "body"}),
        ({"construction": "round-yoke", "front": "open"}, "right front band", {"body", "yoke", "neckband"}),
        ({"construction": "set-in", "worked": "round", "sleeve": "none"}, "left armhole band", {"body", "back", "back, left shoulder", "front", "front, left shoulder"}),
    ],
)  # fmt: skip
def test_a_band_goes_along_these_pieces_and_no_others(wishes, band, along):
    """Of a sewn raglan the tops of the sleeves are a part of the neck; from the neck down it is all in the first rows
    (common practice, no source).
    """
    made = plan(shaped(pullover(), **{"neckline": "crew", **wishes})).made

    assert {p.name for p in picked_up_along(piece_of(made, band), made)} == along


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_no_band_is_told_to_pick_up_fewer_on_a_slant(construction):
    for neckline in ("crew", "v"):
        for project in (
            shaped(pullover(), construction=construction, neckline=neckline, front=f) for f in ("closed", "open")
        ):
            lines = [line for words in instructions(plan(project)) for line in words.lines]
            assert not [line for line in lines if "on a slant" in line or "evenly:" in line]


# ── buttonholes ──────────────────────────────────────────────────────────────────────────────────────


@cache
def open_fronts(hem: str) -> tuple[Plan, ...]:
    """Every published size with an open front, in all constructions and necklines in turn."""
    shapes = cycle((c, n) for n in ("crew", "v") for c in CONSTRUCTIONS)
    found = []
    for (table, size), gauge in zip(SIZES, cycle((12.0, 18.0, 22.0, 28.0, 34.0))):
        base = pullover(swatch=(swatch(gauge, gauge * 1.4),), body=Body(source="table", table=table, size=size))
        for construction, neckline in islice(shapes, 7):
            wishes = {"construction": construction, "neckline": neckline, "front": "open", "hem": hem}
            length = offered_lengths()[table, size]
            now = plan(shaped(base, length_cm=length, hem_cm=3.0, cuff_cm=3.0, **wishes))
            if now.made is not None and now.made.pieces:
                found.append(now)
    return tuple(found)


def holes(now: Plan) -> tuple[int, list[int]]:
    """Stitches of the buttonhole row, and those before each hole, counted from the words."""
    band = next(p for p in now.made.pieces if "buttonholes" in p.key_counts)
    row = next(r for r in band.rows if any(e.do == "bind-off" for e in r.events))
    told = re.search(r"buttonholes \((.+)\)", row_text(band, row, now.project))[1]
    at, found = 0, []
    for step in steps_in(told):
        found += [at] if step == "bind off 2" else []
        at += stitches_of(step)[0]
    return at, found


@pytest.mark.parametrize(("hem", "repeat", "purl"), [("rib-2x2", 4, (2, 3)), ("rib-1x1", 2, (1,))])
def test_buttonholes_lie_in_the_purl_columns_of_a_rib(hem, repeat, purl):
    """Right-side rows begin with the knit stitches, k2 or k1 (common practice, no source)."""
    tried = 0
    for now in open_fronts(hem):
        across, found = holes(now)
        assert len(found) >= 2
        for at in found:
            assert [at + i for i in range(len(purl)) if (at + i) % repeat not in purl] == [], now.project
        gaps = [b - a for a, b in pairwise(found)]
        assert len(set(gaps)) <= 1, (found, now.project)  # all as far apart as each other
        assert all(gap % repeat == 0 for gap in gaps)
        apart_cm = gaps[0] / now.gauge.stitches.per_10cm * 10
        edge_cm = across / now.gauge.stitches.per_10cm * 10
        assert apart_cm < 11.5 or edge_cm < 20, (found, now.project)  # usually 6 to 10 (common practice, no source)
        usual = 0.15 * now.gauge.stitches.per_10cm  # 1.5 cm from the end (common practice, no source)
        first = found[0] if now.project.body.table != "men" else across - found[-1] - 2
        assert abs(first - usual) <= repeat + 2, (found, now.project)  # what equal distances leave
        tried += 1
    assert tried > 150


@pytest.mark.parametrize("hem", EDGINGS)
def test_a_buttonhole_leaves_an_edge_that_holds_at_both_ends_of_the_band(hem):
    """About 1 cm, and three stitches at least: a button pulls an edge of one stitch out (common practice, no source).

    In k2, p2 rib a hole may come after the first two knit stitches.
    """
    bands = 0
    for now in open_fronts(hem):
        across, found = holes(now)
        if any(p.name == "front and neck band" for p in now.made.pieces):
            continue  # whose other end is in the neck
        least = 2 if hem == "rib-2x2" else max(3, round(0.1 * now.gauge.stitches.per_10cm))
        assert min(found[0], across - found[-1] - 2) >= least, (across, found, now.project)
        bands += 1
    assert bands > 90


@pytest.mark.parametrize("hem", RIBS)
def test_buttonholes_mirror_at_both_ends_of_a_front(hem):
    """As a knitter would send back a band that begins with six stitches and ends with ten (common practice, no source);
    in k2, p2 rib not where a repeat more or fewer than the edge asks for would pucker it."""
    ends = []
    for now in open_fronts(hem):
        across, found = holes(now)
        if any(p.name == "right front band" for p in now.made.pieces):
            ends.append(abs(found[0] - (across - found[-1] - 2)))
            edge = now.working("front_band.stitches")
            assert 0.95 - 2 / edge.exact <= across / edge.exact <= 1.03 + 2 / edge.exact, now.project
    alike = sum(off <= 1 for off in ends)
    assert len(ends) > 90
    assert alike / len(ends) > (0.8 if hem == "rib-2x2" else 0.97), (alike, len(ends))


def test_the_buttonholes_of_a_babys_vest_are_not_at_the_very_ends_of_its_band():
    """61 stitches in k1, p1 rib of 22 to 10 cm: five holes 14 apart left one stitch at the hem and two at the neck."""
    assert buttonhole_gaps(61, 5, 22.0, "rib-1x1") == (5, 10, 10, 10, 10, 6)


@pytest.mark.parametrize("hem", EDGINGS)
def test_a_buttonhole_has_a_row_of_band_at_both_sides(hem):
    """Common practice, no source: a hole at the bind-off tears out."""
    for now in open_fronts(hem):
        band = next(p for p in now.made.pieces if "buttonholes" in p.key_counts)
        opened = next(r.row for r in band.rows if any(e.do == "bind-off" for e in r.events))
        closed = next(r.row for r in band.rows if any(e.do == "cast-on" for e in r.events))
        assert closed == opened + 1
        assert opened >= 3, now.project  # after the pick-up row and one more
        assert closed < band.last_row, now.project
        assert band.rows[opened - 1].side == "RS"


@pytest.mark.parametrize("hem", EDGINGS)
def test_fronts_leave_as_much_room_as_the_band_that_is_knitted_takes(hem):
    """Bands lie on each other: back, both fronts and one band make the chest, within half a stitch of each front."""
    for now in open_fronts(hem):
        cloth = now.gauge.cloth
        band = next(p for p in now.made.pieces if p.name in ("right front band", "front and neck band"))
        band_cm = cloth.rows_cm(band.rows)
        chest, across = now.made.finished_cm["chest"], now.working("body.stitches").count
        assert chest == pytest.approx(cloth.across_cm(2 * across), abs=cloth.across_cm(1) + 1e-9)
        assert chest - band_cm == pytest.approx(
            cloth.across_cm(across + 2 * now.working("front.half_stitches").count), abs=1e-9
        )


# ── the first row of a rib, garter rounds, and binding off ───────────────────────────────────────────


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
@pytest.mark.parametrize("hem", RIBS)
def test_the_first_row_of_a_rib_uses_every_stitch(construction, hem):
    for neckline in ("crew", "v"):
        for front in ("closed", "open"):
            wishes = {"construction": construction, "neckline": neckline, "front": front, "hem": hem}
            for piece, _ in picked(plan(shaped(pullover(), **wishes))):
                used = [stitches_of(step) for step in first_rib(piece)]
                assert sum(before for before, _ in used) == piece.rows[1].before
                assert sum(after for _, after in used) == piece.rows[1].after


def test_the_first_round_of_a_v_band_is_exact_and_its_point_is_explained_where_it_is_worked():
    twos = " ".join(band_lines(shaped(pullover(), neckline="v"), "neckband"))
    ones = " ".join(band_lines(shaped(pullover(), neckline="v", hem="rib-1x1"), "neckband"))

    assert re.search(r"Round 2: k2, p2 rib: .*p1, k2tog, ssk, p1, .*\. \d+ stitches", twos)
    assert "Mark the two stitches at the point of the V, one on each front" in twos
    assert re.search(r"Round 2: k1, p1 rib: .*\[p1, k1\] \d+ times, s2kp, \[k1, p1\]", ones)
    assert "1 at the point of the V: mark it." in ones
    assert "shift" not in twos + ones
    for told, left_over in ((twos, 2), (ones, 1)):  # of the left front: the marked one of two and the one beside it
        left = int(re.search(r"(\d+) along the neck edge of the left front", told)[1])
        before = re.search(r"Round 2: k\d, p\d rib: (.+?), (?:k2tog, ssk|s2kp)", told)[1]
        assert sum(stitches_of(step)[0] for step in steps_in(before)) == left - left_over


MITRED = {
    "a V in k2, p2": ({}, 1),
    "a V in k1, p1": ({"hem": "rib-1x1"}, 1),
    "a wide, shallow V": ({"neck_width_cm": 26.0, "neck_depth_cm": 10.0}, 2),
    "a V in garter stitch": ({"hem": "garter"}, 2),
}


@pytest.mark.parametrize("name", MITRED)
def test_the_band_of_a_v_is_mitred_often_enough_to_lie_flat(name):
    """In a rib on every round, or it stands away from the point; on every second one where garter stitch is purled
    between, or where the V is wider than deep (common practice, no source). By geometry each side of the point loses
    g/h · depth/half width stitches a round, which the rounds here must come to at least a third of."""
    changes, every = MITRED[name]
    now = plan(shaped(pullover(), neckline="v", **changes))
    band = piece_of(now.made, "neckband")
    at = [row.row for row in band.rows if any(e.where == "centre" for e in row.events)]
    done, cloth = now.made.finished_cm, now.gauge.cloth
    steep = 2 * done["front_neck_depth"] / done["neck_width"]

    assert {after - before for before, after in pairwise(at)} == {every}
    assert at[0] <= 3
    assert at[-1] > band.last_row - every
    assert 1 / every > cloth.stitches_per_10cm / cloth.rows_in(band.rows[1].fabric) * steep / 3


@pytest.mark.parametrize(("table", "size", "asked"), [("babies", "12 months", False), ("children", "2", True)])
def test_a_head_must_pass_the_edge_of_a_v_that_is_bound_off(table, size, asked):
    """Its tightest round, as the mitre takes two stitches of each (a rib opens to 1.4 of its length, from memory). Where
    the head passes only so, the point is mitred on every second round; where it does not even then, that is said."""
    body = Body(source="table", table=table, size=size)
    now = plan(shaped(pullover(body=body), neckline="v", length_cm=35.0, hem_cm=3.0, cuff_cm=3.0))
    band = piece_of(now.made, "neckband")
    at = [row.row for row in band.rows if any(e.where == "centre" for e in row.events)]
    edge_cm = now.gauge.cloth.across_cm(band.bound_off)

    assert {after - before for before, after in pairwise(at)} == {2}
    assert (1.4 * edge_cm < now.wearer.cm("head")) is asked
    assert ("head-does-not-pass" in {c.code for c in now.checks}) is asked


def test_garter_in_the_round_goes_on_with_a_purl_round_after_the_pick_up_round():
    lines = band_lines(shaped(pullover(), hem="garter"), "neckband")
    rounds = next(line for line in lines if line.startswith("Rounds 2 to"))

    assert "(alternate purl and knit rounds); the pick-up round counts as a knit round" in rounds


def test_a_garter_v_is_decreased_on_knit_rounds():
    band = piece_of(plan(shaped(pullover(), neckline="v", hem="garter")).made, "neckband")

    assert {r.row % 2 for r in band.rows if any(e.do == "decrease" for e in r.events)} == {1}


@pytest.mark.parametrize(
    ("wishes", "how"),
    [
        ({"hem": "rib-2x2"}, "in rib"),
        ({"hem": "rib-1x1", "front": "open"}, "in rib"),
        ({"hem": "garter", "front": "open"}, "knitwise"),
    ],
)
def test_bands_are_bound_off_in_their_own_stitch(wishes, how):
    now = plan(shaped(pullover(), **wishes))
    for words in instructions(now):
        if words.piece.name.endswith("band"):
            assert re.fullmatch(rf"Bind off all \d+ stitches loosely {how}\.", words.lines[-1])


def test_a_garter_band_in_the_round_is_bound_off_as_its_next_round_would_be_worked():
    """The bind-off takes the place of the next round, so that the last ridge is whole."""
    for rows_per_10cm in (20.0, 22.0, 24.0, 26.0, 28.0, 30.0):
        project = shaped(pullover(swatch=(swatch(16.0, rows_per_10cm),)), hem="garter")
        rows = len(piece_of(plan(project).made, "neckband").rows)
        assert band_lines(project, "neckband")[-1].endswith("purlwise." if rows % 2 else "knitwise.")


@pytest.mark.parametrize("construction", ["raglan-from-neck", "raglan-from-hem", "set-in"])
def test_the_two_fronts_of_a_neck_are_told_in_the_same_words(construction):
    """The left edge of a neck has a row more than the right one; a knitter who reads both hears one way."""
    for size in ("XS", "S", "M"):
        design = pullover(body=Body(source="table", table="women", size=size))
        band = band_lines(shaped(design, construction=construction, neckline="crew", front="open"), "neckband")
        told = {
            side: next(line for line in band if f"along the neck edge of the {side} front:" in line)
            for side in ("left", "right")
        }
        end = "shoulder" if construction == "set-in" else "raglan line"
        ways = ["along the curve", f"rows between the {end} and the steps"]
        assert [way in told["left"] for way in ways] == [way in told["right"] for way in ways]
        assert sum(way in told["left"] for way in ways) == 1


@pytest.mark.parametrize(("worked", "shown"), [("flat", 2), ("round", 0)])
def test_a_side_seam_takes_its_stitches_from_the_underarm_of_an_armhole_band(worked, shown):
    """Sewn one stitch in from each edge, so that one of each underarm's bound-off stitches is inside (common practice)."""
    now = plan(shaped(pullover(), construction="set-in", sleeve="none", neckline="crew", worked=worked))
    under = [
        next(e.stitches for r in p.rows for e in r.events if e.do == "bind-off" and e.where == "left")
        for p in (piece_of(now.made, "back"), piece_of(now.made, "front"))
    ]
    band = piece_of(now.made, "left armhole band")
    assert band.picked_up.along[0].level == sum(under) - shown
