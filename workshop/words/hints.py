"""Hints of questions, with what is known of the swatch at hand."""

from workshop.core.plan import Plan

WEIGHT_SHOWN = " with the weight shown"
"""What a hint says of the weight where no swatch is at hand, as on paper."""


def hint_for(key: str, hint: str, plan: Plan) -> str:
    """The hint of a question with the weight to hang on its swatch; without one where that isn't known."""
    if WEIGHT_SHOWN not in hint:
        return hint
    known = plan.swatch(key.split(".")[1])
    weight = known.hang_weight if known else None
    clipped = f" with {weight.value:.0f} g clipped along its lower edge" if weight else ""
    return hint.replace(WEIGHT_SHOWN, clipped)
