"""Lists of several sizes beside each other: what belongs together stands in one column."""

from collections.abc import Callable, Sequence
from typing import TypeVar

T = TypeVar("T")
V = TypeVar("V")


def each(things: Sequence[T | None], figure: Callable[[T], V]) -> list[V | None]:
    """What is asked for of each size; None for one that has nothing there."""
    return [None if thing is None else figure(thing) for thing in things]


LEFT_OUT, ADDED = 1.0, 1.2
"""What it costs that a size has nothing in a column, and that there is one column more."""


def same(one: object, other: object) -> float | None:
    """Only what is equal belongs together."""
    return 0.0 if one == other else None


def aligned(lists: Sequence[Sequence[T]], cost: Callable[[T, T], float | None]) -> list[list[T | None]]:
    """Columns with a thing of each list, or None, in the order of all lists; as few columns as may be.

    ``cost`` says how little two things belong together, from 0; None where they can't.
    """
    columns: list[list[T | None]] = []
    for at in sorted(range(len(lists)), key=lambda i: -len(lists[i])):
        columns = _with(columns, lists[at], at, len(lists), cost)
    return columns


def _with(
    columns: list[list[T | None]], more: Sequence[T], at: int, size: int, cost: Callable[[T, T], float | None]
) -> list[list[T | None]]:
    """The columns with one list more, put where it costs least."""
    best: dict[tuple[int, int], tuple[float, str]] = {(0, 0): (0.0, "")}
    for i in range(len(columns) + 1):
        for j in range(len(more) + 1):
            ways: list[tuple[float, str]] = []
            if i and j:
                match = _match(columns[i - 1], more[j - 1], cost)
                if match is not None:
                    ways.append((best[i - 1, j - 1][0] + match, "both"))
            if i:
                ways.append((best[i - 1, j][0] + LEFT_OUT, "left out"))
            if j:
                ways.append((best[i, j - 1][0] + ADDED, "added"))
            if ways:
                best[i, j] = min(ways, key=lambda way: way[0])
    found: list[list[T | None]] = []
    i, j = len(columns), len(more)
    while i or j:
        way = best[i, j][1]
        column: list[T | None] = [None] * size
        if way != "added":
            i -= 1
            column = columns[i]
        if way != "left out":
            j -= 1
            column[at] = more[j]
        found.append(column)
    return found[::-1]


def _match(column: Sequence[T | None], thing: T, cost: Callable[[T, T], float | None]) -> float | None:
    """What it costs to put a thing into a column: as beside the one that it belongs to least."""
    costs = [cost(other, thing) for other in column if other is not None]
    known = [c for c in costs if c is not None]
    return max(known) if len(known) == len(costs) else None
