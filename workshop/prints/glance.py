"""What a step shows before it tells: a picture, the one figure that matters, and at most three lines."""

from collections.abc import Callable
from dataclasses import replace

from workshop.core.cloth.fibre import YarnView
from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.edgings import edging
from workshop.core.plan import Plan
from workshop.pictures.bars import Bar, bars_picture, scale_picture
from workshop.pictures.canvas import Picture, Span, beside, centred, large, width_of
from workshop.pictures.fabric import Sample, swatch_picture, wash_picture
from workshop.pictures.stitches import counting_picture
from workshop.pictures.tape import TAPES, figure_picture
from workshop.pictures.worn import Worn, worn, worn_picture
from workshop.prints.drawings import cloth_of
from workshop.project import STATES, Along, Project, State
from workshop.records import record
from workshop.tables.trade_rules import window_cm
from workshop.units import difference_shown, plain_number, show_gauge, show_length, show_needle, show_range
from workshop.words.answers.of_cloth import wash_verdict
from workshop.words.lines import wrapped
from workshop.words.phrase import capitalised, counted, in_terms, in_terms_of, joined, say_check

Draw = Callable[[int, int], Picture]


@record
class Glance:
    """A picture for so many columns and rows; the figure with its unit, what it is, and lines about it."""

    draw: Draw | None = None
    figure: str = ""
    about: str = ""
    lines: tuple[str, ...] = ()
    small: bool = False
    """Whether the picture is what is looked at, and the figure stands among the lines."""

    def __bool__(self) -> bool:
        return self != NOTHING


NOTHING = Glance()

MOST_ROWS = 17
"""Rows of a picture where there is room for more."""

AIRY = 16
"""Rows of a panel from which a blank line stands above the picture."""

BESIDE_FROM, LOW = 44, 10
"""Columns from which figure and lines stand beside the picture, in a panel of no more rows than these."""


