"""Short-row shoulders from the top down: how far each row goes."""

from collections.abc import Sequence


def short_row_lengths(steps_from_edge: Sequence[int], centre: int) -> tuple[int, ...]:
    """Stitches worked in each row of a short-row shoulder from the top: both shoulders grow outwards in steps.

    The first row runs from one edge over the middle, the second back over the middle and one step; then
    each row takes one step more, at either side in turn, the steps nearest the neck first. Published: steps
    of 7, 8, 8 beside 29 stitches give 52, 37, 45, 53, 61, 68, 75.
    """
    worked, lengths = centre, [sum(steps_from_edge) + centre]
    for step in reversed(steps_from_edge):
        for _side in ("one", "other"):
            worked += step
            lengths.append(worked)
    return tuple(lengths)
