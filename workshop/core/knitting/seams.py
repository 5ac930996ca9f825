"""The seams of a garment as it is knitted: rows and lengths of the two edges that are sewn."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from workshop.core.garments import Garment, Seam
from workshop.core.knitting.meeting import Levels, above_underarm, base_of, chain_of, levels, panels_at
from workshop.core.knitting.shoulders import shoulder_stitches
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Piece
from workshop.core.making.roles import BACK, FRONT, SLEEVE, Edge, Role
from workshop.core.notes import Notes
from workshop.core.remarks import cm

EASES = 0.08
"""Part of an armhole by which a sleeve's top may be longer and is still eased in (common practice, no source)."""


def check_armholes(made: Garment, planned: Garment, arm_cm: float | None, notes: Notes) -> None:
    """Where an armhole has become smaller than planned, and no sleeve fits it; ``arm_cm`` is the upper arm."""
    for seam, as_planned in zip(made.seams, planned.seams, strict=True):
        top, armhole = seam.a_cm or 0.0, seam.b_cm or 0.0
        if seam.kind != "armhole" or armhole >= (as_planned.b_cm or 0.0):
            continue
        if arm_cm is not None and armhole < arm_cm:
            notes.check("armhole-too-small", armhole=cm(armhole), arm=cm(arm_cm))
            return
        if top > (1 + EASES) * armhole:
            notes.check("armhole-too-small.top", armhole=cm(armhole), top=cm(top))
            return


def seams_of(made: Garment, pieces: Sequence[Piece], cloth: Cloth) -> tuple[Seam, ...]:
    """The seams of a plan, by the pieces as they are knitted."""
    now = {id(planned): piece for planned, piece in zip(made.pieces, pieces, strict=True)}
    return tuple(_seam_as_knitted(seam, made, now, cloth) for seam in made.seams)


def _seam_as_knitted(seam: Seam, made: Garment, now: Mapping[int, Piece], cloth: Cloth) -> Seam:
    def off(base: Piece | None) -> Levels:
        chain = chain_of(made, base) if base else []
        return levels([now[id(p)] for p in chain]) - levels(chain) if chain else Levels(0, 0)

    front, back, sleeve = (_base_at(made, role, seam.side) for role in (FRONT, BACK, SLEEVE))
    a_rows, b_rows = seam.a_rows or 0, seam.b_rows or 0
    match seam.kind:
        case "side":
            return replace(seam, a_rows=a_rows + off(front).underarm, b_rows=b_rows + off(back).underarm)
        case "armhole" if sleeve is not None and seam.side is not None:
            return _armhole(seam, made, sleeve, now, cloth)
        case "sleeve" if sleeve is not None:
            at = off(sleeve)
            more = at.underarm if any(m.what == "cap" for m in sleeve.marks) else at.top
            return replace(seam, a_rows=a_rows + more, b_rows=b_rows + more)
        case "raglan front" | "raglan back":
            panel, arm = off(front if seam.kind == "raglan front" else back), off(sleeve)
            return replace(seam, a_rows=a_rows + panel.top - panel.underarm, b_rows=b_rows + arm.top - arm.underarm)
        case "shoulder" if front is not None and back is not None and seam.side is not None:
            return _shoulder(seam, seam.side, made, (front, back), now)
    return seam


def _armhole(seam: Seam, made: Garment, sleeve: Piece, now: Mapping[int, Piece], cloth: Cloth) -> Seam:
    """The top of a sleeve and the armhole that it is sewn into, as they are knitted."""
    panels = panels_at(made, seam.side)
    planned, there = (
        sum(above_underarm([p if of is None else of[id(p)] for p in chain_of(made, panel)]) for panel in panels)
        for of in (None, now)
    )
    chain = chain_of(made, sleeve)
    capped = any(m.what == "cap" for m in sleeve.marks)
    more = above_underarm([now[id(p)] for p in chain]) - above_underarm(chain) if capped else 0
    wider = 0 if capped else now[id(sleeve)].widest - sleeve.widest
    top = (seam.a_cm or 0) + 2 * cloth.along_cm(more) + cloth.across_cm(wider)
    armhole = (seam.b_cm or 0) + cloth.along_cm(there - planned)
    return replace(seam, a_cm=top, b_cm=armhole) if (top, armhole) != (seam.a_cm, seam.b_cm) else seam


def _base_at(made: Garment, role: Role, side: Edge | None) -> Piece | None:
    """The panel or sleeve of a role at a side."""
    return next((p for p in made.pieces if p.role is role and p.side in (None, side) and base_of(p) is p), None)


def _shoulder(seam: Seam, side: Edge, made: Garment, bases: tuple[Piece, Piece], now: Mapping[int, Piece]) -> Seam:
    chains = [chain_of(made, base) for base in bases]
    planned = [shoulder_stitches(chain, side) for chain in chains]
    there = [shoulder_stitches([now[id(p)] for p in chain], side) for chain in chains]
    if planned == there or not all(planned):
        return seam
    front, back = (cm * n / was for cm, n, was in zip((seam.a_cm or 0, seam.b_cm or 0), there, planned, strict=True))
    return replace(seam, a_cm=front, b_cm=back, stitches=(there[0], there[1]) if there[0] != there[1] else None)
