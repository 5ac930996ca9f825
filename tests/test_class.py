"""A class by command: every pupil in one list, who needs the teacher first, and nothing is changed."""

import json

import pytest

from workshop import saves
from workshop.cli import main

DEMOS = sorted(saves.demo_folder().glob("*.toml"))


@pytest.fixture
def folder(tmp_path):
    for path in DEMOS:
        (tmp_path / path.name).write_bytes(path.read_bytes())
    (tmp_path / "broken.toml").write_text("title = 'Broken\n", "utf-8")
    (tmp_path / "notes.txt").write_text("no project", "utf-8")
    (tmp_path / "link.toml").symlink_to(tmp_path / DEMOS[0].name)
    (tmp_path / ".hidden.toml").write_bytes(DEMOS[0].read_bytes())
    return tmp_path


def told(capsys, *arguments):
    code = main([*arguments])
    return code, capsys.readouterr().out


def test_one_entry_for_each_project_file_damaged_ones_first(folder, capsys):
    before = {path: path.read_bytes() for path in folder.iterdir()}
    code, out = told(capsys, "class", str(folder), "--json")
    pupils = json.loads(out)["pupils"]

    assert code == 0
    assert {p["file"] for p in pupils} == {"broken.toml", *(path.name for path in DEMOS)}
    assert pupils[0]["file"] == "broken.toml"
    assert pupils[0]["fault"]
    assert set(pupils[0]) == {"file", "title", "step", "next", "attention", "gauge", "chest_cm", "yarn", "fault"}
    ready = next(p for p in pupils if p["file"] == "harbour-pullover.toml")
    assert ready["step"] == "summary"
    assert ready["gauge"]["stitches_per_10cm"] > 0
    assert ready["fault"] is None
    assert {path: path.read_bytes() for path in folder.iterdir()} == before


def test_the_list_for_eyes_has_a_line_for_each(folder, capsys):
    code, out = told(capsys, "class", str(folder))

    assert code == 0
    assert out.startswith("✗ ")
    assert "Harbour pullover (harbour-pullover.toml)" in out


def test_a_folder_that_is_none_is_one_line(tmp_path, capsys):
    assert main(["class", str(tmp_path / "nowhere")]) == 1
    assert "there is no such folder" in capsys.readouterr().err


def test_sizes_by_command(capsys):
    demo = str(saves.demo_folder() / "harbour-pullover.toml")
    code, out = told(capsys, "sizes", demo, "--sizes", "s,M", "--json")
    data = json.loads(out)

    assert code == 0
    assert [one["size"] for one in data["sizes"]] == ["S", "M"]
    assert (data["table"], data["base_size"]) == ("women", "M")
    assert data["sizes"][1]["finished_cm"]["chest"] > data["sizes"][0]["finished_cm"]["chest"]
    assert data["sizes"][0]["refused"] is None
    assert told(capsys, "sizes", demo)[1].count("Counts") == 1
    assert main(["sizes", demo, "--sizes", "9"]) == 1
    assert main(["sizes", demo, "--table", "kids"]) == 1
