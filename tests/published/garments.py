"""From the head of a published pattern to a plan, and the figures of both side by side in cm.

``python -m tests.published.garments`` prints every comparison (published, ours, difference, tolerance) and the yarn.
"""

import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from tests.factory import pullover, swatch
from workshop.core.cloth.density import weights_by_gauge
from workshop.core.fabric.patterns import PLAIN
from workshop.core.making.counts import SEAM_STITCHES
from workshop.core.plan import Plan, plan
from workshop.project import Body, BodyTable, Ease, Fit, GarmentChoices, Project, Yarn
from workshop.tables import bodies
from workshop.tables.trade_rules import YOUNG, ease_by_fit
from workshop.tables.yarn_weights import INCH_CM

FILE = Path(__file__).with_name("garments.toml")
DATA: dict[str, Any] = tomllib.loads(FILE.read_text(encoding="utf-8"))

YARD_M = 0.9144
CM_OF = {"in": INCH_CM, "1in": INCH_CM, "4in": 4 * INCH_CM, "cm": 1.0, "10cm": 10.0}

TOLERANCE_CM = {
    "body_width": 1.5, "neck": 1.5, "underarm": 1.5, "cap": 1.5, "cap_top": 1.5,
    "shoulder": 2.0, "armhole_depth": 2.0, "yoke_depth": 2.0, "back_yoke_depth": 2.0,
    "cross_back": 2.5,
    "upper_arm": 3.0, "neckband": 3.0, "neck_round": 3.0, "yoke_half": 3.0,
}  # fmt: skip
"""How far ours may be from a published figure; what goes round may be as far as an upper arm."""

FITS: tuple[Ease, ...] = ("very-close", "close", "standard", "loose", "oversized")


@dataclass(frozen=True, slots=True)
class Sized:
    """One size of a published garment."""

    entry: dict[str, Any]
    index: int

    @property
    def name(self) -> str:
        """Garment and size, for ids."""
        return f"{self.entry['id']}-{self.entry['sizes'][self.index]}".replace(" ", "-")

    def of(self, part: str, key: str) -> Any:
        """A figure of this size as printed, or None."""
        value = self.entry.get(part, {}).get(key)
        return value[self.index] if isinstance(value, list) else value

    def head_cm(self, key: str) -> float | None:
        """A length of the head in cm, or None."""
        value = self.of("head", key)
        return None if value is None else float(value) * CM_OF[self.entry["unit"]]

    @property
    def table(self) -> BodyTable:
        """The table of bodies that the wearer is in."""
        table = self.entry["table"]
        return table[self.index] if isinstance(table, list) else table  # type: ignore[no-any-return]

    @property
    def child(self) -> bool:
        """Whether the wearer is not grown up."""
        return self.table in YOUNG

    @property
    def flat(self) -> bool:
        """Whether it is knitted in pieces, with stitches in the seams."""
        return bool(self.entry.get("worked", "flat") == "flat")

    @property
    def per_10cm(self) -> tuple[float, float]:
        """Printed gauge as stitches and rows per 10 cm."""
        stitches, rows, per = self.entry["gauge"]
        return stitches / CM_OF[per] * 10, rows / CM_OF[per] * 10


def in_all_sizes(entries: list[dict[str, Any]]) -> Iterator[Sized]:
    """Every entry in every size."""
    for entry in entries:
        yield from (Sized(entry, i) for i in range(len(entry["sizes"])))


def finished_chest_cm(one: Sized) -> float | None:
    """Finished chest as printed, else from the stitches across the back without those in the seams."""
    printed, width = one.head_cm("chest"), one.of("head", "width")
    if printed is not None or width is None:
        return printed
    return 2 * (width - (2 * SEAM_STITCHES if one.flat else 0)) / one.per_10cm[0] * 10


def wearers_chest_cm(one: Sized, finished: float | None) -> float:
    """Chest of the wearer as printed, of the age in our table, or the finished chest less the printed or usual ease."""
    fits, age, ease = one.head_cm("to_fit"), one.of("head", "age"), one.head_cm("ease")
    if fits is not None:
        return fits
    if age is not None:
        cells = bodies.cells(one.table, "chest")
        ages = [age] if age in cells else age.split()
        return sum(cells[a].middle_cm for a in ages) / len(ages)
    assert finished is not None, one.name
    return finished - (ease if ease is not None else ease_by_fit("chest_ease", "standard", one.child))


