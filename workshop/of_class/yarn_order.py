"""One yarn order for a class: by yarn, and within it by dye lot, for the balls of one sweater must match."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace
from math import ceil

from workshop.core.cloth.yarn import Three
from workshop.core.knitting.weighings import added_g
from workshop.of_class.pupils import Pupil
from workshop.project import Project, Yarn
from workshop.records import record
from workshop.visible import in_one_line

NEW = ""
"""The lot of those who have no ball yet, and knit nothing: any, as long as it is one."""

UNKNOWN = "?"
"""The lot of balls at home that nobody has noted."""

_LOT = re.compile(r"[\s,;(]*\b(?:dye[\s-]*)?lot\b[\s:#.]*(?:no\b[\s.:]*)?([\w/-]*\d[\w/-]*)\)?", re.IGNORECASE)


@record
class Parcel:
    """What one pupil needs of a yarn. Whole balls: nobody can use the other half of a neighbour's."""

    pupil: Pupil
    lot: str
    """The dye lot that it has to match; NEW or UNKNOWN."""
    have: int
    likely: int | None
    """Balls that are probably enough; None where a ball is not known."""
    safe: int | None
    """Balls at the upper end of the likely range."""
    grams: Three | None
    metres: Three | None
    not_entered: bool = False
    """Whether it is being knitted from balls that are neither entered nor weighed: then nothing is ordered."""

    @property
    def buy(self) -> int:
        """Balls to buy to be safe, beside those at home."""
        return max(0, (self.safe or 0) - self.have)

    @property
    def buy_likely(self) -> int:
        """Balls to buy that are probably enough."""
        return max(0, (self.likely or 0) - self.have)


@record
class Lot:
    """All parcels of a yarn that come from one dye lot."""

    lot: str
    parcels: tuple[Parcel, ...]

    @property
    def buy(self) -> int:
        """Balls to order, to be safe."""
        return sum(p.buy for p in self.parcels)

    @property
    def buy_likely(self) -> int:
        """Balls that are probably enough."""
        return sum(p.buy_likely for p in self.parcels)


@record
class OrderedYarn:
    """A yarn of the class: name and ball are the same."""

    name: str
    weight: str
    ball_g: float | None
    ball_m: float | None
    lots: tuple[Lot, ...]

    @property
    def parcels(self) -> tuple[Parcel, ...]:
        """What every pupil needs of it."""
        return tuple(p for lot in self.lots for p in lot.parcels)

    @property
    def buy(self) -> int:
        """Balls to order in all, to be safe."""
        return sum(lot.buy for lot in self.lots)

    @property
    def buy_likely(self) -> int:
        """Balls that are probably enough, in all."""
        return sum(lot.buy_likely for lot in self.lots)

    @property
    def grams(self) -> Three | None:
        """What the sweaters take: low, likely and high ends added up; None where one of them is not known."""
        return _sum([p.grams for p in self.parcels])

    @property
    def metres(self) -> Three | None:
        """The same as a length."""
        return _sum([p.metres for p in self.parcels])


@record
class YarnOrder:
    """All yarns of a class, and who has no plan yet that would say how much."""

    yarns: tuple[OrderedYarn, ...]
    not_yet: tuple[Pupil, ...]


YarnKey = tuple[str, float | None, float | None]


def yarn_order(pupils: Iterable[Pupil]) -> YarnOrder:
    """What the class needs of each yarn, the most needed first."""
    found: dict[YarnKey, list[tuple[Yarn, Parcel]]] = {}
    not_yet = []
    for pupil in pupils:
        parcel = _parcel(pupil)
        if parcel is None:
            not_yet.append(pupil)
        else:
            found.setdefault(yarn_key(parcel[0]), []).append(parcel)
    yarns = [_ordered(needed) for needed in found.values()]
    return YarnOrder(tuple(sorted(yarns, key=lambda y: (-y.buy, y.name.casefold()))), tuple(not_yet))


def _parcel(pupil: Pupil) -> tuple[Yarn, Parcel] | None:
    yarn = pupil.plan.project.design_yarn if pupil.plan else None
    if pupil.plan is None or yarn is None or pupil.plan.yarn is None:
        return None
    need, have = pupil.plan.yarn, yarn.balls or 0
    lot = lot_of(yarn, pupil.plan.project) or (UNKNOWN if have or pupil.knitting else NEW)
    parcel = Parcel(pupil, lot, have, need.balls_likely, need.balls, need.grams, need.metres)
    return yarn, _at_the_needles(parcel, yarn)


def _at_the_needles(parcel: Parcel, yarn: Yarn) -> Parcel:
    """A parcel of somebody who knits from it already: what is missing by the scale, else beside the balls at home."""
    needles = parcel.pupil.needles
    if needles is None:
        return parcel
    if needles.yarn is not None and yarn.ball_g:
        added = added_g(parcel.pupil.plan) if parcel.pupil.plan else 0.0  # bought since the yarn left was weighed
        _, likely, safe = (ceil(max(0.0, grams - added) / yarn.ball_g) for grams in needles.yarn.short_g)
        return replace(parcel, have=0, likely=likely, safe=safe)
    if yarn.balls is not None:
        return parcel
    return replace(parcel, likely=0, safe=0, not_entered=needles.at_hand is not None)


def _ordered(needed: Sequence[tuple[Yarn, Parcel]]) -> OrderedYarn:
    yarn = needed[0][0]
    lots: dict[str, list[Parcel]] = {}
    for _, parcel in needed:
        lots.setdefault(parcel.lot, []).append(parcel)
    order = sorted(lots, key=lambda lot: (lot != NEW, lot == UNKNOWN, lot))
    told = tuple(Lot(lot, tuple(lots[lot])) for lot in order)
    return OrderedYarn(yarn_name(yarn), yarn.weight or "", yarn.ball_g, yarn.ball_m, told)


def _sum(amounts: Sequence[Three | None]) -> Three | None:
    known = [a for a in amounts if a is not None]
    if len(known) < len(amounts):
        return None
    low, likely, high = (sum(ends) for ends in zip(*known, strict=True))
    return low, likely, high


# ── which yarns are one, and which balls are of one lot ──────────────────────────────────────────────


def yarn_name(yarn: Yarn) -> str:
    """The name of a yarn without its lot; its weight where it has none."""
    named = in_one_line(" ".join(_LOT.sub("", _short(yarn.name)).split()))
    return named or f"a {yarn.weight + ' ' if yarn.weight else ''}yarn without a name"


def yarn_key(yarn: Yarn) -> YarnKey:
    """By which two pupils' yarns are one: the name, however it is written, and the ball."""
    return yarn_name(yarn).casefold(), yarn.ball_g, yarn.ball_m


def lot_of(yarn: Yarn, project: Project) -> str:
    """The dye lot of the balls at home: as it stands in the name of the yarn, else as the log has it; may be empty."""
    noted = (entry.text for entry in reversed(project.log) if "ball" in entry.text)
    found = next((m for text in (yarn.name, *noted) if (m := _LOT.search(_short(text)))), None)
    return in_one_line(found[1]) if found else ""


LONGEST = 500
"""Characters of a name or a note that are looked through: a note of the longest kind, and where it was noted."""


def _short(text: str) -> str:
    """A text for a pattern that would go over its spaces again and again."""
    return " ".join(text[: 4 * LONGEST].split())[:LONGEST]
