"""What people type, and what we print: lengths, masses, needle sizes, counts.

Typed text is read by a small grammar of our own and never reaches pint, which would read "1,5 cm" as
15 cm. pint converts between units. It costs a third of a start, so the three factors that every page in inches
needs are kept here, and it is imported for the other units that are typed.
"""

import re
from fractions import Fraction
from functools import cache, lru_cache
from math import ceil, floor, isfinite
from typing import TYPE_CHECKING, Any, Literal

from workshop.project import NeedleNames, Units
from workshop.records import record
from workshop.tables import needles
from workshop.tables.trade_rules import rounded_cm
from workshop.tables.yarn_weights import INCH_CM, YARD_M
from workshop.visible import in_one_line

if TYPE_CHECKING:
    from pint import UnitRegistry

LengthUnit = Literal["cm", "mm", "m", "in", "ft", "yd"]
MassUnit = Literal["g", "kg", "oz", "lb"]

DEFINITIONS = (
    "metre = [length] = m",
    "centimetre = 0.01 metre = cm",
    "millimetre = 0.001 metre = mm",
    "inch = 2.54 centimetre = in",
    "foot = 12 inch = ft",
    "yard = 36 inch = yd",
    "gram = [mass] = g",
    "kilogram = 1000 gram = kg",
    "pound = 453.59237 gram = lb",
    "ounce = 0.0625 pound = oz",
)
"""Unit definitions for pint: exact by the international yard and pound agreement of 1959."""


LONGEST = 60
"""Characters of a typed number; anything longer is a slip of the clipboard."""


class NotUnderstood(ValueError):
    """Typed text that is no answer. The message says in one line what was found and what would be right."""


@cache
def registry() -> "UnitRegistry[Any]":
    """The one registry of units; pint is imported here and nowhere else."""
    import pint

    return pint.UnitRegistry(list(DEFINITIONS), cache_folder=None)


def convert(value: float, given: str, wanted: str) -> float:
    """A value from one unit to another. The same unit costs nothing."""
    if given == wanted:
        return value
    return value * _factor(given, wanted)


FACTORS = {("in", "cm"): INCH_CM, ("yd", "m"): YARD_M, ("oz", "g"): 28.349523125}
"""Exact by the same agreement; the tests hold them to pint."""


@cache
def _factor(given: str, wanted: str) -> float:
    if (wanted, given) in FACTORS:
        return 1 / FACTORS[wanted, given]
    return FACTORS.get((given, wanted)) or float(registry().Quantity(1.0, given).to(wanted).magnitude)


_GLYPHS = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3",
    "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip

_NUMBER = r"(?:\d+(?:[.,]\d+)?|[.,]\d+)"
_AMOUNT = re.compile(
    rf"""\s*(?P<sign>[+-])?\s*
    (?:(?P<whole>\d+)[\s+-]+(?P<over>\d+)/(?P<under>\d+)
      |(?P<just_over>\d+)/(?P<just_under>\d+)
      |(?P<number>{_NUMBER}))""",
    re.VERBOSE,
)

_LENGTH_UNITS = {
    "cm": "cm", "centimetre": "cm", "centimetres": "cm", "centimeter": "cm", "centimeters": "cm",
    "mm": "mm", "millimetre": "mm", "millimetres": "mm", "millimeter": "mm", "millimeters": "mm",
    "m": "m", "metre": "m", "metres": "m", "meter": "m", "meters": "m",
    "in": "in", "in.": "in", "inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in", "''": "in",
    "ft": "ft", "ft.": "ft", "foot": "ft", "feet": "ft", "'": "ft", "′": "ft", "’": "ft",
    "yd": "yd", "yds": "yd", "yard": "yd", "yards": "yd",
}  # fmt: skip

_MASS_UNITS = {
    "g": "g", "gr": "g", "gram": "g", "grams": "g", "gramme": "g", "grammes": "g",
    "kg": "kg", "kilo": "kg", "kilogram": "kg", "kilograms": "kg",
    "oz": "oz", "oz.": "oz", "ounce": "oz", "ounces": "oz",
    "lb": "lb", "lbs": "lb", "pound": "lb", "pounds": "lb",
}  # fmt: skip


