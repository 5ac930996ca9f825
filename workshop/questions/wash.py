"""Questions of the step Wash: counts after washing, hung where wanted, and the choice of the swatch."""

from workshop.project import Project
from workshop.questions import Group, Question
from workshop.questions.gauge import reading_fields
from workshop.questions.kinds import Choice, CountOver, Option, fixed
from workshop.questions.places import in_table

WASHED = Question(
    key="reading.washed",
    step="wash",
    asks="Count, washed and dry",
    kind=CountOver(),
    hint="washed and dried as the garment will be, rested a day, lying flat and not stretched",
    why="All stitches and rows of the garment are counted from the washed cloth.",
)

HUNG = Question(
    key="reading.hung",
    step="wash",
    asks="Count, hung for a day",
    kind=CountOver(),
    hint="washed, then hung from its top edge with a weight for a day; counted while it hangs",
    why="Cloth that grows as it hangs makes a long jumper: its rows are planned from this count.",
    when=lambda p: (
        p.design.state == "hung" or any(s.readings("hung", a) for s in p.swatch for a in ("stitches", "rows"))
    ),
)

SWATCH = Question(
    key="design.swatch",
    step="wash",
    asks="Swatch to knit from",
    kind=Choice(lambda p: tuple(Option(s.id, f"swatch {s.id}") for s in p.swatch)),
    hint="the cloth that you like best; the numbers will follow it",
    why="Any gauge can be knitted to size. A cloth you do not like stays a cloth you do not like.",
    needed=True,
)

STATE = Question(
    key="design.state",
    step="wash",
    asks="Plan from its counts",
    kind=fixed(Option("washed", "washed, lying flat"), Option("hung", "hung with a weight")),
    hint="washed for wool that springs back; hung for fibres that sag",
    why="A garment is worn washed, and a heavy one is worn hanging.",
    needed=True,
)

QUESTIONS = (WASHED, HUNG, SWATCH, STATE)


def groups(project: Project) -> tuple[Group, ...]:
    """The choice, then counts of every swatch, the chosen one first."""
    choice = Group("The swatch to knit from", (in_table(SWATCH), in_table(STATE)), name="design")
    counted = []
    for swatch in sorted(project.swatch, key=lambda s: s.id != project.design.swatch):
        fields = reading_fields(WASHED, project, swatch, "washed")
        counted.append(Group(f"Swatch {swatch.id}, washed", fields, name=f"washed.{swatch.id}"))
        if HUNG.when(project):
            fields = reading_fields(HUNG, project, swatch, "hung")
            counted.append(Group(f"Swatch {swatch.id}, hung for a day", fields, name=f"hung.{swatch.id}"))
    return (choice, *counted) if project.swatch else ()
