"""One jumper, half of it line by line and half in the app: both go on where the other left off."""

import io

from textual.widgets import OptionList

from tests.app.helpers import answer, go_to, settle
from workshop import ask, saves
from workshop.app.app import WorkshopApp
from workshop.project import Project
from workshop.session import Session, opened

FIBRE = [
    "Tideline jumper",
    "",
    "",
    "",
    "average",
    "Tideline wool",
    "worsted",
    "wool",
    "100",
    "200",
    "",
    "hand wash",
    ">",
]
SWATCHES = ["y", ">"]
STITCHES = ["18", "18¼", "18"]
ROWS = [
    ("reading.A.off needles.rows.1", "25"),
    ("reading.A.off needles.rows.2", "25½"),
    ("reading.A.off needles.rows.3", "25"),
]
WASHED = [
    ("design.swatch", "A"), ("design.state", "washed"), ("reading.A.washed.stitches.1", "17¾"),
    ("reading.A.washed.stitches.2", "18"), ("reading.A.washed.stitches.3", "17,75"), ("reading.A.washed.rows.1", "24"),
    ("reading.A.washed.rows.2", "24½"), ("reading.A.washed.rows.3", "24"),
]  # fmt: skip
BODY = ["2", "women", "M", *[""] * 13, "standard", ">"]
SHAPE = ["+"] * 11


def talk(session: Session, *lines: str) -> str:
    out = io.StringIO()
    ask.run(session, io.StringIO("\n".join(lines) + "\n"), out)
    return out.getvalue()


async def test_a_jumper_begun_in_one_and_ended_in_the_other(clean_environment):
    folder = clean_environment
    session = Session(Project(), folder)
    said = talk(session, *FIBRE, *SWATCHES, *STITCHES, ".")  # leaves in the middle of a swatch
    assert f"in the app: workshop open {session.path}" in said

    app = WorkshopApp(folder=folder)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        listed = app.screen.query_one("#projects", OptionList)
        assert "Tideline jumper" in str(listed.get_option_at_index(1).prompt)
        await pilot.press("enter")
        await settle(pilot)
        assert app.current_step == "gauge"  # where the lines were left
        for key, text in ROWS:
            await answer(pilot, key, text)
        await go_to(pilot, "wash")
        for key, text in WASHED:
            await answer(pilot, key, text)
        await go_to(pilot, "measure")
        in_app = app.session.project

    back = opened(session.path)
    assert back.project == in_app
    assert [r.count for r in back.project.swatch[0].readings("off needles", "stitches")] == [18, 18.25, 18]
    assert [r.count for r in back.project.swatch[0].readings("off needles", "rows")] == [25, 25.5, 25]
    said = talk(back, *BODY, *SHAPE, ">")
    assert "Step 5 of 7: Measure" in said  # where the app was left
    assert "All steps are done: this is the plan to knit from." in said
    assert "Sleeves (make two alike)" in said

    end = WorkshopApp(opened(session.path), folder)
    async with end.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        assert end.current_step == "summary"
        assert end.session.project == saves.load(session.path) == back.project
        assert end.session.plan.made.pieces


async def test_a_question_agreed_to_in_one_is_agreed_in_the_other(clean_environment):
    session = Session(Project(), clean_environment)
    talk(session, *FIBRE, *SWATCHES, *STITCHES, "", "25", "25½", "28", "y", ">", ".")  # 28: off its fellows
    agreed = saves.load(session.path).agreed

    assert any(name.startswith("reading-off") for name in agreed)
    app = WorkshopApp(opened(session.path), clean_environment)
    async with app.run_test(size=(80, 24)) as pilot:
        await settle(pilot)
        asked = [c for c in app.session.plan.checks if c.code == "reading-off"]
        assert asked
        assert all(c.level == "note" for c in asked)
