"""Which screen belongs to which step; modules are imported when their screen is first opened."""

from importlib import import_module

from textual.screen import Screen

SCREENS = {
    "fibre": "FibreScreen",
    "swatch": "SwatchScreen",
    "gauge": "GaugeScreen",
    "wash": "WashScreen",
    "measure": "MeasureScreen",
    "shape": "ShapeScreen",
    "summary": "SummaryScreen",
}


def screen_for(step: str) -> Screen[None]:
    """A new screen for a step. Raises KeyError for a name that is none."""
    module = import_module(f"workshop.app.screens.{step}")
    screen: Screen[None] = getattr(module, SCREENS[step])()
    return screen
