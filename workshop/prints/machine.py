"""The machine-readable summary, version 1: enough for another program to check the whole plan.

Lengths cm, masses g, counts whole numbers; null where unknown. Further keys may be added. A piece says what it is in
``role`` (core/making/roles.py), which of two in ``side``, as worn, and what it grew out of in ``parent``.

``pattern`` of a piece is its ground: null in plain fabric, also where a panel runs up it. ``panels`` stand beside it,
[] without one: where each begins here, as stitch of the row (``from_stitch``, of all on the needle, in the order of a
right-side row) and as row of its own pattern (``first_row``, of ``rows``); ``from_row`` and ``to_row`` are rows of the
piece. A row says in ``panels`` where it stands in each. ``pattern_row`` and ``first_stitch`` are the ground's, as if a
panel stood on the stitches of the ground that it is as wide as (``stitches`` less ``extra_stitches``).

``bands`` of a piece stand beside its ``pattern``, which is the ground (null in plain fabric): from ``from_row`` of the
piece on ``rows`` rows of the chart of the pattern ``id``, ``repeats`` times its ``repeat`` of stitches, in the round
beginning with its ``first_stitch``. In a garment of several colours each row says in ``colours`` which it has, in the
order in which they first come, and ``floats`` are those that are too long to be left loose.
"""

import json

from workshop.core.calculation import Calculation
from workshop.core.cloth.gauge import Gauge
from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.edgings import KNOWN_AS
from workshop.core.fabric.at_edges import counts_repeats
from workshop.core.fabric.colours import floats_of, palette, shares_of
from workshop.core.fabric.patterns import SetBand, SetPanel
from workshop.core.making.centre_panels import panel_rows, width_cm
from workshop.core.making.ledger import Event, Piece, Row
from workshop.core.making.roles import SLEEVE
from workshop.core.plan import Plan
from workshop.core.plan_mark import plan_mark
from workshop.prints.dated import today
from workshop.prints.knitting import knitting_data
from workshop.progress import progress
from workshop.project import STATES, Project, State
from workshop.words.before import before_knitting
from workshop.words.instructions import finishing, instructions
from workshop.words.phrase import say_check

VERSION = 1


def summary_data(plan: Plan) -> dict[str, object]:
    """The summary as plain data."""
    made = plan.made
    metric = _in_cm(plan.project)
    return {
        "version": VERSION,
        "title": plan.project.title,
        "units": plan.project.units,
        "plan_mark": plan_mark(plan),
        "steps": [
            {"name": s.name, "state": s.state, "missing": list(s.missing), "because": s.because} for s in progress(plan)
        ],
        "gauge": _gauge(plan),
        "wash": _wash(plan),
        "swatches": [_swatch(s) for s in plan.swatches],
        "body_cm": {m.id: _r(m.value_cm) for m in plan.wearer.measures.values()},
        "body_origin": {m.id: {"origin": m.origin, "how": m.how} for m in plan.wearer.measures.values()},
        "ease_cm": {k: _r(v) for k, v in plan.targets.ease.items()},
        "wanted_cm": {k: _r(v) for k, v in plan.targets.finished.items()},
        "finished_cm": {k: _r(v) for k, v in plan.finished_cm.items()},
        "finished_range_cm": {k: [_r(v.low), _r(v.high)] for k, v in plan.ranges.items()},
        "finished_ease_cm": {
            k: {"low": _r(v.low), "likely": _r(v.likely), "high": _r(v.high)} for k, v in plan.ease.items()
        },
        "doubt_cm": {
            k: {
                "places": _r(v.spread),
                "reading": _r(v.reading),
                "drift": _r(v.drift),
                **({"fabric": _r(v.fabric)} if v.fabric else {}),
            }
            for k, v in plan.ranges.items()
        },
        "pieces": [_piece(p, plan) for p in made.pieces],
        "colours": [{"id": c.id, "name": c.name} for c in palette(plan.project, made)],
        "floats": _floats(plan),
        "seams": _seams(plan),
        "yarn": yarn_data(plan),
        "knitting": knitting_data(plan, today()) if made.pieces else None,
        "instructions": [{"piece": w.title, "lines": list(w.lines)} for w in instructions(plan)],
        "before": list(before_knitting(plan)),
        "finishing": list(finishing(plan)),
        "checks": [
            {
                "code": c.code,
                "level": c.level,
                "text": say_check(c, metric),
                "question": c.question,
                "agreed": c.agreed,
                "name": c.name,
            }
            for c in plan.checks
        ],
        "cautions": [{"code": c.id, "text": c.text, "authority": c.authority} for c in plan.cautions],
        "workings": [_working(w) for w in plan.workings],
    }


def dumps(plan: Plan, *, dated: bool = False) -> str:
    """The summary as JSON text; a print is ``dated``."""
    data = summary_data(plan)
    if dated:
        data["printed_on"] = today().isoformat()
    return json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False)


