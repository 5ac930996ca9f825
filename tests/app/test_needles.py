"""The eighth screen: rows, counts, ways, a lost row and a slip, each on disk before the next key."""

from dataclasses import replace

import pytest

import workshop.app.widgets.needles
import workshop.planned
from tests.app.helpers import app_on, dialog, each_size, on_disk, screen_text, settle
from tests.app.test_keys import type_ahead
from workshop import saves
from workshop.app.commands import help_text
from workshop.app.screens.needles import NeedlesScreen
from workshop.app.screens.step import StepScreen
from workshop.cli import main
from workshop.settings import settings_path

DEMO = saves.demo_folder() / "harbour-pullover.toml"


@pytest.fixture
def demo():
    return saves.load(DEMO)


async def said(pilot, text):
    """A sentence typed at the needles, from its key on."""
    await pilot.press(
        *(("space" if c == " " else "comma" if c == "," else "full_stop" if c == "." else c) for c in text)
    )
    await pilot.press("enter")
    await settle(pilot)


async def ways_are_seen(pilot, best, many):
    """Of the ways on the best one is seen at once, with their number and key, and how many are below."""
    await pilot.resize_terminal(60, 20)
    await settle(pilot)
    assert f"PgDn: {many} more ways" in screen_text(pilot.app)
    assert "W Choices" in screen_text(pilot.app)
    await pilot.resize_terminal(80, 24)
    await settle(pilot)
    text = screen_text(pilot.app)
    assert f"W: choose one of these {many} ways. The star marks the way we'd choose." in text
    assert [line[1:3] for line in text.splitlines() if line.startswith((" * ", " - "))] == ["* ", "- "]
    assert f" * {best}" in text
    assert f"PgDn: {many - 1} more ways" in text  # the second is cut
    assert "W Choices" in text
    await pilot.press("pagedown")
    await settle(pilot)
    assert "PgUp: back to your row" in screen_text(pilot.app)


def rows(app):
    """Rows of each piece on the disk."""
    return {k.piece: k.rows for k in on_disk(app).knitting}


async def test_rows_counts_and_ways_from_the_plan_to_the_needles_and_back(clean_environment, demo):
    app = app_on(clean_environment, demo, at="summary")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("K")  # as the foot prints it
        await settle(pilot)
        assert isinstance(app.screen, NeedlesScreen)
        assert "Cast on 106 stitches" in screen_text(app)

        await pilot.press("c")  # 16 rows of rib and 26 to 10 cm are still to be knitted
        async for size in each_size(pilot):
            asked = " ".join(screen_text(app).split())
            early = "Counts show your gauge from about row 42 on. 27.5 over 12, 27 over 12: 27.5 stitches over 12 cm, "
            assert f"{early}and 27 in another place. Three places are best. " in asked, size
        await pilot.press("escape")

        await type_ahead(pilot, " ", " ", " ", "backspace", "4", "2", "enter", " ")
        assert rows(app) == {"back": 43}
        assert "43 of 147 rows" in screen_text(app)
        await pilot.press("backspace")
        await settle(pilot)
        assert "One back: row 43 is still to knit." in screen_text(app)
        assert "W Choices" not in screen_text(app)
        await pilot.press("c")
        await settle(pilot)
        assert "27.5 stitches over 12 cm" in screen_text(app)
        assert "from about row" not in screen_text(app)
        await pilot.press("escape")

        await said(pilot, "c27.5 over 12, 27 over 12, 27.25 over 12")
        async for size in each_size(pilot):
            text = " ".join(screen_text(app).split())
            assert 0 < text.index("A difference of that size is real") < text.index("42 of 147 rows"), size
        await ways_are_seen(pilot, "Rip back to the edging", 5)
        await pilot.press("w")
        await dialog(pilot)
        await pilot.resize_terminal(60, 20)
        await settle(pilot)
        await pilot.press("end")
        await settle(pilot)
        window = [line.split("│")[1] for line in screen_text(app).splitlines() if line.count("│") == 2]
        listed = " ".join(" ".join(window).split())  # however its lines are broken
        assert (
            "You'd still be 1.6 cm off at the chest. You'd get about 102.1 cm around the chest." in listed
        )  # the last way
        assert "Arrows and Enter choose" in screen_text(app)
        await pilot.resize_terminal(80, 24)
        await pilot.press("escape")
        await type_ahead(pilot, *"where")  # no way is chosen by its first letter and Enter
        assert app.screen.query_one("#said").value == "where"
        await pilot.press("enter", "w")
        await dialog(pilot)
        assert "* Rip back to the edging" in screen_text(app)
        await pilot.press("enter")
        await settle(pilot)
        assert rows(app) == {"back": 16}
        assert [t.way for t in on_disk(app).taken] == ["above-edging"]

        await pilot.press("u")
        await settle(pilot)
        assert "Take back your last choice. Enter does it, Esc cancels." in " ".join(screen_text(app).split())
        assert rows(app) == {"back": 16}
        await pilot.press("enter")
        await settle(pilot)
        assert rows(app) == {"back": 42}
        assert on_disk(app).taken == ()

        await said(pilot, "l108 12")
        assert "Row 29: 108 stitches, 12 plain rows above the last increase." in screen_text(app)
        await said(pilot, "s107")
        assert "increase 1 stitch" in screen_text(app)
        await said(pilot, "500")
        assert "the back has rows 1 to 147" in screen_text(app)
        assert app.screen.query_one("#said").value == "500"
        await pilot.press("escape")
        async for _ in each_size(pilot):
            text = screen_text(app)
            assert "42 of 147 rows" in text
            assert "increase 1 stitch" in text
            assert "29%" in text
        await pilot.press("f1")
        await dialog(pilot)
        await pilot.press("escape", "o")
        await dialog(pilot)
        await pilot.press("escape", "p")
        await dialog(pilot)
        await pilot.press("escape", "escape")
        await settle(pilot)
        assert app.current_step == "summary"
        assert not isinstance(app.screen, NeedlesScreen)


