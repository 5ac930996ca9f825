"""What a plan is worked out from at all: figures that something knitted can have, and pieces of a size that is knitted.

Questions have narrower limits and a file is held to those when it is read. These are the core's own, so that no
figure, from whatever door, ends in a sum that cannot be worked out or a garment of a million rows.
"""

from collections.abc import Iterator
from dataclasses import MISSING, fields, replace
from typing import TYPE_CHECKING, TypeVar

from workshop.core.edgings import EDGINGS, STOCKINETTE
from workshop.core.fabric.charting import MOST_CELLS
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import ADDS
from workshop.core.notes import Notes
from workshop.core.remarks import Amount, Unit
from workshop.core.wearer.fit import Targets
from workshop.project import (
    Body,
    Fit,
    GarmentChoices,
    KnittedPiece,
    Panel,
    Project,
    Reading,
    ReferenceGarment,
    StitchPattern,
    Swatch,
    TakenWay,
    Weighing,
    Yarn,
)

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

Range = tuple[float, float]
T = TypeVar("T", bound="DataclassInstance")


def _lengths(table: type, low: float, high: float) -> dict[str, Range]:
    return {f.name: (low, high) for f in fields(table) if f.name.endswith("_cm")}


BOUNDS: dict[type, dict[str, Range]] = {
    Yarn: {"ball_g": (1, 5000), "ball_m": (1, 20000), "balls": (1, 2000)},
    Swatch: {
        "needle_mm": (0.5, 60),
        "edge_stitches": (0, 50),
        "width_cm": (5, 100),
        "cast_on": (2, 1000),
        "rows": (2, 2000),
        "grams": (0.1, 2000),
        "fabric_rating": (1, 5),
        "knitting_rating": (1, 5),
    },
    StitchPattern: {"multiple": (1, 100), "plus": (0, 100), "rows": (1, 400)},
    Panel: {"repeats": (1, 50)},
    Body: _lengths(Body, 1, 300),
    ReferenceGarment: _lengths(ReferenceGarment, 1, 300),
    Fit: _lengths(Fit, -50, 150),
    GarmentChoices: _lengths(GarmentChoices, 0.1, 200),
}
"""Lowest and highest figure of each answer that is a number, in its unit; each wider than its question allows."""

COUNTED: dict[str, Range] = {"count": (0.5, 1000), "over_cm": (0.5, 200)}
PER_CM: Range = (0.1, 40)
"""Stitches or rows in a centimetre of anything knitted."""

MOST_FIBRES = 20
MOST_LINES = 400
"""Written rows of a pattern."""
MOST_PANELS = 12
"""Panels and bands of one garment."""
MOST_STITCHES, MOST_ROWS, MOST_GRAMS, MOST_CM = 1200, 2000, 20000, 300
"""Around a body, and up a garment or along a sleeve; the finest jumpers have a good half of that."""

STEPS = {
    Yarn: "fibre",
    Body: "measure",
    ReferenceGarment: "measure",
    Fit: "measure",
    GarmentChoices: "shape",
    Panel: "shape",
}
KNITTED = ("cast_on", "rows", "grams", "fabric_rating", "knitting_rating")
"""Answers about a swatch that are given once it is counted."""


def within(project: Project, notes: Notes) -> Project:
    """The project without figures that nothing knitted has; a check is raised for each of them.

    The same object comes back where there are none.
    """
    bounded = replace(
        project,
        body=_bounded(project.body, "body", notes),
        reference_garment=_bounded(project.reference_garment, "reference_garment", notes),
        fit=_bounded(project.fit, "fit", notes),
        garment=_garment(project.garment, notes),
        yarn=tuple(_yarn(y, notes) for y in project.yarn),
        swatch=tuple(_swatch(s, notes) for s in project.swatch),
        knitting=tuple(kept for k in project.knitting for kept in _knitted(k, notes)),
        taken=tuple(t for t in project.taken if _is_gauge(t, notes)),
        weighing=tuple(w for w in project.weighing if all(0 <= g <= MOST_GRAMS for g in _grams(w))),
        measured=tuple(m for m in project.measured if 0 < m.cm <= MOST_CM),
        stitch_pattern=tuple(_pattern(p, notes) for p in project.stitch_pattern),
    )
    return project if bounded == project else bounded


