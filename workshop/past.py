"""The knitter's other jumpers, beside the one at hand: what the finished ones tell of her hands."""

from datetime import date
from pathlib import Path

from workshop import saves
from workshop.core.knitting.before import Before, together, told_by
from workshop.folder import read_text
from workshop.planned import plan

MOST_READ = 5
"""The last finished jumpers: hands change."""


def before(path: Path, today: date) -> Before | None:
    """What the finished jumpers in the folder of a file tell, the file itself left out; None where none does."""
    found: list[Before] = []
    for other in saves.newest_first(path.parent):
        if other.name == path.name or len(found) == MOST_READ:
            continue
        try:
            text = saves.text_of(other)
            one = told_by(plan(read_text(text, other)), today) if "\n[[knitting]]" in text else None
        except saves.BadSave:
            continue  # the list of projects says so
        if one is not None:
            found.append(one)
    return together(found)
