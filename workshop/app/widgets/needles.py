"""What is read at arm's length at the needles, and the field for all that a knitter says."""

import sys
from collections.abc import Callable, Sequence

from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from workshop.app.desk import Desk
from workshop.app.screens.dialogs import TextDialog
from workshop.app.screens.safety import ChoiceDialog
from workshop.app.widgets.body import Body
from workshop.app.widgets.lists import settled
from workshop.at_needles import NotKnitted, last_moved, moved
from workshop.core.knitting.needles import Needles, at_the_needles
from workshop.prints.dated import today
from workshop.prints.terminal import only_ascii
from workshop.project import Project
from workshop.telling import example, heard, help_in
from workshop.visible import in_one_line
from workshop.words.at_needles import Told, piece_line, told
from workshop.words.large import large
from workshop.words.lines import wrapped
from workshop.words.log import log_lines
from workshop.words.phrase import capitalised, in_terms

ROOMY_COLUMNS, ROOMY_LINES = 72, 24
"""From which the row number is drawn large."""

LONGEST_BAR = 30


class AtNeedles(Body):
    """Where I am, and what I say."""

    scrolled: VerticalScroll

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._needles: Needles | None = None
        self._answer: tuple[str, ...] = ()
        """What the last sentence was told in return; gone with the next one."""
        self._text = Static("", id="where", markup=False)
        self.scrolled = VerticalScroll(self._text, id="where-scroll")
        self._field = Input(id="said", placeholder="the row knitted last, or a word", select_on_focus=False)

    def compose(self) -> ComposeResult:
        yield self.scrolled
        yield self._field

    def on_mount(self) -> None:
        """The field is there once something is said."""
        self._field.display = False

    @property
    def is_typed_in(self) -> bool:
        """Whether something is being typed."""
        return bool(self._field.display)

    # ── what is read ─────────────────────────────────────────────────────────────────────────────────

    def show(self) -> None:
        """The knitting as it is now."""
        plan = self.desk.session.plan
        self._needles = at_the_needles(plan, today())
        self._text.update(self._drawn(told(self._needles, plan, self.desk.session.before)))

    def _drawn(self, now: Told) -> Content:
        size = self.app.size
        room = self.room.columns
        lines = _styled(self._answer, room, "reverse")
        if now.row is not None and size.width >= ROOMY_COLUMNS and size.height >= ROOMY_LINES:
            lines += _beside(large(now.row, plain=only_ascii(sys.__stdout__)), now, room)
        else:
            lines += _this_row(now, room)
        if now.row is not None:
            lines += [Content(""), *_bars(now, room)]
        lines += _styled(now.checked, room)
        for code, best, text in now.ways:
            lines += _styled((f"{'▸' if best else ' '} {code}: {text}",), room, "bold" if best else "")
        lines += _styled(now.further, room)
        return Content("\n").join(lines)

    def help_text(self) -> str:
        """What can be said here."""
        project = self.desk.session.project
        said = "\n".join(in_terms(f"  {words}: {does}", project.terms) for words, does in help_in(project.units))
        return f"At the needles: Space when a row is knitted, b when it was one too many. What you can type:\n{said}"

    # ── what is said ─────────────────────────────────────────────────────────────────────────────────

    def move(self, rows: int) -> None:
        """Rows on, or back."""
        plan, needles = self.desk.session.plan, self._needles
        if needles is None:
            return
        hand = needles.at_hand if rows > 0 else last_moved(plan, needles)
        if hand is None:
            self.tell("Every piece is knitted." if plan.made.pieces else "There's no plan to knit from yet.")
            return
        self._take_in(lambda: moved(plan.project, plan, hand, hand.row + rows, today()))

    def hear(self, text: str) -> bool:
        """Whether a sentence was understood; what it changes is on disk before the next key."""
        if not text.strip():
            return True
        try:
            done = heard(self.desk.session.plan, text, today(), self.desk.session.before)
        except NotKnitted as error:
            self._refuse(error)
            return False
        self._changed(done.project, done.answer)
        return True

    def _take_in(self, change: Callable[[], Project]) -> None:
        try:
            project = change()
        except NotKnitted as error:
            self._refuse(error)
        else:
            self._changed(project, ())

    def _changed(self, project: Project, answer: tuple[str, ...]) -> None:
        self._answer = answer
        self.keep(project)
        self.room.show_bars()
        self.show()
        self.scrolled.scroll_home(animate=False)

    def _refuse(self, error: NotKnitted) -> None:
        why = in_one_line(str(error))
        self.tell(f"{capitalised(why)}{'' if why.endswith('?') else '.'}")

    # ── the field ────────────────────────────────────────────────────────────────────────────────────

    def begin(self, words: str) -> None:
        """Open the field with the beginning of a sentence."""
        self._field.display = True
        self._field.value = words
        self._field.cursor_position = len(words)
        project = self.desk.session.project
        if hint := example(words, project.units):
            self.tell(in_terms(hint, project.terms))
        self.screen.set_focus(self._field)
        self.screen.refresh_bindings()

    async def take(self) -> None:
        """What is typed is said; what is not understood stays to be mended."""
        await settled(self._field)
        if self.hear(self._field.value):
            self.close()

    def close(self) -> None:
        """Away with the field."""
        self._field.display = False
        self._field.value = ""
        self.screen.set_focus(None)
        self.screen.refresh_bindings()

    def commit(self) -> None:
        """A sentence that was not taken with Enter was not said."""

    # ── small windows ────────────────────────────────────────────────────────────────────────────────

    async def choose_piece(self) -> None:
        """Go on with another piece."""
        needles = self._needles
        if needles is None or not needles.pieces:
            return
        lines = [(f"piece {p.piece.name}", f"{'✓' if p.finished else '·'} {piece_line(p)}") for p in needles.pieces]
        hand = needles.at_hand
        begin = needles.pieces.index(hand) if hand else 0
        await self._choose("Go on with which piece?", "What is knitted stays.", lines, begin)

    async def choose_way(self) -> None:
        """Take one of the ways on."""
        ways = told(self._needles, self.desk.session.plan, self.desk.session.before).ways if self._needles else ()
        if not ways:
            self.tell("Count the piece as it is now: c for stitches, r for rows. Then the ways on are here.")
            return
        lines = [(f"take {code}", f"{'Recommended. ' if best else ''}{text}") for code, best, text in ways]
        begin = next((i for i, way in enumerate(ways) if way[1]), 0)
        await self._choose("Which way on?", "Nothing happens until you choose, and u undoes it.", lines, begin)

    async def _choose(self, title: str, text: str, sentences: Sequence[tuple[str, str]], begin: int) -> None:
        """Choose one of several sentences, by what is read of them."""

        def chosen(index: str | None) -> None:
            if index is not None:
                self.hear(sentences[int(index.removeprefix("line-"))][0])

        lines = [(f"line-{i}", words) for i, (_, words) in enumerate(sentences)]
        await self.app.push_screen(ChoiceDialog(title, text, lines, "leaves it", begin), chosen)

    async def read_log(self) -> None:
        """What was knitted, counted and noted."""
        lines = log_lines(self.desk.session.plan)
        await self.app.push_screen(TextDialog("The log", "\n".join(lines) or "Nothing is noted yet."))


