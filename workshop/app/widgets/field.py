"""One question of a form: its label, a place to answer, and a line for what is wrong or offered."""

from collections.abc import Iterable

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Container, Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import Input, Label, Select, Static

from workshop.project import Project
from workshop.questions import Field
from workshop.questions.kinds import Choice
from workshop.words.phrase import in_terms

CHOOSE = "choose"

INLINE = 18
"""Labels up to this length stand beside their answer, longer ones above it."""

SHORT_CHOICE = 13
"""Choices whose answers are longer than this have the whole width."""


def _fits_beside(field: Field, project: Project) -> bool:
    """Whether label and answer have room on one line."""
    if len(field.label) > INLINE:
        return False
    kind = field.question.kind
    return not isinstance(kind, Choice) or all(len(o.label) <= SHORT_CHOICE for o in kind.options(project))


class AnswerInput(Input):
    """A one-line answer. Up and down move between questions."""

    BINDINGS = [("up", "screen.focus_previous", ""), ("down", "screen.focus_next", "")]


class FieldRow(Vertical):
    """A question in a form. It holds no answer: it shows the project's and reports what is typed."""

    class Typed(Message):
        """Text has changed; nothing is accepted yet."""

        def __init__(self, row: "FieldRow", text: str) -> None:
            super().__init__()
            self.row, self.text = row, text

    class Entered(Message):
        """The knitter has finished this answer."""

        def __init__(self, row: "FieldRow", text: str, *, onward: bool = False) -> None:
            super().__init__()
            self.row, self.text, self.onward = row, text, onward

    class Reached(Message):
        """The focus has come to this question."""

        def __init__(self, row: "FieldRow") -> None:
            super().__init__()
            self.row = row

    def __init__(self, field: Field, project: Project, draft: str | None) -> None:
        super().__init__(classes="inline" if _fits_beside(field, project) else "stacked")
        self.field = field
        self._first = project
        self._draft = draft
        self._given = field.shown(project)
        """The text of the accepted answer, to know whether anything was typed since."""
        self._listed = self._labels(project)

    @property
    def is_choice(self) -> bool:
        """Whether the answer is one of a list."""
        return isinstance(self.field.question.kind, Choice)

    def compose(self) -> ComposeResult:
        project = self._first
        with Container(classes="asked"):
            yield Label(Content(in_terms(self.field.label, project.terms)), classes="label")
            if self.is_choice:
                yield Select(self._options(project), prompt=CHOOSE, compact=True, value=self._value(project))
            else:
                text = self._draft if self._draft is not None else self._given
                yield AnswerInput(text, compact=True, select_on_focus=False)
        yield Static("", classes="fault", markup=False)

    def _options(self, project: Project) -> Iterable[tuple[Content, object]]:
        kind = self.field.question.kind
        assert isinstance(kind, Choice)
        return [(Content(o.label), o.value) for o in kind.options(project)]

    def _labels(self, project: Project) -> tuple[str, ...]:
        kind = self.field.question.kind
        return tuple(o.label for o in kind.options(project)) if isinstance(kind, Choice) else ()

    def _value(self, project: Project) -> object:
        value = self.field.get(project)
        kind = self.field.question.kind
        assert isinstance(kind, Choice)
        return value if any(o.value == value for o in kind.options(project)) else Select.NULL

    @property
    def control(self) -> Input | Select:  # type: ignore[type-arg]
        """What takes the focus."""
        return self.query_one(Select) if self.is_choice else self.query_one(Input)

    @property
    def text(self) -> str:
        """What stands in the field."""
        if self.is_choice:
            select = self.query_one(Select)
            return "" if select.is_blank() else str(select.value)
        return self.query_one(Input).value

    # ── showing ──────────────────────────────────────────────────────────────────────────────────────

    def show(self, field: Field, project: Project, offer: str) -> None:
        """Show the project's answer, unless the knitter is typing another one."""
        unfinished = (
            not self.is_choice and self.text != self._given and (self.has_focus_within or self.has_class("wrong"))
        )
        self.field = field
        self._given = field.shown(project)
        self.query_one(".label", Label).update(Content(in_terms(field.label, project.terms)))
        if self.is_choice:
            self._show_choice(project)
        elif not unfinished and self.text != self._given:
            with self.prevent(Input.Changed):
                self.query_one(Input).value = self._given
        self._show_offer(f"offered: {offer}" if offer else "")

    def _show_offer(self, text: str) -> None:
        """In the empty field itself, so that nothing moves when it is answered."""
        if self.is_choice:
            select = self.query_one(Select)
            prompt = text or CHOOSE
            if select.prompt != prompt:
                select.prompt = prompt
        else:
            self.query_one(Input).placeholder = text

    def _show_choice(self, project: Project) -> None:
        select = self.query_one(Select)
        with self.prevent(Select.Changed):
            labels = self._labels(project)
            if labels != self._listed:
                self._listed = labels
                select.set_options(self._options(project))
            value = self._value(project)
            if select.value != value:
                select.value = value

    def fault(self, text: str) -> None:
        """Say below the answer why it was not taken; an empty text takes that back."""
        self.set_class(bool(text), "wrong")
        self.query_one(".fault", Static).update(Content(f"✗ {text}" if text else ""))

    # ── reporting ────────────────────────────────────────────────────────────────────────────────────

    @on(Input.Changed)
    def report_typed(self, event: Input.Changed) -> None:
        """Something was typed."""
        event.stop()
        if event.value != self._given or self.has_class("wrong"):
            self.fault("")
        self.post_message(self.Typed(self, event.value))

    @on(Input.Submitted)
    def report_entered(self, event: Input.Submitted) -> None:
        """Enter: the answer is given, and the next question wanted."""
        event.stop()
        self.post_message(self.Entered(self, event.value, onward=True))

    @on(Select.Changed)
    def report_chosen(self, event: Select.Changed) -> None:
        """A choice is an answer at once."""
        event.stop()
        self.post_message(self.Entered(self, self.text))

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """The focus has come."""
        self.post_message(self.Reached(self))

    def on_descendant_blur(self, event: events.DescendantBlur) -> None:
        """The focus goes: what was typed is the answer."""
        if not self.is_choice and self.text != self._given:
            self.post_message(self.Entered(self, self.text))
