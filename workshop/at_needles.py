"""What a knitter does at the needles, as changes of her project: row done, one back, I am at row n, counted, weighed.

The app, the plain mode and the command all come here. Nothing is derived: rows are kept as they were worked.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from math import log

from workshop.core.cloth.wash import DesignGauge
from workshop.core.garments.bands_along import picked_up_along
from workshop.core.knitting.before import Before
from workshop.core.knitting.compared import of_fabric
from workshop.core.knitting.facts import noted
from workshop.core.knitting.needles import Needles, PieceStanding, at_the_needles
from workshop.core.knitting.outcomes import way_taken
from workshop.core.knitting.rest import joined_in_first
from workshop.core.knitting.weighings import had_g
from workshop.core.making.ledger import ADDS, Piece
from workshop.core.making.roles import SLEEVE
from workshop.core.plan import Plan
from workshop.planned import plan as planned
from workshop.project import (
    Along,
    FinishedMeasure,
    HadRows,
    LogEntry,
    PieceCount,
    Project,
    TakenWay,
    Units,
    WayOn,
    Weighing,
    WorkedEvent,
)
from workshop.records import record
from workshop.units import A_COUNT, GAUGE_OVER_CM, NotUnderstood, convert, read_count, show_exactly, show_gauge, shown


@record
class Said:
    """What a knitter says in one go, in the order in which it is taken."""

    piece: str = ""
    row: int | None = None
    """The row worked last, by its printed number."""
    done: int | None = None
    back: int | None = None
    stitches: Sequence[str] = ()
    rows: Sequence[str] = ()
    left_g: float | None = None
    take: str = ""


def taken_in(project: Project, said: Said, today: date, before: Before | None = None) -> Project:
    """The project with all that was said. Raises NotKnitted; then nothing of it counts."""
    plan = planned(project)
    needles = at_the_needles(plan, today)
    hand = found_piece(needles, said.piece) if said.piece else needles.at_hand
    if hand is None and (said.stitches or said.rows or _moves(said)):
        raise NotKnitted("every piece is knitted" if needles.pieces else "there is no plan to knit from yet")
    if hand is not None and _moves(said):
        hand = hand if said.piece or not said.back else last_moved(plan, needles) or hand
        project = moved(project, plan, hand, _wanted(hand, said), today)
    for along, texts in (("stitches", said.stitches), ("rows", said.rows)):
        if texts and hand is not None:
            plan = planned(project)
            here = found_piece(at_the_needles(plan, today), hand.piece.name)
            project = counted(project, plan, here, "stitches" if along == "stitches" else "rows", texts, today)
    if said.left_g is not None:
        plan = planned(project)
        project = weighed(project, plan, at_the_needles(plan, today), said.left_g, today)
    if said.take:
        plan = planned(project)
        project = taken(project, plan, at_the_needles(plan, today), said.take, today, before)
    return project


def _moves(said: Said) -> bool:
    return (said.row, said.done, said.back) != (None, None, None)


def _wanted(hand: PieceStanding, said: Said) -> int:
    """The row that is meant. Raises NotKnitted for rows that are less than none."""
    for rows in (said.done, said.back):
        if rows is not None and rows < 0:
            raise NotKnitted(f"{rows} rows: say how many as a number from 0 up")
    if said.row is not None:
        return said.row
    return hand.row + (said.done or 0) - (said.back or 0)


class NotKnitted(ValueError):
    """Something that cannot be said of these pieces: one line that says what was found and what would be right."""


def found_piece(needles: Needles, text: str) -> PieceStanding:
    """The piece meant by its printed name or an unambiguous part of it. Raises NotKnitted."""
    wanted = text.strip().casefold()
    names = [p.piece.name for p in needles.pieces]
    exact = [p for p in needles.pieces if p.piece.name.casefold() == wanted]
    part = exact or [p for p in needles.pieces if wanted and wanted in p.piece.name.casefold()]
    if len(part) > 1:  # the piece itself before what grows from it
        part = [p for p in part if p.piece.parent is None or p.piece.parent not in [q.piece for q in part]]
    if len(part) == 1:
        return part[0]
    there = ", ".join(p.piece.name for p in part) if part else ", ".join(names)
    why = "could be several" if part else "isn't a piece of this plan"
    raise NotKnitted(f"'{shown(text)}' {why}: {there or 'there is no plan yet'}")


def last_moved(plan: Plan, needles: Needles) -> PieceStanding | None:
    """The piece that "one back" is about: the one moved last, also where that row finished it."""
    last = next((e.piece for e in reversed(plan.project.log) if e.row is not None), "")
    return needles.piece(last) or needles.at_hand


def moved(project: Project, plan: Plan, standing: PieceStanding, row: int, today: date) -> Project:
    """Like :func:`at_row`; the piece that is knitted beside it goes along. Raises NotKnitted."""
    known = project.knitted(standing.piece.name)
    other = at_the_needles(plan, today).piece(known.beside) if known and known.beside else None
    if other is not None:
        rows = min(row - standing.first_row + 1, len(other.piece.rows))
        project = at_row(project, plan, other, other.first_row - 1 + rows, today)
    return at_row(project, plan, standing, row, today)


def at_row(project: Project, plan: Plan, standing: PieceStanding, row: int, today: date) -> Project:
    """The project with a piece worked up to a row, by its printed number. Raises NotKnitted."""
    piece = standing.piece
    last = piece.last_row
    if not standing.first_row - 1 <= row <= last:
        raise NotKnitted(f"row {row}: {_rows_there(standing)}{_own_count(standing, row)}")
    rows = row - standing.first_row + 1
    if rows > standing.rows_knitted:
        project = _with_what_it_goes_on_from(project, plan, piece)
    later = _grown(project, plan, standing) if standing.finished and rows < len(piece.rows) else ()
    if later:
        raise NotKnitted(f"the {later[0]} has been begun, so the {piece.told} is finished; take that back first")
    known = project.knitted(piece.name)
    new = noted(piece, rows, known)
    others = tuple(k for k in project.knitting if k.piece != piece.name)
    knitting = (*others, new) if rows or new.count or new.beside else others
    return replace(project, knitting=knitting, log=_logged(project, piece.name, row, today))


def _with_what_it_goes_on_from(project: Project, plan: Plan, piece: Piece) -> Project:
    """The project with the pieces finished that one goes on from. Raises NotKnitted where one is not knitted.

    A way may have left one no rows, so that it ended where it stood: no later answer gives it any.
    """
    knitting = {known.piece: known for known in project.knitting}
    for first in _before(plan, piece):
        known = knitting.get(first.name)
        if known is None or known.rows < len(first.rows):
            at = first.rows[0].row - 1 + (known.rows if known else 0)
            raise NotKnitted(f"the {first.name} comes first; it is at row {at} of {first.last_row}")
        if not known.finished:
            knitting[first.name] = noted(first, known.rows, known)
    return replace(project, knitting=tuple(knitting.values()))


def _rows_there(standing: PieceStanding) -> str:
    rows = "rounds" if standing.piece.worked == "round" else "rows"
    return f"the {standing.piece.told} has {rows} {standing.first_row} to {standing.piece.last_row}"


def _own_count(standing: PieceStanding, row: int) -> str:
    """What a number would be that was counted from the first row of a piece whose rows go on from another's."""
    if standing.first_row == 1 or not 0 < row <= len(standing.piece.rows):
        return ""
    return f". If you counted from its first row, type {standing.first_row - 1 + row}"


