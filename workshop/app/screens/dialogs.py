"""Small windows: help, the list of steps, checks to agree to, and a lesson by itself."""

from collections.abc import Callable, Sequence
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.await_complete import AwaitComplete
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Label, OptionList, Static
from textual.widgets.option_list import Option

from workshop.app.keys import shown
from workshop.app.screens.room import Answer, OfWindow, is_large_enough
from workshop.app.widgets.lists import Ended, Lettered, Numbered
from workshop.app.widgets.trail import SIGNS
from workshop.progress import Progress
from workshop.project import STEPS, Terms
from workshop.words.lines import hanging
from workshop.words.titles import title_of

SCROLL = "Arrows and PgUp/PgDn scroll. Esc closes"


class SmallWindow(ModalScreen[Answer], OfWindow[Answer]):
    """A small window over a screen. The app puts it there with ``ask``, so that the next key is its own."""

    CSS_PATH = "dialogs.tcss"

    def dismiss(self, result: Answer | None = None) -> AwaitComplete:
        """Close and give the answer. It is given once: a window that is closed already, or under another, stays."""
        return super().dismiss(result) if self.is_active else AwaitComplete()


class TooSmall(SmallWindow[None]):
    """What a window that is too small says; it goes by itself when there is room."""

    AUTO_FOCUS = ""

    def __init__(self) -> None:
        super().__init__()
        self._said = Static("", id="too-small", markup=False)

    def compose(self) -> ComposeResult:
        yield self._said

    def on_mount(self) -> None:
        """Say it for the size there is."""
        self._say()

    def on_resize(self) -> None:
        """Say it for the new size."""
        self._say()

    def on_screen_resume(self) -> None:
        """What lay over it has gone: there may be room by now."""
        self._say()

    def _say(self) -> None:
        size = self.app.size
        if is_large_enough(size):
            self.dismiss(None)
            return
        text = (
            f"This window is {size.width} x {size.height}. The workshop needs at least 60 x 20. Make the window larger "
            "or the type smaller. Nothing is lost.\n\n"
            "'workshop ask' works in any size.\nCtrl+Q leaves."
        )
        self._said.update(text)


class TextDialog(SmallWindow[None]):
    """Text to read; Esc closes it."""

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("help.close", "escape,enter,f1", "dismiss(None)", "Close", "Close the help")
    ]

    def __init__(self, title: str, text: str) -> None:
        super().__init__()
        self._title, self._text = title, text
        self._told = Static("", id="told", markup=False)
        self._scroll = VerticalScroll(self._told)

    def compose(self) -> ComposeResult:
        with Vertical(classes="window tall"):
            yield Label(Content(self._title), classes="window-title")
            yield self._scroll
            yield Label(SCROLL, classes="window-foot")

    def on_mount(self) -> None:
        """Lines as wide as there is room."""
        self.call_after_refresh(self._lay_out)

    def on_resize(self) -> None:
        """Other lines for another width."""
        self._lay_out()

    def _lay_out(self) -> None:
        width = self._scroll.scrollable_content_region.width or 60
        self._told.update(Content("\n".join(hanging(self._text, width))))


class ConfirmDialog(SmallWindow[bool]):
    """One question before something is lost; the way back comes first."""

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("ask.keep", "escape", "dismiss(False)", "Keep", "Keep everything as it is")
    ]

    def __init__(self, question: str, *, take: str = "Yes, remove it") -> None:
        super().__init__()
        self._question, self._take = question, take

    def compose(self) -> ComposeResult:
        with Vertical(classes="window"):
            yield Static(Content(self._question), classes="window-text")
            yield Ended(Option("No, keep it", id="keep"), Option(self._take, id="take"), markup=False)
            yield Label("Arrows and Enter choose. Esc keeps it", classes="window-foot")

    @on(OptionList.OptionSelected)
    def choose(self, event: OptionList.OptionSelected) -> None:
        """Answer."""
        event.stop()
        self.dismiss(event.option.id == "take")


