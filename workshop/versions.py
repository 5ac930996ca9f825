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
"""Of all versions of one project together."""

NAME = re.compile(r"(?P<number>\d{6,})-(?P<when>\d{8}-\d{6})\.toml")


@record
class Version:
    """One earlier state of a project. ``number`` counts from the newest, which is 1."""

    number: int
    path: Path
    when: datetime
    """When it was written as the project."""
    changed: tuple[str, ...]
    """Keys of the answers that it differs in from what came after it."""
    project: Project


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
            found += [p for p in place.iterdir() if NAME.fullmatch(p.name)]
        except OSError:
            continue
    return sorted(found, key=lambda p: p.name)


# ── keeping ──────────────────────────────────────────────────────────────────────────────────────────


def keep(path: Path, text: str, when: float) -> Path | None:
    """Keep what the file of a project held before it is written again, and let go of what is too old.

    ``when``: the time at which that was written, in seconds. Gives the folder that it went to, None where nothing
    could be kept. Never raises: an answer is worth more than the version before it.
    """
    before = _kept(path)
    last = before[-1] if before else None
    if last is not None and _text(last) == text:
        return last.parent
    number = 1 + (_number(last) if last is not None else 0)
    name = f"{number:06d}-{datetime.fromtimestamp(when):%Y%m%d-%H%M%S}.toml"
    for place in places_of(path):
        try:
            files.write(place / name, text, new=True, at_once=False)
        except files.FileFault:
            continue
        _let_go([*before, place / name])
        return place
    return None


def _text(path: Path) -> str | None:
    try:
        return files.read_text(path, saves.LARGEST_BYTES)
    except files.FileFault:
        return None


def _number(path: Path) -> int:
    found = NAME.fullmatch(path.name)
    return int(found["number"]) if found else 0


def _day(path: Path) -> str:
    return path.name.partition("-")[2][:8]


def worth_keeping(kept: Sequence[Path], sizes: Sequence[int]) -> list[Path]:
    """Of versions, the oldest first, those that stay: the last answers, the last of each day, all in a megabyte."""
    last_of_day = {_day(p): p for p in kept}
    wanted = {*kept[-MOST_ANSWERS:], *(last_of_day[day] for day in sorted(last_of_day)[-MOST_DAYS:])}
    size_of, total, stay = dict(zip(kept, sizes, strict=True)), 0, []
    for path in reversed(kept):
        if path in wanted and total + size_of[path] <= MOST_BYTES:
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


def listed(path: Path, now: Project) -> tuple[Version, ...]:
    """The earlier versions of a project, the newest first, each with what changed after it. One that cannot be
    read any more is passed over.
    """
    found: list[Version] = []
    after = now
    for kept in reversed(_kept(path)):
        try:
            project = saves.load(kept)
        except saves.BadSave:
            continue
        when = datetime.strptime(kept.name.partition("-")[2].removesuffix(saves.SUFFIX), "%Y%m%d-%H%M%S")
        found.append(Version(len(found) + 1, kept, when, changed_keys(project, after), project))
        after = project
    return tuple(found)
