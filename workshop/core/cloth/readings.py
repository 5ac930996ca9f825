"""Slips of entry on a swatch, recognised and asked about; nothing is corrected or dropped."""

from collections.abc import Mapping, Sequence
from itertools import pairwise, product

from workshop.core.cloth.gauge import WHEN_COUNTED, Gauge, odd_ones_out, really_differ
from workshop.core.notes import Notes
from workshop.core.remarks import Amount, cm, percent
from workshop.project import STATES, Along, Reading, State, Swatch
from workshop.tables.trade_rules import rule
from workshop.tables.yarn_weights import INCH_CM, YarnWeight

Gauges = Mapping[tuple[State, Along], Gauge]
"""What was counted on a swatch, by its state and the way that was counted."""

LEAST_WINDOW_CM = 10.0
"""A count over less than this is taken with a warning (advice read: count over 4 in)."""

WIDER = 1.5
"""A count over so many times the planned width of a swatch is asked about: it may have been knitted wider."""

SLIPS = ("inches-as-cm", "per-inch-as-per-10cm", "gauge-far-from-weight", "rows-and-stitches-swapped")
"""Codes that say that a gauge is probably not the swatch's: nothing else is concluded from it."""

FAR = 1.6
"""A gauge this many times off the weight's range is taken for a slip rather than for a hand."""


AGAINST_NEEDLE = 1.1
"""A larger needle with so many times the stitches is asked about: it gives fewer (common practice, no source)."""


def check_against_needles(counted: Sequence[tuple[Swatch, Gauges]], notes: Notes) -> None:
    """Swatches of one yarn and fabric whose counts contradict their needles, each beside those on the next smaller."""
    alike: dict[tuple[str | None, str, str], dict[float, list[tuple[Swatch, Gauges]]]] = {}
    for swatch, gauges in counted:
        if swatch.needle_mm and gauges:
            on_needle = alike.setdefault((swatch.yarn, swatch.stitch, swatch.worked), {})
            on_needle.setdefault(swatch.needle_mm, []).append((swatch, gauges))
    for on_needle in alike.values():
        for smaller, larger in pairwise(sorted(on_needle)):
            for swatch, gauges in on_needle[larger]:
                _check_against(swatch, gauges, on_needle[smaller], notes)


def _check_against(swatch: Swatch, gauges: Gauges, smaller: Sequence[tuple[Swatch, Gauges]], notes: Notes) -> None:
    """A swatch beside those on a smaller needle, in the first state in which it has too many stitches for one."""
    for state, (other, its) in product(STATES, smaller):
        many, few = gauges.get((state, "stitches")), its.get((state, "stitches"))
        if many is None or few is None or many.per_10cm <= few.per_10cm * AGAINST_NEEDLE:
            continue
        if really_differ(many, few):
            more, fewer = Amount(many.per_10cm, "per 10 cm"), Amount(few.per_10cm, "per 10 cm")
            notes.check("more-on-a-larger-needle", **_named(swatch, many), other=other.id, more=more, fewer=fewer)
            return


def check_readings(swatch: Swatch, weight: YarnWeight | None, gauges: Gauges, notes: Notes) -> None:
    """All that looks odd in the counts of one swatch."""
    for gauge in gauges.values():
        _check_window(swatch, gauge, notes)
        _check_places(swatch, gauge, notes)
        if weight is not None:
            _check_slip(swatch, gauge, weight, notes)
    for state in STATES:
        _check_swapped(swatch, state, gauges, notes)


def _named(swatch: Swatch, gauge: Gauge) -> dict[str, str]:
    """What says which counts a check is about."""
    state = gauge.state
    return {"step": _step(state), "id": swatch.id, "state": state, "when": WHEN_COUNTED[state], "along": gauge.along}


def _at(swatch: Swatch, reading: Reading) -> str:
    """The place of a count, by its number."""
    places = swatch.places(reading.state, reading.along)
    return next((str(number) for number, there in places.items() if there is reading), "1")


def _step(state: State) -> str:
    return "gauge" if state == "off needles" else "wash"


