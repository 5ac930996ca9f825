"""What is said at the needles: the row to knit now, what comes next, and the ways on."""

import re
from collections.abc import Sequence
from datetime import date
from itertools import pairwise

from workshop.core.edgings import STOCKINETTE, of_fabric
from workshop.core.knitting.before import Before
from workshop.core.knitting.compared import Comparison, counted_last
from workshop.core.knitting.lost_row import Candidate
from workshop.core.knitting.needles import Needles, PieceStanding
from workshop.core.knitting.on_the_tape import on_the_tape_cm, worn_cm
from workshop.core.knitting.ways import Three, Way
from workshop.core.making.ledger import Piece, Row
from workshop.core.plan import Plan
from workshop.project import FinishedMeasure, Project, Units
from workshop.records import record
from workshop.units import plain_number, show_length, show_range
from workshop.words.colours import rows_of
from workshop.words.fabric import row_at_hand
from workshop.words.instructions import after_last_row, before_row, measured_from
from workshop.words.phrase import capitalised, counted, in_terms, in_terms_of, joined, say
from workshop.words.rows.instruction_lines import line, lines_alongside, noun
from workshop.words.rows.leans import how_worked
from workshop.words.rows.plain_edges import edge_notes
from workshop.words.rows.row_actions import in_pattern, is_kept, is_turned, row_name, turned_row
from workshop.words.yarn_left import yarn_lines


def row_text(piece: Piece, row: Row, project: Project) -> str:
    """One row in full, with the end of it that is shaped, and how."""
    patterned = in_pattern(piece, row)
    told_by_itself = is_kept(piece, row) or row.band or row.row in piece.stripes
    if row.fabric == STOCKINETTE and not row.events and not told_by_itself:
        return "Purl every stitch." if row.side == "WS" else "Knit every stitch."
    if row.side == "WS" and not row.events and of_fabric(row.fabric).rib:
        return "Rib: knit the knits and purl the purls as they face you."
    if row.fabric == STOCKINETTE and not told_by_itself and is_turned(row):
        return in_terms_of(capitalised(turned_row(row, piece)), project)
    told = [line(piece, [row]), *lines_alongside(piece, [row]), *edge_notes(piece, [row])]
    text = AS_IN_LINES.sub(":", " ".join([told[0].partition(": ")[2], *told[1:]]))
    if not told_by_itself:
        text = IN_ONE_ROW.sub("purl" if row.side == "WS" else "knit", text)
    text = capitalised(text) + _of_chart(piece, row)
    more = (how_worked(piece, row), row_at_hand(piece, row) if patterned else "")
    return in_terms_of(" ".join(part for part in (text, *more) if part), project)


AS_IN_LINES = re.compile(r", as in the next \d+ lines\.")
"""How a line points to those below it: here they follow in the same breath."""

IN_ONE_ROW = re.compile(r"^stockinette(?: \(knit every round\))?(?=; )")
"""How a line names plain fabric: of one row it's said whether that is knit or purled."""


def _of_chart(piece: Piece, row: Row) -> str:
    """A row of a band in words."""
    band = piece.band_at(row.row)
    if band is None or not (band.pattern.chart or band.pattern.lines):
        return ""
    told = rows_of(band.pattern, flat=piece.worked == "flat", plus=band.plus)
    at = row.row - band.from_row
    return f" {told[at].partition(': ')[2]}" if at < len(told) else ""


def next_line(standing: PieceStanding, plan: Plan) -> str:
    """The next row before or in which something happens, after the one to knit now; empty where nothing more does."""
    now, piece = standing.next_row, standing.piece
    if now is None:
        return ""
    marked = {mark.after_row + 1 for mark in piece.marks}
    coming = [r for r in piece.rows if r.row >= now.row]
    ahead = next((r for last, r in pairwise(coming) if r.events or r.fabric != last.fabric or r.row in marked), None)
    if ahead is None:
        left = piece.last_row - now.row
        end = f"{counted(left, 'more ' + noun(piece))} after this one, to the end of the piece."
        if not left:
            end = f"This {noun(piece)} is the last of the piece."
        return in_terms(end, plan.project.terms)
    between = (
        f"{_until(ahead.row - now.row - 1, now, ahead, piece)} after this one, then "
        if ahead.row - now.row > 1
        else "Then "
    )
    told = " ".join((*before_row(piece, ahead, plan), row_text(piece, ahead, plan.project)))
    return f"{between}{row_name(ahead, piece)} {ahead.row}: {told}"


