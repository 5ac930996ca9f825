"""The step Wash: counts after the wash, and the choice of the swatch."""

from workshop.app.screens.step import StepScreen


class WashScreen(StepScreen):
    """Counts after the wash, and the choice of the swatch."""

    STEP = "wash"
    CSS_PATH = ["step.tcss", "wash.tcss"]
