"""Yarn to buy, with its range, and where it goes."""

from collections.abc import Sequence
from math import floor

from workshop.core.cloth.yarn import ColourNeed, YarnNeed
from workshop.core.fabric.colours import palette
from workshop.core.making import roles
from workshop.core.making.buttonholes import BUTTON_STITCHES, BUTTONHOLE_STITCHES
from workshop.core.making.ledger import Piece
from workshop.core.plan import Plan
from workshop.project import Units
from workshop.tables.trade_rules import rule
from workshop.units import convert, show_length, show_yarn_length
from workshop.words.phrase import Line, counted, in_terms_of


def _basis(plan: Plan) -> str:
    """How the amount was found, and what was missing for the surer way."""
    assert plan.yarn is not None
    if plan.yarn.basis == "weighed swatch":
        return "from the weighed swatch"
    weighed = plan.gauge is not None and plan.gauge.swatch.grams
    unsaid = "the swatch's stitches and rows aren't entered in the Gauge step"
    why = unsaid if weighed else "the chosen swatch wasn't weighed"
    return f"from the size of a stitch, because {why}"


def seams_percent() -> float:
    """What is added to the garment's yarn for seams and ends, in per cent."""
    return 100 * rule("seams_and_ends")


def _weight(grams: tuple[float, float, float], units: Units) -> str:
    """What the yarn weighs, in ounces too where inches are used, and its range."""
    low, likely, high = grams
    ounces = f" ({convert(likely, 'g', 'oz'):.1f} oz)" if units == "in" else ""
    return f"About {likely:.0f} g{ounces}, likely {low:.0f} to {high:.0f} g"


def _enough(need: YarnNeed, units: Units) -> str:
    """How many balls the middle of the range takes, where fewer than are safe."""
    if need.balls_likely is None or need.balls_likely == need.balls:
        return ""
    amount = f"{need.grams[1]:.0f} g" if need.grams else show_yarn_length(need.metres[1], units) if need.metres else ""
    balls = counted(need.balls_likely, "ball")
    return f" With {balls}, you'd have enough for {amount}, but not for the whole likely range." if amount else ""


def yarn_lines(plan: Plan) -> list[Line]:
    """Yarn to buy, with its range, and where it goes."""
    need = plan.yarn
    if need is None:
        return []
    units = plan.project.units
    lines = []
    if need.grams is not None:
        lines.append(Line("figure", f"{_weight(need.grams, units)} ({_basis(plan)}).", "yarn.likely"))
    if need.metres is not None:
        low, likely, high = need.metres
        text = (
            f"About {show_yarn_length(likely, units)}, likely {show_yarn_length(low, units).partition(' ')[0]} to "
            f"{show_yarn_length(high, units)}. If you change yarn, go by length, not weight."
        )
        lines.append(Line("figure", text, "yarn.likely"))
    ends = f"{seams_percent():.0f}% for joins and ends"
    if need.swatch_metres is not None:
        first = need.per_colour[0].colour.upper() if need.per_colour else ""
        with_colour = in_terms_of(f" The swatch yarn is counted with color {first}.", plan.project) if first else ""
        ends = f"{show_yarn_length(need.swatch_metres, units)} for swatches, and {ends}.{with_colour}"
    lines.append(Line("text", f"The yarn amounts include {ends.removesuffix('.')}."))
    if need.balls is not None:
        enough = _enough(need, units)
        have = plan.project.design_yarn.balls if plan.project.design_yarn else None
        swatches = ", including yarn for the swatches" if need.swatch_metres is not None else ""
        if have is None:
            lot = "of the same dye lot" if not need.per_colour else "in all, with one dye lot for each color"
            buy = f"Buy {counted(need.balls, 'ball')} {lot}{swatches}.{enough} Keep the receipt."
            text = in_terms_of(buy, plan.project)
        elif have >= need.balls:
            text = f"You need {counted(need.balls, 'ball')}{swatches}.{enough} You have {have}, which is enough."
        else:
            text = (
                f"You need {counted(need.balls, 'ball')} to be safe{swatches}.{enough} You have {have}. Buy "
                f"{need.balls - have} more of the same dye lot."
            )
        lines.append(Line("figure", text, "yarn.balls"))
        lines += [Line("text", in_terms_of(_of_colour(c, plan), plan.project)) for c in need.per_colour]
    else:
        lines.append(Line("note", "Enter the weight and the length of a ball to see how many balls to buy."))
    buttons = sum(p.key_counts.get("buttonholes", 0) for p in plan.made.pieces)
    if buttons:
        text = f"You also need {counted(buttons, 'button')} for the front band."
        if plan.gauge is not None:
            hole, button = (
                show_length(plan.gauge.cloth.across_cm(n), units) for n in (BUTTONHOLE_STITCHES, BUTTON_STITCHES)
            )
            text += (
                f" A {BUTTONHOLE_STITCHES}-stitch buttonhole is {hole} wide and stretches. Choose buttons about "
                f"{button} across."
            )
        lines.append(Line("figure", text))
    shares = ", ".join(f"{name} {share}%" for name, share in _shares(need.per_piece))
    lines.append(Line("text", f"Where the yarn goes: {shares}."))
    return lines


def _of_colour(need: ColourNeed, plan: Plan) -> str:
    """What is needed of one colour."""
    called = next((c.name for c in palette(plan.project, plan.made) if c.id == need.colour), "")
    name = f"{need.colour.upper()}, {called}" if called else need.colour.upper()
    if not need.percent:
        return f"Color {name} isn't used in this plan, so there's none to buy."
    amounts = [f"about {need.grams[1]:.0f} g" if need.grams[1] >= 1 else "less than 1 g"] if need.grams else []
    amounts += [show_yarn_length(need.metres[1], plan.project.units)] if need.metres else []
    balls = f": {counted(need.balls, 'ball')}" if need.balls is not None else ""
    return f"Color {name}{balls} ({', '.join(amounts)})."


def _shares(per_piece: Sequence[tuple[Piece, float]]) -> list[tuple[str, int]]:
    """Shares of the pieces in whole per cent, 100 in all; shoulders with what they grew out of, sleeves and their caps
    together.
    """
    summed: dict[str, float] = {}
    for piece, share in per_piece:
        whole = _counted_with(piece)
        summed[whole] = summed.get(whole, 0.0) + share
    return list(zip(summed, whole_percents(tuple(summed.values())), strict=True))


def _counted_with(piece: Piece) -> str:
    """What the yarn of a piece is counted with."""
    if piece.role in roles.YOKES:
        return roles.YOKE.word
    if piece.role is roles.SHOULDER and piece.parent is not None:
        return piece.parent.name
    together = piece.role in (roles.SLEEVE, roles.CAP, roles.SLEEVE_TOP)
    return piece.role.alike if together else piece.name


def whole_percents(shares: Sequence[float]) -> tuple[int, ...]:
    """Shares of a whole in whole per cent that add up to 100: those that lose most by rounding down get one more."""
    total = sum(shares)
    exact = [100 * share / total for share in shares]
    found = [floor(share) for share in exact]
    most_lost = sorted(range(len(exact)), key=lambda i: found[i] - exact[i])
    for i in most_lost[: 100 - sum(found)]:
        found[i] += 1
    return tuple(found)
