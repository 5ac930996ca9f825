"""The class room: every pupil's project in one list, who needs the teacher first. It only looks."""

from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from pathlib import Path
from time import monotonic
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from workshop.app.desk import Desk
from workshop.app.keys import hidden, shown
from workshop.app.screens.room import Room
from workshop.app.screens.safety import TextField
from workshop.app.widgets.in_order import settled
from workshop.app.widgets.lists import Wide
from workshop.app.widgets.page import Page
from workshop.visible import in_one_line, shown_path
from workshop.words.lines import wrapped

if TYPE_CHECKING:  # with it the core is read, after the first paint
    from workshop.of_class.pupils import Pupil

SECONDS_OF_READING = 0.1
"""How long the list is read on at a time."""

SECONDS_BETWEEN = 0.01

Leaf = tuple[str, Callable[[int], list[Content]]]
"""A name, and the lines to be read in a width."""


class Pupils(Wide):
    """The pupils of a folder: as they are read, then in the order in which they need the teacher."""

    def __init__(self) -> None:
        super().__init__(id="projects", markup=False)
        self._coming: Iterator[Pupil] = iter(())
        self.found: list[Pupil] = []
        """The pupils that are listed."""
        self.complete = False
        """Whether all of the folder has been read."""
        self._told: Callable[[], None] = lambda: None

    def fill(self, folder: Path, told: Callable[[], None]) -> None:
        """List a folder; ``told`` is called as often as there are more."""
        from workshop.of_class.pupils import each_pupil
        from workshop.prints.dated import today

        self._coming, self._told = each_pupil(folder, today()), told
        self.found, self.complete = [], False
        self.clear_options()
        self._read_on()

    def _read_on(self) -> None:
        begun = monotonic()
        read: list[Pupil] = []
        while not self.complete and (not read or monotonic() - begun < SECONDS_OF_READING):
            pupil = next(self._coming, None)
            self.complete = pupil is None
            read += [pupil] if pupil is not None else []
        self.found += read
        self._list_from(len(self.found) - len(read))
        if self.complete:
            self._in_order()
            self.call_after_refresh(self.on_resize)  # there may be a scrollbar by now
        elif self.is_attached:
            self.set_timer(SECONDS_BETWEEN, self._read_on)  # lines are painted, and keys have their turn
        if self.highlighted is None and self.found:
            self.highlighted = 0
        self._told()

    def _in_order(self) -> None:
        """All are known: those first who need the teacher. The marked one stays marked, where somebody has moved."""
        from workshop.of_class.pupils import in_need

        moved = bool(self.highlighted)
        marked = self.found[self.highlighted or 0] if self.found else None
        self.found = list(in_need(self.found))
        self.clear_options()
        self._list_from(0)
        if marked is not None:
            self.highlighted = self.found.index(marked) if moved else 0

    def _list_from(self, first: int) -> None:
        self.add_options(Option(self.prompt(index)) for index in range(first, len(self.found)))

    @property
    def at(self) -> int | None:
        """Where one is; None in an empty list."""
        return self.highlighted if self.found else None

    def prompt(self, index: int) -> Content:
        """A pupil, and what needs the teacher."""
        from workshop.prints.class_list import sign, told

        pupil, room = self.found[index], self.room
        lines = wrapped(f" {sign(pupil)} {pupil.name}: {told(pupil)}", room, hang=3)
        if pupil.plan is not None:
            lines += [line for text in pupil.attention for line in wrapped(f"   ! {in_one_line(text)}", room, hang=5)]
        return Content("\n".join(lines))


