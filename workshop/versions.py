"""Earlier versions of a project, kept beside it: the last twenty answers, and the last state of each day.

They are files of their own in a hidden folder, plain saves like the one they come from, so that they can be read even
without the workshop. Where the folder of the saves cannot be written to, they are in the user's data folder.
"""

import hashlib
import os
import re
from collections.abc import Sequence
from datetime import datetime
from pathlib import Path

from workshop import files, saves
from workshop.merging import changed_keys
from workshop.project import Project
from workshop.records import record

FOLDER = ".earlier"
MOST_ANSWERS = 20
MOST_DAYS = 30
MOST_BYTES = 1_000_000
"""Of all versions of one project together, beside the newest."""

ALWAYS = 2
"""The newest, which stay however large they are: what was replaced last, and what was before that."""

LAST = "last-written"
"""A file beside the versions: the sum of the text that a workshop has written last."""

NAME = re.compile(r"(?P<number>\d{6,})-(?P<when>\d{8}-\d{6})\.toml", re.ASCII)
STAMP = "%Y%m%d-%H%M%S"
"""How a time stands in the name of a version."""


@record
class Version:
    """One earlier state of a project. ``number`` stays the same, whatever is kept after it."""

    number: int
    path: Path
    when: datetime
    """When it was written as the project."""
    changed: tuple[str, ...]
    """Keys of the answers that it differs in from what came after it."""
    project: Project


@record
class Kept:
    """Where a version was put. ``elsewhere``: why it is the first that is not beside the project; else empty."""

    place: Path
    elsewhere: str = ""


# ── where they are ───────────────────────────────────────────────────────────────────────────────────


def places_of(path: Path) -> tuple[Path, Path]:
    """Where versions of a project may be: beside it, and in the user's data folder."""
    real = Path(os.path.realpath(path))
    base = os.environ.get("LOCALAPPDATA" if os.name == "nt" else "XDG_DATA_HOME")
    data = (Path(base) if base else Path.home() / ".local" / "share") / "jumper-workshop" / "earlier"
    mark = hashlib.sha256(str(real.parent).encode("utf-8", "surrogateescape")).hexdigest()[:8]
    return real.parent / FOLDER / real.name, data / f"{mark}-{real.name}"


def _kept(path: Path) -> list[Path]:
    """All versions of a project that are kept, the oldest first."""
    found: list[Path] = []
    for place in places_of(path):
        try:
            found += [p for p in place.iterdir() if _when(p) is not None]
        except OSError:
            continue
    return sorted(found, key=lambda p: p.name)


# ── keeping ──────────────────────────────────────────────────────────────────────────────────────────


def keep(path: Path, text: str, when: float) -> Kept | None:
    """Keep what the file of a project held before it is written again, and let go of what is too old.

    ``when``: the time at which that was written, in seconds. Gives where it is, None where nothing could be kept.
    Never raises: an answer is worth more than the version before it.
    """
    before = _kept(path)
    last = before[-1] if before else None
    if last is not None and _text(last) == text:
        return Kept(last.parent)
    number = 1 + (_number(last) if last is not None else 0)
    name = f"{number:06d}-{files.time_of(when) or datetime.now():{STAMP}}.toml"
    why = ""
    for place in places_of(path):
        try:
            files.write(place / name, text, new=True, at_once=False)
        except files.FileFault as error:
            why = "its own disk is full" if isinstance(error, files.DiskFull) else "its own folder can't be written to"
            continue
        _let_go([*before, place / name])
        first = all(p.parent != place for p in before)
        return Kept(place, why if first else "")
    return None


def note_written(path: Path, text: str) -> None:
    """Leave beside the versions what a workshop is about to write, so that another one knows it for no editor's."""
    for place in places_of(path):
        try:
            files.write(place / LAST, _sum_of(text), at_once=False)
        except files.FileFault:
            continue
        return


def is_of_a_workshop(path: Path, text: str) -> bool:
    """Whether what is in the file of a project is what a workshop has written last."""
    return any(_text(place / LAST) == _sum_of(text) for place in places_of(path))


def _sum_of(text: str) -> str:
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def _text(path: Path) -> str | None:
    try:
        return files.read_text(path, saves.LARGEST_BYTES)
    except files.FileFault:
        return None


def _number(path: Path) -> int:
    found = NAME.fullmatch(path.name)
    return int(found["number"]) if found else 0


def _when(path: Path) -> datetime | None:
    """When a version was written as the project, by its name; None for a name of no date, which is no version."""
    found = NAME.fullmatch(path.name)
    try:
        return datetime.strptime(found["when"], STAMP) if found else None
    except ValueError:
        return None


def _day(path: Path) -> str:
    return path.name.partition("-")[2][:8]


def worth_keeping(kept: Sequence[Path], sizes: Sequence[int]) -> list[Path]:
    """Of versions, the oldest first, those that stay: the newest, and the last answers and days in a megabyte."""
    last_of_day = {_day(p): p for p in kept}
    wanted = {*kept[-MOST_ANSWERS:], *(last_of_day[day] for day in sorted(last_of_day)[-MOST_DAYS:])}
    size_of, total, stay = dict(zip(kept, sizes, strict=True)), 0, []
    for path in reversed(kept):
        if path in kept[-ALWAYS:] or (path in wanted and total + size_of[path] <= MOST_BYTES):
            total += size_of[path]
            stay.append(path)
    return stay[::-1]


def _let_go(kept: Sequence[Path]) -> None:
    sizes = []
    for path in kept:
        try:
            sizes.append(path.stat().st_size)
        except OSError:
            sizes.append(0)
    for path in set(kept) - set(worth_keeping(kept, sizes)):
        try:
            path.unlink(missing_ok=True)
        except OSError:
            continue


def make_room(path: Path) -> bool:
    """Let go of the oldest third of the versions beside a project, for want of room. False where there are none."""
    beside = [p for p in _kept(path) if p.parent == places_of(path)[0]]
    for old in beside[: (len(beside) + 2) // 3]:
        try:
            old.unlink()
        except OSError:
            return False
    return bool(beside)


# ── looking back ─────────────────────────────────────────────────────────────────────────────────────


def listed(path: Path, now: Project | None) -> tuple[Version, ...]:
    """The earlier versions of a project, the newest first, each with what changed after it; nothing after the newest
    where the project cannot be read ``now``. One that cannot be read any more is passed over.
    """
    found: list[Version] = []
    after = now
    for kept in reversed(_kept(path)):
        try:
            project = saves.load(kept)
        except saves.BadSave:
            continue
        when = _when(kept)
        assert when is not None
        changed = changed_keys(project, after) if after is not None else ()
        found.append(Version(_number(kept), kept, when, changed, project))
        after = project
    return tuple(found)
