"""A knitter who has nothing but the printed words: rebuilds the rows of every piece from the instructions in US terms.

Written from the instructions as a knitter reads them, not from the code that prints them. It believes nothing: what
a line claims (stitches at its end, rows in it, how stitches are spread) is worked out and compared, and a line that
cannot be understood or does not add up raises an AssertionError with the line in it.
"""

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Protocol

from tests.reader_panels import Panels
from workshop.core.making.ledger import ADDS, Event, Row

OTHER = {"left": "right", "right": "left"}
STEP = {"k2tog": (2, 1), "p2tog": (2, 1), "ssk": (2, 1), "s2kp": (3, 1), "m1": (0, 1)}
"""Stitches that a step uses up, and those that it leaves."""

FABRICS = (
    {
        "stockinette": "stockinette",
        "stockinette (knit every round)": "stockinette",
        "stockinette, back and forth over the front, counting turns from its side markers": "stockinette",
        "stockinette, over back and sleeves, wrong side first": "stockinette",
        "garter stitch": "garter",
        "garter stitch (knit every row)": "garter",
    }
    | {
        f"garter stitch ({how})": "garter"
        for how in (
            "alternate knit and purl rounds",
            "alternate purl and knit rounds",
            "knit this round",
            "purl this round",
        )
    }
    | {
        f"k{n}, p{n} rib{how}": f"rib-{n}x{n}"
        for n in (1, 2)
        for ends in ("", f", with k{n} at both ends of right-side rows")
        for how in (
            " all around",
            " as set",
            ends,
            f"{ends}, knitting the knits and purling the purls on wrong-side rows",
        )
    }
)
QUIET = re.compile(
    r"Change to [\d.]+ mm needles|From (row|round) \d+ on, use [\d.]+ mm needles"
    r"|Underarm: hang a marker in each edge stitch|The armhole begins here"
    r"|Underarm: hang a marker in the edge stitch at the side"
    r"|Hang a marker at each edge|You'll sew the (rows above the markers|two open edges of the sleeve) to the stitches bound off at the underarm"
    r"|From here on, work the sleeve back and forth, turning at the marker"
    r"|Sleeve underarm: hang a marker at each edge|Sleeve underarm: the marker is at the middle of the underarm"
    r"|Underarm: divide the body at the side markers|Work the back first"
    r"|Break the yarn at (the left side|the edge of the right front)|Put the (front stitches on a holder|stitches of both fronts on holders)"
    r"|Underarm: stop here and leave the yarn attached for the yoke|Now knit the sleeves"
    r"|That round begins at the left edge of the neck, where the yarn is"
    r"|Underarm: try the yoke on before you continue|From here on, knit the body and sleeves separately"
    r"|Shape each side just as you do when you shape both sides"
    r"|Join the two front edges in the next round|Down to the underarm, rounds begin at the left edge of the neck|Place a marker at the end of the next round"
    r"|Start the first one at the front edge, the others at the last turn"
    r"|The next row goes on from the last turn to the front edge"
    r"|Turn, wrapping the first stitch of the front|The first short row is a wrong-side row"
    r"|Mark the beginning of the round|The round begins at the left side, between the left sleeve and the front"
    r"|Break the yarn(, leaving a long tail for grafting)?|From here on, work the yoke back and forth"
    r"|Break the other colors(, too)?|You'll join those colors again where the yoke's rounds begin|Break all colors"
    r"|Raise the back of the neck with short rows"
    r"|For these rows only, hang a marker \d+ stitch(?:es)? from each front edge"
    r"|For these rows only, hang a second marker \d+ stitch(?:es)? after the beginning of the round, where the front ends"
    r"|Join the yarn at the right neck edge, right side facing"
    r"|Work this band during finishing, once the pieces are washed and the (shoulders are joined|raglan edges are sewn|sleeves are sewn in|neckband is worked|side seams are sewn)"
    r"|Pick up stitches around the neck, beginning (at the left shoulder|at the edge of the right front|where the left sleeve meets the back)"
    r"|Pick up stitches along the edge of the right front from the hem, around the neck, and down the left front"
    r"|Pick up stitches around the armhole, beginning in the middle of the underarm"
    r"|Pick up stitches along the edge of the (left front, neckband included, from the neck down|right front, neckband included, from the hem up)"
    r"|Use [\d.]+ mm needles"
    r"|Mark the two stitches at the point of the V, one on each front"
    r"|To decrease at the point, work to 1 stitch before the marked ones, then k2tog, ssk"
    r"|The two marked stitches stay on top, and the rib runs into them from both sides"
    r"|To decrease at the point of the V, (work|knit) to 1 stitch before the marked one, then s2kp: slip 2 together as if to knit, k1, pass the slipped stitches over"
    r"|The marked stitch stays on top(, and the rib runs into it from both sides)?"
)
"""Sentences that change no stitch."""

ALONG = r"(?P<n>\d+) (?P<place>(?:across|along|around|at|up|down) the .+?): (?P<how>mark it|(?:about |1 from |\d+ ).+)"
"""Stitches picked up along one of several edges, and how."""

ONE_FROM_EACH = {
    "Pick up 1 stitch from each stitch that lies across the edge": "across ",
    "Where you bound off or cast on a few stitches at a time, the edge climbs in steps": "in ",
    "Pick up 1 stitch from each of those stitches": "steps",
    "Pick up 1 stitch from each of those stitches too": "steps",
}
"""What is said once of the stitches that an edge has: they lie across or in steps."""

CENTERED = re.compile(r"(k\d, p\d rib all around), centered on the front: (.+)")
"""A rib in the round, and the stitches of each round."""

SLEEVES_IN = (
    ". Put the sleeves in, right side out, with each sleeve's held stitches against the matching underarm of the body. "
    "Remove the body markers as you come to them"
)
"""How body and sleeves lie where they are joined, after where the yoke goes on."""

TWO_MARKERS = re.compile(
    r"For these rows only, hang a (?:marker .+ from each front edge|second marker .+ after the beginning of the round, .+)"
)
"""The markers between which short rows raise a neck."""

PATTERN = re.compile(
    r"(?P<name>.+?)(?: from|,) (?P<unit>row|round) (?P<row>\d+) of (?P<rows>\d+)"
    r"(?: and stitch (?P<stitch>\d+) of (?P<multiple>\d+)(?P<beside> after the plain stitches)?"
    r"| with no room for its (?P<wide>\d+) stitch(?:es)?)?(?P<kept>, keeping the pattern as set)?"
)
"""A stitch pattern: its name, which of its rows comes first, and where its first row in a piece begins."""

BAND = re.compile(
    r"band (?P<number>\d+) from its (?:chart|rows), (?P<unit>row|round)s? (?P<first>\d+)(?: to (?P<last>\d+))?, "
    r"(?P<repeats>\d+) repeats of (?P<multiple>\d+)"
    r"(?:, starting with stitch (?P<stitch>\d+)|(?: plus (?P<more>\d+) stitch(?:es)?)?(?P<edges> between the edge stitches)?)"
)
"""Rows of a band round a yoke: which of its chart, and how often its repeat comes."""

STRIPES = re.compile(
    r"(?P<fabric>.+), (?P<several>beginning with )?row (?P<row>\d+) of the stripes \(color (?P<colour>\w)\)"
)
"""A fabric that is knitted in stripes: which row of them comes first, and its colour."""

WORKED = re.compile(r"\bwork (?=\d|to the end of|the last)")
"""What is knit in plain fabric."""

NO_BAR = "There's no bar to lift yet, so make each new stitch with a backward loop"
"""Said of the first row above a cast-on, whose stitches have no strand between them (from memory)."""

