"""Published worked examples through public functions of the core.

Each case names its source (title and address) in ``worked.toml``; figures under ``out`` are the source's
own, figures under ``derived`` go on from them and are never called published. WORKED_CASES may name
another file of the same form.
"""

import math
import os
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from tests.formula import work_out
from workshop.core.cloth.gauge import NORMAL_95, gauge_of
from workshop.core.cloth.wash import change_of, dimensional_change_percent
from workshop.core.making.caps import Step, decreases_to, work_cap
from workshop.core.making.counts import rows_for, stitches_for, width_of
from workshop.core.making.edges import Cloth, as_fraction, pick_up_rate
from workshop.core.making.ledger import Event, Ledger
from workshop.core.making.necklines import crew_back, crew_front
from workshop.core.making.raglans import from_neck
from workshop.core.making.shoulders import short_row_lengths
from workshop.core.making.spacing import (
    Schedule,
    across,
    on_right_side,
    over_rows,
    positions,
    run_lengths,
    two_rates,
)
from workshop.core.making.yokes import by_percentages
from workshop.core.working import EVEN, EVEN_DOWN, EVEN_UP, WHOLE, Rounding
from workshop.project import Reading
from workshop.tables.fibres import fibre
from workshop.tables.practice import MEASURER_ERROR_CM, ease_band, rows_to_stitch, rule

INCH = 2.54

FILE = Path(os.environ.get("WORKED_CASES") or Path(__file__).with_name("worked.toml"))
CASES: list[dict[str, Any]] = tomllib.loads(FILE.read_text(encoding="utf-8"))["case"]


def of_kind(kind: str) -> list[Any]:
    return [pytest.param(c, id=c["id"]) for c in CASES if c["kind"] == kind]


def expected(case: dict[str, Any]) -> dict[str, Any]:
    """What must come out: the source's figures, and what was derived from them."""
    return {**case.get("derived", {}), **case.get("out", {})}


def rounding(words: str) -> Rounding | None:
    """A rounding as the case file writes it."""
    known = {
        "nearest": WHOLE,
        "even-nearest": EVEN,
        "even-down": EVEN_DOWN,
        "even-up": EVEN_UP,
        "down": Rounding(direction="down"),
        "up": Rounding(direction="up"),
        "none": None,
    }
    if words in known:
        return known[words]
    _, rule, direction = words.split()
    multiple, remainder = map(int, rule.split("="))
    return Rounding(multiple, remainder, direction)  # type: ignore[arg-type]


def arithmetic(text: str) -> float:
    """The plain arithmetic of a case, as printed."""
    if text.startswith("round("):
        inner, places = text.removeprefix("round(").removesuffix(")").split(",")
        return round(arithmetic(inner), int(places))
    return work_out(text.replace("*", "×").replace("/", "÷").replace("-", "−"), {})


def test_every_kind_of_case_is_run():
    run = {name.removeprefix("test_kind_") for name in globals() if name.startswith("test_kind_")}

    assert {c["kind"] for c in CASES} <= run


def test_derived_figures_are_kept_apart_from_published_ones():
    for case in CASES:
        assert case["how"] in ("read", "memory"), case["id"]
        assert not set(case.get("out", {})) & set(case.get("derived", {})), case["id"]


@pytest.mark.parametrize("case", of_kind("stitches"))
def test_kind_stitches(case):
    given, wanted = case["in"], expected(case)
    count, over = given["gauge"]
    working = stitches_for("x", "x", given["width"], count / over * 10, rounding(given["rounding"]) or WHOLE)

    assert working.exact == pytest.approx(wanted["raw"])
    assert working.count == wanted["stitches"]
    if "cast_on" in wanted:
        assert working.count + given["selvedge"] == wanted["cast_on"]


@pytest.mark.parametrize("case", of_kind("rows"))
def test_kind_rows(case):
    given, wanted = case["in"], expected(case)
    count, over = given["row_gauge"]
    working = rows_for("x", "x", given["length"], count / over * 10, rounding(given["rounding"]) or WHOLE)

    assert working.exact == pytest.approx(wanted["raw"])
    assert working.count == wanted["rows"]


