"""Questions of the step Fibre: the knitter's hand, and one or more candidate yarns."""

from dataclasses import replace

from workshop.project import Project, Yarn
from workshop.questions import Group, Question
from workshop.questions.kinds import Blend, Mass, Option, Whole, Words, YarnLength, fixed
from workshop.questions.places import at_top, in_item, without_drafts
from workshop.tables.yarn_weights import all_weights

TITLE = Question(
    key="title",
    step="fibre",
    asks="Name of the project",
    kind=Words(60),
    hint="what you will call it; it also names the file when the project begins",
    why="So that you find it again among your saved projects.",
    needed=True,
)

TENSION = Question(
    key="tension",
    step="fibre",
    asks="How you usually knit",
    kind=fixed(
        Option("tight", "tight"),
        Option("average", "average"),
        Option("loose", "loose"),
    ),
    hint="tight: stitches are hard to push along; loose: you often need a finer needle than the band says",
    why="A tight knitter starts a needle size larger, a loose one a size smaller.",
    needed=True,
)

UNITS = Question(
    key="units",
    step="fibre",
    asks="Lengths in",
    kind=fixed(Option("cm", "centimetres"), Option("in", "inches")),
    hint="you can always write the other unit behind a number: 38 in, 97 cm",
    why="Nothing stored changes when you switch; only what is shown does.",
    always_answered=True,
)

NEEDLE_NAMES = Question(
    key="needle_names",
    step="fibre",
    asks="Needles in",
    kind=fixed(Option("mm", "millimetres"), Option("us", "US sizes"), Option("uk", "old UK sizes")),
    hint="a number with mm, US or UK is understood in any case",
    why="Millimetres are the one size without ambiguity.",
    always_answered=True,
)

TERMS = Question(
    key="terms",
    step="fibre",
    asks="Terms",
    kind=fixed(Option("us", "US: bind off, gauge"), Option("uk", "UK: cast off, tension")),
    hint="how your pattern books say it",
    why="The same things have two names.",
    always_answered=True,
)

NAME = Question(
    key="yarn.name",
    step="fibre",
    asks="Name of the yarn",
    kind=Words(60),
    hint="as you would ask for it in the shop, with the colour if you like",
    why="So that several yarns can be told apart on swatches and lists.",
)

WEIGHT = Question(
    key="yarn.weight",
    step="fibre",
    asks="Weight of the yarn",
    kind=fixed(*(Option(w.id, w.label, also=w.also) for w in all_weights())),
    hint="the number or name on the ball band; sts: stitches to expect in {10 cm} of plain cloth",
    why="It tells how many stitches to expect and on which needle to begin.",
    needed=True,
)

FIBRES = Question(
    key="yarn.fibres",
    step="fibre",
    asks="Blend in per cent",
    kind=Blend(),
    hint="from the ball band, for example 80 wool, 20 nylon; it must come to 100",
    why="Fibres behave differently in wear and in the wash. Superwash grows where plain wool does not: name it so.",
    needed=True,
)

BALL_G = Question(
    key="yarn.ball_g",
    step="fibre",
    asks="Weight of one ball",
    kind=Mass(5, 2000),
    hint="from the band: grams, or write oz behind it; it is kept in grams",
    why="With the length of a ball it turns stitches into balls to buy.",
)

BALL_M = Question(
    key="yarn.ball_m",
    step="fibre",
    asks="Length of one ball",
    kind=YarnLength(5, 10000),
    hint="from the band, with its unit: 200 m or 220 yd",
    why="Length is what knitting uses up; grams differ between fibres of the same thickness.",
)

BALLS = Question(
    key="yarn.balls",
    step="fibre",
    asks="Balls you have",
    kind=Whole(1, 500, "ball"),
    hint="leave it open if you will buy what the plan says",
    why="So that the plan can say in time whether they are enough: the swatches take some of them too.",
)

CARE = Question(
    key="yarn.care",
    step="fibre",
    asks="How it will be washed",
    kind=Words(80, such_as="hand wash cool, dry flat"),
    hint="as you will really do it: hand wash cool and dry flat, or machine wash at 30 degrees",
    why="The swatch must be washed the same way, or its numbers are for another garment.",
)

YARN_QUESTIONS = (NAME, WEIGHT, FIBRES, BALL_G, BALL_M, BALLS, CARE)
SHOWN = (UNITS, NEEDLE_NAMES, TERMS)
"""How things are shown: asked before anything is measured or said so."""

QUESTIONS = (TITLE, *SHOWN, TENSION, *YARN_QUESTIONS)


YOU = "You and the project"
"""The heading of what belongs to no yarn."""


def groups(project: Project) -> tuple[Group, ...]:
    """The knitter, with the units that all that follows is shown in; then every yarn."""
    you = Group(YOU, tuple(at_top(q, q.key) for q in (TITLE, *SHOWN, TENSION)))
    yarns = tuple(
        Group(
            _called(y, project),
            tuple(in_item(q, y) for q in YARN_QUESTIONS),
            name=f"yarn.{y.id}",
        )
        for y in project.yarn
    )
    return (you, *yarns)


def _called(yarn: Yarn, project: Project) -> str:
    """A yarn as a heading: by its name, by its letter only where several have none."""
    if yarn.name:
        return f"Yarn: {yarn.name}"
    return "The yarn" if len(project.yarn) == 1 else f"Yarn {yarn.id}, no name yet"


def add_yarn(project: Project) -> Project:
    """A further candidate yarn, with the next free letter."""
    taken = {y.id for y in project.yarn}
    letters = [*"abcdefghijklmnopqrstuvwxyz", *(f"y{i}" for i in range(1, 1000))]
    return replace(project, yarn=(*project.yarn, Yarn(next(x for x in letters if x not in taken))))


def remove_yarn(project: Project, yarn_id: str) -> Project:
    """Without that yarn. Its swatches stay and ask for another yarn."""
    return without_drafts(replace(project, yarn=tuple(y for y in project.yarn if y.id != yarn_id)), f"yarn.{yarn_id}.")