def _until(rows: int, now: Row, ahead: Row, piece: Piece) -> str:
    """Rows in which nothing happens, and what they are."""
    if in_pattern(piece, ahead):
        return counted(rows, noun(piece)) + " in pattern"
    if now.fabric != STOCKINETTE:
        return counted(rows, f"more {noun(piece)}") + f" of the {'band' if piece.role.band else 'edging'}"
    return counted(rows, f"plain {noun(piece)}")


def tape(standing: PieceStanding, plan: Plan, counted: Comparison | None) -> tuple[str, str]:
    """What the tape should show now, and what that is when worn; the first is empty where it is not known.

    ``counted``: the rows on the knitting beside the swatch's, where they were counted.
    """
    gauge, units = plan.gauge, plan.project.units
    if gauge is None or not standing.rows_knitted:
        return "", ""
    _, parts = measured_from(standing.piece)
    rows = [r for part in parts for r in part.rows_at_the_side(standing.row)]
    fresh, worn = on_the_tape_cm(rows, gauge, counted), worn_cm(rows, gauge, counted)
    return show_length(fresh, units) if fresh is not None else "", show_length(worn, units)


def way_text(way: Way, plan: Plan, piece: Piece | None) -> str:
    """A way on as a sentence, with what comes out. ``piece`` is the one at hand."""
    project = plan.project
    units = project.units
    round_the = f"{show_length(way.chest_cm[1], units)} around the chest" if way.chest_cm else ""
    long = f"{show_length(way.length_cm[1], units)} long" if way.length_cm else ""
    comes_out = " and ".join(filter(None, (round_the, long)))
    told = say(way.remark, project) + (f" You'd get about {comes_out}." if comes_out else "") + _more_balls(way, plan)
    if piece is None or way.rows_then is None or way.rows_then == len(piece.rows):
        return told
    return f"{told} The {piece.told} would have {counted(way.rows_then, noun(piece))} instead of {len(piece.rows)}."


def _more_balls(way: Way, plan: Plan) -> str:
    """That a way needs more balls than the plan before it, and more than there are."""
    then, yarn = way.balls_then or 0, plan.project.design_yarn
    have, before = yarn.balls if yarn else None, plan.yarn.balls if plan.yarn else None
    if not before or then <= max(before, have or 0):
        return ""
    beside = f" instead of {before}" if have is None else f", but you have {have}"
    return f" You'd need {then} balls to be safe{beside}."


@record
class Other:
    """The piece that is knitted at the same time, where it is to be knitted otherwise for now."""

    place: str
    now: str
    then: tuple[str, ...]


@record
class Told:
    """Where the knitting is, in words; every view shows the same."""

    piece: str
    """Its name; empty where every piece is knitted, or there is no plan."""
    row: int | None
    """The row to knit now; None where there is none."""
    place: str
    """How far the piece is, in a few words."""
    before: tuple[str, ...]
    """What is done before the row: casting on, another needle, a marker."""
    now: str
    """The row to knit now, in full."""
    then: tuple[str, ...]
    """Stitches after it, the next row in which something happens, the tape."""
    share_of_piece: float
    share_of_all: float
    beside: str
    checked: tuple[str, ...] = ()
    """What the counts on the piece say."""
    ways: tuple[tuple[str, bool, str], ...] = ()
    """Ways on that can be taken now: code, whether it is recommended, what it is."""
    worth_doing: tuple[str, ...] = ()
    """What is worth doing now."""
    yarn: tuple[str, ...] = ()
    """Whether the yarn lasts."""
    days: tuple[str, ...] = ()
    """When it may be done, or what was measured once it is."""
    other: Other | None = None

    @property
    def further(self) -> tuple[str, ...]:
        """What is told last."""
        return (*self.worth_doing, *self.yarn, *self.days)

    @property
    def lines(self) -> tuple[str, ...]:
        """All of it, line by line."""
        if not self.piece:
            return (self.place, *self.further)
        ways = (f"{'* ' if best else '  '}{code}: {text}" for code, best, text in self.ways)
        piece, whole = 100 * self.share_of_piece, 100 * self.share_of_all
        share = f"You've knitted {piece:.0f}% of this piece and {whole:.0f}% of all the stitches."
        how = (how_to_choose(self.ways, "Choose one of these {ways} by its name."),) if self.ways else ()
        other = (self.other.place, self.other.now, *self.other.then) if self.other else ()
        return (
            self.place,
            *self.before,
            self.now,
            *self.then,
            *other,
            share,
            *self.checked,
            *how,
            *ways,
            *self.further,
        )


