"""Questions of the Shape step: construction, neck, sleeve, lengths and edgings."""

from workshop.core.constructions import CONSTRUCTIONS, construction
from workshop.core.edgings import asked_edgings
from workshop.core.fabric.patterns import PLAIN
from workshop.core.necklines import asked_necklines, neckline
from workshop.project import Project
from workshop.questions import Group, Question, colours, panels
from workshop.questions.kinds import Choice, Length, Option, fixed
from workshop.questions.patterns import fabrics
from workshop.questions.places import in_table
from workshop.tables.trade_rules import DART_FROM_CM

CONSTRUCTION = Question(
    key="garment.construction",
    step="shape",
    asks="Construction",
    kind=Choice(lambda _project: tuple(Option(c.name, c.label) for c in CONSTRUCTIONS.values())),
    hint="a drop shoulder is easiest. For a first sweater without seams, choose a raglan from the neck down",
    why="The construction decides which pieces you knit and how they're joined. A drop-shoulder garment has straight "
    "pieces. A square armhole (modified drop shoulder) and a set-in sleeve fit more closely than a drop shoulder. "
    "A raglan has four "
    "slanting lines from underarm to neck. You can try on a raglan as it grows from the neck down. A round-yoke "
    "sweater is "
    "knitted from the hem up, and decrease rounds draw the yoke in around the neck.",
    needed=True,
)


def _ways_of_working(project: Project) -> tuple[Option, ...]:
    """Flat or in the round; a cardigan has one piece where a pullover is knitted in the round."""
    whole = "body in one piece, no side seams" if project.garment.front == "open" else "in the round"
    return (Option("flat", "flat, pieces to sew"), Option("round", whole, also=("in the round", "in one piece")))


WORKED = Question(
    key="garment.worked",
    step="shape",
    asks="Body and sleeves",
    kind=Choice(_ways_of_working),
    hint="the way you knitted the swatch. Worked in the round, a pullover has no side or sleeve seams",
    open_hint="a cardigan's body is always knitted back and forth, as a flat swatch is. A body in one piece has no "
    "side seams",
    why="Flat pieces need edge stitches for the seams. Many knitters purl more loosely than they knit, so their gauge "
    "changes in the round.",
    needed=True,
)

FRONT = Question(
    key="garment.front",
    step="shape",
    asks="Front",
    kind=fixed(Option("closed", "closed"), Option("open", "open, a cardigan")),
    hint="closed for a pullover, open for a cardigan with bands and buttons",
    why="An open front has two halves, each with a band. The buttonholes go on the right front, or on the left "
    "front if you use the men's table.",
)

NECKLINE = Question(
    key="garment.neckline",
    step="shape",
    asks="Neckline",
    kind=Choice(lambda _project: tuple(Option(n.name, n.label) for n in asked_necklines())),
    hint="a crew neck is a good first choice. A boat neck needs no shaping at all",
    why="The neckline decides where the front divides and how the neckband sits. A boat neck has no neck split.",
    needed=True,
)

SLEEVE = Question(
    key="garment.sleeve",
    step="shape",
    asks="Sleeve",
    kind=fixed(
        Option("long", "long, to the wrist"),
        Option("short", "short"),
        Option("elbow", "to the elbow"),
        Option("none", "none, with armhole bands"),
    ),
    hint="long sleeves take about a third of all the yarn",
    why="This decides how far down the arm the sleeve goes.",
    needed=True,
)

WAIST = Question(
    key="garment.waist",
    step="shape",
    asks="Body shape",
    kind=fixed(Option("straight", "straight"), Option("shaped", "shaped at the waist")),
    hint="straight is simplest. Shaped sides draw in at the waist and widen again at the hip, with the ease you chose "
    "in the Measure step",
    why="The shaping is spread over the rows between hem and underarm.",
)

