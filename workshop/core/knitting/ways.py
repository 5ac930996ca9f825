"""The ways on when a piece has been counted: what each costs, what comes out, and which one is recommended.

Nothing is done by itself: a way is taken only by the knitter's word. Action needs a difference that is real
**and** large enough to matter: an inch on the chest, or an ease that leaves its class.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from math import exp, log
from statistics import fmean

from workshop.core.calculation import EVEN
from workshop.core.cloth.wash import DesignGauge
from workshop.core.knitting.compared import Comparison, likely, predicted_cm
from workshop.core.knitting.doubt import doubt_of
from workshop.core.making.raglan_lines import LINES
from workshop.core.remarks import Amount, Remark, Value, cm, percent
from workshop.project import WayOn
from workshop.records import record
from workshop.tables.needles import steps_from
from workshop.tables.trade_rules import rule

Three = tuple[float, float, float]
"""Low, likely and high, in cm."""

MATTERS_CM = 2.5
"""A finished chest or length so far off is worth doing something about: about an inch (common practice, no source)."""

SAME_CM = 0.05
"""Lengths that differ by less are the same."""

NO_TAPE_CM = 0.25
"""A difference that no tape shows around a body: said, it would be nothing in eighths of an inch."""

MOST_AT_SIDES_CM = 3.0
"""Most that increases at the sides can make up around the body before the flare shows (common practice, no source)."""

EARLY = 0.25
"""Up to this part of all stitches of the garment ripping back is cheaper than wearing the difference (practice)."""

EDGING_KEEPS = 0.06
"""An edging can stay as it is below a body that has up to this part more or fewer stitches (common practice)."""

NEEDLE_SPREAD = 0.01
"""Standard deviation of what a size of needle does to the gauge (method: 4 ± 1 % a size)."""


@record
class Standing:
    """Where the garment stands. Lengths in cm, finished; rows and stitches of the piece that was counted."""

    chest_cm: float
    """Finished chest wanted."""
    chest_stitches: float
    """Stitches that make the chest as planned, without those of the seams; the width of a front band counts as some."""
    length_cm: float
    """Finished length wanted."""
    length_rows: float
    """Rows that make the length as planned."""
    rows_worked: int
    edging_rows: int
    rows_to_underarm: int
    """Rows left before the armholes; 0 where they are passed or the piece has none."""
    share_done: float
    """Part of all stitches of the garment that is knitted."""
    stitches_of_piece: float
    """Part of ``chest_stitches`` that is on this piece."""
    along_lines: bool = False
    """Whether it is a yoke from the neck: stitches go in along its raglan lines, and nothing flares."""
    ease_low_cm: float | None = None
    ease_high_cm: float | None = None
    """The class that the ease is to stay in, as finished chest."""
    hips_cm: float | None = None
    """The finished chest at which the hem is no wider than the hips; None where it was not planned to pass them."""
    others_to_come: bool = False
    """Whether a piece that makes up the chest has not been begun."""
    needle_slope: float | None = None
    """Change of ln gauge for one needle size, from the knitter's own swatches; None: the usual."""
    needle_mm: float | None = None
    """The needle in use."""

    @property
    def is_part(self) -> bool:
        """Whether other pieces make up the chest, too."""
        return self.stitches_of_piece < 0.99 * self.chest_stitches


@record
class Way:
    """One way on."""

    code: WayOn
    chest_cm: Three | None
    length_cm: Three | None
    rows_ripped: int
    remark: Remark
    stitches: int = 0
    """Stitches to make the chest of, where the way changes them."""
    along_lines: bool = False
    """Whether stitches go in along the lines of a yoke: those of the whole body at once."""
    rows_then: int | None = None
    """Rows that the piece at hand has then; None where they stay as they are."""
    recommended: bool = False
    needle_mm: float | None = None
    """The needle from here on, where the way changes it."""
    balls_then: int | None = None
    """Balls that the plan then asks for; None where they are not known."""


def as_is(way: Way) -> Way:
    """A way on as it was worked out."""
    return way


def ways(
    stitches: Comparison | None, rows: Comparison | None, at: Standing, planned: Callable[[Way], Way | None] = as_is
) -> tuple[Way, ...]:
    """All ways that there are, the recommended one marked; each as ``planned`` makes it of a sum, or left out."""
    planned_ways = [way for one in _ways(stitches, rows, at) if (way := planned(one)) is not None]
    found = [way for way in planned_ways if _brings_nearer(way, planned_ways[0], at)]
    best = _recommended(found, stitches, rows, at)
    return tuple(replace(way, recommended=way.code == best) for way in found)


