"""From the ledger to instructions in trade language. Nothing is said that is not in the ledger.

Every line names the rows that it covers, so that the lines of a piece add up to its rows. A reader in the tests,
which knows only these words, builds the ledger again from them.
"""

from workshop.core.cloth.wash import DesignGauge
from workshop.core.constructions import construction
from workshop.core.edgings import STOCKINETTE, edging, of_fabric
from workshop.core.knitting.needle_changes import needle_changes
from workshop.core.making import roles
from workshop.core.making.centre_panels import width_cm
from workshop.core.making.ledger import Piece, Row
from workshop.core.making.roles import SHOULDER
from workshop.core.necklines import neckline
from workshop.core.plan import Plan
from workshop.records import record
from workshop.units import show_length
from workshop.words.colours import next_colour
from workshop.words.needle_sizes import changed_within, needle_for
from workshop.words.phrase import capitalised, counted, in_terms, in_terms_of
from workshop.words.rows.instruction_lines import line, lines_alongside, lines_of, noun, ordinal, stitches
from workshop.words.rows.leans import ends_of_rows, no_bar
from workshop.words.rows.marks import held_at_underarm, mark_words, sides_of_lines
from workshop.words.rows.picking_up import one_from_each
from workshop.words.rows.plain_edges import edge_notes
from workshop.words.rows.row_actions import all_rows, live_shoulder, purl_round
from workshop.words.texts import texts

__all__ = ["PieceWords", "finishing", "instructions", "ordinal"]


@record
class PieceWords:
    """Instructions of one piece: a heading, what it measures, and its lines in order."""

    piece: Piece
    """Of two alike the left one."""
    title: str
    measures: str
    lines: tuple[str, ...]


def instructions(plan: Plan) -> tuple[PieceWords, ...]:
    """All pieces in the order of knitting; pieces that are alike are written once."""
    if plan.gauge is None:
        return ()
    written: list[PieceWords] = []
    for piece in plan.made.pieces:
        both = bool(piece.role.alike) and is_as_its_pair(piece, plan)
        if both and piece.side == "right":
            continue
        title = f"{piece.role.alike} (make two alike)" if both else piece.name
        written.append(
            PieceWords(
                piece,
                in_terms(title, plan.project.terms).capitalize(),
                in_terms(measures_of(piece, plan, plan.gauge), plan.project.terms),
                tuple(in_terms_of(text, plan.project) for text in _lines(piece, plan, plan.gauge)),
            )
        )
    return tuple(written)


def is_as_its_pair(piece: Piece, plan: Plan) -> bool:
    """Whether two pieces that are made alike are so, with all that grows with them.

    One of them may have been knitted before the plan changed.
    """
    begins = next(iter(piece.lineage())).role
    counts: dict[str, list[object]] = {}
    for one in plan.made.pieces:
        if one.role.alike and next(iter(one.lineage())).role is begins:
            counts.setdefault(one.side or "", []).append((one.role, [(r.fabric, r.after) for r in one.rows]))
            if needle_changes(plan.project):
                counts[one.side or ""].append([needle_for(one, row, plan) for row in one.rows])
    return counts.get("left") == counts.get("right")


def measures_of(piece: Piece, plan: Plan, gauge: DesignGauge) -> str:
    """Width, rows and length of a piece."""
    cloth, project = gauge.cloth, plan.project
    wide_cm = width_cm(piece, cloth)
    width = show_length(wide_cm, project.units)
    length = show_length(cloth.rows_cm(piece.rows), project.units)
    across = "around" if piece.worked == "round" else "wide"
    across += " at the widest point (sleeves included)" if piece.role in roles.YOKES else ""
    gone = piece.widest_whole - piece.widest
    shoulder_cm = _shoulder_cm(piece, plan)
    ends = show_length(shoulder_cm, project.units) if shoulder_cm is not None else width
    across += " at the start" if ends != width else ""
    across += f" (with the {counted(gone, 'bound-off stitch', 'bound-off stitches')})" if gone > 0 else ""
    across += f", {ends} at the shoulder" if ends != width else ""
    across += " with the steps before the split" if ends != width and (shoulder_cm or 0.0) > wide_cm else ""
    if piece.inner_rows:
        edge = show_length(cloth.rows_cm(piece.rows_at_the_side()), project.units)
        outside, inside = (
            ("at the front", "at the back") if piece.role is roles.YOKE else ("at the sides", "at the bust")
        )
        length = f"{edge} long {outside} and {length} {inside}"
    else:
        length += " long from the neck split" if piece.role is SHOULDER else " long"
    when = capitalised(when_measured(gauge))
    return f"{capitalised(all_rows(piece))}. {when}: {width} {across}, {length}{_how_far(piece, plan, gauge)}"


