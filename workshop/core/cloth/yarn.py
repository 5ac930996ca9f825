"""How much yarn: from a weighed swatch where there is one, else from the geometry of the stitch.

Munden: in relaxed plain knit stitches per cm × length of yarn in a stitch is a constant, so the gauge alone
tells how long a stitch is. The constants are wool's; other fibres get the wider range.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

from workshop.core.making.ledger import Piece
from workshop.core.working import Working, Workings, worked
from workshop.project import Swatch, Yarn
from workshop.tables.practice import k_values, rule

GEOMETRY_RANGE = 0.15
"""Half range of an amount worked out from the geometry of the stitch; derived, see tests/published."""

WEIGHED_RANGE = 0.07
"""Half range of an amount from a weighed swatch (common practice, no source)."""

RELAXED = "fully relaxed"

Three = tuple[float, float, float]
"""Low, likely and high."""


def loop_length_cm(stitches_per_10cm: float) -> float:
    """Length of yarn in one stitch of relaxed plain knit, in cm: kw ÷ stitches per cm (Munden)."""
    return float(k_values(RELAXED)["kw"]) / (stitches_per_10cm / 10)


def metres_per_m2(stitches_per_10cm: float) -> float:
    """Metres of yarn in a square metre of relaxed plain knit: 100 × kc × stitches per cm (derived)."""
    return 100 * float(k_values(RELAXED)["kc"]) * stitches_per_10cm / 10


@dataclass(frozen=True, slots=True)
class YarnNeed:
    """Yarn for the whole garment: low, likely and high, in metres and grams, and balls to buy."""

    basis: str
    metres: Three | None
    grams: Three | None
    balls: int | None
    """Whole balls at the cautious (high) figure."""
    balls_likely: int | None
    per_piece: tuple[tuple[str, float], ...]
    """Metres (or grams where the metres of a ball are not known) of each piece, seams not included."""


def grams_per_stitch(swatch: Swatch) -> float | None:
    """Grams of one stitch of a weighed swatch; None unless its stitches, rows and weight are all noted."""
    if swatch.grams and swatch.cast_on and swatch.rows:
        return swatch.grams / (swatch.cast_on * swatch.rows)
    return None


def yarn_need(
    pieces: Iterable[Piece],
    swatch: Swatch,
    yarn: Yarn | None,
    stitches_per_10cm: float,
    workings: Workings,
) -> YarnNeed:
    """Yarn for the pieces, with seams and ends and a range that fits how it was found."""
    pieces = tuple(pieces)
    stitches = sum(p.stitches_worked for p in pieces)
    seams = 1 + float(rule("seams_and_ends")["fraction"])
    m_per_g = yarn.ball_m / yarn.ball_g if yarn and yarn.ball_m and yarn.ball_g else None
    weighed = grams_per_stitch(swatch)
    if weighed is not None:
        likely = workings.note(_weighed(stitches, swatch, seams)).value
        grams: Three | None = _range(likely, WEIGHED_RANGE)
        metres: Three | None = _times(_range(likely, WEIGHED_RANGE), m_per_g) if m_per_g else None
        basis = "weighed swatch"
    else:
        likely = workings.note(_geometric(stitches, stitches_per_10cm, seams)).value
        metres = _range(likely, GEOMETRY_RANGE)
        grams = _times(_range(likely, GEOMETRY_RANGE), 1 / m_per_g) if m_per_g else None
        basis = "stitch geometry"
    each = weighed if weighed is not None else loop_length_cm(stitches_per_10cm) / 100
    factor = m_per_g if weighed is not None and m_per_g else 1.0
    return YarnNeed(
        basis=basis,
        metres=metres,
        grams=grams,
        balls=_balls(grams, metres, yarn, 2),
        balls_likely=_balls(grams, metres, yarn, 1),
        per_piece=tuple((p.name, p.stitches_worked * each * factor) for p in pieces),
    )


def _weighed(stitches: int, swatch: Swatch, seams: float) -> Working:
    assert swatch.grams
    assert swatch.cast_on
    assert swatch.rows
    return worked(
        "yarn.grams",
        "Yarn, likely amount",
        "stitches of all pieces × swatch grams ÷ (swatch stitches × swatch rows) × seams and ends",
        {
            "stitches of all pieces": (stitches, "stitches"),
            "swatch grams": (swatch.grams, "g"),
            "swatch stitches": (swatch.cast_on, "stitches"),
            "swatch rows": (swatch.rows, "rows"),
            "seams and ends": (seams, ""),
        },
        stitches * swatch.grams / (swatch.cast_on * swatch.rows) * seams,
        "g",
        source="grams per stitch of the weighed swatch; seams: common practice, no source",
    )


def _geometric(stitches: int, stitches_per_10cm: float, seams: float) -> Working:
    kw = float(k_values(RELAXED)["kw"])
    return worked(
        "yarn.metres",
        "Yarn, likely amount",
        "stitches of all pieces × constant kw ÷ (stitches per 10 cm ÷ 10) ÷ 100 × seams and ends",
        {
            "stitches of all pieces": (stitches, "stitches"),
            "constant kw": (kw, ""),
            "stitches per 10 cm": (stitches_per_10cm, "stitches"),
            "seams and ends": (seams, ""),
        },
        stitches * kw / (stitches_per_10cm / 10) / 100 * seams,
        "m",
        source="Munden's constant for fully relaxed plain knit in wool (table textile)",
    )


def _range(likely: float, half: float) -> Three:
    return likely * (1 - half), likely, likely * (1 + half)


def _times(values: Three, factor: float) -> Three:
    return values[0] * factor, values[1] * factor, values[2] * factor


def _balls(grams: Three | None, metres: Three | None, yarn: Yarn | None, which: int) -> int | None:
    if yarn is None:
        return None
    if yarn.ball_g and grams:
        return ceil(grams[which] / yarn.ball_g - 1e-9)
    if yarn.ball_m and metres:
        return ceil(metres[which] / yarn.ball_m - 1e-9)
    return None