WHEN = r"(?P<when> on (?:row|round)s? .+)?"
AMOUNT = r"(?P<n>\d+) stitch(?:es)?"
COUNTED = r"(?: \((?:including the one left|(?:including the one left[,;] )?(?:both )?counted after the decrease)\))?"
CLAUSES = {
    rf"(?P<do>bind off|decrease) {AMOUNT} at (?P<place>the beginning)(?: of (?P<when>(?:row|round)s? .+))?": "shape",
    rf"(?P<do>increase|decrease) {AMOUNT} (?:on each side of|at) (?P<place>.+?){WHEN}": "shape",
    rf"(?P<do>increase|decrease) {AMOUNT} on (?P<place>.+?){WHEN}": "shape",
    rf"(?P<do>increase|decrease) {AMOUNT} (?P<place>evenly across) \((?P<steps>.+)\)": "shape",
    rf"(?P<do>increase|decrease) {AMOUNT} (?P<place>in the middle of the front){WHEN}": "shape",
    rf"(?P<do>bind off|cast on) {AMOUNT} at the (?P<place>(?:left |right )?neck edge){WHEN}": "shape",
    rf"(?P<do>turn) {AMOUNT} before (?P<place>the marker ahead){WHEN}": "shape",
    rf"(?P<do>turn) at (?P<place>the second marker){WHEN}": "shape",
    rf"(?P<do>work) to (?P<place>the beginning of the round){WHEN}": "shape",
    rf"(?P<do>turn) {AMOUNT} before (?P<place>the end)(?: of (?P<when>(?:row|round)s? .+))?": "shape",
    rf"at its end, (?P<do>cast on) {AMOUNT} for (?P<place>the middle of the front) and join into a round": "shape",
    rf"with the right side facing, (?P<do>pick up) and knit {AMOUNT}, edge by edge, as in the next (?P<lines>\d+) lines": (
        "pick_up"
    ),
    rf"with the right side facing, (?P<do>pick up) and knit {AMOUNT}: (?P<how>.+)": "pick_up",
    rf"with the right side facing, (?P<do>pick up) and knit {AMOUNT}(?P<known>)": "pick_up",
    rf"(?P<do>pick up) and knit {AMOUNT} along (?P<place>the underarm), "
    r"(?P<first>\d+) at the beginning of the round and (?P<last>\d+) at its end": "shape",
    r"bind off 2 for each of (?P<holes>\d+) buttonholes \((?P<steps>.+)\), counting the one left after each bind-off": "buttonholes",
    r"cast on 2 over each of the (?P<holes>\d+) gaps": "gaps",
    rf"knit (?P<first>\d+){COUNTED}, bind off the next (?P<centre>\d+) for the neck, knit the last (?P<last>\d+){COUNTED}": (
        "divide"
    ),
    rf"knit (?P<first>\d+){COUNTED}, divide for the neck here, knit the last (?P<last>\d+){COUNTED}": "divide",
    r"knit (?P<first>\d+)(?P<made> \(counted after the decrease\))?, bind off the next (?P<centre>\d+) for the neck, "
    r"knit to the end of the round": "open_neck",
    r"join body and sleeves on one needle: "
    r"(?:put the (?P<begun>\d+) stitch(?:es)? on each side of the left marker on a holder, )?(?P<steps>.+)": "join",
    r"divide, removing the markers as you come to them: (?P<steps>.+)": "part",
}
BETWEEN = {
    r"Underarm: knit (\d+) more stitch(?:es)?, past the marker(?:, and leave the yarn there for the yoke)?": (
        "stop_past_marker"
    ),
    r"Underarm: work (\d+) more stitch(?:es)? in pattern, past the marker(?:, and leave the yarn there for the yoke)?": (
        "stop_past_marker_in_pattern"
    ),
    r"Put the last (\d+) stitches on a holder, half from each side of the marker": "hold_underarm",
    r"Slip (\d+) stitch(?:es)? without knitting them, to the middle of the left underarm": "slip_to_the_side",
    r"Slip the left front without knitting it, up to its raglan line": "slip_to_the_line",
    r"Slip the first (\d+) stitch(?:es)? of the round, the left front, to the other needle": "slip_left_front",
}
"""Sentences between rows with a number in them, and what is checked of it."""
DO = {"bind off": "bind-off", "cast on": "cast-on", "pick up": "pick-up", "turn": "short-row", "work": "short-row"}


def split(text: str, separator: str) -> list[str]:
    """Parts between separators that stand outside all brackets."""
    parts, depth = [""], 0
    for piece in re.split(rf"({re.escape(separator)}|[()\[\]])", text):
        depth += {"(": 1, "[": 1, ")": -1, "]": -1}.get(piece, 0)
        if piece == separator and not depth:
            parts.append("")
        else:
            parts[-1] += piece
    return parts


def sentences(line: str) -> list[str]:
    """The sentences of a line, without their full stops."""
    return split(line.removesuffix("."), ". ")


def rows_named(text: str) -> list[int]:
    """The rows of "row 17, then every 2nd row 9 more times (to row 35)" or "rows 3, 5 and 7"."""
    first, *more = re.split(r", then (?:on |every )", re.sub(r"^ on ", "", text))
    rows = [int(n) for n in re.findall(r"\d+", first)]
    assert re.fullmatch(r"(?:row|round)(?:s \d+(?:, \d+)* and)? \d+", first), text
    for part in more:
        if once := re.fullmatch(r"(?:row|round) (\d+)", part):
            rows.append(int(once[1]))
            continue
        found = re.fullmatch(r"(?:(\d+)\w\w )?(row|round) (\d+) more times \(to \2 (\d+)\)", part)
        assert found, text
        step, _, times, last = found.groups()
        rows += [rows[-1] + int(step or 1) * i for i in range(1, int(times) + 1)]
        assert rows[-1] == int(last), f"ends on row {rows[-1]}: {text}"
    assert rows == sorted(set(rows)), text
    return rows


def steps_in(text: str) -> Iterator[str]:
    """The single steps of "[k2, k2tog] 17 times, k1"."""
    for part in split(text, ", "):
        repeat = re.fullmatch(r"\[(.+)\] (\d+) times", part)
        if repeat:
            for _ in range(int(repeat[2])):
                yield from steps_in(repeat[1])
        else:
            yield part


def stitches_of(step: str) -> tuple[int, int]:
    """Stitches that a step uses, and those that it leaves on the needle."""
    plain = re.fullmatch(r"(?:k|p|work )(\d+)", step)
    if plain:
        return int(plain[1]), int(plain[1])
    gone = re.fullmatch(r"bind off (\d+)", step)
    if gone:
        return int(gone[1]), 0
    assert step in STEP, f"what is {step}?"
    return STEP[step]


def counts_at_edges(text: str) -> Mapping[str, int]:
    """The counts of "5 at the beginning, 4 before the neck and 2 at the end", or of "front 2 and 3, back 1 and 0"."""
    if text == "none":
        return {}
    if whole := re.fullmatch(r"all (\d+)", text):
        return {"at the beginning": int(whole[1])}
    both = re.fullmatch(r"(\d+) at both ends", text)
    if both:
        return {"at the beginning": int(both[1]), "at the end": int(both[1])}
    parts = re.findall(r"([a-z ]+?) (\d+) and (\d+)(?:, |$)", text)
    if parts:
        assert len(parts) == text.count(",") + 1, text
        return {
            f"{part} {end}": int(n) for part, *both in parts for end, n in zip(("first", "last"), both, strict=True)
        }
    found = re.findall(r"(\d+) ((?:at|before|after) the (?:beginning|end|neck))", text)
    assert len(found) == len(re.split(r", | and ", text)) == len({place for _, place in found}), text
    return {place: int(n) for n, place in found}


def walked(text: str) -> list[tuple[int, int]]:
    """Stitches that each step of a row uses, and those that it leaves."""
    return [stitches_of(step) for step in steps_in(text)]


class Printed(Protocol):
    """One piece as printed."""

    title: str
    measures: str
    lines: Sequence[str]


@dataclass
class ReadPiece:
    """What the words say of one piece."""

    name: str
    worked: str
    cast_on: int = 0
    rows: list[Row] = field(default_factory=list)
    bound_off: int | None = None
    came_from: str | None = None
    claimed_cm: float = 0.0
    """Length in the heading."""
    pattern: dict[int, int] = field(default_factory=dict)
    """Row of the stitch pattern that each row is, where it is one."""
    panels: dict[str, dict[int, int]] = field(default_factory=dict)
    """Row of its pattern that each row is, for the panel of each part."""
    bands: dict[int, tuple[int, int, int, int]] = field(default_factory=dict)
    """For each row of a band: its number, which row of its chart, repeats, and the stitch it begins with."""
    stripes: dict[int, tuple[int, str]] = field(default_factory=dict)
    """For each row of the stripes: which of them, and its colour."""
    set_at: tuple[str, int, int, int] | None = None
    """Its name, rows and stitches of its repeat, and the stitch that it begins with as worked; 0: no repeat has room."""
    beside: bool = False
    """Whether that stitch comes after plain ones."""
    plain: dict[int, Mapping[str, int]] = field(default_factory=dict)
    """Stitches worked plain in a row, by where: at the end, before the neck, front first, front last."""
    plain_sides: dict[int, Mapping[str, int]] = field(default_factory=dict)
    """The same beside whole repeats, from a row on."""
    repeats: dict[int, int] = field(default_factory=dict)
    """Whole repeats, from a row on."""
    parts: tuple[int, Mapping[str, int]] | None = None
    """After which row parts begin, and the stitch of the repeat that each begins with."""
    lengths: list[tuple[int, str, float]] = field(default_factory=list)
    """After which row, measured from where, how many cm."""


@dataclass
class Waiting:
    """Stitches that one piece leaves for another."""

    needle: dict[str, int] = field(default_factory=dict)
    holder: dict[str, int] = field(default_factory=dict)
    sleeves: dict[str, int] = field(default_factory=dict)
    shoulders: dict[str, int] = field(default_factory=dict)
    """Stitches of front and back, by piece, that are joined at the end."""
    parts: dict[str, dict[str, int]] = field(default_factory=dict)
    """Stitches between the markers of each piece when it ended."""
    sides_told: bool = False
    """Whether it was said which side of which marker is the body side and which the sleeve side."""
    to_the_side: int = 0
    """Stitches of a yoke from the beginning of its rounds to the middle of the left underarm."""
    past_marker: list[int] = field(default_factory=list)
    """How far past the marker body and sleeves stopped."""
    panels: Panels = field(default_factory=Panels)
    colours: tuple[str, str] = ("", "")
    """The color that a body ended with, and the one that the words say to join for the yoke."""
    grafted: int = 0
    """Stitches of each sleeve that are held at its underarm."""
    neck_rows: dict[str, int] = field(default_factory=dict)
    """Rows of each neck edge, such as "front left", above the steps in which stitches are bound off or cast on there."""

    armholes: dict[str, list[int]] = field(default_factory=dict)
    """Rows of back and front that bind off, or turn, at the edge where right-side rows begin, and the row after the last."""

    def take(self, place: dict[str, int], n: int, whose: str | None = None) -> str:
        """Take stitches up again; of the piece worked last where the words do not say whose. Says whose."""
        assert place, f"no stitches wait, {n} are wanted"
        whose = whose or list(place)[-1]
        assert place.get(whose, 0) >= n, f"{n} stitches wanted of the {whose}, {place}"
        place[whose] -= n
        if not place[whose]:
            del place[whose]
        return whose


