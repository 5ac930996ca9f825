"""The rows of a stitch pattern as its source writes them, read far enough to know which stitches belong together.

A crossing needs all its stitches, and a yarn over its decrease: such a group is worked whole or not at all. Common
abbreviations are read; a row that holds anything else makes the pattern one whose groups are not known.
"""

import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from workshop.core.fabric.patterns import Pattern
from workshop.records import record

Step = tuple[int, int]
"""Stitches that it uses, and those that it leaves on the needle."""

# Patterns are made when a row is first read: most projects have none of their own.
COUNTED = r"(?:knit|purl|k|p)\s?(\d+)?(?:\s?tbl)?|sl(?:ip)?\s?(\d+)?(?: (?:purlwise|knitwise|pwise|kwise|wyif|wyib))*"
CROSSED = r"[ct](\d+)(?:[fbrl]|[fbrl][pw])|(\d+)/(?:(\d+)/)?(\d+) ?[rl]p?c"
STEPS: dict[str, tuple[int, int]] = {
    **dict.fromkeys(("yo", "yon", "yf", "yfwd", "yrn", "yfrn", "yarn over", "m1", "m1l", "m1r", "m1p"), (0, 1)),
    **dict.fromkeys(("yo twice", "yo2"), (0, 2)),
    **dict.fromkeys(("k2tog", "p2tog", "k2tog tbl", "p2tog tbl", "ssk", "ssp", "skp", "skpo"), (2, 1)),
    **dict.fromkeys(("k3tog", "p3tog", "k3tog tbl", "sssk", "sk2p", "sk2po", "s2kp", "s2kpo", "cdd"), (3, 1)),
    **dict.fromkeys(("kfb", "pfb"), (1, 2)),
    "mb": (1, 1),
}
"""Steps by their abbreviations (common practice, no source)."""

THEN, OVER = r"(?:, ?|-| )", r"(?:psso|pass (?:the )?(?:slipped )?(?:stitch|st) over)"
PASSED_OVER = {
    rf"sl ?1(?: knitwise| kwise)?{THEN}k ?1{THEN}{OVER}": "skp",
    rf"sl ?1(?: knitwise| kwise)?{THEN}k2tog{THEN}{OVER}": "sk2p",
    rf"sl ?2(?: knitwise| kwise| tog(?:ether)?)?{THEN}k ?1{THEN}p2sso": "s2kp",
}
"""Decreases that are written out, and their abbreviations."""

YARN_AT_THE_FRONT = r"\byf sl"
"""Before a slipped stitch the yarn only comes to the front; anywhere else "yf" makes a stitch."""

WHOLE_ROW = (
    r"(?:knit|purl|k|p)(?: to (?:the )?end| all (?:stitches|sts)| every (?:stitch|st))?"
    r"|(?:knit|k) (?:the |all )?knits?,? (?:and |& )?(?:purl|p) (?:the |all )?purls?"
    r"(?: as they (?:lie|face you|appear))?"
)
HEAD = (
    r"(?:(?P<unit>row|round|rnd)\.? ?)?(?P<row>\d+)?(?:(?:st|nd|rd|th) (?P<after>row|round|rnd))?"
    r"(?: ?[(\[]?(?P<side>rs|ws|right side|wrong side)\b[)\]]?)?(?(side) ?[:.]?| ?[:.]) ?"
)
REPEATED = r"\*(?P<cells>[^*]+?)(?:[;,]? (?:repeat|rep) from \*|\*[,;]? (?:repeat|rep)|\*)(?P<end>.*)"
TO_THE = (
    r" (?:across|around|(?:to|across to) (?:the )?(?:end|last (?:(\d+) )?(?:stitches|stitch|sts|st)))"
    r"(?: of (?:the )?(?:row|round))?"
)
IN_BRACKETS = rf"(?:\[(?P<square>[^\[\]]+)\]|\((?P<round>[^()]+)\))(?={TO_THE})"
"""A repeat in brackets instead of between asterisks."""
TIMES = r"[\[(](?P<cells>[^\[\]()]+)[\])] (?:(?P<number>\d+) times|(?P<twice>twice))"


