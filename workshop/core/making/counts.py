"""From lengths to stitches and rows, and back. Rounded once, from the length.

Gauges are per 10 cm, lengths in cm. The four rules behind this module: a count is never turned back into
a length and on into another count; all key counts of one piece share one parity; edge stitches that a
seam takes stay outside the sums; what rounding cost is always said.
"""

from collections.abc import Sequence
from typing import Literal

from workshop.core.calculation import EVEN, WHOLE, Calculation, Rounding, calculate
from workshop.core.edgings import Fabric, edging
from workshop.core.making.centre_panels import CentrePanel
from workshop.core.making.cloth import Cloth
from workshop.core.sums import GAUGE_CM, Sum, figure
from workshop.project import Edging


def fabric_of(hem: Edging) -> Fabric:
    """The fabric of an edging; no edging is the cloth itself."""
    return edging(hem).fabric


SOURCE = "gauge arithmetic, rounded once; agrees with worked examples of published patterns"

SEAM_STITCHES = 1
"""Edge stitches that one seam takes from each edge of a piece worked flat (common practice, no source)."""


def stitches_of(width: Sum, stitches_per_10cm: float) -> Sum:
    """Stitches of a width in cm: width × stitches per 10 cm ÷ 10."""
    return width * figure("stitches per 10 cm", stitches_per_10cm, "stitches") / GAUGE_CM


def rows_of(length: Sum, rows_per_10cm: float) -> Sum:
    """Rows of a length in cm: length × rows per 10 cm ÷ 10."""
    return length * figure("rows per 10 cm", rows_per_10cm, "rows") / GAUGE_CM


def cm_of(count: float, per_10cm: float, unit: str, name: str = "") -> Sum:
    """Length in cm of so many stitches or rows, which may have a name of their own; the gauge is listed first."""
    gauge = figure(f"{name or unit} per 10 cm", per_10cm, unit)
    return (figure(name or unit, count, unit) / gauge * GAUGE_CM).listing(gauge)


def in_stitches(
    key: str, label: str, stitches: Sum, per_10cm: float, rounding: Rounding = WHOLE, source: str = SOURCE
) -> Calculation:
    """A count of stitches, rounded once; what that cost is told by the gauge."""
    return calculate(key, label, stitches, "stitches", rounding=rounding, per_cm=per_10cm / 10, source=source)


def in_rows(
    key: str, label: str, rows: Sum, per_10cm: float, rounding: Rounding = EVEN, source: str = SOURCE
) -> Calculation:
    """A count of rows. Even by default: work in rows ends after a wrong-side row."""
    return calculate(key, label, rows, "rows", rounding=rounding, per_cm=per_10cm / 10, source=source)


def stitches_for(
    key: str,
    label: str,
    width_cm: float,
    stitches_per_10cm: float,
    rounding: Rounding = WHOLE,
    *,
    width_name: str = "finished width",
) -> Calculation:
    """Visible stitches for a finished width, rounded once."""
    stitches = stitches_of(figure(width_name, width_cm, "cm"), stitches_per_10cm)
    return in_stitches(key, label, stitches, stitches_per_10cm, rounding)


def rows_for(
    key: str,
    label: str,
    length_cm: float,
    rows_per_10cm: float,
    rounding: Rounding = EVEN,
    *,
    length_name: str = "finished length",
) -> Calculation:
    """Rows for a finished length, rounded once."""
    return in_rows(key, label, rows_of(figure(length_name, length_cm, "cm"), rows_per_10cm), rows_per_10cm, rounding)


def width_of(
    key: str,
    label: str,
    stitches: float,
    stitches_per_10cm: float,
    band_cm: float = 0.0,
    panels: Sequence[CentrePanel] = (),
) -> Calculation:
    """Width in cm of so many stitches at a gauge; with the depth of a band that fills the front.

    Stitches that panels stand on are as wide as the panels are, each by its own gauge.
    """
    plain = stitches - sum(p.instead for p in panels)
    width = cm_of(plain, stitches_per_10cm, "stitches", "stitches outside panels" if panels else "")
    for panel in panels:
        width = width + cm_of(panel.stitches, panel.stitches_per_10cm, "stitches", f"{panel.on} panel stitches")
    return calculate(key, label, width + figure("front band", band_cm, "cm") if band_cm else width, "cm", source=SOURCE)


def length_of(key: str, label: str, rows: float, rows_per_10cm: float) -> Calculation:
    """Length in cm of so many rows at a gauge."""
    return calculate(key, label, cm_of(rows, rows_per_10cm, "rows"), "cm", source=SOURCE)


def length_of_both(
    key: str,
    label: str,
    edging_rows: int,
    rows: float,
    cloth: Cloth,
    fabric: Fabric,
    beyond: tuple[str, float] | None = None,
) -> Calculation:
    """Length in cm of a piece that begins with an edging: each fabric by its own rows.

    ``beyond`` is what lies above the rows, by name and in cm: half of a raglan sleeve's top folds over the shoulder.
    """
    if not edging_rows and not beyond:
        return length_of(key, label, rows, cloth.rows_per_10cm)
    length = cm_of(rows, cloth.rows_per_10cm, "rows")
    if edging_rows:
        length = cm_of(edging_rows, cloth.rows_in(fabric), "rows", "edging rows") + length
    if beyond:
        above = figure(*beyond, "cm")
        length = (length + above).listing(above)
    return calculate(key, label, length, "cm", source="gauge arithmetic, each fabric by its own gauge")


def rows_above_edging(key: str, label: str, length_cm: float, edging_cm: float, rows_per_10cm: float) -> Calculation:
    """Rows of the cloth above an edging: (length − edging as knitted) × rows per 10 cm ÷ 10, rounded once.

    ``edging_cm`` is what the edging's rows really come to, so that its rounding does not add to this one.
    """
    if not edging_cm:
        return rows_for(key, label, length_cm, rows_per_10cm)
    above = figure("finished length", length_cm, "cm") - figure("edging as knitted", edging_cm, "cm")
    return in_rows(key, label, rows_of(above, rows_per_10cm), rows_per_10cm)


def edging_rule(hem: Edging, worked_as: Literal["flat", "round"]) -> Rounding:
    """Which stitch counts an edging may have, edge stitches for the seam included.

    In the round a rib closes on itself: a multiple of its repeat. Flat, k2 p2 rib is a multiple of 4 plus
    2, so that it begins and ends with k2 and the seam, which takes one stitch of each edge, leaves k2
    across it; k1 p1 rib is odd, so that both ends mirror. Garter and plain edges take any even number.
    """
    known = edging(hem)
    if not known.rib:
        return Rounding(2)
    return Rounding(known.repeat, 0 if worked_as == "round" else known.knits)


def parity_rule(hem: Edging, worked_as: Literal["flat", "round"]) -> Rounding:
    """Even or odd, whichever the edging below allows: then only a multiple of 4 asks for a transition row."""
    return Rounding(2, edging_rule(hem, worked_as).remainder % 2)


def edging_count(stitches: int, hem: Edging, worked_as: Literal["flat", "round"]) -> int:
    """Stitches of the edging of a piece that has so many: of a rib its nearest legal count, else just as many."""
    return rib_count(stitches, edging_rule(hem, worked_as)) if edging(hem).rib else stitches


def rib_count(stitches: int, rule: Rounding) -> int:
    """The legal edging count nearest to a count; of two equally near the smaller, as ribs draw in anyway."""
    upper = Rounding(rule.multiple, rule.remainder, "up")(stitches)
    lower = Rounding(rule.multiple, rule.remainder, "down")(stitches)
    return upper if upper - stitches < stitches - lower else lower
