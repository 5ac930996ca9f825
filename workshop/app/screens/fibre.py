"""The step Fibre: the knitter and the candidate yarns."""

from workshop.app.screens.step import StepScreen, letter
from workshop.questions import Group
from workshop.questions.fibre import add_yarn, remove_yarn


class FibreScreen(StepScreen):
    """Yarns as their bands describe them."""

    STEP = "fibre"
    CSS_PATH = ["step.tcss", "fibre.tcss"]

    def buttons_for(self, group: Group | None) -> list[tuple[str, str]]:
        """Add a yarn; take one out."""
        if group is None:
            return [("add", "Add a yarn to choose from" if self.session.project.yarn else "Add the yarn")]
        if group.name.startswith("yarn."):
            return [(f"remove {letter(self.session.project, group)}", "Take this yarn out")]
        return []

    def act(self, action: str) -> None:
        """Add or remove."""
        if action == "add":
            self.session.change(add_yarn(self.session.project))
        elif action.startswith("remove "):
            self.session.change(remove_yarn(self.session.project, action.removeprefix("remove ")))
