"""The knitting as it stands: as data for programs, and as a few lines for a terminal."""

import json
from collections.abc import Iterator
from datetime import date

from workshop.core.knitting.before import Before
from workshop.core.knitting.compared import Comparison
from workshop.core.knitting.needles import Needles, PieceStanding, at_the_needles
from workshop.core.knitting.ways import Three
from workshop.core.plan import Plan
from workshop.words.at_needles import row_text, told, way_text
from workshop.words.yarn_left import yarn_lines


def dumps(plan: Plan, today: date) -> str:
    """The knitting as JSON text."""
    return json.dumps({"knitting": knitting_data(plan, today)}, ensure_ascii=False, indent=1, allow_nan=False)


def knitting_data(plan: Plan, today: date) -> dict[str, object]:
    """The knitting as plain data; what is unknown is null."""
    needles = at_the_needles(plan, today)
    return {
        "pieces": [_piece(p, plan) for p in needles.pieces],
        "at_hand": needles.at_hand.piece.name if needles.at_hand else None,
        "compared": _compared(needles),
        "planned_cm": {part: round(cm, 4) for part, cm in plan.made.finished_cm.items()},
        "predicted_cm": {"chest": _three(needles.chest_cm), "length": _three(needles.length_cm)},
        "ways": [
            {
                "code": way.code,
                "recommended": way.recommended,
                "chest_cm": _three(way.chest_cm),
                "length_cm": _three(way.length_cm),
                "rows_ripped": way.rows_ripped,
                "text": way_text(way, plan.project),
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
        "swatch": round(comparison.swatch.per_10cm, 4),
        "piece": round(comparison.piece.per_10cm, 4),
        "difference_percent": round(comparison.difference_percent, 4),
        "low": round(low, 4),
        "high": round(high, 4),
        "real": comparison.real,
        "after_wash": round(comparison.after_per_10cm, 4),
    }


def _three(values: Three | None) -> dict[str, float] | None:
    return dict(zip(("low", "likely", "high"), (round(v, 4) for v in values), strict=True)) if values else None


def _yarn(needles: Needles, plan: Plan) -> dict[str, object] | None:
    left = needles.yarn
    if left is None:
        return None
    return {
        "used_g": round(left.used_g, 2),
        "left_g": round(left.left_g, 2),
        "needed_g": _three(left.needed_g),
        "verdict": left.verdict,
        "chance": round(left.chance, 4),
        "basis": needles.yarn_basis,
        "ways": list(yarn_lines(needles, plan)[1:]),
    }


def lines(plan: Plan, today: date, before: Before | None = None) -> Iterator[str]:
    """Where the knitting is, in a few lines."""
    yield from told(at_the_needles(plan, today), plan, before).lines
