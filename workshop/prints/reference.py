"""A published table with its sources, as text."""

from collections.abc import Mapping
from typing import Any

from rich.text import Text

from workshop.prints.terminal import console_for
from workshop.tables import read


def print_table(name: str) -> None:
    """Print a table: what it is, every entry with how it is known, and its sources."""
    table = read(name)
    console = console_for()
    console.print(Text(table["title"], "bold"))
    console.print(Text(table["about"]))
    for key, value in table.items():
        if key in ("title", "about", "sources", "sizes"):
            continue
        console.print()
        console.print(Text(key.replace("_", " "), "bold"))
        _print_entries(key, value, console)
    console.print()
    console.print(Text("sources", "bold"))
    for key, source in table["sources"].items():
        console.print(Text(f"  {key}: {source['title']}; {source['publisher']}, {source['year']}; {source['address']}"))


def _print_entries(key: str, value: Any, console: Any) -> None:
    if isinstance(value, list):
        for entry in value:
            console.print(Text("  " + _entry(entry)))
    elif key == "measure":
        for measure, cells in value.items():
            console.print(Text(f"  {measure.replace('_', ' ')}"))
            for size, cell in cells.items():
                console.print(Text(f"    {size}: {_entry(cell)}"))
    else:
        console.print(Text("  " + _entry(value)))


def _entry(entry: Mapping[str, Any]) -> str:
    parts = []
    for key, value in entry.items():
        shown = "-".join(f"{v:g}" for v in value) if _numbers(value) else value
        if isinstance(shown, list):
            shown = ", ".join(map(str, shown))
        parts.append(f"{key.replace('_', ' ')} {shown}")
    return "; ".join(parts)


def _numbers(value: Any) -> bool:
    return isinstance(value, list) and len(value) == 2 and all(isinstance(v, int | float) for v in value)
