"""The front door: commands. Imports nothing heavy before it knows which command."""

import argparse
import os
import shlex
import sys
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from workshop.usage import parser

if TYPE_CHECKING:
    from workshop.core.plan import Plan
    from workshop.prints.blocks import Document
    from workshop.session import Session

FINE, FAULT = 0, 1
"""Exit codes; wrong usage leaves with 2 (:mod:`workshop.usage`)."""


class Faulty(Exception):
    """A fault to be told in one line on standard error, with exit code 1."""


def main(arguments: Sequence[str] | None = None) -> int:
    """Run a command. Gives the exit code: 0 fine, 1 a fault in a file or plan, 2 wrong usage."""
    known = parser()
    options = known.parse_args(arguments)
    if options.command == "print" and options.file is None and options.sheet != "blank":
        known.error("print: a FILE is wanted; only --sheet blank does without")
    lessons_at = options.lessons or getattr(options, "lessons_after", None)
    if lessons_at is not None:
        os.environ["WORKSHOP_LESSONS"] = str(lessons_at)
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
        _look_at_lessons()
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


def _look_at_lessons() -> None:
    """Say what is wrong with a teacher's folder before it is needed. Raises Faulty for one that is not there."""
    if not os.environ.get("WORKSHOP_LESSONS"):
        return
    from workshop import lessons

    missing = lessons.missing_folder()
    if missing:
        raise Faulty(missing)
    for line in lessons.strangers(lessons.folders()[0]):
        print(f"workshop: {line}", file=sys.stderr)


def _columns() -> int:
    """Columns of the terminal; 0 for a pipe: programs get one line each."""
    if not sys.stdout.isatty():
        return 0
    from shutil import get_terminal_size

    return get_terminal_size().columns


def _in_terminal() -> bool:
    return sys.stdin.isatty() and sys.stdout.isatty()


def started_as() -> str:
    """What the knitter types to start the workshop again, as it was started this time."""
    if Path(sys.argv[0]).name != "__main__.py":
        return "workshop"
    python = f"{Path(sys.executable).stem} -m workshop"
    found = os.environ.get("PYTHONPATH")
    return f"PYTHONPATH={shlex.quote(found)} {python}" if found else python


def _named(path: Path) -> Path:
    """The file that a knitter means: a path, or the name of a saved project as ``list`` shows it. Raises Faulty."""
    from workshop import saves

    if path.exists() or path.parent != Path():
        return path
    folder = saves.default_folder()
    for candidate in (folder / path, folder / f"{path}{saves.SUFFIX}"):
        if candidate.is_file():
            return candidate
    wanted = str(path).casefold()
    called = [s.path for s in saves.list_saves(folder) if s.project and s.project.title.casefold() == wanted]
    if len(called) > 1:
        raise Faulty(f"{path}: several projects are called so; choose {', '.join(p.name for p in called)}")
    return called[0] if called else path


def _there_are() -> str:
    """The projects that could have been meant, by the names of their files; empty where none is saved."""
    from workshop import saves

    names = [saved.path.stem for saved in saves.list_saves(saves.default_folder())]
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return f"; saved in {saves.default_folder()}: {', '.join(names[:MOST_NAMED])}{more}" if names else ""


MOST_NAMED = 8
"""So many projects are named in one line; ``list`` shows all."""


def _session(path: Path) -> "Session":
    """A session on a file that is sound in every answer. Raises Faulty."""
    from workshop.questions.steps import faults

    session = _opened(path)
    for key, what in faults(session.project):
        raise _refusal(_named(path), key, what)
    return session


def _refusal(path: Path, key: str, what: str) -> Faulty:
    """An answer that no question would have taken, with the line of the file on which it stands."""
    from workshop import saves

    line = saves.line_of(path.read_text(encoding="utf-8-sig"), key)
    return Faulty(str(saves.BadSave(path, what, key, line)))


def _opened(path: Path) -> "Session":
    """A session on a file, its answers not looked at yet. Raises Faulty."""
    from workshop import saves
    from workshop.session import opened

    asked, path = path, _named(path)
    if not path.exists() and path.parent == Path():
        raise Faulty(f"{asked}: there is no such file{_there_are() or '; no project is saved yet'}")
    try:
        return opened(path)
    except saves.BadSave as error:
        raise Faulty(str(error)) from None


def _open(options: argparse.Namespace) -> int:
    file: Path | None = getattr(options, "file", None)
    if not _in_terminal():
        raise Faulty("the app needs a terminal; for text use: workshop summary FILE, or workshop ask")
    if file is not None and file.is_dir():
        return _app(None, file)
    return _app(_opened(file) if file is not None else None, read_from=file)


