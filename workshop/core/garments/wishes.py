"""Wishes that exclude each other, whatever the figures: said by name, with the ways out in an expert's order."""

from workshop.core.constructions import construction
from workshop.core.necklines import neckline
from workshop.core.notes import Notes
from workshop.project import GarmentChoices


def check_wishes(shape: GarmentChoices, notes: Notes) -> None:
    """Check for choices that cannot be knitted together. Raises Stopped where there are some."""
    chosen, neck = construction(shape.construction), neckline(shape.neckline)
    if not neck.divides and shape.front == "open":
        notes.check("boat-and-open")
    if chosen.yoke and shape.sleeve == "none":
        notes.check("yoke-wants-sleeves")
    if not chosen.shoulder_seams and not neck.divides:
        notes.check("boat-and-yoke")
    if neck.deep and chosen.in_rings:
        notes.check("round-yoke-neck", neck=neck.called)
    notes.end_if_stopped()
