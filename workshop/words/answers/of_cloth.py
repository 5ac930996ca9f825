"""What the steps Gauge and Wash answer: what the counts of a swatch mean, and what the wash did to it."""

from workshop.core.cloth.gauge import WHEN_COUNTED, Gauge, really_differ
from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.cloth.wash import BIGGER, WAYS, Change, gauge_key
from workshop.core.plan import Plan
from workshop.project import Project, State, Units
from workshop.tables.yarn_weights import INCH_CM
from workshop.units import (
    plain_number,
    show_gauge,
    show_length,
    show_needle,
)
from workshop.words.phrase import Line, counted, joined

# ── gauge and wash ───────────────────────────────────────────────────────────────────────────────────


def gauge_line(swatch_id: str, gauge: Gauge, project: Project) -> Line:
    """A gauge with its range."""
    places = counted(len(gauge.readings), "place")
    text = (
        f"{show_gauge(gauge.per_10cm, project.units, gauge.along)}, give or take "
        f"{plain_number(gauge.u95_percent, 1)}% (counted in {places})"
    )
    return Line("figure", text, gauge_key(swatch_id, gauge))


def gauge(plan: Plan) -> list[Line]:
    """Every swatch counted before washing, side by side, and which really differ."""
    lines = _counted("off needles", plan)
    washed_first = [k.swatch.id for k in plan.swatches if k.swatch.washed_first]
    if washed_first:
        text = (
            f"Swatch {', '.join(washed_first)}: not counted before the wash. Enter its washed counts in the Wash step."
        )
        lines.append(Line("text", text))
    if not lines:
        planned = (
            f"Swatch {k.swatch.id} is planned: cast on {k.plan.cast_on.count} stitches, knit {k.plan.total_rows} rows."
            for k in plan.swatches
            if k.plan.cast_on is not None
        )
        count = "Count the stitches and the rows of at least one swatch in three places."
        return [Line("text", text) for text in (count, *planned)]
    return lines + _side_by_side("off needles", plan) + _comparison("off needles", plan)


def _counted(state: State, plan: Plan) -> list[Line]:
    lines: list[Line] = []
    for known in plan.swatches:
        found = [known.gauges[state, along] for along in ("stitches", "rows") if (state, along) in known.gauges]
        if not found:
            continue
        swatch = known.plan.swatch
        lines.append(Line("heading", f"Swatch {swatch.id}, {WHEN_COUNTED[state]}{_liked(known)}"))
        lines += [gauge_line(swatch.id, g, plan.project) for g in found]
        stitches = known.gauges.get((state, "stitches"))
        if stitches is not None:
            lines += _meaning(known, state, stitches, plan.project)
        if state != "off needles":
            lines += _changes(known, state, plan)
        elif swatch.grams:
            whole = swatch.cast_on and swatch.rows
            needs = "" if whole else ", once you enter how many stitches you cast on and how many rows you knitted"
            grams = plain_number(swatch.grams, 1)
            lines.append(
                Line(
                    "text",
                    f"The swatch weighs {grams} g. The plan uses its weight to work out how much yarn to buy{needs}.",
                )
            )
    return lines


TAPE_SAMPLE_CM: dict[Units, float] = {"cm": 10.0, "in": 20 * INCH_CM}
"""A length by which to say what the tape shows; in inches long enough for eighths to show it."""


def _changes(known: MeasuredSwatch, state: State, plan: Plan) -> list[Line]:
    """What became of a swatch since it came off the needles."""
    gauge, lines = plan.gauge, []
    for along, name in WAYS.items():
        change = known.change(state, along)
        if change is not None:
            after = known.gauges[state, along]
            planned = gauge is not None and gauge.swatch is known.swatch and after in (gauge.stitches, gauge.rows)
            key = "wash" if planned else f"swatches.{known.swatch.id}.{state}"
            lines.append(_change_line(name, change, key))
    return lines