def _shoulder_cm(piece: Piece, plan: Plan) -> float | None:
    """How wide the shoulder is that a side of a neck ends with, as it is drawn; None where there's none to sew."""
    sewn = construction(plan.project.garment.construction).shoulder_seams
    return plan.made.finished_cm.get("shoulder") if sewn and piece.role is SHOULDER else None


def _how_far(piece: Piece, plan: Plan, gauge: DesignGauge) -> str:
    """Up to where the rows of a piece are counted that divides."""
    parts = plan.made.growing_from(piece)
    if len(parts) < 2:
        return ""
    if not all(part.role is SHOULDER for part in parts):
        return ", up to where you divide the work"
    sides = [[row for p in part.lineage() for row in p.rows_at_the_side()] for part in parts]
    whole = show_length(max(map(gauge.cloth.rows_cm, sides)), plan.project.units)
    along = " along the side" if any(p.inner_rows for part in parts for p in part.lineage()) else ""
    return f", up to the neck split; {whole} to the top of the shoulder{along}"


def when_measured(gauge: DesignGauge) -> str:
    """What a finished length means: washed and flat, or hanging on the wearer."""
    return "when worn" if gauge.state == "hung" else "after washing"


def _lines(piece: Piece, plan: Plan, gauge: DesignGauge) -> list[str]:
    colour = next_colour(piece, plan)
    begun = (beginning(piece, plan), ends_of_rows(piece), one_from_each(piece.rows[0]))
    lines = [text for text in begun if text]
    lines += [text for m in piece.marks if m.after_row < piece.rows[0].row and (text := mark_words(m, piece))]
    last_row: Row | None = None
    for rows in lines_of(piece):
        first = rows[0]
        if last_row is not None:
            lines += change_needle(piece, first, last_row, plan)
        lines += changed_within(piece, rows, plan)
        text, bare = line(piece, rows), no_bar(piece, first)
        if bare:  # one row is too little to measure
            text += f" {bare}"
        elif not any(e.do in ("hold", "pick-up", "join") for e in first.events):
            text += f" {reached(piece, rows[-1], plan, gauge)}"
        lines += [*sides_of_lines(piece, rows), text, *lines_alongside(piece, rows)]
        lines += [*edge_notes(piece, rows), *point_of_a_v(piece, first)]
        lines += [text for m in piece.marks if m.after_row == rows[-1].row if (text := mark_words(m, piece, colour))]
        last_row = rows[-1]
    last = ending(piece, plan)
    if last and _divides_last(piece):
        return [*lines[:-1], last, lines[-1]]
    return [*lines, last] if last else lines


def _divides_last(piece: Piece) -> bool:
    """Whether the stitches are counted before the front is put aside; other marks come before what is left of them."""
    return bool(piece.marks) and piece.marks[-1].what == "divide"


def before_row(piece: Piece, row: Row, plan: Plan) -> tuple[str, ...]:
    """What is done between the row before and this one: the beginning, marks, another needle."""
    told = [beginning(piece, plan), one_from_each(row)] if row is piece.rows[0] else []
    told += [mark_words(m, piece) for m in piece.marks if m.after_row == row.row - 1]
    at = row.row - piece.rows[0].row
    if at:
        told += change_needle(piece, row, piece.rows[at - 1], plan)
    told += sides_of_lines(piece, [row])
    return tuple(in_terms_of(text, plan.project) for text in told if text)


def after_last_row(piece: Piece, plan: Plan) -> tuple[str, ...]:
    """What is done with the stitches when a piece is knitted."""
    marks = [m for m in piece.marks if m.after_row == piece.last_row]
    last, told = ending(piece, plan), [mark_words(m, piece, next_colour(piece, plan)) for m in marks]
    told = [last, *told] if _divides_last(piece) else [*told, last]
    return tuple(in_terms_of(text, plan.project) for text in told if text)


