"""What the plan goes by once the knitter has taken a way on: the gauge that was counted on the piece."""

from dataclasses import replace

from workshop.core.cloth.gauge import Gauge
from workshop.core.cloth.wash import DesignGauge
from workshop.project import Project


def as_taken(project: Project, gauge: DesignGauge | None) -> DesignGauge | None:
    """The gauge to plan from, with the stitches and rows of the way that was taken last, each where it has its own."""
    if gauge is None:
        return None
    stitches = next((t.stitches_per_10cm for t in reversed(project.taken) if t.stitches_per_10cm), None)
    rows = next((t.rows_per_10cm for t in reversed(project.taken) if t.rows_per_10cm), None)
    if stitches is None and rows is None:
        return gauge
    taken = replace(gauge, planned=gauge)
    if stitches is not None:
        fresh = _likewise(gauge.unwashed_stitches, gauge.stitches, stitches)
        taken = replace(taken, stitches=replace(gauge.stitches, per_10cm=stitches), unwashed_stitches=fresh)
    if rows is not None:
        fresh, flat = (_likewise(g, gauge.rows, rows) for g in (gauge.unwashed_rows, gauge.flat_rows))
        taken = replace(taken, rows=replace(gauge.rows, per_10cm=rows), unwashed_rows=fresh, flat_rows=flat)
    return taken


def _likewise(swatch: Gauge | None, planned: Gauge, taken: float) -> Gauge | None:
    """What the knitting counts from now on in another state, fresh from the needles or lying flat: the wash, and
    hanging, do to it what they did to the swatch.
    """
    return replace(swatch, per_10cm=swatch.per_10cm * taken / planned.per_10cm) if swatch is not None else None