def _in_cm(project: Project) -> Project:
    """The same project, shown in cm: programs read one unit."""
    from dataclasses import replace

    return replace(project, units="cm", needle_names="mm")


def _r(value: float | None) -> float | None:
    """Rounded to a hundredth of a millimetre: enough to check with, short enough to read."""
    return None if value is None else round(value, 4)


def _gauge(plan: Plan) -> dict[str, object]:
    g = plan.gauge
    return {
        "swatch": g.swatch.id if g else plan.project.design.swatch,
        "state": g.state if g else plan.project.design.state,
        "stitches_per_10cm": _r(g.stitches.per_10cm) if g else None,
        "rows_per_10cm": _r(g.rows.per_10cm) if g else None,
        "stitches_u95_percent": _r(g.stitches.u95_percent) if g else None,
        "rows_u95_percent": _r(g.rows.u95_percent) if g else None,
        "unwashed_stitches_per_10cm": _r(g.unwashed_stitches.per_10cm) if g and g.unwashed_stitches else None,
        "unwashed_rows_per_10cm": _r(g.unwashed_rows.per_10cm) if g and g.unwashed_rows else None,
        "unwashed_stitches_u95_percent": _r(g.unwashed_stitches.u95_percent) if g and g.unwashed_stitches else None,
        "unwashed_rows_u95_percent": _r(g.unwashed_rows.u95_percent) if g and g.unwashed_rows else None,
    }


def _wash(plan: Plan) -> dict[str, object]:
    width = plan.gauge.width if plan.gauge else None
    length = plan.gauge.length if plan.gauge else None
    return {
        "width_change_percent": _r(width.percent) if width else None,
        "length_change_percent": _r(length.percent) if length else None,
        "width_u95_percent": _r(width.u95_percent) if width else None,
        "length_u95_percent": _r(length.u95_percent) if length else None,
        "width_real": width.real if width else None,
        "length_real": length.real if length else None,
    }


def _swatch(known: MeasuredSwatch) -> dict[str, object]:
    plan = known.plan
    return {
        "id": plan.swatch.id,
        "yarn": plan.swatch.yarn,
        "needle_mm": plan.swatch.needle_mm,
        "cast_on_suggested": plan.cast_on.count if plan.cast_on else None,
        "rows_suggested": plan.total_rows,
        "border_rows": plan.border_rows,
        "mark": plan.mark,
        "gauge": {state: _states(known, state) for state in STATES},
    }


def _states(known: MeasuredSwatch, state: State) -> dict[str, object]:
    def per(gauge: Gauge | None, name: str) -> float | None:
        return _r(getattr(gauge, name)) if gauge else None

    stitches, rows = known.gauges.get((state, "stitches")), known.gauges.get((state, "rows"))
    return {
        "stitches_per_10cm": per(stitches, "per_10cm"),
        "rows_per_10cm": per(rows, "per_10cm"),
        "stitches_u95_percent": per(stitches, "u95_percent"),
        "rows_u95_percent": per(rows, "u95_percent"),
    }


def _piece(piece: Piece, plan: Plan) -> dict[str, object]:
    gauge = plan.gauge
    assert gauge is not None
    rows, parent = piece.rows, piece.parent.name if piece.parent else None
    if piece.role is SLEEVE:  # in the round the cap, or a straight top, is a piece of its own
        rows += tuple(r for p in plan.made.growing_from(piece) for r in p.rows)
    return {
        "name": piece.name,
        "role": piece.role.word,
        "side": piece.side,
        "parent": parent,
        "worked": piece.worked,
        "from": parent,
        "cast_on": piece.cast_on,
        "edge_stitches": piece.edge_stitches,
        "rows": [
            {
                "row": r.row,
                "side": r.side,
                "before": r.before,
                "after": r.after,
                "fabric": KNOWN_AS.get(r.fabric, r.fabric),
                "events": [_event(e) for e in r.events],
                **_in_pattern(piece, r.row),
                **_in_panels(piece, r.row),
                **_in_colours(piece, r, plan),
            }
            for r in piece.rows
        ],
        "pattern": _pattern(piece),
        "panels": [_panel(p) for p in piece.panels if p.rows],
        "bands": [_band(b) for b in piece.bands],
        "bound_off": piece.bound_off,
        "key_counts": dict(piece.key_counts),
        "width_cm": _r(gauge.cloth.widest_cm(piece) if piece.bands else width_cm(piece, gauge.cloth)),
        "length_cm": _r(gauge.cloth.rows_cm(rows)),
        "as_knit_length_cm": _r(gauge.as_knit_of(rows)),
    }


def _pattern(piece: Piece) -> dict[str, object] | None:
    """The fabric of a piece where it is not plain, as it is set on its first row."""
    found = piece.pattern
    if found is None:
        return None
    return {
        "id": found.pattern.id,
        "multiple": found.pattern.multiple,
        "plus": found.pattern.plus,
        "first_stitch": found.first_stitch,
        "first_row": found.first_row,
        "rows": found.repeat_rows,
    }


