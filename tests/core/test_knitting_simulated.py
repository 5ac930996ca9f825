"""The check of a piece against its swatch, simulated: how often it alarms, what it finds, and what following it brings.

Half of the knitters knit as their swatch, half 2 to 8 % off either way, all with 1 % drift before the check and 0.5 %
after it; three places of 10 to 14 cm on the swatch, unwashed and washed, three of 25 cm on the piece (or three side by
side in one stretch of 25 cm, counted on); stitches uneven by 3 to 7 %; counts to a quarter, half of the eyes off by up
to half a step; casts-on in fours. Referee: numpy makes the fabric. ``pytest -s`` prints the shares.
"""

from dataclasses import dataclass

import numpy as np
import pytest

from workshop.core.calculation import Rounding
from workshop.core.cloth.gauge import Gauge, gauge_of
from workshop.core.knitting.compared import Comparison, compare, predicted_cm
from workshop.core.knitting.doubt import t_975
from workshop.core.knitting.ways import Standing, ways
from workshop.core.knitting.yarn_left import BOUNDS, yarn_left
from workshop.project import Reading

BANDS = ((1.2, 1.5), (1.5, 2.0), (2.0, 2.6), (2.6, 3.2))
"""Stitches per cm."""


@dataclass(frozen=True, slots=True)
class Knitter:
    """One simulated knitter: what was counted, and what her piece truly is after its wash."""

    comparison: Comparison
    after_per_cm: float
    swatch_washed: Gauge


def knitters(many, seed, *, off, drift=(0.0, 0.0), band=(1.2, 3.2), one_stretch=False, marked=False):
    """A seeded class; ``off`` draws the difference of each from its generator, as a logarithm."""
    rng = np.random.default_rng(seed)
    per_cm, uneven = rng.uniform(*band, (many, 1)), rng.uniform(0.03, 0.07, (many, 1))
    eye = rng.uniform(-0.125, 0.125, (many, 1)) * (rng.random((many, 1)) < 0.5)
    wash = np.exp(rng.uniform(-0.06, 0.06, (many, 1)))
    before, after = drift[0] * rng.standard_normal((many, 1)), drift[1] * rng.standard_normal((many, 1))
    apart = off(rng, (many, 1)) + before

    def quarters(of):
        return np.round((of + eye) * 4) / 4

    def true_counts(gauge, window):
        expected = gauge * window
        return expected + uneven * expected**0.5 * rng.standard_normal((many, 3))

    window = rng.integers(10, 15, (many, 1)).astype(float)
    swatch = true_counts(per_cm, window)
    washed = swatch * wash if marked else true_counts(per_cm * wash, window)
    piece_window = 25 / 3 if one_stretch else 25.0
    piece = true_counts(per_cm * np.exp(apart), piece_window)
    piece = np.diff(quarters(np.cumsum(piece, axis=1)), axis=1, prepend=0) if one_stretch else quarters(piece)
    rows = zip(quarters(swatch), quarters(washed), piece, window[:, 0], strict=True)
    for (u, w, v, wide), true in zip(rows, (per_cm * wash * np.exp(apart + after))[:, 0], strict=True):
        fresh, flat, knitted = (
            gauge_of([Reading("washed", "stitches", float(count), float(cm)) for count in counts])
            for counts, cm in ((u, wide), (w, wide), (v, piece_window))
        )
        yield Knitter(compare(fresh, flat, knitted, marked=marked, one_stretch=one_stretch), float(true), flat)


def by(percent):
    """Everyone off by so many per cent, half of them either way."""
    return lambda rng, shape: np.log1p(percent / 100 * rng.choice((-1, 1), shape))


def found(*args, **kwargs):
    """Share of knitters who are told that their knitting really differs."""
    return float(np.mean([k.comparison.real for k in knitters(*args, **kwargs)]))


@pytest.mark.parametrize("one_stretch", [False, True], ids=["three places", "one stretch"])
def test_where_nothing_differs_at_most_one_in_twenty_is_alarmed(one_stretch):
    share = found(4000, 1, off=by(0), one_stretch=one_stretch)
    print(f"alarmed without cause: {share:.3f}")

    assert share <= 0.05


@pytest.mark.parametrize("band", BANDS, ids=str)
def test_four_per_cent_is_found_nine_times_in_ten_in_every_band(band):
    share = found(1500, 2, off=by(4), band=band)
    print(f"4 % found at {band} stitches per cm: {share:.3f}")

    assert share >= 0.9


def test_in_one_stretch_too_though_less_often_in_thick_yarn():
    whole, thick = (found(3000, 3, off=by(4), band=b, one_stretch=True) for b in ((1.2, 3.2), BANDS[0]))
    print(f"4 % found within one stretch: {whole:.3f}, {thick:.3f} at 12 to 15 stitches")

    assert whole >= 0.9
    assert thick >= 0.8


def half_off(rng, shape):
    """Half as their swatch, half 2 to 8 % off either way."""
    size = rng.uniform(0.02, 0.08, shape) * rng.choice((-1, 1), shape)
    return np.log1p(size) * (rng.random(shape) < 0.5)


