"""A small window with sentences to choose from, which whoever is typing a word leaves at the second letter."""

from collections.abc import Callable
from typing import ClassVar

from textual.binding import Binding, BindingType

from workshop.app.keys import with_capitals
from workshop.app.screens.safety import ChoiceDialog, Ways


class SentenceDialog(ChoiceDialog):
    """Choose one of several sentences. Its key begins a word, too: the next letter of that closes the window, and what
    is typed goes on in the field.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(with_capitals(letter), f"go_on('{letter}')", show=False, priority=True) for letter in "hi"
    ]

    def __init__(
        self, title: str, text: str, ways: Ways, begin: int, *, typed: str, go_on: Callable[[str], None]
    ) -> None:
        """``typed``: the first two letters of the word, with which ``go_on`` is called."""
        super().__init__(title, text, ways, "leaves it", begin)
        self._typed, self._go_on = typed, go_on

    def action_go_on(self, letter: str) -> None:
        """The second letter of the word: before the next one is read, the field is there."""
        if self._typed.endswith(letter):
            self.dismiss(None)
            self._go_on(self._typed)
