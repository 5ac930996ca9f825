"""The app and files: prints that are there already, files that are wrong, another window, comments."""

import os
from dataclasses import replace

import pytest
from textual.widgets import OptionList

from tests.app.helpers import answer, app_on, dialog, on_disk, painted, put, row_of, screen_text, settle, to
from tests.factory import pullover
from tests.test_hostile import NAMED, quiet
from workshop import saves
from workshop.app.screens import room
from workshop.app.widgets.form import Form
from workshop.project import STEPS, Project
from workshop.questions.steps import fields
from workshop.session import Session, opened


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
        assert "Saved. To print" in screen_text(app)


async def test_a_file_with_an_answer_that_cannot_be_is_listed_and_the_others_open(clean_environment):
    clean_environment.mkdir()
    saves.save(pullover(body=replace(pullover().body, chest_cm=99_999.0)), clean_environment / "bad.toml")
    saves.save(pullover(), clean_environment / "good.toml")
    app = app_on(clean_environment)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        listed = app.screen.listed
        bad = 1 + [saved.project is None for saved in listed.found].index(True)
        assert listed.highlighted not in (0, bad)
        assert "✗ bad.toml: " in screen_text(app)
        listed.highlighted = bad
        for key in ("enter", "k", "ctrl+z"):
            app.tell("")
            await pilot.press(key)
            await settle(pilot)
            assert "bad.toml, line " in " ".join(screen_text(app).split()), key  # why not, and nothing opens
            assert app.session.path is None
        listed.highlighted = 3 - bad
        await pilot.press("enter")
        await settle(pilot)
        assert app.session.path == clean_environment / "good.toml"


