"""What happens in the same stretch of several sizes, each thing once, with its rows and stitches in brackets."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from operator import itemgetter

from workshop.core.making.ledger import Event, Piece, Row, rhythm
from workshop.core.making.raglan_lines import BOTH_SIDES, ONE_SIDE, PER_SHAPING
from workshop.records import record
from workshop.words.graded.aligning import aligned, each
from workshop.words.graded.brackets import DASH, bracket, numbers
from workshop.words.rows.row_actions import back_and_forth, happenings, noun, ordinal, what
from workshop.words.rows.runs import QUIET_ROWS

SLOWER = 0.7
"""What it costs to write two rhythms at one place: less than to leave a size out and begin another place."""


SHORT = 24
"""Rows of a stretch in which a few rows sooner or later are still the same time."""

ANOTHER_TIME = 0.35
"""Of a stretch: what begins so much later in one size than in another is another thing."""


@record
class Stretch:
    """Rows of one size that one or more lines cover, and from where its rows are counted."""

    piece: Piece
    rows: tuple[Row, ...]
    counted_from: int
    """Number of the row after which they are counted from 1."""

    def number(self, row: Row) -> int:
        """The number of a row as the text counts it."""
        return row.row - self.counted_from


@record
class Deed:
    """One thing that one size does: to how many stitches, and on which rows."""

    stitches: int | None
    rows: tuple[int, ...]
    """As the text counts them."""
    at: float
    """Where in the stretch it begins, from 0 to 1."""


@record
class Deeds:
    """The same thing in all sizes; None for a size that doesn't do it."""

    verb: str
    place: str
    of_size: tuple[Deed | None, ...]

    def of(self, parts: Sequence["Stretch | None"]) -> "Deeds | None":
        """The same of some sizes only; None where none of them does it."""
        kept = tuple(deed if part else None for deed, part in zip(self.of_size, parts, strict=True))
        return replace(self, of_size=kept) if any(kept) else None

    def reach(self, size: int) -> tuple[int, int] | None:
        """First and last row of a size."""
        deed = self.of_size[size]
        return (deed.rows[0], deed.rows[-1]) if deed else None


def deeds_of(stretches: Sequence[Stretch | None]) -> list[Deeds]:
    """All that happens in a stretch, in the order of its first rows."""
    apart = any(_has_lines_apart(s) for s in stretches if s)
    of_place: dict[tuple[str, str], list[list[Deed]]] = {}
    for at, stretch in enumerate(stretches):
        for key, deed in _deeds(stretch, apart) if stretch else ():
            of_place.setdefault(key, [[] for _ in stretches])[at].append(deed)
    found = [
        Deeds(verb, place, tuple(column))
        for (verb, place), lists in of_place.items()
        for column in aligned([sorted(deeds, key=lambda deed: deed.rows) for deeds in lists], _far)
    ]
    return sorted(_both_neck_edges(found), key=_when_first)


def _has_lines_apart(stretch: Stretch) -> bool:
    return any(e.line in ONE_SIDE for row in stretch.rows for e in row.events)


def _deeds(stretch: Stretch, apart: bool) -> Iterator[tuple[tuple[str, str], Deed]]:
    """Each thing that one size does; both sides of raglan lines apart where any size has them so."""
    rows = [replace(row, events=tuple(_sides(row.events))) for row in stretch.rows] if apart else stretch.rows
    for event, on in happenings(rows):
        said, place = what(event, stretch.piece)
        verb, count = said, None
        if any(letter.isdigit() for letter in said):
            verb, number, _ = said.rsplit(" ", 2)
            count = int(number)
        first, of_all = stretch.rows[0].row, max(len(stretch.rows), SHORT)
        for rows_on in _at_a_time([row.row for row in on]):
            begins = (rows_on[0] - first) / of_all
            yield (verb, place), Deed(count, tuple(row - stretch.counted_from for row in rows_on), begins)


def _at_a_time(rows: Sequence[int]) -> list[list[int]]:
    """Rows on which the same is done, apart where it comes again after a long while."""
    found = [[rows[0]]]
    for row in rows[1:]:
        own = found[-1]
        if len(own) > 1 and row - own[-1] > max(QUIET_ROWS, 2 * (own[-1] - own[-2])):
            found.append([])
        found[-1].append(row)
    return found