class ShownDialog(SmallWindow[None]):
    """Units, needle names, terms and colours; each is switched at once, and figures stay as they are stored."""

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("shown.close", "escape,f9", "dismiss(None)", "Close", "Back to where you were")
    ]

    def __init__(
        self, ways: Callable[[], list[tuple[str, str, bool]]], choose: Callable[[str], None], said: str = ""
    ) -> None:
        """``said``: what cannot be switched here, and where it can."""
        super().__init__()
        self._ways, self._choose, self._said = ways, choose, said
        self._list = Lettered(*self._options(), markup=False)

    def compose(self) -> ComposeResult:
        with Vertical(classes="window"):
            yield Label("This only changes the display", classes="window-title")
            yield self._list
            if self._said:
                yield Label(self._said, classes="window-text")
            yield Label("Enter switches. Esc closes", classes="window-foot")

    def on_mount(self) -> None:
        """Begin at what is so now, of what is listed first."""
        self._list.highlighted = next((i for i, way in enumerate(self._ways()) if way[2]), 0)

    def _options(self) -> list[Option]:
        self._names = [name for name, _, _ in self._ways()]
        return [Option(Content(f"{'●' if now else '○'} {words}")) for _, words, now in self._ways()]

    @on(OptionList.OptionSelected)
    def switch(self, event: OptionList.OptionSelected) -> None:
        """Switch to what was chosen."""
        event.stop()
        self._choose(self._names[event.option_index])
        event.option_list.clear_options()  # there may be more by now: a project that has opened below
        event.option_list.add_options(self._options())
        event.option_list.highlighted = event.option_index


class LessonDialog(SmallWindow[None]):
    """A lesson by itself."""

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("lesson.close", "escape,enter,f2", "dismiss(None)", "Close", "Close the lesson")
    ]

    def __init__(self, text: str) -> None:
        super().__init__()
        self._text = text

    def compose(self) -> ComposeResult:
        from textual.widgets import Markdown  # costs as much as all other widgets: not before a lesson is wanted

        with Vertical(classes="window tall"):
            with VerticalScroll():
                yield Markdown(self._text, open_links=False)
            yield Label(SCROLL, classes="window-foot")


class StepDialog(SmallWindow[str | None]):
    """All steps with their states; any can be opened at any time."""

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("steps.close", "escape,f4", "dismiss(None)", "Close", "Close the list of steps")
    ]

    def __init__(self, steps: tuple[Progress, ...], current: str, terms: Terms) -> None:
        super().__init__()
        self._steps, self._current, self._terms = steps, current, terms
        lines = (Option(Content(self._line(s)), id=s.name) for s in steps)
        self._list = Numbered(*lines, markup=False)

    def compose(self) -> ComposeResult:
        with Vertical(classes="window"):
            yield Label("Go to a step", classes="window-title")
            yield self._list
            yield Label("A number or Enter opens. Esc closes", classes="window-foot")

    def on_mount(self) -> None:
        """Begin at the current step."""
        names = [s.name for s in self._steps]
        if self._current in names:
            self._list.highlighted = names.index(self._current)

    def _line(self, item: Progress) -> str:
        because = f" ({item.because})" if item.because else ""
        title = title_of(item.name, self._terms)
        return f"{STEPS.index(item.name) + 1} {title:<8} {SIGNS[item.state]} {item.state}{because}"

    @on(OptionList.OptionSelected)
    def choose(self, event: OptionList.OptionSelected) -> None:
        """Open the chosen step."""
        event.stop()
        self.dismiss(event.option.id)


class AgreeDialog(SmallWindow[str | None]):
    """Checks that have a question; choosing one confirms the answer."""

    BINDINGS: ClassVar[list[BindingType]] = [
        shown("agree.close", "escape,f6", "dismiss(None)", "Close", "Decide later")
    ]

    def __init__(self, asked: Sequence[tuple[str, str]]) -> None:
        super().__init__()
        self._asked = asked
        """What can be agreed to: its name, and the question."""

    def compose(self) -> ComposeResult:
        with Vertical(classes="window"):
            yield Label("Keep this?", classes="window-title")
            yield Ended(
                *(Option(Content(text), id=f"check-{i}") for i, (_, text) in enumerate(self._asked)),
                markup=False,
            )
            yield Label("Enter keeps it. Esc decides later", classes="window-foot")

    @on(OptionList.OptionSelected)
    def choose(self, event: OptionList.OptionSelected) -> None:
        """Agree to the chosen check."""
        event.stop()
        self.dismiss(self._asked[int((event.option.id or "").removeprefix("check-"))][0])