def project_of(one: Sized) -> Project:
    """The project of a knitter who has the head of the pattern before her, and nothing else."""
    entry, (stitches, rows) = one.entry, one.per_10cm
    finished = finished_chest_cm(one)
    chest = wearers_chest_cm(one, finished)
    ease = finished - chest if finished is not None else ease_by_fit("chest_ease", "standard", one.child)
    word = min(FITS, key=lambda f: abs(ease_by_fit("chest_ease", f, one.child) - ease))
    edge_cm, fabric = 3.0 if one.child else 6.0, str(entry.get("fabric", PLAIN))
    hem = one.head_cm("hem") or edge_cm
    project = pullover(
        yarn=(Yarn("a", weight=weights_by_gauge(stitches)[0], ball_g=100.0, ball_m=200.0),),
        swatch=(replace(swatch(stitches, rows), stitch=fabric, cast_on=None, rows=None, grams=None),),
        body=Body(source="table", table=one.table, chest_cm=chest),
        fit=Fit(word, chest_ease_cm=ease),
        garment=GarmentChoices(
            construction=entry["construction"],
            worked=entry.get("worked", "flat"),
            front=entry.get("front", "closed"),
            neckline=entry.get("neckline", "crew"),
            sleeve=entry.get("sleeve", "long"),
            hem="rib-1x1",
            hem_cm=hem,
            cuff_cm=one.head_cm("cuff") or hem,
            band_cm=one.head_cm("band"),
            sleeve_cm=one.head_cm("sleeve"),
            fabric=None if fabric == PLAIN else fabric,
            fabric_fit=None if fabric == PLAIN else "whole-repeats",
        ),
    )
    project = _with_what_it_begins_with(one, project)
    return replace(project, garment=replace(project.garment, length_cm=_length_cm(one, project)))


def _with_what_it_begins_with(one: Sized, project: Project) -> Project:
    """A worked example of a part begins with a finished armhole and upper arm."""
    depth, arm = one.head_cm("armhole_depth"), one.of("head", "upper_arm_stitches")
    known = plan(project)
    if depth is not None:
        measured = known.wearer.cm("armhole_depth") or 0.0
        body = depth - (known.targets.finished["armhole_depth"] - measured)
        project = replace(project, body=replace(project.body, armhole_depth_cm=body))
    if arm is not None:
        ease = arm / one.per_10cm[0] * 10 - (known.wearer.cm("upper_arm") or 0.0)
        project = replace(project, fit=replace(project.fit, upper_arm_ease_cm=ease))
    return project


def _length_cm(one: Sized, project: Project) -> float:
    """Length as printed; else the printed length to the underarm and our own depth above; else the one we offer."""
    whole, below = one.head_cm("length"), one.head_cm("to_underarm")
    if whole is not None:
        return whole
    known = plan(project)
    if below is not None:
        return below + known.targets.finished["armhole_depth"] + known.targets.finished["shoulder_drop"]
    return float(known.offers["garment.length_cm"])  # type: ignore[arg-type]


PLANS: dict[str, Plan] = {}


def planned(one: Sized) -> Plan:
    """The plan of a garment in one size, worked out once."""
    if one.name not in PLANS:
        PLANS[one.name] = plan(project_of(one))
    return PLANS[one.name]


def ours_cm(one: Sized, figure: str, part: str) -> float:
    """A figure of our plan in cm: what is printed as a length against finished lengths, counts against counts.

    A collar begins at the neck edge of the cloth, where our neckband ends; so neck and shoulder are taken there.
    """
    made = planned(one).made
    assert made is not None, one.name
    assert made.pieces, [c.code for c in planned(one).checks]
    across, along = one.per_10cm
    if figure == "cap":
        return made.finished_cm["cap_height"]
    if figure == "back_yoke_depth":  # with the short rows that raise the back
        return sum(len(p.rows) for p in made.pieces if p.name == "yoke") / along * 10
    if part != "stitches":
        return made.finished_cm[figure]
    band = float(planned(one).offers["garment.band_cm"]) if one.entry.get("collar") else 0.0  # type: ignore[arg-type]
    return _stitches(one, figure) / across * 10 + {"neck": -2 * band, "shoulder": band}.get(figure, 0.0)


def cap_by_rule_cm(one: Sized) -> float:
    """Height of a cap by a rule in print: so much less than our armhole is deep."""
    made = planned(one).made
    assert made is not None
    return made.finished_cm["armhole_depth"] - one.of("rules", "cap") * CM_OF[one.entry["unit"]]


def _stitches(one: Sized, figure: str) -> float:
    """A count of our plan: key counts of its pieces, or what an event takes."""
    made = planned(one).made
    assert made is not None
    keys = {p.name: p.key_counts for p in made.pieces}
    back, yoke, body = keys.get("back", {}), keys.get("yoke", {}), keys.get("body", {})
    if figure in ("cross_back", "shoulder"):
        return back[figure]
    if figure == "body_width":
        return back["chest"] if back else body["chest"] / 2
    if figure == "neck":
        return back["neck"] if back else yoke["back_neck"]
    if figure == "neckband":
        return keys["neckband"]["neck"]
    if figure == "upper_arm":
        return keys["left sleeve"]["upper_arm"]
    if figure == "cap_top":
        return next(p for p in made.pieces if p.name == "left sleeve").bound_off
    if figure == "neck_round":
        return yoke["neck"]
    if figure == "yoke_half":
        return yoke["yoke"] / 2
    if figure.startswith("yoke_half_after_"):
        rounds = [
            r for p in made.pieces if p.name == "yoke" for r in p.rows if any(e.do == "decrease" for e in r.events)
        ]
        return rounds[int(figure[-1]) - 1].after / 2
    assert figure == "underarm", figure
    events = [e for p in made.pieces for r in p.rows for e in r.events]
    both = next((e.stitches for e in events if e.where == "underarm"), None)
    return both / 2 if both else next(e.stitches for e in events if e.do == "bind-off")


