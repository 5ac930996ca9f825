"""All swatches of a class beside each other: what the same yarn on the same needle became in different hands."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from workshop.core.cloth.gauge import Gauge
from workshop.core.cloth.known import MeasuredSwatch
from workshop.core.hands import Apart, apart
from workshop.of_class.attention import counts_asked
from workshop.of_class.pupils import Pupil
from workshop.of_class.yarn_order import yarn_key, yarn_name
from workshop.project import Along, State, Swatch, Worked
from workshop.records import record


@record
class Hand:
    """One pupil's swatch."""

    pupil: Pupil
    known: MeasuredSwatch
    odd: bool
    """Whether its counts look wrong: it is shown, and nothing is concluded from it."""

    @property
    def swatch(self) -> Swatch:
        """The swatch as the pupil entered it."""
        return self.known.swatch

    @property
    def tension(self) -> str:
        """How the pupil usually knits; may be empty."""
        return (self.pupil.plan.project.tension if self.pupil.plan else None) or ""

    def gauge(self, state: State, along: Along = "stitches") -> Gauge | None:
        """Its gauge in a state, where it was counted so."""
        return self.known.gauges.get((state, along))


@record
class SameSwatch:
    """One yarn on one needle in one stitch, in the hands that have tried it, the loosest first."""

    yarn: str
    needle_mm: float
    stitch: str
    worked: Worked
    hands: tuple[Hand, ...]

    def apart(self, state: State) -> Apart | None:
        """How far apart the hands are in a state; None where fewer than two were counted so."""
        counted = [g for hand in self.hands if not hand.odd and (g := hand.gauge(state)) is not None]
        return apart(counted)

    @property
    def told_in(self) -> State:
        """The state that says most: washed, as soon as two are."""
        return "washed" if self.apart("washed") or not self.apart("off needles") else "off needles"


def by_yarn(found: Iterable[SameSwatch]) -> tuple[tuple[SameSwatch, ...], ...]:
    """Swatches that more than one hand has tried, those of one yarn, stitch and way together by their needles."""
    kept: dict[tuple[str, str, str], list[SameSwatch]] = {}
    for same in found:
        if len(same.hands) > 1:
            kept.setdefault((same.yarn, same.stitch, same.worked), []).append(same)
    return tuple(tuple(sorted(group, key=lambda s: s.needle_mm)) for group in kept.values())


def by_needle(finer: SameSwatch, larger: SameSwatch) -> float | None:
    """How many stitches to 10 cm fewer the same hands have on the larger needle, before the wash; None where no hand
    has tried both.
    """
    mine = {h.pupil.path: g.per_10cm for h in finer.hands if not h.odd and (g := h.gauge("off needles"))}
    steps = [
        mine[h.pupil.path] - g.per_10cm
        for h in larger.hands
        if not h.odd and h.pupil.path in mine and (g := h.gauge("off needles"))
    ]
    return sum(steps) / len(steps) if steps else None


def in_many_hands(pupils: Iterable[Pupil]) -> tuple[SameSwatch, ...]:
    """All counted swatches of a class by yarn, needle and stitch, those with the most hands first."""
    found: dict[tuple[object, ...], list[Hand]] = {}
    for pupil in pupils:
        if pupil.plan is None:
            continue
        for known in pupil.plan.swatches:
            swatch, yarn = known.swatch, known.plan.yarn
            if swatch.needle_mm is None or yarn is None or known.gauge is None:
                continue
            key = (yarn_key(yarn), swatch.needle_mm, swatch.stitch, swatch.worked)
            found.setdefault(key, []).append(Hand(pupil, known, counts_asked(pupil.plan.checks, swatch)))
    grouped = [_same(hands) for hands in found.values()]
    return tuple(sorted(grouped, key=lambda s: (-len(s.hands), s.yarn.casefold(), s.needle_mm, s.stitch, s.worked)))


def _same(hands: Sequence[Hand]) -> SameSwatch:
    swatch, yarn = hands[0].swatch, hands[0].known.plan.yarn
    assert yarn is not None
    assert swatch.needle_mm is not None
    told = SameSwatch(yarn_name(yarn), swatch.needle_mm, swatch.stitch, swatch.worked, tuple(hands))
    state = told.told_in
    return replace(told, hands=tuple(sorted(hands, key=lambda h: _order(h, state))))


def _order(hand: Hand, state: State) -> tuple[bool, float, str]:
    gauge = hand.gauge(state)
    return (gauge is None, gauge.per_10cm if gauge else 0.0, hand.pupil.path.name)
