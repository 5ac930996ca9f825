"""What becomes of the garment by a way on: it is planned as if that had been taken, so the promise is the plan."""

from collections.abc import Sequence
from dataclasses import replace

from workshop.core.knitting.compared import Comparison
from workshop.core.knitting.facts import noted
from workshop.core.knitting.measures import chest_stitches, stitches_at_underarm
from workshop.core.knitting.ways import Three, Way
from workshop.core.making.ledger import Piece
from workshop.core.plan import Plan
from workshop.core.plan import plan as planned_of
from workshop.core.remarks import Amount, cm
from workshop.project import HadRows, Project, TakenWay, WayOn

AS_PLANNED: tuple[WayOn, ...] = ("go-on", "other-needle")
"""Ways that change no number of the plan."""


def way_taken(
    way: Way,
    piece: Piece,
    row: int,
    stitches: Comparison | None,
    rows: Comparison | None,
    on: str = "",
    had: Sequence[HadRows] = (),
) -> TakenWay:
    """A way on as it is kept once the knitter takes it, at a row of a piece; ``had`` is how far all of them are."""
    across = stitches if way.stitches or way.code == "other-pieces" else None
    anew = way.code == "rows-anew" or (rows is not None and rows.real and way.code not in AS_PLANNED)
    along = rows if anew else None
    return TakenWay(
        way.code,
        piece.name,
        row,
        stitches_per_10cm=across.after_per_10cm if across else None,
        rows_per_10cm=along.after_per_10cm if along else None,
        ripped=way.rows_ripped,
        needle_mm=way.needle_mm,
        had=tuple(had) if way.code == "other-needle" else (),
        on=on,
    )


def as_planned(plan: Plan, piece: Piece, way: Way, taken: TakenWay) -> Way | None:
    """The way with what the plan makes of it; None where that can't be knitted, or changes nothing that it is for.

    ``piece`` is the one at hand.
    """
    if way.code in AS_PLANNED:
        return way
    project = plan.project
    now = planned_of(_ripped(replace(project, taken=(*project.taken, taken)), piece, way.rows_ripped))
    there = next((p for p in now.made.pieces if p.name == piece.name), None)
    if there is None or now.made.pieces == plan.made.pieces or _has_no_room(now) > _has_no_room(plan):
        return None
    if not all(p.rows for p in now.made.pieces):
        return None
    around = chest_stitches(now.made) - chest_stitches(plan.made)
    if way.stitches and around * (way.stitches - plan.counts["chest"]) <= 0:
        return None
    return replace(
        _with_figures(way, plan, now, piece, there),
        chest_cm=_of(now, "chest") if way.chest_cm else None,
        length_cm=_of(now, "length") if way.length_cm else None,
        rows_then=len(there.rows),
        balls_then=_balls(now),
    )


def _balls(plan: Plan) -> int | None:
    """Balls to buy, to be safe."""
    return plan.yarn.balls if plan.yarn else None


def _has_no_room(plan: Plan) -> int:
    """How often something stops a plan, or its rows have no room for what is owed."""
    return sum(c.level == "stop" or c.code == "knitting-has-no-room" for c in plan.checks)


def _ripped(project: Project, piece: Piece, rows: int) -> Project:
    """The project with so many rows of a piece ripped back."""
    known = project.knitted(piece.name)
    if not rows or known is None:
        return project
    left = noted(piece, known.rows - rows, known)
    return replace(project, knitting=tuple(left if k is known else k for k in project.knitting))


def _with_figures(way: Way, plan: Plan, now: Plan, piece: Piece, there: Piece) -> Way:
    """The way with the stitches that the plan really puts in, and what it leaves of the difference at the chest."""
    assert now.gauge is not None
    around = chest_stitches(now.made) - chest_stitches(plan.made)
    more = around if way.along_lines else stitches_at_underarm(there) - stitches_at_underarm(piece)
    figures = {
        "more": Amount(abs(more), "stitches"),
        "width": cm(abs(around) / now.gauge.stitches.per_10cm * 10),
        "off": cm(abs(plan.made.finished_cm["chest"] - now.finished_cm["chest"])),
    }
    known = {what: figure for what, figure in figures.items() if what in way.remark.values}
    return replace(way, remark=replace(way.remark, values={**way.remark.values, **known}))


def _of(plan: Plan, part: str) -> Three:
    found = plan.ranges[part]
    return found.low, found.likely, found.high
