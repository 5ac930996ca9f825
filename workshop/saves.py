"""Project <-> TOML file: durable, versioned, and damage reported by file, line and key.

Files are written whole (:mod:`workshop.files`): the text is made first, written to a temporary file beside the old
one, flushed to the disk and put in its place. One that cannot be read is never overwritten.
"""

import os
import re
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import MISSING, Field, fields, is_dataclass, replace
from difflib import get_close_matches
from functools import cache
from itertools import islice
from math import isfinite
from pathlib import Path
from types import UnionType
from typing import TYPE_CHECKING, Any, Literal, NewType, TypeVar, Union, get_args, get_origin, get_type_hints

from workshop import files, toml_text
from workshop.migrations import MIGRATIONS, stockinette_as_such
from workshop.project import (
    FORMAT,
    MOST,
    MOST_LISTED,
    MOST_PLACES,
    Construction,
    Edging,
    GarmentChoices,
    Neckline,
    Project,
    StitchPattern,
    Swatch,
    Yarn,
)
from workshop.records import record
from workshop.toml_text import Toml
from workshop.visible import NEEDS_A_LOOK, in_lines, in_one_line, shown_path

if TYPE_CHECKING:
    from _typeshed import DataclassInstance

T = TypeVar("T", bound="DataclassInstance")
SUFFIX = ".toml"
LARGEST_BYTES = 1_200_000
"""A project is a few kilobytes; anything this large is another file."""


class BadSave(Exception):
    """A save that cannot be used. ``str()`` is one line: file, line where known, key, what is wrong."""

    def __init__(self, path: Path, what: str, key: str = "", line: int | None = None, title: str = "") -> None:
        where = shown_path(path) + (f", line {line}" if line else "")
        super().__init__(in_one_line(f"{where}: {key}: {what}" if key else f"{where}: {what}"))
        self.path, self.what, self.key, self.line, self.title = path, what, key, line, title


class NewerSave(BadSave):
    """A save of a newer workshop: nothing is wrong with it."""


def without_file(fault: str, path: Path) -> str:
    """What is wrong with a file, without the file and its folder."""
    return fault.removeprefix(shown_path(path)).lstrip(":, ")


# ── reading ──────────────────────────────────────────────────────────────────────────────────────────


def load(path: Path) -> Project:
    """The project in a file. Raises BadSave."""
    return parsed(text_of(path), path)


def text_of(path: Path) -> str:
    """The text of the file of a project. Raises BadSave."""
    try:
        return files.read_text(path, LARGEST_BYTES)
    except files.FileFault as error:
        raise BadSave(path, str(error)) from None


def parsed(text: str, path: Path, *, unread: bool = False) -> Project:
    """The project in the text of a file. Raises BadSave. ``unread``: names in it are not looked up yet, which reads
    the records of the core; who opens it so does that with :func:`misnamed`.
    """
    try:
        data = toml_text.read(text)
    except toml_text.Unread as error:
        raise BadSave(path, str(error), line=error.line) from None
    try:
        project = from_data(data, unread=unread)
    except WrongKey as error:
        kind = NewerSave if isinstance(error, NewerFormat) else BadSave
        raise kind(path, error.what, error.key, toml_text.line_of(text, error.key)) from None
    if NEEDS_A_LOOK.search(text):
        project = _cleaned(project)
    return project


def _cleaned(item: T) -> T:
    """A project in whose texts nothing turns a line round, and nothing but notes has several lines; see
    :mod:`workshop.visible`.
    """
    clean = {
        f.name: _value_cleaned(getattr(item, f.name), in_lines if f.name == "notes" else in_one_line)
        for f in fields(item)
        if f.name != "extra"
    }
    return replace(item, **clean)


def _value_cleaned(value: object, clean: Callable[[str], str]) -> object:
    if isinstance(value, str):
        return clean(value)
    if isinstance(value, tuple):
        return tuple(_value_cleaned(one, clean) for one in value)
    return _cleaned(value) if is_dataclass(value) and not isinstance(value, type) else value


class WrongKey(ValueError):
    """A key of a save that does not hold what it should."""

    def __init__(self, key: str, what: str) -> None:
        super().__init__(in_one_line(f"{key}: {what}"))
        self.key, self.what = key, what


class NewerFormat(WrongKey):
    """A format that only a newer workshop reads."""


