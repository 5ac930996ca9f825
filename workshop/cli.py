"""The front door: commands. Imports nothing heavy before it knows which command."""

import argparse
import contextlib
import gc
import io
import os
import shlex
import sys
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from workshop.usage import parser
from workshop.visible import in_one_line, shown_path

if TYPE_CHECKING:
    from workshop.core.plan import Plan
    from workshop.of_class.pupils import Pupil
    from workshop.prints.blocks import Document
    from workshop.project import Project
    from workshop.session import Session
    from workshop.sizes import Sizes
    from workshop.versions import Version

FINE, FAULT = 0, 1
"""Exit codes; wrong usage leaves with 2 (:mod:`workshop.usage`)."""


OF_MANY_PLANS = ("class", "sizes")
"""Commands that keep all their plans until they have printed: looking for garbage among them is a sixth of the time."""


class Faulty(Exception):
    """A fault to be told in one line on standard error, with exit code 1."""

    def __init__(self, what: str) -> None:
        super().__init__(in_one_line(what))


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
    run = {
        None: _open,
        "open": _open,
        "demo": _demo,
        "ask": _ask,
        "summary": _summary,
        "print": _print,
        "check": _check,
        "list": _list,
        "earlier": _earlier,
        "copy": _copy,
        "knit": _knit,
        "sizes": _sizes,
        "class": _class,
        "tables": _tables,
    }[options.command]
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):  # a sign that the terminal has not is no reason to say nothing
            stream.reconfigure(errors="replace")
    try:
        _look_at_lessons(options)
        with _garbage_left() if options.command in OF_MANY_PLANS else contextlib.nullcontext():
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
        if not isinstance(place, Path) or not _is_folder(place / "lessons"):
            return
        os.environ["WORKSHOP_LESSONS"] = str(place / "lessons")
    from workshop import lessons

    missing = lessons.missing_folder()
    if missing:
        raise Faulty(missing)
    for line in lessons.strangers(lessons.folders()[0]):
        print(f"workshop: {line}", file=sys.stderr)


def _is_folder(path: Path) -> bool:
    """Whether there is such a folder; a path that cannot even be looked at is none."""
    try:
        return path.is_dir()
    except OSError:
        return False


def _is_there(path: Path) -> bool:
    """Whether there is such a file; one that cannot even be looked at is there, and reading it says why not."""
    try:
        return path.exists()
    except OSError:
        return True


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
    from workshop.folder import projects

    if _is_there(path) or path.parent != Path():
        return path
    folder = saves.default_folder()
    for candidate in (folder / path, folder / f"{path}{saves.SUFFIX}"):
        if _is_there(candidate) and not _is_folder(candidate):
            return candidate
    wanted = str(path).casefold()
    called = [s.path for s in projects(folder) if s.title and s.title.casefold() == wanted]
    if len(called) > 1:
        raise Faulty(f"{path}: several projects have that name. Choose {', '.join(p.name for p in called)}")
    return called[0] if called else path


def _there_are() -> str:
    """The projects that could have been meant, by the names of their files; empty where none is saved."""
    from workshop import saves

    names = [shown_path(saved.path.stem) for saved in saves.list_saves(saves.default_folder())]
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return f". Saved in {shown_path(saves.default_folder())}: {', '.join(names[:MOST_NAMED])}{more}" if names else ""


MOST_NAMED = 8
"""Projects that are named in one line; ``list`` shows all."""


def _session(path: Path) -> "Session":
    """A session on a file that is sound in every answer. Raises Faulty."""
    return _opened(path, unread=False)


def _opened(path: Path, *, unread: bool = True) -> "Session":
    """A session on a file, ``unread`` where its answers are not looked at yet. Raises Faulty."""
    from workshop import saves
    from workshop.session import opened

    asked, path = path, _named(path)
    if path.parent == Path() and not _is_there(path):
        others = _way_back(path) or _there_are() or ". No project is saved yet"
        raise Faulty(f"{asked}: there's no such file{others}")
    try:
        return opened(path, unread=unread)
    except saves.BadSave as error:
        raise Faulty(f"{error}{_way_back(path)}") from None


