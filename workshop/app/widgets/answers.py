"""The panel beside the questions: what the answers mean, the lesson, or the workings."""

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from workshop.lessons import BadLesson, example, lesson_told
from workshop.project import Project
from workshop.words.lines import wrapped
from workshop.words.phrase import Line, in_terms

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


class AnswerPanel(VerticalScroll, can_focus=False):
    """Lines of an answer; scrolls with the page keys from anywhere on the screen."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._lines: Sequence[Line] = ()
        self._headings: dict[str, int] = {}
        """Where each heading stands, in lines from the top."""
        self._asked: dict[str, int] = {}
        """Where each line stands that needs another look."""
        self._text = Static("", classes="lines")
        self._told: frozenset[str] | None = None
        """Those that were there when an answer was last taken."""

    def begin(self) -> None:
        """Another step: its answers from their beginning, and nothing of the last one is compared with them."""
        self._told = None
        self.scroll_to(y=0, animate=False, immediate=True)

    def bring(self, begins: str) -> None:
        """Scroll to the heading that begins so, or to the top; where there is none, nothing moves."""
        found = next((y for text, y in self._headings.items() if text.startswith(begins)), None) if begins else 0
        if found is not None:
            self.scroll_to(y=found, animate=False)

    def compose(self) -> ComposeResult:
        yield self._text

    def show_lines(self, lines: Sequence[Line]) -> None:
        """Show an answer. The scroll position stays: figures change under the eye, not the page."""
        self._lines = lines
        self._lay_out()

    def show_taken(self, lines: Sequence[Line], *, from_top: bool = False) -> None:
        """Show what follows from an answer that was taken; what it makes the workshop ask about comes into sight.

        With ``from_top`` it is what stands at the top, where nothing is asked.
        """
        self.show_lines(lines)
        new = [y for text, y in self._asked.items() if self._told is not None and text not in self._told]
        self._told = frozenset(self._asked)
        if new or from_top:
            self.call_after_refresh(self.scroll_to, y=min(new, default=0), animate=False)

    def show_plain(self, lines: Sequence[str]) -> None:
        """Show plain lines."""
        self.show_lines([Line("text", line) for line in lines])

    def on_resize(self) -> None:
        """Other lines for another width."""
        self._lay_out()

    def _lay_out(self) -> None:
        width = self.scrollable_content_region.width or 36
        parts: list[Content] = []
        self._headings, self._asked, high = {}, {}, 0
        for i, line in enumerate(self._lines):
            if line.kind == "heading" and i:
                parts.append(Content(""))
                high += 1
            if line.kind == "heading":
                self._headings[line.text] = high
            elif line.kind in ("look", "stop"):
                self._asked[line.text] = high
            indent = len(line.text) - len(line.text.lstrip())
            text = "\n".join(wrapped(MARKS[line.kind] + line.text, width, hang=indent and indent + 2))
            high += 1 + text.count("\n")
            parts.append(Content.styled(text, STYLES[line.kind]))
        self._text.update(Content("\n").join(parts))


IN_CM = "This example is in cm. Press F3 to see your own numbers in inches."


def lesson_text(step: str, project: Project) -> str:
    """The lesson of a step as Markdown, in the knitter's terms; what is wrong with it where it cannot be read."""
    try:
        found = lesson_told(step)
    except BadLesson as error:
        return f"# No lesson\n\n`{error}`"
    text = in_terms(f"# {found.title}\n\n{found.text}", project.terms)
    return f"{text}\n*{IN_CM}*\n" if " cm" in example(text) and project.units == "in" else text


class LessonPanel(VerticalScroll, can_focus=False):
    """A lesson; its Markdown is mounted only when it is first wanted."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._shown = ""

    def show_text(self, text: str) -> None:
        """Show a Markdown text from its beginning."""
        if text == self._shown or not self.is_attached:
            return
        from textual.widgets import Markdown  # costs a fifth of a second: not before a lesson is wanted

        self._shown = text
        self.remove_children()
        self.mount(Markdown(text, open_links=False))
        self.scroll_home(animate=False)