def _beside(hand: PieceStanding, project: Project) -> str:
    known = project.knitted(hand.piece.name)
    return known.beside if known else ""


def apart(needles: Needles, plan: Plan) -> PieceStanding | None:
    """The piece that is knitted at the same time as the one at hand, where what is told of it now is not the same."""
    hand = needles.at_hand
    other = needles.piece(_beside(hand, plan.project)) if hand is not None else None
    if hand is None or other is None:
        return None
    told_of = [
        (p.stitches, len(p.piece.rows), row_told(p, plan.project), _after_and_next(p, plan)) for p in (hand, other)
    ]
    return other if told_of[0] != told_of[1] else None


def place_told(hand: PieceStanding, project: Project, *, alone: bool = False) -> str:
    """How far a piece is, and what is on the needle; said with the one knitted at the same time unless ``alone``."""
    piece, beside = hand.piece, "" if alone else _beside(hand, project)
    names = f"{piece.name} and {beside}" if beside else piece.name
    many = counted(hand.rows_knitted, "row").split()[0]
    numbered = f" (numbered {hand.first_row} to {piece.last_row})" if hand.first_row > 1 else ""
    on_needle = f", {hand.stitches} stitches" if hand.stitches or hand.rows_knitted else ""  # a band has none before
    each = " each" if beside else ""
    return f"{names.capitalize()}: {many} of {len(piece.rows)} {noun(piece)}s{numbered}{on_needle}{each}."


def _other(needles: Needles, plan: Plan) -> Other | None:
    other = apart(needles, plan)
    if other is None:
        return None
    place = place_told(other, plan.project, alone=True)
    return Other(place, row_told(other, plan.project, named=True), _after_and_next(other, plan))


def row_told(hand: PieceStanding, project: Project, *, named: bool = False) -> str:
    """The row to knit now, with the name of its piece if that is wanted; empty where the piece has no more."""
    piece, row = hand.piece, hand.next_row
    if row is None:
        return ""
    side = SIDES_OF_FABRIC.get(row.side, "")
    name = f"{piece.name}, {row_name(row, piece)}" if named else row_name(row, piece)
    return f"{name.capitalize()} {row.row}{side}: {row_text(piece, row, project)}"


def told(needles: Needles, plan: Plan, before: Before | None = None) -> Told:
    """Where the knitting of a plan is; ``before`` is what finished jumpers say, to be offered before the cast-on."""
    hand, project = needles.at_hand, plan.project
    yarn, days = yarn_lines(needles, plan), _pace_lines(needles)
    if hand is None and not needles.pieces:
        return Told("", None, NO_PLAN, (), "", (), 1.0, 0.0, "")
    if hand is None:
        measured = measured_lines(plan, project.measured)
        ending = _finished_before(needles, plan)
        return Told("", None, ALL_KNITTED, ending, "", (), 1.0, needles.share_done, "", yarn=yarn, days=days + measured)
    piece, row, beside = hand.piece, hand.next_row, _beside(hand, project)
    other = _other(needles, plan)
    return Told(
        piece=f"{piece.name} and {beside}" if beside else piece.name,
        row=row.row if row else None,
        place=place_told(hand, project, alone=other is not None),
        before=(*_finished_before(needles, plan), *_before(hand, plan)),
        now=row_told(hand, project, named=other is not None),
        then=_then(hand, plan, needles.rows),
        share_of_piece=hand.rows_knitted / len(piece.rows) if piece.rows else 0.0,
        share_of_all=needles.share_done,
        beside=beside,
        checked=checked_lines(needles, plan),
        ways=_open_ways(needles, plan) or _as_before(needles, before, project),
        worth_doing=_worth_doing(needles, plan),
        yarn=yarn,
        days=days,
        other=other,
    )


def piece_line(standing: PieceStanding) -> str:
    """A piece in a list: its rows by the numbers that are printed, and how far it is."""
    piece = standing.piece
    up_to = f"knitted up to {standing.row}" if standing.rows_knitted else "none knitted"
    done = "all knitted" if standing.finished else up_to
    return f"{piece.name}: {noun(piece)}s {standing.first_row} to {piece.last_row}, {done}"


BEST = "The star marks the way we'd choose."


