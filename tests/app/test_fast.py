"""Hands that are faster than any screen: what comes in one burst never ends the app, and closed screens go."""

import asyncio
import gc
import os
import weakref
from dataclasses import replace
from heapq import heapify

import pytest
from textual import events
from textual.geometry import Size
from textual.screen import Screen

from tests.app.helpers import app_on, at, each_size, go_to, on_disk, row_of, screen_text, settle, to
from tests.factory import pullover
from workshop import saves
from workshop.app.screens.dialogs import AgreeDialog, ShownDialog, StepDialog, TextDialog, TooSmall
from workshop.app.screens.more import MoreDialog
from workshop.app.screens.step import StepScreen


def burst(app, *keys: str) -> None:
    """Keys, and sizes of the window, all at once."""
    for key in keys:
        if isinstance(key, tuple):
            app._driver._size = Size(*key)
            app.post_message(events.Resize(Size(*key), Size(*key)))
        else:
            app.post_message(events.Key(key, key if len(key) == 1 else None))


SMALL, LARGE = (40, 12), (80, 24)


@pytest.mark.parametrize(
    ("step", "keys"),
    [
        ("shape", ("f6", "enter", "enter", "ctrl+o")),
        ("shape", ("ctrl+p", "pagedown", "pageup", "down", "enter", "enter")),
        ("gauge", ("ctrl+p", SMALL, "ctrl+p", LARGE, "ctrl+p", "escape", "escape")),
        ("gauge", ("f1", LARGE, "pagedown", "escape", "escape", "f1", SMALL, LARGE)),
        ("gauge", (SMALL, "f9", "enter", LARGE, "escape", "escape")),
        ("summary", ("p", "p", "enter", "down", "enter", "enter")),
    ],
)
async def test_what_comes_in_one_burst_ends_in_a_whole_screen(clean_environment, step, keys):
    app = app_on(clean_environment, pullover(), at=step)
    async with app.run_test(size=LARGE) as pilot:
        burst(app, *keys)  # some of it before anything is composed
        await settle(pilot)
        burst(app, *keys)
        for _ in range(4):
            await settle(pilot)
        assert app.is_running
        assert not any(isinstance(s, TooSmall) for s in app.screen_stack)
        assert on_disk(app).swatch == pullover().swatch


async def test_a_window_gives_one_answer_and_closes_nothing_but_itself(clean_environment):
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        under, over, given = AgreeDialog([("a", "one"), ("b", "two")]), TextDialog("Help", "text"), []
        await app.ask(under, given.append)
        await app.ask(over)
        under.dismiss("a")  # it lies under another
        assert app.screen is over
        over.dismiss(None)
        over.dismiss(None)
        assert app.screen is under
        under.dismiss("a")
        under.dismiss("b")
        await settle(pilot)
        assert isinstance(app.screen, StepScreen)
        assert given == ["a"]


