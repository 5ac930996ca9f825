"""The rows of a stitch pattern as its source writes them, read far enough to know which stitches belong together.

A crossing needs all its stitches, and a yarn over its decrease: such a group is worked whole or not at all. Common
abbreviations are read; a row that holds anything else makes the pattern one whose groups are not known.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache

from workshop.core.fabric.patterns import Pattern
from workshop.core.fabric.row_heads import head_of, in_rounds, sides_of
from workshop.records import record

# Patterns are made when a row is first read: most projects have none of their own.
COUNTED = r"(?:knit|purl|k|p)\s?(\d+)?(?:\s?tbl)?|sl(?:ip)?\s?(\d+)?(?: (?:purlwise|knitwise|pwise|kwise|wyif|wyib))*"
CROSSED = r"[ct](\d+)(?:[fbrl]|[fbrl][pw])|(\d+)/(?:(\d+)/)?(\d+) ?[rl]p?[ct]"
STEPS: dict[str, tuple[int, int]] = {
    **dict.fromkeys(("yo", "yon", "yf", "yfwd", "yrn", "yfrn", "yarn over", "m1", "m1l", "m1r", "m1p"), (0, 1)),
    **dict.fromkeys(("yo twice", "yo2"), (0, 2)),
    **dict.fromkeys(("k2tog", "p2tog", "k2tog tbl", "p2tog tbl", "ssk", "ssp", "skp", "skpo"), (2, 1)),
    **dict.fromkeys(
        ("k3tog", "p3tog", "k3tog tbl", "p3tog tbl", "sssk", "sssp", "sk2p", "sk2po", "s2kp", "s2kpo", "cdd"), (3, 1)
    ),
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

YARN_AT_THE_FRONT = r"(?i)\byf,? ?sl"
"""Before a slipped stitch the yarn only comes to the front; anywhere else "yf" makes a stitch."""

WHOLE_ROW = (
    r"(?:knit|purl|k|p)(?: to (?:the )?end| all (?:stitches|sts)| every (?:stitch|st))?"
    r"|(?:knit|k) (?:the |all )?knits?,? (?:and |& )?(?:purl|p) (?:the |all )?purls?"
    r"(?: as they (?:lie|face you|appear))?"
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
class Step:
    """One step; "#" stands for a number of stitches that are worked alike."""

    name: str
    """As the table of steps has it, in small letters."""
    uses: int = 1
    leaves: int = 1
    """Stitches on the needle after it."""
    written: str = ""
    """As its row has it, where that is otherwise."""


@record
class WrittenRow:
    """A row as its source writes it: the steps of its repeat, and those before and after all repeats."""

    cells: tuple[Step, ...]
    before: tuple[Step, ...] = ()
    after: tuple[Step, ...] = ()
    whole: str = ""
    """What a row says that is the same in every stitch, instead of steps."""
    repeats: bool = True
    """Whether it says what is repeated; False: it is written for one repeat."""
    last: int | None = None
    """The stitches that it says come after the last repeat."""

    def over(self, wide: int) -> list[Step]:
        """Its steps over so many stitches; they use them all. Raises DoesNotFit, and NotRead for no steps."""
        if self.whole:
            return [Step("k#")] * wide
        repeat, last = uses(self.cells), uses(self.after)
        extra = uses(self.before) + last
        if not repeat:
            raise NotRead
        if self.last is not None and self.last != last:
            raise DoesNotFit(repeat, extra, (self.last, last))
        times, rest = divmod(wide - extra, repeat)
        if rest or times < 1:
            raise DoesNotFit(repeat, extra) if self.repeats else DoesNotFit(0, repeat)
        return [*self.before, *self.cells * times, *self.after]


def uses(steps: Iterable[Step]) -> int:
    """Stitches that steps use."""
    return sum(step.uses for step in steps)


def leaves(steps: Iterable[Step]) -> int:
    """Stitches that they leave."""
    return sum(step.leaves for step in steps)


# ── what belongs together ────────────────────────────────────────────────────────────────────────────


@record
class Group:
    """Stitches of a row that are worked whole or not at all."""

    start: int
    """Stitch of the repeat that it begins with, from 0, as the right side shows it."""
    width: int


Groups = tuple[tuple[Group, ...], ...]
"""Of each row of a pattern."""


def groups_of(pattern: Pattern, rows: int | None = None) -> Groups | None:
    """The groups of every row of a pattern; None where its rows are not written, or not understood.

    ``rows``: those after which it begins again; an odd number of them comes a second time from the other side. A chart
    of k and p alone has none, nor has one of colors.
    """
    if pattern.chart and (pattern.stranded or not set("".join(pattern.chart)) - {"k", "p"}):
        return tuple(() for _ in pattern.chart)
    if len(pattern.lines) != pattern.rows:
        return None
    return _groups(pattern.lines, pattern.multiple, pattern.plus, again=rows == 2 * pattern.rows)


@lru_cache(maxsize=32)
def _groups(lines: tuple[str, ...], multiple: int, plus: int, *, again: bool) -> Groups | None:
    over, sides = 0 if in_rounds(lines) else plus, sides_of(lines)
    try:
        rows = [(row_of(text, n), sides[n - 1] == "WS") for n, text in enumerate(lines, 1)]
        if again:
            rows += [(row, backwards if in_rounds(lines) else not backwards) for row, backwards in rows]
        return tuple(_row(row, multiple, over, backwards=backwards) for row, backwards in rows)
    except NotRead:
        return None


REPEATS = 8
"""So many stand in a row whose groups are looked for in its middle."""


def _row(row: WrittenRow, multiple: int, plus: int, *, backwards: bool) -> tuple[Group, ...]:
    """The groups of one repeat of a row. Raises NotRead."""
    wide = REPEATS * multiple + plus
    steps = row.over(wide)
    if leaves(steps) != wide:
        raise NotRead
    found = [(wide - at - many if backwards else at, many) for at, many in _together(steps)]
    middle, after = (
        sorted((at - first, many) for at, many in found if first <= at < first + multiple)
        for first in (multiple * (REPEATS // 2), multiple * (REPEATS // 2 + 1))
    )
    if middle != after:
        raise NotRead
    return tuple(Group(*group) for group in middle)


def _together(steps: Sequence[Step]) -> Iterator[tuple[int, int]]:
    """First stitch and number of those that belong together: that cross, or until as many are left as were used."""
    at = start = level = 0
    for step in steps:
        if level == 0:
            start = at
        at += step.uses
        level += step.leaves - step.uses
        if level == 0 and at - start > 1:
            yield start, at - start


# ── reading ──────────────────────────────────────────────────────────────────────────────────────────


def row_of(text: str, number: int) -> WrittenRow:
    """A row of a pattern as it is written. Raises NotRead, also for one that says another number."""
    head = head_of(text)
    if head.number not in (0, number):
        raise NotRead
    return _read(head.text)


@lru_cache(maxsize=256)
def _read(text: str) -> WrittenRow:
    """A row without its number. Raises NotRead."""
    if re.fullmatch(WHOLE_ROW, text, re.IGNORECASE):
        return WrittenRow((), whole=text)
    if re.search(YARN_AT_THE_FRONT, text):
        raise NotRead
    written = {short: found[0] for long, short in PASSED_OVER.items() if (found := re.search(long, text, re.I))}
    for long, short in PASSED_OVER.items():
        text = re.sub(long, short, text, flags=re.IGNORECASE)
    if "*" not in text:
        text = re.sub(IN_BRACKETS, lambda m: f"*{m['square'] or m['round']}; repeat from *", text, flags=re.IGNORECASE)
    repeated = re.search(REPEATED, text, re.IGNORECASE)
    if repeated is None:
        return WrittenRow(tuple(_steps(text, written)), repeats=False)
    end = re.match(TO_THE, repeated["end"], re.IGNORECASE)
    parts = (repeated["cells"], text[: repeated.start()], repeated["end"][end.end() :] if end else repeated["end"])
    cells, before, after = (tuple(_steps(part, written)) for part in parts)
    return WrittenRow(cells, before, after, last=_many(end[1], MOST_STITCHES) if end and end[1] else None)


MOST_STITCHES, MOST_TIMES, LONGEST_ROW = 400, 80, 20_000
"""Stitches that are counted at once, times that a bracket comes, and letters of a row with its brackets opened: what a
row may say. Brackets within brackets multiply.
"""


def _many(said: str | None, most: int, nothing_said: int = 1) -> int:
    """A number in a row. Raises NotRead for one that no row has."""
    if said is not None and (len(said) > len(str(most)) or int(said) > most):
        raise NotRead
    return int(said) if said is not None else nothing_said


def _opened(text: str) -> str:
    """A row with what stands in brackets as often as it comes. Raises NotRead."""
    while found := re.search(TIMES, text, re.IGNORECASE):
        inner = ", ".join([found["cells"]] * _many(found["number"], MOST_TIMES, 2))
        text = f"{text[: found.start()]}{inner}{text[found.end() :]}"
        if len(text) > LONGEST_ROW:
            raise NotRead
    return text


LONGEST = 4
"""Words of a step: sl 1 purlwise wyif."""


def _steps(text: str, written: Mapping[str, str]) -> Iterator[Step]:
    """Single steps, those in brackets as often as they come. Raises NotRead."""
    for part in re.split(r"[,;]", _opened(text)):
        words = part.split()
        while words:
            tried = ((wide, _step(" ".join(words[:wide]), written)) for wide in range(LONGEST, 0, -1))
            wide, found = next(((wide, steps) for wide, steps in tried if steps), (0, []))
            if not wide:
                raise NotRead
            yield from found
            words = words[wide:]


def _step(text: str, written: Mapping[str, str]) -> list[Step]:
    """The steps that a few words say; none where they say none that is known. Raises NotRead."""
    name = text.casefold()
    counted, crossed = re.fullmatch(COUNTED, name), re.fullmatch(CROSSED, name)
    if name in STEPS:
        return [Step(name, *STEPS[name], written=written.get(name, text))]
    if counted:
        return [Step(_counted(name))] * _many(counted[1] or counted[2], MOST_STITCHES)
    wide = sum(_many(n, MOST_STITCHES) for n in crossed.groups() if n) if crossed else 0
    return [Step(name, wide, wide, text)] if wide else []


def _counted(name: str) -> str:
    """The name of stitches that are counted, with a sign for their number: "knit 3 tbl" is "k# tbl"."""
    found = re.match(r"(k|p|sl)[a-z]*\s?\d*\s?", name)
    assert found is not None
    kind = re.sub(r"\b([pk])wise", lambda m: {"p": "purlwise", "k": "knitwise"}[m[1]], name[found.end() :])
    return f"{found[1]}# {kind}".strip()