def beginning(piece: Piece, plan: Plan) -> str:
    """How a piece begins: cast on, picked up, or going on where another ends."""
    needle = needle_for(piece, piece.rows[0], plan)
    with_needle = f" with {needle} needles" if needle else ""
    if piece.parent:
        return _continuing(piece, with_needle, plan)
    if piece.cast_on:
        joined = ", join to work in the round and mark the start of the round" if piece.worked == "round" else ""
        return f"Cast on {stitches(piece.cast_on)}{with_needle}{joined}."
    use = f"Use {needle} needles" if needle else ""
    return f"{_picked_up(piece, plan)}{' ' if use else ''}{use}{'.' if use else ''}"


def _picked_up(piece: Piece, plan: Plan) -> str:
    """What a band is picked up along, and when it's worked, where that is later."""
    match piece.role:
        case roles.ARMHOLE_BAND:
            where = "around the armhole, beginning in the middle of the underarm"
        case roles.NECKBAND:
            begins = construction(plan.project.garment.construction).neck_begins
            where = (
                f"around the neck, beginning {'at the edge of the right front' if piece.worked == 'flat' else begins}"
            )
        case roles.WHOLE_BAND:
            where = "along the edge of the right front from the hem, around the neck, and down the left front"
        case roles.FRONT_BAND:
            way = "from the neck down" if piece.side == "left" else "from the hem up"
            where = f"along the edge of the {piece.side} front, neckband included, {way}"
        case _:
            return ""
    after = _worked_after(piece.role, plan)
    later = texts("joining")["later"].format(done=after) if after else ""
    return f"{later}Pick up stitches {where}."


def _worked_after(role: roles.Role, plan: Plan) -> str:
    """What is done in the finishing before the bands of a role are worked; empty where they follow on the needles."""
    done = ""
    for join in _joins(plan):
        if role in join.bands:
            return done
        done = join.done or done
    return ""


def _continuing(piece: Piece, with_needle: str, plan: Plan) -> str:
    """How a piece begins that continues where another one ends."""
    first = piece.rows[0]
    figures = {
        "kept": stitches(piece.cast_on),
        "held": counted(piece.cast_on, "held stitch", "held stitches"),
        "begin": f"{noun(piece)} {first.row}" + (f" ({first.side})" if first.side != "round" else ""),
        "facing": "right side facing" if first.side == "RS" else "wrong side facing",
        "name": piece.name,
        "where": f"the {piece.begins} underarm" if piece.begins in piece.outer else "the front edge",
        "on_needle": with_needle.replace(" with ", " on ", 1),
        "onto": with_needle.removeprefix(" with ") or "the needle",
        "whose": "one sleeve" if is_as_its_pair(piece, plan) else f"the {piece.told}",
    }
    return texts("continuing")[_continues(piece)].format(**figures)


def _continues(piece: Piece) -> str:
    """The name of the sentence that begins a piece which continues where another one ends."""
    match piece.role:
        case roles.SHOULDER if piece.side == piece.begins:
            return "held"
        case roles.BACK:
            return "panel"
        case roles.FRONT:
            return "held_panel"
        case roles.CAP | roles.SLEEVE_TOP:
            return "sleeve_top"
        case roles.SLEEVE:
            return "sleeve"
        case roles.NECKBAND:
            return "neckband"
        case roles.YOKE if any(e.do == "join" for e in piece.rows[0].events):
            return "join"
    return "flat" if piece.role is roles.UPPER_YOKE else "needle"


def whence(piece: Piece) -> str:
    """Where the stitches are that a piece continues with."""
    return "held" if "held" in _continues(piece) or piece.role is roles.SLEEVE else "on the needle"


def point_of_a_v(piece: Piece, row: Row) -> list[str]:
    """How a V band is decreased at its point, once its stitches are picked up."""
    if row is not piece.rows[0] or not any(
        e.do == "decrease" and e.where == "centre" for r in piece.rows for e in r.events
    ):
        return []
    rib = of_fabric(row.fabric)
    return [texts("mitres")["pair" if rib.paired else "one" if rib.rib else "plain"]]


