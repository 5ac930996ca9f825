"""``workshop knit``: where the knitting is, moved and counted."""

import argparse

from workshop.commands.open import in_app
from workshop.commands.shared import FINE, Faulty, in_terminal, session_on


def run(options: argparse.Namespace) -> int:
    """Where the knitting is, moved and counted as the options say; in a terminal without any, its screen."""
    quiet = all(value in (None, False) for key, value in vars(options).items() if key not in ("command", "file"))
    if quiet and in_terminal():
        return in_app(session_on(options.file, unread=True), read_from=options.file, knit=True)
    from workshop.at_needles import NotKnitted, Said, taken_in
    from workshop.prints import knitting
    from workshop.prints.dated import today
    from workshop.words.changed import after_taking

    session, day = session_on(options.file), today()
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
