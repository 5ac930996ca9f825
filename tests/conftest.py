"""What all tests share: a clean environment, a project to start from, readable screens."""

import gc
import os
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from syrupy.assertion import SnapshotAssertion
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode

# The same examples in every run, so that a change is refused for what it did; "deep" looks for others.
alike = settings(deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
settings.register_profile("ci", alike, max_examples=40)
settings.register_profile("brief", alike, max_examples=8)
settings.register_profile("deep", alike, max_examples=1500, derandomize=False)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "ci"))

# Without compiled files every worker compiles all tests, and every process that a test starts the whole workshop.
sys.dont_write_bytecode = False
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

gc.disable()  # what is imported stays: looking through it again and again takes a quarter of the time


def pytest_collection_finish() -> None:
    """From here on only what tests make is looked through for garbage."""
    gc.freeze()
    gc.enable()


LEAKS = ("NO_COLOR", "FORCE_COLOR", "TEXTUAL_THEME", "TEXTUAL_ANIMATIONS", "COLUMNS", "WORKSHOP_LESSONS", "TERM")


@pytest.fixture(autouse=True)
def clean_environment(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """Nothing of the developer's shell reaches a test, and no test writes into the checkout."""
    for name in LEAKS:
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    folder = tmp_path / "saves"
    monkeypatch.setenv("WORKSHOP_SAVES", str(folder))
    monkeypatch.setenv("WORKSHOP_SETTINGS", str(tmp_path / "settings.toml"))
    return folder


class ScreenText(SingleFileSnapshotExtension):
    """Screens kept as text that can be read in a diff."""

    _write_mode = WriteMode.TEXT
    file_extension = "txt"

    @classmethod
    def dirname(cls, *, test_location) -> str:
        return str(Path(__file__).parent / "screens")

    @classmethod
    def matches_test_location(cls, *, test_location, snapshot_location: str) -> bool:
        return Path(snapshot_location).parent.name == "screens"

    @classmethod
    def get_snapshot_name(cls, *, test_location, index=0) -> str:
        return str(index)


@pytest.fixture
def screens(snapshot: SnapshotAssertion) -> SnapshotAssertion:
    """Compare with ``tests/screens/NAME.txt``: ``assert text == screens(name="NAME")``."""
    return snapshot.use_extension(ScreenText)
