"""A class by command: who needs the teacher first, one yarn order, one swatch in many hands; and nothing is changed."""

import json
import re
from dataclasses import replace
from datetime import date
from math import ceil
from pathlib import Path
from random import Random

import pytest
from scipy.stats import chi2

from tests.classroom import CLASS, DAY, Invented, project_of, write_class
from tests.factory import pullover, readings
from workshop import planned, saves
from workshop.cli import main
from workshop.core.cloth.gauge import gauge_of
from workshop.core.hands import apart, chi_squared_95
from workshop.core.knitting.facts import noted
from workshop.core.knitting.needles import at_the_needles
from workshop.core.plan import plan
from workshop.core.remarks import Check, Remark
from workshop.of_class import pupils as of_pupils
from workshop.of_class.attention import attention
from workshop.of_class.hands import in_many_hands
from workshop.of_class.pupils import pupil_of, pupils
from workshop.of_class.yarn_order import NEW, UNKNOWN, lot_of, yarn_name, yarn_order
from workshop.prints.blocks import Table
from workshop.prints.class_page import class_page
from workshop.prints.on_screen import in_columns
from workshop.project import LogEntry, Project, Weighing, Yarn
from workshop.tables.checks import check_text
from workshop.tables.trade_rules import rule

DEMOS = sorted(saves.demo_folder().glob("*.toml"))
KEYS = {"file", "title", "step", "next", "attention", "gauge", "chest_cm", "yarn", "fault"}


@pytest.fixture
def folder(tmp_path):
    """The demos, and beside them what is no pupil or cannot be read."""
    for path in DEMOS:
        (tmp_path / path.name).write_bytes(path.read_bytes())
    (tmp_path / "broken.toml").write_text("title = 'Broken\n", "utf-8")
    (tmp_path / "huge.toml").write_text("# nothing but words\n" * 70_000, "utf-8")
    (tmp_path / "picture.toml").write_bytes(bytes(range(256)))
    (tmp_path / "another program.toml").write_text("[tool]\nname = 'other'\n", "utf-8")
    (tmp_path / "a folder.toml").mkdir()
    (tmp_path / "notes.txt").write_text("no project", "utf-8")
    (tmp_path / "link.toml").symlink_to(tmp_path / DEMOS[0].name)
    (tmp_path / ".hidden.toml").write_bytes(DEMOS[0].read_bytes())
    (tmp_path / ".earlier").mkdir()
    (tmp_path / ".earlier" / DEMOS[0].name).write_bytes(DEMOS[0].read_bytes())
    return tmp_path


@pytest.fixture(scope="module")
def class_folder(tmp_path_factory):
    return write_class(tmp_path_factory.mktemp("class") / "tuesday-evening")


@pytest.fixture(scope="module")
def everyone(class_folder):
    return pupils(class_folder, DAY)


def told(capsys, *arguments):
    code = main([*map(str, arguments)])
    return code, capsys.readouterr().out


def bytes_of(folder):
    return {path: path.read_bytes() for path in folder.rglob("*") if path.is_file()}


def test_one_entry_for_each_project_file_damaged_ones_first(folder, capsys):
    before = bytes_of(folder)
    code, out = told(capsys, "class", folder, "--json")
    pupils = json.loads(out)["pupils"]
    damaged = [p for p in pupils if p["fault"]]

    assert code == 0
    assert {p["file"].partition(".")[0] for p in damaged} == {
        "broken", "huge", "picture", "a folder", "another program",
    }  # fmt: skip
    assert pupils[: len(damaged)] == damaged
    assert {p["file"] for p in pupils[len(damaged) :]} == {path.name for path in DEMOS}
    assert all(set(p) == KEYS for p in pupils)
    assert not any(str(folder) in p["fault"] for p in damaged)
    ready = next(p for p in pupils if p["file"] == "harbour-pullover.toml")
    assert ready["step"] == "summary"
    assert ready["gauge"]["stitches_per_10cm"] > 0
    assert ready["fault"] is None
    assert bytes_of(folder) == before


def test_the_list_for_eyes_has_a_line_for_each(folder, capsys):
    code, out = told(capsys, "class", folder)

    assert code == 0
    assert out.startswith("✗ ")
    assert "Harbour pullover (harbour-pullover.toml)" in out
    assert "One yarn order" in out


def test_a_terminal_says_at_once_how_many_are_read(folder, capsys, monkeypatch):
    monkeypatch.setattr("sys.stderr.isatty", lambda: True, raising=False)
    monkeypatch.setattr(of_pupils, "pupils", lambda *_: pytest.fail(capsys.readouterr().err))

    with pytest.raises(pytest.fail.Exception, match="Reading 8 projects"):
        main(["class", str(folder)])


