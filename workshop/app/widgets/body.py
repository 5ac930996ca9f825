"""What stands in the middle of the screen of a step: its questions, or the plan."""

from typing import TYPE_CHECKING, ClassVar

from textual.widget import Widget

from workshop.app.desk import Desk
from workshop.project import Project

if TYPE_CHECKING:
    from workshop.app.screens.room import Room

NOTHING_TO_CHECK = "Nothing here needs another look."
NO_SWATCH = "There's nothing to answer here yet. First plan a swatch in the Swatch step. F4 lists the steps."
NONE_PLANNED = "You have no swatch yet. Press Enter on 'Plan three swatches' to plan one on each of three needle sizes."


class Body(Widget):
    """The work of a step. What a kind of it cannot do, it leaves undone."""

    styles_in: ClassVar[str | None] = None
    """Its style sheet, where it has one of its own: read with it."""
    tells_keys = ""
    """First word of the ids of the keys that its help tells itself; the list of all keys leaves them out."""
    scrolled: Widget | None = None
    """What can be read on a page at a time."""

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self.desk = desk

    @property
    def room(self) -> "Room":
        """The screen that this stands in."""
        from workshop.app.screens.room import Room

        assert isinstance(self.screen, Room)
        return self.screen

    def tell(self, text: str) -> None:
        """Say something on the line for that at the foot of the screen: nothing is covered, and it stays until the
        focus moves.
        """
        self.room.tell(text)

    def keep(self, project: Project, said: str = "") -> None:
        """Go on with a changed project: it is on disk before the next key. ``said``, where nothing else is to be."""
        session = self.desk.session
        session.change(project)
        self.tell(session.news or (f"Not saved: {session.fault}" if session.fault else said))
        session.news = ""

    def open(self, name: str, at: str | None) -> None:
        """Show a step, beginning at one of its questions."""

    def show(self) -> None:
        """The project may have changed, or the window: show it as it is."""

    def show_again(self) -> None:
        """Things are shown otherwise: in other units, in other terms."""
        self.show()

    def commit(self) -> None:
        """Take what is being typed."""

    async def show_face(self, face: str) -> None:
        """Turn to the lesson, or to how the numbers were worked out, and back."""

    def close_face(self) -> None:
        """Back to what the step shows by itself."""

    @property
    def has_checks(self) -> bool:
        """Whether something of this step needs another look."""
        return False

    def to_check(self) -> None:
        """To the next thing that needs another look, and to its question; where there is none, say so."""

    def turn(self, pages: int) -> None:
        """Scroll what is read beside the questions, or in their place."""
        if self.scrolled is not None:
            scroll = self.scrolled.scroll_page_down if pages > 0 else self.scrolled.scroll_page_up
            scroll(animate=False)

    def help_text(self) -> str:
        """Help for where the knitter stands."""
        return ""

    def at_hand(self) -> tuple[str, str, int]:
        """What the question at hand says; what stands in its field or on its marked line; where the cursor is there."""
        return self.help_text(), "", 0

    async def take_offer(self) -> None:
        """Take the offered answer of the question at hand."""

    def take_all_offers(self) -> None:
        """Take every offered answer that is still open."""

    @property
    def is_typed_in(self) -> bool:
        """Whether something is typed that is not taken yet."""
        return False

    @property
    def has_offers(self) -> bool:
        """Whether anything is offered that is still open."""
        return False
