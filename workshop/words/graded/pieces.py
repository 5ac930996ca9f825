"""The pieces of a design in all its sizes as one instruction.

Rows are counted from 1 again at each landmark that grading moves (underarm, neck, top of a sleeve), so that most of
them have one number in all sizes; odd rows stay right-side rows.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from workshop.core.edgings import of_fabric
from workshop.core.making import roles
from workshop.core.making.bands import first_rib
from workshop.core.making.ledger import Mark, Piece, Row
from workshop.core.plan import Plan
from workshop.records import record
from workshop.words.before import before_knitting
from workshop.words.colours import next_colour
from workshop.words.graded.across import across_line, is_across
from workshop.words.graded.aligning import aligned, each, same
from workshop.words.graded.brackets import DASH, skeleton
from workshop.words.graded.deeds import Stretch, both_sides
from workshop.words.graded.only import Lines, merged, named
from workshop.words.graded.ribs import from_the_point, without_what_none_does
from workshop.words.graded.stretches import notes_at_edges, stretch_lines
from workshop.words.instructions import (
    beginning,
    change_needle,
    ending,
    finishing,
    is_as_its_pair,
    measures_of,
    point_of_a_v,
)
from workshop.words.phrase import capitalised, in_terms, in_terms_of
from workshop.words.rows.leans import no_bar
from workshop.words.rows.marks import mark_words, sides_of_lines
from workshop.words.rows.picking_up import edge_lines, one_from_each
from workshop.words.rows.row_actions import back_and_forth, in_pattern, noun, what
from workshop.words.rows.runs import alone, stretches
from workshop.words.rows.single_rows import sets_the_rib, special
from workshop.words.texts import texts

ANEW = ("underarm", "underarm_half", "cap", "top")
"""Marks after which rows are counted from 1."""


@record
class GradedPiece:
    """One piece in all sizes that have it: a heading, what it measures, and its lines in order."""

    title: str
    measures: tuple[str, ...]
    """One line; more where sizes measure it otherwise."""
    lines: tuple[str, ...]
    sizes: tuple[int, ...]
    """The places of the sizes that have it."""


@record
class _Item:
    """A line of one size, or rows of it, with what tells where it belongs."""

    key: tuple[object, ...]
    text: str = ""
    stretch: Stretch | None = None
    dashed: str = ""
    """The same in a form that all sizes share, with a dash at what this one leaves out; empty where there is none."""


OWN_LINES = re.compile(r"(, edge by edge, as in the next \d+ lines)\.")
"""What is told edge by edge: a line of some sizes only is none of another's."""


def graded(plans: Sequence[Plan], names: Sequence[str]) -> tuple[GradedPiece, ...]:
    """One instruction for sizes that can all be knitted, with the counts of all in brackets."""
    found = []
    for column in aligned([list(_pieces(plan)) for plan in plans], lambda a, b: same(a[0], b[0])):
        title = next(named_piece[0] for named_piece in column if named_piece)
        pieces = [named_piece[1] if named_piece else None for named_piece in column]
        sizes = tuple(at for at, piece in enumerate(pieces) if piece)
        project = plans[sizes[0]].project
        lines = _lines(pieces, plans)
        head = in_terms(title, project.terms)
        only = "" if len(sizes) == len(plans) else f" ({named(sizes, names).lower()} only)"
        measures = merged([_measures(p, plan) if p else None for p, plan in zip(pieces, plans, strict=True)])
        found.append(
            GradedPiece(
                f"{capitalised(head)}{only}",
                tuple(in_terms(line, project.terms) for line in _said(measures, sizes, names)),
                tuple(
                    OWN_LINES.sub(r"\1 for your size.", in_terms_of(line, project))
                    for line in _said(lines, sizes, names)
                ),
                sizes,
            )
        )
    return tuple(found)


def notes_before(plans: Sequence[Plan], names: Sequence[str]) -> tuple[str, ...]:
    """What is read before the first row, for all sizes."""
    said = texts("graded")
    of_sizes = [before_knitting(plan, counted_anew=True) for plan in plans]
    lines = dict.fromkeys(text for plan in plans for p in plan.made.pieces for text in sides_of_lines(p, p.rows))
    return (*all_notes(of_sizes, names), *lines, said["dash"], said["anew"])


def notes_after(plans: Sequence[Plan], names: Sequence[str]) -> tuple[str, ...]:
    """What is done once the pieces are knitted, for all sizes."""
    return all_notes([finishing(plan) for plan in plans], names)


