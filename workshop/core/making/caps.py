"""Sleeve caps as a sequence of steps at both edges, worked through the ledger.

A published bell-shaped cap in three sizes ends on the same 13 stitches (tests/published).
"""

from collections.abc import Sequence
from dataclasses import dataclass

from workshop.core.making.ledger import Edge, Event, Fabric, Ledger


@dataclass(frozen=True, slots=True)
class Step:
    """``times`` decreases (or bind-offs) of ``stitches`` at each edge, one on every ``every``-th row.

    Bind-offs are made at the beginning of two rows, so one of them at both edges takes two rows.
    """

    do: str
    stitches: int
    every: int
    times: int

    @property
    def rows(self) -> int:
        """Rows that it takes."""
        return 2 * self.times if self.do == "bind-off" else self.every * self.times


def decreases_to(start: int, end: int, every: int) -> Step:
    """Single decreases at both edges, on every ``every``-th row, from one count to another.

    Raises ValueError where the two differ by an odd number or the wrong way.
    """
    if end > start or (start - end) % 2:
        raise ValueError(f"{start} stitches cannot come to {end} by decreases at both edges")
    return Step("decrease", 1, every, (start - end) // 2)


def work_cap(ledger: Ledger, steps: Sequence[Step], fabric: Fabric = "stocking") -> None:
    """Work the steps of a cap; the event stands on the last row of each gap, bind-offs on the first of two."""
    for step in steps:
        for _ in range(step.times):
            if step.do == "bind-off":
                ledger.shape(fabric, Event("bind-off", ledger.begins, step.stitches))
                other: Edge = "left" if ledger.begins == "right" else "right"
                ledger.shape(fabric, Event("bind-off", other, step.stitches))
            else:
                ledger.work(step.every - 1, fabric)
                ledger.shape(fabric, Event("decrease", "both", step.stitches))
