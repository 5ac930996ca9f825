"""A real terminal of 80 by 24 in which a command runs, and a clock on what it writes."""

import fcntl
import os
import pty
import re
import select
import struct
import subprocess
import sys
import tempfile
import termios
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
QUIET_S = 0.45
"""A screen is done when nothing came for so long; a cursor blinks every half second."""
GIVEN_UP_S = 30.0
COMPILED = {"PYTHONDONTWRITEBYTECODE": "", "PYTHONPYCACHEPREFIX": tempfile.mkdtemp(prefix="workshop-benchmarks-")}
"""A knitter's machine runs compiled code from the second start on, so both sides of each pair do."""
ESCAPES = re.compile(r"\x1b(?:\[[0-?]*[ -/]*[@-~]|\][^\x07\x1b]*(?:\x07|\x1b\\)|[@-Z\\-_]|[ -/][0-~])")


class Terminal:
    """One command in a terminal. Seconds are counted from its start, or from the last key."""

    def __init__(self, *arguments: str, **environment: str) -> None:
        self._master, slave = pty.openpty()
        fcntl.ioctl(slave, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
        shell = {k: v for k, v in os.environ.items() if k not in ("NO_COLOR", "COLUMNS", "LINES")}
        shell |= COMPILED | {"TERM": "xterm-256color", "COLORTERM": "truecolor", "PYTHONPATH": str(ROOT), **environment}
        self._since = time.perf_counter()
        self._process = subprocess.Popen(
            [sys.executable, *arguments], stdin=slave, stdout=slave, stderr=slave, cwd=ROOT, env=shell, close_fds=True
        )
        os.close(slave)
        self.written = 0
        """Bytes since the start, or since the last key."""
        self._text = ""

    def _more(self, seconds: float) -> bool:
        """Read what comes within so long; whether anything came."""
        if not select.select([self._master], [], [], max(0.0, seconds))[0]:
            return False
        try:
            found = os.read(self._master, 1 << 16)
        except OSError:  # the command has left
            return False
        self.written += len(found)
        self._text += found.decode("utf-8", "replace")
        return bool(found)

    def until(self, *wanted: str) -> float:
        """Seconds until all these texts have been written. Raises TimeoutError."""
        while True:
            plain = ESCAPES.sub("", self._text)
            if all(text in plain for text in wanted):
                return time.perf_counter() - self._since
            if not self._more(GIVEN_UP_S):
                absent = [text for text in wanted if text not in plain]
                raise TimeoutError(f"never came: {absent}\n{plain[-2000:]}")

    def until_quiet(self) -> float:
        """Seconds until the last byte."""
        last = 0.0
        while self._more(QUIET_S if last else GIVEN_UP_S):
            last = time.perf_counter() - self._since
        return last

    def press(self, keys: str) -> None:
        """Type; the clock begins anew."""
        self.written, self._text, self._since = 0, "", time.perf_counter()
        os.write(self._master, keys.encode())

    def leave(self) -> int:
        """Ctrl+Q. Gives the exit code."""
        self.press("\x11")
        while self._process.poll() is None:
            self._more(0.05)
            if time.perf_counter() - self._since > GIVEN_UP_S:
                self._process.kill()
        os.close(self._master)
        return self._process.wait()
