"""All sizes of a design beside each other: as data for programs, and as a table for a terminal."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from workshop.core.making.ledger import Piece
from workshop.core.making.roles import SHOULDER
from workshop.core.plan import Plan
from workshop.core.wearer.fit import EASED
from workshop.pictures.outline import Outline
from workshop.pictures.svg import schematic_svg
from workshop.pictures.text import schematic_text
from workshop.prints.as_json import json_text, rounded
from workshop.prints.blocks import Block, Document, Drawing, Items, Paragraph, Section, Table
from workshop.prints.document import (
    SCHEMATIC_COLUMNS,
    abbreviations_of,
    cautions_section,
    chest_ease_cm,
    gauges_table,
    shapes_of,
    yarn_named,
)
from workshop.prints.machine import yarn_data
from workshop.prints.paper import HIGH_IN_A_PLAN
from workshop.progress import progress
from workshop.project import BodyTable, Project
from workshop.questions.steps import asked_as
from workshop.sizes import LEAST_CM, GradingRule, Sized, Sizes
from workshop.units import show_length, show_yarn_length
from workshop.visible import in_one_line
from workshop.words.answers.of_garment import finished_name
from workshop.words.drawn import schematic_notes
from workshop.words.graded.brackets import DASH, bracket
from workshop.words.graded.only import called, merged, named
from workshop.words.graded.pieces import GradedPiece, all_notes, graded, notes_after, notes_before
from workshop.words.phrase import capitalised, in_terms, in_terms_of, joined, say_check
from workshop.words.texts import texts

VERSION = 1


def dumps(project: Project, sizes: Sizes) -> str:
    """The sizes as JSON text."""
    return json_text(sizes_data(project, sizes))


def sizes_data(project: Project, sizes: Sizes) -> dict[str, object]:
    """The sizes as plain data: lengths in cm, in the order of their table."""
    return {
        "version": VERSION,
        "design": project.title,
        "table": sizes.table,
        "base_size": sizes.base_size,
        "sizes": [_sized(one) for one in sizes.sizes],
        "rules": [_rule(rule) for rule in sizes.rules],
        "not_used": [{"key": odd.key, "said": odd.said, "why": odd.why} for odd in sizes.not_used],
    }


def _rule(rule: GradingRule) -> dict[str, object]:
    return {
        "length": rule.length,
        "rule": rule.rule,
        "given": rounded(rule.given_cm),
        "others": rule.others,
        "by_hand": {size: rounded(cm) for size, cm in rule.by_hand},
    }


def _sized(one: Sized) -> dict[str, object]:
    plan, refused = one.plan, reason(one)
    finished = {} if refused else plan.finished_cm
    more = {part: (finished.get(part), plan.wearer.cm(part)) for part in EASED}
    return {
        "size": one.size,
        "body_cm": {m.id: rounded(m.value_cm) for m in plan.wearer.measures.values()},
        "finished_cm": None if refused else {k: rounded(v) for k, v in finished.items()},
        "finished_range_cm": None
        if refused
        else {k: [rounded(v.low), rounded(v.high)] for k, v in plan.ranges.items()},
        "ease_cm": {k: None if f is None or body is None else rounded(f - body) for k, (f, body) in more.items()},
        "counts": {p.name: {"cast_on": p.cast_on, **p.key_counts} for p in plan.made.pieces},
        "yarn": None if refused else yarn_data(plan),
        "checks": [
            {"code": c.code, "level": c.level, "text": say_check(c, one.project)}
            for c in plan.checks
            if c.level != "note"
        ],
        "refused": refused or None,
    }


def reason(one: Sized) -> str:
    """Why a size cannot be knitted so; empty where it can."""
    if one.plan.made.pieces:
        return ""
    if one.refused:
        return " ".join(say_check(c, one.project) for c in one.refused)
    said = texts("sizes")
    if not one.plan.wearer.cm("chest"):
        return said["no_chest"]
    names = [asked_as(key, one.project) for state in progress(one.plan) for key in state.missing]
    return said["missing"].format(names=in_terms_of("; ".join(names), one.project))


# ── as a document ────────────────────────────────────────────────────────────────────────────────────

SHOWN = ("length", "upper_arm", "wrist", "sleeve", "armhole_depth", "neck_width", "shoulder", "yoke_depth")
"""Finished measurements in the table, besides the chest."""

LEAST_FALL_CM = 0.05


def document(project: Project, sizes: Sizes) -> Document:
    """All sizes as a document: the table, counts, how lengths follow the size, checks, and what cannot be knitted."""
    made = sizes.made
    units = texts("sizes")["lengths"].format(unit="inches" if project.units == "in" else "cm")
    sections = []
    if made:
        names, base = tuple(one.size for one in made), _base(sizes)
        table, counts = (Table(("", *names), rows) for rows in (_measured(made, base.plan), _counts(made)))
        sections = [
            Section("Sizes", (Paragraph(units), table, *_of_yarn(project))),
            Section("Counts", (counts,)),
            Section("How lengths follow the size", (Items(tuple(rule_lines(project, sizes))),)),
            Section("Smaller in a larger size", _falls(_by_size(sizes), base.plan)),
            Section("To look at again", _checks(made)),
        ]
    every = [one.size for one in sizes.sizes]
    reasons = merged([reason(one) or None for one in sizes.sizes])
    refused = tuple(Paragraph(f"{named(some.sizes, every)}: {some.lines[0]}", "stop") for some in reasons)
    sections.append(Section("Sizes that can't be made like this", refused))
    return Document(
        f"{project.title or in_terms('A sweater without a name yet', project.terms)}, in sizes",
        tuple(section for section in sections if section.blocks),
        lead(sizes),
        terms=project.terms,
    )


def _of_yarn(project: Project) -> tuple[Block, ...]:
    """Which yarn the amounts are of."""
    yarn = in_terms_of(yarn_named(project), project)
    return (Paragraph(f"Yarn: {yarn}."),) if yarn else ()


def lead(sizes: Sizes) -> str:
    """Where the sizes come from, and which of them is the base."""
    where = f"the {WHOSE.get(sizes.table, sizes.table)} table" if sizes.table else "your own list of bodies"
    base = texts("base_size")[sizes.base_is].format(base=sizes.base_size)
    return texts("sizes")["table"].format(where=where, base=base)


WHOSE: Mapping[BodyTable, str] = {
    "women": "women's", "men": "men's", "children": "children's", "babies": "babies'"
}  # fmt: skip
"""A table of bodies by whose it is."""


def _measured(made: Sequence[Sized], base: Plan) -> tuple[tuple[str, ...], ...]:
    """To fit, finished with its likely range, ease and yarn; a column for each size."""
    project = base.project
    plans = [one.plan for one in made]
    rows = [("To fit chest", [plan.wearer.cm("chest") for plan in plans])]
    rows.append(("Finished chest", [plan.finished_cm.get("chest") for plan in plans]))
    ranges = [plan.ranges.get("chest") for plan in plans]
    rows += [
        ("Chest, likely from", [r.low if r else None for r in ranges]),
        ("Chest, likely to", [r.high if r else None for r in ranges]),
    ]
    rows.append(("Ease at the chest", [chest_ease_cm(plan) for plan in plans]))
    rows += [(finished_name(part, base), [plan.finished_cm.get(part) for plan in plans]) for part in SHOWN]
    table = [
        (in_terms(name, project.terms), *(_bare(value, project) for value in of_sizes))
        for name, of_sizes in rows
        if any(value is not None for value in of_sizes)
    ]
    return (*table, *_yarn(plans))


def _yarn(plans: Sequence[Plan]) -> list[tuple[str, ...]]:
    """Yarn low to high, and balls."""
    metres = [plan.yarn.metres if plan.yarn else None for plan in plans]
    shown = plans[0].project.units
    ends = [[show_yarn_length(m[at], shown).rsplit(" ", 1)[0] if m else "–" for m in metres] for at in (0, 2)]
    unit = show_yarn_length(1.0, shown).rsplit(" ", 1)[1]
    balls = [str(plan.yarn.balls) if plan.yarn and plan.yarn.balls else "–" for plan in plans]
    rows = [(f"Yarn in {unit}, from", *ends[0]), (f"Yarn in {unit}, to", *ends[1])] if any(metres) else []
    return [*rows, *([("Balls to buy", *balls)] if any(b != "–" for b in balls) else [])]


def _bare(value_cm: float | None, project: Project) -> str:
    """A length without its unit, for a table that says it once."""
    return "–" if value_cm is None else show_length(value_cm, project.units).rsplit(" ", 1)[0]


def _counts(made: Sequence[Sized]) -> tuple[tuple[str, ...], ...]:
    """Stitches of each piece; pieces that have the same in all sizes together."""
    found: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    by_name = [{p.name: p for p in one.plan.made.pieces if p.role is not SHOULDER} for one in made]
    for name in dict.fromkeys(name for pieces in by_name for name in pieces):
        of_name = [pieces.get(name) for pieces in by_name]
        for key in dict.fromkeys(key for piece in of_name if piece for key in ("cast on", *piece.key_counts)):
            cells = tuple(_cell(piece, key) for piece in of_name)
            if set(cells) != {"–"}:
                found.setdefault((key.replace("_", " "), cells), []).append(name)
    terms = made[0].plan.project.terms
    return tuple((in_terms(f"{_listed(names)}: {key}", terms), *cells) for (key, cells), names in found.items())


def _cell(piece: Piece | None, key: str) -> str:
    if piece is None or (key == "cast on" and (piece.parent is not None or not piece.cast_on)):
        return "–"
    count = piece.cast_on if key == "cast on" else piece.key_counts.get(key)
    return "–" if count is None else str(count)


def _listed(names: Sequence[str]) -> str:
    """Names of pieces; a pair by one name."""
    told: dict[str, None] = {}
    names = [name.replace("yoke, upper", "upper yoke").replace(", ", " ") for name in names]
    for name in names:
        mirrored = name.replace("left", "right") if "left" in name else name.replace("right", "left")
        told |= {re.sub(r"\b(left|right) ", "", name) + "s" if mirrored in names and mirrored != name else name: None}
    *some, last = told
    return capitalised(f"{', '.join(some)} and {last}" if some else last)


def length_named(length: str, project: Project) -> str:
    """A length of the garment, by its question."""
    return asked_as(f"garment.{length}", project).rstrip("?")


def rule_told(rule: GradingRule) -> str:
    """How a length follows the size, after its name: the sizes for which it was typed, and what the others do."""
    said = texts("length_rules")
    others = said[rule.others] if rule.others else said["not typed"]
    typed = joined(in_one_line(size) for size, _ in rule.by_hand)
    return said["by hand"].format(sizes=typed, others=others) if rule.by_hand else others


def rule_lines(project: Project, sizes: Sizes) -> Iterator[str]:
    """Every length that was given, what it is in each size and by which rule; and how the ease goes on."""
    said = texts("sizes")
    planned = "given" if sizes.base_is == "planned" else "given_elsewhere"
    for rule in sizes.rules if sizes.made else ():
        name = length_named(rule.length, project)
        if rule.given_cm is None:
            typed = joined(f"{show_length(cm, project.units)} in {in_one_line(size)}" for size, cm in rule.by_hand)
            yield said["not_given"].format(name=name, typed=typed)
            continue
        of_size = [getattr(one.project.garment, rule.length) for one in sizes.made]
        shown = bracket([None if cm is None else _bare(cm, project) for cm in of_size])
        given = said[planned].format(given=show_length(rule.given_cm, project.units), base=sizes.base_size)
        yield said["rule"].format(name=name, shown=shown, given=given, rule=rule_told(rule))
        held = [one.size for one, cm in zip(sizes.made, of_size, strict=True) if cm == LEAST_CM != rule.given_cm]
        if held:
            yield said["held"].format(name=name, least=show_length(LEAST_CM, project.units), sizes=", ".join(held))
    for odd in sizes.not_used:
        key, length, _, size = map(in_one_line, (odd.key, *odd.key.partition(".")))
        yield said[odd.why].format(key=key, said=in_one_line(odd.said), length=length, size=size)
    by_fit = project.fit.chest_ease_cm is None and project.fit.ease is not None
    yield said["ease_fit"].format(fit=project.fit.ease) if by_fit else said["ease_same"]
    yield said["others"]


SCREEN = ("Size", "To fit", "Finished chest", "Length", "Balls")
"""Heads of what a screen shows of a size."""


def on_screen(one: Sized) -> tuple[str, ...]:
    """One size in a line: to fit, finished chest with its likely range, length, balls; or why it can't be made."""
    plan, project = one.plan, one.plan.project
    if not plan.made.pieces:
        return one.size, texts("sizes")["refused"].format(reason=reason(one))
    chest, likely = _bare(plan.finished_cm.get("chest"), project), plan.ranges.get("chest")
    if likely is not None:
        chest += f" ({_bare(likely.low, project)} to {_bare(likely.high, project)})"
    balls = str(plan.yarn.balls) if plan.yarn and plan.yarn.balls else "–"
    to_fit, length = plan.wearer.cm("chest"), plan.finished_cm.get("length")
    return one.size, _bare(to_fit, project), chest, _bare(length, project), balls


