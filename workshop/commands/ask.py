"""``workshop ask``: the plain mode."""

import argparse

from workshop.commands.shared import session_on, started_as, there_are
from workshop.visible import in_one_line


def run(options: argparse.Namespace) -> int:
    """Ask the questions line by line."""
    from workshop import ask, saves
    from workshop.project import Project
    from workshop.session import Session

    session = session_on(options.file) if options.file else Session(Project(), saves.default_folder())
    others = "" if options.file else there_are()
    if others:
        print(f"This is a new project{others}. To continue a saved project: {started_as()} ask NAME")
    code = ask.run(session, command=started_as())
    if session.news:
        print(in_one_line(session.news))
    return code
