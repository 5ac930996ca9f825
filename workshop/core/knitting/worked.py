"""Whether rows of a save are such as the workshop writes: what is done, where in the row, and along which line.

A hand that has edited a file, or a disk that has garbled it, may have left others, from which nobody could plan on.
"""

from collections.abc import Collection, Mapping
from dataclasses import replace
from typing import Literal

from workshop.core.garments import Garment
from workshop.core.making.buttonholes import BUTTONHOLE_STITCHES
from workshop.core.making.centre_panels import PANEL
from workshop.core.making.ledger import Piece
from workshop.core.making.raglan_lines import PER_SHAPING
from workshop.core.making.roles import YOKES
from workshop.core.notes import Notes
from workshop.project import Do, KnittedPiece, Project, Where, WorkedEvent

Line = Literal["none", "raglan", "panel", "dart", "raised"]
"""What the ``line`` of an event is: none, raglan lines, a panel, or what short rows inside a piece are for."""

LINES: Mapping[str, Line] = {"": "none", "dart": "dart", "raised back": "raised"}

SHAPES: tuple[Do, ...] = ("increase", "decrease")
EDGES: tuple[Do, ...] = (*SHAPES, "bind-off", "cast-on")
SIDES: tuple[Where, ...] = ("left", "right")
ANYWHERE: tuple[Where, ...] = (*SIDES, "both", "centre", "neck-left", "neck-right", "across")
ACROSS: tuple[Where, ...] = ("across",)

PLACES: Mapping[tuple[Do, Line], Collection[Where]] = {
    **dict.fromkeys(((do, "none") for do in EDGES), ANYWHERE),
    **dict.fromkeys(((do, line) for do in SHAPES for line in ("raglan", "panel")), ACROSS),
    ("cast-on", "none"): (*ANYWHERE, "underarm"),
    ("short-row", "none"): SIDES,
    ("short-row", "dart"): SIDES,
    ("short-row", "raised"): SIDES,
    ("hold", "none"): (*SIDES, "underarm"),
    ("join", "none"): SIDES,
    ("pick-up", "none"): (*ACROSS, "underarm"),
}
"""Where in a row each thing is done, by what it is done along."""

OF_YOKES: Collection[tuple[Do, Where]] = (
    ("cast-on", "underarm"),
    ("cast-on", "centre"),
    *((do, neck) for do in ("increase", "cast-on") for neck in ("neck-left", "neck-right")),
)
"""What is only done in a yoke; elsewhere a neck edge never grows."""

IN_A_ROW: Collection[tuple[tuple[Do, Where], ...]] = (
    (),
    (("hold", "left"), ("hold", "right")),
    (("hold", "underarm"), ("join", "left"), ("join", "right")),
)
"""What is held and joined in one row: nothing, both sides of a neck or both sleeves, sleeves with their underarms."""


def as_worked(project: Project, made: Garment, notes: Notes) -> Project:
    """The project without pieces in whose rows something is done that nobody does in such a piece; a check tells each.

    The same object comes back where there are none.
    """
    pieces = {piece.name: piece for piece in made.pieces}
    wrong = [k for k in project.knitting if k.piece in pieces and not _can_be(k, pieces[k.piece])]
    for known in wrong:
        notes.check("knitting-garbled", piece=known.piece)
    return replace(project, knitting=tuple(k for k in project.knitting if k not in wrong)) if wrong else project


def _can_be(known: KnittedPiece, piece: Piece) -> bool:
    joins = any(event.do == "join" for row in piece.rows for event in row.events)
    for run in known.worked:
        aside = tuple(sorted((e.do, e.where) for e in run.event if e.do in ("hold", "join")))
        if aside not in IN_A_ROW or ("join" in dict(aside) and not joins):
            return False
        if not all(_is_one(event, in_yoke=piece.role in YOKES) for event in run.event):
            return False
    return True


def _is_one(event: WorkedEvent, *, in_yoke: bool) -> bool:
    line = _line(event.line)
    if line is None or event.where not in PLACES.get((event.do, line), ()):
        return False
    if in_yoke and event.do in EDGES and event.where in (*SIDES, "both"):
        return False
    if not in_yoke and (line in ("raglan", "raised") or (event.do, event.where) in OF_YOKES):
        return False
    if event.do == "bind-off" and event.where == "across":  # buttonholes
        holes = event.stitches // BUTTONHOLE_STITCHES
        return holes > 0 and len(event.gaps) == holes + 1 and min(event.gaps) >= 0
    return event.stitches > 0 or line in ("panel", "raised")


def _line(name: str) -> Line | None:
    if name in PER_SHAPING:
        return "raglan"
    if name.endswith(PANEL):
        return "panel"
    return LINES.get(name)
