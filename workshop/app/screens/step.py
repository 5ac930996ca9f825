"""What all six question screens share: the form, the panel beside it, and their keys."""

from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Button, Footer, Label, Static

from workshop.app.widgets.answers import AnswerPanel, LessonPanel
from workshop.app.widgets.field import FieldRow
from workshop.app.widgets.trail import Trail
from workshop.core.plan import Plan, plan
from workshop.lessons import BadLesson, lesson
from workshop.progress import progress
from workshop.project import Project
from workshop.questions import Group
from workshop.questions.steps import groups, step
from workshop.session import Session
from workshop.units import NotUnderstood
from workshop.words.answers import answers, step_workings
from workshop.words.phrase import in_terms

if TYPE_CHECKING:
    from workshop.app.app import WorkshopApp

FACES = {"answers": "What it means", "lesson": "Lesson", "working": "Working"}


class GroupBox(Vertical):
    """Fields under one heading, with the buttons that belong to it."""

    def __init__(self, group: Group) -> None:
        super().__init__()
        self.group = group
        self.name_in_form = group.name or group.title

    def compose(self) -> ComposeResult:
        yield Label(Content(self.group.title), classes="heading")


class StepScreen(Screen[None]):
    """A form on one side, its answers on the other. Subclasses name the step and what it can add."""

    STEP: ClassVar[str] = ""
    AUTO_FOCUS = "FieldRow Input, FieldRow Select, Button"
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (72, "-normal"), (110, "-wide")]
    VERTICAL_BREAKPOINTS = [(0, "-tiny"), (16, "-short"), (24, "-tall")]

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("pageup", "turn(-1)", "Up", show=False, id="panel.up", tooltip="Scroll the panel up"),
        Binding("pagedown", "turn(1)", "Down", show=False, id="panel.down", tooltip="Scroll the panel down"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.face = "answers"
        self._rows: dict[str, FieldRow] = {}
        self._boxes: dict[str, GroupBox] = {}

    # ── parts ────────────────────────────────────────────────────────────────────────────────────────

    @property
    def workshop(self) -> "WorkshopApp":
        """The app, by its own type."""
        from workshop.app.app import WorkshopApp

        assert isinstance(self.app, WorkshopApp)
        return self.app

    @property
    def session(self) -> Session:
        """The project at work."""
        return self.workshop.session

    def compose(self) -> ComposeResult:
        yield Static("", id="title-bar", markup=False)
        yield Trail("", id="trail", markup=False)
        with Horizontal(id="work"):
            with VerticalScroll(id="form", can_focus=False):
                yield Static(self._about(), id="about", markup=False)
            with Vertical(id="side"):
                yield Label(FACES["answers"], id="face", markup=False)
                yield AnswerPanel(id="answers")
                yield LessonPanel(id="lesson")
        yield Static("", id="hint", markup=False)
        yield Footer(show_command_palette=False, compact=True)

    def _about(self) -> str:
        return step(self.STEP).what

    def actions_for(self, group: Group | None) -> list[tuple[str, str]]:
        """Buttons as (action, label): of a group, or of the whole form where group is None."""
        return []

    def act(self, action: str) -> None:
        """Do what a button of this step says. Subclasses know their actions."""

    async def on_mount(self) -> None:
        await self._lay_out()
        self._refresh_all()
        self.call_after_refresh(self._place_focus)

    def on_resize(self) -> None:
        """A wide window has room for the lesson beside everything else."""
        self.call_after_refresh(self._follow_width)

    def _follow_width(self) -> None:
        if self.has_class("-wide"):
            self.query_one("#lesson", LessonPanel).show_text(self._lesson_text())
        self._show_bars(self.session.plan)

    def _place_focus(self) -> None:
        """To the first question without an answer, else to the first one."""
        if not self._rows:
            return
        rows = list(self._rows.values())
        open_rows = [r for r in rows if not r.field.shown(self.session.project)]
        wanted = next((r for r in open_rows if r.field.needed), rows[0])
        wanted.control.focus()

    # ── the form follows the project ─────────────────────────────────────────────────────────────────

    async def _lay_out(self) -> None:
        """Mount what is missing and remove what is not asked any more; what stays keeps its focus."""
        form = self.query_one("#form")
        wanted = groups(self.STEP, self.session.project)
        keys = {f.key for g in wanted for f in g.fields}
        for key in [k for k in self._rows if k not in keys]:
            await self._rows.pop(key).remove()
        names = {g.name or g.title for g in wanted}
        for name in [n for n in self._boxes if n not in names]:
            await self._boxes.pop(name).remove()
        before: Widget = form.query_one("#about")
        for group in wanted:
            box = await self._box(form, group, before)
            before = box
            await self._rows_of(box, group)
        await self._buttons(form, None)

    async def _box(self, form: Widget, group: Group, before: Widget) -> GroupBox:
        name = group.name or group.title
        box = self._boxes.get(name)
        if box is None:
            box = GroupBox(group)
            self._boxes[name] = box
            await form.mount(box, after=before)
            await self._buttons(box, group)
        else:
            box.group = group
            box.query_one(".heading", Label).update(Content(in_terms(group.title, self.session.project.terms)))
        return box

    async def _rows_of(self, box: GroupBox, group: Group) -> None:
        last: Widget = box.query_one(".heading")
        for field in group.fields:
            row = self._rows.get(field.key)
            if row is None:
                row = FieldRow(field, self.session.project, self.workshop.drafts.get(field.key))
                self._rows[field.key] = row
                await box.mount(row, after=last)
            last = row

    async def _buttons(self, parent: Widget, group: Group | None) -> None:
        """Buttons of a group, or below the form; made anew when what they say has changed."""
        wanted = self.actions_for(group)
        old = [b for b in parent.children if isinstance(b, Button)]
        if [(b.name, str(b.label)) for b in old] == [(name, label) for name, label in wanted]:
            return
        for button in old:
            await button.remove()
        for action, label in wanted:
            await parent.mount(Button(Content(label), name=action, compact=True))

    def _refresh_all(self) -> None:
        """Show the project as it is: rows, panel, title and steps."""
        project, now = self.session.project, self.session.plan
        for group in groups(self.STEP, project):
            for field in group.fields:
                row = self._rows.get(field.key)
                if row is not None:
                    row.show(field, project, self._offer(field.key, row, now))
        for key, row in self._rows.items():
            if key in self.workshop.drafts and not row.has_class("wrong") and not row.has_focus_within:
                self._check_draft(row)
        self._show_panel(now)
        self._show_bars(now)

    def _check_draft(self, row: FieldRow) -> None:
        """Text that was not taken the last time is still there, with what is wrong with it."""
        try:
            row.field.answered(self.session.project, self.workshop.drafts[row.field.key])
        except NotUnderstood as error:
            row.fault(self._not_taken(row, error))

    def _offer(self, key: str, row: FieldRow, now: Plan) -> str:
        value = now.offers.get(key)
        return row.field.question.kind.show(value, now.project) if value is not None else ""

    def _show_bars(self, now: Plan) -> None:
        saved = self.session.fault and f"NOT SAVED: {self.session.fault}"
        name = now.project.title or "A new jumper"
        self.query_one("#title-bar", Static).update(Content(f"{name}  ·  {saved}" if saved else name))
        self.query_one(Trail).show(progress(now), self.STEP, narrow=self.size.width < 80)

    def _show_panel(self, now: Plan) -> None:
        panel = self.query_one("#answers", AnswerPanel)
        if self.face == "working":
            lines = step_workings(self.STEP, now)
            panel.show_plain(lines or ("No number of this step has been worked out yet.",))
        else:
            panel.show_lines(answers(self.STEP, now))

    # ── answers ──────────────────────────────────────────────────────────────────────────────────────

    @on(FieldRow.Typed)
    def preview(self, event: FieldRow.Typed) -> None:
        """Show what the numbers would be; nothing is taken yet."""
        event.stop()
        field = event.row.field
        self.workshop.drafts[field.key] = event.text
        try:
            tried = field.answered(self.session.project, event.text)
        except NotUnderstood:
            return
        self._show_panel(plan(tried))

    @on(FieldRow.Entered)
    async def take(self, event: FieldRow.Entered) -> None:
        """Take an answer, save it, and show what follows; or say what is wrong with it."""
        event.stop()
        row = event.row
        if row.is_mounted and (event.text or row.field.shown(self.session.project)):
            if not self._taken(row, event.text):
                return
            await self._lay_out()
            self._refresh_all()
        if event.onward:
            self.focus_next("FieldRow Input, FieldRow SelectCurrent, FieldRow Select, Button")

    def _taken(self, row: FieldRow, text: str) -> bool:
        before = self.session.project
        try:
            self.session.answer(row.field, text)
        except NotUnderstood as error:
            row.fault(self._not_taken(row, error))
            self.workshop.drafts[row.field.key] = text
            return False
        self.workshop.drafts.pop(row.field.key, None)
        row.fault("")
        if self.session.fault and self.session.project != before:
            self.notify(f"Not saved: {self.session.fault}", severity="error", timeout=10, markup=False)
        return True

    def _not_taken(self, row: FieldRow, error: NotUnderstood) -> str:
        stays = row.field.shown(self.session.project)
        return f"{error}" + (f" (it stays {stays})" if stays else "")

    @on(FieldRow.Reached)
    def explain(self, event: FieldRow.Reached) -> None:
        """Say below how the question at hand is answered, and why it is asked."""
        event.stop()
        question = event.row.field.question
        text = f"{question.hint[:1].upper()}{question.hint[1:]}."
        if not self.has_class("-narrow"):
            text += f" {question.why}"
        self.query_one("#hint", Static).update(Content(in_terms(text, self.session.project.terms)))
        self.call_after_refresh(self._show_whole, event.row)

    def _show_whole(self, row: FieldRow) -> None:
        """Scroll so that the label, and for the first question of a group its heading, is in view."""
        if not row.is_mounted:
            return
        form = self.query_one("#form", VerticalScroll)
        if row is next(iter(self._rows.values()), None):
            form.scroll_home(animate=False)
            return
        box = row.parent
        first = isinstance(box, GroupBox) and next(iter(box.query(FieldRow)), None) is row
        if first and isinstance(box, GroupBox):
            form.scroll_to_widget(box.query_one(".heading"), animate=False)
        form.scroll_to_widget(row, animate=False)

    @on(Button.Pressed)
    async def press(self, event: Button.Pressed) -> None:
        """A button of the form."""
        event.stop()
        had = set(self._rows)
        self.act(event.button.name or "")
        await self.follow()
        new = [r for k, r in self._rows.items() if k not in had]
        if new:
            new[0].control.focus()

    async def follow(self) -> None:
        """The project has changed otherwise than by an answer: lay the form out again."""
        await self._lay_out()
        self._refresh_all()

    # ── keys ─────────────────────────────────────────────────────────────────────────────────────────

    def commit(self) -> None:
        """Take what is being typed, before the screen goes."""
        row = self._focused_row()
        if row is not None and not row.is_choice and row.text != row.field.shown(self.session.project):
            self._taken(row, row.text)

    def _focused_row(self) -> FieldRow | None:
        return next((r for r in self._rows.values() if r.has_focus_within), None)

    async def take_offer(self) -> None:
        """Take the offered answer of the question at hand."""
        row = self._focused_row()
        if row is None:
            return
        offer = self._offer(row.field.key, row, self.session.plan)
        if offer and not row.field.shown(self.session.project):
            self._taken(row, offer)
            await self.follow()
            self.focus_next("FieldRow Input, FieldRow Select, Button")
        else:
            self.notify("Nothing is offered for this question.", markup=False)

    async def take_all_offers(self) -> None:
        """Take every offered answer of this step that is still open, and say how many."""
        taken = 0
        while True:
            open_rows = [
                r
                for r in self._rows.values()
                if not r.field.shown(self.session.project)
                and self._offer(r.field.key, r, self.session.plan)
                and r.field.needed
            ]
            if not open_rows:
                break
            row = open_rows[0]
            if not self._taken(row, self._offer(row.field.key, row, self.session.plan)):
                break
            taken += 1
            await self.follow()
        self.notify(
            f"{taken} offered answers taken." if taken else "Nothing is offered here that is still open.", markup=False
        )

    def show_face(self, face: str) -> None:
        """Turn the side panel: answers, lesson or workings; asked twice, back to the answers."""
        if face == self.face and face != "answers":
            face = "answers"
        self.face = face
        self.set_class(face == "lesson", "lesson")
        self.query_one("#face", Label).update(Content(FACES[face]))
        if face == "lesson":
            self.query_one("#lesson", LessonPanel).show_text(self._lesson_text())
        self._show_panel(self.session.plan)

    def _lesson_text(self) -> str:
        try:
            found = lesson(self.STEP)
        except BadLesson as error:
            return f"# No lesson\n\n`{error}`"
        return in_terms(f"# {found.title}\n\n{found.text}", self.session.project.terms)

    def action_turn(self, pages: int) -> None:
        """Scroll the panel by a page."""
        panel: VerticalScroll = self.query_one("#lesson" if self.face == "lesson" else "#answers", VerticalScroll)
        panel.scroll_relative(y=pages * max(1, panel.size.height - 1), animate=False)

    def help_text(self) -> str:
        """Help for where the knitter stands."""
        row = self._focused_row()
        about = step(self.STEP)
        text = f"{about.title}: {about.what}"
        if row is not None:
            question = row.field.question
            text += (
                f"\n\n{row.field.label}\n{question.hint}.\nFor example: "
                f"{question.kind.example(self.session.project)}\nWhy: {question.why}"
            )
        return in_terms(text, self.session.project.terms)

    def on_screen_resume(self) -> None:
        """Back from a dialog: show what may have changed there."""
        if self._rows:
            self._refresh_all()


def letter(project: Project, group: Group | None) -> str:
    """The id in a group's name: ``yarn.a`` -> ``a``."""
    return group.name.split(".", 1)[1] if group and "." in group.name else ""
