"""What the core says when something stops a plan, needs another look or is worth knowing."""

from functools import cache
from typing import Literal

from workshop.records import record
from workshop.tables import read

Level = Literal["stop", "look", "note"]
ForTeacher = Literal["", "needles", "yarn"]


@record
class CheckText:
    """One check: ``step``, ``question`` and ``about`` may have places for figures, and ``text`` is filled by views."""

    level: Level
    step: str
    question: str
    text: str
    why: str = ""
    """Why it is so: told before the text, and alone where the figure stands that it is about."""
    about: str = ""
    place: str = ""
    """The field among those of the question, where it is known which."""
    ways: tuple[str, ...] = ()
    """Ways out, of which the text tells at ``{ways}`` those whose figures are known."""
    till: str = ""
    """What is knitted once nothing can be done about it any more: "body", "sleeves" or "yoke", also "body begun" and so
    on, or "band begun", the one whose number it has."""
    teacher: ForTeacher = ""
    """What it is to the teacher of a class, who is told of it whatever its level; empty: that goes by its level."""

    @property
    def whole(self) -> str:
        """Why, and the text."""
        return f"{self.why} {self.text}".lstrip()


@cache
def check_text(name: str) -> CheckText:
    """The check of a name, ``code`` or ``code.variant``. Raises KeyError for a name that is none."""
    code, _, variant = name.partition(".")
    entry = read("checks")[code]
    entry = {**entry, **(entry[variant] if variant else {})}
    return CheckText(**{key: value for key, value in entry.items() if not isinstance(value, dict)})
