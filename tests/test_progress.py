"""How far a project has come, and sessions that never lose an answer."""

from dataclasses import replace

import pytest

from tests.factory import pullover, readings, shaped, swatch
from workshop import saves
from workshop.conversation import standing
from workshop.core.plan import plan
from workshop.planned import plan as planned
from workshop.progress import (
    at_hand,
    changed_since,
    cloth_changed,
    confirm,
    going_on,
    going_on_at,
    keep_in_step,
    may_stay_blank,
    missing_answers,
    next_step,
    open_text,
    progress,
)
from workshop.project import STEPS, Body, Design, FibrePart, Fit, GarmentChoices, Project, Yarn
from workshop.questions import steps as question_steps
from workshop.questions.fibre import add_yarn
from workshop.session import Session, opened
from workshop.units import NotUnderstood
from workshop.words.answers.of_steps import answers


def states(project: Project) -> dict[str, str]:
    return {s.name: s.state for s in progress(plan(project))}


def missing(project: Project, step: str) -> tuple[str, ...]:
    return next(s.missing for s in progress(plan(project)) if s.name == step)


def confirmed(project: Project) -> Project:
    for name in STEPS:
        project = confirm(name, project)
    return project


def test_an_empty_project_has_everything_to_do():
    assert set(states(Project()).values()) == {"to do"}
    assert next_step(progress(plan(Project()))).name == "fibre"


def test_a_complete_project_is_done_to_the_summary():
    assert set(states(pullover()).values()) == {"done"}


def test_a_step_begun_is_under_way_and_names_what_is_missing():
    project = replace(add_yarn(Project()), tension="average")

    assert states(project)["fibre"] == "under way"
    assert set(missing(project, "fibre")) == {"title", "yarn.a.weight", "yarn.a.fibres"}


def test_a_count_one_way_only_is_under_way():
    project = pullover(swatch=(replace(swatch(), reading=readings("off needles", "stitches", 20)),))

    assert states(project)["gauge"] == "under way"
    assert missing(project, "gauge") == ("reading.A.off needles.rows",)


def test_the_wash_wants_the_chosen_swatch_in_the_chosen_state():
    assert missing(pullover(design=Design("A", "hung")), "wash") == ("reading.A.hung.rows",)  # as wide as it lies
    only_hung = replace(swatch(), reading=readings("off needles", "stitches", 20))
    assert missing(pullover(swatch=(only_hung,), design=Design("A", "hung")), "wash") == (
        "reading.A.hung.stitches",
        "reading.A.hung.rows",
    )
    assert missing(pullover(design=Design()), "wash") == ("design.swatch", "design.state")


@pytest.mark.parametrize(
    ("changes", "wanted"),
    [
        ({"body": Body()}, {"body.source"}),
        (
            {"body": Body(source="own", chest_cm=90.0)},
            {"body.upper_arm_cm", "body.armhole_depth_cm", "body.neck_to_cuff_cm"},
        ),
        ({"body": Body(source="table", table="women")}, {"body.size"}),
        ({"fit": Fit()}, {"fit.ease"}),
        ({"garment": GarmentChoices()}, {"garment.construction", "garment.hem"}),
    ],
)
def test_missing_measures_and_shapes(changes, wanted):
    project = pullover(**changes)

    assert wanted <= set(missing(project, "shape" if "garment" in changes else "measure"))


def test_a_check_that_asks_something_wants_another_look_until_it_is_answered():
    odd = pullover(body=replace(pullover().body, cross_back_cm=60.0))
    name = next(c.name for c in plan(odd).checks if c.code == "cross-back-over-half-chest")

    assert states(odd)["measure"] == "look again"
    assert states(odd)["summary"] == "look again"
    far = next(c.name for c in plan(odd).checks if c.code == "far-from-table")
    assert states(replace(odd, agreed=(name, far)))["measure"] == "done"


