"""The stitch pattern of a garment in words: its rows, written out once, and how it is set and kept."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby

from workshop.core.cloth.wash import DesignGauge
from workshop.core.edgings import of_fabric
from workshop.core.fabric.at_edges import NO_MOTIF, begins_apart, begins_with, counts_repeats, known_edges, plain_before
from workshop.core.fabric.keeping import landmark, runs_on
from workshop.core.fabric.own_gauge import gauge_in
from workshop.core.fabric.panels_meeting import panels_differ
from workshop.core.fabric.patterns import Pattern, SetPanel
from workshop.core.fabric.row_heads import Side, head_of
from workshop.core.fabric.turned import Worked, WorkedRow, as_worked, steps_told, to_be_turned
from workshop.core.fabric.written import CROSSED, groups_of, uses
from workshop.core.making import roles
from workshop.core.making.ledger import Piece, Row
from workshop.core.plan import Plan
from workshop.project import Project
from workshop.units import show_gauge
from workshop.words.phrase import capitalised, joined, needle_to_knit_with
from workshop.words.rows.row_actions import stitches
from workshop.words.texts import texts

OTHER_FACE = str.maketrans("kp", "pk")


def pattern_notes(plan: Plan) -> Iterator[str]:
    """What is read of the fabric and of panels before the first row; nothing of a plain garment."""
    yield from _ground_notes(plan)
    for panel, pieces in different_panels(plan):
        yield from _panel_notes(plan, panel, pieces)


def _ground_notes(plan: Plan) -> Iterator[str]:
    pieces = [p for p in plan.made.pieces if p.pattern is not None]
    found = next((p.pattern for p in pieces), None)
    if found is None:
        return
    pattern, said = found.pattern, texts("fabric")
    plus = f" plus {pattern.plus}" if pattern.plus else ""
    multiple = f"a multiple of {stitches(pattern.multiple)}{plus}" if pattern.multiple > 1 else "any number of stitches"
    yield said["about"].format(name=pattern.name, multiple=multiple, rows=found.repeat_rows)
    yield from _rows(pattern, found.repeat_rows, pieces)
    yield from (said[name].format(until=_until(pieces)) for name in _set(plan, pieces))
    yield from _over_ribs(pieces)
    yield from [said["count"]] if pattern.multiple > NO_MOTIF else ()
    yield said["kept"]
    yield from (said[name] for name in _at_edges(pattern, pieces))
    if any(p.role in roles.YOKES for p in pieces):
        yield said["raglan"]
    elif any(_begins_on_the_wrong_side(p) for p in pieces):
        yield said["begins_told"]
    if not pattern.stranded and any(map(begins_apart, pieces)):
        yield said["begins_apart"]


def _begins_on_the_wrong_side(piece: Piece) -> bool:
    first = piece.pattern.rows[0][0] if piece.pattern else 0
    return any(row.row == first and row.side == "WS" for row in piece.rows)


def _at_edges(pattern: Pattern, pieces: Sequence[Piece]) -> Iterator[str]:
    """Sentences, by their names, of what is worked plain where an edge cuts the pattern, and of repeats."""
    groups, told = groups_of(pattern), [p for p in pieces if known_edges(p)]
    if groups is None or (any(groups) and len(told) < len(pieces)):  # crossings and holes: not known to be none
        yield "whole_only"
    if groups is not None and any(groups) and told:
        yield "plain_told"
        if any(not counts_repeats(p) for p in told):
            yield "parts_told"
    if pattern.multiple > NO_MOTIF and any(map(counts_repeats, told)):
        yield "repeats_told"


def different_panels(plan: Plan) -> list[tuple[SetPanel, list[Piece]]]:
    """Each different panel, with the pieces that it runs up."""
    found: dict[tuple[str, int, int], tuple[SetPanel, list[Piece]]] = {}
    for piece in plan.made.pieces:
        for panel in piece.panels:
            _, pieces = found.setdefault((panel.pattern.id, panel.stitches, panel.repeat_rows), (panel, []))
            pieces.append(piece)
    return list(found.values())


def _panel_notes(plan: Plan, panel: SetPanel, pieces: Sequence[Piece]) -> Iterator[str]:
    """One panel: where it is, its rows, and how it goes on beside the rest."""
    said, pattern = texts("panel"), panel.pattern
    alike = [p for piece in pieces for p in piece.panels if p.pattern.id == pattern.id and p.stitches == panel.stitches]
    parts = {p.part.rpartition(" ")[2] for p in alike}
    where = joined(word for part, word in UP.items() if part in parts)
    about = said["about"].format(where=where, name=pattern.name, stitches=panel.stitches, rows=panel.repeat_rows)
    if any(p.pattern is not None and p.pattern.pattern.id == pattern.id for p in plan.made.pieces):
        yield about
        yield said["as_ground"]
    else:
        assert plan.gauge is not None
        own = gauge_in(plan.project, pattern.id, plan.gauge, plan.swatches)
        yield f"{about} {own_gauge_words(own, plan.gauge, plan.project)}"
        rows = list(_rows(pattern, panel.repeat_rows, pieces, panel))
        yield from rows
        if pattern.as_typed and any(re.search(r"\bend\b", line, re.IGNORECASE) for line in rows):
            yield said["to_end"]
    yield _between(pattern, pieces)
    yield from _where_sleeves_join(pieces)
    if any(piece.pattern is not None for piece in pieces):
        yield said["in_pattern"]


def _between(pattern: Pattern, pieces: Sequence[Piece]) -> str:
    """What is done between the markers until a panel begins: on which side, but that a round is no wrong-side row."""
    said, ways, wrong = texts("panel"), {piece.worked for piece in pieces}, pattern.begins_on == "WS"
    begins_flat = ways == {"flat"} if wrong else "flat" in ways
    return said["between_flat" if begins_flat else "between"].format(side="wrong-side" if wrong else "right-side")


def _where_sleeves_join(pieces: Sequence[Piece]) -> Iterator[str]:
    """Whether panels up the sleeves are on the row of the body's there, and why not."""
    sleeves = (p for piece in pieces if piece.role is roles.SLEEVE and not piece.parent for p in piece.panels)
    if any(p.rows and p.set_up is not None and p.rows[0][0] > p.set_up + 2 for p in sleeves):
        yield texts("panel")["sleeves_meet"]
    if panels_differ(pieces):
        yield texts("panel")["other_rows"]


