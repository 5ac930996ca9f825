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

from workshop.core.calculation import Calculation
from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.edgings import KNOWN_AS
from workshop.core.fabric.at_edges import counts_repeats
from workshop.core.fabric.colours import floats_of, palette, shares_of
from workshop.core.fabric.patterns import SetBand, SetPanel, SetPattern
from workshop.core.making.centre_panels import panel_rows, width_cm
from workshop.core.making.ledger import Event, Piece, Row
from workshop.core.making.roles import SLEEVE
from workshop.core.plan import Plan
from workshop.core.plan_mark import plan_mark
from workshop.prints.as_json import json_text, low_to_high, rounded
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
        "body_cm": {m.id: rounded(m.value_cm) for m in plan.wearer.measures.values()},
        "body_origin": {m.id: {"origin": m.origin, "how": m.how} for m in plan.wearer.measures.values()},
        "ease_cm": {k: rounded(v) for k, v in plan.targets.ease.items()},
        "wanted_cm": {k: rounded(v) for k, v in plan.targets.finished.items()},
        "finished_cm": {k: rounded(v) for k, v in plan.finished_cm.items()},
        "finished_range_cm": {k: [rounded(v.low), rounded(v.high)] for k, v in plan.ranges.items()},
        "finished_ease_cm": {k: low_to_high((v.low, v.likely, v.high)) for k, v in plan.ease.items()},
        "doubt_cm": {
            k: {
                "places": rounded(v.spread),
                "reading": rounded(v.reading),
                "drift": rounded(v.drift),
                **({"fabric": rounded(v.fabric)} if v.fabric else {}),
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
    return json_text(data)


def _in_cm(project: Project) -> Project:
    """The same project, shown in cm: programs read one unit."""
    from dataclasses import replace

    return replace(project, units="cm", needle_names="mm")


def _gauge(plan: Plan) -> dict[str, object]:
    g = plan.gauge
    stitches, rows = (g.unwashed_stitches, g.unwashed_rows) if g else (None, None)
    return {
        "swatch": g.swatch.id if g else plan.project.design.swatch,
        "state": g.state if g else plan.project.design.state,
        "stitches_per_10cm": rounded(g.stitches.per_10cm) if g else None,
        "rows_per_10cm": rounded(g.rows.per_10cm) if g else None,
        "stitches_u95_percent": rounded(g.stitches.u95_percent) if g else None,
        "rows_u95_percent": rounded(g.rows.u95_percent) if g else None,
        "unwashed_stitches_per_10cm": rounded(stitches.per_10cm) if stitches else None,
        "unwashed_rows_per_10cm": rounded(rows.per_10cm) if rows else None,
        "unwashed_stitches_u95_percent": rounded(stitches.u95_percent) if stitches else None,
        "unwashed_rows_u95_percent": rounded(rows.u95_percent) if rows else None,
    }


def _wash(plan: Plan) -> dict[str, object]:
    width = plan.gauge.width if plan.gauge else None
    length = plan.gauge.length if plan.gauge else None
    return {
        "width_change_percent": rounded(width.percent) if width else None,
        "length_change_percent": rounded(length.percent) if length else None,
        "width_u95_percent": rounded(width.u95_percent) if width else None,
        "length_u95_percent": rounded(length.u95_percent) if length else None,
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
    stitches, rows = known.gauges.get((state, "stitches")), known.gauges.get((state, "rows"))
    return {
        "stitches_per_10cm": rounded(stitches.per_10cm) if stitches else None,
        "rows_per_10cm": rounded(rows.per_10cm) if rows else None,
        "stitches_u95_percent": rounded(stitches.u95_percent) if stitches else None,
        "rows_u95_percent": rounded(rows.u95_percent) if rows else None,
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
        "width_cm": rounded(width_cm(piece, gauge.cloth)),
        "length_cm": rounded(gauge.cloth.rows_cm(rows)),
        "as_knit_length_cm": rounded(gauge.as_knit_of(rows)),
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
        "first_stitch": _first_stitch(found, found.rows[0][0]),
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


def _first_stitch(found: SetPattern, row: int) -> int:
    """That of its first part, where markers divide a row; one that joins body and sleeves leaves stitches before it."""
    at, parts = found.at(row), found.parts.get(row)
    assert at is not None
    return parts[0].column % found.pattern.multiple + 1 if parts else at.first_stitch


def _in_pattern(piece: Piece, row: int) -> dict[str, object]:
    """Where a row stands in the pattern, null in edgings, short rows and plain rows; each part between markers."""
    at = piece.pattern.at(row) if piece.pattern else None
    found = piece.pattern
    first = _first_stitch(found, row) if found and at else None
    told: dict[str, object] = {"pattern_row": at.row if at else None, "first_stitch": first}
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
        "width_cm": rounded(panel.across_cm),
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
            row |= {"a_cm": rounded(seam.a_cm), "b_cm": rounded(seam.b_cm)}
        out.append({**row, "difference_percent": rounded(seam.difference_percent)})
    return out


NO_AMOUNT = {"low": None, "likely": None, "high": None}


def yarn_data(plan: Plan) -> dict[str, object]:
    """The yarn to buy as plain data; null where it is unknown."""
    need = plan.yarn
    if need is None:
        amounts: dict[str, object] = {"metres": NO_AMOUNT, "grams": NO_AMOUNT}
        return {**amounts, "balls": None, "balls_likely": None, "basis": None, "per_colour": []}
    return {
        "metres": low_to_high(need.metres) or NO_AMOUNT,
        "grams": low_to_high(need.grams) or NO_AMOUNT,
        "balls": need.balls,
        "balls_likely": need.balls_likely,
        "basis": need.basis,
        "garment_metres": low_to_high(need.garment_metres),
        "swatch_metres": rounded(need.swatch_metres),
        "per_piece_percent": {piece.name: rounded(share) for piece, share in need.per_piece},
        "per_colour": [
            {
                "id": c.colour,
                "percent": rounded(c.percent),
                "metres": low_to_high(c.metres) or NO_AMOUNT,
                "grams": low_to_high(c.grams) or NO_AMOUNT,
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