def _before(plan: Plan, piece: Piece) -> tuple[Piece, ...]:
    """Pieces that one goes on from: what it grows out of, sleeves that are joined in its first row, and those along
    whose edges a band is picked up.
    """
    parent = (piece.parent,) if piece.parent is not None else ()
    joined = (p for p in plan.made.pieces if p.role is SLEEVE and joined_in_first(piece))
    return (*parent, *joined, *picked_up_along(piece, plan.made))


def _grown(project: Project, plan: Plan, standing: PieceStanding) -> tuple[str, ...]:
    """Pieces that go on from this one and have been begun."""
    mine = standing.piece.name
    names = {p.name for p in plan.made.pieces if mine in [q.name for q in _before(plan, p)]}
    return tuple(k.piece for k in project.knitting if k.piece in names and k.rows)


def _logged(project: Project, piece: str, row: int, today: date) -> tuple[LogEntry, ...]:
    """The log with where a piece stands today: one line for a piece and a day."""
    day = today.isoformat()
    kept = tuple(e for e in project.log if not (e.on == day and e.piece == piece and e.row is not None))
    return (*kept, LogEntry(day, piece, row))


def counted(
    project: Project, plan: Plan, standing: PieceStanding, along: Along, texts: Sequence[str], today: date
) -> Project:
    """The project with counts on a piece, one for each place: "27.5 over 12" in its unit. Raises NotKnitted."""
    units = project.units
    places = [_count(text, along, units) for text in texts]
    day, row = today.isoformat(), standing.row
    known = project.knitted(standing.piece.name) or noted(standing.piece, 0)
    kept = tuple(c for c in known.count if (c.along, c.on, c.row) != (along, day, row))
    new = tuple(PieceCount(along, count, over_cm, row, day) for count, over_cm in places)
    if plan.gauge is None:
        raise NotKnitted("there is no gauge to compare with yet: count the swatch first")
    at = row if standing.rows_knitted else None  # with no row told, nobody knows how far it is
    said = replace(known, count=tuple(replace(c, row=at) for c in new))
    _check(plan.gauge, units, along, of_fabric(said, standing.piece, plan.gauge))
    others = tuple(k for k in project.knitting if k.piece != known.piece)
    return replace(project, knitting=(*others, replace(known, count=(*kept, *new))))


