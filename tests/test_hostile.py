"""A stranger's text does not speak to the terminal: what it would do there is shown as what it is."""

import io
import json
import os
import re
import subprocess
import sys
from dataclasses import replace
from itertools import product
from pathlib import Path

import pytest

from tests.factory import pullover
from workshop import lessons, saves, settings
from workshop.cli import main
from workshop.saves import BadSave
from workshop.session import opened
from workshop.visible import TURNS, in_lines, in_one_line

EVIL = "\x1b]0;owned\x07\x1b[2J\x9b31m\u202egnp.exe\u2066\x7f\u2028"
ACTS = re.compile(rf"[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029{TURNS}]")
GOOD = saves.dumps(pullover(title="Good"))
QUOTED = json.dumps(EVIL)
TURNING = json.dumps("\u202eevil\u2066")
SUFFIXES = (".md", ".html", ".svg", ".json")

SAVES = {
    "a value of the wrong type": GOOD.replace("ball_g = 100.0", f"ball_g = {QUOTED}"),
    "a list of them": GOOD.replace("ball_g = 100.0", f"ball_g = [{QUOTED}]"),
    "a table of them": GOOD.replace("ball_g = 100.0", f"ball_g = {{ {QUOTED} = {QUOTED} }}"),
    "a choice": GOOD.replace('hem = "rib-2x2"', f"hem = {QUOTED}"),
    "a value of several lines": GOOD.replace("ball_g = 100.0", r'ball_g = "a\nb\r\nc"'),
    "an id": GOOD.replace('id = "A"', f"id = {QUOTED}"),
    "an id that turns": GOOD.replace('id = "A"', f"id = {TURNING}"),
    "a title": GOOD.replace('title = "Good"', f"title = {QUOTED}"),
    "a title that turns": GOOD.replace('title = "Good"', f"title = {TURNING}"),
    "a name that turns": GOOD.replace('name = "Test yarn"', f"name = {TURNING}"),
    "care that turns": GOOD.replace('care = "hand wash"', f"care = {TURNING}"),
    "a fibre that turns": GOOD.replace('fibre = "wool"', f"fibre = {TURNING}"),
    "an unknown key": f"{QUOTED} = 3\n" + GOOD,
    "an unknown key of a fibre": GOOD.replace("percent = 100.0", f"percent = 100.0, {QUOTED} = 1"),
    "a draft": GOOD + f'\n[drafts]\n"body.chest_cm" = {QUOTED}\n{QUOTED} = {QUOTED}\n',
    "a mark": GOOD + f"\n[steps]\nwash = {QUOTED}\n",
    "an agreement": GOOD.replace("format = 3", f"format = 1\nagreed = [{TURNING}]"),
    "the format": GOOD.replace("format = 3", f"format = {QUOTED}"),
    "a table that is none": GOOD + f"\n[{QUOTED}]\nx = 1\n",
    "what is no TOML": GOOD + EVIL,
}


def quiet(text: str) -> None:
    found = ACTS.search(text)
    assert found is None, (found, text[max(0, found.start() - 60) : found.end() + 20])


@pytest.mark.parametrize("what", SAVES)
def test_a_save_says_nothing_to_the_terminal(tmp_path, what, capsys):
    assert SAVES[what] != GOOD
    path = tmp_path / "evil.toml"
    path.write_bytes(SAVES[what].encode())
    for command in (["list", str(tmp_path)], ["check", str(path)], ["summary", "--workings", str(path)]):
        code = main(command)
        out, err = capsys.readouterr()
        quiet(out)
        quiet(err)
        assert code in (0, 1)
        assert len(err.splitlines()) <= 1, err
    for suffix, sheet in product(SUFFIXES, ([], ["--sheet", "filled"])):
        target = tmp_path / f"out{suffix}"
        target.unlink(missing_ok=True)
        main(["print", str(path), "--to", str(target), *sheet])
        quiet("".join(capsys.readouterr()))
        if target.exists():
            quiet(target.read_text("utf-8"))
    assert path.read_bytes() == SAVES[what].encode()


