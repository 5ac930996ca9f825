"""Colours, stripes and the bands of a yoke in words and charts: what is read before the first row, and the charts."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from workshop.core.cloth.wash import DesignGauge
from workshop.core.fabric.bands import motifs_meet
from workshop.core.fabric.colours import floats_of, palette, stranded_patterns
from workshop.core.fabric.patterns import Pattern, SetBand
from workshop.core.making.ledger import Piece
from workshop.core.making.roles import SLEEVE
from workshop.core.plan import Plan
from workshop.project import Colour
from workshop.units import show_gauge, show_length, show_needle
from workshop.words.fabric import typed_rows, written_rows
from workshop.words.phrase import counted
from workshop.words.rows.marks import last_colour
from workshop.words.texts import texts

SHADES, PLAIN_SHADES = " █▒░▓", " #+:%"
"""Beside the letter of a cell, so that a chart is a picture too: the first colour of the garment has none."""

WIDEST = 72
"""Characters of a chart; wider ones have a letter for each stitch and nothing else."""


@dataclass(frozen=True, slots=True)
class ChartWords:
    """A chart with what belongs to it."""

    title: str
    lines: tuple[str, ...]
    key: tuple[str, ...]
    rows: tuple[str, ...]
    """Its rows in words."""
    cells: tuple[str, ...] = ()
    """One repeat, as a right-side row is worked, the first row first."""
    order: tuple[str, ...] = ()
    """Its letters in the order of their shades."""
    flat: bool = False


def colour_notes(plan: Plan) -> Iterator[str]:
    """What is read of colours, stripes and bands before the first row; nothing of a plain garment."""
    said, colours = texts("colours"), palette(plan.project, plan.made)
    main = colours[0].id.upper() if colours else ""
    striped = any(p.stripes for p in plan.made.pieces)
    if colours:
        yield said["names"].format(names="; ".join(_called(c) for c in colours))
        yield said["main_edgings" if striped else "main_all"].format(main=main)
    yield from _of_stripes(plan, main) if striped else ()
    yield from _of_bands(plan, main)
    if stranded_patterns(plan.made):
        yield said["stranding"]


def _of_stripes(plan: Plan, main: str) -> Iterator[str]:
    said = texts("colours")
    stripes = ", ".join(f"{counted(s.rows, 'row')} {s.colour.upper()}" for s in plan.project.garment.stripe)
    yield said["stripes"].format(stripes=stripes)
    sleeves = (p.stripes for p in plan.made.pieces if p.role is SLEEVE and p.parent is None and p.stripes)
    if any(next(iter(stripes.values())).row > 1 for stripes in sleeves):
        yield said["sleeves"]
    if bands_of(plan):
        yield said["yoke_plain"].format(main=main)
    yield said["changing"]
    if any(p.worked == "round" for p in plan.made.pieces if p.stripes):
        yield said["step"]


def next_colour(piece: Piece, plan: Plan) -> str:
    """The letter of the colour that goes on where a piece in stripes ends; its last one where nothing goes on.

    Empty where the stripes of the garment are all of one colour: there is no other to break or to join.
    """
    if not piece.stripes or len({at.colour for p in plan.made.pieces for at in p.stripes.values()}) < 2:
        return ""
    following = plan.made.growing_from(piece)
    if not following:
        return last_colour(piece)
    begins = following[0].stripes.get(following[0].rows[0].row)
    return (begins.colour if begins else palette(plan.project, plan.made)[0].id).upper()


def _of_bands(plan: Plan, main: str) -> Iterator[str]:
    said, bands = texts("colours"), bands_of(plan)
    if bands:
        yield said["band" if len(bands) == 1 else "bands"].format(many=len(bands))
    if any(b.pattern.stranded for b in bands):
        yield said["join"]
        if any(b.edge for b in bands):
            yield said["edge"].format(main=main)
    if any(b.first_stitch > 1 for b in bands):
        yield said["start"]
    in_round = [b for p in plan.made.pieces if p.worked == "round" for b in p.bands]
    for band in in_round:
        which = "motifs_meet" if motifs_meet(band) else "motifs_odd"
        yield said[which].format(number=band.number, repeats=band.repeats)


def _called(colour: Colour) -> str:
    """A colour by its letter, with its name where it has one."""
    return f"{colour.id.upper()}, {colour.name}" if colour.name else colour.id.upper()


def bands_of(plan: Plan) -> list[SetBand]:
    """The bands of a garment, from the join up."""
    return [b for p in plan.made.pieces for b in p.bands]


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
        title = f"Chart of band{'s' if len(numbers) > 1 else ''} {' and '.join(numbers)}: {pattern.name}"
        found.append(_chart_words(title, pattern, plan, ways, plain=plain, rows=pattern.rows, gauge=True))
    return tuple(found)


def _chart_words(
    title: str, pattern: Pattern, plan: Plan, ways: Collection[str], *, plain: bool, rows: int, gauge: bool
) -> ChartWords:
    flat, shades = "flat" in ways, _shades(pattern, plan, PLAIN_SHADES if plain else SHADES)
    key = [*_key(pattern, plan, shades, flat=flat), *([texts("chart")["round"]] if flat and len(ways) > 1 else [])]
    key += [_gauge(pattern, plan)] if gauge else []
    key += float_words(pattern, plan, flat=flat)
    told = [row for way in sorted(ways) for row in rows_of(pattern, flat=way == "flat", rows=rows)]
    lines = chart(pattern, shades, flat=flat)
    return ChartWords(title, lines, tuple(key), tuple(told), pattern.chart, tuple(shades), flat)


def rows_of(pattern: Pattern, *, flat: bool, rows: int | None = None) -> tuple[str, ...]:
    """The rows of a chart in words; of one that has none as the knitter wrote them.

    ``rows`` are those after which it begins again, where they are not those of the chart.
    """
    if pattern.chart and pattern.stranded:
        numbers = range(1, (rows or pattern.rows) + 1)
        return tuple(_stranded_row(pattern, number, flat=flat) for number in numbers)
    if pattern.chart:
        return written_rows(pattern, "flat" if flat else "round", pattern.rows)
    return typed_rows(pattern) or (texts("fabric")["your_source"],)


def _stranded_row(pattern: Pattern, number: int, *, flat: bool) -> str:
    cells = pattern.chart[(number - 1) % len(pattern.chart)]
    wrong = flat and number % 2 == 0
    plus = pattern.balance(cells) if flat else ""
    head = f"Row {number} ({'WS' if wrong else 'RS'})" if flat else f"Round {number}"
    verb = "p" if wrong else "k"
    if len(set(cells)) == 1:
        return f"{head}: {'purl' if wrong else 'knit'} in {cells[0].upper()}."

    def told(part: str) -> str:
        return ", ".join(f"{verb}{len(list(run))} {cell.upper()}" for cell, run in groupby(part))

    if not plus:
        return f"{head}: *{told(cells[::-1] if wrong else cells)}; repeat from *."
    if wrong:
        return f"{head}: {told(plus[::-1])}, *{told(cells[::-1])}; repeat from *."
    return f"{head}: *{told(cells)}; repeat from *, {told(plus)}."


def _shades(pattern: Pattern, plan: Plan, signs: str) -> Mapping[str, str]:
    """The shade of each letter of a chart, by the order of the garment's colours."""
    order = [c.id for c in palette(plan.project, plan.made)] if pattern.stranded else ["k", "p"]
    return {cell: signs[i % len(signs)] for i, cell in enumerate(order)}


