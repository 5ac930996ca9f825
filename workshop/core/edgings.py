"""Edgings: one record for each stitch of hem, cuffs and bands, in one table, by which everything else knows them.

A new one is a record in edgings.toml. Light, so that questions and saves can look here without the core.
"""

import tomllib
from pathlib import Path
from typing import NewType

from workshop.records import record

Fabric = NewType("Fabric", str)
"""What a row is knitted in: the fabric of an edging."""

STOCKINETTE, GARTER = Fabric("stockinette"), Fabric("garter")
"""Plain fabric, and that of edges that lie flat beside it."""


KNOWN_AS = {STOCKINETTE: "stocking"}
"""Fabrics that marks on prints and version 1 of the JSON know by an older name: so both are still recognised."""


@record
class Edging:
    """One stitch of hem, cuffs and bands. ``name`` is the answer in the save file."""

    name: str
    label: str
    """As it is asked."""
    words: str
    """As instructions call it."""
    fabric: Fabric
    """What its rows are knitted in: its name, or plain cloth where it is none."""
    bands: Fabric
    """What neckband, armhole and front bands are knitted in: the same, where that does not roll."""
    place: int = 9
    """Where it stands among the answers."""
    knits: int = 0
    purls: int = 0
    """Stitches of each column of a rib, as the right side shows them; flat, rows begin and end with the knit ones, and
    a buttonhole begins with the purl ones."""
    garter: bool = False
    """Whether it is knitted on both sides, so that its rows go by its stitches: a ridge, two rows, is as tall as a
    stitch is wide (common practice, no source; garter is near to square)."""
    pattern: str = ""
    """The stitch pattern of a swatch of it, if there is one."""
    pattern_label: str = ""
    """As that is asked."""

    @property
    def rib(self) -> bool:
        """Whether it has columns, and stretches."""
        return bool(self.knits)

    @property
    def repeat(self) -> int:
        """Stitches after which it begins again."""
        return self.knits + self.purls or 1

    @property
    def paired(self) -> bool:
        """Whether two stitches stand in the middle of its knit columns, not one."""
        return self.rib and self.knits % 2 == 0


EDGINGS = {
    name: Edging(name, **{"fabric": Fabric(name), "bands": Fabric(name), **entry})
    for name, entry in tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8")).items()
}
"""By name."""


def asked_edgings() -> list[Edging]:
    """All of them, in the order in which they are asked for; the first is taken for granted while none is chosen."""
    return sorted(EDGINGS.values(), key=lambda known: known.place)


def edging(name: str | None) -> Edging:
    """The record of an edging; of none chosen yet that of the first."""
    return EDGINGS[name] if name else asked_edgings()[0]


def of_fabric(fabric: Fabric) -> Edging:
    """The edging whose rows are of a fabric; of plain cloth that is none."""
    return EDGINGS["none" if fabric == STOCKINETTE else fabric]


def of_pattern(pattern: str) -> Edging | None:
    """The edging that is worked in a stitch pattern, or None."""
    return next((known for known in EDGINGS.values() if known.pattern == pattern), None)
