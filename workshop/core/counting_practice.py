"""Counting for practice: a drawn swatch of a hidden gauge, and what a miscount would have done to a sweater."""

from random import Random
from typing import Literal

from workshop.core.calculation import Rounding
from workshop.core.remarks import Remark, Value, cm, percent
from workshop.project import Units
from workshop.records import record
from workshop.tables.trade_rules import USUAL_BODY_CM, USUAL_CHEST_CM

OVER: dict[Units, int] = {"cm": 10, "in": 4}
"""How far apart the pins are in each unit."""

MOST = 60
"""More than this is no count of a drawn swatch, but a slip of the fingers."""

CLOSE_PERCENT = 1.5
"""How near a careful count of one place comes: a quarter stitch in twenty (resolution of reading)."""


FAR = 2.0
"""A count further off than by this factor is no miscount."""


@record
class Practice:
    """A swatch to count: so many stitches (or rows) lie between two pins, 10 cm or 4 in apart.

    ``starts_at`` is how much of the first stitch lies before the first pin.
    """

    along: Literal["stitches", "rows"]
    count: float
    starts_at: float = 0.0
    repeat: int = 0
    """Stitches of a pattern's repeat, where the swatch is in one; 0 for a plain one."""


REPEATS = (4, 5, 6, 0, 0, 0)
"""Repeats of swatches to count; half of them are plain."""


def fresh(chance: Random, *, plain: bool = False) -> Practice:
    """A new swatch, in half stitches or whole rows, between fine and bulky; the first begins at the pin.

    Some are in a pattern, unless ``plain``.
    """
    along: Literal["stitches", "rows"] = chance.choice(("stitches", "stitches", "rows"))
    halves = chance.randrange(26, 45) if along == "stitches" else 2 * chance.randrange(18, 31)
    return Practice(along, halves / 2, repeat=chance.choice(REPEATS) if along == "stitches" and not plain else 0)


def refused(practice: Practice, counted: float) -> str:
    """What is wrong with a count that nobody can have made; empty for one that can be judged."""
    if not 1 <= counted <= MOST:
        return f"a count of {counted:g} can't be right: it should be between 1 and {MOST}"
    if not practice.count / FAR <= counted <= practice.count * FAR:
        return f"{counted:g} is far from what's between the pins. Count each V once, from pin to pin"
    return ""


def judge(practice: Practice, counted: float, units: Units = "cm") -> Remark:
    """How close a count was, and what it would have done to a sweater of 100 cm, or of 40 in.

    Counting too many stitches makes a sweater too wide: with them, more stitches are cast on than the width needs.
    """
    off = 100 * (counted / practice.count - 1)
    hidden = Rounding(ties="up")(practice.count * 4) / 4
    values: dict[str, Value] = {"hidden": f"{hidden:g}", "off": percent(abs(off))}
    what = f"There are {{hidden}} {practice.along} between the pins. {_in_repeats(practice)}"
    if abs(off) < 1e-9:
        return Remark(what + "Your count is exactly right.", values)
    more = "more" if off > 0 else "fewer"
    if practice.along == "rows":
        size = USUAL_BODY_CM[units]
        effect = "A {size} body would have come out {change} too " + ("long" if off > 0 else "short") + "."
    else:
        size = USUAL_CHEST_CM[units]
        effect = "A {size} chest would have come out {change} too " + ("wide" if off > 0 else "narrow") + "."
    near = "Close! " if abs(off) <= CLOSE_PERCENT else ""
    if practice.repeat and abs(counted - practice.count) == practice.repeat:
        near = "You're off by a whole repeat. "
    return Remark(
        f"{what}{near}You counted {{off}} {more} {practice.along} than there are. {effect}",
        {**values, "size": cm(size), "change": cm(abs(size * off / 100))},
    )


def _in_repeats(practice: Practice) -> str:
    """The count of a swatch in a pattern as repeats and what is over."""
    if not practice.repeat:
        return ""
    repeats, over = divmod(practice.count, practice.repeat)
    return f"That's {repeats:g} repeats of {practice.repeat} stitches" + (f" and {over:g} more. " if over else ". ")
