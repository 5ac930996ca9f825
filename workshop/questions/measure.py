"""Questions of the Measure step: the body, or a garment that fits, and the fit wanted."""

from collections.abc import Callable
from dataclasses import replace
from typing import get_args

from workshop.project import Ease, Project, Units
from workshop.questions import Field, Group, Question
from workshop.questions.kinds import Choice, Length, Option, fixed
from workshop.questions.places import in_table
from workshop.records import record
from workshop.tables import bodies
from workshop.tables.trade_rules import YOUNG, definition, ease_band, for_child


def source_of(project: Project) -> str | None:
    """Where the measurements come from: as answered, else as the answers show."""
    if project.body.source:
        return project.body.source
    pattern = replace(project.reference_garment, extra={})
    if any(getattr(pattern, f) is not None for f in GARMENT_KEYS):
        return "garment"
    if project.body.table:
        return "table"
    return "own" if project.body.chest_cm is not None else None


GARMENT_KEYS = (
    "chest_width_cm",
    "upper_arm_width_cm",
    "cuff_width_cm",
    "length_cm",
    "armhole_depth_cm",
    "centre_to_cuff_cm",
)


def _known(project: Project) -> bool:
    return source_of(project) is not None


def _fuller(project: Project) -> bool:
    """Where a bust can be fuller than the chest above it."""
    return _known(project) and (project.body.table not in (*YOUNG, "men") or project.body.high_bust_cm is not None)


def _from_garment(project: Project) -> bool:
    return source_of(project) == "garment"


def _wants_size(project: Project) -> bool:
    """Where no chest says which size it is, or one was chosen."""
    body = project.body
    by_size = source_of(project) == "table" or body.chest_cm is None or body.size is not None
    return body.table is not None and by_size


def _sizes(project: Project) -> tuple[Option, ...]:
    if project.body.table is None:
        return ()
    girths = bodies.cells(project.body.table, "chest")
    return tuple(
        Option(s, f"{s} (chest {_printed(girths[s], project)})" if s in girths else s)
        for s in bodies.sizes(project.body.table)
    )


def _printed(cell: bodies.Cell, project: Project) -> str:
    """A range of the table as it is printed in the knitter's unit."""
    low, high = cell.inches if project.units == "in" else (cell.low_cm, cell.high_cm)
    return f"{low:g} {project.units}" if low == high else f"{low:g}-{high:g} {project.units}"


SOURCE = Question(
    key="body.source",
    step="measure",
    asks="Measurements come from",
    called="Where the measurements come from",
    kind=fixed(
        Option("own", "measuring the wearer"),
        Option("table", "a size from a published table"),
        Option("garment", "a garment that fits"),
    ),
    hint="measuring is best, even if you measure only the chest. A size table can fill in the rest",
    why="A size table gives averages, and few people match them all. Measure whatever you can.",
    needed=True,
)

TABLE = Question(
    key="body.table",
    step="measure",
    asks="Table to fill the gaps",
    kind=fixed(
        Option("women", "women"),
        Option("men", "men"),
        Option("youth", "youth, 12 to 16 years"),
        Option("children", "children, 2 to 10 years"),
        Option("babies", "babies, 3 to 24 months"),
    ),
    hint="leave the table blank if you measure everything",
    why="The size table fills in what you leave blank. The figures from the table are marked, so you can take those "
    "measurements later.",
    when=_known,
)

SIZE = Question(
    key="body.size",
    step="measure",
    asks="Size in that table",
    kind=Choice(_sizes),
    hint="leave the size blank if you enter a chest measurement. If you only know the chest roughly, choose the "
    "nearest size",
    child_hint="leave the size blank if you enter a chest measurement. If you don't measure the chest, "
    "go by the chest in brackets, because children of the same age differ",
    why="The size table fills in what you don't measure.",
    when=_wants_size,
)


