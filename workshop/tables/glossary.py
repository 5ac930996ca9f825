"""Words of the trade: what they mean, in the US and in the UK."""

import re
from dataclasses import dataclass
from functools import cache

from workshop.project import Terms
from workshop.tables import read


@dataclass(frozen=True, slots=True)
class Word:
    """One word. Where the UK says it as the US does, ``uk`` is the same."""

    us: str
    uk: str
    short: str
    """The abbreviation of patterns; empty where there is none."""
    also: tuple[str, ...]
    means: str
    """In US terms; views translate."""
    how: str

    def called(self, terms: Terms) -> str:
        """The word in the terms of a country."""
        return self.uk if terms == "uk" else self.us

    @property
    def names(self) -> tuple[str, ...]:
        """Everything it is called, the two countries first."""
        return tuple(dict.fromkeys(n for n in (self.us, self.uk, self.short, *self.also) if n))


@cache
def words() -> tuple[Word, ...]:
    """All words, in the alphabet's order of the US."""
    found = [
        Word(w["us"], w.get("uk", w["us"]), w.get("short", ""), tuple(w.get("also", ())), w["means"], w["how"])
        for w in read("glossary")["word"]
    ]
    return tuple(sorted(found, key=lambda w: w.us.casefold()))


def look_up(text: str) -> Word | None:
    """The word that a text is a name of, in any country, long or short, one or many; None for what is not listed.

    Small letters and capitals are the same, but for abbreviations of a single letter.
    """
    wanted = " ".join(text.split()).strip(".,:;!?()\"'")
    return _named(wanted) or (_named(wanted[:-1]) if wanted.endswith("s") else None)


def _named(wanted: str) -> Word | None:
    return _by_name().get(wanted if len(wanted) == 1 else wanted.casefold())


@cache
def _by_name() -> dict[str, Word]:
    return {(n if len(n) == 1 else n.casefold()): w for w in words() for n in w.names}


def words_in(text: str) -> tuple[Word, ...]:
    """The words of the trade in a text, in the order in which they come; of two that overlap, the longer."""
    found = (_by_name()[m[0].casefold()] for m in _pattern().finditer(text))
    return tuple(dict.fromkeys(found))


def abbreviations_in(text: str) -> tuple[Word, ...]:
    """The words whose abbreviation a text uses, in the alphabet's order of the abbreviations."""
    found = (w for w in words() if w.short and re.search(_abbreviated(w.short), text))
    return tuple(sorted(found, key=lambda w: w.short.casefold()))


def _abbreviated(short: str) -> str:
    """As patterns write it: k2, p2, but m1 and k2tog as they stand."""
    return rf"(?<![\w-]){short}\d+(?!\w)" if len(short) == 1 else rf"(?<![\w-]){re.escape(short)}(?!\w)"


@cache
def _pattern() -> re.Pattern[str]:
    names = sorted((n for n in _by_name() if len(n) > 2), key=len, reverse=True)
    return re.compile(rf"(?<![\w-])(?:{'|'.join(map(re.escape, names))})(?![\w-])", re.IGNORECASE)
