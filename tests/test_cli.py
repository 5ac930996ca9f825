"""The command line, run as a user runs it."""

import gc
import json
import os
import pty
import re
import select
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path
from threading import Event, Thread

import pytest

from tests.factory import pullover, shaped
from workshop import __version__, saves
from workshop.app.terminal import patient
from workshop.cli import main, parser
from workshop.core.plan import plan
from workshop.core.plan_mark import plan_mark
from workshop.project import Project

ROOT = Path(__file__).resolve().parent.parent
DEMO = str(ROOT / "saves" / "demo" / "harbour-pullover.toml")


def run(*arguments: str, **options) -> subprocess.CompletedProcess[str]:
    """``workshop …`` in another process, without a terminal."""
    return subprocess.run(
        [sys.executable, "-m", "workshop", *arguments],
        capture_output=True, text=True, check=False, cwd=ROOT, stdin=subprocess.DEVNULL, encoding="utf-8",
        **{"env": {**os.environ, "PYTHONIOENCODING": "utf-8"}, **options},
    )  # fmt: skip


@pytest.fixture
def saved(tmp_path) -> Path:
    path = tmp_path / "jumper.toml"
    saves.save(pullover(), path)
    return path


def test_version_and_help():
    assert run("--version").stdout.strip() == f"jumper-workshop {__version__}"
    help_text = run("-h").stdout
    for command in ("open", "demo", "ask", "summary", "print", "check", "list", "tables"):
        assert command in help_text


@pytest.mark.parametrize("arguments", [["knit"], ["summary"], ["print", DEMO], ["summary", "--colour", DEMO]])
def test_wrong_usage_is_one_line_and_code_2(arguments):
    done = run(*arguments)

    assert done.returncode == 2
    assert len(done.stderr.strip().split("\n")) == 1
    assert "See workshop" in done.stderr


@pytest.mark.parametrize("arguments", [[], ["open"], ["open", DEMO]])
def test_without_a_terminal_the_app_names_the_summary(arguments):
    done = run(*arguments)

    assert done.returncode == 1
    assert "workshop summary" in done.stderr
    assert len(done.stderr.strip().split("\n")) == 1


def test_demo_without_a_terminal_is_the_plain_summary():
    done = run("demo")

    assert done.returncode == 0
    assert done.stdout.startswith("Harbour pullover")
    assert re.search(
        r"To start your own project in a terminal: (PYTHONPATH=\S+ )?python\S* -m workshop$", done.stdout.strip()
    )
    assert "\x1b" not in done.stdout


def test_summary_as_text_and_as_json(saved):
    assert "Cast on 102 stitches" in run("summary", str(saved)).stdout
    assert json.loads(run("summary", str(saved), "--json").stdout)["title"] == "Test pullover"
    both = json.loads(run("summary", str(saved), DEMO, "--json").stdout)
    assert [d["title"] for d in both] == ["Test pullover", "Harbour pullover"]
    assert "finished chest ÷ 2" in run("summary", str(saved), "--workings").stdout


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (None, "there's no such file"),
        ("format = 7", "from a newer workshop"),
        ("format = 1\n[body]\nchest_cm = -4\n", "line 3: body.chest_cm: -4 cm looks wrong"),
        ('format = 1\nunits = "km"\n', "line 2: units: is 'km'"),
        ("format 1", "isn't valid TOML"),
    ],
)
@pytest.mark.parametrize("command", ["summary", "check", "ask", "print"])
def test_a_bad_file_is_one_line_on_standard_error_and_code_1(tmp_path, command, content, says):
    path = tmp_path / "x.toml"
    if content is not None:
        path.write_text(content)
    done = run(command, str(path), *(["--to", str(tmp_path / "o.md")] if command == "print" else []))

    assert done.returncode == 1
    assert says in done.stderr
    assert str(path) in done.stderr
    assert len(done.stderr.strip().split("\n")) == 1
    assert "Traceback" not in done.stdout + done.stderr


@pytest.mark.parametrize("ending", ["md", "html", "svg", "json"])
def test_print_writes_each_format(saved, tmp_path, ending):
    out = tmp_path / f"plan.{ending}"
    done = run("print", str(saved), "--to", str(out))

    assert done.returncode == 0
    assert out.stat().st_size > 500


@pytest.mark.parametrize("ending", ["md", "html"])
@pytest.mark.parametrize("sheet", ["filled", "blank"])
def test_print_writes_work_sheets(saved, tmp_path, sheet, ending):
    out = tmp_path / f"sheet.{ending}"

    assert run("print", str(saved), "--to", str(out), "--sheet", sheet).returncode == 0
    assert "Work sheet" in out.read_text(encoding="utf-8")
    assert ("Test pullover" in out.read_text(encoding="utf-8")) == (sheet == "filled")


