"""``workshop sizes``: every size of one design."""

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from workshop.commands.shared import FAULT, FINE, Faulty, ending_of, file_meant, session_on, written

if TYPE_CHECKING:
    from workshop.project import Project
    from workshop.session import Session
    from workshop.sizes import Sizes


def run(options: argparse.Namespace) -> int:
    """Every size of one design; a fault only where none of them can be knitted."""
    from typing import get_args

    from workshop.prints import sizes as shown
    from workshop.project import BodyTable
    from workshop.questions.steps import as_asked
    from workshop.sizes import NoSuchSize, design_of, sizes_named, sizes_of

    if options.to:
        ending_of(options.to, (".md", ".html"))
    session = session_on(options.file)
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
        written(_sizes_on_paper(project, found, options.to), options, file_meant(options.file))
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
