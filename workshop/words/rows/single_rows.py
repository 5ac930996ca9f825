"""Rows that stand alone in an instruction: dividing, joining, picking up, and what is spread across a row."""

from collections.abc import Sequence

from workshop.core.edgings import of_fabric
from workshop.core.making.bands import first_rib
from workshop.core.making.buttonholes import BUTTONHOLE_STITCHES
from workshop.core.making.centre_panels import panel_events
from workshop.core.making.ledger import Event, Piece, Row
from workshop.core.making.spacing import Technique, evenly
from workshop.words.rows.panel_rows import changed, set_up, take_out
from workshop.words.rows.parts import joining, opening, parting
from workshop.words.rows.picking_up import picking_up
from workshop.words.rows.row_actions import fabric_name, is_kept, single_at_edge, span, stitches, what
from workshop.words.rows.steps import in_steps

DECREASED = "counted after the decrease"
"""Of stitches before or after a neck, or one would knit too many."""

ONE_LEFT = "including the one left"
"""Counted after binding off: one stitch of those that follow is on the right needle already."""


def special(piece: Piece, row: Row) -> str:
    """A row with a line of its own."""
    done = {e.do for e in row.events}
    head = f"{span([row], piece)}:{_in_which_fabric(piece, row) if done & {'join', 'hold'} else ''}"
    if "join" in done:
        return f"{head} {joining(row, piece)}"
    if "hold" in done:
        return f"{head} {_dividing(row, piece) if piece.role.drawn == 'panel' else parting(row, piece)}"
    if piece.picked_up in row.events:
        return f"{head} {picking_up(row.events[0])}"
    if sets_the_rib(piece, row):
        changed = f" {stitches(row.after)}." if row.events else ""
        return f"{head} {of_fabric(row.fabric).words}: {_rib_steps(first_rib(piece))}.{changed}"
    return f"{head} {fabric_name(piece, row)}; {'; '.join(_all_of(piece, row))}. {stitches(row.after)}."


def _all_of(piece: Piece, row: Row) -> list[str]:
    """All that happens in a row, each thing for itself."""
    centre = [e for e in row.events if e.where == "centre"]
    panels = panel_events(row)
    alone = [e for e in row.events if e.where in ("across", "underarm") and not e.line]
    told = [e for e in alone if not panels or not e.across]  # panels make up for what goes across
    parts = [_alone_words(e, row, piece) for e in told]
    parts += [_in_row(e, piece) for e in row.events if e not in (*alone, *centre, *panels)]
    parts += [set_up(piece, row)] if any(panel.set_up == row.row for panel in piece.panels) else []
    parts += [*changed(piece, row), *take_out(piece, row)]
    return parts + [_middle(e, row, piece) for e in centre]


def _in_which_fabric(piece: Piece, row: Row) -> str:
    """The fabric of a row that is worked part by part, where it is a pattern's or one of the stripes."""
    return f" {fabric_name(piece, row)};" if is_kept(piece, row) or row.row in piece.stripes else ""


def sets_the_rib(piece: Piece, row: Row) -> bool:
    """Whether a row is the first of a rib on stitches picked up, which says where its columns are.

    One that makes up for a slip says that instead.
    """
    if len(piece.rows) < 2 or row is not piece.rows[1] or any(e.across for e in row.events):
        return False
    return bool(first_rib(piece))


def _rib_steps(steps: Sequence[str]) -> str:
    """Steps of a row with what is repeated in brackets: "p1, [k2, p2] 12 times, k1"."""
    out: list[str] = []
    at = 0
    while at < len(steps):
        pair = steps[at : at + 2]
        times = 1
        while len(pair) == 2 and steps[at + 2 * times : at + 2 * times + 2] == pair:
            times += 1
        if times > 1:
            out.append(f"[{', '.join(pair)}] {times} times")
        else:
            out.append(steps[at])
        at += 2 * times if times > 1 else 1
    return ", ".join(out)


def _in_row(event: Event, piece: Piece) -> str:
    return " ".join(what(event, piece))


def _dividing(row: Row, piece: Piece) -> str:
    """The row in which a panel divides at the neck."""
    first, last = (e for e in row.events if e.do == "hold")
    outer = [e for e in row.events if e.do != "hold" and e.where != "centre"]
    centre = [e for e in row.events if e.where == "centre"]
    shaping = "".join(f"{_in_row(e, piece)}; " for e in outer)
    begun, ended = _reminders(first.where, last.where, outer, bool(centre))
    verb = "work" if is_kept(piece, row) else "knit"
    neck = f"bind off the next {centre[0].stitches} for the neck" if centre else "divide for the neck here"
    return (
        f"{shaping}{verb} {first.stitches}{begun}, {neck}, {verb} the last {last.stitches}{ended}. Work each side "
        f"separately: put the first {first.stitches} on a holder, keep the last {last.stitches}."
    )


def _reminders(first: str, last: str, outer: Sequence[Event], neck: bool) -> tuple[str, str]:
    """What is counted with the stitches before a neck, and with those after it."""
    made = [e.where for e in outer if e.do == "decrease" or single_at_edge(e)]
    begun, ended = ([DECREASED] if edge in made or "both" in made else [] for edge in (first, last))
    if any(e.do == "bind-off" and not single_at_edge(e) for e in outer):
        begun = [ONE_LEFT]
    left = [ONE_LEFT] if neck else []
    if begun and begun == ended:
        return "", f" ({'; '.join([*left, f'both {DECREASED}'])})"
    return reminder(begun), reminder([*left, *ended])


def reminder(told: Sequence[str]) -> str:
    """How stitches are counted, in brackets behind them."""
    return f" ({', '.join(told)})" if told else ""


def _middle(event: Event, row: Row, piece: Piece) -> str:
    """The middle of a front in a round: a neck from the hem opens there, one from the neck closes."""
    if event.do == "cast-on":
        return f"at its end, cast on {stitches(event.stitches)} for the middle of the front and join into a round"
    begun = reminder([DECREASED] if any(e.line in ("all lines", "body side") for e in row.events) else [])
    first = opening(row.row, piece)
    verb = "work" if is_kept(piece, row) else "knit"
    return f"{verb} {first}{begun}, bind off the next {event.stitches} for the neck, {verb} to the end of the round"


def _alone_words(event: Event, row: Row, piece: Piece) -> str:
    if event.where == "underarm":
        return _underarm(event)
    if event.do in ("bind-off", "cast-on"):
        return _buttonholes(event)
    return _across(event, row, piece)


def _underarm(event: Event) -> str:
    """Stitches that close a sleeve from the neck under the arm."""
    first = event.stitches // 2
    where = f"{first} at the beginning of the round and {event.stitches - first} at its end"
    return f"pick up and knit {stitches(event.stitches)} along the underarm, {where}"


def _buttonholes(event: Event) -> str:
    number = event.stitches // BUTTONHOLE_STITCHES
    if event.do == "cast-on":
        return f"cast on {BUTTONHOLE_STITCHES} over each of the {number} gaps"
    told = in_steps(event.gaps, "work ", f"bind off {BUTTONHOLE_STITCHES}")
    opened = f"bind off {BUTTONHOLE_STITCHES} for each of {number} buttonholes ({told})"
    return f"{opened}, counting the one left after each bind-off"


def _across(event: Event, row: Row, piece: Piece) -> str:
    """Increases or decreases spread over a row, with the plain stitches between them."""
    technique: Technique = "m1" if event.do == "increase" else "k2tog"
    gaps = evenly(row.before, event.stitches, technique, piece.worked)
    return f"{event.do} {stitches(event.stitches)} evenly across ({in_steps(gaps, 'k', technique)})"
