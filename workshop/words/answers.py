"""What each step answers at once, as plain lines: the app, the line-by-line mode and prints share them."""

from collections.abc import Callable, Sequence
from math import floor

from workshop.core.cloth.fibre import YarnView
from workshop.core.cloth.gauge import Gauge, really_differ
from workshop.core.cloth.known import ACCURACY_CM, KnownSwatch, proposed_cm
from workshop.core.cloth.wash import WAYS, Change, gauge_key
from workshop.core.making.bands import BUTTONHOLE_STITCHES
from workshop.core.plan import Plan
from workshop.core.remarks import Remark, needle
from workshop.core.wearer.body import MEASURES
from workshop.core.working import Working
from workshop.project import Project, State, Units
from workshop.tables.practice import definition, ease_band, rule, window_cm
from workshop.tables.yarn_weights import INCH_CM
from workshop.units import (
    difference_shown,
    plain_number,
    show_gauge,
    show_length,
    show_needle,
    show_range,
    show_small,
    show_yarn_length,
)
from workshop.words.phrase import Line, check_line, counted, in_terms, say, worded


def answers(step: str, plan: Plan) -> tuple[Line, ...]:
    """The answers of a step, its checks first."""
    checks = [check_line(c, plan.project) for c in plan.checks if c.step == step and c.level != "note"]
    notes = [check_line(c, plan.project) for c in plan.checks if c.step == step and c.level == "note"]
    body = ANSWERS[step](plan) if step in ANSWERS else []
    lines = [*checks, *body, *notes]
    return tuple(lines)


def _text(kind: str, text: str, project: Project, working: str = "") -> Line:
    return Line(kind, in_terms(text, project.terms), working)  # type: ignore[arg-type]


# ── fibre ────────────────────────────────────────────────────────────────────────────────────────────


def _fibre(plan: Plan) -> list[Line]:
    lines: list[Line] = []
    for view in plan.yarns:
        if view.start_mm is None and view.density is None and not view.remarks and len(plan.yarns) == 1:
            continue  # nothing is known of it yet
        lines.append(Line("heading", view.yarn.name or _called(view.yarn.id, plan.project)))
        if view.start_mm is not None:
            start = Remark(
                "Start from {start}; swatch on {sizes}.",
                {
                    "start": needle(view.start_mm),
                    "sizes": tuple(needle(m) for m in view.swatch_mm),
                },
            )
            lines.append(Line("figure", say(start, plan.project), f"yarns.{view.yarn.id}.sizes_moved"))
        if view.density is not None:
            lines.append(_density_line(view, plan.project))
        lines += [Line("text", say(r, plan.project)) for r in view.remarks if not r.text.startswith("Start from")]
    if not plan.yarns:
        lines.append(Line("text", "Add a yarn: what its band says is enough to begin."))
    elif len(plan.yarns) > 1:
        lines.append(Line("note", "Several candidates: swatch each, and note how each is to knit."))
    return lines


def _called(yarn_id: str, project: Project) -> str:
    """A yarn without a name: by its letter only where there are several."""
    return "The yarn" if len(project.yarn) == 1 else f"Yarn {yarn_id}, no name yet"


# ── swatch ───────────────────────────────────────────────────────────────────────────────────────────


def _density_line(view: YarnView, project: Project) -> Line:
    density = view.density
    assert density is not None
    length = show_yarn_length(density.m_per_100g, project.units)
    text = (
        f"{length} in 100 g: {density.tex:.0f} tex, Nm {plain_number(density.metric_count, 1)}, "
        f"{density.yards_per_pound:.0f} yd per lb."
    )
    return Line("figure", text, f"yarns.{view.yarn.id}.tex")


def _swatch(plan: Plan) -> list[Line]:
    lines: list[Line] = []
    for known in plan.swatches:
        lines += _swatch_lines(known, plan)
    if plan.swatches:
        lines.append(Line("heading", "All swatches"))
    sizes = {s.needle_mm for s in plan.project.swatch if s.needle_mm}
    if 0 < len(sizes) < 3:
        lines.append(
            Line("note", f"{counted(len(sizes), 'needle size')} so far: three or more show you which cloth you like.")
        )
    if plan.swatches:
        lines += [_text("text", t, plan.project) for t in HOW_TO_SWATCH]
    else:
        ready = any(view.swatch_mm for view in plan.yarns)
        how = (
            "Plan three at once with the button."
            if ready
            else "The sizes follow from the yarn: the step Fibre is open."
        )
        lines.append(Line("text", f"No swatch yet. {how}"))
    return lines


