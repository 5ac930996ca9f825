"""What a knitter reads before the first row: edges, how shaping is worked and leans, what the tape says."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial

from workshop.core.edgings import STOCKINETTE, edging
from workshop.core.knitting.compared import first_count, second_count
from workshop.core.knitting.ways import MATTERS_CM, stitches_that_matter
from workshop.core.making.centre_panels import width_cm
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Event, Piece
from workshop.core.making.roles import BODY, FRONT, PANELS, SLEEVE, YOKE, YOKES
from workshop.core.plan import Plan
from workshop.project import Units
from workshop.tables import needles
from workshop.units import GAUGE_OVER_CM, eighths, per_shown, plain_number, show_length
from workshop.words.colours import colour_notes
from workshop.words.fabric import needs_cable_needle, own_rows_notes, pattern_notes
from workshop.words.needle_sizes import changes_told, edges_of, edging_needle, finer_needle, needle_in_use
from workshop.words.phrase import joined, likely_gauge, needle_to_knit_with, worded
from workshop.words.rows.leans import AT_EDGES, shaping_notes
from workshop.words.rows.row_actions import back_and_forth, in_pattern, live_shoulder, noun, single_at_edge
from workshop.words.texts import texts


def before_knitting(plan: Plan, *, counted_anew: bool = False) -> tuple[str, ...]:
    """Notes that hold for all pieces; only of what the ledger holds.

    ``counted_anew``: rows are counted from 1 again in each piece, as in the text for all sizes.
    """
    if not plan.made.pieces:
        return ()
    at_hand = partial(_at_hand, counted_anew=counted_anew)
    parts = (_needles, at_hand, _edges, pattern_notes, colour_notes, own_rows_notes, _shaping, _tape)
    lines = [line for part in parts for line in part(plan)]
    kept = (line for line in lines if not (counted_anew and line == texts("before")["numbers_go_on"]))
    return tuple(worded(line, plan.project) for line in kept)


def _events(plan: Plan) -> list[Event]:
    return [e for p in plan.made.pieces for r in p.rows for e in r.events]


def needles_words(plan: Plan) -> str:
    """Both needles, and why there are two; empty where the swatch has none."""
    swatch = plan.gauge.swatch if plan.gauge else None
    if swatch is None or swatch.needle_mm is None:
        return ""
    text = f"Needles: {needle_to_knit_with(swatch.needle_mm, plan.project)}, as for swatch {swatch.id}"
    finer_mm, edges = finer_needle(plan, swatch.needle_mm), edges_of(plan)
    if finer_mm is not None:
        sizes = "one size" if needles.steps_between(swatch.needle_mm, finer_mm) == -1 else "two sizes"
        text += f". For the {edges}, use {needle_to_knit_with(finer_mm, plan.project)} needles, {sizes} smaller"
        ribbed = edging(plan.project.garment.hem).rib  # garter stitch is wider than stockinette on one needle
        text += ", so that the edges draw in" if ribbed else ", so that the garter stitch doesn't spread"
    else:
        text += ", throughout"
    return " ".join((f"{text}.", *changes_told(plan)))


CIRCULARS_CM = (40, 60, 80, 100, 120)
"""Lengths of circular needles as they are sold, the shortest for necks (common practice, no source)."""

CIRCULARS: dict[Units, tuple[int, ...]] = {"cm": CIRCULARS_CM, "in": (16, 24, 32, 40, 47)}
"""The same in each unit, as the packets say."""

SPARE_CM = 1.0
"""By how much a circular needle is shorter than what is on it, or stitches stretch (common practice, no source)."""


def _length(units: Units, *places: int) -> str:
    """Lengths of circular needles by their places among those sold: "60 to 80 cm"."""
    return f"{' to '.join(str(CIRCULARS[units][at]) for at in places)} {units}"


def circulars_for(around_cm: float, units: Units) -> str:
    """The two longest circular needles that are a little shorter than a body is around; empty where none is."""
    room = [str(sold) for sold, cm in zip(CIRCULARS[units], CIRCULARS_CM, strict=True) if cm <= around_cm - SPARE_CM]
    return f"{' or '.join(room[-2:])} {units}" if room else ""


NARROWEST_CM = 41.0
"""A narrower round has no room on the shortest usual circular needle (common practice, no source)."""


def _needles(plan: Plan) -> Iterator[str]:
    yield from filter(None, [needles_words(plan)])
    yield from _for_the_round(plan)
    assert plan.gauge is not None
    cloth = plan.gauge.cloth
    flat = [p for p in plan.made.pieces if p.worked == "flat" and not p.role.band]  # bands have a needle of their own
    wide = [p.told for p in flat if width_cm(p, cloth) > ON_STRAIGHT_NEEDLES_CM]
    if wide:
        yield texts("before")["wide"].format(names=joined(wide))


def _circulars(plan: Plan, *, neck: bool) -> str:
    """Lengths of circular needles for a body in the round, and for the neck where that isn't too narrow for one."""
    said, units = texts("before"), plan.project.units
    assert plan.gauge is not None
    bodies = [_narrowest_cm(p, plan.gauge.cloth) for p in plan.made.pieces if p.role is BODY]
    long, short = circulars_for(min(bodies), units) if bodies else "", _length(units, 0)
    if not long:
        return said["for_neck"].format(short=short) if neck else ""
    which = "for_body_only" if not neck else "for_both" if long == short else "for_body"
    return said[which].format(long=long, short=short)


