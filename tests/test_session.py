"""The file of a session: nobody else's answer is lost, what was is kept, and looking changes nothing."""

import os
import time
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from tests.factory import pullover
from workshop import files, saves, versions
from workshop.cli import main
from workshop.project import Project
from workshop.questions.steps import MODULES, fields
from workshop.session import Session, opened


def answer(session: Session, key: str, text: str) -> None:
    session.answer(next(f for s in MODULES for f in fields(s, session.project) if f.key == key), text)


@pytest.fixture
def path(tmp_path) -> Path:
    path = tmp_path / "jumper.toml"
    path.write_text(saves.dumps(pullover(title="Jumper")))
    return path


def on_disk(path: Path) -> Project:
    return saves.load(path)


# ── two windows ──────────────────────────────────────────────────────────────────────────────────────


def test_two_windows_that_answer_different_questions_lose_nothing(path):
    one, other = opened(path), opened(path)
    answer(one, "garment.length_cm", "66")
    answer(other, "body.waist_cm", "76")

    assert (on_disk(path).garment.length_cm, on_disk(path).body.waist_cm) == (66.0, 76.0)
    assert other.project == on_disk(path)
    assert one.look()
    assert one.project.body.waist_cm == 76.0
    assert not one.look()


def test_two_answers_to_one_question_are_both_there_where_nobody_can_ask(path):
    one, other = opened(path), opened(path)
    answer(one, "body.waist_cm", "80")
    answer(other, "body.waist_cm", "76")

    assert on_disk(path).body.waist_cm == 80.0
    assert other.path == path.with_name("jumper-mine.toml")
    assert on_disk(other.path).body.waist_cm == 76.0
    assert "both windows answered: Waist" in other.news
    assert "jumper-mine.toml" in other.news
    assert other.fault == ""


def test_the_same_answer_in_both_is_no_question(path):
    one, other = opened(path), opened(path)
    answer(one, "body.waist_cm", "80")
    answer(other, "body.waist_cm", "80")

    assert (other.path, other.news, other.fault) == (path, "", "")


@pytest.mark.parametrize("way", ["theirs", "mine", "both"])
def test_the_knitter_chooses_and_neither_is_lost(path, way):
    one, other = opened(path), opened(path)
    other.asks = True
    answer(one, "body.waist_cm", "80")
    answer(one, "garment.length_cm", "66")
    answer(other, "body.waist_cm", "76")

    assert other.contest.keys == ("body.waist_cm",)
    assert "both windows answered: Waist" in other.fault
    assert on_disk(path).body.waist_cm == 80.0
    other.choose(way)
    assert (other.contest, other.fault) == (None, "")
    assert other.project.body.waist_cm == (80.0 if way == "theirs" else 76.0)
    assert on_disk(path).body.waist_cm == (76.0 if way == "mine" else 80.0)
    assert on_disk(path).garment.length_cm == 66.0
    assert on_disk(other.path) == other.project
    kept = {v.project.body.waist_cm for v in opened(path).earlier()}
    assert {80.0, 76.0} - {on_disk(path).body.waist_cm, on_disk(other.path).body.waist_cm} <= kept


@pytest.mark.parametrize("asks", [True, False])
@pytest.mark.parametrize("text", ["format = 99\n", "= not TOML", ""])
def test_a_file_that_became_unreadable_is_never_written_over(path, text, asks):
    session = opened(path)
    session.asks = asks
    path.write_text(text)
    answer(session, "body.waist_cm", "76")
    session.choose("mine")

    assert path.read_text() == text
    assert session.path != path
    assert on_disk(session.path).body.waist_cm == 76.0


def test_a_file_that_was_taken_away_is_written_again(path):
    session = opened(path)
    path.unlink()
    answer(session, "body.waist_cm", "76")

    assert on_disk(path).body.waist_cm == 76.0


def test_looking_takes_over_what_the_other_window_did_and_writes_nothing(path):
    one, other = opened(path), opened(path)
    other.at("wash")
    answer(one, "body.waist_cm", "80")
    before = path.read_bytes()

    assert other.look()
    assert (other.project.body.waist_cm, other.project.last_step) == (80.0, "wash")
    assert path.read_bytes() == before