def test_how_far_hands_are_apart_is_worked_out_a_few_times_however_many_there_are(class_folder, monkeypatch):
    found, asked = pupils(class_folder, DAY), []
    monkeypatch.setattr("workshop.of_class.hands.apart", lambda gauges: asked.append(gauges) or apart(gauges))

    grouped = in_many_hands((*found, *found, *found))
    assert max(len(same.hands) for same in grouped) > 12
    assert len(asked) <= 3 * len(grouped)


@pytest.mark.parametrize("width", [60, 80, 130])
def test_a_long_table_has_all_its_words_whole_in_the_width_there_is(width):
    row = ("Harbour worsted, stockinette, in the round, 4.5 mm", "Somebody Else, A", "21.1 (20.7 to 21.5)", "", "tight")
    lines = in_columns(
        Table(("yarn and needle", "whose", "before the wash", "rows", "hand"), (row,) * 300), width, wraps=True
    )

    assert max(map(len, lines)) <= width
    assert " ".join(lines).split().count("stockinette,") == 300
    assert in_columns(Table(("a", "b"), (("x" * 50, "y" * 50),)), width=60, wraps=True) is None


@pytest.mark.parametrize("name", ["nowhere", "a" * 300])
def test_a_folder_that_is_none_is_one_line(tmp_path, capsys, name):
    assert main(["class", str(tmp_path / name)]) == 1
    assert capsys.readouterr().err.endswith("there is no such folder\n")


def test_a_folder_without_projects_says_so(tmp_path, capsys):
    assert told(capsys, "class", tmp_path) == (0, f"{tmp_path}: no projects\n")
    assert main(["class", str(tmp_path), "--to", str(tmp_path / "page.html")]) == 1
    assert json.loads(told(capsys, "class", tmp_path, "--json")[1])["pupils"] == []


# ── who needs the teacher first ──────────────────────────────────────────────────────────────────────

ATTENTION = {
    "damaged": "TOML",
    "stop": "boat neck",
    "gauge off": "row 46: 6% fewer stitches than in the swatch",
    "slip": "but the plan has",
    "inches": "Did you measure in inches?",
    "uneven": "the counts differ by more than 3%",
    "short": "You have 4 balls",
    "alike": "no difference",
    "blend": "Did you mean wool?",
}
"""What the teacher reads of each thing that goes wrong, the most pressing first."""


def test_who_needs_the_teacher_comes_first(everyone):
    by_name = {i.name: i for i in CLASS}
    order = [by_name[p.path.stem.capitalize()].odd for p in everyone]

    assert list(dict.fromkeys(odd for odd in order if odd)) == [*ATTENTION]
    for pupil, odd in zip(everyone, order, strict=True):
        if odd:
            assert ATTENTION[odd] in pupil.attention[0]
        else:
            assert all("in the round, but you worked the swatch flat" in text for text in pupil.attention)
    assert order[-1] == ""


def test_the_table_says_which_checks_are_for_the_teacher_whatever_their_level():
    now, remark = planned.plan(pullover()), Remark("Told.")

    def kinds(check):
        return [look.kind for look in attention(replace(now, checks=(check,)), (), None)]

    note = Check("of-our-own", "note", "shape", "yarn.a.balls", remark)
    assert kinds(note) == []
    assert kinds(replace(note, teacher="yarn")) == ["yarn"]
    assert kinds(replace(note, teacher="yarn", agreed=True)) == []
    assert kinds(replace(note, level="look")) == ["check"]
    assert kinds(replace(note, level="look", teacher="needles")) == ["needles"]
    assert kinds(replace(note, level="stop", teacher="needles")) == ["stop"]
    assert {check_text(name).teacher for name in ("knitted-not-planned", "knitting-has-no-room")} == {"needles"}
    assert check_text("yarn-short").teacher == "yarn"


def test_a_difference_that_was_decided_about_needs_no_teacher(tmp_path):
    from workshop.at_needles import Said, taken_in

    project = project_of(next(i for i in CLASS if i.odd == "gauge off"))
    path = tmp_path / "elin.toml"
    for taken, needed in ((project, True), (taken_in(project, Said(take="go-on"), DAY), False)):
        path.write_text(saves.dumps(taken), "utf-8")
        assert bool(pupils(tmp_path, DAY)[0].looks) is needed


def test_what_hands_do_next(everyone):
    nexts = {p.path.stem: p.next for p in everyone}

    assert nexts["dario"] == "Back: 46 of 165 rows, 108 stitches. Row 47, right side: Knit every stitch."
    assert nexts["nils"].startswith("Wash and dry swatches A and B the way")
    assert nexts["yusuf"] == ""


