"""The app does nothing twice, and nothing before it is wanted: counted, so that it holds on every machine."""

import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest
from textual import events

import workshop.app.widgets.work
import workshop.conversation
import workshop.planned
import workshop.progress
from tests.app.helpers import app_on, go_to, on_disk, settle, to
from tests.factory import pullover
from workshop.prints.document import summary as document
from workshop.project import STEPS
from workshop.session import Session

ROOT = Path(__file__).resolve().parent.parent.parent
LATER = ("workshop.core", "workshop.questions", "workshop.progress", "workshop.tables", "workshop.prints", "workshop.pictures", "workshop.words.phrase", "pint", "markdown_it")  # fmt: skip
"""What no first paint needs."""

BARE = """
import os, sys
from pathlib import Path
from workshop import saves
from workshop.app.app import WorkshopApp
from workshop.app.screens.room import Room
from workshop.session import opened

async def painted(room):
    print(*sys.modules, file=sys.__stdout__, flush=True)
    os._exit(0)

Room._furnish = painted
session = opened(saves.demo_folder() / "harbour-pullover.toml", unread=True) if sys.argv[1] == "demo" else None
WorkshopApp(session, Path(sys.argv[2])).run(headless=True, size=(80, 24))
"""


async def test_a_step_that_is_opened_answers_nothing_by_itself(clean_environment, monkeypatch):
    answered = []
    take = Session.answer

    def counted(self, asked, text):
        answered.append(asked.key)
        take(self, asked, text)

    monkeypatch.setattr(Session, "answer", counted)
    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        for step in ("shape", "measure", "swatch", "fibre"):
            await go_to(pilot, step)
        await settle(pilot)

    assert answered == []


async def test_the_plan_is_laid_out_once_for_one_width(clean_environment, monkeypatch):
    from workshop.app.widgets import plan

    laid_out = []
    monkeypatch.setattr(plan, "summary", lambda *a, **k: laid_out.append(k["columns"]) or document(*a, **k))
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        laid_out.clear()
        await go_to(pilot, "summary")
        assert laid_out == [76]

        await pilot.press("f3")
        await settle(pilot)
        await pilot.press("f1")
        await settle(pilot)
        await pilot.press("escape", "f3")
        await settle(pilot)
        assert laid_out == [76, 76]

        await pilot.resize_terminal(100, 30)
        await settle(pilot)
        assert laid_out == [76, 76, 96]


@pytest.mark.parametrize("command", ["demo", "open"])
def test_nothing_is_read_before_the_first_paint_that_it_does_not_show(command, tmp_path):
    """The app is built and run: what its parts import on the way counts too."""
    run = [sys.executable, "-c", BARE, command, str(tmp_path)]
    told = subprocess.run(run, capture_output=True, text=True, check=True, cwd=ROOT, timeout=60).stdout.split()

    assert "workshop.app.app" in told
    assert [name for name in told if name.startswith(LATER)] == []


async def test_a_screen_has_few_widgets_however_much_is_asked(clean_environment):
    """Each costs about two milliseconds on every move; before, the counts of three swatches were 153."""
    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        for step in STEPS:
            await go_to(pilot, step)
            shown = [w for w in app.screen.query("*") if w.display]
            assert len(shown) <= 20, (step, shown)


@pytest.fixture
def counted(monkeypatch):
    """How often the plan and the states of the steps are worked out, and the answers laid out."""
    found = Counter()

    def count(module, name):
        real = getattr(module, name)

        def counting(*arguments):
            found[name] += 1
            return real(*arguments)

        monkeypatch.setattr(module, name, counting)

    for module in (workshop.planned, workshop.app.widgets.work):
        count(module, "plan")
    for module in (workshop.progress, workshop.conversation):
        count(module, "progress")
    count(workshop.app.widgets.work, "answers")
    return found


async def test_a_key_works_nothing_out_twice(clean_environment, counted):
    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        await go_to(pilot, "measure")
        to(app, "body.chest_cm")
        await settle(pilot)
        for key, most in {
            "9": {"answers": 1},  # no chest measures 9 cm: what was there before is shown
            "8": {"plan": 1, "answers": 1},  # what it would mean, once
            "right": {},
            "enter": {"plan": 1, "answers": 1, "progress": 1},
            "down": {},
            "up": {},
        }.items():
            counted.clear()
            await pilot.press(key)
            await settle(pilot)
            assert counted == most, key
        counted.clear()
        await pilot.press("ctrl+n")
        await settle(pilot)
        assert counted["plan"] <= 2  # the step left is marked as gone through, and the next as where one is
        assert counted["progress"] <= 1


async def test_keys_typed_before_the_form_stands_reach_the_question_they_were_meant_for(clean_environment):
    app = app_on(clean_environment, pullover(last_step="measure", fit=type(pullover().fit)()))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        room = app.room
        app._held = []  # as at the start, whatever has been furnished by now
        for key in ("ctrl+r", *"31", "enter"):
            app.post_message(events.Key(key, key if len(key) == 1 else None))
        await pilot.pause()
        assert app._held
        room.post_message(room.Stands())
        await settle(pilot)
        await settle(pilot)
        assert app.current_step == "wash"
        assert on_disk(app).swatch[0].places("washed", "stitches")[1].count == 31.0
