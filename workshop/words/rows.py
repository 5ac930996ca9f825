"""Rows of the ledger as lines of an instruction: fabric, shaping with its rows, the stitch count, the length.

A line covers a run of rows and names it; each thing that happens is said once, with the rows on which it happens:
"decrease 1 stitch at both ends on row 21, then on every 6th row 5 times more (to row 51)". So two things at the
same time always stand with the row numbers of both, and a program can read the rows back.
"""

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import groupby, pairwise

from workshop.core.making.bands import BUTTONHOLE_STITCHES, buttonhole_gaps
from workshop.core.making.ledger import Event, Fabric, Piece, Row
from workshop.core.making.spacing import Technique, evenly, run_lengths
from workshop.words.phrase import counted

FABRICS: dict[Fabric, str] = {
    "rib-1x1": "k1, p1 rib",
    "rib-2x2": "k2, p2 rib",
    "garter": "garter stitch",
    "stocking": "stockinette",
}

QUIET_ROWS = 8
"""So many plain rows between two things that happen begin a line of their own."""

ALONE = ("hold", "pick-up", "join")
"""What makes a row stand alone."""


def noun(piece: Piece) -> str:
    """Row or round."""
    return "round" if piece.worked == "round" else "row"


def stitches(number: int) -> str:
    """So many stitches."""
    return counted(number, "stitch", "stitches")


def lines_of(piece: Piece) -> list[list[Row]]:
    """The rows of a piece, cut into the runs that one line each covers."""
    marks = {m.after_row for m in piece.marks}
    runs: list[list[Row]] = []
    for _, group in groupby(piece.rows, key=lambda r: (r.fabric, _alone(r, piece), _back_and_forth(r, piece))):
        run: list[Row] = []
        for row in group:
            run.append(row)
            if _alone(row, piece) or row.row in marks:
                runs.append(run)
                run = []
        if run:
            runs.append(run)
    return [part for run in runs for part in _by_activity(run)]


def _alone(row: Row, piece: Piece) -> int:
    special = any(e.do in ALONE or (e.where in ("across", "underarm") and not e.line) for e in row.events)
    centre = any(e.where == "centre" and e.do != "decrease" for e in row.events)
    return row.row if special or centre else 0


def _back_and_forth(row: Row, piece: Piece) -> bool:
    return piece.worked == "round" and row.side != "round"


def _by_activity(run: list[Row]) -> list[list[Row]]:
    """Long plain stretches before, between and after shaping, apart from it."""
    busy = [i for i, row in enumerate(run) if row.events]
    if not busy:
        return [run]
    cuts = []
    if busy[0] >= QUIET_ROWS:
        cuts.append(busy[0])
    cuts += [a + 1 for a, b in pairwise(busy) if b - a > QUIET_ROWS and _different(run[a], run[b])]
    if len(run) - 1 - busy[-1] >= QUIET_ROWS:  # the row back from a turn stays with it
        turned = any(e.do == "short-row" for e in run[busy[-1]].events)
        cuts.append(busy[-1] + (1 if not turned or run[busy[-1]].side == "WS" else 2))
    return [run[a:b] for a, b in pairwise([0, *cuts, len(run)])]


def _different(a: Row, b: Row) -> bool:
    return set(a.events) != set(b.events)


def line(piece: Piece, rows: Sequence[Row], stitches_per_10cm: float) -> str:
    """What is done in a run of rows, with the stitch count where it changes; without the length."""
    if len(rows) == 1 and _alone(rows[0], piece):
        return _special(piece, rows[0], stitches_per_10cm)
    text = f"{span(rows, piece)}: {_fabric_words(piece, rows)}"
    shaped = [r for r in rows if r.events]
    said: list[Event] = []
    for event in _in_order(shaped):
        on = [r for r in shaped if any(_alike(event, e) for e in r.events)]
        twin = _other_neck_edge(event)
        if twin in said:
            continue
        both = twin is not None and [r for r in shaped if twin in r.events] == on
        said += [event] if both else []
        happening = _happening(event, piece, on)
        text += "; " + (
            re.sub(r"at the (left|right) neck edge", "at both neck edges", happening) if both else happening
        )
    if shaped:
        text += f". {stitches(rows[-1].after)}"
    return text + "."


def _other_neck_edge(event: Event) -> Event | None:
    """The same at the other neck edge of a piece that has both."""
    where = {"neck-left": "neck-right", "neck-right": "neck-left"}.get(event.where)
    return replace(event, where=where) if where else None  # type: ignore[arg-type]


RAISED = "back and shoulders, turns counted from the middle of the front"


def span(rows: Sequence[Row], piece: Piece) -> str:
    """The rows that a line covers."""
    if _back_and_forth(rows[0], piece):
        name = "Short rows" if len(rows) > 1 else "Short row"
    else:
        name = noun(piece).capitalize() + ("s" if len(rows) > 1 else "")
    if len(rows) == 1:
        side = f" ({rows[0].side})" if rows[0].side != "round" else ""
        return f"{name} {rows[0].row}{side}"
    return f"{name} {rows[0].row} to {rows[-1].row} ({counted(len(rows), 'row' if 'row' in name.lower() else 'round')})"


