"""What a piece of knitting is: a record for each role, by which planning, words and drawings know a piece.

Names of pieces are made here and are for showing only. A construction may bring a role of its own: what others must
know of it stands in its record.
"""

from typing import Literal

from workshop.records import record

Edge = Literal["left", "right"]

BOTH_EDGES: tuple[Edge, Edge] = ("left", "right")


def other(edge: Edge) -> Edge:
    """The other edge."""
    return "left" if edge == "right" else "right"


@record
class Role:
    """What a piece is. ``word`` is the trade's."""

    word: str
    called: str = "{side} {word}"
    """Its name; ``side`` as worn, ``parent`` the name of what it grew out of."""
    told: str = "{side} {word}"
    """The same within a sentence."""
    alike: str = ""
    """What left and right together are called where they are made alike, row for row."""
    one_sided: bool = False
    """Whether one that is left or right has an outer edge on that side only, as half a front has."""
    drawn: Literal["panel", "sleeve", "whole", ""] = ""
    """How its outline is drawn: by itself, or body and yoke as a whole; "" with another piece or not at all."""
    band: bool = False
    """Whether it is knitted onto edges of other pieces."""

    def name(self, side: Edge | None, parent: str) -> str:
        """The name of a piece in this role."""
        return self.called.format(side=side or "", word=self.word, parent=parent).strip()

    def told_as(self, side: Edge | None, parent: str) -> str:
        """The name of a piece in this role within a sentence; ``parent`` is that of its parent there."""
        return self.told.format(side=side or "", word=self.word, parent=parent).strip()

    def outer(self, side: Edge | None) -> tuple[Edge, ...]:
        """The edges of a piece, as worn, that are side seams, armholes or shoulders."""
        return (side,) if self.one_sided and side else BOTH_EDGES


@record
class Section:
    """A part of a piece between two markers, by the role that it would have alone."""

    role: Role
    side: Edge | None = None

    @property
    def name(self) -> str:
        """Its name, for showing."""
        return self.role.name(self.side, "")


BACK = Role("back", drawn="panel")
FRONT = Role("front", one_sided=True, drawn="panel")
SHOULDER = Role("shoulder", "{parent}, {side} {word}", "{side} {word} of the {parent}", one_sided=True)
BODY = Role("body", drawn="whole")
YOKE = Role("yoke", drawn="whole")
YOKE_TOP = Role("yoke top", "yoke, top", "top of the yoke", drawn="whole")
"""A yoke from the neck down to where its front closes into a round."""
UPPER_YOKE = Role("upper yoke", "{parent}, upper", "upper {parent}", drawn="whole")
"""A yoke from the hem from where its front opens."""
SLEEVE = Role("sleeve", alike="sleeves", drawn="sleeve")
CAP = Role("cap", "{parent}, {word}", "{word} of the {parent}", alike="sleeve caps")
SLEEVE_TOP = Role("sleeve top", "{parent}, top", "top of the {parent}", alike="sleeve tops")
"""The rows above a sleeve in the round that are worked back and forth."""
NECKBAND = Role("neckband", band=True)
ARMHOLE_BAND = Role("armhole band", alike="armhole bands", band=True)
FRONT_BAND = Role("front band", band=True)
WHOLE_BAND = Role("front and neck band", band=True)
"""The band that goes around both fronts and the neck of a V."""

THE_BACK, THE_FRONT = Section(BACK), Section(FRONT)
LEFT_FRONT, RIGHT_FRONT = Section(FRONT, "left"), Section(FRONT, "right")
HALVES = (LEFT_FRONT, RIGHT_FRONT)
LEFT_SLEEVE, RIGHT_SLEEVE = Section(SLEEVE, "left"), Section(SLEEVE, "right")

YOKES = (YOKE, YOKE_TOP, UPPER_YOKE)
PANELS = (BACK, FRONT)
