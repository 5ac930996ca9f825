"""What finished jumpers beside a new one say of the knitter's hands: offered before the cast-on, taken by a word."""

import json
from dataclasses import replace

import pytest

from workshop import saves
from workshop.cli import main
from workshop.core.knitting.facts import noted
from workshop.project import FinishedMeasure, Weighing
from workshop.session import opened

DEMO = saves.demo_folder() / "harbour-pullover.toml"


@pytest.fixture
def folder(tmp_path):
    """A finished jumper 3 % narrower than planned that took 10 % more yarn, and the plan of a new one."""
    session = opened(DEMO)
    (tmp_path / "next.toml").write_bytes(DEMO.read_bytes())
    plan = session.plan
    done = tuple(noted(p, len(p.rows)) for p in plan.made.pieces)
    grams, stitches = plan.yarn.grams[1] * 1.1, sum(p.stitches_worked for p in plan.made.pieces)
    finished = replace(
        session.project,
        title="First frost",
        knitting=done,
        weighing=(Weighing(20.0, grams, stitches, "2026-02-01"),),
        measured=(FinishedMeasure("chest", plan.finished_cm["chest"] / 1.03, "2026-02-03"),),
    )
    saves.save(finished, tmp_path / "finished.toml")
    return tmp_path


def run(folder, capsys, *options):
    code = main(["knit", str(folder / "next.toml"), *options])
    return code, capsys.readouterr()


def test_own_hands_are_offered_with_why_and_taken_by_a_word_only(folder, capsys):
    before = opened(folder / "next.toml").plan
    _, told = run(folder, capsys)
    assert (
        "as-before: Plan this sweater from how you really knit: First frost came out with 3% more stitches" in told.out
    )
    assert "10% more yarn than planned" in told.out
    assert opened(folder / "next.toml").plan.made == before.made

    code, told = run(folder, capsys, "--take", "as-before")
    after = opened(folder / "next.toml").plan
    assert (code, told.err) == (0, "")
    assert after.gauge.stitches.per_10cm == pytest.approx(before.gauge.stitches.per_10cm * 1.03)
    assert after.gauge.rows == before.gauge.rows
    assert after.yarn.grams[1] == pytest.approx(before.yarn.grams[1] * 1.1, rel=0.05)
    assert after.made.pieces[0].widest > before.made.pieces[0].widest
    assert "as-before" not in told.out


def test_whoever_casts_on_is_not_asked_again(folder, capsys):
    run(folder, capsys, "--row", "2")
    assert "as-before" not in run(folder, capsys)[1].out
    code, told = run(folder, capsys, "--take", "as-before")
    assert code == 1
    assert told.err.count("\n") == 1


def test_jumpers_that_are_not_finished_or_are_no_projects_tell_nothing(folder, capsys):
    text = (folder / "finished.toml").read_text("utf-8").replace("finished = true", "finished = false", 1)
    (folder / "finished.toml").write_text(text.replace("rows = ", "rows = 1 # ", 1), "utf-8")
    (folder / "broken.toml").write_text("\n[[knitting]]\nrows = []", "utf-8")
    code, told = run(folder, capsys, "--json")
    assert code == 0
    assert json.loads(told.out)
    assert "as-before" not in run(folder, capsys)[1].out
