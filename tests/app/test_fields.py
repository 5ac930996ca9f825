"""Every field against bad input, and user text that looks like markup."""

from dataclasses import replace

import pytest

from tests.app.helpers import (
    SIZES,
    answer,
    app_on,
    at,
    dialog,
    each_size,
    go_to,
    on_disk,
    put,
    row_of,
    screen_text,
    settle,
    to,
)
from tests.factory import pullover
from workshop.app.widgets.form import AnswerInput
from workshop.project import STEPS, Design
from workshop.questions.colours import Colours
from workshop.questions.kinds import Choice, Words

OWN_WORDS = Choice | Words | Colours
"""What is chosen, and what may be called as one likes."""

NASTY = "[K2] [/] [$x] [@click=app.quit] \\ 日本 🧶"


@pytest.mark.parametrize("step", STEPS[:-1])
async def test_no_field_takes_nonsense_or_loses_its_last_good_value(clean_environment, step):
    app = app_on(clean_environment, pullover(), at=step)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        before = app.session.project
        rows = [r for r in app.body.form.rows.values() if not isinstance(r.field.question.kind, OWN_WORDS)]
        for row in rows:
            key = row.field.key
            await answer(pilot, key, "[K2] wide")
            row = row_of(app, key)
            assert row.wrong, key
            assert row.text == "[K2] wide"  # nothing typed is lost
        unmarked = {"steps": {}, "last_step": None, "drafts": {}}
        assert {k: v for k, v in vars_of(app.session.project).items() if k not in unmarked} == {
            k: v for k, v in vars_of(before).items() if k not in unmarked
        }


def vars_of(project):
    return {name: getattr(project, name) for name in type(project).__dataclass_fields__}


