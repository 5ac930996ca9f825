"""The form of a step: all its questions drawn by one widget, and one field that goes to the question at hand."""

from collections.abc import Collection, Sequence
from time import monotonic
from typing import ClassVar, Protocol

from rich.cells import cell_len, set_cell_size
from rich.segment import Segment
from rich.text import Text
from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.geometry import Region, Size
from textual.strip import Strip
from textual.widgets import OptionList
from textual.widgets.input import Selection
from textual.widgets.option_list import Option as Line

from workshop.app.keys import hidden
from workshop.app.screens.room import NORMAL
from workshop.app.widgets.in_order import LineInput, OwnKeys, settled
from workshop.app.widgets.lists import HERE, Ended
from workshop.app.widgets.rows import BLANK, FormLine, Row, Stop, lay_out
from workshop.core.plan import Plan
from workshop.progress import asked_for
from workshop.questions import Group
from workshop.questions.actions import Action
from workshop.questions.kinds import meant
from workshop.words.phrase import in_terms_of

NO_ANSWER = "– no answer –"
"""The line of an open list that takes an answer back."""

LABEL = 20
"""Columns of a label that stands beside its answer."""

FOOT, NARROW_FOOT = 10, 4
"""Lines below the last question, so that its list can open without covering what stands below the form."""

FRAME = 1
"""Lines that the frame of an open list takes below its answers."""

SEARCH_S, MISSED_S = 1.5, 0.6
"""Letters typed to find an answer belong together for so long: slow hands type words too. Once nothing fits, only what
is typed in one go belongs together: a letter after a glance at the screen begins a new search.
"""


class Asker(Protocol):
    """What a form needs from its screen."""

    async def leave(self, row: Row, direction: int, *, enter: bool) -> None:
        """A question is left by a key: take what was typed or chosen, and move on."""

    def take(self, row: Row) -> None:
        """An answer was given otherwise: by mouse, or the focus has gone."""

    def preview(self, row: Row) -> None:
        """Text has changed; nothing is accepted yet."""

    def reach(self, stop: Stop) -> None:
        """The focus has come to a question or a button."""

    def seek(self, typed: str, *, found: bool) -> None:
        """Letters were typed to find an answer of an open list."""

    async def press(self, action: Action) -> None:
        """A button was pressed."""

    def listing(self, *, open: bool) -> None:
        """A list has opened, or the one that was open has closed."""


