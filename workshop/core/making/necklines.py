"""Neck shaping: how many stitches are bound off in the middle, and the steps at each neck edge.

Steps are stitches taken off at one neck edge, every second row, counted from the middle outwards. Crew
front and back reproduce a printed reference (neck of 32 and 37 stitches, tests/published).
"""

from dataclasses import dataclass

from workshop.core.working import Rounding


@dataclass(frozen=True, slots=True)
class NeckShaping:
    """``centre`` stitches bound off at once, then ``steps`` at each side."""

    centre: int
    steps: tuple[int, ...]

    @property
    def width(self) -> int:
        """Stitches of the whole opening."""
        return self.centre + 2 * sum(self.steps)


def crew_front(width: int, step_rows: int | None = None) -> NeckShaping:
    """A round front neck: about four tenths in the middle, then 3, 2, 2 and single stitches.

    ``step_rows`` is how many steps there are rows for; with fewer than the shape wants, stitches are
    bound off in larger steps, and what still does not fit goes into the middle.
    """
    _check(width)
    centre = max(Rounding(2, width % 2)(0.4 * width), width % 2)
    steps = _round_steps((width - centre) // 2)
    return _fitted(width, steps, step_rows)


def crew_back(width: int, step_rows: int | None = None) -> NeckShaping:
    """A shallow back neck: 4 and 2 stitches at each side of the middle; less for a narrow neck."""
    _check(width)
    steps = [4, 2] if width >= 24 else [2, 1] if width >= 12 else [1] if width >= 6 else []
    return _fitted(width, steps, step_rows)


def straight(width: int) -> NeckShaping:
    """All stitches at once: the boat neck."""
    _check(width)
    return NeckShaping(width, ())


def _check(width: int) -> None:
    if width < 1:
        raise ValueError(f"a neck of {width} stitches cannot be shaped")


def _round_steps(side: int) -> list[int]:
    """Steps for one side: steep at the middle, single stitches towards the shoulder."""
    first = [3, 2, 2] if side >= 10 else [3, 2] if side >= 7 else [2, 2] if side >= 6 else [2] if side >= 4 else []
    return first + [1] * (side - sum(first))


def _fitted(width: int, steps: list[int], step_rows: int | None) -> NeckShaping:
    """Make the steps fit the rows: join the smallest ones, and move the first into the middle at last."""
    steps = sorted(steps, reverse=True)
    if step_rows is not None:
        while len(steps) > step_rows and steps:
            if steps[0] < 5 and len(steps) >= 2:
                joined = steps.pop() + steps.pop()
                steps = sorted([*steps, joined], reverse=True)
            else:
                steps.pop(0)
    return NeckShaping(width - 2 * sum(steps), tuple(steps))
