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
        texts = [self._text(item, current, terms, narrow=narrow) for item in steps]
        room = self.app.size.width + 1  # the blank behind the last one may fall off
        after = " " if sum(len(text) + 2 for text in texts) <= room else ""
        parts: list[Content] = []
        for item, text in zip(steps, texts, strict=True):
            style = "bold reverse" if item.name == current else "bold" if item.state == "look again" else ""
            parts.append(Content.styled(f" {text}{after}", style))
        self.update(Content("").join(parts), layout=False)

    @staticmethod
    def _text(item: Progress, current: str, terms: Terms, *, narrow: bool) -> str:
        about = step(item.name)
        name = f" {in_terms(about.title, terms)}" if item.name == current or not narrow else ""
        return f"{about.number}{name} {SIGNS[item.state]}"
