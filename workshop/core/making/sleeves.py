"""A sleeve from the cuff up: cuff, increases, plain top."""

from dataclasses import replace
from typing import Literal

from workshop.core.calculation import Calculation, Rounding, calculate
from workshop.core.edgings import Fabric
from workshop.core.making import counts
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Event, Ledger, later, scheduled
from workshop.core.making.roles import SLEEVE, Edge
from workshop.core.making.spacing import gentlest_shaping, over_rows
from workshop.core.notes import Notes
from workshop.core.remarks import Amount, cm
from workshop.core.sums import Sum, figure, larger_of
from workshop.project import Edging
from workshop.records import record

PLAIN_TOP_CM = 3.0
"""Plain stretch between the last increase and the top (printed: 1-2 in; the lower end suits short sleeves)."""


@record
class SleeveWish:
    """A sleeve in washed cm: around the edge, around the top, and how long."""

    edge_cm: float
    top_cm: float
    length_cm: float
    cuff_cm: float
    edging: Edging
    worked: Literal["flat", "round"]
    plain_rows: int = 0
    """Rows at the top that must stay plain: they are sewn to the stitches bound off at a square armhole."""

    @property
    def fabric(self) -> Fabric:
        """The fabric of the cuff."""
        return counts.fabric_of(self.edging)


@record
class SleevePlan:
    """Counts of a sleeve, seam stitches included."""

    cuff: int
    start: int
    top: int
    cuff_rows: int
    shaped_rows: int
    top_rows: int
    event_rows: tuple[int, ...]
    edge: int = 0
    """Seam stitches at each edge."""

    @property
    def rows(self) -> int:
        """All rows from the cast-on to the top."""
        return self.cuff_rows + self.shaped_rows + self.top_rows

    def length_cm(self, cloth: Cloth, fabric: Fabric) -> float:
        """Length from the cast-on to the top, in washed cm."""
        return cloth.along_cm(self.cuff_rows, fabric) + cloth.along_cm(self.rows - self.cuff_rows)

    def finished(self, cloth: Cloth, fabric: Fabric, long: bool, notes: Notes) -> dict[str, float]:
        """Length of the sleeve and width of its edge, in washed cm."""
        above = self.rows - self.cuff_rows
        length = counts.length_of_both("finished.sleeve", "Finished sleeve", self.cuff_rows, above, cloth, fabric)
        part = "wrist" if long else "sleeve_edge"
        label, stitches = f"Finished {part.replace('_', ' ')}", self.cuff - 2 * self.edge
        edge = counts.width_of(f"finished.{part}", label, stitches, cloth.stitches_per_10cm)
        return {"sleeve": notes.record(length).value, part: notes.record(edge).value}


def plan_sleeve(wish: SleeveWish, cloth: Cloth, notes: Notes) -> SleevePlan:
    """Counts and increase rows of a sleeve.

    The cuff takes a count that its rib allows, the top the same parity. Where the increases do not fit, the
    plain top gives up its rows first, then wrong-side rows are used too, and what is still too much is increased
    in the row after the cuff.
    """
    edges = 2 * counts.SEAM_STITCHES if wish.worked == "flat" else 0
    rule = counts.edging_rule(wish.edging, wish.worked)
    parity = Rounding(2, rule.remainder % 2)
    top_working = _stitches("sleeve.top", "Stitches at the top of the sleeve", wish.top_cm, cloth, edges, parity)
    top = notes.record(top_working).count
    edge_cm = min(wish.edge_cm, wish.top_cm)
    if rule(edge_cm * cloth.stitches_per_10cm / 10 + edges) > top:
        rule = replace(rule, direction="down")
    cuff = notes.record(_stitches("sleeve.cuff", "Cuff stitches", edge_cm, cloth, edges, rule)).count
    cuff_rows = _cuff_rows(wish, cloth, notes)
    edging_cm = cloth.along_cm(cuff_rows, wish.fabric)
    plain = counts.rows_above_edging(
        "sleeve.rows", "Sleeve rows above the cuff", wish.length_cm, edging_cm, cloth.rows_per_10cm
    )
    body = max(2, notes.record(plain).count)
    wanted = max(wish.plain_rows, Rounding(2)(PLAIN_TOP_CM * cloth.rows_per_10cm / 10))
    top_rows = min(wanted, max(0, body - 2))
    return _fit_increases(wish, cuff, top, cuff_rows, body, top_rows, notes)


def _stitches(key: str, label: str, width_cm: float, cloth: Cloth, edges: int, rule: Rounding) -> Calculation:
    per_10cm = cloth.stitches_per_10cm
    visible = counts.stitches_of(figure("finished width", width_cm, "cm"), per_10cm)
    return counts.in_stitches(key, label, visible + figure("seam stitches", edges, "stitches"), per_10cm, rule)


def _cuff_rows(wish: SleeveWish, cloth: Cloth, notes: Notes) -> int:
    if wish.edging == "none":
        return 0
    rows = cloth.rows_in(wish.fabric)
    working = counts.rows_for("sleeve.cuff_rows", "Cuff rows", wish.cuff_cm, rows, length_name="depth of the cuff")
    return max(2, notes.record(working).count)


