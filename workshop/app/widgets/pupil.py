"""What a teacher reads of one pupil, and of all of them: text only, nothing to be answered."""

from collections.abc import Callable, Sequence
from functools import partial

from textual.content import Content

from workshop.app.widgets.plan import HEADING, render, workings_text
from workshop.of_class.pupils import Pupil
from workshop.prints.blocks import Document
from workshop.prints.class_page import hands_sections, yarn_section
from workshop.prints.document import summary
from workshop.project import STEPS, Project
from workshop.questions import Field
from workshop.questions.steps import groups, named
from workshop.words.lines import wrapped
from workshop.words.phrase import in_terms_of
from workshop.words.titles import title_of

Lines = list[Content]


def pages(pupil: Pupil) -> tuple[tuple[str, Callable[[int], Lines]], ...]:
    """The plan with what needs a look, every answer, and how each number was worked out."""
    now = pupil.plan
    assert now is not None
    return (
        ("The plan", partial(_plan, pupil)),
        ("Every answer", partial(_answers, now.project)),
        ("How each number was worked out", partial(workings_text, now)),
    )


def _plan(pupil: Pupil, room: int) -> Lines:
    assert pupil.plan is not None
    lines = [Content(line) for line in wrapped(pupil.next, room)]
    for text in pupil.attention:
        lines += [Content.styled(line, "bold") for line in wrapped(f"! {text}", room, hang=2)]
    return [*lines, Content(""), *render(summary(pupil.plan, columns=room), room)]


def _answers(project: Project, room: int) -> Lines:
    """Every answer under its step, as it would be typed."""
    lines: Lines = []
    for name in STEPS[:-1]:
        told = [line for group in groups(name, project) for line in _group(group.title, group.fields, project, room)]
        if told:
            lines += [Content.styled(title_of(name, project.terms), HEADING), *map(Content, told), Content("")]
    return lines or [Content("Nothing has been answered yet.")]


def _group(title: str, fields: Sequence[Field], project: Project, room: int) -> list[str]:
    given = [(in_terms_of(named(f), project), f.shown(project)) for f in fields if f.shown(project)]
    told = [line for label, text in given for line in wrapped(f"  {label}: {text}", room, hang=4)]
    return [*([in_terms_of(title, project)] if title else []), *told] if told else []


def yarn_text(pupils: Sequence[Pupil], room: int) -> Lines:
    """One yarn order; empty where nobody has a plan."""
    section = yarn_section(pupils)
    return render(Document("", (section,)), room) if section.blocks else []


def swatches_text(pupils: Sequence[Pupil], room: int, *, plain: bool) -> Lines:
    """All swatches beside each other; empty where none is counted."""
    return render(Document("", hands_sections(pupils, plain=plain, columns=room)), room)
