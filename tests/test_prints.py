"""The summary as text, Markdown, HTML and JSON."""

import io
import json
import re
from dataclasses import replace

import pytest
from hypothesis import given
from rich.cells import cell_len

from tests.core.test_garments import projects
from tests.factory import pullover, shaped, swatch
from workshop import saves
from workshop.core.making.ledger import ADDS
from workshop.core.plan import plan
from workshop.prints import machine, paper
from workshop.prints.document import abbreviations_section, shapes_of, summary
from workshop.prints.plan_sheet import plan_sheet
from workshop.prints.terminal import console_for, print_document
from workshop.project import Body, Project
from workshop.tables import names, read
from workshop.visible import only_ascii
from workshop.words.instructions import instructions
from workshop.words.phrase import working_lines

NASTY = "[K2] [/] [$x] [@click=app.quit] \\ <b>&amp; | # * `日本 🧶"

KEYS = {
    "version", "title", "units", "steps", "gauge", "wash", "swatches", "body_cm", "ease_cm", "finished_cm",
    "finished_range_cm", "pieces", "seams", "yarn", "checks", "cautions", "workings",
}  # fmt: skip
GAUGE = {
    "swatch", "state", "stitches_per_10cm", "rows_per_10cm", "stitches_u95_percent", "rows_u95_percent",
    "unwashed_stitches_per_10cm", "unwashed_rows_per_10cm",
    "unwashed_stitches_u95_percent", "unwashed_rows_u95_percent",
}  # fmt: skip


def printed(project, **options) -> str:
    out = io.StringIO()
    print_document(summary(plan(project), **options), console_for(out))
    return out.getvalue()


def one_line(text: str) -> str:
    return re.sub(r"\s+", " ", text)


DEMOS = [pytest.param(s.project, id=s.path.stem) for s in saves.list_saves(saves.demo_folder())]


@pytest.mark.parametrize("project", [*DEMOS, pytest.param(Project(), id="empty")])
def test_the_machine_readable_summary_is_complete(project):
    data = json.loads(machine.dumps(plan(project)))

    assert set(data) >= KEYS
    assert set(data["gauge"]) == GAUGE
    assert {"width_change_percent", "length_change_percent", "width_real", "length_real"} <= set(data["wash"])
    assert [s["name"] for s in data["steps"]] == ["fibre", "swatch", "gauge", "wash", "measure", "shape", "summary"]
    assert {"metres", "grams", "balls", "basis"} <= set(data["yarn"])
    for planned in data["swatches"]:
        assert {"id", "cast_on_suggested", "rows_suggested", "needle_mm", "gauge"} <= set(planned)
    for check in data["checks"]:
        assert {"code", "level", "text", "question"} <= set(check)
    for working in data["workings"]:
        assert {"label", "formula", "figures", "value", "unit", "rounded_to", "difference_cm", "source"} <= set(working)


@given(projects())
def test_another_program_can_check_the_whole_ledger(project):
    data = json.loads(machine.dumps(plan(project)))

    for piece in data["pieces"]:
        stitches = piece["cast_on"]
        for row in piece["rows"]:
            change = sum(
                ADDS.get(e["do"], 0) * e["stitches"] * (2 if e["where"] == "both" else 1) for e in row["events"]
            )
            assert (row["before"], row["after"]) == (stitches, stitches + change)
            stitches = row["after"]
        assert stitches == piece["bound_off"]
    for part, (low, high) in data["finished_range_cm"].items():
        assert low < data["finished_cm"][part] < high


def test_json_is_in_cm_whatever_is_shown():
    known = pullover(swatch=(replace(swatch(), width_cm=15.0),))  # left open it is 15 cm, or 6 in
    cm = json.loads(machine.dumps(plan(known)))
    inch = json.loads(machine.dumps(plan(replace(known, units="in", needle_names="us"))))

    assert inch["units"] == "in"
    for words in ("units", "instructions", "before", "finishing"):  # sentences are the knitter's
        del cm[words], inch[words]
    assert cm == inch