def _fit_increases(
    wish: SleeveWish, cuff: int, top: int, cuff_rows: int, body: int, top_rows: int, notes: Notes
) -> SleevePlan:
    pairs = (top - cuff) // 2
    gentle = body - top_rows if wish.worked == "round" else (body - top_rows) // 2
    if pairs > gentle:
        top_rows = min(top_rows, wish.plain_rows)
    shaped = body - top_rows
    at_once = max(0, pairs - shaped)
    left = pairs - at_once
    in_rounds = wish.worked == "round"
    schedule = over_rows(shaped, left) if in_rounds else gentlest_shaping(shaped, left).schedule
    event_rows = schedule.event_rows
    if at_once and 1 in event_rows:  # what would fall into the row of the others joins them
        at_once, event_rows = at_once + 1, tuple(r for r in event_rows if r != 1)
    edges = counts.SEAM_STITCHES if wish.worked == "flat" else 0
    plan = SleevePlan(cuff, cuff + 2 * at_once, top, cuff_rows, shaped, top_rows, event_rows, edges)
    if at_once:
        widened, extra = Amount(top - cuff, "stitches"), Amount(2 * at_once, "stitches")
        notes.check("sleeve-steep", all=widened, extra=extra, length=cm(wish.length_cm))
    return plan


def knit_sleeve(side: Edge, plan: SleevePlan, wish: SleeveWish) -> Ledger:
    """A sleeve row by row from the cuff to where its top is sewn or joined; the ledger goes on from there."""
    ledger = Ledger(SLEEVE, wish.worked, plan.cuff, side, edge_stitches=plan.edge)
    ledger.work(plan.cuff_rows, wish.fabric)
    at_once = [(1, Event("increase", "across", plan.start - plan.cuff))] if plan.start > plan.cuff else []
    increases = scheduled([*at_once, *((row, Event("increase", "both", 1)) for row in plan.event_rows)])
    ledger.follow(plan.rows - wish.plain_rows, later(increases, plan.cuff_rows))
    return ledger


SHORT_OF_ARM = {"long": 0.0, "elbow": 0.5, "short": 0.75}
"""Part of the arm (armpit to wrist) that a sleeve leaves bare (common practice, no source)."""


def edge_wanted_cm(sleeve: str, wrist_cm: float, arm_cm: float) -> float:
    """Width of the sleeve's edge: of the wrist, of the elbow between wrist and upper arm, or of the upper arm."""
    return wrist_cm if sleeve == "long" else (0.4 * wrist_cm + 0.6 * arm_cm) if sleeve == "elbow" else arm_cm


ABOVE_CUFF_CM = 4.0
"""Least length of a short sleeve above its cuff (common practice, no source)."""


def arm_length(sleeve: str, arm_cm: float, cuff_cm: float, own_cm: float | None, notes: Notes) -> float:
    """Length of a sleeve that begins at the underarm, in cm: the arm less the part left bare."""
    if own_cm is not None:
        return own_cm
    covered = figure("arm", arm_cm, "cm") * (1 - figure("part left bare", SHORT_OF_ARM[sleeve]))
    length, source = larger_of(covered, _least_length(cuff_cm)), "measured from the armpit to the wrist bone"
    return notes.record(calculate("sleeve.length", "Sleeve length", length, "cm", source=source)).value


def _least_length(cuff_cm: float) -> Sum:
    return figure("cuff", cuff_cm, "cm") + figure("least above it", ABOVE_CUFF_CM, "cm")


def dropped_length(
    sleeve: str,
    reach_cm: float,
    width_cm: float,
    arm_cm: float,
    cuff_cm: float,
    own_cm: float | None,
    notes: Notes,
) -> float:
    """Length of a sleeve that begins where the body ends: neck to cuff less half the width of the body there."""
    if own_cm is not None:
        return own_cm
    bare = SHORT_OF_ARM[sleeve]
    length = figure("neck to cuff", reach_cm, "cm") - figure("width of the body", width_cm, "cm") / 2
    if bare:
        left_bare = figure("arm", arm_cm, "cm") * figure("part left bare", bare)
        length = larger_of(length - left_bare, _least_length(cuff_cm))
    source = "a published rule, 80 − 62 ÷ 2 = 49: neck to wrist less half the width of the body"
    return notes.record(calculate("sleeve.length", "Sleeve length", length, "cm", source=source)).value


def check_length(
    length_cm: float, cuff_cm: float, notes: Notes, *, reach_cm: float | None = None, half_cm: float = 0.0
) -> None:
    """Stop at a sleeve with no room for its cuff, which ``half_cm`` of a reach may have left. Raises Stopped."""
    more = cuff_cm + 2 - length_cm
    if more <= 0:
        return
    if reach_cm is None:
        notes.stop("sleeve-too-short", left=cm(length_cm), cuff=cm(cuff_cm), more=cm(more))
    notes.stop("sleeve-too-short.reach", reach=cm(reach_cm), half=cm(half_cm), left=cm(length_cm), more=cm(more))
