"""Remarks as sentences: figures in the knitter's units, terms of their country."""

import re
from collections.abc import Iterable
from functools import cache
from math import ceil, floor, log10
from typing import Literal

from workshop.core.calculation import Calculation
from workshop.core.cloth.gauge import Gauge
from workshop.core.edgings import of_pattern
from workshop.core.fabric.patterns import BUILT_IN
from workshop.core.remarks import Amount, Check, Remark, Value
from workshop.core.sums import Figure
from workshop.project import Project, Swatch, Terms, Units
from workshop.records import record
from workshop.tables import read
from workshop.tables.yarn_weights import weight_called
from workshop.units import (
    GAUGE_OVER_CM,
    eighths,
    lengths_in,
    per_shown,
    plain_number,
    show_gauge,
    show_length,
    show_needle,
    show_small,
    show_typed,
    show_yarn_length,
)
from workshop.words.calculations.in_inches import working_in

LineKind = Literal["heading", "text", "figure", "good", "note", "look", "stop"]


@record
class Line:
    """One line of an answer. ``working`` is the address of the figure in it, where there is one."""

    kind: LineKind
    text: str
    working: str = ""


@cache
def _terms() -> tuple[re.Pattern[str], dict[str, str]]:
    """All US terms as one pattern, the longest first, and what each is called in the UK."""
    table = read("terms")
    pairs: dict[str, str] = {t["us"]: t["uk"] for kind in ("term", "form", "spelling") for t in table[kind]}
    longest_first = sorted(pairs, key=len, reverse=True)
    return re.compile(rf"\b({'|'.join(map(re.escape, longest_first))})(s?)\b", re.IGNORECASE), pairs


def in_terms(text: str, terms: Terms) -> str:
    """Text of ours in the terms of a country; capitals at the beginning of a term are kept."""
    if terms == "us":
        return text
    pattern, pairs = _terms()

    def british(found: re.Match[str]) -> str:
        uk = pairs[found[1].lower()] + found[2]
        return capitalised(uk) if found[1][0].isupper() else uk

    return pattern.sub(british, text)


def capitalised(text: str) -> str:
    """A text with a capital first, the rest as it is."""
    return text[:1].upper() + text[1:]


def in_terms_of(text: str, project: Project) -> str:
    """Text of ours with words of the knitter's in it, in her terms: her own words stay as she wrote them."""
    if project.terms == "us":
        return text
    own = sorted((o for o in _own_words(project) if o in text), key=len, reverse=True)
    if not own:
        return in_terms(text, project.terms)
    parts = re.split(rf"(?<!\w)({'|'.join(map(re.escape, own))})(?!\w)", text)
    return "".join(part if i % 2 else in_terms(part, project.terms) for i, part in enumerate(parts))


def _own_words(project: Project) -> set[str]:
    """What the knitter has written herself, as far as it holds a term: names, care and notes."""
    found = {project.title, project.notes, *(s.notes for s in project.swatch)}
    found |= {p.name for p in project.stitch_pattern} | {c.name for c in project.garment.colour}
    for yarn in project.yarn:
        found |= {yarn.name, yarn.care, *(part.fibre for part in yarn.fibres)}
    return {text for text in found if in_terms(text, "uk") != text}


def worded(text: str, project: Project) -> str:
    """Text of ours as this knitter reads it: terms of their country, marked lengths in their units."""
    return lengths_in(in_terms_of(text, project), project.units)


COMING_ALONG = {pattern.name: pattern.uk for pattern in BUILT_IN.values() if pattern.uk}
"""UK names of the stitch patterns that come along."""


def show(value: Value, project: Project) -> str:
    """One figure in the knitter's units."""
    if isinstance(value, str):
        return COMING_ALONG.get(value, value) if project.terms == "uk" else value
    if isinstance(value, tuple):
        return joined(show(v, project) for v in value)
    return _amount(value, project)


def _amount(amount: Amount, project: Project) -> str:
    match amount.unit:
        case "cm":
            return show_length(amount.value, project.units)
        case "cm exactly":
            return show_typed(amount.value, project.units)
        case "mm":
            return show_needle(amount.value, project.needle_names)
        case "m":
            return show_yarn_length(amount.value, project.units)
        case "per 10 cm":
            return show_gauge(amount.value, project.units)
        case "%":
            return f"{plain_number(amount.value, 1)}%"
        case "g":
            return f"{plain_number(amount.value, 1)} g"
        case "sizes":
            return counted(amount.value, "size")
        case "balls":
            return counted(amount.value, "ball")
        case "stitches":
            return counted(amount.value, "stitch", "stitches")
        case "rows":
            return counted(amount.value, "row")
        case _:
            return plain_number(amount.value)


def likely_gauge(gauge: Gauge, units: Units, *, named: bool = True) -> str:
    """A gauge to knit to, with its range: ``21½ stitches per 10 cm, likely 21 to 22``.

    In quarters, as close as one counts on knitting (common practice, no source); the range is never told narrower.
    """
    here, low, high = (4 * per_shown(found, units) for found in (gauge.per_10cm, *gauge.likely))
    told, least, most = (eighths(n / 4) for n in (round(here), floor(low + NEAR), ceil(high - NEAR)))
    along, window = f" {gauge.along}" if named else "", show_length(GAUGE_OVER_CM[units], units)
    return f"{told}{along} per {window}, likely {least} to {most}"


