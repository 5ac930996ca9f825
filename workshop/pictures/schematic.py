"""Which drawings a garment's schematic has, made from its row ledgers."""

from collections.abc import Sequence
from dataclasses import replace

from workshop.core.making.edges import Cloth
from workshop.core.making.ledger import Piece
from workshop.pictures.outline import Outline
from workshop.pictures.panel import panel
from workshop.pictures.ring import ring
from workshop.pictures.sleeve import sleeve

PANELS = ("back", "front", "left front", "right front")
SLEEVES = ("left sleeve", "right sleeve")

TWINS = {
    "left front": ("right front", "left front (right: mirrored)"),
    "left sleeve": ("right sleeve", "sleeve (make two)"),
}
"""Pieces that are drawn once for two: the other one, and what to write."""


def outline_of(name: str, pieces: Sequence[Piece], cloth: Cloth) -> Outline:
    """Outline of one piece with what it grew out of and what grows out of it. Raises StopIteration if there is none."""
    piece = next(p for p in pieces if p.name == name)
    return sleeve(piece, pieces, cloth) if name in SLEEVES else panel(piece, pieces, cloth)


def outlines(pieces: Sequence[Piece], cloth: Cloth) -> tuple[Outline, ...]:
    """The drawings of a garment: each piece once, a pair once, no bands."""
    names = [p.name for p in pieces if p.rows]
    whole = ring(pieces, cloth)
    found = [replace(whole, caption="body and yoke, folded flat")] if whole is not None else []
    drawn = [n for n in names if n in SLEEVES or (n in PANELS and whole is None)]
    for name in drawn:
        if any(name == twin and first in drawn for first, (twin, _) in TWINS.items()):
            continue
        shape = outline_of(name, pieces, cloth)
        twin, caption = TWINS.get(name, ("", ""))
        if whole is not None and name in SLEEVES:
            caption = "sleeve, opened out (make two)"
        found.append(replace(shape, caption=caption) if twin in drawn else shape)
    return tuple(found)
