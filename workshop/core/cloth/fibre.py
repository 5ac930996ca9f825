"""From a ball band to expectations: how a blend behaves, and the needles to swatch it on.

Facts of the trade (common practice, no source) from the table "fibres"; the swatch has the last word.
"""

from collections.abc import Sequence
from dataclasses import replace

from workshop.core.calculation import Calculation, Rounding, calculate
from workshop.core.cloth.density import LinearDensity, weights_by_length
from workshop.core.notes import Notes
from workshop.core.remarks import Amount, Remark, Value, needle, percent
from workshop.core.sums import Sum, added, figure
from workshop.project import Swatch, Tension, Weight, Yarn
from workshop.records import record
from workshop.tables import needles
from workshop.tables.fibres import Fibre, fibre, nearest
from workshop.tables.trade_rules import rule
from workshop.tables.yarn_weights import YarnWeight, all_weights, weight

NOTABLE_PERCENT = 15.0
"""From this share on a fibre is felt in the cloth and is described (common practice, no source)."""

HANG_PERCENT = 30.0
"""From this share of sagging fibre on a hang test is asked for (common practice, no source)."""


@record
class Share:
    """One fibre of a blend with its share in per cent."""

    fibre: Fibre
    percent: float
    typed: str


@record
class YarnView:
    """What a yarn promises before it is knitted."""

    yarn: Yarn
    shares: tuple[Share, ...]
    weight: YarnWeight | None
    start_mm: float | None
    """Needle to start from for this knitter and blend; None while the weight is not known."""
    swatch_mm: tuple[float, ...]
    """Three sizes to swatch on, finest first."""
    sizes_moved: Calculation | None
    density: LinearDensity | None
    lengths: tuple[Weight, ...]
    """Weights under which charts list its length."""
    hang_test: bool
    remarks: tuple[Remark, ...]

    @property
    def workings(self) -> tuple[Calculation, ...]:
        """All numbers of the view."""
        found = [self.sizes_moved] if self.sizes_moved else []
        if self.yarn.ball_m and self.yarn.ball_g:
            found += _density_workings(self.yarn.id, self.yarn.ball_m, self.yarn.ball_g)
        return tuple(found)

    @property
    def percent_total(self) -> float:
        """Sum of the blend in per cent."""
        return sum(s.percent for s in self.shares)

    @property
    def notable(self) -> tuple[Share, ...]:
        """Fibres that are felt in the cloth, largest share first."""
        parts = [s for s in self.shares if s.percent >= NOTABLE_PERCENT]
        return tuple(sorted(parts, key=lambda s: -s.percent))

    @property
    def gives_percent(self) -> float:
        """How far its cloth stretches in wear, in per cent: that of the least willing of its notable fibres."""
        return min((s.fibre.gives_percent for s in self.notable), default=10.0)

    def has(self, flag: str, at_least: float = NOTABLE_PERCENT) -> bool:
        """Whether fibres with a flag of the table ("felts", "grows" …) make up so many per cent."""
        return sum(s.percent for s in self.shares if getattr(s.fibre, flag)) >= at_least


def view_yarn(yarn: Yarn, tension: Tension | None) -> YarnView:
    """All that can be said of a yarn from its band and the knitter's usual tension."""
    shares = tuple(Share(fibre(p.fibre), p.percent, p.fibre) for p in yarn.fibres)
    category = weight(yarn.weight) if yarn.weight else None
    density = LinearDensity(100 * yarn.ball_m / yarn.ball_g) if yarn.ball_m and yarn.ball_g else None
    moved = _sizes_moved(yarn, shares, tension) if shares else None
    start = sizes = None
    if category is not None:
        shift = moved.count if moved else _tension_sizes(tension)
        start = needles.steps_from(category.start_needle_mm, shift)
        sizes = _three_around(start)
    hang = sum(s.percent for s in shares if s.fibre.hang_test) >= HANG_PERCENT
    view = YarnView(
        yarn=yarn,
        shares=shares,
        weight=category,
        start_mm=start,
        swatch_mm=sizes or (),
        sizes_moved=moved,
        density=density,
        lengths=weights_by_length(density.m_per_100g) if density else (),
        hang_test=hang,
        remarks=(),
    )
    return _with_remarks(view, tension)


