"""The cloth of a piece reckoned from its ledger alone: the sum over its rows of visible stitches times row height."""

from collections.abc import Sequence

from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Piece, Row


def knitted_cm2(piece: Piece, pieces: Sequence[Piece], cloth: Cloth) -> float:
    """Area in cm² of a panel or a sleeve with what it grew out of and what grew out of it."""
    body = piece.parent if piece.parent and piece.parent.name == "body" else None
    edges = 1 if piece.name.endswith("front") and piece.name != "front" else 2
    parts = [p for p in pieces if p.parent is piece]
    total = sum(_row(r, piece, edges, cloth) for r in _at_the_edges(piece))
    total += sum(_part(p, 2 if p.name.endswith((", cap", ", top")) else 1, cloth) for p in parts)
    if body is not None:
        share = piece.cast_on / sum(p.cast_on for p in pieces if p.parent is body)
        total += sum(share * _row(r, body, 0, cloth) for r in _at_the_edges(body))
    return total


def _at_the_edges(piece: Piece) -> list[Row]:
    """Rows without those of darts, which lift the middle and not the edges."""
    inside = {r.row for r in piece.rows for e in r.events if e.do == "short-row" and e.line}
    if piece.name in ("left front", "right front"):  # there and back
        inside = {row for n in inside for row in (n, n + 1 if n % 2 else n - 1)}
    return [r for r in piece.rows if r.row not in inside]


def _part(part: Piece, edges: int, cloth: Cloth) -> float:
    """One side of a neck: stitches left waiting by short rows are not in the rows before the one that closes them."""
    total, waiting = 0.0, 0
    last = max((r.row for r in part.rows if any(e.do == "short-row" for e in r.events)), default=0)
    for row in part.rows:
        new = sum(e.stitches for e in row.events if e.do == "short-row")
        between = waiting if not new and row.row <= last else 0
        waiting = new or waiting
        total += _row(row, part, edges, cloth) - cloth.across_cm(between) * cloth.along_cm(1, row.fabric)
    return total


def _row(row: Row, piece: Piece, edges: int, cloth: Cloth) -> float:
    unworked = sum(e.stitches for e in row.events if e.do == "short-row")
    held = sum(e.stitches for e in row.events if e.do == "hold" and e.where in ("left", "right"))
    stitches = row.after + held - unworked - edges * piece.edge_stitches
    return cloth.across_cm(stitches) * cloth.along_cm(1, row.fabric)