HOW_TO_SWATCH = (
    "In one strip: knit the swatches one above the other, with two purl rows between; apart: easier to wash and hang.",
    "Mark each in its first plain row: as many purl bumps as its mark says. A paper label washes off.",
    "Stretchy bind-off: k2, put both back on the left needle, k2 together through the back loops; then k1 and "
    "again the two together. The ordinary chained bind-off pulls the end in.",
    "Use the very needles of the project, work as the garment will be worked, and rest your hands between swatches.",
)


def _swatch_lines(known: KnownSwatch, plan: Plan) -> list[Line]:
    item, project = known.plan, plan.project
    size = show_needle(item.swatch.needle_mm, project.needle_names) if item.swatch.needle_mm else "needle not chosen"
    material = f", {item.swatch.needle_material}" if item.swatch.needle_material else ""
    lines = [Line("heading", f"Swatch {item.swatch.id}: {size}{material}")]
    if item.cast_on is None or item.rows is None:
        return [*lines, Line("text", "Choose a yarn with a weight, then the cast-on follows.")]
    lines.append(Line("figure", f"Cast on {item.cast_on.count} stitches.", item.cast_on.key))
    lines.append(
        _text(
            "figure",
            f"Knit {item.border_rows} rows garter, {item.rows.count} rows in pattern, {item.border_rows} rows garter.",
            project,
            item.rows.key,
        )
    )
    marks = counted(item.mark, "purl bump")
    lines.append(Line("text", f"Mark: {marks}."))
    if item.swatch.edge_stitches == 0:
        lines.append(
            _text("note", "No garter edge stitches: stockinette will curl. Three at each edge keep it flat.", project)
        )
    if item.metres is not None:
        grams = f", {plain_number(item.grams.value, 0)} g" if item.grams else ""
        text = f"Takes about {show_yarn_length(item.metres.value, project.units)}{grams} of yarn."
        lines.append(Line("text", text, item.metres.key))
    if known.place is not None:
        lines.append(_place_line(known, known.place, plan.project))
    return lines


def _place_line(known: KnownSwatch, place: Working, project: Project) -> Line:
    """How wide each counted place must be for a chest that is right within an inch."""
    chest = next(f.value for f in place.figures if f.name == "finished width")
    wide = proposed_cm(max(place.value, window_cm(project.units)), project.units)
    text = (
        f"Counted to a quarter stitch in three places, {show_length(wide, project.units)} each, it tells a chest of "
        f"{show_length(chest, project.units)} within about {show_length(ACCURACY_CM, project.units)}."
    )
    return Line("text", text, place.key)


# ── gauge and wash ───────────────────────────────────────────────────────────────────────────────────


def gauge_line(swatch_id: str, gauge: Gauge, project: Project) -> Line:
    """A gauge with its range."""
    places = counted(len(gauge.readings), "place")
    text = (
        f"{show_gauge(gauge.per_10cm, project.units, gauge.along)}, give or take "
        f"{plain_number(gauge.u95_percent, 1)} % ({places})"
    )
    return Line("figure", text, gauge_key(swatch_id, gauge))


def _gauge(plan: Plan) -> list[Line]:
    lines = _counted("off needles", plan)
    if not lines:
        return [Line("text", "Count at least one swatch: stitches and rows, in three places each.")]
    return lines + _side_by_side("off needles", plan) + _comparison("off needles", plan)


def _counted(state: State, plan: Plan) -> list[Line]:
    lines: list[Line] = []
    for known in plan.swatches:
        found = [known.gauges[state, along] for along in ("stitches", "rows") if (state, along) in known.gauges]
        if not found:
            continue
        swatch = known.plan.swatch
        lines.append(Line("heading", f"Swatch {swatch.id}, {state}{_liked(known)}"))
        lines += [gauge_line(swatch.id, g, plan.project) for g in found]
        stitches = known.gauges.get((state, "stitches"))
        if stitches is not None:
            lines += _meaning(known, state, stitches, plan.project)
        if state != "off needles":
            lines += _changes(known, state, plan)
    return lines


STRETCH_CM: dict[Units, float] = {"cm": 10.0, "in": 20 * INCH_CM}
"""A length by which to say what the tape shows; in inches long enough for eighths to tell."""