def _by_size(sizes: Sizes) -> tuple[tuple[Sized, Sized], ...]:
    """Each size that can be made and the next larger one; own bodies go by chest, then by the length of the back."""
    if sizes.table:
        return tuple(pairwise(sizes.made))

    def size(one: Sized) -> tuple[float, float]:
        return one.plan.wearer.cm("chest") or 0.0, one.plan.wearer.cm("back_waist") or 0.0

    return tuple((a, b) for a, b in pairwise(sorted(sizes.made, key=size)) if size(a) < size(b))


def _falls(neighbours: Sequence[tuple[Sized, Sized]], base: Plan) -> tuple[Block, ...]:
    """Measurements that are smaller in a larger size, each with its reason."""
    found = []
    for part in dict.fromkeys(part for pair in neighbours for one in pair for part in one.plan.finished_cm):
        reasons: dict[str, list[str]] = {}
        for a, b in neighbours:
            was, now = (one.plan.finished_cm.get(part) for one in (a, b))
            if was is not None and now is not None and now < was - LEAST_FALL_CM:
                reasons.setdefault(_why_smaller(part, a, b), []).append(f"{a.size} to {b.size}")
        for reason_told, where in reasons.items():
            line = f"{finished_name(part, base)}, from {', '.join(where)}: {reason_told}"
            found.append(in_terms(line, base.project.terms))
    return (Items(tuple(found)),) if found else ()


