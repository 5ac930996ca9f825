"""The log: what was knitted, counted, weighed, changed and noted, day by day."""

import re
from collections.abc import Iterator

from workshop.core.plan import Plan
from workshop.project import KnittedPiece, LogEntry, PieceCount
from workshop.units import show_length
from workshop.words.phrase import in_terms
from workshop.words.texts import texts

WAY = re.compile(r"(took (?:back )?the way) ([\w-]+)")
"""A way as the file keeps it."""


def log_rows(plan: Plan) -> tuple[tuple[str, str, str], ...]:
    """Date, piece and what happened, in the order of the days; a way after the counts that led to it."""
    project = plan.project
    found = list(_done_and_counted(plan))
    for weighing in project.weighing:
        pieces = f", {weighing.pieces_g:g} g knitted" if weighing.pieces_g is not None else ""
        found.append((weighing.on, "", f"{weighing.left_g:g} g of yarn left{pieces}"))
    found += [(m.on, "", f"{m.what} {show_length(m.cm, project.units)} after the wash") for m in project.measured]
    found.sort(key=lambda entry: entry[0])
    return tuple((on, piece, in_terms(text, project.terms)) for on, piece, text in found)


def log_lines(plan: Plan) -> tuple[str, ...]:
    """The log as lines to read."""
    return tuple(f"{on}  {piece + ': ' if piece else ''}{text}" for on, piece, text in log_rows(plan))


def _done(plan: Plan) -> Iterator[LogEntry]:
    """The log without pieces that came to hand and were left as they were: to look at one is no entry."""
    reached = {p.name: p.rows[0].row - 1 for p in plan.made.pieces if p.rows}
    for entry in plan.project.log:
        if entry.row is None or entry.row != reached.get(entry.piece):
            yield entry
        if entry.row is not None:
            reached[entry.piece] = entry.row


def _done_and_counted(plan: Plan) -> Iterator[tuple[str, str, str]]:
    """The log with the counts: those that led to a way before it, the others after it."""
    counts = [(k.piece, together) for k in plan.project.knitting for together in _together(k)]
    reached: dict[str, int] = {}
    for entry in _done(plan):
        if entry.row is not None:
            reached[entry.piece] = entry.row
        elif WAY.fullmatch(entry.text):
            led = [(piece, c) for piece, c in counts if (piece, c[0].row) == (entry.piece, reached.get(piece))]
            yield from ((c[-1].on, piece, _counted(c, plan)) for piece, c in led)
            counts = [one for one in counts if one not in led]
        yield entry.on, entry.piece, f"row {entry.row}" if entry.row is not None else _told(entry.text)
    yield from ((c[-1].on, piece, _counted(c, plan)) for piece, c in counts)


def _told(text: str) -> str:
    """An entry in words: a way by what it is, not by the name that commands know it by."""
    way = WAY.fullmatch(text)
    named = texts("ways_taken").get(way[2]) if way else None
    did = "took back the decision to" if way and "back" in way[1] else "decided to"
    return f"{did} {named}" if named else text


def _together(known: KnittedPiece) -> list[list[PieceCount]]:
    """Counts of one direction that were made at one row on one day."""
    found: dict[tuple[str, int | None, str], list[PieceCount]] = {}
    for count in known.count:
        found.setdefault((count.along, count.row, count.on), []).append(count)
    return list(found.values())


def _counted(counts: list[PieceCount], plan: Plan) -> str:
    units = plan.project.units
    places = ", ".join(f"{c.count:g} over {show_length(c.over_cm, units)}" for c in counts)
    return f"counted {counts[0].along} at row {counts[0].row}: {places}"
