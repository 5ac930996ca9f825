"""The knitting as it stands: as data for programs, and as a few lines for a terminal."""

from collections.abc import Iterator
from datetime import date

from workshop.core.knitting.before import Before
from workshop.core.knitting.compared import Comparison
from workshop.core.knitting.needles import Needles, PieceStanding, at_the_needles
from workshop.core.plan import Plan
from workshop.prints.as_json import json_text, low_to_high, rounded
from workshop.words.at_needles import row_text, told, way_text
from workshop.words.yarn_left import yarn_lines


def dumps(plan: Plan, today: date) -> str:
    """The knitting as JSON text."""
    return json_text({"knitting": knitting_data(plan, today)})


def _of_armholes(plan: Plan) -> dict[str, float]:
    """What armholes and the tops of sleeves are planned as now: they follow the armhole that is begun."""
    return {part: plan.finished_cm[part] for part in ("armhole_depth", "upper_arm") if part in plan.finished_cm}


def knitting_data(plan: Plan, today: date) -> dict[str, object]:
    """The knitting as plain data; what is unknown is null."""
    needles = at_the_needles(plan, today)
    return {
        "pieces": [_piece(p, plan) for p in needles.pieces],
        "at_hand": needles.at_hand.piece.name if needles.at_hand else None,
        "compared": _compared(needles),
        "planned_cm": {part: rounded(cm) for part, cm in {**plan.made.finished_cm, **_of_armholes(plan)}.items()},
        "predicted_cm": {"chest": low_to_high(needles.chest_cm), "length": low_to_high(needles.length_cm)},
        "ways": [
            {
                "code": way.code,
                "recommended": way.recommended,
                "chest_cm": low_to_high(way.chest_cm),
                "length_cm": low_to_high(way.length_cm),
                "rows_ripped": way.rows_ripped,
                "text": way_text(way, plan, needles.at_hand.piece if needles.at_hand else None),
            }
            for way in needles.ways
        ],
        "yarn": _yarn(needles, plan),
    }


def _piece(standing: PieceStanding, plan: Plan) -> dict[str, object]:
    row = standing.next_row
    return {
        "name": standing.piece.name,
        "rows_knitted": standing.rows_knitted,
        "rows_planned": len(standing.piece.rows),
        "stitches": standing.stitches,
        "finished": standing.finished,
        "next": {"row": row.row, "text": row_text(standing.piece, row, plan.project)} if row else None,
    }


def _compared(needles: Needles) -> dict[str, object] | None:
    if needles.stitches is None and needles.rows is None:
        return None
    return {"stitches": _side(needles.stitches), "rows": _side(needles.rows)}


def _side(comparison: Comparison | None) -> dict[str, object] | None:
    if comparison is None:
        return None
    low, high = comparison.range_percent
    return {
        "swatch": rounded(comparison.swatch.per_10cm),
        "piece": rounded(comparison.piece.per_10cm),
        "difference_percent": rounded(comparison.difference_percent),
        "low": rounded(low),
        "high": rounded(high),
        "real": comparison.real,
        "after_wash": rounded(comparison.after_per_10cm),
    }


def _yarn(needles: Needles, plan: Plan) -> dict[str, object] | None:
    left = needles.yarn
    if left is None:
        return None
    return {
        "used_g": round(left.used_g, 2),
        "left_g": round(left.left_g, 2),
        "needed_g": low_to_high(left.needed_g),
        "verdict": left.verdict,
        "chance": rounded(left.chance),
        "basis": needles.yarn_basis,
        "ways": list(yarn_lines(needles, plan)[1:]),
    }


def lines(plan: Plan, today: date, before: Before | None = None) -> Iterator[str]:
    """Where the knitting is, in a few lines."""
    yield from told(at_the_needles(plan, today), plan, before).lines