@record
class Read:
    """A typed amount in the unit asked for, and whether the text named a unit itself."""

    value: float
    named: bool


@lru_cache(maxsize=2048)  # a class of projects has the same counts over and over
def _plain(text: str) -> str:
    """The text with fraction glyphs spelled out and odd spaces and signs made ordinary."""
    if len(text) > LONGEST:
        raise NotUnderstood(f"'{shown(text)}' is too long for a number. Use at most {LONGEST} characters")
    for glyph, spelled in _GLYPHS.items():
        text = text.replace(glyph, f" {spelled}")
    text = text.replace("⁄", "/").replace("−", "-").replace("–", "-")
    text = re.sub(r"\s+", " ", text).strip()
    return re.sub(r"(\d)\s*/\s*(\d)", r"\1/\2", text)


def shown(text: str, most: int = 24) -> str:
    """What was typed, short enough for an error line."""
    flat = in_one_line(" ".join(text.strip()[:1000].split()))
    return flat if len(flat) <= most else flat[: most - 1] + "…"


@lru_cache(maxsize=2048)
def _take_amount(text: str, whole: str) -> tuple[float, str]:
    """The number at the start of a text, and what follows it."""
    found = _AMOUNT.match(text)
    if not found:
        raise NotUnderstood(f"'{shown(whole)}' doesn't start with a number")
    g = found.groupdict()
    under = g["under"] or g["just_under"]
    if under and int(under) == 0:
        raise NotUnderstood(f"'{shown(whole)}' divides by zero")
    if g["whole"]:
        value = Fraction(int(g["whole"])) + Fraction(int(g["over"]), int(under))
    elif g["just_over"]:
        value = Fraction(int(g["just_over"]), int(under))
    else:
        digits = g["number"].replace(",", ".")
        if len(digits) > 18:
            raise NotUnderstood(f"'{shown(whole)}' is too long for a number")
        value = Fraction(digits if not digits.startswith(".") else "0" + digits)
    number = float(value) * (-1 if g["sign"] == "-" else 1)
    rest = text[found.end() :]
    if rest[:1] in (".", ",", "/") or rest[:1].isdigit():
        raise NotUnderstood(f"'{shown(whole)}' isn't a single number. Type something like 22.5, 22,5 or 22 1/2")
    return number, rest.strip()


def read_number(text: str) -> float:
    """A bare number: 22.5, 22,5, 22 1/2 or 22½. Raises NotUnderstood for anything else."""
    plain = _plain(text)
    if not plain:
        raise NotUnderstood("nothing was typed. Type a number")
    value, rest = _take_amount(plain, text)
    if rest:
        raise NotUnderstood(f"'{shown(text)}' has '{shown(rest)}' after the number. Type only the number")
    return value


LONGEST_ANSWER = 300
"""Characters of a typed answer, spaces that follow one another counted once; more is a slip of the clipboard."""


def tidy(text: str, longest: int = LONGEST_ANSWER) -> str:
    """What was typed without needless spaces, for patterns that would go over them again and again.

    Ends of lines stay. Raises NotUnderstood for a text that is longer than any answer, or than the ``longest`` here.
    """
    text = re.sub(r" ?\n ?", "\n", re.sub(r"[^\S\n]+", " ", text)).strip()
    if len(text) > longest:
        raise NotUnderstood(f"'{shown(text)}' is too long. Use at most {longest} characters")
    return text


A_COUNT: dict[Units, str] = {"cm": "27½ over 15 cm", "in": "27½ over 6 in"}
"""A count and its distance, as an example."""

_OVER = re.compile(r"(?i)\s*(?:over|\bper\b|\bto\b|\bin(?=\s+\d)|/(?=\s*[a-z])|@|:|=)\s*")
"""What stands between a count and its distance."""

