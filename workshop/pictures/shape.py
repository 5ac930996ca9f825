"""A piece on its way up: its two edges, and what happens to them."""

from dataclasses import dataclass, field

from workshop.core.making.centre_panels import wider_cm
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Event, Piece, Row
from workshop.core.making.roles import BOTH_EDGES, Edge, other
from workshop.pictures.edgeline import EdgeLine, edge_at
from workshop.pictures.outline import Measure, Place, Point, across


@dataclass(slots=True)
class Shape:
    """A piece on its way up: its edges as worn, and the heights at which things begin."""

    piece: Piece
    cloth: Cloth
    outer: tuple[Edge, ...]
    """The edges that are seams or armholes; half of an open front has one."""
    lines: dict[Edge, EdgeLine] = field(default_factory=dict)
    y: float = 0.0
    underarm: float | None = None
    rows: list[Row] = field(default_factory=list)
    darts: list[tuple[float, Event]] = field(default_factory=list)
    waiting: dict[Edge, int] = field(default_factory=lambda: {"left": 0, "right": 0})
    """Stitches that short rows of a shoulder have left unworked at each edge."""

    def sign(self, edge: Edge) -> int:
        """1 for the edge at the picture's right, -1 for the other."""
        return 1 if edge == self.piece.begins else -1

    def begin(self, stitches: float) -> None:
        """Set both edges at the lower edge, so many visible stitches apart; a half begins at its centre front."""
        width = self.cloth.across_cm(stitches)
        for edge in BOTH_EDGES:
            share = 0.5 if len(self.outer) == 2 else 1.0 if edge in self.outer else 0.0
            self.lines[edge] = self.line((self.sign(edge) * width * share, self.y))
            self.lines[edge].neck = edge not in self.outer

    def line(self, start: Point, *, corner: bool = False) -> EdgeLine:
        """A new edge."""
        return edge_at(start, self.cloth, corner=corner)

    def move(self, edge: Edge, stitches: float, y: float, *, bound: bool = False, sharp: bool = False) -> None:
        """Move an edge outwards by so many stitches."""
        self.lines[edge].move(y, self.sign(edge) * self.cloth.across_cm(stitches), bound=bound, sharp=sharp)

    def widen(self, piece: Piece, row: int, y: float, height: float, part: str = "") -> None:
        """Move both edges outwards, along one row, by what panels are wider than their stitches of the ground."""
        more = wider_cm(piece, row, part) / 2
        for edge in BOTH_EDGES if more else ():
            self.lines[edge].bulge(y, y + height, self.sign(edge) * more)

    @property
    def width(self) -> float:
        """Width in cm, as far as it has come."""
        return abs(self.lines["left"].x - self.lines["right"].x)

    def width_at(self, y: float) -> float:
        """Width in cm just above a height."""
        return abs(self.lines["left"].at(y) - self.lines["right"].at(y))

    def chord(self, what: str, y: float, place: Place, shown_at: float | None = None) -> Measure:
        """The width at a height, as a measurement; ``shown_at``: a height where its line stands more clearly."""
        left, right = (self.lines[edge].at(y) for edge in (other(self.piece.begins), self.piece.begins))
        height = y if shown_at is None else shown_at
        return across(what, (left, height), (right, height), place)

    def span(self) -> tuple[float, float, float]:
        """Leftmost x, middle, and rightmost x that the edges reach."""
        xs = [x for line in self.lines.values() for x in (line.start[0], *(s.after for s in line.steps))]
        return min(xs), (min(xs) + max(xs)) / 2, max(xs)

    def underarm_y(self, top: float) -> float | None:
        """Where the armhole begins: as marked, else the first stitches bound off at the side below the shoulder."""
        if self.underarm is not None:
            return self.underarm
        line = self.lines[self.outer[0]]
        steps = line.steps[: len(line.steps) - line.shoulder(top)]
        return next((s.y for s in steps if s.sharp and s.bound and abs(s.after) < abs(s.before)), None)


def visible(piece: Piece, stitches: float, outer: int) -> float:
    """Stitches without those that the seams take."""
    return stitches - outer * piece.edge_stitches


def even_out(lines: dict[Edge, EdgeLine], begins: Edge) -> None:
    """Draw both sides alike where they differ only by the row that bind-offs at the other edge come later."""
    if len(lines) < 2:
        return
    model, follower = lines[begins], lines[other(begins)]
    pairs = list(zip(model.steps, follower.steps, strict=False))
    alike = len(model.steps) == len(follower.steps) and all(
        abs(a.y - b.y) < 1.01 * model.row_cm and abs(a.before + b.before) + abs(a.after + b.after) < 1e-6
        for a, b in pairs
    )
    if alike:
        follower.steps = model.mirrored().steps
