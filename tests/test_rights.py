"""Files that a knitter may not write or see, and a disk that is full: as they are, not as root finds them."""

import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from shutil import which

import pytest

from tests.factory import pullover
from workshop import saves

ROOT = Path(__file__).parent.parent
NOBODY = 65534

IN_A_CHILD = """
import contextlib, io, os, sys
from pathlib import Path
from workshop import saves, versions
from workshop.cli import main
from workshop.questions.steps import MODULES, fields
from workshop.session import opened

def answer(session, key, text):
    session.answer(next(f for s in MODULES for f in fields(s, session.project) if f.key == key), text)

def run(*words):
    with contextlib.redirect_stderr(io.StringIO()) as told, contextlib.redirect_stdout(io.StringIO()):
        main(list(words))
    return told.getvalue()

here = Path(sys.argv[1])
saves.demo_folder = lambda: here / "demo"  # the workshop itself may be where another user can't look
"""


def child(text: str, folder: Path, *before: str) -> list[str]:
    """Lines that a text of Python prints in a process of its own."""
    paths = os.pathsep.join([str(ROOT), *sys.path])
    done = subprocess.run(
        [*before, sys.executable, "-c", IN_A_CHILD + text, str(folder)],
        capture_output=True,
        text=True,
        timeout=120,
        env={
            **os.environ,
            "PYTHONPATH": paths,
            "XDG_DATA_HOME": str(folder / "data"),
            "HOME": str(folder),
            "WORKSHOP_SAVES": str(folder),
        },
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


@pytest.fixture
def folder() -> Iterator[Path]:
    """A folder that every user of the machine may reach; those of pytest are their owner's alone."""
    with tempfile.TemporaryDirectory() as name:
        Path(name).chmod(0o755)
        yield Path(name)


AS_ANOTHER = """
session = opened(here / "warm.toml")  # what is imported late is imported while it can be read
answer(session, "body.waist_cm", "70")
session.earlier()
for words in (["summary"], ["check"], ["earlier"], ["knit"], ["list"]):
    run(*words, str(here / "warm.toml" if words != ["list"] else here))
os.seteuid(65534)
"""


@pytest.mark.skipif(os.name == "nt" or os.geteuid() != 0, reason="only root can become another user")
def test_what_another_user_may_not_write_or_see_stays_and_is_said(folder):
    for name in ("warm", "mine/theirs", "locked/jumper", "shut/jumper"):
        path = folder / f"{name}.toml"
        path.parent.mkdir(exist_ok=True)
        saves.save(pullover(), path)
        path.chmod(0o644)
    for name in ("mine", "locked/jumper.toml"):
        os.chown(folder / name, NOBODY, NOBODY)
    (folder / "locked").chmod(0o555)
    (folder / "shut").chmod(0o700)
    before = {p: (p.read_bytes(), p.stat().st_uid, p.stat().st_ino) for p in folder.glob("*/*.toml")}
    told = child(
        AS_ANOTHER
        + """
for path in (here / "mine/theirs.toml", here / "locked/jumper.toml"):
    session = opened(path)
    answer(session, "body.waist_cm", "76")
    print(session.fault)
    print(session.news)
for words in (["summary"], ["check"], ["earlier"], ["knit"], ["list"]):
    print(run(*words, str(here / "shut" / "" if words == ["list"] else here / "shut/jumper.toml")).strip())
""",
        folder,
    )

    assert {p: (p.read_bytes(), p.stat().st_uid, p.stat().st_ino) for p in before} == before
    theirs, locked = folder / "mine/theirs.toml", folder / "locked/jumper.toml"
    assert told[:2] == [f"{theirs}: is read-only, so it's left as it is", ""]
    assert told[2:4] == [f"{locked}: can't be written: Permission denied", ""]
    shut = folder / "shut/jumper.toml"
    assert told[4:8] == [f"workshop: {shut}: can't be read: Permission denied"] * 4
    assert len(told) == 9


@pytest.mark.parametrize("command", ["summary", "check", "earlier", "knit"])
def test_a_name_that_no_disk_takes_is_named(tmp_path, capsys, command):
    from workshop.cli import main

    path = tmp_path / f"{'n' * 300}.toml"
    assert main([command, str(path)]) == 1
    told = capsys.readouterr().err
    assert told.startswith(f"workshop: {path}: ")
    assert len(told.splitlines()) == 1


@pytest.mark.skipif(sys.platform != "linux" or os.geteuid() != 0 or which("unshare") is None, reason="needs a mount")
def test_on_a_full_disk_the_file_stays_whole_and_is_saved_once_there_is_room(folder):
    small = ("unshare", "-m", "sh", "-c", 'mount -t tmpfs -o size=40k small "$0/small" && exec "$@"', str(folder))
    (folder / "small").mkdir()
    if subprocess.run([*small, "true"], capture_output=True, check=False).returncode:
        pytest.skip("no file system can be mounted here")
    saves.save(pullover(), folder / "jumper.toml")
    told = child(
        """
path = here / "small/jumper.toml"
path.write_bytes((here / "jumper.toml").read_bytes())
session = opened(path)
answer(session, "body.waist_cm", "70")
big = here / "small/big"
with contextlib.suppress(OSError), big.open("wb", buffering=0) as file:
    while True:
        file.write(b"w" * 512)
for kept in (here / "small").rglob(".earlier/*/*"):
    kept.unlink()
    with contextlib.suppress(OSError), big.open("ab", buffering=0) as file:
        while True:
            file.write(b"w" * 512)
for waist in ("71", "72", "73"):
    answer(session, "body.waist_cm", waist)
    print(saves.load(path).body.waist_cm, session.fault, session.news)
big.unlink()
session.save()
print(saves.load(path).body.waist_cm, session.fault, [v.project.body.waist_cm for v in session.earlier()])
""",
        folder,
        *small,
    )

    path = folder / "small/jumper.toml"
    assert told[:3] == [f"70.0 {path}: can't be written: No space left on device "] * 3
    assert told[3] == "73.0  [70.0]"
