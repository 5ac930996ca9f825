"""``workshop tables``: the published tables."""

import argparse

from workshop.commands.shared import FINE, Faulty


def run(options: argparse.Namespace) -> int:
    """List the tables, or print one."""
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
