"""Every pupil's project of a folder: how far it is, what their hands do next, and who needs the teacher first."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

from workshop.core.knitting.needles import Needles, at_the_needles
from workshop.core.plan import Plan
from workshop.folder import projects, read
from workshop.of_class.attention import SOONEST, Look, attention
from workshop.planned import plan
from workshop.progress import at_hand, next_step, progress
from workshop.records import record
from workshop.saves import BadSave, Saved, without_file
from workshop.visible import in_one_line, shown_path
from workshop.words.at_needles import ALL_KNITTED, NO_PLAN, apart, place_told, row_told
from workshop.words.phrase import in_terms_of


@record
class Pupil:
    """One file of the folder: its plan, or its fault."""

    path: Path
    name: str
    """What the pupil is called in the list: the title of the project, else its file."""
    plan: Plan | None = None
    step: str = ""
    """The step that the pupil is at; empty where the file is damaged."""
    next: str = ""
    """What the pupil's hands do next."""
    looks: tuple[Look, ...] = ()
    """What needs a look, the most pressing first."""
    fault: str = ""
    """What is wrong with the file, in one line without its folder."""
    needles: Needles | None = None
    """What can be said at the needles; None before a row is knitted."""

    @property
    def knitting(self) -> bool:
        """Whether a row is knitted."""
        return self.needles is not None

    @property
    def ready(self) -> bool:
        """Whether the plan is done: it can be knitted from, or it is being."""
        return self.knitting or (self.step == "summary" and not self.looks)

    @property
    def attention(self) -> tuple[str, ...]:
        """What needs a look, as sentences."""
        return tuple(look.text for look in self.looks)

    @property
    def needs(self) -> tuple[int, ...]:
        """How soon the teacher is needed: lower is sooner. Each thing to look at counts, the most pressing first."""
        return (*(look.rank for look in self.looks), len(SOONEST))


def pupils(folder: Path, today: date) -> tuple[Pupil, ...]:
    """All project files of a folder, those first who need the teacher; damaged ones with their fault."""
    return in_need(each_pupil(folder, today))


def each_pupil(folder: Path, today: date) -> Iterator[Pupil]:
    """The same one after the other, as they are read. Links are no files of a pupil."""
    return (pupil_of(saved, today) for saved in projects(folder, links=False))


def one_pupil(path: Path, today: date) -> Pupil:
    """One file of a class as it is now."""
    try:
        return pupil_of(Saved(path, read(path)), today)
    except BadSave as error:
        return pupil_of(Saved(path, None, str(error), error.title), today)


def in_need(found: Iterable[Pupil]) -> tuple[Pupil, ...]:
    """Those first who need the teacher; those who need nothing by their names."""
    return tuple(sorted(found, key=lambda p: (p.needs, *by_name(p))))


def by_name(pupil: Pupil) -> tuple[list[str | int], str]:
    """Their order in lists of names: numbers in a name by their value, so that Knitter 10 comes after Knitter 9."""
    parts = re.split(r"(\d+)", pupil.name.casefold())
    return [int(part) if at % 2 else part for at, part in enumerate(parts)], pupil.path.name


def how_many_have_a_question(found: Iterable[Pupil]) -> int:
    """How many of them have something for the teacher to look at."""
    return sum(bool(p.looks) for p in found)


def without_names(found: Iterable[Pupil]) -> tuple[Pupil, ...]:
    """The same pupils, numbered by the names of their files: the number of each is the same in every print."""
    pupils = tuple(found)
    by_file = sorted(pupils, key=lambda p: p.path.name)
    return tuple(replace(p, name=f"Knitter {by_file.index(p) + 1}") for p in pupils)


def pupil_of(saved: Saved, today: date) -> Pupil:
    """What a teacher sees of a file."""
    named = saved.project.title if saved.project else saved.title
    name = in_one_line(named) or shown_path(saved.path.stem)
    if saved.project is None:
        fault = without_file(saved.fault, saved.path)
        return Pupil(saved.path, name, looks=(Look("fault", fault),), fault=fault)
    now = plan(saved.project)
    steps = progress(now)
    upcoming = next_step(steps)
    needles = at_the_needles(now, today) if any(k.rows for k in saved.project.knitting) else None
    doing = _doing(now, needles) if needles else at_hand(now, upcoming.name)
    return Pupil(
        saved.path,
        name,
        plan=now,
        step=upcoming.name,
        next=in_terms_of(doing, now.project),
        looks=attention(now, steps, needles),
        needles=needles,
    )


def _doing(plan: Plan, needles: Needles) -> str:
    """Where the knitting is, and the row to knit now."""
    hand, project = needles.at_hand, plan.project
    if hand is None:
        return ALL_KNITTED if needles.pieces else NO_PLAN
    pieces = [hand, *filter(None, [apart(needles, plan)])]
    alone = len(pieces) > 1
    told = (f"{place_told(p, project, alone=alone)} {row_told(p, project, named=alone)}".strip() for p in pieces)
    return " ".join(told)
