"""Panels that are finished straight across the top, though the plan divides them at the neck by now."""

from workshop.core.edgings import STOCKINETTE
from workshop.core.garments import Garment
from workshop.core.making.ledger import Piece
from workshop.core.making.roles import PANELS, SHOULDER
from workshop.project import Project


def straight_across(project: Project, made: Garment) -> Piece | None:
    """A panel that was finished with its edging along the top, where its plan has a neck by now; None without."""
    for piece in made.pieces:
        known, sides = project.knitted(piece.name), [p for p in made.growing_from(piece) if p.role is SHOULDER]
        begun = any((of := project.knitted(p.name)) is not None and of.rows for p in sides)
        if piece.role not in PANELS or known is None or not known.finished or not sides or begun or not piece.rows:
            continue
        last = piece.rows[-1]
        if last.fabric != STOCKINETTE and not any(e.do in ("hold", "bind-off") for e in last.events):
            return piece
    return None
