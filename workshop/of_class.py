"""A class: every pupil's project of a folder, what their hands do next, and who needs the teacher first. Only read."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from workshop.core.plan import Plan
from workshop.folder import projects
from workshop.planned import plan
from workshop.progress import at_hand, next_step, progress
from workshop.saves import Saved
from workshop.words.phrase import in_terms_of, say_check


@dataclass(frozen=True, slots=True)
class Pupil:
    """One file of the folder: its plan, or its fault."""

    path: Path
    title: str
    plan: Plan | None
    fault: str = ""

    @property
    def step(self) -> str:
        """The step that the pupil is at."""
        return next_step(progress(self.plan)).name if self.plan else ""

    @property
    def next(self) -> str:
        """What the pupil's hands do next."""
        return in_terms_of(at_hand(self.plan), self.plan.project) if self.plan else ""

    @property
    def attention(self) -> tuple[str, ...]:
        """What needs a look."""
        if self.plan is None:
            return (self.fault,)
        found = self.plan
        asked = [c for c in found.checks if c.level in ("stop", "look")]
        again = [s for s in progress(found) if s.state == "look again" and s.because.startswith(("changed", "not"))]
        said = [say_check(c, found.project) for c in sorted(asked, key=lambda c: c.level != "stop")]
        return (*said, *(f"{s.name.capitalize()}: {s.because}" for s in again))

    @property
    def needs(self) -> tuple[int, int]:
        """How much a teacher is needed: lower is sooner."""
        if self.plan is None:
            return (0, 0)
        levels = [c.level for c in self.plan.checks]
        if "stop" in levels:
            return (1, -levels.count("stop"))
        return (2, -len(self.attention)) if self.attention else (3, 0)


def pupils(folder: Path) -> tuple[Pupil, ...]:
    """All project files of a folder, those first who need the teacher; damaged ones with their fault."""
    return in_need(each_pupil(folder))


def each_pupil(folder: Path) -> Iterator[Pupil]:
    """The same one after the other, as they are read."""
    return (_pupil(saved) for saved in projects(folder) if not saved.path.is_symlink())


def in_need(found: Iterator[Pupil] | Sequence[Pupil]) -> tuple[Pupil, ...]:
    """Those first who need the teacher."""
    return tuple(sorted(found, key=lambda p: (*p.needs, p.title.casefold(), p.path.name)))


def _pupil(saved: Saved) -> Pupil:
    if saved.project is None:
        return Pupil(saved.path, saved.title or saved.path.stem, None, saved.fault)
    return Pupil(saved.path, saved.project.title or saved.path.stem, plan(saved.project))
