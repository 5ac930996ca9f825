"""A published table with its sources, as a document."""

from collections.abc import Mapping, Sequence
from string import ascii_lowercase

from workshop.prints.blocks import Block, Document, Items, Paragraph, Section, Table
from workshop.prints.terminal import console_for, print_document
from workshop.tables import Entry, how_known, read

LONG = 34
"""A cell with more characters than this wants a line of its own."""

HEADS = {"us": "US", "uk": "UK", "cm": "cm", "mm": "mm", "also": "also called", "iso name": "in the standard"}
UNTOLD = ("source", "sizes", "id_note")
WIDEST, KNOWN_WIDE, BETWEEN = 80, 30, 3
"""Characters of a line in a usual terminal, those that a cell of how it is known wants, and those between cells."""

TITLES = ("name", "us", "id", "state", "fit", "edition", "measure")
"""Keys that can name an entry, the most telling first."""


def print_table(name: str) -> None:
    """Print a table: what it is, every entry with how it is known, and its sources."""
    print_document(table_document(name), console_for())


def table_document(name: str) -> Document:
    """A table as a document. Raises KeyError where there is no table of that name."""
    table = read(name)
    sections = [Section("About", (Paragraph(table["about"]),))]
    for key, value in table.items():
        if key not in ("title", "about", "sources", "sizes"):
            sections.append(Section(key.replace("_", " ").capitalize(), tuple(_blocks(key, value))))
    told = tuple(
        f"{key}: " + ", ".join(str(s[k]) for k in ("title", "publisher", "year", "address") if s[k] != "-")
        for key, s in table["sources"].items()
    )
    return Document(table["title"], (*sections, Section("Sources", (Items(told),))))


def _blocks(key: str, value: Entry | list[Entry]) -> list[Block]:
    if isinstance(value, list):
        return _listed(value)
    if key == "measure":
        return [b for measure, cells in value.items() for b in _measure(measure, cells)]
    return [Items(tuple(f"{_head(k)}: {cell}" for k, cell in _cells(value)), bare=True)]


def _measure(measure: str, cells: Mapping[str, Entry]) -> list[Block]:
    """One body measure in all sizes."""
    entries = [{"size": size, **cell} for size, cell in cells.items()]
    return [Paragraph(measure.replace("_", " ").capitalize(), "head"), *_listed(entries)]


def _listed(entries: Sequence[Entry]) -> list[Block]:
    """Entries as one table where all cells are short, else one after the other."""
    told = [dict(_cells(e)) for e in entries]
    known = {cells.get("known", "") for cells in told}
    if len(told) > 2 and len(known) == 1 and known != {""}:  # said once for all
        alike = _listed_plainly([{k: c for k, c in cells.items() if k != "known"} for cells in told])
        return [Paragraph(f"All of these: {known.pop()}."), *alike]
    return _listed_plainly(told)


def _listed_plainly(told: Sequence[Mapping[str, str]]) -> list[Block]:
    columns = list(dict.fromkeys(k for cells in told for k in cells))
    if all(len(cell) <= LONG for cells in told for key, cell in cells.items() if key != "known"):
        return _table(columns, told)
    blocks: list[Block] = []
    for cells in told:
        title = next((k for k in TITLES if k in cells), columns[0])
        lines = tuple(f"{_head(k)}: {cell}" for k, cell in cells.items() if k not in (title, "id") and cell)
        blocks += [Paragraph(cells[title].replace("_", " "), "head"), Items(lines, bare=True)]
    return blocks


def _table(columns: Sequence[str], told: Sequence[Mapping[str, str]]) -> list[Block]:
    """A table; where it is too wide for a terminal, how each line is known stands below it, by a letter."""
    wide = {k: max(len(_head(k)), *(len(c.get(k, "")) for c in told)) + BETWEEN for k in columns}
    known = list(dict.fromkeys(c["known"] for c in told if "known" in c))
    notes: list[Block] = []
    if sum(wide.values()) - wide.get("known", 0) > WIDEST - KNOWN_WIDE and 1 < len(known) <= len(ascii_lowercase):
        letters = dict(zip(known, ascii_lowercase, strict=False))
        told = [{**c, "known": letters[c["known"]]} if "known" in c else c for c in told]
        notes = [Items(tuple(f"{letter}: {how}" for how, letter in letters.items()), bare=True)]
    return [Table(tuple(map(_head, columns)), tuple(tuple(c.get(k, "") for k in columns) for c in told)), *notes]


def _cells(entry: Entry) -> list[tuple[str, str]]:
    """The cells of an entry as text; how it is known comes last, with the keys of its sources."""
    cells = [(k, _shown(v)) for k, v in _joined(entry).items() if k not in UNTOLD and not _says_how(k)]
    hows = [
        f"{k.removeprefix('how_').removesuffix('_how')} " * (k != "how") + how_known(v)
        for k, v in entry.items()
        if _says_how(k)
    ]
    if len({h.split(" ", 1)[1] for h in hows}) == 1 and len(hows) > 1:
        hows = [hows[0].split(" ", 1)[1]]
    sources = [s for s in entry.get("source", ()) if s != "practice"]
    known = "; ".join(dict.fromkeys(hows)) + (f" ({', '.join(sources)})" if sources else "")
    return [*cells, ("known", known)] if known else cells


def _joined(entry: Entry) -> dict[str, object]:
    """An entry with its low and its high figure in one cell, where both stand side by side or one end is open."""
    found: dict[str, object] = {}
    for key, value in entry.items():
        name, _, end = key.rpartition("_")
        if end not in ("low", "high"):
            found[key] = value
        elif name not in found:
            low, high = entry.get(f"{name}_low"), entry.get(f"{name}_high")
            one = f"{value:g} or less" if low is None else f"{value:g} or more"
            found[name] = one if low is None or high is None else [low, high]
    return found


def _says_how(key: str) -> bool:
    return key == "how" or (key.startswith("how_") and key != "how_to") or key.endswith("_how")


def _head(key: str) -> str:
    plain = key.replace("_", " ")
    return HEADS.get(plain, plain)


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float):
        return f"{value:g}"
    if isinstance(value, list):
        if len(value) == 2 and all(isinstance(v, int | float) for v in value):
            return f"{value[0]:g}" if value[0] == value[1] else f"{value[0]:g} to {value[1]:g}"
        return ", ".join(_shown(v) for v in value)
    return str(value)
