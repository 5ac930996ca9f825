"""What all tests of the app share."""

import asyncio

import pytest
from textual._compositor import Compositor
from textual._context import active_app
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet

from tests.app.helpers import moves

PARSED: dict[tuple[object, ...], list[RuleSet]] = {}
"""Rules of styles, by their text and the colours of the theme: every app of a test session has the same."""


@pytest.fixture(autouse=True)
def painted_at_rest(monkeypatch: pytest.MonkeyPatch) -> None:
    """No terminal shows these screens: they are painted whole where they come to rest (``settle``) and are looked at.

    What is painted on the way there takes a third of the time, and nobody sees it.
    """

    def later(self: Compositor, **_asked: object) -> None:
        self._dirty_regions.clear()

    monkeypatch.setattr(Compositor, "render_update", later)


@pytest.fixture(autouse=True)
def styles_parsed_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A style sheet is parsed in the first app that reads it; the others take its rules, as one app does twice."""
    parse = Stylesheet._parse_rules

    def known(self: Stylesheet, css: str, *place: object, **more: object) -> list[RuleSet]:
        key = (css, place, tuple(more.items()), tuple(self._variables.items()))
        if key not in PARSED:
            PARSED[key] = parse(self, css, *place, **more)
        return PARSED[key]

    monkeypatch.setattr(Stylesheet, "_parse_rules", known)


@pytest.fixture(autouse=True)
def rest_is_what_the_app_says(monkeypatch: pytest.MonkeyPatch) -> None:
    """The toolkit waits until the machine is idle, in steps of 20 ms, twice for each key; the app knows sooner."""

    async def at_rest(*_times: float) -> None:
        app, still = active_app.get(), 0
        for _ in range(500):
            await asyncio.sleep(0)
            still = 0 if moves(app) else still + 1
            if still == 4:
                return
            if app.screen_stack:
                app.screen._on_timer_update()

    monkeypatch.setattr("textual.app.wait_for_idle", at_rest)
    monkeypatch.setattr("textual.pilot.wait_for_idle", at_rest)
