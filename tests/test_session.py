"""The file of a session: nobody else's answer is lost, what was is kept, and looking changes nothing."""

import os
import re
import shlex
import tempfile
import time
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest

from tests.factory import pullover
from workshop import files, saves, versions
from workshop.cli import main
from workshop.project import LogEntry, Project, StitchPattern
from workshop.questions.steps import MODULES, fields
from workshop.session import Session, opened
from workshop.units import NotUnderstood
from workshop.visible import in_one_line


def answer(session: Session, key: str, text: str) -> None:
    session.answer(next(f for s in MODULES for f in fields(s, session.project) if f.key == key), text)


def refused(*_what: object, **_how: object) -> None:
    """A disk that takes nothing just now."""
    raise saves.CannotSave("the disk would not take it")


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
def test_a_file_of_a_newer_workshop_is_never_written_over(path, asks):
    session = opened(path)
    session.asks = asks
    path.write_text("format = 99\n")
    answer(session, "body.waist_cm", "76")
    session.choose("mine")

    assert path.read_text() == "format = 99\n"
    assert session.path != path
    assert on_disk(session.path).body.waist_cm == 76.0


GONE, NOT_TEXT = None, b"\xff\xfe\x00"


@pytest.mark.parametrize("when", ["at the next look", "at the next answer"])
@pytest.mark.parametrize("held", [GONE, b"", b"x = [", NOT_TEXT, b"format = 3\ntension = 7\n"])
def test_a_file_that_is_gone_or_broken_is_written_again_and_what_it_held_is_kept(path, held, when):
    session = opened(path)
    answer(session, "body.waist_cm", "76")
    if held is GONE:
        path.unlink()
    else:
        path.write_bytes(held)
    if when == "at the next look":
        session.look()
        assert on_disk(path) == session.project
    else:
        answer(session, "body.hip_cm", "99")

    assert (session.path, session.fault) == (path, "")
    assert on_disk(path).body.waist_cm == 76.0
    assert on_disk(path).body.hip_cm == session.project.body.hip_cm
    assert "jumper.toml" in session.news
    assert "saved again" in session.news
    kept = path.with_name("jumper.toml.broken")
    assert kept.read_bytes() == held if held else not kept.exists()
    assert [s.path for s in saves.list_saves(path.parent)] == [path]
    assert session.earlier()[-1].project.body.waist_cm is None


def test_where_it_cannot_be_written_again_what_is_there_stays_and_it_is_not_saved(path, monkeypatch):
    session = opened(path)
    answer(session, "body.waist_cm", "76")
    path.write_text("x = [")
    with monkeypatch.context() as full:
        full.setattr(files, "write", lambda *_, **__: (_ for _ in ()).throw(files.DiskFull("can't be written")))
        session.look()
        assert "can't be written" in session.fault
        assert session.news == ""
        assert path.read_text() == "x = ["
        assert not path.with_name("jumper.toml.broken").exists()
    session.look()
    assert session.fault == ""
    assert on_disk(path).body.waist_cm == 76.0


def test_a_file_that_nothing_was_answered_in_comes_back_with_its_comments(path):
    text = "# for Ada\n" + path.read_text()
    path.write_text(text)
    session = opened(path)
    session.at("wash")
    path.unlink()
    session.look()

    assert path.read_text() == text
    assert "was gone" in session.news


# ── an older text over ours ──────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("noticed", ["at the next look", "at the next answer"])
@pytest.mark.parametrize("way", ["theirs", "mine", "both"])
def test_an_older_text_that_an_editor_writes_over_ours_is_a_question(path, way, noticed):
    session = opened(path)
    session.asks = True
    answer(session, "body.waist_cm", "71")
    stale = path.read_text()
    for waist in ("72", "73"):
        answer(session, "body.waist_cm", waist)
    path.write_text(stale)
    if noticed == "at the next look":
        session.look()
    else:
        answer(session, "garment.length_cm", "66")

    assert session.contest.older
    assert "body.waist_cm" in session.contest.keys
    assert path.read_text() == stale
    kept = {v.project.body.waist_cm for v in opened(path).earlier()}
    assert 73.0 in kept
    session.choose(way)
    assert (session.contest, session.fault) == (None, "")
    assert session.project.body.waist_cm == (71.0 if way == "theirs" else 73.0)
    assert on_disk(path).body.waist_cm == (73.0 if way == "mine" else 71.0)
    assert on_disk(session.path) == session.project
    assert not session.look()
    if way != "theirs" and noticed == "at the next answer":
        assert session.project.garment.length_cm == 66.0


