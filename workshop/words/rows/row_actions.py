"""What happens in a run of rows, each thing once, with the rows on which it happens.

"Decrease 1 stitch at both ends on row 21, then every 6th row 5 more times (to row 51)": two things at the same
time always stand with the row numbers of both, and a program can read the rows back.
"""

from collections.abc import Sequence
from dataclasses import replace

from workshop.core.edgings import STOCKINETTE, of_fabric
from workshop.core.fabric.at_edges import begins_with, plain_before
from workshop.core.fabric.patterns import SetBand
from workshop.core.making.bands import rib_begins_with
from workshop.core.making.centre_panels import panel_rows
from workshop.core.making.ledger import Event, Piece, Row, rhythm
from workshop.core.making.raglan_lines import BODY_SIDE, BOTH_SIDES, PER_SHAPING, SLEEVE_SIDE
from workshop.core.making.roles import BODY, BOTH_EDGES, YOKES
from workshop.words.phrase import counted, joined

RAISED = "over back and sleeves, wrong side first"

WRONG_SIDE = ", knitting the knits and purling the purls on wrong-side rows"
"""How a rib goes on as the stitches lie, whatever edge it begins at."""

VERBS = {"bind-off": "bind off", "cast-on": "cast on"}

AT_LINES = {
    BOTH_SIDES: "on both sides of each raglan line",
    BODY_SIDE: "on the body side of each raglan line",
    SLEEVE_SIDE: "on the sleeve side of each raglan line",
}
"""Where shaping along raglan lines stands."""


def noun(piece: Piece) -> str:
    """Row or round."""
    return "round" if piece.worked == "round" else "row"


def stitches(number: int) -> str:
    """A number of stitches."""
    return counted(number, "stitch", "stitches")


def all_rows(piece: Piece) -> str:
    """How many rows a piece has, those that are short and lie inside it by themselves."""
    short = len(piece.inner_rows)
    rows = counted(len(piece.rows) - short, noun(piece))
    return f"{rows} and {counted(short, 'short row')}" if short else rows


def back_and_forth(row: Row, piece: Piece) -> bool:
    """Whether a row of a piece in the round is a short row."""
    return piece.worked == "round" and row.side != "round"


def row_name(row: Row, piece: Piece) -> str:
    """What one row of a piece is called: one that is turned before the end of a round is none."""
    return "short row" if back_and_forth(row, piece) else noun(piece)


def is_turned(row: Row) -> bool:
    """Whether nothing happens in a row but that it turns before its end, or goes on to it after the last turn."""
    return bool(row.events) and all(e.do == "short-row" for e in row.events)


def turned_row(row: Row, piece: Piece) -> str:
    """A row in plain stockinette that turns before its end, told alone: in the stitch that its side is worked in."""
    verb, told = "purl" if row.side == "WS" else "knit", "; ".join(deeds(piece, [row]))
    if back_and_forth(row, piece) and piece.role is BODY:
        verb, told = f"{verb} across the front", told.replace("before the end", "before the side marker")
    told = told.removeprefix("work ")
    return f"{verb} {told}." if told.startswith("to ") else f"{verb}; {told}."


def head(piece: Piece, rows: Sequence[Row]) -> str:
    """How a line begins: its rows and their fabric."""
    return f"{span(rows, piece)}: {fabric_words(piece, rows)}"


def span(rows: Sequence[Row], piece: Piece) -> str:
    """The rows that a line covers."""
    name = row_name(rows[0], piece).capitalize() + ("s" if len(rows) > 1 else "")
    if len(rows) == 1:
        side = f" ({rows[0].side})" if rows[0].side != "round" else ""
        return f"{name} {rows[0].row}{side}"
    return f"{name} {rows[0].row} to {rows[-1].row} ({counted(len(rows), 'row' if 'row' in name.lower() else 'round')})"