async def test_the_next_key_belongs_to_the_window_that_the_last_one_opened(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        burst(app, "ctrl+p", *"inches", "enter")
        for _ in range(3):
            await settle(pilot)
        assert on_disk(app).units == "in"
        assert isinstance(app.screen, StepScreen)


async def test_the_list_of_commands_is_seen_whole_and_finds_by_any_word(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        await pilot.press("ctrl+p")
        async for _ in each_size(pilot):
            text = screen_text(app)
            assert "What would you like to do?" in text
            assert "Arrows and Enter choose. Esc closes" in text
        await pilot.press(*"neck copy")
        assert [c.title for c in app.screen._found] == ["Try it another way"]
        await pilot.press(*"zz", "enter")
        await settle(pilot)
        assert isinstance(app.screen, MoreDialog)
        assert "Nothing matches that" in screen_text(app)


def forget_cancelled_timers() -> None:
    """An event loop holds a cancelled timer, and the screen that set it, until the timer's time has come."""
    timers = asyncio.get_running_loop()._scheduled
    timers[:] = [timer for timer in timers if not timer.cancelled()]
    heapify(timers)


async def test_closed_screens_are_let_go(clean_environment):
    app = app_on(clean_environment, pullover(), at="fibre")
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        seen = weakref.WeakSet()
        sizes = []
        for turn in range(200):
            await app.open_step(("fibre", "wash")[turn % 2])
            if turn % 25 == 0:
                burst(app, "f4", "escape", "ctrl+p", "escape", "f1", "escape")
                await settle(pilot)
                await app.action_projects()
                await settle(pilot)
                await go_to(pilot, "fibre")
            seen.update(app.screen_stack)
            if turn in (99, 199):
                await settle(pilot)
                forget_cancelled_timers()
                gc.collect()
                sizes.append(len(gc.get_objects()))
        assert set(seen) <= set(app.screen_stack)
        assert sizes[1] < sizes[0] * 1.02


async def test_a_window_that_is_closed_is_not_shown_again(clean_environment):
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen, work = app.screen, app.body
    work.follow()  # as from an answer that is taken while its window closes: neither raises
    screen.show()


async def test_a_step_is_opened_in_a_window_that_is_only_just_being_filled(clean_environment, monkeypatch):
    app = app_on(clean_environment, pullover(), at="needles")

    async def back_to_the_steps():
        """A key before this one led there, and has its effect first."""
        app._enter(StepScreen(app.desk, "shape"))
        async with asyncio.timeout(30):
            while not (isinstance(app.room, StepScreen) and app.room._bodies):
                await asyncio.sleep(0)

    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        with monkeypatch.context() as first:
            first.setattr(app, "before_asking", back_to_the_steps)
            await app.open_step("measure")
        await settle(pilot)
        assert app.current_step == "measure"


@pytest.mark.parametrize("at", ["shape", "needles"])
async def test_a_window_that_is_closed_is_not_filled(clean_environment, at):
    app = app_on(clean_environment, pullover(), at=at)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        screen = app.screen
        screen.body = None
        await screen.middle.remove()  # as where it goes between its first paint and its filling
        await screen.furnish()


async def test_where_the_app_must_end_it_says_so_in_one_line(clean_environment, capsys):
    app = app_on(clean_environment, pullover(), at="measure")

    def broken() -> None:
        raise KeyError("oak")

    app.call_later(broken)
    await app.run_async(headless=True, size=LARGE)
    why, where = app.last_words()
    assert why.startswith("The workshop had to stop. That's our mistake, not yours: KeyError: 'oak'")
    assert where == f"Saved in {app.session.path}"
    assert "Traceback" not in capsys.readouterr().err


@pytest.mark.parametrize("window", [False, True])
async def test_two_sizes_on_their_way_to_one_screen_come_to_rest(clean_environment, monkeypatch, window):
    """Each would be laid out, and say so to the screen, which would lay out the other: for ever."""
    laid_out, between = [], []
    resized = Screen._screen_resized

    def counted(screen, size):
        laid_out.append(size)
        assert len(laid_out) < 20
        resized(screen, size)

    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        if window:
            await app.ask(TextDialog("Help", "text"))
            await settle(pilot)
        monkeypatch.setattr(Screen, "_screen_resized", counted)
        for size in (Size(120, 40), Size(*LARGE)) * 2:
            app.screen.post_message(events.Resize(size, size))
            app.screen.call_later(between.append, size)  # the toolkit makes one of two that follow each other
        await settle(pilot)
        assert app.screen.size == LARGE


async def test_a_command_that_was_clicked_is_done_although_letters_have_changed_the_list(clean_environment):
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        await pilot.press("ctrl+p")
        await settle(pilot)
        names = [command.title for command in app.screen._found]
        app.screen._list.highlighted = names.index("Help")
        app.screen._list.action_select()
        app.screen._field.value = "qqq"
        await settle(pilot)
        assert app.is_running
        assert isinstance(app.screen, TextDialog)


async def typed_at_once(pilot, *keys: str) -> None:
    """Keys in one go, and all that comes of them."""
    burst(pilot.app, *keys)
    for _ in range(4):
        await settle(pilot)


async def test_enter_opens_what_the_arrows_of_the_same_burst_have_marked(clean_environment):
    clean_environment.mkdir()
    for age, name in enumerate(("first", "second", "third")):
        path = clean_environment / f"{name}.toml"
        saves.save(pullover(title=name), path)
        os.utime(path, (1_000_000 - age, 1_000_000 - age))
    app = app_on(clean_environment)
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        await typed_at_once(pilot, "down", "down", "enter")
        assert app.session.project.title == "third"

        await typed_at_once(pilot, "ctrl+o")
        await typed_at_once(pilot, "c")
        while not app.screen.listed.complete:
            await pilot.pause()
        await settle(pilot)
        await typed_at_once(pilot, "down", "enter")
        assert app.screen._title.startswith(app.screen_stack[-2].listed.found[1].name)


async def test_enter_takes_the_answer_as_the_keys_of_the_same_burst_have_made_it(clean_environment):
    app = app_on(clean_environment, pullover(body=replace(pullover().body, source="own")), at="measure")
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        to(app, "body.chest_cm")
        await pilot.pause()
        await typed_at_once(pilot, *"1978", "backspace", "home", "delete", "enter")
        assert on_disk(app).body.chest_cm == 97.0

        await go_to(pilot, "shape")
        to(app, "garment.construction")
        await pilot.pause()
        options = [o.value for o in row_of(app, "garment.construction").options]
        await pilot.press("space")
        await settle(pilot)
        await pilot.press("home")
        await typed_at_once(pilot, "down", "down", "enter")
        assert on_disk(app).garment.construction == options[1]

        to(app, "garment.construction")
        await pilot.pause()
        await typed_at_once(pilot, "space", "down", "enter")
        assert on_disk(app).garment.construction == options[2]


async def test_the_command_that_the_arrows_of_the_same_burst_have_marked_is_done(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        await typed_at_once(pilot, "ctrl+p", *"go to")
        names = [command.title for command in app.screen._found]
        assert names[2].startswith("Go to Gauge")
        await typed_at_once(pilot, "escape")
        await typed_at_once(pilot, "ctrl+p", *"go tooo", "backspace", "backspace", "down", "down", "enter")
        assert app.current_step == "gauge"

        await typed_at_once(pilot, "ctrl+l", *"sl", "down")
        window = app.screen
        assert window._list.highlighted == 1


async def test_keys_after_one_that_opens_a_window_are_for_the_window(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        for key, window in (("f1", TextDialog), ("f4", StepDialog), ("ctrl+g", TextDialog), ("f9", ShownDialog)):
            to(app, "body.waist_cm")
            await pilot.pause()
            await typed_at_once(pilot, key, "down", "down")
            assert isinstance(app.screen, window), key
            await typed_at_once(pilot, *([key] if key in ("f4", "f9") else ["escape"]))  # and none over it
            assert isinstance(app.screen, StepScreen), key
            assert at(app) == "body.waist_cm", key


async def test_an_offer_is_taken_for_the_question_at_which_its_key_was_pressed(clean_environment):
    """Keys that wait while the machine is busy come in one go too."""
    bare = pullover(garment=replace(pullover().garment, sleeve=None, neckline=None))
    app = app_on(clean_environment, bare, at="shape")
    async with app.run_test(size=LARGE) as pilot:
        await settle(pilot)
        to(app, "garment.neckline")
        await pilot.pause()
        await typed_at_once(pilot, "ctrl+t", "down", "down", "down")
        assert on_disk(app).garment.neckline == "crew"
        assert on_disk(app).garment.sleeve is None
