"""A knitter who measures in inches sees inches, and sums that come out; one in cm sees cm."""

import re
from dataclasses import replace

import pytest
from hypothesis import given

from tests.core.test_garments import projects
from tests.factory import pullover, shaped, swatch
from tests.formula import work_out
from workshop.core.cloth.known import proposed_cm
from workshop.core.constructions import CONSTRUCTIONS
from workshop.core.plan import plan
from workshop.prints import paper
from workshop.prints.blank_sheet import blank_sheet
from workshop.prints.document import summary
from workshop.prints.drawings import step_drawing
from workshop.prints.plan_sheet import plan_sheet
from workshop.prints.work_sheet import filled_sheet
from workshop.project import STEPS, Body, Design, FibrePart, Fit, GarmentChoices, ReferenceGarment, Yarn
from workshop.questions.kinds import Choice
from workshop.questions.measure import EASE, SIZE
from workshop.questions.steps import fields
from workshop.units import lengths_in, show_typed
from workshop.words.answers.of_steps import answers
from workshop.words.calculations.by_step import step_workings
from workshop.words.calculations.in_inches import METRIC, working_in
from workshop.words.phrase import figured, in_terms, say_check, valued, worded, working_lines

BLEND = Yarn("a", "Blend", "fine", (FibrePart("alpaca", 50.0), FibrePart("wool", 50.0)), 50.0, 150.0)
WORN = ReferenceGarment(
    chest_width_cm=50, upper_arm_width_cm=18, cuff_width_cm=10, armhole_depth_cm=22, centre_to_cuff_cm=75, length_cm=60
)


def unweighed(**changes):
    base = pullover(**changes)
    return replace(base, swatch=(replace(base.swatch[0], grams=None),))


PLANS = (
    *(shaped(pullover(), construction=c, neckline=n) for c in CONSTRUCTIONS for n in ("crew", "v", "scoop")),
    *(shaped(pullover(), construction=c, neckline="boat", waist="shaped") for c in ("drop-shoulder", "set-in")),
    *(shaped(pullover(), construction=c, front="open", worked="round") for c in CONSTRUCTIONS),
    unweighed(yarn=(BLEND,), reference_garment=WORN),
)


def test_worked_out_by_hand():
    """39.37 in at 20.32 stitches in 4 in: half of it are 100 stitches, as 100 cm at 20 in 10 cm are."""
    now = plan(pullover(units="in"))
    working = now.working("body.stitches")

    assert working.formula == "finished chest ÷ 2 × stitches per 10 cm ÷ 10"
    assert working_lines(working, now.project)[1:3] == (
        "  = finished chest ÷ 2 × stitches per 4 in ÷ 4",
        "  with finished chest = 39.3701 in; stitches per 4 in = 20.32 stitches",
    )


def check_printed(project):
    """Every formula gives its number: exactly from its figures, from those printed to within two last digits."""
    for units in ("cm", "in"):
        for metric in plan(replace(project, units=units)).workings:
            working = working_in(metric, units)
            figures = {f.name: f.value for f in working.figures}
            assert work_out(working.formula, figures) == pytest.approx(working.exact, rel=1e-9), working
            assert working.value == pytest.approx(metric.rounding(working.exact) if metric.rounding else working.exact)
            got = work_out(working.formula, {f.name: number(figured(f)) for f in working.figures})
            printed = 0.001 if working.rounding else last_digit(valued(working.value, working.unit))
            assert got == pytest.approx(working.exact, abs=2.1 * printed), working


def number(text: str) -> float:
    return float(text.partition(" ")[0].removesuffix("%"))


def last_digit(text: str) -> float:
    """What one more in the last printed digit is worth: 0.01 for 1.35%; noughts at the end are not printed."""
    return 0.1 ** max(2, len(text.partition(" ")[0].removesuffix("%").partition(".")[2]))


def test_a_result_is_no_finer_than_the_lengths_it_came_from():
    """Found by a search: a hip of 35.9 in that fits to the skin has an ease of 0.00795 in."""
    assert valued(0.007953551260632505, "in") == "0.008 in"
    assert valued(0.0356, "cm") == "0.036 cm"
    assert valued(0.125, "in") == "0.125 in"
    assert valued(0.0079, "%") == "0.0079%"
    assert valued(0.00731, "%") == "0.0073%"


@given(projects())
def test_every_working_comes_out_as_printed(project):
    check_printed(project)


@pytest.mark.parametrize("project", PLANS, ids=lambda p: f"{p.garment.construction}-{p.garment.neckline}")
def test_every_working_of_every_construction_comes_out_as_printed(project):
    check_printed(project)


def test_nothing_that_is_metric_stays_so_without_a_reason():
    kept = {w.unit for p in PLANS for w in plan(p).workings if working_in(w, "in") is w}

    assert kept == set(METRIC)


# ── all that is printed or asked ─────────────────────────────────────────────────────────────────────

METRIC_LENGTH = re.compile(r"\bcm\b|centimet|\bmet(?:re|er)s?\b|\d m\b")
INCH_LENGTH = re.compile(r"[\d½¼¾⅛⅜⅝⅞] (?:in|yd)\b(?! 100\))|\binch|\byards?\b|″")

BOTH = {
    "Lengths in: .*": "how the other unit is typed: 38 in, 97 cm",
    "cm / in|cm|inches": "the answers to: lengths in?",
    r"\| Lengths in .*": "the same on a sheet",
    ".*200 m or 220 yd.*": "a ball band gives either, and the unit is asked for",
    r".*count over one inch\? If so, type 'in' after the distance.*": "a slip of units is asked about",
    ".*(Was the distance|Did you measure) in (inches|centimeters).*": "a slip of units is asked about",
    ".*(meters in 100 g|grams in 1000 m|100000 ÷ ).*": "tex is by definition grams in 1000 m",
    ".* yd per lb.*": "hand spinners count in no other unit",
    ".*stitches per inch.*": "swatches are cast on in whole stitches per inch: the published rule",
    ".*source: .*(9-11|6-9|1 1/2|2) in .*": "a source as printed",
}
"""Lines that hold a unit of the other kind on purpose, each with its reason."""


