"""At the needles by command: rows, counts, weighings and ways, on disk after each."""

import json
import re
from dataclasses import replace
from datetime import date

import pytest

from tests.factory import piece_of, pullover, readings, shaped, swatch
from workshop import saves
from workshop.at_needles import NotKnitted, Said, at_row, counted, taken_in, weighed
from workshop.cli import main
from workshop.core.constructions import CONSTRUCTIONS
from workshop.core.knitting import standing
from workshop.core.knitting.facts import noted
from workshop.core.knitting.needles import at_the_needles
from workshop.core.making.ledger import CannotBeKnitted
from workshop.core.making.roles import NECKBAND, SLEEVE
from workshop.core.plan import plan
from workshop.core.plan_mark import plan_mark
from workshop.prints.document import measurements
from workshop.prints.document import summary as summary_of
from workshop.prints.machine import summary_data
from workshop.project import WorkedEvent
from workshop.session import opened
from workshop.words.answers.of_garment import budget_lines
from workshop.words.at_needles import before_counting, row_text
from workshop.words.at_needles import told as told_at
from workshop.words.before import before_knitting

DEMO = saves.demo_folder() / "harbour-pullover.toml"
TODAY = date(2026, 3, 14)
CLOSER = ("27.5 over 12", "27 over 12", "27.25 over 12")
"""Stitches on the piece, about 4 % more than on the swatch."""


@pytest.fixture
def file(tmp_path):
    path = tmp_path / "jumper.toml"
    path.write_bytes(DEMO.read_bytes())
    return path


@pytest.fixture
def knit(file, capsys):
    """``workshop knit`` with options: its exit code, standard output and error."""

    def run(*options):
        code = main(["knit", str(file), *options])
        told = capsys.readouterr()
        return code, told.out, told.err

    return run


def told(knit, *options):
    """The data after a command that went well."""
    code, out, err = knit(*options, "--json")
    assert (code, err) == (0, "")
    return json.loads(out)["knitting"]


def places(option, texts):
    return [part for text in texts for part in (option, text)]


def test_rows_done_one_back_and_at_a_row(knit, file):
    def back(data):
        return next(p for p in data["pieces"] if p["name"] == "back")

    assert back(told(knit, "--piece", "back", "--row", "62"))["rows_knitted"] == 62
    assert back(told(knit, "--done", "2"))["rows_knitted"] == 64
    standing = back(told(knit, "--back", "1"))
    assert standing["rows_knitted"] == 63
    assert standing["next"]["row"] == 64
    assert standing["next"]["text"]
    assert [(k.piece, k.rows) for k in saves.load(file).knitting] == [("back", 63)]


@pytest.mark.parametrize("construction", ["set-in", "raglan-from-hem"])
def test_what_a_later_answer_left_no_rows_is_finished_once_the_next_piece_is_begun(construction):
    """A longer body that is answered after that gives it none: the front stands on the rows that are there."""
    long, short = (shaped(pullover(), construction=construction, worked="round", length_cm=cm) for cm in (62.0, 58.0))
    body, rows = piece_of(plan(long).made, "body"), len(piece_of(plan(short).made, "body").rows)
    sleeves = [p for p in plan(short).made.pieces if p.role is SLEEVE]
    begun = replace(short, knitting=(noted(body, rows), *(noted(p, len(p.rows)) for p in sleeves)))
    now = plan(begun)
    upper = next(p for p in now.made.pieces if p.parent is not None and p.parent.name == "body")
    standing = next(p for p in at_the_needles(now, date(2026, 3, 1)).pieces if p.piece is upper)
    begun = at_row(begun, now, standing, upper.rows[5].row, date(2026, 3, 1))
    again = plan(replace(begun, garment=long.garment)).made

    assert len(piece_of(again, "body").rows) == rows
    assert piece_of(again, upper.name).rows[:6] == piece_of(plan(begun).made, upper.name).rows[:6]
    assert [m.what for m in piece_of(again, "body").marks] == [m.what for m in body.marks]


def test_rows_that_are_knitted_stay_in_the_summary_whatever_is_answered(knit, file, capsys):
    def rows():
        main(["summary", str(file), "--json"])
        data = json.loads(capsys.readouterr().out)
        return next(p["rows"] for p in data["pieces"] if p["name"] == "back")

    before = rows()
    told(knit, "--piece", "back", "--row", "30")
    project = saves.load(file)
    text = file.read_text("utf-8").replace("length_cm = 60.0", "length_cm = 66.0")
    assert text != file.read_text("utf-8") or project.garment.length_cm != 60.0
    file.write_text(text, "utf-8")

    assert rows()[:30] == before[:30]
    assert rows() != before


