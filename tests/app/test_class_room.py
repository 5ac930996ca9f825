"""The class room: a teacher goes through her class, and not a byte of it changes."""

import os

import pytest

from tests.app.helpers import app_on, dialog, each_size, screen_text, settle
from tests.classroom import CLASS, write_class
from tests.factory import pullover
from workshop.app.screens.class_list import ClassScreen, ReadScreen
from workshop.app.screens.start import StartScreen
from workshop.words.lines import wrapped

SOME = tuple(i for i in CLASS if i.name in ("Ada", "Bruno", "Elin", "Mira", "Vito", "Yusuf"))


@pytest.fixture
def folder(tmp_path):
    made = write_class(tmp_path / "tuesday", SOME)
    for number, path in enumerate(sorted(made.iterdir())):  # last changed last, whatever the disk says
        os.utime(path, (1_000_000 - number, 1_000_000 - number))
    return made


def state(folder):
    return {path.name: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.rglob("*") if path.is_file()}


async def in_class(pilot):
    """Wait until the whole class has been read."""
    while not (isinstance(pilot.app.screen, ClassScreen) and pilot.app.screen.listed.complete):
        await pilot.pause()
    await settle(pilot)
    return pilot.app.screen


def seen(app):
    return " ".join(screen_text(app).split())


async def test_a_walk_through_the_class_at_every_size_changes_no_byte(folder):
    before = state(folder)
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        async for size in each_size(pilot):
            await pilot.press("c")
            room = await in_class(pilot)
            assert [p.path.stem for p in room.listed.found] == ["yusuf", "elin", "mira", "ada", "bruno", "vito"]
            assert "▸ ✗ yusuf: line " in seen(app), size
            assert "6 projects, 3 with a question" in seen(app), size

            await pilot.press("enter")  # a damaged file stands with its fault
            await settle(pilot)
            assert "yusuf.toml can't be opened: line " in seen(app), size

            await pilot.press("down", "enter")
            await settle(pilot)
            assert isinstance(app.screen, ReadScreen), size
            assert "Elin's pullover · read only" in seen(app), size
            assert "fewer stitches than in the swatch" in seen(app), size
            await pilot.press("tab")
            await settle(pilot)
            assert "How tightly you knit: average" in seen(app), size
            await pilot.press("shift+tab", "shift+tab")
            await settle(pilot)
            assert "How each number was worked out" in seen(app), size
            await pilot.press("escape")
            assert (await in_class(pilot)).listed.at == 1

            await pilot.resize_terminal(size[0] + 20, size[1])  # the foot is as one would break it there
            await settle(pilot)
            wide = str(room.hint.render()).splitlines()
            await pilot.resize_terminal(*size)
            await settle(pilot)
            narrow = str(room.hint.render()).splitlines()
            assert wide == wrapped(room.told, size[0] + 18), size
            assert narrow == wrapped(room.told, size[0] - 2), size

            for key, words in (("y", "dye lot"), ("s", "Our worsted, stockinette")):
                await pilot.press(key)
                await settle(pilot)
                assert words in seen(app), size
                assert all(len(line) <= size[0] for line in screen_text(app).splitlines())
                await pilot.press("escape")
                await in_class(pilot)
            await pilot.press("escape")
            await settle(pilot)
            assert isinstance(app.screen, StartScreen)
    assert state(folder) == before


async def test_a_look_shows_the_file_as_it_is_now(folder):
    app = app_on(folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("c", "end")
        room = await in_class(pilot)
        path = room.listed.found[-1].path
        path.write_text(path.read_text("utf-8").replace("Vito's", "Vittorio's"), "utf-8")
        await pilot.press("end", "enter")
        await settle(pilot)
        assert "Vittorio's pullover" in seen(app)
        await pilot.press("escape")
        await in_class(pilot)
        path.unlink()
        await pilot.press("enter")
        await settle(pilot)
        assert "vito.toml can't be opened" in seen(app)


async def test_from_a_project_by_name_to_the_class_and_back_to_the_projects(clean_environment, folder):
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("ctrl+p")
        await dialog(pilot)
        await pilot.press(*"class: every", "enter")
        room = await in_class(pilot)
        assert [p.name for p in room.listed.found] == ["Test pullover"]

        await pilot.press("f")
        await dialog(pilot)
        await pilot.press(*str(folder / "none"), "enter")
        await settle(pilot)
        assert "There's no folder" in seen(app)
        await pilot.press(*["backspace"] * 5, "enter")
        assert len((await in_class(pilot)).listed.found) == len(SOME)
        assert "Class: tuesday" in seen(app)
        await pilot.press("escape")
        await settle(pilot)
        assert isinstance(app.screen, StartScreen)
        assert "Test pullover" in seen(app)


async def test_a_page_for_the_wall_is_saved_and_replaced_only_when_one_says_so(folder):
    app = app_on(folder)
    page = folder / "class.html"
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("c")
        await in_class(pilot)
        await pilot.press("p")
        await settle(pilot)
        assert "<h1>Tuesday</h1>" in page.read_text("utf-8")
        page.write_text("mine", "utf-8")
        await pilot.press("p")
        await dialog(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert page.read_text("utf-8") == "mine"


async def test_a_folder_without_projects_says_so(tmp_path):
    app = app_on(tmp_path / "empty")
    async with app.run_test(size=(60, 20)) as pilot:
        await settle(pilot)
        await pilot.press("c")
        await in_class(pilot)
        said = "There are no projects in"
        assert said in seen(app)
        for key, then in (
            ("enter", said),
            ("y", "No plan says how much yarn it needs yet."),
            ("s", "No swatch has been counted yet."),
            ("p", "There's no class to make a page for yet."),
            ("end", "There's no class to make a page for yet."),
            ("r", said),
        ):
            await pilot.press(key)
            await in_class(pilot)
            assert then in seen(app), key
