"""The wearer's body: own figures, and blanks filled from a published table and marked as such."""

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from typing import Literal

from workshop.core.calculation import Calculation, calculate
from workshop.core.notes import Notes
from workshop.core.remarks import Amount, cm, percent
from workshop.core.sums import figure
from workshop.project import Body, BodyTable, Units
from workshop.records import record
from workshop.tables import bodies
from workshop.tables.trade_rules import curve, definition, for_child
from workshop.tables.yarn_weights import INCH_CM

Origin = Literal["own", "table", "estimate"]

MEASURES = (
    "chest", "high_bust", "waist", "hip", "cross_back", "back_waist", "upper_arm", "wrist",
    "armhole_depth", "sleeve_underarm", "neck_to_cuff", "neck", "head",
)  # fmt: skip
"""Every body measurement, in the order of the save file."""

FULL_OVER_HIGH_CM = 5.0
"""Full bust less high bust (2 in) that size tables are made for; more is fullness, not frame (method: high bust)."""

CURVES = ("wrist", "back_waist", "cross_back", "sleeve_underarm")
"""Measures that a curve over the chest fills where no table has them."""

TABLE_TOLERANCE = 0.2
"""An own figure further than this from the table's for the same chest is asked about (common practice)."""


@record
class Measure:
    """One measurement in cm, where it comes from, and how a table's figure is known."""

    id: str
    value_cm: float
    origin: Origin
    how: str = ""


@record
class Wearer:
    """The body with all blanks filled that can be filled."""

    measures: Mapping[str, Measure]
    table: BodyTable | None
    size: str | None
    child: bool

    def cm(self, measure: str) -> float | None:
        """A measurement in cm, or None."""
        found = self.measures.get(measure)
        return found.value_cm if found else None


def resolve(body: Body, notes: Notes) -> Wearer:
    """The wearer that a body table, a size and own figures describe. Own figures win."""
    size = bodies.find_size(body.table, body.size) if body.table and body.size else None
    found: dict[str, Measure] = {}
    for measure in MEASURES:
        own = getattr(body, f"{measure}_cm")
        if own is not None:
            found[measure] = Measure(measure, own, "own")
            continue
        frame = _frame_cm(body, found)
        filled = _from_table(body.table, size, measure, frame, notes) if body.table else None
        if filled is None and measure in CURVES and frame is not None:
            working = notes.record(curve_working(measure, f"body.{measure}", frame))
            filled = Measure(measure, working.value, "estimate", "memory")
        if filled is not None:
            found[measure] = filled
    return Wearer(found, body.table, size, for_child(body))


LEAST_HIGH_OF_FULL = 0.75
"""A high bust below this part of the full bust is asked about (common practice, no source)."""


def _frame_cm(body: Body, found: Mapping[str, Measure]) -> float | None:
    """The girth that sizes go by: the chest, or the high bust and 5 cm where the bust is fuller than that."""
    chest = found["chest"].value_cm if "chest" in found else None
    if body.high_bust_cm is None:
        return chest
    if chest is not None and body.high_bust_cm < LEAST_HIGH_OF_FULL * chest:
        return chest  # asked about: nothing is filled in from a slip of the tape
    frame = body.high_bust_cm + FULL_OVER_HIGH_CM
    return min(chest, frame) if chest is not None else frame


def _from_table(
    table: BodyTable, size: str | None, measure: str, frame_cm: float | None, notes: Notes
) -> Measure | None:
    """The table's figure: of the size where one is chosen, else between the sizes on either side of the girth."""
    if measure == "head":
        return _head(table, size, frame_cm, notes)
    cells = bodies.cells(table, measure)
    if size in cells:
        cell = cells[size]
        read = "read on a page" if cell.how == "read" else "from memory"
        working = calculate(
            f"body.{measure}",
            f"{definition(measure).name.capitalize()}, from the table",
            (figure("lowest", cell.low_cm, "cm") + figure("highest", cell.high_cm, "cm")) / 2,
            "cm",
            source=f"{bodies.called(table)}, size {size}; this figure {read}",
        )
        return Measure(measure, notes.record(working).value, "table", cell.how)
    if not cells or frame_cm is None or measure == "chest":
        return None
    return _between_sizes(table, measure, cells, frame_cm, notes)


