"""Where an answer lives in the frozen project: ways to read and replace it."""

from dataclasses import MISSING, replace
from typing import TYPE_CHECKING, Any, TypeVar

from workshop.project import Along, Project, Reading, State, StitchPattern, Swatch, Yarn
from workshop.questions import Field, Question

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

T = TypeVar("T", bound="DataclassInstance")


def _with(item: T, name: str, value: object) -> T:
    """An item with one answer; a cleared one goes back to what the field holds when it was never answered."""
    default = item.__dataclass_fields__[name].default
    changes: dict[str, Any] = {name: default if value is None and default is not MISSING else value}
    return replace(item, **changes)


def at_top(question: Question, name: str) -> Field:
    """A field of the project itself."""
    return Field(
        question, name, question.asks, lambda p: getattr(p, name), lambda p, v: _with(p, name, v), question.needed
    )


def in_table(question: Question) -> Field:
    """A field of one table: ``body.chest_cm``."""
    table, name = question.key.split(".")

    def get(project: Project) -> object:
        return getattr(getattr(project, table), name)

    def put(project: Project, value: object) -> Project:
        return _with(project, table, _with(getattr(project, table), name, value))

    return Field(question, question.key, question.asks, get, put, question.needed)


def in_item(question: Question, item: Yarn | Swatch | StitchPattern) -> Field:
    """A field of one yarn, swatch or stitch pattern: ``swatch.A.needle_mm``."""
    table, name = question.key.split(".")

    def get(project: Project) -> object:
        return next((getattr(i, name) for i in getattr(project, table) if i.id == item.id), None)

    def put(project: Project, value: object) -> Project:
        items = (_with(i, name, value) if i.id == item.id else i for i in getattr(project, table))
        return _with(project, table, tuple(items))

    return Field(question, f"{table}.{item.id}.{name}", question.asks, get, put, question.needed)


def in_panel(question: Question, number: int) -> Field:
    """A field of one panel, counted from 1: ``panel.1.repeats``."""
    return _in_list(question, "garment", "panel", number, f"panel.{number}")


def in_body(question: Question, number: int) -> Field:
    """A field of one body of the designer's own list, counted from 1: ``grading.body.1.chest_cm``."""
    return _in_list(question, "grading", "body", number, f"grading.body.{number}")


def _in_list(question: Question, group: str, items: str, number: int, key: str) -> Field:
    """A field of one of a group's ``items``, which have a number instead of an id."""
    name = question.key.rpartition(".")[2]

    def get(project: Project) -> object:
        listed = getattr(getattr(project, group), items)
        return getattr(listed[number - 1], name) if number <= len(listed) else None

    def put(project: Project, value: object) -> Project:
        of = getattr(project, group)
        listed = (_with(i, name, value) if n == number else i for n, i in enumerate(getattr(of, items), 1))
        return _with(project, group, _with(of, items, tuple(listed)))

    return Field(question, f"{key}.{name}", question.asks, get, put, question.needed)


def without_drafts(project: Project, *begins: str) -> Project:
    """Without the refused texts of questions whose keys begin so."""
    return replace(project, drafts={k: v for k, v in project.drafts.items() if not k.startswith(begins)})


def reading(
    question: Question, swatch: Swatch, state: State, along: Along, place: int, *, spare: bool = False
) -> Field:
    """One counted place: ``reading.A.washed.stitches.2``. Clearing it takes out that reading and no other."""
    swatch_id = swatch.id

    def get(project: Project) -> object:
        found = project.swatch_by_id(swatch_id)
        return found.places(state, along).get(place) if found else None

    def put(project: Project, value: Any) -> Project:
        return replace(
            project,
            swatch=tuple(_with_reading(s, value) if s.id == swatch_id else s for s in project.swatch),
        )

    def _with_reading(old: Swatch, value: Any) -> Swatch:
        there = dict(old.places(state, along))
        others = [r for r in old.reading if (r.state, r.along) != (state, along)]
        begin = next((i for i, r in enumerate(old.reading) if (r.state, r.along) == (state, along)), len(others))
        if value is None:
            there.pop(place, None)
        elif place in there:
            there[place] = replace(there[place], count=value[0], over_cm=value[1])
        else:
            there[place] = Reading(state, along, value[0], value[1])
        in_order = sorted(there)
        told = in_order == list(range(1, len(in_order) + 1))  # the order says it already
        mine = [replace(there[n], place=None if told else n) for n in in_order]
        return replace(old, reading=(*others[:begin], *mine, *others[begin:]))

    key = f"reading.{swatch_id}.{state}.{along}.{place}"
    label = f"{along.capitalize()}, place {place}"
    return Field(question, key, label, get, put, question.needed, spare)
