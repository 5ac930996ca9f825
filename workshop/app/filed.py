"""What the app does about the file of a project: two windows at one file, earlier versions, copies, leaving."""

from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from textual.app import App

from workshop.app.desk import Desk
from workshop.app.screens.room import Room
from workshop.session import Session
from workshop.visible import in_one_line, shown_path

if TYPE_CHECKING:
    from workshop.app.screens.dialogs import SmallWindow
    from workshop.elsewhere import Contest, Way

Answer = TypeVar("Answer")
Then = Callable[[Answer | None], None] | Callable[[Answer | None], Awaitable[None]]
"""What is done with the answer of a small window."""

WAYS: "tuple[tuple[Way, str], ...]" = (
    ("both", "Keep both. Your version gets a file of its own"),
    ("theirs", "Take their version. Yours stays among the earlier ones"),
    ("mine", "Take your version. Theirs stays among the earlier ones"),
)
WAYS_OF_OLDER: "tuple[tuple[Way, str], ...]" = (
    ("both", "Keep both. Your version gets a file of its own"),
    ("theirs", "Take the older version. Yours stays among the earlier ones"),
    ("mine", "Take your version. The older one stays among the others"),
)
LEAVING = (
    ("stay", "Stay here"),
    ("elsewhere", "Save it in another folder or under another name"),
    ("leave", "Leave without the last answers"),
)


