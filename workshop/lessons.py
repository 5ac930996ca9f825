"""Finds and checks the lesson texts: one Markdown file per step, whose first heading is the title.

A teacher edits or replaces them: a folder given by ``--lessons`` or WORKSHOP_LESSONS comes before the
lessons that travel with the workshop, file by file.
"""

import os
import re
import tomllib
from itertools import pairwise
from pathlib import Path

from workshop import files
from workshop.project import STEPS, Units
from workshop.records import record
from workshop.visible import in_lines, in_one_line

FOLDER_VARIABLE = "WORKSHOP_LESSONS"
LARGEST_BYTES = 200_000


class BadLesson(Exception):
    """A lesson that cannot be used. ``str()`` is one line: file, key, what is wrong."""

    def __init__(self, what: str) -> None:
        super().__init__(in_one_line(what))


@record
class Lesson:
    """One lesson: its step, its title, and its text in Markdown."""

    step: str
    title: str
    text: str
    path: Path


def own_folder() -> Path:
    """Where the lessons that travel with the workshop are, in a wheel or in a checkout."""
    inside = Path(__file__).resolve().parent / "lessons"
    return inside if inside.is_dir() else Path(__file__).resolve().parent.parent / "lessons"


def folders() -> tuple[Path, ...]:
    """Folders that are searched, in their order."""
    named = os.environ.get(FOLDER_VARIABLE)
    return (Path(named).expanduser(), own_folder()) if named else (own_folder(),)


def missing_folder() -> str:
    """Why the folder that a teacher named cannot be used, in one line; empty where it can or none is named."""
    named = os.environ.get(FOLDER_VARIABLE)
    if not named or Path(named).expanduser().is_dir():
        return ""
    return in_one_line(f"{named}: there's no such folder of lessons. It was named with --lessons or {FOLDER_VARIABLE}")


def strangers(folder: Path) -> tuple[str, ...]:
    """One line for each file of a folder that would be a lesson if it were called as a step is."""
    wanted = ", ".join(f"{step}.md" for step in STEPS)
    found = sorted(p for p in folder.glob("*.md") if p.stem not in STEPS and p.stem.casefold() != "readme")
    return tuple(in_one_line(f"{p}: isn't the lesson of any step. Lessons are called {wanted}") for p in found)


def faults_in(folder: Path) -> tuple[str, ...]:
    """What is wrong with the lessons of a folder, a line for each file."""
    lines = list(strangers(folder))
    for step in STEPS:
        path = folder / f"{step}.md"
        if path.is_file():
            try:
                read(path, step)
            except BadLesson as error:
                lines.append(str(error))
    return tuple(lines)


def lesson_told(step: str) -> Lesson:
    """The lesson to show: where a teacher's file cannot be used, the workshop's own, with a line that says so first.

    Raises BadLesson where there is none at all.
    """
    try:
        return lesson(step)
    except BadLesson as error:
        own = lesson(step, (own_folder(),))
        told = f"*This isn't your class's own lesson, which can't be used: {error}*"
        return Lesson(own.step, own.title, f"{told}\n\n{own.text}", own.path)


def lesson(step: str, places: tuple[Path, ...] = ()) -> Lesson:
    """The lesson of a step, from ``places`` or from the usual folders. Raises BadLesson for one missing or wrong."""
    for folder in places or folders():
        path = folder / f"{step}.md"
        if path.is_file():
            return read(path, step)
    raise BadLesson(f"{folders()[0] / (step + '.md')}: there's no such lesson")


def read(path: Path, step: str) -> Lesson:
    """A lesson file: Markdown, titled by its first heading; without one the step's name is the title.

    Older files begin with step and title in TOML between +++ lines, and still load. Raises BadLesson.
    """
    try:
        text = files.read_text(path, LARGEST_BYTES).replace("\r\n", "\n")
    except files.FileFault as error:
        raise BadLesson(f"{path}: {error}") from None
    title, body = _with_front_matter(path, step, text) if text.startswith("+++") else _titled(step, text)
    if not body.strip():
        raise BadLesson(f"{path}: there's no text below the title")
    return Lesson(step, in_one_line(title), in_lines(body.strip()) + "\n", path)


