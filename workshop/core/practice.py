"""Counting for practice: a drawn swatch of a hidden gauge, and what a miscount would have done to a jumper."""

from dataclasses import dataclass
from random import Random
from typing import Literal

from workshop.core.remarks import Remark, Value, cm, percent
from workshop.core.working import Rounding

CHEST_CM = 100.0
"""Chest of the jumper that a miscount is tried on."""

OVER_CM = 10

CLOSE_PERCENT = 1.5
"""How near a careful count of one place comes: a quarter stitch in twenty (resolution of reading)."""


@dataclass(frozen=True, slots=True)
class Practice:
    """A swatch to count: so many stitches (or rows) lie between two pins ``OVER_CM`` apart.

    ``starts_at`` is how much of the first stitch lies before the first pin.
    """

    along: Literal["stitches", "rows"]
    count: float
    starts_at: float = 0.0


def fresh(chance: Random) -> Practice:
    """A new swatch, in half stitches, between fine and bulky; the first stitch begins at the pin."""
    along: Literal["stitches", "rows"] = chance.choice(("stitches", "stitches", "rows"))
    halves = chance.randrange(26, 45) if along == "stitches" else chance.randrange(36, 61)
    return Practice(along, halves / 2)


def judge(practice: Practice, counted: float) -> Remark:
    """How close a count was, and what it would have done to a jumper of 100 cm.

    Counting too many stitches makes a jumper too wide: with them, more stitches are cast on than the width needs.
    """
    off = 100 * (counted / practice.count - 1)
    hidden = Rounding(ties="up")(practice.count * 4) / 4
    values: dict[str, Value] = {"hidden": f"{hidden:g}", "off": percent(abs(off))}
    what = f"{{hidden}} {practice.along} lie between the pins. "
    if abs(off) < 1e-9:
        return Remark(what + "You counted every one of them.", values)
    more = "more" if off > 0 else "fewer"
    if practice.along == "rows":
        change = cm(abs(60.0 * off / 100))
        effect = "A body of 60 cm would have come out {change} too " + ("long" if off > 0 else "short") + "."
    else:
        change = cm(abs(CHEST_CM * off / 100))
        effect = "A chest of 100 cm would have come out {change} too " + ("wide" if off > 0 else "narrow") + "."
    near = "Close: " if abs(off) <= CLOSE_PERCENT else ""
    return Remark(f"{what}{near}You counted {{off}} {more}. {effect}", {**values, "change": change})
