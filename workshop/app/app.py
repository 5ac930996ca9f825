"""The application: one session, one screen at a time, and the keys that work everywhere."""

import asyncio
import os
import signal
import sys
from collections.abc import Iterable
from functools import partial
from pathlib import Path
from traceback import extract_tb
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.app import SystemCommand
from textual.binding import Binding, BindingType
from textual.dom import DOMNode
from textual.driver import Driver
from textual.screen import ModalScreen, Screen
from textual.worker import WorkerFailed

from workshop import saves
from workshop.app.desk import Desk
from workshop.app.keys import hidden, printed, shown
from workshop.app.opening import Opening
from workshop.app.screens.room import OfWindow, Room, is_large_enough
from workshop.app.screens.step import StepScreen
from workshop.app.terminal import patient
from workshop.app.themes import ALL, NAMES, WITHOUT_COLOURS
from workshop.project import STEPS, Project
from workshop.session import Session
from workshop.settings import load
from workshop.visible import in_one_line, shown_path

if TYPE_CHECKING:
    from workshop.app.screens.more import Deed


def all_bindings() -> dict[str, str]:
    """Every action that a key can be given to, on any screen, with the keys it has."""
    from workshop.app.screens import dialogs, more, safety
    from workshop.app.screens.class_list import ClassScreen, ReadScreen
    from workshop.app.screens.needles import NeedlesScreen
    from workshop.app.screens.start import StartScreen
    from workshop.app.widgets.form import AnswerInput, AnswerList, Form, Sheet
    from workshop.app.widgets.plan import PlanText

    rooms: list[type[DOMNode]] = [WorkshopApp, StartScreen, PlanText, StepScreen, Form, AnswerInput, Sheet, AnswerList]
    rooms += [NeedlesScreen, ClassScreen, ReadScreen]
    windows = (r for module in (dialogs, more, safety) for r in vars(module).values() if isinstance(r, type))
    rooms += [r for r in dict.fromkeys(windows) if issubclass(r, ModalScreen)]
    found = (b for room in rooms for b in room.__dict__.get("BINDINGS", ()))
    return {b.id: b.key for b in found if isinstance(b, Binding) and b.id}


HOLD = "counts hold"
"""Chosen where counts are kept, although they may be of another fabric."""


def _told(error: Exception) -> str:
    """An exception in one line: what it was, and where in the workshop."""
    while isinstance(error, WorkerFailed):
        error = error.error  # type: ignore[assignment]
    places = (f for f in reversed(extract_tb(error.__traceback__)) if "workshop" in Path(f.filename).parts)
    place = next((f" ({Path(f.filename).name}, line {f.lineno})" for f in places), "")
    return in_one_line(f"{type(error).__name__}: {error}{place}")


