"""What is read at arm's length at the needles, and the field for all that a knitter says."""

import sys
from collections.abc import Callable, Iterator, Sequence

from textual import on
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from workshop.app.desk import Desk
from workshop.app.screens.dialogs import TextDialog
from workshop.app.screens.needles import DIGITS, KEYS, key_of
from workshop.app.screens.sentences import SentenceDialog
from workshop.app.widgets.body import Body
from workshop.app.widgets.in_order import LineInput, settled
from workshop.at_needles import NotKnitted, last_moved, moved
from workshop.core.knitting.needles import Needles, at_the_needles
from workshop.prints.dated import today
from workshop.project import Project, Units
from workshop.telling import begun_word, figures_after, going_on, heard, is_said_alone, meant
from workshop.visible import in_one_line, only_ascii
from workshop.words.at_needles import BEST, Other, Told, before_counting, how_to_choose, piece_line, told
from workshop.words.large import large
from workshop.words.lines import wrapped
from workshop.words.log import log_lines
from workshop.words.phrase import capitalised, counted, in_terms
from workshop.words.rows.row_actions import noun

ROOMY_COLUMNS, ROOMY_LINES = 72, 24
"""From which the row number is drawn large."""

LONGEST_BAR = 30

FIELD_LINES = 3
"""How high the field is (needles.tcss)."""

TYPE_A_ROW = "Type the row you knitted last."