def _in_order(shaped: Sequence[Row]) -> list[Event]:
    """Every different event, in the order of its first row."""
    seen: list[Event] = []
    for row in shaped:
        seen += [e for e in row.events if not any(_alike(e, s) for s in seen)]
    return seen


def _alike(a: Event, b: Event) -> bool:
    """The same, or the same bind-off (or turn) at the other outer edge: the side of the row says which."""
    ends = ("left", "right")
    one_sided = a.do in ("bind-off", "short-row") and a.where in ends and b.where in ends
    return a == b or (one_sided and (a.do, a.stitches) == (b.do, b.stitches))


def _fabric_words(piece: Piece, rows: Sequence[Row]) -> str:
    first = rows[0]
    name = FABRICS[first.fabric]
    if _back_and_forth(first, piece):
        over = "the front, turns counted from its side markers" if piece.name == "body" else RAISED
        return f"{name}, back and forth over {over}"
    if piece.worked == "round":
        if first.fabric == "stocking":
            return f"{name}: knit every round"
        return f"{name}: knit and purl rounds in turn" if first.fabric == "garter" else f"{name} all round"
    if first.fabric == "rib-2x2" and first.before % 4 == 2:
        return f"{name}, right-side rows beginning and ending with k2"
    if first.fabric == "rib-1x1" and first.before % 2 == 1:
        return f"{name}, right-side rows beginning and ending with k1"
    return name


def _happening(event: Event, piece: Piece, rows: list[Row]) -> str:
    if event.do == "short-row":
        return f"turn {stitches(event.stitches)} before the end of {when(rows, 'row')}"
    if event.do == "bind-off" and event.where in ("left", "right", "both"):
        return f"bind off {stitches(event.stitches)} at the beginning of {when(rows, noun(piece))}"
    return f"{_what(event, piece)} on {when(rows, noun(piece))}"


VERBS = {"bind-off": "bind off", "cast-on": "cast on"}

LINES = {
    "all lines": ("on both sides of all four raglan lines", 8),
    "body side": ("on the body side of each raglan line", 4),
    "sleeve side": ("on the sleeve side of each raglan line", 4),
}
"""Where shaping along raglan lines stands, and how many stitches one of it changes."""


def _what(event: Event, piece: Piece) -> str:
    verb = VERBS.get(event.do, event.do)
    if event.line:
        place, times = LINES[event.line]
        return f"{verb} {stitches(event.stitches // times)} {place}"
    count = stitches(event.stitches)
    if event.where == "both" and piece.name == "body":
        return f"{verb} {stitches(event.stitches // 2)} on each side of both side markers"
    if event.where == "both":
        return f"{verb} {count} {'on each side of the marker' if piece.worked == 'round' else 'at both ends'}"
    if event.where in ("neck-left", "neck-right"):
        edge = event.where.removeprefix("neck-")
        return f"{verb} {count} at the {f'{edge} ' if 'yoke' in piece.name else ''}neck edge"
    if event.where == "centre":
        return f"{verb} {count} in the middle of the front"
    return f"{verb} {count} at the outer edge"


def when(rows: Sequence[Row], name: str) -> str:
    """The rows on which something happens: all of them, or a rhythm that is exactly theirs."""
    numbers = [r.row for r in rows]
    if len(numbers) <= 4:
        return f"{name} {numbers[0]}" if len(numbers) == 1 else f"{name}s {_list(numbers)}"
    gaps = [b - a for a, b in pairwise(numbers)]
    if len(numbers) <= 10 and len(run_lengths(gaps)) > 2:  # no rhythm worth a name
        return f"{name}s {_list(numbers)}"
    said, at = [f"{name} {numbers[0]}"], numbers[0]
    for gap, times in run_lengths(gaps):
        at += gap * times
        often = "once more" if times == 1 else f"{times} times more"
        every = f"every {name}" if gap == 1 else f"every {ordinal(gap)} {name}"
        said.append(f"on {every} {often} (to {name} {at})")
    return ", then ".join(said)


def _list(numbers: Sequence[int]) -> str:
    return ", ".join(map(str, numbers[:-1])) + f" and {numbers[-1]}"


def ordinal(number: int) -> str:
    """2 -> "2nd"."""
    if number % 100 in (11, 12, 13):
        return f"{number}th"
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th') }"


# ── rows that stand alone ────────────────────────────────────────────────────────────────────────────


def _special(piece: Piece, row: Row, stitches_per_10cm: float) -> str:
    head = span([row], piece)
    holds = [e for e in row.events if e.do == "hold"]
    if any(e.do == "join" for e in row.events):
        return f"{head}: {_joining(row)}"
    if len(holds) == 2 and piece.name in ("back", "front"):
        return f"{head}: {_dividing(row, piece)}"
    if holds:
        return (
            f"{head}: work across, putting the {stitches(holds[0].stitches)} of each sleeve on a holder in passing. "
            f"{stitches(row.after)} for the body."
        )
    if row.events[0].do == "pick-up" and row.events[0].where == "across":
        return f"{head}: with the right side facing pick up and knit {stitches(row.events[0].stitches)} evenly."
    alone = [e for e in row.events if (e.where in ("across", "underarm") and not e.line) or e.where == "centre"]
    parts = [_alone_words(e, row, piece, stitches_per_10cm) for e in alone]
    parts += [_in_row(e, piece) for e in row.events if e not in alone]
    return f"{head}: {FABRICS[row.fabric]}; {'; '.join(parts)}. {stitches(row.after)}."