def _by_tape(length_cm: float, units: Units) -> str:
    """A length as it is read on a tape: in eighths of an inch, or in cm to the tenth of a millimetre."""
    return show_length(length_cm, units) if units == "in" else show_small(length_cm, units)


def _changes(known: KnownSwatch, state: State, plan: Plan) -> list[Line]:
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


def _meaning(known: KnownSwatch, state: State, stitches: Gauge, project: Project) -> list[Line]:
    """What a stitch gauge means: for the chest, and for the cloth."""
    lines = []
    doubt = known.on_chest[state]
    chest = next(f.value for f in doubt.figures if f.name == "chest")
    units = project.units
    text = f"On a chest of {show_length(chest, units)} that is {show_length(doubt.value, units)} more or less."
    lines.append(Line("text", text, doubt.key))
    if state in known.tightness:
        tight = known.tightness[state]
        text = f"Tightness {tight.value:.2f}: {known.tightness_words(state)}."
        lines.append(Line("text", text, tight.key))
    if len(stitches.readings) < 3:
        lines.append(Line("note", "A third place makes the range much surer."))
    return lines


def _liked(known: KnownSwatch) -> str:
    swatch = known.plan.swatch
    said = [f"cloth {swatch.fabric} of 5"] if swatch.fabric else []
    said += [f"knitting {swatch.comfort} of 5"] if swatch.comfort else []
    return f" ({', '.join(said)})" if said else ""


def _has_liking(known: KnownSwatch) -> bool:
    return bool(known.swatch.fabric or known.swatch.comfort or known.swatch.notes)


def _side_by_side(state: State, plan: Plan) -> list[Line]:
    """The swatches in the order in which their cloth is liked: cloth first, numbers second."""
    rated = [k for k in plan.swatches if _has_liking(k)]
    waiting = [k for k in plan.swatches if k not in rated and k.gauges]
    if not rated or len(rated) + len(waiting) < 2:
        return []
    rated.sort(key=lambda k: (-(k.swatch.fabric or 0), -(k.swatch.comfort or 0)))
    lines = [Line("heading", "Side by side: cloth first, numbers second")]
    for known in (*rated, *waiting):
        swatch, gauge = known.swatch, known.gauges.get((state, "stitches"))
        said = [show_needle(swatch.needle_mm, plan.project.needle_names)] if swatch.needle_mm else []
        yarn = plan.project.yarn_of(swatch)
        said += [yarn.name or f"yarn {yarn.id}"] if yarn and len(plan.project.yarn) > 1 else []
        said += [f"cloth {swatch.fabric} of 5"] if swatch.fabric else []
        said += [f"knitting {swatch.comfort} of 5"] if swatch.comfort else []
        said += [show_gauge(gauge.per_10cm, plan.project.units, "stitches")] if gauge else []
        said += [] if _has_liking(known) else ["how you like it is not said yet"]
        noted = f"; “{swatch.notes}”" if swatch.notes else ""
        lines.append(Line("text", f"{swatch.id}: {', '.join(said)}{noted}"))
    return lines


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
                "really differ in stitches."
                if differs
                else "show no measurable difference in stitches: choose by the cloth."
            )
            lines.append(Line("text", text))
    return lines


def _wash(plan: Plan) -> list[Line]:
    lines = _counted("washed", plan) + _counted("hung", plan)
    if not lines:
        lines = [Line("text", _what_to_wash(plan))]
    lines += _side_by_side("washed", plan)
    for known in plan.swatches:
        if known.hang_weight is not None:
            grams = f"{known.hang_weight.value:.0f} g"
            text = f"To hang swatch {known.swatch.id} as the garment will hang, clip {grams} along its lower edge."
            if plan.project.design.state != "hung" and ("hung", "rows") not in known.gauges:
                text += " Choose 'hung' below where its counts are to be entered."
            lines.append(Line("figure", text, known.hang_weight.key))
    gauge = plan.gauge
    if gauge is None:
        return lines
    lines.append(Line("heading", f"Planned from swatch {gauge.swatch.id}, {gauge.state}"))
    whence = "All stitches and rows are counted from this gauge."
    if gauge.stitches.state != gauge.rows.state:
        whence = "Rows are counted from the hung cloth, stitches from the washed one lying flat: it hung no narrower."
    lines.append(_text("text", whence, plan.project))
    units = plan.project.units
    window = STRETCH_CM[units]
    flat = gauge.flat_cm(window)
    if flat is not None:
        text = f"It hangs: {_by_tape(window, units)} as worn lie {_by_tape(flat, units)} flat after washing."
        lines.append(Line("figure", text))
    on_needles = gauge.as_knit_cm(window)
    if on_needles is not None and gauge.length is not None:
        if gauge.length.real:
            shown = _by_tape(on_needles, units)
            text = f"On the needles the tape shows {shown} for every {_by_tape(window, units)} finished."
        else:
            text = "On the needles the tape shows about what it will after washing; go by rows where you can."
        lines.append(Line("figure", text, "wash.as_knit"))
    if gauge.edging is not None:
        rows = show_gauge(gauge.edging.rows.per_10cm, units, "rows")
        text = f"The edging's rows are counted from swatch {gauge.edging.swatch.id}: {rows}."
        lines.append(Line("figure", text, gauge_key(gauge.edging.swatch.id, gauge.edging.rows)))
    return lines