def chart(pattern: Pattern, shades: Mapping[str, str], *, flat: bool) -> tuple[str, ...]:
    """One repeat, the first row at the foot, read from the right; a letter and a shade for each stitch."""
    if not pattern.chart:
        return ()
    wide, cells_wide = len(str(pattern.rows)), 3 * pattern.multiple + 1
    lines = []
    for number in range(pattern.rows, 0, -1):
        cells = pattern.chart[number - 1][::-1]
        narrow = cells_wide + 2 * wide + 2 > WIDEST
        row = cells if narrow else "|".join(cell + shades.get(cell, " ") for cell in cells)
        told = str(number).rjust(wide)
        left, right = (told, "") if flat and number % 2 == 0 else (" " * wide, told)
        lines.append(f"{left} |{row}| {right}".rstrip())
    if cells_wide + 2 * wide + 2 <= WIDEST:
        ruler = "".join(_column(n) for n in range(pattern.multiple, 0, -1))
        lines.append(f"{' ' * wide}  {ruler}".rstrip())
    return tuple(lines)


def _column(number: int) -> str:
    """The number of a stitch below its column: the first, and every fifth."""
    return (str(number) if number == 1 or number % 5 == 0 else "").ljust(3)


def _key(pattern: Pattern, plan: Plan, shades: Mapping[str, str], *, flat: bool) -> tuple[str, ...]:
    """What the letters of a chart mean, and how it is read."""
    if not pattern.chart:
        return ()
    said, cells = texts("chart"), {cell for row in pattern.chart for cell in row}
    if pattern.stranded:
        colours = [c for c in palette(plan.project, plan.made) if c.id in cells]
        told = [f"{c.id}{shades[c.id].strip()}: color {_called(c)}." for c in colours]
    else:
        told = [said[name] for name in ("k", "p") if name in cells]
        others = ", ".join(sorted(cells - {"k", "p"}))
        told += [said["others"].format(letters=others)] if others else []
    return (*told, said["repeat"], said["flat" if flat else "round"])


def _gauge(pattern: Pattern, plan: Plan) -> str:
    """Which swatch a band was counted with, and its gauge."""
    assert plan.gauge is not None
    said, own = texts("colours"), _own_gauge(pattern, plan)
    if own is None:
        return said["no_gauge"].format(id=plan.gauge.swatch.id)
    needle_mm, names = own.swatch.needle_mm, plan.project.needle_names
    other = needle_mm is not None and needle_mm != plan.gauge.swatch.needle_mm
    units = plan.project.units
    stitches, rows = (
        show_gauge(g.per_10cm, units, name) for g, name in ((own.stitches, "stitches"), (own.rows, "rows"))
    )
    needle = f", on {show_needle(needle_mm, names)} needles" if other and needle_mm else ""
    return said["own_gauge"].format(id=own.swatch.id, needle=needle, stitches=stitches, rows=rows)


def float_words(pattern: Pattern, plan: Plan, *, flat: bool) -> Iterator[str]:
    """The long floats of a chart: which rows, how long, and what to do."""
    said, found = texts("colours"), {p.id: f for p, f in floats_of(plan.made, plan.gauge)}.get(pattern.id, ())
    assert plan.gauge is not None
    per_10cm = (_own_gauge(pattern, plan) or plan.gauge).stitches.per_10cm
    alike: dict[tuple[str, int], list[int]] = {}
    for one in sorted(found, key=lambda f: (f.row, f.colour)):
        alike.setdefault((one.colour, one.stitches), []).append(one.row)
    for (colour, stitches), rows in alike.items():
        line = "row" if flat else "round"
        which = f"{line}s {', '.join(map(str, rows[:-1]))} and {rows[-1]}" if len(rows) > 1 else f"{line} {rows[0]}"
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
