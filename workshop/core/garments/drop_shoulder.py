"""Drop shoulder: straight to the shoulder, the sleeve sewn to the straight edge.

The armhole is a length marked at the side, not a shape; the sleeve is a trapezium whose top is twice the
armhole depth. Rows are counted from the hem. Common construction; counts by the four rules of
``making.counts``; sleeve length from the middle of the back, published case 80 − 62/2 = 49.
"""

from dataclasses import dataclass

from workshop.core.garments import Brief, Made, Seam, fabric_of
from workshop.core.making import bands
from workshop.core.making.counts import (
    SEAM_STITCHES,
    edging_rule,
    length_of,
    length_of_both,
    parity_rule,
    rib_count,
    rows_above_edging,
    rows_for,
    stitches_for,
    width_of,
)
from workshop.core.making.ledger import Edge, Event, Ledger, Piece
from workshop.core.making.necklines import NeckShaping, crew_back, crew_front
from workshop.core.making.shoulders import divide_at_neck
from workshop.core.making.sleeves import SleevePlan, SleeveWish, knit_sleeves, plan_sleeve
from workshop.core.remarks import Check, check, cm
from workshop.core.working import EVEN, Rounding, Workings, worked

LEAST_SHOULDER_CM = 5.0
"""A shoulder narrower than this (2 in) is a strap (method: failure table)."""

ARM_ROOM_CM = 1.3
"""Half of what an armhole must have over the arm, 1/2 in, to pass it."""


@dataclass(frozen=True, slots=True)
class _Counts:
    """Key counts of front and back, edge stitches included, and the rows at which things happen."""

    panel: int
    hem: int
    neck: int
    rows: int
    hem_rows: int
    underarm_row: int
    front_neck_rows: int
    back_neck_rows: int
    edge: int

    @property
    def shoulder(self) -> int:
        return (self.panel - self.neck) // 2

    @property
    def visible(self) -> int:
        return self.panel - 2 * self.edge

    @property
    def armhole_rows(self) -> int:
        return self.rows - self.underarm_row


def build(brief: Brief, workings: Workings) -> Made:
    """Knit it: all pieces, seams and finished measurements, or checks that say what stops it."""
    counts, checks = _counts(brief, workings)
    if any(c.level == "stop" for c in checks):
        return Made((), (), {}, tuple(checks))
    sleeve, wish, sleeve_checks = _sleeve(brief, workings)
    checks += sleeve_checks
    if any(c.level == "stop" for c in checks):
        return Made((), (), {}, tuple(checks))
    pieces = _body_round(brief, counts) if brief.worked == "round" else _body_flat(brief, counts)
    if sleeve is not None and wish is not None:
        pieces += knit_sleeves(sleeve, wish)
    if brief.neckline == "crew":
        pieces.append(bands.neckband(pieces, brief.cloth, brief.hem, brief.band_cm, workings))
    checks += _head_checks(brief, pieces, counts)
    return Made(
        tuple(pieces),
        tuple(_seams(brief, counts, sleeve)),
        _finished(brief, counts, sleeve, workings),
        tuple(checks),
    )


def _head_checks(brief: Brief, pieces: list[Piece], c: _Counts) -> list[Check]:
    head = brief.wearer.cm("head")
    if head is None:
        return []
    ribbed = brief.neckline == "crew" and brief.hem in ("rib-1x1", "rib-2x2")
    stitches = 2 * c.neck if brief.neckline == "boat" else pieces[-1].key_counts["neck"]
    found = bands.head_check(brief.cloth.across_cm(stitches), ribbed, head)
    return [found] if found else []


def _counts(brief: Brief, workings: Workings) -> tuple[_Counts, list[Check]]:
    cloth, want = brief.cloth, brief.wanted.finished
    panel, edge = _panel(brief, workings)
    hem = rib_count(panel, edging_rule(brief.hem, "flat"))
    if brief.worked == "round":
        hem = rib_count(2 * panel, edging_rule(brief.hem, "round"))
    neck = workings.note(
        stitches_for(
            "neck.stitches",
            "Stitches of the neck opening",
            want["neck_width"],
            cloth.stitches_per_10cm,
            Rounding(2, panel % 2),
            width_name="neck width",
        )
    ).count
    hem_rows = 0
    if brief.hem != "none":
        per_10cm = cloth.rows_in(fabric_of(brief.hem))
        hem_working = rows_for(
            "body.hem_rows", "Rows of the hem", brief.hem_cm, per_10cm, length_name="depth of the hem"
        )
        hem_rows = max(2, workings.note(hem_working).count)
    plain = rows_above_edging(
        "body.rows",
        "Rows from the hem to the shoulder",
        want["length"],
        cloth.along_cm(hem_rows, fabric_of(brief.hem)),
        cloth.rows_per_10cm,
    )
    rows = hem_rows + workings.note(plain).count
    armhole = workings.note(
        rows_for(
            "body.armhole_rows",
            "Rows of the armhole",
            want["armhole_depth"],
            cloth.rows_per_10cm,
            length_name="armhole depth",
        )
    ).count
    front_neck, back_neck = _neck_rows(brief, workings)
    counts = _Counts(panel, hem, neck, rows, hem_rows, rows - armhole, front_neck, back_neck, edge)
    return counts, _room_checks(brief, counts)


