"""The smallest Textual app, the measure of all others: one line of text."""

from textual.app import App, ComposeResult
from textual.widgets import Static


class Smallest(App[None]):
    def compose(self) -> ComposeResult:
        yield Static("hi there")


if __name__ == "__main__":
    Smallest().run()
