"""Questions: one declaration serves forms, plain mode, save keys and error texts."""

import re
from dataclasses import fields as dataclass_fields
from dataclasses import replace
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.factory import pullover, readings, shaped, swatch
from workshop.core.constructions import CONSTRUCTIONS
from workshop.core.necklines import NECKLINES
from workshop.project import (
    Body,
    FibrePart,
    Panel,
    Project,
    ReferenceGarment,
    SleeveLength,
    StitchPattern,
    Swatch,
    Yarn,
)
from workshop.questions import fibre, steps
from workshop.questions import swatch as swatch_questions
from workshop.questions.kinds import Blend, Choice, CountOver, Length, Option, Whole, Words, YarnLength, fixed, meant
from workshop.questions.measure import source_of
from workshop.units import NotUnderstood
from workshop.words.phrase import in_terms

CM, INCH = Project(), Project(units="in")
EVERYTHING = pullover(
    reference_garment=ReferenceGarment(chest_width_cm=50.0),
    body=replace(pullover().body, source="garment"),
    stitch_pattern=(StitchPattern("pattern-1", swatch="A"),),
    garment=replace(pullover().garment, panel=(Panel("pattern-1"),)),
    swatch=(replace(swatch(), stitch="pattern-1", reading=(*swatch().reading, *readings("hung", "rows", 27))),),
)


def field(key: str, project: Project = EVERYTHING):
    for name in steps.MODULES:
        for found in steps.fields(name, project):
            if found.key == key:
                return found
    raise KeyError(key)


def test_every_question_has_words_for_a_beginner():
    for question in steps.all_questions():
        assert question.asks[0].isupper()
        assert question.hint
        assert not question.hint.endswith(".")
        assert question.why.endswith((".", "…"))
        assert question.kind.example(EVERYTHING)
        assert question.step in steps.MODULES


def test_question_keys_are_places_in_the_save_file():
    tables = {
        "yarn": Yarn,
        "swatch": Swatch,
        "stitch_pattern": StitchPattern,
        "panel": Panel,
        "body": Body,
        "reference_garment": ReferenceGarment,
    }
    for question in steps.all_questions():
        table, _, name = question.key.partition(".")
        if not name:
            assert hasattr(CM, table)
        elif table == "reading":
            assert question.step in ("gauge", "wash")
        else:
            owner = tables.get(table) or type(getattr(CM, table))
            assert name in {f.name for f in dataclass_fields(owner)}


def test_every_answer_of_a_project_has_a_question():
    """What the contract of the save file lists can be asked for somewhere."""
    asked = {q.key for q in steps.all_questions()}
    not_asked = {"id", "extra", "reading", "panel", "band"}
    for table, cls in (
        ("yarn", Yarn),
        ("swatch", Swatch),
        ("stitch_pattern", StitchPattern),
        ("panel", Panel),
        ("body", Body),
        ("garment", type(CM.garment)),
        ("design", type(CM.design)),
    ):
        names = {f.name for f in dataclass_fields(cls)} - not_asked
        assert {f"{table}.{n}" for n in names} <= asked


def test_what_a_field_shows_it_takes_back():
    for project in (
        EVERYTHING,
        replace(EVERYTHING, units="in", needle_names="us"),
        replace(EVERYTHING, needle_names="uk"),
    ):
        for name in steps.MODULES:
            for found in steps.fields(name, project):
                shown = found.shown(project)
                if shown:
                    again = found.answered(project, shown)
                    assert found.shown(again) == shown, found.key
    assert steps.faults(EVERYTHING) == ()


def test_an_answer_changes_its_own_place_only():
    changed = field("yarn.a.ball_g").answered(EVERYTHING, "50 g")

    assert changed == replace(EVERYTHING, yarn=(replace(EVERYTHING.yarn[0], ball_g=50.0),))


def test_an_emptied_answer_is_cleared_where_it_is_not_needed_and_refused_where_it_is():
    assert field("yarn.a.ball_g").answered(EVERYTHING, " ").yarn[0].ball_g is None
    assert field("stitch_pattern.pattern-1.multiple").answered(EVERYTHING, "").stitch_pattern[0].multiple == 1
    assert field("swatch.A.worked").answered(EVERYTHING, "").swatch[0].worked == "flat"
    with pytest.raises(NotUnderstood, match="nothing was chosen"):
        field("garment.hem").answered(EVERYTHING, "")


