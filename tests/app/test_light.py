"""The app does nothing twice, and nothing before it is wanted: counted, so that it holds on every machine."""

from tests.app.helpers import app_on, go_to, settle
from tests.factory import pullover
from workshop.prints.document import summary as document
from workshop.session import Session


async def test_a_step_that_is_opened_answers_nothing_by_itself(clean_environment, monkeypatch):
    answered = []
    take = Session.answer

    def counted(self, asked, text):
        answered.append(asked.key)
        take(self, asked, text)

    monkeypatch.setattr(Session, "answer", counted)
    app = app_on(clean_environment, pullover())
    async with app.run_test(size=(80, 24)) as pilot:
        for step in ("shape", "measure", "swatch", "fibre"):
            await go_to(pilot, step)
        await settle(pilot)

    assert answered == []


async def test_the_plan_is_laid_out_once_for_one_width(clean_environment, monkeypatch):
    from workshop.app.screens import summary

    laid_out = []
    monkeypatch.setattr(summary, "summary", lambda *a, **k: laid_out.append(k["columns"]) or document(*a, **k))
    app = app_on(clean_environment, pullover(), at="shape")
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        laid_out.clear()
        await go_to(pilot, "summary")
        assert laid_out == [76]

        await pilot.press("f3")
        await settle(pilot)
        await pilot.press("f1")
        await settle(pilot)
        await pilot.press("escape", "f3")
        await settle(pilot)
        assert laid_out == [76, 76]

        await pilot.resize_terminal(100, 30)
        await settle(pilot)
        assert laid_out == [76, 76, 96]
