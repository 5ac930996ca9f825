"""The text of a TOML file: whether it is a project, whether it is more than is read, and on which line a key stands."""

import re
import tomllib
from typing import Any

Toml = dict[str, Any]
"""What stands under the keys of a parsed file, or goes into one: TOML says only there what each is."""

LONGEST_BITS = 10_000

DEEPEST = 40
"""Tables and lists inside one another; a project has four."""


class Unread(Exception):
    """A text that is not read. ``str()`` says what is wrong with it; ``line`` is where, if that is known."""

    def __init__(self, what: str, line: int | None = None) -> None:
        super().__init__(what)
        self.line = line


def read(text: str) -> Toml:
    """What stands in a text, as plain dictionaries. Raises Unread."""
    if _entries(text) > MOST_ENTRIES:
        raise Unread("has far too many entries. A project has a few hundred")
    try:
        if not _too_long_keys(text) and _is_flat(data := tomllib.loads(text), DEEPEST):
            return data
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"\(at line (\d+)", str(error))
        what = re.sub(r"\s*\(at .*\)$", "", str(error)).replace(
            r"Illegal character '\n'", "a text in quotes is not closed"
        )
        raise Unread(f"isn't valid TOML: {what}", int(found[1]) if found else None) from None
    except ValueError:
        raise Unread("has a number with thousands of digits") from None
    except RecursionError:
        pass
    raise Unread("is nested too deeply to be a project")


def is_read(text: str) -> bool:
    """Whether a text that is sound is no more than is read."""
    return _entries(text) <= MOST_ENTRIES and not _too_long_keys(text)


FORMAT_FIRST = re.compile(r"(?:\s|#[^\n]*\n)*format\s*=\s*\d")


def has_format(text: str) -> bool:
    """Whether a text is meant to be a project, of whatever format: it has that key, or begins with it."""
    if FORMAT_FIRST.match(text):
        return True
    try:
        return is_read(text) and "format" in tomllib.loads(text)
    except (ValueError, RecursionError):
        return False


MOST_ENTRIES = 200_000
"""Keys, values and tables of a file, a table for four: so much does the reader of TOML read in a second. A project that
is as large as a file may be has 150,000.
"""


def _entries(text: str) -> int:
    """About how much there is in a file to be read."""
    return text.count("=") + text.count(",") + 4 * text.count("\n[")


PART = r"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')[ \t]*+"""
DOTTED_KEY = re.compile(rf"(?<![\w-])(?:{PART}\.[ \t]*+)++{PART}(?P<key>[=\]])?")
"""Words with dots between them, and whether they are the key of something."""

MOST_PARTS, MOST_SQUARED, MOST_IN_DEPTH = 60_000, 400_000, 700_000
"""Parts of all keys with dots; their squares, key by key; entries of a file times the parts of its longest key. A
project has keys of three parts, and a full one 54,000 in all. What looks like a key may stand in a note: so none is
refused for itself.
"""


def _too_long_keys(text: str) -> bool:
    """Whether a file has keys of so many parts that the reader of TOML, which makes tables of them, would take long."""
    parts = [m[0].count(".") + 1 for m in DOTTED_KEY.finditer(text) if m["key"]]
    deep = max(parts, default=0) * _entries(text) > MOST_IN_DEPTH
    return deep or sum(parts) > MOST_PARTS or sum(n * n for n in parts) > MOST_SQUARED


def _is_flat(data: object, deepest: int) -> bool:
    """Whether data is nested no deeper than that. Raises ValueError for a whole number that could not be shown."""
    if not isinstance(data, dict | list):
        if isinstance(data, int) and data.bit_length() > LONGEST_BITS:
            raise ValueError
        return True
    inside = data.values() if isinstance(data, dict) else data
    return deepest > 0 and all(_is_flat(value, deepest - 1) for value in inside)


CALLED_BEFORE = {
    "fabric_rating": "fabric",
    "knitting_rating": "comfort",
    "reference_garment": "fitting_garment",
    "stitch_pattern": "swatch",
    "multiple": "pattern_multiple",
    "plus": "pattern_plus",
}
"""How keys and tables are called in files of older formats, where their lines are looked for."""


HEADER = re.compile(r"\s*\[{1,2}\s*([\w-]+)")
ITEM_ID = re.compile(r"\s*id\s*=\s*[\"'](.*?)[\"']")


def line_of(text: str, key: str) -> int | None:
    """The line on which a key of a save stands, found in its text; None where it cannot be told."""
    parts = _parts(key)
    names = "|".join(re.escape(n) for n in (parts[-1], CALLED_BEFORE.get(parts[-1])) if n)
    wanted = re.compile(rf"\s*[\"']?(?:{names})[\"']?\s*=")
    table = parts[0] if len(parts) > 1 else ""
    tables = (table, CALLED_BEFORE.get(table))
    inside = table == ""
    wanted_id = parts[1] if len(parts) > 2 and table in ("yarn", "swatch", "stitch_pattern") else None
    of_old = False  # whether the line stands in a table that was called otherwise
    current_id: str | None = None
    for number, line in enumerate(text.split("\n"), 1):
        if "=" not in line and "[" not in line:
            continue
        header = HEADER.match(line)
        if header:
            inside, of_old = header[1] in tables, header[1] != table
            if not re.match(r"\s*\[{1,2}\s*[\w-]+\s*\.", line):
                current_id = None
            continue
        found_id = ITEM_ID.match(line)
        if found_id:
            current_id = found_id[1]
        in_item = wanted_id is None or current_id == wanted_id or (of_old and table == "stitch_pattern")
        if inside and in_item and wanted.match(line):
            return number
    return None


LENGTHS_OF_SIZES = "grading.rule."


def _parts(key: str) -> list[str]:
    """The parts of a key; one of a length of a size has dots of its own."""
    if key.startswith(LENGTHS_OF_SIZES):
        return ["grading", key.removeprefix(LENGTHS_OF_SIZES)]
    return [p for p in re.split(r"\.|\[\d+\]", key) if p]