async def test_a_refused_answer_says_beside_the_field_what_would_be_right(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await answer(pilot, "body.chest_cm", "960")
        text = screen_text(app)

        assert "✗ 960 looks wrong" in text
        assert "it stays 92 cm" in " ".join(text.split())
        assert at(app) == "body.chest_cm"
        assert on_disk(app).body.chest_cm == 92.0


async def test_refused_text_is_still_there_after_leaving_the_screen(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await answer(pilot, "body.chest_cm", "wide")
        await go_to(pilot, "shape")
        await go_to(pilot, "measure")
        row = row_of(app, "body.chest_cm")

        assert row.text == "wide"
        assert row.wrong


async def test_a_needed_answer_cannot_be_emptied_and_another_can(clean_environment):
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await answer(pilot, "garment.length_cm", "")
        assert row_of(app, "garment.length_cm").wrong
        assert app.session.project.garment.length_cm == 60.0

        await go_to(pilot, "measure")
        await answer(pilot, "body.chest_cm", "")
        assert app.session.project.body.chest_cm is None
        assert on_disk(app).body.chest_cm is None


def nasty(**changes):
    """A project of which every text that a knitter types looks like markup."""
    yarn, one = replace(pullover().yarn[0], name=NASTY, care=NASTY), replace(pullover().swatch[0], notes=NASTY)
    return pullover(title=NASTY, yarn=(yarn,), swatch=(one,), **changes)


@pytest.mark.parametrize("step", STEPS)
async def test_user_text_is_never_markup_on_any_screen_or_in_any_window(clean_environment, step):
    """Lesson and working of every step, its help; the steps, pictures, checks to agree to: each window comes up whole,
    with the project's name in brackets behind it.
    """
    app = app_on(clean_environment, nasty(body=replace(pullover().body, cross_back_cm=50.0)), at=step)
    async with app.run_test(size=SIZES[0], notifications=True) as pilot:
        async for size in each_size(pilot):
            assert "[K2] [/] [$x]" in screen_text(app), size
            for face in ("lesson", "working"):
                await app.action_face(face)
                await settle(pilot)
            await pilot.press("escape")
            for key in ("f1", *(("f4", "f9", "ctrl+g", "f6") if step == "measure" else ())):
                await pilot.press(key)
                await dialog(pilot)
                window = app.screen.query_one(".window").region
                assert app.screen.region.contains_region(window), (key, size)
                await pilot.press("escape")
                await settle(pilot)
            assert "[K2] [/] [$x]" in screen_text(app), size


async def test_user_text_is_never_markup_in_the_list_of_projects(clean_environment):
    app = app_on(clean_environment, nasty())
    app_on(clean_environment, nasty(), at=STEPS[0])  # saved
    async with app.run_test(size=SIZES[0], notifications=True) as pilot:
        async for size in each_size(pilot):
            assert "[K2] [/] [$x]" in screen_text(app), size


@pytest.mark.parametrize("step", STEPS[:-1])
async def test_every_question_can_be_reached_by_keyboard_and_is_seen_whole(clean_environment, step):
    app = app_on(clean_environment, pullover(), at=step)
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            form = app.body.form
            wanted = set(form.rows)
            seen: set[str] = set()
            form.to(form.stops[0])
            for _ in range(len(form.stops)):
                stop, where = form.here, form.region_of(form.here)
                seen.add(at(app))
                assert form.region.contains_region(where), (stop, where, form.region, size)
                await pilot.press("tab")
                await at_rest(pilot)
            assert {key for key in seen if not key.startswith(">")} == wanted, size


async def test_keys_work_while_a_field_has_the_focus(clean_environment):
    app = app_on(clean_environment, pullover(), at="gauge")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "reading.A.off needles.stitches.1")
        assert isinstance(app.focused, AnswerInput)
        await pilot.press("f3")
        await settle(pilot)
        assert "all counted ÷ all centimeters" in " ".join(screen_text(app).replace("│", " ").split())
        await pilot.press("f3")
        await pilot.press("f2")
        await settle(pilot)
        assert "Count before the wash" in screen_text(app)
        await pilot.press("f1")
        await settle(pilot)
        assert "For example: 27½ over 15 cm" in screen_text(app)
        await pilot.press("escape")
        await settle(pilot)
        await pilot.press("pagedown")
        await settle(pilot)
        assert app.session.project.swatch == pullover().swatch  # no key was typed into the field


async def test_every_binding_has_an_id_a_tooltip_and_a_place_in_the_palette(clean_environment):
    from textual.binding import Binding

    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        palette = {command.title for command in app.get_system_commands(app.screen)}
        for binding in app.BINDINGS:
            assert isinstance(binding, Binding)
            assert binding.id
            assert binding.tooltip
            assert binding.description in palette
        assert "Go to Gauge" in palette


async def test_no_color_sends_no_colours(clean_environment, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    app = app_on(clean_environment, pullover(), at="gauge")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert app.theme == "ansi-dark"
        assert "▸" in screen_text(app) or "3 Gauge" in screen_text(app)


def regions(app):
    form = app.body.form
    return {key: form.region_of(row) for key, row in form.rows.items()}


async def at_rest(pilot):
    """Where everything stands once the scrolling that a new focus sets off has ended."""
    await pilot.pause()
    for _ in range(10):
        before = regions(pilot.app)
        await pilot.pause()
        if regions(pilot.app) == before:
            break
    return before


@pytest.mark.parametrize("step", STEPS[:-1])
async def test_typing_moves_nothing_and_keeps_the_focus(clean_environment, step):
    """Every field at one of the sizes, a third of them at each."""
    app = app_on(clean_environment, pullover(), at=step)
    async with app.run_test(size=SIZES[0]) as pilot:
        async for size in each_size(pilot):
            typed = [row for row in app.body.form.rows.values() if not row.is_choice]
            for row in typed[SIZES.index(size) :: 3]:
                to(app, row.field.key)
                before = await at_rest(pilot)
                was = row.text
                panel = app.screen.query_one("#answers").region
                await pilot.press("5")
                await settle(pilot)
                assert at(app) == row.field.key
                assert regions(app) == before, (row.field.key, size)
                assert app.screen.query_one("#answers").region == panel, size
                put(app, was)
                await settle(pilot)


async def test_letters_find_the_answer_that_begins_so_before_one_that_holds_them(clean_environment):
    """ "d" is no way to me*d*ium; DK is a word of the light yarns."""
    app = app_on(clean_environment, pullover(), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        for typed, weight in (
            ("d", "light"), ("su", "super-fine"), ("dk", "light"), ("l", "lace"), ("li", "light"), ("w", "medium"),
        ):  # fmt: skip
            to(app, "yarn.a.weight")
            await pilot.pause()
            await pilot.press("space")
            await settle(pilot)
            await pilot.press(*typed, "enter")
            await settle(pilot)
            assert app.session.project.yarn[0].weight == weight, typed


async def test_after_a_refusal_typing_begins_anew(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.wrist_cm")
        await settle(pilot)
        await pilot.press(*"wide", "enter")
        await settle(pilot)
        assert row_of(app, "body.wrist_cm").wrong
        await pilot.press(*"17", "enter")
        await settle(pilot)
        assert app.session.project.body.wrist_cm == 17.0


async def test_a_letter_of_a_swatch_finds_the_swatch_and_not_the_line_for_none(clean_environment):
    app = app_on(clean_environment, pullover(design=Design()), at="wash")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "design.swatch")
        await settle(pilot)
        await pilot.press("a", "enter")
        await settle(pilot)
        assert app.session.project.design.swatch == "A"


async def test_the_marked_answer_of_a_list_has_a_sign_and_an_offer_is_spoken_of_only_where_there_is_one(
    clean_environment,
):
    """WCAG 2.1, 1.4.1: what is marked is never told by its color alone."""
    garment = replace(pullover().garment, construction=None)
    app = app_on(clean_environment, pullover(garment=garment), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "garment.construction")
        await pilot.press("space")
        await settle(pilot)
        assert "Arrows or first letters move the mark. The mark starts at the suggestion." in said_below(app)
        listed = app.body.form.listed
        for key in ("down", "down", "up"):
            await pilot.press(key)
            await settle(pilot)
            marked = listed.answers[listed.highlighted]
            assert [o for o in listed.answers if o and f"│▸{o.label[:14]}" in screen_text(app)] == [marked], key
        await pilot.press("escape")

        to(app, "garment.front")
        await pilot.press("space")
        await settle(pilot)
        assert "Arrows or first letters move the mark. Enter chooses" in said_below(app)
        assert "│▸" in screen_text(app)
        await pilot.press("escape")
        await settle(pilot)
        assert "move the mark" not in said_below(app)
        assert "Space opens the list." in said_below(app)
        await pilot.press("f4")
        await dialog(pilot)
        assert "│ ▸6 Shape" in screen_text(app)
        assert screen_text(app).count("│ ▸") == 1


def said_below(app):
    """The line at the foot of a step, however it is broken."""
    return " ".join(str(app.screen.hint.content).split())