def laid_out(glance: Glance, columns: int, rows: int) -> Picture:
    """Picture, figure and lines in a panel of a size: below one another, or side by side where it is low and broad."""
    if not glance:
        return ()
    if glance.draw is None:
        return _told(glance, columns)
    if columns >= BESIDE_FROM and rows <= LOW:
        left = glance.draw(columns // 2 - 1, rows)
        at = columns // 2 + 1
        return beside(centred(left, at - 2), _told(glance, columns - at), gap=2, at=at)
    told = _told(glance, columns)
    if len(told) > rows // 2:
        told = _told(replace(glance, small=True), columns)
    airy = rows >= AIRY
    picture = glance.draw(columns, max(5, min(MOST_ROWS, rows - len(told) - airy - (1 if told else 0))))
    return (*(((),) if airy else ()), *centred(picture, columns), *(((),) if told else ()), *told)


def _told(glance: Glance, columns: int) -> Picture:
    """The figure in large digits with what it is beside or below it, then the lines."""
    found: list[tuple[Span, ...]] = []
    if glance.figure and glance.small:
        first, *others = wrapped(f"{glance.figure} {glance.about}", columns)
        size = len(glance.figure)
        found += [((first[:size], "strong"), (first[size:], "quiet")), *(((line, "quiet"),) for line in others)]
    elif glance.figure:
        digits = large(glance.figure)
        if width_of(digits) > columns:
            digits = (((glance.figure, "strong"),),)
        room = columns - width_of(digits) - 2
        told = wrapped(glance.about, max(room, 12))
        if room >= 16 and len(told) <= len(digits):
            told = [""] * (len(digits) - len(told)) + told
            found += beside(digits, tuple(((line, "quiet"),) if line else () for line in told))
        else:
            found += [*digits, *(((line, "quiet"),) for line in wrapped(glance.about, columns))]
    for i, text in enumerate(glance.lines[:3]):
        ink = "strong" if glance.small and i == 0 else ""
        found += [((line, ink),) for line in wrapped(text, columns)]
    return tuple(found)


def glance(name: str, plan: Plan, *, at: str = "", drawn: Plan | None = None, called: str = "") -> Glance:
    """What a step shows at one of its questions.

    ``drawn`` is the plan to draw where the project's own cannot be or another answer is looked at, ``called`` what
    that answer is called.
    """
    if name in ("shape", "summary"):
        return _garment(plan, drawn or plan, called)
    found = OF_STEPS[name](plan, at, drawn)
    return replace(found, lines=tuple(in_terms_of(line, plan.project) for line in found.lines))


# ── shape and summary ────────────────────────────────────────────────────────────────────────────────


def worn_of(plan: Plan) -> Worn | None:
    """The garment of a plan as it lies before one."""
    if plan.gauge is None or not plan.made.pieces:
        return None
    band = plan.project.garment.band_cm or float(str(plan.offers.get("garment.band_cm", 2.5)))
    width = plan.finished_cm.get("neck_width", 0.0)
    return worn(plan.made.pieces, plan.gauge.cloth, neck_width_cm=width, band_cm=band)


def _garment(plan: Plan, drawn: Plan, called: str) -> Glance:
    garment = worn_of(drawn)
    if garment is None:
        why = [say_check(c, plan.project) for c in drawn.checks if c.level == "stop" and c.step == "shape"]
        return Glance(lines=(capitalised(called), *why[:1])) if called and why else NOTHING
    ribbed = edging(drawn.project.garment.hem).rib
    units, lines = plan.project.units, []
    if called:
        lines.append(capitalised(called))
    made, figure, about = drawn.finished_cm, "", ""
    if plan.made.pieces and "chest" in drawn.ranges:
        reach = drawn.ranges["chest"]
        figure = show_length(made["chest"], units)
        about = f"finished chest, likely {show_range(reach.low, reach.high, units)}"
        sizes = [f"length {show_length(made['length'], units)}"] if "length" in made else []
        sizes += [f"sleeve {show_length(made['sleeve'], units)}"] if "sleeve" in made else []
        lines.append(", ".join(sizes).capitalize())
    else:
        lines.append(_drawn_for(plan.project))
    return Glance(
        lambda columns, rows: worn_picture(garment, columns, rows, ribbed=ribbed),
        figure,
        about,
        tuple(lines),
        small=bool(called),
    )


def _drawn_for(project: Project) -> str:
    usual = not (project.body.chest_cm or project.body.size or project.reference_garment.chest_width_cm)
    whose = "a usual body until yours is known" if usual else "your measurements"
    return f"Drawn for {whose}, with usual answers where yours are open."


def summary_head(plan: Plan, columns: int) -> Picture:
    """The garment beside the figures that matter most: its chest, its length and sleeve, and the yarn for it."""
    found = _garment(plan, plan, "")
    if found.draw is None or not found.figure:
        return ()
    made, units, need = plan.finished_cm, plan.project.units, plan.yarn
    rows = [(what, show_length(made[part], units)) for part, what in KEY_FIGURES if part in made]
    chest = show_length(plan.made.finished_cm["chest"], units)
    if chest != found.figure:  # the knitting comes out otherwise
        rows.insert(0, ("chest planned", chest))
    first = plan.made.pieces[0]
    rows.append((f"{first.name}, cast on", f"{first.cast_on or first.widest} sts"))
    if need is not None and need.balls is not None:
        rows.append(("yarn", counted(need.balls, "ball")))
    elif need is not None and need.grams is not None:
        rows.append(("yarn", f"about {need.grams[1]:.0f} g"))
    name = max(len(what) for what, _ in rows) + 2
    table = tuple(((what.ljust(name), "quiet"), (text, "")) for what, text in rows)
    high = len(table) + 5
    wide = min(46, columns // 2 - 1)
    told = (*large(found.figure), ((found.about, "quiet"),), (), *table)
    narrow = wide + 3 + width_of(told) > columns
    if narrow:
        told = (
            *large(found.figure),
            *(((line, "quiet"),) for line in wrapped("finished chest", columns // 2)),
            (),
            *table,
        )
    return ((), *beside(found.draw(wide, max(9, min(MOST_ROWS, high + 1))), told, gap=4))


KEY_FIGURES = (("length", "length"), ("sleeve", "sleeve"), ("upper_arm", "upper arm"))
"""Finished measurements that stand beside the garment in the summary."""


# ── measure ──────────────────────────────────────────────────────────────────────────────────────────


def _measures(plan: Plan, at: str, drawn: Plan | None) -> Glance:
    units, table, name = plan.project.units, at.partition(".")[0], at.partition(".")[2].removesuffix("_cm")
    part = name if name in plan.targets.ease else "chest"
    chest, body = plan.targets.get("chest"), plan.wearer.cm("chest")
    figure, about = _eased(plan, part)
    if table == "fit" and chest is not None and body is not None:
        parts = [("body", body, "body"), (in_terms("sweater", plan.project.terms), chest, "cloth")]
        shown = [show_length(body, units), show_length(chest, units)]
        return Glance(
            lambda columns, _rows: scale_picture(parts, columns, shown), figure, about, ("Around the chest, to scale.",)
        )
    if table == "reference_garment" and drawn is not None:
        garment = worn_of(drawn)
        if garment is not None:
            return Glance(
                lambda columns, rows: worn_picture(garment, columns, rows),
                figure,
                about,
                ("Lay the garment flat, buttoned, not stretched.",),
            )
    measure = name if name in TAPES else ""
    where = f"The tape is drawn on the {TAPES[measure][0]}." if measure else ""
    return Glance(
        lambda columns, rows: figure_picture(measure, columns, rows), figure, about, (where,) if where else ()
    )


def _eased(plan: Plan, part: str) -> tuple[str, str]:
    """A finished measurement, and that it is the body's and its ease; nothing where it is not known yet."""
    size, body, units = plan.targets.get(part), plan.wearer.cm(part), plan.project.units
    if size is None:
        return "", ""
    about = f"finished {part.replace('_', ' ')}"
    if body is not None:
        ease = difference_shown(size, body, units)
        sign = "+" if ease >= 0 else "−"
        about += f": body {show_length(body, units)} {sign} {show_length(abs(ease), units)} ease"
    return show_length(size, units), about


# ── swatch, gauge, wash ──────────────────────────────────────────────────────────────────────────────


def _swatch_at(plan: Plan, at: str) -> MeasuredSwatch | None:
    """The swatch that a question is about; else the one that is planned from, else the first."""
    table, _, rest = at.partition(".")
    liked = plan.liked_best.swatch.id if plan.liked_best else None
    name = rest.partition(".")[0] if table in ("swatch", "reading") else plan.project.design.swatch or liked
    return plan.swatch(name) or next(iter(plan.swatches), None)


ANY = Sample(14, 14, 32, 40, 3, 6, 1, on_needle=True)


def _any_swatch(columns: int, rows: int) -> Picture:
    """A swatch on its needle, while none is planned yet."""
    return swatch_picture(ANY, columns, min(rows, 11))


def _to_knit(plan: Plan, at: str, _drawn: Plan | None) -> Glance:
    known = _swatch_at(plan, at)
    if known is None:
        return NOTHING
    planned, swatch, project = known.plan, known.swatch, plan.project
    size = f", {show_needle(swatch.needle_mm, project.needle_names)}" if swatch.needle_mm else ""
    if planned.cast_on is None or not planned.total_rows:
        return NOTHING
    stitches, rows = swatch.cast_on or planned.cast_on.count, swatch.rows or planned.total_rows
    gauge = known.gauge
    wide = planned.width_cm if gauge is None else stitches / gauge.per_10cm * 10
    sample = Sample(
        wide, wide * rows / stitches * 0.76, stitches, rows, planned.border_stitches, planned.border_rows, planned.mark,
        on_needle=not known.swatch.reading,
    )  # fmt: skip
    plain = max(0, rows - 2 * planned.border_rows)
    mark = f"Mark the swatch with {counted(planned.mark, 'purl bump')} above the garter edge."
    lines = (
        f"{planned.border_rows} rows garter, {plain} rows plain, {planned.border_rows} rows garter.",
        mark if planned.mark else "",
    )
    about = f"stitches on the needle for swatch {swatch.id}{size}"
    return Glance(
        lambda columns, high: swatch_picture(sample, columns, high), str(stitches), about, tuple(filter(None, lines))
    )


def _reading_at(at: str) -> tuple[State | None, Along, int]:
    """State, direction and place of a reading by its key; stitches in the first place where it is none."""
    parts = at.split(".")
    if parts[0] != "reading" or len(parts) < 5:
        return None, "stitches", 1
    state = next(s for s in STATES if s == parts[2])
    return state, "rows" if parts[3] == "rows" else "stitches", int(parts[4])


def _to_count(plan: Plan, at: str, _drawn: Plan | None) -> Glance:
    known = _swatch_at(plan, at)
    if known is None:
        return NOTHING
    state, along, place = _reading_at(at)
    return _counting(plan, known, state or "off needles", along, place)


def _counting(plan: Plan, known: MeasuredSwatch, state: State, along: Along, place: int) -> Glance:
    """How to count, and what the counts come to."""
    units, gauge = plan.project.units, known.gauges.get((state, along))
    figure = about = ""
    if gauge is not None:
        figure, _, rest = show_gauge(gauge.per_10cm, units, along).partition(" ")
        about = f"{rest}, give or take {plain_number(gauge.u95_percent, 1)}%"
    how = {
        "stitches": "One V is one stitch. A single leg is half a stitch.",
        "rows": "Each V in a column is one row.",
    }[along]
    here = known.swatch.places(state, along).get(place)
    over = f": {plain_number(here.count, 2)} over {show_length(here.over_cm, units)}" if here else ""
    lines = (how, f"Swatch {known.swatch.id}, place {place}{over}")
    return Glance(lambda columns, rows: counting_picture(along, place, columns, rows), figure, about, lines)


def _washed(plan: Plan, at: str, _drawn: Plan | None) -> Glance:
    known = _swatch_at(plan, at)
    if known is None:
        return NOTHING
    state, along, place = _reading_at(at)
    hung = state == "hung" or (state is None and plan.project.design.state == "hung")
    cloth = cloth_of(known, window_cm(plan.project.units), hung=hung) or cloth_of(known, window_cm(plan.project.units))
    if cloth is None:
        counting, liked = _counting(plan, known, state or "washed", along, place), plan.liked_best
        if liked is not known or len(plan.swatches) < 2 or not known.swatch.fabric_rating:
            return counting
        why = f"You like the fabric of swatch {known.swatch.id} best, so start with swatch {known.swatch.id}."
        return replace(counting, lines=(*counting.lines, why))
    hung = hung and ("hung", "rows") in known.gauges
    after: State = "hung" if hung else "washed"
    change = known.change(after, "rows") or known.change(after, "stitches")
    figure, about = "", ""
    if change is not None:
        figure = f"{change.percent:+.1f}%".replace("-", "−")
        way = "longer" if change.percent > 0 else "shorter"
        about = f"{way} {'hung' if hung else 'after the wash'}, swatch {known.swatch.id}"
    if change is not None and not change.real:
        figure = about = ""
    lines = filter(None, (wash_verdict(known, after), "Drawn to scale. The line shows the size before."))
    return Glance(
        lambda columns, rows: wash_picture(cloth, columns, rows, "before", after), figure, about, tuple(lines)
    )


# ── fibre ────────────────────────────────────────────────────────────────────────────────────────────

SPRING = {"good": (0.9, "well"), "fair": (0.55, "fairly"), "poor": (0.2, "little")}
DRAPE = {"little": (0.25, "little"), "some": (0.55, "some"), "much": (0.9, "softly")}
IN_THE_WASH = (
    ("grows", 0.9, "grows"),
    ("droops", 0.7, "gets longer"),
    ("shrinks_lengthwise", 0.6, "gets shorter"),
    ("felts", 0.45, "felts if hot"),
)
"""What may happen to a yarn in the wash, the most first: the flag of the table, how much of a bar, and a word."""


def _yarn(plan: Plan, at: str, _drawn: Plan | None) -> Glance:
    table, _, rest = at.partition(".")
    asked = rest.partition(".")[0] if table == "yarn" else None
    view = next((v for v in plan.yarns if v.yarn.id == asked), None) or next(iter(plan.yarns), None)
    if view is None or (not view.shares and view.start_mm is None):
        return Glance(_any_swatch, lines=("A plan begins with a yarn, a needle and a swatch.",))
    bars, names = _bars(view), plan.project.needle_names
    figure = about = ""
    if view.start_mm is not None:
        figure = show_needle(view.start_mm, names)
        others = [show_needle(mm, names) for mm in view.swatch_mm if mm != view.start_mm]
        about = "needle to start from" + (f"; try {joined(others)} too" if others else "")
    title = (view.yarn.name or "The yarn",) if len(plan.yarns) > 1 else ()
    return Glance((lambda columns, rows: bars_picture(bars, columns, rows)) if bars else None, figure, about, title)


def _bars(view: YarnView) -> tuple[Bar, ...]:
    """How it springs back, how it falls, and what the wash may do, from the facts of its fibres by their shares."""
    total = view.percent_total
    if not view.shares or total <= 0:
        return ()

    def mixed(scale: dict[str, tuple[float, str]], of: str) -> Bar:
        much = sum(
            scale[getattr(s.fibre, "memory" if of == "springs back" else "drape")][0] * s.percent for s in view.shares
        )
        much /= total
        return Bar(of, much, min(scale.values(), key=lambda v: abs(v[0] - much))[1])

    wash = next((Bar("wash risk", much, word) for flag, much, word in IN_THE_WASH if view.has(flag)), None)
    return (mixed(SPRING, "springs back"), mixed(DRAPE, "drapes"), wash or Bar("wash risk", 0.15, "changes little"))


OF_STEPS: dict[str, Callable[[Plan, str, Plan | None], Glance]] = {
    "fibre": _yarn,
    "swatch": _to_knit,
    "gauge": _to_count,
    "wash": _washed,
    "measure": _measures,
}
