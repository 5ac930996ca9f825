"""Bands of a yoke: the gauge of each from its own swatch, and how they stand in the rows that are knitted."""

from collections.abc import Sequence
from dataclasses import replace

from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.cloth.wash import DesignGauge
from workshop.core.constructions import construction
from workshop.core.fabric.own_gauge import gauge_in
from workshop.core.fabric.patterns import Pattern, SetBand, pattern_of
from workshop.core.garments import Garment
from workshop.core.making import roles
from workshop.core.making.ledger import Piece, each_changed
from workshop.core.making.yoke_bands import BandWish
from workshop.core.notes import Notes
from workshop.core.remarks import Amount
from workshop.project import Project


def _wished(project: Project) -> list[Pattern]:
    """The patterns of the bands, from the join up; none of a yoke that has no rounds."""
    garment = project.garment
    if not construction(garment.construction).in_rings:
        return []
    return [pattern for band in garment.band if (pattern := pattern_of(project, band.id)) is not None]


def gauges_of_bands(
    project: Project, chosen: DesignGauge, swatches: Sequence[MeasuredSwatch], notes: Notes
) -> tuple[DesignGauge | None, ...]:
    """For each band of a yoke the gauge of a swatch in it; None, and a check, where none is counted."""
    found = tuple(gauge_in(project, p.id, chosen, swatches) for p in _wished(project))
    for pattern, gauge in {p.id: (p, g) for p, g in zip(_wished(project), found, strict=True)}.values():
        if gauge is None:
            notes.check("band-unswatched", pattern=pattern.name, id=chosen.swatch.id)
        elif pattern.stranded and gauge.swatch.worked == "flat" and project.garment.front != "open":
            notes.check("band-swatched-flat", pattern=pattern.name, id=gauge.swatch.id)
    return found


def band_wishes(project: Project, gauge: DesignGauge) -> tuple[BandWish, ...]:
    """The bands that are wished for, each with what its gauge is beside that of the yoke."""
    wishes = []
    for number, (pattern, own) in enumerate(zip(_wished(project), gauge.bands, strict=False), 1):
        across = own.stitches.per_10cm / gauge.stitches.per_10cm if own else 1.0
        along = own.rows.per_10cm / gauge.rows.per_10cm if own else 1.0
        wishes.append(BandWish(number, pattern, across, along))
    return tuple(wishes)


def bands_kept(made: Garment, notes: Notes) -> Garment:
    """The garment with its bands in the rows as they are knitted: those that still have whole repeats there."""
    if not any(p.bands for p in made.pieces):
        return made
    kept = (_with_its_bands(p, notes) if p.bands else p for p in made.pieces)
    return replace(made, pieces=each_changed(made.pieces, kept))


def _with_its_bands(piece: Piece, notes: Notes) -> Piece:
    kept: list[SetBand] = []
    for band in piece.bands:
        rows = [r for r in piece.rows if band.row_of(r.row) is not None]
        if len(rows) == band.rows and all(r.before == r.after == band.stitches and not r.events for r in rows):
            kept.append(replace(band, first_stitch=_first(piece, band)))
        else:
            notes.check("band-not-kept", number=Amount(band.number, ""), row=Amount(band.from_row, ""))
    of_row = {row: b.number for b in kept for row in range(b.from_row, b.last_row + 1)}
    return replace(
        piece,
        bands=tuple(kept),
        rows=tuple(replace(r, band=of_row[r.row]) if r.row in of_row else r for r in piece.rows),
    )


def _first(piece: Piece, band: SetBand) -> int:
    """The stitch of the repeat that begins a round so that a motif is in the middle of the front.

    After decreases all across the front has its share of the stitches, of which the number that has such a middle is
    taken. Back and forth the middle of the row is that of the back.
    """
    if piece.worked == "flat":
        return 1
    marked = next((m for m in piece.marks if m.what == "markers"), None)
    total = sum(n for _, n in marked.counts) if marked else 0
    front = next((n for part, n in marked.counts if part.role is roles.FRONT), 0) if marked else 0
    share = round(band.stitches * front / total) if total else band.stitches // 2
    m, plus = band.pattern.multiple, band.pattern.plus
    share += (plus + m - share) % 2  # with j from 0 and the axis of a motif at c: 2j + share - 1 = 2c = plus - 1 + m
    return (plus + m - share) // 2 % m + 1


def motifs_meet(band: SetBand) -> bool:
    """Whether a motif is in the middle of the back too: an even number of them in the round."""
    return band.repeats % 2 == 0