def _with_versions(path: Path) -> "tuple[Session, tuple[Version, ...]] | None":
    """A session on the earlier versions of a project whose file is gone or can't be read, and these; None where there
    are none.
    """
    from workshop import saves
    from workshop.session import recovered

    folder, places = saves.default_folder(), [path]
    if path.parent == Path():
        places += [folder / path, folder / f"{path}{saves.SUFFIX}"]
    found = (recovered(place) for place in places if not _is_folder(place))
    return next((known for known in found if known is not None), None)


def _way_back(path: Path) -> str:
    """What brings the last good version of a project back, for the end of a line on its file; empty where none is."""
    known = _with_versions(path)
    if known is None:
        return ""
    session, versions = known
    assert session.path is not None
    return f". To bring the last good version back: {_to_bring_back(session.path, versions[0].number)}"


def _to_bring_back(path: Path, number: int) -> str:
    return f"{started_as()} earlier {shlex.quote(shown_path(path))} --bring-back {number}"


def _open(options: argparse.Namespace) -> int:
    file: Path | None = getattr(options, "file", None)
    if not _in_terminal():
        raise Faulty("the app needs a terminal. For text, use: workshop summary FILE, or workshop ask")
    if file is not None and _is_folder(file):
        return _app(None, file)
    return _app(_opened(file) if file is not None else None, read_from=file)


def _give_it_a_size() -> None:
    """A terminal that does not say how large it is gets the usual size; the toolkit would lay it out without end."""
    if os.name != "posix" or all(os.get_terminal_size(sys.stdout.fileno())):
        return
    from fcntl import ioctl
    from struct import pack
    from termios import TIOCSWINSZ

    ioctl(sys.stdout.fileno(), TIOCSWINSZ, pack("HHHH", 24, 80, 0, 0))


def _app(
    session: "Session | None", folder: Path | None = None, read_from: Path | None = None, *, knit: bool = False
) -> int:
    """The app, and how to come back to where the knitter left. Raises Faulty for an answer that cannot be."""
    from workshop.app.app import WorkshopApp

    _give_it_a_size()
    app = WorkshopApp(session, folder, knit=knit)
    code = app.go()
    if read_from is not None and app.desk.refused:
        _session(read_from)  # read as by every other command, which says what is wrong and in which line
    if app.session.news:
        print(in_one_line(app.session.news))
    if code == FINE and app.session.path is not None:
        again = "knit" if knit else "open"
        print(f"To continue: {started_as()} {again} {shlex.quote(shown_path(app.session.path))}")
    return code


def _demo(options: argparse.Namespace) -> int:
    from workshop import saves

    demo = saves.demo_folder() / "harbour-pullover.toml"
    if not _in_terminal():
        _print_summary(_session(demo).plan, workings=False)
        print(f"\nThis is the demo as plain text. To start your own project in a terminal: {started_as()}")
        return FINE
    session = _opened(demo)
    session.folder = saves.default_folder()
    session.begin_as("demo " + session.project.title)
    if session.fault:
        raise Faulty(session.fault)
    code = _app(session)
    print(f"To start your own project: {started_as()}")
    return code


def _ask(options: argparse.Namespace) -> int:
    from workshop import ask, saves
    from workshop.project import Project
    from workshop.session import Session

    session = _session(options.file) if options.file else Session(Project(), saves.default_folder())
    others = "" if options.file else _there_are()
    if others:
        print(f"This is a new project{others}. To continue a saved project: {started_as()} ask NAME")
    code = ask.run(session, command=started_as())
    if session.news:
        print(in_one_line(session.news))
    return code


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
    from workshop.prints.terminal import console_for, print_document
    from workshop.visible import only_ascii

    console = console_for()
    columns = max(20, console.width - 4)
    print_document(summary(plan, workings=workings, plain=only_ascii(), columns=columns), console)


def _print(options: argparse.Namespace) -> int:
    if options.file is not None and _is_folder(options.file):
        return _print_class(options)
    ending = _ending(options.to, (".md", ".html") if options.sheet else (".md", ".html", ".svg", ".json"))
    plan = _session(options.file).plan if options.file else None
    text = _printed(plan, options.sheet, ending)
    return _written(text, options, _named(options.file) if options.file else None)


