"""How much yarn: from a weighed swatch where there is one, else from the geometry of the stitch.

Munden: in relaxed plain knit stitches per cm × length of yarn in a stitch is a constant, so the gauge alone
tells how long a stitch is. The constants are wool's; other fibres get the wider range.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from types import MappingProxyType

from workshop.core.calculation import Calculation, Rounding, calculate
from workshop.core.making.ledger import Piece
from workshop.core.notes import Notes
from workshop.core.remarks import Amount
from workshop.core.sums import GAUGE_CM, METRE_CM, Sum, figure
from workshop.project import Swatch, Yarn
from workshop.records import record
from workshop.tables.trade_rules import k_value, rule

GEOMETRY_RANGE = 0.15
"""Half range of an amount worked out from the geometry of the stitch; derived, see tests/published."""

LEAST_BEYOND = 0.05
"""Stitches of floats from which they are told."""

WEIGHED_RANGE = 0.07
"""Half range of an amount from a weighed swatch (common practice, no source)."""

Three = tuple[float, float, float]
"""Low, likely and high."""


def loop_length_cm(stitches_per_10cm: float) -> float:
    """Length of yarn in one stitch of relaxed plain knit, in cm: kw ÷ stitches per cm (Munden)."""
    return k_value("kw") / (stitches_per_10cm / 10)


@record
class ColourNeed:
    """Yarn of one colour."""

    colour: str
    percent: float
    """Part of the likely amount."""
    metres: Three | None
    grams: Three | None
    balls: int | None
    balls_likely: int | None


@record
class YarnNeed:
    """Yarn to buy: the garment with seams and ends, and the swatches. Low, likely and high."""

    basis: str
    """``weighed swatch`` or ``stitch geometry``."""
    metres: Three | None
    grams: Three | None
    garment_metres: Three | None
    """The garment alone, for comparison with published amounts."""
    swatch_metres: float | None
    balls: int | None
    """Whole balls at the cautious (high) figure."""
    balls_likely: int | None
    per_piece: tuple[tuple[Piece, float], ...]
    """Part of the likely amount that goes into each piece, in per cent."""
    per_colour: tuple[ColourNeed, ...] = ()
    """Of a garment in several colours; they add up to the whole."""


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
    swatch_metres: float,
    notes: Notes,
    own_use: float = 1.0,
    of_panels: Mapping[str, Swatch] = MappingProxyType({}),
    of_colours: Mapping[str, float] | None = None,
) -> YarnNeed:
    """Yarn for the pieces and the swatches, with a range that fits how it was found.

    ``own_use`` is what this knitter uses, against what a swatch says: 1.05 is 5 % more. ``of_panels`` are swatches in
    the patterns of panels, by the ids of those: where they were weighed, a panel's stitches take what those did.

    Worked out in the unit that is surest: grams from a weighed swatch, metres from the geometry of the stitch;
    turned into the other where the band tells how long a ball is. ``of_colours``: for each colour how many stitches
    take as much yarn as it does, floats included; swatches are in the first.
    """
    pieces = tuple(pieces)
    stitches = sum(p.stitches_worked for p in pieces)
    beyond = sum(of_colours.values()) - stitches if of_colours else 0.0
    m_per_g = yarn.ball_m / yarn.ball_g if yarn and yarn.ball_m and yarn.ball_g else None
    weighed = grams_per_stitch(swatch) is not None
    if weighed:
        apart = _apart(pieces, of_panels)
        garment, unit, half = _weighed(stitches, beyond, swatch, own_use, apart), "g", WEIGHED_RANGE
        swatches = swatch_metres / m_per_g if m_per_g else 0.0
    else:
        garment, unit, half = _geometric(_all(stitches, beyond), stitches_per_10cm, own_use), "m", GEOMETRY_RANGE
        swatches = swatch_metres
    notes.record(garment)
    amounts = tuple(notes.record(_amount(name, sign, garment, half, swatches, unit)).value for name, sign in BOUNDS)
    amount = (amounts[0], amounts[1], amounts[2])
    own = (garment.value * (1 - half), garment.value, garment.value * (1 + half))
    grams = amount if weighed else _times(amount, 1 / m_per_g) if m_per_g else None
    metres = amount if not weighed else _times(amount, m_per_g) if m_per_g else None
    garment_metres = own if not weighed else _times(own, m_per_g) if m_per_g else None
    whole = YarnNeed(
        basis="weighed swatch" if weighed else "stitch geometry",
        metres=metres,
        grams=grams,
        garment_metres=garment_metres,
        swatch_metres=swatch_metres or None,
        balls=_balls("balls", "to be safe", grams, metres, yarn, 2, notes),
        balls_likely=_balls("balls_likely", "likely", grams, metres, yarn, 1, notes),
        per_piece=tuple((p, 100 * p.stitches_worked / stitches) for p in pieces),
    )
    return _in_colours(whole, of_colours, swatches / amount[1], yarn, notes) if of_colours else whole


def _all(stitches: int, beyond: float) -> Sum:
    """The stitches of all pieces, and what floats and other fabrics take beyond them, in stitches."""
    whole = figure("stitches of all pieces", stitches, "stitches")
    return whole + figure("floats and bands", round(beyond, 1), "stitches") if abs(beyond) >= LEAST_BEYOND else whole


def _in_colours(
    whole: YarnNeed, of_colours: Mapping[str, float], of_swatches: float, yarn: Yarn | None, notes: Notes
) -> YarnNeed:
    """The need colour by colour; balls are whole ones of each. ``of_swatches`` is their part of the likely amount."""
    total, found = sum(of_colours.values()), []
    for number, (colour, stitches) in enumerate(of_colours.items()):
        part = stitches / total

        def of(three: Three | None, part: float = part, first: bool = number == 0) -> Three | None:
            if three is None:
                return None
            more = of_swatches * three[1]
            low, likely, high = (part * (amount - more) + (more if first else 0.0) for amount in three)
            return low, likely, high

        grams, metres = of(whole.grams), of(whole.metres)
        balls = [
            _balls(f"{key}.{colour}", f"{word} figure, color {colour.upper()}", grams, metres, yarn, which, notes)
            for key, word, which in (("balls", "cautious", 2), ("balls_likely", "likely", 1))
        ]
        share = part * (1 - of_swatches) + (of_swatches if number == 0 else 0.0)
        found.append(ColourNeed(colour, 100 * share, metres, grams, balls[0], balls[1]))
    safe, likely = (sum(getattr(c, name) or 0 for c in found) for name in ("balls", "balls_likely"))
    known = whole.balls is not None
    return replace(
        whole, per_colour=tuple(found), balls=safe if known else None, balls_likely=likely if known else None
    )


BOUNDS = (("low", -1), ("likely", 0), ("high", 1))


def _by_own_use(yarn: Sum, own: float) -> Sum:
    return yarn * figure("your own use", own) if own != 1.0 else yarn


def _apart(pieces: Iterable[Piece], of_panels: Mapping[str, Swatch]) -> list[tuple[str, int, Swatch]]:
    """Panels whose stitches were weighed: the name of the pattern, its stitches in all rows, and the swatch."""
    names: dict[str, str] = {}
    found: dict[str, int] = {}
    for piece in pieces:
        for panel in piece.panels:
            rows = sum(panel.lies_in(row.row) for row in piece.rows)
            names[panel.pattern.id] = panel.pattern.name
            found[panel.pattern.id] = found.get(panel.pattern.id, 0) + rows * panel.stitches
    weighed = {name: swatch for name, swatch in of_panels.items() if grams_per_stitch(swatch) is not None}
    return [(names[name], stitches, weighed[name]) for name, stitches in found.items() if name in weighed]


def _weighed(
    stitches: int, beyond: float, swatch: Swatch, own: float, apart: Sequence[tuple[str, int, Swatch]] = ()
) -> Calculation:
    others = sum(many for _, many, _ in apart)
    grams = _grams(f"stitches of all pieces{' outside panels' if apart else ''}", stitches - others, "swatch", swatch)
    for name, many, of_panel in apart:
        grams = grams + _grams(f"stitches of {name}", many, f"swatch {of_panel.id}", of_panel)
    if abs(beyond) >= LEAST_BEYOND:
        grams = grams + _grams("floats and bands", round(beyond, 1), "swatch", swatch)
    return calculate(
        "yarn.garment",
        "Yarn for the garment, with seams and ends",
        _by_own_use(grams * _seams_and_ends(), own),
        "g",
        source="grams per stitch of the weighed swatch; seams: common practice, no source",
    )


def _grams(what: str, stitches: float, of: str, swatch: Swatch) -> Sum:
    """Grams of so many stitches, by a weighed swatch."""
    assert swatch.grams
    assert swatch.cast_on
    assert swatch.rows
    grams = figure(what, stitches, "stitches") * figure(f"{of} grams", swatch.grams, "g")
    return grams / (figure(f"{of} stitches", swatch.cast_on, "stitches") * figure(f"{of} rows", swatch.rows, "rows"))


def _geometric(stitches: Sum, stitches_per_10cm: float, own: float) -> Calculation:
    kw = figure("constant kw", k_value("kw"))
    per_cm = figure("stitches per 10 cm", stitches_per_10cm, "stitches") / GAUGE_CM
    return calculate(
        "yarn.garment",
        "Yarn for the garment, with seams and ends",
        _by_own_use(stitches * kw / per_cm / METRE_CM * _seams_and_ends(), own),
        "m",
        source="Munden's constant for fully relaxed plain knit in wool (workshop tables textile)",
    )


def _seams_and_ends() -> Sum:
    return figure("seams and ends", 1 + rule("seams_and_ends"))


ESTIMATES = {"low": "low estimate", "likely": "best estimate", "high": "high estimate"}


def _amount(name: str, sign: int, garment: Calculation, half: float, swatches: float, unit: str) -> Calculation:
    """Low, likely or high amount to buy."""
    own, more, doubt = figure("garment", garment.value, unit), figure("swatches", swatches, unit), figure("range", half)
    amount = {-1: own * (1 - doubt), 0: own, 1: own * (1 + doubt)}[sign] + more
    source = "range: 7% from a weighed swatch, 15% from the geometry of the stitch (derived)"
    return calculate(f"yarn.{name}", f"Yarn to buy ({ESTIMATES[name]})", amount.listing(own, more), unit, source=source)


def _times(values: Three, factor: float) -> Three:
    return values[0] * factor, values[1] * factor, values[2] * factor


def _balls(
    key: str,
    word: str,
    grams: Three | None,
    metres: Three | None,
    yarn: Yarn | None,
    which: int,
    notes: Notes,
) -> int | None:
    """Whole balls for an amount, by weight where a ball's weight is known, else by length."""
    if yarn is None:
        return None
    if yarn.ball_g and grams:
        amount, ball, unit = grams[which], yarn.ball_g, "g"
    elif yarn.ball_m and metres:
        amount, ball, unit = metres[which], yarn.ball_m, "m"
    else:
        return None
    return notes.record(
        calculate(
            f"yarn.{key}",
            f"Balls, {word}",
            figure("amount", amount, unit) / figure("one ball", ball, unit),
            "balls",
            rounding=Rounding(direction="up"),
        )
    ).count


def check_balls(yarn: Yarn | None, need: YarnNeed | None, notes: Notes) -> None:
    """Whether the balls at home are enough for the plan."""
    if yarn is None or yarn.balls is None or need is None or need.balls is None:
        return
    if yarn.balls < need.balls:
        have, safe = Amount(yarn.balls, "balls"), Amount(need.balls, "")
        notes.check("yarn-short", yarn=yarn.id, have=have, safe=safe)
