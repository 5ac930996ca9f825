"""The outline of a piece from its ledger, in washed cm, right side up, hem at the bottom.

x grows to the picture's right, y upwards. Right-side rows are worked from the picture's right to its left,
so the edge at which they begin is on the right.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from workshop.core.making.edges import Cloth
from workshop.core.making.ledger import Event, Piece

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed polygon and what it shows."""

    name: str
    points: tuple[Point, ...]

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


@dataclass(slots=True)
class _Edges:
    """Left and right edge of the picture as points, while rows are walked through."""

    left_x: float
    right_x: float
    left: list[Point]
    right: list[Point]


def outline(piece: Piece, pieces: Sequence[Piece], cloth: Cloth) -> Outline:
    """Outline of a piece with what it grew out of and the shoulders that it divides into."""
    parent = next((p for p in pieces if p.name == piece.came_from), None)
    if parent is None:
        start = piece.cast_on or piece.widest
        half = cloth.across_cm(start - 2 * piece.edge_stitches) / 2
        edges = _Edges(-half, half, [(-half, 0.0)], [(half, 0.0)])
    else:  # half of a body that was in the round
        half = cloth.across_cm(parent.cast_on / 2) / 2
        edges = _Edges(-half, half, [(-half, 0.0)], [(half, 0.0)])
        _walk(parent, cloth, edges, share=0.5)
    top = _walk(piece, cloth, edges)
    shoulders = [p for p in pieces if p.came_from == piece.name and "shoulder" in p.name]
    if not shoulders:
        return Outline(piece.name, _closed(edges.left, edges.right))
    return Outline(piece.name, _with_shoulders(piece, shoulders, cloth, edges, top))


def _closed(left: list[Point], right: list[Point]) -> tuple[Point, ...]:
    return tuple(_tidy([*right, *reversed(left)]))


def _tidy(points: list[Point]) -> list[Point]:
    """Without points that lie on the straight line between their neighbours."""
    out: list[Point] = []
    for point in points:
        while len(out) >= 2 and _straight(out[-2], out[-1], point):
            out.pop()
        if not out or out[-1] != point:
            out.append(point)
    return out


def _straight(a: Point, b: Point, c: Point) -> bool:
    return abs((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])) < 1e-9


def _walk(piece: Piece, cloth: Cloth, edges: _Edges, share: float = 1.0) -> float:
    """Walk the rows; move the outer edges by ``share`` of what happens. Gives the height reached."""
    y = cloth.along_cm(piece.rows[0].row - 1) if piece.rows else 0.0
    for row in piece.rows:
        for event in row.events:
            left, right = _moves(event, piece)
            edges.left_x -= cloth.across_cm(left * share)
            edges.right_x += cloth.across_cm(right * share)
        edges.left.append((edges.left_x, y))
        edges.right.append((edges.right_x, y))
        y = cloth.along_cm(row.row)
        edges.left.append((edges.left_x, y))
        edges.right.append((edges.right_x, y))
    return y


def _moves(event: Event, piece: Piece) -> tuple[float, float]:
    """Stitches that the picture's left and right edge move outwards by."""
    if event.do in ("hold", "short-row") or event.where in ("centre", "neck-left", "neck-right"):
        return 0.0, 0.0
    sign = 1 if event.change >= 0 else -1
    if event.where == "both":
        return sign * event.stitches, sign * event.stitches
    if event.where in ("left", "right"):
        on_right = event.where == piece.begins
        return (0.0, sign * event.stitches) if on_right else (sign * event.stitches, 0.0)
    if event.do == "pick-up":
        return 0.0, 0.0
    return sign * event.stitches / 2, sign * event.stitches / 2


def _with_shoulders(
    piece: Piece, shoulders: Sequence[Piece], cloth: Cloth, edges: _Edges, top: float
) -> tuple[Point, ...]:
    """Go up the right shoulder, down into the neck, and up and over the left one."""
    by_edge = {p.name.split(", ")[1].split()[0]: p for p in shoulders}
    right_part = by_edge[piece.begins]
    left_part = by_edge["left" if piece.begins == "right" else "right"]
    right = _neck_edge(right_part, cloth, edges.right_x, -1, top)
    left = _neck_edge(left_part, cloth, edges.left_x, 1, top)
    height = max(y for _, y in (*right, *left))
    points = [*edges.right, (edges.right_x, height), *reversed(right), *left, (edges.left_x, height)]
    return tuple(_tidy([*points, *reversed(edges.left)]))


def _neck_edge(part: Piece, cloth: Cloth, outer_x: float, inwards: int, bottom: float) -> list[Point]:
    """Neck edge of one shoulder from the bottom of the neck to the top. ``inwards``: -1 from the right edge."""
    base = bottom - cloth.along_cm(1)
    stitches = part.cast_on - part.edge_stitches
    x = outer_x + inwards * cloth.across_cm(stitches)
    points = [(x, base)]
    y = bottom
    for row in part.rows:
        taken = sum(e.stitches for e in row.events if e.where in ("neck-left", "neck-right"))
        if taken:
            points.append((x, y))
            x -= inwards * cloth.across_cm(taken)
            points.append((x, y))
        y = cloth.along_cm(row.row)
    points.append((x, y))
    return points


def outlines(pieces: Sequence[Piece], cloth: Cloth) -> tuple[Outline, ...]:
    """Outlines of all pieces that are drawn: not of the parts of one, nor of a second sleeve or a band."""
    return tuple(
        outline(p, pieces, cloth)
        for p in pieces
        if "shoulder" not in p.name and p.name not in ("body", "neckband", "right sleeve")
    )
