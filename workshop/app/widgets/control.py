"""What an answer is typed into or chosen from: a line of text, and a list that opens."""

from collections.abc import Callable, Sequence
from typing import ClassVar

from rich.text import Text
from textual import events
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, OptionList, Select
from textual.widgets._select import SelectCurrent, SelectOverlay

from workshop.app.widgets.lists import Ends
from workshop.questions.kinds import Option, meant

CHOOSE = "choose"

NO_ANSWER = "– no answer –"
"""The line of an open list that takes an answer back."""

FRAME = 1
"""Lines that the frame of an open list takes below its answers."""


class Row(Widget):
    """What holds a control: the question's row in the form."""

    touched = False
    """Whether a hand has typed something that is neither taken nor refused yet."""


class AnswerInput(Input):
    """A one-line answer. Its text is selected on arrival, so that typing replaces it.

    Keys that leave the field come before all others and are done when they return: what is typed after
    them, however fast, goes into the next field.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "enter", "Take", show=False, priority=True, id="field.enter", tooltip="Take the answer"),
        Binding("tab,down", "move(1)", "Down", show=False, priority=True, id="field.down", tooltip="Next question"),
        Binding("ctrl+a", "select_all", "All", show=False, id="field.all", tooltip="Select the whole answer"),
        Binding("shift+tab,up", "move(-1)", "Up", show=False, priority=True, id="field.up", tooltip="Question before"),
        Binding(
            "pageup", "screen.turn(-1)", "Panel up", show=False, id="panel.field_up", tooltip="Scroll the panel up"
        ),
        Binding(
            "pagedown",
            "screen.turn(1)",
            "Panel down",
            show=False,
            id="panel.field_down",
            tooltip="Scroll the panel down",
        ),
    ]

    async def action_enter(self) -> None:
        """Take the answer and go on."""
        await leave(self, 1, enter=True)

    async def action_move(self, direction: int) -> None:
        """Take the answer if one was typed, and go to the next or the last question."""
        await leave(self, direction)


class AnswerList(Ends, SelectOverlay):
    """An open list. Typed letters look for the answer that they mean, by any of its names.

    Where none does, no line is marked and Enter takes none: what was typed was meant for another question.
    """

    class Sought(Message):
        """Letters were typed to find an answer."""

        def __init__(self, typed: str, *, found: bool) -> None:
            super().__init__()
            self.typed, self.found = typed, found

    def __init__(self) -> None:
        super().__init__()
        self._search_reset_delay = 1.5  # seconds: slow hands type words too
        self.begun = 0
        """The line that was marked when the list opened."""

    def watch_has_focus(self, value: bool) -> None:
        """The letter that opened the list belongs to those that follow; without this it would be forgotten."""
        typed = self._search_query
        super().watch_has_focus(value)
        if value:
            self._search_query = typed

    def _find_search_match(self, query: str) -> int | None:
        """The line that typed letters mean; the mark goes where there is none, and the screen is told."""
        assert isinstance(self.parent, AnswerSelect)
        answers = self.parent.answers
        found = meant(answers, query)
        if found is not None:
            found += self.option_count - len(answers)  # below the line for none
        elif not query.strip():
            found = self.highlighted
        if found is None:
            self.highlighted = None
        self.post_message(self.Sought(query.strip(), found=found is not None))
        return found

    def action_cursor_down(self) -> None:
        """One line down; where none is marked, back to where the list began."""
        self._step(super().action_cursor_down)

    def action_cursor_up(self) -> None:
        """One line up; where none is marked, back to where the list began."""
        self._step(super().action_cursor_up)

    def _step(self, one_line: Callable[[], None]) -> None:
        self._search_query = ""
        if self.highlighted is None:
            self.select(self.begun)
        else:
            one_line()


class AnswerSelect(Select[object]):
    """One of a list. Space or a letter opens it; Enter takes what stands or is offered, and opens it only where an
    answer is needed and there is none.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter", "enter", "Take", show=False, priority=True, id="list.enter", tooltip="Take or open the list"),
        Binding("space", "show_overlay", "Open", show=False, id="list.open", tooltip="Open the list"),
        Binding("tab,down", "move(1)", "Down", show=False, priority=True, id="list.down", tooltip="Next question"),
        Binding("shift+tab,up", "move(-1)", "Up", show=False, priority=True, id="list.up", tooltip="Question before"),
    ]

    class Opening(Message):
        """The list is about to open and wants room below."""

        def __init__(self, lines: int) -> None:
            super().__init__()
            self.lines = lines

    def __init__(self, answers: Sequence[Option], value: object, *, stands: bool = False) -> None:
        """``stands``: there is always an answer, and none cannot be chosen."""
        super().__init__(_lines(answers), prompt=CHOOSE, compact=True, value=value, allow_blank=not stands)
        self.answers = tuple(answers)
        self.offer: object = Select.NULL
        """The value that Enter takes while nothing is chosen."""
        self.needed = False
        """Whether the plan cannot do without an answer."""
        self.stands = stands

    def compose(self) -> ComposeResult:
        """The answer, and the list that opens."""
        yield SelectCurrent(self.prompt)
        yield AnswerList().data_bind(compact=Select.compact)

    def list_answers(self, answers: Sequence[Option]) -> None:
        """Other answers to choose from: another table of sizes, another yarn."""
        self.answers = tuple(answers)
        self.set_options(_lines(answers))

    def on_key(self, event: events.Key) -> None:
        """A letter on a closed list opens it and looks for what is typed; so do those that come before it is open."""
        if not event.is_printable or (event.character == " " and not self.expanded):
            return
        event.stop()
        if not self.expanded:
            self.action_show_overlay()
        self.query_one(OptionList).post_message(events.Key(event.key, event.character))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """In an open list the arrows move inside it."""
        return not (action == "move" and self.expanded)

    def action_show_overlay(self) -> None:
        """Open the list at what is chosen, else at its first answer and not at the line for none above it."""
        self.post_message(self.Opening(len(self._options) + FRAME))
        listed = self.query_one(AnswerList)
        listed.can_focus = True
        super().action_show_overlay()
        chosen = next((i for i, (_, value) in enumerate(self._options) if value == self.value), 0)
        if not self.stands and listed.option_count > 1:
            listed.replace_option_prompt_at_index(0, Text(NO_ANSWER))
            chosen = max(1, chosen)
        listed.highlighted = listed.begun = chosen

    async def action_enter(self) -> None:
        """Choose what is marked in the open list, take the offer, open the list where it must be, or go on."""
        await settled(self)  # letters typed before may be about to open it
        if self.expanded:
            listed = self.query_one(OptionList)
            await settled(listed)
            index = listed.highlighted
            if index is None:  # nothing fits what was typed, and the line below says so
                return
            with self.prevent(Select.Changed):
                self.value = self._options[index][1]
                if isinstance(self.parent, Row):
                    self.parent.touched = True
            self.screen.set_focus(self, scroll_visible=False)
            await settled(listed)  # it must know that the focus is gone before it is hidden, or it drops the next one
            self.expanded = False
            listed.can_focus = False  # the focus that opening asked for may still be under way
            await leave(self, 1, enter=True)
        elif self.is_blank() and self.offer is not Select.NULL:
            with self.prevent(Select.Changed):
                self.value = self.offer
            if isinstance(self.parent, Row):
                self.parent.touched = True
            await leave(self, 1, enter=True)
        elif self.is_blank() and self.needed:
            self.action_show_overlay()
        else:
            await leave(self, 1, enter=True)

    async def action_move(self, direction: int) -> None:
        """Go to the next or the last question."""
        await leave(self, direction)


def _lines(answers: Sequence[Option]) -> list[tuple[Text, object]]:
    return [(Text(o.label), o.value) for o in answers]  # Text: never markup


async def settled(widget: Widget) -> None:
    """Wait until a widget has worked off the keys that were typed before."""
    from asyncio import Event, wait_for

    done = Event()
    if widget.call_later(done.set):
        try:
            await wait_for(done.wait(), 1.0)
        except TimeoutError:  # a widget that is going away
            return


async def leave(control: Widget, direction: int, *, enter: bool = False) -> None:
    """Let the form take what stands in a control and move on."""
    await settled(control)
    row, form = control.parent, next((a for a in control.ancestors if a.id == "form"), None)
    if isinstance(row, Row) and form is not None and hasattr(form, "leave"):
        await form.leave(row, direction, enter=enter)
