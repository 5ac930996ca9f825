"""What every screen is built on: a title, a line to say something on, the keys; painted before the core is read."""

import asyncio
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar, TypeVar

from textual import events
from textual._styles_cache import StylesCache
from textual.app import ComposeResult
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.screen import Screen
from textual.widgets import Static

from workshop.app.desk import Desk
from workshop.app.widgets.body import Body
from workshop.app.widgets.keyline import KeyLine
from workshop.project import STEPS
from workshop.visible import in_one_line
from workshop.words.lines import wrapped

if TYPE_CHECKING:
    from workshop.app.app import WorkshopApp

Answer = TypeVar("Answer")

LOOKS_EVERY_SECONDS = 1.5
"""How often it is looked whether another window has saved something."""


LEAST_COLUMNS, LEAST_ROWS = 60, 18
"""The smallest window in which a question, its answer and what it means are seen together."""


def is_large_enough(size: Size) -> bool:
    """Whether a window has room for the workshop."""
    return size.width >= LEAST_COLUMNS and size.height >= LEAST_ROWS


NORMAL, WIDE = 72, 110
"""Columns from which the answers stand beside the questions, and from which the lesson does too."""


class OfWindow(Screen[Answer]):
    """A screen as large as the window, which goes when it is closed."""

    async def _on_resize(self, event: events.Resize) -> None:
        """Only the size that the window has now counts: the toolkit answers each size with the same size once more, so
        that two which are under way at once would follow each other for ever.
        """
        if event.size != self.app.size:
            event.prevent_default()

    def on_unmount(self) -> None:
        """Nothing keeps what was painted of it: the toolkit has the lines of the last thousand widgets."""
        StylesCache.get_inner_outer.cache_clear()

    def help_text(self) -> str:
        """Help for where the knitter stands; most small windows say all themselves."""
        return ""


class Room(OfWindow[None]):
    """A screen that fills the window. It is painted bare, and furnished after that."""

    class Stands(Message):
        """The screen is furnished: keys that were typed meanwhile can be taken."""

    class Contested(Message):
        """Another window has answered otherwise: the knitter is to be asked."""

    AUTO_FOCUS: ClassVar[str | None] = ""

    step: str | None = None
    """The step that is shown; None on the list of projects."""
    body: Body | None = None
    """What stands in the middle; None before it is furnished, and on the list of projects."""
    apart: frozenset[str] = frozenset()
    """Actions of the app that have nothing to do here."""
    beside: ClassVar[str] = ""
    """What stands beside the name of the project."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk
        self.told = ""
        """What stands at the foot of the screen."""
        self.stands = asyncio.Event()
        """The screen is furnished, or has gone: who waits for that can go on."""
        self.title_bar, self.hint = Static("", id="title-bar", markup=False), Static("", id="hint", markup=False)
        self.middle = Static("", id="body")  # a bare Widget paints its own name until it has something in it

    def compose(self) -> ComposeResult:
        self.title_bar.update(Content(self.titled()))
        yield self.title_bar
        yield from self.bare()
        yield self.hint
        yield KeyLine()

    def on_mount(self) -> None:
        """Painted first, then furnished."""
        self.call_after_refresh(self._furnish)

    def on_unmount(self) -> None:
        """Nobody waits for a screen that has gone."""
        self.stands.set()

    async def _furnish(self) -> None:
        await self.furnish()
        if self.body is not None:
            self.look()  # what is news of the file is told at once
            self.set_interval(LOOKS_EVERY_SECONDS, self.look)
        self.stands.set()
        self.post_message(self.Stands())

    async def put(self, body: Body) -> bool:
        """Fill the middle. Gives whether it is there: not in a window that is closing."""
        if self.middle.is_attached:
            self.read_styles(body)
            await self.middle.mount(body)
        return body.is_attached

    def read_styles(self, body: Body | type[Body]) -> None:
        """The style sheet of a body, where it has one, before anything of it is shown."""
        sheet = Path(__file__).parent.parent / (body.styles_in or "")
        if body.styles_in is not None and (str(sheet), "") not in self.app.stylesheet.source:
            self.app.stylesheet.read(sheet)
            self.app.stylesheet.parse()

    @property
    def step_before(self) -> str | None:
        """The step that one comes back to from here; None where there is none."""
        at = STEPS.index(self.step) if self.step else 0
        return STEPS[at - 1] if at else None

    @property
    def workshop(self) -> "WorkshopApp":
        """The app, for what goes beyond this screen."""
        from workshop.app.app import WorkshopApp

        assert isinstance(self.app, WorkshopApp)
        return self.app

    @property
    def columns(self) -> int:
        """Characters of a line that is read across the window."""
        return max(30, self.app.size.width - 4)

    def tell(self, text: str) -> None:
        """Say something on the line for that at the foot of the screen; it covers nothing."""
        self.told = text
        lines = wrapped(text, max(20, self.app.size.width - 2))
        self.hint.update(Content("\n".join(lines)), layout=False)

    def answers_stand(self) -> bool:
        """Hold the answers of a file that was just opened to their questions; the app ends where one cannot be."""
        from workshop.questions.steps import faults
        from workshop.saves import misnamed

        if self.desk.unread:
            self.desk.unread = False
            project = self.desk.session.project
            self.desk.refused = bool(misnamed(project) or faults(project))
        if self.desk.refused:
            self.app.exit()
        return not self.desk.refused

    def look(self, *, at_key: bool = False) -> None:
        """Show what another window has answered meanwhile; not while something is being typed, which would count as
        the later answer without the knitter having seen the other. ``at_key``: what is news is told once more with what
        the key does.
        """
        if self.body is None:
            return
        session = self.desk.session
        if self.is_current and not self.body.is_typed_in:
            fault = session.fault
            if session.look() or session.fault != fault:
                self.show()
            if session.news:
                self.tell(in_one_line(session.news))
                session.news = session.news if at_key else ""
        if self.desk.session.contest is not None:
            self.post_message(self.Contested())

    # ── what each screen does in its own way ─────────────────────────────────────────────────────────

    def titled(self) -> str:
        """What stands in the first line: the project, and what goes wrong with its file or the settings."""
        session, odd = self.desk.session, self.desk.settings.fault.partition(": ")[2]  # without the folders of the file
        told = f"settings.toml: {odd}" if odd else self.beside
        if session.fault:
            told = f"NOT SAVED: {session.fault}"
        return "  ·  ".join(filter(None, (session.project.title or "A new project", told)))

    def bare(self) -> ComposeResult:
        """What stands between the title and the hint before anything is known."""
        yield Static("", id="body")

    def show_bars(self) -> None:
        """What stands above the middle, as the project is now."""
        self.title_bar.update(Content(self.titled()), layout=False)

    def show(self) -> None:
        """The project as it is now, in the window as it is now."""
        if self.body is not None and self.body.is_attached:
            self.show_bars()
            self.body.show()
            self.tell(self.told)  # the window may be of another width
            self.refresh_bindings()

    def on_screen_resume(self) -> None:
        """Back from a dialog: what it changed is shown."""
        self.show()

    async def furnish(self) -> None:
        """Bring in all that is not needed for the first paint."""

    def help_text(self) -> str:
        """Help for where the knitter stands."""
        return self.body.help_text() if self.body is not None else ""