def test_a_real_difference_is_told_with_ways_and_the_one_taken_counts(knit):
    data = told(knit, "--piece", "back", "--row", "42", *places("--count", CLOSER))
    compared = data["compared"]["stitches"]

    assert compared["real"]
    assert compared["low"] < compared["difference_percent"] < compared["high"]
    assert data["compared"]["rows"] is None
    assert data["yarn"] is None
    chest = data["predicted_cm"]["chest"]
    assert chest["low"] < chest["likely"] < chest["high"] < 104
    assert [way["recommended"] for way in data["ways"]].count(True) == 1
    best = next(way for way in data["ways"] if way["recommended"])
    assert best["chest_cm"]["likely"] == pytest.approx(104, abs=1)

    after = told(knit, "--take", best["code"])
    back = next(p for p in after["pieces"] if p["name"] == "back")
    assert back["rows_knitted"] == 42 - best["rows_ripped"]


def test_where_nothing_differs_it_goes_on(knit):
    same = ("26 over 12", "26.25 over 12", "26 over 12")
    data = told(knit, "--piece", "back", "--row", "42", *places("--count", same))

    assert not data["compared"]["stitches"]["real"]
    assert [way["code"] for way in data["ways"] if way["recommended"]] == ["go-on"]


def test_yarn_left_counts_before_any_weighing_by_the_labels(knit):
    told(knit, "--piece", "back", "--row", "100")
    yarn = told(knit, "--yarn-left", "560")["yarn"]

    assert yarn["left_g"] == 560
    assert yarn["used_g"] > 0
    assert yarn["needed_g"]["low"] < yarn["needed_g"]["likely"] < yarn["needed_g"]["high"]
    assert yarn["verdict"] in ("enough", "probably", "open", "short")


def test_yarn_that_is_in_the_swatches_is_in_no_piece(knit, file):
    """Balls are counted as they were bought; what was swatched of them was never knitted into the body."""
    project = saves.load(file)
    swatched = sum(s.grams or 0.0 for s in project.swatch)
    balls, ball_g = plan(project).yarn.balls, project.design_yarn.ball_g
    told(knit, "--piece", "back", "--row", "100")
    yarn = told(knit, "--yarn-left", "560")["yarn"]

    assert swatched > 0
    assert yarn["used_g"] == pytest.approx(balls * ball_g - swatched - 560)


def test_yarn_weighed_before_the_first_row_is_the_start_and_says_nothing_of_the_rest(knit, file):
    """No stitch was knitted then, so no verdict comes of it; the labels are not needed any more."""
    told(knit, "--yarn-left", "690")
    assert saves.load(file).weighing[0].stitches == 0
    assert told(knit, "--piece", "back", "--row", "100")["yarn"] is None
    yarn = told(knit, "--yarn-left", "560")["yarn"]

    assert (yarn["basis"], yarn["used_g"]) == ("difference", pytest.approx(130))
    assert yarn["needed_g"]["likely"] > 350


def test_a_weighing_that_tells_no_stitches_is_of_the_rows_there_are(knit, file):
    """As a weighing reads in a file that was written by hand, or before that was noted."""
    told(knit, "--piece", "back", "--row", "100")
    known = told(knit, "--yarn-left", "560")["yarn"]
    project = saves.load(file)
    weighing = tuple(replace(w, stitches=None, had_g=None) for w in project.weighing)
    saves.save(replace(project, weighing=weighing), file)

    assert told(knit)["yarn"] == known


def test_a_piece_that_was_weighed_once_is_used_with_what_was_knitted_since(file):
    project = saves.load(file)
    project = taken_in(project, Said("back", row=60), TODAY)
    for left_g, pieces_g, row in ((600.0, 60.0, 60), (580.0, None, 60), (560.0, None, 80)):
        project = taken_in(project, Said("back", row=row), TODAY)
        now = plan(project)
        project = weighed(project, now, at_the_needles(now, TODAY), left_g, TODAY, pieces_g)
        needles = at_the_needles(plan(project), TODAY)
        assert needles.yarn_basis == "piece"
        assert needles.yarn.used_g == (60 if row == 60 else 80)  # 20 g went elsewhere: no stitch was knitted of them


def test_balls_that_are_added_are_more_yarn_and_begin_a_new_difference(knit, file):
    def with_balls(balls):
        project = saves.load(file)
        saves.save(replace(project, yarn=(replace(project.yarn[0], balls=balls), *project.yarn[1:])), file)

    with_balls(7)
    told(knit, "--yarn-left", "690")
    told(knit, "--piece", "back", "--row", "100")
    before = told(knit, "--yarn-left", "560")["yarn"]
    assert knit("--yarn-left", "700")[0] == 1  # nobody has said that there are more
    with_balls(9)
    assert told(knit)["yarn"] == before
    assert "Weigh all the yarn again" in knit()[1]
    assert knit("--yarn-left", "800")[0] == 1  # nor are there so many
    out = knit("--yarn-left", "750")[1]
    after = told(knit)["yarn"]

    assert "The next weighing will be compared with these 750 g" in " ".join(out.split())
    assert (after["used_g"], after["left_g"], after["needed_g"]) == (before["used_g"], 750, before["needed_g"])
    told(knit, "--piece", "back", "--row", "147")
    last = told(knit, "--yarn-left", "690")["yarn"]
    assert (last["basis"], last["used_g"]) == ("difference", pytest.approx(130 + 60))


