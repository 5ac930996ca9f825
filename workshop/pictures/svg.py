"""The schematic as SVG: all pieces to one scale with dimension lines, black on white, as wide as an A4 page is printed.

Lengths in the drawing are millimetres on paper.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import combinations, pairwise

from workshop.pictures.blocks import crossings
from workshop.pictures.elements import Spot, document, line, spots, text
from workshop.pictures.outline import Measure, Outline, Point, Stretch
from workshop.pictures.text import amount
from workshop.records import record

Show = Callable[[float], str]

Box = tuple[float, float, float, float]
"""Room that words take on the page: left, top, right, bottom."""

PAGE_WIDTH, MOST_HEIGHT = 178.0, 215.0
"""An A4 page within margins of 16 mm, and as much of its height as leaves room for a heading."""

LARGEST = 2.2
"""Millimetres on paper for a centimetre of cloth, at most: small garments are not blown up."""

BESIDE = 1.4
"""So much smaller a drawing may be for the first two pieces to stand side by side."""

TEXT = 3.2
LINE = 1.2 * TEXT
LETTER = 0.53 * TEXT
"""Height of letters, from line to line, and a letter's mean width."""

OFF = 4.5
"""From the drawing to its dimension lines."""

GAP = 5.0
TITLE = 9.0
ABOVE, BELOW = OFF + 2.4 * LINE, OFF + 3.2 * LINE
LEFT = OFF + LINE + 1.0


@record
class Placed:
    """A drawing at its place on the page: ``x`` and ``y`` are of its lower left corner, in mm."""

    shape: Outline
    x: float
    y: float
    scale: float

    def at(self, point: tuple[float, float]) -> tuple[float, float]:
        """A point of the drawing on the page."""
        left, bottom, _, _ = self.shape.box
        return self.x + (point[0] - left) * self.scale, self.y - (point[1] - bottom) * self.scale


def schematic_svg(
    shapes: Sequence[Outline], title: str, show: Show, note: str = "", *, high: float = MOST_HEIGHT, headed: bool = True
) -> str:
    """All pieces as one SVG document. ``show`` prints a length in the knitter's unit, ``note`` stands below all.

    It is at most ``high`` mm high; ``headed`` where the title stands above it, too.
    """
    if not shapes:
        return _document(20.0, [_text(PAGE_WIDTH / 2, 10, "no pieces yet")], title)
    tiers, scale = _layout(shapes, show, high)
    y, body = (TITLE, [_heading(title)]) if headed else (0.0, [])
    for tier in tiers:
        y += ABOVE + max(s.reach for s in tier) * scale
        spare = PAGE_WIDTH - sum(s.width * scale + LEFT + _right(s, show) for s in tier)
        gap = spare / (len(tier) + 1)
        x = gap
        for shape in tier:
            body += _drawn(Placed(shape, x + LEFT, y, scale), show)
            x += LEFT + shape.width * scale + _right(shape, show) + gap
        y += BELOW
    if note:
        y += LINE
        body.append(_text(0.5, y - 1.0, note, anchor="start"))
    return _document(y, body, title)


def _heading(title: str) -> str:
    """The title, in smaller letters where it is long; wide characters take two letters' room."""
    letters = sum(1 if c.isascii() else 2 for c in title)
    size = min(1.3 * TEXT, (PAGE_WIDTH - 2) / max(1, 0.62 * letters))
    return _text(0.5, TEXT * 1.3, title, size=size, anchor="start", bold=True)


def _layout(shapes: Sequence[Outline], show: Show, most_high: float) -> tuple[list[Sequence[Outline]], float]:
    """How the pieces stand on the page so that they are as large as they can be, and mm to the cm."""
    found: list[tuple[float, int, list[Sequence[Outline]]]] = []
    for count in range(len(shapes)):
        for cuts in combinations(range(1, len(shapes)), count):
            tiers = [shapes[a:b] for a, b in pairwise((0, *cuts, len(shapes)))]
            wide = min(
                (PAGE_WIDTH - sum(LEFT + _right(s, show) for s in t) - GAP * (len(t) - 1)) / sum(s.width for s in t)
                for t in tiers
            )
            high = (most_high - TITLE - len(tiers) * (ABOVE + BELOW)) / sum(max(s.reach for s in t) for t in tiers)
            found.append((min(wide, high, LARGEST), -len(tiers), tiers))
    best = max(found, key=lambda f: (f[0] * (BESIDE if len(f[2][0]) > 1 else 1), f[1]))
    return best[2], max(best[0], 0.2)


