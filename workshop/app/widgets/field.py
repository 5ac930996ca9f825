"""One question of a form: its label, a place to answer, and a line for what is wrong."""

from collections.abc import Iterable

from rich.text import Text
from textual import events, on
from textual.app import ComposeResult
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, Label, Select, Static

from workshop.project import Project
from workshop.questions import Field
from workshop.questions.kinds import Blend, Choice, Words
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
    if isinstance(kind, Words | Blend):
        return False
    return not isinstance(kind, Choice) or all(len(o.label) <= SHORT_CHOICE for o in kind.options(project))


class AnswerInput(Input):
    """A one-line answer. Up and down move between questions."""

    BINDINGS = [("up", "screen.focus_previous", ""), ("down", "screen.focus_next", "")]


class FieldRow(Widget):
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
        self._draft = draft
        """Text that was refused and is still there, to be mended."""
        self._given = field.shown(project)
        """The text of the accepted answer, to know whether anything was typed since."""
        self._seen = draft if draft is not None else self._given
        """The text last seen in the field: what a hand types differs from it."""
        self._listed = self._labels(project)
        self._label = Label(Content(in_terms(field.label, project.terms)), classes="label")
        self.control: Input | Select[object] = self._make_control(project)
        """What takes the focus."""
        self._fault: Static | None = None

    def _make_control(self, project: Project) -> "Input | Select[object]":
        if self.is_choice:
            return Select(self._options(project), prompt=CHOOSE, compact=True, value=self._value(project))
        return AnswerInput(self._seen, compact=True, select_on_focus=False)

    @property
    def is_choice(self) -> bool:
        """Whether the answer is one of a list."""
        return isinstance(self.field.question.kind, Choice)

    def compose(self) -> ComposeResult:
        yield self._label
        yield self.control

    def _options(self, project: Project) -> Iterable[tuple[Text, object]]:
        kind = self.field.question.kind
        assert isinstance(kind, Choice)
        return [(Text(o.label), o.value) for o in kind.options(project)]  # Text: never markup, and found by typing

    def _labels(self, project: Project) -> tuple[str, ...]:
        kind = self.field.question.kind
        return tuple(o.label for o in kind.options(project)) if isinstance(kind, Choice) else ()

    def _value(self, project: Project) -> object:
        value = self.field.get(project)
        kind = self.field.question.kind
        assert isinstance(kind, Choice)
        return value if any(o.value == value for o in kind.options(project)) else Select.NULL

    @property
    def text(self) -> str:
        """What stands in the field."""
        if isinstance(self.control, Select):
            return "" if self.control.is_blank() else str(self.control.value)
        return self.control.value

    @property
    def wrong(self) -> bool:
        """Whether what stands in the field was refused."""
        return self._fault is not None

    # ── showing ──────────────────────────────────────────────────────────────────────────────────────

    def show(self, field: Field, project: Project, offer: str) -> None:
        """Show the project's answer, unless the knitter is typing another one."""
        unfinished = self.text != self._given and (self.has_focus_within or self.wrong or self._draft is not None)
        if self.field.label != field.label:
            self._label.update(Content(in_terms(field.label, project.terms)))
        self.field = field
        self._given = field.shown(project)
        if isinstance(self.control, Select):
            self._show_choice(self.control, project)
        elif not unfinished and self.text != self._given:
            self._seen = self._given
            self.control.value = self._given
        self._show_offer(f"offered: {offer}" if offer else "")

    def _show_offer(self, text: str) -> None:
        """In the empty field itself, so that nothing moves when it is answered."""
        if isinstance(self.control, Select):
            prompt = text if text and "[" not in text else CHOOSE  # a prompt is read as markup
            if self.control.prompt != prompt:
                self.control.prompt = prompt
        elif self.control.placeholder != text:
            self.control.placeholder = text

    def _show_choice(self, select: "Select[object]", project: Project) -> None:
        with self.prevent(Select.Changed):
            labels = self._labels(project)
            if labels != self._listed:
                self._listed = labels
                select.set_options(self._options(project))
            value = self._value(project)
            if select.value != value:
                select.value = value

    def taken(self) -> None:
        """What was typed is an answer now."""
        self._draft = None
        self.fault("")

    def fault(self, text: str) -> None:
        """Say below the answer why it was not taken; an empty text takes that back."""
        if not text:
            if self._fault is not None:
                self._fault.remove()
                self._fault = None
            return
        self._draft = self.text
        shown = Content(f"✗ {text}")
        if self._fault is not None:
            self._fault.update(shown)
        elif isinstance(self.parent, Widget):
            self._fault = Static(shown, classes="fault")
            self.parent.mount(self._fault, after=self)

    # ── reporting ────────────────────────────────────────────────────────────────────────────────────

    @on(Input.Changed)
    def report_typed(self, event: Input.Changed) -> None:
        """Something was typed."""
        event.stop()
        if event.value == self._seen:  # a field that has just been mounted, not a hand
            return
        self._seen = event.value
        self.fault("")
        self.post_message(self.Typed(self, event.value))

    @on(Input.Submitted)
    def report_entered(self, event: Input.Submitted) -> None:
        """Enter: the answer is given, and the next question wanted."""
        event.stop()
        self.post_message(self.Entered(self, event.value, onward=True))

    @on(Select.Changed)
    def report_chosen(self, event: "Select.Changed") -> None:
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