def test_what_another_window_takes_back_is_no_question(path):
    one, other = opened(path), opened(path)
    one.asks = other.asks = True
    answer(one, "body.waist_cm", "71")
    other.look()
    answer(one, "body.waist_cm", "72")
    other.look()
    one.bring_back(one.earlier()[0])

    assert other.look()
    assert (other.contest, other.news, other.project.body.waist_cm) == (None, "", 71.0)


def test_an_older_text_is_no_question_where_nobody_can_ask_and_both_are_there(path):
    session = opened(path)
    answer(session, "body.waist_cm", "71")
    stale = path.read_text()
    answer(session, "body.waist_cm", "72")
    path.write_text(stale)
    session.look()  # as when the window is closed by the terminal

    assert path.read_text() == stale
    assert on_disk(session.path).body.waist_cm == 72.0
    assert "jumper-mine.toml" in session.news


def test_rows_that_another_window_takes_back_are_no_question(path):
    one, other = opened(path), opened(path)
    one.asks = other.asks = True
    answer(one, "body.waist_cm", "71")
    for row in ("row 1", "row 2", "row 1"):
        one.change(replace(one.project, log=(LogEntry("2026-01-01", row),)))
        other.look()
        assert (other.contest, other.news) == (None, "")
        assert other.project.log == one.project.log


def test_an_answer_of_another_window_after_other_things_there_is_not_an_editors(path):
    one, other = opened(path), opened(path)
    answer(one, "body.waist_cm", "71")
    other.look()
    one.at("wash")
    one.confirm("wash")
    answer(one, "body.waist_cm", "72")

    assert other.look()
    assert (other.project.body.waist_cm, other.news) == (72.0, "")
    assert [v.project.body.waist_cm for v in other.earlier()] == [71.0, None]


def test_what_an_editor_changes_is_taken_over_and_what_was_there_is_kept(path):
    session = opened(path)
    session.asks = True
    for waist in ("71", "72"):
        answer(session, "body.waist_cm", waist)
    path.write_text(path.read_text().replace("waist_cm = 72.0", "waist_cm = 80.0"))

    assert session.look()
    assert session.contest is None
    assert session.project.body.waist_cm == 80.0
    assert "among the earlier versions" in session.news
    assert session.earlier()[0].project.body.waist_cm == 72.0


@pytest.mark.parametrize("way", ["mine", "theirs", "both"])
def test_a_row_that_an_older_text_takes_back_is_asked_about_and_stays_knitted(path, way):
    session = opened(path)
    session.asks = True
    answer(session, "garment.length_cm", "66")
    stale = path.read_text()
    session.change(replace(session.project, log=(LogEntry("2026-01-01", "row 1"),)))
    path.write_text(stale)
    session.look()

    assert session.contest.older
    session.choose(way)
    assert session.project.log
    assert on_disk(session.path).log


@pytest.mark.parametrize("huge", ["x" * 1_300_000, "k." * 700 + "k = 9"])
def test_text_that_could_not_be_opened_again_is_no_draft_and_stops_no_answer(path, huge):
    session = opened(path)
    with pytest.raises(NotUnderstood):
        answer(session, "body.waist_cm", huge)
    answer(session, "garment.length_cm", "66")

    assert session.fault == ""
    assert opened(path).project.garment.length_cm == 66.0


def test_no_list_is_written_that_is_longer_than_it_is_read(path):
    session = opened(path)
    yarn = session.project.yarn[0]
    session.change(replace(session.project, yarn=tuple(replace(yarn, id=f"y{i}") for i in range(102))))

    assert "couldn't be opened again" in session.fault
    assert len(opened(path).project.yarn) == 1


