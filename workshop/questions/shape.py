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
    hint="a drop shoulder is easiest, a set-in sleeve fits closest, and you can try on a raglan from the neck",
    why="It decides which pieces there are and how they meet. A drop shoulder has straight pieces. A square armhole, "
    "also called modified drop shoulder, and a set-in sleeve fit more closely. A raglan has four slanting lines from "
    "underarm to neck. Knitted from the neck down, you can try it on as it grows. A round yoke closes in rings "
    "around the neck.",
    needed=True,
)

WORKED = Question(
    key="garment.worked",
    step="shape",
    asks="Body and sleeves worked",
    kind=fixed(Option("flat", "flat, pieces to sew"), Option("round", "in the round")),
    hint="the way you knitted the swatch. In the round means no seams in body and sleeves up to the underarm",
    why="Flat pieces need edge stitches for the seams, and your purl rows may be looser.",
    needed=True,
)

FRONT = Question(
    key="garment.front",
    step="shape",
    asks="Front",
    kind=fixed(Option("closed", "closed"), Option("open", "open, a cardigan")),
    hint="a pullover is closed. A cardigan is open, with bands and buttons",
    why="An open front has two halves and bands.",
)

NECKLINE = Question(
    key="garment.neckline",
    step="shape",
    asks="Neckline",
    kind=Choice(lambda _project: tuple(Option(n.name, n.label) for n in asked_necklines())),
    hint="a crew neck is the usual first one. A boat neck needs no shaping at all",
    why="It decides where the front splits for the neck and how the band sits. Only a boat neck has no split.",
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
    why="It decides how long the sleeve is and where its edge sits on the arm.",
    needed=True,
)

WAIST = Question(
    key="garment.waist",
    step="shape",
    asks="Body shape",
    kind=fixed(Option("straight", "straight"), Option("shaped", "shaped at the waist")),
    hint="straight is simplest. Shaped sides draw in to the waist and out again, by the ease at waist and hip (step "
    "Measure)",
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
    hint="in steps means you bind off a few stitches at a time",
    why="Shoulders slope from the neck to the arm, and a sloped edge follows them. Straight is easier to sew.",
    when=lambda p: construction(p.garment.construction).shoulder_seams and neckline(p.garment.neckline).divides,
)

BUST_DARTS = Question(
    key="garment.bust_darts",
    step="shape",
    asks="Bust darts in short rows",
    kind=fixed(Option("no", "none"), Option("yes", "yes, from full and high bust")),
    hint="they add length over a full bust, so the hem hangs level",
    why="A fuller bust uses up length, so the hem rides up in front.",
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
    why="It gives the number of rows in the body.",
    needed=True,
)

HEM = Question(
    key="garment.hem",
    step="shape",
    asks="Hem, cuffs and neckband",
    kind=Choice(lambda _project: tuple(Option(e.name, e.label) for e in asked_edgings())),
    hint="rib draws in, garter stays flat, stockinette rolls up",
    why="Rib needs whole repeats, so it changes the stitch count.",
    needed=True,
)

HEM_CM = Question(
    key="garment.hem_cm",
    step="shape",
    asks="Depth of the hem",
    kind=Length(1, 25),
    hint="{6 cm} is usual for an adult",
    child_hint="{3 cm} is usual for a child, less for a baby",
    why="You knit these rows before the stockinette starts.",
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
    why="The sleeve gets wider only above it.",
    needed=True,
    when=lambda p: p.garment.hem != "none" and p.garment.sleeve != "none",
)

BAND_CM = Question(
    key="garment.band_cm",
    step="shape",
    asks="Depth of the neckband",
    kind=Length(0.5, 25),
    hint="about {2.5 cm} for an adult, and that's used if you leave it blank",
    child_hint="about {2 cm} for a child, and that's used if you leave it blank",
    why="The neck opening is drawn without the band. The band then fills part of it.",
)

NECK_WIDTH = Question(
    key="garment.neck_width_cm",
    step="shape",
    asks="Width of the neck",
    kind=Length(7, 45),
    hint="if blank, it's set by the chest, wide enough for the head. About {17 cm} for an adult crew neck",
    child_hint="if blank, it's set by the chest, wide enough for the head. About {15 cm} for a child of six",
    why="The wider the neck, the narrower the shoulders.",
)

NECK_DEPTH = Question(
    key="garment.neck_depth_cm",
    step="shape",
    asks="Depth of the front neck",
    kind=Length(2, 40),
    hint="if blank: a crew about {7.5 cm} for an adult, a V almost to the underarm, a scoop nearly twice a crew",
    child_hint="if blank: a crew about {6 cm} at six years, a V almost to the underarm, a scoop nearly twice a crew",
    why="It's measured from the highest point of the shoulder, without the band.",
    when=lambda p: neckline(p.garment.neckline).divides,
)

SLEEVE_CM = Question(
    key="garment.sleeve_cm",
    step="shape",
    asks="Length of the sleeve",
    kind=Length(4, 80),
    hint="if blank: neck to cuff, less half the width of the garment",
    why="On a drop shoulder, the body already covers part of the arm.",
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
    """The shape, its lengths, and the figures that are optional."""
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
            ("Optional: your own figures", own, "own"),
        )
    )
