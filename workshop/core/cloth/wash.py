"""What the wash does to the cloth, and which gauge each number follows.

Stitch and row counts follow the washed gauge; the tape held against the work on the needles follows the
unwashed one. Sign of a change as in ISO 5077: shrinkage negative, growth positive. Never a factor by
fibre: without a washed swatch there is none.
"""

from collections.abc import Iterable, Mapping
from math import hypot

from workshop.core.calculation import calculate
from workshop.core.cloth.gauge import WHEN_COUNTED, Gauge, gauge_working, range_working
from workshop.core.edgings import Fabric
from workshop.core.making.cloth import Cloth
from workshop.core.making.ledger import Row
from workshop.core.notes import Notes
from workshop.core.remarks import percent
from workshop.core.sums import figure, root_of
from workshop.project import Along, Design, State, Swatch
from workshop.records import record
from workshop.tables.trade_rules import rule

NARROWING_PERCENT = 3.0
"""A hung swatch that narrows by more than this gives the stitch gauge too (method: hang test)."""

Gauges = Mapping[tuple[State, Along], Gauge]


@record
class Change:
    """Dimensional change of the cloth in one direction, from off the needles to a later state."""

    percent: float
    u95_percent: float

    @property
    def real(self) -> bool:
        """Whether it is larger than the readings can be off."""
        return abs(self.percent) > self.u95_percent

    @property
    def factor(self) -> float:
        """Length after ÷ length before; 1 where no change could be measured."""
        return 1 + self.percent / 100 if self.real else 1.0


def dimensional_change_percent(before: float, after: float) -> float:
    """100 × (after − before) ÷ before, for two lengths. ISO 5077: shrinkage is negative."""
    return 100 * (after - before) / before


def change_of(before: Gauge | None, after: Gauge | None) -> Change | None:
    """Change in size from two gauges of one direction; None where either is missing."""
    if before is None or after is None:
        return None
    # a stitch is 10 / gauge wide, so lengths stand to each other as the gauges do upside down
    change = dimensional_change_percent(10 / before.per_10cm, 10 / after.per_10cm)
    spread = hypot(before.u95 / before.per_10cm, after.u95 / after.per_10cm)
    return Change(change, 100 * spread * (1 + change / 100))


@record
class EdgingGauge:
    """Row gauge of the edging, washed, and its own change in the wash: rib is not stockinette."""

    swatch: Swatch
    rows: Gauge
    length: Change | None
    fabric: Fabric
    """The fabric that was swatched."""


def edging_gauge(swatch: Swatch, fabric: Fabric, gauges: Gauges, state: State) -> EdgingGauge | None:
    """The row gauge of an edging swatch in the state planned from (or washed); None where it was not counted."""
    rows = gauges.get((state, "rows")) or gauges.get(("washed", "rows"))
    if rows is None:
        return None
    return EdgingGauge(swatch, rows, change_of(gauges.get(("off needles", "rows")), rows), fabric)