def _density_workings(yarn_id: str, ball_m: float, ball_g: float) -> list[Calculation]:
    length = 100 * figure("meters of a ball", ball_m, "m") / figure("grams of a ball", ball_g, "g")
    tex = 100_000 / figure("meters in 100 g", length.value, "m")
    source = "the tex system: grams in 1000 m (ISO 1144, from memory)"
    return [
        calculate(f"yarns.{yarn_id}.m_per_100g", "Length of 100 g", length, "m"),
        calculate(f"yarns.{yarn_id}.tex", "Linear density", tex, "tex", source=source),
    ]


def check_yarn(view: YarnView, notes: Notes) -> None:
    """What does not agree on a ball band."""
    yarn, name = view.yarn.id, view.yarn.name or f"yarn {view.yarn.id}"
    if view.shares and abs(view.percent_total - 100) > 0.5:
        notes.check("blend-not-100", yarn=yarn, name=name, total=percent(view.percent_total))
    for share in view.shares:
        if share.fibre.id == "other" and share.typed.casefold() not in (
            "other",
            "something else",
            "another fiber",
            "another fibre",
        ):
            _check_unknown(share.typed, yarn, notes)
    if view.weight is not None and view.density is not None and view.lengths and view.weight.id not in view.lengths:
        notes.check(
            "weight-by-length.far" if _far(view.weight.id, view.lengths) else "weight-by-length",
            yarn=yarn,
            name=name,
            weight=view.weight.id,
            length=Amount(view.density.m_per_100g, "m"),
            found=" or ".join(view.lengths),
        )


def _check_unknown(typed: str, yarn: str, notes: Notes) -> None:
    """A fibre that the table does not know: a rare one, or a slip of the pen."""
    if meant := nearest(typed):
        notes.check("fibre-unknown.meant", yarn=yarn, fibre=typed, meant=meant)
    else:
        notes.check("fibre-unknown", yarn=yarn, fibre=typed)


def _far(called: str, found: Sequence[str]) -> bool:
    """Whether a weight is two or more away from all that charts of length give: rather a slip than a difference."""
    order: list[str] = [w.id for w in all_weights()]
    return min(abs(order.index(called) - order.index(other)) for other in found) > 1


FAR_SIZES = 2
"""Needle sizes beyond those to try from which a planned swatch is asked about (common practice, no source)."""


def check_needle(swatch: Swatch, view: YarnView | None, notes: Notes) -> None:
    """Needles that do not go with the yarn: a size planned for another one, plastic that squeaks."""
    if view is None:
        return
    if swatch.needle_mm is not None and view.start_mm is not None and _far_off(swatch.needle_mm, swatch, view):
        notes.check(
            "needle-off-yarn",
            id=swatch.id,
            size=needle(swatch.needle_mm),
            start=needle(view.start_mm),
            yarn=view.yarn.name or "this yarn",
            sizes=tuple(needle(m) for m in view.swatch_mm),
        )
    if swatch.needle_material == "plastic" and view.has("squeaks_on_plastic"):
        notes.check("squeaks-on-plastic", id=swatch.id)


def _far_off(needle_mm: float, swatch: Swatch, view: YarnView) -> bool:
    """Whether a swatch of the cloth itself, not knitted yet, is planned far from the needles to try."""
    if swatch.reading or swatch.stitch != "stockinette":
        return False
    return all(abs(needles.steps_between(needle_mm, mm)) >= FAR_SIZES for mm in view.swatch_mm)