def test_yarn_that_was_ripped_back_is_left_again(knit):
    told(knit, "--piece", "back", "--row", "60")
    told(knit, "--yarn-left", "600")
    told(knit, "--row", "100")
    told(knit, "--yarn-left", "560")
    told(knit, "--row", "60")

    assert told(knit, "--yarn-left", "590")["yarn"]["left_g"] == 590


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--row", "500"], "the back has rows 1 to 147"),
        (["--row", "-3"], "the back has rows 1 to 147"),
        (["--back", "1"], "the back has rows 1 to 147"),
        (["--done", "-2"], "say how many"),
        (["--piece", "pocket"], "isn't a piece of this plan"),
        (["--piece", "sleeve"], "could be several: left sleeve, right sleeve"),
        (["--piece", "right shoulder"], "could be several"),
        (["--piece", "back, left shoulder", "--row", "149"], "the back comes first; it is at row 0 of 147"),
        (["--count", "5 over 1"], "in inches?"),
        (["--count", "31 over 12"], "swapped?"),
        (["--count", "200 over 12"], "count again"),
        (["--count", "many"], "isn't a count"),
        (["--rows", "0 over 12"], "more than nought"),
        (["--yarn-left", "5000"], "all balls together"),
        (["--yarn-left", "-4"], "isn't a weight"),
        (["--yarn-left", "nan"], "isn't a weight"),
        (["--yarn-left", "inf"], "isn't a weight"),
        (["--take", "sides"], "count on the piece first"),
    ],
)
def test_what_cannot_be_is_one_line_and_changes_nothing(knit, file, options, says):
    before = file.read_bytes()
    code, out, err = knit(*options)

    assert code == 1
    assert out == ""
    assert says in err
    assert err.count("\n") == 1
    assert file.read_bytes() == before


def test_sleeves_come_before_the_yoke_that_joins_them(knit, file):
    text = file.read_text("utf-8")
    assert 'construction = "drop-shoulder"' in text
    file.write_text(text.replace('construction = "drop-shoulder"', 'construction = "raglan-from-hem"'), "utf-8")
    file.write_text(file.read_text("utf-8").replace('worked = "flat"', 'worked = "round"'), "utf-8")
    pieces = {p["name"]: p["rows_planned"] for p in told(knit)["pieces"]}
    for name in ("body", "left sleeve"):
        told(knit, "--piece", name, "--row", str(pieces[name]))

    code, _, err = knit("--piece", "yoke", "--row", str(pieces["body"] + 1))
    assert code == 1
    assert "the right sleeve comes first; it is at row 0" in err

    told(knit, "--piece", "right sleeve", "--row", str(pieces["right sleeve"]))
    told(knit, "--piece", "yoke", "--row", str(pieces["body"] + 1))
    code, _, err = knit("--piece", "left sleeve", "--back", "1")
    assert code == 1
    assert "the yoke has been begun" in err


def test_a_way_of_an_older_count_is_not_taken(knit):
    told(knit, "--piece", "back", "--row", "42", *places("--count", CLOSER))
    told(knit, "--done", "4")
    code, _, err = knit("--take", "begin-again")

    assert code == 1
    assert "Count again" in err


def test_a_damaged_count_of_rows_is_left_out_and_told(file, knit):
    told(knit, "--piece", "back", "--row", "42")
    file.write_text(file.read_text("utf-8").replace("rows = 16\n", "rows = 100000000\n"), "utf-8")

    code, out, _ = knit()

    assert code == 0
    assert "0 of 147 rows" in out


def test_without_options_a_few_lines_say_where_one_is(knit):
    told(knit, "--piece", "back", "--row", "16")
    code, out, _ = knit()

    assert code == 0
    assert out.splitlines()[0].startswith("Back: 16 of 147 rows")
    assert "Row 17" in out


def test_an_earlier_version_brings_back_answers_and_no_rows(knit, file):
    session = opened(file)
    session.change(replace(session.project, garment=replace(session.project.garment, length_cm=64.0)))
    told(knit, "--piece", "back", "--row", "40")
    session = opened(file)
    assert len(session.earlier()) == 1

    session.bring_back(session.earlier()[0])

    now = saves.load(file)
    assert now.garment.length_cm != 64.0
    assert [(k.piece, k.rows) for k in now.knitting] == [("back", 40)]