def _for_the_round(plan: Plan) -> Iterator[str]:
    """Needles for what is worked in rounds, and bands that are too narrow for a circular one."""
    said, units = texts("before"), plan.project.units
    assert plan.gauge is not None
    in_round = [p for p in plan.made.pieces if p.worked == "round"]
    too_narrow = [p for p in in_round if p.role.band and width_cm(p, plan.gauge.cloth) < NARROWEST_CM]
    if any(not p.role.band for p in in_round):  # a band alone has its needle named with what else one needs
        yield said["round_needles"] + _circulars(plan, neck=not too_narrow)
    if too_narrow:
        names = dict.fromkeys(f"the {p.role.alike or p.told}" for p in too_narrow)
        yield said["narrow"].format(names=joined(names), short=_length(units, 0))


def _narrowest_cm(body: Piece, cloth: Cloth) -> float:
    """How far around a body is where it has the fewest stitches: at the waist, if that is shaped."""
    return width_cm(body, cloth) * min(row.after for row in body.rows) / max(row.after for row in body.rows)


ON_STRAIGHT_NEEDLES_CM = 80.0
"""A wider piece has no room on straight needles: twice the longest ones (common practice, no source)."""


def _circular_for_bands(plan: Plan) -> str:
    """The needle of bands beside pieces that are worked flat: a circular one; empty where there are none."""
    bands = [p for p in plan.made.pieces if p.role.band and p.worked == "flat"]
    if plan.gauge is None:
        return ""
    if not bands:
        return _for_rounds(plan)
    wide = max(width_cm(p, plan.gauge.cloth) for p in bands) > ON_STRAIGHT_NEEDLES_CM
    size = edging_needle(plan)
    needle = f"{needle_to_knit_with(size, plan.project)} " if size else ""
    length = _length(plan.project.units, *((3, 4) if wide else (1, 2)))
    names = "bands" if len(bands) > 1 else bands[0].name
    return texts("before")["circular"].format(names=names, needle=needle, length=length)


def _for_rounds(plan: Plan) -> str:
    """The needle of bands in rounds, where it is the only one of its size that is not straight."""
    assert plan.gauge is not None
    round_bands = [p for p in plan.made.pieces if p.role.band and p.worked == "round"]
    wide = [p for p in round_bands if width_cm(p, plan.gauge.cloth) >= NARROWEST_CM]  # others have their own note
    bands = [p.name for p in wide]
    flat = all(p.worked == "flat" for p in plan.made.pieces if not p.role.band)
    size_mm = edging_needle(plan)
    if not bands or not flat or size_mm is None:
        return ""
    size = needle_to_knit_with(size_mm, plan.project)
    units = plan.project.units
    length = circulars_for(min(_narrowest_cm(p, plan.gauge.cloth) for p in wide), units) or _length(units, 0)
    names = "bands" if len(bands) > 1 else bands[0]
    return f" For the {names}, you'll also need a {size} circular needle, {length} long, or double-pointed needles."


