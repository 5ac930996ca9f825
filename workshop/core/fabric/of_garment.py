"""The fabric of a garment: its pattern set on every piece that takes it, and what is said of that."""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from workshop.core.constructions import construction
from workshop.core.fabric.at_edges import NO_MOTIF
from workshop.core.fabric.bands import bands_kept
from workshop.core.fabric.begun import begun_with
from workshop.core.fabric.colours import check_colours, with_stripes
from workshop.core.fabric.keeping import (
    Keeper,
    first_row_to_meet,
    landmark,
    meeting_row,
    out_of_step,
    pattern_rows,
    pieces_in_order,
)
from workshop.core.fabric.on_whole_rows import check_rows, check_sleeve
from workshop.core.fabric.panels_meeting import with_panels_met
from workshop.core.fabric.patterns import SetPattern, pattern_of
from workshop.core.fabric.turned import check_turned
from workshop.core.garments import Garment
from workshop.core.making import roles
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Piece, each_changed
from workshop.core.making.panel_stitches import set_on, without_panels, without_strange
from workshop.core.notes import Notes
from workshop.core.remarks import Amount
from workshop.project import FabricBegun, Project


def in_fabric(project: Project, made: Garment, cloth: Cloth, notes: Notes) -> Garment:
    """The garment with its bands, its stripes, its stitch pattern and its panels, row by row."""
    made = with_stripes(project, bands_kept(made, notes), notes)
    check_colours(project, made, notes)
    made = _with_all(project, made, cloth, notes)
    check_turned(made.pieces, notes)
    return made


def _with_all(project: Project, made: Garment, cloth: Cloth, notes: Notes) -> Garment:
    if not made.panels and not project.knitting:
        kept = _in_pattern(project, made, cloth, notes)
        return replace(made, pieces=_with(made.pieces, kept)) if kept else made
    made = replace(made, pieces=without_strange(made.pieces, made.panels))
    found = _in_pattern(project, replace(made, pieces=without_panels(made.pieces)), cloth, notes)
    pieces = set_on(_with(made.pieces, found), made.panels, cloth)
    joined = construction(project.garment.construction).yoke
    return replace(made, pieces=with_panels_met(project, pieces, cloth) if joined else pieces)


def _in_pattern(project: Project, made: Garment, cloth: Cloth, notes: Notes) -> Mapping[str, SetPattern]:
    """The stitch pattern of each piece that takes it, by its name; the pieces are without panels."""
    pattern = pattern_of(project, project.garment.fabric)
    if pattern is None or not made.pieces:
        return {}
    flat = any(p.worked == "flat" for p in made.pieces if not p.role.band)
    repeat_rows = pattern.rows_in("flat" if flat else "round")
    whole, centre = made.fit not in ("centred", "runs-on"), project.garment.fabric_centre or "motif"
    keeper = Keeper(pattern, repeat_rows, centre, whole, made.fit, made.pieces)
    meets = None
    taking = [piece for piece in pieces_in_order(made.pieces) if _takes_it(piece, project)]
    for piece in taking:
        first, plain = _begins(project, keeper, piece, taking, meets)
        if piece.parent is None and piece.role is roles.SLEEVE:
            plain = max(plain, check_sleeve(piece, pattern, first, cloth, made, notes))
        found = keeper.set_on(piece, first, plain)
        after = landmark(piece)
        if found is not None and meets is None and after is not None and piece.role is not roles.SLEEVE:
            meets = None if construction(project.garment.construction).straight_sleeves else meeting_row(found, after)
    _check(made, keeper.done, notes)
    check_rows(made, keeper.done, cloth, notes)
    return keeper.done


def _begins(
    project: Project, keeper: Keeper, piece: Piece, taking: Sequence[Piece], meets: int | None
) -> tuple[int, int]:
    """Row of the pattern that the first row of a piece would be, and how many of its rows are plain instead.

    Begun in the round, a pattern waits a round where its right-side rows would become wrong-side rows above.
    """
    if piece.parent is not None:
        return 1, 0
    first, repeat_rows = 1, keeper.repeat_rows
    if piece.role is roles.SLEEVE:
        begun = begun_with(project, "pattern", piece, keeper.pieces)
        if begun is not None:
            return _to_go_on(keeper, piece, begun), 0
        first = _to_meet(keeper, piece, meets)
    late = repeat_rows % 2 == 0 and out_of_step(piece, keeper.pattern, taking, first)
    return ((first - 2) % repeat_rows + 1, 1) if late else (first, 0)


def _to_go_on(keeper: Keeper, sleeve: Piece, begun: FabricBegun) -> int:
    """Row of the pattern that the first row which can be in it had, or would have had without the plain ones."""
    plain = sum(row.row < begun.row for row in pattern_rows(sleeve, keeper.pattern))
    return (begun.of_repeat - plain - 1) % keeper.repeat_rows + 1


def _to_meet(keeper: Keeper, sleeve: Piece, meets: int | None) -> int:
    after = landmark(sleeve)
    if meets is None or after is None:
        return 1
    first = first_row_to_meet(keeper.pattern, keeper.repeat_rows, sleeve, after, meets)
    return first if sleeve.worked == "round" or first % 2 else 1  # its first row keeps its side


def _takes_it(piece: Piece, project: Project) -> bool:
    """Whether a piece can keep a pattern: bands are edgings, and a round yoke's decreases run across all repeats."""
    if piece.role.band:
        return False
    across = construction(project.garment.construction).module == "round_yoke"
    return not (across and piece.role in roles.YOKES)


def _with(pieces: tuple[Piece, ...], found: Mapping[str, SetPattern]) -> tuple[Piece, ...]:
    return each_changed(pieces, (replace(p, pattern=found.get(p.name)) for p in pieces))


def _bodies(made: Garment) -> set[str]:
    return {p.name for p in made.pieces if p.parent is None and p.role in (roles.BODY, roles.BACK)}


def _check(made: Garment, found: Mapping[str, SetPattern], notes: Notes) -> None:
    pattern = next(iter(found.values())).pattern if found else None
    if pattern is None:
        return
    if any(p.role in roles.YOKES and p.name not in found for p in made.pieces):
        notes.check("pattern-plain-yoke", pattern=pattern.name)
    if pattern.multiple > NO_MOTIF and any(
        not known.on_centre for name, known in found.items() if made.pieces and name in _bodies(made)
    ):
        notes.check("pattern-off-centre", pattern=pattern.name)
    body = made.first(roles.BODY)
    if body is not None and body.worked == "round" and body.name in found:
        around = body.rows[0 if body.parent else -1].before  # where a body meets the yoke, whichever end that is
        if around % pattern.multiple:
            notes.check(
                "pattern-not-round.parts" if body.parent else "pattern-not-round",
                pattern=pattern.name,
                multiple=Amount(pattern.multiple, "stitches"),
                stitches=Amount(around, "stitches"),
            )