def own_gauge_words(own: DesignGauge | None, chosen: DesignGauge, project: Project) -> str:
    """Which swatch a panel or a band was counted with, and its gauge; None: that of the garment."""
    said = texts("colours")
    if own is None:
        return said["no_gauge"].format(id=chosen.swatch.id)
    needle_mm = own.swatch.needle_mm
    other = needle_mm is not None and needle_mm != chosen.swatch.needle_mm
    stitches, rows = (
        show_gauge(g.per_10cm, project.units, name) for g, name in ((own.stitches, "stitches"), (own.rows, "rows"))
    )
    needle = f", on {needle_to_knit_with(needle_mm, project)} needles" if other and needle_mm else ""
    return said["own_gauge"].format(id=own.swatch.id, needle=needle, stitches=stitches, rows=rows)


UP = {"front": "the front", "back": "the back", "sleeve": "the sleeves"}
"""What panels go up, by the last word of the part."""


def _set(plan: Plan, pieces: Sequence[Piece]) -> Iterator[str]:
    """Sentences, by their names, of how the pattern stands in the pieces."""
    pattern = next(p.pattern.pattern for p in pieces if p.pattern)
    sewn = any(p.edge_stitches for p in pieces)
    if sewn:
        yield "edge_in_pattern" if pattern.edge_in_pattern else "edge_plain"
    if plan.made.fit == "plain-sides":
        yield "plain_sides"
    yield from _in_sleeves_and_yokes(pattern, pieces)
    front, back = plan.made.first(roles.FRONT), plan.made.first(roles.BACK)
    if front is not None and back is not None and sewn and not front.parent and plan.project.garment.front != "open":
        yield "runs_on" if runs_on(front, back) else "breaks_off"


