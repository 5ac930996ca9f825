"""Every screen kept as readable text at three sizes. ``--snapshot-update`` rewrites; read the diff."""

from dataclasses import replace
from random import Random

import pytest

from tests.app.helpers import SIZES, app_on, dialog, each_size, screen_text, settle
from workshop import saves
from workshop.app.screens.counting import PracticeDialog
from workshop.project import STEPS, Project

DEMO = saves.load(saves.demo_folder() / "harbour-pullover.toml")


def name_of(screen: str, size: tuple[int, int]) -> str:
    return f"{screen}-{size[0]}x{size[1]}"


@pytest.mark.parametrize("step", STEPS)
async def test_steps_of_the_demo(clean_environment, screens, step):
    app = app_on(clean_environment, DEMO, at=step)
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            text = screen_text(app)
            assert "Harbour pullover" in text
            assert text == screens(name=name_of(step, size))


async def test_the_first_screen(screens, clean_environment):
    app = app_on(clean_environment)
    saves.save(DEMO, clean_environment / "harbour-pullover.toml")
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            app.screen.query_one("#hint").update("Saved in FOLDER")
            await settle(pilot)
            assert screen_text(app) == screens(name=name_of("start", size))


async def test_an_empty_first_step(screens, clean_environment):
    app = app_on(clean_environment, Project(title="Empty"), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        text = screen_text(app)

    assert text == screens(name="fibre-empty-80x24")


WINDOWS = {
    "help": ("gauge", "f1"),
    "steps": ("gauge", "f4"),
    "shown": ("gauge", "f9"),
    "agree": ("measure", "f6"),
    "picture": ("swatch", "ctrl+g"),
    "lesson": ("summary", "f2"),
}
"""Small windows: the step and the key that open them."""


@pytest.mark.parametrize("name", WINDOWS)
async def test_small_windows(screens, clean_environment, name):
    step, key = WINDOWS[name]
    project = replace(DEMO, body=replace(DEMO.body, cross_back_cm=60.0)) if name == "agree" else DEMO
    app = app_on(clean_environment, project, at=step)
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            await pilot.press(key)
            await dialog(pilot)
            text = screen_text(app)
            assert "╭" in text
            assert text == screens(name=name_of(f"window-{name}", size))
            await pilot.press("escape")


async def test_the_practice_window_with_its_verdict(screens, clean_environment):
    app = app_on(clean_environment, DEMO, at="gauge")
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            await app.push_screen(PracticeDialog(DEMO, Random(7)))
            await dialog(pilot)
            await pilot.press(*"21", "enter")
            await settle(pilot)
            text = screen_text(app)
            assert "between the pins" in text
            assert text == screens(name=name_of("window-practice", size))
            await pilot.press("escape")


async def test_the_question_before_a_swatch_is_taken_out(screens, clean_environment):
    app = app_on(clean_environment, DEMO, at="swatch")
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            await app.body.press(next(s for s in app.body.form.stops if getattr(s, "name", "") == "remove A"))
            await dialog(pilot)
            assert screen_text(app) == screens(name=name_of("window-take-out", size))
            await pilot.press("escape")


async def test_a_window_of_forty_by_twelve(screens, clean_environment):
    app = app_on(clean_environment, DEMO)
    async with app.run_test(size=(40, 12)) as pilot:
        await settle(pilot)
        text = screen_text(app)

    assert text == screens(name="too-small-40x12")
