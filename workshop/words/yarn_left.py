"""Whether the yarn lasts, in words, and what can be done where it may not."""

from collections.abc import Iterator

from workshop.core.knitting.needles import Needles
from workshop.core.knitting.weighings import added_g, begins_anew, in_swatches_g, labels_g
from workshop.core.knitting.yarn_left import YarnLeft
from workshop.core.knitting.yarn_saved import Saving, savings
from workshop.core.plan import Plan
from workshop.project import Project
from workshop.units import lengths_in, show_length
from workshop.words.phrase import in_terms

VERDICTS = {
    "enough": "The yarn will last",
    "probably": "The yarn will probably last",
    "open": "The yarn may or may not last",
    "short": "You'll probably run short of yarn",
}


def yarn_lines(needles: Needles, plan: Plan) -> tuple[str, ...]:
    """Whether the yarn lasts, and what may be done where it may not."""
    left = needles.yarn
    if left is None:
        return ()
    low, likely, high = left.needed_g
    since = left.done != sum(p.stitches_knitted for p in needles.pieces)
    if needles.at_hand is None:
        ends = f"{left.left_g:.0f} g left. Seams and ends take about {likely:.0f} g ({low:.0f} to {high:.0f})."
        return () if since else (ends,)
    knitted = sum(p.stitches_knitted for p in needles.pieces) - left.done
    if left.left_g and knitted * left.used_g / left.done > left.left_g:  # of another ball
        told = f"You've knitted more since you weighed {left.left_g:.0f} g than those would do."
        return (f"{told} Weigh all the yarn that's left to hear if it lasts.",)
    when = " when you weighed it" if since else ""
    needed = f"about {likely:.0f} g needed ({low:.0f} to {high:.0f})"
    first = f"{VERDICTS[left.verdict]}: {left.left_g:.0f} g left{when}, {needed}."
    if needles.yarn_basis == "labels" and (start := labels_g(plan)):
        swatches = in_swatches_g(plan)
        less = f", less {swatches:.0f} g in the swatches" if swatches else ""
        first += f" This estimate goes by the ball bands: {start:.0f} g at the start{less}."
        first += " For a better one, weigh the piece."
    if left.by_swatch_g is not None:
        first += f" By your swatch it would be about {left.by_swatch_g:.0f} g. The two are far apart, so check what you"
        first += " weighed, and the row you're at."
    first += _of_new_balls(left, plan)
    if left.verdict in ("enough", "probably"):
        return (first,)
    _, short, most = left.short_g
    missing = f"You're about {short:.0f} g short, and at most {most:.0f} g." if short >= 1 else ""
    return tuple(filter(None, (first, missing, *_short_ways(needles, left, plan))))


def _of_new_balls(left: YarnLeft, plan: Plan) -> str:
    """What balls that were added mean for the weighing; empty without."""
    if added_g(plan):
        return " You've added balls since then. Weigh all the yarn again to count them too."
    if begins_anew(plan):
        return f" You've added balls. The next weighing will be compared with these {left.left_g:.0f} g."
    return ""


def _short_ways(needles: Needles, left: YarnLeft, plan: Plan) -> Iterator[str]:
    """What can be done where the yarn is short, each with the grams it saves."""
    project = plan.project
    for saving in savings(needles, left, plan):
        yield _saving(saving, project)
    another = "If you add another dye lot, alternate the balls every two rows for {6 cm}, so that no line shows."
    yield lengths_in(in_terms(another, project.terms), project.units)


def _saving(saving: Saving, project: Project) -> str:
    about, long = f"would save about {saving.grams:.0f} g", show_length(saving.cm, project.units)
    match saving.way:
        case "sleeves shorter" | "body shorter":
            what = "A body" if saving.way == "body shorter" else "Sleeves"
            told = f"{what} {long} shorter {'would save enough yarn' if saving.whole else about}."
        case "sleeves to the elbow":
            told = f"Sleeves to the elbow {about}{', which is enough' if saving.whole else ''}."
        case "sleeves first":
            told = "Knit the sleeves before the last piece of the body. Then only its length depends on the yarn left."
        case "edgings":
            told = f"{'Bands, hem and cuffs' if saving.whole else 'Hem and cuffs'} in another yarn {about}."
        case "bands":
            told = f"Bands in another yarn {about}."
    return in_terms(told, project.terms)
