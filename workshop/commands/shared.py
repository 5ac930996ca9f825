"""What commands share: faults in one line, the project that is meant, and prints in their files."""

import argparse
import os
import shlex
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from workshop.visible import in_one_line, shown_path

if TYPE_CHECKING:
    from workshop.session import Session
    from workshop.versions import Version


FINE, FAULT = 0, 1
"""Exit codes; wrong usage leaves with 2 (:mod:`workshop.usage`)."""


class Faulty(Exception):
    """A fault to be told in one line on standard error, with exit code 1."""

    def __init__(self, what: str) -> None:
        super().__init__(in_one_line(what))


def is_folder(path: Path) -> bool:
    """Whether there is such a folder; a path that cannot even be looked at is none."""
    try:
        return path.is_dir()
    except OSError:
        return False


def is_there(path: Path) -> bool:
    """Whether there is such a file; one that cannot even be looked at is there, and reading it says why not."""
    try:
        return path.exists()
    except OSError:
        return True


def in_terminal() -> bool:
    """Whether somebody reads and types."""
    return sys.stdin.isatty() and sys.stdout.isatty()


def started_as() -> str:
    """What the knitter types to start the workshop again, as it was started this time."""
    if Path(sys.argv[0]).name != "__main__.py":
        return "workshop"
    python = f"{Path(sys.executable).stem} -m workshop"
    found = os.environ.get("PYTHONPATH")
    return f"PYTHONPATH={shlex.quote(found)} {python}" if found else python


def file_meant(path: Path) -> Path:
    """The file that a knitter means: a path, or the name of a saved project as ``list`` shows it. Raises Faulty."""
    from workshop import saves
    from workshop.folder import projects

    if is_there(path) or path.parent != Path():
        return path
    folder = saves.default_folder()
    for candidate in (folder / path, folder / f"{path}{saves.SUFFIX}"):
        if is_there(candidate) and not is_folder(candidate):
            return candidate
    wanted = str(path).casefold()
    called = [s.path for s in projects(folder) if s.title and s.title.casefold() == wanted]
    if len(called) > 1:
        raise Faulty(f"{path}: several projects have that name. Choose {', '.join(p.name for p in called)}")
    return called[0] if called else path


def there_are() -> str:
    """The projects that could have been meant, by the names of their files; empty where none is saved."""
    from workshop import saves

    names = [shown_path(saved.path.stem) for saved in saves.list_saves(saves.default_folder())]
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return f". Saved in {shown_path(saves.default_folder())}: {', '.join(names[:MOST_NAMED])}{more}" if names else ""


MOST_NAMED = 8
"""Projects that are named in one line; ``list`` shows all."""


def session_on(path: Path, *, unread: bool = False) -> "Session":
    """A session on a file, sound in every answer; ``unread``: its answers are not looked at yet. Raises Faulty."""
    from workshop import saves
    from workshop.session import opened

    asked, path = path, file_meant(path)
    if path.parent == Path() and not is_there(path):
        others = way_back(path) or there_are() or ". No project is saved yet"
        raise Faulty(f"{asked}: there's no such file{others}")
    try:
        return opened(path, unread=unread)
    except saves.BadSave as error:
        raise Faulty(f"{error}{way_back(path)}") from None


def with_versions(path: Path) -> "tuple[Session, tuple[Version, ...]] | None":
    """A session on the earlier versions of a project whose file is gone or can't be read, and these; None where there
    are none.
    """
    from workshop import saves
    from workshop.session import recovered

    folder, places = saves.default_folder(), [path]
    if path.parent == Path():
        places += [folder / path, folder / f"{path}{saves.SUFFIX}"]
    found = (recovered(place) for place in places if not is_folder(place))
    return next((known for known in found if known is not None), None)


def way_back(path: Path) -> str:
    """What brings the last good version of a project back, for the end of a line on its file; empty where none is."""
    known = with_versions(path)
    if known is None:
        return ""
    session, versions = known
    assert session.path is not None
    return f". To bring the last good version back: {to_bring_back(session.path, versions[0].number)}"


def to_bring_back(path: Path, number: int) -> str:
    """The command that brings a version back."""
    return f"{started_as()} earlier {shlex.quote(shown_path(path))} --bring-back {number}"


def ending_of(to: Path, allowed: tuple[str, ...]) -> str:
    """How the name of a print ends, which says what it is. Raises Faulty where it is none of these."""
    ending = to.suffix.lower()
    if ending not in allowed:
        known = f"{', '.join(allowed[:-1])} or {allowed[-1]}"
        raise Faulty(f"{to}: the name should end in {known}")
    return ending


def written(text: str, options: argparse.Namespace, source: Path | None = None) -> int:
    """A print in its file. Raises Faulty where that cannot be."""
    from workshop import files, printed

    try:
        printed.write(options.to, text, source=source, replace=options.replace)
    except files.AlreadyThere as error:
        raise Faulty(f"{options.to}: {error}. To replace it, add --replace") from None
    except files.FileFault as error:
        raise Faulty(f"{options.to}: {error}") from None
    print(f"{shown_path(options.to)} written")
    return FINE
