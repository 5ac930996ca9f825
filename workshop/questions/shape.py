"""Questions of the step Shape: construction, neck, sleeve, lengths and edgings."""

from workshop.core.constructions import CONSTRUCTIONS, construction
from workshop.core.edgings import asked_edgings
from workshop.core.fabric.patterns import PLAIN
from workshop.core.necklines import asked_necklines, neckline
from workshop.project import Project
from workshop.questions import Group, Question
from workshop.questions.kinds import Choice, Length, Option, fixed
from workshop.questions.patterns import fabrics
from workshop.questions.places import in_table
from workshop.tables.trade_rules import DART_FROM_CM

CONSTRUCTION = Question(
    key="garment.construction",
    step="shape",
    asks="Construction",
    kind=Choice(lambda _project: tuple(Option(c.name, c.label) for c in CONSTRUCTIONS.values())),
    hint="a drop shoulder is the friendliest first jumper: straight pieces; a set-in sleeve sits closest; a raglan "
    "from the neck can be tried on as it grows",
    why="It decides which pieces there are and how they meet: a square armhole or a set-in sleeve sits closer than a "
    "dropped shoulder; a raglan has four slanting lines from underarm to neck and, from the neck down, can be tried "
    "on as it grows; a round yoke closes in rings about the neck.",
    needed=True,
)

WORKED = Question(
    key="garment.worked",
    step="shape",
    asks="Body and sleeves worked",
    kind=fixed(Option("flat", "flat, pieces to sew"), Option("round", "in the round")),
    hint="as you worked the swatch; in the round means body and sleeves without seams, up to the underarm",
    why="Flat pieces need edge stitches for the seams, and purl rows can be looser.",
    needed=True,
)

FRONT = Question(
    key="garment.front",
    step="shape",
    asks="Front",
    kind=fixed(Option("closed", "closed"), Option("open", "open, a cardigan")),
    hint="a pullover is closed; a cardigan is open, with bands and buttons",
    why="An open front needs two halves and bands.",
)

NECKLINE = Question(
    key="garment.neckline",
    step="shape",
    asks="Neckline",
    kind=Choice(lambda _project: tuple(Option(n.name, n.label) for n in asked_necklines())),
    hint="a crew neck is the usual first one; a boat neck needs no shaping at all",
    why="It decides where the front divides and how the band lies; only a boat neck does not divide it.",
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
    hint="long sleeves take about a third of the yarn",
    why="It decides the length of the sleeve and what its edge goes round.",
    needed=True,
)

WAIST = Question(
    key="garment.waist",
    step="shape",
    asks="Sides",
    kind=fixed(Option("straight", "straight"), Option("shaped", "shaped at the waist")),
    hint="straight is simplest; shaped sides draw in to the waist and out again above it, by the ease at waist and hip "
    "(step Measure)",
    why="Shaping at the waist needs rows to do it in.",
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
    hint="in steps: a few stitches bound off at a time",
    why="A shoulder falls from the neck to the arm; a slope follows it. Straight is easier to sew.",
    when=lambda p: construction(p.garment.construction).shoulder_seams and neckline(p.garment.neckline).divides,
)

BUST_DARTS = Question(
    key="garment.bust_darts",
    step="shape",
    asks="Bust darts in short rows",
    kind=fixed(Option("no", "none"), Option("yes", "yes, full less high bust")),
    hint="they add length over a full bust, so that the hem hangs level",
    why="A front that goes over a fuller bust is used up there and rides up at the middle.",
    when=lambda p: bool(
        p.body.chest_cm and p.body.high_bust_cm and p.body.chest_cm - p.body.high_bust_cm >= DART_FROM_CM
    ),
)

LENGTH = Question(
    key="garment.length_cm",
    step="shape",
    asks="Length, shoulder to hem",
    kind=Length(15, 130),
    hint="from the highest point of the shoulder, beside the neck, down to where the hem should lie",
    why="All rows of the body follow from it.",
    needed=True,
)

HEM = Question(
    key="garment.hem",
    step="shape",
    asks="Hem, cuffs and neckband",
    kind=Choice(lambda _project: tuple(Option(e.name, e.label) for e in asked_edgings())),
    hint="rib draws in, garter lies flat, plain stockinette rolls up",
    why="A rib needs stitch counts that its repeat divides.",
    needed=True,
)

HEM_CM = Question(
    key="garment.hem_cm",
    step="shape",
    asks="Depth of the hem",
    kind=Length(1, 25),
    hint="{6 cm} is usual for an adult",
    child_hint="{3 cm} is usual for a child, less for a baby",
    why="These rows come before the plain cloth begins.",
    needed=True,
    when=lambda p: p.garment.hem != "none",
)

