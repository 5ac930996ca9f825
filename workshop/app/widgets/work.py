"""The questions of a step on one side, what the answers mean on the other, and what is said while they are answered."""

import textwrap
from functools import partial

from textual import on
from textual.app import ComposeResult
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Label, OptionList

from workshop.app.desk import Desk
from workshop.app.screens.step import StepScreen
from workshop.app.widgets.answers import MARKS, AnswerPanel, LessonPanel, Seen, lesson_text
from workshop.app.widgets.body import NO_SWATCH, NONE_PLANNED, NOTHING_TO_CHECK, Body
from workshop.app.widgets.drawn import Drawn
from workshop.app.widgets.form import Form
from workshop.app.widgets.rows import LEAD, Row, Stop
from workshop.conversation import (
    asked_elsewhere,
    before_and_now,
    begins_at,
    offer_to,
    offered,
    sizes,
    standing,
    with_way_out,
)
from workshop.core.plan import Plan
from workshop.planned import plan
from workshop.prints.glance import laid_out
from workshop.prints.step_glances import glance
from workshop.progress import asked_for, missing_answers
from workshop.questions.actions import Action, actions
from workshop.questions.kinds import Choice
from workshop.questions.steps import groups
from workshop.session import Session
from workshop.units import NotUnderstood
from workshop.words.answers.of_steps import answers
from workshop.words.calculations.by_step import step_workings
from workshop.words.choices import choice_lines
from workshop.words.hints import hint_for
from workshop.words.lines import wrapped
from workshop.words.phrase import Line, capitalised, say_check, worded
from workshop.words.titles import title_of, what_of

FACES = {"answers": "What it means", "lesson": "Lesson", "working": "Working"}
BACK = "  (Esc back, PgUp/PgDn scroll)"
CLOSES = {"answers": "", "lesson": BACK, "working": BACK}
MORE = {(False, True): "PgDn: more", (True, False): "PgUp: more", (True, True): "PgUp, PgDn: more"}
"""Behind the heading of answers that go on above or below the edge of their panel."""


IF_CURIOUS = "You don't need any of this to knit. The list shows how each number in this step was worked out."
"""Before the workings, for those who only looked."""