def test_a_row_that_could_not_be_saved_is_tried_again_at_the_next_look(path, monkeypatch):
    session = opened(path)
    answer(session, "garment.length_cm", "66")
    with monkeypatch.context() as full:
        full.setattr(saves, "write", refused)
        session.change(replace(session.project, log=(LogEntry("2026-01-01", "row 1"),)))
    assert session.fault
    answer(opened(path), "body.waist_cm", "80")
    session.look()

    assert session.fault == ""
    assert (on_disk(path).log, on_disk(path).body.waist_cm) == (session.project.log, 80.0)


def test_a_write_that_fails_makes_no_editor_of_the_workshop(path, monkeypatch):
    one, other = opened(path), opened(path)
    answer(one, "garment.length_cm", "66")
    with monkeypatch.context() as full:
        full.setattr(saves, "write", refused)
        answer(one, "garment.length_cm", "67")
    other.look()

    assert other.news == ""
    assert other.project.garment.length_cm == 66.0


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


@pytest.mark.skipif(os.name == "nt", reason="links of Unix")
def test_a_new_project_is_not_made_where_a_link_of_its_name_leads(tmp_path):
    elsewhere = tmp_path / "elsewhere.toml"
    (tmp_path / "test-pullover.toml").symlink_to(elsewhere)
    session = Session(pullover(), tmp_path)
    session.save()
    assert session.path == tmp_path / "test-pullover-2.toml"
    assert not elsewhere.exists()


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
    assert [v.number for v in found] == [3, 2, 1]

    assert [v.project.body.waist_cm for v in found] == [77.0, 76.0, None]
    assert {v.changed for v in found} == {("body.waist_cm",)}
    assert main(["earlier", str(path)]) == 0
    assert [line[:3] for line in capsys.readouterr().out.splitlines()] == ["  3", "  2", "  1"]
    assert main(["earlier", str(path), "--bring-back", "2"]) == 0
    assert on_disk(path).body.waist_cm == 76.0
    assert capsys.readouterr().out.endswith("--bring-back 4\n")
    assert main(["earlier", str(path), "--bring-back", "4"]) == 0
    assert path.read_bytes() == now
    assert main(["earlier", str(path), "--bring-back", "99"]) == 1
    assert "there's no earlier version 99. There are 1, 2, 3, 4, 5" in capsys.readouterr().err


BEYOND = 300_000_000_000
"""Seconds since 1970 that no calendar holds."""


@pytest.fixture
def any_time(tmp_path):
    """A folder on a disk that keeps any time of a file."""
    memory = Path("/dev/shm")
    with tempfile.TemporaryDirectory(dir=memory if memory.is_dir() else tmp_path) as name:
        yield Path(name)


def test_a_version_of_no_date_is_none(path, capsys):
    session = opened(path)
    answer(session, "body.waist_cm", "76")
    folder = session.earlier()[0].path.parent
    for name in ("000099-20269999-999999.toml", "000098-00000000-000000.toml", "000097-２０２６１１２８-120000.toml"):
        (folder / name).write_bytes(path.read_bytes())

    assert len(session.earlier()) == 1
    assert main(["earlier", str(path)]) == 0
    assert len(capsys.readouterr().out.splitlines()) == 1
    answer(session, "body.waist_cm", "77")
    assert [v.project.body.waist_cm for v in session.earlier()] == [76.0, None]


@pytest.mark.parametrize("seconds", [BEYOND, -BEYOND])
def test_a_time_that_no_calendar_holds_hides_nothing(any_time, seconds, capsys):
    for name in ("a", "b"):
        saves.save(pullover(title=name), any_time / f"{name}.toml")
    path = any_time / "b.toml"
    os.utime(path, (seconds, seconds))

    assert main(["list", str(any_time)]) == 0
    told = capsys.readouterr().out.splitlines()
    assert len(told) == 2
    assert sum("changed at an unknown time" in line for line in told) == 1
    session = opened(path)
    answer(session, "body.waist_cm", "76")
    assert [v.when.year for v in session.earlier()] == [datetime.now().year]


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