CUFF_CM = Question(
    key="garment.cuff_cm",
    step="shape",
    asks="Depth of the cuff",
    kind=Length(1, 25),
    hint="{6 cm} is usual for a long sleeve, {2 to 3 cm} for a short one",
    child_hint="{3 cm} is usual for a child's sleeve; deeper, it can be turned back while the arm is short",
    why="The sleeve widens only above it.",
    needed=True,
    when=lambda p: p.garment.hem != "none" and p.garment.sleeve != "none",
)

BAND_CM = Question(
    key="garment.band_cm",
    step="shape",
    asks="Depth of the neckband",
    kind=Length(0.5, 25),
    hint="about {2.5 cm} for an adult; left open, that is what it is",
    child_hint="about {2 cm} for a child; left open, that is what it is",
    why="The neck opening is drawn without it; it fills the opening.",
)

NECK_WIDTH = Question(
    key="garment.neck_width_cm",
    step="shape",
    asks="Width of the neck",
    kind=Length(7, 45),
    hint="left open: from the chest, and so that the head passes; about {17 cm} for an adult crew neck",
    child_hint="left open: from the chest, about {15 cm} for a child of six; the head must get through",
    why="Front, back and shoulders share the stitches with it.",
)

NECK_DEPTH = Question(
    key="garment.neck_depth_cm",
    step="shape",
    asks="Depth of the front neck",
    kind=Length(2, 40),
    hint="left open: a crew about {7.5 cm} for an adult, a V almost to the underarm, a scoop nearly two crews",
    child_hint="left open: a crew about {6 cm} at six years, a V almost to the underarm, a scoop nearly two crews",
    why="Measured from the highest point of the shoulder, before the band fills it.",
    when=lambda p: neckline(p.garment.neckline).divides,
)

SLEEVE_CM = Question(
    key="garment.sleeve_cm",
    step="shape",
    asks="Length of the sleeve",
    kind=Length(4, 80),
    hint="left open: from neck to cuff less half the width of the garment",
    why="On a dropped shoulder part of the arm is covered by the body already.",
    when=lambda p: p.garment.sleeve != "none",
)


def _patterned(project: Project) -> bool:
    return project.garment.fabric not in (None, PLAIN)


FABRIC = Question(
    key="garment.fabric",
    step="shape",
    asks="Fabric",
    kind=Choice(fabrics),
    hint="stockinette if blank; patterns of your own are described in the step Swatch",
    why="The garment has the gauge of its fabric, its repeats and its rows. Swatch it in that fabric.",
)

FABRIC_FIT = Question(
    key="garment.fabric_fit",
    step="shape",
    asks="How the repeats fit",
    kind=fixed(
        Option("centred", "centred, running out at the edges"),
        Option("whole-repeats", "whole repeats"),
        Option("plain-sides", "whole repeats between plain sides"),
    ),
    hint="if blank, what costs least; the check beside the fabric says what each would cost",
    why="A width is seldom whole repeats. Either the pattern breaks off at the sides, or the width gives way.",
    when=_patterned,
)

FABRIC_CENTRE = Question(
    key="garment.fabric_centre",
    step="shape",
    asks="In the middle",
    kind=fixed(Option("motif", "the middle of a motif"), Option("between", "the line between two")),
    hint="the middle of a motif if blank",
    why="Front, back and sleeves look alike from their middle to both sides.",
    when=_patterned,
)

QUESTIONS = (
    CONSTRUCTION,
    WORKED,
    FRONT,
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
)


def groups(project: Project) -> tuple[Group, ...]:
    """The shape, its lengths, and the figures that may be left open."""
    shape = (CONSTRUCTION, WORKED, FRONT, NECKLINE, SLEEVE, WAIST, SHOULDER, BUST_DARTS)
    lengths = (LENGTH, HEM, HEM_CM, CUFF_CM)
    fabric = (FABRIC, FABRIC_FIT, FABRIC_CENTRE)
    own = (BAND_CM, NECK_WIDTH, NECK_DEPTH, SLEEVE_CM)
    return tuple(
        Group(title, tuple(in_table(q) for q in questions if q.when(project)), name=name)
        for title, questions, name in (
            ("The shape", shape, "shape"),
            ("Lengths and edgings", lengths, "lengths"),
            ("The fabric", fabric, "fabric"),
            ("Own figures, may stay open", own, "own"),
        )
    )