def test_a_blank_work_sheet_needs_no_project_and_all_else_needs_one(tmp_path):
    out = tmp_path / "class.html"

    assert run("print", "--to", str(out), "--sheet", "blank").returncode == 0
    assert out.stat().st_size > 5000
    for options in ([], ["--sheet", "filled"]):
        refused = run("print", "--to", str(out), *options)
        assert refused.returncode == 2
        assert "name a project FILE" in refused.stderr
    drawing = run("print", DEMO, "--to", str(tmp_path / "x.svg"), "--sheet", "filled")
    assert "should end in .md or .html" in drawing.stderr


def test_print_refuses_other_endings_and_unwritable_places(saved, tmp_path):
    assert "should end in .md, .html, .svg or .json" in run("print", str(saved), "--to", "plan.pdf").stderr
    assert "can't be written" in run("print", str(saved), "--to", str(tmp_path / "no" / "x.md")).stderr


def test_check_is_quiet_about_a_sound_file_and_lists_all_else(saved, tmp_path):
    sound = run("check", str(saved))
    mark = plan_mark(plan(pullover()))
    assert (sound.returncode, sound.stdout) == (0, f"{saved}: complete, nothing to fix\n{saved}: plan mark {mark}\n")

    saves.save(shaped(pullover(), length_cm=26.0, hem=None), tmp_path / "b.toml")
    found = run("check", str(tmp_path / "b.toml"))
    assert found.returncode == 1
    assert "Shape: not answered yet: Hem, cuffs and neckband" in found.stdout
    assert not re.search(r"\b(garment|body|reading)\.", found.stdout)


def test_check_speaks_of_questions_as_the_form_does(tmp_path):
    odd = pullover(body=replace(pullover().body, cross_back_cm=50.0))
    saves.save(odd, tmp_path / "odd.toml")
    saves.save(Project(title="New"), tmp_path / "new.toml")

    assert (
        "Measure: look again [cross-back-over-half-chest]: Cross back: A cross back of 50 cm is more than half"
        in run("check", str(tmp_path / "odd.toml")).stdout
    )
    assert "Fiber: not answered yet: a yarn; How tightly you knit" in run("check", str(tmp_path / "new.toml")).stdout


def test_a_command_leaves_the_search_for_garbage_as_it_was(saved, capsys):
    for command in ("check", "class"):
        gc.disable()
        try:
            main([command, str(saved if command == "check" else saved.parent)])
            assert not gc.isenabled()
        finally:
            gc.enable()


def test_list_names_the_next_step_and_damaged_files(saved):
    (saved.parent / "bad.toml").write_text("format = 9")
    done = run("list", str(saved.parent))

    assert "jumper.toml: Test pullover; plan ready; changed 20" in done.stdout
    assert "from a newer workshop" in done.stdout
    assert done.returncode == 1
    assert "there's no such folder" in run("list", "/nowhere/at/all").stderr
    assert "no saved projects" in run("list").stdout


def test_a_folder_of_that_name_is_not_the_project(clean_environment, capsys):
    (clean_environment / "harbour").mkdir(parents=True)
    saves.save(pullover(title="Harbour"), clean_environment / "h.toml")
    main(["check", "harbour"])
    assert "h.toml: " in "".join(capsys.readouterr())


def test_a_project_is_found_by_the_names_that_the_list_shows(clean_environment):
    for title in ("Rain jumper", "Rain jumper", "Sun top"):
        saves.save(pullover(title=title), saves.new_path(clean_environment, title))
    listed = run("list").stdout

    assert {line.split(":")[0] for line in listed.splitlines()} == {
        "rain-jumper.toml",
        "rain-jumper-2.toml",
        "sun-top.toml",
    }
    for name in ("sun-top.toml", "sun-top", "Sun top", "rain-jumper-2"):
        assert run("summary", name).returncode == 0, name
    assert "several projects have that name. Choose rain-jumper" in run("summary", "Rain jumper").stderr
    for i, name in enumerate(("rain-jumper", "sun-top", "rain-jumper-2")):  # the last changed comes first
        os.utime(clean_environment / f"{name}.toml", (i, i))
    told = "rain-jumper-2, sun-top, rain-jumper"
    assert run("summary", "Moon coat").stderr == (
        f"workshop: Moon coat: there's no such file. Saved in {clean_environment}: {told}\n"
    )
    new = run("ask").stdout
    assert new.startswith(f"This is a new project. Saved in {clean_environment}: {told}. To continue a saved project:")


def test_a_file_that_is_not_there_says_what_is(clean_environment):
    assert run("check", "coat").stderr == "workshop: coat: there's no such file. No project is saved yet\n"
    for i in range(10):
        saves.save(pullover(), clean_environment / f"j{i}.toml")
    assert run("check", "coat").stderr.endswith(" and 2 more\n")
    assert run("ask").stdout.count("Type an answer") == 1