def _what_to_wash(plan: Plan) -> str:
    """What to do before anything is counted washed, and which swatch is asked for first."""
    text = "Wash and dry the swatches as the garment will be, let them rest a day, then count again."
    liked = plan.liked_best
    if liked is not None and len(plan.swatches) > 1:
        why = ", whose cloth you like best," if liked.swatch.fabric else ""
        text += f" One is enough to plan from: swatch {liked.swatch.id}{why} is asked for first."
    return text


def _change_line(name: str, change: Change, key: str) -> Line:
    if not change.real:
        off = plain_number(change.u95_percent, 1)
        text = f"No measurable change in {name} ({change.percent:+.1f} %, and the counts can be {off} % off)."
    else:
        grew = "grew" if change.percent > 0 else "shrank"
        text = (
            f"In {name} it {grew} by {abs(change.percent):.1f} %, give or take {plain_number(change.u95_percent, 1)} %."
        )
    return Line("figure", text, f"{key}.{name}_change_percent")


# ── measure and shape ────────────────────────────────────────────────────────────────────────────────

FINISHED_NAMES = {
    "chest": "Chest",
    "waist": "Waist",
    "hip": "Hem",
    "length": "Length",
    "cross_back": "Between the armholes",
    "armhole_depth": "Armhole depth",
    "yoke_depth": "Yoke depth",
    "cap_height": "Sleeve cap height",
    "upper_arm": "Sleeve top",
    "sleeve": "Sleeve length",
    "wrist": "Wrist",
    "sleeve_edge": "Sleeve edge",
    "neck_width": "Neck width",
    "neck": "Round the neck",
    "front_neck_depth": "Front neck depth",
    "back_neck_drop": "Back neck drop",
    "shoulder": "Shoulder",
}


def _measure(plan: Plan) -> list[Line]:
    project, units = plan.project, plan.project.units
    lines: list[Line] = []
    for part in ("chest", "upper_arm", "wrist", "armhole_depth"):
        size = plan.wanted.get(part)
        if size is None:
            continue
        ease = plan.wanted.ease.get(part)
        body = plan.wearer.cm(part)
        text = f"{part.replace('_', ' ').capitalize()} {show_length(size, units)}"
        if ease is not None and body is not None:
            ease = difference_shown(size, body, units)
            sign = "+" if ease >= 0 else "−"
            text += f" = body {show_length(body, units)} {sign} {show_length(abs(ease), units)}"
        lines.append(Line("figure", text, f"target.{part}"))
    if lines:
        lines.insert(0, Line("heading", "Finished, before rounding to stitches"))
    if project.fit.ease is not None and "chest" in plan.wanted.ease:
        lines.append(_band_line(plan))
    filled = [plan.wearer.measures[m] for m in MEASURES if m in plan.wearer.measures]
    others = [m for m in filled if m.origin != "own"]
    if others:
        lines.append(Line("heading", "Filled in for you: measure these if you can"))
        for m in others:
            where = "from the table" if m.origin == "table" else "estimated from the chest"
            known = " (table cell from memory)" if m.how == "memory" else ""
            lines.append(
                Line("text", f"{definition(m.id).name.capitalize()}: {show_length(m.value_cm, units)}, {where}{known}")
            )
    if not lines:
        begin = "Give" if project.body.source else "Say where the measurements come from, then give"
        lines.append(Line("text", f"{begin} them one by one: the numbers follow as you type."))
    return lines