def test_the_summary_says_all_that_a_knitter_needs():
    text = printed(pullover())

    for part in (
        "Finished measurements",
        "Schematic",
        "Yarn",
        "Back",
        "Front",
        "Sleeves (make two alike)",
        "Neckband",
        "Finishing",
        "Cautions",
    ):
        assert part in text
    assert "Cast on 102 stitches" in text
    assert "All steps are done" in text


def test_the_summary_of_a_project_under_way_says_what_is_open_and_what_is_known():
    text = printed(Project(title="New"))
    part_way = printed(next(p.values[0] for p in DEMOS if p.id == "lemon-grove-top"))

    assert "Next: Fiber" in text
    assert "Next: Wash" in part_way
    assert "Cast on 42 stitches" in part_way


def test_both_gauges_stand_side_by_side():
    """All counts follow the washed gauge, the tape on the needles the unwashed one (method: wash).

    The count of the first 10 cm is held against the unwashed one's range: 28 whole rows, 1.96 x 0.289 either way, and on
    to the next quarter, as nobody counts closer (common practice, no source).
    """
    text = printed(pullover(swatch=(swatch(20.0, 28.0, washed_rows=26.0),)))
    one_only = printed(pullover(swatch=(replace(swatch(), reading=swatch().reading[6:]),)))

    assert re.search(r"Rows[ |]+26 per 10 cm, washed[ |]+28 per 10 cm, likely 27¼ to 28¾", text)
    assert "had 20 stitches per 10 cm, likely 19¼ to 20¾, and 28 rows per 10 cm, likely 27¼ to 28¾." in one_line(text)
    assert re.search(r"Rows[ |]+28 per 10 cm, washed[ |]+not counted", one_only)
    assert "wash and dry a corner of the knitting and count there" in one_line(one_only)
    assert "There are no lengths to measure" in one_line(one_only)


def test_workings_are_never_cut(monkeypatch):
    """Every word of every working is there, however narrow the paper."""
    now = plan(pullover())
    wanted = " ".join(line.strip() for w in now.workings for line in working_lines(w, now.project)).split()
    for columns in ("40", "80"):
        monkeypatch.setenv("COLUMNS", columns)
        text = printed(pullover(), workings=True, columns=36)
        assert max(cell_len(line) for line in text.split("\n")) <= int(columns)
        assert text.split("How every number was worked out")[1].replace("---", "").split()[-len(wanted) :] == wanted


def test_workings_are_printed_on_request_only():
    assert "How every number was worked out" not in printed(pullover())
    assert "finished chest ÷ 2" in printed(pullover(), workings=True)


def test_lines_fit_80_columns_and_plain_output_is_ascii_drawn():
    text = printed(pullover(), plain=True)

    assert max(len(line) for line in text.split("\n")) <= 80
    assert "#####" in text
    assert "█" not in text


def test_a_stop_is_printed_first():
    assert "stop: A length of 26 cm leaves no room" in printed(shaped(pullover(), length_cm=26.0))


@pytest.mark.parametrize("wishes", [{"construction": "raglan-from-neck"}, {"front": "open"}])
def test_backward_loops_are_explained_wherever_a_print_has_them(wishes):
    """Of a cardigan from the hem up only the meaning of a buttonhole has them."""
    now = plan(shaped(pullover(), **wishes))
    (section,) = abbreviations_section(now, instructions(now)).blocks
    for term in ("backward loop", "long-tail cast-on"):
        assert sum(line.startswith(f"{term}: ") for line in section.items) == 1
    assert any("buttonhole" in line and "backward loops" in line for line in section.items) == ("front" in wishes)


@pytest.mark.parametrize(
    "project", [pullover(title=NASTY, yarn=(replace(pullover().yarn[0], name=NASTY, care=NASTY),), notes=NASTY)]
)
def test_user_text_comes_through_every_print_as_it_was_typed(project):
    now = plan(project)
    text = printed(project)
    html = paper.html(summary(now), now)

    assert "[K2] [/] [$x] [@click=app.quit] \\ <b>&amp; | # * `日本 🧶" in text
    assert "<b>&amp; |" not in html
    assert "&lt;b&gt;&amp;amp; |" in html
    assert json.loads(machine.dumps(now))["title"] == NASTY
    assert r"\[K2\]" in paper.markdown(summary(now))