def how_to_choose(ways: Sequence[tuple[str, bool, str]], how: str) -> str:
    """How one of the ways on is chosen, how many there are, and what the star is; ``how`` has a place for {ways}."""
    text = (
        how.format(ways=counted(len(ways), "way")) if len(ways) > 1 else how.replace("one of these {ways}", "this way")
    )
    return f"{text} {BEST}" if any(best for _, best, _ in ways) else text


def _before(hand: PieceStanding, plan: Plan) -> tuple[str, ...]:
    """What is done before the row to knit now; casting on is no row."""
    row = hand.next_row
    told = before_row(hand.piece, row, plan) if row else ()
    cast_on = bool(told) and not hand.rows_knitted and hand.piece.cast_on and hand.piece.parent is None
    return (*told, in_terms("The cast-on doesn't count as a row.", plan.project.terms)) if cast_on else told


SIDES_OF_FABRIC = {"RS": ", right side", "WS": ", wrong side"}
ALL_KNITTED = "Every piece is knitted. Now finish the garment, as the plan says."
NO_PLAN = "There's no plan to knit from yet. Finish the seven steps first."


def _then(hand: PieceStanding, plan: Plan, counted_rows: Comparison | None) -> tuple[str, ...]:
    on_tape, worn = tape(hand, plan, counted_rows)
    start = "" if hand.piece.role.band else f" from the {measured_from(hand.piece)[0]}"
    long = f"On the tape now: {on_tape + start if on_tape else 'not known'}. When worn: {worn}." if worn else ""
    return (*_after_and_next(hand, plan), *([long] if long else []))


def _after_and_next(hand: PieceStanding, plan: Plan) -> tuple[str, ...]:
    """Stitches after the row to knit now, and the next row in which something happens."""
    row = hand.next_row
    name = row_name(row, hand.piece).removeprefix("short ") if row else ""
    after = f"{counted(row.after, 'stitch', 'stitches')} after this {name}." if row else ""
    return tuple(line for line in (in_terms(after, plan.project.terms), next_line(hand, plan)) if line)


def _finished_before(needles: Needles, plan: Plan) -> tuple[str, ...]:
    """What is done with the piece that has just been finished, until the next one is begun."""
    hand = needles.at_hand
    last = next((e.piece for e in reversed(plan.project.log) if e.row is not None), "")
    done = needles.piece(last)
    if done is None or not done.finished or (hand is not None and (done is hand or hand.rows_knitted)):
        return ()
    ending = " ".join(after_last_row(done.piece, plan))
    beside = _beside(done, plan.project)
    if beside:
        return (f"The {done.piece.told} and the {beside} are knitted. Finish each like this. {ending}",)
    return (f"The {done.piece.told} is knitted. {ending}".strip(),)


def checked_lines(needles: Needles, plan: Plan) -> tuple[str, ...]:
    """What the counts on the piece say: is it the swatch's gauge, and what will the garment be."""
    units, lines = plan.project.units, []
    if not needles.is_fresh:
        return _left_open(needles, plan)
    if needles.is_early:
        return (in_terms(_early(needles), plan.project.terms),)
    for what, comparison in (("Stitches", needles.stitches), ("Rows", needles.rows)):
        if comparison is not None:
            lines.append(compared_line(what, comparison))
    body = plan.wearer.cm("chest")
    if needles.chest_cm is not None:
        likely, reach = _likely(needles.chest_cm, units)
        ease = f" The ease will be about {show_length(needles.chest_cm[1] - body, units)}." if body else ""
        chest = f"{_going_by(needles.stitches)} finished chest will be about {likely}, likely {reach}."
        lines.append(f"{chest}{ease}{_at_the_hips(needles, plan)}")
    if needles.length_cm is not None:
        likely, reach = _likely(needles.length_cm, units)
        lines.append(f"{_going_by(needles.rows)} finished length will be about {likely}, likely {reach}.")
    return tuple(in_terms(line, plan.project.terms) for line in lines)


def _likely(low_likely_high: Three, units: Units) -> tuple[str, str]:
    """A length that is worked out, and the range that it is likely in."""
    low, likely, high = low_likely_high
    return show_length(likely, units), show_range(low, high, units)


def _going_by(comparison: Comparison | None) -> str:
    """A count that may be off says little alone: then the swatch's counts as well."""
    weighed = comparison is not None and not comparison.real and comparison.difference_percent
    return "Going by your count and the swatch, the" if weighed else "The"


def _at_the_hips(needles: Needles, plan: Plan) -> str:
    """That a hem which was planned to pass the hips comes out narrower than they are."""
    hips = needles.tight_hips_cm
    return f" The hem will be tight on hips of {show_length(hips, plan.project.units)}." if hips else ""


