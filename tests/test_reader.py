"""The words and the row ledger say the same: what a knitter works from the words alone is what was planned."""

import random
import re
from collections.abc import Iterable
from copy import deepcopy
from dataclasses import replace
from functools import cache
from itertools import islice

import pytest
from hypothesis import given

from tests.core.test_garments import CONSTRUCTIONS, SIZES, projects
from tests.core.test_sweep import designs
from tests.factory import pullover, shaped, swatch
from tests.reader import Knitter, ReadPiece, Waiting, read, stripes_told
from workshop.core.fabric.at_edges import begins_with
from workshop.core.making.ledger import Event, Piece, Row
from workshop.core.plan import Plan, plan
from workshop.project import Body, Fit, Project
from workshop.tables import bodies
from workshop.words.before import before_knitting
from workshop.words.instructions import instructions

DESIGNS = 1500
PARTS = 3
"""In which the many designs are tried, so that no test is long."""


def a_design(chance: random.Random) -> Project:
    """Any body of the tables with any wishes, those that do not go together too."""
    table, size = chance.choice(SIZES)
    stitches = chance.randint(40, 136) / 4
    rows = round(stitches * chance.uniform(1.2, 1.6) * 4) / 4
    chest = bodies.cells(table, "chest")[size].middle_cm
    high = chance.choice([None, chest - 8, chest - 12]) if table == "women" else None
    base = pullover(
        swatch=(swatch(stitches, rows, washed_rows=round(rows * chance.uniform(0.9, 1.1) * 4) / 4),),
        body=Body(source="table", table=table, size=size, chest_cm=chest if high else None, high_bust_cm=high),
        fit=Fit(chance.choice(["close", "standard", "loose"])),
    )
    return shaped(
        base,
        construction=chance.choice(CONSTRUCTIONS),
        worked=chance.choice(["flat", "round"]),
        front=chance.choice(["closed", "open"]),
        neckline=chance.choice(["crew", "v", "scoop", "boat"]),
        sleeve=chance.choice(["long", "elbow", "short", "none"]),
        waist=chance.choice(["straight", "shaped"]),
        shoulder=chance.choice([None, "steps", "short-rows", "straight"]),
        bust_darts="yes" if high else None,
        hem=chance.choice(["rib-1x1", "rib-2x2", "garter", "none"]),
        length_cm=chance.uniform(24, 46) if table in ("children", "babies") else chance.uniform(50, 80),
        hem_cm=chance.uniform(1, 6),
        cuff_cm=chance.uniform(1, 6),
    )


def sample(number: int, **wishes: object) -> Iterable[Plan]:
    """Plans of which something can be knitted, in the same order every time."""
    chance = random.Random(4)
    while number:
        now = plan(shaped(a_design(chance), **wishes))
        if now.made is not None and now.made.pieces:
            number -= 1
            yield now


def said(row: Row) -> tuple[object, ...]:
    """A row with its events in no order; one stitch bound off where a row begins is a decrease in words."""
    happens = evened(row) if row.events else ()
    ones = [e.stitches == 1 and e.do == "bind-off" and e.where not in ("across", "centre") for e in happens]
    events = [("decrease" if one else e.do, e.where, e.stitches, e.line) for one, e in zip(ones, happens, strict=True)]
    return row.row, row.side, row.before, row.after, row.fabric, sorted(events)


def evened(row: Row) -> tuple[Event, ...]:
    """Events of a row; panels that make up what rib and fabric differ by do it in words among their own stitches."""
    spread = [e for e in row.events if e.where == "across" and (not e.line or e.line.endswith(" panel"))]
    panels = [e for e in spread if e.line]
    if not panels:
        return row.events
    change = sum(e.change for e in spread)
    both = Event("increase" if change >= 0 else "decrease", "across", abs(change), str(sorted(e.line for e in panels)))
    return (*(e for e in row.events if e not in spread), both)


def first_of(piece: Piece) -> Row:
    """The row that a pattern begins in."""
    return next(row for row in piece.rows if piece.pattern and row.row == piece.pattern.rows[0][0])


