"""Slips of entry on a swatch, recognised and asked about; nothing is corrected or dropped."""

from collections.abc import Mapping

from workshop.core.cloth.gauge import Gauge, odd_ones_out
from workshop.core.remarks import Amount, Check, Value, check, percent
from workshop.project import Along, Reading, State, Swatch
from workshop.tables.practice import rule
from workshop.tables.yarn_weights import INCH_CM, YarnWeight

LEAST_WINDOW_CM = 10.0
"""A count over less than this is taken with a warning (advice read: count over 4 in)."""

WIDER = 1.5
"""A count over so many times the planned width of a swatch is asked about: it may have been knitted wider."""

SLIPS = ("inches-as-cm", "per-inch-as-per-10cm", "gauge-far-from-weight", "rows-and-stitches-swapped")
"""Codes that say that a gauge is probably not the swatch's: nothing else is concluded from it."""

FAR = 1.6
"""A gauge this many times off the weight's range is taken for a slip rather than for a hand."""


def reading_checks(
    swatch: Swatch, weight: YarnWeight | None, gauges: Mapping[tuple[State, Along], Gauge]
) -> list[Check]:
    """All that looks odd in the counts of one swatch."""
    found: list[Check] = []
    for (state, along), gauge in gauges.items():
        step = "gauge" if state == "off needles" else "wash"
        key = f"reading.{swatch.id}.{state}.{along}"
        found += _window_checks(swatch, gauge, step, key)
        found += _fellow_checks(swatch, gauge, step, key)
        if weight is not None:
            found += _slip_checks(swatch, gauge, weight, step, key)
    for state in ("off needles", "washed", "hung"):
        found += _swapped(swatch, state, gauges)
    return found


def _window_checks(swatch: Swatch, gauge: Gauge, step: str, key: str) -> list[Check]:
    wide = swatch.width_cm or float(rule("swatch_width")["width_cm"])
    beyond = [r for r in gauge.readings if gauge.along == "stitches" and r.over_cm > WIDER * wide]
    if beyond:
        text = (
            "Swatch {id}: {count} {along} over {window}, on a swatch that was planned {planned} wide. Was the distance "
            "in the other unit? Then write the unit behind it."
        )
        return [
            check(
                "window-beyond-swatch",
                "look",
                step,
                key,
                text,
                f"{gauge.state} {beyond[0].over_cm:g}/{wide:g}",
                id=swatch.id,
                count=Amount(beyond[0].count, ""),
                along=gauge.along,
                window=Amount(beyond[0].over_cm, "cm exactly"),
                planned=Amount(wide, "cm"),
            )
        ]
    short = [r for r in gauge.readings if r.over_cm < LEAST_WINDOW_CM - 0.01]
    if not short:
        return []
    return [
        check(
            "window-short",
            "note",
            step,
            key,
            "Swatch {id}, {along} {state}: a count over {window} is short. Over {10 cm} or more a half stitch "
            "weighs less.",
            id=swatch.id,
            along=gauge.along,
            state=gauge.state,
            window=Amount(min(r.over_cm for r in short), "cm exactly"),
        )
    ]


def _fellow_checks(swatch: Swatch, gauge: Gauge, step: str, key: str) -> list[Check]:
    """One question for a gauge, however many of its places differ."""
    odd = odd_ones_out(gauge.readings)
    if not odd:
        return _two_apart(swatch, gauge, step, key)
    counts = tuple(r.count / r.over_cm * 10 for r in gauge.readings)
    if len(odd) == 1:
        text = "{count} over {window} is {off} off its fellows. Count that place again"
    else:
        text = "the places differ by more than 3 %, from {least} to {most}. Count them again"
    text += "; if it is right, say so: nothing is dropped."
    figures: dict[str, Value] = {
        "count": Amount(odd[0].count, ""),
        "window": Amount(odd[0].over_cm, "cm exactly"),
        "off": percent(_off_percent(odd[0], gauge)),
        "least": Amount(min(counts), "per 10 cm"),
        "most": Amount(max(counts), "per 10 cm"),
    }
    about = " ".join(f"{r.count:g}/{r.over_cm:g}" for r in odd)
    return [_about_places(swatch, gauge, step, key, text, about, figures)]


