"""Rules of the trade, proportions, ease, stitch geometry, cautions and definitions of measurements."""

from collections.abc import Mapping
from functools import cache

from workshop.project import Body, BodyTable, Ease, Units, Weight
from workshop.records import record
from workshop.tables import read
from workshop.tables.yarn_weights import INCH_CM

CHILD_CHEST_CM = 75.0
"""Below this chest a body is counted as a child's where no table says so (common practice, no source)."""

YOUNG: tuple[BodyTable, ...] = ("babies", "children", "youth")
"""Tables of those who are not grown up."""


def for_child(body: Body) -> bool:
    """Whether a garment is for one who is not grown up: by the table, else by the chest."""
    if body.table is not None:
        return body.table in YOUNG
    return body.chest_cm is not None and body.chest_cm < CHILD_CHEST_CM


USUAL_CHEST_CM: Mapping[Units, float] = {"cm": 100.0, "in": 40 * INCH_CM}
USUAL_BODY_CM: Mapping[Units, float] = {"cm": 60.0, "in": 24 * INCH_CM}
"""Chest and length, in cm, of a garment whose own are not known: round ones in each unit."""


def window_cm(units: Units) -> float:
    """Length in cm that a gauge is counted over: 10 cm, or 4 in, which is a little more."""
    return 4 * INCH_CM if units == "in" else 10.0


def rounded_cm(usual_cm: float, units: Units) -> float:
    """A usual length, known in cm, as a knitter in these units would say it: half inches, quarters below two."""
    if units == "cm":
        return usual_cm
    inches = usual_cm / INCH_CM
    step = 0.25 if inches < 2 else 0.5
    return max(step, round(inches / step) * step) * INCH_CM


DART_FROM_CM = 7.5
"""Full bust over high bust from which bust darts are offered: about a C cup (common practice, no source)."""


@cache
def rule(name: str, part: str = "fraction") -> float:
    """A figure of one rule of the table "trade". Raises StopIteration or KeyError for a name that is none."""
    return float(next(r for r in read("trade")["rule"] if r["id"] == name)[part])


@cache
def curve(name: str) -> tuple[tuple[float, float], ...]:
    """One curve of the table "proportions": its points, each a chest and the figure for it, in cm."""
    found = next(c for c in read("proportions")["curve"] if c["id"] == name)
    return tuple(zip(found["chest_cm"], found["cm"], strict=True))


LEAST_OF_EASE = 0.4
"""Part of a usual ease that even the fullest arm keeps (common practice, no source)."""


def ease_by_fit(name: str, fit: Ease, child: bool, kind: str = "", body_cm: float = 0.0) -> float:
    """First answer for one part's ease in cm (table "proportions"), less for a child, and on a full ``body_cm``.

    Kinds of garments that want another ease than the others have rows of their own.
    """
    rows = [c for c in read("proportions")["by_fit"] if c["id"] == name]
    row = next((c for c in rows if c.get("kind", "") == kind), None) or next(c for c in rows if "kind" not in c)
    factor = row["child_factor"] if child and row[fit] > 0 else 1.0
    less = row.get("less_per_cm", 0.0) * max(0.0, body_cm - row.get("full_from_cm", body_cm))
    return float(max(row[fit] * factor - less, min(row[fit], LEAST_OF_EASE * row[fit])))


@cache
def fabric_thickness_cm(weight: Weight) -> float:
    """Thickness of the cloth for yarn thicker than medium, in cm; none is counted for thinner yarn (from memory)."""
    return next((float(t["cm"]) for t in read("proportions")["thickness"] if t["weight"] == weight), 0.0)


@cache
def k_value(name: str) -> float:
    """One of Munden's constants of fully relaxed plain knit in wool (table "textile")."""
    return float(next(k for k in read("textile")["k_values"] if k["state"] == "fully relaxed")[name])


@record
class Definition:
    """How one body measurement is taken."""

    id: str
    name: str
    kind: str
    how_to: str
    iso: str
    how: str


@cache
def definition(measure: str) -> Definition:
    """The definition of a body measurement. Raises StopIteration for a name that is none."""
    d = next(m for m in read("measuring")["measure"] if m["id"] == measure)
    iso = f"{d['iso_name']}, ISO 8559-1 {d.get('iso_number', '')}".strip() if "iso_name" in d else ""
    return Definition(d["id"], d["name"], d["kind"], d["how_to"], iso, d["how"])


MEASURER_ERROR_CM = {"large girth": 0.9, "small girth": 0.4, "segment length": 0.5}
"""Largest allowed error of skilled measurers, ISO 20685 as read in a textbook (table "measuring")."""


@cache
def ease_band(fit: Ease, edition: str = "older", units: Units = "cm") -> tuple[float | None, float | None]:
    """Published chest ease of a fit, low and high, in cm or inches as printed; None where the band is open."""
    band = next(b for b in read("ease")["band"] if b["fit"] == fit and b["edition"] == edition)
    name = "inches" if units == "in" else "cm"
    return band.get(f"{name}_low"), band.get(f"{name}_high")


@record
class CautionText:
    """A caution with the authority behind it."""

    id: str
    applies: tuple[str, ...]
    text: str
    authority: str


@cache
def cautions() -> tuple[CautionText, ...]:
    """All cautions of the table."""
    return tuple(
        CautionText(c["id"], tuple(c["applies"]), c["text"], c["authority"]) for c in read("cautions")["caution"]
    )


@cache
def rows_to_stitch() -> float:
    """Rows per cm over stitches per cm in relaxed plain knit (Munden, table "textile")."""
    return float(read("textile")["shape"]["rows_per_stitch"])