def differences(read_pieces: Iterable[ReadPiece], planned: Iterable[Piece]) -> list[str]:
    """What is read otherwise than it was planned."""
    mine, theirs = ({p.name: p for p in pieces} for pieces in (read_pieces, planned))
    found = [f"read {sorted(mine)}, planned {sorted(theirs)}"] if mine.keys() != theirs.keys() else []
    for name in mine.keys() & theirs.keys():
        a, b = mine[name], theirs[name]
        if a.came_from != (b.parent.name if b.parent else None):
            found.append(f"{name}: read as grown from {a.came_from}, planned from {b.parent}")
        for what in ("worked", "cast_on", "bound_off"):
            if getattr(a, what) != getattr(b, what):
                found.append(f"{name}: {what} read {getattr(a, what)}, planned {getattr(b, what)}")
        if len(a.rows) != len(b.rows):
            found.append(f"{name}: {len(a.rows)} rows read, {len(b.rows)} planned")
        kept = b.pattern
        if a.pattern != ({row: at.row for row, at in kept.rows} if kept else {}):
            found.append(f"{name}: rows of the pattern read {a.pattern}, planned {kept}")
        if a.set_at != (
            (kept.pattern.name, kept.repeat_rows, kept.pattern.multiple, begins_with(b, first_of(b)) or 0)
            if kept
            else None
        ):
            found.append(f"{name}: pattern set at {a.set_at}, planned {kept}")
        panels = {p.part: {row: at.row for row, at in p.rows} for p in b.panels if p.rows}
        if a.panels != panels:
            found.append(f"{name}: rows of panels read {a.panels}, planned {panels}")
        set_bands = {
            row: (s.number, row - s.from_row + 1, s.repeats, s.first_stitch)
            for s in b.bands
            for row in range(s.from_row, s.last_row + 1)
        }
        if a.bands != set_bands:
            found.append(f"{name}: bands read {a.bands}, planned {b.bands}")
        if a.stripes != {row: (at.row, at.colour.upper()) for row, at in b.stripes.items()}:
            found.append(f"{name}: stripes read {a.stripes}, planned {b.stripes}")
        for one, other in zip(a.rows, b.rows, strict=False):
            if one != other and said(one) != said(other):
                found.append(f"{name}: read {said(one)}, planned {said(other)}")
    return found


def check(project: Project) -> bool:
    """Whether there is anything to knit; if so, it is the same in words and ledger, and as long as the words say."""
    now = plan(project)
    if now.made is None or not now.made.pieces:
        assert any(c.level == "stop" for c in now.checks), "refused without a reason"
        return False
    found = read(instructions(now), stripes=stripes_told(before_knitting(now)))
    assert differences(found, now.made.pieces) == [], project
    assert project.garment.bust_darts or lengths_that_do_not_fit(now, found) == [], project
    return True


@given(projects())
def test_the_words_of_any_design_are_its_ledger(project):
    check(project)


@pytest.mark.parametrize("part", range(PARTS))
def test_the_words_of_many_designs_are_their_ledgers(part):
    chance = random.Random(20)
    many = [a_design(chance) for _ in range(DESIGNS)][part::PARTS]
    knitted = [p for p in many if check(p)]

    assert len(knitted) > 0.6 * len(many)
    wishes = ("construction", "worked", "front", "neckline", "sleeve", "waist", "shoulder", "hem", "bust_darts")
    for wish, choices in zip(wishes, (6, 2, 2, 4, 4, 2, 4, 4, 2), strict=True):
        assert len({getattr(p.garment, wish) for p in knitted}) == choices, wish


LONGEST_LINE = 240
"""Characters that a step of an instruction may have to be followed and ticked off."""


@pytest.mark.parametrize("units", ["cm", "in"])
def test_no_line_is_too_long_to_follow(units):
    for project in islice(designs(), 0, None, 61):
        now = plan(replace(project, units=units))
        for terms in ("us", "uk"):  # the core knows no terms
            for piece in instructions(replace(now, project=replace(now.project, terms=terms))):
                for line in piece.lines:
                    assert len(line) <= LONGEST_LINE, (terms, project.garment, piece.title, line)


def test_what_happens_at_the_same_time_stands_in_lines_of_their_own():
    """A V neck from the neck down: two edges and four lines that grow at three rates."""
    project = shaped(pullover(), construction="raglan-from-neck", worked="round", neckline="v")
    lines = instructions(plan(project))[0].lines
    heads = [i for i, line in enumerate(lines) if ", with the shaping in the next " in line]

    assert heads
    for i in heads:
        number = int(re.search(r"next (\d+) lines", lines[i])[1])
        told = [line.startswith("At the same time: ") for line in [*lines[i + 1 : i + number + 2], ""]]
        assert told[:number] == [True] * number
        assert not told[number]


NOT_ROWS = re.compile(
    r"[\d.]+ (?:cm|mm)\b|(?:of the|along(?: the)?) \d+ rows?(?! (?:between|above))|\d+ rows? on one side, \d+ on the other|about \d+ for every \d+"
)
"""Lengths, and what leads to a count only about: rates of picking up, and the rows that they are for."""


def changed_numbers(line: str) -> Iterable[str]:
    """The line with one of its numbers one higher, in turn; lengths, needles and rates stay."""
    stay = [range(*m.span()) for m in NOT_ROWS.finditer(line)]
    for number in re.finditer(r"\d+", line):
        if not any(number.start() in span for span in stay):
            yield f"{line[: number.start()]}{int(number[0]) + 1}{line[number.end() :]}"


