"""What somebody else has made of the file of a session meanwhile: another window, an editor, another computer."""

from collections.abc import Collection
from pathlib import Path
from typing import Literal

from workshop import files, saves, versions
from workshop.merging import changed_keys, differ, merged
from workshop.on_disk import OnDisk, read_again
from workshop.project import Project
from workshop.records import record
from workshop.visible import shown_path


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


@record
class Together:
    """What both answered, put together, and what is in the file."""

    project: Project
    theirs: OnDisk


Way = Literal["theirs", "mine", "both"]
"""Whose answers count after a contest."""


def gathered(
    path: Path, disk: OnDisk | None, mine: Project, past: Collection[int]
) -> Literal["mine", "gone"] | saves.BadSave | Together | Contest:
    """How the file is, which held ``disk`` and in the ``past`` the texts of these hashes: mine to write; gone; with
    something in it that is to be put aside; with answers that go together with mine; or such that mine may not be
    written over it.
    """
    now = files.mark_of(path)
    if disk is None or now == disk.mark:
        return "mine"
    if now is None:
        return "gone"
    theirs = read_again(path)
    if isinstance(theirs, saves.BadSave):
        if not isinstance(theirs, saves.NewerSave) and files.is_ours_to_read(path):
            return theirs
        return Contest((), None, f"{theirs}. The file has changed in the meantime, so it's left as it is")
    if went_back(path, disk, theirs, past):
        return about_older(path, mine, theirs)
    both = merged(disk.project, mine, theirs.project)
    return about_both(path, mine, theirs, both.contested) if both.contested else Together(both.project, theirs)


def about_both(path: Path, mine: Project, theirs: OnDisk, keys: tuple[str, ...]) -> Contest:
    """Both have answered the same questions otherwise."""
    from workshop.questions.steps import asked_as

    names = "; ".join(asked_as(key, mine) for key in keys)
    why = f"{shown_path(path.name)} was changed in another window, and both windows answered: {names}"
    return Contest(keys, theirs.project, why)


def about_older(path: Path, mine: Project, theirs: OnDisk) -> Contest:
    """The file went back to what it was before."""
    why = f"An older version of {shown_path(path.name)} was written over your answers"
    return Contest(changed_keys(mine, theirs.project), theirs.project, why, older=True)


def went_back(path: Path, disk: OnDisk, theirs: OnDisk, past: Collection[int]) -> bool:
    """Whether the file holds again what it held earlier, and it's not a workshop that has brought it back."""
    if not differ(disk.project, theirs.project) or versions.is_of_a_workshop(path, theirs.text):
        return False
    if hash(theirs.text) in past:
        return True
    earlier = versions.listed(path, None) if changed_keys(disk.project, theirs.project) else ()
    return any(not changed_keys(version.project, theirs.project) for version in earlier)