class Work(Body):
    """A form on one side, its answers on the other."""

    styles_in = "step.tcss"

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.id = "work"
        self.name_of_step = ""
        self.face = "answers"
        self._item = ""
        """The swatch that is asked about, in the heading of the panel."""
        self._drawn = Drawn()
        self._plan: Plan | None = None
        """The plan whose answers are shown: that of the project, or what is being typed would make of it."""
        self._checks: list[Line] = []
        """What needs another look, the newest and gravest first."""
        self._looked_at = -1
        self.form, self.panel, self.lesson = Form(self), AnswerPanel(id="answers"), LessonPanel(id="lesson")
        self._since: Line | None = None
        """What the last answer has changed of a finished plan."""
        self._news = ("", "")
        """What happened to the file, and at which question that is told."""
        self._head = Label(FACES["answers"], id="face", markup=False)
        self._headed = FACES["answers"]

    @property
    def session(self) -> Session:
        """The project at work."""
        return self.desk.session

    def compose(self) -> ComposeResult:
        yield self.form
        with Vertical(id="side"):
            yield self._head
            yield self.panel
            yield self.lesson

    def on_mount(self) -> None:
        """The heading of the panel follows how much there is to read."""
        for what in ("scroll_y", "virtual_size", "size"):
            self.watch(self.panel, what, self._head_soon, init=False)

    # ── showing ──────────────────────────────────────────────────────────────────────────────────────

    def open(self, name: str, at: str | None) -> None:
        """The questions of a step, beginning where an answer is wanted: the very next key goes there."""
        self.name_of_step, self._checks, self._looked_at, self._item = name, [], -1, ""
        self._since = None
        if self.face != "answers":
            self._turn_to("answers")
        self.form.begin(what_of(name, self.session.project.terms))
        self.panel.begin()
        self._show()
        if self.room.has_class("-wide"):
            self.lesson.show_text(self._lesson_text())
        self.form.start(begins_at(name, self.session.plan), at)
        if not self.form.rows:  # its lines come later, once it knows its width
            self.tell(NONE_PLANNED if name == "swatch" else NO_SWATCH)

    def show(self) -> None:
        """The project and the window as they are."""
        self._show()
        if self.room.has_class("-wide"):
            self.lesson.show_text(self._lesson_text())
        row = self.form.focused_row
        if row is not None:
            self._explain(row)
            self.form.reveal(row)

    def follow(self) -> None:
        """The project has changed: ask what is asked now, and show it."""
        if not self.is_attached:  # the answer is kept; the window is closing
            return
        self._show()
        self.room.show_bars()
        self.room.refresh_bindings()

    def show_again(self) -> None:
        """In other units, at the same question."""
        row = self.form.focused_row
        self.open(self.name_of_step, row.field.key if row else None)

    def _show(self) -> None:
        """Rows and panel."""
        now, name = self.session.plan, self.name_of_step
        self.form.follow(groups(name, now.project), self._buttons(), now, missing_answers(name, now))
        for key, row in self.form.rows.items():
            if key in now.project.drafts and not row.wrong and not row.touched:
                self._check_draft(row)
        self._show_panel(now)

    def _buttons(self) -> list[Action]:
        """What the step can add or remove; on the step of counts, counting can be practised first."""
        found = [*actions(self.name_of_step, self.session.project, sizes(self.session.plan))]
        if self.name_of_step == "gauge":
            found.append(Action("practise", "Practice counting on a drawn swatch", lambda project: project, LEAD))
        return found

    def _check_draft(self, row: Row) -> None:
        """Text that was not taken the last time is still there, with what is wrong with it."""
        try:
            row.field.answered(self.session.project, self.session.project.drafts[row.field.key])
        except NotUnderstood as error:
            self.form.refuse(row, self._not_taken(row, error))
        else:
            row.touched = True  # it is understood now: taken when the field is left

    def _show_panel(self, now: Plan) -> None:
        if self.face == "working":
            lines = step_workings(self.name_of_step, now)
            nothing = ("Nothing in this step has been worked out yet.",)
            self.panel.show_plain((IF_CURIOUS, "", *lines) if lines else nothing)
            return
        told = (
            *([self._since] if self._since is not None and now is self.session.plan else []),
            *standing(self.name_of_step, now, back_again=self.desk.back_again),
            *with_way_out(answers(self.name_of_step, now)),
        )
        self._plan = now
        self.panel.show_lines(told, self._seen(now))
        if now is self.session.plan:
            self._warn(told)
            if self._since is not None:
                self.panel.scroll_to(y=0, animate=False)

    def _seen(self, now: Plan) -> Seen:
        """What can be seen of a plan at the question at hand, or of the answer that is marked in its open list."""
        row, listed = self.form.focused_row, self.form.listed
        at, name, called, drawn = row.field.key if row else "", self.name_of_step, "", None
        if name == "shape" and listed is not None and listed.highlighted is not None:
            marked = listed.answers[listed.highlighted]
            called = marked.label if marked else ""
            drawn = self._drawn.of(now, listed.row.field, marked.value if marked else None)
        elif name == "shape" or at.startswith("reference_garment"):
            drawn = self._drawn.of(now if now.made.pieces else self.session.plan)
        found = glance(name, now, at=at, drawn=drawn, called=called)
        return lambda columns, rows: laid_out(found, columns, rows)

    def _see(self) -> None:
        """Another question or another marked answer: what can be seen follows."""
        if self.face == "answers" and self._plan is not None:
            self.panel.see(self._seen(self._plan))

    # ── what needs another look ──────────────────────────────────────────────────────────────────────

    def _warn(self, told: tuple[Line, ...]) -> None:
        """The line for it: what is new since the last answer first, and of those what stops the plan."""
        known = {line.text for line in self._checks}
        found = [line for line in told if line.kind in ("look", "stop")]
        self._checks = sorted(found, key=lambda line: (line.text in known, line.kind != "stop"))
        self._looked_at = -1
        self._show_warning(0)

    def _show_warning(self, which: int) -> None:
        if isinstance(self.screen, StepScreen):
            line = self._checks[which] if self._checks else None
            self.screen.warn(MARKS[line.kind] + line.text if line else "", len(self._checks))

    @property
    def has_checks(self) -> bool:
        """Whether something of this step needs another look."""
        return bool(self._checks)

    def to_check(self) -> None:
        """The panel to the next of them, and the focus to the question that it is about."""
        if not self._checks:
            self.tell(NOTHING_TO_CHECK)
            return
        self.close_face()
        self._looked_at = (self._looked_at + 1) % len(self._checks)
        line = self._checks[self._looked_at]
        project = self.session.plan.project
        about = next((c for c in self.session.plan.checks if say_check(c, project) == line.text), None)
        key = about.question if about else ""
        rows = self.form.rows
        row = rows.get(about.place if about and about.place else key)
        row = row or next((row for at, row in rows.items() if at.startswith(f"{key}.")), None)
        if row is not None:
            self.form.to(row)
        elif key:
            self.tell(asked_elsewhere(key, project))
        self._show_warning(self._looked_at)
        self.call_after_refresh(self.panel.to_line, line.text)

    def _head_soon(self) -> None:
        """Size and position of a panel change one after the other: look when all have."""
        self.call_after_refresh(self._show_head)

    def _show_head(self) -> None:
        """The heading of the side panel, and whether there is more of it below."""
        ends = self.panel.scroll_y > 0.5, self.panel.max_scroll_y > self.panel.scroll_y + 0.5
        more = f"  ({MORE[ends]})" if self.face == "answers" and any(ends) else ""
        item = f": {self._item}" if self._item and self.face == "answers" else ""
        text = FACES[self.face] + item + CLOSES[self.face] + more
        if len(text) > self._head.size.width > 0:
            text = text.replace(": more", "")
        if text != self._headed:
            self._headed = text
            self._head.update(Content(text), layout=False)

    # ── answers ──────────────────────────────────────────────────────────────────────────────────────

    def preview(self, row: Row) -> None:
        """Show what the numbers would be; nothing is taken yet."""
        self.call_next(self._preview, row, row.text)

    def _preview(self, row: Row, text: str) -> None:
        if row.text != text or not row.touched:  # typed on, or taken
            return
        try:
            tried = plan(row.field.answered(self.session.project, text))
        except NotUnderstood:
            tried = self.session.plan  # not what an earlier part of it would have meant
        self._show_panel(tried)

    def take(self, row: Row) -> None:
        """Take an answer, save it, and show what follows; or say what is wrong with it."""
        if not row.text and not row.field.shown(self.session.project):
            self._emptied(row)
        elif self._taken(row, row.text):
            self.follow()

    async def leave(self, row: Row, direction: int, *, enter: bool) -> None:
        """A field is left by a key: take what was typed or chosen, with Enter also what is offered; then move."""
        if enter and row.offer and not row.text and not row.field.shown(self.session.project):
            self._taken(row, row.offer)
            self.follow()
        elif row.touched or (enter and row.wrong):
            if row.text or row.field.shown(self.session.project):
                if not self._taken(row, row.text) and enter:
                    return
            else:
                self._emptied(row)
            self.follow()
        if not self.form.go(direction, fields_only=enter) and direction > 0:
            self._last_question(row, enter=enter)

    def _last_question(self, row: Row, *, enter: bool) -> None:
        """Where a step ends: what it still needs, or how it goes on."""
        missing = missing_answers(self.name_of_step, self.session.plan)
        if not row.text and asked_for(row.field.key, missing):
            self._explain(row)  # it is this one that is still needed
            return
        buttons = " Tab goes to the buttons." if enter and self.form.has_buttons_below else ""
        open_here = [r.label for k, r in self.form.rows.items() if asked_for(k, missing)]
        on = f"Still needed here: {'; '.join(open_here[:2])}." if open_here else "Ctrl+N goes to the next step."
        self.tell(f"That's the last question here. {on}{buttons}")

    def _taken(self, row: Row, text: str) -> bool:
        before, planned = self.session.project, self.session.plan
        try:
            self.session.answer(row.field, text)
        except NotUnderstood as error:
            self.form.refuse(row, self._not_taken(row, error))
            self._show_panel(self.session.plan)
            return False
        row.taken()
        if self.session.project != before:
            self.desk.back_again = False
        self._since = before_and_now(planned, self.session.plan)
        if self.session.fault:
            self.tell(f"Not saved: {self.session.fault}")
        return True

    def _emptied(self, row: Row) -> None:
        """Nothing stands in the field and nothing was answered: what was refused there before is forgotten."""
        self.session.forget_draft(row.field)
        row.taken()

    def _not_taken(self, row: Row, error: NotUnderstood) -> str:
        stays = row.field.shown(self.session.project)
        return f"{error}" + (f" (it stays {stays})" if stays else "")

    def commit(self) -> None:
        """Take what is being typed, before the screen goes."""
        for row in list(self.form.rows.values()):
            if row.touched and (row.text or row.field.shown(self.session.project)):
                self._taken(row, row.text)

    async def take_offer(self) -> None:
        """Take the offered answer of the question at hand."""
        row = self.form.focused_row
        if row is None:
            return
        if offer_to(row.field, self.session.plan):
            await self.leave(row, 1, enter=True)
        else:
            self.tell("There's no suggestion for this question.")

    def take_all_offers(self) -> None:
        """Take every offered answer of this step that is still open, and say how many."""
        taken, planned = 0, self.session.plan
        while (row := self._open_with_offer()) is not None and self._taken(row, row.offer):
            taken += 1
            self._show()
        self._since = before_and_now(planned, self.session.plan)
        self.follow()
        many = (
            "Took 1 suggested answer. You can change it"
            if taken == 1
            else f"Took {taken} suggested answers. You can change any of them"
        )
        self.tell(f"{many}." if taken else "There are no more suggestions in this step.")

    def _open_with_offer(self) -> Row | None:
        """The first question that has an offer and no answer."""
        open_ones = offered(self.name_of_step, self.session.plan)
        return next((r for r in self.form.rows.values() if not r.text and r.field.key in open_ones), None)

    @property
    def is_typed_in(self) -> bool:
        """Whether something is typed that is not taken yet."""
        return any(row.touched for row in self.form.rows.values())

    @property
    def has_offers(self) -> bool:
        """Whether anything is offered that is still open."""
        return self._open_with_offer() is not None

    async def press(self, action: Action) -> None:
        """A button of the form; where something would be lost it is asked about first."""
        if action.name == "practise":
            await self.app.run_action("app.practise")
        elif action.asks_first:
            from workshop.app.screens.dialogs import ConfirmDialog

            await self.app.push_screen(ConfirmDialog(action.asks_first), partial(self._sure, action))
        else:
            self.do(action)

    def _sure(self, action: Action, sure: bool | None) -> None:
        if sure:
            self.do(action)

    def do(self, action: Action) -> None:
        """Do what a button says."""
        had = set(self.form.rows)
        planned = self.session.plan
        self.session.change(action.do(self.session.project))
        self._since = before_and_now(planned, self.session.plan)
        self.follow()
        new = [r for k, r in self.form.rows.items() if k not in had]
        if new:
            self.form.to(new[0])
        elif self.form.here is None:
            self.form.start(begins_at(self.name_of_step, self.session.plan))

    # ── the line below ───────────────────────────────────────────────────────────────────────────────

    def reach(self, stop: Stop) -> None:
        """Say below how the question at hand is answered, and why it is asked; or what the keys do at a button."""
        self._see()
        if isinstance(stop, Action):
            asked = " You're asked before anything is removed." if stop.asks_first else ""
            self.tell(f"Enter presses this button.{asked}")
            return
        self._explain(stop)
        self._follow_item(stop.field.key)

    def seek(self, typed: str, *, found: bool) -> None:
        """Say below where nothing in an open list fits what is typed."""
        if not found:
            self.tell(f"No choice begins with “{typed}”. ↑ and ↓ choose. Esc keeps the answer as it was.")
        elif self.form.focused_row is not None:
            self._explain(self.form.focused_row)

    def _follow_item(self, key: str) -> None:
        """In a step with several swatches or yarns the panel begins with the one that is asked about."""
        table, _, rest = key.partition(".")
        name = rest.partition(".")[0]
        if self.face != "answers":
            return
        self._item = f"swatch {name}" if table in ("swatch", "reading") else ""
        self._head_soon()
        if self._item:
            self.panel.bring(f"Swatch {name}")
        elif table == "yarn":
            yarn = next((y for y in self.session.project.yarn if y.id == name), None)
            self.panel.bring(yarn.name or f"Yarn {name}" if yarn else "")

    def listing(self, *, open: bool) -> None:
        """While a list of shapes is open the marked one is drawn, in a narrow window beside the list."""
        if self.name_of_step == "shape":
            self.room.set_class(open, "choosing")
            self._see()

    @on(OptionList.OptionHighlighted)
    def mark(self, event: OptionList.OptionHighlighted) -> None:
        """Another answer of the open list is marked: it is drawn."""
        event.stop()
        if self.name_of_step == "shape":
            self._see()

    def _explain(self, row: Row) -> None:
        """How a question is answered; at the first one after it, what has happened to the file instead."""
        if self.session.news:
            self._news, self.session.news = (row.field.key, self.session.news), ""
        at, news = self._news
        self.tell(
            news
            if at == row.field.key
            else self._hint(row, max(20, self.app.size.width - 2), 2 if self.room.has_class("-narrow") else 3)
        )

    def _hint(self, row: Row, width: int, lines: int) -> str:
        """What is offered, how to answer, and why it is asked: as much as fits, in that order."""
        question = row.field.question
        hint = hint_for(row.field.key, question.told(self.session.project), self.session.plan)
        parts = [f"{capitalised(hint)}.", question.why]
        if self.form.listed is not None:
            offered = " The mark starts at the suggestion." if row.offer and not row.text else ""
            parts[1:1] = [
                f"Arrows or first letters move the mark.{offered}",
                "Enter chooses the marked line, Esc closes the list.",
            ]
        elif not row.text and row.offer:
            parts.insert(0, f"Enter takes '{row.offer}'." + (" Space opens the list." if row.is_choice else ""))
        elif row.is_choice:
            parts.insert(1, "Enter opens the list." if row.needed and not row.text else "Space opens the list.")
        elif (passed := self.form.passed_after(row)) is not None:
            parts.insert(1, f"Enter skips '{passed.label}'. To stop there, press the down arrow.")
        said = ""
        for part in parts:
            tried = worded(f"{said} {part}".strip(), self.session.project)
            if len(wrapped(tried, width)) > lines:
                break
            said = tried
        if not said:  # longer than there is room: as much as fits, and where the rest is
            said = textwrap.shorten(worded(parts[0], self.session.project), lines * width - 12, placeholder=" … (F1)")
        return said

    # ── the side panel ───────────────────────────────────────────────────────────────────────────────

    async def show_face(self, face: str) -> None:
        """Turn the side panel: answers, lesson or workings; asked twice, back to the answers."""
        self._face("answers" if face == self.face else face)

    def _face(self, face: str) -> None:
        self._turn_to(face)
        self._show_panel(self.session.plan)
        if self.face != "lesson":
            self.panel.scroll_home(animate=False)
        self._head_soon()
        if self.form.here is not None:
            self.call_after_refresh(self.form.reveal, self.form.here)

    def _turn_to(self, face: str) -> None:
        self.face = face
        self.room.set_class(face == "lesson", "lesson")
        self.room.set_class(face != "answers", "reading")
        if face == "lesson":
            self.lesson.show_text(self._lesson_text())
        self._show_head()

    def close_face(self) -> None:
        """Back to the answers."""
        if self.face != "answers":
            self._face("answers")

    def _lesson_text(self) -> str:
        return lesson_text(self.name_of_step, self.session.project)

    def turn(self, pages: int) -> None:
        """Scroll the panel by a page."""
        panel: VerticalScroll = self.lesson if self.face == "lesson" else self.panel
        panel.scroll_relative(y=pages * max(1, panel.size.height - 1), animate=False)

    def at_hand(self) -> tuple[str, str, int]:
        """What the question at hand says; what stands in its field or on its marked line; where the cursor is there."""
        about, _, asked = self.help_text().partition("\n\n")
        return (asked or about, *self.form.under_cursor)

    def help_text(self) -> str:
        """Help for where the knitter stands."""
        row, project = self.form.focused_row, self.session.project
        name, terms = self.name_of_step, project.terms
        text = f"{title_of(name, terms)}: {what_of(name, terms)}"
        if row is not None:
            question = row.field.question
            kind, hint = question.kind, hint_for(row.field.key, question.told(project), self.session.plan)
            text += worded(f"\n\n{row.field.label}\n{capitalised(hint)}.", project)
            if isinstance(kind, Choice):
                labels = [o.label for o in kind.options(project)]  # as they stand in the list: US stays US in UK words
                for label, line in zip(labels, choice_lines(labels), strict=True):
                    text += f"\n  - {label}{worded(line.removeprefix(label), project)}"
            else:
                text += f"\nFor example: {kind.example(project)}"
            text += worded(f"\nWhy: {question.why} {question.standard}".rstrip(), project)
        return text
