"""What a knitter types at the needles, in the app's field and in the plain mode: one sentence, one change.

    62                                row 62 is the last one knitted
    done 2 / back 1                   rows
    count 27.5 over 12, 27 over 12    stitches on the piece, place by place
    left 342                          grams of yarn that are left

Each is a word of ``SAYINGS``. Nothing is worked out here.
"""

import re
from collections.abc import Callable, Mapping
from datetime import date
from typing import Literal

from workshop import at_needles as needles
from workshop.at_needles import NotKnitted
from workshop.core.knitting.before import Before
from workshop.core.knitting.lost_row import candidates, nearest_counts
from workshop.core.knitting.needles import Needles, PieceStanding, at_the_needles
from workshop.core.knitting.on_the_tape import on_the_tape_cm, row_at
from workshop.core.plan import Plan
from workshop.planned import plan as planned
from workshop.project import Project, Units
from workshop.records import record
from workshop.units import NotUnderstood, read_length, read_mass, show_length, tidy
from workshop.visible import in_one_line
from workshop.words.at_needles import candidate_line, measured_lines, row_text
from workshop.words.changed import after_taking, after_taking_back
from workshop.words.instructions import measured_from
from workshop.words.phrase import joined
from workshop.words.rows.row_actions import noun, row_name


@record
class Heard:
    """What became of a sentence."""

    project: Project
    answer: tuple[str, ...] = ()
    """What is told in return, beside where the knitting now is."""
    about: Literal["", "count", "yarn"] = ""
    """What is answered by where the knitting now is: a count, or yarn that was weighed."""


@record
class At:
    """Where a sentence is said: the plan, the knitting, the day."""

    plan: Plan
    needles: Needles
    today: date
    before: Before | None = None
    kept: Project | None = None

    @property
    def project(self) -> Project:
        """The project as it is kept: a plan goes without the answers that don't count now."""
        return self.plan.project if self.kept is None else self.kept

    @property
    def hand(self) -> PieceStanding:
        """The piece at hand. Raises NotKnitted where there is none."""
        if self.needles.at_hand is None:
            raise NotKnitted("every piece is knitted" if self.needles.pieces else "there is no plan to knit from yet")
        return self.needles.at_hand


LONGEST_SENTENCE = needles.MOST_NOTED + 20
"""Characters of a sentence: a note of the longest kind, with its word before it."""


def heard(plan: Plan, text: str, today: date, before: Before | None = None, kept: Project | None = None) -> Heard:
    """What a typed sentence does to the project as it is ``kept``, which ``plan`` is of.

    Raises NotKnitted for one that cannot be; then nothing has changed.
    """
    at = At(plan, at_the_needles(plan, today), today, before, kept)
    try:
        text = tidy(in_one_line(text), LONGEST_SENTENCE)  # from here on no two spaces come together
    except NotUnderstood as error:
        raise NotKnitted(str(error)) from None
    if _is_number(text):
        return _row(at, text)
    word, _, rest = text.partition(" ")
    saying = SAYINGS.get(word.casefold())
    if saying is None:
        raise NotKnitted(f"'{text[:40]}' isn't understood. Type a row number, or one of: {', '.join(SAYINGS)}")
    return saying.does(at, rest.strip())


def meant(letter: str, begun: str, text: str) -> str:
    """What stands in a field where a letter was the key of a sentence, and the hand goes on to type a whole word:
    "rows ow 157" is "row 157", "lost eft 400" is "left 400".
    """
    more = text.removeprefix(begun)
    typed = (letter.upper() if more.isupper() else letter) + more
    is_word = text.startswith(begun) and any(typed.casefold().startswith(word) for word in SAYINGS)
    return typed if is_word else text


def begun_word(typed: str) -> str:
    """The end of what was typed that is the beginning of a word: "wh", and "ro" of "whro"; empty where none is."""
    ends = (typed[i:] for i in range(len(typed)))
    return next((end for end in ends if any(word.startswith(end.casefold()) for word in SAYINGS)), "")


def _number(text: str, empty: int | None = None) -> int:
    """A whole number. Raises NotKnitted."""
    if not text and empty is not None:
        return empty
    if not (text.isascii() and text.isdigit() and len(text) < 6):
        raise NotKnitted(f"'{text[:40]}' should be a whole number")
    return int(text)


def _row(at: At, text: str) -> Heard:
    return Heard(needles.moved(at.project, at.plan, at.hand, _number(text.removeprefix("row ")), at.today))


def _done(at: At, text: str) -> Heard:
    return Heard(needles.moved(at.project, at.plan, at.hand, at.hand.row + _number(text, 1), at.today))