def from_data(data: Toml, *, unread: bool = False) -> Project:
    """The project in a parsed file of any format up to this one. Raises WrongKey."""
    version = data.get("format")
    if version is None:
        raise WrongKey("format", f"is missing. A project begins with 'format = {FORMAT}'")
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise WrongKey("format", f"is {_shown(version)}. It should be a whole number from 1 to {FORMAT}")
    if version > FORMAT:
        raise NewerFormat("format", f"is {version}, from a newer workshop. This one reads up to {FORMAT}")
    for key, inner in (("yarn", Yarn), ("swatch", Swatch), ("stitch_pattern", StitchPattern)):
        if isinstance(listed := data.get(key), list):  # before older formats are brought up
            _check_how_many(listed, inner, key)
    for step in range(version, FORMAT):
        data = MIGRATIONS[step](data)
    data = stockinette_as_such(data)
    project: Project = _build(Project, {**data, "format": version}, "")
    _check_ids(project)
    wrong = None if unread else misnamed(project)
    if wrong is not None:
        raise wrong
    return project


def _build(cls: Any, data: Toml, where: str) -> Any:
    """A dataclass from a table; keys that it does not know go into ``extra``."""
    hints = _hints(cls)
    known = {f.name: f for f in fields(cls) if f.name != "extra"}
    values: Toml = {}
    extra: Toml = {}
    for key, value in data.items():
        if key in known:
            values[key] = _value(hints[key], value, f"{where}{key}")
        else:
            extra[key] = value
    for name, f in known.items():
        if name not in values and f.default is MISSING and f.default_factory is MISSING:
            near = get_close_matches(name, [key[:LONGEST_MEANT] for key in islice(extra, MOST_MEANT)], 1)
            hint = f". Did you write it as '{near[0]}'?" if near else ""
            raise WrongKey(f"{where}{name}", f"is missing{hint}")
    if "extra" in hints:
        values["extra"] = extra
    elif extra:
        raise WrongKey(f"{where}{next(iter(extra))}", f"isn't a key here. The keys are {', '.join(known)}")
    return cls(**values)


_hints = cache(get_type_hints)


MOST_MEANT, LONGEST_MEANT = 20, 60
"""Unknown keys that are told one by one, with what may have been meant, and how much of one is looked at."""


def strange_keys(project: Project) -> tuple[str, ...]:
    """A line for each key that the workshop does not know, with the one that may have been meant; they are kept.

    Of very many the first are told so, and the others counted.
    """
    named: list[tuple[str, Any]] = [("", project), *((f"yarn.{y.id}.", y) for y in project.yarn)]
    named += [(f"swatch.{s.id}.", s) for s in project.swatch]
    named += [(f"stitch_pattern.{p.id}.", p) for p in project.stitch_pattern]
    named += [
        (f"{name}.", getattr(project, name)) for name in ("body", "reference_garment", "fit", "garment", "design")
    ]
    strange = [(where, item, key) for where, item in named for key in getattr(item, "extra", {})]
    lines = []
    for where, item, key in strange[:MOST_MEANT]:
        meant = _meant(key, [f.name for f in fields(item) if f.name != "extra"]) or "."
        lines.append(in_one_line(f"{where}{key}: isn't a key that the workshop reads{meant} It's kept as it is."))
    if (others := len(strange) - MOST_MEANT) > 0:
        lines += [f"The workshop doesn't read {others:,} more keys either. They're kept as they are."]
    return tuple(lines)


def _value(hint: Any, value: object, key: str) -> object:
    """A TOML value as the type that a field declares; names of records are texts here. Raises WrongKey."""
    origin, args = get_origin(hint), get_args(hint)
    if origin in (Union, UnionType):
        return _value(next(a for a in args if a is not type(None)), value, key)
    if origin is Literal:
        if value not in args or isinstance(value, bool):
            raise _none_of(args, value, key)
        return value
    if isinstance(hint, NewType):
        return _value(hint.__supertype__, value, key)
    if origin is tuple:
        return _tuple(args[0], value, key)
    if is_dataclass(hint):
        if not isinstance(value, dict):
            raise WrongKey(key, f"is {_shown(value)}. It should be a table")
        return _build(hint, value, f"{key}.")
    if origin is not None:  # a mapping of words to words
        if not isinstance(value, dict) or not all(isinstance(v, str) for v in value.values()):
            raise WrongKey(key, "should be a table of texts")
        return {in_one_line(name): in_lines(text) for name, text in value.items()}
    return _scalar(hint, value, key)


def _none_of(known: Iterable[object], value: object, key: str) -> WrongKey:
    names = [str(name) for name in known]
    meant = _meant(str(value), names, "'")
    return WrongKey(key, f"is {_shown(value)}. It should be one of {', '.join(names)}{meant}")