IN_FOURS = Rounding(4)


def followed(seed, along, **kwargs):
    """ln(what came out ÷ wanted) of a class, without the check and with its recommended way always taken."""
    rng = np.random.default_rng(seed + 1000)
    alone, checked = [], []
    for knitter in knitters(3000, seed, drift=(0.01, 0.005), **kwargs):
        wanted = float(rng.uniform(80, 120) if along == "stitches" else rng.uniform(50, 70))
        per_cm = knitter.swatch_washed.per_10cm / 10
        planned = IN_FOURS(wanted * per_cm) if along == "stitches" else 2 * round(wanted * per_cm / 2)
        alone.append(np.log(planned / knitter.after_per_cm / wanted))
        taken = _taken(knitter, wanted, planned, along)
        checked.append(np.log(taken / knitter.after_per_cm / wanted))
    spans = [np.percentile(each, (2.5, 97.5)) for each in (alone, checked)]
    print(f"{along}: sd {np.std(alone):.4f} without, {np.std(checked):.4f} with; 2.5 to 97.5 %: {spans}")
    return float(np.std(checked) / np.std(alone))


def _taken(knitter, wanted, planned, along):
    across, counted = along == "stitches", knitter.comparison
    standing = Standing(
        chest_cm=wanted if across else 100.0,
        chest_stitches=planned if across else 200,
        length_cm=60.0 if across else wanted,
        length_rows=170 if across else planned,
        rows_worked=30,
        edging_rows=16,
        rows_to_underarm=80,
        share_done=0.1,
        stitches_of_piece=planned // 2 if across else 100,
    )
    best = next(w for w in ways(counted if across else None, None if across else counted, standing) if w.recommended)
    if across:
        return IN_FOURS(best.stitches) if best.stitches else planned
    return 2 * round(wanted * counted.after_per_10cm / 20) if best.code == "rows-anew" else planned


@pytest.mark.parametrize("along", ["stitches", "rows"])
@pytest.mark.parametrize("marked", [False, True], ids=["other places", "marked places"])
def test_following_it_at_least_halves_what_is_off(along, marked):
    assert followed(4, along, off=half_off, marked=marked) <= 0.5


@pytest.mark.parametrize("along", ["stitches", "rows"])
def test_and_does_no_harm_where_there_is_drift_alone(along):
    assert followed(5, along, off=by(0)) <= 1.02


@pytest.mark.parametrize("marked", [False, True], ids=["other places", "marked places"])
def test_the_predicted_range_holds_what_comes_out(marked):
    held = []
    for knitter in knitters(3000, 6, off=half_off, drift=(0.01, 0.005), marked=marked):
        low, _, high = predicted_cm(200, knitter.comparison)
        held.append(low <= 200 / knitter.after_per_cm <= high)
    print(f"range holds the truth: {np.mean(held):.3f}")

    assert np.mean(held) >= 0.93


def test_yarn_that_is_called_enough_is_enough():
    """The verdicts, over garments at 15 to 90 % done, weighed to a gram, with 4 % between pieces."""
    rng = np.random.default_rng(7)
    outcome = {word: [] for word, _ in BOUNDS}
    for _ in range(8000):
        in_all = int(rng.integers(30_000, 120_000))
        done = int(in_all * rng.uniform(0.15, 0.9))
        gamma = rng.uniform(0.004, 0.012)
        needed = gamma * (in_all - done) * (1 + 0.04 * rng.standard_normal())
        needed += gamma * in_all * (0.05 + 0.012 * rng.standard_normal())
        left = max(1.0, needed * (1 + 0.08 * rng.standard_normal()))
        told = yarn_left(done=done, in_all=in_all, used_g=round(gamma * done), left_g=round(left), basis="piece")
        outcome[told.verdict].append(left >= needed)
    shares = {word: float(np.mean(each)) for word, each in outcome.items()}
    print(f"lasts, by verdict: {shares}")
    upper = 1.0
    for word, least in BOUNDS:
        assert least - (0.01 if word == "enough" else 0.0) <= shares[word] <= upper
        upper = least


def test_students_t_between_whole_degrees_of_freedom():
    """Referee: scipy."""
    stats = pytest.importorskip("scipy.stats")
    for freedom in np.arange(4, 400, 0.7):
        assert t_975(float(freedom)) == pytest.approx(stats.t.ppf(0.975, freedom), rel=0.003)


def test_a_raglan_from_the_neck_has_fewer_increases_where_its_body_is_to_be_narrower():
    """A yoke from the neck only widens, so nothing is decreased along its lines (common practice, no source)."""
    lines = Standing(100.0, 200, 60.0, 170, 30, 16, 80, 0.1, 200, along_lines=True)
    told = {
        (
            way.remark.text.format(**way.remark.values).split()[4],
            str(way.remark.values["than"]),
            way.stitches > lines.chest_stitches,
        )
        for knitter in knitters(40, 9, off=lambda rng, size: 0.08 * rng.choice((-1, 1), size))
        for way in ways(knitter.comparison, None, lines)
        if way.code == "sides"
    }

    assert told == {("increase", "more", True), ("increase", "fewer", False)}
