"""Projects read from files: the one way in for every command and screen, so that no answer comes in unchecked."""

from collections.abc import Iterator
from pathlib import Path

from workshop import saves
from workshop.project import Project
from workshop.questions.steps import faults
from workshop.saves import BadSave, Saved
from workshop.toml_text import line_of


def read(path: Path) -> Project:
    """The project in a file, each of whose answers could have been typed. Raises BadSave."""
    return read_text(saves.text_of(path), path)


def read_text(text: str, path: Path) -> Project:
    """The project in the text of a file, held to its questions. Raises BadSave."""
    project = saves.parsed(text, path)
    for key, what in faults(project):
        raise BadSave(path, what, key, line_of(text, key), project.title)
    return project


def projects(folder: Path, *, links: bool = True) -> Iterator[Saved]:
    """All projects of a folder, last changed first: the good ones, and one line for each of the others.

    Each is read when it is asked for; without ``links`` only those that stand in the folder itself.
    """
    return saves.each_save(folder, read, links=links)
