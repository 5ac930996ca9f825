"""Text in lines of a given width, with every figure beside its unit."""

import re
import textwrap

FIXED = "\N{NO-BREAK SPACE}"
"""Holds two words together while lines are made; it never leaves this module."""

UNITS = "cm|mm|m|in|g|oz|yd|ft|lb|tex|sts?|stitch|stitches|rows?|rounds?|places?|balls?"
"""Words that stay beside their number."""

_HELD = tuple(
    re.compile(pattern)
    for pattern in (
        rf"(?<=[\d½¼¾⅛⅜⅝⅞]) (?=(?:{UNITS})\b|%)",  # 12 cm
        r"(?<=\d) (?=[½¼¾⅛⅜⅝⅞])",  # 3 ½
        r"(?<=\d) (?=(?:out )?of \d)|(?<=\d of) (?=\d)|(?<=\d out) (?=of \d)|(?<=\d out of) (?=\d)",  # 4 out of 5
        r"(?<=[=+−±×÷]) (?=\d)",  # + 12
        r"\b(?<=US|UK|Nm) (?=\d)",  # US 6
    )
)


_BEGINS = re.compile(r"\s*- |\s+\S.*?\s{2,}(?=\S)")


def hanging(text: str, width: int) -> list[str]:
    """Lines of a text with lists and two columns: what goes on in the next line stands under where it began."""
    lines: list[str] = []
    for part in text.split("\n"):
        begins = _BEGINS.match(part)
        lines += wrapped(part, width, hang=begins.end() if begins else 0)
    return lines


def wrapped(text: str, width: int, hang: int = 0) -> list[str]:
    """Text in lines of at most ``width`` characters; lines after the first begin ``hang`` characters in.

    A figure is never parted from its unit. Lines that the text itself ends are kept.
    """
    for pattern in _HELD:
        text = pattern.sub(FIXED, text)
    lines: list[str] = []
    for part in text.split("\n"):
        lines += textwrap.wrap(part, max(8, width), subsequent_indent=" " * hang, break_on_hyphens=False) or [""]
    return [line.replace(FIXED, " ") for line in lines]
