"""What a knitter likes in every project: colours and keys. One small TOML file; a fault in it is told, never fatal.

``theme`` is one of :data:`THEMES`; the table ``keys`` gives the keys of an action by its name, for example
``"app.next" = "ctrl+n,f10"``.
"""

import os
import re
import tomllib
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import field
from difflib import get_close_matches
from pathlib import Path

from workshop import files
from workshop.records import record
from workshop.visible import in_one_line, shown_path

LARGEST_BYTES = 100_000
SETTINGS_VARIABLE = "WORKSHOP_SETTINGS"
THEMES = ("dark", "light", "high contrast")


@record
class Settings:
    """Colours and keys. ``fault`` is one line on what in the file could not be used; empty when all could."""

    theme: str = THEMES[0]
    keys: Mapping[str, str] = field(default_factory=dict)
    fault: str = ""


def settings_path() -> Path:
    """Where the file is: WORKSHOP_SETTINGS, else ``jumper-workshop/settings.toml`` in the user's settings folder."""
    named = os.environ.get(SETTINGS_VARIABLE)
    if named:
        return Path(named).expanduser()
    base = os.environ.get("APPDATA" if os.name == "nt" else "XDG_CONFIG_HOME")
    return (Path(base) if base else Path.home() / ".config") / "jumper-workshop" / "settings.toml"


def load(known: Callable[[], Mapping[str, str]]) -> Settings:
    """The settings of the file; ``known`` gives the actions that keys can be given to, with the keys they have now.

    It is asked only where the file gives keys: few do, and it costs every screen there is.
    """
    path = settings_path()
    try:
        data = _read(path)
    except ValueError as error:
        return Settings(fault=in_one_line(f"{shown_path(path)}: {error}. The file isn't used"))
    faults: list[str] = []
    theme = data.get("theme", THEMES[0])
    if theme not in THEMES:
        faults.append(f"theme is {_short(theme)}. It should be one of {', '.join(THEMES)}")
        theme = THEMES[0]
    keys = _keys(data["keys"], known(), faults) if "keys" in data else {}
    return Settings(theme, keys, in_one_line(f"{shown_path(path)}: {faults[0]}") if faults else "")


def _read(path: Path) -> dict[str, object]:
    """The file as plain data; nothing where there is none. Raises ValueError with one line."""
    if not path.exists():
        return {}
    try:
        return tomllib.loads(files.read_text(path, LARGEST_BYTES))
    except files.FileFault as error:
        raise ValueError(str(error)) from None
    except tomllib.TOMLDecodeError as error:
        raise ValueError(f"isn't valid TOML: {error}") from None
    except (ValueError, RecursionError):
        raise ValueError("has values that settings can't have") from None


def _keys(table: object, known: Mapping[str, str], faults: list[str]) -> dict[str, str]:
    """Keys that can be used; what cannot be is told in ``faults``."""
    if not isinstance(table, dict):
        faults.append("keys should be a table of action = 'key'")
        return {}
    found: dict[str, str] = {}
    taken: dict[str, str] = {}
    for name, wanted in table.items():
        if name not in known:
            near = get_close_matches(name, known, 1)
            faults.append(
                f"keys: '{_short(name)[1:-1]}' isn't an action" + (f". Did you mean '{near[0]}'?" if near else "")
            )
        elif not isinstance(wanted, str) or not re.fullmatch(
            r"[a-z0-9_]+(\+[a-z0-9_]+)*(,[a-z0-9_]+(\+[a-z0-9_]+)*)*", wanted
        ):
            told = "Write a key like 'f9' or 'ctrl+n', with commas between several"
            faults.append(f"keys: {name} is {_short(wanted)}. {told}")
        elif strange := next((key for key in wanted.split(",") if not is_key(key)), None):
            faults.append(f"keys: {name}: '{strange}' isn't a key. Write one like 'f9', 'ctrl+n' or 'pagedown'")
        else:
            room = name.partition(".")[0]
            twice = next((k for k in wanted.split(",") if taken.get(f"{room} {k}")), None)
            if twice:
                faults.append(f"keys: {twice} is set for both {taken[f'{room} {twice}']} and {name}")
                continue
            taken.update({f"{room} {k}": name for k in wanted.split(",")})
            found[name] = wanted
    return {name: keys for name, keys in found.items() if not _taken_away(name, keys, found, known, faults)}


HELD = ("ctrl", "shift", "alt", "meta", "super", "hyper")
NAMED = {
    *("escape", "enter", "tab", "space", "backspace", "delete", "insert", "home", "end", "pageup", "pagedown"),
    *("up", "down", "left", "right", "at", "minus", "underscore", "plus", "slash", "backslash"),
    *(f"f{number}" for number in range(1, 25)),
}
"""Keys by their names, beside letters, digits and signs."""


def is_key(name: str) -> bool:
    """Whether there is a key of that name: 'n', 'f9', 'ctrl+shift+up', 'question_mark'."""
    *held, last = name.split("+")
    if not set(held) <= set(HELD):
        return False
    if len(last) == 1 or last in NAMED:
        return True
    try:
        return unicodedata.lookup(last.replace("_", " ")).isprintable()
    except KeyError:
        return False


def _short(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 60 else text[:59] + "…"


def _taken_away(name: str, keys: str, found: Mapping[str, str], known: Mapping[str, str], faults: list[str]) -> bool:
    """Whether keys belong to another action of the same room, which would then have none."""
    room = name.partition(".")[0]
    for other, theirs in known.items():
        shared = set(keys.split(",")) & set(theirs.split(","))
        if other != name and other not in found and other.partition(".")[0] == room and shared:
            faults.append(f"keys: {min(shared)} is already the key of {other}. Give {other} another one too")
            return True
    return False


def save_theme(theme: str) -> str:
    """Remember the colours; all else in the file stays as it is typed. Gives one line on why it could not; empty if it
    could.
    """
    path = settings_path()
    try:
        before = _read(path)
        text = files.read_text(path, LARGEST_BYTES) if path.exists() else ""
        files.write(path, _with_theme(text, before, theme))
    except (files.FileFault, ValueError, RecursionError, OSError) as error:
        return f"{shown_path(path)}: {error}"
    return ""


THEME_LINE = re.compile(
    r"""^([ \t]*(?:theme|"theme"|'theme')[ \t]*=[ \t]*)("[^"\n]*"|'[^'\n]*'|[^\s#"']+)""", re.MULTILINE
)


def _with_theme(text: str, before: dict[str, object], theme: str) -> str:
    """The text of a settings file with other colours, in which nothing else has changed. Raises ValueError."""
    wanted = {**before, "theme": theme}
    new = f'"{theme}"'
    tries = [text[: m.start()] + m[1] + new + text[m.end() :] for m in THEME_LINE.finditer(text)]
    for changed in (*tries, f"theme = {new}\n{text}"):
        try:
            if tomllib.loads(changed) == wanted:
                return changed
        except tomllib.TOMLDecodeError:
            continue
    raise ValueError(f"the line for the theme couldn't be changed. Type it there yourself: theme = {new}")
