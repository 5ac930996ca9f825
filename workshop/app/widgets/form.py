"""The form of a step: groups of questions that follow the project, and the buttons that add to it."""

from collections.abc import Awaitable, Callable, Collection, Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button, Label, Static

from workshop.app.widgets.control import AnswerSelect
from workshop.app.widgets.field import HERE, FieldRow
from workshop.core.plan import Plan
from workshop.progress import asked_for
from workshop.project import Project
from workshop.questions import Field, Group
from workshop.words.phrase import in_terms

Buttons = Callable[[Group | None], list[tuple[str, str]]]
"""Buttons as (action, label): of a group, or of the whole form where the group is None."""

Leave = Callable[[FieldRow, int, bool], Awaitable[None]]
"""What a screen does when a field is left: the row, the direction, and whether with Enter."""


class GroupBox(Vertical):
    """Fields under one heading, with the buttons that belong to them."""

    def __init__(self, title: str, rows: Sequence[FieldRow], buttons: Sequence[Button]) -> None:
        super().__init__()
        self.heading = Label(Content(title), classes="heading")
        self._first_rows, self._first_buttons = rows, buttons

    def compose(self) -> ComposeResult:
        yield self.heading
        yield from self._first_rows
        yield from self._first_buttons


class Form(VerticalScroll, can_focus=False, inherit_bindings=False):
    """All questions of a step. What is asked follows the project; what stays keeps its focus and its text.

    It scrolls with the focus; the page keys are the panel's.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "step(-1)", "Up", show=False, id="form.up", tooltip="Question or button before"),
        Binding("down", "step(1)", "Down", show=False, id="form.down", tooltip="Next question or button"),
        Binding(
            "f7,ctrl+up",
            "group(-1)",
            "Group before",
            show=False,
            id="form.group_up",
            tooltip="To the group of questions before",
        ),
        Binding(
            "f8,ctrl+down",
            "group(1)",
            "Next group",
            show=False,
            id="form.group_down",
            tooltip="To the next group of questions, for example the next swatch",
        ),
    ]

    def __init__(
        self,
        about: str,
        groups: Sequence[Group],
        project: Project,
        buttons: Buttons,
        leave: Leave,
        lead: Sequence[tuple[str, str]] = (),
    ) -> None:
        """``lead`` are buttons above all questions, as (action, label)."""
        super().__init__(id="form")
        self._lead = Vertical(*(_button(action, label) for action, label in lead), id="lead")
        self.rows: dict[str, FieldRow] = {}
        self._boxes: dict[str, GroupBox] = {}
        self._about = Static(Content(in_terms(about, project.terms)), id="about")
        self._groups, self._project, self._buttons, self._leave = groups, project, buttons, leave
        self._foot = Static("", id="form-foot")
        """Room below the last question, so that its list can open without covering what stands below the form."""

    def compose(self) -> ComposeResult:
        yield self._about
        yield self._lead
        for group in self._groups:
            yield self._new_box(group)
        yield from self._made(None)
        yield self._foot

    async def leave(self, row: FieldRow, direction: int, *, enter: bool) -> None:
        """A field is left: the screen takes what stands in it."""
        await self._leave(row, direction, enter)

    # ── following the project ────────────────────────────────────────────────────────────────────────

    async def follow(self, groups: Sequence[Group], project: Project) -> None:
        """Mount what is asked now and remove what is not asked any more."""
        self._groups, self._project = groups, project
        keys = {f.key for g in groups for f in g.fields}
        for key in [k for k in self.rows if k not in keys]:
            gone = self.rows.pop(key)
            gone.fault("")
            await gone.remove()
        names = {_name(g) for g in groups}
        for name in [n for n in self._boxes if n not in names]:
            await self._boxes.pop(name).remove()
        before: Widget = self._lead
        for group in groups:
            before = await self._follow_group(group, before)
        await self._follow_buttons(self, None)

    async def _follow_group(self, group: Group, before: Widget) -> GroupBox:
        box = self._boxes.get(_name(group))
        if box is None:
            box = self._new_box(group)
            await self.mount(box, after=before)
            return box
        box.heading.update(Content(in_terms(group.title, self._project.terms)))
        last: Widget = box.heading
        for field in group.fields:
            row = self.rows.get(field.key)
            if row is None:
                row = self._new_row(field)
                await box.mount(row, after=last)
            last = row.fault_line or row
        await self._follow_buttons(box, group)
        return box

    async def _follow_buttons(self, parent: Widget, group: Group | None) -> None:
        """Buttons are made anew when what they say has changed."""
        old = [b for b in parent.children if isinstance(b, FormButton)]
        if [(b.name, b.says) for b in old] == self._buttons(group):
            return
        for button in old:
            await button.remove()
        await parent.mount(*self._made(group), before=self._foot if parent is self else None)

    def _new_box(self, group: Group) -> GroupBox:
        rows = [self._new_row(f) for f in group.fields]
        box = GroupBox(in_terms(group.title, self._project.terms), rows, self._made(group))
        self._boxes[_name(group)] = box
        return box

    def _new_row(self, field: Field) -> FieldRow:
        row = FieldRow(field, self._project)
        self.rows[field.key] = row
        return row

    def _made(self, group: Group | None) -> list[Button]:
        return [_button(action, label) for action, label in self._buttons(group)]

    def show(self, plan: Plan, missing: Collection[str]) -> None:
        """Show the answers and offers of a plan, and which questions it still needs."""
        for group in self._groups:
            for field in group.fields:
                row = self.rows.get(field.key)
                if row is not None:
                    needed = field.needed or asked_for(field.key, missing)
                    row.show(field, plan, needed=needed)

    # ── focus ────────────────────────────────────────────────────────────────────────────────────────

    @property
    def focused_row(self) -> FieldRow | None:
        """The question that has the focus."""
        return next((r for r in self.rows.values() if r.has_focus_within), None)

    def begin(self, missing: Collection[str], at: str | None = None) -> None:
        """Focus the question named, else the first that is missing, else the first, else a button."""
        rows = self._in_order()
        wanted = next((r for r in rows if r.field.key == at), None)
        wanted = wanted or next((r for r in rows if asked_for(r.field.key, missing)), rows[0] if rows else None)
        control: Widget | None = wanted.control if wanted else next(iter(self.query(Button)), None)
        if control is not None:
            self.screen.set_focus(control, scroll_visible=False)

    def _in_order(self) -> list[FieldRow]:
        return list(self.query(FieldRow))

    def go(self, direction: int, *, fields_only: bool, look: bool = False) -> bool:
        """Move the focus to the next or the last question or button. Gives whether there was one.

        With ``fields_only`` it passes the buttons and the empty places that nobody asks for; with ``look`` it only
        says whether there is one.
        """
        kinds = (FieldRow,) if fields_only else (FieldRow, Button)
        stops = [w for w in self.walk_children() if isinstance(w, kinds)]
        if fields_only:
            stops = [w for w in stops if w.has_focus_within or not (isinstance(w, FieldRow) and w.passed)]
        here = next((i for i, w in enumerate(stops) if w.has_focus_within or w.has_focus), None)
        if here is None or not 0 <= here + direction < len(stops):
            return False
        if look:
            return True
        there = stops[here + direction]
        self.screen.set_focus(there.control if isinstance(there, FieldRow) else there)
        return True

    def action_step(self, direction: int) -> None:
        """Up and down, from a button."""
        self.go(direction, fields_only=False)

    def action_group(self, direction: int) -> None:
        """To the first question of another group."""
        boxes = [b for b in self._boxes.values() if b.query(FieldRow)]
        boxes.sort(key=lambda b: self.children.index(b))
        here = next((i for i, b in enumerate(boxes) if b.has_focus_within), None)
        if here is not None and 0 <= here + direction < len(boxes):
            self.screen.set_focus(boxes[here + direction].query(FieldRow).first().control)

    @on(AnswerSelect.Opening)
    def make_room(self, event: AnswerSelect.Opening) -> None:
        """A list that would reach over the foot of the form is moved up first."""
        event.stop()
        row = self.focused_row
        if row is not None and row.region.bottom + event.lines > self.region.bottom:
            self.scroll_to_widget(row, animate=False, top=True)

    def reveal(self, row: FieldRow) -> None:
        """Scroll so that the question is seen whole, with what is wrong with it or the heading above it."""
        if not row.is_mounted:
            return
        if row is next(iter(self._in_order()), None) and not row.wrong:
            self.scroll_home(animate=False)
            return
        fault = row.fault_line
        if fault is not None and fault.is_mounted:
            self.scroll_to_widget(fault, animate=False)
        box = row.parent
        if fault is None and isinstance(box, GroupBox) and box.query(FieldRow).first() is row:
            if not (self.region.contains_region(box.heading.region) and self.region.contains_region(row.region)):
                self.scroll_to_widget(box.heading, animate=False, top=True)
            return
        self.scroll_to_widget(row, animate=False)


class FormButton(Button):
    """A button of a form, with a sign before it while it has the focus."""

    def __init__(self, action: str, label: str) -> None:
        super().__init__(Content(f" {label}"), name=action, compact=True)
        self.says = label
        """What stands on it, without the sign."""

    def on_focus(self) -> None:
        """Seen without colour too."""
        self.label = Content(f"{HERE}{self.says}")

    def on_blur(self) -> None:
        """Left."""
        self.label = Content(f" {self.says}")


def _button(action: str, label: str) -> FormButton:
    return FormButton(action, label)


def _name(group: Group) -> str:
    return group.name or group.title
