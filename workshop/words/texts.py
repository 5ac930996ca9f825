"""Sentences of the instructions that stand by themselves, from texts.toml."""

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from workshop.tables import Parts


@cache
def _all() -> Mapping[str, Mapping[str, str]]:
    return Parts(Path(__file__).with_suffix(".toml"))


def texts(about: str) -> Mapping[str, str]:
    """All sentences about one thing, by name."""
    return _all()[about]