def test_check_names_each_file_also_the_demos_and_what_was_not_understood(tmp_path):
    saves.save(pullover(drafts={"garment.hem_cm": "60 wool"}), tmp_path / "odd.toml")
    found = run("check", DEMO, str(tmp_path / "odd.toml"))

    assert found.stdout.splitlines()[0] == f"{DEMO}: complete, nothing to fix"
    assert f"{tmp_path / 'odd.toml'}: Shape: look again: not understood: Depth of the hem '60 wool'" in found.stdout
    assert found.returncode == 1


def test_tables_and_their_sources():
    assert "needles" in run("tables").stdout
    text = run("tables", "needles").stdout
    assert re.search(r"^ *4 +6 +8 +page read", text, re.MULTILINE)
    assert "Sources" in text
    assert "isn't a table" in run("tables", "chairs").stderr
    ease = run("tables", "ease").stdout
    assert max(map(len, ease.splitlines())) <= 80
    assert re.search(r"standard +standard +older +5 to 10 +2 to 4 +a\b", ease)  # low and high in one cell
    assert "15 or more" in ease
    assert re.search(r"^ +a: page read", ease, re.MULTILINE)
    assert "Children, body measurements" in run("tables", "children").stdout
    assert run("tables", "gauge").stdout.startswith("'gauge' isn't a table, but it's in the glossary. gauge, tension")


def test_a_folder_of_lessons_is_looked_at(tmp_path, clean_environment):
    for name in ("guage", "wash"):
        (tmp_path / f"{name}.md").write_text(f'+++\nstep = "{name}"\ntitle = "x"\n+++\n\nCount.\n', encoding="utf-8")
    wrong, missing = str(tmp_path), str(tmp_path / "nowhere")

    assert (
        "guage.md: isn't the lesson of any step. Lessons are called fibre.md, swatch.md" in run("check", wrong).stdout
    )
    assert "guage.md: isn't the lesson of any step" in run("--lessons", wrong, "list").stderr
    assert run("--lessons", missing, "list").returncode == 1
    assert "nowhere: there's no such folder of lessons" in run("open", "--lessons", missing).stderr
    (tmp_path / "guage.md").unlink()
    assert run("check", wrong).stdout == f"{tmp_path}: nothing to fix. Lessons: wash\n"
    (tmp_path / "wash.md").unlink()
    assert "there are no lessons here. Lessons are called fibre.md" in run("check", wrong).stdout
    assert run("check", str(ROOT / "lessons")).returncode == 0


def test_pipes_colours_and_columns_are_honoured(saved):
    narrow = run("summary", str(saved), env={**os.environ, "COLUMNS": "50", "PYTHONIOENCODING": "utf-8"}).stdout
    dumb = run("summary", str(saved), env={**os.environ, "TERM": "dumb"}).stdout

    assert max(map(len, narrow.split("\n"))) <= 50
    assert "█" not in dumb
    assert "\x1b" not in dumb + narrow


@pytest.mark.parametrize("options", ["", "--json"])
def test_a_reader_of_a_pipe_may_go_early(saved, options):
    line = f"set -o pipefail; {sys.executable} -m workshop summary {saved} {options} | head -1"
    head = subprocess.run(["bash", "-c", line], capture_output=True, text=True, cwd=ROOT, check=False)

    assert head.stdout
    assert head.stderr == ""
    assert head.returncode == 0


def test_an_ascii_terminal_gets_no_traceback(saved):
    done = run("summary", str(saved), env={**os.environ, "PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0", "LC_ALL": "C"})

    assert done.returncode == 0
    assert "Traceback" not in done.stderr
    assert "#####" in done.stdout


def test_every_command_is_one_of_the_parser_and_runs_in_this_process_too(saved, capsys):
    assert main(["check", str(saved)]) == 0
    assert main(["tables", "chairs"]) == 1
    assert "isn't a table" in capsys.readouterr().err
    with pytest.raises(SystemExit) as left:
        parser().parse_args(["nonsense"])
    assert left.value.code == 2


def test_a_teachers_lessons_are_named_on_the_command_line(saved, tmp_path, monkeypatch):
    monkeypatch.setenv("WORKSHOP_LESSONS", "")
    assert main(["--lessons", str(tmp_path), "check", str(saved)]) == 0
    assert os.environ["WORKSHOP_LESSONS"] == str(tmp_path)


# ── in a real terminal ───────────────────────────────────────────────────────────────────────────────


