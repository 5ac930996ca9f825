"""The glossary as a window: part of a word is typed, the words that fit are listed, and the marked one is explained."""

from collections.abc import Sequence
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
from workshop.project import Terms
from workshop.words.explained import Entry, entries
from workshop.words.lines import wrapped
from workshop.words.phrase import capitalised


class WordInput(LineInput):
    """Part of a word; its text can be selected whole, as in a form."""

    BINDINGS: ClassVar[list[BindingType]] = [
        hidden("words.all", "ctrl+a", "select_all", "All", "Select what you've typed"),
    ]


class Words(Ended, can_focus=False):
    """The words that may be meant; the field above has the keys."""


class GlossaryDialog(SmallWindow[None]):
    """A field for the first letters of a word, the words that fit, and what the marked one means."""

    AUTO_FOCUS = "Input"
    BINDINGS: ClassVar[list[BindingType]] = [
        shown("words.close", "escape,ctrl+l", "dismiss(None)", "Close", "Close the glossary"),
        hidden("words.up", "up", "mark('cursor_up')", "Up", "The word above", first=True),
        hidden("words.down", "down", "mark('cursor_down')", "Down", "The word below", first=True),
        hidden("words.page_up", "pageup", "mark('page_up')", "Page up", "A page of words up", first=True),
        hidden("words.page_down", "pagedown", "mark('page_down')", "Page down", "A page of words down", first=True),
    ]

    def __init__(self, terms: Terms, here: Sequence[Entry] = (), at: Entry | None = None) -> None:
        """``here``: words of the question at hand, listed first; ``at``: the word to begin with."""
        super().__init__()
        self._terms, self._here, self._begins_at = terms, tuple(here), at
        self._found: tuple[Entry, ...] = ()
        self._field = WordInput(placeholder="type part of a word", compact=True, id="words-typed")
        self._list = Words(id="words-found", markup=False)
        self._entry = Static("", id="words-entry", markup=False)

    def compose(self) -> ComposeResult:
        with Vertical(classes="window tall"):
            yield Label("What does it mean?", classes="window-title")
            yield self._field
            yield self._list
            yield self._entry
            yield Label("Type to search. Up and Down choose. Esc closes", classes="window-foot")

    def on_mount(self) -> None:
        """The words at hand come first, and each letter counts at once."""
        self._search("")
        if self._begins_at in self._found:
            self._list.highlighted = self._found.index(self._begins_at)
        self.watch(self._field, "value", self._search, init=False)

    def on_resize(self) -> None:
        """Other lines for another width."""
        self.call_after_refresh(self._explain)

    def _search(self, typed: str) -> None:
        found = entries(typed, self._terms)
        self._found = found if typed.strip() else tuple(dict.fromkeys((*self._here, *found)))
        self._list.clear_options()
        self._list.add_options([Option(Content(w.named)) for w in self._found])
        self._list.highlighted = 0 if self._found else None
        self._explain()

    @on(OptionList.OptionHighlighted)
    def mark(self, event: OptionList.OptionHighlighted) -> None:
        """Another word is marked."""
        event.stop()
        self._explain()

    def _explain(self) -> None:
        marked = self._list.highlighted
        if marked is None or not self._found:
            text = "No entry has that word in it. Try fewer letters."
        else:
            word = self._found[marked]
            text = f"{capitalised(word.called)}: {word.means}."
        width = self._entry.content_size.width or 50
        self._entry.update(Content("\n".join(wrapped(text, width))))

    async def action_mark(self, how: str) -> None:
        """Another word, while the field keeps the keys."""
        await settled(self._field)
        if self._found:
            await self.app.run_action(how, self._list)
