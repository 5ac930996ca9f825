"""Colours: which each row is knitted in, how much yarn each takes, and how long the floats of a stranded chart are.

A stranded row takes a stitch of its own colour for each stitch, and every other colour of the row passes behind it.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from workshop.core.cloth.wash import DesignGauge
from workshop.core.cloth.yarn import grams_per_stitch
from workshop.core.constructions import construction
from workshop.core.edgings import STOCKINETTE
from workshop.core.fabric.begun import begun_with
from workshop.core.fabric.keeping import landmark, pieces_in_order
from workshop.core.fabric.patterns import Pattern, StripeRow
from workshop.core.garments import Garment
from workshop.core.making import roles
from workshop.core.making.ledger import Piece, Row, each_changed
from workshop.core.notes import Notes
from workshop.project import Colour, Project
from workshop.records import record
from workshop.tables.trade_rules import k_value

LONGEST_STITCHES, LONGEST_CM = 5, 2.5
"""A float over more than these is caught behind the work (common practice, no source)."""


@record
class Float:
    """A strand behind a row of a chart."""

    row: int
    """Of the chart, from 1."""
    colour: str
    stitches: int
    """That it passes."""


def floats(pattern: Pattern) -> Iterator[Float]:
    """All floats of a stranded chart whose repeats follow each other: the ways between two stitches of a colour."""
    for number, cells in enumerate(pattern.chart if pattern.stranded else (), 1):
        for colour in dict.fromkeys(cells):
            at = [i for i, cell in enumerate(cells) if cell == colour]
            for before, after in pairwise([*at, at[0] + len(cells)]):
                if after - before > 1:
                    yield Float(number, colour, after - before - 1)


def long_floats(pattern: Pattern, stitches_per_10cm: float) -> tuple[Float, ...]:
    """The longest float of each colour in each row, where it is too long to be left loose."""
    longest: dict[tuple[int, str], Float] = {}
    for one in floats(pattern):
        known = longest.get((one.row, one.colour))
        if known is None or one.stitches > known.stitches:
            longest[one.row, one.colour] = one
    return tuple(f for f in longest.values() if is_long(f.stitches, stitches_per_10cm))


def is_long(stitches: int, stitches_per_10cm: float) -> bool:
    """Whether a float over so many stitches is too long to be left loose."""
    return stitches > LONGEST_STITCHES or stitches / stitches_per_10cm * 10 > LONGEST_CM


def floats_of(made: Garment, gauge: DesignGauge | None) -> list[tuple[Pattern, tuple[Float, ...]]]:
    """The long floats of every stranded pattern of a garment, each at its own gauge where it was swatched."""
    if gauge is None:
        return []
    own = {
        b.pattern.id: gauge.bands[b.number - 1] for p in made.pieces for b in p.bands if b.number <= len(gauge.bands)
    }
    return [
        (pattern, long_floats(pattern, (own.get(pattern.id) or gauge).stitches.per_10cm))
        for pattern in stranded_patterns(made)
    ]


# ── which colour where ───────────────────────────────────────────────────────────────────────────────


def palette(project: Project, made: Garment) -> tuple[Colour, ...]:
    """The colours of a garment, the main colour first: those that are named, then letters that charts have besides."""
    named = list(project.garment.colour)
    letters = [s.colour for s in project.garment.stripe]
    for pattern in stranded_patterns(made):
        letters += [cell for cells in pattern.chart for cell in cells]
    known = {c.id for c in named}
    return (*named, *(Colour(letter) for letter in dict.fromkeys(letters) if letter not in known))


def check_colours(project: Project, made: Garment, notes: Notes) -> None:
    """Name the letters of stripes and charts that are none of the colours, where there are any."""
    named = {colour.id for colour in project.garment.colour}
    strange = [colour.id.upper() for colour in palette(project, made) if colour.id not in named]
    if named and strange:
        notes.check("colour-unnamed", letters=", ".join(strange))


def stranded_patterns(made: Garment) -> list[Pattern]:
    """Stranded patterns that are knitted somewhere, each once."""
    found = [p.pattern.pattern for p in made.pieces if p.pattern]
    found += [b.pattern for p in made.pieces for b in p.bands]
    return list({p.id: p for p in found if p.stranded and p.chart}.values())


def sequence(project: Project) -> tuple[str, ...]:
    """The colour of each row of the stripes, from their first row to where they begin again."""
    return tuple(stripe.colour for stripe in project.garment.stripe for _ in range(stripe.rows))


def with_stripes(project: Project, made: Garment, notes: Notes) -> Garment:
    """The garment with its stripes, from the row above the edging on; where sleeve and body join they meet.

    In a yoke with bands they stop at the lowest and go on above the highest: between bands is the main colour.
    """
    stripes = sequence(project)
    repeat = len(stripes)
    if not repeat or not made.pieces:
        return made
    done: dict[str, dict[int, StripeRow]] = {}
    meets, straight = None, construction(project.garment.construction).straight_sleeves
    for piece in pieces_in_order(made.pieces):
        rows = _striped_rows(piece)
        until = _until_they_meet(piece, rows)
        first = _next_of_stripes(piece, done)
        if piece.parent is None and piece.role is roles.SLEEVE:
            begun = begun_with(project, "stripes", piece, made.pieces)
            first = begun.of_repeat if begun else _to_meet(until, meets)
        numbers = ((row, (first + n - 1) % repeat) for n, row in enumerate(rows))
        done[piece.name] = {row: StripeRow(at + 1, stripes[at]) for row, at in numbers}
        if meets is None and until is not None and piece.role is not roles.SLEEVE and not straight:
            meets = first + until
    if repeat % 2 and any(p.worked == "flat" and done.get(p.name) for p in made.pieces):
        notes.check("stripes-odd")
    striped = (replace(p, stripes=done.get(p.name, {})) for p in made.pieces)
    return replace(made, pieces=each_changed(made.pieces, striped))


def _until_they_meet(piece: Piece, rows: Sequence[int]) -> int | None:
    """How many of these rows a piece has until a sleeve and the body meet; None where it does not come to that."""
    after = landmark(piece)
    return None if after is None else sum(row <= after for row in rows)


def _to_meet(until: int | None, meets: int | None) -> int:
    """Row of the stripes to begin a sleeve with so that it comes to ``meets``; the first where nothing does."""
    return 1 if until is None or meets is None else meets - until


def _next_of_stripes(piece: Piece, done: Mapping[str, dict[int, StripeRow]]) -> int:
    """Row of the stripes after the last that was worked over the stitches of a piece, in what it grew out of."""
    before = done.get(piece.parent.name) if piece.parent else None
    if not before or piece.parent is None:
        return 1
    last, at = list(before.items())[-1]
    return at.row if piece.held_unworked and last == piece.parent.last_row else at.row + 1


def _striped_rows(piece: Piece) -> list[int]:
    """Rows that count in the stripes: of the fabric, but for short rows inside the piece, which keep the row before."""
    without = {*piece.inner_rows, *_among_bands(piece)}
    return [r.row for r in piece.rows if r.fabric == STOCKINETTE and r.row not in without]


def _among_bands(piece: Piece) -> range:
    """The rows of the bands of a yoke, with those between them."""
    return range(piece.bands[0].from_row, piece.bands[-1].last_row + 1) if piece.bands else range(0)


def shares_of(piece: Piece, row: Row, main: str) -> Mapping[str, int]:
    """The stitches that a row has of each colour, in the order in which they first come; they add up to all of it."""
    many = max(row.before, row.after)
    band, at = piece.band_at(row.row), piece.pattern.at(row.row) if piece.pattern else None
    if band is not None and band.pattern.stranded and band.pattern.chart:
        cells = band.pattern.chart[row.row - band.from_row]
        over = band.pattern.balance(cells) if band.plus else ""
        return _counted(cells * band.repeats + over, 2 * band.edge, main)
    if at is not None and piece.pattern is not None and piece.pattern.pattern.stranded and piece.pattern.pattern.chart:
        chart = piece.pattern.pattern.chart
        cells = chart[(at.row - 1) % len(chart)]
        turned = cells[at.first_stitch - 1 :] + cells[: at.first_stitch - 1]
        return _counted((turned * (many // len(cells) + 1))[:many], 0, main)
    striped = [at for number, at in piece.stripes.items() if number <= row.row] if row.fabric == STOCKINETTE else []
    if striped and row.row not in _among_bands(piece):
        return {striped[-1].colour: many}
    return {main: many}


def _counted(cells: str, edges: int, main: str) -> dict[str, int]:
    found = {colour: cells.count(colour) for colour in dict.fromkeys(cells)}
    if edges:
        found[main] = found.get(main, 0) + edges
    return found


# ── how much of each ─────────────────────────────────────────────────────────────────────────────────


def yarn_of_colours(project: Project, made: Garment, gauge: DesignGauge) -> Mapping[str, float]:
    """For each colour, how many stitches of the garment's fabric take as much yarn; empty for a garment in one.

    A band or fabric that was weighed in its own swatch has its floats in its weight. Else a float over a stitch is as
    long as the stitch is wide: by Munden's constant one part in kw of the yarn in a stitch.
    """
    colours = palette(project, made)
    if not colours:
        return {}
    found = {c.id: 0.0 for c in colours}
    for piece in made.pieces:
        for row in piece.rows:
            shares = shares_of(piece, row, colours[0].id)
            own, weighed = _heavier(piece, row, gauge)
            whole = sum(shares.values())
            for colour, stitches in shares.items():
                behind = 0.0 if weighed or len(shares) < 2 else (whole - stitches) / k_value("kw")
                found[colour] = found.get(colour, 0.0) + own * (stitches + behind)
    return found


def _heavier(piece: Piece, row: Row, gauge: DesignGauge) -> tuple[float, bool]:
    """Yarn in a stitch of a row to that of the garment's fabric, and whether its own swatch was weighed."""
    band = piece.band_at(row.row)
    own = gauge.bands[band.number - 1] if band and band.number <= len(gauge.bands) else None
    if band is None:
        return 1.0, grams_per_stitch(gauge.swatch) is not None
    of_band, plain = (grams_per_stitch(g.swatch) if g else None for g in (own, gauge))
    return (of_band / plain, True) if of_band and plain else (1.0, False)
