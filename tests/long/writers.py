"""Windows that are killed, and windows on one file, at moments left to chance: no answer that was taken is lost."""

import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
from collections.abc import Callable
from contextlib import suppress
from functools import partial
from pathlib import Path
from time import sleep

from tests.factory import pullover, shaped
from workshop import saves
from workshop.session import opened

ROOT = Path(__file__).parents[2]

TAKES = """
import sys
from pathlib import Path
from workshop.session import opened
from workshop.questions.steps import MODULES, fields
session = opened(Path(sys.argv[1]))
key, numbers = sys.argv[2], range(int(sys.argv[3]), int(sys.argv[4]))
asked = next(f for s in MODULES for f in fields(s, session.project) if f.key == key)
print("ready", flush=True)
sys.stdin.readline()
for number in numbers:
    session.answer(asked, str(number))
    print(number if not session.fault else session.fault, flush=True)
"""
"""A window that answers one question over and over, and says so each time that an answer is taken."""


def by_session(path: Path, key: str, numbers: tuple[int, int], takes: str = TAKES) -> "subprocess.Popen[str]":
    """A window in a process of its own; it waits for a line before it begins."""
    window = subprocess.Popen(
        [sys.executable, "-c", takes, str(path), key, *map(str, numbers)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        cwd=ROOT,
        env={**os.environ, "PYTHONPATH": os.pathsep.join([str(ROOT), *sys.path])},
    )
    assert window.stdout is not None
    assert window.stdout.readline() == "ready\n"
    return window


ASKS = """
import re, sys
from pathlib import Path
from workshop import ask
from workshop.session import opened
class Hands:
    text, begun, numbers, last = "", False, iter(range(int(sys.argv[3]), int(sys.argv[4]))), None
    def write(self, text):
        self.text = (self.text + text)[-300:]
    def flush(self):
        pass
    def readline(self):
        if "Your answer: " in self.text and self.last is not None:
            print(self.last, flush=True)
            self.last = None
        asked, self.text = self.text, ""
        if re.search(r"Length, shoulder to hem[^:]*: *$", asked):
            if not self.begun:
                print("ready", flush=True)
                sys.stdin.readline()
                self.begun = True
            self.last = next(self.numbers, None)
            return "." if self.last is None else f"{self.last}\\n"
        return "<\\n" if self.begun else "\\n"
hands = Hands()
ask.run(opened(Path(sys.argv[1])), hands, hands)
"""
"""The plain mode, whose hands answer one question and go back to it over and over."""

APP = """
import asyncio, os, pty, sys, threading
from pathlib import Path
from workshop.app.app import WorkshopApp
from workshop.session import opened
said, (ours, theirs) = os.dup(1), pty.openpty()
waits = os.dup(0)
for place in (0, 1, 2):
    os.dup2(theirs, place)
import fcntl, struct, termios
fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
sys.__stdin__ = sys.stdin = open(0)
sys.__stdout__ = sys.stdout = open(1, "w")
sys.__stderr__ = sys.stderr = open(2, "w")
app = WorkshopApp(opened(Path(sys.argv[1])))
app._first.step, app._first._at = "shape", sys.argv[2]
def tell(text):
    os.write(said, f"{text}\\n".encode())
def hands():
    threading.Thread(target=lambda: [None for _ in iter(lambda: os.read(ours, 65536), b"")], daemon=True).start()
    while app._held is not None:
        threading.Event().wait(0.01)
    tell("ready")
    os.read(waits, 1)
    for number in range(int(sys.argv[3]), int(sys.argv[4])):
        os.write(ours, f"{number}\\r\\x1b[A".encode())
        while app.session.project.garment.length_cm != number or app.session.fault:
            threading.Event().wait(0.001)
        held = app.session._disk
        while held is None or held.project.garment.length_cm != number:
            threading.Event().wait(0.001)
            held = app.session._disk
        tell(number)
    app.call_from_thread(app.exit)
threading.Thread(target=hands, daemon=True).start()
app.run()
"""
"""The app in a terminal of its own, whose hands type an answer, Enter, and the arrow back to the question."""

Writer = Callable[[Path, str, tuple[int, int]], "subprocess.Popen[str]"]
WRITERS: dict[str, Writer] = {
    "session": by_session,
    "ask": partial(by_session, takes=ASKS),
    "app": partial(by_session, takes=APP),
}
"""What answers: a further one is a line here. Each says every answer that it has taken on a line of its own."""

LENGTH, WAIST = "garment.length_cm", "body.waist_cm"
LEAST, MOST = 30, 130


def _begin(window: "subprocess.Popen[str]") -> None:
    assert window.stdin is not None
    window.stdin.write("\n")
    window.stdin.flush()


def _end(window: "subprocess.Popen[str]") -> list[str]:
    assert window.stdout is not None
    said = window.stdout.read().split("\n")[:-1]
    window.wait()
    for pipe in (window.stdin, window.stdout):
        with suppress(BrokenPipeError):
            pipe.close() if pipe else None
    return said


def kills(times: int, seed: int) -> tuple[int, list[str]]:
    """Kill a window while it takes answers. Gives the answers taken and what was wrong afterwards."""
    chance, taken, faults = random.Random(seed), 0, []
    for number in range(times):
        with tempfile.TemporaryDirectory() as name:
            path = Path(name) / "jumper.toml"
            path.write_text(saves.dumps(pullover(last_step="measure")))
            window = list(WRITERS.values())[number % len(WRITERS)](path, LENGTH, (LEAST, MOST))
            _begin(window)
            assert window.stdout is not None
            said = [window.stdout.readline().strip() for _ in range(chance.randrange(10))]
            sleep(chance.uniform(0.0, 0.02))
            os.kill(window.pid, signal.SIGKILL)
            said += _end(window)
            taken += len(said)
            last = float(said[-1]) if said else 60.0
            try:
                held = opened(path).project.garment.length_cm
            except saves.BadSave as error:
                faults.append(f"{number}: {error}")
                continue
            if held not in (last, last + 1 if said else LEAST):  # the next may be on the disk before it is said
                faults.append(f"{number}: {held} is there, {last} was taken")
    return taken, faults


def two(times: int, seed: int, answers: int = 12) -> tuple[int, list[str]]:
    """Two windows answer different questions of one file at the same time, then the same question.

    Gives the answers taken and what was lost.
    """
    chance, taken, faults = random.Random(seed), 0, []
    for number in range(times):
        with tempfile.TemporaryDirectory() as name:
            path = Path(name) / "jumper.toml"
            path.write_text(saves.dumps(shaped(pullover(), length_cm=float(MOST))))  # which nobody answers
            same = number % 3 == 2
            keys = (LENGTH, LENGTH) if same else (LENGTH, WAIST)
            starts = [chance.randrange(40, 60), chance.randrange(70, 100)]
            windows = [by_session(path, k, (s, s + answers)) for k, s in zip(keys, starts, strict=True)]
            for window in windows:
                _begin(window)
                sleep(chance.uniform(0, 0.02))
            said = [_end(window) for window in windows]
            taken += sum(map(len, said))
            faults += [f"{number}: {line}" for line in (*said[0], *said[1]) if not line.isdigit()]
            there = [saves.load(p) for p in Path(name).glob("*.toml")]
            if same:
                held = {p.garment.length_cm for p in there}
                lost = [s + answers - 1 for s in starts if s + answers - 1 not in held]
            else:
                only = there[0]
                lost = [
                    key
                    for key, now, s in zip(keys, (only.garment.length_cm, only.body.waist_cm), starts, strict=True)
                    if now != s + answers - 1
                ]
                lost += ["a second file"] if len(there) > 1 else []
            faults += [f"{number}: lost {lost}"] if lost else []
            shutil.rmtree(Path(name) / ".earlier", ignore_errors=True)
    return taken, faults
