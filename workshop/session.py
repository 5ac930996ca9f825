"""A project at work: one frozen project, its file, and answers that are on disk before the next one.

The app and the line-by-line mode both hold a :class:`Session`; neither keeps an answer of its own.
"""

from dataclasses import dataclass, field, replace
from datetime import date
from pathlib import Path
from time import time
from typing import TYPE_CHECKING

from workshop import files, saves
from workshop.on_disk import OnDisk
from workshop.project import FORMAT, Project
from workshop.visible import in_one_line, shown_path

if TYPE_CHECKING:  # a session is made before the first paint, the core is read after it
    from workshop.core.knitting.before import Before
    from workshop.core.plan import Plan
    from workshop.elsewhere import Contest, Together, Way
    from workshop.questions import Field
    from workshop.versions import Version


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
    contest: "Contest | None" = None
    lost: bool = False
    """Its file cannot be read: there is nothing to go on from but earlier versions."""
    _pending: str = field(default="", repr=False)
    """What is news once an answer is saved."""
    _past: set[int] = field(default_factory=set, repr=False)
    """What the file has held since it was opened, each text by its hash."""
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
            new = self._answered(asked, text)
        except NotUnderstood:
            if not isinstance(asked.question.kind, Choice):
                self._keep_draft(asked.key, text)
            raise
        before, new = self.project, replace(new, drafts={k: v for k, v in new.drafts.items() if k != asked.key})
        self.change(new)
        if self.project is before and new != before:
            raise NotUnderstood(self.fault)

    def _answered(self, asked: "Field", text: str) -> Project:
        """The project with an answer as it was typed, or as it is in the file named. Raises NotUnderstood."""
        if not asked.question.from_file:
            return asked.answered(self.project, text)
        from workshop import typed_files
        from workshop.units import NotUnderstood

        found = typed_files.text_of(text, self.path.parent if self.path else self.folder)
        try:
            return asked.answered(self.project, found)
        except NotUnderstood as error:
            raise NotUnderstood(str(error) if found == text else f"{in_one_line(text.strip())}: {error}") from None

    def _keep_draft(self, key: str, text: str) -> None:
        """Text that was not understood is saved too: nothing typed is lost."""
        if text.strip() and self.project.drafts.get(key) != text:
            self._take(replace(self.project, drafts={**self.project.drafts, key: text}))

    def forget_draft(self, asked: "Field") -> None:
        """Text that was refused has been emptied by hand: it does not come back."""
        if asked.key in self.project.drafts:
            kept = {k: v for k, v in self.project.drafts.items() if k != asked.key}
            self._looking = False
            self._mark(replace(self.project, drafts=kept))

    def change(self, new: Project) -> None:
        """Take a changed project and save it."""
        from workshop.progress import keep_in_step

        if new != self.project:
            self._take(keep_in_step(self.project, new))

    def _take(self, new: Project) -> None:
        """Save a changed project; one that could not be opened again is not taken. A fault is kept, not raised."""
        before, disk, self.project = self.project, self._disk, new
        try:
            self._put_on_disk()
        except saves.TooLarge as error:
            self.fault = str(error)
            if self._disk is disk:
                self.project = before
        except (saves.CannotSave, OSError) as error:
            self.fault = str(error)

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
        try:
            self._put_on_disk()
        except (saves.CannotSave, OSError) as error:
            self.fault = str(error)

    def _put_on_disk(self) -> None:
        """The same. Raises CannotSave."""
        if self.project.format != FORMAT:
            self.project = replace(self.project, format=FORMAT)
        self._looking = False
        if self.path is None:
            self._begin(self.project.title)
        else:
            self._write(self.path)

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
            self._is_on_disk(path, saves.dumps(self.project))
            return

    def _write(self, path: Path, as_it_was: str = "") -> None:
        """The file, with what somebody else has answered in it meanwhile. Raises CannotSave.

        ``as_it_was``: the text of a file that nothing was answered in yet.
        """
        from workshop import on_disk
        from workshop.elsewhere import Contest, Together, gathered

        mine, disk, text = self.project, self._disk, saves.text_for(self.project, path)  # before anything is merged
        with files.alone_in(path):
            found = gathered(path, disk, mine, self._past)
            if isinstance(found, Contest):
                self._contested(found)
                return
            if isinstance(found, Together):
                self._take_over(path, found)
                found = "mine"
            if found == "mine" and as_it_was:
                return
            kept = on_disk.keep_version(path, self._disk, self.project, lost=found != "mine")
            self._pending = kept or self._pending
            text = as_it_was or (text if self.project is mine else saves.text_for(self.project, path))
            self._pending = on_disk.put_there(path, text, found, self._disk) or self._pending
            self._is_on_disk(path, text)

    def _is_on_disk(self, path: Path, text: str) -> None:
        if self._disk is None:
            files.sweep(path.parent)
        self._now_there(OnDisk(text, self.project, files.mark_of(path)))
        self.fault, self.contest, self.lost = "", None, False
        if self._pending:
            self.news, self._pending = self._pending, ""

    def _now_there(self, disk: OnDisk) -> None:
        if self._disk is not None:
            self._past.add(hash(self._disk.text))
        self._disk = disk

    # ── somebody else at the same file ───────────────────────────────────────────────────────────────

    def look(self) -> bool:
        """Whether somebody else has saved something meanwhile; if so it is taken over, beside what is mine.

        A file that is gone or cannot be read any more is written again, with what was in it; ``news`` says so.
        """
        disk, path = self._disk, self.path
        if path is None or disk is None or self.contest:
            return False
        if files.mark_of(path) == disk.mark:
            if self.fault and self.project == disk.project:  # it could not be reached for a while
                self.fault = ""
            return False
        from workshop.elsewhere import Together, about_older, went_back
        from workshop.merging import differ, merged
        from workshop.on_disk import read_again

        before = self.project
        if differ(disk.project, before):  # an answer, or a row, that could not be saved
            self.save()
            return self.project != before
        found = read_again(path)
        try:
            if isinstance(found, saves.BadSave):
                self._write(path, disk.text if self._looking else "")
            elif went_back(path, disk, found, self._past):
                self._contested(about_older(path, before, found))
            else:
                self._take_over(path, Together(merged(disk.project, before, found.project).project, found))
        except (saves.CannotSave, OSError) as error:
            self.fault = str(error)
        return self.project != before

    def _take_over(self, path: Path, found: "Together") -> None:
        """What somebody else has made of the file counts, beside what is mine."""
        from workshop.on_disk import keep_of_others

        before, self.project = self._disk, found.project
        self._now_there(found.theirs)
        if before is not None:
            self.news = keep_of_others(path, before, found.theirs) or self.news

    def _contested(self, contest: "Contest") -> None:
        if not self.asks:
            self._go_on_beside(contest)
            return
        from workshop import versions

        assert self.path is not None
        versions.keep(self.path, saves.dumps(self.project), time())
        self.contest, self.fault = contest, contest.why

    def _go_on_beside(self, contest: "Contest") -> None:
        """Mine under another name; theirs stays. Raises CannotSave."""
        theirs = self.path
        assert theirs is not None
        self._begin(f"{theirs.stem} mine")
        assert self.path is not None
        mine = shown_path(self.path.name)
        self.news = f"{contest.why}. Your answers are now in {mine}. {shown_path(theirs.name)} stays as it is."

    def choose(self, way: "Way") -> None:
        """The knitter's answer to a contest: what the file has, what she has, or both in two files.

        What is not chosen is among the earlier versions. A file that cannot be read is never written over: hers
        then goes on beside it. A fault is kept, not raised.
        """
        from workshop.merging import merged, with_knitting_of
        from workshop.on_disk import read_again

        contest, path = self.contest, self.path
        if contest is None or path is None:
            return
        self.contest, self.fault = None, ""
        theirs = read_again(path)
        try:
            if isinstance(theirs, saves.BadSave) or way == "both":
                self._go_on_beside(contest)
            elif way == "theirs":
                mine, self.project = self.project, theirs.project
                self._now_there(theirs)
                if contest.older:  # answers of before; what is knitted stays knitted
                    self.project = with_knitting_of(theirs.project, mine)
                    self._write(path)
            else:
                if self._disk is not None and not contest.older:  # nothing of an older version is to come back
                    self.project = merged(self._disk.project, self.project, theirs.project).project
                self._now_there(theirs)
                self._write(path)
        except (saves.CannotSave, OSError) as error:
            self.fault = str(error)

    # ── earlier versions ─────────────────────────────────────────────────────────────────────────────

    def earlier(self) -> "tuple[Version, ...]":
        """Earlier versions of the project that are sound in every answer, the newest first."""
        from workshop.questions.steps import faults
        from workshop.versions import listed

        now = None if self.lost else self.project
        found = listed(self.path, now) if self.path is not None else ()
        return tuple(v for v in found if not faults(v.project))

    def bring_back(self, version: "Version") -> None:
        """Go on from an earlier version; what is there now becomes one, so that this can be taken back too.

        Rows that have been knitted since stay knitted.
        """
        from workshop.merging import with_knitting_of

        self.project = version.project if self.lost else with_knitting_of(version.project, self.project)
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


def recovered(path: Path) -> "tuple[Session, tuple[Version, ...]] | None":
    """A session on the earlier versions of a project whose file cannot be read, and these; None where there are none.

    What is in the file now is put aside once one of them is brought back.
    """
    session = Session(Project(), path.parent, path, lost=True, _disk=OnDisk("", Project(), None))
    found = session.earlier()
    return (session, found) if found else None


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