def _right(shape: Outline, show: Show) -> float:
    """Room for the labels at the right of a drawing."""
    words = [w for m in shape.measures if m.place == "right" for w in (m.what, amount(m, show))]
    return OFF + 2.0 + LETTER * max(map(len, words), default=0)


def _drawn(placed: Placed, show: Show) -> list[str]:
    shape = placed.shape
    points = spots(map(placed.at, shape.points))
    around = f'<polygon points="{points}" fill="none" stroke="black" stroke-width="0.45" stroke-linejoin="round"/>'
    out = [*_stretches(placed), *_edging(placed), around]
    if shape.behind:
        behind = spots(map(placed.at, shape.behind))
        out.append(
            f'<polyline points="{behind}" fill="none" stroke="black" stroke-width="0.3" stroke-dasharray="1.2,0.8"/>'
        )
    taken: list[Box] = []
    out += _strip(placed, show, taken)
    for start, end in shape.darts:
        out.append(line(placed.at(start), placed.at(end), 0.3, dashes="1.2,0.8"))
    if shape.opening:
        hem, neck = map(placed.at, shape.opening)
        out.append(line(hem, neck, 0.45))
    if shape.darts:
        out += _dart_name(placed, taken)
    out += _band_names(placed, taken)
    right = [m for m in shape.measures if m.place == "right"]
    for measure in sorted(shape.measures, key=lambda m: m.kind):
        if measure.kind == "across" and measure.place != "above":
            out += _across(placed, measure, show, taken)
        elif measure.kind == "along" and measure.place != "right":
            out += _along(placed, measure, show, taken)
    out += _above(placed, [m for m in shape.measures if m.place == "above"], show)
    out += _chain(placed, sorted(right, key=lambda m: -m.end[1]), show)
    middle = placed.x + shape.width * placed.scale / 2
    return [*out, _text(middle, placed.y + OFF + 2.4 * LINE, shape.title, bold=True)]


def _band_names(placed: Placed, taken: list[Box]) -> list[str]:
    """The names of bands in their middles."""
    left, bottom, right, _ = placed.shape.box
    out: list[str] = []
    for band in (s for s in placed.shape.stretches if s.name):
        x, y = placed.at(((left + right) / 2, bottom + band.top))
        out += _lines(x, y, (band.name,), taken)
    return out


def _strip(placed: Placed, show: Show, taken: list[Box]) -> list[str]:
    """The panel up the middle: a dotted line at each side of it, and its name with its width."""
    strip, bottom = placed.shape.strip, placed.shape.box[1]
    if strip is None:
        return []
    low, high = bottom + strip.bottom, bottom + strip.top
    corners = [[placed.at((x, y)) for y in (low, high)] for x in (-strip.width / 2, strip.width / 2)]
    x, y = placed.at((0.0, low + 0.25 * (high - low)))
    lines = [line(start, end, 0.25, dashes="0.4,0.8") for start, end in corners]
    return [*lines, *_lines(x, y, ("panel", show(strip.width)), taken)]


GREYS = ("#ffffff", "#d8d8d8", "#b4b4b4", "#eeeeee")
"""Of stripes, in the order in which their colours come."""


def _stretches(placed: Placed) -> list[str]:
    """Stripes in greys; bands in grey between dotted lines."""
    out: list[str] = []
    for one in placed.shape.stretches:
        fill = "#cccccc" if one.name else GREYS[one.shade % len(GREYS)]
        for corners in _slices(placed.shape, one):
            out.append(f'<polygon points="{spots(map(placed.at, corners))}" fill="{fill}"/>')
        for y in (one.bottom, one.top) if one.name else ():
            left, right = _chord(placed.shape, y - 0.01 if y == one.top else y + 0.01)
            at = placed.shape.box[1] + y
            out.append(line(placed.at((left, at)), placed.at((right, at)), 0.2, dashes="0.3,0.6"))
    return out


def _slices(shape: Outline, stretch: Stretch) -> Iterator[tuple[Point, ...]]:
    """What a stretch covers, in four-cornered parts from corner to corner of the outline."""
    bottom, top = (shape.box[1] + y for y in (stretch.bottom, stretch.top))
    heights = sorted({bottom, top, *(y for _, y in shape.points if bottom < y < top)})
    for low, high in pairwise(heights):
        edge = (high - low) * 1e-3
        lower, upper = crossings(low + edge, shape.points), crossings(high - edge, shape.points)
        if len(lower) == len(upper):
            for i in range(0, len(lower) - 1, 2):
                yield (lower[i], low), (lower[i + 1], low), (upper[i + 1], high), (upper[i], high)


