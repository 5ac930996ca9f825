"""``workshop earlier``: the versions of a project, and the way back to one of them."""

import argparse
import sys
from collections.abc import Sequence
from typing import TYPE_CHECKING

from workshop.commands.shared import FINE, Faulty, file_meant, session_on, to_bring_back, with_versions
from workshop.visible import in_one_line, shown_path

if TYPE_CHECKING:
    from workshop.session import Session
    from workshop.versions import Version


def run(options: argparse.Namespace) -> int:
    """The earlier versions of a project, or the way back to one of them."""
    from workshop.questions.steps import asked_as

    try:
        session = session_on(options.file)
        found = session.earlier()
    except Faulty as fault:
        known = with_versions(file_meant(options.file))
        if known is None:
            raise
        if options.bring_back is None:
            print(f"workshop: {fault}", file=sys.stderr)
        session, found = known
    name = shown_path(options.file)
    if options.bring_back is not None:
        return _brought_back(session, found, options.bring_back, name)
    if not found:
        print(f"{name}: no earlier versions yet. The first version is kept when an answer changes")
    for version in found:
        labels = list(dict.fromkeys(asked_as(key, version.project) for key in version.changed))
        more = f" and {len(labels) - MOST_CHANGED} more" if len(labels) > MOST_CHANGED else ""
        if labels:
            changed = f"before {'; '.join(labels[:MOST_CHANGED])}{more}"
        else:
            newest = session.lost and version is found[0]
            changed = "the last good version" if newest else "only the layout of the file changed since"
        print(in_one_line(f"{version.number:3}  {version.when:%Y-%m-%d %H:%M}  {changed}"))
    return FINE


MOST_CHANGED = 4
"""Answers that are named of one version."""


def _brought_back(session: "Session", found: "Sequence[Version]", number: int, name: str) -> int:
    """Go back to an earlier version. Raises Faulty where there is none of that number, or it can't be saved."""
    version = next((v for v in found if v.number == number), None)
    if version is None:
        there = f"There are {', '.join(str(v.number) for v in reversed(found))}" if found else "There are none yet"
        raise Faulty(f"{name}: there's no earlier version {number}. {there}")
    before, lost = session.path, session.lost
    session.bring_back(version)
    if session.fault or session.path is None:
        raise Faulty(session.fault)
    if session.news:
        print(in_one_line(session.news))
    if session.path != before:  # theirs is of a newer workshop, and stays
        name = shown_path(session.path)
    back = f"{name} is back as it was on {version.when:%Y-%m-%d at %H:%M}."
    newest = next(iter(session.earlier()), None)
    if newest is not None and newest.path != version.path and not lost:
        back += f" To undo that: {to_bring_back(session.path, newest.number)}"
    print(back)
    return FINE
