"""Elements of a drawing on paper, as SVG: lines, words and the document around them. Lengths are millimetres."""

from collections.abc import Iterable, Sequence
from html import escape

Spot = tuple[float, float]
"""A point of the page, from its upper left corner."""


def document(wide: str, high: str, title: str, body: Sequence[str], *, box: str) -> str:
    """A drawing with its name for those who hear it. Sizes as they are written; ``box`` is what is seen of it."""
    lines = "\n".join(body)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {box}" width="{wide}mm" height="{high}mm" role="img">\n'
        f"<title>{escape(title, quote=False)}</title>\n{lines}\n</svg>"
    )


def spots(found: Iterable[Spot]) -> str:
    """The corners of a polygon."""
    return " ".join(f"{x:.2f},{y:.2f}" for x, y in found)


def line(a: Spot, b: Spot, width: float, *, ink: str = "black", dashes: str = "") -> str:
    """A straight line; with ``dashes`` where it is broken."""
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<line x1="{a[0]:.2f}" y1="{a[1]:.2f}" x2="{b[0]:.2f}" y2="{b[1]:.2f}" '
        f'stroke="{ink}" stroke-width="{width}"{dashed}/>'
    )


def text(
    x: float,
    y: float,
    words: str,
    size: str,
    *,
    anchor: str = "middle",
    bold: bool = False,
    ink: str = "",
    more: str = "",
) -> str:
    """Words in letters of a size; ``more`` are further attributes."""
    weight, fill = ' font-weight="bold"' if bold else "", f' fill="{ink}"' if ink else ""
    begin = f'<text x="{x:.2f}" y="{y:.2f}" font-size="{size}" font-family="sans-serif"'
    return f'{begin}{weight}{fill} text-anchor="{anchor}"{more}>{escape(words, quote=False)}</text>'