SHOULDER = Question(
    key="garment.shoulder",
    step="shape",
    asks="Shoulders",
    kind=fixed(
        Option("steps", "sloped, in steps"),
        Option("short-rows", "sloped in short rows"),
        Option("straight", "straight"),
    ),
    hint="'in steps' means binding off a few stitches at a time",
    why="Shoulders slope down from the neck, and a sloped edge follows them. A straight edge is easier to sew than a "
    "sloped one.",
    when=lambda p: construction(p.garment.construction).shoulder_seams and neckline(p.garment.neckline).divides,
)

BUST_DARTS = Question(
    key="garment.bust_darts",
    step="shape",
    asks="Bust darts in short rows",
    kind=fixed(Option("no", "none"), Option("yes", "yes, based on full and high bust")),
    hint="darts add length over a full bust, so the hem hangs level",
    why="A full bust takes up length, so without darts the hem rides up in front.",
    when=lambda p: bool(
        p.body.chest_cm and p.body.high_bust_cm and p.body.chest_cm - p.body.high_bust_cm >= DART_FROM_CM
    ),
)

LENGTH = Question(
    key="garment.length_cm",
    step="shape",
    asks="Length, shoulder to hem",
    kind=Length(15, 130),
    hint="from the highest point of the shoulder, beside the neck, down to where you want the hem",
    child_hint="from the highest point of the shoulder to where you want the hem. The suggested length ends at the "
    "hip. Add {4 to 6 cm} for a longer sweater, or one to grow into",
    why="The length decides how many rows the body has.",
    needed=True,
)

HEM = Question(
    key="garment.hem",
    step="shape",
    asks="Hem, cuffs and neckband",
    kind=Choice(lambda _project: tuple(Option(e.name, e.label) for e in asked_edgings())),
    hint="rib draws in, garter lies flat, stockinette rolls up",
    why="Rib needs whole repeats, so it can change the stitch count. You knit the edgings on smaller needles than "
    "the main fabric, usually one or two sizes down.",
    needed=True,
)

HEM_CM = Question(
    key="garment.hem_cm",
    step="shape",
    asks="Depth of the hem",
    kind=Length(1, 25),
    hint="{6 cm} is usual for an adult's hem",
    child_hint="{3 cm} is usual for a child's hem, less for a baby's",
    why="The hem is part of the finished length, so a deeper hem leaves fewer rows for the main fabric.",
    needed=True,
    when=lambda p: p.garment.hem != "none",
)

CUFF_CM = Question(
    key="garment.cuff_cm",
    step="shape",
    asks="Depth of the cuff",
    kind=Length(1, 25),
    hint="{6 cm} is usual for a long sleeve, {2 to 3 cm} for a short one",
    child_hint="{3 cm} is usual for a child's sleeve. A deeper cuff can be turned back while the arm is short",
    why="The cuff itself is straight. A deeper cuff leaves fewer rows between cuff and underarm to shape the sleeve.",
    needed=True,
    when=lambda p: p.garment.hem != "none" and p.garment.sleeve != "none",
)

BAND_CM = Question(
    key="garment.band_cm",
    step="shape",
    asks="Depth of the neckband",
    kind=Length(0.5, 25),
    hint="if blank, about {2.5 cm} for an adult's neckband",
    child_hint="if blank, about {2 cm} for a child's neckband",
    why="The neckband fills part of the neck opening. A cardigan's front bands are as wide as its neckband.",
)

NECK_WIDTH = Question(
    key="garment.neck_width_cm",
    step="shape",
    asks="Width of the neck",
    kind=Length(7, 45),
    hint="if blank, the neck width is based on the chest, and wide enough for the head. An adult's crew neck is often "
    "{16 cm} to {19 cm} wide",
    child_hint="if blank, the neck width is based on the chest, and wide enough for the head. A child's crew "
    "neck is often {13 cm} to {16 cm} wide",
    why="The wider the neck, the narrower the shoulders.",
)