def _band_line(plan: Plan) -> Line:
    assert plan.project.fit.ease is not None
    units = plan.project.units
    low, high = ease_band(plan.project.fit.ease, units=units)
    if low is None:
        band = "the chest or less"
    elif high is None:
        band = f"{low:g} {units} and more over the chest"
    else:
        band = f"{low:g} {units} to {high:g} {units} over the chest"
    name = plan.project.fit.ease.replace("-", " ")
    return Line("text", f"The published table calls '{name}' {band} (older edition).")


SEEN_CM: dict[Units, float] = {"cm": 0.1, "in": INCH_CM / 16}
"""A cost of rounding that is worth a line: what a tape shows."""


def _shape(plan: Plan) -> list[Line]:
    project = plan.project
    if plan.made is None or not plan.made.pieces:
        return [Line("text", _why_no_pieces(plan))]
    lines = [Line("heading", "Finished (and likely, 95 in 100)")]
    for part, size in plan.made.finished_cm.items():
        reach = plan.ranges[part]
        likely = show_range(reach.low, reach.high, project.units, unit=False)
        text = f"{FINISHED_NAMES[part]} {show_length(size, project.units)} ({likely})"
        lines.append(Line("figure", text, f"range.{part}"))
    lines += [Line("text", text, "range.chest") for text in budget_lines(plan)]
    to_buy = [line for line in yarn_lines(plan) if line.kind in ("figure", "note")]
    lines += [Line("heading", "Yarn to buy"), *to_buy] if to_buy else []
    lines.append(Line("heading", "Pieces"))
    for piece in plan.made.pieces:
        if piece.came_from and "shoulder" in piece.name:
            continue
        begin = (
            f"cast on {piece.cast_on}"
            if piece.cast_on and not piece.came_from
            else f"{piece.cast_on or piece.widest} stitches"
        )
        rows = counted(len(piece.rows), "round" if piece.worked == "round" else "row")
        lines.append(_text("figure", f"{piece.name.capitalize()}: {begin}, {rows}", project))
    lines.append(Line("heading", "What rounding to whole stitches cost"))
    for working in plan.workings:
        if (
            working.difference_cm is not None
            and abs(working.difference_cm) >= SEEN_CM[project.units]
            and not working.key.startswith("swatches")
        ):
            more = "larger" if working.difference_cm > 0 else "smaller"
            lines.append(
                _text(
                    "text",
                    f"{working.label}: {working.count}, {_by_tape(abs(working.difference_cm), project.units)} {more}",
                    project,
                    working.key,
                )
            )
    return lines


def _why_no_pieces(plan: Plan) -> str:
    if plan.gauge is None:
        return "Counts need a washed gauge: wash a swatch, count it, and choose it in the step Wash."
    if "chest" not in plan.wanted.finished:
        return "Counts need the finished measurements: the step Measure has questions open."
    return "Answer the questions of this step; the pieces follow as you go."


# ── summary ──────────────────────────────────────────────────────────────────────────────────────────


def budget_lines(plan: Plan) -> tuple[str, ...]:
    """How sure the chest is, in plain words, and what would make it surer."""
    chest, ease, body = plan.ranges.get("chest"), plan.ease.get("chest"), plan.wearer.cm("chest")
    if chest is None:
        return ()
    units = plan.project.units
    lines = [f"The chest is likely {show_range(chest.low, chest.high, units)}."]
    if ease is not None and body is not None:
        lines[0] += (
            f" On a chest of {show_length(body, units)} the ease is then {show_range(ease.low, ease.high, units)}, "
            "the doubt of the tape round the body included."
        )
    parts = {
        "how the places of the swatch differed": chest.spread,
        "how finely they were read": chest.reading,
        "hands that change over the weeks": chest.drift,
    }
    told = ", ".join(f"{show_length(size, units)} from {name}" for name, size in parts.items())
    lines.append(f"The doubt, either way: {told}; joined as the sides of a right angle are.")
    worst = max(parts, key=lambda name: parts[name])
    lines.append(CHEAPEST[worst])
    return tuple(worded(line, plan.project) for line in lines)


