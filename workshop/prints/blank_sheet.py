"""The blank work sheet of a class: every question, and every formula as a table to be filled in by hand.

Formulas are those of a model plan. What a formula works out for several things (three swatches, the parts of
the body) stands once, with a row for each and a column for each figure.
"""

import re
from collections.abc import Iterable
from dataclasses import replace
from typing import get_args

from workshop.core.calculation import Calculation
from workshop.core.edgings import asked_edgings
from workshop.core.making.sleeves import SHORT_OF_ARM
from workshop.core.plan import Plan
from workshop.core.wearer.fit import EASED
from workshop.prints.blocks import RULED, Block, Document, Grid, Items, Paragraph, Section, Sums, Table
from workshop.prints.formulas import Formula, formulas, is_read_across, put_in, read_across
from workshop.prints.work_sheet import SHORT, not_for_a_pencil, questions, section
from workshop.project import STEPS, Ease, Project
from workshop.questions.wash import HUNG
from workshop.tables.trade_rules import curve, ease_by_fit, rule
from workshop.tables.yarn_weights import all_weights
from workshop.units import show_length, show_needle
from workshop.words.calculations.by_hand import found_of
from workshop.words.calculations.by_step import step_of_working
from workshop.words.calculations.in_inches import working_in
from workshop.words.phrase import capitalised, in_terms, rounding_words, worded

LEFT_TO_THE_WORKSHOP = (
    "How sure each number is (give or take) needs square roots and a table of Student's t. The workshop works out the "
    "range and shows how."
)
MODEL = (
    "These sums are for a sweater with straight pieces (drop shoulder). Shaped armholes, raglans and yokes need more "
    "rows than a sheet has room for. The workshop plans such pieces row by row. Use the stitches and rows per {10 cm} "
    "of the fabric you chose: washed, or hung if you plan from hung counts."
)
NECK = (
    f"Front, bound off in the middle: neck {RULED} × 0.4 = {RULED} stitches, rounded to the nearest even number",
    f"On each side of those: (neck {RULED} − middle {RULED}) ÷ 2 = {RULED} stitches. If that's 10 or more, bind off 3, "
    "then 2, then 2. If it's 7 to 9, bind off 3, then 2. Decrease the rest one at a time on right-side rows",
    f"Back, bound off in the middle: neck {RULED} − 12 = {RULED} stitches. On each side, bind off 4, then 2. If there "
    "are only enough rows for one step, bind off 6 at once",
)
"""The stitches of a round neck of 24 or more, as the workshop shapes it (common practice, no source)."""

STITCHES_OF = (
    "Back, hem to neck",
    "Back, both shoulders",
    "Front, hem to neck",
    "Front, both shoulders",
    "Cuffs, both",
    "Sleeves above, both: (first + last) ÷ 2 across",
    "Neckband",
    "All pieces",
)

RIBS = [
    f"k{rib.knits}, p{rib.purls}: a multiple of {rib.repeat} plus {rib.knits}" for rib in asked_edgings() if rib.rib
]
BY_HAND = (
    f"Adding seam stitches: stitches across {RULED} + 2 = {RULED}",
    f"Cast on for a rib, the nearest that fits ({'; '.join(RIBS)}) = {RULED}",
    "In the first plain row, increase or decrease by the difference between these two",
    f"Each shoulder: (stitches across {RULED} − neck {RULED}) ÷ 2 = {RULED}",
    f"Increases at both ends of the sleeve: (top {RULED} − cuff {RULED}) ÷ 2 = {RULED} times",
    f"Work one every: rows above the cuff {RULED} ÷ times {RULED} = {RULED} rows, rounded down to an even number",
    f"Work two rows further apart: (rows {RULED} − times {RULED} × that number {RULED}) ÷ 2 = {RULED} times",
    f"A short sleeve: length of the long one {RULED} − arm from the armpit to the wrist {RULED} × "
    f"{SHORT_OF_ARM['short']:g} (to the elbow × {SHORT_OF_ARM['elbow']:g}) = {RULED}; its edge is as wide as the upper "
    "arm you want",
)
"""Sums that join the numbers of the tables (common practice, no source)."""

LEAD = f"Name {RULED}{RULED}{RULED}{RULED}   Date {RULED}{RULED}"


def blank_sheet(model: Plan, layout: Project) -> Document:
    """A sheet for a class: the questions that ``layout`` is asked, and the formulas of ``model`` to be filled in.

    Units, terms and needle names are those of ``layout``.
    """
    sections = []
    for name in STEPS:
        blocks: list[Block] = list(questions(name, layout, blank=True))
        if name == "fibre":
            blocks += _weights(layout)
        if name == "swatch":
            blocks.append(Paragraph(worded(_borders(), layout)))
        if name == "measure":
            blocks += [_eases(layout), Paragraph(TABLES), *_curves(layout)]
        if name == "shape":
            blocks.append(Paragraph(worded(in_terms(MODEL, layout.terms), layout)))
        sums = _sums(name, model, layout)
        if name == "wash":
            blocks, sums = _up_to_the_hanging(blocks, sums, layout)
        for one in sums:
            blocks += _by_hand_before(one, layout)
            blocks.append(_to_fill_in(one, layout))
        if name == "shape":
            told = tuple(in_terms(t, layout.terms) for t in BY_HAND)
            blocks += [Paragraph("Using these numbers", "head"), Items(told, bare=True)]
        if name == "gauge":
            blocks.append(Paragraph(LEFT_TO_THE_WORKSHOP))
        sections.append(section(name, blocks, layout))
    return Document("Work sheet", _told_once([s for s in sections if s.blocks]), LEAD, in_columns=True)