WHYS = {
    "chest": "Around the body, the garment is the chest measurement plus ease.",
    "high_bust": "With a full bust, any shoulder and arm figures you leave blank are based on the high bust, not on "
    "the chest.",
    "upper_arm": "At its widest, the sleeve is the upper arm measurement plus ease.",
    "wrist": "The cuff is the wrist measurement plus ease.",
    "armhole_depth": "The garment's armhole depth is the wearer's own armhole depth plus ease.",
    "neck_to_cuff": "With a drop shoulder or square armhole, the sleeve length is worked out from the "
    "neck-to-cuff measurement.",
    "sleeve_underarm": "With a set-in sleeve, a raglan or a round yoke, the sleeve length is worked out from the "
    "inside of the arm.",
    "cross_back": "The cross back sets the width between shaped armholes.",
    "back_waist": "The back waist length shows where the garment's waist should be.",
    "waist": "Shaped sides draw in to the waist measurement plus ease.",
    "hip": "The hem has to fit over the hips.",
    "head": "The neck opening has to go over the head.",
    "neck": "The plan for a raglan or round yoke shows how closely the neck fits. "
    "Other constructions don't need the neck measurement.",
}
"""What each measure is wanted for."""


GROWN_UP = {
    "chest": 92.0, "high_bust": 88.0, "upper_arm": 29.0, "wrist": 16.0, "armhole_depth": 19.0, "neck_to_cuff": 75.0,
    "sleeve_underarm": 44.0, "cross_back": 38.0, "back_waist": 42.0, "waist": 76.0, "hip": 98.0,
    "head": 56.0, "neck": 36.0,
}  # fmt: skip
CHILD = {
    "chest": 63.0, "high_bust": 62.0, "upper_arm": 19.0, "wrist": 13.0, "armhole_depth": 14.0, "neck_to_cuff": 54.0,
    "sleeve_underarm": 30.0, "cross_back": 26.0, "back_waist": 27.0, "waist": 57.0, "hip": 65.0,
    "head": 51.0, "neck": 28.0,
}  # fmt: skip
BABY = {**CHILD, "wrist": 11.0, "head": 45.0, "neck": 23.0, "waist": 46.0, "hip": 48.0, "back_waist": 18.0}
"""Measures in cm that show how an answer looks (invented); of the young only where their table has none."""


