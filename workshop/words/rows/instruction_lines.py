"""Rows of the ledger as lines of an instruction: fabric, shaping with its rows, and the stitch count.

A line covers a run of rows and names it (``runs``); each thing that happens is said once, with its rows (``deeds``).
Where they are too many for a line, each has one of its own; some rows stand alone (``alone``).
"""

from collections.abc import Sequence

from workshop.core.making.ledger import Piece, Row
from workshop.words.rows.picking_up import edge_lines
from workshop.words.rows.row_actions import deeds, head, noun, ordinal, stitches
from workshop.words.rows.runs import alone, in_one_line, lines_of
from workshop.words.rows.single_rows import special

__all__ = ["line", "lines_alongside", "lines_of", "noun", "ordinal", "stitches"]


def line(piece: Piece, rows: Sequence[Row]) -> str:
    """What is done in a run of rows, with the stitch count where it changes; without the length."""
    if len(rows) == 1 and alone(rows[0], piece):
        return special(piece, rows[0])
    told = deeds(piece, rows)
    if not in_one_line(piece, rows, told):
        return f"{head(piece, rows)}, with the shaping in the next {len(told)} lines. {stitches(rows[-1].after)}."
    text = "; ".join([head(piece, rows), *told])
    changed = any(e.change for r in rows for e in r.events)
    return f"{text}. {stitches(rows[-1].after)}." if changed else f"{text}."


def lines_alongside(piece: Piece, rows: Sequence[Row]) -> tuple[str, ...]:
    """Lines that belong to the line before them: what happens in the same rows, each thing for itself."""
    if len(rows) == 1 and alone(rows[0], piece):
        return edge_lines(rows[0])
    told = deeds(piece, rows)
    return () if in_one_line(piece, rows, told) else tuple(f"At the same time: {deed}." for deed in told)
