"""What the finished measurements will be, by what is on the needles: stitches, rows and the gauge counted there.

The plan says what was wanted. Once pieces are knitted otherwise, or at another gauge, this says what comes out.
"""

from collections.abc import Mapping, Sequence
from math import exp
from typing import TYPE_CHECKING

from workshop.core.calculation import calculate
from workshop.core.cloth.gauge import Gauge
from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.cloth.wash import DesignGauge
from workshop.core.finished import ALONG_ROWS, Range
from workshop.core.garments import Garment
from workshop.core.making.counts import cm_of
from workshop.core.making.ledger import Piece, Row, edging_first
from workshop.core.making.roles import BODY, PANELS, SLEEVE, YOKES
from workshop.core.notes import Notes
from workshop.project import PieceCount, Project
from workshop.records import record

if TYPE_CHECKING:  # read once something is knitted
    from workshop.core.knitting.compared import Comparison
    from workshop.core.knitting.doubt import Doubt

SHOWS_CM = 0.05
"""A measurement that differs by less is shown as the plan has it."""


@record
class ComesOut:
    """Finished measurements in cm with their ranges, as they will come out."""

    finished_cm: Mapping[str, float]
    ranges: Mapping[str, Range]
    counts: Mapping[str, float]
    """Stitches or rows that each of them is."""


def as_it_comes_out(
    project: Project,
    gauge: DesignGauge | None,
    swatches: Sequence[MeasuredSwatch],
    planned: Garment,
    now: Garment,
    ranges: Mapping[str, Range],
    notes: Notes,
) -> ComesOut:
    """The measurements of a plan, with those changed that come out otherwise."""
    if gauge is None:
        return ComesOut(now.finished_cm, ranges, {})
    gauges = {part: gauge.rows if part in ALONG_ROWS else gauge.stitches for part in now.finished_cm}
    counts_of = {part: cm * gauges[part].per_10cm / 10 for part, cm in now.finished_cm.items()}
    if not any(known.rows for known in project.knitting):
        return ComesOut(now.finished_cm, ranges, counts_of)
    from workshop.core.knitting.compared import compared_of, counted_last

    _, counts = counted_last(project, now.pieces, gauge)
    across, along = compared_of(gauge, swatches, counts, "stitches"), compared_of(gauge, swatches, counts, "rows")
    found, reach = dict(now.finished_cm), dict(ranges)
    for part, more in _more(planned, now).items():
        counts_of[part] = counts_of.get(part, 0) + more
    for part, cm in now.finished_cm.items():
        if part == "neck_to_cuff":  # put together below
            continue
        count, compared = counts_of[part], along if part in ALONG_ROWS else across
        per_10cm, doubt = _gauge_now(project, counts, gauges[part], compared)
        size = count / per_10cm * 10
        if compared is None and abs(size - cm) < SHOWS_CM:
            continue
        unit = "rows" if part in ALONG_ROWS else "stitches"
        label = f"{part.replace('_', ' ').capitalize()}, as it is being knitted"
        source = "stitches and rows on the needles, gauge by the counts on the piece (derived)"
        working = calculate(f"knitted.{part}", label, cm_of(count, per_10cm, unit), "cm", source=source)
        found[part] = notes.record(working).value
        reach[part] = _ranged(ranges[part], size, doubt)
    if "neck_to_cuff" in found and found != now.finished_cm:
        from workshop.core.garments.seamed import neck_to_cuff

        found["neck_to_cuff"] = notes.record(neck_to_cuff(found, "knitted")).value
        reach["neck_to_cuff"] = _ranged(ranges["neck_to_cuff"], found["neck_to_cuff"], None)
    return ComesOut(found, reach, counts_of)


def _gauge_now(
    project: Project, counted: Sequence[PieceCount], planned: Gauge, compared: "Comparison | None"
) -> "tuple[float, Doubt | None]":
    """The gauge of what is being knitted, after its wash, and how sure that is; None: as sure as the plan."""
    from workshop.core.knitting.doubt import doubt_of
    from workshop.core.knitting.ways import NEEDLE_SPREAD

    if compared is None:
        return planned.per_10cm, None
    way = project.taken[-1] if project.taken else None
    if way is not None and way.way == "other-needle" and (counted[-1].row or 0) <= way.row:
        return planned.per_10cm, compared.after + doubt_of(NEEDLE_SPREAD**2)  # hoped for, until it is counted
    return compared.after_per_10cm, compared.after


