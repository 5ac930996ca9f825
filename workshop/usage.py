"""What can be typed after ``workshop``: commands, their options, their help."""

import argparse
from pathlib import Path
from typing import NoReturn

from workshop import __version__
from workshop.visible import in_one_line

USAGE = 2
"""Exit code of wrong usage."""


class Parser(argparse.ArgumentParser):
    """Wrong usage is one line, too."""

    def error(self, message: str) -> NoReturn:
        """Print one line and leave with code 2."""
        self.exit(USAGE, f"{self.prog}: {in_one_line(message)}. See {self.prog} -h\n")


def parser() -> Parser:
    """The command line."""
    top = Parser(prog="workshop", description="From a ball of yarn to a sweater plan that fits, step by step.")
    top.add_argument("--version", action="version", version=f"jumper-workshop {__version__}")
    top.add_argument(
        "--lessons", type=Path, metavar="FOLDER", help="a folder of your own lessons (or set WORKSHOP_LESSONS)"
    )
    commands = top.add_subparsers(dest="command", metavar="COMMAND", parser_class=Parser)

    one = commands.add_parser("open", help="the app: start a project, or continue a saved one")
    one.add_argument("file", nargs="?", type=Path)
    _lessons_after(one)
    one = commands.add_parser(
        "demo", help="the app on a copy of the demo project, or its summary where there is no terminal"
    )
    _lessons_after(one)
    one = commands.add_parser("ask", help="the same questions line by line, for a screen reader")
    one.add_argument("file", nargs="?", type=Path)
    one = commands.add_parser("summary", help="the final summary as text, or as JSON for programs")
    one.add_argument("file", type=Path, nargs="+")
    one.add_argument("--json", action="store_true", help="for programs. Several files give a list")
    one.add_argument("--workings", action="store_true", help="show how each number was worked out")
    one = commands.add_parser(
        "print",
        help="the finished plan, the schematic or a work sheet as a file, or everyone's plan and sheet for a FOLDER",
        description="Print one project, or a whole class: a FOLDER of projects goes into the folder that --to names. "
        "Each knitter gets a plan and a filled sheet, and a second run prints only what has changed.",
    )
    one.add_argument("file", type=Path, nargs="?", help="a project, or a folder of them")
    one.add_argument("--to", type=Path, required=True, metavar="OUT.{md,html,svg,json}", help="the file, or a folder")
    one.add_argument(
        "--sheet",
        choices=("filled", "blank"),
        help="a work sheet instead of the plan (.md or .html): every formula with your figures, or blank for a class",
    )
    one.add_argument("--replace", action="store_true", help="replace older prints of that name")
    _lessons_after(one)
    one = commands.add_parser("check", help="what is missing or doesn't add up in a project, or in a FOLDER of lessons")
    one.add_argument("file", type=Path, nargs="+")
    one = commands.add_parser("list", help="saved projects, the next step of each, and what needs another look")
    one.add_argument("folder", nargs="?", type=Path)
    one = commands.add_parser("earlier", help="earlier versions of a project, what changed, and how to go back to one")
    one.add_argument("file", type=Path)
    one.add_argument(
        "--bring-back",
        type=int,
        metavar="N",
        help="go back to version N of the list. What you have now is kept too",
    )
    one = commands.add_parser("copy", help="copy a project under a new name, to try another neck")
    one.add_argument("file", type=Path)
    one.add_argument("name", help="the name of the copy")
    one = commands.add_parser("knit", help="at the needles: where you are, what comes next, counts and yarn left")
    one.add_argument("file", type=Path)
    one.add_argument("--piece", metavar="NAME", help="the piece, by its name or part of it; else the piece you're on")
    moved = one.add_mutually_exclusive_group()
    moved.add_argument("--row", type=int, metavar="N", help="row N is the last one you've knitted")
    moved.add_argument("--done", type=int, metavar="N", help="you've knitted N more rows")
    moved.add_argument("--back", type=int, metavar="N", help="you've ripped back N rows, or said N rows too many")
    one.add_argument(
        "--count", action="append", metavar="'27.5 over 12'", help="stitches on the piece, once for each place"
    )
    one.add_argument("--rows", action="append", metavar="'33 over 12'", help="rows on the piece, once for each place")
    one.add_argument("--yarn-left", type=float, metavar="GRAMS", help="the weight of the yarn you have left")
    one.add_argument("--take", metavar="WAY", help="choose one of the ways that the latest count offers")
    one.add_argument("--json", action="store_true", help="as JSON, for programs")
    one = commands.add_parser("sizes", help="all sizes of one design side by side")
    one.add_argument("file", type=Path)
    one.add_argument(
        "--table", help="women, men, youth, children or babies. If left out, the design's own or the nearest one"
    )
    one.add_argument("--sizes", metavar="XS,S,M", help="only these sizes")
    one.add_argument(
        "--body",
        action="append",
        metavar="'NELL: chest 96, hip 100'",
        help="enter a body of your own, or change one. Your bodies are used instead of the table. A dash clears a "
        "measurement",
    )
    one.add_argument("--remove-body", action="append", metavar="NAME", help="remove a body of your own")
    shown = one.add_mutually_exclusive_group()
    shown.add_argument("--json", action="store_true", help="as JSON, for programs")
    shown.add_argument(
        "--to", type=Path, metavar="OUT.{md,html}", help="on paper, with one set of instructions for all sizes"
    )
    one.add_argument("--replace", action="store_true", help="replace an older print of that name")
    one = commands.add_parser("class", help="a FOLDER of pupils' projects in one list: who needs the teacher first")
    one.add_argument("folder", type=Path)
    one.add_argument("--json", action="store_true", help="as JSON, for programs")
    one.add_argument("--to", type=Path, metavar="OUT.{html,md}", help="a page for the wall: list, yarn order, swatches")
    one.add_argument("--hide-names", action="store_true", help="number the knitters instead of naming them")
    one.add_argument("--replace", action="store_true", help="replace an older page of that name")
    _lessons_after(one)
    one = commands.add_parser("tables", help="the published tables and their sources")
    one.add_argument("name", nargs="?")
    return top


def _lessons_after(command: argparse.ArgumentParser) -> None:
    """--lessons is also accepted after the command."""
    command.add_argument(
        "--lessons", type=Path, metavar="FOLDER", dest="lessons_after", help="the same as --lessons before the command"
    )
