"""Which needle knits what: the swatch's, the finer one of edgings, and those that were changed to since."""

from collections.abc import Iterator, Sequence
from itertools import pairwise

from workshop.core.edgings import STOCKINETTE
from workshop.core.knitting.needle_changes import had_rows, needle_changes, needle_of
from workshop.core.making.ledger import Piece, Row
from workshop.core.plan import Plan
from workshop.tables import needles
from workshop.tables.trade_rules import rule
from workshop.words.phrase import needle_to_knit_with
from workshop.words.rows.row_actions import noun


def swatch_needle(plan: Plan) -> float | None:
    """The needle in mm that the swatch was knitted with; None where nobody noted it."""
    return plan.gauge.swatch.needle_mm if plan.gauge else None


def needle_in_use(plan: Plan) -> float | None:
    """The needle in mm of the fabric of pieces to come."""
    return needle_of(plan.project, swatch_needle(plan), "", 1)


def edges_of(plan: Plan) -> str:
    """What is worked as an edging, on its needle: hem, cuffs and bands, or the bands alone; empty where all rolls."""
    garment, bands = plan.project.garment, [p for p in plan.made.pieces if p.role.band]
    if garment.hem != "none":
        return "hem and bands" if garment.sleeve == "none" else "hem, cuffs and bands"
    return ("bands" if len(bands) > 1 else bands[0].name) if bands else ""


def finer_needle(plan: Plan, needle_mm: float | None) -> float | None:
    """Needle of hem, cuffs and bands in mm, beside that of the fabric; None without them, or where none is finer."""
    if needle_mm is None or not edges_of(plan):
        return None
    finer_mm = needles.steps_from(needle_mm, -int(rule("rib_needle", "sizes")))
    return finer_mm if finer_mm < needle_mm else None


def edging_needle(plan: Plan) -> float | None:
    """The needle in mm of bands to come."""
    needle_mm = needle_in_use(plan)
    return finer_needle(plan, needle_mm) or needle_mm


def needle_for(piece: Piece, row: Row, plan: Plan) -> str:
    """The needle of a row, as it is shown: that of the fabric, or the finer one for edgings; empty where not noted."""
    needle_mm = needle_of(plan.project, swatch_needle(plan), piece.name, row.row)
    if needle_mm is None:
        return ""
    finer_mm = finer_needle(plan, needle_mm) if row.fabric != STOCKINETTE else None
    return needle_to_knit_with(finer_mm or needle_mm, plan.project)


def changed_within(piece: Piece, rows: Sequence[Row], plan: Plan) -> Iterator[str]:
    """What is told before rows in the middle of which another needle was taken up."""
    for last, row in pairwise(rows) if needle_changes(plan.project) else ():
        needle = needle_for(piece, row, plan)
        if needle != needle_for(piece, last, plan):
            yield f"From {noun(piece)} {row.row} on, use {needle} needles."


def changes_told(plan: Plan) -> Iterator[str]:
    """Every change of needle: from which row on, and for what is knitted later."""
    by_name = {p.name: p for p in plan.made.pieces}
    for way in needle_changes(plan.project):
        piece = by_name.get(way.piece)
        if way.needle_mm is None or piece is None:
            continue
        finer_mm = finer_needle(plan, way.needle_mm)
        edges = f", with {needle_to_knit_with(finer_mm, plan.project)} for their {edges_of(plan)}" if finer_mm else ""
        new = f"{needle_to_knit_with(way.needle_mm, plan.project)} needles"
        more = [n for n in by_name if n not in had_rows(way)]
        later = f" Knit what you begin after that with them too{edges}." if more else ""
        yield f"From {noun(piece)} {way.row + 1} of the {piece.name} on, use {new}.{later}"
