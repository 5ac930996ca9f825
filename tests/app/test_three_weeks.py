"""Three weeks of one jumper, through the plain mode, commands and the app, with windows killed in between."""

import os
import signal
from datetime import date, timedelta

from tests.app.helpers import screen_text, settle
from tests.long.writers import by_session
from workshop import saves
from workshop.app.app import WorkshopApp
from workshop.cli import main
from workshop.session import opened

DEMO = saves.demo_folder() / "harbour-pullover.toml"
FIRST = date(2026, 3, 2)

KNITS = """
import io, sys
from pathlib import Path
from workshop import ask
from workshop.session import opened
class Hands(io.StringIO):
    begun = False
    numbers = iter(range(int(sys.argv[3]), int(sys.argv[4])))
    def readline(self):
        if not self.begun:
            self.begun = True
            return "knit\\n"
        number = next(self.numbers)
        print("ready" if number == int(sys.argv[3]) else number - 1, flush=True)
        if number == int(sys.argv[3]):
            sys.stdin.readline()
        return f"row {number}\\n"
hands = Hands()
ask.run(opened(Path(sys.argv[1])), hands, hands)
"""
"""The plain mode, whose hands note one row after the other; each is said once it was taken."""


def killed_after(path, row, rows):
    """Rows that were taken in a window that is killed while it takes the next."""
    window = by_session(path, "", (row + 1, row + 40), takes=KNITS)
    window.stdin.write("\n")
    window.stdin.flush()
    said = [int(window.stdout.readline()) for _ in range(rows)]
    os.kill(window.pid, signal.SIGKILL)
    said += [int(line) for line in window.stdout.read().split()]
    window.wait()
    window.stdin.close()
    window.stdout.close()
    return said[-1]


def row_of(path, name="back"):
    return next(k.rows for k in saves.load(path).knitting if k.piece == name)


async def test_three_weeks_of_one_jumper(tmp_path, monkeypatch):
    path = tmp_path / "jumper.toml"
    path.write_bytes(DEMO.read_bytes())

    def day(number):
        moment = FIRST + timedelta(days=number)
        monkeypatch.setenv("SOURCE_DATE_EPOCH", str((moment - date(1970, 1, 1)).days * 86400))

    for week in range(3):
        day(7 * week)
        assert main(["knit", str(path), "--row", str(30 * week + 10)]) == 0
        last = killed_after(path, 30 * week + 10, 4)
        assert row_of(path) in (last, last + 1)  # the next may be on the disk before it is said

        day(7 * week + 3)
        at = row_of(path)
        app = WorkshopApp(opened(path), tmp_path, knit=True)
        async with app.run_test(size=(80, 24)) as pilot:
            await settle(pilot)
            assert f"Back: {at} of" in screen_text(app)
            await pilot.press("space", "space", "space", "backspace", "n", *"tired", "enter")
            await settle(pilot)
            assert main(["knit", str(path), "--done", "2"]) == 0  # another window at the same time
            app.screen.look()
            await settle(pilot)
            assert f"Back: {at + 4} of" in screen_text(app)
        assert row_of(path) == at + 4

    log = saves.load(path).log
    assert len([e for e in log if "tired" in e.text]) == 3
    assert len({e.on for e in log if e.row is not None}) == 6