def test_hands_that_have_knitted_all_pieces_finish_the_garment():
    base = pullover()
    done = replace(base, knitting=tuple(noted(p, len(p.rows)) for p in plan(base).made.pieces))

    assert pupil_of(saves.Saved(Path("done.toml"), done), DAY).next.startswith("Every piece is knitted.")


def test_each_file_is_read_and_planned_once(class_folder, monkeypatch):
    read, made = [], []
    text_of, plan = saves.text_of, planned.plan
    monkeypatch.setattr(saves, "text_of", lambda path: (read.append(path.name), text_of(path))[1])
    monkeypatch.setattr(of_pupils, "plan", lambda project: (made.append(project.title), plan(project))[1])
    coming = of_pupils.each_pupil(class_folder, DAY)
    next(coming)

    assert len(read) == 1  # the first is there before the second is read
    assert len([*coming]) + 1 == len(read) == len(set(read)) == len(CLASS)
    assert len(made) == len(CLASS) - 1


# ── one yarn order ───────────────────────────────────────────────────────────────────────────────────


def test_one_order_by_yarn_and_lot_adds_up_what_everyone_needs(everyone, capsys, class_folder):
    order = yarn_order(everyone)
    lots = {(y.name, lot.lot): {p.pupil.path.stem for p in lot.parcels} for y in order.yarns for lot in y.lots}

    assert lots == {
        ("Our worsted", NEW): {"bruno", "carla"},
        ("Our worsted", "4711"): {"ada", "dario"},
        ("Our worsted", UNKNOWN): {"elin"},  # who knits has a lot already
        ("Reedbed DK", NEW): {"ines"},
        ("Reedbed DK", UNKNOWN): {"jonas", "kaja"},
        ("Harvest cotton", NEW): {"quinn"},
    }
    needs = {p.path.stem: p.plan.yarn for p in everyone if p.plan and p.plan.yarn}
    dune = next(y for y in order.yarns if y.name == "Our worsted")
    assert dune.buy == sum(needs[n].balls for n in ("bruno", "carla"))  # the others have theirs, or knit already
    assert dune.metres[2] == pytest.approx(sum(needs[n].metres[2] for n in ("bruno", "carla", "elin", "ada", "dario")))
    assert {p.path.stem for p in order.not_yet} == {p.path.stem for p in everyone} - set(needs)
    data = json.loads(told(capsys, "class", class_folder, "--json")[1])["yarn_order"]
    assert [(y["yarn"], y["balls"], y["balls_likely"]) for y in data] == [
        (y.name, y.buy, y.buy_likely) for y in order.yarns
    ]


def test_a_file_whose_ending_is_in_capitals_is_a_pupil_too(tmp_path, capsys):
    write_class(tmp_path, CLASS[:1])
    (tmp_path / "ada.toml").rename(tmp_path / "Ada.TOML")

    data = json.loads(told(capsys, "class", tmp_path, "--json")[1])
    assert [(p["file"], p["fault"]) for p in data["pupils"]] == [("Ada.TOML", None)]
    assert "Ada.TOML" in told(capsys, "list", tmp_path)[1]
    over = tmp_path / "other.TOML"
    assert main(["sizes", str(tmp_path / "Ada.TOML"), "--sizes", "M", "--to", str(over)]) == 1