_SLASHED = re.compile(r"^\s*(\d{2,}|\d+[.,]\d+)\s*/\s*(?=\d)")
"""A count of two digits, or with a decimal, before a stroke is no fraction: 27/12 is 27 over 12."""


def read_count(text: str, units: Units) -> tuple[float, float | None]:
    """A count over a distance, as typed: "27½ over 15 cm", "22 sts to 10 cm", "4½ to the inch". Gives (count, cm), and
    None for a distance that was not typed. Raises NotUnderstood.
    """
    text = _SLASHED.sub(r"\1 over ", tidy(text))
    parts = re.split(_OVER, text, maxsplit=1)
    if not parts[0]:
        raise NotUnderstood("nothing was typed. Type a count, for example " + A_COUNT[units])
    count = read_number(re.sub(r"(?i)\s*(stitches|stitch|sts?|rows?|r)\.?$", "", parts[0]))
    if len(parts) < 2:
        return count, None
    if not parts[1].strip():
        raise NotUnderstood(f"'{shown(text.strip())}' needs a distance after it, for example {A_COUNT[units]}")
    distance = re.sub(r"(?i)^(?:an?\b|one\b|the\b)?\s*(?=[a-z])", "1 ", parts[1])  # "to the inch"
    return count, read_length(distance, units).value


def _read_with_units(text: str, units: dict[str, str], default: str, wanted: str, kind: str) -> Read:
    plain = _plain(text)
    if not plain:
        raise NotUnderstood(f"nothing was typed. Type a {kind}, for example {_EXAMPLES[default]}")
    total, named, last = 0.0, False, ""
    while plain:
        value, rest = _take_amount(plain, text)
        if named and value < 0:
            raise NotUnderstood(f"'{shown(text)}' isn't a single {kind}. Type something like {_EXAMPLES[default]}")
        word = re.match(r"[^\d\s+-]+", rest)
        unit = default
        if word:
            typed = word.group(0).casefold()
            if typed not in units:
                raise NotUnderstood(f"'{shown(word.group(0))}' isn't a unit of {kind}. Use {_KNOWN[kind]}")
            unit, rest = units[typed], rest[word.end() :].strip()
        elif last == "ft":
            unit = "in"
        elif named or rest:
            raise NotUnderstood(f"'{shown(text)}' isn't a single {kind}. Type something like {_EXAMPLES[default]}")
        total += convert(value, unit, wanted)
        named, last, plain = named or bool(word), unit, rest
    return Read(total, named)


_EXAMPLES = {
    "cm": "97 or 38 in",
    "in": "38 1/4 or 97 cm",
    "m": "200 or 220 yd",
    "g": "50 or 1.75 oz",
    "yd": "220 or 200 m",
    "mm": "4",
}
_KNOWN = {"length": "cm, mm, m, in, ft or yd", "weight": "g, kg, oz or lb"}


def read_length(text: str, default: LengthUnit, wanted: LengthUnit = "cm") -> Read:
    """A length: 97, 97cm, 38 in, 38 1/4", 5 ft 3 in, 5'3", 1,5 m. A bare number is in ``default``."""
    return _read_with_units(text, _LENGTH_UNITS, default, wanted, "length")


def read_mass(text: str) -> Read:
    """A mass in grams: 50, 50g, 1.75 oz, 1 lb 2 oz. A bare number is in grams."""
    return _read_with_units(text, _MASS_UNITS, "g", "g", "weight")


