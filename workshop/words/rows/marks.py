"""What is to be done between two rows: markers, where a piece stops, where yarn is broken and joined."""

from collections.abc import Sequence

from workshop.core.making.between_markers import to_the_side
from workshop.core.making.ledger import Mark, Piece, Row
from workshop.core.making.raglan_lines import ONE_SIDE
from workshop.core.making.roles import BODY, LEFT_SLEEVE, YOKE, YOKE_TOP
from workshop.words.phrase import counted
from workshop.words.rows.parts import opening
from workshop.words.rows.row_actions import AT_LINES, in_pattern, stitches
from workshop.words.texts import texts


def mark_words(mark: Mark, piece: Piece, colour: str = "") -> str:
    """Something to do between two rows; "" where there is nothing.

    ``colour`` is the one that the next piece begins with, where the piece is in several.
    """
    said, in_round = texts("marks"), piece.worked == "round"
    match mark.what:
        case "markers" if piece.role is YOKE and piece.parent and piece.parent.role is YOKE_TOP:
            return said["begins_at_line"].format(**_yarns(mark, piece))
        case "markers" if not _wanted(piece):
            return said["beginning"] if in_round else ""
        case "markers":
            return _place_markers(mark, piece)
        case "underarm" if len(piece.outer) == 1:
            return said["underarm_half"]
        case "cap" | "top" if in_round:
            return said[f"{mark.what}_round"]
        case "divide":
            return said[f"divide_{piece.worked}"]
        case "raise":
            return said[f"raise_{piece.worked}"].format(stitches=stitches(mark.counts[0][1]))
        case "join":
            return _to_the_yoke(piece, colour)
        case "open neck":
            all_yarn, next_yarn = ("all colors", f"color {colour}") if colour else ("the yarn", "the yarn")
            left_front = stitches(opening(mark.after_row, piece))
            return said["open neck"].format(stitches=left_front, all=all_yarn, next=next_yarn)
    return said[mark.what]


def held_at_underarm(piece: Piece) -> int:
    """Stitches of each underarm that a body or a sleeve leaves where it is joined into a yoke; 0 where it is not."""
    return next((count for mark in piece.marks if mark.what == "join" for _, count in mark.counts), 0)


def last_colour(piece: Piece) -> str:
    """The letter of the colour of a piece's last row in stripes."""
    return list(piece.stripes.values())[-1].colour.upper()


def _to_the_yoke(piece: Piece, colour: str) -> str:
    """How body and sleeves stop, so that the yarn ends where it is wanted and the underarms can be held.

    A yoke's rounds begin with the front, at the far end of the left underarm.
    """
    under = held_at_underarm(piece)
    where = "flat" if piece.worked == "flat" else "body" if piece.role is BODY else "sleeve"
    said, told = texts("marks"), ""
    if colour and where != "flat":
        told = said[f"colours_{where}"] if len({at.colour for at in piece.stripes.values()}) > 1 else ""
        told += said["colours_yoke"].format(next=colour) if colour != last_colour(piece) else ""
    more = counted(under // 2, "more stitch", "more stitches")
    kept = in_pattern(piece, piece.rows[-1])
    more, work = (f"{more} in pattern", "work") if kept else (more, "knit")
    return said[f"join_{where}"].format(work=work, more=more, under=under, colours=told)


def _wanted(piece: Piece) -> bool:
    """Whether the parts between markers are shaped apart: decreases all across a round yoke would run into them."""
    events = [e for r in piece.rows for e in r.events]
    across = any(e.across for e in events) and not any(e.line in AT_LINES for e in events)
    return piece.role is not YOKE or not across


def _place_markers(mark: Mark, piece: Piece) -> str:
    """The markers of a piece, and where its rounds begin; a body from the neck comes to its side first."""
    said, told = texts("marks"), ", ".join(f"{part.name} {count}" for part, count in mark.counts)
    if piece.worked == "flat":
        return said["markers"].format(told=told, begins="")
    if LEFT_SLEEVE in dict(mark.counts):
        return said["markers"].format(told=told, begins=said["begins_yoke"])
    if piece.parent is None or piece.parent.role is not YOKE:
        return said["markers"].format(told=told, begins=said["begins_body"])
    more, first = stitches(to_the_side(piece.parent)), mark.counts[0][0].name
    return said["markers_downwards"].format(more=more, first=first, told=told, **_yarns(mark, piece))


def _yarns(mark: Mark, piece: Piece) -> dict[str, str]:
    """What is broken, and what is joined again, where the next round begins elsewhere.

    To knit on as far as there would give some stitches a row more than the rest.
    """
    several = {at.colour for p in piece.lineage() for at in p.stripes.values()}
    following = piece.stripes.get(mark.after_row + 1)
    if following is None or len(several) == 1:
        return {"all": "the yarn", "next": "the yarn"}
    return {"all": "all colors", "next": f"color {following.colour.upper()}"}


def sides_of_lines(piece: Piece, rows: Sequence[Row]) -> list[str]:
    """Which side of which marker is meant, before the first row that shapes one side of its raglan lines."""
    earlier = [r for p in piece.lineage() for r in p.rows if r.row < rows[0].row]
    here, before = (any(e.line in ONE_SIDE for r in some for e in r.events) for some in (rows, earlier))
    return [texts("leans")["one_side"]] if here and not before else []