def _band(band: SetBand) -> dict[str, object]:
    """A band of a yoke: its rows, and stitches of its repeat; more beside them for whoever works its chart."""
    return {
        "id": band.pattern.id,
        "from_row": band.from_row,
        "rows": band.rows,
        "repeat": band.pattern.multiple,
        "repeats": band.repeats,
        "plus": band.plus,
        "first_stitch": band.first_stitch,
    }


def _in_colours(piece: Piece, row: Row, plan: Plan) -> dict[str, object]:
    """The colours of a row in the order in which they first come; nothing in a garment of one."""
    colours = palette(plan.project, plan.made)
    return {"colours": list(shares_of(piece, row, colours[0].id))} if colours else {}


def _in_pattern(piece: Piece, row: int) -> dict[str, object]:
    """Where a row stands in the pattern, null in edgings, short rows and plain rows; each part between markers."""
    at = piece.pattern.at(row) if piece.pattern else None
    told: dict[str, object] = {"pattern_row": at.row if at else None, "first_stitch": at.first_stitch if at else None}
    found = piece.pattern
    if found is None or row not in found.parts or counts_repeats(piece) or piece.panels:
        return told
    parts = [
        {"part": p.section.name, "stitches": p.stitches, "first_stitch": p.column % found.pattern.multiple + 1}
        for p in found.parts[row]
    ]
    return {**told, "parts": parts}


def _panel(panel: SetPanel) -> dict[str, object]:
    """A panel as it is set on the first row of a piece that is one of its own."""
    return {
        "id": panel.pattern.id,
        "part": panel.part,
        "from_stitch": panel.from_stitch,
        "stitches": panel.stitches,
        "first_row": panel.first_row,
        "rows": panel.repeat_rows,
        "from_row": panel.rows[0][0],
        "to_row": panel.rows[-1][0],
        "extra_stitches": panel.extra,
        "width_cm": _r(panel.across_cm),
    }


def _in_panels(piece: Piece, row: int) -> dict[str, object]:
    """Where a row stands in each panel; nothing in a row without one."""
    found = [{"part": panel.part, "row": at.row, "from_stitch": at.from_stitch} for panel, at in panel_rows(piece, row)]
    return {"panels": found} if found else {}


def _floats(plan: Plan) -> list[dict[str, object]]:
    """The floats that are too long to be left loose, chart by chart."""
    return [
        {"id": pattern.id, "row": one.row, "colour": one.colour, "stitches": one.stitches}
        for pattern, found in floats_of(plan.made, plan.gauge)
        for one in found
    ]


def _event(event: Event) -> dict[str, object]:
    """An event; ``line`` only where it stands at raglan lines, in a panel, or is a short row inside the piece."""
    told: dict[str, object] = {"do": event.do, "where": event.where, "stitches": event.stitches}
    return {**told, "line": event.line} if event.line else told


def _seams(plan: Plan) -> list[dict[str, object]]:
    out = []
    for seam in plan.made.seams:
        row: dict[str, object] = {"a": seam.a, "b": seam.b}
        if seam.a_rows is not None:
            row |= {"a_rows": seam.a_rows, "b_rows": seam.b_rows}
        else:
            row |= {"a_cm": _r(seam.a_cm), "b_cm": _r(seam.b_cm)}
        out.append({**row, "difference_percent": _r(seam.difference_percent)})
    return out


def yarn_data(plan: Plan) -> dict[str, object]:
    """The yarn to buy as plain data; null where it is unknown."""
    need = plan.yarn
    if need is None:
        empty = {"low": None, "likely": None, "high": None}
        return {"metres": empty, "grams": empty, "balls": None, "balls_likely": None, "basis": None, "per_colour": []}

    def three(values: tuple[float, float, float] | None) -> dict[str, float | None]:
        low, likely, high = values or (None, None, None)
        return {"low": _r(low), "likely": _r(likely), "high": _r(high)}

    return {
        "metres": three(need.metres),
        "grams": three(need.grams),
        "balls": need.balls,
        "balls_likely": need.balls_likely,
        "basis": need.basis,
        "garment_metres": three(need.garment_metres),
        "swatch_metres": _r(need.swatch_metres),
        "per_piece_percent": {piece.name: _r(share) for piece, share in need.per_piece},
        "per_colour": [
            {
                "id": c.colour,
                "percent": _r(c.percent),
                "metres": three(c.metres),
                "grams": three(c.grams),
                "balls": c.balls,
                "balls_likely": c.balls_likely,
            }
            for c in need.per_colour
        ],
    }


def _working(working: Calculation) -> dict[str, object]:
    return {
        "key": working.key,
        "label": working.label,
        "formula": working.formula,
        "figures": [{"name": f.name, "value": f.value, "unit": f.unit} for f in working.figures],
        "exact": working.exact,
        "value": working.value,
        "unit": working.unit,
        "rounded_to": working.rounded_to,
        "difference_cm": working.difference_cm,
        "source": working.source,
    }
