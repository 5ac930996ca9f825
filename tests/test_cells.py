"""Garments in a pattern, knitted stitch by stitch from the words: no half crossing, no yarn over without its decrease.

The reader has the printed lines. What belongs together in a row of each pattern is worked out here by hand, from its
written rows; nothing of the workshop's reading of them is used.
"""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.core.test_garments import projects
from tests.factory import pullover, shaped
from tests.reader import ReadPiece, read
from workshop.core.fabric.patterns import Pattern
from workshop.core.fabric.written import Group, groups_of
from workshop.core.making import roles
from workshop.core.making.ledger import Event, Piece, Row
from workshop.core.plan import Plan, plan
from workshop.project import StitchPattern
from workshop.words.instructions import instructions

AS_SET = "k4, *p4, k4; repeat from * to the end"
OVER_KNIT = "*p4, k4; repeat from * to the last 4 stitches, p4"


@dataclass(frozen=True)
class Known:
    """A pattern with what belongs together in its rows: first stitch and stitches, counted from 0."""

    pattern: StitchPattern
    together: dict[int, list[tuple[int, int]]]


KNOWN = {
    "cable": Known(
        StitchPattern(
            "cable",
            "cable 2/2",
            8,
            4,
            8,
            lines=(
                OVER_KNIT,
                AS_SET,
                OVER_KNIT,
                AS_SET,
                "*p4, C4F; repeat from * to the last 4 stitches, p4",
                AS_SET,
                OVER_KNIT,
                AS_SET,
            ),
        ),
        {5: [(4, 4)]},
    ),
    "lace": Known(
        StitchPattern(
            "lace",
            "waves",
            10,
            1,
            4,
            lines=(
                "k1, *yo, k3, sl1, k2tog, psso, k3, yo, k1; repeat from * to the end",
                "purl",
                "k1, *yo, ssk, k5, k2tog, yo, k1; repeat from * to the end",
                "purl",
            ),
        ),
        {1: [(1, 9)], 3: [(1, 2), (8, 2)]},
    ),
    "motif": Known(
        StitchPattern(
            "motif",
            "little leaves",
            6,
            1,
            6,
            lines=(
                "*k1, p1, k3, p1; repeat from * to the last stitch, k1",
                "purl",
                "*k1, k2tog, yo, k1, yo, ssk; repeat from * to the last stitch, k1",
                "purl",
                "knit",
                "purl",
            ),
        ),
        {3: [(1, 2), (4, 2)]},
    ),
    "seed": Known(
        StitchPattern(
            "moss",
            "seed",
            2,
            1,
            2,
            lines=("*k1, p1; repeat from * to the last stitch, k1", "k1, *p1, k1; repeat from * to the end"),
        ),
        {},
    ),
}


def planned(name: str, **wishes: object) -> Plan:
    """A pullover in one of the patterns."""
    pattern = KNOWN[name].pattern
    return plan(shaped(pullover(stitch_pattern=(pattern,)), fabric=pattern.id, **wishes))


EDGE = None
"""An edge stitch that a seam takes."""

Columns = list[int | None]
"""Stitches in the order of a right-side row, each by its column of the pattern; no two of a part are in one column."""


