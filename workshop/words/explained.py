"""Words of the trade in a text, explained: for help, where one stands."""

from workshop.project import Terms
from workshop.tables.glossary import words_in
from workshop.words.phrase import in_terms


def explained(text: str, terms: Terms) -> tuple[str, ...]:
    """Each word of the glossary that a text uses, in the terms of a country and in the other's, with its meaning."""
    found = []
    for word in words_in(text):
        other = word.called("us" if terms == "uk" else "uk")
        mine = word.called(terms)
        abroad = "" if other == mine else f" ({'US' if terms == 'uk' else 'UK'}: {other})"
        found.append(f"{mine}{abroad}: {in_terms(word.means, terms)}")
    return tuple(found)
