"""The steps as a knitter reads their names: the one place where Gauge becomes Tension, on every screen and in print."""

from workshop.project import Terms
from workshop.steps import step
from workshop.words.phrase import in_terms


def title_of(name: str, terms: Terms) -> str:
    """The title of a step in the terms of a country; its name in files and commands stays."""
    return in_terms(step(name).title, terms)


def what_of(name: str, terms: Terms) -> str:
    """What a step is for, in one line."""
    return in_terms(step(name).what, terms)