@pytest.mark.parametrize("case", of_kind("width"))
def test_kind_width(case):
    given, wanted = case["in"], expected(case)
    count, over = given["gauge"]
    width = width_of("x", "x", given["stitches"], count / over * 10).value

    assert round(width, given["places"]) == pytest.approx(wanted["width"])


@pytest.mark.parametrize("case", of_kind("expr"))
def test_kind_expr(case):
    value, wanted = arithmetic(case["in"]["expr"]), expected(case)
    if case["id"] == "wash-denim-15-to-13":  # also as a dimensional change, ISO 5077
        assert 1 / (1 + dimensional_change_percent(15, 13) / 100) == pytest.approx(wanted["value"], abs=0.0005)
        assert value == pytest.approx(wanted["value"])
    else:
        assert value == pytest.approx(wanted["value"])


@pytest.mark.parametrize("case", of_kind("multi"))
def test_kind_multi(case):
    for (text, how), value in zip(case["in"]["items"], expected(case)["values"], strict=False):
        rule = rounding(how)
        raw = arithmetic(text)
        assert (rule(raw) if rule else raw) == pytest.approx(value), text


def counted(schedule: Schedule) -> list[list[int]]:
    """Gaps with how often each is used, whatever their order."""
    return sorted([gap, schedule.gaps.count(gap)] for gap in set(schedule.gaps))


@pytest.mark.parametrize("case", of_kind("spacing_rows"))
def test_kind_spacing_rows(case):
    given, wanted = case["in"], expected(case)
    schedule = over_rows(given["rows"], given["events"])

    assert sum(schedule.gaps) == given["rows"]
    assert schedule.event_rows[-1] == given["rows"]
    if "intervals" in wanted:
        assert counted(schedule) == sorted(wanted["intervals"])
    if "quotient" in wanted:
        assert min(schedule.gaps) == wanted["quotient"]
    if "remainder" in wanted:
        assert schedule.gaps.count(min(schedule.gaps) + 1) == wanted["remainder"]
    if "stitches_changed" in wanted:
        ledger = Ledger("x", "round", 0)
        ledger.work_schedule(schedule.event_rows, given["rows"], "stocking", Event("increase", "both", 1))
        assert ledger.stitches == wanted["stitches_changed"]


@pytest.mark.parametrize("case", of_kind("spacing_rs"))
def test_kind_spacing_rs(case):
    given, wanted = case["in"], expected(case)
    schedule = on_right_side(given["rows"], given["events"], closing=True)

    if "intervals" in wanted:
        assert counted(schedule) == sorted(wanted["intervals"])
    if "gaps" in wanted:
        assert sorted(schedule.gaps) == sorted(wanted["gaps"])
    assert schedule.used == wanted["used"]
    assert schedule.left == wanted["left"]


@pytest.mark.parametrize("case", of_kind("two_rate"))
def test_kind_two_rate(case):
    wanted = expected(case)
    rates = dict(two_rates(case["in"]["rows"], case["in"]["events"]))

    assert rates.get(2, 0) == wanted["every2"]
    assert rates.get(4, 0) == wanted["every4"]


@pytest.mark.parametrize("case", of_kind("alternating"))
def test_kind_alternating(case):
    given, wanted = case["in"], expected(case)
    gaps = tuple(given["pair"]) * given["pairs"]
    ledger = Ledger("sleeve", "round", 200)
    at = [sum(gaps[: i + 1]) for i in range(len(gaps))]
    ledger.work_schedule(at, sum(gaps), "stocking", Event("decrease", "both", 1))

    assert sum(1 for r in ledger.rows if r.events) == wanted["events"]
    assert len(ledger.rows) == wanted["rows"]
    assert 200 - ledger.stitches == wanted["stitches_removed"]


@pytest.mark.parametrize("case", of_kind("schedule"))
def test_kind_schedule(case):
    wanted = expected(case)
    gaps = [gap for gap, times in case["in"]["schedule"] for _ in range(times)]

    assert [list(g) for g in run_lengths(gaps)] == case["in"]["schedule"]
    assert len(gaps) == wanted["events"]
    assert sum(gaps) == wanted["rows"]


