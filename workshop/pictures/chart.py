"""A chart on paper: a square for each stitch, with its letter on a grey of its own, and numbers of rows and stitches.

Lengths in the drawing are millimetres on paper.
"""

from workshop.pictures.elements import document, text
from workshop.records import record

WIDEST, LARGEST = 160.0, 4.6
"""Room across a page, and the most that a square takes of it."""

ASPECT = 0.85
"""How high a square is: a stitch is wider than high."""

GREYS = (("#ffffff", "#000000"), ("#444444", "#ffffff"), ("#bbbbbb", "#000000"), ("#888888", "#000000"))
"""Of a square and of its letter, by the order of the letters; the first is white."""


@record
class Chart:
    """One repeat, as a right-side row is worked; the first row comes first."""

    cells: tuple[str, ...]
    order: tuple[str, ...]
    """Its letters, the one first that is left white."""
    flat: bool
    """Whether every second row is read from the left."""


def chart_svg(chart: Chart, title: str) -> str:
    """The chart as SVG, its first row at the foot and its first stitch at the right."""
    many = max(map(len, chart.cells))
    wide = min(LARGEST, WIDEST / (many + 4))
    high, left = wide * ASPECT, 2 * wide
    out = []
    for number, cells in enumerate(chart.cells, 1):
        y = (len(chart.cells) - number) * high
        for at, cell in enumerate(cells):
            out += _square(left + (many - 1 - at) * wide, y, wide, high, cell, chart.order)
        wrong = chart.flat and number % 2 == 0
        x, anchor = (left - 1.0, "end") if wrong else (left + many * wide + 1.0, "start")
        out.append(_text(x, y + 0.75 * high, str(number), wide, anchor=anchor))
    foot = len(chart.cells) * high
    for stitch in (n for n in range(1, many + 1) if n == 1 or n % 5 == 0):
        out.append(_text(left + (many - stitch + 0.5) * wide, foot + 0.75 * wide, str(stitch), wide))
    across, down = (many + 4) * wide, foot + wide
    return document(f"{across:.1f}", f"{down:.1f}", title, out, box=f"{across:.2f} {down:.2f}")


def _square(x: float, y: float, wide: float, high: float, cell: str, order: tuple[str, ...]) -> list[str]:
    fill, ink = GREYS[order.index(cell) % len(GREYS)] if cell in order else GREYS[0]
    return [
        f'<rect x="{x:.2f}" y="{y:.2f}" width="{wide:.2f}" height="{high:.2f}" fill="{fill}" stroke="black" '
        'stroke-width="0.15"/>',
        _text(x + wide / 2, y + 0.75 * high, cell, wide, ink),
    ]


def _text(x: float, y: float, words: str, wide: float, ink: str = "#000000", anchor: str = "middle") -> str:
    """Words that have room in a square."""
    return text(x, y, words, f"{0.62 * wide:.2f}", ink=ink, anchor=anchor)