def _dart_name(placed: Placed, taken: list[Box]) -> list[str]:
    """The name of bust darts between their lines, or below a single one."""
    darts = placed.shape.darts
    if len(darts) > 1:
        x, y = placed.at((sum(x for dart in darts for x, _ in dart) / (2 * len(darts)), darts[0][0][1]))
        return [_text(x, y + 0.35 * TEXT, "bust dart")]
    x, y = placed.at(((darts[0][0][0] + darts[0][1][0]) / 2, darts[0][0][1]))
    return _lines(x, y, ("bust dart",), taken)


def _edging(placed: Placed) -> list[str]:
    """Fine upright lines where hem or cuff is, and a line along its upper edge."""
    shape = placed.shape
    if not shape.edging_cm:
        return []
    low, high = _chord(shape, shape.edging_cm * 0.25), _chord(shape, shape.edging_cm * 0.75)
    left, right = max(low[0], high[0]), min(low[1], high[1])
    count = max(2, round((right - left) * placed.scale / 1.6))
    xs = [left + (right - left) * i / count for i in range(1, count)]
    lines = [line(placed.at((x, 0.0)), placed.at((x, shape.edging_cm)), 0.12) for x in xs]
    top = _chord(shape, shape.edging_cm * 0.999)
    return [*lines, line(placed.at((top[0], shape.edging_cm)), placed.at((top[1], shape.edging_cm)), 0.2)]


def _chord(shape: Outline, y: float) -> tuple[float, float]:
    """Leftmost and rightmost x of an outline at a height above its lower edge."""
    y += shape.box[1]
    xs = [
        x1 + (y - y1) * (x2 - x1) / (y2 - y1)
        for (x1, y1), (x2, y2) in pairwise([*shape.points, shape.points[0]])
        if (y1 > y) != (y2 > y)
    ]
    return min(xs, default=0.0), max(xs, default=0.0)


def _above(placed: Placed, measures: Iterable[Measure], show: Show) -> list[str]:
    """Widths above the drawing, each with its name over its figure; labels move apart where they would meet."""
    out: list[str] = []
    labels: list[tuple[float, tuple[str, str]]] = []
    for measure in sorted(measures, key=lambda m: m.start[0]):
        (x1, y), (x2, _) = placed.at(measure.start), placed.at(measure.end)
        top = y - OFF
        out += [*_arrows((x1, top), (x2, top)), *_extensions(((x1, y), (x1, top)), ((x2, y), (x2, top)))]
        middle, words = (x1 + x2) / 2, (measure.what, amount(measure, show))
        if labels:
            before, said = labels[-1]
            over = LETTER * (max(map(len, said)) + max(map(len, words))) / 2 + 1.5 - (middle - before)
            if over > 0:
                labels[-1] = (before - over / 2, said)
                middle += over / 2
        labels.append((middle, words))
    top = placed.y - placed.shape.reach * placed.scale - OFF
    return [*out, *(_text(x, top - 1.2 - (1 - i) * LINE, w) for x, words in labels for i, w in enumerate(words))]


def _across(placed: Placed, measure: Measure, show: Show, taken: list[Box]) -> list[str]:
    """A width below the drawing or in it: its label under the line, in two lines where it is narrow."""
    (x1, y), (x2, _) = placed.at(measure.start), placed.at(measure.end)
    if measure.place == "inside":
        words = _fitted(measure, show, x2 - x1)
        return [*_arrows((x1, y), (x2, y), inset=0.5), *_lines(x1 / 2 + x2 / 2, y, words, taken)]
    low = y + OFF
    out = [*_arrows((x1, low), (x2, low)), *_extensions(((x1, y), (x1, low)), ((x2, y), (x2, low)))]
    return [*out, _text((x1 + x2) / 2, low + LINE, f"{measure.what} {amount(measure, show)}")]


def _fitted(measure: Measure, show: Show, room: float) -> tuple[str, ...]:
    """The label in one line, or name and figure in two where one is too long for the room."""
    words = f"{measure.what} {amount(measure, show)}"
    return (words,) if LETTER * len(words) + 3 <= room else (measure.what, amount(measure, show))


def _lines(x: float, y: float, words: Sequence[str], taken: list[Box], anchor: str = "middle") -> list[str]:
    """Lines of words below a point, further down where other words stand already."""
    wide = LETTER * max(map(len, words))
    left = {"middle": x - wide / 2, "start": x, "end": x - wide}[anchor]
    box = (left, y, left + wide, y + LINE * len(words))
    while any(box[0] < b[2] and b[0] < box[2] and box[1] < b[3] and b[1] < box[3] for b in taken):
        box = (box[0], box[1] + LINE / 2, box[2], box[3] + LINE / 2)
    taken.append(box)
    return [_text(x, box[1] + (i + 1) * LINE, w, anchor=anchor) for i, w in enumerate(words)]