def _ending(to: Path, allowed: tuple[str, ...]) -> str:
    """How the name of a print ends, which says what it is. Raises Faulty where it is none of these."""
    ending = to.suffix.lower()
    if ending not in allowed:
        known = f"{', '.join(allowed[:-1])} or {allowed[-1]}"
        raise Faulty(f"{to}: the name should end in {known}")
    return ending


def _written(text: str, options: argparse.Namespace, source: Path | None = None) -> int:
    """A print in its file. Raises Faulty where that cannot be."""
    from workshop import files, printed

    try:
        printed.write(options.to, text, source=source, replace=options.replace)
    except files.AlreadyThere as error:
        raise Faulty(f"{options.to}: {error}. To replace it, add --replace") from None
    except files.FileFault as error:
        raise Faulty(f"{options.to}: {error}") from None
    print(f"{shown_path(options.to)} written")
    return FINE


def _print_class(options: argparse.Namespace) -> int:
    """The plans and sheets of a whole class; a fault of one doesn't keep the others from theirs."""
    from workshop import saves
    from workshop.hand_outs import hand_outs

    if options.sheet:
        raise Faulty(f"{options.file}: a folder is printed as plans and filled sheets. Leave out --sheet")
    if options.to.suffix.lower() in (".md", ".html", ".svg", ".json") and not options.to.is_dir():
        raise Faulty(f"{options.to}: a class is printed into a folder. For a page for the wall use: class FOLDER --to")
    try:
        options.to.mkdir(exist_ok=True)
        many = len(saves.project_files(options.file, links=False))
    except OSError as error:
        raise Faulty(f"{error.filename}: {error.strerror or error}") from None
    done = {"printed": 0, "as before": 0, "fault": 0}
    for number, one in enumerate(hand_outs(options.file, options.to, replace=options.replace), 1):
        done[one.done] += 1
        count = f"{number} of {many}" if number <= many else "lessons"
        if one.done == "fault":
            print(f"workshop: {count}: {in_one_line(one.name)}: {in_one_line(one.why)}", file=sys.stderr, flush=True)
        else:
            print(f"{count}: {in_one_line(one.name)} {one.done}", flush=True)
    told = f"{done['printed']} printed, {done['as before']} as before, {done['fault']} not printed"
    print(f"{shown_path(options.to)}: {told}" if many else f"{shown_path(options.file)}: no projects")
    return FAULT if done["fault"] else FINE


def _printed(plan: "Plan | None", sheet: str | None, ending: str) -> str:
    """The text of a printed file. Without a plan, the blank work sheet."""
    from workshop.prints import machine, paper

    if plan is None or sheet == "blank":
        paged, plan = _blank_sheet(plan)
    elif ending == ".svg":
        return paper.svg(plan)
    elif ending == ".json":
        return machine.dumps(plan, dated=True) + "\n"
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
    from workshop.planned import plan as worked_out
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
    from workshop.core.plan_mark import plan_mark
    from workshop.progress import changed_since, progress, refused_answers
    from workshop.project import STEPS
    from workshop.questions.steps import asked_as
    from workshop.saves import strange_keys
    from workshop.words.phrase import in_terms_of, say_check
    from workshop.words.titles import title_of

    worst = FINE
    for path in options.file:
        if _is_folder(path):
            worst = max(worst, _check_lessons(path))
            continue
        try:
            session = _session(path)
        except Faulty as fault:
            print(f"workshop: {fault}", file=sys.stderr)
            worst = FAULT
            continue
        plan, lines = session.plan, []
        shown, project = shown_path(_named(path)), plan.project

        titles = {name: title_of(name, project.terms) for name in STEPS}
        lines += [f"{shown}: {line}" for line in strange_keys(project)]
        for state in progress(plan):
            if state.missing:
                names = "; ".join(in_terms_of(asked_as(key, project), project) for key in state.missing)
                lines.append(f"{shown}: {titles[state.name]}: not answered yet: {names}")
            again = {
                "changed since": changed_since(state.name, project),
                "not understood": refused_answers(state.name, project),
            }
            for why, what in again.items():
                lines += [f"{shown}: {titles[state.name]}: look again: {why}: {', '.join(what)}"] if what else []
        for check in plan.checks:
            if check.level != "note":
                about = in_terms_of(asked_as(check.question, project), project)
                level = "stop" if check.level == "stop" else "look again"
                lines.append(
                    f"{shown}: {titles[check.step]}: {level} [{check.code}]: {about}: {say_check(check, project)}"
                )
        worst = FAULT if lines else worst
        lines = lines or [f"{shown}: complete, nothing to fix"]
        mark = plan_mark(plan)
        print("\n".join(lines + ([f"{shown}: plan mark {mark}"] if mark else [])))
    return worst


