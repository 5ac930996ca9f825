"""What a teacher should look at in a pupil's project, the most pressing first."""

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import Literal, get_args

from workshop.core.cloth.gauge import WHEN_COUNTED, really_differ
from workshop.core.knitting.needles import Needles
from workshop.core.plan import Plan
from workshop.core.remarks import Check
from workshop.progress import Progress
from workshop.project import State, Swatch
from workshop.records import record
from workshop.units import plain_number, show_gauge, show_needle
from workshop.words.phrase import capitalised, counted, in_terms, say_check
from workshop.words.titles import title_of
from workshop.words.yarn_left import yarn_lines

Kind = Literal["fault", "stop", "needles", "counts", "yarn", "alike", "check", "changed"]
"""Why a teacher is needed, by how soon: a file nobody can open, a garment that cannot be knitted so, a row off at the
needles, counts that look wrong, yarn short, swatches that do not differ, another open check, an answer changed since.
"""

SOONEST: tuple[Kind, ...] = get_args(Kind)


@record
class Look:
    """One thing to look at."""

    kind: Kind
    text: str

    @property
    def rank(self) -> int:
        """How soon: lower is sooner."""
        return SOONEST.index(self.kind)


def attention(plan: Plan, steps: Sequence[Progress], needles: Needles | None) -> tuple[Look, ...]:
    """All that needs a look in a plan, the most pressing first. ``needles``: where something is knitted."""
    checks = tuple(c for c in plan.checks if c.level in ("stop", "look") or (c.teacher and not c.agreed))
    found = [Look(_kind(check), say_check(check, plan.project)) for check in checks]
    found += [*_alike(plan, checks), *_changed(plan, steps)]
    if needles is not None:
        found += [*_rows_off(plan, needles), *_gauge_off(plan, needles), *_yarn_left(plan, needles)]
    return tuple(sorted(found, key=lambda look: look.rank))


def counts_asked(checks: Sequence[Check], swatch: Swatch) -> bool:
    """Whether there is a question about the counts of a swatch that nobody has answered."""
    return any(c.level in ("stop", "look") and c.question.startswith(f"reading.{swatch.id}.") for c in checks)


def _kind(check: Check) -> Kind:
    if check.level == "stop":
        return "stop"
    return check.teacher or ("counts" if check.question.startswith("reading.") else "check")


COMPARED_IN: tuple[State, ...] = ("washed", "off needles")


def _alike(plan: Plan, checks: Sequence[Check]) -> Iterator[Look]:
    """Swatches of one yarn on different needles that came out alike; no matter once the first row is knitted.

    Counts that look wrong say nothing of that.
    """
    project = plan.project
    if any(known.rows for known in project.knitting):
        return
    sound = [known for known in plan.swatches if not counts_asked(checks, known.swatch)]
    for one, other in combinations(sound, 2):
        a, b = one.swatch, other.swatch
        if None in (a.needle_mm, b.needle_mm) or a.needle_mm == b.needle_mm:
            continue
        if (a.yarn, a.stitch, a.worked) != (b.yarn, b.stitch, b.worked):
            continue
        state = next((s for s in COMPARED_IN if all((s, "stitches") in k.gauges for k in (one, other))), None)
        if state is None:
            continue
        first, second = one.gauges[state, "stitches"], other.gauges[state, "stitches"]
        if not really_differ(first, second):
            on = [f"{s.id} ({show_needle(s.needle_mm or 0.0, project.needle_names)})" for s in (a, b)]
            over = " and ".join(show_gauge(g.per_10cm, project.units) for g in (first, second))
            text = (
                f"{capitalised(WHEN_COUNTED[state])}, your counts show no difference between swatches {on[0]} and "
                f"{on[1]}, at {over}."
            )
            yield Look("alike", in_terms(text, project.terms))


def _changed(plan: Plan, steps: Sequence[Progress]) -> Iterator[Look]:
    for step in steps:
        if step.state == "look again" and step.because.startswith(("changed", "not")):
            yield Look("changed", f"{title_of(step.name, plan.project.terms)}: {step.because}.")


def _rows_off(plan: Plan, needles: Needles) -> Iterator[Look]:
    """Pieces with other stitches on the needle than their rows should have left."""
    for standing in needles.pieces:
        known = plan.project.knitted(standing.piece.name)
        if known is not None and known.stitches is not None and not standing.finished:
            slip = standing.piece.rows[standing.rows_knitted - 1].events[-1]
            text = f"{counted(known.stitches, 'stitch', 'stitches')} after row {standing.row}"
            text = f"The {standing.piece.told} has {text}, but the plan has {known.stitches - slip.change}."
            yield Look("needles", text)


def _gauge_off(plan: Plan, needles: Needles) -> Iterator[Look]:
    """A piece that really is of another gauge than its swatch, while nothing was decided about that."""
    if needles.at_hand is None or needles.counted_at is None:
        return
    name, row = needles.counted_at
    if any(taken.piece == name and taken.row >= row for taken in plan.project.taken):
        return
    for what, compared in (("stitches", needles.stitches), ("rows", needles.rows)):
        if compared is not None and compared.real:
            at = f"{capitalised(name)}, row {row}" if row else capitalised(name)
            than = f"{'more' if compared.difference_percent > 0 else 'fewer'} {what} than in the swatch"
            off = plain_number(abs(compared.difference_percent), 1)
            text = f"{at}: {off}% {than}. That's more than counting errors could explain."
            yield Look("needles", in_terms(text, plan.project.terms))


def _yarn_left(plan: Plan, needles: Needles) -> Iterator[Look]:
    if needles.yarn is not None and needles.at_hand is not None and needles.yarn.verdict in ("open", "short"):
        yield Look("yarn", yarn_lines(needles, plan)[0])
