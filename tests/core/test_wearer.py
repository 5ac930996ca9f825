"""Body, fit and cautions."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.factory import pullover
from workshop.core.plan import plan
from workshop.core.wearer.body import along_curve, interpolate, resolve
from workshop.project import Body, FibrePart, Fit, FittingGarment, Yarn
from workshop.tables import bodies


def codes(**body) -> set[str]:
    return {c.code for c in plan(pullover(body=Body(source="own", **body))).checks}


def test_own_figures_win_and_blanks_are_filled_and_marked():
    wearer = resolve(Body(table="women", size="M", chest_cm=92.0))

    assert (wearer.measures["chest"].value_cm, wearer.measures["chest"].origin) == (92.0, "own")
    assert (wearer.measures["upper_arm"].value_cm, wearer.measures["upper_arm"].origin) == (28.0, "table")
    assert wearer.measures["upper_arm"].how == "memory"
    assert wearer.measures["wrist"].origin == "estimate"


@given(st.floats(71, 158))
def test_blanks_between_sizes_lie_between_the_sizes(chest):
    wearer = resolve(Body(table="women", chest_cm=chest))
    arms = [c.middle_cm for c in bodies.cells("women", "upper_arm").values()]

    assert min(arms) <= wearer.cm("upper_arm") <= max(arms)
    assert wearer.measures["upper_arm"].origin == "estimate"


def test_at_a_size_of_the_table_the_estimate_is_the_size():
    middle = bodies.cells("women", "chest")["L"].middle_cm

    assert resolve(Body(table="women", chest_cm=middle)).cm("upper_arm") == pytest.approx(
        bodies.cells("women", "upper_arm")["L"].middle_cm
    )


def test_lines_are_level_beyond_their_ends():
    points = [(1.0, 10.0), (2.0, 20.0)]

    assert [interpolate(points, x) for x in (0, 1, 1.5, 2, 9)] == [10, 10, 15, 20, 20]
    assert along_curve("neck_width", 95) == 17.0


def test_without_chest_and_size_nothing_is_guessed():
    assert resolve(Body(table="women")).cm("upper_arm") is None
    assert resolve(Body()).measures == {}


def test_a_size_that_the_table_does_not_have_is_asked_about():
    project = pullover(body=Body(source="table", table="women", size="XXM", chest_cm=92.0))

    assert "size-not-in-table" in {c.code for c in plan(project).checks}


@pytest.mark.parametrize(
    ("body", "code"),
    [
        ({"chest_cm": 92.0, "cross_back_cm": 50.0}, "cross-back-over-half-chest"),
        ({"wrist_cm": 30.0, "upper_arm_cm": 28.0}, "wrist-over-upper-arm"),
        ({"chest_cm": 92.0, "upper_arm_cm": 50.0}, "upper-arm-over-half-chest"),
        ({"chest_cm": 92.0, "upper_arm_cm": 14.0}, "upper-arm-small"),  # flat width instead of girth
        ({"chest_cm": 92.0, "armhole_depth_cm": 40.0}, "armhole-deep"),  # way round instead of depth
        ({"chest_cm": 92.0, "armhole_depth_cm": 9.0}, "armhole-shallow"),
        ({"hip_cm": 70.0, "waist_cm": 95.0}, "hip-under-waist"),
        ({"sleeve_underarm_cm": 60.0, "neck_to_cuff_cm": 74.0}, "sleeve-over-neck-to-cuff"),
        ({"table": "women", "chest_cm": 92.0, "upper_arm_cm": 40.0}, "far-from-table"),
        ({"table": "women", "chest_cm": 36.0}, "far-from-table"),  # inches typed as cm
    ],
)
def test_oddities_in_what_was_measured_are_asked_about(body, code):
    assert code in codes(**body)


def test_an_ordinary_body_raises_no_question():
    assert not {c.code for c in plan(pullover()).checks if c.level == "look"}


def test_an_oddity_that_the_knitter_confirms_becomes_a_note_until_the_figure_changes():
    body = Body(source="own", table="women", size="M", chest_cm=92.0, cross_back_cm=50.0)
    asked = next(c for c in plan(pullover(body=body)).checks if c.code == "cross-back-over-half-chest")
    agreed = pullover(body=body, agreed=(asked.name,))
    changed = replace(agreed, body=replace(body, cross_back_cm=52.0))

    def level(project):
        return next(c.level for c in plan(project).checks if c.code == asked.code)

    assert (level(agreed), level(changed)) == ("note", "look")


def test_finished_chest_is_body_plus_ease():
    """90 cm chest + 10 cm ease = 100 cm (doradoes.co.uk 2021, read)."""
    now = plan(pullover(body=Body(source="own", chest_cm=90.0), fit=Fit(chest_ease_cm=10.0)))

    assert now.wanted.get("chest") == 100.0
    assert now.wanted.ease["chest"] == 10.0


def test_a_garment_that_fits_is_doubled_and_wins():
    garment = FittingGarment(chest_width_cm=52.0, cuff_width_cm=10.0, armhole_depth_cm=23.0)
    now = plan(pullover(fitting_garment=garment))

    assert now.wanted.get("chest") == 104.0
    assert now.wanted.get("wrist") == 20.0
    assert now.wanted.get("armhole_depth") == 23.0
    assert now.wanted.ease["chest"] == 12.0  # over the chest of 92


def test_a_hem_over_wide_hips_is_asked_about():
    project = pullover(
        body=Body(source="own", table="women", size="M", chest_cm=92.0, hip_cm=112.0, back_waist_cm=43.0)
    )

    assert "hip-wider-than-garment" in {c.code for c in plan(project).checks}


def test_ease_beyond_what_cloth_stretches_is_asked_about():
    assert "ease-very-negative" in {c.code for c in plan(pullover(fit=Fit(chest_ease_cm=-15.0))).checks}


def cautions(project) -> set[str]:
    return {c.id for c in plan(project).cautions}


def test_cautions_follow_the_wearer_and_the_fibre():
    baby = pullover(body=Body(table="babies", size="6 months"))
    adult = pullover(yarn=(Yarn("a", "x", "medium", (FibrePart("acrylic", 100.0),)),))

    assert {"child-cords", "child-small-parts", "baby-sleep", "baby-open-knit", "wool-skin", "hot-wash"} <= cautions(
        baby
    )
    assert {"wrists", "iron-synthetic"} <= cautions(adult)
    assert not {"child-cords", "baby-sleep", "wool-skin", "hot-wash"} & cautions(adult)


def test_a_small_chest_without_a_table_is_treated_as_a_child():
    assert "child-cords" in cautions(pullover(body=Body(source="own", chest_cm=58.0)))
