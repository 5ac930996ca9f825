"""The steps of one row, as they come or put in order: "k25, [m1, k50] 3 times, m1, k25"."""

from collections.abc import Sequence
from itertools import groupby

from workshop.core.making.spacing import in_blocks

LONGEST_STEPS = 90
"""Characters that the steps of one row may have as they come; longer ones are put in order, equal ones together."""


def in_steps(gaps: Sequence[int], work: str, then: str) -> str:
    """Plain stitches, then this, and so on. Put in order where that would be long."""
    told = _repeats(_steps(gaps, work, then))
    if len(told) <= LONGEST_STEPS:
        return told
    ends = 0 if gaps[-1] == 0 else 1
    middle, last = gaps[ends:-1], gaps[-1]
    parts = [_repeats(_steps([*gaps[:ends], 0], work, then))] if ends else []
    for block, times in in_blocks(middle):
        inner = _repeats(_steps([*block, 0], work, then))
        parts.append(inner if times == 1 else f"[{inner}] {times} times")
    return ", ".join([*parts, *([f"{work}{last}"] if last else [])])


def _steps(gaps: Sequence[int], work: str, then: str) -> list[str]:
    steps: list[str] = []
    for plain in gaps[:-1]:
        steps += [f"{work}{plain}" if plain else "", then]
    return [*steps, f"{work}{gaps[-1]}"] if gaps[-1] else steps


def _repeats(steps: list[str]) -> str:
    """Steps in a row, with equal neighbouring pairs written once: "k25, [m1, k50] 3 times, m1, k25"."""
    pairs = list(zip(steps[::2], steps[1::2], strict=False))
    rest = steps[-1:] if len(steps) % 2 else []
    period = next((p for p in range(2, len(pairs) // 2 + 1) if _repeats_every(pairs, p)), 0)
    if period and len(set(pairs)) > 1:
        inner = ", ".join(_runs(pairs[:period]))
        return ", ".join([f"[{inner}] {len(pairs) // period} times", *rest])
    return ", ".join([*_runs(pairs), *rest])


def _repeats_every(pairs: list[tuple[str, str]], period: int) -> bool:
    return len(pairs) % period == 0 and pairs == pairs[:period] * (len(pairs) // period)


def _runs(pairs: list[tuple[str, str]]) -> list[str]:
    out: list[str] = []
    for pair, run in groupby(pairs):
        times = len(list(run))
        text = ", ".join(part for part in pair if part)
        out.append(text if times == 1 else f"[{text}] {times} times")
    return out
