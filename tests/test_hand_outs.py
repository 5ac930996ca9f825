"""The prints of a whole class in one go: one fault stops nobody, and a second run prints only what has changed."""

import pytest

from tests.classroom import CLASS, project_of, write_class
from workshop import saves
from workshop.cli import main

FEW = tuple(i for i in CLASS if i.name in ("Ada", "Vito", "Yusuf"))
"""One with a plan, one who has only begun, one whose file is damaged."""
PRINTS = {"ada-plan.html", "ada-sheet.html", "vito-plan.html", "vito-sheet.html"}


@pytest.fixture
def places(tmp_path):
    folder = write_class(tmp_path / "class", FEW)
    (folder / "link.toml").symlink_to(folder / "ada.toml")
    (folder / "notes.txt").write_text("no project")
    return folder, tmp_path / "out"


def made(capsys, *arguments):
    code = main(["print", *map(str, arguments)])
    said = capsys.readouterr()
    return code, said.out, said.err


def state(folder):
    return {path.name: (path.read_bytes(), path.stat().st_mtime_ns) for path in folder.iterdir()}


def test_everyone_gets_a_plan_and_a_sheet_and_one_fault_stops_nobody(places, capsys):
    folder, out = places
    before = state(folder)
    code, said, wrong = made(capsys, folder, "--to", out)

    assert code == 1
    assert said.splitlines() == [
        "1 of 3: Ada's pullover (ada.toml) printed",
        "2 of 3: Vito's pullover (vito.toml) printed",
        f"{out}: 2 printed, 0 as before, 1 not printed",
    ]
    assert wrong.startswith("workshop: 3 of 3: yusuf.toml: line ")
    assert {p.name for p in out.iterdir()} == PRINTS
    assert state(folder) == before


def test_two_pupils_whose_files_differ_in_capitals_only_have_prints_of_their_own(places, capsys):
    folder, out = places
    (folder / "Ada.TOML").write_bytes((folder / "vito.toml").read_bytes())
    made(capsys, folder, "--to", out)

    assert {p.name for p in out.iterdir()} == {
        *("ada.toml-plan.html", "ada.toml-sheet.html", "Ada.TOML-plan.html", "Ada.TOML-sheet.html"),
        *("vito-plan.html", "vito-sheet.html"),
    }
    assert "Vito" in (out / "Ada.TOML-plan.html").read_text("utf-8")
    assert made(capsys, folder, "--to", out)[1].splitlines()[-1] == f"{out}: 0 printed, 3 as before, 1 not printed"


def test_a_second_run_prints_only_what_has_changed(places, capsys):
    folder, out = places
    made(capsys, folder, "--to", out)
    first = state(out)
    assert "0 printed, 2 as before" in made(capsys, folder, "--to", out)[1]
    assert state(out) == first

    path = folder / "ada.toml"
    path.write_text(path.read_text("utf-8").replace("Ada's", "Adda's"), "utf-8")
    said = made(capsys, folder, "--to", out)[1]
    assert "Adda's pullover (ada.toml) printed" in said
    assert "vito.toml) as before" in said
    now = state(out)
    assert {name for name in now if now[name] != first[name]} == {"ada-plan.html", "ada-sheet.html"}
    assert b"Adda" in now["ada-plan.html"][0]

    assert "2 printed, 0 as before" in made(capsys, folder, "--to", out, "--replace")[1]


@pytest.mark.parametrize("theirs", ["<p>my own page</p>", None])
def test_what_somebody_has_changed_stays_until_one_says_replace(places, capsys, theirs):
    folder, out = places
    made(capsys, folder, "--to", out)
    print_ = out / "ada-plan.html"
    print_.write_text(theirs or print_.read_text("utf-8").replace("</body>", "<p>my note</p></body>"), "utf-8")
    kept = print_.read_bytes()
    code, said, wrong = made(capsys, folder, "--to", out)

    assert code == 1
    assert "Ada's pullover (ada.toml): ada-plan.html is another file, or somebody has changed it" in wrong
    assert "vito.toml) as before" in said
    assert print_.read_bytes() == kept
    made(capsys, folder, "--to", out, "--replace")
    assert print_.read_bytes() != kept


def test_a_save_that_is_called_as_a_print_is_never_printed_over(places, capsys):
    folder, out = places
    out.mkdir()
    save = out / "ada-sheet.html"
    save.write_text(saves.dumps(project_of(CLASS[1])), "utf-8")
    before = save.read_bytes()

    code, _, wrong = made(capsys, folder, "--to", out, "--replace")
    assert code == 1
    assert "ada-sheet.html: is a saved project" in wrong
    assert save.read_bytes() == before
    assert (out / "ada-plan.html").exists()


def test_the_lessons_of_a_teacher_are_named_once_for_a_class(places, tmp_path, capsys, monkeypatch):
    folder, out = places
    monkeypatch.setenv("WORKSHOP_LESSONS", "")  # what the commands set is gone after the test
    (folder / "lessons").mkdir()
    text = "# Choose wool\n\nMy **own** words.\n\n- one\n- two\n\n```text\n  a sum\n```\n"
    (folder / "lessons" / "fibre.md").write_text(text, "utf-8")
    said = made(capsys, folder, "--to", out)[1]
    page = (out / "lessons.html").read_text("utf-8")

    assert "lessons: lessons.html printed" in said
    assert "Choose wool" in page
    assert "My own words." in page
    assert "<li>two</li>" in page
    assert "  a sum" in page
    monkeypatch.delenv("WORKSHOP_LESSONS")
    assert "lessons: lessons.html as before" in made(capsys, folder, "--to", out)[1]
    monkeypatch.delenv("WORKSHOP_LESSONS")
    assert "there's no such folder" in made(capsys, folder, "--to", out, "--lessons", tmp_path / "none")[2]


def test_a_class_goes_into_a_folder(places, capsys):
    folder, out = places
    assert "is printed into a folder" in made(capsys, folder, "--to", out / "all.html")[2]
    assert "Leave out --sheet" in made(capsys, folder, "--to", out, "--sheet", "filled")[2]
    assert made(capsys, folder, "--to", out / "far" / "away")[0] == 1
    assert not out.exists()
    out.write_text("a file")
    assert made(capsys, folder, "--to", out)[0] == 1
    assert out.read_text() == "a file"


def test_an_empty_folder_has_nothing_to_print(tmp_path, capsys):
    assert made(capsys, tmp_path, "--to", tmp_path / "out")[:2] == (0, f"{tmp_path}: no projects\n")
