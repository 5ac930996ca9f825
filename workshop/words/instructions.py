"""From the ledger to instructions in trade language. Nothing is said that is not in the ledger.

Every line names the rows that it covers, so that the lines of a piece add up to its rows; after shaping
the stitch count is given. "Every nth row k times more" is used only where the ledger is exactly that.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

from workshop.core.cloth.wash import DesignGauge
from workshop.core.making.ledger import Event, Fabric, Piece, Row
from workshop.core.making.spacing import Technique, evenly, run_lengths
from workshop.core.plan import Plan
from workshop.units import show_length, show_needle
from workshop.words.phrase import counted, in_terms

FABRICS: dict[Fabric, str] = {
    "rib-1x1": "k1, p1 rib",
    "rib-2x2": "k2, p2 rib",
    "garter": "garter stitch",
    "stocking": "stockinette",
}


@dataclass(frozen=True, slots=True)
class PieceWords:
    """Instructions of one piece: a heading, what it measures, and its lines in order."""

    title: str
    measures: str
    lines: tuple[str, ...]


def instructions(plan: Plan) -> tuple[PieceWords, ...]:
    """All pieces in the order of knitting; pieces that are alike are written once."""
    if plan.made is None or plan.gauge is None:
        return ()
    written: list[PieceWords] = []
    pieces = list(plan.made.pieces)
    for piece in pieces:
        if piece.name == "right sleeve":
            continue
        title = "sleeves (make two alike)" if piece.name == "left sleeve" else piece.name
        body = _lines(piece, plan, plan.gauge)
        written.append(
            PieceWords(
                in_terms(title, plan.project.terms).capitalize(),
                _measures(piece, plan, plan.gauge),
                tuple(in_terms(line, plan.project.terms) for line in body),
            )
        )
    return tuple(written)


def _measures(piece: Piece, plan: Plan, gauge: DesignGauge) -> str:
    cloth, project = gauge.cloth, plan.project
    width = show_length(cloth.across_cm(piece.widest - 2 * piece.edge_stitches), project.units)
    length = show_length(cloth.rows_cm(piece.rows), project.units)
    noun = "round" if piece.worked == "round" else "row"
    across = "round" if piece.worked == "round" else "wide"
    return f"{width} {across}, {counted(len(piece.rows), noun)}, {length} long {_when_measured(gauge)}"


def _when_measured(gauge: DesignGauge) -> str:
    """What a finished length means: washed and flat, or hanging on the wearer."""
    return "as worn" if gauge.state == "hung" else "after washing"


def _lines(piece: Piece, plan: Plan, gauge: DesignGauge) -> list[str]:
    lines = [_beginning(piece, plan)]
    previous: Fabric | None = None
    for rows in _stretches(piece):
        first = rows[0]
        if previous is not None and first.fabric != previous:
            lines += _change_needle(first.fabric, previous, plan)
        lines += _stretch(piece, rows, plan, gauge)
        previous = first.fabric
    lines.append(_ending(piece))
    return lines


def _beginning(piece: Piece, plan: Plan) -> str:
    if piece.came_from:
        kept = counted(piece.cast_on, "stitch", "stitches")
        first = piece.rows[0]
        if "shoulder" in piece.name:
            if _waits(piece):
                return f"Take up the {kept} that waited, joining the yarn at the neck edge with the wrong side facing."
            return f"Go on with the {kept} on the needle, turning after row {first.row - 1}."
        return (
            f"Take the {kept} of the {piece.name} from the body and work back and forth, "
            f"beginning with row {first.row} ({first.side})."
        )
    needle = _needle_for(piece.rows[0].fabric, plan)
    with_needle = f" with {needle} needles" if needle else ""
    if piece.cast_on:
        joined = ", join into a round and mark its beginning" if piece.worked == "round" else ""
        return f"Cast on {counted(piece.cast_on, 'stitch', 'stitches')}{with_needle}{joined}."
    picked = piece.rows[0].events[0].stitches
    return (
        f"Join the shoulders. Round 1: with the right side facing{' and' + with_needle if needle else ''} pick up and "
        f"knit {counted(picked, 'stitch', 'stitches')} evenly round the neck; mark the beginning of the round."
    )


def _waits(piece: Piece) -> bool:
    """Whether a shoulder waited on a holder: its steps come on wrong-side rows."""
    edge = piece.name.split(", ")[1].split()[0]
    return edge == piece.begins


def _needle_for(fabric: Fabric, plan: Plan) -> str:
    swatch = plan.gauge.swatch if plan.gauge else None
    if swatch is None or swatch.needle_mm is None:
        return ""
    fine = fabric != "stocking" and plan.hem_needle_mm is not None
    mm = plan.hem_needle_mm if fine and plan.hem_needle_mm else swatch.needle_mm
    return show_needle(mm, plan.project.needle_names)


def _change_needle(fabric: Fabric, previous: Fabric, plan: Plan) -> list[str]:
    new, old = _needle_for(fabric, plan), _needle_for(previous, plan)
    return [f"Change to {new} needles."] if new and new != old else []


def _stretches(piece: Piece) -> list[list[Row]]:
    """Rows of one fabric together; a row that divides or picks up stands alone."""
    out: list[list[Row]] = []
    for _, group in groupby(piece.rows, key=lambda r: (r.fabric, _alone(r))):
        rows = list(group)
        out += [[r] for r in rows] if _alone(rows[0]) else [rows]
    marks = {m.after_row for m in piece.marks}
    return [part for rows in out for part in _cut(rows, marks)]


def _cut(rows: list[Row], after: set[int]) -> list[list[Row]]:
    """Cut a stretch after the rows at which something is marked."""
    parts: list[list[Row]] = [[]]
    for row in rows:
        parts[-1].append(row)
        if row.row in after:
            parts.append([])
    return [p for p in parts if p]


def _alone(row: Row) -> int:
    special = any(e.do in ("hold", "pick-up") or e.where in ("across", "centre") for e in row.events)
    return row.row if special else 0


def _stretch(piece: Piece, rows: list[Row], plan: Plan, gauge: DesignGauge) -> list[str]:
    noun = "Round" if piece.worked == "round" else "Row"
    if rows[0].events and rows[0].events[0].do == "pick-up":
        return []
    if _alone(rows[0]):
        return [_special(piece, rows[0], noun)]
    shaped = [r for r in rows if r.events]
    name = FABRICS[rows[0].fabric]
    span = _span(rows, noun)
    text = f"{span}: {_rib_words(piece, rows, name)}"
    if shaped:
        text += "; " + _shaping(piece, shaped, noun.lower())
        text += f". {counted(rows[-1].after, 'stitch', 'stitches')}"
    text += f". {_reached(piece, rows[-1], plan, gauge)}"
    lines = [text]
    lines += [_mark_words(m.what) for m in piece.marks if m.after_row == rows[-1].row]
    return lines


def _span(rows: Sequence[Row], noun: str) -> str:
    if len(rows) == 1:
        side = f" ({rows[0].side})" if rows[0].side != "round" else ""
        return f"{noun} {rows[0].row}{side}"
    return f"{noun}s {rows[0].row} to {rows[-1].row} ({counted(len(rows), noun.lower())})"


def _rib_words(piece: Piece, rows: Sequence[Row], name: str) -> str:
    if piece.worked == "round":
        if rows[0].fabric == "stocking":
            return f"{name}: knit every round"
        return f"{name}: knit and purl rounds in turn" if rows[0].fabric == "garter" else f"{name} all round"
    if rows[0].fabric == "rib-2x2" and rows[0].before % 4 == 2:
        return f"{name}, right-side rows beginning and ending with k2"
    if rows[0].fabric == "rib-1x1" and rows[0].before % 2 == 1:
        return f"{name}, right-side rows beginning and ending with k1"
    return name


def _special(piece: Piece, row: Row, noun: str) -> str:
    head = _span([row], noun)
    if any(e.do == "hold" for e in row.events):
        first, centre, last = row.events
        return (
            f"{head}: knit {first.stitches}, bind off the next {centre.stitches} for the neck, knit to the end "
            f"({last.stitches} on the needle after the gap). Put the first {first.stitches} on a holder: they wait."
        )
    parts = [_across(e, row, piece) for e in row.events if e.where == "across"]
    parts += [_event_words(e, piece) for e in row.events if e.where != "across"]
    return f"{head}: {FABRICS[row.fabric]}, {' and '.join(parts)}. {counted(row.after, 'stitch', 'stitches')}."


def _across(event: Event, row: Row, piece: Piece) -> str:
    """Increases or decreases spread over a row, with the plain stitches between them."""
    technique: Technique = "m1" if event.do == "increase" else "k2tog"
    gaps = evenly(row.before, event.stitches, technique, piece.worked)
    steps: list[str] = []
    for plain in gaps[:-1]:
        steps += [f"k{plain}", technique] if plain else [technique]
    steps += [f"k{gaps[-1]}"] if gaps[-1] else []
    return f"{event.do} {counted(event.stitches, 'stitch', 'stitches')} evenly across ({_repeats(steps)})"


def _repeats(steps: list[str]) -> str:
    """Steps in a row, with equal neighbouring pairs written once: "k25, [m1, k50] 3 times, m1, k25"."""
    pairs = list(zip(steps[::2], steps[1::2], strict=False))
    out: list[str] = []
    for pair, run in groupby(pairs):
        times = len(list(run))
        text = ", ".join(pair)
        out.append(text if times == 1 else f"[{text}] {times} times")
    if len(steps) % 2:
        out.append(steps[-1])
    return ", ".join(out)


def _event_words(event: Event, piece: Piece) -> str:
    stitch = counted(event.stitches, "stitch", "stitches")
    verb = {"bind-off": "bind off"}.get(event.do, event.do)
    if event.where == "both":
        return (
            f"{verb} {stitch} on each side of the marker"
            if piece.worked == "round"
            else f"{verb} {stitch} at both ends"
        )
    if event.where in ("neck-left", "neck-right"):
        return f"{verb} {stitch} at the neck edge"
    return f"{verb} {stitch} at the {event.where} edge"


def _shaping(piece: Piece, shaped: list[Row], noun: str) -> str:
    """Shaping rows with equal events, as "on row 21, then on every 6th row 5 times more"."""
    parts = []
    for _, same in groupby(shaped, key=lambda r: r.events):
        rows = list(same)
        parts.append(f"{_event_words(rows[0].events[0], piece)} on {_when(rows, noun)}")
    return "; ".join(parts)


def _when(rows: list[Row], noun: str) -> str:
    numbers = [r.row for r in rows]
    if len(numbers) <= 3:
        return f"{noun} {numbers[0]}" if len(numbers) == 1 else f"{noun}s {_list(numbers)}"
    gaps = [b - a for a, b in pairwise(numbers)]
    said, at = [f"{noun} {numbers[0]}"], numbers[0]
    for gap, times in run_lengths(gaps):
        at += gap * times
        often = "once more" if times == 1 else f"{times} times more"
        every = f"every {noun}" if gap == 1 else f"every {ordinal(gap)} {noun}"
        said.append(f"on {every} {often} (to {noun} {at})")
    return ", then ".join(said)


def _list(numbers: Sequence[int]) -> str:
    return ", ".join(map(str, numbers[:-1])) + f" and {numbers[-1]}"


def ordinal(number: int) -> str:
    """2 -> "2nd"."""
    if number % 100 in (11, 12, 13):
        return f"{number}th"
    return f"{number}{ {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th') }"


def _reached(piece: Piece, row: Row, plan: Plan, gauge: DesignGauge) -> str:
    """How long the work is now, counted from its cast-on: washed, and on the needles."""
    rows, units = plan.rows_up_to(piece, row.row), plan.project.units
    text = f"{show_length(gauge.cloth.rows_cm(rows), units)} from the cast-on {_when_measured(gauge)}"
    if piece.name == "neckband":
        text = f"{show_length(gauge.cloth.rows_cm(rows), units)} deep {_when_measured(gauge)}"
    as_knit = gauge.as_knit_of(rows)
    if as_knit is None:
        return text + " (count rows; there is no unwashed gauge to measure by)."
    if gauge.length is not None and not gauge.length.real and gauge.edging is None:
        return text + "; the tape reads the same now."
    return text + f"; {show_length(as_knit, units)} on the tape now."


def _mark_words(what: str) -> str:
    return {
        "underarm": "Underarm: hang a marker in each edge stitch. The sleeve will be sewn on above it.",
        "divide": "Underarm: divide. One half goes on as the back, the other half waits for the front.",
    }[what]


def _ending(piece: Piece) -> str:
    if not piece.bound_off:
        return "No stitches are left on the needle: they go on as the two shoulders."
    if piece.name == "body":
        return f"{counted(piece.bound_off, 'stitch', 'stitches')} are on the needle."
    how = "Bind off loosely" if piece.name == "neckband" else "Bind off"
    return f"{how} all {counted(piece.bound_off, 'stitch', 'stitches')}."


def finishing(plan: Plan) -> tuple[str, ...]:
    """What to do once the pieces are knitted."""
    if plan.made is None or not plan.made.pieces:
        return ()
    project = plan.project
    care = project.design_yarn.care if project.design_yarn else ""
    flat = plan.gauge.flat_cm(plan.made.finished_cm["length"]) if plan.gauge else None
    lies = f" Worn, they hang longer: the body lies {show_length(flat, project.units)} long when flat." if flat else ""
    lines = [
        "Wash and dry all pieces as the swatch was washed" + (f": {care}." if care else "."),
        f"Pin them out to their measurements without stretching; let them dry and rest.{lies}",
    ]
    boat = project.garment.neckline == "boat"
    shoulder = plan.made.finished_cm.get("shoulder", 0.0)
    lines.append(
        "Sew the shoulders"
        + (
            f", {show_length(shoulder, project.units)} from each side, and leave the middle open for the head."
            if boat
            else "."
        )
        + ("" if boat else " Work the neckband.")
    )
    if project.garment.sleeve != "none":
        lines.append(
            "Sew the top of each sleeve to the edges between the markers, middle of the sleeve at the shoulder seam."
        )
    if project.garment.worked == "flat":
        lines.append("Sew the side and sleeve seams, taking one stitch from each edge. Darn in the ends.")
    else:
        lines.append("Darn in the ends.")
    return tuple(in_terms(line, project.terms) for line in lines)
