"""What the knitter told us, and nothing else: frozen dataclasses, no arithmetic.

Field names are the keys of the save file. Lengths are centimetres, masses grams, always. ``None`` (or an
empty tuple) means "not answered yet". Every table keeps the keys that it does not know in ``extra``, so
that a file written by a later workshop loses nothing when this one saves it.
"""

from collections.abc import Mapping
from dataclasses import field
from typing import Any, Literal, NewType, get_args

from workshop.records import record

FORMAT = 3
"""Version of the save file that this workshop writes."""

Units = Literal["cm", "in"]
Terms = Literal["us", "uk"]
NeedleNames = Literal["mm", "us", "uk"]
Tension = Literal["tight", "average", "loose"]
Weight = Literal["lace", "super-fine", "fine", "light", "medium", "bulky", "super-bulky", "jumbo"]
Material = Literal["wood", "bamboo", "metal", "plastic"]
Worked = Literal["flat", "round"]
State = Literal["off needles", "washed", "hung"]
Along = Literal["stitches", "rows"]
BodyTable = Literal["women", "men", "youth", "children", "babies"]
BodySource = Literal["own", "table", "garment"]
Ease = Literal["very-close", "close", "standard", "loose", "oversized"]
Construction = NewType("Construction", str)
"""The name of one of ``core/constructions.py``."""
Front = Literal["closed", "open"]
Neckline = NewType("Neckline", str)
"""The name of one of ``core/necklines.py``."""
SleeveLength = Literal["long", "elbow", "short", "none"]
Waist = Literal["straight", "shaped"]
Shoulder = Literal["steps", "short-rows", "straight"]
Darts = Literal["yes", "no"]
PanelPlace = Literal["front", "back", "both", "sleeves"]
Centre = Literal["motif", "between"]
FabricFit = Literal["centred", "whole-repeats", "plain-sides", "runs-on"]
BeforeWash = Literal["counted", "not-counted"]
Edging = NewType("Edging", str)
"""The name of one of ``core/edgings.py``."""
Do = Literal["increase", "decrease", "bind-off", "cast-on", "hold", "join", "pick-up", "short-row"]
Where = Literal["left", "right", "both", "across", "neck-left", "neck-right", "centre", "underarm"]
Side = Literal["RS", "WS", "round"]
WayOn = Literal[
    "go-on", "rows-anew", "sides", "above-edging", "begin-again", "other-needle", "other-pieces", "as-before"
]
"""What may be done when a piece turns out otherwise than its swatch."""

STATES: tuple[State, ...] = get_args(State)
STEPS = ("fibre", "swatch", "gauge", "wash", "measure", "shape", "summary")
"""The steps in their order; names as in the save file and the machine-readable summary."""

MOST_PLACES = 9
"""Places counted on one swatch in one direction."""

Extra = Mapping[str, Any]


@record
class FibrePart:
    """One fibre of a blend and its share in per cent."""

    fibre: str
    percent: float


@record
class Yarn:
    """A candidate yarn, as its ball band describes it."""

    id: str
    name: str = ""
    weight: Weight | None = None
    fibres: tuple[FibrePart, ...] = ()
    ball_g: float | None = None
    ball_m: float | None = None
    care: str = ""
    balls: int | None = None
    """Balls at home already."""
    extra: Extra = field(default_factory=dict)


@record
class Reading:
    """One count on a swatch: so many stitches (or rows) over so many centimetres, in one place."""

    state: State
    along: Along
    count: float
    over_cm: float
    place: int | None = field(default=None, repr=False)
    """Which place on the swatch, where that is not told by the order; see :meth:`Swatch.places`."""
    extra: Extra = field(default_factory=dict)


