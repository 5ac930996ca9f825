"""Wishes that exclude each other, whatever the figures: said by name, with the ways out in an expert's order."""

from workshop.core.constructions import construction
from workshop.core.remarks import Check, check
from workshop.project import Garment


def wish_checks(shape: Garment) -> list[Check]:
    """Stop checks for choices that cannot be knitted together."""
    found = []
    chosen = construction(shape.construction)
    if shape.neckline == "boat" and shape.front == "open":
        text = (
            "A boat neck runs straight from shoulder to shoulder: an open front would cut it in two. Choose a crew, "
            "V or scoop neck for an open front, or close the front."
        )
        found.append(check("boat-and-open", "stop", "shape", "garment.neckline", text))
    if chosen.yoke and shape.sleeve == "none":
        text = (
            "In this construction the sleeves are part of the yoke, so there can be no armhole without a sleeve. "
            "Choose a short sleeve, or a construction with an armhole."
        )
        found.append(check("yoke-wants-sleeves", "stop", "shape", "garment.sleeve", text))
    if not chosen.shoulder_seams and shape.neckline == "boat":
        text = (
            "A boat neck lies along the shoulder seams, and this construction has none. Choose a scoop neck or a wider "
            "crew neck, or a construction with shoulder seams."
        )
        found.append(check("boat-and-yoke", "stop", "shape", "garment.neckline", text))
    if shape.neckline in chosen.cut_by:
        text = (
            "A round yoke closes in rings about the neck, and a {neck} neck would cut through its decrease rounds. "
            "Choose a crew neck, made wider or deeper by own figures, or a raglan."
        )
        neck = "V" if shape.neckline == "v" else "scoop"
        found.append(check("round-yoke-neck", "stop", "shape", "garment.neckline", text, neck=neck))
    return found