def wrong(texts, pattern) -> set[str]:
    """Lines with a length of the other kind that nobody meant."""
    lines = {line for text in texts for line in text.splitlines()}
    return {line for line in lines if pattern.search(line) and not any(re.fullmatch(told, line) for told in BOTH)}


BLANK = plan(pullover())


def all_texts(project):
    """Everything that a project makes the workshop say, but for the project's own words."""
    now = plan(project)
    for step in STEPS:
        yield from (line.text for line in answers(step, now))
        yield from step_workings(step, now)
        yield from step_drawing(step, now)
        for field in fields(step, project):
            question = field.question
            yield from (worded(f"{field.label}: {t}", project) for t in (question.hint, question.why))
            yield question.kind.example(project)
            yield field.shown(project)
            if isinstance(question.kind, Choice):
                yield from (in_terms(option.label, project.terms) for option in question.kind.options(project))
    yield from (say_check(check, project) for check in now.checks)
    yield from (caution.text for caution in now.cautions)
    yield from (
        paper.markdown(sheet, now) for sheet in (plan_sheet(now), filled_sheet(now), blank_sheet(BLANK, project))
    )
    yield paper.markdown(summary(now, workings=True), now)
    yield paper.svg(now)


OPEN = replace(
    pullover(body=Body(source="own", table="women"), fit=Fit()),
    garment=GarmentChoices(construction="set-in", neckline="v", sleeve="long", hem="rib-2x2"),
)
ODD = (
    pullover(swatch=(swatch(3.0, 5.0),)),
    pullover(swatch=(swatch(44.0, 50.0),)),
    pullover(swatch=(replace(swatch(), worked="round"),), body=Body(source="table", table="women", chest_cm=36.0)),
    shaped(pullover(body=Body(source="table", table="women", size="5X")), construction="square-armhole"),
    shaped(pullover(), waist="shaped", construction="set-in", neckline="v", neck_depth_cm=40.0),
    pullover(body=Body(source="own", chest_cm=108.0, high_bust_cm=96.0), garment=GarmentChoices()),
    replace(pullover(), design=Design("A", "hung")),
)


@pytest.mark.parametrize("project", [*PLANS[::4], *PLANS[-9:], OPEN, *ODD])
def test_a_project_in_inches_says_no_centimetre_and_one_in_cm_no_inch(project):
    """But for the distance of a count, which stays as it was laid: 10 cm are no round number of inches."""
    for units, foreign in (("in", METRIC_LENGTH), ("cm", INCH_LENGTH)):
        laid = {f" over {show_typed(r.over_cm, units)}" for s in project.swatch for r in s.reading}
        own = re.compile(
            "|".join(rf"(?:(?<=[\d½¼¾])|(?<=stitches)|(?<=rows)){re.escape(t)}\b" for t in sorted(laid)) or "(?!)"
        )
        assert wrong((own.sub("", t) for t in all_texts(replace(project, units=units))), foreign) == set()


def test_no_text_shows_a_mark_of_ours():
    for units in ("cm", "in"):
        for project in (OPEN, *ODD, *PLANS[:3]):
            assert not [
                t for t in all_texts(replace(project, units=units)) if re.search(r"\{[^}]*\}", t) and "svg" not in t
            ]


def test_what_the_workshop_proposes_is_round_in_the_knitters_unit():
    now = plan(replace(OPEN, units="in"))

    assert lengths_in("{6 cm}; {2 to 3 cm}; {2.5 cm}; {15 cm}; {17 cm}", "in") == "2½ in; ¾ to 1¼ in; 1 in; 6 in; 6½ in"
    assert lengths_in("{6 cm}; {2 to 3 cm}; {2.5 cm}", "cm") == "6 cm; 2 to 3 cm; 2.5 cm"
    for key, value in now.offers.items():
        if key.endswith("_cm"):
            assert value / 2.54 * 4 == pytest.approx(round(value / 2.54 * 4)), key
    assert now.working("swatches.A.cast_on").figures[0].value == pytest.approx(6 * 2.54)
    places = [line.text for line in answers("swatch", now) if "three places" in line.text]
    assert places[0].startswith(
        "Count in three places, over 4 in each time, to the nearest quarter stitch. That lets you predict a 40 in chest"
    )


@pytest.mark.parametrize(("least", "units", "wide"), [(10.0, "cm", 10.0), (10.01, "cm", 10.5), (10.2, "in", 10.795)])
def test_a_place_is_never_proposed_narrower_than_it_must_be(least, units, wide):
    assert proposed_cm(least, units) == pytest.approx(wide)


def test_eases_and_sizes_are_those_printed_in_the_unit_and_short():
    """The published table gives both: 5 to 10 cm, 2 to 4 in; women's M 36-38 in (CYC, older edition)."""
    for units, ease, size in (
        ("cm", "standard: 5 to 10 cm", "M (chest 91.5-96.5 cm)"),
        ("in", "standard: 2 to 4 in", "M (chest 36-38 in)"),
    ):
        project = replace(OPEN, units=units)
        labels = [o.label for q in (EASE, SIZE) for o in q.kind.options(project)]
        assert ease in labels
        assert size in labels
        assert max(len(o.label) for o in EASE.kind.options(project)) <= 24
