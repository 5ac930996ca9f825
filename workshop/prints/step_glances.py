"""What each step shows before it tells (glance.py): of its yarn, swatch, counts, wash and measurements."""

from collections.abc import Callable
from dataclasses import replace

from workshop.core.cloth.fibre import YarnView
from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.plan import Plan
from workshop.pictures.bars import Bar, bars_picture, scale_picture
from workshop.pictures.canvas import Picture
from workshop.pictures.fabric import Sample, swatch_picture, wash_picture
from workshop.pictures.stitches import counting_picture
from workshop.pictures.tape import TAPES, figure_picture
from workshop.pictures.worn import worn_picture
from workshop.prints.drawings import cloth_of
from workshop.prints.glance import NOTHING, Glance, garment_glance, worn_of
from workshop.project import STATES, Along, State
from workshop.tables.trade_rules import window_cm
from workshop.units import difference_shown, plain_number, show_gauge, show_length, show_needle
from workshop.words.answers.of_cloth import wash_verdict
from workshop.words.phrase import counted, in_terms, in_terms_of, joined


def glance(name: str, plan: Plan, *, at: str = "", drawn: Plan | None = None, called: str = "") -> Glance:
    """What a step shows at one of its questions.

    ``drawn`` is the plan to draw where the project's own cannot be or another answer is looked at, ``called`` what
    that answer is called.
    """
    if name in ("shape", "summary"):
        return garment_glance(plan, drawn or plan, called)
    found = OF_STEPS[name](plan, at, drawn)
    return replace(found, lines=tuple(in_terms_of(line, plan.project) for line in found.lines))


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
