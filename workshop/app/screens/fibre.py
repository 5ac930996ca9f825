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
        yarns = self.session.project.yarn
        if group is None:
            return []
        if not group.name and not yarns:
            return [("add", "Add the yarn")]
        if not group.name.startswith("yarn."):
            return []
        found = [(f"remove {letter(group)}", "Take this yarn out")]
        if letter(group) == yarns[-1].id:
            found.append(("add", "Add another yarn to choose from"))
        return found

    def asks_first(self, action: str) -> str:
        """Taking a yarn out takes its band with it."""
        verb, _, name = action.partition(" ")
        if verb != "remove":
            return ""
        yarn = next(y for y in self.session.project.yarn if y.id == name)
        swatches = [s.id for s in self.session.project.swatch if s.yarn == name]
        stay = f" Its swatches ({', '.join(swatches)}) stay and will ask for another yarn." if swatches else ""
        return f"Take yarn {name}{f' ({yarn.name})' if yarn.name else ''} out, with all that its band says?{stay}"

    def act(self, action: str) -> None:
        """Add or remove."""
        if action == "add":
            self.session.change(add_yarn(self.session.project))
        elif action.startswith("remove "):
            self.session.change(remove_yarn(self.session.project, action.removeprefix("remove ")))