def test_readings_are_added_changed_and_taken_out_in_their_place():
    project = pullover(swatch=(replace(swatch(), reading=()),))
    first = field("reading.A.off needles.stitches.1", project)
    one = first.answered(project, "27½ over 15 cm")
    two = field("reading.A.off needles.stitches.2", one).answered(one, "18.25")
    changed = field("reading.A.off needles.stitches.1", two).answered(two, "28 over 15")
    cleared = field("reading.A.off needles.stitches.1", changed).answered(changed, "")

    assert [(r.count, r.over_cm) for r in two.swatch[0].reading] == [(27.5, 15.0), (18.25, 10.0)]
    assert [r.count for r in changed.swatch[0].reading] == [28.0, 18.25]
    assert [r.count for r in cleared.swatch[0].reading] == [18.25]


def test_there_is_always_room_for_one_more_place_up_to_nine():
    many = pullover(swatch=(replace(swatch(), reading=readings("off needles", "stitches", *[20] * 9)),))
    keys = [f.key for f in steps.fields("gauge", many)]

    assert "reading.A.off needles.stitches.9" in keys
    assert "reading.A.off needles.stitches.10" not in keys
    assert "reading.A.off needles.rows.3" in keys


# ── kinds ────────────────────────────────────────────────────────────────────────────────────────────

BAD = ["", "  ", "wide", "-5", "0", "99999", "nan", "inf", "[K2]", "9**9**9", "\x00", "½½", "1/0"]


@pytest.mark.parametrize("key", ["body.chest_cm", "garment.hem_cm", "garment.length_cm", "swatch.A.width_cm"])
def test_the_limits_that_an_error_names_are_taken_in_inches_too(key):
    project = pullover(units="in")
    asked = (f for name in steps.MODULES for f in steps.fields(name, project))
    kind = next(f.question.kind for f in asked if f.key == key)
    with pytest.raises(NotUnderstood) as refused:
        kind.read("9000", project)
    named = re.search(r"should be (.+ in) to (.+ in)", str(refused.value))

    for limit in (*named.groups(), kind.show(kind.low, project), kind.show(kind.high, project)):
        assert kind.low <= kind.read(limit, project) <= kind.high


@pytest.mark.parametrize("text", BAD)
@pytest.mark.parametrize(
    "key", ["body.chest_cm", "garment.length_cm", "yarn.a.ball_g", "yarn.a.ball_m", "swatch.A.cast_on"]
)
def test_no_bad_number_is_ever_taken(key, text):
    with pytest.raises(NotUnderstood) as told:
        field(key).question.kind.read(text, CM)
    assert "\n" not in str(told.value)


@given(st.text(max_size=60))
def test_no_kind_raises_anything_but_one_clear_line(text):
    for question in steps.all_questions():
        try:
            question.kind.read(text, EVERYTHING)
        except NotUnderstood as told:
            assert "\n" not in str(told)
            assert len(str(told)) > 10


def test_a_number_outside_the_limits_says_the_limits_in_the_unit_in_use():
    chest = Length(30, 220)

    with pytest.raises(NotUnderstood, match="should be 30 cm to 220 cm"):
        chest.read("25", CM)
    with pytest.raises(NotUnderstood, match=r"should be 11⅞ in to 86½ in\. Did you mean 96 cm"):
        chest.read("96", INCH)
    with pytest.raises(NotUnderstood, match="Did you mean 15 in"):
        chest.read("15", CM)


@pytest.mark.parametrize(
    ("typed", "blend"),
    [
        ("wool", [("wool", 100)]),
        ("80 wool, 20 nylon", [("wool", 80), ("nylon", 20)]),
        ("80% wool 20% nylon", [("wool", 80), ("nylon", 20)]),
        ("wool 80, polyamide 20", [("wool", 80), ("nylon", 20)]),
        ("60 baby alpaca + 40 silk", [("alpaca", 60), ("silk", 40)]),
        ("80,5 wool, 19,5 nylon", [("wool", 80.5), ("nylon", 19.5)]),
        ("50 superwash merino / 50 bamboo", [("superwash wool", 50), ("viscose", 50)]),
        ("70 milkweed; 30 wool", [("milkweed", 70), ("wool", 30)]),
        ("wool 75 nylon 25", [("wool", 75), ("nylon", 25)]),
        ("superwash wool 75% nylon 25%", [("superwash wool", 75), ("nylon", 25)]),
        ("100 milkweed", [("milkweed", 100)]),
    ],
)
def test_blends(typed, blend):
    assert Blend().read(typed, CM) == tuple(FibrePart(f, float(p)) for f, p in blend)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("80 wool", "adds up to 80%, not 100%. 20% is missing"),
        ("80 wool, 40 nylon", "20% is too much"),
        ("wool, nylon", "has no percentage"),
        ("120 wool", "looks wrong"),
        ("0 wool, 100 silk", "looks wrong"),
        ("", "nothing was typed"),
        (", ".join(["10 wool"] * 10), "A blend can have at most 8"),
        ("100%", "isn't a percentage and a name"),
        ("hello", "'hello' isn't in the list. If the ball band says so, type the name with its percentage: 100 hello"),
        ("woll", "Did you mean wool?"),
    ],
)
def test_blends_that_do_not_add_up(typed, says):
    with pytest.raises(NotUnderstood, match=says):
        Blend().read(typed, CM)


