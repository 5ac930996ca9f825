"""The step Summary: the plan on the screen, and the ways to take it along."""

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from workshop.app.widgets.answers import lesson_text
from workshop.app.widgets.keyline import KeyLine
from workshop.app.widgets.trail import Trail
from workshop.core.plan import Plan
from workshop.prints.blocks import Block, Document, Table
from workshop.prints.document import summary
from workshop.prints.on_screen import Look, lines_of
from workshop.progress import progress
from workshop.questions.steps import step
from workshop.words.by_step import step_of_working, step_workings
from workshop.words.lines import wrapped
from workshop.words.phrase import in_terms, working_lines

if TYPE_CHECKING:
    from workshop.app.app import WorkshopApp


class SummaryScreen(Screen[None]):
    """The finished plan, to read and to print."""

    STEP = "summary"
    CSS_PATH = ["step.tcss", "summary.tcss"]
    AUTO_FOCUS = "#plan"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (72, "-normal"), (110, "-wide")]

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding(
            "p",
            "app.print_plan('html')",
            "Print",
            id="summary.print",
            tooltip="Write the plan to an HTML file beside the save",
        ),
        Binding(
            "m",
            "app.print_plan('md')",
            "Markdown",
            id="summary.markdown",
            show=False,
            tooltip="Write the plan to a Markdown file",
        ),
        Binding("c", "copy", "Copy", id="summary.copy", show=False, tooltip="Copy the plan as text to the clipboard"),
        Binding(
            "escape",
            "close_face",
            "Plan",
            show=False,
            id="summary.plan",
            tooltip="From the workings back to the plan",
        ),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.workings = False
        self._left_at = 0.0
        """How far down the plan was read before the workings were asked for."""
        self._on_screen: tuple[Plan, int, bool] | None = None
        """The plan that is shown, for which width, and whether its workings are."""

    @property
    def workshop(self) -> "WorkshopApp":
        """The app, by its own type."""
        from workshop.app.app import WorkshopApp

        assert isinstance(self.app, WorkshopApp)
        return self.app

    def compose(self) -> ComposeResult:
        yield Static("", id="title-bar", markup=False)
        yield Trail("", id="trail", markup=False)
        yield VerticalScroll(Static("", id="text", markup=False), id="plan")
        yield Static("", id="hint", markup=False)
        yield KeyLine()

    def on_mount(self) -> None:
        """Show the plan."""
        self.show_plan()

    def on_resize(self) -> None:
        """Tables are laid out for the width there is."""
        self.show_plan()

    def show_plan(self) -> None:
        """Show the plan of the project as it is now, where it is not shown already."""
        now, width = self.workshop.session.plan, self.size.width or self.app.size.width
        if self._on_screen is not None and self._on_screen[0] is now and self._on_screen[1:] == (width, self.workings):
            return
        self._on_screen = (now, width, self.workings)
        self.query_one("#title-bar", Static).update(Content(now.project.title or "A new jumper"))
        self.query_one(Trail).show(progress(now), "summary", now.project.terms, narrow=width < 80)
        room = max(30, width - 4)
        shown = _workings(now, room) if self.workings else self._plan_text(now, room)
        self.query_one("#text", Static).update(shown)
        said = "Page keys turn it. P: file to print, M: Markdown, C: copy."
        if self.workings:
            said = "Every number's working, the garment's first. F3: the plan."
        self.tell(said)

    def _plan_text(self, now: Plan, room: int) -> Content:
        return render(summary(now, columns=room, plain=self.workshop.plain_drawings), room)

    def tell(self, text: str) -> None:
        """Say something in the line below the plan."""
        self.query_one("#hint", Static).update(Content(text), layout=False)

    def commit(self) -> None:
        """Nothing is typed here."""

    def show_face(self, face: str) -> None:
        """F3 shows the workings in place of the plan, and the plan again where it was left."""
        if face == "working":
            scroll = self.query_one("#plan", VerticalScroll)
            if not self.workings:
                self._left_at = scroll.scroll_y
            self.workings = not self.workings
            self.show_plan()
            there = 0.0 if self.workings else self._left_at
            self.call_after_refresh(scroll.scroll_to, y=there, animate=False)
        elif face == "lesson":
            from workshop.app.screens.dialogs import LessonDialog

            self.app.push_screen(LessonDialog(lesson_text("summary", self.workshop.session.project)))

    def action_copy(self) -> None:
        """The plan as text on the clipboard."""
        from workshop.prints import paper
        from workshop.prints.plan_sheet import plan_sheet

        now = self.workshop.session.plan
        self.app.copy_to_clipboard(paper.markdown(plan_sheet(now), now))
        self.tell("Copied as text. Where the terminal does not let it through, M writes it to a file.")

    def action_close_face(self) -> None:
        """From the workings back to the plan."""
        if self.workings:
            self.show_face("working")

    def help_text(self) -> str:
        """Help for this screen."""
        return (
            "Summary: read with the arrow and page keys. p writes the plan as one HTML file to print, m as Markdown; "
            "c copies it as text."
        )


WORKED_FIRST = ("shape", "summary", "measure", "wash", "gauge", "swatch", "fibre")
"""Workings from the garment back to the yarn."""


def _workings(now: Plan, width: int) -> Content:
    """All workings under the names of their steps, in lines of a width."""
    parts: list[Content] = []
    for name in WORKED_FIRST:
        lines = step_workings(name, now)
        if name == "summary":  # all of them; here only those of the yarn to buy
            mine = [w for w in now.workings if step_of_working(w.key) == name]
            lines = tuple(line for w in mine for line in (*working_lines(w, now.project), ""))
        if lines:
            title = "Yarn to buy" if name == "summary" else in_terms(step(name).title, now.project.terms)
            parts += [Content.styled(title, "bold underline"), *(Content(_hung(line, width)) for line in lines)]
    return Content("\n").join(parts or [Content("No number has been worked out yet.")])


def _hung(line: str, width: int) -> str:
    indent = len(line) - len(line.lstrip())
    return "\n".join(wrapped(line, width, hang=indent + 2 if indent else 0))


def render(document: Document, width: int) -> Content:
    """A document as styled text of a given width."""
    parts: list[Content] = []
    for section in document.sections:
        parts += [Content(""), Content.styled(section.heading, "bold underline")]
        for block in section.blocks:
            parts += _lines(block, width)
    return Content("\n").join(parts[1:])


LOOK = Look({"look": ("! look again: ", "bold"), "stop": ("✗ stop: ", "bold")}, box="☐ ", hang=4)


def _lines(block: Block, width: int) -> list[Content]:
    """A block; a table has columns as wide as they need, where there is room for them."""
    from rich.cells import cell_len, set_cell_size

    if isinstance(block, Table):
        widths = [max(map(cell_len, column)) for column in zip(block.head, *block.rows, strict=True)]
        if sum(widths) + 2 * (len(widths) - 1) <= width:
            every = ((set_cell_size(c, w) for c, w in zip(r, widths, strict=True)) for r in (block.head, *block.rows))
            head, *rows = ("  ".join(cells).rstrip() for cells in every)
            return [Content.styled(head, "dim"), *map(Content, rows)]
    return [Content.styled(line, style) for line, style in lines_of(block, width, LOOK)]
