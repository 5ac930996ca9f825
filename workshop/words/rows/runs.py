"""The rows of a piece cut into runs that one line of an instruction can tell."""

from collections.abc import Collection, Sequence
from itertools import groupby, pairwise

from workshop.core.making.centre_panels import panel_events, panel_rows
from workshop.core.making.ledger import Piece, Row
from workshop.words.rows.row_actions import (
    back_and_forth,
    deeds,
    happenings,
    head,
    in_pattern,
    increases_above_cast_on,
)
from workshop.words.rows.single_rows import sets_the_rib

QUIET_ROWS = 8
"""So many plain rows between two things that happen begin a line of their own."""

ALONE = ("hold", "pick-up", "join")
"""What makes a row stand alone."""

LONGEST = 175
"""Characters that a line may have before its length is added: so much is followed row by row with a finger on it."""


def lines_of(piece: Piece) -> list[list[Row]]:
    """The rows of a piece, cut into the runs that one line each covers."""
    return [short for run in stretches(piece) for part in _by_activity(run) for short in split_to_fit(part, piece)]


def stretches(piece: Piece) -> list[list[Row]]:
    """The rows of a piece between marks, other fabrics and rows that stand alone."""
    marks = {m.after_row for m in piece.marks}
    runs: list[list[Row]] = []
    for (_, own_line, *_), group in groupby(piece.rows, key=lambda r: _alike(r, piece)):
        run: list[Row] = []
        for row in group:
            run.append(row)
            if own_line or row.row in marks or increases_above_cast_on(piece, row):
                runs.append(run)
                run = []
        if run:
            runs.append(run)
    return runs


def _alike(row: Row, piece: Piece) -> tuple[object, ...]:
    """What rows of one line have alike; the second says whether a row has a line of its own."""
    panels = tuple(panel.part for panel, _ in panel_rows(piece, row.row))
    coloured = row.band, row.row in piece.stripes
    return row.fabric, alone(row, piece), back_and_forth(row, piece), in_pattern(piece, row), panels, coloured


def alone(row: Row, piece: Piece) -> int:
    """The number of a row that has a line of its own; 0 where it goes with others."""
    special = any(e.do in ALONE or (e.where in ("across", "underarm") and not e.line) for e in row.events)
    centre = any(e.where == "centre" and e.do != "decrease" for e in row.events)
    return row.row if special or centre or panel_events(row) or sets_the_rib(piece, row) else 0


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


def split_to_fit(run: list[Row], piece: Piece) -> list[list[Row]]:
    """A run in parts short enough to follow: cut where something begins or ends, and joined again while they are."""
    if _fits(run, piece):
        return [run]
    found: list[list[Row]] = []
    for part in _cut(run, _turning_points(run), piece):
        if found and _fits(found[-1] + part, piece):
            found[-1] = found[-1] + part
        else:
            found.append(part)
    return [short for part in found for short in bisect(part, piece)]


def _fits(run: Sequence[Row], piece: Piece) -> bool:
    """Whether a run is told in one line."""
    if len(run) == 1 and alone(run[0], piece):
        return True
    return len("; ".join([head(piece, run), *deeds(piece, run)])) <= LONGEST


def _simple(run: Sequence[Row], piece: Piece) -> bool:
    """Whether a run can be told, if not in one line, then each thing in one of its own."""
    return all(deed.count(", then ") < 2 or len(deed) + len(head(piece, run)) <= LONGEST for deed in deeds(piece, run))


def _cut(run: list[Row], places: Collection[int], piece: Piece) -> list[list[Row]]:
    """The run cut before these rows of it (0 is its first); never between a turn and the row back."""
    in_round = back_and_forth(run[0], piece)
    allowed = [p for p in sorted(places) if (p % 2 == 0 if in_round else _pair_ends(run[p - 1], run[p]))]
    return [run[a:b] for a, b in pairwise([0, *allowed, len(run)])]


def _pair_ends(before: Row, row: Row) -> bool:
    """Whether the row before is not turned; where both are, the second of a pair is a wrong-side row."""
    turned, again = (any(e.do == "short-row" for e in r.events) for r in (before, row))
    return not turned or (again and row.side == "RS")


def _turning_points(run: list[Row]) -> set[int]:
    """Where one of the things that go on in a run begins, or has just ended."""
    points: set[int] = set()
    for _, on in happenings(run):
        at = [row.row - run[0].row for row in on]
        points |= {at[0], at[-1] + 1}
        for before, a, b in zip(at, at[1:], at[2:], strict=False):
            if b - a > max(QUIET_ROWS, 2 * (a - before)):  # it comes again later
                points |= {a + 1, b}
    return {p for p in points if 0 < p < len(run)}


def bisect(run: list[Row], piece: Piece) -> list[list[Row]]:
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
                return [short for part in parts for short in bisect(part, piece)]
    return [run]


def in_one_line(piece: Piece, rows: Sequence[Row], told: Sequence[str]) -> bool:
    """Whether what happens in a run has room in one line."""
    return len(told) < 2 or len("; ".join([head(piece, rows), *told])) <= LONGEST
