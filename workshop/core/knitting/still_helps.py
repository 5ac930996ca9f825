"""Checks that nobody can do anything about any more, because what they are about is knitted."""

from collections.abc import Mapping, Sequence

from workshop.core.garments import Garment
from workshop.core.making.ledger import Piece
from workshop.core.making.roles import BODY, CAP, PANELS, SHOULDER, SLEEVE, SLEEVE_TOP, YOKES, Role
from workshop.core.remarks import Amount, Check
from workshop.project import Project

ABOUT: Mapping[str, tuple[Role, ...]] = {
    "body": (BODY, *PANELS, SHOULDER),
    "sleeves": (SLEEVE, CAP, SLEEVE_TOP),
    "yoke": YOKES,
}


def still_helps(check: Check, project: Project, made: Garment) -> bool:
    """Whether what it is about is still to be knitted."""
    about, _, begun = check.till.partition(" ")
    if not about or not any(known.rows for known in project.knitting):
        return True
    if about == "band":
        return not any(_is_band_begun(check, piece, project) for piece in made.pieces)
    pieces = [p for p in made.pieces if p.role in ABOUT[about]]
    if begun:
        return not _any_rows(pieces, project)
    return not pieces or not all((k := project.knitted(p.name)) is not None and k.finished for p in pieces)


def _any_rows(pieces: Sequence[Piece], project: Project) -> bool:
    return any((known := project.knitted(p.name)) is not None and known.rows for p in pieces)


def _is_band_begun(check: Check, piece: Piece, project: Project) -> bool:
    """Whether a row of the band that a check is about is knitted."""
    number, known = check.remark.values.get("number"), project.knitted(piece.name)
    band = next((b for b in piece.bands if isinstance(number, Amount) and b.number == number.value), None)
    return band is not None and known is not None and piece.rows[0].row - 1 + known.rows >= band.from_row