class Terminal:
    """The app in a pseudo terminal of 80 by 24, or in one that does not say its size."""

    def __init__(self, *arguments: str, sized: bool = True) -> None:
        self.pid, self.fd = pty.fork()
        if self.pid == 0:  # pragma: no cover - the child
            os.environ.update(TERM="xterm-256color", **({"COLUMNS": "80", "LINES": "24"} if sized else {}))
            os.chdir(ROOT)
            os.execv(sys.executable, [sys.executable, "-m", "workshop", *arguments])
        self.seen = ""

    def until(self, text: str, seconds: float = 30.0) -> None:
        """Read until a text has been drawn."""
        end = time.monotonic() + seconds
        while text not in re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", self.seen):
            ready, _, _ = select.select([self.fd], [], [], max(0.0, end - time.monotonic()))
            assert ready, f"waited for {text!r} in vain; seen: {self.seen[-400:]!r}"
            self.seen += os.read(self.fd, 65536).decode(errors="replace")

    def type(self, keys: str) -> None:
        """Press keys."""
        self.seen = ""
        os.write(self.fd, keys.encode())

    def exit_code(self) -> int:
        """Wait for the end."""
        while True:
            try:
                if not os.read(self.fd, 65536):
                    break
            except OSError:
                break
        return os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])


@pytest.mark.skipif(os.name != "posix", reason="needs a pseudo terminal")
def test_a_killed_window_loses_no_accepted_answer(clean_environment):
    """Start anew, answer one question, and have the terminal go away."""
    import signal

    terminal = Terminal()
    terminal.until("Start a new project")
    terminal.type("\r")
    terminal.until("Name of the project")
    terminal.type("Storm jumper\r")
    terminal.until("How tightly do you knit?")
    deadline = time.monotonic() + 20
    while not (clean_environment / "storm-jumper.toml").exists():
        assert time.monotonic() < deadline
        select.select([terminal.fd], [], [], 0.05)
    os.kill(terminal.pid, signal.SIGKILL)
    terminal.exit_code()

    assert saves.load(clean_environment / "storm-jumper.toml").title == "Storm jumper"


@pytest.mark.skipif(os.name != "posix", reason="needs a pseudo terminal")
def test_demo_in_a_terminal_is_the_app_on_a_copy(clean_environment):
    before = Path(DEMO).read_bytes()
    terminal = Terminal("demo")
    terminal.until("Harbour pullover")
    terminal.type("\x11")  # ctrl+q

    assert terminal.exit_code() == 0
    assert (clean_environment / "demo-harbour-pullover.toml").exists()
    assert Path(DEMO).read_bytes() == before


@pytest.mark.skipif(os.name != "posix", reason="needs a pseudo terminal")
def test_a_terminal_that_does_not_say_its_size_is_taken_for_one_of_80_by_24(clean_environment, monkeypatch):
    """As a serial line has none, nor a terminal in a container before its window is drawn (common practice, no source)."""
    import fcntl
    import struct
    import termios

    monkeypatch.delenv("COLUMNS", raising=False)
    monkeypatch.delenv("LINES", raising=False)
    terminal = Terminal("demo", sized=False)
    terminal.until("PgUp/PgDn scroll")
    assert struct.unpack("HHHH", fcntl.ioctl(terminal.fd, termios.TIOCGWINSZ, bytes(8)))[:2] == (24, 80)
    terminal.type("\x11")  # ctrl+q

    assert terminal.exit_code() == 0


@pytest.mark.skipif(os.name != "posix", reason="needs a pseudo terminal")
def test_a_name_that_is_none_ends_the_app_with_one_line(clean_environment, tmp_path):
    """Names are looked up after the first paint; the fault is told as by every other command."""
    bad = tmp_path / "bad.toml"
    bad.write_text(Path(DEMO).read_text("utf-8").replace('"drop-shoulder"', '"drop-sholder"'), "utf-8")
    terminal = Terminal("open", str(bad))
    terminal.until("garment.construction: is 'drop-sholder'. It should be one of drop-shoulder,")

    assert terminal.exit_code() == 1


@pytest.mark.skipif(os.name != "posix", reason="reads bytes as a terminal of this kind sends them")
@pytest.mark.parametrize("torn", [b"\xff", b"\xfc is a letter in Latin-1", b"\x1b[M \xff\xff", b"\x1b[1114112u"])
def test_bytes_that_are_no_text_are_passed_over(torn):
    from textual.drivers.linux_driver import LinuxDriver

    ours, theirs = os.pipe()
    driver = object.__new__(patient(LinuxDriver))
    driver.fileno, driver._debug, driver.exit_event, heard = ours, False, Event(), []
    driver.process_message = lambda event: (heard.append(event.key), driver.exit_event.set())
    listening = Thread(target=driver.run_input_thread, daemon=True)
    listening.start()
    os.write(theirs, torn)
    while listening.is_alive() and select.select([ours], [], [], 0)[0]:
        pass  # until it is read
    os.write(theirs, b"k")
    listening.join(10)
    assert heard == ["k"]
