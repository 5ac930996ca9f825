"""Small windows about the file: two windows that answered otherwise, earlier versions, leaving while not saved."""

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import Label, OptionList, Static
from textual.widgets.option_list import Option

from workshop.app.keys import hidden, shown
from workshop.app.screens.dialogs import SmallWindow
from workshop.app.widgets.in_order import LineInput, settled
from workshop.app.widgets.lists import Ended

Ways = Sequence[tuple[str, str]]
"""Answers to choose from: a name, and what the knitter reads."""


class ChoiceDialog(SmallWindow[str | None]):
    """A question and its answers, the safest first; ``begin`` is marked where another one is more likely."""

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("choice.close", "escape", "dismiss(None)", "Close", "Leave everything as it is")
    ]

    def __init__(self, title: str, text: str, ways: Ways, escape: str, begin: int = 0) -> None:
        """``escape``: what leaving without an answer means."""
        super().__init__()
        self._title, self._text, self._ways, self._escape, self._begin = title, text, ways, escape, begin

    def compose(self) -> ComposeResult:
        with Vertical(classes="window"):
            yield Label(Content(self._title), classes="window-title")
            yield Static(Content(self._text), classes="window-text")
            yield Ended(*(Option(Content(words), id=name) for name, words in self._ways), markup=False)
            yield Label(f"Arrows and Enter choose. Esc {self._escape}", classes="window-foot")

    def on_mount(self) -> None:
        """Begin at the usual answer."""
        self.query_one(OptionList).highlighted = self._begin

    @on(OptionList.OptionSelected)
    def choose(self, event: OptionList.OptionSelected) -> None:
        """Answer."""
        event.stop()
        self.dismiss(event.option.id)


class EarlierDialog(SmallWindow[str | None]):
    """Earlier versions of a project; one of them can be brought back."""

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("earlier.close", "escape", "dismiss(None)", "Close", "Leave everything as it is")
    ]

    def __init__(self, versions: Ways, why: str = "") -> None:
        """``versions``: the file name of each and its line, the newest first; ``why`` they are offered."""
        super().__init__()
        self._versions, self._why = versions, why

    def compose(self) -> ComposeResult:
        with Vertical(classes="window"):
            yield Label("Which version would you like back?", classes="window-title")
            if self._why:
                yield Static(Content(self._why), classes="window-text")
            yield Ended(*(Option(Content(line)) for _, line in self._versions), id="earlier-found", markup=False)
            yield Label("Enter brings it back. Esc closes", classes="window-foot")

    @on(OptionList.OptionSelected)
    def choose(self, event: OptionList.OptionSelected) -> None:
        """Bring it back."""
        event.stop()
        self.dismiss(self._versions[event.option_index][0])


class TextField(SmallWindow[bool]):
    """A question with a field to type its answer into. What cannot be taken stays, with the reason below it."""

    AUTO_FOCUS = "Input"
    BINDINGS: ClassVar[list[BindingType]] = [
        shown("text.close", "escape", "dismiss(False)", "Close", "Leave everything as it is"),
        hidden("text.take", "enter", "take", "Take", "Take what you've typed", first=True),
    ]

    def __init__(self, title: str, text: str, take: Callable[[str], str], value: str = "") -> None:
        """``take`` gives what is wrong with what was typed; nothing where it was taken. ``value``: what is there."""
        super().__init__()
        self._title, self._text, self._take = title, text, take
        self._field = LineInput(value, compact=True)
        self._wrong = Static("", markup=False, classes="window-text")

    def compose(self) -> ComposeResult:
        with Vertical(classes="window"):
            yield Label(Content(self._title), classes="window-title")
            yield Static(Content(self._text), classes="window-text")
            yield self._field
            yield self._wrong
            yield Label("Enter takes it. Esc leaves everything as it is", classes="window-foot")

    async def action_take(self) -> None:
        """Take what you've typed."""
        await settled(self._field)
        if not self.is_active:
            return
        wrong = self._take(self._field.value)
        if wrong:
            self._wrong.update(Content(f"{wrong}."))
        else:
            self.dismiss(True)