def _brings_nearer(way: Way, going_on: Way, at: Standing) -> bool:
    """Whether a way leads nearer to what is wanted than knitting on does: in the chest, or if that stays in length."""
    if way.code in ("go-on", "other-needle"):
        return True
    for now, then, wanted in (
        (going_on.chest_cm, way.chest_cm, at.chest_cm),
        (going_on.length_cm, way.length_cm, at.length_cm),
    ):
        if now is not None and then is not None and abs(now[1] - then[1]) > SAME_CM:
            return abs(then[1] - wanted) < abs(now[1] - wanted)
    return False


def length_off_cm(rows: Comparison | None, at: Standing) -> float:
    """How much longer than wanted the garment comes out if no row number changes, in cm."""
    return predicted_cm(at.length_rows, rows)[1] - at.length_cm if rows else 0.0


def chest_matters(stitches: Comparison | None, at: Standing) -> bool:
    """Whether the difference across is real and large enough to do something about."""
    if stitches is None or not stitches.real:
        return False
    chest = predicted_cm(at.chest_stitches, stitches)[1]
    low, high = at.ease_low_cm, at.ease_high_cm
    leaves = (low is not None and chest < low <= at.chest_cm) or (high is not None and chest > high >= at.chest_cm)
    return abs(chest - at.chest_cm) > MATTERS_CM or leaves or hem_is_narrow(stitches, at)


def hem_is_narrow(stitches: Comparison | None, at: Standing) -> bool:
    """Whether a hem that was planned to pass the hips comes out narrower than they are."""
    return stitches is not None and at.hips_cm is not None and predicted_cm(at.chest_stitches, stitches)[1] < at.hips_cm


def stitches_that_matter(gauge: DesignGauge, chest_cm: float) -> float:
    """Stitches in 10 cm, fresh from the needles where they were counted so, that change the chest by ``MATTERS_CM``."""
    return (gauge.unwashed_stitches or gauge.stitches).per_10cm * MATTERS_CM / chest_cm


def needle_slope(swatches: Sequence[tuple[float, float, int]]) -> float | None:
    """Change of ln gauge for one needle size, from own swatches: (mm, stitches per 10 cm, number of the size) each.

    The straight line of least squares; None for fewer than two sizes.
    """
    numbers = [float(number) for _, _, number in swatches]
    if len(set(numbers)) < 2:
        return None
    logs = [log(gauge) for _, gauge, _ in swatches]
    middle, mean = fmean(numbers), fmean(logs)
    along = sum((n - middle) * (y - mean) for n, y in zip(numbers, logs, strict=True))
    return along / sum((n - middle) ** 2 for n in numbers)


def _ways(stitches: Comparison | None, rows: Comparison | None, at: Standing) -> Iterator[Way]:
    chest = predicted_cm(at.chest_stitches, stitches) if stitches else None
    length = predicted_cm(at.length_rows, rows) if rows else None
    yield Way("go-on", chest, length, 0, _knit_on(chest, stitches, at))
    as_wanted = likely(at.length_cm, rows.after) if rows else None
    if rows is not None:
        text = "Keep all your stitches, and follow new row numbers from here on, so that the length comes out right."
        yield Way("rows-anew", chest, as_wanted, 0, Remark(text))
    if stitches is not None and (stitches.real or chest_matters(stitches, at)):
        yield from _of_stitches(stitches, at, as_wanted if rows is not None and rows.real else length)


def _knit_on(chest: Three | None, stitches: Comparison | None, at: Standing) -> Remark:
    """What knitting on means; where the chest allows it, that no other needle is wanted."""
    text = "Knit on as planned. There's nothing to rip back, and no number changes."
    if stitches is not None and stitches.outside and not stitches.places_are_enough:
        return Remark(f"{text} Count the stitches in a third place before you change anything.")
    off_cm = abs(chest[1] - at.chest_cm) if chest is not None else 0.0
    if off_cm < NO_TAPE_CM or chest_matters(stitches, at):
        return Remark(text)
    off = f"{text} That's only {{off}} from the {{wanted}} you planned for the chest, so keep your needles."
    return Remark(off, {"off": cm(off_cm), "wanted": cm(at.chest_cm)})


