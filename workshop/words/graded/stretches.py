"""Rows of the same stretch of several sizes as lines: each covers what goes on at the same time in all of them."""

import re
from collections.abc import Sequence
from itertools import pairwise

from workshop.core.making.ledger import Row
from workshop.core.plan import Plan
from workshop.words.graded.aligning import aligned, same
from workshop.words.graded.brackets import numbers, together
from workshop.words.graded.deeds import Deeds, Stretch, deeds_of, ends, told
from workshop.words.graded.only import Lines, grouped, merged
from workshop.words.instructions import reached
from workshop.words.phrase import counted
from workshop.words.rows.leans import no_bar
from workshop.words.rows.plain_edges import edge_notes
from workshop.words.rows.row_actions import back_and_forth, fabric_words, noun
from workshop.words.rows.runs import LONGEST, QUIET_ROWS

Stretches = Sequence[Stretch | None]


def stretch_lines(stretches: Stretches, plans: Sequence[Plan]) -> list[Lines]:
    """The lines of a stretch; sizes whose fabric is told otherwise have lines of their own."""
    found: list[Lines] = []
    for sizes in grouped([_words(s, single=False) if s else None for s in stretches]):
        own: Stretches = [s if at in sizes else None for at, s in enumerate(stretches)]
        found += _of_one_fabric(own, plans)
    return found


def _of_one_fabric(stretches: Stretches, plans: Sequence[Plan]) -> list[Lines]:
    found: list[Lines] = []
    for deeds, parts in _cut(stretches):
        for sizes in grouped([_words(s, single=False) if s else None for s in parts]):
            own: Stretches = [s if at in sizes else None for at, s in enumerate(parts)]
            found += [_one_line(deeds, own, plans), *_at_the_edges(own)]
    return found


def _one_line(deeds: list[Deeds], parts: Stretches, plans: Sequence[Plan]) -> Lines:
    """What goes on at the same time: in one line, or each thing in one of its own."""
    changed = any(_changes(s) for s in parts if s)
    head, tail = _head(parts, changed=changed), _tail(parts, plans, changed=changed)
    clauses = [told(of_parts, parts) for one in deeds if (of_parts := one.of(parts))]
    whole = "; ".join([head, *clauses])
    if len(clauses) < 2 or len(whole) <= LONGEST:
        lines = [f"{whole}. {tail}".rstrip()]
    else:
        lines = [f"{head}, with the shaping in the next {len(clauses)} lines. {tail}".rstrip()]
        lines += [f"At the same time: {clause}." for clause in clauses]
    return Lines(tuple(lines), tuple(at for at, s in enumerate(parts) if s))


NUMBERED = re.compile(r"\b(rows?|rounds?) (\d+\b(?:, \d+\b(?! from))*(?: and \d+\b)?)(?! (?:more )?times)")
"""Rows that are named, but not "every 2nd row 4 times"."""


def _at_the_edges(parts: Stretches) -> list[Lines]:
    """What of a pattern is plain at the edges in these rows, and how many repeats are whole."""
    notes = [notes_at_edges(s) if s else () for s in parts]
    columns = aligned(notes, lambda a, b: same(a.partition(":")[0], b.partition(":")[0]))
    return [lines for column in columns for lines in merged(column)]


def notes_at_edges(stretch: Stretch) -> tuple[str, ...]:
    """Notes of one size with its rows as the text counts them."""

    def counted_anew(found: re.Match[str]) -> str:
        return found[1] + " " + re.sub(r"\d+", lambda n: str(int(n[0]) - stretch.counted_from), found[2])

    return tuple(NUMBERED.sub(counted_anew, line) for line in edge_notes(stretch.piece, stretch.rows))


def _changes(stretch: Stretch) -> bool:
    return any(e.change for row in stretch.rows for e in row.events)


def _head(parts: Stretches, *, changed: bool) -> str:
    some = [s for s in parts if s]
    one = some[0]
    single = all(len(s.rows) == 1 for s in some) and len({s.rows[0].side for s in some}) == 1
    kind = "Short row" if back_and_forth(one.rows[0], one.piece) else noun(one.piece).capitalize()
    first, last = (numbers([s.number(s.rows[at]) if s else None for s in parts]) for at in (0, -1))
    words = together([_words(s, single=single, kept=changed) if s else None for s in parts])
    assert words is not None  # sizes of another fabric have lines of their own
    if not single:
        return f"{kind}s {first} to {last}: {words}"
    side = one.rows[0].side
    return f"{kind} {first}{f' ({side})' if side != 'round' else ''}: {words}"


def _words(stretch: Stretch, *, single: bool, kept: bool = False) -> str:
    """The fabric, of one row or of several as the line is; whether a pattern is kept is said of all sizes."""
    rows = stretch.rows if single or len(stretch.rows) > 1 else (*stretch.rows, *stretch.rows)
    return fabric_words(stretch.piece, rows, kept=kept)


