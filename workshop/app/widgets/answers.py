"""The panel beside the questions: what can be seen, what the answers mean, the lesson, or the workings."""

from collections.abc import Callable, Sequence

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from workshop.lessons import BadLesson, example, in_units, lesson_told
from workshop.pictures.canvas import Picture
from workshop.project import Project
from workshop.words.lines import wrapped
from workshop.words.phrase import Line, in_terms

STYLES = {
    "heading": "bold $text-accent",
    "figure": "",
    "text": "$text-muted",
    "good": "",
    "note": "italic $text-muted",
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


Seen = Callable[[int, int], Picture]
"""What can be seen, for a panel of so many columns and rows."""


def painted(picture: Picture) -> Content:
    """A picture in the colours of the theme."""
    return Content("\n").join(painted_lines(picture))


def painted_lines(picture: Picture) -> list[Content]:
    """The same, line by line."""
    return [Content.assemble(*((text, _ink(ink)) for text, ink in line)) for line in picture]


def _ink(name: str) -> str:
    """The style of an ink, or of one on another."""
    front, _, ground = name.partition("/")
    weight = "bold " if front == "strong" else ""
    return f"{weight}$ink-{front}" + (f" on $ink-{ground}" if ground else "") if front else ""


class AnswerPanel(VerticalScroll, can_focus=False):
    """What can be seen, and below it lines of an answer; scrolls with the page keys from anywhere on the screen."""

    def __init__(self, *, id: str) -> None:
        super().__init__(id=id)
        self._lines: Sequence[Line] = ()
        self._seen: Seen | None = None
        self._first = ""
        """How the headings begin of what is asked about: it is told first."""
        self._above, self._picture, self._below = Content(""), Content(""), Content("")
        """A greeting, what can be seen, and the lines below it."""
        self._shown: tuple[Picture, Content] = ((), Content(""))
        """What stands there now."""
        self._asked: dict[str, int] = {}
        """Where each line stands that needs another look, in lines below the picture."""
        self._sought = ""
        """The one of them that was last gone to."""
        self._text = Static("", classes="lines")

    def begin(self) -> None:
        """Another step: from its beginning."""
        self._first = self._sought = ""
        self.scroll_to(y=0, animate=False, immediate=True)

    def bring(self, first: str) -> None:
        """What is asked about has changed: what is said of it comes to the top, below its picture."""
        if first != self._first:
            self._first, self._sought = first, ""
            self._lay_out()
            self.scroll_to(y=0, animate=False)

    def to_line(self, text: str) -> None:
        """Scroll to a line that needs another look; where it is not shown, nothing moves."""
        self._sought = text
        if text in self._asked:
            above = sum(part.plain.count("\n") + 2 for part in (self._above, self._picture) if part.plain)
            self.scroll_to(y=above + self._asked[text], animate=False)

    def compose(self) -> ComposeResult:
        yield self._text

    def show_lines(self, lines: Sequence[Line], seen: Seen | None = None) -> None:
        """Show an answer. The scroll position stays: figures change under the eye, not the page."""
        self._lines, self._seen = lines, seen
        self._lay_out()

    def see(self, seen: Seen | None) -> None:
        """Something else to see above the same lines."""
        self._seen = seen
        self._draw()

    def show_plain(self, lines: Sequence[str]) -> None:
        """Show plain lines."""
        self.show_lines([Line("text", line) for line in lines])

    def on_resize(self) -> None:
        """Other lines for another width; what was gone to stays in sight."""
        self._lay_out()
        if self._sought:
            self.to_line(self._sought)

    def _width(self) -> int:
        return self.scrollable_content_region.width or 36

    def _draw(self) -> None:
        """The picture in the room that there is, and the lines below it as they are."""
        picture = self._seen(self._width(), max(6, self.size.height)) if self._seen else ()
        same_below = self._below is self._shown[1]
        if same_below and picture == self._shown[0]:
            return
        as_high = same_below and len(picture) == len(self._shown[0])
        self._picture, self._shown = painted(picture), (picture, self._below)
        both = [part for part in (self._above, self._picture, self._below) if part.plain]
        self._text.update(Content("\n\n").join(both), layout=not as_high)

    def _in_order(self) -> list[Line]:
        """What stands above all headings; then what is asked about; then the rest."""
        parts: list[list[Line]] = [[]]
        for line in self._lines:
            if line.kind == "heading":
                parts.append([])
            parts[-1].append(line)
        head, *rest = parts
        rest.sort(key=lambda part: not part[0].text.startswith(self._first))
        return [*head, *(line for part in rest for line in part)]

    def _lay_out(self) -> None:
        width = self._width()
        parts: list[Content] = []
        self._asked, high = {}, 0
        lines = self._in_order() if self._first else list(self._lines)
        greeting = lines.pop(0).text if lines and lines[0].kind == "good" else ""
        self._above = Content("\n".join(wrapped(greeting, width)) if greeting else "")
        for i, line in enumerate(lines):
            if line.kind == "heading" and i:
                parts.append(Content(""))
                high += 1
            if line.kind in ("look", "stop"):
                self._asked[line.text] = high
            indent = len(line.text) - len(line.text.lstrip())
            text = "\n".join(wrapped(MARKS[line.kind] + line.text, width, hang=indent and indent + 2))
            high += 1 + text.count("\n")
            parts.append(Content.styled(text, STYLES[line.kind]))
        self._below = Content("\n").join(parts)
        self._draw()


IN_CM = "This example is in cm. Press F3 to see your own numbers in inches."


def lesson_text(step: str, project: Project) -> str:
    """The lesson of a step as Markdown, in the knitter's terms; what is wrong with it where it cannot be read."""
    try:
        found = lesson_told(step)
    except BadLesson as error:
        return f"# No lesson\n\n`{error}`"
    text = in_terms(f"# {found.title}\n\n{in_units(found.text, project.units)}", project.terms)
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
