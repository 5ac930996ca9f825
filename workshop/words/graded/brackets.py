"""Figures of several sizes in one sentence: the first size, and the others in brackets behind it.

A figure that is the same for all is written once. A size that is left out has a dash at its place.
"""

import re
from collections.abc import Sequence
from functools import lru_cache
from operator import itemgetter

from workshop.words.graded.aligning import each
from workshop.words.rows.single_rows import DECREASED, ONE_LEFT, reminder

DASH = "–"
"""Stands at the place of a size that is left out."""

FIGURE = re.compile(r"\d*[⅛¼⅜½⅝¾⅞]|\d+(?:\.\d+)?(?:st|nd|rd|th)?")
"""A figure in a sentence, as it is printed."""

OF_TWO, OF_ANY = "Bind off the last 2 ", "Bind off all 2 "
ONE = re.compile(rf"(\b1|{DASH}) ((?:held )?stitch|row|round|time|ball)\b(?!s|es)")

PLACE = re.compile(rf"{FIGURE.pattern}|{DASH}")

Values = Sequence[str | None]
"""A figure for each size, or the dash of one that leaves it out; None for a size that the whole line isn't for."""


def bracket(values: Values) -> str:
    """The figure of each size: "90 (98, 106)"; once where all that the line is for have the same."""
    known = {value for value in values if value is not None}
    if len(known) == 1 and DASH not in known:
        return known.pop()
    first, *more = (value or DASH for value in values)
    return f"{first} ({', '.join(more)})" if more else first


def numbers(values: Sequence[int | str | None]) -> str:
    """The count of each size in one bracket."""
    return bracket(each(values, str))


@lru_cache(4096)
def skeleton(text: str) -> str:
    """A sentence without its figures and what is optional: what sizes must share to be one sentence."""
    return rateless(OPTIONAL.sub("", REMINDER.sub("", text)))


def figureless(text: str) -> str:
    """A sentence without its figures, as it is of many."""
    return PLACE.sub("#", _as_of_many(text))


def rateless(text: str) -> str:
    """A sentence without its figures and without what comes to a rate, as it is of many."""
    return figureless(BEYOND.sub("", text))


BEYOND = re.compile(
    rf", (?:and|but) (?:\d+|{DASH}) (?:more|fewer) (?:in all|on each side)"
    rf"|, skipping (?:\d+|{DASH})(?: where there are (?:\d+|{DASH}))?"
)
"""What comes to a rate of picking up, or is left out: with a dash for sizes whose rate leads to the very count."""

RATE = rf"(?:about \d+ for every \d+|\d+ from each)(?: of the \d+ rows(?:, neckband included)?)?(?:{BEYOND.pattern})*"
RATED = re.compile(RATE)

OPTIONAL = re.compile(
    r" \(with the \d+ bound-off stitch(?:es)?\)(?=,)"
    r"|(?<=: )(?:bind off|decrease) \d+ stitch(?:es)? at (?:the beginning|both ends|the outer edge); "
    rf"| \({RATE}\)|; {RATE}(?=\))"
)
"""Part of a sentence that some sizes leave out: with a dash at its figure."""

REMINDER = re.compile(
    r" \((?:including the one left|(?:including the one left[,;] )?(?:both )?counted after the decrease)\)"
)
"""How stitches are counted at a neck: said to all sizes as soon as one needs it, for it harms no other."""

NECK = re.compile(
    rf"(?P<first>(?:knit|work) \d+)(?P<begun>{REMINDER.pattern})?"
    r"(?P<neck>, (?:bind off the next \d+ for the neck|divide for the neck here), (?:knit|work) (?:the last \d+)?)"
    rf"(?P<ended>{REMINDER.pattern})?"
)
"""Stitches before and after a neck, and how they are counted."""


def together(texts: Values) -> str | None:
    """One sentence for all sizes that have it; None where it is not the same but for its figures."""
    texts = _rated_alike(_reminded_alike(texts))
    options = [OPTIONAL.search(text) for text in texts if text is not None]
    option = next((option for option in options if option), None)
    if option is None or all(options):
        return _joined(texts)
    before, left_out = figureless(option.string[: option.start()]), FIGURE.sub(DASH, option[0])
    parts = each(texts, lambda text: _parted(text, before, left_out))
    found = [_joined(each(parts, itemgetter(at))) for at in range(3)]
    return None if None in found else "".join(text or "" for text in found)


def _reminded_alike(texts: Values) -> Values:
    """Sentences with all that is said in one of them of how stitches are counted before a neck and after it."""
    if len({tuple(REMINDER.findall(text)) for text in texts if text is not None}) < 2:
        return texts
    necks = [found for text in texts if text is not None and (found := NECK.search(text))]
    begun, ended = (" ".join(found[part] or "" for found in necks) for part in ("begun", "ended"))
    before = reminder([told for told in (ONE_LEFT, DECREASED) if told in begun or f"both {told}" in ended])
    after = reminder([told for told in (ONE_LEFT, DECREASED) if told in ended])
    return each(texts, lambda text: NECK.sub(rf"\g<first>{before}\g<neck>{after}", text))


def _rated_alike(texts: Values) -> Values:
    """Sentences with all that comes to a rate in one of them, with a dash where it is not said of the size itself."""
    kinds = dict.fromkeys(
        PLACE.sub(DASH, found) for text in texts if text is not None for found in BEYOND.findall(text)
    )

    def rated(found: re.Match[str]) -> str:
        own = {PLACE.sub(DASH, said): said for said in BEYOND.findall(found[0])}
        return BEYOND.sub("", found[0]) + "".join(own.get(kind, kind) for kind in kinds)

    return each(texts, lambda text: RATED.sub(rated, text)) if kinds else texts


def _parted(text: str, before: str, left_out: str) -> tuple[str, str, str]:
    """A sentence before, of and after its optional part; where that is left out, at the place of the others."""
    option = OPTIONAL.search(text)
    if option:
        return text[: option.start()], option[0], text[option.end() :]
    ends = (at for at in range(len(text) + 1) if figureless(text[:at]) == before)
    at = max(ends, default=0)
    return text[:at], left_out, text[at:]


def _joined(texts: Values) -> str | None:
    """Sentences that are the same but for their figures as one."""
    said = [text for text in texts if text is not None]
    if len({PLACE.sub("#", text) for text in said}) > 1:
        texts = [None if text is None else _as_of_many(text) for text in texts]
        said = [text for text in texts if text is not None]
    parts = _around(said[0])
    if any(_around(text) != parts for text in said):
        return None
    figures = [_figures(text) if text is not None else [None] * (len(parts) - 1) for text in texts]
    filled = [bracket(of_place) for of_place in zip(*figures, strict=True)]
    return "".join(part + figure for part, figure in zip(parts, [*filled, ""], strict=True))


def _around(text: str) -> list[str]:
    return PLACE.split(text)


def _figures(text: str) -> list[str]:
    return PLACE.findall(text)


def _as_of_many(text: str) -> str:
    """A sentence with a plural at each figure; what is said of two in words of its own is said as of any number."""
    return ONE.sub(
        lambda found: f"{found[1]} {found[2]}{'es' if found[2].endswith('h') else 's'}", text.replace(OF_TWO, OF_ANY)
    )
