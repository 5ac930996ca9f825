"""The README holds what it promises: commands that exist, keys that work, files that are there."""

import re
import shlex
import subprocess
import sys
from dataclasses import fields, is_dataclass
from pathlib import Path

import pytest

from tests.factory import pullover
from workshop import project, saves
from workshop.cli import parser

ROOT = Path(__file__).resolve().parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")
COMMANDS = re.findall(r"^\| `(workshop[^`]*)`", README, re.MULTILINE)


def test_quick_start_has_exactly_two_commands_that_need_only_python_and_pip():
    section = README.split("## Quick start")[1].split("\n## ")[0]
    blocks = re.findall(r"```sh\n(.*?)\n```", section, re.DOTALL)

    assert len(blocks) == 2
    for block in blocks:
        assert block.startswith("python3 -m pip install --quiet --upgrade --target .run ")
    assert blocks[0].endswith("python3 -m workshop demo")
    assert blocks[1].endswith("python3 -m pytest -n auto")


def test_ones_own_sweater_is_begun_with_the_very_install_of_the_quick_start():
    """As printed, but that the install stands in for itself: here is no terminal, and the app says so in one line."""
    section = README.split("## Your own sweater")[1].split("\n## ")[0]
    begin, alias = re.findall(r"```sh\n(.*?)\n```", section, re.DOTALL)
    where = ":".join([str(ROOT), *(str(Path(p).resolve()) for p in sys.path if p)])  # where the tests run from
    shell = f"shopt -s expand_aliases\nPWD='{where}'\npython3() {{ '{sys.executable}' \"$@\"; }}\n"

    for script in (begin, f"{alias}\nworkshop list", f"{alias}\nworkshop tables needles"):
        run = shell + script.replace("/.run", "").replace("=.run", f"='{where}'")
        done = subprocess.run(["bash", "-c", run], capture_output=True, text=True, check=False, cwd="/")
        if script == begin:
            assert done.stderr.startswith("workshop: the app needs a terminal")
        else:
            assert done.returncode == 0, done.stderr
            assert done.stdout


def test_the_job_stands_on_top():
    first = README.split("\n\n")[1]

    assert "jumper" in first
    assert not first.startswith(("#", "!", "-"))


def test_every_command_of_the_parser_is_documented_and_the_other_way_round():
    known = {name for action in parser()._subparsers._group_actions for name in action.choices}
    documented = {shlex.split(c)[1] for c in COMMANDS if len(shlex.split(c)) > 1}

    assert documented | {"open"} == known | {"open"}
    assert "workshop open [FILE]" in README


@pytest.mark.parametrize("command", COMMANDS)
def test_every_documented_command_runs(command, tmp_path):
    saved = tmp_path / "jumper.toml"
    saves.save(pullover(), saved)
    fill = {
        "FILE...": str(saved), "[FILE]": str(saved), "FILE": str(saved), "OUT": str(tmp_path / "out.html"), "[FOLDER]": str(tmp_path), "FOLDER": str(tmp_path),
        "[NAME]": "needles", "[--json]": "--json", "[--workings]": "--workings", "[--sheet": "--sheet", "filled|blank]": "filled",
        "[--to": "--to", "OUT]": str(tmp_path / "sizes.html"),
    }  # fmt: skip
    words = [fill.get(w, w) for w in shlex.split(command)[1:]]
    done = subprocess.run(
        [sys.executable, "-m", "workshop", *words], capture_output=True, check=False, cwd=ROOT, stdin=subprocess.DEVNULL
    )

    if words and words[0] not in ("open",):
        assert done.returncode == 0, done.stderr
        assert done.stdout
    else:  # the app itself: here is no terminal, and it says what to use instead
        assert done.returncode == 1
        assert b"workshop summary" in done.stderr


def test_it_is_short_enough_for_a_knitter_and_its_details_stand_with_the_saves():
    from workshop.app.app import all_bindings

    settings = (ROOT / "saves" / "README.md").read_text(encoding="utf-8").split("## Settings")[1]

    assert len(README.split()) < 1250
    assert "(saves/README.md)" in README
    assert set(re.findall(r'"?((?:app|form)\.\w+)', settings)) <= set(all_bindings())


def test_files_that_are_named_are_there():
    for name in re.findall(r"\]\(([^)#]+)\)", README):
        assert (ROOT / name).exists(), name


def test_documented_keys_are_bound():
    from workshop.app.app import WorkshopApp
    from workshop.app.screens.step import StepScreen
    from workshop.app.widgets.form import Form

    bound = {key for b in (*WorkshopApp.BINDINGS, *StepScreen.BINDINGS, *Form.BINDINGS) for key in b.key.split(",")}
    table = README.split("## In the app")[1].split("\n## ")[0]
    for key in re.findall(r"F\d|Ctrl\+[A-Z]", table):
        name = key.lower()
        assert name in bound | {"ctrl+p"}, key


def test_the_described_save_file_is_read():
    text = (ROOT / "saves" / "README.md").read_text(encoding="utf-8")
    block = re.search(r"```toml\n(.*?)```", text, re.DOTALL)[1]
    import tomllib

    read = saves.from_data(tomllib.loads(block))
    assert read.extra == {}
    assert all(not item.extra for item in (*read.yarn, *read.swatch, read.body, read.garment, read.fit))


def test_every_key_of_a_save_is_described():
    text = (ROOT / "saves" / "README.md").read_text(encoding="utf-8")
    records = [one for one in vars(project).values() if isinstance(one, type) and is_dataclass(one)]
    keys = {f"{one.__name__}.{f.name}" for one in records for f in fields(one) if f.name != "extra"}

    assert {key for key in keys if not re.search(rf"\b{key.split('.')[1]}\b", text)} == set()