def _panel(brief: Brief, workings: Workings) -> tuple[int, int]:
    """Stitches of front and of back, with edge stitches, and how many of those there are at each edge."""
    cloth, chest = brief.cloth, brief.wanted.finished["chest"]
    if brief.worked == "round":
        whole = workings.note(
            stitches_for(
                "body.stitches",
                "Stitches round the body",
                chest,
                cloth.stitches_per_10cm,
                EVEN,
                width_name="finished chest",
            )
        ).count
        return whole // 2, 0
    rule = parity_rule(brief.hem, "flat")
    visible = workings.note(
        worked(
            "body.stitches",
            "Stitches across front and back, without the edge stitches",
            "finished chest ÷ 2 × stitches per 10 cm ÷ 10",
            {"finished chest": (chest, "cm"), "stitches per 10 cm": (cloth.stitches_per_10cm, "stitches")},
            chest / 2 * cloth.stitches_per_10cm / 10,
            "stitches",
            rounding=rule,
            per_cm=cloth.stitches_per_10cm / 10,
            source="gauge arithmetic; agrees with worked examples of published patterns",
        )
    ).count
    return visible + 2 * SEAM_STITCHES, SEAM_STITCHES


def _neck_rows(brief: Brief, workings: Workings) -> tuple[int, int]:
    if brief.neckline == "boat":
        return 0, 0
    want, per_10cm = brief.wanted.finished, brief.cloth.rows_per_10cm
    front = workings.note(
        rows_for(
            "front.neck_rows",
            "Rows of the front neck",
            want["front_neck_depth"],
            per_10cm,
            length_name="front neck depth",
        )
    ).count
    back = workings.note(
        rows_for(
            "back.neck_rows", "Rows of the back neck", want["back_neck_drop"], per_10cm, length_name="back neck drop"
        )
    ).count
    back = max(2, back)
    return max(front, back + 2), back


def _room_checks(brief: Brief, c: _Counts) -> list[Check]:
    """What cannot be knitted, or would not be worn."""
    found = []
    cloth, want = brief.cloth, brief.wanted.finished
    if c.underarm_row < c.hem_rows + 2 or c.front_neck_rows > c.rows - c.hem_rows - 2:
        found.append(
            check(
                "body-too-short",
                "stop",
                "shape",
                "garment.length_cm",
                "A length of {length} leaves no room between a hem of {hem} and an armhole of {armhole}. "
                "Make it longer, or the hem or the armhole smaller.",
                length=cm(want["length"]),
                hem=cm(brief.hem_cm),
                armhole=cm(want["armhole_depth"]),
            )
        )
    if brief.worked == "round" and c.front_neck_rows > c.armhole_rows - 2:
        found.append(
            check(
                "neck-below-underarm",
                "stop",
                "shape",
                "garment.neck_depth_cm",
                "A front neck of {neck} reaches below the underarm, {armhole} down, where the body is still in "
                "the round. Make the neck shallower, or work flat.",
                neck=cm(want["front_neck_depth"]),
                armhole=cm(want["armhole_depth"]),
            )
        )
    shoulder_cm = cloth.across_cm(c.shoulder)
    if c.shoulder < 2:
        found.append(
            check(
                "no-shoulder",
                "stop",
                "shape",
                "garment.neck_width_cm",
                "A neck of {neck} leaves no shoulder on a front of {front}. Make the neck narrower or the chest wider.",
                neck=cm(want["neck_width"]),
                front=cm(cloth.across_cm(c.visible)),
            )
        )
    elif shoulder_cm < LEAST_SHOULDER_CM and not brief.wearer.child:
        found.append(
            check(
                "shoulder-narrow",
                "look",
                "shape",
                "garment.neck_width_cm",
                "The shoulders are only {shoulder} wide: a narrower neck, or more ease at the chest, holds better.",
                f"{shoulder_cm:.1f}",
                shoulder=cm(shoulder_cm),
            )
        )
    arm = brief.wearer.cm("upper_arm")
    if brief.sleeve != "none" and arm is not None and want["armhole_depth"] < arm / 2 + ARM_ROOM_CM:
        found.append(
            check(
                "armhole-tight",
                "look",
                "shape",
                "body.armhole_depth_cm",
                "An armhole {depth} deep is {round} round: too little to pass an upper arm of {arm} with ease.",
                f"{want['armhole_depth']:.1f}/{arm:g}",
                depth=cm(want["armhole_depth"]),
                round=cm(2 * want["armhole_depth"]),
                arm=cm(arm),
            )
        )
    return found