class Needle:
    """The stitches of one piece: in one run, or in parts between markers that have columns of their own."""

    def __init__(self, piece: Piece, said: ReadPiece) -> None:
        self.piece, self.said = piece, said
        assert said.set_at is not None
        self.multiple, first = said.set_at[2], said.set_at[3] - 1
        row = next(r for r in said.rows if r.row in said.pattern)
        right, left = self.edges
        if said.plain_sides:  # where a repeat begins, their lines say
            assert piece.pattern is not None
            plus = piece.pattern.pattern.plus
            assert first in (-1, (plus - 1) % self.multiple if row.side == "WS" else 0)
            first = piece.pattern.first_stitch - 1
        elif row.side == "WS":  # it begins with the last stitch of the right side
            first -= row.before - right - left - 1
        run = [EDGE] * right + [first + n for n in range(row.before - right - left)] + [EDGE] * left
        self.runs: dict[str, Columns] = {"": run}
        self.sides: list[Columns] = []
        """Both sides of a neck, once it divides."""
        self.worked: list[Columns] = []
        """Stitches in whole repeats, where the sides beside them are plain."""
        self.came: dict[tuple[int, int | None], int] = {}
        """The row in which those that came later were first worked, by their run and column."""
        self.rows = said.set_at[1]
        """Rows of the pattern."""

    @property
    def names(self) -> tuple[str, str]:
        """The edges where right-side rows begin and end."""
        piece = self.piece
        if len(piece.outer) == 2:
            return piece.begins, roles.other(piece.begins)
        outer, inner = str(piece.side), f"neck-{piece.side}"
        return (outer, inner) if outer == piece.begins else (inner, outer)

    @property
    def edges(self) -> tuple[int, int]:
        """Plain edge stitches at both of them."""
        first, last = (self.piece.edge_stitches * (name in self.piece.outer) for name in self.names)
        return first, last

    def part(self, row: Row) -> None:
        """Markers part the stitches: as the words say where each part begins, else as they lie."""
        planned = self.piece.pattern.parts.get(row.row) if self.piece.pattern else None
        told = self.said.parts
        if planned is None or (told and row.row <= told[0]):
            return
        sizes = {part.section.name: part.stitches for part in planned}
        if told and row.row == told[0] + 1:
            self.runs = {name: [told[1][name] - 1 + n for n in range(sizes[name])] for name in sizes}
        elif not told and "" in self.runs and shapes_sides(self.said):
            run, self.runs = self.runs[""], {}
            for name, many in sizes.items():
                self.runs[name], run = run[:many], run[many:]
            assert not run
        joined = sum(e.stitches for e in row.events if e.do == "join") - sum(
            e.stitches for e in row.events if e.do == "hold"
        )
        assert sum(map(len, self.runs.values())) == row.before + (
            joined if any(e.do == "join" for e in row.events) else 0
        )

    def work(self, row: Row) -> dict[str, list[int]]:
        """Shape a row; the stitches next to each other that are left for the pattern in it, by part."""
        held = [e.stitches for e in row.events if e.do == "hold"]
        if "" not in self.runs:
            return self.work_parts(row)
        free, at_right = shaped_edge(self.runs[""], at_edge(row.events, self.names[0]), self.edges[0], 1)
        turned, at_left = shaped_edge(free[::-1], at_edge(row.events, self.names[1]), self.edges[1], -1)
        free = turned[::-1]
        run = self.runs[""] = [*at_right, *free, *at_left[::-1]]
        for event in row.events:
            if event.do == "pick-up":  # under the arm, half of them at the beginning of the round
                first = event.stitches // 2
                begin, end = run[0] - first, run[-1] + 1  # type: ignore[operator]
                self.runs[""] = [*range(begin, begin + first), *run, *range(end, end + event.stitches - first)]
        if len(held) < 2:
            return {"": [c for c in free if c is not EDGE]}
        self.sides = [run[: held[0]], run[len(run) - held[1] :]]
        before, after = ([c for c in part if c is not EDGE and c in free] for part in self.sides)
        return {"before": before, "after": after}

    def work_parts(self, row: Row) -> dict[str, list[int]]:
        """The same where markers part the row."""
        free, names = {}, list(self.runs)
        away = any(e.do == "hold" and e.where != "underarm" for e in row.events)
        gone = sum(e.stitches for e in row.events if e.where == "centre" and e.do == "bind-off")
        for at, name in enumerate(names):
            ends = []
            for end in (0, 1):
                beside = names[(at + (1 if end else -1)) % len(names)]
                open_end = "front" in name and "front" in beside
                outer = not (0 <= at + (1 if end else -1) < len(names)) and self.piece.worked == "flat"
                ends.append(at_marker(row.events, name, at_neck=open_end or outer))
            inner, at_right = shaped_edge(self.runs[name], ends[0], 0, 1)
            turned, at_left = shaped_edge(inner[::-1], ends[1], 0, -1)
            inner = turned[::-1]
            run = self.runs[name] = [*at_right, *inner, *at_left[::-1]]
            if gone and name == "front":
                half = (len(run) - gone) // 2
                self.sides = [run[:half], run[len(run) - half :]]
                free |= {
                    f"front {n} the neck": [c for c in part if c in inner]
                    for n, part in zip(("before", "after"), self.sides, strict=True)
                }
            elif not (away and "sleeve" in name):
                free[name] = [c for c in inner if c is not EDGE]
        cast_on = sum(e.stitches for e in row.events if (e.do, e.where) == ("cast-on", "centre"))
        self.runs[names[-1]] += [self.runs[names[-1]][-1] + 1 + n for n in range(cast_on)]
        return free