def _back(at: At, text: str) -> Heard:
    piece = needles.last_moved(at.plan, at.needles) or at.hand
    return Heard(needles.moved(at.project, at.plan, piece, piece.row - _number(text, 1), at.today))


def _piece(at: At, text: str) -> Heard:
    """Another piece comes to hand: it is where it is, and that is the last that was said."""
    found = needles.found_piece(at.needles, text)
    if found.finished:
        return Heard(
            at.project, (f"The {found.piece.told} is knitted. To go back in it, say the row you're at again.",)
        )
    return Heard(needles.at_row(at.project, at.plan, found, found.row, at.today))


def _both(at: At, _text: str) -> Heard:
    return Heard(needles.together(at.project, at.plan, at.hand))


def _places(text: str, word: str) -> list[str]:
    """The places of a count, whose word may have been typed once more."""
    text = re.sub(rf"(?i)^{word} ", "", text)
    return [part for part in re.split(r" ?(?:, |;|\band\b) ?", text) if part] or [""]


def _count(at: At, text: str) -> Heard:
    project = needles.counted(at.project, at.plan, at.hand, "stitches", _places(text, "count"), at.today)
    return Heard(project, about="count")


def _rows(at: At, text: str) -> Heard:
    project = needles.counted(at.project, at.plan, at.hand, "rows", _places(text, "rows"), at.today)
    return Heard(project, about="count")


def _left(at: At, text: str) -> Heard:
    """Yarn left, whose word may have been typed once more, and what is knitted; in grams where no unit is said."""
    said = re.sub(r"^left ", "", text.casefold())
    weights = re.split(r"[,;]? ?\b(?:pieces?|knitted) ?", said, maxsplit=1)
    try:
        left, *knitted = [read_mass(weight).value for weight in weights]
    except NotUnderstood:
        wanted = "Say what is left in grams: 342, or 342, pieces 210"
        raise NotKnitted(f"'{text[:40]}' isn't a weight. {wanted}") from None
    pieces = knitted[0] if knitted else None
    project = needles.weighed(at.project, at.plan, at.needles, left, at.today, pieces)
    nothing = not any(p.rows_knitted for p in at.needles.pieces)
    return Heard(
        project,
        ("Kept. Once you've knitted some rows, weigh again to see if the yarn lasts.",) if nothing else (),
        about="yarn",
    )


def _take(at: At, text: str) -> Heard:
    project = needles.taken(at.project, at.plan, at.needles, text.casefold(), at.today, at.before)
    return Heard(project, after_taking(at.plan, planned(project)))


def _undo(at: At, _text: str) -> Heard:
    project = needles.untaken(at.project, at.today)
    told = ("Taken back. The plan uses the counts it had before.", *after_taking_back(at.plan, planned(project)))
    return Heard(project, told)


def _slip(at: At, text: str) -> Heard:
    hand = at.hand
    project = needles.slipped(at.project, hand, _number(text), at.today)
    known = project.knitted(hand.piece.name)
    right = known is None or known.stitches is None
    if right:
        return Heard(project, ("That's what the plan says.",))
    of_which = f" for the {hand.piece.told}" if known and known.beside else ""
    return Heard(project, (f"Noted{of_which}. {_put_right(at, project)}",))


def _put_right(at: At, project: Project) -> str:
    """The first row that is knitted otherwise, so that the count on the needle becomes the plan's again."""
    before, now = at.hand.piece, needles.found_piece(at_the_needles(planned(project), at.today), at.hand.piece.name)
    rows = zip(now.piece.rows[at.hand.rows_knitted :], before.rows[at.hand.rows_knitted :], strict=False)
    changed, was = next(((row, was) for row, was in rows if row.events != was.events), (None, None))
    if changed is None or was is None:
        return "The next rows will put the count right, as written here."
    name, at_once = row_name(changed, now.piece).capitalize(), changed.after == was.after
    puts = "puts it right" if at_once else "is the first of those that put it right"
    return f"{name} {changed.row} {puts}: {row_text(now.piece, changed, project)}"


def _ball(at: At, text: str) -> Heard:
    lot = f", {text}" if text else ""
    return Heard(needles.remarked(at.project, at.hand, f"new ball{lot}", at.today), ("Noted in the log.",))