def read_needle(text: str, names: NeedleNames) -> float:
    """A needle size in mm: 4, 4 mm, 4,5mm, US 6, UK 8. A bare number is in the naming in use.

    Raises NotUnderstood with the nearest sizes that exist.
    """
    plain = re.sub(r"\s+", " ", text.strip())
    if len(plain) > LONGEST:
        raise NotUnderstood(f"'{shown(text)}' is too long for a needle size. Type something like 4 mm, US 6 or UK 8")
    if not plain:
        raise NotUnderstood("nothing was typed. Type a needle size, for example 4 mm or US 6")
    found = re.fullmatch(r"(?i)(us|uk|ca|can|metric)?\s*#?\s*(0{2,3}|[\d.,/½¼¾ ]+)\s*(mm|us|uk)?", plain)
    if not found:
        raise NotUnderstood(f"'{shown(text)}' isn't a needle size. Type something like 4 mm, US 6 or UK 8")
    system = (found.group(1) or found.group(3) or names).lower()
    system = {"ca": "uk", "can": "uk", "metric": "mm"}.get(system, system)
    number = found.group(2).strip()
    if system == "mm":
        mm = read_number(number)
        if needles.find(mm) is None and 0 < mm < 60:
            near = needles.nearest(mm)
            raise NotUnderstood(f"{mm:g} mm isn't in the table of needles. The nearest is {near.mm:g} mm")
        if not 1 <= mm <= 40:
            raise NotUnderstood(f"{mm:g} mm isn't a needle size. Sizes run from 1.5 to 35 mm")
        return mm
    label = number if number.startswith("0") else f"{read_number(number):g}"
    for size in needles.sizes():
        if (size.us if system == "us" else size.uk) == label:
            return size.mm
    return _no_such_label(system, label)


def _no_such_label(system: str, label: str) -> float:
    known = [s.us if system == "us" else s.uk for s in needles.sizes()]
    raise NotUnderstood(
        f"there's no {system.upper()} {label} in the table. {system.upper()} sizes are "
        + ", ".join(dict.fromkeys(k for k in known if k))
    )


# ── what we print ────────────────────────────────────────────────────────────────────────────────────

_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")


def plain_number(value: float, places: int = 2) -> str:
    """A number without needless noughts; never "-0"."""
    if not isfinite(value):
        return "?"
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def eighths(value: float) -> str:
    """A number in whole eighths: 40⅛."""
    sign = "-" if value < 0 else ""
    whole, part = divmod(round(abs(value) * 8), 8)
    if not whole and not part:
        return "0"
    return f"{sign}{whole or ''}{_EIGHTHS[part]}" if part else f"{sign}{whole}"


def show_length(value_cm: float, units: Units) -> str:
    """A length in the knitter's unit: ``97.5 cm`` or ``38⅜ in``."""
    if units == "in":
        return f"{eighths(convert(value_cm, 'cm', 'in'))} in"
    return f"{plain_number(value_cm, 1)} cm"


def show_limits(low_cm: float, high_cm: float, units: Units) -> tuple[str, str]:
    """Two limits as they can be typed: in inches the eighths that lie within them."""
    if units == "in":
        low, high = ceil(convert(low_cm, "cm", "in") * 8), floor(convert(high_cm, "cm", "in") * 8)
        return f"{eighths(low / 8)} in", f"{eighths(high / 8)} in"
    return show_length(low_cm, units), show_length(high_cm, units)


def difference_shown(larger_cm: float, smaller_cm: float, units: Units) -> float:
    """The difference of two lengths as they are shown, in cm: with it the three printed figures add up."""
    if units == "in":
        larger, smaller = (round(convert(cm, "cm", "in") * 8) for cm in (larger_cm, smaller_cm))
        return convert((larger - smaller) / 8, "in", "cm")
    return round(float(f"{larger_cm:.1f}") - float(f"{smaller_cm:.1f}"), 1)


def show_exactly(value_cm: float, units: Units) -> str:
    """A length that was typed or counted over: in inches in eighths where they are exact enough, else in hundredths."""
    if units == "in":
        inches = convert(value_cm, "cm", "in")
        exact = abs(inches * 8 - round(inches * 8)) < 0.02
        return f"{eighths(inches) if exact else plain_number(inches, 2)} in"
    if abs(value_cm * 10 - round(value_cm * 10)) > 0.02 and _is_eighths(value_cm):
        return f"{plain_number(value_cm, 1)} cm"  # typed in inches: hundredths of a cm were never meant
    return f"{plain_number(value_cm, 2)} cm"


