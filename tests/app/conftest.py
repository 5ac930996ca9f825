"""What all tests of the app share."""

import asyncio

import pytest
from textual._compositor import Compositor
from textual.css.model import RuleSet
from textual.css.stylesheet import Stylesheet

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
def rest_is_seen_by_the_loop(monkeypatch: pytest.MonkeyPatch) -> None:
    """The toolkit's pilot sleeps until its process has done little for 20 ms, after each key and at each pause.

    Whether there is anything left to be called the loop knows at once.
    """

    async def idle(*_seconds: float) -> None:
        ready = asyncio.get_running_loop()._ready  # type: ignore[attr-defined]
        still = 0
        while still < 3:
            await asyncio.sleep(0)
            still = 0 if ready else still + 1

    monkeypatch.setattr("textual.pilot.wait_for_idle", idle)
    monkeypatch.setattr("textual.app.wait_for_idle", idle)
