"""Drawings in a terminal: silhouettes of quarter blocks, or of plain characters."""

from collections.abc import Sequence

from workshop.pictures.outline import Outline, Point

BLOCKS = " ▘▝▀▖▌▞▛▗▚▐▜▄▙▟█"
"""Quarter blocks by which quarters are filled: 1 upper left, 2 upper right, 4 lower left, 8 lower right."""

CELL_ASPECT = 2.0
"""A character cell is about twice as high as wide."""


def inside(point: Point, polygon: Sequence[Point]) -> bool:
    """Whether a point lies in a polygon (even-odd rule)."""
    x, y = point
    found = False
    for (x1, y1), (x2, y2) in zip(polygon, [*polygon[1:], polygon[0]], strict=True):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) * (x2 - x1) / (y2 - y1):
            found = not found
    return found


def silhouette(outline: Outline, cm_per_cell: float, *, plain: bool = False) -> list[str]:
    """Rows of characters that fill an outline; ``cm_per_cell`` is the width of one character."""
    xs, ys = [x for x, _ in outline.points], [y for _, y in outline.points]
    left, top = min(xs), max(ys)
    columns = max(1, round((max(xs) - left) / cm_per_cell))
    rows = max(1, round((top - min(ys)) / cm_per_cell / CELL_ASPECT))
    across, down = (max(xs) - left) / columns, (top - min(ys)) / rows
    lines = []
    for row in range(rows):
        line = ""
        for column in range(columns):
            filled = sum(
                bit
                for bit, (dx, dy) in ((1, (0.25, 0.25)), (2, (0.75, 0.25)), (4, (0.25, 0.75)), (8, (0.75, 0.75)))
                if inside((left + (column + dx) * across, top - (row + dy) * down), outline.points)
            )
            line += ("#" if filled.bit_count() >= 2 else " ") if plain else BLOCKS[filled]
        lines.append(line)
    return lines


def scale_for(shapes: Sequence[Outline], columns: int, rows: int) -> float:
    """Cm to a character so that all shapes side by side fit in so many columns and rows."""
    gaps = 3 * (len(shapes) - 1)
    wide = sum(s.width for s in shapes) / max(1, columns - gaps)
    high = max(s.height for s in shapes) / max(1, rows) / CELL_ASPECT
    return max(wide, high, 0.1)