NO_GAUGE = "A count on the edging doesn't show your gauge"
NOT_OF_FABRIC = f"This is the edging. {NO_GAUGE}, so nothing changes."


def before_counting(needles: Needles) -> str:
    """What to know before one counts where the piece is not yet one to go by; empty where it is."""
    hand, enough = needles.at_hand, needles.count_from
    if hand is None or not needles.is_early:
        return ""
    return f"{NO_GAUGE}." if enough is None else f"Counts show your gauge from about {noun(hand.piece)} {enough} on."


def _early(needles: Needles) -> str:
    """That a count of the edging, or so near to it, is not one to go by, or not yet."""
    hand, enough = needles.at_hand, needles.count_from
    if hand is None or enough is None:
        return NOT_OF_FABRIC
    last = hand.piece.rows[hand.rows_knitted - 1] if hand.rows_knitted else None
    where = "This is still the edging." if last and last.fabric != STOCKINETTE else "It's too early to count."
    then = f"Knit to about {noun(hand.piece)} {enough} and count again before you rip back or change anything."
    return f"{where} Nothing changes. {then}"


def _left_open(needles: Needles, plan: Plan) -> tuple[str, ...]:
    """A reminder of a difference that nothing was decided about."""
    hand, (counted_on, row) = needles.at_hand, needles.counted_at or ("", 0)
    real = any(c is not None and c.real for c in (needles.stitches, needles.rows))
    if hand is None or hand.piece.name != counted_on or not real or plan.project.taken:
        return ()
    counted_at = f"The count at {noun(hand.piece)} {row} showed a real difference."
    return (f"{counted_at} Type it again, or count again, to see what you can do.",)


def compared_line(what: str, comparison: Comparison) -> str:
    """One direction of the counts beside the swatch's, as a sentence."""
    shown = plain_number(abs(comparison.difference_percent), 1)
    side = "more" if comparison.difference_percent > 0 else "fewer"
    if comparison.real:
        return f"{what}: {shown}% {side} than in your swatch. A difference of that size is real."
    if comparison.outside:
        return f"{what}: it looks like {shown}% {side} than in your swatch. Count in three places to be sure."
    if shown == "0":
        return f"{what}: the same as in your swatch."
    return f"{what}: {shown}% {side} than in your swatch. Counting alone can be off by that much, so don't worry."


def _open_ways(needles: Needles, plan: Plan) -> tuple[tuple[str, bool, str], ...]:
    """The ways of a count that was made where the knitting is now, unless that is early or one was taken since."""
    hand, project = needles.at_hand, plan.project
    if hand is None or not needles.is_fresh or needles.is_early:
        return ()
    if any((t.piece, t.row) == (hand.piece.name, hand.row) for t in project.taken):
        return ()
    best_first = sorted(needles.ways, key=lambda way: not way.recommended)
    return tuple((w.code, w.recommended, way_text(w, plan, hand.piece)) for w in best_first)


def _as_before(needles: Needles, before: Before | None, project: Project) -> tuple[tuple[str, bool, str], ...]:
    """The way to plan by one's own hands, while nothing is knitted."""
    if before is None or any(p.rows_knitted for p in needles.pieces) or project.taken:
        return ()
    named = before.titles[0] if len(before.titles) == 1 else f"{len(before.titles)} finished sweaters"
    told = [
        f"{plain_number(abs(100 * (factor - 1)), 1)}% {'more' if factor > 1 else fewer} {what}"
        for factor, fewer, what in (
            (before.stitches, "fewer", "stitches than in the swatch"),
            (before.rows, "fewer", "rows than in the swatch"),
            (before.yarn, "less", "yarn than planned"),
        )
        if factor is not None
    ]
    text = f"Plan this sweater from how you really knit: {named} came out with {joined(told)}."
    text += " If you'd rather keep the plan, just cast on."
    return (("as-before", False, in_terms(text, project.terms)),)


FIRST_CHECK_CM = 10.0
"""Length that shows what another needle does (common practice, no source)."""