def _count(text: str, along: Along, units: Units) -> tuple[float, float]:
    """A typed count and its distance in cm, typed as a swatch's is, also where that's left out. Raises NotKnitted."""
    try:
        count, over_cm = read_count(text, units)
    except NotUnderstood:
        how = f"Say how many {along} over how many {'inches' if units == 'in' else 'cm'}: {A_COUNT[units]}"
        raise NotKnitted(f"'{text[:40]}' isn't a count. {how}") from None
    over_cm = GAUGE_OVER_CM[units] if over_cm is None else over_cm
    if count <= 0 or over_cm <= 0:
        raise NotKnitted(f"'{text[:40]}': both the {along} and the length are more than nought")
    return count, round(over_cm, 4)


FAR, NEAR = 1.5, 0.12
"""Counts further than this from the swatch's are asked about: off by a factor, or nearer to the other direction
(common practice, no source)."""


def _check(gauge: DesignGauge, units: Units, along: Along, counts: Sequence[PieceCount]) -> None:
    """Raise NotKnitted for a count that cannot be of this fabric, with what it may have been."""
    own = gauge.unwashed_stitches if along == "stitches" else gauge.unwashed_rows
    one = own or (gauge.stitches if along == "stitches" else gauge.rows)
    other = gauge.rows if along == "stitches" else gauge.stitches
    for count in counts:
        per_10cm = count.count / count.over_cm * 10
        ratio = per_10cm / one.per_10cm
        swapped = abs(ratio - 1) > NEAR and abs(log(per_10cm / other.per_10cm)) < abs(log(ratio))
        if 1 / FAR < ratio < FAR and not swapped:
            continue
        found = f"{count.count:g} over {show_exactly(count.over_cm, units)} is {show_gauge(per_10cm, units, along)}"
        told = f"{found}. The swatch has {show_gauge(one.per_10cm, units)}"
        if swapped and abs(per_10cm / other.per_10cm - 1) < NEAR:
            raise NotKnitted(f"{told}. Were stitches and rows swapped?")
        inch = convert(1.0, "in", "cm")
        if abs(ratio * inch - 1) < 0.15 or abs(ratio / inch - 1) < 0.15:
            raise NotKnitted(f"{told}. Is one of them in {'cm' if units == 'in' else 'inches'}?")
        raise NotKnitted(f"{told}. Please count again")


MOST_G = 50_000
"""More yarn than this is no jumper's."""


def weighed(
    project: Project, plan: Plan, needles: Needles, left_g: float, today: date, pieces_g: float | None = None
) -> Project:
    """The project with the yarn left on the scale. Raises NotKnitted for more than there was."""
    for grams in (left_g, pieces_g):
        if grams is not None and not 0 <= grams <= MOST_G:  # nor what is no number at all
            raise NotKnitted(f"{grams:g} g isn't a weight of yarn. Say the grams on the scale: 342")
    had, done = had_g(plan), sum(p.stitches_knitted for p in needles.pieces)
    _check_left(project, left_g, had, done)
    new = Weighing(left_g, pieces_g, done, today.isoformat(), had)
    return replace(project, weighing=(*project.weighing, new))