BY_BODY: Mapping[str, str] = {"hip": "hip", "upper_arm": "upper_arm", "wrist": "wrist", "length": "back_waist"}
"""Finished measurements that follow one of the body's own, and which."""


def _why_smaller(part: str, smaller: Sized, larger: Sized) -> str:
    """That the larger body is smaller there itself; else what the measurement depends on."""
    said = texts("falls")
    was, now = (one.plan.wearer.cm(BY_BODY[part]) if part in BY_BODY else None for one in (smaller, larger))
    if was is not None and now is not None and now < was:
        return said["body"]
    return said.get(part, said["rounded"])


def _checks(made: Sequence[Sized]) -> tuple[Block, ...]:
    """What wants another look, with the sizes in which it does."""
    names = [one.size for one in made]
    of_sizes = [_checks_by_code(one) for one in made]
    found = []
    for key in dict.fromkeys(key for checks in of_sizes for key in checks):
        for lines in merged([checks.get(key) for checks in of_sizes]):
            where = "All sizes" if len(lines.sizes) == len(made) else named(lines.sizes, names)
            found.append(f"{where}: {lines.lines[0]}")
    return (Items(tuple(found)),) if found else ()


def _checks_by_code(one: Sized) -> dict[tuple[str, int], str]:
    """What wants another look in one size, by its code and its number among those of that code."""
    found: dict[tuple[str, int], str] = {}
    for check in one.plan.checks:
        if check.level != "note":
            number = sum(code == check.code for code, _ in found)
            found[check.code, number] = say_check(check, one.project)
    return found