def _this_row(now: Told, width: int) -> list[Content]:
    return [
        *_styled((now.place,), width),
        *_styled(now.before, width),
        *_styled((now.now,) if now.now else (), width, "bold"),
        *_styled(now.then, width),
    ]


def _beside(digits: tuple[str, ...], now: Told, width: int) -> list[Content]:
    """The number of the row, and beside it what to do in it."""
    left = max(len(line) for line in digits) + 3
    beside = _this_row(now, width - left)
    many = max(len(digits), len(beside))
    drawn = [Content((digits[i] if i < len(digits) else "").ljust(left)) for i in range(many)]
    return [one + (beside[i] if i < len(beside) else Content("")) for i, one in enumerate(drawn)]


def _bars(now: Told, width: int) -> list[Content]:
    shares = (("this piece", now.share_of_piece), ("the whole", now.share_of_all))
    long = min(LONGEST_BAR, width - 16)
    return [Content(f"{name:<11}{_bar(share, long)} {100 * share:3.0f}%") for name, share in shares]


def _bar(share: float, width: int) -> str:
    full, empty = ("#", ".") if only_ascii(sys.__stdout__) else ("█", "░")
    done = min(width, int(share * width + 0.5))
    return full * done + empty * (width - done)


def _styled(texts: tuple[str, ...], width: int, style: str = "") -> list[Content]:
    return [Content.styled(line, style) for text in texts for line in wrapped(text, width, hang=2)]