def test_the_gauge_to_knit_to_is_that_of_the_piece_once_its_way_is_taken(knit, file):
    """27.25 over 12 cm on the piece: whoever goes on like that is not told to change needles."""
    told(knit, "--piece", "back", "--row", "42", *places("--count", CLOSER))
    told(knit, "--take", "above-edging")

    gauge = opened(file).plan.gauge
    assert gauge.unwashed_stitches.per_10cm == pytest.approx(27.25 / 12 * 10, rel=0.001)
    assert gauge.width.percent == pytest.approx(opened(DEMO).plan.gauge.width.percent)


def test_a_hem_that_would_no_longer_pass_the_hips_is_worth_doing_something_about(knit, file):
    """2 % closer: two and a half centimeters at the chest are within its ease, but the hips are 103 cm around."""
    base = saves.load(file)
    for hip_cm, best, told_of in ((96.0, "go-on", False), (103.0, "above-edging", True)):
        saves.save(replace(base, body=replace(base.body, hip_cm=hip_cm)), file)
        knit("--piece", "back", "--row", "42", *places("--count", ("26.6 over 12", "26.5 over 12", "26.6 over 12")))
        code, out, _ = knit()
        assert code == 0
        assert (f"tight on hips of {hip_cm:g} cm" in out) == told_of
        assert f"* {best}:" in out


ROWS_TOO = ("34.5 over 12", "34.25 over 12", "34.5 over 12")


@pytest.mark.parametrize("way", ["go-on", "rows-anew", "other-pieces", "above-edging"])
def test_the_finished_measurements_follow_what_is_being_knitted(knit, file, way):
    """On every view: the table, the data, the ease."""
    told(knit, "--piece", "back", "--row", "42", *places("--count", CLOSER), *places("--rows", ROWS_TOO))
    wanted = next(w for w in told(knit)["ways"] if w["code"] == way)
    data = told(knit, "--take", way)
    now = opened(file).plan

    assert data["planned_cm"]["chest"] == pytest.approx(now.made.finished_cm["chest"], abs=0.001)
    for part in ("chest", "length"):
        assert now.finished_cm[part] == pytest.approx(wanted[f"{part}_cm"]["likely"], abs=0.05)
        assert data["predicted_cm"][part]["likely"] == pytest.approx(wanted[f"{part}_cm"]["likely"], abs=0.05)
    instead = re.search(r"would have (\d+) rows instead of", wanted["text"])
    assert not instead or next(p for p in data["pieces"] if p["name"] == "back")["rows_planned"] == int(instead[1])
    rows_differ = data["compared"]["rows"]["real"]
    assert bool(instead) == (way == "rows-anew" or (way != "go-on" and rows_differ))  # what may be chance is left alone
    assert now.ranges["chest"].low < now.finished_cm["chest"] < now.ranges["chest"].high
    assert now.ease["chest"].likely == pytest.approx(now.finished_cm["chest"] - now.wearer.cm("chest"))
    pages = repr(measurements(now))
    assert f"{now.finished_cm['chest']:.1f}".removesuffix(".0") + " cm" in pages
    other = {part for part, cm in now.finished_cm.items() if abs(cm - now.made.finished_cm[part]) > 0.1}
    assert ("how your knitting will come out" in pages) == bool(other)
    assert ("chest" in other) == (way != "above-edging")


@pytest.mark.parametrize(("way", "as_written"), [("", True), ("go-on", True), ("rows-anew", False)])
def test_measurements_that_follow_a_count_say_which_and_whether_the_instructions_are_others(
    knit, file, way, as_written
):
    """Two prints of one plan show two chests: nobody is to take them for two plans."""
    told(knit, "--piece", "back", "--row", "42")
    before = opened(file).plan
    told(knit, *places("--count", CLOSER), *places("--rows", ROWS_TOO))
    if way:
        told(knit, "--take", way)

    now = opened(file).plan
    pages = repr(measurements(now))
    assert now.finished_cm["chest"] != pytest.approx(before.finished_cm["chest"], abs=1)
    assert "going by your count at row 42 of the back. The plan was for a chest of" in pages
    assert ("the instructions haven't changed." in pages) is as_written is (plan_mark(now) == plan_mark(before))


def test_the_pieces_that_are_not_begun_make_up_for_the_one_that_is_kept(knit, file):
    told(knit, "--piece", "back", "--row", "42", *places("--count", CLOSER), *places("--rows", ROWS_TOO))
    before = {p.name: p.widest for p in opened(file).plan.made.pieces}
    told(knit, "--take", "other-pieces")
    after = {p.name: p.widest for p in opened(file).plan.made.pieces}

    assert after["back"] == before["back"]
    assert after["front"] >= before["front"] + 4
    assert after["left sleeve"] > before["left sleeve"]


