"""Bands of stitch patterns in a round yoke: as many as it has room and counts for, and what is said of each."""

from collections.abc import Sequence

from workshop.core.calculation import EVEN, calculate
from workshop.core.garments import GarmentSpec
from workshop.core.garments.joined_yoke import Base
from workshop.core.making.yoke_bands import (
    BandedYoke,
    BandWish,
    Ends,
    PlacedBand,
    banded_yoke,
    fitting_repeat,
    has_room,
)
from workshop.core.remarks import Amount, Value, cm
from workshop.core.sums import figure

OFF_AT_MOST = 0.05
"""How far the round of a band may be from that of a plain yoke, as part of it: in a round of 100 cm what a repeat of 20
stitches costs at worst at 20 stitches to 10 cm (common practice, no source)."""

ALIKE_CM = 0.05
"""Less than this is said to be nothing."""


def ends_of(base: Base, *, flat: bool) -> Ends:
    """How the rows of a yoke begin and end."""
    return Ends(flat, base.lower.front_edge if flat else 0)


def rows_with(wishes: Sequence[BandWish], rows: int) -> int:
    """Rows of a yoke as deep as so many of its own gauge, where its bands have another."""
    return rows + EVEN(sum(w.rows * (1 - 1 / w.along) for w in wishes))


def with_bands(spec: GarmentSpec, ends: Ends, start: int, neck: int, rows: int) -> BandedYoke | None:
    """The yoke with its bands, from the join up as many as can be; None without any. Checks say what each costs."""
    found, wishes = None, spec.yoke_bands
    while wishes and found is None:
        found = banded_yoke(start, neck, rows_with(wishes, rows), wishes, ends)
        wishes = wishes if found else wishes[:-1]
    if len(wishes) < len(spec.yoke_bands):
        tried = spec.yoke_bands[: len(wishes) + 1]
        room = has_room(start, neck, rows_with(tried, rows), tried, ends)
        _tell_left_out(spec, tried, rows, start, room=room)
    for band in found.bands if found else ():
        _note(spec, band)
        figures = _figures(spec, band)
        if abs(band.off) <= OFF_AT_MOST:
            alike = abs(_off_cm(spec, band)) < ALIKE_CM
            spec.notes.check("band-set.same" if alike else "band-set", **figures)
            continue
        other = fitting_repeat(start, neck, rows_with(wishes, rows), wishes, ends, band, OFF_AT_MOST)
        spec.notes.check("band-off", **figures, **({} if other is None else {"other": Amount(other, "stitches")}))
    return found


def _tell_left_out(spec: GarmentSpec, tried: Sequence[BandWish], rows: int, start: int, *, room: bool) -> None:
    """Which band is left out, with those above it, and why."""
    number, others = Amount(tried[-1].number, ""), "the lower bands" if len(tried) > 1 else "no band"
    if room:
        multiple, stitches = (Amount(n, "stitches") for n in (tried[-1].pattern.multiple, start))
        spec.notes.check("band-left-out.counts", number=number, multiple=multiple, stitches=stitches, others=others)
    else:
        asked = sum(w.rows for w in tried)
        rows_of = {"rows": Amount(rows, "rows"), "asked": Amount(asked, "rows")}
        spec.notes.check("band-left-out", number=number, others=others, **rows_of)


def _note(spec: GarmentSpec, band: PlacedBand) -> None:
    """How the stitches of a band come to what they are."""
    number, multiple = band.wish.number, band.wish.pattern.multiple
    stitches = figure("repeats", band.repeats) * figure("stitches of a repeat", multiple, "stitches")
    stitches = stitches + figure("stitches beyond them", band.beyond, "stitches") if band.beyond else stitches
    source = "a search for whole repeats; no decrease round keeps less than three fifths of its stitches (printed)"
    spec.notes.record(
        calculate(f"yoke.band_{number}", f"Stitches of band {number}", stitches, "stitches", source=source)
    )


def _off_cm(spec: GarmentSpec, band: PlacedBand) -> float:
    """How much larger around the yoke is at a band than without it."""
    return 10 * (band.stitches - band.usual) / (spec.cloth.stitches_per_10cm * band.wish.across)


def _figures(spec: GarmentSpec, band: PlacedBand) -> dict[str, Value]:
    """What a band is, and what it costs on the round of the yoke."""
    off = _off_cm(spec, band)
    return {
        "number": Amount(band.wish.number, ""),
        "repeats": Amount(band.repeats, ""),
        "multiple": Amount(band.wish.pattern.multiple, "stitches"),
        "stitches": Amount(band.stitches, "stitches"),
        "off": cm(abs(off)),
        "way": "larger" if off > 0 else "smaller",
    }
