"""Panels of a garment: which are wished for, how many stitches each has, and the garment with them.

A panel is counted into the width by its own gauge: W = n / g_panel + (N - n) / g. The garment is built in the stitches
of its ground, with the panel on as many of them as it is wide, and the panel put in afterwards.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from workshop.core.calculation import Rounding
from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.cloth.wash import DesignGauge
from workshop.core.constructions import construction
from workshop.core.fabric.own_gauge import gauge_in
from workshop.core.fabric.patterns import PLAIN, PLAIN_PATTERN, Pattern, pattern_of
from workshop.core.garments import Garment, GarmentSpec
from workshop.core.garments.body_counts import across_back_plain, back_rule
from workshop.core.making import roles
from workshop.core.making.centre_panels import SECTIONS, CentrePanel, Place
from workshop.core.making.counts import edging_rule, stitches_of
from workshop.core.making.panel_course import BESIDE, At, course, span_of
from workshop.core.making.panel_stitches import put_in
from workshop.core.making.roles import Section
from workshop.core.notes import Notes
from workshop.core.remarks import Amount
from workshop.core.sums import figure
from workshop.project import Panel, Project
from workshop.records import record

PLACES: dict[str, tuple[Place, ...]] = {
    "front": ("front",),
    "back": ("back",),
    "both": ("front", "back"),
    "sleeves": ("sleeve",),
}

CALLED: dict[Place, str] = {"front": "front", "back": "back", "sleeve": "sleeves"}

PUCKERS = 0.03
"""Row gauges that differ by more than this pucker side by side (method: a panel)."""


def panel_pattern(project: Project, wish: Panel) -> Pattern | None:
    """The pattern of a panel; stockinette too, in a garment of another fabric."""
    return PLAIN_PATTERN if wish.id == PLAIN else pattern_of(project, wish.id)


def with_panels(spec: GarmentSpec, chosen: DesignGauge, swatches: Sequence[MeasuredSwatch]) -> GarmentSpec:
    """The garment with its panels counted into its widths; its checks are noted.

    Where no fabric has a say, the stitches of the body are as even or odd as the panel's width asks for. Raises Stopped
    for a repeat that is wider than the piece.
    """
    wishes = list(_wished(spec))
    first = {w.pattern.id: w for w in reversed(wishes)}
    gauges = {name: _gauge(spec, w, chosen, swatches) for name, w in first.items()}
    body = next((w for w in wishes if w.on != "sleeve"), None)
    if body is not None and spec.back_repeat is None:
        wide = _stands_on(spec, body.stitches(body.repeats), gauges[body.pattern.id])
        spec = replace(spec, back_repeat=Rounding(2, Rounding()(wide) % 2))
    return replace(spec, panels=tuple(_fitted(spec, w, gauges[w.pattern.id]) for w in wishes))


@record
class _Wish:
    """One panel up the middle of one part, as it is wished for."""

    number: int
    on: Place
    pattern: Pattern
    repeats: int

    def stitches(self, repeats: int) -> int:
        """Stitches of so many repeats, with those that balance the pattern."""
        return repeats * self.pattern.multiple + self.pattern.plus


def _gauge(spec: GarmentSpec, wish: _Wish, chosen: DesignGauge, swatches: Sequence[MeasuredSwatch]) -> float:
    """Stitches of a panel to 10 cm: its own, else those of the ground, which is said."""
    found = gauge_in(spec.project, wish.pattern.id, chosen, swatches)
    if found is None:
        spec.notes.check("fabric-unswatched", pattern=wish.pattern.name, id=chosen.swatch.id)
        return spec.cloth.stitches_per_10cm
    _check_rows(spec, wish, found)
    return found.stitches.per_10cm


def _stands_on(spec: GarmentSpec, stitches: int, per_10cm: float) -> float:
    """Stitches of the ground that are as wide as so many of a panel."""
    return stitches / per_10cm * spec.cloth.stitches_per_10cm


def _wished(spec: GarmentSpec) -> Iterator[_Wish]:
    """The panels that the garment can have, one up the middle of each part."""
    taken: dict[Place, str] = {}
    for n, wish in enumerate(spec.project.garment.panel, 1):
        pattern = panel_pattern(spec.project, wish)
        if pattern is None:
            continue
        for on in PLACES[wish.on]:
            if on == "front" and spec.front == "open":
                spec.notes.check("panel-open-front", n=str(n), pattern=pattern.name)
            elif on == "sleeve" and spec.sleeve == "none":
                spec.notes.check("panel-no-sleeves", n=str(n), pattern=pattern.name)
            elif on in taken:
                spec.notes.check("panel-twice", n=str(n), part=CALLED[on], pattern=taken[on], other=pattern.name)
            else:
                taken[on] = pattern.name
                yield _Wish(n, on, pattern, wish.repeats)


def _fitted(spec: GarmentSpec, wish: _Wish, per_10cm: float) -> CentrePanel:
    """A panel with the repeats that were wished for, or with as many as there is room for. Raises Stopped."""
    room, odd = _room(spec, wish.on)
    parity = Rounding(2, odd)

    def panel(repeats: int) -> CentrePanel:
        stitches = wish.stitches(repeats)
        instead = max(parity(_stands_on(spec, stitches, per_10cm)), 2 - odd)
        return CentrePanel(wish.on, wish.pattern, stitches, instead, per_10cm, wish.number)

    for repeats in range(wish.repeats, 0, -1):
        fitting = panel(repeats)
        if fitting.instead + 2 * BESIDE <= room:
            break
    else:
        spec.notes.stop(
            "pattern-too-wide",
            pattern=wish.pattern.name,
            multiple=Amount(wish.stitches(1), "stitches"),
            stitches=Amount(room, "stitches"),
        )
    if repeats < wish.repeats:
        many = {"wished": Amount(wish.repeats, ""), "taken": Amount(repeats, "")}
        spec.notes.check("panel-repeats", **_about(fitting), **many)
    return fitting


def _about(panel: CentrePanel) -> dict[str, str]:
    """What every check of a panel names."""
    return {"n": str(panel.number), "pattern": panel.pattern.name, "part": CALLED[panel.on]}


def _room(spec: GarmentSpec, on: Place) -> tuple[int, int]:
    """Stitches of the ground across a part, and 1 where they are odd."""
    if on != "sleeve":
        exact, fuller = across_back_plain(replace(spec, notes=Notes()))
        back = back_rule(spec)(exact)
        return back + (fuller if on == "front" else 0), back % 2
    arm = stitches_of(figure("arm", spec.targets.finished["upper_arm"], "cm"), spec.cloth.stitches_per_10cm).value
    worked = "round" if construction(spec.construction).in_one_piece else spec.worked
    return int(arm), edging_rule(spec.hem, worked).remainder % 2


def _check_rows(spec: GarmentSpec, wish: _Wish, gauge: DesignGauge) -> None:
    """Whether the rows of a panel are as tall as those beside it."""
    own, ground = gauge.rows.per_10cm, spec.cloth.rows_per_10cm
    if abs(own / ground - 1) > PUCKERS:
        rows = {"panel": Amount(own, "per 10 cm"), "ground": Amount(ground, "per 10 cm")}
        spec.notes.check(
            "panel-puckers.tall" if own < ground else "panel-puckers",
            n=str(wish.number),
            pattern=wish.pattern.name,
            **rows,
        )


def built(spec: GarmentSpec, build: Callable[[GarmentSpec], Garment]) -> Garment:
    """The garment with its panels in its rows; without those for which its shaping leaves no room."""
    recorded, checked = len(spec.notes.workings), len(spec.notes.checks)
    made = build(spec)
    if not spec.panels:
        return made
    spans, without = _spans(made, spec)
    if without:
        del spec.notes.workings[recorded:], spec.notes.checks[checked:]
        for panel in without:
            spec.notes.check("panel-no-room", **_about(panel))
        return built(replace(spec, panels=tuple(p for p in spec.panels if p not in without)), build)
    return replace(made, pieces=put_in(made.pieces, spans), panels=spec.panels)


def _spans(made: Garment, spec: GarmentSpec) -> tuple[dict[Section, tuple[At, At, int]], list[CentrePanel]]:
    """From where to where each panel goes in each part, with the stitches it brings; and those that have no room."""
    spans: dict[Section, tuple[At, At, int]] = {}
    without: list[CentrePanel] = []
    for panel in spec.panels:
        for section in SECTIONS[panel.on]:
            stations = course(made.pieces, section)
            span = span_of(stations, panel)
            if span is None:
                without.append(panel)
                break
            spans[section] = stations[span.first].at, stations[span.last].at, panel.extra
            if section.side != "right":
                _check_ends(made, spec, panel, span.room, stations[span.last].at)
            begins = made.pieces[stations[span.first].at[0]]
            if section is roles.THE_FRONT and begins.role is roles.BODY and begins.parent is not None:
                plain = spec.project.garment.fabric in (None, PLAIN)
                spec.notes.check("panel-from-neck" if plain else "panel-from-neck.patterned", **_about(panel))
    return spans, without


def _check_ends(made: Garment, spec: GarmentSpec, panel: CentrePanel, room: bool, last: At) -> None:
    """Where a panel ends sooner than its part does."""
    piece = made.pieces[last[0]]
    if construction(spec.construction).module == "round_yoke":
        spec.notes.check("panel-plain-yoke", **_about(panel))
    elif room:
        row = Amount(piece.rows[last[1]].row, "")
        spec.notes.check("panel-ends", **_about(panel), row=row, piece=piece.name)
