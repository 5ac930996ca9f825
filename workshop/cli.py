"""The front door: commands. Imports nothing heavy before it knows which command."""

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from workshop import __version__

FINE, FAULT, USAGE = 0, 1, 2


class Faulty(Exception):
    """A fault to be told in one line on standard error, with exit code 1."""


class Parser(argparse.ArgumentParser):
    """Wrong usage is one line, too."""

    def error(self, message: str) -> NoReturn:
        """Print one line and leave with code 2."""
        self.exit(USAGE, f"{self.prog}: {message}; see {self.prog} -h\n")


def parser() -> Parser:
    """The command line."""
    top = Parser(prog="workshop", description="From a yarn to a jumper plan that you can knit from, step by step.")
    top.add_argument("--version", action="version", version=f"jumper-workshop {__version__}")
    top.add_argument(
        "--lessons", type=Path, metavar="FOLDER", help="a teacher's folder of lessons (also WORKSHOP_LESSONS)"
    )
    commands = top.add_subparsers(dest="command", metavar="COMMAND", parser_class=Parser)

    one = commands.add_parser("open", help="the app: start anew, or go on with a saved project")
    one.add_argument("file", nargs="?", type=Path)
    commands.add_parser("demo", help="the app on a copy of the demo project; without a terminal its summary")
    one = commands.add_parser("ask", help="the same questions line by line")
    one.add_argument("file", nargs="?", type=Path)
    one = commands.add_parser("summary", help="the final summary as text, or as JSON for programs")
    one.add_argument("file", type=Path, nargs="+")
    one.add_argument("--json", action="store_true", help="machine-readable; several files give a list")
    one.add_argument("--workings", action="store_true", help="with the working of every number")
    one = commands.add_parser("print", help="the finished plan as a file")
    one.add_argument("file", type=Path)
    one.add_argument("--to", type=Path, required=True, metavar="OUT.{md,html,svg,json}")
    one = commands.add_parser("check", help="is a file sound, what is missing, what does not agree")
    one.add_argument("file", type=Path, nargs="+")
    one = commands.add_parser("list", help="saved projects, their next step, what needs another look")
    one.add_argument("folder", nargs="?", type=Path)
    one = commands.add_parser("tables", help="the published tables and their sources")
    one.add_argument("name", nargs="?")
    return top


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command. Gives the exit code: 0 fine, 1 a fault in a file or plan, 2 wrong usage."""
    options = parser().parse_args(arguments)
    if options.lessons is not None:
        os.environ["WORKSHOP_LESSONS"] = str(options.lessons)
    run = {
        None: _open,
        "open": _open,
        "demo": _demo,
        "ask": _ask,
        "summary": _summary,
        "print": _print,
        "check": _check,
        "list": _list,
        "tables": _tables,
    }[options.command]
    try:
        code = run(options)
        sys.stdout.flush()
        return code
    except Faulty as fault:
        print(f"workshop: {fault}", file=sys.stderr)
        return FAULT
    except BrokenPipeError:
        # the reader of a pipe has gone: nobody is left to tell
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return FINE
    except KeyboardInterrupt:
        return FAULT


def _in_terminal() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty()


def _session(path: Path):  # type: ignore[no-untyped-def]
    """A session on a file that is sound in every answer. Raises Faulty."""
    from workshop import saves
    from workshop.questions.steps import faults
    from workshop.session import opened

    try:
        session = opened(path)
    except saves.BadSave as error:
        raise Faulty(str(error)) from None
    for key, what in faults(session.project):
        line = saves.line_of(path.read_text(encoding="utf-8-sig"), key)
        raise Faulty(str(saves.BadSave(path, what, key, line)))
    return session


def _open(options: argparse.Namespace) -> int:
    file: Path | None = getattr(options, "file", None)
    if not _in_terminal():
        raise Faulty("the app needs a terminal; for text use: workshop summary FILE, or workshop ask")
    session = _session(file) if file is not None else None
    from workshop.app.app import WorkshopApp

    return WorkshopApp(session).go()


def _demo(options: argparse.Namespace) -> int:
    from workshop import saves

    demo = saves.demo_folder() / "harbour-pullover.toml"
    if not _in_terminal():
        return _print_summary(_session(demo).plan, workings=False)
    session = _session(demo)
    session.folder = saves.default_folder()
    session.path = saves.new_path(session.folder, "demo " + session.project.title)
    session.save()
    if session.fault:
        raise Faulty(session.fault)
    from workshop.app.app import WorkshopApp

    return WorkshopApp(session).go()


def _ask(options: argparse.Namespace) -> int:
    from workshop import ask, saves
    from workshop.project import Project
    from workshop.session import Session

    session = _session(options.file) if options.file else Session(Project(), saves.default_folder())
    return ask.run(session)


def _summary(options: argparse.Namespace) -> int:
    plans = [_session(path).plan for path in options.file]
    if options.json:
        from workshop.prints import machine

        texts = [machine.dumps(p) for p in plans]
        print(texts[0] if len(texts) == 1 else "[\n" + ",\n".join(texts) + "\n]")
        return FINE
    for plan in plans:
        _print_summary(plan, workings=options.workings)
    return FINE


def _print_summary(plan, *, workings: bool) -> int:  # type: ignore[no-untyped-def]
    from workshop.prints.document import summary
    from workshop.prints.terminal import console_for, only_ascii, print_document

    print_document(summary(plan, workings=workings, plain=only_ascii()), console_for())
    return FINE


def _print(options: argparse.Namespace) -> int:
    ending = options.to.suffix.lower()
    if ending not in (".md", ".html", ".svg", ".json"):
        raise Faulty(f"{options.to}: cannot be printed to; the name should end in .md, .html, .svg or .json")
    plan = _session(options.file).plan
    from workshop.prints import machine, paper
    from workshop.prints.document import summary

    text = {
        ".md": lambda: paper.markdown(summary(plan, workings=True)),
        ".html": lambda: paper.html(summary(plan, workings=True), plan),
        ".svg": lambda: paper.svg(plan),
        ".json": lambda: machine.dumps(plan) + "\n",
    }[ending]()
    try:
        options.to.write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        raise Faulty(f"{options.to}: cannot be written: {error.strerror or error}") from None
    print(f"{options.to} written")
    return FINE


def _check(options: argparse.Namespace) -> int:
    from workshop.progress import progress
    from workshop.words.phrase import say_check

    worst = FINE
    for path in options.file:
        try:
            session = _session(path)
        except Faulty as fault:
            print(f"workshop: {fault}", file=sys.stderr)
            worst = FAULT
            continue
        plan, lines = session.plan, []
        for step in progress(plan):
            if step.missing:
                lines.append(f"{path}: {step.name}: missing: {', '.join(step.missing)}")
        for check in plan.checks:
            if check.level != "note":
                lines.append(f"{path}: {check.level} [{check.code}] {check.question}: {say_check(check, plan.project)}")
        print("\n".join(lines) if lines else f"{path}: sound and complete")
        worst = FAULT if lines else worst
    return worst


def _list(options: argparse.Namespace) -> int:
    from workshop import saves
    from workshop.core.plan import plan
    from workshop.progress import next_step, progress

    folder = options.folder or saves.default_folder()
    if options.folder is not None and not folder.is_dir():
        raise Faulty(f"{folder}: there is no such folder")
    found = saves.list_saves(folder)
    if not found:
        print(f"{folder}: no saved projects")
    for saved in found:
        if saved.project is None:
            print(saved.fault)
            continue
        steps = progress(plan(saved.project))
        again = ", ".join(s.name for s in steps if s.state == "look again")
        print(
            f"{saved.path.name}: {saved.project.title or 'no name yet'}; next: {next_step(steps).name}"
            + (f"; look again: {again}" if again else "")
        )
    return FAULT if any(s.project is None for s in found) else FINE


def _tables(options: argparse.Namespace) -> int:
    from workshop import tables
    from workshop.prints.reference import print_table

    if options.name is None:
        for name in tables.names():
            print(f"{name:16} {tables.read(name)['title']}")
        return FINE
    if options.name not in tables.names():
        raise Faulty(f"'{options.name}' is no table; there are {', '.join(tables.names())}")
    print_table(options.name)
    return FINE
