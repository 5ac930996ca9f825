"""How thick a yarn is: linear density, and which weight it is by length and by gauge.

tex is grams in 1000 m (ISO 1144). Charts of length disagree with one another and with the gauge table, so every
category that fits is given.
"""

from workshop.project import Weight
from workshop.records import record
from workshop.tables.yarn_weights import all_weights, lengths


@record
class LinearDensity:
    """How thick a yarn is, by its length."""

    m_per_100g: float

    @property
    def tex(self) -> float:
        """Grams in 1000 m."""
        return 100_000 / self.m_per_100g


def weights_by_length(m_per_100g: float) -> tuple[Weight, ...]:
    """Every weight under which some chart lists so many metres in 100 g, finest first."""
    found = {row.id for row in lengths() if row.low <= m_per_100g <= row.high}
    return tuple(w.id for w in all_weights() if w.id in found)


def weights_by_gauge(stitches_per_10cm: float) -> tuple[Weight, ...]:
    """The weights whose published gauge holds so many stitches; in a gap of the table both neighbours."""
    table = all_weights()
    inside = tuple(w.id for w in table if w.stitches_low - 0.01 <= stitches_per_10cm <= w.stitches_high + 0.01)
    if inside:
        return inside
    finer = [w for w in table if w.stitches_low > stitches_per_10cm]
    thicker = [w for w in table if w.stitches_high < stitches_per_10cm]
    near = ([finer[-1].id] if finer else []) + ([thicker[0].id] if thicker else [])
    return tuple(near)


def tightness_words(factor: float) -> str:
    """What a tightness means for the cloth (common practice, no source; bounds derived)."""
    if factor < 0.85:
        return "open and drapey. Open fabric may grow, and show what's underneath"
    if factor < 1.0:
        return "on the soft side. Soft fabric is fine if you like it"
    if factor <= 1.15:
        return "as firm as most hand knitting"
    if factor <= 1.3:
        return "firm. Firm fabric wears well but has little drape"
    return "as firm as machine knitting, so it's stiff and hard on the hands"
