"""All sizes of a design beside each other: as data for programs, and as a table for a terminal."""

import json

from workshop.core.finished import Range
from workshop.core.plan import Plan
from workshop.prints.blocks import Document, Items, Paragraph, Section, Table
from workshop.prints.machine import yarn_data
from workshop.project import Project
from workshop.sizes import Sized, Sizes
from workshop.units import show_length, show_range
from workshop.words.phrase import in_terms, say_check

VERSION = 1

SHOWN = ("chest", "length", "upper_arm", "sleeve", "armhole_depth", "neck_width")
"""Finished measurements in the table of the terminal."""


def dumps(project: Project, sizes: Sizes) -> str:
    """The sizes as JSON text."""
    return json.dumps(sizes_data(project, sizes), ensure_ascii=False, indent=1, allow_nan=False)


def sizes_data(project: Project, sizes: Sizes) -> dict[str, object]:
    """The sizes as plain data: lengths in cm, in the order of their table."""
    return {
        "version": VERSION,
        "design": project.title,
        "table": sizes.table,
        "base_size": sizes.base_size,
        "sizes": [_sized(one) for one in sizes.sizes],
        "rules": [{"length": r.length, "rule": r.rule, "given": round(r.given_cm, 4)} for r in sizes.rules],
    }


def _sized(one: Sized) -> dict[str, object]:
    plan, refused = one.plan, one.refused
    return {
        "size": one.size,
        "body_cm": {m.id: round(m.value_cm, 4) for m in plan.wearer.measures.values()},
        "finished_cm": None if refused else {k: round(v, 4) for k, v in plan.finished_cm.items()},
        "finished_range_cm": None if refused else {k: _two(v) for k, v in plan.ranges.items()},
        "ease_cm": {k: round(v, 4) for k, v in plan.targets.ease.items()},
        "counts": {p.name: {"cast_on": p.cast_on, **p.key_counts} for p in plan.made.pieces},
        "yarn": None if refused else yarn_data(plan),
        "checks": [
            {"code": c.code, "level": c.level, "text": say_check(c, one.project)}
            for c in plan.checks
            if c.level != "note"
        ],
        "refused": reason(one) or None,
    }


def _two(of: Range) -> list[float]:
    return [round(of.low, 4), round(of.high, 4)]


def reason(one: Sized) -> str:
    """Why a size cannot be knitted so; empty where it can."""
    if one.plan.made.pieces:
        return ""
    return " ".join(say_check(c, one.project) for c in one.refused) or "Something is still missing for a plan."


RULES = {
    "by the body": "follows the body: longer or shorter by what back and shoulder are",
    "same part": "the same part of the arm",
    "same difference": "the same difference from what is usual for the size",
    "the same": "the same in every size",
    "by hand": "as you gave it for a size",
}


def document(project: Project, sizes: Sizes) -> Document:
    """All sizes as a document: the table, the rules of grading, and what cannot be knitted."""
    counts = Table(*_counts(sizes))
    sections = [Section("Sizes", (Table(*_split(rows(project, sizes))),)), Section("Counts", (counts,))]
    given = [
        f"{r.length.removesuffix('_cm').replace('_', ' ').capitalize()}, {show_length(r.given_cm, project.units)} in "
        f"size {sizes.base_size}: {RULES[r.rule]}."
        for r in sizes.rules
    ]
    if given:
        sections.append(Section("How lengths follow the size", (Items(tuple(given)),)))
    refused = tuple(Paragraph(f"{one.size}: {reason(one)}", "stop") for one in sizes.sizes if reason(one))
    if refused:
        sections.append(Section("Not knitted so", refused))
    where = f"table {sizes.table}" if sizes.table else "your own list of bodies"
    lead = f"From {where}; base size {sizes.base_size}."
    return Document(f"{project.title or 'A design'}, in sizes", tuple(sections), lead)


def _counts(sizes: Sizes) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """Stitches of each piece, one column for each size that can be knitted."""
    made = [one for one in sizes.sizes if one.plan.made.pieces]
    keys: dict[tuple[str, str], None] = {}
    for one in made:
        for piece in one.plan.made.pieces:
            keys |= {(piece.name, "cast on"): None} if piece.cast_on and piece.parent is None else {}
            keys |= {(piece.name, key): None for key in piece.key_counts}
    table = []
    for name, key in keys:
        cells = []
        for one in made:
            of_name = {p.name: p for p in one.plan.made.pieces}.get(name)
            count = None if of_name is None else of_name.cast_on if key == "cast on" else of_name.key_counts.get(key)
            cells.append(str(count) if count is not None else "–")
        table.append((f"{name.capitalize()}, {key.replace('_', ' ')}", *cells))
    return ("", *(one.size for one in made)), tuple(table)


def _split(table: tuple[tuple[str, ...], ...]) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    return table[0], table[1:]


def rows(project: Project, sizes: Sizes) -> tuple[tuple[str, ...], ...]:
    """The table: a heading, and one row for each size that can be knitted."""
    parts = [part for part in SHOWN if any(part in one.plan.finished_cm for one in sizes.sizes)]
    names = [in_terms(part.replace("_", " ").capitalize(), project.terms) for part in parts]
    table = [("Size", "Body", *names, "Ease", "Balls")]
    for one in sizes.sizes:
        if one.plan.made.pieces:
            table.append((one.size, *_row(one.plan, parts)))
    return tuple(table)


def _row(plan: Plan, parts: list[str]) -> tuple[str, ...]:
    body, ease = plan.wearer.cm("chest"), plan.targets.ease.get("chest")
    shown = plan.project.units
    cells = [show_length(body, shown) if body else "–"]
    for part in parts:
        size = plan.finished_cm.get(part)
        if part == "chest" and part in plan.ranges:
            likely = plan.ranges[part]
            cells.append(f"{show_length(likely.likely, shown)} ({show_range(likely.low, likely.high, shown)})")
        else:
            cells.append(show_length(size, shown) if size is not None else "–")
    cells.append(show_length(ease, shown) if ease is not None else "–")
    cells.append(str(plan.yarn.balls) if plan.yarn and plan.yarn.balls else "–")
    return tuple(cells)
