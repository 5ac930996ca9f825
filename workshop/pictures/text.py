"""The schematic in a terminal: every piece to one scale, with its measurements at, above and below it."""

from collections.abc import Callable, Sequence

from workshop.pictures.blocks import CELL_ASPECT, Grid, ascii_only, dimension, packed, strokes
from workshop.pictures.outline import Measure, Outline
from workshop.records import record

Show = Callable[[float], str]

MOST_ROWS, FEWEST_ROWS = 14, 9
"""Height of the tallest drawing, in characters: as high as there is room for, and what is still a picture."""

GAP = 4
"""Characters between two pieces."""


@record
class Block:
    """One piece with its labels: lines, all of one width, and how many of them stand above the hem."""

    lines: tuple[str, ...]
    above: int
    width: int


def schematic_text(
    shapes: Sequence[Outline], show: Show, *, columns: int = 76, plain: bool = False, most_rows: int = MOST_ROWS
) -> tuple[str, ...]:
    """All pieces to one scale within so many columns. ``show`` prints a length in the knitter's unit."""
    if not shapes:
        return ()
    say = (lambda cm: ascii_only(show(cm))) if plain else show
    tallest = max(s.height for s in shapes)
    tries: list[list[list[Block]]] = []
    for rows in range(most_rows, 1, -1):
        if rows < FEWEST_ROWS and any(_fits(tiers, columns) for tiers in tries):
            break  # lower only where a wide piece would not fit otherwise
        tries.append(_tiers([block(s, say, tallest / rows / CELL_ASPECT, plain=plain) for s in shapes], columns))
    fewest = min(tries, key=lambda tiers: (not _fits(tiers, columns), len(tiers), -len(tiers[0])))
    lines: list[str] = []
    for tier in fewest:
        lines += [*([""] if lines else []), *_side_by_side(tier)]
    return tuple(lines)


def _tiers(blocks: Sequence[Block], columns: int) -> list[list[Block]]:
    """Blocks side by side as long as they fit, then below."""
    tiers: list[list[Block]] = []
    for one in blocks:
        if tiers and _width([*tiers[-1], one]) <= columns:
            tiers[-1].append(one)
        else:
            tiers.append([one])
    return tiers


def _fits(tiers: Sequence[Sequence[Block]], columns: int) -> bool:
    return max(map(_width, tiers)) <= columns


def _width(tier: Sequence[Block]) -> int:
    return sum(b.width for b in tier) + GAP * (len(tier) - 1)


def _side_by_side(tier: Sequence[Block]) -> list[str]:
    """Blocks with their hems on one line."""
    above = max(b.above for b in tier)
    below = max(len(b.lines) - b.above for b in tier)
    padded = []
    for one in tier:
        empty = " " * one.width
        missing = below - (len(one.lines) - one.above)
        padded.append([*[empty] * (above - one.above), *one.lines, *[empty] * missing])
    return [(" " * GAP).join(rows).rstrip() for rows in zip(*padded, strict=True)]


def block(shape: Outline, show: Show, cm_per_cell: float, *, plain: bool = False) -> Block:
    """One piece with its labels."""
    grid = Grid.of(shape, cm_per_cell)
    chain, rest = _chain(shape, grid)
    side = _beside(chain, grid, show, plain=plain)
    drawn = grid.filled(plain=plain)
    named = _draw_stretches(drawn, grid, plain)
    darts = [*_draw_panel(drawn, grid, show, plain), *_draw_darts(drawn, grid, plain), *named]
    _draw_opening(drawn, grid, plain)
    places: dict[str, list[Measure]] = {"above": [], "hem": [], "depth": [], "": []}
    for measure in rest:
        place = _place(measure)
        if place != "width" or not _inlaid(drawn, measure, grid, show, plain):
            places[place if place in places else ""].append(measure)
    upper, upper_labels = _ruler(places["above"], grid, show, plain=plain)
    hem, hem_labels = _ruler(places["hem"], grid, show, plain=plain)
    deep, others = ([label(m, show) for m in places[place]] for place in ("depth", ""))
    width = max(grid.columns + max(map(len, side)), len(shape.title))
    head = [shape.title.capitalize(), *packed([*upper_labels, *deep], width), *upper, *_behind(shape, grid, plain)]
    body = [a + b for a, b in zip(drawn, side, strict=True)]
    foot = [*hem, *packed([*hem_labels, *others, *darts], width)]
    width = max(width, *(len(line) for line in (*head, *foot)))
    return Block(tuple(line.ljust(width) for line in (*head, *body, *foot)), len(head) + len(body), width)


def _place(measure: Measure) -> str:
    """Where a measurement stands that is not beside the drawing."""
    if measure.place == "inside":
        return "depth" if measure.kind == "along" else "width"
    return "hem" if measure.place == "below" and measure.start[1] == 0 else measure.place


def _draw_panel(drawn: list[str], grid: Grid, show: Show, plain: bool) -> list[str]:
    """Shade the panel up the middle; gives its name, for below the drawing."""
    strip, marks = grid.outline.strip, strokes(plain)
    if strip is None:
        return []
    bottom = grid.outline.box[1]
    left, right = grid.column(-strip.width / 2), max(grid.column(-strip.width / 2) + 1, grid.column(strip.width / 2))
    for row in range(grid.row(bottom + strip.top), grid.row(bottom + strip.bottom)):
        inside = drawn[row][left:right].replace(marks.cloth, marks.panel)
        drawn[row] = drawn[row][:left] + inside + drawn[row][right:]
    return [f"{marks.panel * 2} panel {show(strip.width)}"]


