"""Text that is not ours, made safe to show: what would act on a terminal is shown as what it is.

Files, their names, lessons and settings may come from a stranger. Control characters, and the signs that turn the
direction of a line round, are shown by their number, ``<U+001B>``. Everything else is left as it was written.
"""

import os
import re
import sys
import unicodedata
from typing import IO

TURNS = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
"""Embeddings, overrides and isolates of direction; they can make a line read as another."""

BREAKS = "\n\r\t\v\f\x1c\x1d\x1e\x85\u2028\u2029"
"""Ends of lines of every kind, and tabs."""

NEEDS_A_LOOK = re.compile(rf"[{TURNS}\x85\u2028\u2029]|\\|\"\"\"|'''")
"""What a TOML file has where a text in it may turn a line round or end it."""
HIDDEN = ("Cc", "Cs", "Zl", "Zp")
"""Unicode categories that a terminal acts on or cannot show: controls, halves of characters, ends of lines."""


def in_one_line(text: str) -> str:
    """A text for a line of its own: ends of lines and tabs become spaces, the rest is shown as it is."""
    return _shown(" ".join(part for part in text.replace("\t", " ").splitlines() if part) if _breaks(text) else text)


def in_lines(text: str) -> str:
    """A text of several lines; they and its tabs stay."""
    return _shown(text, kept="\n\t")


def shown_path(path: os.PathLike[str] | str) -> str:
    """The name of a file or a folder in a sentence: with or without its folders, as it is given. Whoever names one says
    it so, for names are a stranger's text too.
    """
    return in_one_line(os.fspath(path))


def _breaks(text: str) -> bool:
    return any(c in text for c in BREAKS)


def _shown(text: str, kept: str = "") -> str:
    if text.isprintable():
        return text
    return "".join(f"<U+{ord(c):04X}>" if _acts(c) and c not in kept else c for c in text)


def _acts(character: str) -> bool:
    return character in TURNS or unicodedata.category(character) in HIDDEN


def only_ascii(file: IO[str] | None = None) -> bool:
    """Whether the terminal cannot show block characters."""
    encoding = (getattr(file or sys.stdout, "encoding", None) or "ascii").lower()
    return os.environ.get("TERM") == "dumb" or not encoding.startswith("utf")
