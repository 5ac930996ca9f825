"""A knitter of one size who has the one text for all sizes and the place of her size in it, nothing else.

Written from the printed text, not from the code that prints it. She takes her figure out of each bracket, leaves out
what has a dash for her and lines for other sizes, and then knits what is left, as ``tests/reader.py`` does: what a line
claims is worked out and compared.
"""

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from tests.reader import Knitter, ReadPiece, Waiting, split, stripes_told

FIGURE = r"(?:–|\d*[⅛¼⅜½⅝¾⅞]|\d+(?:\.\d+)?(?:st|nd|rd|th)?)"
BRACKET = re.compile(rf"({FIGURE}) \(({FIGURE}(?:, {FIGURE})*)\)")
ONLY = re.compile(r"Sizes? (.+?) only: ")
TITLE = re.compile(r"(.+) \(sizes? (.+?) only\)")
AGAIN = re.compile(r"(?:^| )Count (row|round)s from 1 again\.")
NUMBERED = re.compile(
    r"\b([Rr]ows?|[Rr]ounds?) (\d+\b(?:, \d+\b(?! from))*(?:(?: and| to) \d+\b)?)(?! (?:more )?times| of (?:\d|the stripes))"
)


@dataclass
class OfSize:
    """One piece as one size reads it."""

    title: str
    measures: str
    lines: list[str]


def own_figure(text: str, place: int, sizes: int) -> str:
    """The text with the figure of one size for each bracket."""

    def pick(found: re.Match[str]) -> str:
        figures = [found[1], *found[2].split(", ")]
        assert len(figures) == sizes, f"{len(figures)} figures for {sizes} sizes: {found[0]}"
        return figures[place]

    return BRACKET.sub(pick, text)


def meant(text: str, names: Sequence[str]) -> set[str]:
    """The sizes that "S, M and 1X to 3X" names."""
    found: set[str] = set()
    for part in re.split(r", | and ", text):
        first, _, last = part.partition(" to ")
        at = [name.lower() for name in names].index(first.lower())
        until = [name.lower() for name in names].index(last.lower()) if last else at
        assert until > at or not last
        found |= set(names[at : until + 1])
    return found


def without_dashes(line: str) -> str:
    """A line without what has a dash in it: steps, times of a rhythm, things that happen, parts of a sentence."""
    line = re.sub(r", (?:and|but) – (?:more|fewer) (?:in all|on each side)", "", line)
    line = re.sub(r", skipping –(?: where there are –)?", "", line)
    line = re.sub(r" \(with the – bound-off stitch(?:es)?\)| \((?:about – for every –|– from each)\)", "", line)
    line = re.sub(r"; (?:about – for every –|– from each)\)", ")", line)
    line = re.sub(r", then every (?:–|\w+)?(?: ?(?:row|round)) – more times \(to (?:row|round) [\d–]+\)", "", line)
    line = re.sub(r"\((?P<steps>[^()]*–[^()]*)\)", lambda found: f"({_steps(found['steps'])})", line)
    line = re.sub(r"(rib: )([^.;]*–[^.;]*)", lambda found: found[1] + _steps(found[2]), line)
    first, *others = split(line, "; ")
    begins = re.match(r"((?:Row|Round) \d+(?: \(..\))?: )(.*–.*)", first)
    if begins and others:  # what is left out comes first
        first, *others = begins[1] + others[0], *others[1:]
    if not others:
        return first
    *middle, last = others
    end = re.match(r"[^.]*–[^.]*(\..*)", last)
    kept = [clause for clause in (first, *middle) if "–" not in clause]
    return "; ".join(kept) + end[1] if end else "; ".join([*kept, last])


def _steps(text: str) -> str:
    kept = []
    for step in split(text, ", "):
        inside = re.fullmatch(r"\[(.+)\] (.+) times", step)
        if inside and inside[2] != "–":
            kept.append(f"[{', '.join(s for s in split(inside[1], ', ') if '–' not in s)}] {inside[2]} times")
        elif "–" not in step:
            kept.append(step)
    return ", ".join(kept)