class AnswerInput(LineInput):
    """The field of the question at hand. Its text is selected on arrival, so that typing replaces it.

    Keys that leave the question come before all others and are done when they return: what is typed after
    them, however fast, goes to the next question.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        hidden("field.enter", "enter", "leave(1, True)", "Take", "Keep the answer and go on", first=True),
        hidden("field.down", "tab,down", "leave(1)", "Down", "Next question", first=True),
        hidden("field.all", "ctrl+a", "select_all", "All", "Select the whole answer"),
        hidden("field.up", "shift+tab,up", "leave(-1)", "Up", "Previous question", first=True),
        hidden("panel.field_up", "pageup", "screen.turn(-1)", "Panel up", "Scroll the panel up"),
        hidden("panel.field_down", "pagedown", "screen.turn(1)", "Panel down", "Scroll the panel down"),
    ]

    def __init__(self, form: "Form") -> None:
        super().__init__(compact=True, select_on_focus=False)
        self._form = form

    def on_key(self, event: events.Key) -> None:
        """A space before any answer is none: it leaves what stands there."""
        if event.key == "space" and self.selected_text == self.value:
            event.prevent_default()

    async def action_leave(self, direction: int, enter: bool = False) -> None:
        """Take the answer if one was typed, and go to the next or the last question."""
        await settled(self)
        await self._form.leave(direction, enter=enter)


class AnswerList(Ended):
    """An open list. Typed letters look for the answer that they mean, by any of its names.

    Where none does, no line is marked and Enter takes none: what was typed was meant for another question.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        hidden("list.take", "enter", "take", "Take", "Choose the marked line", first=True),
        hidden("list.close", "escape", "close", "Close", "Keep the answer as it was"),
        hidden("list.delete", "backspace", "forget", "Forget", "Forget the letters typed to find an answer"),
        hidden("panel.list_up", "pageup", "screen.turn(-1)", "Panel up", "Scroll the panel up"),
        hidden("panel.list_down", "pagedown", "screen.turn(1)", "Panel down", "Scroll the panel down"),
    ]

    def __init__(self, form: "Form", row: Row) -> None:
        none = [] if row.field.question.always_answered or not row.options else [None]
        self.answers = [*none, *row.options]
        """The answers of its lines; the first may be none."""
        lines = (Line(Text(o.label if o else NO_ANSWER)) for o in self.answers)  # Text: never markup
        super().__init__(*lines, compact=True)
        self._form, self.row = form, row
        self._typed, self._typed_at = "", 0.0
        marked = (i for i, o in enumerate(self.answers) if o and row.begins_with(o))
        self.begun = next(marked, len(none))
        """The line that was marked when the list opened."""

    def on_resize(self) -> None:
        """As high as its answers need at this width."""
        self._form.make_room()

    def on_mount(self) -> None:
        """Open at what is chosen, else at what is offered, else at the first answer and not at the line for none."""
        self.highlighted = self.begun

    def on_key(self, event: events.Key) -> None:
        """Look for what is typed; the mark goes where nothing is called so, and the screen is told."""
        if not event.is_printable or event.character is None:
            return
        event.stop()
        now, missed = monotonic(), self.highlighted is None
        begun = self._typed if now - self._typed_at < (MISSED_S if missed else SEARCH_S) else ""
        self._typed, self._typed_at = begun + event.character, now
        found = meant([o for o in self.answers if o], self._typed)
        if found is not None:
            self.highlighted = found + self.answers.count(None)
        elif self._typed.strip():
            self.highlighted = None
        self._form.asker.seek(self._typed.strip(), found=self.highlighted is not None)

    def action_forget(self) -> None:
        """What was typed is gone; where it had no answer, back to where the list began."""
        self._typed = ""
        if self.highlighted is None:
            self.highlighted = self.begun
        self._form.asker.seek("", found=True)

    def action_cursor_down(self) -> None:
        """One line down; where none is marked, back to where the list began."""
        self._typed = ""
        if self.highlighted is None:
            self.highlighted = self.begun
        else:
            super().action_cursor_down()

    def action_cursor_up(self) -> None:
        """One line up; where none is marked, back to where the list began."""
        self._typed = ""
        if self.highlighted is None:
            self.highlighted = self.begun
        else:
            super().action_cursor_up()

    async def move(self, direction: int) -> None:
        """A line down or up, by a key that was typed before the list had the focus."""
        await settled(self)
        (self.action_cursor_down if direction > 0 else self.action_cursor_up)()

    async def action_take(self) -> None:
        """Take what is marked and go on; nothing where nothing fits what was typed: the line below says so."""
        await settled(self)
        if self.highlighted is not None and self.row.is_choice:
            self._form.choose(self.row, self.answers[self.highlighted])
            await self._form.leave(1, enter=True)

    def action_close(self) -> None:
        """As it was, and its question in sight."""
        self._form.close_list()
        self._form.asker.reach(self.row)
        self._form.reveal(self.row)

    @on(OptionList.OptionSelected)
    def choose(self, event: OptionList.OptionSelected) -> None:
        """A choice by mouse is an answer at once."""
        event.stop()
        self._form.choose(self.row, self.answers[event.option_index])
        self._form.asker.reach(self.row)
        self._form.asker.take(self.row)

    def on_blur(self) -> None:
        """It closes when the focus goes elsewhere."""
        self._form.close_list(self)