def happenings(rows: Sequence[Row]) -> list[tuple[Event, list[Row]]]:
    """Every different thing that happens, with its rows, in the order of its first row.

    In one row a bind-off comes first, because it is done where the row begins. A bind-off (or turn) at the other outer
    edge is the same: the side of the row says which.
    """
    found: dict[object, tuple[Event, list[Row]]] = {}
    for row in rows:
        for e in sorted(row.events, key=lambda e: e.do != "bind-off"):
            turned = e.do in ("bind-off", "short-row") and e.where in BOTH_EDGES and e.stitches
            found.setdefault((e.do, e.stitches) if turned else e, (e, []))[1].append(row)
    return list(found.values())


def fabric_words(piece: Piece, rows: Sequence[Row], *, kept: bool | None = None) -> str:
    """The fabric of a run of rows, what is done on its wrong side, its panels, and where it stands in the stripes.

    ``kept``: whether a pattern is said to be kept; None: where the rows are shaped.
    """
    band = piece.band_at(rows[0].row)
    if band is not None:
        return band_words(band, piece, rows)
    return _ground_words(piece, rows, kept) + stripe_words(piece, rows) + panel_words(piece, rows)


def band_words(band: SetBand, piece: Piece, rows: Sequence[Row]) -> str:
    """The rows of a band: which of its chart, how many repeats, and the stitch that they begin with."""
    first, last = (rows[i].row - band.from_row + 1 for i in (0, -1))
    which = f"{noun(piece)}s {first} to {last}" if len(rows) > 1 else f"{noun(piece)} {first}"
    source = "chart" if band.pattern.chart else "rows"
    text = f"band {band.number} from its {source}, {which}, {band.repeats} repeats of {band.pattern.multiple}"
    if piece.worked == "round":
        return f"{text}, starting with stitch {band.first_stitch}"
    more = f" plus {stitches(band.plus)}" if band.plus else ""
    return f"{text}{more} between the edge stitches" if band.edge else f"{text}{more}"


def stripe_words(piece: Piece, rows: Sequence[Row]) -> str:
    """Where a run of rows begins in the stripes; nothing where there are none."""
    at = piece.stripes.get(rows[0].row)
    first = "beginning with " if len(rows) > 1 else ""
    return f", {first}row {at.row} of the stripes (color {at.colour.upper()})" if at else ""


def _ground_words(piece: Piece, rows: Sequence[Row], kept: bool | None) -> str:
    """The fabric of a run of rows beside any panel."""
    if in_pattern(piece, rows[0]):
        return pattern_words(piece, rows, kept=kept)
    first, knitted = rows[0], of_fabric(rows[0].fabric)
    name = knitted.words
    if back_and_forth(first, piece):
        turned = "back and forth over the front, counting turns from its side markers"
        return f"{name}, {turned if piece.role is BODY else RAISED}"
    if piece.worked == "round":
        if first.fabric == STOCKINETTE:
            return name if panel_rows(piece, first.row) else f"{name} (knit every round)"
        if knitted.garter:
            return f"{name} {_garter_rounds(piece, rows)}"
        return f"{name} as set" if piece.picked_up else f"{name} all around{_centered(piece, first)}"
    if knitted.garter:
        return f"{name} (knit every row)"
    if first.fabric == STOCKINETTE:
        return name
    if knitted.rib and first.before % knitted.repeat == knitted.knits:
        name += f", with k{knitted.knits} at both ends of right-side rows"
    return name + WRONG_SIDE if len(rows) > 1 or first.side == "WS" else name


def _centered(piece: Piece, row: Row) -> str:
    """How the rounds of a rib go that is alike at both sides of the front: "k1, [p2, k2] to the last 3 stitches"."""
    begins, rib = rib_begins_with(piece, row), of_fabric(row.fabric)
    if not begins:
        return ""
    if begins == rib.knits:
        return f", centered on the front: [k{rib.knits}, p{rib.purls}] to the end of the round"
    last = f"[p{rib.purls}, k{rib.knits}] to the last {stitches(rib.repeat - begins)}"
    return f", centered on the front: k{begins}, {last}, p{rib.purls}, k{rib.knits - begins}"


def in_pattern(piece: Piece, row: Row) -> bool:
    """Whether a row is one of the stitch pattern of its piece."""
    return piece.pattern is not None and piece.pattern.at(row.row) is not None