def _check_window(swatch: Swatch, gauge: Gauge, notes: Notes) -> None:
    named = _named(swatch, gauge)
    wide = swatch.width_cm or rule("swatch_width", "width_cm")
    beyond = [r for r in gauge.readings if gauge.along == "stitches" and r.over_cm > WIDER * wide]
    short = min(r.over_cm for r in gauge.readings)
    if beyond:
        count, window = Amount(beyond[0].count, ""), Amount(beyond[0].over_cm, "cm exactly")
        notes.check(
            "window-beyond-swatch", **named, at=_at(swatch, beyond[0]), count=count, window=window, planned=cm(wide)
        )
    elif short < LEAST_WINDOW_CM - 0.01:
        notes.check("window-short", **named, window=Amount(short, "cm exactly"))


def _check_places(swatch: Swatch, gauge: Gauge, notes: Notes) -> None:
    """One question for a gauge, however many of its places differ."""
    odd, named = odd_ones_out(gauge.readings), _named(swatch, gauge)
    counts = sorted(r.count / r.over_cm * 10 for r in gauge.readings)
    low, high = Amount(counts[0], "per 10 cm"), Amount(counts[-1], "per 10 cm")
    if len(odd) == 1:
        count, window = Amount(odd[0].count, ""), Amount(odd[0].over_cm, "cm exactly")
        apart = _off_percent(odd[0], gauge)
        off, way = percent(round(abs(apart))), "higher" if apart > 0 else "lower"
        notes.check("reading-off", **named, at=_at(swatch, odd[0]), count=count, window=window, off=off, way=way)
    elif odd:
        places = " ".join(f"{r.count:g}/{r.over_cm:g}" for r in odd)
        notes.check("reading-off.several", **named, places=places, least=low, most=high)
    elif len(counts) == 2 and counts[1] / counts[0] > TWO_APART:
        off = percent(round(100 * (counts[1] / counts[0] - 1)))
        notes.check("reading-off.two", **named, off=off, low=low, high=high)


TWO_APART = 1.1
"""Two counts of one cloth that differ by more are asked about (common practice, no source)."""


def _off_percent(odd: Reading, gauge: Gauge) -> float:
    """How far one place is off all the others together, below zero where it has fewer."""
    rest = [r for r in gauge.readings if r is not odd]
    return 100 * (odd.count / odd.over_cm * sum(r.over_cm for r in rest) / sum(r.count for r in rest) - 1)


def _check_slip(swatch: Swatch, gauge: Gauge, weight: YarnWeight, notes: Notes) -> None:
    """Per inch typed as per 10 cm, inches typed as centimetres."""
    low, high = weight.stitches_low, weight.stitches_high
    if gauge.along == "rows":
        low, high = 1.15 * low, 1.6 * high
    per_10cm = gauge.per_10cm
    if low / FAR <= per_10cm <= high * FAR:
        return

    def usual(meant: float) -> bool:
        return low / 1.25 <= meant <= high * 1.25

    notes.check(
        "inches-as-cm"
        if usual(per_10cm / INCH_CM)
        else "per-inch-as-per-10cm"
        if usual(per_10cm * 10 / INCH_CM) or usual(per_10cm * 4)
        else "gauge-far-from-weight",
        **_named(swatch, gauge),
        at=_at(swatch, gauge.readings[0]),
        gauge=Amount(per_10cm, "per 10 cm"),
        count=Amount(gauge.readings[0].count, ""),
        window=Amount(gauge.readings[0].over_cm, "cm exactly"),
        weight=weight.id,
    )


def _check_swapped(swatch: Swatch, state: State, gauges: Gauges, notes: Notes) -> None:
    across, up = gauges.get((state, "stitches")), gauges.get((state, "rows"))
    if across is not None and up is not None and up.per_10cm < across.per_10cm:
        stitches, rows = Amount(across.per_10cm, "per 10 cm"), Amount(up.per_10cm, "per 10 cm")
        named = {"step": _step(state), "id": swatch.id, "state": state, "when": WHEN_COUNTED[state]}
        notes.check("rows-and-stitches-swapped", **named, stitches=stitches, rows=rows)