# ── for paper ────────────────────────────────────────────────────────────────────────────────────────


def sheet(project: Project, sizes: Sizes) -> Document:
    """All sizes for paper: what the table says, the schematic, and one instruction for all of them."""
    told = document(project, sizes)
    made = sizes.made
    if not made:
        return told
    plans, names, base = [one.plan for one in made], called([one.size for one in made]), _base(sizes).plan
    told_in_order = [
        one.size if one.size == name else f"{name} {one.size}" for one, name in zip(made, names, strict=True)
    ]
    order = Paragraph(texts("sizes")["order"].format(sizes=bracket(told_in_order)), "head")
    pieces = graded(plans, names)
    drawn_otherwise = all_notes([schematic_notes(plan) for plan in plans], names)
    before, after = notes_before(plans, names), notes_after(plans, names)
    lines = [*before, *(line for piece in pieces for line in piece.lines), *after]
    gauge = (gauges_table(base.gauge, project),) if base.gauge else ()
    first, *others = told.sections
    sections = (
        first,
        Section("Schematic", (order, *_schematic(plans, base), *map(Paragraph, drawn_otherwise))),
        *others,
        abbreviations_of(lines, project.terms),
        Section("Before the first row", (order, *gauge, Items(before))),
        *(_piece(piece) for piece in pieces),
        Section(in_terms("Finishing", project.terms), (Items(after, ticked=True),), whole=True),
        cautions_section(*plans),
    )
    return replace(told, sections=tuple(section for section in sections if section.blocks))


