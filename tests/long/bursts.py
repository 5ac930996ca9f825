"""Bursts of keys, mouse and changes of size, faster than any screen follows: the app goes on and keeps its file."""

import asyncio
import gc
import os
import random
import tempfile
import traceback
import weakref
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from time import process_time

from textual import events
from textual.geometry import Size
from textual.message import Message
from textual.pilot import Pilot, WaitForScreenTimeout
from textual.screen import Screen

from tests.factory import pullover
from workshop import saves
from workshop.app.app import WorkshopApp, all_bindings
from workshop.project import STEPS
from workshop.session import opened

SIZES = ((60, 20), (80, 24), (120, 40), (40, 12))
"""The last is too small for a question with its answer."""

A_SITTING = 25
"""Bursts for one window; then what it leaves is looked at."""

QUIET_SECONDS, IDLE, ASKED = 15.0, 0.1, 3
"""A window hangs that is asked so often, is not at rest after so long each time, and had nothing to reckon meanwhile.

A busy machine is no fault, and once is not enough: the toolkit counts on an answer of a widget that goes just then.
"""

MOST_SCREENS = 4
"""Closed screens that may be kept beside one for each that is open: the toolkit keeps the one that opened it.

That they don't become more and more, ``tests/app/test_fast.py`` sees over 200 of them.
"""


def _keys() -> list[str]:
    """Every key that has a meaning anywhere, some more than once, and some that are typed."""
    bound = [key.strip() for keys in all_bindings().values() for key in keys.split(",")]
    often = ["enter", "escape", "ctrl+p", "f6", "f4", "f9", "f1", "pagedown", "pageup", "ctrl+n", "ctrl+r", "ctrl+o"]
    moves = ["up", "down", "tab", "shift+tab", "home", "end", "left", "right", "space", "backspace", "delete"]
    rare = ["ctrl+c", "ctrl+v", "ctrl+x", "ctrl+\\", "f12"]
    seldom = ("ctrl+q",)
    return (
        [k for k in bound if k not in seldom] * 2 + often * 6 + moves * 4 + rare + list("0123456789.,½ abcnpmyw[?") * 2
    )


def _event(chance: random.Random, keys: list[str], size: tuple[int, int]) -> Iterator[Message]:
    """One thing that hands do."""
    kind = chance.random()
    x, y = chance.randrange(size[0]), chance.randrange(size[1])
    if kind < 0.86:
        key = chance.choice(keys)
        for _ in range(chance.choice((1, 1, 1, 2, 3))):
            yield events.Key("space" if key == " " else key, key if len(key) == 1 else None)
    elif kind < 0.863:
        yield events.Key("ctrl+q", None)
    elif kind < 0.95:
        for mouse in (events.MouseDown, events.MouseUp):
            yield mouse(None, x, y, 0, 0, 1, False, False, False, x, y)
    elif kind < 0.98:
        wheel = chance.choice((events.MouseScrollDown, events.MouseScrollUp))
        yield wheel(None, x, y, 0, 0, 0, False, False, False, x, y)
    else:
        yield events.Paste(chance.choice(("97", "12 cm\n13", "[/] \x1b[2J", "x" * 500)))


