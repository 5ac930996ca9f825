"""Questions about stitch patterns of the knitter's own, and the list of all that there are; of the Swatch step."""

import re
from dataclasses import replace

from workshop.core.fabric.charting import BadChart, read_chart, show_chart
from workshop.core.fabric.patterns import PLAIN, UNTOLD, coming_along, known_pattern
from workshop.project import Project, StitchPattern, Swatch
from workshop.questions import Group, Question
from workshop.questions.kinds import Choice, Option, Whole, Words, fixed
from workshop.questions.places import in_item, without_drafts
from workshop.records import record
from workshop.units import NotUnderstood

MOST_TYPED = 4000
"""Characters of the rows of a pattern; the largest chart has fewer."""


BETWEEN_ROWS = r"(?i)\n|(?<!\d)/|/(?!\d+(?:/\d+)? ?[rl]p?[ct]\b)"
"""A slash parts rows, but not the stitches of a crossing: 2/2 RC."""


@record
class Rows:
    """Written rows, one after the other, with / between them."""

    def read(self, text: str, project: Project) -> tuple[str, ...]:
        """The rows. Raises NotUnderstood for more than any pattern has."""
        rows = tuple(" ".join(r.split()) for r in re.split(BETWEEN_ROWS, _short(text)) if r.strip())
        if len(rows) > 200:
            raise NotUnderstood(f"that's {len(rows)} rows. Use at most 200")
        return rows

    def show(self, value: tuple[str, ...], project: Project) -> str:
        """The rows as they are typed."""
        return " / ".join(value)

    def example(self, project: Project) -> str:
        """Two rows."""
        return "*k2, p2; repeat from * / purl"


@record
class Chart:
    """A chart typed in letters, or as k and p with numbers."""

    def read(self, text: str, project: Project) -> tuple[str, ...]:
        """The rows of cells. Raises NotUnderstood."""
        try:
            return read_chart(_short(text))
        except BadChart as error:
            raise NotUnderstood(str(error)) from None

    def show(self, value: tuple[str, ...], project: Project) -> str:
        """The chart as it is typed."""
        return show_chart(value)

    def example(self, project: Project) -> str:
        """Two rows."""
        return "k2 p2 / p2 k2"


def _short(text: str) -> str:
    line = "".join(c if c.isprintable() or c == "\n" else " " for c in text).strip()
    if len(line) > MOST_TYPED:
        raise NotUnderstood(f"that's {len(line)} characters. Use at most {MOST_TYPED}")
    return line


NAME = Question(
    key="stitch_pattern.name",
    step="swatch",
    asks="Name of the pattern",
    kind=Words(40),
    hint="whatever you call it, such as blue hat cables or grandmother's lace",
    why="The instructions use the name you type here.",
)

MULTIPLE = Question(
    key="stitch_pattern.multiple",
    step="swatch",
    asks="Pattern repeat",
    kind=Whole(1, 60),
    hint="how many stitches one repeat has: 4 for a multiple of 4 plus 2",
    why="Wherever possible, the plan uses whole repeats for widths and swatch cast-ons.",
)

PLUS = Question(
    key="stitch_pattern.plus",
    step="swatch",
    asks="Extra stitches",
    kind=Whole(0, 60),
    hint="the stitches beyond the repeats: 2 for a multiple of 4 plus 2",
    why="The extra stitches make the pattern look the same at both ends.",
)

ROWS = Question(
    key="stitch_pattern.rows",
    step="swatch",
    asks="Rows of the pattern",
    kind=Whole(1, 200),
    hint="how many rows one repeat has. If blank, the rows are counted from the chart or the written rows",
    why="The plan says which pattern row comes next. The sleeves and the body meet on the same pattern row.",
)

LINES = Question(
    key="stitch_pattern.lines",
    step="swatch",
    asks="Rows in words",
    kind=Rows(),
    hint="optional: copy the rows from your source, with / between them",
    why="The rows you type are printed with the instructions, so you can knit from one sheet.",
)

CHART = Question(
    key="stitch_pattern.chart",
    step="swatch",
    asks="Chart",
    kind=Chart(),
    hint="optional: one repeat seen from the right side, row 1 first: k2 p2 / p2 k2, or one letter for each stitch",
    why="If the pattern has only knit and purl stitches, the workshop writes out the rows for you. You can type the "
    "name of a text file too, with each row on its own line.",
    from_file=True,
)

