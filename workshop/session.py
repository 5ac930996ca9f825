"""A project at work: one frozen project, its file, and answers that are on disk before the next one.

The app and the line-by-line mode both hold a :class:`Session`; neither keeps an answer of its own.
"""

from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from workshop import saves
from workshop.project import FORMAT, Project

if TYPE_CHECKING:  # a session is made before the first paint, the core is read after it
    from workshop.core.plan import Plan
    from workshop.questions import Field


@dataclass(slots=True)
class Session:
    """A project and its file. The file is made with the first answer."""

    project: Project
    folder: Path
    path: Path | None = None
    fault: str = ""
    """Why the last save did not reach the disk; empty when it did."""
    _plan: "Plan | None" = field(default=None, repr=False)

    @property
    def plan(self) -> "Plan":
        """The plan of the project as it is now; worked out once for each change."""
        from workshop.core.plan import plan

        if self._plan is None or self._plan.project is not self.project:
            self._plan = plan(self.project)
        return self._plan

    def answer(self, asked: "Field", text: str) -> None:
        """Take a typed answer and save it. Raises NotUnderstood; then no answer has changed."""
        from workshop.questions.kinds import Choice
        from workshop.units import NotUnderstood

        try:
            new = asked.answered(self.project, text)
        except NotUnderstood:
            if not isinstance(asked.question.kind, Choice):
                self._keep_draft(asked.key, text)
            raise
        self.change(replace(new, drafts={k: v for k, v in new.drafts.items() if k != asked.key}))

    def _keep_draft(self, key: str, text: str) -> None:
        """Text that was not understood is saved too: nothing typed is lost."""
        if text.strip() and self.project.drafts.get(key) != text:
            self.project = replace(self.project, drafts={**self.project.drafts, key: text})
            self.save()

    def forget_draft(self, asked: "Field") -> None:
        """Text that was refused has been emptied by hand: it does not come back."""
        if asked.key in self.project.drafts:
            kept = {k: v for k, v in self.project.drafts.items() if k != asked.key}
            self._mark(replace(self.project, drafts=kept))

    def change(self, new: Project) -> None:
        """Take a changed project and save it."""
        from workshop.progress import keep_in_step

        if new == self.project:
            return
        self.project = keep_in_step(self.project, new)
        self.save()

    def confirm(self, step: str) -> None:
        """The knitter has been through a step: it agrees with the earlier answers as they are."""
        from workshop.progress import confirm

        self._mark(confirm(step, self.project))

    def counts_hold(self) -> None:
        """The knitter says that the counts are of this cloth, which both steps of counts ask about."""
        for step in ("gauge", "wash"):
            self.confirm(step)

    def agree(self, name: str) -> None:
        """The knitter has looked at a check and says that it is right as it is."""
        if name not in self.project.agreed:
            self.change(replace(self.project, agreed=(*self.project.agreed, name)))

    def at(self, step: str) -> None:
        """Remember where the knitter is, for the next time. An older file stays as it is until an answer."""
        new = replace(self.project, last_step=step)
        if new.format == FORMAT:
            self._mark(new)
        else:
            self.project = new

    def _mark(self, new: Project) -> None:
        """Take a change that no plan depends on: the plan there is stays."""
        kept = replace(self.plan, project=new) if self._plan is not None else None
        self.change_quietly(new)
        self._plan = kept

    def change_quietly(self, new: Project) -> None:
        """Take a change that is no answer; saved if there is a file already."""
        if new != self.project:
            self.project = new
            if self.path is not None:
                self.save()

    def save(self) -> None:
        """Write the project to its file, which gets its name from the title. A fault is kept, not raised."""
        if self.project.format != FORMAT:
            self.project = replace(self.project, format=FORMAT)
        try:
            if self.path is None:
                self.path = saves.new_path(self.folder, self.project.title)
            saves.save(self.project, self.path)
        except (saves.CannotSave, OSError) as error:
            self.fault = str(error)
        else:
            self.fault = ""


def opened(path: Path) -> Session:
    """A session on a saved project. Raises :class:`workshop.saves.BadSave`.

    A demo project stays as it is: the first answer makes a copy of it among the knitter's own.
    """
    project = saves.load(path)
    if path.resolve().parent == saves.demo_folder().resolve():
        return Session(project, saves.default_folder())
    return Session(project, path.parent, path)
