"""The figures by which a knitter knows her plan, and what became of them between two plans of one project."""

from workshop.core.plan import Plan
from workshop.core.remarks import Amount, cm
from workshop.records import record


@record
class Moved:
    """A key figure that is another one now. ``what`` is in words: ``cast-on of the back``."""

    what: str
    before: Amount
    now: Amount


def key_figures(plan: Plan) -> dict[str, Amount]:
    """Finished chest and length, the cast-on of every piece that begins with one, balls; none without a garment."""
    made = plan.made
    found = {f"finished {part}": cm(plan.finished_cm[part]) for part in ("chest", "length") if part in plan.finished_cm}
    for piece in made.pieces:
        if piece.cast_on and piece.parent is None and not piece.role.band:
            found[f"cast-on of the {piece.name}"] = Amount(piece.cast_on, "")
    if plan.yarn is not None and plan.yarn.balls is not None:
        found["balls to buy"] = Amount(plan.yarn.balls, "")
    return found


def moved(before: Plan, now: Plan) -> tuple[Moved, ...]:
    """Key figures that both plans have and that differ; none while one of them is not finished."""
    was, are = key_figures(before), key_figures(now)
    return tuple(Moved(what, was[what], are[what]) for what in are if what in was and was[what] != are[what])
