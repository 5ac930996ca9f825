"""Panels up the sleeves come to the row of the body's panel where sleeve and body join: one row to read in the yoke.

A sleeve's panel begins so many plain rows later; never partway, where a crossing or a count of its own could be cut.
One that is begun stays.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from workshop.core.fabric.begun import begun_with
from workshop.core.fabric.keeping import landmark
from workshop.core.fabric.patterns import SetPanel
from workshop.core.making import roles
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Piece, each_changed
from workshop.project import Project

MOST_PLAIN_CM = 4.0
"""A panel that would begin higher above its edging stays as it is (common practice, no source)."""


def with_panels_met(project: Project, pieces: Sequence[Piece], cloth: Cloth) -> tuple[Piece, ...]:
    """The pieces with panels of one pattern on the same row of it where sleeves join the body."""
    comes: dict[str, tuple[int, int]] = {}
    for piece in (p for p in pieces if p.parent is None and p.role in (roles.BODY, roles.FRONT, roles.BACK)):
        for panel in (p for p in piece.panels if _next(p, piece)):
            comes.setdefault(panel.pattern.id, (_next(panel, piece), panel.repeat_rows))
    later: dict[str, int] = {}
    for piece in (p for p in pieces if p.parent is None and p.role is roles.SLEEVE):
        begun = begun_with(project, "panel", piece, pieces)
        for panel in piece.panels:
            own, (meets, repeat) = _next(panel, piece), comes.get(panel.pattern.id, (0, 0))
            if begun is not None:
                later[panel.part] = sum(number < begun.row for number, _ in panel.rows)
            elif own and repeat == panel.repeat_rows:
                later[panel.part] = _plain(piece, (own - meets) % repeat, cloth)
    return each_changed(pieces, (replace(p, panels=_begun_later(p, later)) for p in pieces))


def _next(panel: SetPanel, piece: Piece) -> int:
    """Row of its pattern that comes next where the piece joins another; 0 where it does not, or has no row before."""
    after = landmark(piece)
    worked = [at.row for number, at in panel.rows if after is not None and number <= after]
    return worked[-1] % panel.repeat_rows + 1 if worked else 0


def _plain(piece: Piece, rows: int, cloth: Cloth) -> int:
    """Rows by which a panel begins later; none where it would begin on the wrong side, or too high."""
    other_side = piece.worked == "flat" and rows % 2
    return 0 if other_side or cloth.along_cm(rows) > MOST_PLAIN_CM else rows


def _begun_later(piece: Piece, later: Mapping[str, int]) -> tuple[SetPanel, ...]:
    found = []
    for panel in piece.panels:
        rows = later.get(panel.part, 0)
        kept = panel.rows[rows:] if piece.parent is None else panel.rows
        told = ((n, replace(at, row=(at.row - 1 - rows) % panel.repeat_rows + 1)) for n, at in kept)
        found.append(replace(panel, rows=tuple(told)) if rows else panel)
    return tuple(found)


def panels_differ(pieces: Sequence[Piece]) -> bool:
    """Whether a yoke has panels of one pattern that are on different rows of it at the same time."""
    for piece in (p for p in pieces if p.role in roles.YOKES):
        for row in piece.rows:
            on = {(p.pattern.id, at.row) for p in piece.panels if (at := p.at(row.row))}
            if len({name for name, _ in on}) < len(on):
                return True
    return False
