"""Ways to use the app in tests."""

import asyncio
from collections.abc import AsyncIterator, Sequence
from dataclasses import replace
from pathlib import Path

from textual._context import visible_screen_stack
from textual.app import App
from textual.pilot import Pilot
from textual.screen import ModalScreen
from textual.strip import Strip

from workshop import saves
from workshop.app.app import WorkshopApp
from workshop.app.widgets.form import AnswerInput, AnswerList, Form
from workshop.app.widgets.rows import Row
from workshop.project import Project
from workshop.session import Session, opened

SIZES = [(80, 24), (60, 20), (120, 40)]


def app_on(folder: Path, project: Project | None = None, *, at: str | None = None) -> WorkshopApp:
    """The app, on the list of projects or on a saved project: where it was left off, ``at`` a step or "needles".

    At a step it stands as for one who has just come there from another one: nobody is greeted.
    """
    folder.mkdir(parents=True, exist_ok=True)
    if project is None:
        return WorkshopApp(folder=folder)
    session = Session(replace(project, last_step=None) if at else project, folder)
    session.save()
    knit = at == "needles"
    app = WorkshopApp(opened(session.path), folder, knit=knit)
    if at and not knit:
        app._first.step = at
    return app


def painted(app: App) -> list[Strip]:
    """What stands on the screen, row by row, with its colours."""
    visible_screen_stack.set(app._background_screens)
    return app.screen._compositor.render_strips(app.size)


def screen_text(app: App) -> str:
    """What stands on the screen, row by row."""
    return "\n".join(row.text.rstrip() for row in painted(app)) + "\n"


def row_of(app: WorkshopApp, key: str) -> Row:
    """The form's row of a question. Raises KeyError where it is not asked."""
    return app.screen.query_one(Form).rows[key]


def to(app: WorkshopApp, key: str) -> None:
    """The focus to a question."""
    app.screen.query_one(Form).to(row_of(app, key))


def at(app: WorkshopApp) -> str | None:
    """The question that has the focus, by its key; the name of a button with a sign before it."""
    stop = app.screen.query_one(Form).here
    assert app.focused is not None
    return stop.field.key if isinstance(stop, Row) else f"> {stop.name}" if stop else None


def button(app: WorkshopApp, name: str) -> None:
    """The focus to a button of the form. Raises StopIteration where there is none of that name."""
    form = app.screen.query_one(Form)
    form.to(next(s for s in form.stops if not isinstance(s, Row) and s.name == name))


def buttons(app: WorkshopApp) -> dict[str, str]:
    """What stands on the buttons of the form, by their names."""
    return {s.name: s.label for s in app.screen.query_one(Form).stops if not isinstance(s, Row)}


def put(app: WorkshopApp, text: str) -> None:
    """What a hand would type into the field at hand."""
    app.screen.query_one(AnswerInput).value = text


async def each_size(pilot: Pilot, sizes: Sequence[tuple[int, int]] = SIZES) -> AsyncIterator[tuple[int, int]]:
    """One app in a window of one size after the other."""
    for size in sizes:
        await pilot.resize_terminal(*size)
        await settle(pilot)
        yield size


def _moves(app: App) -> bool:
    """Whether anything is still to be read, laid out, or called after the next painting."""
    if app._exit:  # it has been left: nothing comes any more
        return False
    if app._resize_event is not None or app._resize_timer is not None:
        return True
    screen = app.screen  # those below it are laid out when they come up again
    if screen._layout_required or screen._scroll_required or screen._callbacks or screen._layout_widgets:
        return True
    pumps = [app, *(widget for screen in app.screen_stack for widget in screen.walk_children(with_self=True))]
    return any(p._next_callbacks or not p._message_queue.empty() for p in pumps)


async def at_rest(pilot: Pilot) -> None:
    """Wait until nothing moves any more. How busy the machine is, by which the toolkit goes, says nothing of that:
    on a busy one a layout that is still to come looks like rest.
    """
    still = 0
    for _ in range(200):
        await pilot.pause()
        still = 0 if _moves(pilot.app) else still + 1
        if still == 2:
            return
        if not still:
            await asyncio.sleep(0.002)
    raise AssertionError(f"{type(pilot.app.screen).__name__} does not come to rest")


async def settle(pilot: Pilot) -> None:
    """Let everything that was set off come to rest."""
    await pilot.app.workers.wait_for_complete()
    await at_rest(pilot)
    painted(pilot.app)


async def dialog(pilot: Pilot) -> None:
    """Let a small window come up."""
    for _ in range(200):
        await pilot.pause()
        windows = pilot.app.screen.query(".window") if isinstance(pilot.app.screen, ModalScreen) else ()
        if any(w.size.height and w.is_mounted for w in windows):
            await at_rest(pilot)
            return
    raise AssertionError(f"no window came up over {type(pilot.app.screen).__name__}")


async def answer(pilot: Pilot, key: str, text: str) -> None:
    """Give one answer as if it had been typed, and Enter."""
    row = row_of(pilot.app, key)
    to(pilot.app, key)
    if row.is_choice:
        await pilot.press("space")
        await settle(pilot)
        listed = pilot.app.screen.query_one(AnswerList)
        listed.highlighted = next(i for i, o in enumerate(listed.answers) if o and str(o.value) == text)
    else:
        put(pilot.app, text)
    await pilot.press("enter")
    await settle(pilot)


async def go_to(pilot: Pilot, step: str) -> None:
    """Open a step."""
    await pilot.app.open_step(step)
    await settle(pilot)


def on_disk(app: WorkshopApp) -> Project:
    """What the file holds."""
    return saves.load(app.session.path)