def _meant(name: str, known: Iterable[str], quote: str = "") -> str:
    """The name that was probably meant, as a question; empty where none is near."""
    near = get_close_matches(name[:LONGEST_MEANT], list(known), 1)
    return f". Did you mean {quote}{near[0]}{quote}?" if near else ""


def misnamed(project: Project) -> WrongKey | None:
    """What is wrong with the names of constructions, necklines, edgings and stitch patterns in a project, or None."""
    from workshop.core.constructions import CONSTRUCTIONS
    from workshop.core.edgings import EDGINGS
    from workshop.core.necklines import NECKLINES

    records: tuple[tuple[object, Iterable[str]], ...]
    records = ((Construction, CONSTRUCTIONS), (Neckline, NECKLINES), (Edging, EDGINGS))
    for name, hint in _hints(GarmentChoices).items():
        value = getattr(project.garment, name)
        known = next((names for kind, names in records if kind in get_args(hint)), None)
        if known is not None and value is not None and value not in known:
            return _none_of(known, value, f"garment.{name}")
    try:
        _check_patterns(project)
    except WrongKey as error:
        return error
    return None


def _tuple(inner: Any, value: object, key: str) -> tuple[object, ...]:
    if not isinstance(value, list):
        raise WrongKey(key, f"is {_shown(value)}. It should be a list")
    _check_how_many(value, inner, key)
    out = []
    for i, item in enumerate(value):
        name = f"{key}[{i + 1}]"
        if isinstance(item, dict) and isinstance(item.get("id"), str):
            name = f"{key}.{item['id']}"
        out.append(_value(inner, item, name))
    return tuple(out)


def _check_how_many(listed: list[object], inner: object, key: str) -> None:
    most = MOST.get(inner, MOST_LISTED) if isinstance(inner, type) else MOST_LISTED
    if len(listed) > most:
        raise WrongKey(key, f"there are {len(listed):,} of these. At most {most:,} are read")


def _scalar(hint: type, value: object, key: str) -> object:
    wanted = {str: "text in quotes", int: "a whole number", float: "a number", bool: "true or false"}[hint]
    if hint is bool and isinstance(value, bool):
        return value
    if hint is bool or isinstance(value, bool) or not isinstance(value, (int, float) if hint is float else hint):
        raise WrongKey(key, f"is {_shown(value)}. It should be {wanted}")
    if isinstance(value, str):
        odd = next((c for c in value if unicodedata.category(c) == "Cc" and c not in "\n\t"), None)
        if odd is not None:
            raise WrongKey(key, f"has a control character (U+{ord(odd):04X}). Use plain text")
    if isinstance(value, int | float):
        if not _sane(value):
            raise WrongKey(key, f"is {_shown(value)}. It should be a number that can be measured")
        return float(value) if hint is float else value
    return value


def _sane(value: float) -> bool:
    """Finite, and not beyond anything measured in knitting."""
    return abs(value) < 1e9 and isfinite(value)


def _shown(value: object) -> str:
    if isinstance(value, int) and abs(value) >= 10**40:
        return "a number of more than 40 digits"
    text = in_one_line(f"'{value[:80]}'" if isinstance(value, str) else str(value))
    return text if len(text) <= 40 else text[:39] + "…"


def _check_ids(project: Project) -> None:
    for table, items in (
        ("yarn", project.yarn),
        ("swatch", project.swatch),
        ("stitch_pattern", project.stitch_pattern),
    ):
        seen: set[str] = set()
        for item in items:
            if not item.id or len(item.id) > 40 or not item.id.isprintable():
                raise WrongKey(f"{table}.id", f"is {_shown(item.id)}. It should be a short name")
            if item.id in seen:
                raise WrongKey(f"{table}.{item.id}.id", "is used twice. Each needs its own")
            seen.add(item.id)
    _check_colours(project)
    for swatch in project.swatch:
        for reading in swatch.reading:
            if reading.over_cm <= 0 or reading.count <= 0:
                raise WrongKey(f"swatch.{swatch.id}.reading", "a count and its over_cm should be above zero")
            if reading.place is not None and not 1 <= reading.place <= MOST_PLACES:
                raise WrongKey(
                    f"swatch.{swatch.id}.reading", f"place is {reading.place}. It should be from 1 to {MOST_PLACES}"
                )


