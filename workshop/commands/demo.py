"""``workshop demo``: the app on a copy of the demo, or its summary where there is no terminal."""

import argparse

from workshop.commands.open import in_app
from workshop.commands.shared import FINE, Faulty, in_terminal, session_on, started_as
from workshop.commands.summary import print_summary


def run(options: argparse.Namespace) -> int:
    """Show the demo."""
    from workshop import saves

    demo = saves.demo_folder() / "harbour-pullover.toml"
    if not in_terminal():
        print_summary(session_on(demo).plan, workings=False)
        print(f"\nThis is the demo as plain text. To start your own project in a terminal: {started_as()}")
        return FINE
    session = session_on(demo, unread=True)
    session.folder = saves.default_folder()
    session.begin_as("demo " + session.project.title)
    if session.fault:
        raise Faulty(session.fault)
    code = in_app(session)
    print(f"To start your own project: {started_as()}")
    return code
