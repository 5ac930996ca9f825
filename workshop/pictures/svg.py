"""Drawings as SVG, to one scale, black on white, with their measurements."""

from collections.abc import Callable, Sequence
from xml.sax.saxutils import escape

from workshop.pictures.outline import Outline

GAP_CM = 14.0
MARGIN_CM = 8.0
TEXT_CM = 3.0


def schematic_svg(shapes: Sequence[Outline], title: str, show: Callable[[float], str]) -> str:
    """All shapes beside one another as one SVG document. ``show`` prints a length in the knitter's unit."""
    if not shapes:
        return _document(40, 20, [_text(20, 10, "no pieces yet")], title)
    height = max(s.height for s in shapes) + 2 * MARGIN_CM + 2 * TEXT_CM
    baseline = height - MARGIN_CM - 2 * TEXT_CM
    x, body = MARGIN_CM, []
    for shape in shapes:
        body += _shape(shape, x, baseline, show)
        x += shape.width + GAP_CM
    return _document(x - GAP_CM + 2 * MARGIN_CM, height, body, title)


def _shape(shape: Outline, x: float, baseline: float, show: Callable[[float], str]) -> list[str]:
    left = min(px for px, _ in shape.points)
    bottom = min(py for _, py in shape.points)
    points = " ".join(f"{x + px - left:.2f},{baseline - (py - bottom):.2f}" for px, py in shape.points)
    middle = x + shape.width / 2
    right = x + shape.width + 1.5
    return [
        f'<polygon points="{points}" fill="none" stroke="black" stroke-width="0.4"/>',
        _text(middle, baseline + TEXT_CM + 1, show(shape.width)),
        _text(middle, baseline + 2 * TEXT_CM + 1.5, shape.name),
        f'<line x1="{right:.2f}" y1="{baseline:.2f}" x2="{right:.2f}" y2="{baseline - shape.height:.2f}" '
        'stroke="black" stroke-width="0.15" stroke-dasharray="1,1"/>',
        f'<text x="{right + 1:.2f}" y="{baseline - shape.height / 2:.2f}" font-size="{TEXT_CM}" '
        f'font-family="sans-serif" transform="rotate(-90 {right + 3:.2f} {baseline - shape.height / 2:.2f})" '
        f'text-anchor="middle">{escape(show(shape.height))}</text>',
    ]


def _text(x: float, y: float, words: str) -> str:
    return (
        f'<text x="{x:.2f}" y="{y:.2f}" font-size="{TEXT_CM}" font-family="sans-serif" '
        f'text-anchor="middle">{escape(words)}</text>'
    )


def _document(width: float, height: float, body: list[str], title: str) -> str:
    lines = "\n".join(body)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width:.2f} {height:.2f}" '
        f'width="{width * 4:.0f}" height="{height * 4:.0f}" role="img">\n<title>{escape(title)}</title>\n'
        f'<rect width="100%" height="100%" fill="white"/>\n{lines}\n</svg>\n'
    )
