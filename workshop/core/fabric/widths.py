"""Repeats on the width of a body: three ways to fit them, what each costs, and which is taken.

Whole repeats change the width; between plain sides, or running out at the edges, they leave it as it is wished for.
Among even counts of the back, and among odd ones, the stitches over which a pattern repeats grow in equal steps, so the
nearest count of whole repeats is found by arithmetic.
"""

from collections.abc import Mapping
from dataclasses import replace
from math import gcd

from workshop.core.calculation import Rounding
from workshop.core.constructions import construction
from workshop.core.fabric.patterns import Pattern
from workshop.core.garments import GarmentSpec
from workshop.core.garments.body_counts import across_back_plain, around_open, half_of_open, how_worked
from workshop.core.notes import Notes
from workshop.core.remarks import Amount, Value, cm
from workshop.project import Centre, FabricFit
from workshop.records import record

ALIKE_CM = 0.05
"""Costs that differ by less than this are one."""


@record
class Way:
    """One way to fit repeats to the body."""

    fit: FabricFit
    rule: Rounding
    """What the stitches of the back are rounded to."""
    back: int
    """Visible stitches across the back."""
    cost_cm: float
    """How much wider than wished for the garment comes out around the chest; less than nothing: narrower."""


WORDS: Mapping[FabricFit, str] = {
    "whole-repeats": "whole repeats",
    "plain-sides": "whole repeats between plain sides",
    "centred": "repeats cut off at the edges",
    "runs-on": "continuing across the side seams",
}


def run_of(spec: GarmentSpec, pattern: Pattern, back: int, fuller: int) -> tuple[int, int]:
    """The stitches in one row that the pattern runs over, with so many across the back; and those that balance it.

    In the round that is the whole body, and nothing is balanced.
    """
    how = how_worked(spec)
    if how == "round":
        return 2 * back + fuller, 0
    if how == "one":
        return back + 2 * half_of_open(spec, back + fuller) + (2 if pattern.edge_in_pattern else 0), pattern.plus
    return back + (2 if pattern.edge_in_pattern else 0), pattern.plus


def whole_repeats(rule: Rounding, first: int, per_step: int, plus: int, multiple: int) -> Rounding | None:
    """Which counts of a rule make whole repeats; None where none does.

    ``first`` are the stitches of the pattern at the rule's remainder, ``per_step`` those more at each legal count.
    """
    step = multiple // gcd(per_step, multiple)
    at = next((n for n in range(step) if (first + n * per_step - plus) % multiple == 0), None)
    if at is None:
        return None
    return Rounding(rule.multiple * step, (rule.remainder + rule.multiple * at) % (rule.multiple * step))


def centred(pattern: Pattern, centre: Centre) -> Rounding:
    """Which counts have that line of a pattern exactly in their middle: an even or an odd number."""
    between = pattern.plus % 2
    return Rounding(2, between if centre == "between" or pattern.multiple % 2 == 0 else 1 - between)


