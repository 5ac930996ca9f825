"""The drawing model: the outline of a piece in washed cm with its measurements, as plain data.

x grows to the picture's right, y upwards from the hem, which is at the bottom also where the piece was knitted
from the neck down. Right-side rows are worked from the picture's right to its left, so the edge at which they
begin is on the right.
"""

from collections.abc import Iterable
from math import hypot
from typing import Literal

from workshop.records import record

Point = tuple[float, float]

Kind = Literal["across", "along"]
Place = Literal["above", "below", "left", "right", "inside"]


@record
class Measure:
    """One measurement of a drawing. ``value_cm`` is the distance of its points, or twice that where it goes round.

    ``place`` is where its dimension line stands best.
    """

    what: str
    start: Point
    end: Point
    kind: Kind
    place: Place
    round: bool = False
    """The drawing shows half of it, as the garment lies flat; the value is the whole way around."""

    @property
    def value_cm(self) -> float:
        """The measurement in cm."""
        (x1, y1), (x2, y2) = self.start, self.end
        return hypot(x2 - x1, y2 - y1) * (2 if self.round else 1)


@record
class Strip:
    """A panel of another stitch pattern up the middle of a drawing, in cm from its lower edge."""

    bottom: float
    top: float
    width: float


@record
class Stretch:
    """Rows of an outline in another fabric or colour: from one height to another, in cm above its lower edge."""

    bottom: float
    top: float
    name: str = ""
    """Of a band; a stripe has none."""
    shade: int = 0
    """Which colour of the stripes it is, from 0, in the order in which they come."""


@record
class Outline:
    """A closed polygon and what it shows."""

    name: str
    points: tuple[Point, ...]
    measures: tuple[Measure, ...] = ()
    caption: str = ""
    """What to write below it, where that is more than the name."""
    edging_cm: float = 0.0
    """Depth of the edging (hem or cuff) at the lower edge."""
    behind: tuple[Point, ...] = ()
    """A line above it that belongs to the other side of the garment: the raised back of a neck."""
    darts: tuple[tuple[Point, Point], ...] = ()
    """Lines of bust darts inside it, each from its outermost turn to its innermost."""
    opening: tuple[Point, ...] = ()
    """The line at which a front in one piece with the back opens, from the hem up."""
    strip: Strip | None = None
    """The panel up its middle."""
    stretches: tuple[Stretch, ...] = ()
    """Bands and stripes inside it, from the bottom up."""

    @property
    def title(self) -> str:
        """Caption, or name."""
        return self.caption or self.name

    @property
    def width(self) -> float:
        """Width in cm."""
        xs = [x for x, _ in self.points]
        return max(xs) - min(xs)

    @property
    def height(self) -> float:
        """Height in cm."""
        ys = [y for _, y in self.points]
        return max(ys) - min(ys)

    @property
    def reach(self) -> float:
        """Height in cm with what lies behind it."""
        return max([self.height, *(y - self.box[1] for _, y in self.behind)])

    @property
    def box(self) -> tuple[float, float, float, float]:
        """Left, bottom, right and top in cm."""
        xs, ys = [x for x, _ in self.points], [y for _, y in self.points]
        return min(xs), min(ys), max(xs), max(ys)

    def measure(self, what: str) -> Measure | None:
        """A measurement by its name, or None."""
        return next((m for m in self.measures if m.what == what), None)


def across(what: str, left: Point, right: Point, place: Place, *, whole_round: bool = False) -> Measure:
    """A width."""
    return Measure(what, left, right, "across", place, whole_round)


def along(what: str, x: float, bottom: float, top: float, place: Place) -> Measure:
    """A height at ``x``."""
    return Measure(what, (x, bottom), (x, top), "along", place)


def worth_drawing(measures: Iterable[Measure]) -> tuple[Measure, ...]:
    """Without measurements of nothing: under a millimetre."""
    return tuple(m for m in measures if m.value_cm > 0.1)


def closed(points: Iterable[Point]) -> tuple[Point, ...]:
    """A polygon without doubled points and without points on the straight line between their neighbours."""
    out: list[Point] = []
    for point in points:
        if out and hypot(point[0] - out[-1][0], point[1] - out[-1][1]) < 1e-6:
            continue
        while len(out) >= 2 and _straight(out[-2], out[-1], point):
            out.pop()
        out.append(point)
    if len(out) > 1 and hypot(out[0][0] - out[-1][0], out[0][1] - out[-1][1]) < 1e-6:
        out.pop()
    return tuple(out)


def _straight(a: Point, b: Point, c: Point) -> bool:
    """Whether the way from a over b to c is straight on, not back."""
    bent = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    onwards = (b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])
    return abs(bent) < 1e-9 and onwards >= 0