def test_yarn_that_is_knitted_already_is_not_ordered_again(tmp_path, capsys):
    """Of a pupil at the needles what is missing by the scale, or beside the balls at home; else nothing, and why."""
    folder = tmp_path / "class"
    write_class(folder, [p for p in CLASS if p.name in ("Dario", "Elin", "Kaja")])
    few = saves.load(folder / "dario.toml")
    saves.save(replace(few, yarn=(replace(few.yarn[0], balls=4),)), folder / "dario.toml")
    weighed = saves.load(folder / "elin.toml")
    saves.save(replace(weighed, weighing=(Weighing(left_g=300.0, pieces_g=60.0),)), folder / "elin.toml")
    found = {p.path.stem: p for p in pupils(folder, DAY)}

    data = json.loads(told(capsys, "class", folder, "--json")[1])["yarn_order"]
    parcels = {p["file"]: (lot["lot"], lot["match"], p) for y in data for lot in y["lots"] for p in lot["pupils"]}
    lot, _, dario = parcels["dario.toml"]
    need = found["dario"].plan.yarn
    assert (lot, dario["balls"], dario["balls_likely"]) == ("4711", need.balls - 4, need.balls_likely - 4)
    _, match, elin = parcels["elin.toml"]
    all_g = 60.0 / at_the_needles(found["elin"].plan, DAY).share_done  # by what the pieces weigh
    assert match
    assert elin["balls_likely"] == ceil((all_g * (1 + rule("seams_and_ends")) - 60.0 - 300.0) / 100.0)
    assert 0 < elin["balls_likely"] <= elin["balls"] < found["elin"].plan.yarn.balls
    _, match, kaja = parcels["kaja.toml"]
    assert (match, kaja["balls"], kaja["balls_likely"], kaja["not_ordered"]) == (True, 0, 0, "balls not entered")
    assert elin["not_ordered"] is dario["not_ordered"] is None
    text = " ".join(told(capsys, "class", folder)[1].split())
    assert "There's no yarn in the order for Kaja's pullover." in text
    assert "(balls not" in text  # beside her name, in a narrow column

    had = replace(weighed.yarn[0], balls=10)
    bought = replace(weighed, weighing=(Weighing(left_g=300.0, pieces_g=60.0, had_g=400.0),), yarn=(had,))
    saves.save(bought, folder / "elin.toml")  # 600 g more since she weighed what was left
    data = json.loads(told(capsys, "class", folder, "--json")[1])["yarn_order"]
    parcels = {p["file"]: p for y in data for lot in y["lots"] for p in lot["pupils"]}
    assert parcels["elin.toml"]["balls"] == max(0, elin["balls"] - 6)


@pytest.mark.parametrize(
    ("name", "plain", "lot"),
    [
        ("Our worsted", "Our worsted", ""),
        ("Our worsted, lot 4711", "Our worsted", "4711"),
        ("Our worsted (dye lot: A-17/b)", "Our worsted", "A-17/b"),
        ("Our worsted Lot no. 12", "Our worsted", "12"),
        ("A lot of love", "A lot of love", ""),
        ("Lottie's ballot", "Lottie's ballot", ""),
    ],
)
def test_the_lot_in_the_name_of_a_yarn(name, plain, lot):
    yarn = Yarn("a", name)

    assert (yarn_name(yarn), lot_of(yarn, Project())) == (plain, lot)


def test_the_lot_that_was_noted_with_a_new_ball():
    log = (LogEntry("2026-11-01", "back", None, "row 3: new ball, lot 7"), LogEntry("2026-11-02", text="a lot done"))

    assert lot_of(Yarn("a", "Dune"), Project(log=log)) == "7"


# ── the same swatch in many hands ────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("degrees_of_freedom", [*range(1, 31), 60, 199])
def test_chi_squared_is_that_of_scipy(degrees_of_freedom):
    assert chi_squared_95(degrees_of_freedom) == pytest.approx(chi2.ppf(0.95, degrees_of_freedom), rel=1e-3)


def a_class(random, hands, spread):
    """Gauges of so many knitters, whose true ones scatter; each counted in three places to a quarter of a stitch."""
    found = []
    for _ in range(hands):
        true = random.gauss(20.0, spread)
        counts = [round(4 * 1.5 * true * (1 + random.gauss(0, 0.008))) / 4 for _ in range(3)]
        found.append(gauge_of(readings("washed", "stitches", *counts, over_cm=15.0)))
    return apart(found)


def test_hands_that_are_alike_are_seldom_told_apart_and_others_nearly_always():
    """Simulated: at most one class of twenty with hands alike may be called different; seeded."""
    random = Random(7)
    for hands in (2, 5, 12):
        assert sum(a_class(random, hands, 0.0).real for _ in range(400)) <= 0.05 * 400
    assert sum(a_class(random, 8, 1.0).real for _ in range(100)) >= 95


def test_what_the_same_stitches_are_in_other_hands():
    found = apart([gauge_of(readings("washed", "stitches", count, count, count)) for count in (18.0, 20.0, 22.0)])

    assert found.percent == pytest.approx(20.0)
    assert found.widths_cm(100.0) == pytest.approx((100 * 20 / 22, 100 * 20 / 18))
    assert found.real
    assert apart([]) is None


def test_swatches_of_one_yarn_and_needle_stand_together_the_loosest_first(everyone):
    found = in_many_hands(everyone)
    dune = next(s for s in found if (s.yarn, s.needle_mm) == ("Our worsted", 4.5))
    inches = next(h for s in found for h in s.hands if h.pupil.path.stem == "mira" and h.swatch.id == "A")

    assert [h.pupil.path.stem for h in dune.hands][:3] == ["bruno", "fenna", "elin"]
    assert len(dune.hands) == 8
    assert dune.told_in == "washed"
    assert dune.apart("washed").real
    assert inches.odd
    assert sum(len(s.hands) for s in found) == sum(
        k.gauge is not None for p in everyone if p.plan for k in p.plan.swatches
    )