def _finished(at: At, text: str) -> Heard:
    """What the garment measures after its wash: "chest 104.5"."""
    match = re.fullmatch(r"(?P<what>[a-z ]+?) (?P<length>\d.*)", text.casefold())
    if match is None:
        raise NotKnitted(f"'{text[:40]}': say what was measured after the wash, and its length: chest 104.5")
    try:
        length_cm = read_length(match["length"], at.project.units).value
    except NotUnderstood as error:
        raise NotKnitted(str(error)) from None
    project = needles.measured(at.project, at.plan, match["what"], length_cm, at.today)
    return Heard(project, measured_lines(at.plan, project.measured[-1:]))


def _note(at: At, text: str) -> Heard:
    return Heard(needles.remarked(at.project, at.needles.at_hand, text, at.today), ("Noted in the log.",))


# ── a lost row ───────────────────────────────────────────────────────────────────────────────────────

LOST = re.compile(r"(?P<stitches>\d{1,4}) ?(?:sts?|stitches)?(?: ?[, ] ?(?P<since>\d{1,4}) ?(?:rows?|rounds?)?)?")
MOST_TOLD = 8
"""Candidates that are read out; of more only how many there are."""


def _lost(at: At, text: str) -> Heard:
    """Rows that the last one may be, from stitches and rows since the last shaping, or from the tape."""
    match = LOST.fullmatch(text.casefold())
    if match is None:
        return Heard(at.project, (_by_tape(at, text),))
    piece, stitches = at.hand.piece, int(match["stitches"])
    since = int(match["since"]) if match["since"] else None
    found = candidates(piece, stitches, since)
    if len(found) > MOST_TOLD:
        unit, figures = f"{noun(piece)}s", FIGURES[at.project.units]
        many = f"{len(found)} {unit} leave {stitches} stitches, between {unit} {found[0].row} and {found[-1].row}."
        more = "" if since is not None else " Count the plain rows since the last shaping too, or"
        how = f"measure, as in 'lost {figures['long']} {at.project.units}'."
        return Heard(at.project, (f"{many}{more} {how if more else how.capitalize()}",))
    if found:
        lines = tuple(candidate_line(one, piece, at.project) for one in found)
        how = "Type the number of the row that fits." if len(found) > 1 else f"Type {found[0].row} to go there."
        return Heard(at.project, (*lines, how))
    if since is not None and candidates(piece, stitches):
        rows = sorted({one.since for one in candidates(piece, stitches)})
        reach = f"{rows[0]} to {rows[-1]}" if len(rows) > 1 else str(rows[0])
        raise NotKnitted(f"with {stitches} stitches there can be {reach} rows above the last shaping, but not {since}")
    near = joined(nearest_counts(piece, stitches))
    raise NotKnitted(
        f"no row of the {piece.told} has {stitches} stitches. The nearest counts are {near}. Have you dropped a stitch?"
    )


def _by_tape(at: At, text: str) -> str:
    """The rows of a length on the needles, as a range."""
    try:
        length_cm = read_length(text, at.project.units).value
    except NotUnderstood:
        found, figures = f"'{text[:40]}': " if text else "", FIGURES[at.project.units]
        raise NotKnitted(
            f"{found}say the stitches and the plain rows since the last shaping, as in 'lost 84 12'. "
            f"Or say a length, as in 'lost {figures['long']} {at.project.units}'"
        ) from None
    start, parts = measured_from(at.hand.piece)
    rows = [row for part in parts for row in part.rows_at_the_side()]
    gauge = at.plan.gauge
    whole_cm = on_the_tape_cm(rows, gauge, at.needles.rows) if gauge else None
    if gauge is None or whole_cm is None:
        raise NotKnitted("the rows of the unwashed swatch weren't counted, so the tape can't show your row")
    if length_cm <= 0 or length_cm > LONGER * whole_cm:
        units = at.project.units
        raise NotKnitted(
            f"{show_length(length_cm, units)}: the {at.hand.piece.told} is {show_length(whole_cm, units)} long in all"
        )
    there = row_at(rows, length_cm, gauge, at.needles.rows) or (0, 0, 0)
    low, likely, high = (rows[n - 1].row if n else rows[0].row - 1 for n in there)
    here = f"By the tape, from the {start}, you're at about row {likely}, likely {low} to {high}."
    return f"{here} Look for the last shaping to be sure."


LONGER = 1.2
"""A length that is more than this of the whole piece is no length of it."""


# ── only told ────────────────────────────────────────────────────────────────────────────────────────


def _where(at: At, _text: str) -> Heard:
    return Heard(at.project)


@record
class Saying:
    """One kind of sentence. Example and meaning have places for lengths and the counts over them (``FIGURES``)."""

    does: Callable[[At, str], Heard]
    example: str
    means: str
    alone: bool = False
    """Whether its word is a sentence by itself."""


