"""What the steps Fibre and Swatch answer: what a yarn promises, and the swatches to knit."""

from workshop.core.calculation import Calculation
from workshop.core.cloth.fibre import YarnView
from workshop.core.cloth.known import ACCURACY_CM, MeasuredSwatch, proposed_cm, taken_by_cards
from workshop.core.plan import Plan
from workshop.core.remarks import Remark, needle
from workshop.project import Project
from workshop.tables.trade_rules import window_cm
from workshop.units import (
    plain_number,
    show_length,
    show_needle,
    show_yarn_length,
)
from workshop.words.phrase import Line, counted, say, stitch_words

# ── fibre ────────────────────────────────────────────────────────────────────────────────────────────


def fibre(plan: Plan) -> list[Line]:
    """Each yarn: the needle to start from, its thickness, and how its fibres behave."""
    lines: list[Line] = []
    for view in plan.yarns:
        if view.start_mm is None and view.density is None and not view.remarks and len(plan.yarns) == 1:
            continue  # nothing is known of it yet
        lines.append(Line("heading", view.yarn.name or _called(view.yarn.id, plan.project)))
        if view.start_mm is not None:
            start = Remark(
                "Start with needles around {start}: swatch on {sizes}.",
                {"start": needle(view.start_mm), "sizes": tuple(needle(m) for m in view.swatch_mm)},
            )
            lines.append(Line("figure", say(start, plan.project), f"yarns.{view.yarn.id}.sizes_moved"))
        if view.density is not None:
            lines.append(_density_line(view, plan.project))
        lines += [Line("text", say(r, plan.project)) for r in view.remarks]
    if not plan.yarns:
        lines.append(Line("text", "Add a yarn. Its ball band tells you all you need to begin."))
    elif len(plan.yarns) > 1:
        lines.append(
            Line("note", "You have several yarns to choose from. Swatch each one, and note how it feels to knit.")
        )
    return lines


def _called(yarn_id: str, project: Project) -> str:
    """A yarn without a name: by its letter only where there are several."""
    return "The yarn" if len(project.yarn) == 1 else f"Yarn {yarn_id}, no name yet"


# ── swatch ───────────────────────────────────────────────────────────────────────────────────────────


def _density_line(view: YarnView, project: Project) -> Line:
    density = view.density
    assert density is not None
    length = show_yarn_length(density.m_per_100g, project.units)
    text = f"{length} per 100 g. This figure lets you compare yarns, whatever the size of the ball."
    return Line("figure", text, f"yarns.{view.yarn.id}.tex")


def swatch(plan: Plan) -> list[Line]:
    """Each swatch with its counts, then how swatches are knitted."""
    lines: list[Line] = []
    for known in plan.swatches:
        lines += _swatch_lines(known, plan)
    alone = len(plan.swatches) == 1
    if plan.swatches:
        lines.append(Line("heading", "How to knit it" if alone else "All swatches"))
    sizes = {s.needle_mm for s in plan.project.swatch if s.needle_mm}
    if 0 < len(sizes) < 3:
        lines.append(
            Line(
                "note",
                f"You've chosen {counted(len(sizes), 'needle size')} so far. With three or more, you can compare "
                "fabrics and choose the one you like.",
            )
        )
    cast_on = [known.plan.cast_on.count for known in plan.swatches if known.plan.cast_on is not None]
    if len(sizes) > 1 and len(cast_on) > 1 and len({*cast_on}) == 1:
        lines.append(Line("text", SAME_CAST_ON))
    lines += _together(plan)
    if plan.swatches:
        lines += [Line("text", t) for t in HOW_TO_SWATCH if not (alone and t in OF_SEVERAL)]
        if any(s.worked == "round" for s in plan.project.swatch):
            lines.append(Line("text", IN_THE_ROUND))
    else:
        ready = any(view.swatch_mm for view in plan.yarns)
        how = (
            "You can plan three swatches at once."
            if ready
            else "The needle sizes depend on the yarn, so answer the questions in the Fiber step first."
        )
        lines.append(Line("text", f"No swatch yet. {how}"))
    return lines


SAME_CAST_ON = (
    "All the swatches have the same number of stitches, because nobody knows your gauge yet. A larger needle simply "
    "gives a wider swatch."
)

