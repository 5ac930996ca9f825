"""Which drawings a garment's schematic has, made from its row ledgers."""

from collections.abc import Sequence
from dataclasses import replace

from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Piece
from workshop.pictures.outline import Outline
from workshop.pictures.panel import panel
from workshop.pictures.ring import ring
from workshop.pictures.sleeve import sleeve


def outline_of(piece: Piece, pieces: Sequence[Piece], cloth: Cloth) -> Outline:
    """Outline of one piece with what it grew out of and what grows out of it."""
    return sleeve(piece, pieces, cloth) if piece.role.drawn == "sleeve" else panel(piece, pieces, cloth)


def outlines(pieces: Sequence[Piece], cloth: Cloth) -> tuple[Outline, ...]:
    """The drawings of a garment: each piece once, a pair once, no bands."""
    whole = ring(pieces, cloth)
    found = [replace(whole, caption="body and yoke, folded flat")] if whole is not None else []
    drawn = [p for p in pieces if p.rows and (p.role.drawn == "sleeve" or (p.role.drawn == "panel" and whole is None))]
    for piece in drawn:
        twins = [p for p in drawn if p.role is piece.role]
        if piece is twins[0]:
            shape = outline_of(piece, pieces, cloth)
            found.append(replace(shape, caption=_of_two(piece, whole is not None)) if len(twins) > 1 else shape)
    return tuple(found)


def _of_two(piece: Piece, in_one: bool) -> str:
    """What to write below a piece that is drawn once for two."""
    if piece.role.alike:
        return f"{piece.role.word}{', opened out' if in_one else ''} (make two)"
    return f"{piece.name} (right: mirrored)"