class Sheet(OwnKeys, can_focus=True):
    """All lines of the form; has the focus where it is at a list or a button."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "form--about", "form--heading", "form--label", "form--value", "form--blank", "form--list", "form--here",
        "form--open", "form--fault", "form--button", "form--pressed",
    }  # fmt: skip

    BINDINGS: ClassVar[list[BindingType]] = [
        hidden("list.enter", "enter", "enter", "Take", "Keep the answer, or open the list", first=True),
        hidden("list.open", "space", "open", "Open", "Open the list"),
        hidden("list.down", "tab,down", "leave(1)", "Down", "Next question", first=True),
        hidden("list.up", "shift+tab,up", "leave(-1)", "Up", "Previous question", first=True),
    ]

    def __init__(self, form: "Form") -> None:
        super().__init__()
        self._form = form
        self.lines: list[FormLine] = []

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """One row for each line."""
        return len(self.lines)

    def render_line(self, y: int) -> Strip:
        """One line of the form."""
        width = self.size.width
        line = self.lines[y] if y < len(self.lines) else BLANK
        return Strip(self._segments(line, width)).adjust_cell_length(width, self.rich_style)

    def _segments(self, line: FormLine, width: int) -> list[Segment]:
        style = self.get_component_rich_style
        mark = HERE if line.stop is not None and line.stop is self._form.here and self._form.has_focus_within else " "
        match line.part, line.stop:
            case "beside", Row() as row:
                label = Segment(set_cell_size(f"{mark}{line.text}", LABEL), style("form--label"))
                return [label, *self._answer(row, width - LABEL, 1)]
            case "answer", Row() as row:
                return [Segment(" ", self.rich_style), *self._answer(row, width - 1, 0)]
            case "label", _:
                return [Segment(f"{mark}{line.text}", style("form--label"))]
            case "button", _:
                part = "form--pressed" if mark == HERE else "form--button"
                return [Segment(" ", self.rich_style), Segment(f" {mark}{line.text} ", style(part))]
            case "fault", _:
                return [Segment(f" {line.text}", style("form--fault"))]
            case part, _:
                return [Segment(line.text, style(f"form--{part}") if line.text else self.rich_style)]

    def _answer(self, row: Row, width: int, after: int) -> list[Segment]:
        """What stands in an answer; a list has its arrow, and so many columns behind it."""
        style = self.get_component_rich_style
        if not row.is_choice:
            return [
                Segment(
                    set_cell_size(row.text or row.blank, width), style("form--value" if row.text else "form--blank")
                )
            ]
        here = row is self._form.here
        room = max(1, width - 2 - after)
        text = row.shown or row.blank
        if cell_len(text) > room:
            text = set_cell_size(text, room - 1).rstrip() + "…"
        arrow = " ▲" if here and self._form.listed is not None else " ▼"
        ground = style("form--here" if here else "form--list")
        told = ground if row.text else style("form--open")
        return [Segment(set_cell_size(text, room), told), Segment(arrow + " " * after, ground)]

    # ── keys and mouse ───────────────────────────────────────────────────────────────────────────────

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Only a list opens."""
        return action != "open" or isinstance(self._form.here, Row)

    def on_key(self, event: events.Key) -> None:
        """A letter on a closed list opens it and looks for what is typed."""
        if event.is_printable and event.character != " " and isinstance(self._form.here, Row):
            event.stop()
            self._form.open_list().post_message(events.Key(event.key, event.character))

    def action_open(self) -> None:
        """Open the list at hand."""
        self._form.open_list()

    async def action_leave(self, direction: int) -> None:
        """To the next or the last question or button; in a list that a key before this one has opened, to a line."""
        await settled(self)
        if self._form.listed is not None:
            await self._form.listed.move(direction)
            return
        await self._form.leave(direction)

    async def action_enter(self) -> None:
        """Press the button, take the offer, open the list where it must be, or go on."""
        await settled(self)  # letters typed before may be about to open the list
        if self._form.listed is not None:
            await self._form.listed.action_take()
            return
        at = self._form.here
        if isinstance(at, Action):
            await self._form.asker.press(at)
        elif at is not None and at.needed and not at.text and not at.offer:
            self._form.open_list()
        else:
            await self._form.leave(1, enter=True)

    async def on_click(self, event: events.Click) -> None:
        """To the question that was clicked on; its list opens, a button is pressed."""
        line = self.lines[event.y] if event.y < len(self.lines) else BLANK
        if line.stop is None or line.part == "fault":
            return
        if isinstance(line.stop, Action):
            self._form.to(line.stop)
            await self._form.asker.press(line.stop)
            return
        self._form.to(line.stop)
        if line.stop.is_choice and (line.part == "answer" or (line.part == "beside" and event.x >= LABEL)):
            self._form.open_list()