@pytest.mark.skipif(os.name == "nt", reason="such names cannot be given there")
def test_nor_does_the_name_of_a_file(tmp_path, capsys):
    for name, text in (("\x1b[2Jgood.toml", GOOD), ("\u202egood\n.toml", "x"), ("bad\udcff.toml", "format = 99")):
        (tmp_path / name).write_text(text)
        main(["list", str(tmp_path)])
        main(["check", str(tmp_path / name)])
        main(["summary", str(tmp_path / (name + "x"))])
        main(["list", str(tmp_path / name)])
    out, err = capsys.readouterr()
    quiet(out)
    quiet(err)
    assert "<U+001B>[2Jgood.toml: Good" in out
    assert "bad<U+DCFF>.toml" in out


NAMED = "e\x1b]0;owned\x07\x1b[31m\u202e\u2028\x9b\nv"
"""What a name may hold where a system takes any sign."""


@pytest.fixture
def evil_folder(tmp_path):
    """A folder and a file in it of such a name, with a comment, which the first answer says something about."""
    folder = tmp_path / NAMED
    folder.mkdir()
    (folder / f"{NAMED}.toml").write_text("# by hand\n" + GOOD.replace('hem = "rib-2x2"\n', ""))
    return folder


@pytest.mark.skipif(os.name == "nt", reason="such names cannot be given there")
def test_nor_do_names_of_files_and_folders_whatever_is_done_with_them(evil_folder, capsys, monkeypatch):
    file = str(evil_folder / f"{NAMED}.toml")
    empty = evil_folder / f"{NAMED} empty"
    empty.mkdir()
    told = ""
    for *command, typed in (
        ["ask", file, "square-armhole\nleave\n"],
        ["list", str(empty), ""],
        ["check", str(empty), ""],
        ["check", file, ""],
        ["earlier", file, ""],
        ["earlier", file, "--bring-back", "1", ""],
        ["copy", file, NAMED, ""],
        ["knit", file, "--done", "1", ""],
        ["print", file, "--to", str(evil_folder / f"{NAMED}.md"), ""],
        ["print", file, "--to", str(evil_folder / f"{NAMED}.md"), ""],
        ["class", str(evil_folder), ""],
        ["class", str(evil_folder), "--json", ""],
        ["class", str(empty), ""],
        ["class", str(evil_folder), "--to", str(evil_folder / "page.html"), ""],
        ["print", str(evil_folder), "--to", str(evil_folder / f"{NAMED} out"), ""],
        ["summary", file + "x", ""],
        ["sizes", file, "--sizes", NAMED, ""],
    ):
        monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
        main(command)
        out, err = capsys.readouterr()
        quiet(out)
        quiet(err)
        told += out + err
    quiet((evil_folder / "page.html").read_text("utf-8"))

    assert "was edited by hand" in " ".join(told.split())
    assert "To continue:" in told
    with pytest.raises(SystemExit):
        main(["list", str(empty), NAMED])
    quiet(capsys.readouterr().err)


@pytest.mark.skipif(os.name == "nt", reason="such names cannot be given there")
def test_nor_what_a_session_says_of_its_file(evil_folder):
    path = next(evil_folder.glob("*.toml"))
    one, other = opened(path), opened(path)
    path.with_name(f"{NAMED} twin.toml").hardlink_to(path)
    one.change(replace(one.project, title="One"))
    quiet(one.news)
    other.asks = True
    other.change(replace(other.project, title="Other"))
    assert other.contest is not None
    quiet(other.contest.why + other.fault)
    other.choose("both")
    quiet(other.news)
    assert "Your answers are now in" in other.news


SEVERAL = 'format = 3\ntitle = "two\\nlines\u2028of\u2029a\\u2028title"\n'


@pytest.mark.parametrize("more", ["", "[body]\nchest_cm = 99999\n"])
def test_a_title_is_one_line(tmp_path, capsys, more):
    (tmp_path / "p.toml").write_text(SEVERAL + '[[yarn]]\nid = "a"\nname = """Salt\n\u2028marsh"""\n' + more)
    for command in (["list", str(tmp_path)], ["class", str(tmp_path)]):
        main(command)
        out = capsys.readouterr().out
        quiet(out)
        assert "two lines of a title" in out
    main(["list", str(tmp_path)])
    (line,) = capsys.readouterr().out.splitlines()
    if more:
        assert ", line 8: body.chest_cm: " in line
    else:
        main(["summary", str(tmp_path / "p.toml")])
        quiet(out := capsys.readouterr().out)
        assert "two lines of a title" in out


