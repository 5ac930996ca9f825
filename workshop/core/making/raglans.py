"""Raglan counts: four lines of shaping shared by body and sleeves.

Eight stitches change on a shaping row where body and sleeves go at one rate: two at each of four lines. Published
counts: a top-down raglan in six sizes, three sizes of a vintage slipover (tests/published).
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class RaglanCounts:
    """Stitches at the underarm of a raglan worked from the neck, underarm stitches cast on included."""

    total: int
    sleeve: int
    body: int


def from_neck(cast_on: int, sleeve_top: int, increase_rows: int, underarm: int = 0) -> RaglanCounts:
    """Counts after so many increase rows of eight stitches, and ``underarm`` stitches cast on at each side.

    ``sleeve_top`` are the stitches of one sleeve at the neck. Raises ValueError for counts below zero, and
    for sleeves that take more than there is.
    """
    if min(cast_on, sleeve_top, increase_rows, underarm) < 0 or 2 * sleeve_top > cast_on:
        raise ValueError(f"a raglan cannot begin with {cast_on} stitches and two sleeves of {sleeve_top}")
    total = cast_on + 8 * increase_rows
    sleeve = sleeve_top + 2 * increase_rows
    body = total - 2 * sleeve
    return RaglanCounts(total, sleeve + underarm, body + 2 * underarm)