def _check_left(project: Project, left_g: float, had: float | None, done: int) -> None:
    """Raise NotKnitted for more yarn than there was; what was ripped back since is there again."""
    last = next((w for w in reversed(project.weighing) if w.stitches is None or w.stitches <= done), None)
    if last is None and had is not None and left_g > had * 1.1:
        raise NotKnitted(f"{left_g:g} g is more than the {had:g} g of all balls together. Weigh only the yarn")
    if last is None or left_g <= last.left_g:
        return
    if last.had_g is not None:
        added = max(0.0, (had or 0.0) - last.had_g)
    else:  # noted before balls were: those at home may have become more
        yarn = project.design_yarn
        added = max(0.0, (had or 0.0) - last.left_g) if yarn and yarn.balls else 0.0
    if left_g > last.left_g + added * 1.1:
        new = f" and the {added:g} g in new balls" if added else ""
        found = f"{left_g:g} g is more than the {last.left_g:g} g weighed before{new}"
        raise NotKnitted(f"{found}. If you've added yarn, change the balls in step 1")


def taken(
    project: Project, plan: Plan, needles: Needles, code: str, today: date, before: Before | None = None
) -> Project:
    """The project with a way on taken. Raises NotKnitted where the latest check does not offer it."""
    if before is not None and code == AS_BEFORE and plan.gauge is not None and needles.at_hand is not None:
        return _planned_as_before(project, plan.gauge, needles.at_hand.piece.name, before, today)
    way = next((w for w in needles.ways if w.code == code), None)
    if way is None or needles.at_hand is None:
        offered = ", ".join(w.code for w in needles.ways)
        raise NotKnitted(f"'{code}' isn't one of your choices: {offered or 'count on the piece first'}")
    hand, rows, across = needles.at_hand, needles.rows, needles.stitches
    if not needles.is_fresh:
        raise NotKnitted(f"the {hand.piece.told} was counted at another row. Count again, then choose")
    had = [HadRows(p.piece.name, p.row) for p in needles.pieces if p.rows_knitted]
    one = way_taken(way, hand.piece, hand.row, across, rows, today.isoformat(), had)
    entry = LogEntry(today.isoformat(), hand.piece.name, None, f"took the way {way.code}")
    project = replace(project, taken=(*project.taken, one), log=(*project.log, entry))
    return at_row(project, plan, hand, hand.row - way.rows_ripped, today) if way.rows_ripped else project


AS_BEFORE: WayOn = "as-before"
"""The way to plan by what finished jumpers say of one's hands."""


def _planned_as_before(project: Project, gauge: DesignGauge, piece: str, before: Before, today: date) -> Project:
    stitches = gauge.stitches.per_10cm * before.stitches if before.stitches else None
    rows = gauge.rows.per_10cm * before.rows if before.rows else None
    way = TakenWay(AS_BEFORE, piece, 0, stitches, rows, before.yarn, on=today.isoformat())
    entry = LogEntry(today.isoformat(), "", None, f"planned by your hands, from {', '.join(before.titles)}")
    return replace(project, taken=(*project.taken, way), log=(*project.log, entry))


def untaken(project: Project, today: date) -> Project:
    """The project without the way that was taken last. Raises NotKnitted where none was.

    Rows that were to be ripped for it are there again, as long as the piece is where that left it.
    """
    if not project.taken:
        raise NotKnitted("there's no choice to take back")
    last = project.taken[-1]
    entry = LogEntry(today.isoformat(), last.piece, None, f"took back the way {last.way}")
    project = replace(project, taken=project.taken[:-1], log=(*project.log, entry))
    plan = planned(project)
    here = at_the_needles(plan, today).piece(last.piece)
    if last.ripped and here is not None and here.row == last.row - last.ripped:
        project = at_row(project, plan, here, last.row, today)
    return project


# ── two pieces at once, slips, notes ─────────────────────────────────────────────────────────────────


