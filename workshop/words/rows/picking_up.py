"""The row of a band that picks its stitches up, edge by edge, in the order in which one walks along them."""

from math import ceil

from workshop.core.making.edges import beyond_rate
from workshop.core.making.ledger import Event, PickedUp, Row
from workshop.words.phrase import counted, joined
from workshop.words.rows.row_actions import stitches
from workshop.words.texts import texts

ALONG = {
    "back": "across the back",
    "front": "around the front",
    "left front": "along the neck edge of the left front",
    "left front edge": "down the straight edge of the left front",
    "left sleeve": "across the left sleeve",
    "point": "at the point of the V",
    "right front": "along the neck edge of the right front",
    "right front edge": "up the straight edge of the right front",
    "right sleeve": "across the right sleeve",
}
"""Where stitches are picked up."""

FEW_ROWS = 8
"""Up to this many rows are counted out without a rate."""


def picking_up(picked: Event) -> str:
    """How many stitches are picked up; along one edge also how, else line by line (``edge_lines``)."""
    text, parts = f"with the right side facing, pick up and knit {stitches(picked.stitches)}", picked.along
    if not parts:  # it was knitted along an edge that has become another since
        return f"{text}."
    told = _how(parts[0], "shoulder", _too_few_rows(parts[0])) if len(parts) == 1 else ""
    return text + (f": {told}." if told else f", edge by edge, as in the next {len(parts)} lines.")


def one_from_each(row: Row) -> str:
    """What a knitter knows before she picks up along stitches that lie across or in steps; empty where none do."""
    parts = row.events[0].along if row.events else ()
    across, steps = any(p.level for p in parts), any(p.steps for p in parts)
    told = [texts("picking_up")["across"]] if across else []
    told += [texts("picking_up")["steps_too" if across else "steps"]] if steps else []
    return " ".join(told)


def edge_lines(row: Row) -> tuple[str, ...]:
    """How stitches are picked up along each of several edges, in their order."""
    parts = row.events[0].along if row.events else ()
    if len(parts) < 2:
        return ()
    end = "raglan line" if any(part.edge.endswith("sleeve") for part in parts) else "shoulder"
    halves = any(_too_few_rows(part) for part in parts if part.sides == 1)  # mirrored halves are told alike
    return tuple(
        f"{part.stitches} {ALONG[part.edge]}: {_how(part, end, halves if part.sides == 1 else _too_few_rows(part))}."
        for part in parts
    )


def _how(part: PickedUp, end: str, beside_steps: bool) -> str:
    """Along one edge, which goes up to a shoulder or a raglan line: what lies across, in steps and along rows."""
    if part.edge == "point":
        return "mark it"
    if part.level == part.stitches:
        return "1 from each stitch" if part.level > 1 else "1 from the stitch"
    if not part.rows and not part.steps:
        return joined([f"{n} {where}" for n, where in ((part.level, "across"), (part.slope, "more at its end")) if n])
    if part.sides == 1 and not part.level and not part.steps:
        included = ", neckband included" if part.edge == "front edge" else ""
        return f"{_rate(part)} of the {part.rows} rows{included}{_beyond(part)}"
    slope = _curve(part) if part.steps and beside_steps else _slope(part, _along_rows(part, end))
    return _both_sides(part, slope) if part.sides == 2 else _one_side(part, slope)


Way = list[tuple[int, str]]
"""How many stitches are picked up where, one place after the other."""


def _one_side(part: PickedUp, slope: Way) -> str:
    """A half of the neck, from its end at the shoulder to the middle, or back."""
    way = [(part.level - part.middle, "across"), *slope, (part.middle, "across")]
    if part.edge.startswith("right"):
        way.reverse()
    return joined([f"{n} {where}" for n, where in way if n])


def _both_sides(part: PickedUp, slope: Way) -> str:
    """An edge whose sides are alike: one of them in full, the middle, and the other in figures."""
    ends = part.level - part.middle
    first = [(ends, "across"), *slope]
    if part.edge == "armhole":  # which begins at its lowest point
        first[1:] = reversed(first[1:])
    told = [f"{(n + 1) // 2} {where}" for n, where in first if n]
    told += [f"{part.middle} across the middle"] if part.middle else []
    back = [str(n // 2) for n, _ in reversed(first) if n > 1]
    return ", ".join(told) + (f", then {joined(back)} along the other side" if back else "")


def _too_few_rows(part: PickedUp) -> bool:
    """Whether there are fewer rows above the steps than stitches along them: some go beside the steps then."""
    return ceil(part.slope / part.sides) > part.rows_above // part.sides


def _slope(part: PickedUp, along: str) -> Way:
    return [(part.slope, along), (part.steps, "along the steps")]


def _curve(part: PickedUp) -> Way:
    """Where a stitch goes in beside many a step: the edge is a curve, of which one side is told."""
    whole = part.slope + part.steps
    steps = ceil(part.steps / part.sides)
    beside = ceil(whole / part.sides) - steps
    return [(whole, f"along the curve ({steps} from the stitches of the steps, {beside} from the rows)")]


def _along_rows(part: PickedUp, end: str) -> str:
    """Along rows, those between any steps and the end of the edge; one side may have a row more than the other."""
    least, uneven = divmod(part.rows_above, part.sides)
    whose = "the " if part.steps or uneven or part.sides == 1 else ""
    where = f" between the {end} and the steps" if part.steps else ""
    if part.edge == "armhole":  # of which the steps are told first
        where = " above them" if part.steps else f" to the {end}"
    more = [f"{counted(least, 'row')} on one side, {least + 1} on the other"] if uneven else []
    more += [_rate(part) + _beyond(part, least if uneven else 0)] if part.rows_above > FEW_ROWS * part.sides else []
    told = f" ({'; '.join(more)})" if more else ""
    return f"along {whose}{'rows' if uneven else counted(least, 'row')}{where}{told}"


def _rate(part: PickedUp) -> str:
    """How many for how many rows."""
    if part.rate == 1:
        return "1 from each"
    return f"about {part.rate.numerator} for every {part.rate.denominator}"


def _beyond(part: PickedUp, least: int = 0) -> str:
    """What comes to a rate or is left out, so that it leads to the count; ``least`` rows are on the shorter side."""
    more = beyond_rate(part.rate, ceil(part.slope / part.sides), part.rows_above / part.sides)
    if part.rate == 1 and least and part.slope == part.sides * least:
        return f", skipping 1 where there are {least + 1}"
    if more < 0 and part.rate == 1:
        return f", skipping {-more}"
    where = "on each side" if part.sides == 2 else "in all"
    if more:
        return f", and {more} more {where}" if more > 0 else f", but {-more} fewer {where}"
    return ""