def _tail(parts: Stretches, plans: Sequence[Plan], *, changed: bool) -> str:
    """Stitches and length at the end of the rows."""
    after = numbers([s.rows[-1].after if s else None for s in parts])
    lengths = [_reached(s, plan) if s else None for s, plan in zip(parts, plans, strict=True)]
    said = [f"{counted(int(after), 'stitch', 'stitches') if after.isdigit() else f'{after} stitches'}."] * changed
    said += filter(None, dict.fromkeys(no_bar(s.piece, s.rows[0]) for s in parts if s))
    return " ".join([*said, *([length] if (length := together(lengths)) else [])])


def _reached(stretch: Stretch, plan: Plan) -> str:
    assert plan.gauge is not None
    return reached(stretch.piece, stretch.rows[-1], plan, plan.gauge)


# ── cutting ──────────────────────────────────────────────────────────────────────────────────────────


def _cut(stretches: Stretches) -> list[tuple[list[Deeds], list[Stretch | None]]]:
    """What is told in one line, and the rows of each size that this line covers."""
    deeds = deeds_of(stretches)
    blocks = _blocks(deeds)
    one = next(s for s in stretches if s)
    quiet = [False] * (len(blocks) + 1)
    if blocks and not back_and_forth(one.rows[0], one.piece):
        quiet = _quiet(blocks, stretches)
    told_apart: list[tuple[list[Deeds], int]] = []
    for at in range(len(blocks) + 1):
        told_apart += [([], at)] if quiet[at] or not blocks else []
        told_apart += [(blocks[at], at)] if at < len(blocks) else []
    columns = [_rows_of(s, size, told_apart, blocks) if s else None for size, s in enumerate(stretches)]
    found = []
    for at, (of_line, _) in enumerate(told_apart):
        parts = [
            Stretch(s.piece, rows[at], s.counted_from) if s and rows and rows[at] else None
            for s, rows in zip(stretches, columns, strict=True)
        ]
        if any(parts):
            found.append((of_line, parts))
    return found


def _blocks(deeds: list[Deeds]) -> list[list[Deeds]]:
    """Deeds that go on at the same time in any size; those that are over in all of them before others begin, apart."""
    cuts = [at for at in range(1, len(deeds)) if _over(deeds[:at], deeds[at:])]
    cuts = [at for at in cuts if not {(d.verb, d.place) for d in deeds[:at]} & {(d.verb, d.place) for d in deeds[at:]}]
    return [deeds[a:b] for a, b in pairwise([0, *cuts, len(deeds)])] if deeds else []


def _over(some: list[Deeds], others: list[Deeds]) -> bool:
    """Whether all sizes do some of both, and the first are over before the others begin."""
    before, after = ends(some), ends(others)
    back = any(one.verb == "turn" for one in some)
    return before.keys() == after.keys() and all(before[size][1] + back < after[size][0] for size in before)


def _quiet(blocks: list[list[Deeds]], stretches: Stretches) -> list[bool]:
    """Whether plain rows before, between and after what happens have a line of their own."""
    reach = [ends(block) for block in blocks]
    found = []
    for at in range(len(blocks) + 1):
        gaps = []
        for size, stretch in enumerate(stretches):
            if stretch is None or not all(size in r for r in reach[max(0, at - 1) : at + 1]):
                continue
            begins = reach[at - 1][size][1] + _back(blocks[at - 1]) if at else stretch.number(stretch.rows[0]) - 1
            until = reach[at][size][0] if at < len(blocks) else stretch.number(stretch.rows[-1]) + 1
            gaps.append(until - begins - 1)
        found.append(bool(gaps) and min(gaps) > 0 and max(gaps) >= QUIET_ROWS)
    return found


def _back(block: list[Deeds]) -> int:
    """The row back from a turn stays with it."""
    return 1 if any(one.verb == "turn" for one in block) else 0


def _rows_of(
    stretch: Stretch, size: int, lines: list[tuple[list[Deeds], int]], blocks: list[list[Deeds]]
) -> list[tuple[Row, ...]]:
    """The rows of one size for each line: up to the last row of what happens, or to where the next thing begins."""
    reach = [ends(block).get(size) for block in blocks]
    numbered = {stretch.number(row): row for row in stretch.rows}
    at, end = min(numbered), max(numbered)
    found: list[tuple[Row, ...]] = []
    for place, (deeds, number) in enumerate(lines):
        later = [r[0] for r in reach[number + bool(deeds) :] if r]
        until = min(later, default=end + 1) - 1
        own = reach[number] if deeds else None
        if own and _plain_follows(lines, place):
            until = min(own[1] + _back(deeds), until)
        if deeds and not own and _plain_follows(lines, place):
            until = at - 1
        found.append(tuple(numbered[n] for n in range(at, until + 1)))
        at = max(at, until + 1)
    return found


def _plain_follows(lines: list[tuple[list[Deeds], int]], place: int) -> bool:
    return place + 1 < len(lines) and not lines[place + 1][0]
