"""Rows that are typed for knitting back and forth, turned for the round, where each is worked from the right side.

A wrong-side row is read backwards, with knit for purl and purl for knit. A fabric all over also loses the stitches
that balance its repeats. Rows with a step that has no known other face are not turned, and that is said.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from workshop.core.fabric.patterns import Pattern
from workshop.core.fabric.written import (
    COUNTED,
    CROSSED,
    HEAD,
    IN_BRACKETS,
    LONGEST,
    MOST_STITCHES,
    PASSED_OVER,
    REPEATED,
    REPEATS,
    STEPS,
    TO_THE,
    WHOLE_ROW,
    NotRead,
    many,
    opened,
)
from workshop.core.making.ledger import Piece
from workshop.core.notes import Notes
from workshop.records import record

OTHER_FACE = {
    **{"k#": "p#", "p#": "k#", "k# tbl": "p# tbl", "p# tbl": "k# tbl"},
    **{"k2tog": "p2tog", "p2tog": "k2tog", "k3tog": "p3tog", "p3tog": "k3tog"},
    **{"ssk": "ssp", "ssp": "ssk", "skp": "ssp", "skpo": "ssp", "p2tog tbl": "ssk", "k2tog tbl": "ssp"},
    **{"m1": "m1p", "m1p": "m1", "knit": "purl", "purl": "knit", "k": "purl", "p": "knit"},
    **{"sl# wyif": "sl# wyib", "sl# wyib": "sl# wyif"},
    **{"sl# purlwise wyif": "sl# purlwise wyib", "sl# purlwise wyib": "sl# purlwise wyif"},
    **{name: name for name in ("sl#", "sl# purlwise", "yo", "yon", "yfwd", "yrn", "yfrn", "yarn over")},
}
"""What a step on the wrong side is on the right side; "#" is a number of stitches (common practice, no source)."""

AS_THEY_LIE = r"(?i)(?:knit|k) (?:the |all )?knits?.*"
"""The stitches are worked as they face the knitter, so the words are the same for both sides."""


@record
class RoundStep:
    """One step, as it is written; "#" stands for a number of stitches that are worked alike."""

    name: str
    uses: int = 1
    leaves: int = 1


@record
class RoundRow:
    """A row as it is worked in the round: the steps of its repeat, and those before and after all repeats."""

    cells: tuple[RoundStep, ...]
    before: tuple[RoundStep, ...] = ()
    after: tuple[RoundStep, ...] = ()
    whole: str = ""
    """What a row says that is the same in every stitch, instead of steps."""


def in_the_round(pattern: Pattern, rows: int, stitches: int = 0) -> tuple[RoundRow, ...] | None:
    """The typed rows of a pattern as rounds, so many; None where one of them can't be turned.

    ``stitches`` are those between the markers of a panel; 0: all around, in whole repeats without those that balance.
    """
    if len(pattern.lines) != pattern.rows:
        return None
    try:
        return tuple(_round(pattern, number, stitches) for number in range(1, rows + 1))
    except NotRead:
        return None


def to_be_turned(pattern: Pattern) -> bool:
    """Whether a pattern is told in typed rows, and one of them is written for the wrong side."""
    numbered = enumerate(pattern.lines, 1)
    return (pattern.as_typed or not pattern.chart) and any(_headless(text, number)[1] for number, text in numbered)


def check_turned(pieces: Iterable[Piece], notes: Notes) -> None:
    """Say which patterns are knitted in the round although their typed rows can't be turned for it."""
    found: dict[tuple[str, int], Pattern] = {}
    for piece in (p for p in pieces if p.worked == "round"):
        grounds = [band.pattern for band in piece.bands] + ([piece.pattern.pattern] if piece.pattern else [])
        found |= {(pattern.id, 0): pattern for pattern in grounds}
        found |= {(panel.pattern.id, panel.stitches): panel.pattern for panel in piece.panels}
    told = {
        pattern.name
        for (_, stitches), pattern in found.items()
        if to_be_turned(pattern) and in_the_round(pattern, pattern.rows, stitches) is None
    }
    for name in sorted(told):
        notes.check("rows-not-turned", pattern=name)


def _headless(text: str, number: int) -> tuple[str, bool, int]:
    """A row without its number, whether it is worked from the wrong side, and the number it has itself (0: none)."""
    text = " ".join(text.split()).removesuffix(".")
    head = re.match(HEAD, text, re.IGNORECASE)
    if head is None:
        return text, number % 2 == 0, 0
    told = {name: (found or "").casefold() for name, found in head.groupdict().items()}
    in_round = bool({told.get("unit"), told.get("after")} & {"round", "rnd"})
    backwards = told["side"].startswith("w") if told["side"] else number % 2 == 0
    return text[head.end() :], backwards and not in_round, int(told["row"][:4] or 0)