def change_needle(piece: Piece, row: Row, previous: Row, plan: Plan) -> list[str]:
    """Another needle than in the row before: for another fabric, or because it was changed there."""
    if row.fabric == previous.fabric and not needle_changes(plan.project):
        return []
    new, old = needle_for(piece, row, plan), needle_for(piece, previous, plan)
    return [f"Change to {new} needles."] if new and new != old else []


def reached(piece: Piece, row: Row, plan: Plan, gauge: DesignGauge) -> str:
    """How long the work is, counted from its cast-on: on the needles now, and washed."""
    units = plan.project.units
    if piece.role.band:
        rows = [r for r in piece.rows if r.row <= row.row]
        return f"Depth: {show_length(gauge.cloth.rows_cm(rows), units)} {when_measured(gauge)}."
    start, parts = measured_from(piece)
    rows = [r for part in parts for r in part.rows_at_the_side(row.row)]
    washed, as_knit = show_length(gauge.cloth.rows_cm(rows), units), gauge.as_knit_of(rows)
    done = f"From {start}: {washed} {when_measured(gauge)}."
    if as_knit is None:
        return f"{done} Count rows: the unwashed gauge isn't known."
    if gauge.length is not None and not gauge.length.real and gauge.edging is None:
        return done
    return f"From {start}: {show_length(as_knit, units)} now, {washed} {when_measured(gauge)}."


def measured_from(piece: Piece) -> tuple[str, tuple[Piece, ...]]:
    """Where a tape begins along a piece, and the pieces that it passes: body and sleeves from the neck begin anew."""
    downwards = piece.parent is not None and piece.parent.role is roles.YOKE
    if downwards and piece.role is not roles.UPPER_YOKE:
        return "underarm", (piece,)
    return "cast-on", tuple(piece.lineage())


def ending(piece: Piece, plan: Plan) -> str:
    """What becomes of the stitches of a piece that is knitted."""
    made = plan.made
    goes_on = made.growing_from(piece)
    held = held_at_underarm(piece)
    if held and not goes_on:
        return f"Leave the other {stitches(piece.bound_off - held)} on a spare needle."
    if not piece.bound_off:
        return ""
    if goes_on:
        return f"Keep the {stitches(piece.bound_off)} on the needle."
    if live_shoulder(piece):
        return f"Leave the {stitches(piece.bound_off)} on a holder for the shoulder seam, and break the yarn."
    edge = piece.rows[-1].fabric != STOCKINETTE and piece.parent is not None  # hem or cuff of a piece from the neck
    if not edge and not piece.role.band:
        which = f"the last {BOTH} stitches" if piece.bound_off == BOTH else f"all {stitches(piece.bound_off)}"
        return f"Bind off {which}."
    return f"Bind off all {stitches(piece.bound_off)} loosely {_bound_off_in(piece)}."


BOTH = 2
"""Stitches of which nobody says "all"."""


def _bound_off_in(piece: Piece) -> str:
    """The stitch of an edging's last row, so that it stretches as the edging does and turns up no line."""
    knitted = of_fabric(piece.rows[-1].fabric)
    if knitted.garter:
        return "purlwise" if piece.worked == "round" and not purl_round(piece, piece.rows[-1]) else "knitwise"
    return "in rib" if knitted.rib else "knitwise"


# ── finishing ────────────────────────────────────────────────────────────────────────────────────────


def _laid_flat(plan: Plan) -> str:
    """How long body and sleeves are while they lie, where the plan goes by the fabric as it hangs."""
    parts = (("the body is", "length"), ("each sleeve is", "sleeve"))
    worn = [(what, plan.finished_cm[part]) for what, part in parts if part in plan.finished_cm]
    flat = [(what, plan.gauge.flat_cm(cm) if plan.gauge else None) for what, cm in worn]
    told = " and ".join(f"{what} {show_length(cm, plan.project.units)} long" for what, cm in flat if cm)
    return f" The fabric gets longer when it hangs. Laid flat, {told}." if told else ""