def _told_once(sections: list[Section]) -> tuple[Section, ...]:
    """The sections; where the figures of a formula are found is told where it comes first."""
    first: dict[str, Section] = {}
    out = []
    for one in sections:
        blocks: list[Block] = []
        for block in one.blocks:
            if isinstance(block, Sums) and len(block.told) > SHORT:
                before = first.setdefault(f"{block.formula}: {block.told}", one)
                if before is not one or any(b for b in blocks if isinstance(b, Sums) and b.told == block.told):
                    where = "as before" if before is one else f"as in step {before.heading.split('.')[0]}"
                    block = replace(block, told=where)
            blocks.append(block)
        out.append(replace(one, blocks=tuple(blocks)))
    return tuple(out)


def _up_to_the_hanging(asked: list[Block], sums: list[Formula], layout: Project) -> tuple[list[Block], list[Formula]]:
    """The Wash step: the sums of the cloth lying flat, and the weight to hang, come before the counts hung with it."""
    hung = f"{in_terms(HUNG.asks, layout.terms)}:"
    at = next((i for i, b in enumerate(asked) if isinstance(b, Paragraph) and b.text.startswith(hung)), None)
    if at is None:
        return asked, sums
    flat = [s for s in sums if any(w.key.startswith("swatches.") for w in s.workings)]
    counted = [s for s in flat if all("per_10cm" in w.key for w in s.workings)]
    of_hung = [
        replace(s, workings=tuple(replace(w, label=WASHED.sub(", hung", w.label)) for w in s.workings)) for s in counted
    ]
    counts = [_to_fill_in(s, layout) for s in counted]
    before = [_to_fill_in(s, layout) for s in flat if s not in counted]
    under = 1 + next(i for i, b in enumerate(asked) if isinstance(b, Grid))
    return [*asked[:under], *counts, *asked[under:at], *before, *asked[at:]], [
        *of_hung,
        *(s for s in sums if s not in flat),
    ]


WASHED = re.compile(r", (washed|after washing)$")


def _by_hand_before(sums: Formula, layout: Project) -> list[Block]:
    """What is worked out by hand for the figures of a formula."""
    if "level stitches" in sums.names:
        told = tuple(in_terms(t, layout.terms) for t in NECK)
        return [Paragraph("Around the neck", "head"), Items(told, bare=True)]
    if "stitches of all pieces" in sums.names:
        head = ("", "stitches across", "× rows", "= stitches")
        return [
            Sums("stitches across × rows", "", Grid(head, tuple((n, "", "", "") for n in STITCHES_OF)), spelled=True)
        ]
    return []


REPEATS = ("gauge.", "target.shoulder_drop")
"""Workings that are those of the chosen swatch once more, or that straight shoulders have no use for."""


def _sums(name: str, model: Plan, layout: Project) -> list[Formula]:
    """The formulas of a step in their order, each once."""
    wanted = (
        w
        for w in model.workings
        if step_of_working(w.key) == name and not w.key.startswith(REPEATS) and not not_for_a_pencil(w)
    )
    return [replace(f, workings=tuple(_each(f.workings, layout))) for f in formulas(wanted, layout.units)]


def _each(workings: Iterable[Calculation], layout: Project) -> Iterable[Calculation]:
    """What a formula works out: for a swatch once for each that the sheet has room for."""
    of_swatches: dict[str, Calculation] = {}
    for working in workings:
        label = re.sub(r"\b([Ss]watch) [A-Z]\w*\b", r"\1 {}", working.label)
        if "{}" in label:
            of_swatches.setdefault(label, working)
        else:
            yield working
    for swatch in layout.swatch:
        for label, working in of_swatches.items():
            yield replace(working, label=label.format(swatch.id))


def _to_fill_in(sums: Formula, project: Project) -> Sums:
    """The formula, a table with a row for each thing that it works out, and where its figures are found."""
    rules = list(dict.fromkeys(w.rounded_to for w in sums.workings))
    units = list(dict.fromkeys(working_in(w, project.units).unit for w in sums.workings))
    across = read_across(sums.formula, sums.shown)
    head = ["", *(in_terms(n, project.terms) for n in across), f"= {units[0]}".rstrip() if len(units) == 1 else "="]
    if any(rules):
        head.append("rounded")
    where = _where(sums, rules, project)
    side_by_side = _side_by_side(sums, project)
    if side_by_side:
        return Sums(in_terms(sums.formula, project.terms), where, side_by_side)
    name, labels = _of_each_swatch([_label(w, project, units, rules) for w in sums.workings])
    rows = [(label, *[""] * (len(head) - 1)) for label in labels]
    if "smaller girth" in sums.names:  # other classes leave other measures out
        rows += [("another measure", *[""] * (len(head) - 1))] * 2
    grid, spelled = Grid(tuple(head), tuple(rows)), is_read_across(sums, across)
    return Sums(in_terms(sums.formula, project.terms), where, grid, name, spelled=spelled)


