"""A sleeve from the cuff up: cuff, increases, plain top."""

from dataclasses import dataclass, replace
from typing import Literal

from workshop.core.making.counts import SEAM_STITCHES, Edging, edging_rule, rows_above_edging, rows_for
from workshop.core.making.edges import Cloth
from workshop.core.making.ledger import Event, Fabric, Ledger, Piece
from workshop.core.making.spacing import on_right_side, over_rows
from workshop.core.remarks import Amount, Check, check, cm
from workshop.core.working import Rounding, Working, Workings, worked

PLAIN_TOP_CM = 3.0
"""Plain stretch between the last increase and the top (printed: 1-2 in; the lower end suits short sleeves)."""


@dataclass(frozen=True, slots=True)
class SleeveWish:
    """A sleeve in washed cm: round the edge, round the top, and how long."""

    edge_cm: float
    top_cm: float
    length_cm: float
    cuff_cm: float
    edging: Edging
    fabric: Fabric
    worked: Literal["flat", "round"]


@dataclass(frozen=True, slots=True)
class SleevePlan:
    """Counts of a sleeve, seam stitches included."""

    cuff: int
    start: int
    top: int
    cuff_rows: int
    shaped_rows: int
    top_rows: int
    event_rows: tuple[int, ...]

    @property
    def rows(self) -> int:
        """All rows from the cast-on to the top."""
        return self.cuff_rows + self.shaped_rows + self.top_rows


def plan_sleeve(wish: SleeveWish, cloth: Cloth, workings: Workings) -> tuple[SleevePlan, list[Check]]:
    """Counts and increase rows of a sleeve.

    The cuff takes a count that its rib allows, the top the same parity. Where the increases do not fit, the
    plain top gives up its rows first, then stitches are increased in the row after the cuff.
    """
    edges = 2 * SEAM_STITCHES if wish.worked == "flat" else 0
    rule = edging_rule(wish.edging, wish.worked)
    parity = Rounding(2, rule.remainder % 2)
    top_working = _stitches("sleeve.top", "Stitches at the top of the sleeve", wish.top_cm, cloth, edges, parity)
    top = workings.note(top_working).count
    edge_cm = min(wish.edge_cm, wish.top_cm)
    if rule(edge_cm * cloth.stitches_per_10cm / 10 + edges) > top:
        rule = replace(rule, direction="down")
    cuff = workings.note(_stitches("sleeve.cuff", "Cuff stitches", edge_cm, cloth, edges, rule)).count
    cuff_rows = _cuff_rows(wish, cloth, workings)
    edging_cm = cloth.along_cm(cuff_rows, wish.fabric)
    plain = rows_above_edging(
        "sleeve.rows", "Rows of the sleeve above the cuff", wish.length_cm, edging_cm, cloth.rows_per_10cm
    )
    body = max(2, workings.note(plain).count)
    top_rows = min(Rounding(2)(PLAIN_TOP_CM * cloth.rows_per_10cm / 10), max(0, body - 2))
    return _fit_increases(wish, cuff, top, cuff_rows, body, top_rows)


def _stitches(key: str, label: str, width_cm: float, cloth: Cloth, edges: int, rule: Rounding) -> Working:
    return worked(
        key,
        label,
        "finished width × stitches per 10 cm ÷ 10 + seam stitches",
        {
            "finished width": (width_cm, "cm"),
            "stitches per 10 cm": (cloth.stitches_per_10cm, "stitches"),
            "seam stitches": (edges, "stitches"),
        },
        width_cm * cloth.stitches_per_10cm / 10 + edges,
        "stitches",
        rounding=rule,
        per_cm=cloth.stitches_per_10cm / 10,
        source="gauge arithmetic; agrees with worked examples of published patterns",
    )


def _cuff_rows(wish: SleeveWish, cloth: Cloth, workings: Workings) -> int:
    if wish.edging == "none":
        return 0
    rows = cloth.rows_in(wish.fabric)
    working = rows_for("sleeve.cuff_rows", "Rows of the cuff", wish.cuff_cm, rows, length_name="depth of the cuff")
    return max(2, workings.note(working).count)


def _fit_increases(
    wish: SleeveWish, cuff: int, top: int, cuff_rows: int, body: int, top_rows: int
) -> tuple[SleevePlan, list[Check]]:
    pairs = (top - cuff) // 2
    room = (body - top_rows) if wish.worked == "round" else (body - top_rows) // 2
    if pairs > room:
        top_rows = 0
        room = body if wish.worked == "round" else body // 2
    at_once = max(0, pairs - room)
    shaped = body - top_rows
    left = pairs - at_once
    schedule = over_rows(shaped, left) if wish.worked == "round" else on_right_side(shaped, left)
    plan = SleevePlan(cuff, cuff + 2 * at_once, top, cuff_rows, shaped, top_rows, schedule.event_rows)
    found: list[Check] = []
    if at_once:
        found.append(
            check(
                "sleeve-steep",
                "note",
                "shape",
                "garment.sleeve",
                "The sleeve widens by {all} in only {length}: {extra} of them are increased at once in the row "
                "after the cuff. A wider cuff or a longer sleeve would be gentler.",
                all=Amount(top - cuff, "stitches"),
                extra=Amount(2 * at_once, "stitches"),
                length=cm(wish.length_cm),
            )
        )
    return plan, found


def knit_sleeves(plan: SleevePlan, wish: SleeveWish) -> list[Piece]:
    """Both sleeves, alike."""
    return [_knit_sleeve(name, plan, wish) for name in ("left sleeve", "right sleeve")]


def _knit_sleeve(name: str, plan: SleevePlan, wish: SleeveWish) -> Piece:
    """A sleeve row by row, to the top; the top is bound off."""
    edges = SEAM_STITCHES if wish.worked == "flat" else 0
    ledger = Ledger(name, wish.worked, plan.cuff, edge_stitches=edges)
    ledger.work(plan.cuff_rows, wish.fabric)
    increase = Event("increase", "both", 1)
    events = set(plan.event_rows)
    for row in range(1, plan.shaped_rows + 1):
        here = [Event("increase", "across", plan.start - plan.cuff)] if row == 1 and plan.start > plan.cuff else []
        ledger.shape("stocking", *here, *([increase] if row in events else []))
    ledger.work(plan.top_rows, "stocking")
    return ledger.piece(cuff=plan.cuff, upper_arm=plan.top)
