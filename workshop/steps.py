"""The seven steps: their names, numbers and what each is for. Imports nothing: they are painted before all else."""

from dataclasses import dataclass

from workshop.project import STEPS


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the way from a yarn to a plan."""

    name: str
    number: int
    title: str
    what: str
    """One line: what this step is for."""


TITLES = {
    "fibre": ("Fiber", "Meet your yarns: what to expect, and which needle to start with."),
    "swatch": ("Swatch", "Plan the swatches: needles, stitches, rows, and how to tell them apart."),
    "gauge": ("Gauge", "Count stitches and rows in several places, before washing."),
    "wash": ("Wash", "Count again after washing, and choose the fabric to knit from."),
    "measure": ("Measure", "Turn the body and the fit you want into finished measurements."),
    "shape": ("Shape", "Choose the shape, and get every stitch and row."),
    "summary": ("Summary", "The plan: measurements, pieces, yarn, and what to knit row by row."),
}


def steps() -> tuple[Step, ...]:
    """All steps in their order."""
    return tuple(Step(name, i, *TITLES[name]) for i, name in enumerate(STEPS, 1))


def step(name: str) -> Step:
    """The step of that name. Raises KeyError for a name that is none."""
    return Step(name, STEPS.index(name) + 1, *TITLES[name])
