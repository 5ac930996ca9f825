"""How the written rows of a pattern begin: with their numbers, and the side that they are worked from."""

import re
from collections.abc import Sequence
from functools import lru_cache
from typing import Literal

from workshop.records import record

Side = Literal["RS", "WS", "round"]

HEAD = (
    r"(?:(?P<unit>row|round|rnd)\.? ?)?(?P<row>\d+)?(?:(?:st|nd|rd|th) (?P<after>row|round|rnd))?"
    r"(?: ?[(\[]?(?P<side>rs|ws|right side|wrong side)\b[)\]]?)?(?(side) ?[:.]?| ?[:.]) ?"
)


@record
class Head:
    """What stands before the stitches of a row."""

    text: str
    """The row without it."""
    number: int = 0
    """0 where none is said."""
    side: Side | None = None
    """None where it isn't said."""


def head_of(text: str) -> Head:
    """A written row parted from its number and its side, with single spaces and no full stop at its end."""
    text = " ".join(text.split()).removesuffix(".")
    found = re.match(HEAD, text, re.IGNORECASE)
    if found is None:
        return Head(text)
    told = {name: (said or "").casefold() for name, said in found.groupdict().items()}
    side: Side | None = {"r": "RS", "w": "WS"}.get(told["side"][:1])  # type: ignore[assignment]
    if {told["unit"], told["after"]} & {"round", "rnd"}:
        side = "round"
    return Head(text[found.end() :], int(told["row"][:4] or 0), side)


def in_rounds(lines: Sequence[str]) -> bool:
    """Whether rows are written as rounds, which need no stitches that balance the repeats."""
    return bool(lines) and head_of(lines[0]).side == "round"


@lru_cache(maxsize=32)
def sides_of(lines: tuple[str, ...]) -> tuple[Side, ...]:
    """The side that each row is worked from: as it says, else the other one than the row beside it.

    Where none says it, the first is a right-side row (common practice, no source).
    """
    if in_rounds(lines):
        return tuple("round" for _ in lines)
    told = [head_of(text).side for text in lines]
    at = next((n for n, side in enumerate(told) if side), 0)
    other = (at % 2 == 1) != (bool(told) and told[at] == "WS")
    beside: tuple[Side, Side] = ("WS", "RS") if other else ("RS", "WS")
    return tuple(side or beside[n % 2] for n, side in enumerate(told))