def test_a_version_is_brought_back_by_its_number_whatever_is_kept_after_the_list_was_shown(path, capsys):
    session = opened(path)
    for waist in ("76", "77"):
        answer(session, "body.waist_cm", waist)
    main(["earlier", str(path)])
    number = capsys.readouterr().out.split()[0]
    answer(session, "body.waist_cm", "78")  # in a window that is still open
    main(["earlier", str(path), "--bring-back", number])

    assert on_disk(path).body.waist_cm == 76.0


def test_large_versions_stay_under_a_megabyte_and_the_newest_always():
    kept = [Path(f"{n:06d}-20260101-090000.toml") for n in range(30)]

    assert versions.worth_keeping(kept, [400_000] * 30) == kept[-2:]
    assert versions.worth_keeping(kept, [2_000_000] * 30) == kept[-2:]
    assert versions.worth_keeping(kept, [100_000] * 30) == kept[-10:]


@pytest.fixture
def large(path) -> Path:
    """A project near what can be read at all; a hand has put a text into it that the workshop keeps."""
    path.write_text(f'memo = "{"w" * (saves.LARGEST_BYTES - 10_000)}"\n' + path.read_text())
    return path


def test_of_a_large_project_what_is_not_chosen_is_kept_too(large):
    one, other = opened(large), opened(large)
    one.asks = other.asks = True
    answer(one, "body.waist_cm", "80")
    answer(other, "body.waist_cm", "76")
    other.choose("theirs")

    assert on_disk(large).body.waist_cm == 80.0
    assert 76.0 in {v.project.body.waist_cm for v in other.earlier()}


def test_what_would_be_too_large_to_open_again_is_refused_and_the_file_stays(path):
    bare = saves.dumps(pullover(title="Jumper", extra={"memo": ""}))
    there = bare.replace('memo = ""', f'memo = "{"w" * (saves.LARGEST_BYTES - len(bare) - 20)}"')
    path.write_text(there)
    session = opened(path)
    before, longer = session.project, "Jumper for a long day by the sea"
    with pytest.raises(NotUnderstood, match="couldn't be opened again"):
        answer(session, "title", longer)
    assert session.project is before
    session.look()
    assert session.fault == ""
    session.change(replace(before, title=longer))

    assert "couldn't be opened again" in session.fault
    assert len(session.fault.splitlines()) == 1
    assert session.project is before
    assert path.read_text() == there


# ── without a sound file ─────────────────────────────────────────────────────────────────────────────


@pytest.mark.parametrize("held", [GONE, b"", b"x = [", b"format = 3\ntension = 7\n"])
def test_the_last_good_version_comes_back_by_the_command_that_the_message_names(path, held, capsys):
    session = opened(path)
    for waist in ("76", "77"):
        answer(session, "body.waist_cm", waist)
    if held is GONE:
        path.unlink()
    else:
        path.write_bytes(held)

    assert main(["summary", str(path)]) == 1
    told = capsys.readouterr().err
    assert len(told.splitlines()) == 1
    command = shlex.split(told.partition("bring the last good version back: ")[2])
    assert main(["earlier", str(path)]) == 0
    out, err = capsys.readouterr()
    assert [line.split()[0] for line in out.splitlines()] == ["2", "1"]
    assert err == told
    assert main(command[command.index("earlier") :]) == 0
    assert on_disk(path).body.waist_cm == 76.0
    assert on_disk(path) == session.earlier()[0].project
    kept = path.with_name("jumper.toml.broken")
    assert kept.read_bytes() == held if held else not kept.exists()


def test_a_project_whose_file_is_gone_is_found_by_its_name_alone(clean_environment, capsys):
    clean_environment.mkdir()
    path = clean_environment / "jumper.toml"
    saves.save(pullover(), path)
    answer(opened(path), "body.waist_cm", "76")
    path.unlink()

    assert main(["check", "jumper"]) == 1
    assert f"earlier {path} --bring-back 1" in capsys.readouterr().err
    assert main(["earlier", "jumper", "--bring-back", "1"]) == 0
    assert on_disk(path).body.waist_cm is None
    assert main(["earlier", "never-was"]) == 1
    assert "there's no such file. Saved in" in capsys.readouterr().err


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