@record
class DesignGauge:
    """The gauge that the garment is planned from, and the unwashed one that tape targets follow."""

    swatch: Swatch
    state: State
    stitches: Gauge
    rows: Gauge
    unwashed_stitches: Gauge | None
    unwashed_rows: Gauge | None
    width: Change | None
    length: Change | None
    flat_rows: Gauge | None = None
    """Washed row gauge lying flat, where the rows are planned from a hung swatch."""
    edging: "EdgingGauge | None" = None
    """Rows of the edging, where a swatch of it was counted."""
    unswatched: bool = False
    """Whether the garment's fabric was not counted, so that this is the gauge of another."""
    bands: "tuple[DesignGauge | None, ...]" = ()
    """Of each band of a yoke the gauge of its own swatch; None where it is counted at this one."""
    planned: "DesignGauge | None" = None
    """The gauge as it was planned, where a way on was taken since; None: it is still as planned."""

    @property
    def cloth(self) -> Cloth:
        """The washed cloth, for making."""
        bands = tuple((b.stitches.per_10cm, b.rows.per_10cm) if b else None for b in self.bands)
        stitches, rows = self.stitches.per_10cm, self.rows.per_10cm
        planned = self.planned.cloth if self.planned else None
        if self.edging is None:
            return Cloth(stitches, rows, bands=bands, planned=planned)
        return Cloth(stitches, rows, self.edging.rows.per_10cm, self.edging.fabric, bands, planned)

    def as_knit_of(self, rows: Iterable[Row]) -> float | None:
        """What the tape reads on the needles for rows, each fabric with its own change in the wash."""
        if self.length is None:
            return None
        cloth, total = self.cloth, 0.0
        tall: dict[tuple[object, ...], float] = {}  # one row of each fabric
        for row in rows:
            kind = row.fabric, row.band, row.own_gauge
            if kind not in tall:
                tall[kind] = cloth.rows_cm([row]) / self._change_of(row).factor
            total += tall[kind]
        return total

    def _change_of(self, row: Row) -> Change:
        """What the wash does to the length of a row: that of its own fabric where it was counted."""
        band = self.bands[row.band - 1] if 0 < row.band <= len(self.bands) else None
        own = self.edging if self.edging and row.fabric == self.edging.fabric else band
        assert self.length is not None
        return (own.length if own else None) or self.length

    def flat_cm(self, worn_cm: float) -> float | None:
        """How long a worn (hanging) length lies flat after washing; None where it was not counted so."""
        return worn_cm * self.rows.per_10cm / self.flat_rows.per_10cm if self.flat_rows else None

    def as_knit_cm(self, finished_cm: float) -> float | None:
        """What the tape reads on the needles for a finished length: finished ÷ length factor."""
        return finished_cm / self.length.factor if self.length else None


def design_gauge(design: Design, swatch: Swatch | None, gauges: Gauges) -> DesignGauge | None:
    """The gauge to design with; None until the chosen swatch has stitches and rows in the chosen state.

    A hung swatch gives the rows. It gives the stitches too where it was counted across and the cloth
    narrowed by more than 3 per cent; otherwise the washed swatch, lying flat, does.
    """
    if swatch is None or design.state is None:
        return None
    stitches = gauges.get((design.state, "stitches"))
    rows = gauges.get((design.state, "rows"))
    if design.state == "hung":
        flat = gauges.get(("washed", "stitches"))
        narrowing = change_of(flat, stitches)
        if flat is not None and (narrowing is None or narrowing.percent > -NARROWING_PERCENT):
            stitches = flat
    if stitches is None or rows is None:
        return None
    before_stitches = gauges.get(("off needles", "stitches"))
    before_rows = gauges.get(("off needles", "rows"))
    return DesignGauge(
        swatch=swatch,
        state=design.state,
        stitches=stitches,
        rows=rows,
        unwashed_stitches=before_stitches,
        unwashed_rows=before_rows,
        width=change_of(before_stitches, stitches),
        length=change_of(before_rows, rows),
        flat_rows=gauges.get(("washed", "rows")) if design.state == "hung" else None,
    )


def note_gauges(swatch: Swatch, gauges: Gauges, notes: Notes) -> None:
    """Workings of every gauge counted on a swatch, and of how sure it is."""
    for (state, along), gauge in gauges.items():
        key = gauge_key(swatch.id, gauge)
        label = f"Swatch {swatch.id}, {along} per 10 cm, {WHEN_COUNTED[state]}"
        notes.record(gauge_working(key, label, gauge))
        notes.record(range_working(f"{key}_u95_percent", f"{label}, margin of error", gauge))


def gauge_key(swatch_id: str, gauge: Gauge) -> str:
    """Address of a swatch's gauge among the workings."""
    return f"swatches.{swatch_id}.{gauge.state}.{gauge.along}_per_10cm"