@record
class Swatch:
    """A swatch, planned or knitted."""

    id: str
    yarn: str | None = None
    needle_mm: float | None = None
    needle_material: Material | None = None
    worked: Worked = "flat"
    stitch: str = "stockinette"
    """Id of the stitch pattern that it is knitted in; see ``core/fabric/patterns.py``."""
    edge_stitches: int = 0
    width_cm: float | None = None
    """How wide it is planned; left out, the usual 15 cm."""
    cast_on: int | None = None
    """Stitches as knitted."""
    rows: int | None = None
    """Rows as knitted, borders included."""
    grams: float | None = None
    fabric_rating: int | None = None
    """1 to 5: how the knitter likes the cloth."""
    knitting_rating: int | None = None
    """1 to 5: how it is to knit."""
    before_wash: BeforeWash | None = None
    """Whether it was counted before its wash; ``not-counted``: what was counted off the needles is left out."""
    notes: str = ""
    reading: tuple[Reading, ...] = ()
    extra: Extra = field(default_factory=dict)

    @property
    def knitted(self) -> bool:
        """Whether it is more than planned: counted, or washed before anyone counted it."""
        return bool(self.reading) or self.washed_first

    @property
    def washed_first(self) -> bool:
        """Whether it was washed before anyone counted it."""
        return self.before_wash == "not-counted"

    @property
    def counted_alike(self) -> bool:
        """Whether all its counts are the same before and after the wash: both may be of the washed fabric."""
        before, after = self.counts("off needles"), self.counts("washed")
        return all(before) and before == after

    def counts(self, state: State) -> tuple[list[tuple[float, float]], ...]:
        """The stitches and the rows of one state without their places: counts with the cm they go over, in order."""
        return tuple(sorted((r.count, r.over_cm) for r in self.readings(state, along)) for along in get_args(Along))

    def readings(self, state: State, along: Along) -> tuple[Reading, ...]:
        """The readings of one state in one direction, in the order of entry."""
        return tuple(r for r in self.reading if r.state == state and r.along == along)

    def places(self, state: State, along: Along) -> "Mapping[int, Reading]":
        """The same readings by the number of their place; those without a number take the free ones in order."""
        mine = self.readings(state, along)
        found: dict[int, Reading] = {}
        for reading in mine:
            if reading.place is not None and reading.place not in found:
                found[reading.place] = reading
        numbered = {id(r) for r in found.values()}
        free = (n for n in range(1, 2 * len(mine) + 1) if n not in found)
        for reading in mine:
            if id(reading) not in numbered:
                found[next(free)] = reading
        return found


@record
class StitchPattern:
    """A stitch pattern of the knitter's own: its repeat, and its rows where she has noted them."""

    id: str
    name: str = ""
    multiple: int = 1
    plus: int = 0
    rows: int | None = None
    """Rows of the repeat; None: as many as its lines or its chart have."""
    lines: tuple[str, ...] = ()
    chart: tuple[str, ...] = ()
    """One text for each row, as the right side shows it, in the order in which a right-side row is worked."""
    alike: bool = False
    """Whether both sides look alike."""
    stranded: bool = False
    """Whether the letters of its chart are colors of yarn: stockinette, with the other colors stranded behind."""
    swatch: str | None = None
    """The swatch that its gauge is taken from, where several are in it."""
    extra: Extra = field(default_factory=dict)


@record
class Panel:
    """A panel of a stitch pattern up the middle of a piece."""

    id: str
    """Of its pattern."""
    repeats: int = 1
    on: PanelPlace = "front"
    extra: Extra = field(default_factory=dict)


@record
class Band:
    """A band of a stitch pattern around a yoke."""

    id: str
    """Of its pattern."""
    extra: Extra = field(default_factory=dict)


@record
class Colour:
    """A colour of the garment's yarn; the first is its main colour."""

    id: str
    """A letter, as charts and stripes name it."""
    name: str = ""
    extra: Extra = field(default_factory=dict)


@record
class Stripe:
    """Rows in one colour, of a sequence that begins again after the last."""

    rows: int
    colour: str
    """Id of the colour."""
    extra: Extra = field(default_factory=dict)


@record
class Design:
    """Which swatch, measured in which state, the garment is planned from."""

    swatch: str | None = None
    state: State | None = None
    extra: Extra = field(default_factory=dict)


@record
class Body:
    """The wearer. Figures are of the body itself, no ease; blanks may be filled from ``table``."""

    source: BodySource | None = None
    table: BodyTable | None = None
    size: str | None = None
    chest_cm: float | None = None
    high_bust_cm: float | None = None
    waist_cm: float | None = None
    hip_cm: float | None = None
    cross_back_cm: float | None = None
    back_waist_cm: float | None = None
    upper_arm_cm: float | None = None
    wrist_cm: float | None = None
    armhole_depth_cm: float | None = None
    sleeve_underarm_cm: float | None = None
    neck_to_cuff_cm: float | None = None
    neck_cm: float | None = None
    head_cm: float | None = None
    extra: Extra = field(default_factory=dict)


@record
class ReferenceGarment:
    """A garment that fits, laid flat and measured: widths once across, not around."""

    chest_width_cm: float | None = None
    upper_arm_width_cm: float | None = None
    cuff_width_cm: float | None = None
    length_cm: float | None = None
    armhole_depth_cm: float | None = None
    centre_to_cuff_cm: float | None = None
    extra: Extra = field(default_factory=dict)


@record
class Fit:
    """How much larger than the body: a word, or own figures in cm (which win)."""

    ease: Ease | None = None
    chest_ease_cm: float | None = None
    upper_arm_ease_cm: float | None = None
    waist_ease_cm: float | None = None
    hip_ease_cm: float | None = None
    wrist_ease_cm: float | None = None
    extra: Extra = field(default_factory=dict)


