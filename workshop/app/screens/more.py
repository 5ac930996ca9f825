"""Everything that can be done here, by name: part of a name is typed, the arrows choose."""

from collections.abc import Awaitable, Callable, Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult, SystemCommand
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Label, OptionList
from textual.widgets.option_list import Option

from workshop.app.keys import hidden, shown
from workshop.app.screens.dialogs import SmallWindow
from workshop.app.widgets.in_order import LineInput, settled
from workshop.app.widgets.lists import Ended

Deed = Callable[[], Awaitable[None] | None]
"""What a command does."""


def fitting(commands: Sequence[SystemCommand], typed: str) -> list[SystemCommand]:
    """The commands in which every typed word is found; those that begin so come first, then those named so. Without a
    word all but those that are there to be searched for.
    """
    words = typed.casefold().split()

    def told(command: SystemCommand) -> str:
        return f"{command.title} {command.help}".casefold()

    def rank(command: SystemCommand) -> int:
        title = command.title.casefold()
        return 0 if title.startswith(" ".join(words)) else 1 if all(w in title for w in words) else 2

    fits = (c for c in commands if all(w in told(c) for w in words) and (words or c.discover))
    return sorted(fits, key=rank) if words else list(fits)


class Deeds(Ended, can_focus=False):
    """The commands that fit; the field above it has the keys."""


class Named(Option):
    """A command in the list: it stays the one that was chosen, whatever is found meanwhile."""

    def __init__(self, command: SystemCommand) -> None:
        super().__init__(Content.assemble((command.title, "bold"), f"  {command.help}"))
        self.deed: Deed = command.callback


class MoreDialog(SmallWindow[Deed | None]):
    """A field for part of a name, and the commands that fit."""

    AUTO_FOCUS = "Input"
    BINDINGS: ClassVar[list[BindingType]] = [
        shown("more.close", "escape,ctrl+p", "dismiss(None)", "Close", "Close the list of commands"),
        hidden("more.do", "enter", "do", "Do it", "Do the marked command", first=True),
        hidden("more.up", "up", "mark('cursor_up')", "Up", "The command above", first=True),
        hidden("more.down", "down", "mark('cursor_down')", "Down", "The command below", first=True),
        hidden("more.page_up", "pageup", "mark('page_up')", "Page up", "A page of commands up", first=True),
        hidden("more.page_down", "pagedown", "mark('page_down')", "Page down", "A page of commands down", first=True),
    ]

    def __init__(self, commands: Sequence[SystemCommand]) -> None:
        super().__init__()
        self._commands = commands
        self._found = fitting(commands, "")
        self._field = LineInput(placeholder="Type part of a name", compact=True, id="more-typed")
        self._list = Deeds(*self._options(), id="more-found", markup=False)

    def compose(self) -> ComposeResult:
        with Vertical(classes="window"):
            yield Label("What would you like to do?", classes="window-title")
            yield self._field
            yield self._list
            yield Label("Arrows and Enter choose. Esc closes", classes="window-foot")

    def on_mount(self) -> None:
        """The first is marked, and each letter counts at once."""
        self._list.highlighted = 0
        self.watch(self._field, "value", self._look_for, init=False)

    def _options(self) -> list[Named]:
        return [Named(command) for command in self._found]

    def _look_for(self, typed: str) -> None:
        self._found = fitting(self._commands, typed)
        self._list.clear_options()
        nothing = Option("Nothing matches that. Try fewer letters.", disabled=True)
        self._list.add_options(self._options() or [nothing])
        self._list.highlighted = 0 if self._found else None

    async def action_mark(self, how: str) -> None:
        """Another command."""
        await settled(self._field)
        if self._found:
            await self.app.run_action(how, self._list)

    async def action_do(self) -> None:
        """Close, and do what is marked."""
        await settled(self._field)
        if self._list.highlighted is not None and self._found:
            self.dismiss(self._found[self._list.highlighted].callback)

    @on(OptionList.OptionSelected)
    def choose(self, event: OptionList.OptionSelected) -> None:
        """A click does it too."""
        event.stop()
        if isinstance(event.option, Named):
            self.dismiss(event.option.deed)