def shapes_sides(said: ReadPiece) -> bool:
    """Whether stitches are taken or added beside side markers."""
    return said.name == "body" and any(e.where == "both" for r in said.rows for e in r.events)


def at_edge(events: tuple[Event, ...], name: str) -> list[Event]:
    """What is done at an edge."""
    return [e for e in events if e.where in ("both", name) and e.do in ("bind-off", "decrease", "increase", "cast-on")]


def at_marker(events: tuple[Event, ...], name: str, *, at_neck: bool) -> list[Event]:
    """What is done at an end of a part: beside a raglan line or a side marker, or at the neck."""
    found = []
    for event in events:
        if at_neck:
            many = event.stitches if event.where == f"neck-{name.split(maxsplit=1)[0]}" else 0
        elif event.where == "both":
            many = event.stitches // 2
        elif event.line == "all lines":
            many = event.stitches // 8
        else:
            many = event.stitches // 4 if event.line == ("sleeve side" if "sleeve" in name else "body side") else 0
        found += [replace(event, stitches=many)] if many else []
    return found


def shaped_edge(order: Columns, events: list[Event], edge: int, step: int) -> tuple[Columns, Columns]:
    """Stitches from an edge inwards: those that the shaping there leaves alone, and those that lie outside them now."""
    gone = sum(e.stitches for e in events if e.do == "bind-off" and e.stitches > 1)
    less = sum(e.stitches for e in events if e.do == "decrease" or (e.do, e.stitches) == ("bind-off", 1))
    more = sum(e.stitches for e in events if e.do == "increase")
    new = sum(e.stitches for e in events if e.do == "cast-on")
    first = next((c for c in order if c is not EDGE), 0) + step * (gone + less - more - new)
    order = order[gone:]
    one_in = 1 - edge if less or more else 0
    rest = order[edge + one_in + 2 * less :]
    stay = one_in + less + more + new
    return rest, [*[EDGE] * edge, *(first + step * n for n in range(stay))]


def knitted(now: Plan) -> int:
    """Knit every piece; how many stitches were worked plain at edges and markers."""
    name = now.project.garment.fabric
    known = KNOWN["seed" if name == "moss" else str(name)]
    pieces = {p.name: p for p in now.made.pieces}
    needles: dict[str, Needle] = {}
    plain = 0
    for said in read(instructions(now)):
        if said.pattern:
            needle = needles[said.name] = Needle(pieces[said.name], said)
            for row in said.rows:
                if row.row >= next(iter(said.pattern)):
                    needle.part(row)
                    if row.row == said.rows[0].row:
                        goes_on(needle, needles)
                    plain += one_row(needle, row, known)
    return plain


def alike(was: Columns, now: Columns, needle: Needle) -> None:
    """The same stitches, whatever their columns count from."""
    for a, b in zip(was, now, strict=True):
        assert a is EDGE or b is EDGE or (a - b) % needle.multiple == 0, (needle.said.name, was, now)


def goes_on(needle: Needle, needles: dict[str, Needle]) -> None:
    """What a piece takes over has the columns that it had."""
    parent, runs = needles.get(needle.said.came_from or ""), needle.runs
    if parent is None:
        return
    if parent.sides and "" in runs:
        alike(parent.sides[0 if needle.piece.side == parent.piece.begins else 1], runs[""], needle)
    elif parent.sides:
        for name, columns in {**parent.runs, "left front": parent.sides[0], "right front": parent.sides[1]}.items():
            if name != "front":
                alike(columns, runs[name], needle)
    elif "yoke" in parent.said.name and "" in runs:
        if needle.said.name in parent.runs:
            alike(parent.runs[needle.said.name], runs[""], needle)
    elif "yoke" in parent.said.name:
        was = dict(parent.runs)
        if "front" in runs:
            was["front"] = was["right front"] + was["left front"]
        elif "front" in was:  # its neck opens in the middle, and nothing is bound off
            half = len(was["front"]) // 2
            was |= {"left front": was["front"][:half], "right front": was["front"][half:]}
        for name, columns in runs.items():
            before = (len(columns) - len(was[name])) // (2 if name in ("front", "back") else 1)
            before *= name != next(iter(runs)) or name == "back"
            alike(was[name], columns[before : before + len(was[name])], needle)
    elif "yoke" in needle.said.name:
        was = {name: other.runs[""] for name, other in needles.items() if "sleeve" in name}
        was |= parent.runs if "" not in parent.runs else {}
        for name in was.keys() & runs.keys():
            held = len(was[name]) - len(runs[name])
            begin = 0 if name == "right front" else held if name == "left front" else held // 2
            alike(was[name][begin : begin + len(runs[name])], runs[name], needle)