ROW_KNITTED = "Row {row} is the last one you've knitted."

SAYINGS: Mapping[str, Saying] = {
    "row": Saying(_row, "62, or row 62", ROW_KNITTED.format(row=62)),
    "done": Saying(_done, "done 2, or done", "You've knitted two more rows, or one.", alone=True),
    "back": Saying(_back, "back 3, or back", "You ripped three rows, or one was too many.", alone=True),
    "where": Saying(_where, "where", "Where you are, and what comes next.", alone=True),
    "piece": Saying(_piece, "piece left sleeve", "Go on with another piece."),
    "both": Saying(
        _both,
        "both",
        "Knit this piece and its pair at the same time, row for row. Type it again to knit one at a time.",
        alone=True,
    ),
    "count": Saying(
        _count,
        "count {stitches} over {over}, {elsewhere} over {over}",
        "{stitches} stitches over {over} {unit}, and {elsewhere} in another place. Three places are best.",
    ),
    "rows": Saying(_rows, "rows {rows} over {over}, {fewer} over {over}", "Rows on the piece, in the same way."),
    "take": Saying(_take, "take above-edging", "Choose one of the ways that a count has shown."),
    "undo": Saying(_undo, "undo", "Take back your last choice.", alone=True),
    "left": Saying(
        _left,
        "left 342",
        "You have 342 grams of yarn left. For a closer figure, weigh the knitting too: left 342, pieces 210.",
    ),
    "lost": Saying(
        _lost,
        "lost 84 12",
        "Find a lost row: 84 stitches, 12 plain rows above the last shaping. Or by the tape: lost {long} {unit}.",
    ),
    "stitches": Saying(
        _slip,
        "stitches 83",
        "You have 83 stitches, but the plan says a different number. The next rows put it right.",
    ),
    "ball": Saying(_ball, "ball lot 4711", "A new ball begins in this row, with its dye lot.", alone=True),
    "finished": Saying(
        _finished, "finished chest {chest}", "What the garment measures after its wash, compared with the plan."
    ),
    "note": Saying(_note, "note cuffs in blue", "A line for the log."),
}
"""The first word of a sentence, what it does and what it is for."""

FIGURES: Mapping[Units, Mapping[str, str]] = {
    "cm": {
        "stitches": "27.5", "elsewhere": "27", "rows": "33", "fewer": "32.5", "over": "12", "long": "30",
        "chest": "104.5",
    },
    "in": {
        "stitches": "22.5", "elsewhere": "22", "rows": "32", "fewer": "31.5", "over": "5", "long": "12",
        "chest": "41 1/4",
    },
}  # fmt: skip
"""What one would count and measure over in a unit."""


def help_in(units: Units) -> tuple[tuple[str, str], ...]:
    """What can be said, and what it is for, with figures in a unit."""
    return tuple(_with_figures(saying, units) for saying in SAYINGS.values())


def example(begun: str, units: Units) -> str:
    """How a sentence that is begun may go on; empty where there is no such sentence."""
    saying = _saying(begun.partition(" ")[0])
    return ": ".join(_with_figures(saying, units)) if saying else ""


def going_on(begun: str, units: Units) -> str:
    """How a sentence goes on whose word stands in a field: what may be typed after it, and what that means."""
    if _is_number(begun.strip()):
        return ROW_KNITTED.format(row=begun.strip())
    saying = _saying(begun.partition(" ")[0])
    after = figures_after(begun.strip(), units) if begun.endswith(" ") and saying is not SAYINGS["row"] else ""
    return f"{after}: {_with_figures(saying, units)[1]}" if saying and after else example(begun, units)


def figures_after(word: str, units: Units) -> str:
    """What one may type after a word: "27.5 over 12, 27 over 12"; empty where nothing is."""
    saying = _saying(word)
    return _with_figures(saying, units)[0].partition(" ")[2].partition(", or ")[0] if saying else ""


def is_said_alone(text: str) -> bool:
    """Whether a text is a word, or the number of a row, that is a sentence with nothing after it."""
    saying = _saying(text)
    return saying is not None and (saying.alone or _is_number(text))


def _saying(word: str) -> Saying | None:
    return SAYINGS.get("row" if _is_number(word) else word.casefold())


def _is_number(text: str) -> bool:
    return text.isascii() and text.isdigit()


def _with_figures(saying: Saying, units: Units) -> tuple[str, str]:
    figures = {**FIGURES[units], "unit": units}
    return saying.example.format_map(figures), saying.means.format_map(figures)