def _over_ribs(pieces: Sequence[Piece]) -> Iterator[str]:
    """How a rib runs into the pattern above it: column over column, from their common middle, or not."""
    told: dict[str, str] = {}
    for piece in (p for p in pieces if p.parent is None and p.role not in roles.YOKES):
        where = "cuffs" if piece.role is roles.SLEEVE else "hem"
        sentence = _over_rib(piece)
        if sentence:
            told.setdefault(where, sentence)
    if len(set(told.values())) == 1 and len(told) > 1:
        told = {"hem and cuffs": next(iter(told.values()))}
    yield from (f"Above the {where}, {sentence}" for where, sentence in told.items())


def _over_rib(piece: Piece) -> str:
    found, said = piece.pattern, texts("over_rib")
    rib, begin = of_fabric(piece.rows[0].fabric), found.rows[0][0] if found else 0
    if found is None or not rib.rib:
        return ""
    changed = sum(e.change for r in piece.rows if r.row < begin for e in r.events)
    multiple, centred = found.pattern.multiple, piece.worked == "flat" and found.on_centre
    figures = {"stitches": stitches(abs(changed)), "multiple": multiple, "rib": rib.repeat}
    if changed:
        return said["more" if changed > 0 else "fewer"].format(**figures)
    if multiple % rib.repeat == 0:
        return said["lined_up_from_the_middle" if centred else "lined_up"]
    if rib.repeat % multiple == 0:
        return said["lined_up_below"]
    return said["middle" if centred else "apart"].format(**figures)


def _until(pieces: Sequence[Piece]) -> str:
    """Up to where side edges are straight: the row that shapes them first, or the armholes."""
    for piece in (p for p in pieces if p.role in roles.PANELS and p.parent is None):
        under = landmark(piece) or piece.last_row
        shaped = [
            r.row for r in piece.rows if r.row <= under for e in r.events if e.where in ("both", *roles.BOTH_EDGES)
        ]
        if shaped:
            return f"up to row {shaped[0]}, where the sides are shaped"
    return "up to the armholes"


def _in_sleeves_and_yokes(pattern: Pattern, pieces: Sequence[Piece]) -> Iterator[str]:
    """Sentences, by their names, of what the pattern does not do there as on the body."""
    if any(p.parent is None and p.role in roles.YOKES for p in pieces):
        yield "upside_down"
    if pattern.multiple > NO_MOTIF and any(
        p.role is roles.SLEEVE and p.pattern and not p.pattern.on_centre for p in pieces
    ):
        yield "off_centre"


def _rows(pattern: Pattern, repeat_rows: int, pieces: Sequence[Piece], panel: SetPanel | None = None) -> Iterator[str]:
    """The rows of a pattern: from its chart, flat and in the round as there are pieces; else as they were typed."""
    said, ways = texts("fabric"), list(dict.fromkeys(p.worked for p in pieces))
    if pattern.stranded and pattern.chart:
        yield said["from_chart"]
        return
    if not pattern.chart or pattern.as_typed:
        yield from _typed(pattern, repeat_rows, ways, panel)
        return
    for worked in ways:
        if len(ways) > 1:
            yield said[f"worked_{worked}"]
        yield from (
            panel_rows_written(panel, worked, repeat_rows) if panel else written_rows(pattern, worked, repeat_rows)
        )
    if pattern.lines:
        yield f"{said['as_typed']} {' / '.join(pattern.lines)}."