def as_of_one(line: str) -> str:
    """ "1 stitch", "on row 9", and how many rows a line has, which a knitter sees from their numbers."""
    line = re.sub(r"\b1 (held )?stitches\b", r"1 \1stitch", line)
    line = re.sub(r"\bevery (?:\w+ )?(row|round) 1 more times \(to \1 (\d+)\)", r"on \1 \2", line)

    def rows(found: re.Match[str]) -> str:
        number = int(found[3]) - int(found[2]) + 1
        assert number > 0, found[0]
        unit = "round" if found[1] == "Rounds" else "row"
        return f"{found[0][:-2]} ({number} {unit}{'s' if number > 1 or found[1] != 'Row' else ''}): "

    if re.match(r"R(?:ow|ound)s (\d+) to \1: ", line):  # one row in her size
        line = re.sub(r"(, (?:[^\s,]+ )*panels?) from (?=(?:row|round) \d+ of \d)", r"\1 on ", line)
        line = line.replace(", beginning with row ", ", row ")
    return re.sub(r"^(Rows|Rounds|Short rows) (\d+) to (\d+): ", rows, line)


def of_size(pieces: Iterable[object], names: Sequence[str], place: int) -> Iterator[OfSize]:
    """The pieces of one size, in the words of a text for one size."""
    for piece in pieces:
        title = TITLE.fullmatch(piece.title)  # type: ignore[attr-defined]
        if title and names[place] not in meant(title[2], names):
            continue
        measures = list(read_lines(piece.measures, names, place))  # type: ignore[attr-defined]
        assert len(measures) == 1, f"{piece.title}: {measures}"  # type: ignore[attr-defined]
        lines = list(read_lines(piece.lines, names, place))  # type: ignore[attr-defined]
        yield OfSize(title[1] if title else piece.title, measures[0], lines)  # type: ignore[attr-defined]


def read_lines(lines: Iterable[str], names: Sequence[str], place: int) -> Iterator[str]:
    """What one size reads of lines for all of them."""
    kept: list[str] = []
    for line in (one.replace(" lines for your size.", " lines.") for one in lines):
        only = ONLY.match(line)
        if only and names[place] not in meant(only[1], names):
            continue
        own = without_dashes(own_figure(line[only.end() :] if only else line, place, len(names)))
        if "–" in own:
            assert own.startswith("At the same time: "), f"a dash for a size that must do something: {line}"
            head = max(i for i, earlier in enumerate(kept) if ", with the shaping in the next " in earlier)
            kept[head] = re.sub(r"next (\d+) lines", lambda f: f"next {int(f[1]) - 1} lines", kept[head])
            continue
        kept.append(as_of_one(own))
    for line in kept:
        yield line.replace(", with the shaping in the next 0 lines", "")


class SizeKnitter(Knitter):
    """Counts rows on where the text counts them from 1 again."""

    again = 0
    read_before = True

    def read_line(self, line: str) -> None:
        """A line with its rows counted from the beginning of the piece."""
        begun = re.match(r"(Continue|Return)", line)
        counted = AGAIN.search(line)
        line = AGAIN.sub("", line)
        if self.again and not begun:
            line = NUMBERED.sub(self.shifted, line)
        if line:
            super().read_line(line)
        if counted:
            assert counted[1] == self.unit
            assert self.unit == "round" or self.next_row % 2, "right-side rows would become even"
            self.again = self.next_row - 1

    def shifted(self, found: re.Match[str]) -> str:
        """Row numbers as they are counted from the beginning."""
        return f"{found[1]} {re.sub(r'[0-9]+', lambda n: str(int(n[0]) + self.again), found[2])}"

    def keeps_pattern(self, said: bool, changed: bool) -> None:
        """A pattern that is kept in some size is kept in all: said of rows that don't change it too."""
        assert said or not changed, "is the pattern kept through shaping?"


def read_size(
    pieces: Iterable[object], names: Sequence[str], place: int, before: Iterable[str] = ()
) -> list[ReadPiece]:
    """The pieces of one size; nothing may be left on a needle or holder. Stripes are told before the first row."""
    waiting, found = Waiting(), []
    stripes = stripes_told(read_lines(before, names, place))
    for words in of_size(pieces, names, place):
        found += SizeKnitter(words, waiting, stripes).read()
    left = waiting.needle | waiting.holder | waiting.sleeves
    assert not left, f"stitches still wait: {left}"
    for side in ("left", "right"):
        seam = [n for name, n in waiting.shoulders.items() if side in name]
        assert not seam or (len(seam) == 2 and seam[0] == seam[1]), f"a {side} shoulder of {seam} stitches"
    return found
