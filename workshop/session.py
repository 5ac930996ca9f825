"""A project at work: one frozen project, its file, and answers that are on disk before the next one.

The app and the line-by-line mode both hold a :class:`Session`; neither keeps an answer of its own.
"""

from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from time import time
from typing import TYPE_CHECKING, Literal

from workshop import files, saves
from workshop.project import FORMAT, Project
from workshop.records import record

if TYPE_CHECKING:  # a session is made before the first paint, the core is read after it
    from workshop.core.knitting.before import Before
    from workshop.core.plan import Plan
    from workshop.questions import Field
    from workshop.versions import Version


@record
class OnDisk:
    """What the file of a session held when it was last read or written."""

    text: str
    project: Project
    mark: tuple[int, ...] | None


@record
class Contest:
    """A file that somebody else has changed meanwhile, so that mine cannot simply be written."""

    keys: tuple[str, ...]
    """The questions that both answered otherwise; none where the file cannot be read any more."""
    theirs: Project | None
    why: str
    """One line for the knitter."""


Way = Literal["theirs", "mine", "both"]

MARKS = ("last_step", "steps", "drafts")
"""What no plan depends on."""


@dataclass(slots=True)
class Session:
    """A project and its file. The file is made with the first answer."""

    project: Project
    folder: Path
    path: Path | None = None
    fault: str = ""
    """Why the last save did not reach the disk; empty when it did."""
    news: str = ""
    """One line to be told once: what happened to the file beside the answer."""
    asks: bool = False
    """Whether somebody will ask the knitter what to do about a contest; else hers goes on under another name."""
    contest: Contest | None = None
    _disk: OnDisk | None = field(default=None, repr=False)
    _looking: bool = field(default=False, repr=False)
    """Nothing was answered yet since the file was opened: it is left as it is."""
    _planned: Project | None = field(default=None, repr=False)
    """What ``_plan`` is the plan of."""
    _plan: "Plan | None" = field(default=None, repr=False)
    _before: "tuple[Before | None] | None" = field(default=None, repr=False)
    """Looked up once for a window."""

    @property
    def plan(self) -> "Plan":
        """The plan of the project as it is now; worked out once for each change."""
        from workshop.planned import plan

        if self._plan is None or self._planned is not self.project:
            self._plan, self._planned = plan(self.project), self.project
        return self._plan

    @property
    def before(self) -> "Before | None":
        """What the finished jumpers beside this one say of the knitter's hands, to be offered before the cast-on."""
        from workshop.past import before

        if self.path is None or self.project.knitting or self.project.taken:
            return None
        if self._before is None:
            self._before = (before(self.path, date.today()),)
        return self._before[0]

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
            self._looking = False
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

        new = confirm(step, self.project)
        if step in self.project.steps:  # it was done before in view of other answers: this is one to a question
            self._looking = self._looking and new == self.project
        self._mark(new)

    def counts_hold(self) -> None:
        """The knitter says that the counts are of this fabric, which both steps of counts ask about."""
        self._looking = False
        for step in ("gauge", "wash"):
            self.confirm(step)

    def agree(self, name: str) -> None:
        """The knitter has looked at a check and keeps the answer."""
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
        now = self.plan if self._plan is not None else None
        self.change_quietly(new)
        if now is not None and self.project is new:  # and not what another window has answered meanwhile
            marks = {name: getattr(new, name) for name in MARKS}
            self._plan, self._planned = replace(now, project=replace(now.project, **marks)), new

    def change_quietly(self, new: Project) -> None:
        """Take a change that is no answer; saved with the answers, where there was one since the file was opened."""
        if new != self.project:
            self.project = new
            if self.path is not None and not self._looking:
                self.save()

    def save(self) -> None:
        """Write the project to its file, which gets its name from the title. A fault is kept, not raised."""
        if self.project.format != FORMAT:
            self.project = replace(self.project, format=FORMAT)
        self._looking = False
        try:
            if self.path is None:
                self._begin(self.project.title)
            else:
                self._write(self.path)
        except (saves.CannotSave, OSError) as error:
            self.fault = str(error)

    def begin_as(self, name: str) -> None:
        """Make the file of a new project under the name given. A fault is kept, not raised."""
        try:
            self._begin(name)
        except (saves.CannotSave, OSError) as error:
            self.fault = str(error)

    def _begin(self, name: str) -> None:
        """The file of a new project, under a name that nobody has. Raises CannotSave."""
        while True:
            path = saves.new_path(self.folder, name)
            try:
                saves.save(self.project, path, new=True)
            except files.AlreadyThere:  # another window has just taken it
                continue
            self.path = path
            self._is_on_disk(path)
            return

    def _write(self, path: Path) -> None:
        """The file, with what somebody else has answered in it meanwhile. Raises CannotSave."""
        from workshop import versions

        with files.alone_in(path):
            if not self._gathered(path):
                return
            self._keep_version(path)
            while True:
                try:
                    saves.save(self.project, path)
                except saves.NoRoom:  # an answer is worth more than the oldest of the versions before it
                    if not versions.make_room(path):
                        raise
                else:
                    break
            self._is_on_disk(path)

    def _is_on_disk(self, path: Path) -> None:
        if self._disk is None:
            files.sweep(path.parent)
        self._disk = OnDisk(saves.dumps(self.project), self.project, files.mark_of(path))
        self.fault, self.contest = "", None

    # ── somebody else at the same file ───────────────────────────────────────────────────────────────

    def look(self) -> bool:
        """Whether somebody else has saved something meanwhile; if so it is taken over, beside what is mine."""
        from workshop.merging import changed_keys, merged

        disk, path = self._disk, self.path
        if path is None or disk is None or self.contest or files.mark_of(path) in (disk.mark, None):
            return False
        before = self.project
        if changed_keys(disk.project, before):  # an answer that could not be saved
            self.save()
            return self.project != before
        found = self._read_again(path)
        if isinstance(found, OnDisk):
            self.project, self._disk = merged(disk.project, before, found.project).project, found
        return self.project != before

    def _read_again(self, path: Path) -> "OnDisk | str":
        """The file as it is now; a line on what is wrong where it cannot be read."""
        from workshop import folder

        mark = files.mark_of(path)
        try:
            text = saves.text_of(path)
            return OnDisk(text, folder.read_text(text, path), mark)
        except saves.BadSave as error:
            return str(error)

    def _gathered(self, path: Path) -> bool:
        """Take into the project what the file has got meanwhile. False where mine may not be written over it."""
        from workshop.merging import merged

        disk = self._disk
        now = files.mark_of(path)
        if disk is None or now is None or now == disk.mark:  # one that was taken away is written again
            return True
        theirs = self._read_again(path)
        if isinstance(theirs, str):
            return self._contested(Contest((), None, f"{theirs}. The file was changed meanwhile and is left as it is"))
        both = merged(disk.project, self.project, theirs.project)
        if both.contested:
            from workshop.questions.steps import asked_as

            names = "; ".join(asked_as(key, self.project) for key in both.contested)
            why = f"{path.name} was changed in another window, and both windows answered: {names}"
            return self._contested(Contest(both.contested, theirs.project, why))
        self.project, self._disk = both.project, theirs
        return True

    def _contested(self, contest: Contest) -> bool:
        if not self.asks:
            self._go_on_beside(contest)
            return False
        from workshop import versions

        assert self.path is not None
        versions.keep(self.path, saves.dumps(self.project), time())
        self.contest, self.fault = contest, contest.why
        return False

    def _go_on_beside(self, contest: Contest) -> None:
        """Mine under another name; theirs stays. Raises CannotSave."""
        theirs = self.path
        assert theirs is not None
        self._begin(f"{theirs.stem} mine")
        assert self.path is not None
        self.news = f"{contest.why}. Your answers are now in {self.path.name}. {theirs.name} stays as it is."

    def choose(self, way: Way) -> None:
        """The knitter's answer to a contest: what the other window has, what she has, or both in two files.

        What is not chosen is among the earlier versions. A file that cannot be read is never written over: hers
        then goes on beside it. A fault is kept, not raised.
        """
        from workshop.merging import merged

        contest, path = self.contest, self.path
        if contest is None or path is None:
            return
        self.contest, self.fault = None, ""
        theirs = self._read_again(path)
        try:
            if isinstance(theirs, str) or way == "both":
                self._go_on_beside(contest)
            elif way == "theirs":
                self.project, self._disk = theirs.project, theirs
            else:
                both = merged(self._disk.project, self.project, theirs.project) if self._disk else None
                self.project, self._disk = (both.project if both else self.project), theirs
                self._write(path)
        except (saves.CannotSave, OSError) as error:
            self.fault = str(error)

    # ── earlier versions ─────────────────────────────────────────────────────────────────────────────

    def _keep_version(self, path: Path) -> None:
        """Keep what is on the disk before it is written over, where an answer changes or a hand has edited it."""
        from workshop import versions

        mark = files.mark_of(path)
        if mark is None or (self._disk and self._disk.mark == mark and not self._answers_differ(self._disk)):
            return
        try:
            text = files.read_text(path, saves.LARGEST_BYTES)
        except files.FileFault:
            return
        place = versions.keep(path, text, mark[-1] / 1e9)
        if files.has_other_names(path):
            self.news = (
                f"{path.name} has a second name on the disk. The file of that name still has your earlier answers."
            )
        elif place is None:
            self.news = f"Earlier versions of {path.name} can't be kept on this disk."
        elif place == versions.places_of(path)[1] and len(list(place.iterdir())) == 1:
            self.news = (
                f"Earlier versions of {path.name} are kept in {place.parent}, "
                "because its own folder can't be written to."
            )
        elif "#" in text and self._disk and text != saves.dumps(self._disk.project):
            self.news = (
                f"{path.name} was edited by hand. Your answer removed the comments in it. "
                "The version with them is among the earlier ones."
            )

    def _answers_differ(self, disk: OnDisk) -> bool:
        from workshop.merging import changed_keys

        edited = "#" in disk.text and disk.text != saves.dumps(disk.project)
        return edited or bool(changed_keys(disk.project, self.project))

    def earlier(self) -> "tuple[Version, ...]":
        """Earlier versions of the project that are sound in every answer, the newest first."""
        from workshop.questions.steps import faults
        from workshop.versions import listed

        found = listed(self.path, self.project) if self.path is not None else ()
        return tuple(v for v in found if not faults(v.project))

    def bring_back(self, version: "Version") -> None:
        """Go on from an earlier version; what is there now becomes one, so that this can be taken back too.

        Rows that have been knitted since stay knitted.
        """
        from workshop.merging import with_knitting_of

        self.project = with_knitting_of(version.project, self.project)
        self.save()

    def go_on_in(self, place: Path) -> None:
        """Save in another folder, or under another name, and go on there. A fault is kept, not raised."""
        folder = self.folder
        self.folder, name = (place, self.project.title) if place.is_dir() else (place.parent, place.stem)
        try:
            self._begin(name)
        except (saves.CannotSave, OSError) as error:
            self.folder, self.fault = folder, str(error)

    def copy(self, title: str, of: Project | None = None) -> "Session":
        """A session on a copy of the project, or on one made ``of`` it, under another title and in a file of its own.

        Its ``fault`` says why not.
        """
        from workshop.progress import keep_in_step

        made = self.project if of is None else keep_in_step(self.project, of)
        other = Session(replace(made, title=title), self.folder)
        other.save()
        return other


def opened(path: Path, *, unread: bool = False) -> Session:
    """A session on a saved project. Raises :class:`workshop.saves.BadSave`.

    A demo project stays as it is: the first answer makes a copy of it among the knitter's own. ``unread``: its answers
    are not held to the questions yet; whoever opens it so does that once it has been painted.
    """
    mark = files.mark_of(path)
    text = saves.text_of(path)
    if unread:
        project = saves.parsed(text, path, unread=True)
    else:
        from workshop import folder

        project = folder.read_text(text, path)
    if path.resolve().parent == saves.demo_folder().resolve():
        return Session(project, saves.default_folder())
    return Session(project, path.parent, path, _disk=OnDisk(text, project, mark), _looking=True)
