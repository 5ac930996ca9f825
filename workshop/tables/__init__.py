"""Published tables, as TOML files with their sources, and typed ways to read them.

Each entry carries ``source`` (keys of the file's ``[sources]``) and ``how``: ``read`` (seen in the named
page), ``memory`` (a plausibility figure, never to be cited as published), ``derived`` (arithmetic on read
entries) or ``practice`` (common practice, no source).
"""

import re
import tomllib
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent

Entry = Mapping[str, Any]
"""What TOML holds under one name: its readers know what that is."""


class Parts(Entry):
    """A TOML file of ours, each of its keys read when it is asked for: a command needs few of them.

    No line of such a file begins with a bracket but where a key does.
    """

    def __init__(self, file: Path) -> None:
        before, *rest = re.split(r"^(?=\[)", file.read_text(encoding="utf-8"), flags=re.MULTILINE)
        self._read = tomllib.loads(before)
        self._texts: dict[str, str] = {}
        for text in rest:
            key = re.split(r"[\]\[.\"]+", text, maxsplit=2)[1]
            self._texts[key] = self._texts.get(key, "") + text

    def __getitem__(self, key: str) -> Any:
        if key not in self._read:
            self._read[key] = tomllib.loads(self._texts[key])[key]
        return self._read[key]

    def __iter__(self) -> Iterator[str]:
        return iter(dict.fromkeys((*self._read, *self._texts)))

    def __len__(self) -> int:
        return sum(1 for _ in self)


@cache
def read(name: str) -> Entry:
    """The table ``name`` as it stands in its file.

    Raises KeyError where there is no table of that name.
    """
    if name not in (*names(), *OURS):
        raise KeyError(name)
    return Parts(FOLDER / f"{name}.toml")


OURS = ("checks",)
"""Tables of our own sentences, which have no sources."""


@cache
def names() -> tuple[str, ...]:
    """Names of all published tables, in the alphabet's order."""
    return tuple(sorted({f.stem for f in FOLDER.glob("*.toml")}.difference(OURS)))


def how_known(how: str) -> str:
    """How an entry is known (its ``how``), in the words shown to the knitter."""
    words = {
        "read": "page read",
        "memory": "from memory",
        "derived": "worked out, not published",
        "practice": "common practice, no source",
    }
    return words[how]
