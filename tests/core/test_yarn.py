"""Yarn quantity. Referees: Munden's constants; published bands and patterns of yarn needed."""

from dataclasses import replace

import pytest

from tests.factory import pullover, shaped, swatch
from workshop.core.cloth.yarn import grams_per_stitch, loop_length_cm, metres_per_m2
from workshop.core.plan import plan
from workshop.project import Body, Fit, Yarn

YARD_M = 0.9144


def metres(project) -> float:
    return plan(project).yarn.metres[1]


def unweighed(stitches: float, rows: float):
    return replace(swatch(stitches, rows), grams=None)


def test_loop_length_derived_from_mundens_kw():
    """20 stitches per 10 cm, kw 4.2: 2.1 cm of yarn in a stitch (derived); 28 stitches: 1.5 cm."""
    assert loop_length_cm(20) == pytest.approx(2.1)
    assert loop_length_cm(28) == pytest.approx(1.5)


@pytest.mark.parametrize(("stitches", "metres_m2"), [(20, 1100), (22, 1210), (28, 1540), (14, 770)])
def test_metres_in_a_square_metre(stitches, metres_m2):
    """100 × kc × stitches per cm (derived from the read constants)."""
    assert metres_per_m2(stitches) == pytest.approx(metres_m2)


def test_a_weighed_swatch_gives_grams_per_stitch_and_wins():
    weighed = plan(pullover()).yarn
    geometric = plan(pullover(swatch=(unweighed(20.0, 28.0),))).yarn

    assert grams_per_stitch(swatch()) == pytest.approx(18 / (36 * 48))
    assert weighed.basis == "weighed swatch"
    assert geometric.basis == "stitch geometry"
    spread = [(y.metres[2] - y.metres[0]) / y.metres[1] for y in (weighed, geometric)]
    assert spread[0] < spread[1]


@pytest.mark.parametrize("missing", ["grams", "cast_on", "rows"])
def test_a_weight_without_its_stitches_and_rows_is_not_guessed_from(missing):
    assert grams_per_stitch(replace(swatch(), **{missing: None})) is None


def test_both_sleeves_are_in_the_sum():
    now = plan(pullover())
    stitches = sum(p.stitches_worked for p in now.made.pieces)

    assert {p.name for p in now.made.pieces} >= {"left sleeve", "right sleeve"}
    assert now.yarn.grams[1] == pytest.approx(stitches * 18 / (36 * 48) * 1.05)


def test_balls_cover_the_cautious_figure():
    need = plan(pullover()).yarn

    assert need.balls * 100 >= need.grams[2] > (need.balls - 1) * 100
    assert need.balls_likely <= need.balls


def test_an_unknown_ball_is_not_counted():
    bare = pullover(yarn=(replace(pullover().yarn[0], ball_g=None, ball_m=None),), swatch=(unweighed(20.0, 28.0),))
    need = plan(bare).yarn

    assert need.metres is not None
    assert need.grams is None
    assert need.balls is None


def test_balls_sold_by_length_alone_are_counted_by_length():
    by_metre = pullover(yarn=(Yarn("a", "x", "medium", (), None, 200.0),), swatch=(unweighed(20.0, 28.0),))
    need = plan(by_metre).yarn

    assert need.balls == -(-need.metres[2] // 200)


@pytest.mark.parametrize(
    ("stitches", "rows", "fit", "low_yd", "high_yd"),
    [
        # a woman's S-M pullover, published bands (a knitwear maker's blog, 2024, read); low authority
        (20.0, 27.0, "standard", 800, 1400),  # worsted, fitted to looser
        (22.0, 30.0, "standard", 1000, 1600),  # DK
        (28.0, 38.0, "close", 1200, 1800),  # fingering
    ],
)
def test_a_womans_pullover_lands_in_the_published_bands(stitches, rows, fit, low_yd, high_yd):
    project = shaped(
        pullover(swatch=(unweighed(stitches, rows),), body=Body(source="table", table="women", size="S"), fit=Fit(fit)),
        length_cm=57.0,
    )
    likely_yd = metres(project) / YARD_M

    assert low_yd <= likely_yd <= high_yd