NEAR = 1e-6
"""What a range may be off a quarter and still end there."""


def needle_to_knit_with(mm: float, project: Project) -> str:
    """A needle as a pattern names it: in US words and inches by its US size first, also where one typed millimetres.

    Common practice, no source: US patterns name the US size, and the millimetres in brackets.
    """
    american = project.terms == "us" and project.units == "in" and project.needle_names == "mm"
    return show_needle(mm, "us" if american else project.needle_names)


def counted(number: float, one: str, many: str = "") -> str:
    """A count with its noun: "1 row", "12 rows"."""
    return f"{plain_number(number)} {one if abs(number) == 1 else many or one + 's'}"


def joined(said: Iterable[object]) -> str:
    """Words or numbers as one says several: "a", "a and b", "a, b and c"."""
    words = [*map(str, said)]
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)


def say(remark: Remark, project: Project) -> str:
    """A remark as one sentence."""
    text = worded(remark.text, project)

    def told(found: re.Match[str]) -> str:
        value = remark.values.get(found[1])
        if value is None:
            return found[0]
        if isinstance(value, str) and found[1] in ("weight", "found"):
            return " or ".join(weight_called(name, project.terms) for name in value.split(" or "))
        return show(value, project)

    return re.sub(r"\{(\w+)\}", told, text)


def say_check(check: Check, project: Project) -> str:
    """A check as one sentence; where the knitter has agreed to it, that is said."""
    text = say(check.remark, project)
    return f"{text} (You confirmed this.)" if check.agreed else text


def check_line(check: Check, project: Project) -> Line:
    """A check as a line of an answer."""
    return Line(check.level, say_check(check, project))


LEAST_TOLD_CM = {"cm": 0.005, "in": 0.013}
"""Costs of rounding below this would be printed as 0."""


# ── workings ─────────────────────────────────────────────────────────────────────────────────────────


def working_lines(working: Calculation, project: Project) -> tuple[str, ...]:
    """A working spelled out in the knitter's units: label and value, formula, figures, rounding, source."""
    working = working_in(working, project.units)
    said = len(working.unit) > len("mm") and working.unit in working.label.lower()  # not "rows: 6 rows"
    unit = "" if said else working.unit
    lines = [f"{in_terms(working.label, project.terms)}: {valued(working.value, unit)}"]
    lines.append(f"  = {in_terms(working.formula, project.terms)}")
    lines.append("  with " + in_terms("; ".join(_figure(f) for f in working.figures), project.terms))
    if working.rounding:
        line = f"  exactly {plain_number(working.exact, 3)}, rounded {rounding_words(working.rounded_to)}"
        if working.difference_cm is not None and abs(working.difference_cm) >= LEAST_TOLD_CM[project.units]:
            line += f": {show_small(abs(working.difference_cm), project.units)} {rounded_away(working)}"
        lines.append(line)
    if working.source:
        lines.append(f"  source: {in_terms(working.source, project.terms)}")
    return tuple(lines)


def rounded_away(working: Calculation) -> str:
    """Which way a rounding changed a piece: stitches make it wider or narrower; rows, or stitches picked up along an
    edge, longer or shorter.
    """
    along = working.unit == "rows" or "band.stitches" in working.key
    larger, smaller = ("longer", "shorter") if along else ("wider", "narrower")
    return larger if (working.difference_cm or 0.0) > 0 else smaller


def stitch_words(swatch: Swatch) -> str:
    """What a swatch is knitted in, after "36 rows"; in US terms."""
    edging, coming = of_pattern(swatch.stitch), BUILT_IN.get(swatch.stitch)
    if edging is not None:
        return edging.pattern_label
    return coming.name if coming else "stockinette" if swatch.stitch == "stockinette" else "in pattern"


def rounding_words(rule: str) -> str:
    """A rule of rounding after "rounded": up to the next even number, to the nearest even number."""
    return rule if rule.startswith(("up ", "down ")) else f"to the {rule}"


def _figure(figure: Figure) -> str:
    return f"{figure.name} = {figured(figure)}"


def figured(figure: Figure) -> str:
    """A figure that goes into a formula, with the decimals that a hand needs to come to the printed result."""
    return _with_unit(figure.value, figure.unit, digits=SIX)


def valued(value: float, unit: str) -> str:
    """The result of a working with its unit."""
    return _with_unit(value, unit, digits=THREE)


SIX, THREE = 6, 3
"""Digits that are shown at least: of what goes into a sum, and of a result."""


def _with_unit(value: float, unit: str, *, digits: int) -> str:
    text = plain_number(value, _places(value, unit, digits))
    unit = ONE_OF.get(unit, unit) if text in ("1", "-1") else unit
    return f"{text}{'' if unit == '%' else ' '}{unit}" if unit else text


def _places(value: float, unit: str, digits: int) -> int:
    """Decimals that show this many digits: always the three that eighths of an inch have, or two.

    A result that is a length, or a part of one, is no finer than the lengths it came from are printed.
    """
    least = 3 if unit == "in" else 2
    most = {"cm": 3, "in": 3, "%": 4}.get(unit, 8) if digits == THREE else 8
    return max(least, min(most, digits - 1 - floor(log10(abs(value))))) if abs(value) > 1e-6 else least


ONE_OF = {"stitches": "stitch", "rows": "row", "rounds": "round", "sizes": "size", "balls": "ball"}
