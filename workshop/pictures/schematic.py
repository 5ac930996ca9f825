"""Which drawings a garment's schematic has, made from its row ledgers."""

from collections.abc import Sequence
from dataclasses import replace

from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Piece
from workshop.core.making.panel_stitches import without_panels
from workshop.core.making.roles import BODY, YOKES
from workshop.pictures.outline import Outline, Strip
from workshop.pictures.panel import panel
from workshop.pictures.ring import ring
from workshop.pictures.rows import levels
from workshop.pictures.sleeve import sleeve
from workshop.pictures.stretches import body_of, stretches


def outline_of(piece: Piece, pieces: Sequence[Piece], cloth: Cloth) -> Outline:
    """Outline of one piece with what it grew out of and what grows out of it; it has the width of its ground."""
    at = next(i for i, p in enumerate(pieces) if p is piece)
    pieces = without_panels(pieces)
    piece = pieces[at]
    return sleeve(piece, pieces, cloth) if piece.role.drawn == "sleeve" else panel(piece, pieces, cloth)


def outlines(pieces: Sequence[Piece], cloth: Cloth) -> tuple[Outline, ...]:
    """The drawings of a garment: each piece once, a pair once, no bands."""
    pieces = without_panels(pieces)
    whole = ring(pieces, cloth)
    body, found = body_of(pieces), []
    if whole is not None and body is not None:
        chain = [p for p in pieces if p.role in (BODY, *YOKES)]
        over = stretches(body, pieces, cloth, whole=True)
        strip = _strip("front", chain, cloth)
        found = [replace(whole, caption="body and yoke, folded flat", strip=strip, stretches=over)]
    drawn = [p for p in pieces if p.rows and (p.role.drawn == "sleeve" or (p.role.drawn == "panel" and whole is None))]
    for piece in drawn:
        twins = [p for p in drawn if p.role is piece.role]
        if piece is twins[0]:
            shape = outline_of(piece, pieces, cloth)
            over = stretches(piece, pieces, cloth)
            shape = replace(shape, strip=_strip_of(piece, pieces, cloth), stretches=over)
            found.append(replace(shape, caption=_of_two(piece, whole is not None)) if len(twins) > 1 else shape)
    return tuple(found)


def _strip_of(piece: Piece, pieces: Sequence[Piece], cloth: Cloth) -> Strip | None:
    """The panel up the middle of a piece, with what belongs to its drawing."""
    if piece.role.drawn == "sleeve":
        above = () if piece.parent else (p for p in pieces if p.parent is piece)
        return _strip(piece.name, (piece, *above), cloth)
    return _strip(piece.name, tuple(piece.lineage()), cloth)


def _strip(part: str, chain: Sequence[Piece], cloth: Cloth) -> Strip | None:
    """The panel of a part in pieces that are drawn together; they are drawn hem down however they were knitted."""
    y, places, width = 0.0, [], 0.0
    for piece in chain:
        panel = next((p for p in piece.panels if p.part == part), None)
        for level in levels(piece, y, cloth):
            y = level.y + level.height
            if panel is not None and any(panel.lies_in(level.row.row, after=after) for after in (False, True)):
                places += [level.y, y]
                width = panel.across_cm
    if not places:
        return None
    bottom, top = min(places), max(places)
    down = any(p.parent is not None and p.parent.role in YOKES and p.role not in YOKES for p in chain)
    return Strip(y - top, y - bottom, width) if down else Strip(bottom, top, width)


def _of_two(piece: Piece, in_one: bool) -> str:
    """What to write below a piece that is drawn once for two."""
    if piece.role.alike:
        return f"{piece.role.word}{', opened out' if in_one else ''} (make two)"
    return f"{piece.name} (right: mirrored)"