def whole_lines(lines: Iterable[str]) -> Iterator[str]:
    """Lines of which some say that the next ones belong to them: those with what the next ones say put in."""
    waiting = list(lines)
    while waiting:
        line = waiting.pop(0)
        found = re.search(r", with the shaping in the next (\d+) lines(?=\.)", line)
        number = int(found[1]) if found else 0
        more = [text for text in waiting[:number] if text.startswith("At the same time: ")]
        assert len(more) == number, f"which {number} lines? {line}"
        del waiting[:number]
        if found:
            deeds = [text.removeprefix("At the same time: ").removesuffix(".") for text in more]
            line = "; ".join([line[: found.start()], *deeds]) + line[found.end() :]
        yield line


class Knitter:
    """Reads the lines of one piece."""

    read_before = False
    """Whether which side of a marker is meant is said before the first piece."""

    def __init__(self, words: Printed, waiting: Waiting, stripes: Sequence[str] = ()) -> None:
        self.stripes = stripes
        title = words.title.removesuffix(" (make two alike)")
        two = title != words.title
        name = title.lower()
        name = re.sub(r"^sleeve (cap|top)$", r"sleeve, \1", name.removesuffix("s")) if two else name
        self.names = [f"{side} {name}" for side in OTHER] if two else [name]
        size = re.fullmatch(
            r"(\d+) (row|round)s?(?: and (?P<short>\d+) short rows)?\. "
            r"After washing: [\d.]+ cm (wide|around)(?: at the widest point \(sleeves included\))?(?: at the start)?(?: \(with the \d+ bound-off stitch(?:es)?\))?(?:, [\d.]+ cm at the shoulder(?: with the steps before the split)?)?, "
            r"(?P<edge>[\d.]+) cm long(?: from the neck split| at the (?:sides and (?P<bust>[\d.]+) cm at the bust|front and (?P<back>[\d.]+) cm at the back))?"
            r"(, (up to the neck split; [\d.]+ cm to the top of the shoulder( along the side)?|up to where you divide the work))?",
            words.measures,
        )
        assert size, words.measures
        self.unit = size[2]
        self.claimed_rows, self.claimed_short = int(size[1]) + int(size["short"] or 0), int(size["short"] or 0)
        self.is_front = bool(re.search(r"^front|front$", name))
        self.is_sleeve = "sleeve" in name
        # over the back rows run from right to left as worn, over the front the other way
        self.begins = "right" if name.startswith(("back", "yoke")) or self.is_sleeve else "left"
        self.piece = ReadPiece(
            self.names[0],
            "round" if size[4] == "around" else "flat",
            claimed_cm=float(size["bust"] or size["back"] or size["edge"]),
        )
        self.words, self.waiting = words, waiting
        self.stitches = 0
        self.next_row = 1
        self.fabric = ""
        self.last_line = 0
        """Row before the first of the line read last."""
        self.past_underarm = False
        self.over = ""
        self.two_markers = self.turned_first = False
        """Whether two markers were hung for short rows between them, and whether these begin by turning."""
        self.wrong_side_first = False
        self.parts: dict[str, int] = {}
        """Stitches between markers, in the order of a right-side row."""
        self.opened = 0
        """Stitches of the left front below a neck that has just opened."""
        self.held = 0
        """Stitches of a sleeve that are held at its underarm."""
        self.beginning_to_come = False
        """Whether the words still have to say where the round begins."""
        self.broken = self.slipped = False
        """Whether the yarn is broken, and whether stitches were slipped to where it is to be joined."""
        self.joined_there = ""
        """The color that was joined there."""
        self.edges_to_come = 0
        self.edge = ""
        """The one of several that is picked up along."""
        self.edges: list[tuple[str, int]] = []
        self.edge_ends: set[str] = set()
        """Where a neck edge ends above its steps, as the lines say."""
        self.one_each = ""
        """Where one is picked up from each stitch, as is said before."""
        self.centered = ""
        """The stitches of each round of a rib that is told in full."""
        self.rib = ""
        """The columns of a rib on stitches picked up, as the right side shows them, before any decrease."""
        self.purled_last: bool | None = None
        self.sleeves_in = False
        """Whether it was said how the sleeves lie where they are joined."""
        assert self.unit == ("round" if self.piece.worked == "round" else "row"), words.measures

    def read(self) -> list[ReadPiece]:
        """The piece, or both pieces that are made alike."""
        for line in whole_lines(self.words.lines):
            try:
                self.read_line(line)
            except AssertionError as problem:
                raise AssertionError(f"{self.words.title}: {line}\n{problem}") from problem
        rows, piece = self.piece.rows, self.piece
        assert len(rows) == self.claimed_rows, f"{self.words.title}: {len(rows)} rows, {self.words.measures}"
        turned = sum(any(e.do == "short-row" and e.line for e in r.events) for r in rows)
        assert turned <= self.claimed_short <= 2 * turned, f"{self.words.title}: {turned} rows are turned"
        assert piece.bound_off is not None, f"{self.words.title}: what becomes of the last stitches?"
        self.waiting.parts[piece.name] = self.parts
        self.neck_edges()
        self.armhole_edges()
        if piece.name in ("body", "yoke") and len(set(self.stripes)) > 1 and piece.stripes and piece.worked == "round":
            self.waiting.colours = list(piece.stripes.values())[-1][1], self.waiting.colours[1]
        return [
            self.twin(
                replace(
                    piece, name=name, came_from=piece.came_from and piece.came_from.replace("left", name.split()[0])
                )
            )
            for name in self.names
        ]

    def neck_edges(self) -> None:
        """What a band will be picked up along: above its steps a neck edge goes on to the shoulder."""
        rows, whole = self.piece.rows, "shoulder" in self.piece.name or self.piece.name == "yoke, upper"
        for side in OTHER:
            own = [(r.row, e) for r in rows for e in r.events if e.where == f"neck-{side}"]
            stepped = [row for row, e in own if e.do in ("bind-off", "cast-on")]
            if not own and f"{side} shoulder" not in self.piece.name:
                continue
            if own and ADDS[own[0][1].do] > 0:  # from the shoulder down
                above = stepped[0] if stepped else own[-1][0] if self.piece.name == "yoke" else rows[-1].row
            else:
                first = rows[0].row if whole else own[0][0]
                above = rows[-1].row - (stepped[-1] if stepped else first - 1)
            self.waiting.neck_rows[f"{'back' if self.piece.name.startswith('back') else 'front'} {side}"] = above

    def armhole_edges(self) -> None:
        """What a band will be picked up along: above the steps of its underarm an armhole goes on to the slope."""
        part = self.piece.name.split(",")[0].replace("left front", "front")
        if part in ("back", "front"):
            edge = [(r.row, e) for r in self.piece.rows for e in r.events if e.where == self.begins]
            rows = [row + (e.do == "short-row") for row, e in edge if e.do in ("bind-off", "short-row") and not e.line]
            last = self.piece.rows[-1].row + 1
            self.waiting.armholes[part] = [*self.waiting.armholes.get(part, [0])[:-1], *rows, last]

    def twin(self, piece: ReadPiece) -> ReadPiece:
        """One of two that are made alike: what is said of the left one's panel is said of its own."""
        panels = self.waiting.panels
        if len(self.names) == 1 or not piece.name.startswith("right"):
            return piece
        for told in (panels.stitches, panels.last):
            if "left sleeve" in told:
                told["right sleeve"] = told["left sleeve"]  # type: ignore[index]
            else:
                told.pop("right sleeve", None)
        rows = [
            replace(r, events=tuple(replace(e, line=e.line.replace("left", "right")) for e in r.events))
            for r in piece.rows
        ]
        return replace(
            piece, rows=rows, panels={part.replace("left", "right"): at for part, at in piece.panels.items()}
        )

    def read_line(self, line: str) -> None:
        """A line of rows, or one that begins, ends or changes something between rows."""
        if self.edges_to_come:
            self.along_an_edge(line)
            return
        several = re.fullmatch(r"(Rows|Rounds|Short rows) (\d+) to (\d+) \((\d+) (rows|rounds)\): (.+)", line)
        single = re.fullmatch(r"(Row|Round) (\d+)(?: \((RS|WS)\))?: (.+)", line)
        if several:
            kind, first, last, count, unit, what = several.groups()
            rows = range(int(first), int(last) + 1)
            assert len(rows) == int(count), f"{len(rows)} rows"
            assert unit == ("rounds" if kind == "Rounds" else "rows")
        elif single:
            kind, first, side, what = single.groups()
            rows = range(int(first), int(first) + 1)
            assert (side is None) == (kind == "Round")
            assert side is None or side == self.side_of(int(first))
        else:
            if not self.begin(line.removesuffix(".")):
                for sentence in sentences(line):
                    self.between_rows(sentence)
            return
        assert kind == "Short rows" or kind.startswith("Round") == (self.piece.worked == "round")
        assert self.piece.worked == "round" or kind != "Short rows"
        assert rows[0] == self.next_row, f"row {self.next_row} is next"
        assert not self.slipped, "the yarn is not where the round begins"
        self.last_line = rows[0] - 1
        self.work(kind == "Short rows", rows, what)

    def between_rows(self, sentence: str) -> None:
        """A sentence that is not about rows."""
        self.past_underarm |= sentence.startswith("Underarm")
        if sentence.startswith(
            (
                "With the right side facing, place markers to divide the stitches",
                "In the next round, place another marker after the ",
            )
        ):
            self.markers(sentence)
            return
        if self.at_edges(sentence) or self.joins_a_colour(sentence) or self.ends_of_rows(sentence):
            return
        if self.joins_there(sentence):
            return
        self.broken = sentence in ("Break the yarn", "Break all colors") or self.broken
        if sentence in ONE_FROM_EACH:
            self.one_each += ONE_FROM_EACH[sentence]
            return
        for pattern, follow in BETWEEN.items():
            found = re.fullmatch(pattern, sentence)
            if found:
                getattr(self, follow)(*map(int, found.groups()))
                return
        if self.round_begins(sentence):
            return
        self.two_markers |= bool(TWO_MARKERS.fullmatch(sentence))
        self.turned_first |= sentence == "Turn, wrapping the first stitch of the front"
        if re.match(r"'On the (?:body|sleeve) side' means ", sentence):
            self.waiting.sides_told = True
            return
        assert not self.beginning_to_come, "where does the round begin?"
        if QUIET.fullmatch(sentence) or self.end(sentence):
            return
        raise AssertionError(f"cannot tell what this means: {sentence}")

    def ends_of_rows(self, sentence: str) -> bool:
        """Right-side rows begin at the wearer's left in a front and at her right in a back, whatever half it is."""
        told = re.fullmatch(
            r"Right-side rows begin at the (outer|neck) edge and end at the (neck|outer) edge", sentence
        )
        if not told:
            return False
        first = "left" if "front" in self.names[0] else "right"
        assert {told[1], told[2]} == {"outer", "neck"}
        assert (told[1] == "outer") is (first in self.names[0]), "the other edge is where right-side rows begin"
        return True

    def joins_a_colour(self, sentence: str) -> bool:
        """Where the next row of the stripes begins elsewhere, its color is joined there."""
        joined = re.fullmatch(
            r"The yoke begins in color (\w), so join that first|Join color (\w) at the right neck edge, right side facing",
            sentence,
        )
        if not joined:
            return False
        assert self.stripes, "which colors?"
        self.waiting.colours = self.waiting.colours[0], joined[1] or joined[2]
        return True

    def joins_there(self, sentence: str) -> bool:
        """Where stitches were slipped, the yarn of the next row is joined."""
        joined = re.fullmatch(
            r"Rounds now begin there(, with the left sleeve)?: place a marker and join (?:the yarn|color (\w))",
            sentence,
        )
        if not joined:
            return False
        assert (joined[1] is not None) == (next(iter(self.parts), "") == "left sleeve"), (
            "what does the round begin with?"
        )
        assert self.broken
        assert self.slipped, "where?"
        assert (joined[2] is not None) == (len(set(self.stripes)) > 1), "which color?"
        self.broken = self.slipped = self.beginning_to_come = False
        self.joined_there = joined[2] or ""
        return True

    def colour_is_there(self, colour: str) -> None:
        """A yoke has the yarn of the row before, or the one that was joined; above an open neck only that."""
        left, joined = self.waiting.colours
        there = joined or ("" if self.piece.name == "yoke, upper" else left)
        assert there == colour, f"color {colour} is wanted, color {there} is there"
        self.waiting.colours = ("", "")

    def at_edges(self, sentence: str) -> bool:
        """What is plain beside the pattern in the rows of the line before, and how many repeats are whole."""
        name, _, told = sentence.partition(": ")
        if re.fullmatch(r"In (?:row|round) \d+, the parts begin with these stitches of the repeat", name):
            parts = {part: int(n) for part, n in (part.rsplit(" ", 1) for part in told.split(", "))}
            assert self.piece.parts is None
            assert len(parts) == told.count(",") + 1, "a part twice"
            self.piece.parts = self.last_line, parts
            return True
        if name not in ("Plain at the edges", "Plain sides", "Whole repeats"):
            return False
        for part in told.split(", " if name == "Whole repeats" else "; "):
            what, _, rows = part.rpartition(" on " if name == "Plain at the edges" else " from ")
            if name == "Plain at the edges" and ", then " in part:
                what, _, rows = part.partition(" on ")
            numbers = rows_named(f" on {rows}")
            assert set(numbers) <= set(self.piece.pattern), f"not all are rows of the pattern: {part}"
            assert numbers[0] > self.last_line, f"not in the line before: {part}"
            if name == "Whole repeats":
                self.piece.repeats[numbers[0]] = 0 if what == "none" else int(what)
            else:
                of_rows = self.piece.plain if name == "Plain at the edges" else self.piece.plain_sides
                assert not set(numbers) & set(of_rows), f"a row twice: {part}"
                of_rows |= dict.fromkeys(numbers, counts_at_edges(what))
        return True

    def markers(self, sentence: str) -> None:
        """Parts between markers add up to what is on the needle; a row that begins at the left front goes from the neck."""
        parts = re.findall(r"([a-z ]+) (\d+)", sentence.split(": ")[1])
        marked = {name.strip(): int(n) for name, n in parts}
        assert sum(marked.values()) == self.stitches, f"parts are not {self.stitches} stitches"
        assert "left sleeve" not in self.parts or marked == self.parts, f"{self.parts} were just worked"
        self.parts = marked
        first = parts[0][0].strip()
        if self.piece.worked == "flat":
            self.begins = {"left front": "left", "right front": "right"}[first]
        after = re.match(r"In the next round, place another marker after the (.+?):", sentence)
        assert not after or (after[1] == first and len(parts) == 2), "where is the other marker?"
        self.beginning_to_come = self.piece.worked == "round" and not after

    def round_begins(self, sentence: str) -> bool:
        """Where rounds begin: always at the left side."""
        found = re.fullmatch(r"The round begins at the left side(, between the left sleeve and the front)?", sentence)
        if not found or not self.beginning_to_come:
            return False
        assert (found[1] is not None) == ("left sleeve" in self.parts)
        self.beginning_to_come = False
        return True

    def slip_to_the_side(self, number: int) -> None:
        """A body from the neck begins at the middle of its left underarm: past the left front, if any, to there."""
        assert number == self.waiting.to_the_side, f"{self.waiting.to_the_side} stitches to the left side"
        assert self.broken, "the yarn is left behind"
        self.slipped = True
        self.beginning_to_come = True

    def stop_past_marker(self, number: int) -> None:
        """Body and sleeves stop where the stitches of the underarm have all been worked."""
        assert self.next_row - 1 not in self.piece.pattern, "are these stitches in the pattern?"
        self.waiting.past_marker.append(number)

    def stop_past_marker_in_pattern(self, number: int) -> None:
        """The same in a fabric that is not plain."""
        assert self.next_row - 1 in self.piece.pattern, "which pattern?"
        self.waiting.past_marker.append(number)

    def hold_underarm(self, number: int) -> None:
        """Stitches of the sleeve on both sides of its marker wait to be grafted."""
        assert number == 2 * self.waiting.past_marker[-1], "the yarn is not at the end of the held stitches"
        self.held = number

    def slip_to_the_line(self) -> None:
        """The left front comes last from here on, behind the right front and what lies between them."""
        assert self.broken, "the yarn is left behind"
        self.slipped = True
        assert self.piece.worked == "round"
        assert next(iter(self.parts)) == "left front"
        whole = self.parts.pop("left front") + self.parts.pop("right front")
        self.parts["front"] = whole

    def slip_left_front(self, number: int) -> None:
        """Back and forth from the right edge of the neck: the left front comes last."""
        if not self.opened:  # nothing bound off: the front parts in its middle
            self.opened, odd = divmod(self.parts["front"], 2)
            assert not odd
        assert number == self.opened, f"the left front has {self.opened} stitches"

    def begin(self, sentence: str) -> bool:
        """Stitches come onto the needle: cast on, or from another piece, with all that is said of it."""
        joins = sentence.endswith(SLEEVES_IN)
        sentence = sentence.removesuffix(SLEEVES_IN)
        number = re.search(r"(\d+) (?:held )?stitch(?:es)?\b", sentence)
        n = int(number[1]) if number else 0
        cast = re.fullmatch(
            r"Cast on \d+ stitches with [\d.]+ mm needles(, join to work in the round and mark the start of the round)?",
            sentence,
        )
        parent: str | None = None
        if cast:
            assert (cast[1] is not None) == (self.piece.worked == "round")
        elif re.match(
            r"Continue (back and forth )?with the \d+ stitches (on the needle, starting|of the yoke on [\d.]+ mm needles, starting) with ",
            sentence,
        ):
            assert ("back and forth" in sentence) == (self.piece.name == "yoke, upper")
            parent = self.piece.name.split(",")[0] if "shoulder" in self.piece.name else None
            parent = self.waiting.take(self.waiting.needle, n, parent)
        elif sentence.startswith(
            f"Return the {n} held stitches to the needle. "
            f"Join the yarn at the neck edge, {self.facing(sentence)}, and start with "
        ):
            parent = self.waiting.take(self.waiting.holder, n, self.piece.name.split(",")[0])
        elif sentence.startswith(
            (
                f"Continue with the {n} stitches of the {self.piece.name}. Join the yarn at ",
                f"Return the {n} held stitches of the {self.piece.name} to the needle. Join the yarn at ",
            )
        ):
            edge = re.search(
                rf"at (?:the (left|right) underarm|the front edge), {self.facing(sentence)}, and work back and forth, ",
                sentence,
            )
            assert edge, "where is the yarn joined?"
            assert (edge[1] or "left") == self.begins, "the row begins at another edge"
            assert ("held" in sentence) == (self.piece.name != "back"), "the back is worked first"
            assert (edge[1] is None) == (self.piece.name == "right front"), "the side of this piece is an underarm"
            parent = self.waiting.take(self.waiting.needle, n, "body")
            self.past_underarm = True
        elif sleeve := re.match(
            r"Return the \d+ held stitches of (?:one|the (left|right)) sleeve to [\d.]+ mm needles\. "
            r"Join new yarn in the middle of the stitches cast on at the underarm, right side facing\. Mark this point as the beginning of the round and start with ",
            sentence,
        ):
            for side in (sleeve[1],) if sleeve[1] else ("left", "right"):
                self.waiting.take(self.waiting.sleeves, n, side)
            parent = "yoke"
        elif sentence.startswith(
            f"Continue back and forth on the {n} stitches of the sleeve. Begin at the marker, where the yarn is, with "
        ):
            parent = self.waiting.take(self.waiting.needle, n)
        else:
            return False
        if self.piece.name == "body" and parent == "yoke":  # upside down
            self.begins = OTHER[self.begins]
        self.piece.cast_on = self.stitches = n
        self.sleeves_in = joins
        self.piece.came_from = parent
        self.parts = dict(self.waiting.parts.get(parent or "", {}))
        following = re.search(r" with (row|round) (\d+)(?: \((RS|WS)\))?$", sentence)
        assert cast or following, "which row is next?"
        if following:
            assert following[1] == self.unit
            self.next_row = int(following[2])
            assert self.piece.worked == "round" or following[3] == self.side_of(self.next_row)
        return True

    def end(self, sentence: str) -> bool:
        """Stitches leave the needle, or stay on it for another piece."""
        found = re.fullmatch(
            r"(Bind off|Leave)(?: all| the last(?= 2 ))?(?: the)?(?: other)? (\d+) stitches"
            r"(?: on a spare needle| on a holder for the (shoulder) seam, and break the yarn"
            r"| loosely (in rib|knitwise|purlwise))?"
            r"|Keep the (\d+) stitches on the needle",
            sentence,
        )
        if not found:
            return False
        n = int(found[2] or found[5])
        assert n == self.stitches - self.held, f"{self.stitches} stitches are on the needle"
        assert ("other" in sentence) == bool(self.held)
        if found[4]:
            purls = self.fabric == "garter" and self.unit == "round" and not self.purled_last
            fits = "in rib" if self.fabric.startswith("rib") else "purlwise" if purls else "knitwise"
            assert found[4] == fits, f"bound off {found[4]} on {self.fabric}"
        assert self.piece.bound_off is None
        self.piece.bound_off = self.stitches
        if found[3]:
            self.waiting.shoulders[self.piece.name] = n
        elif found[1] == "Leave":
            self.waiting.sleeves |= {"left": n, "right": n}
            self.waiting.grafted = self.held
        elif found[5]:
            self.waiting.needle[self.piece.name] = n
        return True

    def facing(self, sentence: str) -> str:
        """Which side must face where yarn is joined, for the row that is next."""
        following = re.search(r"(?:row|round) (\d+)", sentence)
        return "wrong side facing" if following and self.side_of(int(following[1])) == "WS" else "right side facing"

    def side_of(self, row: int, short_row: int | None = None) -> str:
        """Side of a row; of short rows in a round by their place in the run, and by which side faces first."""
        if short_row is not None:
            return "WS" if short_row % 2 != self.wrong_side_first else "RS"
        return "round" if self.piece.worked == "round" else "RS" if row % 2 else "WS"

    def work(self, short: bool, rows: range, text: str) -> None:
        """Work the rows of one line and compare what it claims."""
        deeds, *claims = sentences(text)
        self.wrong_side_first = "wrong side first" in deeds
        sides = {row: self.side_of(row, row - rows[0] if short else None) for row in rows}
        events: dict[int, list[Event]] = {row: [] for row in rows}
        setting = re.fullmatch(r"(k\d, p\d rib): (.+)", deeds)
        assert setting is None or setting[1] in FABRICS, deeds
        clauses = split(setting[1] if setting else deeds, "; ")
        centered = CENTERED.fullmatch(clauses[0])
        if centered:
            clauses[0] = centered[1]
            self.centered = self.rib_of_a_round(centered[2])
        clauses[0], panels = self.waiting.panels.told(clauses[0], self.piece.name, "row" if short else self.unit, rows)
        for part, at in panels.items():
            self.piece.panels.setdefault(part, {}).update(at)
        clauses[0] = self.in_stripes(clauses[0], rows)
        band = BAND.fullmatch(clauses[0])
        if band:
            self.of_a_band(band, rows)
            self.fabric = "stockinette"
            assert not clauses[1:], "a band is worked from its chart or its rows alone"
            clauses = []
        patterned = PATTERN.fullmatch(clauses[0]) if clauses else None
        if patterned:
            self.in_pattern(patterned, rows)
            self.fabric = "stockinette"
            clauses = clauses[1:]
        if patterned or panels:
            clauses = [
                c if c.startswith(("join", "divide, removing", "set up")) else WORKED.sub("knit ", c) for c in clauses
            ]
        if clauses and clauses[0] in FABRICS:
            self.garter_in_turn(clauses[0], rows)
            assert not clauses[0].endswith("as set") or self.rib, "which rib was set?"
            self.fabric = FABRICS[clauses.pop(0)]
            self.rows_picked_up_take_the_fabric()
            self.over = next(iter(re.findall("over (?:the )?(front|back)", deeds)), "")
        if clauses[:1] == ["the pick-up round counts as a knit round"]:
            assert rows[0] == 2, "which round was picked up?"
            clauses.pop(0)
        elif self.fabric == "garter" and rows[0] == 2 and self.edges and self.unit == "round":
            raise AssertionError("is the pick-up round a knit round?")
        changes = 0
        for event in self.set_rib(setting[2], sides[rows[0]]) if setting else ():
            events[rows[0]].append(event)
            changes += 1
        for clause in clauses:
            for row, event in self.understand(clause, rows, sides, claims):
                assert row in events, f"row {row} is not in this line: {clause}"
                events[row].append(event)
                changes += event.do != "short-row"
        begun_with = self.stitches
        for row in rows:
            before = self.stitches
            self.stitches += sum(ADDS.get(e.do, 0) * e.stitches * (2 if e.where == "both" else 1) for e in events[row])
            assert self.stitches >= 0, f"row {row} wants more stitches than there are"
            self.grow(events[row])
            self.piece.rows.append(Row(row, sides[row], before, self.stitches, self.fabric, tuple(events[row])))  # type: ignore[arg-type]
        self.next_row = rows[-1] + 1
        changed = any(ADDS.get(e.do, 0) * e.stitches for of_row in events.values() for e in of_row)
        if patterned:
            self.keeps_pattern(bool(patterned["kept"]), changed)
        assert not short or len(rows) % 2 == 0, "short rows end where they began"
        if deeds.startswith("k") and "rib" in deeds and changes == 0:
            self.rib_comes_out(deeds, begun_with)
        above_cast_on = rows[0] == 1 and bool(self.piece.cast_on) and self.piece.came_from is None
        increased = above_cast_on and any(e.do == "increase" and e.stitches for e in events[1])
        assert (NO_BAR in claims) == increased, "is there a bar to lift?"
        assert not increased or len(rows) == 1, "in which row is there no bar?"
        self.compare([claim for claim in claims if claim != NO_BAR], changed=changes > 0)

    def keeps_pattern(self, said: bool, changed: bool) -> None:
        """That a pattern is kept as set is said where stitches come or go."""
        assert said == changed, "is the pattern kept through shaping?"

    def in_stripes(self, text: str, rows: range) -> str:
        """What is knitted in stripes, without that; they go on by one from row to row, over whatever lies between."""
        told = STRIPES.fullmatch(text)
        if not told:
            return text
        at, piece, many = int(told["row"]), self.piece, len(self.stripes)
        assert (told["several"] is not None) == (len(rows) > 1)
        assert many, "which stripes?"
        assert 1 <= at <= many
        assert told["colour"] == self.stripes[at - 1], f"row {at} of the stripes is in {self.stripes[at - 1]}"
        last = list(piece.stripes.values())[-1][0] if piece.stripes else at - 1
        assert at == last % many + 1, f"row {last} was the last of the stripes"
        if not piece.stripes and piece.name in ("yoke", "yoke, upper") and piece.came_from and self.waiting.colours[0]:
            self.colour_is_there(told["colour"])
        assert self.joined_there in ("", told["colour"]), f"color {self.joined_there} was joined"
        self.joined_there = ""
        for row in rows:
            now = (at + row - rows[0] - 1) % many
            piece.stripes[row] = (now + 1, self.stripes[now])
        return told["fabric"]

    def of_a_band(self, told: re.Match[str], rows: range) -> None:
        """Rows of a band take up all stitches, and come in the order of its chart."""
        piece, number, first = self.piece, int(told["number"]), int(told["first"])
        assert told["unit"] == self.unit
        assert int(told["last"] or first) - first + 1 == len(rows), "the rows of its chart are not those of the line"
        inside = int(told["repeats"]) * int(told["multiple"]) + int(told["more"] or 0)
        assert inside + (2 if told["edges"] else 0) == self.stitches, f"the repeats are not {self.stitches} stitches"
        assert (told["stitch"] is not None) == (self.unit == "round")
        before = [at for band, at, _, _ in piece.bands.values() if band == number]
        assert first == (before[-1] + 1 if before else 1), f"band {number} does not go on"
        others = {band for band, _, _, _ in piece.bands.values()} - {number}
        assert number == max(others, default=0) + 1, "bands are numbered from the join up"
        for row in rows:
            at = first + row - rows[0]
            piece.bands[row] = (number, at, int(told["repeats"]), int(told["stitch"] or 1))

    def in_pattern(self, told: re.Match[str], rows: range) -> None:
        """Rows of a stitch pattern go on by one, whatever comes between; a piece says once where it begins."""
        piece, repeat, at = self.piece, int(told["rows"]), int(told["row"])
        assert told["unit"] == self.unit
        assert 1 <= at <= repeat
        if piece.set_at is None:
            wide = told["multiple"] or told["wide"]
            assert wide, "where does the pattern begin?"
            piece.set_at = told["name"], repeat, int(wide), int(told["stitch"] or 0)
            assert (told["wide"] is None) <= piece.set_at[3] <= piece.set_at[2]
            piece.beside = told["beside"] is not None
        else:
            assert not told["stitch"]
            assert not told["wide"]
            assert (told["name"], repeat) == piece.set_at[:2], "another pattern?"
            last = list(piece.pattern.values())[-1]
            assert at == last % repeat + 1, f"row {last} was the last of the pattern"
        for row in rows:
            piece.pattern[row] = (at + row - rows[0] - 1) % repeat + 1

    def grow(self, events: Sequence[Event]) -> None:
        """What a row does to the parts between markers. A raglan line lies at both ends of a part, but of half fronts."""
        for event in (e for e in events if e.line.endswith(" panel")):
            part = event.line.removesuffix(" panel")
            if part in self.parts:
                self.parts[part] += ADDS[event.do] * event.stitches
        for event in (e for e in events if "left sleeve" in self.parts):
            times = {"all lines": 8, "body side": 4, "sleeve side": 4}.get(event.line)
            for name in self.parts if times else ():
                if event.line == "all lines" or event.line == ("sleeve side" if "sleeve" in name else "body side"):
                    ends = 1 if name in ("left front", "right front") else 2
                    self.parts[name] += ADDS[event.do] * ends * event.stitches // (times or 1)
            edge = f"{event.where.removeprefix('neck-')} front" if event.where != "centre" else "right front"
            if edge in self.parts and event.where.startswith(("neck-", "centre")):
                self.parts[edge] += ADDS[event.do] * event.stitches
        if self.opened:
            middle = sum(e.stitches for e in events if e.where == "centre")
            assert self.parts["front"] == 2 * self.opened + middle, f"a front of {self.parts['front']} stitches"

    def garter_in_turn(self, text: str, rows: range) -> None:
        """Garter stitch in the round is a knit and a purl round in turn, wherever a line begins."""
        if self.unit != "round":
            return
        if "this round" in text or "alternate" in text:
            purls_first = text.startswith(("garter stitch (purl", "garter stitch (alternate purl"))
            assert self.purled_last is None or purls_first != self.purled_last, "two rounds alike make no ridge"
            assert purls_first or self.purled_last is not None or not self.edges, "two knit rounds make no ridge"
            self.purled_last = purls_first if len(rows) % 2 else not purls_first
        else:
            self.purled_last = False

    def set_rib(self, text: str, side: str) -> list[Event]:
        """The first row of a rib on stitches picked up: columns of equal width, the same at both ends or closed."""
        wide = int(self.fabric[-1])
        columns = {"k2tog": "pk", "ssk": "kp", "s2kp": "pkp"}
        steps = list(steps_in(text))
        assert all(step in columns or re.fullmatch(rf"[kp][1-{wide}]", step) for step in steps), text
        letters = "".join(columns.get(step) or step[0] * int(step[1:]) for step in steps)
        self.rib = letters if side != "WS" else letters.translate(str.maketrans("kp", "pk"))[::-1]
        assert len(letters) == self.stitches, f"the rib is for {len(letters)} stitches"
        around = range(len(letters) if side == "round" else len(letters) - wide)
        assert all(self.rib[i] != self.rib[(i + wide) % len(letters)] for i in around), f"no rib: {self.rib}"
        assert side == "round" or self.rib.startswith("k" * wide)
        point = self.point()
        if point is None:
            assert "tog" not in text
            assert "s2kp" not in text
            return []
        assert self.rib[point : point + wide] == "k" * wide, "no knit stitch at the point"
        assert self.rib[point - 1] == self.rib[(point + wide) % len(letters)] == "p"
        before = re.split(r"k2tog, ssk|s2kp", text)
        if len(before) < 2:
            return []
        assert sum(stitches_of(s)[0] for s in steps_in(before[0].removesuffix(", "))) == point - 1, "not at the point"
        return [Event("decrease", "centre", 2)]

    def point(self) -> int | None:
        """Stitches before those at the point of a V between the fronts, in the round."""
        names = [name for name, _ in self.edges]
        if self.unit != "round" or "left front" not in " ".join(names):
            return None
        at = next(i for i, name in enumerate(names) if "left front" in name)
        before = sum(n for _, n in self.edges[: at + 1])
        return before if names[at + 1] == "at the point of the V" else before - 1

    def pick_up(self, said: dict[str, str | None], _: list[str]) -> list[Event]:
        """Stitches picked up: along one edge, or along as many as there are lines to come."""
        n = int(said["n"] or 0)
        if said.get("how"):
            self.edges = [("", n)]
            self.how(n, said["how"] or "")
        elif said.get("known") is None:  # else it is knitted, and how is told nowhere
            self.edges_to_come = int(said["lines"] or 0)
            assert self.edges_to_come > 1
            self.edges = []
        return [Event("pick-up", "across", n)]

    def along_an_edge(self, line: str) -> None:
        """One of several edges; the last one makes up the row."""
        found = re.fullmatch(ALONG, line.removesuffix("."))
        assert found, "along which edge?"
        self.edges.append((found["place"], int(found["n"])))
        self.edge = found["place"]
        self.how(int(found["n"]), found["how"])
        self.edges_to_come -= 1
        if not self.edges_to_come:
            places = dict(self.edges)
            assert len(places) == len(self.edges), "an edge twice"
            assert sum(places.values()) == self.stitches, f"not {self.stitches} stitches in all"
            end = "raglan line" if "across the left sleeve" in places else "shoulder"
            assert self.edge_ends <= {end}, f"the neck ends at {self.edge_ends}"
            for place, n in self.edges:
                other = place.replace("left", "right").replace("down", "up")
                assert places.get(other, n) == n, f"{place} and {other} differ"

    def how(self, stitches: int, text: str) -> None:
        """One in each stitch across or in steps, so many along rows, and a rate that leads there; in walking order."""
        if text in ("mark it", "1 from the stitch"):
            assert stitches == 1
            return
        if text == "1 from each stitch":
            return
        straight = re.fullmatch(r"(\d+ from each|about .+) of the (\d+) rows(?:, neckband included)?(.*)", text)
        if straight:
            self.leads_to(stitches, int(straight[2]), straight[1] + straight[3])
            return
        there, _, back = text.partition(", then ")
        walked, whole = [], 0
        for step in re.split(r"(?:, and | and (?=\d)|, )(?![^(]*\))", there):
            found = re.fullmatch(
                r"(?P<n>\d+) (?:(?P<across>across)(?P<middle> the middle)?|(?P<steps>along the steps)|more at its end"
                r"|(?P<curve>along the curve \((?P<stepped>\d+) from the stitches of the steps, (?P<beside>\d+) from the rows\))"
                r"|along (?:(?:the )?(?P<alike>\d+) |the )rows?"
                r"(?P<above> above them| between the (?:shoulder|raglan line) and the steps)?(?: to the shoulder)?"
                r"(?: \((?:(?P<one>\d+) rows? on one side, (?P<other>\d+) on the other(?:; )?)?(?P<rate>(?:about |1 from ).+)?\))?)",
                step,
            )
            assert found, f"how? {step}"
            rows = [int(n) for n in (found["alike"], found["one"], found["other"]) if n]
            assert len(rows) == (2 if found["one"] else 1 if "row" in step and not found["curve"] else 0), "which rows?"
            self.edge_ends |= set(re.findall(r" to the (shoulder|raglan line)", step))
            n = int(found["n"])
            assert not found["across"] or "across" in self.one_each, "how many from each stitch across?"
            assert not (found["steps"] or found["curve"]) or "in steps" in self.one_each, "how many from each in steps?"
            assert not found["curve"] or int(found["stepped"]) + int(found["beside"]) == n, f"{n} along the curve"
            if rows:
                self.along_rows(n, rows[0], rows[-1], there, above=bool(found["above"]))
            if found["rate"]:
                self.leads_to(n, (rows[0] + rows[-1]) / 2, found["rate"])
            whole += n
            walked += [n] if not found["middle"] else []
        if back:
            found = re.fullmatch(r"(\d+(?:, \d+)*(?: and \d+)?) along the other side", back)
            assert found, f"how back? {back}"
            returned = [int(n) for n in re.findall(r"\d+", found[1])]
            whole += sum(returned)
            for out in reversed(walked):
                home = returned.pop(0) if returned and returned[0] in (out, out - 1) else 0
                assert home or out == 1, f"{out} on one side and {home} on the other"
            assert not returned, f"{returned} only on one side"
        assert whole == stitches, f"{whole} are not {stitches}"

    def along_rows(self, stitches: int, least: int, most: int, text: str, *, above: bool) -> None:
        """Not more than one stitch is in a row; the rows are those that the fingers meet there, as they were knitted."""
        assert ("along the steps" in text) == above, "along which rows?"
        assert not above or stitches <= most, f"{stitches} stitches out of {most} rows"
        assert "above them" not in text or re.search("along the steps, [^,]+ above them", text), "above what?"
        counted_on = all(rows == sorted(rows) for rows in self.waiting.armholes.values())  # not from 1 again
        if "above them" in text and counted_on:
            pairs = (pairwise(rows) for rows in self.waiting.armholes.values())
            knitted = [next((until - row for row, until in pair if until - row > 2), None) for pair in pairs]
            assert None in knitted or sum(knitted) == least + most, f"{knitted} rows of the armholes are there"  # type: ignore[arg-type]
        found = re.search(r" the (?:(left|right) )?(front|back)$", self.edge)
        sides = (found[1],) if found and found[1] else tuple(OTHER)
        knitted = {self.waiting.neck_rows.get(f"{found[2]} {side}") for side in sides} if found else {None}
        assert None in knitted or knitted == {least, most}, f"{knitted} rows of the neck edge are there"

    @staticmethod
    def leads_to(stitches: int, rows: float, rate: str) -> None:
        """A rate, followed to the letter and rounded, gives its stitches; with what is said to come to it or to go."""
        said = re.fullmatch(
            r"(?:about (\d+) for every (\d+)|1 from each)(?:, (?:(?:and|but) (\d+) (more|fewer) (?:in all|on each side)|skipping (\d+)(?: where there are \d+)?))?",
            rate,
        )
        assert said, f"what rate? {rate}"
        leads = rows * int(said[1] or 1) / int(said[2] or 1)
        more = int(said[3] or said[5] or 0) * (1 if said[4] == "more" else -1)
        missed = abs(stitches - leads - more)
        assert missed < 0.5 or (missed == 0.5 and (more or rows % 1)), (
            f"leads to {leads:.1f} stitches{more:+}, not to {stitches}"
        )

    def rows_picked_up_take_the_fabric(self) -> None:
        """A row that picks stitches up belongs to what is worked on them."""
        self.piece.rows[:] = [replace(r, fabric=self.fabric) if not r.fabric else r for r in self.piece.rows]  # type: ignore[arg-type]

    def rib_comes_out(self, text: str, stitches: int) -> None:
        """A rib that closes in the round, or is alike at both ends of a right-side row."""
        half = int(text[1])
        if "all around" in text and not any(e.where == "centre" for r in self.piece.rows for e in r.events):
            assert stitches % (2 * half) == 0, f"{stitches} stitches do not close the rib"
            front = self.centered[: stitches // 2]  # rounds begin at the left side, and go over the front first
            never = (stitches // 2 - half) % 2 == 1  # alike it is k m, p h, (k h, p h) so often, k m
            assert self.piece.name != "body" or (not front if never else front and front == front[::-1]), "off center"
        elif "at both ends" in text:
            assert stitches % (2 * half) == half, f"{stitches} stitches do not begin and end with k{half}"

    def rib_of_a_round(self, text: str) -> str:
        """The stitches of each round of "k1, [p2, k2] to the last 3 stitches, p2, k1": columns that close."""
        wide = int(re.findall(r"[kp](\d)", text.partition("[")[2])[0])
        told = re.fullmatch(r"(?:(k\d), )?\[(.+)\] to the (?:end of the round|last (\d) stitch(?:es)?, (.+))", text)
        assert told, f"which stitches? {text}"
        before, repeat, after = (
            "".join(s[0] * int(s[1:]) for s in steps_in(part)) if part else "" for part in (told[1], told[2], told[4])
        )
        times, odd = divmod(self.stitches - len(before) - int(told[3] or 0), len(repeat))
        assert not odd, f"{text} on {self.stitches} stitches"
        assert len(after) == int(told[3] or 0), text
        letters = before + repeat * times + after
        assert all(letters[i] != letters[(i + wide) % len(letters)] for i in range(len(letters))), f"no rib: {text}"
        return letters

    def understand(
        self, clause: str, rows: range, sides: dict[int, str], claims: list[str]
    ) -> Iterable[tuple[int, Event]]:
        """The events of one clause, with their rows."""
        wrong_side = sides[rows[0]] == "WS"
        of_panels = list(self.waiting.panels.event(clause, self.piece.name, self.stitches, wrong_side, walked))
        if of_panels:
            assert len(rows) == 1, f"on which row? {clause}"
            return [(rows[0], event) for event in of_panels]
        for pattern, handler in CLAUSES.items():
            found = re.fullmatch(pattern, clause)
            if found:
                if handler == "shape":
                    return self.shape(clause, found.groupdict(), rows, sides)
                assert len(rows) == 1, f"on which row? {clause}"
                single = getattr(self, handler)(found.groupdict(), claims)
                return [(rows[0], event) for event in single]
        raise AssertionError(f"cannot tell what is done: {clause}")

    def shape(
        self, clause: str, said: dict[str, str | None], rows: range, sides: dict[int, str]
    ) -> Iterator[tuple[int, Event]]:
        """Stitches added, taken or left unworked at one place, on one row or several."""
        n = int(said.get("n") or 0)
        assert not n or f" {n} stitch{'' if n == 1 else 'es'} " in clause, "one stitch, two stitches"
        assert said.get("when") or len(rows) == 1, f"on which row? {clause}"
        if said.get("first"):
            assert int(said["first"] or 0) + int(said["last"] or 0) == n, f"not {n} in all"
        if said.get("steps"):
            steps = [stitches_of(s) for s in steps_in(said["steps"] or "")]
            assert sum(used for used, _ in steps) == self.stitches, f"steps are not for {self.stitches} stitches"
            change = sum(left - used for used, left in steps)
            assert change == (n if said["do"] == "increase" else -n), f"the steps change {change} stitches"
        for row in rows_named(said["when"] or "") if said.get("when") else rows:
            assert row in sides, f"row {row} is not in this line: {clause}"
            do = DO.get(said["do"] or "", said["do"] or "")
            for place in re.split(r"(?: and|,) (?:at|on) ", said["place"] or ""):
                for where, count, line in self.where(do, place, n, sides[row]):
                    yield row, Event(do, where, count, line)  # type: ignore[arg-type]

    def where(self, do: str, place: str, n: int, side: str) -> list[tuple[str, int, str]]:
        """Edges as worn, stitches and lines of one place in the words."""
        own = next((s for s in OTHER if self.is_front and s in self.piece.name), "") or next(
            (s for s in OTHER if f"{s} shoulder" in self.piece.name), ""
        )
        start = self.begins if side == "RS" else OTHER[self.begins]
        body = self.piece.name == "body"
        match place:
            case "the beginning" | "the end":
                assert side != "round", "a round has no edge to begin or end at"
                turned = do == "short-row"
                assert turned == (place == "the end")
                assert n > 1 or do != "bind-off", "a single stitch is decreased"
                return [(OTHER[start] if turned else start, n, self.why_turned() if turned else "")]
            case "both ends":
                assert side != "round"
                return [("both", n, "")]
            case "both side markers":
                assert body, "which markers?"
                return [("both", 2 * n, "")]
            case "the marker ahead" | "the beginning of the round" | "the second marker" if do == "short-row":
                assert self.two_markers, "which markers?"
                assert self.wrong_side_first == self.turned_first == (self.piece.worked == "round"), (
                    "how do they begin?"
                )
                assert n or (side == "WS") == (place == "the second marker")
                return [(OTHER[start], n, self.why_turned())]
            case "the marker":
                assert self.is_sleeve
                assert side == "round"
                return [("both", n, "")]
            case "the outer edge":
                assert own, "which edge?"
                return [(own, n, "")]
            case "the neck edge" | "neck edge":
                assert own, "which neck edge?"
                # A left front or left shoulder has the neck at its other edge; nothing is bound off at the end of a row.
                assert do != "bind-off" or start == OTHER[own], "bound off where the row does not begin"
                return [(f"neck-{own}", n, "")]
            case "left neck edge" | "right neck edge":
                edge = place.split(maxsplit=1)[0]
                assert do != "bind-off" or start == edge, "bound off where the row does not begin"
                assert do != "cast-on" or start == OTHER[edge], "cast on where the row does not end"
                return [(f"neck-{edge}", n, "")]
            case "both neck edges":
                return [("neck-left", n, ""), ("neck-right", n, "")]
            case "both sides of each raglan line":
                return [("across", 8 * n, "all lines")]
            case "the body side of each raglan line" | "the sleeve side of each raglan line":
                assert self.waiting.sides_told or self.read_before, "which side of which marker?"
                return [("across", 4 * n, place.split()[1] + " side")]
            case "in the middle of the front" | "the middle of the front":
                return [("centre", n, "")]
            case "evenly across":
                return [("across", n, "")]
            case "the underarm":
                assert self.is_sleeve
                return [("underarm", n, "")]
        raise AssertionError(f"cannot tell where that is: {place}")

    def why_turned(self) -> str:
        """Short rows over the front before the armholes are a dart, those of a yoke raise the back."""
        if self.piece.name == "yoke":
            assert self.over == "back" or self.piece.worked == "flat"
            return "raised back"
        if self.over:
            assert self.over == "front"
            return "dart"
        return "dart" if self.is_front and not self.past_underarm and "shoulder" not in self.piece.name else ""

    def buttonholes(self, said: dict[str, str], claims: list[str]) -> list[Event]:
        """Two stitches bound off for each buttonhole; the steps use up the row."""
        steps = list(steps_in(said["steps"]))
        assert sum(stitches_of(s)[0] for s in steps) == self.stitches, f"steps are not for {self.stitches} stitches"
        assert steps.count("bind off 2") == int(said["holes"])
        at, columns = 0, self.rib if len(self.rib) == self.stitches else ""  # a slip made up for has moved them
        for step in steps:
            if step == "bind off 2" and columns:
                assert self.rib[at] == "p", f"a hole begins in a knit column, at {at}"
                assert self.rib[at + 1] == "p" or self.rib.startswith("kpk"), f"a hole breaks a pair of knits, at {at}"
            at += stitches_of(step)[0]
        return [Event("bind-off", "across", 2 * int(said["holes"]))]

    def gaps(self, said: dict[str, str], claims: list[str]) -> list[Event]:
        """Two stitches cast on over each buttonhole of the row before."""
        assert self.piece.rows[-1].events == (Event("bind-off", "across", 2 * int(said["holes"])),), "over which gaps?"
        return [Event("cast-on", "across", 2 * int(said["holes"]))]

    def divide(self, said: dict[str, str | None], claims: list[str]) -> list[Event]:
        """The dividing row of a front or back; the first stitches are held, the last stay on the needle."""
        first, centre, last = (int(said.get(key) or 0) for key in ("first", "centre", "last"))
        end = f"Work each side separately: put the first {first} on a holder, keep the last {last}"
        assert end in claims, "what becomes of the two sides?"
        self.waiting.holder[self.piece.name], self.waiting.needle[self.piece.name] = first, last
        self.piece.bound_off = 0
        middle = [Event("bind-off", "centre", centre)] if centre else []
        return [
            Event("hold", self.begins, first),  # type: ignore[arg-type]
            *middle,
            Event("hold", OTHER[self.begins], last),  # type: ignore[arg-type]
        ]

    def open_neck(self, said: dict[str, str | None], claims: list[str]) -> list[Event]:
        """The round that opens a neck in the middle of the front, with which rounds begin."""
        assert next(iter(self.parts)) == "front", "the round does not begin with the front"
        self.opened = int(said["first"] or 0)
        return [Event("bind-off", "centre", int(said["centre"] or 0))]

    def walk(self, steps: str, wrong_side: bool = False) -> list[tuple[str, int, str]]:
        """The single steps of a row worked part by part: what is done, to how many stitches, and which part they are."""
        found = []
        for step in split(steps, ", "):
            parsed = re.fullmatch(r"(knit|purl|work|put|cast on) (\d+)(?: \(([a-z ]+)\))?( on a holder)?", step)
            assert parsed, f"what is {step}?"
            if parsed[1] == "work":
                panelled = any(self.next_row in at for at in self.piece.panels.values())
                assert panelled or self.next_row in self.piece.pattern, "work what?"
                found.append(("purl" if wrong_side else "knit", int(parsed[2]), parsed[3] or ""))
                continue
            assert (parsed[1] == "put") == bool(parsed[4])
            assert parsed[1] not in ("knit", "purl") or parsed[1] == ("purl" if wrong_side else "knit")
            found.append((parsed[1], int(parsed[2]), parsed[3] or ""))
        return found

    def join(self, said: dict[str, str | None], claims: list[str]) -> list[Event]:
        """Body and sleeves come onto one needle, in the order of the row; stitches of the underarms are held."""
        steps = self.walk(said["steps"] or "")
        held = [n for do, n, _ in steps if do == "put"]
        if said["begun"]:
            held.append(2 * int(said["begun"]))
            assert set(self.waiting.past_marker) == {int(said["begun"])}, "the yarn is not where the round begins"
        assert (self.piece.worked == "round") == bool(said["begun"])
        assert self.sleeves_in, "how do the sleeves lie?"
        assert held == [self.waiting.grafted] * 2, "underarms of body and sleeves are not alike"
        worked = {name: n for do, n, name in steps if do == "knit"}
        for side in OTHER:
            self.waiting.take(self.waiting.sleeves, worked[f"{side} sleeve"], side)
        assert not self.waiting.sleeves, "stitches of the sleeve are left over"
        of_body = sum(n for name, n in worked.items() if "sleeve" not in name)
        assert of_body + sum(held) == self.stitches, f"the body has {self.stitches} stitches"
        assert [do for do, _, name in steps if do == "put" or "sleeve" in name][:2] == ["put", "knit"]
        self.fabric, self.parts = "stockinette", worked
        joined = [Event("join", side, worked[f"{side} sleeve"]) for side in OTHER]  # type: ignore[arg-type]
        return [Event("hold", "underarm", sum(held)), *joined]

    def part(self, said: dict[str, str | None], claims: list[str]) -> list[Event]:
        """The sleeves of a yoke go onto holders, and stitches are cast on below each of them."""
        wrong_side = self.side_of(self.next_row) == "WS"
        steps = self.walk(said["steps"] or "", wrong_side)
        kept = {"left front": "front", "right front": "front"} if self.piece.worked == "round" else {}
        parts = [(kept.get(name, name), n) for name, n in self.parts.items()]
        assert [(name, n) for do, n, name in steps if do != "cast on"] == (parts[::-1] if wrong_side else parts), parts
        sleeves = {name: n for do, n, name in steps if do == "put"}
        assert set(sleeves) == {"left sleeve", "right sleeve"}
        below = [(do, n) for (put, _, _), (do, n, _) in pairwise(steps) if put == "put"]
        assert below == [("cast on", below[0][1])] * 2, "not the same cast on below each sleeve"
        assert [do for do, _, _ in steps].count("cast on") == 2
        self.waiting.sleeves |= {side: sleeves[f"{side} sleeve"] for side in OTHER}
        self.parts = {}
        first = steps[0][1] if steps[0][0] != "put" else 0
        self.waiting.to_the_side = first + below[0][1] // 2
        holds = [Event("hold", side, sleeves[f"{side} sleeve"]) for side in OTHER]  # type: ignore[arg-type]
        return [*holds, Event("cast-on", "underarm", sum(n for _, n in below))]

    def compare(self, claims: list[str], *, changed: bool) -> None:
        """The sentences at the end of a line: stitches and lengths."""
        counted = self.piece.bound_off == 0
        for claim in claims:
            count = re.fullmatch(r"(\d+) stitches", claim)
            length = re.fullmatch(
                r"(?P<place>From cast-on|From underarm|Depth): (?:[\d.]+ cm now, )?(?P<cm>[\d.]+) cm after washing",
                claim,
            )
            if count:
                assert int(count[1]) == self.stitches, f"{self.stitches} stitches are on the needle"
                counted = True
            elif length:
                self.piece.lengths.append((self.next_row - 1, length["place"], float(length["cm"])))
            else:
                assert claim == self.one_each or claim.startswith("Work each side separately"), f"what is: {claim}"
        assert counted or not changed or self.piece.rows[-1].row == 1, "stitches change and no count is given"


def stripes_told(before: Iterable[str]) -> tuple[str, ...]:
    """The colours of the stripes, row by row, as they are told before the first row."""
    told = next(
        (
            re.search(r"^Stripes begin in the (?:row above the edging|first row, at the neck): (.+?)\. Repeat", line)
            for line in before
            if "Stripes begin" in line
        ),
        None,
    )
    parts = [re.fullmatch(r"(\d+) rows? (\w)", part) for part in told[1].split(", ")] if told else []
    assert all(parts)
    return tuple(part[2] for part in parts for _ in range(int(part[1])))  # type: ignore[index]


def read(
    instructions: Iterable[Printed], waiting: Waiting | None = None, stripes: Sequence[str] = ()
) -> list[ReadPiece]:
    """Every piece of the instructions, in their order; nothing may be left on a needle or holder.

    ``waiting`` is what pieces that were read before have left, ``stripes`` the colour of each row of the stripes.
    """
    waiting = waiting or Waiting()
    pieces: list[ReadPiece] = []
    for words in instructions:
        pieces += Knitter(words, waiting, stripes).read()
    left = waiting.needle | waiting.holder | waiting.sleeves
    assert not left, f"stitches still wait: {left}"
    for side in OTHER:
        seam = [n for name, n in waiting.shoulders.items() if side in name]
        assert not seam or (len(seam) == 2 and seam[0] == seam[1]), f"a {side} shoulder of {seam} stitches"
    return pieces
