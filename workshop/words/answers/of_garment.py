"""What the steps Measure and Shape answer: the garment in figures, and how sure they are."""

from workshop.core.making.ledger import Piece
from workshop.core.making.roles import SHOULDER
from workshop.core.plan import Plan
from workshop.core.remarks import Check
from workshop.core.wearer.body import MEASURES
from workshop.project import Units
from workshop.tables.checks import check_text
from workshop.tables.trade_rules import definition, ease_band
from workshop.tables.yarn_weights import INCH_CM
from workshop.units import (
    difference_shown,
    show_length,
    show_range,
)
from workshop.words.answers.yarn_to_buy import yarn_lines
from workshop.words.before import needles_words, when_to_count
from workshop.words.drawn import neck_stretch
from workshop.words.phrase import Line, check_line, in_terms, rounded_away, worded
from workshop.words.rows.row_actions import all_rows
from workshop.words.texts import texts

# ── measure and shape ────────────────────────────────────────────────────────────────────────────────

FINISHED_NAMES = {
    "hip": "Hem",
    "cross_back": "Between the armholes",
    "cap_height": "Sleeve cap height",
    "sleeve": "Sleeve length",
    "wrist": "Cuff",
    "sleeve_edge": "Cuff",
    "neck": "Around the neck",
}
"""Finished measurements that are not called as they are kept."""


def finished_name(part: str, plan: Plan) -> str:
    """Name of a finished measurement, the same in tables and schematic."""
    if part == "sleeve" and ("cap_height" in plan.finished_cm or "armhole_depth" not in plan.finished_cm):
        return "Sleeve to underarm"
    return FINISHED_NAMES.get(part) or part.replace("_", " ").capitalize()


WHY_EASED = {"upper_arm": ("yoke-arm-ease", "sleeve-top-wide"), "armhole_depth": ("set-in-armhole-ease",)}
"""The checks that say why a measurement has another ease than before the shape was chosen."""


def why_eased(part: str, plan: Plan) -> list[Check]:
    """The check about the ease of a measurement, where the shape has changed that; none where it has not."""
    return [c for c in plan.checks if c.code in WHY_EASED.get(part, ())]


def _whys(part: str, plan: Plan) -> list[Line]:
    """Why alone, at the figure as it was before the shape."""
    return [Line("text", in_terms(check_text(c.code).why, plan.project.terms)) for c in why_eased(part, plan)]


def measure(plan: Plan) -> list[Line]:
    """Finished measurements as body and ease, and what was filled in."""
    project, units = plan.project, plan.project.units
    lines: list[Line] = []
    for part in ("chest", "upper_arm", "wrist", "armhole_depth"):
        size = plan.targets.get(part)
        if size is None:
            continue
        ease = plan.targets.ease.get(part)
        body = plan.wearer.cm(part)
        text = f"{part.replace('_', ' ').capitalize()} {show_length(size, units)}"
        if ease is not None and body is not None:
            ease = difference_shown(size, body, units)
            sign = "+" if ease >= 0 else "−"
            text += f" = the wearer's {show_length(body, units)} {sign} {show_length(abs(ease), units)} of ease"
        lines.append(Line("figure", text, f"target.{part}"))
        lines += _whys(part, plan)
    if lines:
        lines.insert(0, Line("heading", "Finished size, before rounding to whole stitches"))
    if project.fit.ease is not None and "chest" in plan.targets.ease:
        lines.append(_band_line(plan))
    lines += _filled_in(plan)
    if not lines:
        begin = "Enter the measurements"
        if not project.body.source:
            begin = "First say where the measurements come from. Then enter them"
        lines.append(Line("text", f"{begin} one by one. The numbers appear as you type."))
    return lines


def _filled_in(plan: Plan) -> list[Line]:
    """The measures that the knitter did not give, and where they are from."""
    known = plan.wearer.measures
    others = [known[m] for m in MEASURES if m in known and known[m].origin != "own"]
    lines = [Line("heading", "Filled in for you. Take these measurements if you can")] if others else []
    for m in others:
        where = "from the table" if m.origin == "table" else "estimated from the chest"
        told = f"{definition(m.id).name.capitalize()}: {show_length(m.value_cm, plan.project.units)}, {where}"
        lines.append(Line("text", told + (" *" if m.how == "memory" else "")))
    if any(m.how == "memory" for m in others):
        lines.append(Line("text", "* Less certain than a measurement you take yourself, so measure these if you can."))
    return lines


def _band_line(plan: Plan) -> Line:
    assert plan.project.fit.ease is not None
    units = plan.project.units
    low, high = ease_band(plan.project.fit.ease, units=units)
    if low is None:
        band = "your chest measurement or less"
    elif high is None:
        band = f"{low:g} {units} or more on top of your chest measurement"
    else:
        band = f"{low:g} to {high:g} {units} on top of your chest measurement"
    name = plan.project.fit.ease.replace("-", " ")
    return Line("text", f"In the published table (an older edition), '{name}' means {band}.")


