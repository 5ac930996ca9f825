"""Makes the pictures of the README from the demo project: a page of its plan, its schematic, and the app at work.

Needs Debian's librsvg2-bin (rsvg-convert) and a monospace font: ``python .pictures/make.py``.
"""

import asyncio
import io
import re
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from rich.console import Console  # noqa: E402
from rich.padding import Padding  # noqa: E402
from rich.terminal_theme import DEFAULT_TERMINAL_THEME  # noqa: E402
from rich.text import Text  # noqa: E402

from workshop import saves  # noqa: E402
from workshop.app.app import WorkshopApp  # noqa: E402
from workshop.planned import plan  # noqa: E402
from workshop.prints import paper  # noqa: E402
from workshop.prints.document import summary  # noqa: E402
from workshop.prints.terminal import print_document  # noqa: E402
from workshop.session import opened  # noqa: E402

DEMO = saves.demo_folder() / "harbour-pullover.toml"
APP = {"gauge": ("gauge", "workshop-light", (100, 30))}
"""The app: the step, the colours and the size of the window."""

COLUMNS, SIZES, ROWS = 80, 16, 12
"""Width of the page; lines of it from the sizes, and from the first piece."""


TITLE_BAR = 32
"""Height of what stands above the text in an exported picture."""


def plainly_framed(svg: str) -> str:
    """A picture of text without a title bar and its buttons: a thin frame, and the text."""
    svg = re.sub(r'<g transform="translate\(26,22\)">.*?</g>', "", svg, count=1, flags=re.DOTALL)
    svg = re.sub(r'<text class="[^"]*-title".*?</text>', "", svg, count=1, flags=re.DOTALL)
    frame = re.search(
        r'<rect fill="[^"]*" stroke="[^"]*" stroke-width="1" x="1" y="1" width="(\S+)" height="(\S+)"', svg
    )
    wide, high = float(frame[1]), float(frame[2]) - TITLE_BAR
    thin = (
        f'<rect fill="white" stroke="#808080" stroke-width="1" x="1" y="{1 + TITLE_BAR}" width="{wide}" height="{high}"'
    )
    svg = svg.replace(frame[0], thin, 1)
    return re.sub(r'viewBox="[^"]*"', f'viewBox="0 {TITLE_BAR} {wide + 2} {high + 2}"', svg, count=1)


def page() -> str:
    """The sizes of the plan and its first rows, two of them ticked."""
    told = io.TextIOWrapper(io.BytesIO(), encoding="utf-8")
    now = plan(saves.load(DEMO))
    print_document(summary(now), Console(file=told, width=COLUMNS))
    told.seek(0)
    lines = told.read().split("\n")
    sizes, back = (
        next(i for i, x in enumerate(lines) if re.match(rf"{h} \W", x)) for h in ("Finished measurements", "Back")
    )
    shown = [*lines[sizes : sizes + SIZES], "", *lines[back : back + ROWS]]
    ticked = "\n".join(shown).replace("[ ]", "[x]", 2).split("\n")
    console = Console(record=True, width=COLUMNS, file=io.StringIO())
    for line in ticked:  # the indent as padding: blanks at the beginning of a line are not drawn
        console.print(Padding(Text(line.lstrip()), (0, 0, 0, len(line) - len(line.lstrip()))))
    return console.export_svg(title="", theme=DEFAULT_TERMINAL_THEME)


async def screen(step: str, theme: str, size: tuple[int, int], folder: Path) -> str:
    """The app opened on a step of the demo."""
    copy = folder / f"{step}.toml"
    shutil.copy(DEMO, copy)
    app = WorkshopApp(opened(copy), folder)
    async with app.run_test(size=size) as pilot:
        app.theme = theme
        await app.open_step(step)
        for _ in range(4):
            await pilot.pause()
        return placed(app.export_screenshot(title=" "))


def keep(name: str, svg: str, folder: Path, *, zoom: float) -> None:
    """A picture beside this file."""
    source = folder / f"{name}.svg"
    source.write_text(svg, encoding="utf-8")
    target = ROOT / ".pictures" / f"{name}.png"
    subprocess.run(
        ["rsvg-convert", "--zoom", str(zoom), "--background-color", "white", "-o", str(target), str(source)], check=True
    )


CELL = 12.2
"""Width of a character in the pictures that Textual exports."""


def placed(svg: str) -> str:
    """Each text begins where its first visible character stands: rsvg-convert leaves out blanks before it."""

    def moved(found: re.Match[str]) -> str:
        text = found[4].replace("&#160;", " ")
        blanks = len(text) - len(text.lstrip(" "))
        return (
            f"{found[1]}{float(found[2]) + CELL * blanks:.1f}{found[3]}{text.lstrip(' ').replace(' ', '&#160;')}</text>"
        )

    moving = re.sub(r'(<text [^>]*?x=")([0-9.]+)("[^>]*>)([^<]*)</text>', moved, svg)
    return re.sub(r' textLength="[^"]*"', "", moving)


if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as place:
        keep("plan", plainly_framed(page()), Path(place), zoom=0.8)
        keep("schematic", paper.svg(plan(saves.load(DEMO))), Path(place), zoom=1.2)
        for name, (step, theme, size) in APP.items():
            svg = plainly_framed(asyncio.run(screen(step, theme, size, Path(place))))
            keep(name, svg, Path(place), zoom=0.8)