class Filed(App[None]):
    """An app that keeps one project in a file, and asks before an answer could be lost."""

    desk: Desk
    _asked_about: "Contest | None" = None
    """What two windows answered otherwise, where the knitter has been asked about it."""

    @property
    def session(self) -> Session:
        """The project at work."""
        return self.desk.session

    def take_up(self, session: Session) -> None:
        """Work on another project; the one before is on the disk."""
        before = self.desk.session
        if before is not session:
            before.asks = False  # nobody is asked about it any more: hers goes on beside
            before.look()
            session.news = session.news or before.news or (f"Not saved: {before.fault}" if before.fault else "")
        session.asks = True
        self.desk.session = session

    async def ask(self, window: "SmallWindow[Answer]", then: "Then[Answer] | None" = None) -> None:
        """Put a small window over the screen, and go on with its answer. It stands when this returns: the next key is
        its own.
        """
        await self.push_screen(window, then)

    def tell(self, text: str) -> None:
        """Say something on the line for that at the foot of the screen."""

    def show_again(self) -> None:
        """The project is another one by now: show it."""

    # ── another window ───────────────────────────────────────────────────────────────────────────────

    async def ask_which(self, *, leaving: bool = False) -> None:
        """Ask once which answers count, where this window and another one answered otherwise."""
        contest = self.session.contest
        if contest is None or contest is self._asked_about or not (leaving or isinstance(self.screen, Room)):
            return
        self._asked_about = contest
        if contest.theirs is None:  # nothing that could be chosen
            self._chosen("both")
            return
        from workshop.app.screens.safety import ChoiceDialog
        from workshop.conversation import both_answered

        lines = both_answered(contest.keys, self.session.project, contest.theirs)
        name = shown_path(self.session.path.name) if self.session.path else ""
        if contest.older:
            title, ways = f"{name} went back to an older version", WAYS_OF_OLDER
            told = lines or ("It doesn't have all the rows you've knitted.",)
            text = "\n".join(("An editor or another program may have saved an old copy.", *told))
        else:
            title, ways = f"{name} was changed in another window", WAYS
            text = "\n".join(("Both windows answered these:", *lines, "", "Yours aren't saved until you choose."))
        await self.ask(ChoiceDialog(title, text, ways, "asks again later"), self._chosen)

    def _chosen(self, way: str | None) -> None:
        known = next((w for w, _ in WAYS if w == way), None)
        if known is None:
            return
        self.session.choose(known)
        self.show_again()
        done = {"theirs": "You're using that version now. ", "mine": "You're using your version now. "}.get(known, "")
        earlier = "Ctrl+Z shows the earlier versions." if done else ""
        news, self.session.news = self.session.news, ""
        self.tell(f"Not saved: {self.session.fault}" if self.session.fault else news or done + earlier)

    # ── earlier versions and copies ──────────────────────────────────────────────────────────────────

    async def action_earlier(self) -> None:
        """The last answers and the last days; one of them can be brought back."""
        await self.before_asking()

        def show(done: str) -> None:
            self.show_again()
            self.tell(done)

        await self.ask_earlier(self.session, show)

    async def ask_earlier(self, session: Session, then: Callable[[str], None], why: str = "") -> None:
        """Which earlier version of a project is wanted back? It is brought back, and ``then`` hears what is told of it.

        ``why``: what is wrong with its file now.
        """
        from workshop.app.screens.safety import EarlierDialog

        lines = [(path.name, line) for path, line in versions_told(session)]
        if not lines:
            self.tell(why or "There are no earlier versions yet. The first is kept when you change an answer.")
            return

        def bring_back(name: str | None) -> None:
            version = next((v for v in session.earlier() if v.path.name == name), None)
            if version is not None:
                session.bring_back(version)
                done = f"This is your project as it was on {version.when:%d %b %Y at %H:%M}."
                done += "" if why else " Ctrl+Z and Enter undo that."
                then(f"Not saved: {session.fault}" if session.fault else done)
            elif name is not None:
                self.tell("That version is gone. Ctrl+Z shows the ones that are left.")

        await self.ask(EarlierDialog(lines, why), bring_back)

    async def action_try_another(self) -> None:
        """A copy of the project under another name, to try something out in."""
        from workshop.app.screens.safety import TextField

        await self.before_asking()
        text = "The copy opens here, so that you can try another neck or another yarn. This project stays as it is."
        await self.ask(TextField("What will you call the copy?", text, self._copied), self._copy_opened)

    def _copied(self, typed: str) -> str:
        """Make the copy. Gives why not."""
        from workshop.questions.fibre import TITLE
        from workshop.units import NotUnderstood

        try:
            title = str(TITLE.kind.read(typed, self.session.project))
        except NotUnderstood as error:
            return str(error)
        if not title:
            return "The copy needs a name"
        copy = self.session.copy(title)
        if copy.path is None:
            return copy.fault
        self.take_up(copy)
        return ""

    def _copy_opened(self, copied: bool | None) -> None:
        if copied and self.session.path is not None:
            self.show_again()
            self.tell(f"You're in the copy now, saved as {shown_path(self.session.path.name)}.")

    # ── prints ───────────────────────────────────────────────────────────────────────────────────────────

    async def action_print_plan(self, kind: str) -> None:
        """Write the plan beside the save; over an older print once the knitter has said so."""
        from workshop.prints import paper
        from workshop.prints.plan_sheet import plan_sheet

        now = self.session.plan
        path = (self.session.path or self.desk.folder / "plan").with_suffix(f".{kind}")
        sheet = plan_sheet(now)
        await self.write_print(path, paper.html(sheet, now) if kind == "html" else paper.markdown(sheet, now))

    async def write_print(self, path: Path, text: str, *, replace: bool = False) -> None:
        """Write a print; over an older one once the knitter has said so."""
        from workshop import files, printed
        from workshop.app.screens.dialogs import ConfirmDialog

        async def over_it(sure: bool | None) -> None:
            if sure:
                await self.write_print(path, text, replace=True)

        name = shown_path(path)
        try:
            printed.write(path, text, source=self.session.path, replace=replace)
        except files.AlreadyThere as error:
            await self.ask(ConfirmDialog(f"{name}: {error}.", take="Yes, replace it"), over_it)
        except files.FileFault as error:
            self.tell(f"{name}: {error}")
        else:
            self.tell(
                f"Saved. To print, open it in your browser: {name}" if path.suffix == ".html" else f"Saved: {name}"
            )

    # ── leaving ──────────────────────────────────────────────────────────────────────────────────────

    async def before_asking(self) -> None:
        """Take what is being typed."""

    async def action_quit(self) -> None:
        """Take what is being typed, and leave; where it cannot be saved, ask first."""
        from workshop.app.screens.safety import ChoiceDialog, TextField

        await self.before_asking()
        if self.session.fault:
            self.session.save()
        self.session.look()
        if self.session.fault and isinstance(self.screen, ChoiceDialog | TextField):
            return  # it is being asked
        if self.session.contest is not None and self.session.contest.theirs is not None:
            await self.ask_which(leaving=True)
        elif self.session.fault:
            text = f"The workshop has just tried again: {self.session.fault}."
            asks = ChoiceDialog("Your last answers aren't saved yet", text, LEAVING, "stays here")
            await self.ask(asks, self._leaves)
        else:
            self.exit()

    async def _leaves(self, way: str | None) -> None:
        if way == "leave":
            self.exit()
        elif way == "elsewhere":
            from workshop.app.screens.safety import TextField

            text = "Type a folder, or a file with its folder, such as ~/knitting or ~/knitting/blue.toml."
            await self.ask(TextField("Where should the project be saved?", text, self._saved_in), self._left)

    def _saved_in(self, typed: str) -> str:
        """Save in another place. Gives why not."""
        if not typed.strip():
            return "Type a folder or a file"
        self.session.go_on_in(Path(typed.strip()).expanduser())
        return self.session.fault

    def _left(self, saved: bool | None) -> None:
        if saved:
            self.exit()


def versions_told(session: Session) -> list[tuple[Path, str]]:
    """The earlier versions of a project, the newest first, each with its file and its line."""
    from workshop.conversation import what_changed

    found: list[tuple[Path, str]] = []
    after = session.project
    for version in session.earlier():
        newest = session.lost and not found
        told = "the last good version" if newest else what_changed(version.changed, version.project, after)
        found.append((version.path, in_one_line(f"{version.when:%d %b %Y, %H:%M}, {told}")))
        after = version.project
    return found
