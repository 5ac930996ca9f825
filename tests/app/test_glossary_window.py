"""The glossary from anywhere in the app: by a key, by the word under the cursor, by its name in the list of commands."""

from textual.widgets import Input, OptionList

from tests.app.helpers import app_on, at, dialog, put, screen_text, settle, to
from tests.factory import pullover


def entry(app):
    return " ".join(str(app.screen.query_one("#words-entry").content).split())


def listed(app):
    found = app.screen.query_one(OptionList)
    return [str(found.get_option_at_index(i).prompt) for i in range(found.option_count)]


async def test_a_key_opens_the_glossary_at_what_is_being_answered_and_letters_find_a_word(clean_environment):
    app = app_on(clean_environment, pullover(terms="uk"), at="shape")
    async with app.run_test(size=(60, 20)) as pilot:
        await settle(pilot)
        to(app, "garment.construction")
        await pilot.press("space", "down", "ctrl+l")  # the second line of the open list: square armhole
        await dialog(pilot)
        assert entry(app).startswith("Square armhole: ")
        assert "construction" in listed(app)[:3]
        assert len(listed(app)) > 80  # after the words at hand all the others

        await pilot.press(*"gaug")
        await settle(pilot)
        assert listed(app)[0] == "tension (US: gauge)"
        assert entry(app).startswith("Tension: ")
        await pilot.press("down")
        await settle(pilot)
        assert entry(app).startswith("Tension square: ")
        assert "Esc closes" in screen_text(app)  # in the smallest window too

        await pilot.press(*"xx")
        await settle(pilot)
        assert entry(app).startswith("No entry has that word")
        await pilot.press("escape")
        await settle(pilot)
        assert at(app) == "garment.construction"


async def test_the_word_under_the_cursor_is_looked_up_and_what_is_typed_stays(clean_environment):
    app = app_on(clean_environment, pullover(), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "yarn.a.fibres")
        put(app, "100 superwash")
        app.focused.cursor_position = 8
        await pilot.press("ctrl+l")
        await dialog(pilot)
        assert entry(app).startswith("Superwash: ")
        await pilot.press("escape")
        await settle(pilot)
        assert isinstance(app.focused, Input)
        assert app.focused.value == "100 superwash"


async def test_the_list_of_commands_knows_the_glossary_and_each_word_but_lists_words_only_when_asked(clean_environment):
    app = app_on(clean_environment)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        commands = {c.title: c for c in app.get_system_commands(app.screen)}
        assert "Glossary: what does a word mean?" in commands
        for word in ("yarn", "knit stitch (k)", "gauge (UK: tension)", "held stitches"):
            assert not commands[f"What does {word} mean?"].discover
        await commands["What does yarn mean?"].callback()
        await dialog(pilot)
        assert entry(app).startswith("Yarn: ")
