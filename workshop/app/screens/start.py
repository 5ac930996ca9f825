"""The first screen: saved projects with their next step, and a new one."""

from collections.abc import Iterator
from math import inf
from pathlib import Path
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from workshop.app.desk import Desk
from workshop.app.keys import hidden, shown
from workshop.app.screens.room import Room
from workshop.app.widgets.in_order import settled
from workshop.app.widgets.lists import Wide
from workshop.saves import Saved
from workshop.visible import shown_path
from workshop.words.lines import wrapped

WELCOME = (
    "From a ball of yarn to a sweater plan that fits, in seven steps at your own pace. Every answer is saved at once. "
    "Stop whenever you like."
)

NEW = "Start a new project"

COLORS = "Screen colors. You choose units and words in each project"
EARLIER = "Earlier versions of the marked project, and the way back to one"


class Projects(Wide):
    """A new project and the saved ones, last changed first. They are read as they come into sight: there may be
    hundreds.
    """

    def __init__(self) -> None:
        self._coming: Iterator[Saved] = iter(())
        self.filled = False
        """Whether the folder has been read."""
        self.found: list[Saved] = []
        """The saves that are listed."""
        self._texts = [NEW]
        """The lines, without the sign of where one is."""
        super().__init__(Option(Content(f" {NEW}"), id="new"), id="projects", markup=False)

    def fill(self, folder: Path) -> None:
        """List a folder; the first of the knitter's own projects is marked."""
        from workshop.folder import projects

        self._coming = projects(folder)
        self.filled = True
        self._more(self.size.height)
        own = (i for i, saved in enumerate(self.found, 1) if saved.project and not _is_demo(saved))
        self.highlighted = next(own, 0)

    def _more(self, lines: float) -> None:
        """Read on for a number of lines."""
        read = []
        while lines > 0 and (saved := next(self._coming, None)) is not None:
            self.found.append(saved)
            self._texts.append(_describe(saved))
            read.append(
                Option(
                    self.prompt(len(self._texts) - 1),
                )
            )
            lines -= 1 + self._texts[-1].count("\n")
        if read:
            self.add_options(read)

    def watch_scroll_y(self, old: float, new: float) -> None:
        """More of them come into sight."""
        super().watch_scroll_y(old, new)
        self._more(new + 2 * self.size.height - self.virtual_size.height)

    def action_last(self) -> None:
        """To the end of them all."""
        self._more(inf)
        super().action_last()

    def prompt(self, index: int) -> Content:
        """A project in lines as wide as there is room, all but its first indented."""
        return Content("\n".join(wrapped(f" {self._texts[index]}", self.room, hang=3)))


class StartScreen(Room):
    """Start a project, or go on with one."""

    AUTO_FOCUS = "#projects"
    BINDINGS: ClassVar[list[BindingType]] = [
        shown("start.new", "n", "new", "New", "Start a new project", first=True),
        shown("start.knit", "k", "screen.knit", "Knit", "The marked project, at the needles", first=True),
        shown("start.class", "c", "app.class_room", "Class", "A teacher's list: everyone in this folder", first=True),
        shown("app.shown", "f9", "app.shown", "Colors", COLORS, first=True),
        hidden("start.earlier", "ctrl+z", "screen.earlier", "Earlier versions", EARLIER, first=True),
        hidden("projects.open", "enter", "open", "Open", "Open the marked project", first=True),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.listed = Projects()

    def titled(self) -> str:
        """The name of the workshop."""
        return self.app.TITLE or ""

    def bare(self) -> ComposeResult:
        yield Static(WELCOME, id="welcome", markup=False)
        yield self.listed

    async def furnish(self) -> None:
        """The saved projects."""
        self.listed.fill(self.desk.folder)
        self.tell(self.desk.settings.fault or f"Projects are saved in {shown_path(self.desk.folder)}")

    @on(OptionList.OptionSelected)
    async def choose(self, event: OptionList.OptionSelected) -> None:
        """Open what was clicked on."""
        event.stop()
        await self._open_line(event.option_index)

    async def action_open(self) -> None:
        """Open what is marked; what is typed after this key is for what opens."""
        await settled(self.listed)
        await self._open_line(self.listed.highlighted or 0)

    async def _open_line(self, index: int) -> None:
        if self.listed.filled:  # an Enter meant for the screen before comes too early for what is marked here
            await self.workshop.open_project(self.listed.found[index - 1].path if index else None)

    async def action_knit(self) -> None:
        """The project that is marked, at the needles."""
        await settled(self.listed)
        index = self.listed.highlighted or 0
        if not index:
            self.tell("Choose a project whose plan is ready, then press k to knit from it.")
        else:
            await self.workshop.knit_file(self.listed.found[index - 1].path)

    async def action_earlier(self) -> None:
        """Earlier versions of the project that is marked."""
        await settled(self.listed)
        index = self.listed.highlighted or 0
        if index:
            await self.workshop.earlier_of(self.listed.found[index - 1].path)
        else:
            self.tell("Choose a project, then press Ctrl+Z for its earlier versions.")

    async def action_new(self) -> None:
        """Start a new project."""
        await self.workshop.open_new()

    def help_text(self) -> str:
        """Help for this screen."""
        return (
            "Choose a saved project with the arrows and Enter. N starts a new project. K opens a project at the "
            "needles. Ctrl+Z shows the earlier versions of a project. C is for teachers: everyone's projects in this "
            "folder, just to look at."
        )


def _is_demo(saved: Saved) -> bool:
    """Whether it is a copy of the demo project, made by the command of that name."""
    return saved.path.stem.startswith("demo-")


def _describe(saved: Saved) -> str:
    """A project of the list: how far it is, and what to do with one's hands now."""
    if saved.project is None:
        from workshop.session import recovered

        way_back = "\n   Enter shows earlier versions to bring back." if recovered(saved.path) else ""
        return f"✗ {saved.name}: {saved.fault.split(': ', 1)[-1]}{way_back}"
    from workshop.planned import plan
    from workshop.progress import at_hand, next_step, progress
    from workshop.words.phrase import in_terms_of
    from workshop.words.titles import title_of

    now, terms = plan(saved.project), saved.project.terms
    steps = progress(now)
    upcoming = next_step(steps)
    again = [title_of(s.name, terms) for s in steps if s.state == "look again"]
    text = f"{saved.project.title or saved.name}{' (the demo)' if _is_demo(saved) else ''}: "
    text += (
        "plan ready"
        if upcoming.name == "summary" and upcoming.state == "done"
        else f"next {title_of(upcoming.name, terms)}"
    )
    text += f"; look again: {', '.join(again)}" if again else ""
    return f"{text}\n   {in_terms_of(at_hand(now), saved.project)}"