def _meaning(known: MeasuredSwatch, state: State, stitches: Gauge, project: Project) -> list[Line]:
    """What a stitch gauge means: for the chest, and for the fabric."""
    lines = []
    doubt = known.on_chest[state]
    chest = next(f.value for f in doubt.figures if f.name == "chest")
    units = project.units
    around, off = show_length(chest, units), show_length(doubt.value, units)
    like_that = ", for example," if known.for_example else ","
    text = f"On a garment about {around} around{like_that} counting errors alone could mean {off} more or less."
    lines.append(Line("text", text, doubt.key))
    if state in known.tightness:
        tight = known.tightness[state]
        text = f"For this yarn, the fabric is {known.tightness_words(state)}."
        lines.append(Line("text", text, tight.key))
    if len(stitches.readings) < 3:
        lines.append(Line("note", "Count in three places or more. That narrows the range a lot."))
    elif stitches.u95_percent > UNSURE_PERCENT:
        better = plain_number(stitches.u95_percent_with(2), 1)
        text = (
            "Count in two more places. If the new counts agree as well as these do, the likely error drops to "
            f"{better}%."
        )
        lines.append(Line("note", text))
    return lines


UNSURE_PERCENT = 2.5
"""A stitch gauge less sure than this is worth more counting (common practice, no source): 2.5 cm on a chest of 100."""


def _liking(known: MeasuredSwatch) -> list[str]:
    swatch = known.swatch
    said = [f"fabric rated {swatch.fabric_rating} out of 5"] if swatch.fabric_rating else []
    return said + ([f"knitting rated {swatch.knitting_rating} out of 5"] if swatch.knitting_rating else [])


def _liked(known: MeasuredSwatch) -> str:
    said = _liking(known)
    return f" ({', '.join(said)})" if said else ""


def _has_liking(known: MeasuredSwatch) -> bool:
    return bool(_liking(known) or known.swatch.notes)


def _side_by_side(state: State, plan: Plan) -> list[Line]:
    """The swatches in the order in which their fabric is liked: fabric first, numbers second."""
    rated = [k for k in plan.swatches if _has_liking(k)]
    unrated = [k for k in plan.swatches if k not in rated and k.gauges]
    if not rated or len(rated) + len(unrated) < 2:
        return []
    rated.sort(key=lambda k: (-(k.swatch.fabric_rating or 0), -(k.swatch.knitting_rating or 0)))
    told = [Line("text", _beside_others(known, state, plan.project)) for known in (*rated, *unrated)]
    return [Line("heading", "The swatches side by side, the fabric you like best first"), *told]


def _beside_others(known: MeasuredSwatch, state: State, project: Project) -> str:
    """One swatch on one line: needle, yarn where there are several, how it is liked, and its gauge."""
    swatch, gauge, yarn = known.swatch, known.gauges.get((state, "stitches")), project.yarn_of(known.swatch)
    said = [show_needle(swatch.needle_mm, project.needle_names)] if swatch.needle_mm else []
    said += [yarn.name or f"yarn {yarn.id}"] if yarn and len(project.yarn) > 1 else []
    said += _liking(known)
    said += [show_gauge(gauge.per_10cm, project.units, "stitches")] if gauge else []
    said += [] if _has_liking(known) else ["not rated yet"]
    noted = f"; “{swatch.notes}”" if swatch.notes else ""
    return f"{swatch.id}: {', '.join(said)}{noted}"


def _comparison(state: State, plan: Plan) -> list[Line]:
    """Which swatches really differ."""
    counted_on = [
        (k.plan.swatch.id, k.gauges[state, "stitches"]) for k in plan.swatches if (state, "stitches") in k.gauges
    ]
    lines = []
    for i, (one, first) in enumerate(counted_on):
        for other, second in counted_on[i + 1 :]:
            differs = really_differ(first, second)
            text = f"Swatches {one} and {other} " + (
                "have different stitch gauges. The difference is too big to come from counting errors."
                if differs
                else "have about the same stitch gauge. Choose the fabric you like."
            )
            lines.append(Line("text", text))
    return lines