SEEN_CM: dict[Units, float] = {"cm": 0.1, "in": INCH_CM / 16}
"""A change by rounding that is worth a line: what a tape shows."""


def shape(plan: Plan) -> list[Line]:
    """Finished measurements with their ranges, yarn, pieces, and what rounding cost."""
    project = plan.project
    if not plan.made.pieces:
        return [Line("text", _why_no_pieces(plan))]
    lines = [Line("heading", "Finished size (likely range)")]
    for part, size in plan.finished_cm.items():
        reach = plan.ranges[part]
        likely = show_range(reach.low, reach.high, project.units, unit=False)
        text = f"{finished_name(part, plan)} {show_length(size, project.units)} ({likely})"
        lines += [Line("figure", text, f"range.{part}"), *(check_line(c, project) for c in why_eased(part, plan))]
    lines += [Line("text", text, "range.chest") for text in budget_lines(plan)]
    lines += [Line("text", text) for text in filter(None, [neck_stretch(plan), needles_words(plan)])]
    to_buy = [line for line in yarn_lines(plan) if line.kind in ("figure", "note")]
    lines += [Line("heading", "Yarn to buy"), *to_buy] if to_buy else []
    lines.append(Line("heading", "Pieces"))
    lines += [_piece(p, plan) for p in plan.made.pieces if p.role is not SHOULDER]
    lines.append(Line("heading", "What rounding to whole stitches changed"))
    for working in plan.workings:
        cost = working.difference_cm
        if cost is None or abs(cost) < SEEN_CM[project.units] or working.key.startswith("swatches"):
            continue
        shown = f"{show_length(abs(cost), project.units)} {rounded_away(working)}"
        told = f"{working.label}: {working.count}, which makes it about {shown} than planned"
        lines.append(Line("text", told, working.key))
    return lines


def _piece(piece: Piece, plan: Plan) -> Line:
    """A piece with its cast-on, its widest count and its rows."""
    cast_on = piece.cast_on and not piece.parent
    joined = any(e.do == "join" for e in piece.rows[0].events) if piece.rows else False
    count = piece.rows[0].after if joined else piece.cast_on or piece.widest
    begin = f"cast on {piece.cast_on} stitches" if cast_on else f"{count} stitches"
    rows = all_rows(piece)
    if any(p.role is SHOULDER for p in plan.made.growing_from(piece)):
        rows += " to the neck split"
    grows = f", {piece.widest} at the widest" if piece.widest > count and piece.cast_on else ""
    return Line("figure", f"{piece.name.capitalize()}: {begin}{grows}; {rows}")


def _why_no_pieces(plan: Plan) -> str:
    if plan.gauge is None:
        return "The plan needs a washed swatch. Wash a swatch, count it, and choose it in the Wash step."
    if "chest" not in plan.targets.finished:
        return "The plan needs the finished measurements. Answer the questions in the Measure step first."
    return "Answer the questions of this step. The pieces appear as you go."


# ── summary ──────────────────────────────────────────────────────────────────────────────────────────


def budget_lines(plan: Plan) -> tuple[str, ...]:
    """How sure the chest is, in plain words, and what would narrow its range."""
    chest, ease, body = plan.ranges.get("chest"), plan.ease.get("chest"), plan.wearer.cm("chest")
    if chest is None:
        return ()
    units = plan.project.units
    likely = show_range(chest.low, chest.high, units)
    lines = [f"Finished chest {show_length(chest.likely, units)}. The chest will measure {likely}, 19 times in 20."]
    if ease is not None and body is not None:
        lines[0] += (
            f" On a chest of {show_length(body, units)}, that gives {show_range(ease.low, ease.high, units)} of ease, "
            "allowing for small errors in measuring the body."
        )
    if chest.counted:
        return tuple(worded(line, plan.project) for line in lines)
    parts = {
        "places": ("uneven knitting", chest.spread),
        "reading": ("reading the ruler", chest.reading),
        "drift": ("your gauge drifting over the weeks", chest.drift),
    }
    if chest.fabric:
        parts["fabric"] = ("a fabric that isn't swatched yet", chest.fabric)
    told = ", ".join(f"{name} {show_length(size, units)}" for name, size in parts.values())
    lines.append(f"Where the range comes from: {told}. Errors rarely all go the same way at once.")
    cheapest = max(parts, key=lambda part: parts[part][1])
    if cheapest == "drift" and plan.gauge is not None and plan.gauge.unwashed_stitches is None:
        cheapest = "drift_washed"
    said = texts("cheapest")[cheapest]
    lines.append(said.replace("{when}", when_to_count(plan)) if "{when}" in said else said)
    return tuple(worded(line, plan.project) for line in lines)