def test_an_early_change_marks_later_steps_and_erases_nothing():
    done = confirmed(pullover())
    changed = keep_in_step(done, replace(done, yarn=(replace(done.yarn[0], weight="bulky"),)))
    now = states(changed)

    assert now["fibre"] == "done"
    assert [now[s] for s in ("swatch", "gauge", "wash", "measure")] == ["look again"] * 4
    assert changed.swatch == done.swatch
    assert changed.garment == done.garment


def test_going_through_a_marked_step_again_settles_it():
    done = confirmed(pullover())
    changed = keep_in_step(done, replace(done, tension="tight"))
    assert states(changed)["swatch"] == "look again"

    assert states(confirm("swatch", changed))["swatch"] == "done"


def test_a_change_that_no_later_answer_was_given_in_view_of_marks_nothing():
    done = confirmed(pullover())
    changed = keep_in_step(done, replace(done, title="Another name", notes="x"))

    assert set(states(changed).values()) == {"done"}


def test_a_new_measurement_marks_the_shape():
    done = confirmed(pullover())
    changed = keep_in_step(done, replace(done, body=replace(done.body, chest_cm=100.0)))

    assert states(changed)["shape"] == "look again"
    assert states(changed)["wash"] == "done"


# ── sessions ─────────────────────────────────────────────────────────────────────────────────────────


def field(session: Session, key: str):
    return next(f for s in question_steps.MODULES for f in question_steps.fields(s, session.project) if f.key == key)


def test_an_answer_is_on_disk_before_the_next(tmp_path):
    session = Session(add_yarn(Project()), tmp_path)
    session.answer(field(session, "title"), "Kitchen jumper")

    assert session.path == tmp_path / "kitchen-jumper.toml"
    session.answer(field(session, "yarn.a.fibres"), "80 wool, 20 nylon")
    assert saves.load(session.path) == session.project


def test_a_refused_answer_changes_no_answer_and_its_text_is_kept(tmp_path):
    session = Session(pullover(), tmp_path)
    session.save()
    before = session.path.read_text()

    with pytest.raises(NotUnderstood):
        session.answer(field(session, "body.chest_cm"), "wide")
    assert session.project.body.chest_cm == 92.0
    assert session.path.read_text() == before.replace("\n[", '\n[drafts]\n"body.chest_cm" = "wide"\n\n[', 1)


def test_a_session_goes_on_where_it_was(tmp_path):
    session = Session(pullover(), tmp_path)
    session.save()
    session.at("wash")

    assert opened(session.path).project.last_step == "wash"


def test_a_full_disk_is_said_and_the_answer_stays_in_memory(tmp_path):
    blocked = tmp_path / "file"
    blocked.write_text("not a folder")
    session = Session(pullover(), blocked)
    session.answer(field(session, "body.chest_cm"), "95")

    assert "can't be written" in session.fault
    assert session.project.body.chest_cm == 95.0


def test_the_plan_is_worked_out_once_for_each_change(tmp_path):
    session = Session(pullover(), tmp_path)
    first = session.plan

    assert session.plan is first
    session.change(shaped(session.project, length_cm=62.0))
    assert session.plan is not first


def test_looking_around_makes_no_file(tmp_path):
    session = Session(Project(), tmp_path)
    session.at("gauge")
    session.confirm("fibre")

    assert list(tmp_path.iterdir()) == []


def test_agreeing_twice_is_remembered_once(tmp_path):
    session = Session(pullover(), tmp_path)
    session.agree("x")
    session.agree("x")

    assert session.project.agreed == ("x",)


def test_steps_without_questions_confirm_to_nothing():
    assert confirm("summary", pullover()) == pullover()
    assert Yarn("a") == Yarn("a")


def test_a_wash_half_counted_goes_on_at_the_open_place():
    """Two of three places across, none along: the third place, not the choice of the swatch."""
    half = pullover(
        swatch=(
            replace(
                swatch(),
                reading=(*readings("off needles", "stitches", 20, 20), *readings("washed", "stitches", 20, 20)),
            ),
        )
    )
    half = replace(half, design=Design())

    assert going_on("wash", plan(half)) == "reading.A.washed.stitches.3"
    assert "reading.A.washed.rows" in missing_answers("wash", plan(half))
    assert going_on("wash", plan(pullover())) is None
    assert going_on("fibre", plan(Project())) == "title"