@pytest.mark.parametrize(
    ("typed", "count", "over"),
    [
        ("27½ over 15 cm", 27.5, 15.0),
        ("27,25 over 15", 27.25, 15.0),
        ("22 1/4", 22.25, 10.0),
        ("22 sts over 4 in", 22.0, 10.16),
        ("28 rows over 10cm", 28.0, 10.0),
        ("22 in 10 cm", 22.0, 10.0),
        ("22 per 10 cm", 22.0, 10.0),
        ("22½ sts to 10cm", 22.5, 10.0),
        ("22 sts = 10 cm", 22.0, 10.0),
        ("5/inch", 5.0, 2.54),
        ("4 1/2 to the inch", 4.5, 2.54),
        ("4½ stitches per in", 4.5, 2.54),
        ("4½ to an inch", 4.5, 2.54),
        ("22 per 4 inches", 22.0, 10.16),
    ],
)
def test_counts_over_a_distance(typed, count, over):
    assert CountOver().read(typed, CM) == (count, over)


def test_a_bare_count_is_over_4_inches_where_inches_are_used():
    assert CountOver().read("22", INCH) == (22.0, 10.16)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("22.1", "finer than you can count"),
        ("22 over 0.5", "looks wrong: it should be 2 cm to 80 cm"),
        ("22 over 900", "looks wrong: it should be 2 cm to 80 cm"),
        ("390 over 3", "can't be right"),
        ("over 10", "Type a count"),
        ("2.25 per cm", "a distance of 1 cm looks wrong"),
        ("22 per row", "'row' isn't a unit"),
        ("-3", "looks wrong"),
    ],
)
def test_counts_that_cannot_be(typed, says):
    with pytest.raises(NotUnderstood, match=says):
        CountOver().read(typed, CM)


def test_choices_are_taken_by_value_label_beginning_or_number():
    hem = field("garment.hem").question.kind

    assert [hem.read(t, CM) for t in ("rib-1x1", "RIB, K1 P1", "gart", "3")] == [
        "rib-1x1",
        "rib-1x1",
        "garter",
        "garter",
    ]
    with pytest.raises(NotUnderstood, match="could be any of these: rib, k2 p2; rib, k1 p1"):
        hem.read("rib", CM)
    for nothing in ("", " ", "-"):
        with pytest.raises(NotUnderstood, match="nothing was chosen"):
            hem.read(nothing, CM)
    for wrong in ("9", "0", "stripes"):
        with pytest.raises(NotUnderstood, match="Choose 1 rib, k2 p2; 2 rib, k1 p1; 3 garter stitch; 4 none"):
            hem.read(wrong, CM)


def test_a_choice_is_also_taken_by_a_word_of_its_label_that_no_other_has():
    construction, front = (field(f"garment.{name}").question.kind for name in ("construction", "front"))

    assert [construction.read(t, CM) for t in ("yoke", "Drop  Shoulder", "set-in sleeve")] == [
        "round-yoke",
        "drop-shoulder",
        "set-in",
    ]
    assert front.read("cardigan", CM) == "open"
    with pytest.raises(NotUnderstood, match="Choose 1 drop shoulder"):
        construction.read("sleeve v", CM)
    for several in ("raglan", "the"):
        with pytest.raises(
            NotUnderstood, match="could be any of these: raglan from the hem up; raglan from the neck down"
        ):
            construction.read(several, CM)


def test_every_shape_of_the_save_file_can_be_chosen():
    lists = {"construction": CONSTRUCTIONS, "neckline": NECKLINES, "sleeve": get_args(SleeveLength)}
    for key, names in lists.items():
        kind = field(f"garment.{key}").question.kind
        assert isinstance(kind, Choice)
        assert {o.value for o in kind.options(CM) if o.ready} == set(names)


