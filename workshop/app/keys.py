"""Keys as they are declared: with a name for the settings, a word for the foot, and a line for the help."""

from textual.binding import Binding
from textual.keys import format_key


def shown(name: str, keys: str, action: str, word: str, does: str, *, first: bool = False) -> Binding:
    """Keys that may stand at the foot of the screen. ``first``: before the widget that has the focus sees them."""
    return Binding(with_capitals(keys), action, word, id=name, tooltip=does, priority=first)


def with_capitals(keys: str) -> str:
    """Keys with the capital of each letter: the foot prints capitals, and Caps Lock is easily left on."""
    return ",".join(f"{key},{key.upper()}" if len(key) == 1 and key.isalpha() else key for key in keys.split(","))


PRINTED = {
    "pageup": "PgUp", "pagedown": "PgDn", "escape": "Esc", "delete": "Del", "insert": "Ins",
    "up": "↑", "down": "↓", "left": "←", "right": "→",
}  # fmt: skip
"""What is printed on keys that go by another name in the code; other names only get a capital."""


def printed(key: str) -> str:
    """Keys by what is printed on them: "Ctrl+N", "PgUp", "F1"."""
    return "+".join(
        PRINTED.get(part) or (key_sign(part) if "_" in part else part.capitalize()) for part in key.split("+")
    )


def key_sign(name: str) -> str:
    """The sign of a key with a long name: "question_mark" is "?"."""
    return format_key(name)


def hidden(name: str, keys: str, action: str, word: str, does: str, *, first: bool = False) -> Binding:
    """Keys that stand in the help only."""
    return Binding(with_capitals(keys), action, word, id=name, tooltip=does, priority=first, show=False)