def _app(session: "Session | None", folder: Path | None = None, read_from: Path | None = None) -> int:
    """The app, and how to come back to where the knitter left. Raises Faulty for an answer that cannot be."""
    from workshop.app.app import WorkshopApp

    app = WorkshopApp(session, folder)
    code = app.go()
    if read_from is not None and app.desk.refused is not None:
        raise _refusal(_named(read_from), *app.desk.refused)
    if code == FINE and app.session.path is not None:
        print(f"Go on with: {started_as()} open {shlex.quote(str(app.session.path))}")
    return code


def _demo(options: argparse.Namespace) -> int:
    from workshop import saves

    demo = saves.demo_folder() / "harbour-pullover.toml"
    if not _in_terminal():
        _print_summary(_session(demo).plan, workings=False)
        print(f"\nThis is the demo as plain text. Begin a jumper of your own in a terminal: {started_as()}")
        return FINE
    session = _opened(demo)
    session.folder = saves.default_folder()
    session.path = saves.new_path(session.folder, "demo " + session.project.title)
    session.save()
    if session.fault:
        raise Faulty(session.fault)
    code = _app(session)
    print(f"Begin a jumper of your own with: {started_as()}")
    return code


def _ask(options: argparse.Namespace) -> int:
    from workshop import ask, saves
    from workshop.project import Project
    from workshop.session import Session

    session = _session(options.file) if options.file else Session(Project(), saves.default_folder())
    others = "" if options.file else _there_are()
    if others:
        print(f"A new project{others}. To go on with one of them: {started_as()} ask NAME")
    return ask.run(session, command=started_as())


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


def _print_summary(plan: "Plan", *, workings: bool) -> None:
    from workshop.prints.document import summary
    from workshop.prints.terminal import console_for, only_ascii, print_document

    console = console_for()
    columns = max(20, console.width - 4)
    print_document(summary(plan, workings=workings, plain=only_ascii(), columns=columns), console)


def _print(options: argparse.Namespace) -> int:
    ending = options.to.suffix.lower()
    allowed = (".md", ".html") if options.sheet else (".md", ".html", ".svg", ".json")
    if ending not in allowed:
        known = f"{', '.join(allowed[:-1])} or {allowed[-1]}"
        raise Faulty(f"{options.to}: cannot be printed to; the name should end in {known}")
    plan = _session(options.file).plan if options.file else None
    text = _printed(plan, options.sheet, ending)
    try:
        options.to.write_text(text, encoding="utf-8", newline="\n")
    except OSError as error:
        raise Faulty(f"{options.to}: cannot be written: {error.strerror or error}") from None
    print(f"{options.to} written")
    return FINE


def _printed(plan: "Plan | None", sheet: str | None, ending: str) -> str:
    """The text of a printed file. Without a plan, the blank work sheet."""
    from workshop.prints import machine, paper

    if plan is None or sheet == "blank":
        paged, plan = _blank_sheet(plan)
    elif ending == ".svg":
        return paper.svg(plan)
    elif ending == ".json":
        return machine.dumps(plan) + "\n"
    elif sheet == "filled":
        from workshop.prints.work_sheet import filled_sheet

        paged = filled_sheet(plan)
    else:
        from workshop.prints.plan_sheet import plan_sheet

        paged = plan_sheet(plan)
    return paper.markdown(paged, plan) if ending == ".md" else paper.html(paged, plan)


def _blank_sheet(plan: "Plan | None") -> tuple["Document", "Plan"]:
    """A blank work sheet in the units and terms of a plan, made after the demo planned from its washed swatch."""
    from workshop import saves
    from workshop.core.plan import plan as worked_out
    from workshop.prints.blank_sheet import blank_sheet
    from workshop.project import Body, Design, FibrePart, Project
    from workshop.questions import fibre, swatch

    demo = saves.load(saves.demo_folder() / "harbour-pullover.toml")
    lying = tuple(replace(s, reading=tuple(r for r in s.reading if r.state != "hung")) for s in demo.swatch)
    blend = (FibrePart("superwash wool", 50.0), FibrePart("cotton", 50.0))
    yarn = tuple(replace(y, fibres=blend) for y in demo.yarn)
    model = worked_out(replace(demo, yarn=yarn, swatch=lying, design=Design(demo.design.swatch, "washed")))
    shown = plan.project if plan else Project()
    layout = Project(
        units=shown.units,
        terms=shown.terms,
        needle_names=shown.needle_names,
        body=Body(source="own", table="women"),
        design=Design(state="hung"),
    )
    layout = swatch.add_swatches(fibre.add_yarn(layout), "a", (4.0, 4.5, 5.0))
    return blank_sheet(model, layout), model


