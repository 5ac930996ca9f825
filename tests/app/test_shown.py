"""Units, terms, colours and keys can be changed at any time; nothing stored changes with them."""

from dataclasses import replace
from functools import cache

import pytest
from textual.color import Color
from textual.widgets import OptionList

from tests.app.helpers import (
    SIZES,
    answer,
    app_on,
    at,
    dialog,
    each_size,
    go_to,
    on_disk,
    painted,
    row_of,
    screen_text,
    settle,
    to,
)
from tests.factory import pullover
from workshop import settings
from workshop.app.app import WorkshopApp, all_bindings
from workshop.app.themes import NAMES
from workshop.app.widgets.page import Page
from workshop.project import STEPS


async def switch(pilot, *names: str) -> None:
    """Open the window of F9, switch, and close it."""
    await pilot.press("f9")
    await dialog(pilot)
    for name in names:
        pilot.app.screen.query_one(OptionList).highlighted = pilot.app.screen._names.index(name)
        await pilot.press("enter")
        await pilot.pause()
    await pilot.press("escape")
    await settle(pilot)


async def test_units_switch_back_and_forth_without_changing_a_stored_value(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.chest_cm")
        await pilot.pause()
        before, counts = app.session.project, [p.cast_on for p in app.session.plan.made.pieces]
        await switch(pilot, "units=in", "needle_names=uk", "terms=uk")
        assert at(app) == "body.chest_cm"  # where the knitter was
        assert row_of(app, "body.chest_cm").text == "36.22 in"
        await pilot.press("enter", "up", "tab")  # passing through a field is no answer
        await settle(pilot)
        assert app.session.project.body == before.body
        assert app.session.project.garment == before.garment
        assert [p.cast_on for p in app.session.plan.made.pieces] == counts
        await go_to(pilot, "gauge")
        assert "tension" in screen_text(app).casefold() or "stitches per 4 in" in screen_text(app)
        await switch(pilot, "units=cm", "needle_names=mm", "terms=us")
        unmarked = {"last_step": None, "steps": {}}
        assert replace(on_disk(app), **unmarked) == replace(before, **unmarked)


async def test_units_switch_on_the_summary_too(clean_environment):
    app = app_on(clean_environment, pullover(), at="summary")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert " cm" in app.screen.query_one("#plan", Page).text
        await switch(pilot, "units=in")
        assert " in" in app.screen.query_one("#plan", Page).text


async def test_colours_are_remembered_and_the_rest_of_the_file_stays(clean_environment):
    path = settings.settings_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    text = '# mine\nlater = 1\n[keys] # fewer hands\n"app.next" = "f10"\n'
    path.write_text(text, encoding="utf-8")
    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await switch(pilot, "theme=high contrast")
        assert app.theme == "workshop-contrast"
    again = WorkshopApp(folder=clean_environment)
    assert again.theme == "workshop-contrast"
    assert path.read_text(encoding="utf-8") == f'theme = "high contrast"\n{text}'
    assert settings.save_theme("light") == ""
    assert path.read_text(encoding="utf-8") == f'theme = "light"\n{text}'
    assert dict(again.settings.keys) == {"app.next": "f10"}


async def test_a_key_of_ones_own_works_and_is_shown(clean_environment):
    path = settings.settings_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text('[keys]\n"app.next" = "f10"\n', encoding="utf-8")
    app = app_on(clean_environment, pullover(), at="gauge")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "F10 Next" in screen_text(app)
        await pilot.press("ctrl+n")
        await settle(pilot)
        assert app.current_step == "gauge"
        await pilot.press("f10")
        await settle(pilot)
        assert app.current_step == "wash"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("theme = 3", "theme is 3. It should be one of dark, light, high contrast"),
        ("theme = ", "isn't valid TOML"),
        ("keys = 3", "keys should be a table"),
        ('[keys]\n"app.nxt" = "f10"', "'app.nxt' isn't an action. Did you mean 'app.next'?"),
        ('[keys]\n"app.next" = 5', "app.next is 5. Write a key like 'f9' or 'ctrl+n'"),
        ('[keys]\n"app.next" = ""', "app.next is ''"),
        ('[keys]\n"app.next" = "f9"\n"app.back" = "f9"', "f9 is set for both app.next and app.back"),
    ],
)
async def test_a_fault_in_the_settings_is_one_line_and_not_fatal(clean_environment, text, says):
    path = settings.settings_path()
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    clean_environment.mkdir()
    app = WorkshopApp(folder=clean_environment)
    assert says in app.settings.fault
    assert "\n" not in app.settings.fault
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        assert "settings.toml" in " ".join(screen_text(app).split())


