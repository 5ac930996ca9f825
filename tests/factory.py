"""Projects for tests, of our own invention."""

from dataclasses import replace

from workshop.core.garments import Garment
from workshop.core.making import roles
from workshop.core.making.ledger import Piece
from workshop.project import (
    Body,
    Design,
    FibrePart,
    Fit,
    GarmentChoices,
    Project,
    Reading,
    Swatch,
    Yarn,
)


def readings(state: str, along: str, *counts: float, over_cm: float = 10.0) -> tuple[Reading, ...]:
    """Counts in several places."""
    return tuple(Reading(state, along, c, over_cm) for c in counts)  # type: ignore[arg-type]


def swatch(stitches: float = 20.0, rows: float = 28.0, *, name: str = "A", washed_rows: float | None = None) -> Swatch:
    """A swatch counted in three places before and after the wash; where nothing changes, one count by a quarter."""
    after, odd = (washed_rows, rows) if washed_rows is not None else (rows, rows + 0.25)
    return Swatch(
        name,
        yarn="a",
        needle_mm=4.0,
        needle_material="wood",
        cast_on=36,
        rows=48,
        grams=18.0,
        reading=(
            *readings("off needles", "stitches", stitches, stitches, stitches),
            *readings("off needles", "rows", rows, rows, odd),
            *readings("washed", "stitches", stitches, stitches, stitches),
            *readings("washed", "rows", after, after, after),
        ),
    )


def pullover(**changes: object) -> Project:
    """A complete project; ``changes`` replace whole tables."""
    base = Project(
        title="Test pullover",
        tension="average",
        yarn=(Yarn("a", "Test yarn", "medium", (FibrePart("wool", 100.0),), 100.0, 200.0, "hand wash"),),
        swatch=(swatch(),),
        design=Design("A", "washed"),
        body=Body(source="table", table="women", size="M", chest_cm=92.0),
        fit=Fit("standard"),
        garment=GarmentChoices(
            construction="drop-shoulder",
            worked="flat",
            front="closed",
            neckline="crew",
            sleeve="long",
            waist="straight",
            length_cm=60.0,
            hem="rib-2x2",
            hem_cm=6.0,
            cuff_cm=6.0,
        ),
    )
    return replace(base, **changes)  # type: ignore[arg-type]


def piece_of(made: Garment, name: str) -> Piece | None:
    """The piece of that name, or None."""
    return next((p for p in made.pieces if p.name == name), None)


def shaped(project: Project, **changes: object) -> Project:
    """The project with another shape."""
    return replace(project, garment=replace(project.garment, **changes))  # type: ignore[arg-type]


def worked_in(piece: Piece, row: int) -> bool:
    """Whether a row of what a piece grew out of was worked over its stitches: not the one that puts a sleeve aside."""
    last = piece.parent.rows[-1] if piece.parent and piece.role is roles.SLEEVE else None
    return last is None or row < last.row or not any(e.do == "hold" and e.where == piece.side for e in last.events)
