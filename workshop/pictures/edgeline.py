"""One edge of a piece on its way up: what happens to it row by row, and the line that is drawn of it.

Single stitches that go every few rows are drawn as the slope that they make in the cloth; the line passes through
the middle of every step, so that it has as much cloth on either side of it as the knitting. Stitches bound off (or
cast on) at once after a plain stretch stay a step. Bind-offs that end the edge are the slope of a shoulder.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from workshop.core.making.cloth import Cloth
from workshop.pictures.outline import Point
from workshop.records import record

SHARP_STITCHES = 3
"""Bound off at once, so many stitches or more are drawn as a step."""

PLAIN_ROWS = 3.5
"""More rows than this without shaping are a plain stretch."""

SAME_SLOPE = 2.5
"""A gap so many times the one before it begins another slope."""

LAST_STEP = 1.7
"""The last step of a shoulder may be so many times the one before it; what is more is a level stretch at its end."""


LARGE_STEP = 6
"""So many stitches at once in a plain row are a step between two parts, not a slope."""


@record
class Step:
    """At height ``y`` the edge goes from ``before`` to ``after``."""

    y: float
    before: float
    after: float
    bound: bool
    sharp: bool


@dataclass(slots=True)
class EdgeLine:
    """Collects the steps of an edge. ``row_cm`` and ``stitch_cm`` say how large row and stitch are."""

    start: Point
    row_cm: float
    stitch_cm: float
    corner: bool = False
    """It begins at the corner of a neck: its first slope begins there at once."""
    smooth: bool = False
    """Nothing but slopes: no step however large."""
    neck: bool = False
    """It ends at the neck and so never in the slope of a shoulder."""
    x: float = field(init=False)
    steps: list[Step] = field(init=False, default_factory=list)
    bulges: list[tuple[float, float, float]] = field(init=False, default_factory=list)
    """From where to where it lies further out than its stitches say, and by how much: a panel is of other stitches."""

    def __post_init__(self) -> None:
        self.x = self.start[0]

    @property
    def _last_y(self) -> float:
        return self.steps[-1].y if self.steps else self.start[1]

    def move(self, y: float, by: float, *, bound: bool = False, sharp: bool = False) -> None:
        """Move the edge by so many cm. ``bound``: at once; ``sharp``: a step whatever stands beside it."""
        if abs(by) < 1e-9:
            return
        if not self.steps and y <= self.start[1] + 1e-9:  # in the first row: the edge begins there
            self.x += by
            self.start = (self.x, self.start[1])
            return
        if self.steps and abs(self.steps[-1].y - y) < 1e-9:
            self._join(by, bound=bound, sharp=sharp)
            return
        after_plain = not self.steps or y - self._last_y > PLAIN_ROWS * self.row_cm
        large = bound and abs(by) > (SHARP_STITCHES - 0.5) * self.stitch_cm
        is_sharp = sharp or (large and after_plain and not self.corner)
        self.steps.append(Step(y, self.x, self.x + by, bound, is_sharp and not self.smooth))
        self.x += by

    def bulge(self, bottom: float, top: float, by: float) -> None:
        """Let it lie further out by so many cm between two heights."""
        if self.bulges and abs(self.bulges[-1][1] - bottom) < 1e-9 and self.bulges[-1][2] == by:
            bottom = self.bulges.pop()[0]
        self.bulges.append((bottom, top, by))

    def _out(self, y: float) -> float:
        """How much further out it lies at a height."""
        return sum(by for bottom, top, by in self.bulges if bottom - 1e-9 <= y < top - 1e-9)

    def _join(self, by: float, *, bound: bool, sharp: bool) -> None:
        """Two things in one row are one step."""
        last = self.steps.pop()
        self.x += by
        if abs(self.x - last.before) > 1e-9:
            sharp = (last.sharp or sharp) and not self.smooth
            self.steps.append(Step(last.y, last.before, self.x, last.bound or bound, sharp))

    def through(self, rows: Iterable[tuple[float, float]]) -> float:
        """Go on through rows, each so far from the middle and so high; gives the height of their end.

        What changes by much at once is a step, but at the corner of a neck.
        """
        y = self.start[1]
        for x, height in rows:
            much = not self.corner and abs(x - self.x) > (LARGE_STEP / 2 - 0.1) * self.stitch_cm
            self.move(y, x - self.x, sharp=much)
            y += height
        return y

    def mirrored(self) -> "EdgeLine":
        """The same on the other side of the middle."""
        other = replace(self, start=(-self.start[0], self.start[1]))
        other.x, other.steps = -self.x, [replace(s, before=-s.before, after=-s.after) for s in self.steps]
        other.bulges = [(bottom, top, -by) for bottom, top, by in self.bulges]
        return other

    def at(self, y: float) -> float:
        """Where the edge is just above height ``y``."""
        return next((s.after for s in reversed(self.steps) if s.y <= y + 1e-9), self.start[0]) + self._out(y)

    def shoulder(self, top: float) -> int:
        """How many of the last steps are bind-offs that end the edge: the slope of a shoulder."""
        if self.neck or self.corner:
            return 0
        count, following = 0, top
        for step in reversed(self.steps):
            if not step.bound or following - step.y > PLAIN_ROWS * self.row_cm:
                break
            count, following = count + 1, step.y
        before = self.steps[: len(self.steps) - count]
        if count and before and following - before[-1].y <= PLAIN_ROWS * self.row_cm:
            return 0  # it goes on from other shaping: the top of a cap
        return count

    def points(self, top: float, end_x: float | None = None) -> list[Point]:
        """The line from the start to height ``top``; a shoulder's slope ends at ``end_x`` where that is near."""
        slope = self.shoulder(top)
        steps = self.steps[: len(self.steps) - slope]
        limit = self.steps[-slope].y if slope else top
        points: list[Point] = [self.start]
        run: list[Step] = []
        for step in steps:
            if run and not self._goes_on(run, step):
                self._draw(run, points, (run[-1].y + step.y) / 2)
                run = []
            if step.sharp:
                points += [(step.before, step.y), (step.after, step.y)]
            else:
                run.append(step)
        if run:
            self._draw(run, points, limit)
        if slope:
            points += self._slope(self.steps[-slope:], top, end_x)
        points.append((end_x if slope and end_x is not None else self.x, top))
        return [(x + self._out(y), y) for x, y in points] if self.bulges else points

    def _goes_on(self, run: list[Step], step: Step) -> bool:
        last = run[-1]
        if step.sharp or (step.after - step.before) * (last.after - last.before) < 0:
            return False
        gap = step.y - last.y
        return self.smooth or len(run) < 2 or gap <= SAME_SLOPE * (last.y - run[-2].y) + 1e-9

    def _draw(self, run: list[Step], points: list[Point], limit: float) -> None:
        """A slope through the middle of its steps; half a gap before the first and after the last it is plain."""
        first, last = run[0], run[-1]
        lead = (run[1].y - first.y) / 2 if len(run) > 1 else self.row_cm
        tail = (last.y - run[-2].y) / 2 if len(run) > 1 else self.row_cm
        at_corner = self.corner and len(points) == 1
        if not at_corner:
            points.append((first.before, max(points[-1][1], first.y - lead)))
        points += [((s.before + s.after) / 2, max(s.y, points[-1][1])) for s in run]
        points.append((last.after, max(points[-1][1], min(limit, last.y + tail))))

    @staticmethod
    def _slope(steps: list[Step], top: float, end_x: float | None) -> list[Point]:
        last = steps[-1]
        if end_x is not None and abs(end_x - last.after) <= LAST_STEP * abs(last.after - last.before):
            return [(steps[0].before, steps[0].y)]
        return [*((s.before, s.y) for s in steps), (last.after, top)]


def edge_at(start: Point, cloth: Cloth, *, corner: bool = False, smooth: bool = False) -> EdgeLine:
    """A new edge in a cloth."""
    return EdgeLine(start, cloth.along_cm(1), cloth.across_cm(1), corner, smooth)