@pytest.mark.parametrize("held", [b"", b"x = [", b"format = 3\ntension = 7\n"])
async def test_a_file_that_is_broken_comes_back_from_the_list_as_it_was(clean_environment, held):
    path = written_with_two_waists(clean_environment)
    path.write_bytes(held)
    app = app_on(clean_environment)
    async with app.run_test(size=(60, 20)) as pilot:
        await settle(pilot)
        assert "Enter shows earlier versions to bring back" in screen_text(app)
        await pilot.press("down", "enter")
        await dialog(pilot)
        said = " ".join(screen_text(app).replace("│", " ").split())
        assert f"{path.name} can't be opened:" in said
        assert "the last good version" in said
        await pilot.press("escape")
        await settle(pilot)
        assert path.read_bytes() == held

        await pilot.press("enter")
        await dialog(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert app.session.path == path
        assert on_disk(app).body.waist_cm == 76.0
        assert "as it was on" in " ".join(screen_text(app).split())
        kept = path.with_name(f"{path.name}.broken")
        assert kept.read_bytes() == held if held else not kept.exists()


async def test_earlier_versions_of_a_sound_project_are_reached_from_the_list_by_key_and_by_name(clean_environment):
    path = written_with_two_waists(clean_environment)
    app = app_on(clean_environment)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("ctrl+p", *"earlier", "enter")
        await dialog(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert app.session.path == path
        assert on_disk(app).body.waist_cm == 76.0


def written_with_two_waists(folder):
    """A project whose waist was 76 cm and is 77 cm now."""
    session = Session(pullover(), folder)
    session.save()
    asked = next(f for f in fields("measure", session.project) if f.key == "body.waist_cm")
    session.answer(asked, "76")
    session.answer(asked, "77")
    return session.path


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
    monkeypatch.setattr(room, "LOOKS_EVERY_SECONDS", 0.01)
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


@pytest.mark.skipif(os.name == "nt", reason="such names cannot be given there")
async def test_names_of_files_and_folders_do_not_speak_to_the_terminal(clean_environment):
    """What is painted is what the terminal gets: also of a title bar, a hint, a small window, the last words."""

    def is_quiet(app) -> str:
        rows = [row.text for row in painted(app)]
        for row in rows:
            quiet(row)
            assert "\n" not in row
        return "\n".join(rows)

    folder = clean_environment / NAMED
    folder.mkdir(parents=True)
    saves.save(pullover(title="Good"), folder / f"{NAMED}.toml")
    app = app_on(folder)
    async with app.run_test(size=(120, 40)) as pilot:
        await settle(pilot)
        assert "<U+001B>" in is_quiet(app)
        await pilot.press("enter")
        await settle(pilot)
        path = app.session.path
        path.write_text("# by hand\n" + path.read_text())
        app.desk.session = opened(path)
        await pilot.press("ctrl+n")
        await settle(pilot)
        app.session.answer(next(f for f in fields("fibre", app.session.project) if f.key == "title"), "Better")
        assert "edited by hand" in app.session.news
        app.tell(app.session.news)
        is_quiet(app)
        await app.action_print_plan("md")
        await settle(pilot)
        assert "Saved: " in is_quiet(app)
        await app.action_print_plan("md")
        await dialog(pilot)
        assert "already a file" in is_quiet(app)
        app.session.fault = ""
    for line in app.last_words():
        quiet(line)


async def test_what_the_knitter_calls_her_yarn_is_never_reworded(clean_environment):
    yarn = replace(pullover().yarn[0], name="Bind off gauge")
    app = app_on(clean_environment, pullover(yarn=(yarn,), terms="uk"), at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        titles = [group.title for group in app.screen.query_one(Form)._groups]
        assert any("Bind off gauge" in title for title in titles)


# ── another window, earlier versions, leaving ────────────────────────────────────────────────────────


def answered_elsewhere(app, key: str, text: str):
    """Another window answers a question of the same file."""
    other = opened(app.session.path)
    step_of = next(s for s in STEPS if key in (f.key for f in fields(s, other.project)))
    other.answer(next(f for f in fields(step_of, other.project) if f.key == key), text)
    return other


async def choose(pilot, name: str) -> None:
    """One of the answers of a small window."""
    await dialog(pilot)
    listed = pilot.app.screen.query_one(OptionList)
    listed.highlighted = next(i for i in range(listed.option_count) if listed.get_option_at_index(i).id == name)
    await pilot.press("enter")
    await settle(pilot)


@pytest.mark.parametrize(
    ("way", "mine", "theirs"), [("theirs", 80.0, 80.0), ("mine", 76.0, 76.0), ("both", 76.0, 80.0)]
)
async def test_where_two_windows_answered_otherwise_the_knitter_chooses(
    clean_environment, monkeypatch, way, mine, theirs
):
    monkeypatch.setattr(room, "LOOKS_EVERY_SECONDS", 1000)
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        path = app.session.path
        to(app, "body.waist_cm")
        put(app, "76")
        answered_elsewhere(app, "body.waist_cm", "80")
        await pilot.press("enter")
        await dialog(pilot)
        assert "Waist: yours 76 cm, theirs 80 cm" in screen_text(app)
        assert saves.load(path).body.waist_cm == 80.0
        await choose(pilot, way)

        assert on_disk(app).body.waist_cm == mine
        assert saves.load(path).body.waist_cm == theirs
        assert row_of(app, "body.waist_cm").text == f"{mine:g} cm"
        assert (app.session.path == path) is (way != "both")
        kept = {v.project.body.waist_cm for v in opened(path).earlier()}
        assert {80.0, 76.0} <= {mine, theirs} | kept


async def test_the_choice_may_wait_and_is_asked_again_with_the_next_answer(clean_environment, monkeypatch):
    monkeypatch.setattr(room, "LOOKS_EVERY_SECONDS", 1000)
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.waist_cm")
        put(app, "76")
        answered_elsewhere(app, "body.waist_cm", "80")
        await pilot.press("enter")
        await dialog(pilot)
        await pilot.press("escape")
        await settle(pilot)
        assert "NOT SAVED" in screen_text(app)
        await pilot.press("down")
        await settle(pilot)
        assert "NOT SAVED" in screen_text(app)
        await pilot.press("9", "9", "enter")
        await choose(pilot, "mine")
        assert on_disk(app).body.waist_cm == 76.0


async def test_what_another_window_answers_is_seen_at_the_next_key(clean_environment, monkeypatch):
    monkeypatch.setattr(room, "LOOKS_EVERY_SECONDS", 1000)
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        answered_elsewhere(app, "body.chest_cm", "97")
        await pilot.press("down")
        await settle(pilot)
        assert row_of(app, "body.chest_cm").text == "97 cm"


async def test_an_earlier_version_comes_back_and_that_can_be_undone(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        before = app.session.project.body.chest_cm
        await answer(pilot, "body.chest_cm", "97")
        await answer(pilot, "body.chest_cm", "98")
        await pilot.press("ctrl+z")
        await dialog(pilot)
        newest = app.screen.query_one(OptionList).get_option_at_index(0)
        assert str(newest.prompt).endswith("before Chest or bust went from 97 cm to 98 cm")
        await pilot.press("down", "enter")
        await settle(pilot)
        assert on_disk(app).body.chest_cm == before
        assert row_of(app, "body.chest_cm").text == f"{before:g} cm"

        await pilot.press("ctrl+z")
        await dialog(pilot)
        answered_elsewhere(app, "body.waist_cm", "80")  # one more version, while this list is looked at
        await pilot.press("enter")
        await settle(pilot)
        assert on_disk(app).body.chest_cm == 98.0
        assert on_disk(app).body.waist_cm is None


async def test_an_older_text_over_ours_is_asked_about_and_a_lost_file_is_written_again_on_leaving(
    clean_environment, monkeypatch
):
    monkeypatch.setattr(room, "LOOKS_EVERY_SECONDS", 1000)
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        path = app.session.path
        stale = path.read_text()
        await answer(pilot, "body.waist_cm", "76")
        path.write_text(stale)  # an editor that was opened before
        await pilot.press("down")
        await dialog(pilot)
        assert "went back to an older version" in screen_text(app)
        assert "Waist: yours 76 cm, theirs open" in screen_text(app)
        await choose(pilot, "mine")
        assert saves.load(path).body.waist_cm == 76.0

        path.write_text("x = [")
        await pilot.press("down")
        await settle(pilot)
        assert f"{path.name} couldn't be read" in screen_text(app)
        assert saves.load(path).body.waist_cm == 76.0
        path.unlink()
        await pilot.press("ctrl+q")
        await settle(pilot)
    assert not app.is_running
    assert saves.load(path).body.waist_cm == 76.0
    assert "was gone" in app.session.news


async def test_another_way_is_tried_in_a_copy(clean_environment):
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        first = app.session.path
        text = first.read_text()
        await pilot.press("ctrl+p", *"another way", "enter")
        await dialog(pilot)
        await pilot.press("enter")
        await settle(pilot)
        assert "needs a name" in screen_text(app)
        await pilot.press(*"Boat", "enter")
        await settle(pilot)
        assert app.session.path.name == "boat.toml"
        assert screen_text(app).startswith(" Boat")
        await answer(pilot, "garment.length_cm", "66")
        assert on_disk(app).garment.length_cm == 66.0
        assert first.read_text() == text


def refuse_to_save(monkeypatch) -> None:
    """A disk that takes no save."""

    def write(text, path, *, new=False):
        raise saves.CannotSave("the disk is full")

    monkeypatch.setattr(saves, "write", write)


async def test_leaving_while_not_saved_tries_again_and_asks(clean_environment, monkeypatch, tmp_path):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        with monkeypatch.context() as full:
            refuse_to_save(full)
            await answer(pilot, "body.chest_cm", "97")
            await pilot.press("ctrl+o")
            await settle(pilot)
            assert "Ctrl+Q lets you save in another place" in screen_text(app)
            await pilot.press("ctrl+q")
            await choose(pilot, "stay")
            assert app.is_running
            await pilot.press("ctrl+q", "ctrl+q")
            await choose(pilot, "elsewhere")
            await pilot.press(*str(tmp_path / "blue.toml"), "enter")
            await settle(pilot)
            assert "the disk is full" in screen_text(app)
        await pilot.press("enter")
        await settle(pilot)
    assert not app.is_running
    assert saves.load(tmp_path / "blue.toml").body.chest_cm == 97.0


@pytest.mark.parametrize("full", [True, False])
async def test_leaving_goes_without_a_question_where_the_save_succeeds_now(clean_environment, monkeypatch, full):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        with monkeypatch.context() as patch:
            refuse_to_save(patch)
            await answer(pilot, "body.chest_cm", "97")
            if full:
                await pilot.press("ctrl+q")
                await choose(pilot, "leave")
        if not full:
            await pilot.press("ctrl+q")
            await settle(pilot)
    assert not app.is_running
    assert (on_disk(app).body.chest_cm == 97.0) is not full


async def test_answers_that_an_older_text_was_written_over_go_on_beside_when_another_project_is_taken_up(
    clean_environment,
):
    app = app_on(clean_environment, pullover(), at="measure")
    session = app.session
    session.change(replace(session.project, title="First"))
    stale = session.path.read_text("utf-8")
    session.change(replace(session.project, title="Second"))
    session.path.write_text(stale, "utf-8")

    app.take_up(Session(Project(), clean_environment))

    assert {saves.load(path).title for path in clean_environment.glob("*.toml")} == {"First", "Second"}
    assert "Your answers are now in" in app.session.news
