"""Charts: a letter for each stitch as the right side shows it, what the letters mean, and what else belongs to each.

Right-side rows are read from the right, where their number stands; a wrong-side row has its number at the left.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence

from workshop.core.cloth.wash import DesignGauge
from workshop.core.fabric.colours import floats_of, palette
from workshop.core.fabric.patterns import Pattern
from workshop.core.making.ledger import Piece
from workshop.core.plan import Plan
from workshop.records import record
from workshop.units import show_length
from workshop.words.colours import bands_of, by_its_letter, rows_of
from workshop.words.fabric import different_panels, each_row, own_gauge_words
from workshop.words.phrase import counted, joined
from workshop.words.texts import texts

SHADES, PLAIN_SHADES = " █▒░▓", " #+:%"
"""Beside the letter of a cell, so that a chart is a picture too: the first colour of the garment has none."""

WIDEST = 72
"""Characters of a chart with shades; wider ones have a letter for each stitch and nothing else."""

WHOLE_PANEL = 32
"""Stitches of a panel that is drawn whole, not one repeat of it."""


def drawn(
    cells: Sequence[str], rows: Sequence[tuple[int, bool]], *, shades: Mapping[str, str] | None = None
) -> tuple[str, ...]:
    """Rows of a chart, the first at the foot; with ``shades`` beside the letters stitches are numbered too.

    Each row is its number and whether it is worked from the right side.
    """
    if not cells:
        return ()
    wide, many = len(str(max(row for row, _ in rows))), len(cells[0])
    shaded = shades is not None and 3 * many + 1 + 2 * wide + 2 <= WIDEST
    between = "|" if shaded or shades is None else ""
    lines = []
    for row, right_side in reversed(rows):
        letters = cells[(row - 1) % len(cells)][::-1]
        told = between.join(letter + shades.get(letter, " ") if shades and shaded else letter for letter in letters)
        number = str(row).rjust(wide)
        left, right = (" " * wide, number) if right_side else (number, "")
        lines.append(f"{left} |{told}| {right}".rstrip())
    ruler = "".join(_column(n) for n in range(many, 0, -1))
    return (*lines, f"{' ' * wide}  {ruler}".rstrip()) if shaded else tuple(lines)


def _column(number: int) -> str:
    """The number of a stitch below its column: the first, and every fifth."""
    return (str(number) if number == 1 or number % 5 == 0 else "").ljust(3)


def _meanings(cells: Collection[str]) -> list[str]:
    """What the letters of a chart of one colour mean."""
    said, others = texts("chart"), ", ".join(sorted(set(cells) - {"k", "p"}))
    return [said[name] for name in ("k", "p") if name in cells] + (
        [said["others"].format(letters=others)] if others else []
    )


# ── of the fabric and of panels ──────────────────────────────────────────────────────────────────────


@record
class Chart:
    """A chart in letters, under the name of its pattern."""

    name: str
    lines: tuple[str, ...]
    cells: frozenset[str]
    flat: bool
    once: bool = False
    """Whether it shows one repeat, which is worked again and again across a row."""
    both: bool = False
    """Whether it is worked in rows and in rounds."""


def charts(plan: Plan) -> tuple[Chart, ...]:
    """The charts of the fabric and of each panel, each pattern once; those without a chart left out."""
    found: dict[str, Chart] = {}
    ground = [p for p in plan.made.pieces if p.pattern is not None]
    for piece in ground[:1]:
        if piece.pattern is not None and not piece.pattern.pattern.stranded:  # those are among colour_charts
            pattern, rows = piece.pattern.pattern, piece.pattern.repeat_rows
            found[pattern.id] = _chart(pattern, pattern.chart, rows, ground, once=True)
    for panel, pieces in different_panels(plan):
        pattern = panel.pattern
        once, many = pattern.chart, (panel.stitches - pattern.plus) // pattern.multiple
        whole = tuple(cells * many + pattern.balance(cells) for cells in once)
        part = panel.stitches > WHOLE_PANEL
        cells = once if part else whole
        found.setdefault(pattern.id, _chart(pattern, cells, panel.repeat_rows, pieces, once=part))
    return tuple(chart for chart in found.values() if chart.lines)


def _chart(pattern: Pattern, cells: Sequence[str], rows: int, pieces: Sequence[Piece], *, once: bool) -> Chart:
    ways = {p.worked for p in pieces}
    flat, repeated = "flat" in ways, once and any(len(row) > 1 for row in cells)
    lines = drawn(cells, each_row(rows, flat=flat, begins_on=pattern.begins_on))
    return Chart(pattern.name, lines, frozenset("".join(cells)), flat, repeated, both=len(ways) > 1)


def chart_key(found: Sequence[Chart]) -> tuple[str, ...]:
    """What the letters of charts mean, and how they are read."""
    said, repeated = texts("chart"), [chart for chart in found if chart.once]
    key = _meanings({cell for chart in found for cell in chart.cells})
    key += [said["repeat"] if len(found) == 1 else said["repeat_of"].format(name=chart.name) for chart in repeated]
    key.append(said["flat" if any(chart.flat for chart in found) else "round"])
    key += [said["round"]] if any(chart.both for chart in found) else []
    return (*key, *([said["turned"]] if any(chart.flat for chart in repeated) else []))


# ── of a stranded fabric and of bands ────────────────────────────────────────────────────────────────


@record
class ChartWords:
    """A chart with what belongs to it."""

    title: str
    lines: tuple[str, ...]
    key: tuple[str, ...]
    rows: tuple[str, ...]
    """Its rows in words."""
    cells: tuple[str, ...] = ()
    """One repeat, as a right-side row is worked, the first row first, until it begins again on the same side."""
    order: tuple[str, ...] = ()
    """Its letters in the order of their shades."""
    flat: bool = False


def colour_charts(plan: Plan, *, plain: bool = False) -> tuple[ChartWords, ...]:
    """The chart of a stranded fabric, and those of bands, each once: what their letters mean, rows, and long floats.

    ``plain``: in ASCII.
    """
    found: list[ChartWords] = []
    bands = bands_of(plan)
    ground = next((p.pattern for p in plan.made.pieces if p.pattern and p.pattern.pattern.stranded), None)
    if ground is not None and ground.pattern.chart:
        ways = {p.worked for p in plan.made.pieces if p.pattern}
        title, rows = f"Chart: {ground.pattern.name}", ground.repeat_rows
        found.append(_chart_words(title, ground.pattern, plan, ways, plain=plain, rows=rows, gauge=False))
    ways = {p.worked for p in plan.made.pieces if p.bands}
    for pattern in {b.pattern.id: b.pattern for b in bands}.values():
        numbers = [str(b.number) for b in bands if b.pattern.id == pattern.id]
        title = f"Chart of band{'s' if len(numbers) > 1 else ''} {joined(numbers)}: {pattern.name}"
        found.append(_chart_words(title, pattern, plan, ways, plain=plain, rows=pattern.rows, gauge=True))
    return tuple(found)


def _chart_words(
    title: str, pattern: Pattern, plan: Plan, ways: Collection[str], *, plain: bool, rows: int, gauge: bool
) -> ChartWords:
    flat, shades = "flat" in ways, _shades(pattern, plan, PLAIN_SHADES if plain else SHADES)
    key = [*_key(pattern, plan, shades, flat=flat), *([texts("chart")["round"]] if flat and len(ways) > 1 else [])]
    key += [_gauge(pattern, plan)] if gauge else []
    key += _float_words(pattern, plan, rows, flat=flat)
    told = [row for way in sorted(ways) for row in rows_of(pattern, flat=way == "flat", rows=rows)]
    cells = tuple(pattern.chart[n % len(pattern.chart)] for n in range(rows)) if pattern.chart else ()
    numbered = [(n, not flat or n % 2 == 1) for n in range(1, rows + 1)]
    lines = drawn(cells, numbered, shades=shades)
    return ChartWords(title, lines, tuple(key), tuple(told), cells, tuple(shades), flat)


def _shades(pattern: Pattern, plan: Plan, signs: str) -> Mapping[str, str]:
    """The shade of each letter of a chart, by the order of the garment's colours."""
    order = [c.id for c in palette(plan.project, plan.made)] if pattern.stranded else ["k", "p"]
    return {cell: signs[i % len(signs)] for i, cell in enumerate(order)}


