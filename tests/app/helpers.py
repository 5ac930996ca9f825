"""Ways to use the app in tests."""

from collections.abc import AsyncIterator, Sequence
from dataclasses import replace
from pathlib import Path

from textual._context import visible_screen_stack
from textual.app import App
from textual.pilot import Pilot
from textual.screen import ModalScreen
from textual.strip import Strip
from textual.widgets import Input, Select

from workshop import saves
from workshop.app.app import WorkshopApp
from workshop.app.widgets.field import FieldRow
from workshop.project import Project
from workshop.session import Session, opened

SIZES = [(80, 24), (60, 20), (120, 40)]


def app_on(folder: Path, project: Project | None = None, *, at: str | None = None) -> WorkshopApp:
    """The app, on the list of projects or on a saved project: where it was left off, or ``at`` a step.

    At a step it stands as for one who has just come there from another one: nobody is greeted.
    """
    folder.mkdir(parents=True, exist_ok=True)
    if project is None:
        return WorkshopApp(folder=folder)
    session = Session(replace(project, last_step=None) if at else project, folder)
    session.save()
    app = WorkshopApp(opened(session.path), folder)
    if at:
        app._where_left_off = lambda: at
    return app


def painted(app: App) -> list[Strip]:
    """What stands on the screen, row by row, with its colours."""
    visible_screen_stack.set(app._background_screens)
    return app.screen._compositor.render_strips(app.size)


def screen_text(app: App) -> str:
    """What stands on the screen, row by row."""
    return "\n".join(row.text.rstrip() for row in painted(app)) + "\n"


def row_of(app: WorkshopApp, key: str) -> FieldRow:
    """The form's row of a question."""
    for row in app.screen.query(FieldRow):
        if row.field.key == key:
            return row
    raise KeyError(f"{key} is not asked on {type(app.screen).__name__}")


async def each_size(pilot: Pilot, sizes: Sequence[tuple[int, int]] = SIZES) -> AsyncIterator[tuple[int, int]]:
    """One app in a window of one size after the other."""
    for size in sizes:
        await pilot.resize_terminal(*size)
        await settle(pilot)
        yield size


async def settle(pilot: Pilot) -> None:
    """Let everything that was set off come to rest."""
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()
    await pilot.pause()
    painted(pilot.app)


async def dialog(pilot: Pilot) -> None:
    """Let a small window come up."""
    for _ in range(20):
        await pilot.pause()
        windows = pilot.app.screen.query(".window") if isinstance(pilot.app.screen, ModalScreen) else ()
        if any(w.size.height and w.is_mounted for w in windows):
            await pilot.pause()
            return
    raise AssertionError(f"no window came up over {type(pilot.app.screen).__name__}")


async def answer(pilot: Pilot, key: str, text: str) -> None:
    """Give one answer as if it had been typed, and Enter."""
    row = row_of(pilot.app, key)
    control = row.control
    control.focus()
    if isinstance(control, Input):
        await pilot.pause()
        control.value = text
        await pilot.pause()
        await control.action_enter()  # what the Enter key does
    else:
        assert isinstance(control, Select)
        control.value = next(
            o.value for o in row.field.question.kind.options(pilot.app.session.project) if str(o.value) == text
        )
    await settle(pilot)


async def go_to(pilot: Pilot, step: str) -> None:
    """Open a step."""
    await pilot.app.open_step(step)
    await settle(pilot)


def on_disk(app: WorkshopApp) -> Project:
    """What the file holds."""
    return saves.load(app.session.path)
