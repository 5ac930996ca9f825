"""Lists to choose from: their ends are ends, and numbered lines go by their number too. Keys in their order."""

import re
from typing import TYPE_CHECKING

from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget
from textual.widgets import OptionList

if TYPE_CHECKING:
    _Base = OptionList
else:
    _Base = object
"""At run time the mixin is no widget: a list that it is mixed into keeps its own kind in style sheets."""


NARROWEST = 8
"""Characters for which the height of a list is worked out at least."""


class Ends(_Base):
    """Up stays at the first line and down at the last: a list does not turn over by itself."""

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Lines that the list takes. A window that is being resized may leave it no width for a moment, at which the
        toolkit's own reckoning would end the app.
        """
        return super().get_content_height(container, viewport, max(width, NARROWEST))

    def on_click(self, event: events.Click) -> None:
        """A click on a line that has gone since it was painted is none."""
        line = event.style.meta.get("option")
        if line is not None and line >= self.option_count:
            event.prevent_default()

    def action_page_up(self) -> None:
        """A page up, once there are lines."""
        if self.scrollable_content_region:
            super().action_page_up()  # type: ignore[no-untyped-call]

    def action_page_down(self) -> None:
        """A page down, once there are lines."""
        if self.scrollable_content_region:
            super().action_page_down()  # type: ignore[no-untyped-call]

    def action_cursor_up(self) -> None:
        """One line up."""
        if self.highlighted != 0:
            super().action_cursor_up()

    def action_cursor_down(self) -> None:
        """One line down."""
        if self.highlighted is None or self.highlighted < self.option_count - 1:
            super().action_cursor_down()


class Ended(Ends, OptionList):
    """A list whose ends are ends."""


class Marked(Ended):
    """A list with a sign before the line where one is: it is seen without colours too."""

    _marked: int | None = None

    def prompt(self, index: int, sign: str = " ") -> Content:
        """A line with a sign before it, in lines as wide as there is room."""
        raise NotImplementedError

    @property
    def room(self) -> int:
        """Characters of a line."""
        return self.scrollable_content_region.width - 2 or 76

    def watch_highlighted(self, highlighted: int | None) -> None:
        """The sign goes to another line."""
        super().watch_highlighted(highlighted)
        for index, sign in ((self._marked, " "), (highlighted, "▸")):
            if index is not None and index < self.option_count:
                self.replace_option_prompt_at_index(index, self.prompt(index, sign))
        self._marked = highlighted

    def on_resize(self) -> None:
        """Other lines for another width."""
        for index in range(self.option_count):
            self.replace_option_prompt_at_index(index, self.prompt(index, "▸" if index == self._marked else " "))


class Lettered(Ended):
    """A list in which a letter goes to the next line that has a word beginning with it."""

    def on_key(self, event: events.Key) -> None:
        """Look for a letter, from the line below on and round once."""
        typed = event.character or ""
        if not typed.isalpha() or self.highlighted is None:
            return
        count = self.option_count
        order = [(self.highlighted + 1 + i) % count for i in range(count)]
        begins = re.compile(rf"(?<!\w){re.escape(typed)}", re.IGNORECASE)
        found = next((i for i in order if begins.search(str(self.get_option_at_index(i).prompt))), None)
        if found is not None:
            event.stop()
            self.highlighted = found


class Numbered(Ended):
    """A list whose lines begin with their numbers: a digit chooses its line."""

    def on_key(self, event: events.Key) -> None:
        """Choose the line of this number."""
        typed = event.character or ""
        if typed.isascii() and typed.isdigit() and 1 <= int(typed) <= self.option_count:
            event.stop()
            self.highlighted = int(typed) - 1
            self.action_select()


async def settled(widget: Widget) -> None:
    """Wait until a widget has worked off the keys that were typed before."""
    from asyncio import Event, wait_for

    done = Event()
    if widget.call_later(done.set):
        try:
            await wait_for(done.wait(), 1.0)
        except TimeoutError:  # a widget that is going away
            return
