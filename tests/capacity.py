"""Whether every edge has the stitches that its shaping needs, row by row, from the ledger alone.

A decrease works two stitches and leaves one beside it at the edge (or at the line); a bind-off leaves one stitch on the
needle; an increase needs the stitch beside it. Common practice, no source. Parts of a yoke are told apart by the
markers that the ledger hangs.
"""

from collections.abc import Iterable, Iterator

from workshop.core.making.ledger import Event, Piece, Row

LINES = {"all lines": ("front", "sleeve", "back"), "body side": ("front", "back"), "sleeve side": ("sleeve",)}
"""Which parts of a yoke are shaped along the raglan lines."""


def need(event: Event, stitches: int) -> int:
    """Stitches that one edge must have for one event of so many stitches."""
    return {"decrease": stitches + 2, "bind-off": stitches + 1, "increase": 1}.get(event.do, 0)


def edge_faults(pieces: Iterable[Piece]) -> Iterator[str]:
    """Rows in which an edge is shaped by more stitches than it has."""
    parts: dict[str, int] = {}
    for piece in pieces:
        if piece.name.startswith("yoke"):
            yield from _yoke(piece, parts)
            continue
        if piece.name.endswith("band"):
            continue
        for row in piece.rows:
            wanted = sum(need(e, e.stitches) for e in row.events if e.where in OUTER)
            wanted += sum(2 * need(e, _at_one_edge(e, piece)) for e in row.events if e.where == "both")
            if wanted > row.before:
                yield f"{piece.name}, row {row.row}: {row.before} stitches, {wanted} wanted"


OUTER = ("left", "right", "neck-left", "neck-right")


def _at_one_edge(event: Event, piece: Piece) -> int:
    """At a body in one piece "both" is both sides, each with a stitch on either side of its marker."""
    return event.stitches // 2 if piece.name == "body" else event.stitches


def _yoke(piece: Piece, parts: dict[str, int]) -> Iterator[str]:
    """Rows of a yoke; ``parts`` are its fronts, sleeves and back, which go on from one part to the next."""
    marks = {m.after_row: [(s.name, n) for s, n in m.counts] for m in piece.marks if m.what == "markers"}
    if piece.rows[0].row - 1 in marks:
        parts |= dict(marks[piece.rows[0].row - 1])
    for row in piece.rows:
        yield from _row_of_yoke(piece, row, parts)
        if row.row in marks:
            parts.clear()
            parts |= dict(marks[row.row])


def _row_of_yoke(piece: Piece, row: Row, parts: dict[str, int]) -> Iterator[str]:
    wanted = dict.fromkeys(parts, 0)
    change = dict.fromkeys(parts, 0)
    for event in row.events:
        if event.where == "centre":  # the front is in two from here on, or becomes one
            if event.do == "bind-off" and "front" in parts:
                half = (parts.pop("front") - event.stitches) // 2
                for side in ("left front", "right front"):
                    parts[side], wanted[side], change[side] = (
                        half,
                        wanted.get("front", 0) // 2,
                        change.get("front", 0) // 2,
                    )
            continue
        for part in parts:
            if f"{event.where} front" == f"neck-{part}":
                wanted[part] += need(event, event.stitches)
                change[part] += event.change
            elif event.line in LINES and part.split()[-1] in LINES[event.line]:
                edges = 1 if part in ("left front", "right front") else 2
                wanted[part] += edges * need(event, 1)
                change[part] += edges * (1 if event.do == "increase" else -1)
    for part, stitches in parts.items():
        if wanted[part] > stitches:
            yield f"{piece.name}, row {row.row}: {stitches} stitches of the {part}, {wanted[part]} wanted"
        parts[part] = stitches + change[part]
