"""The Summary step: the plan on the screen, and the ways to take it along."""

import sys
from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content

from workshop.app.desk import Desk
from workshop.app.keys import hidden, shown
from workshop.app.screens.step import StepScreen
from workshop.app.widgets.answers import lesson_text, painted_lines
from workshop.app.widgets.body import NOTHING_TO_CHECK, Body
from workshop.app.widgets.page import Page
from workshop.core.plan import Plan
from workshop.prints.blocks import Block, Document, Table
from workshop.prints.document import summary
from workshop.prints.glance import summary_head
from workshop.prints.on_screen import Look, in_columns, lines_of
from workshop.visible import only_ascii
from workshop.words.lines import wrapped
from workshop.words.phrase import working_lines
from workshop.words.titles import title_of


class PlanText(Body):
    """The finished plan, to read and to print."""

    BINDINGS: ClassVar[list[BindingType]] = [
        shown(
            "summary.print",
            "p",
            "app.print_plan('html')",
            "Print",
            "Save the plan as an HTML file to print, beside the project",
        ),
        shown("summary.knit", "k", "app.knit", "Knit", "At the needles: row by row, with counts and yarn left"),
        shown("summary.sizes", "s", "app.sizes", "Sizes", "This design in all sizes: table, rules, one print for all"),
        hidden("summary.markdown", "m", "app.print_plan('md')", "Markdown", "Save the plan as a Markdown file"),
        hidden("summary.copy", "c", "copy", "Copy", "Copy the plan as text"),
        hidden("summary.plan", "escape", "close_face", "Plan", "Back from the workings to the plan"),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.workings = False
        self._left_at = 0.0
        """How far down the plan was read before the workings were asked for."""
        self._on_screen: tuple[Plan, int, bool] | None = None
        """The plan that is shown, for which width, and whether its workings are."""
        self._page = Page(id="plan")

    def compose(self) -> ComposeResult:
        yield self._page

    def open(self, name: str, at: str | None) -> None:
        """The plan from its beginning."""
        self.workings = False
        self.show()
        assert isinstance(self.screen, StepScreen)
        self.screen.warn("", 0)  # the plan says in its progress what needs another look
        self._page.scroll_home(animate=False)
        self.screen.set_focus(self._page)

    def show(self) -> None:
        """Show the plan of the project as it is now, where it is not shown already."""
        now, room = self.desk.session.plan, self.room.columns
        if self._on_screen is not None and self._on_screen[0] is now and self._on_screen[1:] == (room, self.workings):
            return
        self._on_screen = (now, room, self.workings)
        self._page.put(workings_text(now, room) if self.workings else _plan_text(now, room))
        said = "PgUp/PgDn scroll. K: knit, S: sizes, P: print, C: copy text"
        if self.workings:
            said = "How each number was worked out. F3: back to the plan"
        self.tell(said)

    async def show_face(self, face: str) -> None:
        """F3 shows the workings in place of the plan, and the plan again where it was left."""
        if face == "working":
            self._turn_over()
        elif face == "lesson":
            from workshop.app.screens.dialogs import LessonDialog

            await self.app.push_screen(LessonDialog(lesson_text("summary", self.desk.session.project)))

    def _turn_over(self) -> None:
        if not self.workings:
            self._left_at = self._page.scroll_y
        self.workings = not self.workings
        self.show()
        there = 0.0 if self.workings else self._left_at
        self.call_after_refresh(self._page.scroll_to, y=there, animate=False)

    def to_check(self) -> None:
        """Nothing of any step: otherwise that step would be open."""
        self.tell(NOTHING_TO_CHECK)

    def action_copy(self) -> None:
        """The plan as text on the clipboard."""
        from workshop.prints import paper
        from workshop.prints.plan_sheet import plan_sheet

        now = self.desk.session.plan
        self.app.copy_to_clipboard(paper.markdown(plan_sheet(now), now))
        self.tell("Copied as text. If pasting gives nothing, press M to save a file instead.")

    def action_close_face(self) -> None:
        """From the workings back to the plan."""
        if self.workings:
            self._turn_over()

    def help_text(self) -> str:
        """Help for this screen."""
        return (
            "Your plan. Scroll with the arrows and PgUp/PgDn. P saves the plan as one HTML file to print, M as "
            "Markdown. C copies the plan as text. K is for when you knit: where you are, row by row. S shows this "
            "design in all sizes."
        )


HEADING = "bold $text-accent"


def _plan_text(now: Plan, room: int) -> list[Content]:
    text = render(summary(now, columns=room, plain=only_ascii(sys.__stdout__)), room)
    head = painted_lines(summary_head(now, room))
    return [*head, Content(""), *text] if head else text


WORKED_FIRST = ("shape", "summary", "measure", "wash", "gauge", "swatch", "fibre")
"""Workings from the garment back to the yarn."""


def workings_text(now: Plan, width: int) -> list[Content]:
    """All workings under the names of their steps, in lines of a width."""
    from workshop.words.calculations.by_step import step_of_working, step_workings

    parts: list[Content] = []
    for name in WORKED_FIRST:
        lines = step_workings(name, now)
        if name == "summary":  # all of them; here only those of the yarn to buy
            mine = [w for w in now.workings if step_of_working(w.key) == name]
            lines = tuple(line for w in mine for line in (*working_lines(w, now.project), ""))
        if lines:
            title = "Yarn to buy" if name == "summary" else title_of(name, now.project.terms)
            parts += [Content.styled(title, HEADING), *(Content(text) for line in lines for text in _hung(line, width))]
    return parts or [Content("Nothing has been worked out yet.")]


def _hung(line: str, width: int) -> Sequence[str]:
    indent = len(line) - len(line.lstrip())
    return wrapped(line, width, hang=indent + 2 if indent else 0)


def render(document: Document, width: int) -> list[Content]:
    """A document as styled lines of a given width."""
    parts: list[Content] = []
    for section in document.sections:
        parts += [Content(""), Content.styled(section.heading, HEADING)]
        for block in section.blocks:
            parts += _lines(block, width)
    return parts[1:]


LOOK = Look({"look": ("! look again: ", "bold"), "stop": ("✗ stop: ", "bold")}, box="☐ ", hang=4)


def _lines(block: Block, width: int) -> list[Content]:
    """A block; a table has columns as wide as they need, where there is room for them."""
    columns = in_columns(block, width) if isinstance(block, Table) else None
    if columns is not None:
        return [Content.styled(columns[0], "dim"), *map(Content, columns[1:])]
    return [Content.styled(line, style) for line, style in lines_of(block, width, LOOK)]
