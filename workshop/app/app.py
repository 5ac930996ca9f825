"""The application: one session, one screen at a time, and the keys that work everywhere."""

import asyncio
import os
import signal
import sys
from pathlib import Path
from typing import Any, ClassVar

from textual import events, work
from textual.app import App, SystemCommand
from textual.binding import Binding, BindingType
from textual.dom import DOMNode
from textual.screen import ModalScreen, Screen
from textual.widgets import Input

from workshop import saves
from workshop.app.screens.start import StartScreen
from workshop.app.screens.step import StepScreen
from workshop.app.screens.summary import SummaryScreen
from workshop.app.steps import screen_for
from workshop.app.themes import ALL, NAMES
from workshop.app.widgets.answers import lesson_text
from workshop.app.widgets.control import AnswerInput, AnswerSelect, settled
from workshop.app.widgets.form import Form
from workshop.core.remarks import Check
from workshop.progress import cloth_changed, going_on_at, progress
from workshop.project import STEPS, Project
from workshop.questions.fibre import SHOWN
from workshop.questions.kinds import Choice
from workshop.questions.places import at_top
from workshop.questions.steps import faults, step
from workshop.session import Session, opened
from workshop.settings import THEMES, load, save_theme
from workshop.words.explained import explained
from workshop.words.phrase import in_terms, say_check

COMMANDS = ("app", "start", "summary", "panel", "form")
"""First words of the ids of bindings that are commands of the palette; the others move inside one field."""

OURS = ("app", "start", "summary", "panel", "form", "field", "list", "ask")
"""First words of the ids of our own bindings: the help lists these and no others."""


def all_bindings() -> dict[str, str]:
    """Every action that a key can be given to, on any screen, with the keys it has."""
    from workshop.app.screens import dialogs

    rooms: list[Any] = [WorkshopApp, StartScreen, StepScreen, SummaryScreen, Form, AnswerInput, AnswerSelect]
    rooms += [r for r in vars(dialogs).values() if isinstance(r, type) and issubclass(r, ModalScreen)]
    found = (b for room in rooms for b in room.__dict__.get("BINDINGS", ()))
    return {b.id: b.key for b in found if isinstance(b, Binding) and b.id}


HOLD = "counts hold"
"""Chosen where counts are said to hold, although they may be of another cloth."""


