"""What a knitter likes in every project: colours and keys. One small TOML file; a fault in it is told, never fatal.

``theme`` is one of :data:`THEMES`; the table ``keys`` gives the keys of an action by its name, for example
``"app.next" = "ctrl+n,f10"``.
"""

import os
import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from pathlib import Path

SETTINGS_VARIABLE = "WORKSHOP_SETTINGS"
THEMES = ("dark", "light", "high contrast")


@dataclass(frozen=True, slots=True)
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
        return Settings(fault=f"{path}: {error}; it is not used")
    faults: list[str] = []
    theme = data.get("theme", THEMES[0])
    if theme not in THEMES:
        faults.append(f"theme is {theme!r}; it should be one of {', '.join(THEMES)}")
        theme = THEMES[0]
    keys = _keys(data["keys"], known(), faults) if "keys" in data else {}
    return Settings(theme, keys, f"{path}: {faults[0]}" if faults else "")


def _read(path: Path) -> dict[str, object]:
    """The file as plain data; nothing where there is none. Raises ValueError with one line."""
    try:
        return tomllib.loads(path.read_bytes().decode("utf-8-sig"))
    except FileNotFoundError:
        return {}
    except tomllib.TOMLDecodeError as error:
        raise ValueError(f"is not sound TOML: {error}") from None
    except UnicodeDecodeError:
        raise ValueError("is not UTF-8 text") from None
    except OSError as error:
        raise ValueError(f"cannot be read: {error.strerror or error}") from None


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
            faults.append(f"keys: '{name}' is no action" + (f"; did you mean '{near[0]}'?" if near else ""))
        elif not isinstance(wanted, str) or not re.fullmatch(
            r"[a-z0-9_]+(\+[a-z0-9_]+)*(,[a-z0-9_]+(\+[a-z0-9_]+)*)*", wanted
        ):
            faults.append(f"keys: {name} is {wanted!r}; a key is written like 'f9' or 'ctrl+n', several with commas")
        else:
            room = name.partition(".")[0]
            twice = next((k for k in wanted.split(",") if taken.get(f"{room} {k}")), None)
            if twice:
                faults.append(f"keys: {twice} is given to {taken[f'{room} {twice}']} and to {name}")
                continue
            taken.update({f"{room} {k}": name for k in wanted.split(",")})
            found[name] = wanted
    return {name: keys for name, keys in found.items() if not _taken_away(name, keys, found, known, faults)}


def _taken_away(name: str, keys: str, found: Mapping[str, str], known: Mapping[str, str], faults: list[str]) -> bool:
    """Whether keys belong to another action of the same room, which would then have none."""
    room = name.partition(".")[0]
    for other, theirs in known.items():
        shared = set(keys.split(",")) & set(theirs.split(","))
        if other != name and other not in found and other.partition(".")[0] == room and shared:
            faults.append(f"keys: {min(shared)} is the key of {other}; give {other} another one too")
            return True
    return False


def save_theme(theme: str) -> str:
    """Remember the colours; what else is in the file stays. Gives one line on why it could not; empty if it could."""
    import tomli_w

    path = settings_path()
    try:
        text = tomli_w.dumps({**_read(path), "theme": theme})
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_name(f".{path.name}.part")
        part.write_text(text, encoding="utf-8", newline="\n")
        part.replace(path)
    except (OSError, ValueError) as error:
        return f"{path}: {error}"
    return ""
