"""What the weighings say of the yarn that is in the pieces, and of what is left.

Each weighing is of the stitches that were knitted then. One before the first row is the start: with it the labels are
not needed. Balls that are added between two weighings part them: the grams between those two say nothing.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise
from math import hypot, sqrt

from workshop.core.knitting.yarn_left import DIFFERENCE_SD_G, SCALE_SD_G, Basis, YarnLeft, yarn_left
from workshop.core.plan import Plan
from workshop.project import Weighing

Known = Sequence[tuple[Weighing, int]]
"""Weighings, each with the stitches that were knitted then."""


def yarn_found(plan: Plan, done: int, in_all: int) -> tuple[YarnLeft, Basis] | None:
    """Whether the yarn lasts, from the last weighing; None where nothing had been knitted then, or is now.

    ``done`` are the stitches that are knitted, ``in_all`` those of the garment. The last weighing is of now where
    nobody noted its stitches.
    """
    weighings = plan.project.weighing
    if not weighings or not done:
        return None
    last = weighings[-1]
    then = done if last.stitches is None else last.stitches
    if then <= 0:
        return None
    earlier = [(w, w.stitches) for w in weighings[:-1] if w.stitches is not None]
    found = _by_weighing([*earlier, (last, then)]) or _by_labels(plan)
    if found is None:
        return None
    used_g, basis, sd_g = found
    left = yarn_left(done=then, in_all=in_all, used_g=used_g, left_g=last.left_g, basis=basis, sd_g=sd_g)
    return replace(left, by_swatch_g=_far_off(left, plan, 1 - then / in_all)), basis


def _far_off(left: YarnLeft, plan: Plan, share: float) -> float | None:
    """Grams that the plan would need for this share of the garment, where the weighing says something else."""
    if plan.yarn is None or plan.yarn.grams is None:
        return None
    low, likely, high = (max(0.0, grams - in_swatches_g(plan)) * share for grams in plan.yarn.grams)
    return likely if left.is_far_from(low, likely, high) else None


def _by_weighing(known: Known) -> tuple[float, Basis, float] | None:
    """Grams in the pieces at the last weighing and their standard deviation; None where only the labels know.

    From the piece that was weighed last and what was knitted since, else from what has left the weighed balls.
    """
    then = known[-1][1]
    of_piece = max((i for i, (one, stitches) in enumerate(known) if (one.pieces_g or 0) > 0 < stitches), default=None)
    since = list(_differences(known[of_piece or 0 :]))
    used_g, stitches = sum(grams for grams, _ in since), sum(knitted for _, knitted in since)
    sd_g = DIFFERENCE_SD_G * sqrt(len(since))
    if of_piece is not None:
        used_g, stitches = used_g + (known[of_piece][0].pieces_g or 0), stitches + known[of_piece][1]
        sd_g = hypot(SCALE_SD_G, sd_g)
    if used_g <= 0 or stitches <= 0:
        return None
    share = then / stitches  # what was knitted while nobody weighed took as much
    return used_g * share, "difference" if of_piece is None else "piece", sd_g * share


def _differences(known: Known) -> Iterator[tuple[float, int]]:
    """Grams and stitches from one weighing to a later one, between which no balls were added.

    Where no stitch was knitted, or yarn became more by knitting, it went elsewhere or came from there.
    """
    for (before, stitches_before), (after, stitches_after) in pairwise(known):
        grams, stitches = before.left_g - after.left_g, stitches_after - stitches_before
        if not _differ(before, after) and grams * stitches > 0:
            yield grams, stitches


def _differ(before: Weighing, after: Weighing) -> bool:
    """Whether the balls of two weighings are known not to be the same."""
    return None not in (before.had_g, after.had_g) and before.had_g != after.had_g


def _by_labels(plan: Plan) -> tuple[float, Basis, None] | None:
    start, last = labels_g(plan), plan.project.weighing[-1]
    used_g = start - in_swatches_g(plan) - last.left_g if start is not None else 0.0
    return (used_g, "labels", None) if used_g > 0 else None


def begins_anew(plan: Plan) -> bool:
    """Whether balls were added before the last weighing, so that the next one is held against it."""
    for before, last in pairwise(plan.project.weighing[-2:]):
        if before.stitches is not None and last.stitches is not None and last.stitches < before.stitches:
            return False  # what was ripped back is left again
        return last.left_g > before.left_g or (_differ(before, last) and (last.had_g or 0) > (before.had_g or 0))
    return False


def added_g(plan: Plan) -> float:
    """Grams of balls that have been entered since the last weighing, by their labels."""
    had, last = had_g(plan), plan.project.weighing[-1:]
    return max(0.0, had - last[0].had_g) if had is not None and last and last[0].had_g is not None else 0.0


def start_g(plan: Plan) -> float | None:
    """Grams at the beginning, by the labels: balls at home, else those to buy."""
    yarn = plan.project.design_yarn
    balls = (yarn.balls or (plan.yarn.balls if plan.yarn else None)) if yarn else None
    return balls * yarn.ball_g if yarn and balls and yarn.ball_g else None


def had_g(plan: Plan) -> float | None:
    """Grams of all balls so far, by the labels: as at the last weighing, unless balls have been entered since.

    How many balls are to be bought changes with the plan: that adds none.
    """
    yarn, last = plan.project.design_yarn, plan.project.weighing[-1:]
    noted = last[0].had_g if last else None
    return noted if noted is not None and not (yarn and yarn.balls) else start_g(plan)


def labels_g(plan: Plan) -> float | None:
    """Grams by the labels that there were, all together, when the yarn was weighed last."""
    last = plan.project.weighing[-1:]
    return last[0].had_g if last and last[0].had_g is not None else start_g(plan)


def in_swatches_g(plan: Plan) -> float:
    """Grams of these balls that are in the swatches which were counted: by the scale, else as they were planned."""
    yarn = plan.project.design_yarn
    counted = (s for s in plan.swatches if s.gauges and yarn is not None and s.swatch.yarn == yarn.id)
    return sum(s.swatch.grams or (s.plan.grams.value if s.plan.grams else 0.0) for s in counted)
