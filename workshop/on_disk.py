"""The file of a session on the disk: what it held when it was last seen, and how answers get into it.

Nothing here knows who answers; what is to be told of a file is given back as a line. Earlier versions are read in where
they are needed: a session is made before the first paint.
"""

from pathlib import Path
from time import time
from typing import Literal

from workshop import files, saves
from workshop.project import Project
from workshop.records import record
from workshop.visible import shown_path


@record
class OnDisk:
    """What a file held when it was last read or written."""

    text: str
    project: Project
    mark: tuple[int, ...] | None

    @property
    def is_edited(self) -> bool:
        """Whether a hand has put comments into it, which no answer keeps."""
        return "#" in self.text and self.text != saves.dumps(self.project)


def read_again(path: Path) -> OnDisk | saves.BadSave:
    """A file as it is now; what is wrong where it cannot be read."""
    from workshop import folder

    mark = files.mark_of(path)
    try:
        text = saves.text_of(path)
        return OnDisk(text, folder.read_text(text, path), mark)
    except saves.BadSave as error:
        return error


# ── writing ──────────────────────────────────────────────────────────────────────────────────────────


def put_there(path: Path, text: str, found: "Literal['mine', 'gone'] | saves.BadSave", before: OnDisk | None) -> str:
    """Write a text to the file that was ``found``: as it was, gone, or such that it cannot be read.

    Gives what is to be told once. ``before``: what a workshop has written there last. Raises CannotSave, AlreadyThere.
    """
    from workshop import versions

    versions.note_written(path, text)
    try:
        if isinstance(found, saves.BadSave):
            return _written_again(path, text, found)
        _written(path, text, new=found == "gone")
    except (saves.CannotSave, OSError):
        versions.note_written(path, before.text if before is not None else "")
        raise
    return f"{shown_path(path.name)} was gone. It's saved again, with all your answers." if found == "gone" else ""


def _written(path: Path, text: str, *, new: bool = False) -> None:
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


def _written_again(path: Path, text: str, wrong: saves.BadSave) -> str:
    """The file, in which something cannot be read; that stays beside it. Gives what is told of it."""
    name = shown_path(path.name)
    try:
        with files.aside(path) as kept:
            _written(path, text)
    except files.FileFault as error:
        raise saves.CannotSave(f"{shown_path(path)}: {error}") from error
    if kept is None:
        return f"{name} was empty. It's saved again, with all your answers."
    what = saves.without_file(str(wrong), path)
    held = f"What was there is now in {shown_path(kept.name)}."
    return f"{name} couldn't be read ({what}). {held} Your project is saved again."


# ── what it held before ──────────────────────────────────────────────────────────────────────────────


def keep_version(path: Path, before: OnDisk | None, now: Project, *, lost: bool) -> str:
    """Keep what is on the disk before it is written over, where an answer changes or a hand has edited it; of a
    file that is ``lost`` what was there before. Gives what is to be told of it.
    """
    from workshop import versions

    mark = before.mark if lost and before is not None else files.mark_of(path)
    if mark is None or (before and before.mark == mark and not _would_lose(before, now)):
        return ""
    try:
        text = before.text if lost and before is not None else files.read_text(path, saves.LARGEST_BYTES)
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
    if before and "#" in text and text != saves.dumps(before.project):
        return (
            f"{name} was edited by hand. Your answer removed the comments in it. "
            "The version with them is among the earlier ones."
        )
    return ""


def _would_lose(before: OnDisk, now: Project) -> bool:
    from workshop.merging import changed_keys

    return before.is_edited or bool(changed_keys(before.project, now))


def keep_of_others(path: Path, before: OnDisk, theirs: OnDisk) -> str:
    """Keep what a file held before somebody else changed an answer in it, where that was no workshop, which has done
    so itself. Gives what is to be told of it.
    """
    from workshop import versions
    from workshop.merging import changed_keys

    if versions.is_of_a_workshop(path, theirs.text) or not changed_keys(before.project, theirs.project):
        return ""
    if versions.keep(path, before.text, before.mark[-1] / 1e9 if before.mark else time()) is None:
        return ""
    name = shown_path(path.name)
    return f"{name} was changed outside the workshop. What it held before is among the earlier versions."
