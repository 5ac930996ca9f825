"""The step Gauge: counts off the needles."""

from workshop.app.screens.step import StepScreen
from workshop.questions import Group


class GaugeScreen(StepScreen):
    """Counts off the needles."""

    STEP = "gauge"
    CSS_PATH = ["step.tcss", "gauge.tcss"]

    def buttons_for(self, group: Group | None) -> list[tuple[str, str]]:
        """Counting can be practised first."""
        return [("practise", "Practise counting on a drawn swatch")] if group is None else []

    def act(self, action: str) -> None:
        """Open the practice swatch."""
        from workshop.app.screens.practice import PracticeDialog

        self.app.push_screen(PracticeDialog(self.session.project))
