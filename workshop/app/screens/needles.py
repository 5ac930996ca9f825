"""Where I am: the eighth screen, with a key for what a knitter does at every row."""

from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.binding import BindingType

from workshop.app.keys import hidden, shown
from workshop.app.screens.from_plan import FromPlan

if TYPE_CHECKING:  # with it the core is read, after the first paint
    from workshop.app.widgets.needles import AtNeedles


class NeedlesScreen(FromPlan["AtNeedles"]):
    """Opened from the plan and from the list of projects, as often as there is a row to note."""

    beside = "at the needles"
    styles_in = "needles.tcss"

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("needles.done", "space", "screen.row_done", "Row done", "One more row is knitted", first=True),
        shown("needles.back", "backspace", "screen.one_back", "One back", "One row was too many", first=True),
        hidden("needles.more", "d", "screen.say('d', 'done ')", "Rows done", "Several rows are knitted", first=True),
        hidden(
            "needles.rip", "b", "screen.say('b', 'back ')", "Rows back", "Several rows too many, or ripped", first=True
        ),
        shown("needles.piece", "p", "screen.pieces", "Pieces", "Go on with another piece", first=True),
        hidden(
            "needles.both",
            "t",
            "screen.say('t', 'both')",
            "Two at a time",
            "A piece and its pair at the same time",
            first=True,
        ),
        shown("needles.count", "c", "screen.say('c', 'count ')", "Count", "Stitches counted on the piece", first=True),
        hidden("needles.rows", "r", "screen.say('r', 'rows ')", "Rows", "Rows counted on the piece", first=True),
        shown("needles.ways", "w", "screen.ways", "Ways on", "Choose one of the ways on after a count", first=True),
        hidden("needles.undo", "u", "screen.say('u', 'undo')", "Undo", "Take back the way you chose last", first=True),
        shown("needles.left", "y", "screen.say('y', 'left ')", "Yarn", "Grams of yarn left", first=True),
        hidden("needles.ball", "x", "screen.say('x', 'ball ')", "Ball", "A new ball begins in this row", first=True),
        shown("needles.lost", "l", "screen.say('l', 'lost ')", "Lost row", "Find the row you're at", first=True),
        hidden(
            "needles.slip",
            "s",
            "screen.say('s', 'stitches ')",
            "Slip",
            "More or fewer stitches than planned",
            first=True,
        ),
        hidden("needles.log", "o", "screen.log", "Log", "Read the log", first=True),
        hidden("needles.note", "n", "screen.say('n', 'note ')", "Note", "Write a line in the log", first=True),
        hidden(
            "needles.finished",
            "f",
            "screen.say('f', 'finished ')",
            "Finished",
            "What it measures when finished",
            first=True,
        ),
        hidden("needles.up", "pageup,up", "screen.turn(-1)", "Up", "Scroll up", first=True),
        hidden("needles.down", "pagedown,down", "screen.turn(1)", "Down", "Scroll down", first=True),
        hidden("needles.take", "enter", "screen.take", "Say it", "What is typed is taken", first=True),
        hidden("needles.leave", "escape", "screen.leave", "Plan", "Close the field, or back to the plan", first=True),
        *(
            hidden(
                f"needles.at{n}",
                str(n),
                f"screen.say('{n}','{n}')",
                "At row",
                "Type the row you knitted last",
                first=True,
            )
            for n in range(10)
        ),
    ]

    def filling(self) -> "AtNeedles":
        """What is on the needle."""
        from workshop.app.widgets.needles import AtNeedles

        return AtNeedles(self.desk)

    async def furnish(self) -> None:
        """What is on the needle, and what can be said of it."""
        await super().furnish()
        self.tell("Space: row done. Backspace: one back. A number: the row you knitted last. F1: all keys.")

    def on_resize(self) -> None:
        """Another width has room for other things."""
        self.call_after_refresh(self.show)

    # ── keys ─────────────────────────────────────────────────────────────────────────────────────────

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """While something is typed, letters and figures belong to the field."""
        if action not in ("row_done", "one_back", "pieces", "ways", "log", "say", "take", "turn", "leave"):
            return True
        if self.body is None or not self.is_current:
            return False
        if action == "ways" and not self.work.is_typed_in and not self.work.ways:
            return None
        return action == "leave" or self.work.is_typed_in == (action == "take")

    def on_key(self, event: events.Key) -> None:
        """A letter that does nothing just now says so: who types a word sees at once that it isn't taken."""
        active = self.active_bindings.get(event.key)
        if self.body is None or self.work.is_typed_in or not (event.character or "").isalpha():
            return
        if active is not None and active.binding.id == "needles.ways":
            self.tell("Count the piece as it is now: C for stitches, R for rows. Then you see the ways on.")
        else:
            self.tell(f"{(event.character or '').upper()} isn't a key here. F1 lists the keys.")

    def action_row_done(self) -> None:
        """One more row is knitted."""
        self.work.move(1)

    def action_one_back(self) -> None:
        """One row was too many."""
        self.work.move(-1)

    def action_say(self, letter: str, words: str) -> None:
        """Open the field with the beginning of a sentence."""
        self.work.begin(letter, words)

    async def action_take(self) -> None:
        """What is typed is taken."""
        await self.work.take()

    async def action_pieces(self) -> None:
        """Choose another piece."""
        await self.work.choose_piece()

    async def action_ways(self) -> None:
        """Take one of the ways on."""
        await self.work.choose_way()

    async def action_log(self) -> None:
        """Read the log."""
        await self.work.read_log()

    async def action_leave(self) -> None:
        """Close the field; else to the plan."""
        if self.work.is_typed_in:
            self.work.close()
        else:
            await super().action_leave()