ON_ITS_CARD = (
    "Knit the swatch as if in the round: work every row from the right side, on a circular needle. Slide the stitches "
    "back to the other tip and carry the yarn loosely across the back. For garter stitch, alternate knit and purl rows."
)
IN_THE_ROUND = (
    "On a swatch knitted in the round, count well inside the edges, because the strands across the back pull on them. "
    "Before you wash the swatch, cut the strands in the middle, so it can lie flat."
)
"""How a swatch is worked as a round is (common practice, no source)."""


def _together(plan: Plan) -> list[Line]:
    """What several swatches in the only yarn take."""
    planned = [known for known in plan.swatches if known.plan.metres is not None]
    if len(planned) < 2 or len(plan.project.yarn) != 1:
        return []
    metres, grams = taken_by_cards(planned)
    heavy = f" ({plain_number(grams, 0)} g)" if grams else ""
    text = f"Together the swatches use about {show_yarn_length(metres, plan.project.units)}{heavy} of yarn."
    return [Line("text", text)]


OF_SEVERAL = (
    "Knit the swatches as one strip with two purl rows in between, or knit them separately. Separate swatches are "
    "easier to wash and hang.",
    "Mark each swatch with its own number of purl bumps in the first row of the main fabric. A paper label would wash "
    "off.",
)

HOW_TO_SWATCH = (
    *OF_SEVERAL,
    "Stretchy bind-off: k2, *slip both back to the left needle, k2tog through the back loops, k1; repeat from *. "
    "An ordinary bind-off pulls the edge in.",
    "Use the needles you'll use for the garment. Rest your hands between swatches.",
)


def _swatch_lines(known: MeasuredSwatch, plan: Plan) -> list[Line]:
    item, project = known.plan, plan.project
    size = show_needle(item.swatch.needle_mm, project.needle_names) if item.swatch.needle_mm else "needle not chosen"
    material = f", {item.swatch.needle_material}" if item.swatch.needle_material else ""
    lines = [Line("heading", f"Swatch {item.swatch.id}: {size}{material}")]
    if item.cast_on is None or item.rows is None:
        return [*lines, Line("text", "Choose a yarn weight to see how many stitches to cast on.")]
    border, fabric = f"{item.border_rows} rows of garter stitch", stitch_words(item.swatch)
    plain = f"{item.rows.count} rows {fabric if fabric.startswith('in ') else f'of {fabric}'}"
    lines.append(Line("figure", f"Cast on {item.cast_on.count} stitches.", item.cast_on.key))
    lines.append(Line("figure", f"Knit {border}, {plain}, and {border}.", item.rows.key))
    if item.swatch.worked == "round":
        lines.append(Line("text", ON_ITS_CARD))
    marks = counted(item.mark, "purl bump")
    lines.append(Line("text", f"Mark the swatch with {marks} above the garter edge."))
    if item.swatch.edge_stitches == 0:
        lines.append(
            Line(
                "note",
                "Stockinette curls without garter stitches at the edges. Three garter stitches at each edge "
                "keep the swatch flat.",
            )
        )
    if item.metres is not None:
        grams = f" ({plain_number(item.grams.value, 0)} g)" if item.grams else ""
        text = f"The swatch uses about {show_yarn_length(item.metres.value, project.units)}{grams} of yarn."
        lines.append(Line("text", text, item.metres.key))
    if known.place is not None:
        lines.append(_place_line(known, known.place, plan.project))
    return lines


def _place_line(known: MeasuredSwatch, place: Calculation, project: Project) -> Line:
    """How wide each counted place must be for a chest that is right within an inch."""
    chest = next(f.value for f in place.figures if f.name == "finished width")
    wide = proposed_cm(max(place.value, window_cm(project.units)), project.units)
    example = ", for example," if known.for_example else ""
    text = (
        f"Count in three places, over {show_length(wide, project.units)} each time, to the nearest quarter stitch. "
        f"That lets you predict a {show_length(chest, project.units)} chest{example} to within "
        f"about {show_length(ACCURACY_CM, project.units)}."
    )
    return Line("text", text, place.key)