def _check(options: argparse.Namespace) -> int:
    from workshop.progress import changed_since, progress, refused_answers
    from workshop.project import STEPS
    from workshop.questions.steps import asked_as
    from workshop.saves import strange_keys
    from workshop.steps import step
    from workshop.words.phrase import in_terms, say_check

    worst = FINE
    for path in options.file:
        if path.is_dir():
            worst = max(worst, _check_lessons(path))
            continue
        try:
            session = _session(path)
        except Faulty as fault:
            print(f"workshop: {fault}", file=sys.stderr)
            worst = FAULT
            continue
        plan, lines = session.plan, []
        path, project = _named(path), plan.project

        titles = {name: in_terms(step(name).title, project.terms) for name in STEPS}
        lines += [f"{path}: {line}" for line in strange_keys(project)]
        for state in progress(plan):
            if state.missing:
                names = "; ".join(in_terms(asked_as(key, project), project.terms) for key in state.missing)
                lines.append(f"{path}: {titles[state.name]}: not answered yet: {names}")
            again = {
                "changed since": changed_since(state.name, project),
                "not understood": refused_answers(state.name, project),
            }
            for why, what in again.items():
                lines += [f"{path}: {titles[state.name]}: look again: {why}: {', '.join(what)}"] if what else []
        for check in plan.checks:
            if check.level != "note":
                about = in_terms(asked_as(check.question, project), project.terms)
                level = "stop" if check.level == "stop" else "look again"
                lines.append(
                    f"{path}: {titles[check.step]}: {level} [{check.code}]: {about}: {say_check(check, project)}"
                )
        print("\n".join(lines) if lines else f"{path}: sound and complete")
        worst = FAULT if lines else worst
    return worst


def _check_lessons(folder: Path) -> int:
    """A folder of lessons: each file that is wrong, or that no step would ever show."""
    from workshop import lessons
    from workshop.project import STEPS

    lines = lessons.faults_in(folder)
    there = [s for s in STEPS if (folder / f"{s}.md").is_file()]
    if not there and not lines:
        lines = (f"{folder}: holds no lessons; they are called {', '.join(f'{s}.md' for s in STEPS)}",)
    print("\n".join(lines) if lines else f"{folder}: sound; lessons of {', '.join(there)}")
    return FAULT if lines else FINE


def _list(options: argparse.Namespace) -> int:
    from workshop import saves
    from workshop.core.plan import plan
    from workshop.progress import next_step, progress
    from workshop.steps import step
    from workshop.words.lines import wrapped
    from workshop.words.phrase import in_terms

    folder = options.folder or saves.default_folder()
    if options.folder is not None and not folder.is_dir():
        raise Faulty(f"{folder}: there is no such folder")
    found = saves.list_saves(folder)
    columns = _columns()
    if not found:
        print(f"{folder}: no saved projects")
    for saved in found:
        if saved.project is None:
            print(saved.fault)
            continue
        steps = progress(plan(saved.project))
        upcoming = next_step(steps)
        ready = upcoming.name == "summary" and upcoming.state == "done"
        terms = saved.project.terms
        again = ", ".join(in_terms(step(s.name).title, terms) for s in steps if s.state == "look again")
        changed = datetime.fromtimestamp(saved.path.stat().st_mtime).strftime("%Y-%m-%d %H:%M")
        text = f"{saved.path.name}: {saved.project.title or 'no name yet'}; "
        text += "plan ready" if ready else f"next: {in_terms(step(upcoming.name).title, terms)}"
        text += (f"; look again: {again}" if again else "") + f"; changed {changed}"
        print("\n".join(wrapped(text, columns, hang=2)) if columns else text)
    return FAULT if any(s.project is None for s in found) else FINE


def _tables(options: argparse.Namespace) -> int:
    from workshop import tables
    from workshop.prints.reference import print_table
    from workshop.tables.glossary import look_up
    from workshop.units import shown

    if options.name is None:
        for name in tables.names():
            print(f"{name:16} {tables.read(name)['title']}")
        return FINE
    name = options.name
    meant = [n for n in tables.names() if name in n.split("_")]
    if name not in tables.names() and len(meant) == 1:
        name = meant[0]
    word = look_up(name) if name not in tables.names() else None
    if word is not None:
        others = ", ".join(dict.fromkeys(n for n in (word.us, word.uk, word.short) if n))
        print(f"'{options.name}' is no table but a word of the table glossary. {others}: {word.means}.")
        return FINE
    if name not in tables.names():
        raise Faulty(f"'{shown(name)}' is no table; there are {', '.join(tables.names())}")
    print_table(name)
    return FINE