class ClassScreen(Room):
    """A teacher's list. No file of it is ever written."""

    AUTO_FOCUS = "#projects"
    BINDINGS: ClassVar[list[BindingType]] = [
        hidden("class.look", "enter", "screen.look_at", "Look", "Look at the marked project", first=True),
        shown("class.yarn", "y", "screen.yarn", "Yarn order", "One yarn order for the class", first=True),
        shown("class.swatches", "s", "screen.swatches", "Swatches", "All swatches side by side", first=True),
        shown("class.page", "p", "screen.page", "Page", "Save a page for the wall", first=True),
        shown("class.folder", "f", "screen.folder", "Folder", "Another folder of projects", first=True),
        hidden("class.again", "r", "screen.again", "Reload", "Read the folder again", first=True),
        hidden("class.leave", "ctrl+o,escape", "screen.leave", "Projects", "Back to your projects", first=True),
    ]

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._folder = desk.folder
        self.listed = Pupils()

    def titled(self) -> str:
        """The class, by its folder."""
        return f"Class: {shown_path(self._folder.resolve().name)}"

    def bare(self) -> ComposeResult:
        self.hint.update("Reading the class.")
        yield self.listed

    async def furnish(self) -> None:
        """The pupils."""
        self.listed.fill(self._folder, self._tell_how_many)

    def _tell_how_many(self) -> None:
        found = self.listed.found
        if not self.listed.complete:
            self.tell(f"Reading the class: {len(found)} so far.")
        elif not found:
            self.tell(f"There are no projects in {shown_path(self._folder)}. F opens another folder.")
        else:
            from workshop.of_class.pupils import how_many_have_a_question
            from workshop.words.phrase import counted

            asking = how_many_have_a_question(found)
            many = f"{counted(len(found), 'project')}, {asking} with a question, the most urgent first."
            self.tell(f"{many} Enter opens a project, just to look at.")

    def on_screen_resume(self) -> None:
        """Back from what was read."""
        if self.stands.is_set():
            self._tell_how_many()

    def on_resize(self) -> None:
        """What stands at the foot has other lines in another width."""
        if self.told:
            self.tell(self.told)

    def help_text(self) -> str:
        """Help for this screen."""
        return (
            "Everyone's projects. Those who need you come first. ✗ means a file can't be opened, ! means there's a "
            "question. Enter opens a project to read. Nothing is ever changed. Y adds up the yarn for everyone. S "
            "compares the swatches. P saves a page for the wall, F opens another folder, R reads the folder again."
        )

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The letters belong to the small windows while one is open."""
        return self.is_current or action not in ("look_at", "yarn", "swatches", "page", "folder", "again", "leave")

    @on(OptionList.OptionSelected)
    async def choose(self, event: OptionList.OptionSelected) -> None:
        """Look at what was clicked on."""
        event.stop()
        await self._look_at(event.option_index)

    async def action_look_at(self) -> None:
        """Look at what is marked."""
        await settled(self.listed)
        if self.listed.at is not None:
            await self._look_at(self.listed.at)

    async def _look_at(self, index: int) -> None:
        from workshop.app.widgets.pupil import pages
        from workshop.of_class.pupils import one_pupil
        from workshop.prints.dated import today

        if index >= len(self.listed.found):
            return
        pupil = one_pupil(self.listed.found[index].path, today())  # as the file is now
        if pupil.plan is None:
            self.tell(in_one_line(f"{shown_path(pupil.path.name)} can't be opened: {pupil.fault}"))
        else:
            await self.workshop.read_over(ReadScreen(self.desk, f"{pupil.name}  ·  read only", pages(pupil)))

    async def action_yarn(self) -> None:
        """One yarn order for the class."""
        from workshop.app.widgets.pupil import yarn_text

        found = tuple(self.listed.found)
        nothing = "No plan says how much yarn it needs yet."
        await self._read_of_all("Yarn for the class", nothing, lambda room: yarn_text(found, room))

    async def action_swatches(self) -> None:
        """All swatches beside each other."""
        from workshop.app.widgets.pupil import swatches_text

        found, plain = tuple(self.listed.found), self.workshop.plain_drawings
        nothing = "No swatch has been counted yet."
        await self._read_of_all("Swatches of the class", nothing, lambda room: swatches_text(found, room, plain=plain))

    async def _read_of_all(self, title: str, nothing: str, text: Callable[[int], list[Content]]) -> None:
        once = lru_cache(maxsize=1)(text)  # what is looked at here is what is read there
        if not self.listed.complete:
            self.tell("The class is still being read. Try again in a moment.")
        elif not once(self.columns):
            self.tell(nothing)
        else:
            await self.workshop.read_over(ReadScreen(self.desk, title, ((title, once),)))

    async def action_page(self) -> None:
        """A page for the wall, in the folder of one's own projects."""
        if not self.listed.found or not self.listed.complete:
            self.tell("There's no class to make a page for yet.")
            return
        from workshop.prints import paper
        from workshop.prints.class_page import class_page, class_title

        page = paper.html(class_page(self.listed.found, class_title(self._folder)))
        await self.workshop.write_print(self._folder / "class.html", page)

    async def action_folder(self) -> None:
        """Another folder of projects."""
        text = "Type the folder that your class's projects are in, such as ~/class or /home/me/tuesday."
        await self.workshop.ask(TextField("Which folder?", text, self._found), self._opened)

    def _found(self, typed: str) -> str:
        """Go to a folder. Gives why not."""
        folder = Path(typed.strip()).expanduser() if typed.strip() else None
        if folder is None:
            return "Type a folder"
        try:
            there = folder.is_dir()
        except (OSError, ValueError):
            there = False
        if not there:
            return f"There's no folder {shown_path(folder)}"
        self._folder = folder
        return ""

    def _opened(self, found: bool | None) -> None:
        if found:
            self.action_again()

    def action_again(self) -> None:
        """Read the folder again."""
        self.title_bar.update(Content(self.titled()), layout=False)
        self.listed.fill(self._folder, self._tell_how_many)

    async def action_leave(self) -> None:
        """Back to one's own projects."""
        self.workshop.open_list()