class WorkshopApp(App[None]):
    """From a yarn to a plan."""

    TITLE = "Jumper workshop"
    CSS_PATH = "app.tcss"
    ENABLE_COMMAND_PALETTE = True

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("f1", "explain", "Help", id="app.help", tooltip="Help for the question at hand, and all keys"),
        Binding("f2", "face('lesson')", "Lesson", id="app.lesson", tooltip="Show or hide the lesson of this step"),
        Binding(
            "f3", "face('working')", "Working", id="app.working", tooltip="Show or hide how the numbers were worked out"
        ),
        Binding("f4", "steps", "Steps", id="app.steps", tooltip="All steps with their states; open any of them"),
        Binding("ctrl+g", "picture", "Picture", id="app.picture", tooltip="What this step looks like, drawn"),
        Binding("f5", "offers", "Offers", id="app.offers", tooltip="Take every offered answer of this step"),
        Binding("f6", "agree", "Agree", id="app.agree", tooltip="Say that what a check asks about is right"),
        Binding(
            "f9",
            "shown",
            "Units",
            id="app.shown",
            tooltip="Units, needle names, US or UK terms, colours: nothing stored changes",
        ),
        Binding("ctrl+n", "onward", "Next", id="app.next", tooltip="Next step", priority=True),
        Binding("ctrl+r", "back", "Back", id="app.back", tooltip="Step before", priority=True),
        Binding(
            "ctrl+t",
            "offer",
            "Take this offer",
            show=False,
            id="app.offer",
            tooltip="Take what is offered for this question; so does Enter in an empty field",
        ),
        Binding(
            "ctrl+p",
            "command_palette",
            "More",
            id="app.more",
            tooltip="Everything that can be done here, by name",
            priority=True,
        ),
        Binding("ctrl+o", "projects", "Projects", id="app.projects", tooltip="All saved projects", priority=True),
        Binding("ctrl+q", "quit", "Quit", id="app.quit", tooltip="Leave; everything is saved", priority=True),
    ]

    def __init__(self, session: Session | None = None, folder: Path | None = None) -> None:
        no_color = bool(os.environ.get("NO_COLOR"))
        super().__init__(ansi_color=True if no_color else None)
        for theme in ALL:
            self.register_theme(theme)
        self.settings = load(all_bindings)
        self.theme = "ansi-dark" if no_color else NAMES[self.settings.theme]
        self.folder = folder or saves.default_folder()
        self.session = session or Session(Project(), self.folder)
        self._begin_with_project = session is not None
        self.back_again = False
        """A saved project has just been opened and nothing has been answered since."""

    def go(self) -> int:
        """Run the app. Gives the exit code and says where the project is."""
        self.run()
        if self.session.fault:
            print(f"Not saved: {self.session.fault}")
            return 1
        if self.session.path is not None:
            print(f"Saved in {self.session.path}")
        return self.return_code or 0

    async def on_mount(self) -> None:
        """Open the project given, and make sure that closing the window ends the app in order."""
        if os.name == "posix":
            loop = asyncio.get_running_loop()
            for name in (signal.SIGTERM, signal.SIGHUP):
                loop.add_signal_handler(name, self._leave)
        self.set_keymap(dict(self.settings.keys))
        await self.push_screen(StartScreen())
        if self._begin_with_project:
            self.back_again = self.session.project.last_step is not None
            await self.open_step(self._where_left_off())

    # ── the window ───────────────────────────────────────────────────────────────────────────────────

    async def on_resize(self, event: events.Resize) -> None:
        """A window too small for a question with its answer says so, until it is large enough."""
        from workshop.app.screens.dialogs import TooSmall, too_small

        small = isinstance(self.screen, TooSmall)
        if too_small(event.size) and not small:
            await self.push_screen(TooSmall())
        elif small and not too_small(event.size):
            self.screen.dismiss(None)

    # ── opening ──────────────────────────────────────────────────────────────────────────────────────

    def _where_left_off(self) -> str:
        return going_on_at(self.session.plan)

    async def open_new(self) -> None:
        """A new project, from the first step; its file is made with the first answer."""
        from workshop.questions.fibre import add_yarn

        self.session = Session(add_yarn(Project()), self.folder)
        self.back_again = False
        await self.open_step("fibre")

    async def open_file(self, path: Path) -> None:
        """A saved project, where it was left off."""
        try:
            session = opened(path)
        except saves.BadSave as error:
            self.tell(str(error))
            return
        wrong = faults(session.project)
        if wrong:
            self.tell(f"{path.name}: {wrong[0][0]}: {wrong[0][1]}")
            return
        self.session = session
        self.back_again = True
        await self.open_step(self._where_left_off())

    async def open_step(self, name: str, at: str | None = None) -> None:
        """The screen of a step, at one of its questions; the one before it goes."""
        await self._take_what_is_typed()
        if self.current_step is not None:  # the greeting has been read
            self.back_again = False
        self.session.at(name)
        screen: Any = screen_for(name)
        screen.at = at
        if isinstance(self.screen, StartScreen):
            await self.push_screen(screen)
        else:
            await self.switch_screen(screen)

    async def _take_what_is_typed(self) -> None:
        """Every key that was pressed before this one has its effect, and what stands in a field is taken."""
        if isinstance(self.focused, Input):
            await settled(self.focused)
        for screen in self.screen_stack:
            if hasattr(screen, "commit"):
                screen.commit()

    def tell(self, text: str) -> None:
        """Say something on the line for that at the foot of the screen; it covers nothing."""
        screen: Any = self.screen
        if hasattr(screen, "tell"):
            screen.tell(text)
        else:
            self.notify(text, markup=False)

    @property
    def current_step(self) -> str | None:
        """The step on the screen; None on the list of projects."""
        return getattr(self.screen, "STEP", None)

    # ── keys ─────────────────────────────────────────────────────────────────────────────────────────

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys that need an open step are hidden elsewhere."""
        name = self.current_step
        if action in ("face", "steps", "back", "onward"):
            if name is None:
                return False
            if (action == "onward" and name == "summary") or (action == "back" and name == STEPS[0]):
                return None
        screen: Any = self.screen
        if action == "offers":
            return name is not None and getattr(screen, "has_offers", False)
        if action == "agree":
            return bool(self._asking()) or self._cloth_changed()
        if action == "offer":
            return name is not None and name != "summary"
        if action in ("projects", "picture"):
            return name is not None
        return True

    def _asking(self) -> tuple[Check, ...]:
        """Checks of the step on the screen that want another look."""
        name = self.current_step
        return tuple(c for c in self.session.plan.checks if c.step == name and c.level == "look") if name else ()

    def _cloth_changed(self) -> bool:
        """Whether the counts of the step on the screen may be of another cloth."""
        return bool(cloth_changed(self.current_step or "", self.session.project))

    async def action_onward(self) -> None:
        """The step has been gone through; the next one."""
        name = self.current_step
        if name is None or name == STEPS[-1]:
            return
        await self._take_what_is_typed()
        if not cloth_changed(name, self.session.project):
            self.session.confirm(name)
        await self.open_step(STEPS[STEPS.index(name) + 1])

    async def action_back(self) -> None:
        """The step before."""
        name = self.current_step
        if name and name != STEPS[0]:
            await self.open_step(STEPS[STEPS.index(name) - 1])

    def action_face(self, face: str) -> None:
        """Turn the side panel."""
        screen: Any = self.screen
        if hasattr(screen, "show_face"):
            screen.show_face(face)

    async def action_offer(self) -> None:
        """Take the offered answer."""
        screen: Any = self.screen
        if hasattr(screen, "take_offer"):
            await screen.take_offer()

    async def action_offers(self) -> None:
        """Take all offered answers of the step."""
        screen: Any = self.screen
        if hasattr(screen, "take_all_offers"):
            await screen.take_all_offers()

    @work
    async def action_steps(self) -> None:
        """Choose a step."""
        from workshop.app.screens.dialogs import StepDialog

        name = self.current_step
        if name is None:
            return
        await self._take_what_is_typed()
        chosen = await self.push_screen_wait(StepDialog(progress(self.session.plan), name, self.session.project.terms))
        if chosen:
            await self.open_step(chosen)

    @work
    async def action_agree(self) -> None:
        """Say that something odd is right as it is."""
        from workshop.app.screens.dialogs import AgreeDialog

        name, project = self.current_step or "", self.session.project
        asked = [(c.name, say_check(c, project)) for c in self._asking()]
        changed = cloth_changed(name, project)
        if changed:
            asked.append((HOLD, f"The counts hold, although this has changed since: {', '.join(changed)}."))
        chosen = await self.push_screen_wait(AgreeDialog(asked))
        if chosen == HOLD:
            self.session.counts_hold()
        elif chosen:
            self.session.agree(chosen)
        if chosen:
            screen: Any = self.screen
            await screen.follow()

    @work
    async def action_shown(self) -> None:
        """Switch what things are shown in."""
        from workshop.app.screens.dialogs import ShownDialog

        await self._take_what_is_typed()
        before = self.session.project
        await self.push_screen_wait(ShownDialog(self._ways_to_show, self._show_so))
        if self.session.project != before:
            await self._show_again()

    async def _show_again(self) -> None:
        """The same screen in other units, at the same question."""
        screen: Any = self.screen
        if isinstance(screen, StepScreen):
            row = screen.form.focused_row
            await self.open_step(screen.STEP, at=row.field.key if row else None)
        elif isinstance(screen, SummaryScreen):
            screen.show_plan()

    def _ways_to_show(self) -> list[tuple[str, str, bool]]:
        """What can be switched, as (id, words, whether it is so now)."""
        found = []
        if self.current_step_below is not None:
            for question in SHOWN:
                kind, now = question.kind, getattr(self.session.project, question.key)
                assert isinstance(kind, Choice)
                for option in kind.options(self.session.project):
                    found.append(
                        (f"{question.key}={option.value}", f"{question.asks}: {option.label}", option.value == now)
                    )
        for theme in THEMES:
            found.append((f"theme={theme}", f"Colours: {theme}", NAMES[theme] == self.theme))
        return found

    @property
    def current_step_below(self) -> str | None:
        """The step on the screen or under a small window."""
        return next((s.STEP for s in reversed(self.screen_stack) if hasattr(s, "STEP")), None)

    def _show_so(self, chosen: str) -> None:
        """Switch one of them; figures stay as they are stored."""
        key, _, value = chosen.partition("=")
        if key == "theme":
            self.theme = NAMES[value]
            fault = save_theme(value)
            if fault:
                self.tell(fault)
            return
        question = next(q for q in SHOWN if q.key == key)
        self.session.answer(at_top(question, key), value)

    def action_picture(self) -> None:
        """The picture of the step: a swatch, a ruler, before and after the wash, sizes, pieces."""
        from workshop.app.screens.dialogs import TextDialog
        from workshop.prints.drawings import step_drawing

        name = self.current_step
        if name is None:
            return
        room = max(30, min(70, int(self.size.width * 0.9) - 6))
        lines = step_drawing(name, self.session.plan, columns=room, plain=self.plain_drawings)
        self.push_screen(TextDialog(in_terms(step(name).title, self.session.project.terms), "\n".join(lines)))

    def practise(self) -> None:
        """A drawn swatch of a hidden gauge, to count."""
        from workshop.app.screens.practice import PracticeDialog

        self.push_screen(PracticeDialog(self.session.project))

    @property
    def plain_drawings(self) -> bool:
        """Whether the terminal can only show plain characters."""
        from workshop.prints.terminal import only_ascii

        return only_ascii(sys.__stdout__)

    def action_explain(self) -> None:
        """Help for where the knitter stands, and all keys."""
        from workshop.app.screens.dialogs import TextDialog

        screen: Any = self.screen
        text = screen.help_text() if hasattr(screen, "help_text") else ""
        keys = "\n".join(f"  {key:<15} {does}" for key, does in self._keys_that_work())
        signs = "  · to do   … under way   ✓ done   ! look again"
        words = self._words_here(text)
        self.push_screen(TextDialog("Help", f"{text}\n\nSteps\n{signs}\n\nKeys\n{keys}{words}"))

    def _words_here(self, text: str) -> str:
        """Words of the trade in the help and in the lesson of the step, explained."""
        name, terms = self.current_step, self.session.project.terms
        read = lesson_text(name, self.session.project) if name is not None else ""
        found = explained(f"{text}\n{read}", terms)
        return "\n\nWords of the trade\n" + "\n".join(f"  {line}" for line in found) if found else ""

    def _keys_that_work(self) -> list[tuple[str, str]]:
        """Keys of where the knitter stands, with what they do."""
        found: dict[str, list[str]] = {}
        for active in self.screen.active_bindings.values():
            binding = active.binding
            if binding.id and binding.tooltip and "." in binding.id and binding.id.partition(".")[0] in OURS:
                found.setdefault(binding.tooltip, []).append(self.get_key_display(binding))
        return [(", ".join(dict.fromkeys(keys)), does) for does, keys in found.items()]

    async def action_projects(self) -> None:
        """Back to the list of projects."""
        screen: Any = self.screen
        if isinstance(screen, StartScreen):
            return
        await self._take_what_is_typed()
        while not isinstance(self.screen, StartScreen):
            await self.pop_screen()

    def action_print_plan(self, kind: str) -> None:
        """Write the plan beside the save."""
        from workshop.prints import paper
        from workshop.prints.plan_sheet import plan_sheet

        now = self.session.plan
        path = (self.session.path or self.folder / "plan").with_suffix(f".{kind}")
        sheet = plan_sheet(now)
        text = paper.html(sheet, now) if kind == "html" else paper.markdown(sheet, now)
        try:
            path.write_text(text, encoding="utf-8", newline="\n")
        except OSError as error:
            self.tell(f"{path}: cannot be written: {error.strerror}")
            return
        self.tell(f"Written: {path}")

    async def action_quit(self) -> None:
        """Take what is being typed, and leave."""
        await self._take_what_is_typed()
        self.exit()

    def _leave(self) -> None:
        """The window is being closed."""
        for screen in self.screen_stack:
            if hasattr(screen, "commit"):
                screen.commit()
        self.exit()

    def get_system_commands(self, screen: Screen[Any]) -> Any:
        """Every command by name in the palette."""
        for binding in self.BINDINGS:  # also those that have nothing to do just now: they say so
            if isinstance(binding, Binding):
                yield SystemCommand(binding.description, binding.tooltip, self._run(binding.action, self))
        named = {b.id for b in self.BINDINGS if isinstance(b, Binding)}
        for active in screen.active_bindings.values():
            binding = active.binding
            if active.enabled and binding.id not in named and (binding.id or "").partition(".")[0] in COMMANDS:
                named.add(binding.id)
                yield SystemCommand(binding.description, binding.tooltip, self._run(binding.action, active.node))
        yield SystemCommand("Practise counting", "Count a drawn swatch and hear how close you were", self.practise)
        for name, words, _ in self._ways_to_show():
            yield SystemCommand(words, "Nothing stored changes", self._show(name))
        if self.current_step:
            for name in STEPS:
                title, what = (in_terms(t, self.session.project.terms) for t in (step(name).title, step(name).what))
                yield SystemCommand(f"Go to {title}", what, self._open(name))

    def _run(self, action: str, node: DOMNode) -> Any:
        async def run() -> None:
            if not await self.run_action(action, node):
                self.tell("There is nothing for that to do here just now.")

        return run

    def _show(self, name: str) -> Any:
        async def run() -> None:
            await self._take_what_is_typed()
            self._show_so(name)
            await self._show_again()

        return run

    def _open(self, name: str) -> Any:
        async def run() -> None:
            await self.open_step(name)

        return run