def _typed(pattern: Pattern, repeat_rows: int, ways: Sequence[Worked], panel: SetPanel | None) -> Iterator[str]:
    """Typed rows as they are worked: as they were typed, and turned where they're worked the other way."""
    said = texts("fabric")
    if not pattern.lines:
        yield said["your_source"]
        return
    way = next((worked for worked in ways if to_be_turned(pattern, worked)), None)
    turned = turned_rows(pattern, way, repeat_rows, panel) if way else ()
    typed = set(ways) - {way}
    if typed or not turned:
        typed_for = "flat" if way == "round" else "round"
        yield from [said[f"worked_{typed_for}"]] if turned else ()
        yield from typed_rows(pattern, repeat_rows if "flat" in ways and way != "flat" else 0)
    if turned:
        yield said[f"worked_{way}"]
        yield from turned
    elif way:
        yield said["not_turned" if way == "round" else "not_turned_flat"]
    if turned and not typed:
        yield f"{said['as_typed']} {' / '.join(line.strip().removesuffix('.') for line in pattern.lines)}."


NUMBERED = r"(?i)\s*(?:rows?|rounds?|rnds?)\.?\s*(\d+)\b"
"""How a typed row begins that has its own number, also without a colon after it."""


def typed_rows(pattern: Pattern, rows: int = 0) -> tuple[str, ...]:
    """The rows of a pattern as they were typed, each with its number: its own, where it begins with that.

    ``rows``: those after which they begin again on the same side, where that is the second time through.
    """
    told = []
    for number, text in enumerate(pattern.lines, 1):
        head, own = head_of(text), re.match(NUMBERED, text)
        has_it = number in (head.number, int(own[1][:4]) if own else 0)
        told.append(f"{'' if has_it else f'Row {number}: '}{text.strip().removesuffix('.')}.")
    if rows == 2 * len(told):
        told += [f"Row {number}: {head_of(text).text}." for number, text in enumerate(pattern.lines, len(told) + 1)]
    return tuple(told)


def turned_rows(
    pattern: Pattern, worked: Worked, rows: int, panel: SetPanel | None = None, plus: int | None = None
) -> tuple[str, ...]:
    """Rows that were typed for the other way of knitting, as they are worked; none where one can't be turned."""
    many = panel.stitches if panel else 0
    turned = as_worked(pattern, worked, rows, many, plus) or ()
    return tuple(
        f"{_numbered(n, row) if worked == 'round' else f'Row {n} ({SIDES[n % 2]})'}: {_row_told(row, many)}."
        for n, row in enumerate(turned, 1)
    )


SIDES: tuple[Side, Side] = ("WS", "RS")
"""Of even rows and of odd ones."""


def _numbered(number: int, row: WorkedRow) -> str:
    """A round by its number, and where it begins if that is not the first stitch of the repeat."""
    if not row.begins:
        return f"Round {number}"
    beside = f"{stitches(abs(row.begins))} {'after' if row.begins > 0 else 'before'}"
    return f"Round {number}, starting {beside} stitch 1 of the repeat"


def _row_told(row: WorkedRow, wide: int) -> str:
    """A row over so many stitches; 0: over many repeats."""
    once = (*row.before, *row.cells, *row.after)
    if row.whole or uses(once) == wide:
        return row.whole or steps_told(once)
    before, cells, after = (steps_told(steps) for steps in (row.before, row.cells, row.after))
    many = uses(row.after)
    last = f" to the last {stitches(many) if many > 1 else 'stitch'}, {after}" if after else " to the end"
    return f"{before}{', ' if before else ''}*{cells}; repeat from *{last}"


def _knitted(plan: Plan) -> list[Pattern]:
    """The patterns of the fabric and of panels."""
    return [p.pattern.pattern for p in plan.made.pieces if p.pattern] + [p.pattern for p in plan.made.panels]


CROSSES = rf"(?i)\b(?:{CROSSED})\b|cable needle"
"""What in a row needs a cable needle."""


def needs_cable_needle(plan: Plan) -> bool:
    """Whether a row of the fabric or of a panel crosses stitches."""
    return any(re.search(CROSSES, line) for pattern in _knitted(plan) for line in pattern.lines)


def own_rows_notes(plan: Plan) -> Iterator[str]:
    """Where to look up what only the knitter's own rows say; nothing where none are printed."""
    of_bands = (b.pattern for p in plan.made.pieces for b in p.bands)
    if any(p.as_typed for p in _knitted(plan)) or any(p.lines and not p.chart for p in of_bands):
        yield texts("fabric")["own_rows"]