@pytest.mark.parametrize("construction", CONSTRUCTIONS)
def test_one_wrong_number_in_any_row_is_noticed(construction):
    """The reader would be worth little if it did not see what is wrong."""
    tried = 0
    for now in sample(3, construction=construction):
        printed, before, waiting = instructions(now), [], Waiting()
        for p, piece in enumerate(printed):
            left = deepcopy(waiting)  # by the pieces before, which are read once
            for n, line in enumerate(piece.lines):
                for wrong in (
                    changed_numbers(line)
                    if re.match(
                        r"(Short )?[Rr]o(w|und)s? \d|Cast|Bind|At the same time|Underarm: \w+|Break|Leave|\d+ \w+ the ",
                        line,
                    )
                    else ()
                ):
                    tried += 1
                    lines = (*piece.lines[:n], wrong, *piece.lines[n + 1 :])
                    slip = (replace(piece, lines=lines), *printed[p + 1 :])
                    try:
                        noticed = bool(differences([*before, *read(slip, deepcopy(left))], now.made.pieces))
                    except AssertionError:
                        noticed = True
                    assert noticed, f"{line}\nread as\n{wrong}"
            before += Knitter(piece, waiting).read()
    assert tried > 200


def lengths_that_do_not_fit(now: Plan, read_pieces: Iterable[ReadPiece]) -> list[str]:
    """Lengths in the words that are not their rows: rows of a dart or raised back are not at the side edges."""
    pieces = {p.name: p for p in read_pieces}
    longest = max(pieces.values(), key=lambda p: sum(r.fabric != "garter" for r in p.rows))
    garter_cm = 5 / now.gauge.stitches.per_10cm  # a ridge, two rows, is as tall as a stitch is wide
    ridges = sum(r.fabric == "garter" for r in longest.rows)
    cm_of_row = (longest.claimed_cm - garter_cm * ridges) / (len(longest.rows) - ridges)
    found = []
    for piece in pieces.values():
        family = [piece]
        while family[0].came_from:
            family.insert(0, pieces[family[0].came_from])
        for last, since, cm in piece.lengths:
            rows = [r for p in (family if since == "From cast-on" else [piece]) for r in p.rows if r.row <= last]
            turned = [e.where for r in rows for e in r.events if e.line in ("dart", "raised back")]
            # Turned at one edge only, a row and the row back both leave that edge out.
            ridges = sum(r.fabric == "garter" for r in rows)
            at_the_edge = len(rows) - ridges - len(turned) * (2 if len(set(turned)) == 1 else 1)
            rows_cm = at_the_edge * cm_of_row + ridges * garter_cm
            if abs(rows_cm - cm) > 0.2:
                found.append(f"{piece.name}, row {last}: {cm} cm for {rows_cm:.1f} cm")
    return found


def test_lengths_in_the_words_are_those_of_the_rows_at_the_edge():
    for now in sample(300, bust_darts=None):
        assert lengths_that_do_not_fit(now, read(instructions(now))) == [], now.project


@pytest.mark.parametrize("front", ["closed", "open"])
def test_a_dart_over_the_whole_front_or_half_of_it_adds_nothing_at_the_sides(front):
    body = Body(source="table", table="women", size="M", high_bust_cm=88.0, chest_cm=100.0)
    now = plan(shaped(pullover(body=body), construction="set-in", bust_darts="yes", front=front))

    assert lengths_that_do_not_fit(now, read(instructions(now))) == []


@cache
def open_yokes() -> tuple[tuple[Plan, list[ReadPiece]], ...]:
    """Round yokes with an open front, and how their words are read."""
    wishes = {"construction": "round-yoke", "front": "open", "neckline": "crew", "sleeve": "long"}
    return tuple((now, read(instructions(now))) for now in sample(40, **wishes))


def test_the_raised_back_of_an_open_yoke_is_turned_where_its_rows_end():
    for now, pieces in open_yokes():
        assert differences(pieces, now.made.pieces) == []


def test_stitches_left_at_a_turn_are_worked_before_a_row_that_decreases_all_across():
    for _, pieces in open_yokes():
        yoke = next(p for p in pieces if p.name == "yoke")
        for row, after in zip(yoke.rows, yoke.rows[1:], strict=False):
            turned = any(e.do == "short-row" for e in row.events)
            assert not (turned and any(e.where == "across" and not e.line for e in after.events)), after


def test_markers_part_the_stitches_that_are_on_the_needle_where_a_side_is_shaped_in_the_very_first_round():
    base = pullover(
        swatch=(swatch(10.0, 12.5, washed_rows=11.75),),
        body=Body(source="table", table="men", size="S"),
        fit=Fit("close"),
    )
    for length_cm in (46.0, 48.0, 50.0, 52.0, 54.0):
        wishes = {
            "construction": "raglan-from-neck",
            "waist": "shaped",
            "hem": "rib-1x1",
            "hem_cm": 1.0,
            "cuff_cm": 1.0,
        }
        assert check(shaped(base, length_cm=length_cm, **wishes)), length_cm
