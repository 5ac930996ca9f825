"""Questions of the Swatch step: which needles, which pattern, worked how."""

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from workshop.project import Project, Swatch
from workshop.questions import Group, Question, patterns
from workshop.questions.kinds import Choice, Length, Mass, Needle, Option, Whole, Words, fixed
from workshop.questions.patterns import fabrics
from workshop.questions.places import in_item, without_drafts

YARN = Question(
    key="swatch.yarn",
    step="swatch",
    asks="Yarn",
    kind=Choice(lambda p: tuple(Option(y.id, f"{y.id}: {y.name}" if y.name else y.id) for y in p.yarn)),
    hint="the yarn you'll knit this swatch in",
    why="Gauge depends on the yarn, the needle and the knitter.",
    needed=True,
)

NEEDLE = Question(
    key="swatch.needle_mm",
    step="swatch",
    asks="Needle size",
    kind=Needle(),
    hint="any size you like, including the ball band's: 4 mm, US 6 or UK 8. Use needles you'd knit the garment with",
    why="Three or more needle sizes let you compare fabrics. The ball band can only suggest one needle size.",
    needed=True,
)

MATERIAL = Question(
    key="swatch.needle_material",
    step="swatch",
    asks="Needle material",
    kind=fixed(
        Option("wood", "wood"), Option("bamboo", "bamboo"), Option("metal", "metal"), Option("plastic", "plastic")
    ),
    hint="wood and bamboo grip the yarn, while metal is slippery",
    why="The same needle size can give a different gauge in wood than in metal.",
)

WORKED = Question(
    key="swatch.worked",
    step="swatch",
    asks="Worked",
    kind=fixed(Option("flat", "flat, back and forth"), Option("round", "in the round")),
    hint="choose flat for a cardigan, for pieces you'll sew together, or if you're not sure yet. Choose in the round "
    "for a pullover without seams, such as a raglan from the neck down or a round yoke",
    why="Many knitters purl more loosely than they knit. So their gauge can change by a stitch in {10 cm} between "
    "knitting flat and in the round.",
    always_answered=True,
)


STITCH = Question(
    key="swatch.stitch",
    step="swatch",
    asks="Stitch pattern",
    kind=Choice(partial(fabrics, untold=True)),
    hint="the fabric you'll use for the garment. You can also swatch the rib or garter stitch you'll use for the hem",
    why="Each fabric has its own gauge and shrinks differently. If your fabric isn't listed, press 'Describe a "
    "pattern of your own' below.",
    always_answered=True,
)

EDGE = Question(
    key="swatch.edge_stitches",
    step="swatch",
    asks="Garter stitches at each edge",
    kind=Whole(0, 10),
    hint="3 stitches at each edge keep the swatch flat. Type 0 for a strip without borders",
    why="Stockinette curls, and you can't measure a curled edge. Don't count the garter stitches at the edges.",
)

WIDTH = Question(
    key="swatch.width_cm",
    step="swatch",
    asks="How wide will you knit the swatch?",
    called="How wide you will knit it",
    kind=Length(10, 60),
    hint="{15 cm} is usual. Don't make the swatch less than {10 cm} wide",
    why="The wider the swatch, the less it matters if you're half a stitch off.",
)

NOTES = Question(
    key="swatch.notes",
    step="gauge",
    asks="Notes",
    kind=Words(200),
    hint="anything you'd tell a friend: the yarn splits, squeaks, or is lovely to knit with",
    why="In three weeks you won't remember which swatch was which.",
)

GRAMS = Question(
    key="swatch.grams",
    step="gauge",
    asks="Weight of the dry swatch",
    kind=Mass(0.5, 500),
    hint="weigh the swatch bone dry, if your scale shows half grams. In the round: leave this blank until you've done "
    "all your counts, including the washed ones. Then trim off the cut strands, and weigh the swatch",
    why="The weight of the swatch is the best guide to how much yarn to buy.",
)

CAST_ON = Question(
    key="swatch.cast_on",
    step="gauge",
    asks="Stitches cast on",
    kind=Whole(4, 400),
    hint="how many stitches you cast on for this swatch, including the edge stitches",
    why="Stitches, rows and weight together show how much yarn a stitch takes.",
)

ROWS = Question(
    key="swatch.rows",
    step="gauge",
    asks="Rows knitted",
    kind=Whole(4, 600),
    hint="all rows from the cast-on to the end, borders included",
    why="Stitches, rows and weight together show how much yarn a stitch takes.",
)

FABRIC_RATING = Question(
    key="swatch.fabric_rating",
    step="gauge",
    asks="How do you like the fabric?",
    called="How you like the fabric",
    kind=Whole(1, 5),
    hint="from 1, stiff as a board or limp as a rag, to 5, exactly what I want to wear",
    why="Choose the fabric you like. Any fabric can be made to fit.",
)

KNITTING_RATING = Question(
    key="swatch.knitting_rating",
    step="gauge",
    asks="Nice to knit?",
    called="How nice it is to knit",
    kind=Whole(1, 5),
    hint="from 1, a struggle, to 5, a pleasure. If your hands ache, type 1",
    why="You'll be knitting this fabric for weeks.",
)

PLANNED = (YARN, NEEDLE, MATERIAL, WORKED, STITCH, EDGE, WIDTH)
KNITTED = (CAST_ON, ROWS, GRAMS, FABRIC_RATING, KNITTING_RATING, NOTES)
QUESTIONS = (*PLANNED, *KNITTED, *patterns.QUESTIONS)


def groups(project: Project) -> tuple[Group, ...]:
    """Every swatch, and every pattern of the knitter's own."""
    swatches = tuple(
        Group(f"Swatch {s.id}", tuple(in_item(q, s) for q in PLANNED if _asked(q, s, project)), name=f"swatch.{s.id}")
        for s in project.swatch
    )
    return (*swatches, *patterns.groups(project))


def _asked(question: Question, swatch: Swatch, project: Project) -> bool:
    """Whether a swatch is asked a question: where there is one yarn, it is knitted in that anyway."""
    return question is not YARN or [y.id for y in project.yarn] != [swatch.yarn]


def add_swatches(project: Project, yarn_id: str | None, needles_mm: Sequence[float]) -> Project:
    """One more swatch for each needle size, with the next free letters."""
    new = list(project.swatch)
    for mm in needles_mm:
        new.append(Swatch(_free_letter([s.id for s in new]), yarn=yarn_id, needle_mm=mm, edge_stitches=3))
    return replace(project, swatch=tuple(new))


def add_swatch(project: Project) -> Project:
    """One more swatch, of the only yarn where there is one."""
    yarn_id = project.yarn[0].id if len(project.yarn) == 1 else None
    new = Swatch(_free_letter([s.id for s in project.swatch]), yarn=yarn_id, edge_stitches=3)
    return replace(project, swatch=(*project.swatch, new))


def remove_swatch(project: Project, swatch_id: str) -> Project:
    """Without that swatch and its readings."""
    without = replace(project, swatch=tuple(s for s in project.swatch if s.id != swatch_id))
    return without_drafts(without, f"swatch.{swatch_id}.", f"reading.{swatch_id}.")


def _free_letter(taken: Sequence[str]) -> str:
    letters = [*"ABCDEFGHIJKLMNOPQRSTUVWXYZ", *(f"S{i}" for i in range(1, 1000))]
    return next(str(x) for x in letters if x not in taken)