@record
class OfTheBody(Length):
    """A measure of the body, with an example for the one whose it is."""

    measure: str = "chest"

    def example(self, project: Project) -> str:
        """The measure of someone of that age: of the middle size where a table of the young has it."""
        table = project.body.table
        cells = list(bodies.cells(table, self.measure).values()) if table in YOUNG else []
        if cells:
            return self.like(cells[len(cells) // 2].middle_cm, project)
        usual = GROWN_UP
        if for_child(project.body) and table != "youth":
            usual = BABY if table == "babies" else CHILD
        return self.like(usual[self.measure], project)


def _measure(name: str, low: float, high: float, when: Callable[[Project], bool] = _known) -> Question:
    known = definition(name)
    return Question(
        key=f"body.{name}_cm",
        step="measure",
        asks=known.name.capitalize(),
        kind=OfTheBody(low, high, measure=name),
        hint=known.how_to,
        why=WHYS[name],
        standard=f"The international standard calls it {known.iso}." if known.iso else "",
        when=when,
    )


CHEST = _measure("chest", 30, 220)
MEASURES = (
    CHEST,
    _measure("high_bust", 30, 220, _fuller),
    _measure("upper_arm", 10, 80),
    _measure("wrist", 7, 40),
    _measure("armhole_depth", 6, 45),
    _measure("neck_to_cuff", 18, 120),
    _measure("sleeve_underarm", 8, 75),
    _measure("cross_back", 12, 70),
    _measure("back_waist", 10, 70),
    _measure("waist", 30, 220),
    _measure("hip", 30, 220),
    _measure("head", 28, 75),
    _measure("neck", 15, 70),
)


def _garment(name: str, asks: str, low: float, high: float, hint: str) -> Question:
    return Question(
        key=f"reference_garment.{name}",
        step="measure",
        asks=asks,
        kind=Length(low, high),
        hint=hint,
        why="A width measured flat is only half the full measurement, so it's doubled for you.",
        when=_from_garment,
    )


GARMENT = (
    _garment(
        "chest_width_cm",
        "Width at the underarm, flat",
        15,
        110,
        "from side to side, closed and smoothed, not stretched",
    ),
    _garment(
        "length_cm",
        "Length of the garment",
        15,
        130,
        "from the top of the shoulder at the neck straight down to the hem",
    ),
    _garment(
        "armhole_depth_cm", "Depth of the armhole", 6, 45, "from the top of the shoulder straight down to the underarm"
    ),
    _garment(
        "centre_to_cuff_cm",
        "Middle of the back to the cuff",
        18,
        120,
        "from the middle of the back neck along the sleeve to its end",
    ),
    _garment("upper_arm_width_cm", "Upper arm of the sleeve, flat", 5, 45, "across the sleeve at the underarm"),
    _garment("cuff_width_cm", "Width of the cuff, flat", 3, 25, "across the cuff, not stretched"),
)


def _eases(project: Project) -> tuple[Option, ...]:
    return tuple(Option(fit, _ease_label(fit, project.units)) for fit in get_args(Ease))


def _ease_label(fit: Ease, units: Units) -> str:
    """A fit with its published ease, short enough for a narrow window."""
    low, high = ease_band(fit, units=units)
    name = fit.replace("-", " ")
    if low is None:
        return f"{name}: {high:g} {units} or less"
    return f"{name}: {low:g} {units} or more" if high is None else f"{name}: {low:g} to {high:g} {units}"


EASE = Question(
    key="fit.ease",
    step="measure",
    asks="Fit you want",
    kind=Choice(_eases),
    hint="how much wider the garment is than the chest. Once you've chosen a fit, the next question shows the ease it "
    "gives",
    why="Published tables use words like 'close' and 'loose' for different amounts of ease, so go by the figure.",
    when=lambda p: _known(p) and not _from_garment(p),
)


def _own_ease(name: str, asks: str, low: float, high: float, *, shaped: bool = False) -> Question:
    """Ease in figures; ``shaped``: asked only where the sides follow the body."""
    return Question(
        key=f"fit.{name}",
        step="measure",
        asks=asks,
        kind=Length(low, high),
        hint="replaces the fit above. If the figure is below zero, the garment is smaller than the "
        "body and stretches to fit",
        why="If you type a figure here, it's used instead of the fit you chose.",
        when=lambda p: _known(p) and not _from_garment(p) and (not shaped or p.garment.waist == "shaped"),
    )


EASES = (
    _own_ease("chest_ease_cm", "Ease at the chest", -25, 80),
    _own_ease("upper_arm_ease_cm", "Ease at the upper arm", -8, 40),
    _own_ease("wrist_ease_cm", "Ease at the wrist", -3, 25),
    _own_ease("waist_ease_cm", "Ease at the waist", -20, 80, shaped=True),
    _own_ease("hip_ease_cm", "Ease at the hip", -20, 80, shaped=True),
)

QUESTIONS = (SOURCE, TABLE, SIZE, *MEASURES, *GARMENT, EASE, *EASES)


def groups(project: Project) -> tuple[Group, ...]:
    """Where from, the body or the garment, and the fit."""
    by_table = source_of(project) == "table"
    source = _asked(project, SOURCE, TABLE, *([SIZE] if by_table else []))
    if by_table:
        source = tuple(replace(f, label="Which table?") if f.question is TABLE else f for f in source)
    found = [Group("Where the measurements come from", source, name="source")]
    garment = _asked(project, *GARMENT)
    if garment:
        found.append(Group("The garment that fits, laid flat", garment, name="garment"))
    chest, *others = MEASURES
    body = _asked(project, chest, *([] if by_table else [SIZE]), *others)
    if body:
        found.append(Group("The body", body, name="body"))
    fit = _asked(project, EASE, *EASES)
    if fit:
        found.append(Group("The fit", fit, name="fit"))
    return tuple(found)


def _asked(project: Project, *questions: Question) -> tuple[Field, ...]:
    return tuple(in_table(q) for q in questions if q.when(project))
