"""The whole way through the app, from empty to the summary, and again after a restart half way."""

import pytest
from textual.widgets import OptionList

from tests.app.helpers import answer, app_on, button, dialog, go_to, on_disk, put, row_of, screen_text, settle, to
from tests.factory import pullover
from workshop import saves
from workshop.app.app import WorkshopApp
from workshop.app.screens.start import StartScreen
from workshop.progress import progress

FIBRE = [
    ("title", "Lamplight jumper"), ("tension", "average"), ("yarn.a.name", "Lamplight worsted"), ("yarn.a.weight", "medium"),
    ("yarn.a.fibres", "100 superwash wool"), ("yarn.a.ball_g", "100"), ("yarn.a.ball_m", "200 m"), ("yarn.a.care", "machine wash"),
]  # fmt: skip
COUNTS = [
    ("reading.B.off needles.stitches.1", "30½ over 14 cm"), ("reading.B.off needles.stitches.2", "30,25 over 14"),
    ("reading.B.off needles.stitches.3", "30 1/2 over 14"), ("reading.B.off needles.rows.1", "28.5"),
    ("reading.B.off needles.rows.2", "28¼"), ("reading.B.off needles.rows.3", "28.5"),
    ("swatch.B.cast_on", "36"), ("swatch.B.rows", "48"), ("swatch.B.grams", "18"),
]  # fmt: skip
WASHED = [
    ("design.swatch", "B"), ("design.state", "washed"), ("reading.B.washed.stitches.1", "28¾ over 14"),
    ("reading.B.washed.stitches.2", "28½ over 14"), ("reading.B.washed.stitches.3", "28¾ over 14"),
    ("reading.B.washed.rows.1", "26.5"), ("reading.B.washed.rows.2", "26.25"), ("reading.B.washed.rows.3", "26.5"),
]  # fmt: skip
BODY = [
    ("body.source", "own"), ("body.table", "women"), ("body.chest_cm", "37 in"), ("body.upper_arm_cm", "29,5"),
    ("body.neck_to_cuff_cm", "75"), ("fit.ease", "standard"),
]  # fmt: skip


async def answer_all(pilot, answers) -> None:
    for key, text in answers:
        await answer(pilot, key, text)


async def test_from_nothing_to_a_summary_and_a_restart_half_way(clean_environment):
    app = app_on(clean_environment)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert isinstance(app.screen, StartScreen)
        await pilot.press("enter")
        await settle(pilot)
        await answer_all(pilot, FIBRE)
        await pilot.press("ctrl+n")
        await settle(pilot)
        await pilot.click("Sheet", offset=(4, 3))  # plan three swatches
        await settle(pilot)
        assert [s.needle_mm for s in app.session.project.swatch] == [3.75, 4.0, 4.5]
        await pilot.press("ctrl+n")
        await settle(pilot)
        await answer_all(pilot, COUNTS[:3])
        path = app.session.path

    assert path == clean_environment / "lamplight-jumper.toml"
    assert len(saves.load(path).swatch[1].reading) == 3

    again = WorkshopApp(folder=clean_environment)
    async with again.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        listed = again.screen.query_one("#projects", OptionList)
        assert "Lamplight jumper: next Gauge" in str(listed.get_option_at_index(1).prompt)
        await pilot.press("enter")
        await settle(pilot)
        assert again.current_step == "gauge"  # where it was left off
        await answer_all(pilot, COUNTS[3:])
        for answers in (WASHED, BODY):
            await pilot.press("ctrl+n")
            await settle(pilot)
            await answer_all(pilot, answers)
        await pilot.press("ctrl+n")
        await settle(pilot)
        await pilot.press("f5")  # take all offered answers of the shape
        await settle(pilot)
        await pilot.press("ctrl+n")
        await settle(pilot)

        assert again.current_step == "summary"
        text = screen_text(again)
        assert "All steps are done: this is the plan to knit from." in text
        assert "Finished measurements" in text
        assert again.session.plan.made.pieces
        assert on_disk(again) == again.session.project
        assert again.session.project.body.chest_cm == pytest.approx(93.98)