def finishing(plan: Plan) -> tuple[str, ...]:
    """What to do once the pieces are knitted."""
    if not plan.made.pieces:
        return ()
    project = plan.project
    care = project.design_yarn.care if project.design_yarn else ""
    lies = _laid_flat(plan)
    whole = plan.made.first(roles.YOKE) is not None
    what, them, it = ("the garment", "the garment", "it") if whole else ("all pieces", "the pieces", "them")
    bag = ""
    if not whole and "machine" in care:
        bag = " For a machine wash, put the pieces in a wash bag or a pillowcase first."
    lines = [
        f"Wash and dry {what} the way you washed the swatch" + (f": {care}.{bag}" if care else "."),
        f"Lay {them} out to the measurements without stretching {it}. Let {them} dry and rest.{lies}",
    ]
    joins = [join.text for join in _joins(plan)]
    if any(p.role.band for p in plan.made.pieces):  # they are worked after the wash; common practice, no source
        joins += [] if whole else ["Dampen the bands and seams, pat them flat, and let them dry."]
    lines = [*joins, *lines] if whole else [*lines, *joins]
    return tuple(in_terms_of(text, project) for text in lines)


@record
class Join:
    """One thing that is done in the finishing."""

    text: str
    done: str = ""
    """What is done then, for what comes after it."""
    bands: tuple[roles.Role, ...] = ()
    """The bands that are worked here."""


def _joins(plan: Plan) -> list[Join]:
    """All that is joined and worked once the pieces are there, in its order.

    What is knitted in one piece has its bands right after the pieces, in their order.
    """
    garment, made = plan.project.garment, plan.made
    record, in_one = construction(garment.construction), made.first(roles.BODY) is not None
    pieces = made.first(roles.YOKE) is None
    if record.shoulder_seams:
        found = [_shoulders(plan)]
    else:
        found = [Join(record.closed) if in_one else Join(record.sewn, f"the {record.joined_first} are sewn")]
    if made.first(roles.NECKBAND) and pieces:
        found.append(Join("Now work the neckband, as written above.", "the neckband is worked", (roles.NECKBAND,)))
    if record.shoulder_seams and garment.sleeve != "none":
        edges = "between the markers" if not in_one else "above the underarm"
        found.append(Join(record.sewn.format(edges=edges, caps=_caps(plan)), "the sleeves are sewn in"))
    if garment.front == "open":
        what = "the band along both fronts and around the neck" if made.first(roles.WHOLE_BAND) else "the front bands"
        work = f"Now work {what}, as written above. " if pieces else ""
        bands = (roles.FRONT_BAND, roles.WHOLE_BAND) if pieces else ()
        found.append(Join(f"{work}Sew on the buttons opposite the buttonholes.", bands=bands))
    front, sleeve = made.first(roles.FRONT), made.first(roles.SLEEVE)
    seams = (("side", front and not front.parent), ("sleeve", sleeve and sleeve.worked == "flat"))
    sewn = " and ".join(name for name, there in seams if there)
    if sewn:
        single = edging(garment.hem).repeat == 2  # columns of one stitch: half of one from each edge makes one
        half_in = " Along the ribbing, sew only half a stitch in, so that the rib continues across the seam."
        rib = half_in if single else ""
        found.append(Join(f"Sew the {sewn} seams, one stitch in from each edge.{rib}", f"the {sewn} seams are sewn"))
    if garment.sleeve == "none":
        found.append(Join("Now work the armhole bands, as written above.", bands=(roles.ARMHOLE_BAND,)))
    return [*found, Join("Weave in the ends.")]


def _caps(plan: Plan) -> str:
    """How caps are sewn in: their middle at the shoulder, or before it where the front's armhole is longer."""
    forward, ease, said = plan.working("cap.forward"), plan.working("cap.ease_percent"), texts("joining")
    if forward is not None:
        return said["caps_forward"].format(before=show_length(forward.value, plan.project.units))
    return said["caps"] + (said["caps_eased"] if ease and ease.value > LONGER_CAP else "")


LONGER_CAP = 0.5
"""A cap longer than its armhole by less than this, in per cent, is sewn in as it is (common practice, no source)."""


def _shoulders(plan: Plan) -> Join:
    project, done = plan.project, "the shoulders are joined"
    if not neckline(project.garment.neckline).divides:
        width = show_length(plan.finished_cm.get("shoulder", 0.0), project.units)
        return Join(texts("joining")["boat"].format(width=width), done)
    live = any(live_shoulder(p) for p in plan.made.pieces)
    return Join(texts("joining")["live_shoulders"] if live else "Sew the shoulders.", done)
