"""Words of the trade: what they mean, in the US and in the UK."""

import re
from functools import cache

from workshop.project import Terms
from workshop.records import record
from workshop.tables import read

_PART = re.compile(r"[\w-]+")
"""What a text is taken apart into."""


@record
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
    typed: tuple[str, ...] = ()
    """What it is looked up by too, though in a text that is mostly something else."""

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
        Word(
            w["us"],
            w.get("uk", w["us"]),
            w.get("short", ""),
            tuple(w.get("also", ())),
            w["means"],
            w["how"],
            tuple(w.get("typed", ())),
        )
        for w in read("glossary")["word"]
    ]
    return tuple(sorted(found, key=lambda w: w.us.casefold()))


def look_up(text: str) -> Word | None:
    """The word that a text is a name of, in any country, long or short, one or many; None for what is not listed.

    Small letters and capitals are the same, but for abbreviations of a single letter.
    """
    wanted = " ".join(text.split()).strip(".,:;!?()\"'")
    return _named(wanted) or (_named(wanted[:-1]) if wanted.endswith("s") else None)


def find(typed: str) -> tuple[Word, ...]:
    """The words that typed letters may mean, the likeliest first; all of them where nothing is typed.

    First what begins with them, then what is called so in part, then what is explained with such a word.
    """
    wanted = " ".join(typed.split()).casefold()
    if len(wanted) > LONGEST:
        return ()
    exact = look_up(wanted) if wanted else None
    ranks = {w.us: 0 if w == exact else _rank(w, wanted) for w in words()}
    found = (w for w in words() if ranks[w.us] < NOT_FOUND)
    return tuple(sorted(found, key=lambda w: ranks[w.us]))


LONGEST = 100
"""Letters beyond which no word of the trade goes."""

NOT_FOUND = 6


def _rank(word: Word, wanted: str) -> int:
    names = [name.casefold() for name in word.names]
    tests = (
        any(name.casefold().startswith(wanted) for name in (word.us, word.uk)),
        any(name.startswith(wanted) for name in names),
        any(f" {wanted}" in name for name in names),
        len(wanted) > 2 and any(wanted in name for name in names),
        len(wanted) > 2 and re.search(rf"\b{re.escape(wanted)}", word.means.casefold()) is not None,
    )
    return next((rank for rank, fits in enumerate(tests, 1) if fits), NOT_FOUND)


def word_at(text: str, place: int) -> Word | None:
    """The word of the trade at a place in a text, the longest of those that reach over it; None where there is none."""
    parts = list(_PART.finditer(text))
    here = next((i for i, p in enumerate(parts) if p.start() <= place <= p.end()), None)
    if here is None:
        return None
    spans = ((a, b) for a in range(max(0, here - 3), here + 1) for b in range(here, min(len(parts), a + 4)))
    found = ((b - a, look_up(text[parts[a].start() : parts[b].end()])) for a, b in spans)
    return max(((many, word) for many, word in found if word is not None), key=lambda f: f[0], default=(0, None))[1]


def _named(wanted: str) -> Word | None:
    return _by_name().get(wanted if len(wanted) == 1 else wanted.casefold())


@cache
def _by_name() -> dict[str, Word]:
    return {(n if len(n) == 1 else n.casefold()): w for w in words() for n in (*w.names, *w.typed)}


def words_in(text: str) -> tuple[Word, ...]:
    """The words of the trade in a text, in the order in which they come; of two that overlap, the longer."""
    folded, found, past = text.casefold(), [], 0
    for part in _PART.finditer(folded):
        at = part.start()
        names = _by_first_part().get(part[0], ()) if at >= past else ()
        name = next((n for n in names if folded.startswith(n, at) and not _PART.match(folded, at + len(n))), None)
        if name is not None:
            past = at + len(name)
            found.append(_by_name()[name])
    return tuple(dict.fromkeys(found))


@cache
def _by_first_part() -> dict[str, list[str]]:
    """Names of more than two letters by what they begin with, the longer first."""
    found: dict[str, list[str]] = {}
    names = {n.casefold() for w in words() for n in w.names if len(n) > 2}
    for name in sorted(names, key=len, reverse=True):
        if first := _PART.match(name):
            found.setdefault(first[0], []).append(name)
    return found


def abbreviations_in(text: str) -> tuple[Word, ...]:
    """The words whose abbreviation a text uses, in the alphabet's order of the abbreviations.

    As patterns write them: k2, p2, but m1 and k2tog as they stand.
    """
    parts = set(re.findall(r"(?<![\w-])\w+", text))
    used = {part[0] for part in parts if part[1:].isdecimal()} | {part for part in parts if len(part) > 1}
    found = (w for w in words() if w.short and (w.short in used or _apart(w.short, text)))
    return tuple(sorted(found, key=lambda w: w.short.casefold()))


def _apart(short: str, text: str) -> bool:
    """Whether a text uses an abbreviation of two words."""
    return " " in short and re.search(rf"(?<![\w-]){re.escape(short)}(?!\w)", text) is not None
