"""Sentences of the instructions that stand by themselves, from texts.toml."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from workshop.tables import part


@cache
def texts(about: str) -> Mapping[str, str]:
    """All sentences about one thing, by name."""
    return part(Path(__file__).with_suffix(".toml"), about)