def _along(placed: Placed, measure: Measure, show: Show, taken: list[Box]) -> list[str]:
    """A height at the left, with its label turned; or inside, with its label below it."""
    (x, low), (_, high) = placed.at(measure.start), placed.at(measure.end)
    if measure.place == "left":
        at = x - OFF
        out = [*_arrows((at, low), (at, high)), *_extensions(((x, low), (at, low)), ((x, high), (at, high)))]
        label = f"{measure.what} {amount(measure, show)}"
        return [*out, _text(at - 1.2, (low + high) / 2, label, turned=True)]
    left, right = (placed.at((edge, 0))[0] for edge in _chord(placed.shape, measure.start[1] - LINE / placed.scale))
    words = _fitted(measure, show, right - left)
    aside = (x - left) / max(right - left, 0.1)
    if 0.3 < aside < 0.7:
        return [*_arrows((x, low), (x, high)), *_lines(x, low, words, taken)]
    away, anchor = (1.5, "start") if aside <= 0.3 else (-1.5, "end")
    return [*_arrows((x, low), (x, high)), *_lines(x + away, low, words, taken, anchor)]


def _chain(placed: Placed, chain: Iterable[Measure], show: Show) -> list[str]:
    """Heights at the right, from the top down, each label beside its line and below the one before."""
    out, free = [], -1e9
    right = placed.at((placed.shape.box[2], 0))[0]
    for measure in chain:
        (_, low), (_, high) = placed.at(measure.start), placed.at(measure.end)
        at = right + OFF
        out += [*_arrows((at, low), (at, high)), *_extensions(((right, low), (at, low)), ((right, high), (at, high)))]
        first = max((low + high) / 2 - LINE / 2 + TEXT * 0.35, free)
        for i, words in enumerate((measure.what, amount(measure, show))):
            out.append(_text(at + 2.0, first + i * LINE, words, anchor="start"))
        free = first + 2 * LINE
    return out


def _arrows(a: Spot, b: Spot, *, inset: float = 0.0) -> list[str]:
    """A dimension line with arrowheads, or with ticks where it is short."""
    (x1, y1), (x2, y2) = a, b
    length = max(abs(x2 - x1), abs(y2 - y1))
    if length < 0.1:
        return []
    ux, uy = (x2 - x1) / length, (y2 - y1) / length
    x1, y1, x2, y2 = x1 + ux * inset, y1 + uy * inset, x2 - ux * inset, y2 - uy * inset
    out = [line((x1, y1), (x2, y2), 0.18)]
    if length < 5:
        return [*out, *(line((x - uy, y - ux), (x + uy, y + ux), 0.18) for x, y in ((x1, y1), (x2, y2)))]
    for x, y, s in ((x1, y1, 1), (x2, y2, -1)):
        tail = [(x + s * 1.8 * ux + side * 0.5 * uy, y + s * 1.8 * uy + side * 0.5 * ux) for side in (1, -1)]
        out.append(f'<path d="M {spots(((x, y), *tail)).replace(" ", " L ")} Z" fill="black"/>')
    return out


def _extensions(*lines: tuple[Spot, Spot]) -> list[str]:
    """Fine lines from the drawing to a dimension line and a little beyond."""
    out = []
    for (x1, y1), (x2, y2) in lines:
        length = max(abs(x2 - x1), abs(y2 - y1), 1e-9)
        ux, uy = (x2 - x1) / length, (y2 - y1) / length
        out.append(line((x1 + ux, y1 + uy), (x2 + 0.8 * ux, y2 + 0.8 * uy), 0.1))
    return out


def _text(
    x: float,
    y: float,
    words: str,
    *,
    size: float = TEXT,
    anchor: str = "middle",
    bold: bool = False,
    turned: bool = False,
) -> str:
    """Words over a white rim, so that no line runs through them: a text of its own, which every renderer knows."""
    turn = f' transform="rotate(-90 {x:.2f} {y:.2f})"' if turned else ""
    rim = ' fill="white" stroke="white" stroke-width="0.9" stroke-linejoin="round" aria-hidden="true"'
    return "\n".join(text(x, y, words, f"{size:.2f}", anchor=anchor, bold=bold, more=m) for m in (rim + turn, turn))


def _document(height: float, body: list[str], title: str) -> str:
    white = '<rect width="100%" height="100%" fill="white"/>'
    box = f"{PAGE_WIDTH:.2f} {height:.2f}"
    return document(f"{PAGE_WIDTH:.0f}", f"{height:.0f}", title, [white, *body], box=box) + "\n"