def _between_sizes(
    table: BodyTable, measure: str, cells: Mapping[str, bodies.Cell], frame_cm: float, notes: Notes
) -> Measure:
    """The figure on the line between the sizes on either side of the girth."""
    girths = bodies.cells(table, "chest")
    names = [s for s in bodies.sizes(table) if s in cells and s in girths]
    points = [(girths[s].middle_cm, cells[s].middle_cm) for s in names]
    hows = {cells[s].how for s in names}
    label = f"{definition(measure).name.capitalize()}, between two sizes in the table"
    working = line_working(f"body.{measure}", label, points, frame_cm, bodies.called(table))
    return Measure(measure, notes.record(working).value, "estimate", "memory" if "memory" in hows else "read")


def _head(table: BodyTable, size: str | None, frame_cm: float | None, notes: Notes) -> Measure | None:
    """The head of the size, or of all sizes; where each has its own and none is chosen, between them by the girth."""
    cells = dict(bodies.heads(table))
    cell = cells.get(size) or cells.get(None)
    if cell is not None:
        return Measure("head", cell.middle_cm, "table", cell.how)
    if frame_cm is None:
        return None
    own = {name: cell for name, cell in cells.items() if name is not None}
    return _between_sizes(table, "head", own, frame_cm, notes)


def line_working(key: str, label: str, points: Sequence[tuple[float, float]], at: float, source: str) -> Calculation:
    """A value on the straight line between the neighbouring points; level beyond the ends."""
    (x0, y0), (x1, y1) = _neighbours(points, at)
    girth = figure("girth", min(max(at, points[0][0]), points[-1][0]), "cm")
    least, most = figure("smaller value", y0, "cm"), figure("larger value", y1, "cm")
    smaller, larger = figure("smaller girth", x0, "cm"), figure("larger girth", x1, "cm")
    value = least + (most - least) * (girth - smaller) / (larger - smaller)
    return calculate(key, label, value, "cm", source=f"{source}; a straight line between the nearest sizes")


def _neighbours(points: Sequence[tuple[float, float]], at: float) -> tuple[tuple[float, float], tuple[float, float]]:
    """The two points on either side of a value; the last two beyond the end."""
    for low, high in pairwise(points):
        if at <= high[0]:
            return low, high
    return points[-2], points[-1]


def curve_working(name: str, key: str, chest_cm: float) -> Calculation:
    """A proportion of the table "proportions" for a chest, in cm."""
    label = f"{name.replace('_', ' ').capitalize()}, based on the chest"
    return line_working(
        key, label, curve(name), chest_cm, "from memory of common practice (workshop tables proportions)"
    )


def check_body(body: Body, wearer: Wearer, units: Units, notes: Notes) -> None:
    """Oddities in what was measured: asked about, never corrected. ``units``: what a bare number was taken for."""
    slip = _check_unit(body, wearer, units, notes)
    if body.table and body.size and wearer.size is None:
        notes.check("size-not-in-table", size=body.size, sizes=", ".join(bodies.sizes(body.table)))
    _check_proportions(wearer, notes)
    _check_bust(wearer, notes)
    if body.table and body.table != "babies" and not slip:  # no table is asked about a chest that is probably a slip
        _check_table(body, body.table, wearer, notes)


def _check_unit(body: Body, wearer: Wearer, units: Units, notes: Notes) -> bool:
    """Whether nobody has such a chest in the unit it was taken for, and many have in the other one."""
    own = wearer.measures.get("chest")
    if own is None or own.origin != "own" or body.table == "babies":
        return False
    chest = own.value_cm
    girths = [c for t in ([body.table] if body.table else ADULT_TABLES) for c in bodies.cells(t, "chest").values()]
    low, high = min(c.low_cm for c in girths), max(c.high_cm for c in girths)
    if units == "cm" and chest < (1 - TABLE_TOLERANCE) * low and chest * INCH_CM <= 1.1 * high:
        notes.check("inches-as-cm.chest", own=cm(chest), number=Amount(chest, ""))
        return True
    if units == "in" and chest > 1.05 * high and chest / INCH_CM >= (1 - TABLE_TOLERANCE) * low:
        notes.check("cm-as-inches", own=cm(chest), number=Amount(chest / INCH_CM, ""))
        return True
    return False