def _check_lessons(folder: Path) -> int:
    """A folder of lessons: each file that is wrong, or that no step would ever show."""
    from workshop import lessons
    from workshop.project import STEPS

    lines = lessons.faults_in(folder)
    there = [s for s in STEPS if (folder / f"{s}.md").is_file()]
    if not there and not lines:
        lines = (f"{folder}: there are no lessons here. Lessons are called {', '.join(f'{s}.md' for s in STEPS)}",)
    print(
        "\n".join(map(in_one_line, lines))
        if lines
        else f"{shown_path(folder)}: nothing to fix. Lessons: {', '.join(there)}"
    )
    return FAULT if lines else FINE


def _list(options: argparse.Namespace) -> int:
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
            print(in_one_line(f"{saved.title}: {saved.fault}" if saved.title else saved.fault) + _way_back(saved.path))
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


MOST_CHANGED = 4
"""Answers that are named of one version."""


def _earlier(options: argparse.Namespace) -> int:
    """The earlier versions of a project, or the way back to one of them."""
    from workshop.questions.steps import asked_as

    try:
        session = _session(options.file)
        found = session.earlier()
    except Faulty as fault:
        known = _with_versions(_named(options.file))
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
        back += f" To undo that: {_to_bring_back(session.path, newest.number)}"
    print(back)
    return FINE


def _copy(options: argparse.Namespace) -> int:
    from workshop.questions.fibre import TITLE
    from workshop.units import NotUnderstood

    session = _session(options.file)
    try:
        title = str(TITLE.kind.read(options.name, session.project))
    except NotUnderstood as error:
        raise Faulty(f"{options.name}: {error}") from None
    if not title:
        raise Faulty("copy: type a name for the copy")
    other = session.copy(title)
    if other.path is None:
        raise Faulty(other.fault)
    print(
        f"{shown_path(other.path)} written. To continue: {started_as()} open {shlex.quote(shown_path(other.path.name))}"
    )
    return FINE


def _knit(options: argparse.Namespace) -> int:
    """Where the knitting is, moved and counted as the options say; in a terminal without any, its screen."""
    quiet = all(value in (None, False) for key, value in vars(options).items() if key not in ("command", "file"))
    if quiet and _in_terminal():
        return _app(_opened(options.file), read_from=options.file, knit=True)
    from workshop.at_needles import NotKnitted, Said, taken_in
    from workshop.prints import knitting
    from workshop.prints.dated import today
    from workshop.words.changed import after_taking

    session, day = _session(options.file), today()
    said = Said(
        options.piece or "",
        options.row,
        options.done,
        options.back,
        options.count or (),
        options.rows or (),
        options.yarn_left,
        options.take or "",
    )
    try:
        planned = session.plan
        session.change(taken_in(session.project, said, day, session.before))
    except NotKnitted as error:
        raise Faulty(f"{options.file}: {error}") from None
    if session.fault:
        raise Faulty(session.fault)
    if options.json:
        print(knitting.dumps(session.plan, day))
    else:
        changed = after_taking(planned, session.plan) if options.take else ()
        print("\n".join((*changed, *knitting.lines(session.plan, day, session.before))))
    return FINE


def _sizes(options: argparse.Namespace) -> int:
    """Every size of one design; a fault only where none of them can be knitted."""
    from typing import get_args

    from workshop.prints import sizes as shown
    from workshop.project import BodyTable
    from workshop.questions.steps import as_asked
    from workshop.sizes import NoSuchSize, design_of, sizes_named, sizes_of

    if options.to:
        _ending(options.to, (".md", ".html"))
    session = _session(options.file)
    if options.body or options.remove_body:
        _bodies(session, options)
    project = as_asked(session.project)
    table = next((t for t in get_args(BodyTable) if t == options.table), None)
    if options.table and table is None:
        raise Faulty(f"'{options.table}' isn't a table of sizes. The tables are {', '.join(get_args(BodyTable))}")
    wanted = sizes_named(options.sizes or "", design_of(project, table).names)
    try:
        found = sizes_of(project, table, wanted)
    except NoSuchSize as error:
        raise Faulty(str(error)) from None
    if options.to:
        _written(_sizes_on_paper(project, found, options.to), options, _named(options.file))
    elif options.json:
        print(shown.dumps(project, found))
    else:
        from workshop.prints.terminal import console_for, print_document

        print_document(shown.document(project, found), console_for())
    return FINE if found.made else FAULT