def _round(pattern: Pattern, number: int, stitches: int) -> RoundRow:
    """One row of a pattern as a round; a second time through an odd number of rows it is worked from the other side."""
    at = (number - 1) % pattern.rows + 1
    text, backwards, own = _headless(pattern.lines[at - 1], at)
    if own not in (0, at):
        raise NotRead
    backwards = backwards if number == at else number % 2 == 0
    if re.fullmatch(WHOLE_ROW, text, re.IGNORECASE):
        if re.fullmatch(AS_THEY_LIE, text):
            return RoundRow((), whole=text)
        name = re.split(r"\s", text.casefold())[0]
        return RoundRow((), whole={"k": "knit", "p": "purl"}[(OTHER_FACE[name] if backwards else name)[0]])
    row = _parted(text, stitches or REPEATS * pattern.multiple + pattern.plus)
    if backwards:
        row = RoundRow(_turned(row.cells), _turned(row.after), _turned(row.before))
    if stitches:
        return row
    repeat = _uses(row.cells)
    if pattern.multiple % repeat:
        raise NotRead
    return RoundRow(_from_stitch(row.cells, -_uses(row.before) % repeat))


def _parted(text: str, wide: int) -> RoundRow:
    """The steps of a row of so many stitches before its repeat, of one repeat, and after it. Raises NotRead."""
    written = {short: found[0] for long, short in PASSED_OVER.items() if (found := re.search(long, text, re.I))}
    for long, short in PASSED_OVER.items():
        text = re.sub(long, short, text, flags=re.IGNORECASE)
    if "*" not in text:
        text = re.sub(IN_BRACKETS, lambda m: f"*{m['square'] or m['round']}; repeat from *", text, flags=re.IGNORECASE)
    repeated = re.search(REPEATED, text, re.IGNORECASE)
    if re.search(r"(?i)\byf,? ?sl", text):  # no yarn over: the yarn is only brought to the front
        raise NotRead
    if repeated is None:
        row = RoundRow(tuple(_steps(text, written)))
    else:
        end = re.match(TO_THE, repeated["end"], re.IGNORECASE)
        last = repeated["end"][end.end() :] if end else repeated["end"]
        cells, before, after = (
            tuple(_steps(part, written)) for part in (repeated["cells"], text[: repeated.start()], last)
        )
        row = RoundRow(cells, before, after)
    sides = (*row.before, *row.after)
    if not _uses(row.cells) or (wide - _uses(sides)) % _uses(row.cells) or _level(row.cells) or _level(sides):
        raise NotRead
    return row


def _steps(text: str, written: dict[str, str]) -> Iterator[RoundStep]:
    """Single steps, those in brackets as often as they come. Raises NotRead."""
    for part in re.split(r"[,;]", opened(text)):
        words = part.split()
        while words:
            tried = ((many, _step(" ".join(words[:many]), written)) for many in range(LONGEST, 0, -1))
            many, found_steps = next(((many, steps) for many, steps in tried if steps), (0, []))
            if not many:
                raise NotRead
            yield from found_steps
            words = words[many:]


def _step(text: str, written: dict[str, str]) -> list[RoundStep]:
    """The steps that a few words say; none where they say none that is known."""
    counted, crossed = (re.fullmatch(form, text, re.IGNORECASE) for form in (COUNTED, CROSSED))
    if text.casefold() in STEPS:
        return [RoundStep(written.get(text.casefold(), text), *STEPS[text.casefold()])]
    if counted:
        return [RoundStep(_counted(text))] * many(counted[1] or counted[2], MOST_STITCHES)
    wide = sum(many(n, MOST_STITCHES) for n in crossed.groups() if n) if crossed else 0
    return [RoundStep(text, wide, wide)] if wide else []


def _counted(part: str) -> str:
    """The name of stitches that are counted, with a sign for their number: "Knit 3 tbl" is "k# tbl"."""
    found = re.match(r"(k|p|sl)[a-z]*\s?\d*\s?", part.casefold())
    assert found is not None
    return f"{found[1]}# {part.casefold()[found.end() :].replace('pwise', 'purlwise')}".strip()


def _turned(steps: Sequence[RoundStep]) -> tuple[RoundStep, ...]:
    """Steps of a wrong-side row as the right side has them. Raises NotRead for one that has no known other face."""
    names = [OTHER_FACE.get(step.name.casefold()) for step in reversed(steps)]
    if None in names:
        raise NotRead
    return tuple(RoundStep(name or "", s.uses, s.leaves) for name, s in zip(names, reversed(steps), strict=True))


def _from_stitch(cells: tuple[RoundStep, ...], stitch: int) -> tuple[RoundStep, ...]:
    """A repeat from another of its stitches on. Raises NotRead where that would cut what belongs together."""
    for at in range(len(cells) + 1):
        if _uses(cells[:at]) == stitch and not _level(cells[:at]):
            return cells[at:] + cells[:at]
    raise NotRead


def _uses(steps: Iterable[RoundStep]) -> int:
    return sum(step.uses for step in steps)


def _level(steps: Iterable[RoundStep]) -> int:
    return sum(step.leaves - step.uses for step in steps)


def steps_told(steps: Iterable[RoundStep]) -> str:
    """Steps as they are written, those alike counted: k3, yo."""
    told: list[str] = []
    for name, alike in groupby(step.name for step in steps):
        many = len(list(alike))
        told += [name.replace("#", str(many))] if "#" in name else [name] * many
    return ", ".join(told)