ALIKE = Question(
    key="stitch_pattern.alike",
    step="swatch",
    asks="Both sides alike",
    kind=fixed(Option(False, "no"), Option(True, "yes")),
    hint="choose yes for fabrics like seed stitch or rib",
    why="If a pattern has an odd number of rows, every other repeat starts on the wrong side when you work flat.",
    always_answered=True,
)


def _swatches(project: Project) -> tuple[Option, ...]:
    """Swatches; which of them are in a pattern is the plan's business."""
    return tuple(Option(s.id, f"swatch {s.id}") for s in project.swatch)


STRANDED = Question(
    key="stitch_pattern.stranded",
    step="swatch",
    asks="Letters in the chart are",
    kind=fixed(Option(False, "stitches"), Option(True, "yarns, stranded")),
    hint="choose yarns if each letter stands for a color, as in stranded stockinette in two or more colors",
    why="For stranded knitting, the plan says how much yarn each color takes, and which floats are too long.",
    always_answered=True,
)

GAUGE_FROM = Question(
    key="stitch_pattern.swatch",
    step="swatch",
    asks="Gauge from",
    kind=Choice(_swatches),
    hint="only if you have several swatches in this pattern",
    why="You have several swatches in one pattern, and the plan needs a single gauge for it.",
)

QUESTIONS = (NAME, MULTIPLE, PLUS, ROWS, CHART, STRANDED, LINES, ALIKE, GAUGE_FROM)


def groups(project: Project) -> tuple[Group, ...]:
    """Every pattern of the knitter's own."""
    return tuple(
        Group(
            f"Pattern: {p.name or p.id}",
            tuple(in_item(q, p) for q in QUESTIONS if q is not GAUGE_FROM or _several(project, p)),
            name=f"stitch_pattern.{p.id}",
        )
        for p in project.stitch_pattern
    )


def _several(project: Project, pattern: StitchPattern) -> bool:
    return pattern.swatch is not None or sum(1 for s in project.swatch if s.stitch == pattern.id) > 1


def fabrics(project: Project, *, untold: bool = False) -> tuple[Option, ...]:
    """Every stitch pattern that something can be knitted in, in the terms of the knitter's country."""
    plain = Option(PLAIN, "stocking stitch" if project.terms == "uk" else PLAIN, also=("stocking stitch",))
    built_in = [found for name in coming_along() if (found := known_pattern(name)) is not None]
    own = tuple(Option(p.id, p.name or p.id) for p in project.stitch_pattern)
    return (
        plain,
        *(Option(p.id, p.in_terms(project.terms), also=(p.name,)) for p in built_in),
        *own,
        *((Option(UNTOLD, "a pattern you haven't described yet", also=("pattern",)),) if untold else ()),
    )


def untold_swatches(project: Project) -> list[str]:
    """Ids of swatches in a pattern that is not described."""
    return [s.id for s in project.swatch if s.stitch == UNTOLD]


def add_pattern(project: Project) -> Project:
    """One more pattern, to be described: that of the swatches whose pattern is not described yet."""
    taken = {p.id for p in project.stitch_pattern}
    number = next(n for n in range(1, 1000) if f"pattern-{n}" not in taken)
    new = StitchPattern(f"pattern-{number}", name=f"pattern {number}")
    swatches = tuple(replace(s, stitch=new.id) if s.stitch == UNTOLD else s for s in project.swatch)
    return replace(project, stitch_pattern=(*project.stitch_pattern, new), swatch=swatches)


def remove_pattern(project: Project, pattern_id: str) -> Project:
    """Without that pattern. Its swatches stay, in a pattern that is not described; a garment in it is plain again."""

    def without(swatch: Swatch) -> Swatch:
        return replace(swatch, stitch=UNTOLD) if swatch.stitch == pattern_id else swatch

    garment = project.garment
    if garment.fabric == pattern_id:
        garment = replace(garment, fabric=None)
    garment = replace(
        garment,
        panel=tuple(p for p in garment.panel if p.id != pattern_id),
        band=tuple(b for b in garment.band if b.id != pattern_id),
    )
    left = replace(
        project,
        swatch=tuple(map(without, project.swatch)),
        stitch_pattern=tuple(p for p in project.stitch_pattern if p.id != pattern_id),
        garment=garment,
    )
    return without_drafts(left, f"stitch_pattern.{pattern_id}.")