def _about_places(
    swatch: Swatch, gauge: Gauge, step: str, key: str, text: str, about: str, figures: Mapping[str, Value]
) -> Check:
    """A question about the places of one gauge that do not agree."""
    named = {"id": swatch.id, "along": gauge.along, "state": gauge.state}
    whole = "Swatch {id}, {along} {state}: " + text
    return check("reading-off", "look", step, key, whole, about, **{**named, **figures})


TWO_APART = 1.1
"""Two counts of one cloth that differ by more are asked about (common practice, no source)."""


def _two_apart(swatch: Swatch, gauge: Gauge, step: str, key: str) -> list[Check]:
    """Two places that cannot both be right."""
    if len(gauge.readings) != 2:
        return []
    low, high = sorted(r.count / r.over_cm * 10 for r in gauge.readings)
    if high / low <= TWO_APART:
        return []
    text = "the two places differ by {off}, {low} and {high}. Count a third, and mend the one that is off; if both are "
    figures = {
        "off": percent(100 * (high / low - 1)),
        "low": Amount(low, "per 10 cm"),
        "high": Amount(high, "per 10 cm"),
    }
    return [_about_places(swatch, gauge, step, key, f"{text}right, say so.", f"{low:.1f}/{high:.1f}", figures)]


def _off_percent(odd: Reading, gauge: Gauge) -> float:
    """How far one place is off all the others together."""
    rest = [r for r in gauge.readings if r is not odd]
    return 100 * abs(odd.count / odd.over_cm * sum(r.over_cm for r in rest) / sum(r.count for r in rest) - 1)


def _slip_checks(swatch: Swatch, gauge: Gauge, weight: YarnWeight, step: str, key: str) -> list[Check]:
    """Per inch typed as per 10 cm, inches typed as centimetres."""
    low, high = weight.stitches_low, weight.stitches_high
    if gauge.along == "rows":
        low, high = 1.15 * low, 1.6 * high
    per_10cm = gauge.per_10cm
    if low / FAR <= per_10cm <= high * FAR:
        return []
    count, window = gauge.readings[0].count, gauge.readings[0].over_cm
    if low / 1.25 <= per_10cm / INCH_CM <= high * 1.25:
        text = (
            "Swatch {id}: {count} {along} over {window} is a great many for {weight} yarn. Was the distance in "
            "inches? Then write 'in' behind it."
        )
        code = "inches-as-cm"
    elif low / 1.25 <= per_10cm * 10 / INCH_CM <= high * 1.25 or low / 1.25 <= per_10cm * 4 <= high * 1.25:
        text = (
            "Swatch {id}: {count} {along} over {window} is very few for {weight} yarn. Was it counted over one "
            "inch? Then write the distance as '1 in', or better count over {10 cm}."
        )
        code = "per-inch-as-per-10cm"
    else:
        text = "Swatch {id}: {count} {along} over {window} is far from what {weight} yarn gives. Count again?"
        code = "gauge-far-from-weight"
    return [
        check(
            code,
            "look",
            step,
            key,
            text,
            f"{gauge.state} {gauge.along} {per_10cm:.1f}",
            id=swatch.id,
            count=Amount(count, ""),
            along=gauge.along,
            window=Amount(window, "cm exactly"),
            weight=weight.id,
        )
    ]


def _swapped(swatch: Swatch, state: State, gauges: Mapping[tuple[State, Along], Gauge]) -> list[Check]:
    stitches, rows = gauges.get((state, "stitches")), gauges.get((state, "rows"))
    if stitches is None or rows is None or rows.per_10cm >= stitches.per_10cm:
        return []
    step = "gauge" if state == "off needles" else "wash"
    return [
        check(
            "rows-and-stitches-swapped",
            "look",
            step,
            f"reading.{swatch.id}.{state}.rows",
            "Swatch {id}, {state}: {rows} in rows against {stitches} in stitches. A knitted stitch is wider than it is "
            "high, so there should be more rows. Were the two swapped?",
            f"{stitches.per_10cm:.1f}/{rows.per_10cm:.1f}",
            id=swatch.id,
            state=state,
            rows=Amount(rows.per_10cm, "per 10 cm"),
            stitches=Amount(stitches.per_10cm, "per 10 cm"),
        )
    ]