def _knitted(piece: KnittedPiece, notes: Notes) -> Iterator[KnittedPiece]:
    """A piece whose rows can be knitted, with those of its counts that can be; nothing where they cannot."""
    if _can_be_knitted(piece):
        low, high = COUNTED["count"], COUNTED["over_cm"]
        counts = tuple(c for c in piece.count if _is_in(c.count, low) and _is_in(c.over_cm, high))
        yield piece if counts == piece.count else replace(piece, count=counts)
    else:
        _beyond(notes, "shape", "knitting", sum(run.rows for run in piece.worked), (0, MOST_ROWS), "")


def _grams(weighing: Weighing) -> Iterator[float]:
    """All that a weighing says in grams."""
    yield from (g for g in (weighing.left_g, weighing.pieces_g, weighing.had_g) if g is not None)


def _is_in(value: float, reach: Range) -> bool:
    return reach[0] <= value <= reach[1]


def _can_be_knitted(piece: KnittedPiece) -> bool:
    """Whether rows of a piece that are said to be knitted add up, row for row, in fabrics that there are."""
    rows = [run.rows for run in piece.worked]
    if sum(rows) != piece.rows or piece.rows > MOST_ROWS or min(rows, default=1) < 1:
        return False
    there = piece.cast_on
    for run in piece.worked:
        if run.fabric != STOCKINETTE and run.fabric not in EDGINGS:
            return False
        for event in run.event:
            most = there if event.do == "increase" and event.where == "across" else MOST_STITCHES
            if not 0 <= event.stitches <= most or not 0 <= there <= MOST_STITCHES:
                return False
            if event.do == "decrease" and event.where == "across" and 2 * event.stitches > there:
                return False
            there += ADDS.get(event.do, 0) * event.stitches * (2 if event.where == "both" else 1)
    slip = abs((there if piece.stitches is None else piece.stitches) - there)
    return 0 <= there <= MOST_STITCHES and slip <= max(2, there // 4)


OWN_USE = (0.5, 2.0)
"""What one knitter uses, against what her swatch says."""


def _is_gauge(taken: TakenWay, notes: Notes) -> bool:
    """Whether the gauge of a way that was taken is one of something knitted."""
    for gauge in (taken.stitches_per_10cm, taken.rows_per_10cm):
        if gauge is not None and not 10 * PER_CM[0] <= gauge <= 10 * PER_CM[1]:
            _beyond(notes, "shape", "taken", gauge, (10 * PER_CM[0], 10 * PER_CM[1]), "per 10 cm")
            return False
    low, high = BOUNDS[Swatch]["needle_mm"]
    if taken.needle_mm is not None and not low <= taken.needle_mm <= high:
        _beyond(notes, "shape", "taken", taken.needle_mm, (low, high), "mm")
        return False
    own = taken.yarn_factor
    if own is not None and not OWN_USE[0] <= own <= OWN_USE[1]:
        _beyond(notes, "shape", "taken", own, OWN_USE, "")
        return False
    return True


def _bounded(item: T, key: str, notes: Notes) -> T:
    """A table, a yarn or a swatch without the figures that are beyond its bounds."""
    found: dict[str, float | None] = {}
    for f in fields(item):
        low, high = BOUNDS[type(item)].get(f.name, (0, 0))
        value = getattr(item, f.name)
        if f.name not in BOUNDS[type(item)] or value is None or low <= value <= high:
            continue
        found[f.name] = None if f.default is MISSING else f.default
        step = STEPS.get(type(item)) or ("gauge" if f.name in KNITTED else "swatch")
        _beyond(notes, step, f"{key}.{f.name}", value, (low, high), _unit(f.name))
    return replace(item, **found) if found else item


def _unit(name: str) -> Unit:
    units: dict[str, Unit] = {"cm": "cm", "mm": "mm", "g": "g", "grams": "g", "m": "m"}
    return units.get(name.rpartition("_")[2], "")


def _yarn(yarn: Yarn, notes: Notes) -> Yarn:
    yarn = _bounded(yarn, f"yarn.{yarn.id}", notes)
    wrong = next((p for p in yarn.fibres if not 0 < p.percent <= 100), None)
    if wrong is not None:
        _beyond(notes, "fibre", f"yarn.{yarn.id}.fibres", wrong.percent, (0, 100), "%")
    elif len(yarn.fibres) > MOST_FIBRES:
        _beyond(notes, "fibre", f"yarn.{yarn.id}.fibres", len(yarn.fibres), (1, MOST_FIBRES), "")
    else:
        return yarn
    return replace(yarn, fibres=())


def _garment(garment: GarmentChoices, notes: Notes) -> GarmentChoices:
    garment = _bounded(garment, "garment", notes)
    panels = tuple(_bounded(p, f"panel.{n}", notes) for n, p in enumerate(garment.panel[:MOST_PANELS], 1))
    many = max(len(garment.panel), len(garment.band))
    if many > MOST_PANELS:
        _beyond(notes, "shape", "garment.panel", many, (0, MOST_PANELS), "")
    stripes, rows = garment.stripe, sum(stripe.rows for stripe in garment.stripe)
    if rows > MOST_ROWS or any(stripe.rows < 1 for stripe in stripes):
        _beyond(notes, "shape", "garment.stripe", rows, (1, MOST_ROWS), "")
        stripes = ()
    return replace(garment, panel=panels, band=garment.band[:MOST_PANELS], stripe=stripes)


def _pattern(pattern: StitchPattern, notes: Notes) -> StitchPattern:
    """A pattern without figures that none has, and without a chart or lines that are larger than any."""
    key = f"stitch_pattern.{pattern.id}"
    pattern = _bounded(pattern, key, notes)
    size = max(len(pattern.chart), *(len(row) for row in pattern.chart), 0) if pattern.chart else 0
    if size > MOST_CELLS:
        _beyond(notes, "swatch", f"{key}.chart", size, (1, MOST_CELLS), "")
        pattern = replace(pattern, chart=())
    if len(pattern.lines) > MOST_LINES:
        _beyond(notes, "swatch", f"{key}.lines", len(pattern.lines), (1, MOST_LINES), "")
        pattern = replace(pattern, lines=())
    return pattern


def _swatch(swatch: Swatch, notes: Notes) -> Swatch:
    swatch = _bounded(swatch, f"swatch.{swatch.id}", notes)
    kept = tuple(r for r in swatch.reading if _is_count(r, swatch.id, notes))
    return swatch if len(kept) == len(swatch.reading) else replace(swatch, reading=kept)


def _is_count(reading: Reading, swatch_id: str, notes: Notes) -> bool:
    """Whether a reading is a count of something knitted."""
    key = f"reading.{swatch_id}.{reading.state}.{reading.along}"
    step = "gauge" if reading.state == "off needles" else "wash"
    for name, limits in COUNTED.items():
        value = getattr(reading, name)
        if not limits[0] <= value <= limits[1]:
            _beyond(notes, step, key, value, limits, "cm" if name == "over_cm" else "")
            return False
    rate = reading.count / reading.over_cm
    if not PER_CM[0] <= rate <= PER_CM[1]:
        _beyond(notes, step, key, 10 * rate, (10 * PER_CM[0], 10 * PER_CM[1]), "per 10 cm")
        return False
    return True


SHOWN_AT_MOST = 1e9


def _beyond(notes: Notes, step: str, key: str, value: float, limits: Range, unit: Unit) -> None:
    """A figure that is left out of the plan; one that is huge is shown as a billion, whatever it is."""
    value = value if abs(value) <= SHOWN_AT_MOST else SHOWN_AT_MOST if value > 0 else -SHOWN_AT_MOST
    low, high = (Amount(limit, unit) for limit in limits)
    notes.check("out-of-bounds", step=step, key=key, value=Amount(value, unit), low=low, high=high)


def beyond_knitting(cloth: Cloth, targets: Targets, sleeve_cm: float | None, notes: Notes) -> bool:
    """Whether a garment would have more stitches or rows than anyone knits; then a check says so."""
    around = max(targets.get(part) or 0.0 for part in ("chest", "waist", "hip", "upper_arm"))
    along = max(targets.get("length") or 0.0, targets.get("neck_to_cuff") or 0.0, sleeve_cm or 0.0)
    rows_per_10cm = max(cloth.rows_in(known.fabric) for known in EDGINGS.values())
    stitches, rows = around * cloth.stitches_per_10cm / 10, along * rows_per_10cm / 10
    if stitches <= MOST_STITCHES and rows <= MOST_ROWS:
        return False
    figures = {"stitches": Amount(round(stitches), "stitches"), "rows": Amount(round(rows), "rows")}
    notes.check("beyond-knitting", **figures)
    return True
