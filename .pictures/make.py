"""Makes the pictures of the README from the real app on the demo project.

Needs Debian's librsvg2-bin (rsvg-convert) and a monospace font: ``python .pictures/make.py``.
"""

import asyncio
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from workshop import saves  # noqa: E402
from workshop.app.app import WorkshopApp  # noqa: E402
from workshop.session import opened  # noqa: E402

PICTURES = {
    "gauge-dark": ("gauge", "workshop-dark", (100, 30)),
    "shape-light": ("shape", "workshop-light", (100, 30)),
}


async def picture(name: str, step: str, theme: str, size: tuple[int, int], folder: Path) -> None:
    """One picture: the app opened on a step of the demo."""
    copy = folder / f"{name}.toml"
    shutil.copy(saves.demo_folder() / "harbour-pullover.toml", copy)
    app = WorkshopApp(opened(copy), folder)
    async with app.run_test(size=size) as pilot:
        app.theme = theme
        await app.open_step(step)
        for _ in range(4):
            await pilot.pause()
        svg = folder / f"{name}.svg"
        svg.write_text(app.export_screenshot(title="workshop demo"), encoding="utf-8")
    subprocess.run(
        ["rsvg-convert", "--zoom", "0.8", "-o", str(ROOT / ".pictures" / f"{name}.png"), str(svg)], check=True
    )


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        for name, (step, theme, size) in PICTURES.items():
            asyncio.run(picture(name, step, theme, size, Path(place)))
