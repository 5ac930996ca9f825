"""Questions of the Fibre step: the knitter's hand, and one or more candidate yarns."""

from dataclasses import replace

from workshop.project import Project, Yarn
from workshop.questions import Group, Question
from workshop.questions.kinds import Blend, Choice, Mass, Option, Whole, Words, YarnLength, fixed
from workshop.questions.places import at_top, in_item, without_drafts
from workshop.tables.yarn_weights import all_weights

TITLE = Question(
    key="title",
    step="fibre",
    asks="Name of the project",
    kind=Words(60),
    hint="whatever you'd like to call it",
    why="The file gets the same name, so you can find it among your saved projects.",
    needed=True,
)

TENSION = Question(
    key="tension",
    step="fibre",
    asks="How tightly do you knit?",
    called="How tightly you knit",
    kind=fixed(
        Option("tight", "tightly: stitches are hard to push along", also=("tightly",)),
        Option("average", "average, or not sure", also=("not sure", "normal")),
        Option("loose", "loosely: you often go down a needle size", also=("loosely",)),
    ),
    hint="if you're not sure, choose average. Your swatches decide the needle size",
    why="If you knit tightly, start one needle size up. If you knit loosely, start one size down.",
    needed=True,
)

UNITS = Question(
    key="units",
    step="fibre",
    asks="Lengths in",
    kind=fixed(Option("cm", "cm", also=("centimeters", "centimetres")), Option("in", "inches")),
    hint="you can always type the other unit after a number: 38 in, 97 cm",
    why="The unit only changes how lengths are shown. Your answers stay the same.",
    always_answered=True,
)

NEEDLE_NAMES = Question(
    key="needle_names",
    step="fibre",
    asks="Needles in",
    kind=fixed(
        Option("mm", "mm", also=("millimeters", "millimetres")), Option("us", "US sizes"), Option("uk", "old UK sizes")
    ),
    hint="you can always type mm, US or UK with the number",
    why="Needle sizes in mm are the same everywhere. US and old UK needle numbers run in opposite directions.",
    always_answered=True,
)

TERMS = Question(
    key="terms",
    step="fibre",
    asks="Knitting words",
    kind=fixed(Option("us", "US (bind off, gauge)"), Option("uk", "UK (cast off, tension)")),
    hint="the words your patterns use. All the screens and step names switch to them",
    why="US and UK patterns call some things by different names.",
    always_answered=True,
)

NAME = Question(
    key="yarn.name",
    step="fibre",
    asks="Name of the yarn",
    kind=Words(60),
    hint="the name you'd ask for when buying the yarn, with the color if you like",
    why="A name helps you tell your yarns apart, on swatches and in lists.",
)

WEIGHT = Question(
    key="yarn.weight",
    step="fibre",
    asks="Weight of the yarn",
    kind=Choice(lambda p: tuple(Option(w.id, w.label(p.terms), also=w.also) for w in all_weights())),
    hint="the name or number on the ball band. Stitch counts (sts) are for {10 cm} of stockinette",
    why="The yarn weight suggests a needle size to start with, and roughly how many stitches to expect.",
    needed=True,
)

FIBRES = Question(
    key="yarn.fibres",
    step="fibre",
    asks="Blend in percent",
    kind=Blend(),
    hint="copy the blend from the ball band, for example 80 wool, 20 nylon. The numbers must add up to 100",
    why="Each fiber wears and washes differently. If the wool is superwash, say so, because superwash grows in the "
    "wash.",
    needed=True,
)

BALL_G = Question(
    key="yarn.ball_g",
    step="fibre",
    asks="Weight of one ball",
    kind=Mass(5, 2000),
    hint="the weight in grams, from the ball band. If the weight is in ounces, type oz after the number",
    why="The workshop uses the weight of a ball to work out how many balls to buy.",
)

BALL_M = Question(
    key="yarn.ball_m",
    step="fibre",
    asks="Length of one ball",
    kind=YarnLength(5, 10000),
    hint="from the ball band, with the unit: 200 m or 220 yd",
    why="You use yarn by length, not by weight, and two 50 g balls can differ a lot in length.",
)

BALLS = Question(
    key="yarn.balls",
    step="fibre",
    asks="Balls you have",
    kind=Whole(1, 500, "ball"),
    hint="all the balls you've bought, including yarn for swatches. At first, buy just enough to swatch, and the rest "
    "once the plan shows how many balls you need",
    why="Enter how many balls you have, and the plan can warn you before you run short. Swatches use some yarn too.",
)

CARE = Question(
    key="yarn.care",
    step="fibre",
    asks="How will you wash the garment?",
    called="How you will wash it",
    kind=Words(80, such_as="hand wash cool, dry flat"),
    hint="in your own words, for example hand wash cool and dry flat, or machine wash at 30 °C",
    why="Wash the swatch the way you'll wash the garment. If you wash the garment differently, it may come out a "
    "different size.",
)

YARN_QUESTIONS = (NAME, WEIGHT, FIBRES, BALL_G, BALL_M, BALLS, CARE)
SHOWN = (TERMS, UNITS, NEEDLE_NAMES)
"""How things are said and shown: asked before anything is measured, the words first of all."""

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
    """Without that yarn. Its swatches stay and need another yarn."""
    return without_drafts(replace(project, yarn=tuple(y for y in project.yarn if y.id != yarn_id)), f"yarn.{yarn_id}.")