def note_workings(design: DesignGauge, notes: Notes) -> None:
    """Workings of the design gauge, of its change in the wash, and of what the tape reads."""
    for along, one, before in (
        ("stitches", design.stitches, design.unwashed_stitches),
        ("rows", design.rows, design.unwashed_rows),
    ):
        label = f"{along.capitalize()} per 10 cm to plan from, {WHEN_COUNTED[one.state]}"
        notes.record(gauge_working(f"gauge.{along}_per_10cm", label, one))
        if before is None:
            continue
        label = f"{along.capitalize()} per 10 cm before washing"
        notes.record(gauge_working(f"gauge.unwashed_{along}_per_10cm", label, before))
        _note_change("wash", "Change", before, one, notes)
    if design.length is not None:
        as_knit = figure("finished length", 1.0) / figure("length factor", design.length.factor)
        source = "length after ÷ length before; 1 if no change could be measured"
        notes.record(
            calculate(
                "wash.as_knit", "What the tape shows on the needles, for a finished length", as_knit, "", source=source
            )
        )


def note_changes(swatch: Swatch, gauges: Gauges, notes: Notes) -> None:
    """Workings of what became of a swatch that the garment is not planned from."""
    for (state, along), after in gauges.items():
        before = gauges.get(("off needles", along))
        if state != "off needles" and before is not None:
            label = f"Swatch {swatch.id}, {WHEN_COUNTED[state]}: change"
            _note_change(f"swatches.{swatch.id}.{state}", label, before, after, notes)


WAYS: Mapping[Along, str] = {"stitches": "width", "rows": "length"}
BIGGER = {"width": ("wider", "narrower"), "length": ("longer", "shorter")}
"""What a piece is that grew in one direction, and one that shrank."""
"""What stitches and rows are counted along."""


def _note_change(key: str, label: str, before: Gauge, after: Gauge, notes: Notes) -> None:
    change, name = change_of(before, after), WAYS[after.along]
    assert change is not None
    was = figure("before", before.per_10cm, f"{before.along} per 10 cm")
    now = figure("after", after.per_10cm, f"{after.along} per 10 cm")
    doubt_before = figure("margin of error before", before.u95_percent, "%")
    doubt_after = figure("margin of error after", after.u95_percent, "%")
    notes.record(
        calculate(
            f"{key}.{name}_change_percent",
            f"{label} in {name}",
            100 * (was / now - 1),
            "%",
            exact=change.percent,
            source="ISO 5077 / AATCC 135: 100 × (after − before) ÷ before, on the size of a stitch",
        )
    )
    notes.record(
        calculate(
            f"{key}.{name}_u95_percent",
            f"{label} in {name}, margin of error",
            (root_of(doubt_before**2 + doubt_after**2) * was / now).listing(was, now),
            "%",
            exact=change.u95_percent,
            source="two independent measurements: root of the sum of squares (JCGM 100, GUM)",
        )
    )


def check_wash(
    gauge: DesignGauge | None, swatch: Swatch, gauges: Gauges, hang: bool, notes: Notes, *, chosen: bool = False
) -> None:
    """What the wash asks the knitter to look at; ``chosen`` is the swatch that the garment is planned from."""
    states = {state for state, _ in gauges}
    if chosen and not gauges:
        notes.check("chosen-uncounted", id=swatch.id)
    if swatch.counted_alike and swatch.before_wash != "counted":
        told = " ".join(f"{count:g}/{over:g}" for along in swatch.counts("washed") for count, over in along)
        notes.check("alike-before-and-after", id=swatch.id, counts=told)
    if "washed" not in states and "off needles" in states:
        notes.check("not-washed-yet", id=swatch.id)
    if hang and "washed" in states and "hung" not in states:
        notes.check("hang-test-wanted", id=swatch.id)
    if gauge is None:
        return
    limit = 100 * rule("wash_limit")
    for way, change in (("width", gauge.width), ("length", gauge.length)):
        if change is not None and abs(change.percent) > limit:
            than = BIGGER[way][change.percent < 0]
            much = percent(round(abs(change.percent)))
            notes.check(
                "wash-change-large", id=swatch.id, way=way, change=percent(change.percent), than=than, much=much
            )
    if gauge.unwashed_rows is None:
        notes.check("no-unwashed-gauge", id=swatch.id)
    if chosen and swatch.grams is None:
        notes.check("swatch-not-weighed", id=swatch.id)
