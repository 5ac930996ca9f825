"""The step Gauge: counts off the needles."""

from workshop.app.screens.step import StepScreen


class GaugeScreen(StepScreen):
    """Counts off the needles."""

    STEP = "gauge"
    CSS_PATH = ["step.tcss", "gauge.tcss"]

    def lead_buttons(self) -> list[tuple[str, str]]:
        """Counting can be practised first."""
        return [("practise", "Practise on a drawn swatch")]

    def act(self, action: str) -> None:
        """Open the practice swatch."""
        self.workshop.practise()
