"""The step Gauge: counts off the needles."""

from workshop.app.screens.step import StepScreen


class GaugeScreen(StepScreen):
    """Counts off the needles."""

    STEP = "gauge"
    CSS_PATH = ["step.tcss", "gauge.tcss"]
