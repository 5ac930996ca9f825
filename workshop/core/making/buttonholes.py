"""Buttonholes along the band of a front: how many, and how many stitches lie between them."""

from collections.abc import Sequence

from workshop.core.calculation import WHOLE, Rounding
from workshop.core.edgings import GARTER, Fabric, of_fabric

BUTTON_EVERY_CM = 8.5
"""Distance of buttons on an adult's front (common practice, no source)."""

BUTTON_FROM_END_CM = 1.5
"""Distance of the first and the last button from the ends of the band (common practice, no source)."""

LEAST_FROM_END_CM, LEAST_FROM_END_STITCHES = 1.0, 3
"""What is left of a band at its ends, if it has the room: an edge of a stitch or two pulls out (common practice, no
source)."""

BUTTONHOLE_STITCHES, BUTTON_STITCHES = 2, 3
"""Stitches bound off for a hole, and as many as its button is wide: the hole stretches, and is to hold the button
(common practice, no source: 5/8 in for two stitches of 5 to the inch)."""


def buttonhole_gaps(
    stitches: int,
    buttons: int,
    stitches_per_10cm: float,
    fabric: Fabric = GARTER,
    before: int = 0,
    after: int = 0,
    *,
    hem_first: bool = True,
) -> tuple[int, ...]:
    """Stitches before the first buttonhole of a right-side row, between buttonholes, and after the last one.

    They stand on ``stitches``, with more of the row ``before`` and ``after``, from the hem up or down to it. In a rib
    each hole begins with a purl stitch, in k2, p2 it takes both. All holes are as far apart as each other, as nearly as
    wished as the repeat of the rib and the usual distance from the ends allow; for that a button fewer or more may be
    taken. Where that can be had with about 1 cm and three stitches at both ends of the band (in k2, p2 rib its first
    two, or six), and without an end or a distance far from usual, it is; where nothing lies beside them, with ends that
    mirror as well. Of two ends the nearer one is at the neck, where a band gapes first (common practice, no source).
    """
    repeat, purls = of_fabric(fabric).repeat, of_fabric(fabric).knits
    usual = BUTTON_FROM_END_CM * stitches_per_10cm / 10
    end = max(1, WHOLE(usual))
    closest = Rounding(repeat, 0, "up")(BUTTONHOLE_STITCHES + 1)
    least = Rounding(repeat, purls, "up")(before + 1)
    furthest = usual + max(4, repeat + 2)
    least_end = purls if purls > 1 else LEAST_FROM_END_STITCHES
    kept = max(least_end, WHOLE(LEAST_FROM_END_CM * stitches_per_10cm / 10))
    best: tuple[bool, bool, float, int, int, int, int] | None = None
    wished = (stitches - 2 * end - BUTTONHOLE_STITCHES) / max(1, buttons - 1)
    for number in range(max(1, buttons - 1), buttons + 2):
        for first in range(least, before + stitches - BUTTONHOLE_STITCHES, repeat):
            room = before + stitches - 1 - BUTTONHOLE_STITCHES - first
            for apart in range(closest, room // (number - 1) + 1, repeat) if number > 1 else (0,):
                last = room + 1 - apart * (number - 1)  # stitches of the band after the last hole
                off = 1.5 * abs(apart - wished)  # a button too far from the next gapes
                off += abs(first - before - end) + abs(last - end) + abs(first - before - last)
                low, high = (first - before, last) if hem_first else (last, first - before)
                far = low > furthest or high > furthest + 2 or abs(apart - wished) >= wished / 3
                uneven = not (before or after) and abs(first - last) > 1
                found = (far or min(low, high) < kept, uneven, off, high, number, first, apart)
                best = found if best is None or found < best else best
    assert best is not None, f"{stitches} stitches have no room for a buttonhole"
    *_, number, first, apart = best
    between = (apart - BUTTONHOLE_STITCHES,) * (number - 1)
    return (first, *between, before + stitches + after - first - sum(between) - number * BUTTONHOLE_STITCHES)


def gaps_on(gaps: tuple[int, ...], stitches: int, fabric: Fabric = GARTER) -> tuple[int, ...]:
    """The same buttonholes between another number of stitches: of a band that was picked up with more or fewer.

    What differs goes to the end of the band; where that is too short for it, or they leave much of a front bare, they
    stand closer, or further apart, by whole repeats of its rib (common practice, no source).
    """
    first, *between, last = gaps
    more, repeat = stitches - sum(gaps), of_fabric(fabric).repeat
    by = repeat * len(between)
    if between and (last + more < LEAST_FROM_END_STITCHES or last <= max(between)):
        wider = more // by if more > 0 else -(-(LEAST_FROM_END_STITCHES - last - more) // by)
        wider = wider if more > 0 else max(-max(0, wider), -((min(between) - 1) // repeat))
        between = [gap + wider * repeat for gap in between]
        more -= wider * by
    return (first, *between, last + more)


def mirrored(gaps: Sequence[int]) -> bool:
    """Whether a band is alike at both ends, to a stitch."""
    return abs(gaps[0] - gaps[-1]) <= 1
