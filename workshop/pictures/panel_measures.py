"""What a knitter measures on a back, a front or a half of an open front."""

from workshop.core.making.roles import BACK, BOTH_EDGES, Edge, other
from workshop.pictures.edgeline import EdgeLine
from workshop.pictures.outline import Measure, across, along
from workshop.pictures.rows import edging_cm
from workshop.pictures.shape import Shape


def panel_measures(shape: Shape, necks: dict[Edge, EdgeLine], top: float) -> list[Measure]:
    """All that a knitter measures on a panel."""
    underarm = shape.underarm_y(top)
    side = shape.outer[0] if len(shape.outer) == 1 else shape.piece.begins
    outer = shape.lines[side]
    steps = outer.shoulder(top)
    slope = outer.steps[-steps].y if steps else top
    tip = outer.steps[-steps].before if steps else outer.x
    neck = necks[side] if necks else shape.lines[other(side)] if len(shape.outer) == 1 else None
    found = _lower_measures(shape, underarm if underarm is not None else slope)
    if neck is not None and (necks or neck.steps):
        found += _neck_measures(shape, neck, necks, tip, top)
    elif (straight := _straight_neck(shape, top)) > 0:
        found.append(across("neck", (-straight / 2, top), (straight / 2, top), "above"))
    left, _, right = shape.span()
    if underarm is not None:
        plain_to = min(slope, neck.start[1]) if necks and neck else slope
        found += _armhole_measures(shape, outer, underarm, plain_to, abs(neck.x - tip) if neck else shape.width)
        found += [
            along("to underarm", right, 0.0, underarm, "right"),
            along("armhole", right, underarm, slope, "right"),
        ]
    if slope < top:
        found.append(along("shoulder slope", right, slope, top, "right"))
    shoulder = abs(neck.x - tip) if neck is not None else shape.width - _straight_neck(shape, top)
    whole = "length" if shoulder >= LEAST_SHOULDER_CM else "hem to neck"  # a raglan's sleeve tops lie above it
    return [*found, along(whole, left, 0.0, top, "left")]


def _lower_measures(shape: Shape, widest_at: float) -> list[Measure]:
    """Hem, waist and chest of a panel; one where hem and chest are alike. The hem is the cloth above its edging."""
    below, edging = widest_at - shape.cloth.along_cm(0.5), _above_edging(shape)
    hem, chest = (
        shape.chord("hem", edging, "below", 0.0),
        shape.chord("chest", below, "inside", max(0.0, widest_at - 0.8)),
    )
    alike = abs(hem.value_cm - chest.value_cm) < 0.05
    found = [shape.chord("chest and hem", edging, "below", 0.0)] if alike else [hem, chest]
    heights = sorted({edging, *(s.y for e in BOTH_EDGES for s in shape.lines[e].steps if edging < s.y < below), below})
    waist = min(heights[:-1], key=shape.width_at)
    if shape.width_at(waist) < min(hem.value_cm, chest.value_cm) - shape.cloth.across_cm(1):
        ends = heights[heights.index(waist) + 1]
        found.append(shape.chord("waist", (waist + ends) / 2, "inside"))
    return found


def _above_edging(shape: Shape) -> float:
    """Height just above the edging: after the row that makes up what rib and cloth differ by, before any shaping."""
    edging = edging_cm(shape.rows, shape.cloth)
    steps = [s for line in shape.lines.values() for s in line.steps if abs(s.y - edging) < 1e-6]
    return edging if all(s.sharp for s in steps) else edging - 1e-6


def _neck_measures(shape: Shape, neck: EdgeLine, necks: dict[Edge, EdgeLine], tip: float, top: float) -> list[Measure]:
    found = []
    if necks:
        right: Edge = shape.piece.begins
        middle, base = 0.0, neck.start[1]
        found.append(across("neck", (necks[other(right)].x, top), (necks[right].x, top), "above"))
    else:
        rows = shape.piece.neck_rows
        middle, base = neck.start[0], top - shape.cloth.along_cm(rows) if rows else neck.steps[0].y
        found.append(across("half neck", (min(middle, neck.x), top), (max(middle, neck.x), top), "above"))
    if (
        abs(neck.x - tip) >= LEAST_SHOULDER_CM
    ):  # a raglan's front neck depth begins above its drawing, over the shoulder
        depth = "back neck drop" if shape.piece.role is BACK else "front neck depth"
        found.append(across("shoulder", (min(tip, neck.x), top), (max(tip, neck.x), top), "above"))
        found.append(along(depth, middle, base, top, "inside"))
    return found


def _straight_neck(shape: Shape, top: float) -> float:
    """Width of a neck that is the straight top of the piece: all of it above raglans, else as the key counts say."""
    outer = shape.lines[shape.outer[0]]
    if not outer.shoulder(top) and outer.steps and top - outer.steps[-1].y < LEAST_PLAIN_CM:
        return shape.width
    return shape.cloth.across_cm(shape.piece.key_counts.get("neck", 0))


LEAST_SHOULDER_CM = 1.5
"""Less than this beside the neck is the end of a raglan, not a shoulder."""

LEAST_PLAIN_CM = 2.0
"""So much without shaping above an armhole is a width that one can measure."""


def _armhole_measures(
    shape: Shape, outer: EdgeLine, underarm: float, plain_to: float, shoulder_cm: float
) -> list[Measure]:
    """The width above the armholes, where there is a plain stretch of it below the neck."""
    shaped = [s.y for s in outer.steps if underarm - 1e-9 <= s.y < plain_to]
    if not shaped or shoulder_cm < LEAST_SHOULDER_CM or plain_to - shaped[-1] < LEAST_PLAIN_CM or len(shape.outer) == 1:
        return []
    what = "across back" if shape.piece.role is BACK else "across front"
    return [shape.chord(what, shaped[-1] + 0.3 * (plain_to - shaped[-1]), "inside")]
