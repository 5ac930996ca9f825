"""How each kind of published case is proved: its figures go through what the planner uses.

A proof takes the case's ``in`` and what must come out, and fails where the planner comes to something else.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from itertools import accumulate, pairwise
from math import prod

import pytest

from tests.factory import piece_of
from tests.formula import work_out
from tests.published import ranges, sums
from tests.published.reading import INCH, Figures, NotThePlanners, planned, rounding, washed
from workshop.core.calculation import WHOLE
from workshop.core.garments.joined_yoke import lines
from workshop.core.making import roles
from workshop.core.making.bands import Bands, EdgePart
from workshop.core.making.below_underarm import BodyBelowUnderarm
from workshop.core.making.caps import Cap
from workshop.core.making.cloth import Cloth
from workshop.core.making.counts import SEAM_STITCHES, rows_for, stitches_for, width_of
from workshop.core.making.edges import beyond_rate, edge_cm, rate_along
from workshop.core.making.ledger import Event, Ledger
from workshop.core.making.necklines import crew_back, crew_front
from workshop.core.making.panels import alike, bound_off_at_both, sloped
from workshop.core.making.raglan_lines import RaglanShape, from_the_neck, line_rows
from workshop.core.making.spacing import STITCHES_USED, evenly, gentlest_shaping, over_rows, two_rates
from workshop.core.making.yoke_percentages import SHARES
from workshop.core.notes import Notes
from workshop.project import Body, ReferenceGarment

Proof = Callable[[Figures, Figures], None]


def stitches(given: Figures, wanted: Figures) -> None:
    count, over = given["gauge"]
    rule = rounding(given["rounding"]) or WHOLE
    working = stitches_for("x", "x", given["width"], count / over * 10, rule)

    assert working.exact == pytest.approx(wanted["raw"])
    assert working.count == wanted["stitches"]
    if "cast_on" in wanted:
        if given["selvedge"] != 2 * SEAM_STITCHES:
            raise NotThePlanners("a seam of the planner takes one stitch of each edge, no more and no fewer")
        panel = BodyBelowUnderarm("flat", working.count, None, SEAM_STITCHES, "none", "stockinette", 0, 2).panel("back")
        assert panel == wanted["cast_on"]


def rows(given: Figures, wanted: Figures) -> None:
    count, over = given["row_gauge"]
    working = rows_for("x", "x", given["length"], count / over * 10, rounding(given["rounding"]) or WHOLE)

    assert working.exact == pytest.approx(wanted["raw"])
    assert working.count == wanted["rows"]


def width(given: Figures, wanted: Figures) -> None:
    count, over = given["gauge"]

    found = width_of("x", "x", given["stitches"], count / over * 10).value
    assert round(found, given["places"]) == pytest.approx(wanted["width"])


# ── spreading shaping over rows and stitches ─────────────────────────────────────────────────────────


def spacing_rows(given: Figures, wanted: Figures) -> None:
    """As the increases of a sleeve in the round."""
    schedule = over_rows(given["rows"], given["events"])
    times = Counter(schedule.gaps)

    assert schedule.event_rows[-1] == given["rows"]
    if "intervals" in wanted:
        assert times == dict(wanted["intervals"])
    if "quotient" in wanted:
        assert min(times) == wanted["quotient"]
    if "remainder" in wanted:
        assert times[min(times) + 1] == wanted["remainder"]
    if "stitches_changed" in wanted:
        ledger = Ledger(roles.SLEEVE, "round", 0)
        ledger.follow(given["rows"], alike(schedule.event_rows, "increase"))
        assert ledger.stitches == wanted["stitches_changed"]


def spacing_rs(given: Figures, wanted: Figures) -> None:
    """As the increases of a sleeve worked flat: its plain stretch at the top is taken off first."""
    shaping = gentlest_shaping(given["rows"] - wanted["left"], given["events"])

    assert shaping.way == "right side"
    if "intervals" in wanted:
        assert Counter(shaping.schedule.gaps) == dict(wanted["intervals"])
    if "gaps" in wanted:
        assert sorted(shaping.schedule.gaps) == sorted(wanted["gaps"])
    assert sum(shaping.schedule.gaps) == wanted["used"]


def line_gaps(rows: int, events: int) -> tuple[int, ...]:
    """Gaps of a raglan line, each counted from its event to the next or to the end of the line."""
    return tuple(b - a for a, b in pairwise((*line_rows(rows, events), rows + 1)))


def two_rate(given: Figures, wanted: Figures) -> None:
    """As on a raglan line, and as on a cap or an armhole."""
    on_a_line = Counter(line_gaps(given["rows"], given["events"]))
    on_a_cap = dict(two_rates(given["rows"], given["events"]))

    for gap, name in ((2, "every2"), (4, "every4")):
        assert on_a_line[gap] == on_a_cap.get(gap, 0) == wanted[name]
    assert set(on_a_line) <= {2, 4}


def neighbours(gaps: list[int]) -> None:
    """The planner shapes at two neighbouring rates of right-side rows: gaps further apart are none of its own."""
    if any(gap % 2 for gap in gaps) or max(gaps) - min(gaps) > 2:
        raise NotThePlanners("the planner spreads shaping at two neighbouring rates, on right-side rows")


def alternating(given: Figures, wanted: Figures) -> None:
    """Given only rows and events, a sleeve worked flat comes to as many gaps of each of the two sizes."""
    gaps = list(given["pair"]) * given["pairs"]
    neighbours(gaps)
    schedule = gentlest_shaping(wanted["rows"], wanted["events"]).schedule
    ledger = Ledger(roles.SLEEVE, "flat", 2 * wanted["stitches_removed"])
    ledger.follow(wanted["rows"], alike(schedule.event_rows, "decrease"))

    assert Counter(schedule.gaps) == Counter(gaps)
    assert ledger.stitches == wanted["stitches_removed"]


def schedule(given: Figures, wanted: Figures) -> None:
    """Given only rows and events, a raglan line comes to as many gaps of each size."""
    gaps = [gap for gap, times in given["schedule"] for _ in range(times)]
    neighbours(gaps)

    assert Counter(line_gaps(wanted["rows"], wanted["events"])) == Counter(gaps)


def ledger(given: Figures, wanted: Figures) -> None:
    total = WHOLE(work_out(given["total_rows_expr"], {}))
    sleeve = Ledger(roles.SLEEVE, "flat", given["start"])
    sleeve.work(given["plain"], "garter")
    at = range(given["first_event_row"], total + 1, given["interval"])[: given["more"] + 1]
    sleeve.follow(total, alike(at, "increase", given["per_event"] // 2))
    piece = sleeve.piece()
    shaped = [r for r in piece.rows if r.events]

    assert [r.row for r in shaped] == wanted["event_rows"]
    assert shaped[0].after == wanted["after_first"]
    assert piece.bound_off == wanted["end"]
    assert piece.last_row == wanted["total_rows"]
    assert piece.last_row - shaped[-1].row == wanted["rows_left"]


def across(given: Figures, wanted: Figures) -> None:
    """As the fingers count a row of the instructions: plain stitches, then the event, which uses up its own."""
    count, events, change = given["stitches"], given["events"], given["change"]
    technique = "k2tog" if change < 0 else "m1"
    plain = evenly(count, events, technique, "round")[:-1]
    row = Ledger(roles.YOKE, "round", count)
    row.shape("stockinette", Event("decrease" if change < 0 else "increase", "across", events * abs(change)))

    assert Counter(gap + STITCHES_USED[technique] for gap in plain) == dict(wanted["groups"])
    assert row.stitches == wanted["end"]


def positions(given: Figures, wanted: Figures) -> None:
    gaps = evenly(given["stitches"], given["events"], "m1", given["mode"])

    assert list(accumulate(gaps[:-1])) == wanted["positions"]


# ── shapes ───────────────────────────────────────────────────────────────────────────────────────────


def per_size(*lists: list[int]) -> Iterator[tuple[int, ...]]:
    return zip(*lists, strict=True)


def conserve(given: Figures, wanted: Figures) -> None:
    """As a raglan back: its lines take what the source takes, and row by row they leave what it leaves."""
    rows = wanted.get("raglan_rows", [2 * times for times in given["dec2_times"]])
    sizes = per_size(given["start"], given["bind_off"], given["dec2_times"], rows, wanted["end"])
    for start, bound, times, rows, end in sizes:
        shape = RaglanShape(start, start, bound, end, end, rows)
        outer = bound_off_at_both("right", 1, (bound // 2,))
        back = Ledger(roles.BACK, "flat", start)
        back.follow(2 + shape.rows, outer + alike(2 + row for row in line_rows(shape.rows, times)))

        assert shape.fits
        assert shape.body_events == times
        assert set(line_gaps(rows, times)) <= {2}
        assert back.stitches == end


def topdown(given: Figures, wanted: Figures) -> None:
    """As a raglan from the neck, all four lines at one rate; half of the body is one panel."""
    cast_on, top = given["cast_on"], given["sleeve_top"]
    sizes = per_size(cast_on, given["inc_rows"], wanted["total"], wanted["sleeve"], wanted["body"])
    for start, times, total, sleeve, body in sizes:
        shape = RaglanShape(body // 2, sleeve, 0, (start - 2 * top) // 2, top, 2 * times)
        at_body, at_sleeve = (from_the_neck(at, shape.rows) for at in (shape.body_rows, shape.sleeve_rows))
        yoke = Ledger(roles.YOKE, "round", start)
        yoke.follow(shape.rows, lines(at_body, at_sleeve, "increase"))

        assert shape.body_events == shape.sleeve_events == times
        assert yoke.stitches == total == body + 2 * sleeve


def eps_yoke(given: Figures, wanted: Figures) -> None:
    """A whole plan for a body of 40 in, whatever its stitches are. The source's depth is at 5 stitches to the inch.

    The planner's three rounds keep 3/4, 2/3 and 3/5, a set of the same printed family: of the source's chain it must
    come to the last count, and to all of it only where the source keeps the same.
    """
    whole, tolerance, keep = given["K"], wanted.get("tolerance", 0), [Fraction(*part) for part in given["keep"]]
    sleeve, underarm = WHOLE(whole * given["sleeve"]), WHOLE(whole * given["underarm"])
    left_over = prod(keep) * (whole + 2 * sleeve - 4 * underarm)
    if given["underarm"] != 0.08 or abs(left_over - 0.4 * whole) > tolerance:
        raise NotThePlanners("the planner sets 8 % aside at each underarm, for a neck of 40 %")
    if whole % 2 or sleeve % 2 or underarm % 2 or underarm > sleeve / 4:
        raise NotThePlanners("the planner keeps all counts of a yoke even, and an underarm to a quarter of the sleeve")
    body, per_cm = 40 * INCH, whole / (40 * INCH)
    arm = sleeve / per_cm
    flat = ReferenceGarment(body / 2, arm / 2, arm / 2, length_cm=80.0, armhole_depth_cm=body / 2)
    wearer = Body("own", chest_cm=body, sleeve_underarm_cm=45.0)
    now = planned(10 * per_cm, 14 * per_cm, flat, wearer, construction="round-yoke", worked="round")
    yoke = piece_of(now.made, "yoke")
    left = [r.after for r in yoke.rows if any(e.do == "decrease" for e in r.events)]

    assert piece_of(now.made, "left sleeve").key_counts["upper_arm"] == wanted["sleeve_sts"]
    assert now.working("underarm.stitches").count == wanted["underarm_sts"]
    assert yoke.key_counts["yoke"] == yoke.rows[0].after == wanted["yoke"]
    chain = wanted["chain"] if keep == list(SHARES) else wanted["chain"][-1:]
    assert all(abs(a - b) <= tolerance for a, b in zip(left[-len(chain) :], chain, strict=True))
    assert left[-1] / whole == pytest.approx(wanted["neck_fraction"], abs=0.01)
    if "yoke_depth_in" in wanted:
        depth_cm = now.gauge.cloth.along_cm(now.working("yoke.rows").exact)
        assert depth_cm * per_cm / 5 == pytest.approx(wanted["yoke_depth_in"])


def cap_conserve(given: Figures, wanted: Figures) -> None:
    """The source's rows as a cap of the planner's, knitted row by row into its top.

    Which rows they are the source says; only the ends of its middle stretches are given as counts.
    """
    sizes = per_size(given["start"], given["bo1"], given["to_every4"], wanted["end"])
    for i, (start, bound, slow_to, end) in enumerate(sizes):
        before = start - 2 * (bound + given["every_row"] + given["alt"])
        slow, quick = (before - slow_to) // 2, (slow_to - given["to_alt"]) // 2
        stretches = ((1, given["every_row"]), (2, given["alt"]), (4, slow), (2, quick), (1, given["last_every_row"]))
        gaps = [gap for gap, times in stretches for _ in range(times)]
        at = tuple(2 + row for row in accumulate(gaps))
        cap = Cap((bound,), at, sum(gaps), (given["bo_last"],), end)
        sleeve = Ledger(roles.SLEEVE, "flat", start)
        sleeve.follow(cap.rows, cap.outer("right", 0))

        assert sleeve.stitches == end
        assert 2 * sum(sideways for sideways, _ in cap.moves()) == start
        for name, found in (("every4_times", slow), ("alt_times", quick), ("cap_rows", sleeve.next_row - 1)):
            if name in wanted:
                assert found == wanted[name][i]


def neck(given: Figures, wanted: Figures) -> None:
    stitches = given["width"]
    front, back = crew_front(stitches, stitches), crew_back(stitches, stitches)

    assert (front.centre, [t.stitches for t in front.decreases]) == (wanted["front_centre"], wanted["front_steps"])
    assert (back.centre, [t.stitches for t in back.decreases]) == (wanted["back_centre"], wanted["back_steps"])


def shortrow(given: Figures, wanted: Figures) -> None:
    """The planner's shoulders in short rows, read the other way up: the source works from the top, the planner from
    the hem. The source's first row goes from one edge to the far side of the middle.
    """
    steps, centre, total = given["steps_from_edge"], given["centre"], wanted["total"]
    slope = sloped("right", 1, (*steps, centre), short_rows=True)
    at = sorted((row, s.event.where, s.event.stitches) for s in slope for row in s.rows)
    waiting, lengths = {"left": 0, "right": 0}, [total]
    for _, edge, stitches in at:
        waiting[edge] = stitches
        lengths.append(total - sum(waiting.values()))
    assert lengths.pop() == centre
    from_the_top = [total - waiting["left"], *reversed(lengths)]

    if "first_lengths" in wanted:
        assert from_the_top[: len(wanted["first_lengths"])] == wanted["first_lengths"]
    if "worked_lengths" in wanted:
        assert from_the_top == wanted["worked_lengths"]


# ── edges and the wash ───────────────────────────────────────────────────────────────────────────────


def picked_up(cloth: Cloth, sideways: int, up: int) -> float:
    """Stitches that a band picks up along a row of an edge that goes so far sideways in so many rows."""
    notes = Notes()
    edge = EdgePart("armhole", slope_cm=edge_cm(cloth, [(sideways, up)]), rows=up)
    Bands(cloth, "none", 2.5, notes=notes).armholes(edge)
    return notes.workings[0].exact / up


def pickup(given: Figures, wanted: Figures) -> None:
    """As a band counts it, and as the instructions say it."""
    (stitches, over), (rows, along) = given["gauge"], given["row_gauge"]
    cloth, fraction = Cloth(stitches / over * 10, rows / along * 10), Fraction(*wanted["fraction"])

    assert picked_up(cloth, 0, 1) == pytest.approx(fraction)
    stitches = round(60 * fraction)  # along 60 rows, with what comes to the rate or is left out
    rate = rate_along(stitches, 60)
    assert abs(rate * 60 + beyond_rate(rate, stitches, 60) - 60 * fraction) <= Fraction(1, 2)
    if "split" in wanted:
        assert [sum(x) for x in zip(*wanted["split"], strict=True)] == wanted["fraction"]


def pickup_slope(given: Figures, wanted: Figures) -> None:
    stitches, rows = given["ratio"]
    cloth = Cloth(10.0 * stitches, 10.0 * rows)
    low, high = wanted["every2_between"]

    assert picked_up(cloth, 0, 1) == pytest.approx(Fraction(*wanted["straight"]))
    assert picked_up(cloth, 1, 4) == pytest.approx(Fraction(*wanted["every4"]), abs=0.02)
    assert low <= picked_up(cloth, 1, 2) <= high


def wash(given: Figures, wanted: Figures) -> None:
    """The design gauge of a plan from cloth counted before and after; a unit of the source stands for a cm."""
    gauge, length = washed(given["unwashed"], given["washed"]).gauge, given["finished_length"]

    assert rows_for("x", "x", length, gauge.rows.per_10cm).exact == pytest.approx(wanted["rows_exact"])
    assert gauge.as_knit_cm(length) == pytest.approx(wanted["as_knit_length"], abs=0.001)
    assert gauge.width.factor == pytest.approx(wanted["width_factor"], abs=0.0005)
    assert gauge.length.factor == pytest.approx(wanted["length_factor"], abs=0.0005)
    if "rows_per_finished_inch" in wanted:
        assert rows_for("x", "x", 1.0, gauge.rows.per_10cm).exact == pytest.approx(wanted["rows_per_finished_inch"])
    for name, along in (
        ("per_inch_unwashed", (gauge.unwashed_stitches, gauge.unwashed_rows)),
        ("per_inch_washed", (gauge.stitches, gauge.rows)),
    ):
        if name in wanted:
            assert [g.per_10cm / 10 for g in along] == pytest.approx(wanted[name])


KINDS: Mapping[str, Proof] = {
    proof.__name__: proof
    for proof in (
        stitches, rows, width, spacing_rows, spacing_rs, two_rate, alternating, schedule, ledger, across, positions,
        conserve, topdown, eps_yoke, cap_conserve, neck, shortrow, pickup, pickup_slope, wash,
    )
}  # fmt: skip
"""Kinds that are proved whole."""

ONE_BY_ONE: Mapping[str, tuple[Mapping[str, Proof], Mapping[str, str], str]] = {
    "multi": (sums.PROOFS, sums.NOT_THE_PLANNERS, "a sum of its own, and no figure of the planner's is named for it"),
    "expr": (sums.PROOFS, sums.NOT_THE_PLANNERS, "a sum of its own, and no figure of the planner's is named for it"),
    "data": (ranges.PROOFS, {}, "a range, and nothing of the planner's is named for it"),
}
"""Kinds of which each case says something of its own: proofs and reasons by id, and the reason where there is none."""

NOT_THE_PLANNERS: Mapping[str, str] = {
    "across_plus1": "one group more than events: the planner leaves half a gap at both edges of a flat row, no whole one",
}
"""Kinds that no longer count, and why."""


def prove(case: dict[str, object]) -> None:
    """Prove a case. Raises NotThePlanners where it is no proof, and fails where the planner comes to another figure."""
    name, kind = str(case["id"]), str(case["kind"])
    if kind in ONE_BY_ONE:
        proofs, reasons, otherwise = ONE_BY_ONE[kind]
        if name not in proofs:
            raise NotThePlanners(reasons.get(name, otherwise))
        proof = proofs[name]
    elif kind in KINDS:
        proof = KINDS[kind]
    else:
        raise NotThePlanners(NOT_THE_PLANNERS.get(kind, f"no proof is known for cases of kind {kind!r}"))
    given = Figures(f"{name}: in", case["in"])
    wanted = Figures(f"{name}: out", {**case.get("derived", {}), **case.get("out", {})})
    proof(given, wanted)
    assert wanted.looked, f"{name}: of {', '.join(wanted)} no figure was looked at"