class WorkshopApp(Opening):
    """From a yarn to a plan."""

    TITLE = "Knitwear workshop"
    CSS_PATH = "app.tcss"
    ENABLE_COMMAND_PALETTE = False
    """Ours is :class:`~workshop.app.screens.more.MoreDialog`."""

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("app.help", "f1", "explain", "Help", "Help for this question, and all keys", first=True),
        shown("app.lesson", "f2", "face('lesson')", "Lesson", "Show or hide the lesson of this step", first=True),
        hidden(
            "app.words",
            "ctrl+l",
            "words",
            "Glossary: what does a word mean?",
            "Look up a knitting word",
            first=True,
        ),
        shown(
            "app.working", "f3", "face('working')", "Working", "Show or hide how each number was worked out", first=True
        ),
        shown("app.steps", "f4", "steps", "Steps", "All the steps, and how far along each one is", first=True),
        shown("app.picture", "ctrl+g", "picture", "Picture", "A picture of this step", first=True),
        shown("app.offers", "f5", "offers", "Take all", "Take all the suggested answers in this step", first=True),
        shown("app.agree", "f6", "agree", "Confirm", "Confirm an answer that looked odd", first=True),
        shown("app.shown", "f9", "shown", "Units", "Units, needle sizes, US or UK words, and colors", first=True),
        shown("app.next", "ctrl+n", "onward", "Next", "Next step", first=True),
        shown("app.back", "ctrl+r", "back", "Back", "Previous step", first=True),
        hidden(
            "app.offer",
            "ctrl+t",
            "offer",
            "Take this suggestion",
            "Take the suggestion for this question, like Enter in an empty field",
            first=True,
        ),
        shown("app.more", "ctrl+p", "more", "More", "Everything you can do here, by name", first=True),
        shown("app.projects", "ctrl+o", "projects", "Projects", "All saved projects", first=True),
        shown("app.earlier", "ctrl+z", "earlier", "Undo", "Earlier versions, and how to go back to one", first=True),
        shown("app.quit", "ctrl+q", "quit", "Quit", "Leave. Everything is saved", first=True),
    ]

    def __init__(self, session: Session | None = None, folder: Path | None = None, *, knit: bool = False) -> None:
        """``knit``: the project opens at the needles."""
        no_color = bool(os.environ.get("NO_COLOR"))
        super().__init__(ansi_color=True if no_color else None)
        for theme in ALL:
            self.register_theme(theme)
        self.settings = load(all_bindings)
        self.theme = "ansi-dark" if no_color else NAMES[self.settings.theme]
        folder = folder or saves.default_folder()
        back_again = session is not None and session.project.last_step is not None
        self.desk = Desk(session or Session(Project(), folder), folder, self.settings, back_again, session is not None)
        self.take_up(self.desk.session)
        self._first = self._room_of(session, knit=knit)
        self._held = []

    def _room_of(self, session: Session | None, *, knit: bool) -> Room:
        """The first screen."""
        if session is None:
            return self._list_of_projects()
        return self._needles() if knit else StepScreen(self.desk)

    def get_default_screen(self) -> Screen[None]:
        """The list of projects, or the project given: nothing is built below it."""
        return self._first

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Our own colours where a theme is not ours."""
        return WITHOUT_COLOURS

    def get_driver_class(self) -> type[Driver]:
        """How the terminal is read and written."""
        return patient(super().get_driver_class())

    def go(self) -> int:
        """Run the app. Gives the exit code and says where the project is."""
        self.run()
        if self.desk.refused:
            return 1
        for line in self.last_words():
            print(line)
        return 1 if self.session.fault else self.return_code or 0

    def last_words(self) -> list[str]:
        """What is said when the app has ended: whether all is saved, and where."""
        session, said = self.session, []
        session.asks = False  # nobody is left to be asked: where two windows differ, hers goes on beside
        if session.fault:  # once more, before she is told
            session.save()
        session.look()  # what is told to be saved is on the disk
        if self._exception is not None:
            said.append(f"The workshop had to stop. That's our mistake, not yours: {_told(self._exception)}.")
        if session.fault:
            said.append(f"Not saved: {session.fault}")
        elif session.path is not None:
            said.append(f"Saved in {shown_path(session.path)}")
        return said

    def _fatal_error(self) -> None:
        """The toolkit's way to end after an exception; the knitter reads one line of it (``go``), developers all."""
        if "debug" in self.features:
            super()._fatal_error()
        else:
            self._close_messages_no_wait()

    def on_mount(self) -> None:
        """Make sure that closing the window ends the app in order."""
        if os.name == "posix":
            loop = asyncio.get_running_loop()
            for name in (signal.SIGTERM, signal.SIGHUP):
                loop.add_signal_handler(name, self._leave)
        self.set_keymap(dict(self.settings.keys))

    def get_key_display(self, binding: Binding) -> str:
        """A key as it is printed on the keyboard."""
        return printed(binding.key)

    # ── the window ───────────────────────────────────────────────────────────────────────────────────

    async def on_resize(self, event: events.Resize) -> None:
        """A window too small for a question with its answer says so, until it is large enough."""
        if not is_large_enough(event.size):  # once it is, the window that says so sees that itself
            self.call_next(self._say_too_small)  # the toolkit takes the new size over after this

    async def _say_too_small(self) -> None:
        from workshop.app.screens.dialogs import TooSmall

        if not any(isinstance(s, TooSmall) for s in self.screen_stack):
            await self.push_screen(TooSmall())

    # ── keys ─────────────────────────────────────────────────────────────────────────────────────────

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys that need an open step are hidden elsewhere."""
        name = self.current_step
        if not self._is_for_this_window(action):
            return False
        if action in ("face", "steps", "back", "onward"):
            if (
                name is None
            ):  # on the list of projects; or a step that is not known yet, and only where it leads is open
                return isinstance(self.screen, StepScreen) and action in ("face", "steps")
            if (action == "onward" and name == "summary") or (action == "back" and name == STEPS[0]):
                return None
        if action == "offers":
            return name is not None and self.body is not None and self.body.has_offers
        if action == "agree":
            return self.body is not None and bool(self._asked())
        if action == "offer":
            return name is not None and name != "summary"
        if action in ("projects", "picture", "earlier"):
            return name is not None
        return True

    def _is_for_this_window(self, action: str) -> bool:
        """Whether a key of the app can do anything where the knitter stands: in a small window hardly any can."""
        window = self.screen
        if isinstance(window, Room):
            return action not in window.apart
        if action == "explain":
            return isinstance(window, OfWindow) and bool(window.help_text())
        return action not in ("more", "words", "shown")

    def _asked(self) -> list[tuple[str, str]]:
        """What the step on the screen has questions about, each as its name and its question."""
        from workshop.conversation import asking
        from workshop.progress import cloth_changed
        from workshop.words.phrase import say_check

        name, project = self.current_step, self.session.project
        if name is None:
            return []
        asked = [(c.name, say_check(c, project)) for c in asking(name, self.session.plan)]
        changed = cloth_changed(name, project)
        if changed:
            asked.append((HOLD, f"Keep the counts, even though this has changed since: {', '.join(changed)}."))
        return asked

    async def action_face(self, face: str) -> None:
        """Turn the side panel."""
        if self.body is not None:
            await self.body.show_face(face)
            self.room.refresh_bindings()

    async def action_offer(self) -> None:
        """Take the offered answer."""
        await self.after_keys()
        if self.body is not None:
            await self.body.take_offer()

    async def action_offers(self) -> None:
        """Take all offered answers of the step."""
        await self.after_keys()
        if self.body is not None:
            self.body.take_all_offers()

    async def action_agree(self) -> None:
        """Confirm something that looks odd."""
        from workshop.app.screens.dialogs import AgreeDialog

        await self.ask(AgreeDialog(self._asked()), self._agreed)

    def _agreed(self, chosen: str | None) -> None:
        if chosen == HOLD:
            self.session.counts_hold()
        elif chosen:
            self.session.agree(chosen)
        if chosen and isinstance(self.room, StepScreen):
            self.room.show()

    async def action_shown(self) -> None:
        """Switch what things are shown in."""
        from workshop.app.screens.dialogs import ShownDialog
        from workshop.app.ways_to_show import show_so, ways_to_show

        await self.before_asking()
        said = "" if self.room.step is not None else "You choose units and words in each project."
        window = ShownDialog(partial(ways_to_show, self), partial(show_so, self), said)
        await self.ask(window, lambda _: self.show_again())

    def show_again(self) -> None:
        """The same screen in other units, at the same question."""
        if self.body is not None:
            self.body.show_again()
            self.room.show_bars()

    async def action_picture(self) -> None:
        """The picture of the step: a swatch, a ruler, before and after the wash, sizes, pieces."""
        from workshop.app.screens.dialogs import TextDialog
        from workshop.prints.drawings import step_drawing
        from workshop.words.titles import title_of

        name = self.current_step
        if name is None:
            return
        room = max(30, min(70, int(self.size.width * 0.9) - 6))
        lines = step_drawing(name, self.session.plan, columns=room, plain=self.plain_drawings)
        await self.ask(TextDialog(title_of(name, self.session.project.terms), "\n".join(lines)))

    async def action_practise(self) -> None:
        """A drawn swatch of a hidden gauge, to count."""
        from workshop.app.screens.counting import PracticeDialog

        await self.ask(PracticeDialog(self.session.project))

    @property
    def plain_drawings(self) -> bool:
        """Whether the terminal can only show plain characters."""
        from workshop.visible import only_ascii

        return only_ascii(sys.__stdout__)

    async def action_explain(self) -> None:
        """Help for where the knitter stands, and all keys."""
        from workshop.app.commands import help_text
        from workshop.app.screens.dialogs import TextDialog

        await self.ask(TextDialog("Help", help_text(self)))

    async def action_words(self, about: str = "") -> None:
        """The glossary, at a word: the one named, or the one under the cursor, or the first of the question at hand."""
        from workshop.app.screens.glossary import GlossaryDialog
        from workshop.words.explained import entries_in, entry_at, entry_of

        terms = self.session.project.terms
        text, typed, place = self.body.at_hand() if self.body is not None else ("", "", 0)
        at = entry_of(about, terms) or entry_at(typed, place, terms)
        await self.ask(GlossaryDialog(terms, entries_in(text, terms), at))

    def in_terms(self, text: str) -> str:
        """A text of ours in the terms of the project at work."""
        from workshop.words.phrase import in_terms

        return in_terms(text, self.session.project.terms)

    def _leave(self) -> None:
        """The window is being closed."""
        self._commit()
        self.exit()

    async def action_more(self) -> None:
        """Everything that can be done here, by name."""
        from workshop.app.screens.more import MoreDialog

        await self.before_asking()
        await self.ask(MoreDialog(list(self.get_system_commands(self.screen))), self._do)

    async def _do(self, deed: "Deed | None") -> None:
        """What was chosen by its name."""
        done = deed() if deed is not None else None
        if done is not None:
            await done

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        """Every command by its name."""
        from workshop.app.commands import commands

        return commands(self, screen)
