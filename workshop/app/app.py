"""The application: one session, one screen at a time, and the keys that work everywhere."""

import asyncio
import os
import signal
import sys
from collections.abc import Awaitable, Callable, Iterable
from functools import partial
from pathlib import Path
from traceback import extract_tb
from typing import TYPE_CHECKING, ClassVar

from textual import events, on
from textual.app import SystemCommand
from textual.binding import Binding, BindingType
from textual.dom import DOMNode
from textual.screen import ModalScreen, Screen
from textual.worker import WorkerFailed

from workshop import saves
from workshop.app.desk import Desk
from workshop.app.filed import Filed
from workshop.app.keys import hidden, printed, shown
from workshop.app.screens.room import Room, is_large_enough
from workshop.app.screens.step import StepScreen
from workshop.app.themes import ALL, NAMES, WITHOUT_COLOURS
from workshop.app.widgets.body import Body
from workshop.project import STEPS, Project
from workshop.session import Session
from workshop.settings import THEMES, load, save_theme
from workshop.visible import in_one_line

if TYPE_CHECKING:
    from workshop.app.screens.more import Deed

COMMANDS = ("app", "start", "summary", "sizes", "needles", "class", "panel", "form")
"""First words of the ids of bindings that are commands of the palette; the others move inside one field."""

OURS = ("app", "start", "summary", "sizes", "needles", "class", "panel", "form", "field", "list", "ask")
"""First words of the ids of our own bindings: the help lists these and no others."""


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