class AtNeedles(Body):
    """Where I am, and what I say."""

    styles_in = "needles.tcss"
    tells_keys = "needles"
    scrolled: VerticalScroll

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._needles: Needles | None = None
        self._told: Told | None = None
        self._answer: tuple[str, ...] = ()
        """What the last sentence was told in return; gone with the next one."""
        self._about = ""
        """What that sentence was about: what is said of it stands first, as long as nothing else is said."""
        self._text = Static("", id="where", markup=False)
        self.scrolled = VerticalScroll(self._text, id="where-scroll")
        self._below = Static("", id="below", markup=False)
        self._lines = 0
        self._ways_end: list[int] = []
        """The lines before which each way on has been read."""
        self._field = LineInput(id="said", placeholder="the row you knitted last", select_on_focus=False)
        self._begun = ("", "")
        """The letters typed until the field opened, and what the last of them wrote there."""
        self._letters = ""
        """Letters before those, which are no keys."""

    def compose(self) -> ComposeResult:
        yield self.scrolled
        yield self._below
        yield self._field

    def on_mount(self) -> None:
        """The field is there once something is said."""
        self._field.display = self._below.display = False
        self.watch(self.scrolled, "scroll_y", self._say_below, init=False)

    def on_resize(self) -> None:
        """In another height other lines are seen."""
        self._say_below()

    @property
    def is_typed_in(self) -> bool:
        """Whether something is being typed."""
        return bool(self._field.display)

    # ── what is read ─────────────────────────────────────────────────────────────────────────────────

    def show(self) -> None:
        """The knitting as it is now."""
        plan = self.desk.session.plan
        self._needles = at_the_needles(plan, today())
        self._told = told(self._needles, plan, self.desk.session.before)
        self._text.update(self._drawn(self._told))
        self._say_below()

    @property
    def ways(self) -> tuple[tuple[str, bool, str], ...]:
        """The ways on that can be chosen now."""
        return self._told.ways if self._told is not None else ()

    def _say_below(self) -> None:
        """What is still to be read below, where it does not fit. How high the rest is, is reckoned from the body: what
        is said here takes a line of it.
        """
        room = self.size.height - (FIELD_LINES if self.is_typed_in else 0)
        self._below.display = self._lines > room
        bottom = int(self.scrolled.scroll_y) + room - 1
        hidden = sum(end > bottom for end in self._ways_end)
        if hidden:
            self._below.update(f"{self._key('down')}: {counted(hidden, 'more way')}")
        else:
            more = self._lines > bottom
            self._below.update(f"{self._key('down')}: more" if more else f"{self._key('up')}: back to your row")

    def _drawn(self, now: Told) -> Content:
        size = self.app.size
        room = self.room.columns
        answer = {"count": now.checked, "yarn": now.yarn[:1]}.get(self._about, ())
        checked = () if self._about == "count" else now.checked
        yarn = now.yarn[1:] if self._about == "yarn" else now.yarn
        lines = _styled((*self._answer, *answer), room, "reverse")
        if now.row is not None and size.width >= ROOMY_COLUMNS and size.height >= ROOMY_LINES:
            lines += _beside(large(now.row, plain=only_ascii(sys.__stdout__)), now, room)
        else:
            lines += _this_row(now, room)
        if now.row is not None:
            lines += [Content(""), *_bars(now, room)]
        lines += _styled(checked, room)
        if now.ways:
            how = how_to_choose(now.ways, f"{self._key('ways')}: choose one of these {{ways}}.")
            lines += _styled((how,), room)
        self._ways_end = []
        for _, best, text in now.ways:
            lines += _styled((f"{'*' if best else '-'} {text}",), room, "bold" if best else "")
            self._ways_end.append(len(lines))
        lines += _styled((*now.worth_doing, *yarn, *now.days), room)
        self._lines = len(lines)
        return Content("\n").join(lines)

    def help_text(self) -> str:
        """What can be said here."""
        project = self.desk.session.project
        if self.is_typed_in:
            hint = going_on(self._field.value, project.units) or TYPE_A_ROW
            return in_terms(
                f"{hint}\nPress Enter once you've typed it. Esc closes the field, and letters are keys again.",
                project.terms,
            )
        return in_terms("\n".join(self._keys_by_what_they_are_for(project.units)), project.terms)

    def _keys_by_what_they_are_for(self, units: Units) -> Iterator[str]:
        """Each key with what it does, and what may be typed after it."""
        shown: dict[str, dict[str, None]] = {}
        for active in self.screen.active_bindings.values():
            shown.setdefault(active.binding.id or "", {})[self.app.get_key_display(active.binding)] = None
        for heading, keys in KEYS.items():
            yield heading
            for key in keys:
                figures = figures_after(key.words.strip(), units)
                does = key.does + (f": {figures}" if figures else "")
                names = "0 to 9" if key is DIGITS[0] else ", ".join(shown[f"needles.{key.name}"])
                yield f"  {names:<10} {does}"

    def _key(self, name: str) -> str:
        return key_of(name, self.desk.settings.keys)

    def stand_by(self) -> None:
        """What can be done, while nothing is being typed."""
        self.tell(
            f"{self._key('done')}: row done. {self._key('back')}: one back. "
            "A number: the row you knitted last. F1: all keys."
        )

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
        said = f"One back: {noun(hand.piece)} {hand.row} is still to knit." if rows < 0 else ""
        self._take_in(lambda: moved(self.desk.session.project, plan, hand, hand.row + rows, today()), said)

    def hear(self, text: str) -> bool:
        """Whether a sentence was understood; what it changes is on disk before the next key."""
        try:
            session = self.desk.session
            done = heard(session.plan, text, today(), session.before, session.project)
        except NotKnitted as error:
            self._refuse(error)
            return False
        self._changed(done.project, done.answer, about=done.about)
        return True

    def _take_in(self, change: Callable[[], Project], said: str) -> None:
        try:
            project = change()
        except NotKnitted as error:
            self._refuse(error)
        else:
            self._changed(project, (), said)

    def _changed(self, project: Project, answer: tuple[str, ...], said: str = "", about: str = "") -> None:
        self._answer, self._about = answer, about
        self.keep(project, said)
        self.room.show_bars()
        self.show()
        self.screen.refresh_bindings()
        self.scrolled.scroll_home(animate=False)

    def _refuse(self, error: NotKnitted) -> None:
        why = in_one_line(str(error))
        self.tell(f"{capitalised(why)}{'' if why.endswith('?') else '.'}")

    # ── the field ────────────────────────────────────────────────────────────────────────────────────

    def begins_with(self, letter: str) -> None:
        """A letter that is no key may begin a word all the same."""
        self._letters = begun_word(self._letters + letter)

    def begin(self, letter: str, words: str) -> None:
        """Open the field with the beginning of a sentence."""
        self._field.display = True
        self._begun = (begun_word(self._letters + letter) or letter, words)
        self._letters = ""
        self._write(words)
        self.screen.set_focus(self._field)
        self.screen.refresh_bindings()
        self._say_below()

    def _write(self, words: str) -> None:
        """Put something into the field, and tell how it goes on."""
        self._field.value = words
        self._field.cursor_position = len(words)
        self._tell_how(words)

    def _tell_how(self, words: str) -> None:
        takes = " Enter does it, Esc cancels." if is_said_alone(words) else ""
        self.tell(in_terms(self._how_to_say(words) + takes, self.desk.session.project.terms))

    def _how_to_say(self, words: str) -> str:
        """How a sentence goes on; of a count first from where on it shows the gauge, while that is still to come."""
        units = self.desk.session.project.units
        early = before_counting(self._needles) if self._needles and words.strip() in ("count", "rows") else ""
        rows = f" {self._key('rows')} is for the rows." if words.strip() == "count" and not early else ""
        return f"{early} {going_on(words, units) or TYPE_A_ROW}{rows}".strip()

    @on(Input.Changed)
    def a_word_is_typed(self) -> None:
        """Who types a whole word, whose first letter was a key, means that word."""
        words = meant(*self._begun, self._field.value)
        if words != self._field.value:
            self._begun = ("", "")
            self._write(words)
        elif is_said_alone(words.strip()):
            self._tell_how(words.strip())  # another row than a digit before

    async def take(self) -> None:
        """What is typed is said; what is not understood stays to be mended."""
        await settled(self._field)
        self.a_word_is_typed()
        if not self._field.value.strip():
            self.close()
        elif self.hear(self._field.value):
            self._fold()

    def close(self) -> None:
        """Away with the field, and with what was told of it."""
        self._fold()
        self.stand_by()

    def _fold(self) -> None:
        self._field.display = False
        self._field.value = ""
        self._begun = ("", "")
        self.screen.set_focus(None)
        self.screen.refresh_bindings()
        self._say_below()

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
        await self._choose("piece ", "Continue with which piece?", "What you've knitted stays.", lines, begin)

    async def choose_way(self) -> None:
        """Take one of the ways on."""
        if not self.ways:
            return
        lines = [(f"take {code}", f"{'*' if best else '-'} {text}") for code, best, text in self.ways]
        how = f"Nothing happens until you choose, and {self._key('undo')} takes it back."
        if any(best for _, best, _ in self.ways):
            how += f" {BEST}"
        await self._choose(
            "where", f"Which of these {len(lines)} ways?" if len(lines) > 1 else "Your choice", how, lines, 0
        )

    async def _choose(self, word: str, title: str, text: str, sentences: Sequence[tuple[str, str]], begin: int) -> None:
        """Choose one of several sentences, by what is read of them; or go on with the word that is being typed."""

        def chosen(index: str | None) -> None:
            if index is not None:
                self.hear(sentences[int(index.removeprefix("line-"))][0])

        lines = [(f"line-{i}", words) for i, (_, words) in enumerate(sentences)]
        await self.app.push_screen(
            SentenceDialog(title, text, lines, begin, typed=word[:2], go_on=lambda typed: self.begin(typed, word)),
            chosen,
        )

    async def read_log(self) -> None:
        """What was knitted, counted and noted."""
        lines = log_lines(self.desk.session.plan)
        await self.app.push_screen(TextDialog("The log", "\n".join(lines) or "The log is empty so far."))


def _this_row(now: Told, width: int) -> list[Content]:
    return [
        *_styled((now.place,), width),
        *_styled(now.before, width),
        *_styled((now.now,) if now.now else (), width, "bold"),
        *_styled(now.then, width),
        *(_other_row(now.other, width) if now.other else ()),
    ]


def _other_row(other: Other, width: int) -> list[Content]:
    """What to do in the row of the piece that is knitted at the same time."""
    return [*_styled((other.place,), width), *_styled((other.now,), width, "bold"), *_styled(other.then, width)]


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
