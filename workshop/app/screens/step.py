"""What all six question screens share: the form, the panel beside it, and their keys."""

from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Button, Footer, Label, Static

from workshop.app.widgets.answers import AnswerPanel, LessonPanel, lesson_text
from workshop.app.widgets.field import FieldRow
from workshop.app.widgets.form import Form, offer_text
from workshop.app.widgets.trail import Trail
from workshop.core.plan import Plan, plan
from workshop.progress import progress
from workshop.questions import Group
from workshop.questions.steps import groups, step
from workshop.session import Session
from workshop.units import NotUnderstood
from workshop.words.answers import answers, step_workings
from workshop.words.phrase import in_terms

if TYPE_CHECKING:
    from workshop.app.app import WorkshopApp

FACES = {"answers": "What it means", "lesson": "Lesson", "working": "Working"}
NEXT_FIELD = "FieldRow Input, FieldRow Select, #form Button"
"""What Enter goes on to."""


class StepScreen(Screen[None]):
    """A form on one side, its answers on the other. Subclasses name the step and what it can add."""

    STEP: ClassVar[str] = ""
    AUTO_FOCUS = ""
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (72, "-normal"), (110, "-wide")]

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("pageup", "turn(-1)", "Up", show=False, id="panel.up", tooltip="Scroll the panel up"),
        Binding("pagedown", "turn(1)", "Down", show=False, id="panel.down", tooltip="Scroll the panel down"),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.face = "answers"

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

    @property
    def form(self) -> Form:
        """The questions."""
        return self.query_one(Form)

    def compose(self) -> ComposeResult:
        project = self.session.project
        yield Static("", id="title-bar", markup=False)
        yield Trail("", id="trail", markup=False)
        with Horizontal(id="work"):
            yield Form(
                step(self.STEP).what, groups(self.STEP, project), project, self.workshop.drafts, self.buttons_for
            )
            with Vertical(id="side"):
                yield Label(FACES["answers"], id="face", markup=False)
                yield AnswerPanel(id="answers")
                yield LessonPanel(id="lesson")
        yield Static("", id="hint", markup=False)
        yield Footer(show_command_palette=False, compact=True)

    def buttons_for(self, group: Group | None) -> list[tuple[str, str]]:
        """Buttons as (action, label): of a group, or of the whole form where group is None."""
        return []

    def act(self, action: str) -> None:
        """Do what a button of this step says. Subclasses know their actions."""

    def on_mount(self) -> None:
        """Show the project, and begin where an answer is wanted."""
        self._show()
        self.call_after_refresh(self.form.begin)

    def on_resize(self) -> None:
        """A wide window has room for the lesson beside everything else."""
        self.call_after_refresh(self._follow_width)

    def _follow_width(self) -> None:
        if not self.is_attached:
            return
        if self.has_class("-wide"):
            self.query_one("#lesson", LessonPanel).show_text(self._lesson_text())
        self._show_bars(self.session.plan)

    def on_screen_resume(self) -> None:
        """Back from a dialog: show what may have changed there."""
        if self.query(Form):
            self._show()

    # ── showing ──────────────────────────────────────────────────────────────────────────────────────

    async def follow(self) -> None:
        """The project has changed: ask what is asked now, and show it."""
        await self.form.follow(groups(self.STEP, self.session.project), self.session.project)
        self._show()

    def _show(self) -> None:
        """Show the project as it is: rows, panel, title and steps."""
        now = self.session.plan
        self.form.show(now)
        for key, row in self.form.rows.items():
            if key in self.workshop.drafts and not row.wrong and not row.has_focus_within:
                self._check_draft(row)
        self._show_panel(now)
        self._show_bars(now)

    def _check_draft(self, row: FieldRow) -> None:
        """Text that was not taken the last time is still there, with what is wrong with it."""
        try:
            row.field.answered(self.session.project, self.workshop.drafts[row.field.key])
        except NotUnderstood as error:
            row.fault(self._not_taken(row, error))

    def _show_bars(self, now: Plan) -> None:
        name = now.project.title or "A new jumper"
        text = f"{name}  ·  NOT SAVED: {self.session.fault}" if self.session.fault else name
        self.query_one("#title-bar", Static).update(Content(text), layout=False)
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
            await self.follow()
        if event.onward:
            self.focus_next(NEXT_FIELD)

    def _taken(self, row: FieldRow, text: str) -> bool:
        before = self.session.project
        try:
            self.session.answer(row.field, text)
        except NotUnderstood as error:
            row.fault(self._not_taken(row, error))
            self.workshop.drafts[row.field.key] = text
            return False
        self.workshop.drafts.pop(row.field.key, None)
        row.taken()
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
        self.query_one("#hint", Static).update(Content(in_terms(text, self.session.project.terms)), layout=False)
        self.call_after_refresh(self.form.reveal, event.row)

    @on(Button.Pressed)
    async def press(self, event: Button.Pressed) -> None:
        """A button of the form."""
        event.stop()
        had = set(self.form.rows)
        self.act(event.button.name or "")
        await self.follow()
        new = [r for k, r in self.form.rows.items() if k not in had]
        if new:
            new[0].control.focus()

    def commit(self) -> None:
        """Take what is being typed, before the screen goes."""
        row = self.form.focused_row
        if row is not None and not row.is_choice and row.text != row.field.shown(self.session.project):
            self._taken(row, row.text)

    async def take_offer(self) -> None:
        """Take the offered answer of the question at hand."""
        row = self.form.focused_row
        if row is None:
            return
        offer = offer_text(row.field, self.session.plan)
        if offer and not row.field.shown(self.session.project):
            self._taken(row, offer)
            await self.follow()
            self.focus_next(NEXT_FIELD)
        else:
            self.notify("Nothing is offered for this question.", markup=False)

    async def take_all_offers(self) -> None:
        """Take every offered answer that this step needs and still lacks, and say how many."""
        taken = 0
        while (row := self._open_with_offer()) is not None:
            if not self._taken(row, offer_text(row.field, self.session.plan)):
                break
            taken += 1
            await self.follow()
        said = f"{taken} offered answers taken." if taken else "Nothing is offered here that is still open."
        self.notify(said, markup=False)

    def _open_with_offer(self) -> FieldRow | None:
        """The first needed question that has an offer and no answer."""
        for row in self.form.rows.values():
            open_still = row.field.needed and not row.field.shown(self.session.project)
            if open_still and offer_text(row.field, self.session.plan):
                return row
        return None

    # ── the side panel ───────────────────────────────────────────────────────────────────────────────

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
        return lesson_text(self.STEP, self.session.project.terms)

    def action_turn(self, pages: int) -> None:
        """Scroll the panel by a page."""
        panel: VerticalScroll = self.query_one("#lesson" if self.face == "lesson" else "#answers", VerticalScroll)
        panel.scroll_relative(y=pages * max(1, panel.size.height - 1), animate=False)

    def help_text(self) -> str:
        """Help for where the knitter stands."""
        row = self.form.focused_row
        about = step(self.STEP)
        text = f"{about.title}: {about.what}"
        if row is not None:
            question = row.field.question
            example = question.kind.example(self.session.project)
            text += f"\n\n{row.field.label}\n{question.hint}.\nFor example: {example}\nWhy: {question.why}"
        return in_terms(text, self.session.project.terms)


def letter(group: Group) -> str:
    """The id in a group's name: ``yarn.a`` -> ``a``."""
    return group.name.partition(".")[2]
