"""Cases of kind "data", one by one: a range, a prior, or a misprint that must not come out of the planner."""

from collections.abc import Callable, Mapping

import pytest

from tests.factory import pullover
from tests.published.reading import INCH, Figures, counted, washed
from workshop.core.cloth.gauge import NORMAL_95
from workshop.core.making import roles
from workshop.core.making.ledger import Event, Ledger
from workshop.core.plan import plan
from workshop.project import Design, Reading, Swatch
from workshop.tables.fibres import fibre
from workshop.tables.trade_rules import MEASURER_ERROR_CM, ease_band, rows_to_stitch, rule


def misprint(wanted: Figures) -> None:
    """120 body stitches and six rounds of four increases: the ledger does not come to the printed count."""
    ledger = Ledger(roles.BODY, "round", 120)
    for _ in range(6):
        ledger.shape("stockinette", Event("increase", "across", 4))
    assert ledger.stitches == wanted["correct"] != wanted["printed"]


def states_of_one_swatch(wanted: Figures) -> None:
    """Only the last state, washed and dry, is planned from; bound off and unwashed it is the tape's gauge."""
    on_needle, on_cable, bound_off, damp, dry = wanted["values"]
    states = (("off needles", bound_off), ("washed", dry))
    stitches = tuple(Reading(state, "stitches", count, 4 * INCH) for state, count in states)
    now = plan(pullover(swatch=(Swatch("A", yarn="a", reading=(*stitches, *counted("rows", 2.8, 2.8))),)))

    assert now.gauge.stitches.per_10cm == pytest.approx(dry / 4 / INCH * 10)
    assert now.gauge.unwashed_stitches.per_10cm == pytest.approx(bound_off / 4 / INCH * 10)
    chest = now.made.finished_cm["chest"]
    for other in (on_needle, on_cable, damp):  # planned from another state it would not fit as wished
        assert abs(chest * dry / other - chest) > 5.0


def flat_against_round(wanted: Figures) -> None:
    """About one stitch in 22, 4.5 %: more than the drift that the plan allows for."""
    for _, ring, flat in wanted["values"]:
        assert ring / flat - 1 == pytest.approx(0.045, abs=0.005)
        assert ring / flat - 1 > NORMAL_95 * rule("drift")


def asks_for_another_needle(before: float, after: float) -> bool:
    """Whether a plan asks so of cloth whose length went from one figure to another in the wash."""
    return "wash-change-large" in {c.code for c in washed((2.0, 2.0), (2.0, 2.0 * before / after)).checks}


def parts_of_a_garment(wanted: Figures) -> None:
    """Parts of one garment grew by 5 to 9 per cent in one wash: each within the limit that asks for another needle."""
    for before, after in wanted["values"]:
        assert 4 < washed((2.0, 2.0), (2.0, 2.0 * before / after)).gauge.length.percent < 9
        assert not asks_for_another_needle(before, after)


def extreme_wash(wanted: Figures) -> None:
    """A tape yarn beyond any correction, in length and in width."""
    for before, after in wanted["values"]:
        assert asks_for_another_needle(before, after)


def hung_rows(wanted: Figures) -> None:
    """23 rows became 21 under a weight, the width stayed: 9.5 % longer, and real."""
    (rows, stitches), (hung_rows, hung_stitches) = wanted["values"]
    counts = (
        ("washed", "stitches", stitches), ("hung", "stitches", hung_stitches),
        ("off needles", "rows", rows), ("hung", "rows", hung_rows),
    )  # fmt: skip
    reading = tuple(Reading(state, along, count, 4 * INCH) for state, along, count in counts for _ in range(3))
    gauge = plan(pullover(swatch=(Swatch("A", yarn="a", reading=reading),), design=Design("A", "hung"))).gauge

    assert gauge.length.percent == pytest.approx(9.5, abs=0.05)
    assert gauge.length.real
    assert gauge.stitches.state == "washed"  # it did not narrow, so the flat swatch gives the stitches


def alpaca_rib(wanted: Figures) -> None:
    before, after = wanted["values"][0]
    assert washed((2.0, 2.0), (2.0, 2.0 * before / after)).gauge.length.percent == pytest.approx(9.1, abs=0.05)
    assert fibre("alpaca").hang_test


def shape_ratio(wanted: Figures) -> None:
    assert rows_to_stitch() == wanted["values"][0]


def ease_classes(wanted: Figures) -> None:
    """Inches of the classes against our table in cm, within its printed rounding."""
    for word, low, high in wanted["values"]:
        ours = ease_band({"very close": "very-close"}.get(word, word))
        if ours[0] is not None:
            assert ours[0] == pytest.approx(low * INCH, abs=0.3)
        if ours[1] is not None and high < 90:
            assert ours[1] == pytest.approx(high * INCH, abs=0.3)


def measurer_error(wanted: Figures) -> None:
    for kind, millimetres in wanted["values"]:
        assert MEASURER_ERROR_CM[kind] == pytest.approx(millimetres / 10)


def proved(check: Callable[[Figures], None]) -> Callable[[Figures, Figures], None]:
    """Such a case is given nothing."""
    return lambda _given, wanted: check(wanted)


PROOFS: Mapping[str, Callable[[Figures, Figures], None]] = {
    name: proved(check)
    for name, check in {
        "yoke-in-progress-error": misprint,
        "swatch-states-24-to-20.5": states_of_one_swatch,
        "flat-vs-round-one-stitch": flat_against_round,
        "wash-garment-parts-differ": parts_of_a_garment,
        "wash-cotton-tape-15x15": extreme_wash,
        "hang-23-to-21-rows": hung_rows,
        "hang-alpaca-22-to-24": alpaca_rib,
        "munden-shape-ratio": shape_ratio,
        "ease-classes": ease_classes,
        "body-measure-error": measurer_error,
    }.items()
}
