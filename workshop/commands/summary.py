"""``workshop summary``: the plan as text, or as data for programs."""

import argparse
from typing import TYPE_CHECKING

from workshop.commands.shared import FINE, session_on

if TYPE_CHECKING:
    from workshop.core.plan import Plan


def run(options: argparse.Namespace) -> int:
    """Print the plans of projects."""
    plans = [session_on(path).plan for path in options.file]
    if options.json:
        from workshop.prints import machine

        texts = [machine.dumps(p) for p in plans]
        print(texts[0] if len(texts) == 1 else "[\n" + ",\n".join(texts) + "\n]")
        return FINE
    for plan in plans:
        print_summary(plan, workings=options.workings)
    return FINE


def print_summary(plan: "Plan", *, workings: bool) -> None:
    """The plan as text in the terminal."""
    from workshop.prints.document import summary
    from workshop.prints.terminal import console_for, print_document
    from workshop.visible import only_ascii

    console = console_for()
    columns = max(20, console.width - 4)
    print_document(summary(plan, workings=workings, plain=only_ascii(), columns=columns), console)