def _for_sleeves(plan: Plan) -> str:
    """Needles for sleeves that are worked in the round, too narrow for a circular one; empty without any."""
    if not any(p.role is SLEEVE and p.worked == "round" for p in plan.made.pieces):
        return ""
    both = (
        " in both needle sizes"
        if plan.project.garment.hem != "none" and finer_needle(plan, needle_in_use(plan))
        else ""
    )
    return f" For the sleeves, use double-pointed needles{both}."


def _at_hand(plan: Plan, *, counted_anew: bool) -> Iterator[str]:
    """What else to have beside the needles, how to begin, and when to count again."""
    events = _events(plan)
    also = ["stitch markers", "a tape measure", "a blunt tapestry needle"]
    held = any(e.do == "hold" for e in events) or any(live_shoulder(p) for p in plan.made.pieces)
    parted = any(m.what == "divide" for p in plan.made.pieces for m in p.marks)
    also += ["holders or waste yarn for held stitches"] if held or parted else []
    also += ["a cable needle"] if needs_cable_needle(plan) else []
    also += ["a spare needle for each sleeve"] if any(e.do == "join" for e in events) else []
    yield f"You'll also need {', '.join(also[:-1])}, and {also[-1]}.{_for_sleeves(plan)}{_circular_for_bands(plan)}"
    yield texts("before")["cast_on"]
    if any(p.worked == "round" and p.cast_on and not p.parent for p in plan.made.pieces):
        yield texts("before")["twisted"]
    yield _count_again(plan, counted_anew=counted_anew)


def _count_again(plan: Plan, *, counted_anew: bool) -> str:
    """The gauge to knit to: that of the swatch, unwashed, or washed where nobody counted it before."""
    gauge, units = plan.gauge, plan.project.units
    assert gauge is not None
    unwashed = [g for g in (gauge.unwashed_stitches, gauge.unwashed_rows) if g is not None]
    name = "count_again" if unwashed else "count_again_washed"
    taken = plan.project.taken
    if unwashed and any(t.stitches_per_10cm or t.rows_per_10cm for t in taken):
        name, of_stitches = "count_again_taken", any(t.stitches_per_10cm for t in taken)
        counted = ((gauge.unwashed_stitches, of_stitches), (gauge.unwashed_rows, any(t.rows_per_10cm for t in taken)))
        unwashed = [g for g, was in counted if g is not None and was]
    lying_flat = (gauge.stitches, gauge.flat_rows or gauge.rows)
    told = ", and ".join(likely_gauge(g, units) for g in unwashed or lying_flat)
    matter = per_shown(stitches_that_matter(gauge, plan.made.finished_cm["chest"]), units)
    apart = max(1, round(4 * matter)) / 4  # as fine as one counts
    text = texts("before")[name].replace("{told}", told).replace("{id}", gauge.swatch.id)
    by, off = "stitch" if apart <= 1 else "stitches", show_length(MATTERS_CM * apart / matter, units)
    text = text.replace("{apart}", f"{eighths(apart)} {by} in {show_length(GAUGE_OVER_CM[units], units)}").replace(
        "{off}", off
    )
    return text.replace("{when}", when_to_count(plan, counted_anew=counted_anew))


def when_to_count(plan: Plan, *, counted_anew: bool = False) -> str:
    """The rows of both counts, as the needles name them; where each size numbers its rows anew, the length so far."""
    said, pieces = texts("before"), plan.made.pieces
    assert plan.gauge is not None
    found = first_count(pieces, plan.gauge)
    second = second_count(pieces, found) if found else None
    if found is None or counted_anew:
        from_the_neck = bool(pieces) and pieces[0].role in YOKES
        plain = f"the {YOKE.word}" if from_the_neck else "plain knitting"
        after = said["count_after"].replace("{fabric}", _pattern(plan) or plain)
        return after + (said["again_down_the_body" if from_the_neck else "again_halfway"] if second else "")
    told = said["count_at"].format(at=_row_of(*found))
    if second is None:
        return told
    again = f"{noun(second[0])} {second[1]}" if second[0] is found[0] else _row_of(*second)
    return told + said["count_again_at"].format(at=again)