def test_what_is_told_of_an_answer_is_told_once_it_is_saved_and_once_only(path, tmp_path, monkeypatch):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setenv("LOCALAPPDATA", str(tmp_path / "data"))
    session, write, news = opened(path), files.write, []

    def full_beside(target, text, **options):
        if path.parent in (target.parent, target.parents[2]) and "data" not in target.parts:
            raise files.DiskFull("can't be written: No space left on device")
        write(target, text, **options)

    def answered(waist: int) -> str:
        session.news = ""
        answer(session, "body.waist_cm", str(waist))
        return session.news

    with monkeypatch.context() as full:
        full.setattr(files, "write", full_beside)
        assert [answered(waist) for waist in range(71, 75)] == [""] * 4
        assert session.fault.startswith(f"{path}: can't be written")
    news = [answered(waist) for waist in range(75, 79)]
    assert "because its own disk is full" in news[0]
    assert news[1:] == [""] * 3


@pytest.mark.skipif(os.name == "nt", reason="permissions of Unix")
def test_that_comments_are_removed_is_not_told_where_nothing_is_saved(path):
    path.write_text("# for Ada\n" + path.read_text())
    path.chmod(0o444)
    session = opened(path)
    answer(session, "body.waist_cm", "76")

    assert "is read-only" in session.fault
    assert session.news == ""
    path.chmod(0o644)
    answer(session, "body.waist_cm", "77")
    assert "edited by hand" in session.news


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


def charted(tmp_path: Path) -> Session:
    return Session(Project(stitch_pattern=(StitchPattern("x", "hazel"),)), tmp_path, tmp_path / "hazel.toml")


CHART = "stitch_pattern.x.chart"


def test_a_chart_is_read_from_a_file_beside_the_project_or_at_its_path(tmp_path, monkeypatch):
    elsewhere = tmp_path / "charts"
    elsewhere.mkdir()
    (tmp_path / "beside.txt").write_text("\ufeffk2 p2\r\n\r\np2 k2\x1b\n", encoding="utf-8")
    (elsewhere / "leaf").write_text("abb\nbab\n", encoding="utf-8")
    (elsewhere / "here.CHART").write_text("a a\nbb\n", encoding="utf-8")
    monkeypatch.chdir(elsewhere)
    session = charted(tmp_path)

    for typed, cells in (
        ("beside.txt", ("kkpp", "ppkk")),
        (f" '{elsewhere}/leaf' ", ("abb", "bab")),
        ("here.CHART", ("aa", "bb")),
        ("../beside.txt", ("kkpp", "ppkk")),
        ("../xx", ("..", "xx")),  # a chart all the same
        ("kk.pp", ("kk.pp",)),
    ):
        answer(session, CHART, typed)
        assert opened(tmp_path / "hazel.toml").project.stitch_pattern[0].chart == cells, typed


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("mychart.txt", "mychart.txt: there's no such file"),
        ("~nobody-of-that-name/a.txt", "there's no such file"),
        ("folder.txt", "folder.txt: is a folder, not a file"),
        ("large.txt", "large.txt: is far too large"),
        ("bytes.txt", "bytes.txt: isn't UTF-8 text"),
        ("words.txt", "words.txt: row 1: 'knit' isn't a stitch. Type k or p, or type the row under 'Rows in words'"),
        ("empty.txt", "empty.txt: is empty"),
        ("ba\u202ed.txt", "ba<U+202E>d.txt: there's no such file"),
    ],
)
def test_what_is_no_chart_file_is_told_in_a_line_and_the_chart_stays(tmp_path, typed, says):
    (tmp_path / "folder.txt").mkdir()
    (tmp_path / "large.txt").write_text("k" * 100_000)
    (tmp_path / "bytes.txt").write_bytes(b"k\xff")
    (tmp_path / "words.txt").write_text("knit\npurl")
    (tmp_path / "empty.txt").write_text("")
    session = charted(tmp_path)
    answer(session, CHART, "k2 p2 / p2 k2")

    with pytest.raises(NotUnderstood, match=re.escape(says)) as told:
        answer(session, CHART, typed)

    assert "\n" not in str(told.value)
    kept = opened(tmp_path / "hazel.toml").project
    assert kept.stitch_pattern[0].chart == ("kkpp", "ppkk")
    assert kept.drafts[CHART] == in_one_line(typed)
