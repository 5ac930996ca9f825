"""A folder with any files at all: the good ones, and one line for each of the others."""

import json
import os
from dataclasses import replace
from pathlib import Path
from time import process_time

import pytest

from tests.factory import pullover
from workshop import saves
from workshop.cli import main
from workshop.folder import projects, read
from workshop.planned import plan
from workshop.progress import progress
from workshop.questions.actions import actions
from workshop.saves import BadSave
from workshop.session import opened

GOOD = saves.dumps(pullover(title="The good one"))

LINES = {
    "grams = 18.0": ("grams = 0", "swatch.A.grams"),
    "cast_on = 36": ("cast_on = 0", "swatch.A.cast_on"),
    "rows = 48": ("rows = 0", "swatch.A.rows"),
    "percent = 100.0": ("percent = 0", "yarn.a.fibres"),
    "ball_g = 100.0": (f"ball_g = {'9' * 400}", "yarn.a.ball_g"),
    "ball_m = 200.0": (f"ball_m = 0x{'9' * 5000}", "thousands of digits"),
    "cuff_cm = 6.0": (f"cuff_cm = {'9' * 5000}", "thousands of digits"),
    "length_cm = 60.0": ("length_cm = 1_000_000", "garment.length_cm"),
    "hem_cm = 6.0": ("sleeve_cm = 1_000_000\nhem_cm = 6.0", "garment.sleeve_cm"),
    "chest_cm = 92.0": ("chest_cm = 92.0\nneck_to_cuff_cm = 1_000_000", "body.neck_to_cuff_cm"),
    'ease = "standard"': ('ease = "standard"\nwaist_ease_cm = 1e6', "fit.waist_ease_cm"),
}


@pytest.mark.parametrize("old", LINES)
def test_a_file_with_one_value_out_of_bounds_stands_in_the_list_and_locks_nobody_out(tmp_path, old, capsys):
    new, key = LINES[old]
    assert old in GOOD
    (tmp_path / "good.toml").write_text(GOOD)
    (tmp_path / "odd.toml").write_text(GOOD.replace(old, new, 1).replace("The good one", "The odd one"))
    found = {s.path.name: s for s in projects(tmp_path)}

    assert found["good.toml"].project is not None
    assert key in found["odd.toml"].fault
    assert main(["list", str(tmp_path)]) == 1
    assert main(["check", str(tmp_path / "odd.toml")]) == 1
    out, err = capsys.readouterr()
    assert "good.toml: The good one" in out
    assert key in out
    assert key in err
    assert len(err.splitlines()) == 1
    for every in ("summary", "ask", "open"):
        assert main([every, str(tmp_path / "odd.toml")]) == 1


def test_a_title_stands_beside_what_is_wrong_with_its_file(tmp_path, capsys):
    (tmp_path / "odd.toml").write_text(GOOD.replace("grams = 18.0", "grams = 0"))
    main(["list", str(tmp_path)])

    assert capsys.readouterr().out.startswith("The good one: ")


@pytest.mark.skipif(os.name == "nt", reason="links, pipes and devices of Unix")
def test_links_pipes_devices_and_folders_are_one_line_each(tmp_path, capsys):
    (tmp_path / "good.toml").write_text(GOOD)
    (tmp_path / "to-good.toml").symlink_to("good.toml")
    (tmp_path / "dangling.toml").symlink_to("nowhere")
    (tmp_path / "round.toml").symlink_to("round.toml")
    (tmp_path / ".#good.toml").symlink_to("editor@host.123")
    (tmp_path / "endless.toml").symlink_to("/dev/zero")
    (tmp_path / "folder.toml").mkdir()
    os.mkfifo(tmp_path / "pipe.toml")
    (tmp_path / "empty.toml").touch()
    found = {s.path.name: s for s in projects(tmp_path)}

    assert {name for name, s in found.items() if s.project} == {"good.toml", "to-good.toml"}
    assert "isn't there" in found["dangling.toml"].fault
    assert "n't an ordinary file" in found["endless.toml"].fault
    assert "n't an ordinary file" in found["pipe.toml"].fault
    assert "is a folder" in found["folder.toml"].fault
    assert ".#good.toml" not in found
    assert main(["list", str(tmp_path)]) == 1
    assert len(capsys.readouterr().out.splitlines()) == len(found) == 8
    assert {s.path.name for s in saves.list_saves(tmp_path)} == set(found)


def test_a_folder_that_cannot_be_read_is_no_empty_one(tmp_path, monkeypatch):
    def refused(self):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "iterdir", refused)

    assert "Permission denied" in next(projects(tmp_path)).fault


@pytest.mark.parametrize("marks", ["abc=x", "=", "= =", "wash", "yarn.=1 body=2 =", "fit", ""])
def test_marks_of_steps_that_nobody_wrote_do_no_harm(tmp_path, marks):
    path = tmp_path / "p.toml"
    path.write_text(GOOD + f'\n[steps]\nwash = "{marks}"\nshape = "{marks}"\n')

    assert progress(plan(read(path)))


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ("x = " + "[" * 60 + "]" * 60, "nested too deeply"),
        ("a" + ".a" * 200_000 + " = 1", "nested too deeply"),
        ('"a"' + '."a"' * 100_000 + " = 1", "nested too deeply"),
        ("[" + "a." * 100_000 + "a]", "nested too deeply"),
    ],
)
def test_what_is_nested_too_deeply_is_refused_when_it_is_read(tmp_path, more, says):
    path = tmp_path / "p.toml"
    path.write_text(f"{more}\n{GOOD}" if "=" in more else f"{GOOD}\n{more}\n")

    with pytest.raises(BadSave, match=says):
        opened(path)