@record
class GarmentChoices:
    """The shape wanted."""

    construction: Construction | None = None
    worked: Worked | None = None
    front: Front | None = None
    neckline: Neckline | None = None
    sleeve: SleeveLength | None = None
    waist: Waist | None = None
    shoulder: Shoulder | None = None
    """How the slope of the shoulders is made; left open, in steps (a dropped shoulder: straight)."""
    bust_darts: Darts | None = None
    length_cm: float | None = None
    hem: Edging | None = None
    hem_cm: float | None = None
    cuff_cm: float | None = None
    neck_width_cm: float | None = None
    neck_depth_cm: float | None = None
    band_cm: float | None = None
    sleeve_cm: float | None = None
    fabric: str | None = None
    """Id of the stitch pattern that it is knitted in, all over; None: stockinette."""
    fabric_fit: FabricFit | None = None
    """How its repeats come out on a width; None: as it costs least."""
    fabric_centre: Centre | None = None
    """What is in the middle of each piece: the middle of a motif, or the line between two."""
    panel: tuple[Panel, ...] = ()
    band: tuple[Band, ...] = ()
    """Bands of a round yoke, from the join of body and sleeves up."""
    colour: tuple[Colour, ...] = ()
    stripe: tuple[Stripe, ...] = ()
    """Stripes over the whole garment, from the edging up."""
    extra: Extra = field(default_factory=dict)


@record
class WorkedEvent:
    """What was done in a row, as the ledger of the plan had it."""

    do: Do
    where: Where
    stitches: int
    line: str = ""
    gaps: tuple[int, ...] = ()


@record
class WorkedRows:
    """Rows worked one after another, plain but for the last, in which the events happen."""

    rows: int
    fabric: str
    side: Side | None = None
    """Side of the rows, where their numbers do not tell it (short rows in a round)."""
    event: tuple[WorkedEvent, ...] = ()
    mark: str = ""
    """What was to be done after them: a landmark that is passed."""
    parts: tuple[int, ...] = ()
    """Stitches between the markers that were placed there."""


@record
class PieceCount:
    """One count on the piece, fresh from the needles: so many stitches (or rows) over so many cm, in one place."""

    along: Along
    count: float
    over_cm: float
    row: int | None = None
    """Rows that were worked when it was counted."""
    on: str = ""
    one_stretch: bool = False
    """Whether the places lie side by side and were counted on from one to the next."""
    extra: Extra = field(default_factory=dict)


@record
class GradingBody(Body):
    """A body of a designer's own list."""

    name: str = ""


FabricKind = Literal["stripes", "pattern", "panel"]


@record
class FabricBegun:
    """Where stripes, pattern or panel of a sleeve were begun: that depends on the body, as it was planned then."""

    kind: FabricKind
    row: int
    """Of the sleeve, in which it begins."""
    of_repeat: int
    """The row of its repeat that it begins with."""


@record
class KnittedPiece:
    """What is knitted of one piece; its rows are facts, whatever is answered later."""

    piece: str
    """Its name in the plan."""
    rows: int = 0
    cast_on: int = 0
    finished: bool = False
    stitches: int | None = None
    """Stitches on the needle, where they are not those of the plan."""
    planned_at: int = 0
    """Rows that were knitted when the rest was last planned anew."""
    beside: str = ""
    """The piece that is knitted at the same time, row for row: its pair on the same needle."""
    parts: tuple[int, ...] = ()
    """Stitches between the markers that were placed before its first row."""
    begun: tuple[FabricBegun, ...] = ()
    """Of a sleeve, as far as it is knitted."""
    worked: tuple[WorkedRows, ...] = ()
    count: tuple[PieceCount, ...] = ()
    extra: Extra = field(default_factory=dict)


@record
class Weighing:
    """The yarn that is left, on the scale."""

    left_g: float
    pieces_g: float | None = None
    """What is knitted, weighed on the same day; None: what has left the balls."""
    stitches: int | None = None
    """Stitches that were knitted then: 0 before the first row, None where nobody noted it."""
    on: str = ""
    had_g: float | None = None
    """Grams of all balls so far by their labels, as it was known then."""
    extra: Extra = field(default_factory=dict)


@record
class LogEntry:
    """One line of the log: where a piece stood at the end of a day, or something noted."""

    on: str
    piece: str = ""
    row: int | None = None
    text: str = ""
    extra: Extra = field(default_factory=dict)


@record
class FinishedMeasure:
    """What the finished garment measures after its wash."""

    what: str
    """By the name of the plan's finished measurements: chest, length, sleeve."""
    cm: float
    on: str = ""
    extra: Extra = field(default_factory=dict)


@record
class HadRows:
    """How far a piece was knitted when something was decided: its row, by its printed number."""

    piece: str
    row: int


