"""Plan data as JSON: how numbers are rounded, what a range looks like, and the text."""

import json
import re
from typing import overload

from workshop.visible import TURNS

ACTS = re.compile(rf"[\x7f-\x9f\u2028\u2029\ud800-\udfff{TURNS}]")
"""What a terminal would act on or could not show; JSON has its own way to write them."""


def json_text(data: object) -> str:
    """Data as JSON text. Raises ValueError for a number that JSON does not have."""
    text = json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False)
    return ACTS.sub(lambda found: f"\\u{ord(found[0]):04x}", text)


@overload
def rounded(value: float) -> float: ...
@overload
def rounded(value: None) -> None: ...
def rounded(value: float | None) -> float | None:
    """To four places, which is a thousandth of a millimetre in cm: enough to check with, short enough to read."""
    return None if value is None else round(value, 4)


def low_to_high(values: tuple[float, float, float] | None) -> dict[str, float] | None:
    """The lowest, likeliest and highest of a figure."""
    return dict(zip(("low", "likely", "high"), map(rounded, values), strict=True)) if values else None
