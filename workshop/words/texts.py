"""Sentences of the instructions that stand by themselves, from texts.toml."""

import tomllib
from collections.abc import Mapping
from functools import cache
from pathlib import Path


@cache
def _all() -> Mapping[str, Mapping[str, str]]:
    return tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8"))


def texts(about: str) -> Mapping[str, str]:
    """All sentences about one thing, by name."""
    return _all()[about]