def _in_row(event: Event, piece: Piece) -> str:
    if event.do == "short-row":
        return f"turn {stitches(event.stitches)} before the end"
    if event.do == "bind-off" and event.where in ("left", "right", "both"):
        return f"bind off {stitches(event.stitches)} at the beginning"
    return _what(event, piece)


def _dividing(row: Row, piece: Piece) -> str:
    """The row in which a panel divides at the neck."""
    first, last = (e for e in row.events if e.do == "hold")
    outer = [e for e in row.events if e.do not in ("hold",) and e.where != "centre"]
    centre = [e for e in row.events if e.where == "centre"]
    shaping = "".join(f"{_in_row(e, piece)}; " for e in outer)
    neck = f"bind off the next {centre[0].stitches} for the neck" if centre else "divide for the neck here"
    return (
        f"{shaping}knit {first.stitches}, {neck}, knit the last {last.stitches}. The two sides go on one after the "
        f"other: the {last.stitches} just knitted stay on the needle, the first {first.stitches} wait on a holder."
    )


def _joining(row: Row) -> str:
    held = next(e for e in row.events if e.do == "hold")
    sleeve = next(e for e in row.events if e.do == "join")
    under = held.stitches // 2
    return (
        f"join: knit the body and both sleeves onto one needle. At each underarm {stitches(under)} of the body and "
        f"{stitches(under)} of the sleeve wait on a holder; each sleeve brings {stitches(sleeve.stitches)}. "
        f"{stitches(row.after)}."
    )


def _alone_words(event: Event, row: Row, piece: Piece, stitches_per_10cm: float) -> str:
    if event.where == "underarm":
        half = event.stitches // 2 if piece.name == "body" else event.stitches
        verb = "cast on" if event.do == "cast-on" else "pick up and knit"
        return f"{verb} {stitches(half)} at {'each' if piece.name == 'body' else 'the'} underarm"
    if event.where == "centre":
        if event.do == "cast-on":
            return f"cast on {stitches(event.stitches)} for the middle of the front and join into a round"
        return f"bind off {stitches(event.stitches)} in the middle of the front"
    if event.do in ("bind-off", "cast-on"):
        return _buttonholes(event, row, piece, stitches_per_10cm)
    return _across(event, row, piece)


def _buttonholes(event: Event, row: Row, piece: Piece, stitches_per_10cm: float) -> str:
    number = event.stitches // BUTTONHOLE_STITCHES
    if event.do == "cast-on":
        return f"cast on {BUTTONHOLE_STITCHES} over each of the {number} gaps"
    gaps = buttonhole_gaps(row.before, number, stitches_per_10cm)
    steps: list[str] = []
    for plain in gaps[:-1]:
        steps += [f"work {plain}", f"bind off {BUTTONHOLE_STITCHES}"]
    steps.append(f"work {gaps[-1]}")
    return f"bind off {BUTTONHOLE_STITCHES} for each of {number} buttonholes ({_repeats(steps)})"


def _across(event: Event, row: Row, piece: Piece) -> str:
    """Increases or decreases spread over a row, with the plain stitches between them."""
    technique: Technique = "m1" if event.do == "increase" else "k2tog"
    gaps = evenly(row.before, event.stitches, technique, piece.worked)
    steps: list[str] = []
    for plain in gaps[:-1]:
        steps += [f"k{plain}", technique] if plain else ["", technique]
    steps += [f"k{gaps[-1]}"] if gaps[-1] else []
    return f"{event.do} {stitches(event.stitches)} evenly across ({_repeats(steps)})"


def _repeats(steps: list[str]) -> str:
    """Steps in a row, with equal neighbouring pairs written once: "k25, [m1, k50] 3 times, m1, k25"."""
    pairs = list(zip(steps[::2], steps[1::2], strict=False))
    rest = steps[-1:] if len(steps) % 2 else []
    period = next((p for p in range(2, len(pairs) // 2 + 1) if _repeats_every(pairs, p)), 0)
    if period and len(set(pairs)) > 1:
        inner = ", ".join(_runs(pairs[:period]))
        return ", ".join([f"[{inner}] {len(pairs) // period} times", *rest])
    return ", ".join([*_runs(pairs), *rest])


def _repeats_every(pairs: list[tuple[str, str]], period: int) -> bool:
    return len(pairs) % period == 0 and pairs == pairs[:period] * (len(pairs) // period)


def _runs(pairs: list[tuple[str, str]]) -> list[str]:
    out: list[str] = []
    for pair, run in groupby(pairs):
        times = len(list(run))
        text = ", ".join(part for part in pair if part)
        out.append(text if times == 1 else f"[{text}] {times} times")
    return out
