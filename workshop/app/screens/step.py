"""The screen of all seven steps: the title, the trail, and below them the work of the step."""

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import Static

from workshop.app.desk import Desk
from workshop.app.keys import hidden
from workshop.app.screens.room import NORMAL, WIDE, Room
from workshop.app.widgets.body import Body
from workshop.app.widgets.trail import Trail


class StepScreen(Room):
    """One step after the other; moving on changes what stands in the middle, and nothing else."""

    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (NORMAL, "-normal"), (WIDE, "-wide")]

    BINDINGS: ClassVar[list[BindingType]] = [
        hidden("panel.up", "pageup", "turn(-1)", "Panel up", "Scroll the panel up"),
        hidden("panel.down", "pagedown", "turn(1)", "Panel down", "Scroll the panel down"),
        hidden("panel.check", "ctrl+y", "check", "Look again", "Go to whatever needs another look"),
        hidden("panel.close", "escape", "close_face", "Answers", "Back from lesson or working to the answers"),
    ]

    def __init__(self, desk: Desk, name: str | None = None, at: str | None = None) -> None:
        """Without a name: where the knitter left off, as soon as that can be told."""
        super().__init__(desk)
        self.step, self._at = name, at
        self._bodies: dict[type[Body], Body] = {}
        self._warning: Static | None = None
        """The line for what needs another look, once something does."""

    def bare(self) -> ComposeResult:
        self.trail = Trail(self.desk, self.step)
        yield self.trail
        yield self.middle

    def show_bars(self) -> None:
        """The title, and the steps with their states."""
        from workshop.progress import progress

        super().show_bars()
        self.trail.show(self.step, {s.name: s.state for s in progress(self.desk.session.plan)})

    def warn(self, text: str, count: int) -> None:
        """What most needs another look, on a line of its own that never scrolls away, with the key that leads there."""
        if self._warning is None:
            if not text:
                return
            self._warning = Static("", id="warn")
            self.mount(self._warning, before="#hint")
        self._warning.display = bool(text)
        keys = f"  {self._key_of_checks()}" + (f" ({count} in all)" if count > 1 else "")
        room = self.app.size.width - 2 - len(keys)
        shown = text if len(text) <= room else f"{text[: room - 1].rstrip()}…"
        self._warning.update(Content.assemble(shown.ljust(room), (keys, "not bold")))

    def _key_of_checks(self) -> str:
        active = (a for a in self.active_bindings.values() if a.binding.id == "panel.check")
        return next((self.app.get_key_display(a.binding) for a in active), "Ctrl+Y")

    async def furnish(self) -> None:
        """The work of the step."""
        from workshop.progress import going_on_at

        if not self.answers_stand():
            return
        await self.open(self.step or going_on_at(self.desk.session.plan), self._at)
        self.call_after_refresh(self._read_on)

    def _read_on(self) -> None:
        """What the questions of a step are shown with, before the first key that leads to them."""
        from workshop.app.widgets.work import Work

        self.read_styles(Work)

    async def open(self, name: str, at: str | None = None) -> None:
        """Another step in the same place, at one of its questions."""
        if not self.middle.is_attached:  # the window is closing
            return
        self.desk.session.at(name)
        with self.app.batch_update():
            kind = _kind(name)
            if kind not in self._bodies:
                self._bodies[kind] = kind(self.desk)
                if not await self.put(self._bodies[kind]):
                    return
            for body in self._bodies.values():
                body.display = isinstance(body, kind)
            self.step, self.body = name, self._bodies[kind]
            self.set_class(name == "summary", "-summary")
            self.body.open(name, at)
            self.show_bars()
        self.refresh_bindings()

    def on_resize(self) -> None:
        """Another width has room for other things."""
        if self.is_current:
            self.call_after_refresh(self.show)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The plan has keys of its own to be read with."""
        return self.step != "summary" or action not in ("turn", "close_face")

    def action_turn(self, pages: int) -> None:
        """Scroll what is read beside the questions."""
        if self.body is not None:
            self.body.turn(pages)

    async def action_check(self) -> None:
        """To what needs another look, here or in the first step in which something does."""
        from workshop.progress import progress

        states = {s.name: s.state for s in progress(self.desk.session.plan) if s.name != "summary"}
        asked = next((name for name, state in states.items() if state == "look again"), None)
        if asked is not None and not (self.body is not None and self.body.has_checks):
            await self.open(asked)
        if self.body is not None:
            self.body.to_check()

    def action_close_face(self) -> None:
        """Back to the answers."""
        if self.body is not None:
            self.body.close_face()


def _kind(name: str) -> type[Body]:
    """What the middle of a step consists of; with it the core is read, after the first paint."""
    if name == "summary":
        from workshop.app.widgets.plan import PlanText

        return PlanText
    from workshop.app.widgets.work import Work

    return Work