def one_row(needle: Needle, row: Row, known: Known) -> int:
    """Work one row and hold it to what the words say of it; the stitches that are plain at its edges."""
    said, multiple, plus = needle.said, needle.multiple, known.pattern.plus
    told = [n for number, n in said.repeats.items() if number <= row.row and row.row in said.pattern]
    if told and not said.plain_sides:
        groups = [group for row in known.together.values() for group in row]
        assert told[-1] == whole_repeats(needle, row, groups), (said.name, row)
    free = needle.work(row)
    if row.row not in said.pattern:
        assert row.row not in said.plain
        return 0
    if said.name == "body" and "" not in free and runs_on(needle) and not any(e.where == "both" for e in row.events):
        free = {"": [c for run in free.values() for c in run]}
    groups = known.together.get(said.pattern[row.row], [])
    if said.plain_sides:
        assert not said.plain
        beside_repeats(needle, row, free, plus)
        in_repeats = [len(worked) for worked in needle.worked if worked]
        assert all((many - plus) % multiple == 0 for many in in_repeats)
        if told and row.before > LEFT_IN_A_POINT:
            assert told[-1] == sum((many - plus) // multiple for many in in_repeats), (said.name, row)
        if row.row == next(iter(said.pattern)):
            said_none, told_sides = said.set_at is not None and said.set_at[3] == 0, said.plain_sides[row.row]
            assert said_none == (not in_repeats)
            if len(free) == 1:
                assert said.beside == bool(
                    in_repeats and told_sides.get("at the end" if row.side == "WS" else "at the beginning")
                )
        return 0
    claims = claimed(said.plain.get(row.row, {}), row, free)
    for (part, stitches), (at_first, at_last) in zip(free.items(), claims, strict=True):
        cut = [cut_by(stitches, n, groups, multiple) for n in range(len(stitches))]
        plain = [n < at_first or n >= len(stitches) - at_last for n in range(len(stitches))]
        where = f"{said.name}, {row}, {part}"
        for n, wrong in enumerate(cut):
            assert plain[n] or not wrong, f"{where}: {n} is half of something"
        assert at_first + at_last <= len(stitches), where
        assert not at_first or cut[at_first - 1], f"{where}: {at_first} are more than need be"
        assert not at_last or cut[-at_last], f"{where}: {at_last} are more than need be"
    return sum(map(sum, claims))


def runs_on(needle: Needle) -> bool:
    """Whether the pattern runs on over the side markers."""
    return all((a[-1] + 1 - b[0]) % needle.multiple == 0 for a, b in pairwise(needle.runs.values()))


def claimed(
    told: Mapping[str, int], row: Row, free: dict[str, list[int]], *, as_a_right_side_row: bool = False
) -> list[tuple[int, int]]:
    """Counts at both ends of each part of a row, in the order of a right-side row."""
    wrong = row.side == "WS" and not as_a_right_side_row
    if "" in free:
        pairs = [("at the beginning", "at the end")]
    elif "before" in free:
        pairs = [("at the beginning", "before the neck"), ("after the neck", "at the end")]
        pairs = pairs[::-1] if wrong else pairs
    else:
        pairs = [(f"{name} first", f"{name} last") for name in free]
    assert set(told) <= {name for pair in pairs for name in pair}, (told, free.keys())
    return [(told.get(b if wrong else a, 0), told.get(a if wrong else b, 0)) for a, b in pairs]


LEFT_IN_A_POINT = 3
"""Of so few stitches a decrease beside one edge takes the stitch at the other: which of them is plain, none can say."""


def beside_repeats(needle: Needle, row: Row, free: dict[str, list[int]], plus: int) -> None:
    """Only whole repeats are worked, just where the words last said: as many as there is room for.

    One that had gone waits until it stays: for as many rows as the pattern has.
    """
    multiple, told, runs = needle.multiple, needle.said.plain_sides.get(row.row), list(free.values())
    before = needle.worked if len(needle.worked) == len(runs) else None
    if told is not None:
        ends = claimed(told, row, free, as_a_right_side_row="before" not in free)
        needle.worked = [run[first : len(run) - last] for run, (first, last) in zip(runs, ends, strict=True)]
    if row.before <= LEFT_IN_A_POINT:
        needle.worked = [[] for _ in runs]
    assert len(needle.worked) == len(free), "where do the repeats end?"
    needle.came = needle.came if before else {}
    for n, (stitches, worked) in enumerate(zip(runs, needle.worked, strict=True)):
        at = next((i for i, c in enumerate(stitches) if c % multiple == 0), len(stitches))
        room = max(0, (len(stitches) - at - plus) // multiple)
        wanted = stitches[at : at + room * multiple + plus] if room else []
        where = (needle.said.name, row, worked, wanted)
        if not before:
            assert worked == wanted, where
            continue
        was, now = set(before[n]), set(worked)
        assert now <= set(wanted), where
        assert worked == wanted or len(was & (set(wanted) - now)) < multiple + plus, where
        assert not worked or (worked[0] - wanted[0]) % multiple == (wanted[-1] - worked[-1]) % multiple == 0, where
        for column in was - now:
            assert row.row - needle.came.pop((n, column), -multiple * needle.rows) >= needle.rows, (where, column)
        needle.came |= {(n, column): row.row for column in now - was}


def cut_by(stitches: list[int], at: int, groups: list[tuple[int, int]], multiple: int) -> bool:
    """Whether a stitch belongs to a group of which another stitch is missing."""
    for start, many in groups:
        place = (stitches[at] - start) % multiple
        if place < many:
            return at < place or at - place + many > len(stitches)
    return False


def whole_repeats(needle: Needle, row: Row, groups: list[tuple[int, int]]) -> int:
    """Repeats on the needle of which every stitch is there; a round goes on where it began, if nothing lies across."""
    stitches = [c for run in needle.runs.values() for c in run if c is not EDGE]
    shaped = any(e.where == "both" for r in needle.said.rows for e in r.events)
    if needle.piece.worked == "round" and not shaped and len(stitches) % needle.multiple == 0:
        across = (stitches[0] % needle.multiple - start - 1 for start, _ in groups)
        if all(place % needle.multiple + 1 >= many for place, (_, many) in zip(across, groups, strict=True)):
            return row.before // needle.multiple
    columns = {c for run in needle.runs.values() for c in run if c is not EDGE}
    starts = [c for c in columns if c % needle.multiple == 0]
    return sum(all(c + n in columns for n in range(needle.multiple)) for c in starts)


SHAPES = [
    {"construction": "set-in"},
    {"construction": "set-in", "front": "open", "neckline": "v"},
    {"construction": "raglan-from-hem"},
    {"construction": "raglan-from-hem", "waist": "shaped", "neckline": "scoop"},
    {"construction": "drop-shoulder", "worked": "round"},
    {"construction": "raglan-from-hem", "worked": "round"},
    {"construction": "raglan-from-hem", "worked": "round", "front": "open", "neckline": "v"},
    {"construction": "raglan-from-neck"},
    {"construction": "raglan-from-neck", "front": "open", "neckline": "v"},
    {"construction": "set-in", "worked": "round", "waist": "shaped"},
    {"construction": "square-armhole", "shoulder": "steps", "neckline": "boat"},
]


@pytest.mark.parametrize("shape", SHAPES, ids=lambda shape: "-".join(shape.values()))
@pytest.mark.parametrize("name", KNOWN)
def test_no_half_crossing_and_no_yarn_over_without_its_decrease(name, shape):
    for centre in ("motif", "between"):
        now = planned(name, fabric_fit="centred", fabric_centre=centre, **shape)
        assert now.made.pieces
        plain = knitted(now)
        assert plain or not KNOWN[name].together


@pytest.mark.parametrize("name", ["cable", "lace", "motif"])
def test_plain_sides_lie_beside_whole_repeats_through_all_shaping(name):
    for shape in SHAPES[::3]:
        knitted(planned(name, fabric_fit="plain-sides", **shape))


@given(projects(), st.sampled_from(sorted(KNOWN)), st.sampled_from([None, "whole-repeats", "plain-sides", "centred"]))
def test_any_garment_in_such_a_pattern_is_knitted_stitch_by_stitch(project, name, fit):
    pattern = KNOWN[name].pattern
    now = plan(shaped(replace(project, stitch_pattern=(pattern,)), fabric=pattern.id, fabric_fit=fit))
    if now.made.pieces:
        knitted(now)


@pytest.mark.parametrize("name", KNOWN)
def test_the_written_rows_of_a_pattern_say_what_belongs_together(name):
    known = KNOWN[name].pattern
    pattern = Pattern(known.id, known.name, known.multiple, known.plus, len(known.lines), lines=known.lines)
    rows = range(1, len(known.lines) + 1)

    assert groups_of(pattern) == tuple(tuple(Group(*g) for g in KNOWN[name].together.get(r, [])) for r in rows)


@pytest.mark.parametrize(
    ("multiple", "plus", "row", "together"),
    [
        (10, 1, "ssk, *k3, yo, k1, yo, k3, s2kp; rep from * to last 9 sts, k3, yo, k1, yo, k3, k2tog", [(6, 9)]),
        (6, 0, "Row 1 (RS): *k2tog, yo, k1, yo, ssk, k1; rep from *.", [(0, 2), (3, 2)]),
        (8, 2, "*p2, 3/3 RC; rep from * to last 2 sts, p2", [(2, 6)]),
        (6, 0, "*[k2tog, yo] twice, k2; repeat from * to end", [(0, 2), (2, 2)]),
        (4, 0, "Row 1 (WS): *p1, k1, p2tog, yo; repeat from *", [(0, 2)]),
        (4, 0, "Round 1: *yo, ssk, k2; rep from *", [(0, 2)]),
        (8, 2, "RS: *p2, c6f; repeat from *, p2", [(2, 6)]),
        (8, 2, "Row 1 RS: *p2, c6f; repeat from *, p2", [(2, 6)]),
        (8, 2, "1st row (RS): *p2, c6f; repeat from *, p2", [(2, 6)]),
        (8, 2, "1st row: *p2, c6f; repeat from *, p2", [(2, 6)]),
        (8, 2, "Row 1 (right side) *p2, c6f; repeat from *, p2", [(2, 6)]),
        (8, 2, "1. *p2, c6f; repeat from *, p2", [(2, 6)]),
        (4, 0, "WS: *p1, k1, p2tog, yo; repeat from *", [(0, 2)]),
        (4, 0, "1st round: *yo, ssk, k2; rep from *", [(0, 2)]),
        (10, 1, "k1, *yo, k3, sl1-k2tog-psso, k3, yo, k1; repeat from *", [(1, 9)]),
        (10, 1, "k1, *yf, k3, s2kpo, k3, yf, k1; rep from *", [(1, 9)]),
        (10, 1, "K1 *YO k3 sk2p k3 yo k1* to end", [(1, 9)]),
        (6, 0, "*yo, sl 1, k2tog, pass slipped stitch over, yo, k3; rep from *", [(0, 3)]),
        (4, 0, "[k2tog, yo, k2] to end", [(0, 2)]),
        (4, 2, "k2, (yo, ssk, k2) to end", [(2, 2)]),
        (4, 2, "(k2, yo, ssk) across, k2", [(2, 2)]),
        (4, 0, "k2tog, yo, k2", [(0, 2)]),
    ],
)
def test_written_rows_are_read_as_the_trade_writes_them(multiple, plus, row, together):
    """Common practice, no source. A yarn over goes with the decrease that balances it."""
    found = groups_of(Pattern("x", "x", multiple, plus, 1, lines=(row,)))

    assert found == (tuple(Group(*g) for g in together),)


@pytest.mark.parametrize(
    "row",
    [
        "*k1, twist; rep from *",
        "*yf, sl 1, yb, k3; rep from *",
        "*yf, sl 1, k2tog, k1; rep from *",
        "k2tog to the end",
        "*k3, yo; rep from *",
        "Row 3: knit",
        "",
        "*",
        "*" * 90,
    ],
)
def test_a_row_that_is_not_understood_is_no_guess(row):
    assert groups_of(Pattern("x", "x", 4, 0, 1, lines=(row,))) is None
