"""Keys as they are declared: with a name for the settings, a word for the foot, and a line for the help."""

from textual.binding import Binding


def shown(name: str, keys: str, action: str, word: str, does: str, *, first: bool = False) -> Binding:
    """Keys that may stand at the foot of the screen. ``first``: before the widget that has the focus sees them."""
    return Binding(keys, action, word, id=name, tooltip=does, priority=first)


def hidden(name: str, keys: str, action: str, word: str, does: str, *, first: bool = False) -> Binding:
    """Keys that stand in the help only."""
    return Binding(keys, action, word, id=name, tooltip=does, priority=first, show=False)