ADULT_TABLES: tuple[BodyTable, ...] = ("women", "men")


def _filled_in(wearer: Wearer, measure: str) -> bool:
    """Whether a measure is there and not the knitter's own."""
    found = wearer.measures.get(measure)
    return found is not None and found.origin != "own"


def _check_bust(wearer: Wearer, notes: Notes) -> None:
    """A bust fuller than size tables are made for: the frame goes by the high bust."""
    full, high = wearer.cm("chest"), wearer.cm("high_bust")
    if full is None or high is None:
        return
    filled = any(_filled_in(wearer, m) for m in ("upper_arm", "cross_back", "armhole_depth"))
    if high > full:
        notes.check("high-bust-over-full", high=cm(high), full=cm(full))
    elif high < LEAST_HIGH_OF_FULL * full:
        notes.check("high-bust-low", high=cm(high), full=cm(full))
    elif filled and full - high > FULL_OVER_HIGH_CM + 0.1:
        notes.check("full-bust", more=cm(full - high))


PROPORTIONS: tuple[tuple[str, str, str, Callable[[float, float], bool]], ...] = (
    ("cross-back-over-half-chest", "cross_back", "chest", lambda a, b: a > b / 2),
    ("wrist-over-upper-arm", "wrist", "upper_arm", lambda a, b: a > 0.85 * b),
    ("upper-arm-over-half-chest", "upper_arm", "chest", lambda a, b: a > b / 2),
    ("upper-arm-small", "upper_arm", "chest", lambda a, b: a < 0.2 * b),
    ("armhole-deep", "armhole_depth", "chest", lambda a, b: a > 0.36 * b),
    ("armhole-shallow", "armhole_depth", "chest", lambda a, b: a < 0.12 * b),
    ("hip-under-waist", "hip", "waist", lambda a, b: a < 0.8 * b),
    ("sleeve-over-neck-to-cuff", "sleeve_underarm", "neck_to_cuff", lambda a, b: a > 0.75 * b),
)
"""Cross-checks: code, measures a and b, and when they do not agree (common practice, no source)."""


def _check_proportions(wearer: Wearer, notes: Notes) -> None:
    """Where two measures do not agree and at least one is the knitter's own."""
    for code, first, second, wrong in PROPORTIONS:
        a, b = wearer.measures.get(first), wearer.measures.get(second)
        if a is None or b is None or "own" not in (a.origin, b.origin) or not wrong(a.value_cm, b.value_cm):
            continue
        asked = first if a.origin == "own" else second
        if asked != "chest":  # what a table says of a chest that is odd is odd by itself: the chest is asked about
            notes.check(code, asked=asked, a=cm(a.value_cm), b=cm(b.value_cm))


def _check_table(body: Body, table: BodyTable, wearer: Wearer, notes: Notes) -> None:
    """Own figures far from the chosen table's: a slip of the tape, of the unit, or a body of its own."""
    for measure in bodies.MEASURES:
        own = wearer.measures.get(measure)
        if own is None or own.origin != "own":
            continue
        expected = _expected(body, table, wearer, measure)
        if expected is None:
            continue
        off = abs(own.value_cm / expected - 1)
        if off <= TABLE_TOLERANCE:
            continue
        inches = abs(own.value_cm * INCH_CM / expected - 1) <= TABLE_TOLERANCE
        notes.check(
            "far-from-table.inches" if inches else "far-from-table",
            measure=measure,
            name=definition(measure).name.capitalize(),
            own=cm(own.value_cm),
            expected=cm(expected),
            off=percent(round(100 * off)),
            way="more" if own.value_cm > expected else "less",
        )


def _expected(body: Body, table: BodyTable, wearer: Wearer, measure: str) -> float | None:
    cells = bodies.cells(table, measure)
    if wearer.size in cells:
        return cells[wearer.size].middle_cm
    if measure == "chest":
        if not cells:
            return None
        own = wearer.measures["chest"].value_cm
        lowest, highest = min(c.low_cm for c in cells.values()), max(c.high_cm for c in cells.values())
        return min(max(own, lowest), highest)
    frame = _frame_cm(body, wearer.measures)
    filled = _from_table(table, None, measure, frame, Notes())
    return filled.value_cm if filled else None
