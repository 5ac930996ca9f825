"""What can be chosen, with what the words of the trade in it mean."""

from collections.abc import Iterable

from workshop.tables.glossary import Word, look_up


def choice_lines(labels: Iterable[str]) -> list[str]:
    """A line for each answer; a word of the glossary is explained where it first stands. In US terms."""
    lines: list[str] = []
    told: set[str] = set()
    for label in labels:
        word = _word_of(label)
        explained = word is not None and word.us not in told
        told |= {word.us} if word else set()
        lines.append(f"{label}: {word.means}" if word and explained else label)
    return lines


def _word_of(label: str) -> Word | None:
    """The word of the trade that an answer begins with, if it has one: of necks also "V" alone."""
    if ":" in label:  # it says by itself what it is
        return None
    begins = label.partition(",")[0].partition(" (")[0]
    first = begins.partition(" ")[0]
    return next((w for w in map(look_up, (begins, f"{begins} neck", first)) if w is not None), None)
