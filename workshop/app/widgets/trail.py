"""The seven steps in one line, each with its state as a sign and a word, never by colour alone."""

from collections.abc import Sequence

from textual.content import Content
from textual.widgets import Static

from workshop.progress import Progress
from workshop.project import Terms
from workshop.questions.steps import step
from workshop.words.phrase import in_terms

SIGNS = {"to do": "·", "under way": "…", "done": "✓", "look again": "!"}
"""One sign for each state; the list of steps (F4) and the help spell them out."""


class Trail(Static):
    """Where the knitter is, and how far each step has come."""

    def show(self, steps: Sequence[Progress], current: str, terms: Terms, *, narrow: bool) -> None:
        """Show the steps; in a narrow window only the current one has its name."""
        parts: list[Content] = []
        after = " " if terms == "us" else ""  # "tension" is longer than "gauge", and there is no column to spare
        for item in steps:
            about = step(item.name)
            here = item.name == current
            name = f" {in_terms(about.title, terms)}" if here or not narrow else ""
            text = f"{about.number}{name} {SIGNS[item.state]}"
            style = "bold reverse" if here else "bold" if item.state == "look again" else ""
            parts.append(Content.styled(f" {text}{after}", style))
        self.update(Content("").join(parts), layout=False)
