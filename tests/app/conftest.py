"""What all tests of the app share."""

import pytest
from textual._compositor import Compositor


@pytest.fixture(autouse=True)
def painted_at_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    """No terminal shows these screens: they are painted whole where they come to rest (``settle``) and are looked at.

    What is painted on the way there takes a third of the time, and nobody sees it.
    """

    def later(self: Compositor, **_asked: object) -> None:
        self._dirty_regions.clear()

    monkeypatch.setattr(Compositor, "render_update", later)