def test_two_new_projects_of_one_name_have_two_files(tmp_path, monkeypatch):
    name = tmp_path / "jumper.toml"
    free = iter([name, name, tmp_path / "jumper-2.toml"])  # both look before either has written
    monkeypatch.setattr(saves, "new_path", lambda folder, title: next(free))
    one, other = Session(pullover(title="One"), tmp_path), Session(pullover(title="Other"), tmp_path)
    one.save()
    other.save()

    assert {on_disk(one.path).title, on_disk(other.path).title} == {"One", "Other"}


# ── what is on the disk ──────────────────────────────────────────────────────────────────────────────


@pytest.mark.skipif(os.name == "nt", reason="permissions of Unix")
def test_a_read_only_file_is_left_as_it_is_and_said(path):
    session = opened(path)
    before = path.read_bytes()
    path.chmod(0o444)
    answer(session, "body.waist_cm", "76")

    assert "is read-only" in session.fault
    assert path.read_bytes() == before
    path.chmod(0o644)
    answer(session, "body.hip_cm", "98")
    assert session.fault == ""
    assert (on_disk(path).body.waist_cm, on_disk(path).body.hip_cm) == (76.0, 98.0)


@pytest.mark.skipif(not Path("/proc/self/fd").exists(), reason="names of open files are told by Linux only")
def test_the_folder_is_kept_on_the_disk_too(path, monkeypatch):
    kept = []
    monkeypatch.setattr(files.os, "fsync", lambda handle: kept.append(str(Path(f"/proc/self/fd/{handle}").readlink())))
    answer(opened(path), "body.waist_cm", "76")

    assert str(path.parent) in kept
    assert any(name.endswith(".part") for name in kept)


def test_old_leftovers_are_swept_and_young_ones_and_strangers_are_not(path):
    names = (".jumper.toml-abcd1234.part", ".abcd1234.part", ".young-abcd1234.part", "mine.part", ".other.part.txt")
    for name in names:
        (path.parent / name).write_text("x")
        old = time.time() - (60 if "young" in name else 2 * files.OLD_SECONDS)
        os.utime(path.parent / name, (old, old))
    opened(path).look()
    assert {p.name for p in path.parent.iterdir()} == {path.name, *names}
    session = Session(pullover(title="New"), path.parent)
    session.save()

    left = {p.name for p in path.parent.iterdir() if p.name.endswith((".part", ".txt"))}
    assert left == {".young-abcd1234.part", "mine.part", ".other.part.txt"}


def test_opening_and_looking_changes_no_byte_and_an_answer_keeps_the_comments_elsewhere(path):
    text = "# for Ada\n" + path.read_text() + "\n# her second one\n"
    path.write_text(text)
    stamp = path.stat().st_mtime_ns
    session = opened(path)
    for step in (*MODULES, "summary"):
        session.at(step)
        session.confirm(step)
    session.look()

    assert (path.read_text(), path.stat().st_mtime_ns) == (text, stamp)
    answer(session, "body.waist_cm", "76")
    assert "# for Ada" not in path.read_text()
    assert "edited by hand" in session.news
    assert session.earlier()[0].path.read_text() == text
    assert on_disk(path).last_step == "summary"


# ── earlier versions ─────────────────────────────────────────────────────────────────────────────────


@pytest.mark.skipif(os.name == "nt", reason="links of Unix")
def test_a_second_name_on_the_disk_keeps_the_old_answers_and_that_is_said(path):
    """A file is written whole under its name, so a hard link goes its own way from then on."""
    other = path.with_name("backup.toml")
    other.hardlink_to(path)
    before = other.read_bytes()
    session = opened(path)
    answer(session, "body.waist_cm", "81")

    assert other.read_bytes() == before != path.read_bytes()
    assert "a second name on the disk" in session.news


