"""Necklines: one record for each, in one table, by which everything else knows them.

A new one is a record in necklines.toml, and a function in ``core/making/necklines.py`` where its front has a shape
of its own. Light, so that questions and saves can look here without the core.
"""

import tomllib
from pathlib import Path

from workshop.records import record


@record
class Neckline:
    """One shape of the neck. ``name`` is the answer in the save file."""

    name: str
    label: str
    """As it is asked."""
    called: str
    """As sentences call it, before "neck"; its name where nothing else is said."""
    place: int = 9
    """Where it stands among the answers."""
    front: str = ""
    """The function of ``core/making/necklines.py`` that shapes its front; without one it runs straight along the top
    of front and back, and its edge is worked in garter stitch with them."""
    pointed: bool = False
    """Whether it ends in a point: its band is mitred there, and goes on down an open front."""
    deep: bool = False
    """Whether it passes every head, and would cut through the decrease rounds of a yoke."""
    wider: float = 1.0
    deeper: float = 1.0
    """Its own width and depth, as multiples of a crew neck's."""
    of_cross_back: float = 0.0
    """Its own width as part of the cross back, where it is measured by that; it must pass the head."""
    above_underarm_cm: float | None = None
    """Where it begins above the underarm, if that is what it is measured from."""
    plain_cm: float = 0.0
    """Plain stretch above its decreases, below the shoulder; its ``front`` takes it in pairs of rows."""
    source: str = "common practice, no source"
    """Where its own width and depth are from."""

    @property
    def divides(self) -> bool:
        """Whether front and back divide at it."""
        return bool(self.front)


NECKLINES = {
    name: Neckline(name, **{"called": name, **record})
    for name, record in tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8")).items()
}
"""By name; the first is taken for granted while none is chosen."""


def straight_neckline() -> Neckline:
    """The neckline that runs straight along the top of front and back."""
    return next(one for one in NECKLINES.values() if not one.divides)


def neckline(name: str | None) -> Neckline:
    """The record of a neckline; of none chosen yet that of the first."""
    return NECKLINES[name] if name else next(iter(NECKLINES.values()))


def asked_necklines() -> list[Neckline]:
    """All of them, in the order in which they are asked for."""
    return sorted(NECKLINES.values(), key=lambda known: known.place)
