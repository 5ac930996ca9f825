"""What is seen of an answer before it is taken, what never goes out of sight, and colours that can be told apart."""

from dataclasses import replace

import pytest
from textual.color import Color
from textual.widgets import Static

import workshop.app.widgets.drawn
from tests.app.helpers import answer, app_on, at, go_to, put, screen_text, settle, to
from tests.app.test_shown import ratio
from tests.factory import pullover, swatch
from workshop.app.themes import ALL, CONTRAST, DARK, LIGHT
from workshop.app.widgets.form import Form
from workshop.pictures.canvas import GROUNDS, INKS
from workshop.project import GarmentChoices, Project


def panel_text(app) -> str:
    return str(app.screen.query_one("#answers .lines", Static).content)


@pytest.mark.parametrize(("count", "over_cm"), [(24.0, 10.0), (108.0, 60.0)])
async def test_a_count_that_is_far_off_is_gone_to_at_its_own_place(clean_environment, count, over_cm):
    one = swatch(18.0, 24.0)
    reading = [replace(r, count=count, over_cm=over_cm) if n == 2 else r for n, r in enumerate(one.reading)]
    app = app_on(clean_environment, pullover(swatch=(replace(one, reading=tuple(reading)),)), at="gauge")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "reading.A.off needles.rows.2")
        await pilot.press("ctrl+y")
        await settle(pilot)
        assert at(app) == "reading.A.off needles.stitches.3"


async def test_a_step_with_little_to_ask_is_seen_from_its_top_after_one_that_was_scrolled(clean_environment):
    app = app_on(clean_environment, Project(title="New"), at="fibre")
    async with app.run_test(size=(60, 20)) as pilot:
        await settle(pilot)
        for step, seen in (
            ("swatch", "▸Add a swatch"),
            ("gauge", "▸Practice counting"),
            ("wash", "First plan a swatch"),
        ):
            await go_to(pilot, step)
            assert seen in screen_text(app)
            assert app.body.form.scroll_offset.y == 0


# ── answers are drawn while one chooses ──────────────────────────────────────────────────────────────


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_the_marked_answer_of_a_list_is_drawn_and_planned_once(clean_environment, monkeypatch, size):
    planned = []
    real = workshop.app.widgets.drawn.plan
    monkeypatch.setattr(workshop.app.widgets.drawn, "plan", lambda p: planned.append(p) or real(p))
    app = app_on(clean_environment, pullover(garment=GarmentChoices()), at="shape")
    async with app.run_test(size=size) as pilot:
        await settle(pilot)
        to(app, "garment.construction")
        await settle(pilot)
        assert "▀" in panel_text(app)  # from the first question on
        await pilot.press("space")
        await settle(pilot)
        form = app.screen.query_one(Form)
        assert form.listed.region.bottom <= form.region.bottom  # the hint below is read whole
        seen = [panel_text(app)]
        for _ in range(5):
            planned.clear()
            await pilot.press("down")
            await settle(pilot)
            seen.append(panel_text(app))
            assert len(planned) == 1
        assert len(set(seen)) == 6
        names = ("Drop shoulder", "Square armhole", "Set-in sleeve", "Raglan from the hem up", "Raglan from the neck")
        for name, text in zip(names, seen, strict=False):
            assert name in text
        drawn = screen_text(app)
        assert "round yoke" in drawn  # the list
        assert "Round yoke" in drawn  # and what it looks like, beside it
        planned.clear()
        await pilot.press("up", "up", "up")
        await settle(pilot)
        assert planned == []
        assert panel_text(app) == seen[2]
        assert app.session.project.garment.construction is None  # looked at, not taken
        await pilot.press("escape")
        await settle(pilot)
        assert "Set-in sleeve" not in panel_text(app)


async def test_moving_between_questions_plans_nothing_to_draw(clean_environment, monkeypatch):
    planned = []
    real = workshop.app.widgets.drawn.plan
    monkeypatch.setattr(workshop.app.widgets.drawn, "plan", lambda p: planned.append(p) or real(p))
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("down", "down", "down")
        await go_to(pilot, "measure")
        await pilot.press("down", "down")
        await settle(pilot)
        assert planned == []


# ── what needs another look ──────────────────────────────────────────────────────────────────────────


async def test_a_warning_stays_in_sight_wherever_the_panel_is_and_one_key_leads_to_it(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(60, 20)) as pilot:
        await settle(pilot)
        assert not app.screen.query("#warn")  # nothing that is not needed
        await answer(pilot, "body.cross_back_cm", "60")
        warning = next(line for line in screen_text(app).splitlines() if line.startswith(" ! look again:"))
        assert "Ctrl+Y" in warning
        await pilot.press("pagedown", "pagedown")
        await settle(pilot)
        assert warning in screen_text(app)
        to(app, "body.chest_cm")
        await pilot.press("ctrl+y")
        await settle(pilot)
        assert at(app) == "body.cross_back_cm"
        await answer(pilot, "body.cross_back_cm", "38")
        assert "look again" not in screen_text(app)


async def test_the_plan_names_no_warning_of_a_step_left_behind_and_the_key_leads_back_to_it(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(60, 20)) as pilot:
        await settle(pilot)
        await answer(pilot, "body.cross_back_cm", "60")
        await go_to(pilot, "summary")
        assert "Ctrl+Y" not in screen_text(app)
        await pilot.press("ctrl+y")
        await settle(pilot)
        assert app.current_step == "measure"
        assert at(app) == "body.cross_back_cm"
        await answer(pilot, "body.cross_back_cm", "38")
        await go_to(pilot, "summary")
        await pilot.press("ctrl+y")  # the measurements have changed since
        await settle(pilot)
        assert app.current_step == "shape"
        await pilot.press("ctrl+n")
        await settle(pilot)
        await pilot.press("ctrl+y")
        await settle(pilot)
        assert app.current_step == "summary"
        assert "Nothing here needs another look." in screen_text(app)


