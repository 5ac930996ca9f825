"""The front door. Imports nothing heavy before it knows which command."""

import argparse
import contextlib
import gc
import io
import os
import sys
from collections.abc import Iterator, Sequence
from importlib import import_module
from pathlib import Path

from workshop.commands.shared import FAULT, FINE, Faulty, is_folder
from workshop.usage import parser
from workshop.visible import shown_path

MODULES = {None: "open", "class": "whole_class"}
"""Modules of ``workshop.commands`` that are not called as their command is."""

OF_MANY_PLANS = ("class", "sizes")
"""Commands that keep all their plans until they have printed: looking for garbage among them is a sixth of the time."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command. Gives the exit code: 0 fine, 1 a fault in a file or plan, 2 wrong usage."""
    known = parser()
    options = known.parse_args(arguments)
    if options.command == "print" and options.file is None and options.sheet != "blank":
        known.error("print: name a project FILE. Only --sheet blank works without one")
    if options.command == "class" and options.json and (options.to or options.hide_names):
        known.error("class: --json is for programs. Leave out --to and --hide-names")
    lessons_at = options.lessons or getattr(options, "lessons_after", None)
    if lessons_at is not None:
        os.environ["WORKSHOP_LESSONS"] = str(lessons_at)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # a sign that the terminal has not is no reason to say nothing
            stream.reconfigure(errors="replace")
    try:
        _look_at_lessons(options)
        command = import_module(f"workshop.commands.{MODULES.get(options.command, options.command)}")
        with _garbage_left() if options.command in OF_MANY_PLANS else contextlib.nullcontext():
            code: int = command.run(options)
        sys.stdout.flush()
        return code
    except Faulty as fault:
        print(f"workshop: {fault}", file=sys.stderr)
        return FAULT
    except BrokenPipeError:
        # the reader of a pipe has gone: nobody is left to tell
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FINE
    except OSError as error:
        # of files each is told where it is read or written; what is left is where the text goes to
        what = shown_path(error.filename) if error.filename else "the text couldn't be written"
        print(f"workshop: {what}: {error.strerror or error}", file=sys.stderr)
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FAULT
    except KeyboardInterrupt:
        return FAULT


@contextlib.contextmanager
def _garbage_left() -> Iterator[None]:
    """Nobody looks for garbage meanwhile."""
    was_looked_for = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_looked_for:
            gc.enable()


def _look_at_lessons(options: argparse.Namespace) -> None:
    """Say what is wrong with a teacher's folder before it is needed. Raises Faulty for one that is not there.

    A class has its own in its folder, so that they are named once.
    """
    place: Path | None = getattr(options, "folder", None) or getattr(options, "file", None)
    if not os.environ.get("WORKSHOP_LESSONS"):
        if not isinstance(place, Path) or not is_folder(place / "lessons"):
            return
        os.environ["WORKSHOP_LESSONS"] = str(place / "lessons")
    from workshop import lessons

    missing = lessons.missing_folder()
    if missing:
        raise Faulty(missing)
    for line in lessons.strangers(lessons.folders()[0]):
        print(f"workshop: {line}", file=sys.stderr)
