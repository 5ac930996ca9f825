"""The round that sets the rib of a V band, so that sizes share its line: counted from the point to both ends."""

import re
from collections.abc import Sequence

from workshop.core.edgings import Edging
from workshop.words.graded.brackets import DASH

LEFT_OUT = re.compile(rf"\b[kp]{DASH}(?: \((?:{DASH}, )*{DASH}\))?, |, [kp]{DASH}(?: \((?:{DASH}, )*{DASH}\))?(?=[.,])")
"""A step that no size does."""


def from_the_point(text: str, steps: Sequence[str], rib: Edging) -> str:
    """The line of one size with whole repeats on both sides of the point; a dash for what its ends have not.

    Nothing for a rib without its point in this round, and where there are too few repeats to be told so.
    """
    if "k2tog" not in steps or not rib.paired:
        return ""
    at, pair = steps.index("k2tog"), f"k{rib.knits}, p{rib.purls}"
    left, right = (_letters(some) for some in (steps[:at], steps[at + 2 :]))
    beside = f"k{rib.knits}, p{rib.purls - 1}"
    inside, first = divmod(len(left) - (rib.repeat - 1), rib.repeat)
    outside, last = divmod(len(right) - (rib.purls - 1), rib.repeat)
    if min(inside, outside) < 2:
        return ""
    told = (
        f"{_ends(left[:first])}, [{pair}] {inside} times, {beside}, k2tog, ssk, p{rib.purls - 1}, "
        f"[{pair}] {outside} times, {_ends(right[len(right) - last :])}"
    )
    head, rib_told, rest = text.rpartition("rib: ")
    return f"{head}{rib_told}{told}.{rest.partition('.')[2]}"


def without_what_none_does(line: str) -> str:
    """A line of all sizes without the steps that none of them does."""
    return LEFT_OUT.sub("", line)


def _letters(steps: Sequence[str]) -> str:
    return "".join(step[0] * int(step[1:]) for step in steps)


def _ends(letters: str) -> str:
    """Stitches of the rib beside its whole repeats: "k1, p2"."""
    return ", ".join(f"{letter}{letters.count(letter) or DASH}" for letter in "kp")
