"""From lengths to stitches and rows, and back. Rounded once, from the length.

Gauges are per 10 cm, lengths in cm. The four rules behind this module: a count is never turned back into
a length and on into another count; all key counts of one piece share one parity; edge stitches that a
seam takes stay outside the sums; what rounding cost is always said.
"""

from typing import Literal

from workshop.core.making.edges import Cloth
from workshop.core.making.ledger import Fabric
from workshop.core.working import EVEN, WHOLE, Rounding, Working, worked

Edging = Literal["rib-1x1", "rib-2x2", "garter", "none"]

SOURCE = "gauge arithmetic, rounded once; agrees with worked examples of published patterns"

SEAM_STITCHES = 1
"""Edge stitches that one seam takes from each edge of a piece worked flat (common practice, no source)."""


def stitches_for(
    key: str,
    label: str,
    width_cm: float,
    stitches_per_10cm: float,
    rounding: Rounding = WHOLE,
    *,
    width_name: str = "finished width",
) -> Working:
    """Visible stitches for a finished width: width × stitches per 10 cm ÷ 10, rounded once."""
    return worked(
        key,
        label,
        f"{width_name} × stitches per 10 cm ÷ 10",
        {width_name: (width_cm, "cm"), "stitches per 10 cm": (stitches_per_10cm, "stitches")},
        width_cm * stitches_per_10cm / 10,
        "stitches",
        rounding=rounding,
        per_cm=stitches_per_10cm / 10,
        source=SOURCE,
    )


def rows_for(
    key: str,
    label: str,
    length_cm: float,
    rows_per_10cm: float,
    rounding: Rounding = EVEN,
    *,
    length_name: str = "finished length",
) -> Working:
    """Rows for a finished length. Even by default: work in rows ends after a wrong-side row."""
    return worked(
        key,
        label,
        f"{length_name} × rows per 10 cm ÷ 10",
        {length_name: (length_cm, "cm"), "rows per 10 cm": (rows_per_10cm, "rows")},
        length_cm * rows_per_10cm / 10,
        "rows",
        rounding=rounding,
        per_cm=rows_per_10cm / 10,
        source=SOURCE,
    )


def width_of(key: str, label: str, stitches: float, stitches_per_10cm: float, band_cm: float = 0.0) -> Working:
    """Width in cm of so many stitches at a gauge; with the depth of a band that fills the front."""
    if band_cm:
        return worked(
            key,
            label,
            "stitches ÷ stitches per 10 cm × 10 + front band",
            {
                "stitches per 10 cm": (stitches_per_10cm, "stitches"),
                "stitches": (stitches, "stitches"),
                "front band": (band_cm, "cm"),
            },
            stitches / stitches_per_10cm * 10 + band_cm,
            "cm",
            source=SOURCE,
        )
    return worked(
        key,
        label,
        "stitches ÷ stitches per 10 cm × 10",
        {"stitches per 10 cm": (stitches_per_10cm, "stitches"), "stitches": (stitches, "stitches")},
        stitches / stitches_per_10cm * 10,
        "cm",
        source=SOURCE,
    )


def length_of(key: str, label: str, rows: int, rows_per_10cm: float) -> Working:
    """Length in cm of so many rows at a gauge."""
    return worked(
        key,
        label,
        "rows ÷ rows per 10 cm × 10",
        {"rows per 10 cm": (rows_per_10cm, "rows"), "rows": (rows, "rows")},
        rows / rows_per_10cm * 10,
        "cm",
        source=SOURCE,
    )


def length_of_both(
    key: str,
    label: str,
    edging_rows: int,
    rows: int,
    cloth: Cloth,
    fabric: Fabric,
    beyond: tuple[str, float] | None = None,
) -> Working:
    """Length in cm of a piece that begins with an edging: each fabric by its own rows.

    ``beyond`` is what lies above the rows, by name and in cm: half of a raglan sleeve's top folds over the shoulder.
    """
    if not edging_rows and not beyond:
        return length_of(key, label, rows, cloth.rows_per_10cm)
    name, more = beyond or ("", 0.0)
    fold = f" + {name}" if beyond else ""
    edging: dict[str, tuple[float, str]] = {
        "edging rows per 10 cm": (cloth.rows_in(fabric), "rows"),
        "edging rows": (edging_rows, "rows"),
    }
    below = "edging rows ÷ edging rows per 10 cm × 10 + " if edging_rows else ""
    return worked(
        key,
        label,
        f"{below}rows ÷ rows per 10 cm × 10{fold}",
        {
            **({name: (more, "cm")} if beyond else {}),
            **(edging if edging_rows else {}),
            "rows per 10 cm": (cloth.rows_per_10cm, "rows"),
            "rows": (rows, "rows"),
        },
        cloth.along_cm(edging_rows, fabric) + cloth.along_cm(rows) + more,
        "cm",
        source="gauge arithmetic, each fabric by its own gauge",
    )


def rows_above_edging(key: str, label: str, length_cm: float, edging_cm: float, rows_per_10cm: float) -> Working:
    """Rows of the cloth above an edging: (length − edging as knitted) × rows per 10 cm ÷ 10, rounded once.

    ``edging_cm`` is what the edging's rows really come to, so that its rounding does not add to this one.
    """
    if not edging_cm:
        return rows_for(key, label, length_cm, rows_per_10cm)
    return worked(
        key,
        label,
        "(finished length − edging as knitted) × rows per 10 cm ÷ 10",
        {
            "finished length": (length_cm, "cm"),
            "edging as knitted": (edging_cm, "cm"),
            "rows per 10 cm": (rows_per_10cm, "rows"),
        },
        (length_cm - edging_cm) * rows_per_10cm / 10,
        "rows",
        rounding=EVEN,
        per_cm=rows_per_10cm / 10,
        source=SOURCE,
    )


def edging_rule(edging: Edging, worked_as: Literal["flat", "round"]) -> Rounding:
    """Which stitch counts an edging may have, edge stitches for the seam included.

    In the round a rib closes on itself: a multiple of its repeat. Flat, k2 p2 rib is a multiple of 4 plus
    2, so that it begins and ends with k2 and the seam, which takes one stitch of each edge, leaves k2
    across it; k1 p1 rib is odd, so that both ends mirror. Garter and plain edges take any even number.
    """
    if edging == "rib-2x2":
        return Rounding(4) if worked_as == "round" else Rounding(4, 2)
    if edging == "rib-1x1":
        return Rounding(2) if worked_as == "round" else Rounding(2, 1)
    return Rounding(2)


def parity_rule(edging: Edging, worked_as: Literal["flat", "round"]) -> Rounding:
    """Even or odd, whichever the edging below allows: then only a multiple of 4 asks for a transition row."""
    return Rounding(2, edging_rule(edging, worked_as).remainder % 2)


def rib_count(stitches: int, rule: Rounding) -> int:
    """The legal edging count nearest to a count; of two equally near the smaller, as ribs draw in anyway."""
    upper = Rounding(rule.multiple, rule.remainder, "up")(stitches)
    lower = Rounding(rule.multiple, rule.remainder, "down")(stitches)
    return upper if upper - stitches < stitches - lower else lower
