"""Needle sizes: millimetres, with US and old UK numbers as labels."""

from functools import cache

from workshop.records import record
from workshop.tables import read


@record
class NeedleSize:
    """One size that is sold. An empty label means that the system has no such size."""

    mm: float
    us: str
    uk: str
    how: str


@cache
def sizes() -> tuple[NeedleSize, ...]:
    """All sizes from the finest to the thickest."""
    return tuple(NeedleSize(mm=s["mm"], us=s["us"], uk=s["uk"], how=s["how"]) for s in read("needles")["size"])


@cache
def ladder() -> tuple[float, ...]:
    """The sizes (mm) that a step of one size moves along: those read in the conversion tables."""
    return tuple(s.mm for s in sizes() if s.how == "read")


def nearest(mm: float) -> NeedleSize:
    """The size nearest to a diameter in mm; of two equally near, the finer."""
    return min(sizes(), key=lambda s: (abs(s.mm - mm), s.mm))


def find(mm: float) -> NeedleSize | None:
    """The size of exactly that diameter in mm, or None."""
    near = nearest(mm)
    return near if abs(near.mm - mm) < 1e-6 else None


def steps_from(mm: float, steps: int) -> float:
    """The size (mm) that lies ``steps`` sizes above (or below, if negative) a diameter.

    Stays inside the ladder at both ends.
    """
    rungs = ladder()
    at = min(range(len(rungs)), key=lambda i: (abs(rungs[i] - mm), rungs[i]))
    return rungs[max(0, min(len(rungs) - 1, at + steps))]


def steps_between(start_mm: float, end_mm: float) -> int:
    """How many sizes up (positive) or down lie between two diameters."""
    rungs = ladder()
    at = {m: i for i, m in enumerate(rungs)}
    return at[nearest_on_ladder(end_mm)] - at[nearest_on_ladder(start_mm)]


def nearest_on_ladder(mm: float) -> float:
    """The ladder size nearest to a diameter."""
    return min(ladder(), key=lambda m: (abs(m - mm), m))