@pytest.mark.parametrize(("front", "either_way"), [("closed", False), ("open", True)])
def test_a_cardigan_is_not_asked_to_be_worked_as_its_swatch(front, either_way):
    """Pieces to sew and a body in one piece are both knitted back and forth (common practice, no source)."""
    project = shaped(pullover(), front=front)
    question = field("garment.worked").question
    said = f"{question.told(project)}. {question.why}"

    assert ("always knitted back and forth" in said) is either_way
    assert ("the way you knitted the swatch" in said) is not either_way


@pytest.mark.parametrize(
    ("typed", "weight"),
    [
        ("DK", "light"),
        ("worsted", "medium"),
        ("Aran", "medium"),
        ("fingering", "super-fine"),
        ("4 ply", "super-fine"),
        ("chunky", "bulky"),
        ("4", "medium"),  # the number on the ball band, not the place in the list
        ("0", "lace"),
    ],
)
def test_a_yarn_weight_is_known_by_its_trade_names_and_its_number(typed, weight):
    """Trade names in the US and the UK: common practice, no source. Numbers: CYC Standard Yarn Weight System."""
    assert field("yarn.a.weight").question.kind.read(typed, CM) == weight


def test_the_list_of_weights_tells_the_stitches_and_no_name_twice():
    kind = field("yarn.a.weight").question.kind
    labels = [o.label for o in kind.options(CM)]
    names = [name for o in kind.options(CM) for name in o.also]

    assert "medium (4), 16-20 sts: worsted, aran" in labels
    assert len(names) == len(set(names))
    assert max(map(len, labels)) <= 42
    with pytest.raises(NotUnderstood):  # eight answers, and no ball band bears an 8
        kind.read("8", CM)


def test_what_is_still_to_come_is_listed_and_cannot_be_chosen():
    kind = fixed(Option("plain", "plain"), Option("fancy", "fancy (to come)", ready=False))

    with pytest.raises(NotUnderstood, match=r"can't be chosen yet\. Choose 1 plain"):
        kind.read("fancy", CM)


def test_words_whole_numbers_and_yarn_lengths():
    assert Words(10).read("  a \n b\x1b ", CM) == "a b"
    assert Words().show("[K2]", CM) == "[K2]"
    with pytest.raises(NotUnderstood, match="Use at most 3"):
        Words(3).read("abcd", CM)
    with pytest.raises(NotUnderstood, match="isn't a whole number"):
        Whole(1, 9).read("2.5", CM)
    assert YarnLength(1, 9999).read("220", INCH) == pytest.approx(201.17, abs=0.01)
    assert YarnLength(1, 9999).show(201.168, INCH) == "220 yd"


# ── adding and removing ──────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize(
    ("key", "says"),
    [
        ("yarn", "a yarn"),
        ("garment.hem", "Hem, cuffs and neckband"),
        ("body.chest_cm", "Chest or bust"),
        ("garment.hem_cm", "Depth of the hem"),  # also where it is not asked
        ("yarn.a.weight", "Weight of the yarn"),
        ("swatch.B.needle_mm", "Needle size (swatch B)"),
        ("reading.A.off needles.rows", "rows of swatch A, before washing"),
        ("something.new_cm", "new"),
    ],
)
def test_keys_are_spoken_of_by_their_questions(key, says):
    project = pullover(swatch=(swatch(), swatch(name="B")))

    assert steps.asked_as(key, project) == says


def test_yarns_and_swatches_get_the_next_free_letter():
    project = fibre.add_yarn(fibre.add_yarn(Project()))
    project = fibre.add_yarn(fibre.remove_yarn(project, "a"))
    assert {y.id for y in project.yarn} == {"a", "b"}

    project = swatch_questions.add_swatches(project, "b", (3.75, 4.0, 4.5))
    project = swatch_questions.add_swatch(swatch_questions.remove_swatch(project, "B"))
    assert [s.id for s in project.swatch] == ["A", "C", "B"]
    assert project.swatch[0].edge_stitches == 3


def test_the_form_of_the_measurements_follows_where_they_come_from():
    assert source_of(Project()) is None
    assert source_of(Project(body=Body(chest_cm=92))) == "own"
    assert source_of(Project(body=Body(table="men"))) == "table"
    assert source_of(Project(reference_garment=ReferenceGarment(chest_width_cm=50))) == "garment"

    keys = {f.key for f in steps.fields("measure", Project())}
    assert keys == {"body.source"}
    assert "fit.ease" not in {f.key for f in steps.fields("measure", EVERYTHING)}
    assert "reference_garment.length_cm" in {f.key for f in steps.fields("measure", EVERYTHING)}


def test_a_save_edited_by_hand_is_read_as_if_it_had_been_typed():
    odd = shaped(pullover(body=Body(chest_cm=-3.0)), length_cm=9000.0)

    assert [key for key, _ in steps.faults(odd)] == ["body.chest_cm", "garment.length_cm"]