class Sitting:
    """One window on a project, or on the list of them, and all that is sent to it."""

    def __init__(self, chance: random.Random, folder: Path, keys: list[str]) -> None:
        self.chance, self.folder, self.keys = chance, folder, keys
        self.size = chance.choice(SIZES)
        folder.mkdir(exist_ok=True)
        path = folder / "jumper.toml"
        path.write_text(saves.dumps(pullover(last_step=chance.choice((None, *STEPS)))))
        self.app = WorkshopApp(opened(path) if chance.random() < 0.7 else None, folder)
        self.sent: list[str] = []
        """The burst that was sent last."""
        self.screens: weakref.WeakSet[Screen[object]] = weakref.WeakSet()

    @property
    def running(self) -> bool:
        """Whether the window is still open."""
        return not self.app._exit and self.app._exception is None

    def burst(self) -> None:
        """Send some things at once."""
        driver = self.app._driver
        assert driver is not None
        self.sent = []
        for _ in range(self.chance.choice((1, 2, 2, 3, 3, 4, 6, 10))):
            if self.chance.random() < 0.08:
                self.size = self.chance.choice(SIZES)
                driver._size = self.size
                self.sent.append(f"{self.size}")
                driver.process_message(events.Resize(Size(*self.size), Size(*self.size)))
                continue
            for event in _event(self.chance, self.keys, self.size):
                told = event.key if isinstance(event, events.Key) else type(event).__name__
                self.sent.append(told)
                driver.process_message(event)

    async def at_rest(self) -> None:
        """Until everything that was set off is done."""
        pilot = Pilot(self.app)
        for _ in range(2):
            began, silent = process_time(), 0
            while not await _rests(pilot):
                silent = silent + 1 if process_time() - began <= IDLE else 0
                assert silent < ASKED, f"hangs; at work are {_at_work()}"
                began = process_time()
        self.screens.update(self.app.screen_stack if self.running else ())

    async def through(self, bursts: int) -> list[str]:
        """So many bursts; the first before anything is composed. Gives what was wrong."""
        app, faults = self.app, []
        task = asyncio.create_task(app.run_async(headless=True, size=self.size, mouse=True))
        while app._driver is None and not task.done():
            await asyncio.sleep(0)
        for _ in range(bursts):
            if not self.running or task.done():
                break
            self.burst()
            for _ in range(self.chance.choice((0, 1, 3, 10))):  # half way through it
                await asyncio.sleep(0)
            if self.chance.random() < 0.3:
                self.burst()
            if self.chance.random() < 0.7:
                await self.at_rest()
        if app._exception is None and self.running:
            await self.at_rest()
            gc.collect()
            kept = [s for s in self.screens if s not in app.screen_stack]
            most = MOST_SCREENS + len(app.screen_stack)
            faults += [f"{len(kept)} closed screens are kept: {kept}"] if len(kept) > most else []
            app.exit()
        began = process_time()
        while not (await asyncio.wait([task], timeout=QUIET_SECONDS))[0]:
            assert process_time() - began > IDLE, f"does not end; at work are {_at_work()}"
            began = process_time()
        if app._exception is not None:
            lines = traceback.format_exception(app._exception)
            faults.append(f"{' '.join(self.sent)}:\n{''.join(lines[-8:])}")
        for path in self.folder.glob("*.toml"):
            with suppress(FileNotFoundError):
                saves.load(path)
        return faults


async def _rests(pilot: Pilot[None]) -> bool:
    """Whether all that was sent is done."""
    try:
        await pilot._wait_for_screen(QUIET_SECONDS)
    except WaitForScreenTimeout:
        return False
    return True


def _at_work() -> list[str]:
    """Where every task waits that is not just listening."""
    found = []
    for task in asyncio.all_tasks():
        inner, places = task.get_coro(), []
        while getattr(inner, "cr_frame", None) is not None:
            places.append(f"{Path(inner.cr_code.co_filename).name}:{inner.cr_frame.f_lineno} {inner.cr_code.co_name}")
            inner = inner.cr_await
        if not any("_get_message" in p or "_run_timer" in p for p in places[-3:]):
            found.append(f"{task.get_name()}: {' > '.join(places[-6:])}")
    return found


@contextmanager
def _at_home(home: Path) -> Iterator[None]:
    """Settings and saves of nobody."""
    ours = {"WORKSHOP_SAVES": str(home / "saves"), "WORKSHOP_SETTINGS": str(home / "settings.toml")}
    before = {name: os.environ.get(name) for name in ours}
    os.environ.update(ours)
    try:
        yield
    finally:
        for name, value in before.items():
            if value is None:
                del os.environ[name]
            else:
                os.environ[name] = value


def bursts(times: int, seed: int, *, tell: bool = False) -> tuple[int, list[str]]:
    """Send so many bursts. Gives how many windows took them, and what was wrong."""
    faults, keys, windows = [], _keys(), 0
    for begun in range(0, times, A_SITTING):
        with tempfile.TemporaryDirectory() as name, _at_home(Path(name)):
            sitting = Sitting(random.Random(seed * 1_000_000 + begun), Path(name) / "saves", keys)
            windows += 1
            try:
                found = asyncio.run(sitting.through(min(A_SITTING, times - begun)))
            except Exception as error:  # a window that hangs, a file that does not load
                lines = traceback.format_exception(error)
                found = [f"{' '.join(sitting.sent)}:\n{''.join(lines[-8:])}"]
            faults += [f"{begun}: {fault}" for fault in found]
            if tell and found:
                print(faults[-1], flush=True)
    return windows, faults
