"""What is to be done between two rows: markers, where a piece stops, where yarn is broken and joined."""

from workshop.core.making.ledger import Mark, Piece
from workshop.core.making.roles import BODY, LEFT_SLEEVE, YOKE
from workshop.words.deeds import stitches
from workshop.words.parts import opening
from workshop.words.phrase import counted


def mark_words(mark: Mark, piece: Piece) -> str:
    """Something to do between two rows."""
    if mark.what == "markers" and not _wanted(piece):
        return "Mark the beginning of the round: it is at the left side, between left sleeve and front." * (
            piece.worked == "round"
        )
    if mark.what == "markers":
        told = ", ".join(f"{part.name} {count}" for part, count in mark.counts)
        begins = f"; {_round_begins(mark, piece)}" if piece.worked == "round" else ""
        return f"Hang a marker between each of these, in the order of a right-side row{begins}: {told}."
    if mark.what == "underarm" and len(piece.outer) == 1:
        return "Underarm: hang a marker in the edge stitch at the side. The armhole begins here."
    if mark.what == "cap" and piece.worked == "round":
        return "Underarm of the sleeve: the marker is its middle."
    if mark.what == "top" and piece.worked == "round":
        return (
            "From here the sleeve is worked back and forth, turning at the marker: the two open edges are sewn to the "
            "stitches bound off at the underarm."
        )
    if mark.what == "raise":
        return _raise(mark)
    if mark.what == "divide":
        return f"Underarm: divide at the side markers. {DIVIDED[piece.worked]} The back goes on first."
    if mark.what == "join":
        return _to_the_yoke(piece)
    if mark.what == "open neck":
        first = opening(mark.after_row, piece)
        return (
            f"Break the yarn. From here the yoke is worked back and forth. Slip the first {stitches(first)} of the "
            "round, the left front, to the other needle. Join the yarn at the right neck edge, right side facing."
        )
    return MARKS[mark.what]


DIVIDED = {
    "round": "The yarn is at the left side: break it. Put the front on a holder.",
    "flat": "The yarn is at the edge of the right front: break it. Put both fronts on holders.",
}
"""Where the yarn is when a body has been worked to the underarm, in rounds or in rows."""


def held_at_underarm(piece: Piece) -> int:
    """Stitches of each underarm that a body or a sleeve leaves where it is joined into a yoke; 0 where it is not."""
    return next((count for mark in piece.marks if mark.what == "join" for _, count in mark.counts), 0)


def _to_the_yoke(piece: Piece) -> str:
    """How body and sleeves stop, so that the yarn ends where it is wanted and the underarms can be held.

    A yoke's rounds begin with the front, at the far end of the left underarm.
    """
    if piece.worked == "flat":
        return "Underarm: stop here and leave the yarn where it is, for the yoke. Now knit the sleeves."
    under = held_at_underarm(piece)
    past = f"Underarm: knit {counted(under // 2, 'more stitch', 'more stitches')}, past the marker"
    if piece.role is BODY:
        return f"{past}, and leave the yarn there, for the yoke. Now knit the sleeves."
    return (
        f"{past}. Put the last {under}, half of them on each side of the marker, on a holder. Break the yarn, leaving "
        "a long tail to graft with."
    )


def _wanted(piece: Piece) -> bool:
    """Whether the parts between markers are shaped apart: decreases all across a round yoke would run into them."""
    return not any(e.where == "across" and not e.line for r in piece.rows for e in r.events) or piece.role is not YOKE


def _raise(mark: Mark) -> str:
    """Where the markers hang between which short rows raise the back of a neck."""
    front = stitches(mark.counts[0][1])
    far = "Rows turn before the far marker, which they come to last."
    if len(mark.counts) > 1:
        return f"Short rows raise the back of the neck. Hang a marker {front} in from each front edge. {far}"
    return (
        f"Short rows raise the back of the neck. Hang a second marker {front} after the beginning of the round, where "
        f"the front ends. Turn the work: the first row is a wrong-side row. {far}"
    )


def _round_begins(mark: Mark, piece: Piece) -> str:
    """Where rounds begin; said again where the beginning is not where the knitter has just been."""
    if LEFT_SLEEVE in dict(mark.counts):
        return "the round begins at the left side, between left sleeve and front"
    if piece.parent and piece.parent.role is YOKE:
        return "knit on to the middle of the left underarm, for from here the round begins at the left side"
    return "the round begins at the left side"


MARKS = {
    "underarm": "Underarm: hang a marker in each edge stitch. The armhole begins here.",
    "cap": "Underarm of the sleeve: hang a marker in each edge.",
    "top": "Hang a marker in each edge: the rows above it are sewn to the stitches bound off at the underarm.",
    "join neck": "The front edges meet in the next round. Up to the underarm rounds begin at the left edge of the "
    "neck, where the yarn is: mark it.",
    "divide from neck": "Underarm: try the yoke on before you go on. Body and sleeves are knitted apart from here.",
}
