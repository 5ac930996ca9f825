"""A panel of another stitch pattern up the middle of a piece: how many stitches it has, and how wide it is.

Everything else of a garment is counted in the stitches of its own fabric, the ground. A panel of n stitches stands on
m of them, about as wide as it is, and brings n - m more: they come in on the row above the edging and go out on the row
before what ends the panel, as events of their own. So edges, seams and necks are counted as if there were no panel, and
``panel_stitches`` counts them in and out.
"""

from collections.abc import Mapping
from typing import Literal

from workshop.core.fabric.patterns import PanelRow, Pattern, SetPanel
from workshop.core.making import roles
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Event, Piece, Row
from workshop.core.making.roles import Section
from workshop.core.making.spacing import evenly
from workshop.records import record

Place = Literal["front", "back", "sleeve"]

SECTIONS: Mapping[Place, tuple[Section, ...]] = {
    "front": (roles.THE_FRONT,),
    "back": (roles.THE_BACK,),
    "sleeve": (roles.LEFT_SLEEVE, roles.RIGHT_SLEEVE),
}

ALL_SECTIONS = tuple(section for sections in SECTIONS.values() for section in sections)

PANEL = " panel"
"""What the line of an event ends with that belongs to a panel: "front panel"."""


@record
class CentrePanel:
    """One panel as it is wished for."""

    on: Place
    pattern: Pattern
    stitches: int
    instead: int
    """Stitches of the ground that it stands on; as even or odd as those of the piece."""
    stitches_per_10cm: float
    number: int = 1
    """Which of the panels that were wished for it is, from 1."""

    @property
    def width_cm(self) -> float:
        """How wide it is in its own gauge."""
        return self.stitches / self.stitches_per_10cm * 10

    @property
    def extra(self) -> int:
        """Stitches that it has more than the ground it stands on; below 0 where it is looser."""
        return self.stitches - self.instead

    def wider(self, cloth: Cloth) -> float:
        """By how many stitches of the ground it is wider than those it stands on: what rounding leaves."""
        return self.stitches / self.stitches_per_10cm * cloth.stitches_per_10cm - self.instead


def line_of(section: Section) -> str:
    """How events name the panel of a part."""
    return f"{section.name}{PANEL}"


def is_of_panel(event: Event) -> bool:
    """Whether an event is one of a panel: stitches that come in for it or go out of it."""
    return event.line.endswith(PANEL)


def panel_events(row: Row) -> list[Event]:
    """What happens in a row for the sake of panels."""
    return [e for e in row.events if is_of_panel(e)]


def steps_of(stitches: int, change: int) -> tuple[int, ...]:
    """Plain stitches before each increase or decrease of a panel's first or last row, and after the last."""
    return evenly(stitches, abs(change), "m1" if change > 0 else "k2tog", "flat")


def panel_rows(piece: Piece, row: int) -> list[tuple[SetPanel, PanelRow]]:
    """The panels of which a row has a row, each with the row it is."""
    found = ((panel, panel.at(row)) for panel in piece.panels)
    return [(panel, at) for panel, at in found if at is not None]


def width_cm(piece: Piece, cloth: Cloth) -> float:
    """How wide a piece is at its widest, in cm, without what seams take: its panels and bands by their own gauge."""
    if piece.bands:
        return max(cloth.row_cm(row, row.before - piece.seam_stitches) for row in piece.rows)
    if not piece.panels:
        widest = piece.widest_of_fabric if piece.parent is None else piece.widest_whole
        return cloth.across_cm(widest - piece.seam_stitches)
    wide = 0.0
    for row in piece.rows:
        before, after = ([p for p in piece.panels if p.lies_in(row.row, after=after)] for after in (False, True))
        for stitches, there in ((row.before, before), (row.after, after)):
            ground = cloth.across_cm(stitches - sum(p.extra for p in there) - piece.seam_stitches)
            wide = max(wide, ground + sum(p.wider_cm for p in there))
    return wide


def wider_cm(piece: Piece, row: int, part: str = "") -> float:
    """By how much the panels of a piece are wider, after a row, than the stitches of the ground they stand on, in cm.

    Of one ``part`` where it is named; of all of them else.
    """
    there = (p for p in piece.panels if part in ("", p.part) and p.lies_in(row, after=True))
    return sum(p.wider_cm for p in there)
