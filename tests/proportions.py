"""Whether a garment's proportions would pass an expert: bounds, each with its source, and what lies outside them.

Bounds are for the plan's own figures after rounding to stitches and rows; ``slack_cm`` is what one even count of rows
and one of stitches may add.
"""

from collections.abc import Iterator

from tests.capacity import edge_faults
from tests.factory import piece_of
from workshop.core.garments import Garment
from workshop.core.plan import Plan
from workshop.tables.trade_rules import rule

REACH_CM = (-1.0, 3.5)
"""Half the back, cap and sleeve together, less the reach from centre back to cuff: 2 to 3 cm of slack is normal (common
practice, no source)."""

CAP_OF_DEPTH = (0.50, 0.76)
"""Cap height over armhole depth; 60 to 70 % wherever a cap of that height fits (a rule in print, armhole less half the
top and 1 1/2 in, gives 63 to 65 %; babies' armholes are wider than they are deep; common practice, no source)."""

USUAL_CAPS = 0.85
"""Part of all set-in garments whose caps are within 60 to 70 %."""

SHOULDER_OF_BACK = (0.13, 0.38)
"""A shoulder beside a crew neck, over the width between the armholes (a neck of a third of the back is printed; necks of
children take more of it, for their heads; common practice, no source)."""

HIP_LESS_CM = 2.0
"""What a hem may have less than the hips without a word (common practice, no source)."""


def proportion_faults(now: Plan, made: Garment) -> Iterator[str]:
    """What an expert would send back."""
    yield from edge_faults(made.pieces)
    yield from _reach(now, made)
    yield from _cap(now, made)
    yield from _top_of_cap(now, made)
    yield from _neck(now, made)
    yield from _shoulder(now, made)
    yield from _hem(now, made)


def _within(name: str, value: float, bounds: tuple[float, float]) -> Iterator[str]:
    if not bounds[0] - 1e-9 <= value <= bounds[1] + 1e-9:
        yield f"{name} {value:.2f}, not within {bounds[0]:g} to {bounds[1]:g}"


def _reach(now: Plan, made: Garment) -> Iterator[str]:
    garment, body = now.project.garment, now.wearer.cm("neck_to_cuff")
    if garment.construction != "set-in" or garment.sleeve != "long" or body is None:
        return
    done = made.finished_cm
    yield from _within("reach", done["cross_back"] / 2 + done["cap_height"] + done["sleeve"] - body, REACH_CM)


def _cap(now: Plan, made: Garment) -> Iterator[str]:
    done = made.finished_cm
    if "cap_height" in done:
        yield from _within("cap over armhole", done["cap_height"] / done["armhole_depth"], CAP_OF_DEPTH)


def _top_of_cap(now: Plan, made: Garment) -> Iterator[str]:
    """Bind-offs of about half an inch lead into the straight top of a cap, or it has corners (printed: two to four rows
    of them); not at a gauge where that is a stitch."""
    sleeve = piece_of(made, "left sleeve, cap") or piece_of(made, "left sleeve")
    if "cap_height" not in made.finished_cm or sleeve is None or now.gauge.cloth.stitches_per_10cm < BULKY:
        return
    steps = [e for r in sleeve.rows[-4:] for e in r.events if e.do == "bind-off" and e.stitches > 1]
    if len(steps) < 2:
        yield f"a cap whose sides run straight into its top of {sleeve.bound_off} stitches"


BULKY = 15.0
"""Stitches to 10 cm below which half an inch is one stitch or two."""


def _neck(now: Plan, made: Garment) -> Iterator[str]:
    """A stretched neckband passes the head, or there is a word about it."""
    band, head = piece_of(made, "neckband"), now.wearer.cm("head")
    told = any(c.code == "head-does-not-pass" for c in now.checks)
    if band is None or head is None or now.project.garment.front == "open" or told:
        return
    ribbed = now.project.garment.hem in ("rib-1x1", "rib-2x2")
    stretch = rule("rib_stretch", "rib" if ribbed else "plain")
    around = band.bound_off / now.gauge.stitches.per_10cm * 10
    if around * stretch < head:
        yield f"neck {around:.1f} stretches to {around * stretch:.1f}, head {head:.1f}"


def _shoulder(now: Plan, made: Garment) -> Iterator[str]:
    done = made.finished_cm
    if "shoulder" in done and now.project.garment.neckline == "crew":
        across = done.get("cross_back", done["chest"] / 2)
        yield from _within("shoulder over back", done["shoulder"] / across, SHOULDER_OF_BACK)


def _hem(now: Plan, made: Garment) -> Iterator[str]:
    hip = now.wearer.cm("hip")
    told = {c.code for c in now.checks} & {"hip-less-ease", "hip-wider-than-garment", "hem-above-hips"}
    if hip is not None and made.finished_cm["hip"] < hip - HIP_LESS_CM and not told:
        yield f"hem {made.finished_cm['hip']:.1f}, hips {hip:.1f}, and nothing said"
