"""Round yokes by percentages of the body: a family of rules in print since the 1970s, with its built-in check.

Body K; sleeve about a third of it; 8 per cent of K left at each underarm of body and of sleeve; the yoke
then has K + 2 sleeves − 4 underarms stitches, and rounds that keep a fraction of them lead to a neck of
about 40 per cent (tests/published: two thirds three times).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from workshop.core.working import WHOLE


@dataclass(frozen=True, slots=True)
class YokeCounts:
    """Counts of a yoke: what joins, and what is left after each decrease round."""

    body: int
    sleeve: int
    underarm: int
    yoke: int
    after: tuple[int, ...]

    @property
    def neck_fraction(self) -> float:
        """Neck stitches as a part of the body's."""
        return (self.after[-1] if self.after else self.yoke) / self.body

    @property
    def depth_stitches(self) -> float:
        """Depth of the yoke, as the width of so many stitches: a quarter of the body (rule in print)."""
        return self.body / 4


def by_percentages(body: int, sleeve: float, underarm: float, keep: Sequence[Fraction]) -> YokeCounts:
    """Counts for a body of so many stitches; ``keep`` is what each decrease round leaves of the ones before."""
    sleeve_stitches, underarm_stitches = WHOLE(body * sleeve), WHOLE(body * underarm)
    yoke = body + 2 * sleeve_stitches - 4 * underarm_stitches
    after, left = [], Fraction(yoke)
    for fraction in keep:
        left *= fraction
        after.append(WHOLE(float(left)))
    return YokeCounts(body, sleeve_stitches, underarm_stitches, yoke, tuple(after))