async def test_the_first_two_steps_by_keyboard_alone(clean_environment):
    app = app_on(clean_environment)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("n")
        await settle(pilot)
        for keys in (
            [*"Dusk", "enter"],
            ["enter", "enter", "enter"],  # centimetres, millimetres and US terms stand there
            ["enter"],  # the offered hand
            [*"Dusk wool", "enter"],
            ["enter", "m", "enter"],  # open the list, go to "medium", take it
        ):
            await pilot.press(*("space" if k == " " else k for k in keys))
            await settle(pilot)
        await pilot.press(*"wool", "enter")
        await settle(pilot)
        assert app.session.project.title == "Dusk"
        assert app.session.project.tension == "average"
        assert app.session.project.yarn[0].name == "Dusk wool"
        assert app.session.project.yarn[0].weight == "medium"
        assert app.session.project.yarn[0].fibres[0].fibre == "wool"

        await pilot.press("ctrl+n")
        await settle(pilot)
        await pilot.press("enter")  # the button has the focus: there is nothing else yet
        await settle(pilot)
        assert len(app.session.project.swatch) == 3
        await pilot.press("ctrl+r")
        await settle(pilot)
        assert app.current_step == "fibre"


async def test_any_step_can_be_opened_from_the_list_of_steps(clean_environment):
    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("f4")
        await pilot.pause()
        await pilot.pause()
        await pilot.press("home", "down", "down", "down", "enter")
        await settle(pilot)

        assert app.current_step == "wash"


