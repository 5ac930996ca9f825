"""A garment as it lies before one, front up: its pieces put together, from their outlines, and drawn to scale."""

from collections.abc import Sequence
from itertools import pairwise
from math import cos, radians, sin

from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Piece
from workshop.core.making.panel_stitches import without_panels
from workshop.core.making.roles import BACK, FRONT, FRONT_BAND, SLEEVE, WHOLE_BAND, YOKES
from workshop.pictures.blocks import crossings, within
from workshop.pictures.canvas import Canvas, Picture, Texture, fill, garter, knit, rib
from workshop.pictures.outline import Outline, Point
from workshop.pictures.ring import ring
from workshop.pictures.schematic import outline_of
from workshop.records import record

HANGS = radians(66)
"""How steeply the sleeves are laid down."""

SHOULDER_SLOPE = 0.35
"""An edge that rises less than this for its width is a shoulder, and no longer an armhole."""


@record
class Worn:
    """A garment in cm, x from its middle, y from its hem upwards. What is on the right is mirrored."""

    body: tuple[Point, ...]
    underarm: Point
    shoulder: Point
    sleeve: tuple[Point, ...] = ()
    cuff: tuple[Point, ...] = ()
    seams: tuple[tuple[Point, ...], ...] = ()
    """Lines where pieces meet, and rings of a yoke."""
    hem_cm: float = 0.0
    band_cm: float = 0.0
    neck_half: float = 0.0
    back_neck: float = 0.0
    """Height of the middle of the neck at the back."""
    opened: bool = False
    """Whether it has a front to open, with bands."""

    @property
    def top(self) -> float:
        """Its highest point."""
        return max(max(y for _, y in self.body), self.back_neck)

    @property
    def box(self) -> tuple[float, float, float]:
        """Half its width, its lowest and its highest point."""
        points = [*self.body, *self.sleeve, *self.cuff]
        return max(abs(x) for x, _ in points), min(y for _, y in points), self.top + self.band_cm * (not self.neck_half)


def worn(pieces: Sequence[Piece], cloth: Cloth, *, neck_width_cm: float, band_cm: float) -> Worn | None:
    """Put the pieces of a garment together; None where there are none."""
    pieces = without_panels(pieces)
    whole = ring(pieces, cloth)
    fronts = [p for p in pieces if p.role is FRONT and p.rows]
    if whole is None and not fronts:
        return None
    outline = whole or outline_of(fronts[0], pieces, cloth)
    body = _mirrored_halves(outline) if whole is None and len(fronts) > 1 else outline.points
    underarm, shoulder = _corners(outline, body, yoke=whole is not None)
    sleeve, cuff, elbow = _sleeve(pieces, cloth, underarm, shoulder)
    top = max(y for _, y in body)
    if whole is None:
        seams = [_armhole(body, underarm, shoulder)] if sleeve else []
    elif any(_in_rings(p) for p in pieces if p.role in YOKES):
        seams = _rings(underarm, elbow or underarm, (shoulder[0], top))
    else:
        seams = [(underarm, (neck_width_cm / 2, top))]
    return Worn(
        body=tuple(body),
        underarm=underarm,
        shoulder=shoulder,
        sleeve=sleeve,
        cuff=cuff,
        seams=tuple(seams),
        hem_cm=outline.edging_cm,
        band_cm=band_cm if any(p.role.band for p in pieces) else 0.0,
        neck_half=_opening(body),
        back_neck=top if whole else top - _back_drop(pieces, cloth),
        opened=any(p.role in (FRONT_BAND, WHOLE_BAND) for p in pieces),
    )


def _corners(outline: Outline, body: Sequence[Point], *, yoke: bool) -> tuple[Point, Point]:
    """The right underarm in the picture, and the end of the shoulder above it."""
    right = [p for p in body if p[0] > 0]
    to_underarm = outline.measure("to underarm")
    height = to_underarm.end[1] if to_underarm else max(y for _, y in body) / 2
    half = _at(right, height) if yoke else max(x for x, y in right if y <= height + 0.1)
    return (half, height), max(right, key=lambda p: p[1] + SHOULDER_SLOPE * p[0])


