"""How sure the finished measurements are."""

from collections.abc import Mapping, Sequence
from math import hypot

from workshop.core.calculation import calculate
from workshop.core.cloth.gauge import NORMAL_95
from workshop.core.cloth.wash import DesignGauge
from workshop.core.garments import Garment
from workshop.core.garments.body_counts import crossed
from workshop.core.notes import Notes
from workshop.core.sums import figure, root_of
from workshop.core.wearer.body import Wearer
from workshop.records import record
from workshop.tables.trade_rules import MEASURER_ERROR_CM, definition, rule

ALONG_ROWS = {
    "length", "armhole_depth", "sleeve", "neck_to_cuff", "front_neck_depth", "back_neck_drop", "yoke_depth",
    "cap_height",
}  # fmt: skip
"""Measurements that follow the row gauge; all others follow the stitch gauge."""

EASED = ("chest", "waist", "hip", "upper_arm", "wrist")
"""Finished measurements that go around the body, so that they have an ease."""


@record
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
    measuring: float = 0.0
    """From measuring the body, where the body is part of it."""
    fabric: float = 0.0
    """From a fabric that was not swatched."""
    counted: bool = False
    """Whether it goes by counts on the piece itself: then all of it is in ``spread``."""


FABRICS_DIFFER = 0.1
"""How far the gauge of a fabric that was not swatched can be from that of another, in the same yarn on the same
needle (common practice, no source: textures of knit and purl stay within it, cables and ribs do not)."""


def _drift() -> float:
    return NORMAL_95 * rule("drift")


Over = Sequence[tuple[float, DesignGauge | None]]
"""Panels that a measurement goes across: how wide each is in cm, and its own gauge; None where it has none."""


def expected(part: str, size_cm: float, gauge: DesignGauge, over: Over = ()) -> Range:
    """95 % range of one finished measurement of so many cm."""
    spread, reading, fabric = _doubts(part, size_cm, gauge, over)
    drift = size_cm * _drift()
    half = hypot(spread, reading, drift, fabric)
    return Range(size_cm, size_cm - half, size_cm + half, spread, reading, drift, fabric=fabric)


def _doubts(part: str, size_cm: float, gauge: DesignGauge, over: Over) -> tuple[float, float, float]:
    """What a measurement is off by for its places, its readings and fabrics not swatched: each fabric for itself."""
    ground = gauge.rows if part in ALONG_ROWS else gauge.stitches
    apart = [(cm, own.stitches) for cm, own in over if own is not None]
    parts = [(size_cm - sum(cm for cm, _ in apart), ground), *apart]
    spread = hypot(*(cm * one.repeatability / one.per_10cm for cm, one in parts))
    reading = hypot(*(cm * one.resolution / one.per_10cm for cm, one in parts))
    unknown = parts[0][0] if gauge.unswatched else sum(cm for cm, own in over if own is None)
    return spread, reading, unknown * FABRICS_DIFFER


def ease_of(part: str, finished: Range, body_cm: float) -> Range:
    """95 % range of an ease: finished less body, unsure by both."""
    measuring = 2 * MEASURER_ERROR_CM[definition(part).kind]
    half, ease = hypot(finished.high - finished.likely, measuring), finished.likely - body_cm
    return Range(
        ease, ease - half, ease + half, finished.spread, finished.reading, finished.drift, measuring, finished.fabric
    )


def finished_ranges(
    made: Garment,
    gauge: DesignGauge | None,
    notes: Notes,
    of_panels: Mapping[str, DesignGauge | None],
    construction: str,
) -> Mapping[str, Range]:
    """95 % ranges of all finished measurements. A width is as unsure as the gauge: ΔF / F = Δg / g.

    ``of_panels`` are the gauges of panels, by their patterns; None for those that were not swatched.
    """
    if gauge is None:
        return {}
    drift = _drift()
    ranges = {}
    for part, size in made.finished_cm.items():
        across = crossed(made.panels, part, construction)
        over = [(p.width_cm, of_panels.get(p.pattern.id)) for p in across]
        over += [(bands_cm, None)] if (bands_cm := _bands_cm(part, made, gauge)) else []
        ranges[part] = found = expected(part, size, gauge, over)
        percent = 100 / size if size else 0.0
        places = figure("places", percent * found.spread, "%")
        reading = figure("reading", percent * found.reading, "%")
        squares = places**2 + reading**2 + figure("drift", 100 * drift, "%") ** 2
        if found.fabric:
            squares = squares + figure("fabric not swatched", percent * found.fabric, "%") ** 2
        doubt = root_of(squares)
        notes.record(
            calculate(
                f"range.{part}",
                f"Finished {part.replace('_', ' ')}, margin of error",
                figure("finished", size, "cm") * doubt / 100,
                "cm",
                exact=ranges[part].high - size,
                source="root of the sum of squares of independent parts (JCGM 100, GUM); drift derived",
            )
        )
    return ranges


OVER_BANDS = ("length", "yoke_depth")
"""Measurements that go over the bands of a yoke."""


def _bands_cm(part: str, made: Garment, gauge: DesignGauge) -> float:
    """How much of a measurement are bands that were not swatched, in cm."""
    unknown = {n for n, own in enumerate(gauge.bands, 1) if own is None}
    rows = [r for p in made.pieces if p.bands for r in p.rows if r.band in unknown] if part in OVER_BANDS else ()
    return gauge.cloth.rows_cm(rows) if rows else 0.0


def finished_ease(ranges: Mapping[str, Range], wearer: Wearer, notes: Notes) -> Mapping[str, Range]:
    """Ease of the finished garment: finished less body, unsure by both.

    A tape around a body is off by up to 9 mm on large and 4 mm on small girths in skilled hands (ISO 20685, as
    read); a beginner is taken to be off by twice that.
    """
    found = {}
    for part in EASED:
        finished, body = ranges.get(part), wearer.cm(part)
        if finished is None or body is None:
            continue
        found[part] = ease_of(part, finished, body)
        label, ease = f"Ease at the {part.replace('_', ' ')}", found[part]
        difference = figure("finished", finished.likely, "cm") - figure("body", body, "cm")
        notes.record(calculate(f"ease.{part}", label, difference, "cm"))
        garment, tape = figure("garment", finished.high - finished.likely, "cm"), figure("tape", ease.measuring, "cm")
        notes.record(
            calculate(
                f"ease.{part}.range",
                f"{label}, margin of error",
                root_of(garment**2 + tape**2),
                "cm",
                source="tape: twice the largest error allowed for skilled measurers (ISO 20685, read second-hand)",
                exact=ease.high - ease.likely,
            )
        )
    return found