CHEAPEST = {
    "how the places of the swatch differed": "Cheapest to make it surer: count more places, or a wider swatch.",
    "how finely they were read": "Cheapest to make it surer: pin whole stitches, read the distance, keep quarters.",
    "hands that change over the weeks": "Cheapest to make it surer: after the first {10 cm} of body, count again. "
    "It is the widest swatch that you will ever knit; compare it with the unwashed gauge.",
}


BASIS = {
    "weighed swatch": "from the weighed swatch",
    "stitch geometry": "from the size of a stitch, as the chosen swatch was not weighed and counted",
}


def seams_percent() -> float:
    """What is added to the garment's yarn for seams and ends, in per cent."""
    return 100 * float(rule("seams_and_ends")["fraction"])


def yarn_lines(plan: Plan) -> list[Line]:
    """Yarn to buy, with its range, and where it goes."""
    need = plan.yarn
    if need is None:
        return []
    units = plan.project.units
    lines = []
    if need.grams is not None:
        low, likely, high = need.grams
        text = f"About {likely:.0f} g, between {low:.0f} and {high:.0f} g ({BASIS[need.basis]})."
        lines.append(Line("figure", text, "yarn.likely"))
    if need.metres is not None:
        low, likely, high = need.metres
        text = (
            f"About {show_yarn_length(likely, units)}, between {show_yarn_length(low, units)} and "
            f"{show_yarn_length(high, units)}. The length holds for any fibre, the grams for this one."
        )
        lines.append(Line("figure", text, "yarn.likely"))
    if need.swatch_metres is not None:
        lines.append(Line("text", f"Of it about {show_yarn_length(need.swatch_metres, units)} for the swatches."))
    lines.append(Line("text", f"Seams, joins and ends are in it, with {seams_percent():.0f} % of the garment."))
    if need.balls is not None:
        likely_to_do = f"; {need.balls_likely} would be likely to do" if need.balls_likely != need.balls else ""
        have = plan.project.design_yarn.balls if plan.project.design_yarn else None
        if have is None:
            text = f"Buy {counted(need.balls, 'ball')} of one dye lot{likely_to_do}. Keep the receipt."
        elif have >= need.balls:
            text = f"It takes {counted(need.balls, 'ball')}{likely_to_do}: the {have} that you have are enough."
        else:
            text = (
                f"It takes {counted(need.balls, 'ball')}{likely_to_do}. You have {have}: buy {need.balls - have} more, "
                "of the same dye lot."
            )
        lines.append(Line("figure", text, "yarn.balls"))
    else:
        lines.append(Line("note", "The weight and the length of a ball would turn this into balls to buy."))
    buttons = sum(p.key_counts.get("buttonholes", 0) for p in plan.made.pieces) if plan.made else 0
    if buttons:
        text = f"Besides yarn: {counted(buttons, 'button')} for the front band."
        if plan.gauge is not None:
            hole = _by_tape(plan.gauge.cloth.across_cm(BUTTONHOLE_STITCHES), units)
            text += f" A buttonhole of {BUTTONHOLE_STITCHES} stitches is {hole} wide and gives: try buttons in it."
        lines.append(Line("figure", text))
    shares = ", ".join(f"{name} {share} %" for name, share in _shares(need.per_piece))
    lines.append(Line("text", f"Where it goes: {shares}."))
    return lines


def _shares(per_piece: tuple[tuple[str, float], ...]) -> list[tuple[str, int]]:
    """Shares of the pieces in whole per cent, 100 in all; parts with what they grew out of, sleeves together."""
    summed: dict[str, float] = {}
    for name, share in per_piece:
        whole = "sleeves" if name.endswith("sleeve") else name.split(",")[0]
        summed[whole] = summed.get(whole, 0.0) + share
    return list(zip(summed, whole_percents(tuple(summed.values())), strict=True))


def whole_percents(shares: Sequence[float]) -> tuple[int, ...]:
    """Shares of a whole in whole per cent that add up to 100: those that lose most by rounding down get one more."""
    total = sum(shares)
    exact = [100 * share / total for share in shares]
    found = [floor(share) for share in exact]
    most_lost = sorted(range(len(exact)), key=lambda i: found[i] - exact[i])
    for i in most_lost[: 100 - sum(found)]:
        found[i] += 1
    return tuple(found)


ANSWERS: dict[str, Callable[[Plan], list[Line]]] = {
    "fibre": _fibre,
    "swatch": _swatch,
    "gauge": _gauge,
    "wash": _wash,
    "measure": _measure,
    "shape": _shape,
}
