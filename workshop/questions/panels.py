"""Questions about panels up the middle of the pieces; of the Shape step."""

from dataclasses import replace

from workshop.core.edgings import EDGINGS
from workshop.core.fabric.patterns import PLAIN, UNTOLD
from workshop.project import Panel, PanelPlace, Project
from workshop.questions import Group, Question
from workshop.questions.kinds import Choice, Option, Whole, fixed
from workshop.questions.patterns import fabrics
from workshop.questions.places import in_panel, without_drafts

PATTERN = Question(
    key="panel.id",
    step="shape",
    asks="Pattern of the panel",
    kind=Choice(fabrics),
    hint="knit a swatch in the panel's pattern. You can describe a pattern of your own in the Swatch step",
    why="A panel has its own gauge. A cable needs more stitches for its width than the fabric beside it.",
    always_answered=True,
)

REPEATS = Question(
    key="panel.repeats",
    step="shape",
    asks="Repeats side by side",
    kind=Whole(1, 50),
    hint="1 for a single cable. An odd number puts a motif in the middle, an even number the gap between two motifs",
    why="The number of repeats decides how wide the panel is.",
    always_answered=True,
)

ON = Question(
    key="panel.on",
    step="shape",
    asks="Where it goes",
    kind=fixed(
        Option("front", "up the front"),
        Option("back", "up the back"),
        Option("both", "up front and back"),
        Option("sleeves", "up both sleeves"),
    ),
    hint="most panels go up the front. To have one on the sleeves too, add another panel",
    why="The panel goes up the middle, from the edging to the neck or the top of the sleeve.",
    always_answered=True,
)

QUESTIONS = (PATTERN, REPEATS, ON)


def groups(project: Project) -> tuple[Group, ...]:
    """Every panel."""
    panels = project.garment.panel
    many = len(panels) > 1
    return tuple(
        Group(f"Panel {n}" if many else "The panel", tuple(in_panel(q, n) for q in QUESTIONS), name=f"panel.{n}")
        for n in range(1, len(panels) + 1)
    )


def could_have_panel(project: Project) -> bool:
    """Whether a pattern is described or swatched that is not the fabric of the garment, nor of its edgings."""
    edgings = {e.pattern for e in EDGINGS.values()}
    others = {s.stitch for s in project.swatch} - {PLAIN, UNTOLD} - edgings | {p.id for p in project.stitch_pattern}
    return bool(project.garment.panel) or bool(others - {project.garment.fabric})


def add_panel(project: Project) -> Project:
    """One more panel: of a pattern of her own where there is one, up the front, the back of a cardigan, the sleeves."""
    own = [p.id for p in project.stitch_pattern if p.id != project.garment.fabric]
    name = own[-1] if own else "basket" if project.garment.fabric in (None, PLAIN) else PLAIN
    panels = project.garment.panel
    first: PanelPlace = "back" if project.garment.front == "open" else "front"
    new = Panel(name, on="sleeves" if any(p.on in (first, "both") for p in panels) else first)
    return replace(project, garment=replace(project.garment, panel=(*panels, new)))


def remove_panel(project: Project, number: int) -> Project:
    """Without the panel of that number, counted from 1."""
    left = tuple(p for n, p in enumerate(project.garment.panel, 1) if n != number)
    without = replace(project, garment=replace(project.garment, panel=left))
    return without_drafts(without, *(f"panel.{n}." for n in range(number, len(left) + 2)))