def _draw_darts(drawn: list[str], grid: Grid, plain: bool) -> list[str]:
    """Draw bust darts as lines, with their name between them; where there is no room, the name is given back."""
    name, named = " bust dart ", not grid.outline.darts
    for (x1, y), (x2, _) in grid.outline.darts:
        left, right = sorted((grid.column(x1), grid.column(x2)))
        row = min(grid.rows - 1, grid.row(y))
        dash = strokes(plain).line * (right - left)
        drawn[row] = drawn[row][:left] + dash + drawn[row][right:]
        at = (grid.columns - len(name)) // 2
        if len(set(drawn[row][at : at + len(name)])) == 1:
            drawn[row] = drawn[row][:at] + name + drawn[row][at + len(name) :]
        named |= name in drawn[row]
    return [] if named else [f"{strokes(plain).line * 2} bust dart"]


def _draw_opening(drawn: list[str], grid: Grid, plain: bool) -> None:
    """Draw where a front opens, from its neck to the hem."""
    if grid.outline.opening:
        _, (_, neck) = grid.outline.opening
        at = grid.columns // 2
        for row in range(grid.row(neck), grid.rows):
            drawn[row] = drawn[row][:at] + strokes(plain).side + drawn[row][at + 1 :]


def _draw_stretches(drawn: list[str], grid: Grid, plain: bool) -> list[str]:
    """Draw bands where they lie, and stripes a line of characters each; what the signs of bands mean is given back."""
    marks, shape = strokes(plain), grid.outline
    told: list[str] = []
    stripes = [s for s in shape.stretches if not s.name]
    lines = [row for row in reversed(range(grid.rows)) if marks.edging not in drawn[row]] if stripes else []
    for row, stripe in zip(lines, (stripes * len(lines))[: len(lines)], strict=True):
        drawn[row] = drawn[row].replace(marks.cloth, marks.stripes[stripe.shade % len(marks.stripes)])
    free = grid.rows
    for band in (s for s in shape.stretches if s.name):
        top, last = (grid.row(shape.box[1] + y) for y in (band.top, band.bottom))
        if top == last:  # lower than half a character
            last = int((shape.height - (band.top + band.bottom) / 2) / grid.cell[1]) + 1
        last = max(1, min(last, free))
        free = max(0, min(top, last - 1))  # the next one is above it, so that they are two
        for row in range(free, last):
            drawn[row] = drawn[row].replace(marks.cloth, marks.band)
        told.append(band.name if told else f"{marks.band * 2} {band.name}")  # they are drawn alike
    return told


def _behind(shape: Outline, grid: Grid, plain: bool) -> list[str]:
    """The line that lies behind the top of the drawing, in dashes above it."""
    if not shape.behind:
        return []
    left, right = (grid.column(edge(x for x, _ in shape.behind)) for edge in (min, max))
    return [" " * left + strokes(plain).dash * (right - left)]


def label(measure: Measure, show: Show) -> str:
    """A measurement with its name."""
    return f"{measure.what} {amount(measure, show)}".rstrip()


def amount(measure: Measure, show: Show) -> str:
    """A measurement; said so where the drawing shows half of it."""
    return show(measure.value_cm) + (" around" if measure.round else "")


def _chain(shape: Outline, grid: Grid) -> tuple[list[Measure], list[Measure]]:
    """The heights that stand beside the drawing, and all measurements that are left."""
    chain = [m for m in shape.measures if m.place == "right" and grid.row(m.start[1]) - grid.row(m.end[1]) >= 2]
    return chain, [m for m in shape.measures if m not in chain]


def _beside(chain: Sequence[Measure], grid: Grid, show: Show, *, plain: bool) -> list[str]:
    """Brackets with labels, one string for each row of the drawing."""
    marks = strokes(plain)
    lines = [""] * grid.rows
    for one in chain:
        first, last = grid.row(one.end[1]), grid.row(one.start[1]) - 1
        for row in range(first, last + 1):
            lines[row] = "  " + (marks.top if row == first else marks.bottom if row == last else marks.side)
        at = (first + last) // 2
        lines[at] += f" {one.what}"
        lines[at + 1] += f" {amount(one, show)}"
    longest = max(map(len, lines))
    return [line.ljust(longest) for line in lines]


def _inlaid(drawn: list[str], measure: Measure, grid: Grid, show: Show, plain: bool) -> bool:
    """Write a width into the drawing, as a line across it with its figure; whether there was room."""
    left, right = grid.column(measure.start[0]), grid.column(measure.end[0])
    texts = [label(measure, show), amount(measure, show)]
    text = next((t for t in texts if len(t) + 4 <= right - left), None)
    row = min(grid.rows - 1, max(0, grid.row(measure.start[1])))
    if text is None:
        return False
    drawn[row] = drawn[row][:left] + dimension(text, right - left, strokes(plain)) + drawn[row][right:]
    return True


def _ruler(measures: Sequence[Measure], grid: Grid, show: Show, *, plain: bool) -> tuple[list[str], list[str]]:
    """A line of dimension lines, and the labels that did not fit into it."""
    if not measures:
        return [], []
    line, labels = " " * grid.columns, []
    for one in measures:
        left, right = grid.column(one.start[0]), grid.column(one.end[0])
        text = label(one, show)
        if len(text) + 4 > right - left or any(c != " " for c in line[left:right]):
            labels.append(text)
            text = ""
        if right - left >= 2 and not line[left:right].strip():
            line = line[:left] + dimension(text, right - left, strokes(plain)) + line[right:]
    return ([line] if line.strip() else []), labels
