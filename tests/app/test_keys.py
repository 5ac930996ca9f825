"""What keys do in a form: nothing is lost, nothing is taken out unasked, however fast one types."""

from dataclasses import replace

import pytest
from textual import events
from textual.geometry import Size
from textual.widgets import OptionList

from tests.app.helpers import answer, app_on, at, button, dialog, go_to, on_disk, row_of, screen_text, settle, to
from tests.factory import pullover, swatch
from workshop.app.screens.dialogs import ConfirmDialog
from workshop.app.widgets.form import NO_ANSWER, AnswerInput, AnswerList


def three_swatches():
    return pullover(swatch=tuple(swatch(name=n) for n in "ABC"))


async def type_ahead(pilot, *keys: str) -> None:
    """Keys that come faster than the screen follows."""
    app = pilot.app
    for key in keys:
        name = "space" if key == " " else key
        character = key if len(key) == 1 else None
        app.post_message(events.Key(name, character))
    await settle(pilot)
    await settle(pilot)
    await settle(pilot)


async def test_enter_goes_from_the_last_field_of_a_group_to_the_next_and_never_to_a_button(clean_environment):
    app = app_on(clean_environment, three_swatches(), at="swatch")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "swatch.A.width_cm")
        await pilot.pause()
        await pilot.press("enter")
        await settle(pilot)
        assert at(app) == "swatch.B.needle_mm"

        to(app, "swatch.C.width_cm")
        await pilot.pause()
        await pilot.press("enter", "enter", "enter")
        await settle(pilot)
        assert not at(app).startswith(">")
        assert "That's the last question here" in screen_text(app)
        assert len(app.session.project.swatch) == 3


async def test_taking_a_swatch_out_asks_first_and_no_is_the_first_answer(clean_environment):
    app = app_on(clean_environment, three_swatches(), at="swatch")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        button(app, "remove B")
        await pilot.pause()
        await pilot.press("enter")
        await dialog(pilot)
        assert isinstance(app.screen, ConfirmDialog)
        assert "The swatch's 12 counts" in screen_text(app)
        await pilot.press("enter")
        await settle(pilot)
        assert [s.id for s in app.session.project.swatch] == ["A", "B", "C"]

        button(app, "remove B")
        await pilot.pause()
        await pilot.press("enter")
        await dialog(pilot)
        app.screen.query_one(OptionList).highlighted = 1
        await pilot.press("enter")
        await settle(pilot)
        assert [s.id for s in on_disk(app).swatch] == ["A", "C"]
        assert "3 purl bumps" in screen_text_of_panel(app)  # C keeps the mark that is knitted into it
        assert app.focused is not None


def screen_text_of_panel(app) -> str:
    return str(app.screen.query_one("#answers .lines").content)


async def test_taking_a_yarn_out_asks_first(clean_environment):
    app = app_on(clean_environment, pullover(), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        button(app, "remove a")
        await pilot.pause()
        await pilot.press("enter")
        await dialog(pilot)
        assert "(A) stay. You can" in screen_text(app)
        await pilot.press("escape")
        await settle(pilot)
        assert len(app.session.project.yarn) == 1


async def test_a_count_typed_in_the_second_place_alone_is_stored_once(clean_environment):
    from dataclasses import replace

    app = app_on(clean_environment, pullover(swatch=(replace(swatch(), reading=()),)), at="gauge")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "reading.A.off needles.stitches.2")
        await pilot.pause()
        await pilot.press(*"22", "enter")
        await settle(pilot)

        assert [r.count for r in on_disk(app).swatch[0].reading] == [22.0]
        assert row_of(app, "reading.A.off needles.stitches.1").text == ""
        assert row_of(app, "reading.A.off needles.stitches.2").text == "22 over 10 cm"


async def test_emptying_one_place_keeps_the_others(clean_environment):
    app = app_on(clean_environment, pullover(), at="gauge")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "reading.A.off needles.rows.1")
        await pilot.pause()
        await pilot.press("delete", "enter")  # what stands there is selected on arrival
        await settle(pilot)

        there = on_disk(app).swatch[0].places("off needles", "rows")
        assert sorted(there) == [2, 3]


async def test_keys_typed_ahead_of_the_screen_go_where_they_were_meant(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.chest_cm")
        await pilot.pause()
        await type_ahead(pilot, *"97", "enter", "enter", *"31", "enter", *"17", "tab", *"20", "down", "up")

        body = on_disk(app).body
        assert (body.chest_cm, body.high_bust_cm, body.upper_arm_cm) == (97.0, None, 31.0)
        assert (body.wrist_cm, body.armhole_depth_cm) == (17.0, 20.0)


async def test_keys_typed_right_after_next_go_to_the_next_step(clean_environment):
    from dataclasses import replace

    app = app_on(
        clean_environment, pullover(body=replace(pullover().body, source="own", table=None, size=None)), at="wash"
    )
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "reading.A.washed.rows.3")
        await pilot.pause()
        await type_ahead(pilot, *"29", "ctrl+n", *"31,5", "enter")

        assert app.current_step == "measure"
        assert on_disk(app).swatch[0].places("washed", "rows")[3].count == 29.0
        assert on_disk(app).body.upper_arm_cm == 31.5
        assert on_disk(app).body.chest_cm == 92.0