async def test_a_piece_finished_by_mistake_is_one_back_away_and_sleeves_go_together(clean_environment, demo):
    """An answer to a question that isn't asked of this shape stays in the file, too."""
    kept = replace(demo.garment, bust_darts="yes")
    demo = replace(demo, garment=kept)
    app = app_on(clean_environment, demo, at="needles")
    async with app.run_test(size=(60, 20)) as pilot:
        await settle(pilot)
        await said(pilot, "147")
        assert "The back is knitted." in screen_text(app)
        assert "left shoulder: 0 of 5 rows" in screen_text(app)
        await pilot.press("backspace")
        await settle(pilot)
        assert rows(app) == {"back": 146}

        await pilot.press("p")
        await dialog(pilot)
        assert "back, left shoulder: rows 148 to 152, none" in screen_text(app)
        await pilot.press("down", "down", "down", "down", "down", "down", "enter")
        await settle(pilot)
        assert "Left sleeve: 0 of" in screen_text(app)
        await pilot.press("t", "enter", "space", "space", "backspace")
        await settle(pilot)
        assert rows(app) == {"back": 146, "left sleeve": 1, "right sleeve": 1}
        assert "Left sleeve and right sleeve: 1 of" in screen_text(app)

        await said(pilot, "nlate, and good light")
        await said(pilot, "y612, pieces 80")
        assert screen_text(app).splitlines()[1].startswith(" The yarn will last: 612 g left")
        assert on_disk(app).log[-1].text == "row 1: late, and good light"
        assert on_disk(app).weighing[-1].pieces_g == 80
        assert on_disk(app).garment == kept
        assert "g needed" in screen_text(app) or "The yarn" in screen_text(app)

        await pilot.press("ctrl+r")
        await settle(pilot)
        assert app.current_step == "summary", "the step before the needles"
        assert not isinstance(app.screen, NeedlesScreen)


async def test_a_row_asks_for_one_plan_and_one_picture_of_the_knitting(clean_environment, demo, monkeypatch):
    planned, looked = [], []
    plan, look = workshop.planned.plan, workshop.app.widgets.needles.at_the_needles
    monkeypatch.setattr(workshop.planned, "plan", lambda p: planned.append(p) or plan(p))
    monkeypatch.setattr(workshop.app.widgets.needles, "at_the_needles", lambda *a: looked.append(a) or look(*a))
    app = app_on(clean_environment, demo, at="needles")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        planned.clear(), looked.clear()
        await pilot.press("space")
        await settle(pilot)

        assert len(planned) <= 1
        assert len(looked) == 1


async def test_from_the_list_of_projects_k_knits_where_a_plan_is_ready(clean_environment, demo):
    app_on(clean_environment, demo)
    app = app_on(clean_environment)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("k")
        await settle(pilot)
        assert isinstance(app.screen, NeedlesScreen)
        await pilot.press("ctrl+o")
        await settle(pilot)
        assert "Start a new project" in screen_text(app)
        await pilot.press("up", "k")
        await settle(pilot)
        assert "Choose a project whose plan is ready" in screen_text(app)


