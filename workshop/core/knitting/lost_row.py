"""Finding a lost row: from the stitches on the needle and the rows since something was last done, or from the tape."""

from collections.abc import Sequence
from itertools import pairwise

from workshop.core.making.ledger import Event, Piece, Row
from workshop.records import record


@record
class Candidate:
    """A row that the last one worked may be, and what can be seen to tell it from others."""

    row: int
    stitches: int
    since: int
    """Rows worked above the last row in which something was done; all rows where nothing was."""
    last: tuple[Event, ...]
    """What was done in that row."""


def candidates(piece: Piece, stitches: int | None, since: int | None = None) -> tuple[Candidate, ...]:
    """Rows after which so many stitches are on the needle, so many rows above the last shaping; all that fit.

    ``since`` 0 is a shaping row itself. Neighbouring rows that nothing tells apart are all given.
    """
    return tuple(
        one
        for one in _all(piece.rows)
        if (stitches is None or one.stitches == stitches) and (since is None or one.since == since)
    )


def nearest_counts(piece: Piece, stitches: int) -> tuple[int, ...]:
    """The counts of the piece next below and above a count that no row of it has."""
    counts = sorted({row.after for row in piece.rows} | {piece.cast_on})
    below = [n for n in counts if n <= stitches]
    above = [n for n in counts if n > stitches]
    return (*below[-1:], *above[:1])


def _all(rows: Sequence[Row]) -> list[Candidate]:
    found, since, last = [], 0, ()  # type: list[Candidate], int, tuple[Event, ...]
    for row in rows:
        since, last = (0, row.events) if row.events else (since + 1, last)
        found.append(Candidate(row.row, row.after, since, last))
    return found


def told_apart(found: Sequence[Candidate]) -> bool:
    """Whether the candidates differ by what can be seen: the rows above the last shaping, or that shaping."""
    return all((a.since, a.last) != (b.since, b.last) for a, b in pairwise(found))
