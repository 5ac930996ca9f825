"""Words of the trade, explained in the terms of a country: for help, and for whoever looks one up."""

from collections.abc import Iterable

from workshop.project import Terms
from workshop.records import record
from workshop.tables.glossary import Word, find, look_up, word_at, words_in
from workshop.words.phrase import in_terms


@record
class Entry:
    """A word of the glossary as it is shown."""

    called: str
    named: str
    """With its name in the other country where that differs, and its abbreviation: "gauge (UK: tension)"."""
    means: str


def explained(text: str, terms: Terms) -> tuple[str, ...]:
    """Each word of the glossary that a text uses, in the terms of a country and in the other's, with its meaning."""
    return tuple(f"{_named(word, terms)}: {in_terms(word.means, terms)}" for word in words_in(text))


def entries(typed: str, terms: Terms) -> tuple[Entry, ...]:
    """The entries that typed letters may mean, the likeliest first; all where nothing is typed."""
    return _entries(find(typed), terms)


def entries_in(text: str, terms: Terms) -> tuple[Entry, ...]:
    """The entries of the words that a text uses."""
    return _entries(words_in(text), terms)


def entry_of(name: str, terms: Terms) -> Entry | None:
    """The entry of a word under any of its names."""
    return _first(look_up(name), terms)


def entry_at(text: str, place: int, terms: Terms) -> Entry | None:
    """The entry of the word at a place in a text."""
    return _first(word_at(text, place), terms)


def _first(word: Word | None, terms: Terms) -> Entry | None:
    return next(iter(_entries([word] if word else [], terms)), None)


def _entries(words: Iterable[Word], terms: Terms) -> tuple[Entry, ...]:
    return tuple(Entry(w.called(terms), _named(w, terms, short=True), in_terms(w.means, terms)) for w in words)


def _named(word: Word, terms: Terms, *, short: bool = False) -> str:
    other, mine = word.called("us" if terms == "uk" else "uk"), word.called(terms)
    beside = [f"{'US' if terms == 'uk' else 'UK'}: {other}"] if other != mine else []
    beside += [word.short] if short and word.short else []
    return f"{mine} ({'; '.join(beside)})" if beside else mine
