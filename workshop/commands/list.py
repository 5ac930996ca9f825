"""``workshop list``: the saved projects, and the next step of each."""

import argparse
import sys

from workshop.commands.shared import FAULT, FINE, Faulty, way_back
from workshop.visible import in_one_line, shown_path


def run(options: argparse.Namespace) -> int:
    """List the projects of a folder."""
    from workshop import files, saves
    from workshop.folder import projects
    from workshop.planned import plan
    from workshop.progress import next_step, progress
    from workshop.words.lines import wrapped
    from workshop.words.titles import title_of

    folder = options.folder or saves.default_folder()
    if options.folder is not None and not folder.is_dir():
        raise Faulty(f"{folder}: there's no such folder")
    found = tuple(projects(folder))
    columns = _columns()
    if not found:
        print(f"{shown_path(folder)}: no saved projects")
    for saved in found:
        if saved.project is None:
            print(in_one_line(f"{saved.title}: {saved.fault}" if saved.title else saved.fault) + way_back(saved.path))
            continue
        steps = progress(plan(saved.project))
        upcoming = next_step(steps)
        ready = upcoming.name == "summary" and upcoming.state == "done"
        terms = saved.project.terms
        again = ", ".join(title_of(s.name, terms) for s in steps if s.state == "look again")
        changed = files.changed(saved.path)
        text = f"{saved.name}: {saved.project.title or 'no name yet'}; "
        text += "plan ready" if ready else f"next: {title_of(upcoming.name, terms)}"
        text += (f"; look again: {again}" if again else "") + "; changed "
        text += f"{changed:%Y-%m-%d %H:%M}" if changed else "at an unknown time"
        print("\n".join(wrapped(text, columns, hang=2)) if columns else text)
    return FAULT if any(s.project is None for s in found) else FINE


def _columns() -> int:
    """Columns of the terminal; 0 for a pipe: programs get one line each."""
    if not sys.stdout.isatty():
        return 0
    from shutil import get_terminal_size

    return get_terminal_size().columns
