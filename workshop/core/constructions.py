"""Constructions: one record for each, in one table, by which everything else knows them.

A new one is a module in ``core/garments`` with ``build(spec) -> Garment`` and a record in constructions.toml:
what the knitter is asked, what the planner must know beforehand, and how the pieces are joined. All else words and
pictures have from the pieces. Light, so that questions and saves can look here without the core.
"""

import tomllib
from collections.abc import Mapping
from dataclasses import field
from pathlib import Path
from typing import Literal

from workshop.records import record


@record
class Construction:
    """One way to make a jumper. ``name`` is the answer in the save file, ``module`` is in ``core/garments``."""

    name: str
    label: str
    """As it is asked."""
    with_it: str
    """What a garment made so is said to be knitted with."""
    module: str
    shoulder_seams: bool = False
    yoke: bool = False
    """Whether the sleeves are part of the yoke: there is no armhole without them."""
    in_one_piece: bool = False
    """Whether it is never sewn from pieces."""
    straight_shoulders: bool = False
    """Whether shoulders are straight where nothing else was asked for."""
    straight_sleeves: bool = False
    """Whether a sleeve ends straight at its top: its rows are at right angles to those of the body, and it is as long
    as the reach to the wrist leaves it beside the body."""
    fuller_front: bool = False
    """Whether bust darts make the front wider than the back."""
    ease: Literal["", "close", "yoke"] = ""
    """Which eases of the table "proportions" are its own."""
    crew_round: float = 2.5
    """Round of a crew neck as a multiple of its width (worked out from the shapes of crew necks here)."""
    in_rings: bool = False
    """Whether its yoke closes in decrease rounds, which a deep neckline would cut through."""
    neck_begins: str = "at the left shoulder"
    """Where the rounds of a neckband begin."""
    joined_first: str = "shoulders"
    """What is joined before a band goes around the neck, where it is in pieces."""
    sewn: str = ""
    """How its pieces are joined; of one with shoulder seams how its sleeves are sewn in: ``edges`` are those that a
    straight sleeve is sewn to, ``caps`` is how caps are sewn in."""
    closed: str = ""
    """What is closed where it was knitted in one piece."""
    drawn: Mapping[str, str] = field(default_factory=dict)
    """Measurements of the drawings that have another name in it."""


CONSTRUCTIONS = {
    name: Construction(name, **record)
    for name, record in tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8")).items()
}
"""By name, in the order in which they are offered; the first is the friendliest first jumper."""

UNKNOWN = Construction("", "", "", "", shoulder_seams=True)
"""What is taken for granted while the construction is not chosen."""


def construction(name: str | None) -> Construction:
    """The record of a construction; of none chosen yet what is taken for granted."""
    return CONSTRUCTIONS[name] if name else UNKNOWN