class WorkshopApp(Filed):
    """From a yarn to a plan."""

    TITLE = "Jumper workshop"
    CSS_PATH = "app.tcss"
    ENABLE_COMMAND_PALETTE = False
    """Ours is :class:`~workshop.app.screens.more.MoreDialog`."""

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("app.help", "f1", "explain", "Help", "Help for this question, and all keys"),
        shown("app.lesson", "f2", "face('lesson')", "Lesson", "Show or hide the lesson of this step"),
        hidden("app.words", "ctrl+l", "words", "Glossary: what does a word mean?", "Look up a word of the trade"),
        shown("app.working", "f3", "face('working')", "Working", "Show or hide how each number was worked out"),
        shown("app.steps", "f4", "steps", "Steps", "All steps and how far each one is"),
        shown("app.picture", "ctrl+g", "picture", "Picture", "A picture of this step"),
        shown("app.offers", "f5", "offers", "Offers", "Take all offered answers of this step"),
        shown("app.agree", "f6", "agree", "Confirm", "Confirm an answer that looked odd"),
        shown("app.shown", "f9", "shown", "Units", "Units, needle sizes, US or UK words, and colors"),
        shown("app.next", "ctrl+n", "onward", "Next", "Next step", first=True),
        shown("app.back", "ctrl+r", "back", "Back", "Previous step", first=True),
        hidden(
            "app.offer",
            "ctrl+t",
            "offer",
            "Take this offer",
            "Take the offer for this question, like Enter in an empty field",
        ),
        shown("app.more", "ctrl+p", "more", "More", "Everything you can do here, by name", first=True),
        shown("app.projects", "ctrl+o", "projects", "Projects", "All saved projects", first=True),
        shown("app.earlier", "ctrl+z", "earlier", "Undo", "Earlier versions, and the way back to one", first=True),
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
        self._held: list[events.Event] | None = []
        """Keys that were typed before there was something to type into; None while there is."""

    def _room_of(self, session: Session | None, *, knit: bool) -> Room:
        """The first screen."""
        if session is None:
            return self._list_of_projects()
        return self._needles() if knit else StepScreen(self.desk)

    def _needles(self) -> Room:
        from workshop.app.screens.needles import NeedlesScreen

        return NeedlesScreen(self.desk)

    def _list_of_projects(self) -> Room:
        from workshop.app.screens.start import StartScreen

        return StartScreen(self.desk)

    def get_default_screen(self) -> Screen[None]:
        """The list of projects, or the project given: nothing is built below it."""
        return self._first

    def get_theme_variable_defaults(self) -> dict[str, str]:
        """Our own colours where a theme is not ours."""
        return WITHOUT_COLOURS

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
        if self._exception is not None:
            said.append(f"The workshop had to stop. That's our mistake, not yours: {_told(self._exception)}.")
        if session.fault:
            said.append(f"Not saved: {session.fault}")
        elif session.path is not None:
            said.append(f"Saved in {in_one_line(str(session.path))}")
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

    async def on_event(self, event: events.Event) -> None:
        """Keys that come before a screen is furnished are kept in their order."""
        if self._held is not None and isinstance(event, events.Key | events.Paste) and not event.is_forwarded:
            self._held.append(event)
            return
        if isinstance(event, events.Key) and not event.is_forwarded and self._held is None:
            self.room.look()  # what another window has answered is seen at the next key
        await super().on_event(event)
        if self._held is None and self.session.contest is not None:
            await self.ask_which()

    @on(Room.Stands)
    async def take_held_keys(self) -> None:
        """The screen is furnished: what was typed meanwhile goes where it was meant."""
        held, self._held = self._held or [], None
        while held and self._held is None:
            await self.on_event(held.pop(0))
        if self._held is not None:
            self._held += held

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

    # ── opening ──────────────────────────────────────────────────────────────────────────────────────

    @property
    def room(self) -> Room:
        """The screen that fills the window, also where a small window lies over it."""
        return next(s for s in reversed(self.screen_stack) if isinstance(s, Room))

    @property
    def body(self) -> Body | None:
        """What stands in the middle of it."""
        return self.room.body

    @property
    def current_step(self) -> str | None:
        """The step on the screen; None on the list of projects, and in a small window."""
        return self.screen.step if isinstance(self.screen, Room) else None

    def _enter(self, room: Room) -> None:
        """Go over to another screen; what is typed until it is furnished is kept."""
        self._held = []
        if len(self.screen_stack) > 1:
            self.switch_screen(room)  # not awaited: a click on the old screen would wait for its own end
        else:  # the first screen cannot be taken away
            self.push_screen(room)

    async def open_new(self) -> None:
        """A new project, from the first step; its file is made with the first answer."""
        from workshop.questions.fibre import add_yarn

        self.take_up(Session(add_yarn(Project()), self.desk.folder))
        self.desk.back_again = False
        self._enter(StepScreen(self.desk, STEPS[0]))

    async def open_project(self, path: Path | None) -> None:
        """A saved project; without a path a new one."""
        await (self.open_new() if path is None else self.open_file(path))

    async def open_file(self, path: Path) -> None:
        """A saved project, where it was left off."""
        from workshop.session import opened

        try:
            session = opened(path)
        except saves.BadSave as error:
            self.tell(str(error))
            return
        self.take_up(session)
        self.desk.back_again = True
        self._enter(StepScreen(self.desk))

    async def knit_file(self, path: Path) -> None:
        """A saved project, at the needles."""
        from workshop.session import opened

        try:
            session = opened(path)
        except saves.BadSave as error:
            self.tell(str(error))
            return
        if not session.plan.made.pieces:
            self.tell("There's no plan to knit from yet. Enter opens the project where you left off.")
            return
        self.take_up(session)
        self.desk.back_again = True
        self._enter(self._needles())

    async def action_knit(self) -> None:
        """From the plan to the needles."""
        if not self.session.plan.made.pieces:
            self.tell("There's no plan to knit from yet.")
            return
        await self.before_asking()
        self._enter(self._needles())

    async def action_sizes(self) -> None:
        """The design in all its sizes."""
        from workshop.app.screens.sizes import SizesScreen

        if not self.session.plan.made.pieces:
            self.tell("There's no plan yet to make in other sizes.")
            return
        await self.before_asking()
        self._enter(SizesScreen(self.desk))

    async def open_step(self, name: str, at: str | None = None) -> None:
        """A step, at one of its questions."""
        await self.room.stands.wait()
        await self.before_asking()
        room = self.room
        if isinstance(room, StepScreen):
            self.desk.back_again = False  # the greeting has been read
            await room.open(name, at)
        else:
            self._enter(StepScreen(self.desk, name, at))

    async def before_asking(self) -> None:
        """Every key that was pressed before this one has its effect, and what stands in a field is taken."""
        if self.focused is not None and self.body is not None:
            from workshop.app.widgets.lists import settled

            await settled(self.focused)
        self._commit()

    def _commit(self) -> None:
        if self.body is not None:
            self.body.commit()

    @on(Room.Contested)
    async def another_window(self) -> None:
        """Another window has answered otherwise."""
        await self.ask_which()

    def tell(self, text: str) -> None:
        """Say something on the line for that at the foot of the screen; it covers nothing."""
        self.room.tell(text)

    # ── keys ─────────────────────────────────────────────────────────────────────────────────────────

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys that need an open step are hidden elsewhere."""
        name = self.current_step
        if isinstance(self.screen, Room) and action in self.screen.apart:
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
        if action == "more":
            return isinstance(self.screen, Room)
        return True

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
            asked.append((HOLD, f"Keep the counts, although this has changed since: {', '.join(changed)}."))
        return asked

    async def action_onward(self) -> None:
        """The step has been gone through; the next one."""
        name = self.current_step
        if name is None or name == STEPS[-1]:
            return
        from workshop.progress import cloth_changed

        await self.before_asking()
        if not cloth_changed(name, self.session.project):
            self.session.confirm(name)
        await self.open_step(STEPS[STEPS.index(name) + 1])

    async def action_back(self) -> None:
        """The step before."""
        name = self.current_step
        if name and name != STEPS[0]:
            await self.open_step(STEPS[STEPS.index(name) - 1])

    async def action_face(self, face: str) -> None:
        """Turn the side panel."""
        if self.body is not None:
            await self.body.show_face(face)
            self.room.refresh_bindings()

    async def action_offer(self) -> None:
        """Take the offered answer."""
        if self.body is not None:
            await self.body.take_offer()

    def action_offers(self) -> None:
        """Take all offered answers of the step."""
        if self.body is not None:
            self.body.take_all_offers()

    async def action_steps(self) -> None:
        """Choose a step."""
        from workshop.app.screens.dialogs import StepDialog
        from workshop.progress import progress

        name = self.current_step
        if name is None:
            return
        await self.before_asking()
        await self.ask(StepDialog(progress(self.session.plan), name, self.session.project.terms), self._open_chosen)

    async def _open_chosen(self, name: str | None) -> None:
        if name:
            await self.open_step(name)

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

        await self.before_asking()
        said = "" if self.room.step is not None else "Each project asks for its own units and words."
        await self.ask(ShownDialog(self._ways_to_show, self._show_so, said), lambda _: self.show_again())

    def show_again(self) -> None:
        """The same screen in other units, at the same question."""
        if self.body is not None:
            self.body.show_again()
            self.room.show_bars()

    def _ways_to_show(self) -> list[tuple[str, str, bool]]:
        """What can be switched, as (id, words, whether it is so now)."""
        from workshop.questions.fibre import SHOWN
        from workshop.questions.kinds import Choice

        found = []
        if self.room.step is not None:
            for question in SHOWN:
                kind, now = question.kind, getattr(self.session.project, question.key)
                assert isinstance(kind, Choice)
                for option in kind.options(self.session.project):
                    found.append(
                        (f"{question.key}={option.value}", f"{question.asks}: {option.label}", option.value == now)
                    )
        for theme in THEMES:
            found.append((f"theme={theme}", self._in_terms(f"Colors: {theme}"), NAMES[theme] == self.theme))
        return found

    def _show_so(self, chosen: str) -> None:
        """Switch one of them; figures stay as they are stored."""
        key, _, value = chosen.partition("=")
        if key == "theme":
            self.theme = NAMES[value]
            fault = save_theme(value)
            if fault:
                self.tell(fault)
            return
        from workshop.questions.fibre import SHOWN
        from workshop.questions.places import at_top

        question = next(q for q in SHOWN if q.key == key)
        self.session.answer(at_top(question, key), value)

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
        from workshop.prints.terminal import only_ascii

        return only_ascii(sys.__stdout__)

    async def action_explain(self) -> None:
        """Help for where the knitter stands, and all keys."""
        from workshop.app.screens.dialogs import SmallWindow, TextDialog

        text = self.screen.help_text() if isinstance(self.screen, Room | SmallWindow) else ""
        keys = "\n".join(f"  {key:<15} {does}" for key, does in self._keys_that_work())
        signs = "  · to do   … under way   ✓ done   ! look again"
        words = self._words_here(text)
        await self.ask(TextDialog("Help", f"{text}\n\nSteps\n{signs}\n\nKeys\n{keys}{words}"))

    def _words_here(self, text: str) -> str:
        """Words of the trade in the help and in the lesson of the step, explained."""
        from workshop.app.widgets.answers import lesson_text
        from workshop.words.explained import explained

        name, terms = self.current_step, self.session.project.terms
        read = lesson_text(name, self.session.project) if name is not None else ""
        found = explained(f"{text}\n{read}", terms)
        return "\n\nWords of the trade\n" + "\n".join(f"  {line}" for line in found) if found else ""

    async def action_words(self, about: str = "") -> None:
        """The glossary, at a word: the one named, or the one under the cursor, or the first of the question at hand."""
        from workshop.app.screens.glossary import GlossaryDialog
        from workshop.words.explained import entries_in, entry_at, entry_of

        terms = self.session.project.terms
        text, typed, place = self.body.at_hand() if self.body is not None else ("", "", 0)
        at = entry_of(about, terms) or entry_at(typed, place, terms)
        await self.ask(GlossaryDialog(terms, entries_in(text, terms), at))

    def _keys_that_work(self) -> list[tuple[str, str]]:
        """Keys of where the knitter stands, with what they do."""
        found: dict[str, list[str]] = {}
        for active in self.screen.active_bindings.values():
            binding = active.binding
            if binding.id and binding.tooltip and "." in binding.id and binding.id.partition(".")[0] in OURS:
                found.setdefault(binding.tooltip, []).append(self.get_key_display(binding))
        return [(", ".join(dict.fromkeys(keys)), self._in_terms(does)) for does, keys in found.items()]

    def _in_terms(self, text: str) -> str:
        """A text of ours in the terms of the project at work."""
        from workshop.words.phrase import in_terms

        return in_terms(text, self.session.project.terms)

    async def action_projects(self) -> None:
        """Back to the list of projects."""
        if self.room.step is not None:
            await self.before_asking()
            self.open_list()

    async def action_class_room(self) -> None:
        """A teacher's list of everyone in this folder; none of them is changed from there."""
        from workshop.app.screens.class_list import ClassScreen

        await self.before_asking()
        self._enter(ClassScreen(self.desk))

    async def read_over(self, room: Room) -> None:
        """Something to read over the screen, which is still there when that is closed."""
        self._held = []
        await self.push_screen(room)

    def open_list(self) -> None:
        """The list of projects, without a look at what is being typed."""
        self._enter(self._list_of_projects())

    async def action_print_plan(self, kind: str) -> None:
        """Write the plan beside the save; over an older print once the knitter has said so."""
        from workshop.prints import paper
        from workshop.prints.plan_sheet import plan_sheet

        now = self.session.plan
        path = (self.session.path or self.desk.folder / "plan").with_suffix(f".{kind}")
        sheet = plan_sheet(now)
        await self.write_print(path, paper.html(sheet, now) if kind == "html" else paper.markdown(sheet, now))

    async def write_print(self, path: Path, text: str, *, replace: bool = False) -> None:
        from workshop import files, printed
        from workshop.app.screens.dialogs import ConfirmDialog

        async def over_it(sure: bool | None) -> None:
            if sure:
                await self.write_print(path, text, replace=True)

        name = in_one_line(str(path))
        try:
            printed.write(path, text, source=self.session.path, replace=replace)
        except files.AlreadyThere as error:
            await self.ask(ConfirmDialog(f"{name}: {error}.", take="Yes, replace it"), over_it)
        except files.FileFault as error:
            self.tell(f"{name}: {error}")
        else:
            self.tell(f"Saved: {name}")

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
        """Every command by name in the palette."""
        on_a_step = isinstance(screen, Room) and screen.step is not None
        for binding in self.BINDINGS:  # on a step also those that have nothing to do just now: they say so
            if isinstance(binding, Binding) and (on_a_step or self._can(binding.action)):
                yield SystemCommand(
                    binding.description, self._in_terms(binding.tooltip), self._run(binding.action, self)
                )
        named = {b.id for b in self.BINDINGS if isinstance(b, Binding)}
        for active in screen.active_bindings.values():
            binding = active.binding
            if active.enabled and binding.id not in named and (binding.id or "").partition(".")[0] in COMMANDS:
                named.add(binding.id)
                yield SystemCommand(
                    binding.description, self._in_terms(binding.tooltip), self._run(binding.action, active.node)
                )
        practice = self._in_terms("Practice counting")
        yield SystemCommand(practice, "Count a drawn swatch and see how close you were", self.action_practise)
        if self.current_step:
            yield SystemCommand(
                "Try it another way",
                "A copy of this project under a new name, for another neck or another yarn",
                self.action_try_another,
            )
            yield SystemCommand("All sizes", "This design in every size of a table, side by side", self.action_sizes)
            yield SystemCommand(
                "Class: everyone's projects in one list",
                "For teachers: who needs you first, one yarn order, all swatches. Nothing is changed",
                self.action_class_room,
            )
        for name, words, _ in self._ways_to_show():
            yield SystemCommand(words, "This only changes the display", partial(self._switch, name))
        yield from self._words_to_look_up()
        if self.current_step:
            from workshop.words.titles import title_of, what_of

            terms = self.session.project.terms
            for name in STEPS:
                yield SystemCommand(
                    f"Go to {title_of(name, terms)}", what_of(name, terms), partial(self.open_step, name)
                )

    def _words_to_look_up(self) -> Iterable[SystemCommand]:
        """The words of the glossary, found by their names; they aren't listed before something is typed."""
        from workshop.words.explained import entries

        for word in entries("", self.session.project.terms):
            asks = f"What does {word.named} mean?"
            yield SystemCommand(asks, word.means, partial(self.action_words, word.called), discover=False)

    def _can(self, action: str) -> bool:
        """Whether a key of this app has something to do on the screen as it is."""
        return bool(self.check_action(action.partition("(")[0], ()))

    def _run(self, action: str, node: DOMNode) -> Callable[[], Awaitable[None]]:
        async def run() -> None:
            if not await self.run_action(action, node):
                self.tell("There's nothing to do for that here right now.")

        return run

    async def _switch(self, name: str) -> None:
        """Switch what things are shown in, from the palette."""
        await self.before_asking()
        self._show_so(name)
        self.show_again()
