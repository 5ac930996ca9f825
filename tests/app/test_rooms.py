"""Windows, panels and small screens: everything can be read, and the way back is known."""

from dataclasses import replace

import pytest
from textual.containers import VerticalScroll

from tests.app.helpers import (
    SIZES,
    answer,
    app_on,
    at,
    button,
    buttons,
    dialog,
    each_size,
    go_to,
    on_disk,
    row_of,
    screen_text,
    settle,
    to,
)
from tests.factory import pullover
from workshop.app.app import WorkshopApp
from workshop.app.commands import keys_that_work
from workshop.app.screens.dialogs import TooSmall
from workshop.app.screens.start import StartScreen
from workshop.app.widgets.page import Page
from workshop.progress import progress
from workshop.words.phrase import worded


async def test_a_window_too_small_says_what_it_needs_and_keeps_everything(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for size in ((40, 12), (59, 24), (80, 17), (20, 5), (1, 1)):
            to(app, "body.chest_cm")
            await pilot.pause()
            await pilot.press("ctrl+a", *"97")
            await pilot.resize_terminal(*size)
            await settle(pilot)
            assert isinstance(app.screen, TooSmall), size
            if size >= (40, 12):
                said = " ".join(screen_text(app).split())
                assert "needs at least 60 x 20" in said, size
                assert "'workshop ask' works in any size" in said, size
            await pilot.press("5", "ctrl+n")  # goes nowhere: nothing can be seen of it
            await pilot.resize_terminal(80, 24)
            await settle(pilot)
            assert app.current_step == "measure"
            assert at(app) == "body.chest_cm"
            assert row_of(app, "body.chest_cm").text == "97", size


async def test_leaving_from_a_window_too_small_takes_what_was_typed(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.chest_cm")
        await pilot.pause()
        await pilot.press(*"97")
        await pilot.resize_terminal(40, 12)
        await settle(pilot)
        await pilot.press("ctrl+q")
    assert app.session.project.body.chest_cm == 97.0


async def test_a_small_window_from_the_start(clean_environment):
    clean_environment.mkdir()
    app = WorkshopApp(folder=clean_environment)
    async with app.run_test(size=(40, 12)) as pilot:
        await settle(pilot)
        assert "needs at least 60 x 20" in screen_text(app)
        await pilot.resize_terminal(60, 20)
        await settle(pilot)
        assert isinstance(app.screen, StartScreen)


async def test_workings_of_the_summary_begin_with_the_garment_and_every_line_is_reached(clean_environment):
    app = app_on(clean_environment, pullover(), at="summary")
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            await pilot.press("home", "pagedown")
            await settle(pilot)
            left_at = app.screen.query_one("#plan", Page).scroll_y
            assert left_at > 0
            await pilot.press("f3")
            await settle(pilot)
            first = screen_text(app)
            assert "Shape" in first.splitlines()[2], size
            assert "Hem rows" in first, size
            await pilot.press("end")
            await settle(pilot)
            assert "tex" in screen_text(app), size  # the yarn comes last
            scroll = app.screen.query_one("#plan", Page)
            assert scroll.scroll_y == scroll.max_scroll_y > 17
            await pilot.press("escape")
            await settle(pilot)
            assert scroll.scroll_y == left_at, size


@pytest.mark.parametrize("where", ["start", "fibre", "shape", "summary"])
async def test_help_is_whole_and_can_be_turned_to_its_end(clean_environment, where):
    app = app_on(clean_environment) if where == "start" else app_on(clean_environment, pullover(), at=where)
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            await pilot.press("f1")
            await dialog(pilot)
            text = screen_text(app)
            assert "Esc closes" in text, size
            rows = text.splitlines()
            foot = next(i for i, row in enumerate(rows) if "Esc closes" in row)
            assert "╰" in rows[foot + 1], size  # its lower edge is on the screen
            await pilot.press("end")
            await settle(pilot)
            last = str(app.screen.query_one("VerticalScroll Static").content).split()[-1:]
            assert " ".join(last) in " ".join(screen_text(app).replace("│", " ").split()), size
            await pilot.press("escape")


async def test_help_names_the_keys_that_move(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        to(app, "body.chest_cm")
        await pilot.pause()
        keys = dict(keys_that_work(app))
        says = {does: key for key, does in keys.items()}
        assert "Tab" in says["Next question"]
        assert "Shift+Tab" in says["Previous question"]
        assert "PgDn" in says["Scroll the panel down"]


async def test_help_on_a_list_gives_its_answers_in_words(clean_environment):
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        text = app.screen.help_text()
        assert "drop shoulder" in text
        assert "raglan-from-hem" not in text


@pytest.mark.parametrize("face", ["f2", "f3"])
async def test_lesson_and_working_turn_by_page_keys_and_escape_closes_them(clean_environment, face):
    app = app_on(clean_environment, pullover(), at="gauge")
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            before = screen_text(app)
            await pilot.press(face)
            await settle(pilot)
            await settle(pilot)
            first = screen_text(app)
            panel = app.screen.query_one("#lesson" if face == "f2" else "#answers", VerticalScroll)
            assert first.splitlines()[2:] != before.splitlines()[2:], size
            await pilot.press("pagedown")
            await settle(pilot)
            assert panel.scroll_y > 0 or panel.max_scroll_y == 0, size
            await pilot.press("pageup", "escape")
            await settle(pilot)
            assert screen_text(app) == before, size


async def test_a_refusal_is_scrolled_into_view(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(60, 20)) as pilot:
        await settle(pilot)
        for key in ("body.head_cm", "body.wrist_cm", "fit.wrist_ease_cm"):
            row = row_of(app, key)
            to(app, key)
            await pilot.pause()
            await pilot.press(*"wide", "enter")
            await settle(pilot)
            form = app.screen.query_one("#form").region
            assert form.contains_region(app.body.form.region_of(row)), key


async def test_a_swatch_is_chosen_after_it_is_counted_and_by_more_than_its_letter(clean_environment):
    from dataclasses import replace

    from tests.factory import swatch
    from workshop.project import Design, FibrePart

    two = tuple(replace(swatch(name=n), needle_mm=mm, fabric_rating=4) for n, mm in (("A", 4.0), ("B", 4.5)))
    sagging = replace(pullover().yarn[0], fibres=(FibrePart("superwash wool", 100.0),))
    app = app_on(clean_environment, pullover(swatch=two, design=Design(), yarn=(sagging,)), at="wash")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        keys = list(app.body.form.rows)
        assert keys.index("design.swatch") > keys.index("reading.B.washed.rows.3")
        options = row_of(app, "design.swatch").field.question.kind.options(app.session.project)
        assert [o.label for o in options] == [
            "swatch A: 4 mm, fabric rated 4 out of 5",
            "swatch B: 4.5 mm, fabric rated 4 out of 5",
        ]

        to(app, "design.swatch")
        await pilot.pause()
        await pilot.press("enter", "enter")  # opens the list; its first line
        await settle(pilot)
        await pilot.press("enter", *"hung", "enter")
        await settle(pilot)
        assert at(app) == "reading.A.hung.rows.1"  # only they are needed
        assert app.session.project.design == Design("A", "hung")
        assert "reading.B.hung.stitches.1" not in app.body.form.rows
        clipped = f"with {app.session.plan.swatch('A').hang_weight.value:.0f} g clipped along its lower edge"
        async for size in each_size(pilot):
            assert clipped in " ".join(str(app.screen.hint.content).split()), size
        assert clipped in app.body.help_text()


@pytest.mark.parametrize(
    ("weight", "says"),
    [(None, "The needle sizes depend on the yarn"), ("medium", "You can plan three swatches at once")],
)
async def test_a_button_is_named_only_where_it_is(clean_environment, weight, says):
    from dataclasses import replace

    app = app_on(
        clean_environment, pullover(swatch=(), yarn=(replace(pullover().yarn[0], weight=weight),)), at="swatch"
    )
    async with app.run_test(size=(60, 20)) as pilot:
        await settle(pilot)
        assert says in " ".join(screen_text(app).split())
        plan_button = [label for label in buttons(app).values() if "Plan three" in label]
        assert bool(plan_button) == (weight is not None)


async def test_a_step_says_which_earlier_answer_has_changed(clean_environment):
    from tests.app.helpers import answer

    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        for step in ("fibre", "swatch"):
            await go_to(pilot, step)
            await pilot.press("ctrl+n")
            await settle(pilot)
        await go_to(pilot, "fibre")
        await answer(pilot, "tension", "tight")
        await answer(pilot, "yarn.a.weight", "bulky")
        await go_to(pilot, "swatch")
        said = " ".join(str(app.screen.query_one("#answers .lines").content).split())
        assert "changed since you were here: how tightly you knit, weight or blend of Test yarn." in said
        await pilot.press("f4")
        await dialog(pilot)
        assert "changed since" in screen_text(app)


async def test_a_check_names_the_key_that_agrees_to_it(clean_environment):
    from dataclasses import replace

    app = app_on(clean_environment, pullover(body=replace(pullover().body, cross_back_cm=50.0)), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "press F6" in " ".join(str(app.screen.query_one("#answers .lines").content).split())
        assert "F6 Confirm" in screen_text(app)
        await go_to(pilot, "shape")
        assert "F6" not in screen_text(app)


async def test_the_list_of_weights_tells_them_apart_by_stitches():
    from workshop.tables.yarn_weights import all_weights

    labels = [w.label("us") for w in all_weights()]
    assert any(label.startswith("medium (4), 16-20 sts: worsted") for label in labels)
    assert labels[-1].startswith("jumbo (7), 6 sts or fewer")


async def test_every_hint_is_shown_whole(clean_environment):
    app = app_on(clean_environment, pullover(), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        for step in ("fibre", "swatch", "gauge", "wash", "measure", "shape"):
            await go_to(pilot, step)
            for row in app.body.form.rows.values():
                hint = worded(row.field.question.hint, app.session.project)
                for columns, lines in ((60, 2), (80, 3), (120, 3)):
                    said = app.body._hint(row, columns - 2, lines)
                    assert hint[1:20] in said, (row.field.key, columns)  # at least how to answer, and never cut


async def test_there_are_three_lines_for_a_hint_and_two_in_a_narrow_window(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            assert app.screen.query_one("#hint").size.height == (2 if size[0] == 60 else 3)


async def test_counting_is_practised_on_a_drawn_swatch(clean_environment):
    from workshop.app.screens.counting import PracticeDialog

    app = app_on(clean_environment, pullover(), at="gauge")
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            button(app, "practise")
            await pilot.press("enter")
            await settle(pilot)
            dialog = app.screen
            assert isinstance(dialog, PracticeDialog)
            assert app.focused is not None
            assert app.focused.id == "practice-count"
            assert not dialog.practice.repeat  # the first is plain
            right = f"{dialog.practice.count:g}"
            for typed, said in (
                ("many", "number"),
                ("0", "between 1 and 60"),
                ("500", "between 1 and 60"),
                (right, "exactly right"),
            ):
                await pilot.press(*typed, "enter")
                await settle(pilot)
                told = dialog.query_one("#practice-said")
                assert said in " ".join(str(told.content).split()), size
                assert told.region.height > 0, size  # and it is seen, whole
                assert told.region.bottom <= dialog.query_one("#practice-count").region.y, size
                assert app.focused.value == ("" if typed == right else typed)  # what was refused is not lost
                app.focused.value = ""
            first = dialog.practice
            await pilot.press("ctrl+n")
            await settle(pilot)
            assert app.screen is dialog
            assert dialog.practice != first
            await pilot.press("escape")
            await settle(pilot)
            assert app.current_step == "gauge"


@pytest.mark.parametrize(
    ("step", "part"),
    [("swatch", "stitches"), ("gauge", "in 10 cm"), ("wash", "Before"), ("measure", "Chest"), ("shape", "Back")],
)
async def test_every_step_shows_its_picture(clean_environment, step, part):
    app = app_on(clean_environment, pullover(), at=step)
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            await pilot.press("ctrl+g")
            await settle(pilot)
            assert part in screen_text(app), size
            await pilot.press("escape")
            await settle(pilot)


async def test_the_plan_is_copied_as_text(clean_environment):
    app = app_on(clean_environment, pullover(), at="summary")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("c")
        await settle(pilot)
        assert "- [ ] Cast on 102 stitches" in app.clipboard
        assert "Copied" in screen_text(app)


async def test_words_of_the_trade_are_explained_where_one_stands(clean_environment):
    app = app_on(clean_environment, pullover(terms="uk"), at="gauge")
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        await pilot.press("f1")
        await settle(pilot)
        said = str(app.screen.query_one("VerticalScroll Static").content)
        assert "Words of the trade" in said
        assert "tension (US: gauge): " in said


async def test_a_figure_is_never_parted_from_its_unit_in_the_panel(clean_environment):
    """Checked at widths from 60 to 130 columns, other ones for each step, where lines end everywhere."""
    import re

    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        for first, step in enumerate(("fibre", "gauge", "wash", "measure", "shape")):
            await go_to(pilot, step)
            for columns in range(60 + 3 * first, 131, 17):
                await pilot.resize_terminal(columns, 24)
                await settle(pilot)
                text = str(app.screen.query_one("#answers .lines").content)
                assert not re.search(r"\d\n(cm|m|g|%|of \d)", text), (step, columns)
                room = app.screen.query_one("#answers").scrollable_content_region.width
                assert max(map(len, text.split("\n"))) <= room, (step, columns)


async def test_a_refused_text_that_is_emptied_is_forgotten(clean_environment):
    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.app.open_step("gauge", at="swatch.A.fabric_rating")
        await settle(pilot)
        await pilot.press("9", "enter")
        assert row_of(app, "swatch.A.fabric_rating").wrong
        await pilot.press("backspace", "enter")
        await settle(pilot)
        assert not row_of(app, "swatch.A.fabric_rating").wrong
        assert not on_disk(app).drafts


async def test_a_step_begun_is_resumed_at_the_first_open_question_also_where_one_is_only_offered(clean_environment):
    from dataclasses import replace

    garment = replace(pullover().garment, waist=None, shoulder=None, length_cm=None)
    app = app_on(clean_environment, pullover(garment=garment), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert at(app) == "garment.waist"


async def test_answers_that_go_on_below_say_so_until_their_end_is_seen(clean_environment):
    app = app_on(clean_environment, pullover(), at="fibre")
    async with app.run_test(size=SIZES[0]) as pilot:
        for step in ("fibre", "gauge", "shape"):
            await go_to(pilot, step)
            panel, head = app.screen.query_one("#answers", VerticalScroll), app.screen.query_one("#face")
            async for size in each_size(pilot):
                panel.scroll_home(animate=False)
                await settle(pilot)
                assert ("PgDn: more" in str(head.render())) == (panel.max_scroll_y > 0), (step, size)
                while panel.scroll_y < panel.max_scroll_y:
                    await pilot.press("pagedown")
                    await settle(pilot)
                assert "PgDn: more" not in str(head.render()), (step, size)


def test_a_lesson_in_centimetres_says_so_to_one_who_knits_in_inches(tmp_path, monkeypatch):
    """Ours are in her unit; those of a teacher are as they were written."""
    from workshop.app.widgets.answers import IN_CM, lesson_text

    for step in ("gauge", "shape"):
        assert IN_CM not in lesson_text(step, pullover(units="in"))
    (tmp_path / "gauge.md").write_text("# Count\n\n```text\n22 stitches to 10 cm\n```\n", "utf-8")
    monkeypatch.setenv("WORKSHOP_LESSONS", str(tmp_path))

    assert IN_CM in lesson_text("gauge", pullover(units="in"))
    assert IN_CM not in lesson_text("gauge", pullover())


async def test_counts_of_another_yarn_are_not_settled_by_going_on(clean_environment):
    app = app_on(clean_environment, pullover(), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await answer(pilot, "yarn.a.fibres", "60 superwash wool, 40 cotton")
        for _ in range(6):
            await pilot.press("ctrl+n")
            await settle(pilot)
        states = {s.name: s.state for s in progress(app.session.plan)}
        assert (states["gauge"], states["wash"], states["summary"]) == ("look again", "look again", "look again")
        await go_to(pilot, "gauge")
        assert "F6 Confirm" in screen_text(app)
        await pilot.press("f6")
        await dialog(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert {s.name: s.state for s in progress(app.session.plan)}["gauge"] == "done"


async def test_the_panel_never_shows_a_part_of_what_was_refused(clean_environment):
    app = app_on(clean_environment, pullover(), at="gauge")
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        to(app, "reading.A.off needles.rows.1")
        await settle(pilot)
        before = app.screen.query_one("#answers .lines").render()
        await answer(pilot, "reading.A.off needles.rows.1", "310")
        assert row_of(app, "reading.A.off needles.rows.1").wrong
        assert str(app.screen.query_one("#answers .lines").render()) == str(before)


async def test_the_panel_shows_the_swatch_that_is_asked_about(clean_environment):
    from dataclasses import replace

    one = pullover().swatch[0]
    app = app_on(clean_environment, pullover(swatch=tuple(replace(one, id=x) for x in "ABC")), at="gauge")
    async with app.run_test(size=(80, 24)) as pilot:
        async for size in each_size(pilot, [(60, 20), (80, 24)]):
            for letter in "CBA":
                to(app, f"reading.{letter}.off needles.stitches.1")
                await settle(pilot)
                await settle(pilot)
                assert f"What it means: swatch {letter}" in screen_text(app), size
                headings = [
                    line
                    for line in str(app.screen.query_one("#answers .lines").content).splitlines()
                    if ", before washing" in line
                ]
                assert headings[0].startswith(f"Swatch {letter},"), size


GOES_BY = {
    "swatch": {"swatch.A.width_cm": "15 cm if blank"},
    "measure": {"fit.upper_arm_ease_cm": "5 cm if blank", "body.wrist_cm": "15.8 cm if blank"},
    "shape": {"garment.neck_width_cm": "16.8 cm if blank", "garment.sleeve_cm": "49.3 cm if blank"},
}


@pytest.mark.parametrize("step", GOES_BY)
async def test_what_the_plan_goes_by_while_a_question_is_open_stands_in_its_field(clean_environment, step):
    app = app_on(clean_environment, pullover(), at=step)
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            for key, shown in GOES_BY[step].items():
                to(app, key)
                await settle(pilot)
                assert row_of(app, key).text == ""
                assert shown in screen_text(app), (key, size)
        if step == "shape":
            await answer(pilot, "garment.sleeve_cm", "47")
            async for size in each_size(pilot):
                assert "49.3 cm if blank" not in screen_text(app), size


async def test_a_step_is_opened_by_its_number_and_a_list_does_not_turn_over(clean_environment):
    from textual.widgets import OptionList

    app = app_on(clean_environment, pullover(), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("f4")
        await dialog(pilot)
        await pilot.press("up")
        assert app.screen.query_one(OptionList).highlighted == 0
        await pilot.press(*["down"] * 9)
        assert app.screen.query_one(OptionList).highlighted == 6
        await pilot.press("5")
        await settle(pilot)
        assert app.current_step == "measure"
        await pilot.press("space", *["down"] * 9)
        await settle(pilot)
        listed = app.screen.query_one(OptionList)
        assert listed.highlighted == listed.option_count - 1


async def test_the_foot_says_how_to_leave_however_much_else_it_says(clean_environment):
    asking = pullover(body=replace(pullover().body, cross_back_cm=50.0), fit=replace(pullover().fit, ease=None))
    app = app_on(clean_environment, asking, at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        foot = screen_text(app).splitlines()[-1]
        for key in ("F1 Help", "F4 Steps", "F5 Take all", "F6 Confirm", "Ctrl+N Next", "Ctrl+Q Quit"):
            assert key in foot
        await go_to(pilot, "wash")
        assert "Ctrl+P More" in screen_text(app).splitlines()[-1]


async def test_a_long_answer_that_was_refused_is_seen_from_its_beginning(clean_environment):
    app = app_on(clean_environment, pullover(), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        wrong = "80 wool from the farm up the hill, 30 something else that nobody knows"
        await answer(pilot, "yarn.a.fibres", wrong)
        row = row_of(app, "yarn.a.fibres")
        assert row.wrong
        assert "80 wool from the farm" in screen_text(app).split("Blend in percent")[1].splitlines()[1]
        await pilot.press("right", "x")
        await settle(pilot)
        assert row.text in (wrong[:1] + "x" + wrong[1:], wrong + "x", "x" + wrong)  # mended, not replaced


async def test_the_practice_window_has_help_of_its_own_and_selects_a_count_whole(clean_environment):
    app = app_on(clean_environment, pullover(), at="gauge")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await app.action_practise()
        await dialog(pilot)
        await pilot.press("1", "6", "ctrl+a", "2")
        await settle(pilot)
        assert app.focused.value == "2"
        await pilot.press("f1")
        await dialog(pilot)
        assert "drawn each time" in screen_text(app).replace("\n", " ")


async def test_the_verdict_of_practice_keeps_its_lines_when_the_window_is_resized(clean_environment):
    from random import Random

    from workshop.app.screens.counting import PracticeDialog

    app = app_on(clean_environment, pullover(), at="gauge")
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        await app.push_screen(PracticeDialog(pullover(), Random(7)))
        await settle(pilot)
        await pilot.press(*"21", "enter")
        await settle(pilot)
        wide = screen_text(app)
        assert "A 100 cm" in wide  # a figure stays with its unit
        await pilot.resize_terminal(60, 20)
        await settle(pilot)
        narrow = str(app.screen.query_one("#practice-said").content)
        assert "100 cm" in narrow  # in one line, too
        assert "A 100 cm chest" in " ".join(narrow.split())
        assert "There are 15 stitches between the pins. You" in narrow
        assert "out 40 cm too wide." in narrow