def show_typed(value_cm: float, units: Units) -> str:
    """A length in the unit in which it is round: 10 cm stays 10 cm for one who measures in inches."""
    whole_cm = abs(value_cm * 2 - round(value_cm * 2)) < 0.001
    if units == "in" and whole_cm and not _is_eighths(value_cm):
        return show_exactly(value_cm, "cm")
    inches = convert(value_cm, "cm", "in")
    if units == "cm" and not whole_cm and abs(inches * 4 - round(inches * 4)) < 0.002:
        return show_exactly(value_cm, "in")
    return show_exactly(value_cm, units)


def _is_eighths(value_cm: float) -> bool:
    inches = convert(value_cm, "cm", "in")
    return abs(inches * 8 - round(inches * 8)) < 0.002


def show_small(value_cm: float, units: Units) -> str:
    """A small length, such as the cost of a rounding, in hundredths: ``0.21 cm`` or ``0.08 in``."""
    return f"{plain_number(convert(value_cm, 'cm', units), 2)} {units}"


def show_range(low_cm: float, high_cm: float, units: Units, *, unit: bool = True) -> str:
    """A range of lengths: ``97.2 to 103 cm``; without ``unit`` where one stands beside it."""
    if units == "in":
        low, high = (convert(v, "cm", "in") for v in (low_cm, high_cm))
        ends = eighths(low), eighths(high)
    else:
        ends = plain_number(low_cm, 1), plain_number(high_cm, 1)
    text = " to ".join(dict.fromkeys(ends))
    return f"{text} {units}" if unit else text


_MARKED = re.compile(r"\{(\d+(?:\.\d+)?)(?: to (\d+(?:\.\d+)?))? cm\}")


def lengths_in(text: str, units: Units) -> str:
    """A text of ours with the lengths marked in it, ``{6 cm}`` or ``{2 to 3 cm}``, in the knitter's unit.

    They are usual figures, not measurements: in inches they are round ones.
    """

    def told(found: re.Match[str]) -> str:
        values = (rounded_cm(float(v), units) for v in found.groups() if v)
        shown = (eighths(convert(v, "cm", "in")) if units == "in" else plain_number(v) for v in values)
        return f"{' to '.join(dict.fromkeys(shown))} {units}"

    return _MARKED.sub(told, text)


GAUGE_OVER_CM: dict[Units, float] = {"cm": 10.0, "in": 10.16}
"""What a gauge is told over: 10 cm, or 4 in, which is a little more cloth."""


def per_shown(per_10cm: float, units: Units) -> float:
    """Stitches or rows over the length that a gauge is told for: 10 cm, or 4 in."""
    return per_10cm * GAUGE_OVER_CM[units] / 10


def show_gauge(per_10cm: float, units: Units, along: str = "") -> str:
    """A gauge: ``20.5 stitches per 10 cm``, or per 4 in."""
    over = "4 in" if units == "in" else "10 cm"
    return f"{plain_number(per_shown(per_10cm, units), 2)}{f' {along}' if along else ''} per {over}"


def show_mass(grams: float, units: Units) -> str:
    """A mass in grams; where inches are used, one that was typed in ounces in those: no gram has four places."""
    if units == "in" and abs(grams - round(grams, 2)) > 1e-5:
        ounces = convert(grams, "g", "oz")
        if abs(ounces * 20 - round(ounces * 20)) < 1e-3:
            return f"{plain_number(ounces)} oz"
    return f"{plain_number(grams)} g"


def show_yarn_length(metres: float, units: Units) -> str:
    """A length of yarn: metres, or yards where inches are used."""
    if units == "in":
        return f"{plain_number(convert(metres, 'm', 'yd'), 0)} yd"
    return f"{plain_number(metres, 0)} m"


def show_needle(mm: float, names: NeedleNames) -> str:
    """A needle size: ``4 mm``; with US or UK names ``US 6 (4 mm)``."""
    size = needles.find(mm)
    label = {"us": size.us if size else "", "uk": size.uk if size else ""}.get(names, "")
    return f"{names.upper()} {label} ({mm:g} mm)" if label else f"{mm:g} mm"
