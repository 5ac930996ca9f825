"""The step Swatch: needles, pattern, and what to knit."""

from workshop.app.screens.step import StepScreen, letter
from workshop.questions import Group
from workshop.questions.swatch import add_swatch, add_swatches, remove_swatch
from workshop.words.phrase import counted


class SwatchScreen(StepScreen):
    """Swatches to knit."""

    STEP = "swatch"
    CSS_PATH = ["step.tcss", "swatch.tcss"]

    def buttons_for(self, group: Group | None) -> list[tuple[str, str]]:
        """Three swatches at once for every yarn that has none; one more; one less."""
        project = self.session.project
        if group is not None:
            return [(f"remove {letter(group)}", "Take this swatch out")] if "." in group.name else []
        found = []
        for view in self.session.plan.yarns:
            if view.swatch_mm and not any(s.yarn == view.yarn.id for s in project.swatch):
                named = f" of {view.yarn.name or view.yarn.id}" if len(project.yarn) > 1 else ""
                found.append((f"three {view.yarn.id}", f"Plan three swatches{named}"))
        return [*found, ("add", "Add one swatch")]

    def asks_first(self, action: str) -> str:
        """Taking a swatch out takes its counts with it."""
        verb, _, name = action.partition(" ")
        swatch = self.session.project.swatch_by_id(name)
        if verb != "remove" or swatch is None:
            return ""
        counts = len(swatch.reading)
        lost = f" Its {counted(counts, 'count')} and its notes go with it." if counts else ""
        return f"Take swatch {name} out?{lost} The other swatches keep their letters and marks."

    def act(self, action: str) -> None:
        """Add or remove."""
        project = self.session.project
        if action == "add":
            self.session.change(add_swatch(project))
        elif action.startswith("remove "):
            self.session.change(remove_swatch(project, action.removeprefix("remove ")))
        elif action.startswith("three "):
            yarn_id = action.removeprefix("three ")
            view = next(v for v in self.session.plan.yarns if v.yarn.id == yarn_id)
            self.session.change(add_swatches(project, yarn_id, view.swatch_mm))
