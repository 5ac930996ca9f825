"""Whether the yarn lasts, in words, and what can be done where it may not."""

from workshop.core.edgings import GARTER, STOCKINETTE, of_fabric
from workshop.core.knitting.needles import Needles, PieceStanding
from workshop.core.knitting.weighings import added_g, begins_anew, in_swatches_g, labels_g
from workshop.core.knitting.yarn_left import YarnLeft
from workshop.core.making.roles import SLEEVE, YOKES
from workshop.core.making.sleeves import SHORT_OF_ARM
from workshop.core.plan import Plan
from workshop.tables.trade_rules import rule
from workshop.units import lengths_in, show_length
from workshop.words.phrase import in_terms

VERDICTS = {
    "enough": "The yarn will last",
    "probably": "The yarn will probably last",
    "open": "The yarn may or may not last",
    "short": "You'll probably run short of yarn",
}


def yarn_lines(needles: Needles, plan: Plan) -> tuple[str, ...]:
    """Whether the yarn lasts, and what may be done where it may not."""
    left = needles.yarn
    if left is None:
        return ()
    low, likely, high = left.needed_g
    since = left.done != sum(p.stitches_knitted for p in needles.pieces)
    if needles.at_hand is None:
        ends = f"{left.left_g:.0f} g left. Seams and ends take about {likely:.0f} g ({low:.0f} to {high:.0f})."
        return () if since else (ends,)
    knitted = sum(p.stitches_knitted for p in needles.pieces) - left.done
    if left.left_g and knitted * left.used_g / left.done > left.left_g:  # of another ball
        told = f"You've knitted more since you weighed {left.left_g:.0f} g than those would do."
        return (f"{told} Weigh all the yarn that's left to hear if it lasts.",)
    when = " when you weighed it" if since else ""
    needed = f"about {likely:.0f} g needed ({low:.0f} to {high:.0f})"
    first = f"{VERDICTS[left.verdict]}: {left.left_g:.0f} g left{when}, {needed}."
    if needles.yarn_basis == "labels" and (start := labels_g(plan)):
        swatches = in_swatches_g(plan)
        less = f", less {swatches:.0f} g in the swatches" if swatches else ""
        first += f" This estimate goes by the ball bands: {start:.0f} g at the start{less}."
        first += " For a better one, weigh the piece."
    first += _of_new_balls(left, plan)
    if left.verdict in ("enough", "probably"):
        return (first,)
    _, short, most = left.short_g
    missing = f"You're about {short:.0f} g short, and at most {most:.0f} g." if short >= 1 else ""
    return tuple(filter(None, (first, missing, *short_ways(needles, plan))))


def _of_new_balls(left: YarnLeft, plan: Plan) -> str:
    """What balls that were added mean for the weighing; empty without."""
    if added_g(plan):
        return " You've added balls since then. Weigh all the yarn again to count them too."
    if begins_anew(plan):
        return f" You've added balls. The next weighing will be compared with these {left.left_g:.0f} g."
    return ""


LEAST_SHORTER_CM = 0.5
"""Less than this is not worth saying."""

MOST_SHORTER_CM = 12.0
"""Sleeves or body that would have to be shorter than this are another garment (common practice, no source)."""


def short_ways(needles: Needles, plan: Plan) -> tuple[str, ...]:
    """What can be done where the yarn is short, each with the grams it saves."""
    left = needles.yarn
    assert left is not None
    per_stitch = left.used_g / left.done
    said: list[str] = []
    to_come = [p for p in needles.pieces if not p.finished]
    sleeves = [p for p in to_come if p.piece.role.word == "sleeve"]
    panels = [p for p in to_come if p.piece.role.drawn in ("panel", "whole") and p.piece.role not in YOKES]
    for what, pieces in (("Sleeves", sleeves), ("A body", panels)):
        said += _shorter(what, pieces, per_stitch, left.short_g[1], plan)
    said += _elbow(needles, plan, per_stitch)
    if sleeves and any(not p.rows_knitted for p in panels):
        said.append(
            "Knit the sleeves before the last piece of the body. Then only its length depends on the yarn left."
        )
    said += _edgings(to_come, per_stitch)
    said.append("If you add another dye lot, alternate the balls every two rows for {6 cm}, so that no line shows.")
    return tuple(lengths_in(in_terms(text, plan.project.terms), plan.project.units) for text in said)


