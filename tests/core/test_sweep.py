"""Every published size in every construction, neckline and a range of gauges: what is refused, and why.

What is planned adds up, and has the proportions of ``tests/proportions.py``.

The list of refusals is kept as text (tests/screens/refusals-….txt), so that a change in it is seen and read.
"""

from collections import Counter
from collections.abc import Iterator
from functools import cache
from itertools import cycle, product
from typing import get_args

import pytest

from tests.core.test_garments import SIZES
from tests.factory import piece_of, pullover, shaped, swatch
from tests.proportions import USUAL_CAPS, proportion_faults
from workshop.core.constructions import CONSTRUCTIONS
from workshop.core.garments import Garment
from workshop.core.making.ledger import ADDS
from workshop.core.necklines import NECKLINES
from workshop.core.plan import Plan, plan
from workshop.project import Body, Front, Project, SleeveLength
from workshop.words.phrase import say_check

GAUGES = (10.0, 14.0, 18.0, 22.0, 28.0, 34.0)
"""Stitches per 10 cm, from jumbo to fine yarn."""

IMPOSSIBLE = {"boat-and-open", "boat-and-yoke", "yoke-wants-sleeves", "round-yoke-neck"}
"""Refusals of a wish that cannot be, whatever the figures."""


@cache
def offered_lengths() -> dict[tuple[str, str], float]:
    """The length in cm that each size is offered."""
    bodies = {(table, size): Body(source="table", table=table, size=size) for table, size in SIZES}
    return {named: float(plan(pullover(body=body)).offers["garment.length_cm"]) for named, body in bodies.items()}


def designs(*constructions: str) -> Iterator[Project]:
    """Sizes, constructions (all, or these), necklines and gauges in full; the other wishes take turns."""
    turns = zip(
        cycle(get_args(SleeveLength)),
        cycle(("flat", "round", "round")),
        cycle(("straight", "shaped", "straight", "straight", "shaped")),
    )
    lengths = offered_lengths()
    for (table, size), construction, neck, gauge, front in product(
        SIZES, tuple(CONSTRUCTIONS), tuple(NECKLINES), GAUGES, get_args(Front)
    ):
        sleeve, worked, waist = next(turns)
        if constructions and construction not in constructions:
            continue
        base = pullover(
            swatch=(swatch(gauge, round(gauge * 5.6) / 4),), body=Body(source="table", table=table, size=size)
        )
        edging = 3.0 if table in ("children", "babies") else 6.0
        yield shaped(
            base,
            construction=construction,
            neckline=neck,
            front=front,
            sleeve=sleeve,
            worked=worked,
            waist=waist,
            length_cm=lengths[table, size],
            hem_cm=edging,
            cuff_cm=edging,
        )


def faults(now: Plan, made: Garment) -> Iterator[str]:
    """What does not add up in a garment."""
    stitch = 10 / now.gauge.stitches.per_10cm
    row = 10 / now.gauge.rows.per_10cm
    for piece in made.pieces:
        count = piece.cast_on
        for r in piece.rows:
            change = sum(ADDS.get(e.do, 0) * e.stitches * (2 if e.where == "both" else 1) for e in r.events)
            if r.before != count or r.after != count + change or r.after < 0:
                yield f"{piece.name}, row {r.row}: {r.before} to {r.after}"
            count = r.after
        if count != piece.bound_off:
            yield f"{piece.name} ends on {count}, not on {piece.bound_off}"
        planned = Counter((row, s.event) for s in piece.schedules for row in s.rows)
        if planned != Counter((r.row, e) for r in piece.rows for e in r.events):
            yield f"{piece.name}: its schedules are not its rows"
    for part, allowed in (("chest", 3 * stitch + row), ("length", 2 * row + stitch)):
        if abs(made.finished_cm[part] - now.targets.finished[part]) > allowed + 1e-9:
            yield f"{part} {made.finished_cm[part]:.1f}, wanted {now.targets.finished[part]:.1f}"
    if abs(chest_from_ledger(now, made) - made.finished_cm["chest"]) > row + 1e-9:
        yield f"chest {chest_from_ledger(now, made):.1f} in the ledger, {made.finished_cm['chest']:.1f} promised"
    for seam in made.seams:
        if seam.a_rows != seam.b_rows:
            yield f"{seam.a} has {seam.a_rows} rows, {seam.b} {seam.b_rows}"


def chest_from_ledger(now: Plan, made: Garment) -> float:
    """Around the chest from the stitches that are on the needle at the underarm, seam stitches left out."""
    open_front = now.project.garment.front == "open"
    body = piece_of(made, "body")
    if body is not None:
        fullest = body.rows[0].after if body.parent else body.bound_off
        stitches = fullest - (2 if open_front else 0)
    else:
        panels = [p for p in made.pieces if p.name in ("back", "front", "left front", "right front")]
        stitches = sum(p.key_counts["chest"] for p in panels) - 2 * len(panels)
    across = stitches / now.gauge.stitches.per_10cm * 10
    bands = [p for p in made.pieces if p.name in ("left front band", "front and neck band")]
    return across + sum(len(p.rows) for p in bands) / now.gauge.rows.per_10cm * 10


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_nothing_is_refused_but_what_cannot_be(screens, construction):
    refused: Counter[tuple[str, str]] = Counter()
    examples: dict[tuple[str, str], str] = {}
    asked = 0
    caps: list[float] = []
    for project in designs(construction):
        now = plan(project)
        asked += 1
        stops = [c for c in now.checks if c.level == "stop"]
        if stops:
            for stop in stops:
                key = (stop.code, stop.question)
                refused[key] += 1
                examples.setdefault(key, say_check(stop, project))
            assert not now.made or not now.made.pieces
            continue
        found = [*faults(now, now.made), *proportion_faults(now, now.made)]
        assert found == [], (project.body, project.garment)
        done = now.made.finished_cm
        caps += [done["cap_height"] / done["armhole_depth"]] if "cap_height" in done else []
    lines = [f"{asked} designs asked for, {sum(refused.values())} refusals"]
    for (code, question), number in sorted(refused.items()):
        lines += [f"{code} ({question}), {number} times", f"    {examples[code, question]}"]
    assert "\n".join(lines) + "\n" == screens(name=f"refusals-{construction}")
    assert {code for code, _ in refused} <= IMPOSSIBLE
    assert bool(caps) == (construction == "set-in")
    assert sum(0.595 <= cap <= 0.705 for cap in caps) >= USUAL_CAPS * len(caps)


@pytest.mark.parametrize("construction", tuple(CONSTRUCTIONS))
def test_all_sizes_at_a_middle_gauge_as_a_first_jumper(construction):
    """The plainest wish of all is never refused."""
    for table, size in SIZES:
        base = pullover(body=Body(source="table", table=table, size=size))
        length = offered_lengths()[table, size]
        project = shaped(base, construction=construction, worked="round", length_cm=length, hem_cm=3.0, cuff_cm=3.0)
        assert [c.code for c in plan(project).checks if c.level == "stop"] == [], (table, size)
