"""Where another needle was taken up. What the needle before has knitted keeps its gauge and its name."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from math import ceil

from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.cloth.wash import DesignGauge
from workshop.core.edgings import STOCKINETTE
from workshop.core.garments import Garment
from workshop.core.knitting.compared import ENOUGH_CM, compared_of, of_fabric
from workshop.core.knitting.taken import as_taken
from workshop.core.making.ledger import Piece, Row, each_changed
from workshop.project import PieceCount, Project, TakenWay
from workshop.records import record


@record
class OlderRows:
    """Rows of a piece up to one that another needle has knitted than the one in use now, and their washed gauge."""

    up_to: int
    gauge: tuple[float, float]
    """Stitches and rows per 10 cm."""


Older = Mapping[str, tuple[OlderRows, ...]]
"""For each piece, by its name, what older needles have knitted, from the first row on."""


def needle_changes(project: Project) -> list[TakenWay]:
    """The changes of needle, in their order."""
    return [way for way in project.taken if way.way == "other-needle"]


def had_rows(way: TakenWay) -> dict[str, int]:
    """How far each piece was when the needle was changed, by its printed rows."""
    return {way.piece: way.row} | {had.piece: had.row for had in way.had}


def _last_of(project: Project, way: TakenWay, piece: str) -> int:
    """The last row of a piece that was knitted before the needle was changed, and not ripped back for a later way."""
    since = project.taken[project.taken.index(way) + 1 :]
    ripped_to = [later.row - later.ripped for later in since if later.piece == piece and later.ripped]
    return min([had_rows(way).get(piece, 0), *ripped_to])


def needle_of(project: Project, first_mm: float | None, piece: str, row: int) -> float | None:
    """The needle in mm that knits the fabric in a row of a piece; ``first_mm`` is the swatch's."""
    changes = (way for way in reversed(needle_changes(project)) if way.needle_mm)
    return next((way.needle_mm for way in changes if row > _last_of(project, way, piece)), first_mm)


def counts_since(project: Project, piece: str, gauge: DesignGauge) -> int:
    """The row of a piece from which a count on it is one of the needle in use; 0 where that has knitted all of it."""
    changes = needle_changes(project)
    last = _last_of(project, changes[-1], piece) if changes else 0
    return last + ceil(ENOUGH_CM / 10 * (gauge.planned or gauge).rows.per_10cm) if last else 0


def since_change(
    project: Project, piece: str, counts: Iterable[PieceCount], gauge: DesignGauge
) -> tuple[PieceCount, ...]:
    """The counts on a piece that are of the needle in use now."""
    first = counts_since(project, piece, gauge)
    return tuple(c for c in counts if c.row is None or c.row >= first)


def older_rows(
    project: Project, gauge: DesignGauge | None, swatches: Sequence[MeasuredSwatch], pieces: Sequence[Piece]
) -> Older:
    """What older needles have knitted of each piece: at the gauge counted there, else the one planned by then."""
    changes = [(i, way) for i, way in enumerate(project.taken) if way.way == "other-needle"]
    if gauge is None or not changes:
        return {}
    found: dict[str, list[OlderRows]] = {}
    for i, way in changes:
        planned = as_taken(replace(project, taken=project.taken[:i]), gauge.planned or gauge)
        assert planned is not None
        for piece in pieces:
            last = found[piece.name][-1].up_to if piece.name in found else 0
            up_to = _last_of(project, way, piece.name)
            if up_to > last:
                own = _counted(project, gauge, swatches, piece, range(last + 1, up_to + 1))
                per_10cm = own[0] or planned.stitches.per_10cm, own[1] or planned.rows.per_10cm
                found.setdefault(piece.name, []).append(OlderRows(up_to, per_10cm))
    return {name: tuple(older) for name, older in found.items()}


def _counted(
    project: Project, gauge: DesignGauge, swatches: Sequence[MeasuredSwatch], piece: Piece, rows: range
) -> tuple[float | None, float | None]:
    """Stitches and rows to 10 cm after the wash, as they were counted last in these rows of a piece."""
    known = project.knitted(piece.name)
    counts = [c for c in of_fabric(known, piece, gauge) if c.row in rows] if known else []
    across, along = (compared_of(gauge, swatches, counts, one) for one in ("stitches", "rows"))
    return across.after_per_10cm if across else None, along.after_per_10cm if along else None


def with_older_gauges(made: Garment, older: Older) -> Garment:
    """The garment with the gauge of each row of its fabric that an older needle has knitted."""
    if not older:
        return made
    changed = (replace(p, rows=tuple(_row(row, older.get(p.name, ())) for row in p.rows)) for p in made.pieces)
    return replace(made, pieces=each_changed(made.pieces, changed))


def _row(row: Row, older: Sequence[OlderRows]) -> Row:
    own = next((one.gauge for one in older if row.row <= one.up_to), None)
    own = own if row.fabric == STOCKINETTE and not row.band else None
    return replace(row, own_gauge=own) if own != row.own_gauge else row


def rows_more(rows: Iterable[Row], older: Sequence[OlderRows], rows_per_10cm: float) -> float:
    """How many rows more a length has than at the gauge planned from, because of what older needles have knitted."""
    found = (_row(row, older).own_gauge for row in rows)
    return sum(1 - rows_per_10cm / own[1] for own in found if own is not None)


def rows_were_planned_since(project: Project) -> bool:
    """Whether rows were planned anew since the needle was changed: only then those of before call for other numbers."""
    since = [i for i, way in enumerate(project.taken) if way.way == "other-needle"]
    return bool(since) and any(way.rows_per_10cm for way in project.taken[since[-1] :])