def test_text_that_was_not_understood_keeps_a_step_from_being_done():
    odd = pullover(drafts={"garment.hem_cm": "60 wool"})
    steps = {s.name: s for s in progress(plan(odd))}

    assert steps["shape"].state == "look again"
    assert steps["shape"].because == "not understood: Depth of the hem '60 wool'"
    assert steps["summary"].state == "look again"


def test_one_who_is_half_through_the_wash_is_not_sent_to_wash_again():
    before = (*readings("off needles", "stitches", 20), *readings("off needles", "rows", 28))
    half = replace(swatch(), reading=(*before, *readings("washed", "stitches", 20)))

    assert at_hand(plan(pullover(swatch=(half,), design=Design()))).startswith(
        "Finish counting swatch A once it's washed and dry."
    )


def test_a_swatch_that_was_never_counted_changes_nothing_when_it_is_taken_out():
    from workshop.questions.swatch import add_swatches, remove_swatch

    project = add_swatches(pullover(), "a", (5.0,))
    for name in ("gauge", "wash", "shape"):
        project = confirm(name, project)
    without = remove_swatch(project, "B")

    assert [changed_since(name, without) for name in ("gauge", "wash", "shape")] == [(), (), ()]
    assert cloth_changed("gauge", without) == ()


def test_a_wash_that_is_told_once_the_swatch_is_counted_is_no_change_of_it():
    """The care that is offered may be taken late: how the swatch was washed it was."""
    open_still = replace(pullover(), yarn=(replace(pullover().yarn[0], care=""),))
    project = confirm("wash", open_still)
    told = replace(project, yarn=(replace(project.yarn[0], care="hand wash cool, dry flat"),))
    assert cloth_changed("wash", told) == changed_since("wash", told) == ()

    other = replace(told, yarn=(replace(told.yarn[0], care="machine wash"),))
    assert cloth_changed("wash", replace(other, steps=confirm("wash", told).steps)) == ("how you wash Test yarn",)


def test_a_swatch_or_a_yarn_that_has_come_in_is_a_change():
    project = pullover()
    for name in ("swatch", "gauge", "wash"):
        project = confirm(name, project)
    more = replace(project, swatch=(*project.swatch, swatch(name="B")))
    assert changed_since("gauge", more) == ("the plan of swatch B",)
    assert "the counts of swatch B" in changed_since("wash", more)
    yarn = replace(project, yarn=(*project.yarn, replace(project.yarn[0], id="b", name="Other yarn")))
    assert changed_since("swatch", yarn) == ("weight or blend of Other yarn",)


def test_one_who_comes_back_goes_on_where_something_is_open():
    assert going_on_at(plan(pullover(last_step="gauge"))) == "summary"  # all is done: the plan is ready to print
    begun = pullover(last_step="gauge", garment=GarmentChoices())
    assert going_on_at(plan(begun)) == "shape"  # that step is done: the first that is not
    open_there = pullover(last_step="measure", body=Body(source="own"))
    assert going_on_at(plan(open_there)) == "measure"
    assert going_on_at(plan(Project())) == "fibre"


def test_of_several_washed_swatches_the_one_that_is_liked_best_is_offered():
    """Cloth first, numbers second; where none is liked better, nothing is offered."""
    a, b = swatch(), replace(swatch(), id="B")
    waiting = pullover(swatch=(a, b), design=Design())
    liked = replace(waiting, swatch=(replace(a, fabric_rating=3), replace(b, fabric_rating=5)))
    unwashed = replace(liked, swatch=(liked.swatch[0], replace(liked.swatch[1], reading=())))

    assert "design.swatch" not in plan(waiting).offers
    assert plan(liked).offers["design.swatch"] == "B"
    assert plan(unwashed).offers["design.swatch"] == "A"


