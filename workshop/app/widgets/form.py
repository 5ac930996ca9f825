"""The form of a step: groups of questions that follow the project, and the buttons that add to it."""

from collections.abc import Callable, Mapping, Sequence

from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button, Label, Static

from workshop.app.widgets.field import FieldRow
from workshop.core.plan import Plan
from workshop.project import Project
from workshop.questions import Field, Group
from workshop.words.phrase import in_terms

Buttons = Callable[[Group | None], list[tuple[str, str]]]
"""Buttons as (action, label): of a group, or of the whole form where the group is None."""


def offer_text(field: Field, plan: Plan) -> str:
    """The offered answer of a question as it would be typed; empty where none is offered."""
    value = plan.offers.get(field.key)
    return "" if value is None else field.question.kind.show(value, plan.project)


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


class Form(VerticalScroll, can_focus=False):
    """All questions of a step. What is asked follows the project; what stays keeps its focus and its text."""

    def __init__(
        self, about: str, groups: Sequence[Group], project: Project, drafts: Mapping[str, str], buttons: Buttons
    ) -> None:
        super().__init__(id="form")
        self.rows: dict[str, FieldRow] = {}
        self._boxes: dict[str, GroupBox] = {}
        self._about = Static(Content(in_terms(about, project.terms)), id="about")
        self._groups, self._project, self._drafts, self._buttons = groups, project, drafts, buttons

    def compose(self) -> ComposeResult:
        yield self._about
        for group in self._groups:
            yield self._new_box(group)
        yield from self._made(None)

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
        before: Widget = self._about
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
            last = row
        await self._follow_buttons(box, group)
        return box

    async def _follow_buttons(self, parent: Widget, group: Group | None) -> None:
        """Buttons are made anew when what they say has changed."""
        old = [b for b in parent.children if isinstance(b, Button)]
        if [(b.name, str(b.label)) for b in old] == self._buttons(group):
            return
        for button in old:
            await button.remove()
        await parent.mount(*self._made(group))

    def _new_box(self, group: Group) -> GroupBox:
        rows = [self._new_row(f) for f in group.fields]
        box = GroupBox(in_terms(group.title, self._project.terms), rows, self._made(group))
        self._boxes[_name(group)] = box
        return box

    def _new_row(self, field: Field) -> FieldRow:
        row = FieldRow(field, self._project, self._drafts.get(field.key))
        self.rows[field.key] = row
        return row

    def _made(self, group: Group | None) -> list[Button]:
        return [Button(Content(label), name=action, compact=True) for action, label in self._buttons(group)]

    def show(self, plan: Plan) -> None:
        """Show the answers and offers of a plan."""
        for group in self._groups:
            for field in group.fields:
                row = self.rows.get(field.key)
                if row is not None:
                    row.show(field, plan.project, offer_text(field, plan))

    # ── focus ────────────────────────────────────────────────────────────────────────────────────────

    @property
    def focused_row(self) -> FieldRow | None:
        """The question that has the focus."""
        return next((r for r in self.rows.values() if r.has_focus_within), None)

    def begin(self) -> None:
        """Focus the first needed question without an answer, else the first one, else a button."""
        rows = list(self.rows.values())
        wanted = next((r for r in rows if r.field.needed and not r.field.shown(self._project)), None)
        if wanted is None and rows:
            wanted = rows[0]
        control: Widget | None = wanted.control if wanted else next(iter(self.query(Button)), None)
        if control is not None:
            control.focus()

    def reveal(self, row: FieldRow) -> None:
        """Scroll so that the question is seen whole, and for the first of a group its heading too."""
        if not row.is_mounted:
            return
        if row is next(iter(self.rows.values()), None):
            self.scroll_home(animate=False)
            return
        box = row.parent
        if isinstance(box, GroupBox) and next(iter(box.query(FieldRow)), None) is row:
            if not (self.region.contains_region(box.heading.region) and self.region.contains_region(row.region)):
                self.scroll_to_widget(box.heading, animate=False, top=True)
            return
        self.scroll_to_widget(row, animate=False)


def _name(group: Group) -> str:
    return group.name or group.title
