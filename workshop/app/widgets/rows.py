"""What a form shows, line by line, without a screen: questions with their answers, headings, buttons."""

from collections.abc import Iterator, Sequence

from workshop.core.plan import Plan
from workshop.progress import may_stay_blank, offer_text, open_text
from workshop.project import Project
from workshop.questions import Field, Group
from workshop.questions.actions import Action
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
from workshop.records import record
from workshop.words.lines import wrapped
from workshop.words.phrase import in_terms_of

CHOOSE = "choose"

INLINE = 18
"""Labels up to this length stand beside their answer, longer ones above it."""

IF_BLANK = "{} if blank"
"""What stands in for a question without an answer: a length, and that it counts meanwhile."""

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


class Row:
    """A question in a form. It holds no answer: it shows the project's, and what is typed until that is taken."""

    def __init__(self, field: Field, project: Project) -> None:
        self.beside = _fits_beside(field, project)
        """Whether the answer stands beside the label."""
        self._draft = project.drafts.get(field.key)
        """Text that was refused and is still there, to be changed."""
        self.touched = False
        """Whether a hand has typed something that is neither taken nor refused yet."""
        self.fault = ""
        """Why what stands there was not taken."""
        self.offer = self.blank = ""
        self.needed = False
        self._follow(field, project)
        if self._draft is not None and not self.is_choice:
            self.text = self._draft

    def _follow(self, field: Field, project: Project) -> None:
        kind = field.question.kind
        self.field, self.label = field, in_terms_of(field.label, project)
        self.options: tuple[Option, ...] = kind.options(project) if isinstance(kind, Choice) else ()
        value = field.get(project)
        listed = str(value) if any(o.value == value for o in self.options) else ""
        self.text = listed if self.is_choice else field.shown(project)
        """What stands in the field: of a list the value, else what was typed."""

    @property
    def is_choice(self) -> bool:
        """Whether the answer is one of a list."""
        return isinstance(self.field.question.kind, Choice)

    def begins_with(self, option: Option) -> bool:
        """Whether its list opens at this answer: the one given, else the one offered."""
        return str(option.value) == self.text if self.text else bool(self.offer) and option.label == self.offer

    @property
    def shown(self) -> str:
        """The answer as it is read; empty where there is none."""
        return next((o.label for o in self.options if str(o.value) == self.text), self.text)

    @property
    def passed(self) -> bool:
        """Whether Enter passes it: one more of a kind than is asked for, and nothing stands in it."""
        return self.field.spare and not self.text

    @property
    def wrong(self) -> bool:
        """Whether what stands in the field was refused."""
        return bool(self.fault)

    def show(self, field: Field, plan: Plan, *, needed: bool) -> None:
        """Show the project's answer, unless the knitter is typing another one; else what is offered, or stands in."""
        text = self.text
        self.needed = needed
        self._follow(field, plan.project)
        if not self.is_choice and (self.touched or self._draft is not None):
            self.text = text
        self.offer, if_blank = offer_text(field, plan), open_text(field, plan)
        blank = f"suggested: {self.offer}" if self.offer else IF_BLANK.format(if_blank) if if_blank else ""
        self.blank = blank or self._blank(plan)

    def _blank(self, plan: Plan) -> str:
        """What an empty field says: whether it is needed, and in which unit."""
        if self.is_choice:
            return CHOOSE if self.needed else "optional"
        form = wanted_form(self.field, plan.project)
        if isinstance(self.field.question.kind, CountOver) and (self.needed or may_stay_blank(self.field, plan)):
            return "needed" if self.needed else "optional"
        says = "needed" if self.needed and not form.startswith("e.g.") else "" if form else "optional"
        return f"{form}, {says}" if form and says else form or says

    def typed(self, text: str) -> None:
        """A hand has typed or chosen this."""
        self.text, self.touched, self._draft, self.fault = text, True, None, ""

    def taken(self) -> None:
        """What was typed is an answer now, or was emptied."""
        self.touched, self._draft, self.fault = False, None, ""

    def refuse(self, why: str) -> None:
        """What was typed stays, to be changed."""
        self.touched, self._draft, self.fault = False, self.text, why


Stop = Row | Action
"""What the focus can come to."""


@record
class FormLine:
    """One line of a form: its part in it, its text, and what a click on it means."""

    part: str
    text: str = ""
    stop: Stop | None = None


BLANK = FormLine("blank")


def lay_out(
    about: str, groups: Sequence[Group], rows: dict[str, Row], buttons: Sequence[Action], width: int
) -> Iterator[FormLine]:
    """All lines of a form of a width: what the step is for, its groups with their buttons, the buttons below."""
    yield from (FormLine("about", line) for line in wrapped(about, width))
    yield from (FormLine("button", b.label, b) for b in buttons if b.at == LEAD)
    yield BLANK
    for group in groups:
        yield FormLine("heading", group.title)
        for field in group.fields:
            yield from _of_row(rows[field.key], width)
        yield from (FormLine("button", b.label, b) for b in buttons if b.at == group.name or b.at == group.title)
        yield BLANK
    yield from (FormLine("button", b.label, b) for b in buttons if not b.at)


LEAD = "lead"
"""Where buttons belong that stand above all questions."""


def _of_row(row: Row, width: int) -> Iterator[FormLine]:
    if row.beside:
        yield FormLine("beside", row.label, row)
    else:
        yield FormLine("label", row.label, row)
        yield FormLine("answer", "", row)
    if row.fault:
        yield from (FormLine("fault", line, row) for line in wrapped(f"✗ {row.fault}", width - 1))
