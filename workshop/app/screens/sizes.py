"""All sizes of a design: reached from the plan and by name."""

from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.widget import Widget

from workshop.app.desk import Desk
from workshop.app.keys import hidden, shown
from workshop.app.screens.room import Room

if TYPE_CHECKING:  # with it the core is read, after the first paint
    from workshop.app.widgets.sizes import AllSizes

LOOKS_EVERY_SECONDS = 1.5
"""So often it is looked whether another window has saved something."""

STYLES = Path(__file__).parent.parent / "sizes.tcss"


class SizesScreen(Room):
    """A line for each size, the first of them at once."""

    step = "summary"
    apart = frozenset({"face", "onward", "offers", "agree", "offer"})

    BINDINGS: ClassVar[list[BindingType]] = [
        shown(
            "sizes.take", "enter", "screen.take", "New project", "Make the marked size a project of its own", first=True
        ),
        shown("sizes.rule", "r", "screen.rule", "Rule", "Change how a length follows the size"),
        shown("sizes.print", "p", "screen.print", "Print", "Save all sizes as an HTML file to print"),
        shown("sizes.table", "t", "screen.table", "Table", "The sizes of another table"),
        hidden("sizes.markdown", "m", "screen.print('md')", "Markdown", "Save all sizes as a Markdown file"),
        hidden("sizes.up", "pageup", "screen.turn(-1)", "Up", "Scroll what is said below the sizes", first=True),
        hidden("sizes.down", "pagedown", "screen.turn(1)", "Down", "Scroll what is said below the sizes", first=True),
        hidden("sizes.leave", "escape", "screen.leave", "Plan", "Back to the plan"),
    ]

    def __init__(self, desk: Desk, leave: Callable[[], Awaitable[None]]) -> None:
        """``leave`` goes to the plan."""
        super().__init__(desk)
        self._leave = leave
        self.middle = Widget(id="body")

    def titled(self) -> str:
        """The project, and what goes wrong with its file."""
        session = self.desk.session
        name = session.project.title or "A new sweater"
        return f"{name}  ·  NOT SAVED: {session.fault}" if session.fault else f"{name}  ·  all sizes"

    def bare(self) -> ComposeResult:
        yield self.middle

    async def furnish(self) -> None:
        """The first sizes; the others follow while keys are taken."""
        from workshop.app.widgets.sizes import AllSizes

        self.app.stylesheet.read(STYLES)
        if not self.answers_stand():
            return
        body = AllSizes(self.desk)
        await self.middle.mount(body)
        self.body = body
        self.show()
        self.set_interval(LOOKS_EVERY_SECONDS, self.look)
        self.refresh_bindings()

    @property
    def _sizes(self) -> "AllSizes":
        from workshop.app.widgets.sizes import AllSizes

        assert isinstance(self.body, AllSizes)
        return self.body

    # ── keys ─────────────────────────────────────────────────────────────────────────────────────────

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys of the sizes, once there are some."""
        ours = ("take", "rule", "print", "table", "turn", "leave")
        return action not in ours or (self.body is not None and self.is_current)

    async def action_take(self) -> None:
        """The marked size as a project of its own."""
        await self._sizes.take_out()

    async def action_rule(self) -> None:
        """Another rule for a length, or a length of its own for the marked size."""
        await self._sizes.change_rule()

    async def action_print(self, kind: str = "html") -> None:
        """All sizes, to print."""
        await self._sizes.print_as(kind)

    async def action_table(self) -> None:
        """The sizes of another table."""
        await self._sizes.choose_table()

    def action_turn(self, pages: int) -> None:
        """Scroll what is said below the sizes."""
        self._sizes.turn(pages)

    async def action_leave(self) -> None:
        """Back to the plan."""
        await self._leave()