LAST = r" to the last (\d+ stitches|stitch),"


def panel_rows_written(panel: SetPanel, worked: str, rows: int) -> tuple[str, ...]:
    """The rows of a panel between its markers, as they are worked."""
    pattern = panel.pattern
    if panel.stitches > pattern.multiple + pattern.plus:
        told = (re.sub(LAST, r" to the last \1 before the marker,", t) for t in written_rows(pattern, worked, rows))
        return tuple(text.replace(" to the end", " to the marker") for text in told)
    whole = tuple(cells + pattern.balance(cells) for cells in pattern.chart)
    once = written_rows(replace(pattern, multiple=panel.stitches, plus=0, chart=whole), worked, rows)
    return tuple(text.replace("*", "").replace("; repeat from  to the end", "") for text in once)


def each_row(rows: int, *, flat: bool, begins_on: str = "RS") -> list[tuple[int, bool]]:
    """The rows of a pattern with whether the right side is seen: worked flat, an odd number comes from both sides."""
    many = 2 * rows if flat and rows % 2 else rows
    return [(n % rows + 1, not flat or (n % 2 == 0) == (begins_on == "RS")) for n in range(many)]


def written_rows(pattern: Pattern, worked: str, rows: int) -> tuple[str, ...]:
    """The rows of a chart as they are worked: flat from both sides, in the round all from the right side."""
    told = []
    for row, right_side in each_row(rows, flat=worked == "flat", begins_on=pattern.begins_on):
        cells = pattern.chart[(row - 1) % len(pattern.chart)]
        if worked == "round":
            told.append(f"Round {row}: {_repeated(cells, '', '')}.")
        elif right_side:
            told.append(f"Row {row} (RS): {_repeated(cells, '', pattern.balance(cells))}.")
        else:
            turned = pattern.balance(cells)[::-1].translate(OTHER_FACE)
            told.append(f"Row {row} (WS): {_repeated(cells[::-1].translate(OTHER_FACE), turned, '')}.")
    return tuple(told)


def row_at_hand(piece: Piece, row: Row) -> str:
    """How a row of the pattern begins inside its edge stitch, where that is known: its stitches, else a number."""
    found, first = piece.pattern, begins_with(piece, row)
    at = found.at(row.row) if found else None
    if found is None or at is None or first is None or not known_edges(piece):
        return ""
    if plain_before(piece, row):
        return capitalised(texts("fabric")["begins"].format(inside="after the plain side ", stitch=first))
    cells = found.pattern.chart[(at.row - 1) % len(found.pattern.chart)] if found.pattern.chart else ""
    inside = "inside the edge stitches " if piece.edge_stitches and not found.pattern.edge_in_pattern else ""
    shaped = any(e.change for e in row.events)
    if set(cells) - {"k", "p"} or not cells or shaped:
        name = "begins_shaped" if shaped else "begins"
        told = texts("fabric")[name].format(inside=inside, stitch=first)
        return capitalised(told)
    worked = cells[first - 1 :] + cells[: first - 1]
    if row.side == "WS":
        worked = (cells[first:] + cells[:first])[::-1].translate(OTHER_FACE)
    told = _repeated(worked, "", "")
    return f"{inside.strip().capitalize()}: {told}." if inside else f"{capitalised(told)}."


def _repeated(cells: str, before: str, after: str) -> str:
    """One repeat with what stands before and after all of them."""
    if len(set(cells + before + after)) == 1:
        return {"k": "knit", "p": "purl"}.get(cells[0], f"{cells[0]} throughout")
    first = f"{_counted(before)}, " if before else ""
    last = f" to the last {_stitches(after)}, {_counted(after)}" if after else " to the end"
    return f"{first}*{_counted(cells)}; repeat from *{last}"


def _stitches(cells: str) -> str:
    return f"{len(cells)} stitches" if len(cells) > 1 else "stitch"


def _counted(cells: str) -> str:
    return ", ".join(f"{cell}{len(list(run))}" for cell, run in groupby(cells))
