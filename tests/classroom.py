"""A class of 24 pupils of our own invention: three yarns, many hands, every step, and what goes wrong in a class."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from pathlib import Path

from tests.factory import readings
from workshop import saves
from workshop.at_needles import Said, taken_in
from workshop.core.plan import plan
from workshop.project import Body, Design, FibrePart, Fit, GarmentChoices, Project, Swatch, Tension, Yarn

DAY = date(2026, 11, 28)

YARNS = {
    "dune": Yarn("a", "Our worsted", "medium", (FibrePart("wool", 100.0),), 100.0, 200.0, "hand wash, dry flat"),
    "reed": Yarn("a", "Reedbed DK", "light", (FibrePart("wool", 70.0), FibrePart("alpaca", 30.0)), 50.0, 115.0, "hand wash, dry flat"),
    "harvest": Yarn("a", "Harvest cotton", "light", (FibrePart("cotton", 100.0),), 50.0, 105.0, "machine wash, dry flat"),
}  # fmt: skip
BASE = {"dune": (4.5, 19.0), "reed": (4.0, 22.0), "harvest": (4.0, 21.5)}
"""Needle in mm, and stitches to 10 cm in a middling hand."""

SHAPES = {
    "drop": GarmentChoices("drop-shoulder", "flat", "closed", "crew", "long", "straight", None, None, 60.0, "rib-2x2", 6.0, 6.0),
    "set-in": GarmentChoices("set-in", "flat", "closed", "v", "long", "straight", "steps", None, 62.0, "rib-1x1", 6.0, 6.0),
    "raglan": GarmentChoices("raglan-from-neck", "round", "closed", "crew", "long", "straight", None, None, 60.0, "rib-2x2", 6.0, 6.0),
    "yoke": GarmentChoices("round-yoke", "round", "closed", "crew", "long", "straight", None, None, 60.0, "rib-1x1", 5.0, 5.0),
}  # fmt: skip

FIRST = ("fibre", "swatch", "knitted", "washed", "measured", "planned", "knitting")
"""How far a pupil may be."""


@dataclass(frozen=True)
class Invented:
    """One pupil: a name, a yarn, a hand (1 is middling, more is tighter), how far they are, and size and shape."""

    name: str
    yarn: str
    hand: float
    upto: str
    size: str = "M"
    shape: str = "drop"
    tension: Tension = "average"
    balls: int | None = None
    lot: str = ""
    odd: str = ""
    """What goes wrong."""


CLASS = (
    Invented("Ada", "dune", 1.0, "planned", balls=7, lot="4711"),
    Invented("Bruno", "dune", 0.92, "planned", "L", tension="loose"),
    Invented("Carla", "dune", 1.09, "planned", "S", "set-in", "tight"),
    Invented("Dario", "dune", 1.03, "knitting", "L", balls=9, lot="4711"),
    Invented("Elin", "dune", 0.97, "knitting", "M", "set-in", odd="gauge off"),
    Invented("Fenna", "dune", 0.95, "washed", tension="loose"),
    Invented("Greta", "dune", 1.06, "knitted", odd="alike"),
    Invented("Henk", "dune", 1.02, "measured", "1X"),
    Invented("Ines", "reed", 1.0, "planned", "S", "yoke"),
    Invented("Jonas", "reed", 0.94, "planned", "1X", balls=4, odd="short"),
    Invented("Kaja", "reed", 1.07, "knitting", "M", "set-in", "tight", odd="slip"),
    Invented("Leo", "reed", 1.02, "washed", "L"),
    Invented("Mira", "reed", 0.98, "knitted", odd="inches"),
    Invented("Nils", "reed", 1.04, "knitted"),
    Invented("Odile", "reed", 0.9, "measured", "L", tension="loose"),
    Invented("Pavel", "reed", 1.01, "swatch"),
    Invented("Quinn", "harvest", 1.0, "planned", "M", "raglan"),
    Invented("Rosa", "harvest", 1.08, "planned", "S", "drop", "tight", odd="stop"),
    Invented("Sami", "harvest", 0.96, "washed"),
    Invented("Tove", "harvest", 1.03, "knitted", odd="uneven"),
    Invented("Uma", "harvest", 0.93, "swatch", tension="loose"),
    Invented("Vito", "harvest", 1.0, "fibre"),
    Invented("Wanda", "dune", 1.0, "fibre", odd="blend"),
    Invented("Yusuf", "reed", 1.0, "planned", odd="damaged"),
)


def write_class(folder: Path, pupils: Sequence[Invented] = CLASS) -> Path:
    """The class as a folder of projects, beside what is no project."""
    folder.mkdir(parents=True, exist_ok=True)
    for pupil in pupils:
        text = saves.dumps(project_of(pupil))
        if pupil.odd == "damaged":
            text = text.replace("[design]", "[design", 1)
        (folder / f"{pupil.name.lower()}.toml").write_text(text, "utf-8")
    return folder


def project_of(pupil: Invented) -> Project:
    """The project of a pupil, as far as they have come."""
    far = FIRST.index(pupil.upto)
    yarn = YARNS[pupil.yarn]
    name = f"{yarn.name}, lot {pupil.lot}" if pupil.lot else yarn.name
    fibres = (FibrePart("wol", 100.0),) if pupil.odd == "blend" else yarn.fibres
    project = Project(
        title=f"{pupil.name}'s pullover",
        tension=pupil.tension,
        yarn=(replace(yarn, name=name, balls=pupil.balls, fibres=fibres),),
    )
    if far >= 1:
        project = replace(project, swatch=_swatches(pupil, far))
    if far >= 3:
        project = replace(project, design=Design("B", "washed"))
    if far >= 4:
        project = replace(project, body=Body("table", "women", pupil.size), fit=Fit("standard"))
    if far >= 5:
        shape = SHAPES[pupil.shape]
        project = replace(
            project,
            garment=replace(shape, construction="round-yoke", worked="round", neckline="boat")
            if pupil.odd == "stop"
            else shape,
        )
    return _knitted(project, pupil) if far >= 6 else project


def _swatches(pupil: Invented, far: int) -> tuple[Swatch, ...]:
    needle, stitches = BASE[pupil.yarn]
    found = []
    for name, step in zip("ABC", (-0.5, 0.0, 0.5), strict=True):
        swatch = Swatch(name, "a", needle + step, "wood", edge_stitches=3)
        per_10cm = stitches * pupil.hand * (1 if pupil.odd == "alike" else 1 - 0.09 * step)
        if far >= 2 and name != "C":
            swatch = _counted(swatch, per_10cm, pupil, washed=far >= 3 and name == "B")
        found.append(swatch)
    return tuple(found)


def _counted(swatch: Swatch, per_10cm: float, pupil: Invented, *, washed: bool) -> Swatch:
    """Three places before the wash, and three after it, by which it has grown 3 % in width and shrunk 2 % in length."""
    stitches, rows = 1.5 * per_10cm, 1.4 * per_10cm
    uneven = (0.0, 2.5, -2.0) if pupil.odd == "uneven" else (0.0, 0.25, -0.25)
    over = 6.0 if pupil.odd == "inches" and swatch.id == "A" else 15.0
    found = [
        *readings("off needles", "stitches", *(_quarter(stitches + off) for off in uneven), over_cm=over),
        *readings("off needles", "rows", *(_quarter(rows + off) for off in (0.0, 0.5, 0.0))),
    ]
    if washed:
        found += readings(
            "washed", "stitches", *(_quarter(0.97 * stitches + off) for off in (0.25, 0.0, 0.0)), over_cm=15.0
        )
        found += readings("washed", "rows", *(_quarter(1.02 * rows + off) for off in (0.0, 0.0, 0.5)))
    return replace(swatch, cast_on=36, rows=48, reading=tuple(found))


def _quarter(value: float) -> float:
    return round(value * 4) / 4


def _knitted(project: Project, pupil: Invented) -> Project:
    """Some rows of the first piece, with what happens there."""
    project = taken_in(project, Said(row=46), DAY)
    gauge = plan(project).gauge
    assert gauge is not None
    assert gauge.unwashed_stitches is not None
    if pupil.odd == "gauge off":
        counts = [
            f"{_quarter(0.94 * 1.5 * gauge.unwashed_stitches.per_10cm + off)} over 15" for off in (0.0, 0.25, 0.0)
        ]
        project = taken_in(project, Said(stitches=counts), DAY)
    if pupil.odd == "slip":
        known = project.knitting[0]
        planned = plan(project).made.pieces[0].rows[45].after
        project = replace(project, knitting=(replace(known, stitches=planned - 1),))
    return project
