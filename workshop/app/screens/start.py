"""The first screen: saved projects with their next step, and a new one."""

from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import Screen
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from workshop import saves
from workshop.app.widgets.keyline import KeyLine
from workshop.app.widgets.lists import Ended
from workshop.core.plan import plan
from workshop.progress import at_hand, next_step, progress
from workshop.questions.steps import step
from workshop.saves import Saved
from workshop.words.phrase import in_terms

if TYPE_CHECKING:
    from workshop.app.app import WorkshopApp

WELCOME = (
    "From a yarn to a jumper plan that you can knit from: seven steps, at your own pace. Every answer is saved as soon "
    "as it is given; leave whenever you like."
)


class StartScreen(Screen[None]):
    """Start anew, or go on."""

    CSS_PATH = ["step.tcss", "start.tcss"]
    AUTO_FOCUS = "#projects"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("n", "new", "New", id="start.new", tooltip="Start a new project"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self._found: tuple[Saved, ...] = ()
        self._listed: list[str] = []
        """The lines of the list, without the sign of where one is."""

    @property
    def workshop(self) -> "WorkshopApp":
        """The app, by its own type."""
        from workshop.app.app import WorkshopApp

        assert isinstance(self.app, WorkshopApp)
        return self.app

    def compose(self) -> ComposeResult:
        yield Static("Jumper workshop", id="title-bar", markup=False)
        yield Static(WELCOME, id="welcome", markup=False)
        yield Ended(id="projects", markup=False)
        yield Static("", id="hint", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        """List what is saved."""
        self.relist()

    def on_screen_resume(self) -> None:
        """Back from a project: its next step may have changed."""
        self.relist()

    def relist(self) -> None:
        """Read the folder again."""
        folder = self.workshop.folder
        self._found = saves.list_saves(folder)
        listed = self.query_one("#projects", OptionList)
        listed.clear_options()
        self._listed = ["Start a new project", *map(_describe, self._found)]
        listed.add_option(Option(Content(f"  {self._listed[0]}"), id="new"))
        for i, saved in enumerate(self._found):
            text = f"  {self._listed[i + 1]}"
            listed.add_option(Option(Content(text), id=f"save-{i}", disabled=saved.project is None))
        own = (i for i, saved in enumerate(self._found, 1) if saved.project and not _is_demo(saved))
        listed.highlighted = next(own, 0)
        self.tell(self.workshop.settings.fault or f"Saved in {folder}")

    @on(OptionList.OptionHighlighted)
    def mark(self, event: OptionList.OptionHighlighted) -> None:
        """A sign before the line where one is: it is seen without colours too."""
        event.stop()
        for i, text in enumerate(self._listed):
            sign = "▸" if i == event.option_index else " "
            event.option_list.replace_option_prompt_at_index(i, Content(f"{sign} {text}"))

    @on(OptionList.OptionSelected)
    async def choose(self, event: OptionList.OptionSelected) -> None:
        """Open what was chosen."""
        event.stop()
        chosen = event.option.id or "new"
        if chosen == "new":
            await self.workshop.open_new()
            return
        saved = self._found[int(chosen.removeprefix("save-"))]
        await self.workshop.open_file(saved.path)

    async def action_new(self) -> None:
        """Start a new project."""
        await self.workshop.open_new()

    def tell(self, text: str) -> None:
        """Say something in the line below the list."""
        self.query_one("#hint", Static).update(Content(text))

    def help_text(self) -> str:
        """Help for this screen."""
        return "Choose a saved project with the arrow keys and Enter, or n for a new one."


def _is_demo(saved: Saved) -> bool:
    """Whether it is a copy of the demo project, made by the command of that name."""
    return saved.path.stem.startswith("demo-")


def _describe(saved: Saved) -> str:
    """A project of the list: how far it is, and what to do with one's hands now."""
    if saved.project is None:
        return f"✗ {_short(saved.path)}: {saved.fault.split(': ', 1)[-1]}"
    now = plan(saved.project)
    steps = progress(now)
    upcoming = next_step(steps)
    again = [in_terms(step(s.name).title, saved.project.terms) for s in steps if s.state == "look again"]
    text = f"{saved.project.title or _short(saved.path)}{' (the demo)' if _is_demo(saved) else ''}: "
    text += (
        "plan ready"
        if upcoming.name == "summary" and upcoming.state == "done"
        else f"next {in_terms(step(upcoming.name).title, saved.project.terms)}"
    )
    text += f"; look again: {', '.join(again)}" if again else ""
    return f"{text}\n    {in_terms(at_hand(now), saved.project.terms)}"


def _short(path: Path) -> str:
    return path.name
