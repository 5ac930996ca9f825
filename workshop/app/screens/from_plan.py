"""A screen that is opened from the plan: one body fills its middle, and Esc goes back to the plan."""

from typing import Generic, TypeVar

from textual.app import ComposeResult

from workshop.app.screens.room import Room
from workshop.app.widgets.body import Body

Filling = TypeVar("Filling", bound=Body)


class FromPlan(Room, Generic[Filling]):
    """What the sizes and the needles have in common."""

    step = step_before = "summary"
    apart = frozenset({"face", "onward", "offers", "agree", "offer"})
    body: Filling | None = None

    def bare(self) -> ComposeResult:
        yield self.middle

    def filling(self) -> Filling:
        """The body; with it the core is read, after the first paint."""
        raise NotImplementedError

    @property
    def work(self) -> Filling:
        """The body, once it is there: its keys wait for that."""
        assert self.body is not None
        return self.body

    async def furnish(self) -> None:
        """What is read, and what can be done with it."""
        if not self.answers_stand():
            return
        body = self.filling()
        if not await self.put(body):
            return
        self.body = body
        self.show()
        self.refresh_bindings()

    def action_turn(self, pages: int) -> None:
        """Scroll what is read."""
        self.work.turn(pages)

    async def action_leave(self) -> None:
        """Back to the plan."""
        await self.workshop.open_step("summary")
