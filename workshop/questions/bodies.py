"""A designer's own bodies, of which a design is made in sizes: each is asked what Measure asks of one body."""

import re
from dataclasses import fields, replace

from workshop.project import MOST, Body, GradingBody, Project
from workshop.questions import Field, Question
from workshop.questions.kinds import Choice, Option, Words, on_one_line
from workshop.questions.measure import MEASURES, TABLE
from workshop.questions.places import in_body
from workshop.records import record
from workshop.units import NotUnderstood, shown, tidy


@record
class BodyName(Words):
    """A name that no other body of the list has."""

    number: int = 0
    """The body whose name it is, counted from 1; 0 for a new one."""

    def read(self, text: str, project: Project) -> str:
        """The name. Raises NotUnderstood where there is none, and where another body has it."""
        name = Words.read(self, text, project)
        if not name:
            raise NotUnderstood("this body needs a name")
        others = (other for n, other in enumerate(project.grading.names, 1) if n != self.number)
        if name.casefold() in (other.casefold() for other in others):
            raise NotUnderstood(f"there's already a body called '{shown(name)}'. Each body needs its own name")
        return name


NAME = Question(
    key="grading.body.name",
    step="measure",
    asks="Name",
    kind=BodyName(24),
    hint="the size takes the same name",
    why="You'll find the body by its name, in the list and in the brackets of the instructions.",
    needed=True,
)


def fields_of(project: Project, number: int) -> tuple[Field, ...]:
    """What is asked of one body, counted from 1: its name, its measurements, and the table that fills the gaps."""
    name = in_body(replace(NAME, kind=BodyName(24, number=number)), number)
    body, called = project.grading.body[number - 1], project.grading.names[number - 1]
    worn = replace(project, body=Body(**{**{f.name: getattr(body, f.name) for f in fields(Body)}, "source": "own"}))
    asked = tuple(in_body(q, number) for q in (*MEASURES, TABLE) if q.when(worn))
    return (replace(name, put=lambda p, value: _renamed(name.put(p, value), called, str(value))), *asked)


def all_fields(project: Project) -> tuple[Field, ...]:
    """What is asked of all bodies of the list."""
    return tuple(field for n in range(1, len(project.grading.body) + 1) for field in fields_of(project, n))


def with_body(project: Project, name: str) -> Project:
    """One more body, by its name. Raises NotUnderstood, also where the list is full."""
    if len(project.grading.body) >= MOST[GradingBody]:
        raise NotUnderstood(f"there are {MOST[GradingBody]} bodies already, and that's the most a list can hold")
    body = GradingBody(name=BodyName(24).read(name, project))
    return replace(project, grading=replace(project.grading, body=(*project.grading.body, body)))


def without_body(project: Project, number: int) -> Project:
    """Without one body, counted from 1, and without the lengths that were typed for it.

    Those that are left keep the names that they had by their places: their lengths go by them.
    """
    named = list(zip(project.grading.names, project.grading.body, strict=True))
    gone, _ = named.pop(number - 1)
    left = tuple(replace(body, name=name) for name, body in named)
    rule = {key: said for key, said in project.grading.rule.items() if key.partition(".")[2] != gone}
    return replace(project, grading=replace(project.grading, body=left, rule=rule))


def _renamed(project: Project, before: str, now: str) -> Project:
    """The lengths that were typed for one body go by its new name."""
    rule = {
        f"{length}.{now}" if size == before else key: said
        for key, said in project.grading.rule.items()
        for length, _, size in (key.partition("."),)
    }
    return replace(project, grading=replace(project.grading, rule=rule))


# ── in words ─────────────────────────────────────────────────────────────────────────────────────────


def number_of(project: Project, name: str) -> int | None:
    """The number of a body, counted from 1; None where none is called so."""
    wanted = on_one_line(name).casefold()
    return next((n for n, one in enumerate(project.grading.names, 1) if on_one_line(one).casefold() == wanted), None)


LONGEST_BODY = 1000
"""Characters of a body with all its measurements, spaces that follow one another counted once."""


def said_of_body(project: Project, said: str) -> Project:
    """A body as it is typed in one line: "Nell: chest 96, upper arm 31"; a dash clears. Raises NotUnderstood."""
    name, _, told = tidy(said, LONGEST_BODY).partition(":")
    number = number_of(project, name)
    if number is None:
        project = with_body(project, name)
        number = len(project.grading.body)
    for one in re.split(r"[;\n]|,(?!\d)", told):
        if one.strip():
            project = _measured(project, number, one.strip())
    return project


def _measured(project: Project, number: int, said: str) -> Project:
    """One measurement of a body: "upper arm 31", "wrist -"."""
    asked, words = fields_of(project, number)[1:], re.sub(r"[=:]", " ", said).split()
    named = Choice(lambda _: tuple(Option(f.key, f.label, also=(_short(f),)) for f in asked))
    for many in range(len(words) - (words[-1:] == ["-"]), 0, -1):
        try:
            key = named.read(" ".join(words[:many]), project)
        except NotUnderstood:
            continue
        field, text = next(f for f in asked if f.key == key), " ".join(words[many:])
        if not text:
            example = field.question.kind.example(project)
            raise NotUnderstood(f"'{shown(said)}' needs a measurement, for example {shown(said)} {example}")
        return field.answered(project, "" if text == "-" else text)
    raise NotUnderstood(
        f"'{shown(said)}' doesn't begin with the name of a measurement. Begin with one of these: "
        f"{', '.join(map(_short, asked))}"
    )


def _short(field: Field) -> str:
    """A measurement by its key: "upper arm"."""
    return field.key.rpartition(".")[2].removesuffix("_cm").replace("_", " ")
