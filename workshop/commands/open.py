"""``workshop`` and ``workshop open``: the app."""

import argparse
import os
import shlex
import sys
from pathlib import Path
from typing import TYPE_CHECKING

from workshop.commands.shared import FINE, Faulty, in_terminal, is_folder, session_on, started_as
from workshop.visible import in_one_line, shown_path

if TYPE_CHECKING:
    from workshop.session import Session


def run(options: argparse.Namespace) -> int:
    """Open the app, on a project or a folder of them."""
    file: Path | None = getattr(options, "file", None)
    if not in_terminal():
        raise Faulty("the app needs a terminal. For text, use: workshop summary FILE, or workshop ask")
    if file is not None and is_folder(file):
        return in_app(None, file)
    return in_app(session_on(file, unread=True) if file is not None else None, read_from=file)


def in_app(
    session: "Session | None", folder: Path | None = None, read_from: Path | None = None, *, knit: bool = False
) -> int:
    """The app, and how to come back to where the knitter left. Raises Faulty for an answer that cannot be."""
    from workshop.app.app import WorkshopApp

    _give_it_a_size()
    app = WorkshopApp(session, folder, knit=knit)
    code = app.go()
    if read_from is not None and app.desk.refused:
        session_on(read_from)  # read as by every other command, which says what is wrong and in which line
    if app.session.news:
        print(in_one_line(app.session.news))
    if code == FINE and app.session.path is not None:
        again = "knit" if knit else "open"
        print(f"To continue: {started_as()} {again} {shlex.quote(shown_path(app.session.path))}")
    return code


def _give_it_a_size() -> None:
    """A terminal that does not say how large it is gets the usual size; the toolkit would lay it out without end."""
    if os.name != "posix" or all(os.get_terminal_size(sys.stdout.fileno())):
        return
    from fcntl import ioctl
    from struct import pack
    from termios import TIOCSWINSZ

    ioctl(sys.stdout.fileno(), TIOCSWINSZ, pack("HHHH", 24, 80, 0, 0))
