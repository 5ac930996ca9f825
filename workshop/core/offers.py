"""First answers that may be offered where a question is still open. Offered, never taken silently."""

from typing import Any

from workshop.core.cloth.fibre import YarnView
from workshop.core.wearer.agreement import hip_length_cm
from workshop.core.wearer.body import Wearer
from workshop.core.wearer.fit import Targets
from workshop.project import Project
from workshop.tables.practice import rounded_cm


def offers(project: Project, yarns: tuple[YarnView, ...], wearer: Wearer, wanted: Targets) -> dict[str, Any]:
    """Offers by question key."""
    found: dict[str, Any] = {"tension": "average", "fit.ease": "standard"}
    for view in yarns:
        found[f"yarn.{view.yarn.id}.care"] = _care(view)
    found |= {
        "garment.construction": "drop-shoulder",
        "garment.worked": "flat",
        "garment.front": "closed",
        "garment.neckline": "crew",
        "garment.sleeve": "long",
        "garment.waist": "straight",
        "garment.shoulder": "straight" if project.garment.construction == "drop-shoulder" else "steps",
        "garment.bust_darts": "yes",
        "garment.hem": "rib-2x2",
        "garment.hem_cm": rounded_cm(3.0 if wearer.child else 6.0, project.units),
        "garment.cuff_cm": rounded_cm(3.0 if wearer.child else 6.0, project.units),
        "garment.band_cm": rounded_cm(2.0 if wearer.child else 2.5, project.units),
    }
    if project.body.source is None and (project.body.table or project.body.chest_cm):
        found["body.source"] = "table" if project.body.table else "own"
    length = hip_length_cm(wearer)
    if length is not None:
        found["garment.length_cm"] = rounded_cm(length, project.units)
    if len(project.swatch) == 1:
        found["design.swatch"] = project.swatch[0].id
    chosen = next((s for s in project.swatch if s.id == project.design.swatch or len(project.swatch) == 1), None)
    knitted = next((v for v in yarns if chosen is not None and v.yarn.id == chosen.yarn), None)
    if knitted is not None:
        found["design.state"] = "hung" if knitted.hang_test else "washed"
    return found


def _care(view: YarnView) -> str:
    return "machine wash cool, dry flat" if view.has("machine_washable", 70) else "hand wash cool, dry flat"