def _hem(ledger: Ledger, brief: Brief, counts: _Counts, stitches: int) -> None:
    """Hem, and in the first row after it the stitches that rib and cloth differ by."""
    ledger.work(counts.hem_rows, fabric_of(brief.hem))
    difference = stitches - ledger.stitches
    if difference:
        do = "increase" if difference > 0 else "decrease"
        ledger.shape("stocking", Event(do, "across", abs(difference)))  # type: ignore[arg-type]


def _body_flat(brief: Brief, c: _Counts) -> list[Piece]:
    pieces: list[Piece] = []
    for name, begins in _PANELS:
        ledger = Ledger(name, "flat", c.hem, begins=begins, edge_stitches=c.edge)
        _hem(ledger, brief, c, c.panel)
        ledger.work(c.underarm_row - (ledger.next_row - 1), "stocking")
        ledger.mark("underarm")
        pieces += _upper(brief, c, ledger)
    return pieces


_PANELS: tuple[tuple[str, Edge], ...] = (("back", "right"), ("front", "left"))


def _body_round(brief: Brief, c: _Counts) -> list[Piece]:
    body = Ledger("body", "round", c.hem)
    _hem(body, brief, c, 2 * c.panel)
    body.work(c.underarm_row - len(body.rows), "stocking")
    body.mark("divide")
    pieces = [body.piece(chest=2 * c.panel, hem=c.hem)]
    for name, begins in _PANELS:
        ledger = Ledger(name, "flat", c.panel, came_from="body", begins=begins, first_row=c.underarm_row + 1)
        pieces += _upper(brief, c, ledger)
    return pieces


def _upper(brief: Brief, c: _Counts, ledger: Ledger) -> list[Piece]:
    """From the underarm to the shoulder: neck and shoulders."""
    keys = {"chest": c.panel, "hem": c.hem, "neck": c.neck, "shoulder": c.shoulder}
    if brief.neckline == "boat":
        band = min(EVEN(brief.band_cm * brief.cloth.rows_per_10cm / 10), c.armhole_rows - 2)
        ledger.work(c.rows - (ledger.next_row - 1) - band, "stocking")
        ledger.work(band, "garter")
        return [ledger.piece(**keys)]
    rows = c.front_neck_rows if ledger.name == "front" else c.back_neck_rows
    shaping = _shaping(ledger.name, c.neck, rows)
    ledger.work(c.rows - (ledger.next_row - 1) - rows, "stocking")
    return divide_at_neck(ledger, shaping, rows, keys)


