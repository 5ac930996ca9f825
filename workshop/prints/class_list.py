"""A class as a list: as data for programs, and as lines for a terminal and the app."""

from collections.abc import Iterator, Sequence

from workshop.core.cloth.gauge import Gauge
from workshop.core.hands import Apart
from workshop.of_class.hands import Hand, SameSwatch, in_many_hands
from workshop.of_class.pupils import Pupil
from workshop.of_class.yarn_order import NEW, UNKNOWN, OrderedYarn, Parcel, yarn_order
from workshop.prints.as_json import json_text, low_to_high, rounded
from workshop.prints.machine import yarn_data
from workshop.project import State, Terms, Units
from workshop.units import GAUGE_OVER_CM, per_shown, plain_number, show_length
from workshop.visible import in_one_line, shown_path
from workshop.words.phrase import counted
from workshop.words.texts import texts
from workshop.words.titles import title_of

# ── for programs ─────────────────────────────────────────────────────────────────────────────────────


def dumps(pupils: Sequence[Pupil]) -> str:
    """The class as JSON text."""
    data = {
        "pupils": [_pupil(p) for p in pupils],
        "yarn_order": [_yarn(y) for y in yarn_order(pupils).yarns],
        "swatches": [_same(s) for s in in_many_hands(pupils)],
    }
    return json_text(data)


def _pupil(pupil: Pupil) -> dict[str, object]:
    plan = pupil.plan
    gauge = plan.gauge if plan else None
    finished = plan.finished_cm if plan else {}
    return {
        "file": pupil.path.name,
        "title": pupil.name,
        "step": pupil.step or None,
        "next": pupil.next or None,
        "attention": list(pupil.attention) if plan else [],
        "gauge": {
            "stitches_per_10cm": rounded(gauge.stitches.per_10cm),
            "stitches_u95_percent": rounded(gauge.stitches.u95_percent),
            "rows_per_10cm": rounded(gauge.rows.per_10cm),
            "rows_u95_percent": rounded(gauge.rows.u95_percent),
        }
        if gauge
        else None,
        "chest_cm": rounded(finished["chest"]) if "chest" in finished else None,
        "yarn": yarn_data(plan) if plan and plan.yarn else None,
        "fault": pupil.fault or None,
    }


def _yarn(yarn: OrderedYarn) -> dict[str, object]:
    return {
        "yarn": yarn.name,
        "ball_g": yarn.ball_g,
        "ball_m": yarn.ball_m,
        "balls": yarn.buy,
        "balls_likely": yarn.buy_likely,
        "grams": low_to_high(yarn.grams),
        "metres": low_to_high(yarn.metres),
        "lots": [
            {
                "lot": None if lot.lot in (NEW, UNKNOWN) else lot.lot,
                "match": lot.lot != NEW,
                "balls": lot.buy,
                "balls_likely": lot.buy_likely,
                "pupils": [_parcel(p) for p in lot.parcels],
            }
            for lot in yarn.lots
        ],
    }


def _parcel(parcel: Parcel) -> dict[str, object]:
    return {
        "file": parcel.pupil.path.name,
        "balls": parcel.buy,
        "balls_likely": parcel.buy_likely,
        "have": parcel.have,
        "not_ordered": texts("class")["not_entered"] if parcel.not_entered else None,
    }


STATES: tuple[State, ...] = ("off needles", "washed")


def _same(same: SameSwatch) -> dict[str, object]:
    return {
        "yarn": same.yarn,
        "needle_mm": same.needle_mm,
        "stitch": same.stitch,
        "worked": same.worked,
        "hands": [_hand(hand) for hand in same.hands],
        "between": {state: _apart(same.apart(state)) for state in STATES},
    }


def _hand(hand: Hand) -> dict[str, object]:
    return {
        "file": hand.pupil.path.name,
        "swatch": hand.swatch.id,
        "tension": hand.tension or None,
        "odd": hand.odd,
        **{
            state: {"stitches": _gauge(hand.gauge(state)), "rows": _gauge(hand.gauge(state, "rows"))}
            for state in STATES
        },
    }


def _gauge(gauge: Gauge | None) -> dict[str, float] | None:
    return {"per_10cm": rounded(gauge.per_10cm), "u95_percent": rounded(gauge.u95_percent)} if gauge else None


def _apart(found: Apart | None) -> dict[str, object] | None:
    if found is None:
        return None
    per_10cm = {"loosest": found.loosest, "middle": found.middle, "tightest": found.tightest}
    return {
        **{key: rounded(value) for key, value in per_10cm.items()},
        "percent": rounded(found.percent),
        "real": found.real,
    }


# ── for eyes ─────────────────────────────────────────────────────────────────────────────────────────


def lines(pupils: Sequence[Pupil], *, files: bool = True) -> Iterator[str]:
    """One pupil a line, with what needs a look below. ``files``: with the names of their files."""
    for pupil in pupils:
        named = f" ({shown_path(pupil.path.name)})" if files else ""
        yield f"{sign(pupil)} {pupil.name}{named}: {told(pupil)}"
        if pupil.plan is not None:
            yield from (f"    {in_one_line(text)}" for text in pupil.attention)


def sign(pupil: Pupil) -> str:
    """Before the name: a file that cannot be opened, something to look at, or nothing."""
    return "✗" if pupil.plan is None else "!" if pupil.looks else "·"


def told(pupil: Pupil) -> str:
    """How far a pupil is, in one line; of a damaged file what is wrong with it."""
    if pupil.plan is None:
        return in_one_line(pupil.fault)
    project = pupil.plan.project
    parts = [place(pupil, project.terms), gauge_text(pupil), chest_text(pupil), balls_text(pupil)]
    return f"{', '.join(filter(None, parts))}. {in_one_line(pupil.next)}"


def place(pupil: Pupil, terms: Terms) -> str:
    """The step that a pupil is at, or that the knitting has begun."""
    if pupil.knitting:
        return "On the needles"
    return "Plan ready" if pupil.step == "summary" else title_of(pupil.step, terms)


def gauge_text(pupil: Pupil) -> str:
    """The stitch gauge of the plan with its range; empty where there is none yet."""
    if pupil.plan is None or pupil.plan.gauge is None:
        return ""
    stitches, units = pupil.plan.gauge.stitches, pupil.plan.project.units
    over = show_length(GAUGE_OVER_CM[units], units)
    likely, low, high = (in_units(v, units) for v in (stitches.per_10cm, *stitches.likely))
    return f"{likely} stitches to {over} ({low} to {high})"


def in_units(per_10cm: float, units: Units) -> str:
    """Stitches or rows over 10 cm or 4 in, without a unit."""
    return plain_number(per_shown(per_10cm, units), 1)


def chest_text(pupil: Pupil) -> str:
    """The finished chest; empty where there is no garment yet."""
    finished = pupil.plan.finished_cm if pupil.plan else {}
    return (
        f"chest {show_length(finished['chest'], pupil.plan.project.units)}"
        if pupil.plan and "chest" in finished
        else ""
    )


def balls_text(pupil: Pupil) -> str:
    """Balls that the plan takes: probably, and to be safe; empty where that is not known."""
    need = pupil.plan.yarn if pupil.plan else None
    if need is None or need.balls is None or need.balls_likely is None:
        return ""
    safe = counted(need.balls, "ball")
    return safe if need.balls_likely == need.balls else f"{need.balls_likely} to {safe}"
