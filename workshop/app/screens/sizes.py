"""All sizes of a design: reached from the plan and by name."""

from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType

from workshop.app.keys import hidden, shown
from workshop.app.screens.from_plan import FromPlan

if TYPE_CHECKING:  # with it the core is read, after the first paint
    from workshop.app.widgets.sizes import AllSizes


class SizesScreen(FromPlan["AllSizes"]):
    """A line for each size, the first of them at once."""

    beside = "all sizes"

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("sizes.take", "enter", "screen.take", "New project", "Make the marked size a project of its own"),
        shown("sizes.rule", "r", "screen.rule", "Rule", "Change how a length follows the size"),
        shown("sizes.print", "p", "screen.print", "Print", "Save all sizes as an HTML file to print"),
        shown("sizes.bodies", "b", "screen.bodies", "Bodies", "Enter bodies of your own, change or remove them"),
        shown("sizes.table", "t", "screen.table", "Table", "The sizes of another table"),
        hidden("sizes.markdown", "m", "screen.print('md')", "Markdown", "Save all sizes as a Markdown file"),
        hidden("sizes.up", "pageup", "screen.turn(-1)", "Up", "Scroll what is said below the sizes", first=True),
        hidden("sizes.down", "pagedown", "screen.turn(1)", "Down", "Scroll what is said below the sizes", first=True),
        hidden("sizes.leave", "escape", "screen.leave", "Plan", "Back to the plan"),
    ]

    def filling(self) -> "AllSizes":
        """The first sizes; the others follow while keys are taken."""
        from workshop.app.widgets.sizes import AllSizes

        return AllSizes(self.desk)

    # ── keys ─────────────────────────────────────────────────────────────────────────────────────────

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Keys of the sizes, once there are some."""
        ours = ("take", "rule", "print", "bodies", "table", "turn", "leave")
        return action not in ours or (self.body is not None and self.is_current)

    async def action_take(self) -> None:
        """The size that the keys before have marked, as a project of its own."""
        await self.work.take_out()

    async def action_rule(self) -> None:
        """Another rule for a length, or a length of its own for the marked size."""
        await self.work.change_rule()

    async def action_print(self, kind: str = "html") -> None:
        """All sizes, to print."""
        await self.work.print_as(kind)

    async def action_bodies(self) -> None:
        """Bodies of one's own."""
        await self.work.change_bodies()

    async def action_table(self) -> None:
        """The sizes of another table."""
        await self.work.choose_table()