def _tension_sizes(tension: Tension | None) -> int:
    sizes = int(rule("tension", "sizes"))
    return {"tight": sizes, "loose": -sizes}.get(tension or "average", 0)


def _sizes_moved(yarn: Yarn, shares: tuple[Share, ...], tension: Tension | None) -> Calculation:
    """Sizes from the usual start needle: the blend's mean by its percentages, and the knitter's tension."""
    all_shares = figure("all shares", sum(s.percent for s in shares), "%")
    mean = added(_of_blend(i, share) for i, share in enumerate(shares, 1)) / all_shares
    return calculate(
        f"yarns.{yarn.id}.sizes_moved",
        "Needle sizes from the usual start needle",
        mean + figure("sizes for your knitting", _tension_sizes(tension), "sizes"),
        "sizes",
        rounding=Rounding(ties="away"),
        source="common practice, no source (workshop tables fibres, workshop tables trade)",
    )


def _of_blend(place: int, share: Share) -> Sum:
    """What one fibre adds to the mean of its blend; numbered, as a name may come twice."""
    name, sizes = f"{place} ({share.fibre.name})", sum(share.fibre.start_sizes) / 2
    return figure(f"share {name}", share.percent, "%") * figure(f"sizes {name}", sizes, "sizes")


def _three_around(start_mm: float) -> tuple[float, ...]:
    """The size, the one below and the one above; at an end of the table the three nearest."""
    ladder = needles.ladder()
    at = ladder.index(needles.nearest_on_ladder(start_mm))
    first = max(0, min(at - 1, len(ladder) - 3))
    return ladder[first : first + 3]


def _with_remarks(view: YarnView, tension: Tension | None) -> YarnView:
    said: list[Remark] = []
    if view.weight is not None and view.start_mm is not None:
        said += _needle_remarks(view, view.weight, view.start_mm, tension)
    for share in view.notable:
        values: dict[str, Value] = {"name": share.fibre.name, "share": Amount(share.percent, "%")}
        said.append(Remark("{name}, {share}: " + share.fibre.wear + ".", values))
        said.append(Remark("In the wash: " + share.fibre.wash + "."))
        said.append(Remark("Tip: " + share.fibre.watch + "."))
    if view.hang_test:
        said.append(
            Remark(
                "This yarn sags. Dry the swatch flat first. Then hang the swatch with a weight for a day, and count "
                "its rows again. The Wash step shows what weight to hang."
            )
        )
    return replace(view, remarks=tuple(said))


def _needle_remarks(view: YarnView, category: YarnWeight, start_mm: float, tension: Tension | None) -> list[Remark]:
    usual = category.start_needle_mm
    said: list[Remark] = []
    moved = needles.steps_between(usual, start_mm)
    if not moved and _why_moved(view, tension) != "the blend":
        said.append(
            Remark(
                "The suggested needle is the usual size for this yarn. Your blend and the way you knit make a "
                "difference of less than half a size."
            )
        )
    if moved:
        said.append(
            Remark(
                "The usual needle size for {weight} yarn is {usual}. We suggest needles {sizes} "
                + ("larger than usual" if moved > 0 else "smaller than usual")
                + ", because of "
                + _why_moved(view, tension)
                + ".",
                {"weight": category.id, "usual": needle(usual), "sizes": Amount(abs(moved), "sizes")},
            )
        )
    if usual not in view.swatch_mm:
        said.append(Remark("If your ball band says {usual}, knit a swatch on that size too.", {"usual": needle(usual)}))
    return said


def _why_moved(view: YarnView, tension: Tension | None) -> str:
    reasons = [f"the {s.fibre.name}" for s in view.notable if s.fibre.start_sizes not in ((-1, 1),)]
    if tension in ("tight", "loose"):
        reasons.append(f"how {'tightly' if tension == 'tight' else 'loosely'} you knit")
    if not reasons:
        return "the blend"
    *some, last = reasons
    return f"{', '.join(some)} and {last}" if some else last