@pytest.mark.parametrize(
    ("wishes", "name", "row", "told"),
    [
        ({"construction": "set-in", "front": "open"}, "left front", 111, "beginning of the row: k1, ssk. At the end: k2tog, k1."),
        ({"construction": "set-in", "front": "open"}, "left front", 117, "neck edge. 38 stitches. At the end of the row: k2tog, k1."),
        ({"construction": "set-in", "front": "open"}, "right front", 117, "38 stitches. At the beginning of the row: k1, ssk."),
        ({"construction": "set-in", "front": "open"}, "left sleeve", 118, "beginning of the row: p1, p2tog. At the end: ssp, p1."),
        ({"construction": "raglan-from-neck", "worked": "round"}, "yoke, top", 1, "m1r, k1. After the marker: k1, m1l. There's no bar to lift yet, so make each new stitch with a backward loop."),
        ({"construction": "raglan-from-neck", "worked": "round", "neckline": "crew"}, "yoke, top", 9, "right neck edge. 104 stitches. Before the marker: m1r, k1. After the marker: k1, m1l. Shape the edge at the end of the row. Cast on with backward loops."),
        ({"construction": "raglan-from-neck", "worked": "round", "neckline": "crew"}, "yoke", 15, "join into a round. 152 stitches. Before the marker: m1r, k1. After the marker: k1, m1l. Cast on with backward loops."),
        ({"construction": "raglan-from-neck", "worked": "round", "neckline": "crew"}, "yoke", 60, "knit 48 (front). 200 stitches. Cast on with backward loops."),
    ],
)  # fmt: skip
def test_a_row_says_at_which_of_its_ends_it_is_shaped_and_how(wishes, name, row, told):
    """Seen from the right side a left front lies to the right, so that its right-side rows end at the neck; upside down,
    from the neck, they begin at the left front (common practice, no source).
    """
    project = shaped(pullover(), **{"worked": "flat", "neckline": "v", **wishes})
    piece = piece_of(plan(project).made, name)

    assert told in row_text(piece, next(r for r in piece.rows if r.row == row), project)


@pytest.mark.parametrize(
    ("name", "row", "told"),
    [
        ("yoke, top", 9, "Knit; increase 1 stitch on both sides of each raglan line; cast on 2 stitches"),
        ("yoke, top", 10, "Purl; cast on 2 stitches at the left neck edge. 106 stitches."),
        ("yoke", 17, "Knit; increase 1 stitch on the body side of each raglan line."),
        ("left sleeve", 61, "Knit; pick up and knit 16 stitches along the underarm"),
    ],
)
def test_a_single_row_of_stockinette_says_knit_or_purl(name, row, told):
    """Right-side rows and rounds are knit, wrong-side rows purled (common practice, no source)."""
    project = shaped(pullover(), construction="raglan-from-neck", worked="round", neckline="crew")
    piece = piece_of(plan(project).made, name)
    assert row_text(piece, next(r for r in piece.rows if r.row == row), project).startswith(told)


@pytest.mark.parametrize(
    ("row", "said"), [(10, "This is still the edging."), (30, "It's too early to count."), (62, "")]
)
def test_a_count_of_the_edging_or_close_above_it_is_nothing_to_rip_for(knit, row, said):
    """After the first 10 cm of the garment's own fabric, as the plan says before the first row."""
    _, out, _ = knit("--piece", "back", "--row", str(row), *places("--count", CLOSER))

    early = next((line for line in out.splitlines() if "count again before you rip" in line), "")
    assert early.startswith(said)
    assert bool(early) is bool(said)
    assert not early or "Knit to about row 42" in early  # 16 rows of rib and 26 to 10 cm
    assert ("The finished chest will be" in out) is not bool(early)
    assert ("begin-again" in out) is not bool(early)
    _, out, _ = knit("--piece", "back", "--json")
    assert [w["code"] == "go-on" for w in json.loads(out)["knitting"]["ways"] if w["recommended"]] == [bool(early)]


