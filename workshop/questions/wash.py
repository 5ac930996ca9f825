"""Questions of the Wash step: counts after washing, hung where wanted, and the choice of the swatch."""

from workshop.project import Project, Swatch
from workshop.questions import Group, Question
from workshop.questions.gauge import reading_fields
from workshop.questions.kinds import Choice, CountOver, Option, fixed
from workshop.questions.places import in_table
from workshop.units import show_needle


def _hung(project: Project, swatch: Swatch) -> bool:
    """Whether a swatch is asked for hanging: it is the one to plan from so, or was counted so."""
    planned = project.design.state == "hung" and project.design.swatch in (None, swatch.id)
    return planned or any(r.state == "hung" for r in swatch.reading)


def _swatches(project: Project) -> tuple[Option, ...]:
    """Swatches by letter, with what tells them apart in the hand."""
    out = []
    for s in project.swatch:
        yarn = project.yarn_of(s)
        parts = [show_needle(s.needle_mm, project.needle_names)] if s.needle_mm else []
        parts += [yarn.name or f"yarn {yarn.id}"] if yarn and len(project.yarn) > 1 else []
        parts += [f"fabric rated {s.fabric_rating} out of 5"] if s.fabric_rating else []
        out.append(Option(s.id, f"swatch {s.id}" + (f": {', '.join(parts)}" if parts else "")))
    return tuple(out)


WASHED = Question(
    key="reading.washed",
    step="wash",
    asks="Count, washed and dry",
    kind=CountOver(),
    hint="wash and dry the swatch as you will the garment, let it rest for a day, then count it flat and unstretched",
    why="Every stitch and row in the plan is based on the washed fabric.",
)

HUNG = Question(
    key="reading.hung",
    step="wash",
    asks="Count, hung for a day",
    kind=CountOver(),
    hint="hang the swatch by its top edge with the weight shown, then count while it hangs. You only need "
    "to count rows",
    why="If the fabric grows as it hangs, so will the sweater. The row counts in the plan are based on the hanging "
    "swatch.",
    when=lambda p: any(_hung(p, s) for s in p.swatch),
)

SWATCH = Question(
    key="design.swatch",
    step="wash",
    asks="Swatch to plan from",
    kind=Choice(_swatches),
    hint="the swatch whose fabric you like best",
    why="Any gauge can be made to fit, but nothing makes up for a fabric you don't like.",
    needed=True,
)

STATE = Question(
    key="design.state",
    step="wash",
    asks="Which counts to use?",
    kind=fixed(Option("washed", "washed, lying flat"), Option("hung", "hung with a weight")),
    hint="choose washed, unless the Fiber step says to hang the swatch for a day. If you hung the swatch, choose "
    "'hung'",
    why="You'll wear the garment washed, and a heavy garment grows as it hangs.",
    needed=True,
)

QUESTIONS = (WASHED, HUNG, SWATCH, STATE)


def groups(project: Project) -> tuple[Group, ...]:
    """Counts of every swatch, then the choice of one, then its counts hanging where it is planned from those."""
    if not project.swatch:
        return ()
    knitted = [s for s in project.swatch if s.knitted] or project.swatch
    washed = [
        Group(f"Swatch {s.id}, washed", reading_fields(WASHED, project, s, "washed"), name=f"washed.{s.id}")
        for s in knitted
    ]
    choice = Group("The swatch to plan from", (in_table(SWATCH), in_table(STATE)), name="design")
    hung = [
        Group(f"Swatch {s.id}, hung for a day", reading_fields(HUNG, project, s, "hung"), name=f"hung.{s.id}")
        for s in project.swatch
        if _hung(project, s)
    ]
    return (*washed, choice, *hung)
