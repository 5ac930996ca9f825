"""Every screen kept as readable text at three sizes. ``--snapshot-update`` rewrites; read the diff."""

import pytest

from tests.app.helpers import SIZES, app_on, go_to, screen_text, settle
from workshop import saves
from workshop.project import STEPS, Project

DEMO = saves.load(saves.demo_folder() / "harbour-pullover.toml")


@pytest.mark.parametrize("size", SIZES, ids=lambda s: f"{s[0]}x{s[1]}")
@pytest.mark.parametrize("step", STEPS)
async def test_steps_of_the_demo(clean_environment, screens, step, size):
    app = app_on(clean_environment, DEMO)
    async with app.run_test(size=size) as pilot:
        await go_to(pilot, step)
        await settle(pilot)
        text = screen_text(app)

    assert "Harbour pullover" in text
    assert text == screens(name=f"{step}-{size[0]}x{size[1]}")


@pytest.mark.parametrize("size", SIZES, ids=lambda s: f"{s[0]}x{s[1]}")
async def test_the_first_screen(screens, clean_environment, size):
    app = app_on(clean_environment)
    saves.save(DEMO, clean_environment / "harbour-pullover.toml")
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        app.screen.query_one("#hint").update("Saved in FOLDER")
        await settle(pilot)
        text = screen_text(app)

    assert text == screens(name=f"start-{size[0]}x{size[1]}")


async def test_an_empty_first_step(screens, clean_environment):
    app = app_on(clean_environment, Project(title="Empty"))
    async with app.run_test(size=(80, 24)) as pilot:
        await go_to(pilot, "fibre")
        await settle(pilot)
        text = screen_text(app)

    assert text == screens(name="fibre-empty-80x24")
