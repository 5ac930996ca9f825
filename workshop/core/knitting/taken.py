"""What the plan goes by once the knitter has taken a way on: the gauge that was counted on the piece."""

from dataclasses import replace

from workshop.core.cloth.wash import DesignGauge
from workshop.project import Project


def as_taken(project: Project, gauge: DesignGauge | None) -> DesignGauge | None:
    """The gauge to plan from, with the stitches and rows of the way that was taken last, each where it has its own."""
    if gauge is None:
        return None
    stitches = next((t.stitches_per_10cm for t in reversed(project.taken) if t.stitches_per_10cm), None)
    rows = next((t.rows_per_10cm for t in reversed(project.taken) if t.rows_per_10cm), None)
    if stitches is not None:
        gauge = replace(gauge, stitches=replace(gauge.stitches, per_10cm=stitches))
    if rows is not None:
        gauge = replace(gauge, rows=replace(gauge.rows, per_10cm=rows))
    return gauge