def test_the_thing_counted_may_stand_behind_its_number():
    balls = field("yarn.a.balls").question.kind

    assert [balls.read(t, CM) for t in ("5", "5 balls", "1 Ball")] == [5, 5, 1]
    with pytest.raises(NotUnderstood):
        balls.read("5 skeins", CM)


def test_a_count_that_ends_in_over_asks_for_the_distance():
    with pytest.raises(NotUnderstood, match="'42½ over' needs a distance after it"):
        field("reading.A.off needles.stitches.1").question.kind.read("42½ over ", CM)


def test_washing_is_told_in_words():
    care = field("yarn.a.care").question.kind

    for wrong in ("20000", "+"):
        with pytest.raises(NotUnderstood, match=r"has no words\. Type something like hand wash cool"):
            care.read(wrong, CM)


def test_answers_of_lists_are_in_the_terms_of_the_knitter():
    """They are shown as they stand: none may need turning into UK terms but the one that names both."""
    uk = replace(EVERYTHING, terms="uk")
    for question in steps.all_questions():
        if isinstance(question.kind, Choice) and question.key != "terms":
            for option in question.kind.options(uk):
                assert in_terms(option.label, "uk") == option.label, question.key


@pytest.mark.parametrize(
    ("body", "example", "depth"),
    [
        (Body(source="table", table="women"), "92 cm", "7.5 cm} for an adult"),
        (Body(source="table", table="children"), "64 cm", "6 cm} for a six-year-old"),
        (Body(source="table", table="babies"), "46 cm", "6 cm} for a six-year-old"),
        (Body(source="own", chest_cm=64.0), "63 cm", "6 cm} for a six-year-old"),
    ],
)
def test_hints_and_examples_are_for_the_one_who_will_wear_it(body, example, depth):
    project = replace(EVERYTHING, body=body)
    chest = next(q for q in steps.all_questions() if q.key == "body.chest_cm")
    neck = next(q for q in steps.all_questions() if q.key == "garment.neck_depth_cm")

    assert chest.kind.example(project) == example
    assert depth in neck.told(project)


@pytest.mark.parametrize("table", ["women", "men", "youth", "children", "babies"])
def test_an_example_of_a_measure_is_one_that_a_body_of_that_table_could_have(table):
    """Own limits, common practice, no source: a wrist, a neck and a head against the chest of the same table."""
    project = replace(EVERYTHING, body=Body(source="table", table=table))
    shown = {
        q.key.removeprefix("body.").removesuffix("_cm"): float(q.kind.example(project).removesuffix(" cm"))
        for q in steps.all_questions()
        if q.key.startswith("body.") and isinstance(q.kind, Length)
    }

    assert 0.14 <= shown["wrist"] / shown["chest"] <= 0.26
    assert 0.33 <= shown["neck"] / shown["chest"] <= 0.52
    assert 0.5 <= shown["head"] / shown["chest"] <= 1.0
    assert shown["upper_arm"] < shown["neck_to_cuff"]
    assert shown["cross_back"] < shown["chest"] / 2


def test_a_high_bust_is_not_asked_of_a_child():
    young = replace(EVERYTHING, body=Body(source="table", table="children"))

    assert "body.high_bust_cm" not in {f.key for f in steps.fields("measure", young)}
    assert "body.high_bust_cm" in {f.key for f in steps.fields("measure", pullover())}


@pytest.mark.parametrize(
    ("typed", "weight"),
    [
        ("2", "fine"),  # the number of the standard, not the "2 ply" of another
        ("4 ply", "super-fine"),
        ("4ply", "super-fine"),
        ("4", "medium"),
        ("super b", "super-bulky"),
        ("DK", "light"),
        ("ar", "medium"),
        ("rov", "super-bulky"),
        ("29", None),  # a count, though "27-32 sts" stands in a label
        ("16", None),
        ("", None),
    ],
)
def test_an_answer_is_found_by_any_of_its_names_while_it_is_typed(typed, weight):
    """Names of yarn weights: common practice, no source; their numbers as in the yarn weight system of the trade."""
    options = field("yarn.a.weight").question.kind.options(pullover())
    found = meant(options, typed)
    assert (None if found is None else options[found].value) == weight


@pytest.mark.parametrize("typed", ["4 ply", "4ply", "4-Ply", "super fine", "Super-Fine", "fingering", "1"])
def test_a_name_is_read_with_or_without_its_space_or_hyphen(typed):
    assert field("yarn.a.weight").question.kind.read(typed, pullover()) == "super-fine"
