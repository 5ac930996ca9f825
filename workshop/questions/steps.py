"""The questions of each step, and the fields of a project."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import cache
from math import isfinite
from types import ModuleType

from workshop.project import STATES, Project
from workshop.questions import Field, Group, Question, always, bodies, fibre, gauge, measure, shape, swatch, wash
from workshop.questions.kinds import Choice, Kind
from workshop.questions.places import in_table
from workshop.units import NotUnderstood, shown

MODULES: dict[str, ModuleType] = {
    "fibre": fibre,
    "swatch": swatch,
    "gauge": gauge,
    "wash": wash,
    "measure": measure,
    "shape": shape,
}


def groups(name: str, project: Project) -> tuple[Group, ...]:
    """The fields of a step for a project, under their headings; none for the summary."""
    module = MODULES.get(name)
    return module.groups(project) if module else ()


class _Latest:
    """The fields of the project that was asked about last: its steps are gone through several times in a row."""

    project: Project | None = None
    fields: dict[str, tuple[Field, ...]]


def fields(name: str, project: Project) -> tuple[Field, ...]:
    """All fields of a step in their order."""
    if _Latest.project is not project:
        _Latest.project, _Latest.fields = project, {}
    if name not in _Latest.fields:
        _Latest.fields[name] = tuple(f for g in groups(name, project) for f in g.fields)
    return _Latest.fields[name]


def all_questions() -> tuple[Question, ...]:
    """Every question declared."""
    found: list[Question] = []
    for module in MODULES.values():
        found += module.QUESTIONS
    return tuple(found)


WHOLE = {
    "yarn": "a yarn",
    "swatch": "a swatch",
    "grading.body": "your own bodies",
    "grading.rule": "how lengths follow the size",
}
"""What is told as a whole where it changes, by its key."""


def asked_as(key: str, project: Project) -> str:
    """The question behind a key of the save file, as a knitter reads it: "Needle size (swatch A)"."""
    table, *rest = key.split(".")
    whole = WHOLE.get(".".join(key.split(".")[:2]))
    if whole:
        return whole
    if table == "reading":
        return _counts_at(rest)
    asked = next((named(f) for name in MODULES for f in fields(name, project) if f.key == key), "")
    if not asked:  # not asked of this project: by the declaration
        plain = f"{table}.{rest[-1]}" if rest else table
        asked = next((q.called or q.asks.removesuffix("?") for q in all_questions() if q.key == plain), "")
    if not asked:
        return (rest[-1] if rest else table).removesuffix("_cm").replace("_", " ")
    if table not in ("yarn", "swatch") or len(rest) < 2 or len(getattr(project, table)) < 2:
        return asked
    called = next((y.name for y in project.yarn if table == "yarn" and y.id == rest[0]), "")
    return f"{asked} ({called or f'{table} {rest[0]}'})"


def named(field: Field) -> str:
    """What a sentence calls a question: its label, without a question mark."""
    return field.question.called or field.label.removesuffix("?")


def _counts_at(place: Sequence[str]) -> str:
    """Counts by the parts of their key: "stitches of swatch A, before washing"."""
    at = next((i for i, part in enumerate(place) if part in STATES), len(place))  # a name may have dots
    state, along, *_ = (*place[at:], "", "")
    return f"{along or 'counts'} of swatch {'.'.join(place[:at])}, {COUNTED.get(state, state)}"


COUNTED = {"off needles": "before washing"}
"""How a state of counts is called where its name in files is another one."""


# ── which answers count ──────────────────────────────────────────────────────────────────────────────
# An answer outlives its question: a knitter who measured a garment that fits and goes back to a tape finds the
# figures again when she returns. Until then they stay in the file and out of the plan.

UNANSWERED = (None, "", ())


@cache
def conditional() -> tuple[tuple[Question, Field], ...]:
    """Every question with a condition, and where its answer lives.

    Counts have a condition of their own, swatch by swatch (``gauge.not_asked``).
    """
    return tuple((q, in_table(q)) for q in all_questions() if q.when is not always and not q.key.startswith("reading."))


def not_asked_now(project: Project) -> tuple[Field, ...]:
    """The questions that hold an answer and are not asked of this project, or not any more."""
    hidden = tuple(f for q, f in conditional() if f.get(project) not in UNANSWERED and not q.when(project))
    return hidden + gauge.not_asked(project)


def as_asked(project: Project) -> Project:
    """The project without the answers to questions that are not asked: as if they had never been given.

    One answer can be the reason why another question is asked, so it is looked through until nothing changes.
    The same object comes back where every answer counts.
    """
    while hidden := not_asked_now(project):
        for field in hidden:
            project = field.put(project, None)
    return project


def faults(project: Project) -> tuple[tuple[str, str], ...]:
    """Answers of a project that no field would have taken, as (key, what is wrong).

    A save may have been edited by hand: every answer is shown and read again as if it had been typed. In the units of
    the file, so that nothing is converted and no limit missed by rounding; what is wrong is told in those in use.
    """
    as_kept = replace(project, units="cm", needle_names="mm")
    asked = [field for name in MODULES for field in fields(name, project)]
    found = []
    for field in (*asked, *not_asked_now(project), *bodies.all_fields(project)):
        value = field.get(project)
        kind = field.question.kind
        if value in UNANSWERED or (isinstance(kind, Choice) and _listed(kind, value, project)):
            continue
        if isinstance(kind, Choice):  # a file is put right with the words of files
            known = ", ".join(str(o.value) for o in kind.options(project) if o.ready)
            if known:  # the sizes of no table say nothing of a size
                found.append((field.key, f"'{shown(str(value))}' isn't one of the choices. Choose {known}"))
            continue
        if wrong := _refused(kind, value, as_kept):
            found.append((field.key, _refused(kind, value, project) or wrong))
    return (*found, *_of_sizes(project, as_kept))


def _of_sizes(project: Project, as_kept: Project) -> Iterator[tuple[str, str]]:
    """What is wrong with lengths that were typed for one size: they are held to the question of that length."""
    for key in project.grading.rule:
        cm = project.grading.by_hand(key)
        asked = next((q for q in all_questions() if q.key == f"garment.{key.partition('.')[0]}"), None)
        if cm is None or asked is None:
            continue
        if not isfinite(cm):
            yield f"grading.rule.{key}", f"is {cm}. It should be a number that can be measured"
        elif wrong := _refused(asked.kind, cm, as_kept):
            yield f"grading.rule.{key}", _refused(asked.kind, cm, project) or wrong


def _refused(kind: Kind, value: object, project: Project) -> str:
    """What is wrong with a value that is shown and read in the units of a project; empty if nothing is."""
    try:
        kind.read(kind.show(value, project), project)
    except NotUnderstood as error:
        return str(error)
    return ""


def _listed(kind: Choice, value: object, project: Project) -> bool:
    """Whether a choice lists a value, also one that is still to come: the plan says so by itself."""
    return any(option.value == value for option in kind.options(project))