async def test_another_window_at_the_same_knitting_the_later_row_wins(clean_environment, demo):
    app = app_on(clean_environment, demo, at="needles")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await said(pilot, "20")
        assert main(["knit", str(app.session.path), "--row", "30"]) == 0
        app.screen.look()
        await settle(pilot)
        assert "30 of 147 rows" in screen_text(app)
        await pilot.press("space")
        await settle(pilot)
        assert rows(app) == {"back": 31}


@pytest.mark.parametrize("screen", [NeedlesScreen, StepScreen])
async def test_nothing_is_painted_where_a_screen_is_still_to_be_furnished(clean_environment, demo, monkeypatch, screen):
    async def later(_self):
        """Whatever the machine has to do first."""

    monkeypatch.setattr(screen, "furnish", later)
    app = app_on(clean_environment, demo, at="needles" if screen is NeedlesScreen else "summary")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, screen)
        assert "body" not in screen_text(app)


WORDS = {
    "row 157": "row 157", "left 400": "left 400", "note a": "note a", "ball": "ball", "undo": "undo", "done 2": "done 2",
    "take above-edging": "take above-edging", "both": "both", "back 3": "back 3", "lost 84 12": "lost 84 12",
    "ROW 40": "ROW 40", "count 27 over 12": "count 27 over 12", "rows 33 over 12": "rows 33 over 12",
    "finished chest 104": "finished chest 104", "stitches 83": "stitches 83", "n": "note ", "c27": "count 27",
    "where": "where", "WHERE": "WHERE", "piece front": "piece front",
}  # fmt: skip
"""What is typed at the needles, and what then stands in the field."""


async def test_a_word_that_is_typed_where_letters_are_keys_does_nothing_before_enter(clean_environment, demo):
    """Also a word of the plain mode: it stands in the field as it was typed."""
    app = app_on(clean_environment, demo, at="needles")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await said(pilot, "42")
        before = app.session.path.read_bytes()
        for typed, stands in WORDS.items():
            await pilot.press(*({" ": "space", "-": "minus"}.get(c, c) for c in typed))
            await settle(pilot)
            assert app.screen.query_one("#said").value == stands
            alone = typed.casefold() in ("ball", "undo", "done 2", "both", "back 3", "where")
            assert ("Enter does it" in screen_text(app)) == alone
            await pilot.press("escape")
        assert app.session.path.read_bytes() == before
        for letter, says in (("z", "Z isn't a key here. F1 lists the keys."), ("w", "Count the piece as it is now")):
            await pilot.press(letter)
            await settle(pilot)
            assert says in screen_text(app)
        for leaves in ("escape", "enter"):  # an empty sentence is none
            await pilot.press("u", *(["backspace"] * 4 if leaves == "enter" else []), leaves)
            await settle(pilot)
            assert "Space: row done. Backspace: one back." in screen_text(app)
        await pilot.press("4")
        await settle(pilot)
        assert "Row 4 is the last one you've knitted. Enter does it" in screen_text(app)
        await pilot.press("1")
        await settle(pilot)
        assert "Row 41 is the last one you've knitted. Enter does it" in screen_text(app)
        await pilot.press("escape")
        await said(pilot, "back 3")
        assert rows(app) == {"back": 39}

        helped = help_text(app).split("\n\nSteps")[0]
        keys = [line.split()[0] for line in helped.splitlines() if line.startswith("  ")]
        assert keys[0] == "Space"
        assert set(keys) >= set("DPTCRWUYXBLSONF") | {"Backspace", "0", "PgUp,", "Esc"}
        assert "27.5 over 12, 27 over 12" in helped
        assert "take above-edging" not in helped
        assert help_text(app).count("Several rows too many") == 1
        await pilot.press("l")
        await settle(pilot)
        assert "84 12: Find a lost row" in help_text(app)


async def test_keys_that_are_set_otherwise_are_called_by_what_is_printed_on_them(clean_environment, demo):
    settings_path().parent.mkdir(parents=True, exist_ok=True)
    settings_path().write_text('[keys]\n"needles.ways" = "f7"\n"needles.count" = "k"\n"needles.done" = "f8"\n')
    app = app_on(clean_environment, demo, at="needles")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "F8: row done." in screen_text(app)
        await pilot.press("f7")
        await settle(pilot)
        assert "Count the piece as it is now: K for stitches, R for rows." in screen_text(app)
        await said(pilot, "42")
        await said(pilot, "k27.5 over 12, 27 over 12, 27.25 over 12")
        assert "F7: choose one of these 5 ways." in screen_text(app)
