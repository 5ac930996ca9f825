"""What a knitter reads before the first row: edges, how shaping is worked and leans, what the tape says."""

from collections.abc import Iterator

from workshop.core.making.ledger import Event
from workshop.core.plan import Plan
from workshop.units import plain_number, show_needle
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


def _needles(plan: Plan) -> Iterator[str]:
    """Both needles, and why there are two."""
    assert plan.made is not None
    swatch = plan.gauge.swatch if plan.gauge else None
    if swatch is None or swatch.needle_mm is None:
        return
    names = plan.project.needle_names
    text = f"Needles: {show_needle(swatch.needle_mm, names)}, those of swatch {swatch.id}, for the plain cloth"
    edged = any(r.fabric != "stocking" for p in plan.made.pieces for r in p.rows)
    if edged and plan.hem_needle_mm is not None:
        finer = show_needle(plan.hem_needle_mm, names)
        text += f"; {finer}, two sizes finer, for hem, cuffs and bands, so that they draw in"
    round_too = any(p.worked == "round" for p in plan.made.pieces)
    yield f"{text}. {'Circular or double-pointed ones for what is worked in the round.' if round_too else ''}".strip()


def _at_hand(plan: Plan) -> Iterator[str]:
    """What else to have beside the needles, how to begin, and when to count again."""
    assert plan.made is not None
    events = _events(plan)
    also = ["stitch markers", "a tape measure", "a blunt sewing needle"]
    also += ["holders or waste yarn for stitches that wait"] if any(e.do == "hold" for e in events) else []
    yield f"At hand: {', '.join(also)}."
    yield "Cast on so that the edge stretches (over two needles, or a loose long tail), and bind off edges loosely."
    yield (
        "After the first {10 cm} of plain cloth, and again half way, count stitches and rows: they should be those of "
        "the unwashed swatch. If not, change the needle now; hands change over the weeks."
    )


def _edges(plan: Plan) -> Iterator[str]:
    assert plan.made is not None
    flat = {p.name.partition(",")[0] for p in plan.made.pieces if p.worked == "flat"}
    begins = []
    if flat & {"back", "front", "left front", "right front"}:
        begins.append("at the right edge of the back and at the left edge of a front")
    if flat & {"body", "yoke"}:
        down = plan.project.garment.construction == "raglan-from-neck"
        begins.append("in one piece at the left front" if down else "in one piece at the right front")
    yield "Left and right are the wearer's." + (f" Right-side rows begin {', '.join(begins)}." if begins else "")
    if any(p.edge_stitches for p in plan.made.pieces):
        yield "One stitch at each edge of a flat piece is for the seam: it is in the counts, not in the measurements."


FEW_LEFT = (
    " Where fewer than six stitches are left, leave the stitches at the edge out: of four or five ssk at the beginning "
    "and k2tog at the end; of three slip 1, k2tog, pass the slipped stitch over."
)


def _few_left(plan: Plan) -> bool:
    """Whether both edges decrease in a row that has no room for an edge stitch beside each."""
    assert plan.made is not None
    rows = (r for p in plan.made.pieces for r in p.rows if r.before < 6)
    return any(sum(e.do == "decrease" for e in r.events) + any(e.where == "both" for e in r.events) > 1 for r in rows)


def _shaping(plan: Plan) -> Iterator[str]:
    events = _events(plan)
    edges = ("left", "right", "both", "neck-left", "neck-right")
    if any(e.do == "decrease" and e.where in edges for e in events):
        yield (
            "Decreases stand one stitch in from the edge (or the marker): at the beginning of a right-side row k1, "
            "ssk, which leans to the left; at its end k2tog, k1, which leans to the right. On a wrong-side row p2tog."
            + (FEW_LEFT if _few_left(plan) else "")
        )
    if any(e.do == "increase" and e.where in edges for e in events):
        yield "Increases stand one stitch in from the edge (or the marker): k1, m1 at the beginning, m1, k1 at the end."
    if any(e.line in ("all lines", "body side", "sleeve side") and e.do == "decrease" for e in events):
        yield "At a raglan line: k2tog to 1 stitch before the marker, k1, slip the marker, k1, ssk after it."
    if any(e.line in ("all lines", "body side", "sleeve side") and e.do == "increase" for e in events):
        yield (
            "At a raglan line: m1 before the last stitch at the marker, k1, slip the marker, k1, m1 after it. A front "
            "of a single stitch has no bar to lift: for one more knit into its front and its back, for two more knit, "
            "purl and knit into it."
        )
    if any(e.do == "bind-off" and e.where in edges for e in events):
        yield (
            "Stitches are bound off at the beginning of a row, so the left and the right edge are one row apart; the "
            "stitch left on the needle counts with those that follow."
        )
    if any(e.do == "cast-on" and e.where in ("neck-left", "neck-right") for e in events):
        yield (
            "Stitches are cast on at a neck edge at the end of the row that comes to it, as loops on the needle in the "
            "hand; the next row works them."
        )
    if any(e.do == "short-row" for e in events):
        yield "At a turn wrap the next stitch, or leave the gap marked; knit wrap and stitch together when you meet it."


def _tape(plan: Plan) -> Iterator[str]:
    gauge = plan.gauge
    if gauge is not None and gauge.length is not None and not gauge.length.real:
        yield (
            "Lengths are of the washed cloth. The swatch changed by "
            f"{plain_number(gauge.length.percent, 1)} % in length, "
            "less than can be told from the counts: a tape on the needles reads about the same, and rows are surer."
        )
