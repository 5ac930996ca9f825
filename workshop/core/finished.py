"""How sure the finished measurements are."""

from collections.abc import Mapping
from dataclasses import dataclass
from math import hypot

from workshop.core.cloth.gauge import NORMAL_95
from workshop.core.cloth.wash import DesignGauge
from workshop.core.garments import Made
from workshop.tables.practice import rule

ALONG_ROWS = {"length", "armhole_depth", "sleeve", "front_neck_depth", "back_neck_drop"}
"""Measurements that follow the row gauge; all others follow the stitch gauge."""


@dataclass(frozen=True, slots=True)
class Range:
    """A finished measurement in cm with its 95 % range, and what makes it so wide (half widths, cm)."""

    likely: float
    low: float
    high: float
    spread: float
    """From the swatch's places differing."""
    reading: float
    """From how finely the counts were read."""
    drift: float
    """From knitting a little differently over the weeks."""


def finished_ranges(made: Made | None, gauge: DesignGauge | None) -> Mapping[str, Range]:
    """95 % ranges of all finished measurements. A width is as unsure as the gauge: ΔF / F = Δg / g."""
    if made is None or gauge is None:
        return {}
    drift = NORMAL_95 * float(rule("drift")["fraction"])
    ranges = {}
    for part, size in made.finished_cm.items():
        one = gauge.rows if part in ALONG_ROWS else gauge.stitches
        spread = size * one.repeatability / one.per_10cm
        reading = size * one.resolution / one.per_10cm
        half = hypot(spread, reading, size * drift)
        ranges[part] = Range(size, size - half, size + half, spread, reading, size * drift)
    return ranges
