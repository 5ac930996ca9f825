"""Lists to choose from: a sign stands before the marked line, their ends are ends, and numbered lines go by their
number too.
"""

import re

from rich.segment import Segment
from textual import events
from textual.content import Content
from textual.geometry import Size
from textual.strip import Strip
from textual.widgets import OptionList

from workshop.app.widgets.in_order import OwnKeys

HERE = "▸"
"""Stands before what is marked or has the focus, so that it is seen without color."""

NARROWEST = 8
"""Characters for which the height of a list is worked out at least."""


class Ended(OptionList, OwnKeys):
    """A list whose ends are ends: up stays at the first line and down at the last. In the column that the style sheet
    leaves free before each line stands the sign of the marked one.
    """

    def render_line(self, y: int) -> Strip:
        """A line, with the sign where the marked one begins. What stands before its text is sent with it."""
        strip = super().render_line(y)
        _, *rest = strip  # the free column
        if not rest:  # below the last line
            return strip
        sign = HERE if self._begins_marked(y, strip) else " "
        return Strip([Segment(sign + rest[0].text, rest[0].style), *rest[1:]], strip.cell_length)

    def _begins_marked(self, y: int, strip: Strip) -> bool:
        if self.highlighted is None or _line_of(strip) != self.highlighted:
            return False
        return self.scroll_offset.y + y == 0 or _line_of(super().render_line(y - 1)) != self.highlighted

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


def _line_of(strip: Strip) -> int | None:
    """The line of a list that something painted belongs to."""
    return next((segment.style.meta.get("option") for segment in strip if segment.style), None)


class Wide(Ended):
    """A list whose lines are broken anew for the width there is."""

    def prompt(self, index: int) -> Content:
        """A line, in lines as wide as there is room."""
        raise NotImplementedError

    @property
    def room(self) -> int:
        """Characters of a line."""
        return max(NARROWEST, self.scrollable_content_region.width - 3)

    def on_resize(self) -> None:
        """Other lines for another width."""
        for index in range(self.option_count):
            self.replace_option_prompt_at_index(index, self.prompt(index))


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
