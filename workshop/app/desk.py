"""What all screens have before them: the project at work, the settings, and what they share of one evening."""

from dataclasses import dataclass
from pathlib import Path

from workshop.session import Session
from workshop.settings import Settings


@dataclass(slots=True)
class Desk:
    """One evening's work."""

    session: Session
    folder: Path
    settings: Settings
    back_again: bool = False
    """A saved project has just been opened and nothing has been answered since."""
    unread: bool = False
    """The answers of the project were not looked at yet: that takes the core, which is read after the first paint."""
    refused: bool = False
    """The project cannot be opened: one of its answers could not have been given."""