SECOND_COUNT = {
    "drop-shoulder": 76,
    "square-armhole": 73,
    "set-in": 75,
    "raglan-from-hem": 73,
    "raglan-from-neck": 111,
    "round-yoke": 72,
}
"""Halfway from the first count to the underarm, after rows 108, 102, 106, 101 and 100; of a body from row 61 to 161."""


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
@pytest.mark.parametrize("worked", ["flat", "round"])
def test_the_print_and_the_needles_name_the_same_row_for_the_first_count(construction, worked):
    """28 rows to 10 cm: 28 of a yoke from the neck, which has no edging; of what begins with 16 rows of rib 44."""
    project = shaped(pullover(), construction=construction, worked=worked)
    now = plan(project)
    when = r"near (?:row|round) (\d+) of the ([a-z]+), and again near (?:row|round) (\d+)( of the body)?"
    said = next(line for line in before_knitting(now) if line.startswith("Check your gauge "))
    named = re.match(rf"Check your gauge {when}: count both stitches and rows", said)
    assert int(named[3]) == SECOND_COUNT[construction]
    assert bool(named[4]) == (construction == "raglan-from-neck")
    row, first = int(named[1]), now.made.pieces[0]
    assert first.name.partition(",")[0] == named[2]
    assert row == (28 if construction == "raglan-from-neck" else 44)
    for at, early in ((row - 1, True), (row, False)):
        for part in now.made.pieces[: 1 if row <= first.last_row else 2]:
            project = taken_in(project, Said(piece=part.name, row=min(at, part.last_row)), date(2026, 5, 4))
        needles = at_the_needles(plan(project), date(2026, 5, 4))
        assert needles.at_hand.row == at
        assert needles.count_from == (row if early else None)
        assert ("a good moment to check your gauge" in " ".join(told_at(needles, now).further)) is not early


def test_the_counts_that_narrow_the_range_of_a_chest_are_those_that_are_read_before_the_first_row():
    """Counted over 20 cm, a swatch is surer than the hands are over the weeks; close to the underarm nobody counts twice."""
    counts = (
        reading
        for state in ("off needles", "washed")
        for along, n in (("stitches", 40), ("rows", 56))
        for reading in readings(state, along, n, n, n, over_cm=20.0)
    )
    sure = pullover(swatch=(replace(swatch(), reading=tuple(counts)),))
    for project, when in (
        (sure, "near row 44 of the back, and again near row 76"),
        (
            shaped(sure, construction="raglan-from-neck"),
            "near round 28 of the yoke, and again near round 111 of the body",
        ),
        (shaped(sure, length_cm=47.0), "near row 44 of the back"),
    ):
        now = plan(project)
        assert budget_lines(now)[-1].startswith(f"The easiest way to narrow this range is to check your gauge {when}. ")
        assert any(
            line.startswith(f"Check your gauge {when}: count both stitches and rows. ") for line in before_knitting(now)
        )


def test_a_count_that_cannot_be_is_told_in_the_knitters_unit_and_one_in_the_edging_only_that_it_is_early(knit, file):
    saves.save(replace(saves.load(file), units="in"), file)
    code, _, err = knit("--piece", "back", "--row", "62", "--count", "34 over 4")
    assert code == 1
    assert "34 over 4 in is 34 stitches per 4 in. The swatch has 22.09 per 4 in. Please count again" in err
    assert "cm" not in err
    code, _, err = knit("--piece", "back", "--row", "62", "--count", "27.5 over 12")  # from a tape in cm
    assert code == 1
    assert "27.5 over 12 in is 9.17 stitches per 4 in. The swatch has 22.09 per 4 in. Is one of them in cm?" in err

    code, out, _ = knit("--piece", "back", "--row", "10", "--count", "34 over 4")
    assert code == 0
    assert "This is still the edging." in out


@pytest.mark.parametrize("row", [None, 3])
def test_a_count_is_held_against_the_fabric_of_the_piece_that_was_counted(row, file):
    """A rib that draws in has more stitches to the length than any stockinette (common practice, no source); what the
    piece at hand is does not matter to it.
    """
    project, today = saves.load(file), date(2026, 3, 1)
    for each in plan(project).made.pieces:
        if not each.role.band:
            project = taken_in(project, Said(piece=each.name, row=each.last_row), today)
    band = taken_in(project, Said(piece="neckband", row=row, stitches=("36 over 10",)), today)
    assert [c.count for c in band.knitted("neckband").count] == [36]
    assert before_counting(at_the_needles(plan(band), today)) == "A count on the edging doesn't show your gauge."

    now = plan(band)
    back = at_the_needles(now, today).piece("back")
    with pytest.raises(NotKnitted, match="The swatch has"):
        counted(band, now, back, "stitches", ("36 over 10",), today)