async def test_the_key_leads_from_a_step_without_a_warning_to_one_that_has_one(clean_environment):
    odd = pullover()
    odd = replace(odd, body=replace(odd.body, cross_back_cm=60.0))
    app = app_on(clean_environment, odd, at="fibre")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await pilot.press("ctrl+y")
        await settle(pilot)
        assert (app.current_step, at(app)) == ("measure", "body.cross_back_cm")


async def test_the_question_at_hand_is_in_sight_however_its_step_was_reached(clean_environment):
    odd = pullover()
    odd = replace(odd, body=replace(odd.body, wrist_cm=None, cross_back_cm=60.0), garment=GarmentChoices())
    app = app_on(clean_environment, odd, at="shape")
    async with app.run_test(size=(60, 20)) as pilot:
        await settle(pilot)
        to(app, "garment.construction")
        await pilot.press("space")
        await settle(pilot)
        await pilot.press("escape", "ctrl+r")
        await settle(pilot)
        assert "▸" in screen_text(app)
        await go_to(pilot, "summary")
        await go_to(pilot, "measure")
        to(app, "body.hip_cm")
        await go_to(pilot, "summary")
        await pilot.press("ctrl+y")
        await settle(pilot)
        assert at(app) == "body.cross_back_cm"
        assert "▸Cross back" in screen_text(app)
        assert "! look again: A cross back of 60 cm is more than half" in panel_text(app)
        assert "! look again: A cross back" in "".join(screen_text(app).splitlines(keepends=True)[8:17])  # in the panel
        await go_to(pilot, "summary")
        await go_to(pilot, "measure")
        assert "▸" in screen_text(app)


async def test_the_newest_warning_is_the_one_that_is_shown(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        await answer(pilot, "body.cross_back_cm", "60")
        first = str(app.screen.query_one("#warn", Static).content)
        await answer(pilot, "body.wrist_cm", "30")
        second = str(app.screen.query_one("#warn", Static).content)
        assert second != first
        assert "in all)" in second


async def test_a_warning_is_not_shown_for_what_is_only_being_typed(clean_environment):
    app = app_on(clean_environment, pullover(), at="measure")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        to(app, "body.cross_back_cm")
        put(app, "60")
        await settle(pilot)
        assert not app.screen.query("#warn")


# ── the panel follows ────────────────────────────────────────────────────────────────────────────────


async def test_walking_on_to_the_next_swatch_the_panel_goes_with_it(clean_environment):
    project = pullover()
    project = replace(project, swatch=(*project.swatch, replace(swatch(18.0, 24.0, name="B"), needle_mm=5.0)))
    app = app_on(clean_environment, project, at="gauge")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        last = [k for k in app.body.form.rows if ".A." in k][-1]
        to(app, last)
        await settle(pilot)
        before = panel_text(app)
        assert before.index("Swatch A,") < before.index("Swatch B,")
        await pilot.press("enter")
        await settle(pilot)
        assert ".B." in at(app)
        after = panel_text(app)
        assert after.index("Swatch B,") < after.index("Swatch A,")
        assert app.body.panel.scroll_y == 0


# ── colours ──────────────────────────────────────────────────────────────────────────────────────────

TEXTS = ("text", "text-muted", "text-accent", "text-warning", "text-error", "text-success")
TEXT_INKS = ("ink-strong", "ink-quiet", "ink-accent")
GROUNDS_OF_TEXT = ("background", "surface", "panel", "boost", "primary-background")


def colours(theme) -> dict[str, Color]:
    named = {**theme.to_color_system().generate(), **theme.variables}
    return {name: Color.parse(value) for name, value in named.items() if value.startswith("#")}


@pytest.mark.parametrize(
    ("theme", "least"), [(DARK, 4.5), (LIGHT, 4.5), (CONTRAST, 7.0)], ids=lambda x: getattr(x, "name", "")
)
def test_every_text_can_be_read_on_every_ground(theme, least):
    """WCAG 2.1, 1.4.3: 4.5 to 1; 1.4.6: 7 to 1."""
    have = colours(theme)
    faint = {
        (text, ground): round(ratio(have[text], have[ground]), 2)
        for text in (*TEXTS, *TEXT_INKS)
        for ground in GROUNDS_OF_TEXT
        if ratio(have[text], have[ground]) < least
    }
    assert faint == {}
    assert ratio(have["block-cursor-foreground"], have["block-cursor-background"]) >= least


@pytest.mark.parametrize("theme", ALL, ids=lambda t: t.name)
def test_pictures_stand_out_from_their_ground_and_marks_from_the_fabric(theme):
    """WCAG 2.1, 1.4.11: what a picture is understood by has 3 to 1 against what is beside it."""
    have = colours(theme)
    assert {f"ink-{name}" for name in (*INKS, *GROUNDS)} <= set(have)
    beside = [(f"ink-{ink}", "background") for ink in ("cloth", "edging", "body", "wood", "mark", "accent")]
    beside += [("ink-body", "ink-body-tape"), ("ink-cloth", "ink-cloth-seam"), ("ink-edging", "ink-button")]
    faint = {
        pair: round(ratio(have[pair[0]], have[pair[1]]), 2)
        for pair in beside
        if ratio(have[pair[0]], have[pair[1]]) < 3.0
    }

    assert faint == {}
