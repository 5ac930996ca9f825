"""The plans and filled sheets of a whole class, printed in one go; a second run prints only what has changed.

Each print ends with a mark of its own: which save it was made from, and what it says. So a later run knows a print of
ours that is still as it was made, and replaces nothing else.
"""

import hashlib
import os
import re
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Literal

from workshop import __version__, files, lessons, printed, saves
from workshop.core.plan import Plan
from workshop.folder import read_text
from workshop.planned import plan
from workshop.prints.blocks import Document
from workshop.prints.lesson_sheet import lesson_sheet
from workshop.prints.paper import html
from workshop.prints.plan_sheet import plan_sheet
from workshop.prints.work_sheet import filled_sheet
from workshop.project import STEPS, Terms
from workshop.records import record
from workshop.visible import shown_path

Done = Literal["printed", "as before", "fault"]

SHEETS: tuple[tuple[str, Callable[[Plan], Document]], ...] = (("plan", plan_sheet), ("sheet", filled_sheet))
"""What each pupil gets: the end of the file's name, and what is in it."""

LARGEST_BYTES = 5_000_000
"""A print has some hundred kilobytes."""


@record
class HandOut:
    """What became of the prints of one pupil, or of the lessons."""

    name: str
    done: Done
    why: str = ""
    """What is wrong, in one line."""


def hand_outs(folder: Path, to: Path, *, replace: bool = False) -> Iterator[HandOut]:
    """Print every project of a folder into another, and the lessons where a teacher has named them.

    One after the other, as they are done. With ``replace`` all of them, and also over files that are no prints of ours.
    Saved projects are never printed over. Links are no files of a pupil.
    """
    spoken: Counter[Terms] = Counter()
    paths = saves.project_files(folder, links=False)
    stems = Counter(path.stem.casefold() for path in paths)
    for path in paths:
        try:
            text = saves.text_of(path)
            project = read_text(text, path)
        except saves.BadSave as error:
            yield HandOut(_called(path, error.title), "fault", saves.without_file(str(error), path))
            continue
        spoken[project.terms] += 1
        source, made = _digest(text), []
        alone = stems[path.stem.casefold()] == 1  # not ada.toml beside ada.TOML
        names = [to / f"{path.stem if alone else path.name}-{ending}.html" for ending, _ in SHEETS]
        wanted = [_state(name, source, replace=replace) for name in names]
        now = plan(project) if any(w != "as before" for w in wanted) else None
        for name, state, (_, sheet) in zip(names, wanted, SHEETS, strict=True):
            if state != "as before" and now is not None:
                made.append(_print(name, html(sheet(now), now), source, path, replace=replace or state == "ours"))
        yield HandOut(_called(path, project.title), *_in_all(made))
    if os.environ.get(lessons.FOLDER_VARIABLE):
        yield _lessons(to, spoken.most_common(1)[0][0] if spoken else "us", replace=replace)


def _called(path: Path, title: str) -> str:
    """Whose print it is: the title of the project and its file."""
    return f"{title} ({shown_path(path.name)})" if title else shown_path(path.name)


def _in_all(made: list[str]) -> tuple[Done, str]:
    """What became of the prints of one pupil; each is named by what is wrong, or by nothing."""
    wrong = "; ".join(filter(None, made))
    return ("fault", wrong) if wrong else ("printed" if made else "as before", "")


def _lessons(to: Path, terms: Terms, *, replace: bool) -> HandOut:
    """The lessons of the teacher, as one print for the whole class."""
    name = to / "lessons.html"
    told = [(found.title, found.text) for found in map(lessons.lesson_told, STEPS)]
    source = _digest("\n".join(f"{title}\n{text}" for title, text in told) + terms)
    state = _state(name, source, replace=replace)
    if state == "as before":
        return HandOut(name.name, "as before")
    wrong = _print(name, html(lesson_sheet(told, terms)), source, None, replace=replace or state == "ours")
    return HandOut(name.name, *_in_all([wrong]))


# ── prints that were made before ─────────────────────────────────────────────────────────────────────

_MARK = re.compile(r"<!-- hand-out (?P<source>[0-9a-f]{32}) (?P<text>[0-9a-f]{32}) -->\n\Z")


def _state(path: Path, source: str, *, replace: bool) -> Literal["as before", "ours", "new"]:
    """Whether there is a print of ours already: of the same answers, or of earlier ones; and nobody has changed it."""
    if replace:
        return "new"
    try:
        text = files.read_text(path, LARGEST_BYTES)
    except files.FileFault:
        return "new"
    mark = _MARK.search(text)
    if mark is None or _digest(text[: mark.start()]) != mark["text"]:
        return "new"
    return "as before" if mark["source"] == source else "ours"


def _print(path: Path, text: str, source: str, save: Path | None, *, replace: bool) -> str:
    """Write one print with its mark. Gives what is wrong; nothing where it was written."""
    try:
        printed.write(path, f"{text}<!-- hand-out {source} {_digest(text)} -->\n", source=save, replace=replace)
    except files.AlreadyThere:
        return f"{shown_path(path.name)} is another file, or somebody has changed it. To replace it, add --replace"
    except files.FileFault as error:
        return f"{shown_path(path.name)}: {error}"
    return ""


def _digest(text: str) -> str:
    """A mark of a text, the same only for the same text and the same workshop."""
    return hashlib.sha256(f"{__version__}\n{text}".encode()).hexdigest()[:32]