def test_with_a_washed_swatch_counted_the_choice_comes_next():
    one = pullover(design=Design())
    counted = readings("off needles", "stitches", 20.0) + readings("off needles", "rows", 28.0)
    two = replace(one, swatch=(*one.swatch, replace(one.swatch[0], id="B", reading=counted)))

    assert at_hand(plan(one)) == "Choose the swatch to plan from (counted: A)."
    assert at_hand(plan(two)).startswith("Wash and count the other swatches too, or choose the swatch to plan from")


def test_a_yoke_in_one_piece_is_offered_in_the_round_whatever_the_swatch_was():
    """What is offered must not lead to a question: these constructions are never sewn from pieces."""
    for construction in ("raglan-from-neck", "round-yoke"):
        asked = shaped(pullover(), construction=construction, worked=None)
        assert plan(asked).offers["garment.worked"] == "round"
        assert "one-piece" not in {c.code for c in plan(shaped(asked, worked="round")).checks}
    assert plan(shaped(pullover(), worked=None)).offers["garment.worked"] == "flat"


# ── washed before anyone counted, and hung cloth ─────────────────────────────────────────────────────


def washed_first(**changes: object) -> Project:
    """A pullover whose swatch was washed before it was counted; the counts at Gauge are of the washed cloth too."""
    return pullover(swatch=(replace(swatch(), before_wash="not-counted"),), **changes)


def test_not_counted_before_the_wash_is_an_answer_and_everything_gets_its_tick():
    only_washed = tuple(r for r in swatch().reading if r.state == "washed")
    open_question = pullover(swatch=(replace(swatch(), reading=only_washed),))
    answered = pullover(swatch=(replace(swatch(), reading=only_washed, before_wash="not-counted"),))

    assert states(open_question)["gauge"] == "under way"
    assert at_hand(plan(open_question)).startswith("Swatch A has no counts from before washing. If nobody counted it")
    assert set(states(answered).values()) == {"done"}
    assert plan(answered).gauge.length is None
    assert missing(pullover(swatch=(replace(swatch(), reading=(), before_wash="not-counted"),)), "gauge") == ()


def test_counts_of_the_washed_cloth_typed_at_gauge_stay_in_the_file_and_out_of_the_plan():
    told = planned(washed_first())

    assert told.gauge.unwashed_rows is None
    assert told.gauge.rows.per_10cm == 28
    assert {r.state for r in washed_first().swatch[0].reading} == {"off needles", "washed"}
    keys = {f.key for f in question_steps.fields("gauge", washed_first())}
    assert "swatch.A.before_wash" in keys
    assert not any(key.startswith("reading.") for key in keys)


def test_washed_already_is_not_told_to_wash():
    waiting = pullover(swatch=(replace(swatch(), reading=(), before_wash="not-counted"),), design=Design())

    assert at_hand(plan(waiting)) == "Count the washed swatch A once it's dry and has rested for a day."


def test_several_swatches_are_spoken_of_in_the_plural():
    """As anybody would say it (common practice, no source)."""
    knitted = (swatch(), replace(swatch(name="B"), needle_mm=4.5))
    unwashed = tuple(replace(s, reading=readings("off needles", "stitches", 20)) for s in knitted)
    bare = tuple(replace(s, reading=()) for s in knitted)

    assert at_hand(plan(pullover(swatch=unwashed, design=Design())), "wash") == (
        "Wash and dry swatches A and B the way you'll wash the sweater. Let them rest for a day, then count again."
    )
    assert at_hand(plan(pullover(swatch=bare, design=Design())), "gauge") == (
        "Knit swatches A on 4 mm and B on 4.5 mm, let them rest off the needles, and count them before washing."
    )


