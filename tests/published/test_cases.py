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
from workshop.core.cloth.wash import dimensional_change_percent
from workshop.core.making.counts import rows_for, stitches_for, width_of
from workshop.core.making.edges import Cloth, as_fraction, pick_up_rate
from workshop.core.making.ledger import Event, Ledger
from workshop.core.making.necklines import crew_back, crew_front
from workshop.core.making.spacing import (
    Schedule,
    across,
    on_right_side,
    over_rows,
    positions,
    run_lengths,
    two_rates,
)
from workshop.core.working import EVEN, EVEN_DOWN, EVEN_UP, WHOLE, Rounding

FILE = Path(os.environ.get("WORKED_CASES") or Path(__file__).with_name("worked.toml"))
CASES: list[dict[str, Any]] = tomllib.loads(FILE.read_text(encoding="utf-8"))["case"]

LATER = {"eps_yoke", "topdown", "cap_conserve"}
"""Kinds of constructions that are still to come."""


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


def test_every_kind_is_run_or_named_as_still_to_come():
    run = {name.removeprefix("test_kind_") for name in globals() if name.startswith("test_kind_")}

    assert {c["kind"] for c in CASES} <= run | LATER
    assert not run & LATER


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
    total = 2 * sum(steps) + centre

    assert total == wanted["total"]


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


@pytest.mark.parametrize("case", of_kind("data"))
def test_kind_data(case):
    """Figures to be used as ranges, priors and misprints: each is at least a number of its kind."""
    wanted = expected(case)
    if "printed" in wanted and "correct" in wanted:  # a known misprint must not come out of a ledger
        ledger = Ledger("body", "round", 120)
        for _ in range(6):
            ledger.shape("stocking", Event("increase", "across", 4))
        assert ledger.stitches == wanted["correct"] != wanted["printed"]
        return
    numbers = [n for value in wanted["values"] for n in (value if isinstance(value, list) else [value])]
    assert all(math.isfinite(n) for n in numbers if not isinstance(n, str))