def _key(pattern: Pattern, plan: Plan, shades: Mapping[str, str], *, flat: bool) -> tuple[str, ...]:
    """What the letters of a chart mean, and how it is read."""
    if not pattern.chart:
        return ()
    said, cells = texts("chart"), {cell for row in pattern.chart for cell in row}
    colours = [c for c in palette(plan.project, plan.made) if pattern.stranded and c.id in cells]
    by_letters = [f"{c.id}{shades[c.id].strip()}: color {by_its_letter(c)}." for c in colours]
    reading = [said["flat"], said["turned"]] if flat else [said["round"]]
    return (*(by_letters or _meanings(cells)), said["repeat"], *reading)


def _gauge(pattern: Pattern, plan: Plan) -> str:
    """Which swatch a band was counted with, and its gauge."""
    assert plan.gauge is not None
    return own_gauge_words(_own_gauge(pattern, plan), plan.gauge, plan.project)


def _float_words(pattern: Pattern, plan: Plan, many: int, *, flat: bool) -> Iterator[str]:
    """The long floats of a chart that has so many rows as it is drawn: which rows, how long, and what to do."""
    said, found = texts("colours"), {p.id: f for p, f in floats_of(plan.made, plan.gauge)}.get(pattern.id, ())
    assert plan.gauge is not None
    per_10cm = (_own_gauge(pattern, plan) or plan.gauge).stitches.per_10cm
    alike: dict[tuple[str, int], list[int]] = {}
    for one in sorted(found, key=lambda f: (f.row, f.colour)):
        alike.setdefault((one.colour, one.stitches), []).extend(range(one.row, many + 1, len(pattern.chart)))
    for (colour, stitches), rows in alike.items():
        line = "row" if flat else "round"
        rows = sorted(rows)
        which = f"{line}s {joined(rows)}" if len(rows) > 1 else f"{line} {rows[0]}"
        long = show_length(stitches / per_10cm * 10, plan.project.units)
        yield said["float"].format(
            rows=which, colour=colour.upper(), stitches=counted(stitches, "stitch", "stitches"), long=long
        )
    if found:
        yield said["catch"]


def _own_gauge(pattern: Pattern, plan: Plan) -> DesignGauge | None:
    """The gauge of a band's own swatch; None where it has none."""
    known = plan.gauge.bands if plan.gauge else ()
    numbers = [b.number for b in bands_of(plan) if b.pattern.id == pattern.id]
    return next((g for n in numbers if n <= len(known) and (g := known[n - 1])), None)