def ways(spec: GarmentSpec, pattern: Pattern, plain_per_10cm: float | None) -> tuple[Way, ...]:
    """The ways in which repeats fit, whole ones first. Gauges are per 10 cm; of stockinette only where it is known.

    Even or odd goes by the pattern where it must: the row above an edging makes up what the two differ by.
    """
    exact, fuller = across_back_plain(replace(spec, notes=Notes()))
    per_10cm, found = spec.cloth.stitches_per_10cm, []

    def way(fit: FabricFit, rule: Rounding, more_cm: float = 0.0) -> Way:
        back = rule(exact)
        around = 2 * back + fuller if spec.front == "closed" else around_open(spec, back, back + fuller)
        return Way(fit, rule, back, 10 * (around - 2 * exact - fuller) / per_10cm + more_cm)

    def whole(parity: int) -> Rounding | None:
        begin = parity + 2 * (int(exact) // 2)
        run, plus = run_of(spec, pattern, begin, fuller)
        per_step = run_of(spec, pattern, begin + 2, fuller)[0] - run
        return whole_repeats(Rounding(2, begin), run, per_step, plus, pattern.multiple)

    rules = [rule for parity in (0, 1) if (rule := whole(parity)) is not None and rule(exact) > 0]
    if rules:
        found.append(min((way("whole-repeats", r) for r in rules), key=lambda w: abs(w.cost_cm)))
    middle = centred(pattern, spec.project.garment.fabric_centre or "motif")
    run, plus = run_of(spec, pattern, middle(exact), fuller)
    if how_worked(spec) != "round" and run >= pattern.multiple + plus:
        beside = (run - plus) % pattern.multiple
        wider = 10 * beside * (1 / plain_per_10cm - 1 / per_10cm) if plain_per_10cm else 0.0
        found.append(way("plain-sides", middle, (2 if how_worked(spec) == "flat" else 1) * wider))
    found.append(way("centred", middle))
    if how_worked(spec) == "flat" and spec.front == "closed":
        found.append(min((way("runs-on", r) for r in over_seams(pattern)), key=lambda w: abs(w.cost_cm)))
    return tuple(found)


def over_seams(pattern: Pattern) -> list[Rounding]:
    """Which counts of a front and a back that are alike make a pattern run on over both side seams.

    Together they are whole repeats. Half a repeat over in each, and the middle of one is what lies between two in the
    other. Of even and odd counts those come first that have their middle in the pattern.
    """
    multiple = pattern.multiple
    step = multiple // 2 if multiple % 2 == 0 else multiple
    rules = [rule for parity in (0, 1) if (rule := whole_repeats(Rounding(2, parity), parity, 2, 0, step)) is not None]
    exact = [rule for rule in rules if multiple % 2 or (rule.remainder - pattern.plus) % 2 == 0]
    return exact or rules


def cheapest(found: tuple[Way, ...]) -> Way:
    """The way that costs least, of several the one that stands first. What is for seams alone is not offered."""
    offered = [w for w in found if w.fit != "runs-on"]
    least = min(abs(w.cost_cm) for w in offered)
    return next(w for w in offered if abs(w.cost_cm) <= least + ALIKE_CM)


def fitted(spec: GarmentSpec, pattern: Pattern, plain_per_10cm: float | None) -> GarmentSpec:
    """The garment with the width that its repeats need; what the ways cost is noted.

    In the round whole repeats are offered: the pattern would break off where the round begins. Raises Stopped for a
    repeat that is wider than the piece.
    """
    if construction(spec.construction).in_one_piece:
        spec = replace(spec, worked="round")
    found = ways(spec, pattern, plain_per_10cm)
    usual = next(w for w in found if w.fit == "centred")
    room = run_of(spec, pattern, usual.back, 0)[0]
    if pattern.multiple > room:
        spec.notes.stop(
            "pattern-too-wide",
            pattern=pattern.name,
            multiple=Amount(pattern.multiple, "stitches"),
            stitches=Amount(room, "stitches"),
        )
    offered = found[0] if how_worked(spec) == "round" else cheapest(found)
    wish = spec.project.garment.fabric_fit
    taken = next((w for w in found if w.fit == wish), offered)
    _tell(spec, pattern, found, offered, taken)
    return replace(spec, back_repeat=taken.rule, fit=taken.fit)


def _from_the_neck(spec: GarmentSpec) -> bool:
    """Whether front and back are centred each by itself, so that what is cut off is at both sides."""
    return construction(spec.construction).module == "downwards"


def _tell(spec: GarmentSpec, pattern: Pattern, found: tuple[Way, ...], offered: Way, taken: Way) -> None:
    """What every way costs, beside the question that chooses."""
    values: dict[str, Value] = {"pattern": pattern.name, "taken": WORDS[taken.fit], "offered": WORDS[offered.fit]}
    values["stitches"] = Amount(taken.back, "stitches")
    values["chest"] = cm(spec.targets.finished["chest"] + taken.cost_cm)
    costs = {w.fit: cm(abs(w.cost_cm)) for w in found}
    values["centred"] = costs["centred"]
    seams = "runs-on" in costs
    values |= {"seams": costs["runs-on"]} if seams else {}
    never, in_round = "whole-repeats" not in costs, how_worked(spec) == "round"
    if not never:
        values["whole"] = costs["whole-repeats"]
        values |= {} if in_round else {"sides": costs.get("plain-sides", costs["centred"])}
    spec.notes.check(
        "pattern-ways.never"
        if never
        else ("pattern-ways.parts" if _from_the_neck(spec) else "pattern-ways.round")
        if in_round
        else "pattern-ways.seams"
        if seams
        else "pattern-ways",
        **values,
    )
