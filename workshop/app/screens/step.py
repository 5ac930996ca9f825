"""What all six question screens share: the form, the panel beside it, and their keys."""

import textwrap
from asyncio import Lock
from typing import TYPE_CHECKING, ClassVar

from textual import events, on, work
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.screen import Screen
from textual.widgets import Button, Label, Static

from workshop.app.widgets.answers import AnswerPanel, LessonPanel, lesson_text
from workshop.app.widgets.control import AnswerList, AnswerSelect
from workshop.app.widgets.field import FieldRow
from workshop.app.widgets.form import Form
from workshop.app.widgets.keyline import KeyLine
from workshop.app.widgets.trail import Trail
from workshop.core.plan import Plan, plan
from workshop.progress import (
    asked_for,
    at_hand,
    changed_since,
    cloth_changed,
    going_on,
    missing_answers,
    next_step,
    offer_text,
    progress,
)
from workshop.project import STEPS
from workshop.questions import Field, Group
from workshop.questions.kinds import Choice
from workshop.questions.steps import fields, groups, step
from workshop.session import Session
from workshop.units import NotUnderstood
from workshop.words.answers import answers
from workshop.words.by_step import step_workings
from workshop.words.choices import choice_lines
from workshop.words.lines import wrapped
from workshop.words.phrase import Line, in_terms, worded

if TYPE_CHECKING:
    from workshop.app.app import WorkshopApp

FACES = {"answers": "What it means", "lesson": "Lesson", "working": "Working"}
CLOSES = {"answers": "", "lesson": "  (esc: back, page keys turn)", "working": "  (esc: back, page keys turn)"}
MORE = "  (page down: more)"
"""Behind the heading of answers that go on below the edge of their panel."""
OTHER_CLOTH = "Another yarn or needle makes another cloth: knit, wash and count it anew. F6 says that the counts hold."
MOST_MISSING = 4
"""Missing answers that are named; more are counted."""