def _shorter(what: str, pieces: list[PieceStanding], per_stitch: float, short_g: float, plan: Plan) -> list[str]:
    """What it saves to make pieces shorter, and by how much they would make up for what is missing."""
    if not pieces or plan.gauge is None:
        return []
    units = plan.project.units
    row = sum(p.piece.stitches_worked / len(p.piece.rows) for p in pieces)  # what goes is of middling width
    per_cm = row * plan.gauge.rows.per_10cm / 10 * per_stitch
    left_cm = min(_rows_left(p) for p in pieces) / plan.gauge.rows.per_10cm * 10
    enough_cm, least_cm = short_g / per_cm, min(2.0, left_cm)
    if least_cm < LEAST_SHORTER_CM:
        return []
    if 0 < enough_cm <= min(MOST_SHORTER_CM, left_cm):
        return [f"{what} {show_length(enough_cm, units)} shorter would save enough yarn."]
    return [f"{what} {show_length(least_cm, units)} shorter would save about {least_cm * per_cm:.0f} g."]


def _rows_left(standing: PieceStanding) -> int:
    """Plain rows still to come of a piece, which it could do without."""
    rows = standing.piece.rows[standing.rows_knitted :]
    return sum(r.fabric == STOCKINETTE and not r.events for r in rows)


def _elbow(needles: Needles, plan: Plan, per_stitch: float) -> list[str]:
    """What sleeves to the elbow save, where they are to be long and it is not too late."""
    left, arm_cm = needles.yarn, plan.wearer.cm("sleeve_underarm")
    sleeves = [p for p in needles.pieces if p.piece.role is SLEEVE]
    if plan.project.garment.sleeve != "long" or left is None or arm_cm is None or plan.gauge is None or not sleeves:
        return []
    rows, stitches = round(SHORT_OF_ARM["elbow"] * arm_cm * plan.gauge.rows.per_10cm / 10), 0
    for sleeve in sleeves:
        from_cuff = [r for r in sleeve.piece.rows if r.fabric == STOCKINETTE]
        if sleeve.piece.parent is None and sleeve.rows_knitted:
            return []  # its cuff is for the wrist
        if sleeve.piece.parent is not None:  # from the underarm down: what is left out lies at its end
            from_cuff.reverse()
            if sleeve.rows_knitted > len(from_cuff) - rows:
                return []
        left_out = [max(r.before, r.after) for r in from_cuff[:rows]]
        wider_cuff = (left_out[-1] - left_out[0]) * (len(sleeve.piece.rows) - len(from_cuff)) if left_out else 0
        stitches += sum(left_out) - wider_cuff
    saved = stitches * per_stitch * (1 + rule("seams_and_ends"))
    enough = ", which is enough" if saved >= left.short_g[1] else ""
    return [f"Sleeves to the elbow would save about {saved:.0f} g{enough}."]


def _edgings(to_come: list[PieceStanding], per_stitch: float) -> list[str]:
    """What it saves to knit the edgings that are still to come in another yarn."""
    bands = [p for p in to_come if p.piece.role.band and not p.rows_knitted]
    others = [p for p in to_come if not p.piece.role.band]
    rows = [r for p in others for r in p.piece.rows[p.rows_knitted :] if of_fabric(r.fabric).rib or r.fabric == GARTER]
    of_bands = sum(p.piece.stitches_worked for p in bands) * per_stitch
    of_edges = sum(max(r.before, r.after) for r in rows) * per_stitch
    if of_edges >= 1:
        what = "Bands, hem and cuffs" if bands else "Hem and cuffs"
        return [f"{what} in another yarn would save about {of_bands + of_edges:.0f} g."]
    return [f"Bands in another yarn would save about {of_bands:.0f} g."] if bands else []