def together(project: Project, plan: Plan, standing: PieceStanding) -> Project:
    """The project with a piece and its pair knitted at the same time, or apart again. Raises NotKnitted."""
    piece, known = standing.piece, project.knitted(standing.piece.name) or noted(standing.piece, 0)
    if known.beside:
        names = (known.piece, known.beside)
        return replace(
            project, knitting=tuple(replace(k, beside="") if k.piece in names else k for k in project.knitting)
        )
    pair = next((p for p in plan.made.pieces if p.role is piece.role and p is not piece and p.side), None)
    pair = pair if piece.side and pair and len(pair.rows) == len(piece.rows) else None
    if pair is None:
        raise NotKnitted(f"the {piece.told} has no pair to knit it with")
    other = project.knitted(pair.name) or noted(pair, 0)
    if other.rows != known.rows:
        raise NotKnitted(
            f"the {pair.told} is at row {pair.rows[0].row - 1 + other.rows} and the {piece.told} at {standing.row}. "
            "Bring them to the same row, then knit both"
        )
    mine, theirs = replace(known, beside=pair.name), replace(other, beside=piece.name)
    others = tuple(k for k in project.knitting if k.piece not in (piece.name, pair.name))
    return replace(project, knitting=(*others, theirs, mine))


MOST_OFF = 0.1
"""A count on the needle that is off by more than this part is another row, or another piece (practice)."""


def slipped(project: Project, standing: PieceStanding, stitches: int, today: date) -> Project:
    """The project with another count on the needle than the plan has: the next rows put it right. Raises NotKnitted."""
    piece, known = standing.piece, project.knitted(standing.piece.name)
    if known is None or not known.rows or standing.finished:
        raise NotKnitted(f"nothing of the {piece.told} is on the needle yet")
    planned = known.cast_on + sum(_change(e) for run in known.worked for e in run.event)
    if abs(stitches - planned) > max(2, MOST_OFF * planned):
        raise NotKnitted(
            f"{stitches} stitches: row {standing.row} of the {piece.told} leaves {planned}. "
            "That's far off, so this may be a different row. Try 'lost'"
        )
    new = replace(known, stitches=stitches if stitches != planned else None)
    off = stitches - planned
    text = f"{abs(off)} stitch{'es' if abs(off) > 1 else ''} {'more' if off > 0 else 'fewer'} than planned"
    entry = LogEntry(
        today.isoformat(), piece.name, None, f"row {standing.row}: {text if off else 'stitches as planned'}"
    )
    others = tuple(k for k in project.knitting if k.piece != piece.name)
    return replace(project, knitting=(*others, new), log=(*project.log, entry))


def _change(event: WorkedEvent) -> int:
    return ADDS.get(event.do, 0) * event.stitches * (2 if event.where == "both" else 1)


AS_FAR_OFF = 2.0
"""A finished measurement further from the plan's than this factor is a slip of the pen (practice)."""


def measured(project: Project, plan: Plan, what: str, cm: float, today: date) -> Project:
    """The project with what the finished garment measures after its wash. Raises NotKnitted."""
    known = {name.replace("_", " "): value for name, value in plan.finished_cm.items()}
    name = " ".join(what.casefold().split())
    if name not in known:
        raise NotKnitted(
            f"'{what[:40]}' isn't one of the finished measurements: {', '.join(known) or 'there is no plan'}"
        )
    if not known[name] / AS_FAR_OFF < cm < known[name] * AS_FAR_OFF:
        raise NotKnitted(
            f"{name} {cm:.0f} cm: the plan has {known[name]:.0f} cm. Did you use the right unit, and measure all the "
            "way around?"
        )
    kept = tuple(m for m in project.measured if m.what != name)
    return replace(project, measured=(*kept, FinishedMeasure(name, cm, today.isoformat())))


MOST_NOTED = 400
"""Characters of one note."""


def remarked(project: Project, standing: PieceStanding | None, text: str, today: date) -> Project:
    """The project with a line in its log: a note, a ball begun. Raises NotKnitted for an empty or endless one."""
    if not text.strip() or len(text) > MOST_NOTED:
        raise NotKnitted(f"a note can have 1 to {MOST_NOTED} letters")
    where = f"row {standing.row}: " if standing is not None and standing.rows_knitted else ""
    piece = standing.piece.name if standing is not None else ""
    return replace(project, log=(*project.log, LogEntry(today.isoformat(), piece, None, f"{where}{text.strip()}")))
