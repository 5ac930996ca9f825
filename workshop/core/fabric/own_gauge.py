"""The gauge of a garment's fabric: that of a swatch in it, else that of the chosen swatch, taken as less sure."""

from collections.abc import Sequence
from dataclasses import replace

from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.cloth.wash import DesignGauge, design_gauge
from workshop.core.fabric.patterns import PLAIN, Pattern, pattern_of
from workshop.core.notes import Notes
from workshop.project import Project


def gauge_of_fabric(
    project: Project, chosen: DesignGauge, swatches: Sequence[MeasuredSwatch], notes: Notes
) -> DesignGauge:
    """The gauge to plan from: of a swatch in the garment's fabric, in the same yarn and state.

    Of several the one that the pattern names; else the chosen one; else one on the same needle; else the first.
    """
    pattern = pattern_of(project, project.garment.fabric)
    name = pattern.id if pattern else PLAIN
    if pattern is None:
        _check_plain(project, chosen, notes)
        return chosen
    found = gauge_in(project, name, chosen, swatches)
    if found is None:
        notes.check("fabric-unswatched", pattern=pattern.name, id=chosen.swatch.id)
    return found or replace(chosen, unswatched=True)


def gauge_in(
    project: Project, name: str, chosen: DesignGauge, swatches: Sequence[MeasuredSwatch]
) -> DesignGauge | None:
    """The gauge of a fabric from a swatch in it, in the yarn and state of the chosen one; None without one."""
    gauges = [found for known in swatches if (found := _in_fabric(project, chosen, name, known)) is not None]
    named = next((p.swatch for p in project.stitch_pattern if p.id == name), None)
    wanted = (
        lambda g: g.swatch.id == named,
        lambda g: g.swatch.id == chosen.swatch.id,
        lambda g: g.swatch.needle_mm == chosen.swatch.needle_mm,
        lambda _g: True,
    )
    return next((g for rule in wanted for g in gauges if rule(g)), None)


def _in_fabric(project: Project, chosen: DesignGauge, name: str, known: MeasuredSwatch) -> DesignGauge | None:
    """The gauge of a swatch where it is in a fabric and of the same yarn, in the same state; else None."""
    if known.swatch.stitch != name or known.swatch.yarn != chosen.swatch.yarn:
        return None
    return design_gauge(replace(project.design, swatch=known.swatch.id), known.swatch, known.gauges)


def _check_plain(project: Project, chosen: DesignGauge, notes: Notes) -> None:
    """A plain garment that is planned from a swatch in a pattern."""
    pattern: Pattern | None = pattern_of(project, chosen.swatch.stitch)
    if pattern is not None:
        notes.check("swatch-in-pattern", id=chosen.swatch.id, pattern=pattern.name)


def stockinette_per_10cm(project: Project, swatches: Sequence[MeasuredSwatch]) -> float | None:
    """Stitches of stockinette in 10 cm, from a swatch of it in the yarn and state of the garment; None without one."""
    yarn = project.design_yarn
    for known in swatches:
        if known.swatch.stitch == PLAIN and yarn is not None and known.swatch.yarn == yarn.id:
            found = known.gauges.get((project.design.state or "washed", "stitches"))
            if found is not None:
                return found.per_10cm
    return None