@pytest.mark.parametrize("case", of_kind("ledger"))
def test_kind_ledger(case):
    given, wanted = case["in"], expected(case)
    total = WHOLE(arithmetic(given["total_rows_expr"]))
    at = [given["first_event_row"] + i * given["interval"] for i in range(given["more"] + 1)]
    ledger = Ledger("sleeve", "flat", given["start"])
    ledger.work(given["plain"], "garter")
    events = [row - given["plain"] for row in at]
    ledger.work_schedule(events, total - given["plain"], "stocking", Event("increase", "both", given["per_event"] // 2))
    piece = ledger.piece()
    shaped = [r for r in piece.rows if r.events]

    assert [r.row for r in shaped] == wanted["event_rows"]
    assert shaped[0].after == wanted["after_first"]
    assert piece.bound_off == wanted["end"]
    assert len(piece.rows) == wanted["total_rows"]
    assert piece.last_row - shaped[-1].row == wanted["rows_left"]


@pytest.mark.parametrize("case", of_kind("across"))
def test_kind_across(case):
    given, wanted = case["in"], expected(case)
    groups = across(given["stitches"], given["events"])

    assert [list(g) for g in run_lengths(groups)] == wanted["groups"]
    assert given["stitches"] + given["events"] * given["change"] == wanted["end"]


@pytest.mark.parametrize("case", of_kind("across_plus1"))
def test_kind_across_plus1(case):
    given, wanted = case["in"], expected(case)
    groups = across(given["stitches"], given["events"], extra_group=True)

    assert [list(g) for g in run_lengths(groups)] == wanted["groups"]
    if "remainder" in wanted:
        assert groups.count(max(groups)) == wanted["remainder"]


@pytest.mark.parametrize("case", of_kind("positions"))
def test_kind_positions(case):
    given = case["in"]

    assert list(positions(given["stitches"], given["events"], given["mode"])) == expected(case)["positions"]


@pytest.mark.parametrize("case", of_kind("conserve"))
def test_kind_conserve(case):
    given, wanted = case["in"], expected(case)
    for i, start in enumerate(given["start"]):
        ledger = Ledger("back", "flat", start)
        ledger.shape("stocking", Event("bind-off", "both", given["bind_off"][i] // 2))
        for _ in range(given["dec2_times"][i]):
            ledger.shape("stocking", Event("decrease", "both", 1))
        assert ledger.stitches == wanted["end"][i]


@pytest.mark.parametrize("case", of_kind("neck"))
def test_kind_neck(case):
    wanted = expected(case)
    front, back = crew_front(case["in"]["width"]), crew_back(case["in"]["width"])

    assert (front.centre, list(front.steps)) == (wanted["front_centre"], wanted["front_steps"])
    assert (back.centre, list(back.steps)) == (wanted["back_centre"], wanted["back_steps"])


@pytest.mark.parametrize("case", of_kind("shortrow"))
def test_kind_shortrow(case):
    steps, centre, wanted = case["in"]["steps_from_edge"], case["in"]["centre"], expected(case)
    lengths = list(short_row_lengths(steps, centre))

    assert lengths[-1] == wanted["total"]
    if "first_lengths" in wanted:
        assert lengths[: len(wanted["first_lengths"])] == wanted["first_lengths"]
    if "worked_lengths" in wanted:
        assert lengths == wanted["worked_lengths"]


@pytest.mark.parametrize("case", of_kind("topdown"))
def test_kind_topdown(case):
    given, wanted = case["in"], expected(case)
    for i, cast_on in enumerate(given["cast_on"]):
        counts = from_neck(cast_on, given["sleeve_top"], given["inc_rows"][i])
        assert (counts.total, counts.sleeve, counts.body) == (
            wanted["total"][i],
            wanted["sleeve"][i],
            wanted["body"][i],
        )


@pytest.mark.parametrize("case", of_kind("eps_yoke"))
def test_kind_eps_yoke(case):
    given, wanted = case["in"], expected(case)
    counts = by_percentages(given["K"], given["sleeve"], given["underarm"], [Fraction(*k) for k in given["keep"]])

    assert counts.sleeve == wanted["sleeve_sts"]
    assert counts.underarm == wanted["underarm_sts"]
    assert counts.yoke == wanted["yoke"]
    for ours, printed in zip(counts.after, wanted["chain"], strict=True):
        assert abs(ours - printed) <= wanted.get("tolerance", 0)
    assert counts.neck_fraction == pytest.approx(wanted["neck_fraction"], abs=0.01)
    if "yoke_depth_in" in wanted:  # the same source knits 5 stitches to the inch (case bust-5x40-200)
        assert counts.depth_stitches / 5 == pytest.approx(wanted["yoke_depth_in"])


@pytest.mark.parametrize("case", of_kind("cap_conserve"))
def test_kind_cap_conserve(case):
    given, wanted = case["in"], expected(case)
    for i, start in enumerate(given["start"]):
        ledger = Ledger("cap", "flat", start)
        work_cap(ledger, [Step("bind-off", given["bo1"][i], 1, 1), Step("decrease", 1, 1, given["every_row"])])
        work_cap(ledger, [Step("decrease", 1, 2, given["alt"])])
        slow = decreases_to(ledger.stitches, given["to_every4"][i], 4)
        work_cap(ledger, [slow])
        quick = decreases_to(ledger.stitches, given["to_alt"], 2)
        work_cap(
            ledger, [quick, Step("decrease", 1, 1, given["last_every_row"]), Step("bind-off", given["bo_last"], 1, 1)]
        )
        assert ledger.stitches == wanted["end"][i]
        for name, found in (("every4_times", slow.times), ("alt_times", quick.times), ("cap_rows", len(ledger.rows))):
            if name in wanted:
                assert found == wanted[name][i]


@pytest.mark.parametrize("case", of_kind("pickup"))
def test_kind_pickup(case):
    (stitches, over), (rows, along), wanted = case["in"]["gauge"], case["in"]["row_gauge"], expected(case)
    rate = pick_up_rate(Cloth(stitches / over * 10, rows / along * 10))

    assert rate == pytest.approx(Fraction(*wanted["fraction"]))
    assert as_fraction(rate, wanted["fraction"][1]) == Fraction(*wanted["fraction"])
    if "split" in wanted:
        assert [sum(x) for x in zip(*wanted["split"], strict=True)] == wanted["fraction"]


@pytest.mark.parametrize("case", of_kind("pickup_slope"))
def test_kind_pickup_slope(case):
    stitches, rows = case["in"]["ratio"]
    cloth, wanted = Cloth(10.0 * stitches, 10.0 * rows), expected(case)

    assert pick_up_rate(cloth) == pytest.approx(Fraction(*wanted["straight"]))
    assert pick_up_rate(cloth, 1, 4) == pytest.approx(Fraction(*wanted["every4"]), abs=0.02)
    low, high = wanted["every2_between"]
    assert low <= pick_up_rate(cloth, 1, 2) <= high


@pytest.mark.parametrize("case", of_kind("wash"))
def test_kind_wash(case):
    given, wanted = case["in"], expected(case)
    (gu, hu), (g, h) = given["unwashed"], given["washed"]
    rows = rows_for("x", "x", given["finished_length"], 10 * h)  # gauges per unit; the core wants them per ten
    width = 1 + dimensional_change_percent(1 / gu, 1 / g) / 100
    length = 1 + dimensional_change_percent(1 / hu, 1 / h) / 100

    assert rows.exact == pytest.approx(wanted["rows_exact"])
    assert given["finished_length"] / length == pytest.approx(wanted["as_knit_length"], abs=0.001)
    assert width == pytest.approx(wanted["width_factor"], abs=0.0005)
    assert length == pytest.approx(wanted["length_factor"], abs=0.0005)


def _misprint(wanted: dict[str, Any]) -> None:
    """120 body stitches and six rounds of four increases: the ledger does not come to the printed count."""
    ledger = Ledger("body", "round", 120)
    for _ in range(6):
        ledger.shape("stocking", Event("increase", "across", 4))
    assert ledger.stitches == wanted["correct"] != wanted["printed"]


def _states_of_one_swatch(wanted: dict[str, Any]) -> None:
    """Only the last state, washed and dry, is the design gauge: the needle would be off by far more than 3 %."""
    counts = wanted["values"]
    dry = gauge_of([Reading("washed", "stitches", counts[-1], 4 * INCH)])
    for other in counts[:3]:
        assert abs(other / 4 / INCH * 10 / dry.per_10cm - 1) > 0.02


def _flat_against_round(wanted: dict[str, Any]) -> None:
    """About one stitch in 22, 4.5 %: more than the drift that the plan allows for."""
    for _, ring, flat in wanted["values"]:
        assert ring / flat - 1 == pytest.approx(0.045, abs=0.005)
        assert ring / flat - 1 > NORMAL_95 * float(rule("drift")["fraction"])


def _parts_of_a_garment(wanted: dict[str, Any]) -> None:
    """Parts of one garment grew by 5 to 9 per cent in one wash: each within the limit that asks for another needle."""
    for before, after in wanted["values"]:
        assert 4 < dimensional_change_percent(before, after) < 100 * float(rule("wash_limit")["fraction"])


def _extreme_wash(wanted: dict[str, Any]) -> None:
    """A tape yarn beyond any correction: 15 % is passed in length and in width."""
    for before, after in wanted["values"]:
        assert abs(dimensional_change_percent(before, after)) > 100 * float(rule("wash_limit")["fraction"])


def _hung_rows(wanted: dict[str, Any]) -> None:
    """23 rows became 21 under a weight, the width stayed: 9.5 % longer, and real."""
    (rows, stitches), (hung_rows, hung_stitches) = wanted["values"]
    flat = gauge_of([Reading("washed", "rows", rows, 4 * INCH)] * 3)
    hung = gauge_of([Reading("hung", "rows", hung_rows, 4 * INCH)] * 3)
    change = change_of(flat, hung)
    assert change.percent == pytest.approx(9.5, abs=0.05)
    assert change.real
    assert stitches == hung_stitches


def _alpaca_rib(wanted: dict[str, Any]) -> None:
    before, after = wanted["values"][0]
    assert dimensional_change_percent(before, after) == pytest.approx(9.1, abs=0.05)
    assert fibre("alpaca").hang_test


def _shape_ratio(wanted: dict[str, Any]) -> None:
    assert rows_to_stitch() == wanted["values"][0]


def _ease_classes(wanted: dict[str, Any]) -> None:
    """Inches of the classes against our table in cm, within its printed rounding."""
    for word, low, high in wanted["values"]:
        ours = ease_band({"very close": "very-close"}.get(word, word))
        if ours[0] is not None:
            assert ours[0] == pytest.approx(low * INCH, abs=0.3)
        if ours[1] is not None and high < 90:
            assert ours[1] == pytest.approx(high * INCH, abs=0.3)


def _measurer_error(wanted: dict[str, Any]) -> None:
    for kind, millimetres in wanted["values"]:
        assert MEASURER_ERROR_CM[kind] == pytest.approx(millimetres / 10)


DATA = {
    "yoke-in-progress-error": _misprint,
    "swatch-states-24-to-20.5": _states_of_one_swatch,
    "flat-vs-round-one-stitch": _flat_against_round,
    "wash-garment-parts-differ": _parts_of_a_garment,
    "wash-cotton-tape-15x15": _extreme_wash,
    "hang-23-to-21-rows": _hung_rows,
    "hang-alpaca-22-to-24": _alpaca_rib,
    "munden-shape-ratio": _shape_ratio,
    "ease-classes": _ease_classes,
    "body-measure-error": _measurer_error,
}
"""What each case of kind "data" is used as: a range, a prior or a negative test."""


@pytest.mark.parametrize("case", of_kind("data"))
def test_kind_data(case):
    """Figures used as what they are. A file put in place of ours may hold others: those must at least be numbers."""
    wanted = expected(case)
    if case["id"] in DATA:
        DATA[case["id"]](wanted)
        return
    if {"printed", "correct"} <= set(wanted):
        assert wanted["printed"] != wanted["correct"]
        return
    values = wanted.get("values", list(wanted.values()))
    numbers = [n for value in values for n in (value if isinstance(value, list) else [value])]
    assert all(math.isfinite(n) for n in numbers if not isinstance(n, str))
