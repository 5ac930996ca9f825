"""Charts as they are typed: a letter for each stitch, or k and p with their numbers ("k2 p2 / p2 k2")."""

import re
from collections.abc import Sequence

MOST_CELLS = 60
"""Stitches and rows of a chart."""

CELL = re.compile(r"([^\W\d_]|[.\-])(\d{0,3})")
"""One letter, which stands for one stitch, and how many times it comes."""
WRITTEN = re.compile(r"(?i)\w*\d*tog|ssk|\b(?:yo|skpo?|sl\d+|m1[lrp]?)\b")
"""Instructions that take several letters, so that a letter is no stitch."""
CROSSED = re.compile(r"(?i)\b([ct]\d+)([fblr])\b")
"""A crossing, or stitches of two colors without a space."""
IN_WORDS = re.compile(r"(?i)\b(?:knit|purl|rs|ws|rows?|rounds?|rnds?|rep|repeat|psso)\b")
"""What stands in rows in words, and in no chart."""


class BadChart(ValueError):
    """Typed text that is no chart; the message says in one line what would be right."""


def read_chart(text: str) -> tuple[str, ...]:
    """The rows of a chart, the first of the pattern first, each in the order in which a right-side row is worked.

    Raises BadChart.
    """
    rows = [row.strip() for row in re.split(r"[/\n;]", text) if row.strip()]
    if not rows:
        raise BadChart("nothing was typed. Type the rows with / between them, for example k2 p2 / p2 k2")
    if len(rows) > MOST_CELLS:
        raise BadChart(f"that's {len(rows)} rows. A chart can have at most {MOST_CELLS}")
    found = tuple(_cells(row, number) for number, row in enumerate(rows, 1))
    fault = uneven(found)
    if fault:
        raise BadChart(fault)
    return found


def uneven(rows: Sequence[str]) -> str:
    """What is said of rows that are not all as wide as the first; empty where they are."""
    for number, row in enumerate(rows, 1):
        if len(row) != len(rows[0]):
            return f"row {number} has {len(row)} stitches and row 1 has {len(rows[0])}. Every row needs the same number"
    return ""


def show_chart(rows: Sequence[str]) -> str:
    """A chart as :func:`read_chart` takes it back: stitches that are alike are counted."""
    return " / ".join(
        " ".join(f"{m[1]}{len(m[0])}" if len(m[0]) > 1 else m[1] for m in re.finditer(r"(.)\1*", row)) for row in rows
    )


def _cells(row: str, number: int) -> str:
    written = WRITTEN.search(row)
    if written:
        raise BadChart(f"row {number}: each letter stands for one stitch, so '{written[0]}' needs a letter of its own")
    word, crossed = IN_WORDS.search(row), CROSSED.search(row)
    if word:
        raise BadChart(f"row {number}: '{word[0]}' isn't a stitch. Type k or p, or type the row under 'Rows in words'")
    if crossed:
        single = f"{crossed[1]} {crossed[2]}"
        raise BadChart(f"row {number}: '{crossed[0]}' needs a letter of its own. For single stitches, type {single}")
    rest = CELL.sub("", row).replace(",", "").strip()
    if rest:
        raise BadChart(f"row {number}: '{rest[:20]}' isn't a stitch. Type letters, or k2 p2")
    cells, many = "", sum(int(m[2] or 1) for m in CELL.finditer(row))
    if not 1 <= many <= MOST_CELLS:
        raise BadChart(f"row {number} has {many} stitches. A chart can have 1 to {MOST_CELLS}")
    for found in CELL.finditer(row):
        cells += found[1].casefold() * int(found[2] or 1)
    return cells
