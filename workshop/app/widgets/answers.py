"""The panel beside the questions: what the answers mean, the lesson, or the workings."""

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Markdown, Static

from workshop.words.phrase import Line

STYLES = {
    "heading": "bold $text-accent",
    "figure": "bold",
    "text": "",
    "good": "",
    "note": "italic",
    "look": "bold $text-warning",
    "stop": "bold $text-error",
}
MARKS = {
    "look": "! look again: ",
    "stop": "✗ stop: ",
    "note": "i ",
    "heading": "",
    "figure": "",
    "text": "",
    "good": "",
}


class AnswerPanel(VerticalScroll):
    """Lines of an answer; scrolls with the page keys from anywhere on the screen."""

    def compose(self) -> ComposeResult:
        yield Static("", classes="lines")

    def show_lines(self, lines: Sequence[Line]) -> None:
        """Show an answer. The scroll position stays: figures change under the eye, not the page."""
        parts: list[Content] = []
        for i, line in enumerate(lines):
            if line.kind == "heading" and i:
                parts.append(Content(""))
            parts.append(Content.styled(MARKS[line.kind] + line.text, STYLES[line.kind]))
        self.query_one(".lines", Static).update(Content("\n").join(parts))

    def show_plain(self, lines: Sequence[str]) -> None:
        """Show lines as they are."""
        self.query_one(".lines", Static).update(Content("\n".join(lines)))


class LessonPanel(VerticalScroll):
    """A lesson; its Markdown is mounted only when it is first wanted."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._shown = ""

    def show_text(self, text: str) -> None:
        """Show a Markdown text from its beginning."""
        if text == self._shown:
            return
        self._shown = text
        self.remove_children()
        self.mount(Markdown(text, open_links=False))
        self.scroll_home(animate=False)