@dataclass(frozen=True, slots=True)
class Comparison:
    """One figure of a published garment beside ours, in cm."""

    one: Sized
    figure: str
    part: str
    """What the figure is printed as: stitches, rows, lengths; or rules, for a rule that is worked out for our plan."""

    @property
    def id(self) -> str:
        """Garment, size and figure."""
        return f"{self.one.name}-{self.figure}"

    @property
    def published_cm(self) -> float:
        """The published figure."""
        if self.part == "rules":
            return cap_by_rule_cm(self.one)
        across, along = self.one.per_10cm
        cm = {"stitches": 10 / across, "rows": 10 / along, "lengths": CM_OF[self.one.entry["unit"]]}[self.part]
        return float(self.one.of(self.part, self.figure)) * cm

    @property
    def off_cm(self) -> float:
        """How much more ours is."""
        return ours_cm(self.one, self.figure, self.part) - self.published_cm

    @property
    def met(self) -> bool:
        """Whether ours lies within the tolerance."""
        return abs(self.off_cm) <= TOLERANCE_CM[self.figure] + 1e-6

    @property
    def counted(self) -> bool:
        """Whether the figure is no input of the plan."""
        return self.figure != "body_width" or self.one.of("head", "width") is None

    def __str__(self) -> str:
        """One line: what is published, what is ours, by how much it differs and may."""
        ours = self.published_cm + self.off_cm
        tolerance = TOLERANCE_CM[self.figure]
        return f"{self.id:48}{self.published_cm:7.1f}{ours:7.1f}{self.off_cm:+7.1f}{tolerance:6.1f}"


@cache
def comparisons() -> tuple[Comparison, ...]:
    """Every figure of every garment in every size."""
    return tuple(
        Comparison(one, figure, part)
        for one in in_all_sizes(DATA["garment"])
        for part in ("stitches", "rows", "lengths", "rules")
        for figure in one.entry.get(part, {})
    )


def missed() -> dict[str, dict[str, Any]]:
    """What is listed as missed, by the id of the comparison."""
    found = {}
    for listed in DATA["missed"]:
        entry = next(g for g in DATA["garment"] if g["id"] == listed["garment"])
        for size in listed.get("sizes", entry["sizes"]):
            one = Sized(entry, entry["sizes"].index(size))
            found |= {f"{one.name}-{figure}": listed for figure in listed["figures"]}
    return found


def with_yarn() -> list[Sized]:
    """All garments whose amount of yarn is printed as a length."""
    return [one for one in in_all_sizes([*DATA["garment"], *DATA["yarn"]]) if "used" in one.entry]


def used_m(one: Sized) -> tuple[float, float]:
    """Metres used, from and to: of whole balls the last one may be hardly begun."""
    metres, yards, balls = (one.of("used", key) for key in ("metres", "yards", "balls"))
    if balls is not None:
        return (balls - 1) * one.of("used", "ball_m"), balls * one.of("used", "ball_m")
    return (metres, metres) if metres is not None else (yards * YARD_M, yards * YARD_M)


def ours_m(one: Sized) -> tuple[float, float, float]:
    """Our own amount for the garment: low, likely and high metres."""
    need = planned(one).yarn
    assert need is not None
    assert need.garment_metres is not None
    return need.garment_metres


def main() -> None:
    """Print everything; an x is a miss that the list does not have, a + one that it should not have any more."""
    listed = missed()
    for c in comparisons():
        known = c.id in listed
        mark = "." if not c.counted else ("+" if known else " ") if c.met else ("m" if known else "x")
        print(mark, c)
    counted = [c for c in comparisons() if c.counted]
    met = sum(c.met for c in counted)
    print(f"{len(DATA['garment'])} garments, {len(counted)} compared, {met} met, {met / len(counted):.1%}")
    for one in with_yarn():
        (least, most), (low, likely, high) = used_m(one), ours_m(one)
        mark = "above" if least > high else "below" if most < low else ""
        print(f"{one.name:34}{least:6.0f} to {most:5.0f} m, ours {low:5.0f} {likely:5.0f} {high:5.0f} {mark}")


if __name__ == "__main__":
    main()