def _bodies(session: "Session", options: argparse.Namespace) -> None:
    """Take the bodies that are typed, and remove those that are named. Raises Faulty; then the file is as it was."""
    from workshop.questions.bodies import number_of, said_of_body, without_body
    from workshop.units import NotUnderstood

    project = session.project
    try:
        for said in options.body or ():
            project = said_of_body(project, said)
    except NotUnderstood as error:
        raise Faulty(f"--body: {error}") from None
    for name in options.remove_body or ():
        number = number_of(project, name)
        if number is None:
            there = ", ".join(project.grading.names)
            raise Faulty(
                f"there's no body '{name}' in your list. {f'It has {there}' if there else 'Your list is empty'}"
            )
        project = without_body(project, number)
    session.change(project)
    if session.fault:
        raise Faulty(session.fault)


def _sizes_on_paper(project: "Project", found: "Sizes", to: Path) -> str:
    from workshop.prints.paper import html, markdown
    from workshop.prints.sizes import sheet

    written = sheet(project, found)
    return markdown(written) if to.suffix.lower() == ".md" else html(written, found.sizes[0].plan)


def _class(options: argparse.Namespace) -> int:
    """Every pupil's project of a folder. Nothing in it is changed."""
    if not _is_folder(options.folder):
        raise Faulty(f"{options.folder}: there is no such folder")
    if options.to is not None and options.to.suffix.lower() not in (".html", ".md"):
        raise Faulty(f"{options.to}: the name should end in .html or .md")
    _say_how_many(options.folder)
    from workshop.of_class.pupils import pupils, without_names
    from workshop.prints import class_list
    from workshop.prints.dated import today

    found = pupils(options.folder, today())
    if options.hide_names:
        found = without_names(found)
    if options.to is not None:
        return _class_page(found, options)
    if options.json:
        print(class_list.dumps(found))
    elif not found:
        print(f"{shown_path(options.folder)}: no projects")
    else:
        print("\n".join(class_list.lines(found, files=not options.hide_names)), flush=True)
        _class_further(found)
    return FINE


def _say_how_many(folder: Path) -> None:
    """Who is first in the list is known when all are read: until then this says what goes on, in a terminal only."""
    from workshop import saves

    if sys.stderr.isatty():
        with contextlib.suppress(OSError):  # the list tells it
            many = len(saves.project_files(folder, links=False))
            print(f"Reading {many} {'project' if many == 1 else 'projects'}.", file=sys.stderr, flush=True)


def _class_further(found: "Sequence[Pupil]") -> None:
    """The yarn order of a class and its swatches, below the list."""
    from workshop.prints.class_page import hands_sections, yarn_section
    from workshop.prints.terminal import console_for, print_sections
    from workshop.visible import only_ascii

    console = console_for()
    sections = (yarn_section(found), *hands_sections(found, plain=only_ascii(), columns=console.width - 4))
    print_sections([s for s in sections if s.blocks], console)


def _class_page(found: "Sequence[Pupil]", options: argparse.Namespace) -> int:
    """The page of a class for the wall."""
    from workshop.prints import paper
    from workshop.prints.class_page import class_page, class_title

    if not found:
        raise Faulty(f"{options.folder}: there are no projects to make a page of")
    page = class_page(found, class_title(options.folder))
    ending = options.to.suffix.lower()
    return _written(paper.markdown(page) if ending == ".md" else paper.html(page), options)


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
        print(f"'{options.name}' isn't a table, but it's in the glossary. {others}: {word.means}.")
        return FINE
    if name not in tables.names():
        raise Faulty(f"'{shown(name)}' isn't a table. The tables are {', '.join(tables.names())}")
    print_table(name)
    return FINE