def test_settings_that_are_not_there_or_not_text_are_no_trouble(tmp_path, monkeypatch):
    assert settings.load({}) == settings.Settings()
    settings.settings_path().write_bytes(b"\xff\xfe\x00")
    assert "isn't UTF-8 text" in settings.load({}).fault
    monkeypatch.setenv("WORKSHOP_SETTINGS", str(tmp_path))
    assert settings.load({}).fault


def test_every_binding_has_a_name_a_tooltip_and_words():
    from textual.binding import Binding

    from workshop.app.screens import dialogs, start, step
    from workshop.app.widgets import form, plan

    seen = set()
    for module in (dialogs, start, step, form, plan):
        for room in vars(module).values():
            if isinstance(room, type) and room.__module__ == module.__name__:
                for binding in room.__dict__.get("BINDINGS", ()):
                    assert isinstance(binding, Binding), (room, binding)
                    assert all((binding.id, binding.tooltip, binding.description)), binding
                    seen.add(binding.id)
    assert seen <= set(all_bindings())


async def test_the_palette_has_our_commands_and_no_others(clean_environment):
    app = app_on(clean_environment, pullover(), at="gauge")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        titles = [command.title for command in app.get_system_commands(app.screen)]
        assert titles.count("Quit") == 1
        assert not {"Maximize", "Keys", "Screenshot", "Theme"} & set(titles)
        for wanted in (
            "Next",
            "Units",
            "Go to Gauge",
            "Lengths in: inches",
            "Colors: light",
        ):
            assert wanted in titles
        await pilot.press("ctrl+p")
        await settle(pilot)
        assert "What would you like to do?" in screen_text(app)
        assert not app.screen.query("SearchIcon")
        await pilot.press("escape")
        app.session.change(replace(app.session.project, terms="uk"))
        british = [command.title for command in app.get_system_commands(app.screen)]
        assert {"Go to Tension", "Go to Fibre"} <= set(british)
        assert "Go to Gauge" not in british


# ── contrast ─────────────────────────────────────────────────────────────────────────────────────────