def is_kept(piece: Piece, row: Row) -> bool:
    """Whether a row is one of a stitch pattern, of its piece or of a panel: it is worked, not knit."""
    return in_pattern(piece, row) or bool(panel_rows(piece, row.row))


def panel_names(parts: Sequence[str], piece: Piece) -> str:
    """What the panels of some parts are called in a piece: the only one that a piece can have is just the panel."""
    if piece.role not in (BODY, *YOKES):
        return "panel"
    *first, last = parts
    return f"{', '.join(first)} and {last} panels" if first else f"{last} panel"


def panel_words(piece: Piece, rows: Sequence[Row]) -> str:
    """Which row of its pattern each panel has in the first of these rows; "" where there is no panel."""
    name, how = ("row" if back_and_forth(rows[0], piece) else noun(piece)), "from" if len(rows) > 1 else "on"
    alike: dict[tuple[int, int], list[str]] = {}
    for panel, at in panel_rows(piece, rows[0].row):
        alike.setdefault((at.row, panel.repeat_rows), []).append(panel.part)
    return "".join(
        f", {panel_names(parts, piece)} {how} {name} {row} of {repeat}" for (row, repeat), parts in alike.items()
    )


def pattern_words(piece: Piece, rows: Sequence[Row], *, kept: bool | None = None) -> str:
    """The stitch pattern of a run of rows: which of its rows comes first, where it begins, if it is kept."""
    found = piece.pattern
    assert found is not None
    at = found.at(rows[0].row)
    assert at is not None
    text = f"{found.pattern.name}{' from' if len(rows) > 1 else ','} {noun(piece)} {at.row} of {found.repeat_rows}"
    if rows[0].row == found.rows[0][0]:
        text += _begins(piece, rows[0], found.pattern.multiple)
    shaped = any(e.change for r in rows for e in r.events) if kept is None else kept
    return f"{text}, keeping the pattern as set" if shaped else text


def _begins(piece: Piece, row: Row, multiple: int) -> str:
    """With which stitch of the repeat the first row of a pattern begins, as it is worked."""
    first = begins_with(piece, row)
    if first is None:
        return f" with no room for its {stitches(multiple)}"
    return f" and stitch {first} of {multiple}" + (" after the plain stitches" if plain_before(piece, row) else "")


def fabric_name(piece: Piece, row: Row) -> str:
    """The fabric of a row that is told alone."""
    ground = pattern_words(piece, [row]) if in_pattern(piece, row) else of_fabric(row.fabric).words
    return f"{ground}{stripe_words(piece, [row])}{panel_words(piece, [row])}"


def purl_round(piece: Piece, row: Row) -> bool:
    """Whether a round of garter stitch is purled: the second and every other one; after plain rounds the first."""
    before = [r for r in piece.rows if r.row < row.row and r.fabric != row.fabric]
    begins = before[-1].row + 1 if before else piece.rows[0].row
    after_plain = bool(before) or piece.parent is not None
    return (row.row - begins) % 2 == (0 if after_plain else 1)


def _garter_rounds(piece: Piece, rows: Sequence[Row]) -> str:
    first, second = ("purl", "knit") if purl_round(piece, rows[0]) else ("knit", "purl")
    counts = "; the pick-up round counts as a knit round" if rows[0].row == 2 and piece.picked_up else ""
    return (f"(alternate {first} and {second} rounds)" if len(rows) > 1 else f"({first} this round)") + counts


def deeds(piece: Piece, rows: Sequence[Row]) -> list[str]:
    """Each thing that happens in a run of rows, with its rows."""
    return [
        f"{deed} {joined(places)}" + (_when(places[-1], on, piece) if len(rows) > 1 else "")
        for deed, places, on in _deeds(rows, piece)
    ]


def _deeds(rows: Sequence[Row], piece: Piece) -> list[tuple[str, list[str], list[Row]]]:
    """What is done, the places where the same is done on the same rows, and those rows."""
    found: list[tuple[str, list[str], list[Row]]] = []
    happens = happenings(rows)
    said: list[Event] = []
    for event, on in happens:
        twin = _other_neck_edge(event)
        if twin in said:
            continue
        deed, place = what(event, piece)
        if (twin, on) in happens:
            said.append(event)
            place = "at both neck edges"
        same = next((places for other, places, others in found if other == deed and others == on), None)
        if same is not None and event.do in ("increase", "decrease"):
            same.append(place)
        else:
            found.append((deed, [place], on))
    return found