class Form(VerticalScroll, can_focus=False, inherit_bindings=False):
    """All questions of a step. What is asked follows the project; what stays keeps its focus and its text.

    It scrolls with the focus; the page keys are the panel's.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        hidden("form.up", "up", "step(-1)", "Up", "Previous question or button"),
        hidden("form.down", "down", "step(1)", "Down", "Next question or button"),
        hidden("form.group_up", "f7,ctrl+up", "group(-1)", "Group before", "Previous group of questions"),
        hidden(
            "form.group_down",
            "f8,ctrl+down",
            "group(1)",
            "Next group",
            "Next group of questions, such as the next swatch",
        ),
    ]

    def __init__(self, asker: Asker) -> None:
        super().__init__(id="form")
        self.asker = asker
        self.rows: dict[str, Row] = {}
        self.here: Stop | None = None
        """Where the focus is."""
        self.listed: AnswerList | None = None
        """The list that is open."""
        self._about = ""
        self._groups: Sequence[Group] = ()
        self._buttons: Sequence[Action] = ()
        self._sheet, self._editor = Sheet(self), AnswerInput(self)

    def compose(self) -> ComposeResult:
        yield self._sheet
        yield self._editor

    def on_mount(self) -> None:
        """Hear of each change of the text at once, not by a message that may come late."""
        self.watch(self._editor, "value", self._typed, init=False)

    # ── what is asked ────────────────────────────────────────────────────────────────────────────────

    def begin(self, about: str) -> None:
        """Another step: nothing of the last one stays."""
        self._about, self.rows, self.here = about, {}, None
        self.close_list()
        self.scroll_to(y=0, animate=False, immediate=True)  # while it can be: few lines cannot be scrolled

    def follow(self, groups: Sequence[Group], buttons: Sequence[Action], plan: Plan, missing: Collection[str]) -> None:
        """Ask what is asked now, and show the answers and offers of a plan; what stays keeps its text."""
        project, old = plan.project, self.rows
        self._groups = [Group(in_terms_of(g.title, project), g.fields, g.name) for g in groups]
        self.rows = {f.key: old.get(f.key) or Row(f, project) for g in groups for f in g.fields}
        for group in groups:
            for field in group.fields:
                self.rows[field.key].show(field, plan, needed=field.needed or asked_for(field.key, missing))
        self._buttons = buttons
        if isinstance(self.here, Action):
            self.here = next((b for b in buttons if b.name == self.here.name), None)
        elif self.here is not None and self.here.field.key not in self.rows:
            self.here = None
        self.lay_out()

    def lay_out(self) -> None:
        """All lines laid out again, for the width there is."""
        width = self._sheet.size.width or self.size.width - 2
        if width <= 0:
            return
        lines = [*lay_out(self._about, self._groups, self.rows, self._buttons, width)]
        lines += [BLANK] * (NARROW_FOOT if self.app.size.width < NORMAL else FOOT)
        moved = len(lines) != len(self._sheet.lines)
        self._sheet.lines = lines
        self._sheet.refresh(layout=moved)
        if moved:
            self._stretch(len(lines))
        self._bring_editor()

    def _stretch(self, lines: int) -> None:
        """As high as it will be once it is laid out, so that it can be scrolled before it is painted."""
        self.virtual_size = Size(self.virtual_size.width, lines)
        self.show_vertical_scrollbar = lines > self.container_size.height
        if self.show_vertical_scrollbar:
            self.vertical_scrollbar.window_virtual_size = lines
            self.vertical_scrollbar.window_size = self.container_size.height

    def on_resize(self) -> None:
        """Other lines for another width."""
        self.lay_out()
        self.call_after_refresh(self._sheet.refresh, layout=True)  # what is asked for while sizes change is not heard
        self._place_list()
        if self.here is not None:  # where the form was hidden it could not be scrolled
            self.reveal(self.here)
        self.make_room()

    # ── the field at hand ────────────────────────────────────────────────────────────────────────────

    def _bring_editor(self) -> None:
        """The field to where the question at hand is answered."""
        row, editor = self.here, self._editor
        if not isinstance(row, Row) or row.is_choice or row.field.key not in self.rows:
            editor.display = False
            return
        line = next((y for y, x in enumerate(self._sheet.lines) if x.stop is row and x.part in ("beside", "answer")), 0)
        left = LABEL if row.beside else 1
        editor.styles.offset = (left, line)
        editor.styles.width = max(1, self._sheet.size.width - left)
        if editor.value != row.text:
            editor.value = row.text
            if not row.touched:
                editor.cursor_position = len(row.text)
        if editor.placeholder != row.blank:
            editor.placeholder = row.blank
        editor.display = True

    def _typed(self, text: str) -> None:
        """Something stands in the field that was not put there."""
        if isinstance(self.here, Row) and not self.here.is_choice and text != self.here.text:
            wrong = self.here.wrong
            self.here.typed(text)
            if wrong:
                self.lay_out()
            self.asker.preview(self.here)

    async def leave(self, direction: int, *, enter: bool = False) -> None:
        """A stop is left by a key: the screen takes what stands in it."""
        if isinstance(self.here, Row):
            await self.asker.leave(self.here, direction, enter=enter)
        else:
            self.go(direction, fields_only=False)

    def on_descendant_blur(self) -> None:
        """The focus goes elsewhere: what was typed is the answer."""
        if isinstance(self.here, Row) and self.here.touched and not self.here.is_choice and not self.has_focus_within:
            self.asker.take(self.here)

    def refuse(self, row: Row, why: str) -> None:
        """Say below an answer why it was not taken. Typing starts afresh; its beginning is what is seen."""
        row.refuse(why)
        self.lay_out()
        if row is self.here and not row.is_choice:
            self._editor.selection = Selection(len(row.text), 0)
        self.call_after_refresh(self.reveal, row)

    # ── lists ────────────────────────────────────────────────────────────────────────────────────────

    def open_list(self) -> AnswerList:
        """Open the list of the question at hand; where it would reach over the foot of the form, it goes up first."""
        row = self.here
        assert isinstance(row, Row)
        if self.listed is not None:
            return self.listed
        self.listed = listed = AnswerList(self, row)
        top, bottom = self._span(row)
        if bottom - self.scroll_offset.y + len(listed.answers) + FRAME > self.size.height:
            self.scroll_to(y=top, animate=False)
        self._place_list()
        if self.is_attached:  # and the window is not just closing
            self.mount(listed)
            self.screen.set_focus(listed, scroll_visible=False)
        self._sheet.refresh()
        self.asker.listing(open=True)
        self.asker.reach(row)
        return listed

    def make_room(self) -> None:
        """Where the open list reaches over the foot of the form, as it now is, its question goes to the top."""
        if self.listed is not None:
            top, bottom = self._span(self.listed.row)
            if bottom - self.scroll_offset.y + self.listed.outer_size.height > self.size.height:
                self.scroll_to(y=top, animate=False, immediate=True)

    def _place_list(self) -> None:
        """The open list below its question, as wide as the answers are."""
        if self.listed is not None:
            left = LABEL if self.listed.row.beside else 0
            self.listed.styles.offset = (left, self._span(self.listed.row)[1])
            self.listed.styles.width = self._sheet.size.width - left

    def close_list(self, only: AnswerList | None = None) -> None:
        """Close the open list; with ``only`` no other than this one."""
        listed = self.listed
        if listed is None or (only is not None and only is not listed):
            return
        self.listed = None
        if listed.has_focus:
            self.screen.set_focus(self._sheet, scroll_visible=False)
        listed.remove()
        self._sheet.refresh()
        self.asker.listing(open=False)

    def choose(self, row: Row, answer: object) -> None:
        """An answer of the open list was chosen; None takes the answer back."""
        row.typed("" if answer is None else str(getattr(answer, "value", "")))
        self.close_list()

    # ── focus ────────────────────────────────────────────────────────────────────────────────────────

    @property
    def stops(self) -> list[Stop]:
        """All that the focus can come to, in order."""
        return list(dict.fromkeys(x.stop for x in self._sheet.lines if x.stop is not None))

    @property
    def focused_row(self) -> Row | None:
        """The question that has the focus."""
        return self.here if isinstance(self.here, Row) else None

    @property
    def under_cursor(self) -> tuple[str, int]:
        """The text of the field at hand and the place of its cursor; of an open list its marked line."""
        if self.listed is not None:
            marked = self.listed.answers[self.listed.highlighted] if self.listed.highlighted is not None else None
            return (marked.label if marked else ""), 0
        return (self._editor.value, self._editor.cursor_position) if self._editor.display else ("", 0)

    def to(self, stop: Stop) -> None:
        """The focus to a question or a button; what was typed elsewhere is taken."""
        self.close_list()
        last = self.here
        if isinstance(last, Row) and last is not stop and last.touched:
            self.asker.take(last)
        self.here = stop
        self._bring_editor()
        self._sheet.refresh(*self._regions(last, stop))
        if isinstance(stop, Row) and not stop.is_choice:
            self._editor.selection = Selection(len(stop.text), 0) if stop.wrong else Selection(0, len(stop.text))
            self.screen.set_focus(self._editor, scroll_visible=False)
        else:
            self.screen.set_focus(self._sheet, scroll_visible=False)
        self.reveal(stop)
        self.asker.reach(stop)

    def start(self, wanted: Collection[str], at: str | None = None) -> None:
        """Focus the question named, else the first that is wanted, else the first, else a button."""
        rows = list(self.rows.values())
        first = self.rows.get(at or "")
        first = first or next((r for r in rows if asked_for(r.field.key, wanted)), rows[0] if rows else None)
        stop = first or next(iter(self._buttons), None)
        if stop is not None:
            self.to(stop)

    @property
    def has_buttons_below(self) -> bool:
        """Whether there is a button after where the focus is."""
        stops = self.stops
        return self.here in stops and any(isinstance(s, Action) for s in stops[stops.index(self.here) + 1 :])

    def go(self, direction: int, *, fields_only: bool) -> bool:
        """Move the focus to the next or the last question or button. Gives whether there was one.

        With ``fields_only`` it passes the buttons and the empty places that nobody asks for.
        """
        stops = [s for s in self.stops if s is self.here or not fields_only or (isinstance(s, Row) and not s.passed)]
        if self.here not in stops:
            return False
        there = stops.index(self.here) + direction
        if not 0 <= there < len(stops):
            return False
        self.to(stops[there])
        return True

    def passed_after(self, row: Row) -> Row | None:
        """The question right below one, where Enter passes that."""
        below = self.stops[self.stops.index(row) + 1 :] if row in self.stops else []
        return below[0] if below and isinstance(below[0], Row) and below[0].passed else None

    def action_step(self, direction: int) -> None:
        """Up and down, from a button."""
        self.go(direction, fields_only=False)

    def action_group(self, direction: int) -> None:
        """To the first question of another group."""
        groups = [[f.key for f in g.fields] for g in self._groups if g.fields]
        at = self.here.field.key if isinstance(self.here, Row) else ""
        here = next((i for i, keys in enumerate(groups) if at in keys), None)
        if here is not None and 0 <= here + direction < len(groups):
            self.to(self.rows[groups[here + direction][0]])

    # ── where things are ─────────────────────────────────────────────────────────────────────────────

    def _span(self, stop: Stop) -> tuple[int, int]:
        """First line of a stop, and the line below its last."""
        mine = [y for y, x in enumerate(self._sheet.lines) if x.stop is stop]
        return (mine[0], mine[-1] + 1) if mine else (0, 0)

    def _regions(self, *stops: Stop | None) -> list[Region]:
        spans = [self._span(s) for s in stops if s is not None]
        return [Region(0, top, self._sheet.size.width, bottom - top) for top, bottom in spans if bottom > top]

    def region_of(self, stop: Stop) -> Region:
        """Where a stop is on the screen."""
        top, bottom = self._span(stop)
        return Region(
            self.region.x + 1, self.region.y + top - self.scroll_offset.y, self._sheet.size.width, bottom - top
        )

    def reveal(self, stop: Stop) -> None:
        """Scroll so that the question is seen whole, with what is wrong with it or the heading above it."""
        top, bottom = self._span(stop)
        if stop is next(iter(self.rows.values()), None) and isinstance(stop, Row) and not stop.wrong:
            self.scroll_to(y=0, animate=False, immediate=True)
            return
        first, last = self.scroll_offset.y, self.scroll_offset.y + self.size.height
        wrong = isinstance(stop, Row) and stop.wrong
        headed = top > 0 and self._sheet.lines[top - 1].part == "heading" and not wrong
        if headed and (top - 1 < first or bottom > last):
            self.scroll_to(y=top - 1, animate=False, immediate=True)
        elif top < first or bottom - top > self.size.height:
            self.scroll_to(y=top, animate=False, immediate=True)
        elif bottom > last:
            self.scroll_to(y=bottom - self.size.height, animate=False, immediate=True)
