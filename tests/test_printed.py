"""Printing never takes a file away, and writes whole files only."""

import os
from pathlib import Path

import pytest

from tests.factory import pullover
from workshop import files, printed, saves
from workshop.cli import main

pytestmark = pytest.mark.skipif(os.name == "nt", reason="links and pipes of Unix")


@pytest.fixture
def save(tmp_path) -> Path:
    path = tmp_path / "jumper.toml"
    path.write_text(saves.dumps(pullover()))
    return path


def test_a_file_that_is_there_is_kept_until_one_says_replace(save, tmp_path, capsys):
    out = tmp_path / "plan.md"
    assert main(["print", str(save), "--to", str(out)]) == 0
    first = out.read_bytes()
    out.write_text("my own notes")
    assert main(["print", str(save), "--to", str(out)]) == 1
    told = capsys.readouterr().err
    assert out.read_text() == "my own notes"
    assert told == f"workshop: {out}: there's already a file of that name. To replace it, add --replace\n"
    assert main(["print", str(save), "--to", str(out), "--replace"]) == 0
    assert out.read_bytes() == first


@pytest.mark.parametrize("replace", [[], ["--replace"]])
@pytest.mark.parametrize(
    "way", ["symlink", "hard link", "named .md", "another's", "a save in a print's name", "newer", "broken"]
)
def test_a_saved_project_is_never_printed_over(save, tmp_path, way, replace, capsys):
    out, kept = tmp_path / "out.md", save
    other = tmp_path / "other.toml"
    other.write_text(saves.dumps(pullover(title="Another")))
    if way == "symlink":
        out.symlink_to(save)
    elif way == "hard link":
        out.hardlink_to(save)
    elif way == "named .md":
        save = kept = save.rename(out)
    elif way == "another's":
        out.symlink_to(other)
        kept = other
    else:
        text = other.read_text()
        later = {"newer": text.replace("format = 3", "format = 99"), "broken": "# mine\n" + text + "x = ["}
        out.write_text(later.get(way, text))
        kept = out
    before = kept.read_bytes()

    assert main(["print", str(save), "--to", str(out), *replace]) == 1
    assert kept.read_bytes() == before
    assert len(capsys.readouterr().err.splitlines()) == 1


@pytest.mark.parametrize("replace", [[], ["--replace"]])
def test_a_pipe_a_folder_and_a_link_to_nothing_are_refused(save, tmp_path, replace, capsys):
    pipe, folder, link = (tmp_path / f"{name}.md" for name in ("pipe", "folder", "link"))
    os.mkfifo(pipe)
    folder.mkdir()
    for out in (pipe, folder):
        assert main(["print", str(save), "--to", str(out), *replace]) == 1
        assert len(capsys.readouterr().err.splitlines()) == 1
    link.symlink_to("nowhere.md")
    assert main(["print", str(save), "--to", str(link)]) == 1
    assert not (tmp_path / "nowhere.md").exists()


def test_a_print_that_fails_half_way_leaves_what_was_there(save, tmp_path, monkeypatch):
    out = tmp_path / "plan.md"
    out.write_text("the old one")

    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(files.os, "fsync", full)

    assert main(["print", str(save), "--to", str(out), "--replace"]) == 1
    assert out.read_text() == "the old one"
    assert sorted(p.name for p in tmp_path.iterdir()) == ["jumper.toml", "plan.md"]


def test_of_two_prints_at_the_same_moment_one_is_told(tmp_path, monkeypatch):
    monkeypatch.setattr(printed.os.path, "lexists", lambda _: False)  # the other one came just after the look
    (tmp_path / "plan.md").write_text("theirs")

    with pytest.raises(files.AlreadyThere):
        printed.write(tmp_path / "plan.md", "mine")
    assert (tmp_path / "plan.md").read_text() == "theirs"