@pytest.mark.parametrize(("down", "up"), [("down", "up"), ("tab", "shift+tab")])
async def test_arrows_and_tab_move_between_questions(clean_environment, down, up):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.chest_cm")
        await pilot.pause()
        await pilot.press(down)
        assert at(app) == "body.high_bust_cm"
        await pilot.press(up, up)
        assert at(app) == "body.size"  # a list, closed
        await pilot.press(up)
        assert at(app) == "body.table"
        assert replace(app.session.project, last_step=None) == on_disk(app)  # looking writes nothing


async def test_arrows_reach_the_buttons_and_come_back(clean_environment):
    app = app_on(clean_environment, pullover(), at="swatch")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "swatch.A.width_cm")
        await pilot.pause()
        await pilot.press("down")
        assert at(app) == "> remove A"
        await pilot.press("up")
        assert at(app) == "swatch.A.width_cm"


async def test_a_choice_made_with_enter_goes_on(clean_environment):
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "garment.neckline")
        await pilot.pause()
        await pilot.press("space", *"boat", "enter")
        await settle(pilot)
        assert app.session.project.garment.neckline == "boat"
        assert at(app) == "garment.sleeve"
        await pilot.press("enter")  # an answer stands: Enter goes on, as in any other field
        await settle(pilot)
        assert app.session.project.garment.sleeve == "long"
        assert at(app) == "garment.waist"