async def test_what_is_typed_when_leaving_is_kept(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.chest_cm")
        put(app, "101")
        await pilot.pause()
        await pilot.press("ctrl+q")

    assert saves.load(app.session.path).body.chest_cm == 101.0


async def test_numbers_change_while_one_types_and_nothing_is_taken_yet(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.chest_cm")
        put(app, "120")
        await settle(pilot)

        assert "body 120 cm + 8 cm" in screen_text(app)  # beside the large figure
        told = " ".join(str(app.screen.query_one("#answers .lines").content).split())
        assert "Chest 128 cm = the wearer's 120 cm + 8 cm of ease" in told
        assert app.session.project.body.chest_cm == 92.0


async def test_changing_an_early_answer_marks_later_steps_and_going_through_them_settles_it(clean_environment):
    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        for step in ("fibre", "swatch", "gauge"):
            await go_to(pilot, step)
            await pilot.press("ctrl+n")
            await settle(pilot)
        await go_to(pilot, "fibre")
        await answer(pilot, "tension", "tight")
        assert "2 Swatch !" in screen_text(app)

        await go_to(pilot, "swatch")
        await pilot.press("ctrl+n")
        await settle(pilot)
        assert "2 Swatch ✓" in screen_text(app)


async def test_a_check_can_be_agreed_to(clean_environment):
    from dataclasses import replace

    odd = pullover(
        body=replace(
            pullover().body,
            table=None,
            size=None,
            upper_arm_cm=28.0,
            armhole_depth_cm=18.0,
            neck_to_cuff_cm=74.0,
            cross_back_cm=50.0,
        )
    )
    app = app_on(clean_environment, odd, at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "look again" in screen_text(app)
        await pilot.press("f6")
        await pilot.pause()
        await pilot.pause()
        await pilot.press("enter")
        await settle(pilot)

        assert any(a.startswith("cross-back-over-half-chest") for a in on_disk(app).agreed)
        assert "5 Measure ✓" in screen_text(app)


async def test_the_plan_is_written_beside_the_save(clean_environment):
    app = app_on(clean_environment, pullover(), at="summary")
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await settle(pilot)
        await pilot.press("p")
        await pilot.press("m")
        await settle(pilot)

    assert "Cast on 102 stitches" in (clean_environment / "test-pullover.html").read_text()
    assert (clean_environment / "test-pullover.md").exists()


async def test_yarns_and_swatches_are_added_and_taken_out(clean_environment):
    app = app_on(clean_environment, pullover(), at="fibre")
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        button(app, "add")
        await pilot.press("enter")
        await settle(pilot)
        assert [y.id for y in app.session.project.yarn] == ["a", "b"]
        assert row_of(app, "yarn.b.weight")
        button(app, "remove b")
        await pilot.press("enter")
        await dialog(pilot)
        await pilot.press("down", "enter")
        await settle(pilot)
        with pytest.raises(KeyError):
            row_of(app, "yarn.b.weight")

        await go_to(pilot, "swatch")
        button(app, "add")
        await pilot.press("enter")
        await settle(pilot)
        assert [s.id for s in app.session.project.swatch] == ["A", "B"]
        assert on_disk(app) == app.session.project


async def test_back_to_the_list_of_projects(clean_environment):
    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("ctrl+o")
        await settle(pilot)

        assert isinstance(app.screen, StartScreen)
        assert "Test pullover: plan ready" in screen_text(app)


async def test_a_damaged_save_is_listed_with_its_fault_and_cannot_be_opened(clean_environment):
    clean_environment.mkdir()
    (clean_environment / "bad.toml").write_text("format = 9")
    app = app_on(clean_environment)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "from a newer workshop" in screen_text(app)
        await pilot.press("down", "enter")
        await settle(pilot)
        assert isinstance(app.screen, StartScreen)
        assert "bad.toml, line 1: format: is 9" in " ".join(screen_text(app).split())


async def test_the_list_and_the_step_say_what_to_do_with_ones_hands_after_a_break(clean_environment):
    from dataclasses import replace

    from tests.factory import readings, swatch
    from workshop.project import Design

    counted = replace(
        swatch(), reading=(*readings("off needles", "stitches", 20), *readings("off needles", "rows", 28))
    )
    app_on(clean_environment, pullover(swatch=(counted,), design=Design()))  # saved three weeks ago
    app = WorkshopApp(folder=clean_environment)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "Wash and dry swatch A" in screen_text(app)
        await pilot.press("enter")
        await settle(pilot)
        said = str(app.screen.query_one("#answers .lines").content)
        assert said.startswith("Welcome back.")


async def test_a_confused_beginner_goes_back_and_forth_and_loses_nothing(clean_environment):
    """Inches in a project in centimetres, words for numbers, another yarn when everything else is done."""
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await answer(pilot, "body.chest_cm", "38")
        assert "inches-as-cm" in {c.code for c in app.session.plan.checks}
        await answer(pilot, "body.chest_cm", "38 in")
        assert "inches-as-cm" not in {c.code for c in app.session.plan.checks}
        assert app.session.project.body.chest_cm == pytest.approx(96.52)

        await go_to(pilot, "shape")
        await answer(pilot, "garment.length_cm", "to the hip")
        assert row_of(app, "garment.length_cm").wrong
        await pilot.press("ctrl+r", "ctrl+r", "ctrl+r")
        await settle(pilot)
        assert app.current_step == "gauge"
        await answer(pilot, "reading.A.off needles.stitches.2", "28")  # rows where stitches belong
        asked = {c.code for c in app.session.plan.checks if c.level == "look"}
        assert asked
        await answer(pilot, "reading.A.off needles.stitches.2", "20")
        await pilot.press("ctrl+n", "ctrl+n", "ctrl+n")
        await settle(pilot)
        assert row_of(app, "garment.length_cm").text == "to the hip"  # what was typed is still there
        assert app.session.project.garment.length_cm == 60.0  # and so is the last good answer
        await answer(pilot, "garment.length_cm", "62")

        await go_to(pilot, "fibre")
        await answer(pilot, "yarn.a.weight", "bulky")
        states = {s.name: s.state for s in progress(app.session.plan)}
        assert "look again" in states.values()
        assert app.session.project.swatch[0].readings("washed", "rows")
        await answer(pilot, "yarn.a.weight", "medium")
        await go_to(pilot, "summary")
        assert app.session.plan.made.pieces
        assert on_disk(app).garment.length_cm == 62.0