def wash(plan: Plan) -> list[Line]:
    """Every washed or hung swatch with its change, what to hang on it, and the gauge planned from."""
    lines = _counted("washed", plan) + _counted("hung", plan)
    if not lines:
        lines = [Line("text", _what_to_wash(plan))]
    lines += _side_by_side("washed", plan)
    for known in plan.swatches:
        if known.hang_weight is not None:
            grams = f"{known.hang_weight.value:.0f} g"
            text = (
                f"To hang swatch {known.swatch.id} the way the garment will hang, clip {grams} along its lower edge. "
            )
            text += "Use clips or safety pins, weighed on a kitchen scale."
            if plan.project.design.state != "hung" and ("hung", "rows") not in known.gauges:
                text += " To enter counts from the hung swatch, answer 'hung with a weight' to 'Which counts to use?'."
            lines.append(Line("figure", text, known.hang_weight.key))
    gauge = plan.gauge
    if gauge is None:
        return lines
    lines.append(Line("heading", f"Planned from swatch {gauge.swatch.id}, {WHEN_COUNTED[gauge.state]}"))
    whence = "Every stitch and row in the plan is based on this gauge."
    if gauge.stitches.state != gauge.rows.state:
        whence = (
            "The row gauge comes from the hung swatch. The stitch gauge comes from the washed swatch lying flat, "
            "because hanging a swatch hardly changes its width."
        )
    lines.append(Line("text", whence))
    blank = [k.swatch.id for k in plan.spare_swatches if all(state == "off needles" for state, _ in k.gauges)]
    if blank:
        named = f"swatch{'es' if len(blank) > 1 else ''} {joined(blank)}"
        lines.append(Line("text", f"You can leave the washed counts of {named} blank."))
    units = plan.project.units
    window = TAPE_SAMPLE_CM[units]
    flat = gauge.flat_cm(window)
    if flat is not None:
        text = (
            f"Lying flat, the washed garment measures {show_length(flat, units)} for every "
            f"{show_length(window, units)} of length when it's worn."
        )
        lines.append(Line("figure", text))
    on_needles = gauge.as_knit_cm(window)
    if on_needles is not None and gauge.length is not None:
        if gauge.length.real:
            shown = show_length(on_needles, units)
            text = f"A length of {shown} on the needles will measure {show_length(window, units)} when finished."
        else:
            text = (
                "Lengths measured on the needles will be about the same after washing. Counting rows is safer "
                "than measuring."
            )
        lines.append(Line("figure", text, "wash.as_knit"))
    if gauge.edging is not None:
        rows = show_gauge(gauge.edging.rows.per_10cm, units, "rows")
        text = f"The rows of the edging are based on swatch {gauge.edging.swatch.id}: {rows}."
        lines.append(Line("figure", text, gauge_key(gauge.edging.swatch.id, gauge.edging.rows)))
    return lines


def _what_to_wash(plan: Plan) -> str:
    """What to do before anything is counted washed, and which swatch is asked for first."""
    text = "Wash and dry the swatches the way you'll wash the garment. Let them rest for a day, then count again."
    liked = plan.liked_best
    if liked is not None and plan.spare_swatches:
        why = ", whose fabric you like best" if liked.swatch.fabric_rating else ""
        text += (
            f" You only need one swatch to plan from. Start with swatch {liked.swatch.id}{why}. You can leave the "
            "other swatches blank."
        )
    return text


def wash_verdict(known: MeasuredSwatch, state: State) -> str:
    """What became of a swatch since it came off the needles, in one or two sentences; empty where nobody can say."""
    changes = {name: change for along, name in WAYS.items() if (change := known.change(state, along)) is not None}
    clear = [
        f"{abs(change.percent):.1f}% {BIGGER[name][change.percent < 0]}"
        for name, change in changes.items()
        if change.real
    ]
    if not changes:
        return ""
    when = "After the wash and a day of hanging" if state == "hung" else "After the wash"
    if not clear:
        return f"{when}, swatch {known.swatch.id} shows no clear change in {' or '.join(changes)}."
    same = [name for name, change in changes.items() if not change.real]
    more = f", with no clear change in {same[0]}" if same else ""
    return f"{when}, swatch {known.swatch.id} is {' and '.join(clear)}{more}."


def _change_line(name: str, change: Change, key: str) -> Line:
    if not change.real:
        off, apart = plain_number(change.u95_percent, 1), f"{abs(change.percent):.1f}"
        text = f"No clear change in {name}. The counts before and after washing "
        if apart == "0.0":
            text += f"are the same, but counting errors could hide a change of up to {off}%."
        else:
            text += f"differ by {apart}%, but counting errors alone could make a difference of {off}%."
    else:
        grew = "grew" if change.percent > 0 else "shrank"
        text = (
            f"The swatch {grew} by {abs(change.percent):.1f}% in {name}, give or take "
            f"{plain_number(change.u95_percent, 1)}%."
        )
    return Line("figure", text, f"{key}.{name}_change_percent")