def test_an_answer_can_be_taken_back_and_that_too(path, capsys):
    session = opened(path)
    for waist in ("76", "77", "78"):
        answer(session, "body.waist_cm", waist)
    now = path.read_bytes()
    found = session.earlier()

    assert [v.project.body.waist_cm for v in found] == [77.0, 76.0, None]
    assert {v.changed for v in found} == {("body.waist_cm",)}
    assert main(["earlier", str(path)]) == 0
    assert [line[:3] for line in capsys.readouterr().out.splitlines()] == ["  1", "  2", "  3"]
    assert main(["earlier", str(path), "--bring-back", "2"]) == 0
    assert on_disk(path).body.waist_cm == 76.0
    assert main(["earlier", str(path), "--bring-back", "1"]) == 0
    assert path.read_bytes() == now
    assert main(["earlier", str(path), "--bring-back", "99"]) == 1
    assert "there's no earlier version 99. There are 1 to 5" in capsys.readouterr().err


def test_what_is_no_answer_makes_no_version(path):
    session = opened(path)
    answer(session, "body.waist_cm", "76")
    for step in MODULES:
        session.at(step)
        session.confirm(step)

    assert len(session.earlier()) == 1


def test_twenty_answers_and_thirty_days_are_kept_in_a_megabyte(path):
    texts = iter(range(10_000))
    day = datetime(2026, 1, 1, 9).timestamp()
    for days in range(60):
        for hour in range(3):
            versions.keep(path, saves.dumps(pullover(title=f"t{next(texts)}")), day + 86400 * days + 3600 * hour)
    found = versions.listed(path, on_disk(path))

    assert [v.project.title for v in found[:20]] == [f"t{179 - n}" for n in range(20)]
    assert len({v.when.date() for v in found}) == 30
    assert len(found) == 20 + 30 - 7
    assert all(v.when.hour == 11 for v in found[20:])


def test_large_versions_stay_under_a_megabyte():
    kept = [Path(f"{n:06d}-20260101-090000.toml") for n in range(30)]

    assert versions.worth_keeping(kept, [400_000] * 30) == kept[-2:]
    assert versions.worth_keeping(kept, [2_000_000] * 30) == []


def test_versions_are_no_projects_of_the_list(path, capsys):
    answer(opened(path), "body.waist_cm", "76")
    main(["list", str(path.parent)])

    assert len(capsys.readouterr().out.splitlines()) == 1
    assert [s.path for s in saves.list_saves(path.parent)] == [path]


def test_where_the_folder_takes_no_versions_they_go_to_the_users_own(path, tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "data"))
    (path.parent / versions.FOLDER).write_text("in the way")
    session = opened(path)
    answer(session, "body.waist_cm", "76")

    assert "its own folder can't be written to" in session.news
    assert session.fault == ""
    session.news = ""
    answer(session, "body.waist_cm", "77")
    assert session.news == ""
    assert [v.project.body.waist_cm for v in session.earlier()] == [76.0, None]


def test_versions_make_room_where_the_disk_is_full(path, monkeypatch):
    session = opened(path)
    for waist in ("71", "72", "73"):
        answer(session, "body.waist_cm", waist)
    write = files.write

    def small(target, text, **options):
        held = sum(p.stat().st_size for p in path.parent.rglob("*.toml") if p.is_file())
        if held > 6000 and not options.get("new"):
            raise files.DiskFull("can't be written: No space left on device")
        write(target, text, **options)

    monkeypatch.setattr(files, "write", small)
    answer(session, "body.waist_cm", "74")

    assert session.fault == ""
    assert on_disk(path).body.waist_cm == 74.0
    assert session.earlier()[0].project.body.waist_cm == 73.0
    monkeypatch.setattr(files, "write", lambda *_, **__: (_ for _ in ()).throw(files.DiskFull("can't be written")))
    answer(session, "body.waist_cm", "75")
    assert "can't be written" in session.fault
    assert on_disk(path).body.waist_cm == 74.0


def test_a_copy_under_a_new_name(path, capsys):
    assert main(["copy", str(path), "Another neck"]) == 0
    assert main(["copy", str(path), " "]) == 1
    assert main(["copy", str(path), "n" * 200]) == 1

    assert on_disk(path.with_name("another-neck.toml")) == replace(pullover(), title="Another neck")
    assert on_disk(path).title == "Jumper"