@record
class TakenWay:
    """A way on that the knitter has taken: from here on the plan goes by what was counted on the piece."""

    way: WayOn
    piece: str
    row: int
    stitches_per_10cm: float | None = None
    """Gauge after the wash that the plan takes; None: as before."""
    rows_per_10cm: float | None = None
    yarn_factor: float | None = None
    """Grams that this knitter uses, against those that are worked out from the swatch."""
    ripped: int = 0
    """Rows that were ripped for it."""
    needle_mm: float | None = None
    """The needle of the fabric from here on; None: as before."""
    had: tuple[HadRows, ...] = ()
    """Of other-needle: the pieces that had rows by then, which the needle before has knitted."""
    on: str = ""
    extra: Extra = field(default_factory=dict)


@record
class Grading:
    """How a design is made in other sizes: own bodies, and rules for the lengths that were given for one."""

    body: tuple[GradingBody, ...] = ()
    rule: Mapping[str, str] = field(default_factory=dict)
    """For a length ("sleeve_cm") how it follows the body; for one size of it ("sleeve_cm.M") its cm."""
    extra: Extra = field(default_factory=dict)

    @property
    def names(self) -> tuple[str, ...]:
        """What the bodies and their sizes are called: without a name of its own, by its place in the list."""
        return tuple(body.name or f"body {number}" for number, body in enumerate(self.body, 1))

    def by_hand(self, key: str) -> float | None:
        """The cm of a length that was typed for one size ("sleeve_cm.M"); None where there is none, or no number."""
        said = self.rule.get(key, "") if "." in key else ""
        try:
            return float(said.replace(",", ".").removesuffix("cm").strip())
        except ValueError:
            return None


@record
class Project:
    """One project, whole. Change it with :func:`dataclasses.replace` only."""

    format: int = FORMAT
    """Of the file that it was read from; written is always the newest."""
    title: str = ""
    units: Units = "cm"
    terms: Terms = "us"
    needle_names: NeedleNames = "mm"
    tension: Tension | None = None
    notes: str = ""
    last_step: str | None = None
    """Where the knitter left off."""
    agreed: tuple[str, ...] = ()
    """Questions that the workshop asked ("is this right?") and the knitter answered with yes."""
    steps: Mapping[str, str] = field(default_factory=dict)
    """For each step done: short fingerprints of the earlier answers that it was done with."""
    drafts: Mapping[str, str] = field(default_factory=dict)
    """Typed text that is no answer yet, by question: refused, and kept to be mended."""
    yarn: tuple[Yarn, ...] = ()
    swatch: tuple[Swatch, ...] = ()
    stitch_pattern: tuple[StitchPattern, ...] = ()
    design: Design = field(default_factory=Design)
    body: Body = field(default_factory=Body)
    reference_garment: ReferenceGarment = field(default_factory=ReferenceGarment)
    fit: Fit = field(default_factory=Fit)
    garment: GarmentChoices = field(default_factory=GarmentChoices)
    knitting: tuple[KnittedPiece, ...] = ()
    taken: tuple[TakenWay, ...] = ()
    weighing: tuple[Weighing, ...] = ()
    log: tuple[LogEntry, ...] = ()
    measured: tuple[FinishedMeasure, ...] = ()
    grading: Grading = field(default_factory=Grading)
    extra: Extra = field(default_factory=dict)

    def knitted(self, piece: str) -> KnittedPiece | None:
        """What is knitted of a piece, or None where it has not been begun."""
        return next((k for k in self.knitting if k.piece == piece), None)

    def yarn_of(self, swatch: Swatch) -> Yarn | None:
        """The yarn that a swatch is knitted in, or None where the swatch names none that exists."""
        return next((y for y in self.yarn if y.id == swatch.yarn), None)

    def swatch_by_id(self, name: str | None) -> Swatch | None:
        """The swatch of that id, or None."""
        return next((s for s in self.swatch if s.id == name), None)

    @property
    def design_yarn(self) -> Yarn | None:
        """The yarn of the chosen swatch; the only yarn where there is one; else None."""
        swatch = self.swatch_by_id(self.design.swatch)
        if swatch is not None:
            return self.yarn_of(swatch)
        return self.yarn[0] if len(self.yarn) == 1 else None


MOST: Mapping[type, int] = {
    Yarn: 100,
    FibrePart: 50,
    Swatch: 200,
    Reading: 2_000,
    StitchPattern: 200,
    Panel: 50,
    Band: 50,
    Colour: 50,
    Stripe: 200,
    KnittedPiece: 100,
    FabricBegun: 50,
    WorkedRows: 2_000,
    WorkedEvent: 100,
    PieceCount: 2_000,
    TakenWay: 1_000,
    HadRows: 100,
    Weighing: 25_000,
    LogEntry: 25_000,
    FinishedMeasure: 200,
    GradingBody: 60,
}
"""Items of one list that are read; a project has a few of each. A weighing and a line of the log take so many bytes
that the file is full before."""

MOST_LISTED = 2_000
"""The same for words and numbers: rows of a chart, stitches between markers."""
