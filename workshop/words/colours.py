"""Colours, stripes and the bands of a yoke in words and charts: what is read before the first row, and the charts."""

from collections.abc import Iterator
from itertools import groupby

from workshop.core.fabric.bands import motifs_meet
from workshop.core.fabric.colours import palette, stranded_patterns
from workshop.core.fabric.patterns import Pattern, SetBand
from workshop.core.fabric.turned import Worked, to_be_turned
from workshop.core.making.ledger import Piece
from workshop.core.making.roles import SLEEVE, YOKES
from workshop.core.plan import Plan
from workshop.project import Colour
from workshop.words.fabric import turned_rows, typed_rows, written_rows
from workshop.words.phrase import counted
from workshop.words.rows.marks import last_colour
from workshop.words.texts import texts


def colour_notes(plan: Plan) -> Iterator[str]:
    """What is read of colours, stripes and bands before the first row; nothing of a plain garment."""
    said, colours = texts("colours"), palette(plan.project, plan.made)
    main = colours[0].id.upper() if colours else ""
    striped = any(p.stripes for p in plan.made.pieces)
    if colours:
        yield said["names"].format(names="; ".join(by_its_letter(c) for c in colours))
        yield said["main_edgings" if striped else "main_all"].format(main=main)
    yield from _of_stripes(plan, main) if striped else ()
    yield from _of_bands(plan, main)
    if stranded_patterns(plan.made):
        yield said["stranding"]


def _of_stripes(plan: Plan, main: str) -> Iterator[str]:
    said = texts("colours")
    stripes = ", ".join(f"{counted(s.rows, 'row')} {s.colour.upper()}" for s in plan.project.garment.stripe)
    from_neck = any(p.role in YOKES and p.parent is None for p in plan.made.pieces)
    yield said["stripes"].format(stripes=stripes, where=said["at_neck" if from_neck else "above_edging"])
    sleeves = (p.stripes for p in plan.made.pieces if p.role is SLEEVE and p.parent is None and p.stripes)
    if any(next(iter(stripes.values())).row > 1 for stripes in sleeves):
        yield said["sleeves"]
    bands = bands_of(plan)
    if bands:
        yield said["yoke_band" if len(bands) == 1 else "yoke_bands"].format(main=main)
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
        charted = "" if all(b.pattern.chart for b in bands) else "_in_rows"
        yield said[f"{'band' if len(bands) == 1 else 'bands'}{charted}"].format(many=len(bands))
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


def by_its_letter(colour: Colour) -> str:
    """A colour by its letter, with its name where it has one."""
    return f"{colour.id.upper()}, {colour.name}" if colour.name else colour.id.upper()


def bands_of(plan: Plan) -> list[SetBand]:
    """The bands of a garment, from the join up."""
    return [b for p in plan.made.pieces for b in p.bands]


def rows_of(pattern: Pattern, *, flat: bool, rows: int | None = None, plus: int | None = None) -> tuple[str, ...]:
    """The rows of a chart in words; of one that has none as the knitter wrote them.

    ``rows`` are those after which it begins again, where they are not those of the chart; ``plus`` the stitches that
    balance its repeats, where they are not those of the pattern.
    """
    if pattern.chart and pattern.stranded:
        numbers = range(1, (rows or pattern.rows) + 1)
        return tuple(_stranded_row(pattern, number, flat=flat) for number in numbers)
    if pattern.chart:
        return written_rows(pattern, "flat" if flat else "round", pattern.rows)[: pattern.rows]  # a band comes once
    worked: Worked = "flat" if flat else "round"
    if to_be_turned(pattern, worked):
        not_turned = texts("fabric")["not_turned_flat" if flat else "not_turned"]
        return turned_rows(pattern, worked, pattern.rows, plus=plus) or (*typed_rows(pattern), not_turned)
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
