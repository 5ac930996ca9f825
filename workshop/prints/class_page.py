"""A class as a document: a page for the wall, and its parts for the terminal and the app."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path
from typing import get_args

from workshop.core.cloth.gauge import Gauge
from workshop.core.hands import Apart
from workshop.of_class.hands import Hand, SameSwatch, by_needle, by_yarn, in_many_hands
from workshop.of_class.pupils import Pupil, by_name, how_many_have_a_question
from workshop.of_class.yarn_order import NEW, UNKNOWN, Lot, OrderedYarn, Parcel, YarnOrder, yarn_order
from workshop.pictures.hands import Point, hands_svg, hands_text
from workshop.pictures.washing_line import Peg, line_svg, line_text
from workshop.prints.blocks import Document, Drawing, Items, Paragraph, Section, Table
from workshop.prints.class_list import in_units, place, sign
from workshop.project import STEPS, State, Terms, Units
from workshop.records import record
from workshop.tables.yarn_weights import INCH_CM
from workshop.units import (
    GAUGE_OVER_CM,
    per_shown,
    plain_number,
    show_length,
    show_needle,
    show_range,
    show_yarn_length,
)
from workshop.visible import shown_path
from workshop.words.lines import FIXED
from workshop.words.phrase import capitalised, counted, in_terms, joined, stitch_words
from workshop.words.texts import texts
from workshop.words.titles import title_of


@record
class Shown:
    """How a class is shown: in the units and words that most of its pupils use."""

    units: Units
    terms: Terms

    @classmethod
    def of(cls, pupils: Sequence[Pupil]) -> "Shown":
        """What most pupils use; cm and US words where none can be read."""
        projects = [p.plan.project for p in pupils if p.plan]
        units = Counter(p.units for p in projects).most_common(1)
        terms = Counter(p.terms for p in projects).most_common(1)
        return cls(units[0][0] if units else "cm", terms[0][0] if terms else "us")

    @property
    def over(self) -> str:
        """What a gauge is told over."""
        return show_length(GAUGE_OVER_CM[self.units], self.units)

    def gauge(self, per_10cm: float) -> str:
        """A gauge without its unit."""
        return in_units(per_10cm, self.units)


def class_title(folder: Path) -> str:
    """What a class is called: its folder."""
    name = re.sub(r"[-_]+", " ", shown_path(folder.resolve().name)).strip()
    return capitalised(name) or "A class"


def class_page(pupils: Sequence[Pupil], title: str) -> Document:
    """The page of a class."""
    shown = Shown.of(pupils)
    sections = [
        _where_everyone_is(pupils, shown, title),
        _looks(pupils),
        _list(pupils, shown),
        yarn_section(pupils),
        *hands_sections(pupils),
    ]
    told = tuple(s for s in sections if s.blocks)
    return Document(title, told, lead=_lead(pupils), lying=True, terms=shown.terms)


def _lead(pupils: Sequence[Pupil]) -> str:
    needed, knitting = how_many_have_a_question(pupils), sum(p.knitting for p in pupils)
    ready = sum(p.ready for p in pupils) - knitting
    told = [f"{counted(len(pupils), 'sweater')} in progress"]
    told += [f"{knitting} on the needles"] if knitting else []
    told += [f"{ready} ready to cast on"] if ready else []
    told += [f"{needed} with a question"] if needed else []
    return in_terms(", ".join(told) + ".", Shown.of(pupils).terms)


def _where_everyone_is(pupils: Sequence[Pupil], shown: Shown, title: str) -> Section:
    """The seven steps, and who is at each of them."""
    places: dict[str, list[str]] = {name: [] for name in (*STEPS, "knitting", "closed")}
    for pupil in sorted(pupils, key=by_name):
        places["knitting" if pupil.knitting else pupil.step or "closed"].append(pupil.name)
    pegs = [Peg(title_of(name, shown.terms), tuple(places[name])) for name in STEPS[:-1]]
    pegs.append(Peg("Plan ready", tuple(places["summary"]), "ready"))
    pegs.append(Peg("On the needles", tuple(places["knitting"]), "knitting"))
    pegs.append(Peg("Can't be opened", tuple(places["closed"]), "closed"))
    lines = line_text(pegs)
    heading = "Where everyone is"
    drawn = Drawing(lines, svg=line_svg(pegs, f"{title}: {heading.lower()}"))
    return Section(heading, (drawn,) if lines else (), whole=True)


def _list(pupils: Sequence[Pupil], shown: Shown) -> Section:
    head = ("who", "step", in_terms(f"gauge (stitches to {shown.over})", shown.terms), "chest", "balls", "next")
    signs = Paragraph(texts("class")["signs"])
    heading = in_terms("Everyone's sweater", shown.terms)
    return Section(heading, (signs, Table(head, tuple(_row(p, shown) for p in pupils))) if pupils else ())


def _row(pupil: Pupil, shown: Shown) -> tuple[str, ...]:
    plan, name = pupil.plan, _whole(f"{sign(pupil)} {pupil.name}")
    if plan is None:
        return (name, "", "", "", "", texts("class")["closed"])
    gauge = plan.gauge.stitches if plan.gauge else None
    told = (place(pupil, shown.terms), _likely(gauge, shown), _chest(pupil, shown), _balls(pupil))
    return (name, *map(_whole, told), pupil.next)


def _whole(text: str) -> str:
    """A short cell that stays on one line."""
    return text.replace(" ", FIXED)


def _likely(gauge: Gauge | None, shown: Shown) -> str:
    if gauge is None:
        return ""
    low, high = map(shown.gauge, gauge.likely)
    return f"{shown.gauge(gauge.per_10cm)} ({low} to {high})"


def _chest(pupil: Pupil, shown: Shown) -> str:
    """The finished chest with its range."""
    plan = pupil.plan
    if plan is None or "chest" not in plan.finished_cm:
        return ""
    text, reach = show_length(plan.finished_cm["chest"], shown.units), plan.ranges.get("chest")
    return f"{text} ({show_range(reach.low, reach.high, shown.units, unit=False)})" if reach else text


def _balls(pupil: Pupil) -> str:
    need = pupil.plan.yarn if pupil.plan else None
    if need is None or need.balls is None:
        return ""
    return " to ".join(dict.fromkeys(str(n) for n in (need.balls_likely, need.balls) if n is not None))


def _looks(pupils: Sequence[Pupil]) -> Section:
    """What needs the teacher, pupil by pupil."""
    told = tuple(f"{p.name}: {' '.join(p.attention)}" for p in pupils if p.looks)
    return Section("Ask the teacher about", (Items(told, ticked=True),) if told else ())


# ── yarn ─────────────────────────────────────────────────────────────────────────────────────────────


def yarn_section(pupils: Sequence[Pupil]) -> Section:
    """One order for the class, by yarn and dye lot."""
    shown, order = Shown.of(pupils), yarn_order(pupils)
    if not order.yarns:
        return Section(YARN, ())
    rows = [row for yarn in order.yarns for row in _order_rows(yarn, shown)]
    if order.not_yet:
        names = [pupil.name for pupil in sorted(order.not_yet, key=by_name)]
        rows.append(("no plan yet", "", "not counted", ", ".join(names), ""))
    head = ("yarn", "dye lot", "balls to buy", "for whom", "takes in all")
    told = Paragraph(in_terms(texts("class")["whole_balls"], shown.terms))
    return Section(YARN, (told, Table(head, tuple(rows)), *_not_ordered(order)))


def _not_ordered(order: YarnOrder) -> Iterator[Paragraph]:
    """For whom nothing is ordered, and why."""
    parcels = (parcel for yarn in order.yarns for parcel in yarn.parcels if parcel.not_entered)
    names = [pupil.name for pupil in sorted((parcel.pupil for parcel in parcels), key=by_name)]
    if names:
        yield Paragraph(texts("class")["not_ordered"].format(names=joined(names)))


YARN = "One yarn order"


def _order_rows(yarn: OrderedYarn, shown: Shown) -> list[tuple[str, ...]]:
    band = [f"{plain_number(yarn.ball_g)} g" if yarn.ball_g else ""]
    band += [show_yarn_length(yarn.ball_m, shown.units) if yarn.ball_m else ""]
    told = ", ".join(filter(None, band))
    name = f"{yarn.name} ({told} a ball)" if told else yarn.name
    rows: list[tuple[str, ...]] = []
    for i, lot in enumerate(yarn.lots):
        parcels = ", ".join(map(_parcel, lot.parcels))
        taken = _takes(yarn, shown) if not i else ""
        rows.append((yarn.name if i else name, _lot(lot), _to_buy(lot), parcels, taken))
    if len(yarn.lots) > 1:
        rows.append((yarn.name, "all lots together", _range(yarn.buy_likely, yarn.buy), "", ""))
    return rows


def _lot(lot: Lot) -> str:
    said = texts("class")
    return said["new_lot"] if lot.lot == NEW else said["unknown_lot"] if lot.lot == UNKNOWN else f"lot {lot.lot}"


def _to_buy(lot: Lot) -> str:
    if any(p.safe is None for p in lot.parcels):
        return texts("class")["no_length"]
    return _range(lot.buy_likely, lot.buy) if lot.buy else "none"


def _range(likely: int, safe: int) -> str:
    return " to ".join(dict.fromkeys((str(likely), str(safe))))


def _parcel(parcel: Parcel) -> str:
    if parcel.not_entered:
        return f"{parcel.pupil.name} ({texts('class')['not_entered']})"
    have = f", has {parcel.have}" if parcel.have else ""
    return f"{parcel.pupil.name} ({_range(parcel.buy_likely, parcel.buy)}{have})"


def _takes(yarn: OrderedYarn, shown: Shown) -> str:
    """What all sweaters of a yarn take, with its range."""
    if yarn.metres is not None:
        low, likely, high = (show_yarn_length(v, shown.units) for v in yarn.metres)
    elif yarn.grams is not None:
        low, likely, high = (f"{v:.0f} g" for v in yarn.grams)
    else:
        return ""
    likely, low, high = map(_whole, (likely, low, high))
    return texts("class")["takes"].format(likely=likely, low=low, high=high)


# ── swatches ─────────────────────────────────────────────────────────────────────────────────────────

WANTED_CM = {"cm": 100.0, "in": 40 * INCH_CM}
"""A round sweater, to show what hands do to it."""


def hands_sections(pupils: Sequence[Pupil], *, plain: bool = False, columns: int = 76) -> tuple[Section, ...]:
    """The swatches of the class: what the same yarn and needle became in different hands; and all of them."""
    shown, found = Shown.of(pupils), in_many_hands(pupils)
    if not found:
        return ()
    shared = [_shared(group, shown, plain, columns) for group in by_yarn(found)]
    head = ("yarn and needle", "whose", "before the wash", "washed", "rows washed", "usual hand")
    rows = tuple(_swatch_row(same, hand, shown) for same in found for hand in same.hands)
    told = Paragraph(texts("class")["every_swatch"].format(over=shown.over))
    return (*shared, Section("Every swatch of the class", (told, Table(head, rows))))


def _shared(group: Sequence[SameSwatch], shown: Shown, plain: bool, columns: int) -> Section:
    """One yarn in many hands, on all needles that more than one of them has tried."""
    best = max(group, key=lambda s: (bool(s.apart("washed")), len(s.hands)))
    needles = [(_needle(same), [_point(hand, shown) for hand in same.hands]) for same in group]
    many = len({hand.pupil.path for same in group for hand in same.hands})
    title = f"{_swatch_title(best, shown)} in {NUMBERS.get(many, str(many))} pairs of hands"
    lines = hands_text(needles, shown.over, columns=columns, plain=plain)
    drawing = Drawing(lines, svg=hands_svg(needles, title, shown.over))
    told = (*what_hands_do(best, shown), *_what_needles_do(group, shown), *_odd(group))
    return Section(title, (*(Paragraph(in_terms(text, shown.terms)) for text in told), drawing), whole=True)


NUMBERS = dict(enumerate(("two", "three", "four", "five", "six", "seven", "eight", "nine", "ten"), 2))


def _swatch_title(same: SameSwatch, shown: Shown) -> str:
    stitch = in_terms(stitch_words(same.hands[0].swatch), shown.terms)
    return f"{same.yarn}, {stitch}{', in the round' if same.worked == 'round' else ''},"


def _needle(same: SameSwatch) -> str:
    return f"{show_needle(same.needle_mm, 'mm')} needle"


def _point(hand: Hand, shown: Shown) -> Point:
    if hand.odd:  # far off, it would push all others together
        return Point(hand.pupil.name, note="count again")
    before, after = hand.gauge("off needles"), hand.gauge("washed")
    fresh = per_shown(before.per_10cm, shown.units) if before else None
    if after is None:
        return Point(hand.pupil.name, before=fresh)
    low, likely, high = (per_shown(v, shown.units) for v in (after.likely[0], after.per_10cm, after.likely[1]))
    return Point(hand.pupil.name, low, likely, high, fresh)


def what_hands_do(same: SameSwatch, shown: Shown) -> tuple[str, ...]:
    """What a beginner can learn from one swatch in many hands."""
    state = same.told_in
    found = same.apart(state)
    if found is None:
        return ()
    loosest, tightest = (_whose(same, state, end) for end in (found.loosest, found.tightest))
    first = texts("class")["hands"].format(
        needle=_needle(same),
        when="after washing" if state == "washed" else "before washing",
        loosest=loosest,
        low=shown.gauge(found.loosest),
        over=shown.over,
        tightest=tightest,
        high=shown.gauge(found.tightest),
    )
    return (f"{first} {_why(found, shown)}", _what_it_means(found, shown))


def _why(found: Apart, shown: Shown) -> str:
    said = texts("class")
    counting = said["counting"].format(apart=shown.gauge(found.by_counting))
    return f"{counting} {said['hands_real' if found.real else 'hands_same']}"


def _what_it_means(found: Apart, shown: Shown) -> str:
    wanted = WANTED_CM[shown.units]
    small, large = (show_length(cm, shown.units) for cm in found.widths_cm(wanted))
    return texts("class")["hands_mean"].format(
        wanted=show_length(wanted, shown.units),
        middle=shown.gauge(found.middle),
        over=shown.over,
        small=small,
        large=large,
    )


def _what_needles_do(group: Sequence[SameSwatch], shown: Shown) -> tuple[str, ...]:
    """Half a millimeter of needle beside what the hands make of it."""
    told, said = [], texts("class")
    for finer, larger in pairwise(group):
        fewer = by_needle(finer, larger)
        if fewer is not None and fewer > 0:
            count = shown.gauge(fewer)
            told.append(
                said["needle_step"].format(
                    finer=show_needle(finer.needle_mm, "mm"),
                    larger=show_needle(larger.needle_mm, "mm"),
                    fewer=f"{count} fewer {'stitch' if count == '1' else 'stitches'}",
                    over=shown.over,
                )
            )
    return (f"{' '.join(told)} {said['needles']}",) if told else ()


def _odd(group: Sequence[SameSwatch]) -> tuple[str, ...]:
    names = dict.fromkeys(hand.pupil.name for same in group for hand in same.hands if hand.odd)
    return (texts("class")["odd"].format(names=joined(names)),) if names else ()


def _whose(same: SameSwatch, state: State, per_10cm: float) -> str:
    return next(
        h.pupil.name for h in same.hands if not h.odd and (g := h.gauge(state)) is not None and g.per_10cm == per_10cm
    )


def _swatch_row(same: SameSwatch, hand: Hand, shown: Shown) -> tuple[str, ...]:
    gauges = [_likely(hand.gauge(state), shown) for state in get_args(State)[:2]]
    rows = hand.gauge("washed", "rows")
    odd = "count again" if hand.odd else hand.tension
    whose = f"{hand.pupil.name}, {hand.swatch.id}"
    title = f"{_swatch_title(same, shown)} {show_needle(same.needle_mm, 'mm')}"
    return (title, whose, *gauges, shown.gauge(rows.per_10cm) if rows else "", odd)
