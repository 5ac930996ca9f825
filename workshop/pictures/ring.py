"""A body and the yoke over both its shoulders, as the garment lies flat: half of its round is seen.

Works from the stitches of each row alone, so that a round yoke, a raglan and a yoke from the neck are one thing.
Where the front neck opens, the picture is the front's.
"""

from collections.abc import Sequence
from itertools import takewhile

from workshop.core.making.centre_panels import wider_cm
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Event, Piece, Row
from workshop.core.making.roles import BODY, YOKES
from workshop.pictures.edgeline import EdgeLine, edge_at
from workshop.pictures.outline import Measure, Outline, Point, across, along, closed, worth_drawing
from workshop.pictures.rows import AT_NECK, edging_cm, levels
from workshop.records import record


@record
class Round:
    """A row on its way up the picture: stitches all round with the open neck, and those of the opening."""

    row: Row
    yoke: bool
    height: float
    around: float
    opening: float


def ring(pieces: Sequence[Piece], cloth: Cloth) -> Outline | None:
    """Outline of body and yoke; None where there is no yoke."""
    body = next((p for p in pieces if p.role is BODY), None)
    yokes = [p for p in pieces if p.role in YOKES]
    if body is None or not yokes:
        return None
    from_neck = body.parent is not None
    rounds = _rounds([*yokes, body] if from_neck else [body, *yokes], cloth, from_neck)
    underarm = sum(r.height for r in rounds if not r.yoke)
    top = sum(r.height for r in rounds)
    lower = _edge([r for r in rounds if not r.yoke], 0.0, cloth, smooth=False)
    upper = _edge([r for r in rounds if r.yoke], underarm, cloth, smooth=True)
    neck, widest = _neck(rounds, cloth), max(lower.at(0.0), lower.x, upper.start[0])
    hem, raised = edging_cm([r.row for r in rounds], cloth), _raised_back(yokes, upper.x, top, cloth)
    right = [*lower.points(underarm), *upper.points(top)]
    side = neck.points(top)
    points = [*right, *reversed(side), *_mirrored(side), *reversed(_mirrored(right))]
    highest = max((y for _, y in raised), default=top)
    return Outline(
        "body",
        closed(points if neck.x else [*right, *reversed(_mirrored(right))]),
        worth_drawing(
            [
                *_measures(lower, upper, hem, underarm, top, highest, bool(neck.x)),
                *([along("back raised", widest, top, highest, "right")] if raised else []),
            ]
        ),
        caption="body and yoke",
        edging_cm=hem,
        behind=raised,
        opening=((0.0, 0.0), (0.0, side[0][1])) if body.worked == "flat" else (),
    )


def _raised_back(yokes: Sequence[Piece], half: float, top: float, cloth: Cloth) -> tuple[Point, ...]:
    """The edge of a neck that short rows raise, above the front: from where it rises over the back to the other side.

    A short row ends at a turn, so many stitches beyond the front; the sides of the flat garment lie a quarter of the
    round from its middle.
    """
    front = sum(count for y in yokes for m in y.marks if m.what == "raise" for _, count in m.counts) / 2
    rows = [r for y in yokes for r in y.rows if any(e.line == "raised back" for e in r.events)]
    turns = {(front + r.events[0].stitches) / r.before for r in rows}
    raised = len(rows)
    if not turns:
        return ()
    points: list[Point] = []
    for i, share in enumerate(sorted(turns)):
        at = half * share / 0.25 if share < 0.25 else half * (0.5 - share) / 0.25
        points.append((at, top + cloth.along_cm(raised * i / len(turns))))
        if i == len(turns) - 1:
            points.append((half if share < 0.25 else at, top + cloth.along_cm(raised)))
    return (*points, *((-x, y) for x, y in reversed(points)))


def _rounds(chain: Sequence[Piece], cloth: Cloth, from_neck: bool) -> list[Round]:
    """All rows from the hem up."""
    found: list[Round] = []
    opened = 0.0
    for piece in reversed(chain) if from_neck else chain:
        rows = list(levels(piece, 0.0, cloth))
        for level in reversed(rows) if from_neck else rows:
            row, yoke = level.row, piece.role is not BODY
            at_neck = sum(e.stitches for e in row.events if yoke and e.where in AT_NECK and e.change) if yoke else 0
            opened += 0 if from_neck else at_neck
            last = row is piece.rows[-1] and piece is not chain[-1]
            waiting = sum(_on_hold(e) for e in row.events) if last else 0
            around = (
                row.after + waiting + opened - 2 * piece.edge_stitches + wider_cm(piece, row.row) / cloth.across_cm(1)
            )
            found.append(Round(row, yoke, level.height, around, opened + (_closes(row) if from_neck else 0)))
            opened += at_neck if from_neck else 0
    return found


def _closes(row: Row) -> int:
    """Stitches cast on at the neck at the end of a row: they are knitted from the next row on."""
    return sum(e.stitches for e in row.events if e.do == "cast-on" and e.where in AT_NECK)


def _on_hold(event: Event) -> int:
    """Stitches by which the last row of a part is wider than what goes on from it. The neck's are the opening.

    Those set aside still belong to the row; those cast on at the underarms do not yet.
    """
    return -event.change if event.do in ("hold", "cast-on") and event.where not in AT_NECK else 0


def _edge(rounds: Sequence[Round], y: float, cloth: Cloth, *, smooth: bool) -> EdgeLine:
    """The right edge of some rounds: a quarter of the round from the middle."""
    rows = [(cloth.row_cm(r.row, r.around) / 4, r.height) for r in rounds]
    line = edge_at((rows[0][0], y), cloth, smooth=smooth)
    line.through(rows)
    return line


def _neck(rounds: Sequence[Round], cloth: Cloth) -> EdgeLine:
    """The right edge of the neck opening; it stays at 0 where there is none."""
    closed_below = [*takewhile(lambda one: not one.opening, rounds)]
    rows = [(cloth.across_cm(one.opening) / 2, one.height) for one in rounds[len(closed_below) :]]
    neck = edge_at((rows[0][0] if rows else 0.0, sum(one.height for one in closed_below)), cloth, corner=True)
    neck.through(rows)
    return neck


def _mirrored(points: Sequence[Point]) -> list[Point]:
    return [(-x, y) for x, y in points]


def _measures(
    lower: EdgeLine, upper: EdgeLine, edging: float, underarm: float, top: float, highest: float, opened: bool
) -> list[Measure]:
    def chord(what: str, x: float, y: float, place: str) -> Measure:
        return across(what, (-x, y), (x, y), place, whole_round=True)  # type: ignore[arg-type]

    hem, chest = lower.at(edging), lower.x
    found = [chord("chest and hem", hem, 0.0, "below")]
    if abs(hem - chest) * 4 >= 0.05:
        found = [chord("hem", hem, 0.0, "below"), chord("chest", chest, underarm, "inside")]
    steps = [s for s in lower.steps if s.y > edging]
    ends = [*(s.y for s in steps[1:]), underarm]
    waist, until = min(zip(steps, ends, strict=False), key=lambda p: p[0].after, default=(None, underarm))
    if waist is not None and waist.after < min(hem, chest) - lower.stitch_cm / 2:
        found.append(chord("waist", waist.after, (waist.y + until) / 2, "inside"))
    widest = max(hem, chest, upper.start[0])
    found += [
        *([] if opened else [chord("neck", upper.x, highest, "above")]),
        along("to underarm", widest, 0.0, underarm, "right"),
        along("yoke depth", widest, underarm, top, "right"),
        along("hem to neck", -widest, 0.0, top, "left"),
    ]
    return found
