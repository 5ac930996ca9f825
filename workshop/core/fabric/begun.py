"""The fabric of a sleeve that is begun: it stays where it was begun, whatever the body becomes."""

from collections.abc import Sequence

from workshop.core.fabric.keeping import landmark
from workshop.core.making.ledger import Piece
from workshop.project import FabricBegun, FabricKind, Project


def begun_with(project: Project, kind: FabricKind, sleeve: Piece, pieces: Sequence[Piece]) -> FabricBegun | None:
    """Where the knitter began stripes, pattern or panel of a sleeve; None while none of its rows is knitted.

    A sleeve goes by its pair where that has been begun first, and is as long to where it meets the body.
    """
    pair = (p for p in pieces if p.role is sleeve.role and p.side != sleeve.side and landmark(p) == landmark(sleeve))
    for piece in (sleeve, *pair):
        known = project.knitted(piece.name)
        found = (b for b in known.begun if b.kind == kind and b.row <= known.rows) if known else iter(())
        if (begun := next(found, None)) is not None:
            return begun
    return None
