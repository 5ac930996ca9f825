"""Published tables, as TOML files with their sources, and typed ways to read them.

Each entry carries ``source`` (keys of the file's ``[sources]``) and ``how``: ``read`` (seen in the named
page), ``memory`` (a plausibility figure, never to be cited as published), ``derived`` (arithmetic on read
entries) or ``practice`` (common practice, no source).
"""

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent

Entry = Mapping[str, Any]
"""What TOML holds under one name: its readers know what that is."""


@cache
def read(name: str) -> Entry:
    """The whole table ``name`` as it stands in its file.

    Raises KeyError where there is no table of that name.
    """
    if name not in (*names(), *OURS):
        raise KeyError(name)
    return tomllib.loads((FOLDER / f"{name}.toml").read_text(encoding="utf-8"))


def part(file: Path, key: str) -> Entry:
    """What a file of sentences holds under one key, its other keys unread: a command needs few of them.

    Raises KeyError where there is no such key.
    """
    found: Entry = tomllib.loads(_parts(file)[key])[key]
    return found


@cache
def _parts(file: Path) -> Mapping[str, str]:
    """A file by its keys; in it no line begins with a bracket but where a key does."""
    found: dict[str, str] = {}
    for text in re.findall(r"^\[.*?(?=^\[|\Z)", file.read_text(encoding="utf-8"), re.MULTILINE | re.DOTALL):
        key = re.split(r"[\]\[.\"]+", text, maxsplit=2)[1]
        found[key] = found.get(key, "") + text
    return found


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
