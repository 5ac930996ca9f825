"""The step Measure: body, fit and finished measurements."""

from workshop.app.screens.step import StepScreen


class MeasureScreen(StepScreen):
    """Body, fit and finished measurements."""

    STEP = "measure"
    CSS_PATH = ["step.tcss", "measure.tcss"]
