"""What a schematic and the table of finished measurements measure differently, in words."""

from workshop.core.plan import Plan
from workshop.units import show_length

ABOVE_THE_DRAWING = {
    "half of the sleeve's top": "Hem to neck and neck depth end where the raglan lines end. The finished length "
    "and the front neck depth are {more} more: half of each sleeve's top, which lies over the shoulder.",
    "raised back and back neck drop": "Hem to neck ends at the top of the front. The finished length is {more} more: "
    "it is measured from the high shoulder point, beside the raised back.",
}
"""What lies above the last row of the body, by its name in the working of the length."""


def schematic_notes(plan: Plan) -> tuple[str, ...]:
    """Sentences to go with the schematic: where its measurements are not those of the table, and why."""
    if plan.made is None or not plan.made.pieces:
        return ()
    notes = []
    if hem_is_above_edging(plan):
        notes.append("The hem is measured in the cloth just above its edging, which draws in as it likes.")
    length = plan.working("finished.length")
    for figure in length.figures if length else ():
        if figure.name in ABOVE_THE_DRAWING:
            more = show_length(figure.value, plan.project.units)
            notes.append(ABOVE_THE_DRAWING[figure.name].format(more=more))
    return tuple(notes)


def hem_is_above_edging(plan: Plan) -> bool:
    """Whether the body has an edging below the hem that is measured."""
    return plan.project.garment.hem not in (None, "none")