def _when(place: str, on: list[Row], piece: Piece) -> str:
    name = "row" if back_and_forth(on[0], piece) else noun(piece)
    if place.endswith("the end"):
        return f" of {when(on, 'row')}"
    return f" {'of' if place.endswith('the beginning') else 'on'} {when(on, name)}"


def _other_neck_edge(event: Event) -> Event | None:
    """The same at the other neck edge of a piece that has both."""
    where = {"neck-left": "neck-right", "neck-right": "neck-left"}.get(event.where)
    return replace(event, where=where) if where else None  # type: ignore[arg-type]


def single_at_edge(event: Event) -> bool:
    """Whether one stitch alone is taken where a row begins: the ledger's bind-off, the knitter's decrease."""
    return event.do == "bind-off" and event.stitches == 1 and event.where not in ("across", "centre")


def increases_above_cast_on(piece: Piece, row: Row) -> bool:
    """Whether a row makes stitches right above those that were cast on, between which there is no bar to lift."""
    made = any(e.do == "increase" and e.stitches for e in row.events)
    return made and piece.parent is None and row.row == piece.rows[0].row


def live_shoulder(piece: Piece) -> bool:
    """Whether a piece ends with a shoulder in short rows, whose stitches stay on the needle."""
    return any(e.do == "short-row" and not e.line for r in piece.rows for e in r.events)


def what(event: Event, piece: Piece) -> tuple[str, str]:
    """What is done ("decrease 1 stitch"), and where ("at the neck edge")."""
    do = "decrease" if single_at_edge(event) else VERBS.get(event.do, event.do)
    deed = f"{do} {stitches(event.stitches)}"
    if event.line == "raised back":
        if event.stitches:
            return f"turn {stitches(event.stitches)}", "before the marker ahead"
        return ("turn", "at the second marker") if event.where == "right" else ("work", "to the beginning of the round")
    if event.do == "short-row":
        return f"turn {stitches(event.stitches)}", "before the end"
    if event.do == "bind-off" and event.where in ("left", "right", "both"):
        return deed, "at the beginning"
    if event.line:
        return f"{event.do} {stitches(event.stitches // PER_SHAPING[event.line])}", AT_LINES[event.line]
    if event.where == "both" and piece.role is BODY:
        return f"{event.do} {stitches(event.stitches // 2)}", "on each side of both side markers"
    if event.where == "both":
        return deed, "on each side of the marker" if piece.worked == "round" else "at both ends"
    if event.where in ("neck-left", "neck-right"):
        edge = event.where.removeprefix("neck-")
        return deed, f"at the {f'{edge} ' if piece.role in YOKES else ''}neck edge"
    return deed, "in the middle of the front" if event.where == "centre" else "at the outer edge"


def when(rows: Sequence[Row], name: str) -> str:
    """The rows on which something happens: all of them, or a rhythm that is exactly theirs."""
    numbers = [r.row for r in rows]
    if len(numbers) <= 4:
        return f"{name} {numbers[0]}" if len(numbers) == 1 else f"{name}s {joined(numbers)}"
    gaps = rhythm(numbers)
    if len(numbers) <= 10 and len(gaps) > 2:  # no rhythm worth a name
        return f"{name}s {joined(numbers)}"
    said, at = [f"{name} {numbers[0]}"], numbers[0]
    for gap, times in gaps:
        at += gap * times
        every = f"every {name}" if gap == 1 else f"every {ordinal(gap)} {name}"
        said.append(f"on {name} {at}" if times == 1 else f"{every} {times} more times (to {name} {at})")
    return ", then ".join(said)


def ordinal(number: int) -> str:
    """2 -> "2nd"."""
    if number % 100 in (11, 12, 13):
        return f"{number}th"
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th') }"
