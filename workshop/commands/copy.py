"""``workshop copy``: a project under a new name."""

import argparse
import shlex

from workshop.commands.shared import FINE, Faulty, session_on, started_as
from workshop.visible import shown_path


def run(options: argparse.Namespace) -> int:
    """Copy a project."""
    from workshop.questions.fibre import TITLE
    from workshop.units import NotUnderstood

    session = session_on(options.file)
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