NECK_DEPTH = Question(
    key="garment.neck_depth_cm",
    step="shape",
    asks="Depth of the front neck",
    kind=Length(2, 40),
    hint="if blank: about {7.5 cm} for an adult's crew neck, nearly twice that for a scoop, almost to the underarm "
    "for a V",
    child_hint="if blank: about {6 cm} for a six-year-old's crew neck, nearly twice that for a scoop, almost to the "
    "underarm for a V",
    why="Measure the neck depth from the highest point of the shoulder, without the band.",
    when=lambda p: neckline(p.garment.neckline).divides,
)

SLEEVE_CM = Question(
    key="garment.sleeve_cm",
    step="shape",
    asks="Length of the sleeve",
    kind=Length(4, 80),
    hint="if blank, your sleeve length to the underarm. On a drop shoulder or square armhole, the sleeve length is "
    "neck to cuff minus half the garment's width",
    why="On a drop shoulder or square armhole, the body already covers part of the arm.",
    when=lambda p: p.garment.sleeve != "none",
)


def _patterned(project: Project) -> bool:
    return project.garment.fabric not in (None, PLAIN)


FABRIC = Question(
    key="garment.fabric",
    step="shape",
    asks="Fabric",
    kind=Choice(fabrics),
    hint="stockinette if blank. You can describe a pattern of your own in the Swatch step",
    why="The gauge and the repeats depend on the fabric, so knit a swatch in that fabric.",
)

FABRIC_FIT = Question(
    key="garment.fabric_fit",
    step="shape",
    asks="How the repeats fit",
    kind=fixed(
        Option("centred", "in the middle, cut off at the edges"),
        Option("whole-repeats", "whole repeats"),
        Option("plain-sides", "whole repeats between plain sides"),
        Option("runs-on", "continuing across the side seams"),
    ),
    hint="if blank, whatever changes the width least. You'll see what each choice would change",
    why="Whole repeats seldom fit a width exactly. Either the pattern is cut off at the sides, or the width changes a "
    "little.",
    when=_patterned,
)

FABRIC_CENTRE = Question(
    key="garment.fabric_centre",
    step="shape",
    asks="In the middle",
    kind=fixed(Option("motif", "the middle of a motif"), Option("between", "the gap between two motifs")),
    hint="the middle of a motif if blank",
    why="The pattern is the same on both sides of the middle of each piece.",
    when=_patterned,
)

QUESTIONS = (
    CONSTRUCTION,
    FRONT,
    WORKED,
    NECKLINE,
    SLEEVE,
    WAIST,
    SHOULDER,
    BUST_DARTS,
    LENGTH,
    HEM,
    HEM_CM,
    CUFF_CM,
    BAND_CM,
    NECK_WIDTH,
    NECK_DEPTH,
    SLEEVE_CM,
    FABRIC,
    FABRIC_FIT,
    FABRIC_CENTRE,
    *panels.QUESTIONS,
    *colours.QUESTIONS,
)


def groups(project: Project) -> tuple[Group, ...]:
    """The shape, its lengths, and the figures that are optional."""
    shape = (CONSTRUCTION, FRONT, WORKED, NECKLINE, SLEEVE, WAIST, SHOULDER, BUST_DARTS)
    lengths = (LENGTH, HEM, HEM_CM, CUFF_CM)
    fabric = (FABRIC, FABRIC_FIT, FABRIC_CENTRE)
    own = (BAND_CM, NECK_WIDTH, NECK_DEPTH, SLEEVE_CM)
    *first, last = (
        Group(title, tuple(in_table(q) for q in questions if q.when(project)), name=name)
        for title, questions, name in (
            ("The shape", shape, "shape"),
            ("Lengths and edgings", lengths, "lengths"),
            ("The fabric", fabric, "fabric"),
            ("Color and bands", colours.QUESTIONS, "colour"),
            ("Optional: your own figures", own, "own"),
        )
    )
    return (*first, *panels.groups(project), last)