def _check_patterns(project: Project) -> None:
    """Whether ids of stitch patterns are free, and those that are named are there."""
    from workshop.core.fabric.patterns import UNTOLD, coming_along, known_patterns

    reserved = {UNTOLD, *coming_along()}
    taken = next((p.id for p in project.stitch_pattern if p.id in reserved), None)
    if taken is not None:
        raise WrongKey(f"stitch_pattern.{taken}.id", "is the id of a pattern that comes with the workshop")
    known, garment = known_patterns(project), project.garment
    named = [(f"swatch.{s.id}.stitch", s.stitch) for s in project.swatch]
    named += [("garment.fabric", garment.fabric)] if garment.fabric is not None else []
    named += [("garment.panel", p.id) for p in garment.panel] + [("garment.band", b.id) for b in garment.band]
    for key, name in named:
        if name not in known:
            raise _none_of(known, name, key)


def _check_colours(project: Project) -> None:
    """Whether colours have letters of their own, and stripes have rows in them."""
    garment, seen = project.garment, set[str]()
    for key, letter in [("colour.id", c.id) for c in garment.colour] + [
        ("stripe.colour", s.colour) for s in garment.stripe
    ]:
        if len(letter) != 1 or not letter.isalpha():
            raise WrongKey(f"garment.{key}", f"is {_shown(letter)}. It should be one letter")
    for colour in garment.colour:
        if colour.id in seen:
            raise WrongKey(f"garment.colour.{colour.id}.id", "is used twice. Each color needs its own letter")
        seen.add(colour.id)
    if any(stripe.rows < 1 for stripe in garment.stripe):
        raise WrongKey("garment.stripe.rows", "should be a whole number of rows, at least 1")


# ── writing ──────────────────────────────────────────────────────────────────────────────────────────


def to_data(project: Project) -> Toml:
    """A project as plain dictionaries; unanswered keys are left out, unknown ones written back."""
    data: Toml = _table(project)
    return {"format": FORMAT, **{k: v for k, v in data.items() if k != "format"}}


def _table(item: Any) -> Toml:
    out: Toml = {}
    for f in fields(item):
        if f.name == "extra":
            continue
        value = getattr(item, f.name)
        if is_dataclass(value) and not isinstance(value, type):
            table = _table(value)
            if table:
                out[f.name] = table
        elif isinstance(value, tuple):
            if value:
                out[f.name] = [_table(v) if is_dataclass(v) else v for v in value]
        elif isinstance(value, Mapping):
            if value:
                out[f.name] = dict(value)
        elif value is not None and not _left_out(f, value):
            out[f.name] = value
    extra = getattr(item, "extra", {})
    tables_last = {k: v for k, v in extra.items() if k not in out}
    return _tables_last({**out, **tables_last})


ALWAYS_WRITTEN = {"title", "units", "terms", "needle_names"}


def _left_out(f: Field[object], value: object) -> bool:
    """Empty texts and untouched numbers are not worth a line."""
    return value is False or (value == "" and f.name not in ALWAYS_WRITTEN)


def _tables_last(data: Toml) -> Toml:
    """Plain keys before tables, as TOML wants them."""
    return dict(sorted(data.items(), key=lambda kv: isinstance(kv[1], dict) or _is_tables(kv[1])))


def _is_tables(value: object) -> bool:
    return isinstance(value, list) and bool(value) and all(isinstance(v, dict) for v in value)


def dumps(project: Project) -> str:
    """A project as the text of its file."""
    import tomli_w

    return tomli_w.dumps(to_data(project))


class CannotSave(Exception):
    """The disk would not take a save. ``str()`` is one line; the project is still in memory."""


class NoRoom(CannotSave):
    """The disk is full."""


class TooLarge(CannotSave):
    """A project that could not be read again."""


def text_for(project: Project, path: Path) -> str:
    """A project as the text of its file, which can be read again. Raises TooLarge."""
    text = dumps(project)
    size = len(text.encode("utf-8", "surrogatepass"))
    if size > LARGEST_BYTES:
        what = f"would be {size:,} bytes with that, and couldn't be opened again. It can have at most {LARGEST_BYTES:,}"
        raise TooLarge(f"{shown_path(path)}: {what}")
    if _has_too_many(project) or not toml_text.is_read(text):
        raise TooLarge(f"{shown_path(path)}: would hold more than the workshop reads, so it couldn't be opened again")
    return text


