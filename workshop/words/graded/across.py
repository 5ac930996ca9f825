"""Increases or decreases spread over one row, in all sizes with the same steps: only how often differs."""

from collections import Counter
from collections.abc import Iterator, Sequence

from workshop.core.making.ledger import Row
from workshop.core.making.spacing import Technique, evenly
from workshop.words.graded.aligning import each
from workshop.words.graded.brackets import numbers, together
from workshop.words.graded.deeds import Stretch, dashed
from workshop.words.graded.only import Lines, grouped
from workshop.words.phrase import counted
from workshop.words.rows.row_actions import fabric_name, noun


def is_across(row: Row) -> bool:
    """Whether nothing is done in a row but stitches spread across it."""
    event = row.events[0] if len(row.events) == 1 else None
    return event is not None and event.across and event.do in ("increase", "decrease")


def across_line(stretches: Sequence[Stretch | None]) -> list[Lines]:
    """One row in which each size spreads its stitches; the plain stretches of two lengths come one after the other."""
    found = []
    for sizes in grouped(each(stretches, _head)):
        own = [s if at in sizes else None for at, s in enumerate(stretches)]
        one = next(s for s in own if s)
        event = one.rows[0].events[0]
        row = numbers(each(own, lambda s: s.number(s.rows[0])))
        side = one.rows[0].side
        head = f"{noun(one.piece).capitalize()} {row}{f' ({side})' if side != 'round' else ''}"
        change = numbers(each(own, lambda s: s.rows[0].events[0].stitches))
        after = numbers(each(own, lambda s: s.rows[0].after))
        fabric = together(each(own, lambda s: fabric_name(s.piece, s.rows[0])))
        text = (
            f"{head}: {fabric}; {event.do} {_of_stitches(change)} evenly across "
            f"({', '.join(_steps(own))}). {_of_stitches(after)}."
        )
        found.append(Lines((text,), sizes))
    return found


def _head(stretch: Stretch) -> str:
    row = stretch.rows[0]
    return f"{fabric_name(stretch.piece, row)} {row.side} {row.events[0].do}"


def _of_stitches(number: str) -> str:
    return counted(int(number), "stitch", "stitches") if number.isdigit() else f"{number} stitches"


def _steps(stretches: Sequence[Stretch | None]) -> list[str]:
    """Plain stitches at the beginning, the shorter and the longer plain stretches between, and those at the end."""
    there = [s is not None for s in stretches]
    gaps = each(stretches, _gaps)
    technique = _technique(next(s for s in stretches if s))
    between = each(gaps, lambda of_size: Counter(of_size[1:-1]))
    begun = _plain(each(gaps, lambda of_size: of_size[0]), there)
    steps = [step for longer in (False, True) for step in _repeated(between, technique, there, longer=longer)]
    return [*begun, technique, *steps, *_plain(each(gaps, lambda of_size: of_size[-1]), there)]


def _repeated(
    between: Sequence[Counter[int] | None], technique: str, there: Sequence[bool], *, longer: bool
) -> Iterator[str]:
    """The plain stretches of one length, each with what comes after it, and how often."""
    lengths = [_length(counts, longer=longer) for counts in between]
    times = [
        counts[plain] if counts and plain is not None else None for counts, plain in zip(between, lengths, strict=True)
    ]
    if any(times):
        inner = ", ".join([*_plain(lengths, [n is not None for n in times]), technique])
        often = numbers(dashed(times, there))
        yield inner if often == "1" else f"[{inner}] {often} times"


def _length(counts: Counter[int] | None, *, longer: bool) -> int | None:
    """The shorter or the longer of at most two lengths; None where there is none."""
    lengths = sorted(counts) if counts else []
    return lengths[longer] if len(lengths) > longer else None


def _plain(lengths: Sequence[int | None], there: Sequence[bool]) -> list[str]:
    """Plain stitches, with a dash for a size that has none; nothing where no size has any."""
    return [f"k{numbers(dashed([n or None for n in lengths], there))}"] if any(lengths) else []


def _gaps(stretch: Stretch) -> tuple[int, ...]:
    row = stretch.rows[0]
    return evenly(row.before, row.events[0].stitches, _technique(stretch), stretch.piece.worked)


def _technique(stretch: Stretch) -> Technique:
    return "m1" if stretch.rows[0].events[0].do == "increase" else "k2tog"
