"""A project with usual answers where it has none yet, so that a garment can be drawn before it is known.

Nothing is taken from it into the knitter's project.
"""

from collections.abc import Iterator
from dataclasses import fields, replace

from workshop.core.notes import Notes
from workshop.core.offers import usual_shape
from workshop.core.wearer.body import resolve
from workshop.project import Body, Design, Fit, GarmentChoices, Project, Reading, ReferenceGarment, Swatch
from workshop.tables import bodies

USUAL_BODY = Body(source="table", table="women", size="M")
USUAL_STITCHES, USUAL_ROWS = 22.0, 30.0
"""To 10 cm: a light or medium yarn (common practice, no source); a drawing does not show it."""


def usual(project: Project) -> Iterator[Project]:
    """Projects that can be drawn, the knitter's own first: then without the lengths she gave, then of a usual body.

    The later ones are for answers that do not go together: they are drawn as they usually are.
    """
    first = _completed(project)
    yield first
    plain = replace(project, garment=_without_lengths(project.garment))
    if plain.garment != project.garment:
        yield _completed(plain)
    yield _completed(replace(plain, body=USUAL_BODY, reference_garment=ReferenceGarment(), fit=Fit()))


def body_is_usual(project: Project) -> bool:
    """Whether nothing is known of the wearer yet, so that a drawing is of a usual body."""
    known = project.body.chest_cm or project.body.size or project.reference_garment.chest_width_cm
    return not known


def _completed(project: Project) -> Project:
    """With a cloth, a body, a fit, and every answer that a garment cannot be made without."""
    project = replace(_with_cloth(project), drafts={}, agreed=(), title="", notes="")
    if body_is_usual(project):
        project = replace(project, body=replace(USUAL_BODY, table=project.body.table or "women", size=_middle(project)))
    elif project.body.table is None:
        project = replace(project, body=replace(project.body, table="women"))
    if project.reference_garment.chest_width_cm is not None and not project.body.chest_cm and not project.body.size:
        chest = max(30.0, 2 * project.reference_garment.chest_width_cm - 8)
        project = replace(project, body=replace(project.body, chest_cm=chest))
    if project.fit.ease is None:
        project = replace(project, fit=replace(project.fit, ease="standard"))
    for _ in range(2):  # what is offered goes by what was chosen
        offered = usual_shape(project, resolve(project.body, Notes()))
        given = {
            f.name: offered[f"garment.{f.name}"]
            for f in fields(GarmentChoices)
            if f.name not in ("shoulder", "bust_darts", "extra")
            and getattr(project.garment, f.name) is None
            and f"garment.{f.name}" in offered
        }
        project = replace(project, garment=replace(project.garment, **given))  # type: ignore[arg-type]
    return project


def _middle(project: Project) -> str:
    """The middle size of the table that was chosen."""
    sizes = bodies.sizes(project.body.table or "women")
    return sizes[(len(sizes) - 1) // 2]


def _without_lengths(garment: GarmentChoices) -> GarmentChoices:
    return replace(
        garment,
        length_cm=None,
        hem_cm=None,
        cuff_cm=None,
        neck_width_cm=None,
        neck_depth_cm=None,
        band_cm=None,
        sleeve_cm=None,
    )


def _with_cloth(project: Project) -> Project:
    """Only the swatch that is planned from; a usual one where none can be planned from yet."""
    chosen = project.swatch_by_id(project.design.swatch)
    state = project.design.state
    if chosen is not None and state is not None and chosen.readings("washed", "stitches"):
        rows = chosen.readings("hung" if state == "hung" else "washed", "rows")
        if rows and chosen.readings("washed", "rows"):
            return replace(project, swatch=(chosen,))
    counts = (Reading("washed", "stitches", USUAL_STITCHES, 10.0), Reading("washed", "rows", USUAL_ROWS, 10.0))
    yarn = project.yarn[0].id if project.yarn else None
    return replace(
        project, swatch=(Swatch("A", yarn, reading=counts),), design=Design("A", "washed"), yarn=project.yarn[:1]
    )