def _of_stitches(stitches: Comparison, at: Standing, length: Three | None) -> Iterator[Way]:
    """The ways that change how many stitches there are, or how wide they are."""
    wanted = EVEN(at.chest_cm * stitches.after_per_10cm / 10)
    more = wanted - round(at.chest_stitches)
    if not more:
        return
    chest, width = predicted_cm(wanted, stitches), abs(more) / stitches.after_per_10cm * 10
    here = max(1, round(abs(more) * at.stitches_of_piece / at.chest_stitches))
    do, turns = ("increase", "flares") if more > 0 else ("decrease", "narrows")
    figures: dict[str, Value] = {"more": Amount(here, "stitches"), "do": do, "turns": turns, "width": cm(width)}
    if at.along_lines and at.rows_to_underarm >= 2 * (abs(more) // LINES + 1):
        text = "Keep your needles, and increase {more} {than} than planned along the raglan lines, before the "
        text += "underarms. What you've knitted stays."
        all_more = {**figures, "more": Amount(abs(more), "stitches"), "than": "more" if more > 0 else "fewer"}
        yield Way("sides", chest, length, 0, Remark(text, all_more), wanted, along_lines=True)
    elif width <= MOST_AT_SIDES_CM and at.rows_to_underarm >= abs(more) * 2:
        text = "Keep your needles, and {do} {more} at the sides before the underarms"
        text += ". The other pieces change too. " if at.is_part else ". "
        text += "What you've knitted stays, so the body {turns} by {width} in all."
        yield Way("sides", chest, length, 0, Remark(text, figures), wanted)
    if 0 < at.edging_rows < at.rows_worked and abs(more) <= EDGING_KEEPS * at.chest_stitches:
        ripped = at.rows_worked - at.edging_rows
        text = "Rip back to the edging, {rows}. The row above it gets {number} {than} "
        text += "stitches." if here > 1 else "stitch."
        text += " The other pieces change too." if at.is_part else ""
        than = "more" if more > 0 else "fewer"
        remark = Remark(text, figures | {"rows": Amount(ripped, "rows"), "number": str(here), "than": than})
        yield Way("above-edging", chest, length, ripped, remark, wanted)
    text = "Begin this piece again with new stitch and row counts, planned from what you've just counted."
    yield Way("begin-again", chest, length, at.rows_worked, Remark(text), wanted)
    yield from _other_needle(stitches, at)
    if at.others_to_come:
        own, rest = predicted_cm(at.stitches_of_piece, stitches), predicted_cm(at.chest_stitches, stitches)[1]
        half = at.chest_cm * (1 - at.stitches_of_piece / at.chest_stitches)
        mixed = likely(own[1] + half, stitches.after)
        text = "Keep this piece, and plan the other pieces from your count. You'd still be {off} off at the chest."
        yield Way("other-pieces", mixed, length, 0, Remark(text, {"off": cm(abs(rest - at.chest_cm) / 2)}))


def _other_needle(stitches: Comparison, at: Standing) -> Iterator[Way]:
    """Another needle from here on, in whole sizes; what that does to the rows is known once they are counted again."""
    slope = abs(at.needle_slope or rule("needle_size_gauge"))
    sizes = round(abs(stitches.log_ratio) / slope)
    if not sizes:
        return
    looser = stitches.log_ratio > 0  # more stitches to 10 cm than the swatch
    gauge = stitches.after_per_10cm * exp(-slope * sizes if looser else slope * sizes)
    doubt = stitches.after + doubt_of((sizes * NEEDLE_SPREAD) ** 2)
    text = (
        "Change to a needle {sizes} {way} from here on. One needle size changes the gauge by about {percent}. "
        "Count again after another {10 cm}. A line will show where the needle changed."
    )
    figures = {
        "sizes": Amount(sizes, "sizes"),
        "way": "larger" if looser else "smaller",
        "percent": percent(100 * slope),
    }
    chest = likely(at.chest_stitches / gauge * 10, doubt)
    new_mm = steps_from(at.needle_mm, sizes if looser else -sizes) if at.needle_mm else None
    yield Way("other-needle", chest, None, 0, Remark(text, figures), needle_mm=new_mm)


def _recommended(found: Sequence[Way], stitches: Comparison | None, rows: Comparison | None, at: Standing) -> WayOn:
    codes = {way.code for way in found}
    if not chest_matters(stitches, at):
        too_far = rows is not None and rows.real and abs(length_off_cm(rows, at)) > MATTERS_CM
        return "rows-anew" if too_far and "rows-anew" in codes else "go-on"
    below = hem_is_narrow(stitches, at) and not at.along_lines  # what goes in above the hem leaves it as it is
    rip: list[WayOn] = ["above-edging", "begin-again"] if at.share_done <= EARLY else []
    order: list[WayOn] = [*rip, "sides", "other-pieces"] if below else ["sides", *rip, "other-pieces"]
    keeps: WayOn = "rows-anew" if rows is not None and rows.real and "rows-anew" in codes else "go-on"
    return next((code for code in order if code in codes), keeps)
