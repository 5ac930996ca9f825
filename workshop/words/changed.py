"""What has become of a plan, in words: each key figure as it was and as it is now."""

from workshop.core.key_figures import moved
from workshop.core.plan import Plan
from workshop.core.plan_mark import plan_mark
from workshop.words.phrase import in_terms, show


def changed_figures(before: Plan, now: Plan) -> str:
    """The key figures that an answer has moved, as one list; empty where they are as they were."""
    project = now.project
    told = [(m.what, show(m.before, project), show(m.now, project)) for m in moved(before, now)]
    changed = "; ".join(f"{what} {was}, now {is_now}" for what, was, is_now in told if was != is_now)
    return in_terms(changed, project.terms)


PRINT_AGAIN = "Print the plan again. An earlier print shows the old numbers."


def after_taking(before: Plan, now: Plan, print_again: str = PRINT_AGAIN) -> tuple[str, ...]:
    """What a way on has changed: rows of pieces and key figures, and that an earlier print is out of date; nothing
    where every number on paper is as it was.
    """
    if plan_mark(before) == plan_mark(now):
        return ()
    rows = {piece.name: len(piece.rows) for piece in before.made.pieces}
    longer = [
        f"rows of the {piece.told} {rows[piece.name]}, now {len(piece.rows)}"
        for piece in now.made.pieces
        if rows.get(piece.name, len(piece.rows)) != len(piece.rows) and not piece.role.band
    ]
    told = "; ".join(filter(None, (changed_figures(before, now), in_terms("; ".join(longer), now.project.terms))))
    return (f"Changed: {told}.", print_again) if told else ()


def after_taking_back(before: Plan, now: Plan) -> tuple[str, ...]:
    """What has changed by a way that was taken back, and which print shows the numbers as they are again."""
    right = f"The instructions on a print with the plan mark {plan_mark(now)} are right again."
    return after_taking(before, now, f"{right} Any other print shows different numbers.")
