"""All sizes on the screen: a table, rules that are saved, one size as a project of its own, a print."""

from dataclasses import replace

import pytest

import workshop.sizes
from tests.app.helpers import app_on, dialog, each_size, on_disk, screen_text, settle
from workshop import saves
from workshop.app.screens.sizes import SizesScreen
from workshop.project import GradingBody
from workshop.sizes import sizes_of
from workshop.tables import bodies


@pytest.fixture
def demo():
    return saves.load(saves.demo_folder() / "harbour-pullover.toml")


async def test_from_the_plan_to_all_sizes_a_rule_a_size_of_its_own_and_a_print(clean_environment, demo):
    app = app_on(clean_environment, demo, at="summary")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("s")
        await settle(pilot)
        assert isinstance(app.screen, SizesScreen)
        async for size in each_size(pilot):
            text = screen_text(app)
            for one in sizes_of(demo).sizes:
                assert any(line.strip(" ▸").startswith(one.size) for line in text.split("\n")), (size, one.size)
            assert "M *" in text
            assert "103.7 (101.4 to 105.9)" in text
            assert "Length, shoulder to hem:" in text
        await pilot.resize_terminal(80, 24)

        await pilot.press("r")
        await dialog(pilot)
        await pilot.press("enter")
        await dialog(pilot)
        assert "changes with the body" in screen_text(app)
        await pilot.press("down", "enter")
        await settle(pilot)
        assert on_disk(app).grading.rule == {"length_cm": "the same"}
        assert "is the same in every size" in " ".join(screen_text(app).split())

        await pilot.press("down", "r")  # from M to L
        await dialog(pilot)
        await pilot.press("enter")
        await dialog(pilot)
        await pilot.press("down", "down", "enter")
        await dialog(pilot)
        await pilot.press(*"wide", "enter")
        await pilot.pause()
        assert "wide" in screen_text(app)  # what can't be read stays, with the reason
        await pilot.press(*["backspace"] * 4, *"70", "enter")
        await settle(pilot)
        assert on_disk(app).grading.rule == {"length_cm": "the same", "length_cm.L": "70"}

        await pilot.press("p")
        await settle(pilot)
        page = app.session.path.with_name(f"{app.session.path.stem}-sizes.html")
        assert "Sizes: XS (S, M," in page.read_text("utf-8")
        await pilot.press("p")
        await dialog(pilot)
        await pilot.press("escape")

        for moves, size in (("down down", "2X"), ("up up", "L")):
            for key in (*moves.split(), "enter"):  # in one burst
                app.simulate_key(key)
            await dialog(pilot)
            assert f"Size {size} becomes a project" in screen_text(app)
            await pilot.press("escape")
            await settle(pilot)

        before = app.session.path
        await pilot.press("enter")
        await dialog(pilot)
        await pilot.press(*"Harbour", "enter")
        await settle(pilot)
        assert app.current_step == "summary"
        assert not isinstance(app.screen, SizesScreen)
        taken = on_disk(app)
        assert (taken.title, taken.body.size, taken.garment.length_cm) == ("Harbour", "L", 70.0)
        assert taken.grading.rule == {}
        assert saves.load(before).title == demo.title


async def test_keys_are_taken_while_sizes_are_planned_and_each_is_planned_once(clean_environment, demo, monkeypatch):
    planned, size = [], workshop.sizes.Design.size
    app = app_on(clean_environment, demo, at="summary")

    def seen(design, name):
        planned.append((name, app.screen.query_one("#sizes-found").highlighted))
        if name == "L":
            app.simulate_key("up")
        return size(design, name)

    monkeypatch.setattr(workshop.sizes.Design, "size", seen)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("s")
        await settle(pilot)
        assert [name for name, _ in planned] == list(bodies.sizes("women"))
        assert dict(planned)["L"] == 2  # the base size is marked as soon as it is there
        assert dict(planned)["5X"] == 1  # and the key came before the last was planned


