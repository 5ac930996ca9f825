"""What a knitter reads before the first row: edges, how shaping is worked and leans, what the tape says."""

from collections.abc import Iterator

from workshop.core.making.ledger import Event
from workshop.core.making.roles import BODY, PANELS, YOKES
from workshop.core.plan import Plan
from workshop.tables import needles
from workshop.units import plain_number, show_needle
from workshop.words.deeds import back_and_forth, live_shoulder, single_at_edge
from workshop.words.leans import AT_EDGES, shaping_notes
from workshop.words.phrase import worded


def before_knitting(plan: Plan) -> tuple[str, ...]:
    """Notes that hold for all pieces; only of what the ledger holds."""
    if plan.made is None or not plan.made.pieces:
        return ()
    parts = (_needles, _at_hand, _edges, _shaping, _tape)
    return tuple(worded(line, plan.project) for part in parts for line in part(plan))


def _events(plan: Plan) -> list[Event]:
    assert plan.made is not None
    return [e for p in plan.made.pieces for r in p.rows for e in r.events]


def finer_needle(plan: Plan) -> float | None:
    """Needle of hem, cuffs and bands in mm; None where the table has none that is finer than the swatch's."""
    swatch, hem_mm = plan.gauge.swatch if plan.gauge else None, plan.hem_needle_mm
    if swatch is None or swatch.needle_mm is None or hem_mm is None:
        return None
    return hem_mm if hem_mm < swatch.needle_mm else None


def _needles(plan: Plan) -> Iterator[str]:
    """Both needles, and why there are two."""
    assert plan.made is not None
    swatch = plan.gauge.swatch if plan.gauge else None
    if swatch is None or swatch.needle_mm is None:
        return
    names = plan.project.needle_names
    text = f"Needles: {show_needle(swatch.needle_mm, names)}, those of swatch {swatch.id}, "
    edged, finer_mm = any(r.fabric != "stocking" for p in plan.made.pieces for r in p.rows), finer_needle(plan)
    if edged and finer_mm is not None:
        finer = "one size finer" if needles.steps_between(swatch.needle_mm, finer_mm) == -1 else "two sizes finer"
        text += f"for the plain cloth; {show_needle(finer_mm, names)}, {finer}, for hem, cuffs and bands, so that they "
        text += "draw in"
    else:
        text += "throughout"
    round_too = any(p.worked == "round" for p in plan.made.pieces)
    yield f"{text}. {'Circular or double-pointed ones for what is worked in the round.' if round_too else ''}".strip()


def _at_hand(plan: Plan) -> Iterator[str]:
    """What else to have beside the needles, how to begin, and when to count again."""
    assert plan.made is not None
    events = _events(plan)
    also = ["stitch markers", "a tape measure", "a blunt sewing needle"]
    held = any(e.do == "hold" for e in events) or any(live_shoulder(p) for p in plan.made.pieces)
    parted = any(m.what == "divide" for p in plan.made.pieces for m in p.marks)
    also += ["holders or waste yarn for held stitches"] if held or parted else []
    also += ["a spare needle for each sleeve"] if any(e.do == "join" for e in events) else []
    yield f"At hand: {', '.join(also)}."
    yield "Cast on so that the edge stretches (over two needles, or a loose long tail), and bind off edges loosely."
    yield (
        "After the first {10 cm} of plain cloth, and again half way, count stitches and rows: they should be those of "
        "the unwashed swatch. If not, change the needle now; hands change over the weeks."
    )


def _edges(plan: Plan) -> Iterator[str]:
    assert plan.made is not None
    flat = [p for p in plan.made.pieces if p.worked == "flat"]
    begins = []
    if any(p.role in PANELS for p in flat):
        begins.append("at the right edge of the back and at the left edge of a front")
    begins += [f"in one piece at the {p.begins} front" for p in flat if p.role in (BODY, *YOKES)][:1]
    yield "Left and right are the wearer's." + (f" Right-side rows begin {', '.join(begins)}." if begins else "")
    if any(p.worked == "flat" for p in plan.made.pieces):
        yield (
            "Worked back and forth, odd rows are right-side rows. Stockinette: knit the right-side rows and purl the "
            "wrong-side rows."
        )
    if any(p.edge_stitches for p in plan.made.pieces):
        yield "One stitch at each edge of a flat piece is for the seam: it is in the counts, not in the measurements."


def _shaping(plan: Plan) -> Iterator[str]:
    assert plan.made is not None
    events = _events(plan)
    yield from shaping_notes(plan)
    if any(e.do == "bind-off" and e.where in AT_EDGES and not single_at_edge(e) for e in events):
        yield ("Stitches are bound off at the beginning of a row, so the left and the right edge are one row apart.")
    if any(e.do == "bind-off" and not single_at_edge(e) for e in events):
        yield "After a bind-off one stitch is left on the right needle. It counts with those that follow."
    if any(e.do == "cast-on" and e.where in ("neck-left", "neck-right") for e in events):
        yield (
            "Stitches are cast on at a neck edge at the end of the row that comes to it, as loops on the right "
            "needle; the next row works them."
        )
    if any(e.do == "cast-on" and e.where == "underarm" for e in events):
        yield "At an underarm stitches are cast on in the middle of a row, as loops on the needle in the right hand."
    if any(e.do == "short-row" for e in events):
        yield (
            "Short rows in stockinette: knit the right-side rows, purl the wrong-side rows. At a turn slip the next "
            "stitch, bring the yarn to the other side of the work, slip the stitch back and turn. The stitch is "
            "wrapped. When you meet it again, work wrap and stitch together: knit them, or purl them on a wrong-side "
            "row."
        )
    if any(back_and_forth(row, piece) for piece in plan.made.pieces if piece.role is BODY for row in piece.rows):
        yield (
            "Short rows in the round: the first starts at the beginning of the round, each other one at the last turn. "
            "From the last turn knit on to the beginning of the round: that counts as the next round."
        )


def _tape(plan: Plan) -> Iterator[str]:
    gauge = plan.gauge
    if gauge is not None and gauge.length is not None and not gauge.length.real:
        yield (
            "Lengths are of the washed cloth. The swatch changed by "
            f"{plain_number(gauge.length.percent, 1)} % in length, "
            "less than can be told from the counts: a tape on the needles reads about the same, and rows are surer."
        )
