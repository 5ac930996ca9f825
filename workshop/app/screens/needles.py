"""Where I am: the eighth screen, with a key for what a knitter does at every row."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, ClassVar, NamedTuple

from textual import events
from textual.binding import Binding, BindingType

from workshop.app.keys import hidden, printed, shown
from workshop.app.screens.from_plan import FromPlan

if TYPE_CHECKING:  # with it the core is read, after the first paint
    from workshop.app.widgets.needles import AtNeedles


class Key(NamedTuple):
    """One key, or several that do the same."""

    name: str
    keys: str
    label: str
    does: str
    words: str = ""
    """The beginning of a sentence that it puts into the field."""
    action: str = ""
    """What it does else."""
    at_foot: bool = False

    @property
    def binding(self) -> Binding:
        """The key as it is bound."""
        action = self.action or f"say('{self.keys}','{self.words}')"
        bound = shown if self.at_foot else hidden
        return bound(f"needles.{self.name}", self.keys, f"screen.{action}", self.label, self.does, first=True)


DIGITS = tuple(
    Key(f"at{n}", str(n), "At row", "Type the row you knitted last", action=f"say('{n}','{n}')") for n in range(10)
)

KEYS: Mapping[str, tuple[Key, ...]] = {
    "A row": (
        Key("done", "space", "Row done", "One more row is knitted", action="row_done", at_foot=True),
        Key("back", "backspace", "One back", "One row was too many", action="one_back", at_foot=True),
        Key("more", "d", "Rows done", "Several rows are knitted", "done "),
        DIGITS[0],  # for all of them
        Key("piece", "p", "Pieces", "Continue with another piece", action="pieces", at_foot=True),
        Key("both", "t", "Two at a time", "A piece and its pair at the same time", "both"),
    ),
    "A count on the piece": (
        Key("count", "c", "Count", "Stitches counted on the piece", "count ", at_foot=True),
        Key("rows", "r", "Rows", "Rows counted on the piece", "rows "),
        Key("ways", "w", "Choices", "Choose what to do after a count", action="ways", at_foot=True),
        Key("undo", "u", "Undo", "Take back your last choice", "undo"),
    ),
    "Yarn": (
        Key("left", "y", "Yarn", "Grams of yarn left", "left ", at_foot=True),
        Key("ball", "x", "Ball", "A new ball begins in this row", "ball "),
    ),
    "Something went wrong": (
        Key("rip", "b", "Rows back", "Several rows too many, or ripped back", "back "),
        Key("lost", "l", "Lost row", "Find the row you're at", "lost ", at_foot=True),
        Key("slip", "s", "Slip", "More or fewer stitches than planned", "stitches "),
    ),
    "Look and note": (
        Key("log", "o", "Log", "Read the log", action="log"),
        Key("note", "n", "Note", "Write a line in the log", "note "),
        Key("finished", "f", "Finished", "What it measures when finished", "finished "),
        Key("down", "pagedown,down", "Down", "Scroll down", action="turn(1)"),
        Key("up", "pageup,up", "Up", "Scroll up", action="turn(-1)"),
        Key("leave", "escape", "Plan", "Close the field, or back to the plan", action="leave"),
    ),
}
"""The keys by what one wants to do, as the help lists them."""

TAKE = Key("take", "enter", "Say it", "Enter what you've typed", action="take")

ALL_KEYS = (*(key for keys in KEYS.values() for key in keys), *DIGITS[1:], TAKE)


def key_of(name: str, set_so: Mapping[str, str]) -> str:
    """What is printed on a key, by its name; ``set_so`` are the keys that the knitter has set."""
    key = next(k for k in ALL_KEYS if k.name == name)
    return printed(set_so.get(f"needles.{name}", key.keys).partition(",")[0])


class NeedlesScreen(FromPlan["AtNeedles"]):
    """Opened from the plan and from the list of projects, as often as there is a row to note."""

    beside = "at the needles"

    BINDINGS: ClassVar[list[BindingType]] = [key.binding for key in ALL_KEYS]

    def filling(self) -> "AtNeedles":
        """What is on the needle."""
        from workshop.app.widgets.needles import AtNeedles

        return AtNeedles(self.desk)

    async def furnish(self) -> None:
        """What is on the needle, and what can be said of it."""
        await super().furnish()
        if self.body is not None:
            self.body.stand_by()

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
        if self.body is None or self.work.is_typed_in:
            return
        if active is not None and active.binding.id == "needles.ways":
            self.work.begins_with(event.character or "")
            stitches, rows = (key_of(name, self.desk.settings.keys) for name in ("count", "rows"))
            self.tell(
                f"Count the piece as it is now: {stitches} for stitches, {rows} for rows. Then you'll see your choices."
            )
        elif (event.character or "").isalpha():
            self.work.begins_with(event.character or "")
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