async def test_refused_sizes_say_why_and_other_tables_are_a_key_away(clean_environment, demo):
    short = workshop.sizes.with_length(demo, "length_cm", "5X", 20.0)
    short = replace(short, grading=replace(short.grading, body=(GradingBody(name="Nell"),)))
    app = app_on(clean_environment, short, at="summary")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("s")
        await settle(pilot)
        await pilot.press("enter")  # Nell, of whom nothing is measured yet
        await pilot.pause()
        assert "Size Nell can't become a project. A plan needs a chest measurement." in screen_text(app)
        await pilot.press("t")
        await dialog(pilot)
        await pilot.press("down", "enter")
        await settle(pilot)
        assert "Can't be made like this" in screen_text(app)
        await pilot.press("end", "enter")
        await settle(pilot)
        assert "can't become a project" in screen_text(app)
        await pilot.press("up", "r")  # 4X
        await dialog(pilot)
        assert "Length of the sleeve: hasn't been typed" in screen_text(app)
        await pilot.press("down", "enter")
        await dialog(pilot)
        await pilot.press("enter")  # only in this size
        await dialog(pilot)
        await pilot.press(*"42", "enter")
        await settle(pilot)
        assert on_disk(app).grading.rule["sleeve_cm.4X"] == "42"
        below = " ".join(str(app.screen.query_one("#sizes-told").render()).split())
        assert "Length of the sleeve: 42 cm in 4X. You typed no such length for the other sizes." in below
        assert "The length is what you typed for 5X. Otherwise it changes with the body" in below
        await pilot.press("t")
        await dialog(pilot)
        await pilot.press("down", "enter")
        await settle(pilot)
        assert "From the men's table" in screen_text(app)
        await pilot.press("escape")
        await settle(pilot)
        assert not isinstance(app.screen, SizesScreen)


async def test_own_bodies_are_entered_changed_removed_and_brought_back(clean_environment, demo):
    app = app_on(clean_environment, demo, at="summary")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("s")
        await settle(pilot)
        await pilot.press("b")  # there is none yet: the name of the first is asked for
        await dialog(pilot)
        await pilot.press(*"Nell", "enter")
        await dialog(pilot)
        assert "Nell: chest or bust" in screen_text(app)
        await pilot.press(*"960", "enter")
        await pilot.pause()
        assert "960 looks wrong: it should be 30 cm to 220 cm" in screen_text(app)
        assert "A plan needs a chest measurement" in screen_text(app)  # of the size behind the window
        assert on_disk(app).grading.body[0].chest_cm is None
        await pilot.press("backspace", "enter")
        await dialog(pilot)
        assert on_disk(app).grading.body[0].chest_cm == 96.0  # at once
        assert "Nell: high bust" in screen_text(app)
        await pilot.press("escape")
        await dialog(pilot)
        async for size in each_size(pilot):
            await pilot.press("home")
            assert "Chest or bust: 96 cm" in screen_text(app), size
            await pilot.press("end")
            assert "Remove Nell" in screen_text(app), size
            assert "Esc goes back" in screen_text(app), size
        await pilot.resize_terminal(80, 24)
        await pilot.press("escape")
        await dialog(pilot)
        await pilot.press("escape")
        await settle(pilot)
        assert "Nell *" in screen_text(app)
        assert "From your own list of bodies" in screen_text(app)

        await pilot.press("b")
        await dialog(pilot)
        await pilot.press("enter")  # Nell
        await dialog(pilot)
        await pilot.press("home", "down", "enter")
        await dialog(pilot)
        assert "96 cm" in screen_text(app)  # what there is can be changed
        await pilot.press(*"100", "enter")  # typing replaces it
        await dialog(pilot)
        await pilot.press("escape")
        await dialog(pilot)
        assert on_disk(app).grading.body[0].chest_cm == 100.0
        await pilot.press("end", "enter")
        await dialog(pilot)
        assert "Remove Nell and these measurements?" in screen_text(app)
        await pilot.press("down", "enter")
        await settle(pilot)
        assert on_disk(app).grading.body == ()
        assert "From the women's table" in screen_text(app)

        await pilot.press("ctrl+z")
        await dialog(pilot)
        assert "your own bodies" in screen_text(app)
        await pilot.press("enter")
        await settle(pilot)
        assert on_disk(app).grading.body[0].chest_cm == 100.0
        assert "Nell *" in screen_text(app)