def _shaping(name: str, neck: int, rows: int) -> NeckShaping:
    steps = max(0, rows // 2 - 1)
    return crew_front(neck, steps) if name == "front" else crew_back(neck, steps)


def _sleeve(brief: Brief, workings: Workings) -> tuple[SleevePlan | None, SleeveWish | None, list[Check]]:
    if brief.sleeve == "none":
        return None, None, []
    want = brief.wanted.finished
    length = _sleeve_length(brief, workings)
    if length < brief.cuff_cm + 2:
        text = (
            "A sleeve of {left} has no room for a cuff of {cuff}. Make the sleeve longer or the cuff shorter."
            if brief.sleeve_cm is not None
            else "From the middle of the back to the cuff is {reach}; half the width of the garment takes {half} of it "
            "and leaves {left} for the sleeve. Choose less ease, or give the sleeve's length."
        )
        stop = check(
            "sleeve-too-short",
            "stop",
            "shape",
            "garment.sleeve_cm",
            text,
            reach=cm(want.get("neck_to_cuff", length)),
            cuff=cm(brief.cuff_cm),
            half=cm(want["chest"] / 4),
            left=cm(length),
        )
        return None, None, [stop]
    wish = SleeveWish(
        edge_cm=want["wrist"] if brief.sleeve == "long" else want["upper_arm"],
        top_cm=2 * want["armhole_depth"],
        length_cm=length,
        cuff_cm=brief.cuff_cm,
        edging=brief.hem,
        fabric=fabric_of(brief.hem),
        worked=brief.worked,
    )
    plan, found = plan_sleeve(wish, brief.cloth, workings)
    return plan, wish, found


SHORT_OF_ARM = {"long": 0.0, "elbow": 0.5, "short": 0.75}
"""Part of the arm (armpit to wrist) that a sleeve leaves bare (common practice, no source)."""


def _sleeve_length(brief: Brief, workings: Workings) -> float:
    if brief.sleeve_cm is not None:
        return brief.sleeve_cm
    want = brief.wanted.finished
    bare = SHORT_OF_ARM[brief.sleeve]
    arm = brief.wearer.cm("sleeve_underarm") or 0.6 * want["neck_to_cuff"]
    return workings.note(
        worked(
            "sleeve.length",
            "Length of the sleeve",
            "neck to cuff − finished chest ÷ 4 − arm × part left bare",
            {
                "neck to cuff": (want["neck_to_cuff"], "cm"),
                "finished chest": (want["chest"], "cm"),
                "arm": (arm, "cm"),
                "part left bare": (bare, ""),
            },
            want["neck_to_cuff"] - want["chest"] / 4 - arm * bare,
            "cm",
            source="neck to wrist less half the width of the body, as designers teach it (read once: 80 − 62 ÷ 2 = 49)",
        )
    ).value


def _seams(brief: Brief, c: _Counts, sleeve: SleevePlan | None) -> list[Seam]:
    cloth = brief.cloth
    width = cloth.across_cm(c.shoulder - c.edge)
    seams = [
        Seam(f"front, {side} shoulder", f"back, {side} shoulder", a_cm=width, b_cm=width) for side in ("left", "right")
    ]
    if brief.worked == "flat":
        for side in ("left", "right"):
            seams.append(
                Seam(f"front, {side} side", f"back, {side} side", a_rows=c.underarm_row, b_rows=c.underarm_row)
            )
    if sleeve is not None:
        top = cloth.across_cm(sleeve.top - 2 * c.edge)
        armhole = 2 * cloth.along_cm(c.armhole_rows)
        for side in ("left", "right"):
            seams.append(Seam(f"{side} sleeve, top", f"{side} armhole, front and back", a_cm=top, b_cm=armhole))
            if brief.worked == "flat":
                name = f"{side} sleeve"
                seams.append(Seam(f"{name}, front edge", f"{name}, back edge", a_rows=sleeve.rows, b_rows=sleeve.rows))
    return seams


def _finished(brief: Brief, c: _Counts, sleeve: SleevePlan | None, workings: Workings) -> dict[str, float]:
    """Measurements of the garment as the counts make it, each with its working."""
    cloth, hem = brief.cloth, fabric_of(brief.hem)
    across = {"chest": 2 * c.visible, "hip": 2 * c.visible, "neck_width": c.neck, "shoulder": c.shoulder - c.edge}
    along = {"armhole_depth": c.armhole_rows}
    if brief.neckline != "boat":
        along |= {"front_neck_depth": c.front_neck_rows, "back_neck_drop": c.back_neck_rows}
    finished = {
        "length": workings.note(
            length_of_both("finished.length", "Finished length", c.hem_rows, c.rows - c.hem_rows, cloth, hem)
        ).value
    }
    if sleeve is not None:
        across["upper_arm"] = sleeve.top - 2 * c.edge
        across["wrist" if brief.sleeve == "long" else "sleeve_edge"] = sleeve.cuff - 2 * c.edge
        above = sleeve.rows - sleeve.cuff_rows
        working = length_of_both("finished.sleeve", "Finished sleeve", sleeve.cuff_rows, above, cloth, hem)
        finished["sleeve"] = workings.note(working).value
    for part, stitches in across.items():
        label = f"Finished {part.replace('_', ' ')}"
        finished[part] = workings.note(width_of(f"finished.{part}", label, stitches, cloth.stitches_per_10cm)).value
    for part, rows in along.items():
        label = f"Finished {part.replace('_', ' ')}"
        finished[part] = workings.note(length_of(f"finished.{part}", label, rows, cloth.rows_per_10cm)).value
    return {part: finished[part] for part in ORDER if part in finished}


ORDER = (
    "chest", "hip", "length", "armhole_depth", "upper_arm", "sleeve", "wrist", "sleeve_edge", "neck_width",
    "front_neck_depth", "back_neck_drop", "shoulder",
)  # fmt: skip
"""Finished measurements in the order in which they are shown."""
