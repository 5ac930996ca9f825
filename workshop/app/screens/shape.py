"""The step Shape: construction, lengths and edgings."""

from workshop.app.screens.step import StepScreen


class ShapeScreen(StepScreen):
    """Construction, lengths and edgings."""

    STEP = "shape"
    CSS_PATH = ["step.tcss", "shape.tcss"]