def test_notes_keep_their_lines(tmp_path):
    path = tmp_path / "p.toml"
    path.write_text(GOOD.replace("[[yarn]]", 'notes = "one\\ntwo\\tthree"\n[[yarn]]', 1))

    assert saves.load(path).notes == "one\ntwo\tthree"


def test_nor_a_lesson(tmp_path, capsys):
    (tmp_path / "fibre.md").write_text(f'+++\nstep = "fibre"\ntitle = {QUOTED}\n+++\n\n# Wool\n\n{EVIL} and so on\n')
    (tmp_path / "wash.md").write_text(f"+++\nstep = {QUOTED}\n+++\n\ntext\n")
    (tmp_path / "shape.md").write_text("+++\nx = " + "[" * 5000 + "\n+++\n\ntext\n")
    read = lessons.read(tmp_path / "fibre.md", "fibre")

    quiet(read.title)
    quiet(read.text)
    assert read.text.startswith("# Wool\n\n<U+001B>]0;owned<U+0007>")
    assert main(["check", str(tmp_path)]) == 1
    quiet("".join(capsys.readouterr()))


@pytest.mark.parametrize(
    "text",
    [f"theme = {QUOTED}", f"[keys]\n{QUOTED} = 'f9'", f"[keys]\n'app.next' = {QUOTED}", "x = " + "[" * 5000, EVIL],
)
def test_nor_the_settings(tmp_path, monkeypatch, text):
    path = tmp_path / "settings.toml"
    path.write_text(text)
    monkeypatch.setenv(settings.SETTINGS_VARIABLE, str(path))
    found = settings.load(lambda: {"app.next": "f10"})

    quiet(found.fault)
    assert found.fault
    assert len(found.fault) < 400


@pytest.mark.parametrize(
    ("key", "there_is"),
    [
        ("f9", 1),
        ("ctrl+n", 1),
        ("question_mark", 1),
        ("shift+pagedown", 1),
        ("n", 1),
        ("f99", 0),
        ("crtl+n", 0),
        ("pgdn", 0),
    ],
)
def test_a_key_that_no_keyboard_has_is_told(tmp_path, monkeypatch, key, there_is):
    path = tmp_path / "settings.toml"
    path.write_text(f"[keys]\n'app.next' = '{key}'\n")
    monkeypatch.setenv(settings.SETTINGS_VARIABLE, str(path))
    found = settings.load(lambda: {"app.next": "f10"})

    assert (found.fault == "") == bool(there_is)
    assert found.keys == ({"app.next": key} if there_is else {})


def test_what_is_shown_by_its_number():
    assert in_one_line("a\x1b[2J\nb\tc\u202ed") == "a<U+001B>[2J b c<U+202E>d"
    assert in_lines("a\nb\tc\x9b") == "a\nb\tc<U+009B>"
    assert in_one_line("Färöer 毛糸 שלום\u200f 👩‍🌾") == "Färöer 毛糸 שלום\u200f 👩‍🌾"


def test_a_full_disk_or_a_small_alphabet_is_one_line_at_most(tmp_path):
    path = tmp_path / "p.toml"
    path.write_text(saves.dumps(replace(pullover(title="−½ 毛糸"), units="in")))
    for encoding in ("cp1252", "ascii"):
        told = subprocess.run(
            [sys.executable, "-m", "workshop", "summary", str(path)],
            capture_output=True,
            check=False,
            env={**os.environ, "PYTHONIOENCODING": encoding},
        )
        assert (told.returncode, told.stderr) == (0, b"")
    if not (device := Path("/dev/full")).exists():
        return
    with device.open("w") as full:
        told = subprocess.run(
            [sys.executable, "-m", "workshop", "tables"], stdout=full, stderr=subprocess.PIPE, check=False, text=True
        )
    assert told.returncode == 1
    assert told.stderr.splitlines() == ["workshop: the text couldn't be written: No space left on device"]


def test_a_fault_is_one_line_whatever_is_in_it(tmp_path):
    path = tmp_path / "p.toml"
    path.write_text(SAVES["a value of several lines"])
    with pytest.raises(BadSave) as told:
        saves.load(path)

    assert "\n" not in str(told.value)
