"""Will the yarn last? From what the pieces weigh, the stitches in them, and what is left on the scale.

With A stitches done of T, and g grams in what is knitted, a stitch takes γ = g ÷ A. What is still needed is
γ × (T − A), and seams and ends. How sure that is, is worked out and simulated
(tests/core/test_knitting_simulated.py). Needle and bands are weighed apart; pieces and rest on the same day, for wool
follows the moisture of the room by 2 %.
"""

from math import hypot
from statistics import NormalDist
from typing import Literal

from workshop.core.calculation import Calculation, calculate
from workshop.core.cloth.gauge import NORMAL_95
from workshop.core.sums import figure
from workshop.records import record
from workshop.tables.trade_rules import rule

Basis = Literal["piece", "difference", "labels"]
"""How the grams in the pieces are known: weighed themselves, as what has left weighed balls, or by the labels."""

Verdict = Literal["enough", "probably", "open", "short"]

SCALE_SD_G = 0.29
"""Standard deviation of one weighing to a whole gram: 1 ÷ √12."""

DIFFERENCE_SD_G = 0.41
"""The same of the difference of two weighings."""

LOT = 0.035
"""Balls of one lot are off their label together by 2 to 5 per cent: half of it goes into the beginning (derived)."""

FABRIC = 0.04
"""Standard deviation of the yarn in a stitch between pieces of one garment (derived)."""

SEAMS = 0.012
"""The same of what seams and ends take, of all the yarn (derived)."""

OTHER_FABRIC = 0.05
"""Assumed for fabrics that were not swatched, as rib: their stitch takes as much, give or take this."""

FAR_OFF = 3.0
"""Standard deviations by which two estimates are never apart by chance (three sigma, the rule of control charts)."""

BOUNDS: tuple[tuple[Verdict, float], ...] = (("enough", 0.95), ("probably", 0.70), ("open", 0.30), ("short", 0.0))
"""Least chance that it lasts, for each verdict."""


@record
class YarnLeft:
    """What is needed to finish, beside what is left."""

    done: int
    """Stitches that were knitted when it was weighed."""
    used_g: float
    left_g: float
    need: Calculation
    """Grams to finish, likely."""
    spread_g: float
    """Standard deviation of it."""
    by_swatch_g: float | None = None
    """What the plan would still need, where that is too far off to be chance: a weight or a row was typed wrong."""

    @property
    def chance(self) -> float:
        """Chance that what is left is enough, 0 to 1."""
        return NormalDist().cdf((self.left_g - self.need.value) / self.spread_g)

    @property
    def verdict(self) -> Verdict:
        """The chance as a word."""
        return next(word for word, least in BOUNDS if self.chance >= least)

    @property
    def needed_g(self) -> tuple[float, float, float]:
        """Low, likely and high grams to finish (95 %)."""
        half = NORMAL_95 * self.spread_g
        return max(0.0, self.need.value - half), self.need.value, self.need.value + half

    def is_far_from(self, low_g: float, likely_g: float, high_g: float) -> bool:
        """Whether another estimate (with its 95 % range) is further off than chance would have it."""
        spread_g = hypot(self.spread_g, (high_g - low_g) / 2 / NORMAL_95)
        return abs(self.need.value - likely_g) > FAR_OFF * spread_g

    @property
    def short_g(self) -> tuple[float, float, float]:
        """Low, likely and high grams that are missing (95 %); none is below nought."""
        low, likely, high = self.needed_g
        return max(0.0, low - self.left_g), max(0.0, likely - self.left_g), max(0.0, high - self.left_g)


def yarn_left(
    *,
    done: int,
    in_all: int,
    used_g: float,
    left_g: float,
    basis: Basis,
    other_fabric: float = 0.0,
    sd_g: float | None = None,
) -> YarnLeft:
    """Whether what is left is enough for the stitches still to knit.

    ``done`` and ``in_all`` are stitches of the ledger, ``used_g`` the grams in the pieces, ``left_g`` what the scale
    says of the rest. ``other_fabric`` is the part of the stitches to come that is in a fabric which no piece or swatch
    has weighed. ``sd_g`` is the standard deviation of ``used_g``, where that is not from one weighing. Raises
    ValueError where nothing is knitted or weighed.
    """
    if done <= 0 or used_g <= 0:
        raise ValueError("nothing is knitted or weighed yet")
    to_come = in_all - done
    grams = figure("grams in the pieces", used_g, "g")
    per_stitch = grams / figure("stitches knitted", done, "stitches")
    seams = figure("seams and ends", rule("seams_and_ends"))
    need = per_stitch * figure("stitches to come", to_come, "stitches") + seams * per_stitch * figure(
        "stitches in all", in_all, "stitches"
    )
    working = calculate("knitting.yarn_needed", "Yarn to finish, with seams and ends", need, "g", source=SOURCE)
    return YarnLeft(done, used_g, left_g, working, _spread(done, in_all, used_g, basis, other_fabric, sd_g))


SOURCE = "grams to a stitch of what is knitted; seams: common practice, no source"


def _spread(done: int, in_all: int, used_g: float, basis: Basis, other_fabric: float, sd_g: float | None) -> float:
    """Standard deviation of what is needed, in grams: independent parts, root of the sum of squares."""
    gamma, to_come = used_g / done, in_all - done
    weighing = sd_g or {"piece": SCALE_SD_G, "difference": DIFFERENCE_SD_G}.get(basis)
    if weighing is None:
        weighing = hypot(DIFFERENCE_SD_G, LOT * used_g / max(done / in_all, 0.01))
    need = gamma * to_come
    parts = (need * weighing / used_g, need * FABRIC, SEAMS * gamma * in_all, need * OTHER_FABRIC * other_fabric)
    return hypot(*parts, DIFFERENCE_SD_G)
