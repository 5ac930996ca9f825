"""One question of a form: its label, a place to answer, and a line for what is wrong."""

from textual import events, on
from textual.app import ComposeResult
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, Label, Select, Static
from textual.widgets.input import Selection

from workshop.app.widgets.control import CHOOSE, AnswerInput, AnswerSelect, Row
from workshop.core.plan import Plan
from workshop.progress import offer_text, open_text
from workshop.project import Project
from workshop.questions import Field
from workshop.questions.kinds import (
    Blend,
    Choice,
    CountOver,
    Length,
    Mass,
    Needle,
    Option,
    Whole,
    Words,
    YarnLength,
)
from workshop.words.phrase import in_terms

INLINE = 18
"""Labels up to this length stand beside their answer, longer ones above it."""

BESIDE = 18
"""Characters of an answer beside its label, in the narrowest of forms."""

SHORT_CHOICE = 13
"""Choices whose answers are longer than this have the whole width."""

HERE = "▸"
"""Stands before the question that has the focus, so that it is seen without colour."""


def _fits_beside(field: Field, project: Project) -> bool:
    """Whether label and answer have room on one line."""
    if len(field.label) > INLINE:
        return False
    kind = field.question.kind
    if isinstance(kind, Words | Blend):
        return False
    return not isinstance(kind, Choice) or all(len(o.label) <= SHORT_CHOICE for o in kind.options(project))


def wanted_form(field: Field, project: Project) -> str:
    """What an answer looks like, in a word or two: the unit, the limits, an example."""
    kind = field.question.kind
    match kind:
        case Length():
            return f"__ {project.units}"
        case Mass():
            return "__ g"
        case YarnLength():
            return "__ yd" if project.units == "in" else "__ m"
        case CountOver():
            return "__ over 10 cm" if project.units == "cm" else "__ over 4 in"
        case Needle():
            return {"mm": "__ mm", "us": "US __", "uk": "UK __"}[project.needle_names]
        case Whole(low, high) if high <= 10:
            return f"{low} to {high}"
        case Blend():
            return f"e.g. {kind.example(project)}"
        case _:
            return ""


def _left_open(stands: str) -> str:
    """What stands in for an open question; a length of three figures has no room for the colon."""
    text = f"left open: {stands}"
    return text if len(text) <= BESIDE else f"left open {stands}"


