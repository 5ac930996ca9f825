"""Rows of the ledger as lines of an instruction: fabric, shaping with its rows, the stitch count, the length.

A line covers a run of rows and names it; each thing that happens is said once, with the rows on which it happens:
"decrease 1 stitch at both ends on row 21, then on every 6th row 5 times more (to row 51)". So two things at the
same time always stand with the row numbers of both, and a program can read the rows back.
"""

from collections.abc import Collection, Sequence
from dataclasses import replace
from itertools import groupby, pairwise

from workshop.core.making.bands import BUTTONHOLE_STITCHES, buttonhole_gaps
from workshop.core.making.ledger import Event, Fabric, Piece, Row
from workshop.core.making.spacing import Technique, evenly, in_blocks, run_lengths
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

LONGEST = 175
"""Characters that a line may have before its length is added: so much is followed row by row with a finger on it."""

LONGEST_STEPS = 90
"""Characters that the steps of one row may have as they come; longer ones are put in order, equal ones together."""


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
    return [short for run in runs for part in _by_activity(run) for short in _followed(part, piece)]


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


def _followed(run: list[Row], piece: Piece) -> list[list[Row]]:
    """A run in parts short enough to follow: cut where something begins or ends, and joined again while they are."""
    if _fits(run, piece):
        return [run]
    found: list[list[Row]] = []
    for part in _cut(run, _turning_points(run), piece):
        if found and _fits(found[-1] + part, piece):
            found[-1] = found[-1] + part
        else:
            found.append(part)
    return [short for part in found for short in _halved(part, piece)]


def _fits(run: Sequence[Row], piece: Piece) -> bool:
    """Whether a run is told in one line."""
    if len(run) == 1 and _alone(run[0], piece):
        return True
    return len("; ".join([_head(piece, run), *deeds(piece, run)])) <= LONGEST


def _simple(run: Sequence[Row], piece: Piece) -> bool:
    """Whether a run can be told, if not in one line, then each thing in one of its own."""
    return all(
        deed.count("then on every") < 2 or len(deed) + len(_head(piece, run)) <= LONGEST for deed in deeds(piece, run)
    )


def _cut(run: list[Row], places: Collection[int], piece: Piece) -> list[list[Row]]:
    """The run cut before these rows of it (0 is its first); never between a turn and the row back."""
    in_round = _back_and_forth(run[0], piece)
    allowed = [p for p in sorted(places) if (p % 2 == 0 if in_round else _pair_ends(run[p - 1], run[p]))]
    return [run[a:b] for a, b in pairwise([0, *allowed, len(run)])]


def _pair_ends(before: Row, row: Row) -> bool:
    """Whether the row before is not turned; where both are, the second of a pair is a wrong-side row."""
    turned, again = (any(e.do == "short-row" for e in r.events) for r in (before, row))
    return not turned or (again and row.side == "RS")


def _turning_points(run: list[Row]) -> set[int]:
    """Where one of the things that go on in a run begins, or has just ended."""
    points: set[int] = set()
    for event in _in_order([r for r in run if r.events]):
        at = [i for i, row in enumerate(run) if any(_alike(event, e) for e in row.events)]
        points |= {at[0], at[-1] + 1}
        for before, a, b in zip(at, at[1:], at[2:], strict=False):
            if b - a > max(QUIET_ROWS, 2 * (a - before)):  # it comes again later
                points |= {a + 1, b}
    return {p for p in points if 0 < p < len(run)}


def _halved(run: list[Row], piece: Piece) -> list[list[Row]]:
    """A run with too many rhythms for one line, or with two busy rows, in two, where one changes; and those again."""
    busy = [i for i, row in enumerate(run) if row.events]
    if len(busy) < 2 or _fits(run, piece) or (len(busy) > 2 and _simple(run, piece)):
        return [run]
    changes = [b + 1 for a, b, c in zip(busy, busy[1:], busy[2:], strict=False) if c - b != b - a]
    for places in (changes, busy[1:]):
        nearest = sorted(places, key=lambda p: abs(p - (busy[0] + busy[-1]) / 2))
        for place in nearest:
            parts = _cut(run, (place,), piece)
            if len(parts) == 2 and all(any(r.events for r in part) for part in parts):
                return [short for part in parts for short in _halved(part, piece)]
    return [run]


