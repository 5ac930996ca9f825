"""A drawn swatch to count for practice, reached from the Gauge step."""

from random import Random
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Input, Label, Static

from workshop.app.keys import hidden, shown
from workshop.app.screens.dialogs import SmallWindow
from workshop.app.widgets.in_order import LineInput
from workshop.core.counting_practice import OVER, Practice, fresh, judge, refused
from workshop.pictures.swatch_picture import Window, window_text
from workshop.project import Project
from workshop.units import NotUnderstood, read_number
from workshop.words.lines import wrapped
from workshop.words.phrase import capitalised, in_terms, say


class CountInput(LineInput):
    """A count to type; its text can be selected whole, as in a form."""

    BINDINGS: ClassVar[list[BindingType]] = [
        hidden("practice.all", "ctrl+a", "select_all", "All", "Select the whole count"),
    ]


class PracticeDialog(SmallWindow[None]):
    """A drawn swatch to count between the pins, another each time; it says what a miscount would have done."""

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("practice.close", "escape", "dismiss(None)", "Close", "Back to your own swatches"),
        shown("practice.help", "f1", "app.explain", "Help", "What this is for"),
        shown("practice.again", "ctrl+n", "again", "Another", "Another swatch to count", first=True),
    ]

    def __init__(self, project: Project, chance: Random | None = None) -> None:
        super().__init__()
        self._project, self._chance = project, chance or Random()
        self.practice = self._another(plain=True)
        """The swatch that is counted now; the first is plain."""
        self._judged = False
        """Whether it was told how close the knitter came."""
        self._told = ""
        """What stands above the field."""
        self._asks_for = Label("", id="practice-task", classes="window-title")
        self._cloth = Static("", id="practice-cloth", markup=False)
        self._said = Static("", id="practice-said", markup=False)
        self._count = CountInput(placeholder="how many? halves and quarters too: 21½", id="practice-count")

    def compose(self) -> ComposeResult:
        with Vertical(classes="window tall"):
            yield self._asks_for
            with VerticalScroll(can_focus=False):
                yield self._cloth
            yield self._said
            yield self._count
            yield Label("Enter checks. Ctrl+N: another swatch. Esc: back", classes="window-foot")

    def on_mount(self) -> None:
        """Draw the first one."""
        self._draw()

    def on_resize(self) -> None:
        """As wide as there is room."""
        self._draw()
        self.call_after_refresh(self._lay_out)

    def _draw(self) -> None:
        one, room = self.practice, self._room()
        units = self._project.units
        window = Window(one.count, OVER[units], units, one.along, one.starts_at, one.repeat)
        high = max(3, min(14, self.app.size.height - 18))
        lines = window_text(window, columns=room, lines=high, tell=False)
        ask = "Each V is a stitch. The first begins at the left pin. Half a V at the right pin is half a stitch."
        if one.along == "rows":
            ask = "The swatch is turned on its side: each V is a row."
        if one.repeat:
            many = one.repeat
            ask = f"A dash is a stitch too, the last of {many}. Count the repeats, multiply by {many} and add the rest."
        gap = [""] if self.app.size.height >= 24 else []  # low windows: what Enter says must not push the end out
        self._asks_for.update(f"Count the {one.along} between the two pins")
        self._cloth.update(Content("\n".join([*lines, *gap, ask])))

    def _tell(self, text: str, *, wrong: bool = False) -> None:
        """Say something above the field; ``wrong``: why a count was not taken."""
        self._told = text
        self._said.set_class(wrong, "-refused")
        self._lay_out()

    def _lay_out(self) -> None:
        """What was said in lines as wide as there is room, no figure parted from its unit."""
        room = self._said.content_size.width or self._room()
        self._said.update(Content("\n".join(wrapped(self._told, room))))

    @on(Input.Submitted)
    def count(self, event: Input.Submitted) -> None:
        """Say how close it was; a count that cannot be stays in its field, with what is wrong above it."""
        event.stop()
        try:
            counted = read_number(event.value)
            fault = refused(self.practice, counted)
        except NotUnderstood as error:
            fault = str(error)
        if not event.value.strip() and self._judged:
            self._tell("Ctrl+N draws another swatch. Esc goes back to your own.")
            return
        if fault:
            self._tell(f"{capitalised(fault)}.", wrong=True)
            return
        self._tell(say(judge(self.practice, counted, self._project.units), self._project))
        self._judged = True
        event.input.value = ""

    def help_text(self) -> str:
        """Help for this window."""
        text = (
            "A new swatch is drawn each time, and you aren't told its gauge. Count between the two pins, type "
            "the number and press Enter. You'll see how close you were and what that would have done to a sweater."
        )
        return in_terms(text, self._project.terms)

    def _another(self, *, plain: bool = False) -> Practice:
        """A fresh swatch whose stitches or rows are drawn two characters wide, so that they can be told apart."""
        while True:
            one = fresh(self._chance, plain=plain)
            if 2 * one.count <= self._room() - 6:
                return one

    def _room(self) -> int:
        """Characters of a line of the picture."""
        return max(50, min(70, self.app.size.width - 10)) if self.is_attached else 50

    def action_again(self) -> None:
        """Another swatch."""
        before = self.practice
        while self.practice == before:
            self.practice = self._another()
        self._tell("")
        self._judged = False
        self._count.value = ""
        self._draw()