class StepScreen(Screen[None]):
    """A form on one side, its answers on the other. Subclasses name the step and what it can add."""

    STEP: ClassVar[str] = ""
    AUTO_FOCUS = ""
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (72, "-normal"), (110, "-wide")]

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("pageup", "turn(-1)", "Panel up", show=False, id="panel.up", tooltip="Scroll the panel up"),
        Binding("pagedown", "turn(1)", "Panel down", show=False, id="panel.down", tooltip="Scroll the panel down"),
        Binding(
            "escape",
            "close_face",
            "Answers",
            show=False,
            id="panel.close",
            tooltip="From lesson or working back to the answers",
        ),
    ]

    def __init__(self) -> None:
        super().__init__()
        self.face = "answers"
        self.at: str | None = None
        """The question to begin at; None: where an answer is wanted."""
        self._head = FACES["answers"]
        """What stands over the side panel."""
        self._swatch = ""
        """The swatch that was asked about last."""
        self._following = Lock()

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
            asked = groups(self.STEP, project)
            yield Form(step(self.STEP).what, asked, project, self.buttons_for, self.leave_row, self.lead_buttons())
            with Vertical(id="side"):
                yield Label(FACES["answers"], id="face", markup=False)
                yield AnswerPanel(id="answers")
                yield LessonPanel(id="lesson")
        yield Static("", id="hint", markup=False)
        yield KeyLine()

    def buttons_for(self, group: Group | None) -> list[tuple[str, str]]:
        """Buttons as (action, label): of a group, or of the whole form where group is None."""
        return []

    def lead_buttons(self) -> list[tuple[str, str]]:
        """Buttons above all questions, as (action, label)."""
        return []

    def act(self, action: str) -> None:
        """Do what a button of this step says. Subclasses know their actions."""

    def asks_first(self, action: str) -> str:
        """What to ask before a button does something that cannot be taken back; empty: nothing."""
        return ""

    def on_mount(self) -> None:
        """Show the project, and begin where an answer is wanted: the very next key goes there."""
        self._show()
        self._begin()
        panel = self.query_one("#answers", AnswerPanel)
        for what in ("scroll_y", "virtual_size", "size"):
            self.watch(panel, what, self._head_panel_soon, init=False)

    def _head_panel_soon(self) -> None:
        """Size and position of a panel change one after the other: look when all have."""
        self.call_after_refresh(self._head_panel)

    def _head_panel(self) -> None:
        """The heading of the side panel, and whether there is more of it below."""
        if not self.query("#face"):  # the screen is going
            return
        panel = self.query_one("#answers", AnswerPanel)
        more = MORE if self.face == "answers" and panel.max_scroll_y > panel.scroll_y + 0.5 else ""
        text = FACES[self.face] + CLOSES[self.face] + more
        if text != self._head:
            self._head = text
            self.query_one("#face", Label).update(Content(text), layout=False)

    def _begin(self) -> None:
        """The focus where an answer is wanted; in a step that is not done also where one is only offered."""
        now = self.session.plan
        missing = missing_answers(self.STEP, now)
        refused = [key for key in self.form.rows if key in now.project.drafts]
        open_offers = [f.key for g in groups(self.STEP, now.project) for f in g.fields if self._has_offer(f)]
        left = going_on(self.STEP, now) if any(f.shown(now.project) for f in fields(self.STEP, now.project)) else None
        wanted = (*missing, *open_offers, *([left] if left else ())) if missing else ()
        self.form.begin((*refused, *wanted), self.at)

    def _has_offer(self, field: Field) -> bool:
        """Whether a first answer is offered for a question that has none yet."""
        return bool(offer_text(field, self.session.plan)) and not field.shown(self.session.project)

    def on_resize(self) -> None:
        """A wide window has room for the lesson beside everything else."""
        self.call_after_refresh(self._follow_width)

    def _follow_width(self) -> None:
        if not self.query(Form):  # the screen is going
            return
        if self.has_class("-wide"):
            self.query_one("#lesson", LessonPanel).show_text(self._lesson_text())
        self._show_bars(self.session.plan)
        row = self.form.focused_row
        if row is not None:
            self._explain(row)
            self.form.reveal(row)

    def on_screen_resume(self) -> None:
        """Back from a dialog: show what may have changed there."""
        if self.query(Form):
            self._show()

    # ── showing ──────────────────────────────────────────────────────────────────────────────────────

    async def follow(self) -> None:
        """The project has changed: ask what is asked now, and show it."""
        async with self._following:
            if self.query(Form):  # none on a screen that is going
                await self.form.follow(groups(self.STEP, self.session.project), self.session.project)
                self._show()

    def _show(self) -> None:
        """Show the project as it is: rows, panel, title and steps."""
        now = self.session.plan
        self.form.show(now, missing_answers(self.STEP, now))
        for key, row in self.form.rows.items():
            if key in now.project.drafts and not row.wrong and not row.touched:
                self._check_draft(row)
        self._show_panel(now)
        self._show_bars(now)
        self.refresh_bindings()

    def _check_draft(self, row: FieldRow) -> None:
        """Text that was not taken the last time is still there, with what is wrong with it."""
        try:
            row.field.answered(self.session.project, self.session.project.drafts[row.field.key])
        except NotUnderstood as error:
            row.fault(self._not_taken(row, error))
        else:
            row.touched = True  # it is understood now: taken when the field is left

    def _show_bars(self, now: Plan) -> None:
        name = now.project.title or "A new jumper"
        odd = self.workshop.settings.fault.partition(": ")[2]  # without the folders of the file
        text = f"{name}  ·  settings.toml: {odd}" if odd else name
        text = f"{name}  ·  NOT SAVED: {self.session.fault}" if self.session.fault else text
        self.query_one("#title-bar", Static).update(Content(text), layout=False)
        self.query_one(Trail).show(progress(now), self.STEP, now.project.terms, narrow=self.size.width < 80)

    def _show_panel(self, now: Plan) -> None:
        panel = self.query_one("#answers", AnswerPanel)
        if self.face == "working":
            lines = step_workings(self.STEP, now)
            panel.show_plain(lines or ("No number of this step has been worked out yet.",))
        else:
            show = panel.show_taken if now is self.session.plan else panel.show_lines
            show((*self._standing(now), *self._with_way_out(answers(self.STEP, now))))

    def _standing(self, now: Plan) -> list[Line]:
        """Where the knitter stands in this step: back from a break, what changed, what is still needed."""
        lines = []
        if self.workshop.back_again:
            upcoming = next_step(progress(now)).name
            begins = "Now" if upcoming in (self.STEP, STEPS[-1]) else f"Now, in the step {step(upcoming).title}"
            lines.append(Line("good", in_terms(f"Welcome back. {begins}: {at_hand(now)}", now.project.terms)))
        changed = changed_since(self.STEP, now.project)
        cloth = cloth_changed(self.STEP, now.project)
        if cloth:
            lines.append(Line("look", f"changed since the swatches were counted: {', '.join(cloth)}. {OTHER_CLOTH}"))
        elif changed:
            text = (
                f"changed since you were here: {', '.join(changed)}. Look this step through; ctrl+n says it is right."
            )
            lines.append(Line("look", text))
        missing = missing_answers(self.STEP, now)
        asked = groups(self.STEP, now.project)
        several = sum(1 for g in asked if "." in g.name) > 1
        called = [
            f"{f.label} ({g.title})" if several and "." in g.name else f.label
            for g in asked
            for f in g.fields
            if asked_for(f.key, missing)
        ]
        if called:
            more = f" and {len(called) - MOST_MISSING} more" if len(called) > MOST_MISSING else ""
            text = f"Still needed here: {', '.join(called[:MOST_MISSING])}{more}."
            lines.append(Line("note", in_terms(text, now.project.terms)))
        return lines

    def _with_way_out(self, lines: tuple[Line, ...]) -> list[Line]:
        """After the checks that ask something: the key that answers them."""
        asking = sum(1 for line in lines if line.kind == "look")
        out = list(lines)
        if asking:
            last = max(i for i, line in enumerate(lines) if line.kind == "look")
            out.insert(last + 1, Line("text", "Mend the answer, or press F6 to say that it is right as it is."))
        return out

    def tell(self, text: str) -> None:
        """Say something in the line below the form: nothing is covered, and it stays until the focus moves."""
        lines = wrapped(text, max(20, self.size.width - 2))
        self.query_one("#hint", Static).update(Content("\n".join(lines)), layout=False)

    # ── answers ──────────────────────────────────────────────────────────────────────────────────────

    @on(FieldRow.Typed)
    def preview(self, event: FieldRow.Typed) -> None:
        """Show what the numbers would be; nothing is taken yet."""
        event.stop()
        try:
            tried = event.row.field.answered(self.session.project, event.text)
        except NotUnderstood:
            self._show_panel(self.session.plan)  # not what an earlier part of it would have meant
            return
        self._show_panel(plan(tried))

    @on(FieldRow.Entered)
    async def take(self, event: FieldRow.Entered) -> None:
        """Take an answer, save it, and show what follows; or say what is wrong with it."""
        event.stop()
        row = event.row
        if not row.is_mounted:
            return
        if not event.text and not row.field.shown(self.session.project):
            self._emptied(row)
        elif self._taken(row, event.text):
            await self.follow()

    async def leave_row(self, row: FieldRow, direction: int, enter: bool) -> None:
        """A field is left by a key: take what was typed or chosen, with Enter also what is offered; then move."""
        project = self.session.project
        offer = offer_text(row.field, self.session.plan)
        if enter and offer and not row.text and not row.touched:
            self._taken(row, offer)
            await self.follow()
        elif row.touched or (enter and row.wrong):
            if (row.text or row.field.shown(project)) and not self._taken(row, row.text):
                if enter:
                    return
            elif not row.text:
                self._emptied(row)
            await self.follow()
        if not self.form.go(direction, fields_only=enter) and direction > 0:
            if not row.text and asked_for(row.field.key, missing_answers(self.STEP, self.session.plan)):
                self._explain(row)  # it is this one that is still wanted
                return
            buttons = ", Tab to the buttons" if enter and self.form.go(1, fields_only=False, look=True) else ""
            missing = bool(missing_answers(self.STEP, self.session.plan))
            on = "Above, answers are still needed: see What it means" if missing else "Ctrl+N goes on to the next step"
            self.tell(f"That was the last question here. {on}{buttons}.")

    def _taken(self, row: FieldRow, text: str) -> bool:
        before = self.session.project
        try:
            self.session.answer(row.field, text)
        except NotUnderstood as error:
            row.fault(self._not_taken(row, error))
            self._show_panel(self.session.plan)
            self.call_after_refresh(self.form.reveal, row)
            return False
        row.taken()
        if self.session.project != before:
            self.workshop.back_again = False
        if self.session.fault:
            self.tell(f"Not saved: {self.session.fault}")
        return True

    def _emptied(self, row: FieldRow) -> None:
        """Nothing stands in the field and nothing was answered: what was refused there before is forgotten."""
        self.session.forget_draft(row.field)
        row.taken()

    def _not_taken(self, row: FieldRow, error: NotUnderstood) -> str:
        stays = row.field.shown(self.session.project)
        return f"{error}" + (f" (it stays {stays})" if stays else "")

    @on(FieldRow.Reached)
    def reach(self, event: FieldRow.Reached) -> None:
        """Say below how the question at hand is answered, and why it is asked."""
        event.stop()
        if not self.query(Form):
            return
        self._explain(event.row)
        self.call_after_refresh(self.form.reveal, event.row)
        self._follow_item(event.row.field.key)

    def _follow_item(self, key: str) -> None:
        """In a step with several swatches the panel shows the one that is asked about."""
        table, _, rest = key.partition(".")
        swatch = rest.partition(".")[0] if table in ("swatch", "reading") else ""
        if swatch and swatch != self._swatch and self.face == "answers":
            panel = self.query_one("#answers", AnswerPanel)
            first = swatch == self.session.project.swatch[0].id
            begins = "" if first else f"Swatch {swatch}"  # above the first stands what the whole step wants
            self.call_after_refresh(panel.bring, begins)
        self._swatch = swatch

    def _explain(self, row: FieldRow) -> None:
        self.tell(self._hint(row, max(20, self.size.width - 2), 2 if self.has_class("-narrow") else 3))

    def _hint(self, row: FieldRow, width: int, lines: int) -> str:
        """What is offered, how to answer, and why it is asked: as much as fits, in that order."""
        question = row.field.question
        hint = question.told(self.session.project)
        parts = [f"{hint[:1].upper()}{hint[1:]}.", question.why]
        if isinstance(row.control, AnswerSelect) and row.control.expanded:
            parts.insert(1, "Enter takes the marked line, Escape leaves it as it was.")
        elif not row.text and offer_text(row.field, self.session.plan):
            parts.insert(0, "Enter takes what is offered" + (", Space opens the list." if row.is_choice else "."))
        elif isinstance(row.control, AnswerSelect):
            opens = "Enter opens the list." if row.control.needed and not row.text else "Space opens the list."
            parts.insert(1, opens)
        said = ""
        for part in parts:
            tried = worded(f"{said} {part}".strip(), self.session.project)
            if len(wrapped(tried, width)) > lines:
                break
            said = tried
        if not said:  # longer than there is room: as much as fits, and where the rest is
            said = textwrap.shorten(worded(parts[0], self.session.project), lines * width - 12, placeholder=" … (F1)")
        return said

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """On a button or in an open list: what the keys do there."""
        if isinstance(event.widget, AnswerList):
            row = self.form.focused_row
            if row is not None:
                self._explain(row)
        elif isinstance(event.widget, Button):
            self.tell("Enter presses this button. Up and down leave it; nothing is taken out without asking.")

    @on(AnswerList.Sought)
    def seek(self, event: AnswerList.Sought) -> None:
        """Say below where nothing in an open list fits what is typed."""
        event.stop()
        if not event.found:
            self.tell(f"No answer here begins with “{event.typed}”. Up and down choose, Escape leaves it as it was.")
        elif self.form.focused_row is not None:
            self._explain(self.form.focused_row)

    @on(Button.Pressed)
    def press(self, event: Button.Pressed) -> None:
        """A button of the form."""
        event.stop()
        self.do(event.button.name or "")

    @work
    async def do(self, action: str) -> None:
        """Do what a button says; first ask where something would be lost."""
        question = self.asks_first(action)
        if question:
            from workshop.app.screens.dialogs import ConfirmDialog

            if not await self.app.push_screen_wait(ConfirmDialog(question)):
                return
        had = set(self.form.rows)
        self.act(action)
        await self.follow()
        new = [r for k, r in self.form.rows.items() if k not in had]
        if new:
            self.set_focus(new[0].control)
        elif self.focused is None or not self.focused.is_attached:
            self._begin()

    def commit(self) -> None:
        """Take what is being typed, before the screen goes."""
        for row in list(self.form.rows.values()) if self.query(Form) else ():
            if row.touched and (row.text or row.field.shown(self.session.project)):
                self._taken(row, row.text)

    async def take_offer(self) -> None:
        """Take the offered answer of the question at hand."""
        row = self.form.focused_row
        if row is None:
            return
        if offer_text(row.field, self.session.plan) and not row.field.shown(self.session.project):
            await self.leave_row(row, 1, enter=True)
        else:
            self.tell("Nothing is offered for this question.")

    async def take_all_offers(self) -> None:
        """Take every offered answer of this step that is still open, and say how many."""
        taken = 0
        while (row := self._open_with_offer()) is not None:
            if not self._taken(row, offer_text(row.field, self.session.plan)):
                break
            taken += 1
            await self.follow()
        many = "1 offered answer taken" if taken == 1 else f"{taken} offered answers taken"
        self.tell(f"{many}; each can be changed." if taken else "Nothing is offered here that is still open.")

    def _open_with_offer(self) -> FieldRow | None:
        """The first question that has an offer and no answer."""
        for row in self.form.rows.values():
            if not row.text and self._has_offer(row.field):
                return row
        return None

    @property
    def has_offers(self) -> bool:
        """Whether anything is offered that is still open."""
        return bool(self.query(Form)) and self._open_with_offer() is not None

    # ── the side panel ───────────────────────────────────────────────────────────────────────────────

    def show_face(self, face: str) -> None:
        """Turn the side panel: answers, lesson or workings; asked twice, back to the answers."""
        if face == self.face and face != "answers":
            face = "answers"
        self.face = face
        self.set_class(face == "lesson", "lesson")
        self.set_class(face != "answers", "reading")
        row = self.form.focused_row
        if row is not None:
            self.call_after_refresh(self.form.reveal, row)
        self._head_panel()
        if face == "lesson":
            self.query_one("#lesson", LessonPanel).show_text(self._lesson_text())
        self._show_panel(self.session.plan)
        if face != "lesson":
            self.query_one("#answers", AnswerPanel).scroll_home(animate=False)
        self.call_after_refresh(self._head_panel)
        self.refresh_bindings()

    def action_close_face(self) -> None:
        """Back to the answers."""
        if self.face != "answers":
            self.show_face("answers")

    def _lesson_text(self) -> str:
        return lesson_text(self.STEP, self.session.project)

    def action_turn(self, pages: int) -> None:
        """Scroll the panel by a page."""
        panel: VerticalScroll = self.query_one("#lesson" if self.face == "lesson" else "#answers", VerticalScroll)
        panel.scroll_relative(y=pages * max(1, panel.size.height - 1), animate=False)

    def help_text(self) -> str:
        """Help for where the knitter stands."""
        row, project = self.form.focused_row, self.session.project
        about = step(self.STEP)
        text = in_terms(f"{about.title}: {about.what}", project.terms)
        if row is not None:
            question = row.field.question
            kind, hint = question.kind, question.told(project)
            text += f"\n\n{row.field.label}\n{hint[:1].upper()}{hint[1:]}."
            if isinstance(kind, Choice):
                text += "".join(f"\n  - {line}" for line in choice_lines(o.label for o in kind.options(project)))
            else:
                text += f"\nFor example: {kind.example(project)}"
            text += f"\nWhy: {question.why} {question.standard}".rstrip()
        return worded(text, project)


def letter(group: Group) -> str:
    """The id in a group's name: ``yarn.a`` -> ``a``."""
    return group.name.partition(".")[2]
