"""The app and files: prints that are there already, files that are wrong, another window, comments."""

from dataclasses import replace

from textual.widgets import OptionList

from tests.app.helpers import answer, app_on, dialog, on_disk, row_of, screen_text, settle
from tests.factory import pullover
from workshop import saves
from workshop.app.screens import step
from workshop.app.widgets.form import Form
from workshop.questions.steps import fields
from workshop.session import opened


async def test_a_print_goes_over_an_older_one_only_where_the_knitter_says_so(clean_environment):
    app = app_on(clean_environment, pullover(), at="summary")
    out = clean_environment / "test-pullover.html"
    out.write_text("my own notes")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("p")
        await dialog(pilot)
        assert "there's already a file of that name" in screen_text(app)
        await pilot.press("escape")
        await settle(pilot)
        assert out.read_text() == "my own notes"

        await pilot.press("p")
        await dialog(pilot)
        await pilot.press("down", "enter")
        await settle(pilot)
        assert "Cast on 102 stitches" in out.read_text()
        assert "Saved: " in screen_text(app)


async def test_a_file_with_an_answer_that_cannot_be_is_listed_and_the_others_open(clean_environment):
    clean_environment.mkdir()
    saves.save(pullover(body=replace(pullover().body, chest_cm=99_999.0)), clean_environment / "bad.toml")
    saves.save(pullover(), clean_environment / "good.toml")
    app = app_on(clean_environment)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        listed = app.screen.query_one("#projects", OptionList)
        assert [listed.get_option_at_index(i).disabled for i in range(3)].count(True) == 1
        assert "✗ bad.toml: " in screen_text(app)
        await pilot.press("enter")
        await settle(pilot)
        assert app.session.path == clean_environment / "good.toml"


async def test_only_what_is_asked_for_counts_on_the_screens_too(clean_environment):
    hidden = pullover(body=replace(pullover().body, source="garment"))
    hidden = replace(hidden, reference_garment=replace(hidden.reference_garment, chest_width_cm=60.0))
    back = replace(hidden, body=replace(hidden.body, source=pullover().body.source))
    app = app_on(clean_environment, back, at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert app.session.plan.targets.get("chest") != 120.0
        assert on_disk(app).reference_garment.chest_width_cm == 60.0


async def test_what_another_window_answers_is_shown_and_nothing_is_lost(clean_environment, monkeypatch):
    monkeypatch.setattr(step, "LOOKS_EVERY_SECONDS", 0.01)
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        other = opened(app.session.path)
        chest = next(f for f in fields("measure", other.project) if f.key == "body.chest_cm")
        other.answer(chest, "97")
        for _ in range(1000):
            await pilot.pause()
            if row_of(app, "body.chest_cm").text.startswith("97"):
                break
        assert row_of(app, "body.chest_cm").text.startswith("97")
        await answer(pilot, "body.waist_cm", "80")
        assert (on_disk(app).body.chest_cm, on_disk(app).body.waist_cm) == (97.0, 80.0)


async def test_that_comments_go_is_told_once_with_the_first_answer(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    path = app.session.path
    text = "# for Ada\n" + path.read_text()
    path.write_text(text)
    app.desk.session = opened(path)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert path.read_text() == text
        await answer(pilot, "body.chest_cm", "97")
        assert "was edited by hand" in screen_text(app)
        assert app.session.earlier()[0].path.read_text() == text
        await pilot.press("down")
        await settle(pilot)
        assert "was edited by hand" not in screen_text(app)


async def test_what_the_knitter_calls_her_yarn_is_never_reworded(clean_environment):
    yarn = replace(pullover().yarn[0], name="Bind off gauge")
    app = app_on(clean_environment, pullover(yarn=(yarn,), terms="uk"), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        titles = [group.title for group in app.screen.query_one(Form)._groups]
        assert any("Bind off gauge" in title for title in titles)