def test_two_thousand_counts_are_read():
    many = "[[swatch.reading]]\nstate = 'washed'\nalong = 'rows'\ncount = 20\nover_cm = 10\n"
    text = "format = 3\n[[swatch]]\nid = 'A'\n" + many * 2_000

    assert len(saves.parsed(text, Path("p")).swatch[0].places("washed", "rows")) == 2_000


def test_a_file_of_five_megabytes_is_refused_in_one_line(tmp_path):
    path = tmp_path / "p.toml"
    path.write_text(GOOD + "# " + "x" * 5_000_000)
    with pytest.raises(BadSave, match=r"far too large: 5,00\d,\d+ bytes\. At most 1,200,000"):
        read(path)
    path.write_text(GOOD.replace("notes = ", "# notes = ") + "# " + "x" * 1_000_000)
    assert read(path).title == "The good one"


def tables(table: str, many: int, more: str = "") -> str:
    return "".join(f'[[{table}]]\nid = "x{n}"\n{more}\n' for n in range(many))


def lines(line: str, many: int) -> str:
    return "".join(line.format(n=n) for n in range(many))


BEFORE = GOOD.replace("format = 3", "format = 2")
"""A file of an older format."""
OF_OWN = 'stitch = "own-pattern"\npattern_multiple = 4'

TOO_MANY = {
    "swatches": (
        GOOD + tables("swatch", 1_500, 'yarn = "a"'),
        "swatch: there are 1,501 of these. At most 200 are read",
    ),
    "yarns": (GOOD + tables("yarn", 3_000), "yarn: there are 3,001 of these"),
    "patterns": (GOOD + tables("stitch_pattern", 3_000), "stitch_pattern: there are 3,000"),
    "old swatches": (BEFORE + tables("swatch", 3_000, OF_OWN), "swatch: there are 3,001"),
    "bodies": (GOOD + "[[grading.body]]\n" * 2_000, "grading.body: there are 2,000"),
    "bands": (GOOD + '[[garment.band]]\nid = "seed"\n' * 3_000, "garment.band: there are 3,000"),
    "pieces": (GOOD + lines('[[knitting]]\npiece = "p{n}"\n', 3_000), "knitting: there are 3,000"),
    "measures": (GOOD + '[[measured]]\nwhat = "chest"\ncm = 1\n' * 3_000, "measured: there are 3,000"),
    "numbers": (f"x = [{'1, ' * 300_000}]\n{GOOD}", "has far too many entries"),
    "headers": (GOOD + lines("[x{n}]\n", 60_000), "has far too many entries"),
    "parts of keys": (lines("x{n}" + ".a" * 20 + " = 1\n", 1_000) + GOOD, "nested too deeply"),
    "keys of parts": (lines("x{n} . a.'b' = 1\n", 21_000) + GOOD, "nested too deeply"),
}


@pytest.mark.parametrize("what", TOO_MANY)
def test_more_than_a_project_can_have_is_refused_in_one_line(tmp_path, what, capsys):
    text, says = TOO_MANY[what]
    path = tmp_path / "p.toml"
    path.write_text(text)

    assert main(["check", str(path)]) == 1
    err = capsys.readouterr().err
    assert says in err
    assert len(err.splitlines()) == 1
    assert path.read_text() == text


def test_dots_in_a_text_are_no_keys():
    chart = f"[{', '.join([json.dumps('k.' * 30)] * 60)}]"
    text = f'notes = "{"k.k.k.k.k.k.k.k.k = 9. " * 90}"\n{GOOD}'
    text += f'[[stitch_pattern]]\nid = "dots"\nchart = {chart}\n[drafts]\n"a.b.c.d.e.f.g.h.i.j" = "x"\n'

    assert len(saves.parsed(text, Path("p")).stitch_pattern[0].chart) == 60


def test_of_many_unknown_keys_the_first_are_told(tmp_path, capsys):
    path = tmp_path / "p.toml"
    path.write_text(lines("gramms{n} = 1\n", 30_000) + GOOD)
    began = process_time()
    assert main(["check", str(path)]) == 1

    assert process_time() - began < 2
    told = capsys.readouterr().out.splitlines()
    assert len(told) < 25
    assert any("29,980 more keys" in line for line in told)


def full() -> str:
    """A file as full as one may be: every swatch with counts, in a yarn and a pattern of its own."""
    count = '{ state = "washed", along = "rows", count = 30, over_cm = 10 }, '
    text = "".join(
        f'[[swatch]]\nid = "s{n}"\nyarn = "y{n % 99}"\nstitch = "p{n}"\nreading = [{count * 2}]\n' for n in range(199)
    )
    text += "".join(f'[[yarn]]\nid = "y{n}"\n' for n in range(99))
    text += "".join(f'[[stitch_pattern]]\nid = "p{n}"\n' for n in range(200))
    return GOOD + text + '[[log]]\non = "2026-03-01"\ntext = "x"\n' * 1_000


def test_as_much_as_a_project_can_have_is_worked_in_a_moment(tmp_path):
    path = tmp_path / "p.toml"
    path.write_text(full())
    one, other = opened(path), opened(path)
    for work in (
        lambda: one.change(replace(one.project, title="One")),
        lambda: other.change(replace(other.project, notes="Other")),
    ):
        began = process_time()
        work()
        assert process_time() - began < 2
    assert (saves.load(path).title, saves.load(path).notes) == ("One", "Other")
    assert not {a.name for s in ("fibre", "swatch") for a in actions(s, one.project, {})} & {"add", "add pattern"}