def test_a_count_that_looks_wrong_teaches_nothing(everyone):
    wrong = next(s for s in in_many_hands(everyone) if any(h.odd and h.pupil.path.stem == "mira" for h in s.hands))

    assert wrong.apart("off needles").tightest < 30  # hers would be 56


# ── the page for the wall ────────────────────────────────────────────────────────────────────────────


def test_the_page_has_everyone_and_may_hide_who_they_are(class_folder, tmp_path, capsys):
    page, hidden = tmp_path / "wall.html", tmp_path / "hidden.html"
    assert told(capsys, "class", class_folder, "--to", page) == (0, f"{page} written\n")
    assert told(capsys, "class", class_folder, "--to", hidden, "--hide-names")[0] == 0
    named, numbered = page.read_text("utf-8"), hidden.read_text("utf-8")

    for pupil in CLASS:
        assert pupil.name.casefold() in named.casefold()
        assert pupil.name not in numbered
        assert f"{pupil.name.lower()}.toml" not in numbered
    assert numbered.count("Knitter 24") > 1
    where = numbered[numbered.index("Plan ready") : numbered.index("On the needles")]  # of the washing line
    knitters = [int(number) for number in re.findall(r"Knitter (\d+)", where)]
    assert knitters == sorted(knitters)
    assert 10 in knitters
    assert "<h1>Tuesday evening</h1>" in named
    assert "counter(page)" in named
    for heading in ("Where everyone is", "One yarn order", "in eight pairs of hands", "Every swatch of the class"):
        assert heading in named
    assert "http" not in named.replace("http://www.w3.org/2000/svg", "")


def test_the_page_takes_no_file_away(class_folder, tmp_path, capsys):
    page = tmp_path / "wall.md"
    page.write_text("mine", "utf-8")
    assert main(["class", str(class_folder), "--to", str(page)]) == 1
    assert "add --replace" in capsys.readouterr().err
    assert page.read_text("utf-8") == "mine"
    assert main(["class", str(class_folder), "--to", str(page), "--replace"]) == 0
    assert page.read_text("utf-8").startswith("# Tuesday evening\n")
    assert main(["class", str(class_folder), "--to", str(tmp_path / "wall.pdf")]) == 1
    other = tmp_path / "other.html"
    other.write_text(saves.dumps(project_of(CLASS[0])), "utf-8")
    assert main(["class", str(class_folder), "--to", str(other), "--replace"]) == 1
    with pytest.raises(SystemExit) as left:
        main(["class", str(class_folder), "--json", "--to", str(page)])
    assert left.value.code == 2


def test_a_class_in_inches_reads_inches(tmp_path):
    for pupil in CLASS[:3]:
        text = saves.dumps(replace(project_of(pupil), units="in", terms="uk"))
        (tmp_path / f"{pupil.name}.toml").write_text(text, "utf-8")
    page = class_page(pupils(tmp_path, DAY), "Class")
    text = repr(page)

    assert "tension (stitches to 4 in)" in text
    assert "40 in around the chest" in text
    assert " cm" not in text.replace("to 10 cm", "")


def test_names_and_notes_of_pupils_are_no_markup(tmp_path):
    odd = Invented("x", "dune", 1.0, "planned")
    for n, title in enumerate(("<b>[bold]</b>", "--><script>", "| a | b |")):
        (tmp_path / f"{n}.toml").write_text(saves.dumps(replace(project_of(odd), title=title)), "utf-8")
    from workshop.prints.paper import html, markdown

    page = class_page(pupils(tmp_path, date(2026, 1, 1)), "</title><b>")
    assert not any(sign in html(page) for sign in ("<b>", "<script>"))
    assert not any("| a | b |" in part for part in markdown(page).split("```")[::2])


def test_sizes_by_command(capsys):
    demo = str(saves.demo_folder() / "harbour-pullover.toml")
    code, out = told(capsys, "sizes", demo, "--sizes", "s,M", "--json")
    data = json.loads(out)

    assert code == 0
    assert [one["size"] for one in data["sizes"]] == ["S", "M"]
    assert (data["table"], data["base_size"]) == ("women", "M")
    assert data["sizes"][1]["finished_cm"]["chest"] > data["sizes"][0]["finished_cm"]["chest"]
    assert data["sizes"][0]["refused"] is None
    assert told(capsys, "sizes", demo)[1].count("Counts") == 1
    assert main(["sizes", demo, "--sizes", "9"]) == 1
    assert main(["sizes", demo, "--table", "kids"]) == 1