def _back_drop(pieces: Sequence[Piece], cloth: Cloth) -> float:
    """How far the back of the neck lies below the shoulders, in cm."""
    back = next((p for p in pieces if p.role is BACK and p.rows), None)
    drop = outline_of(back, pieces, cloth).measure("back neck drop") if back else None
    return drop.value_cm if drop else 0.0


def _at(right: Sequence[Point], y: float) -> float:
    """How far the body reaches at its underarm, where the yoke begins wider."""
    return min(x for x, height in right if abs(height - y) < 0.1)


def _mirrored_halves(half: Outline) -> tuple[Point, ...]:
    """Both fronts as one polygon."""
    right = [p for p in half.points if p[0] > 0.01]
    return (*right, (0.0, min(y for x, y in half.points if x < 0.01 and y > 1)), *((-x, y) for x, y in reversed(right)))


def _opening(body: Sequence[Point]) -> float:
    """Half the width of the neck opening at the top, 0 where the top is straight."""
    just_below = max(y for _, y in body) - 0.6
    crossed = [x for x in crossings(just_below, body) if x > 0]
    return crossed[0] if len(crossed) > 1 else 0.0


def _in_rings(piece: Piece) -> bool:
    """Whether a yoke decreases all round and not at raglan lines."""
    return not any(e.line for row in piece.rows for e in row.events if e.do in ("decrease", "increase"))


def _rings(underarm: Point, elbow: Point, neck: Point) -> list[tuple[Point, ...]]:
    """Rounds of a yoke, as they lie from shoulder to shoulder over the front."""
    found = []
    for share in (0.25, 0.55, 0.85):
        end = (neck[0] + (elbow[0] - neck[0]) * share, neck[1] + (elbow[1] - neck[1]) * share)
        low = neck[1] - (neck[1] - underarm[1]) * share
        steps = [i / 6 for i in range(7)]
        found.append(tuple((end[0] * s, low + (end[1] - low) * s**3) for s in steps))
    return found


def _armhole(body: Sequence[Point], underarm: Point, shoulder: Point) -> tuple[Point, ...]:
    """The seam of a sleeve: the edge of the body from the underarm to the shoulder."""
    between = [p for p in body if underarm[1] - 0.1 <= p[1] <= shoulder[1] and p[0] >= shoulder[0] - 0.1]
    return (underarm, *sorted(between, key=lambda p: (p[1], -p[0])), shoulder)


def _sleeve(
    pieces: Sequence[Piece], cloth: Cloth, underarm: Point, shoulder: Point
) -> tuple[tuple[Point, ...], tuple[Point, ...], Point | None]:
    """The right sleeve in the picture, folded along its length and laid down; its cuff; where it is widest."""
    piece = next((p for p in pieces if p.role is SLEEVE and p.rows), None)
    if piece is None:
        return (), (), None
    shape = outline_of(piece, pieces, cloth)
    measure = shape.measure("to underarm") or shape.measure("length")
    long = measure.value_cm if measure else shape.height
    widest = max(abs(x) for x, y in shape.points if y <= long + 0.1)
    narrow = max(abs(x) for x, y in shape.points if y < 0.1)
    along, out = (cos(HANGS), -sin(HANGS)), (sin(HANGS), cos(HANGS))

    def at(down: float, across: float) -> Point:
        return (underarm[0] + along[0] * down + out[0] * across, underarm[1] + along[1] * down + out[1] * across)

    edging = min(shape.edging_cm, long)
    top = at(0, widest)
    sleeve = (shoulder, top, at(long - edging, narrow), at(long - edging, 0), underarm, (shoulder[0], underarm[1]))
    cuff = (at(long - edging, narrow), at(long, narrow), at(long, 0), at(long - edging, 0)) if edging else ()
    return sleeve, cuff, top


