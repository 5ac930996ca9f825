"""Garments with shoulder seams: drop shoulder, square armhole and set-in sleeve are one way with three armholes.

Rows are counted from the hem; heights from the high shoulder point: the front neck is as deep as it is
measured there, the armhole ends where the slope of the shoulder begins.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace

from workshop.core.calculation import Calculation, Rounding, calculate
from workshop.core.edgings import GARTER
from workshop.core.garments import Garment, GarmentSpec, Seam, of_cm
from workshop.core.garments.body_counts import (
    Levels,
    body_across,
    check_front,
    check_front_edge,
    check_opening,
    half_of_front,
    levels,
    note_finished,
    plan_lower,
    side_seam,
    sleeve_seam,
)
from workshop.core.making import bands, necklines, panels, roles
from workshop.core.making.armholes import Armhole
from workshop.core.making.below_underarm import BodyBelowUnderarm, divided, work_lower_flat, work_lower_whole
from workshop.core.making.caps import Cap
from workshop.core.making.cloth import Cloth
from workshop.core.making.counts import fabric_of, rows_for, stitches_for
from workshop.core.making.ledger import Ledger, Piece, Schedules
from workshop.core.making.necklines import NeckDecrease, NeckShaping, crew_back
from workshop.core.making.roles import Edge
from workshop.core.making.sleeves import SleevePlan, SleeveWish, knit_sleeve
from workshop.core.notes import Notes
from workshop.core.remarks import Amount, cm
from workshop.core.sums import figure
from workshop.records import record

LEAST_SHOULDER_CM = 5.0
"""A shoulder narrower than this (2 in) is a strap (method: failure table)."""

ARM_ROOM_CM = 1.3
"""Half of what an armhole must have over the arm, 1/2 in, to pass it."""


@record
class Armholes:
    """The armhole edges of back and front: alike, but where the front is wider."""

    back: Armhole
    front: Armhole

    def edge_cm(self, cloth: Cloth) -> float:
        """Length of one whole armhole edge, front and back, in washed cm."""
        return self.back.edge_cm(cloth) + self.front.edge_cm(cloth)


ArmholeFor = Callable[[GarmentSpec, BodyBelowUnderarm, Levels], Armholes]
"""How a construction shapes its armhole; it may raise Stopped."""


@record
class Frame:
    """Everything that is counted before the first row is knitted."""

    lower: BodyBelowUnderarm
    rows: Levels
    armholes: Armholes
    neck: int
    front_neck_rows: int
    back_neck_rows: int
    steps: tuple[int, ...]
    """Steps of each shoulder."""
    armhole_cm: float
    """How deep the armhole should be: as wished for, and on to the top where a shoulder is too narrow for its slope."""

    @property
    def across(self) -> int:
        """Visible stitches of the back between the armholes."""
        return self.lower.back - 2 * self.armholes.back.taken

    @property
    def shoulder(self) -> int:
        """Stitches of one shoulder, the armhole's edge stitch included."""
        return (self.across + 2 * self.lower.edge - self.neck) // 2

    def last_step(self, spec: GarmentSpec) -> int:
        """Stitches of each shoulder that are on the needle in its last row."""
        return self.shoulder if spec.shoulder == "short-rows" else self.steps[-1]

    @property
    def half_neck(self) -> int:
        """Stitches that the neck takes from each half of an open front."""
        return self.lower.panel(roles.FRONT) - self.armholes.front.taken - self.shoulder


@record
class Sleeves:
    """Both sleeves: how they are knitted to the underarm, and what is above it."""

    plan: SleevePlan
    wish: SleeveWish
    cap: Cap | None = None

    @property
    def open_rows(self) -> int:
        """Rows at the top of a sleeve in the round that are worked back and forth, for an edge at the underarm."""
        return self.cap.rows if self.cap else self.wish.plain_rows


def neck_counts(spec: GarmentSpec, across: int, edge: int) -> tuple[int, int, int]:
    """Stitches of the neck, rows of the front neck, rows of the back neck. Rows are even, and 0 for a boat neck."""
    cloth, want = spec.cloth, spec.targets.finished
    rule = Rounding(2, (across + 2 * edge) % 2)
    neck = spec.notes.record(
        stitches_for(
            "neck.stitches",
            "Neck opening stitches",
            want["neck_width"],
            cloth.stitches_per_10cm,
            rule,
            width_name="neck width",
        )
    ).count
    if not spec.neckline.divides:
        return neck, 0, 0
    depth, drop = want["front_neck_depth"], want["back_neck_drop"]
    front = rows_for("front.neck_rows", "Front neck rows", depth, cloth.rows_per_10cm, length_name="front neck depth")
    back = rows_for("back.neck_rows", "Back neck rows", drop, cloth.rows_per_10cm, length_name="back neck drop")
    back_rows = max(2, spec.notes.record(back).count)
    return neck, max(spec.notes.record(front).count, back_rows + 2), back_rows