@pytest.mark.parametrize(
    ("piece", "row", "known"), [("back", 10, False), ("back", 30, False), ("neckband", 5, False), ("front", 10, True)]
)
def test_a_count_that_is_not_of_the_fabric_changes_no_figure(knit, file, piece, row, known):
    """A rib of k2, p2 on the edging's needle is narrower than stockinette: nobody goes by its stitches (common practice,
    no source). What was counted on the fabric before goes on counting.
    """
    if known:
        told(knit, "--piece", "back", "--row", "60", *places("--count", CLOSER))
    project = saves.load(file)
    for each in plan(project).made.pieces if piece == "neckband" else ():
        if each.name != piece:
            project = taken_in(project, Said(piece=each.name, row=each.last_row), date(2026, 3, 1))
    saves.save(taken_in(project, Said(piece=piece, row=row), date(2026, 3, 1)), file)
    before = opened(file).plan
    needles = at_the_needles(before, date(2026, 3, 1))
    other = ("28 over 12", "28 over 12", "28.25 over 12")

    data = told(knit, *places("--count", other), *places("--rows", ROWS_TOO))

    now = opened(file).plan
    assert len(saves.load(file).knitted(piece).count) == 6
    assert (now.finished_cm, now.ranges, now.ease) == (before.finished_cm, before.ranges, before.ease)
    assert (now.yarn, now.checks, now.workings) == (before.yarn, before.checks, before.workings)
    assert summary_data(now)["steps"] == summary_data(before)["steps"]
    on = [w["code"] for w in data["ways"]]
    assert on == [w.code for w in needles.ways] if known else on == ["go-on"]
    assert data["predicted_cm"]["length"] is None
    assert (data["predicted_cm"]["chest"] is None) is not known
    assert (data["compared"] is None) is not known
    _, out, _ = knit("--piece", piece)
    assert "Take" not in out
    code, _, err = knit("--take", "above-edging")
    assert code != 0
    assert f"isn't one of your choices: {', '.join(on)}" in err
    _, out, _ = knit("--done", "1")
    assert "showed a real difference" not in out


def test_the_ways_of_a_real_difference_are_not_lost_by_a_count_that_comes_early(knit):
    """The back's count goes on counting for the front, and the ways go by it."""
    told(knit, "--piece", "back", "--row", "62", *places("--count", CLOSER))
    on = told(knit, "--piece", "front", "--row", "5")["ways"]
    assert [w["code"] for w in on if not w["recommended"]]

    early = told(knit, "--count", "28 over 12")
    assert [(w["code"], w["recommended"]) for w in early["ways"]] == [(w["code"], w["recommended"]) for w in on]
    assert early["compared"]["stitches"]["real"]
    code, out, _ = knit("--piece", "front")
    assert code == 0
    assert "count again before you rip" in out
    assert not [w["code"] for w in on if f"{w['code']}: " in out]
    assert knit("--take", "other-needle")[0] == 0


@pytest.mark.parametrize(
    ("wishes", "band", "first"),
    [
        ({"construction": "set-in", "neckline": "v"}, "front and neck band", "back"),
        ({"construction": "set-in", "neckline": "crew"}, "neckband", "back"),
        ({"construction": "set-in", "neckline": "crew"}, "left front band", "left front"),
        ({"construction": "set-in", "neckline": "crew", "sleeve": "none"}, "left armhole band", "back"),
        ({"construction": "raglan-from-neck", "neckline": "crew"}, "right front band", "yoke"),
    ],
)
def test_a_band_is_picked_up_along_edges_that_are_finished(wishes, band, first, knit, file):
    """It is counted for its edges as they are knitted; none of these has a sleeve (common practice, no source)."""
    saves.save(shaped(saves.load(file), **{"worked": "flat", "front": "open", **wishes}), file)

    code, _, err = knit("--piece", band, "--row", "2")
    assert code == 1
    assert f"the {first} comes first; it is at row 0 of" in err

    for piece in plan(saves.load(file)).made.pieces:
        below = any(p.role is SLEEVE for p in piece.lineage())
        if not below and (not piece.role.band or (piece.role is NECKBAND and band.endswith(" front band"))):
            assert knit("--piece", piece.name, "--row", str(piece.last_row))[0] == 0, piece.name
    assert knit("--piece", band, "--row", "2")[0] == 0


def test_only_the_way_back_into_a_finished_piece_is_closed_by_what_goes_on_from_it(knit, file):
    """A save may have a band that was begun beside a front at row 40."""
    base = shaped(saves.load(file), construction="set-in", worked="flat", front="open", neckline="crew")
    front, band = (piece_of(plan(base).made, name) for name in ("left front", "left front band"))
    saves.save(replace(base, knitting=(noted(front, 40), noted(band, 3))), file)

    for row in ("42", "41"):
        assert knit("--piece", "left front", "--row", row)[0] == 0
    code, _, err = knit("--piece", "left front band", "--row", "4")
    assert (code, "the left front comes first; it is at row 41" in err) == (1, True)
    assert knit("--piece", "left front band", "--row", "2")[0] == 0
    assert knit("--piece", "left front", "--row", str(front.last_row))[0] == 0
    code, _, err = knit("--piece", "left front", "--back", "1")
    assert (code, "the left front band has been begun" in err) == (1, True)