class ReadScreen(Room):
    """Something to read over the class: pages that the Tab key turns. There is nothing to be answered."""

    AUTO_FOCUS = "#plan"
    BINDINGS: ClassVar[list[BindingType]] = [
        shown("class.next", "tab,right", "screen.turn(1)", "Next page", "The next page", first=True),
        hidden("class.before", "shift+tab,left", "screen.turn(-1)", "Previous page", "The previous page", first=True),
        shown("class.back", "ctrl+o,escape", "screen.back", "Class", "Back to the class", first=True),
    ]

    def __init__(self, desk: Desk, title: str, pages: Sequence[Leaf]) -> None:
        super().__init__(desk)
        self._title, self._pages, self._page = title, pages, 0
        self._read = Page(id="plan")

    def titled(self) -> str:
        """What is read."""
        return in_one_line(self._title)

    def bare(self) -> ComposeResult:
        yield self._read

    async def furnish(self) -> None:
        """The first page."""
        self.show()

    def on_resize(self) -> None:
        """Other lines for another width."""
        self.call_after_refresh(self.show)

    def show(self) -> None:
        """The page that is turned up, in the window as it is now."""
        names = [name for name, _ in self._pages]
        self._read.put(self._pages[self._page][1](self.columns))
        others = f"Tab: {names[(self._page + 1) % len(names)].lower()}. " if len(names) > 1 else ""
        self.tell(f"{names[self._page]}. {others}PgUp and PgDn scroll, Esc goes back.")

    def help_text(self) -> str:
        """Help for this screen."""
        return "Scroll with the arrows and PgUp/PgDn. Tab turns to the next page. Esc goes back to the class."

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Pages are turned where there are several."""
        if action == "turn":
            return self.is_current and len(self._pages) > 1
        return self.is_current or action != "back"

    def action_turn(self, pages: int) -> None:
        """Another page, from its beginning."""
        self._page = (self._page + pages) % len(self._pages)
        self.show()
        self._read.scroll_home(animate=False)

    def action_back(self) -> None:
        """Back to the class."""
        self.app.pop_screen()
