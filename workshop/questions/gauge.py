"""Questions of the Gauge step: counts on every swatch, off the needles and before washing."""

from workshop.project import MOST_PLACES, Along, Project, State, Swatch
from workshop.questions import Field, Group, Question
from workshop.questions.kinds import CountOver, Option, fixed
from workshop.questions.places import in_item, reading
from workshop.questions.swatch import KNITTED

PLACES = 3
"""Places that are asked for in each direction; more are taken."""

COUNT = Question(
    key="reading.count",
    step="gauge",
    asks="Count, before washing",
    kind=CountOver(),
    hint="count before washing, for example 27½ over {15 cm}. A number on its own means a count over {10 cm}. "
    "Include halves and quarters",
    why="Counting in several places shows how even your knitting is. Count in at least three places. Five is much "
    "better.",
)

BEFORE_WASH = Question(
    key="swatch.before_wash",
    step="gauge",
    asks="Counted before washing?",
    kind=fixed(Option("counted", "yes, counted"), Option("not-counted", "no, not counted")),
    hint="leave this blank if you're still going to count the swatch before washing. If you've already washed it, "
    "choose no and enter the counts in the Wash step",
    why="Anything you measure while you knit is unwashed fabric. Without counts from before washing, go by row "
    "numbers, not the tape.",
)

QUESTIONS = (COUNT, BEFORE_WASH)


def reading_fields(question: Question, project: Project, swatch: Swatch, state: State) -> tuple[Field, ...]:
    """Fields for stitches and rows in one state: three places, and one more than there are answers. Of a swatch that
    hangs only the rows are needed, so they come first.
    """
    out: list[Field] = []
    directions: tuple[Along, ...] = ("rows", "stitches") if state == "hung" else ("stitches", "rows")
    for along in directions:
        there = swatch.places(state, along)
        for place in range(1, min(MOST_PLACES, max(PLACES, len(there) + 1, *there)) + 1):
            out.append(reading(question, swatch, state, along, place, spare=place > PLACES))
    return tuple(out)


def groups(project: Project) -> tuple[Group, ...]:
    """Counts of every swatch, how it was to knit, and whether there were counts where none are given."""
    return tuple(
        Group(
            f"Swatch {s.id}, before washing",
            (*_counts(project, s), *(in_item(q, s) for q in (*KNITTED, *_whether_counted(s)))),
            name=f"swatch.{s.id}",
        )
        for s in project.swatch
    )


def _counts(project: Project, swatch: Swatch) -> tuple[Field, ...]:
    return () if swatch.washed_first else reading_fields(COUNT, project, swatch, "off needles")


def _whether_counted(swatch: Swatch) -> tuple[Question, ...]:
    """The question whether a swatch was counted, where its counts don't say so: whoever types them never meets it."""
    told = any(r.state == "off needles" for r in swatch.reading)
    return (BEFORE_WASH,) if not told or swatch.washed_first or swatch.counted_alike else ()


def not_asked(project: Project) -> tuple[Field, ...]:
    """Answers that don't count: counts before a wash that came first, and that there were some where they are given."""
    hidden: list[Field] = []
    for swatch in project.swatch:
        if swatch.washed_first:
            hidden += reading_fields(COUNT, project, swatch, "off needles")
        elif not _whether_counted(swatch):
            hidden.append(in_item(BEFORE_WASH, swatch))
    return tuple(f for f in hidden if f.get(project) is not None)