@cache
def luminance(color: Color) -> float:
    """Relative luminance as WCAG 2.1 defines it."""
    parts = [c / 255 for c in (color.r, color.g, color.b)]
    red, green, blue = (p / 12.92 if p <= 0.03928 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


@cache
def ratio(one: Color, other: Color) -> float:
    """Contrast ratio as WCAG 2.1 defines it."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_ratio_agrees_with_the_ends_of_the_standard():
    assert ratio(Color(0, 0, 0), Color(255, 255, 255)) == pytest.approx(21.0)
    assert ratio(Color(119, 119, 119), Color(255, 255, 255)) == pytest.approx(4.48, abs=0.01)


async def test_text_stands_out_from_its_ground(clean_environment):
    """WCAG 2.1: 4.5 to 1 at level AA, 7 to 1 at level AAA."""
    wrong = pullover(drafts={"body.chest_cm": "960"}, body=replace(pullover().body, cross_back_cm=50.0))
    app = app_on(clean_environment, wrong, at=STEPS[0])
    async with app.run_test(size=(120, 40)) as pilot:
        faint = {}
        for theme, least in (("high contrast", 7.0), ("dark", 4.5), ("light", 4.5)):
            app.theme = NAMES[theme]
            for place in (*STEPS, "empty", "list"):
                await go_to(pilot, place if place in STEPS else "measure")
                if place == "empty":
                    to(app, "body.high_bust_cm")
                    await settle(pilot)
                    assert "__ cm" in screen_text(app)
                elif place == "list":
                    await pilot.press("f4")
                    await dialog(pilot)
                for text, found in contrasts(app, window=place == "list"):
                    if found < least:
                        faint[theme, place, text] = round(found, 2)
            await pilot.press("escape")
        assert not faint, faint


def contrasts(app, *, window: bool):
    """The texts on the screen (or in its small window) with how they stand out; 0 for what is dimmed.

    What pictures are made of is no text: how they stand out is told in test_look.py.
    """
    strips = painted(app)
    if window:
        region = app.screen.query_one(".window").region
        strips = [strip.crop(region.x, region.right) for strip in strips[region.y : region.bottom]]
    for segment in (segment for strip in strips for segment in strip):
        style = segment.style
        if segment.text.strip(" │─╭╮╰╯▆▂▃▄▅▇█▁▀▌▼") and style and style.color and style.bgcolor:
            front, back = Color.from_rich_color(style.color), Color.from_rich_color(style.bgcolor)
            yield segment.text.strip()[:30], 0.0 if style.dim else ratio(front, back)


async def test_without_colour_the_place_in_form_and_list_is_seen(clean_environment, monkeypatch):
    monkeypatch.setenv("NO_COLOR", "1")
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=SIZES[0]) as pilot:
        await settle(pilot)
        await answer(pilot, "body.source", "own")
        async for size in each_size(pilot):
            to(app, "body.chest_cm")
            await settle(pilot)
            marked = [line for line in screen_text(app).splitlines() if "▸" in line]
            assert len(marked) == 1, size
            assert "Chest or bust" in marked[0], size
            await pilot.press("f4")
            await dialog(pilot)
            strips = painted(app)
            chosen = [s.text for strip in strips for s in strip if s.style and s.style.reverse and s.text.strip()]
            assert any("5 Measure" in text for text in chosen), size
            await pilot.press("escape")
            await settle(pilot)


async def test_without_colour_the_answer_at_hand_in_an_open_list_has_its_sign_and_is_underlined(
    clean_environment, monkeypatch
):
    monkeypatch.setenv("NO_COLOR", "1")
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "garment.construction")
        await pilot.press("space", "down")
        await settle(pilot)
        strips = painted(app)
        lines = ["".join(s.text for s in strip if s.style and s.style.underline) for strip in strips]
        assert [text.strip() for text in lines[:-1] if text.strip()] == ["▸square armhole (modified drop)"]


async def test_what_is_typed_while_the_units_are_switched_is_read_in_the_units_it_was_typed_in(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.chest_cm")
        await pilot.pause()
        await pilot.press(*"97")
        commands = {c.title: c.callback for c in app.get_system_commands(app.screen)}
        assert "Next group" in commands  # keys of the screen are commands too
        await commands["Lengths in: inches"]()
        await settle(pilot)
        assert on_disk(app).body.chest_cm == 97.0
        assert at(app) == "body.chest_cm"


def test_a_key_that_would_be_taken_from_another_action_is_told_and_not_used(clean_environment, tmp_path, monkeypatch):
    path = tmp_path / "settings.toml"
    path.write_text('[keys]\n"app.help" = "f2"\n', encoding="utf-8")
    monkeypatch.setenv("WORKSHOP_SETTINGS", str(path))
    found = settings.load(all_bindings)

    assert found.keys == {}
    assert "f2 is already the key of app.lesson. Give app.lesson another one too" in found.fault
    path.write_text('[keys]\n"app.help" = "f2"\n"app.lesson" = "f1"\n', encoding="utf-8")
    assert settings.load(all_bindings).keys == {"app.help": "f2", "app.lesson": "f1"}


async def test_a_fault_of_the_settings_is_told_where_a_project_is_opened_at_once(
    clean_environment, tmp_path, monkeypatch
):
    path = tmp_path / "settings.toml"
    path.write_text('theme = "purple"\n', encoding="utf-8")
    monkeypatch.setenv("WORKSHOP_SETTINGS", str(path))
    app = app_on(clean_environment, pullover(last_step="shape"))
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert "settings.toml: theme is 'purple'" in screen_text(app).splitlines()[0]


async def test_what_can_be_switched_may_become_more_while_the_window_stands(clean_environment):
    """A project that opens below it has units and words of its own; found by bursts of keys."""
    from workshop.app.screens.dialogs import ShownDialog

    ways = [(f"theme={n}", n, n == 0) for n in "012"]
    app = app_on(clean_environment, pullover(), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        dialog = ShownDialog(lambda: ways, lambda _: ways.append(("units=in", "inches", False)))
        await app.push_screen(dialog)
        await pilot.press("down", "enter")
        await pilot.pause()

        assert dialog.query_one(OptionList).option_count == 4
        assert dialog.query_one(OptionList).highlighted == 1