def _where(sums: Formula, rules: list[str], project: Project) -> str:
    """Where the figures of a formula are found, and how its result is rounded."""
    told = list(found_of(sums.names, project))
    if len(rules) == 1 and rules[0]:
        told.append(f"rounded {rounding_words(rules[0])}")
    return "; ".join(told)


def _side_by_side(sums: Formula, project: Project) -> Grid | None:
    """Several results of every swatch under their counts: a row for each, the sum in every cell; else None."""
    found = [OF_SWATCH.match(in_terms(working_in(w, project.units).label, project.terms)) for w in sums.workings]
    told = list(dict.fromkeys(SAID_ALREADY.sub("", f[3]).removeprefix(", ") for f in found if f and not f[1]))
    if not all(found) or len(told) < 2:
        return None
    cell = f"{put_in(sums.formula, dict.fromkeys(sums.shown, RULED))} = {RULED}"
    swatches = tuple(dict.fromkeys(f"Swatch {f[2]}" for f in found if f))
    return Grid(("", *swatches), tuple((capitalised(name), *[cell] * len(swatches)) for name in told))


def _of_each_swatch(labels: list[str]) -> tuple[str, list[str]]:
    """What is worked out of each swatch, said once, and the swatches; labels of anything else stay as they are."""
    found = [OF_SWATCH.match(label) for label in labels]
    said = {(f[1], f[3]) for f in found if f}
    if len(labels) < 2 or len(said) != 1 or not all(found):
        return "", labels
    before, after = said.pop()
    return f"{before}{'each swatch' if before else 'Each swatch'}{after}", [f[2] for f in found if f]


OF_SWATCH = re.compile(r"^(.*)\b[Ss]watch ([A-Z])\b(.*)$")


def _borders() -> str:
    """What a swatch has round it, from the rules of the trade."""
    rows, stitches = rule("swatch_border", "rows"), rule("swatch_border", "stitches")
    width_cm = rule("swatch_width", "width_cm")
    return (
        f"Begin and end each swatch with {rows:g} rows of garter stitch, and work {stitches:g} stitches in garter "
        f"stitch at each edge. Swatches are usually {{{width_cm:g} cm}} wide. To count the rows with the borders, add "
        f"{2 * rows:g} to the rows that you work out below."
    )


def _weights(project: Project) -> list[Block]:
    """The counts and the usual start needle of every weight, for those who have no table at hand."""
    rows = []
    for known in all_weights():
        counts = f"{known.stitches_low:g} to {known.stitches_high:g}"
        named = re.sub(r", [^:,]* sts\b", "", known.label(project.terms))  # the counts stand beside it
        rows.append((named, counts, show_needle(known.start_needle_mm, project.needle_names)))
    head = ("Weight", worded("stitches in {10 cm}", project), "usual start needle")
    return [Table(head, tuple(rows))]


def _eases(project: Project) -> Table:
    """Ease by the fit wanted, of an adult."""
    rows, parts = [], (*EASED, "cross_back")
    for fit in get_args(Ease):
        eases = (ease_by_fit(f"{part}_ease", fit, child=False) for part in parts)
        rows.append((fit.replace("-", " "), *(show_length(cm, project.units) for cm in eases)))
    return Table(("Ease by fit", *(part.replace("_", " ") for part in parts)), tuple(rows))


TABLES = (
    "Anything you didn't measure comes from a table of sizes. 'workshop tables women' prints the table for women. "
    "There are also tables for men, youth, children and babies."
)


def _curves(project: Project) -> list[Block]:
    """What is read off between the sizes: by chest."""
    rows = []
    for name in ("shoulder_drop", "neck_width", "back_neck_drop", "front_neck_depth"):
        points = [[show_length(cm, project.units).removesuffix(f" {project.units}") for cm in p] for p in curve(name)]
        rows.append((name.replace("_", " ").capitalize(), "; ".join(": ".join(point) for point in points)))
    return [Table(("Not measured on the body (from memory)", f"chest: value, in {project.units}"), tuple(rows))]


SAID_ALREADY = re.compile(
    r",? (between two sizes in the table|based on the chest|from the table|off needles|washed|(before|after) washing)$"
)
"""Ends of labels that the step or the formula says."""


def _label(working: Calculation, project: Project, units: list[str], rules: list[str]) -> str:
    """What is worked out; with its unit and its rounding where those are not the same in every row."""
    working = working_in(working, project.units)
    told = [working.unit] if len(units) > 1 and working.unit and working.unit not in working.label else []
    told += [rounding_words(working.rounded_to)] if len(rules) > 1 and working.rounded_to else []
    label = in_terms(SAID_ALREADY.sub("", working.label), project.terms)
    return f"{label} ({'; '.join(told)})" if told else label