def _worth_doing(needles: Needles, plan: Plan) -> tuple[str, ...]:
    """What is worth doing just now, before it is late."""
    hand, project = needles.at_hand, plan.project
    if hand is None or plan.gauge is None or not hand.rows_knitted:
        return ()
    rows = hand.piece.rows[: hand.rows_knitted]
    counts = [c for k in project.knitting for c in k.count]
    changed = next((t for t in reversed(project.taken) if t.way == "other-needle" and t.piece == hand.piece.name), None)
    since = rows if changed is None else [r for r in rows if r.row > changed.row]
    counted_since = [c for c in counts if changed is None or (c.row or 0) > changed.row]
    too_early = needles.is_early if changed is None else plan.gauge.cloth.rows_cm(since) < FIRST_CHECK_CM
    if counted_since or too_early:
        return ()
    why = "Now check what the new needle does." if changed else "This is a good moment to check your gauge."
    how = (
        "Lay the piece flat, with half the stitches on a piece of yarn, and let it rest a few minutes. Then count in "
        "three places."
    )
    return (in_terms(f"{why} {how}", project.terms),)


def _pace_lines(needles: Needles) -> tuple[str, ...]:
    """When it may be done, by the knitter's own days."""
    found = needles.pace
    if found is None or needles.at_hand is None:
        return ()
    few, usual, many = found.days
    first, _, last = (_day(d) for d in found.calendar)
    reach = f" ({few} to {many})" if few < many else ""
    when = f"between {first} and {last}" if first != last else f"around {first}"
    return (f"At your pace, you have about {counted(usual, 'more day')} of knitting{reach}. You should finish {when}.",)


def comes_out_lines(plan: Plan) -> tuple[str, ...]:
    """What was planned, where the knitting comes out otherwise and the measurements follow it."""
    units, planned = plan.project.units, plan.made.finished_cm
    shown = {part: (show_length(cm, units), show_length(plan.finished_cm[part], units)) for part, cm in planned.items()}
    told = [f"a {part} of {was}" for part, (was, now) in shown.items() if was != now and part in ("chest", "length")]
    if not told and all(was == now for was, now in shown.values()):
        return ()
    text = f"This table shows how your knitting will come out, going by {_gone_by(plan)}."
    text += f" The plan was for {joined(told)}." if told else ""
    unchanged = "The schematic, the notes and the instructions haven't changed."
    return (f"{text} {unchanged if _as_written(plan.project) else 'The schematic shows the rows as they are now.'}",)


def _gone_by(plan: Plan) -> str:
    """What the measurements follow: a count, else the rows as they are."""
    pieces = {p.name: p for p in plan.made.pieces}
    counted = counted_last(plan.project, plan.made.pieces, plan.gauge) if plan.gauge else ("", ())
    name, counts = counted
    row = counts[-1].row if counts else None
    if row is None or name not in pieces:
        return "what you've knitted"
    return f"your count at {noun(pieces[name])} {row} of the {pieces[name].told}"


def _as_written(project: Project) -> bool:
    """Whether the rows to come are those that were planned: no way was taken that changes them, and no slip made."""
    changed = any(way.stitches_per_10cm or way.rows_per_10cm for way in project.taken)
    return not changed and all(known.stitches is None for known in project.knitting)


def measured_lines(plan: Plan, measured: Sequence[FinishedMeasure]) -> tuple[str, ...]:
    """What the finished garment measures, beside what the plan said of it."""
    units, lines = plan.project.units, []
    for one in measured:
        name = one.what.replace(" ", "_")
        planned, reach = plan.finished_cm.get(name), plan.ranges.get(name)
        if planned is None:
            continue
        said = f"{one.what.capitalize()}: {show_length(one.cm, units)} after the wash."
        said += f" The plan said {show_length(planned, units)}"
        if reach is not None:
            where = "inside" if reach.low <= one.cm <= reach.high else "outside"
            said += f", likely {show_range(reach.low, reach.high, units)}, so it's {where} that range"
        lines.append(f"{said}.")
    return tuple(lines)


def _day(day: date) -> str:
    return f"{day.day} {day:%B %Y}"


def candidate_line(one: Candidate, piece: Piece, project: Project) -> str:
    """A row that the last one may be, and what can be seen of it."""
    rows = noun(piece) + "s"
    if not one.last:
        seen = f"{counted(one.since, noun(piece), rows)} from the beginning, nothing shaped yet"
    else:
        what = {"increase": "increase", "decrease": "decrease", "bind-off": "bind-off"}.get(one.last[0].do, "shaping")
        seen = f"{one.since} plain {noun(piece) if one.since == 1 else rows} above the last {what}"
        seen = f"the last {what} is in the {noun(piece)} just below the needle" if not one.since else seen
    text = f"{noun(piece).capitalize()} {one.row}: {counted(one.stitches, 'stitch', 'stitches')}, {seen}."
    return in_terms(text, project.terms)