def test_hung_is_chosen_the_swatch_is_hung_before_it_is_counted():
    sagging = replace(pullover().yarn[0], fibres=(FibrePart("superwash wool", 100.0),))
    now = plan(pullover(yarn=(sagging,), design=Design("A", "hung")))

    grams = f"{now.swatch('A').hang_weight.value:.0f} g"
    assert at_hand(now) == f"Hang swatch A for a day with {grams} clipped along its lower edge. Then count its rows."
    plain = at_hand(plan(pullover(design=Design("A", "hung"))))
    assert plain == "Hang swatch A for a day. Then count its rows."


def test_a_wash_that_is_counted_and_asks_something_is_no_basin():
    much = pullover(swatch=(swatch(20, 28, washed_rows=36),))

    assert states(much)["wash"] == "look again"
    assert at_hand(plan(much)) == "There's nothing to wash now, but there's a question for you in the Wash step."


def test_what_is_offered_is_not_said_to_be_needed():
    said = [line.text for line in standing("measure", plan(pullover(fit=Fit())), back_again=False)]

    assert said == ["Suggested here, for you to accept or change: Fit you want."]


@pytest.mark.parametrize("units", ["cm", "in"])
@pytest.mark.parametrize("size", ["S", "M", "L", "1X"])
def test_the_ease_of_an_open_question_is_that_of_the_sum_beside_it(units, size):
    body = Body(source="table", table="women", size=size)
    now = planned(replace(pullover(body=body, fit=Fit("standard")), units=units))
    asked = {f.key: f for f in question_steps.fields("measure", now.project)}
    told = next(line.text for line in answers("measure", now) if line.text.startswith("Upper arm"))

    assert told.endswith(f"+ {open_text(asked['fit.upper_arm_ease_cm'], now)} of ease")


def test_washed_counts_of_swatches_that_nothing_is_planned_from_may_stay_blank():
    unwashed = readings("off needles", "stitches", 18.0)
    knitted = [replace(swatch(name=name), reading=unwashed) for name in "BCD"]
    never_knitted = replace(swatch(name="E"), reading=())
    washed_first = replace(swatch(name="F"), reading=(), before_wash="not-counted")

    def told(*others):
        now = planned(pullover(swatch=(swatch(name="A"), *others)))
        fields = [f for f in question_steps.fields("wash", now.project) if f.key.startswith("reading.")]
        blank = {f.key.split(".")[1] for f in fields if not f.spare and may_stay_blank(f, now)}
        return blank, [line.text for line in answers("wash", now) if "washed counts" in line.text]

    assert told(knitted[0]) == ({"B"}, ["You can leave the washed counts of swatch B blank."])
    assert told(never_knitted) == (set(), [])
    assert told(*knitted, never_knitted, washed_first) == (
        {*"BCDF"},
        ["You can leave the washed counts of swatches B, C, D and F blank."],
    )


def test_a_swatch_that_is_only_planned_is_no_other_one_to_wash():
    unwashed = replace(swatch(), reading=swatch().reading[:6])

    def told(other):
        return answers("wash", planned(pullover(swatch=(unwashed, other), design=Design())))[0].text

    assert told(replace(unwashed, id="B")).endswith("You can leave the other swatches blank.")
    assert "others" not in told(replace(unwashed, id="B", reading=()))


def test_who_is_knitting_is_told_where_and_not_to_cast_on():
    """On the start screen of a jumper on the needles."""
    from workshop.core.knitting.facts import noted
    from workshop.progress import at_hand

    base = pullover()
    back = plan(base).made.pieces[0]
    assert "cast on" in at_hand(plan(base), "summary")
    assert at_hand(plan(replace(base, knitting=(noted(back, 36),))), "summary") == (
        f"You're knitting the back. You've knitted row 36 of {back.last_row}."
    )
    finished = replace(base, knitting=(noted(back, len(back.rows)),))
    assert at_hand(plan(finished), "summary") == f"The next piece is the {plan(base).made.pieces[1].name}."
    knitted = replace(base, knitting=tuple(noted(p, len(p.rows)) for p in plan(base).made.pieces))
    assert at_hand(plan(knitted), "summary") == "All pieces are knitted. The plan says how to finish them."