@pytest.mark.parametrize(
    ("hem", "counts", "way"),
    [
        ("rib-2x2", places("--rows", ("32 over 10", "32.25 over 10", "32 over 10")), "rows-anew"),
        ("garter", places("--rows", ("32 over 10", "32.25 over 10", "32 over 10")), "rows-anew"),
        ("garter", places("--count", ("26.9 over 12", "27 over 12", "26.9 over 12")), "other-pieces"),
    ],
)
def test_the_edging_of_the_front_has_the_rows_of_the_back_when_the_fabric_above_is_counted(
    hem, counts, way, knit, file
):
    """They meet at the side seam, and the count above says nothing of an edging that nobody counted."""
    saves.save(shaped(saves.load(file), hem=hem), file)
    knit("--piece", "back", "--row", "62", *counts)
    before = plan(saves.load(file)).made
    assert knit("--take", way)[0] == 0

    now = plan(saves.load(file)).made
    assert piece_of(now, "front").stitches_worked > piece_of(before, "front").stitches_worked
    assert [p.edging_rows for p in now.pieces] == [p.edging_rows for p in before.pieces]


def test_a_count_that_was_not_too_early_is_none_once_its_rows_are_taken(knit):
    """By the rows that were counted the first 10 cm of fabric end three rows higher than by those of the swatch."""
    knit("--piece", "back", "--row", "42", *places("--rows", ("32 over 10", "32.25 over 10", "32 over 10")))
    assert knit("--take", "rows-anew")[0] == 0

    _, out, _ = knit("--piece", "back", "--row", "42")
    assert "too early" not in out
    assert "The finished length will be about 60 cm" in out


def test_ways_on_are_told_in_the_knitters_unit(knit, file):
    saves.save(replace(saves.load(file), units="in"), file)
    _, out, _ = knit("--piece", "back", "--row", "62", *places("--count", ("29 over 5", "29 over 5", "29.25 over 5")))

    assert "Change to a needle" in out
    assert "Count again after another 4 in." in out
    assert " cm" not in out


@pytest.mark.parametrize(
    ("at_home", "so"), [(6, ", but you have 6."), (7, ""), (1, ", but you have 1."), (None, " instead of 6.")]
)
def test_a_way_that_takes_a_ball_more_than_there_are_says_so_before_it_is_chosen(knit, file, at_home, so):
    project = saves.load(file)
    grams = plan(project).yarn.grams[2]
    yarn = replace(project.yarn[0], ball_g=grams / 6 + 0.01, ball_m=200.0, balls=at_home)  # six just hold it
    saves.save(replace(project, yarn=(yarn, *project.yarn[1:])), file)
    knit("--row", "42")

    ways = {way["code"]: way["text"] for way in told(knit, *places("--count", CLOSER))["ways"]}

    says = {code for code, text in ways.items() if f"You'd need 7 balls to be safe{so}" in text}
    assert says == ({"above-edging", "begin-again", "other-pieces"} if so else set())
    assert so or not any("balls" in text for text in ways.values())
    assert all(text in " ".join(knit()[1].split()) for text in ways.values())


def test_a_count_at_the_second_shoulder_leaves_the_file_readable(knit, file, capsys):
    """Fewer rows to 10 cm than planned, once the first shoulder is begun: the second had no row left in a way on."""
    project = shaped(saves.load(file), construction="set-in", worked="flat")
    pieces = plan(project).made.pieces
    knitted = [noted(pieces[0], len(pieces[0].rows)), noted(pieces[1], 2)]
    saves.save(replace(project, knitting=tuple(knitted)), file)

    ways = told(knit, "--rows", "68 over 25", "--rows", "68 over 25", "--rows", "67.75 over 25")["ways"]
    assert "go-on" in {way["code"] for way in ways}
    assert sum(way["recommended"] for way in ways) == 1
    for command in (["knit", str(file)], ["summary", str(file), "--json"]):
        assert main(command) == 0
    assert "back, right shoulder" in capsys.readouterr().out


def test_where_a_piece_that_is_not_begun_has_no_room_the_file_opens_and_says_so(monkeypatch):
    base = shaped(pullover(), construction="set-in", worked="flat")
    back = piece_of(plan(base).made, "back")
    go_on = standing.going_on

    def stopped(done, piece, *how):
        if piece.side == "right":
            raise CannotBeKnitted("no room")
        return go_on(done, piece, *how)

    monkeypatch.setattr(standing, "going_on", stopped)
    slipped = replace(noted(back, len(back.rows) - 1), cast_on=back.cast_on)
    slip = WorkedEvent("decrease", "across", 2)
    runs = (*slipped.worked[:-1], replace(slipped.worked[-1], event=(*slipped.worked[-1].event, slip)))
    now = plan(replace(base, knitting=(replace(slipped, worked=runs),)))

    assert all(p.rows for p in now.made.pieces)
    assert "knitting-has-no-room" in {c.code for c in now.checks}
    assert "back, left shoulder" in repr(summary_of(now)).lower()
    assert summary_data(now)
    assert at_the_needles(now, date(2026, 11, 29)).pieces