async def test_typing_into_an_answered_field_replaces_it_and_the_cursor_ends_behind_it(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.chest_cm")
        await pilot.pause()
        await pilot.press(*"38 in".replace(" ", "").replace("in", ""), "space", "i", "n", "enter")
        await settle(pilot)
        row = row_of(app, "body.chest_cm")
        assert app.session.project.body.chest_cm == pytest.approx(96.52)
        assert row.text == "96.5 cm"
        await pilot.press("up")
        assert app.screen.query_one(AnswerInput).cursor_position == len("96.5 cm")


async def test_enter_in_an_empty_field_takes_what_is_offered_and_tab_leaves_it_open(clean_environment):
    from workshop.project import GarmentChoices

    app = app_on(clean_environment, pullover(garment=GarmentChoices()), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert at(app) == "garment.construction"
        assert "Enter takes '" in screen_text(app)
        await pilot.press("enter", "tab", "enter")
        await settle(pilot)
        garment = app.session.project.garment
        assert (garment.construction, garment.front, garment.worked) == ("drop-shoulder", None, "flat")


async def test_enter_takes_the_offer_also_where_something_was_typed_and_erased(clean_environment):
    open_still = replace(pullover().yarn[0], care="")
    app = app_on(clean_environment, pullover(yarn=(open_still,)), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "yarn.a.care")
        await pilot.press("5", "backspace")
        await settle(pilot)
        assert "Enter takes '" in screen_text(app)
        await pilot.press("enter")
        await settle(pilot)
        assert app.session.project.yarn[0].care.startswith("hand wash")


async def test_a_space_before_any_answer_leaves_what_stands_in_the_field(clean_environment):
    """A space opens a list; typed at a field it is a slip."""
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.chest_cm")
        await pilot.pause()
        await pilot.press("space")
        assert app.screen.query_one(AnswerInput).value == "92 cm"
        await pilot.press("9", "5", "enter")
        await settle(pilot)
        assert app.session.project.body.chest_cm == 95.0


async def test_an_answer_that_may_stay_open_can_be_emptied_from_its_list(clean_environment):
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "garment.front")
        await pilot.pause()
        await pilot.press("space", "home", "enter")
        await settle(pilot)
        assert app.session.project.garment.front is None
        assert on_disk(app).garment.front is None


async def test_enter_passes_a_list_that_may_stay_open_and_opens_one_that_may_not(clean_environment):
    app = app_on(
        clean_environment, pullover(body=replace(pullover().body, source="own", size=None, chest_cm=None)), at="measure"
    )
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.size")
        await pilot.pause()
        assert "Space opens the list" in " ".join(screen_text(app).split())
        await pilot.press("enter")
        await settle(pilot)
        assert app.session.project.body.size is None
        assert at(app) == "body.high_bust_cm"
        app.session.change(replace(app.session.project, yarn=(replace(pullover().yarn[0], weight=None),)))
        await go_to(pilot, "fibre")
        to(app, "yarn.a.weight")
        await pilot.pause()
        assert "Enter opens the list" in " ".join(screen_text(app).split())
        await pilot.press("enter")
        await settle(pilot)
        assert app.body.form.listed is not None


async def test_what_no_answer_of_a_list_begins_with_takes_none(clean_environment):
    project = pullover(yarn=(replace(pullover().yarn[0], weight=None),))
    app = app_on(clean_environment, project, at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "yarn.a.weight")
        await pilot.pause()
        await pilot.press("2", "9", "enter")  # a count that was meant for another place
        await settle(pilot)
        assert app.session.project.yarn[0].weight is None
        assert app.body.form.listed is not None
        assert "No choice begins with “29”" in " ".join(screen_text(app).split())
        await pilot.press("down", "enter")
        await settle(pilot)
        first = row_of(app, "yarn.a.weight").field.question.kind.options(project)[0]
        assert app.session.project.yarn[0].weight == first.value
        assert app.body.form.listed is None


async def test_a_window_is_resized_while_a_list_is_open(clean_environment):
    app = app_on(clean_environment, pullover(yarn=(replace(pullover().yarn[0], weight=None),)), at="fibre")
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        to(app, "yarn.a.weight")
        await pilot.pause()
        for size in ((60, 20), (40, 12), (120, 40), (80, 24)):
            await pilot.press("space")
            await pilot.resize_terminal(*size)
            await settle(pilot)
        for width in (0, 1, 3):  # what the list has for a moment while the columns are laid out anew
            assert app.screen.query_one(AnswerList).get_content_height(Size(0, 0), Size(60, 20), width) > 0
        await pilot.press(*"bulky", "enter")
        await settle(pilot)
        assert app.session.project.yarn[0].weight == "bulky"


async def test_the_letter_that_opens_a_list_is_the_first_of_the_word(clean_environment):
    app = app_on(clean_environment, pullover(yarn=(replace(pullover().yarn[0], weight=None),)), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "yarn.a.weight")
        await pilot.pause()
        await pilot.press(*"super b", "enter")
        await settle(pilot)
        assert app.session.project.yarn[0].weight == "super-bulky"


async def test_a_list_that_always_has_an_answer_offers_none_to_take_back(clean_environment):
    app = app_on(clean_environment, pullover(), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "units")
        await pilot.pause()
        await pilot.press("space")
        await settle(pilot)
        assert NO_ANSWER not in screen_text(app)
        await pilot.press("down", "enter")
        await settle(pilot)
        assert app.session.project.units == "in"


async def test_f5_takes_every_offer_of_the_step(clean_environment):
    from workshop.project import GarmentChoices

    app = app_on(clean_environment, pullover(garment=GarmentChoices()), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("f5")
        await settle(pilot)
        garment = app.session.project.garment
        assert (garment.front, garment.waist, garment.band_cm) == ("closed", "straight", 2.5)
        assert "suggested answers. You can" in screen_text(app)


async def test_refused_text_comes_back_after_quitting(clean_environment):
    from workshop.app.app import WorkshopApp
    from workshop.session import opened

    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.chest_cm")
        await pilot.pause()
        await pilot.press(*"960", "ctrl+q")
    path = app.session.path

    again = WorkshopApp(opened(path), clean_environment)
    async with again.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        row = row_of(again, "body.chest_cm")
        assert row.text == "960"
        assert row.wrong
        assert again.session.project.body.chest_cm == 92.0
        await answer(pilot, "body.chest_cm", "96")
        assert on_disk(again).drafts == {}
        assert on_disk(again).body.chest_cm == 96.0


async def test_letters_on_a_closed_list_open_it_and_look_for_the_answer(clean_environment):
    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.app.open_step("shape", at="garment.construction")
        await settle(pilot)
        await type_ahead(pilot, *"raglan", "enter")
        await settle(pilot)
        assert app.session.project.garment.construction == "raglan-from-hem"
        assert at(app) == "garment.front"


async def test_enter_passes_a_fourth_place_and_the_arrows_reach_it(clean_environment):
    from dataclasses import replace

    app = app_on(clean_environment, pullover(swatch=(replace(swatch(), reading=()),)))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.app.open_step("gauge", at="reading.A.off needles.stitches.1")
        await settle(pilot)
        await pilot.press(*"18", "enter", *"18.5", "enter", *"18", "enter")  # three times stitches, then rows
        assert at(app) == "reading.A.off needles.rows.1"
        await pilot.press(*"25", "enter")
        assert app.session.project.swatch[0].places("off needles", "rows")[1].count == 25.0

        await pilot.app.open_step("gauge", at="reading.A.off needles.stitches.3")
        await settle(pilot)
        await pilot.press("down", *"18.25", "enter")
        assert app.session.project.swatch[0].places("off needles", "stitches")[4].count == 18.25
        assert at(app) == "reading.A.off needles.rows.1"


async def test_whoever_only_types_counts_comes_from_swatch_to_swatch_without_a_list(clean_environment):
    from dataclasses import replace

    two = tuple(replace(swatch(name=name), reading=(), notes="") for name in "AB")
    app = app_on(clean_environment, pullover(swatch=two), at="gauge")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for count in ("18", "18.5", "18", "25", "25", "25.5"):
            await pilot.press(*count, "enter")
        while at(app) != "swatch.A.notes":
            await pilot.press("enter")
        await pilot.press("enter")
        assert at(app) == "reading.B.off needles.stitches.1"
        await pilot.press(*"17.5", "enter")
        assert app.session.project.swatch[1].places("off needles", "stitches")[1].count == 17.5