def front_shaping(spec: GarmentSpec, width: int, rows: int, pairs: int | None = None) -> NeckShaping:
    """The front neck in the shape wished for; in so many pairs of rows, or in all that it has."""
    pairs = max(0, rows // 2 - 1) if pairs is None else pairs
    shape: Callable[..., NeckShaping] = getattr(necklines, spec.neckline.front)
    plain_pairs = round(spec.neckline.plain_cm * spec.cloth.rows_per_10cm / 20)
    return shape(width, pairs, plain_pairs) if plain_pairs else shape(width, pairs)


SleevesFor = Callable[[GarmentSpec, Frame], Sleeves]
"""How a construction plans its sleeves; it may raise Stopped."""


def build_seamed(spec: GarmentSpec, armhole_for: ArmholeFor, sleeves_for: SleevesFor) -> Garment:
    """Knit it: all pieces, seams and finished measurements. Raises Stopped."""
    frame = frame_of(spec, armhole_for)
    return finish(spec, frame, sleeves_for(spec, frame) if spec.sleeve != "none" else None)


def knit_body(spec: GarmentSpec, frame: Frame) -> list[Piece]:
    """Front and back row by row, in pieces or in one."""
    lower, pieces = frame.lower, []
    if lower.how == "flat":
        ledgers = work_lower_flat(lower)
    else:
        whole, ledgers = divided(lower, work_lower_whole(lower))
        pieces.append(whole)
    for ledger in ledgers:
        shift = lower.front_shift(ledger.role if lower.how == "flat" else roles.BODY)
        pieces += _upper(spec, frame, ledger, shift)
    return pieces


def _upper(spec: GarmentSpec, frame: Frame, ledger: Ledger, shift: int) -> list[Piece]:
    rows, back, last = frame.rows, ledger.role is roles.BACK, frame.rows.top + shift
    keys = {"chest": ledger.stitches, "neck": frame.neck, "shoulder": frame.shoulder}
    keys["cross_back"] = frame.across + 2 * frame.lower.edge
    slope = panels.sloped(
        ledger.begins, rows.shoulder + shift + 1, frame.steps, short_rows=spec.shoulder == "short-rows"
    )
    armhole = frame.armholes.back if back else frame.armholes.front
    outer = armhole.outer(ledger.begins, rows.underarm + shift) + slope
    if ledger.side:
        return [_half_front(spec, frame, ledger, ledger.side, panels.at_edge(outer, ledger.side), last, keys)]
    if not spec.neckline.divides:
        return [_boat(rows.edge, ledger, outer, last, keys)]
    count, neck_rows = frame.neck, frame.back_neck_rows if back else frame.front_neck_rows
    if back:
        return panels.work_panel(ledger, outer, crew_back(count, max(0, neck_rows // 2 - 1)), neck_rows, last, keys)
    dividing, left = last - neck_rows + 1, frame.last_step(spec)
    shapes = (front_shaping(spec, count, neck_rows, pairs) for pairs in in_pairs(neck_rows))
    neck = next(
        (s for s in shapes if panels.neck_has_room(left, ledger.begins, outer, s, dividing)), NeckShaping(count, ())
    )
    return panels.work_panel(ledger, outer, neck, neck_rows, last, keys)


def in_pairs(neck_rows: int) -> range:
    """Pairs of rows that a front neck may take its stitches in: all that it has, then fewer."""
    return range(neck_rows // 2 - 1, 0, -1)


def _boat(edge: int, ledger: Ledger, outer: Schedules, last: int, keys: Mapping[str, int]) -> Piece:
    """Straight to the top; the last rows are garter stitch, so that the edge lies flat."""
    ledger.follow(last - edge, outer)
    ledger.follow(last, outer, GARTER)
    return ledger.piece(**keys)


def _half_front(
    spec: GarmentSpec, frame: Frame, ledger: Ledger, side: Edge, outer: Schedules, last: int, keys: Mapping[str, int]
) -> Piece:
    dividing, ledger.neck_rows = last - frame.front_neck_rows + 1, frame.front_neck_rows
    left, stitches, rows = frame.last_step(spec), frame.half_neck, frame.front_neck_rows
    tries = (half_takes(spec, stitches, rows, pairs) for pairs in in_pairs(rows))
    necks = (panels.neck_edge(side, ledger.begins, decreases, dividing) for decreases in tries)
    opened = panels.neck_edge(side, ledger.begins, half_opened(stitches), dividing)
    neck = next((neck for neck in necks if panels.has_room(left, outer, neck)), opened)
    ledger.follow(last, outer + neck)
    return ledger.piece(**keys)


def half_opened(stitches: int) -> tuple[NeckDecrease, ...]:
    """All of a half neck bound off at once."""
    return (NeckDecrease(0, stitches, decreased=False),)


def half_takes(spec: GarmentSpec, stitches: int, rows: int, pairs: int | None = None) -> tuple[NeckDecrease, ...]:
    """What one half of an open front takes at its neck edge: half the shape of a closed one, from its first row on."""
    if stitches < 1:
        return ()
    shaping = front_shaping(spec, 2 * stitches, rows, pairs)
    if shaping.centre > 1:
        half = shaping.centre // 2
        return (NeckDecrease(0, half, decreased=half == 1), *shaping.decreases)
    return tuple(replace(t, pair=t.pair - shaping.decreases[0].pair) for t in shaping.decreases)


def knit_sleeves(sleeves: Sleeves) -> list[Piece]:
    """Both sleeves with their caps, alike."""
    found: list[Piece] = []
    for side in roles.BOTH_EDGES:
        ledger = knit_sleeve(side, sleeves.plan, sleeves.wish)
        keys = {"cuff": sleeves.plan.cuff, "upper_arm": sleeves.plan.top}
        begins_after = ledger.next_row - 1
        if sleeves.open_rows and ledger.next_row > 1:
            ledger.mark("cap" if sleeves.cap else "top")
        if sleeves.open_rows and ledger.worked == "round":
            found.append(ledger.piece(**keys))
            ledger = Ledger(roles.CAP if sleeves.cap else roles.SLEEVE_TOP, "flat", ledger.stitches, side, found[-1])
        outer = sleeves.cap.outer(ledger.begins, begins_after) if sleeves.cap else ()
        ledger.follow(begins_after + sleeves.open_rows, outer)
        found.append(ledger.piece(**keys))
    return found


def finish(spec: GarmentSpec, frame: Frame, sleeves: Sleeves | None) -> Garment:
    """Knit everything, add the bands, and say what came out."""
    pieces = knit_body(spec, frame)
    if sleeves is not None:
        pieces += knit_sleeves(sleeves)
    armhole = _armhole_edge(frame, spec.cloth) if sleeves is None else None
    opening = _bands(spec, frame, pieces, armhole)
    check_opening(spec, opening)
    seams = tuple(_seams(spec, frame, sleeves))
    rows, cloth = frame.rows, spec.cloth
    edge = ("garter edge", cloth.along_cm(rows.edge, GARTER)) if rows.edge else None
    across, along = _finished(spec, frame, sleeves)
    finished = note_finished(spec, rows.top - rows.edge, rows.hem_rows, across, along, edge)
    if sleeves is not None:
        finished |= sleeves.plan.finished(spec.cloth, fabric_of(spec.hem), spec.sleeve == "long", spec.notes)
        if spec.sleeve == "long":
            finished["neck_to_cuff"] = spec.notes.record(neck_to_cuff(finished)).value
    return Garment(tuple(pieces), seams, finished, armhole=armhole)


def neck_to_cuff(finished: Mapping[str, float], address: str = "finished") -> Calculation:
    """From the middle of the back to the cuff: half the back, the cap and the sleeve, in cm."""
    width = figure("width of the back", finished.get("cross_back", finished["chest"] / 2), "cm")
    reach = width / 2 + figure("sleeve", finished["sleeve"], "cm")
    if "cap_height" in finished:
        reach = reach + figure("cap", finished["cap_height"], "cm")
    return calculate(f"{address}.neck_to_cuff", "Finished neck to cuff", reach, "cm", source="measured as it is worn")


def _bands(spec: GarmentSpec, frame: Frame, pieces: list[Piece], armhole: bands.EdgePart | None) -> int:
    """Add neckband, armhole bands and front bands; gives the stitches around the neck."""
    cloth, opening = spec.cloth, 2 * frame.neck
    below = frame.rows.top - frame.front_neck_rows + frame.lower.front_shift(roles.FRONT)
    if spec.neckline.divides:
        edge = bands.neck_edge(bands.neck_pieces(pieces), cloth)
        pieces += neck_bands(spec, edge, below, frame.rows.hem_rows)
        opening = pieces[-1].bound_off  # fewer than were picked up where the point of a V is mitred
    if armhole is not None:
        pieces += spec.bands.armholes(armhole)
    if spec.front == "open" and not spec.neckline.pointed:
        pieces += spec.bands.fronts(spec.bands.front_edge(below, frame.rows.hem_rows))
    return opening


def neck_bands(spec: GarmentSpec, edge: bands.NeckEdge, below: int, hem_rows: int) -> list[Piece]:
    """The band of the neck; of an open V front the one that goes up and down the fronts as well.

    ``below`` are the rows of a front up to where its neck begins.
    """
    opened, pointed = spec.front == "open", spec.neckline.pointed
    if not (opened and pointed):
        return [spec.bands.neck(edge, opened=opened, mitred=pointed)]
    return [spec.bands.whole(edge, spec.bands.front_edge(below, hem_rows, with_neckband=False))]


def _armhole_edge(frame: Frame, cloth: Cloth) -> bands.EdgePart:
    """A whole armhole: what is bound off first, front and back together, lies across the underarm."""
    edges = frame.armholes.back, frame.armholes.front
    first = sum(edge.bind_offs[0] for edge in edges if edge.bind_offs)
    slope_cm = frame.armholes.edge_cm(cloth) - cloth.across_cm(first)
    steps = [stitches for edge in edges for stitches in edge.bind_offs[1:] if stitches > 1]  # one alone is decreased
    rows = sum(edge.rows + frame.rows.edge - frame.rows.instead for edge in edges)
    shown = max(0, first - 2 * frame.lower.edge)  # the side seam takes a stitch of each
    return bands.EdgePart("armhole", shown, slope_cm, rows, sides=2, steps=sum(steps), step_rows=2 * len(steps))


def _seams(spec: GarmentSpec, frame: Frame, sleeves: Sleeves | None) -> Iterator[Seam]:
    cloth, lower = spec.cloth, frame.lower
    width, armhole = cloth.across_cm(frame.shoulder - lower.edge), frame.armholes.edge_cm(cloth)
    for side in roles.BOTH_EDGES:
        yield of_cm(f"{half_of_front(lower, side)} shoulder", f"back, {side} shoulder", width, "shoulder", side)
    for side in roles.BOTH_EDGES if lower.how == "flat" else ():
        yield side_seam(lower, side)
    for side in roles.BOTH_EDGES if sleeves else ():
        assert sleeves is not None
        top = 2 * sleeves.cap.edge_cm(cloth) if sleeves.cap else _sleeve_edge_cm(sleeves, spec)
        yield Seam(f"{side} sleeve, top", f"{side} armhole, front and back", None, None, top, armhole, "armhole", side)
        if spec.worked == "flat":
            yield sleeve_seam(side, sleeves.plan)


def _sleeve_edge_cm(sleeves: Sleeves, spec: GarmentSpec) -> float:
    """Top of a straight sleeve and, for a square armhole, the plain rows sewn to the bound-off stitches."""
    cloth = spec.cloth
    top = cloth.across_cm(sleeves.plan.top - 2 * sleeves.plan.edge)
    return top + 2 * cloth.along_cm(sleeves.wish.plain_rows)


def _finished(spec: GarmentSpec, frame: Frame, sleeves: Sleeves | None) -> tuple[dict[str, float], dict[str, int]]:
    lower = frame.lower
    across = body_across(lower) | {"neck_width": float(frame.neck), "shoulder": float(frame.shoulder - lower.edge)}
    along = {"armhole_depth": frame.rows.armhole_rows - frame.rows.instead}
    if frame.armholes.back.taken:
        across["cross_back"] = float(frame.across)
    if spec.neckline.divides:
        along |= {"front_neck_depth": frame.front_neck_rows, "back_neck_drop": frame.back_neck_rows}
    if sleeves is not None:
        across["upper_arm"] = float(sleeves.plan.top - 2 * sleeves.plan.edge)
        if sleeves.cap:
            along["cap_height"] = sleeves.cap.rows
    return across, along


def _check_room(spec: GarmentSpec, frame: Frame) -> None:
    """What cannot be knitted, or would not be worn. Raises Stopped where it cannot."""
    cloth, want, rows, notes = spec.cloth, spec.targets.finished, frame.rows, spec.notes
    neck_start = rows.top - frame.front_neck_rows
    if rows.underarm < rows.hem_rows + 2 or neck_start < rows.hem_rows + 2:
        more = cm(cloth.along_cm(rows.hem_rows + 2 - min(rows.underarm, neck_start)))
        length, armhole = cm(want["length"]), cm(want["armhole_depth"])
        notes.check("body-too-short", length=length, hem=cm(spec.hem_cm), armhole=armhole, more=more)
    elif frame.lower.open:
        check_front_edge(spec, neck_start, rows.hem_rows)
    highest = rows.underarm + (0 if frame.lower.how == "flat" and not frame.lower.open else 2)
    if neck_start < highest and frame.front_neck_rows:
        neck, less = cm(want["front_neck_depth"]), cm(cloth.along_cm(highest - neck_start))
        notes.check("neck-below-underarm", neck=neck, armhole=cm(cloth.along_cm(rows.top - rows.underarm)), less=less)
    _check_shoulder(spec, frame)
    arm, depth = spec.wearer.cm("upper_arm"), frame.armhole_cm
    if spec.sleeve != "none" and arm is not None and depth < arm / 2 + ARM_ROOM_CM:
        notes.check("armhole-tight", depth=cm(depth), round=cm(2 * depth), arm=cm(arm))
    notes.end_if_stopped()


def _check_shoulder(spec: GarmentSpec, frame: Frame) -> None:
    """Whether the neck leaves a front and shoulders."""
    cloth, notes = spec.cloth, spec.notes
    shoulder_cm = cloth.across_cm(frame.shoulder)
    if frame.lower.open and frame.half_neck < 1 and spec.neckline.divides:
        check_front(spec, 1 - frame.half_neck)
    if frame.shoulder < 2 + frame.lower.edge:
        neck, across = cm(spec.targets.finished["neck_width"]), cm(cloth.across_cm(frame.across))
        less = cm(cloth.across_cm(2 * (2 + frame.lower.edge - frame.shoulder)))
        notes.check("no-shoulder", neck=neck, across=across, less=less)
        return
    if shoulder_cm < LEAST_SHOULDER_CM and not spec.wearer.child:
        notes.check("shoulder-narrow", shoulder=cm(shoulder_cm))
    if frame.armhole_cm > spec.targets.finished["armhole_depth"]:
        deep, shown = cm(cloth.along_cm(frame.rows.armhole_rows)), frame.shoulder - frame.lower.edge
        notes.check("shoulder-level", shoulder=Amount(shown, "stitches"), armhole=deep)


def frame_of(spec: GarmentSpec, armhole_for: ArmholeFor) -> Frame:
    """All counts of the body, with the armhole that the construction wants. Raises Stopped."""
    slope = spec.targets.finished["shoulder_drop"] if spec.shoulder != "straight" and spec.neckline.divides else 0.0
    rows = levels(spec, slope)
    lower = plan_lower(spec, rows)
    armholes = armhole_for(spec, lower, rows)
    across = lower.back - 2 * armholes.back.taken
    neck, front_rows, back_rows = neck_counts(spec, across, lower.edge)
    if spec.shoulder == "short-rows" and back_rows:  # divided before the first turn: a turned row has no other end
        back_rows = max(back_rows, rows.top - rows.shoulder + 2)
        front_rows = max(front_rows, back_rows + 2)
    shoulder = (across + 2 * lower.edge - neck) // 2
    slope_rows = rows.top - rows.shoulder
    steps = panels.shoulder_steps(shoulder, slope_rows) if shoulder > 1 else (shoulder,)
    depth = spec.targets.finished["armhole_depth"]
    if len(steps) == 1 and slope_rows:  # too narrow for a slope: the armhole goes on to the top
        rows, depth = replace(rows, shoulder=rows.top), depth + slope
        armholes = armhole_for(replace(spec, notes=Notes()), lower, rows)
    frame = Frame(lower, rows, armholes, neck, front_rows, back_rows, steps, depth)
    _check_room(spec, frame)
    return frame
