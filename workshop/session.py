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
from workshop.visible import in_one_line, shown_path

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
    older: bool = False
    """The file holds again what was in it earlier, and not what another window answered."""


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
        from workshop import versions

        mine, text = self.project, saves.text_for(self.project, path)  # before anything is put together with it
        with files.alone_in(path):
            found = self._gathered(path)
            if found == "not mine" or (found == "mine" and as_it_was):
                return
            self._pending = self._keep_version(path, lost=found != "mine") or self._pending
            text = as_it_was or (text if self.project is mine else saves.text_for(self.project, path))
            there = self._disk.text if self._disk is not None else ""
            versions.note_written(path, text)
            try:
                self._put_there(path, text, found)
            except (saves.CannotSave, OSError):
                versions.note_written(path, there)  # that is still what a workshop has written last
                raise
            self._is_on_disk(path, text)

    def _put_there(self, path: Path, text: str, found: "str | saves.BadSave") -> None:
        if isinstance(found, saves.BadSave):
            self._pending = self._written_again(path, text, found)
        elif found == "gone":
            self._written(path, text, new=True)
            self._pending = f"{shown_path(path.name)} was gone. It's saved again, with all your answers."
        else:
            self._written(path, text)

    def _written(self, path: Path, text: str, *, new: bool = False) -> None:
        from workshop import versions

        while True:
            try:
                saves.write(text, path, new=new)
            except saves.NoRoom:  # an answer is worth more than the oldest of the versions before it
                if not versions.make_room(path):
                    raise
            except files.AlreadyThere as error:  # somebody has just brought it back: it is read at the next look
                raise saves.CannotSave(f"{shown_path(path)}: {error}") from error
            else:
                return

    def _written_again(self, path: Path, as_it_was: str, wrong: saves.BadSave) -> str:
        """The file, in which something cannot be read; that stays beside it. Gives what is told of it."""
        name = shown_path(path.name)
        try:
            with files.aside(path) as kept:
                self._written(path, as_it_was)
        except files.FileFault as error:
            raise saves.CannotSave(f"{shown_path(path)}: {error}") from error
        if kept is None:
            return f"{name} was empty. It's saved again, with all your answers."
        what = saves.without_file(str(wrong), path)
        held = f"What was there is now in {shown_path(kept.name)}."
        return f"{name} couldn't be read ({what}). {held} Your project is saved again."

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
        from workshop.merging import differ, merged

        before = self.project
        if differ(disk.project, before):  # an answer, or a row, that could not be saved
            self.save()
            return self.project != before
        found = self._read_again(path)
        try:
            if isinstance(found, saves.BadSave):
                self._write(path, disk.text if self._looking else "")
            elif self._went_back(path, disk, found):
                self._contested(self._about_older(path, found))
            else:
                self.project = merged(disk.project, before, found.project).project
                self._take_over(path, disk, found)
        except (saves.CannotSave, OSError) as error:
            self.fault = str(error)
        return self.project != before

    def _read_again(self, path: Path) -> "OnDisk | saves.BadSave":
        """The file as it is now; what is wrong where it cannot be read."""
        from workshop import folder

        mark = files.mark_of(path)
        try:
            text = saves.text_of(path)
            return OnDisk(text, folder.read_text(text, path), mark)
        except saves.BadSave as error:
            return error

    def _gathered(self, path: Path) -> "Literal['mine', 'gone', 'not mine'] | saves.BadSave":
        """Take into the project what the file has got meanwhile. Says how it is: mine to write; gone; with something
        in it that is to be put aside; or such that mine may not be written over it.
        """
        from workshop.merging import merged

        disk = self._disk
        now = files.mark_of(path)
        if disk is None or now == disk.mark:
            return "mine"
        if now is None:
            return "gone"
        theirs = self._read_again(path)
        if isinstance(theirs, saves.BadSave):
            if not isinstance(theirs, saves.NewerSave) and files.is_ours_to_read(path):
                return theirs
            self._contested(Contest((), None, f"{theirs}. The file has changed in the meantime, so it's left as it is"))
            return "not mine"
        if self._went_back(path, disk, theirs):
            self._contested(self._about_older(path, theirs))
            return "not mine"
        both = merged(disk.project, self.project, theirs.project)
        if both.contested:
            from workshop.questions.steps import asked_as

            names = "; ".join(asked_as(key, self.project) for key in both.contested)
            why = f"{shown_path(path.name)} was changed in another window, and both windows answered: {names}"
            self._contested(Contest(both.contested, theirs.project, why))
            return "not mine"
        self.project = both.project
        self._take_over(path, disk, theirs)
        return "mine"

    def _take_over(self, path: Path, disk: OnDisk, theirs: OnDisk) -> None:
        """What somebody else has made of the file counts. A workshop has kept what it held before where an answer
        changed; of an editor, or another computer, that is done here.
        """
        from workshop import versions
        from workshop.merging import changed_keys

        self._now_there(theirs)
        if versions.is_of_a_workshop(path, theirs.text) or not changed_keys(disk.project, theirs.project):
            return
        if versions.keep(path, disk.text, disk.mark[-1] / 1e9 if disk.mark else time()) is not None:
            name = shown_path(path.name)
            self.news = f"{name} was changed outside the workshop. What it held before is among the earlier versions."

    def _went_back(self, path: Path, disk: OnDisk, theirs: OnDisk) -> bool:
        """Whether the file holds again what it held earlier, and it's not a workshop that has brought it back."""
        from workshop import versions
        from workshop.merging import changed_keys, differ

        if not differ(disk.project, theirs.project) or versions.is_of_a_workshop(path, theirs.text):
            return False
        if hash(theirs.text) in self._past:
            return True
        earlier = versions.listed(path, None) if changed_keys(disk.project, theirs.project) else ()
        return any(not changed_keys(version.project, theirs.project) for version in earlier)

    def _about_older(self, path: Path, theirs: OnDisk) -> Contest:
        from workshop.merging import changed_keys

        why = f"An older version of {shown_path(path.name)} was written over your answers"
        return Contest(changed_keys(self.project, theirs.project), theirs.project, why, older=True)

    def _contested(self, contest: Contest) -> None:
        if not self.asks:
            self._go_on_beside(contest)
            return
        from workshop import versions

        assert self.path is not None
        versions.keep(self.path, saves.dumps(self.project), time())
        self.contest, self.fault = contest, contest.why

    def _go_on_beside(self, contest: Contest) -> None:
        """Mine under another name; theirs stays. Raises CannotSave."""
        theirs = self.path
        assert theirs is not None
        self._begin(f"{theirs.stem} mine")
        assert self.path is not None
        mine = shown_path(self.path.name)
        self.news = f"{contest.why}. Your answers are now in {mine}. {shown_path(theirs.name)} stays as it is."

    def choose(self, way: Way) -> None:
        """The knitter's answer to a contest: what the file has, what she has, or both in two files.

        What is not chosen is among the earlier versions. A file that cannot be read is never written over: hers
        then goes on beside it. A fault is kept, not raised.
        """
        from workshop.merging import merged, with_knitting_of

        contest, path = self.contest, self.path
        if contest is None or path is None:
            return
        self.contest, self.fault = None, ""
        theirs = self._read_again(path)
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

    def _keep_version(self, path: Path, *, lost: bool) -> str:
        """Keep what is on the disk before it is written over, where an answer changes or a hand has edited it; of a
        file that is ``lost`` what was there before. Gives what is to be told of it.
        """
        from workshop import versions

        disk = self._disk
        mark = disk.mark if lost and disk is not None else files.mark_of(path)
        if mark is None or (disk and disk.mark == mark and not self._answers_differ(disk)):
            return ""
        try:
            text = disk.text if lost and disk is not None else files.read_text(path, saves.LARGEST_BYTES)
        except files.FileFault:
            return ""
        kept = versions.keep(path, text, mark[-1] / 1e9)
        name = shown_path(path.name)
        if not lost and files.has_other_names(path):
            return f"{name} has a second name on the disk. The file of that name still has your earlier answers."
        if kept is None:
            return f"Earlier versions of {name} can't be kept on this disk."
        if kept.elsewhere:
            return f"Earlier versions of {name} are kept in {shown_path(kept.place.parent)}, because {kept.elsewhere}."
        if "#" in text and disk and text != saves.dumps(disk.project):
            return (
                f"{name} was edited by hand. Your answer removed the comments in it. "
                "The version with them is among the earlier ones."
            )
        return ""

    def _answers_differ(self, disk: OnDisk) -> bool:
        from workshop.merging import changed_keys

        edited = "#" in disk.text and disk.text != saves.dumps(disk.project)
        return edited or bool(changed_keys(disk.project, self.project))

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


def recovered(path: Path) -> Session | None:
    """A session on the earlier versions of a project whose file cannot be read; None where there are none.

    What is in the file now is put aside once one of them is brought back.
    """
    session = Session(Project(), path.parent, path, lost=True, _disk=OnDisk("", Project(), None))
    return session if session.earlier() else None


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
