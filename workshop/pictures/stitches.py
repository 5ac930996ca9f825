"""Stitches large enough to count: one V is a stitch, one leg of it half a stitch, one V above the other a row."""

from typing import Literal

from workshop.pictures.canvas import Canvas, Picture

V = ("XX...XX.", ".XX.XX..", "..XXX...", "...X....")
"""A stitch, seven dots wide and a space, and four high."""

WIDE, HIGH = len(V[0]), len(V)


def counting_picture(along: Literal["stitches", "rows"], place: int, columns: int, rows: int) -> Picture:
    """Cloth with what is counted marked in it: a row of stitches to a half, or a column of rows.

    ``place`` is which count on the swatch it is: each is taken elsewhere.
    """
    across = max(3, columns // WIDE)
    up = max(3, (2 * (rows - 1)) // HIGH)
    canvas = Canvas(across * WIDE, (up * HIGH) // 2 + 1)
    rowwise = along == "stitches"
    at = (up - 1 - (place - 1) % up) if rowwise else (1 + 2 * (place - 1)) % across
    last = across - 1
    for row in range(up):
        for column in range(across):
            counted = (row == at and 0 < column <= last) if rowwise else (column == at)
            half = rowwise and counted and column == last
            _stitch(canvas, column * WIDE, row * HIGH, counted=counted, half=half)
    foot = (up * HIGH) // 2
    if rowwise:
        for n in range(1, last):
            canvas.text(n * WIDE + 3, foot, str(n), "strong")
        canvas.text(last * WIDE + 1, foot, f"{last - 1}½", "strong")
    else:
        for n in range(up):
            line = (up - n) * HIGH // 2 - 2
            canvas.text(at * WIDE + WIDE if at < last else at * WIDE - 3, line, f" {n + 1} ", "strong")
    return canvas.lines()


def _stitch(canvas: Canvas, x: int, y: int, *, counted: bool, half: bool) -> None:
    for dy, line in enumerate(V):
        for dx, dot in enumerate(line):
            main = "mark" if counted and not (half and dx > WIDE // 2 - 1) else "cloth"
            canvas.dot(x + dx, y + dy, main if dot == "X" else f"{main}-shade")
