"""The seven steps: their names, numbers and what each is for. Imports nothing: they are painted before all else."""

from workshop.project import STEPS
from workshop.records import record


@record
class Step:
    """One step of the way from a yarn to a plan."""

    name: str
    number: int
    title: str
    what: str
    """One line: what this step is for."""


TITLES = {
    "fibre": ("Fiber", "Your yarn: how it behaves, and a needle to start with."),
    "swatch": ("Swatch", "Plan your swatches: needles, stitches, rows, and how to tell them apart."),
    "gauge": ("Gauge", "Count each swatch in several places, before washing."),
    "wash": ("Wash", "Count again after washing, and choose your fabric."),
    "measure": ("Measure", "Measure the body and choose a fit. You get the finished measurements."),
    "shape": ("Shape", "Choose the shape: every stitch and row depends on it."),
    "summary": ("Summary", "Your plan: measurements, pieces, yarn, and what to knit row by row."),
}


def steps() -> tuple[Step, ...]:
    """All steps in their order."""
    return tuple(Step(name, i, *TITLES[name]) for i, name in enumerate(STEPS, 1))


def step(name: str) -> Step:
    """The step of that name. Raises KeyError for a name that is none."""
    return Step(name, STEPS.index(name) + 1, *TITLES[name])