def worn_picture(garment: Worn, columns: int, rows: int, *, ribbed: bool = True) -> Picture:
    """The garment as large as there is room for: knit in V's, its edgings in rib or in ridges."""
    half, low, high = garment.box
    size = max(2 * half / columns, (high - low) / (2 * rows))  # cm to a dot
    wide = min(columns, 2 * max(1, round(half / size)) + 1)
    tall = min(rows, max(1, -(-round((high - low) / size) // 2)))
    canvas = Canvas(wide, tall)
    middle = wide / 2

    def placed(points: Sequence[Point], side: int = 1) -> list[Point]:
        return [(middle + side * x / size, (high - y) / size) for x, y in points]

    cloth, edging = knit(), rib() if ribbed else garter()
    for side in (1, -1):
        if garment.sleeve:
            fill(canvas, placed(garment.sleeve, side), cloth)
        if garment.cuff:
            fill(canvas, placed(garment.cuff, side), edging)
    body = placed(garment.body)
    hem_from = (high - garment.hem_cm) / size if garment.hem_cm else float("inf")
    fill(canvas, body, lambda x, y: edging(x, y) if y + 0.5 >= hem_from else cloth(x, y))
    for line in garment.seams:
        for side in (1, -1):
            points = placed(line, side)
            for a, b in pairwise(points):
                canvas.line(a, b, "cloth-seam", within_ink=True)
    _neck(canvas, garment, body, size, high, edging)
    if garment.opened:
        _opening_band(canvas, garment, size, high)
    return canvas.lines()


def _neck(canvas: Canvas, garment: Worn, body: Sequence[Point], size: float, high: float, edging: Texture) -> None:
    """What is seen in the neck: its band, and behind it the back."""
    middle, band, half = canvas.columns / 2, garment.band_cm / size, garment.neck_half / size
    if not half:
        _straight_band(canvas, garment, size, high, edging)
        return
    back_from, reach = (high - garment.back_neck) / size, max(1, round(band)) if band else 0
    solid = [[within(x + 0.5, level) for x in range(canvas.columns)] for level in _levels(canvas, body)]
    for y, row in enumerate(solid):
        if any(row) and all(row[round(middle - half) : round(middle + half)]):
            break  # below the neck
        for x, cloth in enumerate(row):
            if abs(x + 0.5 - middle) >= half or cloth:
                continue
            if reach and _near(x, y, reach, solid):
                canvas.dot(x, y, edging(x, y))
            elif y + 0.5 >= back_from - band:
                canvas.dot(x, y, edging(x, y) if y + 0.5 < back_from and band else "cloth-inside")


def _straight_band(canvas: Canvas, garment: Worn, size: float, high: float, edging: Texture) -> None:
    """A band that stands on a straight top."""
    reach, top = garment.shoulder[0] / size, round((high - max(y for _, y in garment.body)) / size)
    for y in range(top if garment.band_cm else 0):
        for x in range(canvas.columns):
            if abs(x + 0.5 - canvas.columns / 2) < reach:
                canvas.dot(x, y, edging(x, y))


def _levels(canvas: Canvas, body: Sequence[Point]) -> list[list[float]]:
    """Where each row of dots crosses the body."""
    return [crossings(y + 0.5, body) for y in range(2 * canvas.rows)]


def _near(x: int, y: int, reach: int, solid: list[list[bool]]) -> bool:
    """Whether there is cloth within a reach below a dot of the neck, or beside it."""
    slant = max(1, round(0.7 * reach))
    steps = ((-reach, 0), (reach, 0), (0, reach), (-slant, slant), (slant, slant))
    return any(0 <= y + dy < len(solid) and 0 <= x + dx < len(solid[0]) and solid[y + dy][x + dx] for dx, dy in steps)


def _opening_band(canvas: Canvas, garment: Worn, size: float, high: float) -> None:
    """The bands of an open front, one over the other, with buttons."""
    neck = min((y for x, y in garment.body if abs(x) < 0.3 * garment.shoulder[0] and y > garment.hem_cm), default=high)
    middle, half = canvas.columns // 2, max(1, round(garment.band_cm / size / 2))
    first = max(0, int((high - neck) / size))
    for y in range(first, 2 * canvas.rows):
        for x in range(middle - half, middle + half + 1):
            if canvas.dots[y][x]:
                canvas.dot(x, y, "edging" if x > middle - half else "cloth-seam")
    last = int(high / size) - 2
    for y in range(first + 1, last, max(3, (last - first) // 5)):
        canvas.text(middle, y // 2, "•", "button/edging")
