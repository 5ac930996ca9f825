"""Wishes that exclude each other, whatever the figures: said by name, with the ways out in an expert's order."""

from workshop.core.constructions import construction
from workshop.core.notes import Notes
from workshop.project import GarmentChoices


def check_wishes(shape: GarmentChoices, notes: Notes) -> None:
    """Check for choices that cannot be knitted together. Raises Stopped where there are some."""
    chosen = construction(shape.construction)
    if shape.neckline == "boat" and shape.front == "open":
        notes.check("boat-and-open")
    if chosen.yoke and shape.sleeve == "none":
        notes.check("yoke-wants-sleeves")
    if not chosen.shoulder_seams and shape.neckline == "boat":
        notes.check("boat-and-yoke")
    if shape.neckline in chosen.cut_by:
        notes.check("round-yoke-neck", neck="V" if shape.neckline == "v" else "scoop")
    notes.end_if_stopped()
