"""``workshop class``: the projects of all pupils."""

import argparse
import contextlib
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from workshop.commands.shared import FINE, Faulty, ending_of, is_folder, written
from workshop.visible import shown_path

if TYPE_CHECKING:
    from workshop.of_class.pupils import Pupil


def run(options: argparse.Namespace) -> int:
    """Every pupil's project of a folder. Nothing in it is changed."""
    if not is_folder(options.folder):
        raise Faulty(f"{options.folder}: there is no such folder")
    if options.to is not None:
        ending_of(options.to, (".html", ".md"))
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
    return written(paper.markdown(page) if ending == ".md" else paper.html(page), options)