class NotRead(ValueError):
    """A row that says something which is not known here, or which does not fit its multiple."""


class DoesNotFit(NotRead):
    """A row that is read, and no number of its repeats takes the stitches there are."""

    def __init__(self, repeat: int, extra: int, ends: tuple[int, int] | None = None) -> None:
        """Stitches of its repeat (0 where it has none) and those besides.

        ``ends``: the last stitches that it repeats up to, and those that it then says how to work.
        """
        super().__init__(repeat, extra)
        self.repeat, self.extra, self.ends = repeat, extra, ends


@record
class Group:
    """Stitches of a row that are worked whole or not at all."""

    start: int
    """Stitch of the repeat that it begins with, from 0, as the right side shows it."""
    width: int


Groups = tuple[tuple[Group, ...], ...]
"""Of each row of a pattern."""


def groups_of(pattern: Pattern) -> Groups | None:
    """The groups of every row of a pattern; None where its rows are not written, or not understood.

    A chart of k and p alone has none.
    """
    if pattern.chart and not set("".join(pattern.chart)) - {"k", "p"}:
        return tuple(() for _ in pattern.chart)
    return _groups(pattern.lines, pattern.multiple, pattern.plus) if len(pattern.lines) == pattern.rows else None


@lru_cache(maxsize=32)
def _groups(lines: tuple[str, ...], multiple: int, plus: int) -> Groups | None:
    over = 0 if in_rounds(lines) else plus
    try:
        return tuple(_row(text, number, multiple, over) for number, text in enumerate(lines, 1))
    except NotRead:
        return None


REPEATS = 8
"""So many stand in a row whose groups are looked for in its middle."""


def steps_of(text: str, number: int, wide: int) -> list[Step]:
    """The steps of a row over so many stitches; it uses them all. Raises NotRead, and DoesNotFit where it can't."""
    return _filled(_headless(text, number)[0], wide)


def in_rounds(lines: Sequence[str]) -> bool:
    """Whether rows are written as rounds, which need no stitches that balance the repeats."""
    return bool(lines) and re.match(r"(?i)\s*(?:\d+(?:st|nd|rd|th) )?(?:rounds?|rnds?)\b", lines[0]) is not None