def test_markdown_has_boxes_to_tick_and_no_broken_table():
    text = paper.markdown(summary(plan(pullover()), workings=True))

    assert "- [ ] Cast on 102 stitches" in text
    for block in re.findall(r"(?:^\|.*\|\n)+", text, re.MULTILINE):
        assert len({line.count(" | ") for line in block.splitlines() if "---" not in line}) == 1


def test_the_terminal_is_asked_what_it_can_show(monkeypatch):
    latin = io.TextIOWrapper(io.BytesIO(), encoding="latin-1")
    utf = io.TextIOWrapper(io.BytesIO(), encoding="utf-8")

    assert only_ascii(latin)
    assert not only_ascii(utf)
    monkeypatch.setenv("TERM", "dumb")
    assert only_ascii(utf)


def test_columns_are_honoured(monkeypatch):
    monkeypatch.setenv("COLUMNS", "60")

    assert max(cell_len(line) for line in printed(pullover(), columns=56).split("\n")) <= 60


@pytest.mark.parametrize("columns", [30, 40, 50])
def test_no_word_is_broken_where_there_is_little_room(monkeypatch, columns):
    monkeypatch.setenv("COLUMNS", str(columns))
    text = printed(pullover(), columns=columns - 4)

    for whole in ("Finished", "shoulder", "unwashed", "back", "front", "sleeve"):
        assert whole in text
    assert max(cell_len(line) for line in text.split("\n")) <= columns


@pytest.mark.parametrize("name", names())
def test_every_table_prints_with_its_sources(name, capsys):
    from workshop.prints.reference import print_table

    print_table(name)
    text = capsys.readouterr().out

    assert read(name)["title"] in text
    for key in read(name)["sources"]:
        assert f"- {key}: " in text
    assert not re.search(r"^ *(how|\w+_how|how_\w+|source):", text, re.MULTILINE)


def test_edges_that_are_alike_are_left_alone_and_others_say_what_to_do():
    now = plan(pullover())
    text = " ".join(paper.markdown(summary(now), now).split())

    for seam in now.made.seams:
        told = f"{seam.a} to {seam.b}: "
        sewn = text.split(told)[1].split(" - ")[0]
        assert ("as you sew" in sewn) == (abs(seam.difference_percent) >= 0.05)
        assert ("ease it in" in sewn) == (seam.difference_percent >= 0.05)
        assert "0.0%" not in sewn


def test_the_top_of_a_raglan_sleeve_is_no_cap():
    raglan = plan(shaped(pullover(), construction="raglan-from-hem"))
    set_in = plan(shaped(pullover(), construction="set-in"))

    assert not any("cap" in m.what for s in shapes_of(raglan) for m in s.measures)
    assert any(m.what == "raglan" for s in shapes_of(raglan) for m in s.measures)
    assert any(m.what == "cap" for s in shapes_of(set_in) for m in s.measures)


@pytest.mark.parametrize("units", ["cm", "in"])
def test_the_ease_at_a_glance_is_the_one_of_the_table(units):
    """In eighths of an inch a difference of two shown lengths is another one than the length of the difference."""
    for chest_cm in (91.0, 93.3, 94.7, 97.0, 98.8, 101.3):
        body = Body(source="own", table="women", chest_cm=chest_cm)
        now = plan(replace(pullover(swatch=(swatch(22.0, 31.0),), body=body), units=units))
        printed = paper.markdown(plan_sheet(now), now)
        glance = re.search(r"\| Finished chest \| .*, ease (.+?) \|", printed)[1]
        table = re.search(r"\| Chest \| (?:[^|]+\|){3} (.+?) \|", printed)[1]
        assert glance == table
