"""A knitter opens lists, reads meanwhile, changes a finished plan late, and comes back: what she is told each time."""

from dataclasses import replace

from textual.widgets import OptionList

from tests.app.helpers import answer, app_on, at, on_disk, screen_text, settle, to
from tests.factory import pullover, readings, swatch
from workshop.app.app import WorkshopApp
from workshop.app.widgets import form
from workshop.app.widgets.body import NO_SWATCH
from workshop.app.widgets.form import AnswerList
from workshop.project import Design, Fit


async def test_a_list_opens_at_what_is_offered_is_read_beside_and_is_found_by_letters(clean_environment, monkeypatch):
    clock = [0.0]
    monkeypatch.setattr(form, "monotonic", lambda: clock[0])
    app = app_on(clean_environment, pullover(fit=Fit()), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "fit.ease")
        await pilot.press("space")
        await settle(pilot)
        listed = app.screen.query_one(AnswerList)
        assert str(listed.answers[listed.highlighted].value) == "standard"

        await pilot.press("f2", "pagedown")
        await settle(pilot)
        assert app.body.lesson.scroll_y > 0
        assert str(listed.answers[listed.highlighted].value) == "standard"
        await pilot.press("escape", "escape")
        await settle(pilot)
        assert app.body.face == "answers"
        assert at(app) == "fit.ease"
        assert any("▸" in line and "Fit" in line for line in screen_text(app).splitlines())

        await pilot.press("space", *"42 wide")  # meant for another question
        await settle(pilot)
        listed = app.screen.query_one(AnswerList)
        assert listed.highlighted is None
        clock[0] += 1  # a glance at the screen
        await pilot.press("l")
        await settle(pilot)
        assert str(listed.answers[listed.highlighted].value) == "loose"
        await pilot.press(*"zz", "backspace", "enter")
        await settle(pilot)
        assert on_disk(app).fit.ease == "standard"


async def test_a_late_answer_shows_the_plan_before_and_now_and_the_last_question_names_no_button(clean_environment):
    hung = replace(swatch(), reading=(*swatch().reading, *readings("hung", "rows", 26, 26.5, 26)))
    app = app_on(clean_environment, pullover(swatch=(hung,), design=Design("A", "hung")), at="wash")
    async with app.run_test(size=(80, 50)) as pilot:
        await settle(pilot)
        back = app.session.plan.made.pieces[0].cast_on
        await answer(pilot, "reading.A.washed.stitches.1", "23")
        now = app.session.plan.made.pieces[0].cast_on
        assert now != back
        told = " ".join(line.text for line in app.body.panel._lines)
        assert f"cast-on of the back {back}, now {now}" in told

        await answer(pilot, "design.swatch", "A")  # as it was
        await answer(pilot, "reading.A.washed.stitches.2", "20")
        assert "now" not in app.body.panel._lines[0].text
        to(app, "reading.A.hung.stitches.3")
        await pilot.press("enter")
        await settle(pilot)
        assert "That's the last question here." in screen_text(app)
        assert "button" not in screen_text(app)


async def test_the_list_of_projects_offers_what_can_be_done_there_and_a_finished_plan_opens_as_a_plan(
    clean_environment,
):
    app_on(clean_environment, pullover(title="A jumper with a long name for a long winter", last_step="gauge"))
    app = WorkshopApp(folder=clean_environment)
    async with app.run_test(size=(60, 20)) as pilot:
        await settle(pilot)
        offered = {c.title for c in app.get_system_commands(app.screen)}
        assert {"Help", "Quit", "New", "Practice counting"} <= offered
        assert not offered & {"Lesson", "Working", "Steps", "Picture", "Offers", "Agree", "Next", "Back", "Projects"}
        told = str(app.screen.query_one("#projects", OptionList).get_option_at_index(1).prompt).split("\n")
        assert len(told) > 2
        assert all(line.startswith("   ") for line in told[1:])  # and the column of the sign before them

        await pilot.press("enter")
        await settle(pilot)
        assert app.current_step == "summary"


async def test_a_step_says_that_it_has_nothing_to_answer_only_where_that_is_so(clean_environment):
    app = app_on(clean_environment, pullover(), at="summary")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("ctrl+r")  # the first form of this window: it knows no width yet
        assert app.room.step == "shape"
        assert NO_SWATCH[:35] not in str(app.room.hint.content)
        body = replace(app.session.project.body, armhole_depth_cm=8.0)
        app.session.change(replace(app.session.project, body=body))
        await app.open_step("shape")
        await pilot.press("ctrl+y", "ctrl+y")  # what has changed; then an answer that another step asks for
        assert "Measure step: Armhole depth" in str(app.room.hint.content)
        app.session.change(replace(app.session.project, swatch=()))
        await app.open_step("gauge")
        assert NO_SWATCH[:35] in str(app.room.hint.content)
