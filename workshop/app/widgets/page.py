"""Many lines to read, of which only those in sight are laid out and painted: a plan has hundreds."""

from collections.abc import Sequence

from textual.content import Content
from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.selection import Selection
from textual.strip import Strip
from textual.visual import Visual


class Page(ScrollView, can_focus=True):
    """Lines that are no wider than the page, to scroll through; text on it can be marked with the mouse."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._lines: Sequence[Content] = ()

    @property
    def text(self) -> str:
        """All that can be read on it."""
        return "\n".join(line.plain for line in self._lines)

    def put(self, lines: Sequence[Content]) -> None:
        """Show these lines instead."""
        self._lines = lines
        self.virtual_size = Size(max((line.cell_length for line in lines), default=0), len(lines))
        self.refresh()

    def render_line(self, y: int) -> Strip:
        """One line of the window, as the toolkit asks for it."""
        number, width = self.scroll_offset.y + y, self.size.width
        if number >= len(self._lines):
            return Strip.blank(width, self.rich_style)
        line = self._lines[number]
        marked = self.text_selection.get_span(number) if self.text_selection else None
        if marked is not None:
            start, end = marked
            line = line.stylize("$foreground on $primary 50%", start, len(line) if end == -1 else end)
        strips = Visual.to_strips(self, line, width, 1, self.visual_style, apply_selection=False, pad=True)
        return strips[0].apply_offsets(0, number)

    def get_selection(self, selection: Selection) -> tuple[str, str] | None:
        """The marked text."""
        return selection.extract(self.text), "\n"

    def selection_updated(self, selection: Selection | None) -> None:
        """Paint what is marked, or no longer."""
        self.refresh()