def _titled(step: str, text: str) -> tuple[str, str]:
    """Title and text of a file without front matter. A heading at the top isn't repeated in the text."""
    top = re.match(r"\s*#{1,6}[ \t]+(\S.*)(?:\n|$)", text)
    if top:
        return top[1].strip(" \t#"), text[top.end() :]
    first = re.search(r"^#{1,6}[ \t]+(\S.*)$", _FENCE.sub("", text), re.MULTILINE)
    return first[1].strip(" \t#") if first else step.capitalize(), text


def _with_front_matter(path: Path, step: str, text: str) -> tuple[str, str]:
    """Title and text of an older file. Raises BadLesson."""
    found = re.match(r"\+\+\+\s*\n(.*?)\n\+\+\+\s*\n(.*)", text, re.DOTALL)
    if not found:
        raise BadLesson(f"{path}: its front matter isn't closed. It begins and ends with a line of +++")
    try:
        front = tomllib.loads(found[1])
    except tomllib.TOMLDecodeError as error:
        raise BadLesson(f"{path}: its front matter isn't valid TOML: {_in_file(error)}") from None
    except (ValueError, RecursionError):
        raise BadLesson(f"{path}: its front matter should be a step and a title") from None
    strange = [key for key in front if key not in ("step", "title")]
    if strange:
        raise BadLesson(f"{path}: {strange[0]}: isn't a key of a lesson. The keys are step and title")
    for key, wanted in (("step", step), ("title", None)):
        value = front.get(key)
        if not isinstance(value, str) or not value.strip():
            raise BadLesson(f"{path}: {key}: is missing. It should be text in quotes")
        if wanted is not None and value != wanted:
            raise BadLesson(f"{path}: step: is '{value}', but {path.name} is the lesson of '{wanted}'")
    return front["title"], found[2]


_FENCE = re.compile(r"^```([^\n]*)\n(.*?)^```[ \t]*(?:\n|\Z)", re.MULTILINE | re.DOTALL)
"""A drawing or an example, set apart by lines of three backticks."""

DRAWING = "drawing"
"""Begins the first line of a drawing; what it shows follows there in words."""


IN_INCHES = "inches "
"""Begins the first line of a drawing or an example that takes the place of the one before it where inches are used."""


def in_units(text: str, units: Units) -> str:
    """A lesson for one who works in these units: of a block and its twin in inches only the one is left."""
    found = list(_FENCE.finditer(text))
    for block, twin in reversed(list(pairwise(found))):
        if twin[1].startswith(IN_INCHES) and not text[block.end() : twin.start()].strip():
            kept = block[0] if units == "cm" else f"```{twin[0].removeprefix(f'```{IN_INCHES}')}"
            text = text[: block.start()] + kept + text[twin.end() :]
    return text


def aloud(text: str) -> str:
    """A lesson to be read line by line: no signs of Markdown, each paragraph on one line.

    A drawing is only named, as in "(Drawing: a swatch in three stages.)"; examples keep their lines.
    """
    parts, at = [], 0
    for fence in _FENCE.finditer(text):
        parts += [_plain(text[at : fence.start()]), _heard(fence[1].strip(), fence[2])]
        at = fence.end()
    return "\n\n".join(part for part in (*parts, _plain(text[at:])) if part)


def _plain(text: str) -> str:
    text = re.sub(r"^#+ (.*)\n*", r"\1\n\n", text, flags=re.MULTILINE)
    text = re.sub(r"[*`]", "", text)
    return re.sub(r"(?<=\S)\n(?=[A-Za-z(])", " ", text.strip())


def _heard(kind: str, lines: str) -> str:
    if not kind.startswith(DRAWING):
        return lines.rstrip()
    shows = kind.removeprefix(DRAWING).strip()
    return f"(Drawing: {shows}.)" if shows else ""


def example(text: str) -> str:
    """The worked example of a lesson: its first block that is no drawing; empty where there is none."""
    told = (f for f in _FENCE.finditer(text) if not f[1].strip().startswith((DRAWING, IN_INCHES)))
    return next((f[2].rstrip() for f in told), "")


def _in_file(error: tomllib.TOMLDecodeError) -> str:
    """What is wrong, with the line counted from the top of the file: the front matter begins on its second."""
    return re.sub(r"at line (\d+)", lambda m: f"at line {int(m[1]) + 1}", _plainly(str(error)))


def _plainly(text: str) -> str:
    """A fault that the parser names by its characters, in words."""
    for sign in ("Illegal character '\\n'", "Unterminated string"):
        text = text.replace(sign, "a text in quotes is not closed")
    return text