def _sides(events: Sequence[Event]) -> Iterator[Event]:
    """Shaping on both sides of the raglan lines as shaping on the body side and on the sleeve side."""
    for event in events:
        if event.line != BOTH_SIDES:
            yield event
            continue
        for line in ONE_SIDE:
            yield replace(event, line=line, stitches=event.stitches // 2)


def both_sides(row: Row) -> tuple[Row, tuple[Event, ...]]:
    """A row with its increases at raglan lines told for each side, and those of these that it does not do."""
    events = tuple(_sides(row.events))
    told = {e.line: e for e in events if e.line in ONE_SIDE and e.do == "increase"}
    left_out = tuple(Event("increase", "across", PER_SHAPING[line], line) for line in ONE_SIDE if line not in told)
    every = {e.line: e for e in (*told.values(), *left_out)}
    others = (e for e in events if e not in told.values())
    return replace(row, events=(*(every[line] for line in ONE_SIDE), *others)), left_out


def _far(one: Deed, other: Deed) -> float | None:
    """The same at the same time belongs together: with another count less, at another time not at all."""
    apart = abs(one.at - other.at)
    return (0.0 if one.stitches == other.stitches else 0.01) + 2 * apart if apart < ANOTHER_TIME else None


def _both_neck_edges(found: Sequence[Deeds]) -> list[Deeds]:
    """The same at the left and at the right neck edge in all sizes is told once."""
    left, right = "at the left neck edge", "at the right neck edge"
    twins = [d for d in found if d.place == left and replace(d, place=right) in found]
    others = [d for d in found if d not in twins and replace(d, place=left) not in twins]
    return [*others, *(replace(d, place="at both neck edges") for d in twins)]


def _when_first(deeds: Deeds) -> float:
    rows = [deed.rows[0] for deed in deeds.of_size if deed]
    return sum(rows) / len(rows)


def told(deeds: Deeds, stretches: Sequence[Stretch | None]) -> str:
    """One thing with its rows: "decrease 1 stitch at both ends on row 3, then every 2nd row 4 (5, 7) more times"."""
    there = [s is not None for s in stretches]
    counts = each(deeds.of_size, lambda deed: deed.stitches)
    known = {count for count in counts if count is not None}
    amount = f" {numbers(dashed(counts, there))} {'stitch' if known == {1} else 'stitches'}" if known else ""
    text = f"{deeds.verb}{amount} {deeds.place}"
    if all(s is None or len(s.rows) == 1 for s in stretches):
        return text
    one = next(s for s in stretches if s)
    name = "row" if back_and_forth(one.rows[0], one.piece) else noun(one.piece)
    preposition = "of" if deeds.place.endswith(("the beginning", "the end")) else "on"
    doing = [deed is not None for deed in deeds.of_size]
    rows = each(deeds.of_size, lambda deed: deed.rows)
    return f"{text} {preposition} {when(rows, doing if known else there, name)}"


def dashed(values: Sequence[int | None], in_line: Sequence[bool]) -> list[int | str | None]:
    """A dash for a size that the line is for, and that leaves this out."""
    return [DASH if there and value is None else value for value, there in zip(values, in_line, strict=True)]


def when(rows: Sequence[tuple[int, ...] | None], in_line: Sequence[bool], name: str) -> str:
    """The rows on which something happens in each size: one or two of them, or a rhythm that is exactly theirs."""
    first = numbers(dashed(each(rows, itemgetter(0)), in_line))
    often = {len(of_size) for of_size in rows if of_size}
    if often == {1}:
        return f"{name} {first}"
    if often == {2}:
        return f"{name}s {first} and {numbers(dashed(each(rows, itemgetter(1)), in_line))}"
    return ", then ".join([f"{name} {first}", *_rhythms(rows, in_line, name)])


def _rhythms(rows: Sequence[tuple[int, ...] | None], in_line: Sequence[bool], name: str) -> Iterator[str]:
    """Each rhythm after the first row: "every 2nd row 4 (5, 7) more times (to row 11 (13, 17))"."""
    now = [of_size[0] if of_size else 0 for of_size in rows]
    for column in aligned([rhythm(of_size) if of_size else () for of_size in rows], _slower):
        now = [row + step[0] * step[1] if step else row for row, step in zip(now, column, strict=True)]
        times = numbers(dashed(each(column, itemgetter(1)), in_line))
        to = numbers([row if step else None for row, step in zip(now, column, strict=True)])
        every = _every(each(column, itemgetter(0)), name)
        yield f"on {name} {to}" if times == "1" else f"{every} {times} more times (to {name} {to})"


def _slower(one: tuple[int, int], other: tuple[int, int]) -> float | None:
    """Every row is another word than every 2nd row."""
    if one[0] == other[0]:
        return 0.0
    return None if 1 in (one[0], other[0]) else SLOWER


def _every(gaps: Sequence[int | None], name: str) -> str:
    """Every how many rows; a size that doesn't do it has a dash at the number of times."""
    if 1 in gaps:
        return f"every {name}"
    return f"every {bracket(each(gaps, ordinal))} {name}"


def ends(found: Sequence[Deeds]) -> Mapping[int, tuple[int, int]]:
    """For each size the first and last row of some deeds; a size that does none of them has none."""
    reach: dict[int, tuple[int, int]] = {}
    for deeds in found:
        for size in range(len(deeds.of_size)):
            own = deeds.reach(size)
            if own:
                first, last = reach.get(size, own)
                reach[size] = (min(first, own[0]), max(last, own[1]))
    return reach