def line(piece: Piece, rows: Sequence[Row], stitches_per_10cm: float) -> str:
    """What is done in a run of rows, with the stitch count where it changes; without the length."""
    if len(rows) == 1 and _alone(rows[0], piece):
        return _special(piece, rows[0], stitches_per_10cm)
    told = deeds(piece, rows)
    if not _in_one_line(piece, rows, told):
        return f"{_head(piece, rows)}, shaped as the next {len(told)} lines say. {stitches(rows[-1].after)}."
    text = "; ".join([_head(piece, rows), *told])
    return f"{text}. {stitches(rows[-1].after)}." if told else f"{text}."


def _head(piece: Piece, rows: Sequence[Row]) -> str:
    return f"{span(rows, piece)}: {_fabric_words(piece, rows)}"


def lines_alongside(piece: Piece, rows: Sequence[Row]) -> tuple[str, ...]:
    """Lines that belong to the line before them: what happens in the same rows, each thing for itself."""
    if len(rows) == 1 and _alone(rows[0], piece):
        return ()
    told = deeds(piece, rows)
    return () if _in_one_line(piece, rows, told) else tuple(f"At the same time: {deed}." for deed in told)


def _in_one_line(piece: Piece, rows: Sequence[Row], told: Sequence[str]) -> bool:
    return len(told) < 2 or len("; ".join([_head(piece, rows), *told])) <= LONGEST


def deeds(piece: Piece, rows: Sequence[Row]) -> list[str]:
    """Each thing that happens in a run of rows, with its rows."""
    return [
        f"{deed} {_joined(places)}" + (_when(places[-1], on, piece) if len(rows) > 1 else "")
        for deed, places, on in _deeds([r for r in rows if r.events], piece)
    ]


def _deeds(shaped: Sequence[Row], piece: Piece) -> list[tuple[str, list[str], list[Row]]]:
    """What is done, the places where the same is done on the same rows, and those rows."""
    found: list[tuple[str, list[str], list[Row]]] = []
    said: list[Event] = []
    for event in _in_order(shaped):
        twin = _other_neck_edge(event)
        if twin in said:
            continue
        on = [r for r in shaped if any(_alike(event, e) for e in r.events)]
        deed, place = _what(event, piece)
        if twin is not None and [r for r in shaped if twin in r.events] == on:
            said.append(event)
            place = "at both neck edges"
        same = next((places for other, places, rows in found if other == deed and rows == on), None)
        if same is not None and event.do in ("increase", "decrease"):
            same.append(place)
        else:
            found.append((deed, [place], on))
    return found


def _joined(places: Sequence[str]) -> str:
    return ", ".join(places[:-1]) + " and " + places[-1] if len(places) > 1 else places[0]


def _when(place: str, on: list[Row], piece: Piece) -> str:
    if place.endswith("the end"):
        return f" of {when(on, 'row')}"
    return f" {'of' if place.endswith('the beginning') else 'on'} {when(on, noun(piece))}"


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
    if first.fabric == "garter":
        return f"{name}: knit every row"
    if first.fabric == "stocking":
        return name
    if first.fabric == "rib-2x2" and first.before % 4 == 2:
        name += ", right-side rows beginning and ending with k2"
    if first.fabric == "rib-1x1" and first.before % 2 == 1:
        name += ", right-side rows beginning and ending with k1"
    return name + WRONG_SIDE if len(rows) > 1 or first.side == "WS" else name


WRONG_SIDE = ", wrong-side rows knitting the knits and purling the purls as they face you"
"""How a rib goes on as the stitches lie, whatever edge it begins at."""


VERBS = {"bind-off": "bind off", "cast-on": "cast on"}

LINES = {
    "all lines": ("on both sides of each raglan line", 8),
    "body side": ("on the body side of each raglan line", 4),
    "sleeve side": ("on the sleeve side of each raglan line", 4),
}
"""Where shaping along raglan lines stands, and how many stitches one of it changes."""


