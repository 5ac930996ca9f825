"""An answer that is typed as the name of a file, where a question takes one: the one door for such files."""

import re
from pathlib import Path

from workshop import files
from workshop.units import NotUnderstood
from workshop.visible import shown_path

LARGEST_BYTES = 32_000
"""More than any answer has."""

SUFFIXES = "txt|text|chart|csv|tsv|md|asc|dat|toml|json|pdf|png|jpe?g|gif|svg|xlsx?|ods|docx?|odt|rtf|html?"
NAME = re.compile(rf"~.*|.*\.(?:{SUFFIXES})", re.IGNORECASE)
"""What is meant as the name of a file, whether there is one or not."""
PERHAPS = re.compile(r"[~/\\].*|[a-z]:[\\/].*|.*\.\w{1,8}", re.IGNORECASE)
"""What may be one: it is where there is a file of that name."""


def text_of(typed: str, folder: Path) -> str:
    """The text of the file that is named, beside a project in ``folder`` or by its path; else what was typed.

    Raises NotUnderstood for a file that is not there or can't be read.
    """
    name = typed.strip().strip("'\"")
    if "\n" in name or not PERHAPS.fullmatch(name):
        return typed
    path = _found(name, folder)
    if path is None:
        if NAME.fullmatch(name):
            raise NotUnderstood(f"{shown_path(name)}: there's no such file")
        return typed
    try:
        text = files.read_text(path, LARGEST_BYTES)
    except files.FileFault as error:
        raise NotUnderstood(f"{shown_path(name)}: {error}") from None
    if not text.strip():
        raise NotUnderstood(f"{shown_path(name)}: is empty")
    return text


def _found(name: str, folder: Path) -> Path | None:
    try:
        path = Path(name).expanduser()
        return next((p for p in (folder / path, path) if p.exists()), None)
    except (OSError, ValueError, RuntimeError):  # too long, no name at all, or somebody's home that there is not
        return None