def all_notes(of_sizes: Sequence[Sequence[str]], names: Sequence[str]) -> tuple[str, ...]:
    """Notes of all sizes; a sentence that some leave out names those it is for."""
    found: list[str] = []
    for column in aligned(of_sizes, _as_one):
        if len({skeleton(text) for text in column if text}) == 1:
            lines = merged(column)
        else:
            parts = aligned([_sentences(text) for text in column], _alike)
            lines = _run_together([line for part in parts for line in merged(part)])
        found += _said(lines, range(len(names)), names)
    return tuple(found)


def _as_one(one: str, other: str) -> float | None:
    """How little two notes belong together, which begin with the same sentence."""
    a, b = skeleton(one), skeleton(other)
    if a.startswith(b) or b.startswith(a):
        return 0.0
    first, *_ = _sentences(a)
    return SAME_BEGINNING if first == _sentences(b)[0] else None


SAME_BEGINNING = 0.5
"""What it costs to put notes beside each other that only begin alike."""


def _alike(one: str, other: str) -> float | None:
    return same(skeleton(one), skeleton(other))


def _sentences(note: str | None) -> list[str]:
    return re.split(r"(?<=\.) (?=[A-Z])", note) if note else []


def _run_together(lines: Sequence[Lines]) -> list[Lines]:
    """Sentences that follow each other for the same sizes as one line."""
    runs = [[*run] for _, run in groupby(lines, key=lambda some: some.sizes)]
    return [Lines((" ".join(line for some in run for line in some.lines),), run[0].sizes) for run in runs]


def _said(lines: Sequence[Lines], sizes: Sequence[int], names: Sequence[str]) -> Iterator[str]:
    """Lines as they are printed: what is for some sizes only names them."""
    for of_some in lines:
        only = "" if len(of_some.sizes) == len(sizes) else f"{named(of_some.sizes, names)} only: "
        yield from (f"{only}{line}" for line in of_some.lines)


def _measures(piece: Piece, plan: Plan) -> str:
    assert plan.gauge is not None
    return measures_of(piece, plan, plan.gauge)


def _pieces(plan: Plan) -> Iterator[tuple[str, Piece]]:
    """The pieces of one size with their titles; those that are alike once."""
    for piece in plan.made.pieces:
        both = bool(piece.role.alike) and is_as_its_pair(piece, plan)
        if not (both and piece.side == "right"):
            yield f"{piece.role.alike} (make two alike)" if both else piece.name, piece


def _lines(pieces: Sequence[Piece | None], plans: Sequence[Plan]) -> list[Lines]:
    of_sizes = [list(_items(piece, plan)) if piece else [] for piece, plan in zip(pieces, plans, strict=True)]
    found: list[Lines] = []
    for column in aligned(of_sizes, lambda a, b: same(a.key, b.key)):
        kept = [item.stretch if item else None for item in column]
        key = next(item.key for item in column if item)
        if key[0] == "rows":
            found += stretch_lines(kept, plans)
        elif key[0] == "across":
            found += across_line(kept)
        else:
            found += _in_few_lines(column)
    return found


def _in_few_lines(column: Sequence[_Item | None]) -> list[Lines]:
    """A line of each size; with dashes for what some leave out where that takes fewer lines."""
    lines = merged(each(column, lambda item: item.text))
    if len(lines) == 1 or not all(item.dashed for item in column if item):
        return lines
    shared = [
        replace(some, lines=tuple(map(without_what_none_does, some.lines)))
        for some in merged(each(column, lambda item: item.dashed))
    ]
    return min(lines, shared, key=len)


# ── one size ─────────────────────────────────────────────────────────────────────────────────────────


def counted_from(piece: Piece) -> int:
    """The row after which those of a piece are counted when it begins; right-side rows stay odd."""
    if piece.parent is None:
        return 0
    if piece.role is roles.SHOULDER:
        return _counted_at_end(piece.parent)
    last = piece.parent.last_row
    return last if piece.worked == "round" else last - last % 2


def _counted_at_end(piece: Piece) -> int:
    again = [m.after_row for m in piece.marks if m.what in ANEW and _may_begin(piece, m.after_row)]
    split = [row.row - 1 for row in piece.rows if _divides(row, piece) and _may_begin(piece, row.row - 1)]
    return max([counted_from(piece), *again, *split])


def _may_begin(piece: Piece, after_row: int) -> bool:
    return piece.worked == "round" or after_row % 2 == 0


def _divides(row: Row, piece: Piece) -> bool:
    return piece.role.drawn == "panel" and any(e.do == "hold" for e in row.events)


