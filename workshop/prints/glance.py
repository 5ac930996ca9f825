"""What is shown before it is told: a picture, the one figure that matters, and at most three lines; of the garment
what the summary begins with. Those of the other steps are in step_glances.py.
"""

from collections.abc import Callable
from dataclasses import replace

from workshop.core.edgings import edging
from workshop.core.plan import Plan
from workshop.pictures.canvas import Picture, Span, beside, centred, large, width_of
from workshop.pictures.worn import Worn, worn, worn_picture
from workshop.project import Project
from workshop.records import record
from workshop.units import show_length, show_range
from workshop.words.lines import wrapped
from workshop.words.phrase import capitalised, counted, say_check

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


# ── shape and summary ────────────────────────────────────────────────────────────────────────────────


def worn_of(plan: Plan) -> Worn | None:
    """The garment of a plan as it lies before one."""
    if plan.gauge is None or not plan.made.pieces:
        return None
    band = plan.project.garment.band_cm or float(str(plan.offers.get("garment.band_cm", 2.5)))
    width = plan.finished_cm.get("neck_width", 0.0)
    return worn(plan.made.pieces, plan.gauge.cloth, neck_width_cm=width, band_cm=band)


def garment_glance(plan: Plan, drawn: Plan, called: str) -> Glance:
    """The garment of ``drawn``, or why there is none; its size only where it is the project's own or what is marked."""
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
    found = garment_glance(plan, plan, "")
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