class FieldRow(Row):
    """A question in a form. It holds no answer: it shows the project's and reports what is typed."""

    class Typed(Message):
        """Text has changed; nothing is accepted yet."""

        def __init__(self, row: "FieldRow", text: str) -> None:
            super().__init__()
            self.row, self.text = row, text

    class Entered(Message):
        """The knitter has finished this answer."""

        def __init__(self, row: "FieldRow", text: str) -> None:
            super().__init__()
            self.row, self.text = row, text

    class Reached(Message):
        """The focus has come to this question."""

        def __init__(self, row: "FieldRow") -> None:
            super().__init__()
            self.row = row

    def __init__(self, field: Field, project: Project) -> None:
        super().__init__(classes="inline" if _fits_beside(field, project) else "stacked")
        self.field = field
        self._draft = project.drafts.get(field.key)
        """Text that was refused and is still there, to be mended."""
        self._given = field.shown(project)
        """The text of the accepted answer."""
        self._seen = self._draft if self._draft is not None else self._given
        """The text last seen in the field: what a hand types or chooses differs from it."""
        self._says = in_terms(field.label, project.terms)
        self._label = Label(Content(f" {self._says}"), classes="label")
        self.control: AnswerInput | AnswerSelect = self._make_control(project)
        """What takes the focus."""
        self._fault: Static | None = None

    def _make_control(self, project: Project) -> AnswerInput | AnswerSelect:
        if self.is_choice:
            stands = self.field.question.stands
            value = self._value(project)
            self._seen = "" if value is Select.NULL else str(value)
            return AnswerSelect(self._answers(project), value, stands=stands)
        return AnswerInput(self._seen, compact=True)

    @property
    def is_choice(self) -> bool:
        """Whether the answer is one of a list."""
        return isinstance(self.field.question.kind, Choice)

    def compose(self) -> ComposeResult:
        yield self._label
        yield self.control

    def _answers(self, project: Project) -> tuple[Option, ...]:
        kind = self.field.question.kind
        return kind.options(project) if isinstance(kind, Choice) else ()

    def _value(self, project: Project) -> object:
        value = self.field.get(project)
        return value if any(o.value == value for o in self._answers(project)) else Select.NULL

    @property
    def text(self) -> str:
        """What stands in the field."""
        if isinstance(self.control, Select):
            return "" if self.control.is_blank() else str(self.control.value)
        return self.control.value

    @property
    def passed(self) -> bool:
        """Whether Enter passes it: one more of a kind than is asked for, and nothing stands in it."""
        return self.field.spare and not self.text

    @property
    def wrong(self) -> bool:
        """Whether what stands in the field was refused."""
        return self._fault is not None

    @property
    def fault_line(self) -> Static | None:
        """Where it stands what is wrong."""
        return self._fault

    # ── showing ──────────────────────────────────────────────────────────────────────────────────────

    def show(self, field: Field, plan: Plan, *, needed: bool) -> None:
        """Show the project's answer, unless the knitter is typing another one; else what is offered, or stands in."""
        project = plan.project
        self.field = field
        self._says = in_terms(field.label, project.terms)
        self._mark()
        self._given = field.shown(project)
        if isinstance(self.control, AnswerSelect):
            self.control.needed = needed
            self._show_choice(self.control, project, plan.offers.get(field.key))
        elif not self.touched and self._draft is None and self.text != self._given:
            self._seen = self._given
            self.control.value = self._given
            self.control.cursor_position = len(self._given)
        offered, stands = offer_text(field, plan), open_text(field, plan)
        blank = f"offered: {offered}" if offered else _left_open(stands) if stands else ""
        self._show_blank(blank or self._blank(project, needed=needed))

    def _blank(self, project: Project, *, needed: bool) -> str:
        """What an empty field says: whether it is needed, and in which unit."""
        if self.is_choice:
            return CHOOSE if needed else "may stay open"
        form = wanted_form(self.field, project)
        if isinstance(self.field.question.kind, CountOver) and (needed or self.field.spare):
            return "needed" if needed else "may stay open"
        says = "needed" if needed and not form.startswith("e.g.") else "" if form else "may stay open"
        return f"{form}, {says}" if form and says else form or says

    def _show_blank(self, text: str) -> None:
        """In the empty field itself, so that nothing moves when it is answered."""
        if isinstance(self.control, Select):
            prompt = text if "[" not in text else CHOOSE  # a prompt is read as markup
            if self.control.prompt != prompt:
                self.control.prompt = prompt
        elif self.control.placeholder != text:
            self.control.placeholder = text

    def _show_choice(self, select: AnswerSelect, project: Project, offer: object) -> None:
        select.offer = Select.NULL if offer in (None, "") else offer
        with self.prevent(Select.Changed):
            answers = self._answers(project)
            if answers != select.answers:
                select.list_answers(answers)
            value = self._value(project)
            if select.value != value:
                select.value = value
                self._seen = self.text

    def taken(self) -> None:
        """What was typed is an answer now."""
        self._draft, self.touched = None, False
        self._seen = self.text
        self.fault("")

    def fault(self, text: str) -> None:
        """Say below the answer why it was not taken; an empty text takes that back."""
        if not text:
            if self._fault is not None:
                self._fault.remove()
                self._fault = None
            return
        self._draft, self.touched = self.text, False
        if isinstance(self.control, Input) and self.control.has_focus:
            end = len(self.control.value)  # typing begins anew; the beginning of a long answer is what is seen
            self.control.selection = Selection(end, 0)
        shown = Content(f"✗ {text}")
        if self._fault is not None:
            self._fault.update(shown)
        elif isinstance(self.parent, Widget):
            self._fault = Static(shown, classes="fault")
            self.parent.mount(self._fault, after=self)

    def _mark(self, *, here: bool | None = None) -> None:
        """The label, with a sign before it while the question has the focus."""
        here = self.has_focus_within if here is None else here
        text = f"{HERE if here else ' '}{self._says}"
        if str(self._label.content) != text:
            self._label.update(Content(text))

    # ── reporting ────────────────────────────────────────────────────────────────────────────────────

    @on(Input.Changed)
    def report_typed(self, event: Input.Changed) -> None:
        """Something was typed."""
        event.stop()
        if event.value == self._seen:  # a field that has just been mounted, not a hand
            return
        self._seen = event.value
        self.touched = True
        self._draft = None
        self.fault("")
        self.post_message(self.Typed(self, event.value))

    @on(Select.Changed)
    def report_chosen(self, event: "Select.Changed") -> None:
        """A choice by mouse is an answer at once."""
        event.stop()
        if self.text == self._seen and not self.wrong:  # a list that has just been mounted, not a hand
            return
        self._seen = self.text
        self.post_message(self.Entered(self, self.text))

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """The focus has come."""
        self._mark(here=True)
        self.post_message(self.Reached(self))

    def on_descendant_blur(self, event: events.DescendantBlur) -> None:
        """The focus goes: what was typed is the answer."""
        self._mark(here=False)
        if not self.is_choice and self.touched:
            self.post_message(self.Entered(self, self.text))