def _piece(piece: GradedPiece) -> Section:
    measures = (Paragraph(f"{line}.") for line in piece.measures)
    return Section(piece.title, (*measures, Items(piece.lines, ticked=True)))


def _base(sizes: Sizes) -> Sized:
    """The base size, or the first that can be knitted."""
    return next((one for one in sizes.made if one.size == sizes.base_size), sizes.made[0])


LETTERS = "abcdefghijklmnopqrstuvwxyz"


def _schematic(plans: Sequence[Plan], base: Plan) -> Iterator[Block]:
    """The drawing of the base size with letters for its measurements, and what they are in all sizes."""
    of_sizes = [{shape.title: shape for shape in shapes_of(plan)} for plan in plans]
    letters = (f"{more}{letter}" for more in ("", *LETTERS) for letter in LETTERS)
    shapes: list[Outline] = []
    listed: list[Block] = []
    for shape in shapes_of(base):
        keys = [next(letters) for _ in shape.measures]
        lettered = zip(keys, shape.measures, strict=True)
        shapes.append(replace(shape, measures=tuple(replace(m, what=key, round=False) for key, m in lettered)))
        same = [found.get(shape.title) for found in of_sizes]
        told = (_measure(key, what, same, base.project) for key, what in _listed_measures(keys, shape, same))
        listed += [Paragraph(in_terms(shape.title.capitalize(), base.project.terms), "head"), Items(tuple(told))]
    lines = schematic_text(shapes, _only_the_letter, columns=SCHEMATIC_COLUMNS)
    drawn = schematic_svg(shapes, "schematic", _only_the_letter, high=HIGH_IN_A_PLAN, headed=False)
    yield Drawing(lines, tuple(shapes), drawn)
    yield from listed


def _only_the_letter(_: float) -> str:
    """What stands at a measurement beside its letter: nothing."""
    return ""


HEM_AND_CHEST = {"hem": "chest and hem", "chest": "chest and hem"}
"""Measurements that are one where they are alike."""


def _listed_measures(keys: Sequence[str], shape: Outline, same: Sequence[Outline | None]) -> Iterator[tuple[str, str]]:
    """What is listed, each with its letter: as it is drawn, and below that what only other sizes have."""
    others = dict.fromkeys(m.what for one in same if one for m in one.measures)
    apart = tuple(HEM_AND_CHEST) if set(HEM_AND_CHEST) & set(others) else ()
    for key, measure in zip(keys, shape.measures, strict=True):
        every = apart if apart and measure.what in HEM_AND_CHEST.values() else (measure.what,)
        yield from ((key, what) for what in every)
    drawn = {m.what for m in shape.measures}
    yield from (("", what) for what in others if what not in {*drawn, *HEM_AND_CHEST, *HEM_AND_CHEST.values()})


def _measure(key: str, what: str, shapes: Sequence[Outline | None], project: Project) -> str:
    """A measurement of the drawing in all sizes: "a: chest and hem 45.5 (50.9, 56.4) cm"."""
    found = [shape.measure(what) or shape.measure(HEM_AND_CHEST.get(what, what)) if shape else None for shape in shapes]
    values = bracket([_bare(m.value_cm, project) if m else DASH for m in found])
    unit = "in" if project.units == "in" else "cm"
    around = " around" if any(m.round for m in found if m) else ""
    return in_terms(f"{f'{key}: ' if key else ''}{what} {values} {unit}{around}", project.terms)