def _row_of(piece: Piece, row: int) -> str:
    return f"{noun(piece)} {row} of the {YOKE.word if piece.role in YOKES else piece.name}"


def _pattern(plan: Plan) -> str:
    """The name of the pattern that the garment is in; empty for a plain one."""
    return next((p.pattern.pattern.name for p in plan.made.pieces if p.pattern), "")


def _edges(plan: Plan) -> Iterator[str]:
    flat = [p for p in plan.made.pieces if p.worked == "flat"]
    told = ["Left and right are always the wearer's left and right."]
    if any(p.role in PANELS for p in flat):
        front = "a front" if plan.project.garment.front == "open" else "the front"
        told.append(f"Right-side rows begin at the wearer's right on the back, and at the wearer's left on {front}.")
    told += [
        f"Where both fronts are in one piece with the back, right-side rows begin at the {p.begins} front."
        for p in flat
        if p.role in (BODY, *YOKES)
    ][:1]
    yield " ".join(told)
    if plan.made.pieces[0].role in YOKES:
        yield texts("before")["from_the_neck"]
    if any(p.parent is not None and p.cast_on for p in plan.made.pieces):
        yield texts("before")["numbers_go_on"]
    if flat:
        plain = any(r.fabric == STOCKINETTE and not in_pattern(p, r) for p in flat for r in p.rows)
        told = [texts("before")[name] for name in ("back_and_forth", *(["stockinette"] if plain else []))]
        yield " ".join(told)
    yield from _seam_stitches(plan.made.pieces)


def _seam_stitches(pieces: Sequence[Piece]) -> Iterator[str]:
    """What the edge stitches are for."""
    if any(p.edge_stitches for p in pieces):
        halves = any(p.role is FRONT and p.side for p in pieces)
        yield texts("before")["seam_stitches"] + (texts("before")["band_stitches"] if halves else "")


def _shaping(plan: Plan) -> Iterator[str]:
    events = _events(plan)
    yield from shaping_notes(plan)
    yield from (texts("before")[name] for name, applies in HAPPENS.items() if any(map(applies, events)))
    yield from _buttonholes(plan)
    if any(back_and_forth(row, piece) for piece in plan.made.pieces if piece.role is BODY for row in piece.rows):
        yield texts("before")["short_rows_in_the_round"]


def _buttonholes(plan: Plan) -> Iterator[str]:
    """On which side of a cardigan they are, and why."""
    if any(p.key_counts.get("buttonholes") for p in plan.made.pieces):
        yield texts("before")["holes_left" if plan.wearer.table == "men" else "holes_right"]


HAPPENS: Mapping[str, Callable[[Event], bool]] = {
    "one_row_apart": lambda e: e.do == "bind-off" and e.where in AT_EDGES and not single_at_edge(e),
    "one_left": lambda e: e.do == "bind-off" and not single_at_edge(e),
    "cast_on_at_neck": lambda e: e.do == "cast-on" and e.where in ("neck-left", "neck-right"),
    "cast_on_at_underarm": lambda e: e.do == "cast-on" and e.where == "underarm",
    "short_rows": lambda e: e.do == "short-row",
}
"""What is explained where it happens, by the name of its sentence."""


def _tape(plan: Plan) -> Iterator[str]:
    gauge = plan.gauge
    if gauge is not None and gauge.unwashed_rows is None:
        yield texts("before")["no_tape"]
    if gauge is not None and gauge.length is not None and not gauge.length.real:
        percent = plain_number(abs(gauge.length.percent), 1)
        longer = "longer" if gauge.length.percent > 0 else "shorter"
        yield texts("before")["tape_same" if percent == "0" else "tape"].format(percent=percent, longer=longer)
    if gauge is not None and gauge.unwashed_rows is not None:
        yield texts("before")["rows_first"]
