"""The seven steps in one line, each with its state as a sign and a word, never by colour alone."""

from collections.abc import Mapping

from textual.content import Content
from textual.widgets import Static

from workshop.app.desk import Desk
from workshop.project import Terms
from workshop.steps import Step, steps

SIGNS = {"to do": "·", "under way": "…", "done": "✓", "look again": "!", "": " "}
"""One sign for each state, none while it is not known; the list of steps (F4) and the help spell them out."""


class Trail(Static):
    """Where the knitter is, and how far each step has come."""

    def __init__(self, desk: Desk, current: str | None) -> None:
        """The steps by their names; how far each has come is told later."""
        self._desk = desk
        super().__init__(self._told(current, {}), id="trail")

    def show(self, current: str | None, states: Mapping[str, str]) -> None:
        """Show the steps with what is known of their states; in a narrow window only the current one has its name."""
        self.update(self._told(current, states), layout=False)

    def _told(self, current: str | None, states: Mapping[str, str]) -> Content:
        terms, width = self._desk.session.project.terms, self.app.size.width
        texts = [_text(s, states.get(s.name, ""), terms, named=s.name == current or width >= WIDE) for s in steps()]
        after = " " if sum(len(text) + 2 for text in texts) <= width + 1 else ""  # the last blank may fall off
        parts: list[Content] = []
        for item, text in zip(steps(), texts, strict=True):
            look_again = states.get(item.name) == "look again"
            style = "bold reverse $text-accent" if item.name == current else "bold $text-warning" if look_again else ""
            parts.append(Content.styled(f" {text}{after}", style))
        return Content("").join(parts)


WIDE = 80
"""Columns from which all steps have their names."""


def _text(about: Step, state: str, terms: Terms, *, named: bool) -> str:
    title = about.title
    if terms == "uk":
        from workshop.words.titles import title_of  # reads tables, which nobody else needs before the first paint

        title = title_of(about.name, terms)
    return f"{about.number}{f' {title}' if named else ''} {SIGNS[state]}"