def _what(event: Event, piece: Piece) -> tuple[str, str]:
    """What is done ("decrease 1 stitch"), and where ("at the neck edge")."""
    deed = f"{VERBS.get(event.do, event.do)} {stitches(event.stitches)}"
    if event.do == "short-row":
        return f"turn {stitches(event.stitches)}", "before the end"
    if event.do == "bind-off" and event.where in ("left", "right", "both"):
        return deed, "at the beginning"
    if event.line:
        place, times = LINES[event.line]
        return f"{event.do} {stitches(event.stitches // times)}", place
    if event.where == "both" and piece.name == "body":
        return f"{event.do} {stitches(event.stitches // 2)}", "on each side of both side markers"
    if event.where == "both":
        return deed, "on each side of the marker" if piece.worked == "round" else "at both ends"
    if event.where in ("neck-left", "neck-right"):
        edge = event.where.removeprefix("neck-")
        return deed, f"at the {f'{edge} ' if 'yoke' in piece.name else ''}neck edge"
    return deed, "in the middle of the front" if event.where == "centre" else "at the outer edge"


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
    return " ".join(_what(event, piece))


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
        f"{stitches(under)} of the sleeve wait on a holder, half on each side of the marker; each sleeve brings "
        f"{stitches(sleeve.stitches)}. "
        f"{stitches(row.after)}."
    )


def _alone_words(event: Event, row: Row, piece: Piece, stitches_per_10cm: float) -> str:
    if event.where == "underarm":
        return _underarm(event, piece)
    if event.where == "centre":
        if event.do == "cast-on":
            return f"cast on {stitches(event.stitches)} for the middle of the front and join into a round"
        return f"bind off {stitches(event.stitches)} in the middle of the front"
    if event.do in ("bind-off", "cast-on"):
        return _buttonholes(event, row, piece, stitches_per_10cm)
    return _across(event, row, piece)


def _underarm(event: Event, piece: Piece) -> str:
    """Stitches that close a garment from the neck under the arm; where they are, as the row meets them."""
    if piece.name != "body":
        first = event.stitches // 2
        where = f"{first} at the beginning of the round and {event.stitches - first} at its end"
        return f"pick up and knit {stitches(event.stitches)} along the underarm, {where}"
    left, right = ("left front", "right front") if piece.worked == "flat" else ("front", "front")
    return (
        f"cast on {stitches(event.stitches // 2)} at each underarm: on the left "
        f"between {left} and back, then on the right between back and {right}"
    )


def _buttonholes(event: Event, row: Row, piece: Piece, stitches_per_10cm: float) -> str:
    number = event.stitches // BUTTONHOLE_STITCHES
    if event.do == "cast-on":
        return f"cast on {BUTTONHOLE_STITCHES} over each of the {number} gaps"
    gaps = buttonhole_gaps(row.before, number, stitches_per_10cm)
    told = _in_steps(gaps, "work ", f"bind off {BUTTONHOLE_STITCHES}")
    return f"bind off {BUTTONHOLE_STITCHES} for each of {number} buttonholes ({told})"


def _across(event: Event, row: Row, piece: Piece) -> str:
    """Increases or decreases spread over a row, with the plain stitches between them."""
    technique: Technique = "m1" if event.do == "increase" else "k2tog"
    gaps = evenly(row.before, event.stitches, technique, piece.worked)
    return f"{event.do} {stitches(event.stitches)} evenly across ({_in_steps(gaps, 'k', technique)})"


def _in_steps(gaps: Sequence[int], work: str, then: str) -> str:
    """So many plain stitches, then this, and so on. Put in order where that would be long."""
    told = _repeats(_steps(gaps, work, then))
    if len(told) <= LONGEST_STEPS:
        return told
    ends = 0 if gaps[-1] == 0 else 1
    middle, last = gaps[ends:-1], gaps[-1]
    parts = [_repeats(_steps([*gaps[:ends], 0], work, then))] if ends else []
    for block, times in in_blocks(middle):
        inner = _repeats(_steps([*block, 0], work, then))
        parts.append(inner if times == 1 else f"[{inner}] {times} times")
    return ", ".join([*parts, *([f"{work}{last}"] if last else [])])


def _steps(gaps: Sequence[int], work: str, then: str) -> list[str]:
    steps: list[str] = []
    for plain in gaps[:-1]:
        steps += [f"{work}{plain}" if plain else "", then]
    return [*steps, f"{work}{gaps[-1]}"] if gaps[-1] else steps


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