def _row(text: str, number: int, multiple: int, plus: int) -> tuple[Group, ...]:
    """The groups of one repeat of a row. Raises NotRead."""
    text, backwards = _headless(text, number)
    wide = REPEATS * multiple + plus
    steps = _filled(text, wide)
    if sum(s[1] for s in steps) != wide:
        raise NotRead
    found = [(wide - at - many if backwards else at, many) for at, many in _together(steps)]
    middle, after = (
        sorted((at - first, many) for at, many in found if first <= at < first + multiple)
        for first in (multiple * (REPEATS // 2), multiple * (REPEATS // 2 + 1))
    )
    if middle != after:
        raise NotRead
    return tuple(Group(*group) for group in middle)


def _headless(text: str, number: int) -> tuple[str, bool]:
    """A row without its number, in small letters; and whether it is worked from the wrong side."""
    text = " ".join(text.casefold().split()).removesuffix(".")
    for written, short in PASSED_OVER.items():
        text = re.sub(written, short, text)
    head = re.match(HEAD, text)
    if head is None:
        return text, number % 2 == 0
    if head["row"] and int(head["row"][:4]) != number:
        raise NotRead
    in_round = (head["unit"] or head["after"]) in ("round", "rnd")
    backwards = head["side"] in ("ws", "wrong side") if head["side"] else number % 2 == 0
    return text[head.end() :], backwards and not in_round


def _filled(text: str, wide: int) -> list[Step]:
    """The steps of a row of so many stitches. Raises NotRead."""
    if re.fullmatch(WHOLE_ROW, text):
        return [(1, 1)] * wide
    if "*" not in text:
        text = re.sub(IN_BRACKETS, lambda m: f"*{m['square'] or m['round']}; repeat from *", text)
    repeated = re.search(REPEATED, text)
    if repeated is None:
        return _once(text, wide)
    end = re.match(TO_THE, repeated["end"])
    before = _steps(text[: repeated.start()])
    after = _steps(repeated["end"][end.end() :] if end else repeated["end"])
    one = _steps(repeated["cells"])
    uses, last = (sum(s[0] for s in steps) for steps in (one, after))
    extra = sum(s[0] for s in before) + last
    if not uses:
        raise NotRead
    if end and end[1] and int(end[1]) != last:
        raise DoesNotFit(uses, extra, (int(end[1]), last))
    times, over = divmod(wide - extra, uses)
    if over or times < 1:
        raise DoesNotFit(uses, extra)
    return [*before, *one * times, *after]


def _once(text: str, wide: int) -> list[Step]:
    """The steps of a row that is written for one repeat. Raises NotRead."""
    if "*" in text:
        raise NotRead
    one = _steps(text)
    uses = sum(s[0] for s in one)
    if not uses:
        raise NotRead
    if wide % uses:
        raise DoesNotFit(0, uses)
    return one * (wide // uses)


MOST_STITCHES, MOST_TIMES, LONGEST_ROW = 400, 80, 20_000
"""Stitches that are counted at once, times that a bracket comes, and letters of a row with its brackets opened: what a
row may say. Brackets within brackets multiply.
"""


def many(said: str | None, most: int, nothing_said: int = 1) -> int:
    """A number in a row. Raises NotRead for one that no row has."""
    if said is not None and (len(said) > len(str(most)) or int(said) > most):
        raise NotRead
    return int(said) if said is not None else nothing_said


def opened(text: str) -> str:
    """A row with what stands in brackets as often as it comes. Raises NotRead."""
    while found := re.search(TIMES, text, re.IGNORECASE):
        inner = ", ".join([found["cells"]] * many(found["number"], MOST_TIMES, 2))
        text = f"{text[: found.start()]}{inner}{text[found.end() :]}"
        if len(text) > LONGEST_ROW:
            raise NotRead
    return text


def _steps(text: str) -> list[Step]:
    """Single steps, those in brackets as often as they come. Raises NotRead."""
    text = opened(re.sub(r"\byf, ?(?=sl)", "yf ", text))
    return [step for part in re.split(r"[,;]", text) if part.strip() for step in _step(part.strip())]


LONGEST = 4
"""Words of a step: sl 1 purlwise wyif."""


def _step(text: str) -> Iterator[Step]:
    """The steps between two commas: one, or several with spaces between them. Raises NotRead."""
    if re.search(YARN_AT_THE_FRONT, text):
        raise NotRead
    words = text.split()
    while words:
        for many in range(LONGEST, 0, -1):
            found = _one_step(" ".join(words[:many]))
            if found is not None:
                break
        else:
            raise NotRead
        yield from found
        words = words[many:]


def _one_step(text: str) -> list[Step] | None:
    counted, crossed = re.fullmatch(COUNTED, text), re.fullmatch(CROSSED, text)
    if text in STEPS:
        return [STEPS[text]]
    if counted:
        return [(1, 1)] * many(counted[1] or counted[2], MOST_STITCHES)
    if crossed:
        wide = sum(many(n, MOST_STITCHES) for n in crossed.groups() if n)
        return [(wide, wide)]
    return None


def _together(steps: Sequence[Step]) -> Iterator[tuple[int, int]]:
    """First stitch and number of those that belong together: that cross, or until as many are left as were used."""
    at = start = level = 0
    for uses, leaves in steps:
        if level == 0:
            start = at
        at += uses
        level += leaves - uses
        if level == 0 and at - start > 1:
            yield start, at - start