def _has_too_many(item: object) -> bool:
    """Whether a list of a project is longer than it is read."""
    for value in (getattr(item, f.name) for f in fields(item)):  # type: ignore[arg-type]
        if isinstance(value, tuple) and value and is_dataclass(value[0]):
            if len(value) > MOST.get(type(value[0]), MOST_LISTED) or any(map(_has_too_many, value)):
                return True
        elif is_dataclass(value) and _has_too_many(value):
            return True
    return False


def save(project: Project, path: Path, *, new: bool = False) -> None:
    """Write a project so that the file is, at every moment, either the old one or the new one.

    ``new``: only where there is no such file yet. Raises CannotSave, and then AlreadyThere where there is one.
    """
    write(text_for(project, path), path, new=new)


def write(text: str, path: Path, *, new: bool = False) -> None:
    """The same for the text of a project."""
    try:
        files.write(path, text, new=new)
    except files.AlreadyThere:
        raise
    except files.FileFault as error:
        kind = NoRoom if isinstance(error, files.DiskFull) else CannotSave
        raise kind(in_one_line(f"{shown_path(path)}: {error}")) from error


# ── places ───────────────────────────────────────────────────────────────────────────────────────────

FOLDER_VARIABLE = "WORKSHOP_SAVES"


def default_folder() -> Path:
    """Where projects are saved: WORKSHOP_SAVES, else ``saves/`` of a checkout, else ``~/jumper-workshop``.

    The install that the README makes in ``.run`` of a checkout belongs to that checkout, wherever it is started.
    """
    named = os.environ.get(FOLDER_VARIABLE)
    if named:
        return Path(named).expanduser()
    checkout = Path(__file__).resolve().parent.parent
    if checkout.name == ".run":
        checkout = checkout.parent
    if (checkout / "pyproject.toml").is_file() and (checkout / "saves" / "README.md").is_file():
        return checkout / "saves"
    return Path.home() / "jumper-workshop"


def demo_folder() -> Path:
    """Where the demo projects are: beside the package in a wheel, in ``saves/demo`` of a checkout."""
    inside = Path(__file__).resolve().parent / "demo"
    return inside if inside.is_dir() else Path(__file__).resolve().parent.parent / "saves" / "demo"


def new_path(folder: Path, title: str) -> Path:
    """A file name for a new project, from its title, that no file in the folder has yet."""
    slug = re.sub(r"[^a-z0-9]+", "-", title.casefold()).strip("-")[:50] or "jumper"
    if slug in {"con", "nul", "aux", "prn"}:
        slug += "-jumper"
    candidate, number = folder / f"{slug}{SUFFIX}", 2
    while os.path.lexists(candidate):  # what a link leads to is not ours either
        candidate, number = folder / f"{slug}-{number}{SUFFIX}", number + 1
    return candidate


@record
class Saved:
    """A file in the saves folder: its project, or what is wrong with it."""

    path: Path
    project: Project | None
    fault: str = ""
    title: str = ""

    @property
    def name(self) -> str:
        """The name of the file, for showing."""
        return shown_path(self.path.name)


def list_saves(folder: Path) -> tuple[Saved, ...]:
    """All saves of a folder, last changed first. One that cannot be used, also the folder, is listed with its fault."""
    return tuple(each_save(folder))


def each_save(folder: Path, read: Callable[[Path], Project] = load, *, links: bool = True) -> Iterator[Saved]:
    """The same, each read when it is asked for; without ``links`` only the files that stand in the folder itself."""
    try:
        paths = newest_first(folder, links=links)
    except OSError as error:
        yield Saved(folder, None, in_one_line(f"{shown_path(folder)}: can't be read: {error.strerror or error}"))
        return
    for path in paths:
        try:
            project = read(path)
            yield Saved(path, project, title=project.title)
        except BadSave as error:
            yield Saved(path, None, str(error), error.title)


def newest_first(folder: Path, *, links: bool = True) -> list[Path]:
    """The files of a folder that are projects, last changed first; none where there is no folder. Raises OSError."""
    try:
        return sorted(project_files(folder, links=links), key=_changed_at, reverse=True)
    except FileNotFoundError:
        return []


def project_files(folder: Path, *, links: bool = True) -> list[Path]:
    """Files of a folder that are projects by their names, in the order of these. Raises OSError.

    Files whose names begin with a dot are none: editors and the workshop itself keep theirs so.
    """
    found = (p for p in folder.iterdir() if p.suffix.lower() == SUFFIX and not p.name.startswith("."))
    return sorted(p for p in found if links or not p.is_symlink())


def _changed_at(path: Path) -> float:
    try:
        return path.lstat().st_mtime
    except OSError:  # gone meanwhile: it will be told when it is read
        return 0.0