def _items(piece: Piece, plan: Plan) -> Iterator[_Item]:
    """All that is written of one size of a piece, in its order."""
    start, first, colour = counted_from(piece), piece.rows[0], next_colour(piece, plan)
    text = beginning(piece, plan)
    if text:
        local = re.sub(rf"\b({noun(piece)}) {first.row}\b", rf"\g<1> {first.row - start}", text)
        yield _Item(("begin",), local if piece.parent else text)
    if each_stitch := one_from_each(first):
        yield _Item(("one from each",), each_stitch)
    for mark in piece.marks:
        if mark.after_row < first.row and (said := mark_words(mark, piece)):
            yield _Item(("mark", mark.what), said)
    last = ending(piece, plan)
    closing = [_Item(("end",), last)] if last else []
    before_last_mark = bool(piece.marks) and piece.marks[-1].what == "divide"
    previous: Row | None = None
    for rows in stretches(piece):
        yield from _needle(piece, rows[0], previous, plan)
        previous = rows[-1]
        if _divides(rows[0], piece) and start != rows[0].row - 1 and _may_begin(piece, rows[0].row - 1):
            start = rows[0].row - 1
            yield _Item(("again",), texts("graded")["rows_again"])
        yield from _of_rows(Stretch(piece, tuple(rows), start))
        for mark in (m for m in piece.marks if m.after_row == rows[-1].row):
            if before_last_mark and mark is piece.marks[-1]:
                yield from closing
                closing = []
            if mark.what in ANEW and _may_begin(piece, mark.after_row):
                start = mark.after_row
            yield from _of_mark(mark, piece, colour, again=start == mark.after_row)
    yield from closing


def _needle(piece: Piece, row: Row, previous: Row | None, plan: Plan) -> Iterator[_Item]:
    if previous is not None:
        for text in change_needle(piece, row, previous, plan):
            yield _Item(("needle",), text)


def _of_mark(mark: Mark, piece: Piece, colour: str, *, again: bool) -> Iterator[_Item]:
    said = mark_words(mark, piece, colour)
    if said and again:
        said += f" {texts('graded')[f'{noun(piece)}s_again']}"
    if said:
        yield _Item(("mark", mark.what), said)


def _main(row: Row) -> tuple[str, str]:
    """For what a row stands alone."""
    done = {e.do: e.where for e in row.events}
    kind = next((do for do in ("join", "hold", "pick-up") if do in done), None)
    alone_for = [(e.do, e.where) for e in row.events if e.where in ("across", "underarm", "centre") and not e.line]
    return (kind, "") if kind else alone_for[0] if alone_for else ("", "")


def _of_rows(stretch: Stretch) -> Iterator[_Item]:
    """A stretch of rows, or a row that stands alone with the lines that belong to it."""
    piece, first = stretch.piece, stretch.rows[0]
    if len(stretch.rows) > 1 or not alone(first, piece):
        yield _Item(("rows", first.fabric, back_and_forth(first, piece), in_pattern(piece, first)), stretch=stretch)
        return
    event = first.events[0] if first.events else None
    if event and is_across(first) and not any(first.row in (p.set_up, p.goes_out) for p in piece.panels):
        yield _Item(("across", event.do, first.fabric), stretch=stretch)
        for line in notes_at_edges(stretch):
            yield _Item(("plain", line.partition(":")[0]), line)
        return
    yield _Item(("alone", _main(first)), _alone(stretch, first), dashed=_by_side(stretch) or _from_the_point(stretch))
    for line in notes_at_edges(stretch):
        yield _Item(("plain", line.partition(":")[0]), line)
    for line in edge_lines(first):
        yield _Item(("edge", line.split(" ", 1)[1].split(":")[0]), line)
    for line in point_of_a_v(piece, first):
        yield _Item(("point",), line)


def _alone(stretch: Stretch, row: Row) -> str:
    told = special(stretch.piece, row).replace(str(row.row), str(stretch.number(row)), 1)
    return " ".join(filter(None, [told, no_bar(stretch.piece, row)]))


def _by_side(stretch: Stretch) -> str:
    """The round that closes the front of a yoke; nothing of another row."""
    if _main(stretch.rows[0]) != ("cast-on", "centre"):
        return ""
    row, left_out = both_sides(stretch.rows[0])
    told = _alone(stretch, row)
    for event in left_out:
        said = " ".join(what(event, stretch.piece))
        told = told.replace(said, re.sub(r"\d+", DASH, said, count=1))
    return told


def _from_the_point(stretch: Stretch) -> str:
    """The round that sets the rib of a V band; nothing of another row."""
    piece, row = stretch.piece, stretch.rows[0]
    if not sets_the_rib(piece, row):
        return ""
    return from_the_point(_alone(stretch, row), first_rib(piece), of_fabric(row.fabric))
