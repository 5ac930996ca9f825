"""A print on the disk: whole or not at all, and never over what is there unless that is said."""

import os
from pathlib import Path

from workshop import files, saves
from workshop.toml_text import has_format


def write(path: Path, text: str, *, source: Path | None = None, replace: bool = False) -> None:
    """Write a print to a file that there is not yet; with ``replace`` also over an older print.

    ``source`` is the file of the project that is printed. It and any other saved project are never printed over, by
    whatever name. Raises FileFault, and AlreadyThere where a file would have to be replaced.
    """
    if os.path.lexists(path):
        if source is not None and _is_one(path, source):
            raise files.FileFault("is the saved project itself. Choose another name")
        if not replace:
            raise files.AlreadyThere("there's already a file of that name")
        if _is_save(path):
            raise files.FileFault("is a saved project. Choose another name")
    files.write(path, text, new=not replace, make_folder=False)


def _is_one(path: Path, other: Path) -> bool:
    try:
        return path.samefile(other)
    except OSError:
        return False


def _is_save(path: Path) -> bool:
    """Whether a file is a project by its name, or by the format that it gives; also one that cannot be opened here."""
    if Path(os.path.realpath(path)).suffix.lower() == saves.SUFFIX:
        return True
    try:
        return has_format(saves.text_of(path))
    except saves.BadSave:
        return False
