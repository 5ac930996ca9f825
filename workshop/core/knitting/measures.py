"""What the finished measurements will be, by what is on the needles: stitches, rows and the gauge counted there.

The plan says what was wanted. Once pieces are knitted otherwise, or at another gauge, this says what comes out.
"""

from collections.abc import Callable, Mapping, Sequence
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
from workshop.project import Project
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
    from workshop.core.knitting.needle_changes import since_change

    counted_on, counts = counted_last(project, now.pieces, gauge)
    in_use = since_change(project, counted_on, counts, gauge)
    across, along = (compared_of(gauge, swatches, in_use or counts, one) for one in ("stitches", "rows"))
    found, reach = dict(now.finished_cm), dict(ranges)
    for part, more in _more(planned, now).items():
        counts_of[part] = counts_of.get(part, 0) + more
    for part, cm in now.finished_cm.items():
        if part == "neck_to_cuff":  # put together below
            continue
        count, compared = counts_of[part], along if part in ALONG_ROWS else across
        per_10cm, doubt = _gauge_now(gauges[part], compared, is_counted=bool(in_use))
        counts_of[part] = count = _at_one_gauge(part, count, now, per_10cm)
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


def _gauge_now(planned: Gauge, compared: "Comparison | None", *, is_counted: bool) -> "tuple[float, Doubt | None]":
    """The gauge of what is being knitted, after its wash, and how sure that is; None: as sure as the plan.

    ``is_counted``: with the needle in use.
    """
    from workshop.core.knitting.doubt import doubt_of
    from workshop.core.knitting.ways import NEEDLE_SPREAD

    if compared is None:
        return planned.per_10cm, None
    if not is_counted:
        return planned.per_10cm, compared.after + doubt_of(NEEDLE_SPREAD**2)  # hoped for, until it is counted
    return compared.after_per_10cm, compared.after


def _at_one_gauge(part: str, count: float, made: Garment, per_10cm: float) -> float:
    """Stitches or rows of a measurement as if all were of one gauge: what an older needle has knitted counts as many
    of them as it is wide, or high.
    """
    if part in ALONG_ROWS:
        older = [r.own_gauge[1] for r in ROWS_OF[part](made) if r.own_gauge] if part in ROWS_OF else []
        return count + sum(per_10cm / own - 1 for own in older)
    row = ROW_OF[part](made) if part in ROW_OF else None
    return count * per_10cm / row.own_gauge[0] if row is not None and row.own_gauge else count


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
    row = _row_above_hem(piece)
    if row is None:
        return piece.cast_on
    return max(row.before, row.after) if piece.parent is None else row.after


def _row_above_hem(piece: Piece) -> Row | None:
    """The row of the fabric that is next to the hem."""
    if piece.parent is None:
        return next(iter(piece.rows[piece.edging_rows :]), None)
    edging = len(edging_first(piece.rows[::-1]))
    return next(reversed(piece.rows[: len(piece.rows) - edging]), None)


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


def _length(made: Garment) -> list[Row]:
    """Rows from the hem to the top."""
    last = max((p for p in made.pieces if _is_body(p)), key=lambda p: p.last_row, default=None)
    return [r for p in last.lineage() for r in p.rows] if last is not None else []


def _is_body(piece: Piece) -> bool:
    return next(iter(piece.lineage())).role in (BODY, *PANELS, *YOKES) and piece.role is not SLEEVE


def _sleeve_rows(made: Garment) -> Sequence[Row]:
    sleeve = made.first(SLEEVE)
    if sleeve is None:
        return ()
    cap = next((m.after_row for m in sleeve.marks if m.what == "cap"), None)
    return sleeve.rows if cap is None else sleeve.rows[:cap]


def _cap_rows(made: Garment) -> Sequence[Row]:
    sleeve = made.first(SLEEVE)
    at = next((m.after_row for m in sleeve.marks if m.what == "cap"), None) if sleeve is not None else None
    if sleeve is None or at is None:
        return ()
    last = max((p for p in made.pieces if p is sleeve or p.parent is sleeve), key=lambda p: p.last_row)
    return [r for p in last.lineage() for r in p.rows if r.row > at]


def _upper_arm(made: Garment) -> int:
    sleeve = made.first(SLEEVE)
    return sleeve.widest if sleeve is not None else 0


def _armhole(made: Garment) -> Sequence[Row]:
    from workshop.core.knitting.meeting import base_of, chain_of, levels, underarm_row

    panel = next((p for p in made.pieces if p.role in PANELS and base_of(p) is p), None)
    if panel is None:
        return ()
    at = levels(chain_of(made, panel))
    last = max(chain_of(made, panel), key=lambda p: p.last_row)
    above = [r for p in last.lineage() for r in p.rows if r.row > underarm_row(panel)]
    return above[: at.top - at.underarm]  # without the rows of a dart, which don't lengthen the edge


ROWS_OF: Mapping[str, Callable[[Garment], Sequence[Row]]] = {
    "length": _length,
    "sleeve": _sleeve_rows,
    "cap_height": _cap_rows,
    "armhole_depth": _armhole,
}
"""The rows that make the measurements along them."""


def _row_at_hem(made: Garment) -> Row | None:
    below = _below_underarm(made)
    return _row_above_hem(below[0]) if below else None


def _row_at_waist(made: Garment) -> Row | None:
    below = _below_underarm(made)
    return min(_rows_below(below[0]), key=lambda r: r.after, default=None) if below else None


def _row_at_underarm(made: Garment) -> Row | None:
    below = _below_underarm(made)
    rows = _rows_below(below[0]) if below else []
    return (rows[0] if below[0].parent is not None else rows[-1]) if rows else None


def _widest_row(made: Garment) -> Row | None:
    sleeve = made.first(SLEEVE)
    return max(sleeve.rows, key=lambda r: max(r.before, r.after), default=None) if sleeve is not None else None


ROW_OF: Mapping[str, Callable[[Garment], Row | None]] = {
    "chest": _row_at_underarm,
    "hip": _row_at_hem,
    "waist": _row_at_waist,
    "upper_arm": _widest_row,
}
"""The row that a measurement across lies in: of the first piece, where several make it."""


def _many(rows_of: Callable[[Garment], Sequence[Row]]) -> Callable[[Garment], int]:
    return lambda made: len(rows_of(made))


COUNTED: Mapping[str, Callable[[Garment], int]] = {
    "chest": chest_stitches,
    "hip": _hem_stitches,
    "waist": _waist_stitches,
    "upper_arm": _upper_arm,
    **{part: _many(rows_of) for part, rows_of in ROWS_OF.items()},
}
"""Measurements whose stitches or rows can be read off the pieces."""