def _ranged(planned: Range, size: float, doubt: "Doubt | None") -> Range:
    if doubt is None:
        share = size / planned.likely if planned.likely else 1.0
        low, high = planned.low * share, planned.high * share
        return Range(size, low, high, planned.spread, planned.reading, planned.drift, planned.measuring, planned.fabric)
    half = doubt.half_95
    return Range(size, size * exp(-half), size * exp(half), size * half, 0.0, 0.0, counted=True)


# ── what is on the needles ───────────────────────────────────────────────────────────────────────────


def _more(planned: Garment, now: Garment) -> dict[str, float]:
    """How many stitches or rows more than the plan each measurement has."""
    pairs = {part: (count(planned), count(now)) for part, count in COUNTED.items()}
    return {part: there - was for part, (was, there) in pairs.items() if was and there}


def chest_stitches(made: Garment) -> int:
    """Stitches round the body below the armholes."""
    whole = [p for p in made.pieces if p.role is BODY]
    return sum(stitches_at_underarm(p) for p in whole or made.pieces if p.role is BODY or p.role in PANELS)


def _hem_stitches(made: Garment) -> int:
    """Stitches round the body just above its edging."""
    return sum(_above_hem(p) for p in _below_underarm(made))


def _waist_stitches(made: Garment) -> int:
    """Stitches round the body where it is narrowest below the armholes."""
    return sum(min((r.after for r in _rows_below(p)), default=p.cast_on) for p in _below_underarm(made))


def _below_underarm(made: Garment) -> list[Piece]:
    """The body, or its panels, from the hem to the armholes."""
    whole = [p for p in made.pieces if p.role is BODY]
    return whole or [p for p in made.pieces if p.role in PANELS and p.parent is None]


def _above_hem(piece: Piece) -> int:
    if piece.parent is None:
        first = next((r for r in piece.rows[piece.edging_rows :]), None)
        return max(first.before, first.after) if first is not None else piece.cast_on
    edging = len(edging_first(piece.rows[::-1]))
    last = next(reversed(piece.rows[: len(piece.rows) - edging]), None)
    return last.after if last is not None else piece.cast_on


def _rows_below(piece: Piece) -> list[Row]:
    """Rows of a piece between its hem and the armholes."""
    from workshop.core.knitting.meeting import underarm_row

    at = underarm_row(piece) if piece.parent is None else 0
    return [r for r in piece.rows if not at or r.row <= at]


def stitches_at_underarm(piece: Piece) -> int:
    """Stitches where the armholes begin: at the top, or where a body from the neck begins."""
    if piece.parent is not None:
        return piece.cast_on
    below = _rows_below(piece)
    return below[-1].after if below else piece.cast_on


def _length(made: Garment) -> int:
    """Rows from the hem to the top."""
    return max((p.last_row for p in made.pieces if _is_body(p)), default=0)


def _is_body(piece: Piece) -> bool:
    return next(iter(piece.lineage())).role in (BODY, *PANELS, *YOKES) and piece.role is not SLEEVE


def _sleeve_rows(made: Garment) -> int:
    sleeve = made.first(SLEEVE)
    if sleeve is None:
        return 0
    cap = next((m.after_row for m in sleeve.marks if m.what == "cap"), None)
    return len(sleeve.rows) if cap is None else cap


def _cap_rows(made: Garment) -> int:
    sleeve = made.first(SLEEVE)
    if sleeve is None:
        return 0
    at = next((m.after_row for m in sleeve.marks if m.what == "cap"), None)
    whole = [p.last_row for p in made.pieces if p is sleeve or p.parent is sleeve]
    return max(whole) - at if at is not None else 0


def _upper_arm(made: Garment) -> int:
    sleeve = made.first(SLEEVE)
    return sleeve.widest if sleeve is not None else 0


def _armhole(made: Garment) -> int:
    from workshop.core.knitting.meeting import base_of, chain_of, levels

    panel = next((p for p in made.pieces if p.role in PANELS and base_of(p) is p), None)
    at = levels(chain_of(made, panel)) if panel is not None else None
    return at.top - at.underarm if at is not None else 0


COUNTED = {
    "chest": chest_stitches,
    "hip": _hem_stitches,
    "waist": _waist_stitches,
    "length": _length,
    "upper_arm": _upper_arm,
    "sleeve": _sleeve_rows,
    "cap_height": _cap_rows,
    "armhole_depth": _armhole,
}
"""Measurements whose stitches or rows can be read off the pieces."""
